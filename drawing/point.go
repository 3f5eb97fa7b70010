package drawing

import (
	"math"

	"boltplate/internal/plane"
)

// A Point is a point of the drawing plane, or the vector to it: x to the
// right, y up. Views are in millimetres of the part.
type Point struct{ X, Y float64 }

// Pt is shorthand for Point{x, y}.
func Pt(x, y float64) Point { return Point{x, y} }

// Polar returns the point at distance r from the origin in the direction of
// angle, in degrees counter-clockwise from the x axis.
func Polar(r, angle float64) Point {
	s, c := plane.Sincos(angle)
	return Point{r * c, r * s}
}

// Add returns p + q.
func (p Point) Add(q Point) Point { return Point{p.X + q.X, p.Y + q.Y} }

// Sub returns p - q.
func (p Point) Sub(q Point) Point { return Point{p.X - q.X, p.Y - q.Y} }

// Mul returns p with both coordinates multiplied by k.
func (p Point) Mul(k float64) Point { return Point{p.X * k, p.Y * k} }

// Len returns the distance of p from the origin.
func (p Point) Len() float64 {
	switch {
	case p.X == 0: // most lines of a drawing are level or upright
		return math.Abs(p.Y)
	case p.Y == 0:
		return math.Abs(p.X)
	}
	return math.Hypot(p.X, p.Y)
}

// Angle returns the direction of p from the origin in degrees,
// counter-clockwise from the x axis, in (-180, 180].
func (p Point) Angle() float64 { return math.Atan2(p.Y, p.X) * 180 / math.Pi }

// Mid returns the point half way between p and q.
func (p Point) Mid(q Point) Point { return Point{(p.X + q.X) / 2, (p.Y + q.Y) / 2} }

// A Rect is a box with sides along the axes. The zero Rect is the single point
// at the origin; EmptyRect holds no point at all.
type Rect struct{ Min, Max Point }

// EmptyRect returns the rectangle that holds nothing, the start of a union.
func EmptyRect() Rect {
	inf := math.Inf(1)
	return Rect{Point{inf, inf}, Point{-inf, -inf}}
}

// Empty reports whether r holds no point.
func (r Rect) Empty() bool { return r.Min.X > r.Max.X || r.Min.Y > r.Max.Y }

// Dx returns the width of r, 0 if r is empty.
func (r Rect) Dx() float64 { return max(0, r.Max.X-r.Min.X) }

// Dy returns the height of r, 0 if r is empty.
func (r Rect) Dy() float64 { return max(0, r.Max.Y-r.Min.Y) }

// Mid returns the centre of r.
func (r Rect) Mid() Point { return r.Min.Mid(r.Max) }

// Union returns the smallest rectangle that holds r and s.
func (r Rect) Union(s Rect) Rect {
	return Rect{
		Point{min(r.Min.X, s.Min.X), min(r.Min.Y, s.Min.Y)},
		Point{max(r.Max.X, s.Max.X), max(r.Max.Y, s.Max.Y)},
	}
}

// Including returns the smallest rectangle that holds r and p.
func (r Rect) Including(p Point) Rect { return r.Union(Rect{p, p}) }

// Grown returns r with every side moved outwards by d.
func (r Rect) Grown(d float64) Rect {
	return Rect{Point{r.Min.X - d, r.Min.Y - d}, Point{r.Max.X + d, r.Max.Y + d}}
}

// Overlaps reports whether r and s have inner points in common; rectangles
// that only touch do not overlap.
func (r Rect) Overlaps(s Rect) bool {
	return r.Min.X < s.Max.X && s.Min.X < r.Max.X && r.Min.Y < s.Max.Y && s.Min.Y < r.Max.Y
}

func (p Point) vec() plane.Vec { return plane.Vec(p) }
func rectOf(b plane.Box) Rect  { return Rect{Point(b.Min), Point(b.Max)} }
