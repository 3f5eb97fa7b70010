package solid_test

import (
	"fmt"
	"math"
	"math/rand/v2"

	"boltplate/internal/solid"
)

// An arranger makes random arrangements. Half of them have sizes in steps, so
// that faces, rings and silhouettes coincide.
type arranger struct {
	*rand.Rand
	steps bool
}

func (r arranger) num(lo, hi float64) float64 {
	v := lo + (hi-lo)*r.Float64()
	if r.steps && hi-lo > 1 {
		v = math.Round(v)
	}
	return v
}

func (r arranger) direction() vec {
	return vec{X: r.NormFloat64(), Y: r.NormFloat64(), Z: r.NormFloat64()}.Unit()
}

// placeAlong returns a place with the axis x, its corners turned.
func (r arranger) placeAlong(o, x vec) place {
	y := vec{Y: 1}
	if math.Abs(x.Y) > 0.9 {
		y = vec{Z: 1}
	}
	y = y.Sub(x.Mul(x.Dot(y))).Unit()
	z := x.Cross(y)
	a := float64(r.IntN(24)) * math.Pi / 12
	if !r.steps {
		a = r.Float64() * 7
	}
	if r.IntN(2) == 0 {
		a = 0
	}
	return place{o, x, y.Mul(math.Cos(a)).Add(z.Mul(math.Sin(a))), z.Mul(math.Cos(a)).Sub(y.Mul(math.Sin(a)))}
}

// round makes a body about the axis of a place from x0 to x1.
func (r arranger) round(l place, x0, x1 float64) (string, solid.Solid, body, float64) {
	w := r.num(2, 10)
	switch r.IntN(6) {
	case 0:
		s, b := cone(l, x0, w, x1, w)
		return "cylinder", s, b, w
	case 1:
		v := r.num(0, 10)
		if v == w {
			v++
		}
		s, b := cone(l, x0, w, x1, v)
		return "cone", s, b, math.Min(v, w)
	case 2:
		c := r.num(x0, x1)
		s, b := ball(l, c, w+1, x0, x1)
		return "ball", s, b, 0
	case 3:
		s, b := prism(l, []int{4, 6, 3}[r.IntN(3)], 2*w, x0, x1, solid.Chamfer{})
		return "prism", s, b, w
	default:
		ch := solid.Chamfer{Angle: 30, Circle: 2 * w, AtStart: r.IntN(2) == 0, AtEnd: true}
		if r.IntN(3) == 0 {
			ch.Circle *= 0.9
		}
		n := []int{4, 6}[r.IntN(2)]
		t := math.Tan(math.Pi / 6)
		drop := t * (w/math.Cos(math.Pi/float64(n)) - ch.Circle/2)
		if (x1-x0)/2 <= drop {
			ch = solid.Chamfer{}
		}
		s, b := prism(l, n, 2*w, x0, x1, ch)
		return "chamfered prism", s, b, w
	}
}

func (r arranger) bored(t *thing, l place, x0, x1, w float64) {
	if w < 2 || r.IntN(3) > 0 {
		return
	}
	h := r.num(0.5, w-0.5)
	if h < 0.4 || h > w-0.1 {
		h = w / 2
	}
	if r.IntN(3) == 0 {
		x1 -= (x1 - x0) / 3 // blind
	}
	s, b := cone(l, x0, h, x1, h)
	if r.IntN(4) == 0 {
		s, b = prism(l, 6, 2*h*0.8, x0, x1, solid.Chamfer{})
	}
	t.s, t.holes, t.name = t.s.Less(s), append(t.holes, b), t.name+" with a hole"
}

// stack puts bodies on one axis, one behind the other or into each other.
func (r arranger) stack(l place) []*thing {
	var out []*thing
	x := r.num(-12, 0)
	for range 2 + r.IntN(4) {
		from, to := x, x+r.num(1, 8)
		name, s, b, w := r.round(place{l.o, l.x, l.y, l.z}, from, to)
		t := &thing{name: name, s: s, body: b}
		r.bored(t, l, from, to, w)
		out = append(out, t)
		x = to
		switch r.IntN(5) {
		case 0:
			x -= (to - from) / 2
		case 1:
			x += r.num(0, 2)
		}
	}
	return out
}

// loose puts bodies anywhere, with axes along those of space or not.
func (r arranger) loose(n int) []*thing {
	axes := []vec{{X: 1}, {Y: 1}, {Z: 1}}
	var out []*thing
	for range n {
		d := axes[r.IntN(3)]
		if r.IntN(3) == 0 && !r.steps {
			d = r.direction()
		}
		l := r.placeAlong(vec{X: r.num(-8, 8), Y: r.num(-5, 5), Z: r.num(-5, 5)}, d)
		h := r.num(1, 6)
		t := &thing{}
		switch r.IntN(4) {
		case 0:
			t.name = "ring"
			t.s, t.body = torus(l, r.num(3, 8), 0.5+2*r.Float64())
		case 1, 2:
			kind := r.IntN(5)
			t.name = fmt.Sprintf("profile %d", kind)
			t.s, t.body = extrusion(l, profileOf(kind, r.num(2, 8), r.num), -h, h)
		default:
			var w float64
			t.name, t.s, t.body, w = r.round(l, -h, h)
			r.bored(t, l, -h, h, w)
		}
		out = append(out, t)
	}
	return out
}

// arrangement returns things, the sight on them, and lines that lie nowhere.
func (r arranger) arrangement() ([]*thing, solid.Frame, []path, []solid.Curve) {
	axis := r.placeAlong(vec{}, vec{X: 1})
	if r.IntN(4) == 0 {
		axis = r.placeAlong(vec{X: r.num(-2, 2)}, r.direction())
	}
	var things []*thing
	switch r.IntN(3) {
	case 0:
		things = r.stack(axis)
	case 1:
		things = append(r.stack(axis), r.loose(1+r.IntN(3))...)
	default:
		things = r.loose(2 + r.IntN(4))
	}
	x, y, z := vec{X: 1}, vec{Y: 1}, vec{Z: 1}
	frames := []solid.Frame{
		solid.Looking(z, y), solid.Looking(y, z.Mul(-1)), solid.Looking(x, y), solid.Looking(x.Mul(-1), y),
		solid.IsometricFromHead(), solid.IsometricFromPoint(), solid.IsometricFromPoint(),
	}
	f := frames[r.IntN(len(frames))]
	if r.IntN(4) == 0 {
		to := r.direction()
		up := to.Cross(r.direction()).Unit()
		f = solid.Looking(to, up)
	}
	a, b := vec{X: r.num(-12, 12), Y: r.num(-8, 8), Z: r.num(-8, 8)}, vec{X: r.num(-12, 12),
		Y: r.num(-8, 8), Z: r.num(-8, 8)}
	if b.Sub(a).Len() < 1 {
		b = a.Add(vec{X: 7})
	}
	w := r.num(2, 12)
	paths := []path{straight("line", a, b), arc("circle", a, y, z, w, 0, 2*math.Pi)}
	return things, f, paths, []solid.Curve{solid.Segment(a, b), solid.CircleAt(a, x, w)}
}
