package solid

import (
	"math"

	"boltplate/internal/plane"
)

// A Solid is a body with its edges, less the holes in it. It is a description:
// Trace works out from it what a view needs.
type Solid struct {
	sort  sort
	ax    Axis
	up    Vec     // of a prism: where a corner is; of a profile: its x direction
	right Vec     // of a profile: its y direction
	s0    float64 // where it begins and ends along the axis
	s1    float64
	r0    float64 // radii there; of a sphere its centre and its radius; of a ring its own and its section's
	r1    float64
	n     int // faces of a prism
	ch    Chamfer
	loops [][]Vertex
	holes []Solid
	more  []Curve
	picks []picked
	ends  [2]endRule
	bare  bool
	// beyond says that no edge counts.
	beyond bool
}

type sort uint8

const (
	coneSort sort = iota
	ballSort
	prismSort
	profileSort
	ringSort
)

// An Axis is a line with a direction of length 1.
type Axis struct{ O, Dir Vec }

// X is the axis of a fastener.
func X() Axis { return Axis{Dir: xAxis} }

// AcrossZ returns the axis through (x, y, 0) towards the viewer of the front
// view, and AcrossY the one through (x, 0, z) upwards.
func AcrossZ(x, y float64) Axis { return Axis{Vec{x, y, 0}, zAxis} }

// AcrossY is described with AcrossZ.
func AcrossY(x, z float64) Axis { return Axis{Vec{x, 0, z}, yAxis} }

func (a Axis) at(s float64) Vec { return a.O.Add(a.Dir.Mul(s)) }

// Cone returns the frustum about an axis with the radius r0 at s0 and r1 at s1
// > s0; equal radii make a cylinder. Its edges are the circles at its ends.
func Cone(ax Axis, s0, r0, s1, r1 float64) Solid {
	return Solid{sort: coneSort, ax: ax, s0: s0, r0: r0, s1: s1, r1: r1}
}

// Cylinder returns the cylinder about an axis from s0 to s1.
func Cylinder(ax Axis, r, s0, s1 float64) Solid { return Cone(ax, s0, r, s1, r) }

// Ball returns the part of a sphere about a point of an axis (at c, radius r)
// from s0 to s1 along the axis. Its edges are the circles where that cuts it.
func Ball(ax Axis, c, r, s0, s1 float64) Solid {
	return Solid{sort: ballSort, ax: ax, r0: c, r1: r, s0: s0, s1: s1}
}

// A Chamfer says which ends of a prism a cone of the given angle to the end
// face cuts, in a circle of the given diameter.
type Chamfer struct {
	AtStart, AtEnd bool
	Angle          float64 // degrees
	Circle         float64 // diameter on the end face, at most across flats
}

// Prism returns the regular prism with n faces about an axis, the given width
// across flats, from s0 to s1 > s0. A corner stands in the direction up, which
// is across the axis.
func Prism(ax Axis, n int, flats, s0, s1 float64, up Vec, ch Chamfer) Solid {
	return Solid{sort: prismSort, ax: ax, n: n, r0: flats / 2, s0: s0, s1: s1, up: up, ch: ch}
}

// A Vertex is a corner of a profile; Bulge bends the side that starts here, as
// that of a polyline does: the tangent of a quarter of the angle it turns
// through, positive counter-clockwise.
type Vertex struct{ X, Y, Bulge float64 }

// Extrude returns a profile between two planes. Its points are o + x X + y Y
// + n N, n from from to to, where N is X cross Y. Its first loop is the
// outline, further ones are holes; a side that turns into the next one without
// a corner leaves no edge there.
func Extrude(o, x, y Vec, from, to float64, loops ...[]Vertex) Solid {
	return Solid{sort: profileSort, ax: Axis{o, x.Cross(y)}, up: x, right: y, s0: from, s1: to, loops: loops}
}

// Box returns the box between two corners.
func Box(lo, hi Vec) Solid {
	return Extrude(Vec{}, xAxis, yAxis, lo.Z, hi.Z, []Vertex{{lo.X, lo.Y, 0}, {hi.X, lo.Y, 0}, {hi.X, hi.Y, 0}, {lo.X, hi.Y, 0}})
}

