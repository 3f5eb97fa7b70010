package marking

import (
	"boltplate/drawing"
)

// A side is where a view stands, seen from the main view.
type side uint8

const (
	nowhere side = iota // on the main view, or corner to corner with it
	toLeft
	toRight
	above
	below
)

func (s side) String() string {
	return [...]string{"over", "to the left of", "to the right of", "above", "below"}[s]
}

// opposite returns the side on which the other projection method has a view.
func (s side) opposite() side { return [...]side{nowhere, toRight, toLeft, below, above}[s] }

// across reports whether the views stand beside each other, and not one above
// the other.
func (s side) across() bool { return s == toLeft || s == toRight }

// sideOf returns where box stands, seen from main.
func sideOf(main, box drawing.Rect) side {
	best, at := 0.0, nowhere
	for s, gap := range [...]float64{toLeft: main.Min.X - box.Max.X, toRight: box.Min.X - main.Max.X, above: box.Min.Y - main.Max.Y, below: main.Min.Y - box.Max.Y} {
		if side(s) != nowhere && gap > best {
			best, at = gap, side(s)
		}
	}
	return at
}

// moved returns a box moved by p.
func moved(r drawing.Rect, p point) drawing.Rect {
	return drawing.Rect{Min: r.Min.Add(p), Max: r.Max.Add(p)}
}

// wanted returns where view i of the model stands.
func (f *modelFigure) wanted(i int) side {
	m, v := &f.views[f.main], &f.views[i]
	if i == f.main || v.direction == drawing.Isometric || m.direction == drawing.Isometric {
		return nowhere
	}
	return sideOf(moved(m.box, m.at), moved(v.box, v.at))
}

// seen returns where view i stands in a submission, in the coordinates of the
// main view as it was found.
func (f *modelFigure) seen(i int, main, p *placement) side {
	return sideOf(f.views[f.main].box, f.relative(i, main, p))
}

// relative returns the box of view i in the coordinates of the main view.
func (f *modelFigure) relative(i int, main, p *placement) drawing.Rect {
	b := f.views[i].box
	r := drawing.EmptyRect()
	for _, c := range [4]point{b.Min, b.Max, {X: b.Min.X, Y: b.Max.Y}, {X: b.Max.X, Y: b.Min.Y}} {
		r = r.Including(main.back(p.Point(c)))
	}
	return r
}

// outOfLine returns by how much view i stands beside the line of projection
// from the main view, mm on paper: above or to the right where positive.
func (f *modelFigure) outOfLine(i int, main, p *placement, at side) float64 {
	m, v := &f.views[f.main], &f.views[i]
	want := v.at.Sub(m.at)
	// What is projected is the extent of the part, whichever point of it is the
	// origin and however the view is turned.
	mid := moved(v.box, want).Mid()
	got := f.relative(i, main, p).Mid()
	if at.across() {
		return got.Y - mid.Y
	}
	return got.X - mid.X
}

// misplaced returns how many views stand where neither the method of the model
// nor, where that is allowed for all of them, the other one has them.
func (f *modelFigure) misplaced(ps []*placement, other bool) int {
	main := ps[f.main]
	if main == nil {
		return 0
	}
	wrong, wrongOther := 0, 0
	for i, p := range ps {
		w := f.wanted(i)
		if p == nil || w == nowhere {
			continue
		}
		s := f.seen(i, main, p)
		if s != w {
			wrong++
		}
		if s != w.opposite() {
			wrongOther++
		}
	}
	if other {
		return min(wrong, wrongOther)
	}
	return wrong
}
