package joint

import (
	"fmt"
	"math"

	"boltplate/drawing"
	"boltplate/thread"
)

// A checker collects findings.
type checker struct {
	*model
	out []Finding
}

func (m *model) check() []Finding {
	c := &checker{model: m}
	m.scene().check(c)
	c.materials()
	c.spanner()
	c.neighbours()
	c.pinHole()
	return c.out
}

func (c *checker) add(f Finding) {
	f.Measured += 0 // None is 0
	c.out = append(c.out, f)
}

// noun returns what the fastener is called in a finding.
func (m *model) noun() string {
	if m.Scene == Stud {
		return "stud"
	}
	return "bolt"
}

// slack is how far a measured value may miss what is needed by rounding.
const slack = 1e-9

// holes checks clearance holes against ISO 273.
func (c *checker) holes(parts []Part) {
	d := c.t.D
	for i, p := range parts {
		at := drawing.Pt(c.middle(i), p.Hole/2)
		if !c.holed(i) {
			continue
		}
		fine, err := thread.ClearanceHole(d, thread.FitFine)
		if err != nil {
			continue // ISO 273 has no row: nothing to compare with
		}
		medium, _ := thread.ClearanceHole(d, thread.FitMedium)
		coarse, _ := thread.ClearanceHole(d, thread.FitCoarse)
		f := Finding{Measured: p.Hole, Unit: "mm", At: at, Source: "ISO 273:1979",
			Remedy: fmt.Sprintf("drill it %s mm, the medium series", num(medium))}
		name := c.partName(i)
		switch {
		case p.Hole < d-slack:
			f.Code, f.Required = HoleInterferes, fine
			f.What = fmt.Sprintf("the hole in %s is smaller than the bolt", name)
			f.Rule = "a bolt of " + c.t.String() + " passes a hole of D or more"
		case p.Hole < fine-slack:
			f.Code, f.Required, f.Severity = HoleSmall, fine, Warning
			f.What = fmt.Sprintf("the hole in %s is smaller than the fine series", name)
			f.Rule = "the fine series is the smallest clearance hole"
		case p.Hole > coarse+slack:
			f.Code, f.Required, f.Severity = HoleLarge, coarse, Warning
			f.What = fmt.Sprintf("the hole in %s is larger than the coarse series", name)
			f.Rule = "the coarse series is the largest clearance hole"
		default:
			continue
		}
		c.add(f)
	}
}

func (j Joint) partName(i int) string {
	if n := j.Parts[i].Name; n != "" {
		return n
	}
	return fmt.Sprintf("part %d", i+1)
}

// bearing checks that washers cover their holes and that head, nut and washers
// bear on enough metal, edges included.
func (c *checker) bearing() {
	first := c.Parts[0]
	c.bears("the head", c.head, c.fit.Head.Bears, first, 0, c.head.Thickness)
	c.between()
	c.faces()
	if c.scene().nut {
		c.underNut()
	}
}

// between checks the edges of parts that nothing bears on.
func (c *checker) between() {
	for i := 1; i < len(c.Parts)-1; i++ { // nothing bears on those between
		p := c.Parts[i]
		need := c.edgeOf(p)
		if p.Edge > 0 && p.Edge < need-slack {
			c.add(Finding{Code: Edge, What: fmt.Sprintf("the hole is too near to the edge of %s", c.partName(i)),
				Measured: p.Edge, Required: need, Unit: "mm",
				Remedy: fmt.Sprintf("at least %s mm from the axis to the edge", num(need)),
				Rule:   "1.5D from the axis to the edge, and metal round the hole", Source: practice,
				At: drawing.Pt(c.middle(i), -p.Edge)})
		}
	}
}

// underNut checks what nut or washer bear on.
func (c *checker) underNut() {
	last := len(c.Parts) - 1
	c.bears("the nut", c.washer, c.nut.Bears, c.Parts[last], last, c.seat()-c.washer.Thickness)
}

// ring is the least width of the ring of metal that a bearing face presses on
// (a tenth of D, common practice).
func (m *model) ring() float64 { return 0.1 * m.t.D }

// edgeOf returns the least distance of the axis from the edge of a part: 1.5D,
// and a ring of metal round its hole (common practice).
func (m *model) edgeOf(p Part) float64 { return math.Max(1.5*m.t.D, p.wide()/2+m.ring()) }

