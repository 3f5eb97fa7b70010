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
}

func panScrewKind() KindInfo {
	return KindInfo{Name: "pan-screw", Title: "pan-head screw", Note: noteScrew, Length: true, Views: allViews(), Default: boltViews(),
		Options: []Option{choice("form", "slotted", "cross"), optThread(), optBasis()},
		make: func(s Spec) Fastener {
			return PanScrew{Thread: s.Thread, Length: s.Length, ThreadLength: s.ThreadLength, Cross: is(s.Form, "cross"), Basis: s.Basis}
		}}
}

const (
	standardPanScrew      = "ISO 1580:2011"
	standardCrossPanScrew = "ISO 7045:2011"
)

// panHeadTable holds ISO 1580:2011, slotted pan heads. From memory,
// unverified.
func panHeadTable() []slottedRow {
	return []slottedRow{
		{3, 5.6, 1.8, 0.8, 0.7},
		{4, 8, 2.4, 1.2, 1},
		{5, 9.5, 3, 1.2, 1.2},
		{6, 12, 3.6, 1.6, 1.4},
		{8, 16, 4.8, 2, 1.9},
		{10, 20, 6, 2.5, 2.4},
	}
}

// crossPanRow is a row of ISO 7045: greatest diameter dk and height k of the
// head, radius of its crown rf, about, span m and greatest depth q of the
// recess of type H; mm.
type crossPanRow struct{ d, dk, k, rf, m, q float64 }

// crossPanTable holds ISO 7045:2011, pan heads with a cross recess. Of each row
// dk and k were found in one published table; rf, m and q are from memory,
// unverified.
func crossPanTable() []crossPanRow {
	return []crossPanRow{
		{3, 5.6, 2.4, 5, 3, 1.8},
		{4, 8, 3.1, 6.5, 4.4, 2.4},
		{5, 9.5, 3.7, 8, 4.9, 2.9},
		{6, 12, 4.6, 10, 6.9, 3.6},
		{8, 16, 6, 13, 9, 4.6},
		{10, 20, 7.5, 16, 10.1, 5.8},
	}
}

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
	return title + standardPrefix(p.Basis, p.Thread, p.standard(), "") + p.Thread.String() + times(p.Length)
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

// crownOfPan is the radius of the crown as a part of the head's diameter.
const crownOfPan = 0.8

func (p PanScrew) resolve() (*bolt, error) {
	kind := p.Kind()
	if err := checkCommon(kind, p.Thread, p.Basis, ByBasis, false); err != nil {
		return nil, err
	}
	z := sizer{d: p.Thread.D, standard: p.standard(), status: drawing.Published}
	memory := sizer{d: p.Thread.D, standard: p.standard(), status: drawing.FromMemory}
	var h panHead
	if p.Basis == Standard {
		std, err := editionFor(kind, p.Thread, p.standard(), "")
		if err != nil {
			return nil, err
		}
		if p.Cross {
			row, err := find(kind, std, crossPanTable(), z.d, func(r crossPanRow) float64 { return r.d })
			if err != nil {
				return nil, err
			}
			h.diameter, h.height = z.table("d2", "head diameter", row.dk, "dk max"), z.table("T", "head height", row.k, "k max")
			h.radius = memory.table("R", "radius of the crown", row.rf, "rf, about")
			h.recess = recess{span: memory.table("m", "span of the cross recess", row.m, "m, type H"), depth: memory.table("q", "depth of the cross recess", row.q, "penetration max, type H")}
		} else {
			row, err := find(kind, std, panHeadTable(), z.d, slottedRow.diameter)
			if err != nil {
				return nil, err
			}
			h.diameter, h.height = memory.table("d2", "head diameter", row.dk, "dk max"), memory.table("T", "head height", row.k, "k max")
			h.slot = memory.slotByTable(row.n, row.t)
		}
	} else {
		h.diameter = z.rule("d2", "head diameter", "2D", 2, "")
		if p.Cross {
			h.height = z.rule("T", "head height", "0.75D", 0.75, "")
			h.recess = recess{span: z.rule("m", "span of the cross recess", "D", 1, ""), depth: z.rule("q", "depth of the cross recess", "0.5D", 0.5, "")}
		} else {
			h.height = z.rule("T", "head height", "0.6D", 0.6, "")
			h.slot = z.slotByRule()
		}
	}
	if h.radius.Value == 0 {
		h.radius = drawing.Quantity{Letter: "R", Name: "radius of the crown", Rule: "0.8d2", Value: crownOfPan * h.diameter.Value,
			Source: "common practice", Status: drawing.CommonPractice}
	}
	if p.Cross {
		h.recess.width = drawing.Quantity{Letter: "w", Name: "width of the arms of the cross recess", Rule: "0.25m", Value: 0.25 * h.recess.span.Value,
			Source: "common practice, simplified", Status: drawing.CommonPractice}
	}
	b := &bolt{kind: kind, form: h.form(), tapped: true, threadRule: machineScrewThread(z.d, machineScrewToHead, p.Basis, p.standard())}
	return b, b.settle(p.Thread, p.Length, p.ThreadLength, false, p.Basis, p.standard())
}

// form returns the head. The rim of a slot is as high as the head, and the
// crown without the slot would be a little higher.
func (h panHead) form() *form {
	t, w, r := h.height.Value, h.diameter.Value/2, h.radius.Value
	h.slot.x, h.recess.x = -t, -t
	c := h.slot.reach(r) - t // of the centre of the crown
	land := math.Sqrt(r*r-w*w) - c
	h.land = drawing.Quantity{Letter: "c", Name: "land under the crown", Rule: "follows from the height, the diameter and the radius", Value: land,
		Source: "follows from the head", Status: drawing.Derived}
	f := &form{end: -t, origin: drawing.Pt(0, -w), quantities: []drawing.Quantity{h.diameter, h.height, h.radius, h.land}}
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
	f.quantities = append(f.quantities, h.slot.quantities()...)
	f.quantities = append(f.quantities, h.recess.quantities()...)
	f.annotate = func(b *builder, dir drawing.Direction, rank drawing.Rank) {
		switch dir {
		case drawing.Front, drawing.SideView:
			b.linear(drawing.Below, rank, label(h.height), -t, 0, 0, -w)
			b.linear(drawing.Left, rank, diameterLabel(h.diameter), -land, -w, -land, w)
			at := func(y float64) float64 { return 180 - math.Asin(y/r)*180/math.Pi }
			b.add(drawing.RoleDimension, drawing.Radius{Label: drawing.Label{Quantity: h.radius, Symbol: drawing.RadiusSymbol},
				Center: drawing.Pt(c, 0), Radius: r, Angle: at(0.7 * w), Start: at(w), End: at(0.3 * w), Rank: rank})
		case drawing.HeadEnd:
			b.add(drawing.RoleDimension, drawing.Diameter{Label: diameterLabel(h.diameter), Radius: w, Angle: 50, Rank: 3})
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
