package fastener

import (
	"fmt"
	"math"

	"boltplate/drawing"
	"boltplate/internal/plane"
	"boltplate/internal/solid"
)

const standardEye = "DIN 444"

const (
	nameEye      = "outside diameter of the eye"
	nameEyeHole  = "hole of the eye"
	nameEyeThick = "thickness of the eye"
	nameFillet   = "fillet between eye and shank"
)

// The sizes of a flat eye by proportion. The letter of the hole is d4, because
// d3 is that of the root of the thread.
var (
	eyeRules = groupOf(
		published("d2", nameEye, "2D", low+"; DIN 444"),
		published("d4", nameEyeHole, "D", low+"; DIN 444"),
		practiceBy("B", nameEyeThick, "1.2D", "DIN 444, rounded"),
		practice("r", nameFillet, "0.5D"))
	eyeShank = groupOf(follows("c", "centre of the eye to the end of the fillet", "√((d2/2 + r)² - (D/2 + r)²)",
		"the fillet, tangent to eye and shank"))
)

// eyeRow is a row of DIN 444, form B: least hole, diameter of the eye,
// thickness, and radius between eye and shank; mm.
type eyeRow struct {
	d, hole, eye, s, r float64
	status             drawing.Status
}

func (r eyeRow) diameter() float64 { return r.d }

// eyes holds DIN 444 (eye bolts, form B) as one published table has it. Its
// thread lengths are those of ISO 888.
var eyes = []eyeRow{
	{5, 5, 12, 6, 2.5, isPublished},
	{6, 6, 14, 7, 4, isPublished},
	{8, 8, 18, 9, 4, isPublished},
	{10, 10, 20, 12, 4, isPublished},
	{12, 12, 25, 14, 6, isPublished},
	{16, 16, 32, 17, 6, isPublished},
	{20, 18, 40, 22, 6, isPublished},
	{24, 22, 45, 25, 10, isPublished},
	{27, 25, 50, 27, 10, isPublished},
	{30, 28, 55, 30, 10, isPublished},
	{33, 30, 60, 34, 16, isPublished},
	{36, 32, 65, 38, 16, isPublished},
	{39, 35, 70, 41, 16, isPublished},
}

// Columns of DIN 444.
var (
	columnEye       = column("d2", nameEye, standardEye+", diameter of the eye")
	columnEyeHole   = column("d4", nameEyeHole, standardEye+", hole, least")
	columnEyeThick  = column("B", nameEyeThick, standardEye+", s of form B")
	columnEyeFillet = column("r", nameFillet, standardEye+", r")
)

// A flatEye is an eye cut out of a plate, with its filleted root.
type flatEye struct {
	d                            float64 // of the shank
	outside, hole, thick, fillet drawing.Quantity
	shank                        drawing.Quantity // from the centre of the eye to the round shank
	neck                         neck
}

func (e EyeBolt) flat() (*bolt, error) {
	b := newBolt(e.Kind(), "flat", e.Extra, e.Thread)
	if err := b.begin(e.Length, e.Basis, "the length from the centre of the eye"); err != nil {
		return nil, err
	}
	z := &b.z
	if err := e.flatSizes(b); err != nil {
		return nil, err
	}
	f := flatEye{d: z.d, outside: z.size("d2"), hole: z.size("d4"), thick: z.size("B"), fillet: z.size("r"),
		shank: z.size("c"), neck: b.neck}
	b.neck = neck{} // it is a part of the head
	if err := f.check(z); err != nil {
		return nil, err
	}
	b.form = f.form()
	b.fits.Eye = EyeFit{Outside: f.outside.Value, Thickness: f.thick.Value}
	// A short bolt of DIN 444 is threaded up to the eye, so that no length is
	// too short for the standard.
	return b, b.settle(wish{given: e.ThreadLength, standard: standardEye})
}

// flatSizes sets the eye and what is under it out.
func (e EyeBolt) flatSizes(b *bolt) error {
	z := &b.z
	if e.Basis == Standard {
		if e.Neck == NeckSquare {
			return &FieldError{b.kind, "neck", e.Neck.String(),
				"the bolt of DIN 444 is round under the eye; leave it out, or use basis proportion"}
		}
		std, err := editionFor(b.kind, e.Thread, standardEye, "")
		if err != nil {
			return err
		}
		row, err := find(b.kind, std, eyes, e.Thread.D)
		if err != nil {
			return err
		}
		z.tabled(columnEye, row.eye, row.status)
		z.tabled(columnEyeHole, row.hole, row.status)
		z.tabled(columnEyeThick, row.s, row.status)
		z.tabled(columnEyeFillet, row.r, row.status)
	} else {
		z.use(eyeRules)
	}
	z.use(eyeShank)
	if e.Neck == NeckSquare {
		return b.squareNeck(squareNeck)
	}
	return z.solve()
}

// check refuses sizes that cannot be drawn.
func (e flatEye) check(z *sizer) error {
	if err := z.needs("d2", "d4"); err != nil {
		return err
	}
	if err := z.atLeast("B", "D"); err != nil {
		return err
	}
	if e.neck.present() && e.neck.side.Value > e.thick.Value {
		return z.refuse(z.at("S"), fmt.Sprintf("must be at most the thickness of the eye, B = %s",
			mm(e.thick.Value)))
	}
	return z.needs("d2", "D")
}

// form returns the eye with the square under it, if there is one.
func (e flatEye) form() *form {
	over := e.outside.Value / 2
	start := e.shank.Value
	f := &form{end: -over, start: start + e.neck.length.Value, hiddenIn: []drawing.Direction{drawing.SideView}}
	f.plain, f.plainLetter = start, "c"
	if e.neck.present() {
		f.plain, f.plainLetter = f.start, "c - N"
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
		m.mark(solid.Segment(solid.V(x, y, s), solid.V(x, y, t)),
			solid.Segment(solid.V(x, y, -t), solid.V(x, y, -s)))
	}
	end := x + e.neck.length.Value
	m.add(plate, solid.Box(solid.V(x, -s, -s), solid.V(end, s, s)).Without(solid.InPlane(solid.V(x, 0, 0),
		solid.V(1, 0, 0)).Along(z)))
	m.squareFlats(l, e.neck.side.Value, x, end, false)
}

func (e flatEye) annotate(b *builder, dir drawing.Direction, rank drawing.Rank) {
	over, t := e.outside.Value/2, e.thick.Value/2
	switch dir {
	case drawing.Front:
		b.centreLine(0, over)
		b.add(drawing.RoleDimension, drawing.Diameter{Label: diameterLabel(e.outside), Radius: over, Angle: 130})
		b.add(drawing.RoleDimension, drawing.Diameter{Label: diameterLabel(e.hole),
			Radius: e.hole.Value / 2, Angle: 155})
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
		b.add(drawing.RoleDimension, drawing.Leader{Label: side, Tip: drawing.Pt(x+n.length.Value/2, h),
			Angle: 65, Rank: rank})
	}
}
