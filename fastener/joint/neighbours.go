package joint

import (
	"fmt"
	"math"
	"strings"

	"boltplate/drawing"
)

// leastPitch is the least distance of neighbouring holes in hole diameters (EN
// 1993-1-8:2005, table 3.3, along the force; from memory, unverified).
const leastPitch = 2.2

// neighbours checks how far the next bolt is.
func (c *checker) neighbours() {
	s := c.Spacing
	if s == 0 {
		return
	}
	corners := math.Max(c.fit.Head.Corners, c.nut.Corners)
	body := math.Max(math.Max(corners, c.fit.Head.Diameter), math.Max(c.washer.Outside, c.head.Outside))
	body = math.Max(body, math.Max(c.fit.Eye.Outside, c.fit.Taper.Large))
	f := Finding{Code: Spacing, Measured: s, Unit: "mm", At: drawing.Pt(c.face()+c.grip()/2, c.t.D/2)}
	hole := c.t.D
	for _, p := range c.Parts {
		hole = math.Max(hole, p.wide())
	}
	f.Required = math.Max(math.Max(body, corners+spannerPlay*c.t.D), leastPitch*hole)
	if s >= f.Required-slack {
		return
	}
	f.Rule = "heads, nuts and washers clear of each other, a spanner between them (0.4D beside the corners), and 2.2 holes"
	f.Source = practice + "; EN 1993-1-8:2005, table 3.3 (from memory, unverified)"
	f.Remedy = fmt.Sprintf("at least %s mm from axis to axis", num(math.Ceil(f.Required-slack)))
	switch {
	case s < math.Max(body, hole)-slack:
		f.What = "the next bolt is so near that heads, nuts, washers or holes overlap"
	case s < corners+spannerPlay*c.t.D-slack:
		f.Severity, f.What = Warning, "the next bolt is so near that no spanner goes between"
	default:
		f.Severity, f.What = Warning, "the next bolt is so near that little metal is left between the holes"
	}
	c.add(f)
}

// pinHole checks that the slots of a castle nut reach the hole of its pin.
func (c *checker) pinHole() {
	if c.nut.Pin == 0 {
		return
	}
	from, to := c.seat()+c.nut.SlotsFrom+c.nut.Pin/2, c.seat()+c.nut.Height-c.nut.Pin/2
	f := Finding{Code: PinHole, Measured: c.PinHole, Unit: "mm", At: drawing.Pt(c.PinHole, c.t.D/2),
		Rule:   "the hole of the pin between the bottom of the slots and the top of the nut when that is tight",
		Source: practice + "; ISO 1234:1997 (split pins)",
		Remedy: fmt.Sprintf("the hole from %s to %s mm", num(from), num(to))}
	switch {
	case c.PinHole < from-slack:
		f.What, f.Required = "the hole of the split pin is below the slots of the castle nut, which hides it", from
	case c.PinHole > to+slack:
		f.What, f.Required = "the hole of the split pin is above the castle nut, so that the pin holds nothing", to
	case c.length()-c.t.P < c.PinHole+c.nut.Pin-slack:
		f.What = "the hole of the split pin is too near to the end of the " + c.noun()
		f.Severity, f.Measured, f.Required = Warning, c.length()-c.PinHole, c.nut.Pin+c.t.P
		f.Rule, f.Remedy = "the pin's diameter and one pitch from the hole to the end", "a longer "+c.noun()
	default:
		return
	}
	c.add(f)
}

// choosePinHole chooses where the hole of a castle nut's pin is: in the middle
// of its slots.
func (c *chooser) choosePinHole() error {
	m, err := newModel(c.Joint)
	if err != nil || m.nut.Pin == 0 {
		return err
	}
	mid := m.seat() + (m.nut.SlotsFrom+m.nut.Height)/2
	c.choose(&c.PinHole, math.Round(10*mid)/10, "pin_hole", "the middle of the slots when the nut is tight")
	return nil
}

// severalNote says how many bolts the joint has and how far apart they are; ""
// where nothing is said of it.
func (m *model) severalNote() string {
	word := m.noun()
	if m.Count > 1 {
		word = fmt.Sprintf("%d %ss", m.Count, word)
	}
	switch {
	case m.Spacing > 0:
		return fmt.Sprintf("%s%s, %s mm from axis to axis.", strings.ToUpper(word[:1]), word[1:], num(m.Spacing))
	case m.Count > 1:
		return word + ", of which one is shown."
	}
	return ""
}
