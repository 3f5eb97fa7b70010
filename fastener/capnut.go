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
	Extra
}

func capNutKind() KindInfo {
	return KindInfo{Name: "cap-nut", Title: "cap nut", Options: []Option{optBasis(), optGoverns()},
		Views: allViews(), Default: boltViews(), Section: true,
		variants: hexagonVariants(variant{families: hexNutFamilies()}, capRules),
		make: func(s Spec) Fastener {
			return CapNut{Thread: s.Thread, Basis: s.Basis, Governs: s.Governs, Extra: s.Extra}
		}}
}

// capRules are the sizes of a cap nut beside those of its hexagon.
var capRules = groupOf(
	practice("H", "height of the nut", "1.7D"),
	practice("H1", "height of the hexagon", "0.8D"),
	practice("Rd", "radius of the dome", "0.7D"),
	practice("th", "depth of the thread", "1.3D"))

// drillPoint is the angle of the point that a drill leaves in a blind hole,
// degrees (common practice).
const drillPoint = 120.0

// Kind returns "cap-nut".
func (CapNut) Kind() string { return "cap-nut" }

// Designation returns for instance "Cap nut M20".
func (n CapNut) Designation() string { return "Cap nut " + n.Thread.String() + n.supplied() }

// Validate reports what is wrong with the description, as a *FieldError.
func (n CapNut) Validate() error {
	_, err := n.resolve()
	return err
}

func (n CapNut) resolve() (*nut, error) {
	r, _, err := HexNut{Thread: n.Thread, Basis: n.Basis, Governs: n.Governs,
		Extra: n.Extra}.hexagon(n.Kind(), "")
	if err != nil {
		return nil, err
	}
	r.z.use(capRules)
	if err := r.finish(); err != nil {
		return nil, err
	}
	c := capForm{kind: r.kind, t: n.Thread, w: r.widths, height: r.height, hexagon: r.z.size("H1"),
		dome: r.z.size("Rd"), depth: r.z.size("th")}
	r.form = c.form()
	r.fits.Blind = c.depth.Value
	return r, c.check(&r.z)
}

// A capForm is a cap nut with settled sizes.
type capForm struct {
	kind                         string
	t                            thread.Thread
	w                            widths
	height, hexagon, dome, depth drawing.Quantity
}

// check refuses sizes that cannot be drawn.
func (c capForm) check(z *sizer) error {
	wall := 0.1 * c.t.D // of the dome over the hole
	tip := c.depth.Value + c.t.D/2/math.Tan(drillPoint/2*math.Pi/180)
	switch {
	case c.dome.Value < c.t.D/2+wall || c.dome.Value > c.w.flats.Value/2:
		return z.refuse(z.at("Rd"),
			fmt.Sprintf("must be from %s, a wall over the hole, to %s, half the width across flats", mm(c.t.D/2+wall),
				mm(c.w.flats.Value/2)))
	case c.height.Value < c.hexagon.Value+c.dome.Value:
		return z.refuse(z.at("H"), fmt.Sprintf("must be at least %s, hexagon and dome",
			mm(c.hexagon.Value+c.dome.Value)))
	case c.depth.Value < c.t.D || tip > c.height.Value-wall:
		return z.refuse(z.at("th"),
			fmt.Sprintf("must be at least D, and leave a wall under the dome: from %s to %s", mm(c.t.D),
				mm(c.depth.Value-tip+c.height.Value-wall)))
	}
	return nil
}

func (c capForm) form() *nutForm {
	return &nutForm{
		extra:    []string{"A", "W", "H1", "Rd", "th"},
		base:     c.prism(0).bearing,
		top:      func(bool) float64 { return 0 },
		onBolt:   c.onBolt,
		figure:   c.figure,
		face:     c.hexagon.Value,
		annotate: c.annotate,
	}
}

// prism returns the hexagon with its bearing face at x.
func (c capForm) prism(x float64) prism { return c.w.prism(x, x+c.hexagon.Value) }

// onBolt reports whether a bolt ends within the blind thread, at least D from
// the bearing face.
func (c capForm) onBolt(b *bolt, seat float64) error {
	end := b.shank.end
	least, most := seat+c.t.D, seat+c.depth.Value
	switch {
	case end < least-1e-9:
		return fieldErr(b.kind, "length", end, "too short for the cap nut, which sits at %s mm: %s", mm(seat),
			lengthBetween(least, most))
	case end > most+1e-9:
		return fieldErr(b.kind, "length", end,
			"meets the end of the thread in the cap nut, which sits at %s mm: %s", mm(seat),
			lengthBetween(least, most))
	}
	return nil
}

