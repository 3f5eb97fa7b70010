package solid

import (
	"cmp"
	"math"
	"slices"
	"testing"

	"boltplate/internal/plane"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// TestIsometricFrame checks ISO 5456-3: axes at 120 degrees to each other in
// the picture, lengths along them true; a circle on a face across an axis is
// an ellipse with the axes 1.2247 and 0.7071 of its diameter.
func TestIsometricFrame(t *testing.T) {
	for _, f := range []Frame{IsometricFromHead(), IsometricFromPoint()} {
		var axes []plane.Vec
		for _, a := range []Vec{xAxis, yAxis, zAxis} {
			p := f.Flat(a)
			assert.InDelta(t, 1, math.Hypot(p.X, p.Y), 1e-12)
			axes = append(axes, p)
		}
		for i, a := range axes {
			b := axes[(i+1)%3]
			assert.InDelta(t, 0.5, math.Abs(a.X*b.X+a.Y*b.Y), 1e-12, "60 or 120 degrees")
		}
		assert.InDelta(t, 0, f.Right.Dot(f.Up), 1e-12)
		assert.InDelta(t, 0, f.Right.Dot(f.To), 1e-12)
		assert.InDelta(t, 1, f.To.Len(), 1e-12)
		long, short := 0.0, math.Inf(1)
		c := CircleAt(Vec{}, xAxis, 1)
		for i := range 3600 {
			p := f.Flat(c.At(float64(i) / 3600))
			r := math.Hypot(p.X, p.Y)
			long, short = math.Max(long, r), math.Min(short, r)
		}
		assert.InDelta(t, math.Sqrt(1.5), long, 1e-6)
		assert.InDelta(t, math.Sqrt(0.5), short, 1e-6)
	}
}

// TestSpansOfLines: where lines of known geometry run inside known solids.
func TestSpansOfLines(t *testing.T) {
	x := Vec{1, 0, 0}
	for _, c := range []struct {
		name string
		s    Solid
		p, d Vec
		want [][2]float64
	}{
		{"sphere through the centre", Ball(X(), 0, 5, -5, 5), Vec{-20, 0, 0}, x, [][2]float64{{15, 25}}},
		{"sphere 3 off the centre", Ball(X(), 0, 5, -5, 5), Vec{0, 3, -20}, zAxis, [][2]float64{{16, 24}}},
		{"half a sphere", Ball(X(), 0, 5, -5, 0), Vec{-20, 0, 0}, x, [][2]float64{{15, 20}}},
		{"cylinder across", Cylinder(X(), 5, 0, 10), Vec{4, 0, -20}, zAxis, [][2]float64{{15, 25}}},
		{"cylinder missed", Cylinder(X(), 5, 0, 10), Vec{11, 0, -20}, zAxis, nil},
		{"cone, radius 1 half way", Cone(X(), 0, 2, 10, 0), Vec{5, 0, -20}, zAxis, [][2]float64{{19, 21}}},
		{"cone along its axis", Cone(X(), 0, 2, 10, 0), Vec{-5, 0, 0}, x, [][2]float64{{5, 15}}},
		{"box", Box(Vec{0, -1, -2}, Vec{4, 1, 2}), Vec{1, 0, -9}, zAxis, [][2]float64{{7, 11}}},
		{"tube", Cylinder(X(), 5, 0, 10).Less(Cylinder(X(), 3, 0, 10)), Vec{4, 0, -20}, zAxis, [][2]float64{{15, 17}, {23, 25}}},
		{"ring along a diameter", Torus(Vec{}, zAxis, 10, 2), Vec{-20, 0, 0}, x, [][2]float64{{8, 12}, {28, 32}}},
		{"ring through its hole", Torus(Vec{}, zAxis, 10, 2), Vec{0, 0, -20}, zAxis, nil},
		// Hexagon of 10 across flats, a corner up: 10 between flats along z.
		{"hexagon across flats", Prism(X(), 6, 10, 0, 4, yAxis, Chamfer{}), Vec{2, 0, -20}, zAxis, [][2]float64{{15, 25}}},
		{"hexagon across corners", Prism(X(), 6, 10, 0, 4, yAxis, Chamfer{}), Vec{2, -20, 0}, yAxis, [][2]float64{{20 - 5.773503, 20 + 5.773503}}},
		// A half circle of radius 2 on a 4 x 3 rectangle.
		{"round end", Extrude(Vec{}, xAxis, yAxis, 0, 1, []Vertex{{0, -2, 0}, {3, -2, 1}, {3, 2, 0}, {0, 2, 0}}), Vec{-1, 0, 0.5}, x, [][2]float64{{1, 6}}},
		{"round end, off the middle", Extrude(Vec{}, xAxis, yAxis, 0, 1, []Vertex{{0, -2, 0}, {3, -2, 1}, {3, 2, 0}, {0, 2, 0}}), Vec{-1, 1.2, 0.5}, x, [][2]float64{{1, 5.6}}},
		{"plate with a hole", Extrude(Vec{}, xAxis, yAxis, 0, 1,
			[]Vertex{{-5, -5, 0}, {5, -5, 0}, {5, 5, 0}, {-5, 5, 0}}, []Vertex{{-2, 0, 1}, {2, 0, 1}}), Vec{-9, 0, 0.5}, x, [][2]float64{{4, 7}, {11, 14}}},
	} {
		got := along(c.s, c.p, c.d)
		require.Len(t, got, len(c.want), "%s: %v", c.name, got)
		for i, w := range c.want {
			assert.InDelta(t, w[0], got[i].from, 1e-6, c.name)
			assert.InDelta(t, w[1], got[i].to, 1e-6, c.name)
		}
	}
}

// TestSpansAgreeWithContains: on any line the middle of every stretch is
// inside and the middle of every gap outside.
func TestSpansAgreeWithContains(t *testing.T) {
	solids := []Solid{
		Ball(X(), 0.5, 4, -3, 3), Cone(X(), -3, 1, 4, 3), Cylinder(AcrossZ(1, 0), 3, -2, 2), Torus(Vec{0, 0, 1}, yAxis, 4, 1.5),
		Prism(X(), 6, 6, -2, 3, yAxis, Chamfer{AtStart: true, AtEnd: true, Angle: 30, Circle: 6}),
		Prism(X(), 4, 6, -2, 3, yAxis, Chamfer{}).Less(Cylinder(X(), 2, -2, 3)),
		Extrude(Vec{}, xAxis, yAxis, -1, 2, []Vertex{{-4, -2, 0.3}, {4, -2, -0.4}, {4, 3, 0}, {0, 3, 0.8}, {-4, 2, 0}}, []Vertex{{-1, 0, 1}, {1, 0, 1}}),
	}
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.SampledFrom(solids).Draw(t, "solid")
		f := func(name string) float64 { return rapid.Float64Range(-5, 5).Draw(t, name) }
		p, q := Vec{f("px"), f("py"), f("pz")}, Vec{f("qx"), f("qy"), f("qz")}
		if q.Sub(p).Len() < 0.1 {
			return
		}
		d := q.Sub(p).Unit()
		last := -40.0
		for _, sp := range append(along(s, p, d), stretch{40, 40}) {
			if sp.from-last > 1e-3 {
				assert.False(t, holds(s, p.Add(d.Mul((last+sp.from)/2)), 1e-6), "gap %v to %v", last, sp.from)
			}
			if sp.to-sp.from > 1e-3 {
				assert.True(t, holds(s, p.Add(d.Mul((sp.from+sp.to)/2)), -1e-6), "stretch %v", sp)
			}
			last = sp.to
		}
	})
}

