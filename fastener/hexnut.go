package fastener

import (
	"boltplate/drawing"
	"boltplate/thread"
)

// HexNut is a hexagonal nut, full or thin. Its origin is at the bearing face;
// the other face is chamfered. A thin nut, which may be put on either way
// round, is chamfered on both. On basis Standard the sizes are those of ISO 4032
// and ISO 4035; with OldWidths the width across flats is that of the older
// DIN 934, which differs for M10, M12, M14 and M22, and the rest stays.
type HexNut struct {
	Thread    thread.Thread
	Thin      bool
	Basis     Basis
	Governs   Governs
	OldWidths bool // on basis Standard: the widths across flats of DIN 934
	Extra
}

func hexNutKind() KindInfo {
	return KindInfo{Name: "hex-nut", Title: "hexagonal nut",
		Options: []Option{optBasis(), optGoverns(), optWidths()}, Views: allViews(), Default: nutViews(),
		variants: hexagonVariants(variant{families: hexNutFamilies()}, nutThickness),
		make: func(s Spec) Fastener {
			return HexNut{Thread: s.Thread, Basis: s.Basis, Governs: s.Governs, OldWidths: oldWidths(s),
				Extra: s.Extra}
		}}
}

func thinNutKind() KindInfo {
	return KindInfo{Name: "thin-nut", Title: "hexagonal thin nut",
		Options: []Option{optBasis(), optGoverns(), optWidths()}, Views: allViews(), Default: nutViews(),
		variants: hexagonVariants(variant{families: hexNutFamilies()}, thinNutThickness),
		make: func(s Spec) Fastener {
			return HexNut{Thread: s.Thread, Thin: true, Basis: s.Basis, Governs: s.Governs, OldWidths: oldWidths(s),
				Extra: s.Extra}
		}}
}

const (
	standardHexNut  = "ISO 4032:2012"
	standardThinNut = "ISO 4035:2012"

	standardFineHexNut  = "ISO 8673:2012"
	standardFineThinNut = "ISO 8675:2012"

	standardOldHexNut = "DIN 934"
)

// hexNuts holds ISO 4032:2012 (style 1), whose nominal thickness is the greatest
// one.
var hexNuts = []prismRow{
	{3, 5.5, 5.32, 6.01, 2.4, 2.15, 2.4, 4.6, isPublished},
	{4, 7, 6.78, 7.66, 3.2, 2.9, 3.2, 5.9, isPublished},
	{5, 8, 7.78, 8.79, 4.7, 4.4, 4.7, 6.9, isPublished},
	{6, 10, 9.78, 11.05, 5.2, 4.9, 5.2, 8.9, isPublished},
	{8, 13, 12.73, 14.38, 6.8, 6.44, 6.8, 11.6, isPublished},
	{10, 16, 15.73, 17.77, 8.4, 8.04, 8.4, 14.6, isPublished},
	{12, 18, 17.73, 20.03, 10.8, 10.37, 10.8, 16.6, isPublished},
	{14, 21, 20.67, 23.35, 12.8, 12.1, 12.8, 19.6, isPublished},
	{16, 24, 23.67, 26.75, 14.8, 14.1, 14.8, 22.5, isPublished},
	{18, 27, 26.16, 29.56, 15.8, 15.1, 15.8, 24.9, isPublished},
	{20, 30, 29.16, 32.95, 18, 16.9, 18, 27.7, isPublished},
	{22, 34, 33, 37.29, 19.4, 18.1, 19.4, 31.4, isPublished},
	{24, 36, 35, 39.55, 21.5, 20.2, 21.5, 33.3, isPublished},
	{27, 41, 40, 45.2, 23.8, 22.5, 23.8, 38, isPublished},
	{30, 46, 45, 50.85, 25.6, 24.3, 25.6, 42.8, isPublished},
	{33, 50, 49, 55.37, 28.7, 27.4, 28.7, 46.6, isPublished},
	{36, 55, 53.8, 60.79, 31, 29.4, 31, 51.1, isPublished},
	{39, 60, 58.8, 66.44, 33.4, 31.8, 33.4, 55.9, isPublished},
	{42, 65, 63.1, 71.3, 34, 32.4, 34, 60, isPublished},
	{45, 70, 68.1, 76.95, 36, 34.4, 36, 64.7, isPublished},
	{48, 75, 73.1, 82.6, 38, 36.4, 38, 69.5, isPublished},
	{52, 80, 78.1, 88.25, 42, 40.4, 42, 74.2, isPublished},
	{56, 85, 82.8, 93.56, 45, 43.4, 45, 78.7, isPublished},
	{60, 90, 87.8, 99.21, 48, 46.4, 48, 83.4, isPublished},
	{64, 95, 92.8, 104.86, 51, 49.1, 51, 88.2, isPublished},
}

