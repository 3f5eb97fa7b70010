package fastener

import (
	"math"

	"boltplate/drawing"
	"boltplate/internal/plane"
)

// chamferAngle is the angle of the chamfer of heads and nuts to their end
// face, degrees (several drawing textbooks; ISO 4014 and ISO 4032 allow 15 to
// 30).
const chamferAngle = 30.0

// tanChamfer is the tangent of chamferAngle.
const tanChamfer = 0.577350269189625764509148780502

// A prism is a hexagonal or square head or nut on the axis. Its faces are
// chamfered by a cone of 30 degrees that cuts the end face in a circle as wide
// as the prism is across flats.
type prism struct {
	n         int     // 6 or 4 faces
	flats     float64 // width across flats
	x0, x1    float64 // the bearing face, and the chamfered end face
	bothFaces bool    // the bearing face is chamfered as well
	against   float64 // half height of a part whose drawn face the bearing face lies on
}

func (p prism) corners() float64 { return p.flats / math.Cos(math.Pi/float64(p.n)) }

// drop returns how deep the chamfer is at the corners:
// tan 30 (A - W) / 2.
func (p prism) drop() float64 { return tanChamfer * (p.corners() - p.flats) / 2 }

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

// elevation draws the prism seen from the side: across corners, a corner at
// the top and bottom, or across flats.
func (p prism) elevation(b *builder, acrossCorners bool) {
	s := math.Copysign(p.drop(), p.x1-p.x0) // towards the end face
	high, bevel := p.flats/2, 0.0
	if acrossCorners {
		high, bevel = p.corners()/2, s
	}
	start := p.x0
	if p.bothFaces {
		start += bevel
	}
	// Silhouette.
	b.both(drawing.RoleOutline, start, high, p.x1-bevel, high)
	b.line(drawing.RoleOutline, p.x1, -p.flats/2, p.x1, p.flats/2)
	base := p.bearing(acrossCorners)
	if base > p.against {
		b.line(drawing.RoleOutline, p.x0, -base, p.x0, base)
	}
	if acrossCorners { // the cone itself is the outline at the corners
		b.both(drawing.RoleOutline, p.x1-s, high, p.x1, p.flats/2)
		if p.bothFaces {
			b.both(drawing.RoleOutline, p.x0+s, high, p.x0, p.flats/2)
		}
	}
	// The corners between faces, and the curve on each face.
	edges := p.edges(acrossCorners)
	inner := p.x0
	if p.bothFaces {
		inner += s
	}
	for i, y := range edges {
		if i > 0 && i+1 < len(edges) {
			if y == 0 {
				b.edgeOnAxis(inner, p.x1-s)
			} else {
				b.line(drawing.RoleOutline, inner, y, p.x1-s, y)
			}
		}
		if i > 0 {
			p.curve(b, p.x1, -s, edges[i-1], y)
			if p.bothFaces {
				p.curve(b, p.x0, s, edges[i-1], y)
			}
		}
	}
}

// edges returns the heights of the corners that are seen, from below.
func (p prism) edges(acrossCorners bool) []float64 {
	w, a := p.flats/2, p.corners()/2
	switch {
	case p.n == 6 && acrossCorners:
		return []float64{-a, -a / 2, a / 2, a}
	case p.n == 6:
		return []float64{-w, 0, w}
	case acrossCorners:
		return []float64{-a, 0, a}
	}
	return []float64{-w, w}
}

// edgeAt reports whether a visible edge lies at height y or too near to it to
// tell the two apart.
func (p prism) edgeAt(acrossCorners bool, y float64) bool {
	for _, e := range p.edges(acrossCorners) {
		if math.Abs(e-y) < 1e-6 {
			return true
		}
	}
	return false
}

// curve draws where the chamfer cone meets the face between the heights y0 and
// y1. It touches the end face at x in the middle of the face and is deep at
// its ends (depth is signed). The true curve is a hyperbola; seen at a slant
// it only becomes narrower.
func (p prism) curve(b *builder, x, depth, y0, y1 float64) {
	mid := (y0 + y1) / 2
	from, top, to := drawing.Pt(x+depth, y0), drawing.Pt(x, mid), drawing.Pt(x+depth, y1)
	if b.opt.Exact {
		b.add(drawing.RoleOutline, p.hyperbola(from, top, to))
		return
	}
	if p.n == 4 && y1-y0 < p.flats {
		// Beside the outline of the cone, which the true curve touches at the
		// corner, one arc would stand out by 0.7 % of the width.
		p.threeArcs(b, from, top, to)
		return
	}
	if a, ok := arcThrough(from, top, to); ok {
		b.add(drawing.RoleOutline, a)
	}
}

// threeArcs draws the curve on a face as an arc at the vertex and, tangent to
// it, two arcs that have the direction of the cone's outline at the corners.
func (p prism) threeArcs(b *builder, from, top, to drawing.Point) {
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
	b.add(drawing.RoleOutline, arcAbout(c0, r0, low, join, top))
	b.add(drawing.RoleOutline, arcAbout(at(s+r1*ty, h-r1*tx), r1, join, to, join))
	b.add(drawing.RoleOutline, arcAbout(at(s+r1*ty, -h+r1*tx), r1, low, from, low))
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

// hyperbola returns the true edge as a rational quadratic curve. On a face at
// distance W/2 from the axis the cone z = -tan30 (r - W/2) leaves
// z(u) = -tan30 (sqrt((W/2)^2 + u^2) - W/2), u along the face. The tangents at
// the ends meet in the control point; the weight makes the curve pass through
// the vertex.
func (p prism) hyperbola(from, top, to drawing.Point) drawing.Conic {
	w := p.flats / 2
	h := w * math.Tan(math.Pi/float64(p.n)) // half the width of a face
	end := tanChamfer * (p.corners()/2 - w)
	slope := tanChamfer * h / (p.corners() / 2)
	meet := end - h*slope // depth where the tangents meet: above the vertex
	scale := (from.X - top.X) / end
	return drawing.Conic{
		From:    from,
		Control: drawing.Pt(top.X+meet*scale, top.Y),
		To:      to,
		Weight:  end / -meet,
	}
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

// outlines returns what the prism shows along its axis, the nearest first: the
// circle of the chamfer where a chamfered face is in front, and its edges.
// Corners are at the top where the view goes with the elevation across
// corners.
func (p prism) outlines(chamferedFace, cornerUp bool) []outline {
	poly := polygon(p.n, p.flats, cornerUp)
	if chamferedFace || p.bothFaces {
		return []outline{circle(p.flats / 2), poly}
	}
	return []outline{poly}
}
