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
	p := painter{d: d, boxes: boxes, pic: &Picture{}}
	p.prepare()
	for i := range d.Views {
		p.placed(i)
	}
	p.loose()
	if p.err == nil {
		p.extent()
	}
	if p.err != nil {
		return nil, p.err
	}
	return p.pic, nil
}

// A painter walks through a drawing. The first error stays.
type painter struct {
	pen
	d        *drawing.Drawing
	boxes    bool
	pic      *Picture
	patterns [drawing.RoleCount][]float64 // of lines, mm
	err      *drawing.ValueError

	// Where the items that are being painted belong.
	view, item int
	object     string
	style      drawing.Style // whose paper sizes are lengths of the view
	k          float64       // a point q of the view is k*q + at on paper
	at         drawing.Point
	base       drawing.Point // that a hatch line goes through, on paper
}

// prepare settles what belongs to the whole drawing.
func (p *painter) prepare() {
	p.checkDrawing()
	if p.err != nil {
		return
	}
	st := p.d.Style
	for r := range drawing.RoleCount {
		width := st.Width(r)
		p.pic.Layers[r].Width = width
		if width < least { // its dashes would be nothing in the decimals of a file
			continue
		}
		p.patterns[r] = r.Dashes()
		for i := range p.patterns[r] {
			p.patterns[r][i] *= width
		}
	}
}

func (p *painter) placed(i int) {
	if p.err != nil {
		return
	}
	v := &p.d.Views[i]
	p.enter(i, *v)
	p.items(v.View.Items)
}

// loose paints what belongs to no view.
func (p *painter) loose() {
	if p.err != nil {
		return
	}
	p.enter(-1, drawing.Placed{})
	p.items(p.d.Items)
	p.parts()
}

// enter makes the coordinates of a view those of the items that follow.
func (p *painter) enter(view int, v drawing.Placed) {
	scale := p.d.Style.PaperScale()
	p.view, p.item = view, -1
	p.at = v.At.Mul(scale)
	if v.Scale != 0 {
		scale *= v.Scale
	}
	p.style, p.k = p.d.Style, scale
	p.style.Scale = scale
	// A hatch in a block of a DXF file counts its lines from the block's
	// origin, any other from that of the drawing.
	p.base = drawing.Point{}
	if v.Block != "" {
		p.base = p.at
	}
}

func (p *painter) items(items []drawing.Item) {
	for i := range items {
		p.item = i
		if p.check(&items[i]); p.err != nil {
			return
		}
		p.shape(items[i].Role, items[i].Shape)
	}
	p.item = -1
}

// to returns where a point of the view lies on paper.
func (p *painter) to(q drawing.Point) drawing.Point { return q.Mul(p.k).Add(p.at) }

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
		c := drawing.Conic{From: p.to(s.From), Control: p.to(s.Control), To: p.to(s.To), Weight: s.Weight}
		p.move(c.From)
		p.conic(c, maxHalvings)
		p.stroke(r)
	case drawing.Polyline:
		p.chain(s.Vertices, s.Closed)
		p.stroke(r)
	case drawing.Text:
		p.text(r, s, "Value")
	case drawing.Hatch:
		p.area(r, s)
	default:
		p.dimension(s)
	}
}

func (p *painter) segment(r drawing.Role, l drawing.Line) {
	p.move(p.to(l.From))
	p.line(p.to(l.To))
	p.stroke(r)
}

func (p *painter) arc(r drawing.Role, a drawing.Arc) {
	p.round(r, a.Center, drawing.Pt(a.Radius, 0), drawing.Pt(0, a.Radius), a.Start, a.End)
}

// round paints the part of an ellipse with the half axes u and v.
func (p *painter) round(r drawing.Role, c, u, v drawing.Point, start, end float64) {
	c, u, v = p.to(c), u.Mul(p.k), v.Mul(p.k)
	sweep := plane.Sweep(start, end)
	e := drawing.Polar(1, start)
	p.move(c.Add(u.Mul(e.X)).Add(v.Mul(e.Y)))
	p.ellipse(c, u, v, start, sweep)
	if sweep == 360 {
		p.close()
	}
	p.stroke(r)
}

// chain goes along the segments of a polyline.
func (p *painter) chain(vs []drawing.Vertex, closed bool) {
	for i, v := range vs {
		if i == 0 {
			p.move(p.to(v.Point))
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
			p.line(p.to(next))
		}
	}
	if len(vs) > 0 {
		p.close()
	}
}

// bend goes along a circular segment and ends on the next vertex exactly.
func (p *painter) bend(a drawing.Arc, start, sweep float64, next drawing.Point) {
	r := a.Radius * p.k
	p.ellipse(p.to(a.Center), drawing.Pt(r, 0), drawing.Pt(0, r), start, sweep)
	p.segs[len(p.segs)-1].P[2] = p.to(next)
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
	p.pic.Layers[r].Strokes = append(p.pic.Layers[r].Strokes, s)
}

func (p *painter) fill(r drawing.Role) {
	if path := p.path(); path.Length() >= least {
		p.pic.Layers[r].Fills = append(p.pic.Layers[r].Fills, path)
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
	var loops []Path
	for _, l := range h.Loops {
		p.chain(l, true)
		loops = append(loops, p.path())
	}
	if !p.hatch(loops, p.base, h.Angle, h.Spacing) {
		p.fail("Spacing", number(h.Spacing), "makes too many lines for an area of this size")
	}
	if path := p.path(); len(path) > 0 {
		p.pic.Layers[r].Strokes = append(p.pic.Layers[r].Strokes, Stroke{Path: path})
	}
}

// text letters t, the value of a field.
func (p *painter) text(r drawing.Role, t drawing.Text, field string) {
	font := p.pic.Font
	value := font.Clean(t.Value)
	if missing := font.Missing(value); missing != nil {
		if !p.boxes {
			if p.fail(field, fmt.Sprintf("%.40q", t.Value), missing.Error()) {
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
	x := Text{Value: value, At: p.to(t.At), Size: height * float64(font.Em()) / float64(font.Capital()), Angle: t.Angle}
	x.Width = font.Width(value) * height
	switch t.Align {
	case drawing.AlignCentre:
		x.At = x.At.Sub(drawing.Polar(x.Width/2, t.Angle))
	case drawing.AlignRight:
		x.At = x.At.Sub(drawing.Polar(x.Width, t.Angle))
	}
	p.pic.Layers[r].Texts = append(p.pic.Layers[r].Texts, x)
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
			p.move(p.to(q))
		} else {
			p.line(p.to(q))
		}
	}
	p.close()
}

// parts writes the attributes of parts that show.
func (p *painter) parts() {
	for i := range p.d.Parts {
		for j := range p.d.Parts[i].Attributes {
			a := &p.d.Parts[i].Attributes[j]
			if a.Hidden {
				continue
			}
			if p.checkAttribute(a); p.err == nil {
				p.text(drawing.RoleText, a.Text, "Attributes.Text.Value")
			}
			if p.err != nil {
				p.err.Index, p.err.View = i, p.d.Parts[i].Name
				return
			}
		}
	}
}