// sceneOf returns a solid as a viewer in the direction to sees it.
func sceneOf(s Solid, to Vec) *tracer {
	up, _ := across(to)
	t := &tracer{f: Looking(to, up), k: 1, hidden: true}
	t.solid(&s)
	return t
}

// along returns where a line runs inside a solid.
func along(s Solid, p, d Vec) []stretch {
	t := sceneOf(s, d)
	m := slices.DeleteFunc(t.material(&t.bodies[0], t.to(p)), func(s stretch) bool { return s.to < s.from })
	slices.SortFunc(m, func(a, b stretch) int { return cmp.Compare(a.from, b.from) })
	return m
}

// holds reports whether a point is in the material by the margin.
func holds(s Solid, p Vec, margin float64) bool {
	t := sceneOf(s, zAxis)
	if !t.contains(&t.bodies[0], t.to(p), margin) {
		return false
	}
	for i := range t.bodies[1:] {
		if t.contains(&t.bodies[i+1], t.to(p), -margin) {
			return false
		}
	}
	return true
}

// TestEdgesLieOnTheirSolids: every edge and silhouette is on the surface, from
// any direction.
func TestEdgesLieOnTheirSolids(t *testing.T) {
	solids := map[string]Solid{
		"cone": Cone(X(), -3, 1, 4, 3), "cap": Ball(X(), 1, 8, -7, 0), "ring": Torus(Vec{0, 0, 1}, zAxis, 4, 1.5),
		"hexagon": Prism(X(), 6, 6, -2, 3, yAxis, Chamfer{AtStart: true, AtEnd: true, Angle: 30, Circle: 6}),
		"profile": Extrude(Vec{}, xAxis, yAxis, -1, 2, []Vertex{{-4, -2, 0.3}, {4, -2, -0.4}, {4, 3, 0}, {0, 3, 0.8}, {-4, 2, 0}}),
	}
	rapid.Check(t, func(t *rapid.T) {
		to := Vec{rapid.Float64Range(-1, 1).Draw(t, "x"), rapid.Float64Range(-1, 1).Draw(t, "y"), rapid.Float64Range(0.1, 1).Draw(t, "z")}.Unit()
		for name, s := range solids {
			sc := sceneOf(s, to)
			for i := range sc.curves {
				c := &sc.curves[i]
				for i := range 9 {
					p := sc.at(c, float64(i)/8)
					assert.False(t, sc.contains(&sc.bodies[0], p, 1e-6), "%s: %v is inside", name, p)
					if c.made {
						assert.True(t, sc.contains(&sc.bodies[0], p, -1e-6), "%s: %v is outside", name, p)
					}
					assert.True(t, p.X > c.lo.X-1e-9 && p.X < c.hi.X+1e-9 && p.Y > c.lo.Y-1e-9 && p.Y < c.hi.Y+1e-9 &&
						p.Z > c.lo.Z-1e-9 && p.Z < c.hi.Z+1e-9, "%s: %v is outside the box", name, p)
					b := &sc.bodies[0]
					if c.made {
						assert.True(t, touch(p, p, b.lo, b.hi), "%s: %v is outside the body's box", name, p)
					}
				}
			}
		}
	})
}

