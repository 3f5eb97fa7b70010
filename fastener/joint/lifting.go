package joint

import (
	"fmt"
	"math"
	"slices"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/thread"
)

func liftingScene() scene {
	return scene{name: Lifting, kind: "eye-bolt", tapped: true, parts: [2]int{1, 1},
		reads:  append([]string{"seat", "relief", "relief_depth"}, tappedFields...),
		choose: (*chooser).liftingScene, check: (*checker).lifting, draw: (*board).liftingScene}
}

const (
	// steepest is the greatest angle between an inclined pull and the axis,
	// degrees (common practice for collar eye bolts; from memory, unverified,
	// for DIN 580).
	steepest = 45.0
	// leastRelief is the least diameter of the relief at the mouth of the hole,
	// in D (common practice: 1.05D to 1.1D).
	leastRelief  = 1.05
	chosenRelief = 1.1
)

// liftingScene chooses the form of the eye bolt, the relief at the mouth of
// its hole, and depths. The length is the eye bolt's own.
func (c *chooser) liftingScene() error {
	if err := c.onlyKind("eye-bolt", "a collar"); err != nil {
		return err
	}
	if c.Bolt.Form == "" {
		c.Bolt.Form = "collar"
		c.note("bolt.form", "collar", "only an eye bolt with a collar is for lifting (DIN 580)")
	}
	if !is(c.Bolt.Form, "collar") {
		return &FieldError{Field: "bolt.form",
			Want: c.Bolt.Form + " is not for lifting; use collar, or leave it out"}
	}
	if math.IsNaN(c.Pull) || c.Pull < 0 || c.Pull > 180 {
		return &FieldError{Field: "pull",
			Want: num(c.Pull) + " is not the angle of a pull; give degrees from the axis, 0 to 180"}
	}
	m, err := newModel(c.Joint)
	if err != nil {
		return err
	}
	c.choose(&c.Bolt.Length, m.length(), "bolt.length", "the eye bolt's own")
	p := &c.Parts[0]
	c.choose(&p.Relief, halfDown(chosenRelief*m.t.D), partField(0, "relief"),
		"1.1D, so that the run-out of the thread goes in and the collar seats (common practice)")
	c.choose(&p.ReliefDepth, math.Ceil(m.limit()*2-slack)/2, partField(0, "relief_depth"),
		"as deep as the incomplete thread under the collar, 3P (ISO 3508:1976)")
	c.depths(p, 0, m.length())
	return nil
}

// lifting checks an eye bolt in the body that it lifts. It knows no loads.
func (c *checker) lifting() {
	p := c.Parts[0]
	c.pull()
	c.collarSeat(p)
	c.mouth(p)
	c.eyeThread(p)
	if !p.Through {
		in, d := c.length(), c.t.D
		if most := math.Min(p.FullDepth, p.DrillDepth); in > most+slack {
			c.add(Finding{Code: Bottoming,
				What: fmt.Sprintf("the eye bolt meets the end of the thread in %s before its collar seats",
					c.partName(0)), Measured: most, Required: in, Unit: "mm",
				Remedy: fmt.Sprintf("full thread %s mm deep", num(in+0.5*d)),
				Rule:   "the full thread is deeper than the bolt reaches in", Source: practice,
				At: drawing.Pt(p.FullDepth, 0)})
		} else if need := in + 0.5*d; p.FullDepth < need-slack {
			c.add(Finding{Code: FullThread, Severity: Warning,
				What: "too little full thread beyond the end of the eye bolt", Measured: p.FullDepth,
				Required: need, Unit: "mm",
				Remedy: fmt.Sprintf("full thread %s mm deep", num(need)),
				Rule:   "0.5D of full thread beyond the engaged length", Source: practice,
				At: drawing.Pt(p.FullDepth, d/2)})
		}
		c.drilled(p, 0, 0, 1)
	}
}

// ringOfEye returns the centre of the ring on the axis and its outer radius.
func (m *model) ringOfEye() (x, r float64) {
	r = m.fit.Eye.Outside / 2
	return r - m.fit.Eye.Height, r
}

