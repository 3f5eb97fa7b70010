package plane

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func TestSincosExact(t *testing.T) {
	// The rational sines are those of the multiples of 30 degrees that give
	// 0, 1/2 or 1 (Niven's theorem: there are no others).
	for _, c := range []struct{ deg, sin, cos float64 }{
		{0, 0, 1}, {90, 1, 0}, {180, 0, -1}, {270, -1, 0}, {360, 0, 1}, {-90, -1, 0}, {-180, 0, -1}, {450, 1, 0}, {-720, 0, 1},
	} {
		sin, cos := Sincos(c.deg)
		assert.Equal(t, [2]float64{c.sin, c.cos}, [2]float64{sin, cos}, "%g degrees", c.deg)
	}
	for _, turn := range []float64{-360, 0, 360} {
		for deg, want := range map[float64]float64{30: 0.5, 150: 0.5, 210: -0.5, 330: -0.5} {
			sin, _ := Sincos(deg + turn)
			assert.Equal(t, want, sin, "sin %g", deg+turn)
			_, cos := Sincos(90 - deg + turn)
			assert.Equal(t, want, cos, "cos %g", 90-deg+turn)
		}
	}
}

func TestSincosIsTheCircle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		deg := rapid.Float64Range(-1080, 1080).Draw(t, "deg")
		sin, cos := Sincos(deg)
		wantSin, wantCos := math.Sincos(deg * math.Pi / 180)
		assert.InDelta(t, wantSin, sin, 1e-14)
		assert.InDelta(t, wantCos, cos, 1e-14)
	})
}

func TestDegreesAndNorm(t *testing.T) {
	for _, c := range []struct{ x, y, want float64 }{{1, 0, 0}, {1, 1, 45}, {0, 2, 90}, {-3, 0, 180}, {-1, -1, 225}, {0, -1, 270}} {
		assert.InDelta(t, c.want, Degrees(c.x, c.y), 1e-12)
	}
	for in, want := range map[float64]float64{0: 0, 360: 0, -90: 270, 725: 5, -360: 0} {
		assert.Equal(t, want, Norm(in), "%g", in)
	}
}

func near(t assert.TestingT, want, got Vec, tol float64, msg ...any) {
	assert.LessOrEqual(t, math.Hypot(got.X-want.X, got.Y-want.Y), tol, msg...)
}

var coordinate = rapid.Float64Range(-200, 200)

func point(t *rapid.T, name string) Vec {
	return Vec{coordinate.Draw(t, name+".x"), coordinate.Draw(t, name+".y")}
}

func on(c Vec, r, deg float64) Vec {
	s, cos := math.Sincos(deg * math.Pi / 180)
	return Vec{c.X + r*cos, c.Y + r*s}
}

func TestArcThrough(t *testing.T) {
	// Thales: the circle about a right triangle has the hypotenuse, here 5,
	// as its diameter.
	c, r, ok := ArcThrough(Vec{0, 0}, Vec{3, 0}, Vec{0, 4})
	assert.True(t, ok)
	near(t, Vec{1.5, 2}, c, 1e-12)
	assert.InDelta(t, 2.5, r, 1e-12)
	for _, p := range [][3]Vec{{{0, 0}, {1, 1}, {2, 2}}, {{5, 1}, {5, 1}, {8, 3}}, {{1, 1}, {1, 1}, {1, 1}}} {
		_, _, ok := ArcThrough(p[0], p[1], p[2])
		assert.False(t, ok, "%v lie on a line", p)
	}
}

func TestArcThroughItsPoints(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		center, radius := point(t, "centre"), rapid.Float64Range(0.5, 150).Draw(t, "radius")
		a := rapid.Float64Range(0, 360).Draw(t, "a")
		gap := rapid.Float64Range(5, 170)
		b := a + gap.Draw(t, "ab")
		c := b + gap.Draw(t, "bc")
		got, r, ok := ArcThrough(on(center, radius, a), on(center, radius, b), on(center, radius, c))
		assert.True(t, ok)
		near(t, center, got, 1e-7)
		assert.InDelta(t, radius, r, 1e-7)
	})
}

func TestSweepAndInArc(t *testing.T) {
	for _, c := range []struct{ start, end, want float64 }{
		{0, 90, 90}, {90, 0, 270}, {350, 10, 20}, {10, 350, 340}, {0, 0, 360}, {0, 360, 360}, {45, 45, 360}, {-90, 90, 180}, {-10, 10, 20}, {0, 720, 360},
	} {
		assert.Equal(t, c.want, Sweep(c.start, c.end), "%g to %g", c.start, c.end)
	}
	for _, c := range []struct {
		deg, start, end float64
		want            bool
	}{
		{45, 0, 90, true}, {0, 0, 90, true}, {90, 0, 90, true}, {91, 0, 90, false}, {359, 0, 90, false},
		{0, 350, 10, true}, {360, 350, 10, true}, {355, 350, 10, true}, {-5, 350, 10, true}, {180, 350, 10, false}, {11, 350, 10, false},
		{180, 10, 350, true}, {0, 10, 350, false},
		{0, 0, 360, true}, {123, 0, 360, true}, {123, 77, 77, true}, {-270, 45, 135, true}, {450, 45, 135, true},
	} {
		assert.Equal(t, c.want, InArc(c.deg, c.start, c.end), "%g in %g to %g", c.deg, c.start, c.end)
	}
}

