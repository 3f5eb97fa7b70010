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
}

func countersunkScrewKind() KindInfo {
	return KindInfo{Name: "countersunk-screw", Title: "countersunk-head screw", Note: noteScrew, Length: true, Views: allViews(), Default: boltViews(), Section: true,
		Options: []Option{choice("form", "slotted", "socket"), optThread(), optBasis()},
		make: func(s Spec) Fastener {
			return CountersunkScrew{Thread: s.Thread, Length: s.Length, ThreadLength: s.ThreadLength, Socket: is(s.Form, "socket"), Basis: s.Basis}
		}}
}

const (
	standardCountersunkScrew  = "ISO 2009:2011"
	standardCountersunkSocket = "ISO 10642:2004"
)

// countersunkToHead is the nominal length, mm, up to which the screws of ISO
// 2009 are threaded to the head (from memory, unverified).
const countersunkToHead = 45

// countersunkHeadTable holds ISO 2009:2011, slotted countersunk heads: actual
// greatest diameter of the head. From memory, unverified.
func countersunkHeadTable() []slottedRow {
	return []slottedRow{
		{3, 5.5, 1.65, 0.8, 0.85},
		{4, 8.4, 2.7, 1.2, 1.3},
		{5, 9.3, 2.7, 1.2, 1.4},
		{6, 11.3, 3.3, 1.6, 1.6},
		{8, 15.8, 4.65, 2, 2.3},
		{10, 18.3, 5, 2.5, 2.6},
	}
}

// countersunkSocketRow is a row of ISO 10642: theoretical greatest diameter dk
// of the head, to the sharp corner, and height k, nominal width across flats s
// and least depth t of the socket; mm.
type countersunkSocketRow struct{ d, dk, k, s, t float64 }

// countersunkSocketTable holds ISO 10642:2004, countersunk heads with a hexagon
// socket. Two published tables agree on each row but that of M14, which is from
// memory, unverified.
func countersunkSocketTable() []countersunkSocketRow {
	return []countersunkSocketRow{
		{3, 6.72, 1.86, 2, 1.1},
		{4, 8.96, 2.48, 2.5, 1.5},
		{5, 11.2, 3.1, 3, 1.9},
		{6, 13.44, 3.72, 4, 2.2},
		{8, 17.92, 4.96, 5, 3},
		{10, 22.4, 6.2, 6, 3.6},
		{12, 26.88, 7.44, 8, 4.3},
		{14, 30.8, 8.4, 10, 4.5},
		{16, 33.6, 8.8, 10, 4.8},
		{20, 40.32, 10.16, 12, 5.6},
	}
}

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
	return title + standardPrefix(c.Basis, c.Thread, c.standard(), "") + c.Thread.String() + times(c.Length)
}

// Validate reports what is wrong with the description, as a *FieldError.
func (c CountersunkScrew) Validate() error {
	_, err := c.resolve()
	return err
}

// A sunkHead is a countersunk head of 90 degrees: a cone under a cylindrical
// land, which a head that is given to its sharp corner does not have.
type sunkHead struct {
	diameter, height, land drawing.Quantity
	slot                   slot
	socket                 socket
}

// sunkAngle is the included angle of a countersunk head, degrees.
const sunkAngle = 90.0

