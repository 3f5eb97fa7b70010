package solid

import (
	"math"

	"boltplate/internal/plane"
)

// edges adds the edges and silhouettes of s to those of the body owner; shape
// is the body that s is, the owner itself or a hole in it.
func (t *tracer) edges(s *Solid, owner, hole, shape int32) {
	if s.beyond {
		return
	}
	e := edger{t: t, s: s, owner: owner, hole: hole, bored: s.bored(), endless: s.ends[0].drop || s.ends[1].drop, convex: t.bodies[shape].convex, once: t.bodies[shape].once}
	dir := t.to(s.ax.Dir)
	start, end := facingOf(-dir.Z), facingOf(dir.Z)
	switch s.sort {
	case coneSort:
		k := (s.r1 - s.r0) / (s.s1 - s.s0)
		face := facingRound(dir, k)
		if s.r0 > 0 {
			e.addRound(CircleAt(s.ax.at(s.s0), s.ax.Dir, s.r0), start, face, k)
		}
		if s.r1 > 0 {
			e.addRound(CircleAt(s.ax.at(s.s1), s.ax.Dir, s.r1), end, face, k)
		}
		u, v := t.acrossAxis(s)
		e.flanks(t.to(s.ax.at(s.s0)), u, v, dir, s.r0, k, 0, s.s1-s.s0, 0, true)
	case ballSort:
		for i, at := range [2]float64{s.s0, s.s1} {
			h := at - s.r0
			if math.Abs(h) >= s.r1*(1-1e-9) {
				continue
			}
			rho := math.Sqrt(s.r1*s.r1 - h*h)
			e.addRound(CircleAt(s.ax.at(at), s.ax.Dir, rho), [2]facing{start, end}[i], facingRange(h*dir.Z/s.r1, rho*reach(dir.Z)/s.r1), -h/rho)
		}
		c := t.to(s.ax.at(s.r0))
		e.silhouette(Curve{Shape: Circular, C: c, A: Vec{s.r1, 0, 0}, B: Vec{0, s.r1, 0}, T1: 360}, false)
	case prismSort:
		e.prism(dir, start, end)
	case profileSort:
		e.profile(dir, shape, start, end)
	case ringSort:
		e.ring(&t.rings[t.bodies[shape].shape])
	}
	for i := range s.more {
		c := &s.more[i]
		t.put(pcurve{Curve: t.curve(c), owner: owner, hole: hole, rim: t.bodies[owner].holed, away: true})
	}
}

func facingRange(mid, half float64) facing {
	switch {
	case mid-half > level:
		return front
	case mid+half < -level:
		return back
	}
	return mixed
}

// An edger adds the edges of one solid.
type edger struct {
	t           *tracer
	s           *Solid
	owner, hole int32
	once        bool // as of the body
	convex      bool
	bored       bool // no holes but along the axis
	endless     bool // an edge at one of its ends is left out
}

// add adds an edge between two faces.
func (e *edger) add(c Curve, f, g facing) { e.addRound(c, f, g, 0) }

// addRound adds an edge between a flat face and another; slope is that of a
// round one along the normal of a circle between them.
func (e *edger) addRound(c Curve, f, g facing, slope float64) {
	if e.bored && !e.t.hidden && !e.t.plain && e.hole < 0 && (f == back && g == edgeOn && !e.endless || f == edgeOn && g == back) {
		// The same edge of the face in front lies before it, or another edge of
		// the face that is seen on its edge.
		return
	}
	if e.s.goes(&c) {
		return
	}
	rim := f != g || f == mixed || f == edgeOn
	own := inDoubt
	if e.hole >= 0 {
		rim = true
	} else {
		switch {
		case f == back && g == back:
			own = behind
			if !e.t.hidden && !e.t.plain {
				return
			}
		case e.once && (f == front || g == front) || e.convex && (f == edgeOn && g != mixed || g == edgeOn && f != mixed):
			own = clear
		}
	}
	if e.t.plain {
		own, rim = inDoubt, true
	}
	if g == mixed && own == inDoubt && !e.t.plain && e.hole < 0 && e.convex && c.Shape == Circular && c.closed() {
		if arc, rest, ok := e.t.turning(&c, slope); ok {
			switch {
			case f == edgeOn && (e.t.hidden || len(e.s.holes) > 0): // nothing of the body is before it
				e.keep(rest, inDoubt, false)
			case f != edgeOn && e.t.hidden:
				e.keep(rest, behind, false)
			}
			c, own = arc, clear
		}
	}
	e.keep(c, own, rim)
}

