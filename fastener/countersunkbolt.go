package fastener

import (
	"math"
	"strconv"

	"boltplate/drawing"
	"boltplate/internal/solid"
	"boltplate/thread"
)

// CountersunkBolt is a bolt whose conical head ends flush with the part that it
// holds. Its origin, from which the length and a grip are measured, is at that
// flush face. It may be kept from turning by a snug in the corner between head
// and shank, which DIN 604 calls a nib, or by a square neck that goes over into
// the cone.
//
// The zero Angle means 90 degrees by proportion, the angle of DIN 604 up to M16
// and of countersunk screws; on basis Standard it means that of the table. The
// zero Neck means none by proportion and the snug on basis Standard. The zero
// ThreadLength means that of ISO 888.
type CountersunkBolt struct {
	Thread       thread.Thread
	Length       float64 // of the whole bolt, from the flush face, mm
	ThreadLength float64 // mm; 0 means by the rule
	Angle        int     // included angle of the head, degrees: 60 or 90; 0 means the usual one
	Neck         Neck
	Basis        Basis
}

func countersunkBoltKind() KindInfo {
	return KindInfo{Name: "countersunk-bolt", Title: "countersunk-head bolt", Length: true, Views: allViews(), Default: boltViews(),
		Options: append(append([]Option{optThread(), choice("angle", "90", "60"), choice("neck", "plain", "snug", "square")}, optNuts()...), optBasis()),
		make: func(s Spec) Fastener {
			angle, _ := strconv.Atoi(s.Angle) // "" or one of the choices
			return CountersunkBolt{Thread: s.Thread, Length: s.Length, ThreadLength: s.ThreadLength, Angle: angle, Neck: neckNamed(s.Neck), Basis: s.Basis}
		}}
}

const standardCountersunkBolt = "DIN 604"

// countersunkRow is a row of DIN 604: greatest head diameter dk and head
// height k, how far the nib stands out from the shank h, and its width g, mm;
// the angle of the head, degrees.
type countersunkRow struct {
	d, dk, k, h, g float64
	angle          int
}

// countersunkTable holds DIN 604 (countersunk bolts with nib). That of M6 was
// found in one published table only, the others in two.
func countersunkTable() []countersunkRow {
	return []countersunkRow{
		{6, 12.55, 4, 2.5, 2.5, 90},
		{8, 16.55, 5, 3.5, 3, 90},
		{10, 19.65, 5.5, 4.2, 3.2, 90},
		{12, 24.65, 7, 5.7, 3.6, 90},
		{16, 32.8, 9, 7.5, 4.2, 90},
		{20, 32.8, 11.5, 5.7, 5.4, 60},
		{24, 38.8, 13, 6.7, 6.6, 60},
	}
}

// Kind returns "countersunk-bolt".
func (CountersunkBolt) Kind() string { return "countersunk-bolt" }

func (c CountersunkBolt) neck() Neck {
	switch {
	case c.Neck != NeckByKind:
		return c.Neck
	case c.Basis == Standard:
		return NeckSnug
	}
	return NeckPlain
}

// Designation returns for instance "Countersunk-head bolt 90°, snug, M20 × 90".
// On basis Standard the angle is that of the standard and is not named.
func (c CountersunkBolt) Designation() string {
	s := "Countersunk-head bolt"
	if c.Basis != Standard {
		angle := c.Angle
		if angle == 0 {
			angle = usualAngle
		}
		s += " " + strconv.Itoa(angle) + "°"
	}
	return s + c.neck().inTitle() + standardPrefix(c.Basis, c.Thread, standardCountersunkBolt, "") + c.Thread.String() + times(c.Length)
}

// usualAngle is the angle of a countersunk head by proportion.
const usualAngle = 90

// Validate reports what is wrong with the description, as a *FieldError.
func (c CountersunkBolt) Validate() error {
	_, err := c.resolve()
	return err
}

// A countersunkHead is a cone on a cylindrical land.
type countersunkHead struct {
	diameter, angle, land, height drawing.Quantity
	nib                           nib
	neck                          neck
}

// A nib is a rib in the corner between the cone of a head and the shank, whose
// outer face is parallel to the axis and which ends with the cone. The zero nib
// is none.
type nib struct{ projection, width drawing.Quantity }

