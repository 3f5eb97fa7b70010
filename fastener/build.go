package fastener

import (
	"math"
	"slices"

	"boltplate/drawing"
	"boltplate/internal/lines"
	"boltplate/internal/plane"
	"boltplate/thread"
)

// A builder collects the items of one view.
type builder struct {
	opt    Options
	dir    drawing.Direction // of a view that is made from solids
	items  []drawing.Item
	onAxis [][2]float64 // where visible edges lie on the axis of an elevation

	flipped bool // linear dimensions are added upside down
}

func newBuilder(opt Options) *builder {
	return &builder{opt: opt, items: make([]drawing.Item, 0, 48)}
}

func (b *builder) add(r drawing.Role, s drawing.Shape) {
	b.items = append(b.items, drawing.Item{Role: r, Shape: s})
}

func (b *builder) line(r drawing.Role, x1, y1, x2, y2 float64) {
	if x1 == x2 && y1 == y2 {
		return
	}
	b.add(r, drawing.Line{From: drawing.Pt(x1, y1), To: drawing.Pt(x2, y2)})
}

// both draws a line and its mirror image in the axis.
func (b *builder) both(r drawing.Role, x1, y1, x2, y2 float64) {
	b.line(r, x1, y1, x2, y2)
	b.line(r, x1, -y1, x2, -y2)
}

// edgeOnAxis draws a visible edge that lies on the axis; the centre line gives
// way to it.
func (b *builder) edgeOnAxis(x1, x2 float64) {
	b.line(drawing.RoleOutline, x1, 0, x2, 0)
	b.onAxis = append(b.onAxis, [2]float64{math.Min(x1, x2), math.Max(x1, x2)})
}

// axis draws the centre line of an elevation that reaches from x1 to x2,
// leaving out what visible edges cover.
func (b *builder) axis(x1, x2 float64) {
	over := b.opt.Style.Part(drawing.CentreOverrun)
	from, to := x1-over, x2+over
	slices.SortFunc(b.onAxis, func(p, q [2]float64) int {
		if p[0] < q[0] {
			return -1
		}
		return 1
	})
	for _, e := range b.onAxis {
		if e[0]-from > 1e-9 {
			b.line(drawing.RoleCentre, from, 0, e[0], 0)
		}
		from = math.Max(from, e[1])
	}
	if to-from > 1e-9 {
		b.line(drawing.RoleCentre, from, 0, to, 0)
	}
}

// cross draws the centre lines of an end view that reaches w to the sides and
// h up and down.
func (b *builder) cross(w, h float64) {
	over := b.opt.Style.Part(drawing.CentreOverrun)
	b.line(drawing.RoleCentre, -w-over, 0, w+over, 0)
	b.line(drawing.RoleCentre, 0, -h-over, 0, h+over)
}

func (b *builder) linear(side drawing.Side, rank drawing.Rank, l drawing.Label, x1, y1, x2, y2 float64) {
	if b.flipped {
		y1, y2 = -y1, -y2
		if side == drawing.Below {
			side = drawing.Above
		}
	}
	b.add(drawing.RoleDimension, drawing.Linear{Label: l, Side: side, Rank: rank, From: drawing.Pt(x1, y1), To: drawing.Pt(x2, y2)})
}

func (b *builder) view(name string, dir drawing.Direction) drawing.View {
	return drawing.View{Name: name, Direction: dir, Items: b.items}
}

func label(q drawing.Quantity) drawing.Label { return drawing.Label{Quantity: q} }

func diameterLabel(q drawing.Quantity) drawing.Label {
	return drawing.Label{Quantity: q, Symbol: drawing.DiameterSymbol}
}

// threadLabel names a thread on its major diameter.
func threadLabel(t thread.Thread) drawing.Label {
	return drawing.Label{Quantity: nominalDiameter(t), Number: t.String()}
}

// An outline is a convex figure about the axis, as seen along it: a regular
// polygon or a circle.
type outline struct {
	radius float64     // of a circle
	poly   []plane.Vec // of a polygon, counter-clockwise
}

func circle(r float64) outline { return outline{radius: r} }

// polygon returns the regular n-gon with the given width across flats, with a
// corner at the top, or with a flat at the top.
func polygon(n int, flats float64, cornerUp bool) outline {
	r := flats / 2 / math.Cos(math.Pi/float64(n))
	start := 90.0
	if !cornerUp {
		start += 180 / float64(n)
	}
	p := make([]plane.Vec, n)
	for i := range p {
		s, c := plane.Sincos(start + 360*float64(i)/float64(n))
		p[i] = plane.Vec{X: r * c, Y: r * s}
	}
	return outline{poly: p}
}

func (o outline) extent() (w, h float64) {
	if o.poly == nil {
		return o.radius, o.radius
	}
	for _, p := range o.poly {
		w, h = math.Max(w, p.X), math.Max(h, p.Y)
	}
	return w, h
}

// stack draws outlines along the axis, the nearest first: of each what the
// nearer ones leave visible. It returns how far they reach.
func (b *builder) stack(outlines []outline) (w, h float64) {
	masks := make([]plane.Mask, 0, len(outlines))
	for _, o := range outlines {
		ow, oh := o.extent()
		w, h = math.Max(w, ow), math.Max(h, oh)
		if o.poly == nil {
			for _, a := range plane.VisibleCircle(o.radius, masks) {
				if a[1]-a[0] >= 360 {
					b.add(drawing.RoleOutline, drawing.Circle{Radius: o.radius})
				} else {
					b.add(drawing.RoleOutline, drawing.Arc{Radius: o.radius, Start: a[0], End: a[1]})
				}
			}
		} else {
			for i, p := range o.poly {
				for _, s := range plane.VisibleSegment(p, o.poly[(i+1)%len(o.poly)], masks) {
					b.line(drawing.RoleOutline, s[0].X, s[0].Y, s[1].X, s[1].Y)
				}
			}
		}
		masks = append(masks, plane.Mask{Radius: o.radius, Poly: o.poly})
	}
	return w, h
}

// merge joins lines that lie on each other; of different ones the visible edge
// wins.
func (b *builder) merge() { b.items = lines.Merge(b.items) }
