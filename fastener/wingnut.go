package fastener

import (
	"fmt"
	"math"

	"boltplate/drawing"
	"boltplate/internal/plane"
	"boltplate/internal/solid"
	"boltplate/thread"
)

// WingNut is a nut to turn by hand: a conical body with two flat wings, whose
// ends are round. The wings stand up and down in the front view. The origin is
// at the bearing face. All sizes are by proportion.
type WingNut struct {
	Thread thread.Thread
	Extra
}

func wingNutKind() KindInfo {
	return KindInfo{Name: "wing-nut", Title: "wing nut", Views: allViews(), Default: nutViews(),
		variants: []variant{{families: []string{familyNuts}, groups: []*group{wingRules}}},
		how: map[stage]string{
			stageShape:      "Draw the circles of the body about the axis, and the wings as strips to either side",
			stageHead:       "Draw the body, narrower at its outer end, and set off how far the wings reach",
			stageHeadCurves: "Swing the round ends of the wings about their centres, and draw tangents from there to the body"},
		make: func(s Spec) Fastener { return WingNut{Thread: s.Thread, Extra: s.Extra} }}
}

// wingRules are the sizes of a wing nut.
var wingRules = groupOf(
	practice("H", "height of the body", "D"),
	practice("d5", "body diameter at the bearing face", "1.6D"),
	practice("d6", "body diameter at the other end", "1.3D"),
	practice("Hw", "height of the wings", "2D"),
	practice("Sw", "span of the wings", "4D"),
	practice("tw", "thickness of the wings", "0.35D"),
	practice("Rw", "radius of the ends of the wings", "0.5D"))

// Kind returns "wing-nut".
func (WingNut) Kind() string { return "wing-nut" }

// Designation returns for instance "Wing nut M10".
func (n WingNut) Designation() string { return "Wing nut " + n.Thread.String() + n.supplied() }

// Validate reports what is wrong with the description, as a *FieldError.
func (n WingNut) Validate() error {
	_, err := n.resolve()
	return err
}

// A wing is a wing nut with settled sizes.
type wing struct {
	t                                               thread.Thread
	height, base, top, total, span, thickness, tips drawing.Quantity
}

func (n WingNut) resolve() (*nut, error) {
	kind := n.Kind()
	if err := checkThread(kind, n.Thread); err != nil {
		return nil, err
	}
	r := newNut(kind, "", n.Extra, n.Thread)
	r.z.use(wingRules)
	if err := r.finish(); err != nil {
		return nil, err
	}
	z := &r.z
	w := wing{t: n.Thread, height: r.height, base: z.size("d5"), top: z.size("d6"), total: z.size("Hw"),
		span: z.size("Sw"), thickness: z.size("tw"), tips: z.size("Rw")}
	r.form = &nutForm{
		extra:    []string{"d5", "d6", "Hw", "Sw", "tw", "Rw"},
		base:     func(bool) float64 { return w.base.Value / 2 },
		top:      func(bool) float64 { return w.top.Value / 2 },
		figure:   func(x float64, on *bolt) *figure { return w.figure(kind, x, on) },
		annotate: w.annotate,
		inPlan:   true,
	}
	r.fits.Bears = w.base.Value
	return r, w.check(z)
}

// check refuses sizes that cannot be drawn: the wings start on the body, which
// is a cone that narrows, and their ends stand clear of it.
func (w wing) check(z *sizer) error {
	d := w.t.D
	switch {
	case w.top.Value < 1.2*d:
		return z.refuse(z.at("d6"), fmt.Sprintf("must be at least 1.2D = %s", mm(1.2*d)))
	case w.base.Value < w.top.Value:
		return z.refuse(z.at("d5"), fmt.Sprintf("must be at least that at the other end, d6 = %s", mm(w.top.Value)))
	case w.height.Value < 0.8*d:
		return z.refuse(z.at("H"), fmt.Sprintf("must be at least 0.8D = %s, as far as the wings reach", mm(0.8*d)))
	case w.span.Value/2 < w.base.Value/2+2*w.tips.Value:
		return z.refuse(z.at("Sw"), fmt.Sprintf("must be at least %s, body and round ends",
			mm(w.base.Value+4*w.tips.Value)))
	case w.total.Value < w.height.Value || w.total.Value < 2*w.tips.Value:
		return z.refuse(z.at("Hw"), fmt.Sprintf("must be at least %s",
			mm(math.Max(w.height.Value, 2*w.tips.Value))))
	case w.thickness.Value > d:
		return z.refuse(z.at("tw"), fmt.Sprintf("must be at most D = %s", mm(d)))
	}
	return nil
}

// tip returns the middle of the round end of a wing, from the bearing face and
// from the axis.
func (w wing) tip() plane.Vec {
	return plane.Vec{X: w.total.Value - w.tips.Value, Y: w.span.Value/2 - w.tips.Value}
}

// tangent returns where a tangent from p touches the round end of a wing: the
// one on the left of the way there, or on the right.
func (w wing) tangent(p plane.Vec, left bool) plane.Vec {
	c, r := w.tip(), w.tips.Value
	dx, dy := c.X-p.X, c.Y-p.Y
	d := math.Hypot(dx, dy)
	turn := math.Asin(r/d) * 180 / math.Pi
	if !left {
		turn = -turn
	}
	s, k := plane.Sincos(plane.Degrees(dx, dy) + turn)
	l := math.Sqrt(d*d - r*r)
	return plane.Vec{X: p.X + l*k, Y: p.Y + l*s}
}

// roots returns where the outlines of a wing start, within the wall of the
// body.
func (w wing) roots() (outer, inner plane.Vec) {
	d := w.t.D
	return plane.Vec{X: 0.15 * d, Y: 0.55 * d}, plane.Vec{X: 0.45 * d, Y: 0.55 * d}
}