func (n nib) present() bool { return n.width.Value > 0 }

func (c CountersunkBolt) resolve() (*bolt, error) {
	kind := c.Kind()
	if err := checkCommon(kind, c.Thread, c.Basis, ByBasis, false); err != nil {
		return nil, err
	}
	if c.Angle != 0 && c.Angle != 60 && c.Angle != 90 {
		return nil, &FieldError{kind, "angle", strconv.Itoa(c.Angle), "not an angle of this head; use 90 or 60"}
	}
	if err := checkNeck(kind, c.Neck, NeckPlain, NeckSnug, NeckSquare); err != nil {
		return nil, err
	}
	h, err := c.headByRule(), error(nil)
	if c.Basis == Standard {
		if h, err = c.headOfStandard(); err != nil {
			return nil, err
		}
	}
	b := &bolt{kind: kind, form: h.form(c.Thread.D)}
	return b, b.settle(c.Thread, c.Length, c.ThreadLength, false, c.Basis, standardCountersunkBolt)
}

// coneLength returns how long a cone of the included angle (degrees) is from
// one diameter to the other.
func coneLength(angle, from, to float64) float64 {
	return (from - to) / 2 / math.Tan(angle/2*math.Pi/180)
}

func (c CountersunkBolt) headByRule() countersunkHead {
	d := c.Thread.D
	low := func(letter, name, rule string, v float64, source string) drawing.Quantity {
		return drawing.Quantity{Letter: letter, Name: name, Rule: rule, Value: v, Source: source, Status: drawing.Published}
	}
	var h countersunkHead
	h.land = low("c", "land at the face", "0.1D", 0.1*d, "Low, Machine Drawing and Design (1887)")
	cone, snug := "0.5D", "0.45D" // the length of the cone
	if c.Angle == 60 {
		cone, snug = "0.433D", "0.2D"
		h.diameter = low("d2", "head diameter", "1.5D", 1.5*d, "Low, Machine Drawing and Design (1887)")
		h.angle = low("a", "angle of head", "60°", 60, "Low, Machine Drawing and Design (1887); DIN 604 from M20")
	} else {
		h.diameter = low("d2", "head diameter", "2D", 2*d, "DIN 604, rounded")
		h.angle = low("a", "angle of head", "90°", usualAngle, "DIN 604 to M16")
	}
	h.angle.Unit = drawing.Degree
	h.height = drawing.Quantity{Letter: "k", Name: "head height", Rule: "c + " + cone, Status: drawing.Derived,
		Value: h.land.Value + coneLength(h.angle.Value, h.diameter.Value, d), Source: "follows from the diameter, the angle and the land"}
	switch c.neck() {
	case NeckSnug:
		h.nib.projection = drawing.Quantity{Letter: "h", Name: "snug projection", Rule: snug, Value: (h.diameter.Value-d)/2 - 0.05*d,
			Source: "common practice: 0.05D below the edge of the head, as DIN 604 rounded", Status: drawing.CommonPractice}
		h.nib.width = low("g", "snug width", "0.25D", 0.25*d, "DIN 604, rounded")
	case NeckSquare:
		h.neck = squareNeck(d)
		h.neck.side.Source, h.neck.side.Status = "common practice", drawing.CommonPractice
	}
	return h
}

