package fastener

import (
	"boltplate/drawing"
	"boltplate/thread"
)

// CapScrew is a screw with a cylindrical head and a hexagon socket in it for a
// key. The zero ThreadLength means that of ISO 4762, 2D + 12, on either basis;
// screws too short for it are threaded to the head.
type CapScrew struct {
	Thread       thread.Thread
	Length       float64 // under the head, mm
	ThreadLength float64 // mm; 0 means by the rule
	Basis        Basis
}

func capScrewKind() KindInfo {
	return KindInfo{Name: "cap-screw", Title: "socket-head cap screw", Length: true, Views: allViews(), Default: boltViews(), Section: true,
		Options: []Option{optThread(), optBasis()},
		make: func(s Spec) Fastener {
			return CapScrew{Thread: s.Thread, Length: s.Length, ThreadLength: s.ThreadLength, Basis: s.Basis}
		}}
}

const standardCapScrew = "ISO 4762:2004"

// capScrewRow is a row of ISO 4762: greatest diameter dk of a plain head and
// height k of the head, nominal width across flats s and least depth t of the
// socket, reference length of thread b; mm.
type capScrewRow struct{ d, dk, k, s, t, b float64 }

// capScrewTable holds ISO 4762:2004. The rows of M14 and of M42 up were found
// in one published table, the others in two.
func capScrewTable() []capScrewRow {
	return []capScrewRow{
		{3, 5.5, 3, 2.5, 1.3, 18},
		{4, 7, 4, 3, 2, 20},
		{5, 8.5, 5, 4, 2.5, 22},
		{6, 10, 6, 5, 3, 24},
		{8, 13, 8, 6, 4, 28},
		{10, 16, 10, 8, 5, 32},
		{12, 18, 12, 10, 6, 36},
		{14, 21, 14, 12, 7, 40},
		{16, 24, 16, 14, 8, 44},
		{20, 30, 20, 17, 10, 52},
		{24, 36, 24, 19, 12, 60},
		{30, 45, 30, 22, 15.5, 72},
		{36, 54, 36, 27, 19, 84},
		{42, 63, 42, 32, 24, 96},
		{48, 72, 48, 36, 28, 108},
		{56, 84, 56, 41, 34, 124},
		{64, 96, 64, 46, 38, 140},
	}
}

// Kind returns "cap-screw".
func (CapScrew) Kind() string { return "cap-screw" }

// Designation returns for instance "Socket-head cap screw M12 × 50" or, on
// basis Standard, "Socket-head cap screw ISO 4762 - M12 × 50".
func (c CapScrew) Designation() string {
	return "Socket-head cap screw " + standardPrefix(c.Basis, c.Thread, standardCapScrew, "") + c.Thread.String() + times(c.Length)
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
	d := c.Thread.D
	std := edition{name: standardCapScrew}
	if c.Basis == Standard {
		var err error
		if std, err = editionFor(kind, c.Thread, standardCapScrew, ""); err != nil {
			return nil, err
		}
	}
	row, missing := find(kind, std, capScrewTable(), d, func(r capScrewRow) float64 { return r.d })
	z := sizer{d: d, standard: standardCapScrew, status: drawing.Published}
	var h cylinderHead
	if c.Basis == Standard {
		if missing != nil {
			return nil, missing
		}
		h.diameter = z.table("d2", "head diameter", row.dk, "dk max, plain head")
		h.height = z.table("T", "head height", row.k, "k max")
		h.socket.depth = z.table("t", "socket depth", row.t, "t min")
	} else {
		h.diameter = z.rule("d2", "head diameter", "1.5D", 1.5, "ISO 4762; Narayana, Kannaiah and Reddy, Machine Drawing")
		h.height = z.rule("T", "head height", "D", 1, "ISO 4762")
		h.socket.depth = z.rule("t", "socket depth", "0.5D", 0.5, "ISO 4762")
	}
	// Keys come in a few sizes only: the socket is that of the table wherever
	// the table has the size.
	h.socket.flats = z.table("s", socketFlats, row.s, "s nominal")
	if missing != nil {
		h.socket.flats = z.rule("s", socketFlats, "0.75D", 0.75, "")
	}
	rule := &threadRule{length: drawing.Quantity{Rule: "2D + 12", Value: 2*d + 12, Source: standardCapScrew + ", b reference", Status: drawing.Published}}
	b := &bolt{kind: kind, form: h.form(), tapped: true, threadRule: rule}
	return b, b.settle(c.Thread, c.Length, c.ThreadLength, false, c.Basis, standardCapScrew)
}

// Quantities returns the dimensions of the screw with their rules and sources.
func (c CapScrew) Quantities() ([]drawing.Quantity, error) { return boltQuantities(c) }

// View returns one view of the screw: front, side (the plan), head, point or
// isometric. With Options.Section the front view shows the head in a local
// section, which the depth of the socket is given in.
func (c CapScrew) View(dir drawing.Direction, opt Options) (drawing.View, error) {
	return boltView(c, dir, opt)
}
