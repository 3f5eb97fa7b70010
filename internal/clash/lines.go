package clash

import (
	"fmt"
	"math"

	"boltplate/drawing"
	"boltplate/internal/plane"
)

const near = 1e-6

// Doubles returns a message for every two straight lines of a view that run
// along each other: a line drawn twice, or a hidden edge or a centre line on a
// visible edge.
func Doubles(v drawing.View) []string {
	var out []string
	for i, it := range v.Items {
		l, ok := it.Shape.(drawing.Line)
		if !ok {
			continue
		}
		for _, other := range v.Items[i+1:] {
			if o, ok := other.Shape.(drawing.Line); ok && along(l, o) {
				out = append(out, fmt.Sprintf("%s %.3f and %s %.3f lie on each other", it.Role, l, other.Role, o))
			}
		}
	}
	return out
}

// along reports whether two lines have more than a point in common.
func along(l, o drawing.Line) bool {
	d := l.To.Sub(l.From)
	n := d.Len()
	u := d.Mul(1 / n)
	off := func(p drawing.Point) float64 { q := p.Sub(l.From); return math.Abs(q.X*u.Y - q.Y*u.X) }
	at := func(p drawing.Point) float64 { q := p.Sub(l.From); return q.X*u.X + q.Y*u.Y }
	if off(o.From) > near || off(o.To) > near {
		return false
	}
	s, t := at(o.From), at(o.To)
	return math.Min(math.Max(s, t), n)-math.Max(math.Min(s, t), 0) > near
}

// Gaps returns a message for every end of a visible edge that meets no other
// visible edge.
func Gaps(v drawing.View) []string {
	var out []string
	for i, it := range v.Items {
		if it.Role != drawing.RoleOutline {
			continue
		}
		for _, p := range ends(it.Shape) {
			met := false
			for j, other := range v.Items {
				if i != j && other.Role == drawing.RoleOutline && distance(p, other.Shape) < near {
					met = true
					break
				}
			}
			if !met {
				out = append(out, fmt.Sprintf("%T ends at %.4f and meets nothing", it.Shape, p))
			}
		}
	}
	return out
}

func ends(s drawing.Shape) []drawing.Point {
	switch s := s.(type) {
	case drawing.Line:
		return []drawing.Point{s.From, s.To}
	case drawing.Arc:
		return []drawing.Point{s.Center.Add(drawing.Polar(s.Radius, s.Start)), s.Center.Add(drawing.Polar(s.Radius, s.End))}
	case drawing.Conic:
		return []drawing.Point{s.From, s.To}
	case drawing.Polyline:
		if !s.Closed {
			return []drawing.Point{s.Vertices[0].Point, s.Vertices[len(s.Vertices)-1].Point}
		}
	}
	return nil
}

// sides returns the lines and arcs of a polyline.
func sides(s drawing.Polyline) []drawing.Shape {
	var out []drawing.Shape
	for i, v := range s.Vertices {
		if i+1 == len(s.Vertices) && !s.Closed {
			break
		}
		w := s.Vertices[(i+1)%len(s.Vertices)].Point
		if v.Bulge == 0 {
			out = append(out, drawing.Line{From: v.Point, To: w})
			continue
		}
		k := (1 - v.Bulge*v.Bulge) / (4 * v.Bulge)
		d := w.Sub(v.Point)
		c := v.Point.Mid(w).Add(drawing.Pt(-d.Y*k, d.X*k))
		a := drawing.Arc{Center: c, Radius: v.Point.Sub(c).Len(), Start: v.Point.Sub(c).Angle(), End: w.Sub(c).Angle()}
		if v.Bulge < 0 {
			a.Start, a.End = a.End, a.Start
		}
		out = append(out, a)
	}
	return out
}

// distance returns how far p is from a shape; conics count by their ends.
func distance(p drawing.Point, s drawing.Shape) float64 {
	switch s := s.(type) {
	case drawing.Line:
		d := s.To.Sub(s.From)
		q := p.Sub(s.From)
		t := math.Max(0, math.Min(1, (q.X*d.X+q.Y*d.Y)/(d.X*d.X+d.Y*d.Y)))
		return q.Sub(d.Mul(t)).Len()
	case drawing.Circle:
		return math.Abs(p.Sub(s.Center).Len() - s.Radius)
	case drawing.Arc:
		q := p.Sub(s.Center)
		if plane.InArc(q.Angle(), s.Start, s.End) {
			return math.Abs(q.Len() - s.Radius)
		}
	}
	far := math.Inf(1)
	if l, ok := s.(drawing.Polyline); ok {
		for _, side := range sides(l) {
			far = math.Min(far, distance(p, side))
		}
	}
	for _, e := range ends(s) {
		far = math.Min(far, e.Sub(p).Len())
	}
	return far
}
