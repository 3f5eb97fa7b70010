package dxfout

import (
	"math"

	"boltplate/drawing"
)

// shortest is the length below which a line or a radius would be nothing once
// it is rounded to the decimals of the file; such things are left out.
const shortest = 1e-7

// leastTurn is the least angle in degrees between two directions that the
// decimals of the file can tell apart. Readers take an arc whose ends have the
// same angle for a whole circle.
const leastTurn = 2e-8

// item appends anything but a dimension.
func (w *writer) item(r drawing.Role, shape drawing.Shape) {
	layer := w.on(r)
	switch s := shape.(type) {
	case drawing.Line:
		w.line(layer, w.move(s.From), w.move(s.To))
	case drawing.Arc:
		w.arc(layer, w.move(s.Center), s.Radius*w.k, s.Start, s.End)
	case drawing.Circle:
		w.circle(layer, w.move(s.Center), s.Radius*w.k)
	case drawing.Ellipse:
		w.ellipse(layer, &s)
	case drawing.Conic:
		w.conic(layer, &s)
	case drawing.Polyline:
		w.polyline(layer, s.Vertices, s.Closed)
	case drawing.Text:
		w.lettering(layer, &s)
	case drawing.Hatch:
		w.hatch(layer, &s)
	case drawing.Cover:
		w.cover(&s)
	}
}

func (w *writer) line(layer string, a, b drawing.Point) {
	if abs(a.X-b.X) < shortest && abs(a.Y-b.Y) < shortest {
		return
	}
	w.entity("  0\r\nLINE\r\n  5\r\n", layer, "AcDbLine")
	w.point('0', a)
	w.point('1', b)
}

func (w *writer) circle(layer string, c drawing.Point, r float64) {
	if r < shortest {
		return
	}
	w.entity("  0\r\nCIRCLE\r\n  5\r\n", layer, "AcDbCircle")
	w.point('0', c)
	w.num(" 40", r)
}

func (w *writer) arc(layer string, c drawing.Point, r, start, end float64) {
	if r < shortest {
		return
	}
	start, sweep := turn(start, end)
	switch {
	case sweep >= 360-leastTurn:
		w.circle(layer, c, r)
		return
	case sweep <= leastTurn || r*sweep*math.Pi/180 < shortest:
		return
	}
	w.entity("  0\r\nARC\r\n  5\r\n", layer, "AcDbCircle")
	w.point('0', c)
	w.num(" 40", r)
	if !w.plain {
		w.lit("100\r\nAcDbArc\r\n")
	}
	w.num(" 50", start)
	if end = start + sweep; end >= 360 {
		end -= 360
	}
	w.num(" 51", end)
}

// turn returns the start of a counter-clockwise range of angles in [0, 360)
// and how far it goes, in (0, 360]: equal angles are a whole turn.
func turn(start, end float64) (from, sweep float64) {
	if sweep = end - start; sweep > 360 && sweep <= 360+leastTurn {
		sweep = 360
	} else if sweep <= 0 || sweep > 360 {
		if sweep = math.Mod(sweep, 360); sweep <= 0 {
			sweep += 360
		}
	}
	if from = start; from < 0 || from >= 360 {
		if from = math.Mod(from, 360); from < 0 {
			from += 360
		}
	}
	return from, sweep
}

func (w *writer) ellipse(layer string, e *drawing.Ellipse) {
	major := e.Major.Mul(w.k)
	const least = leastTurn * 180 / math.Pi // parameters are in radians
	start, sweep := turn(e.Start, e.End)
	if major.Len() < shortest || sweep <= least {
		return
	}
	if w.plain {
		w.plainEllipse(layer, e, start, sweep, sweep >= 360-least)
		return
	}
	w.entity("  0\r\nELLIPSE\r\n  5\r\n", layer, "AcDbEllipse")
	w.point('0', w.move(e.Center))
	w.point('1', major)
	w.lit("210\r\n0.0\r\n220\r\n0.0\r\n230\r\n1.0\r\n")
	w.num(" 40", math.Min(e.Ratio, 1))
	if sweep >= 360-least {
		// Rounded up, a whole turn would be a very short arc to a reader that
		// counts round and round.
		w.lit(" 41\r\n0.0\r\n 42\r\n6.283185307179586\r\n")
		return
	}
	w.num(" 41", start*math.Pi/180)
	w.num(" 42", (start+sweep)*math.Pi/180)
}

// conic appends a rational quadratic curve as a spline of one span.
func (w *writer) conic(layer string, c *drawing.Conic) {
	if w.same(c.From, c.Control) && w.same(c.From, c.To) {
		return
	}
	if w.plain {
		w.plainConic(layer, c)
		return
	}
	w.entity("  0\r\nSPLINE\r\n  5\r\n", layer, "AcDbSpline")
	w.lit("210\r\n0.0\r\n220\r\n0.0\r\n230\r\n1.0\r\n" +
		" 70\r\n12\r\n 71\r\n2\r\n 72\r\n6\r\n 73\r\n3\r\n 74\r\n0\r\n" + // rational and planar; degree; knots; control points
		" 42\r\n0.0000001\r\n 43\r\n0.0000001\r\n" +
		" 40\r\n0.0\r\n 40\r\n0.0\r\n 40\r\n0.0\r\n 40\r\n1.0\r\n 40\r\n1.0\r\n 40\r\n1.0\r\n" +
		" 41\r\n1.0\r\n")
	w.num(" 41", c.Weight)
	w.lit(" 41\r\n1.0\r\n")
	w.point('0', w.move(c.From))
	w.point('0', w.move(c.Control))
	w.point('0', w.move(c.To))
}

