package dxfout

import (
	"math"

	"boltplate/drawing"
)

// expand returns what a dimension is drawn with, in the coordinates of its
// view: a millimetre on paper is there the smaller, the larger the view is
// placed.
func (w *writer) expand(s drawing.Shape, scale float64) (drawing.Expansion, bool) {
	st := w.d.Style
	st.Scale = st.PaperScale() * scale
	return drawing.Expand(s, st)
}

// dimBlocks appends the anonymous block of every dimension: the picture that
// programs show until they draw the dimension anew.
func (w *writer) dimBlocks() {
	n := 0
	block := func(items []drawing.Item, scale float64) {
		for i := range items {
			if s := items[i].Shape; isDimension(s) {
				if _, leader := s.(drawing.Leader); !leader {
					w.dimBlock(s, scale, n)
					n++
				}
			}
		}
	}
	for i := range w.d.Views {
		p := &w.d.Views[i]
		w.place(p.At, viewScale(p))
		block(p.View.Items, viewScale(p))
	}
	w.place(drawing.Point{}, 1)
	block(w.d.Items, 1)
}

func (w *writer) dimBlock(s drawing.Shape, scale float64, n int) {
	x, _ := w.expand(s, scale)
	w.beginBlock(w.dimBase + uint64(n))
	w.dimBlockName(n)
	w.lit(" 70\r\n1\r\n 10\r\n0.0\r\n 20\r\n0.0\r\n 30\r\n0.0\r\n")
	w.dimBlockName(n)
	copy(w.buf[len(w.buf)-nameLength(n):], "  3") // the name again, under its other code
	w.lit("  1\r\n\r\n")
	w.picture(&x)
	w.endBlock()
}

// nameLength is how many bytes dimBlockName appends.
func nameLength(n int) int {
	digits := 1
	for n++; n > 9; n /= 10 {
		digits++
	}
	return len("  2\r\n*D\r\n") + digits
}

// picture appends the lines, arrowheads and text of an expansion. They lie on
// the layer of dimensions and take its line, so that programs that know
// nothing of blocks' own colours draw them right too.
func (w *writer) picture(x *drawing.Expansion) {
	layer := w.layer[drawing.RoleDimension].name
	for _, l := range x.Lines() {
		w.line(layer, w.move(l.From), w.move(l.To))
	}
	for _, a := range x.Arcs() {
		w.arc(layer, w.move(a.Center), a.Radius*w.k, a.Start, a.End)
	}
	for _, a := range x.Arrows() {
		if w.plain {
			vs := [3]drawing.Vertex{{Point: a[0]}, {Point: a[1]}, {Point: a[2]}}
			w.polyline(layer, vs[:], true)
			continue
		}
		p, q, r := w.move(a[0]), w.move(a[1]), w.move(a[2])
		w.solid(layer, p, q, r, r)
	}
	if sq, ok := x.Square(); ok {
		vs := [4]drawing.Vertex{{Point: sq[0]}, {Point: sq[1]}, {Point: sq[2]}, {Point: sq[3]}}
		w.polyline(layer, vs[:], true)
	}
	if tp, ok := x.Taper(); ok {
		vs := [3]drawing.Vertex{{Point: tp[0]}, {Point: tp[1]}, {Point: tp[2]}}
		w.polyline(layer, vs[:], true)
	}
	if t, ok := x.Text(); ok {
		w.dimText(&t)
	}
}

// dimText appends the label of a dimension in the colour of text.
func (w *writer) dimText(t *drawing.Text) {
	if blank(t.Value) {
		return
	}
	w.entity("  0\r\nTEXT\r\n  5\r\n", w.dimTextLayer, "AcDbText")
	w.string(t, w.move(t.At))
	w.endText()
}

