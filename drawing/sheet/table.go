package sheet

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"boltplate/drawing"
)

// A Table is rows of text under headings. Cells that are too long for their
// column are broken into lines, a line break in a cell begins a new line. On a
// sheet a table that is too wide gets narrower columns, a long one goes on beside
// itself or on the next page. It is a Source and a Block.
type Table struct {
	Headings []string
	Rows     [][]string
	// Widths are those of the columns, mm on paper. 0 is as wide as its longest
	// cell, but not more than MaxColumn.
	Widths []float64
	Right  []bool // the column stands at the right of its cells, as numbers do
	Upward bool   // read from below, the headings at the bottom (ISO 7573, above a title block)
	// Answer marks the columns that the table leaves empty in a question.
	Answer []bool
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

// checkWidth reports a width that no sheet can have.
func checkWidth(name string, w float64) error {
	if math.IsNaN(w) || w < 0 || w > 5000 {
		return fmt.Errorf("%s: %g is no width; give millimetres up to 5000, or 0 to have it chosen", name, w)
	}
	return nil
}

func (t Table) check() error {
	if t.columns() == 0 {
		return errors.New("the table has neither headings nor cells; give it rows")
	}
	for i, w := range t.Widths {
		if err := checkWidth(fmt.Sprintf("Widths[%d]", i), w); err != nil {
			return err
		}
	}
	return nil
}

// natural returns the widths of the columns that are given, and of the others
// those of their longest lines.
func (t *Table) natural(h float64) []float64 {
	ws := make([]float64, t.columns())
	for i := range ws {
		if ws[i] = at(t.Widths, i); ws[i] > 0 {
			continue
		}
		ws[i] = widest(Wrap(at(t.Headings, i), h, math.Inf(1)), h)
		for _, r := range t.Rows {
			ws[i] = max(ws[i], widest(Wrap(at(r, i), h, math.Inf(1)), h))
		}
		ws[i] += 2 * cellPad * h
	}
	return ws
}

// words returns the widths that the columns need for their longest words.
func (t *Table) words(h float64) []float64 {
	ws := make([]float64, t.columns())
	for i := range ws {
		if ws[i] = at(t.Widths, i); ws[i] > 0 {
			continue
		}
		for _, r := range slices.Concat(t.Rows, [][]string{t.Headings}) {
			for _, word := range wordsOf(at(r, i)) {
				ws[i] = max(ws[i], drawing.TextWidth(word, h))
			}
		}
		ws[i] += 2 * cellPad * h
	}
	return ws
}

// fitted returns widths of the columns that together are at most width: those
// of the longest cells, of which the widest give way, as far as their longest
// words let them, and further only where there is no other way.
func (t *Table) fitted(h, width float64) []float64 {
	natural, words := t.natural(h), t.words(h)
	limited := func(limit float64, words []float64) (ws []float64, sum float64) {
		for i, w := range natural {
			w = max(min(w, limit), words[i])
			ws, sum = append(ws, w), sum+w
		}
		return ws, sum
	}
	if _, least := limited(0, words); least > width {
		words = make([]float64, len(natural))
		for i := range words {
			words[i] = at(t.Widths, i)
		}
	}
	lo, hi := 0.0, slices.Max(append(slices.Clone(natural), 0))
	if ws, sum := limited(hi, words); sum <= width {
		return ws
	}
	for range 40 {
		mid := (lo + hi) / 2
		if _, sum := limited(mid, words); sum <= width {
			lo = mid
		} else {
			hi = mid
		}
	}
	ws, _ := limited(lo, words)
	return ws
}

// A tableRow is a row broken into lines.
type tableRow struct {
	cells  [][]string
	height float64
}

// A laidTable is a table whose columns have their widths and whose rows have
// their lines.
type laidTable struct {
	*Table
	h             float64
	widths        []float64
	head          []tableRow // one, or none
	rows          []tableRow
	width, height float64
}

func (t *Table) lay(h float64, widths []float64) laidTable {
	l := laidTable{Table: t, h: h, widths: widths}
	for _, w := range widths {
		l.width += w
	}
	if len(t.Headings) > 0 {
		l.head = []tableRow{t.row(h, widths, t.Headings)}
	}
	for _, r := range t.Rows {
		l.rows = append(l.rows, t.row(h, widths, r))
	}
	l.height = l.high(l.rows)
	return l
}

func (t *Table) row(h float64, widths []float64, cells []string) tableRow {
	r := tableRow{cells: make([][]string, len(widths))}
	lines := 1
	for i, w := range widths {
		r.cells[i] = Wrap(at(cells, i), h, w-2*cellPad*h)
		lines = max(lines, len(r.cells[i]))
	}
	r.height = block(lines, h) + 2*cellPad*h
	return r
}

// high returns the height of some rows with their head.
func (l *laidTable) high(rows []tableRow) float64 {
	sum := 0.0
	for _, r := range l.head {
		sum += r.height
	}
	for _, r := range rows {
		sum += r.height
	}
	return sum
}

// draw draws some of the rows with their head, the upper left corner at x, y.
// Outer lines and the one at the head are wide.
func (l *laidTable) draw(c *canvas, x, y float64, rows []tableRow) {
	if len(l.widths) == 0 {
		return
	}
	bottom := y - l.high(rows)
	c.rect(drawing.RoleFrame, drawing.Rect{Min: drawing.Pt(x, bottom), Max: drawing.Pt(x+l.width, y)})
	all := append(slices.Clone(l.head), rows...)
	if l.Upward {
		slices.Reverse(all)
	}
	top := y
	for i, r := range all {
		left := x
		for j, lines := range r.cells {
			for n, line := range lines {
				base := top - cellPad*l.h - l.h*(1+lineSpacing*float64(n))
				if at(l.Right, j) {
					c.text(left+l.widths[j]-cellPad*l.h, base, l.h, drawing.AlignRight, line)
				} else {
					c.text(left+cellPad*l.h, base, l.h, drawing.AlignLeft, line)
				}
			}
			left += l.widths[j]
		}
		if top -= r.height; i+1 < len(all) {
			role := drawing.RoleText
			if len(l.head) > 0 && (!l.Upward && i == 0 || l.Upward && i+2 == len(all)) {
				role = drawing.RoleFrame
			}
			c.line(role, x, top, x+l.width, top)
		}
	}
	left := x
	for _, w := range l.widths[:len(l.widths)-1] {
		left += w
		c.line(drawing.RoleText, left, bottom, left, y)
	}
}

// Draw returns the table as a figure: it has the same size on paper at every
// scale.
func (t Table) Draw(st drawing.Style) (*drawing.Drawing, error) { return drawBlock(t, st) }

// The ways a table stands: as wide as it likes, narrower down to its longest
// words, and beside itself in up to four.
const (
	narrowing  = 0.8
	mostFolds  = 4
	foldedRows = 4     // there are at least in each
	foldGap    = 1.5   // between them, in heights of text
	unusual    = 0.015 // penalty for every step away from the usual form
	longTable  = 500   // rows from which on it will have to go on anyway
)

func (t Table) forms(st drawing.Style, most float64) []blockForm {
	h := st.Height()
	wide := 0.0
	for i, w := range t.natural(h) {
		if at(t.Widths, i) == 0 {
			w = min(w, MaxColumn*h+2*cellPad*h)
		}
		wide += w
	}
	least := 0.0
	for _, w := range t.words(h) {
		least += w
	}
	if least > most && len(t.Rows) > 0 {
		if parts := t.parted(h, most); len(parts) > 1 {
			return []blockForm{stacked(parts, h, most)}
		}
	}
	if len(t.Rows) > longTable {
		l := t.lay(h, t.fitted(h, min(wide, most)))
		return []blockForm{l.folded(1)}
	}
	var all []blockForm
	steps := 0.0
	for width := min(wide, most); ; width *= narrowing {
		width = max(width, min(least, most))
		l := t.lay(h, t.fitted(h, width))
		for n := 1; n <= mostFolds && (n == 1 || len(t.Rows) >= n*foldedRows); n++ {
			if f := l.folded(n); n == 1 || f.width <= most {
				f.penalty = unusual * (steps + float64(n-1))
				all = append(all, f)
			}
		}
		if width <= least || width <= 10*h {
			break
		}
		steps++
	}
	return pareto(all)
}

// parted divides the columns of a table that is too wide for its words: each
// part has the first column and as many of the others as fit. It returns nil
// where that does not help.
func (t *Table) parted(h, most float64) []Table {
	words := t.words(h)
	var parts []Table
	from, width := 1, words[0]
	add := func(to int) {
		part := *t
		part.Headings, part.Right, part.Answer, part.Widths = pick(t.Headings, from, to), pick(t.Right, from, to), pick(t.Answer, from, to), pick(t.Widths, from, to)
		part.Rows = make([][]string, len(t.Rows))
		for i, r := range t.Rows {
			part.Rows[i] = pick(r, from, to)
		}
		parts = append(parts, part)
		from, width = to, words[0]
	}
	for i := 1; i < len(words); i++ {
		if words[0]+words[i] > most {
			return nil
		}
		if width+words[i] > most {
			add(i)
		}
		width += words[i]
	}
	if from < len(words) {
		add(len(words))
	}
	return parts
}

// pick returns the first of a list and those from one index to another.
func pick[T any](list []T, from, to int) []T {
	from, to = min(from, len(list)), min(to, len(list))
	return append(slices.Clone(list[:min(1, len(list))]), list[from:to]...)
}

// stacked returns tables one below the other.
func stacked(parts []Table, h, most float64) blockForm {
	laid := make([]laidTable, len(parts))
	f := blockForm{height: foldGap * h * float64(len(parts)-1)}
	for i := range parts {
		natural := 0.0
		for _, w := range parts[i].natural(h) {
			natural += w
		}
		laid[i] = parts[i].lay(h, parts[i].fitted(h, min(natural, most)))
		f.width = max(f.width, laid[i].width)
		f.height += laid[i].height
	}
	f.draw = func(c *canvas, x, y float64) {
		for i := range laid {
			laid[i].draw(c, x, y, laid[i].rows)
			y -= laid[i].height + foldGap*h
		}
	}
	return f
}

// folded returns a table that goes on beside itself, in n columns of about one
// height.
func (l laidTable) folded(n int) blockForm {
	parts := make([][]tableRow, 0, n)
	rest := l.rows
	for i := range n {
		m := len(rest)
		if left := n - i; left > 1 {
			// The rows until the share of this part is reached.
			share := 0.0
			for _, r := range rest {
				share += r.height
			}
			share /= float64(left)
			sum := 0.0
			for m = 0; m < len(rest) && sum+rest[m].height/2 < share; m++ {
				sum += rest[m].height
			}
		}
		parts = append(parts, rest[:m])
		rest = rest[m:]
	}
	gap := foldGap * l.h
	f := blockForm{width: float64(n)*l.width + float64(n-1)*gap}
	for _, p := range parts {
		f.height = max(f.height, l.high(p))
	}
	f.draw = func(c *canvas, x, y float64) {
		for i, p := range parts {
			l.draw(c, x+float64(i)*(l.width+gap), y, p)
		}
	}
	return f
}

// cut divides a table after some rows.
func (t Table) cut(rows int) (first, rest Table) {
	first, rest = t, t
	first.Rows, rest.Rows = t.Rows[:rows], t.Rows[rows:]
	return first, rest
}

// asked returns the table as a question: without the cells that are the answer,
// with their room.
func (t Table) asked(h float64) Table {
	if !slices.Contains(t.Answer, true) {
		return t
	}
	widths := slices.Clone(t.Widths)
	for i, w := range t.natural(h) {
		if at(t.Answer, i) && at(t.Widths, i) == 0 {
			for len(widths) <= i {
				widths = append(widths, 0)
			}
			widths[i] = max(min(w, MaxColumn*h), 5*h)
		}
	}
	t.Widths = widths
	rows := make([][]string, len(t.Rows))
	for i, r := range t.Rows {
		rows[i] = slices.Clone(r)
		for j := range rows[i] {
			if at(t.Answer, j) {
				rows[i][j] = ""
			}
		}
	}
	t.Rows = rows
	return t
}
