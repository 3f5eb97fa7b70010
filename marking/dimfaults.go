package marking

import (
	"fmt"
	"math"
	"slices"

	"boltplate/drawing"
)

// A wanted dimension is one of a model view that was found.
type wanted struct {
	view int
	dim  *modelDim
	got  int // index of the dimension of the submission, -1 for none
	ok   bool
}

// A fit says how a dimension of the submission agrees with one of the model;
// lower is better.
type fit uint8

const (
	fitsWell   fit = iota // the text and the place
	fitsView              // the text, and the same size in another view
	fitsPlace             // the place alone
	fitsNearly            // the text, beside the place
	fitsNothing
)

// dimFaults compares the dimensions.
func (m *marking) dimFaults() {
	var want []wanted
	for i := range m.views {
		for j := range m.views[i].model.dims {
			want = append(want, wanted{view: i, dim: &m.views[i].model.dims[j], got: -1})
		}
	}
	dims := m.dims.dims
	taken := make([]bool, len(dims))
	for want0 := fitsWell; want0 < fitsNothing; want0++ {
		for i := range want {
			w := &want[i]
			if w.got >= 0 {
				continue
			}
			best, least := -1, math.Inf(1)
			for d := range dims {
				if taken[d] {
					continue
				}
				if f, off := m.fit(w, &dims[d]); f == want0 && off < least {
					best, least = d, off
				}
			}
			if best < 0 {
				continue
			}
			w.got, taken[best] = best, true
			switch want0 {
			case fitsWell, fitsView:
				w.ok = true
			case fitsPlace:
				m.wrongText(w, &dims[best])
			case fitsNearly:
				m.dimOff(w, &dims[best], least)
			}
		}
	}
	m.otherSizes(want, taken)
	for i := range want {
		if w := &want[i]; w.got < 0 && !w.dim.ref {
			m.missingDim(w)
		}
	}
	for d := range dims {
		if !taken[d] {
			m.spareDim(&dims[d], want)
		}
	}
}

// otherSizes finds for sizes that are not given those that are given in their
// place: from the same edge in the same direction, to another one.
func (m *marking) otherSizes(want []wanted, taken []bool) {
	dims := m.dims.dims
	for i := range want {
		w := &want[i]
		if w.got >= 0 || w.dim.ref || w.dim.kind != dimStraight {
			continue
		}
		v := &m.views[w.view]
		for d := range dims {
			s := &dims[d]
			if taken[d] || s.kind != dimStraight || s.text == "" || math.Abs(wedge(v.direction(s.u), w.dim.u)) > 0.05 || m.again(s, want) >= 0 {
				continue
			}
			if m.oneEnd(w.dim, v.place.back(s.from), v.place.back(s.to)) {
				w.got, taken[d] = d, true
				m.wrongText(w, s)
				break
			}
		}
	}
}

// oneEnd reports whether a dimension from a to b has one end of one of the
// model, and lies on the same side of it.
func (m *marking) oneEnd(w *modelDim, a, b point) bool {
	p, q := dot(w.from, w.u), dot(w.to, w.u)
	s, t := dot(a, w.u), dot(b, w.u)
	near := func(x, y float64) bool { return math.Abs(x-y) <= m.dimSlack() }
	for _, e := range [4][4]float64{{p, q, s, t}, {p, q, t, s}, {q, p, s, t}, {q, p, t, s}} {
		if near(e[0], e[2]) && (e[1]-e[0])*(e[3]-e[2]) > 0 && math.Abs(e[3]-e[2]) < 2*math.Abs(e[1]-e[0]) {
			return true
		}
	}
	return false
}

// fit compares a dimension of the model with one of the submission. off is by
// how much they differ, mm on paper.
func (m *marking) fit(w *wanted, d *subDim) (f fit, off float64) {
	same := sameText(w.dim.text, d.text)
	v := &m.views[w.view]
	off, here := m.samePlace(v, w.dim, d)
	switch {
	case here && same:
		return fitsWell, off
	case same && m.sameSize(w, d):
		return fitsView, off
	case here && d.text != "":
		return fitsPlace, off
	case same && m.nearView(v, d):
		return fitsNearly, off
	}
	return fitsNothing, off
}

