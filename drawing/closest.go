package drawing

import (
	"math"

	"boltplate/internal/plane"
)

// Closest returns the least distance, mm on paper, of two visible edges of a view,
// or of an edge and a narrow line, that run beside each other: parallel lines, arcs
// about one centre, arcs and lines that stay about as far apart all along. It is
// +Inf where there are none. Below LeastApart a plotter runs them into one.
func (v View) Closest(st Style) float64 {
	least := math.Inf(1)
	var lines []Line
	var arcs []Arc
	for _, it := range v.Items {
		if it.Role != RoleOutline {
			continue
		}
		switch s := it.Shape.(type) {
		case Line:
			lines = append(lines, s)
		case Circle:
			arcs = append(arcs, Arc{Center: s.Center, Radius: s.Radius, End: 360})
		case Arc:
			arcs = append(arcs, s)
		}
	}
	edges, round := len(lines), len(arcs) // the edges come first
	for _, it := range v.Items {
		if it.Role != RoleThin {
			continue
		}
		switch s := it.Shape.(type) {
		case Line:
			lines = append(lines, s)
		case Arc:
			arcs = append(arcs, s)
		}
	}
	for i, a := range lines {
		for _, b := range lines[:min(i, edges)] {
			least = min(least, apart(a, b))
		}
	}
	for i, a := range arcs {
		for _, b := range arcs[:min(i, round)] {
			least = min(least, arcsApart(a, b))
		}
		for k, l := range lines {
			if i < round || k < edges {
				least = min(least, alongArc(a, func(p Point) float64 { return fromLine(p, l) }))
			}
		}
	}
	return least * st.PaperScale()
}

// apart returns the distance of two parallel lines that run beside each other for
// longer than that.
func apart(a, b Line) float64 {
	u, w := a.To.Sub(a.From), b.To.Sub(b.From)
	long := u.Len()
	if math.Abs(u.X*w.Y-u.Y*w.X) > 1e-9*long*w.Len() {
		return math.Inf(1)
	}
	u = u.Mul(1 / long)
	p, q := b.From.Sub(a.From), b.To.Sub(a.From)
	s, e := p.X*u.X+p.Y*u.Y, q.X*u.X+q.Y*u.Y
	d := math.Abs(p.X*u.Y - p.Y*u.X)
	if d > 1e-6 && min(long, max(s, e))-max(0, min(s, e)) > d {
		return d
	}
	return math.Inf(1)
}

// arcsApart returns the distance of two arcs that run beside each other.
func arcsApart(a, b Arc) float64 {
	if a.Center.Sub(b.Center).Len() < 1e-6 {
		d := math.Abs(a.Radius - b.Radius)
		if d > 1e-6 && (plane.Norm(b.Start-a.Start) < plane.Sweep(a.Start, a.End) || plane.Norm(a.Start-b.Start) < plane.Sweep(b.Start, b.End)) {
			return d
		}
		return math.Inf(1)
	}
	if plane.Sweep(a.Start, a.End)*a.Radius > plane.Sweep(b.Start, b.End)*b.Radius {
		a, b = b, a
	}
	return alongArc(a, func(p Point) float64 {
		v := p.Sub(b.Center)
		if sweep := plane.Sweep(b.Start, b.End); plane.Norm(v.Angle()-b.Start) > sweep {
			return math.Inf(1)
		}
		return math.Abs(v.Len() - b.Radius)
	})
}

// alongArc returns the distance of an arc from something that runs beside all of it,
// nearly the same from end to end.
func alongArc(a Arc, from func(Point) float64) float64 {
	low, high := math.Inf(1), 0.0
	const parts = 8
	for i := range parts + 1 {
		t := 0.02 + 0.96*float64(i)/parts
		d := from(a.Center.Add(Polar(a.Radius, a.Start+t*plane.Sweep(a.Start, a.End))))
		low, high = min(low, d), max(high, d)
	}
	if low < 1e-6 || high > 1.5*low || plane.Sweep(a.Start, a.End)*a.Radius*math.Pi/180 < low {
		return math.Inf(1)
	}
	return low
}

// fromLine returns how far a point is from a line beside it.
func fromLine(p Point, l Line) float64 {
	u, w := l.To.Sub(l.From), p.Sub(l.From)
	long := u.Len()
	if t := (u.X*w.X + u.Y*w.Y) / long; !(t >= 0 && t <= long) { // nor of a line of no length
		return math.Inf(1)
	}
	return math.Abs(u.X*w.Y-u.Y*w.X) / long
}

// LeastApart is how far parallel lines stand apart at least, mm on paper (ISO
// 128-2: twice the width of the wider line, and not less than 0.7 mm).
const LeastApart = 0.7
