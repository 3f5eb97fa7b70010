package thread

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// ISO 273:1979; status of each row in the files.
func TestClearanceHole(t *testing.T) {
	n := 0
	for _, name := range []string{"iso273-clearance-holes.csv", "iso273-additions.csv"} {
		for _, r := range readTable(t, name) {
			n++
			d := r.num(t, "d")
			for f, col := range map[Fit]string{FitFine: "fine_h12", FitMedium: "medium_h13", FitCoarse: "coarse_h14"} {
				got, err := ClearanceHole(d, f)
				require.NoError(t, err)
				assert.Equal(t, r.num(t, col), got, "M%v %v", d, f)
			}
		}
	}
	assert.Len(t, clearances, n)
	for i, c := range clearances {
		assert.True(t, c.d < c.fine && c.fine < c.medium && c.medium < c.coarse, "%+v", c)
		if i > 0 {
			p := clearances[i-1]
			assert.True(t, p.d < c.d && p.fine < c.fine && p.medium < c.medium && p.coarse < c.coarse, "%+v", c)
		}
	}
}

func TestClearanceHoleErrors(t *testing.T) {
	_, err := ClearanceHole(13, FitMedium)
	assert.EqualError(t, err, "M13 is not in the table of ISO 273; nearest: M12, M14")
	_, err = ClearanceHole(4.5, FitFine)
	var se *SizeError
	require.ErrorAs(t, err, &se)
	assert.Equal(t, []float64{4, 5}, se.Nearest)
	for _, f := range []Fit{-1, 3} {
		_, err = ClearanceHole(12, f)
		var ve *ValueError
		require.ErrorAs(t, err, &ve)
		assert.Equal(t, "fit", ve.Name)
		assert.Contains(t, err.Error(), "want FitFine, FitMedium or FitCoarse")
	}
}

// ISO 2306:1972; status of each row in the file.
func TestTapDrill(t *testing.T) {
	rows := readTable(t, "iso2306-tapping-drills.csv")
	assert.Len(t, drills, len(rows))
	for _, r := range rows {
		th, err := New(r.num(t, "d"), r.num(t, "p"))
		require.NoError(t, err)
		got, err := th.TapDrill()
		require.NoError(t, err)
		assert.Equal(t, r.num(t, "drill"), got, "%v", th)
		assert.Equal(t, r["series"] == "coarse", th.IsCoarse(), "%v", th)

		// ISO 2306 has drills that give a minor diameter within 6H.
		l, err := th.Limits("6H")
		require.NoError(t, err)
		assert.True(t, l.MinorMin.Value <= got && got <= l.MinorMax.Value, "%v: %v", th, got)
		assert.InDelta(t, th.DrillRule(), got, 0.1, "%v", th)
	}
}

func TestTapDrillErrors(t *testing.T) {
	for in, want := range map[string]string{
		"M24x1.5": "no tapping drill for M24 × 1.5 in the table of ISO 2306; it has M24, M24 × 2; by the rule d - P (common practice) 22.5 mm",
		"M7-6H":   "no tapping drill for M7 in the table of ISO 2306; by the rule d - P (common practice) 6 mm",
	} {
		_, err := MustParse(in).TapDrill()
		assert.EqualError(t, err, want)
		var te *TableError
		require.ErrorAs(t, err, &te)
		assert.Equal(t, "ISO 2306", te.Standard)
	}
}
