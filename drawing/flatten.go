package drawing

import (
	"math"

	"boltplate/internal/plane"
)

// Flatten returns a shape as chains of straight pieces that lie within
// tolerance of it, in the unit of its coordinates: a chain for a curve, one
// for each loop of a hatch or a cover. A closed chain ends where it starts. A
// tolerance that is not above 0 means 0.01, and one below a ten-millionth of
// the shape's size is that, so that the number of points stays bounded. Text
// and dimensions have no chains; Expand turns a dimension into shapes.
func Flatten(s Shape, tolerance float64) [][]Point {
	f := flattener{tolerance: tolerance}
	if !(tolerance > 0) {
		f.tolerance = 0.01
	}
	switch s := s.(type) {
	case Polyline:
		return f.loops([][]Vertex{s.Vertices}, s.Closed)
	case Hatch:
		return f.loops(s.Loops, true)
	case Cover:
		return f.loops(s.Loops, true)
	}
	if ps := f.curve(nil, s); len(ps) > 0 {
		return [][]Point{ps}
	}
	return nil
}

type flattener struct{ tolerance float64 }

// largestStep bounds the turn from chord to chord in degrees, so that a small
// curve does not look like a polygon.
const largestStep = 30

// curve appends the points of a line or a curve; both ends are points.
func (f flattener) curve(dst []Point, s Shape) []Point {
	switch s := s.(type) {
	case Line:
		return append(dst, s.From, s.To)
	case Arc:
		return f.arc(dst, s)
	case Circle:
		return f.arc(dst, Arc{s.Center, s.Radius, 0, 360})
	case Ellipse:
		return f.ellipse(dst, s)
	case Conic:
		size := max(s.Control.Sub(s.From).Len(), s.To.Sub(s.Control).Len())
		return conicChords(append(dst, s.From), s, f.bounded(size), 0)
	}
	return dst
}

// loops flattens chains of vertices.
func (f flattener) loops(loops [][]Vertex, closed bool) (out [][]Point) {
	for _, vs := range loops {
		var ps []Point
		for i, v := range vs {
			if i == 0 {
				ps = append(ps, v.Point)
			}
			if i+1 == len(vs) && !closed {
				break
			}
			next := vs[(i+1)%len(vs)].Point
			if a, ok := BulgeArc(v, next); ok {
				arc := f.arc(nil, a)
				if v.Bulge < 0 {
					for i := len(arc) - 2; i > 0; i-- {
						ps = append(ps, arc[i])
					}
				} else {
					ps = append(ps, arc[1:len(arc)-1]...)
				}
			}
			ps = append(ps, next)
		}
		if len(ps) > 0 {
			out = append(out, ps)
		}
	}
	return out
}

func (f flattener) bounded(size float64) float64 { return max(f.tolerance, 1e-7*size) }

// pieces returns into how many pieces a turn on a curve of the given half axis
// is cut. With steps of h radians no chord is further from the curve than
// h^2/8 times the greatest second derivative, which is the half axis.
func (f flattener) pieces(axis, sweep float64) int {
	step := math.Sqrt(8*f.bounded(2*axis)/axis) * 180 / math.Pi
	if n := math.Ceil(sweep / min(step, largestStep)); n > 1 {
		return int(n)
	}
	return 1
}

func (f flattener) arc(dst []Point, a Arc) []Point {
	sweep := plane.Sweep(a.Start, a.End)
	n := f.pieces(a.Radius, sweep)
	for i := range n {
		dst = append(dst, a.Center.Add(Polar(a.Radius, a.Start+sweep*float64(i)/float64(n))))
	}
	if sweep == 360 {
		return append(dst, dst[len(dst)-n])
	}
	return append(dst, a.Center.Add(Polar(a.Radius, a.End)))
}

func (f flattener) ellipse(dst []Point, e Ellipse) []Point {
	start, sweep := e.Start, plane.Sweep(e.Start, e.End)
	n := f.pieces(e.Major.Len(), sweep)
	for i := range n {
		dst = append(dst, e.At(start+sweep*float64(i)/float64(n)))
	}
	if sweep == 360 {
		return append(dst, dst[len(dst)-n])
	}
	return append(dst, e.At(start+sweep))
}

// maxHalvings bounds how often a conic is halved; one of the usual weights is
// halved nine times at the most.
const maxHalvings = 14

// conicChords appends the points after the start. The curve stays in the
// triangle of its points. It is furthest from the chord in its middle, w/(1+w)
// of the way to the control point, as long as that point lies over the chord.
func conicChords(dst []Point, c Conic, allowed float64, depth int) []Point {
	off, over := fromSegment(c.From, c.To, c.Control)
	if over {
		off *= c.Weight / (1 + c.Weight)
	}
	if off <= allowed || depth == maxHalvings {
		return append(dst, c.To)
	}
	left, right := c.halves()
	dst = conicChords(dst, left, allowed, depth+1)
	return conicChords(dst, right, allowed, depth+1)
}

// halves returns the two halves of c, which are conics too.
func (c Conic) halves() (left, right Conic) {
	f := 1 / (1 + c.Weight)
	a := c.From.Mul(f).Add(c.Control.Mul(c.Weight * f))
	b := c.Control.Mul(c.Weight * f).Add(c.To.Mul(f))
	w := math.Sqrt((1 + c.Weight) / 2)
	return Conic{c.From, a, a.Mid(b), w}, Conic{a.Mid(b), b, c.To, w}
}

// fromSegment returns the distance of p from the segment a-b, and whether the
// foot of its perpendicular is on the segment.
func fromSegment(a, b, p Point) (off float64, over bool) {
	u, v := b.Sub(a), p.Sub(a)
	length := u.Len()
	along := 0.0
	if length > 0 {
		along = dot(u, v) / length
	}
	switch {
	case along <= 0:
		return v.Len(), length > 0 && along == 0
	case along >= length:
		return p.Sub(b).Len(), along == length
	}
	return math.Abs(u.X*v.Y-u.Y*v.X) / length, true
}
