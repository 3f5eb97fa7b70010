package drawing

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Limits of what can be drawn. Scales and sizes on paper beyond theirs, or
// their inverse, would be nothing in the decimals of a file.
const (
	MaxNumber  = 1e12 // a coordinate, a length, an angle
	LeastSize  = 1e-6 // a scale, a size on paper, the ratio of an ellipse, the weight of a conic
	MostSize   = 1e6  // a scale, a size on paper
	LeastSpace = 1e-3 // between lines of a hatch, mm on paper
)

// Validate returns a *ValueError where d holds what cannot be drawn: a number
// that is not finite, a negative radius, a shape that is none, a dimension that
// has no place, or no drawing at all. The exporters call it first.
func (d *Drawing) Validate() error {
	if d == nil {
		return &ValueError{Index: -1, Item: -1, Object: "Drawing", Reason: "is nil; there is no drawing"}
	}
	if err := d.Style.validate(); err != nil {
		return err
	}
	for i := range d.Views {
		v := validator{d: d, at: Place{d: d, View: i, Item: -1}}
		if v.placed(&d.Views[i]); v.err != nil {
			return v.err
		}
	}
	if err := d.Each(d.validateItem); err != nil {
		return err
	}
	for i := range d.Parts {
		if err := d.validatePart(i); err != nil {
			return err
		}
	}
	return nil
}

func (d *Drawing) validateItem(at Place, it *Item) error {
	v := validator{d: d, at: at, it: it}
	if it.Role >= RoleCount {
		v.fail("Role", fmt.Sprint(uint8(it.Role)), "is no role")
	}
	if v.err == nil {
		v.shape(it.Shape)
	}
	if v.err != nil {
		return v.err
	}
	return nil
}

func (d *Drawing) validatePart(i int) error {
	p := &d.Parts[i]
	v := validator{d: d, at: Place{d: d, View: -1, Item: -1}, object: "Part"}
	v.point("At", p.At)
	for j := range p.Attributes {
		v.text("Attributes.Text.", &p.Attributes[j].Text)
	}
	if v.err == nil {
		return nil
	}
	v.err.Index, v.err.View = i, p.Name
	return v.err
}

// A Place says where an item stands in its drawing.
type Place struct {
	View int // index in Drawing.Views, -1 for an item of Drawing.Items
	Item int // index in the items of the view or of the drawing
	d    *Drawing
}

// Fault returns an error about what stands there: about a field of an object,
// such as "Arc", its value as text, and what is wrong with it.
func (p Place) Fault(object, field, value, reason string) *ValueError {
	e := &ValueError{Index: p.View, Item: p.Item, Object: object, Field: field, Value: value, Reason: reason}
	if p.View >= 0 {
		e.View = p.d.Views[p.View].View.Name
	}
	return e
}

// Each calls f for every item of the drawing, in the order in which they are
// drawn: those of the views, then those of none. It stops at the first error
// and returns it.
func (d *Drawing) Each(f func(Place, *Item) error) error {
	items := func(view int, items []Item) error {
		for i := range items {
			if err := f(Place{view, i, d}, &items[i]); err != nil {
				return err
			}
		}
		return nil
	}
	for i := range d.Views {
		if err := items(i, d.Views[i].View.Items); err != nil {
			return err
		}
	}
	return items(-1, d.Items)
}

// ShapeName returns the name of a shape's type, such as "Arc"; "Item" where
// there is none.
func ShapeName(s Shape) string {
	if s == nil {
		return "Item"
	}
	name := fmt.Sprintf("%T", s)
	return name[strings.LastIndexByte(name, '.')+1:]
}

// validate returns a *ValueError where a number of the style cannot be drawn
// with.
func (s Style) validate() error {
	v := validator{at: Place{View: -1, Item: -1}, object: "Style"}
	v.size("Scale", s.Scale)
	v.size("Group", s.Group)
	v.size("TextHeight", s.TextHeight)
	if s.Labels >= labelsCount {
		v.fail("Labels", fmt.Sprint(uint8(s.Labels)), "is no way to label")
	}
	if v.err != nil {
		return v.err
	}
	return nil
}

// A validator remembers the first fault of one item.
type validator struct {
	d      *Drawing
	at     Place
	it     *Item
	object string
	err    *ValueError
}

