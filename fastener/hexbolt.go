package fastener

import (
	"slices"

	"boltplate/drawing"
	"boltplate/thread"
)

// HexBolt is a hexagonal-head bolt, or a screw threaded to the head. The zero
// ThreadLength means that of ISO 888; a bolt too short for it is threaded to
// the head, which basis Standard refuses. On basis Standard the sizes are those
// of ISO 4014 and ISO 4017, or with OldWidths of the DIN 931 and DIN 933 before
// them, which differ for M10, M12, M14 and M22.
type HexBolt struct {
	Thread       thread.Thread
	Length       float64 // under the head, mm
	ThreadLength float64 // mm; 0 means by the rule
	ToHead       bool    // a screw: threaded to the head (ISO 4017)
	Basis        Basis
	Governs      Governs
	OldWidths    bool // on basis Standard: the head of DIN 931 and DIN 933
	Extra
}

func hexBoltKind() KindInfo {
	return KindInfo{Name: "hex-bolt", Title: "hexagonal-head bolt", Length: true, Views: allViews(),
		Default:  boltViews(),
		Options:  append(append([]Option{optThread(), optEnd()}, optNuts()...), optBasis(), optGoverns(), optWidths()),
		variants: hexagonVariants(variant{families: hexHeadFamilies(), thread: byISO888}, headThickness),
		make: func(s Spec) Fastener {
			return HexBolt{Thread: s.Thread, Length: s.Length, ThreadLength: s.ThreadLength, Basis: s.Basis,
				Governs: s.Governs, OldWidths: oldWidths(s), Extra: s.Extra}
		}}
}

func hexScrewKind() KindInfo {
	return KindInfo{Name: "hex-screw", Title: "hexagonal-head screw, threaded to the head", Length: true,
		Views: allViews(), Default: boltViews(),
		Options:  append([]Option{optEnd(), optUndercut()}, append(optNuts(), optBasis(), optGoverns(), optWidths())...),
		variants: hexagonVariants(variant{families: hexHeadFamilies()}, headThickness),
		make: func(s Spec) Fastener {
			return HexBolt{Thread: s.Thread, Length: s.Length, ToHead: true, Basis: s.Basis, Governs: s.Governs,
				OldWidths: oldWidths(s), Extra: s.Extra}
		}}
}

// optWidths chooses between the widths across flats of ISO and those of the DIN
// before them.
func optWidths() Option { return choice("widths", "iso", "din") }

func oldWidths(s Spec) bool { return is(s.Widths, "din") }

const (
	standardHexBolt  = "ISO 4014:2011"
	standardHexScrew = "ISO 4017:2014"

	standardFineHexBolt  = "ISO 8765:2011"
	standardFineHexScrew = "ISO 8676:2011"

	standardOldHexBolt  = "DIN 931"
	standardOldHexScrew = "DIN 933"
)

// Statuses, short enough for a row of a table.
const (
	isPublished = drawing.Published
	inPart      = drawing.PublishedInPart
	isMemory    = drawing.FromMemory
)

// hexHeads holds the heads of ISO 4014:2011 and ISO 4017:2014, grade A to M24
// and B above. The rows from M12 up were found in published tables only in part.
var hexHeads = []prismRow{
	{3, 5.5, 5.32, 6.01, 2, 1.875, 2.125, 4.57, isPublished},
	{4, 7, 6.78, 7.66, 2.8, 2.675, 2.925, 5.88, isPublished},
	{5, 8, 7.78, 8.79, 3.5, 3.35, 3.65, 6.88, isPublished},
	{6, 10, 9.78, 11.05, 4, 3.85, 4.15, 8.88, isPublished},
	{8, 13, 12.73, 14.38, 5.3, 5.15, 5.45, 11.63, isPublished},
	{10, 16, 15.73, 17.77, 6.4, 6.22, 6.58, 14.63, isPublished},
	{12, 18, 17.73, 20.03, 7.5, 7.32, 7.68, 16.63, inPart},
	{14, 21, 20.67, 23.36, 8.8, 8.62, 8.98, 19.64, inPart},
	{16, 24, 23.67, 26.75, 10, 9.82, 10.18, 22.49, inPart},
	{18, 27, 26.67, 30.14, 11.5, 11.285, 11.715, 25.34, inPart},
	{20, 30, 29.67, 33.53, 12.5, 12.285, 12.715, 28.19, inPart},
	{22, 34, 33.38, 37.72, 14, 13.785, 14.215, 31.71, inPart},
	{24, 36, 35.38, 39.98, 15, 14.785, 15.215, 33.61, inPart},
	{27, 41, 40, 45.2, 17, 16.65, 17.35, 38, inPart},
	{30, 46, 45, 50.85, 18.7, 18.28, 19.12, 42.75, inPart},
	{33, 50, 49, 55.37, 21, 20.58, 21.42, 46.55, inPart},
	{36, 55, 53.8, 60.79, 22.5, 22.08, 22.92, 51.11, inPart},
	{39, 60, 58.8, 66.44, 25, 24.58, 25.42, 55.86, inPart},
	{42, 65, 63.1, 71.3, 26, 25.58, 26.42, 59.95, inPart},
	{45, 70, 68.1, 76.95, 28, 27.58, 28.42, 64.69, inPart},
	{48, 75, 73.1, 82.6, 30, 29.58, 30.42, 69.44, inPart},
	{52, 80, 78.1, 88.25, 33, 32.5, 33.5, 74.19, inPart},
	{56, 85, 82.8, 93.56, 35, 34.5, 35.5, 78.66, inPart},
	{60, 90, 87.8, 99.21, 38, 37.5, 38.5, 83.41, isMemory},
	{64, 95, 92.8, 104.86, 40, 39.5, 40.5, 88.16, inPart},
}

