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

// solids returns the snug at the top of a shank of radius r, from x0.
func (s snug) solids(r, x0 float64) []solid.Solid {
	g1, x1, y0 := s.projection.Value, x0+s.length.Value, r/2
	profile := []solid.Vertex{
		{X: x0, Y: y0}, {X: x1, Y: y0}, {X: x1, Y: r, Bulge: quarterTurn}, {X: x1 - g1, Y: r + g1}, {X: x0, Y: r + g1},
	}
	h := s.width.Value / 2
	up := s.up()
	body := solid.Extrude(solid.V(0, 0, 0), solid.V(1, 0, 0), solid.V(0, up, 0), -h, h, profile)
	// Edges stay that are outside the shank: those at the end rise no further
	// than the straight intersection, those at the bearing face start at the
	// shank.
	body = body.Without(0, 1, 2, 3, 4, 10, 11, 12)
	foot := math.Sqrt(r*r - h*h)
	for _, z := range [2]float64{h, -h} {
		body = body.With(solid.Segment(solid.V(x0, up*foot, z), solid.V(x0, up*(r+g1), z)))
	}
	return []solid.Solid{body}
}

// quarterTurn is the bulge of a quarter of a circle: tan(90/4 degrees).
const quarterTurn = math.Sqrt2 - 1

// marks returns the lines where the snug meets the shank, drawn straight on its
// outline (ISO 128 lets so small an intersection be simplified).
func (s snug) marks(r, x0 float64) []solid.Curve {
	x1, h := x0+s.length.Value, s.width.Value/2
	r *= s.up()
	return []solid.Curve{
		solid.Segment(solid.V(x0, r, h), solid.V(x1, r, h)),
		solid.Segment(solid.V(x0, r, -h), solid.V(x1, r, -h)),
		solid.Segment(solid.V(x1, r, -h), solid.V(x1, r, h)),
	}
}

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
