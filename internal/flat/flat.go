// Package flat turns what few formats can hold, ellipses, conics and hatches,
// into chords and lines. Its shapes are in the coordinates of the drawing.
package flat

import (
	"math"

	"boltplate/drawing"
)

// Tolerance is how far, in millimetres, a chord may lie off the curve that it
// stands for. On a curve that is larger than half a metre it is Relative times
// its size, so that the number of chords stays bounded.
const (
	Tolerance = 0.005
	Relative  = 1e-5
)

func tolerance(size float64) float64 { return max(Tolerance, Relative*size) }

// largestStep bounds the turn from chord to chord in degrees, so that a small
// ellipse does not look like a polygon.
const largestStep = 30

// Ellipse appends to dst points on e from the parameter start over sweep
// degrees, both ends included; of a whole turn the last point is left out.
// With steps of h radians no chord is further from the curve than h^2/8 times
// the greatest second derivative, which is half the major axis.
func Ellipse(dst []drawing.Point, e drawing.Ellipse, start, sweep float64, whole bool) []drawing.Point {
	a := e.Major.Len()
	step := math.Sqrt(8*tolerance(2*a)/a) * 180 / math.Pi
	n := int(math.Ceil(sweep / min(step, largestStep)))
	for i := range n {
		dst = append(dst, e.At(start+sweep*float64(i)/float64(n)))
	}
	if !whole {
		dst = append(dst, e.At(start+sweep))
	}
	return dst
}

// Conic appends to dst points on c, both ends included.
func Conic(dst []drawing.Point, c drawing.Conic) []drawing.Point {
	allowed := tolerance(max(c.Control.Sub(c.From).Len(), c.To.Sub(c.Control).Len()))
	return conic(append(dst, c.From), c.From, c.Control, c.To, c.Weight, allowed, 0)
}

// maxDepth bounds how often a conic is halved; one of the usual weights is
// halved nine times at the most.
const maxDepth = 14

// conic appends the points after the start. The curve stays in the triangle of
// its points. It is furthest from the chord in its middle, w/(1+w) of the way
// to the control point, as long as that point lies over the chord.
func conic(dst []drawing.Point, from, control, to drawing.Point, weight, allowed float64, depth int) []drawing.Point {
	off, over := FromSegment(from, to, control)
	if over {
		off *= weight / (1 + weight)
	}
	if off <= allowed || depth == maxDepth {
		return append(dst, to)
	}
	f := 1 / (1 + weight)
	a := from.Mul(f).Add(control.Mul(weight * f))
	b := control.Mul(weight * f).Add(to.Mul(f))
	half := math.Sqrt((1 + weight) / 2)
	dst = conic(dst, from, a, a.Mid(b), half, allowed, depth+1)
	return conic(dst, a.Mid(b), b, to, half, allowed, depth+1)
}

// FromSegment returns the distance of p from the segment a-b, and whether the
// foot of its perpendicular is on the segment.
func FromSegment(a, b, p drawing.Point) (off float64, over bool) {
	u, v := b.Sub(a), p.Sub(a)
	length := u.Len()
	along := 0.0
	if length > 0 {
		along = (u.X*v.X + u.Y*v.Y) / length
	}
	switch {
	case along <= 0:
		return v.Len(), length > 0 && along == 0
	case along >= length:
		return p.Sub(b).Len(), along == length
	}
	return math.Abs(u.X*v.Y-u.Y*v.X) / length, true
}
