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

// Then returns the transform that does t and then u.
func (t Transform) Then(u Transform) Transform {
	turn := t.Turn
	if u.Mirror {
		turn = -turn
	}
	return Transform{Mirror: t.Mirror != u.Mirror, Scale: t.K() * u.K(), Turn: turn + u.Turn, Move: u.Point(t.Move)}
}

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

// Apply returns x where its image is, to be read from left to right, and from
// below or from the right of the drawing.
func (x Text) Apply(t Transform) Text {
	x.At, x.Angle = t.Point(x.At), t.Angle(x.Angle)
	if t.Mirror {
		x.Hang, x.Slant = !x.Hang, -x.Slant
	}
	if a := readable(x.Angle); (t.Mirror || t.Turn != 0) && a != x.Angle {
		if math.Abs(math.Remainder(a-x.Angle, 360)) > 90 {
			x.Hang = !x.Hang
			if x.Align <= AlignRight {
				x.Align = AlignRight - x.Align
			}
		}
		x.Angle = a
	}
	return x
}

// Apply returns the image of h; its loops are new.
func (h Hatch) Apply(t Transform) Hatch {
	h.Loops, h.Angle = applyLoops(h.Loops, t), t.Angle(h.Angle)
	return h
}

// Apply returns the image of c; its loops are new.
func (c Cover) Apply(t Transform) Cover { return Cover{applyLoops(c.Loops, t)} }

func applyLoops(loops [][]Vertex, t Transform) [][]Vertex {
	out := make([][]Vertex, len(loops))
	for i, l := range loops {
		out[i] = applyAll(l, t)
	}
	return out
}

// Apply returns the image of l, which measures the image of what l measures:
// after a turn that is no quarter of a circle along axes that are turned.
func (l Linear) Apply(t Transform) Linear {
	at := t.Point(l.world(l.onLine(l.TextAt)))
	turn := l.Turn
	if t.Mirror {
		turn = -turn
		l.Side = l.Side.mirrored()
	}
	l.From, l.To = t.Point(l.From), t.Point(l.To)
	l.Turn = turn + t.Turn
	l.quarter()
	at = l.local(at)
	l.At, l.TextAt = at.Y, at.X
	if l.Side.Vertical() {
		l.At, l.TextAt = at.X, at.Y
	}
	return l
}

// quarter moves quarter turns from the axes of l to its side, so that the rest
// is at most an eighth of a turn.
func (l *Linear) quarter() {
	q := math.Round(l.Turn / 90)
	if l.Turn -= 90 * q; math.Abs(l.Turn) < 1e-9 {
		l.Turn = 0
	}
	for range (int(math.Mod(q, 4)) + 4) % 4 {
		l.Side = l.Side.turned()
	}
}

// turned returns the side after a quarter turn counter-clockwise, and mirrored
// that in the x axis. What is no side stays.
func (s Side) turned() Side {
	switch s {
	case Right:
		return Above
	case Above:
		return Left
	case Left:
		return Below
	case Below:
		return Right
	}
	return s
}

func (s Side) mirrored() Side {
	switch s {
	case Above:
		return Below
	case Below:
		return Above
	}
	return s
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
	case Cover:
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
