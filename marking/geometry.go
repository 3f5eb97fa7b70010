package marking

import (
	"math"
	"slices"

	"boltplate/drawing"
)

type point = drawing.Point

func dot(p, q point) float64   { return p.X*q.X + p.Y*q.Y }
func wedge(p, q point) float64 { return p.X*q.Y - p.Y*q.X }

// unit returns p with the length 1, or the x axis.
func unit(p point) point {
	if l := p.Len(); l > 0 {
		return p.Mul(1 / l)
	}
	return point{X: 1}
}

// norm returns an angle in [0, 360).
func norm(deg float64) float64 {
	if deg = math.Mod(deg, 360); deg < 0 {
		if deg += 360; deg >= 360 {
			deg = 0
		}
	}
	return deg
}

// apart returns the angle between two directions of undirected lines, 0 to 90.
func apart(a, b float64) float64 {
	d := math.Mod(math.Abs(a-b), 180)
	return min(d, 180-d)
}

// A span is a stretch of a line, in millimetres from its start.
type span struct{ from, to float64 }

func (s span) len() float64 { return s.to - s.from }

// union returns stretches in order, those that touch or are no more than gap
// apart as one.
func union(all []span, gap float64) []span {
	slices.SortFunc(all, func(a, b span) int {
		switch {
		case a.from < b.from:
			return -1
		case a.from > b.from:
			return 1
		}
		return 0
	})
	var out []span
	for _, s := range all {
		if n := len(out); n > 0 && s.from <= out[n-1].to+gap {
			out[n-1].to = max(out[n-1].to, s.to)
			continue
		}
		out = append(out, s)
	}
	return out
}

// holes returns what united stretches leave of a line from from to to.
func holes(covered []span, from, to float64) (out []span) {
	at := from
	for _, s := range covered {
		if s.from > at {
			out = append(out, span{at, min(s.from, to)})
		}
		at = max(at, s.to)
		if at >= to {
			return out
		}
	}
	if at < to {
		out = append(out, span{at, to})
	}
	return out
}

func total(all []span) (sum float64) {
	for _, s := range all {
		sum += s.len()
	}
	return sum
}

// fromSegment returns the distance of p from the segment ab, and how far along
// it from 0 to 1 its foot is.
func fromSegment(a, b, p point) (distance, t float64) {
	d, v := b.Sub(a), p.Sub(a)
	if l := dot(d, d); l > 0 {
		t = min(max(dot(d, v)/l, 0), 1)
	}
	return v.Sub(d.Mul(t)).Len(), t
}

func bounds(ps []point) drawing.Rect {
	r := drawing.EmptyRect()
	for _, p := range ps {
		r = r.Including(p)
	}
	return r
}

func inside(r drawing.Rect, p point) bool {
	return p.X >= r.Min.X && p.X <= r.Max.X && p.Y >= r.Min.Y && p.Y <= r.Max.Y
}

// fromRect returns how far p lies outside of r, 0 inside.
func fromRect(r drawing.Rect, p point) float64 {
	return math.Hypot(max(r.Min.X-p.X, p.X-r.Max.X, 0), max(r.Min.Y-p.Y, p.Y-r.Max.Y, 0))
}

// within reports whether p is inside of a closed chain of points, by the
// even-odd rule over several chains.
func within(loops [][]point, p point) bool {
	in := false
	for _, c := range loops {
		for i := range c {
			a, b := c[i], c[(i+1)%len(c)]
			if (a.Y > p.Y) != (b.Y > p.Y) && p.X < a.X+(b.X-a.X)*(p.Y-a.Y)/(b.Y-a.Y) {
				in = !in
			}
		}
	}
	return in
}

// circleOf returns the circle through a chain of points, and how far at most
// they lie off it; ok is false where they lie on a line.
func circleOf(ps []point) (c point, r, off float64, ok bool) {
	n := len(ps)
	if n < 3 {
		return c, 0, 0, false
	}
	a, b, d := ps[0], ps[n/2], ps[n-1]
	if a.Sub(d).Len() < 1e-6*b.Sub(a).Len() { // a closed chain
		b, d = ps[n/3], ps[2*n/3]
	}
	u, v := b.Sub(a), d.Sub(a)
	det := 2 * wedge(u, v)
	if math.Abs(det) < 1e-9*(dot(u, u)+dot(v, v)) {
		return c, 0, 0, false
	}
	c = a.Add(point{X: (v.Y*dot(u, u) - u.Y*dot(v, v)) / det, Y: (u.X*dot(v, v) - v.X*dot(u, u)) / det})
	r = c.Sub(a).Len()
	for _, p := range ps {
		off = max(off, math.Abs(p.Sub(c).Len()-r))
	}
	return c, r, off, true
}

// lengthOf returns the length of a chain.
func lengthOf(ps []point) (l float64) {
	for i := 1; i < len(ps); i++ {
		l += ps[i].Sub(ps[i-1]).Len()
	}
	return l
}

// sag returns how far, to the left of the line from its first to its last
// point, a chain lies at its middle.
func sag(ps []point) float64 {
	a, b := ps[0], ps[len(ps)-1]
	u := unit(b.Sub(a))
	best := 0.0
	for _, p := range ps {
		if d := wedge(u, p.Sub(a)); math.Abs(d) > math.Abs(best) {
			best = d
		}
	}
	return best
}
