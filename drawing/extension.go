package drawing

import (
	"math"
)

// shareExtensionLines hides the extension lines that lie on those of a
// dimension further out, or of a neighbour in the same row, so that no line is
// drawn twice.
func shareExtensionLines(bodies []body) {
	for n := range bodies {
		a := &bodies[n]
		for m := n + 1; m < len(bodies) && a.isLinear(); m++ {
			b := &bodies[m]
			if !b.isLinear() || a.linear.Side != b.linear.Side {
				continue
			}
			inner, outer := &a.linear, &b.linear
			if further(inner, outer) {
				inner, outer = outer, inner
			}
			inner.HideFrom = shared(outer, &inner.From) || inner.HideFrom
			inner.HideTo = shared(outer, &inner.To) || inner.HideTo
		}
	}
}

func further(o, i *Linear) bool {
	if o.Side == Above || o.Side == Right {
		return o.At > i.At
	}
	return o.At < i.At
}

// shared reports whether an extension line of outer runs along the one that
// starts at p, and lets both start at the point further out: the outline
// reaches there.
func shared(outer *Linear, p *Point) bool {
	for _, q := range [2]*Point{&outer.From, &outer.To} {
		along, across := q.Y-p.Y, q.X-p.X
		if outer.Side.Vertical() {
			along, across = across, along
		}
		if math.Abs(across) > 1e-9 {
			continue
		}
		if (outer.Side == Below || outer.Side == Left) == (along > 0) {
			*q = *p
		} else {
			*p = *q
		}
		return true
	}
	return false
}
