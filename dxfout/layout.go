package dxfout

import (
	"fmt"
	"strconv"

	"boltplate/drawing"
)

// A Layout is a sheet of paper on which the drawing is plotted at its scale:
// the paper space of the file, with viewports through which the drawing shows.
// Plain files have none.
type Layout struct {
	Name          string  // of its tab; "" is "Sheet"
	Width, Height float64 // of the paper, mm
	// Items are on the paper, in millimetres from its lower left corner: a frame,
	// a title block. Dimensions belong in the drawing.
	Items []drawing.Item
	// Viewports show the drawing. Where there is none the drawing is in the
	// middle of the sheet at the scale of its style.
	Viewports []Viewport
}

// A Viewport is a window on the paper through which the drawing shows. Its
// edges are not drawn.
type Viewport struct {
	Window drawing.Rect  // on the paper, mm
	Centre drawing.Point // of the drawing, in the middle of the window
	Scale  float64       // mm on paper for a drawing unit; 0 means Style.PaperScale
}

// Paper of the layout of files that ask for none: A3.
const (
	usualWidth  = 420
	usualHeight = 297
	mostPaper   = 1e5 // the largest side, mm
)

// A layout is a checked Layout, with all that was left out; nil is the empty
// one that every file has.
type layout struct {
	Layout
	drawing *drawing.Drawing // of its items, on paper
}

func (l *layout) size() (width, height float64) {
	if l == nil {
		return usualWidth, usualHeight
	}
	return l.Width, l.Height
}

func (l *layout) name() string {
	if l == nil {
		return "Layout1"
	}
	return l.Name
}

// entities returns how many entities paper space has at most.
func (l *layout) entities() int {
	if l == nil {
		return 0
	}
	return 1 + len(l.Viewports) + len(l.Items)
}

// planLayout checks a layout and fills in what it leaves out.
func (w *writer) planLayout(l *Layout) error {
	if l == nil || w.plain {
		return nil
	}
	p := &layout{Layout: *l}
	if p.Name == "" {
		p.Name = "Sheet"
	}
	if why := badLayoutName(p.Name); why != "" {
		return layoutError("Name", strconv.Quote(p.Name), why)
	}
	for _, f := range [...]struct {
		name string
		v    float64
	}{{"Width", p.Width}, {"Height", p.Height}} {
		if !(f.v >= 1 && f.v <= mostPaper) {
			return layoutError(f.name, formatFloat(f.v), fmt.Sprintf("is no side of a sheet; give 1 to %g mm", mostPaper))
		}
	}
	st := w.d.Style
	st.Scale = 1
	p.drawing = &drawing.Drawing{Style: st, Items: p.Items}
	if err := p.drawing.Validate(); err != nil {
		return fmt.Errorf("Encoder.Layout: %w", err)
	}
	for i := range p.Items {
		switch p.Items[i].Shape.(type) {
		case drawing.Dimension, drawing.Cover:
			return layoutError(fmt.Sprintf("Items[%d]", i), "", "is a "+drawing.ShapeName(p.Items[i].Shape)+", which belongs in the drawing")
		}
	}
	if len(p.Viewports) == 0 {
		v := Viewport{Window: drawing.Rect{Max: drawing.Pt(p.Width, p.Height)}}
		if b := w.d.Bounds(); !b.Empty() {
			v.Centre = b.Mid()
		}
		p.Viewports = []Viewport{v}
	}
	ports := make([]Viewport, len(p.Viewports))
	for i, v := range p.Viewports {
		if v.Scale == 0 {
			v.Scale = w.d.Style.PaperScale()
		}
		if err := v.check(i); err != nil {
			return err
		}
		ports[i] = v
	}
	p.Viewports = ports
	w.layout = p
	return nil
}

func (v *Viewport) check(i int) error {
	field := fmt.Sprintf("Viewports[%d].", i)
	for _, f := range [...]struct {
		name string
		v    float64
	}{
		{"Window.Min.X", v.Window.Min.X}, {"Window.Min.Y", v.Window.Min.Y}, {"Window.Max.X", v.Window.Max.X}, {"Window.Max.Y", v.Window.Max.Y},
		{"Centre.X", v.Centre.X}, {"Centre.Y", v.Centre.Y},
	} {
		if !finite(f.v) {
			return layoutError(field+f.name, formatFloat(f.v), "is not a finite number below 1e12")
		}
	}
	if v.Window.Dx() < 1e-3 || v.Window.Dy() < 1e-3 {
		return layoutError(field+"Window", "", "has no area")
	}
	if !(v.Scale >= drawing.LeastSize && v.Scale <= drawing.MostSize) {
		return layoutError(field+"Scale", formatFloat(v.Scale), "is no scale")
	}
	return nil
}

func layoutError(field, value, reason string) error {
	return &ValueError{Index: -1, Item: -1, Object: "Encoder", Field: "Layout." + field, Value: value, Reason: reason}
}

func badLayoutName(name string) string {
	switch {
	case !isCleanName(name):
		return "holds what the name of a layout must not: signs such as < > / \\ \" : ; ? * | , = ` ^ %, or letters beyond those of western Europe"
	case foldName(name) == "MODEL":
		return "is the name of model space; give another"
	}
	return ""
}

// paperSpace appends the contents of the layout: the viewport that is the sheet
// itself, those that show the drawing, and the items on the paper.
func (w *writer) paperSpace() {
	l := w.layout
	if l == nil {
		return
	}
	w.paper, w.owner = true, handlePaperRecord
	sheet := Viewport{Window: drawing.Rect{Max: drawing.Pt(l.Width, l.Height)}, Centre: drawing.Pt(l.Width/2, l.Height/2), Scale: 1}
	w.viewportEntity(&sheet, 1)
	for i := range l.Viewports {
		w.viewportEntity(&l.Viewports[i], i+2)
	}
	w.place(drawing.Point{}, 1)
	d := w.d
	w.d, w.mm = l.drawing, 1
	for i := range l.Items {
		w.item(l.Items[i].Role, l.Items[i].Shape)
	}
	w.d, w.paper, w.owner = d, false, handleModelRecord
}

func (w *writer) viewportEntity(v *Viewport, id int) {
	w.entity("  0\r\nVIEWPORT\r\n  5\r\n", "0", "AcDbViewport")
	w.point('0', v.Window.Mid())
	w.num(" 40", v.Window.Dx())
	w.num(" 41", v.Window.Dy())
	w.int(" 68", id)
	w.int(" 69", id)
	w.num(" 12", v.Centre.X)
	w.num(" 22", v.Centre.Y)
	w.lit(viewportMiddle)
	w.num(" 45", v.Window.Dy()/v.Scale)
	w.lit(viewportLast)
	w.int(" 90", viewportFlags)
	w.lit("281\r\n0\r\n")
}

// viewportFlags are on, with its scale locked, seen from above.
const viewportFlags = 32768 + 16384 + 32 + 64

var viewportMiddle = tags(`
13 0.0 | 23 0.0 | 14 10.0 | 24 10.0 | 15 10.0 | 25 10.0 | 16 0.0 | 26 0.0 | 36 1.0 | 17 0.0 | 27 0.0 | 37 0.0
42 50.0 | 43 0.0 | 44 0.0`)

var viewportLast = tags(`50 0.0 | 51 0.0 | 72 100`)
