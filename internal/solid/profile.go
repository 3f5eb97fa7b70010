package solid

import (
	"math"
	"slices"

	"boltplate/internal/plane"
)

// A profile is that of an extruded body: its axes in the coordinates of the
// picture, and its sides.
type profile struct {
	o, x, y, n Vec
	from, to   float64
	sides      rng
	lo, hi     plane.Vec
	sight      plane.Vec // the direction to the viewer in the plane of the profile
	speed      float64   // its length
}

// profile settles a profile and what bounds it.
func (t *tracer) profile(s *Solid, b *body, dir Vec) {
	p := profile{o: t.to(s.ax.O), x: t.to(s.up), y: t.to(s.right), n: dir, from: s.s0, to: s.s1}
	p.sight = plane.Vec{X: p.x.Z, Y: p.y.Z}
	p.speed = math.Hypot(p.sight.X, p.sight.Y)
	p.sides.from = int32(len(t.sides))
	inf := math.Inf(1)
	p.lo, p.hi = plane.Vec{X: inf, Y: inf}, plane.Vec{X: -inf, Y: -inf}
	for _, l := range s.loops {
		for i, v := range l {
			sd := newSide(v, l[(i+1)%len(l)])
			p.grow(sd.a)
			if sd.arc {
				box := plane.ArcBox(sd.c, sd.r, sd.s, sd.e)
				p.grow(box.Min)
				p.grow(box.Max)
			}
			t.sides = append(t.sides, sd)
		}
	}
	p.sides.to = int32(len(t.sides))
	t.flats = append(t.flats, planeThrough(p.at(0, 0, p.from), dir.Mul(-1)), planeThrough(p.at(0, 0, p.to), dir))
	for i := p.sides.from; i < p.sides.to; i++ {
		sd := &t.sides[i]
		if sd.arc {
			t.quads = append(t.quads, roundAbout(p.at(sd.c.X, sd.c.Y, 0), p.x, p.y, p.n, sd.r, 0))
			continue
		}
		d := sd.direction(false)
		t.flats = append(t.flats, planeThrough(p.at(sd.a.X, sd.a.Y, 0), p.x.Mul(d.Y).Sub(p.y.Mul(d.X))))
	}
	b.shape = int32(len(t.profs))
	p.box(b)
	switch convex, straight := t.convex(&p); {
	case len(s.loops) > 1:
		b.once = p.speed < level
	case convex && straight: // its planes are all there is to it
		b.convex, b.once, b.sort = true, true, prismSort
	default:
		b.convex, b.once = convex, convex || p.speed < level || t.monotone(&p)
	}
	t.profs = append(t.profs, p)
}

// convex reports whether a profile of one loop is convex, and whether all its
// sides are straight.
func (t *tracer) convex(p *profile) (convex, straight bool) {
	convex, straight = true, true
	sides := t.sides[p.sides.from:p.sides.to]
	turn := 0.0
	for i := range sides {
		s, next := &sides[i], &sides[(i+1)%len(sides)]
		a, b := s.direction(true), next.direction(false)
		turns := [2]float64{a.X*b.Y - a.Y*b.X, 0}
		if s.arc {
			straight, turns[1] = false, -1
			if s.ccw {
				turns[1] = 1
			}
		}
		for _, k := range turns {
			if math.Abs(k) < 1e-9 {
				continue
			}
			convex = convex && k*turn >= 0
			turn = k
		}
	}
	return convex, straight
}

// monotone reports whether every line of sight meets a profile of one loop in
// one stretch: along its sides the distance to one side of the sight rises once
// and falls once.
func (t *tracer) monotone(p *profile) bool {
	changes, first, last := 0, 0.0, 0.0
	step := func(d plane.Vec) {
		k := d.X*p.sight.Y - d.Y*p.sight.X
		if math.Abs(k) < 1e-9 {
			return
		}
		if last != 0 && k*last < 0 {
			changes++
		}
		if first == 0 {
			first = k
		}
		last = k
	}
	for i := p.sides.from; i < p.sides.to; i++ {
		s := &t.sides[i]
		step(s.direction(false))
		if s.arc { // as it turns, looked at a quarter of a turn at most apart
			sweep := plane.Sweep(s.s, s.e)
			n := math.Ceil(sweep / 60)
			for k := 1.0; k <= n; k++ {
				sin, cos := plane.Sincos(s.s + sweep*k/n)
				if !s.ccw {
					sin, cos = plane.Sincos(s.e - sweep*k/n)
					sin, cos = -sin, -cos
				}
				step(plane.Vec{X: -sin, Y: cos})
			}
		}
	}
	if first*last < 0 {
		changes++
	}
	return changes <= 2
}

func (p *profile) grow(v plane.Vec) {
	p.lo = plane.Vec{X: min(p.lo.X, v.X), Y: min(p.lo.Y, v.Y)}
	p.hi = plane.Vec{X: max(p.hi.X, v.X), Y: max(p.hi.Y, v.Y)}
}

