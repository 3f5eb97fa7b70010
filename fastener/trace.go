package fastener

import (
	"math"

	"boltplate/drawing"
	"boltplate/internal/plane"
	"boltplate/internal/solid"
)

// frameOf returns the picture plane of a view. The side view is the one from
// above: the plan.
func frameOf(dir drawing.Direction, opt Options, fromPoint bool) solid.Frame {
	up := solid.V(0, 1, 0)
	if opt.turned {
		up = solid.V(0, 0, -1)
	}
	switch dir {
	case drawing.SideView:
		return solid.Looking(solid.V(0, 1, 0), solid.V(0, 0, -1))
	case drawing.HeadEnd:
		return solid.Looking(solid.V(-1, 0, 0), up)
	case drawing.PointEnd:
		return solid.Looking(solid.V(1, 0, 0), up)
	case drawing.Isometric:
		if fromPoint {
			return solid.IsometricFromPoint()
		}
		return solid.IsometricFromHead()
	}
	return solid.Looking(solid.V(0, 0, 1), up)
}

// trace draws what is seen of the solids and of the lines that conventions add
// to them; hidden edges too, where the options ask for them and the view is not
// a pictorial one.
func (b *builder) trace(solids []solid.Solid, extra []solid.Curve, f solid.Frame, pictorial bool) {
	hidden := b.opt.Hidden && !pictorial
	for _, p := range solid.Trace(solids, extra, f, hidden) {
		role := drawing.RoleOutline
		switch {
		case !p.Visible:
			role = drawing.RoleHidden
		case p.Curve.Mark&solid.Thin != 0:
			role = drawing.RoleThin
		}
		b.piece(role, &p, f, pictorial)
	}
}

// same is how near points are that count as one (mm).
const same = 1e-6

// flatness is how far a free curve may be off its true place (mm); it is drawn
// in arcs.
const flatness = 1e-3

func point(v plane.Vec) drawing.Point { return drawing.Point(v) }

// piece draws a piece of a curve as it shows in the picture.
func (b *builder) piece(role drawing.Role, p *solid.Piece, f solid.Frame, pictorial bool) {
	c := &p.Curve
	switch c.Shape {
	case solid.Straight:
		q, r := f.Flat(p.At(0)), f.Flat(p.At(1))
		if math.Hypot(r.X-q.X, r.Y-q.Y) > 1e-7 {
			b.line(role, tidy(q.X), tidy(q.Y), tidy(r.X), tidy(r.Y))
		}
	case solid.Circular:
		b.ellipse(role, f.Flat(c.C), f.Flat(c.U), f.Flat(c.V), c.T0+p.S0*(c.T1-c.T0), c.T0+p.S1*(c.T1-c.T0))
	case solid.Rational:
		part := c.Part(p.S0, p.S1)
		from, mid, to := point(f.Flat(part.A)), point(f.Flat(part.C)), point(f.Flat(part.B))
		top := point(f.Flat(part.At(0.5)))
		flat := math.Abs((mid.X-from.X)*(to.Y-from.Y)-(mid.Y-from.Y)*(to.X-from.X)) < 1e-9
		switch {
		case flat: // seen on its edge: to the vertex, which is in the middle, and back
			if p.S0 < 0.5 && p.S1 > 0.5 {
				v := point(f.Flat(c.At(0.5)))
				b.piece(role, &solid.Piece{Curve: solid.Segment(part.A, c.At(0.5)), S1: 1}, f, pictorial)
				from = v
			}
			if to.Sub(from).Len() > 1e-7 {
				b.line(role, tidy(from.X), tidy(from.Y), tidy(to.X), tidy(to.Y))
			}
		case b.opt.Exact || pictorial:
			b.add(role, drawing.Conic{From: from, Control: mid, To: to, Weight: part.W})
		case p.S0 == 0 && p.S1 == 1 && c.W > 1.3 && math.Abs(to.X-from.X) < 1e-9 && deep(from, top, to) > 0.15 && deep(from, top, to) < 0.2:
			if to.Y < from.Y { // a square on its corner
				from, to = to, from
			}
			prism{}.threeArcs(b, from, top, to)
		default:
			a, ok := arcThrough(from, top, to)
			switch q := point(f.Flat(part.At(0.25))); {
			case ok && math.Abs(q.Sub(a.Center).Len()-a.Radius) > arcError*to.Sub(from).Len():
				b.free(role, p, f)
			case ok:
				b.add(role, a)
			}
		}
	case solid.Free:
		b.free(role, p, f)
	}
}

// arcError is how far one arc may be off the true curve that it stands for, as
// a part of its chord: more than in any chamfer of 30 degrees.
const arcError = 0.01

