package fastener

import (
	"math"
	"slices"

	"boltplate/drawing"
	"boltplate/internal/plane"
	"boltplate/internal/solid"
	"boltplate/thread"
)

// A figure is a part whose sizes are settled: the solids it is made of, what
// the conventions add to them, and what its views say about it. Its views are
// made from the solids.
type figure struct {
	kind   string
	solids []solid.Solid
	// simple are the solids as elevations show them, where those leave a detail
	// out; nil means as they are.
	simple []solid.Solid
	// from and to are the ends of the part on its axis.
	from, to float64
	threads  []threadSigns
	bores    []bore
	// flats are faces that carry crossed diagonals where they are seen true.
	flats []flatFace
	// marks are further lines on the surface.
	marks []solid.Curve
	// detail returns further lines, which depend on the view or the style; it
	// may be nil.
	detail func(drawing.Direction, drawing.Style) []solid.Curve
	// section, where it is not nil, is the local section that the front view
	// shows where the options ask for one.
	section *cutaway
	// solidsIn are further solids that depend on the view, where a drawing
	// leaves out in one view what it shows in another; signsIn are such lines.
	// They may be nil.
	solidsIn func(dir drawing.Direction) []solid.Solid
	signsIn  func(dir drawing.Direction, f solid.Frame) []solid.Curve
	// fromPoint says that the isometric view shows the point end.
	fromPoint bool
	// views are those that the part has; nil means all of them.
	views []drawing.Direction
	// hiddenIn are views that show hidden edges even where the options do not
	// ask for them.
	hiddenIn []drawing.Direction
	// annotate adds the dimensions of a view, its centre lines other than that
	// of the axis, and its notes. It may be nil. It is not asked about the
	// isometric view.
	annotate func(b *builder, dir drawing.Direction)
}

// A flatFace is a rectangle on a flat of a part that is round beside it: its
// middle, and half its sides.
type flatFace struct{ mid, u, v solid.Vec }

// squareFlats returns the four faces of a square of the given side on the axis
// from x0 to x1, its faces up, down and to the front and the back.
func squareFlats(side, x0, x1 float64) []flatFace {
	h, l := side/2, (x1-x0)/2
	m := (x0 + x1) / 2
	x := solid.V(l, 0, 0)
	return []flatFace{
		{solid.V(m, 0, h), x, solid.V(0, h, 0)}, {solid.V(m, 0, -h), x, solid.V(0, h, 0)},
		{solid.V(m, h, 0), x, solid.V(0, 0, h)}, {solid.V(m, -h, 0), x, solid.V(0, 0, h)},
	}
}

// view draws the figure, with further ones where a washer and a nut are on it.
func (g *figure) view(dir drawing.Direction, opt Options, more ...*figure) (drawing.View, error) {
	has := g.views
	if has == nil {
		has = allViews()
	}
	known := false
	for _, d := range has {
		known = known || d == dir
	}
	if !known {
		return drawing.View{}, noView(g.kind, dir, has...)
	}
	opt.Hidden = opt.Hidden || slices.Contains(g.hiddenIn, dir)
	b := newBuilder(opt)
	b.dir = dir
	f := frameOf(dir, opt, g.fromPoint)
	pictorial := dir == drawing.Isometric
	from, to := g.from, g.to
	along := dir == drawing.Front || dir == drawing.SideView
	solids, extra := g.solidsOf(dir), g.conventions(dir, f, opt.Style)
	own := len(solids)
	for _, m := range more {
		solids = append(solids, m.solidsOf(dir)...)
		extra = append(extra, m.conventions(dir, f, opt.Style)...)
		from, to = math.Min(from, m.from), math.Max(to, m.to)
	}
	if cut := g.section; cut != nil && opt.Section && dir == drawing.Front {
		solids = append(cut.open(solids[:own]), solids[own:]...)
		cut.draw(b)
	}
	b.trace(solids, extra, f, pictorial)
	switch {
	case along:
		b.axis(from, to)
	case !pictorial:
		b.crossOver(b.reach())
	}
	if !pictorial && g.annotate != nil {
		g.annotate(b, dir)
	}
	b.merge()
	return b.view(dir.String(), dir), nil
}

