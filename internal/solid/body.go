package solid

import (
	"math"

	"boltplate/internal/plane"
)

// A Solid is a body with its edges, less the holes in it.
type Solid struct {
	vol    volume
	edges  []Curve
	rounds []round
	rings  []*torus
	holes  []Solid
}

// A round is a curved surface that can be the silhouette: a cylinder or cone
// about an axis from s0 to s1, or a sphere.
type round struct {
	sphere bool
	o, a   Vec
	r, k   float64 // radius at o, growth along the axis; the sphere's radius
	s0, s1 float64
	// The part of a cylinder from the direction u counter-clockwise about a,
	// degrees; 0 for all of it.
	u, v  Vec
	sweep float64
}

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
// > s0; equal radii make a cylinder. Its edges are the circles at its ends,
// the first at s0.
func Cone(ax Axis, s0, r0, s1, r1 float64) Solid {
	k := (r1 - r0) / (s1 - s0)
	c := &convex{bounds: []bound{planeAt(ax.at(s0), ax.Dir.Mul(-1)), planeAt(ax.at(s1), ax.Dir), roundAbout(ax.at(s0), ax.Dir, r0, k)}}
	r := math.Max(r0, r1)
	c.boxAbout(ax.at(s0), ax.at(s1), r)
	s := Solid{vol: c, rounds: []round{{o: ax.at(s0), a: ax.Dir, r: r0, k: k, s1: s1 - s0}}}
	for _, e := range [2][2]float64{{s0, r0}, {s1, r1}} {
		if e[1] > 0 {
			s.edges = append(s.edges, CircleAt(ax.at(e[0]), ax.Dir, e[1]))
		}
	}
	return s
}

// Cylinder returns the cylinder about an axis from s0 to s1.
func Cylinder(ax Axis, r, s0, s1 float64) Solid { return Cone(ax, s0, r, s1, r) }

func (c *convex) boxAbout(p, q Vec, r float64) {
	// A little more than needed where the axis is one of the three.
	c.lo, c.hi = extend(p.Sub(Vec{r, r, r}), p.Add(Vec{r, r, r}), q.Sub(Vec{r, r, r}))
	c.lo, c.hi = extend(c.lo, c.hi, q.Add(Vec{r, r, r}))
	for _, b := range c.bounds { // planes across an axis cut it
		if b.kind != flatBound {
			continue
		}
		switch {
		case b.a.X > 1-1e-12:
			c.hi.X = min(c.hi.X, b.o.X)
		case b.a.X < -1+1e-12:
			c.lo.X = max(c.lo.X, b.o.X)
		case b.a.Y > 1-1e-12:
			c.hi.Y = min(c.hi.Y, b.o.Y)
		case b.a.Y < -1+1e-12:
			c.lo.Y = max(c.lo.Y, b.o.Y)
		case b.a.Z > 1-1e-12:
			c.hi.Z = min(c.hi.Z, b.o.Z)
		case b.a.Z < -1+1e-12:
			c.lo.Z = max(c.lo.Z, b.o.Z)
		}
	}
}

// Ball returns the part of a sphere about a point of an axis (at c, radius r)
// from s0 to s1 along the axis. Its edges are the circles where that cuts it.
func Ball(ax Axis, c, r, s0, s1 float64) Solid {
	b := &convex{bounds: []bound{planeAt(ax.at(s0), ax.Dir.Mul(-1)), planeAt(ax.at(s1), ax.Dir), sphereAt(ax.at(c), r)}}
	b.boxAbout(ax.at(c), ax.at(c), r)
	s := Solid{vol: b, rounds: []round{{sphere: true, o: ax.at(c), r: r}}}
	for _, at := range [2]float64{s0, s1} {
		if h := at - c; math.Abs(h) < r*(1-1e-9) {
			s.edges = append(s.edges, CircleAt(ax.at(at), ax.Dir, math.Sqrt(r*r-h*h)))
		}
	}
	return s
}

// A Chamfer says which ends of a prism a cone of the given angle to the end
// face cuts, in a circle of the given diameter.
type Chamfer struct {
	AtStart, AtEnd bool
	Angle          float64 // degrees
	Circle         float64 // diameter on the end face
}

