package marking

import (
	"math"
	"strconv"
	"strings"

	"boltplate/drawing"
)

// A dimKind says how a dimension is compared.
type dimKind uint8

const (
	dimStraight dimKind = iota // between two points along a direction
	dimCircle                  // a diameter on a leader
	dimArc                     // a radius on a leader
	dimAngle
	dimLeader // a note at a point
)

// A modelDim is a dimension of a model view, in millimetres on paper.
type modelDim struct {
	kind   dimKind
	text   string // with its symbol
	name   string // of the quantity
	rule   string // how its value follows, "" where it is given
	number float64
	from   point // of a straight one; the centre of a round one; the tip of a leader
	to     point
	u      point   // along which a straight one measures
	r      float64 // of a round one
	ref    bool    // in parentheses: it may be left out
	anchor point   // where a missing one is shown
}

// symbols are what stands before a value.
var symbols = map[drawing.Symbol]string{drawing.DiameterSymbol: "Ø", drawing.RadiusSymbol: "R", drawing.SquareSymbol: "□",
	drawing.TaperSymbol: "▷", drawing.TaperLeftSymbol: "▷"}

// newDim returns the dimension of a shape; ok is false for other shapes and
// for dimensions that are not shown.
func newDim(s drawing.Shape, st drawing.Style, t drawing.Transform) (d modelDim, ok bool) {
	x, shown := drawing.Expand(s, st)
	if !shown {
		return d, false
	}
	box, labelled := x.LabelBox()
	if !labelled {
		return d, false
	}
	l := drawing.Label{}
	switch s := s.(type) {
	case drawing.Linear:
		l = s.Label
		d.kind, d.from, d.to, d.u = dimStraight, s.From, s.To, point{X: 1}
		if s.Side.Vertical() {
			d.u = point{Y: 1}
		}
	case drawing.Aligned:
		l = s.Label
		d.kind, d.from, d.to, d.u = dimStraight, s.From, s.To, unit(s.To.Sub(s.From))
	case drawing.Diameter:
		l = s.Label
		d.kind, d.from, d.r = dimCircle, s.Center, s.Radius
	case drawing.Radius:
		l = s.Label
		d.kind, d.from, d.r = dimArc, s.Center, s.Radius
	case drawing.Angular:
		l = s.Label
		d.kind, d.from = dimAngle, s.Vertex
	case drawing.Leader:
		l = s.Label
		d.kind, d.from = dimLeader, s.Tip
	default:
		return d, false
	}
	d.text, d.name, d.number, d.ref = symbols[l.Symbol]+l.Text, l.Quantity.Name, l.Quantity.Value, l.Reference
	if l.Quantity.Rule != nil {
		d.rule = l.Quantity.Rule.String()
	}
	if l.Quantity.Status == drawing.Given {
		d.rule = ""
	}
	if strings.TrimSpace(l.Text) == "" && l.Symbol == drawing.NoSymbol {
		return d, false
	}
	d.from, d.to, d.r = t.Point(d.from), t.Point(d.to), d.r*t.K()
	d.anchor = t.Point(box[0].Mid(box[2]))
	return d, true
}

// measure returns the length that a straight dimension measures, mm on paper.
func (d *modelDim) measure() float64 { return math.Abs(dot(d.to.Sub(d.from), d.u)) }

// plainText brings a label to the form in which two are compared.
func plainText(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch r {
		case ' ', '\u00a0', '\u2009', '\u202f', '\n', '\t', '(', ')':
			continue
		case '×', 'x', 'X', '*':
			r = 'x'
		case ',':
			r = '.'
		case 'ø', '⌀', '∅', 'φ', 'Φ', 'ϕ':
			r = 'Ø'
		case '▢', '⬜', '◻', '☐':
			r = '□'
		case '⌲', '⌳', '▻', '◁', '◅', '▷':
			r = '▷'
		case '−', '–', '—':
			r = '-'
		case '’', '′':
			r = '\''
		case '≈':
			r = '~'
		}
		b.WriteRune(r)
	}
	t := strings.ToUpper(b.String())
	t = strings.ReplaceAll(t, "X", "x")
	t = strings.TrimSuffix(t, "MM")
	t = strings.ReplaceAll(strings.ReplaceAll(t, "SQRT", "√"), "PI", "Π") // as one types them
	t = strings.ReplaceAll(strings.ReplaceAll(t, "DEGREES", "°"), "DEG", "°")
	return t
}

// cut returns a plain text as what stands before a number, the number, and
// what stands after it; ok is false where it has none or several.
func cut(s string) (before string, v float64, decimals int, after string, ok bool) {
	digit := func(r rune) bool { return r >= '0' && r <= '9' || r == '.' }
	i := strings.IndexFunc(s, digit)
	if i < 0 {
		return s, 0, 0, "", false
	}
	rest := s[i:]
	j := strings.IndexFunc(rest, func(r rune) bool { return !digit(r) })
	if j < 0 {
		j = len(rest)
	}
	v, err := strconv.ParseFloat(rest[:j], 64)
	if err != nil || strings.ContainsAny(rest[j:], "0123456789") {
		return s, 0, 0, "", false
	}
	if k := strings.IndexByte(rest[:j], '.'); k >= 0 {
		decimals = j - k - 1
	}
	return s[:i], v, decimals, rest[j:], true
}

// sameText reports whether a student's label says what the model says: the
// same signs, and a number that is that of the model, rounded to the decimals
// that are written.
func sameText(want, got string) bool {
	w, g := plainText(want), plainText(got)
	if w == g {
		return true
	}
	wb, wv, _, wa, ok := cut(w)
	gb, gv, decimals, ga, ok2 := cut(g)
	if !ok || !ok2 || wb != gb || wa != ga {
		return false
	}
	unit := math.Pow(10, -float64(decimals))
	return math.Abs(wv-gv) <= unit/2+1e-9
}
