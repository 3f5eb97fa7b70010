package yofudxf

import (
	"errors"
	"fmt"
	"io"
	"math"
	"strings"

	"github.com/yofu/dxf/color"
	yofu "github.com/yofu/dxf/drawing"
	"github.com/yofu/dxf/entity"
	"github.com/yofu/dxf/handle"
	"github.com/yofu/dxf/table"

	"boltplate/drawing"
	"boltplate/dxfout"
)

// StyleName is the text style that Add makes, with dxfout.DefaultFont.
const StyleName = "BOLTPLATE"

// Add draws dr, its views, loose items and the visible attributes of its
// parts, into d. A single view is
//
//	&drawing.Drawing{Views: []drawing.Placed{{View: v}}}
//
// Layers that d has already under a name of m, or of ours where m says
// nothing, keep their look. Add returns a *dxfout.ValueError where dr or m
// holds what a DXF file cannot hold, and then adds nothing. It must not run
// while another goroutine uses the library.
func Add(d *yofu.Drawing, dr *drawing.Drawing, m dxfout.LayerMap) error {
	if d == nil || dr == nil {
		return errors.New("yofudxf: no drawing; make one with dxf.NewDrawing")
	}
	if err := (dxfout.Encoder{Layers: m}).Check(dr); err != nil {
		return err
	}
	if err := long(dr); err != nil {
		return err
	}
	a := adder{style: dr.Style}
	if err := a.tables(d, &m, dr.Uses); err != nil {
		return err
	}
	dr = dr.Uncovered() // the library has nothing that hides
	_ = dr.Each(func(at drawing.Place, it *drawing.Item) error {
		s := it.Shape
		if at.View >= 0 {
			s = drawing.Apply(s, dr.Views[at.View].Transform())
		}
		a.item(drawing.Item{Role: it.Role, Shape: s})
		return nil
	})
	for i := range dr.Parts {
		for _, t := range dr.Parts[i].Attributes {
			if !t.Hidden {
				a.text(a.layers[drawing.RoleText], t.Text, 0)
			}
		}
	}
	for _, e := range a.entities {
		d.AddEntity(e)
	}
	return nil
}

// maxString is the length in bytes that a string of AC1015 may have. The
// library has no MTEXT, which holds more.
const maxString = 2049

// long refuses texts that are too long for a TEXT.
func long(dr *drawing.Drawing) error {
	const reason = "is longer than the 2049 bytes that a text may have in AC1015; break it into lines"
	err := dr.Each(func(at drawing.Place, it *drawing.Item) error {
		if t, ok := it.Shape.(drawing.Text); ok && len(dxfout.EscapeText(t.Value)) > maxString {
			return at.Fault("Text", "Value", fmt.Sprintf("%.40q...", t.Value), reason)
		}
		return nil
	})
	for i := range dr.Parts {
		for _, t := range dr.Parts[i].Attributes {
			if err == nil && !t.Hidden && len(dxfout.EscapeText(t.Text.Value)) > maxString {
				err = &dxfout.ValueError{
					View: dr.Parts[i].Name, Index: i, Item: -1, Object: "Part", Field: "Attributes.Text.Value",
					Value: fmt.Sprintf("%.40q...", t.Text.Value), Reason: reason,
				}
			}
		}
	}
	return err
}

// An adder collects entities, so that they are added together.
type adder struct {
	style    drawing.Style
	layers   [drawing.RoleCount]*table.Layer
	label    color.ColorNumber // of the text of dimensions
	font     *table.Style
	owner    handle.Handler // of entities: the record of model space
	entities []entity.Entity
}

// tables makes the layers, line types and the text style that are not there;
// those of extra roles only where there is something on them.
func (a *adder) tables(d *yofu.Drawing, m *dxfout.LayerMap, uses func(drawing.Role) bool) error {
	for r := range drawing.RoleCount {
		if r.Extra() && !uses(r) {
			continue
		}
		l := m.Layer(r, a.style)
		layer, err := d.Layer(l.Name, false)
		if err != nil {
			lt, err := a.lineType(d, l.LineType)
			if err != nil {
				return err
			}
			// What remains is a name that is there, and it is not.
			layer, _ = d.AddLayer(l.Name, color.ColorNumber(l.Colour), lt, false)
			layer.SetLineWidth(int(math.Round(l.Width * 100)))
		}
		a.layers[r] = layer
		if r == drawing.RoleText {
			a.label = layer.Color
		}
	}
	tables := d.Sections[yofu.TABLES].(table.Tables)
	if s, err := tables[table.STYLE].Contains(StyleName); err == nil {
		a.font = s.(*table.Style)
	} else if a.font, err = d.AddStyle(StyleName, dxfout.DefaultFont, "", false); err != nil {
		return fmt.Errorf("yofudxf: %w", err)
	}
	if s, err := tables[table.BLOCK_RECORD].Contains("*Model_Space"); err == nil {
		a.owner = s
	}
	return nil
}