// holds checks a box against points of the curve it should just hold: no
// point outside by more than rounding, each side reached but for what the
// sampling misses.
func holds(t assert.TestingT, b Box, pts []Vec, missed float64) {
	lo, hi := pts[0], pts[0]
	for _, p := range pts {
		lo = Vec{math.Min(lo.X, p.X), math.Min(lo.Y, p.Y)}
		hi = Vec{math.Max(hi.X, p.X), math.Max(hi.Y, p.Y)}
	}
	for _, d := range [4]float64{lo.X - b.Min.X, lo.Y - b.Min.Y, b.Max.X - hi.X, b.Max.Y - hi.Y} {
		assert.GreaterOrEqual(t, d, -1e-9, "the box %v leaves out points between %v and %v", b, lo, hi)
		assert.LessOrEqual(t, d, missed, "the box %v is too large for points between %v and %v", b, lo, hi)
	}
}

func TestArcBoxByHand(t *testing.T) {
	for _, c := range []struct {
		start, end float64
		want       Box
	}{
		{0, 90, Box{Vec{5, 5}, Vec{15, 15}}},
		{90, 0, Box{Vec{-5, -5}, Vec{15, 15}}},
		{0, 180, Box{Vec{-5, 5}, Vec{15, 15}}},
		{-30, 30, Box{Vec{5 + 5*math.Sqrt(3), 0}, Vec{15, 10}}},
		{30, -30, Box{Vec{-5, -5}, Vec{5 + 5*math.Sqrt(3), 15}}},
		{0, 360, Box{Vec{-5, -5}, Vec{15, 15}}},
		{20, 20, Box{Vec{-5, -5}, Vec{15, 15}}},
	} {
		got := ArcBox(Vec{5, 5}, 10, c.start, c.end)
		near(t, c.want.Min, got.Min, 1e-12, "%g to %g", c.start, c.end)
		near(t, c.want.Max, got.Max, 1e-12, "%g to %g", c.start, c.end)
	}
}

func TestArcBoxHoldsItsArc(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		center, radius := point(t, "centre"), rapid.Float64Range(0.1, 200).Draw(t, "radius")
		angle := rapid.Float64Range(-720, 720)
		start, end := angle.Draw(t, "start"), angle.Draw(t, "end")
		turn := math.Mod(end-start, 360)
		if turn <= 0 {
			turn += 360
		}
		const n = 1000
		var pts []Vec
		for i := range n + 1 {
			pts = append(pts, on(center, radius, start+turn*float64(i)/n))
		}
		// Between two samples an arc rises by no more than its sagitta.
		holds(t, ArcBox(center, radius, start, end), pts, radius*(1-math.Cos(math.Pi/n))+1e-9)
	})
}

func TestConicPoints(t *testing.T) {
	a, b, c := Vec{0, 0}, Vec{5, 10}, Vec{10, 0}
	assert.Equal(t, a, Conic(a, b, c, 1.4, 0))
	assert.Equal(t, c, Conic(a, b, c, 1.4, 1))
	// The shoulder lies at w/(1+w) of the way from the chord to the control
	// point (Farin, Curves and Surfaces for CAGD, from memory).
	for _, w := range []float64{0.5, 1, 1.4, 3} {
		near(t, Vec{5, 10 * w / (1 + w)}, Conic(a, b, c, w, 0.5), 1e-12)
	}
	// A quarter of a circle has the weight cos 45 degrees.
	for i := range 11 {
		p := Conic(Vec{1, 0}, Vec{1, 1}, Vec{0, 1}, math.Sqrt2/2, float64(i)/10)
		assert.InDelta(t, 1, math.Hypot(p.X, p.Y), 1e-12)
	}
}

func TestConicBoxHoldsItsCurve(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		// Coordinates on a grid: equal or well apart.
		grid := rapid.Custom(func(t *rapid.T) Vec {
			n := rapid.IntRange(-800, 800)
			return Vec{float64(n.Draw(t, "4x")) / 4, float64(n.Draw(t, "4y")) / 4}
		})
		a, b, c := grid.Draw(t, "a"), grid.Draw(t, "b"), grid.Draw(t, "c")
		w := rapid.Float64Range(0.1, 5).Draw(t, "w")
		const n = 4000
		var pts []Vec
		for i := range n + 1 {
			pts = append(pts, Conic(a, b, c, w, float64(i)/n))
		}
		holds(t, ConicBox(a, b, c, w), pts, 2e-3)
	})
}

