package fastener_test

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/thread"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// table reads the second copy of a standard's table from testdata/tables: one
// map of column to value a row.
func table(t testing.TB, name string) []map[string]string {
	t.Helper()
	f, err := os.Open("../testdata/tables/" + name)
	require.NoError(t, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	var out []map[string]string
	for _, r := range rows[1:] {
		m := map[string]string{}
		for i, h := range rows[0] {
			m[h] = r[i]
		}
		out = append(out, m)
	}
	return out
}

func num(t testing.TB, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(strings.TrimPrefix(s, "M"), 64)
	require.NoError(t, err)
	return v
}

func coarse(t testing.TB, d float64) thread.Thread {
	t.Helper()
	th, err := thread.Coarse(d)
	require.NoError(t, err)
	return th
}

// quantity returns the quantity with the given name.
func quantity(t testing.TB, f fastener.Fastener, name string) drawing.Quantity {
	t.Helper()
	qs, err := f.Quantities()
	require.NoError(t, err)
	for _, q := range qs {
		if q.Name == name {
			return q
		}
	}
	t.Fatalf("%s has no %q", f.Designation(), name)
	return drawing.Quantity{}
}

// rowStatus returns the status of a row of the second copy, as testdata/README.md
// says what it means.
func rowStatus(t testing.TB, r map[string]string) drawing.Status {
	t.Helper()
	switch r["status"] {
	case "two-tables", "one-table":
		return drawing.Published
	case "partly":
		return drawing.PublishedInPart
	}
	require.Equal(t, "memory", r["status"])
	return drawing.FromMemory
}

// isRow checks a quantity against a row: the columns of its value and its least
// and greatest limit ("" for none), and the status of the row.
func isRow(t testing.TB, q drawing.Quantity, r map[string]string, value, least, most string) {
	t.Helper()
	limit := func(column string) float64 {
		if column == "" {
			return 0
		}
		return num(t, r[column])
	}
	assert.Equal(t, num(t, r[value]), q.Value, "M%s %s", r["d"], q.Name)
	assert.Equal(t, limit(least), q.Min, "M%s %s, at least", r["d"], q.Name)
	assert.Equal(t, limit(most), q.Max, "M%s %s, at most", r["d"], q.Name)
	assert.Equal(t, rowStatus(t, r), q.Status, "M%s %s", r["d"], q.Name)
}

// acrossCorners checks that a hexagon is drawn 2s/√3 across corners, and that the
// least width is a limit and nothing else.
func acrossCorners(t testing.TB, f fastener.Fastener, r map[string]string) {
	t.Helper()
	a := quantity(t, f, "width across corners")
	assert.InDelta(t, 2*num(t, r["s_nom_max"])/math.Sqrt(3), a.Value, 1e-9, "M%s A", r["d"])
	assert.Equal(t, num(t, r["e_min"]), a.Min, "M%s e min", r["d"])
	assert.Equal(t, drawing.Derived, a.Status)
	assert.Contains(t, quantity(t, f, "width across flats").Source, "governs")
}

const washerFace = "washer face diameter, at least; not drawn"

func TestHexBoltsOfISO4014(t *testing.T) {
	for _, r := range table(t, "iso4014-hexagon-bolts.csv") {
		d := num(t, r["d"])
		for _, toHead := range []bool{false, true} { // ISO 4017 has the same heads
			h := fastener.HexBolt{Thread: coarse(t, d), Length: 10 * d, ToHead: toHead, Basis: fastener.Standard}
			isRow(t, quantity(t, h, "width across flats"), r, "s_nom_max", "s_min", "s_nom_max")
			isRow(t, quantity(t, h, "head thickness"), r, "k_nom", "k_min", "k_max")
			isRow(t, quantity(t, h, washerFace), r, "dw_min", "dw_min", "")
			acrossCorners(t, h, r)
		}
		// b of ISO 4014, where the table has it, in the lengths it is for.
		for column, length := range map[string]float64{"b_l_le125": 125, "b_125_200": 200, "b_gt200": 220} {
			h := fastener.HexBolt{Thread: coarse(t, d), Length: length, Basis: fastener.Standard}
			if r[column] != "" && h.Validate() == nil {
				assert.Equal(t, num(t, r[column]), quantity(t, h, "thread length").Value, "M%g b, l %g", d, length)
			}
		}
	}
}

func TestHexNutsOfISO4032And4035(t *testing.T) {
	for _, r := range table(t, "iso4032-4035-hexagon-nuts.csv") {
		d := num(t, r["d"])
		full := fastener.HexNut{Thread: coarse(t, d), Basis: fastener.Standard}
		thin := fastener.HexNut{Thread: coarse(t, d), Basis: fastener.Standard, Thin: true}
		isRow(t, quantity(t, full, "nut thickness"), r, "m_max_iso4032", "m_min_iso4032", "m_max_iso4032")
		isRow(t, quantity(t, thin, "nut thickness"), r, "m_max_iso4035", "m_min_iso4035", "m_max_iso4035")
		pair := fastener.LockNut{Thread: coarse(t, d), Basis: fastener.Standard}
		isRow(t, quantity(t, pair, "thickness of the full nut"), r, "m_max_iso4032", "m_min_iso4032",
			"m_max_iso4032")
		isRow(t, quantity(t, pair, "thickness of the thin nut"), r, "m_max_iso4035", "m_min_iso4035",
			"m_max_iso4035")
		for _, n := range []fastener.HexNut{full, thin} {
			isRow(t, quantity(t, n, "width across flats"), r, "s_nom_max", "s_min", "s_nom_max")
			isRow(t, quantity(t, n, washerFace), r, "dw_min", "dw_min", "")
			acrossCorners(t, n, r)
		}
	}
}

// TestStandardsAreSetOutByTheirFlats: e min is a limit for inspection, on rounded
// corners. A hexagon that wide over its corners would be narrower across flats
// than any standard allows: ISO 4014 M20 would have 29.04, and 29.67 is the least.
func TestStandardsAreSetOutByTheirFlats(t *testing.T) {
	m20 := thread.MustParse("M20")
	for _, f := range []fastener.Fastener{
		fastener.HexBolt{Thread: m20, Length: 90, Basis: fastener.Standard, Governs: fastener.Corners},
		fastener.HexNut{Thread: m20, Basis: fastener.Standard, Governs: fastener.Corners},
		fastener.CapNut{Thread: m20, Basis: fastener.Standard, Governs: fastener.Corners},
		fastener.LockNut{Thread: m20, Basis: fastener.Standard, Governs: fastener.Corners},
	} {
		assert.ErrorContains(t, f.Validate(), "governs corners: standards state the width across flats")
	}
	for _, r := range table(t, "iso4014-hexagon-bolts.csv") {
		assert.Less(t, num(t, r["e_min"])*math.Cos(math.Pi/6), num(t, r["s_min"]), "M%s", r["d"])
	}
}

// TestOldWidths: the widths of DIN 931 and DIN 934, and the heights of DIN 931,
// where they differ from those of ISO.
func TestOldWidths(t *testing.T) {
	old := map[float64]map[string]string{}
	for _, r := range table(t, "din931-934-old-widths.csv") {
		old[num(t, r["d"])] = r
	}
	require.Len(t, old, 4)
	for _, r := range table(t, "iso4014-hexagon-bolts.csv") {
		d := num(t, r["d"])
		bolt := fastener.HexBolt{Thread: coarse(t, d), Length: 10 * d, Basis: fastener.Standard, OldWidths: true}
		nut := fastener.HexNut{Thread: coarse(t, d), Basis: fastener.Standard, OldWidths: true}
		own, differs := old[d]
		if !differs {
			assert.Equal(t, num(t, r["s_nom_max"]), quantity(t, bolt, "width across flats").Value, "M%g", d)
			assert.Contains(t, bolt.Designation(), "ISO 4014")
			continue
		}
		assert.Equal(t, num(t, r["s_nom_max"]), num(t, own["s_iso4014_4032"]))
		for _, f := range []fastener.Fastener{bolt, nut} {
			w := quantity(t, f, "width across flats")
			assert.Equal(t, num(t, own["s_din931_934"]), w.Value, "M%g", d)
			assert.Equal(t, rowStatus(t, own), w.Status)
			assert.Zero(t, w.Min, "no limits are held")
		}
		assert.Equal(t, num(t, own["k_din931"]), quantity(t, bolt, "head thickness").Value, "M%g", d)
	}
	m12 := thread.MustParse("M12")
	assert.Equal(t, "Hexagon-head bolt DIN 931 - M12 × 60",
		fastener.HexBolt{Thread: m12, Length: 60, Basis: fastener.Standard, OldWidths: true}.Designation())
	assert.Equal(t, "Hexagon nut ISO 4032 - M12, 19 across flats as DIN 934",
		fastener.HexNut{Thread: m12, Basis: fastener.Standard, OldWidths: true}.Designation())
	assert.ErrorContains(t, fastener.HexNut{Thread: m12, OldWidths: true}.Validate(),
		"belongs to basis standard")
}

func TestWashersOfISO7089And7090And7091And7093(t *testing.T) {
	forms := map[string]fastener.WasherForm{"ISO 7089": fastener.WasherNormal,
		"ISO 7090 (chamfered)": fastener.WasherChamfered,
		"ISO 7091 (grade C)":   fastener.WasherGradeC, "ISO 7093-1 (large)": fastener.WasherLarge}
	rows := map[string]int{}
	for _, r := range table(t, "iso7089-7093-washers.csv") {
		rows[r["standard"]]++
		name, _, _ := strings.Cut(r["standard"], " (")
		w := fastener.Washer{Thread: coarse(t, num(t, r["d"])), Form: forms[r["standard"]],
			Basis: fastener.Standard}
		isRow(t, quantity(t, w, "hole diameter"), r, "d1_min", "d1_min", "")
		isRow(t, quantity(t, w, "outside diameter"), r, "d2_max", "", "d2_max")
		isRow(t, quantity(t, w, "thickness"), r, "h_nom", "", "")
		assert.Contains(t, w.Designation(), name+" - ")
		assert.Contains(t, quantity(t, w, "thickness").Source, name+":")
	}
	assert.Equal(t, map[string]int{"ISO 7089": 25, "ISO 7090 (chamfered)": 23, "ISO 7091 (grade C)": 23,
		"ISO 7093-1 (large)": 17}, rows)
}

func TestSquareHeadsOfIS2585(t *testing.T) { // from memory, unverified
	for _, r := range table(t, "square-head-bolts.csv") {
		d := num(t, r["d"])
		b := fastener.SquareBolt{Thread: coarse(t, d), Length: 8 * d, Basis: fastener.Standard}
		isRow(t, quantity(t, b, "width across flats"), r, "s_basic", "s_min", "s_basic")
		isRow(t, quantity(t, b, "head thickness"), r, "k_basic", "", "")
	}
}

func TestSquareNutsOfDIN557And562(t *testing.T) { // from memory, unverified
	for _, r := range table(t, "din557-562-square-nuts.csv") {
		n := fastener.SquareNut{Thread: coarse(t, num(t, r["d"])),
			Thin: strings.HasPrefix(r["standard"], "DIN 562 "), Basis: fastener.Standard}
		isRow(t, quantity(t, n, "width across flats"), r, "s", "", "")
		isRow(t, quantity(t, n, "nut thickness"), r, "m", "", "")
	}
}

// TestTablesStandTogether checks what the standards give for free: sizes rise,
// a hexagon is wider across corners than across flats by at most 2/sqrt(3),
// and e is not under 1.13 times the least s, the relation that ISO 4014 and
// ISO 4032 state.
func TestTablesStandTogether(t *testing.T) {
	for _, name := range []string{"iso4014-hexagon-bolts.csv", "iso4032-4035-hexagon-nuts.csv"} {
		last := 0.0
		for _, r := range table(t, name) {
			s, e, smin := num(t, r["s_nom_max"]), num(t, r["e_min"]), num(t, r["s_min"])
			assert.Greater(t, s, last, "%s M%s", name, r["d"])
			assert.Less(t, e, 1.1548*s, "%s M%s", name, r["d"])
			assert.InDelta(t, 1.13*smin, e, 0.012, "%s M%s", name, r["d"])
			last = s
		}
	}
}

// TestFineThreadsHaveTheirOwnStandards: ISO 4014 is for coarse threads; ISO
// 8765 has the same heads on fine ones, from M8 (from memory, unverified).
func TestFineThreadsHaveTheirOwnStandards(t *testing.T) {
	fine := thread.MustParse("M20x1.5")
	bolt := fastener.HexBolt{Thread: fine, Length: 110, Basis: fastener.Standard}
	assert.Equal(t, "Hexagon-head bolt ISO 8765 - M20 × 1.5 × 110", bolt.Designation())
	k := quantity(t, bolt, "head thickness")
	assert.Equal(t, 12.5, k.Value)
	assert.Equal(t, drawing.FromMemory, k.Status)
	assert.Equal(t, "Hexagon-head screw ISO 8676 - M20 × 1.5 × 50",
		fastener.HexBolt{Thread: fine, Length: 50, ToHead: true, Basis: fastener.Standard}.Designation())
	assert.Equal(t, "Hexagon nut ISO 8673 - M20 × 1.5",
		fastener.HexNut{Thread: fine, Basis: fastener.Standard}.Designation())
	assert.Equal(t, "Hexagon thin nut ISO 8675 - M20 × 1.5",
		fastener.HexNut{Thread: fine, Thin: true, Basis: fastener.Standard}.Designation())

	small := fastener.HexBolt{Thread: thread.MustParse("M6x0.75"), Length: 40, Basis: fastener.Standard}
	assert.ErrorContains(t, small.Validate(), "as a pitch of ISO 8765 it is not held here; held: none of M6")
	square := fastener.SquareBolt{Thread: fine, Length: 90, Basis: fastener.Standard}
	assert.ErrorContains(t, square.Validate(), "IS 2585 is held here for coarse threads only")
	odd, err := thread.Unlisted(20, 0.9)
	require.NoError(t, err)
	assert.ErrorContains(t, fastener.HexNut{Thread: odd, Basis: fastener.Standard}.Validate(),
		"held: M20 × 1.5 and 2")
}
