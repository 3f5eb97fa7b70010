package thread

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// ISO 273:1979; status of each row in the files.
func TestClearanceHole(t *testing.T) {
	names := []string{"iso273-clearance-holes.csv", "iso273-additions.csv", "iso273-jis-b-1001.csv"}
	for _, name := range names {
		for _, r := range readTable(t, name) {
			d := r.num(t, "d")
			for f, col := range map[Fit]string{FitFine: "fine_h12", FitMedium: "medium_h13", FitCoarse: "coarse_h14"} {
				got, err := ClearanceHole(d, f)
				require.NoError(t, err)
				assert.Equal(t, r.num(t, col), got, "M%v %v", d, f)
			}
		}
	}
	best := bestStatus(t, []string{"d"}, names...)
	require.Len(t, clearances, len(best))
	for i, c := range clearances {
		assert.Equal(t, best[" "+number(c.d)], c.status, "M%v", c.d)
		assert.True(t, c.d < c.fine && c.fine < c.medium && c.medium < c.coarse, "%+v", c)
		if i > 0 {
			p := clearances[i-1]
			assert.True(t, p.d < c.d && p.fine < c.fine && p.medium < c.medium && p.coarse < c.coarse, "%+v", c)
		}
	}
}

func TestClearanceHoleErrors(t *testing.T) {
	_, err := ClearanceHole(13, FitMedium)
	assert.EqualError(t, err, "M13 is not among the sizes held of ISO 273; nearest: M12, M14")
	_, err = ClearanceHole(9, FitFine)
	var se *SizeError
	require.ErrorAs(t, err, &se)
	assert.Equal(t, []float64{8, 10}, se.Nearest)
	_, err = ClearanceFigure(9, FitFine)
	require.ErrorAs(t, err, &se)
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
		d, err := th.drill()
		require.NoError(t, err)
		assert.Equal(t, statusOf(t, r["status"]), d.status, "%v", th)

		// ISO 2306 has drills that give a minor diameter within 6H.
		l, err := th.Limits("6H")
		require.NoError(t, err)
		assert.True(t, l.MinorMin.Value <= got && got <= l.MinorMax.Value, "%v: %v", th, got)
		assert.InDelta(t, th.DrillRule(), got, 0.1, "%v", th)
	}
}

func TestTapDrillErrors(t *testing.T) {
	for in, want := range map[string]string{
		"M24x1.5": "no tapping drill of ISO 2306 is held here for M24 × 1.5; held: M24, M24 × 2; by the rule D - P (common practice) 22.5 mm",
		"M7-6H":   "no tapping drill of ISO 2306 is held here for M7; by the rule D - P (common practice) 6 mm",
	} {
		_, err := MustParse(in).TapDrill()
		assert.EqualError(t, err, want)
		var te *TableError
		require.ErrorAs(t, err, &te)
		assert.Equal(t, "ISO 2306", te.Standard)
	}
}
