package paint

import (
	"fmt"
	"strings"
	"unicode"

	"boltplate/drawing"
	"boltplate/drawing/lettering"
	"boltplate/internal/plane"
)

// Paint returns the picture of d, or a *drawing.ValueError where d holds what
// cannot be drawn; with boxes, what the font cannot letter is no error. d is
// not changed.
func Paint(d *drawing.Drawing, boxes bool) (*Picture, error) {
	if err := d.Validate(); err != nil {
		return nil, err
	}
	font, err := fontOf(d.Style)
	if err != nil {
		return nil, err
	}
	p := painter{d: d, boxes: boxes, pic: &Picture{Font: font}, at: drawing.Place{View: -1, Item: -1}}
	if err := p.extent(); err != nil {
		return nil, err
	}
	p.prepare()
	if err := d.Each(p.item); err != nil {
		return nil, err
	}
	if err := p.parts(); err != nil {
		return nil, err
	}
	p.finish()
	return p.pic, nil
}

// A painter walks through a drawing. What it paints it first moves to its place
// on paper, where a millimetre is one.
type painter struct {
	pen
	d        *drawing.Drawing
	boxes    bool
	pic      *Picture
	layers   Layers                       // of the sheet that is being painted
	patterns [drawing.RoleCount][]float64 // of lines, mm
	err      *drawing.ValueError          // the first
	at       drawing.Place                // of the item that is being painted
	onPaper  drawing.Transform            // of its view
	base     drawing.Point                // that a hatch line goes through, on paper
	style    drawing.Style                // on paper
}

// prepare settles what belongs to the whole drawing.
func (p *painter) prepare() {
	st := p.d.Style
	p.style = st
	p.style.Scale = 1
	p.enter(-1)
	for r := range drawing.RoleCount {
		width := st.Width(r)
		p.pic.Widths[r] = width
		if width < least { // its dashes would be nothing in the decimals of a file
			continue
		}
		p.patterns[r] = r.Dashes()
		for i := range p.patterns[r] {
			p.patterns[r][i] *= width
		}
	}
}

// finish puts a sheet on the pile.
func (p *painter) finish() {
	p.pic.Sheets = append(p.pic.Sheets, p.layers)
	p.layers = Layers{}
}

// enter makes the coordinates of a view those of the items that follow; -1 is
// those of the drawing.
func (p *painter) enter(view int) {
	p.onPaper, p.base = drawing.Transform{Scale: p.d.Style.PaperScale()}, drawing.Point{}
	if view < 0 {
		return
	}
	v := &p.d.Views[view]
	p.onPaper = v.Transform().Then(p.onPaper)
	// A hatch in a block of a DXF file counts its lines from the block's
	// origin, any other from that of the drawing.
	if v.Block != "" {
		p.base = p.onPaper.Move
	}
}

func (p *painter) item(at drawing.Place, it *drawing.Item) error {
	if at.View != p.at.View {
		p.enter(at.View)
	}
	p.at = at
	p.shape(it.Role, drawing.Apply(it.Shape, p.onPaper))
	if p.err != nil {
		return p.err
	}
	return nil
}

func (p *painter) shape(r drawing.Role, s drawing.Shape) {
	switch s := s.(type) {
	case drawing.Line:
		p.segment(r, s)
	case drawing.Arc:
		p.arc(r, s)
	case drawing.Circle:
		p.arc(r, drawing.Arc{Center: s.Center, Radius: s.Radius})
	case drawing.Ellipse:
		minor := drawing.Pt(-s.Major.Y, s.Major.X).Mul(s.Ratio)
		p.round(r, s.Center, s.Major, minor, s.Start, s.End)
	case drawing.Conic:
		p.move(s.From)
		p.conic(s, maxHalvings)
		p.stroke(r)
	case drawing.Polyline:
		p.chain(s.Vertices, s.Closed)
		p.stroke(r)
	case drawing.Text:
		p.text(r, s, "Value")
	case drawing.Hatch:
		p.area(r, s)
	case drawing.Cover:
		p.cover(s)
	default:
		p.dimension(s)
	}
}

func (p *painter) segment(r drawing.Role, l drawing.Line) {
	p.move(l.From)
	p.line(l.To)
	p.stroke(r)
}

func (p *painter) arc(r drawing.Role, a drawing.Arc) {
	p.round(r, a.Center, drawing.Pt(a.Radius, 0), drawing.Pt(0, a.Radius), a.Start, a.End)
}

// round paints the part of an ellipse with the half axes u and v.
func (p *painter) round(r drawing.Role, c, u, v drawing.Point, start, end float64) {
	sweep := plane.Sweep(start, end)
	e := drawing.Polar(1, start)
	p.move(c.Add(u.Mul(e.X)).Add(v.Mul(e.Y)))
	p.ellipse(c, u, v, start, sweep)
	if sweep == 360 {
		p.close()
	}
	p.stroke(r)
}

// cover ends the sheet with an area that hides what is on it.
func (p *painter) cover(c drawing.Cover) {
	for _, l := range c.Loops {
		p.chain(l, true)
		if path := p.path(); path.Length() >= least {
			p.layers.Covers = append(p.layers.Covers, path)
		}
	}
	if len(p.layers.Covers) > 0 {
		p.finish()
	}
}

