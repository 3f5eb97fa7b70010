package solid

import (
	"math"

	"boltplate/internal/plane"
)

// Everything that a view needs is worked out in the coordinates of the
// picture: x to the right, y up, z towards the viewer, so that what hides a
// point is above it along z.

// A body is a solid in the coordinates of the picture, or a hole in one.
type body struct {
	sort   sort
	flats  rng // the planes that bound a convex body, and those of any other
	quads  rng // likewise its cylinders, cones and spheres
	curves rng // its edges and silhouettes, those of its holes after them
	holes  rng // bodies
	lo, hi Vec

	hole   bool // it is one, in another body
	holed  bool // it has holes
	convex bool
	once   bool    // a line of sight meets it in one stretch, holes left aside
	wide   float64 // the largest radius of a cone or cylinder
	shape  int32   // of a profile or a ring: its place in the tracer's list of those
}

// A rng is a stretch of one of the tracer's lists.
type rng struct{ from, to int32 }

// A pcurve is a curve in the coordinates of the picture.
type pcurve struct {
	Curve
	lo, hi Vec
	owner  int32 // the body it is an edge or silhouette of, or -1
	hole   int32 // the hole of it, or -1
	own    view  // what its own body leaves of it
	rim    bool  // what is behind can appear or disappear where it crosses this
	undraw bool  // only there as a rim
	made   bool  // by the constructor: within its body, on the surfaces that bound it
	flat   bool  // seen on its edge: its picture is straight
	loop   bool  // a closed free curve
	away   bool  // a free curve whose points are not in the coordinates of the picture

	n     int32 // of a free curve: how many stretches it is looked at in
	first int32 // of a free curve: where its samples are; of a conic: its form, counted from 1, or 0
}

// A fold is a place of the outline of a ring, known by its first sample, where
// that has a cusp in the picture or crosses itself.
type fold struct {
	first int32
	s     float64
}

// A knot is a place of a free curve where another one may meet it.
type knot struct {
	c *pcurve
	s float64
}

// A view says what a body leaves of its own edge.
type view uint8

const (
	inDoubt view = iota
	clear        // it does not hide it
	behind       // it hides it
)

type tracer struct {
	f      Frame
	k      float64 // how long a millimetre is in the picture
	hidden bool
	plain  bool // no short ways: for the test that compares them with the general one
	bodies []body
	profs  []profile
	sides  []side
	rings  []ring
	flats  []lin
	quads  []quad
	curves []pcurve
	points []Vec // samples of free curves
	knots  []knot
	folds  []fold
	// conics are curves that are conics in the picture: what makes of the
	// picture's coordinates those in which a circle is a unit circle, or the
	// barycentric ones of control points.
	conics []quad
	// near are the bodies that can hide or swallow the curve that is traced.
	near []int32
	// simple says that its own body hides it where its faces turn away, and
	// nowhere else.
	simple bool
	// beside are bodies that touch it from below and from above, or from the
	// left and from the right, and aside is a short way to the upper or right
	// side.
	beside [2][]int32
	aside  Vec
	cuts   []float64
	angle  []float64
	spans  [2][]stretch
	out    []Piece

	// Room for the lists above, which seldom need more.
	room struct {
		bodies [8]body
		flats  [32]lin
		quads  [8]quad
		conics [8]quad
		near   [16]int32
		beside [2][8]int32
		cuts   [48]float64
		angle  [16]float64
		spans  [2][8]stretch
	}
}

// to returns a point or vector in the coordinates of the picture.
func (t *tracer) to(p Vec) Vec {
	return Vec{t.f.Right.Dot(p) / t.k, t.f.Up.Dot(p) / t.k, t.f.To.Dot(p)}
}

// from returns the point whose coordinates in the picture are given.
func (t *tracer) from(p Vec) Vec {
	return t.f.Right.Mul(p.X / t.k).Add(t.f.Up.Mul(p.Y / t.k)).Add(t.f.To.Mul(p.Z))
}

func (t *tracer) curve(c *Curve) Curve {
	out := *c
	switch c.Shape {
	case Straight:
		out.A, out.B = t.to(c.A), t.to(c.B)
	case Circular, Rational:
		out.A, out.B, out.C = t.to(c.A), t.to(c.B), t.to(c.C)
	}
	return out
}

// solid adds a solid with its holes.
func (t *tracer) solid(s *Solid) {
	i := t.body(s)
	b := &t.bodies[i]
	b.curves.from = int32(len(t.curves))
	t.edges(s, i, -1, i)
	if len(s.holes) > 0 {
		first := int32(len(t.bodies))
		for j := range s.holes {
			h := t.body(&s.holes[j])
			t.bodies[h].hole = true
		}
		for j := range s.holes {
			t.edges(&s.holes[j], i, first+int32(j), first+int32(j))
		}
		t.bodies[i].holes = rng{first, first + int32(len(s.holes))}
	}
	t.bodies[i].curves.to = int32(len(t.curves))
}

