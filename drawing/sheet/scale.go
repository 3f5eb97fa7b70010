package sheet

import (
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

// ParseScale is drawing.ParseScale.
func ParseScale(s string) (float64, bool) { return drawing.ParseScale(s) }
