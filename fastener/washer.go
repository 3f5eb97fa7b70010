package fastener

import (
	"boltplate/drawing"
	"boltplate/internal/solid"
	"boltplate/thread"
)

// Washer is a plain washer for a bolt of the given thread; only its diameter
// counts. Its origin is at the face towards the clamped part.
type Washer struct {
	Thread thread.Thread
	Basis  Basis
}

func washerKind() KindInfo {
	return KindInfo{Name: "washer", Title: "plain washer", Options: []Option{optBasis()}, Views: allViews(), Default: nutViews(),
		make: func(s Spec) Fastener { return Washer{Thread: s.Thread, Basis: s.Basis} }}
}

const standardWasher = "ISO 7089:2000"

type washerRow struct {
	d, d1, d2, h float64
	memory       bool
}

// washerTable holds ISO 7089:2000 (plain washers, normal series): hole d1,
// outside diameter d2, thickness h, mm. Rows marked are from memory,
// unverified.
func washerTable() []washerRow {
	const memory = true
	return []washerRow{
		{3, 3.2, 7, 0.5, memory},
		{4, 4.3, 9, 0.8, memory},
		{5, 5.3, 10, 1, false},
		{6, 6.4, 12, 1.6, false},
		{8, 8.4, 16, 1.6, false},
		{10, 10.5, 20, 2, false},
		{12, 13, 24, 2.5, false},
		{14, 15, 28, 2.5, false},
		{16, 17, 30, 3, false},
		{18, 19, 34, 3, false},
		{20, 21, 37, 3, false},
		{22, 23, 39, 3, false},
		{24, 25, 44, 4, false},
		{27, 28, 50, 4, false},
		{30, 31, 56, 4, false},
		{33, 34, 60, 5, memory},
		{36, 37, 66, 5, memory},
		{39, 42, 72, 6, memory},
		{42, 45, 78, 8, memory},
		{45, 48, 85, 8, memory},
		{48, 52, 92, 8, memory},
		{52, 56, 98, 8, memory},
		{56, 62, 105, 10, memory},
		{60, 66, 110, 10, memory},
		{64, 70, 115, 10, memory},
	}
}

// washerSizes are the settled sizes of a washer.
type washerSizes struct {
	d                        float64 // of the bolt it is for
	outside, hole, thickness drawing.Quantity
	// form makes a washer other than a plain one, its face at x.
	form func(x float64, onBolt bool) *figure
}

// Kind returns "washer".
func (Washer) Kind() string { return "washer" }

// Designation returns for instance "Plain washer for M20"; on basis Standard
// "Plain washer ISO 7089 - 20".
func (w Washer) Designation() string {
	if w.Basis == Standard {
		return "Plain washer " + standardPrefix(w.Basis, w.Thread, standardWasher, "") + mm(w.Thread.D)
	}
	return "Plain washer for M" + mm(w.Thread.D)
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
	d := w.Thread.D
	var s washerSizes
	if w.Basis == Standard {
		row, err := find(kind, edition{name: standardWasher}, washerTable(), d, func(r washerRow) float64 { return r.d })
		if err != nil {
			return nil, err
		}
		source, status := standardWasher, drawing.Published
		if row.memory {
			source, status = standardWasher+" (from memory, unverified)", drawing.FromMemory
		}
		of := func(v float64) drawing.Quantity {
			return drawing.Quantity{Rule: drawing.RuleTable, Value: v, Source: source, Status: status}
		}
		s = washerSizes{outside: of(row.d2), hole: of(row.d1), thickness: of(row.h)}
	} else {
		of := func(rule string, v float64) drawing.Quantity {
			return drawing.Quantity{Rule: rule, Value: v, Source: textbooks, Status: drawing.Published}
		}
		s = washerSizes{outside: of("2D + 3", 2*d+3), hole: of("D + 1", d+1), thickness: of("D/8", d/8)}
	}
	s.d = d
	s.outside.Letter, s.outside.Name = "d2", "outside diameter"
	s.hole.Letter, s.hole.Name = "d1", "hole diameter"
	s.thickness.Letter, s.thickness.Name = "t", "thickness"
	return &s, nil
}

// Quantities returns the dimensions of the washer with their rules and
// sources.
func (w Washer) Quantities() ([]drawing.Quantity, error) {
	s, err := w.resolve()
	if err != nil {
		return nil, err
	}
	return []drawing.Quantity{nominalDiameter(w.Thread), s.outside, s.hole, s.thickness}, nil
}

// View returns one view of the washer: front, side, which is the same, head or
// point, which is the same, or isometric.
func (w Washer) View(dir drawing.Direction, opt Options) (drawing.View, error) {
	s, err := w.resolve()
	if err != nil {
		return drawing.View{}, err
	}
	return s.figure(0, false).view(dir, opt)
}

// figure returns the washer with its face at x.
func (s *washerSizes) figure(x float64, onBolt bool) *figure {
	if s.form != nil {
		return s.form(x, onBolt)
	}
	end := x + s.thickness.Value
	g := &figure{kind: "washer", from: x, to: end, fromPoint: true}
	g.build = func(_ look, m *model) {
		m.add(solid.Cylinder(solid.X(), s.outside.Value/2, x, end).Less(solid.Cylinder(solid.X(), s.hole.Value/2, x, end)))
	}
	if !onBolt {
		g.annotate = s.annotate
	}
	return g
}

// annotate gives the sizes of a plain washer that stands alone.
func (s *washerSizes) annotate(b *builder, dir drawing.Direction) {
	r, t := s.outside.Value/2, s.thickness.Value
	switch dir {
	case drawing.Front, drawing.SideView:
		b.linear(drawing.Below, 0, label(s.thickness), 0, -r, t, -r)
		b.linear(drawing.Right, 1, diameterLabel(s.outside), t, -r, t, r)
	default:
		b.linear(drawing.Below, 0, diameterLabel(s.outside), -r, 0, r, 0)
		b.add(drawing.RoleDimension, drawing.Diameter{Label: diameterLabel(s.hole), Radius: s.hole.Value / 2, Angle: 50})
	}
}
