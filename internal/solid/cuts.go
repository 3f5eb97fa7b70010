package solid

import (
	"math"

	"boltplate/internal/plane"
)

// What of a curve is seen can change only where it crosses, in the picture, a
// rim of a body that is nearer, or goes through a surface in space, or where
// the surface that it lies on turns away. All of these are roots of equations
// of low degree.

// cut fills t.cuts with the places of a curve where its state can change,
// sorted, its ends among them.
func (t *tracer) cut(c *pcurve) {
	t.cuts = append(t.cuts[:0], 0, 1)
	for _, k := range t.folds {
		if c.Shape == Free && k.first == c.first {
			t.cuts = append(t.cuts, k.s)
		}
	}
	for _, j := range t.near {
		b := &t.bodies[j]
		own := j == c.owner
		if own && t.simple {
			t.surfaces(c, b, true)
			continue
		}
		for i := b.curves.from; i < b.curves.to; i++ {
			e := &t.curves[i]
			if e.rim && e != c && e.hi.Z > c.lo.Z-near && c.mayCross(e) {
				t.crossing(c, e)
			}
		}
		if touch(c.lo, c.hi, b.lo, b.hi) {
			t.surfaces(c, b, own && c.hole < 0 && c.made)
		}
		for h := b.holes.from; h < b.holes.to; h++ {
			if hole := &t.bodies[h]; touch(c.lo, c.hi, hole.lo, hole.hi) {
				t.surfaces(c, hole, h == c.hole && c.made)
			}
		}
	}
	for _, list := range t.beside {
		for _, j := range list {
			b := &t.bodies[j]
			for i := b.curves.from; i < b.curves.to; i++ {
				if e := &t.curves[i]; e.rim && e != c && c.mayCross(e) {
					t.crossing(c, e)
				}
			}
		}
	}
	insertionSort(t.cuts)
}

func insertionSort(v []float64) {
	for i := 1; i < len(v); i++ {
		for j := i; j > 0 && v[j] < v[j-1]; j-- {
			v[j], v[j-1] = v[j-1], v[j]
		}
	}
}

// mayCross reports whether the boxes of two curves in the picture meet. What
// only touches a straight curve at its end is no matter.
func (c *pcurve) mayCross(e *pcurve) bool {
	x, y := near, near
	if c.Shape == Straight {
		if c.hi.X-c.lo.X > 4*near {
			x = -near
		}
		if c.hi.Y-c.lo.Y > 4*near {
			y = -near
		}
	}
	return c.lo.X < e.hi.X+x && e.lo.X < c.hi.X+x && c.lo.Y < e.hi.Y+y && e.lo.Y < c.hi.Y+y
}

// touch reports whether two boxes in space have a point in common.
func touch(lo, hi, lo2, hi2 Vec) bool {
	return lo.X <= hi2.X+near && lo2.X <= hi.X+near && lo.Y <= hi2.Y+near && lo2.Y <= hi.Y+near &&
		lo.Z <= hi2.Z+near && lo2.Z <= hi.Z+near
}

// surfaces adds the places where a curve goes through the surfaces of a body,
// and where those turn away; on says that the curve lies on them.
func (t *tracer) surfaces(c *pcurve, b *body, on bool) {
	if b.sort == ringSort {
		t.throughRing(c, &t.rings[b.shape])
		return
	}
	if !on {
		for i := b.flats.from; i < b.flats.to; i++ {
			t.zeros(c, &t.flats[i], nil)
		}
	}
	for i := b.quads.from; i < b.quads.to; i++ {
		q := &t.quads[i]
		if !on {
			t.conicZeros(c, q, nil)
		}
		polar := q.polar()
		t.zeros(c, &polar, nil)
	}
}

