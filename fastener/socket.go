package fastener

import (
	"fmt"
	"math"

	"boltplate/drawing"
	"boltplate/internal/solid"
)

// A socket is a hexagonal hole in the end of a head for a key, with a corner
// up, as a hexagonal head stands in the front view. Its bottom is the point of
// the drill that went before: a cone that touches the flats. The zero socket is
// none.
type socket struct {
	flats, depth drawing.Quantity
	x            float64 // of the end of the head
}

// socketPoint is the included angle of the cone at the bottom of a socket,
// degrees (common practice, as for any drilled hole).
const socketPoint = 120.0

const (
	nameSocketFlats = "width across flats of the socket"
	nameSocketDepth = "socket depth"
)

func (s socket) present() bool { return s.depth.Value > 0 }

func (s socket) corners() float64 { return s.flats.Value / cosHalf(6) }

// bottom returns where the flats end, and tip where the cone does.
func (s socket) bottom() float64 { return s.x + s.depth.Value }

func (s socket) tip() float64 {
	return s.bottom() + s.flats.Value/2/math.Tan(socketPoint/2*math.Pi/180)
}

// socketCone is the cone at the bottom of a socket.
var socketCone = groupOf(practice("u", "angle of the cone at the bottom of the socket", "120°").angle().fix())

// socket takes the sizes of a socket over and refuses one that does not go into
// a head that is height high and, where its bottom is, has the radius.
func (z *sizer) socket(height, radius float64) (socket, error) {
	z.use(socketCone)
	if err := z.solve(); err != nil {
		return socket{}, err
	}
	s := socket{flats: z.size("s"), depth: z.size("t")}
	switch {
	case s.corners() >= 2*radius:
		return s, z.refuse(z.at("s"),
			fmt.Sprintf("makes the socket %s over its corners; the head, %s, must be wider",
				mm(s.corners()), mm(2*radius)))
	case s.depth.Value >= height:
		return s, z.refuse(z.at("t"), fmt.Sprintf("must be less than the height of the head, %s", mm(height)))
	}
	return s, nil
}

// holes returns the socket. A view along the axis leaves the edge of its cone
// out, which touches the hexagon from inside, unless it is to be exact.
func (s socket) holes(l look) []solid.Solid {
	cone := solid.Cone(solid.X(), s.bottom(), s.flats.Value/2, s.tip(), 0)
	if !l.exact {
		cone = cone.Mark(solid.NotAlong, solid.At(s.bottom()))
	}
	return []solid.Solid{solid.Prism(solid.X(), 6, s.flats.Value, s.x, s.bottom(), solid.V(0, 1, 0),
		solid.Chamfer{}), cone}
}

// profile returns the section of the socket in the plane of the axis, which
// runs through two corners, from the upper end of its mouth to the lower one.
func (s socket) profile() []drawing.Vertex {
	c, w, b := s.corners()/2, s.flats.Value/2, s.bottom()
	return corners([2]float64{s.x, c}, [2]float64{b, c}, [2]float64{b, w}, [2]float64{s.tip(), 0},
		[2]float64{b, -w}, [2]float64{b, -c}, [2]float64{s.x, -c})
}

// dimensions gives the width across flats from the head, and the depth in the
// front view where the section, or a hidden edge, shows it.
func (s socket) dimensions(b *builder, dir drawing.Direction) {
	if !s.present() {
		return
	}
	c := s.corners() / 2
	switch dir {
	case drawing.HeadEnd:
		across := widths{n: 6, flats: s.flats, flatsGovern: true}
		across.dimensionsAcross(b, prism{n: 6, flats: s.flats.Value}, !b.opt.turned, 0)
	case drawing.Front:
		if b.opt.Section || b.opt.Hidden {
			b.linear(drawing.Above, 0, label(s.depth), s.x, c, s.bottom(), c)
		}
	case drawing.SideView:
		if b.opt.Hidden {
			b.linear(drawing.Above, 1, label(s.depth), s.x, s.flats.Value/2, s.bottom(), s.flats.Value/2)
		}
	}
}