func (w wing) figure(kind string, x float64, on *bolt) *figure {
	g := &figure{kind: kind, from: x, to: x + w.total.Value, fromPoint: true}
	g.build = func(l look, m *model) {
		h := bore{t: w.t, x0: x, x1: x + w.height.Value}
		m.add(solid.Cone(solid.X(), x, w.base.Value/2, h.x1, w.top.Value/2).Less(h.hole(l, on)))
		if on == nil {
			m.bore(l, h)
		}
		w.wings(m, x)
	}
	if on == nil {
		g.annotate = func(b *builder, dir drawing.Direction) { w.annotate(b, dir, x, nil) }
		g.pictorial = func(d *builder) { w.dimensionPictorial(d, x) }
	}
	return g
}

// wings adds the two wings, and where they meet the body.
func (w wing) wings(m *model, x float64) {
	outer, inner := w.roots()
	t1, t2 := w.tangent(outer, true), w.tangent(inner, false)
	c := w.tip()
	sweep := plane.Sweep(plane.Degrees(t2.X-c.X, t2.Y-c.Y), plane.Degrees(t1.X-c.X, t1.Y-c.Y))
	profile := []solid.Vertex{{X: outer.X, Y: outer.Y}, {X: inner.X, Y: inner.Y},
		{X: t2.X, Y: t2.Y, Bulge: math.Tan(sweep / 4 * math.Pi / 180)}, {X: t1.X, Y: t1.Y}}
	half := w.thickness.Value / 2
	r0, k := w.base.Value/2, (w.top.Value-w.base.Value)/2/w.height.Value
	body := solid.Cone(solid.X(), x, r0, x+w.height.Value, w.top.Value/2)
	// Where the plane of an edge of the wing, which runs from p to q, meets the
	// cone at z: (m u + b)^2 + z^2 = (r0 + k u)^2.
	meet := func(p, q plane.Vec, z float64) (u, y float64) {
		m := (q.Y - p.Y) / (q.X - p.X)
		b := p.Y - m*p.X
		k2, k1, k0 := m*m-k*k, 2*(m*b-k*r0), b*b+z*z-r0*r0
		u = (-k1 + math.Sqrt(k1*k1-4*k2*k0)) / (2 * k2)
		return u, m*u + b
	}
	for _, side := range [2]float64{1, -1} {
		m.add(solid.Extrude(solid.V(x, 0, 0), solid.V(1, 0, 0), solid.V(0, side, 0), -half, half, profile))
		var corner [2][2]solid.Vec // of the foot of the wing, by edge and by flat
		for i, e := range [2][2]plane.Vec{{outer, t1}, {inner, t2}} {
			for j, z := range [2]float64{-half, half} {
				u, y := meet(e[0], e[1], z)
				corner[i][j] = solid.V(x+u, side*y, z)
			}
			across := solid.V(e[1].Y-e[0].Y, -side*(e[1].X-e[0].X), 0)
			m.mark(body.Section(corner[i][0], corner[i][1], across))
		}
		for j := range 2 {
			m.mark(body.Section(corner[0][j], corner[1][j], solid.V(0, 0, 1)))
		}
	}
}

func (w wing) annotate(b *builder, dir drawing.Direction, x float64, on *clamped) {
	if on != nil {
		return
	}
	r0, r1, end := w.base.Value/2, w.top.Value/2, x+w.height.Value
	reach, half, c := w.span.Value/2, w.thickness.Value/2, w.tip()
	switch dir {
	case drawing.Front:
		b.linear(drawing.Below, 1, label(w.height), x, -r0, end, -r1)
		b.linear(drawing.Below, 0, label(w.total), x, -r0, x+w.total.Value, -c.Y)
		b.linear(drawing.Left, 0, diameterLabel(w.base), x, -r0, x, r0)
		b.centreMark(drawing.Pt(x+c.X, c.Y))
		b.centreMark(drawing.Pt(x+c.X, -c.Y))
		b.linear(drawing.Right, 0, label(w.span), x+c.X, -reach, x+c.X, reach)
		b.add(drawing.RoleDimension,
			drawing.Radius{Label: drawing.Label{Quantity: w.tips, Symbol: drawing.RadiusSymbol},
				Center: drawing.Pt(x+c.X, c.Y), Radius: w.tips.Value, Angle: 60})
	case drawing.SideView:
		b.linear(drawing.Below, 0, label(w.height), x, -r0, end, -r1)
		b.linear(drawing.Left, 1, diameterLabel(w.base), x, -r0, x, r0)
		b.linear(drawing.Right, 0, label(w.thickness), x+w.total.Value, -half, x+w.total.Value, half)
	default:
		b.endLabel(w.t, false, 0)
		if dir == drawing.PointEnd {
			b.add(drawing.RoleDimension, drawing.Diameter{Label: diameterLabel(w.top), Radius: r1, Angle: -40})
		}
		if b.opt.turned {
			b.linear(drawing.Right, 1, label(w.thickness), reach, -half, reach, half)
		} else {
			b.linear(drawing.Above, 1, label(w.thickness), -half, reach, half, reach)
		}
	}
}

// Quantities returns the dimensions of the nut with their rules and sources.
func (n WingNut) Quantities() ([]drawing.Quantity, error) { return nutQuantities(n) }

// View returns one view of the nut: front (on the wings), side (on their
// edges), head (on the bearing face), point or isometric.
func (n WingNut) View(dir drawing.Direction, opt Options) (drawing.View, error) {
	return nutView(n, dir, opt)
}
