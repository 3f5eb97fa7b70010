package dxfout

import (
	"fmt"

	"boltplate/drawing"
)

// A checker looks for what a DXF file cannot hold, and remembers the first.
type checker struct {
	d     *drawing.Drawing
	plain bool // for a plain file
	view  int  // index in d.Views, -1 for loose items
	item  int
	shape drawing.Shape
	err   *ValueError
}

// fail remembers a fault of the item that is being checked.
func (c *checker) fail(field, value, reason string) {
	if c.err != nil {
		return
	}
	c.err = &ValueError{Index: c.view, Item: c.item, Field: field, Value: value, Reason: reason}
	c.err.Object = "Item"
	if c.view >= 0 {
		c.err.View = c.d.Views[c.view].View.Name
		if c.item < 0 {
			c.err.Object = "Placed"
		}
	}
	if c.shape != nil {
		c.err.Object = shapeName(c.shape)
	}
}

func shapeName(s drawing.Shape) string {
	name := fmt.Sprintf("%T", s)
	for i := len(name) - 1; i >= 0; i-- {
		if name[i] == '.' {
			return name[i+1:]
		}
	}
	return name
}

func (c *checker) num(field string, v float64) {
	if !finite(v) {
		c.fail(field, formatFloat(v), "is not a finite number below 1e12")
	}
}

func (c *checker) point(field string, p drawing.Point) {
	if !finite(p.X) {
		c.num(field+".X", p.X)
	} else if !finite(p.Y) {
		c.num(field+".Y", p.Y)
	}
}

func (c *checker) notNegative(field string, v float64) {
	c.num(field, v)
	if v < 0 {
		c.fail(field, formatFloat(v), "is negative")
	}
}

// Limits of scales and of sizes on paper, beyond which a value or its inverse
// would be nothing in the decimals of the file.
const (
	leastSize = 1e-6
	mostSize  = 1e6
)

// size checks a scale or a size on paper, where 0 is the usual one.
func (c *checker) size(field string, v float64) {
	c.notNegative(field, v)
	switch {
	case v > mostSize:
		c.fail(field, formatFloat(v), "is too large")
	case v != 0 && v < leastSize:
		c.fail(field, formatFloat(v), "is too small")
	}
}

func (c *checker) text(field, s string, f field) {
	if !fits(s, f, maxString) {
		c.fail(field, fmt.Sprintf("%.40q...", s), fmt.Sprintf("is longer than the %d bytes that a line of text may have in a DXF file", maxString))
	}
}

func (c *checker) items(view int, items []drawing.Item) {
	c.view = view
	for i := range items {
		c.item, c.shape = i, items[i].Shape
		if items[i].Role >= drawing.RoleCount {
			c.fail("Role", fmt.Sprint(uint8(items[i].Role)), "is no role")
		}
		c.check(items[i].Shape)
		if c.err != nil {
			return
		}
	}
	c.item, c.shape = -1, nil
}

func (c *checker) check(s drawing.Shape) {
	switch s := s.(type) {
	case drawing.Line:
		c.point("From", s.From)
		c.point("To", s.To)
	case drawing.Arc:
		c.point("Center", s.Center)
		c.notNegative("Radius", s.Radius)
		c.num("Start", s.Start)
		c.num("End", s.End)
	case drawing.Circle:
		c.point("Center", s.Center)
		c.notNegative("Radius", s.Radius)
	case drawing.Ellipse:
		c.ellipse(s)
	case drawing.Conic:
		c.point("From", s.From)
		c.point("Control", s.Control)
		c.point("To", s.To)
		c.num("Weight", s.Weight)
		if s.Weight < 1e-6 {
			c.fail("Weight", formatFloat(s.Weight), "is not above 0")
		}
	case drawing.Polyline:
		c.vertices("Vertices", -1, s.Vertices)
	case drawing.Text:
		c.lettering(s)
		if c.plain {
			c.plainText("Value", s.Value)
		}
	case drawing.Hatch:
		c.hatch(s)
	default:
		c.dimension(s)
	}
}

func (c *checker) ellipse(s drawing.Ellipse) {
	c.point("Center", s.Center)
	c.point("Major", s.Major)
	c.num("Ratio", s.Ratio)
	c.num("Start", s.Start)
	c.num("End", s.End)
	if s.Ratio < 1e-6 || s.Ratio > 1+1e-9 {
		c.fail("Ratio", formatFloat(s.Ratio), "is not above 0 and at most 1")
	}
}

