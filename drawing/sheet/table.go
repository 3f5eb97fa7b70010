package sheet

import (
	"math"
	"slices"

	"boltplate/drawing"
)

// A Table is rows of text under headings: a figure, or the parts list. Cells
// that are too long for their column are broken into lines.
type Table struct {
	Headings []string
	Rows     [][]string
	// Widths are those of the columns, mm on paper. 0 is as wide as its longest
	// cell, but not more than MaxColumn.
	Widths []float64
	Right  []bool // the column stands at the right of its cells, as numbers do
	Upward bool   // read from below, the headings at the bottom (ISO 7573, above a title block)
}

// MaxColumn is the greatest width of a column whose width is not given, in
// heights of text.
const MaxColumn = 22.0

// cellPad is the room at either side of a cell's text, and above it, in heights
// of text.
const cellPad = 0.45

func (t *Table) columns() int {
	n := len(t.Headings)
	for _, r := range t.Rows {
		n = max(n, len(r))
	}
	return n
}

func at[T any](list []T, i int) (v T) {
	if i < len(list) {
		v = list[i]
	}
	return v
}

// widths returns the widths of the columns at a height of text.
func (t *Table) widths(h float64) []float64 {
	ws := t.natural(h)
	for i := range ws {
		if at(t.Widths, i) == 0 {
			ws[i] = min(ws[i], MaxColumn*h+2*cellPad*h)
		}
	}
	return ws
}

// natural returns the widths of the columns that are given, and of the others
// those of their longest cells.
func (t *Table) natural(h float64) []float64 {
	ws := make([]float64, t.columns())
	for i := range ws {
		if ws[i] = at(t.Widths, i); ws[i] > 0 {
			continue
		}
		ws[i] = drawing.TextWidth(at(t.Headings, i), h)
		for _, r := range t.Rows {
			ws[i] = max(ws[i], drawing.TextWidth(at(r, i), h))
		}
		ws[i] += 2 * cellPad * h
	}
	return ws
}

// A tableRow is a row broken into lines.
type tableRow struct {
	cells  [][]string
	height float64
}

func (t *Table) lay(h float64) (ws []float64, rows []tableRow, width, height float64) {
	ws = t.widths(h)
	for _, w := range ws {
		width += w
	}
	all := t.Rows
	if len(t.Headings) > 0 {
		all = append([][]string{t.Headings}, all...)
	}
	for _, r := range all {
		row := tableRow{cells: make([][]string, len(ws))}
		lines := 1
		for i := range ws {
			row.cells[i] = wrap(at(r, i), h, ws[i]-2*cellPad*h)
			lines = max(lines, len(row.cells[i]))
		}
		row.height = block(lines, h) + 2*cellPad*h
		height += row.height
		rows = append(rows, row)
	}
	return ws, rows, width, height
}

// draw draws the table with its lower left corner at x, y and returns its
// extent. Outer lines and the one at the headings are wide.
func (t *Table) draw(c *canvas, x, y, h float64) drawing.Rect {
	ws, rows, width, height := t.lay(h)
	box := drawing.Rect{Min: drawing.Pt(x, y), Max: drawing.Pt(x+width, y+height)}
	if len(rows) == 0 {
		return box
	}
	c.rect(drawing.RoleFrame, box)
	top := box.Max.Y
	for i := range rows {
		r := &rows[i]
		if t.Upward {
			r = &rows[len(rows)-1-i]
		}
		left := x
		for j, lines := range r.cells {
			for n, line := range lines {
				base := top - cellPad*h - h*(1+lineSpacing*float64(n))
				switch {
				case at(t.Right, j):
					c.text(left+ws[j]-cellPad*h, base, h, drawing.AlignRight, line)
				default:
					c.text(left+cellPad*h, base, h, drawing.AlignLeft, line)
				}
			}
			left += ws[j]
		}
		top -= r.height
		if i+1 < len(rows) {
			role := drawing.RoleText
			if len(t.Headings) > 0 && (!t.Upward && i == 0 || t.Upward && i+2 == len(rows)) {
				role = drawing.RoleFrame
			}
			c.line(role, x, top, x+width, top)
		}
	}
	left := x
	for _, w := range ws[:len(ws)-1] {
		left += w
		c.line(drawing.RoleText, left, y, left, y+height)
	}
	return box
}

// Draw returns the table as a figure: it has the same size on paper at every
// scale. It is a Source.
func (t Table) Draw(st drawing.Style) (*drawing.Drawing, error) {
	c := canvas{st: st}
	_, _, _, high := t.lay(st.Height())
	t.draw(&c, 0, -high/2, st.Height())
	return c.onPaper(st), nil
}

// Split breaks a long table into several, each with the headings, that fit on a
// page of the format by themselves with a caption of one line. Columns whose
// width is not given are as wide as the page allows.
func (t Table) Split(f Format) []Table {
	st := f.Style()
	h := st.Height()
	s := f.Space()
	t.Widths = t.fitted(h, s.Dx()-2*gap) // those of the whole, so that the parts are alike
	most := s.Dy() - 2*gap - captionGap*h - block(1, h)
	_, rows, width, _ := t.lay(h)
	if width+2*gap > s.Dx()-TitleWidth { // no room beside the title block
		most -= titleHeight
	}
	head := 0.0
	if len(t.Headings) > 0 {
		head, rows = rows[0].height, rows[1:]
	}
	var parts []Table
	all := t.Rows
	t.Rows = nil
	used := head
	for i := range rows {
		if used+rows[i].height > most && len(t.Rows) > 0 {
			parts = append(parts, t)
			t.Rows, used = nil, head
		}
		t.Rows = append(t.Rows, all[i])
		used += rows[i].height
	}
	return append(parts, t)
}

// fitted returns widths of the columns that together are at most width: those
// of the longest cells, of which the widest give way.
func (t *Table) fitted(h, width float64) []float64 {
	ws := t.natural(h)
	order := slices.Clone(ws)
	slices.Sort(order)
	left, limit := width, math.Inf(1)
	for i, w := range order {
		if n := float64(len(order) - i); w*n > left {
			limit = left / n
			break
		}
		left -= w
	}
	for i := range ws {
		ws[i] = min(ws[i], limit)
	}
	return ws
}

// onPaper returns what is drawn in millimetres of paper as a drawing of a part
// that will be shown at the scale of st.
func (c *canvas) onPaper(st drawing.Style) *drawing.Drawing {
	v := drawing.View{Items: c.items}
	return &drawing.Drawing{Style: st, Views: []drawing.Placed{{View: v, Scale: st.Part(1)}}}
}

// A Paragraph is text as a figure, broken into lines of Width mm on paper; 0
// means 30 heights of text. Each of Lines starts a new line.
type Paragraph struct {
	Lines []string
	Width float64
}

// Draw returns the text as a figure: it has the same size on paper at every
// scale. It is a Source.
func (p Paragraph) Draw(st drawing.Style) (*drawing.Drawing, error) {
	c := canvas{st: st}
	h := st.Height()
	width := p.Width
	if width == 0 {
		width = 30 * h
	}
	var lines []string
	for _, s := range p.Lines {
		lines = append(lines, wrap(s, h, width)...)
	}
	y := block(len(lines), h)/2 - h
	for _, line := range lines {
		c.text(0, y, h, drawing.AlignLeft, line)
		y -= lineSpacing * h
	}
	return c.onPaper(st), nil
}