// pull checks the direction of the pull.
func (c *checker) pull() {
	x, r := c.ringOfEye()
	at := polar(x, r, -c.Pull)
	if c.PullAcross {
		c.add(Finding{Code: PullAcross, What: "the pull leaves the plane of the ring", Measured: c.Pull,
			Required: 0, Unit: "degrees",
			Remedy: "turn the ring into the plane of the pull, as the maker says, or pull in line with the axis",
			Rule:   "an eye bolt is never pulled across its ring", Source: practice, At: at})
	}
	if c.Pull > steepest+slack {
		c.add(Finding{Code: PullFlat, What: "the pull is too far from the axis", Measured: c.Pull,
			Required: steepest, Unit: "degrees",
			Remedy: "longer slings or a spreader beam, so that the pull is steeper, or eyes made for this direction",
			Rule:   "in line with the axis, or in the plane of the ring up to 45 degrees from it",
			Source: practice + "; DIN 580 (from memory, unverified)", At: at})
	}
}

// collarSeat checks the face that the collar seats on.
func (c *checker) collarSeat(p Part) {
	d2, name := c.fit.Eye.Collar, c.partName(0)
	if p.Seat > 0 && p.Seat < d2-slack {
		c.add(Finding{Code: SeatNarrow,
			What:     fmt.Sprintf("the flat seat on %s is narrower than the collar, which does not come down on it", name),
			Measured: p.Seat, Required: d2, Unit: "mm",
			Remedy: fmt.Sprintf("face it flat over at least %s mm", num(math.Ceil(d2+1))),
			Rule:   "the collar is flat on the face all round",
			Source: practice + "; DIN 580 (from memory, unverified)", At: drawing.Pt(0, p.Seat/2)})
	}
	if need := math.Max(d2/2, 1.5*c.t.D); p.Edge > 0 && p.Edge < need-slack {
		c.add(Finding{Code: Edge, What: fmt.Sprintf("the eye bolt is too near to the edge of %s", name),
			Measured: p.Edge, Required: need, Unit: "mm",
			Remedy: fmt.Sprintf("at least %s mm from the axis to the edge", num(need)),
			Rule:   "the collar on metal all round, and 1.5D from the axis to the edge", Source: practice,
			At: drawing.Pt(0, -p.Edge)})
	}
	if ring := (d2 - p.Relief) / 2; ring < c.ring()-slack {
		c.add(Finding{Code: Bearing, What: "the collar bears on too narrow a ring round the relief", Measured: ring,
			Required: c.ring(), Unit: "mm",
			Remedy: fmt.Sprintf("a relief of %s mm", num(halfDown(chosenRelief*c.t.D))), Rule: "a ring of 0.1D",
			Source: practice, At: drawing.Pt(0, d2/2)})
	}
}

// mouth checks that the incomplete thread under the collar goes into the hole.
func (c *checker) mouth(p Part) {
	d, a := c.t.D, c.limit()
	f := Finding{Code: Relief, Unit: "mm", At: drawing.Pt(math.Min(p.ReliefDepth, a), d/2),
		Source: practice + "; 3P ISO 3508:1976",
		Remedy: fmt.Sprintf("a relief or countersink of %s mm, %s mm deep", num(halfDown(chosenRelief*d)),
			num(math.Ceil(a*2-slack)/2)),
		Rule: "a relief of 1.05D to 1.1D at the mouth, as deep as the incomplete thread under the collar"}
	switch {
	case p.Relief < leastRelief*d-slack:
		f.What, f.Measured, f.Required = "the mouth of the hole is too narrow for the run-out of the thread, so that the collar does not seat", p.Relief, leastRelief*d
	case p.ReliefDepth < a-slack:
		f.What, f.Measured, f.Required = "the relief is shallower than the incomplete thread, so that the collar does not seat", p.ReliefDepth, a
	default:
		return
	}
	c.add(f)
}

