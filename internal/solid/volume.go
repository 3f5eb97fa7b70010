package solid

import (
	"math"
	"slices"

	"boltplate/internal/plane"
)

// tiny is how far inside a solid a point must be to count as inside (mm), and
// near how far off a surface it may be and still count as on it.
const (
	tiny = 1e-8
	near = 1e-7
)

// A volume is a set of points.
type volume interface {
	// contains reports whether p is inside by at least margin; a negative
	// margin takes points outside that are as near.
	contains(p Vec, margin float64) bool
	// spans appends the stretches of the line p + t d (d a unit vector) that
	// are inside by the margin.
	spans(out [][2]float64, p, d Vec, margin float64) [][2]float64
	box() (lo, hi Vec)
}

// A bound is one side of a convex body: a plane, a cylinder or cone about an
// axis, or a sphere.
type bound struct {
	kind   boundKind
	o, a   Vec     // a point; the normal or the axis
	r, k   float64 // radius at o, and what it grows by along the axis
	secant float64 // sqrt(1 + k^2): a margin across the cone, as seen across the axis
}

type boundKind uint8

const (
	flatBound boundKind = iota
	roundBound
	sphereBound
)

func planeAt(o, normal Vec) bound { return bound{kind: flatBound, o: o, a: normal} }

func roundAbout(o, a Vec, r, k float64) bound {
	return bound{kind: roundBound, o: o, a: a, r: r, k: k, secant: math.Sqrt(1 + k*k)}
}

func sphereAt(o Vec, r float64) bound { return bound{kind: sphereBound, o: o, r: r} }

func (b *bound) contains(p Vec, margin float64) bool {
	q := p.Sub(b.o)
	switch b.kind {
	case flatBound:
		return q.Dot(b.a) <= -margin
	case sphereBound:
		return q.Len() <= b.r-margin
	}
	s := q.Dot(b.a)
	return q.Sub(b.a.Mul(s)).Len() <= b.r+b.k*s-margin*b.secant
}

// span returns where the line is within the bound; lo > hi for nowhere.
func (b *bound) span(p, d Vec, margin float64) (lo, hi float64) {
	q := p.Sub(b.o)
	inf := math.Inf(1)
	switch b.kind {
	case flatBound:
		c, v := q.Dot(b.a)+margin, d.Dot(b.a) // c + t v <= 0
		switch {
		case math.Abs(v) < 1e-13:
			if c <= 0 {
				return -inf, inf
			}
			return inf, -inf
		case v > 0:
			return -inf, -c / v
		}
		return -c / v, inf
	case sphereBound:
		return quadratic(1, 2*q.Dot(d), q.Dot(q)-(b.r-margin)*(b.r-margin))
	}
	s, ds := q.Dot(b.a), d.Dot(b.a)
	w, dw := q.Sub(b.a.Mul(s)), d.Sub(b.a.Mul(ds))
	r := b.r + b.k*s - margin*b.secant
	kd := b.k * ds
	k2, k1, k0 := dw.Dot(dw)-kd*kd, 2*(w.Dot(dw)-r*kd), w.Dot(w)-r*r
	switch {
	case math.Abs(k2) < 1e-13:
		if math.Abs(k1) < 1e-13 {
			if k0 <= 0 && r >= 0 {
				return -inf, inf
			}
			return inf, -inf
		}
		if k1 > 0 {
			lo, hi = -inf, -k0/k1
		} else {
			lo, hi = -k0/k1, inf
		}
	case k2 > 0:
		lo, hi = quadratic(k2, k1, k0)
	default: // inside both nappes of the cone: keep the one with a radius
		disc := k1*k1 - 4*k2*k0
		if disc < 0 {
			disc = 0
		}
		root := math.Sqrt(disc)
		t0, t1 := (-k1+root)/(2*k2), (-k1-root)/(2*k2)
		if kd > 0 {
			lo, hi = t1, inf
		} else {
			lo, hi = -inf, t0
		}
	}
	if kd > 0 { // radius at least 0
		lo = math.Max(lo, -r/kd)
	} else if kd < 0 {
		hi = math.Min(hi, -r/kd)
	} else if r < 0 {
		return inf, -inf
	}
	return lo, hi
}

// quadratic returns where k2 t^2 + k1 t + k0 <= 0, for k2 > 0.
func quadratic(k2, k1, k0 float64) (lo, hi float64) {
	disc := k1*k1 - 4*k2*k0
	if disc <= 0 {
		return math.Inf(1), math.Inf(-1)
	}
	root := math.Sqrt(disc)
	return (-k1 - root) / (2 * k2), (-k1 + root) / (2 * k2)
}

// A convex body is what all its bounds have in common.
type convex struct {
	bounds []bound
	lo, hi Vec
}

