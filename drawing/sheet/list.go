package sheet

import (
	"slices"
	"strconv"
	"strings"

	"boltplate/drawing"
)

// An item is a row of the parts list: what all figures of a plate have of one
// component.
type item struct {
	reference string
	quantity  int
	Component
}

// A register numbers the components of a plate, figure by figure. Equal parts
// are one item (ISO 6433), marks are kept.
type register struct {
	items []item
	taken []string // marks, which no number may be
	last  int
}

// reserve keeps the marks of components from being given as numbers.
func (r *register) reserve(all []Component) {
	for _, c := range all {
		if c.Mark != "" {
			r.taken = append(r.taken, c.Mark)
		}
	}
}

// enter adds a component and returns its item reference.
func (r *register) enter(c Component) string {
	quantity := max(c.Quantity, 1)
	for i := range r.items {
		one := &r.items[i]
		if one.Mark == c.Mark && one.Designation == c.Designation && one.Material == c.Material {
			one.quantity += quantity
			if c.Remark != "" && !slices.Contains(strings.Split(one.Remark, "; "), c.Remark) {
				one.Remark = strings.TrimPrefix(one.Remark+"; "+c.Remark, "; ")
			}
			return one.reference
		}
	}
	reference := c.Mark
	if reference == "" {
		for r.last++; slices.Contains(r.taken, strconv.Itoa(r.last)); r.last++ {
		}
		reference = strconv.Itoa(r.last)
	}
	r.items = append(r.items, item{reference, quantity, c})
	return reference
}

// name enters the components of a figure in the order of their marks, and
// returns the item reference of each.
func (r *register) name(d *drawn) []string {
	refs := make([]string, len(d.content.Components))
	for _, m := range d.marks {
		if m.component >= 0 {
			refs[m.component] = r.enter(d.content.Components[m.component])
		}
	}
	for i, one := range d.content.Components {
		if refs[i] == "" {
			refs[i] = r.enter(one)
		}
	}
	return refs
}

// listHeight is the height of text in the parts list, whose width is that of
// the title block on all sheets.
const listHeight = valueHeight

// listColumn is the greatest width of a column of the parts list beside that of
// the designation, mm.
const listColumn = 50.0

// table returns the parts list. Above the title block it is read from below
// (ISO 7573). Columns that would be empty are left out.
func (r *register) table() Table {
	has := func(of func(*item) string) bool {
		return slices.ContainsFunc(r.items, func(i item) bool { return of(&i) != "" })
	}
	columns := []struct {
		name  string
		width float64
		right bool
		of    func(*item) string
	}{
		{"Item", 0, false, func(i *item) string { return i.reference }},
		{"Quantity", 26, true, func(i *item) string { return strconv.Itoa(i.quantity) }},
		{"Designation", 0, false, func(i *item) string { return i.Designation }},
		{"Material", 0, false, func(i *item) string { return i.Material }},
		{"Remark", 0, false, func(i *item) string { return i.Remark }},
	}
	t := Table{Upward: true}
	rest := TitleWidth
	designation := 0
	for i, c := range columns {
		if i > 2 && !has(c.of) {
			continue
		}
		if c.width == 0 && i != 2 { // as wide as need be, so that the designation keeps half
			c.width = drawing.TextWidth(c.name, listHeight)
			for k := range r.items {
				c.width = max(c.width, drawing.TextWidth(c.of(&r.items[k]), listHeight))
			}
			c.width = min(c.width+2*cellPad*listHeight+slack, listColumn)
		}
		if i == 2 {
			designation = len(t.Headings)
		}
		t.Headings, t.Widths, t.Right = append(t.Headings, c.name), append(t.Widths, c.width), append(t.Right, c.right)
		rest -= c.width
		for k := range r.items {
			if len(t.Rows) <= k {
				t.Rows = append(t.Rows, nil)
			}
			t.Rows[k] = append(t.Rows[k], c.of(&r.items[k]))
		}
	}
	t.Widths[designation] = rest
	return t
}

// listShare is how much of the height of a page the parts list may take above
// the title block before it goes on on the next page.
const listShare = 0.5

// lists returns the parts list as it stands on the pages, one table a page,
// where each page has so much height for it.
func (r *register) lists(height func(page int) float64, most int) []laidTable {
	if len(r.items) == 0 {
		return nil
	}
	t := r.table()
	whole := t.lay(listHeight, t.Widths)
	var out []laidTable
	rest := whole.rows
	for page := 0; len(rest) > 0; page++ {
		n := 1
		for n < len(rest) && (whole.high(rest[:n+1]) <= height(page) || page+1 >= most) {
			n++
		}
		one := whole
		one.rows, rest = rest[:n], rest[n:]
		one.height = one.high(one.rows)
		out = append(out, one)
	}
	return out
}
