package sheet

import (
	"fmt"
	"strings"
)

// A FitError says which figures have no room, and where they would.
type FitError struct {
	Format  Format
	Scale   float64
	Auto    bool     // Scale is the smallest that was tried
	Pages   int      // that were allowed
	Figures []string // what has no room, as Figure.Name or "Fig. 3"
	Alone   bool     // the first of them would not even fit on a page by itself
	Advice  []string // what would do, each a change by itself, such as "scale 1:2"
}

// Error returns which figures do not fit, and what would do.
func (e *FitError) Error() string {
	var b strings.Builder
	const most = 5
	names := e.Figures
	if len(names) > most {
		names = names[:most]
	}
	b.WriteString(strings.Join(names, ", "))
	if more := len(e.Figures) - len(names); more > 0 {
		fmt.Fprintf(&b, " and %d more", more)
	}
	scale := ScaleName(e.Scale)
	if e.Auto {
		scale = "any scale down to " + scale
	}
	verb := "do"
	if len(e.Figures) == 1 {
		verb = "does"
	}
	switch {
	case e.Alone:
		fmt.Fprintf(&b, " %s not fit on %s at %s", verb, e.Format, scale)
	case e.Pages == 1:
		fmt.Fprintf(&b, " %s not fit on one page %s at %s", verb, e.Format, scale)
	default:
		fmt.Fprintf(&b, " %s not fit on %d pages %s at %s", verb, e.Pages, e.Format, scale)
	}
	if len(e.Advice) > 0 {
		b.WriteString("; use " + strings.Join(e.Advice, ", or "))
	} else {
		b.WriteString("; use a larger sheet, a smaller scale or fewer figures")
	}
	return b.String()
}

// A FigureError says which figure could not be drawn, or cannot stand where it
// asks to. Err is that of its Source, or says what is wrong with it.
type FigureError struct {
	Index int // of the figure in Plate.Figures
	Name  string
	Err   error
}

// Error returns the figure and what is wrong with it.
func (e *FigureError) Error() string { return e.Name + ": " + e.Err.Error() }

// Unwrap returns e.Err.
func (e *FigureError) Unwrap() error { return e.Err }

// A PlateError says which value of a plate is wrong.
type PlateError struct {
	Field  string // such as "Scale", "Style.TextHeight"
	Value  string
	Reason string // what is wrong, and what would be right
}

// Error returns the field, its value and what would be right.
func (e *PlateError) Error() string { return e.Field + " = " + e.Value + ": " + e.Reason }
