package solid

import (
	"fmt"
	"math"
	"testing"

	"boltplate/internal/plane"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// TestShortWays: what is known of edges beforehand, by the faces that they lie
// between, by boxes and by what a convex body hides, changes nothing: every
// piece that the short ways find is one of the general way, and the other way
// round.
func TestShortWays(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		solids := randomStack(t)
		f := rapid.SampledFrom(frames()).Draw(t, "frame")
		hidden := rapid.Bool().Draw(t, "hidden")
		short := Trace(solids, nil, f, hidden)
		long := (&tracer{f: f, k: f.Right.Len(), hidden: hidden, plain: true}).run(solids, nil)
		compare(t, "short", short, "long", long)
		compare(t, "long", long, "short", short)
	})
}

func frames() []Frame {
	const k = math.Sqrt2 / 2
	return []Frame{Looking(zAxis, yAxis), Looking(yAxis, zAxis.Mul(-1)), Looking(xAxis, yAxis), Looking(xAxis.Mul(-1), yAxis),
		Looking(V(0, k, k), V(0, k, -k)), IsometricFromHead(), IsometricFromPoint()}
}

// randomStack makes solids on the X axis, one after the other or overlapping,
// some with bores, and now and then one off the axis.
func randomStack(t *rapid.T) []Solid {
	draw := func(name string, lo, hi float64) float64 {
		// On a grid, so that faces and radii coincide as they do in fasteners.
		return lo + (hi-lo)*float64(rapid.IntRange(0, 12).Draw(t, name))/12
	}
	var out []Solid
	x := 0.0
	for i := range rapid.IntRange(1, 5).Draw(t, "n") {
		name := func(s string) string { return fmt.Sprint(s, i) }
		l, r := draw(name("l"), 2, 8), draw(name("r"), 2, 8) // long enough for the chamfers of both ends
		var s Solid
		switch rapid.IntRange(0, 5).Draw(t, name("sort")) {
		case 0:
			s = Cylinder(X(), r, x, x+l)
		case 1:
			s = Cone(X(), x, r, x+l, draw(name("r1"), 2, 8))
		case 2:
			s = Prism(X(), 6, 2*r, x, x+l, yAxis, Chamfer{AtStart: rapid.Bool().Draw(t, name("c0")), AtEnd: rapid.Bool().Draw(t, name("c1")), Angle: 30, Circle: 2 * r})
		case 3:
			s = Prism(X(), 4, 2*r, x, x+l, yAxis, Chamfer{AtEnd: rapid.Bool().Draw(t, name("c1")), Angle: 30, Circle: 2 * r})
		case 4:
			s = Ball(X(), x+draw(name("c"), -2, 2), r+l, x, x+l/2)
		default:
			h, b := draw(name("h"), 2, 6), draw(name("b"), 2, 6) // clear of the bore
			s = Extrude(V(x, 0, 0), xAxis, yAxis, -b, b, []Vertex{{0, -h, 0}, {l, -h, 0}, {l, r, 0.3}, {0, r, 0}})
		}
		if rapid.Bool().Draw(t, name("bored")) {
			s = s.Less(Cylinder(X(), 1.5, x, x+l))
		}
		out = append(out, s)
		x += l * draw(name("step"), 0.5, 1)
	}
	if rapid.Bool().Draw(t, "pin") {
		out = append(out, Cylinder(AcrossY(draw("px", 1, 6), 0), 0.7, -9, 9))
	}
	return out
}

// compare reports points of the pieces of one way that are no points of those
// of the other.
func compare(t assert.TestingT, name string, some []Piece, other string, all []Piece) {
	for i := range some {
		p := &some[i]
		if length(p) < 1e-4 {
			continue
		}
		for _, s := range [3]float64{0.13, 0.47, 0.81} {
			q := p.Flat(s)
			found := false
			for j := range all {
				// What is hidden in one may be on a visible line of the other.
				if o := &all[j]; (o.Visible == p.Visible || o.Visible) && apart(q, o) < 1e-6 {
					found = true
					break
				}
			}
			if !found {
				assert.Fail(t, fmt.Sprintf("%s has a piece that %s has not", name, other), "visible %v, shape %v, from %v to %v, at %v", p.Visible, p.Shape(), p.At(0), p.At(1), p.At(s))
				return
			}
		}
	}
}

func length(p *Piece) float64 {
	sum, last := 0.0, p.Flat(0)
	for i := range 16 {
		q := p.Flat(float64(i+1) / 16)
		sum, last = sum+math.Hypot(q.X-last.X, q.Y-last.Y), q
	}
	return sum
}

// apart returns how far a point of the picture is from a piece.
func apart(q plane.Vec, p *Piece) float64 {
	d := func(s float64) float64 { v := p.Flat(s); return math.Hypot(v.X-q.X, v.Y-q.Y) }
	if p.Shape() == Straight {
		a, b := p.Flat(0), p.Flat(1)
		dx, dy := b.X-a.X, b.Y-a.Y
		k := ((q.X-a.X)*dx + (q.Y-a.Y)*dy) / (dx*dx + dy*dy + 1e-300)
		return d(math.Max(0, math.Min(1, k)))
	}
	// A circle on its edge comes back along its picture: every place that may be
	// the nearest is looked at.
	const n = 64
	var at [n + 1]float64
	for i := range at {
		at[i] = d(float64(i) / n)
	}
	best := math.Inf(1)
	for i := range at {
		if i > 0 && at[i-1] < at[i] || i < n && at[i+1] < at[i] || at[i] > 2 {
			continue
		}
		lo, hi := math.Max(0, float64(i-1)/n), math.Min(1, float64(i+1)/n)
		for range 80 {
			a, b := lo+(hi-lo)/3, hi-(hi-lo)/3
			if d(a) < d(b) {
				hi = b
			} else {
				lo = a
			}
		}
		best = math.Min(best, d((lo+hi)/2))
	}
	return best
}