// seenLength adds up what is seen of straight pieces in the picture.
func seenLength(ps []Piece, f Frame, seen bool) float64 {
	sum := 0.0
	for _, p := range ps {
		if p.Visible == seen && p.Shape() == Straight {
			a, b := f.Flat(p.At(0)), f.Flat(p.At(1))
			sum += math.Hypot(b.X-a.X, b.Y-a.Y)
		}
	}
	return sum
}

// TestCube: of a cube in an isometric view nine edges are seen and three are
// hidden.
func TestCube(t *testing.T) {
	ps := Trace([]Solid{Box(Vec{0, 0, 0}, Vec{2, 2, 2})}, nil, IsometricFromHead(), true)
	assert.InDelta(t, 18, seenLength(ps, IsometricFromHead(), true), 1e-6)
	assert.InDelta(t, 6, seenLength(ps, IsometricFromHead(), false), 1e-6)
}

// TestWithout: of a cylinder without its circles only the two lines along it
// are left.
func TestWithout(t *testing.T) {
	body := Cylinder(X(), 3, 0, 10)
	assert.Len(t, Trace([]Solid{body.Without(At(0), At(10))}, nil, IsometricFromHead(), false), 2)
	assert.Len(t, Trace([]Solid{body}, nil, IsometricFromHead(), false), 4, "the solid itself keeps them")
}

// TestPostBehindPlate: a post behind a plate is cut off exactly at the plate's
// edge, and its part inside the plate is no edge at all.
func TestPostBehindPlate(t *testing.T) {
	front := Looking(zAxis, yAxis)
	plate := Box(Vec{0, 0, 0}, Vec{10, 4, 1})
	post := Box(Vec{4, -3, -2}, Vec{6, 7, -1})
	ps := Trace([]Solid{plate, post}, nil, front, false)
	for _, p := range ps {
		for _, s := range []float64{0, 1} {
			if q := front.Flat(p.At(s)); q.X > 3.9 && q.X < 6.1 {
				assert.False(t, q.Y > 1e-6 && q.Y < 4-1e-6, "%v is behind the plate", q)
			}
		}
	}
	through := Box(Vec{4, -3, 0.2}, Vec{6, 7, 0.8})
	for _, p := range Trace([]Solid{plate, through}, nil, front, true) {
		for _, s := range []float64{0.001, 0.5, 0.999} {
			if q := p.At(s); q.X > 3.9 && q.X < 6.1 && q.Z > 0.1 && q.Z < 0.9 {
				assert.False(t, q.Y > 1e-6 && q.Y < 4-1e-6, "%v is inside the plate", q)
			}
		}
	}
}

