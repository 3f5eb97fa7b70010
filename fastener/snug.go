package fastener

import (
	"math"

	"boltplate/drawing"
	"boltplate/internal/solid"
)

// A snug is a short ridge on the shank under a head, which a notch in the hole
// keeps from turning. Its end towards the point is rounded. The zero snug is
// none.
type snug struct {
	projection, length, width drawing.Quantity
	under                     bool // below the axis, not above it
}

// snugByRule returns the snug of a bolt of diameter d by proportion.
func snugByRule(d float64) snug {
	return snug{
		projection: drawing.Quantity{Letter: "g1", Name: "snug projection", Rule: "0.2D", Value: 0.2 * d,
			Source: "Low, Machine Drawing and Design (1887), measured", Status: drawing.Published},
		length: drawing.Quantity{Letter: "g2", Name: "snug length", Rule: "0.5D", Value: 0.5 * d,
			Source: "Low, Machine Drawing and Design (1887), measured", Status: drawing.Published},
		width: drawing.Quantity{Letter: "g3", Name: "snug width", Rule: "0.2D", Value: 0.2 * d,
			Source: "common practice (from memory, unverified)", Status: drawing.FromMemory},
	}
}

func (s snug) present() bool { return s.length.Value > 0 }

func (s snug) quantities() []drawing.Quantity {
	return []drawing.Quantity{s.projection, s.length, s.width}
}

// below returns the snug on the other side of the shank.
func (s snug) below() snug { s.under = !s.under; return s }

// up returns 1, or -1 below the axis.
func (s snug) up() float64 {
	if s.under {
		return -1
	}
	return 1
}

// build adds the snug at the top of a shank of radius r, from x0.
func (s snug) build(l look, m *model, r, x0 float64) {
	if !s.present() {
		return
	}
	g1, x1, h, up := s.projection.Value, x0+s.length.Value, s.width.Value/2, s.up()
	inside := r / 2 // where it starts, in the shank
	x, y := solid.V(1, 0, 0), solid.V(0, up, 0)
	body := solid.Extrude(solid.V(0, 0, 0), x, y, -h, h, []solid.Vertex{
		{X: x0, Y: inside}, {X: x1, Y: inside}, {X: x1, Y: r, Bulge: quarterTurn}, {X: x1 - g1, Y: r + g1}, {X: x0, Y: r + g1},
	})
	// Of the edges at the end and at the bearing face what is outside the shank
	// comes with the lines where the two meet.
	body = body.Without(solid.InPlane(y.Mul(inside), y), solid.InPlane(solid.V(x1, 0, 0), x), solid.InPlane(solid.V(x0, 0, 0), x).Along(y))
	m.add(body)
	foot := math.Sqrt(r*r - h*h)
	at := func(x, y, z float64) solid.Vec { return solid.V(x, up*y, z) }
	for _, z := range [2]float64{h, -h} {
		m.mark(solid.Segment(at(x0, foot, z), at(x0, r+g1, z)))
	}
	switch {
	case l.exact || l.pictorial():
		a := math.Asin(h/r) * 180 / math.Pi
		m.mark(solid.Segment(at(x0, foot, h), at(x1, foot, h)), solid.Segment(at(x0, foot, -h), at(x1, foot, -h)),
			solid.Segment(at(x1, foot, h), at(x1, r, h)), solid.Segment(at(x1, foot, -h), at(x1, r, -h)),
			solid.ArcAt(at(x1, 0, 0), y, solid.V(0, 0, 1), r, -a, a))
	case l.along(): // straight on the outline of the shank
		m.mark(solid.Segment(at(x0, r, h), at(x1, r, h)), solid.Segment(at(x0, r, -h), at(x1, r, -h)), solid.Segment(at(x1, r, -h), at(x1, r, h)))
	}
}

// quarterTurn is the bulge of a quarter of a circle: tan(90/4 degrees).
const quarterTurn = math.Sqrt2 - 1

// dimensions gives the snug's sizes: its length and projection in the front
// view, its width in the plan or from the point.
func (s snug) dimensions(b *builder, dir drawing.Direction, r, x0 float64) {
	if !s.present() {
		return
	}
	g1, g2, h := s.projection.Value, s.length.Value, s.width.Value/2
	switch dir {
	case drawing.Front:
		b.linear(drawing.Above, 0, label(s.length), x0, r+g1, x0+g2, r)
		b.add(drawing.RoleDimension, drawing.Leader{Label: label(s.projection), Tip: drawing.Pt(x0+(g2-g1)*0.6, r+g1), Angle: 40})
	case drawing.SideView:
		b.add(drawing.RoleDimension, drawing.Leader{Label: label(s.width), Tip: drawing.Pt(x0+g2*0.7, h), Angle: 50, Rank: 1})
	case drawing.PointEnd:
		if !b.seen(drawing.Pt(-h, r+g1)) {
			return // behind a nut, or turned
		}
		b.linear(drawing.Above, 0, label(s.width), -h, r+g1, h, r+g1)
	}
}
