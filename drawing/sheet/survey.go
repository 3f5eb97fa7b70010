package sheet

import (
	"cmp"
	"math"
	"slices"

	"boltplate/drawing"
	"boltplate/internal/plane"
)

// The surroundings are what references keep clear of, in millimetres of paper
// about the origin of a figure.
type surroundings struct {
	labels []drawing.Rect
	lines  []drawing.Line   // of dimensions
	edges  [][]drawing.Line // visible edges of the views
	solid  drawing.Rect     // extent of the views without their dimensions
}

// survey returns the surroundings of the references of a drawing at a scale.
func survey(d *drawing.Drawing, st drawing.Style, k float64) *surroundings {
	s := &surroundings{solid: drawing.EmptyRect()}
	for _, v := range d.Views {
		s.edges = append(s.edges, s.items(v.View.Items, v.Transform(), st, k))
	}
	s.edges = append(s.edges, s.items(d.Items, drawing.Transform{}, st, k))
	for _, edges := range s.edges {
		for _, l := range edges {
			s.solid = s.solid.Union(l.Bounds())
		}
	}
	return s
}

// items takes in the labels and lines of items and returns their edges.
func (s *surroundings) items(items []drawing.Item, t drawing.Transform, st drawing.Style, k float64) (edges []drawing.Line) {
	st.Scale = k * t.K()
	to := func(p drawing.Point) drawing.Point { return t.Point(p).Mul(k) }
	for i := range items {
		if x, ok := drawing.Expand(items[i].Shape, st); ok {
			for _, l := range x.Lines() {
				s.lines = append(s.lines, drawing.Line{From: to(l.From), To: to(l.To)})
			}
			if box, ok := x.LabelBox(); ok {
				s.labels = append(s.labels, rectOf(box, to))
			}
			continue
		}
		if t, ok := items[i].Shape.(drawing.Text); ok {
			s.labels = append(s.labels, rectOf(t.Box(st), to))
		} else if items[i].Role == drawing.RoleOutline {
			edges = append(edges, chords(items[i].Shape, to)...)
		}
	}
	return edges
}

func rectOf(box [4]drawing.Point, to func(drawing.Point) drawing.Point) drawing.Rect {
	r := drawing.EmptyRect()
	for _, p := range box {
		r = r.Including(to(p))
	}
	return r
}

// chords returns an edge as lines, a round one as short ones.
func chords(s drawing.Shape, to func(drawing.Point) drawing.Point) []drawing.Line {
	var a drawing.Arc
	switch s := s.(type) {
	case drawing.Line:
		return []drawing.Line{{From: to(s.From), To: to(s.To)}}
	case drawing.Polyline:
		var out []drawing.Line
		for i := 1; i < len(s.Vertices); i++ {
			out = append(out, drawing.Line{From: to(s.Vertices[i-1].Point), To: to(s.Vertices[i].Point)})
		}
		return out
	case drawing.Arc:
		a = s
	case drawing.Circle:
		a = drawing.Arc{Center: s.Center, Radius: s.Radius, End: 360}
	default:
		return nil
	}
	const pieces = 24
	sweep := plane.Sweep(a.Start, a.End)
	at := func(i int) drawing.Point {
		return to(a.Center.Add(drawing.Polar(a.Radius, a.Start+sweep*float64(i)/pieces)))
	}
	var out []drawing.Line
	for i := range pieces {
		out = append(out, drawing.Line{From: at(i), To: at(i + 1)})
	}
	return out
}

// inside returns points inside the part that a view shows, those with the most
// room about them first: below its upper outline, above the next edge.
func inside(edges []drawing.Line) []drawing.Point {
	box := drawing.EmptyRect()
	for _, l := range edges {
		box = box.Union(l.Bounds())
	}
	if box.Empty() {
		return nil
	}
	type candidate struct {
		at   drawing.Point
		room float64
	}
	var all []candidate
	const steps = 24
	for i := 1; i < steps; i++ {
		x := box.Min.X + float64(i)/steps*box.Dx()
		var ys []float64
		for _, l := range edges {
			if (l.From.X-x)*(l.To.X-x) < 0 {
				ys = append(ys, l.From.Y+(x-l.From.X)/(l.To.X-l.From.X)*(l.To.Y-l.From.Y))
			}
		}
		if len(ys) < 2 {
			continue
		}
		slices.SortFunc(ys, func(a, b float64) int { return cmp.Compare(b, a) })
		// Off the middle, where the centre line runs.
		at := drawing.Pt(x, ys[0]-0.3*(ys[0]-ys[1]))
		room := math.Inf(1)
		for _, l := range edges {
			room = min(room, distance(at, l))
		}
		// Beyond a few millimetres more room is no better.
		all = append(all, candidate{at, math.Round(min(room, 3)*4) / 4})
	}
	slices.SortStableFunc(all, func(a, b candidate) int { return cmp.Compare(b.room, a.room) })
	const most = 4
	var out []drawing.Point
	for _, c := range all[:min(most, len(all))] {
		out = append(out, c.at)
	}
	return out
}

// distance returns how far p is from a line.
func distance(p drawing.Point, l drawing.Line) float64 {
	d, q := l.To.Sub(l.From), p.Sub(l.From)
	n := d.X*d.X + d.Y*d.Y
	if n == 0 {
		return q.Len()
	}
	t := max(0, min(1, (q.X*d.X+q.Y*d.Y)/n))
	return q.Sub(d.Mul(t)).Len()
}