// zeros adds the places where a linear function is zero on the curve, if keep
// does not refuse the point; keep may be nil.
func (t *tracer) zeros(c *pcurve, l *lin, e *pcurve) {
	if c.Shape != Straight && !t.plain && l.sure(c) {
		return
	}
	switch c.Shape {
	case Straight:
		a, b := l.at(c.A), l.at(c.B)
		if d := a - b; math.Abs(d) > 1e-12 && (a <= 0) != (b < 0) {
			t.found(c, a/d, e)
		}
	case Circular:
		t.angle = wave{l.at(c.C), l.dir(c.A), l.dir(c.B)}.zeros(t.angle[:0])
		t.turned(c, e)
	case Rational:
		a, m, b := l.at(c.A), c.W*l.at(c.C), l.at(c.B)
		if a > 0 && m > 0 && b > 0 || a < 0 && m < 0 && b < 0 {
			return
		}
		var room [2]float64
		for _, s := range quadraticRoots(room[:0], a-2*m+b, 2*(m-a), a, 0, 1) {
			t.found(c, s, e)
		}
	case Free:
		t.angle = t.crossings(t.angle[:0], c, l.at)
		for _, s := range t.angle {
			t.found(c, s, e)
		}
	}
}

// conicZeros adds the places where the curve meets a surface, or in the picture
// a curve, of the second degree.
func (t *tracer) conicZeros(c *pcurve, q *quad, e *pcurve) {
	const onIt = 1e-11 // all of the curve is on the surface
	if c.Shape != Straight && !t.plain && q.sure(c) {
		return
	}
	switch c.Shape {
	case Straight:
		a, b := q.at(c.A), q.at(c.B)
		var d val
		for i := range d {
			d[i] = b[i] - a[i]
		}
		k0, k1, k2 := a.times(&a), 2*a.times(&d), d.times(&d)
		if math.Abs(k0)+math.Abs(k1)+math.Abs(k2) < onIt*(a.size()+b.size()) {
			return
		}
		var room [2]float64
		for _, s := range quadraticRoots(room[:0], k2, k1, k0, 0, 1) {
			t.found(c, s, e)
		}
	case Circular:
		m, u, v := q.at(c.C), q.dir(c.A), q.dir(c.B)
		uu, vv := u.times(&u), v.times(&v)
		w := wave{m.times(&m) + (uu+vv)/2, 2 * m.times(&u), 2 * m.times(&v), (uu - vv) / 2, u.times(&v)}
		size := onIt * (m.size() + u.size() + v.size())
		rest := math.Abs(w[1]) + math.Abs(w[2]) + math.Abs(w[3]) + math.Abs(w[4])
		if rest < size {
			return // on it, or nowhere near
		}
		t.angle = w.zeros(t.angle[:0])
		t.turned(c, e)
	case Rational:
		a, m, b := q.at(c.A), q.at(c.C), q.at(c.B)
		var p [3]val // powers of s
		for i := range a {
			w := c.W * m[i]
			p[0][i], p[1][i], p[2][i] = a[i], 2*(w-a[i]), a[i]-2*w+b[i]
		}
		k := [5]float64{p[0].times(&p[0]), 2 * p[0].times(&p[1]), 2*p[0].times(&p[2]) + p[1].times(&p[1]), 2 * p[1].times(&p[2]), p[2].times(&p[2])}
		size := 0.0
		for _, v := range k {
			size += math.Abs(v)
		}
		if size < onIt*(a.size()+m.size()+b.size()) {
			return
		}
		var room [8]float64
		for _, s := range roots(room[:0], k, 0, 1) {
			t.found(c, s, e)
		}
	case Free:
		f := func(p Vec) float64 { v := q.at(p); return v.times(&v) }
		t.angle = t.crossings(t.angle[:0], c, f)
		for _, s := range t.angle {
			t.found(c, s, e)
		}
	}
}

// turned adds the angles in t.angle that are on a circle or an arc.
func (t *tracer) turned(c *pcurve, e *pcurve) {
	sweep := c.T1 - c.T0
	for _, deg := range t.angle {
		d := math.Mod(deg-c.T0, 360)
		if d < 0 {
			d += 360
		}
		if d > sweep {
			if d-360 < -1e-9 {
				continue
			}
			d = 0
		}
		t.found(c, d/sweep, e)
	}
}

