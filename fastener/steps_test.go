package fastener_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"

	"boltplate/drawing"
	"boltplate/fastener"
)

// TestSteps: of every kind, form and neck, with nut and washer, by both bases,
// each line of the figure is drawn by one step, in the role that it has in the
// figure, and stays until the last one, which is the figure; and each step says
// what to do.
func TestSteps(t *testing.T) {
	all := slices.Concat(specimens(t, 20, 90, fastener.Proportion), specimens(t, 20, 90, fastener.Standard),
		specimens(t, 8, 40, fastener.Standard), specimens(t, 42, 200, fastener.Proportion),
		specimens(t, 5, 70, fastener.Proportion))
	require.Greater(t, len(all), 200)
	for n, f := range all {
		opt := fastener.DrawOptions{}
		opt.Hidden, opt.Section = n%2 == 0, n%3 == 0
		if n%4 == 0 {
			for dir := drawing.Front; dir <= drawing.Isometric; dir++ {
				if _, err := f.View(dir, fastener.Options{}); err == nil {
					opt.Views = append(opt.Views, dir)
				}
			}
		}
		whole, err := fastener.Draw(f, opt)
		require.NoError(t, err, f.Designation())
		steps, err := fastener.Steps(f, opt)
		require.NoError(t, err, f.Designation())
		require.Equal(t, whole, steps[len(steps)-1].Drawing, f.Designation())
		checkSteps(t, whole, steps[:len(steps)-1], f.Designation())
	}
}

// checkSteps lays the steps before the last over the figure.
func checkSteps(t *testing.T, whole *drawing.Drawing, steps []fastener.Step, what string) {
	t.Helper()
	drawn := ink{}
	var before ink
	for _, s := range steps {
		require.NotEmpty(t, s.Title)
		require.Regexp(t, `^[A-Z].*\.$`, s.Text)
		require.NoError(t, s.Drawing.Validate())
		now := inkOf(s.Drawing, false)
		for k, l := range now {
			added := l - before[k]
			require.GreaterOrEqual(t, added, -1e-6, "%s, %s: %s goes away", what, s.Title, k)
		}
		for k := range before {
			require.Contains(t, now, k, "%s, %s: goes away", what, s.Title)
		}
		// What is new has its own role already.
		for k, l := range inkOf(s.Drawing, true) {
			drawn[k] = max(drawn[k], l)
		}
		require.Greater(t, now.total(), before.total(), "%s, %s", what, s.Title)
		before = now
	}
	want, got := inkOf(whole, false), before
	require.ElementsMatch(t, keys(want), keys(got), what)
	for k, l := range want {
		require.InDelta(t, l, got[k], 1e-6, "%s: %s", what, k)
	}
	// Every wide line was wide in the step that drew it.
	for k := range inkOf(whole, true) {
		require.Contains(t, drawn, k, what)
	}
}

// ink is how much is drawn on each line or curve of each view: of a straight
// line the length on the line that it lies on, of a curve how often it is there.
type ink map[string]float64

func (i ink) total() (sum float64) {
	for _, l := range i {
		sum += l
	}
	return sum
}

func keys(i ink) (out []string) {
	for k := range i {
		out = append(out, k)
	}
	return out
}

// inkOf returns what is drawn but for dimensions and texts, or only what is
// wide. Edges that are narrow for now and narrow for good are not told apart.
func inkOf(d *drawing.Drawing, wide bool) ink {
	out := ink{}
	for _, v := range d.Views {
		for _, it := range v.View.Items {
			switch it.Role {
			case drawing.RoleOutline, drawing.RoleThin, drawing.RoleHidden, drawing.RoleCentre, drawing.RoleCutting,
				drawing.RoleHatching:
			default:
				continue
			}
			if wide && !it.Role.Wide() {
				continue
			}
			kind := "edge"
			if it.Role != drawing.RoleOutline && it.Role != drawing.RoleThin {
				kind = it.Role.String()
			}
			l, ok := it.Shape.(drawing.Line)
			if !ok {
				out[fmt.Sprintf("%v %s %T %v", v.View.Direction, kind, it.Shape, it.Shape)]++
				continue
			}
			out[fmt.Sprintf("%v %s %s", v.View.Direction, kind, straightOf(l))] += l.To.Sub(l.From).Len()
		}
	}
	return out
}

// straightOf names the straight line that a line lies on.
func straightOf(l drawing.Line) string {
	u := l.To.Sub(l.From)
	deg := math.Mod(u.Angle()+360, 180)
	if deg > 179.9999 {
		deg = 0
	}
	off := (u.X*l.From.Y - u.Y*l.From.X) / u.Len()
	if u.X < -1e-9 || math.Abs(u.X) <= 1e-9 && u.Y < 0 {
		off = -off
	}
	return fmt.Sprintf("line at %.3f°, %.4f off", deg, off+0)
}
