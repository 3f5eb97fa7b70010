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
