package fastener

import (
	"fmt"

	"boltplate/drawing"
	"boltplate/thread"
)

// Bolted is a bolt with its nut, and a washer under it if there is one, drawn
// as one figure at a given grip: the thickness of what is clamped between the
// head and the washer.
type Bolted struct {
	Bolt   Fastener // HexBolt or SquareBolt
	Nut    Fastener // HexNut or SquareNut
	Washer *Washer  // nil for none
	Grip   float64  // mm
}

func (a Bolted) eighthTurn() bool {
	e, ok := a.Bolt.(eighthTurned)
	return ok && e.eighthTurn()
}

// clamped is what sits on a bolt. The nil clamped is nothing.
type clamped struct {
	faces  int // of the head
	grip   drawing.Quantity
	washer *washerSizes // may be nil
	nut    *nut
}

func (c *clamped) washerThickness() float64 {
	if c.washer == nil {
		return 0
	}
	return c.washer.thickness.Value
}

// seat returns where the bearing face of the nut is.
func (c *clamped) seat() float64 { return c.grip.Value + c.washerThickness() }

// onCorner returns how the nut stands in a view that shows the head in the
// given way. After the quarter turn from one side of a hexagon to the next
// aspect, a square nut is on its corner again.
func (c *clamped) onCorner(head bool) bool {
	return head || c.faces == 6 && c.nut.widths.n == 4
}

// covered returns the stretch of the shank that washer and nut hide.
func (c *clamped) covered() span {
	if c == nil {
		return span{}
	}
	return span{c.grip.Value, c.seat() + c.nut.height.Value}
}

func (c *clamped) elevation(b *builder, acrossCorners bool) {
	if c == nil {
		return
	}
	acrossCorners = c.onCorner(acrossCorners)
	p := c.nut.prism(c.seat())
	if c.washer != nil {
		c.washer.elevation(b, c.grip.Value, p.bearing(acrossCorners))
		p.against = c.washer.outside.Value / 2
	}
	p.elevation(b, acrossCorners)
}

// outlines returns what is seen of washer and nut from the head or the point,
// the nearest first.
func (c *clamped) outlines(fromHead, cornerUp bool) []outline {
	if c == nil {
		return nil
	}
	n := c.nut.prism(0).outlines(!fromHead, c.onCorner(cornerUp))
	if c.washer == nil {
		return n
	}
	w := circle(c.washer.outside.Value / 2)
	if fromHead {
		return append([]outline{w}, n...)
	}
	return append(n, w)
}

func (c *clamped) dimensions(b *builder, acrossCorners bool, under float64, rank drawing.Rank) {
	if c == nil {
		return
	}
	p := c.nut.prism(c.seat())
	bottom := p.bearing(c.onCorner(acrossCorners))
	x, y := c.grip.Value, bottom
	if c.washer != nil {
		y = c.washer.outside.Value / 2
		b.linear(drawing.Below, rank, label(c.washer.thickness), x, -y, c.seat(), -y)
	}
	b.linear(drawing.Below, rank, label(c.grip), 0, -under, x, -y)
	b.linear(drawing.Below, rank, label(c.nut.height), p.x0, -bottom, p.x1, -p.flats/2)
}

func (c *clamped) endDimensions(b *builder) {
	if c == nil || c.washer == nil {
		return
	}
	r := c.washer.outside.Value / 2
	b.linear(drawing.Left, 0, diameterLabel(c.washer.outside), 0, -r, 0, r)
}

// Kind returns the kind of the bolt.
func (a Bolted) Kind() string {
	if a.Bolt == nil {
		return "bolt with nut"
	}
	return a.Bolt.Kind()
}

// Designation returns for instance "Hexagon-head bolt M20 × 90 with hexagon
// nut and plain washer, grip 50".
func (a Bolted) Designation() string {
	if a.Bolt == nil || a.Nut == nil {
		return a.Kind()
	}
	nut := map[string]string{"hex-nut": "hexagon nut", "thin-nut": "hexagon thin nut", "square-nut": "square nut"}[a.Nut.Kind()]
	s := a.Bolt.Designation() + " with " + nut
	if a.Washer != nil {
		s += " and plain washer"
	}
	return s + ", grip " + mm(a.Grip)
}

// Validate reports what is wrong with the description, as a *FieldError: with
// the bolt, the nut or the washer, or with how they fit each other. The nut
// must be wholly on the thread with at least a pitch of it beyond, and must
// not meet the end of the thread before it clamps.
func (a Bolted) Validate() error {
	_, _, err := a.resolve()
	return err
}

