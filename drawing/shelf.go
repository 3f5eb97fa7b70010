package drawing

import (
	"math"

	"boltplate/internal/plane"
)

// shelfAngles are the directions tried for a leader, as turns from the one
// that is wanted, in the order of preference.
var shelfAngles = [...]float64{0, 10, -10, 20, -20, 30, -30, 45, -45, 60, -60, 75, -75, 90, -90, 120, -120, 150, -150, 180}

const (
	shelfReaches = 6
	costReach    = 100 // for each step further off
	costTurn     = 4
	costLevel    = 40  // shelf and leader are all but one line
	costLength   = 0.2 // a millimetre of a leader on paper
)

// A spot is what a leader points at: a place, or the circle that an arc is a
// part of.
type spot struct {
	at     Point
	radius float64 // 0 for a place
	angle  float64 // wanted direction
	// Where only an arc is drawn its ends; equal for all directions.
	start, end float64
	fixed      bool // points in the wanted direction only
	crossing   bool // it starts at the outline and should not run through the part
}

// touches reports whether the arrow meets what it points at in a direction.
func (s *spot) touches(angle float64) bool {
	switch {
	case s.start != s.end:
		return plane.InArc(angle, s.start, s.end)
	case s.fixed:
		return angle == s.angle
	}
	return true
}

// A claim is what a placed leader takes up: its labels and its lines from one
// index to the other.
type claim struct{ labels, lines [2]int }

// shelved places the leaders, the diameters and the radii. Where one is in the
// way of another, each in turn looks for a better place.
func (a *arranger) shelved(indices []int) {
	const rounds = 3
	claims := make([]claim, len(indices))
	wanted := make([]Shape, len(indices))
	for round := range rounds {
		clean := true
		for n, i := range indices {
			if round == 0 {
				wanted[n] = a.items[i].Shape
			} else {
				a.drop(claims[n])
			}
			labels, lines := len(a.labels), len(a.lines)
			a.items[i].Shape = a.placeShelved(wanted[n])
			claims[n] = claim{[2]int{labels, len(a.labels)}, [2]int{lines, len(a.lines)}}
			clean = clean && a.lowest < costCollide
		}
		if clean {
			return
		}
	}
}

// drop forgets what a claim takes up.
func (a *arranger) drop(c claim) {
	for i := c.labels[0]; i < c.labels[1]; i++ {
		a.labels[i].Rect = EmptyRect()
	}
	for i := c.lines[0]; i < c.lines[1]; i++ {
		a.lines[i].extent = EmptyRect()
	}
}

// placeShelved returns a leader, a diameter or a radius in its place.
func (a *arranger) placeShelved(s Shape) Shape {
	switch d := s.(type) {
	case Leader:
		d.Label = d.Label.resolved(a.pen.style)
		d.Shelf, d.Angle = a.placeShelf(&d.Label, &spot{at: d.Tip, angle: d.Angle, crossing: true})
		return d
	case Diameter:
		d.Label = d.Label.resolved(a.pen.style)
		d.Shelf, d.Angle = a.placeShelf(&d.Label, &spot{at: d.Center, radius: d.Radius, angle: d.Angle, start: d.Start, end: d.End})
		return d
	case Radius:
		d.Label = d.Label.resolved(a.pen.style)
		d.Shelf, d.Angle = a.placeShelf(&d.Label, &spot{at: d.Center, radius: d.Radius, angle: d.Angle, start: d.Start, end: d.End, fixed: true})
		return d
	}
	return s
}

// edgesCrossed returns how many edges of the view a leader crosses.
func (a *arranger) edgesCrossed(from, to Point) (n int) {
	l := strokeOf(Line{from, to})
	for i, edges := 0, a.edgesOfView(); i < len(edges); i++ {
		if e := &edges[i]; l.extent.Grown(1e-9).Overlaps(e.extent.Grown(1e-9)) && crosses(&l.Line, &e.Line) {
			n++
		}
	}
	return n
}

// A direction is one of those in which a leader may go, with what is the same
// for every reach.
type direction struct {
	known bool
	tip   Point
	u     Point
	leave float64 // how far it goes inside the outline
	cost  float64
}

// direction works out a direction: the turn-th of those tried.
func (a *arranger) direction(s *spot, turn int, out Rect, height float64) direction {
	angle := s.angle + shelfAngles[turn]
	d := direction{known: true, u: Polar(1, angle), cost: costTurn * float64(turn)}
	d.tip = s.at.Add(d.u.Mul(s.radius))
	d.leave = max(leave(d.tip, d.u, out, height), 1.5*a.pen.arrow)
	d.cost += costLength * d.leave / a.mm
	if math.Abs(d.u.Y) < 0.25 {
		d.cost += costLevel
	}
	if !s.touches(angle) {
		d.cost += 100 * costLabel // never off its line
	}
	if s.crossing {
		d.cost += costThrough * float64(a.edgesCrossed(d.tip, d.tip.Add(d.u.Mul(d.leave))))
	}
	return d
}

// placeShelf goes through directions and reaches.
func (a *arranger) placeShelf(l *Label, s *spot) (best Shelf, angle float64) {
	width := a.pen.width(l)
	out := a.outline.Grown(max(4*a.mm, a.pen.height))
	height := a.pen.height + a.pen.textGap
	var directions [len(shelfAngles)]direction
	a.begin()
	for reach := 0.0; reach < shelfReaches && costReach*reach < a.lowest; reach++ {
		for turn := range shelfAngles {
			if costReach*reach+costTurn*float64(turn) >= a.lowest {
				break
			}
			d := &directions[turn]
			if !d.known {
				*d = a.direction(s, turn, out, height)
			}
			cost := costReach*reach + d.cost
			if cost >= a.lowest {
				continue
			}
			sh := Shelf{Placed: true, Left: d.u.X < 0, Knee: d.tip.Add(d.u.Mul(d.leave + 6*a.mm*reach))}
			// The label alone rules out most places.
			if cost += a.labelCost(a.pen.shelfLabel(sh, width), onShelf, true); cost >= a.lowest {
				continue
			}
			a.blank().leader(&a.pen, l, width, d.tip, sh)
			if a.better(cost) {
				best, angle = sh, s.angle+shelfAngles[turn]
			}
		}
	}
	a.take(onShelf)
	return best, angle
}

// leave returns how far one has to go from p along u to be outside r, far
// enough below it that a label of the given height stands clear.
func leave(p, u Point, r Rect, height float64) float64 {
	far := math.Inf(1)
	if u.X > 1e-9 {
		far = min(far, (r.Max.X-p.X)/u.X)
	} else if u.X < -1e-9 {
		far = min(far, (r.Min.X-p.X)/u.X)
	}
	if u.Y > 1e-9 {
		far = min(far, (r.Max.Y-p.Y)/u.Y)
	} else if u.Y < -1e-9 {
		far = min(far, (r.Min.Y-height-p.Y)/u.Y)
	}
	return max(far, 0)
}
