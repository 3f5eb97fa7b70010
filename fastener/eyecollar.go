package fastener

import (
	"math"

	"boltplate/drawing"
	"boltplate/internal/plane"
	"boltplate/internal/solid"
)

const standardCollarEye = "DIN 580"

// collarEyeRow is a row of DIN 580: diameter and thickness of the collar,
// outside and inside diameter of the ring, height from the seat of the collar
// to the top of the ring, section of the ring, and length of the shank; mm.
type collarEyeRow struct{ d, collar, e, outside, inside, h, k, l float64 }

// collarEyeTable holds DIN 580 (lifting eye bolts). Every row was found in
// published tables only in part. The thicknesses of the collar are in none of
// them: they are from memory, unverified, and bolts with the same ring and
// collar have the same one.
func collarEyeTable() []collarEyeRow {
	return []collarEyeRow{
		{6, 20, 6, 36, 20, 36, 8, 13},
		{8, 20, 6, 36, 20, 36, 8, 13},
		{10, 25, 8, 45, 25, 45, 10, 17},
		{12, 30, 10, 54, 30, 53, 12, 20.5},
		{14, 35, 12, 63, 35, 62, 14, 27},
		{16, 35, 12, 63, 35, 62, 14, 27},
		{18, 40, 14, 72, 40, 71, 16, 30},
		{20, 40, 14, 72, 40, 71, 16, 30},
		{22, 50, 18, 90, 50, 90, 20, 35},
		{24, 50, 18, 90, 50, 90, 20, 36},
		{27, 65, 22, 108, 60, 109, 24, 45},
		{30, 65, 22, 108, 60, 109, 24, 45},
		{33, 75, 26, 126, 70, 128, 28, 54},
		{36, 75, 26, 126, 70, 128, 28, 54},
		{42, 85, 30, 144, 80, 147, 32, 63},
		{48, 100, 35, 166, 90, 168, 38, 68},
		{56, 110, 38, 184, 100, 187, 42, 78},
		{64, 120, 42, 206, 110, 208, 48, 90},
	}
}

// A collarEye is a ring of round section on a round collar. The axis of the
// ring is parallel to the Z axis.
type collarEye struct{ collar, thick, inside, section, outside, height drawing.Quantity }

// collar settles the lifting eye bolt. By proportion its rules are the ratios
// of DIN 580 at M20.
func (e EyeBolt) collar() (*bolt, error) {
	kind, d := e.Kind(), e.Thread.D
	switch {
	case e.Neck == NeckSquare:
		return nil, &FieldError{kind, "neck", e.Neck.String(), "belongs to form flat; leave it out"}
	case e.ThreadLength != 0:
		return nil, fieldErr(kind, "thread", e.ThreadLength, "form collar is threaded up to the collar; leave it out")
	}
	var c collarEye
	var length drawing.Quantity
	if e.Basis == Standard {
		std, err := editionFor(kind, e.Thread, standardCollarEye, "")
		if err != nil {
			return nil, err
		}
		row, err := find(kind, std, collarEyeTable(), d, func(r collarEyeRow) float64 { return r.d })
		if err != nil {
			return nil, err
		}
		of := func(letter, name string, v float64, column string) drawing.Quantity {
			return drawing.Quantity{Letter: letter, Name: name, Rule: drawing.RuleTable, Value: v,
				Source: standardCollarEye + ", " + column + " (found in published tables in part)", Status: drawing.Published}
		}
		c.collar = of("d2", "collar diameter", row.collar, "d2")
		c.thick = of("e", "collar thickness", row.e, "e")
		c.thick.Source, c.thick.Status = standardCollarEye+", e (from memory, unverified)", drawing.FromMemory
		c.outside = of("d5", "outside diameter of the ring", row.outside, "d3")
		c.inside = of("d4", "inside diameter of the ring", row.inside, "d4")
		c.height = of("h", "height from the seat of the collar", row.h, "h")
		c.section = of("k", "section of the ring", row.k, "k")
		length = of("L", "length", row.l, "l")
	} else {
		of := func(letter, name, rule string, k float64) drawing.Quantity {
			return drawing.Quantity{Letter: letter, Name: name, Rule: rule, Value: k * d,
				Source: "common practice: the ratio of DIN 580 at M20, rounded", Status: drawing.CommonPractice}
		}
		c.collar = of("d2", "collar diameter", "2D", 2)
		c.thick = of("e", "collar thickness", "0.7D", 0.7)
		c.thick.Source, c.thick.Status = "the ratio of DIN 580 at M20 (from memory, unverified)", drawing.FromMemory
		c.inside = of("d4", "inside diameter of the ring", "2D", 2)
		c.section = of("k", "section of the ring", "0.8D", 0.8)
		c.outside = drawing.Quantity{Letter: "d5", Name: "outside diameter of the ring", Rule: "d4 + 2k = 3.6D", Value: 3.6 * d,
			Source: "follows from the inside diameter and the section", Status: drawing.Derived}
		c.height = of("h", "height from the seat of the collar", "3.6D", 3.6)
		length = of("L", "length", "1.5D", 1.5)
	}
	if e.Length != 0 && e.Length != length.Value {
		return nil, fieldErr(kind, "length", e.Length, "form collar has a length of its own, here %s mm; leave it out", mm(length.Value))
	}
	b := &bolt{kind: kind, form: c.form()}
	if err := b.settle(e.Thread, length.Value, 0, true, e.Basis, standardCollarEye); err != nil {
		return nil, &FieldError{kind, "size", e.Thread.String(), "the pitch is too large for a shank of " + mm(length.Value) + " mm; use a finer one"}
	}
	b.length = length
	return b, nil
}

