package marking

import (
	"fmt"
	"math"
	"slices"

	"boltplate/drawing"
)

// A run is a stretch of a drawn line that lies on no line of the model, in the
// coordinates of the view that it is near.
type run struct {
	view   int
	look   int
	points []point
	lines  []int // of the file
	level  bool
	used   bool
	stroke int // that it is of, -1 where it is of several
	// whole is true for a stroke all of which is taken, some of it lying on
	// lines of the model by chance.
	whole bool
}

func (r *run) length() float64 { return lengthOf(r.points) }
func (r *run) first() point    { return r.points[0] }
func (r *run) last() point     { return r.points[len(r.points)-1] }

// A lack is an element of which most is missing.
type lack struct {
	elem   int
	paired bool
}

// lineFaults looks at the lines of a view.
func (m *marking) lineFaults(view int, runs []*run) {
	v := &m.views[view]
	// A line in the wrong place may lie on others by chance: what is known to
	// stand for a line does not stand for those.
	lacks := m.lacks(view)
	all := append(slices.Clone(runs), m.wholeStrokes(view, runs)...)
	m.shifts(view, lacks, all)
	shifted := slices.DeleteFunc(slices.Clone(lacks), func(l *lack) bool { return !l.paired })
	pairings := m.pairings(view, lacks, all)
	again := false
	for _, p := range pairings {
		if p.run.whole {
			v.drop(m, p.run.stroke, p.lack.elem)
			again = true
		}
	}
	if again {
		lacks = m.lacks(view)
		for _, l := range lacks {
			l.paired = slices.ContainsFunc(shifted, func(s *lack) bool { return s.elem == l.elem })
		}
		pairings = m.pairings(view, lacks, all)
	}
	for k := range v.model.elements {
		if e := &v.model.elements[k]; !e.idle && !slices.ContainsFunc(lacks, func(l *lack) bool { return l.elem == k }) {
			m.element(view, k, e)
		}
	}
	m.pairUp(view, pairings, runs)
	m.overhangs(view, runs)
	for _, l := range lacks {
		if !l.paired {
			m.missing(view, l)
		}
	}
	m.extras(view, runs)
}

// drop takes the hits of a stroke away from all lines but one.
func (v *foundView) drop(m *marking, stroke, elem int) {
	for k := range v.hits {
		if k != elem {
			v.hits[k] = slices.DeleteFunc(v.hits[k], func(h hit) bool { return m.chunks[h.chunk].stroke == stroke })
		}
	}
}

// lacks returns the lines of a view of which most is missing.
func (m *marking) lacks(view int) (out []*lack) {
	v := &m.views[view]
	for k := range v.model.elements {
		e := &v.model.elements[k]
		if e.idle {
			continue
		}
		drawn := v.covered(k, nil)
		if e.open {
			if total(drawn) < 0.6*e.length {
				out = append(out, &lack{elem: k})
			}
			continue
		}
		gaps, need := m.gaps(e, drawn)
		// What lies nearer to other lines says little for this one, unless it
		// is so short that a chunk or two are all there is of it.
		own := e.part(v.covered(k, func(h *hit) bool { return !h.second }))
		if total(gaps) > 0.6*need.len() || len(gaps) > 0 && own < 0.25*e.length && e.length > 2*chunkLength {
			out = append(out, &lack{elem: k})
		}
	}
	return out
}

// gaps returns what of the part of a line that must be drawn is not.
func (m *marking) gaps(e *element, drawn []span) (gaps []span, need span) {
	need = e.needed(m.tol)
	between := 2 * m.tol
	if broken(e.role) {
		between = max(between, m.sub.handGap/m.res.unit+m.tol)
	}
	open := holes(drawn, need.from, need.to)
	if between == 2*m.tol {
		open = joinHoles(open)
	}
	for _, h := range open {
		least := between
		if e.atEnd(h, need) && m.sub.handGap == 0 {
			least = endSlack(m.tol)
		}
		if h.len() > least {
			gaps = append(gaps, h)
		}
	}
	return gaps, need
}

// little is how much of a gap other lines that cross or touch it may cover, mm
// on paper.
const little = 1.5

// joinHoles makes one gap of those with little between them.
func joinHoles(all []span) (out []span) {
	for _, h := range all {
		if n := len(out); n > 0 && h.from-out[n-1].to < little && min(h.len(), out[n-1].len()) > 0.5*(h.from-out[n-1].to) {
			out[n-1].to = h.to
			continue
		}
		out = append(out, h)
	}
	return out
}

// atEnd reports whether a gap is at an end of what must be drawn.
func (e *element) atEnd(h, need span) bool {
	// Other lines that cross or touch the end may cover a little of it.
	return !e.whole() && (h.from <= need.from+little || h.to >= need.to-little)
}