func (c *convex) contains(p Vec, margin float64) bool {
	for i := range c.bounds {
		if !c.bounds[i].contains(p, margin) {
			return false
		}
	}
	return true
}

func (c *convex) spans(out [][2]float64, p, d Vec, margin float64) [][2]float64 {
	lo, hi := math.Inf(-1), math.Inf(1)
	for i := range c.bounds {
		l, h := c.bounds[i].span(p, d, margin)
		lo, hi = math.Max(lo, l), math.Min(hi, h)
		if lo >= hi {
			return out
		}
	}
	return append(out, [2]float64{lo, hi})
}

func (c *convex) box() (lo, hi Vec) { return c.lo, c.hi }

// A Vertex is a corner of a profile; Bulge bends the side that starts here, as
// that of a polyline does: the tangent of a quarter of the angle it turns
// through, positive counter-clockwise.
type Vertex struct{ X, Y, Bulge float64 }

// A side is a straight or circular side of a profile.
type side struct {
	a, b plane.Vec
	arc  bool
	c    plane.Vec
	r    float64
	s, e float64 // counter-clockwise from s to e
	ccw  bool    // the side runs the same way
}

// An extruded profile between two planes.
type extruded struct {
	o, x, y, n Vec
	from, to   float64
	loops      [][]side
	lo2, hi2   plane.Vec
}

func newExtruded(o, x, y Vec, from, to float64, loops [][]Vertex) *extruded {
	e := &extruded{o: o, x: x, y: y, n: x.Cross(y), from: from, to: to,
		lo2: plane.Vec{X: math.Inf(1), Y: math.Inf(1)}, hi2: plane.Vec{X: math.Inf(-1), Y: math.Inf(-1)}}
	for _, l := range loops {
		var sides []side
		for i, v := range l {
			w := l[(i+1)%len(l)]
			s := side{a: plane.Vec{X: v.X, Y: v.Y}, b: plane.Vec{X: w.X, Y: w.Y}}
			if v.Bulge != 0 {
				s.arc, s.ccw = true, v.Bulge > 0
				dx, dy := w.X-v.X, w.Y-v.Y
				k := (1 - v.Bulge*v.Bulge) / (4 * v.Bulge)
				s.c = plane.Vec{X: (v.X+w.X)/2 - dy*k, Y: (v.Y+w.Y)/2 + dx*k}
				s.r = math.Hypot(v.X-s.c.X, v.Y-s.c.Y)
				s.s, s.e = plane.Degrees(v.X-s.c.X, v.Y-s.c.Y), plane.Degrees(w.X-s.c.X, w.Y-s.c.Y)
				if !s.ccw {
					s.s, s.e = s.e, s.s
				}
				box := plane.ArcBox(s.c, s.r, s.s, s.e)
				e.grow(box.Min)
				e.grow(box.Max)
			}
			e.grow(s.a)
			sides = append(sides, s)
		}
		e.loops = append(e.loops, sides)
	}
	return e
}

func (e *extruded) grow(p plane.Vec) {
	e.lo2 = plane.Vec{X: min(e.lo2.X, p.X), Y: min(e.lo2.Y, p.Y)}
	e.hi2 = plane.Vec{X: max(e.hi2.X, p.X), Y: max(e.hi2.Y, p.Y)}
}

func (e *extruded) at(x, y, w float64) Vec {
	return e.o.Add(e.x.Mul(x)).Add(e.y.Mul(y)).Add(e.n.Mul(w))
}

func (e *extruded) box() (lo, hi Vec) {
	lo, hi = Vec{math.Inf(1), math.Inf(1), math.Inf(1)}, Vec{math.Inf(-1), math.Inf(-1), math.Inf(-1)}
	for i := range 8 {
		x, y, w := e.lo2.X, e.lo2.Y, e.from
		if i&1 != 0 {
			x = e.hi2.X
		}
		if i&2 != 0 {
			y = e.hi2.Y
		}
		if i&4 != 0 {
			w = e.to
		}
		lo, hi = extend(lo, hi, e.at(x, y, w))
	}
	return lo, hi
}

func extend(lo, hi, p Vec) (Vec, Vec) {
	return Vec{min(lo.X, p.X), min(lo.Y, p.Y), min(lo.Z, p.Z)}, Vec{max(hi.X, p.X), max(hi.Y, p.Y), max(hi.Z, p.Z)}
}

func (e *extruded) contains(p Vec, margin float64) bool {
	q := p.Sub(e.o)
	w := q.Dot(e.n)
	if w < e.from+margin || w > e.to-margin {
		return false
	}
	return e.inside(plane.Vec{X: q.Dot(e.x), Y: q.Dot(e.y)}, margin)
}

