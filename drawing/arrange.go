package drawing

import (
	"math"
	"slices"
)

// Arrange returns the view with its dimensions placed for the given style:
// outside the outline at fixed distances on paper, shorter ones nearer, arrows
// and labels outside where there is no room between the extension lines, and
// no label on another label, a line or the outline. Where a style has no
// labels the dimensions are left out.
func Arrange(v View, st Style) View {
	a := arranger{st: st, outline: solidOutline(v, st)}
	items := make([]Item, 0, len(v.Items))
	var straight, shelved []int
	for _, it := range v.Items {
		switch it.Shape.(type) {
		case Linear, Aligned, Angular:
			straight = append(straight, len(items))
		case Diameter, Radius, Leader:
			shelved = append(shelved, len(items))
		default:
			items = append(items, it)
			continue
		}
		if st.Labels == NoLabels {
			straight, shelved = straight[:0], shelved[:0]
			continue
		}
		items = append(items, it)
	}
	v.Items = items
	a.items = items // dimensions have no bounds
	// Shorter dimensions first: they go nearer to the outline.
	slices.SortStableFunc(straight, func(i, j int) int {
		return compare(span(items[i].Shape), span(items[j].Shape))
	})
	for _, i := range straight {
		a.expect(items[i].Shape)
	}
	for _, i := range straight {
		items[i].Shape = a.placeStraight(items[i].Shape)
	}
	shareExtensionLines(items, straight)
	for _, i := range shelved {
		items[i].Shape = a.placeShelved(items[i].Shape)
	}
	return v
}

func compare(a, b float64) int {
	// Lengths that differ by rounding only keep their order.
	switch {
	case a < b-1e-9:
		return -1
	case a > b+1e-9:
		return 1
	}
	return 0
}

func span(s Shape) float64 {
	switch d := s.(type) {
	case Linear:
		if d.Side.Vertical() {
			return math.Abs(d.To.Y - d.From.Y)
		}
		return math.Abs(d.To.X - d.From.X)
	case Aligned:
		return d.To.Sub(d.From).Len()
	case Angular:
		return math.Inf(1) // its arc goes round the others
	}
	return 0
}

// solidOutline is the extent of a view with its texts, but without its centre
// lines, which run past it.
func solidOutline(v View, st Style) Rect {
	r := EmptyRect()
	for i := range v.Items {
		if t, ok := v.Items[i].Shape.(Text); ok {
			r = r.Union(t.Bounds(st))
		} else if v.Items[i].Role != RoleCentre {
			r = r.Union(bounds(v.Items[i].Shape))
		}
	}
	if r.Empty() {
		r = Rect{}
	}
	return r
}

// An arranger remembers what has been placed.
type arranger struct {
	st      Style
	items   []Item // all but the dimensions
	outline Rect
	labels  []Rect
	lines   []placedLine
	// expected is how many of the lines, the first ones, stand for extension
	// lines of angles still to come.
	expected int
	columns  []column // in the order of placing; those before done are placed
	done     int
}

// best returns the cheapest of n candidates and takes its place. base is the
// cost of a candidate before collisions, or anything not below the limit once
// that is reached; shape makes the candidate.
func (a *arranger) best(n int, base func(i int, limit float64) float64, shape func(i int) Shape) Shape {
	var bestShape Shape
	var bestX Expansion
	lowest := math.Inf(1)
	for i := range n {
		cost := base(i, lowest)
		if cost >= lowest {
			continue
		}
		s := shape(i)
		x, _ := Expand(s, a.st)
		if cost += a.collisions(&x, lowest-cost); cost < lowest {
			lowest, bestShape, bestX = cost, s, x
		}
	}
	a.take(&bestX)
	return bestShape
}
