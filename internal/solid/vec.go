// Package solid describes parts as a few solids (cylinders, cones, prisms,
// spherical caps, rings, extruded profiles, and holes of the same shapes) and
// finds what of their edges and silhouettes is seen from a direction.
//
// The solids of one part are a union: an edge that runs inside another solid is
// no edge. Curves where solids meet each other are given by whoever describes
// the part. Lengths are millimetres, angles degrees.
package solid

import (
	"math"

	"boltplate/internal/plane"
)

// Vec is a point or a vector in space.
type Vec struct{ X, Y, Z float64 }

// V returns the vector with the given coordinates.
func V(x, y, z float64) Vec { return Vec{x, y, z} }

// Add returns v + w.
func (v Vec) Add(w Vec) Vec { return Vec{v.X + w.X, v.Y + w.Y, v.Z + w.Z} }

// Sub returns v - w.
func (v Vec) Sub(w Vec) Vec { return Vec{v.X - w.X, v.Y - w.Y, v.Z - w.Z} }

// Mul returns v multiplied by k.
func (v Vec) Mul(k float64) Vec { return Vec{v.X * k, v.Y * k, v.Z * k} }

// Dot returns the scalar product.
func (v Vec) Dot(w Vec) float64 { return v.X*w.X + v.Y*w.Y + v.Z*w.Z }

// Cross returns the vector product.
func (v Vec) Cross(w Vec) Vec {
	return Vec{v.Y*w.Z - v.Z*w.Y, v.Z*w.X - v.X*w.Z, v.X*w.Y - v.Y*w.X}
}

// Len returns the length.
func (v Vec) Len() float64 { return math.Sqrt(v.Dot(v)) }

// Unit returns v at length 1.
func (v Vec) Unit() Vec { return v.Mul(1 / v.Len()) }

// The directions of the axes. X runs along a fastener from its head to its
// point, Y is up and Z towards the viewer of the front view.
var (
	xAxis = Vec{1, 0, 0}
	yAxis = Vec{0, 1, 0}
	zAxis = Vec{0, 0, 1}
)

// A Frame is the picture plane of a view: what is right and up in the picture,
// and the unit vector towards the viewer. Right and Up are as long as a
// millimetre is in the picture.
type Frame struct{ Right, Up, To Vec }

// Flat returns where a point is in the picture.
func (f Frame) Flat(p Vec) plane.Vec { return plane.Vec{X: f.Right.Dot(p), Y: f.Up.Dot(p)} }

// Looking returns the frame of a viewer in the direction to, with up upwards.
func Looking(to, up Vec) Frame { return Frame{Right: up.Cross(to), Up: up, To: to} }

// IsometricFromHead and IsometricFromPoint are isometric frames (ISO 5456-3),
// Y upwards, the X axis to the right at 30 degrees: away from a viewer who sees
// the head end, or towards one who sees the point end. Lengths along the axes
// keep their size, as ISO 5456-3 draws them.
func IsometricFromHead() Frame {
	c := math.Sqrt(3) / 2
	return Frame{Right: Vec{c, 0, c}, Up: Vec{0.5, 1, -0.5}, To: Vec{-1, 1, 1}.Unit()}
}

// IsometricFromPoint is described with IsometricFromHead.
func IsometricFromPoint() Frame {
	c := math.Sqrt(3) / 2
	return Frame{Right: Vec{c, 0, -c}, Up: Vec{-0.5, 1, -0.5}, To: Vec{1, 1, 1}.Unit()}
}

// across returns two unit vectors that with the unit vector a make a right
// handed frame; for the X axis they are Y and Z.
func across(a Vec) (u, v Vec) {
	switch {
	case math.Abs(a.X) > 0.9:
		u = yAxis
	case math.Abs(a.Y) > 0.9:
		u = zAxis
	default:
		u = xAxis
	}
	u = u.Sub(a.Mul(a.Dot(u))).Unit()
	return u, a.Cross(u)
}
