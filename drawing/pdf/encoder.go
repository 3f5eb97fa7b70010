package pdf

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"time"
	"unicode"

	"codeberg.org/go-pdf/fpdf"

	"boltplate/drawing"
	"boltplate/drawing/internal/paint"
)

// maxSide is the largest side of a page, mm: readers take up to 14400 points.
const maxSide = 14400 / pointsPerMM

const pointsPerMM = 72 / 25.4

// An Encoder writes drawings as PDF files. The zero value is ready to use, and
// one Encoder may be used by many goroutines at once.
type Encoder struct {
	// Width and Height are the size of every page, mm. 0 is what the drawing
	// on it needs, with 10 mm on either side.
	Width, Height float64
	// Origin is where on a page of given size the origin of the drawing lies,
	// mm from the lower left corner. In a direction in which the page fits the
	// drawing it has no meaning.
	Origin drawing.Point
	// Title is what the file shows, in words, for its properties and the title
	// of a window. "" is none.
	Title string
	// Boxes draws the font's sign for what it lacks, a box as a rule, in place
	// of each character that it cannot letter. Without it such a drawing is
	// refused.
	Boxes bool
}

// Encode writes d to w with the zero Encoder.
func Encode(w io.Writer, d *drawing.Drawing) error { return Encoder{}.Encode(w, d) }

// EncodePages writes the drawings to w with the zero Encoder.
func EncodePages(w io.Writer, ds ...*drawing.Drawing) error { return Encoder{}.EncodePages(w, ds...) }

// Encode writes d to w as a PDF file of one page. It is EncodePages for one
// drawing.
func (e Encoder) Encode(w io.Writer, d *drawing.Drawing) error { return e.EncodePages(w, d) }

// EncodePages writes the drawings to w as a PDF file with a page each, in
// their order, in one piece. It returns the error of w, or a
// *drawing.ValueError if a drawing holds something that cannot be drawn, where
// there is more than one under its number; then nothing is written. The
// drawings are not changed and may be encoded by several goroutines at once.
func (e Encoder) EncodePages(w io.Writer, ds ...*drawing.Drawing) error {
	b, err := e.AppendPages(nil, ds...)
	if err != nil {
		return err
	}
	n, err := w.Write(b)
	if err == nil && n < len(b) {
		err = io.ErrShortWrite
	}
	return err
}

// Append appends d to dst as a PDF file of one page and returns the extended
// slice. It is AppendPages for one drawing.
func (e Encoder) Append(dst []byte, d *drawing.Drawing) ([]byte, error) {
	return e.AppendPages(dst, d)
}

// AppendPages appends the drawings to dst as a PDF file with a page each and
// returns the extended slice. If there is no drawing, or one holds something
// that cannot be drawn, AppendPages returns dst unchanged and an error, which
// wraps a *drawing.ValueError.
func (e Encoder) AppendPages(dst []byte, ds ...*drawing.Drawing) ([]byte, error) {
	if len(ds) == 0 {
		return dst, fmt.Errorf("pdf: no drawings; a file needs one page at least")
	}
	pictures := make([]*paint.Picture, len(ds))
	pages := make([]paint.Page, len(ds))
	for i, d := range ds {
		var err error
		if pictures[i], pages[i], err = e.paint(d); err != nil {
			if len(ds) > 1 {
				err = fmt.Errorf("drawing %d: %w", i+1, err)
			}
			return dst, err
		}
	}
	w := newWriter(e, pictures)
	for i, picture := range pictures {
		w.page(picture, pages[i])
	}
	out := bytes.NewBuffer(dst)
	if err := w.file.Output(out); err != nil {
		return dst, fmt.Errorf("pdf: %w", err)
	}
	return out.Bytes(), nil
}

// date stands where the format asks for one. A true date would make other
// bytes of the same drawing.
func date() time.Time { return time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC) }

// paint returns the picture of a drawing and its page.
func (e Encoder) paint(d *drawing.Drawing) (*paint.Picture, paint.Page, error) {
	picture, err := paint.Paint(d, e.Boxes)
	if err != nil {
		return nil, paint.Page{}, err
	}
	if !picture.Font.Embeds() {
		return nil, paint.Page{}, &drawing.ValueError{Index: -1, Item: -1, Object: "Style", Field: "Font", Value: picture.Font.Name(),
			Reason: "may not travel in a PDF file, says its maker; write SVG, which holds outlines, or give another font"}
	}
	page, err := picture.Place(paint.Sheet{Width: e.Width, Height: e.Height, Origin: e.Origin}, maxSide)
	return picture, page, err
}

// newWriter starts a file that will hold the pictures.
func newWriter(e Encoder, pictures []*paint.Picture) *writer {
	w := &writer{file: fpdf.NewCustom(&fpdf.InitType{UnitStr: "pt"})}
	f := w.file
	f.SetCreationDate(date())
	f.SetModificationDate(date())
	f.SetCatalogSort(true)
	f.SetCompression(true)
	f.SetProducer("boltplate", false)
	if e.Title != "" {
		f.SetTitle(plane0(e.Title), true)
	}
	f.SetAutoPageBreak(false, 0)
	f.SetMargins(0, 0, 0)
	f.SetLineCapStyle("round")
	f.SetLineJoinStyle("round")
	w.fonts = fonts(pictures)
	for i := range w.fonts {
		f.AddUTF8FontFromBytes(w.fonts[i].family, "", w.fonts[i].data)
	}
	return w
}

// plane0 returns s without what the library cannot write: bytes that are no
// text, and characters beyond U+FFFF.
func plane0(s string) string {
	return strings.Map(func(r rune) rune {
		if r > 0xffff {
			return unicode.ReplacementChar
		}
		return r
	}, s)
}
