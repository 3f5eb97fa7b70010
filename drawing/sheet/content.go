package sheet

import (
	"errors"
	"fmt"
	"math"

	"boltplate/drawing"
)

// A Source is what a figure shows: a fastener, a joint, a table, a text.
type Source interface {
	// Draw returns a drawing in millimetres of the part, arranged for the given
	// style, whose Scale is that of the figure on the sheet. Where there is room
	// the figures of a row stand with their x axes at one height.
	Draw(st drawing.Style) (*drawing.Drawing, error)
}

// A SourceFunc is a function as a Source.
type SourceFunc func(drawing.Style) (*drawing.Drawing, error)

// Draw calls f.
func (f SourceFunc) Draw(st drawing.Style) (*drawing.Drawing, error) { return f(st) }

// A ContentSource is a Source whose figure consists of more than one drawing: a
// joint with its parts, findings and notes, a tabulated figure with its table.
// A sheet asks for its Content and not for its Draw, which returns the same in
// one drawing (Compact does that).
type ContentSource interface {
	Source
	Content(st drawing.Style) (*Content, error)
}

// A Content is what a figure consists of. The sheet places the item references
// and the marks of findings about the drawing, lists the components with those of
// the other figures, and sets the blocks below the drawing or beside it, whatever
// suits the page.
type Content struct {
	// Drawing has the views, in millimetres of the part, arranged for the style.
	// It may be nil where there are blocks.
	Drawing *drawing.Drawing
	// Components are what the parts list and the item references name.
	Components []Component
	// Findings are marked at their places and listed below. A question leaves
	// them out.
	Findings []Finding
	// Answers are blocks that a question leaves out as well.
	Answers []Block
	// Blocks are what else stands with the drawing, in reading order.
	Blocks []Block
	// Given is what a question says in words: sizes, materials, thicknesses.
	Given []string
	// Ask is what a question asks for.
	Ask string

	under int // how many of Blocks, the last ones, stand below the drawing
}

// A Component is what a figure shows one or more of: a row of the parts list
// (ISO 7573), and an item reference on the drawing (ISO 6433). Components of one
// designation and material are one item on all of a plate, with their number.
type Component struct {
	// Mark is its item reference where it has one of its own, such as "HS-01";
	// "" is numbered by the sheet.
	Mark        string
	Quantity    int // 0 means 1
	Designation string
	Material    string
	Remark      string
	// At are places on the component, millimetres of the part in the drawing of
	// the figure, at any of which the leader may end. Without one it ends where a
	// view has room for it: that is for figures of one component.
	At []drawing.Point
}

// A Finding is what a check found at a place of a figure.
type Finding struct {
	Label string        // "F1"
	At    drawing.Point // millimetres of the part in the drawing of the figure
	Text  string        // what is wrong, and what would be right
}

// Errors of what a source hands over.
var (
	errNoSource  = errors.New("has no source; say what it shows")
	errNoDrawing = errors.New("its source returned no drawing and no error")
)

// A NumberError says that a place or a size that a source hands over is no
// number, or lies further out than any sheet reaches.
type NumberError struct {
	What  string
	Value float64
}

// Error returns what is wrong.
func (e *NumberError) Error() string {
	return fmt.Sprintf("%s: %g is no place on a drawing; give finite millimetres", e.What, e.Value)
}

// farthest is how far from its origin a drawing of a part may reach, mm.
const farthest = 1e6

func checkNumber(what string, v float64) error {
	if math.IsNaN(v) || math.Abs(v) > farthest {
		return &NumberError{what, v}
	}
	return nil
}

func checkPoint(what string, p drawing.Point) error {
	if err := checkNumber(what, p.X); err != nil {
		return err
	}
	return checkNumber(what, p.Y)
}

