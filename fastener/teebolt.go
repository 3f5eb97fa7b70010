package fastener

import (
	"boltplate/drawing"
	"boltplate/internal/solid"
	"boltplate/thread"
)

// TeeBolt is a bolt with a T-shaped head, long across the axis and as wide as
// the shank, for slots. A square neck or two nibs under the head keep it from
// turning. The zero ThreadLength means that of ISO 888, the zero Neck a square
// neck.
//
// On basis Standard the head is that of DIN 186 (square neck), DIN 188 (two
// nibs) or DIN 261 (plain), as the neck says; their sizes are from memory,
// unverified. Those of the nibs and the length of the square neck are
// proportions on either basis.
type TeeBolt struct {
	Thread       thread.Thread
	Length       float64 // under the head, mm
	ThreadLength float64 // mm; 0 means by the rule
	Neck         Neck    // NeckSquare, NeckNibs or NeckPlain
	Basis        Basis
	Extra
}

func teeBoltKind() KindInfo {
	return KindInfo{Name: "tee-bolt", Title: "T-head bolt", Length: true, Views: allViews(),
		Default: boltViews(),
		Options: append(append([]Option{optThread(), choice("neck", "square", "nibs", "plain")}, optNuts()...),
			optBasis()),
		variants: []variant{
			{families: []string{familyBolts}, groups: []*group{teeRules, teeNeck}, thread: byISO888},
			{families: []string{familyBolts}, groups: []*group{teeRules, nibRules}, thread: byISO888},
			{families: []string{familyBolts}, groups: []*group{teeRules}, thread: byISO888},
		},
		how: map[stage]string{
			stageShape: "Draw the head as it is seen along the axis, a rectangle as wide as the shank",
			stageHead:  "Draw the head as a rectangle, long across the axis, and the neck under it; the other view shows it as wide as the shank, by projection"},
		make: func(s Spec) Fastener {
			return TeeBolt{Thread: s.Thread, Length: s.Length, ThreadLength: s.ThreadLength, Neck: neckNamed(s.Neck),
				Basis: s.Basis, Extra: s.Extra}
		}}
}

// The standards of T-head bolts.
const (
	standardTeeSquare = "DIN 186"
	standardTeeNibs   = "DIN 188"
	standardTeePlain  = "DIN 261"
)

// teeRules are the sizes of a T-head.
var teeRules = groupOf(
	practice("L1", nameTeeLength, "1.8D"),
	published("B", nameTeeWidth, "D", low),
	published("T", nameTeeThickness, "0.8D", low))

// teeNeck is the square under it, which is in one plane with its sides.
var teeNeck = groupOf(follows("S", squareNeck.sizes[0].name, "B", "the head, with which it is in one plane"),
	squareNeck.sizes[1])

const (
	nameTeeLength    = "length of head"
	nameTeeWidth     = "width of head"
	nameTeeThickness = "thickness of head"
)

// teeRow is a row of the standards of T-head bolts: length m, thickness k and
// width n of the head, mm.
type teeRow struct {
	d, m, k, n float64
	status     drawing.Status
}

func (r teeRow) diameter() float64 { return r.d }

// A teeStandard is one of the standards of T-head bolts.
type teeStandard struct {
	name                     string
	length, width, thickness *size
	rows                     []teeRow
}

func teeStandardOf(name string, rows []teeRow) *teeStandard {
	return &teeStandard{name, column("L1", nameTeeLength, name+", m"), column("B", nameTeeWidth, name+", n"),
		column("T", nameTeeThickness, name+", k"), rows}
}

// teeHeads holds the heads of DIN 186 (T-head bolts with square neck) and
// DIN 261 (T-head bolts), which are the same. From memory, unverified.
var teeHeads = []teeRow{
	{6, 16, 4.5, 6, isMemory}, {8, 18, 5.5, 8, isMemory}, {10, 21, 7, 10, isMemory}, {12, 26, 8, 12, isMemory},
	{16, 30, 10.5, 16, isMemory},
	{20, 36, 13, 20, isMemory}, {24, 43, 15, 24, isMemory}, {30, 54, 19, 30, isMemory},
	{36, 66, 23, 36, isMemory},
}

// teeNibHeads holds the heads of DIN 188 (T-head bolts with double nib). They
// were found in published tables only in part.
var teeNibHeads = []teeRow{
	{8, 18, 5.5, 8, inPart}, {10, 21, 7, 10, inPart}, {12, 26, 8, 12, inPart}, {16, 30, 10.5, 16, inPart},
	{20, 36, 13, 20, inPart},
	{24, 43, 15, 24, inPart}, {30, 54, 19, 30, inPart},
}

var (
	teeSquare = teeStandardOf(standardTeeSquare, teeHeads)
	teeNibs   = teeStandardOf(standardTeeNibs, teeNibHeads)
	teePlain  = teeStandardOf(standardTeePlain, teeHeads)
)

// Kind returns "tee-bolt".
func (TeeBolt) Kind() string { return "tee-bolt" }

func (t TeeBolt) neck() Neck {
	if t.Neck == NeckByKind {
		return NeckSquare
	}
	return t.Neck
}

// standard returns the standard for the neck.
func (t TeeBolt) standard() *teeStandard {
	switch t.neck() {
	case NeckNibs:
		return teeNibs
	case NeckPlain:
		return teePlain
	}
	return teeSquare
}

// Designation returns for instance "T-head bolt, square neck, M20 × 90".
func (t TeeBolt) Designation() string {
	return "T-head bolt" + t.neck().inTitle() + standardPrefix(t.Basis, t.Thread, t.standard().name,
		"") + t.Thread.String() + times(t.Length) + t.supplied()
}

// Validate reports what is wrong with the description, as a *FieldError.
func (t TeeBolt) Validate() error {
	_, err := t.resolve()
	return err
}

