package joint

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/thread"
)

func studScene() scene {
	return scene{name: Stud, kind: "stud", nut: true, tapped: true, parts: [2]int{2, 4},
		reads:  slices.Concat(faceFields, tappedFields),
		choose: (*chooser).studScene, check: (*checker).stud, draw: (*board).studScene}
}

// In the scene Stud x = 0 is the joint face, where the metal end's full thread
// ends, and x runs towards the nut. The tapped part is below it.

// studScene chooses the stud's material, holes, length and depths.
func (c *chooser) studScene() error {
	if err := c.onlyKind("stud", "a stud"); err != nil {
		return err
	}
	if n := c.Bolt.Neck; n != "" && !is(n, "plain") {
		return &FieldError{Field: "bolt.neck",
			Want: n + " would need a wider hole at the joint face; the stud of this scene is plain between its threads, leave it out"}
	}
	last := len(c.Parts) - 1
	if c.Bolt.Material == "" {
		mat, known := c.Parts[last].material()
		c.Bolt.Material = fastener.StudMaterial(mat)
		why := "the metal end is made for what it is screwed into (DIN 938, 939, 835, 940)"
		if !known {
			why = c.Parts[last].Material + " has no rule: taken as steel"
		}
		c.note("bolt.material", c.Bolt.Material, why)
	}
	c.clearanceHoles(last)
	if err := c.chooseFaces(); err != nil {
		return err
	}
	m, err := c.sized()
	if err != nil {
		return err
	}
	if err := c.nextLength(m); err != nil {
		return err
	}
	if err := c.studThread(m); err != nil {
		return err
	}
	c.depths(&c.Parts[last], last, m.fit.Metal)
	return nil
}

// studThread chooses a thread for the nut end where the standard's own would
// begin too high, or would leave no room for the run-outs.
func (c *chooser) studThread(m *model) error {
	if c.Bolt.ThreadLength != 0 {
		return nil
	}
	l, room := c.Bolt.Length, m.studRoom(c.Bolt.Length)
	v, why := m.studThreadFor(l)
	if why == "" {
		return nil
	}
	if v <= 0 {
		return &FieldError{Field: "bolt.length",
			Want: fmt.Sprintf("%s leaves no room for a nut end's thread; more than %s mm", num(l), num(l-room))}
	}
	c.Bolt.ThreadLength = v
	c.note("bolt.thread", num(v)+" mm", why)
	return nil
}

// studThreadFor returns the nut end's thread for a length, and why where it is
// not that of the standards.
func (m *model) studThreadFor(length float64) (v float64, why string) {
	need, room, ruled := length-m.studStart(), m.studRoom(length), thread.ThreadLength(m.t.D, length)
	switch {
	case ruled > room+slack:
		why = "the standard thread would leave no room for the run-outs"
	case ruled < need-slack:
		why = "the standard thread would begin above, or all but above, what the nut clamps"
	default:
		return ruled, ""
	}
	switch v = math.Ceil(need - slack); {
	case need > room+slack:
		return math.Floor(room*10+1e-6) / 10, why + "; as long as there is room for"
	case v > room:
		return need, why
	}
	return v, why
}

// studStart returns where the nut end's thread must start at the latest: below
// the outer face of what is clamped.
func (m *model) studStart() float64 { return m.grip() - seatMargin(m.t) }

// studRoom returns how long the nut end's thread can be beside both run-outs.
func (m *model) studRoom(length float64) float64 {
	return length - m.t.RunOutShort() - m.t.RunOut()
}

// stud checks the joint from the nut to the end of the hole.
func (c *checker) stud() {
	last := len(c.Parts) - 1
	c.bears("the nut", c.washer, c.nut.Bears, c.Parts[0], 0, c.grip())
	c.faces()
	c.between()
	c.holes(c.Parts[:last])
	c.reachesThroughNut()
	c.studLimit()
	c.metalEnd(c.Parts[last], last)
}

