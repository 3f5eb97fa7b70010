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
	costLevel    = 40 // shelf and leader are all but one line
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

func (a *arranger) placeShelved(it *Item) {
	switch d := it.Shape.(type) {
	case Leader:
		d.Label = d.Label.resolved(a.pen.style)
		d.Shelf, d.Angle = a.placeShelf(&d.Label, &spot{at: d.Tip, angle: d.Angle, crossing: true})
		it.Shape = d
	case Diameter:
		d.Label = d.Label.resolved(a.pen.style)
		d.Shelf, d.Angle = a.placeShelf(&d.Label, &spot{at: d.Center, radius: d.Radius, angle: d.Angle, start: d.Start, end: d.End})
		it.Shape = d
	case Radius:
		d.Label = d.Label.resolved(a.pen.style)
		d.Shelf, d.Angle = a.placeShelf(&d.Label, &spot{at: d.Center, radius: d.Radius, angle: d.Angle, start: d.Start, end: d.End, fixed: true})
		it.Shape = d
	}
}

// edgesCrossed returns how many straight edges of the view a leader crosses.
func (a *arranger) edgesCrossed(from, to Point) (n int) {
	for i := range a.items {
		if a.items[i].Role == RoleCentre {
			continue
		}
		if l, ok := a.items[i].Shape.(Line); ok && plane.Cross(from.vec(), to.vec(), l.From.vec(), l.To.vec()) {
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
	d.leave = leave(d.tip, d.u, out, height)
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
	out := a.outline.Grown(4 * a.mm)
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
			a.blank().leader(&a.pen, l, width, d.tip, sh)
			if a.better(cost) {
				best, angle = sh, s.angle+shelfAngles[turn]
			}
		}
	}
	a.take()
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
