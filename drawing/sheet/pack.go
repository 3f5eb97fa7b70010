package sheet

import (
	"boltplate/drawing"
)

// gap is the least distance between figures, and between a figure and the frame
// or the title block, mm on paper.
const gap = 9.0

// An extent is what a figure needs on paper, mm: the width of the figure or its
// caption, how far the figure reaches above and below its axis, and the height
// of the caption.
type extent struct {
	width, up, down, caption float64
	newPage                  bool // it begins a page
}

// A room is the drawing space of a page, mm: its width and height, and what is
// taken in its lower right corner.
type room struct{ width, height, takenWidth, takenHeight float64 }

// A place is where a figure stands: on which page, the middle of its width on
// its axis, from the lower left corner of the drawing space, and the upper edge
// of its caption.
type place struct {
	page    int
	at      drawing.Point
	caption float64
}

// A group is figures side by side with their axes and their captions in line.
type group struct {
	from, to                  int // figures
	width, up, down, captions float64
}

func groupOf(figures []extent, from, to int) group {
	g := group{from: from, to: to}
	for _, e := range figures[from:to] {
		g.width += e.width
		g.up, g.down, g.captions = max(g.up, e.up), max(g.down, e.down), max(g.captions, e.caption)
	}
	return g
}

func (g *group) count() float64  { return float64(g.to - g.from) }
func (g *group) depth() float64  { return g.down + g.captions } // below the axis
func (g *group) spread() float64 { return g.width + (g.count()+1)*gap }

// A row is a group of figures or, where what is taken in the corner reaches up
// into it, two with one axis: deep figures on the left, and on the right those
// that end above the corner.
type row struct{ left, right group }

func (r *row) up() float64     { return max(r.left.up, r.right.up) }
func (r *row) height() float64 { return r.up() + max(r.left.depth(), r.right.depth()) }

// above returns how much of the row must stand above what is taken, and whether
// anything must.
func (r *row) above(m room) (float64, bool) {
	switch {
	case r.right.count() > 0:
		return r.up() + r.right.depth(), true
	case r.left.spread() > m.width-m.takenWidth+1e-9:
		return r.height(), true
	}
	return 0, false
}

// pack places figures in reading order: left to right in rows, rows from the top
// down, as many on a page as have room, then evenly spaced. rooms returns the
// room on a page. It returns the places of the figures that go on the first
// most pages, and how many pages they take. A figure that has no room on a page
// by itself ends the packing.
func pack(figures []extent, rooms func(page int) room, most int) (places []place, pages int) {
	for next := 0; next < len(figures) && pages < most; pages++ {
		r := rooms(pages)
		rows := fill(figures, next, r)
		if len(rows) == 0 {
			if rooms(pages+1).takenHeight < r.takenHeight {
				continue // the next page has no notes
			}
			break
		}
		next = max(rows[len(rows)-1].left.to, rows[len(rows)-1].right.to)
		places = append(places, space(figures, rows, r, pages)...)
	}
	return places, pages
}

// fill returns the rows that go on a page.
func fill(figures []extent, next int, m room) (rows []row) {
	top := m.height - gap
	first := next
	fresh := func(i int) bool { return i > first && figures[i].newPage }
	for next < len(figures) && !fresh(next) {
		line, to := row{}, next
		for to < len(figures) && !fresh(to) {
			wider, fits := rowOf(figures, next, to+1, top, m)
			if !fits {
				break
			}
			line = wider
			to++
		}
		if to == next {
			break
		}
		rows = append(rows, line)
		next = to
		top -= line.height() + gap
	}
	return rows
}

// rowOf returns the figures as a row whose upper edge is at top, and whether
// they fit there.
func rowOf(figures []extent, from, to int, top float64, m room) (row, bool) {
	whole := row{left: groupOf(figures, from, to)}
	free := m.takenHeight + gap
	bottom := top - whole.height()
	switch spread := whole.left.spread(); {
	case bottom < gap || spread > m.width:
		return row{}, false
	case bottom >= free || spread <= m.width-m.takenWidth:
		return whole, true
	}
	for split := from + 1; split < to; split++ {
		r := row{groupOf(figures, from, split), groupOf(figures, split, to)}
		if r.left.spread() <= m.width-m.takenWidth && top-r.up()-r.right.depth() >= free {
			return r, true
		}
	}
	return row{}, false
}

// space gives rows and figures even distances.
func space(figures []extent, rows []row, m room, page int) []place {
	between := vertical(rows, m)
	var places []place
	top := m.height
	for i := range rows {
		line := rows[i]
		top -= between
		axis := top - line.up()
		put := func(g group, x, d float64) {
			for _, e := range figures[g.from:g.to] {
				places = append(places, place{page, drawing.Pt(x+d+e.width/2, axis), axis - g.down})
				x += d + e.width
			}
		}
		bottom := top - line.height()
		if bottom >= m.takenHeight+gap-1e-9 && line.right.count() > 0 {
			// There is no need for two groups, unless one is deep and the other
			// has long captions.
			if whole := (row{left: groupOf(figures, line.left.from, line.right.to)}); whole.height() <= line.height()+1e-9 {
				line = whole
			}
		}
		switch l, r := &line.left, &line.right; {
		case r.count() > 0:
			// The same distance throughout, unless the left group would reach
			// over the corner.
			n := l.count() + r.count()
			d := (m.width - l.width - r.width) / (n + 1)
			if most := (m.width - m.takenWidth - l.width) / (l.count() + 1); d > most {
				put(*l, 0, most)
				x := l.width + l.count()*most
				put(*r, x, (m.width-x-r.width)/(r.count()+1))
			} else {
				put(*l, 0, d)
				put(*r, l.width+l.count()*d, d)
			}
		case bottom >= m.takenHeight+gap-1e-9:
			put(*l, 0, (m.width-l.width)/(l.count()+1))
		default:
			put(*l, 0, (m.width-m.takenWidth-l.width)/(l.count()+1))
		}
		top = bottom
	}
	return places
}

// vertical returns the distance between rows: the largest that leaves every row
// where it fits.
func vertical(rows []row, m room) float64 {
	total := 0.0
	for i := range rows {
		total += rows[i].height()
	}
	n := float64(len(rows))
	if above := (m.height - m.takenHeight - total) / (n + 1); above >= gap {
		return above
	}
	even := (m.height - total) / (n + 1)
	sum := 0.0
	for i := range rows {
		if high, must := rows[i].above(m); must {
			even = min(even, (m.height-m.takenHeight-gap-sum-high)/float64(i+1))
		}
		sum += rows[i].height()
	}
	return even
}
