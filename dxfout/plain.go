package dxfout

import "boltplate/drawing"

// PlainTolerance is how far, in millimetres of the drawing, the chords that
// stand for an ellipse or a conic in a plain file may lie off the true curve.
// On a curve that is larger than half a metre it is a hundred-thousandth of
// the curve's size, so that the number of chords stays bounded.
const PlainTolerance = 0.005

// plainRelative is that part of the size.
const plainRelative = 1e-5

var plainHeaderStart = tags(`
0 SECTION | 2 HEADER
9 $ACADVER | 1 AC1009
9 $DWGCODEPAGE | 3 ANSI_1252
9 $INSBASE | 10 0.0 | 20 0.0 | 30 0.0`)

var plainHeaderSettings = tags(`
9 $REGENMODE | 70 1
9 $FILLMODE | 70 1
9 $MIRRTEXT | 70 0
9 $TEXTSTYLE | 7 STANDARD
9 $CLAYER | 8 0
9 $CELTYPE | 6 BYLAYER
9 $CECOLOR | 62 256
9 $LUNITS | 70 2
9 $LUPREC | 70 3
9 $AUNITS | 70 0
9 $AUPREC | 70 1
9 $ANGBASE | 50 0.0
9 $ANGDIR | 70 0
9 $PDMODE | 70 0
9 $PDSIZE | 40 0.0
9 $PLINEGEN | 70 1
9 $TILEMODE | 70 1
0 ENDSEC`)

var plainViewportStart = tags(`
0 SECTION | 2 TABLES
0 TABLE | 2 VPORT | 70 1
0 VPORT | 2 *ACTIVE | 70 0
10 0.0 | 20 0.0 | 11 1.0 | 21 1.0`)

var plainLineTypesStart = tags(`
42 50.0 | 43 0.0 | 44 0.0 | 50 0.0 | 51 0.0
71 0 | 72 100 | 73 1 | 74 3 | 75 0 | 76 0 | 77 0 | 78 0
0 ENDTAB
0 TABLE | 2 LTYPE | 70 5
0 LTYPE | 2 CONTINUOUS | 70 0 | 3 Solid line | 72 65 | 73 0 | 40 0.0`)

var plainLayersStart = tags(`
0 ENDTAB
0 TABLE | 2 LAYER`)

var plainLayerZero = tags(`
0 LAYER | 2 0 | 70 0 | 62 7 | 6 CONTINUOUS`)

var plainStyleStart = tags(`
0 ENDTAB
0 TABLE | 2 STYLE | 70 1
0 STYLE | 2 STANDARD | 70 0 | 40 0.0 | 41 1.0 | 50 0.0 | 71 0`)

var plainTablesEnd = tags(`
4 
0 ENDTAB
0 TABLE | 2 VIEW | 70 0
0 ENDTAB
0 TABLE | 2 UCS | 70 0
0 ENDTAB
0 TABLE | 2 APPID | 70 1
0 APPID | 2 ACAD | 70 0
0 ENDTAB
0 ENDSEC
0 SECTION | 2 BLOCKS
0 ENDSEC`)

// plainFile writes all sections of a plain file. There are no blocks; an empty
// section for them is what readers of that age expect.
func (w *writer) plainFile() {
	w.lit(plainHeaderStart)
	w.extents()
	w.lit(plainHeaderSettings)
	w.lit(plainViewportStart)
	w.viewport()
	w.lit(plainLineTypesStart)
	for _, t := range isoLineTypes() {
		w.flush()
		w.lit("  0\r\nLTYPE\r\n")
		w.lineType(&t)
	}
	w.lit(plainLayersStart)
	w.plainLayers()
	w.lit(plainStyleStart)
	w.num(" 42", w.d.Style.Part(w.d.Style.Height()))
	w.text("  3", w.font, plainField)
	w.lit(plainTablesEnd)
	w.entities()
	w.lit("  0\r\nEOF\r\n")
}