// body adds what bounds a solid, without its edges.
func (t *tracer) body(s *Solid) int32 {
	b := body{sort: s.sort, convex: s.sort <= prismSort, once: s.sort <= prismSort, holed: len(s.holes) > 0, flats: rng{from: int32(len(t.flats))}, quads: rng{from: int32(len(t.quads))}}
	dir := t.to(s.ax.Dir)
	o0, o1 := t.to(s.ax.at(s.s0)), t.to(s.ax.at(s.s1))
	switch s.sort {
	case coneSort:
		u, v := t.acrossAxis(s)
		k := (s.r1 - s.r0) / (s.s1 - s.s0)
		b.wide = max(s.r0, s.r1)
		t.ends(o0, o1, dir)
		t.quads = append(t.quads, roundAbout(o0, u, v, dir, s.r0, k))
		b.lo, b.hi = disc(o0, dir, s.r0)
		lo, hi := disc(o1, dir, s.r1)
		b.lo, b.hi = extend(b.lo, b.hi, lo, hi)
	case ballSort:
		c := t.to(s.ax.at(s.r0))
		t.ends(o0, o1, dir)
		t.quads = append(t.quads, sphereAt(c, s.r1))
		r := Vec{s.r1, s.r1, s.r1}
		b.lo, b.hi = c.Sub(r), c.Add(r)
		clip(&b.lo, &b.hi, o0, o1, dir)
	case prismSort:
		t.prism(s, &b, o0, o1, dir)
	case profileSort:
		t.profile(s, &b, dir)
	case ringSort:
		c := t.to(s.ax.O)
		b.shape = int32(len(t.rings))
		t.rings = append(t.rings, ring{c: c, a: dir, radius: s.r0, tube: s.r1})
		b.lo, b.hi = disc(c, dir, s.r0)
		r := Vec{s.r1, s.r1, s.r1}
		b.lo, b.hi = b.lo.Sub(r), b.hi.Add(r)
	}
	b.flats.to, b.quads.to = int32(len(t.flats)), int32(len(t.quads))
	t.bodies = append(t.bodies, b)
	return int32(len(t.bodies)) - 1
}

// acrossAxis returns two unit vectors across the axis of a solid.
func (t *tracer) acrossAxis(s *Solid) (u, v Vec) {
	u, v = across(s.ax.Dir)
	return t.to(u), t.to(v)
}

func (t *tracer) ends(o0, o1, dir Vec) {
	t.flats = append(t.flats, planeThrough(o0, dir.Mul(-1)), planeThrough(o1, dir))
}

// disc returns the box about a circle.
func disc(c, a Vec, r float64) (lo, hi Vec) {
	h := Vec{r * reach(a.X), r * reach(a.Y), r * reach(a.Z)}
	return c.Sub(h), c.Add(h)
}

func reach(a float64) float64 { return math.Sqrt(math.Max(0, 1-a*a)) }

func extend(lo, hi, lo2, hi2 Vec) (Vec, Vec) {
	return Vec{min(lo.X, lo2.X), min(lo.Y, lo2.Y), min(lo.Z, lo2.Z)}, Vec{max(hi.X, hi2.X), max(hi.Y, hi2.Y), max(hi.Z, hi2.Z)}
}

// clip cuts a box at the planes through o0 and o1 across dir, where that is
// one of the axes.
func clip(lo, hi *Vec, o0, o1, dir Vec) {
	for i, d := range [3]float64{dir.X, dir.Y, dir.Z} {
		if math.Abs(dir.X)+math.Abs(dir.Y)+math.Abs(dir.Z)-math.Abs(d) > 1e-12 {
			continue
		}
		p := [3][4]*float64{{&lo.X, &hi.X, &o0.X, &o1.X}, {&lo.Y, &hi.Y, &o0.Y, &o1.Y}, {&lo.Z, &hi.Z, &o0.Z, &o1.Z}}[i]
		a, z := *p[2], *p[3]
		if a > z {
			a, z = z, a
		}
		*p[0], *p[1] = max(*p[0], a), min(*p[1], z)
	}
}

func (t *tracer) prism(s *Solid, b *body, o0, o1, dir Vec) {
	t.ends(o0, o1, dir)
	corner := s.r0 / math.Cos(math.Pi/float64(s.n))
	for i := range s.n {
		a := t.to(s.across(float64(i) + 0.5))
		t.flats = append(t.flats, planeThrough(o0.Add(a.Mul(s.r0)), a))
		p := t.to(s.across(float64(i)).Mul(corner))
		lo, hi := extend(o0.Add(p), o0.Add(p), o1.Add(p), o1.Add(p))
		if i == 0 {
			b.lo, b.hi = lo, hi
		}
		b.lo, b.hi = extend(b.lo, b.hi, lo, hi)
	}
	if s.ch.AtStart || s.ch.AtEnd {
		u, v := t.acrossAxis(s)
		k := -1 / math.Tan(s.ch.Angle*math.Pi/180)
		if s.ch.AtStart {
			t.quads = append(t.quads, roundAbout(o0, u, v, dir.Mul(-1), s.ch.Circle/2, k))
		}
		if s.ch.AtEnd {
			t.quads = append(t.quads, roundAbout(o1, u, v, dir, s.ch.Circle/2, k))
		}
	}
}

// across returns the direction of a corner of a prism, or between corners that
// of the middle of a face.
func (s *Solid) across(corner float64) Vec {
	right := s.up.Cross(s.ax.Dir)
	sin, cos := plane.Sincos(360 / float64(s.n) * corner)
	return s.up.Mul(cos).Add(right.Mul(sin))
}
