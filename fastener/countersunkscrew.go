package fastener

import (
	"math"

	"boltplate/drawing"
	"boltplate/internal/solid"
	"boltplate/thread"
)

// CountersunkScrew is a screw with a countersunk head of 90 degrees, whose
// length counts from the flush face, with a slot in it or, where Socket is set,
// a hexagon socket. A slotted one is threaded to the head up to 45 mm (30 mm at
// M3), longer ones as ISO 2009 or, by proportion, ISO 888 has it; one with a
// socket is threaded over 2D + 12. Screws too short for that are threaded to
// the head.
type CountersunkScrew struct {
	Thread       thread.Thread
	Length       float64 // from the flush face, mm
	ThreadLength float64 // mm; 0 means by the rule
	Socket       bool    // a hexagon socket in place of a slot
	Basis        Basis
	Extra
}

func countersunkScrewKind() KindInfo {
	return KindInfo{Name: "countersunk-screw", Title: "countersunk-head screw", Note: noteScrew, Length: true,
		Views: allViews(), Default: boltViews(), Section: true,
		Options: []Option{choice("form", "slotted", "socket"), optThread(), optBasis()},
		variants: []variant{
			{word: "slotted", families: []string{familySunkHeads, familyScrews},
				groups: []*group{sunkScrewRules, slotRules}, thread: byISO888},
			{word: "socket", families: []string{familySunkHeads, familyScrews},
				groups: []*group{sunkScrewRules, sunkSocket}, thread: sunkSocketThread},
		},
		how: map[stage]string{
			stageShape: "Draw the circle of the face, and slot or socket about its centre",
			stageHead:  "Draw the face as wide as the head, set the land off, and from there draw lines at half the angle of the head to the shank; sink slot or socket from the face"},
		make: func(s Spec) Fastener {
			return CountersunkScrew{Thread: s.Thread, Length: s.Length, ThreadLength: s.ThreadLength,
				Socket: is(s.Form, "socket"), Basis: s.Basis, Extra: s.Extra}
		}}
}

const (
	standardCountersunkScrew  = "ISO 2009:2011"
	standardCountersunkSocket = "ISO 10642:2004"
)

// countersunkToHead is the nominal length, mm, up to which the screws of ISO
// 2009 are threaded to the head (from memory, unverified).
const countersunkToHead = 45

const (
	nameSunkLand  = "land at the flush face"
	nameSunkAngle = "included angle of the head"
)

// The sizes of countersunk screws by proportion.
var (
	sunkScrewRules = groupOf(
		practice("d2", nameHead, "2D"),
		follows("T", nameHeadHeight, "c + (d2 - D)/2", "the diameter, the land and the angle"),
		published("a", nameSunkAngle, "90°", "ISO 10642; DIN 604 to M16").angle().fix(),
		practice("c", nameSunkLand, "0.1D"))
	sunkSocket = groupOf(
		practice("s", nameSocketFlats, "0.6D"),
		practice("t", nameSocketDepth, "0.3D"))
	sunkSocketThread = groupOf(sunkReference())

	sunkAngleRule = groupOf(published("a", nameSunkAngle, "90°",
		"ISO 10642; ISO 2009, from memory").angle().fix())
	sunkScrewLand = groupOf(follows("c", nameSunkLand, "T - (d2 - D)/2",
		"the height, the diameter and the angle"))
)

func sunkReference() size {
	s := fromMemory("b", sizeThread.name, "2D + 12")
	s.source = standardCountersunkSocket + ", b reference"
	return s
}

// countersunkScrews holds ISO 2009:2011, slotted countersunk heads: actual
// greatest diameter of the head, and greatest depth of the slot. From memory,
// unverified.
var countersunkScrews = slotted(standardCountersunkScrew, "t max", []slottedRow{
	{3, 5.5, 1.65, 0.8, 0.85, isMemory},
	{3.5, 7.3, 2.35, 1, 1.2, isMemory},
	{4, 8.4, 2.7, 1.2, 1.3, isMemory},
	{5, 9.3, 2.7, 1.2, 1.4, isMemory},
	{6, 11.3, 3.3, 1.6, 1.6, isMemory},
	{8, 15.8, 4.65, 2, 2.3, isMemory},
	{10, 18.3, 5, 2.5, 2.6, isMemory},
})

// sunkSocketRow is a row of ISO 10642: theoretical greatest diameter dk of the
// head, to the sharp corner, and actual least one, height k, nominal width across
// flats s and least depth t of the socket; mm.
type sunkSocketRow struct {
	d, dk, dkMin, k, s, t float64
	status                drawing.Status
}

func (r sunkSocketRow) diameter() float64 { return r.d }

