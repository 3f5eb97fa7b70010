package drawing

import (
	"math"

	"boltplate/internal/plane"
)

// A Transform is a mirror image, then a change of scale, then a turn about the
// origin, then a move, in that order. The zero Transform changes nothing.
type Transform struct {
	Mirror bool    // in the x axis: y becomes -y
	Scale  float64 // 0 means 1
	Turn   float64 // degrees counter-clockwise
	Move   Point
}

// K returns the factor by which the transform multiplies lengths.
func (t Transform) K() float64 { return orDefault(t.Scale, 1) }

// Vector returns the image of a vector: everything but the move.
func (t Transform) Vector(p Point) Point {
	if t.Mirror {
		p.Y = -p.Y
	}
	if t.Scale != 0 {
		p = p.Mul(t.Scale)
	}
	if t.Turn != 0 {
		s, c := plane.Sincos(t.Turn)
		p = Point{p.X*c - p.Y*s, p.X*s + p.Y*c}
	}
	return p
}

// Point returns the image of a point.
func (t Transform) Point(p Point) Point { return t.Vector(p).Add(t.Move) }

// Angle returns the image of a direction in degrees.
func (t Transform) Angle(a float64) float64 {
	if t.Mirror {
		a = -a
	}
	return a + t.Turn
}

// arc returns the image of a counter-clockwise range of angles.
func (t Transform) arc(start, end float64) (float64, float64) {
	a, b := t.Angle(start), t.Angle(end)
	if t.Mirror {
		return b, a
	}
	return a, b
}

// Apply returns the image of l.
func (l Line) Apply(t Transform) Line { return Line{t.Point(l.From), t.Point(l.To)} }

// Apply returns the image of a.
func (a Arc) Apply(t Transform) Arc {
	s, e := t.arc(a.Start, a.End)
	return Arc{t.Point(a.Center), a.Radius * t.K(), s, e}
}

// Apply returns the image of c.
func (c Circle) Apply(t Transform) Circle { return Circle{t.Point(c.Center), c.Radius * t.K()} }

// Apply returns the image of e.
func (e Ellipse) Apply(t Transform) Ellipse {
	e.Center, e.Major = t.Point(e.Center), t.Vector(e.Major)
	if t.Mirror && e.Start != e.End {
		e.Start, e.End = -e.End, -e.Start
	}
	return e
}

// Apply returns the image of c.
func (c Conic) Apply(t Transform) Conic {
	return Conic{t.Point(c.From), t.Point(c.Control), t.Point(c.To), c.Weight}
}

// Apply returns the image of v.
func (v Vertex) Apply(t Transform) Vertex {
	if t.Mirror {
		v.Bulge = -v.Bulge
	}
	return Vertex{t.Point(v.Point), v.Bulge}
}

// Apply returns the image of p; its vertices are new.
func (p Polyline) Apply(t Transform) Polyline {
	return Polyline{applyAll(p.Vertices, t), p.Closed}
}

func applyAll(vs []Vertex, t Transform) []Vertex {
	out := make([]Vertex, len(vs))
	for i, v := range vs {
		out[i] = v.Apply(t)
	}
	return out
}

// Apply returns the image of x. A mirror image moves the text; it does not
// make it unreadable.
func (x Text) Apply(t Transform) Text {
	x.At, x.Angle = t.Point(x.At), t.Angle(x.Angle)
	return x
}

// Apply returns the image of h; its loops are new.
func (h Hatch) Apply(t Transform) Hatch {
	loops := make([][]Vertex, len(h.Loops))
	for i, l := range h.Loops {
		loops[i] = applyAll(l, t)
	}
	h.Loops, h.Angle = loops, t.Angle(h.Angle)
	return h
}

// Apply returns the image of l. Turns by multiples of 90 degrees only: see
// Aligned for other directions.
func (l Linear) Apply(t Transform) Linear {
	at := Point{l.TextAt, l.At}
	if l.Side.Vertical() {
		at = Point{l.At, l.TextAt}
	}
	at = t.Point(at)
	l.From, l.To, l.Side = t.Point(l.From), t.Point(l.To), t.side(l.Side)
	l.TextAt, l.At = at.X, at.Y
	if l.Side.Vertical() {
		l.At, l.TextAt = at.X, at.Y
	}
	return l
}