// studLimit checks where the nut end's thread begins.
func (c *checker) studLimit() {
	need, grip := c.studStart(), c.grip()
	limit := c.limit()
	if limit <= need+slack {
		return
	}
	f := Finding{Code: ThreadEnds, Measured: limit, Required: need, Unit: "mm", At: drawing.Pt(limit, c.t.D/2),
		What:   "the thread of the nut end begins too near to the outer face of what is clamped",
		Remedy: fmt.Sprintf("a nut end threaded at least %s mm", num(math.Ceil(c.length()-need-slack))),
		Rule:   "the nut end's thread begins below the outer face by a tenth of D, 1 to 3 mm",
		Source: practice, Severity: Warning}
	switch {
	case limit > c.seat()+slack:
		f.Severity, f.What = Fault,
			"the thread of the nut end begins above the seat of the nut, so that the nut never clamps"
	case limit > grip+slack:
		f.Severity, f.What = Fault,
			"the thread of the nut end begins above the outer face of what is clamped; only the washer lets the nut clamp at all"
	}
	if room := c.studRoom(c.length()); c.length()-need > room+slack {
		f.Remedy = fmt.Sprintf("parts at least %s mm thick in all, or a tap bolt: between its threads this stud has no more room", num(math.Ceil(c.length()-room+seatMargin(c.t)-slack)))
	}
	c.add(f)
}

// metalEnd checks the metal end in its hole.
func (c *checker) metalEnd(p Part, i int) {
	d, in, name := c.t.D, c.fit.Metal, c.partName(i)
	room := p.FullDepth
	if p.Through {
		room = p.Thickness
	}
	engaged := math.Min(in, room)
	mat, _ := p.material()
	if need := c.metalEndFor(mat); in < need-slack || p.Through && engaged < need-slack {
		stud, thick := fmt.Sprintf("a stud made for %s, its metal end %s mm", mat, num(need)),
			fmt.Sprintf("a part at least %s mm thick", num(need))
		remedy := stud
		switch thin := p.Through && p.Thickness < need-slack; {
		case in >= need-slack:
			remedy = thick
		case thin:
			remedy += ", in " + thick
		}
		c.add(Finding{Code: Engagement, What: fmt.Sprintf("too little of the metal end in %s for %s", name, mat),
			Measured: engaged, Required: need, Unit: "mm",
			Remedy: remedy, Rule: "metal end by material: steel 1D, cast iron 1.25D, aluminium alloy 2D, soft light alloy 2.5D, rounded as in the standards",
			Source: "DIN 938, 939, 835, 940", At: drawing.Pt(-engaged/2, d/2)})
	}
	if !p.Through {
		if most := math.Min(p.FullDepth, p.DrillDepth); in > most+slack {
			c.add(Finding{Code: Bottoming,
				What: fmt.Sprintf("the metal end meets the end of the hole or of the thread in %s before it is home",
					name), Measured: most, Required: in, Unit: "mm",
				Remedy: fmt.Sprintf("full thread %s mm deep", num(in+0.5*d)),
				Rule:   "the metal end goes home: to its thread limit", Source: practice, At: drawing.Pt(-p.FullDepth, 0)})
		} else if need := in + 0.5*d; p.FullDepth < need-slack {
			c.add(Finding{Code: FullThread, Severity: Warning, What: "too little full thread beyond the metal end",
				Measured: p.FullDepth, Required: need, Unit: "mm",
				Remedy: fmt.Sprintf("full thread %s mm deep", num(need)),
				Rule:   "0.5D of full thread beyond the engaged length", Source: practice,
				At: drawing.Pt(-p.FullDepth, d/2)})
		}
		c.drilled(p, i, 0, -1)
	}
	c.tappedEdge(p, i, drawing.Pt(-engaged/2, -p.Edge))
}

