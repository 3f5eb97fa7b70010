package fastener

import (
	"fmt"
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

// The snug of a bolt, and the nibs of a T-head bolt: of the form and the
// proportions of a snug, one above and one below.
var (
	snugRules = groupOf(
		published("g1", "snug projection", "0.2D", low+", measured"),
		published("g2", "snug length", "0.5D", low+", measured"),
		fromMemory("g3", "snug width", "0.2D"))
	nibRules = groupOf(
		fromMemory("g1", "nib projection", "0.2D"),
		fromMemory("g2", "nib length", "0.5D"),
		fromMemory("g3", "nib width", "0.2D"))
)

// snug gives the bolt a snug or nibs under a head that reaches to the radius
// head all round.
func (b *bolt) snug(g *group, head float64) (snug, error) {
	b.z.use(g)
	if err := b.z.solve(); err != nil {
		return snug{}, err
	}
	s := snug{projection: b.z.size("g1"), length: b.z.size("g2"), width: b.z.size("g3")}
	b.fits.Snug = SnugFit{Projection: s.projection.Value, Length: s.length.Value, Width: s.width.Value}
	d := b.z.d
	switch {
	case d/2+s.projection.Value > head+1e-9:
		return s, b.z.refuse(b.z.at("g1"), fmt.Sprintf("must be at most %s, so that it stays under the head",
			mm(head-d/2)))
	case s.projection.Value > s.length.Value:
		return s, b.z.refuse(b.z.at("g1"), fmt.Sprintf("must be at most the length, g2 = %s", mm(s.length.Value)))
	case s.width.Value > 0.8*d:
		return s, b.z.refuse(b.z.at("g3"), fmt.Sprintf("must be at most 0.8D = %s", mm(0.8*d)))
	}
	return s, nil
}

func (s snug) present() bool { return s.length.Value > 0 }

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
		{X: x0, Y: inside}, {X: x1, Y: inside}, {X: x1, Y: r, Bulge: quarterTurn}, {X: x1 - g1, Y: r + g1},
		{X: x0, Y: r + g1},
	})
	// Of the edges at the end and at the bearing face what is outside the shank
	// comes with the lines where the two meet.
	body = body.Without(solid.InPlane(y.Mul(inside), y), solid.InPlane(solid.V(x1, 0, 0), x),
		solid.InPlane(solid.V(x0, 0, 0), x).Along(y))
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
		m.mark(solid.Segment(at(x0, r, h), at(x1, r, h)), solid.Segment(at(x0, r, -h), at(x1, r, -h)),
			solid.Segment(at(x1, r, -h), at(x1, r, h)))
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
		b.add(drawing.RoleDimension, drawing.Leader{Label: label(s.projection),
			Tip: drawing.Pt(x0+(g2-g1)*0.6, r+g1), Angle: 40, Rank: 1})
	case drawing.SideView:
		b.add(drawing.RoleDimension, drawing.Leader{Label: label(s.width), Tip: drawing.Pt(x0+g2*0.7, h),
			Angle: 50, Rank: 1})
	case drawing.PointEnd:
		if !b.seen(drawing.Pt(-h, r+g1)) {
			return // behind a nut, or turned
		}
		b.linear(drawing.Above, 0, label(s.width), -h, r+g1, h, r+g1)
		b.linear(drawing.Right, 0, label(s.projection), h, r, h, r+g1)
	}
}