// turning divides the circle at the end of a round surface into what faces the
// viewer and what does not; the surface grows by slope along the normal of the
// circle. The circle is in the coordinates of the part.
func (t *tracer) turning(c *Curve, slope float64) (arc, rest Curve, ok bool) {
	p := t.curve(c)
	r := p.A.Len()
	// The normal is A cos t + B sin t, less the slope along the axis.
	x, y, w := p.A.Z, p.B.Z, slope*p.A.Cross(p.B).Z/r
	m := math.Hypot(x, y)
	if m < 1e-9*r || math.Abs(w) >= m*(1-1e-12) {
		return arc, rest, false
	}
	mid, half := math.Atan2(y, x)*toDegrees, math.Acos(w/m)*toDegrees
	arc, rest = *c, *c
	arc.T0, arc.T1 = nice(mid-half), nice(mid+half)
	rest.T0, rest.T1 = arc.T1, arc.T0+360
	return arc, rest, true
}

// keep adds an edge unless it is left out and no rim.
func (e *edger) keep(c Curve, own view, rim bool) {
	drop := e.s.bare
	if e.s.picky() {
		m, without := e.s.picksOf(&c)
		c.Mark |= m
		drop = drop || without
	}
	if drop && !rim {
		return
	}
	e.t.put(pcurve{Curve: e.t.curve(&c), owner: e.owner, hole: e.hole, own: own, rim: rim, undraw: drop, made: true})
}

// silhouette adds a line where the body turns away from the viewer, in the
// coordinates of the picture; whole says that all of it is on the body.
func (e *edger) silhouette(c Curve, whole bool) {
	own := inDoubt
	if e.hole < 0 && e.convex {
		own = clear
	}
	e.t.put(pcurve{Curve: c, owner: e.owner, hole: e.hole, own: own, rim: true, made: whole})
}

// flanks adds the two lines where a cylinder or cone turns away: about the
// axis through o with the unit vectors u, v across it and a along it, radius r
// at o growing by k, from s0 to s1 along the axis. Where sweep is not 0 only
// what lies within it counts, degrees from u towards v.
func (e *edger) flanks(o, u, v, a Vec, r, k, s0, s1, sweep float64, whole bool) {
	// Where the normal, u cos t + v sin t - k a, is across the sight.
	w, m := k*a.Z, math.Hypot(u.Z, v.Z)
	if m < 1e-9 || math.Abs(w) >= m*(1-1e-12) {
		return
	}
	c := w / m
	h := math.Sqrt(1 - c*c)
	for _, side := range [2]float64{1, -1} {
		// cos and sin of base ± half, with cos half = c.
		cos, sin := (u.Z*c-side*v.Z*h)/m, (v.Z*c+side*u.Z*h)/m
		if sweep != 0 && plane.Norm(nice(plane.Degrees(cos, sin))+1e-7) > sweep+2e-7 {
			continue
		}
		d := u.Mul(cos).Add(v.Mul(sin))
		d.Z = w // exactly across the sight but for the slope
		p := o.Add(a.Mul(s0)).Add(d.Mul(r + k*s0))
		q := o.Add(a.Mul(s1)).Add(d.Mul(r + k*s1))
		e.silhouette(Segment(p, q), whole)
	}
}

