package fastener

import (
	"math"
	"slices"

	"boltplate/drawing"
	"boltplate/internal/plane"
	"boltplate/internal/solid"
)

// A freeCurve is a piece of a curve that is none of the simple ones.
type freeCurve struct {
	role drawing.Role
	p    solid.Piece
	// Points of it at even steps, and a box about it.
	points   [17]plane.Vec
	min, max plane.Vec
}

// free draws a piece of a free curve that is a line or an arc in the picture,
// and keeps any other for drawFree.
func (b *builder) free(role drawing.Role, p *solid.Piece) {
	c := freeCurve{role: role, p: *p}
	bend := 0.0
	for i := range c.points {
		q := p.Flat(float64(i) / float64(len(c.points)-1))
		c.points[i] = q
		if i == 0 {
			c.min, c.max = q, q
		}
		c.min = plane.Vec{X: min(c.min.X, q.X), Y: min(c.min.Y, q.Y)}
		c.max = plane.Vec{X: max(c.max.X, q.X), Y: max(c.max.Y, q.Y)}
		if i > 1 {
			a, m := c.points[i-2], c.points[i-1]
			bend = max(bend, math.Hypot(a.X-2*m.X+q.X, a.Y-2*m.Y+q.Y))
		}
	}
	if c.max.X-c.min.X+c.max.Y-c.min.Y < 2*flatness {
		return
	}
	closed := distance(c.points[0], c.points[len(c.points)-1]) < 1e-7
	var room [16]float64
	if p, q, ok := straight(c.points[:], p.Flat, p.Knots(room[:0])); ok { // seen on its edge
		b.lines.Line(role, tidyPoint(p), tidyPoint(q))
		return
	}
	// seen along the axis of a cylinder that it lies on
	if o, r, start, sweep, ok := oneArc(c.points[:], closed); ok {
		b.lines.Round(role, o, drawing.Pt(r, 0), 1, start, sweep)
		return
	}
	grow := bend + flatness
	c.min, c.max = plane.Vec{X: c.min.X - grow, Y: c.min.Y - grow},
		plane.Vec{X: c.max.X + grow, Y: c.max.Y + grow}
	if b.frees == nil {
		b.frees = make([]freeCurve, 0, 12)
	}
	b.frees = append(b.frees, c)
}

// drawFree draws the free curves in arcs, but for what lies on one that wins:
// the visible ones first, then narrow ones, then hidden ones.
func (b *builder) drawFree() {
	var room [24]*freeCurve
	kept := room[:0]
	for _, role := range [3]drawing.Role{drawing.RoleOutline, drawing.RoleThin, drawing.RoleHidden} {
		for i := range b.frees {
			if c := &b.frees[i]; c.role == role {
				for _, s := range c.clearOf(kept) {
					part := c.p.Part(s[0], s[1])
					b.arcs(role, &part)
				}
				kept = append(kept, c)
			}
		}
	}
}

// clearOf returns the stretches of the curve, from 0 to 1, that lie on none of
// the others.
func (c *freeCurve) clearOf(others []*freeCurve) [][2]float64 {
	var room [16]float64
	var roomNear [8]*freeCurve
	cuts, near := append(room[:0], 0, 1), roomNear[:0]
	for _, o := range others {
		if c.min.X > o.max.X || o.min.X > c.max.X || c.min.Y > o.max.Y || o.min.Y > c.max.Y {
			continue
		}
		near = append(near, o)
		for _, s := range [2]float64{0, 1} { // where the other one ends on it
			cuts = c.appendThrough(cuts, o.p.Flat(s))
		}
	}
	if len(near) == 0 {
		return [][2]float64{{0, 1}}
	}
	slices.Sort(cuts)
	var out [][2]float64
	for i, to := range cuts[1:] {
		from := cuts[i]
		if to-from < 1e-6 {
			continue
		}
		covered := func(k float64) bool {
			p := c.p.Flat(from + k*(to-from))
			return slices.ContainsFunc(near, func(o *freeCurve) bool { return o.nearest(p) < 2*flatness })
		}
		if covered(0.3) && covered(0.55) {
			continue
		}
		if n := len(out); n > 0 && from-out[n-1][1] < 1e-6 {
			out[n-1][1] = to
		} else {
			out = append(out, [2]float64{from, to})
		}
	}
	return out
}

