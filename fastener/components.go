package fastener

import "boltplate/drawing"

// A Component is one part of a figure that shows several, for item references.
type Component struct {
	Part Fastener
	At   drawing.Point // inside the part in the front and side views, mm
}

// Components returns the bolt, the washer if there is one, and the nut, in the
// order in which they stand on the axis. The error is that of Validate.
func (a Bolted) Components() ([]Component, error) {
	b, c, err := a.resolve()
	if err != nil {
		return nil, err
	}
	// Off the axis, where the centre line runs, and clear of the thread's root.
	all := []Component{{a.Bolt, drawing.Pt(0.4*c.grip.Value, 0.2*b.shank.t.D)}}
	if c.washer != nil {
		all = append(all, Component{a.Washer, drawing.Pt(c.grip.Value+c.washer.thickness.Value/2,
			0.35*c.washer.outside.Value)})
	}
	base, top := c.nut.halves(true)
	return append(all, Component{a.Nut, drawing.Pt(c.seat()+c.nut.height.Value/2, 0.3*min(base, top))}), nil
}