// dimension appends a dimension or a leader to model space and reports whether
// it has a block of its own, the n-th. A leader is its lines, arrow and text,
// which every program can show; in plain files so is every dimension.
func (w *writer) dimension(s drawing.Shape, scale float64, n int) bool {
	x, _ := w.expand(s, scale)
	if _, ok := s.(drawing.Leader); ok || w.plain {
		w.picture(&x)
		return false
	}
	w.entity("  0\r\nDIMENSION\r\n  5\r\n", w.layer[drawing.RoleDimension].name, "AcDbDimension")
	w.dimBlockName(n)
	style := 0
	if len(w.scales) > 0 {
		style = w.dimStyle(scale)
	}
	switch d := s.(type) {
	case drawing.Linear:
		w.linear(&d, &x, style)
	case drawing.Aligned:
		w.aligned(&d, &x, style)
	case drawing.Diameter:
		w.diameter(&d, &x, style)
	case drawing.Radius:
		w.radius(&d, &x, style)
	case drawing.Angular:
		w.angular(&d, &x, style)
	}
	return true
}

// A measure is what a program would write for a dimension itself.
type measure struct {
	value  float64        // mm of the part, or degrees
	symbol drawing.Symbol // that the program puts before it
	angle  bool
}

// common appends the groups of every dimension: where it is, the middle of its
// text, its kind, and its text where a program would not write the same.
func (w *writer) common(at drawing.Point, x *drawing.Expansion, kind int, l *drawing.Label, m measure, style int) {
	w.point('0', at)
	box, _ := x.LabelBox()
	w.point('1', w.move(box[0].Mid(box[2])))
	w.int(" 70", kind+32+128) // the block is its own; the text stands where it was put
	w.lit(" 71\r\n5\r\n")
	if m.angle {
		w.num(" 42", m.value*math.Pi/180)
	} else {
		w.num(" 42", m.value*w.k) // as measured in the drawing: readers multiply it by DIMLFAC
	}
	w.dimLabel(l, m)
	w.dimStyleName("  3", style)
}

// dimLabel appends the text of a dimension. <> stands for the value as the
// program measures it, so that it follows when the dimension is stretched.
func (w *writer) dimLabel(l *drawing.Label, m measure) {
	if w.d.Style.Labels == drawing.Blank {
		w.lit("  1\r\n \r\n") // an empty text would be the measured value
		return
	}
	measured := w.measured(l.Text, m)
	if measured && l.Symbol == m.symbol && !l.Reference {
		return
	}
	if m.symbol != drawing.NoSymbol && l.Symbol != m.symbol {
		measured = false // the program would put its symbol before the value
	}
	w.lit("  1\r\n")
	start := len(w.buf)
	switch l.Symbol { // these stand before the parentheses
	case drawing.SquareSymbol:
		w.lit(`\U+25A1`)
	case drawing.TaperSymbol, drawing.TaperLeftSymbol:
		w.lit(`\U+2332`)
	}
	if l.Reference {
		w.lit("(")
	}
	if !measured || l.Symbol != m.symbol {
		w.symbol(l.Symbol)
	}
	if measured {
		w.lit("<>")
	} else {
		w.buf = appendText(w.buf, l.Text, dimensionField)
	}
	if l.Reference {
		w.lit(")")
	}
	if len(w.buf) == start {
		w.lit(" ") // nothing; an empty text would be the measured value
	}
	w.lit("\r\n")
}

// symbol appends a symbol that is a character.
func (w *writer) symbol(s drawing.Symbol) {
	switch s {
	case drawing.DiameterSymbol:
		w.lit("%%c")
	case drawing.RadiusSymbol:
		w.lit("R")
	}
}

// measured reports whether text is the value of m as a program writes it.
func (w *writer) measured(text string, m measure) bool {
	if m.angle {
		n := len(text) - len("°")
		if n < 0 || text[n:] != "°" {
			return false
		}
		text = text[:n]
	}
	var scratch [32]byte
	b := appendNumber(scratch[:0], math.Round(m.value*100)/100)
	if n := len(b); b[n-1] == '0' && b[n-2] == '.' {
		b = b[:n-2]
	}
	if w.d.Style.DecimalComma {
		for i, c := range b {
			if c == '.' {
				b[i] = ','
			}
		}
	}
	return text == string(b)
}

