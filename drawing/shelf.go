package drawing

import (
	"math"

	"boltplate/internal/plane"
)

// shelfAngles are the directions tried for a leader, as turns from the one
// that is wanted, in the order of preference.
var shelfAngles = [...]float64{0, 10, -10, 20, -20, 30, -30, 45, -45, 60, -60, 75, -75, 90, -90, 120, -120, 150, -150, 180}

const shelfReaches = 6

func (a *arranger) placeShelved(s Shape) Shape {
	switch d := s.(type) {
	case Leader:
		d.Label = d.Label.resolved(a.st)
		return a.shelfPlaces(d.Angle, true, anyAngle, func(angle float64) (Point, Point) { return d.Tip, Polar(1, angle) },
			func(sh Shelf, angle float64) Shape { d.Shelf, d.Angle = sh, angle; return d })
	case Diameter:
		d.Label = d.Label.resolved(a.st)
		touches := func(angle float64) bool { return d.Start == d.End || plane.InArc(angle, d.Start, d.End) }
		return a.shelfPlaces(d.Angle, false, touches, func(angle float64) (Point, Point) {
			u := Polar(1, angle)
			return d.Center.Add(u.Mul(d.Radius)), u
		}, func(sh Shelf, angle float64) Shape { d.Shelf, d.Angle = sh, angle; return d })
	case Radius:
		d.Label = d.Label.resolved(a.st)
		touches := func(angle float64) bool {
			if d.Start == d.End {
				return angle == d.Angle
			}
			return plane.InArc(angle, d.Start, d.End)
		}
		return a.shelfPlaces(d.Angle, false, touches, func(angle float64) (Point, Point) {
			u := Polar(1, angle)
			return d.Center.Add(u.Mul(d.Radius)), u
		}, func(sh Shelf, angle float64) Shape { d.Shelf, d.Angle = sh, angle; return d })
	}
	return s
}

// edgesCrossed returns how many straight edges of the view a leader crosses.
func (a *arranger) edgesCrossed(from, to Point) (n int) {
	for i := range a.items {
		if l, ok := a.items[i].Shape.(Line); ok && a.items[i].Role != RoleCentre && plane.Cross(from.vec(), to.vec(), l.From.vec(), l.To.vec()) {
			n++
		}
	}
	return n
}

func anyAngle(float64) bool { return true }

// shelfPlaces goes through directions and reaches. outside says that the leader
// starts at the outline and should not run through the part; touches reports
// whether the arrow would meet its line in a direction.
func (a *arranger) shelfPlaces(want float64, outside bool, touches func(angle float64) bool, tip func(angle float64) (Point, Point), shape func(Shelf, float64) Shape) Shape {
	mm := a.st.Part(1)
	out := a.outline.Grown(4 * mm)
	height := a.st.Part(a.st.Height() + a.st.TextGap())
	place := func(i int) (reach float64, turn int, angle float64) {
		turn = i % len(shelfAngles)
		return float64(i / len(shelfAngles)), turn, want + shelfAngles[turn]
	}
	base := func(i int, limit float64) float64 {
		reach, turn, angle := place(i)
		cost := 100*reach + 4*float64(turn)
		if cost >= limit {
			return cost
		}
		if s, _ := plane.Sincos(angle); math.Abs(s) < 0.25 {
			cost += 40 // shelf and leader would be one line
		}
		if !touches(angle) {
			cost += 100 * costLabel // never off its line
		}
		if p, u := tip(angle); outside {
			cost += costThrough * float64(a.edgesCrossed(p, p.Add(u.Mul(leave(p, u, out, height)))))
		}
		return cost
	}
	return a.best(shelfReaches*len(shelfAngles), base, func(i int) Shape {
		reach, _, angle := place(i)
		p, u := tip(angle)
		sh := Shelf{Placed: true, Left: u.X < 0}
		sh.Knee = p.Add(u.Mul(leave(p, u, out, height) + 6*mm*reach))
		return shape(sh, angle)
	})
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
