package drawing

import (
	"math"
	"strconv"
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
		if q.Status == Given || q.Rule == "" || q.Rule == RuleTable {
			return q.Letter
		}
		return q.Rule
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

// RuleTable is the rule of a quantity that is read from a table.
const RuleTable = "table"

// resolved returns the label with its text set.
func (l Label) resolved(st Style) Label {
	l.Text, l.line = l.say(st), ""
	if st.Labels == Blank {
		return l
	}
	if l.Symbol == RadiusSymbol && l.Text == "R" {
		l.Text = "" // the symbol says it
	}
	l.line = l.full()
	return l
}

// full returns the label with its parentheses and the symbols that are
// characters.
func (l Label) full() string {
	if l.line != "" {
		return l.line
	}
	s := l.Text
	switch l.Symbol {
	case DiameterSymbol:
		s = "Ø" + s
	case RadiusSymbol:
		s = "R" + s
	}
	if l.Reference {
		s = "(" + s + ")"
	}
	return s
}