// Prism returns the regular prism with n faces about an axis, the given width
// across flats, from s0 to s1 > s0. A corner stands in the direction up, which
// is across the axis. The chamfer circles are not larger than across flats.
func Prism(ax Axis, n int, flats, s0, s1 float64, up Vec, ch Chamfer) Solid {
	w := flats / 2
	right := up.Cross(ax.Dir)
	dir := func(deg float64) Vec {
		s, c := plane.Sincos(deg)
		return up.Mul(c).Add(right.Mul(s))
	}
	step := 360 / float64(n)
	corner := w / math.Cos(math.Pi/float64(n))
	c := &convex{bounds: []bound{planeAt(ax.at(s0), ax.Dir.Mul(-1)), planeAt(ax.at(s1), ax.Dir)}}
	for i := range n {
		a := dir(step * (float64(i) + 0.5))
		c.bounds = append(c.bounds, planeAt(ax.at(s0).Add(a.Mul(w)), a))
	}
	var s Solid
	t := math.Tan(ch.Angle * math.Pi / 180)
	from, to := s0, s1 // of the edges along the axis
	end := func(at, inward float64, cut bool) float64 {
		if !cut {
			for i := range n {
				p, q := dir(step*float64(i)), dir(step*float64(i+1))
				s.edges = append(s.edges, Segment(ax.at(at).Add(p.Mul(corner)), ax.at(at).Add(q.Mul(corner))))
			}
			return at
		}
		r0 := ch.Circle / 2
		k := -1 / t
		c.bounds = append(c.bounds, roundAbout(ax.at(at), ax.Dir.Mul(-inward), r0, k))
		drop := t * (corner - r0)
		s.rounds = append(s.rounds, round{o: ax.at(at), a: ax.Dir.Mul(-inward), r: r0, k: k, s0: -drop, s1: 0})
		s.edges = append(s.edges, CircleAt(ax.at(at), ax.Dir, r0))
		// The hyperbola on each face, as the curve that has its ends, the
		// tangents there and its vertex.
		half := w * math.Tan(math.Pi/float64(n))
		slope := t * half / corner
		depth := func(u float64) float64 { return t * (math.Hypot(w, u) - r0) }
		meet := depth(half) - half*slope
		weight := (depth(half) - depth(0)) / (depth(0) - meet)
		for i := range n {
			f := dir(step * (float64(i) + 0.5)).Mul(w)
			e := ax.Dir.Cross(f.Unit())
			at3 := func(u, z float64) Vec {
				return ax.at(at).Add(f).Add(e.Mul(u)).Add(ax.Dir.Mul(inward * z))
			}
			s.edges = append(s.edges, Curve{Shape: Rational, A: at3(-half, depth(half)), C: at3(0, meet), B: at3(half, depth(half)), W: weight})
		}
		return at + inward*drop
	}
	from = end(s0, 1, ch.AtStart)
	to = end(s1, -1, ch.AtEnd)
	for i := range n {
		p := dir(step * float64(i)).Mul(corner)
		s.edges = append(s.edges, Segment(ax.at(from).Add(p), ax.at(to).Add(p)))
	}
	c.boxAbout(ax.at(s0), ax.at(s1), corner)
	s.vol = c
	return s
}

// Extrude returns a profile between two planes. Its points are o + x X + y Y
// + n N, n from from to to, where N is X cross Y. Its first loop is the
// outline, further ones are holes; a side that turns into the next one without
// a corner leaves no edge there.
func Extrude(o, x, y Vec, from, to float64, loops ...[]Vertex) Solid {
	e := newExtruded(o, x, y, from, to, loops)
	s := Solid{vol: e}
	for _, l := range e.loops {
		for i := range l {
			sd := &l[i]
			for _, w := range [2]float64{from, to} {
				if !sd.arc {
					s.edges = append(s.edges, Segment(e.at(sd.a.X, sd.a.Y, w), e.at(sd.b.X, sd.b.Y, w)))
					continue
				}
				s.edges = append(s.edges, ArcAt(e.at(sd.c.X, sd.c.Y, w), e.x, e.y, sd.r, sd.s, sd.s+plane.Sweep(sd.s, sd.e)))
			}
			if sd.arc {
				sn, cs := plane.Sincos(sd.s)
				u := e.x.Mul(cs).Add(e.y.Mul(sn))
				s.rounds = append(s.rounds, round{o: e.at(sd.c.X, sd.c.Y, 0), a: e.n, r: sd.r, s0: from, s1: to,
					u: u, v: e.n.Cross(u), sweep: plane.Sweep(sd.s, sd.e)})
			}
			if !smooth(sd, &l[(i+1)%len(l)]) {
				s.edges = append(s.edges, Segment(e.at(sd.b.X, sd.b.Y, from), e.at(sd.b.X, sd.b.Y, to)))
			}
		}
	}
	return s
}

