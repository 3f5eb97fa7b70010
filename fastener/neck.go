package fastener

import (
	"math"

	"boltplate/drawing"
)

// A neck is the square part under a head that keeps a bolt from turning. The
// zero neck is none.
type neck struct {
	side, length drawing.Quantity
}

// squareNeck returns the neck of a bolt of diameter d by proportion.
func squareNeck(d float64) neck {
	return neck{
		side: drawing.Quantity{Letter: "S", Name: "side of square neck", Rule: "D", Value: d,
			Source: "Low, Machine Drawing and Design (1887)", Status: drawing.Published},
		length: drawing.Quantity{Letter: "N", Name: "length of square neck", Rule: "0.8D", Value: 0.8 * d,
			Source: "common practice", Status: drawing.CommonPractice},
	}
}

func (n neck) present() bool { return n.length.Value > 0 }

// elevation draws the neck from the bearing face at x = 0. Seen flat, it
// carries crossed diagonals; on its corner, the edge to the front.
func (n neck) elevation(b *builder, onCorner bool) {
	if !n.present() {
		return
	}
	l, h := n.length.Value, n.side.Value/2
	if onCorner {
		h *= math.Sqrt2
		b.edgeOnAxis(0, l)
	} else {
		b.line(drawing.RoleThin, 0, -h, l, h)
		b.line(drawing.RoleThin, 0, h, l, -h)
	}
	b.both(drawing.RoleOutline, 0, h, l, h)
	b.line(drawing.RoleOutline, l, -h, l, h)
}

func (n neck) outlines(cornerUp bool) []outline {
	if !n.present() {
		return nil
	}
	return []outline{polygon(4, n.side.Value, cornerUp)}
}

// hidden draws the neck behind the head.
func (n neck) hidden(b *builder, cornerUp bool) {
	for _, o := range n.outlines(cornerUp) {
		for i, p := range o.poly {
			q := o.poly[(i+1)%len(o.poly)]
			b.line(drawing.RoleHidden, p.X, p.Y, q.X, q.Y)
		}
	}
}

func (n neck) dimensions(b *builder, onCorner bool, under float64, rank drawing.Rank) {
	if !n.present() {
		return
	}
	l, h := n.length.Value, n.side.Value/2
	if onCorner {
		h *= math.Sqrt2
	}
	b.linear(drawing.Below, rank, label(n.length), 0, -under, l, -h)
	side := label(n.side)
	side.Symbol = drawing.SquareSymbol
	// The square symbol says it in the elevation on the corner as well, but it
	// belongs where the flat is seen true.
	b.add(drawing.RoleDimension, drawing.Leader{Label: side, Tip: drawing.Pt(l/2, h), Angle: 65, Rank: 2 * (1 - rank)})
}