func (a *adder) lineType(d *yofu.Drawing, word string) (*table.LineType, error) {
	pattern := dxfout.LinePattern(word, a.style)
	name := dxfout.LineTypeName(word, a.style)
	if lt, err := d.LineType(name); err == nil {
		return lt, nil
	}
	lt, err := d.AddLineType(name, "ISO 128-2", pattern...)
	if err != nil {
		return nil, fmt.Errorf("yofudxf: %w", err)
	}
	return lt, nil
}

func (a *adder) item(it drawing.Item) {
	if x, ok := drawing.Expand(it.Shape, a.style); ok {
		a.expansion(&x)
		return
	}
	a.shape(a.layers[it.Role], it.Shape)
}

// shape adds a shape in the coordinates of the drawing.
func (a *adder) shape(layer *table.Layer, s drawing.Shape) {
	switch s := s.(type) {
	case drawing.Line:
		a.line(layer, s.From, s.To)
	case drawing.Arc:
		a.arc(layer, s)
	case drawing.Circle:
		a.circle(layer, s.Center, s.Radius)
	case drawing.Polyline:
		a.polyline(layer, s.Vertices, s.Closed)
	case drawing.Ellipse:
		start, sweep := turn(s.Start, s.End)
		if s.Major.Len() >= shortest && sweep > leastTurn {
			if s.Start, s.End = start, start+sweep; sweep >= 360-leastTurn {
				s.End = s.Start
			}
			a.chords(layer, s, 2*s.Major.Len())
		}
	case drawing.Conic:
		a.chords(layer, s, max(s.Control.Sub(s.From).Len(), s.To.Sub(s.Control).Len()))
	case drawing.Text:
		a.text(layer, s, 0)
	case drawing.Hatch:
		if s.Solid {
			for _, l := range s.Loops {
				a.polyline(layer, l, true)
			}
			return
		}
		s.EachLine(a.style, func(l drawing.Line) { a.line(layer, l.From, l.To) })
	}
}

// expansion adds a dimension as what it is drawn with.
func (a *adder) expansion(x *drawing.Expansion) {
	layer := a.layers[drawing.RoleDimension]
	for _, it := range x.Items() {
		if t, ok := it.Shape.(drawing.Text); ok {
			a.text(layer, t, a.label)
			continue
		}
		a.shape(layer, it.Shape)
	}
}

// What would be nothing in the decimals that are written is left out.
const (
	shortest  = 1e-7 // mm
	leastTurn = 2e-8 // degrees
)

// number rounds to 8 decimals, as the library writes 16.
func number(v float64) float64 { return math.Round(v*1e8)/1e8 + 0 }

func coordinates(p drawing.Point) []float64 { return []float64{number(p.X), number(p.Y), 0} }

// An owned entity can be given its block, which the library does not ask for.
type owned interface {
	entity.Entity
	SetOwner(handle.Handler)
}

func (a *adder) add(layer *table.Layer, e owned) {
	e.SetLayer(layer)
	e.SetLtscale(number(a.style.Part(1)))
	if a.owner != nil {
		e.SetOwner(a.owner)
	}
	a.entities = append(a.entities, e)
}

func (a *adder) line(layer *table.Layer, p, q drawing.Point) {
	if math.Abs(p.X-q.X) < shortest && math.Abs(p.Y-q.Y) < shortest {
		return
	}
	l := entity.NewLine()
	l.Start, l.End = coordinates(p), coordinates(q)
	a.add(layer, l)
}

func (a *adder) circle(layer *table.Layer, center drawing.Point, r float64) {
	if r < shortest {
		return
	}
	c := entity.NewCircle()
	c.Center, c.Radius = coordinates(center), number(r)
	a.add(layer, c)
}

