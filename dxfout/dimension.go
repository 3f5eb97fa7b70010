package dxfout

import (
	"math"

	"boltplate/drawing"
)

// expand returns what a dimension is drawn with, in the coordinates in which it
// is written: a millimetre on paper is there the smaller, the larger they are
// placed.
func (w *writer) expand(s drawing.Shape) (drawing.Expansion, bool) {
	st := w.d.Style
	st.Scale = st.PaperScale() * w.k
	return drawing.Expand(s, st)
}

// hasBlock reports whether a dimension is a DIMENSION, with a block of its own.
func hasBlock(d drawing.Dimension) bool {
	_, leader := d.(drawing.Leader)
	return !leader
}

// dimBlocks appends the anonymous block of every dimension: the picture that
// programs show until they draw the dimension anew.
func (w *writer) dimBlocks() {
	n := 0
	block := func(items []drawing.Item) {
		for i := range items {
			if d, ok := items[i].Shape.(drawing.Dimension); ok && hasBlock(d) {
				w.dimBlock(w.moved(d), n)
				n++
			}
		}
	}
	for i := range w.d.Views {
		w.enter(i)
		block(w.d.Views[i].View.Items)
	}
	w.enter(-1)
	block(w.d.Items)
}

func (w *writer) dimBlock(s drawing.Shape, n int) {
	x, _ := w.expand(s)
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
	layer := w.on(drawing.RoleDimension)
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
	w.labelOf(x)
}

// labelOf appends the symbol and the text of an expansion.
func (w *writer) labelOf(x *drawing.Expansion) {
	layer := w.on(drawing.RoleDimension)
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
// it has a block of its own, the n-th. In plain files it is its lines.
func (w *writer) dimension(s drawing.Shape, n int) bool {
	x, _ := w.expand(s)
	if w.plain {
		w.picture(&x)
		return false
	}
	style := w.dimStyle(w.viewScale)
	if _, ok := s.(drawing.Leader); ok {
		w.leader(&x, style)
		return false
	}
	w.entity("  0\r\nDIMENSION\r\n  5\r\n", w.on(drawing.RoleDimension), "AcDbDimension")
	w.dimBlockName(n)
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

// leader appends a LEADER from the arrow over the knee along the shelf, and the
// label as a text of its own: programs place annotations that belong to a
// leader each in its own way.
func (w *writer) leader(x *drawing.Expansion, style int) {
	lines := x.Lines()
	if len(lines) == 2 && !w.same(lines[0].From, lines[0].To) {
		w.entity("  0\r\nLEADER\r\n  5\r\n", w.on(drawing.RoleDimension), "AcDbLeader")
		w.str("  3", w.dimStyleName(style))
		w.lit(" 71\r\n1\r\n 72\r\n0\r\n 73\r\n3\r\n 74\r\n0\r\n 75\r\n0\r\n")
		w.num(" 40", w.d.Style.Height()*w.mm)
		w.lit(" 41\r\n0.0\r\n 76\r\n3\r\n")
		w.point('0', w.move(lines[0].From))
		w.point('0', w.move(lines[0].To))
		w.point('0', w.move(lines[1].To))
		w.lit("210\r\n0.0\r\n220\r\n0.0\r\n230\r\n1.0\r\n211\r\n1.0\r\n221\r\n0.0\r\n231\r\n0.0\r\n" +
			"212\r\n0.0\r\n222\r\n0.0\r\n232\r\n0.0\r\n213\r\n0.0\r\n223\r\n0.0\r\n233\r\n0.0\r\n")
	}
	w.labelOf(x)
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
		w.num(" 42", m.value*w.viewScale) // as measured in the drawing: readers multiply it by DIMLFAC
	}
	w.dimLabel(l, m)
	w.str("  3", w.dimStyleName(style))
}

// length returns a length in the coordinates in which it is written as
// millimetres of the part.
func (w *writer) length(l float64) float64 { return l * (w.k / w.viewScale) }

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

// linear appends a horizontal or vertical dimension, or one along axes that
// are turned.
func (w *writer) linear(d *drawing.Linear, x *drawing.Expansion, style int) {
	from, to := d.Measured()
	w.common(w.move(to), x, 0, &d.Label, measure{value: w.length(to.Sub(from).Len())}, style)
	w.lit("100\r\nAcDbAlignedDimension\r\n")
	w.point('3', w.move(d.From))
	w.point('4', w.move(d.To))
	angle := d.Turn
	if d.Side.Vertical() {
		angle += 90
	}
	if angle != 0 {
		from, _ := turn(angle, angle)
		w.num(" 50", from)
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
	w.common(w.move(d.To.Add(n)), x, 1, &d.Label, measure{value: w.length(size)}, style)
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
	w.common(w.move(d.Center.Add(d.Center.Sub(tip))), x, 3, &d.Label, measure{value: w.length(2 * d.Radius), symbol: drawing.DiameterSymbol}, style)
	w.lit("100\r\nAcDbDiametricDimension\r\n")
	w.point('5', w.move(tip))
	w.num(" 40", d.Shelf.Knee.Sub(tip).Len()*w.k)
	w.lit(shelfOverrides)
}

func (w *writer) radius(d *drawing.Radius, x *drawing.Expansion, style int) {
	tip := x.Arrows()[0][0]
	w.common(w.move(d.Center), x, 4, &d.Label, measure{value: w.length(d.Radius), symbol: drawing.RadiusSymbol}, style)
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
