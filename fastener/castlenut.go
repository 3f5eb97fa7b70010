package fastener

import (
	"math"

	"boltplate/drawing"
	"boltplate/internal/plane"
	"boltplate/internal/solid"
	"boltplate/thread"
)

// CastleNut is a hexagonal nut with a cylindrical crown on it that has six
// slots, one in the middle of each face, as deep as the crown is high. A split
// pin goes through two opposite slots and the bolt, unless it is left out; it
// is drawn straight from the viewer of the front view, its eye towards him. The
// eye, twice as wide as the pin, and the bent ends are a picture and have no
// sizes. The origin is at the bearing face. On basis Standard the hexagon has
// the widths of ISO 4032; the rest is by proportion on either basis.
type CastleNut struct {
	Thread  thread.Thread
	Bare    bool // without the split pin
	Basis   Basis
	Governs Governs
}

func castleNutKind() KindInfo {
	return KindInfo{Name: "castle-nut", Title: "castle nut", Options: []Option{choice("form", "pinned", "bare"), optBasis(), optGoverns()}, Views: allViews(), Default: nutViews(),
		make: func(s Spec) Fastener {
			return CastleNut{Thread: s.Thread, Bare: is(s.Form, "bare"), Basis: s.Basis, Governs: s.Governs}
		}}
}

// Kind returns "castle-nut".
func (CastleNut) Kind() string { return "castle-nut" }

// Designation returns for instance "Castle nut and split pin M20" or "Castle
// nut M20".
func (n CastleNut) Designation() string {
	if n.Bare {
		return "Castle nut " + n.Thread.String()
	}
	return "Castle nut and split pin " + n.Thread.String()
}

// Validate reports what is wrong with the description, as a *FieldError.
func (n CastleNut) Validate() error {
	_, err := n.resolve()
	return err
}

// A castle is a castle nut with settled sizes.
type castle struct {
	t                                 thread.Thread
	w                                 widths
	height, hexagon, crown, slot, pin drawing.Quantity
	pinned                            bool
}

func (n CastleNut) resolve() (*nut, error) {
	kind := n.Kind()
	w, err := hexagonOfNut(kind, n.Thread, n.Basis, n.Governs)
	if err != nil {
		return nil, err
	}
	rule := ruleOf(n.Thread.D)
	c := castle{
		t: n.Thread, w: w, pinned: !n.Bare,
		height:  rule("H", "height of the nut", "1.25D", 1.25),
		hexagon: rule("H1", "height of the hexagon", "0.8D", 0.8),
		crown:   rule("d4", "crown diameter", "1.4D", 1.4),
		slot:    rule("ws", "width of the slots", "0.25D", 0.25),
		pin:     rule("dp", "split pin diameter", "0.2D", 0.2),
	}
	depth := drawing.Quantity{Letter: "hs", Name: "depth of the slots", Rule: "H - H1 = 0.45D", Value: c.height.Value - c.hexagon.Value,
		Source: "follows from the heights", Status: drawing.Derived}
	sizes := []drawing.Quantity{c.hexagon, c.crown, c.slot, depth}
	if c.pinned {
		sizes = append(sizes, c.pin)
	}
	f := &nutForm{
		quantities: append(append(w.quantities(), c.height), sizes...),
		extra:      append(w.ofNut(), sizes...),
		base:       c.prism(0).bearing,
		top: func(acrossCorners bool) float64 {
			if acrossCorners {
				return c.crown.Value / 2
			}
			return c.wall(c.crown.Value / 2) // a slot is on the outline
		},
		annotate: c.annotate,
	}
	f.figure = func(x float64, on *bolt) *figure { return c.figure(kind, x, on) }
	return &nut{kind: kind, t: n.Thread, height: c.height, form: f}, nil
}

// prism returns the hexagon with its bearing face at x.
func (c castle) prism(x float64) prism {
	return prism{n: 6, flats: c.w.flats.Value, x0: x, x1: x + c.hexagon.Value}
}

// wall returns how far from the axis, along the slot, its sides meet a circle
// of radius r.
func (c castle) wall(r float64) float64 {
	h := c.slot.Value / 2
	return math.Sqrt(r*r - h*h)
}

// slots returns the directions of the slots: the middles of the faces.
func (castle) slots() [6]solid.Vec {
	var out [6]solid.Vec
	for i := range out {
		s, k := plane.Sincos(30 + 60*float64(i))
		out[i] = solid.V(0, k, s)
	}
	return out
}

