package dxfout

import (
	"math"

	"boltplate/drawing"
)

// PlainTolerance is how far, in millimetres of the drawing, the chords that
// stand for an ellipse or a conic in a plain file may lie off the true curve.
// On a curve that is larger than half a metre it is a hundred-thousandth of
// the curve's size, so that the number of chords stays bounded.
const PlainTolerance = 0.005

const plainRelative = 1e-5

// plainTolerance returns the tolerance for a curve of a size.
func plainTolerance(size float64) float64 { return max(PlainTolerance, plainRelative*size) }

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
		if l.shared {
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
			w.str("  6", l.lineType)
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

// plainEllipse appends an ellipse as chords between equal steps of its
// parameter. With steps of h radians no chord is further from the curve than
// h^2/8 times the greatest second derivative, which is half the major axis.
func (w *writer) plainEllipse(layer string, e *drawing.Ellipse, start, sweep float64, whole bool) {
	a := e.Major.Len() * w.k
	step := math.Sqrt(8*plainTolerance(2*a)/a) * 180 / math.Pi
	n := int(math.Ceil(sweep / min(step, 30))) // never so few that it looks like a polygon
	w.beginPolyline(layer, whole)
	for i := range n {
		w.vertex(layer, w.move(e.At(start+sweep*float64(i)/float64(n))), 0)
	}
	if !whole {
		w.vertex(layer, w.move(e.At(start+sweep)), 0)
	}
	w.endPolyline(layer)
}

func (w *writer) plainConic(layer string, c *drawing.Conic) {
	from, control, to := w.move(c.From), w.move(c.Control), w.move(c.To)
	tolerance := plainTolerance(max(control.Sub(from).Len(), to.Sub(control).Len()))
	w.beginPolyline(layer, false)
	w.vertex(layer, from, 0)
	w.conicChords(layer, from, control, to, c.Weight, tolerance, 0)
	w.endPolyline(layer)
}

// conicDepth bounds how often a conic is halved: a curve of the usual weights
// needs nine times at the most.
const conicDepth = 14

// conicChords appends the vertices of a conic after its start. The curve stays
// in the triangle of its points. It is furthest from the chord in its middle,
// w/(1+w) of the way to the control point, as long as that point lies over the
// chord.
func (w *writer) conicChords(layer string, from, control, to drawing.Point, weight, tolerance float64, depth int) {
	off, over := fromChord(from, to, control)
	if over {
		off *= weight / (1 + weight)
	}
	if off <= tolerance || depth == conicDepth {
		w.vertex(layer, to, 0)
		return
	}
	f := 1 / (1 + weight)
	a := from.Mul(f).Add(control.Mul(weight * f))
	b := control.Mul(weight * f).Add(to.Mul(f))
	half := math.Sqrt((1 + weight) / 2)
	w.conicChords(layer, from, a, a.Mid(b), half, tolerance, depth+1)
	w.conicChords(layer, a.Mid(b), b, to, half, tolerance, depth+1)
}

// fromChord returns the distance of p from the segment a-b, and whether the
// foot of its perpendicular is on the segment.
func fromChord(a, b, p drawing.Point) (off float64, over bool) {
	u, v := b.Sub(a), p.Sub(a)
	length := u.Len()
	along := 0.0
	if length > 0 {
		along = (u.X*v.X + u.Y*v.Y) / length
	}
	switch {
	case along <= 0:
		return v.Len(), length > 0 && along == 0
	case along >= length:
		return p.Sub(b).Len(), along == length
	}
	return math.Abs(u.X*v.Y-u.Y*v.X) / length, true
}

// plainPart appends the attributes of a part that can be seen, as text. What
// else is known of it has no place in a plain file and is left out.
func (w *writer) plainPart(p *drawing.Part) {
	for i := range p.Attributes {
		if a := &p.Attributes[i]; !a.Hidden {
			w.lettering(w.layer[drawing.RoleText].name, &a.Text)
		}
	}
}
