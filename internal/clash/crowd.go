package clash

import (
	"fmt"
	"math"
	"slices"

	"boltplate/drawing"
)

// Crowded returns a message for every two texts of a drawing of which one
// stands on the shelf of a leader, and which are less than the height of text
// apart.
func Crowded(d *drawing.Drawing) []string {
	c := collect(d)
	room := d.Style.Part(d.Style.Height()) - 1e-6
	var out []string
	for i, b := range c.boxes {
		for _, o := range c.boxes[i+1:] {
			if b.label == o.label && b.label >= 0 || !b.shelf && !o.shelf {
				continue
			}
			if gap := apart(b.corners, o.corners); gap < room {
				out = append(out, fmt.Sprintf("text %q is %.2f mm from text %q at %.2f", b.text, gap*d.Style.PaperScale(), o.text, b.corners[0]))
			}
		}
	}
	return out
}

// apart returns the distance of two rectangles, 0 where they overlap.
func apart(p, q [4]drawing.Point) float64 {
	if overlap(p, q) {
		return 0
	}
	near := math.Inf(1)
	for _, ab := range [2][2][4]drawing.Point{{p, q}, {q, p}} {
		for _, c := range ab[0] {
			for i := range 4 {
				near = math.Min(near, distance(c, drawing.Line{From: ab[1][i], To: ab[1][(i+1)%4]}))
			}
		}
	}
	return near
}

// Rows returns a message for every gap between the rows of dimensions of a
// view: linear dimensions of one side whose line is further from the next one
// inwards, or from the outline, than a step.
func Rows(v drawing.View, st drawing.Style) []string {
	var out []string
	outline := solid(v, st)
	for side := drawing.Below; side <= drawing.Right; side++ {
		var offs []float64
		for _, it := range v.Items {
			if d, ok := it.Shape.(drawing.Linear); ok && d.Placed && d.Side == side {
				edge := map[drawing.Side]float64{drawing.Below: outline.Min.Y, drawing.Above: outline.Max.Y, drawing.Left: outline.Min.X, drawing.Right: outline.Max.X}[side]
				offs = append(offs, math.Abs(d.At-edge)*st.PaperScale())
			}
		}
		slices.Sort(offs)
		for i, off := range offs {
			last, step := 0.0, st.FirstRow()
			if i > 0 {
				last, step = offs[i-1], st.RowStep()
			}
			if off-last > step+1e-6 {
				out = append(out, fmt.Sprintf("dimensions on side %d stand at %.2f mm", side, offs))
				break
			}
		}
	}
	return out
}

// solid returns the extent of a view and its texts without centre lines and
// dimensions.
func solid(v drawing.View, st drawing.Style) drawing.Rect {
	var kept drawing.View
	r := drawing.EmptyRect()
	for _, it := range v.Items {
		if t, ok := it.Shape.(drawing.Text); ok {
			r = r.Union(t.Bounds(st))
		} else if it.Role != drawing.RoleCentre {
			kept.Items = append(kept.Items, it)
		}
	}
	return r.Union(kept.Outline())
}

// Beside returns a message for every two extension lines of a view that run
// beside each other nearer than two lines may, 0.7 mm on paper (ISO 128-2).
func Beside(v drawing.View, st drawing.Style) []string {
	const least = 0.7
	var lines []drawing.Line
	for _, it := range v.Items {
		switch it.Shape.(type) {
		case drawing.Linear, drawing.Aligned:
			x, _ := drawing.Expand(it.Shape, st)
			if ls := x.Lines(); len(ls) > 0 {
				lines = append(lines, ls[:len(ls)-1]...)
			}
		}
	}
	var out []string
	for i, l := range lines {
		for _, o := range lines[i+1:] {
			if off, both := between(l, o); both && off*st.PaperScale() < least-1e-6 {
				out = append(out, fmt.Sprintf("extension lines %.2f mm apart: %.2f and %.2f", off*st.PaperScale(), l, o))
			}
		}
	}
	return out
}

// between returns how far apart two parallel lines are, and whether they run
// beside each other.
func between(l, o drawing.Line) (off float64, both bool) {
	d, e := l.To.Sub(l.From), o.To.Sub(o.From)
	if math.Abs(d.X*e.Y-d.Y*e.X) > 1e-6*d.Len()*e.Len() {
		return 0, false
	}
	u := d.Mul(1 / d.Len())
	p, q := o.From.Sub(l.From), o.To.Sub(l.From)
	s, t := p.X*u.X+p.Y*u.Y, q.X*u.X+q.Y*u.Y
	return math.Abs(p.X*u.Y - p.Y*u.X), math.Min(math.Max(s, t), d.Len())-math.Max(math.Min(s, t), 0) > near
}
