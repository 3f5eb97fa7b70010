package fastener

import (
	"boltplate/drawing"
	"boltplate/internal/lines"
	"boltplate/internal/solid"
	"boltplate/thread"
	"math"
)

// A builder collects the items of one view.
type builder struct {
	opt   Options
	dir   drawing.Direction
	frame solid.Frame
	lines lines.Set
	frees []freeCurve // to draw when all are known
	model model

	eighth  bool // the side view is an eighth of a turn from the front view
	flipped bool // linear dimensions are added upside down
}

func (b *builder) add(r drawing.Role, s drawing.Shape) { b.lines.Add(r, s) }

func (b *builder) line(r drawing.Role, x1, y1, x2, y2 float64) {
	b.lines.Line(r, drawing.Pt(x1, y1), drawing.Pt(x2, y2))
}

// both draws a line and its mirror image in the axis.
func (b *builder) both(r drawing.Role, x1, y1, x2, y2 float64) {
	b.line(r, x1, y1, x2, y2)
	b.line(r, x1, -y1, x2, -y2)
}

// axis draws the centre line of an elevation that reaches from x1 to x2.
// Visible edges on it win.
func (b *builder) axis(x1, x2 float64) {
	over := b.opt.Style.Part(drawing.CentreOverrun)
	b.line(drawing.RoleCentre, x1-over, 0, x2+over, 0)
}

// pictorialAxis draws the centre line of a pictorial view from x1 to x2.
func (b *builder) pictorialAxis(x1, x2 float64) {
	p, q := drawing.Point(b.frame.Flat(solid.V(x1, 0, 0))), drawing.Point(b.frame.Flat(solid.V(x2, 0, 0)))
	d := q.Sub(p)
	over := d.Mul(b.opt.Style.Part(drawing.CentreOverrun) / math.Hypot(d.X, d.Y))
	p, q = p.Sub(over), q.Add(over)
	b.line(drawing.RoleCentre, p.X, p.Y, q.X, q.Y)
}

// crossOver draws the centre lines of an end view whose edges fill r, which
// need not be even about the axis.
func (b *builder) crossOver(r drawing.Rect) {
	over := b.opt.Style.Part(drawing.CentreOverrun)
	b.line(drawing.RoleCentre, r.Min.X-over, 0, r.Max.X+over, 0)
	b.line(drawing.RoleCentre, 0, r.Min.Y-over, 0, r.Max.Y+over)
}

// centreLine draws that of a round feature across the axis at x, which reaches
// h to both sides.
func (b *builder) centreLine(x, h float64) {
	h += b.opt.Style.Part(drawing.CentreOverrun)
	b.line(drawing.RoleCentre, x, -h, x, h)
}

// shortCross draws the centre lines of a round feature beside the axis.
func (b *builder) shortCross(c drawing.Point, r float64) {
	l := r + b.opt.Style.Part(drawing.CentreOverrun)
	b.line(drawing.RoleCentre, c.X-l, c.Y, c.X+l, c.Y)
	b.line(drawing.RoleCentre, c.X, c.Y-l, c.X, c.Y+l)
}

// centreMark marks the centre of an arc that is no whole circle.
func (b *builder) centreMark(c drawing.Point) {
	l := b.opt.Style.Part(markHalf)
	b.line(drawing.RoleCentre, c.X-l, c.Y, c.X+l, c.Y)
	b.line(drawing.RoleCentre, c.X, c.Y-l, c.X, c.Y+l)
}

// markHalf is half the size of a centre mark, mm on paper (common practice).
const markHalf = 1.5

// turnedPoint returns where the point at height y above the axis is in an end
// view, which may be rolled to stand beside the plan.
func (b *builder) turnedPoint(y float64) drawing.Point {
	v := b.frame.Flat(solid.V(0, y, 0))
	return drawing.Pt(tidy(v.X), tidy(v.Y))
}

// onCorner reports whether a regular prism with n faces, which has a corner up in
// the front view, is on its corner in this view: a corner is at the top of an
// elevation, or at the top of an end view.
func (b *builder) onCorner(n int) bool {
	quarter := b.dir == drawing.SideView || b.dir != drawing.Front && b.opt.turned
	return !quarter || n == 4 && !b.eighth // a square looks the same after a quarter of a turn
}

// seen reports whether a visible line or circle runs through a point.
func (b *builder) seen(p drawing.Point) bool { return b.lines.Seen(p) }

func (b *builder) linear(side drawing.Side, rank drawing.Rank, l drawing.Label, x1, y1, x2, y2 float64) {
	if b.flipped {
		y1, y2 = -y1, -y2
		if side == drawing.Below {
			side = drawing.Above
		}
	}
	b.lines.Linear(drawing.Linear{Label: l, Side: side, Rank: rank, From: drawing.Pt(x1, y1),
		To: drawing.Pt(x2, y2)})
}

// view returns what was collected: what lies on each other is one line, and of
// different ones the visible edge wins.
func (b *builder) view() drawing.View {
	return drawing.View{Name: b.dir.String(), Direction: b.dir, Items: b.lines.Items()}
}

func label(q drawing.Quantity) drawing.Label { return drawing.Label{Quantity: q} }

func diameterLabel(q drawing.Quantity) drawing.Label {
	return drawing.Label{Quantity: q, Symbol: drawing.DiameterSymbol}
}

// endLabel names the thread at its major circle in an end view: a whole circle
// or, in a nut, three quarters of one.
func (b *builder) endLabel(t thread.Thread, whole bool, rank drawing.Rank) {
	d := drawing.Diameter{Label: threadLabel(t), Radius: t.D / 2, Angle: 50, Rank: rank}
	if !whole {
		d.Angle, d.Start, d.End = 130, rootArcStart+5, rootArcEnd-5
	}
	b.add(drawing.RoleDimension, d)
}

// threadLabel names a thread on its major diameter.
func threadLabel(t thread.Thread) drawing.Label {
	return drawing.Label{Quantity: nominalDiameter(t), Number: t.String()}
}
