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

// conic goes along c from its start, where the pen is.
func (p *pen) conic(c drawing.Conic) {
	for n := 2; ; n *= 2 {
		mark := len(p.segs)
		if p.conicPieces(c, n) || n >= 256 {
			return
		}
		p.segs = p.segs[:mark]
	}
}

// conicPieces draws c in n cubics with the speed of c at their ends, and
// reports whether the middle of each is near enough to c.
func (p *pen) conicPieces(c drawing.Conic, n int) bool {
	h := 1 / float64(n)
	near := true
	a, da := conicAt(c, 0)
	for i := range n {
		b, db := conicAt(c, float64(i+1)*h)
		if i == n-1 {
			b = c.To
		}
		a1, b1 := a.Add(da.Mul(h/3)), b.Sub(db.Mul(h/3))
		mid := a.Add(b).Add(a1.Add(b1).Mul(3)).Mul(1.0 / 8)
		on, _ := conicAt(c, (float64(i)+0.5)*h)
		near = near && mid.Sub(on).Len() < tolerance
		p.curve(a1, b1, b)
		a, da = b, db
	}
	return near
}

// conicAt returns the point of c at t and its derivative.
func conicAt(c drawing.Conic, t float64) (at, ahead drawing.Point) {
	s, w := 1-t, c.Weight
	sum := s*s + 2*s*t*w + t*t
	at = c.From.Mul(s * s).Add(c.Control.Mul(2 * s * t * w)).Add(c.To.Mul(t * t)).Mul(1 / sum)
	d := c.From.Mul(-2 * s).Add(c.Control.Mul(2 * w * (s - t))).Add(c.To.Mul(2 * t))
	return at, d.Sub(at.Mul(2*w*(s-t) - 2*s + 2*t)).Mul(1 / sum)
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