// solidsOf returns the solids as a view shows them.
func (g *figure) solidsOf(dir drawing.Direction) []solid.Solid {
	solids := g.solids
	if g.simple != nil && (dir == drawing.Front || dir == drawing.SideView) {
		solids = g.simple
	}
	solids = solids[:len(solids):len(solids)]
	if g.solidsIn != nil {
		solids = append(solids, g.solidsIn(dir)...)
	}
	return solids
}

// reach returns the extent of the visible edges.
func (b *builder) reach() drawing.Rect {
	r := drawing.EmptyRect()
	for _, it := range b.items {
		if it.Role == drawing.RoleOutline {
			r = r.Union(drawing.View{Items: []drawing.Item{it}}.Outline())
		}
	}
	return r
}

// crossOver draws the centre lines of an end view whose edges fill r, which
// need not be even about the axis.
func (b *builder) crossOver(r drawing.Rect) {
	over := b.opt.Style.Part(drawing.CentreOverrun)
	b.line(drawing.RoleCentre, r.Min.X-over, 0, r.Max.X+over, 0)
	b.line(drawing.RoleCentre, 0, r.Min.Y-over, 0, r.Max.Y+over)
}

// seen reports whether a visible line or circle runs through a point.
func (b *builder) seen(p drawing.Point) bool {
	const same = 1e-6 // mm
	return slices.ContainsFunc(b.items, func(it drawing.Item) bool {
		if it.Role != drawing.RoleOutline {
			return false
		}
		switch s := it.Shape.(type) {
		case drawing.Line:
			d, q := s.To.Sub(s.From), p.Sub(s.From)
			k := (q.X*d.X + q.Y*d.Y) / (d.X*d.X + d.Y*d.Y)
			return q.Sub(d.Mul(math.Max(0, math.Min(1, k)))).Len() < same
		case drawing.Circle:
			return math.Abs(p.Sub(s.Center).Len()-s.Radius) < same
		case drawing.Arc:
			q := p.Sub(s.Center)
			return math.Abs(q.Len()-s.Radius) < same && plane.InArc(plane.Degrees(q.X, q.Y), s.Start, s.End)
		}
		return false
	})
}

// conventions returns the lines that are drawn on the solids: threads, crossed
// diagonals, and the figure's own.
func (g *figure) conventions(dir drawing.Direction, f solid.Frame, st drawing.Style) []solid.Curve {
	var out []solid.Curve
	for _, t := range g.threads {
		out = append(out, t.lines(dir, f, st)...)
	}
	for _, t := range g.bores {
		out = append(out, t.lines(dir, f, st)...)
	}
	if dir != drawing.Isometric {
		for _, p := range g.flats {
			n := p.u.Cross(p.v).Unit().Dot(f.To)
			if math.Abs(n) < 1-1e-9 {
				continue
			}
			for _, s := range [2]float64{1, -1} {
				out = append(out, solid.Segment(p.mid.Add(p.u).Add(p.v.Mul(s)), p.mid.Sub(p.u).Sub(p.v.Mul(s))).Marked(solid.Thin|solid.VisibleOnly))
			}
		}
	}
	if g.detail != nil {
		out = append(out, g.detail(dir, st)...)
	}
	if g.signsIn != nil {
		out = append(out, g.signsIn(dir, f)...)
	}
	return append(out, g.marks...)
}

// notAtEnds leaves the marks out of the views along the axis, where they would
// lie beside an outline.
func notAtEnds(marks []solid.Curve) func(drawing.Direction, drawing.Style) []solid.Curve {
	return func(dir drawing.Direction, _ drawing.Style) []solid.Curve {
		if dir == drawing.HeadEnd || dir == drawing.PointEnd {
			return nil
		}
		return marks
	}
}

// threadSigns are what the convention draws of an external thread about the
// axis: from limit, where the usable thread ends towards the shank, to the end
// of the part, in either direction.
type threadSigns struct {
	t          thread.Thread
	limit, end float64
	// room is how far the run-out may reach from limit into the shank.
	room float64
}

