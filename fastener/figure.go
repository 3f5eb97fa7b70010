package fastener

import (
	"math"
	"slices"

	"boltplate/drawing"
	"boltplate/internal/solid"
)

// A figure is a part whose sizes are settled: what it is made of, and what its
// views say about it.
type figure struct {
	kind string
	// from and to are the ends of the part on its axis.
	from, to float64
	// build adds the solids of the part, and what conventions draw on them.
	build func(l look, m *model)
	// section, where it is not nil, gives the local sections that the front view
	// shows where the options ask for them.
	section func(drawing.Style) []*cutaway
	// datum is how far x = 0, from which the grip counts, is from the origin of
	// the part.
	datum float64
	// fromPoint says that the isometric view shows the point end.
	fromPoint bool
	// eighth says that the side view is an eighth of a turn from the front view,
	// not a quarter.
	eighth bool
	// views are those that the part has; nil means all of them.
	views []drawing.Direction
	// hiddenIn are views that show hidden edges even where the options do not
	// ask for them.
	hiddenIn []drawing.Direction
	// annotate adds the dimensions of a view, its centre lines other than that
	// of the axis, and its notes. It may be nil. It is not asked about the
	// isometric view.
	annotate func(b *builder, dir drawing.Direction)
	// pictorial gives the isometric view its main sizes; nil for none.
	pictorial func(b *builder)
}

// A look says how a view looks at a part.
type look struct {
	dir   drawing.Direction
	frame solid.Frame
	style drawing.Style
	exact bool // nothing is simplified
	plain bool // as in assembly drawings: Options.Simplified
}

// along reports whether the axis is in the picture plane, and pictorial whether
// the view is not one of those in projection.
func (l look) along() bool     { return l.dir == drawing.Front || l.dir == drawing.SideView }
func (l look) pictorial() bool { return l.dir == drawing.Isometric }

// A model is what a view is made from: solids, and lines on their surface that
// are no edges of one of them alone.
type model struct {
	solids []solid.Solid
	curves []solid.Curve

	room struct { // for the lists, which seldom need more
		solids [8]solid.Solid
		curves [8]solid.Curve
	}
}

func (m *model) add(s ...solid.Solid)   { m.solids = append(m.solids, s...) }
func (m *model) mark(cs ...solid.Curve) { m.curves = append(m.curves, cs...) }

// view draws the figure, with further ones where a washer and a nut are on it.
func (g *figure) view(dir drawing.Direction, opt Options, more ...*figure) (drawing.View, error) {
	if g.views != nil && !slices.Contains(g.views, dir) {
		return drawing.View{}, noView(g.kind, dir, g.views...)
	}
	if dir > drawing.Isometric {
		return drawing.View{}, noView(g.kind, dir, allViews()...)
	}
	var cuts []*cutaway
	opt.Section = opt.Section && !opt.Simplified
	if opt.Section = opt.Section && g.section != nil && dir == drawing.Front; opt.Section {
		cuts = g.section(opt.Style)
	}
	opt.Hidden = opt.Hidden || slices.Contains(g.hiddenIn, dir) && !(len(cuts) > 0 && cuts[0].half)
	b := &builder{opt: opt, dir: dir, eighth: g.eighth, frame: frameOf(dir, opt, g.fromPoint, g.eighth)}
	l := look{dir: dir, frame: b.frame, style: opt.Style, exact: opt.Exact, plain: opt.Simplified}
	m := &b.model
	m.solids, m.curves = m.room.solids[:0], m.room.curves[:0]
	g.build(l, m)
	for _, cut := range cuts {
		cut.open(m.solids)
	}
	from, to := g.from, g.to
	for _, o := range more {
		o.build(l, m)
		from, to = math.Min(from, o.from), math.Max(to, o.to)
	}
	b.trace(m.solids, m.curves, l.pictorial())
	for _, cut := range cuts {
		cut.draw(b)
	}
	switch {
	case l.along():
		b.axis(from, to)
	case l.pictorial():
		b.pictorialAxis(from, to)
	default:
		b.crossOver(b.lines.Reach())
	}
	if !l.pictorial() && g.annotate != nil {
		g.annotate(b, dir)
	}
	if l.pictorial() && opt.DimensionPictorial && g.pictorial != nil && opt.Style.Labels == drawing.Numbers {
		g.pictorial(b)
	}
	if g.datum != 0 {
		b.lines.Move(drawing.Point(frameOf(dir, opt, false, false).Flat(solid.V(g.datum, 0, 0))))
	}
	return b.view(), nil
}
