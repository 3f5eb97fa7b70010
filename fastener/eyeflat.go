package fastener

import (
	"math"

	"boltplate/drawing"
	"boltplate/internal/plane"
	"boltplate/internal/solid"
)

const standardEye = "DIN 444"

// eyeRow is a row of DIN 444, form B: least hole, diameter of the eye,
// thickness, and radius between eye and shank; mm.
type eyeRow struct{ d, hole, eye, s, r float64 }

// eyeTable holds DIN 444 (eye bolts, form B) as one published table has it. Its
// thread lengths are those of ISO 888.
func eyeTable() []eyeRow {
	return []eyeRow{
		{5, 5, 12, 6, 2.5},
		{6, 6, 14, 7, 4},
		{8, 8, 18, 9, 4},
		{10, 10, 20, 12, 4},
		{12, 12, 25, 14, 6},
		{16, 16, 32, 17, 6},
		{20, 18, 40, 22, 6},
		{24, 22, 45, 25, 10},
		{27, 25, 50, 27, 10},
		{30, 28, 55, 30, 10},
		{33, 30, 60, 34, 16},
		{36, 32, 65, 38, 16},
		{39, 35, 70, 41, 16},
	}
}

// A flatEye is an eye cut out of a plate, with its filleted root.
type flatEye struct {
	d                            float64 // of the shank
	outside, hole, thick, fillet drawing.Quantity
	shank                        drawing.Quantity // from the centre of the eye to the round shank
	neck                         neck
}

func (e EyeBolt) flat() (*bolt, error) {
	kind, d := e.Kind(), e.Thread.D
	if err := checkLength(kind, "length", e.Length, "the length from the centre of the eye"); err != nil {
		return nil, err
	}
	f := flatEye{d: d}
	if e.Basis == Standard {
		if e.Neck == NeckSquare {
			return nil, &FieldError{kind, "neck", e.Neck.String(), "the bolt of DIN 444 is round under the eye; leave it out, or use basis proportion"}
		}
		std, err := editionFor(kind, e.Thread, standardEye, "")
		if err != nil {
			return nil, err
		}
		row, err := find(kind, std, eyeTable(), d, func(r eyeRow) float64 { return r.d })
		if err != nil {
			return nil, err
		}
		of := func(letter, name string, v float64, column string) drawing.Quantity {
			return drawing.Quantity{Letter: letter, Name: name, Rule: drawing.RuleTable, Value: v, Source: standardEye + ", " + column, Status: drawing.Published}
		}
		f.outside = of("d2", "outside diameter of the eye", row.eye, "diameter of the eye")
		f.hole = of("d4", "hole of the eye", row.hole, "hole, least")
		f.thick = of("B", "thickness of the eye", row.s, "s of form B")
		f.fillet = of("r", "fillet between eye and shank", row.r, "r")
	} else {
		// The letter of the hole is d4, because d3 is that of the root of the
		// thread.
		of := func(letter, name, rule string, k float64, source string) drawing.Quantity {
			return drawing.Quantity{Letter: letter, Name: name, Rule: rule, Value: k * d, Source: source, Status: drawing.Published}
		}
		f.outside = of("d2", "outside diameter of the eye", "2D", 2, "Low, Machine Drawing and Design (1887); DIN 444")
		f.hole = of("d4", "hole of the eye", "D", 1, "Low, Machine Drawing and Design (1887); DIN 444")
		f.thick = of("B", "thickness of the eye", "1.2D", 1.2, "DIN 444")
		f.fillet = of("r", "fillet between eye and shank", "0.5D", 0.5, "DIN 444")
		if e.Neck == NeckSquare {
			f.neck = squareNeck(d)
		}
	}
	r := f.fillet.Value
	f.shank = drawing.Quantity{Letter: "c", Name: "centre of the eye to the end of the fillet", Rule: "√((d2/2 + r)² - (D/2 + r)²)",
		Value: math.Sqrt(math.Pow(f.outside.Value/2+r, 2) - math.Pow(d/2+r, 2)), Source: "follows from the fillet, tangent to eye and shank", Status: drawing.Derived}
	if e.Basis != Standard {
		f.shank.Rule += " = 1.118D"
	}
	b := &bolt{kind: kind, form: f.form()}
	// A short bolt of DIN 444 is threaded up to the eye, so that no length is
	// too short for the standard.
	if err := b.settle(e.Thread, e.Length, e.ThreadLength, false, Proportion, standardEye); err != nil {
		return nil, err
	}
	if b.thread.toHead {
		b.thread.length.Rule = "L - c - 3P"
		if f.neck.present() {
			b.thread.length.Rule = "L - c - N - 3P"
		}
	}
	return b, nil
}

