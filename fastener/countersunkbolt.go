package fastener

import (
	"fmt"
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
	Extra
}

func countersunkBoltKind() KindInfo {
	return KindInfo{Name: "countersunk-bolt", Title: "countersunk-head bolt", Length: true, Views: allViews(),
		Default: boltViews(),
		Options: append(append([]Option{optThread(), choice("angle", "90", "60"),
			choice("neck", "plain", "snug", "square")}, optNuts()...), optBasis()),
		variants: countersunkVariants(),
		how: map[stage]string{
			stageShape: "Draw the circle of the face",
			stageHead:  "Draw the face as wide as the head, set the land off square to it, and from there draw lines at half the angle of the head to the shank"},
		make: func(s Spec) Fastener {
			angle, _ := strconv.Atoi(s.Angle) // "" or one of the choices
			return CountersunkBolt{Thread: s.Thread, Length: s.Length, ThreadLength: s.ThreadLength, Angle: angle,
				Neck: neckNamed(s.Neck), Basis: s.Basis, Extra: s.Extra}
		}}
}

const standardCountersunkBolt = "DIN 604"

const (
	nameHeadAngle = "angle of head"
	nameLand      = "land at the face"
	nameNib       = "snug projection"
	nameNibWidth  = "snug width"
	coneAndLand   = "the diameter, the angle and the land"
)

// A sunkRules is a countersunk head by proportion.
type sunkRules struct{ head, snug *group }

// The heads of 90 degrees, the angle of DIN 604 to M16, and of 60 degrees.
var (
	sunk90 = sunkRules{
		head: groupOf(
			practiceBy("d2", nameHead, "2D", "DIN 604 to M16, rounded"),
			published("a", nameHeadAngle, "90°", "DIN 604 to M16").angle().fix(),
			follows("k", nameHeadHeight, "c + (d2 - D)/2", coneAndLand),
			practice("c", nameLand, "0.1D")),
		snug: groupOf(
			practiceBy("h", nameNib, "0.45D", commonPractice+": 0.05D below the edge of the head, as DIN 604 rounded"),
			practiceBy("g", nameNibWidth, "0.25D", "DIN 604, rounded")),
	}
	sunk60 = sunkRules{
		head: groupOf(
			published("d2", nameHead, "1.5D", low),
			published("a", nameHeadAngle, "60°", low+", about; DIN 604 from M20").angle().fix(),
			follows("k", nameHeadHeight, "c + (d2 - D)/(2 tan 30°)", coneAndLand),
			practice("c", nameLand, "0.1D")),
		snug: groupOf(
			practiceBy("h", nameNib, "0.2D", commonPractice+": 0.05D below the edge of the head, as DIN 604 rounded"),
			practiceBy("g", nameNibWidth, "0.25D", "DIN 604, rounded")),
	}
	sunkNeck = groupOf(
		practice("S", squareNeck.sizes[0].name, "D"),
		squareNeck.sizes[1])
)

func (c CountersunkBolt) rules() (sunkRules, string) {
	if c.Angle == 60 {
		return sunk60, "60"
	}
	return sunk90, "90"
}

func countersunkVariants() []variant {
	var out []variant
	for _, c := range []CountersunkBolt{{}, {Angle: 60}} {
		r, word := c.rules()
		for _, neck := range []*group{nil, r.snug, sunkNeck} {
			v := variant{word: word, families: []string{familySunkHeads, familyBolts}, groups: []*group{r.head},
				thread: byISO888}
			if neck != nil {
				v.groups = append(v.groups, neck)
			}
			out = append(out, v)
		}
	}
	return out
}

// countersunkRow is a row of DIN 604: greatest and least head diameter dk and
// head height k, how far the nib stands out from the shank h, and its width g,
// mm; the angle of the head, degrees.
type countersunkRow struct {
	d, dk, dkMin, k, h, g float64
	angle                 int
	status                drawing.Status
}

func (r countersunkRow) diameter() float64 { return r.d }