// side returns the image of a side under the nearest quarter turn.
func (t Transform) side(s Side) Side {
	round := [4]Side{Right, Above, Left, Below} // counter-clockwise from the x axis
	var i int
	for round[i] != s {
		i++
	}
	if t.Mirror && i%2 == 1 {
		i = 4 - i
	}
	q := int(math.Round(t.Turn/90)) % 4
	return round[(i+q+4)%4]
}

// Apply returns the image of a.
func (a Aligned) Apply(t Transform) Aligned {
	a.From, a.To = t.Point(a.From), t.Point(a.To)
	a.At *= t.K()
	a.TextAt *= t.K()
	if t.Mirror {
		a.At = -a.At
		if a.Side == Above {
			a.Side = Below
		} else {
			a.Side = Above
		}
	}
	return a
}

// apply returns the image of s, which runs on away from the image of what its
// leader comes from.
func (s Shelf) apply(t Transform, from Point) Shelf {
	run := Point{t.K(), 0}
	if s.Left {
		run.X = -run.X
	}
	run, away := t.Vector(run), t.Vector(s.Knee.Sub(from))
	s.Knee = t.Point(s.Knee)
	switch {
	case math.Abs(run.X) > 1e-9*math.Abs(run.Y):
		s.Left = run.X < 0
	case away.X != 0: // a quarter turn: shelves stay horizontal
		s.Left = away.X < 0
	}
	return s
}

// Apply returns the image of d.
func (d Diameter) Apply(t Transform) Diameter {
	if d.Start != d.End {
		d.Start, d.End = t.arc(d.Start, d.End)
	}
	d.Center, d.Radius, d.Angle, d.Shelf = t.Point(d.Center), d.Radius*t.K(), t.Angle(d.Angle), d.Shelf.apply(t, d.Center)
	return d
}

// Apply returns the image of r.
func (r Radius) Apply(t Transform) Radius {
	if r.Start != r.End {
		r.Start, r.End = t.arc(r.Start, r.End)
	}
	r.Center, r.Radius, r.Angle, r.Shelf = t.Point(r.Center), r.Radius*t.K(), t.Angle(r.Angle), r.Shelf.apply(t, r.Center)
	return r
}

// Apply returns the image of l. The symbol of a taper narrows where the image
// of the part does.
func (l Leader) Apply(t Transform) Leader {
	l.Tip, l.Angle, l.Shelf = t.Point(l.Tip), t.Angle(l.Angle), l.Shelf.apply(t, l.Tip)
	l.Label.Symbol = l.Label.Symbol.turned(t)
	return l
}

// Apply returns the image of a.
func (a Angular) Apply(t Transform) Angular {
	a.Vertex = t.Point(a.Vertex)
	a.Start, a.End = t.arc(a.Start, a.End)
	a.From, a.To, a.At = a.From*t.K(), a.To*t.K(), a.At*t.K()
	if t.Mirror {
		a.From, a.To, a.TextAt = a.To, a.From, -a.TextAt
	}
	return a
}

// Apply returns the image of any shape.
func Apply(s Shape, t Transform) Shape {
	switch s := s.(type) {
	case Line:
		return s.Apply(t)
	case Arc:
		return s.Apply(t)
	case Circle:
		return s.Apply(t)
	case Ellipse:
		return s.Apply(t)
	case Conic:
		return s.Apply(t)
	case Polyline:
		return s.Apply(t)
	case Text:
		return s.Apply(t)
	case Hatch:
		return s.Apply(t)
	case Linear:
		return s.Apply(t)
	case Aligned:
		return s.Apply(t)
	case Diameter:
		return s.Apply(t)
	case Radius:
		return s.Apply(t)
	case Leader:
		return s.Apply(t)
	case Angular:
		return s.Apply(t)
	}
	return s
}

// Apply returns the image of v.
func (v View) Apply(t Transform) View {
	items := make([]Item, len(v.Items))
	for i, it := range v.Items {
		items[i] = Item{it.Role, Apply(it.Shape, t)}
	}
	v.Items = items
	return v
}

// Move returns v moved by dx and dy.
func (v View) Move(dx, dy float64) View { return v.Apply(Transform{Move: Point{dx, dy}}) }

// Turn returns v turned about its origin, degrees counter-clockwise.
func (v View) Turn(angle float64) View { return v.Apply(Transform{Turn: angle}) }

// Scale returns v with all lengths on the part multiplied by k.
func (v View) Scale(k float64) View { return v.Apply(Transform{Scale: k}) }

// Mirror returns the mirror image of v in its x axis.
func (v View) Mirror() View { return v.Apply(Transform{Mirror: true}) }