// metalEndFor returns how long the metal end of a stud for a material is.
func (m *model) metalEndFor(mat thread.Material) float64 {
	j := m.Joint
	j.Bolt.Material = fastener.StudMaterial(mat)
	if f, err := fastener.New(j.spec()); err == nil {
		if fit, err := fastener.FitOf(f); err == nil {
			return fit.Metal
		}
	}
	return thread.Engagement(mat, m.t.D) // the standard has no such size
}

// tappedEdge checks the metal round a tapped hole.
func (c *checker) tappedEdge(p Part, i int, at drawing.Point) {
	if need := 1.5 * c.t.D; p.Edge > 0 && p.Edge < need-slack {
		c.add(Finding{Code: Edge, What: fmt.Sprintf("the tapped hole is too near to the edge of %s", c.partName(i)),
			Measured: p.Edge, Required: need, Unit: "mm",
			Remedy: fmt.Sprintf("at least %s mm from the axis to the edge", num(need)),
			Rule:   "1.5D from the axis to the edge", Source: practice, At: at})
	}
}

func (b *board) studScene() error {
	b.upward = true
	b.even, b.fenced = true, true
	bolted, err := b.bolted()
	if err != nil {
		return err
	}
	w, r := b.width(), b.t.D/2
	last := len(b.Parts) - 1
	x1 := b.grip()
	for i, p := range b.Parts[:last] {
		x0 := x1 - p.Thickness
		b.plate(i, p, x0, x1, w, r)
		b.along("t"+strconv.Itoa(i+1), "thickness", x0, w, x1, w)
		b.holeSize(i, x0+0.4*p.Thickness, 1, 170)
		x1 = x0
	}
	p, m := b.Parts[last], b.fit.Metal
	b.tappedBelow(p, w, m)
	if err := b.fastener(bolted, -m); err != nil {
		return err
	}
	root := b.t.RootDiameter() / 2
	b.along("L", "length without the metal end", 0, w, b.length(), root)
	b.along("n", "nut end thread", b.limit(), r, b.length(), root)
	b.along("m", "metal end", -m, root, 0, w)
	if !p.Through {
		b.along("e", "full thread", -p.FullDepth, r, 0, w)
		b.along("f", "drilled depth", -p.DrillDepth, b.crest(), 0, w)
		b.line(drawing.RoleCentre, 0, 0, -p.DrillDepth-b.point()-b.st.Part(drawing.CentreOverrun), 0)
	}
	b.along("t"+strconv.Itoa(last+1), "thickness", -p.Thickness, w, 0, w)
	b.leader(b.t.String(), drawing.Quantity{Letter: "D", Name: "thread", Value: b.t.D}, drawing.NoSymbol,
		-math.Min(m, p.Thickness)+0.3*b.t.D, r, 160)
	b.listStud(w)
	return nil
}

// tappedBelow draws the tapped part from the joint face down.
func (b *board) tappedBelow(p Part, w, end float64) {
	o := &board{st: b.st, model: b.model, hand: 180 - b.hand} // the mirror turns the hatching round
	o.tappedPart(p, 0, w, end, b.t.D/2-fastener.DrawnRoot(b.t, b.st))
	t := drawing.Transform{Mirror: true, Turn: 180} // x becomes -x
	for _, it := range o.items {
		b.add(it.Role, drawing.Apply(it.Shape, t))
	}
	b.hand = 180 - b.hand
}

// listStud lists stud, washer, nut and parts, pointed at on the right.
func (b *board) listStud(w float64) {
	b.listFastener(0)
	b.list[0].tip = drawing.Pt(b.length()-b.t.P, -b.t.D/4) // where it stands out of the nut
	if b.length() < b.seat()+b.nut.Height {
		b.list[0].tip.X = b.grip() / 2
	}
	b.listParts(w)
	n := len(b.list) - len(b.Parts)
	for i, p := range b.Parts {
		y := w
		if p.Edge > 0 && p.Edge < w {
			y = p.Edge
		}
		b.list[n+i].tip = drawing.Pt(b.middle(i), -math.Max(y-b.st.Part(4), (y+b.t.D/2)/2))
	}
}
