package solid_test

import (
	"fmt"
	"math"

	"boltplate/internal/solid"
)

// A distance is at most that from a surface, negative inside. That from a
// convex body is a convex function along any line.
type distance func(vec) float64

// A body is a solid or a hole as the oracle knows it: the union of a few convex
// ones less others; or, where it is a ring, none of them.
type body struct {
	parts, less []distance
	ring        distance
	edges       []path              // whatever the sight
	limbs       func(to vec) []path // silhouettes
	middle      vec                 // of a sphere about it
	reach       float64
}

func (b *body) sdf(p vec) float64 {
	if b.ring != nil {
		return b.ring(p)
	}
	d := math.Inf(1)
	for _, f := range b.parts {
		d = math.Min(d, f(p))
	}
	for _, f := range b.less {
		d = math.Max(d, -f(p))
	}
	return d
}

// A thing is a solid with holes, for Trace and for the oracle.
type thing struct {
	name  string
	s     solid.Solid
	body  body
	holes []body
}

// sdf is that of the thing with its holes.
func (t *thing) sdf(p vec) float64 {
	d := t.body.sdf(p)
	for i := range t.holes {
		d = math.Max(d, -t.holes[i].sdf(p))
	}
	return d
}

// A path is a curve as the oracle knows it.
type path struct {
	name   string
	at     func(s float64) vec               // s from 0 to 1
	find   func(p vec) (s, distance float64) // the place nearest to p, or one that is no farther than that by rounding
	closed bool
	free   bool // neither straight nor a conic section
}

func straight(name string, a, b vec) path {
	d := b.Sub(a)
	return path{name: name, at: func(s float64) vec { return a.Add(d.Mul(s)) },
		find: func(p vec) (float64, float64) {
			s := math.Max(0, math.Min(1, p.Sub(a).Dot(d)/d.Dot(d)))
			return s, p.Sub(a.Add(d.Mul(s))).Len()
		}}
}

// arc is c + r (u cos t + v sin t), t from t0 to t1 radians; u and v are unit
// vectors across each other.
func arc(name string, c, u, v vec, r, t0, t1 float64) path {
	at := func(t float64) vec { return c.Add(u.Mul(r * math.Cos(t))).Add(v.Mul(r * math.Sin(t))) }
	return path{name: name, closed: t1-t0 > 2*math.Pi-1e-9,
		at: func(s float64) vec { return at(t0 + s*(t1-t0)) }, find: func(p vec) (float64, float64) {
			q := p.Sub(c)
			t := math.Atan2(q.Dot(v), q.Dot(u))
			for t < t0-1e-9 {
				t += 2 * math.Pi
			}
			for t > t0+2*math.Pi-1e-9 {
				t -= 2 * math.Pi
			}
			if t > t1 { // beyond an end
				t = t1
				if p.Sub(at(t0)).Len() < p.Sub(at(t1)).Len() {
					t = t0
				}
			}
			return (t - t0) / (t1 - t0), p.Sub(at(t)).Len()
		}}
}

// A place is where a solid stands: its own axes.
type place struct{ o, x, y, z vec }

func (l place) at(x, y, z float64) vec {
	return l.o.Add(l.x.Mul(x)).Add(l.y.Mul(y)).Add(l.z.Mul(z))
}

func (l place) local(p vec) (x, y, z float64) {
	q := p.Sub(l.o)
	return q.Dot(l.x), q.Dot(l.y), q.Dot(l.z)
}

func (l place) axis() solid.Axis { return solid.Axis{O: l.o, Dir: l.x} }

func (l place) ring(name string, x, r float64) path {
	return arc(name, l.at(x, 0, 0), l.y, l.z, r, 0, 2*math.Pi)
}