func (c *checker) bears(what string, w washerSize, bears float64, p Part, i int, x float64) {
	if w.Outside > 0 {
		need := p.wide() + 2*c.ring()
		if w.Outside < need-slack {
			c.add(Finding{Code: WasherCover, What: fmt.Sprintf("the washer under %s does not cover the hole in %s",
				what, c.partName(i)),
				Measured: w.Outside, Required: need, Unit: "mm",
				Remedy: fmt.Sprintf("a hole of at most %s mm, or a larger washer", num(w.Outside-2*c.ring())),
				Rule:   "outside diameter at least hole + 0.2D", Source: practice, At: drawing.Pt(x, w.Outside/2)})
		}
		what, bears = "the washer under "+what, w.Outside
	} else if need := p.wide() + 2*c.ring(); bears < need-slack {
		c.add(Finding{Code: Bearing, What: fmt.Sprintf("%s bears on too narrow a ring round the hole in %s", what,
			c.partName(i)),
			Measured: (bears - p.wide()) / 2, Required: c.ring(), Unit: "mm",
			Remedy: "put a washer under it, or make the hole smaller",
			Rule:   "a ring of 0.1D", Source: practice, At: drawing.Pt(x, bears/2)})
	}
	if p.Edge > 0 {
		need := math.Max(bears/2, c.edgeOf(p))
		if p.Edge < need-slack {
			c.add(Finding{Code: Edge, What: fmt.Sprintf("%s is too near to the edge of %s", what, c.partName(i)),
				Measured: p.Edge, Required: need, Unit: "mm",
				Remedy: fmt.Sprintf("at least %s mm from the axis to the edge", num(need)),
				Rule:   "the bearing face on metal all round, and 1.5D from the axis to the edge", Source: practice,
				At: drawing.Pt(x, -p.Edge)})
		}
	}
}

// nutAndLength checks that the nut is wholly on the thread with a pitch beyond
// it, and that it clamps before it meets the end of the thread.
func (c *checker) nutAndLength() {
	c.reachesThroughNut()
	if need := c.seat() - seatMargin(c.t); c.limit() > need+slack {
		c.add(Finding{Code: ThreadEnds, What: "the nut meets the end of the thread before it clamps, or all but",
			Measured: c.limit() - c.face(), Required: need - c.face(), Unit: "mm",
			Remedy: fmt.Sprintf("a thread at least %s mm long", num(math.Ceil(c.length()-need-slack))),
			Rule:   "the thread starts below the seat of the nut by a tenth of D, 1 to 3 mm", Source: practice,
			At: drawing.Pt(c.limit(), c.t.D/2)})
	}
}

// reachesThroughNut checks the length of a bolt with a nut.
func (c *checker) reachesThroughNut() {
	l, end := c.length(), c.seat()+c.nut.Height
	if c.nut.Blind > 0 {
		c.inDome(l)
		return
	}
	if need := end + c.t.P; l < need-slack {
		remedy := fmt.Sprintf("a length of at least %s mm", num(need))
		if next, ok := c.nextLength(); ok {
			remedy = fmt.Sprintf("the next preferred length that works, %s mm, with %s mm of thread", num(next),
				num(c.threadFor(next)))
		}
		c.add(Finding{Code: LengthShort, What: "the " + c.noun() + " is too short to reach through the nut",
			Measured: l, Required: need, Unit: "mm",
			Remedy: remedy, Rule: "grip + washers + nut + one pitch", Source: practice + "; lengths ISO 888:1976",
			At: drawing.Pt(end, 0)})
	} else if best, ok := c.nextLength(); ok && l > best+slack && l-end > c.longest() {
		c.add(Finding{Code: LengthLong, Severity: Warning,
			What: "the " + c.noun() + " stands out of the nut further than it needs to", Measured: l - end,
			Required: c.longest(), Unit: "mm",
			Remedy: fmt.Sprintf("a length of %s mm", num(best)),
			Rule:   "no longer than the next preferred length, or out by at most 0.5D",
			Source: practice + "; lengths ISO 888:1976", At: drawing.Pt(l, 0)})
	}
}

// threadFor returns the thread that belongs to another length.
func (m *model) threadFor(length float64) float64 {
	switch m.Scene {
	case Taper:
		return math.Ceil(length - m.taperLimit() - slack)
	case Stud:
		v, _ := m.studThreadFor(length)
		return v
	}
	return thread.ThreadLength(m.t.D, length)
}

// longest returns how far a bolt may stand out of its nut.
func (m *model) longest() float64 { return math.Max(0.5*m.t.D, 2*m.t.P) }

// dome returns the least and the greatest length of a bolt in a cap nut: D of
// thread is engaged, and half a pitch is left before the blind end.
func (m *model) dome() (least, most float64) {
	return m.seat() + m.t.D, m.seat() + m.nut.Blind - m.t.P/2
}

