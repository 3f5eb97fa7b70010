package dxfin

import (
	"math"
	"strconv"
	"strings"

	"boltplate/drawing"
)

// direction returns the unit vector of an angle in degrees.
func direction(deg float64) Vec3 {
	s, c := math.Sincos(radians(deg))
	return Vec3{c, s, 0}
}

// lettering fills in how a text stands whose lines run along x in the
// coordinates of m.
func (t *piece) lettering(p *PlaneText, m *frame, x, y Vec3, height float64) {
	u, v := m.vector(x).flat(), m.vector(y.mul(height)).flat()
	p.Origin, p.Look = t.origin(), t.look
	p.Angle, p.Height, p.Mirror = turned(u.Angle()), v.Len(), wedge(u, v) < 0
	t.z.scene.Texts = append(t.z.scene.Texts, *p)
}

func (t *piece) text(d *Text) {
	if d.Hidden || strings.TrimSpace(d.Value) == "" {
		return
	}
	p := PlaneText{Value: d.Value, Width: d.Width, Align: d.Align, VAlign: d.VAlign, Tag: d.Tag}
	at, rotation := d.At, d.Rotation
	switch {
	case d.Align == Aligned || d.Align == Fit:
		if v := d.End.sub(d.At); d.HasEnd && v != (Vec3{}) {
			at, rotation = d.At.add(d.End).mul(0.5), degrees(math.Atan2(v.Y, v.X))
			p.Align, p.VAlign, p.Length = Center, Baseline, t.object.vector(v).flat().Len()
		} else {
			p.Align = Left
		}
	case d.HasEnd && (d.Align != Left || d.VAlign != Baseline):
		at = d.End
	}
	if d.Align == Middle {
		p.Align, p.VAlign = Center, MiddleHeight
	}
	p.At = t.object.point(at).flat()
	t.lettering(&p, &t.object, direction(rotation), direction(rotation+90), d.Height)
}

func (t *piece) paragraph(d *MText) {
	if strings.TrimSpace(d.Value) == "" {
		return
	}
	p := PlaneText{Value: d.Value, Width: 1, At: t.object.point(d.At).flat(),
		Align:  [3]HAlign{Left, Center, Right}[(d.Attachment-1)%3],
		VAlign: [3]VAlign{Top, MiddleHeight, Bottom}[(d.Attachment-1)/3]}
	if d.HasDir && d.Direction != (Vec3{}) {
		x := d.Direction.unit()
		t.lettering(&p, &t.at.frame, x, t.e.Normal.unit().cross(x), d.Height)
		return
	}
	t.lettering(&p, &t.object, direction(d.Rotation), direction(d.Rotation+90), d.Height)
}

func (t *piece) dimension(d *Dimension) error {
	p := PlaneDimension{Origin: t.origin(), Look: t.look, Kind: d.Kind}
	in := func(v Vec3) drawing.Point { return t.at.point(v).flat() }
	p.At, p.First, p.Second, p.Center, p.Arc = in(d.At), in(d.First), in(d.Second), in(d.Center), in(d.Arc)
	p.Middle = t.object.point(d.Middle).flat()
	p.Direction = turned(t.object.vector(direction(d.Rotation)).flat().Angle())
	if d.Kind == DimAligned {
		p.Direction = turned(p.Second.Sub(p.First).Angle())
	}
	style := t.z.file.DimStyle(d.Style)
	for _, o := range d.overrides {
		if o.code == 3 {
			style.Post = o.text
		}
		style.set(o.code, o.value)
	}
	p.Value = d.value()
	if d.Kind != DimAngular && d.Kind != DimAngular3 {
		p.Value *= math.Abs(style.Factor)
	}
	if text := strings.TrimSpace(d.Text); text != "" && text != "<>" {
		p.Override = PlainText(text)
	}
	err := t.picture(d, &p)
	if p.Text = picturedText(&p.Picture); p.Text != "" {
		p.Drawn = true
	} else {
		p.Text = d.says(&style, p.Value)
	}
	t.z.scene.Dimensions = append(t.z.scene.Dimensions, p)
	return err
}

// picture draws the block of a dimension into a scene of its own.
func (t *piece) picture(d *Dimension, p *PlaneDimension) error {
	z := t.z
	b, ok := z.file.Block(d.Block)
	if !ok || b.External || len(t.at.blocks) >= z.depth {
		if d.Block != "" {
			z.note(t.e.Line, "a dimension has no picture: the block %q is not defined", d.Block)
		}
		return nil
	}
	for _, outer := range t.at.blocks {
		if fold(outer) == fold(d.Block) {
			return nil // noted where it is inserted
		}
	}
	in := z.inside(t, d.Block)
	m := frame{Vec3{X: 1}, Vec3{Y: 1}, Vec3{Z: 1}, Vec3{}.sub(b.Base)}
	in.frame = t.at.then(&m)
	outer := z.scene
	z.scene = &p.Picture
	err := z.entities(b.Entities, in)
	outer.Notes = append(outer.Notes, z.scene.Notes...)
	z.scene = outer
	return err
}

func picturedText(s *Scene) string {
	var all []string
	for i := range s.Texts {
		all = append(all, strings.TrimSpace(s.Texts[i].Value))
	}
	return strings.Join(all, " ")
}

