package dxfout

import (
	"strconv"

	"boltplate/drawing"
)

// A ValueError says that a drawing holds something that no DXF file can hold:
// a number that is not finite, a negative radius, a text that is too long, a
// dimension that has no place. Nothing has been written.
type ValueError = drawing.ValueError

func formatFloat(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }
