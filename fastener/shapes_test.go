package fastener_test

import (
	"math"

	"boltplate/drawing"
	"boltplate/internal/plane"
)

// mirrored returns the mirror image of a view in the horizontal axis.
func mirrored(v drawing.View) drawing.View {
	flip := func(p drawing.Point) drawing.Point { return drawing.Pt(p.X, -p.Y) }
	return changed(v, flip, true)
}

// changed returns a view with every point moved by a turn or a mirror image;
// mirror says that it is one, so that arcs run the other way.
func changed(v drawing.View, at func(drawing.Point) drawing.Point, mirror bool) drawing.View {
	origin := at(drawing.Pt(0, 0))
	turn := func(deg float64) float64 {
		p := at(drawing.Polar(1, deg)).Sub(origin)
		return plane.Degrees(p.X, p.Y)
	}
	out := v
	out.Items = nil
	for _, it := range v.Items {
		switch s := it.Shape.(type) {
		case drawing.Line:
			it.Shape = drawing.Line{From: at(s.From), To: at(s.To)}
		case drawing.Circle:
			it.Shape = drawing.Circle{Center: at(s.Center), Radius: s.Radius}
		case drawing.Arc:
			from, to := turn(s.Start), turn(s.End)
			if mirror {
				from, to = to, from
			}
			it.Shape = drawing.Arc{Center: at(s.Center), Radius: s.Radius, Start: from, End: to}
		case drawing.Ellipse:
			e := drawing.Ellipse{Center: at(s.Center), Major: at(s.Major).Sub(origin), Ratio: s.Ratio,
				Start: s.Start, End: s.End}
			if mirror && !s.Whole() {
				e.Start, e.End = plane.Norm(-s.End), plane.Norm(-s.Start)
			}
			it.Shape = e
		case drawing.Conic:
			it.Shape = drawing.Conic{From: at(s.From), Control: at(s.Control), To: at(s.To), Weight: s.Weight}
		case drawing.Polyline:
			p := drawing.Polyline{Closed: s.Closed}
			for _, w := range s.Vertices {
				w.Point = at(w.Point)
				if mirror {
					w.Bulge = -w.Bulge
				}
				p.Vertices = append(p.Vertices, w)
			}
			it.Shape = p
		default:
			continue
		}
		out.Items = append(out.Items, it)
	}
	return out
}

// endsOf returns the ends of a shape; none where it is closed.
func endsOf(s drawing.Shape) []drawing.Point {
	switch s := s.(type) {
	case drawing.Line:
		return []drawing.Point{s.From, s.To}
	case drawing.Arc:
		return []drawing.Point{s.Center.Add(drawing.Polar(s.Radius, s.Start)),
			s.Center.Add(drawing.Polar(s.Radius, s.End))}
	case drawing.Conic:
		return []drawing.Point{s.From, s.To}
	case drawing.Ellipse:
		if !s.Whole() {
			return []drawing.Point{s.At(s.Start), s.At(s.End)}
		}
	case drawing.Polyline:
		if n := len(s.Vertices); !s.Closed && n > 0 {
			return []drawing.Point{s.Vertices[0].Point, s.Vertices[n-1].Point}
		}
	}
	return nil
}

// pointsOf returns points of a conic or polyline.
func pointsOf(s drawing.Shape) []drawing.Point {
	var out []drawing.Point
	switch s := s.(type) {
	case drawing.Conic:
		for i := range 9 {
			out = append(out, drawing.Point(plane.Conic(plane.Vec(s.From), plane.Vec(s.Control),
				plane.Vec(s.To), s.Weight, float64(i)/8)))
		}
	case drawing.Polyline:
		step := max(1, len(s.Vertices)/32)
		for i := 0; i < len(s.Vertices); i += step {
			out = append(out, s.Vertices[i].Point)
			if i+1 < len(s.Vertices) {
				if a, ok := drawing.BulgeArc(s.Vertices[i], s.Vertices[i+1].Point); ok {
					out = append(out, a.Center.Add(drawing.Polar(a.Radius, a.Start+plane.Sweep(a.Start, a.End)/2)))
				}
			}
		}
	}
	return out
}

// distanceFrom returns how far p is from a shape, exactly but for conics, of
// which the nearest point is found by halving.
func distanceFrom(p drawing.Point, s drawing.Shape) float64 {
	best := math.Inf(1)
	for _, e := range endsOf(s) {
		best = math.Min(best, e.Sub(p).Len())
	}
	onArc := func(c drawing.Point, r, start, end float64) {
		q := p.Sub(c)
		if start == end || plane.InArc(q.Angle(), start, end) {
			best = math.Min(best, math.Abs(q.Len()-r))
		}
	}
	switch s := s.(type) {
	case drawing.Line:
		best = math.Min(best, offSegment(p, s.From, s.To))
	case drawing.Circle:
		onArc(s.Center, s.Radius, 0, 0)
	case drawing.Arc:
		onArc(s.Center, s.Radius, s.Start, s.End)
	case drawing.Ellipse:
		// In the measure of the ellipse it is a circle; beside it the distance
		// is that along the radius, as near as the tests ask.
		v := drawing.Pt(-s.Major.Y, s.Major.X).Mul(s.Ratio)
		q := p.Sub(s.Center)
		u := s.Major
		t := plane.Degrees((q.X*u.X+q.Y*u.Y)/(u.X*u.X+u.Y*u.Y), (q.X*v.X+q.Y*v.Y)/(v.X*v.X+v.Y*v.Y))
		if s.Whole() || plane.InArc(t, s.Start, s.End) {
			best = math.Min(best, p.Sub(s.At(t)).Len())
		}
	case drawing.Conic:
		at := func(t float64) float64 {
			return p.Sub(drawing.Point(plane.Conic(plane.Vec(s.From), plane.Vec(s.Control),
				plane.Vec(s.To), s.Weight, t))).Len()
		}
		near := 0.0
		for i := range 65 {
			if t := float64(i) / 64; at(t) < at(near) {
				near = t
			}
		}
		lo, hi := math.Max(0, near-1.0/64), math.Min(1, near+1.0/64)
		for range 80 {
			a, b := lo+(hi-lo)/3, hi-(hi-lo)/3
			if at(a) < at(b) {
				hi = b
			} else {
				lo = a
			}
		}
		best = math.Min(best, at(lo))
	case drawing.Polyline:
		for i, v := range s.Vertices {
			if i+1 == len(s.Vertices) && !s.Closed {
				break
			}
			next := s.Vertices[(i+1)%len(s.Vertices)].Point
			if a, ok := drawing.BulgeArc(v, next); ok {
				best = math.Min(best, distanceFrom(p, a))
			} else {
				best = math.Min(best, offSegment(p, v.Point, next))
			}
		}
	}
	return best
}