func (a *adder) arc(layer *table.Layer, s drawing.Arc) {
	start, sweep := turn(s.Start, s.End)
	switch {
	case sweep >= 360-leastTurn:
		a.circle(layer, s.Center, s.Radius)
		return
	case s.Radius < shortest || sweep <= leastTurn || s.Radius*sweep*math.Pi/180 < shortest:
		return
	}
	c := entity.NewCircle()
	c.Center, c.Radius = coordinates(s.Center), number(s.Radius)
	e := entity.NewArc(c)
	e.Angle = []float64{number(start), number(math.Mod(start+sweep, 360))}
	a.add(layer, e)
}

// turn returns the start of a counter-clockwise range of angles in [0, 360)
// and how far it goes, in (0, 360].
func turn(start, end float64) (from, sweep float64) {
	if sweep = math.Mod(end-start, 360); sweep <= 0 {
		sweep += 360
	}
	if from = math.Mod(start, 360); from < 0 {
		from += 360
	}
	return from, sweep
}

// chords adds a curve of the given size as a polyline.
func (a *adder) chords(layer *table.Layer, s drawing.Shape, size float64) {
	for _, points := range drawing.Flatten(s, max(dxfout.PlainTolerance, 1e-5*size)) {
		closed := len(points) > 2 && points[0] == points[len(points)-1]
		if closed {
			points = points[:len(points)-1]
		}
		vs := make([]drawing.Vertex, len(points))
		for i, p := range points {
			vs[i].Point = p
		}
		a.polyline(layer, vs, closed)
	}
}

func (a *adder) polyline(layer *table.Layer, vs []drawing.Vertex, closed bool) {
	goes := false
	for _, v := range vs {
		goes = goes || math.Abs(v.X-vs[0].X) >= shortest || math.Abs(v.Y-vs[0].Y) >= shortest
	}
	if !goes {
		return
	}
	l := entity.NewLwPolyline(len(vs))
	l.Closed = closed
	for i, v := range vs {
		l.Vertices[i] = coordinates(v.Point)[:2]
		l.Bulges[i] = number(v.Bulge)
	}
	a.add(layer, l)
}

// text adds a text in the coordinates of the drawing; colour 0 is that of its
// layer.
func (a *adder) text(layer *table.Layer, s drawing.Text, colour color.ColorNumber) {
	value := dxfout.EscapeText(s.Value)
	if strings.TrimSpace(value) == "" {
		return
	}
	height := s.Height
	if height == 0 {
		height = a.style.Height()
	}
	height = a.style.Part(height)
	if s.Hang {
		s.At = s.At.Sub(drawing.Polar(height, s.Angle+90))
	}
	left := s.At
	switch width := a.style.TextWidth(s.Value, height); s.Align {
	case drawing.AlignCentre:
		left = left.Sub(drawing.Polar(width/2, s.Angle))
	case drawing.AlignRight:
		left = left.Sub(drawing.Polar(width, s.Angle))
	}
	t := entity.NewText()
	t.Coord1, t.Coord2 = coordinates(left), coordinates(s.At)
	t.Height, t.Value, t.Style, t.WidthFactor = number(height), value, a.font, 1
	t.Rotation, _ = turn(number(s.Angle), 0)
	t.HorizontalFlag = int(s.Align)
	if s.Align == drawing.AlignLeft && colour == 0 {
		a.add(layer, t)
		return
	}
	a.add(layer, &Text{Text: t, Colour: colour})
}

// WriteTo writes d to w as d.WriteTo does, after it has given d the layer, the
// line types and the text style that all drawings of the library share. It
// must not run while another goroutine uses the library.
func WriteTo(w io.Writer, d *yofu.Drawing) (int64, error) {
	tables := d.Sections[yofu.TABLES].(table.Tables)
	for t, names := range map[table.TableType][]string{
		table.LTYPE: {"ByLayer", "ByBlock", "Continuous", "HIDDEN", "DASHDOT"}, table.LAYER: {"0"}, table.STYLE: {"Standard"},
	} {
		for _, name := range names {
			if s, err := tables[t].Contains(name); err == nil {
				s.SetOwner(tables[t])
			}
		}
	}
	if l, err := d.Layer("0", false); err == nil {
		l.SetPlotStyle(d.PlotStyle)
	}
	return d.WriteTo(w)
}
