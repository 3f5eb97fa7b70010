package fastener

import (
	"math"
	"strings"

	"boltplate/drawing"
	"boltplate/internal/solid"
)

// A neck is the square part under a head that keeps a bolt from turning. The
// zero neck is none.
type neck struct {
	side, length drawing.Quantity
}

// squareNeck is the square under a head.
var squareNeck = groupOf(
	published("S", "side of square neck", "D", low),
	practice("N", "length of square neck", "0.8D"))

// squareNeck gives the bolt a square neck by rules.
func (b *bolt) squareNeck(g *group) error {
	b.z.use(g)
	if err := b.z.solve(); err != nil {
		return err
	}
	b.neck = neck{side: b.z.size("S"), length: b.z.size("N")}
	b.fits.Neck = b.neck.fit()
	return b.z.atLeast("S", "D")
}

func (n neck) fit() NeckFit { return NeckFit{Side: n.side.Value, Length: n.length.Value} }

func (n neck) present() bool { return n.length.Value > 0 }

// build adds the neck from the bearing face at x = 0; onCorner turns it as a
// square head on its corner.
func (n neck) build(l look, m *model, onCorner bool) {
	if !n.present() {
		return
	}
	s, end := n.side.Value, n.length.Value
	if onCorner {
		m.add(solid.Prism(solid.X(), 4, s, 0, end, solid.V(0, 1, 0), solid.Chamfer{}))
	} else {
		m.add(solid.Box(solid.V(0, -s/2, -s/2), solid.V(end, s/2, s/2)))
	}
	m.squareFlats(l, s, 0, end, onCorner)
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
	b.add(drawing.RoleDimension, drawing.Leader{Label: side, Tip: drawing.Pt(l/2, h), Angle: 65,
		Rank: 2 * (1 - rank)})
}

// A Neck says what stands under a head to keep the bolt from turning, or on a
// stud between its threads. Which of them a kind can have is in its KindInfo.
type Neck uint8

// The necks.
const (
	NeckByKind   Neck = iota // the usual one of the kind
	NeckPlain                // none
	NeckSquare               // a square
	NeckSnug                 // a ridge on the shank
	NeckPin                  // a pin across the axis, under the head
	NeckPinAlong             // a pin along the axis, in the bearing face
	NeckNibs                 // two nibs
	NeckCollar               // a collar
	neckCount
)

func neckNames() [neckCount]string {
	return [neckCount]string{"by kind", "plain", "square", "snug", "pin", "pin-along", "nibs", "collar"}
}

// String returns the word of a schedule: plain, square, snug, pin, pin-along,
// nibs, collar; "by kind" for the zero Neck.
func (n Neck) String() string {
	if n < neckCount {
		return neckNames()[n]
	}
	return "unknown neck"
}

// neckNamed returns the neck with the given name, which KindInfo has checked.
func neckNamed(s string) Neck {
	for i, name := range neckNames() {
		if is(s, name) {
			return Neck(i)
		}
	}
	return NeckByKind
}

// inTitle returns the part of a designation that names the neck.
func (n Neck) inTitle() string {
	switch n {
	case NeckSquare:
		return ", square neck, "
	case NeckSnug:
		return ", snug, "
	case NeckPin:
		return ", pin, "
	case NeckPinAlong:
		return ", pin along the axis, "
	case NeckNibs:
		return ", two nibs, "
	case NeckCollar:
		return ", collar, "
	}
	return " "
}

// checkNeck refuses a neck that is neither the zero one nor one of those that
// the kind has.
func checkNeck(kind string, n Neck, has ...Neck) error {
	if n == NeckByKind {
		return nil
	}
	names := make([]string, len(has))
	for i, h := range has {
		if h == n {
			return nil
		}
		names[i] = h.String()
	}
	return &FieldError{kind, "neck", n.String(), "not a neck of this kind; it has " + strings.Join(names, ", ")}
}