func (c CountersunkScrew) resolve() (*bolt, error) {
	kind := c.Kind()
	if err := checkCommon(kind, c.Thread, c.Basis, ByBasis, false); err != nil {
		return nil, err
	}
	z := sizer{d: c.Thread.D, standard: c.standard(), status: drawing.Published}
	var h sunkHead
	switch {
	case c.Basis != Standard:
		h.byRule(z, c.Socket)
	case c.Socket:
		std, err := editionFor(kind, c.Thread, z.standard, "")
		if err != nil {
			return nil, err
		}
		row, err := find(kind, std, countersunkSocketTable(), z.d, func(r countersunkSocketRow) float64 { return r.d })
		if err != nil {
			return nil, err
		}
		if z.d == 14 {
			z.status = drawing.FromMemory
		}
		h.byTable(z, row.dk, row.k, "dk max, theoretical")
		h.socket = socket{flats: z.table("s", socketFlats, row.s, "s nominal"), depth: z.table("t", "socket depth", row.t, "t min")}
	default:
		std, err := editionFor(kind, c.Thread, z.standard, "")
		if err != nil {
			return nil, err
		}
		row, err := find(kind, std, countersunkHeadTable(), z.d, slottedRow.diameter)
		if err != nil {
			return nil, err
		}
		z.status = drawing.FromMemory
		h.byTable(z, row.dk, row.k, "dk max")
		h.slot = z.slotByTable(row.n, row.t)
	}
	rule := machineScrewThread(z.d, countersunkToHead, c.Basis, z.standard)
	if c.Socket {
		rule = &threadRule{length: drawing.Quantity{Rule: "2D + 12", Value: 2*z.d + 12, Source: standardCountersunkSocket + ", b reference (from memory, unverified)", Status: drawing.FromMemory}}
	}
	b := &bolt{kind: kind, form: h.form(z.d), tapped: true, threadRule: rule}
	return b, b.settle(c.Thread, c.Length, c.ThreadLength, false, c.Basis, z.standard)
}

// byRule sets the head out by proportion.
func (h *sunkHead) byRule(z sizer, socketed bool) {
	h.diameter = z.rule("d2", "head diameter", "2D", 2, "Low, Machine Drawing and Design (1887); DIN 604")
	h.land = z.rule("c", "land at the flush face", "0.1D", 0.1, "Low, Machine Drawing and Design (1887)")
	h.height = drawing.Quantity{Letter: "T", Name: "head height", Rule: "0.5D + c = 0.6D", Value: 0.6 * z.d,
		Source: "follows from the diameter, the land and the angle", Status: drawing.Derived}
	if socketed {
		h.socket = socket{flats: z.rule("s", socketFlats, "0.6D", 0.6, ""), depth: z.rule("t", "socket depth", "0.3D", 0.3, "")}
	} else {
		h.slot = z.slotByRule()
	}
}

// byTable sets the head out by a standard; its land follows, and is none where
// the diameter is that of the sharp corner.
func (h *sunkHead) byTable(z sizer, dk, k float64, column string) {
	h.diameter, h.height = z.table("d2", "head diameter", dk, column), z.table("T", "head height", k, "k max")
	if land := k - (dk-z.d)/2; land > 1e-6 {
		h.land = drawing.Quantity{Letter: "c", Name: "land at the flush face", Rule: "T - (d2 - D) / 2", Value: land,
			Source: "follows from the height, the diameter and the angle", Status: drawing.Derived}
	}
}

// form returns the head on a shank of diameter d. The origin is on the flush
// face.
func (h sunkHead) form(d float64) *form {
	r, c, k := h.diameter.Value/2, h.land.Value, h.height.Value
	angle := drawing.Quantity{Letter: "a", Name: "included angle of the head", Rule: "90°", Value: sunkAngle, Unit: drawing.Degree,
		Source: "Low, Machine Drawing and Design (1887); DIN 604; ISO 10642", Status: drawing.Published}
	f := &form{start: k, plain: k, plainLetter: "T", origin: drawing.Pt(0, -r), quantities: []drawing.Quantity{h.diameter, h.height, angle}}
	if c > 0 {
		f.quantities = append(f.quantities, h.land)
	}
	if h.slot.present() {
		f.quantities = append(f.quantities, h.slot.quantities()...)
	} else {
		f.quantities = append(f.quantities, h.socket.quantities()...)
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
			b.add(drawing.RoleDimension, drawing.Angular{Label: label(angle), Vertex: drawing.Pt(c+r, 0), Start: 180 - sunkAngle/2, End: 180 + sunkAngle/2, From: leg, To: leg, Rank: rank})
		case drawing.HeadEnd:
			b.add(drawing.RoleDimension, drawing.Diameter{Label: diameterLabel(h.diameter), Radius: r, Angle: 50, Rank: 3})
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
	run := (w - rootRadius(s.t, st)) / math.Tan(runOutAngle*math.Pi/180)
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
