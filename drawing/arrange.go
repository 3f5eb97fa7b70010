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
	items := make([]Item, 0, len(v.Items))
	var straight, shelved []int
	for i := range v.Items {
		switch v.Items[i].Shape.(type) {
		case Linear, Aligned, Angular:
			straight = append(straight, len(items))
		case Diameter, Radius, Leader:
			shelved = append(shelved, len(items))
		default:
			items = append(items, v.Items[i])
			continue
		}
		if st.Labels == NoLabels {
			straight, shelved = straight[:0], shelved[:0]
			continue
		}
		items = append(items, v.Items[i])
	}
	v.Items = items
	if len(straight)+len(shelved) == 0 {
		return v
	}
	a := newArranger(items, st, len(straight)+len(shelved))
	a.straight(straight)
	a.shelved(shelved)
	return v
}

// A body is a dimension that is to stand straight, while it is being placed.
type body struct {
	item   int // index in the items
	group  int // linear dimensions by their side, and the others; in the order of placing
	span   float64
	linear Linear // where it is one
}

// The groups in the order of placing: the sides that an angle faces, the
// angles, the other sides, and what is aligned.
const (
	facedSides = 0
	angles     = facedSides + 4
	otherSides = angles + 1
	slanting   = otherSides + 4
)

func (b *body) isLinear() bool { return b.group != angles && b.group != slanting }

// straight places the dimensions with a straight dimension line and the
// angles. An angle goes round what stands on the sides that it faces, and the
// rest keeps clear of the lines that it then has.
func (a *arranger) straight(indices []int) {
	bodies := make([]body, len(indices))
	faced := [len(a.sides)]bool{}
	for n, i := range indices {
		b := &bodies[n]
		b.item = i
		switch d := a.items[i].Shape.(type) {
		case Linear:
			b.linear, b.span, b.group = d, d.span(), otherSides+len(faced)-1-sideIndex(d.Side)
			if d.Turn != 0 {
				b.group = slanting
			}
		case Aligned:
			b.span, b.group = d.To.Sub(d.From).Len(), slanting
		case Angular:
			b.group = angles
			faced[len(faced)-1-sideIndex(d.faces())] = true
		}
	}
	for n := range bodies {
		if b := &bodies[n]; b.isLinear() && faced[b.group-otherSides] {
			b.group += facedSides - otherSides
		}
	}
	slices.SortStableFunc(bodies, func(b, c body) int {
		if b.group != c.group {
			return b.group - c.group
		}
		return compare(b.span, c.span) // shorter ones go nearer to the outline
	})
	a.expectAll(bodies)
	for rest := bodies; len(rest) > 0; {
		n := 1
		for n < len(rest) && rest[n].group == rest[0].group {
			n++
		}
		a.placeGroup(rest[:n])
		rest = rest[n:]
	}
	shareExtensionLines(bodies)
	for n := range bodies {
		if b := &bodies[n]; b.isLinear() {
			a.items[b.item].Shape = b.linear
		}
	}
}

func (a *arranger) placeGroup(bodies []body) {
	if bodies[0].isLinear() {
		a.placeSide(bodies)
		return
	}
	for n := range bodies {
		switch s := a.items[bodies[n].item].Shape.(type) {
		case Linear:
			a.placeTurned(&s)
			a.items[bodies[n].item].Shape = s
		case Aligned:
			a.placeAligned(&s)
			a.items[bodies[n].item].Shape = s
		case Angular:
			a.placeAngular(&s)
			a.items[bodies[n].item].Shape = s
		}
	}
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

// solidOutline is the extent of a view with its texts, but without its centre
// lines, which run past it.
func solidOutline(items []Item, st Style) Rect {
	r := EmptyRect()
	for i := range items {
		if t, ok := items[i].Shape.(Text); ok {
			r = r.Union(t.Bounds(st))
		} else if items[i].Role != RoleCentre {
			r = r.Union(bounds(items[i].Shape)) // dimensions have none
		}
	}
	if r.Empty() {
		r = Rect{}
	}
	return r
}

// An arranger remembers what has been placed. It tries one candidate after the
// other: each is expanded in next, and changes places with kept where it costs
// less.
type arranger struct {
	pen     pen
	mm      float64 // a millimetre on paper
	items   []Item
	outline Rect
	sides   [4]side // by Side
	labels  []placedLabel
	lines   []placedLine
	axes    []stroke // centre lines
	edges   []stroke // the other lines of the view; see edgesOfView
	// expected is how many of the lines, the first ones, stand for extension
	// lines of angles still to come.
	expected   int
	near       []*placedLine // the lines near the candidate
	strokes    []stroke      // the lines of the candidate
	next, kept *Expansion
	lowest     float64
	expansions [2]Expansion
	fewStrokes [8]stroke // what strokes needs but for arcs
}

func newArranger(items []Item, st Style, dimensions int) *arranger {
	a := &arranger{pen: newPen(st), mm: st.Part(1), items: items, outline: solidOutline(items, st)}
	a.next, a.kept = &a.expansions[0], &a.expansions[1]
	a.labels = make([]placedLabel, 0, dimensions)
	a.lines = make([]placedLine, 0, 3*dimensions)
	a.near = make([]*placedLine, 0, dimensions+8)
	a.strokes = a.fewStrokes[:0]
	a.axes = axesOf(items)
	for i := range items { // what the view says keeps its place
		if t, ok := items[i].Shape.(Text); ok {
			a.labels = append(a.labels, placedLabel{t.Bounds(st), loose})
		}
	}
	return a
}

// begin starts a search. It keeps nothing where no candidate has a cost that
// is a number.
func (a *arranger) begin() {
	a.lowest = math.Inf(1)
	a.kept.reset()
}

// better reports whether the candidate in next, whose cost before that of its
// lines is given, is the cheapest so far, and keeps it if it is.
func (a *arranger) better(cost float64) bool {
	if cost += a.collisions(a.next, a.lowest-cost); cost >= a.lowest {
		return false
	}
	a.lowest = cost
	a.next, a.kept = a.kept, a.next
	return true
}

// blank returns an empty expansion for the next candidate.
func (a *arranger) blank() *Expansion {
	a.next.reset()
	return a.next
}