// inDome checks the end of a bolt in a cap nut.
func (c *checker) inDome(l float64) {
	least, most := c.dome()
	f := Finding{Unit: "mm", Measured: l, Source: practice, At: drawing.Pt(l, 0),
		Rule: "in a cap nut D of thread is engaged, and half a pitch is left before the end of its blind thread"}
	switch {
	case l < least-slack:
		f.Code, f.What, f.Required = LengthShort, "the "+c.noun()+" is too short for the cap nut", least
	case l > most+slack:
		f.Code, f.What, f.Required = CapFull,
			"the "+c.noun()+" meets the end of the thread in the cap nut before it clamps", most
	default:
		return
	}
	if best, ok := c.nextLength(); ok {
		f.Remedy = fmt.Sprintf("a length of %s mm", num(best))
	}
	c.add(f)
}

// nextLength returns the shortest preferred length that reaches through the
// nut; in a cap nut, that ends inside its dome, and where there is none one of
// the second choice, or one to be made.
func (m *model) nextLength() (float64, bool) {
	if m.nut.Blind > 0 {
		least, most := m.dome()
		v, ok := thread.NextLength(least - slack)
		if ok && v <= most {
			return v, true
		}
		for _, v := range thread.SecondLengths() {
			if v >= least-slack && v <= most+slack {
				return v, true
			}
		}
		if v := math.Ceil(least - slack); v <= most+slack {
			return v, true
		}
		return math.Ceil(least*10-slack) / 10, ok
	}
	return thread.NextLength(m.leastLength() - slack)
}

// leastLength returns how long a bolt must be at least: through the nut and by a
// pitch beyond it, and beyond the hole of a castle nut's pin.
func (m *model) leastLength() float64 {
	return m.seat() + math.Max(m.nut.Height, (m.nut.SlotsFrom+m.nut.Height)/2+m.nut.Pin) + m.t.P
}

// tapped checks the thread in the last part.
func (c *checker) tapped() {
	p := c.Parts[len(c.Parts)-1]
	i := len(c.Parts) - 1
	start := c.face() + c.grip() // the face of the tapped part
	in := c.length() - start
	mat, _ := p.material()
	room := p.FullDepth
	if p.Through {
		room = p.Thickness
	}
	room = math.Min(room, p.threaded())
	engaged := math.Min(in, room)
	c.insert(p, i, start)
	if need := c.engagement(p, mat); engaged < need-slack {
		remedy := fmt.Sprintf("a length of at least %s mm", num(start+need))
		if next, ok := thread.NextLength(start + need - slack); ok {
			remedy = fmt.Sprintf("the next preferred length, %s mm", num(next))
		}
		if room < need {
			remedy = fmt.Sprintf("a full thread at least %s mm deep", num(need))
		}
		c.add(Finding{Code: Engagement, What: fmt.Sprintf("too little thread in %s for %s", c.partName(i), mat),
			Measured: engaged, Required: need, Unit: "mm",
			Remedy: remedy, Rule: "engagement by material: steel 1D, cast iron 1.25D, aluminium alloy 2D, soft light alloy 2.5D; in a thread insert 1.5D at most",
			Source: "DIN 938, 939, 835, 940 (metal ends of studs)", At: drawing.Pt(start+engaged/2, c.t.D/2)})
	}
	if need := c.engagement(p, mat); engaged > 2*need+slack {
		if next, ok := thread.NextLength(start + need - slack); ok && next < c.length()-slack {
			c.add(Finding{Code: LengthLong, Severity: Warning,
				What:     fmt.Sprintf("the bolt goes into %s much further than it needs to", c.partName(i)),
				Measured: engaged, Required: 2 * need, Unit: "mm",
				Remedy: fmt.Sprintf("a length of %s mm", num(next)),
				Rule:   "no more than twice the engagement that the material asks for", Source: practice,
				At: drawing.Pt(c.length(), 0)})
		}
	}
	if !p.Through {
		c.blindHole(p, i, start, in)
	}
	c.tappedEdge(p, i, drawing.Pt(start+engaged/2, -p.Edge))
	if need := start - seatMargin(c.t); c.limit() > need+slack {
		c.add(Finding{Code: RunOut, What: "the end of the thread enters the tapped hole before the head clamps",
			Measured: c.limit() - c.face(), Required: need - c.face(), Unit: "mm",
			Remedy: fmt.Sprintf("a thread at least %s mm long", num(math.Ceil(c.length()-need-slack))),
			Rule:   "the thread, and with it the run-out, ends inside the clearance part by 1 to 3 mm",
			Source: practice, At: drawing.Pt(c.limit(), c.t.D/2)})
	}
}