// inside reports whether a point is inside the profile by the margin.
func (e *extruded) inside(p plane.Vec, margin float64) bool {
	if m := math.Abs(margin); p.X < e.lo2.X-m || p.X > e.hi2.X+m || p.Y < e.lo2.Y-m || p.Y > e.hi2.Y+m {
		return false
	}
	in := false
	distance := math.Inf(1)
	for _, l := range e.loops {
		for i := range l {
			distance = math.Min(distance, l[i].distance(p))
			if l[i].crossedRight(p) {
				in = !in
			}
		}
	}
	if in {
		return distance >= margin
	}
	return distance <= -margin
}

func (s *side) distance(p plane.Vec) float64 {
	if s.arc {
		if plane.InArc(plane.Degrees(p.X-s.c.X, p.Y-s.c.Y), s.s, s.e) {
			return math.Abs(math.Hypot(p.X-s.c.X, p.Y-s.c.Y) - s.r)
		}
		return math.Min(math.Hypot(p.X-s.a.X, p.Y-s.a.Y), math.Hypot(p.X-s.b.X, p.Y-s.b.Y))
	}
	dx, dy := s.b.X-s.a.X, s.b.Y-s.a.Y
	t := ((p.X-s.a.X)*dx + (p.Y-s.a.Y)*dy) / (dx*dx + dy*dy)
	t = math.Max(0, math.Min(1, t))
	return math.Hypot(p.X-s.a.X-t*dx, p.Y-s.a.Y-t*dy)
}

// crossedRight reports whether a line from p to the right crosses the side an
// odd number of times. A side holds its lower end and not its upper one.
func (s *side) crossedRight(p plane.Vec) bool {
	if !s.arc {
		if (s.a.Y > p.Y) == (s.b.Y > p.Y) {
			return false
		}
		return s.a.X+(p.Y-s.a.Y)*(s.b.X-s.a.X)/(s.b.Y-s.a.Y) > p.X
	}
	// The arc in pieces that rise or fall all the way.
	odd := false
	from := s.s
	sweep := plane.Sweep(s.s, s.e)
	for done := 0.0; done < sweep-1e-12; {
		next := sweep
		for _, q := range [2]float64{90, 270} {
			if d := plane.Norm(q - s.s); d > done+1e-9 && d < next {
				next = d
			}
		}
		y0, y1 := s.height(from, done, sweep), s.height(s.s+next, next, sweep)
		if (y0 > p.Y) != (y1 > p.Y) {
			h := p.Y - s.c.Y
			w := math.Sqrt(math.Max(0, s.r*s.r-h*h))
			if c := plane.Norm(s.s + (done+next)/2); c > 90 && c < 270 {
				w = -w
			}
			if s.c.X+w > p.X {
				odd = !odd
			}
		}
		done, from = next, s.s+next
	}
	return odd
}

// height returns the y of the arc at an angle; at its ends that of the
// vertices, so that neighbours agree to the last digit.
func (s *side) height(deg, done, sweep float64) float64 {
	first, last := s.a.Y, s.b.Y
	if !s.ccw {
		first, last = last, first
	}
	switch {
	case done == 0:
		return first
	case done >= sweep-1e-12:
		return last
	}
	sin, _ := plane.Sincos(deg)
	return s.c.Y + s.r*sin
}

func (e *extruded) spans(out [][2]float64, p, d Vec, margin float64) [][2]float64 {
	q := p.Sub(e.o)
	p2, d2 := plane.Vec{X: q.Dot(e.x), Y: q.Dot(e.y)}, plane.Vec{X: d.Dot(e.x), Y: d.Dot(e.y)}
	w, dw := q.Dot(e.n), d.Dot(e.n)
	lo, hi := math.Inf(-1), math.Inf(1)
	if math.Abs(dw) < 1e-12 {
		if w < e.from+margin || w > e.to-margin {
			return out
		}
	} else {
		lo, hi = (e.from+margin-w)/dw, (e.to-margin-w)/dw
		if lo > hi {
			lo, hi = hi, lo
		}
	}
	speed := math.Hypot(d2.X, d2.Y)
	if speed < 1e-12 {
		if e.inside(p2, margin) && lo < hi {
			out = append(out, [2]float64{lo, hi})
		}
		return out
	}
	var cuts [24]float64
	ts := cuts[:0]
	for _, l := range e.loops {
		for i := range l {
			ts = l[i].meets(ts, p2, d2)
		}
	}
	slices.Sort(ts)
	for i := 1; i < len(ts); i++ {
		a, b := ts[i-1], ts[i]
		if (b-a)*speed < tiny {
			continue
		}
		m := (a + b) / 2
		if !e.inside(plane.Vec{X: p2.X + m*d2.X, Y: p2.Y + m*d2.Y}, margin) {
			continue
		}
		if a, b = math.Max(a, lo), math.Min(b, hi); a < b {
			if n := len(out); n > 0 && math.Abs(out[n-1][1]-a) < tiny {
				out[n-1][1] = b
			} else {
				out = append(out, [2]float64{a, b})
			}
		}
	}
	return out
}

