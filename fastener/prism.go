package fastener

import (
	"math"

	"boltplate/drawing"
	"boltplate/internal/plane"
	"boltplate/internal/solid"
)

// chamferAngle is the angle of the chamfer of heads and nuts to their end face,
// degrees, unless rules of one's own have another (common practice; ISO 4014 and
// ISO 4032 allow 15 to 30).
const chamferAngle = 30.0

// tanChamfer is the tangent of chamferAngle.
const tanChamfer = 0.577350269189625764509148780502

// A prism is a hexagonal or square head or nut on the axis. Its faces are
// chamfered by a cone that cuts the end face in a circle as wide as the prism is
// across flats.
type prism struct {
	n         int     // 6 or 4 faces
	flats     float64 // width across flats
	angle     float64 // of the chamfer, degrees
	x0, x1    float64 // the bearing face, and the chamfered end face
	bothFaces bool    // the bearing face is chamfered as well
}

func (p prism) corners() float64 { return p.flats / math.Cos(math.Pi/float64(p.n)) }

// corner returns a corner of the prism in an end view, which has one up or not.
func (p prism) corner(up bool) drawing.Point {
	switch {
	case up:
		return drawing.Pt(0, p.corners()/2)
	case p.n == 4:
		return drawing.Pt(p.flats/2, p.flats/2)
	}
	return drawing.Pt(p.corners()/2, 0)
}

// drop returns how deep the chamfer is at the corners: tan a (A - W) / 2.
func (p prism) drop() float64 { return p.slope() * (p.corners() - p.flats) / 2 }

// slope returns the tangent of the chamfer's angle.
func (p prism) slope() float64 {
	if p.angle == chamferAngle {
		return tanChamfer
	}
	return math.Tan(p.angle * math.Pi / 180)
}

// bearing returns the half height of the bearing face in an elevation.
func (p prism) bearing(acrossCorners bool) float64 {
	if acrossCorners && !p.bothFaces {
		return p.corners() / 2
	}
	return p.flats / 2
}

// half returns the half height of the prism in an elevation.
func (p prism) half(acrossCorners bool) float64 {
	if acrossCorners {
		return p.corners() / 2
	}
	return p.flats / 2
}

// solid returns the prism with a corner up, as the front view shows it.
func (p prism) solid(l look) solid.Solid {
	ch := solid.Chamfer{AtStart: p.x1 < p.x0 || p.bothFaces, AtEnd: p.x1 > p.x0 || p.bothFaces, Angle: p.angle,
		Circle: p.flats}
	if l.plain {
		ch = solid.Chamfer{}
	}
	return solid.Prism(solid.X(), p.n, p.flats, min(p.x0, p.x1), max(p.x0, p.x1), solid.V(0, 1, 0), ch)
}

// threeArcs draws the curve on a face as an arc at the vertex and, tangent to
// it, two arcs that have the direction of the cone's outline at the corners.
func threeArcs(b *builder, role drawing.Role, from, top, to drawing.Point) {
	// In the upper half, with the vertex at the origin, x into the prism and y
	// up: a biarc from (0, 0), upwards, to (s, h) in the direction (tan 30, 1).
	in := math.Copysign(1, to.X-top.X)
	s, h := math.Abs(to.X-top.X), to.Y-top.Y
	l := math.Hypot(tanChamfer, 1)
	tx, ty := tanChamfer/l, 1/l
	// Both arcs have tangents of the length d: 2d^2 (1-ty) + 2d (s tx + h (1+ty)) = s^2 + h^2.
	k2, k1, k0 := 2*(1-ty), 2*(s*tx+h*(1+ty)), -(s*s + h*h)
	d := (-k1 + math.Sqrt(k1*k1-4*k2*k0)) / (2 * k2)
	jx, jy := (s-d*tx)/2, (h+d*(1-ty))/2
	// The centres lie on the normals at the vertex and at the corner.
	r0 := (jx*jx + jy*jy) / (2 * jx)
	ex, ey := jx-s, jy-h
	r1 := (ex*ex + ey*ey) / (2 * (ex*ty - ey*tx))
	at := func(x, y float64) drawing.Point { return drawing.Pt(top.X+in*x, top.Y+y) }
	c0, join, low := at(r0, 0), at(jx, jy), at(jx, -jy)
	b.arc(role, arcAbout(c0, r0, low, join, top))
	b.arc(role, arcAbout(at(s+r1*ty, h-r1*tx), r1, join, to, join))
	b.arc(role, arcAbout(at(s+r1*ty, -h+r1*tx), r1, low, from, low))
}

// arcAbout returns the arc about c from p to q: the one that by passes, or
// where by is an end, the shorter one.
func arcAbout(c drawing.Point, r float64, p, q, by drawing.Point) drawing.Arc {
	s, e := plane.Norm(p.Sub(c).Angle()), plane.Norm(q.Sub(c).Angle())
	swap := plane.Sweep(s, e) > 180
	if by != p && by != q {
		swap = !plane.InArc(by.Sub(c).Angle(), s, e)
	}
	if swap {
		s, e = e, s
	}
	return drawing.Arc{Center: c, Radius: r, Start: s, End: e}
}

// arcThrough returns the arc from a by way of m to c.
func arcThrough(a, m, c drawing.Point) (drawing.Arc, bool) {
	ctr, r, ok := plane.ArcThrough(plane.Vec(a), plane.Vec(m), plane.Vec(c))
	if !ok {
		return drawing.Arc{}, false
	}
	deg := func(p drawing.Point) float64 { return plane.Degrees(p.X-ctr.X, p.Y-ctr.Y) }
	s, mid, e := deg(a), deg(m), deg(c)
	if !plane.InArc(mid, s, e) {
		s, e = e, s
	}
	return drawing.Arc{Center: drawing.Point(ctr), Radius: r, Start: s, End: e}, true
}
