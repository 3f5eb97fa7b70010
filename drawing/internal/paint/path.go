package paint

import (
	"math"

	"boltplate/drawing"
)

// tolerance is how far a curve may lie beside the true one, mm.
const tolerance = 0.001

// least is the length below which a line is left out: it would be nothing in
// the decimals of a file, but its round ends would make a dot.
const least = 0.001

// A pen builds paths. They lie one behind the other in a common array.
type pen struct {
	segs  []Segment
	start int
}

// path returns what was drawn since the last call.
func (p *pen) path() Path {
	path := Path(p.segs[p.start:len(p.segs):len(p.segs)])
	p.start = len(p.segs)
	return path
}

func (p *pen) move(q drawing.Point) { p.add(MoveTo, q) }
func (p *pen) line(q drawing.Point) { p.add(LineTo, q) }
func (p *pen) close()               { p.segs = append(p.segs, Segment{Op: Close}) }
func (p *pen) add(op Op, q drawing.Point) {
	p.segs = append(p.segs, Segment{Op: op, P: [3]drawing.Point{q}})
}

func (p *pen) curve(a, b, c drawing.Point) {
	p.segs = append(p.segs, Segment{CurveTo, [3]drawing.Point{a, b, c}})
}

// ellipse goes along the ellipse c + u cos t + v sin t from the parameter
// start by sweep (degrees, negative is clockwise). The pen is at its start.
func (p *pen) ellipse(c, u, v drawing.Point, start, sweep float64) {
	// A cubic that spans t quarters of a turn lies up to 2.7e-4 t^6 radii
	// beside the circle.
	quarters := math.Abs(sweep) / 90
	r := max(u.Len(), v.Len())
	n := math.Ceil(max(quarters, quarters*math.Pow(2.75e-4*r/tolerance, 1.0/6)) - 1e-9)
	n = max(n, 1)
	step := sweep / n
	k := 4.0 / 3 * math.Tan(step/4*math.Pi/180)
	at := func(t float64) (point, ahead drawing.Point) {
		e := drawing.Polar(1, t)
		return c.Add(u.Mul(e.X)).Add(v.Mul(e.Y)), v.Mul(e.X).Sub(u.Mul(e.Y)).Mul(k)
	}
	a, da := at(start)
	for i := range int(n) {
		t := start + step*float64(i+1)
		if i == int(n)-1 {
			t = start + sweep
		}
		b, db := at(t)
		p.curve(a.Add(da), b.Sub(db), b)
		a, da = b, db
	}
}

// conic goes along c from its start, where the pen is. Halves of a conic are
// conics whose weights are nearer to 1, where a conic is a parabola and a
// cubic is exact.
func (p *pen) conic(c drawing.Conic, depth int) {
	w := c.Weight
	k := 4 * w / (3 * (1 + w)) // of the way to the control point: the middles agree too
	a, b := c.From.Add(c.Control.Sub(c.From).Mul(k)), c.To.Add(c.Control.Sub(c.To).Mul(k))
	const t = 0.25
	if depth == 0 || conicAt(c, t).Sub(cubicAt(c.From, [3]drawing.Point{a, b, c.To}, t)).Len() < tolerance {
		p.curve(a, b, c.To)
		return
	}
	left, right := c.From.Add(c.Control.Mul(w)).Mul(1/(1+w)), c.To.Add(c.Control.Mul(w)).Mul(1/(1+w))
	mid, half := left.Mid(right), math.Sqrt((1+w)/2)
	p.conic(drawing.Conic{From: c.From, Control: left, To: mid, Weight: half}, depth-1)
	p.conic(drawing.Conic{From: mid, Control: right, To: c.To, Weight: half}, depth-1)
}

// maxHalvings bounds how often a conic is halved.
const maxHalvings = 10

func conicAt(c drawing.Conic, t float64) drawing.Point {
	s := 1 - t
	a, b, d := s*s, 2*s*t*c.Weight, t*t
	return c.From.Mul(a).Add(c.Control.Mul(b)).Add(c.To.Mul(d)).Mul(1 / (a + b + d))
}

func cubicAt(from drawing.Point, p [3]drawing.Point, t float64) drawing.Point {
	s := 1 - t
	return from.Mul(s * s * s).Add(p[0].Mul(3 * s * s * t)).Add(p[1].Mul(3 * s * t * t)).Add(p[2].Mul(t * t * t))
}

// Gauss-Legendre points and weights on [0, 1].
var gauss = [5][2]float64{
	{0.046910077030668, 0.118463442528095}, {0.230765344947158, 0.239314335249683}, {0.5, 0.284444444444444},
	{0.769234655052842, 0.239314335249683}, {0.953089922969332, 0.118463442528095},
}

// Length returns the length of the path.
func (p Path) Length() float64 {
	var start, at drawing.Point
	sum := 0.0
	for i := range p {
		s := &p[i]
		switch s.Op {
		case MoveTo:
			start, at = s.P[0], s.P[0]
			continue
		case LineTo:
			sum += s.P[0].Sub(at).Len()
		case CurveTo:
			sum += curveLength(at, s.P)
		case Close:
			sum += start.Sub(at).Len()
			at = start
			continue
		}
		at = s.End()
	}
	return sum
}

func curveLength(a drawing.Point, p [3]drawing.Point) float64 {
	d0, d1, d2 := p[0].Sub(a), p[1].Sub(p[0]), p[2].Sub(p[1])
	sum := 0.0
	for _, g := range gauss {
		t := g[0]
		s := 1 - t
		sum += g[1] * d0.Mul(3*s*s).Add(d1.Mul(6*s*t)).Add(d2.Mul(3*t*t)).Len()
	}
	return sum
}

// closed reports whether the path is one chain that ends where it starts.
func (p Path) closed() bool { return len(p) > 0 && p[len(p)-1].Op == Close }
