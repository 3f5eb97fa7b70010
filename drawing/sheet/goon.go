package sheet

import (
	"math"
	"slices"

	"boltplate/drawing"
)

// goOn divides figures whose table is too long for a page: the table goes on in
// further figures, which have the caption of the first with a word added.
func (c *composer) goOn(t *trial) {
	var figures []*drawn
	var index []int
	for n, d := range t.figures {
		parts := []*drawn{d}
		i := t.index[n]
		if at := d.lastTable(); at >= 0 && !c.alone(t, i, d) {
			parts = c.divide(t, i, d, at)
		}
		for _, p := range parts {
			figures, index = append(figures, p), append(index, i)
		}
	}
	t.figures, t.index = figures, index
}

// lastTable returns the last table of a figure that has rows to divide, or -1.
func (d *drawn) lastTable() int {
	for i := len(d.content.Blocks) - 1; i >= 0; i-- {
		if t, ok := d.content.Blocks[i].(Table); ok && len(t.Rows) > 1 {
			return i
		}
	}
	return -1
}

// divide divides a figure at the rows of its last table: what else it shows with
// as many rows as there is room for, and further figures with the rest.
func (c *composer) divide(t *trial, i int, d *drawn, at int) []*drawn {
	table := d.content.Blocks[at].(Table)
	var parts []*drawn
	if d.content.Drawing != nil || len(d.content.Blocks) > 1 {
		n := c.roomFor(table, func(n int) bool {
			first, _ := table.cut(n)
			return c.alone(t, i, c.withRows(d, at, first, 0))
		})
		first, rest := table.cut(n)
		parts, table = append(parts, c.withRows(d, at, first, 0)), rest
	}
	for _, one := range c.columns(t, i, d, table) {
		parts = append(parts, c.withRows(d, at, one, len(parts)))
	}
	return parts
}

// withRows returns a part of a figure with some rows of its table, without what
// else it shows where it goes on.
func (c *composer) withRows(d *drawn, at int, rows Table, part int) *drawn {
	one := *d
	content := *d.content
	content.Blocks = slices.Clone(content.Blocks)
	content.Blocks[at] = rows
	if len(rows.Rows) == 0 {
		content.Blocks = slices.Delete(content.Blocks, at, at+1)
	}
	if part > 0 {
		one.marks, one.loose, one.views, one.main = nil, nil, nil, drawing.EmptyRect()
		content = Content{Blocks: []Block{rows}}
	}
	one.content, one.part = &content, part
	c.stand(&one)
	return &one
}

// roomFor returns how many rows of a table have room, by what fits says of a
// number of them.
func (c *composer) roomFor(t Table, fits func(n int) bool) int {
	// No page has more rows than its height holds lines, times the tables that
	// stand side by side.
	lo, hi := 0, min(len(t.Rows), mostFolds*int(c.Format.Space().Dy()/c.st.Height()))
	for lo < hi {
		mid := (lo + hi + 1) / 2
		if fits(mid) {
			lo = mid
		} else {
			hi = mid - 1
		}
	}
	return lo
}

// columns divides a table into columns of which one or more stand side by side
// on a page, whatever takes fewer pages, all of one width and as nearly as can be
// of one height.
func (c *composer) columns(t *trial, i int, d *drawn, table Table) []Table {
	if len(table.Rows) == 0 {
		return nil
	}
	h, gap := c.st.Height(), c.gap()
	m := c.room(t, c.most-1) // a later page
	legend := c.legend(t, i, d, false) + ", continued"
	least := 0.0
	for _, w := range table.words(h) {
		least += w
	}
	natural := 0.0
	for _, w := range table.natural(h) {
		natural += w
	}
	var best laidTable
	var slots []float64
	fewest := math.MaxInt
	for n := 1; n <= mostFolds; n++ {
		width := min((m.Width-float64(n+1)*gap)/float64(n), natural)
		if n > 1 && width < least {
			break
		}
		laid := table.lay(h, table.fitted(h, width))
		caption := captionGap*h + block(len(balanced(legend, h, max(width, captionWidth*h))), h)
		var high []float64 // what has room in each column of a page
		for j := range n {
			one := m.Height - 2*gap - caption
			if float64(j+1)*(width+gap)+gap > m.Width-m.TakenWidth {
				one -= m.TakenHeight
			}
			high = append(high, one)
		}
		if cuts := laid.cuts(high, 1); cuts != nil {
			if pages := (len(cuts) + n - 1) / n; pages < fewest {
				best, slots, fewest = laid, high, pages
			}
		}
	}
	if fewest == math.MaxInt {
		return []Table{table} // not even one row has room
	}
	// As low as the pages allow, so that the last column is not a stump.
	lo, hi := 0.0, 1.0
	for range 12 {
		mid := (lo + hi) / 2
		if cuts := best.cuts(slots, mid); cuts != nil && (len(cuts)+len(slots)-1)/len(slots) <= fewest {
			hi = mid
		} else {
			lo = mid
		}
	}
	table.Widths = best.widths
	var out []Table
	from := 0
	for _, to := range best.cuts(slots, hi) {
		one := table
		one.Rows = table.Rows[from:to]
		out, from = append(out, one), to
	}
	return out
}

// cuts returns the rows before which a table ends that fills columns of the
// given heights times a share, over and over, or nil where a row has no room.
func (l *laidTable) cuts(heights []float64, share float64) []int {
	var out []int
	head := l.high(nil)
	for from := 0; from < len(l.rows); {
		room := heights[len(out)%len(heights)]*share - head
		to := from
		for to < len(l.rows) && l.rows[to].height <= room+slack {
			room -= l.rows[to].height
			to++
		}
		if to == from {
			return nil
		}
		out, from = append(out, to), to
	}
	return out
}
