package fastener

import (
	"fmt"

	"boltplate/drawing"
	"boltplate/internal/solid"
	"boltplate/thread"
)

// Washer is a plain washer for a bolt of the given thread; only its diameter
// counts. Its origin is at the face towards the clamped part. Chamfered washers
// have the chamfer on the other face. By proportion there are normal washers and
// chamfered ones, and the chamfer, whose size is from memory, is by proportion
// on either basis.
type Washer struct {
	Thread thread.Thread
	Form   WasherForm
	Basis  Basis
	Extra
}

// A WasherForm says which of the standards of plain washers a washer is of.
type WasherForm uint8

// The forms.
const (
	WasherNormal    WasherForm = iota // ISO 7089
	WasherChamfered                   // ISO 7090
	WasherGradeC                      // ISO 7091, with a wider hole
	WasherLarge                       // ISO 7093-1
	washerFormCount
)

// washerForms are the words of a schedule for them.
func washerForms() []string { return []string{"normal", "chamfered", "grade-c", "large"} }

// String returns the word of a schedule: normal, chamfered, grade-c or large.
func (f WasherForm) String() string {
	if f < washerFormCount {
		return washerForms()[f]
	}
	return "unknown form"
}

func washerFormNamed(word string) WasherForm {
	for i, w := range washerForms() {
		if is(word, w) {
			return WasherForm(i)
		}
	}
	return WasherNormal
}

func washerKind() KindInfo {
	return KindInfo{Name: "washer", Title: "plain washer",
		Options: []Option{choice("form", washerForms()...), optBasis()}, Views: allViews(), Default: nutViews(),
		variants: []variant{{families: []string{familyWashers}, groups: []*group{washerRules}},
			{families: []string{familyWashers}, groups: []*group{washerRules, washerChamfer}}},
		how: map[stage]string{
			stageShape: "Draw the circles of hole and rim about the axis"},
		make: func(s Spec) Fastener {
			return Washer{Thread: s.Thread, Form: washerFormNamed(s.Form), Basis: s.Basis, Extra: s.Extra}
		}}
}

// washerRules are the sizes of a plain washer.
var washerRules = groupOf(
	practice("d2", nameOutside, "2D + 3"),
	practice("d1", nameHole, "D + 1"),
	practice("t", nameThickness, "D/8"))

// washerChamfer is the chamfer of a washer. ISO 7090 has 30 degrees over a
// quarter to half of the thickness (from memory).
var washerChamfer = groupOf(fromMemory("e", "height of the chamfer", "0.25t"),
	fromMemory("a", "chamfer angle", "30°").angle().fix())

const (
	nameOutside   = "outside diameter"
	nameHole      = "hole diameter"
	nameThickness = "thickness"
)

// A washerRow is a row of a standard of plain washers: hole d1, outside diameter
// d2, thickness h, mm.
type washerRow struct {
	d, d1, d2, h float64
	status       drawing.Status
}

func (r washerRow) diameter() float64 { return r.d }

// A washerStandard is a standard of plain washers.
type washerStandard struct {
	name                     string
	title                    string
	outside, hole, thickness *size
	rows                     []washerRow
}

func washerStandardOf(name, title string, rows []washerRow) washerStandard {
	return washerStandard{name, title, column("d2", nameOutside, name+", d2 max"),
		column("d1", nameHole, name+", d1 min"), column("t", nameThickness, name+", h nominal"), rows}
}

