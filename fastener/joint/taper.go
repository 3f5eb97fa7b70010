package joint

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"boltplate/drawing"
	"boltplate/fastener"
)

func taperScene() scene {
	return scene{name: Taper, kind: taperBolt, nut: true, parts: [2]int{2, 2}, reads: []string{"draw_up"},
		validate: Joint.validateTaper,
		choose:   (*chooser).taper, check: (*checker).taper, draw: (*board).taper}
}

// A taper bolt is drawn and checked as it is pushed in by hand: the taper
// touches all round, and the large end stands proud of its face by the draw-up
// allowance. The nut then draws it in by that much, which widens the hole by
// the draw times the taper: the fit. x = 0 is at the large end, so that the face
// of the first part is at x = draw-up, and comes to x = 0 when the bolt is
// tight.

const taperBolt = "taper-bolt"

func (j Joint) validateTaper() error {
	if j.Bolt.Kind != "" && !is(j.Bolt.Kind, taperBolt) {
		return &FieldError{Field: "bolt.kind", Want: j.Bolt.Kind + " has no taper; use " + taperBolt}
	}
	if j.HeadWasher != "" && !is(j.HeadWasher, "none") {
		return &FieldError{Field: "head_washer", Want: "a taper bolt has no head; leave it out"}
	}
	for i, p := range j.Parts {
		if p.Hole != 0 {
			return &FieldError{Field: partField(i, "hole"),
				Want: "a taper hole follows from the bolt and its draw-up; leave it out, and give part 1: draw_up"}
		}
		if i > 0 && p.DrawUp != 0 {
			return &FieldError{Field: partField(i, "draw_up"), Want: "belongs to part 1, where the large end is"}
		}
	}
	return nil
}

// slope returns n of the taper 1:n, by the usual one where none is given.
func (j Joint) slope() float64 {
	var n float64
	if _, err := fmt.Sscanf(j.Bolt.Taper, "1:%g", &n); err != nil || n <= 0 {
		return 30
	}
	return n
}

// shorterTaper returns, for a bolt whose taper would be so long that its small
// end is thinner than the thread, the bolt with the longest taper, so that the
// joint can be drawn; for any other it returns the error.
func (m *model) shorterTaper(err error) (fastener.Fastener, error) {
	spec := m.spec()
	most := m.longestTaper(m.slope())
	limit := most + m.t.RunOut()
	if spec.Length <= limit {
		return nil, err
	}
	given := spec.ThreadLength
	spec.ThreadLength = spec.Length - limit
	f, e := fastener.New(spec)
	if e != nil || given == 0 || given > spec.ThreadLength {
		return nil, err
	}
	m.wanted = spec.Length - given - m.t.RunOut()
	return f, nil
}

// short returns the taper bolt of the joint so short that it can have any taper:
// its large end is that of the one that is wanted.
func (j Joint) short() Joint {
	d := j.Bolt.Thread.D
	j.Bolt.Length, j.Bolt.ThreadLength = 3*d+j.Bolt.Thread.RunOut(), 2*d
	return j
}

// largeEnd returns the diameter of the large end; D where no rule gives it, which
// is said when the bolt itself is settled.
func (j Joint) largeEnd() float64 {
	s := j.short().spec()
	s.Kind = taperBolt
	if f, err := fastener.New(s); err == nil {
		if fit, err := fastener.FitOf(f); err == nil {
			return fit.Taper.Large
		}
	}
	return j.Bolt.Thread.D
}

// longestTaper returns the length after which a taper of 1:n is as thin as its thread.
func (j Joint) longestTaper(n float64) float64 { return (j.largeEnd() - j.Bolt.Thread.D) * n }

// taperHole settles how far the large end stands proud, and the diameters of
// the hole at the outer faces.
func (m *model) taperHole() {
	m.Parts = slices.Clone(m.Parts)
	m.sunk = -m.Parts[0].DrawUp
	m.Parts[0].Hole = 2 * m.cone(m.face())
	m.Parts[1].Hole = 2 * m.cone(m.outer())
}

// cone returns the radius of the taper hole at x, on the taper of the bolt, but
// wide enough for the thread.
func (m *model) cone(x float64) float64 {
	return math.Max(m.fit.Taper.Large/2-x/m.slope()/2, m.t.D/2)
}

