package fastener

import (
	"fmt"
	"slices"
	"strings"

	"boltplate/drawing"
	"boltplate/rule"
	"boltplate/thread"
)

// Bolted is a bolt with its nut, and a washer under it if there is one, drawn
// as one figure at a given grip: the thickness of what is clamped between the
// head and the washer; on a stud that from the joint face, on a taper bolt that
// from the face of the large end.
type Bolted struct {
	Bolt   Fastener // of a kind with a head, such as HexBolt
	Nut    Fastener // of a kind of nut, such as HexNut
	Washer Fastener // of a kind of washer, such as Washer; nil for none
	Grip   float64  // mm
	// AsGiven draws the nut where it is said to be even where it does not fit
	// there, for a drawing of what is wrong.
	AsGiven bool
}

func (a Bolted) eighthTurn() bool {
	e, ok := a.Bolt.(eighthTurned)
	if !ok || !e.eighthTurn() {
		return false
	}
	_, c, err := a.resolve()
	return err == nil && c.square()
}

// clamped is what sits on a bolt. The nil clamped is nothing.
type clamped struct {
	widths bool // the widths of the nut are not those of the head
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

// square reports whether what is on a square bolt looks the same after each
// quarter of a turn, so that its side view can be an eighth of one.
func (c *clamped) square() bool {
	return c == nil || c.nut.form == nil && c.nut.widths.n == 4 && (c.washer == nil || c.washer.form == nil)
}

// faces returns how many faces the nut has.
func (n *nut) faces() int {
	if n.form != nil {
		return 6
	}
	return n.widths.n
}

// figures returns washer and nut as they sit on the bolt.
func (c *clamped) figures(b *bolt) []*figure {
	if c == nil {
		return nil
	}
	nut := c.nut.figure(c.seat(), b)
	if c.washer == nil {
		return []*figure{nut}
	}
	return []*figure{c.washer.figure(c.grip.Value, true), nut}
}

// covered returns the stretch of the shank that washer and nut hide.
func (c *clamped) covered() span {
	if c == nil {
		return span{}
	}
	return span{c.grip.Value, c.seat() + c.nut.height.Value}
}

func (c *clamped) dimensions(b *builder, under float64, rank drawing.Rank) {
	if c == nil {
		return
	}
	corners := b.onCorner(c.nut.faces())
	base, top := c.nut.halves(corners)
	x, y := c.grip.Value, base
	if c.washer != nil {
		y = c.washer.outside.Value / 2
		b.linear(drawing.Below, rank, label(c.washer.thickness), x, -y, c.seat(), -y)
		// Head and nut hide a spring washer in the views along the axis, and a
		// round head may hide any.
		if c.washer.form != nil || c.widths {
			r := rank
			if c.washer.form == nil {
				r = 3
			}
			b.add(drawing.RoleDimension, drawing.Leader{Label: diameterLabel(c.washer.outside),
				Tip: drawing.Pt((x+c.seat())/2, y), Angle: 115, Rank: r})
		}
	}
	b.linear(drawing.Below, rank, label(c.grip), 0, -under, x, -y)
	if c.widths && c.nut.form == nil {
		c.nut.widths.onBolt(b, c.nut.prism(c.seat()), corners)
	}
	height := label(c.nut.height)
	height.Reference = c.nut.height.Status == drawing.Derived
	if c.nut.form != nil && c.nut.form.inPlan {
		rank = 0
		if b.dir == drawing.Front {
			rank = 1
		}
	}
	b.linear(drawing.Below, rank, height, c.seat(), -base, c.seat()+c.nut.height.Value, -top)
}

// onBolt gives the width of a nut p on a bolt; that of a nut on a hexagonal or
// square head is the head's.
func (w widths) onBolt(b *builder, p prism, acrossCorners bool) {
	w.flats.Letter, w.corners.Letter = "Wn", "An"
	if acrossCorners {
		h, end := p.corners()/2, p.x1-p.drop()
		b.linear(drawing.Right, 2, w.cornersLabel(), end, -h, end, h)
		return
	}
	b.linear(drawing.Right, 2, w.flatsLabel(), p.x1, -p.flats/2, p.x1, p.flats/2)
}

// capped reports whether the nut covers the end of the bolt.
func (c *clamped) capped(b *bolt) bool {
	return c != nil && b.shank.end < c.seat()+c.nut.height.Value
}

// halves returns the half heights of the bearing face and of the other end.
func (n *nut) halves(acrossCorners bool) (base, top float64) {
	if n.form != nil {
		return n.form.base(acrossCorners), n.form.top(acrossCorners)
	}
	return n.prism(0).bearing(acrossCorners), n.widths.flats.Value / 2
}

// endDimensions gives the diameter of the washer, across where it is seen.
func (c *clamped) endDimensions(b *builder) {
	if c == nil || c.washer == nil || c.washer.form != nil {
		return
	}
	r := c.washer.outside.Value / 2
	outside := c.washer.outside
	switch {
	case b.seen(drawing.Pt(0, r)) && b.seen(drawing.Pt(0, -r)):
		b.linear(drawing.Left, 0, diameterLabel(outside), 0, -r, 0, r)
	case b.seen(drawing.Pt(r, 0)) && b.seen(drawing.Pt(-r, 0)):
		b.linear(drawing.Below, 0, diameterLabel(outside), -r, 0, r, 0)
	default: // the corners of a square nut cover it there
		for _, a := range [4]float64{135, 225, 45, 315} {
			if b.seen(drawing.Polar(r, a)) {
				b.add(drawing.RoleDimension, drawing.Diameter{Label: diameterLabel(outside), Radius: r, Angle: a,
					Start: a - 1, End: a + 1})
				return
			}
		}
	}
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
	s := a.Bolt.Designation() + " with " + titleOf(a.Nut)
	if a.Washer != nil {
		s += " and " + titleOf(a.Washer)
	}
	return s + ", grip " + mm(a.Grip)
}

// titleOf returns the first words of a designation, up to the size: "hexagon
// nut".
func titleOf(f Fastener) string {
	words := strings.Fields(f.Designation())
	for i, w := range words {
		if i > 0 && (w == "for" || strings.ToUpper(w) == w && w != "C,") {
			words = words[:i]
			break
		}
	}
	words[0] = strings.ToLower(words[0])
	return strings.TrimSuffix(strings.Join(words, " "), ",")
}

// Validate reports what is wrong with the description, as a *FieldError: with
// the bolt, the nut or the washer, or with how they fit each other. The nut
// must be wholly on the thread with at least a pitch of it beyond, and must
// not meet the end of the thread before it clamps. In a cap nut the bolt must
// end within the blind thread, at least D from the bearing face.
func (a Bolted) Validate() error {
	_, _, err := a.resolve()
	return err
}

func (a Bolted) resolve() (*bolt, *clamped, error) {
	kind := a.Kind()
	bp, ok := a.Bolt.(boltedPart)
	if !ok {
		return nil, nil, &FieldError{kind, "nut", "", "a nut goes on a bolt with a head"}
	}
	np, ok := a.Nut.(nutPart)
	if !ok {
		return nil, nil, &FieldError{kind, "nut", "", "missing; use a nut, such as HexNut"}
	}
	b, err := bp.resolve()
	if err != nil {
		return nil, nil, err
	}
	if b.tapped {
		return nil, nil, &FieldError{kind, "nut", "",
			"this kind is screwed into a tapped hole and carries no nut; leave it out, or use hex-screw"}
	}
	n, err := np.resolve()
	if err != nil {
		return nil, nil, err
	}
	if t := b.shank.t; t.D != n.t.D || t.P != n.t.P || t.LeftHand != n.t.LeftHand {
		return nil, nil, &FieldError{kind, "nut", n.t.String(),
			"does not go on the thread of the bolt, which is " + t.String()}
	}
	if err := checkLength(kind, "grip", a.Grip, "the thickness that is clamped"); err != nil {
		return nil, nil, err
	}
	grip := settled{size: sizeGrip, value: a.Grip, source: sizeGrip.source, status: sizeGrip.status}
	c := &clamped{widths: b.form != nil, nut: n, grip: grip.quantity()}
	if a.Washer != nil {
		wp, ok := a.Washer.(washerPart)
		if !ok {
			return nil, nil, &FieldError{kind, "washer", "", "not a washer; use one, such as Washer"}
		}
		if c.washer, err = wp.resolve(); err != nil {
			return nil, nil, err
		}
		if c.washer.d != b.shank.t.D {
			return nil, nil, &FieldError{kind, "washer", "M" + mm(c.washer.d),
				"is not for a bolt of M" + mm(b.shank.t.D)}
		}
		// Round heads have a diameter of the same letter.
		c.washer.outside.Letter, c.washer.hole.Letter = "d2w", "d1w"
	}
	if a.AsGiven {
		return b, c, nil
	}
	return b, c, c.check(b)
}

// check reports whether nut and washer fit on the bolt at the grip.
func (c *clamped) check(b *bolt) error {
	t, end := b.shank.t, c.seat()+c.nut.height.Value
	if f := c.nut.form; f != nil && f.onBolt != nil {
		if err := f.onBolt(b, c.seat()); err != nil {
			return err
		}
	} else if need := end + t.P; b.shank.end < need {
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
		return fieldErr(b.kind, "grip", c.grip.Value, "less than the square neck is long; at least %s mm",
			mm(b.neck.length.Value))
	}
	if b.form != nil && b.form.least > c.grip.Value {
		what := b.form.standing
		if what == "" {
			what = "what stands under the head"
		}
		return fieldErr(b.kind, "grip", c.grip.Value, "less than %s; at least %s mm", what, mm(b.form.least))
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
	return c.quantities(b), nil
}

// What of the thread is beyond a nut, with a washer under it and without.
var (
	beyondNut       = follows("E", "thread beyond the nut", "L - G - H", "the lengths")
	beyondNutWasher = follows("E", "thread beyond the nut", "L - G - t - H", "the lengths")
)

// quantities returns those of the bolt and of what is on it.
func (c *clamped) quantities(b *bolt) []drawing.Quantity {
	qs := append(b.quantities(), c.grip)
	if !c.capped(b) {
		e := &beyondNut
		if c.washer != nil {
			e = &beyondNutWasher
		}
		beyond := e.unsettled()
		beyond.value = b.shank.end - c.seat() - c.nut.height.Value
		qs = append(qs, beyond.quantity())
	}
	letters := []string{"A", "W"}
	if c.nut.form != nil {
		letters = c.nut.form.extra
	}
	nut := c.nut.z.needed(append([]string{c.nut.height.Letter}, letters...)...)
	qs = append(qs, renamed(nut, others(nut, qs, "n", "A", "W"),
		func(q *drawing.Quantity) { q.Name += " of nut" })...)
	if c.washer == nil {
		return qs
	}
	washer := c.washer.z.needed("d2", "d1", c.washer.thickness.Letter)
	washer = renamed(washer, others(washer, qs, "w", "d2", "d1"), nil)
	for i := range washer {
		washer[i].Name = "washer " + washer[i].Name
	}
	return append(qs, washer...)
}

// others returns other letters, with suffix behind them, for those that are
// always renamed and those that are taken.
func others(qs, taken []drawing.Quantity, suffix string, always ...string) map[string]string {
	out := map[string]string{}
	for _, q := range qs {
		has := func(t drawing.Quantity) bool { return t.Letter == q.Letter }
		if slices.Contains(always, q.Letter) || slices.ContainsFunc(taken, has) {
			out[q.Letter] = q.Letter + suffix
		}
	}
	return out
}

// renamed returns quantities with other letters, in their rules as well; change
// is called for those that have another letter and may be nil.
func renamed(qs []drawing.Quantity, letters map[string]string,
	change func(*drawing.Quantity)) []drawing.Quantity {
	for i := range qs {
		q := &qs[i]
		if q.Rule != nil && slices.ContainsFunc(q.Rule.Letters(), func(l string) bool { return letters[l] != "" }) {
			own, err := q.Rule.Inline(func(l string) *rule.Expr {
				if to := letters[l]; to != "" {
					return rule.MustParse(to)
				}
				return nil
			})
			if err == nil {
				q.Rule = own
			}
		}
		if to := letters[q.Letter]; to != "" {
			q.Letter = to
			if change != nil {
				change(q)
			}
		}
	}
	return qs
}

// View returns one view of the bolt with washer and nut on it, from any of the
// directions from which the bolt has a view.
func (a Bolted) View(dir drawing.Direction, opt Options) (drawing.View, error) {
	b, c, err := a.resolve()
	if err != nil {
		return drawing.View{}, err
	}
	v, err := b.view(dir, opt, c)
	return worded(v, opt, func() []drawing.Quantity { return c.quantities(b) }), err
}
