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
}

func lockNutKind() KindInfo {
	return KindInfo{Name: "lock-nut", Title: "lock-nut pair", Options: []Option{optBasis(), optGoverns()}, Views: allViews(), Default: nutViews(),
		make: func(s Spec) Fastener { return LockNut{Thread: s.Thread, Basis: s.Basis, Governs: s.Governs} }}
}

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
		return "Lock-nut pair " + standardName(coarse) + " and " + standardName(thinCoarse) + " - " + n.Thread.String()
	}
	return "Lock-nut pair " + n.Thread.String()
}

// nuts returns the two nuts of the pair.
func (n LockNut) nuts() (full, thin HexNut) {
	full = HexNut{Thread: n.Thread, Basis: n.Basis, Governs: n.Governs}
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
	kind := n.Kind()
	if err := checkCommon(kind, n.Thread, n.Basis, n.Governs, false); err != nil {
		return nil, err
	}
	fullNut, thinNut := n.nuts()
	full, err := fullNut.resolve()
	if err != nil {
		return nil, forKind(kind, err)
	}
	thin, err := thinNut.resolve()
	if err != nil {
		return nil, forKind(kind, err)
	}
	full.bothFaces = true
	full.height.Letter, full.height.Name = "H1", "thickness of the full nut"
	thin.height.Letter, thin.height.Name = "H2", "thickness of the thin nut"
	w := full.widths
	r := &nut{kind: kind, t: n.Thread, height: drawing.Quantity{Letter: "H", Name: "thickness of the pair", Rule: "H1 + H2",
		Value: full.height.Value + thin.height.Value, Source: "follows from the two nuts", Status: drawing.Derived}}
	f := &nutForm{
		quantities: append(w.quantities(), full.height, thin.height, r.height),
		extra:      append(w.ofNut(), full.height, thin.height),
		base:       func(bool) float64 { return w.flats.Value / 2 },
		top:        func(bool) float64 { return w.flats.Value / 2 },
	}
	f.figure = func(x float64, on *bolt) *figure {
		below := thin.prism(x)
		above := full.prism(below.x1)
		g := &figure{kind: kind, from: below.x0, to: above.x1, fromPoint: true}
		g.build = func(l look, m *model) {
			whole := bore{t: n.Thread, x0: below.x0, x1: above.x1}
			m.add(below.solid().Less(whole.hole(l, on)), above.solid().Less(whole.hole(l, on)))
			if on == nil {
				m.bore(l, whole)
			}
		}
		if on == nil {
			g.annotate = func(b *builder, dir drawing.Direction) { f.annotate(b, dir, x, nil) }
		}
		return g
	}
	f.annotate = func(b *builder, dir drawing.Direction, x float64, on *clamped) {
		below := thin.prism(x)
		above := full.prism(below.x1)
		y := -w.flats.Value / 2
		front := dir == drawing.Front
		switch dir {
		case drawing.Front, drawing.SideView:
			rank := drawing.Rank(0)
			if !front {
				rank = 1
			}
			b.linear(drawing.Below, rank, label(thin.height), below.x0, y, below.x1, y)
			b.linear(drawing.Below, rank, label(full.height), above.x0, y, above.x1, y)
			if on == nil {
				w.dimensionsAlong(b, above, front, drawing.Right)
			} else if on.widths {
				w.onBolt(b, above, front)
			}
		default:
			if on == nil {
				w.dimensionsAcross(b, above, !b.opt.turned, 0)
				b.endLabel(n.Thread, false, 0)
			}
		}
	}
	r.form = f
	return r, nil
}

// Quantities returns the dimensions of the pair with their rules and sources.
func (n LockNut) Quantities() ([]drawing.Quantity, error) { return nutQuantities(n) }

// View returns one view of the pair: front, side, head (on the thin nut), point
// (on the full nut) or isometric.
func (n LockNut) View(dir drawing.Direction, opt Options) (drawing.View, error) {
	return nutView(n, dir, opt)
}