func (c capForm) figure(x float64, on *bolt) *figure {
	centre, end := x+c.height.Value-c.dome.Value, x+c.height.Value
	at := c.prism(x)
	g := &figure{kind: c.kind, from: x, to: end, fromPoint: true}
	g.build = func(l look, m *model) {
		h := bore{t: c.t, x0: x, x1: x + c.depth.Value, blind: true}
		holes := h.drilled(l)
		if on != nil {
			h.x0 = on.shank.end // beyond which the thread of the nut is not covered
			holes = append(holes, bore{t: c.t, x0: x, x1: math.Min(h.x0, h.x1)}.hole(l, on))
		}
		m.add(at.solid(l).Less(holes...),
			solid.Cylinder(solid.X(), c.dome.Value, at.x1, centre).Without(solid.At(centre)).Less(holes...),
			solid.Ball(solid.X(), centre, c.dome.Value, centre, end).Without(solid.At(centre)).Less(holes...))
		m.bore(l, h)
	}
	if on == nil {
		g.section = func(st drawing.Style) []*cutaway { return []*cutaway{c.halfSection(at, centre, end, st)} }
		g.hiddenIn = []drawing.Direction{drawing.Front} // how deep it is tapped
		g.annotate = func(b *builder, dir drawing.Direction) { c.annotate(b, dir, x, nil) }
	}
	return g
}

// halfSection cuts the lower half open, so that the thread and how deep it goes
// are seen: hatched to its crest (ISO 6410-1).
func (c capForm) halfSection(at prism, centre, end float64, st drawing.Style) *cutaway {
	r, deep, root := boreRadius(c.t, st), at.x0+c.depth.Value, c.t.D/2
	tip := deep + r/math.Tan(drillPoint/2*math.Pi/180)
	face := corners([2]float64{at.x0, -r}, [2]float64{at.x0, -at.corners() / 2},
		[2]float64{at.x1 - at.drop(), -at.corners() / 2}, [2]float64{at.x1, -at.flats / 2},
		[2]float64{at.x1, -c.dome.Value}, [2]float64{centre, -c.dome.Value}, [2]float64{end, 0}, [2]float64{tip, 0},
		[2]float64{deep, -r})
	face[5].Bulge = quarterTurn
	return &cutaway{half: true, from: at.x0, to: end, face: face,
		thin: [][2]drawing.Point{{drawing.Pt(at.x0, -root), drawing.Pt(deep, -root)}}}
}

func (c capForm) annotate(b *builder, dir drawing.Direction, x float64, on *clamped) {
	at, front := c.prism(x), dir == drawing.Front
	switch {
	case dir != drawing.Front && dir != drawing.SideView:
		if on == nil {
			c.w.dimensionsAcross(b, at, !b.opt.turned, 0)
			if dir == drawing.HeadEnd {
				b.endLabel(c.t, false, 0)
			}
		}
		return
	case on == nil:
		c.annotateAlone(b, at, front)
		return
	}
	rank := drawing.Rank(1)
	if front {
		rank = 0
	}
	b.linear(drawing.Below, rank, label(c.hexagon), x, -at.bearing(front), at.x1, -c.w.flats.Value/2)
	b.add(drawing.RoleDimension, drawing.Leader{Label: threadLabel(c.t),
		Tip: drawing.Pt(x+c.hexagon.Value/2, at.half(front)), Angle: 40, Rank: rank})
	if on.widths {
		c.w.onBolt(b, at, front)
	}
}

// annotateAlone gives the sizes of a nut that stands alone, in an elevation.
func (c capForm) annotateAlone(b *builder, at prism, front bool) {
	rank := drawing.Rank(1)
	if front {
		rank = 0
	}
	x, base := at.x0, at.bearing(front)
	b.linear(drawing.Below, rank, label(c.hexagon), x, -base, at.x1, -c.w.flats.Value/2)
	b.add(drawing.RoleDimension,
		drawing.Radius{Label: drawing.Label{Quantity: c.dome, Symbol: drawing.RadiusSymbol},
			Center: drawing.Pt(x+c.height.Value-c.dome.Value, 0), Radius: c.dome.Value, Angle: -40, Rank: rank})
	b.linear(drawing.Below, rank, label(c.height), x, -base, x+c.height.Value, 0)
	c.w.dimensionsAlong(b, at, front, drawing.Left)
	if b.opt.Hidden || b.opt.Section {
		b.linear(drawing.Below, rank, label(c.depth), x, -c.t.D/2, x+c.depth.Value, -c.t.D/2)
	}
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
