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
}

// noteScrew is the remark on the names of small screws.
const noteScrew = "a machine screw: the trade does not say bolt, by common practice"

func cheeseScrewKind() KindInfo {
	return KindInfo{Name: "cheese-screw", Title: "slotted cheese-head screw", Note: noteScrew, Length: true, Views: allViews(), Default: boltViews(),
		Options: []Option{optThread(), optBasis()},
		make: func(s Spec) Fastener {
			return CheeseScrew{Thread: s.Thread, Length: s.Length, ThreadLength: s.ThreadLength, Basis: s.Basis}
		}}
}

const standardCheeseScrew = "ISO 1207:2011"

// machineScrewToHead is the nominal length, mm, up to which the screws of ISO
// 1207, 1580 and 7045 are threaded to the head (from memory, unverified).
const machineScrewToHead = 40

// slottedRow is a row of a standard of slotted heads: greatest diameter dk and
// height k of the head, nominal width n and least depth t of the slot; mm.
type slottedRow struct{ d, dk, k, n, t float64 }

func (r slottedRow) diameter() float64 { return r.d }

// cheeseHeadTable holds ISO 1207:2011; two published tables agree on each row.
func cheeseHeadTable() []slottedRow {
	return []slottedRow{
		{3, 5.5, 2, 0.8, 0.85},
		{4, 7, 2.6, 1.2, 1.1},
		{5, 8.5, 3.3, 1.2, 1.3},
		{6, 10, 3.9, 1.6, 1.6},
		{8, 13, 5, 2, 2},
		{10, 16, 6, 2.5, 2.4},
	}
}

// Kind returns "cheese-screw".
func (CheeseScrew) Kind() string { return "cheese-screw" }

// Designation returns for instance "Slotted cheese-head screw M6 × 20" or, on
// basis Standard, "Slotted cheese-head screw ISO 1207 - M6 × 20".
func (c CheeseScrew) Designation() string {
	return "Slotted cheese-head screw " + standardPrefix(c.Basis, c.Thread, standardCheeseScrew, "") + c.Thread.String() + times(c.Length)
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
	z := sizer{d: c.Thread.D, standard: standardCheeseScrew, status: drawing.Published}
	var h cylinderHead
	if c.Basis == Standard {
		std, err := editionFor(kind, c.Thread, standardCheeseScrew, "")
		if err != nil {
			return nil, err
		}
		row, err := find(kind, std, cheeseHeadTable(), z.d, slottedRow.diameter)
		if err != nil {
			return nil, err
		}
		h.diameter = z.table("d2", "head diameter", row.dk, "dk max")
		h.height = z.table("T", "head height", row.k, "k max")
		h.slot = z.slotByTable(row.n, row.t)
	} else {
		const narayana = "Narayana, Kannaiah and Reddy, Machine Drawing"
		h.diameter = z.rule("d2", "head diameter", "1.5D", 1.5, narayana)
		h.height = z.rule("T", "head height", "0.6D", 0.6, narayana)
		h.slot = z.slotByRule()
	}
	b := &bolt{kind: kind, form: h.form(), tapped: true, threadRule: machineScrewThread(z.d, machineScrewToHead, c.Basis, standardCheeseScrew)}
	return b, b.settle(c.Thread, c.Length, c.ThreadLength, false, c.Basis, standardCheeseScrew)
}

// Quantities returns the dimensions of the screw with their rules and sources.
func (c CheeseScrew) Quantities() ([]drawing.Quantity, error) { return boltQuantities(c) }

// View returns one view of the screw: front, side (the plan), head, point or
// isometric. The front view shows the slot as a notch.
func (c CheeseScrew) View(dir drawing.Direction, opt Options) (drawing.View, error) {
	return boltView(c, dir, opt)
}