// found adds a place of a curve; where it is one where the picture of a rim
// crosses, only if that is where the rim is, and not behind the curve.
func (t *tracer) found(c *pcurve, s float64, e *pcurve) {
	if e != nil && !t.hides(e, t.at(c, s)) {
		return
	}
	t.cuts = append(t.cuts, s)
}

// hides reports whether a rim, on whose line in the picture p is, has a point
// there that is not behind p. It may say so of a point that is near to the rim's
// end, and where the rim is seen on its edge.
func (t *tracer) hides(e *pcurve, p Vec) bool {
	const slack = 1e-6
	if p.X < e.lo.X-slack || p.X > e.hi.X+slack || p.Y < e.lo.Y-slack || p.Y > e.hi.Y+slack {
		return false
	}
	if e.flat {
		return true
	}
	switch e.Shape {
	case Straight:
		d := e.B.Sub(e.A)
		l := d.X*d.X + d.Y*d.Y
		if l < slack*slack {
			return true
		}
		k := ((p.X-e.A.X)*d.X + (p.Y-e.A.Y)*d.Y) / l
		return e.A.Z+k*d.Z > p.Z-slack
	case Circular:
		v := t.conic(e).at(p)
		return e.C.Z+v[0]*e.A.Z+v[1]*e.B.Z > p.Z-slack*(1+math.Abs(e.A.Z)+math.Abs(e.B.Z))
	case Rational:
		v := t.conic(e).at(p) // l1, w(l0-l2), w(l0+l2), and the three add up to 1
		sum, diff := v[3]/e.W, v[1]/e.W
		l0, l2 := (sum+diff)/2, (sum-diff)/2
		return l0 > -slack && l2 > -slack && v[0] > -slack && l0*e.A.Z+v[0]*e.C.Z+l2*e.B.Z > p.Z-slack*(1+e.hi.Z-e.lo.Z)
	}
	return true
}

// crossing adds the places where a curve crosses a rim in the picture.
func (t *tracer) crossing(c, e *pcurve) {
	switch {
	case e.Shape == Free:
		t.crossFree(c, e)
	case e.Shape == Straight:
		t.zeros2(c, e, e.A, e.B)
	case e.flat:
		p, q := e.lo, e.hi // its box has it as a diagonal
		if e.Shape == Circular && e.A.X*e.A.Y+e.B.X*e.B.Y < 0 || e.Shape == Rational && (e.B.X-e.A.X)*(e.B.Y-e.A.Y) < 0 {
			p.Y, q.Y = q.Y, p.Y
		}
		t.zeros2(c, e, p, q)
	default:
		t.conicZeros(c, t.conic(e), e)
	}
}

// zeros2 adds the places where a curve crosses the line from p to q in the
// picture, which is that of e.
func (t *tracer) zeros2(c, e *pcurve, p, q Vec) {
	n := Vec{p.Y - q.Y, q.X - p.X, 0}
	l := math.Sqrt(n.X*n.X + n.Y*n.Y)
	if l < 1e-9 {
		return
	}
	line := planeThrough(p, n.Mul(1/l))
	t.zeros(c, &line, e)
}

// conic returns the conic that a curve is in the picture.
func (t *tracer) conic(e *pcurve) *quad {
	if e.first == 0 {
		t.conics = append(t.conics, e.conic())
		e.first = int32(len(t.conics))
	}
	return &t.conics[e.first-1]
}