// thinHexNuts holds ISO 4035:2012 (thin, style 0).
var thinHexNuts = []prismRow{
	{3, 5.5, 5.32, 6.01, 1.8, 1.55, 1.8, 4.6, isPublished},
	{4, 7, 6.78, 7.66, 2.2, 1.95, 2.2, 5.9, isPublished},
	{5, 8, 7.78, 8.79, 2.7, 2.45, 2.7, 6.9, isPublished},
	{6, 10, 9.78, 11.05, 3.2, 2.9, 3.2, 8.9, isPublished},
	{8, 13, 12.73, 14.38, 4, 3.7, 4, 11.6, isPublished},
	{10, 16, 15.73, 17.77, 5, 4.7, 5, 14.6, isPublished},
	{12, 18, 17.73, 20.03, 6, 5.7, 6, 16.6, isPublished},
	{14, 21, 20.67, 23.35, 7, 6.42, 7, 19.6, isPublished},
	{16, 24, 23.67, 26.75, 8, 7.42, 8, 22.5, isPublished},
	{18, 27, 26.16, 29.56, 9, 8.42, 9, 24.9, isPublished},
	{20, 30, 29.16, 32.95, 10, 9.1, 10, 27.7, isPublished},
	{22, 34, 33, 37.29, 11, 9.9, 11, 31.4, isPublished},
	{24, 36, 35, 39.55, 12, 10.9, 12, 33.3, isPublished},
	{27, 41, 40, 45.2, 13.5, 12.4, 13.5, 38, isPublished},
	{30, 46, 45, 50.85, 15, 13.9, 15, 42.8, isPublished},
	{33, 50, 49, 55.37, 16.5, 15.4, 16.5, 46.6, isPublished},
	{36, 55, 53.8, 60.79, 18, 16.9, 18, 51.1, isPublished},
	{39, 60, 58.8, 66.44, 19.5, 18.2, 19.5, 55.9, isPublished},
	{42, 65, 63.1, 71.3, 21, 19.7, 21, 60, isPublished},
	{45, 70, 68.1, 76.95, 22.5, 21.2, 22.5, 64.7, isPublished},
	{48, 75, 73.1, 82.6, 24, 22.7, 24, 69.5, isPublished},
	{52, 80, 78.1, 88.25, 26, 24.7, 26, 74.2, isPublished},
	{56, 85, 82.8, 93.56, 28, 26.7, 28, 78.7, isPublished},
	{60, 90, 87.8, 99.21, 30, 28.7, 30, 83.4, isPublished},
	{64, 95, 92.8, 104.86, 32, 30.4, 32, 88.2, isPublished},
}

// oldNutWidths are the widths across flats of DIN 934 where they differ from
// those of ISO. Two published tables agree.
var oldNutWidths = []struct{ d, s float64 }{{10, 17}, {12, 19}, {14, 22}, {22, 32}}

const nameNutThickness = "nut thickness"

// The thickness of nuts.
var (
	nutThickness     = groupOf(practice("H", nameNutThickness, "D"))
	thinNutThickness = groupOf(published("H", nameNutThickness, "2/3 D", narayana))
)

// Columns of the standards of hexagonal nuts.
var (
	columnsHexNut      = nutColumns(standardHexNut, "")
	columnsThinNut     = nutColumns(standardThinNut, "")
	columnsFineHexNut  = nutColumns(standardFineHexNut, "; sizes as ISO 4032")
	columnsFineThinNut = nutColumns(standardFineThinNut, "; sizes as ISO 4035")
	columnOldNutWidth  = column("W", nameFlats, standardOldHexNut+", s nominal").governing()
)

func nutColumns(standard, note string) prismColumns {
	return columnsOf(6, standard, note, column("H", nameNutThickness, standard+", m max"+note))
}

// standards returns the standard for coarse and the one for fine threads.
func (n HexNut) standards() (coarse, fine string) {
	if n.Thin {
		return standardThinNut, standardFineThinNut
	}
	return standardHexNut, standardFineHexNut
}

// Kind returns "hex-nut" or "thin-nut".
func (n HexNut) Kind() string {
	if n.Thin {
		return "thin-nut"
	}
	return "hex-nut"
}