// blindHole checks depths against how far the bolt reaches in.
func (c *checker) blindHole(p Part, i int, start, in float64) {
	d := c.t.D
	if most := math.Min(p.FullDepth, p.DrillDepth); in > most+slack {
		c.add(Finding{Code: Bottoming,
			What: fmt.Sprintf("the bolt meets the end of the hole or of the thread in %s before it clamps",
				c.partName(i)), Measured: in, Required: most, Unit: "mm",
			Remedy: fmt.Sprintf("a shorter bolt, or full thread %s mm deep", num(in+0.5*d)),
			Rule:   "the full thread is deeper than the bolt reaches in", Source: practice,
			At: drawing.Pt(start+p.FullDepth, 0)})
	} else if need := in + 0.5*d; p.FullDepth < need-slack {
		c.add(Finding{Code: FullThread, Severity: Warning,
			What: "too little full thread beyond the end of the bolt", Measured: p.FullDepth,
			Required: need, Unit: "mm",
			Remedy: fmt.Sprintf("full thread %s mm deep", num(need)),
			Rule:   "0.5D of full thread beyond the engaged length", Source: practice,
			At: drawing.Pt(start+p.FullDepth, d/2)})
	}
	c.drilled(p, i, start, 1)
}

// drilled checks how deep a tapped hole is drilled, and what metal it leaves;
// into is 1 where the hole runs along x and -1 where against it.
func (c *checker) drilled(p Part, i int, start, into float64) {
	d := c.t.D
	if need := p.FullDepth + 0.5*d; p.DrillDepth < need-slack {
		severity := Warning
		if p.DrillDepth < p.FullDepth-slack {
			severity = Fault // no tap cuts a thread deeper than its hole
		}
		c.add(Finding{Code: DrillDepth, Severity: severity,
			What: "too little drilled depth beyond the full thread for the tap", Measured: p.DrillDepth,
			Required: need, Unit: "mm",
			Remedy: fmt.Sprintf("drill %s mm deep", num(need)), Rule: "0.5D of drilled depth beyond the full thread",
			Source: practice, At: drawing.Pt(start+into*p.DrillDepth, 0)})
	}
	point := c.point()
	if wall, need := p.Thickness-p.DrillDepth-point, c.wall(); wall < need-slack {
		c.add(Finding{Code: Wall, What: fmt.Sprintf("too little metal below the drill point in %s", c.partName(i)),
			Measured: wall, Required: need, Unit: "mm",
			Remedy: fmt.Sprintf("a part at least %s mm thick, a shallower hole, or one that goes through",
				num(math.Ceil(p.DrillDepth+point+need))),
			Rule: "0.2D of metal below the point, not under 2 mm", Source: practice,
			At: drawing.Pt(start+into*(p.DrillDepth+point), 0)})
	}
}

// point returns how deep the drill's point of 120 degrees is.
func (m *model) point() float64 { return m.t.MinorDiameter() / 2 / math.Tan(math.Pi/3) }

// wall returns how much metal must be left below the point.
func (m *model) wall() float64 { return math.Max(0.2*m.t.D, 2) }

// spanner checks that head and nut can be turned.
func (c *checker) spanner() {
	corners := math.Max(c.fit.Head.Corners, c.nut.Corners)
	if c.Room == 0 || corners == 0 {
		return
	}
	x, or := 0.0, ", or a socket head"
	if c.fit.Head.Corners == 0 { // only the nut is turned
		x, or = c.seat()+c.nut.Height/2, ""
	}
	if need := corners/2 + spannerPlay*c.t.D; c.Room < need-slack {
		c.add(spannerFinding(c.Room, corners, need, drawing.Pt(x, c.Room),
			fmt.Sprintf("%s mm free about the axis", num(need))+or))
	}
}

// spannerPlay is the room that a spanner needs beside the corners, in parts of D
// (common practice).
const spannerPlay = 0.4

func spannerFinding(room, corners, need float64, at drawing.Point, remedy string) Finding {
	f := Finding{Code: SpannerRoom, Severity: Warning, What: "too little room to put a spanner on head or nut",
		Measured: room, Required: need, Unit: "mm", Remedy: remedy,
		Rule: "half the width across corners + 0.4D", Source: practice, At: at}
	if room < corners/2-slack {
		f.Severity, f.What = Fault, "head or nut cannot turn: its corners meet what stands near"
	}
	return f
}