// oldHexHeads holds the heads of DIN 931 and DIN 933 where they differ in width
// from those of ISO: width across flats and height. Two published tables agree.
var oldHexHeads = []prismRow{
	{d: 10, s: 17, m: 7, status: isPublished}, {d: 12, s: 19, m: 8, status: isPublished},
	{d: 14, s: 22, m: 9, status: isPublished}, {d: 22, s: 32, m: 14, status: isPublished},
}

// Columns of the standards of hexagonal heads.
var (
	columnsHexBolt      = headColumns(standardHexBolt, "")
	columnsHexScrew     = headColumns(standardHexScrew, "")
	columnsFineHexBolt  = headColumns(standardFineHexBolt, "; sizes as ISO 4014")
	columnsFineHexScrew = headColumns(standardFineHexScrew, "; sizes as ISO 4017")
	columnsOldHexBolt   = headColumns(standardOldHexBolt, "")
	columnsOldHexScrew  = headColumns(standardOldHexScrew, "")
)

func headColumns(standard, note string) prismColumns {
	return columnsOf(6, standard, note, column("T", headThickness.sizes[0].name, standard+", k nominal"+note))
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
	if h.isOld() {
		coarse = standardOldHexBolt
		if h.ToHead {
			coarse = standardOldHexScrew
		}
	}
	return title + standardPrefix(h.Basis, h.Thread, coarse,
		fine) + h.Thread.String() + times(h.Length) + h.supplied()
}

// isOld reports whether the head is one of DIN that ISO made another.
func (h HexBolt) isOld() bool {
	return h.OldWidths && h.Thread.IsCoarse() && slices.ContainsFunc(oldHexHeads,
		func(r prismRow) bool { return r.d == h.Thread.D })
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
	if h.OldWidths && h.Basis != Standard {
		return nil, &FieldError{kind, "widths", "din", "belongs to basis standard; leave it out"}
	}
	b := newBolt(kind, "", h.Extra, h.Thread)
	if err := b.begin(h.Length, h.Basis, underHead); err != nil {
		return nil, err
	}
	coarse, fine := h.standards()
	head := hexHead{basis: h.Basis, governs: h.Governs, coarse: coarse, fine: fine, columns: &columnsHexBolt,
		fineColumns: &columnsFineHexBolt}
	if h.ToHead {
		head.columns, head.fineColumns = &columnsHexScrew, &columnsFineHexScrew
	}
	if h.isOld() {
		head.rows, head.columns = oldHexHeads, &columnsOldHexBolt
		if h.ToHead {
			head.columns = &columnsOldHexScrew
		}
	}
	std, err := b.hexHead(head)
	if err != nil {
		return nil, err
	}
	return b, b.settle(wish{given: h.ThreadLength, toHead: h.ToHead, basis: h.Basis, standard: std.name})
}

// A hexHead says by what a hexagonal head is set out.
type hexHead struct {
	basis                Basis
	governs              Governs
	coarse, fine         string // standards
	columns, fineColumns *prismColumns
	rows                 []prismRow // nil for those of ISO
}

// hexHead gives the bolt a hexagonal head, and returns on basis Standard the
// edition that has it.
func (b *bolt) hexHead(h hexHead) (std edition, err error) {
	t := b.shank.t
	if h.basis == Standard {
		if std, err = editionFor(b.kind, t, h.coarse, h.fine); err != nil {
			return std, err
		}
		if h.rows == nil {
			h.rows = hexHeads
		}
		if std.fine {
			h.columns = h.fineColumns
		}
		row, err := find(b.kind, std, h.rows, t.D)
		if err != nil {
			return std, err
		}
		status := std.rowStatus(row.status)
		b.z.widthsByTable(6, h.columns, row, status)
		b.z.heightByTable(h.columns, row, status)
	} else {
		b.z.hexagon(h.governs)
		b.z.use(headThickness)
	}
	return std, b.prismHead(6)
}

// prismHead takes the sizes of a head with n faces over.
func (b *bolt) prismHead(n int) (err error) {
	if b.widths, err = b.z.prism(n); err != nil {
		return err
	}
	b.head = b.z.size("T")
	return nil
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
	v, err := b.view(dir, opt, nil)
	return worded(v, opt, b.quantities), err
}
