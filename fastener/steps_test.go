package fastener_test

import (
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"boltplate/drawing"
	"boltplate/fastener"
)

// TestSteps: of every kind, form and neck, with nut and washer, what the last
// step shows is the figure; every line of the figure is drawn by exactly one
// step; nothing that a step shows is missing from the next one; and each step
// says what to do.
func TestSteps(t *testing.T) {
	n := 0
	all := slices.Concat(specimens(t, 20, 90, fastener.Proportion), specimens(t, 8, 40, fastener.Standard), specimens(t, 42, 200, fastener.Proportion))
	for _, f := range all {
		opt := fastener.DrawOptions{}
		opt.Hidden = n%2 == 0
		opt.Section = n%3 == 0
		if n%4 == 0 {
			opt.Views = []drawing.Direction{drawing.Front, drawing.SideView, drawing.HeadEnd, drawing.PointEnd, drawing.Isometric}
		}
		n++
		whole, err := fastener.Draw(f, opt)
		if err != nil {
			opt.Views = nil
			whole, err = fastener.Draw(f, opt)
		}
		require.NoError(t, err, f.Designation())
		steps, err := fastener.Steps(f, opt)
		require.NoError(t, err, f.Designation())
		require.GreaterOrEqual(t, len(steps), 3, f.Designation())
		require.Equal(t, whole, steps[len(steps)-1].Drawing, f.Designation())
		left, before := lengths(whole), -1
		for i, s := range steps {
			require.NotEmpty(t, s.Title)
			require.Regexp(t, `^[A-Z].*\.$`, s.Text)
			shown := 0
			for _, v := range s.Drawing.Views {
				for _, it := range v.View.Items {
					if it.Role != drawing.RoleConstruction {
						shown++
					}
				}
			}
			if i < len(steps)-1 {
				require.Greater(t, shown, before, "%s: %s", f.Designation(), s.Title)
			}
			before = shown
			require.NoError(t, s.Drawing.Validate())
		}
		// Without dimensions and texts the last step but one shows all lines.
		for role, l := range lengths(steps[len(steps)-2].Drawing) {
			if role != drawing.RoleConstruction {
				left[drawing.RoleOutline] -= l
			}
		}
		require.InDelta(t, 0, left[drawing.RoleOutline]+left[drawing.RoleThin]+left[drawing.RoleHidden]+left[drawing.RoleCentre], 1e-6*left[drawing.RoleCentre]+1e-6, f.Designation())
	}
	require.Greater(t, n, 40)
}

// lengths returns how long the straight lines of the views are, by role.
func lengths(d *drawing.Drawing) map[drawing.Role]float64 {
	out := map[drawing.Role]float64{}
	for _, v := range d.Views {
		for _, it := range v.View.Items {
			if l, ok := it.Shape.(drawing.Line); ok && it.Role != drawing.RoleCutting {
				out[it.Role] += l.To.Sub(l.From).Len()
			}
		}
	}
	return out
}
