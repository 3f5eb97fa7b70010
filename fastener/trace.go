package fastener

import (
	"math"
	"slices"

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
		case p.S0 == 0 && p.S1 == 1 && c.W > 1.3 && math.Abs(to.X-from.X) < 1e-9 && math.Abs(top.X-from.X) > 0.15*math.Abs(to.Y-from.Y):
			if to.Y < from.Y { // a square on its corner
				from, to = to, from
			}
			prism{}.threeArcs(b, from, top, to)
		default:
			if a, ok := arcThrough(from, top, to); ok {
				b.add(role, a)
			}
		}
	case solid.Free:
		b.free(role, p, f)
	}
}

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
	if length < 1e-6 {
		return
	}
	closed := vs[0].Point.Sub(vs[n].Point).Len() < 1e-7
	if !closed && straight(vs) { // a plane curve seen on its edge
		b.line(role, tidy(vs[0].X), tidy(vs[0].Y), tidy(vs[n].X), tidy(vs[n].Y))
		return
	}
	if closed {
		vs = vs[:n]
	}
	b.add(role, drawing.Polyline{Vertices: vs, Closed: closed})
}

// straight reports whether the vertices run along a straight line.
func straight(vs []drawing.Vertex) bool {
	o, d := vs[0].Point, vs[len(vs)-1].Point.Sub(vs[0].Point)
	l := d.Len()
	last := 0.0
	for _, v := range vs[1:] {
		q := v.Point.Sub(o)
		along := (q.X*d.X + q.Y*d.Y) / l
		if math.Abs(q.X*d.Y-q.Y*d.X) > 1e-7*l || along < last-1e-7 {
			return false
		}
		last = along
	}
	return true
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

// priority is the order in which lines that coincide win: visible edges, then
// hidden ones, then centre lines; narrow lines of conventions after edges.
func priority(r drawing.Role) int {
	switch r {
	case drawing.RoleOutline:
		return 0
	case drawing.RoleThin:
		return 1
	case drawing.RoleHidden:
		return 2
	case drawing.RoleCentre:
		return 3
	}
	return -1
}

// same is how near lines are that count as one (mm).
const same = 1e-6

// merge joins lines and arcs that lie on each other, and takes away of each
// what one that wins over it covers. Dimensions and texts stay as they are.
func (b *builder) merge() {
	var kept []drawing.Item
	var lines []*carrier
	var rounds []*carrier
	for p := range 4 {
		for i := range b.items {
			it := &b.items[i]
			if priority(it.Role) != p {
				continue
			}
			switch s := it.Shape.(type) {
			case drawing.Line:
				lines = place(lines, lineCarrier(s), it.Role)
			case drawing.Arc:
				rounds = place(rounds, roundCarrier(s.Center, drawing.Pt(s.Radius, 0), 1, s.Start, plane.Sweep(s.Start, s.End)), it.Role)
			case drawing.Circle:
				rounds = place(rounds, roundCarrier(s.Center, drawing.Pt(s.Radius, 0), 1, 0, 360), it.Role)
			case drawing.Ellipse:
				sweep := 360.0
				if s.Start != s.End {
					sweep = plane.Sweep(s.Start, s.End)
				}
				rounds = place(rounds, roundCarrier(s.Center, s.Major, s.Ratio, s.Start, sweep), it.Role)
			default:
				if !slices.ContainsFunc(kept, func(k drawing.Item) bool { return alike(k.Shape, s) }) {
					kept = append(kept, *it)
				}
			}
		}
	}
	var out []drawing.Item
	for _, c := range lines {
		for _, u := range c.used {
			a, z := c.o.Add(c.d.Mul(u.from)), c.o.Add(c.d.Mul(u.to))
			out = append(out, drawing.Item{Role: u.role, Shape: drawing.Line{From: drawing.Pt(tidy(a.X), tidy(a.Y)), To: drawing.Pt(tidy(z.X), tidy(z.Y))}})
		}
	}
	for _, c := range rounds {
		for _, u := range c.turned() {
			out = append(out, drawing.Item{Role: u.role, Shape: c.round(u)})
		}
	}
	out = append(out, kept...)
	for _, it := range b.items {
		if priority(it.Role) < 0 {
			out = append(out, it)
		}
	}
	b.items = out
}

// A carrier is the line, circle or ellipse that shapes lie on, with the
// stretches of it that are drawn: millimetres along a line, degrees of a round.
type carrier struct {
	isRound bool
	o, d    drawing.Point // a line: its point nearest to the origin, its direction; a round: centre, half the major axis
	ratio   float64
	from    float64
	to      float64 // of the shape that made it
	used    []stretch
}

type stretch struct {
	from, to float64
	role     drawing.Role
}

func lineCarrier(l drawing.Line) *carrier {
	d := l.To.Sub(l.From)
	d = d.Mul(1 / d.Len())
	if d.X < -1e-9 || d.X < 1e-9 && d.Y < 0 {
		d = d.Mul(-1)
	}
	if math.Abs(d.X) < 1e-12 {
		d = drawing.Pt(0, 1)
	} else if math.Abs(d.Y) < 1e-12 {
		d = drawing.Pt(1, 0)
	}
	along := func(p drawing.Point) float64 { return p.X*d.X + p.Y*d.Y }
	o := l.From.Sub(d.Mul(along(l.From)))
	s, e := along(l.From), along(l.To)
	return &carrier{o: o, d: d, from: math.Min(s, e), to: math.Max(s, e)}
}

func roundCarrier(c, major drawing.Point, ratio, start, sweep float64) *carrier {
	s := plane.Norm(start)
	return &carrier{isRound: true, o: c, d: major, ratio: ratio, from: s, to: s + sweep}
}

func (c *carrier) like(o *carrier) bool {
	if c.o.Sub(o.o).Len() > same || math.Abs(c.ratio-o.ratio) > 1e-7 {
		return false
	}
	if c.isRound {
		return c.d.Sub(o.d).Len() < same
	}
	return c.d.Sub(o.d).Len() < 1e-7
}

// place puts the shape that made c on the carrier of its kind, where it is not
// covered; shapes of one role that touch become one.
func place(all []*carrier, c *carrier, role drawing.Role) []*carrier {
	i := slices.IndexFunc(all, c.like)
	if i < 0 {
		all, i = append(all, c), len(all)
	}
	on := all[i]
	slack := same
	if c.isRound {
		slack = same / math.Max(c.d.Len(), 1e-3) * 180 / math.Pi
	}
	add := []stretch{{c.from, c.to, role}}
	if c.isRound && c.to > 360 { // kept within one turn
		add = []stretch{{c.from, 360, role}, {0, c.to - 360, role}}
	}
	for _, a := range add {
		on.put(a, slack)
	}
	return all
}

func (c *carrier) put(a stretch, slack float64) {
	free := []stretch{a}
	for _, u := range c.used {
		var rest []stretch
		for _, f := range free {
			if u.to <= f.from+slack || u.from >= f.to-slack {
				rest = append(rest, f)
				continue
			}
			if u.from > f.from+slack {
				rest = append(rest, stretch{f.from, u.from, f.role})
			}
			if u.to < f.to-slack {
				rest = append(rest, stretch{u.to, f.to, f.role})
			}
		}
		free = rest
	}
	c.used = append(c.used, free...)
	slices.SortFunc(c.used, func(x, y stretch) int {
		if x.from < y.from {
			return -1
		}
		return 1
	})
	joined := c.used[:0]
	for _, u := range c.used {
		if n := len(joined); n > 0 && joined[n-1].role == u.role && u.from-joined[n-1].to < slack {
			joined[n-1].to = math.Max(joined[n-1].to, u.to)
			continue
		}
		joined = append(joined, u)
	}
	c.used = joined
}

// turned returns the stretches of a round; the first and the last are one where
// they meet at 0.
func (c *carrier) turned() []stretch {
	n := len(c.used)
	if n > 1 && c.used[0].from < 1e-6 && c.used[n-1].to > 360-1e-6 && c.used[0].role == c.used[n-1].role {
		first := c.used[0]
		out := slices.Clone(c.used[1:])
		out[n-2].to = 360 + first.to
		return out
	}
	return c.used
}

// round returns the shape of a stretch of a circle or ellipse.
func (c *carrier) round(u stretch) drawing.Shape {
	whole := u.to-u.from >= 360-1e-7
	if c.ratio >= 1 {
		if whole {
			return drawing.Circle{Center: c.o, Radius: c.d.Len()}
		}
		return drawing.Arc{Center: c.o, Radius: c.d.Len(), Start: u.from, End: plane.Norm(u.to)}
	}
	e := drawing.Ellipse{Center: c.o, Major: c.d, Ratio: c.ratio}
	if !whole {
		e.Start, e.End = u.from, plane.Norm(u.to)
	}
	return e
}

// alike reports whether two curves of the other kinds are the same, in either
// direction.
func alike(a, b drawing.Shape) bool {
	ends := func(s drawing.Shape) (p, m, q drawing.Point, ok bool) {
		switch s := s.(type) {
		case drawing.Conic:
			return s.From, s.Control, s.To, true
		case drawing.Polyline:
			n := len(s.Vertices)
			return s.Vertices[0].Point, s.Vertices[n/2].Point, s.Vertices[n-1].Point, true
		}
		return p, m, q, false
	}
	p, m, q, ok := ends(a)
	r, n, t, ok2 := ends(b)
	close := func(x, y drawing.Point) bool { return x.Sub(y).Len() < 1e-5 }
	return ok && ok2 && close(m, n) && (close(p, r) && close(q, t) || close(p, t) && close(q, r))
}
