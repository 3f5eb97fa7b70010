package paint

import (
	"fmt"
	"math"
	"reflect"
	"strconv"
	"strings"

	"boltplate/drawing"
	"boltplate/drawing/lettering"
)

// Limits of what can be drawn.
const (
	maxNumber = 1e12 // a coordinate, as in a DXF file
	maxPaper  = 1e6  // a length on paper, mm
	leastSize = 1e-6 // a scale or a size on paper
	maxLines  = 100_000
)

func number(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

// fail remembers a fault of what is being painted, and reports whether it is
// the first.
func (p *painter) fail(field, value, reason string) bool {
	if p.err != nil {
		return false
	}
	p.err = &drawing.ValueError{Index: p.view, Item: p.item, Object: p.object, Field: field, Value: value, Reason: reason}
	if p.view >= 0 {
		p.err.View = p.d.Views[p.view].View.Name
	}
	return true
}

// checkDrawing checks the style, where views are placed, and the extent.
func (p *painter) checkDrawing() {
	p.view, p.item, p.object = -1, -1, "Style"
	st := p.d.Style
	p.size("Scale", st.Scale)
	p.size("Group", st.Group)
	p.size("TextHeight", st.TextHeight)
	switch f := st.Font.(type) {
	case nil:
		p.pic.Font = lettering.Default()
	case *lettering.Font:
		p.pic.Font = f
	}
	if p.pic.Font == nil {
		p.fail("Font", fmt.Sprintf("%T", st.Font), "has no outlines; give a font of package lettering")
	}
	for i := range p.d.Views {
		p.view, p.object = i, "Placed"
		v := &p.d.Views[i]
		p.finite("At", reflect.ValueOf(v.At))
		p.size("Scale", v.Scale)
	}
}

// extent sets the bounds of the picture. All numbers of the drawing have been
// found to be finite.
func (p *painter) extent() {
	p.view, p.item, p.object = -1, -1, "Drawing"
	b, k := p.d.Bounds(), p.d.Style.PaperScale()
	if b.Empty() {
		p.pic.Bounds = b
		return
	}
	b = drawing.Rect{Min: b.Min.Mul(k), Max: b.Max.Mul(k)}
	for _, v := range [...]float64{b.Min.X, b.Min.Y, b.Max.X, b.Max.Y} {
		if !(math.Abs(v) <= maxPaper) {
			p.fail("Bounds", "", "the drawing reaches further than 1e6 mm on paper; give Style.Scale")
		}
	}
	p.pic.Bounds = b
}

// size checks a scale or a size on paper, where 0 is the usual one.
func (p *painter) size(field string, v float64) {
	switch {
	case !isFinite(v):
		p.fail(field, number(v), notFinite)
	case v < 0:
		p.fail(field, number(v), "is negative")
	case v > maxPaper:
		p.fail(field, number(v), "is too large")
	case v != 0 && v < leastSize:
		p.fail(field, number(v), "is too small")
	}
}

const notFinite = "is not a finite number below 1e12"

// finite checks every number in v, whose name is given.
func (p *painter) finite(name string, v reflect.Value) {
	if !allFinite(v) {
		p.findInfinite(name, v)
	}
}

func isFinite(v float64) bool { return math.Abs(v) <= maxNumber }

func allFinite(v reflect.Value) bool {
	switch v.Kind() {
	case reflect.Float64:
		return isFinite(v.Float())
	case reflect.Struct:
		for i := range v.NumField() {
			if !allFinite(v.Field(i)) {
				return false
			}
		}
	case reflect.Slice:
		for i := range v.Len() {
			if !allFinite(v.Index(i)) {
				return false
			}
		}
	}
	return true
}

// findInfinite reports the first number in v that is not finite. Names of
// embedded fields are left out, as Go code leaves them out.
func (p *painter) findInfinite(name string, v reflect.Value) {
	switch v.Kind() {
	case reflect.Float64:
		if f := v.Float(); !isFinite(f) {
			p.fail(name, number(f), notFinite)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			inner := name
			if f := v.Type().Field(i); !f.Anonymous {
				inner = strings.TrimPrefix(name+"."+f.Name, ".")
			}
			p.findInfinite(inner, v.Field(i))
		}
	case reflect.Slice:
		for i := range v.Len() {
			p.findInfinite(name+"["+strconv.Itoa(i)+"]", v.Index(i))
		}
	}
}

// check checks an item.
func (p *painter) check(it *drawing.Item) {
	v := reflect.ValueOf(it.Shape)
	p.object = "Item"
	if v.IsValid() {
		p.object = strings.TrimLeft(v.Type().String(), "*")
		p.object = p.object[strings.LastIndexByte(p.object, '.')+1:]
	}
	if it.Role >= drawing.RoleCount {
		p.fail("Role", fmt.Sprint(uint8(it.Role)), "is no role")
	}
	if v.Kind() != reflect.Struct {
		p.fail("Shape", "", "is none of the shapes of package drawing")
		return
	}
	p.finite("", v)
	switch s := it.Shape.(type) {
	case drawing.Arc:
		p.notNegative("Radius", s.Radius)
	case drawing.Circle:
		p.notNegative("Radius", s.Radius)
	case drawing.Ellipse:
		if !(s.Ratio >= leastSize && s.Ratio <= 1+1e-9) {
			p.fail("Ratio", number(s.Ratio), "is not above 0 and at most 1")
		}
	case drawing.Conic:
		if s.Weight < leastSize {
			p.fail("Weight", number(s.Weight), "is not above 0")
		}
	case drawing.Text:
		p.lettering("", s)
	case drawing.Hatch:
		if !s.Solid && s.Spacing < least {
			p.fail("Spacing", number(s.Spacing), "is too small for lines that can be told apart")
		}
	default:
		p.checkDimension(s)
	}
}

func (p *painter) notNegative(field string, v float64) {
	if v < 0 {
		p.fail(field, number(v), "is negative")
	}
}

func (p *painter) lettering(prefix string, t drawing.Text) {
	p.size(prefix+"Height", t.Height)
	if t.Align > drawing.AlignRight {
		p.fail(prefix+"Align", fmt.Sprint(uint8(t.Align)), "is no alignment")
	}
}

func (p *painter) checkDimension(s drawing.Shape) {
	placed := true
	var label *drawing.Label
	switch s := s.(type) {
	case drawing.Linear:
		placed, label = s.Placed, &s.Label
		if s.Side > drawing.Right {
			p.fail("Side", fmt.Sprint(uint8(s.Side)), "is no side")
		}
	case drawing.Aligned:
		placed, label = s.Placed, &s.Label
	case drawing.Diameter:
		placed, label = s.Shelf.Placed, &s.Label
		p.notNegative("Radius", s.Radius)
	case drawing.Radius:
		placed, label = s.Shelf.Placed, &s.Label
		p.notNegative("Radius", s.Radius)
	case drawing.Leader:
		placed, label = s.Shelf.Placed, &s.Label
	case drawing.Angular:
		placed, label = s.Placed, &s.Label
		p.notNegative("From", s.From)
		p.notNegative("To", s.To)
		if placed && s.At <= 0 {
			p.fail("At", number(s.At), "is not above 0")
		}
	}
	if !placed && p.d.Style.Labels != drawing.NoLabels {
		p.fail("Placed", "", fmt.Sprintf("the dimension %q has no place yet: see drawing.Arrange", name(label)))
	}
}

// name returns what tells a dimension from others.
func name(l *drawing.Label) string {
	for _, s := range [...]string{l.Text, l.Quantity.Letter, l.Quantity.Name} {
		if s != "" {
			return s
		}
	}
	return number(l.Quantity.Value)
}

func (p *painter) checkAttribute(a *drawing.Attribute) {
	p.object = "Part"
	p.finite("Attributes.Text", reflect.ValueOf(a.Text))
	p.lettering("Attributes.Text.", a.Text)
}

// check checks a page that was made for the sheet. limit is the largest side
// that the format can have.
func (s Sheet) check(pg Page, limit float64) error {
	fault := func(object, field, value, reason string) error {
		return &drawing.ValueError{Index: -1, Item: -1, Object: object, Field: field, Value: value, Reason: reason}
	}
	for _, f := range [...]struct {
		name string
		v    float64
	}{{"Width", s.Width}, {"Height", s.Height}} {
		if !(f.v >= 0 && f.v <= limit) || f.v != 0 && f.v < 1 {
			return fault("Encoder", f.name, number(f.v), fmt.Sprintf("is no side of a page; give 1 to %g mm, or 0 for a page that fits", limit))
		}
	}
	for _, f := range [...]struct {
		name string
		v    float64
	}{{"Origin.X", s.Origin.X}, {"Origin.Y", s.Origin.Y}} {
		if !(math.Abs(f.v) <= maxPaper) {
			return fault("Encoder", f.name, number(f.v), "does not lie on paper; give millimetres from the lower left corner")
		}
	}
	if side := max(pg.Width, pg.Height); side > limit {
		return fault("Drawing", "Bounds", "", fmt.Sprintf("the page would be %.0f mm long, and its format ends at %g mm; give Style.Scale", side, limit))
	}
	return nil
}
