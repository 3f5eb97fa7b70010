package fastener

import (
	"boltplate/drawing"
	"boltplate/internal/solid"
	"boltplate/thread"
)

// CheeseBolt is a bolt with a cylindrical (cheese) head, which is kept from
// turning by a pin or a snug. The zero ThreadLength means that of ISO 888, the
// zero Neck a pin across the axis. There is no table of a standard for it: its
// sizes are proportions. The head is 1.5D wide and 0.8D high; some books draw
// it 1.4D wide, or 0.6D high as that of a screw.
type CheeseBolt struct {
	Thread       thread.Thread
	Length       float64 // under the head, mm
	ThreadLength float64 // mm; 0 means by the rule
	Neck         Neck    // NeckPin, NeckPinAlong, NeckSnug or NeckPlain
	Extra
}

func cheeseBoltKind() KindInfo {
	return KindInfo{Name: "cheese-bolt", Title: "cheese-head bolt", Length: true, Views: allViews(),
		Default: boltViews(),
		Options: append([]Option{optThread(), choice("neck", "pin", "pin-along", "snug", "plain")}, optNuts()...),
		variants: []variant{
			{families: []string{familyBolts}, groups: []*group{cheeseBoltRules, pinAcross}, thread: byISO888},
			{families: []string{familyBolts}, groups: []*group{cheeseBoltRules, pinAlong}, thread: byISO888},
			{families: []string{familyBolts}, groups: []*group{cheeseBoltRules, snugRules}, thread: byISO888},
		},
		how: map[stage]string{
			stageShape: "Draw the circle of the head and what stands out beside the shank",
			stageHead:  "Draw the head on the bearing face, a rectangle as wide as its diameter, and under it the pin or snug, half of the pin let in"},
		make: func(s Spec) Fastener {
			return CheeseBolt{Thread: s.Thread, Length: s.Length, ThreadLength: s.ThreadLength,
				Neck: neckNamed(s.Neck), Extra: s.Extra}
		}}
}

// cheeseBoltRules are the sizes of the head.
var cheeseBoltRules = groupOf(
	published("d2", nameHead, "1.5D", narayana+", as the cheese head of a screw"),
	practice("T", nameHeadHeight, "0.8D"))

// Kind returns "cheese-bolt".
func (CheeseBolt) Kind() string { return "cheese-bolt" }

func (c CheeseBolt) neck() Neck {
	if c.Neck == NeckByKind {
		return NeckPin
	}
	return c.Neck
}

// Designation returns for instance "Cheese-head bolt, pin, M20 × 90".
func (c CheeseBolt) Designation() string {
	return "Cheese-head bolt" + c.neck().inTitle() + c.Thread.String() + times(c.Length) + c.supplied()
}

// Validate reports what is wrong with the description, as a *FieldError.
func (c CheeseBolt) Validate() error {
	_, err := c.resolve()
	return err
}

func (c CheeseBolt) resolve() (*bolt, error) {
	kind := c.Kind()
	if err := checkCommon(kind, c.Thread, Proportion, ByBasis, false); err != nil {
		return nil, err
	}
	if err := checkNeck(kind, c.Neck, NeckPin, NeckPinAlong, NeckSnug, NeckPlain); err != nil {
		return nil, err
	}
	b := newBolt(kind, "", c.Extra, c.Thread)
	if err := b.begin(c.Length, Proportion, underHead); err != nil {
		return nil, err
	}
	z := &b.z
	z.use(cheeseBoltRules)
	if err := z.solve(); err != nil {
		return nil, err
	}
	if err := z.needs("d2", "D"); err != nil {
		return nil, err
	}
	h := cheeseHead{diameter: z.size("d2"), height: z.size("T")}
	var p pin
	var s snug
	var err error
	switch c.neck() {
	case NeckPin, NeckPinAlong:
		p, err = b.pin(c.neck() == NeckPinAlong, h.height.Value, h.diameter.Value/2)
	case NeckSnug:
		s, err = b.snug(snugRules, h.diameter.Value/2)
	}
	if err != nil {
		return nil, err
	}
	b.form = h.form(z.d, p, s)
	b.fits.Head = HeadFit{Height: h.height.Value, Diameter: h.diameter.Value}
	return b, b.settle(wish{given: c.ThreadLength})
}

// A cheeseHead is a cylindrical head.
type cheeseHead struct{ diameter, height drawing.Quantity }

// form returns the head with the pin or the snug under it.
func (h cheeseHead) form(d float64, p pin, s snug) *form {
	t, w := h.height.Value, h.diameter.Value/2
	f := &form{end: -t, origin: drawing.Pt(0, -w)}
	f.build = func(l look, m *model) {
		m.add(solid.Cylinder(solid.X(), w, -t, 0))
		p.build(l, m, d/2)
		s.build(l, m, d/2, 0)
	}
	switch {
	case p.present():
		f.hiddenIn = []drawing.Direction{drawing.Front, drawing.PointEnd} // how far it is let in
		f.least = p.reach().Value
		f.plain, f.plainLetter = f.least, p.reach().Letter
	case s.present():
		f.least = s.length.Value
		f.plain, f.plainLetter = s.length.Value, s.length.Letter
	}
	f.annotate = func(b *builder, dir drawing.Direction, rank drawing.Rank) {
		switch dir {
		case drawing.Front, drawing.SideView:
			b.linear(drawing.Below, rank, label(h.height), -t, -w, 0, -w)
			b.linear(drawing.Left, rank, diameterLabel(h.diameter), -t, -w, -t, w)
		case drawing.HeadEnd:
			b.add(drawing.RoleDimension, drawing.Diameter{Label: diameterLabel(h.diameter), Radius: w,
				Angle: 50, Rank: 2})
		}
		p.annotate(b, dir, d/2)
		s.dimensions(b, dir, d/2, 0)
	}
	return f
}

// Quantities returns the dimensions of the bolt with their rules and sources.
func (c CheeseBolt) Quantities() ([]drawing.Quantity, error) { return boltQuantities(c) }

// View returns one view of the bolt: front, side (the plan), head, point or
// isometric. The pin or the snug is at the top of the front view.
func (c CheeseBolt) View(dir drawing.Direction, opt Options) (drawing.View, error) {
	return boltView(c, dir, opt)
}
