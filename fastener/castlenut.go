package fastener

import (
	"fmt"
	"math"

	"boltplate/drawing"
	"boltplate/internal/plane"
	"boltplate/internal/solid"
	"boltplate/rule"
	"boltplate/thread"
)

// CastleNut is a hexagonal nut with a cylindrical crown on it that has slots as
// deep as the crown is high: six up to M39, one in the middle of each face, and
// eight above (DIN 935, from memory, unverified). A split pin goes through two opposite slots and the bolt, unless it is left out; it
// is drawn straight from the viewer of the front view, its eye towards him. The
// eye, wider than the pin, and the bent ends are a picture and have no
// sizes. The origin is at the bearing face. On basis Standard the hexagon has
// the widths of ISO 4032; the rest is by proportion on either basis.
type CastleNut struct {
	Thread  thread.Thread
	Bare    bool // without the split pin
	Basis   Basis
	Governs Governs
	Extra
}

func castleNutKind() KindInfo {
	return KindInfo{Name: "castle-nut", Title: "castle nut",
		Options: []Option{choice("form", "pinned", "bare"), optBasis(), optGoverns()}, Views: allViews(),
		Default:  nutViews(),
		variants: hexagonVariants(variant{families: hexNutFamilies()}, castleRules),
		how: map[stage]string{
			stageShape: "Draw the chamfer circle, round it the hexagon with the 30°/60° set square, the circles of crown and thread, and the slots evenly round from the axis",
			stageHead:  "Project hexagon, crown and slots to the elevation: a slot is seen as wide as it is only where it lies on the axis"},
		make: func(s Spec) Fastener {
			return CastleNut{Thread: s.Thread, Bare: is(s.Form, "bare"), Basis: s.Basis, Governs: s.Governs,
				Extra: s.Extra}
		}}
}

// Kind returns "castle-nut".
func (CastleNut) Kind() string { return "castle-nut" }

// Designation returns for instance "Castle nut and split pin M20" or "Castle
// nut M20".
func (n CastleNut) Designation() string {
	if n.Bare {
		return "Castle nut " + n.Thread.String() + n.supplied()
	}
	return "Castle nut and split pin " + n.Thread.String() + n.supplied()
}

// Validate reports what is wrong with the description, as a *FieldError.
func (n CastleNut) Validate() error {
	_, err := n.resolve()
	return err
}

// castleRules are the sizes of a castle nut beside those of its hexagon. The
// split pin has one of the nominal sizes of ISO 1234, none of which is wider than
// the slots.
var castleRules = groupOf(
	practice("H", "height of the nut", "1.25D"),
	practice("H1", "height of the hexagon", "0.8D"),
	practice("d4", "crown diameter", "1.4D"),
	practice("ws", "width of the slots", "0.3D"),
	practiceBy("dp", "split pin diameter",
		"near(0.25D, 0.8, 1, 1.2, 1.6, 2, 2.5, 3.2, 4, 5, 6.3, 8, 10, 13, 16, 20)",
		commonPractice+", in the nominal sizes of ISO 1234:1997").branching(diameters()...),
	follows("hs", "depth of the slots", "H - H1", "the heights"),
	slotCount())

// slotCount is how many slots there are.
func slotCount() size {
	s := fromMemory("ns", "number of slots", "upto(D, 39, 6, 8)").branching(diameters()...).fix()
	s.unit, s.source = drawing.One, "DIN 935"
	return s
}

// diameters returns those of the threads that are held.
func diameters() []rule.Values {
	var out []rule.Values
	for _, d := range thread.Sizes() {
		out = append(out, rule.Values{{Letter: "D", Value: d}})
	}
	return out
}