// coneLimbs are the lines of a cone r0 + k x about the axis where it turns away
// from the sight: where its normal (-k, cos t, sin t) is across that.
func (l place) coneLimbs(name string, x0, x1, r0, k float64) func(vec) []path {
	return func(to vec) []path {
		ty, tz := to.Dot(l.y), to.Dot(l.z)
		m, w := math.Hypot(ty, tz), k*to.Dot(l.x)
		if m < 1e-9 || math.Abs(w) > m*(1-1e-9) {
			return nil
		}
		var out []path
		base, half := math.Atan2(tz, ty), math.Acos(w/m)
		for _, t := range [2]float64{base + half, base - half} {
			on := func(x float64) vec {
				r := r0 + k*x
				return l.at(x, r*math.Cos(t), r*math.Sin(t))
			}
			out = append(out, straight(name+" limb", on(x0), on(x1)))
		}
		return out
	}
}

func cone(l place, x0, r0, x1, r1 float64) (solid.Solid, body) {
	k := (r1 - r0) / (x1 - x0)
	secant := math.Hypot(1, k)
	b := body{
		parts: []distance{func(p vec) float64 {
			x, y, z := l.local(p)
			return math.Max(math.Max(x0-x, x-x1), (math.Sqrt(y*y+z*z)-r0-k*(x-x0))/secant)
		}},
		middle: l.at((x0+x1)/2, 0, 0), reach: math.Hypot((x1-x0)/2, math.Max(r0, r1)),
		limbs: l.coneLimbs("cone", x0, x1, r0-k*x0, k),
	}
	for _, e := range [2][2]float64{{x0, r0}, {x1, r1}} {
		if e[1] > 0 {
			b.edges = append(b.edges, l.ring(fmt.Sprintf("cone ring at %.3g", e[0]), e[0], e[1]))
		}
	}
	return solid.Cone(l.axis(), x0, r0, x1, r1), b
}

func ball(l place, c, r, x0, x1 float64) (solid.Solid, body) {
	m := l.at(c, 0, 0)
	b := body{
		parts: []distance{func(p vec) float64 {
			x, _, _ := l.local(p)
			return math.Max(p.Sub(m).Len()-r, math.Max(x0-x, x-x1))
		}},
		middle: m, reach: r,
		limbs: func(to vec) []path {
			u := to.Cross(vec{X: 1})
			if u.Len() < 0.1 {
				u = to.Cross(vec{Y: 1})
			}
			u = u.Unit()
			return []path{arc("ball limb", m, u, to.Cross(u), r, 0, 2*math.Pi)}
		},
	}
	for _, x := range [2]float64{x0, x1} {
		if h := x - c; math.Abs(h) < r*(1-1e-9) {
			b.edges = append(b.edges, l.ring("ball ring", x, math.Sqrt(r*r-h*h)))
		}
	}
	return solid.Ball(l.axis(), c, r, x0, x1), b
}