func (p *profile) at(x, y, w float64) Vec {
	return p.o.Add(p.x.Mul(x)).Add(p.y.Mul(y)).Add(p.n.Mul(w))
}

func (p *profile) box(b *body) {
	for i := range 8 {
		x, y, w := p.lo.X, p.lo.Y, p.from
		if i&1 != 0 {
			x = p.hi.X
		}
		if i&2 != 0 {
			y = p.hi.Y
		}
		if i&4 != 0 {
			w = p.to
		}
		v := p.at(x, y, w)
		if i == 0 {
			b.lo, b.hi = v, v
		}
		b.lo, b.hi = extend(b.lo, b.hi, v, v)
	}
}

// profile adds the edges of an extruded body.
func (e *edger) profile(dir Vec, shape int32, start, end facing) {
	t, s := e.t, e.s
	p := &t.profs[t.bodies[shape].shape]
	i := p.sides.from
	for n, l := range s.loops {
		first := i
		area := 0.0
		for k := range l {
			w := l[(k+1)%len(l)]
			area += l[k].X*w.Y - w.X*l[k].Y
			if b := l[k].Bulge; b != 0 { // the segment beside the chord
				sd := &t.sides[first+int32(k)]
				sweep := plane.Sweep(sd.s, sd.e) / toDegrees
				area += math.Copysign(sd.r*sd.r*(sweep-math.Sin(sweep)), b)
			}
		}
		// Outwards is to the right of an outline that turns left.
		out := math.Copysign(1, area)
		if n > 0 {
			out = -out
		}
		for k := range l {
			e.side(p, dir, first+int32(k), first+int32((k+1)%len(l)), out, start, end)
		}
		i += int32(len(l))
	}
}

// side adds the edges of the side i of a profile, and the one where it meets
// the side next.
func (e *edger) side(p *profile, dir Vec, i, next int32, out float64, start, end facing) {
	t, s := e.t, e.s
	sd, nx := t.sides[i], t.sides[next]
	at := func(q plane.Vec, w float64) Vec {
		return s.ax.O.Add(s.up.Mul(q.X)).Add(s.right.Mul(q.Y)).Add(s.ax.Dir.Mul(w))
	}
	// The z of the normal where the side has a direction.
	normal := func(d plane.Vec) facing { return facingOf(out * (d.Y*p.x.Z - d.X*p.y.Z)) }
	f := normal(sd.direction(false))
	if sd.arc {
		f = mixed
		if p.speed < level {
			f = edgeOn
		}
	}
	for k, w := range [2]float64{p.from, p.to} {
		c := Segment(at(sd.a, w), at(sd.b, w))
		if sd.arc {
			c = ArcAt(at(sd.c, w), s.up, s.right, sd.r, sd.s, sd.s+plane.Sweep(sd.s, sd.e))
		}
		e.add(c, [2]facing{start, end}[k], f)
	}
	if sd.arc {
		sin, cos := plane.Sincos(sd.s)
		u := p.x.Mul(cos).Add(p.y.Mul(sin))
		e.flanks(p.at(sd.c.X, sd.c.Y, 0), u, dir.Cross(u), dir, sd.r, 0, p.from, p.to, plane.Sweep(sd.s, sd.e), true)
	}
	if !smooth(&sd, &nx) {
		e.add(Segment(at(sd.b, p.from), at(sd.b, p.to)), normal(sd.direction(true)), normal(nx.direction(false)))
	}
}

// inside reports whether a point is inside the profile by the margin; a
// negative one takes points outside that are as near.
func (t *tracer) inside(pr *profile, p plane.Vec, margin float64) bool {
	if m := math.Abs(margin); p.X < pr.lo.X-m || p.X > pr.hi.X+m || p.Y < pr.lo.Y-m || p.Y > pr.hi.Y+m {
		return false
	}
	in, far := false, math.Abs(margin)
	beside := false
	for i := pr.sides.from; i < pr.sides.to; i++ {
		s := &t.sides[i]
		beside = beside || s.within(p, far)
		if s.crossedRight(p) {
			in = !in
		}
	}
	if in {
		return margin <= 0 || !beside
	}
	return margin < 0 && beside
}

// within reports whether p is as near to the side as d, which is small.
func (s *side) within(p plane.Vec, d float64) bool {
	if s.arc {
		x, y := p.X-s.c.X, p.Y-s.c.Y
		q := x*x + y*y
		if lo, hi := s.r-d, s.r+d; q < lo*lo || q > hi*hi {
			return false
		}
		return s.onArc(p) || near2(p, s.a, d) || near2(p, s.b, d)
	}
	dx, dy := s.b.X-s.a.X, s.b.Y-s.a.Y
	l := dx*dx + dy*dy
	k := (p.X-s.a.X)*dy - (p.Y-s.a.Y)*dx
	if k*k > d*d*l {
		return false
	}
	u := (p.X-s.a.X)*dx + (p.Y-s.a.Y)*dy
	return u >= 0 && u <= l || near2(p, s.a, d) || near2(p, s.b, d)
}

