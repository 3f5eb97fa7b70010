package pdf

import (
	"bytes"

	"codeberg.org/go-pdf/fpdf"

	"boltplate/drawing"
	"boltplate/drawing/internal/paint"
)

// decimals of a point.
const decimals = 3

// A writer writes pages. Lines go to the page as operators, because the
// library rounds to hundredths of a point and would draw a path with a call a
// segment; text goes through the library, which embeds the glyphs used.
type writer struct {
	file  *fpdf.Fpdf
	fonts []embedded
	buf   []byte // operators that are not on the page yet

	origin drawing.Point // of the drawing on the page, mm
	height float64       // of the page, points
	font   *embedded     // of the page
	size   float64       // of the text, points
}

// page appends a page with a picture.
func (w *writer) page(picture *paint.Picture, pg paint.Page) {
	w.origin, w.height, w.size = pg.Origin, pg.Height*pointsPerMM, 0
	for i := range w.fonts {
		if w.fonts[i].font == picture.Font {
			w.font = &w.fonts[i]
		}
	}
	w.file.AddPageFormat("P", fpdf.SizeType{Wd: pg.Width * pointsPerMM, Ht: w.height})
	for i := range picture.Sheets {
		for r := range picture.Sheets[i].Roles {
			if l := &picture.Sheets[i].Roles[r]; !l.Empty() {
				w.layer(drawing.Role(r), picture.Widths[r], l)
			}
		}
		w.covers(picture.Sheets[i].Covers)
	}
}

func (w *writer) lit(s string)  { w.buf = append(w.buf, s...) }
func (w *writer) num(v float64) { w.buf = paint.AppendNumber(w.buf, v, decimals) }

// flush puts the operators on the page.
func (w *writer) flush() {
	if len(w.buf) > 0 {
		w.file.RawWriteBuf(bytes.NewReader(w.buf))
		w.buf = w.buf[:0]
	}
}

// covers hides what has been drawn inside them.
func (w *writer) covers(paths []paint.Path) {
	if len(paths) == 0 {
		return
	}
	w.lit("q 1 g\n")
	for _, p := range paths {
		w.path(p)
		w.lit("f*\n")
	}
	w.lit("Q\n")
	w.flush()
}

func (w *writer) layer(r drawing.Role, width float64, l *paint.Layer) {
	red, green, blue := r.RGB()
	coloured := red|green|blue != 0
	if coloured {
		w.colour(red, green, blue)
	}
	w.num(width * pointsPerMM)
	w.lit(" w\n")
	for i := range l.Strokes {
		w.stroke(&l.Strokes[i])
	}
	for _, p := range l.Fills {
		w.path(p)
		w.lit("f*\n")
	}
	for i := range l.Texts {
		w.text(&l.Texts[i])
	}
	if coloured {
		w.colour(0, 0, 0)
	}
	w.flush()
}

// colour sets the colour of lines, areas and text.
func (w *writer) colour(red, green, blue uint8) {
	for _, operator := range [2]string{"RG\n", "rg\n"} {
		for _, c := range [3]uint8{red, green, blue} {
			w.num(float64(c) / 255)
			w.lit(" ")
		}
		w.lit(operator)
	}
}

func (w *writer) stroke(s *paint.Stroke) {
	if s.Dashes == nil {
		w.path(s.Path)
		w.lit("S\n")
		return
	}
	w.lit("q 0 J [")
	for i, d := range s.Dashes {
		if i > 0 {
			w.lit(" ")
		}
		w.num(d * pointsPerMM)
	}
	w.lit("] 0 d\n")
	w.path(s.Path)
	w.lit("S Q\n")
}

// path appends the operators that make a path.
func (w *writer) path(p paint.Path) {
	for i := range p {
		s := &p[i]
		switch s.Op {
		case paint.MoveTo:
			w.points(s.P[:1], "m\n")
		case paint.LineTo:
			w.points(s.P[:1], "l\n")
		case paint.CurveTo:
			w.points(s.P[:], "c\n")
		case paint.Close:
			w.lit("h\n")
		}
	}
}

func (w *writer) points(ps []drawing.Point, operator string) {
	for _, p := range ps {
		w.num((w.origin.X + p.X) * pointsPerMM)
		w.lit(" ")
		w.num((w.origin.Y + p.Y) * pointsPerMM)
		w.lit(" ")
	}
	w.lit(operator)
}

func (w *writer) text(t *paint.Text) {
	if size := t.Size * pointsPerMM; size != w.size {
		w.flush()
		w.file.SetFont(w.font.family, "", size)
		w.size = size
	}
	// The library writes at the origin; the matrix takes it to its place.
	w.lit("q ")
	u, up := t.Axes()
	for _, v := range [...]float64{u.X, u.Y, up.X, up.Y} {
		w.buf = paint.AppendNumber(w.buf, v, 8)
		w.lit(" ")
	}
	w.points([]drawing.Point{t.At}, "cm\n")
	w.flush()
	w.file.Text(0, w.height, w.font.encode(t.Value))
	w.lit("Q\n")
}