// value returns what the dimension measures, in its own coordinates, without
// the factor of its style.
func (d *Dimension) value() float64 {
	v := d.Second.sub(d.First)
	switch d.Kind {
	case DimLinear:
		u := direction(d.Rotation)
		return math.Abs(v.X*u.X + v.Y*u.Y)
	case DimAligned:
		return v.len()
	case DimDiameter, DimRadius:
		return d.Center.sub(d.At).len()
	case DimAngular:
		return angleBetween(v, d.At.sub(d.Center), d.Measured)
	case DimAngular3:
		return angleAbout(d.Center, d.First, d.Second, d.At)
	}
	return math.Abs(d.Measured)
}

// angleBetween returns the angle between two directions in degrees; of the two
// that lines make, the one that is nearer to what the file says in radians.
func angleBetween(u, v Vec3, said float64) float64 {
	a := math.Abs(math.Mod(degrees(math.Atan2(v.Y, v.X)-math.Atan2(u.Y, u.X)), 180))
	if b := 180 - a; said != 0 && math.Abs(b-degrees(said)) < math.Abs(a-degrees(said)) {
		return b
	}
	if said == 0 && a > 90 {
		return 180 - a
	}
	return a
}

// angleAbout returns the angle at a vertex between two legs, on the side of a
// point.
func angleAbout(vertex, p, q, on Vec3) float64 {
	at := func(v Vec3) float64 { return degrees(math.Atan2(v.Y-vertex.Y, v.X-vertex.X)) }
	sweep := turned(at(q) - at(p))
	if turned(at(on)-at(p)) > sweep {
		sweep = 360 - sweep
	}
	return sweep
}

// says returns what a program would write on the dimension.
func (d *Dimension) says(s *DimStyle, value float64) string {
	angle := d.Kind == DimAngular || d.Kind == DimAngular3
	text := s.format(value, angle)
	before, after := "", ""
	if !angle {
		var around bool
		if before, after, around = strings.Cut(s.Post, "<>"); !around {
			before, after = "", s.Post
		}
	}
	if before == "" {
		before = map[DimensionKind]string{DimDiameter: "Ø", DimRadius: "R"}[d.Kind]
	}
	text = PlainText(before + text + after)
	switch own := d.Text; {
	case own == "":
		return text
	case strings.TrimSpace(own) == "":
		return ""
	default:
		return strings.TrimSpace(PlainText(strings.Replace(own, "<>", text, 1)))
	}
}

// format writes a value with the decimals of the style.
func (s *DimStyle) format(v float64, angle bool) string {
	decimals := s.Decimals
	if angle {
		decimals = s.AngleDecs
	} else if s.Round > 0 {
		v = math.Round(v/s.Round) * s.Round
	}
	trim := s.Zeros&8 != 0 || decimals < 0
	if decimals < 0 || decimals > 8 {
		decimals = 4
	}
	text := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Contains(text, ".") && (trim || angle) {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	if s.Zeros&4 != 0 && strings.HasPrefix(text, "0.") {
		text = text[1:]
	}
	if s.Separator != '.' {
		text = strings.Replace(text, ".", string(s.Separator), 1)
	}
	if angle {
		text += "°"
	}
	return text
}

func (t *piece) hatch(d *Hatch) error {
	p := PlaneHatch{Origin: t.origin(), Look: t.look, Solid: d.Solid, Pattern: d.Pattern, Families: len(d.Lines)}
	m := t.object
	m.o = m.point(Vec3{Z: d.Elevation})
	p.Angle = turned(m.vector(direction(d.Angle)).flat().Angle())
	if len(d.Lines) > 0 {
		l := &d.Lines[0]
		u, off := m.vector(direction(l.Angle)).flat(), m.vector(l.Offset).flat()
		p.Angle = turned(u.Angle())
		if u.Len() > 0 {
			p.Spacing = math.Abs(wedge(u, off)) / u.Len()
		}
	}
	for i := range d.Loops {
		loop, err := t.loop(&m, &d.Loops[i])
		if err != nil {
			return err
		}
		p.Loops = append(p.Loops, loop)
	}
	t.z.scene.Hatches = append(t.z.scene.Hatches, p)
	return nil
}

// loop returns a boundary of a hatch as curves.
func (t *piece) loop(m *frame, l *Loop) ([]Curve, error) {
	if len(l.Vertices) > 0 {
		return t.chain(m, l.Vertices, true)
	}
	var curves []Curve
	for _, edge := range l.Edges {
		if err := t.z.count(); err != nil {
			return nil, err
		}
		switch d := edge.(type) {
		case *Line:
			curves = append(curves, Curve{Shape: drawing.Line{From: m.point(d.From).flat(), To: m.point(d.To).flat()}})
		case *Arc:
			a, b, whole := sweepOf(radians(d.Start), radians(d.End))
			curves = append(curves, Curve{Shape: round(m.point(d.Center).flat(), m.vector(Vec3{X: d.Radius}).flat(), m.vector(Vec3{Y: d.Radius}).flat(), a, b, whole)})
		case *Ellipse:
			a, b, whole := sweepOf(d.Start, d.End)
			minor := Vec3{-d.Major.Y, d.Major.X, 0}.mul(d.Ratio)
			curves = append(curves, Curve{Shape: round(m.point(d.Center).flat(), m.vector(d.Major).flat(), m.vector(minor).flat(), a, b, whole)})
		case *Spline:
			curves = append(curves, Curve{Spline: planeSpline(d, m)})
		}
	}
	return curves, nil
}