func (t TeeBolt) resolve() (*bolt, error) {
	kind := t.Kind()
	if err := checkCommon(kind, t.Thread, t.Basis, ByBasis, false); err != nil {
		return nil, err
	}
	if err := checkNeck(kind, t.Neck, NeckSquare, NeckNibs, NeckPlain); err != nil {
		return nil, err
	}
	b := newBolt(kind, "", t.Extra, t.Thread)
	if err := b.begin(t.Length, t.Basis, underHead); err != nil {
		return nil, err
	}
	if err := t.head(b); err != nil {
		return nil, err
	}
	z := &b.z
	h := teeHead{length: z.size("L1"), width: z.size("B"), thickness: z.size("T")}
	var nibs snug
	var err error
	switch t.neck() {
	case NeckSquare:
		err = b.squareNeck(teeNeck)
	case NeckNibs:
		nibs, err = b.snug(nibRules, h.length.Value/2)
	}
	if err != nil {
		return nil, err
	}
	b.form = h.form(z.d, b.neck, nibs)
	b.fits.Head = HeadFit{Height: h.thickness.Value, Length: h.length.Value, Width: h.width.Value}
	return b, b.settle(wish{given: t.ThreadLength, basis: t.Basis, standard: t.standard().name})
}

// head sets the head out.
func (t TeeBolt) head(b *bolt) error {
	z := &b.z
	if t.Basis != Standard {
		z.use(teeRules)
		if err := z.solve(); err != nil {
			return err
		}
		if err := z.atLeast("B", "D"); err != nil {
			return err
		}
		return z.needs("L1", "B")
	}
	s := t.standard()
	std, err := editionFor(b.kind, t.Thread, s.name, "")
	if err != nil {
		return err
	}
	row, err := find(b.kind, std, s.rows, t.Thread.D)
	if err != nil {
		return err
	}
	z.tabled(s.length, row.m, row.status)
	z.tabled(s.width, row.n, row.status)
	z.tabled(s.thickness, row.k, row.status)
	return nil
}

// A teeHead is a T-shaped head: long across the axis, as wide as the shank.
type teeHead struct{ length, width, thickness drawing.Quantity }

// form returns the head, its length upright, with the neck or the nibs under
// it.
func (h teeHead) form(d float64, n neck, nibs snug) *form {
	t, l, w := h.thickness.Value, h.length.Value/2, h.width.Value/2
	f := &form{end: -t, start: n.length.Value}
	f.originOf = func(dir drawing.Direction, _ drawing.Style) drawing.Point {
		if dir == drawing.SideView {
			return drawing.Pt(0, -w)
		}
		return drawing.Pt(0, -l)
	}
	if nibs.present() {
		f.least = nibs.length.Value
		f.plain, f.plainLetter = nibs.length.Value, nibs.length.Letter
	}
	f.build = func(k look, m *model) {
		if n.present() {
			// Head and neck are of one width, so that they are one profile: their
			// sides go over into each other without an edge.
			x, s := n.length.Value, n.side.Value/2
			m.add(solid.Extrude(solid.V(0, 0, 0), solid.V(1, 0, 0), solid.V(0, 1, 0), -w, w, []solid.Vertex{
				{X: -t, Y: -l}, {X: 0, Y: -l}, {X: 0, Y: -s}, {X: x, Y: -s}, {X: x, Y: s}, {X: 0, Y: s}, {X: 0, Y: l},
				{X: -t, Y: l}}))
			m.squareFlats(k, n.side.Value, 0, x, false)
		} else {
			m.add(solid.Box(solid.V(-t, -l, -w), solid.V(0, l, w)))
		}
		nibs.build(k, m, d/2, 0)
		nibs.below().build(k, m, d/2, 0)
	}
	f.annotate = func(b *builder, dir drawing.Direction, rank drawing.Rank) {
		switch dir {
		case drawing.Front:
			b.linear(drawing.Left, 0, label(h.length), -t, -l, -t, l)
			b.linear(drawing.Below, 0, label(h.thickness), -t, -l, 0, -l)
			n.dimensions(b, false, l, rank)
		case drawing.SideView:
			b.linear(drawing.Left, 0, label(h.width), -t, -w, -t, w)
			b.linear(drawing.Below, 1, label(h.thickness), -t, -w, 0, -w)
			n.dimensions(b, false, w, rank)
		case drawing.HeadEnd, drawing.PointEnd:
			h.endDimensions(b, dir)
		}
		nibs.dimensions(b, dir, d/2, 0)
	}
	return f
}

// endDimensions gives the length and the width of the head, which may be
// hidden by a nut, in a view along the axis.
func (h teeHead) endDimensions(b *builder, dir drawing.Direction) {
	x, y := h.width.Value/2, h.length.Value/2
	across, along := label(h.width), label(h.length)
	if b.opt.turned {
		x, y, across, along = y, x, along, across
	}
	rank := drawing.Rank(1)
	if dir == drawing.PointEnd {
		rank = 2
	}
	if b.seen(drawing.Pt(x, y)) && b.seen(drawing.Pt(-x, -y)) {
		b.linear(drawing.Below, rank, across, -x, -y, x, -y)
		b.linear(drawing.Left, rank, along, -x, -y, -x, y)
	}
}

// Quantities returns the dimensions of the bolt with their rules and sources.
func (t TeeBolt) Quantities() ([]drawing.Quantity, error) { return boltQuantities(t) }

// View returns one view of the bolt: front, side (the plan), head, point or
// isometric. The front view shows the length of the head, upright, the side
// view its width.
func (t TeeBolt) View(dir drawing.Direction, opt Options) (drawing.View, error) {
	return boltView(t, dir, opt)
}
