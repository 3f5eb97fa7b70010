package fastener

import (
	"boltplate/drawing"
	"boltplate/thread"
)

// SquareNut is a square nut, thick or thin. Its origin is at the bearing face;
// the other face is chamfered.
type SquareNut struct {
	Thread thread.Thread
	Thin   bool
	Basis  Basis
}

func squareNutKind() KindInfo {
	return KindInfo{Name: "square-nut", Title: "square nut", Options: []Option{choice("form", "thick", "thin"), optBasis()}, Views: allViews(), Default: nutViews(),
		make: func(s Spec) Fastener {
			return SquareNut{Thread: s.Thread, Thin: is(s.Form, "thin"), Basis: s.Basis}
		}}
}

const (
	standardSquareNut     = "DIN 557"
	standardThinSquareNut = "DIN 562"
)

type squareNutRow struct{ d, s, m float64 }

// squareNutTable holds DIN 557 (product grade C): width across flats s and
// thickness m, mm. From memory, unverified.
func squareNutTable() []squareNutRow {
	return []squareNutRow{
		{5, 8, 4}, {6, 10, 5}, {8, 13, 6.5}, {10, 17, 8}, {12, 19, 10}, {16, 24, 13}, {20, 30, 16},
	}
}

// thinSquareNutTable holds DIN 562 (product grade B): width across flats s and
// thickness m, mm. From memory, unverified. Whether the standard chamfers its
// nuts is not known; they are drawn chamfered, as the thick ones.
func thinSquareNutTable() []squareNutRow {
	return []squareNutRow{{3, 5.5, 1.8}, {4, 7, 2.2}, {5, 8, 2.7}, {6, 10, 3.2}, {8, 13, 4}, {10, 17, 5}}
}

func (n SquareNut) table() (standard string, rows []squareNutRow) {
	if n.Thin {
		return standardThinSquareNut, thinSquareNutTable()
	}
	return standardSquareNut, squareNutTable()
}

// Kind returns "square-nut".
func (SquareNut) Kind() string { return "square-nut" }

// Designation returns for instance "Square nut M20" or "Square thin nut M10".
func (n SquareNut) Designation() string {
	title := "Square nut "
	if n.Thin {
		title = "Square thin nut "
	}
	standard, _ := n.table()
	return title + standardPrefix(n.Basis, n.Thread, standard, "") + n.Thread.String()
}

// Validate reports what is wrong with the description, as a *FieldError.
func (n SquareNut) Validate() error {
	_, err := n.resolve()
	return err
}

func (n SquareNut) resolve() (*nut, error) {
	kind := n.Kind()
	if err := checkCommon(kind, n.Thread, n.Basis, ByBasis, true); err != nil {
		return nil, err
	}
	d := n.Thread.D
	r := &nut{kind: kind, t: n.Thread}
	if n.Basis == Standard {
		standard, rows := n.table()
		std, err := editionFor(kind, n.Thread, standard, "")
		if err != nil {
			return nil, err
		}
		row, err := find(kind, std, rows, d, func(r squareNutRow) float64 { return r.d })
		if err != nil {
			return nil, err
		}
		source := standard + " (from memory, unverified)"
		r.widths = byFlats(4, drawing.Quantity{Rule: drawing.RuleTable, Value: row.s, Source: source, Status: drawing.FromMemory})
		r.height = drawing.Quantity{Rule: drawing.RuleTable, Value: row.m, Source: source, Status: drawing.FromMemory}
	} else {
		r.widths = squareByRule(d)
		r.height = drawing.Quantity{Rule: "D", Value: d, Source: "Low, Machine Drawing and Design (1887); " + textbooks, Status: drawing.Published}
		if n.Thin {
			r.height = drawing.Quantity{Rule: "0.5D", Value: 0.5 * d, Source: "common practice", Status: drawing.CommonPractice}
		}
	}
	r.height.Letter, r.height.Name = "H", "nut thickness"
	return r, nil
}

func (SquareNut) eighthTurn() bool { return true }

// Quantities returns the dimensions of the nut with their rules and sources.
func (n SquareNut) Quantities() ([]drawing.Quantity, error) { return nutQuantities(n) }

// View returns one view of the nut: front (on its corner), side (on its flat,
// turned by 45 degrees), head (on the bearing face), point (on the chamfered
// face) or isometric.
func (n SquareNut) View(dir drawing.Direction, opt Options) (drawing.View, error) {
	return nutView(n, dir, opt)
}