// countersunkHeads holds DIN 604 (countersunk bolts with nib). That of M6 was
// found in one published table only, the others in two.
var countersunkHeads = []countersunkRow{
	{6, 12.55, 11.45, 4, 2.5, 2.5, 90, isPublished},
	{8, 16.55, 15.45, 5, 3.5, 3, 90, isPublished},
	{10, 19.65, 18.35, 5.5, 4.2, 3.2, 90, isPublished},
	{12, 24.65, 23.35, 7, 5.7, 3.6, 90, isPublished},
	{16, 32.8, 31.2, 9, 7.5, 4.2, 90, isPublished},
	{20, 32.8, 31.2, 11.5, 5.7, 5.4, 60, isPublished},
	{24, 38.8, 37.2, 13, 6.7, 6.6, 60, isPublished},
}

// Columns of DIN 604, and the land, which follows from them.
var (
	columnSunkDiameter = column("d2", nameHead, standardCountersunkBolt+", dk max")
	columnSunkAngle    = &size{letter: "a", name: nameHeadAngle, unit: drawing.Degree,
		source: standardCountersunkBolt + ", angle"}
	columnSunkHeight = column("k", nameHeadHeight, standardCountersunkBolt+", k max")
	columnNib        = column("h", nameNib, standardCountersunkBolt+", h")
	columnNibWidth   = column("g", nameNibWidth, standardCountersunkBolt+", g")

	sunkLand90 = groupOf(follows("c", nameLand, "k - (d2 - D)/2", "the height, the diameter and the angle"))
	sunkLand60 = groupOf(follows("c", nameLand, "k - (d2 - D)/(2 tan 30°)",
		"the height, the diameter and the angle"))
)

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
	return s + c.neck().inTitle() + standardPrefix(c.Basis, c.Thread, standardCountersunkBolt,
		"") + c.Thread.String() + times(c.Length) + c.supplied()
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
	_, word := c.rules()
	b := newBolt(kind, word, c.Extra, c.Thread)
	if err := b.begin(c.Length, c.Basis, "the length from the flush face"); err != nil {
		return nil, err
	}
	set := c.headByRule
	if c.Basis == Standard {
		set = c.headByTable
	}
	if err := set(b); err != nil {
		return nil, err
	}
	z := &b.z
	h := countersunkHead{diameter: z.size("d2"), angle: z.size("a"), height: z.size("k"), land: z.size("c")}
	switch c.neck() {
	case NeckSnug:
		h.nib = nib{projection: z.size("h"), width: z.size("g")}
		b.fits.Snug = SnugFit{Projection: h.nib.projection.Value, Width: h.nib.width.Value}
	case NeckSquare:
		h.neck, b.neck = b.neck, neck{} // it is a part of the head
	}
	if err := h.check(z); err != nil {
		return nil, err
	}
	b.form = h.form(z.d)
	b.fits.Head = HeadFit{Height: h.height.Value, Diameter: h.diameter.Value, Angle: h.angle.Value}
	return b, b.settle(wish{given: c.ThreadLength, basis: c.Basis, standard: standardCountersunkBolt})
}

// headByRule sets the head out by proportion.
func (c CountersunkBolt) headByRule(b *bolt) error {
	z := &b.z
	r, _ := c.rules()
	z.use(r.head)
	switch c.neck() {
	case NeckSnug:
		z.use(r.snug)
	case NeckSquare:
		return b.squareNeck(sunkNeck)
	}
	return z.solve()
}