// eyeThread checks how much of the thread holds.
func (c *checker) eyeThread(p Part) {
	mat, _ := p.material()
	name := c.partName(0)
	room := p.FullDepth
	if p.Through {
		room = p.Thickness
	}
	from, to := math.Max(c.limit(), p.ReliefDepth), math.Min(c.length(), room)
	engaged, has := to-from, c.fit.Thread
	f := Finding{Code: Engagement, Measured: engaged, Required: thread.Engagement(mat, c.t.D), Unit: "mm",
		Rule:   "the whole thread engaged, and as much of it as the material asks for: steel 1D, cast iron 1.25D, aluminium alloy 2D, soft light alloy 2.5D",
		Source: practice + ", by the metal ends of DIN 938, 939, 835, 940", At: drawing.Pt((from+to)/2, -c.t.D/2)}
	switch {
	case has < f.Required-slack:
		f.What = fmt.Sprintf("%s asks for more thread than the eye bolt has, which is %s mm", mat, num(has))
		f.Remedy = "not this eye bolt in this material: ask its maker for one with a longer thread, or for an insert or a hole right through with a nut"
	case engaged < f.Required-slack:
		f.What = fmt.Sprintf("too little thread in %s for %s", name, mat)
		f.Remedy = fmt.Sprintf("full thread from the relief, %s mm deep, to %s mm",
			num(math.Ceil(c.limit()*2-slack)/2), num(c.length()+0.5*c.t.D))
	case to < c.length()-slack && p.Through:
		f.What, f.Severity, f.Required = fmt.Sprintf("the thread is not engaged over its whole length: it stands out of %s", name), Warning, c.length()-from
		f.Remedy = fmt.Sprintf("a body at least %s mm thick", num(c.length()))
	default:
		return
	}
	c.add(f)
}

func (b *board) liftingScene() error {
	p := b.Parts[0]
	w := b.liftWidth()
	if err := b.lifted(drawing.Front, w); err != nil {
		return err
	}
	b.caption = "In the plane of the ring"
	b.pulls(false)
	b.along("L", "length", 0, -b.fit.Eye.Collar/2, b.length(), -b.t.RootDiameter()/2)
	b.along("t1", "thickness", 0, -w, p.Thickness, -w)
	if !p.Through {
		b.along("e", "full thread", 0, -w, p.FullDepth, -b.t.D/2)
		b.along("f", "drilled depth", 0, -w, p.DrillDepth, -b.crest())
	}
	b.leader(b.t.String(), drawing.Quantity{Letter: "D", Name: "thread", Value: b.t.D}, drawing.NoSymbol,
		math.Min(b.length(), p.Thickness)-0.3*b.t.D, -b.t.D/2, 200)

	turned := *b.model
	turned.Parts = slices.Clone(b.Parts)
	turned.Parts[0].Edge = 0 // the edge is in the section that has the numbers
	side := &board{st: b.st, model: &turned, caption: "Across the ring"}
	if err := side.lifted(drawing.SideView, w); err != nil {
		return err
	}
	side.pulls(true)
	side.along("a", "depth of relief", 0, -w, p.ReliefDepth, -b.t.D/2)
	side.leader("", drawing.Quantity{Letter: "dr", Name: "relief", Value: p.Relief}, drawing.DiameterSymbol,
		p.ReliefDepth/2, -p.Relief/2, 200)
	side.leader("", drawing.Quantity{Letter: "d2", Name: "collar", Value: b.fit.Eye.Collar}, drawing.DiameterSymbol,
		-b.fit.Eye.Thickness/2, -b.fit.Eye.Collar/2, 160)
	if p.Seat > 0 {
		b.leader("", drawing.Quantity{Letter: "ds", Name: "seat", Value: p.Seat}, drawing.DiameterSymbol, -b.spot(),
			-p.Seat/2, 160)
	}
	b.beside = append(b.beside, side)

	x, r := b.ringOfEye()
	b.itemFastener(b.bolt.Designation(), drawing.Pt(x, r-b.fit.Eye.Section/2))
	b.listParts(w)
	b.notes = b.cautions()
	return nil
}