func (v *validator) fail(field, value, reason string) {
	if v.err != nil {
		return
	}
	object := v.object
	if object == "" {
		object = "Item"
	}
	if v.it != nil {
		object = ShapeName(v.it.Shape)
	}
	v.err = v.at.Fault(object, field, value, reason)
}

func formatFloat(f float64) string { return strconv.FormatFloat(f, 'g', -1, 64) }

func finite(f float64) bool { return math.Abs(f) <= MaxNumber }

func (v *validator) num(field string, f float64) {
	if !finite(f) {
		v.fail(field, formatFloat(f), "is not a finite number below 1e12")
	}
}

func (v *validator) point(field string, p Point) {
	if !finite(p.X) {
		v.num(field+".X", p.X)
	} else if !finite(p.Y) {
		v.num(field+".Y", p.Y)
	}
}

func (v *validator) notNegative(field string, f float64) {
	v.num(field, f)
	if f < 0 {
		v.fail(field, formatFloat(f), "is negative")
	}
}

// size checks a scale or a size on paper, where 0 is the usual one.
func (v *validator) size(field string, f float64) {
	v.notNegative(field, f)
	switch {
	case f > MostSize:
		v.fail(field, formatFloat(f), "is too large")
	case f != 0 && f < LeastSize:
		v.fail(field, formatFloat(f), "is too small")
	}
}

func (v *validator) placed(p *Placed) {
	v.object = "Placed"
	v.point("At", p.At)
	v.size("Scale", p.Scale)
	v.num("Turn", p.Turn)
	if v.err == nil {
		if k := v.d.Style.PaperScale() * orDefault(p.Scale, 1); k < LeastSize || k > MostSize {
			v.fail("Scale", formatFloat(p.Scale), "times Style.Scale is no scale")
		}
	}
	if p.Block == "" && len(p.Attributes)+len(p.Properties) > 0 {
		v.fail("Block", "", "is missing; attributes and properties travel with the insert of a block")
	}
	for j := range p.Attributes {
		v.text("Attributes.Text.", &p.Attributes[j].Text)
	}
}

func (v *validator) shape(s Shape) {
	switch s := s.(type) {
	case Line:
		v.point("From", s.From)
		v.point("To", s.To)
	case Arc:
		v.point("Center", s.Center)
		v.notNegative("Radius", s.Radius)
		v.num("Start", s.Start)
		v.num("End", s.End)
	case Circle:
		v.point("Center", s.Center)
		v.notNegative("Radius", s.Radius)
	case Ellipse:
		v.ellipse(&s)
	case Conic:
		v.point("From", s.From)
		v.point("Control", s.Control)
		v.point("To", s.To)
		v.num("Weight", s.Weight)
		if s.Weight < LeastSize {
			v.fail("Weight", formatFloat(s.Weight), "is not above 0")
		}
	case Polyline:
		v.vertices("Vertices", -1, s.Vertices)
	case Text:
		v.text("", &s)
	case Hatch:
		v.hatch(&s)
	case Cover:
		v.loops(s.Loops)
	default:
		v.dimension(s)
	}
}

func (v *validator) ellipse(s *Ellipse) {
	v.point("Center", s.Center)
	v.point("Major", s.Major)
	v.num("Ratio", s.Ratio)
	v.num("Start", s.Start)
	v.num("End", s.End)
	if s.Ratio < LeastSize || s.Ratio > 1+1e-9 {
		v.fail("Ratio", formatFloat(s.Ratio), "is not above 0 and at most 1")
	}
}

// vertices checks one chain of vertices; loop is its index in a hatch or -1.
func (v *validator) vertices(field string, loop int, vs []Vertex) {
	for i := range vs {
		p := &vs[i]
		if finite(p.X) && finite(p.Y) && finite(p.Bulge) {
			continue
		}
		if loop >= 0 {
			field = fmt.Sprintf("%s[%d]", field, loop)
		}
		field = fmt.Sprintf("%s[%d]", field, i)
		v.point(field, p.Point)
		v.num(field+".Bulge", p.Bulge)
		return
	}
}

func (v *validator) loops(loops [][]Vertex) {
	for i, l := range loops {
		v.vertices("Loops", i, l)
	}
}

