package fastener

import (
	"math"

	"boltplate/drawing"
	"boltplate/internal/solid"
	"boltplate/thread"
)

// CupBolt is a bolt with a cup head, a part of a sphere, which is kept from
// turning by a snug or by a square neck. The zero ThreadLength means that of
// ISO 888. The zero Neck means a snug by proportion and a square neck on basis
// Standard, since that of DIN 603 has one.
type CupBolt struct {
	Thread       thread.Thread
	Length       float64 // under the head, mm
	ThreadLength float64 // mm; 0 means by the rule
	Neck         Neck
	Basis        Basis
	Extra
}

func cupBoltKind() KindInfo {
	return KindInfo{Name: "cup-bolt", Title: "cup-head bolt", Length: true, Views: allViews(),
		Default: boltViews(),
		Options: append(append([]Option{optThread(), choice("neck", "snug", "square", "plain")}, optNuts()...),
			optBasis()),
		variants: []variant{
			{families: []string{familyBolts}, groups: []*group{cupRules, snugRules}, thread: byISO888},
			{families: []string{familyBolts}, groups: []*group{cupRules, squareNeck}, thread: byISO888},
			{families: []string{familyBolts}, groups: []*group{cupRules}, thread: byISO888},
		},
		how: map[stage]string{
			stageShape:      "Draw the circle of the head, and what stands under it",
			stageHead:       "Draw the bearing face as long as the head is wide, and under it the snug or the square",
			stageHeadCurves: "Mark the centre of the cup on the axis, a little below the bearing face, and swing the arc until it ends on the face"},
		make: func(s Spec) Fastener {
			return CupBolt{Thread: s.Thread, Length: s.Length, ThreadLength: s.ThreadLength, Neck: neckNamed(s.Neck),
				Basis: s.Basis, Extra: s.Extra}
		}}
}

// standardCupBolt heads the published tables that the figures are from. ISO
// 8677:1986 is said to have the same bolts.
const standardCupBolt = "DIN 603"

// cupRules are the sizes of a cup head.
var cupRules = groupOf(
	follows("d2", nameHead, "2√(R² - i²)", "the radius and the inset"),
	follows("T", nameHeadHeight, "R - i", "the radius and the inset"),
	practice("R", nameCup, "0.8D"),
	practice("i", "inset of the centre below the bearing face", "0.1D").mayBeZero())

const (
	nameHead       = "head diameter"
	nameHeadHeight = "head height"
	nameCup        = "radius of the cup"
)

// cupLand is the land under the cup of a standard's head.
var cupLand = groupOf(follows("c", "land under the cup", "T - R + √(R² - d2²/4)",
	"the height, the diameter and the radius"))

// cupRow is a row of DIN 603: diameter dk and height k of the head, side v and
// length f of the neck, each greatest and least, and the radius of the head r,
// about; mm.
type cupRow struct {
	d, dk, dkMin, k, kMin, v, vMin, f, fMin, r float64
	status                                     drawing.Status
}

func (r cupRow) diameter() float64 { return r.d }

// cupHeads holds DIN 603 (cup head square neck bolts). That of M10 was found in
// published tables only in part.
var cupHeads = []cupRow{
	{5, 13.55, 12.45, 3.3, 2.7, 5.48, 4.52, 4.1, 2.9, 10.7, isPublished},
	{6, 16.55, 15.45, 3.88, 3.12, 6.48, 5.52, 4.6, 3.4, 12.6, isPublished},
	{8, 20.65, 19.35, 4.88, 4.12, 8.58, 7.42, 5.6, 4.4, 16, isPublished},
	{10, 24.65, 23.35, 5.38, 4.62, 10.58, 9.42, 6.6, 5.4, 19.2, inPart},
	{12, 30.65, 29.35, 6.95, 6.05, 12.7, 11.3, 8.75, 7.25, 24.1, isPublished},
	{16, 38.8, 37.2, 8.95, 8.05, 16.7, 15.3, 12.9, 11.1, 29.3, isPublished},
	{20, 46.8, 45.2, 11.05, 9.95, 20.84, 19.16, 15.9, 14.1, 33.9, isPublished},
}

// Columns of DIN 603.
var (
	columnCupDiameter = column("d2", nameHead, standardCupBolt+", dk max")
	columnCupHeight   = column("T", nameHeadHeight, standardCupBolt+", k max")
	columnCupRadius   = column("R", nameCup, standardCupBolt+", r, about")
	columnCupSide     = column("S", squareNeck.sizes[0].name, standardCupBolt+", v max")
	columnCupNeck     = column("N", squareNeck.sizes[1].name, standardCupBolt+", f max")
)

// Kind returns "cup-bolt".
func (CupBolt) Kind() string { return "cup-bolt" }

func (c CupBolt) neck() Neck {
	if c.Neck != NeckByKind {
		return c.Neck
	}
	if c.Basis == Standard {
		return NeckSquare
	}
	return NeckSnug
}

// Designation returns for instance "Cup-head bolt, snug, M20 × 90".
func (c CupBolt) Designation() string {
	return "Cup-head bolt" + c.neck().inTitle() + standardPrefix(c.Basis, c.Thread, standardCupBolt,
		"") + c.Thread.String() + times(c.Length) + c.supplied()
}

// Validate reports what is wrong with the description, as a *FieldError.
func (c CupBolt) Validate() error {
	_, err := c.resolve()
	return err
}

