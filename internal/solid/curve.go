package solid

import (
	"math"

	"boltplate/internal/plane"
)

// A Shape says what a curve is.
type Shape uint8

// The shapes of curves.
const (
	Straight Shape = iota // from A to B
	Circular              // C + A cos t + B sin t, t from T0 to T1 (degrees, T1 greater)
	Rational              // the quadratic curve from A by the control point C to B with the weight W
	Free                  // F(s) for s from 0 to 1
)

// A Curve is an edge, or a line that a convention puts on a surface.
type Curve struct {
	Shape   Shape
	Mark    Mark
	A, B, C Vec
	T0, T1  float64
	W       float64
	F       func(float64) Vec
}

// A Mark says what a curve is for and when it is left out.
type Mark uint8

// The marks.
const (
	Thin        Mark = 1 << iota // a narrow line: not an edge of the solid
	VisibleOnly                  // never drawn as a hidden line
	NotAlong                     // a circle that is left out when seen along its axis
	Buried                       // inside a solid on purpose: always a hidden line
	Within                       // inside a solid on purpose, which does not hide it
)

// Marked returns the curve with a further mark.
func (c Curve) Marked(m Mark) Curve { c.Mark |= m; return c }

// Segment returns the straight curve from a to b.
func Segment(a, b Vec) Curve { return Curve{Shape: Straight, A: a, B: b} }

// CircleAt returns the circle about c on the plane across the unit vector a.
func CircleAt(c, a Vec, r float64) Curve {
	u, v := across(a)
	return Curve{Shape: Circular, C: c, A: u.Mul(r), B: v.Mul(r), T0: 0, T1: 360}
}

// ArcAt returns the points c + r (u cos t + v sin t) for t from t0 to t1
// degrees; u and v are unit vectors across each other.
func ArcAt(c, u, v Vec, r, t0, t1 float64) Curve {
	return Curve{Shape: Circular, C: c, A: u.Mul(r), B: v.Mul(r), T0: t0, T1: t1}
}

// Along returns a free curve.
func Along(f func(float64) Vec) Curve { return Curve{Shape: Free, F: f} }

// At returns the point at s, from 0 to 1.
func (c *Curve) At(s float64) Vec {
	switch c.Shape {
	case Straight:
		return c.A.Add(c.B.Sub(c.A).Mul(s))
	case Circular:
		sin, cos := plane.Sincos(c.T0 + s*(c.T1-c.T0))
		return c.C.Add(c.A.Mul(cos)).Add(c.B.Mul(sin))
	case Rational:
		a, b, d := (1-s)*(1-s), 2*s*(1-s)*c.W, s*s
		return c.A.Mul(a).Add(c.C.Mul(b)).Add(c.B.Mul(d)).Mul(1 / (a + b + d))
	}
	return c.F(s)
}

func (c *Curve) closed() bool { return c.Shape == Circular && c.T1-c.T0 >= 360-1e-9 }

// Part returns the part from s to t of a rational curve in its own form.
func (c *Curve) Part(s, t float64) Curve {
	if s == 0 && t == 1 {
		return *c
	}
	// Blossom in homogeneous coordinates.
	type h struct {
		p Vec
		w float64
	}
	lerp := func(a, b h, k float64) h {
		return h{a.p.Mul(1 - k).Add(b.p.Mul(k)), a.w*(1-k) + b.w*k}
	}
	a, m, b := h{c.A, 1}, h{c.C.Mul(c.W), c.W}, h{c.B, 1}
	at := func(u, v float64) h { return lerp(lerp(a, m, u), lerp(m, b, u), v) }
	p, q, r := at(s, s), at(s, t), at(t, t)
	out := *c
	out.A, out.B = p.p.Mul(1/p.w), r.p.Mul(1/r.w)
	out.C = q.p.Mul(1 / q.w)
	out.W = q.w / math.Sqrt(p.w*r.w)
	return out
}