// element looks at a line most of which is drawn.
func (m *marking) element(view, k int, e *element) {
	v := &m.views[view]
	drawn := v.covered(k, nil)
	m.judgeKind(view, k, e, drawn)
	if e.open {
		if total(drawn) > 0.96*2*math.Pi*e.r {
			m.add(view, Finding{Kind: ClosedThread, Text: fmt.Sprintf("The thread's %s is a closed circle.", roundWord(e)), Lines: m.linesOf(view, k, nil)}, e.points(span{0, e.length}), nil)
		}
		return
	}
	gaps, need := m.gaps(e, drawn)
	for _, h := range gaps {
		kind, what := LineGap, "has a gap of"
		if e.atEnd(h, need) {
			kind, what = LineShort, "is too short by"
			if m.follows(view, e, h.len()) {
				continue
			}
		} else if m.follows(view, e, h.to-need.from) || m.follows(view, e, need.to-h.from) {
			continue // it reaches to a shifted line, and others lie on some of what is open
		}
		m.add(view, Finding{Kind: kind, Amount: h.len(), Lines: m.linesOf(view, k, nil),
			Text: fmt.Sprintf("The %s %s %s mm.", m.describe(view, e), what, mm(h.len()))}, e.points(h), [][]point{e.points(h)})
	}
}

func roundWord(e *element) string {
	return fmt.Sprintf("root, Ø%s,", mm(2*e.r))
}

// judgeKind looks at how a line is drawn.
func (m *marking) judgeKind(view, k int, e *element, drawn []span) {
	v := &m.views[view]
	own, looks := m.looksOf(v, k)
	verdicts, as := map[int]verdict{}, map[int]drawing.Role{}
	for _, l := range looks {
		verdicts[l], as[l] = m.judge.line(l, e.role, own[l])
	}
	with := func(want verdict) float64 {
		return e.part(v.covered(k, func(h *hit) bool { return !h.second && verdicts[m.lookAt(h)] == want }))
	}
	all := e.part(v.covered(k, func(h *hit) bool { return !h.second }))
	if all == 0 || all < 0.3*e.part(drawn) {
		return // it cannot be told from its neighbours
	}
	if with(right) > 0.75*all {
		return
	}
	if m.sub.handGap > 0 && broken(e.role) && e.length < 12 {
		return // too short to show how it is broken, dash by dash
	}
	bad := with(wrong)
	if with(open) > bad {
		i := slices.IndexFunc(looks, func(l int) bool { return verdicts[l] == open })
		m.doubt("The %s is drawn on %s, like no other line: is it the right kind?", m.describe(view, e), m.sub.looks[looks[i]].key)
		return
	}
	if bad < 0.2*all {
		return
	}
	worst := -1
	for _, l := range looks {
		if verdicts[l] == wrong && (worst < 0 || own[l] > own[worst]) {
			worst = l
		}
	}
	m.wrongKind = append(m.wrongKind, kindFault{view: view, elem: k, as: as[worst], look: worst, lines: m.linesOf(view, k, &worst)})
}

// lookAt returns the look of what is drawn at a hit.
func (m *marking) lookAt(h *hit) int { return m.sub.strokes[m.chunks[h.chunk].stroke].look }

// looksOf returns the looks with which a line is drawn, and the length of each.
func (m *marking) looksOf(v *foundView, k int) (own map[int]float64, looks []int) {
	own = map[int]float64{}
	for i := range v.hits[k] {
		if h := &v.hits[k][i]; !h.second {
			own[m.lookAt(h)] += h.len()
		}
	}
	for l := range own {
		looks = append(looks, l)
	}
	slices.Sort(looks)
	return own, looks
}

// linesOf returns where in the file the strokes on an element begin, those of
// one look where that is given.
func (m *marking) linesOf(view, k int, look *int) (lines []int) {
	for _, h := range m.views[view].hits[k] {
		s := &m.sub.strokes[m.chunks[h.chunk].stroke]
		if !h.second && (look == nil || s.look == *look) && !slices.Contains(lines, s.line) {
			lines = append(lines, s.line)
		}
	}
	slices.Sort(lines)
	return lines
}

// missing reports a line that is not there.
func (m *marking) missing(view int, l *lack) {
	e := &m.views[view].model.elements[l.elem]
	f := Finding{Kind: MissingLine, Text: fmt.Sprintf("The %s is missing.", m.describe(view, e)), Advice: roleAdvice(e.role)}
	if e.role == drawing.RoleCentre {
		f.Kind, f.Advice = MissingCentreLine, ""
	}
	ps := e.points(span{0, e.length})
	m.add(view, f, ps, [][]point{ps})
}
