package fastener

import (
	"math"

	"boltplate/drawing"
	"boltplate/internal/solid"
	"boltplate/thread"
)

// PanScrew is a screw with a low rounded head, called a pan head, with a slot
// in it or, where Cross is set, a cross recess. It is threaded as CheeseScrew
// is.
type PanScrew struct {
	Thread       thread.Thread
	Length       float64 // under the head, mm
	ThreadLength float64 // mm; 0 means by the rule
	Cross        bool    // a cross recess in place of a slot
	Basis        Basis
	Extra
}

func panScrewKind() KindInfo {
	return KindInfo{Name: "pan-screw", Title: "pan-head screw", Note: noteScrew, Length: true, Views: allViews(),
		Default: boltViews(),
		Options: []Option{choice("form", "slotted", "cross"), optThread(), optBasis()},
		variants: []variant{
			{word: "slotted", families: []string{familyScrews}, groups: []*group{panRules, slotRules, panCrown},
				thread: byISO888},
			{word: "cross", families: []string{familyScrews}, groups: []*group{crossPanRules, panCrown, recessArms},
				thread: byISO888},
		},
		how: map[stage]string{
			stageShape:      "Draw the circle of the head, and slot or cross about its centre",
			stageHead:       "Draw the bearing face as wide as the head, the land up from it, and sink slot or recess from the top",
			stageHeadCurves: "Mark the centre of the crown on the axis, as far below the top as its radius, and swing it from land to land"},
		make: func(s Spec) Fastener {
			return PanScrew{Thread: s.Thread, Length: s.Length, ThreadLength: s.ThreadLength,
				Cross: is(s.Form, "cross"), Basis: s.Basis, Extra: s.Extra}
		}}
}

const (
	standardPanScrew      = "ISO 1580:2011"
	standardCrossPanScrew = "ISO 7045:2011"
)

const (
	nameCrown  = "radius of the crown"
	nameSpan   = "span of the cross recess"
	nameRecess = "depth of the cross recess"
)

// The sizes of pan heads by proportion. The crown of a standard's head with a
// slot is by proportion as well, and so are the arms of a recess.
var (
	panRules = groupOf(
		practice("d2", nameHead, "2D"),
		practice("T", nameHeadHeight, "0.6D"))
	crossPanRules = groupOf(
		practice("d2", nameHead, "2D"),
		practice("T", nameHeadHeight, "0.75D"),
		practice("m", nameSpan, "D"),
		practice("q", nameRecess, "0.5D"))
	panCrown   = groupOf(practice("R", nameCrown, "0.8d2"))
	recessArms = groupOf(practiceBy("w", "width of the arms of the cross recess", "0.25m",
		commonPractice+", simplified"))

	// The land under the crown: that of a head whose rim is broken by a slot,
	// which is as high as the head, and of one that is whole.
	slottedPanLand = groupOf(follows("c", namePanLand, "T + √(R² - d2²/4) - √(R² - n²/4)",
		"the height, the diameter, the radius and the slot"))
	crossPanLand = groupOf(follows("c", namePanLand, "T + √(R² - d2²/4) - R",
		"the height, the diameter and the radius"))
)

const namePanLand = "land under the crown"

// panScrews holds ISO 1580:2011, slotted pan heads, of one published table.
var panScrews = slotted(standardPanScrew, "t min", []slottedRow{
	{3, 5.6, 1.8, 0.8, 0.7, isPublished},
	{3.5, 7, 2.1, 1, 0.8, isPublished},
	{4, 8, 2.4, 1.2, 1, isPublished},
	{5, 9.5, 3, 1.2, 1.2, isPublished},
	{6, 12, 3.6, 1.6, 1.4, isPublished},
	{8, 16, 4.8, 2, 1.9, isPublished},
	{10, 20, 6, 2.5, 2.4, isPublished},
})

// crossPanRow is a row of ISO 7045: greatest diameter dk and height k of the
// head, radius of its crown rf, about, span m and greatest depth q of the
// recess of type H; mm.
type crossPanRow struct{ d, dk, k, rf, m, q float64 }

func (r crossPanRow) diameter() float64 { return r.d }