// deep returns how far the vertex of a curve whose ends are above each other is
// off its chord, as a part of it.
func deep(from, top, to drawing.Point) float64 { return math.Abs((top.X - from.X) / (to.Y - from.Y)) }

// tidy takes rounding off what should be a multiple of a millionth.
func tidy(v float64) float64 {
	if r := math.Round(v*1e6) / 1e6; math.Abs(v-r) < 1e-11 {
		return r
	}
	return v
}

// ellipse draws c + u cos t + v sin t from t0 to t1 degrees: a circle, an
// ellipse, or where it is seen on its edge a line.
func (b *builder) ellipse(role drawing.Role, c, u, v plane.Vec, t0, t1 float64) {
	// The axes of the ellipse are where the radius is longest and shortest:
	// turned by phi, tan 2 phi = 2 u.v / (u.u - v.v).
	uu, vv, uv := u.X*u.X+u.Y*u.Y, v.X*v.X+v.Y*v.Y, u.X*v.X+u.Y*v.Y
	phi := math.Atan2(2*uv, uu-vv) / 2
	at := func(t float64) plane.Vec {
		s, k := plane.Sincos(t)
		return plane.Vec{X: u.X*k + v.X*s, Y: u.Y*k + v.Y*s}
	}
	deg := nearly(phi * 180 / math.Pi)
	major, minor := at(deg), at(deg+90)
	a, m := math.Hypot(major.X, major.Y), math.Hypot(minor.X, minor.Y)
	center := drawing.Pt(tidy(c.X), tidy(c.Y))
	whole := math.Abs(t1-t0) >= 360-1e-7
	switch {
	case m < 1e-9*a:
		b.edgeOn(role, center, major, t0-deg, t1-deg)
		return
	case a-m < 1e-9*a:
		if whole {
			b.add(role, drawing.Circle{Center: center, Radius: tidy(a)})
			return
		}
		p, q := at(t0), at(t1)
		s, e := nearly(plane.Degrees(p.X, p.Y)), nearly(plane.Degrees(q.X, q.Y))
		if u.X*v.Y-u.Y*v.X < 0 {
			s, e = e, s
		}
		b.add(role, drawing.Arc{Center: center, Radius: tidy(a), Start: s, End: e})
		return
	}
	// The picture of an ellipse may run the other way round.
	ccw := major.X*minor.Y-major.Y*minor.X > 0
	s, e := t0-deg, t1-deg
	if !ccw {
		s, e = -e, -s
	}
	if major.X < -1e-12 || major.X < 1e-12 && major.Y < 0 { // one form for each ellipse
		major = plane.Vec{X: -major.X, Y: -major.Y}
		s, e = s+180, e+180
	}
	el := drawing.Ellipse{Center: center, Major: point(major), Ratio: m / a}
	if !whole {
		el.Start, el.End = nearly(plane.Norm(s)), nearly(plane.Norm(e))
	}
	b.add(role, el)
}

// nearly returns the angle, or the multiple of 15 degrees that it is but for
// rounding.
func nearly(deg float64) float64 {
	if n := math.Round(deg/15) * 15; math.Abs(deg-n) < 1e-9 {
		return n
	}
	return deg
}

// edgeOn draws a circle that is seen on its edge: what c + major cos t covers
// from t0 to t1 degrees.
func (b *builder) edgeOn(role drawing.Role, c drawing.Point, major plane.Vec, t0, t1 float64) {
	lo, hi := math.Inf(1), math.Inf(-1)
	add := func(t float64) {
		_, k := plane.Sincos(nearly(t))
		lo, hi = math.Min(lo, k), math.Max(hi, k)
	}
	add(t0)
	add(t1)
	for n := math.Ceil(t0 / 180); n*180 < t1; n++ {
		add(n * 180)
	}
	if hi-lo < 1e-9 {
		return
	}
	b.line(role, tidy(c.X+major.X*lo), tidy(c.Y+major.Y*lo), tidy(c.X+major.X*hi), tidy(c.Y+major.Y*hi))
}