func (c castle) figure(kind string, x float64, on *bolt) *figure {
	g := &figure{kind: kind, from: x, to: x + c.height.Value, fromPoint: true}
	g.build = func(l look, m *model) {
		c.build(l, m, x, on)
		if on == nil {
			m.bore(l, bore{t: c.t, x0: x, x1: g.to, blind: true})
			c.threadAtEnd(l, m, x+c.hexagon.Value, g.to)
		}
		if c.pinned {
			c.splitPin(m, x, on)
		}
	}
	if on == nil {
		g.annotate = func(b *builder, dir drawing.Direction) { c.annotate(b, dir, x, nil) }
	}
	return g
}

// build adds the hexagon, and the crown as what the slots leave of it: six pieces.
func (c castle) build(l look, m *model, x float64, on *bolt) {
	p := c.prism(x)
	x1, end := p.x1, x+c.height.Value
	radius := c.t.D / 2
	if on == nil {
		radius = boreRadius(c.t, l.style)
	}
	over := c.slot.Value / 4 // past the face where the bore goes on
	body := p.solid().Less(bore{t: c.t, x0: x, x1: x1 + over}.hole(l, on))
	half, out := c.slot.Value/2, c.crown.Value/2
	a, b := math.Asin(half/radius)*180/math.Pi, math.Asin(half/out)*180/math.Pi
	// Between the slots at 30 degrees to either side of the first direction.
	at := func(r, deg, bend float64) solid.Vertex {
		sin, cos := plane.Sincos(deg)
		return solid.Vertex{X: r * cos, Y: r * sin, Bulge: math.Tan(bend / 4 / 180 * math.Pi)}
	}
	var bottoms [6]solid.Curve // the bore's edges in the slots
	piece := []solid.Vertex{at(radius, a-30, 0), at(out, b-30, 60-2*b), at(out, 30-b, 0), at(radius, 30-a, 2*a-60)}
	for i := range 6 {
		sin, cos := plane.Sincos(60 * float64(i))
		e, f := solid.V(0, cos, sin), solid.V(0, -sin, cos)
		crown := solid.Extrude(solid.Vec{}, e, f, x1, end, piece)
		if !l.pictorial() { // its foot is on the face of the hexagon, or under its end
			crown = crown.OpenAt(x1)
		}
		m.add(crown)
		bottoms[i] = solid.ArcAt(solid.V(x1, 0, 0), e, f, radius, 30-a, 30+a)
	}
	m.add(body.With(bottoms[:]...))
}

// threadAtEnd adds the narrow arc of the thread at the end of the crown, in the
// slots at their bottom, so that the pin hides it there.
func (c castle) threadAtEnd(l look, m *model, bottom, end float64) {
	if l.dir != drawing.PointEnd && !(l.pictorial() && l.frame.To.X > 0) {
		return
	}
	right, up := l.acrossAxis()
	r := c.t.D / 2
	half := math.Asin(c.slot.Value/2/r) * 180 / math.Pi
	mid := plane.Degrees(c.slots()[0].Dot(right), c.slots()[0].Dot(up))
	first := mid + 60*math.Floor((rootArcStart-mid)/60)
	add := func(x, from, to float64) {
		if from, to = math.Max(from, rootArcStart), math.Min(to, rootArcEnd); from < to {
			m.mark(solid.ArcAt(solid.V(x, 0, 0), right, up, r, from, to).Marked(solid.Thin))
		}
	}
	for a := first; a < rootArcEnd; a += 60 {
		add(bottom, a-half, a+half)
		add(end, a+half, a+60-half)
	}
}

// The shape of the split pin, in terms of D.
const (
	eyeRadius  = 0.2
	eyeHole    = 0.1
	eyeHalf    = 0.12 // half its height; a little more than the pin's, so that the two meet in one curve
	pinEnd     = 0.3  // length of a bent end
	pinEndHalf = 60.0 // its angle to the pin, degrees

	// How thick a bent end is beside the pin: thin enough that it leaves the
	// round end of the pin on the sphere.
	pinEndThick = 0.45
)

// place returns where the axis of the pin and the middle of its eye are, for a
// bearing face at x, and where its ends part, all from the axis of the nut.
func (c castle) place(x float64) (axis, eye, parts float64) {
	return x + (c.hexagon.Value+c.height.Value)/2, c.crown.Value/2 + eyeRadius*c.t.D, c.w.flats.Value/2 + 0.02*c.t.D
}

