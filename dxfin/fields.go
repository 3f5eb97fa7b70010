package dxfin

// fields are the groups of a record. The first error stays.
type fields struct {
	p      *parser
	groups []group
	flags  int // of an INSERT: attributes follow; of a POLYLINE: its flags
	err    error
}

func (f *fields) real(g *group) float64 {
	v, err := f.p.real(g)
	if err != nil && f.err == nil {
		f.err = err
	}
	return v
}

func (f *fields) int(g *group) int {
	v, err := g.integer()
	if err != nil && f.err == nil {
		f.err = err
	}
	return v
}

func (f *fields) name(g *group) string { return f.p.enc.name(g.text) }
func (f *fields) line(g *group) string { return f.p.enc.line(g.text) }

// point sets a coordinate of v if the group is one of the point whose x has
// the given code.
func (f *fields) point(g *group, code int, v *Vec3) bool {
	switch g.code - code {
	case 0:
		v.X = f.real(g)
	case 10:
		v.Y = f.real(g)
	case 20:
		v.Z = f.real(g)
	default:
		return false
	}
	return true
}

// common reads what every entity has, and leaves in f.groups what is its own.
func (f *fields) common(e *placed) {
	e.Layer, e.LineType, e.LineTypeScale = "0", "BYLAYER", 1
	e.Colour, e.Weight, e.Normal = Colour{ColourByLayer, -1}, WeightByLayer, Vec3{0, 0, 1}
	own, inner := len(f.groups), false
	nested := e.Kind == "MULTILEADER" || e.Kind == "MLEADER" // it keeps its data in an object of its own
	for i := range f.groups {
		g := &f.groups[i]
		if g.code >= 1000 {
			own = min(own, i)
			f.xdata(e, f.groups[i:])
			break
		}
		if g.code == 101 { // an object within the entity follows
			own = min(own, i)
		}
		inner = inner || i >= own || nested && g.code == 300
		if !inner {
			f.property(e, g)
		}
	}
	if n := e.Normal; n == (Vec3{}) {
		e.Normal = Vec3{0, 0, 1}
	}
	f.groups = f.groups[:own]
}

func (f *fields) property(e *placed, g *group) {
	switch g.code {
	case 5:
		e.Handle = f.name(g)
	case 6:
		e.LineType = f.name(g)
	case 8:
		e.Layer = f.name(g)
	case 48:
		e.LineTypeScale = f.real(g)
	case 60:
		e.Invisible = f.int(g) == 1
	case 62:
		e.Colour.Index = f.int(g)
	case 67:
		e.paper = f.int(g) == 1
	case 370:
		e.Weight = Weight(f.int(g))
	case 420:
		e.Colour.RGB = f.int(g) & 0xffffff
	default:
		f.point(g, 210, &e.Normal)
	}
}

// xdata reads extended data.
func (f *fields) xdata(e *placed, groups []group) {
	for i := range groups {
		g := &groups[i]
		if g.code < 1000 {
			continue
		}
		if g.code == 1001 || len(e.XData) == 0 {
			e.XData = append(e.XData, XData{App: f.name(g)})
			if g.code == 1001 {
				continue
			}
			e.XData[0].App = ""
		}
		x := &e.XData[len(e.XData)-1]
		x.Values = append(x.Values, XValue{g.code, f.value(g)})
	}
}

// value returns a value as text.
func (f *fields) value(g *group) string {
	if g.numeric {
		return formatNumber(g.number)
	}
	if g.code == 1000 {
		return f.p.enc.decode(g.text)
	}
	return f.p.enc.name(g.text)
}