func (a Bolted) resolve() (*bolt, *clamped, error) {
	kind := a.Kind()
	bp, ok := a.Bolt.(boltedPart)
	if !ok {
		return nil, nil, &FieldError{kind, "nut", "", "a nut goes on a hex-bolt, hex-screw or square-bolt"}
	}
	np, ok := a.Nut.(nutPart)
	if !ok {
		return nil, nil, &FieldError{kind, "nut", "", "missing; use a hex-nut, thin-nut or square-nut"}
	}
	b, err := bp.resolve()
	if err != nil {
		return nil, nil, err
	}
	n, err := np.resolve()
	if err != nil {
		return nil, nil, err
	}
	if t := b.shank.t; t.D != n.t.D || t.P != n.t.P || t.LeftHand != n.t.LeftHand {
		return nil, nil, &FieldError{kind, "nut", n.t.String(), "does not go on the thread of the bolt, which is " + t.String()}
	}
	if err := checkLength(kind, "grip", a.Grip, "the thickness that is clamped"); err != nil {
		return nil, nil, err
	}
	c := &clamped{faces: b.widths.n, nut: n, grip: drawing.Quantity{Letter: "G", Name: "grip", Value: a.Grip, Source: "as described", Status: drawing.Given}}
	if a.Washer != nil {
		if c.washer, err = a.Washer.resolve(); err != nil {
			return nil, nil, err
		}
		if a.Washer.Thread.D != b.shank.t.D {
			return nil, nil, &FieldError{kind, "washer", "M" + mm(a.Washer.Thread.D), "is not for a bolt of M" + mm(b.shank.t.D)}
		}
	}
	return b, c, c.check(b)
}

// check reports whether nut and washer fit on the bolt at the grip.
func (c *clamped) check(b *bolt) error {
	t, end := b.shank.t, c.seat()+c.nut.height.Value
	if need := end + t.P; b.shank.end < need {
		want := fmt.Sprintf("at least %s mm", mm(need))
		if l, ok := thread.NextLength(need); ok {
			want = fmt.Sprintf("the next preferred length is %s mm (ISO 888)", mm(l))
		}
		return fieldErr(b.kind, "length", b.shank.end,
			"too short: grip, washer, nut and one pitch beyond it come to %s mm; %s", mm(need), want)
	}
	if b.shank.limit > c.seat() {
		return fieldErr(b.kind, "grip", c.grip.Value,
			"the nut meets the end of the thread %s mm before it clamps; a grip of at least %s mm, or a thread length of at least %s mm",
			mm(b.shank.limit-c.seat()), mm(b.shank.limit-c.washerThickness()), mm(b.shank.end-c.seat()))
	}
	if b.neck.length.Value > c.grip.Value {
		return fieldErr(b.kind, "grip", c.grip.Value, "less than the square neck is long; at least %s mm", mm(b.neck.length.Value))
	}
	return nil
}

// Quantities returns the dimensions of the bolt, then the grip, those of the
// nut and those of the washer; the letters and names of the nut's widths say
// that they are the nut's.
func (a Bolted) Quantities() ([]drawing.Quantity, error) {
	b, c, err := a.resolve()
	if err != nil {
		return nil, err
	}
	qs := append(b.quantities(), c.grip)
	projection := drawing.Quantity{Letter: "E", Name: "thread beyond the nut", Rule: "L - G - t - H",
		Value: b.shank.end - c.seat() - c.nut.height.Value, Source: "follows from the lengths", Status: drawing.Derived}
	if c.washer == nil {
		projection.Rule = "L - G - H"
	}
	qs = append(qs, projection, c.nut.height)
	for _, q := range [2]drawing.Quantity{c.nut.widths.corners, c.nut.widths.flats} {
		q.Letter += "n"
		q.Name += " of nut"
		qs = append(qs, q)
	}
	if c.washer != nil {
		for _, q := range [3]drawing.Quantity{c.washer.outside, c.washer.hole, c.washer.thickness} {
			q.Name = "washer " + q.Name
			qs = append(qs, q)
		}
	}
	return qs, nil
}

// View returns one view of the bolt with washer and nut on it.
func (a Bolted) View(dir drawing.Direction, opt Options) (drawing.View, error) {
	b, c, err := a.resolve()
	if err != nil {
		return drawing.View{}, err
	}
	return b.view(dir, opt, c)
}