func (w *writer) polyline(layer string, vs []drawing.Vertex, closed bool) {
	if w.onePoint(vs) {
		return
	}
	if w.plain {
		w.plainPolyline(layer, vs, closed)
		return
	}
	w.entity("  0\r\nLWPOLYLINE\r\n  5\r\n", layer, "AcDbPolyline")
	w.int(" 90", len(vs))
	if closed {
		w.lit(" 70\r\n129\r\n")
	} else {
		w.lit(" 70\r\n128\r\n") // 128: dashes run on round the corners
	}
	w.vertices(vs, false)
}

// same reports whether two points of the view are one in the file.
func (w *writer) same(p, q drawing.Point) bool {
	return abs(p.X-q.X)*w.k < shortest && abs(p.Y-q.Y)*w.k < shortest
}

// onePoint reports whether a chain of vertices goes nowhere.
func (w *writer) onePoint(vs []drawing.Vertex) bool {
	for i := 1; i < len(vs); i++ {
		if !w.same(vs[0].Point, vs[i].Point) {
			return false
		}
	}
	return true
}

// vertices appends the points of a polyline; with all, every one has a bulge.
func (w *writer) vertices(vs []drawing.Vertex, all bool) {
	for i := range vs {
		w.flush()
		w.flat(w.move(vs[i].Point))
		if all || vs[i].Bulge != 0 {
			w.num(" 42", vs[i].Bulge)
		}
	}
}

// solid appends a filled triangle or quadrangle, its corners in order. The
// format wants the last two the other way round.
func (w *writer) solid(layer string, a, b, c, d drawing.Point) {
	w.entity("  0\r\nSOLID\r\n  5\r\n", layer, "AcDbTrace")
	w.point('0', a)
	w.point('1', b)
	w.point('2', d)
	w.point('3', c)
}

func (w *writer) lettering(layer string, t *drawing.Text) {
	if blank(t.Value) {
		return
	}
	if !w.plain && !fits(t.Value, textField, maxString) {
		w.paragraph(layer, t)
		return
	}
	w.entity("  0\r\nTEXT\r\n  5\r\n", layer, "AcDbText")
	w.string(t, w.move(t.At))
	w.endText()
}

// endText appends the second marker of a text.
func (w *writer) endText() {
	if !w.plain {
		w.lit("100\r\nAcDbText\r\n")
	}
}

// string appends the groups that TEXT, ATTRIB and ATTDEF share. Text that is
// not aligned to the left stands at its second point; programs that do not
// know that take the first, which is where the text begins if it is as wide as
// it is thought to be.
func (w *writer) string(t *drawing.Text, at drawing.Point) {
	height := t.Height
	if height == 0 {
		height = w.d.Style.Height()
	}
	height *= w.mm
	if t.Hang {
		at = at.Sub(drawing.Polar(height, t.Angle+90))
	}
	left := at
	if t.Align != drawing.AlignLeft {
		width := w.d.Style.TextWidth(t.Value, height)
		if t.Align == drawing.AlignCentre {
			width /= 2
		}
		left = left.Sub(drawing.Polar(width, t.Angle))
	}
	w.point('0', left)
	w.num(" 40", height)
	w.text("  1", t.Value, w.letters)
	if t.Angle != 0 {
		from, _ := turn(t.Angle, t.Angle)
		w.num(" 50", from)
	}
	if t.Slant != 0 {
		w.num(" 51", t.Slant)
	}
	w.str("  7", w.names.text)
	if t.Align != drawing.AlignLeft {
		w.int(" 72", int(t.Align))
		w.point('1', at)
	}
}

// paragraph appends a line of text that is too long for a TEXT, as an MTEXT,
// whose text is in pieces. It does not wrap.
func (w *writer) paragraph(layer string, t *drawing.Text) {
	w.entity("  0\r\nMTEXT\r\n  5\r\n", layer, "AcDbMText")
	w.point('0', w.move(t.At))
	height := t.Height
	if height == 0 {
		height = w.d.Style.Height()
	}
	w.num(" 40", height*w.mm)
	w.lit(" 41\r\n0.0\r\n")
	attachment := 7 // at the foot: left, middle, right
	if t.Hang {
		attachment = 1 // at the top
	}
	w.int(" 71", attachment+int(t.Align))
	w.lit(" 72\r\n1\r\n")
	w.pieces(t.Value)
	w.str("  7", w.names.text)
	if t.Angle != 0 {
		from, _ := turn(t.Angle, t.Angle)
		w.num(" 50", from)
	}
	w.lit(" 73\r\n1\r\n 44\r\n1.0\r\n")
}

// pieces appends the text of an MTEXT, all pieces but the last under the code 3.
func (w *writer) pieces(s string) {
	for i := 0; ; {
		w.flush()
		code := len(w.buf)
		w.lit("  3\r\n")
		start := len(w.buf)
		for i < len(s) {
			b, next := appendCharacter(w.buf, s, i, paragraphField)
			if len(b)-start > maxString {
				break
			}
			w.buf, i = b, next
		}
		w.lit("\r\n")
		if i == len(s) {
			copy(w.buf[code:], "  1")
			return
		}
	}
}
