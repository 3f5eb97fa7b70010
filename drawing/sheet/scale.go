package sheet

import (
	"strconv"
	"strings"

	"boltplate/drawing"
)

// Scales returns the standard scales from the largest to the smallest, as
// millimetres on paper for a millimetre of the part: 50:1 to 1:100 (ISO 5455,
// whose series go on to 1:10 000). The slice is the caller's.
func Scales() []float64 {
	return []float64{50, 20, 10, 5, 2, 1, 1. / 2, 1. / 5, 1. / 10, 1. / 20, 1. / 50, 1. / 100}
}

// ScaleName returns a scale as it stands on a drawing, such as "1:2"
// (ISO 5455).
func ScaleName(k float64) string { return drawing.ScaleName(k) }

// ParseScale returns the scale that is written as 1:2, 2:1 or 0.5, and whether
// it is one.
func ParseScale(s string) (float64, bool) {
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(strings.TrimSpace(s), 64)
		if err != nil || !(v > 0 && v <= 10000) {
			return 0
		}
		return v
	}
	paper, part, ratio := strings.Cut(s, ":")
	a, b := number(paper), 1.0
	if ratio {
		b = number(part)
	}
	if a == 0 || b == 0 || a/b > 1000 || a/b < 1e-3 {
		return 0, false
	}
	return a / b, true
}