// check reports what no sheet can show.
func (c *Content) check() error {
	if c.Drawing == nil && len(c.Blocks)+len(c.Answers) == 0 {
		return errNoDrawing
	}
	if c.Drawing != nil {
		if err := checkDrawing(c.Drawing); err != nil {
			return err
		}
	}
	for _, k := range c.Components {
		for _, p := range k.At {
			if err := checkPoint("component "+k.Designation, p); err != nil {
				return err
			}
		}
	}
	for _, f := range c.Findings {
		if err := checkPoint("finding "+f.Label, f.At); err != nil {
			return err
		}
	}
	for _, list := range [2][]Block{c.Blocks, c.Answers} {
		for _, b := range list {
			if b == nil {
				return errors.New("a block is nil; leave it out")
			}
			if err := b.check(); err != nil {
				return err
			}
		}
	}
	return nil
}

// checkDrawing reports views that are no place and extents that are none.
func checkDrawing(d *drawing.Drawing) error {
	for _, v := range d.Views {
		if err := checkPoint("view "+v.View.Name, v.At); err != nil {
			return err
		}
		if k := v.Scale; math.IsNaN(k) || k < 0 || k > farthest || k != 0 && k < 1/farthest {
			return &NumberError{"scale of view " + v.View.Name, k}
		}
	}
	b := d.Bounds()
	if b.Empty() {
		return nil
	}
	for _, v := range [4]float64{b.Min.X, b.Min.Y, b.Max.X, b.Max.Y} {
		if err := checkNumber("extent of the drawing", v); err != nil {
			return err
		}
	}
	return nil
}

// setOff makes a block of the texts below the views of a drawing, such as the key
// to its letters, so that they may stand beside it where that suits the page.
// Where lines stand there too, a table, all of it stays as it is.
func (c *Content) setOff(st drawing.Style) {
	views := drawing.Drawing{Style: st, Views: c.Drawing.Views}.Bounds()
	if views.Empty() {
		return
	}
	one := *c.Drawing
	one.Items = nil
	w := written{scale: st.PaperScale(), box: drawing.EmptyRect()}
	for _, it := range c.Drawing.Items {
		if t, ok := it.Shape.(drawing.Text); ok && it.Role == drawing.RoleText {
			if b := t.Bounds(st); b.Max.Y < views.Min.Y {
				w.texts = append(w.texts, t)
				w.box = w.box.Union(b)
				continue
			}
		} else if extent(it, st).Min.Y < views.Min.Y {
			return
		}
		one.Items = append(one.Items, it)
	}
	if len(w.texts) > 0 {
		c.Drawing, c.Blocks = &one, append(c.Blocks, w)
	}
}

func extent(it drawing.Item, st drawing.Style) drawing.Rect {
	d := drawing.Drawing{Style: st, Items: []drawing.Item{it}}
	return d.Bounds()
}

// written is texts as they stand in the drawing of a part.
type written struct {
	texts []drawing.Text
	box   drawing.Rect // of the part
	scale float64      // mm on paper for a millimetre of it
}

func (w written) check() error { return nil }

func (w written) forms(drawing.Style, float64) []blockForm {
	return []blockForm{{width: w.box.Dx() * w.scale, height: w.box.Dy() * w.scale, draw: func(c *canvas, x, y float64) {
		for _, t := range w.texts {
			t.At = t.At.Sub(drawing.Pt(w.box.Min.X, w.box.Max.Y)).Mul(w.scale).Add(drawing.Pt(x, y))
			c.add(drawing.RoleText, t)
		}
	}}}
}

// content returns what a source shows for a style.
func content(s Source, st drawing.Style) (*Content, error) {
	var c *Content
	var err error
	switch s := s.(type) {
	case nil:
		return nil, errNoSource
	case ContentSource:
		c, err = s.Content(st)
	case Block:
		c = &Content{Blocks: []Block{s}}
	default:
		c = &Content{}
		if c.Drawing, err = s.Draw(st); err == nil && c.Drawing != nil {
			c.setOff(st)
		}
	}
	if err != nil {
		return nil, err
	}
	if c == nil {
		return nil, errNoDrawing
	}
	return c, c.check()
}
