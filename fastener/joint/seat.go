package joint

import (
	"fmt"
	"math"

	"boltplate/drawing"
	"boltplate/fastener"
)

// What head and nut bear on, where that is not just a flat plate: counterbores,
// spot faces, slotted holes, slopes, and walls with a fillet at their foot.

// bornOn reports whether head or nut bear on part i.
func (j Joint) bornOn(i int) bool {
	return i == 0 || j.Scene == ThroughBolt && i == len(j.Parts)-1
}

// steepestFace is the slope up to which a face counts as square to the axis,
// degrees (common practice, from memory): more bends the bolt.
const steepestFace = 1.0

// wide returns the width of the hole of a part in the section: its diameter, or
// the length of a slotted one.
func (p Part) wide() float64 { return math.Max(p.Hole, p.Slotted) }

// validFaces refuses what contradicts itself.
func (j Joint) validFaces() error {
	if j.Count < 0 || j.Count > 1000 {
		return &FieldError{Field: "count", Want: fmt.Sprintf("%d is no number of bolts; give 1 to 1000", j.Count)}
	}
	for i, p := range j.Parts {
		switch {
		case p.Slotted > 0 && p.Slotted < p.Hole:
			return notSlotted(i, p)
		case p.Slope > 45:
			return &FieldError{Field: partField(i, "slope"), Want: num(p.Slope) + " is too steep to bolt on; give degrees from 0 to 45"}
		case p.Fillet > 0 && p.StandsAt == 0:
			return &FieldError{Field: partField(i, "fillet"), Want: "is at the foot of a wall; give wall too, from the axis to it"}
		case p.StandsAt > 0 && p.Fillet >= p.StandsAt:
			return &FieldError{Field: partField(i, "fillet"), Want: "reaches the axis; it must be less than wall"}
		case p.Seat > 0 && (p.Counterbore > 0 || p.CounterboreDepth > 0):
			return &FieldError{Field: partField(i, "seat"), Want: "the head bears in the counterbore; leave one of them out"}
		case p.CounterboreDepth >= p.Thickness && p.CounterboreDepth > 0:
			return &FieldError{Field: partField(i, "counterbore_depth"),
				Want: fmt.Sprintf("%s goes through the part; it must be less than %s", num(p.CounterboreDepth), num(p.Thickness))}
		}
	}
	return nil
}

// notSlotted is the error of a slotted hole that is less long than it is wide.
func notSlotted(i int, p Part) error {
	return &FieldError{Field: partField(i, "slotted"),
		Want: fmt.Sprintf("%s is less than the hole is wide, %s; give its length over all", num(p.Slotted), num(p.Hole))}
}

// counterbores are the diameters for socket and other cylindrical heads by
// nominal diameter, mm (DIN 974-1, series 1; from memory, unverified).
func counterbores() map[float64]float64 {
	return map[float64]float64{3: 6.5, 4: 8, 5: 10, 6: 11, 8: 15, 10: 18, 12: 20, 16: 26, 20: 33, 24: 40, 30: 50, 36: 58}
}

// boreNeeds returns the least diameter of a counterbore: the head goes in with a
// little room (0.05D, not under 0.4 mm, common practice), or where it is turned
// by its corners, the spanner on it; and the washer under it.
func (m *model) boreNeeds() float64 {
	play := math.Max(0.05*m.t.D, 0.4)
	need := math.Max(m.fit.Head.Diameter, m.head.Outside) + play
	if c := m.fit.Head.Corners; c > 0 {
		need = math.Max(need, c+2*spannerPlay*m.t.D)
	}
	return need
}

// chooseFaces chooses what belongs to a counterbore that is asked for, and
// refuses a slotted hole that is none.
func (c *chooser) chooseFaces() error {
	for i, p := range c.Parts {
		if p.Slotted > 0 && p.Slotted < p.Hole { // which has just been chosen
			return notSlotted(i, p)
		}
	}
	p := &c.Parts[0]
	if p.Counterbore == 0 && p.CounterboreDepth == 0 {
		return nil
	}
	m, err := c.sized()
	if err != nil {
		return err
	}
	high := m.fit.Head.Height + m.head.Thickness
	c.choose(&p.CounterboreDepth, math.Ceil(2*(high+0.4)-slack)/2, partField(0, "counterbore_depth"),
		fmt.Sprintf("the head, %s mm high, goes in with 0.4 mm or a little more (common practice)", num(high)))
	if p.CounterboreDepth >= p.Thickness {
		return &FieldError{Field: "part 1: thickness",
			Want: fmt.Sprintf("%s leaves nothing under a counterbore %s deep", num(p.Thickness), num(p.CounterboreDepth))}
	}
	dia, why := math.Ceil(m.boreNeeds()-slack), "room for the head, or for the spanner on it (common practice)"
	if v, ok := counterbores()[m.t.D]; ok && m.fit.Head.Corners == 0 && v >= m.boreNeeds() {
		dia, why = v, "DIN 974-1, series 1 (from memory, unverified)"
	}
	c.choose(&p.Counterbore, dia, partField(0, "counterbore"), why)
	return nil
}

// faces checks the faces that head and nut bear on.
func (c *checker) faces() {
	last := len(c.Parts) - 1
	switch c.Scene {
	case ThroughBolt:
		c.facing("the head", c.head, c.fit.Head, 0, c.head.Thickness)
		c.facing("the nut", c.washer, nutHead(c.model), last, c.seat()-c.washer.Thickness)
	case Tapped:
		c.facing("the head", c.head, c.fit.Head, 0, c.head.Thickness)
	case Stud:
		c.facing("the nut", c.washer, nutHead(c.model), 0, c.seat()-c.washer.Thickness)
	}
	c.counterbore()
}