// Box returns the box between two corners.
func Box(lo, hi Vec) Solid {
	return Extrude(Vec{}, xAxis, yAxis, lo.Z, hi.Z, []Vertex{{lo.X, lo.Y, 0}, {hi.X, lo.Y, 0}, {hi.X, hi.Y, 0}, {lo.X, hi.Y, 0}})
}

// smooth reports whether a goes over into b without a corner.
func smooth(a, b *side) bool {
	p, q := a.direction(true), b.direction(false)
	return math.Abs(p.X*q.Y-p.Y*q.X) < 1e-6 && p.X*q.X+p.Y*q.Y > 0
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

// Torus returns a ring about the axis through c, of the given radius to the
// middle of its section and radius of the section.
func Torus(c, axis Vec, radius, tube float64) Solid {
	t := &torus{c: c, a: axis, radius: radius, tube: tube}
	return Solid{vol: t, rings: []*torus{t}}
}

// Less returns s with holes in it. The edges of a hole are those of the solid
// that fills it; where its sides meet the outside of s is up to With.
func (s Solid) Less(holes ...Solid) Solid {
	s.holes = append(s.holes[:len(s.holes):len(s.holes)], holes...)
	return s
}

// With returns s with further edges, which lie on its surface.
func (s Solid) With(edges ...Curve) Solid {
	s.edges = append(s.edges[:len(s.edges):len(s.edges)], edges...)
	return s
}

// Without returns s without the edges with the given numbers, in the order in
// which the constructor lists them.
func (s Solid) Without(numbers ...int) Solid {
	var kept []Curve
next:
	for i, e := range s.edges {
		for _, n := range numbers {
			if i == n {
				continue next
			}
		}
		kept = append(kept, e)
	}
	s.edges = kept
	return s
}

// Keeping returns s with those of its edges that keep reports true for.
func (s Solid) Keeping(keep func(Curve) bool) Solid {
	var kept []Curve
	for _, e := range s.edges {
		if keep(e) {
			kept = append(kept, e)
		}
	}
	s.edges = kept
	return s
}

// Bare returns s without edges; its silhouettes are still seen.
func (s Solid) Bare() Solid { s.edges = nil; return s }

// Mark returns s with a mark on the edges with the given numbers.
func (s Solid) Mark(m Mark, numbers ...int) Solid {
	edges := make([]Curve, len(s.edges))
	copy(edges, s.edges)
	for _, n := range numbers {
		edges[n].Mark |= m
	}
	s.edges = edges
	return s
}

// contains reports whether p is in the material by the margin; a negative
// margin takes what is as near to it.
func (s *Solid) contains(p Vec, margin float64) bool {
	if !s.vol.contains(p, margin) {
		return false
	}
	for i := range s.holes {
		if s.holes[i].contains(p, -margin) {
			return false
		}
	}
	return true
}

// spans appends the stretches of a line inside the material by the margin.
func (s *Solid) spans(out [][2]float64, p, d Vec, margin float64) [][2]float64 {
	n := len(out)
	out = s.vol.spans(out, p, d, margin)
	if len(out) == n || len(s.holes) == 0 {
		return out
	}
	var buf [8][2]float64
	holes := buf[:0]
	for i := range s.holes {
		holes = s.holes[i].spans(holes, p, d, -margin)
	}
	for _, h := range holes {
		var kept [8][2]float64
		k := kept[:0]
		for _, m := range out[n:] {
			if h[1] <= m[0] || h[0] >= m[1] {
				k = append(k, m)
				continue
			}
			if h[0] > m[0] {
				k = append(k, [2]float64{m[0], h[0]})
			}
			if h[1] < m[1] {
				k = append(k, [2]float64{h[1], m[1]})
			}
		}
		out = append(out[:n], k...)
	}
	return out
}
