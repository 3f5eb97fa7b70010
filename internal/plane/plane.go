// Package plane is the plane geometry that the drawing of fasteners needs:
// exact directions, arcs through points, extents of curves, and the parts of
// lines and circles that convex outlines leave visible.
//
// Angles are degrees, counter-clockwise from the x axis.
package plane

import "math"

// Vec is a point or a vector.
type Vec struct{ X, Y float64 }

// Box is a box with sides along the axes.
type Box struct{ Min, Max Vec }

// Sincos returns the sine and cosine of an angle in degrees, exactly at the
// multiples of 30 degrees where they are rational.
func Sincos(deg float64) (sin, cos float64) {
	d := math.Mod(deg, 360)
	if d < 0 {
		d += 360
	}
	switch d {
	case 0, 360:
		return 0, 1
	case 90:
		return 1, 0
	case 180:
		return 0, -1
	case 270:
		return -1, 0
	}
	sin, cos = math.Sincos(d * math.Pi / 180)
	switch d {
	case 30, 150:
		sin = 0.5
	case 210, 330:
		sin = -0.5
	case 60, 300:
		cos = 0.5
	case 120, 240:
		cos = -0.5
	}
	return sin, cos
}

// Degrees returns the direction of (x, y) in [0, 360).
func Degrees(x, y float64) float64 {
	return Norm(math.Atan2(y, x) * 180 / math.Pi)
}

// Norm returns the angle in [0, 360).
func Norm(deg float64) float64 {
	d := math.Mod(deg, 360)
	if d < 0 {
		if d += 360; d == 360 { // by rounding
			d = 0
		}
	}
	return d
}

// ArcThrough returns the circle through three points; ok is false where they
// lie on a line.
func ArcThrough(a, b, c Vec) (center Vec, radius float64, ok bool) {
	// Relative to a, the centre solves two linear equations.
	bx, by := b.X-a.X, b.Y-a.Y
	cx, cy := c.X-a.X, c.Y-a.Y
	det := 2 * (bx*cy - by*cx)
	bb, cc := bx*bx+by*by, cx*cx+cy*cy
	if math.Abs(det) <= 1e-12*(bb+cc) {
		return Vec{}, 0, false
	}
	x, y := (cy*bb-by*cc)/det, (bx*cc-cx*bb)/det
	return Vec{a.X + x, a.Y + y}, math.Hypot(x, y), true
}

// InArc reports whether the direction deg lies on the counter-clockwise arc
// from start to end.
func InArc(deg, start, end float64) bool {
	return Norm(deg-start) <= Sweep(start, end)
}

// Sweep returns the angle from start counter-clockwise to end, in (0, 360].
func Sweep(start, end float64) float64 {
	s := Norm(end - start)
	if s == 0 {
		s = 360
	}
	return s
}

// ArcBox returns the extent of an arc.
func ArcBox(center Vec, radius, start, end float64) Box {
	b := Box{Vec{math.Inf(1), math.Inf(1)}, Vec{math.Inf(-1), math.Inf(-1)}}
	add := func(deg float64) {
		s, c := Sincos(deg)
		b.add(Vec{center.X + radius*c, center.Y + radius*s})
	}
	add(start)
	add(end)
	for q := 0.0; q < 360; q += 90 {
		if InArc(q, start, end) {
			add(q)
		}
	}
	return b
}

func (b *Box) add(p Vec) {
	b.Min = Vec{min(b.Min.X, p.X), min(b.Min.Y, p.Y)}
	b.Max = Vec{max(b.Max.X, p.X), max(b.Max.Y, p.Y)}
}

// Conic returns the point at t in [0, 1] of the rational quadratic curve with
// the control points a, b, c, whose middle weight is w.
func Conic(a, b, c Vec, w, t float64) Vec {
	u := 1 - t
	wa, wb, wc := u*u, 2*u*t*w, t*t
	sum := wa + wb + wc
	return Vec{(wa*a.X + wb*b.X + wc*c.X) / sum, (wa*a.Y + wb*b.Y + wc*c.Y) / sum}
}

// ConicBox returns the extent of the curve that Conic describes.
func ConicBox(a, b, c Vec, w float64) Box {
	box := Box{a, a}
	box.add(c)
	for _, t := range turning(a.X, b.X, c.X, w) {
		box.add(Conic(a, b, c, w, t))
	}
	for _, t := range turning(a.Y, b.Y, c.Y, w) {
		box.add(Conic(a, b, c, w, t))
	}
	return box
}

// turning returns where in (0, 1) one coordinate of a rational quadratic turns
// round: the roots of w(b-a) u^2 + (c-a) u t + w(c-b) t^2, u = 1-t.
func turning(a, b, c, w float64) []float64 {
	p, q, r := w*(b-a), c-a, w*(c-b)
	// In t: p(1-t)^2 + q t(1-t) + r t^2.
	k2, k1, k0 := p-q+r, q-2*p, p
	var roots []float64
	keep := func(t float64) {
		if t > 0 && t < 1 {
			roots = append(roots, t)
		}
	}
	d := k1*k1 - 4*k2*k0
	if d < 0 {
		return nil
	}
	// The form that does not cancel where k2 is all but zero.
	h := -(k1 + math.Copysign(math.Sqrt(d), k1)) / 2
	if h != 0 {
		keep(k0 / h)
	}
	if k2 != 0 {
		keep(h / k2)
	}
	return roots
}

// SegmentHitsBox reports whether a part of the segment lies strictly inside
// the box.
func SegmentHitsBox(a, b Vec, box Box) bool {
	t0, t1 := 0.0, 1.0
	clip := func(d, lo, hi float64) bool { // lo < d*t < hi
		if d == 0 {
			return lo < 0 && hi > 0
		}
		u, v := lo/d, hi/d
		if u > v {
			u, v = v, u
		}
		t0, t1 = max(t0, u), min(t1, v)
		return t0 < t1
	}
	if a == b {
		return a.X > box.Min.X && a.X < box.Max.X && a.Y > box.Min.Y && a.Y < box.Max.Y
	}
	return clip(b.X-a.X, box.Min.X-a.X, box.Max.X-a.X) && clip(b.Y-a.Y, box.Min.Y-a.Y, box.Max.Y-a.Y)
}

// Cross reports whether the segments ab and cd cross at an inner point of both.
func Cross(a, b, c, d Vec) bool {
	// The ends of each must lie on different sides of the other, by more than
	// rounding.
	apart := func(p, q, r, s Vec) bool {
		ux, uy := q.X-p.X, q.Y-p.Y
		d1, d2 := ux*(r.Y-p.Y)-uy*(r.X-p.X), ux*(s.Y-p.Y)-uy*(s.X-p.X)
		eps := 1e-9 * (ux*ux + uy*uy)
		return d1 > eps && d2 < -eps || d1 < -eps && d2 > eps
	}
	return apart(a, b, c, d) && apart(c, d, a, b)
}