// Designation returns for instance "Hexagon nut M20" or, on basis Standard,
// "Hexagon nut ISO 4032 - M20".
func (n HexNut) Designation() string {
	title := "Hexagon nut "
	if n.Thin {
		title = "Hexagon thin nut "
	}
	coarse, fine := n.standards()
	s := title + standardPrefix(n.Basis, n.Thread, coarse, fine) + n.Thread.String()
	if w := n.oldWidth(); w != 0 {
		s += ", " + mm(w) + " across flats as " + standardOldHexNut
	}
	return s + n.supplied()
}

// oldWidth returns the width across flats of DIN 934 where it is asked for and
// differs from that of ISO, else 0.
func (n HexNut) oldWidth() float64 {
	if n.OldWidths && n.Basis == Standard {
		for _, r := range oldNutWidths {
			if r.d == n.Thread.D {
				return r.s
			}
		}
	}
	return 0
}

// Validate reports what is wrong with the description, as a *FieldError.
func (n HexNut) Validate() error {
	_, err := n.resolve()
	return err
}

func (n HexNut) resolve() (*nut, error) {
	r, row, err := n.hexagon(n.Kind(), "")
	if err != nil {
		return nil, err
	}
	r.bothFaces = n.Thin
	if row.rule {
		r.z.use(n.thickness())
	} else {
		r.z.heightByTable(row.columns, &row.prismRow, row.status)
	}
	return r, r.finish()
}

func (n HexNut) thickness() *group {
	if n.Thin {
		return thinNutThickness
	}
	return nutThickness
}

// A nutRow is where the sizes of a hexagonal nut come from: rules, or a row of
// the standard that has it.
type nutRow struct {
	prismRow
	rule    bool
	columns *prismColumns
}

// hexagon returns a nut of the given kind with the hexagon of this one. word is
// what tells the variant of the kind from others.
func (n HexNut) hexagon(kind, word string) (*nut, nutRow, error) {
	if err := checkCommon(kind, n.Thread, n.Basis, n.Governs, false); err != nil {
		return nil, nutRow{}, err
	}
	r := newNut(kind, word, n.Extra, n.Thread)
	row := nutRow{rule: n.Basis != Standard}
	if row.rule {
		if n.OldWidths {
			return nil, row, &FieldError{kind, "widths", "din", "belongs to basis standard; leave it out"}
		}
		r.z.hexagon(n.Governs)
	} else {
		var err error
		if row, err = n.row(kind); err != nil {
			return nil, row, err
		}
		r.z.widthsByTable(6, row.columns, &row.prismRow, row.status)
	}
	var err error
	r.widths, err = r.z.prism(6)
	return r, row, err
}

// row returns the row of the standard that has the nut.
func (n HexNut) row(kind string) (nutRow, error) {
	coarse, fine := n.standards()
	std, err := editionFor(kind, n.Thread, coarse, fine)
	if err != nil {
		return nutRow{}, err
	}
	rows, columns, fineColumns := hexNuts, &columnsHexNut, &columnsFineHexNut
	if n.Thin {
		rows, columns, fineColumns = thinHexNuts, &columnsThinNut, &columnsFineThinNut
	}
	row, err := find(kind, std, rows, n.Thread.D)
	if err != nil {
		return nutRow{}, err
	}
	out := nutRow{prismRow: *row, columns: columns}
	out.status = std.rowStatus(row.status)
	if std.fine {
		out.columns = fineColumns
	}
	if w := n.oldWidth(); w != 0 {
		old := *out.columns
		old.flats = &columnOldNutWidth
		out.columns = &old
		out.s, out.sMin, out.e, out.dw = w, 0, 0, 0
	}
	return out, nil
}

// Quantities returns the dimensions of the nut with their rules and sources.
func (n HexNut) Quantities() ([]drawing.Quantity, error) { return nutQuantities(n) }

// View returns one view of the nut: front, side, head (on the bearing face),
// point (on the chamfered face) or isometric.
func (n HexNut) View(dir drawing.Direction, opt Options) (drawing.View, error) {
	return nutView(n, dir, opt)
}

// A nutPart is a kind of nut.
type nutPart interface {
	Fastener
	resolve() (*nut, error)
}

// A washerPart is a kind of washer.
type washerPart interface {
	Fastener
	resolve() (*washerSizes, error)
}

func nutQuantities(n nutPart) ([]drawing.Quantity, error) {
	r, err := n.resolve()
	if err != nil {
		return nil, err
	}
	return r.quantities(), nil
}

func nutView(n nutPart, dir drawing.Direction, opt Options) (drawing.View, error) {
	r, err := n.resolve()
	if err != nil {
		return drawing.View{}, err
	}
	v, err := r.view(dir, opt)
	return worded(v, opt, r.quantities), err
}
