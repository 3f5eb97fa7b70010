package schedule

import (
	"errors"
	"strconv"
	"strings"
	"unicode/utf8"

	"boltplate/drawing"
	"boltplate/fastener"
)

// A Row is one row of a schedule.
type Row struct {
	Line     int    // where it starts in its file, from 1
	Mark     string // as it is written
	File     string // the mark as a file name without an ending, see [FileName]
	Quantity int
	Size     string // as it is written
	Note     string // on one line

	Spec     fastener.Spec
	Fastener fastener.Fastener // nil in a row with errors
	// Options has a caption: the mark, the designation, the quantity and the
	// note, which is broken into lines NOTE, NOTE2 and so on. The properties of
	// the part have them whole.
	Options fastener.DrawOptions

	file string
	at   position
	in   [columnCount]position
}

// A position is a line and a column of a file; the zero position is unknown.
type position struct{ line, column int }

// Draw draws the fastener of the row with its caption. The error is an *Error
// with the place in the file.
func (r Row) Draw() (*drawing.Drawing, error) { return r.DrawWith(nil) }

// DrawWith is Draw by a Drawer, which is worth it for many rows; nil is none.
func (r Row) DrawWith(w *fastener.Drawer) (*drawing.Drawing, error) {
	d, err := w.Draw(r.Fastener, r.Options)
	if err != nil {
		return nil, r.Locate(err)
	}
	return d, nil
}

// Locate returns err with the place in the file of the cell that it blames, or
// of the start of the row where that is not known. An *Error has its place.
func (r Row) Locate(err error) *Error {
	if e, ok := err.(*Error); ok {
		return e
	}
	col := noColumn
	var fe *fastener.FieldError
	var ke *fastener.KindError
	switch {
	case errors.As(err, &fe):
		col = columnNamed(fe.Field)
	case errors.As(err, &ke):
		col = colKind
	}
	return r.locate(col, err)
}

func (r Row) locate(col column, err error) *Error {
	e := &Error{File: r.file, Line: r.at.line, Column: r.at.column, Field: col.String(), Err: err}
	if col >= 0 && r.in[col] != (position{}) {
		e.Line, e.Column = r.in[col].line, r.in[col].column
	}
	return e
}

// describe fills in what travels with the drawing: each line of the caption is
// also an attribute, so that none holds more than its value.
func (r *Row) describe() {
	quantity := strconv.Itoa(r.Quantity)
	designation := r.Fastener.Designation()
	o := &r.Options
	if r.Mark == "" {
		return
	}
	o.Caption = append(o.Caption,
		fastener.CaptionLine{Tag: "MARK", Prompt: "Mark", Text: r.Mark},
		fastener.CaptionLine{Tag: "DESIGNATION", Prompt: "Designation", Text: designation},
		fastener.CaptionLine{Tag: "QUANTITY", Prompt: "Quantity", Text: quantity + " off"})
	o.Properties = append(o.Properties,
		drawing.Property{Key: "mark", Value: r.Mark},
		drawing.Property{Key: "quantity", Value: quantity})
	if r.Note != "" {
		for i, line := range wrap(r.Note, captionWidth) {
			tag := "NOTE"
			if i > 0 {
				tag += strconv.Itoa(i + 1)
			}
			o.Caption = append(o.Caption, fastener.CaptionLine{Tag: tag, Prompt: "Note", Text: line})
		}
		o.Properties = append(o.Properties, drawing.Property{Key: "note", Value: r.Note})
	}
}

// captionWidth is the length of a line of a note under a drawing, characters.
const captionWidth = 60

// wrap breaks text at blanks into lines of at most width characters; a word
// that is longer has a line to itself.
func wrap(text string, width int) []string {
	var lines []string
	line, n := "", 0
	for word := range strings.FieldsSeq(text) {
		w := utf8.RuneCountInString(word)
		if n > 0 && n+1+w > width {
			lines = append(lines, line)
			line, n = "", 0
		}
		if n > 0 {
			line += " "
			n++
		}
		line += word
		n += w
	}
	if n > 0 {
		lines = append(lines, line)
	}
	return lines
}