// washers are the standards of plain washers, by form.
var washers = [washerFormCount]washerStandard{
	WasherNormal: washerStandardOf("ISO 7089:2000", "Plain washer", []washerRow{
		{3, 3.2, 7, 0.5, isMemory},
		{4, 4.3, 9, 0.8, isMemory},
		{5, 5.3, 10, 1, isPublished},
		{6, 6.4, 12, 1.6, isPublished},
		{8, 8.4, 16, 1.6, isPublished},
		{10, 10.5, 20, 2, isPublished},
		{12, 13, 24, 2.5, isPublished},
		{14, 15, 28, 2.5, isPublished},
		{16, 17, 30, 3, isPublished},
		{18, 19, 34, 3, isPublished},
		{20, 21, 37, 3, isPublished},
		{22, 23, 39, 3, isPublished},
		{24, 25, 44, 4, isPublished},
		{27, 28, 50, 4, isPublished},
		{30, 31, 56, 4, isPublished},
		{33, 34, 60, 5, isMemory},
		{36, 37, 66, 5, isMemory},
		{39, 42, 72, 6, isMemory},
		{42, 45, 78, 8, isMemory},
		{45, 48, 85, 8, isMemory},
		{48, 52, 92, 8, isMemory},
		{52, 56, 98, 8, isMemory},
		{56, 62, 105, 10, isMemory},
		{60, 66, 110, 10, isMemory},
		{64, 70, 115, 10, isMemory},
	}),
	WasherChamfered: washerStandardOf("ISO 7090:2000", "Chamfered plain washer", []washerRow{
		{5, 5.3, 10, 1, isPublished},
		{6, 6.4, 12, 1.6, isPublished},
		{8, 8.4, 16, 1.6, isPublished},
		{10, 10.5, 20, 2, isPublished},
		{12, 13, 24, 2.5, isPublished},
		{14, 15, 28, 2.5, isPublished},
		{16, 17, 30, 3, isPublished},
		{18, 19, 34, 3, isPublished},
		{20, 21, 37, 3, isPublished},
		{22, 23, 39, 3, isPublished},
		{24, 25, 44, 4, isPublished},
		{27, 28, 50, 4, isPublished},
		{30, 31, 56, 4, isPublished},
		{33, 34, 60, 5, isMemory},
		{36, 37, 66, 5, isMemory},
		{39, 42, 72, 6, isMemory},
		{42, 45, 78, 8, isMemory},
		{45, 48, 85, 8, isMemory},
		{48, 52, 92, 8, isMemory},
		{52, 56, 98, 8, isMemory},
		{56, 62, 105, 10, isMemory},
		{60, 66, 110, 10, isMemory},
		{64, 70, 115, 10, isMemory},
	}),
	WasherGradeC: washerStandardOf("ISO 7091:2000", "Plain washer, grade C,", []washerRow{
		{5, 5.5, 10, 1, isMemory},
		{6, 6.6, 12, 1.6, isMemory},
		{8, 9, 16, 1.6, isMemory},
		{10, 11, 20, 2, isMemory},
		{12, 13.5, 24, 2.5, isMemory},
		{14, 15.5, 28, 2.5, isMemory},
		{16, 17.5, 30, 3, isMemory},
		{18, 20, 34, 3, isMemory},
		{20, 22, 37, 3, isMemory},
		{22, 24, 39, 3, isMemory},
		{24, 26, 44, 4, isMemory},
		{27, 30, 50, 4, isMemory},
		{30, 33, 56, 4, isMemory},
		{33, 36, 60, 5, isMemory},
		{36, 39, 66, 5, isMemory},
		{39, 42, 72, 6, isMemory},
		{42, 45, 78, 8, isMemory},
		{45, 48, 85, 8, isMemory},
		{48, 52, 92, 8, isMemory},
		{52, 56, 98, 8, isMemory},
		{56, 62, 105, 10, isMemory},
		{60, 66, 110, 10, isMemory},
		{64, 70, 115, 10, isMemory},
	}),
	WasherLarge: washerStandardOf("ISO 7093-1:2000", "Large plain washer", []washerRow{
		{3, 3.2, 9, 0.8, isMemory},
		{4, 4.3, 12, 1, isMemory},
		{5, 5.3, 15, 1, isMemory},
		{6, 6.4, 18, 1.6, isMemory},
		{8, 8.4, 24, 2, isMemory},
		{10, 10.5, 30, 2.5, isPublished},
		{12, 13, 37, 3, isMemory},
		{14, 15, 44, 3, isMemory},
		{16, 17, 50, 3, isMemory},
		{18, 19, 56, 4, isMemory},
		{20, 21, 60, 4, isMemory},
		{22, 23, 66, 5, isMemory},
		{24, 25, 72, 5, isMemory},
		{27, 30, 85, 6, isMemory},
		{30, 33, 92, 6, isMemory},
		{33, 36, 105, 6, isMemory},
		{36, 39, 110, 8, isMemory},
	}),
}

// washerSizes are the settled sizes of a washer.
type washerSizes struct {
	d                        float64 // of the bolt it is for
	z                        sizer
	outside, hole, thickness drawing.Quantity
	// of the chamfer: its height along the axis, zero for none; and its angle
	chamfer, angle drawing.Quantity
	// form makes a washer other than a plain one, its face at x.
	form func(x float64, onBolt bool) *figure
}

// Kind returns "washer".
func (Washer) Kind() string { return "washer" }

// Designation returns for instance "Plain washer for M20"; on basis Standard
// "Plain washer ISO 7089 - 20".
func (w Washer) Designation() string {
	s := washers[min(w.Form, washerFormCount-1)]
	if w.Basis == Standard {
		return s.title + " " + standardPrefix(w.Basis, w.Thread, s.name, "") + mm(w.Thread.D) + w.supplied()
	}
	return s.title + " for M" + mm(w.Thread.D) + w.supplied()
}

// Validate reports what is wrong with the description, as a *FieldError.
func (w Washer) Validate() error {
	_, err := w.resolve()
	return err
}