func (w *writer) plainLayers() {
	w.int(" 70", 1+w.layerCount())
	w.lit(plainLayerZero)
	for i := range w.layer {
		l := &w.layer[i]
		if l.shared || l.unused {
			continue
		}
		w.flush()
		w.lit("  0\r\nLAYER\r\n")
		w.str("  2", l.name)
		w.lit(" 70\r\n0\r\n")
		w.int(" 62", l.colour)
		if l.lineType == Continuous {
			w.lit("  6\r\nCONTINUOUS\r\n")
		} else {
			w.str("  6", w.lineTypeName(l.lineType))
		}
	}
}

// A plain polyline is a POLYLINE, a VERTEX for each corner, and a SEQEND.

func (w *writer) beginPolyline(layer string, closed bool) {
	w.entity("  0\r\nPOLYLINE\r\n  5\r\n", layer, "")
	w.lit(" 66\r\n1\r\n 10\r\n0.0\r\n 20\r\n0.0\r\n 30\r\n0.0\r\n")
	if closed {
		w.lit(" 70\r\n129\r\n")
	} else {
		w.lit(" 70\r\n128\r\n") // 128: dashes run on round the corners
	}
}

// vertex appends a corner, in the coordinates of the drawing.
func (w *writer) vertex(layer string, p drawing.Point, bulge float64) {
	w.entity("  0\r\nVERTEX\r\n  5\r\n", layer, "")
	w.point('0', p)
	if bulge != 0 {
		w.num(" 42", bulge)
	}
}

func (w *writer) endPolyline(layer string) { w.entity("  0\r\nSEQEND\r\n  5\r\n", layer, "") }

func (w *writer) plainPolyline(layer string, vs []drawing.Vertex, closed bool) {
	w.beginPolyline(layer, closed)
	for i := range vs {
		w.vertex(layer, w.move(vs[i].Point), vs[i].Bulge)
	}
	w.endPolyline(layer)
}

// chords appends a curve as a polyline.
func (w *writer) chords(layer string, s drawing.Shape, size float64) {
	for _, ps := range drawing.Flatten(s, max(PlainTolerance, plainRelative*size)) {
		closed := len(ps) > 2 && ps[0] == ps[len(ps)-1]
		if closed {
			ps = ps[:len(ps)-1]
		}
		w.beginPolyline(layer, closed)
		for _, p := range ps {
			w.vertex(layer, p, 0)
		}
		w.endPolyline(layer)
	}
}

// here returns what move does.
func (w *writer) here() drawing.Transform { return drawing.Transform{Scale: w.k, Move: w.at} }

func (w *writer) plainEllipse(layer string, e *drawing.Ellipse, start, sweep float64, whole bool) {
	f := e.Apply(w.here())
	f.Start, f.End = start, start+sweep
	if whole {
		f.End = f.Start
	}
	w.chords(layer, f, 2*f.Major.Len())
}

func (w *writer) plainConic(layer string, c *drawing.Conic) {
	f := c.Apply(w.here())
	w.chords(layer, f, max(f.Control.Sub(f.From).Len(), f.To.Sub(f.Control).Len()))
}

// plainHatch appends a hatch as its lines and a filled area as its edge.
func (w *writer) plainHatch(layer string, h *drawing.Hatch) {
	if h.Solid {
		for _, l := range h.Loops {
			if w.encloses(l) {
				w.polyline(layer, l, true)
			}
		}
		return
	}
	h.Apply(w.here()).EachLine(w.d.Style, func(l drawing.Line) { w.line(layer, l.From, l.To) })
}

// plainPart appends the attributes of a part that can be seen, as text. What
// else is known of it has no place in a plain file and is left out.
func (w *writer) plainPart(p *drawing.Part) {
	for i := range p.Attributes {
		if a := &p.Attributes[i]; !a.Hidden {
			w.lettering(w.on(drawing.RoleText), &a.Text)
		}
	}
}