func (s threadSigns) lines(dir drawing.Direction, f solid.Frame, st drawing.Style) []solid.Curve {
	r, root := s.t.D/2, rootRadius(s.t, st)
	sign := math.Copysign(1, s.end-s.limit)
	const mark = solid.Thin | solid.VisibleOnly
	var out []solid.Curve
	switch dir {
	case drawing.Front, drawing.SideView:
		// In front of the shank, so that only other solids hide them.
		at := func(x, y float64) solid.Vec { return solid.V(x, 0, 0).Add(f.Up.Mul(y)).Add(f.To.Mul(r)) }
		run := math.Min((r-root)/math.Tan(runOutAngle*math.Pi/180), s.room)
		for _, y := range [2]float64{1, -1} {
			out = append(out, solid.Segment(at(s.limit, y*root), at(s.end, y*root)).Marked(mark))
			if run > 1e-9 {
				h := root + run*math.Tan(runOutAngle*math.Pi/180)
				out = append(out, solid.Segment(at(s.limit, y*root), at(s.limit-sign*run, y*h)).Marked(mark))
			}
		}
	case drawing.HeadEnd, drawing.PointEnd:
		out = append(out, solid.ArcAt(solid.V(s.end, 0, 0), f.Right, f.Up, root, rootArcStart, rootArcEnd).Marked(solid.Thin))
	default:
		length := math.Abs(s.end-s.limit) - (r - root)
		n := math.Floor(length / math.Max(s.t.P, st.Part(ringGap)))
		for i := 1.0; i < n; i++ {
			out = append(out, solid.CircleAt(solid.V(s.limit+sign*length*i/n, 0, 0), solid.V(1, 0, 0), r).Marked(mark))
		}
	}
	return out
}

// ringGap is the least distance along the axis, mm on paper, of the rings that
// stand for a thread in a pictorial view (common practice: one ring a pitch,
// fewer where they would close up).
const ringGap = 1.4

// A bore is an internal thread about the axis, open at both ends or, where
// blind is set, only at x0.
type bore struct {
	t      thread.Thread
	x0, x1 float64
	blind  bool
}

// hole returns the solid to take out of the part.
func (h bore) hole(st drawing.Style) solid.Solid {
	lo, hi := math.Min(h.x0, h.x1), math.Max(h.x0, h.x1)
	return solid.Cylinder(solid.X(), boreRadius(h.t, st), lo, hi)
}

func (h bore) lines(dir drawing.Direction, f solid.Frame, _ drawing.Style) []solid.Curve {
	r := h.t.D / 2
	var out []solid.Curve
	switch dir {
	case drawing.Front, drawing.SideView:
		for _, y := range [2]float64{r, -r} {
			at := func(x float64) solid.Vec { return solid.V(x, 0, 0).Add(f.Up.Mul(y)) }
			// Never seen from outside: it only shows where hidden edges do.
			out = append(out, solid.Segment(at(h.x0), at(h.x1)).Marked(solid.Buried))
		}
	default:
		right, up := f.Right, f.Up
		if dir == drawing.Isometric {
			right, up = solid.V(0, 0, 1), solid.V(0, 1, 0)
			if f.To.X > 0 {
				right = solid.V(0, 0, -1)
			}
		}
		ends := []float64{h.x0, h.x1}
		if h.blind {
			ends = ends[:1]
		}
		for _, x := range ends {
			out = append(out, solid.ArcAt(solid.V(x, 0, 0), right, up, r, rootArcStart, rootArcEnd).Marked(solid.Thin|solid.VisibleOnly))
		}
	}
	return out
}

// solids returns the round shank with its point chamfer and the limit of its
// thread. The chamfer is not shown in a view along the axis (ISO 6410-1).
func (s shank) solids(st drawing.Style) []solid.Solid {
	r, root := s.t.D/2, rootRadius(s.t, st)
	c := r - root
	body := solid.Cylinder(solid.X(), r, s.start, s.end-c)
	if s.limit > s.start+1e-9 {
		body = body.With(solid.CircleAt(solid.V(s.limit, 0, 0), solid.V(1, 0, 0), r).Marked(solid.NotAlong))
	}
	return []solid.Solid{body, solid.Cone(solid.X(), s.end-c, r, s.end, root).Without(0).Mark(solid.NotAlong, 0)}
}

// signs returns what the convention draws of the shank's thread.
func (s shank) signs() threadSigns {
	return threadSigns{t: s.t, limit: s.limit, end: s.end, room: math.Max(0, s.limit-s.start-s.kept)}
}