func (w Washer) resolve() (*washerSizes, error) {
	kind := w.Kind()
	if err := checkCommon(kind, w.Thread, w.Basis, ByBasis, false); err != nil {
		return nil, err
	}
	switch {
	case w.Form >= washerFormCount:
		return nil, &FieldError{kind, "form", w.Form.String(),
			"use WasherNormal, WasherChamfered, WasherGradeC or WasherLarge"}
	case w.Basis != Standard && w.Form > WasherChamfered:
		return nil, &FieldError{kind, "form", w.Form.String(), "is one of a standard; use basis standard as well"}
	}
	s := &washerSizes{d: w.Thread.D, z: newSizer(kind, "", w.Rules, w.Thread)}
	z := &s.z
	if w.Basis == Standard {
		std := &washers[w.Form]
		row, err := find(kind, edition{name: std.name}, std.rows, w.Thread.D)
		if err != nil {
			return nil, err
		}
		z.tabled(std.outside, row.d2, row.status).max = row.d2
		z.tabled(std.hole, row.d1, row.status).min = row.d1
		z.tabled(std.thickness, row.h, row.status)
	} else {
		z.use(washerRules)
	}
	if w.Form == WasherChamfered {
		z.use(washerChamfer)
	}
	if err := s.finish(); err != nil {
		return nil, err
	}
	if w.Form == WasherChamfered {
		s.chamfer, s.angle = z.size("e"), z.size("a")
		if s.chamfer.Value >= s.thickness.Value {
			return nil, z.refuse(z.at("e"), fmt.Sprintf("must be less than the thickness, t = %s",
				mm(s.thickness.Value)))
		}
		if s.chamferIn() >= (s.outside.Value-s.hole.Value)/2 {
			return nil, z.refuse(z.at("e"), fmt.Sprintf("at %s° leaves no face; it must be less than %s",
				mm(s.angle.Value), mm((s.outside.Value-s.hole.Value)/2*tanChamfer)))
		}
	}
	return s, nil
}

func (s *washerSizes) quantities() []drawing.Quantity { return quantitiesOf(s.z.list) }

// finish works the sizes out.
func (s *washerSizes) finish() error {
	z := &s.z
	if err := z.solve(); err != nil {
		return err
	}
	s.outside, s.hole, s.thickness = z.size("d2"), z.size("d1"), z.size("t")
	if err := z.needs("d1", "D"); err != nil {
		return err
	}
	return z.needs("d2", "d1")
}

// Quantities returns the dimensions of the washer with their rules and
// sources.
func (w Washer) Quantities() ([]drawing.Quantity, error) {
	s, err := w.resolve()
	if err != nil {
		return nil, err
	}
	return s.quantities(), nil
}

// View returns one view of the washer: front, side, which is the same, head or
// point, which is the same, or isometric.
func (w Washer) View(dir drawing.Direction, opt Options) (drawing.View, error) {
	s, err := w.resolve()
	if err != nil {
		return drawing.View{}, err
	}
	v, err := s.figure(0, false).view(dir, opt)
	return worded(v, opt, s.quantities), err
}

// figure returns the washer with its face at x.
func (s *washerSizes) figure(x float64, onBolt bool) *figure {
	g := s.shape(x, onBolt)
	if !onBolt {
		g.pictorial = func(d *builder) { s.dimensionPictorial(d, x) }
	}
	return g
}

func (s *washerSizes) shape(x float64, onBolt bool) *figure {
	if s.form != nil {
		return s.form(x, onBolt)
	}
	end := x + s.thickness.Value
	g := &figure{kind: "washer", from: x, to: end, fromPoint: true}
	hole := solid.Cylinder(solid.X(), s.hole.Value/2, x, end)
	g.build = func(_ look, m *model) {
		r, e := s.outside.Value/2, s.chamfer.Value
		if e == 0 {
			m.add(solid.Cylinder(solid.X(), r, x, end).Less(hole))
			return
		}
		m.add(solid.Cylinder(solid.X(), r, x, end-e).Less(hole),
			solid.Cone(solid.X(), end-e, r, end, r-s.chamferIn()).Less(hole).Without(solid.At(end-e)))
	}
	if !onBolt {
		g.annotate = s.annotate
	}
	return g
}

// chamferIn returns how far the chamfer reaches in from the outside.
func (s *washerSizes) chamferIn() float64 { return s.chamfer.Value / tanChamfer }

// annotate gives the sizes of a plain washer that stands alone.
func (s *washerSizes) annotate(b *builder, dir drawing.Direction) {
	r, t := s.outside.Value/2, s.thickness.Value
	switch dir {
	case drawing.Front, drawing.SideView:
		b.linear(drawing.Below, 0, label(s.thickness), 0, -r, t, -r)
		b.linear(drawing.Right, 1, diameterLabel(s.outside), t-s.chamfer.Value, -r, t-s.chamfer.Value, r)
		if e := s.chamfer.Value; e > 0 {
			b.linear(drawing.Above, 0, label(s.chamfer), t-e, r, t, r-s.chamferIn())
			b.add(drawing.RoleDimension, drawing.Leader{Label: label(s.angle),
				Tip: drawing.Pt(t-e/2, r-s.chamferIn()/2), Angle: 30})
		}
	default:
		b.linear(drawing.Below, 0, diameterLabel(s.outside), -r, 0, r, 0)
		b.add(drawing.RoleDimension, drawing.Diameter{Label: diameterLabel(s.hole),
			Radius: s.hole.Value / 2, Angle: 50})
	}
}