func nutHead(m *model) fastener.HeadFit {
	return fastener.HeadFit{Corners: m.nut.Corners, Bears: m.nut.Bears}
}

// reachOf returns the diameter of what must not touch a rough face: the washer or
// what bears itself, and the corners over it.
func reachOf(h fastener.HeadFit, w washerSize) float64 {
	return math.Max(math.Max(h.Corners, h.Diameter), math.Max(h.Bears, w.Outside))
}

// facing checks the face at x that head or nut bear on.
func (c *checker) facing(what string, w washerSize, h fastener.HeadFit, i int, x float64) {
	p, name := c.Parts[i], c.partName(i)
	reach := reachOf(h, w)
	if w.Outside > 0 {
		what = "the washer under " + what
	}
	if p.Seat > 0 && p.Seat < reach-slack {
		c.add(Finding{Code: SeatNarrow, Measured: p.Seat, Required: reach, Unit: "mm",
			What:   fmt.Sprintf("the spot face on %s is narrower than %s, which stands on its rim", name, what),
			Remedy: fmt.Sprintf("a spot face of at least %s mm", num(math.Ceil(reach+1))),
			Rule:   "all of what bears, corners too, inside the spot face", Source: practice, At: drawing.Pt(x, p.Seat/2)})
	}
	if p.Slope > steepestFace+slack && p.Seat == 0 {
		c.add(Finding{Code: Slope, Measured: p.Slope, Required: steepestFace, Unit: "degrees",
			What:   fmt.Sprintf("%s bears on one side only, because the face of %s slopes: the bolt is bent", what, name),
			Remedy: fmt.Sprintf("a spot face of %s mm, or a bevel washer for the slope (DIN 434, DIN 435)", num(math.Ceil(reach+1))),
			Rule:   "a bearing face square to the axis within 1 degree", Source: practice + ", from memory",
			At: drawing.Pt(x, reach/2)})
	}
	if flat := p.StandsAt - p.Fillet; p.StandsAt > 0 && flat < reach/2-slack {
		f := Finding{Code: Fillet, Measured: flat, Required: reach / 2, Unit: "mm",
			What:   fmt.Sprintf("%s stands on the fillet at the foot of the wall of %s", what, name),
			Remedy: fmt.Sprintf("the wall at least %s mm from the axis", num(math.Ceil(reach/2+p.Fillet))),
			Rule:   "what bears is clear of the fillet", Source: practice, At: drawing.Pt(x, flat)}
		if p.StandsAt < reach/2-slack {
			f.What = fmt.Sprintf("%s is in the metal of the wall of %s", what, name)
		}
		c.add(f)
	}
	if need := h.Corners/2 + spannerPlay*c.t.D; p.StandsAt > 0 && h.Corners > 0 && p.StandsAt < need-slack {
		c.add(spannerFinding(p.StandsAt, h.Corners, need, drawing.Pt(x, p.StandsAt),
			fmt.Sprintf("the wall at least %s mm from the axis", num(math.Ceil(need)))))
	}
}

// leastFloor is how much metal is left under a counterbored head, in parts of D
// (common practice, from memory).
const leastFloor = 0.4

// counterbore checks a counterbore in the first part.
func (c *checker) counterbore() {
	p := c.Parts[0]
	if p.Counterbore == 0 {
		return
	}
	name, floor := c.partName(0), c.head.Thickness
	if need := c.boreNeeds(); p.Counterbore < need-slack {
		f := Finding{Code: Counterbore, Measured: p.Counterbore, Required: need, Unit: "mm", Severity: Warning,
			What:   "the counterbore in " + name + " leaves too little room about the head, or for the spanner on it",
			Remedy: fmt.Sprintf("a counterbore of %s mm", num(math.Ceil(need))),
			Rule:   "head + 0.05D, 0.4 mm at least; of a head with corners, 0.4D about them for the spanner",
			Source: practice, At: drawing.Pt(floor, p.Counterbore/2)}
		if body := math.Max(math.Max(c.fit.Head.Diameter, c.fit.Head.Corners), c.head.Outside); p.Counterbore < body-slack {
			f.Severity, f.What = Fault, "the head does not go into the counterbore in "+name
		}
		c.add(f)
	}
	if high := c.fit.Head.Height + c.head.Thickness; p.CounterboreDepth < high-slack {
		c.add(Finding{Code: HeadProud, Severity: Warning, Measured: p.CounterboreDepth, Required: high, Unit: "mm",
			What:   "the head stands out of its counterbore in " + name,
			Remedy: fmt.Sprintf("a counterbore %s mm deep", num(math.Ceil(2*(high+0.4))/2)),
			Rule:   "a counterbore is as deep as head and washer", Source: practice, At: drawing.Pt(-c.fit.Head.Height, 0)})
	}
	if need := p.CounterboreDepth + leastFloor*c.t.D; p.Thickness < need-slack {
		c.add(Finding{Code: PlateThin, Severity: Warning, Measured: p.Thickness, Required: need, Unit: "mm",
			What:   "too little metal is left under the counterbore in " + name,
			Remedy: fmt.Sprintf("a part at least %s mm thick", num(math.Ceil(need))),
			Rule:   "0.4D of metal under the head", Source: practice + ", from memory", At: drawing.Pt(floor, p.Hole/2)})
	}
}
