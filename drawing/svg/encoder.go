package svg

import (
	"io"

	"boltplate/drawing"
	"boltplate/drawing/internal/paint"
)

// maxSide is the largest side of a page, mm: as far as a drawing may reach.
const maxSide = 2e6 + 2*paint.Margin

// An Encoder writes drawings as SVG files. The zero value is ready to use, and
// one Encoder may be used by many goroutines at once.
type Encoder struct {
	// Width and Height are the size of the page, mm. 0 is what the drawing
	// needs, with 10 mm on either side.
	Width, Height float64
	// Origin is where on a page of given size the origin of the drawing lies,
	// mm from the lower left corner. In a direction in which the page fits the
	// drawing it has no meaning.
	Origin drawing.Point
	// Title is what the picture shows, in words: a browser speaks it or shows
	// it under the pointer. "" is none.
	Title string
	// Transparent leaves out the white paper behind the drawing.
	Transparent bool
	// Boxes draws the font's sign for what it lacks, a box as a rule, in place
	// of each character that it cannot letter. Without it such a drawing is
	// refused.
	Boxes bool
}

// Encode writes d to w with the zero Encoder.
func Encode(w io.Writer, d *drawing.Drawing) error { return Encoder{}.Encode(w, d) }

// Encode writes d to w as a complete SVG file, in one piece. It returns the
// error of w, or a *drawing.ValueError if d holds something that cannot be
// drawn; then nothing is written. d is not changed and may be encoded by
// several goroutines at once.
func (e Encoder) Encode(w io.Writer, d *drawing.Drawing) error {
	b, err := e.Append(nil, d)
	if err != nil {
		return err
	}
	n, err := w.Write(b)
	if err == nil && n < len(b) {
		err = io.ErrShortWrite
	}
	return err
}

// Append appends d to dst as a complete SVG file and returns the extended
// slice. If d holds something that cannot be drawn, Append returns dst
// unchanged and a *drawing.ValueError.
func (e Encoder) Append(dst []byte, d *drawing.Drawing) ([]byte, error) {
	picture, err := paint.Paint(d, e.Boxes)
	if err != nil {
		return dst, err
	}
	page, err := picture.Place(paint.Sheet{Width: e.Width, Height: e.Height, Origin: e.Origin}, maxSide)
	if err != nil {
		return dst, err
	}
	w := writer{buf: dst, page: page, font: picture.Font}
	w.file(e, picture)
	return w.buf, nil
}
