package fastener

import (
	"boltplate/drawing"
	"boltplate/thread"
)

// HexNut is a hexagonal nut, full or thin. Its origin is at the bearing face;
// the other face is chamfered. A thin nut, which may be put on either way
// round, is chamfered on both.
type HexNut struct {
	Thread  thread.Thread
	Thin    bool
	Basis   Basis
	Governs Governs
}

func hexNutKind() KindInfo {
	return KindInfo{Name: "hex-nut", Title: "hexagonal nut", Options: []Option{optBasis(), optGoverns()}, Views: allViews(), Default: nutViews(),
		make: func(s Spec) Fastener { return HexNut{Thread: s.Thread, Basis: s.Basis, Governs: s.Governs} }}
}

func thinNutKind() KindInfo {
	return KindInfo{Name: "thin-nut", Title: "hexagonal thin nut", Options: []Option{optBasis(), optGoverns()}, Views: allViews(), Default: nutViews(),
		make: func(s Spec) Fastener {
			return HexNut{Thread: s.Thread, Thin: true, Basis: s.Basis, Governs: s.Governs}
		}}
}

const (
	standardHexNut  = "ISO 4032:2012"
	standardThinNut = "ISO 4035:2012"

	standardFineHexNut  = "ISO 8673:2012"
	standardFineThinNut = "ISO 8675:2012"
)

// hexNutRow is a row of ISO 4032 (m) and ISO 4035 (thin), mm.
type hexNutRow struct{ d, s, e, m, thin float64 }

// hexNutTable holds ISO 4032:2012 (style 1) and ISO 4035:2012 (thin, style 0):
// nominal width across flats s, least width across corners e, greatest
// thickness m.
func hexNutTable() []hexNutRow {
	return []hexNutRow{
		{3, 5.5, 6.01, 2.4, 1.8},
		{4, 7, 7.66, 3.2, 2.2},
		{5, 8, 8.79, 4.7, 2.7},
		{6, 10, 11.05, 5.2, 3.2},
		{8, 13, 14.38, 6.8, 4},
		{10, 16, 17.77, 8.4, 5},
		{12, 18, 20.03, 10.8, 6},
		{14, 21, 23.35, 12.8, 7},
		{16, 24, 26.75, 14.8, 8},
		{18, 27, 29.56, 15.8, 9},
		{20, 30, 32.95, 18, 10},
		{22, 34, 37.29, 19.4, 11},
		{24, 36, 39.55, 21.5, 12},
		{27, 41, 45.2, 23.8, 13.5},
		{30, 46, 50.85, 25.6, 15},
		{33, 50, 55.37, 28.7, 16.5},
		{36, 55, 60.79, 31, 18},
		{39, 60, 66.44, 33.4, 19.5},
		{42, 65, 71.3, 34, 21},
		{45, 70, 76.95, 36, 22.5},
		{48, 75, 82.6, 38, 24},
		{52, 80, 88.25, 42, 26},
		{56, 85, 93.56, 45, 28},
		{60, 90, 99.21, 48, 30},
		{64, 95, 104.86, 51, 32},
	}
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
	return title + standardPrefix(n.Basis, n.Thread, coarse, fine) + n.Thread.String()
}

// Validate reports what is wrong with the description, as a *FieldError.
func (n HexNut) Validate() error {
	_, err := n.resolve()
	return err
}

func (n HexNut) resolve() (*nut, error) {
	kind := n.Kind()
	if err := checkCommon(kind, n.Thread, n.Basis, n.Governs, false); err != nil {
		return nil, err
	}
	d := n.Thread.D
	r := &nut{kind: kind, t: n.Thread, bothFaces: n.Thin}
	if n.Basis == Standard {
		coarse, fine := n.standards()
		std, err := editionFor(kind, n.Thread, coarse, fine)
		if err != nil {
			return nil, err
		}
		row, err := find(kind, std, hexNutTable(), d, func(r hexNutRow) float64 { return r.d })
		if err != nil {
			return nil, err
		}
		r.widths = hexagonByTable(std.source, row.s, row.e, n.Governs, std.status)
		m := row.m
		if n.Thin {
			m = row.thin
		}
		r.height = drawing.Quantity{Rule: drawing.RuleTable, Value: m, Source: std.source + ", m max", Status: std.status}
	} else {
		r.widths = hexagonByRule(d, n.Governs)
		r.height = drawing.Quantity{Rule: "D", Value: d, Source: textbooks, Status: drawing.Published}
		if n.Thin {
			r.height = drawing.Quantity{Rule: "2D/3", Value: 2 * d / 3, Source: "Narayana, Kannaiah and Reddy, Machine Drawing", Status: drawing.Published}
		}
	}
	r.height.Letter, r.height.Name = "H", "nut thickness"
	return r, nil
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
	return r.view(dir, opt)
}