// free draws a curve that is none of the simple ones in arcs through exact
// points of it, twice as many until they are as near to it as flatness.
func (b *builder) free(role drawing.Role, p *solid.Piece, f solid.Frame) {
	at := func(s float64) plane.Vec { return f.Flat(p.At(s)) }
	n := 8
	for ; n < 256; n *= 2 {
		worst := 0.0
		for i := range n {
			s, e := float64(i)/float64(n), float64(i+1)/float64(n)
			a, m, z := at(s), at((s+e)/2), at(e)
			c, r, ok := plane.ArcThrough(a, m, z)
			for _, k := range [2]float64{0.25, 0.75} {
				q := at(s + k*(e-s))
				if ok {
					worst = math.Max(worst, math.Abs(math.Hypot(q.X-c.X, q.Y-c.Y)-r))
				} else if l := math.Hypot(z.X-a.X, z.Y-a.Y); l > 0 {
					worst = math.Max(worst, math.Abs((q.X-a.X)*(z.Y-a.Y)-(q.Y-a.Y)*(z.X-a.X))/l)
				}
			}
		}
		if worst < flatness {
			break
		}
	}
	var vs []drawing.Vertex
	for i := range n {
		s, e := float64(i)/float64(n), float64(i+1)/float64(n)
		a, m, z := at(s), at((s+e)/2), at(e)
		vs = append(vs, drawing.Vertex{Point: point(a), Bulge: bulge(a, m, z)})
	}
	vs = append(vs, drawing.Vertex{Point: point(at(1))})
	length := 0.0
	for i := range vs[1:] {
		length += vs[i+1].Point.Sub(vs[i].Point).Len()
	}
	if length < 2*flatness {
		return
	}
	if p, q, ok := straight(vs); ok { // seen on its edge
		b.line(role, tidy(p.X), tidy(p.Y), tidy(q.X), tidy(q.Y))
		return
	}
	if a, ok := oneArc(at, n); ok { // seen along the axis of a cylinder that it lies on
		b.add(role, a)
		return
	}
	closed := vs[0].Point.Sub(vs[n].Point).Len() < 1e-7
	if closed {
		vs = vs[:n]
	}
	b.add(role, drawing.Polyline{Vertices: vs, Closed: closed})
}

// straight returns the ends of what the points cover where they are all on one
// line, so that it is joined with other lines there.
func straight(vs []drawing.Vertex) (p, q drawing.Point, ok bool) {
	p, q = vs[0].Point, vs[0].Point
	for _, v := range vs { // the farthest from the first, and from that one
		if v.Point.Sub(vs[0].Point).Len() > p.Sub(vs[0].Point).Len() {
			p = v.Point
		}
	}
	for _, v := range vs {
		if v.Point.Sub(p).Len() > q.Sub(p).Len() {
			q = v.Point
		}
	}
	l := q.Sub(p).Len()
	for _, v := range vs {
		if w := v.Point.Sub(p); math.Abs(w.X*(q.Y-p.Y)-w.Y*(q.X-p.X)) > same*l {
			return p, q, false
		}
	}
	return p, q, l > same
}

// oneArc returns the arc that a curve is, so that it is joined with others on
// its circle; at gives the points of the curve, and n is how many are looked
// at.
func oneArc(at func(float64) plane.Vec, n int) (drawing.Arc, bool) {
	p, q := at(0), at(1)
	c, r, ok := plane.ArcThrough(p, at(0.5), q)
	if !ok {
		return drawing.Arc{}, false
	}
	turned := 0.0 // must go one way all along
	last := plane.Degrees(p.X-c.X, p.Y-c.Y)
	for i := range 2 * n {
		v := at(float64(i+1) / float64(2*n))
		if math.Abs(math.Hypot(v.X-c.X, v.Y-c.Y)-r) > same {
			return drawing.Arc{}, false
		}
		deg := plane.Degrees(v.X-c.X, v.Y-c.Y)
		step := plane.Norm(deg-last+180) - 180
		if step == 0 || step*turned < 0 {
			return drawing.Arc{}, false
		}
		turned, last = turned+step, deg
	}
	s, e := nearly(plane.Degrees(p.X-c.X, p.Y-c.Y)), nearly(plane.Degrees(q.X-c.X, q.Y-c.Y))
	if turned < 0 {
		s, e = e, s
	}
	return drawing.Arc{Center: drawing.Pt(tidyTo(c.X), tidyTo(c.Y)), Radius: tidyTo(r), Start: s, End: e}, true
}

// tidyTo returns the multiple of a thousandth that a length, found from points
// of a curve, is but for rounding.
func tidyTo(v float64) float64 {
	if r := math.Round(v*1e3) / 1e3; math.Abs(v-r) < 1e-8 {
		return r
	}
	return v
}

// bulge returns that of the arc from a by m to z: twice its height over its
// chord, negative where it turns right.
func bulge(a, m, z plane.Vec) float64 {
	dx, dy := z.X-a.X, z.Y-a.Y
	l2 := dx*dx + dy*dy
	if l2 < 1e-18 {
		return 0
	}
	h := (dx*(m.Y-a.Y) - dy*(m.X-a.X)) / l2 // signed height over the chord
	if math.Abs(h) < 1e-9 {
		return 0
	}
	return -2 * h
}