// vertices checks one chain of vertices; loop is its index in a hatch or -1.
func (c *checker) vertices(field string, loop int, vs []drawing.Vertex) {
	for i := range vs {
		v := &vs[i]
		if finite(v.X) && finite(v.Y) && finite(v.Bulge) {
			continue
		}
		if loop >= 0 {
			field = fmt.Sprintf("%s[%d]", field, loop)
		}
		field = fmt.Sprintf("%s[%d]", field, i)
		c.point(field, v.Point)
		c.num(field+".Bulge", v.Bulge)
		return
	}
}

func (c *checker) lettering(s drawing.Text) {
	c.point("At", s.At)
	c.size("Height", s.Height)
	c.num("Angle", s.Angle)
	c.text("Value", s.Value, textField)
	if s.Align > drawing.AlignRight {
		c.fail("Align", fmt.Sprint(uint8(s.Align)), "is no alignment")
	}
}

func (c *checker) hatch(s drawing.Hatch) {
	for i, l := range s.Loops {
		c.vertices("Loops", i, l)
	}
	if s.Solid {
		return
	}
	c.num("Angle", s.Angle)
	c.num("Spacing", s.Spacing)
	if s.Spacing < 1e-3 {
		c.fail("Spacing", formatFloat(s.Spacing), "is too small for lines that can be told apart")
	}
	if c.plain && c.err == nil {
		c.plainHatch(&s)
	}
}

func (c *checker) dimension(s drawing.Shape) {
	var placed bool
	var label *drawing.Label
	switch s := s.(type) {
	case drawing.Linear:
		placed, label = s.Placed, &s.Label
		c.point("From", s.From)
		c.point("To", s.To)
		c.num("At", s.At)
		c.num("TextAt", s.TextAt)
		if s.Side > drawing.Right {
			c.fail("Side", fmt.Sprint(uint8(s.Side)), "is no side")
		}
	case drawing.Aligned:
		placed, label = s.Placed, &s.Label
		c.point("From", s.From)
		c.point("To", s.To)
		c.num("At", s.At)
		c.num("TextAt", s.TextAt)
	case drawing.Diameter:
		placed, label = s.Shelf.Placed, &s.Label
		c.round(s.Center, s.Radius, s.Angle, s.Shelf)
	case drawing.Radius:
		placed, label = s.Shelf.Placed, &s.Label
		c.round(s.Center, s.Radius, s.Angle, s.Shelf)
	case drawing.Leader:
		placed, label = s.Shelf.Placed, &s.Label
		c.point("Tip", s.Tip)
		c.num("Angle", s.Angle)
		c.point("Shelf.Knee", s.Shelf.Knee)
	case drawing.Angular:
		placed, label = s.Placed, &s.Label
		c.angular(s)
	default:
		c.fail("Shape", "", "is none of the shapes of package drawing")
		return
	}
	if c.d.Style.Labels == drawing.NoLabels {
		return
	}
	c.num("Label.Quantity.Value", label.Quantity.Value)
	c.text("Label.Text", label.Text, dimensionField)
	if c.plain {
		c.plainText("Label.Text", label.Text)
	}
	if !placed {
		c.fail("Placed", "", fmt.Sprintf("the dimension %q has no place yet: see drawing.Arrange", dimensionName(label)))
	}
}

func dimensionName(l *drawing.Label) string {
	for _, s := range [...]string{l.Text, l.Quantity.Letter, l.Quantity.Name} {
		if s != "" {
			return s
		}
	}
	return formatFloat(l.Quantity.Value)
}

func (c *checker) round(center drawing.Point, radius, angle float64, sh drawing.Shelf) {
	c.point("Center", center)
	c.notNegative("Radius", radius)
	c.num("Angle", angle)
	c.point("Shelf.Knee", sh.Knee)
}

func (c *checker) angular(s drawing.Angular) {
	c.point("Vertex", s.Vertex)
	c.num("Start", s.Start)
	c.num("End", s.End)
	c.notNegative("From", s.From)
	c.notNegative("To", s.To)
	c.num("At", s.At)
	if s.Placed && s.At <= 0 {
		c.fail("At", formatFloat(s.At), "is not above 0")
	}
}

// style checks the style and where the views are placed.
func (c *checker) style() {
	s := c.d.Style
	for _, f := range [...]struct {
		name string
		v    float64
	}{{"Scale", s.Scale}, {"Group", s.Group}, {"TextHeight", s.TextHeight}} {
		c.view, c.item = -1, -1
		c.size(f.name, f.v)
		if c.err != nil {
			c.err.Object = "Style"
			return
		}
	}
	for i := range c.d.Views {
		c.view = i
		p := &c.d.Views[i]
		c.point("At", p.At)
		c.size("Scale", p.Scale)
	}
}
