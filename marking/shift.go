package marking

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"boltplate/drawing"
)

// A shift is lines of a view that stand beside their places by one vector,
// because a size was drawn wrong. What reaches to them is too short or too
// long by as much, which is no fault of its own.
type shift struct {
	view    int
	spread  spread
	by      point // mm on paper, in the view
	lines   []int // of the file
	n       int   // lines
	follow  int   // lines that are too short or too long with them
	points  []point
	missing [][]point
	texts   []string // what dimensions say of it
	done    bool
}

// A spread says whether lines are shifted one way, or away from or towards the
// middle of the view, as those of a width are.
type spread uint8

const (
	oneWay spread = iota
	upDown
	leftRight
	spreadCount
)

// of returns the vector as one in the upper, or the right, half of a view.
func (s spread) of(by, at, mid point) point {
	if s == upDown && at.Y < mid.Y {
		by.Y = -by.Y
	}
	if s == leftRight && at.X < mid.X {
		by.X = -by.X
	}
	return by
}

// fewestShifted is how many lines make a shift.
const fewestShifted = 3

// furthestShift is how far lines may be shifted together, mm on paper.
const furthestShift = 60.0

// A move is a missing line and a run that is the same line elsewhere.
type move struct {
	lack *lack
	run  *run
	by   point
	at   point // of the line, in the view
}

// shifts finds lines of a view that are displaced together, the most first.
func (m *marking) shifts(view int, lacks []*lack, runs []*run) {
	v := &m.views[view]
	var all []move
	for _, l := range lacks {
		for _, r := range runs {
			if r.used || r.view != view {
				continue
			}
			e := &v.model.elements[l.elem]
			if by, ok := displaced(e, r, 1.2*m.tol); ok {
				all = append(all, move{l, r, by, mean(e.chain)})
			}
		}
	}
	for {
		best, how := together(all, v.model.box.Mid(), 1.2*m.tol)
		if len(best) < fewestShifted {
			return
		}
		m.shift(view, best, how, runs)
	}
}

// together returns the most moves that have one vector.
func together(all []move, mid point, slack float64) (best []move, how spread) {
	for w := range spreadCount {
		for i := range all {
			a := w.of(all[i].by, all[i].at, mid)
			seen, taken := map[*lack]bool{}, map[*run]bool{}
			var same []move
			for _, b := range all {
				if b.lack.paired || b.run.used || seen[b.lack] || taken[b.run] || w.of(b.by, b.at, mid).Sub(a).Len() >= slack {
					continue
				}
				seen[b.lack], taken[b.run] = true, true
				same = append(same, b)
			}
			if len(same) > len(best) {
				best, how = same, w
			}
		}
	}
	return best, how
}

// shift takes note of moves that have one vector.
func (m *marking) shift(view int, moves []move, how spread, runs []*run) {
	v := &m.views[view]
	s := &shift{view: view, spread: how, n: len(moves)}
	for _, b := range moves {
		b.lack.paired, b.run.used = true, true
		for _, r := range runs {
			if b.run.stroke >= 0 && r.stroke == b.run.stroke && r.view == view {
				r.used = true
			}
		}
		s.by = s.by.Add(how.of(b.by, b.at, v.model.box.Mid()).Mul(1 / float64(len(moves))))
		s.lines = merged(s.lines, b.run.lines)
		s.points = append(s.points, b.run.points...)
		e := &v.model.elements[b.lack.elem]
		s.missing = append(s.missing, e.points(span{0, e.length}))
	}
	m.shifted = append(m.shifted, s)
}

// displaced returns the vector by which a run is a line of the model moved; ok
// is false where it has another shape.
func displaced(e *element, r *run, slack float64) (by point, ok bool) {
	if ratio := r.length() / e.length; ratio < 0.8 || ratio > 1.25 || (e.form == straight) != r.level {
		return by, false
	}
	a, b := e.chain[0], e.chain[len(e.chain)-1]
	p, q := r.first(), r.last()
	if p.Sub(q).Sub(a.Sub(b)).Len() > q.Sub(p).Sub(a.Sub(b)).Len() {
		p, q = q, p
	}
	by = p.Add(q).Sub(a.Add(b)).Mul(0.5)
	if e.whole() {
		c, radius, off, round := circleOf(r.points)
		if !round || off > slack || math.Abs(radius-e.r) > slack {
			return by, false
		}
		by = c.Sub(e.c)
	} else if p.Sub(q).Sub(a.Sub(b)).Len() > 2*slack || middle(r.points).Sub(middle(e.chain)).Sub(by).Len() > slack {
		return by, false
	}
	return by, by.Len() > slack && by.Len() < furthestShift // less is within the tolerance
}

// follows reports whether a line that is too short or too long by some amount
// is so because it reaches to lines that are shifted.
func (m *marking) follows(view int, e *element, amount float64) bool {
	for _, s := range m.shifted {
		if s.view != view {
			continue
		}
		along := math.Abs(dot(s.by, unit(e.chain[len(e.chain)-1].Sub(e.chain[0]))))
		if e.form != straight {
			along = s.by.Len()
		}
		low := along - 1.2*m.tol
		if e.role == drawing.RoleCentre {
			low = along - drawing.CentreOverrun - 2*m.tol // it may have run on less far
		}
		if amount > low && amount < along+1.2*m.tol {
			s.follow++
			return true
		}
	}
	return false
}

// reportShifts reports what is displaced together, the same in several views
// of a figure as one finding.
func (m *marking) reportShifts() {
	for i, s := range m.shifted {
		if s.done {
			continue
		}
		v := &m.views[s.view]
		names := []string{m.viewName(s.view)}
		lines, n, follow := slices.Clone(s.lines), s.n, s.follow
		texts := s.texts
		for _, o := range m.shifted[i+1:] {
			if w := &m.views[o.view]; !o.done && w.fig == v.fig && o.spread == s.spread && o.by.Sub(s.by).Len() < 1.5*m.tol {
				o.done = true
				names = append(names, m.viewName(o.view))
				lines, n, follow = merged(lines, o.lines), n+o.n, follow+o.follow
				texts = append(texts, o.texts...)
			}
		}
		amount := s.by.Len()
		way := direction(v.place.Vector(s.by).Mul(1 / v.place.Scale))
		switch {
		case s.spread == upDown && s.by.Y > 0, s.spread == leftRight && s.by.X > 0:
			way = "too far out"
		case s.spread != oneWay:
			way = "too far in"
		}
		text := fmt.Sprintf("In the %s %d lines stand %s mm %s, all together", strings.Join(names, " and the "), n, mm(amount), way)
		if follow > 0 {
			text += fmt.Sprintf(", and %s to them too short or too long by as much", reaching(follow))
		}
		text += ": a size was drawn wrong. It counts once."
		for _, t := range texts {
			text += " " + t
		}
		m.add(s.view, Finding{Kind: WrongSize, Amount: amount, Lines: lines, Text: text}, s.points, s.missing)
	}
}

func reaching(n int) string {
	if n == 1 {
		return "1 line reaches"
	}
	return fmt.Sprintf("%d lines reach", n)
}
