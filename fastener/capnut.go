package fastener

import (
	"fmt"
	"math"

	"boltplate/drawing"
	"boltplate/internal/solid"
	"boltplate/thread"
)

// CapNut is a hexagonal nut that closes the thread with a dome: half a sphere
// on a short cylinder. Its thread is blind. The origin is at the bearing face.
// On basis Standard its hexagon has the widths of ISO 4032; the rest is by
// proportion on either basis.
type CapNut struct {
	Thread  thread.Thread
	Basis   Basis
	Governs Governs
}

func capNutKind() KindInfo {
	return KindInfo{Name: "cap-nut", Title: "cap nut", Options: []Option{optBasis(), optGoverns()}, Views: allViews(), Default: nutViews(),
		make: func(s Spec) Fastener { return CapNut{Thread: s.Thread, Basis: s.Basis, Governs: s.Governs} }}
}

// drillPoint is the angle of the point that a drill leaves in a blind hole,
// degrees (common practice).
const drillPoint = 120.0

// Kind returns "cap-nut".
func (CapNut) Kind() string { return "cap-nut" }

// Designation returns for instance "Cap nut M20".
func (n CapNut) Designation() string { return "Cap nut " + n.Thread.String() }

// Validate reports what is wrong with the description, as a *FieldError.
func (n CapNut) Validate() error {
	_, err := n.resolve()
	return err
}

// hexagonOfNut returns the widths of a nut whose hexagon is that of a hexagonal
// nut of its basis.
func hexagonOfNut(kind string, t thread.Thread, basis Basis, g Governs) (widths, error) {
	if err := checkCommon(kind, t, basis, g, false); err != nil {
		return widths{}, err
	}
	n, err := HexNut{Thread: t, Basis: basis, Governs: g}.resolve()
	if err != nil {
		return widths{}, forKind(kind, err)
	}
	return n.widths, nil
}

// ruleOf returns a function that makes quantities by rules of common practice
// for the nominal diameter d.
func ruleOf(d float64) func(letter, name, rule string, k float64) drawing.Quantity {
	return func(letter, name, rule string, k float64) drawing.Quantity {
		return drawing.Quantity{Letter: letter, Name: name, Rule: rule, Value: k * d, Source: "common practice", Status: drawing.CommonPractice}
	}
}

func (n CapNut) resolve() (*nut, error) {
	kind := n.Kind()
	w, err := hexagonOfNut(kind, n.Thread, n.Basis, n.Governs)
	if err != nil {
		return nil, err
	}
	d := n.Thread.D
	rule := ruleOf(d)
	height := rule("H", "height of the nut", "1.7D", 1.7)
	hexagon := rule("H1", "height of the hexagon", "0.8D", 0.8)
	dome := rule("Rd", "radius of the dome", "0.7D", 0.7)
	depth := rule("th", "depth of the thread", "1.3D", 1.3)
	r := &nut{kind: kind, t: n.Thread, height: height}
	p := prism{n: 6, flats: w.flats.Value, x1: hexagon.Value}
	f := &nutForm{
		quantities: append(w.quantities(), height, hexagon, dome, depth),
		extra:      append(w.ofNut(), hexagon, dome, depth),
		base:       p.bearing,
		top:        func(bool) float64 { return 0 },
	}
	f.onBolt = func(b *bolt, seat float64) error {
		end := b.shank.end
		least, most := seat+d, seat+depth.Value
		switch {
		case end < least-1e-9:
			return fieldErr(b.kind, "length", end, "too short for the cap nut, which sits at %s mm: %s", mm(seat), lengthBetween(least, most))
		case end > most+1e-9:
			return fieldErr(b.kind, "length", end, "meets the end of the thread in the cap nut, which sits at %s mm: %s", mm(seat), lengthBetween(least, most))
		}
		return nil
	}
	f.figure = func(x float64, on *bolt) *figure {
		centre, end := x+height.Value-dome.Value, x+height.Value
		at := p
		at.x0, at.x1 = x, x+hexagon.Value
		g := &figure{kind: kind, from: x, to: end, fromPoint: true}
		g.build = func(l look, m *model) {
			h := bore{t: n.Thread, x0: x, x1: x + depth.Value, blind: true}
			holes := h.drilled(l)
			if on != nil {
				h.x0 = on.shank.end // beyond which the thread of the nut is not covered
				holes = append(holes, bore{t: n.Thread, x0: x, x1: math.Min(h.x0, h.x1)}.hole(l, on))
			}
			m.add(at.solid().Less(holes...),
				solid.Cylinder(solid.X(), dome.Value, at.x1, centre).Without(solid.At(centre)).Less(holes...),
				solid.Ball(solid.X(), centre, dome.Value, centre, end).Without(solid.At(centre)).Less(holes...))
			m.bore(l, h)
		}
		if on == nil {
			g.annotate = func(b *builder, dir drawing.Direction) { f.annotate(b, dir, x, nil) }
		}
		return g
	}
	f.annotate = func(b *builder, dir drawing.Direction, x float64, on *clamped) {
		at := p
		at.x0, at.x1 = x, x+hexagon.Value
		front := dir == drawing.Front
		centre := x + height.Value - dome.Value
		switch dir {
		case drawing.Front, drawing.SideView:
			rank := drawing.Rank(0)
			if !front {
				rank = 1
			}
			base := at.bearing(front)
			b.linear(drawing.Below, rank, label(hexagon), x, -base, at.x1, -w.flats.Value/2)
			if on == nil {
				b.add(drawing.RoleDimension, drawing.Radius{Label: drawing.Label{Quantity: dome, Symbol: drawing.RadiusSymbol},
					Center: drawing.Pt(centre, 0), Radius: dome.Value, Angle: 40, Rank: rank})
			}
			switch {
			case on == nil:
				b.linear(drawing.Below, rank, label(height), x, -base, x+height.Value, 0)
				w.dimensionsAlong(b, at, front, drawing.Left)
				if b.opt.Hidden {
					b.linear(drawing.Above, rank, label(depth), x, d/2, x+depth.Value, d/2)
				}
			default:
				b.add(drawing.RoleDimension, drawing.Leader{Label: threadLabel(n.Thread), Tip: drawing.Pt(x+hexagon.Value/2, at.half(front)), Angle: 40, Rank: rank})
				if on.widths {
					w.onBolt(b, at, front)
				}
			}
		default:
			if on == nil {
				w.dimensionsAcross(b, at, !b.opt.turned, 0)
				if dir == drawing.HeadEnd {
					b.endLabel(n.Thread, false, 0)
				}
			}
		}
	}
	r.form = f
	return r, nil
}

// lengthBetween says which length of a bolt fits.
func lengthBetween(least, most float64) string {
	s := fmt.Sprintf("from %s to %s mm", mm(least), mm(most))
	if l, ok := thread.NextLength(least); ok && l <= most {
		s += fmt.Sprintf("; a preferred length is %s mm (ISO 888)", mm(l))
	}
	return s
}

// Quantities returns the dimensions of the nut with their rules and sources.
func (n CapNut) Quantities() ([]drawing.Quantity, error) { return nutQuantities(n) }

// View returns one view of the nut: front, side, head (on the bearing face,
// which shows the thread), point (on the dome) or isometric.
func (n CapNut) View(dir drawing.Direction, opt Options) (drawing.View, error) {
	return nutView(n, dir, opt)
}
