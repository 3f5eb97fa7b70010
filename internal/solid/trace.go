package solid

import (
	"math"
	"slices"

	"boltplate/internal/plane"
)

// A Piece is a part of a curve, from S0 to S1 of its parameter, that is seen or
// hidden. Of a closed curve S0 may be negative.
type Piece struct {
	Curve   Curve
	S0, S1  float64
	Visible bool
}

// At returns the point of the piece at s, from 0 to 1.
func (p *Piece) At(s float64) Vec { return p.Curve.At(p.S0 + s*(p.S1-p.S0)) }

// Trace returns what is seen of the edges and silhouettes of the solids and of
// further curves that lie on no solid, and what of them is hidden. hidden asks
// for the hidden pieces too.
func Trace(solids []Solid, extra []Curve, f Frame, hidden bool) []Piece {
	t := tracer{f: f, hidden: hidden, parts: make([]part, len(solids))}
	for i := range solids {
		p := &t.parts[i]
		p.Solid = &solids[i]
		lo, hi := solids[i].vol.box()
		p.box = f.flatBox(lo, hi)
	}
	for i := range solids {
		t.surface(&solids[i], i, -1)
		for h := range solids[i].holes {
			t.surface(&solids[i].holes[h], i, h)
		}
	}
	for i := range extra {
		t.curve(&extra[i], -1, -1)
	}
	return t.out
}

type part struct {
	*Solid
	box plane.Box
}

type tracer struct {
	f      Frame
	hidden bool
	parts  []part
	out    []Piece
	cuts   []float64 // used again for every curve
	runs   []run
	buf    [][2]float64
}

// A run is a stretch of a curve that is all of one state.
type run struct {
	s0, s1 float64
	is     state
}

func (f Frame) flatBox(lo, hi Vec) plane.Box {
	b := plane.Box{Min: plane.Vec{X: math.Inf(1), Y: math.Inf(1)}, Max: plane.Vec{X: math.Inf(-1), Y: math.Inf(-1)}}
	for i := range 8 {
		p := lo
		if i&1 != 0 {
			p.X = hi.X
		}
		if i&2 != 0 {
			p.Y = hi.Y
		}
		if i&4 != 0 {
			p.Z = hi.Z
		}
		q := f.Flat(p)
		b.Min = plane.Vec{X: min(b.Min.X, q.X), Y: min(b.Min.Y, q.Y)}
		b.Max = plane.Vec{X: max(b.Max.X, q.X), Y: max(b.Max.Y, q.Y)}
	}
	return b
}

// surface traces the edges and silhouettes of a solid, or of a hole in it.
func (t *tracer) surface(s *Solid, owner, hole int) {
	for i := range s.edges {
		t.curve(&s.edges[i], owner, hole)
	}
	for i := range s.rounds {
		for _, c := range s.rounds[i].silhouettes(t.f.To) {
			t.curve(&c, owner, hole)
		}
	}
	for _, r := range s.rings {
		for _, c := range r.silhouettes(t.f.To) {
			t.curve(&c, owner, hole)
		}
	}
}

// silhouettes returns the lines where a curved surface turns away from a
// viewer in the direction to.
func (r *round) silhouettes(to Vec) []Curve {
	if r.sphere {
		return []Curve{CircleAt(r.o, to, r.r)}
	}
	u, v := r.u, r.v
	if r.sweep == 0 {
		u, v = across(r.a)
	}
	// Where u cos t + v sin t is at a right angle to the sight: its product
	// with to equals k a.to.
	x, y, w := u.Dot(to), v.Dot(to), r.k*r.a.Dot(to)
	m := math.Hypot(x, y)
	if m < 1e-9 || math.Abs(w) >= m*(1-1e-12) {
		return nil
	}
	var out []Curve
	base, half := plane.Degrees(x, y), math.Acos(w/m)*180/math.Pi
	for _, deg := range [2]float64{base + half, base - half} {
		if r.sweep != 0 && plane.Norm(deg+1e-7) > r.sweep+2e-7 {
			continue
		}
		s, c := plane.Sincos(nice(deg))
		e := u.Mul(c).Add(v.Mul(s))
		at := func(l float64) Vec { return r.o.Add(r.a.Mul(l)).Add(e.Mul(r.r + r.k*l)) }
		out = append(out, Segment(at(r.s0), at(r.s1)))
	}
	return out
}