func (n CastleNut) resolve() (*nut, error) {
	r, _, err := HexNut{Thread: n.Thread, Basis: n.Basis, Governs: n.Governs,
		Extra: n.Extra}.hexagon(n.Kind(), "")
	if err != nil {
		return nil, err
	}
	r.z.use(castleRules)
	if err := r.finish(); err != nil {
		return nil, err
	}
	z := &r.z
	c := castle{t: n.Thread, w: r.widths, pinned: !n.Bare, height: r.height, hexagon: z.size("H1"),
		crown: z.size("d4"),
		slot:  z.size("ws"), pin: z.size("dp"), slots: int(z.size("ns").Value)}
	r.form = c.form(r.kind)
	r.fits.SlotsFrom, r.fits.SlotWidth, r.fits.Pin = c.hexagon.Value, c.slot.Value, c.pin.Value
	return r, c.check(z)
}

// A castle is a castle nut with settled sizes.
type castle struct {
	t                                 thread.Thread
	w                                 widths
	height, hexagon, crown, slot, pin drawing.Quantity
	slots                             int
	pinned                            bool
}

// check refuses sizes that cannot be drawn.
func (c castle) check(z *sizer) error {
	depth := z.at("hs")
	switch {
	case c.slot.Value < 1.02*c.pin.Value:
		return z.refuse(z.at("ws"), fmt.Sprintf("must be more than the split pin's diameter, dp = %s, by a little",
			mm(c.pin.Value)))
	case c.slot.Value > 0.4*c.t.D:
		return z.refuse(z.at("ws"),
			fmt.Sprintf("must be at most 0.4D = %s, so that the slots leave the crown whole", mm(0.4*c.t.D)))
	case depth.value < 2*eyeRadius*c.pin.Value:
		return z.refuse(depth, fmt.Sprintf("must be at least %s, for the eye of the split pin",
			mm(2*eyeRadius*c.pin.Value)))
	case c.crown.Value > c.w.flats.Value:
		return z.refuse(z.at("d4"), fmt.Sprintf("must be at most the width across flats, W = %s",
			mm(c.w.flats.Value)))
	case c.crown.Value < 1.2*c.t.D:
		return z.refuse(z.at("d4"), fmt.Sprintf("must be at least 1.2D = %s", mm(1.2*c.t.D)))
	}
	return nil
}

func (c castle) form(kind string) *nutForm {
	extra := []string{"A", "W", "H1", "d4", "ws", "dp", "hs", "ns"}
	return &nutForm{
		extra: extra,
		base:  c.prism(0).bearing,
		top: func(acrossCorners bool) float64 {
			if acrossCorners || c.slots != 6 {
				return c.crown.Value / 2
			}
			return c.wall(c.crown.Value / 2) // a slot is on the outline
		},
		annotate: c.annotate,
		face:     c.hexagon.Value,
		figure:   func(x float64, on *bolt) *figure { return c.figure(kind, x, on) },
	}
}

// prism returns the hexagon with its bearing face at x.
func (c castle) prism(x float64) prism { return c.w.prism(x, x+c.hexagon.Value) }

// wall returns how far from the axis, along the slot, its sides meet a circle
// of radius r.
func (c castle) wall(r float64) float64 {
	h := c.slot.Value / 2
	return math.Sqrt(r*r - h*h)
}

// step returns the angle from one slot to the next, degrees. The pin goes
// through two of them, along the Z axis: of six they are in the middles of the
// faces.
func (c castle) step() float64 { return 360 / float64(c.slots) }

func (c castle) figure(kind string, x float64, on *bolt) *figure {
	g := &figure{kind: kind, from: x, to: x + c.height.Value, fromPoint: true}
	g.build = func(l look, m *model) {
		c.build(l, m, x, on)
		if on == nil {
			m.bore(l, bore{t: c.t, x0: x, x1: g.to, blind: true})
			c.threadAtEnd(l, m, x+c.hexagon.Value, g.to)
		}
		if c.pinned {
			c.splitPin(l, m, x, on)
		}
	}
	if on == nil {
		g.annotate = func(b *builder, dir drawing.Direction) { c.annotate(b, dir, x, nil) }
	}
	return g
}

