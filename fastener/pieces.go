package fastener

import (
	"math"

	"boltplate/drawing"
	"boltplate/internal/plane"
	"boltplate/internal/solid"
)

// frameOf returns the picture plane of a view. The side view is the one from
// above: the plan; that of an eighth turn is from halfway between. The end views
// stand beside the elevation that they go with, which is the side view where the
// options say so.
func frameOf(dir drawing.Direction, opt Options, fromPoint, eighth bool) solid.Frame {
	above, away := solid.V(0, 1, 0), solid.V(0, 0, -1)
	if eighth {
		above, away = solid.V(0, math.Sqrt2/2, math.Sqrt2/2), solid.V(0, math.Sqrt2/2, -math.Sqrt2/2)
	}
	up := solid.V(0, 1, 0)
	if opt.turned {
		up = away
	}
	switch dir {
	case drawing.SideView:
		return solid.Looking(above, away)
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
	return solid.Looking(solid.V(0, 0, 1), solid.V(0, 1, 0))
}

// trace draws what is seen of the solids and of the lines that conventions add
// to them; hidden edges too, where the options ask for them and the view is not
// a pictorial one.
func (b *builder) trace(solids []solid.Solid, extra []solid.Curve, pictorial bool) {
	pieces := solid.Trace(solids, extra, b.frame, b.opt.Hidden && !pictorial)
	b.lines.Reset(len(pieces) + 8)
	for i := range pieces {
		p := &pieces[i]
		role := drawing.RoleOutline
		switch {
		case !p.Visible:
			role = drawing.RoleHidden
		case p.Mark()&solid.Thin != 0:
			role = drawing.RoleThin
		}
		b.piece(role, p, pictorial)
	}
}

// same is how near points are that count as one (mm).
const same = 1e-6

// A speck is a piece that is left over by rounding, where a curve touches
// another one at its end (mm).
const speck = 1e-5

// flatness is how far a free curve may be off its true place (mm); it is drawn
// in arcs.
const flatness = 5e-4

func point(v plane.Vec) drawing.Point { return drawing.Point(v) }

func tidyPoint(v plane.Vec) drawing.Point { return drawing.Pt(tidy(v.X), tidy(v.Y)) }

// piece draws a piece of a curve as it shows in the picture.
func (b *builder) piece(role drawing.Role, p *solid.Piece, pictorial bool) {
	switch p.Shape() {
	case solid.Straight:
		b.straight(role, p.Flat(0), p.Flat(1))
	case solid.Circular:
		b.ellipse(role, p)
	case solid.Rational:
		b.conic(role, p, pictorial)
	case solid.Free:
		b.free(role, p)
	}
}

func (b *builder) straight(role drawing.Role, p, q plane.Vec) {
	if math.Hypot(q.X-p.X, q.Y-p.Y) > speck {
		b.lines.Line(role, tidyPoint(p), tidyPoint(q))
	}
}

// conic draws a piece of a conic section: an arc in its place, unless the true
// curve is asked for or no arc is near enough to it.
func (b *builder) conic(role drawing.Role, p *solid.Piece, pictorial bool) {
	f, m, t, weight, whole := p.Conic()
	from, mid, to := point(f), point(m), point(t)
	top := point(p.Flat(0.5))
	if math.Abs((mid.X-from.X)*(to.Y-from.Y)-(mid.Y-from.Y)*(to.X-from.X)) < 1e-9 {
		// Seen on its edge: to the vertex, which is in the middle, and back.
		if v, between := p.Middle(); between {
			b.straight(role, f, v)
			f = v
		}
		b.straight(role, f, t)
		return
	}
	if to.Sub(from).Len() < speck {
		return
	}
	if b.opt.Exact || pictorial {
		b.add(role, drawing.Conic{From: from, Control: mid, To: to, Weight: weight})
		return
	}
	if whole && weight > 1.3 && math.Abs(to.X-from.X) < 1e-9 && deep(from, top, to) > 0.15 && deep(from, top, to) < 0.2 {
		if to.Y < from.Y { // a square on its corner
			from, to = to, from
		}
		threeArcs(b, role, from, top, to)
		return
	}
	a, ok := arcThrough(from, top, to)
	switch q := point(p.Flat(0.25)); {
	case ok && math.Abs(q.Sub(a.Center).Len()-a.Radius) > arcError*to.Sub(from).Len():
		b.free(role, p)
	case ok:
		b.arc(role, a)
	}
}

func (b *builder) arc(role drawing.Role, a drawing.Arc) {
	b.lines.Round(role, a.Center, drawing.Pt(a.Radius, 0), 1, a.Start, plane.Sweep(a.Start, a.End))
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

// ellipse draws a piece of a circle as it is seen: c + u cos t + v sin t from t0
// to t1 degrees, a circle, an ellipse, or where it is seen on its edge a line.
func (b *builder) ellipse(role drawing.Role, p *solid.Piece) {
	c, u, v, t0, t1 := p.Ellipse()
	uu, vv, uv := u.X*u.X+u.Y*u.Y, v.X*v.X+v.Y*v.Y, u.X*v.X+u.Y*v.Y
	centre := drawing.Pt(tidy(c.X), tidy(c.Y))
	sweep := t1 - t0
	if sweep/180*math.Pi*math.Sqrt(max(uu, vv)) < speck {
		return
	}
	ccw := u.X*v.Y-u.Y*v.X > 0
	if math.Abs(uu-vv) < 1e-9*uu && math.Abs(uv) < 1e-9*uu { // in its true shape
		start := 0.0
		if sweep < 360-1e-7 {
			start = nearly(plane.Degrees(u.X, u.Y))
			if ccw {
				start = nearly(start + t0)
			} else {
				start = nearly(start - t1)
			}
		}
		b.lines.Round(role, centre, drawing.Pt(tidy(math.Sqrt(uu)), 0), 1, start, sweep)
		return
	}
	// The axes of the ellipse are where the radius is longest and shortest:
	// turned by phi, tan 2 phi = 2 u.v / (u.u - v.v).
	deg := nearly(math.Atan2(2*uv, uu-vv) / 2 * 180 / math.Pi)
	s, k := plane.Sincos(deg)
	major, minor := plane.Vec{X: u.X*k + v.X*s, Y: u.Y*k + v.Y*s}, plane.Vec{X: v.X*k - u.X*s, Y: v.Y*k - u.Y*s}
	a, m := math.Hypot(major.X, major.Y), math.Hypot(minor.X, minor.Y)
	if m < 1e-9*a {
		b.edgeOn(role, centre, major, t0-deg, t1-deg)
		return
	}
	// The picture of an ellipse may run the other way round.
	start := t0 - deg
	if !ccw {
		start = deg - t1
	}
	if major.X < -1e-12 || major.X < 1e-12 && major.Y < 0 { // one form for each ellipse
		major = plane.Vec{X: -major.X, Y: -major.Y}
		start += 180
	}
	b.lines.Round(role, centre, point(major), m/a, nearly(plane.Norm(start)), sweep)
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
// points of it, as many as make it as near as flatness. Where another line may
// meet it, it has such a point.
func (b *builder) free(role drawing.Role, p *solid.Piece) {
	at := p.Flat
	var room [16]float64
	knots := p.Knots(room[:0])
	vs := make([]drawing.Vertex, 0, 32)
	for i := 1; i < len(knots); i++ {
		vs = appendArcs(vs, at, knots[i-1], knots[i])
	}
	vs = append(vs, drawing.Vertex{Point: point(at(1))})
	n := len(vs) - 1
	length := 0.0
	for i := range vs[1:] {
		length += vs[i+1].Point.Sub(vs[i].Point).Len()
	}
	if length < 2*flatness {
		return
	}
	closed := vs[0].Point.Sub(vs[n].Point).Len() < 1e-7
	var samples [17]plane.Vec
	for i := range samples {
		samples[i] = at(float64(i) / float64(len(samples)-1))
	}
	if p, q, ok := straight(samples[:], vs); ok { // seen on its edge
		b.lines.Line(role, tidyPoint(p), tidyPoint(q))
		return
	}
	if c, r, start, sweep, ok := oneArc(samples[:], closed); ok { // seen along the axis of a cylinder that it lies on
		b.lines.Round(role, c, drawing.Pt(r, 0), 1, start, sweep)
		return
	}
	if closed {
		vs = vs[:n]
	}
	b.add(role, drawing.Polyline{Vertices: vs, Closed: closed})
}

// appendArcs appends the arcs that stand for a curve from s to e, without the
// last point: twice as many until they are near enough.
func appendArcs(vs []drawing.Vertex, at func(float64) plane.Vec, s, e float64) []drawing.Vertex {
	const most = 256
	first := len(vs)
	for n := max(1, int(math.Ceil((e-s)*8))); ; n *= 2 {
		vs = vs[:first]
		near := true
		a := at(s)
		for i := range n {
			p, q := s+(e-s)*float64(i)/float64(n), s+(e-s)*float64(i+1)/float64(n)
			m, z := at((p+q)/2), at(q)
			near = near && (n >= most || arcNear(a, m, z, at(p+(q-p)/4)) && arcNear(a, m, z, at(p+(q-p)*3/4)))
			if !near {
				break
			}
			vs = append(vs, drawing.Vertex{Point: point(a), Bulge: bulge(a, m, z)})
			a = z
		}
		if near {
			return vs
		}
	}
}

// arcNear reports whether q is as near as flatness to the arc from a by m to z,
// or to the line where that is none.
func arcNear(a, m, z, q plane.Vec) bool {
	if c, r, ok := plane.ArcThrough(a, m, z); ok {
		return math.Abs(math.Hypot(q.X-c.X, q.Y-c.Y)-r) < flatness
	}
	l := math.Hypot(z.X-a.X, z.Y-a.Y)
	return l == 0 || math.Abs((q.X-a.X)*(z.Y-a.Y)-(q.Y-a.Y)*(z.X-a.X))/l < flatness
}

// straight returns the ends of what the points of a curve cover where they are
// all on one line, so that it is joined with other lines there.
func straight(vs []plane.Vec, more []drawing.Vertex) (p, q plane.Vec, ok bool) {
	far := func(a, b plane.Vec) float64 { return math.Hypot(b.X-a.X, b.Y-a.Y) }
	farthest := func(from plane.Vec) plane.Vec {
		best := from
		for _, v := range vs {
			if far(v, from) > far(best, from) {
				best = v
			}
		}
		for _, v := range more {
			if far(plane.Vec(v.Point), from) > far(best, from) {
				best = plane.Vec(v.Point)
			}
		}
		return best
	}
	p = farthest(vs[0])
	q = farthest(p)
	l := far(p, q)
	for _, v := range vs {
		if math.Abs((v.X-p.X)*(q.Y-p.Y)-(v.Y-p.Y)*(q.X-p.X)) > same*l {
			return p, q, false
		}
	}
	return p, q, l > same
}

// oneArc returns the arc or circle that the points of a curve are on, so that it
// is joined with others there: its centre and radius, where it starts and how
// far it turns, degrees.
func oneArc(vs []plane.Vec, closed bool) (centre drawing.Point, r, start, sweep float64, ok bool) {
	n := len(vs) - 1
	c, r, ok := plane.ArcThrough(vs[0], vs[n/3], vs[2*n/3])
	if !ok {
		return centre, 0, 0, 0, false
	}
	turned := 0.0 // must go one way all along
	first := plane.Degrees(vs[0].X-c.X, vs[0].Y-c.Y)
	last := first
	for _, v := range vs[1:] {
		deg := plane.Degrees(v.X-c.X, v.Y-c.Y)
		step := plane.Norm(deg-last+180) - 180
		if math.Abs(math.Hypot(v.X-c.X, v.Y-c.Y)-r) > same || step == 0 || step*turned < 0 {
			return centre, 0, 0, 0, false
		}
		turned, last = turned+step, deg
	}
	start = nearly(first)
	if turned < 0 {
		start = nearly(last)
	}
	if sweep = math.Abs(turned); closed {
		start, sweep = 0, 360
	}
	const least = 20 // a short piece of any curve is near to some arc
	return drawing.Pt(tidyTo(c.X), tidyTo(c.Y)), tidyTo(r), start, sweep, sweep > least && sweep < 360+1e-6
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