func (v *validator) text(prefix string, s *Text) {
	if finite(s.At.X) && finite(s.At.Y) && finite(s.Angle) && s.Height == 0 && s.Slant == 0 && s.Align <= AlignRight {
		return // as nearly all are
	}
	v.point(prefix+"At", s.At)
	v.size(prefix+"Height", s.Height)
	v.num(prefix+"Angle", s.Angle)
	if !(math.Abs(s.Slant) <= 60) {
		v.fail(prefix+"Slant", fmt.Sprint(s.Slant), "must be from -60 to 60 degrees")
	}
	if s.Align > AlignRight {
		v.fail(prefix+"Align", fmt.Sprint(uint8(s.Align)), "is no alignment")
	}
}

func (v *validator) hatch(s *Hatch) {
	v.loops(s.Loops)
	if s.Solid {
		return
	}
	v.num("Angle", s.Angle)
	v.num("Spacing", s.Spacing)
	if s.Spacing < LeastSpace {
		v.fail("Spacing", formatFloat(s.Spacing), "is too small for lines that can be told apart")
	}
	if v.err != nil {
		return
	}
	st := v.d.Style
	if v.at.View >= 0 {
		st.Scale = st.PaperScale() * orDefault(v.d.Views[v.at.View].Scale, 1)
	}
	if !(s.Count(st) <= MaxHatchLines) {
		v.fail("Spacing", formatFloat(s.Spacing), fmt.Sprintf("makes more than the %d lines that a hatch may have; space them further apart", MaxHatchLines))
	}
}

func (v *validator) dimension(s Shape) {
	switch s := s.(type) {
	case Linear:
		v.span(s.From, s.To, s.At, s.TextAt)
		v.num("Turn", s.Turn)
		if s.Side > Right {
			v.fail("Side", fmt.Sprint(uint8(s.Side)), "is no side")
		}
	case Aligned:
		v.span(s.From, s.To, s.At, s.TextAt)
	case Diameter:
		v.round(s.Center, s.Radius, s.Angle, s.Start, s.End, s.Shelf)
	case Radius:
		v.round(s.Center, s.Radius, s.Angle, s.Start, s.End, s.Shelf)
	case Leader:
		v.point("Tip", s.Tip)
		v.num("Angle", s.Angle)
		v.point("Shelf.Knee", s.Shelf.Knee)
	case Angular:
		v.angular(&s)
	default:
		v.fail("Shape", "", "is none of the shapes of package drawing")
		return
	}
	v.label(s.(Dimension))
}

func (v *validator) span(from, to Point, at, textAt float64) {
	v.point("From", from)
	v.point("To", to)
	v.num("At", at)
	v.num("TextAt", textAt)
}

func (v *validator) round(center Point, radius, angle, start, end float64, sh Shelf) {
	v.point("Center", center)
	v.notNegative("Radius", radius)
	v.num("Angle", angle)
	v.num("Start", start)
	v.num("End", end)
	v.point("Shelf.Knee", sh.Knee)
}

func (v *validator) angular(s *Angular) {
	v.point("Vertex", s.Vertex)
	v.num("Start", s.Start)
	v.num("End", s.End)
	v.num("From", s.From)
	v.num("To", s.To)
	v.num("At", s.At)
	v.num("TextAt", s.TextAt)
	if s.Placed && s.At <= 0 {
		v.fail("At", formatFloat(s.At), "is not above 0")
	}
}

// label checks what a dimension says, and that it has its place, where it is
// drawn at all.
func (v *validator) label(d Dimension) {
	l, _, placed := d.Describe()
	if v.d.Style.Labels == NoLabels {
		return
	}
	v.num("Label.Quantity.Value", l.Quantity.Value)
	if l.Symbol > TaperLeftSymbol {
		v.fail("Label.Symbol", fmt.Sprint(uint8(l.Symbol)), "is no symbol")
	}
	if !placed {
		v.fail("Placed", "", fmt.Sprintf("the dimension %q has no place yet: see drawing.Arrange", l.name()))
	}
}

// name returns what tells a dimension from others.
func (l *Label) name() string {
	for _, s := range [...]string{l.Text, l.Quantity.Letter, l.Quantity.Name} {
		if s != "" {
			return s
		}
	}
	return formatFloat(l.Quantity.Value)
}