// splitPin adds the pin: a round bar with an eye, and where it parts a round
// end from which its two ends go off.
func (c castle) splitPin(m *model, x float64, on *bolt) {
	d, r := c.t.D, c.pin.Value/2
	axis, eye, parts := c.place(x)
	along := solid.AcrossZ(axis, 0)
	m.add(solid.Cylinder(along, r, -parts, eye-(eyeRadius+eyeHole)/2*d).Without(solid.At(-parts)),
		solid.Ball(along, -parts, r, -parts-r, -parts).Without(solid.At(-parts)),
		solid.Cylinder(solid.AcrossY(axis, eye), eyeRadius*d, -eyeHalf*d, eyeHalf*d).
			Less(solid.Cylinder(solid.AcrossY(axis, eye), eyeHole*d, -eyeHalf*d, eyeHalf*d)))
	sin, cos := plane.Sincos(pinEndHalf)
	leg := pinEndThick * r
	for _, side := range [2]float64{1, -1} {
		to := solid.V(side*sin, 0, -cos)
		ax := solid.Axis{O: solid.V(axis, 0, -parts), Dir: to}
		m.add(solid.Cylinder(ax, leg, 0, pinEnd*d))
		m.mark(solid.CircleAt(ax.O.Add(to.Mul(math.Sqrt(r*r-leg*leg))), to, leg)) // where it leaves the round end
	}
	m.mark(solid.Along(func(s float64) solid.Vec { // where the pin meets the eye
		sin, cos := plane.Sincos(360 * s)
		return solid.V(axis+r*cos, r*sin, eye-math.Sqrt(eyeRadius*eyeRadius*d*d-r*r*cos*cos))
	}))
	if on != nil {
		for _, side := range [2]float64{1, -1} { // where it goes into the bolt
			m.mark(solid.Along(func(s float64) solid.Vec {
				sin, cos := plane.Sincos(360 * s)
				return solid.V(axis+r*cos, r*sin, side*math.Sqrt(d*d/4-r*r*sin*sin))
			}))
		}
	}
}

// annotate gives the sizes of the nut and the centre lines of the pin.
func (c castle) annotate(b *builder, dir drawing.Direction, x float64, on *clamped) {
	p := c.prism(x)
	end := x + c.height.Value
	out, half := c.crown.Value/2, c.slot.Value/2
	front := dir == drawing.Front
	switch dir {
	case drawing.Front, drawing.SideView:
		rank := drawing.Rank(0)
		if !front {
			rank = 1
		}
		base := p.bearing(front)
		b.linear(drawing.Below, rank, label(c.hexagon), x, -base, p.x1, -c.w.flats.Value/2)
		if front {
			b.linear(drawing.Right, 0, label(c.slot), end, -half, end, half)
			if on == nil {
				b.linear(drawing.Right, 0, diameterLabel(c.crown), end, -out, end, out)
			}
		}
		switch {
		case on == nil:
			top := out
			if !front {
				top = c.wall(out)
			}
			b.linear(drawing.Below, rank, label(c.height), x, -base, end, -top)
			c.w.dimensionsAlong(b, p, front, drawing.Left)
		case on.widths:
			c.w.onBolt(b, p, front)
		}
	default:
		if on == nil {
			c.w.dimensionsAcross(b, p, !b.opt.turned, 0)
			b.endLabel(c.t, false, 0)
		}
	}
	if c.pinned {
		c.annotatePin(b, dir, x)
	}
}

func (c castle) annotatePin(b *builder, dir drawing.Direction, x float64) {
	d, r := c.t.D, c.pin.Value/2
	over := b.opt.Style.Part(drawing.CentreOverrun)
	axis, eye, parts := c.place(x)
	size := diameterLabel(c.pin)
	switch {
	case dir == drawing.Front:
		b.line(drawing.RoleCentre, axis, -eyeHalf*d-over, axis, eyeHalf*d+over)
	case dir == drawing.SideView:
		b.line(drawing.RoleCentre, axis, -eye-eyeRadius*d-over, axis, parts+pinEnd*d+over)
		b.line(drawing.RoleCentre, axis-eyeRadius*d-over, -eye, axis+eyeRadius*d+over, -eye)
		b.add(drawing.RoleDimension, drawing.Leader{Label: size, Tip: drawing.Pt(axis+r, (c.crown.Value/2+parts)/2), Angle: 25, Rank: 1})
	case b.opt.turned: // the pin stands upright
		b.line(drawing.RoleCentre, -eyeHalf*d-over, -eye, eyeHalf*d+over, -eye)
	default:
		side := 1.0
		if dir == drawing.HeadEnd {
			side = -1
		}
		b.line(drawing.RoleCentre, -side*eye, -eyeHalf*d-over, -side*eye, eyeHalf*d+over)
		if dir == drawing.PointEnd {
			b.add(drawing.RoleDimension, drawing.Leader{Label: size, Tip: drawing.Pt((c.crown.Value/2+parts)/2, r), Angle: 60})
		}
	}
}

// Quantities returns the dimensions of the nut with their rules and sources.
func (n CastleNut) Quantities() ([]drawing.Quantity, error) { return nutQuantities(n) }

// View returns one view of the nut: front (on the eye of the pin), side (along
// which the pin lies), head (on the bearing face), point (on the crown) or
// isometric.
func (n CastleNut) View(dir drawing.Direction, opt Options) (drawing.View, error) {
	return nutView(n, dir, opt)
}
