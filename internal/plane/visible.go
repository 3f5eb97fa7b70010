package plane

import (
	"math"
	"slices"
)

// A Mask is a convex figure about the origin that hides what lies behind it:
// a polygon, counter-clockwise, or where Poly is nil a circle.
type Mask struct {
	Radius float64
	Poly   []Vec
}

// eps is how near a point may be to the edge of a mask and still count as on
// it; what lies on the edge is hidden, because the nearer edge is drawn there.
const eps = 1e-7

// hides reports whether p lies in the mask or on its edge.
func (m Mask) hides(p Vec) bool {
	if m.Poly == nil {
		return math.Hypot(p.X, p.Y) <= m.Radius+eps
	}
	for i, a := range m.Poly {
		b := m.Poly[(i+1)%len(m.Poly)]
		l := math.Hypot(b.X-a.X, b.Y-a.Y)
		if ((b.X-a.X)*(p.Y-a.Y)-(b.Y-a.Y)*(p.X-a.X))/l < -eps {
			return false
		}
	}
	return true
}

func hidden(p Vec, masks []Mask) bool {
	for _, m := range masks {
		if m.hides(p) {
			return true
		}
	}
	return false
}

// VisibleSegment returns the parts of ab that no mask hides.
func VisibleSegment(a, b Vec, masks []Mask) [][2]Vec {
	d := Vec{b.X - a.X, b.Y - a.Y}
	at := func(t float64) Vec { return Vec{a.X + t*d.X, a.Y + t*d.Y} }
	cuts := []float64{0, 1}
	for _, m := range masks {
		if m.Poly == nil {
			cuts = append(cuts, lineCircle(a, d, m.Radius)...)
			continue
		}
		for i, p := range m.Poly {
			q := m.Poly[(i+1)%len(m.Poly)]
			e := Vec{q.X - p.X, q.Y - p.Y}
			det := d.X*e.Y - d.Y*e.X
			if math.Abs(det) > 1e-12 {
				cuts = append(cuts, ((p.X-a.X)*e.Y-(p.Y-a.Y)*e.X)/det)
			}
		}
	}
	var out [][2]Vec
	visibleRuns(cuts, 0, 1, func(t float64) bool { return !hidden(at(t), masks) }, func(t, u float64) {
		out = append(out, [2]Vec{at(t), at(u)})
	})
	return out
}

// lineCircle returns where a + t d meets the circle about the origin.
func lineCircle(a, d Vec, r float64) []float64 {
	k2, k1, k0 := d.X*d.X+d.Y*d.Y, 2*(a.X*d.X+a.Y*d.Y), a.X*a.X+a.Y*a.Y-r*r
	disc := k1*k1 - 4*k2*k0
	if disc <= 0 || k2 == 0 {
		return nil
	}
	s := math.Sqrt(disc)
	return []float64{(-k1 - s) / (2 * k2), (-k1 + s) / (2 * k2)}
}

// VisibleCircle returns the parts of the circle of radius r about the origin
// that no mask hides, as ranges of angles; the whole circle is (0, 360).
func VisibleCircle(r float64, masks []Mask) [][2]float64 {
	at := func(deg float64) Vec {
		s, c := Sincos(deg)
		return Vec{r * c, r * s}
	}
	var cuts []float64
	for _, m := range masks {
		for i, p := range m.Poly {
			q := m.Poly[(i+1)%len(m.Poly)]
			d := Vec{q.X - p.X, q.Y - p.Y}
			for _, t := range lineCircle(p, d, r) {
				if t >= 0 && t <= 1 {
					cuts = append(cuts, Degrees(p.X+t*d.X, p.Y+t*d.Y))
				}
			}
		}
	}
	visible := func(deg float64) bool { return !hidden(at(deg), masks) }
	if len(cuts) == 0 {
		if visible(45) || visible(75) {
			return [][2]float64{{0, 360}}
		}
		return nil
	}
	slices.Sort(cuts)
	var out [][2]float64
	first := cuts[0]
	visibleRuns(append(cuts, first+360), first, first+360, visible, func(s, e float64) {
		out = append(out, [2]float64{s, e})
	})
	// The first cut is where the count starts, not where a run must end.
	if n := len(out); n > 0 && out[0][0] == first && out[n-1][1] == first+360 {
		if n == 1 {
			return [][2]float64{{0, 360}}
		}
		out[0][0] = out[n-1][0] - 360
		out = out[:n-1]
	}
	return out
}

// visibleRuns joins the visible stretches between cuts in [lo, hi] and hands
// each to run.
func visibleRuns(cuts []float64, lo, hi float64, visible func(float64) bool, run func(from, to float64)) {
	slices.Sort(cuts)
	start, on := 0.0, false
	prev := lo
	for _, c := range cuts {
		if c <= prev+1e-6*(hi-lo) || c > hi {
			continue
		}
		// Between cuts a stretch is visible or not as a whole, but for a point
		// where it touches a mask: two probes cannot both be that point.
		v := visible(prev+0.31*(c-prev)) || visible(prev+0.67*(c-prev))
		if v && !on {
			start = prev
		}
		if !v && on {
			run(start, prev)
		}
		on, prev = v, c
	}
	if on {
		run(start, prev)
	}
}