func prism(l place, n int, flats, x0, x1 float64, ch solid.Chamfer) (solid.Solid, body) {
	w, r := flats/2, ch.Circle/2
	t := math.Tan(ch.Angle * math.Pi / 180)
	step := 2 * math.Pi / float64(n)
	corner := w / math.Cos(step/2)
	out := func(a float64) vec { return l.y.Mul(math.Cos(a)).Add(l.z.Mul(math.Sin(a))) }
	b := body{middle: l.at((x0+x1)/2, 0, 0), reach: math.Hypot((x1-x0)/2, corner)}
	normals := make([][2]float64, n)
	for i := range normals {
		sin, cos := math.Sincos(step * (float64(i) + 0.5))
		normals[i] = [2]float64{cos, sin}
	}
	cos := math.Cos(math.Atan(1 / t))
	b.parts = []distance{func(p vec) float64 {
		x, y, z := l.local(p)
		d := math.Max(x0-x, x-x1)
		for _, e := range normals {
			d = math.Max(d, y*e[0]+z*e[1]-w)
		}
		rho := math.Sqrt(y*y + z*z)
		if ch.AtStart {
			d = math.Max(d, (rho-r-(x-x0)/t)*cos)
		}
		if ch.AtEnd {
			d = math.Max(d, (rho-r-(x1-x)/t)*cos)
		}
		return d
	}}
	var limbs []func(vec) []path
	depth := func(u float64) float64 { return t * (math.Hypot(w, u) - r) }
	half := w * math.Tan(step/2)
	ends := [2]float64{x0, x1}
	for i, x := range ends {
		in := float64(1 - 2*i)
		if i == 0 && !ch.AtStart || i == 1 && !ch.AtEnd {
			for j := range n {
				p, q := out(step*float64(j)).Mul(corner), out(step*float64(j+1)).Mul(corner)
				b.edges = append(b.edges, straight("prism end", l.at(x, 0, 0).Add(p), l.at(x, 0, 0).Add(q)))
			}
			continue
		}
		drop := depth(half)
		b.edges = append(b.edges, l.ring("chamfer ring", x, r))
		lo, hi := x, x+in*drop
		limbs = append(limbs, l.coneLimbs("chamfer", lo, hi, r-in*x/t, in/t))
		ends[i] = hi
		for j := range n {
			e := out(step * (float64(j) + 0.5))
			f := l.x.Cross(e)
			foot := l.at(x, 0, 0).Add(e.Mul(w))
			at := func(u float64) vec { return foot.Add(f.Mul(u)).Add(l.x.Mul(in * depth(u))) }
			b.edges = append(b.edges, path{name: "chamfer edge",
				at: func(s float64) vec { return at(half * (2*s - 1)) },
				find: func(p vec) (float64, float64) {
					u := math.Max(-half, math.Min(half, p.Sub(foot).Dot(f)))
					return (u/half + 1) / 2, p.Sub(at(u)).Len()
				}})
		}
	}
	for j := range n {
		p := out(step * float64(j)).Mul(corner)
		b.edges = append(b.edges, straight("prism corner", l.at(ends[0], 0, 0).Add(p), l.at(ends[1], 0, 0).Add(p)))
	}
	b.limbs = func(to vec) (all []path) {
		for _, f := range limbs {
			all = append(all, f(to)...)
		}
		return all
	}
	return solid.Prism(l.axis(), n, flats, x0, x1, l.y, ch), b
}

func torus(l place, radius, tube float64) (solid.Solid, body) {
	b := body{
		ring: func(p vec) float64 {
			x, y, z := l.local(p)
			return math.Hypot(math.Hypot(y, z)-radius, x) - tube
		},
		middle: l.o, reach: radius + tube,
	}
	b.limbs = func(to vec) []path {
		ta := to.Dot(l.x)
		e := func(t float64) vec { return l.y.Mul(math.Cos(t)).Add(l.z.Mul(math.Sin(t))) }
		switch {
		case math.Abs(ta) > 1-1e-12:
			return []path{l.ring("torus limb", 0, radius+tube), l.ring("torus limb", 0, radius-tube)}
		case math.Abs(ta) < 1e-12:
			out := []path{l.ring("torus flank", tube, radius), l.ring("torus flank", -tube, radius)}
			t := math.Atan2(to.Dot(l.z), to.Dot(l.y))
			for _, a := range [2]float64{t + math.Pi/2, t - math.Pi/2} {
				out = append(out, arc("torus section", l.o.Add(e(a).Mul(radius)), e(a), l.x, tube, 0, 2*math.Pi))
			}
			return out
		}
		var out []path
		for _, side := range [2]float64{1, -1} {
			at := func(t float64) vec { // the normal in the section is across the sight
				n := e(t).Mul(ta).Sub(l.x.Mul(e(t).Dot(to))).Unit()
				return l.o.Add(e(t).Mul(radius)).Add(n.Mul(side * tube))
			}
			out = append(out, path{name: "torus limb", closed: true, free: true,
				at: func(s float64) vec { return at(2 * math.Pi * s) }, find: func(p vec) (float64, float64) {
					_, y, z := l.local(p)
					t := math.Atan2(z, y)
					if t < 0 {
						t += 2 * math.Pi
					}
					return t / (2 * math.Pi), p.Sub(at(t)).Len()
				}})
		}
		return out
	}
	return solid.Torus(l.o, l.x, radius, tube), b
}