// nearView reports whether a dimension stands at a view.
func (m *marking) nearView(v *foundView, d *subDim) bool {
	return fromRect(v.model.box, v.place.back(d.from.Mid(d.to))) < 40
}

// dimSlack is how far from the ends of a size a dimension may start, mm on
// paper.
func (m *marking) dimSlack() float64 { return 2*m.tol + 0.2 }

// samePlace reports whether a dimension of the submission gives what one of
// the model gives, by where it stands.
func (m *marking) samePlace(v *foundView, w *modelDim, d *subDim) (off float64, ok bool) {
	a, b := v.place.back(d.from), v.place.back(d.to)
	switch w.kind {
	case dimStraight:
		if d.kind != dimStraight {
			return math.Inf(1), false
		}
		u := v.direction(d.u)
		if math.Abs(wedge(u, w.u)) > 0.05 {
			return math.Inf(1), false
		}
		off, _ = m.endsOff(v, w, a, b)
		return off, off <= m.dimSlack()
	case dimCircle, dimArc:
		switch d.kind {
		case dimCircle, dimArc, dimLeader:
			if d.r > 0 {
				off = max(v.place.back(d.center).Sub(w.from).Len(), math.Abs(d.r/v.place.Scale-w.r))
			} else {
				off = math.Abs(a.Sub(w.from).Len() - w.r)
			}
		case dimStraight: // across the circle
			if w.kind == dimArc {
				return math.Inf(1), false
			}
			u := v.direction(d.u)
			c := dot(w.from, u)
			off = max(math.Abs(min(dot(a, u), dot(b, u))-c+w.r), math.Abs(max(dot(a, u), dot(b, u))-c-w.r))
		default:
			return math.Inf(1), false
		}
		return off, off <= m.dimSlack()
	case dimAngle:
		if d.kind != dimAngle && d.kind != dimLeader {
			return math.Inf(1), false
		}
		off = v.place.back(d.center).Sub(w.from).Len()
		return off, d.kind == dimAngle && off <= 5+m.dimSlack()
	}
	// A note at a point: what it says tells what it is of.
	off = min(a.Sub(w.from).Len(), b.Sub(w.from).Len())
	if d.kind == dimStraight {
		return off, false
	}
	if d.kind == dimAngle {
		return off, v.place.back(d.center).Sub(w.from).Len() < 15
	}
	return off, off <= 3+m.dimSlack()
}

// endsOff returns how far the ends of a straight dimension are from those of
// one of the model, or from where lines that were drawn beside their places
// have them; by is the shift that made the size another one, nil where none
// did.
func (m *marking) endsOff(v *foundView, w *modelDim, a, b point) (off float64, by *shift) {
	p, q := dot(w.from, w.u), dot(w.to, w.u)
	s, t := dot(a, w.u), dot(b, w.u)
	apart := func(p, q float64) float64 {
		return max(math.Abs(min(p, q)-min(s, t)), math.Abs(max(p, q)-max(s, t)))
	}
	off = apart(p, q)
	if off <= m.dimSlack() {
		return off, nil
	}
	for _, g := range m.shifted {
		if &m.views[g.view] != v {
			continue
		}
		d := dot(g.by, w.u)
		if o := apart(p+d, q+d); o <= m.dimSlack() {
			return o, nil
		}
		ends := [][2]float64{{p + d, q}, {p, q + d}}
		if g.spread != oneWay {
			ends = [][2]float64{{p + d, q - d}, {p - d, q + d}, {p - d, q}, {p, q - d}, {p + d, q}, {p, q + d}}
		}
		for _, e := range ends {
			o := apart(e[0], e[1])
			if o <= m.dimSlack() {
				return o, g
			}
		}
	}
	return off, nil
}

