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
}

// Costs of what should not be. A label that touches something outweighs any
// number of crossing lines, and those any distance.
const (
	costLabel    = 1e6
	costCollide  = 1e4
	costCrossing = 200
	costCrossExt = 40
	costThrough  = 250 // a leader across an edge of the part
	costRow      = 10
	costFar      = 0.3 // a millimetre on paper between a label and its dimension
	costBeside   = 4
	maxRows      = 12
)

// take keeps the place of the cheapest candidate.
func (a *arranger) take() {
	x := a.kept
	n := extensionLines(x)
	a.strokesOf(x)
	for i := range a.strokes {
		a.lines = append(a.lines, placedLine{a.strokes[i], i < n})
	}
	if x.shown {
		a.labels = append(a.labels, labelRect(x))
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

// collisions returns the cost of what x touches, or anything not below the
// limit once that is reached.
func (a *arranger) collisions(x *Expansion, limit float64) float64 {
	cost := 0.0
	label := labelRect(x)
	clear := label.Grown(0.6 * a.mm)
	// A label along a slanting edge is outside by its offset, though its box
	// may reach into the corner of the extent.
	if square(x.text.Angle) && clear.Overlaps(a.outline.Grown(a.mm)) {
		cost += costLabel
	}
	for i := range a.labels {
		if clear.Overlaps(a.labels[i]) {
			cost += costLabel
		}
	}
	if cost >= limit {
		return cost
	}
	around := a.strokesOf(x)
	// One look at all that has been placed finds what is near the candidate.
	tight := label.Grown(0.3 * a.mm)
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
		r := a.labels[i].Grown(0.3 * a.mm)
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
			}
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
	case plane.Cross(l.From.vec(), l.To.vec(), o.From.vec(), o.To.vec()):
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