// chain goes along the segments of a polyline.
func (p *painter) chain(vs []drawing.Vertex, closed bool) {
	for i, v := range vs {
		if i == 0 {
			p.move(v.Point)
		}
		if i+1 == len(vs) && !closed {
			return
		}
		next := vs[(i+1)%len(vs)].Point
		a, bent := drawing.BulgeArc(v, next)
		switch {
		case bent && v.Bulge > 0:
			p.bend(a, a.Start, plane.Sweep(a.Start, a.End), next)
		case bent:
			p.bend(a, a.End, -plane.Sweep(a.Start, a.End), next)
		case i+1 < len(vs):
			p.line(next)
		}
	}
	if len(vs) > 0 {
		p.close()
	}
}

// bend goes along a circular segment and ends on the next vertex exactly.
func (p *painter) bend(a drawing.Arc, start, sweep float64, next drawing.Point) {
	p.ellipse(a.Center, drawing.Pt(a.Radius, 0), drawing.Pt(0, a.Radius), start, sweep)
	p.segs[len(p.segs)-1].P[2] = next
}

// stroke makes a line of what the pen has drawn.
func (p *painter) stroke(r drawing.Role) {
	path := p.path()
	length := path.Length()
	if length < least {
		return
	}
	s := Stroke{Path: path}
	if p.patterns[r] != nil {
		s.Dashes = fit(p.patterns[r], length, path.closed())
	}
	p.layers.Roles[r].Strokes = append(p.layers.Roles[r].Strokes, s)
}

func (p *painter) fill(r drawing.Role) {
	if path := p.path(); path.Length() >= least {
		p.layers.Roles[r].Fills = append(p.layers.Roles[r].Fills, path)
	}
}

func (p *painter) area(r drawing.Role, h drawing.Hatch) {
	if h.Solid {
		for _, l := range h.Loops {
			p.chain(l, true)
		}
		p.fill(r)
		return
	}
	h = h.Apply(drawing.Transform{Move: p.base.Mul(-1)})
	h.EachLine(p.style, func(l drawing.Line) {
		if l.To.Sub(l.From).Len() >= least {
			p.move(l.From.Add(p.base))
			p.line(l.To.Add(p.base))
		}
	})
	if path := p.path(); len(path) > 0 {
		p.layers.Roles[r].Strokes = append(p.layers.Roles[r].Strokes, Stroke{Path: path})
	}
}

// text letters t, the value of a field.
func (p *painter) text(r drawing.Role, t drawing.Text, field string) {
	font := p.pic.Font
	value := font.Clean(t.Value)
	if missing := font.Missing(value); missing != nil {
		if !p.boxes {
			if p.err == nil {
				p.err = p.at.Fault(p.object(), field, fmt.Sprintf("%.40q", t.Value), missing.Error())
				p.err.Err = missing
			}
			return
		}
		value = boxed(font, value)
	}
	height := t.Height
	if height == 0 {
		height = p.d.Style.Height()
	}
	if strings.TrimSpace(value) == "" || height < least {
		return
	}
	x := Text{Value: value, At: t.At, Size: height * float64(font.Em()) / float64(font.Capital()), Angle: t.Angle, Slant: t.Slant}
	x.Width = font.Width(value) * height
	if t.Hang {
		_, up := x.Axes()
		x.At = x.At.Sub(up.Mul(height))
	}
	switch t.Align {
	case drawing.AlignCentre:
		x.At = x.At.Sub(drawing.Polar(x.Width/2, t.Angle))
	case drawing.AlignRight:
		x.At = x.At.Sub(drawing.Polar(x.Width, t.Angle))
	}
	p.layers.Roles[r].Texts = append(p.layers.Roles[r].Texts, x)
}

// boxed returns text with U+FFFD for what the font cannot letter.
func boxed(font *lettering.Font, text string) string {
	return strings.Map(func(r rune) rune {
		if font.Missing(string(r)) != nil {
			return unicode.ReplacementChar
		}
		return r
	}, text)
}

// object returns what is being painted, for an error.
func (p *painter) object() string {
	switch {
	case p.at.Item < 0:
		return "Part"
	case p.at.View < 0:
		return drawing.ShapeName(p.d.Items[p.at.Item].Shape)
	}
	return drawing.ShapeName(p.d.Views[p.at.View].View.Items[p.at.Item].Shape)
}

// dimension paints what a dimension is drawn with, all of it in the role of
// dimensions.
func (p *painter) dimension(s drawing.Shape) {
	x, ok := drawing.Expand(s, p.style)
	if !ok {
		return
	}
	const r = drawing.RoleDimension
	for _, l := range x.Lines() {
		p.segment(r, l)
	}
	for _, a := range x.Arcs() {
		p.arc(r, a)
	}
	for _, a := range x.Arrows() {
		p.corners(a[:])
		p.fill(r)
	}
	if square, ok := x.Square(); ok {
		p.corners(square[:])
		p.stroke(r)
	}
	if taper, ok := x.Taper(); ok {
		p.corners(taper[:])
		p.stroke(r)
	}
	if t, ok := x.Text(); ok {
		p.text(r, t, "Label")
	}
}

func (p *painter) corners(qs []drawing.Point) {
	for i, q := range qs {
		if i == 0 {
			p.move(q)
		} else {
			p.line(q)
		}
	}
	p.close()
}

// parts writes the attributes of parts that show.
func (p *painter) parts() error {
	p.enter(-1)
	p.at = drawing.Place{View: -1, Item: -1}
	for i := range p.d.Parts {
		for j := range p.d.Parts[i].Attributes {
			a := &p.d.Parts[i].Attributes[j]
			if a.Hidden {
				continue
			}
			p.text(drawing.RoleText, a.Text.Apply(p.onPaper), "Attributes.Text.Value")
			if p.err != nil {
				p.err.Index, p.err.View = i, p.d.Parts[i].Name
				return p.err
			}
		}
	}
	return nil
}
