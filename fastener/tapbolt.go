package fastener

import (
	"slices"

	"boltplate/drawing"
	"boltplate/thread"
)

// TapBolt is a bolt that is screwed into a tapped hole and carries no nut. Its
// head is hexagonal, or square where Square is set; its thread reaches nearly
// to the head. The trade calls the small ones screws.
type TapBolt struct {
	Thread  thread.Thread
	Length  float64 // under the head, mm
	Square  bool    // a square head
	Basis   Basis
	Governs Governs // of a hexagonal head
	Extra
}

func tapBoltKind() KindInfo {
	return KindInfo{Name: "tap-bolt", Title: "tap bolt, threaded to the head",
		Note:   "below about 10 mm the trade says screw, by common practice",
		Length: true, Views: allViews(), Default: boltViews(),
		Options: []Option{choice("form", "hex", "square"), optEnd(), optUndercut(), optBasis(), optGoverns()},
		variants: append(hexagonVariants(variant{word: "hex", families: hexHeadFamilies()}, headThickness),
			variant{word: "square", families: squareHeadFamilies(),
				groups: []*group{squareByFlats, squareChamfer, headThickness}}),
		make: func(s Spec) Fastener {
			return TapBolt{Thread: s.Thread, Length: s.Length, Square: is(s.Form, "square"), Basis: s.Basis,
				Governs: s.Governs, Extra: s.Extra}
		}}
}

// largestSquareScrew is the largest nominal diameter, mm, of the square-head
// screws, threaded to the head, of IS 2585 (from memory, unverified); its
// bolts go on to M36.
const largestSquareScrew = 24

// Kind returns "tap-bolt".
func (TapBolt) Kind() string { return "tap-bolt" }

// Designation returns for instance "Hexagon-head tap bolt M20 × 60" or, on
// basis Standard, "Hexagon-head tap bolt ISO 4017 - M20 × 60".
func (b TapBolt) Designation() string {
	title, coarse, fine := "Hexagon-head tap bolt ", standardHexScrew, standardFineHexScrew
	if b.Square {
		title, coarse, fine = "Square-head tap bolt ", standardSquareBolt, ""
	}
	return title + standardPrefix(b.Basis, b.Thread, coarse,
		fine) + b.Thread.String() + times(b.Length) + b.supplied()
}

// Validate reports what is wrong with the description, as a *FieldError.
func (b TapBolt) Validate() error {
	_, err := b.resolve()
	return err
}

func (b TapBolt) resolve() (*bolt, error) {
	kind := b.Kind()
	if err := checkCommon(kind, b.Thread, b.Basis, b.Governs, b.Square); err != nil {
		return nil, err
	}
	word := "hex"
	if b.Square {
		word = "square"
	}
	out := newBolt(kind, word, b.Extra, b.Thread)
	out.tapped = true
	if err := out.begin(b.Length, b.Basis, underHead); err != nil {
		return nil, err
	}
	var err error
	if b.Square {
		screws := squareHeads[:slices.IndexFunc(squareHeads,
			func(r prismRow) bool { return r.d > largestSquareScrew })]
		err = out.squareHead(b.Basis, screws)
	} else {
		_, err = out.hexHead(hexHead{basis: b.Basis, governs: b.Governs, coarse: standardHexScrew,
			fine:    standardFineHexScrew,
			columns: &columnsHexScrew, fineColumns: &columnsFineHexScrew})
	}
	if err != nil {
		return nil, err
	}
	return out, out.settle(wish{toHead: true, basis: b.Basis})
}

func (b TapBolt) eighthTurn() bool { return b.Square }

// Quantities returns the dimensions of the bolt with their rules and sources.
// By proportion the head is 2D across corners and 0.8D thick; other books make
// it 0.6D or 0.7D thick.
func (b TapBolt) Quantities() ([]drawing.Quantity, error) { return boltQuantities(b) }

// View returns one view of the bolt: front, side, head, point or isometric. The
// front view shows the head across corners. The side view of a square head
// shows it on its flat, turned by 45 degrees.
func (b TapBolt) View(dir drawing.Direction, opt Options) (drawing.View, error) {
	return boltView(b, dir, opt)
}
