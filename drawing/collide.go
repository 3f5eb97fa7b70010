package drawing

import (
	"math"

	"boltplate/internal/plane"
)

// support returns how far the view reaches in the direction of the unit vector
// n, its centre lines and dimensions aside.
func support(items []Item, n Point) float64 {
	far := math.Inf(-1)
	at := func(p Point, r float64) { far = max(far, dot(p, n)+r) }
	for i := range items {
		if items[i].Role == RoleCentre {
			continue
		}
		switch s := items[i].Shape.(type) {
		case Line:
			at(s.From, 0)
			at(s.To, 0)
		case Circle:
			at(s.Center, s.Radius)
		case Arc:
			at(s.Center.Add(Polar(s.Radius, s.Start)), 0)
			at(s.Center.Add(Polar(s.Radius, s.End)), 0)
			if plane.InArc(n.Angle(), s.Start, s.End) {
				at(s.Center, s.Radius)
			}
		default:
			if b := bounds(s); !b.Empty() {
				for _, p := range [4]Point{b.Min, b.Max, {b.Min.X, b.Max.Y}, {b.Max.X, b.Min.Y}} {
					at(p, 0)
				}
			}
		}
	}
	return far
}

// A placedLine belongs to a dimension that has its place.
type placedLine struct {
	stroke
	extension bool
	leader    bool // the oblique line of one
}

// A placedLabel is a label that has its place.
type placedLabel struct {
	Rect
	stand stand
}

// A stand is how a label stands.
type stand uint8

const (
	framed  stand = iota // between its own extension lines
	loose                // beside them
	onShelf              // of a leader
)

// Costs of what should not be. A label that touches something outweighs any
// number of crossing lines, and those any distance.
const (
	costLabel    = 1e6
	costCollide  = 1e4
	costCrossing = 200
	costCrossExt = 40
	costCrowd    = 1e4 // a label on a shelf nearer to another than the height of text
	costNear     = 25  // the same of two labels that stand beside their extension lines
	costLeaders  = 1e4 // two leaders that cross
	costOffArc   = 30  // the label of an angle beside it, where it has room inside
	costThrough  = 250 // a leader or an arc across an edge of the part
	costRow      = 10
	costGap      = 60  // a row that is left empty
	costFirst    = 15  // a row that is left empty before the first
	costFar      = 0.3 // a millimetre on paper between a label and its dimension
	costBeside   = 4
	maxRows      = 12
	maxGapRows   = 64 // in which empty rows count
)

// take keeps the place of the cheapest candidate, whose label stands as told.
func (a *arranger) take(s stand) {
	x := a.kept
	n := extensionLines(x)
	a.strokesOf(x)
	for i := range a.strokes {
		a.lines = append(a.lines, placedLine{a.strokes[i], i < n, x.shelf && i == 0})
	}
	if x.shown {
		a.labels = append(a.labels, placedLabel{labelRect(x), s})
	}
}

// extensionLines returns how many of the lines of x are extension lines; they
// come first.
func extensionLines(x *Expansion) int {
	switch {
	case x.shelf:
		return 0
	case x.nc > 0: // its dimension line is an arc
		return x.nl
	}
	return max(0, x.nl-1)
}

func labelRect(x *Expansion) Rect {
	r := Rect{x.box[0], x.box[0]}
	for _, p := range x.box[1:] {
		r = r.Including(p)
	}
	return r
}

// A stroke is a line with its extent.
type stroke struct {
	Line
	extent Rect
}

func strokeOf(l Line) stroke { return stroke{l, l.Bounds()} }

// collisions returns the cost of the lines that x touches, those that touch
// its label included, or anything not below the limit once that is reached.
func (a *arranger) collisions(x *Expansion, limit float64) float64 {
	cost := 0.0
	label := labelRect(x)
	around := a.strokesOf(x)
	// One look at all that has been placed finds what is near the candidate.
	tight := label.Grown(room * a.mm)
	around = around.Union(tight).Grown(beside * a.mm)
	a.near = a.near[:0]
	for i := range a.lines {
		l := &a.lines[i]
		if !around.Overlaps(l.extent) {
			continue
		}
		a.near = append(a.near, l)
		if tight.Overlaps(l.extent) && hits(&l.Line, tight) {
			cost += costLabel
		}
	}
	for i := range a.labels {
		r := a.labels[i].Rect.Grown(room * a.mm)
		if !r.Overlaps(around) {
			continue
		}
		for j := range a.strokes {
			if s := &a.strokes[j]; r.Overlaps(s.extent) && hits(&s.Line, r) {
				cost += costLabel
			}
		}
	}
	ext := extensionLines(x)
	for i := range a.strokes {
		if cost >= limit {
			return cost
		}
		s := &a.strokes[i]
		extent := s.extent.Grown(beside * a.mm)
		for _, o := range a.near {
			if extent.Overlaps(o.extent) {
				cost += lineCost(&s.Line, i < ext, o, a.mm)
				if o.leader && x.shelf && i == 0 && crosses(&s.Line, &o.Line) {
					cost += costLeaders
				}
			}
		}
	}
	return cost
}

// labelCost returns what a label costs that touches another one, the outline or
// a centre line, or stands too near. upright says that it is not along a
// slanting edge: such a label is outside by its offset, though its box may
// reach into the corner of the extent.
func (a *arranger) labelCost(label Rect, s stand, upright bool) (cost float64) {
	clear := label.Grown(room * a.mm)
	if upright && clear.Overlaps(a.outline.Grown(a.mm)) {
		cost += costLabel
	}
	apart, near := clear, 0.0
	if s != framed {
		apart = label.Grown(max(a.pen.height, room*a.mm))
	}
	for i := range a.labels {
		l := &a.labels[i]
		switch {
		case !apart.Overlaps(l.Rect):
		case clear.Overlaps(l.Rect):
			cost += costLabel
		case s == onShelf:
			cost += costCrowd
		case l.stand != framed:
			near = costNear
		}
	}
	cost += near
	for i := range a.axes {
		if l := &a.axes[i]; clear.Overlaps(l.extent) && hits(&l.Line, clear) {
			cost += costLabel
		}
	}
	return cost
}

