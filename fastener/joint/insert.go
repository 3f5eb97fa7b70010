package joint

import (
	"fmt"
	"math"

	"boltplate/drawing"
	"boltplate/thread"
)

// A thread insert is a coil of wire in a hole tapped wider. It spreads the pull,
// so that 1.5D of it do in any metal (common practice, from memory).
const insertEngagement = 1.5

// threaded returns how deep the thread of a tapped part can hold at most: as
// deep as its insert, where it has one.
func (p Part) threaded() float64 {
	if p.Insert > 0 {
		return p.Insert
	}
	return math.Inf(1)
}

// engagement returns how much thread a tapped part asks for.
func (m *model) engagement(p Part, mat thread.Material) float64 {
	need := thread.Engagement(mat, m.t.D)
	if p.Insert > 0 {
		need = math.Min(need, insertEngagement*m.t.D)
	}
	return need
}

// insertOutside returns the diameter of the tapped hole that takes the wire, over
// its thread: D + 1.3P (after DIN 8140-2; from memory, unverified).
func (m *model) insertOutside() float64 { return m.t.D + 1.3*m.t.P }

// insert checks that a thread insert stands in the thread that is cut for it.
func (c *checker) insert(p Part, i int, start float64) {
	room := p.FullDepth
	if p.Through {
		room = p.Thickness
	}
	if p.Insert > room+slack {
		c.add(Finding{Code: Insert, Measured: p.Insert, Required: room, Unit: "mm",
			What:   "the thread insert is longer than the thread that is cut for it in " + c.partName(i),
			Remedy: fmt.Sprintf("an insert of at most %s mm", num(room)),
			Rule:   "an insert is no longer than its thread", Source: practice,
			At: drawing.Pt(start+p.Insert, c.t.D/2)})
	}
}

// insertSize gives the length of the insert of a tapped part from x0 on.
func (b *board) insertSize(p Part, x0 float64) {
	if p.Insert > 0 {
		b.along("li", "length of thread insert", x0, -b.insertDrawn(), x0+math.Min(p.Insert, p.Thickness), -b.insertDrawn())
	}
}

// insertDrawn returns the radius at which the outside of an insert is drawn:
// its own, or as far out as two lines stand apart on paper.
func (b *board) insertDrawn() float64 {
	return math.Max(b.insertOutside()/2, b.t.D/2+b.st.Part(b.st.ThreadGap()))
}