func (c CountersunkBolt) headOfStandard() (countersunkHead, error) {
	kind, d := c.Kind(), c.Thread.D
	var h countersunkHead
	if n := c.neck(); n != NeckSnug {
		return h, &FieldError{kind, "neck", n.String(), "the bolt of DIN 604 has a snug; use it, or basis proportion"}
	}
	std, err := editionFor(kind, c.Thread, standardCountersunkBolt, "")
	if err != nil {
		return h, err
	}
	row, err := find(kind, std, countersunkTable(), d, func(r countersunkRow) float64 { return r.d })
	if err != nil {
		return h, err
	}
	if c.Angle != 0 && c.Angle != row.angle {
		return h, &FieldError{kind, "angle", strconv.Itoa(c.Angle),
			"DIN 604 has " + strconv.Itoa(row.angle) + " for M" + mm(d) + "; leave it out, or use basis proportion"}
	}
	of := func(letter, name string, v float64, column string) drawing.Quantity {
		return drawing.Quantity{Letter: letter, Name: name, Rule: drawing.RuleTable, Value: v, Source: standardCountersunkBolt + ", " + column, Status: drawing.Published}
	}
	h.diameter = of("d2", "head diameter", row.dk, "dk max")
	h.angle = of("a", "angle of head", float64(row.angle), "angle")
	h.angle.Unit = drawing.Degree
	h.height = of("k", "head height", row.k, "k max")
	cone := "(d2 - D)/2"
	if row.angle == 60 {
		cone = "0.866(d2 - D)" // over 2 tan 30
	}
	h.land = drawing.Quantity{Letter: "c", Name: "land at the face", Rule: "k - " + cone, Status: drawing.Derived,
		Value: row.k - coneLength(h.angle.Value, row.dk, d), Source: "follows from the height, the diameter and the angle"}
	h.nib.projection = of("h", "snug projection", row.h, "h")
	h.nib.width = of("g", "snug width", row.g, "g")
	return h, nil
}

// where returns the x at which the cone has the radius.
func (h countersunkHead) where(r float64) float64 {
	return h.land.Value + coneLength(h.angle.Value, h.diameter.Value, 2*r)
}

// form returns the head with what stands under it.
func (h countersunkHead) form(d float64) *form {
	w, k := h.diameter.Value/2, h.height.Value
	f := &form{start: k, plain: k, plainLetter: "k", least: k, standing: "the height of the head", flush: true, origin: drawing.Pt(0, -w),
		quantities: []drawing.Quantity{h.diameter, h.angle, h.height, h.land}}
	if h.nib.present() {
		f.quantities = append(f.quantities, h.nib.projection, h.nib.width)
	}
	if h.neck.present() {
		f.quantities = append(f.quantities, h.neck.side, h.neck.length)
		k += h.neck.length.Value
		f.start, f.plain, f.plainLetter, f.least, f.standing = k, k, "k - N", k, "the head and its square neck are long"
	}
	f.build = func(l look, m *model) { h.build(l, m, d) }
	f.annotate = func(b *builder, dir drawing.Direction, rank drawing.Rank) { h.annotate(b, dir, rank, d) }
	return f
}

func (h countersunkHead) build(l look, m *model, d float64) {
	w, c, k := h.diameter.Value/2, h.land.Value, h.height.Value
	cone := solid.Cone(solid.X(), c, w, k, d/2).Without(solid.At(c))
	if h.neck.present() { // it ends inside the square, which it touches
		cone = cone.Without(solid.At(k))
	}
	land := solid.Cylinder(solid.X(), w, 0, c)
	if c < l.style.Part(l.style.ThreadGap()) && l.along() && !l.exact {
		// Its edge would run into the face; in the other views it is the outline.
		land = land.Without(solid.At(c))
	}
	m.add(land, cone)
	if h.nib.present() {
		h.addNib(m, cone, d)
	}
	if h.neck.present() {
		h.addNeck(l, m, cone)
	}
}

// addNib adds the snug, which ends on the cone.
func (h countersunkHead) addNib(m *model, cone solid.Solid, d float64) {
	k, g, top := h.height.Value, h.nib.width.Value/2, d/2+h.nib.projection.Value
	foot := math.Sqrt(d*d/4 - g*g) // where its sides meet the shank
	x, y, z := solid.V(1, 0, 0), solid.V(0, 1, 0), solid.V(0, 0, 1)
	rib := solid.Extrude(solid.V(0, 0, 0), x, y, -g, g,
		[]solid.Vertex{{X: h.land.Value, Y: foot}, {X: k, Y: foot}, {X: k, Y: top}, {X: h.land.Value, Y: top}})
	// Of its edges those in the bolt are left out.
	m.add(rib.Without(solid.InPlane(solid.V(0, foot, 0), y), solid.InPlane(solid.V(h.land.Value, 0, 0), x)))
	at := func(y, z float64) solid.Vec { return solid.V(h.where(math.Hypot(y, z)), y, z) }
	m.mark(cone.Section(at(top, -g), at(top, g), y), cone.Section(at(foot, g), at(top, g), z), cone.Section(at(foot, -g), at(top, -g), z))
}