// form returns the eye with the square under it, if there is one.
func (e flatEye) form() *form {
	over := e.outside.Value / 2
	start := e.shank.Value
	f := &form{end: -over, start: start + e.neck.length.Value, hiddenIn: []drawing.Direction{drawing.SideView}}
	f.quantities = []drawing.Quantity{e.outside, e.hole, e.thick, e.fillet, e.shank}
	if e.neck.present() {
		f.quantities = append(f.quantities, e.neck.side, e.neck.length)
	}
	f.build = e.build
	f.originOf = func(dir drawing.Direction, st drawing.Style) drawing.Point {
		// The centre line of the hole goes on as the extension line.
		h := over
		if dir == drawing.SideView {
			h = e.thick.Value / 2
		}
		return drawing.Pt(0, -h-st.Part(drawing.CentreOverrun))
	}
	f.annotate = e.annotate
	return f
}

// touch returns the direction from the centre of the eye, and of the upper
// fillet, in which they touch each other: degrees.
func (e flatEye) touch() (fromEye, fromFillet float64) {
	a := plane.Degrees(e.shank.Value, e.d/2+e.fillet.Value)
	return a, a + 180
}

// build adds the eye and its root as one plate, and the square.
func (e flatEye) build(l look, m *model) {
	x, w, t := e.shank.Value, e.d/2, e.thick.Value/2
	over, hole := e.outside.Value/2, e.hole.Value/2
	a, _ := e.touch()
	sin, cos := plane.Sincos(a)
	bulge := func(sweep float64) float64 { return math.Tan(sweep / 4 * math.Pi / 180) }
	outline := []solid.Vertex{
		{X: x, Y: -w},
		{X: x, Y: w, Bulge: -bulge(90 - a)},
		{X: over * cos, Y: over * sin, Bulge: bulge(360 - 2*a)},
		{X: over * cos, Y: -over * sin, Bulge: -bulge(90 - a)},
	}
	round := []solid.Vertex{{X: hole, Bulge: 1}, {X: -hole, Bulge: 1}}
	plate := solid.Extrude(solid.V(0, 0, 0), solid.V(1, 0, 0), solid.V(0, 1, 0), -t, t, outline, round)
	if !e.neck.present() {
		m.add(plate)
		return
	}
	// The square is as wide as the root: above and below they are one face,
	// and of the corner of the root only its ends beside the square are left.
	s := e.neck.side.Value / 2
	up, z := solid.V(0, 1, 0), solid.V(0, 0, 1)
	plate = plate.Without(solid.InPlane(solid.V(0, w, 0), up), solid.InPlane(solid.V(0, -w, 0), up))
	for _, y := range [2]float64{w, -w} {
		m.mark(solid.Segment(solid.V(x, y, s), solid.V(x, y, t)), solid.Segment(solid.V(x, y, -t), solid.V(x, y, -s)))
	}
	end := x + e.neck.length.Value
	m.add(plate, solid.Box(solid.V(x, -s, -s), solid.V(end, s, s)).Without(solid.InPlane(solid.V(x, 0, 0), solid.V(1, 0, 0)).Along(z)))
	m.squareFlats(l, e.neck.side.Value, x, end, false)
}

func (e flatEye) annotate(b *builder, dir drawing.Direction, rank drawing.Rank) {
	over, t := e.outside.Value/2, e.thick.Value/2
	switch dir {
	case drawing.Front:
		b.centreLine(0, over)
		b.add(drawing.RoleDimension, drawing.Diameter{Label: diameterLabel(e.outside), Radius: over, Angle: 130})
		b.add(drawing.RoleDimension, drawing.Diameter{Label: diameterLabel(e.hole), Radius: e.hole.Value / 2, Angle: 155})
		// On the side of the centre, which is outside the material.
		_, a := e.touch()
		a = (a + 270) / 2
		r := label(e.fillet)
		r.Symbol = drawing.RadiusSymbol
		tip := drawing.Pt(e.shank.Value, e.d/2+e.fillet.Value).Add(drawing.Polar(e.fillet.Value, a))
		b.add(drawing.RoleDimension, drawing.Leader{Label: r, Tip: tip, Angle: a - 180})
	case drawing.SideView:
		b.centreLine(0, t)
		b.linear(drawing.Left, 0, label(e.thick), -over, -t, -over, t)
	case drawing.HeadEnd, drawing.PointEnd:
		b.linear(drawing.Above, 1, label(e.thick), -t, over, t, over)
		b.linear(drawing.Left, 1, diameterLabel(e.outside), -t, -over, -t, over)
	}
	if n := e.neck; n.present() && (dir == drawing.Front || dir == drawing.SideView) {
		x, h := e.shank.Value, e.d/2
		from := h
		if dir == drawing.SideView {
			from = t
		}
		b.linear(drawing.Below, rank, label(n.length), x, -from, x+n.length.Value, -h)
		side := label(n.side)
		side.Symbol = drawing.SquareSymbol
		b.add(drawing.RoleDimension, drawing.Leader{Label: side, Tip: drawing.Pt(x+n.length.Value/2, h), Angle: 65, Rank: rank})
	}
}
