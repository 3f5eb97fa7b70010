package joint

import (
	"fmt"
	"math"

	"boltplate/fastener"
	"boltplate/thread"
)

// Complete returns the joint with every value that was left out, and what was
// chosen and why. What was given is kept, right or wrong: Check says which.
// The error is a *FieldError where no rule can make a joint of the description.
func (j Joint) Complete() (Joint, []Choice, error) {
	given := j
	j, choices := j.boltForSlot()
	if err := j.validate(); err != nil {
		return given, nil, err
	}
	c := chooser{Joint: j, choices: choices}
	c.Parts = append([]Part(nil), j.Parts...)
	info := j.scene()
	if c.Bolt.Kind == "" {
		c.Bolt.Kind, c.freeKind = info.kind, true
		c.note("bolt.kind", info.kind, "the usual fastener of this joint")
	}
	if info.nut {
		if c.Nut == "" {
			c.Nut = "hex"
			c.note("nut", "hex", "the usual nut")
		}
		if c.Washer == "" {
			c.Washer = "plain"
			c.note("washer", "plain", "a washer under the part that is turned")
		}
	}
	err := info.choose(&c)
	if err == nil && info.nut {
		err = c.choosePinHole()
	}
	// What was rounded up to 0 is not None.
	c.Bolt.Length, c.Bolt.ThreadLength = c.Bolt.Length+0, c.Bolt.ThreadLength+0
	return c.Joint, c.choices, err
}

type chooser struct {
	Joint
	choices []Choice
	// freeKind says that the kind of the bolt was chosen.
	freeKind bool
}

func (c *chooser) note(field, value, why string) {
	c.choices = append(c.choices, Choice{field, value, why})
}

// choose sets a value that was left out.
func (c *chooser) choose(to *float64, v float64, field, why string) {
	if *to == 0 && !none(*to) {
		*to = v + 0
		c.note(field, num(v)+" mm", why)
	}
}

// clearanceHoles chooses the holes of the first n parts.
func (c *chooser) clearanceHoles(n int) {
	d := c.Bolt.Thread.D
	for i := range c.Parts[:n] {
		if !c.holed(i) {
			continue
		}
		hole, why := 1.1*d, "1.1D (common practice; ISO 273 has no such size)"
		if h, err := thread.ClearanceHole(d, thread.FitMedium); err == nil {
			hole, why = h, "ISO 273:1979, medium series"
		}
		c.choose(&c.Parts[i].Hole, hole, partField(i, "hole"), why)
	}
}

// sized returns the model with a stand-in for a length that is still to be
// chosen.
func (c *chooser) sized() (*model, error) {
	j := c.Joint
	if j.Bolt.Length == 0 {
		// Long enough for any kind; only the head and the nut are read.
		j.Bolt.Length = math.Max(12*j.Bolt.Thread.D, c.grip()+4*j.Bolt.Thread.D)
		if next, ok := thread.NextLength(j.Bolt.Length); ok {
			j.Bolt.Length = next
		}
		j.Bolt.ThreadLength = 0
	}
	return newModel(j)
}

// lengthForNut chooses the shortest preferred length that reaches through the
// nut, and a longer thread where the standard one ends too far from the head.
func (c *chooser) lengthForNut() error {
	m, err := c.sized()
	if err != nil {
		return err
	}
	if err := c.nextLength(m); err != nil {
		return err
	}
	return c.threadFrom(m.seat()-seatMargin(m.t), "the standard thread would end before the nut clamps")
}

// nextLength chooses the shortest preferred length that reaches through the
// nut.
func (c *chooser) nextLength(m *model) error {
	if c.Bolt.Length != 0 {
		return nil
	}
	next, ok := m.nextLength()
	if !ok {
		return &FieldError{Field: "bolt.length",
			Want: fmt.Sprintf("missing, and no preferred length of ISO 888 is as long as %s mm",
				num(m.leastLength()))}
	}
	c.Bolt.Length = next
	why := fmt.Sprintf("the shortest preferred length (ISO 888) for grip, washers, nut and one pitch: %s mm",
		num(m.leastLength()))
	if m.nut.Blind > 0 {
		least, most := m.dome()
		why = fmt.Sprintf("ends inside the dome of the cap nut: from %s to %s mm", num(least), num(most))
		if _, _, listed := thread.LengthStatus(next); !listed {
			why += "; no length of ISO 888 does, so that it is made to this length"
		}
	}
	c.note("bolt.length", num(next)+" mm", why)
	return nil
}

// threadFrom chooses a thread that begins at x or nearer to the head, where the
// rule's own thread begins further from it.
func (c *chooser) threadFrom(x float64, why string) error {
	if c.Bolt.ThreadLength != 0 {
		return nil
	}
	m, err := newModel(c.Joint)
	if err != nil {
		// The bolt may be too short for the standard thread.
		c.Bolt.ThreadLength = math.Ceil(c.Bolt.Length - x - slack)
		if _, again := newModel(c.Joint); again != nil {
			c.Bolt.ThreadLength = 0
			return err
		}
		c.note("bolt.thread", num(c.Bolt.ThreadLength)+" mm", "the standard thread would leave no plain shank")
		return nil
	}
	if m.limit() <= x+slack {
		return nil
	}
	k, err := fastener.KindNamed(c.Bolt.Kind)
	if err != nil {
		return wrapped("bolt.kind", err)
	}
	for _, o := range k.Options {
		if o.Name == "thread" {
			need := math.Ceil(m.length() - x - slack)
			c.Bolt.ThreadLength = need
			if _, err := newModel(c.Joint); err != nil { // no room for it under the head
				c.Bolt.ThreadLength = 0
				return nil
			}
			c.note("bolt.thread", num(need)+" mm", why)
		}
	}
	return nil
}

// lengthForThread chooses length and depths of a bolt in a tapped hole.
func (c *chooser) lengthForThread() error {
	m, err := c.sized()
	if err != nil {
		return err
	}
	i := len(c.Parts) - 1
	p := &c.Parts[i]
	mat, known := p.material()
	need := m.engagement(*p, mat)
	start := m.face() + c.grip()
	if c.Bolt.Length == 0 {
		next, ok := thread.NextLength(start + need - slack)
		if !ok {
			return &FieldError{Field: "bolt.length",
				Want: fmt.Sprintf("missing, and no preferred length of ISO 888 is as long as %s mm", num(start+need))}
		}
		c.Bolt.Length = next
		why := fmt.Sprintf("the shortest preferred length (ISO 888) with %s mm in %s", num(need), mat)
		if !known {
			why += " (the material has no rule: taken as steel)"
		}
		c.note("bolt.length", num(next)+" mm", why)
	}
	if err := c.threadFrom(start-seatMargin(m.t), "the standard thread would end inside the hole"); err != nil {
		return err
	}
	// a bolt that is too short gets the hole for one that is not
	c.depths(p, i, math.Max(c.Bolt.Length-start, need))
	return nil
}

// depths chooses how deep a hole is tapped and drilled for a bolt that reaches
// in so far.
func (c *chooser) depths(p *Part, i int, in float64) {
	if p.Through {
		return
	}
	d := c.Bolt.Thread.D
	up := func(v float64) float64 { return math.Ceil(v*2-slack) / 2 }
	c.choose(&p.FullDepth, up(in+0.5*d), partField(i, "full_depth"),
		"0.5D of full thread beyond the bolt (common practice)")
	c.choose(&p.DrillDepth, up(p.FullDepth+0.5*d), partField(i, "drill_depth"),
		"0.5D beyond the full thread (common practice)")
}