// build adds the hexagon, and the crown as what the slots leave of it: a piece
// between each two of them.
func (c castle) build(l look, m *model, x float64, on *bolt) {
	p := c.prism(x)
	x1, end := p.x1, x+c.height.Value
	radius := c.t.D / 2
	if on == nil {
		radius = boreRadius(c.t, l.style)
	}
	over := c.slot.Value / 4 // past the face where the bore goes on
	body := p.solid(l).Less(bore{t: c.t, x0: x, x1: x1 + over}.hole(l, on))
	half, out := c.slot.Value/2, c.crown.Value/2
	a, b := math.Asin(math.Min(half/radius, 1))*180/math.Pi, math.Asin(half/out)*180/math.Pi
	// Between the slots to either side of the first direction.
	step := c.step()
	side, first := step/2, math.Mod(90+step/2, step)
	at := func(r, deg, bend float64) solid.Vertex {
		sin, cos := plane.Sincos(deg)
		return solid.Vertex{X: r * cos, Y: r * sin, Bulge: math.Tan(bend / 4 / 180 * math.Pi)}
	}
	bottoms := make([]solid.Curve, 0, 8) // the bore's edges in the slots
	piece := []solid.Vertex{at(out, b-side, step-2*b), at(out, side-b, 0)}
	if a < side {
		piece = append(piece, at(radius, side-a, 2*a-step), at(radius, a-side, 0))
	} else { // the slots meet outside the bore as it is drawn
		sin, _ := plane.Sincos(side)
		piece, a = append(piece, at(half/sin, 0, 0)), side
	}
	loops := [][]solid.Vertex{piece}
	for i := range c.slots {
		sin, cos := plane.Sincos(first + step*float64(i))
		e, f := solid.V(0, cos, sin), solid.V(0, -sin, cos)
		crown := solid.Extrude(solid.Vec{}, e, f, x1, end, loops...)
		if !l.pictorial() { // its foot is on the face of the hexagon, or under its end
			crown = crown.OpenAt(x1)
		}
		m.add(crown)
		bottoms = append(bottoms, solid.ArcAt(solid.V(x1, 0, 0), e, f, radius, side-a, side+a))
	}
	m.add(body.With(bottoms...))
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
	slot, step := solid.V(0, 0, 1), c.step()
	mid := plane.Degrees(slot.Dot(right), slot.Dot(up))
	first := mid + step*math.Floor((rootArcStart-mid)/step)
	add := func(x, from, to float64) {
		if from, to = math.Max(from, rootArcStart), math.Min(to, rootArcEnd); from < to {
			m.mark(solid.ArcAt(solid.V(x, 0, 0), right, up, r, from, to).Marked(solid.Thin))
		}
	}
	for a := first; a < rootArcEnd; a += step {
		add(bottom, a-half, a+half)
		add(end, a+half, a+step-half)
	}
}

// The shape of the split pin, in terms of its diameter.
const (
	eyeRadius  = 0.8 // so that the eye is clear of the hexagon
	eyeHole    = 0.4
	pinEnd     = 1.5  // length of a bent end
	pinEndHalf = 60.0 // its angle to the pin, degrees

	// How thick a bent end is beside the pin: thin enough that it leaves the
	// round end of the pin on the sphere.
	pinEndThick = 0.45
)

// place returns where the axis of the pin and the middle of its eye are, for a
// bearing face at x, and where its ends part, all from the axis of the nut.
func (c castle) place(x float64, p pinShape) (axis, eye, parts float64) {
	return x + (c.hexagon.Value+c.height.Value)/2, c.crown.Value/2 + p.eye,
		c.w.flats.Value/2 + 0.02*c.t.D
}

// A pinShape is a split pin as it is drawn: its radius, that of its eye and half
// the height of the eye.
type pinShape struct{ r, eye, high float64 }

