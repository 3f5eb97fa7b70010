package marking

import (
	"fmt"
	"math"

	"boltplate/drawing"
)

// roleWord returns what lines of a role are called.
func roleWord(r drawing.Role) string {
	switch r {
	case drawing.RoleOutline:
		return "visible edge"
	case drawing.RoleThin:
		return "narrow continuous line"
	case drawing.RoleHidden:
		return "hidden edge"
	case drawing.RoleCentre:
		return "centre line"
	case drawing.RoleCutting:
		return "cutting plane"
	case drawing.RoleAdjacent:
		return "outline of a neighbouring part"
	}
	return "line"
}

// lineWord returns how lines of a role are drawn.
func lineWord(r drawing.Role) string {
	switch r {
	case drawing.RoleOutline:
		return "wide continuous line (ISO 128-2, 01.2)"
	case drawing.RoleThin:
		return "narrow continuous line (ISO 128-2, 01.1)"
	case drawing.RoleHidden:
		return "narrow dashed line (ISO 128-2, 02.1)"
	case drawing.RoleCentre:
		return "narrow long-dashed dotted line (ISO 128-2, 04.1)"
	case drawing.RoleCutting:
		return "wide long-dashed dotted line (ISO 128-2, 04.2)"
	case drawing.RoleAdjacent:
		return "narrow long-dashed double-dotted line (ISO 128-2, 05.1)"
	}
	return "line"
}

// roleAdvice says what lines of a role are for.
func roleAdvice(r drawing.Role) string {
	switch r {
	case drawing.RoleOutline:
		return "Every edge that can be seen is drawn, as a " + lineWord(r) + "; so are the crests of a thread and the limit of its usable length."
	case drawing.RoleThin:
		return "Roots of threads, run-outs and the diagonals of flat faces are drawn as a " + lineWord(r) + "."
	case drawing.RoleHidden:
		return "Edges that the part itself hides are drawn where they are asked for, as a " + lineWord(r) + "."
	case drawing.RoleCutting:
		return "A section says where it is cut, by a " + lineWord(r) + "."
	case drawing.RoleAdjacent:
		return "Neighbouring parts are drawn as a " + lineWord(r) + "."
	}
	return ""
}

// describe names a line of a view: its kind, its direction or radius, its
// length and where it is.
func (m *marking) describe(view int, e *element) string {
	v := &m.views[view]
	what := roleWord(e.role)
	at := m.where(view, mean(e.points(span{0, e.length})))
	switch e.form {
	case round:
		if e.whole() {
			return fmt.Sprintf("%s Ø%s (a circle) %s", what, mm(2*e.r), at)
		}
		return fmt.Sprintf("%s (an arc, R%s) %s", what, mm(e.r), at)
	case curve:
		return fmt.Sprintf("%s (a curve) %s", what, at)
	}
	u := v.place.Vector(e.b.Sub(e.a))
	slope := apart(u.Angle(), 0)
	way := fmt.Sprintf("inclined by %s°", drawing.FormatValue(math.Round(slope), false))
	switch {
	case slope < 0.6:
		way = "horizontal"
	case slope > 89.4:
		way = "vertical"
	}
	return fmt.Sprintf("%s (%s, %s mm) %s", what, way, mm(e.length), at)
}

// where says in words where a point lies in a view, as the student has drawn
// it.
func (m *marking) where(view int, p point) string {
	v := &m.views[view]
	box := placedBox(v.model, v.place)
	q := v.place.Point(p)
	part := func(at, lo, hi float64) int {
		switch t := (at - lo) / max(hi-lo, 1e-9); {
		case t < 0.36:
			return 0
		case t > 0.64:
			return 2
		}
		return 1
	}
	names := [3][3]string{{"at the lower left", "at the bottom", "at the lower right"}, {"at the left", "in the middle", "at the right"}, {"at the upper left", "at the top", "at the upper right"}}
	return fmt.Sprintf("%s of the %s", names[part(q.Y, box.Min.Y, box.Max.Y)][part(q.X, box.Min.X, box.Max.X)], m.viewName(view))
}

// viewName returns what a report calls a view that was found.
func (m *marking) viewName(view int) string {
	v := &m.views[view]
	return m.figures[v.fig].place(v.view)
}

// howOff says by how much and to where a line is off.
func (m *marking) howOff(view int, e *element, r *run, amount float64) string {
	v := &m.views[view]
	if e.form == round {
		if c, radius, off, ok := circleOf(r.points); ok && off < 0.02*radius+m.tol {
			if math.Abs(radius-e.r) > m.tol && c.Sub(e.c).Len() < math.Abs(radius-e.r) {
				return fmt.Sprintf(": its radius is %s mm and not %s", mm(radius), mm(e.r))
			}
		}
	}
	d := v.place.Vector(mean(r.points).Sub(mean(e.points(span{0, e.length})))).Mul(1 / v.place.Scale)
	if d.Len() < 0.7*amount || d.Len() > 1.3*amount {
		return fmt.Sprintf(", off by %s mm", mm(amount))
	}
	return fmt.Sprintf(", %s mm %s", mm(amount), direction(d))
}

// direction says where an offset leads.
func direction(d point) string {
	switch a := norm(d.Angle()); {
	case a < 22.5 || a >= 337.5:
		return "too far right"
	case a < 67.5:
		return "too far up and right"
	case a < 112.5:
		return "too high"
	case a < 157.5:
		return "too far up and left"
	case a < 202.5:
		return "too far left"
	case a < 247.5:
		return "too far down and left"
	case a < 292.5:
		return "too low"
	}
	return "too far down and right"
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