// headByTable sets the head out by DIN 604.
func (c CountersunkBolt) headByTable(b *bolt) error {
	if n := c.neck(); n != NeckSnug {
		return &FieldError{b.kind, "neck", n.String(),
			"the bolt of DIN 604 has a snug; use it, or basis proportion"}
	}
	std, err := editionFor(b.kind, c.Thread, standardCountersunkBolt, "")
	if err != nil {
		return err
	}
	row, err := find(b.kind, std, countersunkHeads, c.Thread.D)
	if err != nil {
		return err
	}
	if c.Angle != 0 && c.Angle != row.angle {
		return &FieldError{b.kind, "angle", strconv.Itoa(c.Angle),
			"DIN 604 has " + strconv.Itoa(row.angle) + " for M" + mm(c.Thread.D) + "; leave it out, or use basis proportion"}
	}
	z := &b.z
	dk := z.tabled(columnSunkDiameter, row.dk, row.status)
	dk.min, dk.max = row.dkMin, row.dk
	z.tabled(columnSunkAngle, float64(row.angle), row.status)
	z.tabled(columnSunkHeight, row.k, row.status)
	if row.angle == 60 {
		z.use(sunkLand60)
	} else {
		z.use(sunkLand90)
	}
	z.tabled(columnNib, row.h, row.status)
	z.tabled(columnNibWidth, row.g, row.status)
	return z.solve()
}

// check refuses sizes that cannot be drawn.
func (h countersunkHead) check(z *sizer) error {
	if err := z.needs("d2", "D"); err != nil {
		return err
	}
	d, w := z.d, h.diameter.Value/2
	switch {
	case h.nib.present() && d/2+h.nib.projection.Value >= w:
		return z.refuse(z.at("h"), fmt.Sprintf("must be less than %s, so that it ends under the head", mm(w-d/2)))
	case h.nib.present() && h.nib.width.Value > 0.8*d:
		return z.refuse(z.at("g"), fmt.Sprintf("must be at most 0.8D = %s", mm(0.8*d)))
	case h.neck.present() && h.neck.side.Value*math.Sqrt2 >= h.diameter.Value:
		return z.refuse(z.at("S"),
			fmt.Sprintf("makes the square %s over its corners; the head, d2 = %s, must be wider",
				mm(h.neck.side.Value*math.Sqrt2), mm(h.diameter.Value)))
	}
	return nil
}

// coneLength returns how long a cone of the included angle (degrees) is from
// one diameter to the other.
func coneLength(angle, from, to float64) float64 {
	return (from - to) / 2 / math.Tan(angle/2*math.Pi/180)
}

// where returns the x at which the cone has the radius.
func (h countersunkHead) where(r float64) float64 {
	return h.land.Value + coneLength(h.angle.Value, h.diameter.Value, 2*r)
}

// form returns the head with what stands under it.
func (h countersunkHead) form(d float64) *form {
	w, k := h.diameter.Value/2, h.height.Value
	f := &form{start: k, plain: k, plainLetter: "k", least: k, standing: "the height of the head", flush: true,
		origin: drawing.Pt(0, -w)}
	if h.neck.present() {
		k += h.neck.length.Value
		f.start, f.plain, f.plainLetter, f.least, f.standing = k, k, "k - N", k,
			"the head and its square neck are long"
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
	m.mark(cone.Section(at(top, -g), at(top, g), y), cone.Section(at(foot, g), at(top, g), z),
		cone.Section(at(foot, -g), at(top, -g), z))
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
			b.add(drawing.RoleDimension, drawing.Leader{Label: side,
				Tip: drawing.Pt(k+n.length.Value/2, n.side.Value/2), Angle: 65, Rank: rank})
		}
	}
	if !h.nib.present() {
		return
	}
	g, from := h.nib.width.Value/2, h.where(top)
	switch dir {
	case drawing.Front:
		b.add(drawing.RoleDimension, drawing.Leader{Label: label(h.nib.projection),
			Tip: drawing.Pt(from+(k-from)*0.7, top), Angle: 50, Rank: 1})
	case drawing.SideView:
		b.add(drawing.RoleDimension, drawing.Leader{Label: label(h.nib.width),
			Tip: drawing.Pt(from+(k-from)*0.7, g), Angle: 50, Rank: 1})
	case drawing.PointEnd:
		if b.seen(drawing.Pt(-g, top)) && b.seen(drawing.Pt(-g, (top+d/2)/2)) { // not behind a nut, nor turned
			b.linear(drawing.Above, 0, label(h.nib.width), -g, top, g, top)
			b.linear(drawing.Right, 0, label(h.nib.projection), g, d/2, g, top)
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
