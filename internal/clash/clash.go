// Package clash finds what must not happen on a drawing: a label or text that
// touches another one or stands too near, a line that runs through one, leaders
// that cross, rows of dimensions that stand unevenly. Tests prove with it, over
// many drawings, that the arrangement of dimensions holds.
//
// A label is two bodies, its text and its symbol, and a leader is a body of its
// own: it may no more run through its own label than through another.
package clash

import (
	"fmt"
	"math"

	"boltplate/drawing"
	"boltplate/internal/plane"
)

// A box is the place of a text or of a symbol.
type box struct {
	corners [4]drawing.Point
	upright drawing.Rect // about it
	text    string
	label   int  // which label it belongs to, -1 for a text of its own
	shelf   bool // on the shelf of a leader
}

// A segment is a piece of a line.
type segment struct {
	a, b   drawing.Point
	what   string
	leader int // which leader it is the oblique line of, -1 for none
}

// A curve is looked at in segments only where a text is near: extent is about
// it, and may be too large.
type curve struct {
	at     func(k float64) drawing.Point // k from 0 to 1
	extent drawing.Rect
	what   string
}

// Find returns a message for every clash of a drawing.
func Find(d *drawing.Drawing) []string {
	c := collect(d)
	return append(c.clashes(), c.crossings()...)
}

func collect(d *drawing.Drawing) *collector {
	c := &collector{st: d.Style}
	for _, p := range d.Views {
		for _, it := range p.View.Items {
			c.item(it, p.Transform())
		}
	}
	for _, it := range d.Items {
		c.item(it, drawing.Transform{})
	}
	for _, part := range d.Parts {
		for _, a := range part.Attributes {
			if !a.Hidden {
				c.item(drawing.Item{Role: drawing.RoleText, Shape: a.Text}, drawing.Transform{})
			}
		}
	}
	return c
}

type collector struct {
	st       drawing.Style
	boxes    []box
	segments []segment
	curves   []curve
	labels   int
}

func (c *collector) clashes() []string {
	for i := range c.curves {
		c.cut(&c.curves[i])
	}
	var out []string
	for i := range c.boxes {
		b := &c.boxes[i]
		for k := range c.boxes[i+1:] {
			if o := &c.boxes[i+1+k]; meet(b.upright, o.upright) && overlap(b.corners, o.corners) {
				out = append(out, fmt.Sprintf("text %q touches text %q at %.2f", b.text, o.text, b.corners[0]))
			}
		}
		for k := range c.segments {
			if s := &c.segments[k]; meet(about(s.a, s.b), b.upright) && hits(s, b.corners) {
				out = append(out, fmt.Sprintf("a line of %s runs through text %q at %.2f", s.what, b.text, b.corners[0]))
			}
		}
	}
	return out
}

// cut turns a curve into segments, if a text is near.
func (c *collector) cut(v *curve) {
	const pieces = 48
	for i := range c.boxes {
		if !meet(v.extent, c.boxes[i].upright) {
			continue
		}
		prev := v.at(0)
		for i := 1; i <= pieces; i++ {
			p := v.at(float64(i) / pieces)
			c.line(prev, p, v.what)
			prev = p
		}
		return
	}
}

// about returns the upright rectangle about two points.
func about(p, q drawing.Point) drawing.Rect {
	return drawing.Rect{Min: drawing.Pt(min(p.X, q.X), min(p.Y, q.Y)), Max: drawing.Pt(max(p.X, q.X), max(p.Y, q.Y))}
}

// round returns that about a circle.
func round(center drawing.Point, r float64) drawing.Rect {
	return drawing.Rect{Min: center.Sub(drawing.Pt(r, r)), Max: center.Add(drawing.Pt(r, r))}
}

// meet reports whether two rectangles have a point in common.
func meet(r, s drawing.Rect) bool {
	return r.Min.X <= s.Max.X && s.Min.X <= r.Max.X && r.Min.Y <= s.Max.Y && s.Min.Y <= r.Max.Y
}

// crossings returns a message for every two leaders that cross.
func (c *collector) crossings() []string {
	var out []string
	for i, s := range c.segments {
		for _, o := range c.segments[i+1:] {
			if s.leader >= 0 && o.leader >= 0 && s.leader != o.leader && plane.Cross(plane.Vec(s.a), plane.Vec(s.b), plane.Vec(o.a), plane.Vec(o.b)) {
				out = append(out, fmt.Sprintf("two leaders cross: %.2f to %.2f and %.2f to %.2f", s.a, s.b, o.a, o.b))
			}
		}
	}
	return out
}

func (c *collector) item(it drawing.Item, t drawing.Transform) {
	shape := drawing.Apply(it.Shape, t)
	if x, ok := drawing.Expand(shape, c.st); ok {
		c.dimension(shape, &x)
		return
	}
	what := it.Role.String()
	switch s := shape.(type) {
	case drawing.Line:
		c.line(s.From, s.To, what)
	case drawing.Arc:
		c.arc(s, what)
	case drawing.Circle:
		c.arc(drawing.Arc{Center: s.Center, Radius: s.Radius, Start: 0, End: 360}, what)
	case drawing.Ellipse:
		end := s.End
		if s.Whole() {
			end = s.Start + 360
		}
		sweep := plane.Norm(end-s.Start-1e-9) + 1e-9
		c.curve(what, round(s.Center, s.Major.Len()),
			func(k float64) drawing.Point { return s.At(s.Start + k*sweep) })
	case drawing.Conic:
		// A conic is within the triangle of its points.
		c.curve(what, about(s.From, s.To).Union(about(s.Control, s.Control)), func(k float64) drawing.Point {
			return drawing.Point(plane.Conic(plane.Vec(s.From), plane.Vec(s.Control), plane.Vec(s.To), s.Weight, k))
		})
	case drawing.Polyline:
		c.vertices(s.Vertices, s.Closed, what)
	case drawing.Hatch:
		for _, l := range s.Loops {
			c.vertices(l, true, what)
		}
	case drawing.Text:
		c.text(s.Box(c.st), s.Value, -1, false)
	}
}

