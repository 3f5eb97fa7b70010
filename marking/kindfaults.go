package marking

import (
	"fmt"
	"math"
	"slices"

	"boltplate/drawing"
)

// A kindFault is a line that is drawn as one of another role.
type kindFault struct {
	view, elem int
	as         drawing.Role
	look       int
	lines      []int
	done       bool
}

// kindFaults reports lines of the wrong kind: wide and narrow ones that are
// exchanged as one finding a view, a kind that is wrong throughout as one, and
// what is left line by line.
func (m *marking) kindFaults() {
	if m.judge.exchanged {
		m.exchangedThroughout()
	}
	m.exchanges()
	m.systematic()
	for i := range m.wrongKind {
		f := &m.wrongKind[i]
		if f.done {
			continue
		}
		e := &m.views[f.view].model.elements[f.elem]
		ps := e.points(span{0, e.length})
		m.add(f.view, Finding{Kind: WrongLine, Lines: f.lines, Text: fmt.Sprintf("The %s is drawn as a %s.", m.describe(f.view, e), plainLine(f.as)),
			Advice: kindAdvice(e.role)}, ps, nil)
	}
}

func kindAdvice(r drawing.Role) string {
	return fmt.Sprintf("It should be a %s.", lineWord(r))
}

// plainLine returns how a line of a role is drawn, without the standard.
func plainLine(r drawing.Role) string {
	switch r {
	case drawing.RoleOutline:
		return "wide continuous line"
	case drawing.RoleThin:
		return "narrow continuous line"
	case drawing.RoleHidden:
		return "dashed line"
	case drawing.RoleCentre:
		return "dotted chain line"
	case drawing.RoleCutting:
		return "wide chain line"
	case drawing.RoleAdjacent:
		return "double-dotted chain line"
	}
	return "line of " + r.String()
}

// neighbours is how far apart, on paper, the crest and the root of a thread are
// at most.
const neighbours = 8.0

// exchanges finds wide lines that are drawn narrow beside narrow ones that are
// drawn wide.
func (m *marking) exchanges() {
	for v := range m.views {
		var pair []int
		for i := range m.wrongKind {
			a := &m.wrongKind[i]
			if a.view != v || a.done || m.role(a) != drawing.RoleOutline || a.as != drawing.RoleThin {
				continue
			}
			for j := range m.wrongKind {
				b := &m.wrongKind[j]
				if b.view == v && !b.done && m.role(b) == drawing.RoleThin && b.as == drawing.RoleOutline && m.beside(a, b) {
					pair = append(pair, i, j)
				}
			}
		}
		if len(pair) == 0 {
			continue
		}
		slices.Sort(pair)
		pair = slices.Compact(pair)
		var ps []point
		var lines []int
		wide := 0
		for _, i := range pair {
			f := &m.wrongKind[i]
			f.done = true
			e := &m.views[v].model.elements[f.elem]
			ps = append(ps, e.points(span{0, e.length})...)
			lines = merged(lines, f.lines)
			if m.role(f) == drawing.RoleOutline {
				wide++
			}
		}
		m.add(v, Finding{Kind: Exchanged, Lines: lines, Text: fmt.Sprintf("In the %s %s drawn narrow and %s drawn wide that belong the other way round.",
			m.viewName(v), are(wide, "wide line is", "wide lines are"), are(len(pair)-wide, "narrow line is", "narrow lines are"))}, ps, nil)
	}
}

// exchangedThroughout reports that what should be wide is narrow and the other
// way round, in the whole drawing.
func (m *marking) exchangedThroughout() {
	var first *kindFault
	var lines []int
	n := 0
	for i := range m.wrongKind {
		f := &m.wrongKind[i]
		if r := m.role(f); r == drawing.RoleOutline && f.as == drawing.RoleThin || r == drawing.RoleThin && f.as == drawing.RoleOutline {
			if first == nil {
				first = f
			}
			f.done = true
			lines = merged(lines, f.lines)
			n++
		}
	}
	if first == nil {
		return
	}
	e := &m.views[first.view].model.elements[first.elem]
	m.add(first.view, Finding{Kind: Exchanged, Lines: lines,
		Text: fmt.Sprintf("Wide and narrow lines are exchanged throughout: %s. It counts once.", count(n, "line", "lines"))}, e.points(span{0, e.length}), nil)
}

func are(n int, one, several string) string { return count(n, one, several) }

func (m *marking) role(f *kindFault) drawing.Role {
	return m.views[f.view].model.elements[f.elem].role
}

// beside reports whether two lines run beside each other, as the crest and the
// root of a thread do.
func (m *marking) beside(a, b *kindFault) bool {
	es := m.views[a.view].model.elements
	e, o := &es[a.elem], &es[b.elem]
	if e.form != o.form {
		return false
	}
	if e.form == round {
		return e.c.Sub(o.c).Len() < m.tol && math.Abs(e.r-o.r) < neighbours
	}
	mid := o.at(o.length / 2)
	s, off, u := e.project(mid)
	_, _, w := o.project(mid)
	return off < neighbours && math.Abs(wedge(u, w)) < 0.03 && s > -o.length/2 && s < e.length+o.length/2
}

// leastSystem is how many lines make a slip a habit.
const leastSystem = 4

// systematic finds roles all of whose lines are drawn as those of one other
// role.
func (m *marking) systematic() {
	for r := range drawing.RoleCount {
		if len(demands(r)) == 0 {
			continue
		}
		var all []int
		as := map[drawing.Role]int{}
		for i := range m.wrongKind {
			if f := &m.wrongKind[i]; !f.done && m.role(f) == r {
				all = append(all, i)
				as[f.as]++
			}
		}
		if len(all) < leastSystem || len(as) != 1 || len(all) < m.drawnOf(r) {
			continue
		}
		f := &m.wrongKind[all[0]]
		var ps []point
		var lines []int
		for _, i := range all {
			g := &m.wrongKind[i]
			g.done = true
			lines = merged(lines, g.lines)
			if g.view == f.view {
				e := &m.views[g.view].model.elements[g.elem]
				ps = append(ps, e.points(span{0, e.length})...)
			}
		}
		m.add(f.view, Finding{Kind: WrongLine, Lines: lines,
			Text:   fmt.Sprintf("All lines that should be a %s are drawn as a %s (%d of them; it counts once).", plainLine(r), plainLine(f.as), len(all)),
			Advice: fmt.Sprintf("Each should be a %s.", lineWord(r))}, ps, nil)
	}
}

// drawnOf returns how many lines of a role are drawn.
func (m *marking) drawnOf(r drawing.Role) (n int) {
	for i := range m.views {
		v := &m.views[i]
		for k := range v.model.elements {
			if v.model.elements[k].role == r && len(v.hits[k]) > 0 {
				n++
			}
		}
	}
	return n
}
