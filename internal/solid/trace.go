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

// A Piece is a part of a curve, from S0 to S1 of its parameter, that is seen or
// hidden. Of a closed curve S0 may be negative. Its points are in the picture.
type Piece struct {
	S0, S1  float64
	Visible bool

	c *pcurve
	t *tracer
}

// Trace returns what is seen of the edges and silhouettes of the solids and of
// further curves that lie on no solid, and what of them is hidden. hidden asks
// for the hidden pieces too.
func Trace(solids []Solid, extra []Curve, f Frame, hidden bool) []Piece {
	return (&tracer{f: f, k: f.Right.Len(), hidden: hidden}).run(solids, extra)
}

func (t *tracer) run(solids []Solid, extra []Curve) []Piece {
	t.reserve(solids, extra)
	for i := range solids {
		t.solid(&solids[i])
	}
	for i := range extra {
		c := &extra[i]
		t.put(pcurve{Curve: t.curve(c), owner: -1, hole: -1, away: true})
	}
	t.out = make([]Piece, 0, len(t.curves))
	for i := range t.curves {
		if c := &t.curves[i]; !c.undraw {
			t.trace(c)
		}
	}
	return t.out
}

// reserve makes room for what the solids need, so that it need not grow.
func (t *tracer) reserve(solids []Solid, extra []Curve) {
	var bodies, flats, quads, profs, sides, curves, free int
	var count func(s *Solid)
	count = func(s *Solid) {
		bodies++
		switch s.sort {
		case coneSort, ballSort:
			flats, quads, curves = flats+2, quads+1, curves+4
		case prismSort:
			flats, quads, curves = flats+2+s.n, quads+2, curves+3*s.n+6
		case profileSort:
			n := 0
			for _, l := range s.loops {
				n += len(l)
			}
			flats, quads, profs, sides, curves = flats+2+n, quads+n/2, profs+1, sides+n, curves+3*n+4
		case ringSort:
			curves, free = curves+4, free+4
		}
		curves, free = curves+len(s.more), free+freeIn(s.more)
		for i := range s.holes {
			count(&s.holes[i])
		}
	}
	for i := range solids {
		count(&solids[i])
	}
	if !t.hidden && !t.plain { // edges between faces that turn away are left out
		curves -= curves / 3
	}
	t.bodies = roomFor(t.room.bodies[:0], bodies)
	t.flats = roomFor(t.room.flats[:0], flats)
	t.quads = roomFor(t.room.quads[:0], quads)
	t.profs = make([]profile, 0, profs)
	t.sides = make([]side, 0, sides)
	t.curves = make([]pcurve, 0, curves+len(extra))
	if free += freeIn(extra); free > 0 {
		t.points = make([]Vec, 0, (free+1)*(fewStretches+1))
		t.knots = make([]knot, 0, 8*free)
	}
	t.conics = t.room.conics[:0]
	t.cuts, t.angle, t.near = t.room.cuts[:0], t.room.angle[:0], t.room.near[:0]
	for i := range t.beside {
		t.beside[i], t.spans[i] = t.room.beside[i][:0], t.room.spans[i][:0]
	}
}

// roomFor returns the empty list s, or another one that has room for n.
func roomFor[T any](s []T, n int) []T {
	if n > cap(s) {
		return make([]T, 0, n)
	}
	return s
}

func freeIn(curves []Curve) int {
	n := 0
	for i := range curves {
		if curves[i].Shape == Free {
			n++
		}
	}
	return n
}

type state uint8

const (
	absent state = iota
	covered
	seen
)

