package fastener

import (
	"fmt"
	"math"
	"strings"

	"boltplate/drawing"
	"boltplate/thread"
)

// A Fastener is one described part, or several that are drawn as one figure.
type Fastener interface {
	// Kind returns the name of the kind, such as "hex-bolt".
	Kind() string
	// Designation returns the part in the words of the trade, such as
	// "Hexagon-head bolt M20 × 90".
	Designation() string
	// Validate reports what is wrong with the description, as a *FieldError.
	Validate() error
	// Quantities returns every dimension with its rule and source, in the
	// order in which a drawing needs them. Its error is that of Validate.
	Quantities() ([]drawing.Quantity, error)
	// View returns the view from the given direction. Its dimensions are not
	// placed: drawing.Arrange does that. The error is that of Validate, or a
	// *FieldError for a direction that the kind does not have.
	View(drawing.Direction, Options) (drawing.View, error)
}

// Cautious is a fastener whose use can hurt somebody: Draw writes the cautions
// under the views.
type Cautious interface {
	// Cautions returns lines to print with every drawing and table.
	Cautions() []string
}

// A Basis says where sizes come from.
type Basis uint8

// The bases.
const (
	Proportion Basis = iota // rules in terms of the nominal diameter D
	Standard                // tables of the product standards
)

// String returns "proportion" or "standard".
func (b Basis) String() string {
	if b == Standard {
		return "standard"
	}
	return "proportion"
}

// ParseBasis returns the basis with the given name.
func ParseBasis(s string) (Basis, error) {
	switch strings.ToLower(strings.TrimSpace(s)) {
	case "proportion":
		return Proportion, nil
	case "standard":
		return Standard, nil
	}
	return 0, fmt.Errorf("%q is not a basis; the bases are proportion, standard", s)
}

// Governs says which of two sizes of a head or nut is kept where the rules for
// both cannot hold at once.
type Governs uint8

// The choices. The zero value is Corners for a hexagon by proportion, since 2D
// across corners is the width a hexagon is constructed from, and Flats
// otherwise, since standards and square heads are given by the width across
// flats: their least width across corners is a limit for inspection, and is
// listed as one. Corners is refused there.
const (
	ByBasis Governs = iota
	Corners
	Flats
)

// String returns "by basis", "corners" or "flats".
func (g Governs) String() string {
	switch g {
	case Corners:
		return "corners"
	case Flats:
		return "flats"
	}
	return "by basis"
}

// ParseGoverns returns the choice with the given name: corners or flats.
func ParseGoverns(s string) (Governs, error) {
	switch strings.ToLower(strings.TrimSpace(s)) {
	case "corners":
		return Corners, nil
	case "flats":
		return Flats, nil
	}
	return 0, fmt.Errorf("%q does not say what governs; it is corners or flats", s)
}

// Options says how a view is drawn. The zero value is the usual choice.
type Options struct {
	Style  drawing.Style
	Hidden bool // draw hidden edges
	Exact  bool // simplify nothing: see 'Simplifications' in the package documentation
	// Section shows sockets and bores in the front view in section, where
	// KindInfo.Section says that the kind has it; other kinds pass it over.
	Section bool
	// Outside keeps Draw from showing such kinds in section, as it does where no
	// hidden edges are asked for.
	Outside bool
	// Simplified leaves out what an assembly drawing does not need (ISO 6410-3):
	// chamfers of heads and nuts, run-outs and the shape of thread ends. It goes
	// before Section.
	Simplified bool
	// Break shortens the elevations of long bolts between two break lines; their
	// dimensions keep the true figures. A bolt without a long plain stretch is
	// drawn whole.
	Break bool
	// DimensionPictorial gives the isometric view its main sizes, along the axes.
	DimensionPictorial bool

	// turned rolls end views by 90 degrees, so that they stand in projection
	// beside the side elevation.
	turned bool
}

// A FieldError says which field of a description is wrong and what would be
// right. Field names are those of the schedule's columns and of the command's
// options: size, length, thread, form, neck, angle, material, taper, widths, end,
// nut, washer, grip, basis, governs, rules, views. Of the field rules the value is the
// letter whose rule makes a size that cannot be drawn.
type FieldError struct {
	Kind  string // of the fastener
	Field string
	Value string // as it was given
	Want  string // what is wrong, and what would be right
}

func (e *FieldError) Error() string {
	if e.Value == "" {
		return fmt.Sprintf("%s: %s: %s", e.Kind, e.Field, e.Want)
	}
	return fmt.Sprintf("%s: %s %s: %s", e.Kind, e.Field, e.Value, e.Want)
}

func fieldErr(kind, field string, value float64, format string, args ...any) error {
	return &FieldError{kind, field, mm(value), fmt.Sprintf(format, args...)}
}

// mm writes a length for a message.
func mm(v float64) string {
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return fmt.Sprint(v)
	}
	return drawing.FormatValue(v, false)
}

// Limits of what is drawn at all. Beyond them a number is a slip of the pen.
const (
	maxLength   = 6000.0 // mm
	maxDiameter = 300.0  // mm
)

func checkThread(kind string, t thread.Thread) error {
	if err := t.Validate(); err != nil {
		return &FieldError{kind, "size", "", err.Error()}
	}
	if t.D > maxDiameter {
		return fieldErr(kind, "size", t.D, "a thread of more than %s mm is not drawn; is the unit right?",
			mm(maxDiameter))
	}
	return nil
}

// checkLength checks a length in mm. A zero is what a field that was left out
// holds.
func checkLength(kind, field string, v float64, what string) error {
	switch {
	case v == 0:
		return &FieldError{kind, field, "", "missing; give " + what + " in mm"}
	case math.IsNaN(v) || math.IsInf(v, 0):
		return fieldErr(kind, field, v, "not a length; give %s in mm", what)
	case v < 0:
		return fieldErr(kind, field, v, "must not be negative; give %s in mm", what)
	case v > maxLength:
		return fieldErr(kind, field, v, "more than %s mm; is the unit millimetres?", mm(maxLength))
	}
	return nil
}

func checkGoverns(kind string, b Basis, g Governs, square bool) error {
	switch {
	case square && g == Corners:
		return &FieldError{kind, "governs", "corners", "a square is set out from its side; use flats"}
	case b == Standard && g == Corners:
		return &FieldError{kind, "governs", "corners",
			"standards state the width across flats; across corners they state a least size for inspection only; leave it out, or use basis proportion"}
	}
	if g > Flats {
		return &FieldError{kind, "governs", g.String(), "use corners or flats"}
	}
	return nil
}

func checkBasis(kind string, b Basis) error {
	if b > Standard {
		return &FieldError{kind, "basis", fmt.Sprint(uint8(b)), "use Proportion or Standard"}
	}
	return nil
}

// noSize is the error for a size of a standard that is not held here.
func noSize(kind, standard string, d float64, held []float64) error {
	return &FieldError{kind, "size", "M" + mm(d),
		fmt.Sprintf("not held here of %s; sizes held: M%s (or use basis proportion)", standard,
			joined(held, ", M"))}
}

func noView(kind string, dir drawing.Direction, has ...drawing.Direction) error {
	names := make([]string, len(has))
	for i, d := range has {
		names[i] = d.String()
	}
	return &FieldError{kind, "views", dir.String(), "not a view of this kind; it has " + strings.Join(names,
		", ")}
}