func (c CupBolt) resolve() (*bolt, error) {
	kind := c.Kind()
	if err := checkCommon(kind, c.Thread, c.Basis, ByBasis, false); err != nil {
		return nil, err
	}
	if err := checkNeck(kind, c.Neck, NeckSnug, NeckSquare, NeckPlain); err != nil {
		return nil, err
	}
	b := newBolt(kind, "", c.Extra, c.Thread)
	if err := b.begin(c.Length, c.Basis, underHead); err != nil {
		return nil, err
	}
	var s snug
	var err error
	if c.Basis == Standard {
		err = c.byTable(b)
	} else {
		s, err = c.byRule(b)
	}
	if err != nil {
		return nil, err
	}
	z := &b.z
	h := cupHead{diameter: z.size("d2"), height: z.size("T"), radius: z.size("R")}
	if c.Basis == Standard {
		h.land = z.size("c")
	}
	b.form = h.form(z.d, b.neck, s)
	b.fits.Head = HeadFit{Height: h.height.Value, Diameter: h.diameter.Value}
	return b, b.settle(wish{given: c.ThreadLength, basis: c.Basis, standard: standardCupBolt})
}

// byRule sets head and neck out by proportion.
func (c CupBolt) byRule(b *bolt) (s snug, err error) {
	z := &b.z
	z.use(cupRules)
	if err := z.solve(); err != nil {
		return s, err
	}
	if err := z.needs("d2", "D"); err != nil {
		return s, err
	}
	switch c.neck() {
	case NeckSnug:
		return b.snug(snugRules, z.at("d2").value/2)
	case NeckSquare:
		if err := b.squareNeck(squareNeck); err != nil {
			return s, err
		}
		return s, z.needs("d2", "S")
	}
	return s, nil
}

// byTable sets head and neck out by DIN 603.
func (c CupBolt) byTable(b *bolt) error {
	if c.neck() != NeckSquare {
		return &FieldError{b.kind, "neck", c.neck().String(),
			"the bolt of DIN 603 has a square neck; use it, or basis proportion"}
	}
	std, err := editionFor(b.kind, c.Thread, standardCupBolt, "")
	if err != nil {
		return err
	}
	row, err := find(b.kind, std, cupHeads, c.Thread.D)
	if err != nil {
		return err
	}
	z := &b.z
	within := func(s *size, most, least float64) {
		q := z.tabled(s, most, row.status)
		q.min, q.max = least, most
	}
	within(columnCupDiameter, row.dk, row.dkMin)
	within(columnCupHeight, row.k, row.kMin)
	z.tabled(columnCupRadius, row.r, row.status)
	z.use(cupLand)
	within(columnCupSide, row.v, row.vMin)
	within(columnCupNeck, row.f, row.fMin)
	b.neck = neck{side: z.size("S"), length: z.size("N")}
	b.fits.Neck = b.neck.fit()
	return z.solve()
}

// A cupHead is the head of a cup bolt: a part of a sphere on a cylindrical
// land, which the head by proportion does not have.
type cupHead struct{ diameter, height, radius, land drawing.Quantity }

// form returns the head with the neck or the snug under it.
func (h cupHead) form(d float64, n neck, s snug) *form {
	t, r, land := h.height.Value, h.radius.Value, h.land.Value
	f := &form{end: -t, start: n.length.Value, origin: drawing.Pt(0, -h.diameter.Value/2)}
	if s.present() {
		f.least = s.length.Value
		f.plain, f.plainLetter = s.length.Value, s.length.Letter
	}
	f.build = func(l look, m *model) {
		m.add(solid.Ball(solid.X(), r-t, r, -t, -land))
		if land > 0 {
			m.add(solid.Cylinder(solid.X(), h.diameter.Value/2, -land, 0).Without(solid.At(-land)))
		}
		n.build(l, m, false)
		s.build(l, m, d/2, 0)
	}
	f.annotate = func(b *builder, dir drawing.Direction, rank drawing.Rank) {
		w := h.diameter.Value / 2
		half := 0.9 * math.Acos(1-(t-land)/r) * 180 / math.Pi // of the arc that is drawn, but for its ends
		switch dir {
		case drawing.Front, drawing.SideView:
			b.linear(drawing.Below, rank, label(h.height), -t, 0, 0, -w)
			b.add(drawing.RoleDimension,
				drawing.Radius{Label: drawing.Label{Quantity: h.radius, Symbol: drawing.RadiusSymbol},
					Center: drawing.Pt(r-t, 0), Radius: r, Angle: 145, Start: 180 - half, End: 180 + half, Rank: rank})
			dia := diameterLabel(h.diameter)
			dia.Reference = h.land.Value == 0 // follows from the radius and the inset
			b.linear(drawing.Left, rank, dia, -land, -w, -land, w)
			n.dimensions(b, false, w, rank)
		}
		s.dimensions(b, dir, d/2, 0)
	}
	return f
}

// Quantities returns the dimensions of the bolt with their rules and sources.
func (c CupBolt) Quantities() ([]drawing.Quantity, error) { return boltQuantities(c) }

// View returns one view of the bolt: front, side (the plan), head, point or
// isometric. The snug is at the top of the front view.
func (c CupBolt) View(dir drawing.Direction, opt Options) (drawing.View, error) {
	return boltView(c, dir, opt)
}
