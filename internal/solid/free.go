package solid

import "math"

// Free curves are looked at in stretches, so many that none is higher over its
// chord than stretchHeight or there are mostStretches of them. What crosses
// another curve twice within one stretch, and is off it between the two places
// by no more than that height, may be missed.
const (
	fewStretches  = 32
	mostStretches = 128
	stretchHeight = 0.01 // mm
)

const rounding = 1e-9

// sample takes the samples of a free curve and its box.
func (t *tracer) sample(c *pcurve) { t.sampleAs(c, fewStretches) }

// sampleAs is sample with as many stretches at least.
func (t *tracer) sampleAs(c *pcurve, few int32) {
	c.first = int32(len(t.points))
	bend := 0.0
	for c.n = few; ; c.n *= 2 {
		t.points = t.points[:c.first]
		bend = 0
		for i := range c.n + 1 {
			p := t.at(c, float64(i)/float64(c.n))
			t.points = append(t.points, p)
			if n := len(t.points); i > 1 {
				bend = max(bend, t.points[n-1].Sub(t.points[n-2].Mul(2)).Add(t.points[n-3]).Len())
			}
		}
		if bend/8 < stretchHeight || c.n >= mostStretches {
			break
		}
	}
	c.lo, c.hi = t.points[c.first], t.points[c.first]
	for _, p := range t.samples(c) {
		c.lo, c.hi = extend(c.lo, c.hi, p, p)
	}
	c.loop = t.points[c.first].Sub(t.points[c.first+c.n]).Len() < near
	slack := Vec{bend / 4, bend / 4, bend / 4}
	c.lo, c.hi = c.lo.Sub(slack), c.hi.Add(slack)
}

func (t *tracer) samples(c *pcurve) []Vec { return t.points[c.first : c.first+c.n+1] }

// at returns the point of a curve at s in the coordinates of the picture.
func (t *tracer) at(c *pcurve, s float64) Vec {
	if c.Shape != Free {
		return c.At(s)
	}
	if s < 0 { // of a closed curve
		s++
	}
	if c.away {
		return t.to(c.F(s))
	}
	return c.F(s)
}

// crossings appends where a function of the points of a free curve changes its
// sign, twice between two of them where it dips so far. Where it is zero but for
// rounding the curve lies on what it is of.
func (t *tracer) crossings(out []float64, c *pcurve, f func(Vec) float64) []float64 {
	ps := t.samples(c)
	at := func(i int32) float64 { return float64(i) / float64(c.n) }
	before, last := 0.0, f(ps[0])
	for i := range c.n {
		next := f(ps[i+1])
		switch {
		case (last < 0) != (next < 0):
			if math.Abs(last) > rounding || math.Abs(next) > rounding {
				out = append(out, t.refine(c, f, at(i), at(i+1), last, next))
			}
		case i > 0 && (before < 0) == (next < 0) && math.Abs(last) < math.Abs(before) && math.Abs(last) <= math.Abs(next):
			// Nearest to zero of three: the parabola through them may cross it.
			d, b := before+next-2*last, (next-before)/2
			if d != 0 && (last-b*b/(2*d) < 0) != (last < 0) && math.Abs(last) > rounding {
				out = t.dip(out, c, f, at(i-1), at(i+1), before, next)
			}
		}
		before, last = last, next
	}
	return out
}

// dip appends the two places between a and b where a function that has one sign
// at both is zero, if it gets there.
func (t *tracer) dip(out []float64, c *pcurve, f func(Vec) float64, a, b, fa, fb float64) []float64 {
	lo, hi := a, b
	for range 60 {
		l, r := lo+(hi-lo)/3, hi-(hi-lo)/3
		fl, fr := f(t.at(c, l)), f(t.at(c, r))
		for _, v := range [2][2]float64{{l, fl}, {r, fr}} {
			if (v[1] < 0) != (fa < 0) {
				return append(out, t.refine(c, f, a, v[0], fa, v[1]), t.refine(c, f, v[0], b, v[1], fb))
			}
		}
		if math.Abs(fl) < math.Abs(fr) {
			hi = r
		} else {
			lo = l
		}
	}
	return out
}

// refine returns where between a and b the function is zero: the chord, but
// with the weight of an end that stays halved, so that both close in.
func (t *tracer) refine(c *pcurve, f func(Vec) float64, a, b, fa, fb float64) float64 {
	kept := 0
	for range 60 {
		m := (a*fb - b*fa) / (fb - fa)
		if !(m > a && m < b) {
			m = (a + b) / 2
		}
		fm := f(t.at(c, m))
		switch {
		case fm == 0:
			return m
		case (fm < 0) == (fa < 0):
			a, fa = m, fm
			if kept == 1 {
				fb /= 2
			}
			kept = 1
		default:
			b, fb = m, fm
			if kept == -1 {
				fa /= 2
			}
			kept = -1
		}
		if b-a < 1e-13 {
			break
		}
		if w := fm; w < 1e-13 && w > -1e-13 {
			return m
		}
	}
	return (a + b) / 2
}