func (c *collector) dimension(shape drawing.Shape, x *drawing.Expansion) {
	onShelf := false
	switch shape.(type) {
	case drawing.Leader, drawing.Diameter, drawing.Radius:
		onShelf = true
	}
	for i, l := range x.Lines() {
		c.line(l.From, l.To, "a dimension")
		if onShelf && i == 0 {
			c.segments[len(c.segments)-1].leader = c.labels
		}
	}
	for _, a := range x.Arcs() {
		c.arc(a, "a dimension")
	}
	for _, a := range x.Arrows() {
		c.line(a[0], a[1], "an arrowhead")
		c.line(a[0], a[2], "an arrowhead")
		c.line(a[1], a[2], "an arrowhead")
	}
	text, ok := x.Text()
	if ok && text.Value != "" {
		c.text(text.Box(c.st), text.Value, c.labels, onShelf)
	}
	if q, ok := x.Square(); ok {
		c.text(q, "square", c.labels, onShelf)
	}
	if q, ok := x.Taper(); ok {
		// Its box, of which it has a corner, the middle of a side and a corner.
		up := q[2].Sub(q[0])
		tip := q[1].Sub(up.Mul(0.5))
		c.text([4]drawing.Point{q[0], tip, tip.Add(up), q[2]}, "taper", c.labels, onShelf)
	}
	c.labels++
}

func (c *collector) line(a, b drawing.Point, what string) {
	c.segments = append(c.segments, segment{a, b, what, -1})
}

// text adds the place of a text or a symbol.
func (c *collector) text(corners [4]drawing.Point, value string, label int, shelf bool) {
	upright := about(corners[0], corners[2]).Union(about(corners[1], corners[3]))
	c.boxes = append(c.boxes, box{corners, upright, value, label, shelf})
}

func (c *collector) curve(what string, extent drawing.Rect, at func(k float64) drawing.Point) {
	c.curves = append(c.curves, curve{at, extent, what})
}

func (c *collector) arc(a drawing.Arc, what string) {
	sweep := plane.Sweep(a.Start, a.End)
	b := plane.ArcBox(plane.Vec(a.Center), a.Radius, a.Start, a.End)
	c.curve(what, drawing.Rect{Min: drawing.Point(b.Min), Max: drawing.Point(b.Max)},
		func(k float64) drawing.Point { return a.Center.Add(drawing.Polar(a.Radius, a.Start+k*sweep)) })
}

func (c *collector) vertices(vs []drawing.Vertex, closed bool, what string) {
	for i, v := range vs {
		if i+1 == len(vs) && !closed {
			return
		}
		next := vs[(i+1)%len(vs)].Point
		if a, ok := drawing.BulgeArc(v, next); ok {
			c.arc(a, what)
		} else {
			c.line(v.Point, next, what)
		}
	}
}

// slack is how far texts may reach into each other, or lines into a text,
// before it counts: nothing but rounding.
const slack = 1e-6

// overlap reports whether two rectangles have inner points in common: no side
// of either separates them.
func overlap(p, q [4]drawing.Point) bool { return !separated(p, q) && !separated(q, p) }

func separated(p, q [4]drawing.Point) bool {
	for _, axis := range [2]drawing.Point{p[1].Sub(p[0]), p[3].Sub(p[0])} {
		plo, phi := shadow(p, axis)
		qlo, qhi := shadow(q, axis)
		if phi <= qlo+slack || qhi <= plo+slack {
			return true
		}
	}
	return false
}

// shadow returns the extent of the corners along a direction.
func shadow(p [4]drawing.Point, axis drawing.Point) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	l := axis.Len()
	for _, c := range p {
		k := (c.X*axis.X + c.Y*axis.Y) / l
		lo, hi = math.Min(lo, k), math.Max(hi, k)
	}
	return lo, hi
}

// hits reports whether a segment runs through the inside of a rectangle.
func hits(s *segment, p [4]drawing.Point) bool {
	// In the rectangle's own coordinates it is a box.
	u, v := p[1].Sub(p[0]), p[3].Sub(p[0])
	w, h := u.Len(), v.Len()
	local := func(q drawing.Point) plane.Vec {
		d := q.Sub(p[0])
		return plane.Vec{X: (d.X*u.X + d.Y*u.Y) / w, Y: (d.X*v.X + d.Y*v.Y) / h}
	}
	inner := plane.Box{Min: plane.Vec{X: slack, Y: slack}, Max: plane.Vec{X: w - slack, Y: h - slack}}
	return plane.SegmentHitsBox(local(s.a), local(s.b), inner)
}
