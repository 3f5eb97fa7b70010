package dxfin

import "fmt"

// A hatchReader goes through the groups of a HATCH, whose order has meaning.
type hatchReader struct {
	*fields
	pos int
}

// peek returns the next group, nil at the end.
func (r *hatchReader) peek() *group {
	if r.pos >= len(r.groups) {
		return nil
	}
	return &r.groups[r.pos]
}

// number returns the value of the next group if it has one of the given code,
// else def.
func (r *hatchReader) number(code int, def float64) float64 {
	g := r.peek()
	if g == nil || g.code != code {
		return def
	}
	r.pos++
	return r.real(g)
}

func (r *hatchReader) int(code, def int) int {
	g := r.peek()
	if g == nil || g.code != code {
		return def
	}
	r.pos++
	return r.fields.int(g)
}

// point reads two groups, of the codes code and code+10.
func (r *hatchReader) point(code int) (v Vec3, ok bool) {
	g := r.peek()
	if g == nil || g.code != code {
		return v, false
	}
	v.X = r.number(code, 0)
	v.Y = r.number(code+10, 0)
	return v, true
}

func (f *fields) buildHatch(e *Entity) string {
	d := &Hatch{Scale: 1}
	e.Data = d
	r := hatchReader{fields: f}
	for g := r.peek(); g != nil; g = r.peek() {
		r.pos++
		switch g.code {
		case 2:
			d.Pattern = r.name(g)
		case 30:
			d.Elevation = r.real(g)
		case 70:
			d.Solid = r.fields.int(g) == 1
		case 92:
			loop, why := r.loop(r.fields.int(g))
			if why != "" {
				return why
			}
			d.Loops = append(d.Loops, loop)
		case 41:
			d.Scale = r.real(g)
		case 52:
			d.Angle = r.real(g)
		case 53:
			d.Lines = append(d.Lines, r.patternLine(g))
		case 98: // seeds follow
			return noLoops(d)
		}
	}
	return noLoops(d)
}

func noLoops(d *Hatch) string {
	if len(d.Loops) == 0 {
		return "has no boundary"
	}
	return ""
}

func (r *hatchReader) patternLine(g *group) PatternLine {
	l := PatternLine{Angle: r.real(g)}
	l.Base.X, l.Base.Y = r.number(43, 0), r.number(44, 0)
	l.Offset.X, l.Offset.Y = r.number(45, 0), r.number(46, 0)
	r.int(79, 0)
	for g := r.peek(); g != nil && g.code == 49; g = r.peek() {
		l.Dashes = append(l.Dashes, r.number(49, 0))
	}
	return l
}

// loop reads a boundary after its flags.
func (r *hatchReader) loop(flags int) (l Loop, why string) {
	if flags&2 != 0 {
		r.int(72, 0)
		r.int(73, 0)
		r.int(93, 0)
		for {
			at, ok := r.point(10)
			if !ok {
				break
			}
			l.Vertices = append(l.Vertices, Vertex{at, r.number(42, 0)})
		}
	} else {
		r.int(93, 0)
		for g := r.peek(); g != nil && g.code == 72; g = r.peek() {
			edge, why := r.edge(r.int(72, 0))
			if why != "" {
				return l, why
			}
			l.Edges = append(l.Edges, edge)
		}
	}
	// 97 and the objects that the boundary was made of.
	if r.int(97, 0) > 0 {
		for g := r.peek(); g != nil && g.code == 330; g = r.peek() {
			r.pos++
		}
	}
	return l, ""
}

func (r *hatchReader) edge(kind int) (Data, string) {
	first, _ := r.point(10)
	switch kind {
	case 1:
		to, _ := r.point(11)
		return &Line{first, to}, ""
	case 2:
		a := &Arc{Center: first, Radius: r.number(40, 0)}
		a.Start, a.End = r.turn()
		return a, noRadius(a.Radius)
	case 3:
		major, _ := r.point(11)
		e := &Ellipse{Center: first, Major: major, Ratio: r.number(40, 1)}
		start, end := r.turn()
		e.Start, e.End = radians(start), radians(end)
		if e.Ratio == 0 || major == (Vec3{}) {
			return nil, "has an edge without size"
		}
		return e, ""
	case 4:
		return r.splineEdge()
	}
	return nil, fmt.Sprintf("has an edge of the kind %d, which is none", kind)
}

// turn reads the angles of an arc as a counter-clockwise range. Those of a
// clockwise arc are measured clockwise.
func (r *hatchReader) turn() (start, end float64) {
	start, end = r.number(50, 0), r.number(51, 360)
	if r.int(73, 1) == 0 {
		start, end = 360-end, 360-start
	}
	return start, end
}

func (r *hatchReader) splineEdge() (Data, string) {
	s := &Spline{Degree: r.int(94, 3)}
	r.int(73, 0)
	r.int(74, 0)
	r.int(95, 0)
	r.int(96, 0)
	for g := r.peek(); g != nil && g.code == 40; g = r.peek() {
		s.Knots = append(s.Knots, r.number(40, 0))
	}
	for {
		at, ok := r.point(10)
		if !ok {
			break
		}
		s.Control = append(s.Control, at)
		if g := r.peek(); g != nil && g.code == 42 {
			s.Weights = append(s.Weights, r.number(42, 1))
		}
	}
	// Fit points, where there are any, follow their count; 97 without them is
	// the count of source objects and stays.
	if g := r.peek(); g != nil && g.code == 97 && r.pos+1 < len(r.groups) && r.groups[r.pos+1].code == 11 {
		r.pos++
		for _, ok := r.point(11); ok; _, ok = r.point(11) {
		}
	} else if g != nil && g.code == 97 && r.pos+1 < len(r.groups) && (r.groups[r.pos+1].code == 97 || r.groups[r.pos+1].code == 72) {
		r.pos++ // of no fit points
	}
	for _, ok := r.point(12); ok; _, ok = r.point(12) {
	}
	for _, ok := r.point(13); ok; _, ok = r.point(13) {
	}
	return s, s.wrong()
}