// Torus returns a ring about the axis through c, of the given radius to the
// middle of its section and radius of the section.
func Torus(c, axis Vec, radius, tube float64) Solid {
	return Solid{sort: ringSort, ax: Axis{c, axis}, r0: radius, r1: tube}
}

// Less returns s with holes in it. The edges of a hole are those of the solid
// that fills it; where its sides meet the outside of s is up to With, unless
// that is at an end of the hole.
func (s Solid) Less(holes ...Solid) Solid {
	s.holes = append(s.holes[:len(s.holes):len(s.holes)], holes...)
	return s
}

// With returns s with further edges, which lie on its surface: those where it
// is cut by its holes, or by other solids.
func (s Solid) With(edges ...Curve) Solid {
	s.more = append(s.more[:len(s.more):len(s.more)], edges...)
	return s
}

// Bare returns s without edges; its silhouettes are still seen.
func (s Solid) Bare() Solid { s.bare = true; return s }

// OpenAt returns s without edges in the plane across its axis at its end s,
// where it runs past what it is cut from or stands on another solid.
func (s Solid) OpenAt(end float64) Solid {
	for i, at := range [2]float64{s.s0, s.s1} {
		if math.Abs(end-at) < onPlane {
			s.ends[i].open = true
		}
	}
	return s
}

// bored reports whether all holes in s are round or prismatic ones about its
// axis, which are clear of its outside.
func (s *Solid) bored() bool {
	for i := range s.holes {
		if h := &s.holes[i]; h.sort > prismSort || h.ax != s.ax {
			return false
		}
	}
	return true
}

// Beyond returns s for a hole that runs past the faces which it cuts, so that
// none of its edges is in the solid: the edges there come by With.
func (s Solid) Beyond() Solid { s.beyond = true; return s }

// A Pick chooses edges of a solid by where they are.
type Pick struct {
	kind   pickKind
	s, to  float64
	normal Vec
	dir    Vec
	along  bool
}

type pickKind uint8

const (
	pickAt pickKind = iota
	pickPlane
	pickBetween
)

// At chooses the edges in the plane across the axis of the solid at s: those
// of its end, where the solid ends there. For a profile s counts from its
// origin in the direction of extrusion.
func At(s float64) Pick { return Pick{kind: pickAt, s: s} }

// InPlane chooses the edges that lie wholly in the plane through p across the
// unit vector normal.
func InPlane(p, normal Vec) Pick { return Pick{kind: pickPlane, s: p.Dot(normal), normal: normal} }

// Along leaves of what was chosen the straight edges in the direction dir, a
// unit vector.
func (p Pick) Along(dir Vec) Pick { p.dir, p.along = dir, true; return p }

// RoundBetween chooses the circles across the X axis strictly between from and
// to.
func RoundBetween(from, to float64) Pick { return Pick{kind: pickBetween, s: from, to: to} }

type picked struct {
	Pick
	mark Mark
	drop bool
}

// Without returns s without the edges that any of the picks chooses. They are
// not drawn; the body is the same.
func (s Solid) Without(picks ...Pick) Solid {
	for _, p := range picks {
		s = s.pick(picked{Pick: p, drop: true})
	}
	return s
}

// Mark returns s with a mark on the edges that p chooses.
func (s Solid) Mark(m Mark, p Pick) Solid { return s.pick(picked{Pick: p, mark: m}) }

func (s Solid) pick(p picked) Solid {
	if p.kind == pickAt && !p.along { // the usual ones without a list
		for i, at := range [2]float64{s.s0, s.s1} {
			if math.Abs(p.s-at) < onPlane {
				s.ends[i].mark |= p.mark
				s.ends[i].drop = s.ends[i].drop || p.drop
				return s
			}
		}
	}
	s.picks = append(s.picks[:len(s.picks):len(s.picks)], p)
	return s
}

// An endRule is what picks at an end of a solid say of its edges there.
type endRule struct {
	mark Mark
	drop bool
	open bool // not even a rim
}