// outer returns where the outer face of the second part is.
func (m *model) outer() float64 { return m.face() + m.grip() }

// taperLimit returns where the thread may begin at most, so that the nut can
// draw the bolt in: when it has, the thread still begins below the seat, and
// the taper ends inside the hole.
func (m *model) taperLimit() float64 {
	return m.grip() - seatMargin(m.t) + math.Min(m.washer.Thickness, m.t.RunOut())
}

// The fit of a taper bolt that is drawn up, as interference over diameter:
// least, usual and greatest (from memory, unverified).
const (
	leastFit = 0.0005
	usualFit = 0.001
	mostFit  = 0.003
)

// drawFor returns how far a bolt is drawn in for an interference that is the
// given part of its large diameter.
func (j Joint) drawFor(fit float64) float64 { return fit * j.largeEnd() * j.slope() }

const fitSource = "common practice (from memory, unverified)"

func (c *chooser) taper() error {
	if c.Bolt.Taper == "" {
		why := "the usual taper"
		c.Bolt.Taper = "1:30"
		for _, word := range [3]string{"1:30", "1:50", "1:100"} {
			c.Bolt.Taper = word
			if c.grip()+math.Max(c.Parts[0].DrawUp, c.usualDraw()) <= c.longestTaper(c.slope())+slack {
				break
			}
			why = "a steeper one would be thinner than the thread at its small end"
		}
		c.note("bolt.taper", c.Bolt.Taper, why)
	}
	draw := c.usualDraw()
	c.choose(&c.Parts[0].DrawUp, draw, partField(0, "draw_up"),
		fmt.Sprintf("%s mm of interference, at least 0.001 of the diameter, times %s (%s)",
			thousandths(draw/c.slope()), num(c.slope()), fitSource))
	sizing := c.Joint
	if sizing.Bolt.Length == 0 || sizing.Bolt.ThreadLength == 0 {
		sizing = c.short() // only washer and nut are read
	}
	m, err := newModel(sizing)
	if err != nil {
		return err
	}
	if c.Bolt.Length == 0 {
		need := m.leastLength()
		next, ok := m.nextLength()
		if !ok {
			return &FieldError{Field: "bolt.length",
				Want: fmt.Sprintf("missing, and no preferred length of ISO 888 is as long as %s mm", num(need))}
		}
		c.Bolt.Length = next
		c.note("bolt.length", num(next)+" mm",
			fmt.Sprintf("the shortest preferred length (ISO 888) for draw-up, grip, washer, nut and one pitch: %s mm",
				num(need)))
	}
	limit, step, why := m.grip()-seatMargin(m.t), 1.0,
		"when the bolt is drawn in, thread and run-out still begin inside the hole"
	if limit-m.t.RunOut()-m.face()-c.Parts[0].Thickness < m.holds()+1 {
		limit, step, why = m.taperLimit(), 0.5, "the longest taper that the nut can still draw in"
	}
	if most := c.longestTaper(c.slope()) + m.t.RunOut(); limit > most {
		limit, why = most, "a longer taper would be thinner than the thread"
	}
	c.choose(&c.Bolt.ThreadLength, math.Ceil((c.Bolt.Length-limit)/step-slack)*step, "bolt.thread", why)
	return nil
}

// usualDraw returns the usual draw-up allowance, in steps of half a
// millimetre.
func (j Joint) usualDraw() float64 {
	return math.Max(math.Ceil(2*j.drawFor(usualFit)-slack), 1) / 2
}

func (c *checker) taper() {
	c.drawUp()
	c.taperLength()
	c.taperEdges()
	last := c.Parts[1]
	last.Edge = 0 // the hole wants more than the washer
	c.bears("the nut", c.washer, c.nut.Bears, last, 1, c.outer())
	c.reachesThroughNut()
	if need := c.taperLimit(); c.limit() > need+slack && c.wanted == 0 {
		f := Finding{Code: ThreadEnds,
			What:     "the nut meets the end of the thread before it has drawn the bolt in, or all but",
			Measured: c.limit(), Required: need, Unit: "mm",
			Remedy: fmt.Sprintf("a thread at least %s mm long", num(math.Ceil(c.length()-need-slack))),
			Rule:   "when the bolt is drawn in, the thread begins below the seat of the nut by 1 to 3 mm",
			Source: practice,
			At:     drawing.Pt(c.limit(), c.t.D/2)}
		if end, most := c.fit.Taper.Length, c.grip()-seatMargin(c.t); end > most+slack {
			f.Code, f.What = TaperThrough, "the small end of the taper comes out of the hole before the bolt is tight"
			f.Measured, f.Required = end, most
			f.Rule = "when the bolt is drawn in, the taper ends inside the hole by 1 to 3 mm"
			f.At = drawing.Pt(end, c.fit.Taper.Small/2)
		}
		c.add(f)
	}
}