// trace cuts a curve where it appears, disappears or ends, and keeps its
// pieces.
func (t *tracer) trace(c *pcurve) {
	if c.Mark&NotAlong != 0 && c.Shape == Circular && math.Abs(c.A.X*c.B.Y-c.A.Y*c.B.X) > (1-1e-9)*c.A.Len()*c.B.Len() {
		return
	}
	if c.Mark&Buried != 0 {
		if t.hidden {
			t.keep(c, 0, 1, covered)
		}
		return
	}
	if c.own == behind && !t.hidden {
		return
	}
	t.gather(c)
	if len(t.near) == 0 && len(t.beside[0]) == 0 { // nothing can hide it or swallow it
		is := seen
		if c.own == behind {
			is = covered
		}
		t.keep(c, 0, 1, is)
		return
	}
	if !t.hidden && !t.plain && t.lost(c) {
		return
	}
	t.cut(c)
	if c.Shape == Free {
		for _, s := range t.cuts {
			t.knots = append(t.knots, knot{c, s})
		}
	}
	const least = 1e-10
	at := 0.0
	start, last := 0.0, absent
	first := -1 // of the pieces of this curve
	begun := len(t.out)
	firstState := absent
	for i := 1; i < len(t.cuts); i++ {
		next := t.cuts[i]
		if next-at < least && next < 1 {
			continue
		}
		if next-at < least {
			break
		}
		// Not halfway, where a curve may touch something by symmetry.
		now := t.state(c, t.at(c, at+0.382*(next-at)))
		if first < 0 {
			first, last, firstState = i, now, now
		}
		if now != last {
			t.keep(c, start, at, last)
			start, last = at, now
		}
		at = next
	}
	if start > 0 && (c.closed() || c.loop) && last == firstState && begun < len(t.out) && t.out[begun].S0 == 0 {
		t.out[begun].S0 = start - 1 // one piece with the first
		return
	}
	t.keep(c, start, 1, last)
}

// keep keeps a piece of a curve, where a drawing of this kind shows it.
func (t *tracer) keep(c *pcurve, s0, s1 float64, is state) {
	if s1-s0 < 1e-9 || is == absent || is == covered && (!t.hidden || c.Mark&VisibleOnly != 0) {
		return
	}
	t.out = append(t.out, Piece{s0, s1, is == seen, c, t})
}

// gather finds the bodies that can hide or swallow a curve.
func (t *tracer) gather(c *pcurve) {
	t.near, t.beside[0], t.beside[1] = t.near[:0], t.beside[0][:0], t.beside[1][:0]
	upright, level := c.hi.X-c.lo.X < near, c.hi.Y-c.lo.Y < near
	t.aside = Vec{}
	if c.Shape != Free {
		switch {
		case upright && !level:
			t.aside = Vec{X: seam}
		case level && !upright:
			t.aside = Vec{Y: seam}
		}
	}
	t.simple = c.owner >= 0 && !t.plain && t.simply(c)
	for i := range t.bodies {
		b := &t.bodies[i]
		own := int32(i) == c.owner
		switch {
		case b.hole: // counted with its body
			continue
		case own && t.simple && c.own != inDoubt:
			continue
		case own:
			if c.own == inDoubt {
				t.touching(c, b, int32(i))
			}
		case b.hi.Z < c.lo.Z+near && c.Shape != Free: // behind it
			continue
		case b.hi.X < c.lo.X+near || b.lo.X > c.hi.X-near || b.hi.Y < c.lo.Y+near || b.lo.Y > c.hi.Y-near:
			t.touching(c, b, int32(i))
			continue
		}
		t.near = append(t.near, int32(i))
	}
	if len(t.beside[0]) == 0 || len(t.beside[1]) == 0 {
		t.beside[0], t.beside[1] = t.beside[0][:0], t.beside[1][:0]
	}
}

// lost reports whether a convex body hides or swallows all of a curve, so that
// nothing of it is seen. What is below such a body is convex as well: it is
// enough that the corners of a figure about the curve are.
func (t *tracer) lost(c *pcurve) bool {
	var room [8]Vec
	hull := c.hull(room[:0])
	for _, j := range t.near {
		b := &t.bodies[j]
		if b.sort > prismSort || b.hi.Z < c.hi.Z || j == c.owner && c.own == clear {
			continue
		}
		// What of the body is nearer than its holes is convex, too.
		front := t.holesUpTo(b, c)
		below := true
		for _, p := range hull {
			if lo, hi := t.spanOf(b, p, tiny); lo >= hi || hi < 2*near || p.Z+hi < front+2*near {
				below = false
				break
			}
		}
		if below {
			return true
		}
	}
	return false
}

// holesUpTo returns how near to the viewer the holes of a body come where a
// curve is in the picture.
func (t *tracer) holesUpTo(b *body, c *pcurve) float64 {
	z := math.Inf(-1)
	for h := b.holes.from; h < b.holes.to; h++ {
		if o := &t.bodies[h]; c.lo.X < o.hi.X+near && o.lo.X < c.hi.X+near && c.lo.Y < o.hi.Y+near && o.lo.Y < c.hi.Y+near {
			z = max(z, o.hi.Z)
		}
	}
	return z
}

