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
// Standard, since that of ISO 8677 has one.
type CupBolt struct {
	Thread       thread.Thread
	Length       float64 // under the head, mm
	ThreadLength float64 // mm; 0 means by the rule
	Neck         Neck
	Basis        Basis
}

func cupBoltKind() KindInfo {
	return KindInfo{Name: "cup-bolt", Title: "cup-head bolt", Length: true, Views: allViews(), Default: boltViews(),
		Options: append(append([]Option{optThread(), choice("neck", "snug", "square", "plain")}, optNuts()...), optBasis()),
		make: func(s Spec) Fastener {
			return CupBolt{Thread: s.Thread, Length: s.Length, ThreadLength: s.ThreadLength, Neck: neckNamed(s.Neck), Basis: s.Basis}
		}}
}

const standardCupBolt = "ISO 8677:1986"

// cupHeadRow is a row of ISO 8677: greatest head diameter dk, head height k,
// side of neck v and length of neck f, and the radius of the head r, about; mm.
type cupHeadRow struct{ d, dk, k, v, f, r float64 }

// cupHeadTable holds ISO 8677:1986 (cup head square neck bolts with large
// head, as DIN 603). That of M10 was found in published tables only in part.
func cupHeadTable() []cupHeadRow {
	return []cupHeadRow{
		{5, 13.55, 3.3, 5.48, 4.1, 10.7},
		{6, 16.55, 3.88, 6.48, 4.6, 12.6},
		{8, 20.65, 4.88, 8.58, 5.6, 16},
		{10, 24.65, 5.38, 10.58, 6.6, 19.2},
		{12, 30.65, 6.95, 12.7, 8.75, 24.1},
		{16, 38.8, 8.95, 16.7, 12.9, 29.3},
		{20, 46.8, 11.05, 20.84, 15.9, 33.9},
	}
}

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
	return "Cup-head bolt" + c.neck().inTitle() + standardPrefix(c.Basis, c.Thread, standardCupBolt, "") + c.Thread.String() + times(c.Length)
}

// Validate reports what is wrong with the description, as a *FieldError.
func (c CupBolt) Validate() error {
	_, err := c.resolve()
	return err
}

// A cupHead is the head of a cup bolt: a part of a sphere on a cylindrical
// land, which the head by proportion does not have.
type cupHead struct{ diameter, height, radius, inset, land drawing.Quantity }

func (c CupBolt) resolve() (*bolt, error) {
	kind := c.Kind()
	if err := checkCommon(kind, c.Thread, c.Basis, ByBasis, false); err != nil {
		return nil, err
	}
	if err := checkNeck(kind, c.Neck, NeckSnug, NeckSquare, NeckPlain); err != nil {
		return nil, err
	}
	d := c.Thread.D
	var h cupHead
	var n neck
	var s snug
	if c.Basis == Standard {
		if c.neck() != NeckSquare {
			return nil, &FieldError{kind, "neck", c.neck().String(), "the bolt of ISO 8677 has a square neck; use it, or basis proportion"}
		}
		std, err := editionFor(kind, c.Thread, standardCupBolt, "")
		if err != nil {
			return nil, err
		}
		row, err := find(kind, std, cupHeadTable(), d, func(r cupHeadRow) float64 { return r.d })
		if err != nil {
			return nil, err
		}
		of := func(letter, name string, v float64, column string) drawing.Quantity {
			return drawing.Quantity{Letter: letter, Name: name, Rule: drawing.RuleTable, Value: v, Source: standardCupBolt + ", " + column, Status: drawing.Published}
		}
		h.diameter = of("d2", "head diameter", row.dk, "dk max")
		h.height = of("T", "head height", row.k, "k max")
		h.radius = of("R", "radius of the cup", row.r, "r, about")
		h.land = drawing.Quantity{Letter: "c", Name: "land under the cup", Rule: "T - f(R, d2)", Status: drawing.Derived,
			Value: row.k - row.r + math.Sqrt(row.r*row.r-row.dk*row.dk/4), Source: "follows from the height, the diameter and the radius: T - R + √(R² - d2²/4)"}
		n.side = of("S", "side of square neck", row.v, "v max")
		n.length = of("N", "length of square neck", row.f, "f max")
	} else {
		common := func(letter, name, rule string, k float64, status drawing.Status) drawing.Quantity {
			q := drawing.Quantity{Letter: letter, Name: name, Rule: rule, Value: k * d, Source: "common practice", Status: status}
			if status == drawing.Derived {
				q.Source = "follows from the radius and the inset: T = R - i, d2 = 2√(R² - i²)"
			}
			return q
		}
		h.radius = common("R", "radius of the cup", "0.8D", 0.8, drawing.CommonPractice)
		h.inset = common("i", "inset of the centre below the bearing face", "0.1D", 0.1, drawing.CommonPractice)
		h.height = common("T", "head height", "0.7D", 0.7, drawing.Derived)
		h.diameter = common("d2", "head diameter", "1.587D", 2*math.Sqrt(0.8*0.8-0.1*0.1), drawing.Derived)
		switch c.neck() {
		case NeckSnug:
			s = snugByRule(d)
		case NeckSquare:
			n = squareNeck(d)
		}
	}
	b := &bolt{kind: kind, neck: n, form: h.form(d, n, s)}
	return b, b.settle(c.Thread, c.Length, c.ThreadLength, false, c.Basis, standardCupBolt)
}

// form returns the head with the neck or the snug under it.
func (h cupHead) form(d float64, n neck, s snug) *form {
	t, r, land := h.height.Value, h.radius.Value, h.land.Value
	f := &form{end: -t, start: n.length.Value, origin: drawing.Pt(0, -h.diameter.Value/2)}
	f.quantities = []drawing.Quantity{h.diameter, h.height, h.radius}
	if h.land.Value > 0 {
		f.quantities = append(f.quantities, h.land)
	} else {
		f.quantities = append(f.quantities, h.inset)
	}
	if n.present() {
		f.quantities = append(f.quantities, n.side, n.length)
	}
	if s.present() {
		f.quantities = append(f.quantities, s.quantities()...)
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
			b.add(drawing.RoleDimension, drawing.Radius{Label: drawing.Label{Quantity: h.radius, Symbol: drawing.RadiusSymbol},
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
