package thread

import (
	"testing"

	"boltplate/rule"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// DIN 76-1:2004, from memory. The widths g1 of the floors, which the standard prints
// beside g2, follow from a slope of 30 degrees, but for its rounding: what one column
// was remembered wrong would not fit the others.
func TestUndercuts(t *testing.T) {
	rows := readTable(t, "din76-undercuts.csv")
	require.Len(t, undercuts, len(rows))
	for i, r := range rows {
		th := Thread{D: 64, P: r.num(t, "p")}
		assert.Equal(t, th.P, undercuts[i].p)
		for _, f := range []struct {
			short bool
			form  string
			times float64
		}{{false, "a", 3.5}, {true, "b", 2.5}} {
			u := th.Undercut(f.short)
			assert.Equal(t, statusOf(t, r["status"]), u.Status)
			assert.InDelta(t, 64-r.num(t, "depth_d_minus_dg"), u.Diameter, 1e-9)
			assert.Equal(t, r.num(t, "g2_max_form_"+f.form), u.Width)
			assert.Equal(t, r.num(t, "r"), u.Radius)
			assert.InDelta(t, r.num(t, "g1_min_form_"+f.form), u.Floor(th.D), 0.06+0.04*th.P, "%v form %s", th.P, f.form)
			assert.InEpsilon(t, f.times*th.P, u.Width, 0.03, "%v form %s", th.P, f.form)
			assert.Less(t, u.Diameter, th.RootDiameter(), "%v: the tool comes free", th.P)
			assert.Less(t, u.Radius, u.Floor(th.D), "%v", th.P)
			assert.InDelta(t, 1.45, (th.D-u.Diameter)/th.P, 0.18, "%v", th.P)
		}
	}
	u := Thread{D: 12, P: 1.2}.Undercut(false) // not in the table: by the rules
	assert.Equal(t, Undercut{Diameter: 10.26, Width: 4.2, Radius: 0.6, Source: "the rules that DIN 76-1:2004 rounds", Status: rule.CommonPractice}, u)
}