// ring returns where the centre of the ring is, its radius to the middle of
// the section and that of the section.
func (c collarEye) ring() (x, radius, tube float64) {
	return c.outside.Value/2 - c.height.Value, (c.inside.Value + c.section.Value) / 2, c.section.Value / 2
}

func (c collarEye) form() *form {
	r, t := c.collar.Value/2, c.thick.Value
	x, radius, tube := c.ring()
	f := &form{end: -c.height.Value, origin: drawing.Pt(0, -r)}
	f.quantities = []drawing.Quantity{c.collar, c.thick, c.inside, c.section, c.outside, c.height}
	// In some sizes the ring would come out under the seat: that is faced off.
	reach := radius + tube
	seat := solid.Box(solid.V(0, -reach, -reach), solid.V(reach, reach, reach)).Bare()
	f.build = func(_ look, m *model) {
		m.add(solid.Torus(solid.V(x, 0, 0), solid.V(0, 0, 1), radius, tube).Less(seat), solid.Cylinder(solid.X(), r, -t, 0))
		m.mark(c.meeting()...)
	}
	f.annotate = c.annotate
	return f
}

// meeting returns the curves in which the ring runs into the collar: into its
// outer face, and from there down its side, above and below the axis. The ring
// is wider than the collar there, and its hole is clear of the collar.
func (c collarEye) meeting() []solid.Curve {
	x, radius, tube := c.ring()
	r := c.collar.Value / 2
	top := -c.thick.Value
	// A point of the ring is rho from its axis, with (rho - radius)² + z² =
	// tube² and rho² = (its x - x)² + y². On the edge of the outer face y² + z²
	// = r², so that rho is left as the only unknown, and not squared.
	h := top - x
	rho := (h*h + radius*radius + r*r - tube*tube) / (2 * radius)
	y := math.Sqrt(rho*rho - h*h)
	turn := math.Acos((rho-radius)/tube) * 180 / math.Pi
	// From where the ring is thickest it overhangs: a piece of its own, since
	// it may be short.
	cuts := []float64{-turn, turn}
	if turn > 90 {
		cuts = []float64{-turn, -90, 90, turn}
	}
	var out []solid.Curve
	for _, s := range [2]float64{1, -1} {
		out = append(out, solid.Along(func(k float64) solid.Vec {
			v := y * (2*k - 1)
			return solid.V(top, v, s*math.Sqrt(tube*tube-math.Pow(math.Hypot(h, v)-radius, 2)))
		}))
		for i, to := range cuts[1:] {
			from := cuts[i]
			out = append(out, solid.Along(func(k float64) solid.Vec {
				sin, cos := plane.Sincos(from + k*(to-from))
				z, rho := tube*sin, radius+tube*cos
				v := math.Sqrt(r*r - z*z)
				return solid.V(x+math.Sqrt(rho*rho-v*v), s*v, z)
			}))
		}
	}
	return out
}

func (c collarEye) annotate(b *builder, dir drawing.Direction, rank drawing.Rank) {
	r, t := c.collar.Value/2, c.thick.Value
	x, radius, tube := c.ring()
	end := -c.height.Value
	switch dir {
	case drawing.Front:
		b.centreLine(x, radius+tube)
		out := diameterLabel(c.outside)
		out.Reference = true // follows from the inside diameter and the section
		b.add(drawing.RoleDimension, drawing.Diameter{Label: out, Center: drawing.Pt(x, 0), Radius: radius + tube, Angle: 130})
		b.add(drawing.RoleDimension, drawing.Diameter{Label: diameterLabel(c.inside), Center: drawing.Pt(x, 0), Radius: radius - tube, Angle: 155})
		b.linear(drawing.Below, 0, label(c.height), end, 0, 0, -r)
		b.linear(drawing.Right, 0, diameterLabel(c.collar), 0, -r, 0, r)
	case drawing.SideView:
		b.centreLine(x, tube)
		b.linear(drawing.Below, 0, label(c.thick), -t, -r, 0, -r)
		b.linear(drawing.Below, 1, label(c.height), end, 0, 0, -r)
		b.linear(drawing.Left, 0, diameterLabel(c.section), end+tube, -tube, end+tube, tube)
		b.linear(drawing.Right, 1, diameterLabel(c.collar), 0, -r, 0, r)
	case drawing.HeadEnd, drawing.PointEnd:
		b.linear(drawing.Above, 1, diameterLabel(c.section), -tube, radius, tube, radius)
		b.add(drawing.RoleDimension, drawing.Diameter{Label: diameterLabel(c.collar), Radius: r, Angle: 30, Rank: 2})
	}
}
