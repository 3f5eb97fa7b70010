package marking

import (
	"math"

	"boltplate/drawing"
)

// An element is a line of a model view: what a student has to draw as one line,
// in however many pieces. Coordinates are millimetres on paper, in the view.
type element struct {
	role   drawing.Role
	form   form
	a, b   point   // of a straight one
	c      point   // of a round one
	r      float64 // of a round one
	start  float64 // of a round one, degrees
	sweep  float64 // of a round one, degrees
	chain  []point // points on it, both ends included
	along  []float64
	length float64
	box    drawing.Rect
	open   bool // the root of a thread seen from its end, which must not close
	idle   bool // it explains what is drawn and need not be drawn
}

type form uint8

const (
	straight form = iota
	round
	curve
)

func newStraight(role drawing.Role, a, b point) element {
	return element{role: role, form: straight, a: a, b: b}.finished([]point{a, b})
}

// chordOff is how far the chords of a model's curve may lie off it, mm on
// paper.
const chordOff = 0.02

func newRound(role drawing.Role, c point, r, start, sweep float64) element {
	e := element{role: role, form: round, c: c, r: r, start: norm(start), sweep: sweep}
	step := 2 * math.Acos(max(1-chordOff/r, -1)) * 180 / math.Pi
	n := 2 + int(sweep/min(step, 15))
	var ps []point
	for i := range n + 1 {
		ps = append(ps, c.Add(drawing.Polar(r, start+sweep*float64(i)/float64(n))))
	}
	return e.finished(ps)
}

func newCurve(role drawing.Role, ps []point) element {
	return element{role: role, form: curve}.finished(ps)
}

func (e element) finished(ps []point) element {
	e.chain, e.box = ps, bounds(ps)
	e.along = make([]float64, len(ps))
	for i := 1; i < len(ps); i++ {
		e.along[i] = e.along[i-1] + ps[i].Sub(ps[i-1]).Len()
	}
	e.length = e.along[len(ps)-1]
	if e.form == round {
		e.length = e.r * e.sweep * math.Pi / 180
	}
	return e
}

func (e *element) whole() bool { return e.form == round && e.sweep >= 360-1e-6 }

// project returns where along e the point of it lies that is nearest to p,
// below 0 or above its length beyond its ends, how far off p is, and the
// direction of e there.
func (e *element) project(p point) (s, off float64, dir point) {
	switch e.form {
	case straight:
		u := unit(e.b.Sub(e.a))
		v := p.Sub(e.a)
		return dot(u, v), math.Abs(wedge(u, v)), u
	case round:
		v := p.Sub(e.c)
		turn := norm(v.Angle() - e.start)
		if over := turn - e.sweep; over > 0 && 360-turn < over && !e.open {
			turn -= 360 // before the start, unless the whole circle is of interest
		}
		w := unit(v)
		return e.r * turn * math.Pi / 180, math.Abs(v.Len() - e.r), point{X: -w.Y, Y: w.X}
	}
	best, at := math.Inf(1), 0
	t := 0.0
	for i := 1; i < len(e.chain); i++ {
		if d, u := fromSegment(e.chain[i-1], e.chain[i], p); d < best {
			best, at, t = d, i, u
		}
	}
	a, b := e.chain[at-1], e.chain[at]
	return e.along[at-1] + t*(e.along[at]-e.along[at-1]), best, unit(b.Sub(a))
}

// at returns the point at a distance along e.
func (e *element) at(s float64) point {
	switch e.form {
	case straight:
		return e.a.Add(unit(e.b.Sub(e.a)).Mul(s))
	case round:
		return e.c.Add(drawing.Polar(e.r, e.start+s/e.r*180/math.Pi))
	}
	for i := 1; i < len(e.chain); i++ {
		if s <= e.along[i] || i == len(e.chain)-1 {
			t := (s - e.along[i-1]) / max(e.along[i]-e.along[i-1], 1e-12)
			return e.chain[i-1].Add(e.chain[i].Sub(e.chain[i-1]).Mul(t))
		}
	}
	return e.chain[0]
}

// part returns the length of what of some stretches lies on e.
func (e *element) part(all []span) float64 {
	to := e.length
	if e.open {
		to = 2 * math.Pi * e.r
	}
	return to - total(holes(all, 0, to))
}

// points returns the chain of a stretch of e.
func (e *element) points(s span) []point {
	ps := []point{e.at(s.from)}
	if e.form != straight {
		n := 2 + int(s.len())
		for i := 1; i < n; i++ {
			ps = append(ps, e.at(s.from+s.len()*float64(i)/float64(n)))
		}
	}
	return append(ps, e.at(s.to))
}

// elementsOf returns the elements of the items of a view, whose lengths are
// multiplied by k; those of one role that lie on each other or touch are one.
func elementsOf(items []drawing.Item, k float64) []element {
	t := drawing.Transform{Scale: k}
	var all []element
	add := func(e element) {
		if e.length > 1e-6 {
			all = append(all, e)
		}
	}
	for _, it := range items {
		role := it.Role
		if len(demands(role)) == 0 && role != drawing.RoleHatching && role != drawing.RoleText && role != drawing.RoleDimension && role != drawing.RoleFrame {
			continue
		}
		for _, e := range shapeElements(role, drawing.Apply(it.Shape, t)) {
			e.idle = len(demands(role)) == 0
			add(e)
		}
	}
	all = join(all)
	markOpen(all)
	markDoubled(all)
	return all
}

