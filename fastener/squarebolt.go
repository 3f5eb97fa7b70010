package fastener

import (
	"boltplate/drawing"
	"boltplate/thread"
)

// SquareBolt is a square-head bolt, with or without a square neck under the
// head. The zero ThreadLength means that of ISO 888.
type SquareBolt struct {
	Thread       thread.Thread
	Length       float64 // under the head, mm
	ThreadLength float64 // mm; 0 means by the rule
	SquareNeck   bool
	Basis        Basis
}

func squareBoltKind() KindInfo {
	return KindInfo{Name: "square-bolt", Title: "square-head bolt", Length: true, Views: allViews(), Default: boltViews(),
		Options: append(append([]Option{optThread(), choice("neck", "square")}, optNuts()...), optBasis()),
		make: func(s Spec) Fastener {
			return SquareBolt{Thread: s.Thread, Length: s.Length, ThreadLength: s.ThreadLength, SquareNeck: s.Neck != "", Basis: s.Basis}
		}}
}

const standardSquareBolt = "IS 2585:2006"

type squareHeadRow struct{ d, s, k float64 }

// squareHeadTable holds IS 2585:2006 (grade C): side s and thickness k of the
// head, mm. From memory, unverified.
func squareHeadTable() []squareHeadRow {
	return []squareHeadRow{
		{6, 10, 4}, {8, 13, 5.3}, {10, 16, 6.4}, {12, 18, 7.5}, {16, 24, 10}, {20, 30, 12.5}, {24, 36, 15}, {30, 46, 18.7}, {36, 55, 22.5},
	}
}

// Kind returns "square-bolt".
func (SquareBolt) Kind() string { return "square-bolt" }

// Designation returns for instance "Square-head bolt, square neck, M20 × 90".
func (s SquareBolt) Designation() string {
	title := "Square-head bolt "
	if s.SquareNeck {
		title = "Square-head bolt, square neck, "
	}
	return title + standardPrefix(s.Basis, s.Thread, standardSquareBolt, "") + s.Thread.String() + times(s.Length)
}

// Validate reports what is wrong with the description, as a *FieldError.
func (s SquareBolt) Validate() error {
	_, err := s.resolve()
	return err
}

func (s SquareBolt) resolve() (*bolt, error) {
	kind := s.Kind()
	if err := checkCommon(kind, s.Thread, s.Basis, ByBasis, true); err != nil {
		return nil, err
	}
	w, head, err := squareHead(kind, s.Thread, s.Basis, squareHeadTable())
	if err != nil {
		return nil, err
	}
	b := &bolt{kind: kind, widths: w, head: head}
	if s.SquareNeck {
		b.neck = squareNeck(s.Thread.D)
	}
	return b, b.settle(s.Thread, s.Length, s.ThreadLength, false, s.Basis, standardSquareBolt)
}

// squareHead returns the widths and the thickness of a square head; on basis
// Standard it is one of the table.
func squareHead(kind string, t thread.Thread, basis Basis, table []squareHeadRow) (widths, drawing.Quantity, error) {
	head := headByRule(t.D)
	if basis != Standard {
		return squareByRule(t.D), head, nil
	}
	std, err := editionFor(kind, t, standardSquareBolt, "")
	if err != nil {
		return widths{}, head, err
	}
	row, err := find(kind, std, table, t.D, func(r squareHeadRow) float64 { return r.d })
	if err != nil {
		return widths{}, head, err
	}
	source := standardSquareBolt + " (from memory, unverified)"
	head.Rule, head.Value, head.Source, head.Status = drawing.RuleTable, row.k, source, drawing.FromMemory
	return byFlats(4, drawing.Quantity{Rule: drawing.RuleTable, Value: row.s, Source: source, Status: drawing.FromMemory}), head, nil
}

func (SquareBolt) eighthTurn() bool { return true }

// Quantities returns the dimensions of the bolt with their rules and sources.
func (s SquareBolt) Quantities() ([]drawing.Quantity, error) { return boltQuantities(s) }

// View returns one view of the bolt: front, side, head, point or isometric. The front
// view shows the head on its corner; the side view shows it on its flat, turned
// by 45 degrees.
func (s SquareBolt) View(dir drawing.Direction, opt Options) (drawing.View, error) {
	return boltView(s, dir, opt)
}