// A profile is what is extruded: its sides, and its distance in the plane.
type profile struct {
	loops [][]solid.Vertex
	parts []func(x, y float64) float64 // convex
	less  func(x, y float64) float64   // may be nil
	arcs  []profileArc
	sharp [][2]float64 // corners
	lines [][4]float64
	reach float64
}

type profileArc struct{ x, y, r, t0, t1 float64 }

func segment2(x, y, x0, y0, x1, y1 float64) float64 {
	dx, dy := x1-x0, y1-y0
	if dx == 0 && dy == 0 {
		return math.Hypot(x-x0, y-y0)
	}
	s := math.Max(0, math.Min(1, ((x-x0)*dx+(y-y0)*dy)/(dx*dx+dy*dy)))
	return math.Hypot(x-x0-s*dx, y-y0-s*dy)
}

func rectangle(x, y, a, b float64) float64 { return math.Max(math.Abs(x)-a, math.Abs(y)-b) }

// profileOf makes one of a few profiles about the size r.
func profileOf(kind int, r float64, num func(lo, hi float64) float64) profile {
	polygon := func(pts ...[2]float64) (loop []solid.Vertex, lines [][4]float64) {
		for i, p := range pts {
			q := pts[(i+1)%len(pts)]
			loop = append(loop, solid.Vertex{X: p[0], Y: p[1]})
			lines = append(lines, [4]float64{p[0], p[1], q[0], q[1]})
		}
		return loop, lines
	}
	a, b := r, r*num(0.3, 0.8)
	switch kind {
	case 0: // a rectangle with a round hole
		h := b * num(0.4, 0.9)
		loop, lines := polygon([2]float64{-a, -b}, [2]float64{a, -b}, [2]float64{a, b}, [2]float64{-a, b})
		return profile{
			loops: [][]solid.Vertex{loop, {{X: h, Bulge: 1}, {X: -h, Bulge: 1}}},
			parts: one(func(x, y float64) float64 { return rectangle(x, y, a, b) }),
			less:  func(x, y float64) float64 { return math.Hypot(x, y) - h },
			arcs:  []profileArc{{0, 0, h, 0, math.Pi}, {0, 0, h, math.Pi, 2 * math.Pi}}, lines: lines,
			sharp: [][2]float64{{-a, -b}, {a, -b}, {a, b}, {-a, b}}, reach: math.Hypot(a, b),
		}
	case 1: // two half circles and two lines, without a corner
		return profile{
			loops: [][]solid.Vertex{{{X: -a, Y: -b}, {X: a, Y: -b, Bulge: 1}, {X: a, Y: b},
				{X: -a, Y: b, Bulge: 1}}},
			parts: one(func(x, y float64) float64 { return segment2(x, y, -a, 0, a, 0) - b }),
			arcs:  []profileArc{{a, 0, b, -math.Pi / 2, math.Pi / 2}, {-a, 0, b, math.Pi / 2, 3 * math.Pi / 2}},
			lines: [][4]float64{{-a, -b, a, -b}, {a, b, -a, b}}, reach: a + b,
		}
	case 2: // an angle
		c, d := a*num(-0.5, 0.5), b*num(-0.5, 0.5)
		pts := [][2]float64{{-a, -b}, {a, -b}, {a, d}, {c, d}, {c, b}, {-a, b}}
		loop, lines := polygon(pts...)
		return profile{
			loops: [][]solid.Vertex{loop}, lines: lines, sharp: pts, reach: math.Hypot(a, b),
			parts: []func(x, y float64) float64{
				func(x, y float64) float64 { return math.Max(rectangle(x, y, a, b), x-c) },
				func(x, y float64) float64 { return math.Max(rectangle(x, y, a, b), y-d) },
			},
		}
	case 3: // a rectangle with a round bite out of its upper side
		h := math.Min(a, b) * num(0.4, 0.9)
		return profile{
			loops: [][]solid.Vertex{{{X: -a, Y: -b}, {X: a, Y: -b}, {X: a, Y: b}, {X: h, Y: b, Bulge: -1},
				{X: -h, Y: b}, {X: -a, Y: b}}},
			parts: one(func(x, y float64) float64 { return rectangle(x, y, a, b) }),
			less:  func(x, y float64) float64 { return math.Hypot(x, y-b) - h },
			arcs:  []profileArc{{0, b, h, math.Pi, 2 * math.Pi}},
			lines: [][4]float64{{-a, -b, a, -b}, {a, -b, a, b}, {a, b, h, b}, {-h, b, -a, b}, {-a, b, -a, -b}},
			sharp: [][2]float64{{-a, -b}, {a, -b}, {a, b}, {h, b}, {-h, b}, {-a, b}}, reach: math.Hypot(a, b),
		}
	}
	// A triangle.
	pts := [][2]float64{{-a, -b}, {a, -b * num(0.2, 1)}, {a * num(-0.5, 0.5), b}}
	loop, lines := polygon(pts...)
	return profile{loops: [][]solid.Vertex{loop}, lines: lines, sharp: pts, reach: math.Hypot(a, b),
		parts: one(func(x, y float64) float64 {
			d := math.Inf(-1)
			for _, l := range lines {
				dx, dy := l[2]-l[0], l[3]-l[1]
				d = math.Max(d, ((x-l[0])*dy-(y-l[1])*dx)/math.Hypot(dx, dy))
			}
			return d
		})}
}

