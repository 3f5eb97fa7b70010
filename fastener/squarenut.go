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
	Extra
}

func squareNutKind() KindInfo {
	return KindInfo{Name: "square-nut", Title: "square nut",
		Options: []Option{choice("form", "thick", "thin"), optBasis()}, Views: allViews(), Default: nutViews(),
		variants: []variant{
			{word: "thick", families: squareNutFamilies(), groups: []*group{squareByFlats, squareChamfer,
				squareNutThickness}},
			{word: "thin", families: squareNutFamilies(), groups: []*group{squareByFlats, squareChamfer,
				thinSquareNutThickness}},
		},
		make: func(s Spec) Fastener {
			return SquareNut{Thread: s.Thread, Thin: is(s.Form, "thin"), Basis: s.Basis, Extra: s.Extra}
		}}
}

const (
	standardSquareNut     = "DIN 557"
	standardThinSquareNut = "DIN 562"
)

// squareNuts holds DIN 557 (product grade C). From memory, unverified.
var squareNuts = []prismRow{
	{d: 5, s: 8, m: 4, status: isMemory}, {d: 6, s: 10, m: 5, status: isMemory},
	{d: 8, s: 13, m: 6.5, status: isMemory},
	{d: 10, s: 17, m: 8, status: isMemory}, {d: 12, s: 19, m: 10, status: isMemory},
	{d: 16, s: 24, m: 13, status: isMemory},
	{d: 20, s: 30, m: 16, status: isMemory},
}

// thinSquareNuts holds DIN 562 (product grade B). From memory, unverified.
// Whether the standard chamfers its nuts is not known; they are drawn chamfered,
// as the thick ones.
var thinSquareNuts = []prismRow{
	{d: 3, s: 5.5, m: 1.8, status: isMemory}, {d: 4, s: 7, m: 2.2, status: isMemory},
	{d: 5, s: 8, m: 2.7, status: isMemory},
	{d: 6, s: 10, m: 3.2, status: isMemory}, {d: 8, s: 13, m: 4, status: isMemory},
	{d: 10, s: 17, m: 5, status: isMemory},
}

// The thickness of square nuts.
var (
	squareNutThickness     = groupOf(published("H", nameNutThickness, "D", low))
	thinSquareNutThickness = groupOf(practice("H", nameNutThickness, "0.5D"))
)

var (
	columnsSquareNut = columnsOf(4, standardSquareNut, "",
		column("H", nameNutThickness, standardSquareNut+", m"))
	columnsThinSquareNut = columnsOf(4, standardThinSquareNut, "",
		column("H", nameNutThickness, standardThinSquareNut+", m"))
)

// A squareNutForm is what tells a thick square nut from a thin one.
type squareNutForm struct {
	word     string
	standard string
	rows     []prismRow
	columns  *prismColumns
	rule     *group
}

func (n SquareNut) form() squareNutForm {
	if n.Thin {
		return squareNutForm{"thin", standardThinSquareNut, thinSquareNuts, &columnsThinSquareNut,
			thinSquareNutThickness}
	}
	return squareNutForm{"thick", standardSquareNut, squareNuts, &columnsSquareNut, squareNutThickness}
}

// Kind returns "square-nut".
func (SquareNut) Kind() string { return "square-nut" }

// Designation returns for instance "Square nut M20" or "Square thin nut M10".
func (n SquareNut) Designation() string {
	title := "Square nut "
	if n.Thin {
		title = "Square thin nut "
	}
	return title + standardPrefix(n.Basis, n.Thread, n.form().standard, "") + n.Thread.String() + n.supplied()
}

// Validate reports what is wrong with the description, as a *FieldError.
func (n SquareNut) Validate() error {
	_, err := n.resolve()
	return err
}

func (n SquareNut) resolve() (*nut, error) {
	kind, f := n.Kind(), n.form()
	if err := checkCommon(kind, n.Thread, n.Basis, ByBasis, true); err != nil {
		return nil, err
	}
	r := newNut(kind, f.word, n.Extra, n.Thread)
	if n.Basis == Standard {
		std, err := editionFor(kind, n.Thread, f.standard, "")
		if err != nil {
			return nil, err
		}
		row, err := find(kind, std, f.rows, n.Thread.D)
		if err != nil {
			return nil, err
		}
		r.z.widthsByTable(4, f.columns, row, row.status)
		r.z.heightByTable(f.columns, row, row.status)
	} else {
		r.z.square()
		r.z.use(f.rule)
	}
	var err error
	if r.widths, err = r.z.prism(4); err != nil {
		return nil, err
	}
	return r, r.finish()
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