// direction returns the image of a direction of the submission in the view.
func (v *foundView) direction(u point) point {
	return unit(v.place.back(v.place.Move.Add(u.Mul(v.place.Scale))))
}

// sameSize reports whether a dimension gives the size of one of the model in
// some view: its length is right, and both ends are at lines of the view.
func (m *marking) sameSize(w *wanted, d *subDim) bool {
	for i := range m.views {
		v := &m.views[i]
		if v.fig != m.views[w.view].fig {
			continue
		}
		if m.sizeIn(v, &m.views[w.view], w.dim, d) {
			return true
		}
	}
	return false
}

func (m *marking) sizeIn(v, own *foundView, w *modelDim, d *subDim) bool {
	if !m.nearView(v, d) {
		return false
	}
	if d.kind == dimStraight && w.kind == dimStraight && v.elevation() && own.elevation() && math.Abs(wedge(v.direction(d.u), w.u)) > 0.05 {
		return false // lengths and widths are not the same, though they may be equal
	}
	size := w.measure()
	if w.kind == dimCircle {
		size = 2 * w.r
	}
	switch {
	case d.kind == dimStraight && (w.kind == dimStraight || w.kind == dimCircle):
		u := v.direction(d.u)
		s, t := dot(v.place.back(d.from), u), dot(v.place.back(d.to), u)
		return math.Abs(math.Abs(t-s)-size) <= m.dimSlack() && v.model.levelAt(u, s, m.dimSlack()) && v.model.levelAt(u, t, m.dimSlack())
	case d.kind == dimCircle && (w.kind == dimCircle || w.kind == dimStraight):
		if d.r > 0 {
			return math.Abs(2*d.r/v.place.Scale-size) <= m.dimSlack()
		}
		a := v.place.back(d.from)
		for i := range v.model.elements {
			e := &v.model.elements[i]
			if e.form == round && math.Abs(2*e.r-size) <= m.dimSlack() && math.Abs(a.Sub(e.c).Len()-e.r) <= m.dimSlack() {
				return true
			}
		}
	case d.kind == dimArc && w.kind == dimArc && d.r > 0:
		return math.Abs(d.r/v.place.Scale-w.r) <= m.dimSlack()
	case d.kind == dimLeader && w.kind == dimLeader, d.kind == dimAngle && (w.kind == dimAngle || w.kind == dimLeader):
		return v.model.near(v.place.back(d.from), 3)
	}
	return false
}

// elevation reports whether a view shows the axis of the part as a line.
func (v *foundView) elevation() bool {
	return v.model.direction == drawing.Front || v.model.direction == drawing.SideView
}

// levelAt reports whether a line of the view begins, ends or runs at a level
// along u.
func (v *modelView) levelAt(u point, level, slack float64) bool {
	for i := range v.elements {
		e := &v.elements[i]
		if e.idle {
			continue
		}
		if e.form == round {
			c := dot(e.c, u)
			if math.Abs(math.Abs(level-c)-e.r) <= slack {
				return true
			}
		}
		for _, p := range [2]point{e.chain[0], e.chain[len(e.chain)-1]} {
			if math.Abs(dot(p, u)-level) <= slack {
				return true
			}
		}
	}
	return false
}

// says quotes a text for a report.
func says(s string) string { return fmt.Sprintf("‘%s’", s) }

// called names the quantity of a dimension.
func (d *modelDim) called() string {
	if d.name == "" {
		return "size " + d.text
	}
	return d.name
}

// becauseOf explains the value of a dimension.
func (d *modelDim) becauseOf() string {
	if d.rule == "" || d.rule == "table" {
		return ""
	}
	return fmt.Sprintf(" The rule is %s.", d.rule)
}