// cautions are printed with every drawing of a lifting eye bolt.
func (b *board) cautions() []string {
	return []string{
		"CAUTION: a load that falls kills. No load rating is given here: use that of the maker, marked on the eye bolt, for the direction of the pull.",
		"Screw the eye bolt in until its collar is flat on the face all round; the whole thread is engaged. Do not slacken it to turn the ring.",
		"Pull in line with the axis, or inclined in the plane of the ring up to 45 degrees from the axis, and then only as the maker rates it; never flatter, never across the ring.",
		"The maker's instructions, the local rules for lifting and licensed practice come before this drawing.",
	}
}

func (b *board) liftWidth() float64 {
	_, r := b.ringOfEye()
	w := math.Max(r, math.Max(b.fit.Eye.Collar, b.Parts[0].Seat)/2)
	return w + math.Max(0.4*b.t.D, b.st.Part(8))
}

// spot returns how deep the spot face of a seat is drawn.
func (b *board) spot() float64 { return math.Max(0.05*b.t.D, b.st.Part(1.5)) }

// lifted draws the body in section with the eye bolt in it.
func (b *board) lifted(dir drawing.Direction, w float64) error {
	p := b.Parts[0]
	b.tappedPart(p, 0, w, b.length(), b.t.D/2-fastener.DrawnRoot(b.t, b.st))
	if p.Seat > 0 {
		b.spotFace(p, w)
	}
	if !p.Through {
		b.line(drawing.RoleCentre, 0, 0, p.DrillDepth+b.point()+b.st.Part(drawing.CentreOverrun), 0)
	}
	return b.fastenerFrom(b.bolt, dir, 0)
}

// spotFace draws the rough face about a seat that is faced off.
func (b *board) spotFace(p Part, w float64) {
	s, r := b.spot(), p.Seat/2
	low := w
	if p.Edge > 0 && p.Edge < w {
		low = p.Edge
	}
	hand := 180 - b.hand // as that of the part, which has been hatched
	for _, side := range [2]struct{ sign, to float64 }{{1, w}, {-1, low}} {
		y0, y1 := side.sign*r, side.sign*side.to
		if side.to <= r {
			continue
		}
		outer := []drawing.Vertex{{Point: drawing.Pt(0, y1)}, {Point: drawing.Pt(-s, y1)}}
		if side.to == w {
			outer = b.broken(0, -s, y1)
			b.breakLine(-s, 0, y1)
		} else {
			b.line(drawing.RoleOutline, -s, y1, 0, y1)
		}
		b.add(drawing.RoleHatching, drawing.Hatch{Angle: hand, Spacing: b.spacing(p.Thickness),
			Loops: [][]drawing.Vertex{append(outer, drawing.Vertex{Point: drawing.Pt(-s, y0)},
				drawing.Vertex{Point: drawing.Pt(0, y0)})}})
		b.line(drawing.RoleOutline, -s, y0, 0, y0)
		b.line(drawing.RoleOutline, -s, y0, -s, y1)
	}
}

// pulls draws the directions of pull: those that are allowed as arrows in a
// sector, those that are not as arrows that are crossed out. Where the pull is
// wrong, its right side is left to the numbers of the findings.
func (b *board) pulls(across bool) {
	x, r := b.ringOfEye()
	if across {
		r = b.fit.Eye.Height + x // the ring on its edge is as high
	}
	from, to := r+b.st.Part(2), r+b.st.Part(16)
	b.arrow(x, from, to, 0, false)
	if across {
		b.refused(x, from, to, -steepest, "no")
		if b.PullAcross {
			b.refused(x, from, to, math.Min(math.Max(b.Pull, 25), 90), "pull: no")
		} else {
			b.refused(x, from, to, steepest, "no")
		}
		return
	}
	b.sector(x, from, to)
	if b.Pull > steepest { // drawn no flatter than there is room for beside the face
		b.refused(x, from, to, -math.Min(b.Pull, 95), "pull: no")
		return
	}
	b.refused(x, from, to, -75, "no")
	if b.PullAcross {
		return
	}
	b.refused(x, from, to, 75, "no")
	if b.Pull > 0 && b.Pull < steepest {
		b.arrow(x, from, to+b.st.Part(6), b.Pull, false)
		b.angled(x, from+b.st.Part(3), b.Pull)
		b.word("pull "+num(b.Pull)+"°", x, to+b.st.Part(12), b.Pull)
	}
}

