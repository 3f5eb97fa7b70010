package fastener

import (
	"fmt"
	"math"

	"boltplate/drawing"
	"boltplate/internal/solid"
)

// A recess is a cross recess in the end of a head, simplified to four arms of
// one width and one depth at 45 degrees to the axes, as ISO 6410-3 has it (from
// memory, unverified). In elevations its rim would only blur the outline of the
// crown: they leave it out, and show its extent where hidden edges are asked
// for. The zero recess is none.
type recess struct {
	span, width, depth drawing.Quantity
	x                  float64 // of the end of the head
}

func (r recess) present() bool   { return r.depth.Value > 0 }
func (r recess) bottom() float64 { return r.x + r.depth.Value }
func (r recess) extent() float64 { return (r.span.Value + r.width.Value) / 2 * math.Sqrt2 / 2 }

// check refuses a recess that does not go into a head of the given height and
// radius.
func (r recess) check(z *sizer, height, radius float64) error {
	switch {
	case r.width.Value >= r.span.Value:
		return z.refuse(z.at("w"), fmt.Sprintf("must be less than the span, m = %s", mm(r.span.Value)))
	case r.extent() >= 0.9*radius:
		return z.refuse(z.at("m"), fmt.Sprintf("must leave a rim; the head is %s wide", mm(2*radius)))
	case r.depth.Value >= height:
		return z.refuse(z.at("q"), fmt.Sprintf("must be less than the height of the head, %s", mm(height)))
	}
	return nil
}

// cross returns the corners of the cross, counter-clockwise, along its arms.
func (r recess) cross() [12][2]float64 {
	m, w := r.span.Value/2, r.width.Value/2
	return [12][2]float64{{m, -w}, {m, w}, {w, w}, {w, m}, {-w, m}, {-w, w}, {-m, w}, {-m, -w}, {-w, -w},
		{-w, -m}, {w, -m}, {w, -w}}
}

// arms returns the directions of the arms: across the axis, at 45 degrees.
func (recess) arms() (u, v solid.Vec) {
	k := math.Sqrt2 / 2
	return solid.V(0, k, k), solid.V(0, -k, k)
}

// hole returns the recess, open beyond the end of the head.
func (r recess) hole() solid.Solid {
	var loop []solid.Vertex
	for _, p := range r.cross() {
		loop = append(loop, solid.Vertex{X: p[0], Y: p[1]})
	}
	u, v := r.arms()
	return solid.Extrude(solid.V(0, 0, 0), u, v, r.x-1, r.bottom(), loop).OpenAt(r.x - 1)
}

// onBall returns the rim of the recess on a sphere about x = c with the given
// radius: an arc for each side.
func (r recess) onBall(c, radius float64) []solid.Curve {
	u, v := r.arms()
	var out []solid.Curve
	pts := r.cross()
	for i, p := range pts {
		q := pts[(i+1)%len(pts)]
		// The side is at a fixed distance along one arm and runs along the other.
		off, along, s, e := u.Mul(p[0]), v, p[1], q[1]
		if p[0] != q[0] {
			off, along, s, e = v.Mul(p[1]), u, p[0], q[0]
		}
		if s > e {
			s, e = e, s
		}
		rho := math.Sqrt(radius*radius - off.Dot(off))
		deg := func(w float64) float64 { return math.Asin(w/rho) * 180 / math.Pi }
		out = append(out, solid.ArcAt(solid.V(c, 0, 0).Add(off), solid.V(-1, 0, 0), along, rho, deg(s), deg(e)))
	}
	return out
}

// annotate gives the sizes, and in elevations draws the extent of the recess as
// hidden lines. top is the half height of the crown where they begin.
func (r recess) annotate(b *builder, dir drawing.Direction, begin float64) {
	if !r.present() {
		return
	}
	m, w, h, k := r.span.Value/2, r.width.Value/2, r.extent(), math.Sqrt2/2
	switch dir {
	case drawing.Front, drawing.SideView:
		if !b.opt.Hidden {
			return
		}
		if !b.opt.Exact {
			b.both(drawing.RoleHidden, begin, h, r.bottom(), h)
			b.line(drawing.RoleHidden, r.bottom(), -h, r.bottom(), h)
		}
		b.linear(drawing.Above, 1, label(r.depth), r.x, 0, r.bottom(), h)
	case drawing.HeadEnd:
		b.add(drawing.RoleDimension, drawing.Aligned{Label: label(r.span), Side: drawing.Below,
			From: drawing.Pt((w-m)*k, (-m-w)*k), To: drawing.Pt((m+w)*k, (m-w)*k)})
		b.add(drawing.RoleDimension, drawing.Aligned{Label: label(r.width), Side: drawing.Below,
			From: drawing.Pt((-m-w)*k, (w-m)*k), To: drawing.Pt((w-m)*k, (-m-w)*k)})
	}
}