// nice returns the angle, or the multiple of 15 degrees that it is but for
// rounding.
func nice(deg float64) float64 {
	if n := math.Round(deg/15) * 15; math.Abs(deg-n) < 1e-10 {
		return n
	}
	return deg
}

func (r *torus) silhouettes(to Vec) []Curve {
	u, v := across(r.a)
	e := func(deg float64) Vec {
		s, c := plane.Sincos(deg)
		return u.Mul(c).Add(v.Mul(s))
	}
	h := r.a.Dot(to)
	if math.Abs(h) > 1-1e-12 { // along the axis: two circles
		return []Curve{CircleAt(r.c, r.a, r.radius+r.tube), CircleAt(r.c, r.a, r.radius-r.tube)}
	}
	if math.Abs(h) < 1e-12 { // across it: the flanks, and the section at both ends
		sight := plane.Degrees(u.Dot(to), v.Dot(to))
		out := []Curve{CircleAt(r.c.Add(r.a.Mul(r.tube)), r.a, r.radius), CircleAt(r.c.Sub(r.a.Mul(r.tube)), r.a, r.radius)}
		for _, deg := range [2]float64{sight + 90, sight - 90} {
			d := e(nice(deg))
			out = append(out, CircleAt(r.c.Add(d.Mul(r.radius)), r.a.Cross(d), r.tube))
		}
		return out
	}
	var out []Curve
	for _, side := range [2]float64{1, -1} {
		out = append(out, Along(func(s float64) Vec {
			d := e(360 * s)
			// The direction in the section that is across the sight.
			n := d.Mul(h).Sub(r.a.Mul(d.Dot(to)))
			return r.c.Add(d.Mul(r.radius)).Add(n.Mul(side * r.tube / n.Len()))
		}))
	}
	return out
}

type state uint8

const (
	absent state = iota
	covered
	seen
)

// state says what a point of a curve on the surface of the part owner (in its
// hole, where that is not negative) is.
func (t *tracer) state(p Vec, owner, hole int) state {
	if owner >= 0 {
		s := t.parts[owner].Solid
		if !s.vol.contains(p, -near) {
			return absent
		}
		for i := range s.holes {
			if i == hole {
				if !s.holes[i].vol.contains(p, -near) {
					return absent
				}
			} else if s.holes[i].contains(p, tiny) {
				return absent
			}
		}
	}
	q := t.f.Flat(p)
	state := seen
	for i := range t.parts {
		s := &t.parts[i]
		if q.X < s.box.Min.X-near || q.X > s.box.Max.X+near || q.Y < s.box.Min.Y-near || q.Y > s.box.Max.Y+near {
			continue
		}
		if i != owner && s.contains(p, tiny) {
			return absent
		}
		if state == covered {
			continue
		}
		t.buf = s.spans(t.buf[:0], p, t.f.To, tiny)
		for _, m := range t.buf {
			if m[1]-math.Max(m[0], near) > near {
				state = covered
				break
			}
		}
	}
	return state
}

