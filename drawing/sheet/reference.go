package sheet

import (
	"cmp"
	"math"
	"slices"

	"boltplate/drawing"
	"boltplate/internal/plane"
)

// A Reference is an item reference beside a figure: the number of a part in the
// parts list, twice as high as the dimensions, and a leader that ends with a
// dot inside the part (ISO 6433).
type Reference struct {
	Item string
	At   drawing.Point // inside the part, mm of the part, as in the drawing of the Source
	// Anywhere puts the dot where a view of the figure has room for it, whatever
	// At says: for figures of one part.
	Anywhere bool
}

// The measures of item references. The dot is five narrow lines wide, the
// number keeps twice the gap of text from the figure (common practice).
const (
	referenceHeight = 2.0 // in heights of dimensions
	dotWidths       = 5.0
	referenceGap    = 2.0 // mm on paper
)

// The surroundings are what references keep clear of, in millimetres of paper.
type surroundings struct {
	labels []drawing.Rect
	lines  []drawing.Line   // of dimensions
	edges  [][]drawing.Line // visible edges of the views
}

// survey returns the surroundings of the references of a figure.
func (c *composer) survey(d *drawn) surroundings {
	var s surroundings
	k := d.scale
	visit := func(items []drawing.Item, t drawing.Transform) (edges []drawing.Line) {
		st := c.st
		st.Scale = k * t.K()
		to := func(p drawing.Point) drawing.Point { return t.Point(p).Mul(k) }
		for i := range items {
			x, ok := drawing.Expand(items[i].Shape, st)
			if ok {
				for _, l := range x.Lines() {
					s.lines = append(s.lines, drawing.Line{From: to(l.From), To: to(l.To)})
				}
				if box, ok := x.LabelBox(); ok {
					s.labels = append(s.labels, rectOf(box, to))
				}
				continue
			}
			switch shape := items[i].Shape.(type) {
			case drawing.Text:
				s.labels = append(s.labels, rectOf(shape.Box(st), to))
			case drawing.Line:
				if items[i].Role == drawing.RoleOutline {
					edges = append(edges, drawing.Line{From: to(shape.From), To: to(shape.To)})
				}
			case drawing.Arc, drawing.Circle:
				if items[i].Role == drawing.RoleOutline {
					edges = append(edges, chords(shape, to)...)
				}
			}
		}
		return edges
	}
	for _, v := range d.drawing.Views {
		s.edges = append(s.edges, visit(v.View.Items, v.Transform()))
	}
	visit(d.drawing.Items, drawing.Transform{})
	return s
}

func rectOf(box [4]drawing.Point, to func(drawing.Point) drawing.Point) drawing.Rect {
	r := drawing.EmptyRect()
	for _, p := range box {
		r = r.Including(to(p))
	}
	return r
}

