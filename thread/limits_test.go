package thread

import (
	"encoding/json"
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"boltplate/rule"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// ISO 965-1:1998, fundamental deviations and crest diameter tolerances; the
// file says which columns were found in a published table.
func TestTolerancesByPitch(t *testing.T) {
	rows := readTable(t, "iso965-1-tolerances-by-pitch.csv")
	require.Len(t, pitchTols, len(rows)+1, "the file lacks the pitch 0.35")
	for _, r := range rows {
		p := r.num(t, "p")
		i := slices.IndexFunc(pitchTols[:], func(c pitchTol) bool { return c.p == p })
		require.NotEqual(t, -1, i, "pitch %v", p)
		c := pitchTols[i]
		assert.Equal(t, r.num(t, "es_e_um"), float64(-c.e.v), "e of %v", p)
		assert.Equal(t, r.num(t, "es_f_um"), float64(-c.f.v), "f of %v", p)
		assert.Equal(t, r.num(t, "es_g_um"), float64(-c.g.v), "g of %v", p)
		assert.Equal(t, r.num(t, "td6_um"), float64(c.td.v), "Td of %v", p)
		assert.Equal(t, r.num(t, "td1_6_um"), float64(c.td1.v), "TD1 of %v", p)
	}
}

// ISO 965-1:1998, pitch diameter tolerances; status as above.
func TestPitchDiameterTolerances(t *testing.T) {
	rows := readTable(t, "iso965-1-tolerances-pitch-diameter.csv")
	require.Len(t, diameterTols, len(rows)+1, "the file lacks the pitch 0.35")
	for _, r := range rows {
		i := slices.IndexFunc(diameterTols[:], func(c diameterTol) bool {
			return c.over == r.num(t, "d_over") && c.upto == r.num(t, "d_upto") && c.p == r.num(t, "p")
		})
		require.NotEqual(t, -1, i, "%v", r)
		assert.Equal(t, r.num(t, "td2_6_um"), float64(diameterTols[i].bolt.v), "%v", r)
		assert.Equal(t, r.num(t, "tD2_6_um"), float64(diameterTols[i].nut.v), "%v", r)
	}
}

// ISO 965-4:1998 and ISO 965-5:1998 print tolerances of grade 6 for the coarse
// threads, which are those of ISO 965-1.
func TestTolerancesOfGalvanizedThreads(t *testing.T) {
	for _, r := range readTable(t, "iso965-4-5-tolerances.csv") {
		th := Thread{D: r.num(t, "d"), P: r.num(t, "p")}
		bolt, err := th.Limits("6h")
		require.NoError(t, err)
		nut, err := th.Limits("6H")
		require.NoError(t, err)
		um := func(a, b Limit) float64 { return math.Round((a.Value - b.Value) * 1000) }
		assert.Equal(t, r.num(t, "td2_um"), um(bolt.PitchMax, bolt.PitchMin), "Td2 of %v", th)
		assert.Equal(t, r.num(t, "td_um"), um(bolt.MajorMax, bolt.MajorMin), "Td of %v", th)
		assert.Equal(t, r.num(t, "tD2_um"), um(nut.PitchMax, nut.PitchMin), "TD2 of %v", th)
		assert.Equal(t, r.num(t, "td1_um"), um(nut.MinorMax, nut.MinorMin), "TD1 of %v", th)
	}
}

// Published limits of size; the source of each row is in the file.
func TestPublishedLimits(t *testing.T) {
	for _, r := range readTable(t, "iso965-1-published-limits.csv") {
		th := Thread{D: r.num(t, "d"), P: r.num(t, "p")}
		l, err := th.Limits(r["class"])
		require.NoError(t, err)
		for col, got := range map[string]Limit{
			"major_max": l.MajorMax, "major_min": l.MajorMin,
			"pitch_max": l.PitchMax, "pitch_min": l.PitchMin,
			"minor_max": l.MinorMax, "minor_min": l.MinorMin,
		} {
			if r[col] != "" {
				assert.Equal(t, Limit{Value: r.num(t, col), Given: true, Status: got.Status}, got, "%s of %v-%s, %s", col, th, l.Class, r["source"])
			}
		}
	}
}

func isR40(um int) bool {
	return slices.Contains(r40[:], um) || slices.Contains(r40[:], 10*um)
}

// The formulas of ISO 965-1:1998 (from memory), whose results the standard
// rounds to R40 with some freedom, "to give a smooth progression": a step of R40
// is 6 %.
func TestToleranceFormulas(t *testing.T) {
	near := func(want float64, got int, tol float64, what string, at ...any) {
		t.Helper()
		assert.InEpsilon(t, want, float64(got), tol, append([]any{what + " of %v"}, at...)...)
	}
	for _, c := range pitchTols {
		if c.e.v != 0 {
			tol := 0.06
			if c.p < 0.7 {
				tol = 0.10 // 50 at P 0.5 and 53 at 0.6 lie well below 50 + 11P
			}
			near(50+11*c.p, c.e.v, tol, "e", c.p)
		}
		near(30+11*c.p, c.f.v, 0.06, "f", c.p)
		near(15+11*c.p, c.g.v, 0.06, "g", c.p)
		near(180*math.Pow(c.p, 2.0/3)-3.15/math.Sqrt(c.p), c.td.v, 0.06, "Td", c.p)
		if c.p < 1 {
			near(433*c.p-190*math.Pow(c.p, 1.22), c.td1.v, 0.06, "TD1", c.p)
		} else {
			near(230*math.Pow(c.p, 0.7), c.td1.v, 0.06, "TD1", c.p)
		}
		assert.True(t, isR40(c.td.v) && isR40(c.td1.v), "%+v", c)
	}
	for _, c := range diameterTols {
		td2 := 90 * math.Pow(c.p, 0.4) * math.Pow(math.Sqrt(c.over*c.upto), 0.1)
		near(td2, c.bolt.v, 0.06, "Td2", c)
		near(1.32*td2, c.nut.v, 0.06, "TD2", c)
		assert.True(t, isR40(c.bolt.v) && isR40(c.nut.v), "%+v", c)
	}
}

func TestTolerancesGrow(t *testing.T) {
	for i := 1; i < len(pitchTols); i++ {
		a, b := pitchTols[i-1], pitchTols[i]
		assert.Less(t, a.p, b.p)
		assert.True(t, a.e.v <= b.e.v && a.f.v <= b.f.v && a.g.v <= b.g.v && a.td.v <= b.td.v && a.td1.v <= b.td1.v, "%v to %v", a.p, b.p)
		assert.True(t, b.g.v < b.f.v && b.f.v < b.e.v, "%v", b.p)
	}
	for i := 1; i < len(diameterTols); i++ {
		a, b := diameterTols[i-1], diameterTols[i]
		if a.over == b.over {
			assert.True(t, a.p < b.p && a.bolt.v <= b.bolt.v && a.nut.v <= b.nut.v, "%+v to %+v", a, b)
		} else {
			assert.Equal(t, a.upto, b.over)
		}
		assert.Less(t, b.bolt.v, b.nut.v)
	}
}

// Every listed thread has limits for every class, save e at a pitch of 0.35,
// and they are in order: the bolt lies within the nut.
func TestLimitsOfAll(t *testing.T) {
	eachThread(func(th Thread) {
		nutH, err := th.Limits("6H")
		require.NoError(t, err, "%v", th)
		nutG, err := th.Limits("6G")
		require.NoError(t, err, "%v", th)
		assert.Greater(t, nutG.PitchMin.Value, nutH.PitchMin.Value, "%v", th)
		assert.Equal(t, Round3(th.MinorDiameter()), nutH.MinorMin.Value, "%v", th)
		assert.False(t, nutH.MajorMax.Given)
		assert.True(t, nutH.MajorMin.Given && nutH.PitchMax.Given && nutH.PitchMin.Given && nutH.MinorMax.Given && nutH.MinorMin.Given)
		assert.True(t, nutH.MinorMin.Value < nutH.MinorMax.Value && nutH.MinorMax.Value < nutH.PitchMax.Value, "%v", th)

		last := 0.0
		for _, class := range []string{"6e", "6f", "6g", "6h"} {
			l, err := th.Limits(class)
			if class == "6e" && th.P == 0.35 {
				var te *TableError
				require.ErrorAs(t, err, &te)
				continue
			}
			require.NoError(t, err, "%v", th)
			assert.Equal(t, class, l.Class)
			assert.Greater(t, l.MajorMax.Value, last, "%v-%s", th, class)
			last = l.MajorMax.Value
			assert.True(t, l.MajorMin.Value < l.MajorMax.Value && l.PitchMin.Value < l.PitchMax.Value, "%v-%s", th, class)
			assert.True(t, l.PitchMax.Value < l.MajorMin.Value && l.MinorMax.Value < l.PitchMin.Value, "%v-%s", th, class)
			assert.True(t, l.PitchMax.Value <= nutH.PitchMin.Value && l.MajorMax.Value <= nutH.MajorMin.Value && l.MinorMax.Value <= nutH.MinorMin.Value, "%v-%s", th, class)
			assert.False(t, l.MinorMin.Given)
		}
	})
}

func TestLimitsClass(t *testing.T) {
	th := MustParse("M12-6g")
	own, err := th.Limits("")
	require.NoError(t, err)
	asked, err := th.Limits("6g")
	require.NoError(t, err)
	assert.Equal(t, asked, own)

	for class, want := range map[string]string{
		"":      `tolerance class "": want one, the thread states none: such as 6g for a bolt, 6H for a nut`,
		"6H/6g": `tolerance class "6H/6g": want one at a time, or the limits of a pair: such as 6g for a bolt, 6H for a nut`,
		"5g":    `tolerance class "5g": want a grade of the major diameter of a bolt that is held: 4, 6 or 8, such as 5g6g`,
		"9h":    `tolerance class "9h": want a grade of the major diameter of a bolt that is held: 4, 6 or 8, such as 9h8h`,
		"5g7h":  `tolerance class "5g7h": want a grade of the major diameter of a bolt that is held: 4, 6 or 8, such as 5g6h`,
		"3H":    `tolerance class "3H": want a grade of the pitch diameter of a nut that is held: 4 to 8, such as 6H`,
		"6H9H":  `tolerance class "6H9H": want a grade of the minor diameter of a nut that is held: 4 to 8, such as 6H`,
		"6g6g":  `tolerance class "6g6g": want 6g`,
		"6k":    `tolerance class "6k": want a letter: e, f, g or h for a bolt, G or H for a nut`,
	} {
		_, err := MustParse("M12").Limits(class)
		var ce *ClassError
		require.ErrorAs(t, err, &ce)
		assert.Equal(t, class, ce.Class)
		assert.EqualError(t, err, want)
	}
	for _, class := range LimitClasses() {
		_, err := MustParse("M12").Limits(class)
		assert.NoError(t, err)
	}
	for in, want := range map[string]string{
		"8g": "no tolerance of grade 8 of ISO 965-1 is held here for M4; held: pitches from 0.8 up",
		"8H": "no tolerance of grade 8 of ISO 965-1 is held here for M4; held: pitches from 0.8 up",
	} {
		_, err := MustParse("M4").Limits(in)
		assert.EqualError(t, err, want)
	}
	_, err = MustParse("M3x0.35").Limits("7H")
	assert.EqualError(t, err, "no tolerance of grade 7 of ISO 965-1 is held here for M3 × 0.35; held: pitches from 0.5 up")
	_, err = MustParse("M3x0.35").Limits("6e")
	assert.EqualError(t, err, "no deviation e of ISO 965-1 is held here for M3 × 0.35; held: pitches from 0.5 up")
}

// Tolerances of all grades of ISO 965-1:1998; the status of each is in the
// file.
func TestGrades(t *testing.T) {
	n := 0
	for _, r := range readTable(t, "iso965-1-grades.csv") {
		p, grade, q := r.num(t, "p"), int(r.num(t, "grade")), r["quantity"]
		i := slices.IndexFunc(pitchTols[:], func(c pitchTol) bool { return c.p == p })
		of, base := map[string]quantity{"td": majorOfBolt, "td1": minorOfNut, "td2": pitchOfBolt, "tD2": pitchOfNut}[q], pitchTols[i].td
		switch q {
		case "td1":
			base = pitchTols[i].td1
		case "td2", "tD2":
			over := r.num(t, "d_over")
			j := slices.IndexFunc(diameterTols[:], func(c diameterTol) bool { return c.over == over && c.p == p })
			require.NotEqual(t, -1, j, "%v", r)
			if base = diameterTols[j].bolt; q == "tD2" {
				base = diameterTols[j].nut
			}
		}
		got, ok := base.ofGrade(of, grade)
		require.True(t, ok, "%v", r)
		assert.Equal(t, r.num(t, "um"), float64(got.v), "%v", r)
		assert.LessOrEqual(t, leastPitch(of, grade), p, "%v", r)
		n++
	}
	assert.Greater(t, n, 400)
}

// The standard's factors (from memory) on its formulas, which it rounds to
// R 40: within a step and a half.
func TestGradeFactors(t *testing.T) {
	factors := map[int]float64{3: 0.5, 4: 0.63, 5: 0.8, 6: 1, 7: 1.25, 8: 1.6, 9: 2}
	nutFactors := map[int]float64{4: 0.85, 5: 1.06, 6: 1.32, 7: 1.7, 8: 2.12}
	for _, c := range diameterTols {
		td2 := 90 * math.Pow(c.p, 0.4) * math.Pow(math.Sqrt(c.over*c.upto), 0.1)
		for grade, k := range factors {
			got, ok := c.bolt.ofGrade(pitchOfBolt, grade)
			require.True(t, ok)
			assert.InEpsilon(t, k*td2, float64(got.v), 0.09, "Td2 of grade %d, %+v", grade, c)
		}
		for grade, k := range nutFactors {
			got, ok := c.nut.ofGrade(pitchOfNut, grade)
			require.True(t, ok)
			assert.InEpsilon(t, k*td2, float64(got.v), 0.09, "TD2 of grade %d, %+v", grade, c)
		}
	}
	for _, c := range pitchTols {
		for grade, k := range factors {
			if got, ok := c.td.ofGrade(majorOfBolt, grade); ok {
				assert.InEpsilon(t, k*float64(c.td.v), float64(got.v), 0.04, "Td of grade %d, P %v", grade, c.p)
			}
			if got, ok := c.td1.ofGrade(minorOfNut, grade); ok {
				assert.InEpsilon(t, k*float64(c.td1.v), float64(got.v), 0.04, "TD1 of grade %d, P %v", grade, c.p)
			}
		}
	}
}

// The status of each tolerance and deviation is published where a published
// table bears it out, and from memory elsewhere, cell by cell. Rows that are
// from memory themselves bear nothing out.
func TestToleranceStatus(t *testing.T) {
	seen := map[string]bool{} // by quantity, pitch and, for pitch diameters, range of diameters
	pitchCell := func(q string, p float64) string { return q + " " + number(p) }
	cell := func(q string, d, p float64) string {
		i := slices.IndexFunc(diameterTols[:], func(c diameterTol) bool { return c.over < d && d <= c.upto && c.p == p })
		return q + " " + number(p) + " over " + number(diameterTols[i].over)
	}
	for _, r := range readTable(t, "iso965-1-published-limits.csv") {
		if strings.Contains(r["source"], "from memory") {
			continue
		}
		d, p, class := r.num(t, "d"), r.num(t, "p"), r["class"]
		both := func(a, b string) bool { return r[a] != "" && r[b] != "" }
		switch {
		case class == "6g" && r["major_max"] != "", class == "6G" && r["pitch_min"] != "":
			seen[pitchCell("g", p)] = true
		}
		switch class {
		case "6g", "6h":
			seen[pitchCell("td", p)] = seen[pitchCell("td", p)] || both("major_max", "major_min")
			seen[cell("td2", d, p)] = seen[cell("td2", d, p)] || both("pitch_max", "pitch_min")
		case "6G", "6H":
			seen[cell("tD2", d, p)] = seen[cell("tD2", d, p)] || both("pitch_max", "pitch_min")
			seen[pitchCell("td1", p)] = seen[pitchCell("td1", p)] || both("minor_max", "minor_min")
		}
	}
	for _, r := range readTable(t, "iso965-4-5-tolerances.csv") {
		d, p := r.num(t, "d"), r.num(t, "p")
		for _, c := range []string{pitchCell("td", p), pitchCell("td1", p), cell("td2", d, p), cell("tD2", d, p)} {
			seen[c] = true
		}
	}
	for _, r := range readTable(t, "iso965-1-tolerances-by-pitch.csv") {
		for _, c := range strings.Split(r["confirmed_columns"], "+") {
			seen[pitchCell(map[string]string{"es_g": "g", "Td6": "td"}[c], r.num(t, "p"))] = true
		}
	}
	for _, r := range readTable(t, "iso965-1-tolerances-pitch-diameter.csv") {
		for _, c := range strings.Fields(r["confirmed_columns"]) {
			seen[cell(map[string]string{"Td2": "td2", "TD2": "tD2"}[c], r.num(t, "d_upto"), r.num(t, "p"))] = true
		}
	}
	want := func(key string) rule.Status {
		if seen[key] {
			return rule.Published
		}
		return rule.FromMemory
	}
	for _, c := range pitchTols {
		for q, x := range map[string]um{"e": c.e, "f": c.f, "g": c.g, "td": c.td, "td1": c.td1} {
			assert.Equal(t, want(pitchCell(q, c.p)), x.status, "%s of the pitch %v", q, c.p)
		}
	}
	for _, c := range diameterTols {
		assert.Equal(t, want(cell("td2", c.upto, c.p)), c.bolt.status, "Td2 of %+v", c)
		assert.Equal(t, want(cell("tD2", c.upto, c.p)), c.nut.status, "TD2 of %+v", c)
	}
}

// A limit has the status of the weakest figure it is made of.
func TestLimitStatus(t *testing.T) {
	for in, want := range map[string][6]rule.Status{ // major max, min, pitch max, min, minor max, min
		"M20-6g":     {published, published, published, published, published, 0},
		"M12-6g":     {fromMemory, fromMemory, fromMemory, fromMemory, fromMemory, 0}, // g of 1.75
		"M12-6h":     {published, published, published, published, published, 0},
		"M20-6e":     {fromMemory, fromMemory, fromMemory, fromMemory, fromMemory, 0},
		"M24x2-6h":   {published, published, published, fromMemory, published, 0},
		"M20-4g6g":   {published, published, published, rule.Derived, published, 0},
		"M20-8g":     {published, fromMemory, published, fromMemory, published, 0},
		"M20-6H":     {0, published, published, published, published, published},
		"M10-5H":     {0, published, rule.Derived, published, fromMemory, published},
		"M6-6H":      {0, published, published, published, fromMemory, published}, // TD1 of 1
		"M3x0.35-6H": {0, published, fromMemory, published, fromMemory, published},
	} {
		l, err := MustParse(in).Limits("")
		require.NoError(t, err, in)
		got := [6]rule.Status{l.MajorMax.Status, l.MajorMin.Status, l.PitchMax.Status, l.PitchMin.Status, l.MinorMax.Status, l.MinorMin.Status}
		assert.Equal(t, want, got, in)
	}
}

// ISO 965-2 (from memory) and the sums on them.
func TestPairLimits(t *testing.T) {
	nut, bolt, err := MustParse("M20-6H/6g").PairLimits("")
	require.NoError(t, err)
	assert.Equal(t, "6H", nut.Class)
	assert.Equal(t, "6g", bolt.Class)
	assert.Equal(t, 18.6, nut.PitchMax.Value)
	assert.Equal(t, 18.164, bolt.PitchMin.Value)
	least, greatest := Play(nut, bolt)
	assert.Equal(t, Limit{Value: 0.042, Given: true, Status: rule.Derived}, least) // the deviation of g
	assert.Equal(t, 0.436, greatest.Value)                                         // 42 + 170 + 224
	none, _ := Play(Limits{}, bolt)
	assert.False(t, none.Given)

	nut, bolt, err = MustParse("M10").PairLimits("6G/5g6g")
	require.NoError(t, err)
	assert.Equal(t, "6G", nut.Class)
	assert.Equal(t, "5g6g", bolt.Class)
	for class, want := range map[string]string{
		"":      `tolerance class "": want a pair, nut before bolt, such as 6H/6g`,
		"6H":    `tolerance class "6H": want a pair, nut before bolt, such as 6H/6g`,
		"6g/6H": `tolerance class "6g/6H": want no slash: the class of the nut comes before that of the bolt, as 6H/6g`,
		"6H/5g": `tolerance class "5g": want a grade of the major diameter of a bolt that is held: 4, 6 or 8, such as 5g6g`,
		"3H/6g": `tolerance class "3H": want a grade of the pitch diameter of a nut that is held: 4 to 8, such as 6H`,
	} {
		_, _, err := MustParse("M10").PairLimits(class)
		assert.EqualError(t, err, want)
	}
}

// Where two positions are given the first is that of the pitch diameter, and
// of the root with it; the second that of the crest.
func TestTwoPositions(t *testing.T) {
	get := func(class string) Limits {
		l, err := MustParse("M20").Limits(class)
		require.NoError(t, err)
		return l
	}
	e, h, mixed := get("6e"), get("6h"), get("6e6h")
	assert.Equal(t, e.PitchMax, mixed.PitchMax)
	assert.Equal(t, e.MinorMax, mixed.MinorMax)
	assert.Equal(t, h.MajorMax, mixed.MajorMax)
	assert.Equal(t, h.MajorMin, mixed.MajorMin)
	H, G, nut := get("6H"), get("6G"), get("6G6H")
	assert.Equal(t, G.PitchMin, nut.PitchMin)
	assert.Equal(t, H.MinorMax, nut.MinorMax)
	assert.Equal(t, 20.042, nut.MajorMin.Value) // EI of G at 2.5 is 42
	assert.Equal(t, 20.0, H.MajorMin.Value)
}

// Whatever class is written, its limits are in order or there is a reason.
func TestLimitsOfAnyClass(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SampledFrom(Sizes()).Draw(t, "d")
		th := Thread{D: d, P: rapid.SampledFrom(Pitches(d)).Draw(t, "p").P}
		class := drawClass(t)
		if class == "" || strings.Contains(class, "/") {
			return
		}
		l, err := th.Limits(class)
		var ce *ClassError
		var te *TableError
		if err != nil {
			if !errors.As(err, &ce) && !errors.As(err, &te) {
				t.Fatalf("%v-%s: %v", th, class, err)
			}
			return
		}
		nut := strings.ContainsAny(class, nutLetters)
		for _, pair := range [][2]Limit{{l.MajorMin, l.MajorMax}, {l.PitchMin, l.PitchMax}, {l.MinorMin, l.MinorMax}, {l.PitchMax, l.MajorMin}, {l.MinorMax, l.PitchMin}} {
			if pair[0].Given && pair[1].Given && !(pair[0].Value < pair[1].Value) && !(nut && pair[0] == l.MinorMax) {
				t.Fatalf("%v-%s: %+v", th, class, l)
			}
		}
		if basic := Round3(th.PitchDiameter()); nut && l.PitchMin.Value < basic || !nut && l.PitchMax.Value > basic {
			t.Fatalf("%v-%s crosses the basic profile: %+v", th, class, l)
		}
	})
}