// shapeElements returns the lines of a shape, none of a text, hatch or
// dimension.
func shapeElements(role drawing.Role, s drawing.Shape) []element {
	switch s := s.(type) {
	case drawing.Line:
		return []element{newStraight(role, s.From, s.To)}
	case drawing.Arc:
		sweep := norm(s.End - s.Start)
		if sweep == 0 {
			sweep = 360
		}
		return []element{newRound(role, s.Center, s.Radius, s.Start, sweep)}
	case drawing.Circle:
		return []element{newRound(role, s.Center, s.Radius, 0, 360)}
	case drawing.Ellipse:
		return []element{newCurve(role, ellipsePoints(s))}
	case drawing.Conic:
		var ps []point
		const n = 24
		for i := range n + 1 {
			ps = append(ps, conicAt(s, float64(i)/n))
		}
		return []element{newCurve(role, ps)}
	case drawing.Polyline:
		var es []element
		n := len(s.Vertices)
		for i := range s.Vertices {
			if i == n-1 && !s.Closed {
				break
			}
			v, w := s.Vertices[i], s.Vertices[(i+1)%n]
			if a, ok := drawing.BulgeArc(v, w.Point); ok {
				es = append(es, shapeElements(role, a)...)
			} else if v.Point != w.Point {
				es = append(es, newStraight(role, v.Point, w.Point))
			}
		}
		return es
	}
	return nil
}

func ellipsePoints(e drawing.Ellipse) []point {
	start, sweep := 0.0, 360.0
	if !e.Whole() {
		start, sweep = e.Start, norm(e.End-e.Start)
	}
	n := max(8, int(sweep/5))
	var ps []point
	for i := range n + 1 {
		ps = append(ps, e.At(start+sweep*float64(i)/float64(n)))
	}
	return ps
}

func conicAt(c drawing.Conic, t float64) point {
	u := 1 - t
	a, b, d := u*u, 2*u*t*c.Weight, t*t
	sum := a + b + d
	return c.From.Mul(a / sum).Add(c.Control.Mul(b / sum)).Add(c.To.Mul(d / sum))
}

// joinOff is how near lines of a model are that count as one, mm on paper.
const joinOff = 0.01

// join makes one element of those of one role that lie on one line or circle
// and touch.
func join(all []element) []element {
	for i := 0; i < len(all); i++ {
		for j := i + 1; j < len(all); {
			e, ok := joined(&all[i], &all[j])
			if !ok {
				j++
				continue
			}
			all[i] = e
			all = append(all[:j], all[j+1:]...)
			j = i + 1
		}
	}
	return all
}

func joined(e, o *element) (element, bool) {
	if e.role != o.role || e.form != o.form || e.idle != o.idle || e.form == curve {
		return element{}, false
	}
	if e.form == straight {
		s, d, u := e.project(o.a)
		t, f, _ := e.project(o.b)
		if d > joinOff || f > joinOff || min(s, t) > e.length+joinOff || max(s, t) < -joinOff {
			return element{}, false
		}
		from, to := min(0, s, t), max(e.length, s, t)
		return newStraight(e.role, e.a.Add(u.Mul(from)), e.a.Add(u.Mul(to))), true
	}
	if e.c.Sub(o.c).Len() > joinOff || math.Abs(e.r-o.r) > joinOff {
		return element{}, false
	}
	slack := joinOff / e.r * 180 / math.Pi
	if e.whole() || o.whole() {
		return newRound(e.role, e.c, e.r, 0, 360), true
	}
	for _, p := range [2][2]*element{{e, o}, {o, e}} {
		first, second := p[0], p[1]
		if gap := norm(second.start - first.start); gap <= first.sweep+slack {
			return newRound(e.role, e.c, e.r, first.start, min(360, max(first.sweep, gap+second.sweep))), true
		}
	}
	return element{}, false
}

// doubledOff is how near lines of a model are, mm on paper, that no hand draws
// beside each other.
const doubledOff = 0.1

// markDoubled finds straight lines that lie on a longer one of their role as far
// as a hand draws: they may be left out.
func markDoubled(all []element) {
	for i := range all {
		e := &all[i]
		if e.form != straight {
			continue
		}
		for j := range all {
			o := &all[j]
			if i == j || o.form != straight || o.role != e.role || o.idle || o.length < e.length {
				continue
			}
			s, d, _ := o.project(e.a)
			t, f, _ := o.project(e.b)
			if max(d, f) < doubledOff && min(s, t) > -doubledOff && max(s, t) < o.length+doubledOff {
				e.idle = true
				break
			}
		}
	}
}

// markOpen finds the roots of threads seen from their ends: arcs of about
// three quarters that are concentric with a circle.
func markOpen(all []element) {
	for i := range all {
		e := &all[i]
		if e.form != round || e.sweep < 200 || e.sweep > 340 || e.role != drawing.RoleThin && e.role != drawing.RoleHidden {
			continue
		}
		for j := range all {
			o := &all[j]
			e.open = e.open || i != j && o.form == round && o.c.Sub(e.c).Len() < joinOff && math.Abs(o.r-e.r) < 0.3*e.r
		}
	}
}
