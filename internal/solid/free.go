package solid

import "math"

// Free curves are looked at in so many stretches. What crosses another curve
// twice within one of them, and is off it between the two places by less than
// the height of the stretch over its chord, may be missed: for a curve as bent
// as a circle of radius r that is 0.0005 r, a stretch of 0.065 r.
const stretches = 96

const rounding = 1e-9

// sample takes the samples of a free curve and its box.
func (t *tracer) sample(c *pcurve) {
	c.first = int32(len(t.points))
	bend := 0.0
	for i := range stretches + 1 {
		p := t.at(c, float64(i)/stretches)
		t.points = append(t.points, p)
		if i == 0 {
			c.lo, c.hi = p, p
		}
		c.lo, c.hi = extend(c.lo, c.hi, p, p)
		if n := len(t.points); i > 1 {
			bend = max(bend, t.points[n-1].Sub(t.points[n-2].Mul(2)).Add(t.points[n-3]).Len())
		}
	}
	c.loop = t.points[c.first].Sub(t.points[c.first+stretches]).Len() < near
	slack := Vec{bend / 4, bend / 4, bend / 4}
	c.lo, c.hi = c.lo.Sub(slack), c.hi.Add(slack)
}

func (t *tracer) samples(c *pcurve) []Vec { return t.points[c.first : c.first+stretches+1] }

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
	for i := range stretches {
		next := f(ps[i+1])
		if (last < 0) != (next < 0) && (math.Abs(last) > rounding || math.Abs(next) > rounding) {
			out = append(out, t.refine(c, f, float64(i)/stretches, float64(i+1)/stretches, last, next))
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
