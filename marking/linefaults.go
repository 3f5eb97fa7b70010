package marking

import (
	"fmt"
	"math"
	"slices"

	"boltplate/drawing"
	"boltplate/internal/plane"
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
		// What lies nearer to other lines says little for this one.
		own := e.part(v.covered(k, func(h *hit) bool { return !h.second }))
		if total(gaps) > 0.6*need.len() || len(gaps) > 0 && own < 0.25*e.length {
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
	own := map[int]float64{} // of each look
	for _, h := range v.hits[k] {
		if !h.second {
			own[m.sub.strokes[m.chunks[h.chunk].stroke].look] += h.len()
		}
	}
	looks := make([]int, 0, len(own))
	for l := range own {
		looks = append(looks, l)
	}
	slices.Sort(looks)
	verdicts, as := map[int]verdict{}, map[int]drawing.Role{}
	for _, l := range looks {
		verdicts[l], as[l] = m.judge.line(l, e.role, own[l])
	}
	with := func(want verdict) float64 {
		return e.part(v.covered(k, func(h *hit) bool { return !h.second && verdicts[m.sub.strokes[m.chunks[h.chunk].stroke].look] == want }))
	}
	all := e.part(v.covered(k, func(h *hit) bool { return !h.second }))
	if all < 0.3*e.part(drawn) {
		return // it cannot be told from its neighbours
	}
	good := with(right)
	if good > 0.75*all {
		return
	}
	if m.sub.handGap > 0 && broken(e.role) && e.length < 12 {
		return // too short to show how it is broken, dash by dash
	}
	bad := with(wrong)
	if with(open) > bad {
		for _, l := range looks {
			if verdicts[l] == open {
				m.doubt("The %s is drawn on %s, like no other line: is it the right kind?", m.describe(view, e), m.sub.looks[l].key)
				return
			}
		}
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

// overhangs finds runs that go on a line of the model past its end.
func (m *marking) overhangs(view int, runs []*run) {
	v := &m.views[view]
	ends := make([]int, len(v.model.elements)) // a line has two
	for _, r := range runs {
		if r.used || r.view != view {
			continue
		}
		for k := range v.model.elements {
			e := &v.model.elements[k]
			if e.idle || e.whole() || e.open || e.form == curve || len(v.hits[k]) == 0 {
				continue
			}
			if over, ok := m.overhang(e, r); ok && ends[k] < 2 {
				ends[k]++
				r.used = true
				if m.follows(view, e, over) {
					break
				}
				m.add(view, Finding{Kind: LineLong, Amount: over, Lines: r.lines,
					Text: fmt.Sprintf("The %s is too long by %s mm.", m.describe(view, e), mm(over))}, r.points, nil)
				break
			}
		}
	}
}

// overhang returns by how much a run goes past the end of e, which it touches.
func (m *marking) overhang(e *element, r *run) (float64, bool) {
	near, far := math.Inf(1), math.Inf(-1)
	for _, p := range [2]point{r.first(), r.last()} {
		s, off, _ := e.project(p)
		if off > 1.3*m.tol {
			return 0, false
		}
		over := max(-s, s-e.length)
		near, far = min(near, over), max(far, over)
	}
	if mid := r.points[len(r.points)/2]; !r.level {
		if _, off, _ := e.project(mid); off > 1.3*m.tol {
			return 0, false
		}
	}
	return far, near < e.overrun(m.tol)+chunkLength && near > -chunkLength && far > e.overrun(m.tol)
}

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

// mostExtras is how many lines too many are told of a view.
const mostExtras = 25

// extras reports what is drawn and is no line of the model. Lines whose look
// no line of the model has are left to the instructor.
func (m *marking) extras(view int, runs []*run) {
	strange := map[int]int{}
	beside, told := 0, 0
	box := m.views[view].model.box.Grown(2)
	for _, r := range runs {
		if r.used || r.view != view {
			continue
		}
		r.used = true
		if !slices.ContainsFunc(r.points, func(p point) bool { return inside(box, p) }) && !plane.SegmentHitsBox(plane.Vec(r.first()), plane.Vec(r.last()), plane.Box{Min: plane.Vec(box.Min), Max: plane.Vec(box.Max)}) {
			beside++ // a table, a note, an arrow
			continue
		}
		if m.sub.looks[r.look].used < leastVotes {
			strange[r.look]++
			continue
		}
		if told++; told > mostExtras {
			continue
		}
		what := "A line"
		if c, radius, off, ok := circleOf(r.points); ok && !r.level && off < 0.02*radius && r.length() > math.Pi*radius {
			_ = c
			what = fmt.Sprintf("A circle, Ø%s,", mm(2*radius))
		} else if !r.level {
			what = "A curve"
		}
		m.add(view, Finding{Kind: ExtraLine, Amount: r.length(), Lines: r.lines,
			Text: fmt.Sprintf("%s %s mm long is drawn %s where the part has no edge.", what, mm(r.length()), m.where(view, mean(r.points)))}, r.points, nil)
	}
	if told > mostExtras {
		m.doubt("%s in the %s that the part has not are not listed.", count(told-mostExtras, "more line", "more lines"), m.viewName(view))
	}
	if beside > 0 {
		m.doubt("%s beside the %s did not count.", count(beside, "line", "lines"), m.viewName(view))
	}
	looks := make([]int, 0, len(strange))
	for l := range strange {
		looks = append(looks, l)
	}
	slices.Sort(looks)
	for _, l := range looks {
		m.doubt("%s at the %s on %s, which no line of the views has, did not count: %s?", count(strange[l], "line", "lines"), m.viewName(view), m.sub.looks[l].key, "construction or dimensions")
	}
}

func mean(ps []point) (p point) {
	for _, q := range ps {
		p = p.Add(q)
	}
	return p.Mul(1 / float64(len(ps)))
}

// mm writes a length for a report.
func mm(v float64) string {
	return drawing.FormatValue(math.Round(v*10)/10, false)
}
