package dxfin

import (
	"math"

	"boltplate/drawing"
)

func radians(deg float64) float64 { return deg * math.Pi / 180 }
func degrees(rad float64) float64 { return rad * 180 / math.Pi }

func (v Vec3) add(w Vec3) Vec3    { return Vec3{v.X + w.X, v.Y + w.Y, v.Z + w.Z} }
func (v Vec3) sub(w Vec3) Vec3    { return Vec3{v.X - w.X, v.Y - w.Y, v.Z - w.Z} }
func (v Vec3) mul(k float64) Vec3 { return Vec3{k * v.X, k * v.Y, k * v.Z} }
func (v Vec3) len() float64       { return math.Sqrt(v.X*v.X + v.Y*v.Y + v.Z*v.Z) }
func (v Vec3) cross(w Vec3) Vec3 {
	return Vec3{v.Y*w.Z - v.Z*w.Y, v.Z*w.X - v.X*w.Z, v.X*w.Y - v.Y*w.X}
}
func (v Vec3) flat() drawing.Point     { return drawing.Point{X: v.X, Y: v.Y} }
func dot(p, q drawing.Point) float64   { return p.X*q.X + p.Y*q.Y }
func wedge(p, q drawing.Point) float64 { return p.X*q.Y - p.Y*q.X }

// unit returns v with the length 1; of a vector of no length it is the z axis.
func (v Vec3) unit() Vec3 {
	if l := v.len(); l > 0 {
		return v.mul(1 / l)
	}
	return Vec3{0, 0, 1}
}

// A frame is an affine map: the images of the axes and of the origin.
type frame struct{ x, y, z, o Vec3 }

// world is the frame that changes nothing.
func world() frame { return frame{Vec3{X: 1}, Vec3{Y: 1}, Vec3{Z: 1}, Vec3{}} }

func (m *frame) vector(v Vec3) Vec3 { return m.x.mul(v.X).add(m.y.mul(v.Y)).add(m.z.mul(v.Z)) }
func (m *frame) point(v Vec3) Vec3  { return m.vector(v).add(m.o) }

// then returns the map that does n first and m after it.
func (m *frame) then(n *frame) frame {
	return frame{m.vector(n.x), m.vector(n.y), m.vector(n.z), m.point(n.o)}
}

// objectFrame returns the coordinate system of an extrusion direction, by the
// arbitrary axis algorithm of the format.
func objectFrame(normal Vec3) frame {
	if normal == (Vec3{0, 0, 1}) {
		return world()
	}
	n := normal.unit()
	x := Vec3{Y: 1}.cross(n)
	if const64 := 1.0 / 64; math.Abs(n.X) >= const64 || math.Abs(n.Y) >= const64 {
		x = Vec3{Z: 1}.cross(n)
	}
	x = x.unit()
	return frame{x, n.cross(x).unit(), n, Vec3{}}
}

// insertFrame returns the map of the contents of a block, for the copy in a
// column and a row.
func insertFrame(d *Insert, normal, base Vec3, column, row int) frame {
	s, c := math.Sincos(radians(d.Rotation))
	at := Vec3{X: float64(column) * d.ColumnSpacing, Y: float64(row) * d.RowSpacing}
	turn := frame{Vec3{X: c, Y: s}, Vec3{X: -s, Y: c}, Vec3{Z: 1}, Vec3{}}
	m := turn
	m.x, m.y, m.z = m.x.mul(d.Scale.X), m.y.mul(d.Scale.Y), m.z.mul(d.Scale.Z)
	m.o = d.At.add(turn.vector(at)).sub(m.vector(base))
	o := objectFrame(normal)
	return o.then(&m)
}

// round returns what the curve c + u cos t + v sin t, for t from start to end
// in radians, is in the drawing plane: a circle, an arc, an ellipse, or where
// it is seen from its edge a line. whole says that it is closed.
func round(c, u, v drawing.Point, start, end float64, whole bool) drawing.Shape {
	size := max(u.Len(), v.Len())
	if math.Abs(u.Len()-v.Len()) <= 1e-9*size && math.Abs(dot(u, v)) <= 1e-9*size*size {
		if whole {
			return drawing.Circle{Center: c, Radius: size}
		}
		a, b := math.Atan2(u.Y, u.X)+start, math.Atan2(u.Y, u.X)+end
		if wedge(u, v) < 0 {
			a, b = math.Atan2(u.Y, u.X)-end, math.Atan2(u.Y, u.X)-start
		}
		return drawing.Arc{Center: c, Radius: size, Start: turned(degrees(a)), End: turned(degrees(b))}
	}
	// The axes of the ellipse lie phi further on.
	phi := math.Atan2(2*dot(u, v), dot(u, u)-dot(v, v)) / 2
	sin, cos := math.Sincos(phi)
	major, minor := u.Mul(cos).Add(v.Mul(sin)), v.Mul(cos).Sub(u.Mul(sin))
	ratio := minor.Len() / major.Len()
	if ratio < 1e-9 {
		return edgeOn(c, major, start-phi, end-phi, whole)
	}
	e := drawing.Ellipse{Center: c, Major: major, Ratio: min(ratio, 1)}
	if !whole {
		a, b := start-phi, end-phi
		if wedge(major, minor) < 0 {
			a, b = -b, -a
		}
		e.Start, e.End = turned(degrees(a)), turned(degrees(b))
	}
	return e
}

// edgeOn returns the line that c + major cos t covers.
func edgeOn(c, major drawing.Point, start, end float64, whole bool) drawing.Shape {
	lo, hi := min(math.Cos(start), math.Cos(end)), max(math.Cos(start), math.Cos(end))
	for k := math.Ceil(start / math.Pi); k*math.Pi <= end; k++ {
		lo, hi = min(lo, math.Cos(k*math.Pi)), max(hi, math.Cos(k*math.Pi))
	}
	if whole {
		lo, hi = -1, 1
	}
	return drawing.Line{From: c.Add(major.Mul(lo)), To: c.Add(major.Mul(hi))}
}

// turned returns an angle in [0, 360).
func turned(deg float64) float64 {
	if deg = math.Mod(deg, 360); deg < 0 {
		if deg += 360; deg == 360 {
			deg = 0
		}
	}
	return deg
}

// sweepOf returns the range of an arc from start counter-clockwise to end, in
// radians, and whether it is a whole turn: one of the same angles is.
func sweepOf(start, end float64) (a, b float64, whole bool) {
	sweep := math.Mod(end-start, 2*math.Pi)
	if sweep < 0 {
		sweep += 2 * math.Pi
	}
	if sweep < 1e-9 || sweep > 2*math.Pi-1e-9 {
		return start, start + 2*math.Pi, true
	}
	return start, start + sweep, false
}