func (m *marking) wrongText(w *wanted, d *subDim) {
	if g := m.sizeOf(w, d); g != nil {
		g.texts = append(g.texts, fmt.Sprintf("The dimension of the %s says %s, as it is drawn, where %s is right.", w.dim.called(), says(d.text), says(w.dim.text)))
		return
	}
	f := Finding{Kind: WrongText, Lines: lineList(d.line), Text: fmt.Sprintf("The dimension of the %s in the %s says %s where %s is right.", w.dim.called(), m.viewName(w.view), says(d.text), says(w.dim.text))}
	f.Advice = "Check the number against the rule and the table, and the sign before it against what is measured." + w.dim.becauseOf()
	m.addAt(w.view, f, d.label, nil)
}

// sizeOf returns the shift that a dimension of another text follows from: it
// says what is drawn.
func (m *marking) sizeOf(w *wanted, d *subDim) *shift {
	if w.dim.kind != dimStraight || d.kind != dimStraight {
		return nil
	}
	v := &m.views[w.view]
	a, b := v.place.back(d.from), v.place.back(d.to)
	off, g := m.endsOff(v, w.dim, a, b)
	_, value, _, _, ok := cut(plainText(d.text))
	if g == nil || off > m.dimSlack() || !ok || math.Abs(value*v.model.scale-math.Abs(dot(b.Sub(a), w.dim.u))) > m.dimSlack() {
		return nil
	}
	return g
}

func (m *marking) dimOff(w *wanted, d *subDim, off float64) {
	text := fmt.Sprintf("The dimension %s (%s) in the %s does not go to the edges that it gives", says(w.dim.text), w.dim.called(), m.viewName(w.view))
	if !math.IsInf(off, 0) && w.dim.kind == dimStraight {
		text += fmt.Sprintf(": it is off by %s mm", mm(off))
	}
	m.addAt(w.view, Finding{Kind: DimensionOff, Amount: finite(off), Lines: lineList(d.line), Text: text + "."}, d.label, nil)
}

func finite(v float64) float64 {
	if math.IsInf(v, 0) || math.IsNaN(v) {
		return 0
	}
	return v
}

func (m *marking) missingDim(w *wanted) {
	v := &m.views[w.view]
	m.addAt(w.view, Finding{Kind: MissingDimension, Text: fmt.Sprintf("The %s, %s, is not given: it belongs in the %s or in another view that shows it.", w.dim.called(), says(w.dim.text), m.viewName(w.view)),
		Advice: kinds()[MissingDimension].advice + w.dim.becauseOf()}, v.place.Point(w.dim.anchor), nil)
}

// spareDim reports a dimension that the model does not have: one that gives a
// size again, or one for the instructor to look at.
func (m *marking) spareDim(d *subDim, want []wanted) {
	if i := m.again(d, want); i >= 0 {
		w := &want[i]
		m.addAt(w.view, Finding{Kind: DimensionTwice, Lines: lineList(d.line), Text: fmt.Sprintf("The %s, %s, is given twice.", w.dim.called(), says(w.dim.text))}, d.label, nil)
		return
	}
	if d.text == "" {
		if d.drawn {
			return // lines with arrowheads and no text: cutting planes, arrows of views
		}
		m.doubt("A dimension %swithout a text was not compared.", atLine(d.line))
		return
	}
	m.doubt("The dimension %s %sis none of the model answer's and did not count.", says(d.text), atLine(d.line))
}

// again returns the index of the dimension of the model that d gives once more,
// -1 for none.
func (m *marking) again(d *subDim, want []wanted) int {
	return slices.IndexFunc(want, func(w wanted) bool {
		if w.got < 0 || !w.ok && !sameText(w.dim.text, d.text) {
			return false
		}
		f, _ := m.fit(&w, d)
		return f == fitsWell || f == fitsView
	})
}

func atLine(line int) string {
	if line == 0 {
		return ""
	}
	return fmt.Sprintf("(line %d of the file) ", line)
}

func lineList(line int) []int {
	if line == 0 {
		return nil
	}
	return slices.Clone([]int{line})
}
