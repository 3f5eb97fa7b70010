package drawing

import (
	"fmt"
	"strings"
)

// A ValueError says that a drawing holds something that cannot be drawn: a
// number that is not finite, a negative radius, a dimension that has no place.
// The packages dxfout, svg and pdf return it.
type ValueError struct {
	View   string // name of the view, "" for what belongs to no view
	Index  int    // of the view in Drawing.Views or of the part in Drawing.Parts, -1 for neither
	Item   int    // index of the item in its view or in Drawing.Items, -1 for what is no item
	Object string // what it is: "Arc", "Part", "Style"
	Field  string // "Radius", "Center.X", "Vertices[3].Bulge"
	Value  string // the value as text, "" where Reason says all
	Reason string // what is wrong with it
	Err    error  // the cause, where there is one, such as a *lettering.MissingError
}

// Unwrap returns the cause.
func (e *ValueError) Unwrap() error { return e.Err }

// Error returns the place, the value and what is wrong with it.
func (e *ValueError) Error() string {
	var b strings.Builder
	if e.Index >= 0 && e.Object != "Part" {
		fmt.Fprintf(&b, "view %d (%q), ", e.Index, e.View)
	}
	if e.Item >= 0 {
		fmt.Fprintf(&b, "item %d, ", e.Item)
	}
	b.WriteString(e.Object)
	if e.Object == "Part" {
		fmt.Fprintf(&b, " %d", e.Index)
	}
	if e.Field != "" {
		b.WriteString("." + e.Field)
	}
	if e.Value != "" {
		b.WriteString(" = " + e.Value)
	}
	return b.String() + ": " + e.Reason
}