func TestLimitsUnlisted(t *testing.T) {
	// M40 is in the diameter range 22.4 to 45 of ISO 965-1.
	a, err := Thread{D: 40, P: 2}.Limits("6g")
	require.NoError(t, err)
	b, err := Thread{D: 24, P: 2}.Limits("6g")
	require.NoError(t, err)
	assert.InDelta(t, 16, a.PitchMin.Value-b.PitchMin.Value, 1e-9)

	for _, th := range []Thread{{D: 12, P: 1.3}, {D: 12, P: 3}, {D: 100, P: 6}, {D: 2, P: 0.35}} {
		_, err := th.Limits("6g")
		var te *TableError
		require.ErrorAs(t, err, &te, "%v", th)
		assert.Equal(t, "ISO 965-1", te.Standard)
	}
}

func TestLimitsJSON(t *testing.T) {
	want, err := MustParse("M20").Limits("6g")
	require.NoError(t, err)
	b, err := json.Marshal(want)
	require.NoError(t, err)
	// M20 6g after ISO 965-2; minor 17.294 - 0.042.
	assert.JSONEq(t, `{"class":"6g","major_max":19.958,"major_min":19.623,"pitch_max":18.334,"pitch_min":18.164,"minor_max":17.252,"minor_min":null}`, string(b))
	var got Limits
	require.NoError(t, json.Unmarshal(b, &got))
	assert.Equal(t, want.MajorMin.Value, got.MajorMin.Value)
	assert.False(t, got.MinorMin.Given)
	again, err := json.Marshal(got)
	require.NoError(t, err)
	assert.JSONEq(t, string(b), string(again))
	assert.Error(t, json.Unmarshal([]byte(`{"major_max":"wide"}`), &got))
}

func BenchmarkLimits(b *testing.B) {
	th := MustParse("M20x1.5")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := th.Limits("6g"); err != nil {
			b.Fatal(err)
		}
	}
}