// refused draws a pull that is not allowed.
func (b *board) refused(x, from, to, angle float64, word string) {
	b.arrow(x, from, to, angle, true)
	far := b.st.Part(1) + b.textWidth(word)/2*math.Abs(math.Sin(angle*math.Pi/180))
	b.word(word, x, to+b.st.Part(1.5)+far, angle)
}

func (b *board) textWidth(s string) float64 {
	return b.st.Part(drawing.TextWidth(s, b.st.Height()))
}

// polar returns the place at a distance from the ring's centre, at an angle to
// the axis.
func polar(x, r, angle float64) drawing.Point {
	s, c := math.Sincos(angle * math.Pi / 180)
	return drawing.Pt(x-r*c, r*s)
}

// arrow draws a pull, crossed out where it is not allowed.
func (b *board) arrow(x, from, to, angle float64, crossed bool) {
	p, q := polar(x, from, angle), polar(x, to, angle)
	u := q.Sub(p).Mul(1 / (to - from))
	n := drawing.Pt(-u.Y, u.X)
	head, half := b.st.Part(4), b.st.Part(1)
	base := q.Sub(u.Mul(head))
	b.add(drawing.RoleDimension, drawing.Line{From: p, To: base})
	b.add(drawing.RoleDimension, drawing.Hatch{Solid: true, Loops: [][]drawing.Vertex{{
		{Point: q}, {Point: base.Add(n.Mul(half))}, {Point: base.Sub(n.Mul(half))}}}})
	if !crossed {
		return
	}
	mid, k := p.Mid(base), b.st.Part(2)
	for _, s := range [2]float64{1, -1} {
		d := u.Add(n.Mul(s)).Mul(k)
		b.add(drawing.RoleOutline, drawing.Line{From: mid.Sub(d), To: mid.Add(d)})
	}
}

// sector draws the limits of an inclined pull, with their angle.
func (b *board) sector(x, from, to float64) {
	for _, a := range [2]float64{-steepest, steepest} {
		b.arrow(x, from, to, a, false)
	}
	b.angled(x, (from+to)/2, -steepest)
	b.word("45°", x, to, -steepest/2)
}

// angled draws the arc of an angle from the axis, with an arrowhead at either
// end.
func (b *board) angled(x, r, angle float64) {
	start, end := 180-angle, 180.0
	if angle < 0 {
		start, end = 180, 180-angle
	}
	b.add(drawing.RoleDimension, drawing.Arc{Center: drawing.Pt(x, 0), Radius: r, Start: start, End: end})
	head := b.st.Part(3)
	if turn := head / r * 180 / math.Pi; math.Abs(angle) > 2.5*turn {
		for _, side := range [2][2]float64{{0, math.Copysign(turn, angle)},
			{angle, angle - math.Copysign(turn, angle)}} {
			tip, base := polar(x, r, side[0]), polar(x, r, side[1])
			n := drawing.Polar(b.st.Part(0.5), base.Sub(drawing.Pt(x, 0)).Angle())
			b.add(drawing.RoleDimension, drawing.Hatch{Solid: true,
				Loops: [][]drawing.Vertex{{{Point: tip}, {Point: base.Add(n)}, {Point: base.Sub(n)}}}})
		}
	}
}

// word writes a short text about the place at a distance from the ring's
// centre.
func (b *board) word(s string, x, r, angle float64) {
	p := polar(x, r, angle)
	at := b.at(p.X, p.Y)
	at.Y -= b.st.Part(b.st.Height()) / 2
	b.dims = append(b.dims, drawing.Item{Role: drawing.RoleText,
		Shape: drawing.Text{At: at, Height: b.st.Height(), Align: drawing.AlignCentre, Value: s}})
}