// drawn returns the pin as it is drawn. The eye is as high as the slots are wide,
// so that its edges are theirs in the picture. A pin that would stand nearer on paper to
// the walls of a slot than lines may fills it; so does the eye, where no smaller one
// stands clear.
func (c castle) drawn(exact bool, st drawing.Style) pinShape {
	wide, deep := c.slot.Value/2, (c.height.Value-c.hexagon.Value)/2
	p := pinShape{r: c.pin.Value / 2, eye: eyeRadius * c.pin.Value, high: wide}
	if least := st.Part(drawing.LeastApart); !exact {
		if wide-p.r < least && wide <= deep {
			p.r = wide
		}
		switch {
		case deep-p.eye >= least:
		case deep-least >= max(p.r, eyeHole*c.pin.Value+least): // a smaller eye stands clear
			p.eye = deep - least
		default:
			p.eye = deep
		}
		p.eye = max(p.eye, p.r) // of rules of one's own: a pin is no wider than its eye
	}
	return p
}

// splitPin adds the pin: a round bar with an eye, and where it parts a round
// end from which its two ends go off.
func (c castle) splitPin(l look, m *model, x float64, on *bolt) {
	p := c.drawn(l.exact || l.pictorial(), l.style)
	d, r := c.pin.Value, p.r
	axis, eye, parts := c.place(x, p)
	along := solid.AcrossZ(axis, 0)
	m.add(solid.Cylinder(along, r, -parts, eye-(p.eye+eyeHole*d)/2).Without(solid.At(-parts)),
		solid.Ball(along, -parts, r, -parts-r, -parts).Without(solid.At(-parts)),
		solid.Cylinder(solid.AcrossY(axis, eye), p.eye, -p.high, p.high).
			Less(solid.Cylinder(solid.AcrossY(axis, eye), eyeHole*d, -p.high, p.high)))
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
		return solid.V(axis+r*cos, r*sin, eye-math.Sqrt(p.eye*p.eye-r*r*cos*cos))
	}))
	if on != nil {
		for _, side := range [2]float64{1, -1} { // where it goes into the bolt
			m.mark(solid.Along(func(s float64) solid.Vec {
				sin, cos := plane.Sincos(360 * s)
				return solid.V(axis+r*cos, r*sin, side*math.Sqrt(c.t.D*c.t.D/4-r*r*sin*sin))
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
			slots := label(c.slot)
			slots.Number = fmt.Sprintf("%d × %s", c.slots, drawing.FormatValue(c.slot.Value, b.opt.Style.DecimalComma))
			b.linear(drawing.Right, 0, slots, end, -half, end, half)
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
	p := c.drawn(b.opt.Exact, b.opt.Style)
	d, r := c.pin.Value, p.r
	over := b.opt.Style.Part(drawing.CentreOverrun)
	axis, eye, parts := c.place(x, p)
	size := diameterLabel(c.pin)
	switch {
	case dir == drawing.Front:
		b.line(drawing.RoleCentre, axis, -p.high-over, axis, p.high+over)
	case dir == drawing.SideView:
		b.line(drawing.RoleCentre, axis, -eye-p.eye-over, axis, parts+pinEnd*d+over)
		b.line(drawing.RoleCentre, axis-p.eye-over, -eye, axis+p.eye+over, -eye)
		b.add(drawing.RoleDimension, drawing.Leader{Label: size, Tip: drawing.Pt(axis+r, (c.crown.Value/2+parts)/2),
			Angle: 25, Rank: 1})
	case b.opt.turned: // the pin stands upright
		b.line(drawing.RoleCentre, -p.high-over, -eye, p.high+over, -eye)
	default:
		side := 1.0
		if dir == drawing.HeadEnd {
			side = -1
		}
		b.line(drawing.RoleCentre, -side*eye, -p.high-over, -side*eye, p.high+over)
		if dir == drawing.PointEnd {
			b.add(drawing.RoleDimension, drawing.Leader{Label: size, Tip: drawing.Pt((c.crown.Value/2+parts)/2, r),
				Angle: 60})
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