// picksOf returns the marks of an edge, and whether it is left out.
func (s *Solid) picksOf(c *Curve) (m Mark, drop bool) {
	for i, at := range [2]float64{s.s0, s.s1} {
		if r := s.ends[i]; r != (endRule{}) && (&Pick{kind: pickAt, s: at}).chooses(s, c) {
			m |= r.mark
			drop = drop || r.drop
		}
	}
	for i := range s.picks {
		if p := &s.picks[i]; p.chooses(s, c) {
			m |= p.mark
			drop = drop || p.drop
		}
	}
	return m, drop
}

// goes reports whether an edge is in an open end.
func (s *Solid) goes(c *Curve) bool {
	for i, at := range [2]float64{s.s0, s.s1} {
		if s.ends[i].open && (&Pick{kind: pickAt, s: at}).chooses(s, c) {
			return true
		}
	}
	return false
}

func (s *Solid) picky() bool { return len(s.picks) > 0 || s.ends != [2]endRule{} }

const onPlane = 1e-7 // mm

func (p *Pick) chooses(s *Solid, c *Curve) bool {
	normal, at := p.normal, p.s
	switch p.kind {
	case pickAt:
		normal = s.ax.Dir
		at += s.ax.O.Dot(normal)
	case pickBetween:
		return c.Shape == Circular && c.A.X == 0 && c.B.X == 0 && c.C.X > p.s+onPlane && c.C.X < p.to-onPlane
	}
	in := func(v Vec) bool { return math.Abs(v.Dot(normal)-at) < onPlane }
	flat := func(v Vec) bool { return math.Abs(v.Dot(normal)) < onPlane }
	switch c.Shape {
	case Straight:
		if p.along && c.B.Sub(c.A).Unit().Cross(p.dir).Len() > 1e-9 {
			return false
		}
		return in(c.A) && in(c.B)
	case Circular:
		return !p.along && in(c.C) && flat(c.A) && flat(c.B)
	case Rational:
		return !p.along && in(c.A) && in(c.B) && in(c.C)
	}
	return false
}

// A side is a straight or circular side of a profile.
type side struct {
	a, b plane.Vec
	arc  bool
	ccw  bool // an arc that turns left
	c    plane.Vec
	r    float64
	s, e float64 // an arc runs counter-clockwise from s to e
}

func newSide(v, w Vertex) side {
	s := side{a: plane.Vec{X: v.X, Y: v.Y}, b: plane.Vec{X: w.X, Y: w.Y}}
	if v.Bulge == 0 {
		return s
	}
	s.arc, s.ccw = true, v.Bulge > 0
	dx, dy := w.X-v.X, w.Y-v.Y
	k := (1 - v.Bulge*v.Bulge) / (4 * v.Bulge)
	s.c = plane.Vec{X: (v.X+w.X)/2 - dy*k, Y: (v.Y+w.Y)/2 + dx*k}
	s.r = math.Hypot(v.X-s.c.X, v.Y-s.c.Y)
	s.s, s.e = plane.Degrees(v.X-s.c.X, v.Y-s.c.Y), plane.Degrees(w.X-s.c.X, w.Y-s.c.Y)
	if !s.ccw {
		s.s, s.e = s.e, s.s
	}
	return s
}

// direction returns the direction in which the side ends or starts.
func (s *side) direction(end bool) plane.Vec {
	d := plane.Vec{X: s.b.X - s.a.X, Y: s.b.Y - s.a.Y}
	if s.arc {
		p := s.a
		if end {
			p = s.b
		}
		d = plane.Vec{X: -(p.Y - s.c.Y), Y: p.X - s.c.X}
		if !s.ccw {
			d = plane.Vec{X: -d.X, Y: -d.Y}
		}
	}
	l := math.Hypot(d.X, d.Y)
	return plane.Vec{X: d.X / l, Y: d.Y / l}
}

// smooth reports whether a goes over into b without a corner.
func smooth(a, b *side) bool {
	p, q := a.direction(true), b.direction(false)
	return math.Abs(p.X*q.Y-p.Y*q.X) < 1e-6 && p.X*q.X+p.Y*q.Y > 0
}
