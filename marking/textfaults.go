package marking

import (
	"fmt"
	"math"

	"boltplate/drawing"
	"boltplate/internal/plane"
)

// textFaults finds texts that touch lines or each other. Boxes are taken
// smaller than they are, because programs letter in different fonts.
func (m *marking) textFaults() {
	labels := m.dims.labels
	boxes := make([]drawing.Rect, len(labels))
	for i := range labels {
		boxes[i] = bounds(labels[i].box[:])
	}
	for i := range labels {
		l := &labels[i]
		if l.height <= 0 {
			continue
		}
		what := m.touched(l, boxes[i])
		for j := 0; j < i && what == ""; j++ {
			if meets(boxes[i], boxes[j]) && labels[j].height > 0 && (l.own < 0 || l.own != labels[j].own) && crossed(l, &labels[j]) {
				what = "another text, " + says(labels[j].text)
			}
		}
		if what == "" {
			continue
		}
		view := m.nearestView(l.mid())
		f := Finding{Kind: TextTouches, Lines: lineList(l.line), Text: fmt.Sprintf("The text %s touches %s.", says(l.text), what)}
		m.addAt(view, f, l.mid(), nil)
	}
}

// shrink is by which part of the height of text a box is smaller on each side.
const shrink = 0.12

// local returns a point in the system of a text: along its lines from the
// left, up from the base line.
func (l *label) local(p point) plane.Vec {
	v := p.Sub(l.box[0])
	n := unit(l.box[3].Sub(l.box[0]))
	return plane.Vec{X: dot(v, l.u), Y: dot(v, n)}
}

// core returns the box in which a text must have no line.
func (l *label) core() plane.Box {
	w, h := l.box[1].Sub(l.box[0]).Len(), l.box[3].Sub(l.box[0]).Len()
	d := shrink * l.height
	// Widths differ from font to font by a tenth.
	e := d + 0.06*w
	return plane.Box{Min: plane.Vec{X: min(e, w/2), Y: d}, Max: plane.Vec{X: max(w-e, w/2), Y: h - d}}
}

// touched says what line goes through a text, "" for none.
func (m *marking) touched(l *label, box drawing.Rect) string {
	core := l.core()
	hit := func(ps []point) bool {
		if !meets(bounds(ps), box) {
			return false
		}
		for i := 1; i < len(ps); i++ {
			if plane.SegmentHitsBox(l.local(ps[i-1]), l.local(ps[i]), core) {
				return true
			}
		}
		return false
	}
	for i := range m.sub.strokes {
		if hit(m.sub.strokes[i].points) {
			return "a line"
		}
	}
	for i := range m.sub.scene.Dimensions {
		d := &m.sub.scene.Dimensions[i]
		for j := range d.Picture.Curves {
			if c := &d.Picture.Curves[j]; c.Shown && hit(c.Chords(m.sub.size*fineness)) {
				return "the lines of a dimension"
			}
		}
	}
	for i := range m.sub.scene.Leaders {
		if d := &m.sub.scene.Leaders[i]; d.Shown && hit(d.Points) {
			return "a leader"
		}
	}
	return ""
}

// crossed reports whether the boxes of two texts have a part in common.
func crossed(a, b *label) bool {
	core, other := a.core(), b.core()
	n := unit(b.box[3].Sub(b.box[0]))
	at := func(x, y float64) plane.Vec { return a.local(b.box[0].Add(b.u.Mul(x)).Add(n.Mul(y))) }
	// A few lines through the other box.
	for i := range 5 {
		t := float64(i) / 4
		y := other.Min.Y + t*(other.Max.Y-other.Min.Y)
		if plane.SegmentHitsBox(at(other.Min.X, y), at(other.Max.X, y), core) {
			return true
		}
		x := other.Min.X + t*(other.Max.X-other.Min.X)
		if plane.SegmentHitsBox(at(x, other.Min.Y), at(x, other.Max.Y), core) {
			return true
		}
	}
	return false
}

// nearestView returns the view that is nearest to a point.
func (m *marking) nearestView(p point) int {
	best, least := 0, math.Inf(1)
	for i := range m.views {
		v := &m.views[i]
		if d := fromRect(placedBox(v.model, v.place), p); d < least {
			best, least = i, d
		}
	}
	return best
}
