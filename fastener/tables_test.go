package fastener_test

import (
	"encoding/csv"
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

func TestHexBoltsOfISO4014(t *testing.T) {
	for _, r := range table(t, "iso4014-hexagon-bolts.csv") {
		d := num(t, r["d"])
		for _, toHead := range []bool{false, true} { // ISO 4017 has the same heads
			h := fastener.HexBolt{Thread: coarse(t, d), Length: 10 * d, ToHead: toHead, Basis: fastener.Standard}
			assert.Equal(t, num(t, r["s_nom_max"]), quantity(t, h, "width across flats").Value, "M%g s", d)
			k := quantity(t, h, "head thickness")
			assert.Equal(t, num(t, r["k_nom"]), k.Value, "M%g k", d)
			assert.Equal(t, r["status"] == "memory", k.Status == drawing.FromMemory, "M%g status", d)
			h.Governs = fastener.Corners
			assert.Equal(t, num(t, r["e_min"]), quantity(t, h, "width across corners").Value, "M%g e", d)
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
		assert.Equal(t, num(t, r["m_max_iso4032"]), quantity(t, full, "nut thickness").Value, "M%g m", d)
		assert.Equal(t, num(t, r["m_max_iso4035"]), quantity(t, thin, "nut thickness").Value, "M%g thin m", d)
		pair := fastener.LockNut{Thread: coarse(t, d), Basis: fastener.Standard}
		assert.Equal(t, num(t, r["m_max_iso4032"]), quantity(t, pair, "thickness of the full nut").Value, "M%g pair", d)
		assert.Equal(t, num(t, r["m_max_iso4035"]), quantity(t, pair, "thickness of the thin nut").Value, "M%g pair", d)
		for _, n := range []fastener.HexNut{full, thin} {
			assert.Equal(t, num(t, r["s_nom_max"]), quantity(t, n, "width across flats").Value, "M%g s", d)
			n.Governs = fastener.Corners
			assert.Equal(t, num(t, r["e_min"]), quantity(t, n, "width across corners").Value, "M%g e", d)
		}
	}
}

func TestWashersOfISO7089(t *testing.T) {
	n := 0
	for _, r := range table(t, "iso7089-7093-washers.csv") {
		if r["standard"] != "ISO 7089" {
			continue
		}
		n++
		w := fastener.Washer{Thread: coarse(t, num(t, r["d"])), Basis: fastener.Standard}
		assert.Equal(t, num(t, r["d1_min"]), quantity(t, w, "hole diameter").Value, r["d"])
		assert.Equal(t, num(t, r["d2_max"]), quantity(t, w, "outside diameter").Value, r["d"])
		h := quantity(t, w, "thickness")
		assert.Equal(t, num(t, r["h_nom"]), h.Value, r["d"])
		assert.Equal(t, r["status"] == "memory", h.Status == drawing.FromMemory, "M%s status", r["d"])
	}
	assert.Equal(t, 25, n)
}

func TestSquareHeadsOfIS2585(t *testing.T) { // from memory, unverified
	for _, r := range table(t, "square-head-bolts.csv") {
		d := num(t, r["d"])
		b := fastener.SquareBolt{Thread: coarse(t, d), Length: 8 * d, Basis: fastener.Standard}
		w := quantity(t, b, "width across flats")
		assert.Equal(t, num(t, r["s_basic"]), w.Value, "M%g s", d)
		assert.Equal(t, num(t, r["k_basic"]), quantity(t, b, "head thickness").Value, "M%g k", d)
		assert.Equal(t, drawing.FromMemory, w.Status)
		assert.Contains(t, w.Source, "from memory, unverified")
	}
}

func TestSquareNutsOfDIN557And562(t *testing.T) { // from memory, unverified
	for _, r := range table(t, "din557-562-square-nuts.csv") {
		n := fastener.SquareNut{Thread: coarse(t, num(t, r["d"])), Thin: strings.HasPrefix(r["standard"], "DIN 562 "), Basis: fastener.Standard}
		assert.Equal(t, num(t, r["s"]), quantity(t, n, "width across flats").Value, r["d"])
		assert.Equal(t, num(t, r["m"]), quantity(t, n, "nut thickness").Value, r["d"])
		assert.Equal(t, drawing.FromMemory, quantity(t, n, "nut thickness").Status)
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
	assert.Equal(t, "Hexagon-head screw ISO 8676 - M20 × 1.5 × 50", fastener.HexBolt{Thread: fine, Length: 50, ToHead: true, Basis: fastener.Standard}.Designation())
	assert.Equal(t, "Hexagon nut ISO 8673 - M20 × 1.5", fastener.HexNut{Thread: fine, Basis: fastener.Standard}.Designation())
	assert.Equal(t, "Hexagon thin nut ISO 8675 - M20 × 1.5", fastener.HexNut{Thread: fine, Thin: true, Basis: fastener.Standard}.Designation())

	small := fastener.HexBolt{Thread: thread.MustParse("M6x0.75"), Length: 40, Basis: fastener.Standard}
	assert.ErrorContains(t, small.Validate(), "ISO 8765:2011 does not have it; it has M8, M10")
	square := fastener.SquareBolt{Thread: fine, Length: 90, Basis: fastener.Standard}
	assert.ErrorContains(t, square.Validate(), "IS 2585 has coarse threads only")
	odd, err := thread.Unlisted(20, 0.9)
	require.NoError(t, err)
	assert.ErrorContains(t, fastener.HexNut{Thread: odd, Basis: fastener.Standard}.Validate(), "a thread that ISO 261 lists")
}
