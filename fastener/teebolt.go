package fastener

import (
	"strings"

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
}

func teeBoltKind() KindInfo {
	return KindInfo{Name: "tee-bolt", Title: "T-head bolt", Length: true, Views: allViews(), Default: boltViews(),
		Options: append(append([]Option{optThread(), choice("neck", "square", "nibs", "plain")}, optNuts()...), optBasis()),
		make: func(s Spec) Fastener {
			return TeeBolt{Thread: s.Thread, Length: s.Length, ThreadLength: s.ThreadLength, Neck: neckNamed(s.Neck), Basis: s.Basis}
		}}
}

// The standards of T-head bolts.
const (
	standardTeeSquare = "DIN 186"
	standardTeeNibs   = "DIN 188"
	standardTeePlain  = "DIN 261"
)

// teeHeadRow is a row of the standards of T-head bolts: length m, thickness k
// and width n of the head, mm.
type teeHeadRow struct{ d, m, k, n float64 }

// teeHeadTable holds the heads of DIN 186 (T-head bolts with square neck) and
// DIN 261 (T-head bolts), which are the same. From memory, unverified.
func teeHeadTable() []teeHeadRow {
	return []teeHeadRow{
		{6, 16, 4.5, 6}, {8, 18, 5.5, 8}, {10, 21, 7, 10}, {12, 26, 8, 12}, {16, 30, 10.5, 16},
		{20, 36, 13, 20}, {24, 43, 15, 24}, {30, 54, 19, 30}, {36, 66, 23, 36},
	}
}

// teeNibsTable holds the heads of DIN 188 (T-head bolts with double nib). They
// were found in published tables only in part, the rest is from memory,
// unverified.
func teeNibsTable() []teeHeadRow {
	return []teeHeadRow{
		{8, 18, 5.5, 8}, {10, 21, 7, 10}, {12, 26, 8, 12}, {16, 30, 10.5, 16}, {20, 36, 13, 20}, {24, 43, 15, 24}, {30, 54, 19, 30},
	}
}

// Kind returns "tee-bolt".
func (TeeBolt) Kind() string { return "tee-bolt" }

func (t TeeBolt) neck() Neck {
	if t.Neck == NeckByKind {
		return NeckSquare
	}
	return t.Neck
}

// standard returns the standard for the neck, and its table.
func (t TeeBolt) standard() (string, []teeHeadRow) {
	switch t.neck() {
	case NeckNibs:
		return standardTeeNibs, teeNibsTable()
	case NeckPlain:
		return standardTeePlain, teeHeadTable()
	}
	return standardTeeSquare, teeHeadTable()
}

// Designation returns for instance "T-head bolt, square neck, M20 × 90".
func (t TeeBolt) Designation() string {
	standard, _ := t.standard()
	return "T-head bolt" + t.neck().inTitle() + standardPrefix(t.Basis, t.Thread, standard, "") + t.Thread.String() + times(t.Length)
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
	d := t.Thread.D
	standard, rows := t.standard()
	const low = "Low, Machine Drawing and Design (1887)"
	h := teeHead{
		length:    drawing.Quantity{Rule: "1.8D", Value: 1.8 * d, Source: "common practice", Status: drawing.CommonPractice},
		width:     drawing.Quantity{Rule: "D", Value: d, Source: low, Status: drawing.Published},
		thickness: drawing.Quantity{Rule: "0.8D", Value: 0.8 * d, Source: low, Status: drawing.Published},
	}
	if t.Basis == Standard {
		std, err := editionFor(kind, t.Thread, standard, "")
		if err != nil {
			return nil, err
		}
		row, err := find(kind, std, rows, d, func(r teeHeadRow) float64 { return r.d })
		if err != nil {
			return nil, err
		}
		of := func(v float64, column string) drawing.Quantity {
			return drawing.Quantity{Rule: drawing.RuleTable, Value: v, Source: standard + ", " + column + " (from memory, unverified)", Status: drawing.FromMemory}
		}
		h = teeHead{length: of(row.m, "m"), width: of(row.n, "n"), thickness: of(row.k, "k")}
	}
	h.length.Letter, h.length.Name = "L1", "length of head"
	h.width.Letter, h.width.Name = "B", "width of head"
	h.thickness.Letter, h.thickness.Name = "T", "thickness of head"
	var n neck
	var nibs snug
	switch t.neck() {
	case NeckSquare:
		n = squareNeck(d)
	case NeckNibs:
		nibs = nibsByRule(d)
	}
	b := &bolt{kind: kind, neck: n, form: h.form(d, n, nibs)}
	return b, b.settle(t.Thread, t.Length, t.ThreadLength, false, t.Basis, standard)
}

// nibsByRule returns the nibs of a bolt of diameter d: of the form and the
// proportions of a snug, one above and one below.
func nibsByRule(d float64) snug {
	s := snugByRule(d)
	for _, q := range [3]*drawing.Quantity{&s.projection, &s.length, &s.width} {
		q.Name = strings.Replace(q.Name, "snug", "nib", 1)
		q.Source, q.Status = "common practice, as a snug (from memory, unverified)", drawing.FromMemory
	}
	return s
}

// A teeHead is a T-shaped head: long across the axis, as wide as the shank.
type teeHead struct{ length, width, thickness drawing.Quantity }

// form returns the head, its length upright, with the neck or the nibs under
// it.
func (h teeHead) form(d float64, n neck, nibs snug) *form {
	t, l, w := h.thickness.Value, h.length.Value/2, h.width.Value/2
	f := &form{end: -t, start: n.length.Value}
	f.quantities = []drawing.Quantity{h.length, h.width, h.thickness}
	f.originOf = func(dir drawing.Direction, _ drawing.Style) drawing.Point {
		if dir == drawing.SideView {
			return drawing.Pt(0, -w)
		}
		return drawing.Pt(0, -l)
	}
	if n.present() {
		f.quantities = append(f.quantities, n.side, n.length)
	}
	if nibs.present() {
		f.quantities = append(f.quantities, nibs.quantities()...)
		f.least = nibs.length.Value
		f.plain, f.plainLetter = nibs.length.Value, nibs.length.Letter
	}
	f.build = func(k look, m *model) {
		if n.present() {
			// Head and neck are of one width, so that they are one profile: their
			// sides go over into each other without an edge.
			x, s := n.length.Value, n.side.Value/2
			m.add(solid.Extrude(solid.V(0, 0, 0), solid.V(1, 0, 0), solid.V(0, 1, 0), -w, w, []solid.Vertex{
				{X: -t, Y: -l}, {X: 0, Y: -l}, {X: 0, Y: -s}, {X: x, Y: -s}, {X: x, Y: s}, {X: 0, Y: s}, {X: 0, Y: l}, {X: -t, Y: l}}))
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
