package dxfout

import (
	"io"

	"boltplate/drawing"
)

// DefaultFont is the font file where neither an Encoder nor the style of a
// drawing names one. The widths that views are arranged with are those of its
// family, it is on most machines, and the others have a font of the same widths
// to put in its place.
const DefaultFont = "arial.ttf"

// An Encoder writes drawings as DXF files. The zero value is ready to use, and
// one Encoder may be used by many goroutines at once.
type Encoder struct {
	// Font is the file name of the font of all text: a TrueType file such as
	// "arial.ttf" or a stroke font such as "txt". "" means the file of the font
	// in the drawing's style, or DefaultFont, in plain files too, although
	// programs of that age have stroke fonts only: others space the text as it
	// was arranged.
	Font string
	// Version is the form of the file. The zero value is R2000.
	Version Version
	// Layers gives roles the layers of an office in place of ours. The zero
	// value keeps ours.
	Layers LayerMap
	// Layout puts the drawing on a sheet in paper space too. nil leaves paper
	// space empty.
	Layout *Layout
}

// A Version is a form of the file.
type Version uint8

// The versions.
const (
	R2000 Version = iota // AC1015, with all that the package comment tells of
	R12                  // AC1009, the plain form for weak readers
	versionCount
)

// String returns the name that the header of the file has: AC1015 or AC1009.
func (v Version) String() string {
	switch v {
	case R2000:
		return "AC1015"
	case R12:
		return "AC1009"
	}
	return "unknown version"
}

// Encode writes d to w with the zero Encoder.
func Encode(w io.Writer, d *drawing.Drawing) error { return Encoder{}.Encode(w, d) }

// Encode writes d to w as a complete DXF file, through a buffer whose size does
// not depend on the drawing. It returns the first error of w, or a *ValueError
// if d holds something that a DXF file cannot hold; then nothing is written.
//
// Lengths are written in drawing units, which are millimetres. d is not
// changed and may be encoded by several goroutines at once.
func (e Encoder) Encode(w io.Writer, d *drawing.Drawing) error {
	x := writer{out: w}
	if err := x.prepare(e, d); err != nil {
		return err
	}
	x.buf = make([]byte, 0, bufferSize)
	x.file()
	x.drain()
	return x.err
}

// Append appends d to dst as a complete DXF file and returns the extended
// slice. It is for callers that keep a buffer from one drawing to the next. If
// d holds something that a DXF file cannot hold, Append returns dst unchanged
// and a *ValueError.
func (e Encoder) Append(dst []byte, d *drawing.Drawing) ([]byte, error) {
	x := writer{buf: dst}
	if err := x.prepare(e, d); err != nil {
		return dst, err
	}
	x.file()
	return x.buf, nil
}

// Check returns the error that encoding d would return, nil if d can be
// written.
func (e Encoder) Check(d *drawing.Drawing) error {
	var x writer
	return x.prepare(e, d)
}

// font returns the font file for drawings of a style.
func (e Encoder) font(st drawing.Style) string {
	if e.Font != "" {
		return e.Font
	}
	if f, ok := st.Font.(interface{ File() string }); ok && f.File() != "" {
		return f.File()
	}
	return DefaultFont
}

// file writes all sections.
func (w *writer) file() {
	if w.plain {
		w.plainFile()
		return
	}
	w.header()
	w.lit(classes)
	if w.covers {
		w.lit(wipeoutClasses)
	}
	w.lit(endSection)
	w.tables()
	w.blocks()
	w.entities()
	w.objects()
	w.lit("  0\r\nEOF\r\n")
}