// chords returns a round edge as short lines.
func chords(s drawing.Shape, to func(drawing.Point) drawing.Point) []drawing.Line {
	a, ok := s.(drawing.Arc)
	if c, whole := s.(drawing.Circle); whole {
		a, ok = drawing.Arc{Center: c.Center, Radius: c.Radius, End: 360}, true
	}
	if !ok {
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

// A mark is a number with its leader, mm on paper about the origin of a figure.
type mark struct {
	text drawing.Text
	box  drawing.Rect
	line drawing.Line
	bare bool // there is no way for the leader
}

// mark adds the item references of a figure and widens its box by them.
func (c *composer) mark(d *drawn, refs []Reference) {
	if len(refs) == 0 {
		return
	}
	s := c.survey(d)
	type target struct {
		item string
		at   []drawing.Point // any of them
	}
	var targets []target
	for _, r := range refs {
		at := []drawing.Point{r.At.Mul(d.scale)}
		if r.Anywhere {
			at = nil
			for i, edges := range s.edges {
				if i == 0 || d.drawing.Views[i].View.Direction != drawing.Isometric {
					at = append(at, inside(edges)...)
				}
			}
		}
		if len(at) > 0 {
			targets = append(targets, target{r.Item, at})
		}
	}
	slices.SortStableFunc(targets, func(a, b target) int { return cmp.Compare(a.at[0].X, b.at[0].X) })
	whole := d.box
	var placed []mark
	for _, t := range targets {
		m := c.place(t.item, t.at, d.box, &s, placed)
		placed = append(placed, m)
		whole = whole.Union(m.box)
		d.marks = append(d.marks, m.items(c.st)...)
	}
	d.box = whole
}

func (m *mark) items(st drawing.Style) []drawing.Item {
	r := dotWidths * st.Narrow() / 2
	left, right := m.line.To.Add(drawing.Pt(-r, 0)), m.line.To.Add(drawing.Pt(r, 0))
	text := drawing.Item{Role: drawing.RoleText, Shape: m.text}
	if m.bare {
		return []drawing.Item{text}
	}
	return []drawing.Item{
		text,
		{Role: drawing.RoleDimension, Shape: m.line},
		{Role: drawing.RoleDimension, Shape: drawing.Hatch{Solid: true, Loops: [][]drawing.Vertex{{{Point: left, Bulge: 1}, {Point: right, Bulge: 1}}}}},
	}
}

// Costs of what a leader should not do; lengths cost a millimetre each.
const (
	costBelow   = 30.0
	costBeside  = 150.0
	costUpright = 25.0 // upright, or nearly level
	costCross   = 40.0
	costOther   = 1e5 // another reference
	costLabel   = 1e6
	costLater   = 4.0 // a point with less room
	costEdge    = 15.0
)

// place finds the place of a number above, below or beside the figure, and the
// point that its leader ends at: the leader hits no label, crosses few lines, is
// oblique and short. Where every leader would hit a label the number stands
// above the figure without one.
func (c *composer) place(item string, points []drawing.Point, box drawing.Rect, s *surroundings, placed []mark) mark {
	h := referenceHeight * c.st.Height()
	w := drawing.TextWidth(item, h)
	best, lowest := mark{}, math.Inf(1)
	try := func(x, y, fromX, fromY, extra float64) {
		m := mark{
			text: drawing.Text{At: drawing.Pt(x+w/2, y), Height: h, Align: drawing.AlignCentre, Value: item},
			box:  drawing.Rect{Min: drawing.Pt(x, y), Max: drawing.Pt(x+w, y+h)},
			line: drawing.Line{From: drawing.Pt(fromX, fromY)},
		}
		for i, p := range points {
			m.line.To = p
			if cost := m.cost(s, placed) + extra + costLater*float64(i); cost < lowest {
				lowest, best = cost, m
			}
		}
	}
	const step = 2.0
	top, bottom := box.Max.Y+referenceGap, box.Min.Y-referenceGap-h
	for x := box.Min.X; x <= max(box.Max.X-w, box.Min.X); x += step {
		try(x, top, x+w/2, top-1, 0)
		try(x, bottom, x+w/2, bottom+h+1, costBelow)
	}
	left, right := box.Min.X-referenceGap-w, box.Max.X+referenceGap
	for y := box.Min.Y; y <= max(box.Max.Y-h, box.Min.Y); y += step {
		try(left, y, left+w+1, y+h/2, costBeside)
		try(right, y, right-1, y+h/2, costBeside)
	}
	if lowest >= costLabel {
		best.bare = true
		x := box.Min.X
		for slices.ContainsFunc(placed, func(o mark) bool {
			return o.box.Grown(referenceGap).Overlaps(drawing.Rect{Min: drawing.Pt(x, top), Max: drawing.Pt(x+w, top+h)})
		}) {
			x += step
		}
		best.text.At = drawing.Pt(x+w/2, top)
		best.box = drawing.Rect{Min: drawing.Pt(x, top), Max: drawing.Pt(x+w, top+h)}
	}
	return best
}

func (m *mark) cost(s *surroundings, placed []mark) float64 {
	d := m.line.To.Sub(m.line.From)
	cost := d.Len()
	if turn := math.Abs(d.X) / d.Len(); turn < 0.17 || turn > 0.96 {
		cost += costUpright
	}
	a, b := plane.Vec(m.line.From), plane.Vec(m.line.To)
	hits := func(r drawing.Rect) bool {
		r = r.Grown(0.8)
		return plane.SegmentHitsBox(a, b, plane.Box{Min: plane.Vec(r.Min), Max: plane.Vec(r.Max)})
	}
	for _, r := range s.labels {
		if hits(r) || m.box.Grown(1).Overlaps(r) {
			cost += costLabel
		}
	}
	for _, l := range s.lines {
		if plane.Cross(a, b, plane.Vec(l.From), plane.Vec(l.To)) {
			cost += costCross
		}
	}
	for _, edges := range s.edges {
		for _, l := range edges {
			if plane.Cross(a, b, plane.Vec(l.From), plane.Vec(l.To)) {
				cost += costEdge
			}
		}
	}
	for i := range placed {
		o := &placed[i]
		if hits(o.box) || m.box.Grown(4).Overlaps(o.box) || plane.Cross(a, b, plane.Vec(o.line.From), plane.Vec(o.line.To)) {
			cost += costOther
		}
	}
	return cost
}
