package fastener

import (
	"fmt"
	"math"

	"boltplate/drawing"
	"boltplate/internal/plane"
	"boltplate/internal/solid"
)

const standardCollarEye = "DIN 580"

const (
	nameCollar      = "collar diameter"
	nameCollarThick = "collar thickness"
	nameRingInside  = "inside diameter of the ring"
	nameRingSection = "section of the ring"
	nameRingOutside = "outside diameter of the ring"
	nameRingHeight  = "height from the seat of the collar"
)

// The sizes of a lifting eye bolt by proportion: the ratios of DIN 580 at M20.
var (
	collarRules = groupOf(
		practiceBy("d2", nameCollar, "2D", atM20),
		fromMemory("e", nameCollarThick, "0.7D"),
		practiceBy("d4", nameRingInside, "2D", atM20),
		practiceBy("k", nameRingSection, "0.8D", atM20),
		follows("d5", nameRingOutside, "d4 + 2k", "the inside diameter and the section"),
		practiceBy("h", nameRingHeight, "3.6D", atM20))
	collarLength = groupOf(practiceBy("L", "length", "1.5D", atM20))
)

const atM20 = commonPractice + ": the ratio of DIN 580 at M20, rounded"

// collarEyeRow is a row of DIN 580: diameter and thickness of the collar,
// outside and inside diameter of the ring, height from the seat of the collar
// to the top of the ring, section of the ring, and length of the shank; mm.
type collarEyeRow struct{ d, collar, e, outside, inside, h, k, l float64 }

func (r collarEyeRow) diameter() float64 { return r.d }

// collarEyes holds DIN 580 (lifting eye bolts). Every row was found in published
// tables only in part. The thicknesses of the collar are in none of them: they
// are from memory, unverified, and bolts with the same ring and collar have the
// same one.
var collarEyes = []collarEyeRow{
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

// Columns of DIN 580.
var (
	columnCollar      = column("d2", nameCollar, standardCollarEye+", d2")
	columnCollarThick = column("e", nameCollarThick, standardCollarEye+", e")
	columnRingOutside = column("d5", nameRingOutside, standardCollarEye+", d3")
	columnRingInside  = column("d4", nameRingInside, standardCollarEye+", d4")
	columnRingHeight  = column("h", nameRingHeight, standardCollarEye+", h")
	columnRingSection = column("k", nameRingSection, standardCollarEye+", k")
	columnRingLength  = column("L", "length", standardCollarEye+", l")
)

// A collarEye is a ring of round section on a round collar. The axis of the
// ring is parallel to the Z axis.
type collarEye struct{ collar, thick, inside, section, outside, height drawing.Quantity }

// collar settles the lifting eye bolt.
func (e EyeBolt) collar() (*bolt, error) {
	kind := e.Kind()
	switch {
	case e.Neck == NeckSquare:
		return nil, &FieldError{kind, "neck", e.Neck.String(), "belongs to form flat; leave it out"}
	case e.ThreadLength != 0:
		return nil, fieldErr(kind, "thread", e.ThreadLength,
			"form collar is threaded up to the collar; leave it out")
	}
	b := newBolt(kind, "collar", e.Extra, e.Thread)
	z := &b.z
	place := z.hold(sizeLength)
	b.place = z.hold(sizeThread)
	if err := e.collarSizes(z, place); err != nil {
		return nil, err
	}
	if err := z.solve(); err != nil {
		return nil, err
	}
	c := collarEye{collar: z.size("d2"), thick: z.size("e"), inside: z.size("d4"), section: z.size("k"),
		outside: z.size("d5"), height: z.size("h")}
	if err := c.check(z); err != nil {
		return nil, err
	}
	b.length = z.size("L")
	if e.Length != 0 && e.Length != b.length.Value {
		return nil, fieldErr(kind, "length", e.Length,
			"form collar has a length of its own, here %s mm; leave it out", mm(b.length.Value))
	}
	b.form = c.form()
	b.fits.Eye = EyeFit{Collar: c.collar.Value, Thickness: c.thick.Value, Section: c.section.Value,
		Outside: c.outside.Value, Height: c.height.Value}
	if err := b.settle(wish{toHead: true, basis: e.Basis, standard: standardCollarEye}); err != nil {
		return nil, &FieldError{kind, "size", e.Thread.String(),
			"the pitch is too large for a shank of " + mm(b.length.Value) + " mm; use a finer one"}
	}
	return b, nil
}

// collarSizes sets collar and ring out; place is that of the length.
func (e EyeBolt) collarSizes(z *sizer, place int) error {
	if e.Basis != Standard {
		z.put(place, &z.rules.sizes(z.kind, z.word, collarLength)[0])
		z.use(collarRules)
		return nil
	}
	std, err := editionFor(z.kind, e.Thread, standardCollarEye, "")
	if err != nil {
		return err
	}
	row, err := find(z.kind, std, collarEyes, e.Thread.D)
	if err != nil {
		return err
	}
	z.list[place] = settled{size: columnRingLength, value: row.l, source: columnRingLength.source,
		status: inPart}
	z.tabled(columnCollar, row.collar, inPart)
	z.tabled(columnCollarThick, row.e, isMemory)
	z.tabled(columnRingInside, row.inside, inPart)
	z.tabled(columnRingSection, row.k, inPart)
	z.tabled(columnRingOutside, row.outside, inPart)
	z.tabled(columnRingHeight, row.h, inPart)
	return nil
}

// check refuses sizes that cannot be drawn: the ring runs into the collar, and
// its hole is clear of it.
func (c collarEye) check(z *sizer) error {
	if err := z.needs("d2", "D"); err != nil {
		return err
	}
	x, radius, tube := c.ring()
	switch {
	case radius-tube < 0.25*c.inside.Value: // never, since they make each other up
		return z.refuse(z.at("k"), "must leave a hole")
	case x+radius-tube > -c.thick.Value:
		return z.refuse(z.at("h"), fmt.Sprintf("must be at least %s, so that the hole is clear of the collar",
			mm(c.outside.Value-c.section.Value+c.thick.Value)))
	case x+radius < -c.thick.Value:
		return z.refuse(z.at("h"), fmt.Sprintf("must be at most %s, so that the ring runs into the collar",
			mm(c.outside.Value-tube+c.thick.Value)))
	case 2*tube > c.collar.Value:
		return z.refuse(z.at("d2"), fmt.Sprintf("must be at least the section of the ring, k = %s", mm(2*tube)))
	}
	return nil
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
	// In some sizes the ring would come out under the seat: that is faced off.
	reach := radius + tube
	seat := solid.Box(solid.V(0, -reach, -reach), solid.V(reach, reach, reach)).Bare()
	f.build = func(_ look, m *model) {
		m.add(solid.Torus(solid.V(x, 0, 0), solid.V(0, 0, 1), radius, tube).Less(seat),
			solid.Cylinder(solid.X(), r, -t, 0))
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
		b.add(drawing.RoleDimension, drawing.Diameter{Label: out, Center: drawing.Pt(x, 0),
			Radius: radius + tube, Angle: 130})
		b.add(drawing.RoleDimension, drawing.Diameter{Label: diameterLabel(c.inside), Center: drawing.Pt(x, 0),
			Radius: radius - tube, Angle: 155})
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
		b.add(drawing.RoleDimension, drawing.Diameter{Label: diameterLabel(c.collar), Radius: r,
			Angle: 30, Rank: 2})
	}
}