// meets appends where the line p + t d meets the side.
func (s *side) meets(ts []float64, p, d plane.Vec) []float64 {
	if s.arc {
		k2, k1 := d.X*d.X+d.Y*d.Y, 2*((p.X-s.c.X)*d.X+(p.Y-s.c.Y)*d.Y)
		k0 := (p.X-s.c.X)*(p.X-s.c.X) + (p.Y-s.c.Y)*(p.Y-s.c.Y) - s.r*s.r
		lo, hi := quadratic(k2, k1, k0)
		// A line that touches the arc is cut there as well: what is halfway
		// between two cuts stands for all of it, and must not be on a side.
		if t := -k1 / (2 * k2); math.Abs(math.Hypot(p.X+t*d.X-s.c.X, p.Y+t*d.Y-s.c.Y)-s.r) < near {
			lo, hi = t, t
		}
		if lo > hi {
			return ts
		}
		for _, t := range [2]float64{lo, hi} {
			deg := plane.Degrees(p.X+t*d.X-s.c.X, p.Y+t*d.Y-s.c.Y)
			if plane.Norm(deg-s.s+1e-7) <= plane.Sweep(s.s, s.e)+2e-7 {
				ts = append(ts, t)
			}
		}
		return ts
	}
	ex, ey := s.b.X-s.a.X, s.b.Y-s.a.Y
	det := d.X*ey - d.Y*ex
	if math.Abs(det) < 1e-12 {
		return ts
	}
	t := ((s.a.X-p.X)*ey - (s.a.Y-p.Y)*ex) / det
	u := ((s.a.X-p.X)*d.Y - (s.a.Y-p.Y)*d.X) / det
	if u >= -1e-9 && u <= 1+1e-9 {
		ts = append(ts, t)
	}
	return ts
}

// A torus is a ring of circular section.
type torus struct {
	c, a   Vec // centre and axis
	radius float64
	tube   float64
}

func (t *torus) distance(p Vec) float64 {
	q := p.Sub(t.c)
	h := q.Dot(t.a)
	return math.Hypot(q.Sub(t.a.Mul(h)).Len()-t.radius, h) - t.tube
}

func (t *torus) contains(p Vec, margin float64) bool { return t.distance(p) <= -margin }

func (t *torus) box() (lo, hi Vec) {
	r := t.radius + t.tube
	return t.c.Sub(Vec{r, r, r}), t.c.Add(Vec{r, r, r})
}

// spans solves the equation of the fourth degree in s: (s² + w + R² - r²)² =
// 4 R² (s² + w - h(s)²) about the point of the line that is nearest to the
// centre. Between the points where it turns there is at most one root.
func (t *torus) spans(out [][2]float64, p, d Vec, margin float64) [][2]float64 {
	q := p.Sub(t.c)
	s0 := -q.Dot(d)
	q = q.Add(d.Mul(s0))
	tube := t.tube - margin
	w, h, dh := q.Dot(q), q.Dot(t.a), d.Dot(t.a)
	reach := t.radius + tube
	if w > reach*reach || dh == 0 && math.Abs(h) > tube {
		return out
	}
	end := math.Sqrt(reach*reach*1.0001 - w)
	k, rr := w+t.radius*t.radius-tube*tube, 4*t.radius*t.radius
	c2, c1, c0 := 2*k-rr*(1-dh*dh), 2*rr*h*dh, k*k-rr*(w-h*h)
	f := func(s float64) float64 { return ((s*s+c2)*s+c1)*s + c0 }
	slope := func(s float64) float64 { return (4*s*s+2*c2)*s + c1 }
	bisect := func(f func(float64) float64, a, b float64) float64 {
		up := f(b) > 0
		for range 60 {
			m := (a + b) / 2
			if (f(m) > 0) == up {
				b = m
			} else {
				a = m
			}
		}
		return (a + b) / 2
	}
	var turns [8]float64
	at := append(turns[:0], -end)
	if c2 < 0 {
		b := math.Sqrt(-c2 / 6)
		at = append(at, math.Max(-b, -end), math.Min(b, end))
	}
	at = append(at, end)
	var cuts [8]float64
	cs := append(cuts[:0], -end)
	for i := 1; i < len(at); i++ {
		if a, b := slope(at[i-1]), slope(at[i]); (a < 0) != (b < 0) {
			cs = append(cs, bisect(slope, at[i-1], at[i]))
		}
	}
	cs = append(cs, end)
	start, in := 0.0, false
	for i := 1; i < len(cs); i++ {
		if now := f(cs[i]) < 0; now != in {
			root := bisect(f, cs[i-1], cs[i])
			if now {
				start = root
			} else {
				out = append(out, [2]float64{start + s0, root + s0})
			}
			in = now
		}
	}
	return out
}