// TestCylinderInSight: seen from any side, a cylinder shows one end circle
// whole, half of the other, and two lines along it.
func TestCylinderInSight(t *testing.T) {
	f := IsometricFromHead()
	ps := Trace([]Solid{Cylinder(X(), 3, 0, 10)}, nil, f, false)
	turn, lines := 0.0, 0
	for _, p := range ps {
		if p.Shape() == Circular {
			_, _, _, t0, t1 := p.Ellipse()
			turn += t1 - t0
		} else {
			lines++
			a, b := f.Flat(p.At(0)), f.Flat(p.At(1))
			assert.InDelta(t, 10, math.Hypot(b.X-a.X, b.Y-a.Y), 1e-6)
		}
	}
	assert.InDelta(t, 540, turn, 1e-9)
	assert.Equal(t, 2, lines)
}

// TestRingInSight: the outline of a ring is as far from the picture of its
// middle line as its section has radius (the sight is a unit vector; lengths
// in the picture of an isometric view are sqrt(1.5) times as long).
func TestRingInSight(t *testing.T) {
	f := IsometricFromHead()
	for _, c := range Trace([]Solid{Torus(Vec{}, zAxis, 10, 2)}, nil, f, true) {
		for i := range 40 {
			p := c.Flat(float64(i) / 40)
			nearest := math.Inf(1)
			mid := CircleAt(Vec{}, zAxis, 10)
			for k := range 20000 {
				q := f.Flat(mid.At(float64(k) / 20000))
				nearest = math.Min(nearest, math.Hypot(p.X-q.X, p.Y-q.Y))
			}
			assert.LessOrEqual(t, nearest, 2*math.Sqrt(1.5)+1e-4)
		}
	}
}

// TestPartOfACurve: a part of a rational curve runs along the whole.
func TestPartOfACurve(t *testing.T) {
	c := Curve{Shape: Rational, A: Vec{0, 0, 0}, C: Vec{1, 2, 1}, B: Vec{3, 0, 0}, W: 1.4}
	part := c.Part(0.2, 0.7)
	assert.InDelta(t, 0, part.A.Sub(c.At(0.2)).Len(), 1e-12)
	assert.InDelta(t, 0, part.B.Sub(c.At(0.7)).Len(), 1e-12)
	for i := range 9 {
		p := part.At(float64(i) / 8)
		nearest := math.Inf(1)
		for k := range 20001 {
			nearest = math.Min(nearest, p.Sub(c.At(float64(k)/20000)).Len())
		}
		assert.Less(t, nearest, 1e-3)
	}
}

func BenchmarkTrace(b *testing.B) {
	solids := []Solid{
		Prism(X(), 6, 30, -13, 0, yAxis, Chamfer{AtStart: true, Angle: 30, Circle: 30}),
		Cylinder(X(), 10, 0, 88), Cone(X(), 88, 10, 90, 8.5).Without(At(88)),
	}
	for name, f := range map[string]Frame{"front": Looking(zAxis, yAxis), "isometric": IsometricFromHead()} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				Trace(solids, nil, f, false)
			}
		})
	}
}

// TestSection: the curve in which a plane cuts a cone is in the plane and on the
// cone, and runs from one point to the other.
func TestSection(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r0, r1 := rapid.Float64Range(2, 6).Draw(t, "r0"), rapid.Float64Range(2, 6).Draw(t, "r1")
		cone := Cone(X(), 0, r0, 10, r1)
		on := func(name string) Vec {
			x, deg := rapid.Float64Range(0, 10).Draw(t, "x"+name), rapid.Float64Range(-70, 70).Draw(t, "deg"+name)
			s, c := plane.Sincos(deg)
			r := r0 + (r1-r0)*x/10
			return Vec{x, r * c, r * s}
		}
		a, b := on("a"), on("b")
		n := b.Sub(a).Cross(Vec{rapid.Float64Range(-1, 1).Draw(t, "nx"), 1, 0}) // the plane is steep
		if b.Sub(a).Len() < 0.1 || n.Len() < 0.1 {
			return
		}
		n = n.Unit()
		c := cone.Section(a, b, n)
		sc := sceneOf(cone, zAxis)
		q := sc.quads[0]
		for i := range 11 {
			p := c.At(float64(i) / 10)
			v := q.at(sc.to(p))
			assert.InDelta(t, 0, p.Sub(a).Dot(n), 1e-9, "in the plane")
			assert.InDelta(t, 0, v.times(&v), 1e-7, "on the cone: %v", p)
		}
		assert.InDelta(t, 0, c.At(0).Sub(a).Len()+c.At(1).Sub(b).Len(), 1e-9)
	})
}
