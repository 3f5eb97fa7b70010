package fastener

import (
	"boltplate/drawing"
	"boltplate/internal/solid"
)

// solid returns the prism with a corner up, as the front view shows it.
func (p prism) solid() solid.Solid {
	ch := solid.Chamfer{AtStart: p.x1 < p.x0 || p.bothFaces, AtEnd: p.x1 > p.x0 || p.bothFaces, Angle: chamferAngle, Circle: p.flats}
	return solid.Prism(solid.X(), p.n, p.flats, min(p.x0, p.x1), max(p.x0, p.x1), solid.V(0, 1, 0), ch)
}

// solids returns the neck; onCorner turns it as a square head on its corner.
func (n neck) solids(onCorner bool) []solid.Solid {
	if !n.present() {
		return nil
	}
	s, l := n.side.Value, n.length.Value
	if onCorner {
		return []solid.Solid{solid.Prism(solid.X(), 4, s, 0, l, solid.V(0, 1, 0), solid.Chamfer{})}
	}
	return []solid.Solid{solid.Box(solid.V(0, -s/2, -s/2), solid.V(l, s/2, s/2))}
}

// figure returns the bolt as solids; its views say what is on it as well.
func (b *bolt) figure(st drawing.Style, on *clamped) *figure {
	g := &figure{kind: b.kind, to: b.shank.end, threads: []threadSigns{b.shank.signs()}}
	g.annotate = func(d *builder, dir drawing.Direction) { b.annotate(d, dir, on) }
	if f := b.form; f != nil {
		g.from, g.views, g.flats, g.marks, g.detail = f.end, f.views, f.flats, f.marks, f.detail
		g.hiddenIn = f.hiddenIn
		g.solids = append(g.solids, f.solids...)
		if f.styled != nil {
			g.solids = append(g.solids, f.styled(st)...)
		}
		g.threads = append(g.threads, f.threads...)
		if f.simple != nil {
			g.simple = append(append(g.simple, f.simple...), b.shank.solids(st)...)
		}
		if f.section != nil {
			g.section = f.section(st, b.shank)
		}
	} else {
		p := b.prism()
		g.from = p.x1
		g.solids = append(g.solids, p.solid())
		g.solids = append(g.solids, b.neck.solids(true)...)
	}
	g.solids = append(g.solids, b.shank.solids(st)...)
	return g
}

// figure returns the nut with its bearing face at x. On a bolt its hole is
// full.
func (n *nut) figure(st drawing.Style, x float64, onBolt bool) *figure {
	if n.form != nil {
		return n.form.figure(st, x, onBolt)
	}
	p := n.prism(x)
	g := &figure{kind: n.kind, from: p.x0, to: p.x1, fromPoint: true}
	s := p.solid()
	if !onBolt {
		h := bore{t: n.t, x0: p.x0, x1: p.x1}
		s = s.Less(h.hole(st))
		g.bores = []bore{h}
	}
	g.solids = []solid.Solid{s}
	return g
}

// figure returns the washer with its face at x.
func (s *washerSizes) figure(x float64, onBolt bool) *figure {
	if s.form != nil {
		return s.form(x, onBolt)
	}
	end := x + s.thickness.Value
	body := solid.Cylinder(solid.X(), s.outside.Value/2, x, end)
	if !onBolt {
		body = body.Less(solid.Cylinder(solid.X(), s.hole.Value/2, x, end))
	}
	return &figure{kind: "washer", from: x, to: end, fromPoint: true, solids: []solid.Solid{body}}
}

// figures returns washer and nut as they sit on the bolt.
func (c *clamped) figures(st drawing.Style) []*figure {
	if c == nil {
		return nil
	}
	var out []*figure
	if c.washer != nil {
		out = append(out, c.washer.figure(c.grip.Value, true))
	}
	out = append(out, c.nut.figure(st, c.seat(), true))
	// Where the shank goes in and comes out.
	faces := []float64{c.grip.Value, c.seat() + c.nut.height.Value}
	if c.nut.form != nil && c.nut.form.onBolt != nil { // it ends inside
		faces = faces[:1]
	}
	for _, x := range faces {
		out[0].marks = append(out[0].marks, solid.CircleAt(solid.V(x, 0, 0), solid.V(1, 0, 0), c.nut.t.D/2).Marked(solid.VisibleOnly))
	}
	return out
}

// formed reports whether washer or nut are made from solids, so that the whole
// figure must be.
func (c *clamped) formed() bool {
	return c != nil && (c.nut.form != nil || c.washer != nil && c.washer.form != nil)
}