// addNeck adds the square neck. Its corners come out of the cone before its
// flats do.
func (h countersunkHead) addNeck(l look, m *model, cone solid.Solid) {
	s, end := h.neck.side.Value/2, h.height.Value+h.neck.length.Value
	from := h.where(s * math.Sqrt2)
	x, y, z := solid.V(1, 0, 0), solid.V(0, 1, 0), solid.V(0, 0, 1)
	m.add(solid.Extrude(solid.V(0, 0, 0), y, z, from, end,
		[]solid.Vertex{{X: -s, Y: -s}, {X: s, Y: -s}, {X: s, Y: s}, {X: -s, Y: s}}).Without(solid.At(from)))
	for _, n := range [4]solid.Vec{y, z, y.Mul(-1), z.Mul(-1)} {
		e := x.Cross(n).Mul(s)
		corner := x.Mul(from).Add(n.Mul(s))
		m.mark(cone.Section(corner.Sub(e), corner.Add(e), n))
		// In front of the corners, so that the cone does not hide the ends of
		// the diagonals.
		m.flat(l, flatFace{x.Mul((from + end) / 2).Add(n.Mul(s * math.Sqrt2)), x.Mul((end - from) / 2), e})
	}
}

func (h countersunkHead) annotate(b *builder, dir drawing.Direction, rank drawing.Rank, d float64) {
	w, c, k := h.diameter.Value/2, h.land.Value, h.height.Value
	top := d/2 + h.nib.projection.Value
	switch dir {
	case drawing.Front, drawing.SideView:
		b.linear(drawing.Left, rank, diameterLabel(h.diameter), 0, -w, 0, w)
		b.linear(drawing.Below, rank, label(h.height), 0, -w, k, -d/2)
		land := label(h.land)
		land.Reference = h.land.Status == drawing.Derived
		b.linear(drawing.Above, rank, land, 0, w, c, w)
		leg := w / math.Sin(h.angle.Value/2*math.Pi/180)
		b.add(drawing.RoleDimension, drawing.Angular{Label: label(h.angle), Vertex: drawing.Pt(h.where(0), 0),
			Start: 180 - h.angle.Value/2, End: 180 + h.angle.Value/2, From: leg, To: leg, Rank: rank})
		if n := h.neck; n.present() {
			end := k + n.length.Value
			b.linear(drawing.Below, rank, label(n.length), k, -d/2, end, -n.side.Value/2)
			side := label(n.side)
			side.Symbol = drawing.SquareSymbol
			b.add(drawing.RoleDimension, drawing.Leader{Label: side, Tip: drawing.Pt(k+n.length.Value/2, n.side.Value/2), Angle: 65, Rank: rank})
		}
	}
	if !h.nib.present() {
		return
	}
	g, from := h.nib.width.Value/2, h.where(top)
	switch dir {
	case drawing.Front:
		b.add(drawing.RoleDimension, drawing.Leader{Label: label(h.nib.projection), Tip: drawing.Pt(from+(k-from)*0.7, top), Angle: 50})
	case drawing.SideView:
		b.add(drawing.RoleDimension, drawing.Leader{Label: label(h.nib.width), Tip: drawing.Pt(from+(k-from)*0.7, g), Angle: 50, Rank: 1})
	case drawing.PointEnd:
		if b.seen(drawing.Pt(-g, top)) && b.seen(drawing.Pt(-g, (top+d/2)/2)) { // not behind a nut, nor turned
			b.linear(drawing.Above, 0, label(h.nib.width), -g, top, g, top)
		}
	}
}

// Quantities returns the dimensions of the bolt with their rules and sources.
func (c CountersunkBolt) Quantities() ([]drawing.Quantity, error) { return boltQuantities(c) }

// View returns one view of the bolt: front, side (the plan), head, point or
// isometric. The snug is at the top of the front view.
func (c CountersunkBolt) View(dir drawing.Direction, opt Options) (drawing.View, error) {
	return boltView(c, dir, opt)
}