// hull appends the corners of a figure about a curve.
func (c *pcurve) hull(ps []Vec) []Vec {
	switch c.Shape {
	case Straight:
		return append(ps, c.A, c.B)
	case Rational:
		return append(ps, c.A, c.C, c.B)
	case Circular:
		if c.T1-c.T0 < 170 { // the ends, and where their tangents meet
			p, q := c.At(0), c.At(1)
			k := math.Cos((c.T1 - c.T0) / 2 / toDegrees)
			return append(ps, p, c.C.Add(c.At(0.5).Sub(c.C).Mul(1/k)), q)
		}
		for i := range 4 {
			u, v := c.A, c.B
			if i&1 != 0 {
				u = u.Mul(-1)
			}
			if i&2 != 0 {
				v = v.Mul(-1)
			}
			ps = append(ps, c.C.Add(u).Add(v))
		}
		return ps
	}
	for i := range 8 {
		p := c.lo
		if i&1 != 0 {
			p.X = c.hi.X
		}
		if i&2 != 0 {
			p.Y = c.hi.Y
		}
		if i&4 != 0 {
			p.Z = c.hi.Z
		}
		ps = append(ps, p)
	}
	return ps
}

// simply reports whether a curve is an edge that its own body hides where its
// faces turn away, and nowhere else: one of a convex body, away from its holes,
// since who goes into such a body from a point of its surface does so at once;
// or one that the body is known not to hide.
func (t *tracer) simply(c *pcurve) bool {
	b := &t.bodies[c.owner]
	if !c.made || c.hole >= 0 || !b.convex && c.own != clear {
		return false
	}
	for h := b.holes.from; h < b.holes.to; h++ {
		if o := &t.bodies[h]; touch(c.lo, c.hi, o.lo, o.hi) && !(o.sort == coneSort && t.around(c, o)) {
			return false
		}
	}
	return true
}

// around reports whether a curve is farther from the axis of a cone or cylinder
// than that is wide: it goes round it without touching.
func (t *tracer) around(c *pcurve, b *body) bool {
	q := &t.quads[b.quads.from]
	least := b.wide + near
	off := func(p Vec) plane.Vec { return plane.Vec{X: q.l[0].at(p), Y: q.l[1].at(p)} }
	clearOf := func(p, q plane.Vec) bool { // the nearest point between two
		dx, dy := q.X-p.X, q.Y-p.Y
		k := 0.0
		if l := dx*dx + dy*dy; l > 0 {
			k = max(0, min(1, -(p.X*dx+p.Y*dy)/l))
		}
		x, y := p.X+k*dx, p.Y+k*dy
		return x*x+y*y > least*least
	}
	switch c.Shape {
	case Straight:
		return clearOf(off(c.A), off(c.B))
	case Rational: // within the triangle of its control points, which the axis does not run through
		a, m, z := off(c.A), off(c.C), off(c.B)
		flat := math.Abs((m.X-a.X)*(z.Y-a.Y)-(m.Y-a.Y)*(z.X-a.X)) < near
		return flat && clearOf(a, m) && clearOf(m, z)
	case Circular: // about the same axis
		o, u, v := off(c.C), plane.Vec{X: q.l[0].dir(c.A), Y: q.l[1].dir(c.A)}, plane.Vec{X: q.l[0].dir(c.B), Y: q.l[1].dir(c.B)}
		uu, vv := u.X*u.X+u.Y*u.Y, v.X*v.X+v.Y*v.Y
		return o.X*o.X+o.Y*o.Y < near*near && math.Abs(uu-vv) < near && math.Abs(u.X*v.X+u.Y*v.Y) < near && uu > least*least
	}
	return false
}

// seam is how far to either side of a line bodies are looked for that meet in
// it (mm).
const seam = 1e-6

// groove is more than there is of a body above a point that is a seam from the
// bottom of a groove in it, such as that between two chamfers (mm).
const groove = 1e-3

// touching keeps a body beside which a straight line lies in the picture, its
// lower or its upper side.
func (t *tracer) touching(c *pcurve, b *body, i int32) {
	lo, hi := b.lo, b.hi
	clo, chi := c.lo, c.hi
	switch {
	case t.aside.X != 0:
	case t.aside.Y != 0: // as if turned
		lo.X, lo.Y, hi.X, hi.Y, clo.X, clo.Y, chi.X, chi.Y = lo.Y, lo.X, hi.Y, hi.X, clo.Y, clo.X, chi.Y, chi.X
	default:
		return
	}
	if hi.Y < clo.Y+near || lo.Y > chi.Y-near {
		return
	}
	if math.Abs(hi.X-clo.X) < near {
		t.beside[0] = append(t.beside[0], i)
	} else if math.Abs(lo.X-chi.X) < near {
		t.beside[1] = append(t.beside[1], i)
	}
}

