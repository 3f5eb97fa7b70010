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
	b.drawFree()
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
		var ps [9]drawing.Point
		for i := range ps {
			ps[i] = point(p.Flat(float64(i) / float64(len(ps)-1)))
		}
		b.lines.Conic(role, drawing.Conic{From: from, Control: mid, To: to, Weight: weight}, ps[:])
		return
	}
	if whole && weight > 1.3 && math.Abs(to.X-from.X) < 1e-9 && deep(from, top, to) > 0.15 &&
		deep(from, top, to) < 0.2 {
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
