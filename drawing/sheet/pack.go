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

// A row is figures side by side.
type row struct {
	from, to                  int // figures
	width, up, down, captions float64
}

func (r *row) height() float64 { return r.up + r.down + r.captions }
func (r *row) gaps() float64   { return float64(r.to-r.from+1) * gap }
func (r *row) spread() float64 { return r.width + r.gaps() }

func (r *row) add(e extent) row {
	return row{r.from, r.to + 1, r.width + e.width, max(r.up, e.up), max(r.down, e.down), max(r.captions, e.caption)}
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
			break
		}
		next = rows[len(rows)-1].to
		places = append(places, space(figures, rows, r, pages)...)
	}
	return places, pages
}

// fill returns the rows that go on a page.
func fill(figures []extent, next int, r room) (rows []row) {
	top := r.height - gap
	first := next
	fresh := func(i int) bool { return i > first && figures[i].newPage }
	for next < len(figures) && !fresh(next) {
		line := row{from: next, to: next}
		for line.to < len(figures) && !fresh(line.to) {
			wider := line.add(figures[line.to])
			limit := -1.0
			switch bottom := top - wider.height(); {
			case bottom >= r.takenHeight+gap:
				limit = r.width
			case bottom >= gap:
				limit = r.width - r.takenWidth
			}
			if wider.spread() > limit {
				break
			}
			line = wider
		}
		if line.to == line.from {
			break
		}
		rows = append(rows, line)
		next = line.to
		top -= line.height() + gap
	}
	return rows
}

// space gives rows and figures even distances.
func space(figures []extent, rows []row, r room, page int) []place {
	between := vertical(rows, r)
	var places []place
	top := r.height
	for i := range rows {
		line := &rows[i]
		top -= between
		width := r.width
		if top-line.height() < r.takenHeight+gap-1e-9 {
			width -= r.takenWidth
		}
		d := (width - line.width) / float64(line.to-line.from+1)
		x := d
		for _, e := range figures[line.from:line.to] {
			places = append(places, place{page, drawing.Pt(x+e.width/2, top-line.up), top - line.up - line.down})
			x += e.width + d
		}
		top -= line.height()
	}
	return places
}

// vertical returns the distance between rows: the largest that leaves every row
// where it fits.
func vertical(rows []row, r room) float64 {
	total := 0.0
	for i := range rows {
		total += rows[i].height()
	}
	n := float64(len(rows))
	if above := (r.height - r.takenHeight - total) / (n + 1); above >= gap {
		return above
	}
	even := (r.height - total) / (n + 1)
	sum := 0.0
	for i := range rows {
		sum += rows[i].height()
		if rows[i].spread() > r.width-r.takenWidth+1e-9 {
			even = min(even, (r.height-r.takenHeight-gap-sum)/float64(i+1))
		}
	}
	return even
}