func (e *pcurve) conic() (q quad) {
	if e.Shape == Circular {
		det := e.A.X*e.B.Y - e.A.Y*e.B.X
		q.l[0] = planeThrough(e.C, Vec{e.B.Y / det, -e.B.X / det, 0})
		q.l[1] = planeThrough(e.C, Vec{-e.A.Y / det, e.A.X / det, 0})
		q.l[3].d = 1
		return q
	}
	// Barycentric coordinates a of the three control points: a1² = 4 w² a0 a2,
	// which is a1² + w² (a0 - a2)² = w² (a0 + a2)².
	bary := func(p, q, r Vec) lin { // 1 at p, 0 on the line from q to r
		n := Vec{q.Y - r.Y, r.X - q.X, 0}
		return planeThrough(q, n.Mul(1/n.Dot(p.Sub(q))))
	}
	a0, a1, a2 := bary(e.A, e.C, e.B), bary(e.C, e.B, e.A), bary(e.B, e.A, e.C)
	q.l[0] = a1
	q.l[1] = lin{a0.n.Sub(a2.n).Mul(e.W), (a0.d - a2.d) * e.W}
	q.l[3] = lin{a0.n.Add(a2.n).Mul(e.W), (a0.d + a2.d) * e.W}
	return q
}

// crossFree adds the places where a curve crosses a free one: those of its
// chords, moved to the curve.
func (t *tracer) crossFree(c, e *pcurve) {
	ps := t.samples(e)
	for i := range e.n {
		p, q := ps[i], ps[i+1]
		if max(p.X, q.X) < c.lo.X-near || min(p.X, q.X) > c.hi.X+near || max(p.Y, q.Y) < c.lo.Y-near || min(p.Y, q.Y) > c.hi.Y+near ||
			max(p.Z, q.Z) < c.lo.Z-near {
			continue
		}
		n := len(t.cuts)
		t.zeros2(c, &pcurve{Curve: Segment(p, q), lo: Vec{min(p.X, q.X), min(p.Y, q.Y), 0}, hi: Vec{max(p.X, q.X), max(p.Y, q.Y), 0}, flat: true}, p, q)
		for k := n; k < len(t.cuts); k++ {
			s, u := t.meet(c, e, t.cuts[k], (float64(i)+0.5)/float64(e.n))
			t.cuts[k] = s
			t.knots = append(t.knots, knot{e, u})
		}
	}
}

// meet returns the place near s on c where it meets the curve e, near u on
// that, in the picture, and its place on e.
func (t *tracer) meet(c, e *pcurve, s, u float64) (onC, onE float64) {
	const step = 1e-6
	s0, u0 := s, u
	diff := func(s, u float64) plane.Vec {
		p, q := t.at(c, s), t.at(e, u)
		return plane.Vec{X: p.X - q.X, Y: p.Y - q.Y}
	}
	for range 8 {
		d := diff(s, u)
		if math.Abs(d.X)+math.Abs(d.Y) < 1e-12 {
			break
		}
		a, b := diff(s+step, u), diff(s, u+step)
		ax, ay, bx, by := (a.X-d.X)/step, (a.Y-d.Y)/step, (b.X-d.X)/step, (b.Y-d.Y)/step
		det := ax*by - ay*bx
		if math.Abs(det) < 1e-12 {
			break
		}
		s -= (d.X*by - d.Y*bx) / det
		u -= (ax*d.Y - ay*d.X) / det
	}
	if s < 0 || s > 1 || math.Abs(s-s0) > 0.05 {
		return s0, u0
	}
	return s, u
}

// throughRing adds the places where a curve goes through a ring, and where the
// ring turns away below it. Of a straight curve they are exact; others are
// looked at as free curves are.
func (t *tracer) throughRing(c *pcurve, r *ring) {
	if c.Shape == Straight {
		var room [8]float64
		t.cuts = append(t.cuts, r.meets(room[:0], c.A, c.B)...)
		return
	}
	f := func(p Vec) float64 { return r.distance(p) }
	turn := func(p Vec) float64 { // the normal, along the sight
		q := p.Sub(r.c)
		h := q.Dot(r.a)
		w := q.Sub(r.a.Mul(h))
		l := w.Len()
		return (w.Z/l)*(l-r.radius) + h*r.a.Z
	}
	if c.Shape != Free {
		on := *c
		n := len(t.points)
		t.sampleAs(&on, fewStretches*2)
		defer func() { t.points = t.points[:n] }()
		c = &on
	}
	for _, g := range [2]func(Vec) float64{f, turn} {
		t.cuts = t.crossings(t.cuts, c, g)
	}
}