// curve cuts a curve where it appears, disappears or ends, and keeps its
// pieces.
func (t *tracer) curve(c *Curve, owner, hole int) {
	if c.Mark&NotAlong != 0 && c.Shape == Circular && math.Abs(c.U.Cross(c.V).Unit().Dot(t.f.To)) > 1-1e-9 {
		return
	}
	if c.Mark&Buried != 0 {
		if t.hidden {
			t.out = append(t.out, Piece{*c, 0, 1, false})
		}
		return
	}
	cuts := t.samples(c)
	runs := t.runs[:0]
	mid := func(i int) float64 { return (cuts[i] + cuts[i+1]) / 2 }
	at := func(s float64) state { return t.state(c.At(s), owner, hole) }
	last := at(mid(0))
	start := 0.0
	for i := 1; i+1 < len(cuts); i++ {
		now := at(mid(i))
		// Where one state ends a third may begin before the one that was found.
		for lo := mid(i - 1); last != now; {
			hi := mid(i)
			next := now
			for hi-lo > 1e-12 {
				m := (lo + hi) / 2
				if s := at(m); s == last {
					lo = m
				} else {
					hi, next = m, s
				}
			}
			runs = append(runs, run{start, hi, last})
			start, last, lo = hi, next, hi
		}
	}
	runs = append(runs, run{start, 1, last})
	if n := len(runs); c.closed() && n > 1 && runs[0].is != runs[n-1].is {
		// The change between the end and the start of a closed curve.
		lo, hi := mid(len(cuts)-2)-1, mid(0)
		for hi-lo > 1e-12 {
			if m := (lo + hi) / 2; at(m) == runs[n-1].is {
				lo = m
			} else {
				hi = m
			}
		}
		runs[0].s0, runs[n-1].s1 = hi, 1+hi
	}
	t.runs = runs
	if n := len(runs); n > 1 && c.closed() && runs[0].is == runs[n-1].is {
		runs[0].s0 = runs[n-1].s0 - 1
		runs = runs[:n-1]
	}
	for _, r := range runs {
		r.s0, r.s1 = c.snapped(t.f.To, r.s0), c.snapped(t.f.To, r.s1)
		if r.s1-r.s0 < 1e-7 || r.is == absent || r.is == covered && (!t.hidden || c.Mark&VisibleOnly != 0) {
			continue
		}
		t.out = append(t.out, Piece{*c, r.s0, r.s1, r.is == seen})
	}
}

// samples returns parameters from 0 to 1 between which a curve is looked at:
// evenly, and closer where it passes a solid that is small beside it.
func (t *tracer) samples(c *Curve) []float64 {
	n := 16
	switch c.Shape {
	case Circular:
		n = 48
	case Free:
		n = 96
	}
	cuts := append(t.cuts[:0], 0)
	if !c.closed() { // what ends just beyond another edge
		cuts = append(cuts, 0.004)
	}
	for i := 1; i < n; i++ {
		cuts = append(cuts, float64(i)/float64(n))
	}
	if !c.closed() {
		cuts = append(cuts, 0.996)
	}
	cuts = append(cuts, 1)
	if c.Shape == Straight {
		if d := 0.02 / c.B.Sub(c.A).Len(); d < 0.004 {
			cuts = append(cuts, d, 1-d)
		}
		a, b := t.f.Flat(c.A), t.f.Flat(c.B)
		for i := range t.parts {
			lo, hi := 0.0, 1.0
			box := t.parts[i].box
			clip := func(a, d, min, max float64) {
				if math.Abs(d) < 1e-12 {
					return
				}
				u, v := (min-a)/d, (max-a)/d
				if u > v {
					u, v = v, u
				}
				lo, hi = math.Max(lo, u), math.Min(hi, v)
			}
			clip(a.X, b.X-a.X, box.Min.X, box.Max.X)
			clip(a.Y, b.Y-a.Y, box.Min.Y, box.Max.Y)
			if hi-lo > 1e-9 && hi-lo < 0.8 {
				for k := range 13 {
					cuts = append(cuts, lo+(hi-lo)*float64(k)/12)
				}
			}
		}
		slices.Sort(cuts)
		cuts = slices.CompactFunc(cuts, func(a, b float64) bool { return math.Abs(b-a) < 1e-9 })
	}
	t.cuts = cuts
	return cuts
}

// snapped returns the parameter of a circle, or that of the place where the
// cylinder on the circle turns away from the sight, if it is that but for the
// blur of a tangential crossing.
func (c *Curve) snapped(to Vec, s float64) float64 {
	if c.Shape != Circular {
		return s
	}
	x, y := c.U.Dot(to), c.V.Dot(to)
	if math.Hypot(x, y) < 1e-9*c.U.Len() {
		return s
	}
	const blur = 0.02 // degrees
	deg := c.T0 + s*(c.T1-c.T0)
	turn := plane.Norm(deg - plane.Degrees(y, -x))
	if off := math.Mod(turn+90, 180) - 90; math.Abs(off) < blur {
		return (nice(deg-off) - c.T0) / (c.T1 - c.T0)
	}
	return s
}