// drawUp checks how far the large end stands proud of the face.
func (c *checker) drawUp() {
	u, n := c.Parts[0].DrawUp, c.slope()
	f := Finding{Code: DrawUp, Measured: u, Unit: "mm", Source: fitSource, At: drawing.Pt(0, c.fit.Taper.Large/2),
		Remedy: fmt.Sprintf("ream the hole so that the large end stands %s mm proud", num(c.usualDraw())),
		Rule: fmt.Sprintf("interference of 0.0005 to 0.003 of the diameter; the draw is %s times that for 1:%s",
			num(n), num(n))}
	least, most := c.drawFor(leastFit), math.Max(c.drawFor(mostFit), c.usualDraw())
	switch {
	case u < least-slack:
		f.What, f.Required = fmt.Sprintf("too little is left to draw the bolt in: %s mm on the diameter",
			thousandths(u/n)), least
	case u > most+slack:
		f.Severity = Warning
		f.What, f.Required = fmt.Sprintf("too much is left to draw the bolt in: %s mm on the diameter",
			thousandths(u/n)), most
	default:
		return
	}
	c.add(f)
}

// taperLength checks the taper against the longest that is usable, and that it
// holds in the second part.
func (c *checker) taperLength() {
	d, n := c.t.D, c.slope()
	most := c.longestTaper(n)
	f := Finding{Code: TaperLong, Required: most, Unit: "mm", Source: "the large end, and the taper",
		At:   drawing.Pt(math.Min(most, c.outer()), d/2),
		Rule: fmt.Sprintf("the longest usable taper is (d2 - D) n = %s × %s", num(c.fit.Taper.Large-d), num(n))}
	switch in := c.fit.Taper.Length - c.face() - c.Parts[0].Thickness; {
	case c.outer() > most+slack:
		f.Measured = c.outer()
		f.What = "the taper hole becomes narrower than the thread before it is through"
		f.Remedy = fmt.Sprintf("parts of together at most %s mm, a larger bolt, or a taper of %s",
			num(most-c.face()), c.slimmer(c.outer()))
		c.add(f)
	case c.wanted > 0:
		f.Measured = c.wanted
		f.What = fmt.Sprintf("at its small end the taper would be thinner than the thread (drawn %s mm long)",
			num(most))
		f.Remedy = fmt.Sprintf("a thread at least %s mm long, or a shorter bolt",
			num(math.Ceil(c.length()-c.taperLimit()-slack)))
		c.add(f)
	case in < c.holds()-slack:
		c.add(Finding{Code: TaperShort, What: fmt.Sprintf("the taper does not hold in %s", c.partName(1)),
			Measured: in, Required: c.holds(), Unit: "mm",
			Remedy: fmt.Sprintf("a thread of %s mm, so that the taper is longer",
				num(math.Ceil(c.length()-c.taperLimit()-slack))),
			Rule: "the taper goes into the second part by 0.5D, or a quarter of that part", Source: practice,
			At: drawing.Pt(c.fit.Taper.Length, c.fit.Taper.Small/2)})
	}
}

// holds returns how far the taper must reach into the second part.
func (m *model) holds() float64 { return math.Min(0.5*m.t.D, m.Parts[1].Thickness/4) }

// slimmer names a taper whose bolt is thick enough at the length.
func (m *model) slimmer(length float64) string {
	for _, n := range [4]float64{20, 30, 50, 100} {
		if n > m.slope() && m.longestTaper(n) >= length {
			return "1:" + num(n)
		}
	}
	return "less than 1:" + num(math.Max(m.slope(), 100)) + ", which this bolt has not"
}

