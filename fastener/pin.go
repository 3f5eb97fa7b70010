package fastener

import (
	"fmt"
	"math"

	"boltplate/drawing"
	"boltplate/internal/solid"
)

// A pin is a round pin under a head, which a notch in the hole keeps from
// turning. It stands out of the shank across the axis and touches the bearing
// face, or it stands in the bearing face along the axis and touches the shank.
// The zero pin is none.
type pin struct {
	along                      bool
	diameter, projection, root drawing.Quantity
	offset                     drawing.Quantity // of the axis of a pin along, from that of the bolt
}

// A pin across the axis, and one along it.
var (
	pinAcross = groupOf(
		fromMemory("p", "pin diameter", "0.2D"),
		fromMemory("p1", "pin projection beyond the shank", "0.2D"),
		fromMemory("p2", "pin length in the shank", "0.4D"))
	pinAlong = groupOf(
		fromMemory("p", "pin diameter", "0.2D"),
		fromMemory("p1", "pin projection below the head", "0.2D"),
		fromMemory("p2", "pin length in the head", "0.4D"),
		follows("e", "distance of the pin's axis from the bolt's", "(D + p)/2", "the diameters, which touch"))
)

// pin gives the bolt a pin under a head of the given height and radius.
func (b *bolt) pin(along bool, height, head float64) (pin, error) {
	g := pinAcross
	if along {
		g = pinAlong
	}
	b.z.use(g)
	if err := b.z.solve(); err != nil {
		return pin{}, err
	}
	p := pin{along: along, diameter: b.z.size("p"), projection: b.z.size("p1"), root: b.z.size("p2")}
	d, deep, out := b.z.d, b.z.d, b.z.d/2+p.projection.Value
	if along {
		p.offset = b.z.size("e")
		deep, out = height, p.offset.Value+p.diameter.Value/2
	}
	switch {
	case p.diameter.Value > 0.6*d:
		return p, b.z.refuse(b.z.at("p"), fmt.Sprintf("must be at most 0.6D = %s", mm(0.6*d)))
	case p.root.Value >= deep:
		return p, b.z.refuse(b.z.at("p2"), fmt.Sprintf("must be less than %s, what it stands in", mm(deep)))
	case out > head+1e-9:
		return p, b.z.refuse(b.z.at("p1"),
			fmt.Sprintf("makes the pin reach %s from the axis; it must stay under the head, which reaches %s",
				mm(out), mm(head)))
	}
	return p, nil
}

func (p pin) present() bool { return p.diameter.Value > 0 }

// reach returns how far from the bearing face the pin reaches.
func (p pin) reach() drawing.Quantity {
	if p.along {
		return p.projection
	}
	return p.diameter
}

// build adds the pin at the top of a shank of radius r, under a bearing face at
// x = 0. Where hidden edges are shown, the part of it inside the bolt is.
func (p pin) build(l look, m *model, r float64) {
	if !p.present() {
		return
	}
	a, in := p.diameter.Value/2, p.root.Value
	buried := func(x1, y1, z1, x2, y2, z2 float64) {
		m.mark(solid.Segment(solid.V(x1, y1, z1), solid.V(x2, y2, z2)).Marked(solid.Buried))
	}
	if p.along {
		e := p.offset.Value
		m.add(solid.Cylinder(solid.Axis{O: solid.V(0, e, 0), Dir: solid.V(1, 0, 0)}, a, 0, p.projection.Value))
		switch l.dir {
		case drawing.Front:
			buried(-in, e-a, 0, 0, e-a, 0)
			buried(-in, e+a, 0, 0, e+a, 0)
			buried(-in, e-a, 0, -in, e+a, 0)
		case drawing.SideView:
			buried(-in, e, -a, 0, e, -a)
			buried(-in, e, a, 0, e, a)
			buried(-in, e, -a, -in, e, a)
		}
		return
	}
	// It starts inside the shank, where no edge of it shows.
	m.add(solid.Cylinder(solid.AcrossY(a, 0), a, r/2, r+p.projection.Value).Without(solid.At(r / 2)))
	// Where it meets the shank: a line that a front view draws straight on the
	// outline of the shank, and that lies on the circle of the shank in a view
	// along the axis.
	switch {
	case l.dir == drawing.Front && !l.exact:
		m.mark(solid.CircleAt(solid.V(a, r, 0), solid.V(0, 1, 0), a))
	case l.dir == drawing.Front || l.pictorial() || l.exact:
		m.mark(solid.Along(func(s float64) solid.Vec {
			sin, cos := math.Sincos(2 * math.Pi * s)
			return solid.V(a+a*cos, math.Sqrt(r*r-a*a*sin*sin), a*sin)
		}))
	}
	switch l.dir {
	case drawing.Front:
		buried(0, r-in, 0, 0, r, 0)
		buried(2*a, r-in, 0, 2*a, r, 0)
		buried(0, r-in, 0, 2*a, r-in, 0)
	case drawing.HeadEnd, drawing.PointEnd:
		foot := math.Sqrt(r*r - a*a)
		buried(a, r-in, -a, a, foot, -a)
		buried(a, r-in, a, a, foot, a)
		buried(a, r-in, -a, a, r-in, a)
	}
}