// crossPanHeads holds ISO 7045:2011, pan heads with a cross recess. Of each row
// dk, k, m and q were found in a published table; rf is from memory, unverified.
var crossPanHeads = []crossPanRow{
	{3, 5.6, 2.4, 5, 3, 1.8},
	{3.5, 7, 2.6, 6, 3.9, 1.9},
	{4, 8, 3.1, 6.5, 4.4, 2.4},
	{5, 9.5, 3.7, 8, 4.9, 2.9},
	{6, 12, 4.6, 10, 6.9, 3.6},
	{8, 16, 6, 13, 9, 4.6},
	{10, 20, 7.5, 16, 10.1, 5.8},
}

// Columns of ISO 7045.
var (
	columnCrossDiameter = column("d2", nameHead, standardCrossPanScrew+", dk max")
	columnCrossHeight   = column("T", nameHeadHeight, standardCrossPanScrew+", k max")
	columnCrossRadius   = column("R", nameCrown, standardCrossPanScrew+", rf, about")
	columnCrossSpan     = column("m", nameSpan, standardCrossPanScrew+", m, type H")
	columnCrossDepth    = column("q", nameRecess, standardCrossPanScrew+", penetration max, type H")
	columnCrossThread   = threadColumn(standardCrossPanScrew)
)

func (p PanScrew) standard() string {
	if p.Cross {
		return standardCrossPanScrew
	}
	return standardPanScrew
}

// Kind returns "pan-screw".
func (PanScrew) Kind() string { return "pan-screw" }

// Designation returns for instance "Slotted pan-head screw M6 × 20" or, on basis
// Standard, "Cross-recessed pan-head screw ISO 7045 - M6 × 20".
func (p PanScrew) Designation() string {
	title := "Slotted pan-head screw "
	if p.Cross {
		title = "Cross-recessed pan-head screw "
	}
	return title + standardPrefix(p.Basis, p.Thread, p.standard(),
		"") + p.Thread.String() + times(p.Length) + p.supplied()
}

// Validate reports what is wrong with the description, as a *FieldError.
func (p PanScrew) Validate() error {
	_, err := p.resolve()
	return err
}

// A panHead is a part of a sphere on a cylindrical land. ISO 1580 rounds only
// the rim of the slotted head, by about 0.3D (from memory, unverified); it is
// drawn crowned as a whole, as drawing offices do, with a radius of 0.8 times
// the head's diameter.
type panHead struct {
	diameter, height, radius, land drawing.Quantity
	slot                           slot
	recess                         recess
}

func (p PanScrew) resolve() (*bolt, error) {
	kind := p.Kind()
	if err := checkCommon(kind, p.Thread, p.Basis, ByBasis, false); err != nil {
		return nil, err
	}
	word := "slotted"
	if p.Cross {
		word = "cross"
	}
	b := newBolt(kind, word, p.Extra, p.Thread)
	b.tapped = true
	if err := b.begin(p.Length, p.Basis, underHead); err != nil {
		return nil, err
	}
	h, err := p.head(&b.z)
	if err != nil {
		return nil, err
	}
	b.form = h.form()
	b.fits.Head = HeadFit{Height: h.height.Value, Diameter: h.diameter.Value}
	var column *size
	status := isPublished
	if p.Basis == Standard {
		column = panScrews.thread
		if p.Cross {
			column, status = columnCrossThread, isMemory
		}
	}
	by := machineScrewThread(p.Thread.D, machineScrewToHead, column, status)
	return b, b.settle(wish{given: p.ThreadLength, basis: p.Basis, standard: p.standard(), by: by})
}

// head sets the head out.
func (p PanScrew) head(z *sizer) (h panHead, err error) {
	sizes := p.slottedSizes
	if p.Cross {
		sizes = p.crossSizes
	}
	if err := sizes(z); err != nil {
		return h, err
	}
	if err := z.solve(); err != nil {
		return h, err
	}
	if err := z.needs("d2", "D"); err != nil {
		return h, err
	}
	h = panHead{diameter: z.size("d2"), height: z.size("T"), radius: z.size("R"), land: z.size("c")}
	if p.Cross {
		h.recess = recess{span: z.size("m"), width: z.size("w"), depth: z.size("q")}
		return h, h.recess.check(z, h.height.Value, h.diameter.Value/2)
	}
	h.slot, err = z.slot(h.height.Value, h.diameter.Value/2)
	return h, err
}

