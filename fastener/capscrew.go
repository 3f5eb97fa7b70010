package fastener

import (
	"boltplate/drawing"
	"boltplate/thread"
)

// CapScrew is a screw with a cylindrical head and a hexagon socket in it for a
// key. The zero ThreadLength means that of ISO 4762, 2D + 12, on either basis;
// short screws are threaded to the head, those of basis Standard up to the
// length for which ISO 4762 says so, and all that are too short for it.
type CapScrew struct {
	Thread       thread.Thread
	Length       float64 // under the head, mm
	ThreadLength float64 // mm; 0 means by the rule
	Basis        Basis
	Extra
}

func capScrewKind() KindInfo {
	return KindInfo{Name: "cap-screw", Title: "socket-head cap screw", Length: true, Views: allViews(),
		Default: boltViews(), Section: true,
		Options: []Option{optThread(), optEnd(), optUndercut(), optBasis()},
		variants: []variant{{families: []string{familyScrews},
			groups: []*group{capScrewRules, socketFlatsRule, capDepthRule}, thread: capScrewThread}},
		how: map[stage]string{
			stageShape: "Draw the circle of the head, and about the same axis the hexagon of the socket with the 30°/60° set square",
			stageHead:  "Draw the head on the bearing face, a rectangle as wide as its diameter; open the socket in section, with the point that the drill leaves"},
		make: func(s Spec) Fastener {
			return CapScrew{Thread: s.Thread, Length: s.Length, ThreadLength: s.ThreadLength, Basis: s.Basis,
				Extra: s.Extra}
		}}
}

const standardCapScrew = "ISO 4762:2004"

// The sizes of a cap screw by proportion. Keys come in a few sizes only: the
// socket is that of the table wherever the table has the size.
var (
	capScrewRules = groupOf(
		published("d2", nameHead, "1.5D", narayana+"; ISO 4762 from M12"),
		published("T", nameHeadHeight, "D", "ISO 4762"))
	socketFlatsRule = groupOf(practice("s", nameSocketFlats, "0.75D"))
	capDepthRule    = groupOf(practiceBy("t", nameSocketDepth, "0.5D", "ISO 4762, rounded"))
	capScrewThread  = groupOf(published("b", sizeThread.name, "2D + 12", standardCapScrew+", b reference"))
)

// capScrewRow is a row of ISO 4762: greatest and least diameter dk of a plain
// head and height k of the head, nominal width across flats s and least depth t
// of the socket; mm.
type capScrewRow struct {
	d, dk, dkMin, k, kMin, s, t float64
	status                      drawing.Status
}

func (r capScrewRow) diameter() float64 { return r.d }

// capScrews holds ISO 4762:2004. The rows of M14 and of M42 up were found in one
// published table, the others in two.
var capScrews = []capScrewRow{
	{3, 5.5, 5.32, 3, 2.86, 2.5, 1.3, isPublished},
	{4, 7, 6.78, 4, 3.82, 3, 2, isPublished},
	{5, 8.5, 8.28, 5, 4.82, 4, 2.5, isPublished},
	{6, 10, 9.78, 6, 5.7, 5, 3, isPublished},
	{8, 13, 12.73, 8, 7.64, 6, 4, isPublished},
	{10, 16, 15.73, 10, 9.64, 8, 5, isPublished},
	{12, 18, 17.73, 12, 11.57, 10, 6, isPublished},
	{14, 21, 20.67, 14, 13.57, 12, 7, isPublished},
	{16, 24, 23.67, 16, 15.57, 14, 8, isPublished},
	{20, 30, 29.67, 20, 19.48, 17, 10, isPublished},
	{24, 36, 35.61, 24, 23.48, 19, 12, isPublished},
	{30, 45, 44.61, 30, 29.48, 22, 15.5, isPublished},
	{36, 54, 53.54, 36, 35.38, 27, 19, isPublished},
	{42, 63, 62.54, 42, 41.38, 32, 24, isPublished},
	{48, 72, 71.54, 48, 47.38, 36, 28, isPublished},
	{56, 84, 83.46, 56, 55.26, 41, 34, isPublished},
	{64, 96, 95.46, 64, 63.26, 46, 38, isPublished},
}

