package solid

import "math"

// A root that the terms of a polynomial leave uncertain by rounding is one
// where they nearly cancel: touching counts as crossing.
const touching = 1e-12

// roots appends the roots of c[0] + c[1] x + ... + c[4] x^4 in [lo, hi], which
// is a few units wide. Where the polynomial touches zero the place is one of
// them. A polynomial that is zero throughout has none.
func roots(out []float64, c [5]float64, lo, hi float64) []float64 {
	scale := 0.0
	for _, v := range c {
		scale = math.Max(scale, math.Abs(v))
	}
	n := 4
	for n > 0 && math.Abs(c[n]) <= 1e-14*scale {
		n--
	}
	// The roots of the third derivative, then of the second and so on: between
	// two places where the slope is zero there is one root at most.
	var room [2][7]float64
	switch n {
	case 0:
		return out
	case 1:
		return inRange(out, -c[0]/c[1], lo, hi)
	case 2:
		return quadraticRoots(out, c[2], c[1], c[0], lo, hi)
	case 3:
		turns := quadraticRoots(append(room[0][:0], lo), 3*c[3], 2*c[2], c[1], lo, hi)
		return monotone(out, c, append(turns, hi), scale)
	}
	slope := [5]float64{c[1], 2 * c[2], 3 * c[3], 4 * c[4]}
	turns := quadraticRoots(append(room[0][:0], lo), 12*c[4], 6*c[3], 2*c[2], lo, hi)
	turns = monotone(append(room[1][:0], lo), slope, append(turns, hi), 4*scale)
	return monotone(out, c, append(turns, hi), scale)
}

// monotone appends the roots of a polynomial that only rises or falls from
// each of the places to the next one.
func monotone(out []float64, c [5]float64, at []float64, scale float64) []float64 {
	insertionSort(at)
	eps := touching * scale
	a, fa := at[0], horner(&c, at[0])
	if math.Abs(fa) <= eps {
		out = append(out, a)
	}
	for _, b := range at[1:] {
		fb := horner(&c, b)
		if math.Abs(fb) <= eps {
			out = append(out, b)
		} else if math.Abs(fa) > eps && (fa < 0) != (fb < 0) {
			out = append(out, between(&c, a, b, fa))
		}
		a, fa = b, fb
	}
	return out
}

func inRange(out []float64, x, lo, hi float64) []float64 {
	const slack = 1e-12
	if x >= lo-slack && x <= hi+slack {
		return append(out, math.Max(lo, math.Min(hi, x)))
	}
	return out
}

func horner(c *[5]float64, x float64) float64 {
	return (((c[4]*x+c[3])*x+c[2])*x+c[1])*x + c[0]
}

// between returns the root between a and b, where the signs differ: by steps
// of Newton, or halves where those leave the interval.
func between(c *[5]float64, a, b, fa float64) float64 {
	x := (a + b) / 2
	for range 100 {
		f, d := c[4], 0.0
		for i := 3; i >= 0; i-- {
			d = d*x + f
			f = f*x + c[i]
		}
		if f == 0 {
			return x
		}
		if (f < 0) == (fa < 0) {
			a = x
		} else {
			b = x
		}
		next := x - f/d
		if !(next > a && next < b) {
			next = (a + b) / 2
		}
		if math.Abs(next-x) < 1e-15*(1+math.Abs(x)) {
			return next
		}
		x = next
	}
	return x
}

// quadraticRoots appends those of k2 x² + k1 x + k0.
func quadraticRoots(out []float64, k2, k1, k0, lo, hi float64) []float64 {
	disc := k1*k1 - 4*k2*k0
	if size := k1*k1 + math.Abs(4*k2*k0); disc < touching*size {
		if disc < -touching*size {
			return out
		}
		return inRange(out, -k1/(2*k2), lo, hi)
	}
	q := -(k1 + math.Copysign(math.Sqrt(disc), k1)) / 2
	out = inRange(out, q/k2, lo, hi)
	if q != 0 {
		out = inRange(out, k0/q, lo, hi)
	}
	return out
}

// A wave is k[0] + k[1] cos t + k[2] sin t + k[3] cos 2t + k[4] sin 2t.
type wave [5]float64

// zeros appends where the wave is zero: degrees, any turn. Where it touches
// zero the place is one of them.
func (k wave) zeros(out []float64) []float64 {
	amp, amp2 := math.Hypot(k[1], k[2]), math.Abs(k[3])+math.Abs(k[4])
	scale := math.Abs(k[0]) + amp + amp2
	if math.Abs(k[0]) > amp+amp2+touching*scale || scale == 0 {
		return out
	}
	if amp2 < 1e-13*scale {
		if amp < 1e-13*scale {
			return out
		}
		base := math.Atan2(k[2], k[1]) * toDegrees
		c := -k[0] / amp
		switch {
		case c > 1-touching:
			return append(out, nice(base))
		case c < touching-1:
			return append(out, nice(base+180))
		}
		half := math.Acos(c) * toDegrees
		return append(out, nice(base+half), nice(base-half))
	}
	// A quarter at a time, by u = tan t/2, so that u stays small.
	var found [8]float64
	for quarter := range 4 {
		r := k.turned(quarter)
		c := [5]float64{r[0] + r[1] + r[3], 2*r[2] + 4*r[4], 2*r[0] - 6*r[3], 2*r[2] - 4*r[4], r[0] - r[1] + r[3]}
		const end = math.Sqrt2 - 1
		for _, u := range roots(found[:0], c, -end, end) {
			out = append(out, nice(90*float64(quarter)+2*math.Atan(u)*toDegrees))
		}
	}
	return out
}

// turned returns the wave with its zero moved by quarters of a turn.
func (k wave) turned(quarters int) wave {
	switch quarters {
	case 1:
		return wave{k[0], k[2], -k[1], -k[3], -k[4]}
	case 2:
		return wave{k[0], -k[1], -k[2], k[3], k[4]}
	case 3:
		return wave{k[0], -k[2], k[1], -k[3], -k[4]}
	}
	return k
}

const toDegrees = 180 / math.Pi

// nice returns the angle, or the multiple of 15 degrees that it is but for
// rounding.
func nice(deg float64) float64 {
	if n := math.Round(deg/15) * 15; math.Abs(deg-n) < 1e-10 {
		return n
	}
	return deg
}
