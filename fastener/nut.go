package fastener

import (
	"boltplate/drawing"
	"boltplate/thread"
)

// A nut is what nuts come down to once their sizes are settled.
type nut struct {
	kind      string
	t         thread.Thread
	widths    widths
	height    drawing.Quantity
	bothFaces bool // chamfered on both faces
	// form is that of a nut whose views are made from solids.
	form *nutForm
}

// A nutForm is a nut that is made of solids.
type nutForm struct {
	quantities []drawing.Quantity // after those of the thread
	// figure returns the nut with its bearing face at x; on a bolt its hole is
	// full.
	figure func(st drawing.Style, x float64, onBolt bool) *figure
	// base and top are the half heights of the bearing face and of the other
	// end, as an elevation shows them across corners or across flats.
	base, top func(acrossCorners bool) float64
	// inPlan says that the height is clear to measure in the plan, and not in
	// the front view.
	inPlan bool
	// onBolt reports whether the nut with its bearing face at seat fits on the
	// bolt. It may be nil: then the bolt must reach through it by a pitch.
	onBolt func(b *bolt, seat float64) error
	// extra are the quantities that a bolt with this nut names.
	extra []drawing.Quantity
	// annotate adds what a view of the nut with its bearing face at x says
	// besides its height: its other sizes, unless it is on a bolt that has them
	// already (on is nil where it stands alone), and the centre lines of what is
	// off the axis. It may be nil.
	annotate func(b *builder, dir drawing.Direction, x float64, on *clamped)
}

func (n *nut) prism(x float64) prism {
	return prism{n: n.widths.n, flats: n.widths.flats.Value, x0: x, x1: x + n.height.Value, bothFaces: n.bothFaces}
}

func (n *nut) quantities() []drawing.Quantity {
	qs := make([]drawing.Quantity, 0, 14)
	qs = append(qs, nominalDiameter(n.t), pitch(n.t))
	if n.form != nil {
		return append(append(qs, n.form.quantities...), minorDiameter(n.t))
	}
	qs = append(qs, n.widths.quantities()...)
	return append(qs, n.height, minorDiameter(n.t))
}

func minorDiameter(t thread.Thread) drawing.Quantity {
	return drawing.Quantity{Letter: "D1", Name: "minor diameter of the thread", Rule: "D - 1.0825P",
		Value: t.MinorDiameter(), Source: sourceISO724, Status: drawing.Published}
}

func (n *nut) view(dir drawing.Direction, opt Options) (drawing.View, error) {
	b := newBuilder(opt)
	if n.form != nil {
		return n.figure(opt.Style, 0, false).view(dir, opt)
	}
	switch dir {
	case drawing.Isometric:
		return n.figure(opt.Style, 0, false).view(dir, opt)
	case drawing.Front, drawing.SideView:
		n.elevation(b, dir == drawing.Front)
	case drawing.HeadEnd, drawing.PointEnd:
		n.end(b, dir == drawing.PointEnd)
	default:
		return drawing.View{}, noView(n.kind, dir, allViews()...)
	}
	return b.view(dir.String(), dir), nil
}

func (n *nut) elevation(b *builder, acrossCorners bool) {
	p := n.prism(0)
	p.elevation(b, acrossCorners)
	if b.opt.Hidden {
		for _, r := range [2]float64{n.t.D / 2, boreRadius(n.t, b.opt.Style)} {
			// 2D across corners puts the corners of the middle face on the
			// major diameter: the visible edge wins.
			if !p.edgeAt(acrossCorners, r) {
				b.both(drawing.RoleHidden, p.x0, r, p.x1, r)
			}
		}
	}
	b.axis(p.x0, p.x1)
	rank := drawing.Rank(1)
	if acrossCorners {
		rank = 0
	}
	b.linear(drawing.Below, rank, label(n.height), p.x0, -p.bearing(acrossCorners), p.x1, -p.flats/2)
	n.widths.dimensionsAlong(b, p, acrossCorners, drawing.Right)
}

// end draws the view along the axis; from the point end the chamfered face is
// in front.
func (n *nut) end(b *builder, fromPoint bool) {
	cornerUp := !b.opt.turned
	p := n.prism(0)
	w, h := b.stack(p.outlines(fromPoint, cornerUp))
	b.add(drawing.RoleOutline, drawing.Circle{Radius: boreRadius(n.t, b.opt.Style)})
	b.rootArc(drawing.RoleThin, n.t.D/2)
	b.cross(w, h)
	b.endLabel(n.t, false, 0)
	rank := drawing.Rank(0)
	if !fromPoint {
		rank = 2
	}
	n.widths.dimensionsAcross(b, p, cornerUp, rank)
}
