package sheet

import (
	"strconv"

	"boltplate/drawing"
)

// The grid reference and the centring marks (ISO 5457), mm on paper.
const (
	gridStrip  = 5.0  // width of the strip outside the frame
	gridField  = 50.0 // length of a field
	gridText   = 3.5  // height of letters and numbers; from memory, unverified
	centreMark = 5.0  // how far a centring mark runs into the drawing space; from memory, unverified
)

// A canvas collects the items of a sheet.
type canvas struct {
	st    drawing.Style
	items []drawing.Item
}

func (c *canvas) add(r drawing.Role, s drawing.Shape) {
	c.items = append(c.items, drawing.Item{Role: r, Shape: s})
}

func (c *canvas) line(r drawing.Role, x1, y1, x2, y2 float64) {
	c.add(r, drawing.Line{From: drawing.Pt(x1, y1), To: drawing.Pt(x2, y2)})
}

func (c *canvas) rect(r drawing.Role, b drawing.Rect) {
	c.add(r, drawing.Polyline{Closed: true, Vertices: []drawing.Vertex{
		{Point: b.Min}, {Point: drawing.Pt(b.Max.X, b.Min.Y)}, {Point: b.Max}, {Point: drawing.Pt(b.Min.X, b.Max.Y)},
	}})
}

func (c *canvas) text(x, y, height float64, align drawing.Align, s string) {
	if s != "" {
		c.add(drawing.RoleText, drawing.Text{At: drawing.Pt(x, y), Height: height, Align: align, Value: s})
	}
}

// frame draws the edge of the trimmed sheet, the frame, the grid reference and
// the centring marks. The frame takes the wide line. What stands in the lower
// right corner, taken, keeps the marks out.
func (c *canvas) frame(f Format, taken drawing.Rect) {
	t, s := f.Trimmed(), f.Space()
	strip := s.Grown(gridStrip)
	c.rect(drawing.RoleThin, t)
	c.rect(drawing.RoleFrame, s)
	c.rect(drawing.RoleText, strip)

	mid := t.Mid()
	mark := func(x1, y1, x2, y2 float64) {
		// It runs from the edge of the strip into the space, or to the frame.
		if inside := (drawing.Rect{Min: drawing.Pt(x2, y2), Max: drawing.Pt(x2, y2)}).Grown(centreMark); inside.Overlaps(taken) {
			x2, y2 = min(max(x2, s.Min.X), s.Max.X), min(max(y2, s.Min.Y), s.Max.Y)
			if x1 == x2 {
				y2 = nearer(y1, s.Min.Y, s.Max.Y)
			} else {
				x2 = nearer(x1, s.Min.X, s.Max.X)
			}
		}
		c.line(drawing.RoleFrame, x1, y1, x2, y2)
	}
	mark(strip.Min.X, mid.Y, s.Min.X+centreMark, mid.Y)
	mark(strip.Max.X, mid.Y, s.Max.X-centreMark, mid.Y)
	mark(mid.X, strip.Min.Y, mid.X, s.Min.Y+centreMark)
	mark(mid.X, strip.Max.Y, mid.X, s.Max.Y-centreMark)

	// Numbers from left to right, letters from the top down. A4 has them on two
	// sides only: above and on the right (from memory, unverified).
	both := f.Size != A4
	c.grid(mid.X, t.Dx(), s.Min.X, s.Max.X, func(lo, hi float64, i, _ int) {
		name := strconv.Itoa(i + 1)
		c.gridField(name, lo, hi, s.Max.Y, true, i > 0)
		if both {
			c.gridField(name, lo, hi, strip.Min.Y, true, i > 0)
		}
	})
	c.grid(mid.Y, t.Dy(), s.Min.Y, s.Max.Y, func(lo, hi float64, i, n int) {
		name := gridLetter(n - 1 - i)
		c.gridField(name, lo, hi, s.Max.X, false, i > 0)
		if both {
			c.gridField(name, lo, hi, strip.Min.X, false, i > 0)
		}
	})
}

func nearer(from, a, b float64) float64 {
	if (from-a)*(from-a) < (from-b)*(from-b) {
		return a
	}
	return b
}

// grid calls field for every field of a side, whose middle is mid and whose
// frame runs from lo to hi.
func (c *canvas) grid(mid, side, lo, hi float64, field func(lo, hi float64, i, n int)) {
	n := fields(side)
	edge := func(i int) float64 {
		switch i {
		case 0:
			return lo
		case n:
			return hi
		}
		return mid + gridField*float64(i-n/2)
	}
	for i := range n {
		field(edge(i), edge(i+1), i, n)
	}
}

// gridField writes the name of a field in the strip that starts at across, and
// draws the line at its start. The middle of the sheet has its centring mark.
func (c *canvas) gridField(name string, lo, hi, across float64, level, line bool) {
	mid, h := (lo+hi)/2, gridText
	if !level && drawing.TextWidth(name, h) >= gridStrip { // a W, on A0 upright
		h = nameHeight
	}
	if !level {
		c.text(across+gridStrip/2, mid-h/2, h, drawing.AlignCentre, name)
	} else {
		c.text(mid, across+(gridStrip-h)/2, h, drawing.AlignCentre, name)
	}
	switch {
	case !line || c.marked(lo, level):
	case level:
		c.line(drawing.RoleText, lo, across, lo, across+gridStrip)
	default:
		c.line(drawing.RoleText, across, lo, across+gridStrip, lo)
	}
}

// marked reports whether a centring mark stands at a place of a side.
func (c *canvas) marked(at float64, level bool) bool {
	for _, it := range c.items {
		if l, ok := it.Shape.(drawing.Line); ok && it.Role == drawing.RoleFrame {
			if level && l.From.X == l.To.X && l.From.X == at || !level && l.From.Y == l.To.Y && l.From.Y == at {
				return true
			}
		}
	}
	return false
}

// gridLetter returns the letter of a row of the grid, from A; I and O are left
// out (ISO 5457).
func gridLetter(i int) string {
	const letters = "ABCDEFGHJKLMNPQRSTUVWXYZ"
	return letters[i%len(letters) : i%len(letters)+1]
}