func near2(p, q plane.Vec, d float64) bool {
	x, y := p.X-q.X, p.Y-q.Y
	return x*x+y*y <= d*d
}

// onArc reports whether a point of the circle is on the arc: it is on that
// side of the chord.
func (s *side) onArc(p plane.Vec) bool {
	k := (s.b.X-s.a.X)*(p.Y-s.a.Y) - (s.b.Y-s.a.Y)*(p.X-s.a.X)
	return k < 0 == s.ccw
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
	// The arc and its chord are a closed line, which is crossed an odd number of
	// times from inside it: from between the two.
	odd := s.a.Y > p.Y != (s.b.Y > p.Y) && s.a.X+(p.Y-s.a.Y)*(s.b.X-s.a.X)/(s.b.Y-s.a.Y) > p.X
	x, y := p.X-s.c.X, p.Y-s.c.Y
	if x*x+y*y < s.r*s.r && s.onSide(p) == s.ccw {
		odd = !odd
	}
	return odd
}

// onSide reports whether p is to the right of the chord; of a point on it,
// whether one a little above it is, or a little to the right.
func (s *side) onSide(p plane.Vec) bool {
	dx, dy := s.b.X-s.a.X, s.b.Y-s.a.Y
	k := dx*(p.Y-s.a.Y) - dy*(p.X-s.a.X)
	if k == 0 {
		k = dx
	}
	if k == 0 {
		k = -dy
	}
	return k < 0
}

// A stretch of a line along z, from and to distances from where it starts.
type stretch struct{ from, to float64 }

// spansOfProfile appends where the line through p along z is inside.
func (t *tracer) spansOfProfile(out []stretch, pr *profile, p Vec, margin float64) []stretch {
	q := p.Sub(pr.o)
	p2 := plane.Vec{X: q.Dot(pr.x), Y: q.Dot(pr.y)}
	w, dw := q.Dot(pr.n), pr.n.Z
	lo, hi := math.Inf(-1), math.Inf(1)
	if math.Abs(dw) < 1e-12 {
		if w < pr.from+margin || w > pr.to-margin {
			return out
		}
	} else {
		lo, hi = (pr.from+margin-w)/dw, (pr.to-margin-w)/dw
		if lo > hi {
			lo, hi = hi, lo
		}
		if lo >= hi {
			return out
		}
	}
	if pr.speed < 1e-12 {
		if t.inside(pr, p2, margin) {
			out = append(out, stretch{lo, hi})
		}
		return out
	}
	var room [24]float64
	ts := room[:0]
	for i := pr.sides.from; i < pr.sides.to; i++ {
		ts = t.sides[i].meets(ts, p2, pr.sight)
	}
	slices.Sort(ts)
	for i := 1; i < len(ts); i++ {
		a, b := ts[i-1], ts[i]
		if (b-a)*pr.speed < tiny || b <= lo || a >= hi {
			continue
		}
		m := (a + b) / 2
		if !t.inside(pr, plane.Vec{X: p2.X + m*pr.sight.X, Y: p2.Y + m*pr.sight.Y}, margin) {
			continue
		}
		if a, b = math.Max(a+margin, lo), math.Min(b-margin, hi); a < b {
			if n := len(out); n > 0 && math.Abs(out[n-1].to-a) < 3*tiny {
				out[n-1].to = b
			} else {
				out = append(out, stretch{a, b})
			}
		}
	}
	return out
}

// meets appends where the line p + t d meets the side.
func (s *side) meets(ts []float64, p, d plane.Vec) []float64 {
	if s.arc {
		x, y := p.X-s.c.X, p.Y-s.c.Y
		k2, k1, k0 := d.X*d.X+d.Y*d.Y, x*d.X+y*d.Y, x*x+y*y-s.r*s.r
		disc := k1*k1 - k2*k0
		mid := -k1 / k2
		// A line that touches the arc is cut there as well: what is halfway
		// between two cuts stands for all of it, and must not be on a side.
		if qx, qy := x+mid*d.X, y+mid*d.Y; math.Abs(math.Sqrt(qx*qx+qy*qy)-s.r) < near {
			disc = 0
		}
		if disc < 0 {
			return ts
		}
		root := math.Sqrt(disc) / k2
		for _, t := range [2]float64{mid - root, mid + root} {
			q := plane.Vec{X: p.X + t*d.X, Y: p.Y + t*d.Y}
			if s.onArc(q) || near2(q, s.a, near) || near2(q, s.b, near) {
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