func (e *edger) prism(dir Vec, start, end facing) {
	t, s := e.t, e.s
	w := s.r0
	corner := w / math.Cos(math.Pi/float64(s.n))
	var face [12]facing
	var mid [12]Vec
	for i := range s.n {
		mid[i] = s.across(float64(i) + 0.5)
		face[i] = facingOf(t.to(mid[i]).Z)
	}
	at := func(x float64, i int) Vec { return s.ax.at(x).Add(s.across(float64(i)).Mul(corner)) }
	from, to := s.s0, s.s1 // of the edges along the axis
	tan := math.Tan(s.ch.Angle * math.Pi / 180)
	drop := tan * (corner - s.ch.Circle/2)
	cut := func(x, inward float64, cap facing) {
		out, r0, k := dir.Mul(-inward), s.ch.Circle/2, -1/tan
		e.addRound(CircleAt(s.ax.at(x), s.ax.Dir, r0), cap, facingRound(out, k), -inward*k)
		half := math.Pi / float64(s.n)
		sin, cos := math.Sincos(half)
		for i := range s.n {
			cone := facingSector(t.to(mid[i]).Z, t.to(s.ax.Dir.Cross(mid[i])).Z, sin, cos, -k*out.Z)
			e.add(chamferEdge(s.ax, x, inward, w, r0, tan, half, mid[i]), cone, face[i])
		}
		u, v := t.acrossAxis(s)
		e.flanks(t.to(s.ax.at(x)), u, v, out, r0, k, -drop, 0, 0, false)
	}
	cap := func(x float64, f facing) {
		for i := range s.n {
			e.add(Segment(at(x, i), at(x, i+1)), f, face[i])
		}
	}
	if s.ch.AtStart {
		cut(s.s0, 1, start)
		from += drop
	} else {
		cap(s.s0, start)
	}
	if s.ch.AtEnd {
		cut(s.s1, -1, end)
		to -= drop
	} else {
		cap(s.s1, end)
	}
	for i := range s.n {
		e.add(Segment(at(from, i), at(to, i)), face[(i+s.n-1)%s.n], face[i])
	}
}

// facingSector is the facing of a cone between two directions about its axis:
// az is the z of the direction halfway between them, bz that of the one a
// quarter turn on, sin and cos are of half the angle between them, and add is
// what the slope of the cone adds to the z of the normal.
func facingSector(az, bz, sin, cos, add float64) facing {
	p, q := az*cos+bz*sin, az*cos-bz*sin
	lo, hi := math.Min(p, q), math.Max(p, q)
	if m := math.Hypot(az, bz); math.Abs(bz)*cos <= math.Abs(az)*sin {
		if az > 0 {
			hi = m
		} else {
			lo = -m
		}
	}
	return facingRange((lo+hi)/2+add, (hi-lo)/2)
}

// chamferEdge returns the hyperbola that a chamfer leaves on the face of a
// prism with the outward direction mid, which is w from the axis: as the
// rational curve that has its ends, the tangents there and its vertex. half is
// half the angle of the face, from the axis.
func chamferEdge(ax Axis, x, inward, w, r0, tan, half float64, mid Vec) Curve {
	side := w * math.Tan(half)
	slope := tan * math.Sin(half)
	depth := func(u float64) float64 { return tan * (math.Hypot(w, u) - r0) }
	meet := depth(side) - side*slope
	weight := (depth(side) - depth(0)) / (depth(0) - meet)
	e := ax.Dir.Cross(mid)
	at := func(u, z float64) Vec {
		return ax.at(x + inward*z).Add(mid.Mul(w)).Add(e.Mul(u))
	}
	return Curve{Shape: Rational, A: at(-side, depth(side)), C: at(0, meet), B: at(side, depth(side)), W: weight}
}

func (e *edger) ring(r *ring) {
	h := r.a.Z
	u, v := across(r.a)
	switch {
	case math.Abs(h) > 1-1e-12: // along the axis: two circles
		for _, rad := range [2]float64{r.radius + r.tube, r.radius - r.tube} {
			e.silhouette(Curve{Shape: Circular, C: r.c, A: u.Mul(rad), B: v.Mul(rad), T1: 360}, true)
		}
	case math.Abs(h) < 1e-12: // across it: the flanks, and the section at both ends
		for _, side := range [2]float64{r.tube, -r.tube} {
			e.silhouette(Curve{Shape: Circular, C: r.c.Add(r.a.Mul(side)), A: u.Mul(r.radius), B: v.Mul(r.radius), T1: 360}, true)
		}
		d := r.a.Cross(zAxis)
		for _, side := range [2]float64{r.radius, -r.radius} {
			e.silhouette(Curve{Shape: Circular, C: r.c.Add(d.Mul(side)), A: d.Mul(r.tube), B: r.a.Mul(r.tube), T1: 360}, true)
		}
	default:
		for _, side := range [2]float64{r.tube, -r.tube} {
			ring := *r
			e.silhouette(Along(func(s float64) Vec {
				sin, cos := plane.Sincos(360 * s)
				d := u.Mul(cos).Add(v.Mul(sin))
				// The direction in the section that is across the sight.
				n := d.Mul(ring.a.Z).Sub(ring.a.Mul(d.Z))
				return ring.c.Add(d.Mul(ring.radius)).Add(n.Mul(side / n.Len()))
			}), true)
			for _, s := range r.folds() {
				e.t.folds = append(e.t.folds, fold{e.t.curves[len(e.t.curves)-1].first, s})
			}
		}
	}
}

