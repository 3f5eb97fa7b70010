package sheet

import (
	"fmt"
	"strconv"
	"strings"

	"boltplate/drawing"
)

// A Title is what a title block says: the fields of ISO 7200. Fields that are
// empty are left for the pen. No date is put in that is not given.
type Title struct {
	Owner      string // legal owner
	Number     string // identification number
	Revision   string // revision index
	Date       string // of issue
	Language   string // code of the language, such as "en"
	Title      string
	Supplement string // supplementary title
	Department string // responsible department
	Reference  string // technical reference: whom to ask
	Approved   string // approval person
	Creator    string
	Type       string // of the document, such as "Practice plate"
	Status     string // of the document
}

// A TitleError says that a field of a title block does not fit in its place.
type TitleError struct {
	Field  string // the name of the field of Title
	Value  string
	Reason string // what is wrong, and what would be right
}

// Error returns the field, its value and what would be right.
func (e *TitleError) Error() string {
	return fmt.Sprintf("title.%s: %q: %s", e.Field, e.Value, e.Reason)
}

// TitleWidth is the width of the title block on all sheets (ISO 7200), mm. Its
// height and the order of its fields are our own choice.
const (
	TitleWidth  = 180.0
	titleHeight = 55.0
)

// studentHeight is the height of the fields for the student above the title
// block.
const studentHeight = 11.0

// Heights of text in the title block, mm (ISO 3098). They are the same on all
// sheets, as is its width: names of fields, values and the title. A value that
// is too long takes the height of the names.
const (
	nameHeight  = 2.5
	valueHeight = 3.5
	bigHeight   = 5.0
)

// A cell is a field of the title block: its place from the lower left corner,
// its name, what it says, and the name of the field of Title.
type cell struct {
	x, y, w, h  float64
	name, value string
	height      float64
	lines       int
	field       string
}

func (p *Plate) cells(page, pages int, scale string) []cell {
	t := &p.Title
	number := strconv.Itoa(page+1) + " / " + strconv.Itoa(pages)
	if pages >= 100 { // which has no room for blanks
		number = strings.ReplaceAll(number, " ", "")
	}
	return []cell{
		{0, 44, 45, 11, "Responsible department", t.Department, valueHeight, 1, "Department"},
		{45, 44, 60, 11, "Technical reference", t.Reference, valueHeight, 1, "Reference"},
		{105, 44, 75, 11, "Document type", t.Type, valueHeight, 1, "Type"},
		{0, 33, 45, 11, "Creator", t.Creator, valueHeight, 1, "Creator"},
		{45, 33, 60, 11, "Approved by", t.Approved, valueHeight, 1, "Approved"},
		{105, 33, 35, 11, "Date of issue", t.Date, valueHeight, 1, "Date"},
		{140, 33, 40, 11, "Document status", p.status(), valueHeight, 1, "Status"},
		{0, 14, 62, 19, "Legal owner", t.Owner, valueHeight, 2, "Owner"},
		{62, 14, 118, 19, "Title", t.Title, bigHeight, 1, "Title"},
		{0, 0, 17, 14, "Scale", scale, valueHeight, 1, ""},
		{17, 0, 22, 14, "", "", 0, 1, ""}, // the symbol of the projection method
		{39, 0, 11, 14, "Unit", "mm", valueHeight, 1, ""},
		{50, 0, 12, 14, "Size", p.Format.Size.String(), valueHeight, 1, ""},
		{62, 0, 19, 14, "Language", t.Language, valueHeight, 1, "Language"},
		{81, 0, 17, 14, "Revision", t.Revision, valueHeight, 1, "Revision"},
		{98, 0, 22, 14, "Sheet", number, valueHeight, 1, ""},
		{120, 0, 60, 14, "Identification number", t.Number, bigHeight, 1, "Number"},
	}
}

// status returns the document status: what is given, or what an exercise is.
func (p *Plate) status() string {
	switch {
	case p.Title.Status != "":
		return p.Title.Status
	case p.Exercise == Question:
		return "Question"
	case p.Exercise == Answer:
		return "Model answer"
	}
	return ""
}

// titleBlock draws the title block with its lower left corner at x, y.
func (c *canvas) titleBlock(p *Plate, x, y float64, page, pages int, scale string) error {
	c.rect(drawing.RoleFrame, drawing.Rect{Min: drawing.Pt(x, y), Max: drawing.Pt(x+TitleWidth, y+titleHeight)})
	if p.Student {
		c.studentFields(x, y+titleHeight)
	}
	rows := [...]float64{14, 33, 44}
	for _, r := range rows {
		c.line(drawing.RoleText, x, y+r, x+TitleWidth, y+r)
	}
	for _, b := range p.cells(page, pages, scale) {
		if b.x > 0 {
			c.line(drawing.RoleText, x+b.x, y+b.y, x+b.x, y+b.y+b.h)
		}
		if err := c.titleCell(b, x, y); err != nil {
			return err
		}
	}
	// The supplementary title stands under the title.
	if err := c.titleCell(cell{62, 14, 118, 10.5, "", p.Title.Supplement, valueHeight, 1, "Supplement"}, x, y); err != nil {
		return err
	}
	c.items = append(c.items, drawing.ProjectionSymbol(drawing.Pt(x+28, y+7), valueHeight, p.ThirdAngle)...)
	return nil
}

// studentFields draws the empty fields for the student's name, class, date and
// marks.
func (c *canvas) studentFields(x, y float64) {
	c.rect(drawing.RoleFrame, drawing.Rect{Min: drawing.Pt(x, y), Max: drawing.Pt(x+TitleWidth, y+studentHeight)})
	left := 0.0
	for _, f := range [...]struct {
		name  string
		width float64
	}{{"Name", 75}, {"Class", 35}, {"Date", 35}, {"Marks", 35}} {
		if left > 0 {
			c.line(drawing.RoleText, x+left, y, x+left, y+studentHeight)
		}
		_ = c.titleCell(cell{x: left, w: f.width, h: studentHeight, name: f.name, lines: 1}, x, y) // it has no value
		left += f.width
	}
}

func (c *canvas) titleCell(b cell, x, y float64) error {
	const pad = 1.0
	room := b.w - 2*pad
	c.text(x+b.x+pad, y+b.y+b.h-pad-nameHeight, nameHeight, drawing.AlignLeft, b.name)
	if b.value == "" {
		return nil
	}
	for _, h := range [...]float64{b.height, valueHeight, nameHeight} {
		lines := Wrap(b.value, h, room)
		if h > b.height || len(lines) > b.lines {
			continue
		}
		base := y + b.y + b.h - pad - nameHeight - 1.4 - h
		if b.name == "" {
			base = y + b.y + b.h - pad - nameHeight - 1.8 - h
		}
		if b.height == bigHeight && b.lines == 1 && b.h < 16 {
			base -= 0.6
		}
		for i, line := range lines {
			c.text(x+b.x+pad, base-1.5*h*float64(i), h, drawing.AlignLeft, line)
		}
		return nil
	}
	return &TitleError{b.field, b.value, fmt.Sprintf("too long for its place of %s mm; at %s mm high it is %s mm long; shorten it",
		drawing.FormatValue(room*float64(b.lines), false), drawing.FormatValue(nameHeight, false),
		drawing.FormatValue(drawing.TextWidth(b.value, nameHeight), false))}
}