// strokesOf sets a.strokes to the lines of x, arcs as chords, and returns their
// extent.
func (a *arranger) strokesOf(x *Expansion) Rect {
	a.strokes = a.strokes[:0]
	for _, l := range x.Lines() {
		a.strokes = append(a.strokes, strokeOf(l))
	}
	if x.nc > 0 {
		a.chords(x)
	}
	r := EmptyRect()
	for i := range a.strokes {
		r = r.Union(a.strokes[i].extent)
	}
	return r
}

// chords appends the dimension arcs of x to the strokes as short lines.
func (a *arranger) chords(x *Expansion) {
	const pieces = 12
	for _, c := range x.Arcs() {
		sweep := plane.Sweep(c.Start, c.End)
		last := c.Center.Add(Polar(c.Radius, c.Start))
		for i := range pieces {
			next := c.Center.Add(Polar(c.Radius, c.Start+sweep*float64(i+1)/pieces))
			a.strokes = append(a.strokes, strokeOf(Line{last, next}))
			last = next
		}
	}
}

// hitsLabel reports whether a line comes nearer to the label of x than grown,
// however the label is turned.
func hitsLabel(l *Line, x *Expansion, grown float64) bool {
	u, v := x.box[1].Sub(x.box[0]), x.box[3].Sub(x.box[0])
	w, h := u.Len(), v.Len()
	if w == 0 || h == 0 {
		return false
	}
	local := func(p Point) Point {
		p = p.Sub(x.box[0])
		return Point{dot(p, u) / w, dot(p, v) / h}
	}
	turned := Line{local(l.From), local(l.To)}
	return hits(&turned, Rect{Max: Point{w, h}}.Grown(grown))
}

// axesOf returns the centre lines of a view, which run past its outline.
func axesOf(items []Item) (axes []stroke) {
	for i := range items {
		if l, ok := items[i].Shape.(Line); ok && items[i].Role == RoleCentre {
			axes = append(axes, strokeOf(l))
		}
	}
	return axes
}

// edgesOfView returns the lines of the view, curves as chords, without its
// centre lines.
func (a *arranger) edgesOfView() []stroke {
	if a.edges != nil {
		return a.edges
	}
	a.edges = make([]stroke, 0, 2*len(a.items))
	add := func(p, q Point) { a.edges = append(a.edges, strokeOf(Line{p, q})) }
	for i := range a.items {
		if a.items[i].Role != RoleCentre {
			eachChord(a.items[i].Shape, add)
		}
	}
	return a.edges
}

// eachChord calls f for pieces that roughly follow a curve.
func eachChord(s Shape, f func(p, q Point)) {
	const rough = 0.2
	var buf [64]Point
	each := func(ps []Point) {
		for i := 1; i < len(ps); i++ {
			f(ps[i-1], ps[i])
		}
	}
	switch s := s.(type) {
	case Line:
		f(s.From, s.To)
	case Arc, Circle, Ellipse, Conic:
		each(flattener{rough}.curve(buf[:0], s))
	case Polyline, Hatch:
		for _, ps := range Flatten(s, rough) {
			each(ps)
		}
	}
}

func crosses(l, o *Line) bool { return plane.Cross(l.From.vec(), l.To.vec(), o.From.vec(), o.To.vec()) }

func hits(l *Line, r Rect) bool { return plane.SegmentHitsBox(l.From.vec(), l.To.vec(), box(r)) }

// square reports whether a direction is along an axis.
func square(angle float64) bool { return math.Mod(angle, 90) == 0 }

func box(r Rect) plane.Box { return plane.Box{Min: r.Min.vec(), Max: r.Max.vec()} }

func lineCost(l *Line, extension bool, o *placedLine, mm float64) float64 {
	switch {
	case nearlyCollinear(l, &o.Line, mm):
		if extension && o.extension {
			return 0 // one of them will be hidden
		}
		return costCollide
	case crosses(l, &o.Line):
		if extension && o.extension {
			return costCrossExt / 4
		}
		if extension || o.extension {
			return costCrossExt
		}
		return costCrossing
	}
	return 0
}

// room is how far a line keeps from a label, so that an arrowhead on it is
// clear too, mm on paper.
const room = 0.6

// leastApart is the least distance of two lines, mm on paper (ISO 128-2).
const leastApart = 0.7

// beside is how near to each other parallel lines must not run, mm on paper.
const beside = 1.5

// nearlyCollinear reports whether two parallel lines run nearer than that.
func nearlyCollinear(l, o *Line, mm float64) bool {
	d, e := l.To.Sub(l.From), o.To.Sub(o.From)
	// Squares first: most pairs are not parallel.
	cross, ld2 := d.X*e.Y-d.Y*e.X, dot(d, d)
	if cross*cross > 0.02*0.02*ld2*dot(e, e) {
		return false
	}
	ld := math.Sqrt(ld2)
	u := d.Mul(1 / ld)
	p, q := o.From.Sub(l.From), o.To.Sub(l.From)
	off := math.Abs(p.X*u.Y - p.Y*u.X)
	s, t := dot(p, u), dot(q, u)
	if s > t {
		s, t = t, s
	}
	return off < beside*mm && s < ld-1e-9 && t > 1e-9
}