// put adds a curve with its box.
func (t *tracer) put(c pcurve) {
	switch c.Shape {
	case Straight:
		c.lo, c.hi = extend(c.A, c.A, c.B, c.B)
	case Circular:
		c.boxOfArc()
		a := math.Abs(c.A.X*c.B.Y - c.A.Y*c.B.X)
		c.flat = a < 1e-9*c.A.Len()*c.B.Len()
	case Rational:
		c.boxOfRational()
		a := (c.C.X-c.A.X)*(c.B.Y-c.A.Y) - (c.C.Y-c.A.Y)*(c.B.X-c.A.X)
		c.flat = math.Abs(a) < 1e-9
	case Free:
		t.sample(&c)
	}
	t.curves = append(t.curves, c)
}

// boxOfArc sets the box of a circle, an ellipse or a part of one.
func (c *pcurve) boxOfArc() {
	if c.closed() {
		h := Vec{math.Hypot(c.A.X, c.B.X), math.Hypot(c.A.Y, c.B.Y), math.Hypot(c.A.Z, c.B.Z)}
		c.lo, c.hi = c.C.Sub(h), c.C.Add(h)
		return
	}
	p, q := c.At(0), c.At(1)
	c.lo, c.hi = extend(p, p, q, q)
	// The middle and half of the arc say which of the farthest points are on it.
	s, k := math.Sincos((c.T0 + c.T1) / 2 / toDegrees)
	least := math.Cos((c.T1 - c.T0) / 2 / toDegrees)
	for i := range 3 {
		u, v := [3]float64{c.A.X, c.A.Y, c.A.Z}[i], [3]float64{c.B.X, c.B.Y, c.B.Z}[i]
		h := math.Hypot(u, v)
		if h == 0 {
			continue
		}
		m := (u*k + v*s) / h
		o := [3]float64{c.C.X, c.C.Y, c.C.Z}[i]
		if m >= least {
			hi := [3]*float64{&c.hi.X, &c.hi.Y, &c.hi.Z}[i]
			*hi = max(*hi, o+h)
		}
		if -m >= least {
			lo := [3]*float64{&c.lo.X, &c.lo.Y, &c.lo.Z}[i]
			*lo = min(*lo, o-h)
		}
	}
}

// boxOfRational sets the box of a rational curve: where a coordinate turns its
// derivative is zero, which is a quadratic equation.
func (c *pcurve) boxOfRational() {
	c.lo, c.hi = extend(c.A, c.A, c.B, c.B)
	a, m, b := [3]float64{c.A.X, c.A.Y, c.A.Z}, [3]float64{c.C.X, c.C.Y, c.C.Z}, [3]float64{c.B.X, c.B.Y, c.B.Z}
	var found [2]float64
	for i := range 3 {
		if m[i] >= min(a[i], b[i]) && m[i] <= max(a[i], b[i]) {
			continue
		}
		// From a on the curve is (p s(1-s) + q s²) / (1 + g s(1-s)).
		p, q, g := 2*c.W*(m[i]-a[i]), b[i]-a[i], 2*(c.W-1)
		for _, s := range quadraticRoots(found[:0], g*q, 2*(q-p), p, 0, 1) {
			v := c.At(s)
			c.lo, c.hi = extend(c.lo, c.hi, v, v)
		}
	}
}