// taperEdges checks the metal about the hole, which the taper strains.
func (c *checker) taperEdges() {
	x := c.face()
	for i, p := range c.Parts {
		if need := 1.5 * c.fit.Taper.Large; p.Edge > 0 && p.Edge < need-slack {
			c.add(Finding{Code: Edge, What: fmt.Sprintf("the taper hole is too near to the edge of %s", c.partName(i)),
				Measured: p.Edge, Required: need, Unit: "mm",
				Remedy: fmt.Sprintf("at least %s mm from the axis to the edge", num(need)),
				Rule:   "1.5 times the large diameter from the axis to the edge",
				Source: practice, At: drawing.Pt(x+p.Thickness/2, -p.Edge)})
		}
		x += p.Thickness
	}
}

func (b *board) taper() error {
	bolted, err := b.bolted()
	if err != nil {
		return err
	}
	b.fenced = true
	w := b.width()
	x := b.face()
	for i, p := range b.Parts {
		end := x + p.Thickness
		b.taperedPlate(p, x, end, w)
		b.along("t"+strconv.Itoa(i+1), "thickness", x, -w, end, -w)
		x = end
	}
	if err := b.fastener(bolted, 0); err != nil {
		return err
	}
	u := b.Parts[0].DrawUp
	b.notes = append(b.notes,
		fmt.Sprintf("Drawn as pushed in by hand, the large end %s mm proud. The nut draws it in: %s mm of interference on the diameter.", num(u), thousandths(u/b.slope())),
		"Ream both parts together, in place.")
	b.taperDimensions()
	b.listFastener(0.3 * b.fit.Taper.Length)
	b.list[0].tip.Y = b.fit.Taper.Large / 4
	b.listParts(w)
	return nil
}

// thousandths writes a small size, such as a fit, to the micrometre.
func thousandths(v float64) string { return strconv.FormatFloat(math.Round(v*1000)/1000, 'f', -1, 64) }

// taperedPlate draws a part from x0 to x1 in section. Its wall is the bolt's
// own line as far as the taper reaches.
func (b *board) taperedPlate(p Part, x0, x1, w float64) {
	low := w
	if p.Edge > 0 && p.Edge < w {
		low = p.Edge
	}
	wall := []drawing.Point{drawing.Pt(x0, b.cone(x0))}
	if thin := b.longestTaper(b.slope()); thin > x0 && thin < x1 {
		wall = append(wall, drawing.Pt(thin, b.t.D/2))
	}
	wall = append(wall, drawing.Pt(x1, b.cone(x1)))
	mirror := make([]drawing.Point, len(wall))
	for i, q := range wall {
		mirror[i] = drawing.Pt(q.X, -q.Y)
	}
	b.section(x0, x1, w, low, wall, mirror)
	for _, x := range [2]float64{x0, x1} {
		inner := b.cone(x)
		if x > b.fit.Taper.Length {
			inner = b.t.D / 2 // the edge of the hole is seen beside the shank
		}
		b.line(drawing.RoleOutline, x, inner, x, w)
		b.line(drawing.RoleOutline, x, -inner, x, -low)
	}
}

// taperDimensions gives the taper, the diameters of the hole at its faces, and
// the lengths.
func (b *board) taperDimensions() {
	x, r := b.face(), b.cone(b.face())
	b.dims = append(b.dims, drawing.Item{Role: drawing.RoleDimension,
		Shape: drawing.Linear{Side: drawing.Above, From: b.at(x, -r), To: b.at(x, r),
			Label: drawing.Label{Symbol: drawing.DiameterSymbol,
				Quantity: drawing.Quantity{Letter: "Dh1", Name: "hole at the face of the first part", Value: 2 * r}}}})
	end := b.outer()
	b.leader("", drawing.Quantity{Letter: "Dh2", Name: "hole at the face of the second part",
		Value: 2 * b.cone(end)}, drawing.DiameterSymbol, end, -b.cone(end), 235)
	word := "1:" + num(b.slope())
	at := x + 0.25*b.Parts[0].Thickness
	b.leader(word, drawing.Quantity{Letter: "C", Name: "taper on the diameter", Value: 1 / b.slope(),
		Unit: drawing.One}, drawing.TaperSymbol, at, -b.cone(at), 125)
	b.along("u", "draw-up", 0, -b.fit.Taper.Large/2, x, -r)
	b.along("L", "length", 0, -b.fit.Taper.Large/2, b.length(), -b.t.RootDiameter()/2)
	b.along("b", "thread length", b.limit(), -b.t.D/2, b.length(), -b.t.RootDiameter()/2)
}