// sunkSockets holds ISO 10642:2004, countersunk heads with a hexagon socket. Two
// published tables agree on each row but that of M14; of t and the least dk one
// has them.
var sunkSockets = []sunkSocketRow{
	{3, 6.72, 5.54, 1.86, 2, 1.1, isPublished},
	{4, 8.96, 7.53, 2.48, 2.5, 1.5, isPublished},
	{5, 11.2, 9.43, 3.1, 3, 1.9, isPublished},
	{6, 13.44, 11.34, 3.72, 4, 2.2, isPublished},
	{8, 17.92, 15.24, 4.96, 5, 3, isPublished},
	{10, 22.4, 19.22, 6.2, 6, 3.6, isPublished},
	{12, 26.88, 23.12, 7.44, 8, 4.3, isPublished},
	{14, 30.8, 26.52, 8.4, 10, 4.5, isMemory},
	{16, 33.6, 29.01, 8.8, 10, 4.8, isPublished},
	{20, 40.32, 36.05, 10.16, 12, 5.6, isPublished},
}

// Columns of ISO 10642.
var (
	columnSunkSocketDiameter = column("d2", nameHead, standardCountersunkSocket+", dk max, theoretical")
	columnSunkSocketHeight   = column("T", nameHeadHeight, standardCountersunkSocket+", k max")
	columnSunkSocketFlats    = column("s", nameSocketFlats, standardCountersunkSocket+", s nominal")
	columnSunkSocketDepth    = column("t", nameSocketDepth, standardCountersunkSocket+", t min")
)

func (c CountersunkScrew) standard() string {
	if c.Socket {
		return standardCountersunkSocket
	}
	return standardCountersunkScrew
}

// Kind returns "countersunk-screw".
func (CountersunkScrew) Kind() string { return "countersunk-screw" }

// Designation returns for instance "Slotted countersunk-head screw M6 × 20" or,
// on basis Standard, "Socket countersunk-head screw ISO 10642 - M6 × 20".
func (c CountersunkScrew) Designation() string {
	title := "Slotted countersunk-head screw "
	if c.Socket {
		title = "Socket countersunk-head screw "
	}
	return title + standardPrefix(c.Basis, c.Thread, c.standard(),
		"") + c.Thread.String() + times(c.Length) + c.supplied()
}

// Validate reports what is wrong with the description, as a *FieldError.
func (c CountersunkScrew) Validate() error {
	_, err := c.resolve()
	return err
}

// A sunkHead is a countersunk head of 90 degrees: a cone under a cylindrical
// land, which a head that is given to its sharp corner does not have.
type sunkHead struct {
	diameter, height, angle, land drawing.Quantity
	slot                          slot
	socket                        socket
}

// sunkAngle is the included angle of a countersunk head, degrees.
const sunkAngle = 90.0

func (c CountersunkScrew) resolve() (*bolt, error) {
	kind := c.Kind()
	if err := checkCommon(kind, c.Thread, c.Basis, ByBasis, false); err != nil {
		return nil, err
	}
	word := "slotted"
	if c.Socket {
		word = "socket"
	}
	b := newBolt(kind, word, c.Extra, c.Thread)
	b.tapped = true
	if err := b.begin(c.Length, c.Basis, "the length from the flush face"); err != nil {
		return nil, err
	}
	h, err := c.head(&b.z)
	if err != nil {
		return nil, err
	}
	b.form = h.form(b.z.d)
	b.fits.Head = HeadFit{Height: h.height.Value, Diameter: h.diameter.Value, Angle: h.angle.Value}
	by := &threadRule{group: sunkSocketThread}
	if !c.Socket {
		var column *size
		if c.Basis == Standard {
			column = countersunkScrews.thread
		}
		by = machineScrewThread(c.Thread.D, countersunkToHead, column, isMemory)
	}
	return b, b.settle(wish{given: c.ThreadLength, basis: c.Basis, standard: c.standard(), by: by})
}

// head sets the head out.
func (c CountersunkScrew) head(z *sizer) (h sunkHead, err error) {
	if err := c.sizes(z); err != nil {
		return h, err
	}
	if err := z.solve(); err != nil {
		return h, err
	}
	if err := z.needs("d2", "D"); err != nil {
		return h, err
	}
	h = sunkHead{diameter: z.size("d2"), height: z.size("T"), angle: z.size("a"), land: z.find("c")}
	if c.Socket {
		// At the bottom of the socket the cone is so much narrower.
		h.socket, err = z.socket(h.height.Value, h.diameter.Value/2-math.Max(0, z.at("t").value-h.land.Value))
		return h, err
	}
	h.slot, err = z.slot(h.height.Value, h.diameter.Value/2)
	return h, err
}