func TestConicBoxSymmetric(t *testing.T) {
	got := ConicBox(Vec{0, 0}, Vec{5, 10}, Vec{10, 0}, 1)
	assert.Equal(t, Box{Vec{0, 0}, Vec{10, 5}}, got, "a parabola rises to half of its control point")
	assert.Equal(t, Box{Vec{0, 0}, Vec{10, 0}}, ConicBox(Vec{0, 0}, Vec{5, 0}, Vec{10, 0}, 2), "a flat one")
}

func TestSegmentHitsBox(t *testing.T) {
	box := Box{Vec{0, 0}, Vec{10, 5}}
	for _, c := range []struct {
		a, b Vec
		want bool
		what string
	}{
		{Vec{-5, 2}, Vec{15, 2}, true, "right through"},
		{Vec{5, -5}, Vec{5, 15}, true, "upwards through"},
		{Vec{2, 2}, Vec{3, 3}, true, "inside"},
		{Vec{2, 2}, Vec{2, 2}, true, "a point inside"},
		{Vec{0, 2}, Vec{0, 2}, false, "a point on the edge"},
		{Vec{-5, 2}, Vec{2, 2}, true, "into it"},
		{Vec{-5, 2}, Vec{0, 2}, false, "up to it"},
		{Vec{-5, 0}, Vec{15, 0}, false, "along an edge"},
		{Vec{0, -5}, Vec{0, 15}, false, "along a side"},
		{Vec{-5, 7}, Vec{15, 7}, false, "past it"},
		{Vec{-5, 5}, Vec{5, -5}, false, "through a corner only"},
		{Vec{-1, 3}, Vec{3, 7}, true, "across a corner"},
		{Vec{-1, 5}, Vec{3, 9}, false, "past a corner"},
		{Vec{0, 0}, Vec{10, 5}, true, "along the diagonal"},
		{Vec{20, 2}, Vec{30, 2}, false, "beyond"},
	} {
		assert.Equal(t, c.want, SegmentHitsBox(c.a, c.b, box), c.what)
		assert.Equal(t, c.want, SegmentHitsBox(c.b, c.a, box), "%s, backwards", c.what)
	}
}

func TestSegmentHitsBoxSampled(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, q := point(t, "p"), point(t, "q")
		box := Box{Vec{math.Min(p.X, q.X), math.Min(p.Y, q.Y)}, Vec{math.Max(p.X, q.X), math.Max(p.Y, q.Y)}}
		a, b := point(t, "a"), point(t, "b")
		inside := false
		for i := range 1001 {
			k := float64(i) / 1000
			v := Vec{a.X + k*(b.X-a.X), a.Y + k*(b.Y-a.Y)}
			inside = inside || v.X > box.Min.X+1e-9 && v.X < box.Max.X-1e-9 && v.Y > box.Min.Y+1e-9 && v.Y < box.Max.Y-1e-9
		}
		if inside {
			assert.True(t, SegmentHitsBox(a, b, box))
		}
		far := math.Max(math.Hypot(box.Max.X-box.Min.X, box.Max.Y-box.Min.Y), 1)
		away := Vec{box.Max.X + far, 0}
		assert.False(t, SegmentHitsBox(Vec{away.X, a.Y}, Vec{away.X, b.Y}, box), "beside the box")
	})
}

func TestCross(t *testing.T) {
	for _, c := range []struct {
		a, b, c, d Vec
		want       bool
		what       string
	}{
		{Vec{0, 0}, Vec{10, 10}, Vec{0, 10}, Vec{10, 0}, true, "diagonals"},
		{Vec{0, 0}, Vec{10, 0}, Vec{5, 0}, Vec{5, 10}, false, "a T"},
		{Vec{0, 0}, Vec{10, 0}, Vec{10, 0}, Vec{10, 10}, false, "an L"},
		{Vec{0, 0}, Vec{10, 0}, Vec{0, 1}, Vec{10, 1}, false, "parallels"},
		{Vec{0, 0}, Vec{10, 0}, Vec{5, 0}, Vec{15, 0}, false, "on one line"},
		{Vec{0, 0}, Vec{10, 0}, Vec{12, -1}, Vec{12, 1}, false, "past the end"},
		{Vec{0, 0}, Vec{10, 0}, Vec{9, -1}, Vec{9, 1}, true, "near the end"},
	} {
		for _, s := range [][4]Vec{{c.a, c.b, c.c, c.d}, {c.b, c.a, c.c, c.d}, {c.c, c.d, c.a, c.b}} {
			assert.Equal(t, c.want, Cross(s[0], s[1], s[2], s[3]), c.what)
		}
	}
}

func ExampleArcThrough() {
	c, r, ok := ArcThrough(Vec{0, 0}, Vec{3, 0}, Vec{0, 4})
	fmt.Println(c, r, ok)
	// Output: {1.5 2} 2.5 true
}
