package fastener_test

import (
	"fmt"
	"math"
	"testing"

	"boltplate/drawing"
	"boltplate/fastener"

	"github.com/stretchr/testify/assert"
)

// TestLinesApart looks at every view of every kind at the least scale at which
// View.Closest finds its lines apart, and compares by samples: no two lines run
// beside each other nearer than 0.7 mm on paper (ISO 128-2). What meets, crosses,
// or nears and parts again, as a circle beside a straight line does, is no such
// pair; nor are the arcs that stand for one curve of a chamfer.
func TestLinesApart(t *testing.T) {
	sizes := []float64{5, 12, 20, 42}
	if testing.Short() {
		sizes = sizes[1:2]
	}
	for _, d := range sizes {
		t.Run(fmt.Sprintf("M%g", d), func(t *testing.T) {
			t.Parallel()
			for _, basis := range []fastener.Basis{fastener.Proportion, fastener.Standard} {
				for i, f := range specimens(t, d, 5*d, basis) {
					if _, on := f.(fastener.Bolted); on && (i+int(d))%4 != 0 {
						continue
					}
					for _, dir := range []drawing.Direction{drawing.Front, drawing.SideView, drawing.HeadEnd, drawing.PointEnd} {
						v, scale, ok := apartAt(f, dir)
						if !ok {
							continue
						}
						for _, msg := range runs(v, scale) {
							assert.Fail(t, msg, "%s, %s, at %g", f.Designation(), dir, scale)
						}
					}
				}
			}
		})
	}
}

// apartAt returns a view at the least scale that keeps its lines apart.
func apartAt(f fastener.Fastener, dir drawing.Direction) (drawing.View, float64, bool) {
	for _, k := range []float64{1, 2, 5, 10, 20} {
		st := drawing.Style{Scale: k}
		if v, err := f.View(dir, fastener.Options{Style: st}); err == nil && v.Closest(st) >= drawing.LeastApart-1e-9 {
			return v, k, true
		}
	}
	return drawing.View{}, 0, false
}

// runs returns what runs too near beside something else.
func runs(v drawing.View, scale float64) (out []string) {
	type chain struct {
		points []drawing.Point
		edge   bool
		shape  drawing.Shape
	}
	var chains []chain
	for _, it := range v.Items {
		if it.Role == drawing.RoleOutline || it.Role == drawing.RoleThin {
			for _, c := range drawing.Flatten(it.Shape, 0.005) {
				chains = append(chains, chain{c, it.Role == drawing.RoleOutline, it.Shape})
			}
		}
	}
	for i, a := range chains {
		for j, b := range chains {
			if i == j || !a.edge && !b.edge {
				continue
			}
			if long, near := runBeside(a.points, b.points, scale); long > 3 {
				out = append(out, fmt.Sprintf("%.2f mm apart for %.1f mm on paper: %T%+v and %T%+v", near, long, a.shape, a.shape, b.shape, b.shape))
			}
		}
	}
	return out
}

// runBeside returns how long, in mm on paper, a runs beside b at nearly one distance
// below the least, and that distance.
func runBeside(a, b []drawing.Point, scale float64) (long, near float64) {
	const least, step, even = drawing.LeastApart - 0.01, 0.25, 0.1
	box := drawing.Rect{Min: b[0], Max: b[0]}
	for _, p := range b {
		box = box.Union(drawing.Rect{Min: p, Max: p})
	}
	box = box.Grown(least / scale)
	run, low, high := 0.0, math.Inf(1), 0.0
	flush := func() {
		if low > 0.05 && high-low < even && run > long {
			long, near = run, low
		}
		run, low, high = 0, math.Inf(1), 0
	}
	for i := range len(a) - 1 {
		u := a[i+1].Sub(a[i])
		n := max(1, int(math.Ceil(u.Len()*scale/step)))
		for k := range n {
			p, d := a[i].Add(u.Mul(float64(k)/float64(n))), math.Inf(1)
			if p.X > box.Min.X && p.X < box.Max.X && p.Y > box.Min.Y && p.Y < box.Max.Y {
				for j := range len(b) - 1 {
					d = min(d, fromSegment(p, b[j], b[j+1])*scale)
				}
			}
			if d >= least {
				flush()
				continue
			}
			run += u.Len() * scale / float64(n)
			low, high = min(low, d), max(high, d)
		}
	}
	flush()
	return long, near
}

func fromSegment(p, a, b drawing.Point) float64 {
	u, w := b.Sub(a), p.Sub(a)
	t := 0.0
	if q := u.X*u.X + u.Y*u.Y; q > 0 {
		t = max(0, min(1, (u.X*w.X+u.Y*w.Y)/q))
	}
	return p.Sub(a.Add(u.Mul(t))).Len()
}
