package solid

import "math"

// A ring is a torus in the coordinates of the picture.
type ring struct {
	c, a         Vec // centre and axis
	radius, tube float64
}

func (r *ring) distance(p Vec) float64 {
	q := p.Sub(r.c)
	h := q.Dot(r.a)
	return math.Hypot(q.Sub(r.a.Mul(h)).Len()-r.radius, h) - r.tube
}

// spans appends where the line through p along z is inside by the margin. It
// solves the equation of the fourth degree in s: (s² + w + R² - r²)² =
// 4 R² (s² + w - h(s)²), from the point of the line that is nearest to the
// centre.
func (r *ring) spans(out []stretch, p Vec, margin float64) []stretch {
	q := p.Sub(r.c)
	s0 := -q.Z
	q.Z = 0
	tube := r.tube - margin
	w, h, dh := q.Dot(q), q.Dot(r.a), r.a.Z
	reach := r.radius + tube
	if w > reach*reach || dh == 0 && math.Abs(h) > tube {
		return out
	}
	if math.Abs(dh) > 1-1e-12 { // along the axis
		d := math.Sqrt(w) - r.radius
		if d*d >= tube*tube {
			return out
		}
		e := math.Sqrt(tube*tube - d*d)
		return append(out, stretch{s0 - e, s0 + e})
	}
	if math.Abs(dh) < 1e-12 { // across it: an equation of the second degree for s²
		// s² + the square of the distance across it is between those of the
		// inside and the outside of the section at the height h.
		e, across := math.Sqrt(tube*tube-h*h), w-h*h
		hi, lo := (r.radius+e)*(r.radius+e)-across, (r.radius-e)*(r.radius-e)-across
		if hi <= 0 {
			return out
		}
		far := math.Sqrt(hi)
		if lo <= 0 {
			return append(out, stretch{s0 - far, s0 + far})
		}
		near := math.Sqrt(lo)
		return append(out, stretch{s0 - far, s0 - near}, stretch{s0 + near, s0 + far})
	}
	unit := r.radius // of length, so that the terms are near 1
	w, h, tube = w/(unit*unit), h/unit, tube/unit
	end := math.Sqrt((1+tube)*(1+tube)-w) + tube
	k := w + 1 - tube*tube
	c := [5]float64{k*k - 4*(w-h*h), 8 * h * dh, 2*k - 4*(1-dh*dh), 0, 1}
	var found [8]float64
	last := math.Inf(1)
	for _, s := range roots(found[:0], c, -end, end) {
		m := horner(&c, (last+s*unit)/2/unit)
		s *= unit
		if last < s {
			if s-last > tiny && m < 0 {
				if n := len(out); n > 0 && out[n-1].to > last+s0-tiny {
					out[n-1].to = s + s0
				} else {
					out = append(out, stretch{last + s0, s + s0})
				}
			}
		}
		last = s
	}
	return out
}

// meets appends where between a and b, from 0 to 1, a straight line meets the
// ring.
func (r *ring) meets(out []float64, a, b Vec) []float64 {
	p, d := a.Sub(r.c).Mul(1/r.radius), b.Sub(a).Mul(1/r.radius)
	tube := r.tube / r.radius
	k, h0, h1 := 1-tube*tube, p.Dot(r.a), d.Dot(r.a)
	q0, q1, q2 := p.Dot(p)+k, 2*p.Dot(d), d.Dot(d)
	// (q + 1 - t²)² = 4 (q - h²), with q the square of the distance.
	c := [5]float64{
		q0*q0 - 4*(q0-k-h0*h0),
		2*q0*q1 - 4*(q1-2*h0*h1),
		2*q0*q2 + q1*q1 - 4*(q2-h1*h1),
		2 * q1 * q2,
		q2 * q2,
	}
	return roots(out, c, 0, 1)
}

// folds returns where the outline of a ring that is seen at a slant folds, as
// parts of a turn. The outline is parallel to the picture of the middle line,
// an ellipse: it has cusps where the radius of curvature of that is the radius
// of the section, and crosses itself on the major axis.
func (r *ring) folds() []float64 {
	u, v := across(r.a)
	h := math.Abs(r.a.Z)
	wide := 1 - h*h
	major := r.a.Cross(zAxis)
	at := math.Atan2(major.Dot(v), major.Dot(u)) / (2 * math.Pi)
	k := r.tube / r.radius
	var out []float64
	add := func(sin2 float64) {
		if sin2 <= 0 || sin2 >= 1 {
			return
		}
		w := math.Asin(math.Sqrt(sin2)) / (2 * math.Pi)
		for _, s := range [4]float64{at + w, at - w, at + 0.5 + w, at + 0.5 - w} {
			out = append(out, s-math.Floor(s))
		}
	}
	// The radius of curvature is (sin² + h² cos²)^(3/2) / h, for a radius of 1.
	add((math.Pow(k*h, 2.0/3) - h*h) / wide)
	add((k*k/(h*h) - h*h) / wide)
	return out
}