// closed says what the bodies that meet in the line of a curve make of a point
// of it: seen, unless there is one on either side.
func (t *tracer) closed(p Vec) state {
	if len(t.beside[0]) == 0 {
		return seen
	}
	is := absent
	for i, list := range t.beside {
		q := p.Add(t.aside.Mul(float64(2*i - 1)))
		side := seen
		for _, j := range list {
			for _, m := range t.material(&t.bodies[j], q) {
				switch {
				case m.to < groove:
				case m.from <= 0:
					side = min(side, absent)
				default:
					side = min(side, covered)
				}
			}
		}
		is = max(is, side)
	}
	return is
}

// state says what a point of a curve is.
func (t *tracer) state(c *pcurve, p Vec) state {
	if c.owner >= 0 && !t.simple {
		b := &t.bodies[c.owner]
		if !(c.made && c.hole < 0) && !t.contains(b, p, -near) {
			return absent
		}
		for h := b.holes.from; h < b.holes.to; h++ {
			if h == c.hole {
				if !c.made && !t.contains(&t.bodies[h], p, -near) {
					return absent
				}
			} else if t.contains(&t.bodies[h], p, tiny) {
				return absent
			}
		}
	}
	is := seen
	if c.own == behind {
		is = covered
	}
	for _, j := range t.near {
		b := &t.bodies[j]
		own := j == c.owner
		if own && c.own != inDoubt || p.X < b.lo.X-near || p.X > b.hi.X+near || p.Y < b.lo.Y-near || p.Y > b.hi.Y+near {
			continue
		}
		inside, over := t.above(b, p)
		if inside && !own {
			if c.Mark&Within == 0 {
				return absent
			}
			continue
		}
		if over {
			is = covered
		}
	}
	return min(is, t.closed(p))
}

// contains reports whether p is inside by the margin, holes left aside.
func (t *tracer) contains(b *body, p Vec, margin float64) bool {
	switch b.sort {
	case profileSort:
		pr := &t.profs[b.shape]
		q := p.Sub(pr.o)
		if w := q.Dot(pr.n); w < pr.from+margin || w > pr.to-margin {
			return false
		}
		return t.inside(pr, plane.Vec{X: q.Dot(pr.x), Y: q.Dot(pr.y)}, margin)
	case ringSort:
		return t.rings[b.shape].distance(p) <= -margin
	}
	for i := b.flats.from; i < b.flats.to; i++ {
		if t.flats[i].at(p) > -margin {
			return false
		}
	}
	for i := b.quads.from; i < b.quads.to; i++ {
		if !t.quads[i].contains(p, margin) {
			return false
		}
	}
	return true
}

// above reports whether p is in the material of a body, and whether some of
// that is between p and the viewer.
func (t *tracer) above(b *body, p Vec) (inside, over bool) {
	if b.sort <= prismSort && !b.holed {
		lo, hi := t.spanOf(b, p, tiny)
		return lo <= 0 && hi >= 0 && lo < hi, hi-math.Max(lo, near) > near
	}
	m := t.material(b, p)
	for _, s := range m {
		inside = inside || s.from <= 0 && s.to >= 0
		over = over || s.to-math.Max(s.from, near) > near
	}
	return inside, over
}

// spanOf returns where the line through p along z is inside a convex body.
func (t *tracer) spanOf(b *body, p Vec, margin float64) (lo, hi float64) {
	lo, hi = math.Inf(-1), math.Inf(1)
	for i := b.flats.from; i < b.flats.to; i++ {
		l := &t.flats[i]
		c, v := l.at(p)+margin, l.n.Z // c + z v <= 0
		switch {
		case v > 1e-13:
			hi = min(hi, -c/v)
		case v < -1e-13:
			lo = max(lo, -c/v)
		case c > 0:
			return 1, -1
		}
	}
	for i := b.quads.from; i < b.quads.to && lo < hi; i++ {
		l, h := t.quads[i].span(p, margin)
		lo, hi = max(lo, l), min(hi, h)
	}
	return lo, hi
}