// nearest returns how near the curve is to a point.
func (c *freeCurve) nearest(q plane.Vec) float64 {
	best := 0
	for i, p := range c.points {
		if distance(p, q) < distance(c.points[best], q) {
			best = i
		}
	}
	_, off := c.nearestAbout(best, q)
	return off
}

// appendThrough appends where the curve, which may come back on itself, goes
// through a point.
func (c *freeCurve) appendThrough(out []float64, q plane.Vec) []float64 {
	n := len(c.points) - 1
	for i, p := range c.points {
		here := distance(p, q)
		if i > 0 && distance(c.points[i-1], q) < here || i < n && distance(c.points[i+1], q) < here {
			continue
		}
		if at, off := c.nearestAbout(i, q); off < 2*flatness {
			out = append(out, at)
		}
	}
	return out
}

// nearestAbout returns where the curve is nearest to a point about its ith point,
// and how near.
func (c *freeCurve) nearestAbout(i int, q plane.Vec) (at, off float64) {
	n := float64(len(c.points) - 1)
	lo, hi := max(0, float64(i-1)/n), min(1, float64(i+1)/n)
	for hi-lo > 1e-9 {
		a, b := lo+(hi-lo)*0.382, lo+(hi-lo)*0.618
		if distance(c.p.Flat(a), q) < distance(c.p.Flat(b), q) {
			hi = b
		} else {
			lo = a
		}
	}
	at = (lo + hi) / 2
	return at, distance(c.p.Flat(at), q)
}

func distance(p, q plane.Vec) float64 { return math.Hypot(q.X-p.X, q.Y-p.Y) }

// arcs draws a free curve in arcs through exact points of it, as many as make it
// as near as flatness. Where another line may meet it, it has such a point.
func (b *builder) arcs(role drawing.Role, p *solid.Piece) {
	at := p.Flat
	var room [16]float64
	knots := p.Knots(room[:0])
	var roomVs [48]drawing.Vertex
	vs := roomVs[:0]
	for i := 1; i < len(knots); i++ {
		vs = appendArcs(vs, at, knots[i-1], knots[i])
	}
	vs = append(vs, drawing.Vertex{Point: point(at(1))})
	n := len(vs) - 1
	closed := vs[0].Point.Sub(vs[n].Point).Len() < 1e-7
	var roomPs [96]drawing.Point
	ps := roomPs[:0]
	for i, v := range vs { // the ends of the arcs and points between them
		ps = append(ps, v.Point)
		if i < n {
			w := vs[i+1].Point
			m := v.Point.Add(w).Mul(0.5)
			d := w.Sub(v.Point).Mul(v.Bulge / 2)
			ps = append(ps, drawing.Pt(m.X+d.Y, m.Y-d.X))
		}
	}
	if closed {
		vs = vs[:n]
	}
	b.lines.Polyline(role, drawing.Polyline{Vertices: slices.Clone(vs), Closed: closed}, ps)
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
func straight(vs []plane.Vec, at func(float64) plane.Vec, knots []float64) (p, q plane.Vec, ok bool) {
	farthest := func(from plane.Vec) plane.Vec {
		best := from
		for _, v := range vs {
			if distance(v, from) > distance(best, from) {
				best = v
			}
		}
		for _, k := range knots { // where it turns back
			if v := at(k); distance(v, from) > distance(best, from) {
				best = v
			}
		}
		return best
	}
	p = farthest(vs[0])
	q = farthest(p)
	l := distance(p, q)
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

// bulge returns that of the arc from a by m to z, negative where it turns right:
// it turns at m by half of what the arc does.
func bulge(a, m, z plane.Vec) float64 {
	ux, uy, vx, vy := m.X-a.X, m.Y-a.Y, z.X-m.X, z.Y-m.Y
	cross, dot := ux*vy-uy*vx, ux*vx+uy*vy
	lengths := math.Sqrt((ux*ux + uy*uy) * (vx*vx + vy*vy))
	if lengths+dot < 1e-18 || math.Abs(cross) < 1e-9*lengths {
		return 0
	}
	return cross / (lengths + dot)
}
