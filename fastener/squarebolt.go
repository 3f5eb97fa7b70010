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
	Extra
}

func squareBoltKind() KindInfo {
	return KindInfo{Name: "square-bolt", Title: "square-head bolt", Length: true, Views: allViews(),
		Default: boltViews(),
		Options: append(append([]Option{optThread(), optEnd(), choice("neck", "square")}, optNuts()...), optBasis()),
		variants: []variant{{families: squareHeadFamilies(),
			groups: []*group{squareByFlats, squareChamfer, headThickness, squareNeck}, thread: byISO888}},
		make: func(s Spec) Fastener {
			return SquareBolt{Thread: s.Thread, Length: s.Length, ThreadLength: s.ThreadLength,
				SquareNeck: s.Neck != "", Basis: s.Basis, Extra: s.Extra}
		}}
}

const standardSquareBolt = "IS 2585:2006"

// squareHeads holds IS 2585:2006 (grade C): side of the head, nominal and least,
// and its thickness. From memory, unverified.
var squareHeads = []prismRow{
	{d: 6, s: 10, sMin: 9.64, m: 4, status: isMemory}, {d: 8, s: 13, sMin: 12.57, m: 5.3, status: isMemory},
	{d: 10, s: 16, sMin: 15.57, m: 6.4, status: isMemory}, {d: 12, s: 18, sMin: 17.57, m: 7.5, status: isMemory},
	{d: 16, s: 24, sMin: 23.16, m: 10, status: isMemory}, {d: 20, s: 30, sMin: 29.16, m: 12.5, status: isMemory},
	{d: 24, s: 36, sMin: 35, m: 15, status: isMemory}, {d: 30, s: 46, sMin: 45, m: 18.7, status: isMemory},
	{d: 36, s: 55, sMin: 53.8, m: 22.5, status: isMemory},
}

var columnsSquareBolt = columnsOf(4, standardSquareBolt, "",
	column("T", headThickness.sizes[0].name, standardSquareBolt+", k nominal"))

// Kind returns "square-bolt".
func (SquareBolt) Kind() string { return "square-bolt" }

// Designation returns for instance "Square-head bolt, square neck, M20 × 90".
func (s SquareBolt) Designation() string {
	title := "Square-head bolt "
	if s.SquareNeck {
		title = "Square-head bolt, square neck, "
	}
	return title + standardPrefix(s.Basis, s.Thread, standardSquareBolt,
		"") + s.Thread.String() + times(s.Length) + s.supplied()
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
	b := newBolt(kind, "", s.Extra, s.Thread)
	if err := b.begin(s.Length, s.Basis, underHead); err != nil {
		return nil, err
	}
	if err := b.squareHead(s.Basis, squareHeads); err != nil {
		return nil, err
	}
	if s.SquareNeck {
		if err := b.squareNeck(squareNeck); err != nil {
			return nil, err
		}
	}
	return b, b.settle(wish{given: s.ThreadLength, basis: s.Basis, standard: standardSquareBolt})
}

// squareHead gives the bolt a square head; on basis Standard it is one of the
// table.
func (b *bolt) squareHead(basis Basis, table []prismRow) error {
	if basis == Standard {
		std, err := editionFor(b.kind, b.shank.t, standardSquareBolt, "")
		if err != nil {
			return err
		}
		row, err := find(b.kind, std, table, b.shank.t.D)
		if err != nil {
			return err
		}
		b.z.widthsByTable(4, &columnsSquareBolt, row, row.status)
		b.z.heightByTable(&columnsSquareBolt, row, row.status)
	} else {
		b.z.square()
		b.z.use(headThickness)
	}
	return b.prismHead(4)
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