// sizes works the head out, by proportion or by the standard. A head that is
// given to its sharp corner has no land.
func (c CountersunkScrew) sizes(z *sizer) error {
	switch {
	case c.Basis == Standard && c.Socket:
		std, err := editionFor(z.kind, c.Thread, standardCountersunkSocket, "")
		if err != nil {
			return err
		}
		row, err := find(z.kind, std, sunkSockets, c.Thread.D)
		if err != nil {
			return err
		}
		dk := z.tabled(columnSunkSocketDiameter, row.dk, row.status)
		dk.min, dk.max = row.dkMin, row.dk
		z.tabled(columnSunkSocketHeight, row.k, row.status)
		z.use(sunkAngleRule)
		if row.k-(row.dk-row.d)/2 > 1e-6 {
			z.use(sunkScrewLand)
		}
		z.tabled(columnSunkSocketFlats, row.s, row.status)
		z.tabled(columnSunkSocketDepth, row.t, row.status).min = row.t
	case c.Basis == Standard:
		if err := countersunkScrews.use(z, c.Thread); err != nil {
			return err
		}
		z.use(sunkAngleRule)
		z.use(sunkScrewLand)
	default:
		z.use(sunkScrewRules)
		if c.Socket {
			z.use(sunkSocket)
		} else {
			z.use(slotRules)
		}
	}
	return nil
}

// form returns the head on a shank of diameter d. The origin is on the flush
// face.
func (h sunkHead) form(d float64) *form {
	r, c, k := h.diameter.Value/2, h.land.Value, h.height.Value
	f := &form{start: k, plain: k, plainLetter: "T", origin: drawing.Pt(0, -r)}
	if h.socket.present() {
		f.section = func(st drawing.Style, s shank) *cutaway { return h.cutaway(st, s) }
	}
	f.build = func(l look, m *model) {
		head := []solid.Solid{solid.Cone(solid.X(), c, r, k, d/2)}
		if c > 0 {
			head = append(head, solid.Cylinder(solid.X(), r, 0, c).Without(solid.At(c)))
		}
		holes := []solid.Solid{h.slot.hole()}
		if h.slot.present() {
			head[0] = head[0].With(h.slot.onCone(c, r, k, d/2)...)
			end := len(head) - 1 // the solid at the flush face
			head[end] = head[end].With(h.slot.rim(r)...).With(h.slot.onCylinder(r, 0, c)...)
		} else {
			holes = h.socket.holes(l)
		}
		for _, s := range head {
			m.add(s.Less(holes...))
		}
	}
	f.annotate = func(b *builder, dir drawing.Direction, rank drawing.Rank) {
		switch dir {
		case drawing.Front, drawing.SideView:
			b.linear(drawing.Below, rank, label(h.height), 0, -r, k, -d/2)
			b.linear(drawing.Left, rank, diameterLabel(h.diameter), 0, -r, 0, r)
			if c > 0 {
				l := label(h.land)
				l.Reference = h.land.Status == drawing.Derived
				b.linear(drawing.Above, rank, l, 0, r, c, r)
			}
			leg := r * math.Sqrt2
			b.add(drawing.RoleDimension, drawing.Angular{Label: label(h.angle), Vertex: drawing.Pt(c+r, 0),
				Start: 180 - sunkAngle/2, End: 180 + sunkAngle/2, From: leg, To: leg, Rank: rank})
		case drawing.HeadEnd:
			b.add(drawing.RoleDimension, drawing.Diameter{Label: diameterLabel(h.diameter), Radius: r,
				Angle: 50, Rank: 3})
		}
		h.slot.dimensions(b, dir, r, r)
		h.socket.dimensions(b, dir)
	}
	return f
}

// cutaway returns the local section of the head. It ends in the plain shank,
// before the run-out of the thread.
func (h sunkHead) cutaway(st drawing.Style, s shank) *cutaway {
	r, c, k, w := h.diameter.Value/2, h.land.Value, h.height.Value, s.t.D/2
	run := (w - DrawnRoot(s.t, st)) / math.Tan(runOutAngle*math.Pi/180)
	room := math.Min(math.Max(s.limit-run-k, 0)/2, 0.15*s.t.D)
	face := corners([2]float64{k, w}, [2]float64{c, r}, [2]float64{0, r})
	face = append(face, h.socket.profile()...)
	face = append(face, corners([2]float64{0, -r}, [2]float64{c, -r}, [2]float64{k, -w})...)
	return &cutaway{from: 0, to: k + room, high: w, room: 0.4 * room, face: face}
}

// Quantities returns the dimensions of the screw with their rules and sources.
func (c CountersunkScrew) Quantities() ([]drawing.Quantity, error) { return boltQuantities(c) }

// View returns one view of the screw: front, side (the plan), head, point or
// isometric. The front view shows a slot as a notch, and with Options.Section a
// socket in a local section.
func (c CountersunkScrew) View(dir drawing.Direction, opt Options) (drawing.View, error) {
	return boltView(c, dir, opt)
}
