package drawing

import (
	"math"

	"boltplate/internal/plane"
)

// Bounds returns the extent of the view with its dimensions at the given
// style; dimensions that are not placed do not count.
func (v View) Bounds(st Style) Rect {
	r := v.Outline()
	for i := range v.Items {
		x, ok := Expand(v.Items[i].Shape, st)
		if ok {
			r = r.Union(x.Bounds())
		} else if t, isText := v.Items[i].Shape.(Text); isText {
			r = r.Union(t.Bounds(st))
		}
	}
	return r
}

// Outline returns the extent of the view without its dimensions and texts.
func (v View) Outline() Rect {
	r := EmptyRect()
	for i := range v.Items {
		r = r.Union(bounds(v.Items[i].Shape))
	}
	return r
}

// Bounds returns the extent of the expansion.
func (x *Expansion) Bounds() Rect {
	r := EmptyRect()
	for _, l := range x.Lines() {
		r = r.Including(l.From).Including(l.To)
	}
	for _, a := range x.Arcs() {
		r = r.Union(a.Bounds())
	}
	for _, a := range x.Arrows() {
		r = r.Including(a[0]).Including(a[1]).Including(a[2])
	}
	if x.shown {
		for _, p := range x.box {
			r = r.Including(p)
		}
	}
	return r
}

func bounds(s Shape) Rect {
	switch s := s.(type) {
	case Line:
		return s.Bounds()
	case Arc:
		return s.Bounds()
	case Circle:
		return s.Bounds()
	case Ellipse:
		return s.Bounds()
	case Conic:
		return s.Bounds()
	case Polyline:
		return vertexBounds(s.Vertices, s.Closed)
	case Hatch:
		return loopBounds(s.Loops)
	case Cover:
		return loopBounds(s.Loops)
	}
	return EmptyRect()
}

func loopBounds(loops [][]Vertex) Rect {
	r := EmptyRect()
	for _, l := range loops {
		r = r.Union(vertexBounds(l, true))
	}
	return r
}

// Bounds returns the extent of l.
func (l Line) Bounds() Rect { return Rect{l.From, l.From}.Including(l.To) }

// Bounds returns the extent of a.
func (a Arc) Bounds() Rect { return rectOf(plane.ArcBox(a.Center.vec(), a.Radius, a.Start, a.End)) }

// Bounds returns the extent of c.
func (c Circle) Bounds() Rect { return Rect{c.Center, c.Center}.Grown(c.Radius) }

// Bounds returns the extent of c.
func (c Conic) Bounds() Rect {
	return rectOf(plane.ConicBox(c.From.vec(), c.Control.vec(), c.To.vec(), c.Weight))
}

// Whole reports whether e is a whole ellipse.
func (e Ellipse) Whole() bool { return e.Start == e.End || plane.Sweep(e.Start, e.End) == 360 }

// At returns the point of e at the parameter t (degrees).
func (e Ellipse) At(t float64) Point {
	s, c := plane.Sincos(t)
	minor := Point{-e.Major.Y, e.Major.X}.Mul(e.Ratio)
	return e.Center.Add(e.Major.Mul(c)).Add(minor.Mul(s))
}

// Bounds returns the extent of e.
func (e Ellipse) Bounds() Rect {
	r := EmptyRect()
	if !e.Whole() {
		r = r.Including(e.At(e.Start)).Including(e.At(e.End))
	}
	// Where a coordinate turns: tan t = minor / major in that coordinate.
	minor := Point{-e.Major.Y, e.Major.X}.Mul(e.Ratio)
	for _, t := range [2]float64{plane.Degrees(e.Major.X, minor.X), plane.Degrees(e.Major.Y, minor.Y)} {
		for _, u := range [2]float64{t, t + 180} {
			if e.Whole() || plane.InArc(u, e.Start, e.End) {
				r = r.Including(e.At(u))
			}
		}
	}
	return r
}

func vertexBounds(vs []Vertex, closed bool) Rect {
	r := EmptyRect()
	for i, v := range vs {
		r = r.Including(v.Point)
		if v.Bulge != 0 && (closed || i+1 < len(vs)) {
			if a, ok := BulgeArc(v, vs[(i+1)%len(vs)].Point); ok {
				r = r.Union(a.Bounds())
			}
		}
	}
	return r
}

// BulgeArc returns the arc from v to the next vertex of a polyline, and false
// where the segment is straight.
func BulgeArc(v Vertex, to Point) (Arc, bool) {
	chord := to.Sub(v.Point)
	b := v.Bulge
	if math.Abs(b) < 1e-9 || chord.Len() == 0 { // bulged by rounding only
		return Arc{}, false
	}
	r := chord.Len() * (1 + b*b) / (4 * math.Abs(b))
	// The centre lies on the perpendicular bisector, to the left of the chord
	// for a small counter-clockwise turn.
	h := chord.Len() / 2 * (1 - b*b) / (2 * b)
	u := unit(chord)
	c := v.Point.Mid(to).Add(Point{-u.Y, u.X}.Mul(h))
	s, e := v.Point.Sub(c).Angle(), to.Sub(c).Angle()
	if b < 0 {
		s, e = e, s
	}
	return Arc{c, r, s, e}, true
}

// Box returns the corners of the box that the text fills at the given style,
// from the left end of its base line counter-clockwise.
func (t Text) Box(st Style) [4]Point {
	h := st.Part(orDefault(t.Height, st.Height()))
	w := st.TextWidth(t.Value, h)
	s, c := plane.Sincos(t.Angle)
	u, n := Point{c, s}, Point{-s, c}
	if t.Slant != 0 {
		n = n.Add(u.Mul(math.Tan(t.Slant * math.Pi / 180)))
	}
	left := t.At
	if t.Hang {
		left = left.Sub(n.Mul(h))
	}
	switch t.Align {
	case AlignCentre:
		left = left.Sub(u.Mul(w / 2))
	case AlignRight:
		left = left.Sub(u.Mul(w))
	}
	right := left.Add(u.Mul(w))
	return [4]Point{left, right, right.Add(n.Mul(h)), left.Add(n.Mul(h))}
}

// Bounds returns the extent of the text at the given style.
func (t Text) Bounds(st Style) Rect {
	r := EmptyRect()
	for _, p := range t.Box(st) {
		r = r.Including(p)
	}
	return r
}

// Bounds returns the extent of the whole drawing, dimensions and texts
// included.
func (d Drawing) Bounds() Rect {
	r := EmptyRect()
	for i := range d.Views {
		r = r.Union(d.Views[i].Bounds(d.Style))
	}
	for i := range d.Items {
		if t, ok := d.Items[i].Shape.(Text); ok {
			r = r.Union(t.Bounds(d.Style))
		} else if x, ok := Expand(d.Items[i].Shape, d.Style); ok {
			r = r.Union(x.Bounds())
		} else {
			r = r.Union(bounds(d.Items[i].Shape))
		}
	}
	for i := range d.Parts {
		for _, a := range d.Parts[i].Attributes {
			if !a.Hidden {
				r = r.Union(a.Text.Bounds(d.Style))
			}
		}
	}
	return r
}
