package marking

import (
	"fmt"
	"math"
	"slices"
)

// A pairing is a lack and the run that seems to be drawn in its place.
type pairing struct {
	lack    *lack
	run     *run
	cost    float64
	amount  float64
	reverse bool
}

// pairings finds for lines that are missing what is drawn in their place, the
// likeliest first and each once.
func (m *marking) pairings(view int, lacks []*lack, runs []*run) (out []pairing) {
	v := &m.views[view]
	var all []pairing
	for _, l := range lacks {
		for _, r := range runs {
			if l.paired || r.used || r.view != view {
				continue
			}
			if p, ok := m.pairing(&v.model.elements[l.elem], r); ok {
				p.lack, p.run = l, r
				all = append(all, p)
			}
		}
	}
	slices.SortStableFunc(all, func(a, b pairing) int { return byCover(b.cost, a.cost) })
	lackDone, runDone, strokeDone := map[*lack]bool{}, map[*run]bool{}, map[int]bool{}
	for _, p := range all {
		if lackDone[p.lack] || runDone[p.run] || p.run.stroke >= 0 && strokeDone[p.run.stroke] {
			continue
		}
		lackDone[p.lack], runDone[p.run], strokeDone[p.run.stroke] = true, true, true
		out = append(out, p)
	}
	return out
}

// pairUp reports lines that are drawn in the wrong place.
func (m *marking) pairUp(view int, pairings []pairing, runs []*run) {
	v := &m.views[view]
	for _, p := range pairings {
		p.lack.paired, p.run.used = true, true
		if p.run.whole {
			for _, r := range runs { // its parts
				if r.view == view && r.stroke == p.run.stroke {
					r.used = true
				}
			}
		}
		e := &v.model.elements[p.lack.elem]
		f := Finding{Kind: LineOff, Amount: p.amount, Lines: p.run.lines}
		if p.reverse {
			f.Kind = ReversedArc
			f.Text = fmt.Sprintf("The %s bulges the wrong way.", m.describe(view, e))
		} else {
			f.Text = fmt.Sprintf("The %s is in the wrong place%s.", m.describe(view, e), m.howOff(view, e, p.run, p.amount))
		}
		m.add(view, f, p.run.points, [][]point{e.points(span{0, e.length})})
		if is, as := m.judge.line(p.run.look, e.role, 0); is == wrong {
			m.wrongKind = append(m.wrongKind, kindFault{view: view, elem: p.lack.elem, as: as, look: p.run.look, lines: p.run.lines})
		}
	}
}

// wholeStrokes returns the strokes of which some part lies on no line of the
// model, but not all, as runs.
func (m *marking) wholeStrokes(view int, runs []*run) (out []*run) {
	free := map[int]float64{}
	for _, r := range runs {
		if r.view == view && !r.used && r.stroke >= 0 {
			free[r.stroke] += r.length()
		}
	}
	strokes := make([]int, 0, len(free))
	for s := range free {
		strokes = append(strokes, s)
	}
	slices.Sort(strokes)
	for _, i := range strokes {
		s := &m.sub.strokes[i]
		w := &run{view: view, look: s.look, lines: []int{s.line}, level: s.level, stroke: i, whole: true}
		for _, p := range s.points {
			w.points = append(w.points, m.views[view].place.back(p))
		}
		if l := w.length(); free[i] > 0.3*l && free[i] < 0.95*l {
			out = append(out, w)
		}
	}
	return out
}

// furthest is how far from its place a line may be and still be taken for it,
// mm on paper.
const furthest = 12.0

// pairing compares a missing line with a run.
func (m *marking) pairing(e *element, r *run) (p pairing, ok bool) {
	ratio := r.length() / e.length
	a, b := e.chain[0], e.chain[len(e.chain)-1]
	if e.whole() {
		return m.circlePairing(e, r)
	}
	if ratio < 0.4 || ratio > 2.5 {
		return p, false
	}
	// Ends against ends.
	one := max(r.first().Sub(a).Len(), r.last().Sub(b).Len())
	two := max(r.first().Sub(b).Len(), r.last().Sub(a).Len())
	ends := min(one, two)
	most := min(furthest, 2+0.8*e.length)
	if e.form != straight && ends < 2*m.tol+0.5 && !r.level {
		// The same ends: another bulge.
		s, t := sag(e.chain), sag(r.points)
		if two < one {
			t = -t
		}
		if s*t < 0 && math.Abs(t) > 0.3*math.Abs(s) {
			return pairing{cost: 0, amount: math.Abs(s) + math.Abs(t), reverse: true}, true
		}
		return pairing{cost: math.Abs(s - t), amount: math.Abs(s - t)}, true
	}
	if ends <= most && (e.form == straight) == r.level {
		return pairing{cost: ends, amount: ends}, true
	}
	if ends <= most && ends < 0.3*e.length {
		return pairing{cost: ends + 3, amount: ends}, true
	}
	if e.form == straight && r.level {
		return m.parallelPairing(e, r)
	}
	return p, false
}

// parallelPairing compares straight lines of one direction that run beside
// each other, whatever their ends.
func (m *marking) parallelPairing(e *element, r *run) (p pairing, ok bool) {
	u := unit(e.b.Sub(e.a))
	if math.Abs(wedge(u, unit(r.last().Sub(r.first())))) > 0.035 {
		return p, false
	}
	s, off1, _ := e.project(r.first())
	t, off2, _ := e.project(r.last())
	over := min(max(s, t), e.length) - max(min(s, t), 0)
	off := max(off1, off2)
	if off > furthest || over < 0.5*min(e.length, math.Abs(t-s)) {
		return p, false
	}
	return pairing{cost: off + 2, amount: off}, true
}

// circlePairing compares a missing circle with a run that is one, or most of
// one.
func (m *marking) circlePairing(e *element, r *run) (p pairing, ok bool) {
	c, radius, off, round := circleOf(r.points)
	if !round || off > 0.02*radius+m.tol || r.length() < 0.5*2*math.Pi*radius {
		return p, false
	}
	shift, change := c.Sub(e.c).Len(), math.Abs(radius-e.r)
	if shift+change > furthest || change > 0.6*e.r {
		return p, false
	}
	return pairing{cost: shift + change, amount: max(shift, change)}, true
}
