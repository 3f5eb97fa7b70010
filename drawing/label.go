package drawing

import (
	"math"
	"strconv"
	"strings"

	"boltplate/rule"
)

// FormatValue writes a value as it stands on a drawing: at most two decimals,
// no trailing zeros.
func FormatValue(v float64, comma bool) string {
	var buf [32]byte
	return string(appendValue(buf[:0], v, comma))
}

func appendValue(dst []byte, v float64, comma bool) []byte {
	r := math.Round(v*100) / 100
	if r == 0 {
		r = 0 // never -0
	}
	n := len(dst)
	dst = strconv.AppendFloat(dst, r, 'f', -1, 64)
	if comma {
		for i := n; i < len(dst); i++ {
			if dst[i] == '.' {
				dst[i] = ','
			}
		}
	}
	return dst
}

// say returns the text of the label in the way that the style asks for.
func (l Label) say(st Style) string {
	q := l.Quantity
	switch st.Labels {
	case Rules:
		if q.Rule == nil {
			return q.Letter
		}
		if l.Number != "" && len(q.Rule.Letters()) == 0 { // a taper that is 1:30 by rule
			return l.Number
		}
		return q.Rule.Text(rule.Format{Comma: st.DecimalComma})
	case Letters:
		return q.Letter
	case NoLabels, Blank:
		return ""
	}
	if l.Number != "" {
		return l.Number
	}
	var buf [32]byte
	b := appendValue(buf[:0], q.Value, st.DecimalComma)
	if q.Unit == Degree {
		b = append(b, "°"...)
	}
	return string(b)
}

// resolved returns the label with its text set.
func (l Label) resolved(st Style) Label {
	l.Text, l.line = l.say(st), ""
	if st.Labels == Blank {
		return l
	}
	if l.Symbol == RadiusSymbol && l.Text == l.Quantity.Letter {
		l.Text = strings.TrimPrefix(l.Text, "R") // the symbol says it
	}
	l.line = l.full()
	return l
}

// full returns the label with its parentheses and the symbols that are
// characters.
func (l Label) full() string {
	before, after := "", ""
	switch l.Symbol {
	case DiameterSymbol:
		before = "Ø"
	case RadiusSymbol:
		before = "R"
	}
	if l.Reference {
		before, after = [...]string{"(", "(R", "(Ø"}[len(before)], ")" // Ø is two bytes
	}
	if n, m := len(before), len(l.line)-len(after); n+len(l.Text) == m &&
		l.line[:n] == before && l.line[n:m] == l.Text && l.line[m:] == after {
		return l.line
	}
	return before + l.Text + after
}

// Relabel returns a dimension with another label, and any other shape as it is.
func Relabel(s Shape, change func(Label) Label) Shape {
	switch d := s.(type) {
	case Linear:
		d.Label = change(d.Label)
		return d
	case Aligned:
		d.Label = change(d.Label)
		return d
	case Diameter:
		d.Label = change(d.Label)
		return d
	case Radius:
		d.Label = change(d.Label)
		return d
	case Angular:
		d.Label = change(d.Label)
		return d
	case Leader:
		d.Label = change(d.Label)
		return d
	}
	return s
}
