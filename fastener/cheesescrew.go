package fastener

import (
	"boltplate/drawing"
	"boltplate/thread"
)

// CheeseScrew is a screw with a cylindrical head, called a cheese head, and a
// slot in it. Up to 40 mm it is threaded to the head (30 mm at M3), longer ones
// as ISO 1207 or, by proportion, ISO 888 has it, unless ThreadLength says
// otherwise.
type CheeseScrew struct {
	Thread       thread.Thread
	Length       float64 // under the head, mm
	ThreadLength float64 // mm; 0 means by the rule
	Basis        Basis
	Extra
}

// noteScrew is the remark on the names of small screws.
const noteScrew = "a machine screw: the trade does not say bolt, by common practice"

func cheeseScrewKind() KindInfo {
	return KindInfo{Name: "cheese-screw", Title: "slotted cheese-head screw", Note: noteScrew, Length: true,
		Views: allViews(), Default: boltViews(),
		Options: []Option{optThread(), optEnd(), optBasis()},
		variants: []variant{{families: []string{familyScrews}, groups: []*group{cheeseScrewRules, slotRules},
			thread: byISO888}},
		how: map[stage]string{
			stageShape: "Draw the circle of the head, and the slot as two lines through it to either side of the axis",
			stageHead:  "Draw the head on the bearing face, a rectangle as wide as its diameter; sink the slot from the top"},
		make: func(s Spec) Fastener {
			return CheeseScrew{Thread: s.Thread, Length: s.Length, ThreadLength: s.ThreadLength, Basis: s.Basis,
				Extra: s.Extra}
		}}
}

const standardCheeseScrew = "ISO 1207:2011"

// machineScrewToHead is the nominal length, mm, up to which the screws of ISO
// 1207, 1580 and 7045 are threaded to the head (from memory, unverified).
const machineScrewToHead = 40

// cheeseScrewRules are the sizes of the head.
var cheeseScrewRules = groupOf(
	published("d2", nameHead, "1.5D", narayana),
	published("T", nameHeadHeight, "0.6D", narayana))

// cheeseScrews holds ISO 1207:2011. Two published tables agree on the head, and
// one has the slot; M3.5 was found in one.
var cheeseScrews = slotted(standardCheeseScrew, "t min", []slottedRow{
	{3, 5.5, 2, 0.8, 0.85, isPublished},
	{3.5, 6, 2.4, 1, 1, isPublished},
	{4, 7, 2.6, 1.2, 1.1, isPublished},
	{5, 8.5, 3.3, 1.2, 1.3, isPublished},
	{6, 10, 3.9, 1.6, 1.6, isPublished},
	{8, 13, 5, 2, 2, isPublished},
	{10, 16, 6, 2.5, 2.4, isPublished},
})

// Kind returns "cheese-screw".
func (CheeseScrew) Kind() string { return "cheese-screw" }

// Designation returns for instance "Slotted cheese-head screw M6 × 20" or, on
// basis Standard, "Slotted cheese-head screw ISO 1207 - M6 × 20".
func (c CheeseScrew) Designation() string {
	return "Slotted cheese-head screw " + standardPrefix(c.Basis, c.Thread, standardCheeseScrew,
		"") + c.Thread.String() + times(c.Length) + c.supplied()
}

// Validate reports what is wrong with the description, as a *FieldError.
func (c CheeseScrew) Validate() error {
	_, err := c.resolve()
	return err
}

func (c CheeseScrew) resolve() (*bolt, error) {
	kind := c.Kind()
	if err := checkCommon(kind, c.Thread, c.Basis, ByBasis, false); err != nil {
		return nil, err
	}
	b := newBolt(kind, "", c.Extra, c.Thread)
	b.tapped = true
	if err := b.begin(c.Length, c.Basis, underHead); err != nil {
		return nil, err
	}
	z := &b.z
	var column *size
	if c.Basis == Standard {
		column = cheeseScrews.thread
		if err := cheeseScrews.use(z, c.Thread); err != nil {
			return nil, err
		}
	} else {
		z.use(cheeseScrewRules)
		z.use(slotRules)
		if err := z.solve(); err != nil {
			return nil, err
		}
		if err := z.needs("d2", "D"); err != nil {
			return nil, err
		}
	}
	h := cylinderHead{diameter: z.size("d2"), height: z.size("T")}
	var err error
	if h.slot, err = z.slot(h.height.Value, h.diameter.Value/2); err != nil {
		return nil, err
	}
	b.form = h.form()
	b.fits.Head = HeadFit{Height: h.height.Value, Diameter: h.diameter.Value}
	by := machineScrewThread(c.Thread.D, machineScrewToHead, column, isPublished)
	return b, b.settle(wish{given: c.ThreadLength, basis: c.Basis, standard: standardCheeseScrew, by: by})
}

// Quantities returns the dimensions of the screw with their rules and sources.
func (c CheeseScrew) Quantities() ([]drawing.Quantity, error) { return boltQuantities(c) }

// View returns one view of the screw: front, side (the plan), head, point or
// isometric. The front view shows the slot as a notch.
func (c CheeseScrew) View(dir drawing.Direction, opt Options) (drawing.View, error) {
	return boltView(c, dir, opt)
}
