package fastener

import (
	"boltplate/drawing"
	"boltplate/thread"
)

// A nut is what nuts come down to once their sizes are settled.
type nut struct {
	kind      string
	t         thread.Thread
	z         sizer // its sizes
	widths    widths
	height    drawing.Quantity
	bothFaces bool // chamfered on both faces
	// form is that of a nut whose views are made from solids.
	form *nutForm
	fits NutFit // as far as the kind says it
}

// A nutForm is a nut that is made of solids.
type nutForm struct {
	// figure returns the nut with its bearing face at x, on a bolt or by itself.
	figure func(x float64, on *bolt) *figure
	// base and top are the half heights of the bearing face and of the other
	// end, as an elevation shows them across corners or across flats.
	base, top func(acrossCorners bool) float64
	// face is where the hexagon ends, from the bearing face; 0 means at the end of
	// the nut.
	face float64
	// inPlan says that the height is clear to measure in the plan, and not in
	// the front view.
	inPlan bool
	// onBolt reports whether the nut with its bearing face at seat fits on the
	// bolt. It may be nil: then the bolt must reach through it by a pitch.
	onBolt func(b *bolt, seat float64) error
	// extra are the letters of the sizes that a bolt with this nut names.
	extra []string
	// annotate adds what a view of the nut with its bearing face at x says
	// besides its height: its other sizes, unless it is on a bolt that has them
	// already (on is nil where it stands alone), and the centre lines of what is
	// off the axis. It may be nil.
	annotate func(b *builder, dir drawing.Direction, x float64, on *clamped)
}

// newNut returns a nut whose diameter and pitch are known. word is what tells
// the variant of the kind from others in rules of one's own.
func newNut(kind, word string, e Extra, t thread.Thread) *nut {
	n := &nut{kind: kind, t: t, z: newSizer(kind, word, e.Rules, t)}
	n.z.pitch(t)
	return n
}

// finish works out what is left.
func (n *nut) finish() error {
	n.z.figure(sizeBore, n.t, thread.ItemMinorDiameter)
	if err := n.z.solve(); err != nil {
		return err
	}
	n.height = n.z.size("H")
	return nil
}

func (n *nut) prism(x float64) prism {
	p := n.widths.prism(x, x+n.height.Value)
	p.bothFaces = n.bothFaces
	return p
}

func (n *nut) quantities() []drawing.Quantity { return quantitiesOf(n.z.list) }

func (n *nut) view(dir drawing.Direction, opt Options) (drawing.View, error) {
	return n.figure(0, nil).view(dir, opt)
}

// figure returns the nut with its bearing face at x, on a bolt or by itself.
func (n *nut) figure(x float64, on *bolt) *figure {
	if n.form != nil {
		g := n.form.figure(x, on)
		if on == nil && g.pictorial == nil {
			g.pictorial = func(d *builder) { n.dimensionPictorial(d, x) }
		}
		return g
	}
	p := n.prism(x)
	g := &figure{kind: n.kind, from: p.x0, to: p.x1, fromPoint: true, eighth: p.n == 4}
	g.build = func(l look, m *model) {
		h := bore{t: n.t, x0: p.x0, x1: p.x1}
		m.add(p.solid(l).Less(h.hole(l, on)))
		if on == nil {
			m.bore(l, h)
		}
	}
	if on == nil {
		g.pictorial = func(d *builder) { n.dimensionPictorial(d, x) }
		g.annotate = n.annotate
	}
	return g
}

// annotate gives the sizes of a prismatic nut that stands alone.
func (n *nut) annotate(b *builder, dir drawing.Direction) {
	p := n.prism(0)
	corners := b.onCorner(p.n)
	switch dir {
	case drawing.Front, drawing.SideView:
		rank := drawing.Rank(1)
		if dir == drawing.Front {
			rank = 0
		}
		b.linear(drawing.Below, rank, label(n.height), p.x0, -p.bearing(corners), p.x1, -p.flats/2)
		n.widths.dimensionsAlong(b, p, corners, drawing.Right)
	default:
		b.endLabel(n.t, false, 0)
		rank := drawing.Rank(0)
		if dir == drawing.HeadEnd {
			rank = 2
		}
		n.widths.dimensionsAcross(b, p, corners, rank)
	}
}
