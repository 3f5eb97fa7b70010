package layout

import (
	"math"

	"boltplate/drawing"
)

// arranged reports whether a figure of the page asks for a row or a column.
func (p *planner) arranged(from, to int) bool {
	for _, f := range p.figures[from:to] {
		if f.Row > 0 || f.Column > 0 {
			return true
		}
	}
	return false
}

// A slot is a row and a column of a page that is asked for.
type slot struct{ row, column int }

// slots returns the rows and columns of the figures of a page: as they ask for,
// and otherwise the row of the figure before and the next column of that.
func (p *planner) slots(from, to int) ([]slot, error) {
	var all []slot
	last := slot{1, 0}
	for i, f := range p.figures[from:to] {
		next := slot{last.row, last.column + 1}
		if f.Row > 0 {
			if next.row = f.Row; f.Row != last.row {
				next.column = 1
			}
		}
		if f.Column > 0 {
			next.column = f.Column
		}
		switch {
		case next.row < last.row:
			return nil, &PageError{from + i, "row", "comes before the row of the figure before it; figures stand in the order in which they are given"}
		case next.row == last.row && next.column < last.column:
			return nil, &PageError{from + i, "column", "comes before the column of the figure before it in its row; figures stand in the order in which they are given"}
		}
		all = append(all, next)
		last = next
	}
	return all, nil
}

// asked returns the arrangements of a page with the rows and columns that are
// asked for.
func (p *planner) asked(from int, slots []slot, m Room) []arrangement {
	to := from + len(slots)
	var out []arrangement
	for _, level := range [2]bool{true, false} {
		rows, ends := p.askedRows(from, slots, level)
		out = append(out, p.askedZones(from, to, rows, ends, m)...)
	}
	return out
}

// askedRows returns a plan for each row, and the figure that each ends before.
func (p *planner) askedRows(from int, slots []slot, level bool) (rows []*plan, ends []int) {
	for i := 0; i < len(slots); {
		var line *plan
		this := slots[i].row
		for i < len(slots) && slots[i].row == this {
			column, first := slots[i].column, i
			for i++; i < len(slots) && slots[i] == (slot{this, column}); i++ {
			}
			var stack []*plan
			for j := first; j < i; j++ {
				one := p.leaf(from+j, 0)
				stack = append(stack, &one)
			}
			line = p.beside(line, p.stacked(stack), level)
		}
		rows, ends = append(rows, line), append(ends, from+i)
	}
	return rows, ends
}

// stacked returns the plans as a column.
func (p *planner) stacked(all []*plan) *plan {
	one := all[0]
	for _, next := range all[1:] {
		c := p.column(one, next)
		one = &c
	}
	return one
}

// beside returns line with next on its right; line may be nil.
func (p *planner) beside(line, next *plan, level bool) *plan {
	if line == nil {
		return next
	}
	r := p.row(line, next, level)
	return &r
}

// askedZones returns the ways to stand rows above and beside the corner.
func (p *planner) askedZones(from, to int, rows []*plan, ends []int, m Room) (out []arrangement) {
	r := cornerOf(m)
	whole := p.stacked(rows)
	if p.fits(whole, r.Width, r.over) {
		out = append(out, arrangement{a: whole, from: from, to: to})
	}
	if p.fits(whole, r.aside, r.Height) {
		out = append(out, arrangement{a: whole, from: from, to: to, beside: true})
	}
	for cut := 1; cut < len(rows); cut++ {
		a, b := p.stacked(rows[:cut]), p.stacked(rows[cut:])
		if p.fits(a, r.Width, r.over) && p.fits(b, r.aside, r.Height-p.gap-a.height) {
			out = append(out, arrangement{form: down, a: a, b: b, from: from, at: ends[cut-1], to: to})
		}
	}
	return out
}

// distance returns how far two rectangles are apart, 0 where they touch.
func distance(a, b drawing.Rect) float64 {
	dx := max(0, a.Min.X-b.Max.X, b.Min.X-a.Max.X)
	dy := max(0, a.Min.Y-b.Max.Y, b.Min.Y-a.Max.Y)
	return math.Hypot(dx, dy)
}