func (p PanScrew) slottedSizes(z *sizer) error {
	if p.Basis == Standard {
		if err := panScrews.use(z, p.Thread); err != nil {
			return err
		}
	} else {
		z.use(panRules)
		z.use(slotRules)
	}
	z.use(panCrown)
	z.use(slottedPanLand)
	return nil
}

func (p PanScrew) crossSizes(z *sizer) error {
	if p.Basis != Standard {
		z.use(crossPanRules)
		z.use(panCrown)
	} else {
		std, err := editionFor(z.kind, p.Thread, standardCrossPanScrew, "")
		if err != nil {
			return err
		}
		row, err := find(z.kind, std, crossPanHeads, p.Thread.D)
		if err != nil {
			return err
		}
		z.tabled(columnCrossDiameter, row.dk, isPublished)
		z.tabled(columnCrossHeight, row.k, isPublished)
		z.tabled(columnCrossSpan, row.m, isPublished)
		z.tabled(columnCrossDepth, row.q, isPublished)
		z.tabled(columnCrossRadius, row.rf, isMemory)
	}
	z.use(recessArms)
	z.use(crossPanLand)
	return nil
}

// form returns the head. The rim of a slot is as high as the head, and the
// crown without the slot would be a little higher.
func (h panHead) form() *form {
	t, w, r := h.height.Value, h.diameter.Value/2, h.radius.Value
	h.slot.x, h.recess.x = -t, -t
	c := h.slot.reach(r) - t // of the centre of the crown
	land := h.land.Value
	f := &form{end: -t, origin: drawing.Pt(0, -w)}
	if h.recess.present() {
		f.hiddenIn = []drawing.Direction{drawing.Front} // how deep it is
	}
	f.build = func(l look, m *model) {
		crown := solid.Ball(solid.X(), c, r, -t-1, -land)
		rim := solid.Cylinder(solid.X(), w, -land, 0).Without(solid.At(-land))
		switch {
		case h.slot.present():
			hole := h.slot.hole()
			crown = crown.Less(hole).With(h.slot.onBall(c, r, -land)...)
			rim = rim.Less(hole).With(h.slot.onCylinder(w, -land, 0)...)
		case h.recess.present() && (l.exact || !l.along()):
			hole := h.recess.hole()
			crown = crown.Less(hole).With(h.recess.onBall(c, r)...)
			if h.recess.bottom() > -land {
				rim = rim.Less(hole)
			}
		}
		m.add(crown, rim)
	}
	f.annotate = func(b *builder, dir drawing.Direction, rank drawing.Rank) {
		switch dir {
		case drawing.Front, drawing.SideView:
			b.linear(drawing.Below, rank, label(h.height), -t, 0, 0, -w)
			b.linear(drawing.Left, rank, diameterLabel(h.diameter), -land, -w, -land, w)
			at := func(y float64) float64 { return 180 - math.Asin(y/r)*180/math.Pi }
			b.add(drawing.RoleDimension,
				drawing.Radius{Label: drawing.Label{Quantity: h.radius, Symbol: drawing.RadiusSymbol},
					Center: drawing.Pt(c, 0), Radius: r, Angle: at(0.7 * w), Start: at(w), End: at(0.3 * w), Rank: rank})
		case drawing.HeadEnd:
			b.add(drawing.RoleDimension, drawing.Diameter{Label: diameterLabel(h.diameter), Radius: w,
				Angle: 50, Rank: 3})
		}
		h.slot.dimensions(b, dir, h.slot.half(), math.Sqrt(r*r-math.Pow(math.Min(h.slot.bottom(), -land)-c, 2)))
		if e := h.recess.extent(); h.recess.present() {
			h.recess.annotate(b, dir, c-math.Sqrt(r*r-e*e))
		}
	}
	return f
}

// Quantities returns the dimensions of the screw with their rules and sources.
func (p PanScrew) Quantities() ([]drawing.Quantity, error) { return boltQuantities(p) }

// View returns one view of the screw: front, side (the plan), head, point or
// isometric. The front view shows a slot as a notch; a cross recess is seen
// from the head only.
func (p PanScrew) View(dir drawing.Direction, opt Options) (drawing.View, error) {
	return boltView(p, dir, opt)
}