// annotate gives the pin its centre lines and sizes.
func (p pin) annotate(b *builder, dir drawing.Direction, r float64) {
	if !p.present() {
		return
	}
	a, l := p.diameter.Value/2, p.projection.Value
	over := b.opt.Style.Part(drawing.CentreOverrun)
	in := 0.0 // how far the centre line follows the pin into the bolt
	if b.opt.Hidden {
		in = p.root.Value
	}
	dia := diameterLabel(p.diameter)
	if p.along {
		e := p.offset.Value
		switch dir {
		case drawing.Front:
			b.line(drawing.RoleCentre, -in-over, e, l+over, e)
			b.linear(drawing.Above, 0, label(p.projection), 0, e+a, l, e+a)
			if b.opt.Hidden {
				b.linear(drawing.Above, 0, label(p.root), -in, e+a, 0, e+a)
			}
			b.add(drawing.RoleDimension, drawing.Leader{Label: dia, Tip: drawing.Pt(l*0.6, e+a), Angle: 50, Rank: 1})
		case drawing.SideView:
			b.linear(drawing.Above, 2, label(p.projection), 0, a, l, a)
			if b.opt.Hidden {
				b.linear(drawing.Above, 2, label(p.root), -in, a, 0, a)
			}
			b.add(drawing.RoleDimension, drawing.Leader{Label: dia, Tip: drawing.Pt(l*0.6, a), Angle: 50, Rank: 2})
		case drawing.HeadEnd:
			if b.opt.Hidden {
				b.shortCross(b.turnedPoint(e), a)
			}
		case drawing.PointEnd:
			c := b.turnedPoint(e)
			if !b.seen(drawing.Pt(c.X-a, c.Y)) {
				return // behind a nut
			}
			b.shortCross(c, a)
			b.add(drawing.RoleDimension, drawing.Diameter{Label: dia, Center: c, Radius: a, Angle: 130})
			offset := label(p.offset)
			offset.Reference = true // the circles touch
			if b.opt.turned {
				b.linear(drawing.Above, 0, offset, 0, r, c.X, c.Y+a)
			} else {
				b.linear(drawing.Left, 0, offset, -r, 0, c.X-a, c.Y)
			}
		}
		return
	}
	switch dir {
	case drawing.Front:
		b.line(drawing.RoleCentre, a, r-in-over, a, r+l+over)
		b.linear(drawing.Above, 1, dia, 0, r+l, 2*a, r+l)
		b.add(drawing.RoleDimension, drawing.Leader{Label: label(p.projection), Tip: drawing.Pt(2*a, r+l*0.6),
			Angle: 40, Rank: 1})
	case drawing.SideView:
		b.line(drawing.RoleCentre, a, -a-over, a, a+over)
		b.add(drawing.RoleDimension, drawing.Diameter{Label: dia, Center: drawing.Pt(a, 0), Radius: a, Angle: 50})
	case drawing.PointEnd:
		end, foot, bottom := b.turnedPoint(r+l), b.turnedPoint(r), b.turnedPoint(r-in)
		side, corner := drawing.Left, drawing.Pt(-a, 0)
		if b.opt.turned {
			side, corner = drawing.Above, drawing.Pt(0, a)
		}
		if end = end.Add(corner); !b.seen(end) {
			return // behind a nut
		}
		b.linear(side, 0, label(p.projection), foot.X, foot.Y, end.X, end.Y)
		if bottom = bottom.Add(corner); b.opt.Hidden {
			b.linear(side, 0, label(p.root), bottom.X, bottom.Y, foot.X, foot.Y)
		}
	}
}