// spansOf appends where the line through p along z is inside a body, its holes
// left aside.
func (t *tracer) spansOf(out []stretch, b *body, p Vec, margin float64) []stretch {
	switch b.sort {
	case profileSort:
		return t.spansOfProfile(out, &t.profs[b.shape], p, margin)
	case ringSort:
		return t.rings[b.shape].spans(out, p, margin)
	}
	if lo, hi := t.spanOf(b, p, margin); lo < hi {
		out = append(out, stretch{lo, hi})
	}
	return out
}

// material returns where the line through p along z is in the material of a
// body.
func (t *tracer) material(b *body, p Vec) []stretch {
	out := t.spansOf(t.spans[0][:0], b, p, tiny)
	for h := b.holes.from; h < b.holes.to && len(out) > 0; h++ {
		hole := &t.bodies[h]
		if p.X < hole.lo.X-near || p.X > hole.hi.X+near || p.Y < hole.lo.Y-near || p.Y > hole.hi.Y+near {
			continue
		}
		t.spans[1] = t.spansOf(t.spans[1][:0], hole, p, -tiny)
		for _, e := range t.spans[1] {
			n := len(out)
			for i := 0; i < n; i++ {
				m := out[i]
				if e.to <= m.from || e.from >= m.to {
					continue
				}
				if e.from > m.from && e.to < m.to { // in two
					out = append(out, stretch{e.to, m.to})
					out[i].to = e.from
				} else if e.from > m.from {
					out[i].to = e.from
				} else if e.to < m.to {
					out[i].from = e.to
				} else {
					out[i].to = math.Inf(-1) // nothing left
				}
			}
		}
	}
	t.spans[0] = out
	return out
}

// Shape returns what the curve of the piece is.
func (p *Piece) Shape() Shape { return p.c.Shape }

// Mark returns the marks of the curve of the piece.
func (p *Piece) Mark() Mark { return p.c.Mark }

func (t *tracer) flat(v Vec) plane.Vec { return plane.Vec{X: v.X * t.k, Y: v.Y * t.k} }

func (p *Piece) inner(s float64) float64 { return p.S0 + s*(p.S1-p.S0) }

// Flat returns the point of the piece at s, from 0 to 1, in the picture.
func (p *Piece) Flat(s float64) plane.Vec { return p.t.flat(p.t.at(p.c, p.inner(s))) }

// At returns the point of the piece at s, from 0 to 1, in space.
func (p *Piece) At(s float64) Vec { return p.t.from(p.t.at(p.c, p.inner(s))) }

// Part returns the part of the piece from a to b, both from 0 to 1.
func (p *Piece) Part(a, b float64) Piece {
	q := *p
	q.S0, q.S1 = p.inner(a), p.inner(b)
	return q
}

// Knots appends places of a free piece, from 0 to 1 and its ends among them,
// where other curves may touch it.
func (p *Piece) Knots(out []float64) []float64 {
	const apart = 1e-5
	out = append(out, 0, 1)
	for _, k := range p.t.knots {
		if k.c != p.c {
			continue
		}
		for _, turn := range [2]float64{0, 1} { // of a closed curve
			if s := (k.s - turn - p.S0) / (p.S1 - p.S0); s > apart && s < 1-apart {
				out = append(out, s)
			}
		}
	}
	insertionSort(out)
	return slices.CompactFunc(out, func(a, b float64) bool { return math.Abs(b-a) < apart })
}

// Ellipse returns what a circular piece is in the picture: the points
// c + u cos t + v sin t from t0 to t1 degrees.
func (p *Piece) Ellipse() (c, u, v plane.Vec, t0, t1 float64) {
	sweep := p.c.T1 - p.c.T0
	return p.t.flat(p.c.C), p.t.flat(p.c.A), p.t.flat(p.c.B), p.c.T0 + p.S0*sweep, p.c.T0 + p.S1*sweep
}

// Conic returns what a rational piece is in the picture: its control points
// and the weight of the middle one. whole says that it is all of its curve.
func (p *Piece) Conic() (a, m, b plane.Vec, w float64, whole bool) {
	part := p.c.Part(p.S0, p.S1)
	return p.t.flat(part.A), p.t.flat(part.C), p.t.flat(part.B), part.W, p.S0 == 0 && p.S1 == 1
}

// Middle returns the point in the middle of the curve that a piece is a part
// of, in the picture, and whether it lies between the ends of the piece.
func (p *Piece) Middle() (plane.Vec, bool) {
	return p.t.flat(p.t.at(p.c, 0.5)), p.S0 < 0.5 && p.S1 > 0.5
}
