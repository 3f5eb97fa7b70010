package sheet

import (
	"fmt"
	"math"
	"strings"

	"boltplate/drawing"
)

// A Size is one of the sheets of the main series (ISO 5457, ISO 216).
type Size uint8

// The sizes. The zero value is A3.
const (
	A3 Size = iota
	A4
	A2
	A1
	A0
	sizeCount
)

// Sizes returns the sizes from the smallest to the largest.
func Sizes() []Size { return []Size{A4, A3, A2, A1, A0} }

// String returns the designation of the size, such as "A3".
func (s Size) String() string {
	switch s {
	case A0:
		return "A0"
	case A1:
		return "A1"
	case A2:
		return "A2"
	case A3:
		return "A3"
	case A4:
		return "A4"
	}
	return "unknown size"
}

// ParseSize returns the size with the given designation, A4 to A0. The error
// lists them.
func ParseSize(s string) (Size, error) {
	for _, size := range Sizes() {
		if strings.EqualFold(strings.TrimSpace(s), size.String()) {
			return size, nil
		}
	}
	return 0, fmt.Errorf("%q is no size of sheet; use A4, A3, A2, A1 or A0", s)
}

// sides returns the short and the long side of the trimmed sheet, mm.
func (s Size) sides() (short, long float64) {
	switch s {
	case A0:
		return 841, 1189
	case A1:
		return 594, 841
	case A2:
		return 420, 594
	case A4:
		return 210, 297
	}
	return 297, 420
}

// An Orientation says which side of a sheet is level.
type Orientation uint8

// The orientations. The usual one is upright for A4 and landscape for the
// others (ISO 5457).
const (
	Usual Orientation = iota
	Landscape
	Portrait
)

// String returns "usual", "landscape" or "portrait".
func (o Orientation) String() string {
	switch o {
	case Landscape:
		return "landscape"
	case Portrait:
		return "portrait"
	}
	return "usual"
}

// ParseOrientation returns the orientation with the given name: landscape or
// portrait.
func ParseOrientation(s string) (Orientation, error) {
	switch strings.ToLower(strings.TrimSpace(s)) {
	case "landscape":
		return Landscape, nil
	case "portrait":
		return Portrait, nil
	}
	return 0, fmt.Errorf("%q is no orientation; use landscape or portrait", s)
}

// A Format is a size of sheet and how it lies.
type Format struct {
	Size        Size
	Orientation Orientation
}

// String returns the format in words, such as "A3" or "A3 portrait".
func (f Format) String() string {
	if f.Orientation == Usual || f.upright() == (f.Size == A4) {
		return f.Size.String()
	}
	return f.Size.String() + " " + f.Orientation.String()
}

func (f Format) upright() bool {
	return f.Orientation == Portrait || f.Orientation == Usual && f.Size == A4
}

// Trimmed returns the trimmed sheet, its lower left corner at the origin, mm.
func (f Format) Trimmed() drawing.Rect {
	short, long := f.Size.sides()
	if f.upright() {
		return drawing.Rect{Max: drawing.Pt(short, long)}
	}
	return drawing.Rect{Max: drawing.Pt(long, short)}
}

// The borders of a sheet (ISO 5457), mm.
const (
	filingMargin = 20.0
	margin       = 10.0
)

// Space returns the drawing space, which the frame surrounds: the trimmed sheet
// without 20 mm on the left, for filing, and 10 mm on the other sides
// (ISO 5457), mm.
func (f Format) Space() drawing.Rect {
	t := f.Trimmed()
	return drawing.Rect{
		Min: drawing.Pt(filingMargin, margin),
		Max: drawing.Pt(t.Max.X-margin, t.Max.Y-margin),
	}
}

// Style returns the style of the sheet without its labels: line group 0.5 with
// text of 3.5 mm up to A2, line group 0.7 with text of 5 mm above (ISO 128-2,
// ISO 3098: the groups that are recommended for these sheets).
func (f Format) Style() drawing.Style {
	if f.Size == A1 || f.Size == A0 {
		return drawing.Style{Scale: 1, Group: 0.7, TextHeight: 5}
	}
	return drawing.Style{Scale: 1, Group: 0.5, TextHeight: 3.5}
}

// fields returns how many fields of the grid a side has: an even number of
// about 50 mm each, those at the corners taking what is left (ISO 5457).
func fields(side float64) int { return 2 * int(math.Round(side/100)) }
