package fastener

import (
	"boltplate/drawing"
	"boltplate/thread"
)

// LockNut is a pair of hexagonal nuts, a thin one and a full one, that are
// tightened against each other. The thin nut stands next to the part and the
// full nut on it: when the upper nut is turned home it takes the load of the
// bolt over, so it must be the one with the longer thread. Many drawings show
// the two the other way round, since common spanners are too thick for a nut
// below. Both nuts are chamfered on both faces. The origin is at the bearing
// face of the thin nut.
type LockNut struct {
	Thread  thread.Thread
	Basis   Basis
	Governs Governs
	Extra
}

func lockNutKind() KindInfo {
	return KindInfo{Name: "lock-nut", Title: "lock-nut pair", Options: []Option{optBasis(), optGoverns()},
		Views: allViews(), Default: nutViews(),
		variants: hexagonVariants(variant{families: hexNutFamilies()}, lockFull, lockThin, lockPair),
		make: func(s Spec) Fastener {
			return LockNut{Thread: s.Thread, Basis: s.Basis, Governs: s.Governs, Extra: s.Extra}
		}}
}

const (
	nameLockFull = "thickness of the full nut"
	nameLockThin = "thickness of the thin nut"
)

// The thicknesses of the pair.
var (
	lockFull = groupOf(practice("H1", nameLockFull, "D"))
	lockThin = groupOf(published("H2", nameLockThin, "2/3 D", narayana))
	lockPair = groupOf(follows("H", "thickness of the pair", "H1 + H2", "the two nuts"))
)

// Columns of the standards of the pair.
var (
	columnsLockFull = [2]*size{column("H1", nameLockFull, standardHexNut+", m max"),
		column("H1", nameLockFull, standardFineHexNut+", m max; sizes as ISO 4032")}
	columnsLockThin = [2]*size{column("H2", nameLockThin, standardThinNut+", m max"),
		column("H2", nameLockThin, standardFineThinNut+", m max; sizes as ISO 4035")}
)

// Kind returns "lock-nut".
func (LockNut) Kind() string { return "lock-nut" }

// Designation returns for instance "Lock-nut pair M20" or, on basis Standard,
// "Lock-nut pair ISO 4032 and ISO 4035 - M20".
func (n LockNut) Designation() string {
	if n.Basis == Standard {
		full, thin := n.nuts()
		coarse, fine := full.standards()
		thinCoarse, thinFine := thin.standards()
		if !n.Thread.IsCoarse() {
			coarse, thinCoarse = fine, thinFine
		}
		return "Lock-nut pair " + standardName(coarse) + " and " + standardName(thinCoarse) + " - " + n.Thread.String() + n.supplied()
	}
	return "Lock-nut pair " + n.Thread.String() + n.supplied()
}

// nuts returns the two nuts of the pair.
func (n LockNut) nuts() (full, thin HexNut) {
	full = HexNut{Thread: n.Thread, Basis: n.Basis, Governs: n.Governs, Extra: n.Extra}
	thin = full
	thin.Thin = true
	return full, thin
}

// Validate reports what is wrong with the description, as a *FieldError.
func (n LockNut) Validate() error {
	_, err := n.resolve()
	return err
}

func (n LockNut) resolve() (*nut, error) {
	full, thin := n.nuts()
	r, row, err := full.hexagon(n.Kind(), "")
	if err != nil {
		return nil, err
	}
	if row.rule {
		r.z.use(lockFull)
		r.z.use(lockThin)
	} else {
		thinRow, err := thin.row(n.Kind())
		if err != nil {
			return nil, err
		}
		r.tabledPair(row, thinRow)
	}
	r.z.use(lockPair)
	if err := r.finish(); err != nil {
		return nil, err
	}
	r.form = lockPairForm(r)
	return r, nil
}

// tabledPair adds the thicknesses of the two nuts by their standards.
func (n *nut) tabledPair(full, thin nutRow) {
	fine := 0
	if !n.t.IsCoarse() {
		fine = 1
	}
	m := n.z.tabled(columnsLockFull[fine], full.m, full.status)
	m.min, m.max = full.mMin, full.mMax
	m = n.z.tabled(columnsLockThin[fine], thin.m, thin.status)
	m.min, m.max = thin.mMin, thin.mMax
}

// A lockForm is a pair of nuts, the thin one below.
type lockForm struct {
	t          thread.Thread
	w          widths
	full, thin drawing.Quantity
}

func lockPairForm(r *nut) *nutForm {
	l := lockForm{t: r.t, w: r.widths, full: r.z.size("H1"), thin: r.z.size("H2")}
	half := func(bool) float64 { return l.w.flats.Value / 2 }
	kind := r.kind
	return &nutForm{extra: []string{"A", "W", "H1", "H2"}, base: half, top: half, annotate: l.annotate,
		figure: func(x float64, on *bolt) *figure { return l.figure(kind, x, on) }}
}

// prisms returns the two nuts, chamfered on both faces.
func (l lockForm) prisms(x float64) (below, above prism) {
	below = l.w.prism(x, x+l.thin.Value)
	above = l.w.prism(below.x1, below.x1+l.full.Value)
	below.bothFaces, above.bothFaces = true, true
	return below, above
}

func (l lockForm) figure(kind string, x float64, on *bolt) *figure {
	below, above := l.prisms(x)
	g := &figure{kind: kind, from: below.x0, to: above.x1, fromPoint: true}
	g.build = func(k look, m *model) {
		whole := bore{t: l.t, x0: below.x0, x1: above.x1}
		m.add(below.solid(k).Less(whole.hole(k, on)), above.solid(k).Less(whole.hole(k, on)))
		if on == nil {
			m.bore(k, whole)
		}
	}
	if on == nil {
		g.annotate = func(b *builder, dir drawing.Direction) { l.annotate(b, dir, x, nil) }
	}
	return g
}

func (l lockForm) annotate(b *builder, dir drawing.Direction, x float64, on *clamped) {
	below, above := l.prisms(x)
	y := -l.w.flats.Value / 2
	front := dir == drawing.Front
	switch dir {
	case drawing.Front, drawing.SideView:
		rank := drawing.Rank(0)
		if !front {
			rank = 1
		}
		b.linear(drawing.Below, rank, label(l.thin), below.x0, y, below.x1, y)
		b.linear(drawing.Below, rank, label(l.full), above.x0, y, above.x1, y)
		if on == nil {
			l.w.dimensionsAlong(b, above, front, drawing.Right)
		} else if on.widths {
			l.w.onBolt(b, above, front)
		}
	default:
		if on == nil {
			l.w.dimensionsAcross(b, above, !b.opt.turned, 0)
			b.endLabel(l.t, false, 0)
		}
	}
}

// Quantities returns the dimensions of the pair with their rules and sources.
func (n LockNut) Quantities() ([]drawing.Quantity, error) { return nutQuantities(n) }

// View returns one view of the pair: front, side, head (on the thin nut), point
// (on the full nut) or isometric.
func (n LockNut) View(dir drawing.Direction, opt Options) (drawing.View, error) {
	return nutView(n, dir, opt)
}