// linear appends a horizontal or vertical dimension.
func (w *writer) linear(d *drawing.Linear, x *drawing.Expansion, style int) {
	at, size := drawing.Point{X: d.To.X, Y: d.At}, d.To.X-d.From.X
	if d.Side.Vertical() {
		at, size = drawing.Point{X: d.At, Y: d.To.Y}, d.To.Y-d.From.Y
	}
	w.common(w.move(at), x, 0, &d.Label, measure{value: abs(size)}, style)
	w.lit("100\r\nAcDbAlignedDimension\r\n")
	w.point('3', w.move(d.From))
	w.point('4', w.move(d.To))
	if d.Side.Vertical() {
		w.lit(" 50\r\n90.0\r\n")
	}
	w.lit("100\r\nAcDbRotatedDimension\r\n")
	if d.HideFrom || d.HideTo {
		w.lit(overridesStart)
		if d.HideFrom {
			w.lit("1070\r\n75\r\n1070\r\n1\r\n")
		}
		if d.HideTo {
			w.lit("1070\r\n76\r\n1070\r\n1\r\n")
		}
		w.lit("1002\r\n}\r\n")
	}
}

const overridesStart = "1001\r\nACAD\r\n1000\r\nDSTYLE\r\n1002\r\n{\r\n"

func (w *writer) aligned(d *drawing.Aligned, x *drawing.Expansion, style int) {
	v := d.To.Sub(d.From)
	size := v.Len()
	n := drawing.Point{Y: d.At} // where the points coincide the expansion takes the x axis too
	if size > 0 {
		n = drawing.Point{X: -v.Y, Y: v.X}.Mul(d.At / size)
	}
	w.common(w.move(d.To.Add(n)), x, 1, &d.Label, measure{value: size}, style)
	w.lit("100\r\nAcDbAlignedDimension\r\n")
	w.point('3', w.move(d.From))
	w.point('4', w.move(d.To))
}

// shelfOverrides let a diameter or a radius be drawn anew as it is drawn here:
// text level on its shelf, no line through the circle.
const shelfOverrides = overridesStart +
	"1070\r\n73\r\n1070\r\n1\r\n1070\r\n74\r\n1070\r\n1\r\n1070\r\n172\r\n1070\r\n0\r\n1002\r\n}\r\n"

func (w *writer) diameter(d *drawing.Diameter, x *drawing.Expansion, style int) {
	tip := x.Arrows()[0][0]
	w.common(w.move(d.Center.Add(d.Center.Sub(tip))), x, 3, &d.Label, measure{value: 2 * d.Radius, symbol: drawing.DiameterSymbol}, style)
	w.lit("100\r\nAcDbDiametricDimension\r\n")
	w.point('5', w.move(tip))
	w.num(" 40", d.Shelf.Knee.Sub(tip).Len()*w.k)
	w.lit(shelfOverrides)
}

func (w *writer) radius(d *drawing.Radius, x *drawing.Expansion, style int) {
	tip := x.Arrows()[0][0]
	w.common(w.move(d.Center), x, 4, &d.Label, measure{value: d.Radius, symbol: drawing.RadiusSymbol}, style)
	w.lit("100\r\nAcDbRadialDimension\r\n")
	w.point('5', w.move(tip))
	w.num(" 40", d.Shelf.Knee.Sub(tip).Len()*w.k)
	w.lit(shelfOverrides)
}

func (w *writer) angular(d *drawing.Angular, x *drawing.Expansion, style int) {
	_, sweep := turn(d.Start, d.End)
	onArc := d.Vertex.Add(drawing.Polar(d.At, d.Start+sweep/2))
	w.common(w.move(onArc), x, 5, &d.Label, measure{value: sweep, angle: true}, style)
	w.lit("100\r\nAcDb3PointAngularDimension\r\n")
	w.point('3', w.move(legEnd(d, d.From, d.Start)))
	w.point('4', w.move(legEnd(d, d.To, d.End)))
	w.point('5', w.move(d.Vertex))
}

// legEnd returns where the extension line of an angle begins. A leg of no
// length would leave the angle undefined.
func legEnd(d *drawing.Angular, r, angle float64) drawing.Point {
	if r < 1e-3*d.At {
		r = d.At
	}
	return d.Vertex.Add(drawing.Polar(r, angle))
}