// Columns of ISO 4762.
var (
	columnCapDiameter = column("d2", nameHead, standardCapScrew+", dk max, plain head")
	columnCapHeight   = column("T", nameHeadHeight, standardCapScrew+", k max")
	columnCapFlats    = column("s", nameSocketFlats, standardCapScrew+", s nominal")
	columnCapDepth    = column("t", nameSocketDepth, standardCapScrew+", t min")
)

// capScrewToHead returns the nominal length up to which ISO 4762 has screws
// threaded to within 3P of the head, mm; 0 where none is held. From memory,
// unverified.
func capScrewToHead(d float64) float64 {
	for _, r := range [...]struct{ d, length float64 }{
		{3, 20}, {4, 25}, {5, 25}, {6, 30}, {8, 35}, {10, 40}, {12, 50}, {14, 55}, {16, 60}, {20, 70}, {24, 80},
		{30, 100}, {36, 110},
	} {
		if r.d == d {
			return r.length
		}
	}
	return 0
}

// Kind returns "cap-screw".
func (CapScrew) Kind() string { return "cap-screw" }

// Designation returns for instance "Socket-head cap screw M12 × 50" or, on
// basis Standard, "Socket-head cap screw ISO 4762 - M12 × 50".
func (c CapScrew) Designation() string {
	return "Socket-head cap screw " + standardPrefix(c.Basis, c.Thread, standardCapScrew,
		"") + c.Thread.String() + times(c.Length) + c.supplied()
}

// Validate reports what is wrong with the description, as a *FieldError.
func (c CapScrew) Validate() error {
	_, err := c.resolve()
	return err
}

func (c CapScrew) resolve() (*bolt, error) {
	kind := c.Kind()
	if err := checkCommon(kind, c.Thread, c.Basis, ByBasis, false); err != nil {
		return nil, err
	}
	b := newBolt(kind, "", c.Extra, c.Thread)
	b.tapped = true
	if err := b.begin(c.Length, c.Basis, underHead); err != nil {
		return nil, err
	}
	if err := c.sizes(&b.z); err != nil {
		return nil, err
	}
	z := &b.z
	h := cylinderHead{diameter: z.size("d2"), height: z.size("T")}
	var err error
	if h.socket, err = z.socket(h.height.Value, h.diameter.Value/2); err != nil {
		return nil, err
	}
	if err := z.needs("d2", "D"); err != nil {
		return nil, err
	}
	b.form = h.form()
	b.fits.Head = HeadFit{Height: h.height.Value, Diameter: h.diameter.Value}
	by := &threadRule{group: capScrewThread}
	if c.Basis == Standard {
		by.toHead = capScrewToHead(c.Thread.D)
	}
	return b, b.settle(wish{given: c.ThreadLength, basis: c.Basis, standard: standardCapScrew, by: by})
}

// sizes sets the head and its socket out.
func (c CapScrew) sizes(z *sizer) error {
	std := edition{name: standardCapScrew}
	if c.Basis == Standard {
		var err error
		if std, err = editionFor(z.kind, c.Thread, standardCapScrew, ""); err != nil {
			return err
		}
	}
	row, missing := find(z.kind, std, capScrews, c.Thread.D)
	if c.Basis != Standard {
		z.use(capScrewRules)
		if missing != nil || z.rules.gives(z.kind, z.word, "s") && z.rules.changes(z.kind, z.word, "s") {
			z.use(socketFlatsRule)
		} else {
			z.tabled(columnCapFlats, row.s, row.status)
		}
		z.use(capDepthRule)
		return z.solve()
	}
	if missing != nil {
		return missing
	}
	q := z.tabled(columnCapDiameter, row.dk, row.status)
	q.min, q.max = row.dkMin, row.dk
	q = z.tabled(columnCapHeight, row.k, row.status)
	q.min, q.max = row.kMin, row.k
	z.tabled(columnCapFlats, row.s, row.status)
	z.tabled(columnCapDepth, row.t, row.status).min = row.t
	return nil
}

// Quantities returns the dimensions of the screw with their rules and sources.
func (c CapScrew) Quantities() ([]drawing.Quantity, error) { return boltQuantities(c) }

// View returns one view of the screw: front, side (the plan), head, point or
// isometric. With Options.Section the front view shows the head in a local
// section, which the depth of the socket is given in.
func (c CapScrew) View(dir drawing.Direction, opt Options) (drawing.View, error) {
	return boltView(c, dir, opt)
}
