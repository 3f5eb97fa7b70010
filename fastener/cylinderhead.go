package fastener

import (
	"boltplate/drawing"
	"boltplate/internal/solid"
)

// A cylinderHead is a cylindrical head on the shank, with a socket or a slot in
// its end.
type cylinderHead struct {
	diameter, height drawing.Quantity
	socket           socket
	slot             slot
}

// form returns the head.
func (h cylinderHead) form() *form {
	t, r := h.height.Value, h.diameter.Value/2
	f := &form{end: -t, origin: drawing.Pt(0, -r)}
	if h.socket.present() {
		h.socket.x = -t
		f.section = func(drawing.Style, shank) *cutaway {
			to, room := h.socket.tip()/2, -h.socket.tip()/2
			face := append(corners([2]float64{-t, r}), h.socket.profile()...)
			return &cutaway{from: -t, to: to, high: r, room: 0.4 * room,
				face: append(face, corners([2]float64{-t, -r})...)}
		}
	}
	if h.slot.present() {
		h.slot.x = -t
	}
	f.build = func(l look, m *model) {
		body := solid.Cylinder(solid.X(), r, -t, 0)
		if h.socket.present() {
			body = body.Less(h.socket.holes(l)...)
		}
		if h.slot.present() {
			body = body.Less(h.slot.hole()).With(h.slot.rim(r)...).With(h.slot.onCylinder(r, -t, 0)...)
		}
		m.add(body)
	}
	f.annotate = func(b *builder, dir drawing.Direction, rank drawing.Rank) {
		switch dir {
		case drawing.Front, drawing.SideView:
			b.linear(drawing.Below, rank, label(h.height), -t, -r, 0, -r)
			b.linear(drawing.Left, rank, diameterLabel(h.diameter), -t, -r, -t, r)
		case drawing.HeadEnd:
			b.add(drawing.RoleDimension, drawing.Diameter{Label: diameterLabel(h.diameter), Radius: r,
				Angle: 50, Rank: 3})
		}
		h.socket.dimensions(b, dir)
		h.slot.dimensions(b, dir, r, r)
	}
	return f
}
