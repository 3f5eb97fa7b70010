package fastener

import (
	"boltplate/drawing"
	"boltplate/thread"
)

// HexBolt is a hexagonal-head bolt, or a screw threaded to the head. The zero
// ThreadLength means that of ISO 888; a bolt too short for it is threaded to
// the head, which basis Standard refuses.
type HexBolt struct {
	Thread       thread.Thread
	Length       float64 // under the head, mm
	ThreadLength float64 // mm; 0 means by the rule
	ToHead       bool    // a screw: threaded to the head (ISO 4017)
	Basis        Basis
	Governs      Governs
}

func hexBoltKind() KindInfo {
	return KindInfo{Name: "hex-bolt", Title: "hexagonal-head bolt", Length: true, Views: allViews(), Default: boltViews(),
		Options: append(append([]Option{optThread()}, optNuts()...), optBasis(), optGoverns()),
		make: func(s Spec) Fastener {
			return HexBolt{Thread: s.Thread, Length: s.Length, ThreadLength: s.ThreadLength, Basis: s.Basis, Governs: s.Governs}
		}}
}

func hexScrewKind() KindInfo {
	return KindInfo{Name: "hex-screw", Title: "hexagonal-head screw, threaded to the head", Length: true, Views: allViews(), Default: boltViews(),
		Options: append(optNuts(), optBasis(), optGoverns()),
		make: func(s Spec) Fastener {
			return HexBolt{Thread: s.Thread, Length: s.Length, ToHead: true, Basis: s.Basis, Governs: s.Governs}
		}}
}

const (
	standardHexBolt  = "ISO 4014:2011"
	standardHexScrew = "ISO 4017:2014"

	standardFineHexBolt  = "ISO 8765:2011"
	standardFineHexScrew = "ISO 8676:2011"
)

type hexHeadRow struct{ d, s, e, k float64 }

// hexHeadTable holds the heads of ISO 4014:2011 and ISO 4017:2014, grade A to
// M24 and B above: nominal width across flats s, least width across corners e,
// nominal thickness k, mm. The rows from M12 up were found in published tables
// only in part; that of M60 is from memory, unverified.
func hexHeadTable() []hexHeadRow {
	return []hexHeadRow{
		{3, 5.5, 6.01, 2},
		{4, 7, 7.66, 2.8},
		{5, 8, 8.79, 3.5},
		{6, 10, 11.05, 4},
		{8, 13, 14.38, 5.3},
		{10, 16, 17.77, 6.4},
		{12, 18, 20.03, 7.5},
		{14, 21, 23.36, 8.8},
		{16, 24, 26.75, 10},
		{18, 27, 30.14, 11.5},
		{20, 30, 33.53, 12.5},
		{22, 34, 37.72, 14},
		{24, 36, 39.98, 15},
		{27, 41, 45.2, 17},
		{30, 46, 50.85, 18.7},
		{33, 50, 55.37, 21},
		{36, 55, 60.79, 22.5},
		{39, 60, 66.44, 25},
		{42, 65, 71.3, 26},
		{45, 70, 76.95, 28},
		{48, 75, 82.6, 30},
		{52, 80, 88.25, 33},
		{56, 85, 93.56, 35},
		{60, 90, 99.21, 38},
		{64, 95, 104.86, 40},
	}
}

// standards returns the standard for coarse and the one for fine threads.
func (h HexBolt) standards() (coarse, fine string) {
	if h.ToHead {
		return standardHexScrew, standardFineHexScrew
	}
	return standardHexBolt, standardFineHexBolt
}

// Kind returns "hex-bolt" or "hex-screw".
func (h HexBolt) Kind() string {
	if h.ToHead {
		return "hex-screw"
	}
	return "hex-bolt"
}

// Designation returns for instance "Hexagon-head bolt M20 × 90" or, on basis
// Standard, "Hexagon-head bolt ISO 4014 - M20 × 90".
func (h HexBolt) Designation() string {
	title := "Hexagon-head bolt "
	if h.ToHead {
		title = "Hexagon-head screw "
	}
	coarse, fine := h.standards()
	return title + standardPrefix(h.Basis, h.Thread, coarse, fine) + h.Thread.String() + times(h.Length)
}

// Validate reports what is wrong with the description, as a *FieldError.
func (h HexBolt) Validate() error {
	_, err := h.resolve()
	return err
}

func (h HexBolt) resolve() (*bolt, error) {
	kind := h.Kind()
	if err := checkCommon(kind, h.Thread, h.Basis, h.Governs, false); err != nil {
		return nil, err
	}
	coarse, fine := h.standards()
	w, head, std, err := hexHead(kind, h.Thread, h.Basis, h.Governs, coarse, fine)
	if err != nil {
		return nil, err
	}
	b := &bolt{kind: kind, widths: w, head: head}
	return b, b.settle(h.Thread, h.Length, h.ThreadLength, h.ToHead, h.Basis, std.name)
}

// hexHead returns the widths and the thickness of a hexagonal head, and on
// basis Standard the edition that has them.
func hexHead(kind string, t thread.Thread, basis Basis, g Governs, coarse, fine string) (widths, drawing.Quantity, edition, error) {
	head := headByRule(t.D)
	if basis != Standard {
		return hexagonByRule(t.D, g), head, edition{}, nil
	}
	std, err := editionFor(kind, t, coarse, fine)
	if err != nil {
		return widths{}, head, std, err
	}
	row, err := find(kind, std, hexHeadTable(), t.D, func(r hexHeadRow) float64 { return r.d })
	if err != nil {
		return widths{}, head, std, err
	}
	source, status := std.source, std.status
	if t.D == 60 && status == drawing.Published {
		source, status = source+" (from memory, unverified)", drawing.FromMemory
	}
	head.Rule, head.Value, head.Source, head.Status = drawing.RuleTable, row.k, source+", k nominal", status
	return hexagonByTable(source, row.s, row.e, g, status), head, std, nil
}

func headByRule(d float64) drawing.Quantity {
	return drawing.Quantity{Letter: "T", Name: "head thickness", Rule: "0.8D", Value: 0.8 * d, Source: textbooks, Status: drawing.Published}
}

// Quantities returns the dimensions of the bolt with their rules and sources.
func (h HexBolt) Quantities() ([]drawing.Quantity, error) { return boltQuantities(h) }

// View returns one view of the bolt: front, side, head, point or isometric.
func (h HexBolt) View(dir drawing.Direction, opt Options) (drawing.View, error) {
	return boltView(h, dir, opt)
}

func boltQuantities(p boltedPart) ([]drawing.Quantity, error) {
	b, err := p.resolve()
	if err != nil {
		return nil, err
	}
	return b.quantities(), nil
}

func boltView(p boltedPart, dir drawing.Direction, opt Options) (drawing.View, error) {
	b, err := p.resolve()
	if err != nil {
		return drawing.View{}, err
	}
	return b.view(dir, opt, nil)
}
