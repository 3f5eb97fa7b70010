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
func (t *tracer) sample(c *pcurve) {
	c.first = int32(len(t.points))
	bend := 0.0
	for c.n = fewStretches; ; c.n *= 2 {
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
// sign. Where it is zero but for rounding the curve lies on what it is of.
func (t *tracer) crossings(out []float64, c *pcurve, f func(Vec) float64) []float64 {
	ps := t.samples(c)
	last := f(ps[0])
	for i := range c.n {
		next := f(ps[i+1])
		if (last < 0) != (next < 0) && (math.Abs(last) > rounding || math.Abs(next) > rounding) {
			out = append(out, t.refine(c, f, float64(i)/float64(c.n), float64(i+1)/float64(c.n), last, next))
		}
		last = next
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