func one(f func(x, y float64) float64) []func(x, y float64) float64 {
	return []func(x, y float64) float64{f}
}

func extrusion(l place, p profile, from, to float64) (solid.Solid, body) {
	b := body{middle: l.at(0, 0, (from+to)/2), reach: math.Hypot(p.reach, (to-from)/2)}
	for _, f := range p.parts {
		b.parts = append(b.parts, func(q vec) float64 {
			x, y, z := l.local(q)
			return math.Max(math.Max(from-z, z-to), f(x, y))
		})
	}
	if p.less != nil {
		b.less = []distance{func(q vec) float64 {
			x, y, _ := l.local(q)
			return p.less(x, y)
		}}
	}
	for _, z := range [2]float64{from, to} {
		for _, s := range p.lines {
			b.edges = append(b.edges, straight("profile side", l.at(s[0], s[1], z), l.at(s[2], s[3], z)))
		}
		for _, a := range p.arcs {
			b.edges = append(b.edges, arc("profile arc", l.at(a.x, a.y, z), l.x, l.y, a.r, a.t0, a.t1))
		}
	}
	for _, c := range p.sharp {
		b.edges = append(b.edges, straight("profile corner", l.at(c[0], c[1], from), l.at(c[0], c[1], to)))
	}
	b.limbs = func(sight vec) []path {
		tx, ty := sight.Dot(l.x), sight.Dot(l.y)
		if math.Hypot(tx, ty) < 1e-9 {
			return nil
		}
		var out []path
		for _, a := range p.arcs {
			for _, t := range [2]float64{math.Atan2(ty, tx) + math.Pi/2, math.Atan2(ty, tx) - math.Pi/2} {
				for t < a.t0-1e-9 {
					t += 2 * math.Pi
				}
				for t > a.t0+2*math.Pi-1e-9 {
					t -= 2 * math.Pi
				}
				if t <= a.t1+1e-9 {
					x, y := a.x+a.r*math.Cos(t), a.y+a.r*math.Sin(t)
					out = append(out, straight("profile limb", l.at(x, y, from), l.at(x, y, to)))
				}
			}
		}
		return out
	}
	return solid.Extrude(l.o, l.x, l.y, from, to, p.loops...), b
}
