package drawing

import (
	"fmt"
	"slices"
	"strings"
)

// A Drawing is what an exporter writes: placed views, loose items, and the
// descriptions of the parts that are drawn.
type Drawing struct {
	// Style.Scale is the scale at which the drawing will be plotted: paper
	// millimetres for a drawing unit.
	Style Style
	Views []Placed
	Items []Item // captions, frames: what belongs to no view
	Parts []Part
}

// Uses reports whether an item of the drawing has the role.
func (d *Drawing) Uses(r Role) bool {
	has := func(it Item) bool { return it.Role == r }
	for i := range d.Views {
		if slices.ContainsFunc(d.Views[i].View.Items, has) {
			return true
		}
	}
	return slices.ContainsFunc(d.Items, has)
}

// A Placed view stands in a drawing with its origin at At.
type Placed struct {
	View  View
	At    Point
	Scale float64 // drawing units for a millimetre of the view; 0 means 1
	// Block, where it is not empty, names a block that holds the view once,
	// however often the same view is placed under that name.
	Block string
}

// Transform returns how a point of the view becomes a point of the drawing.
func (p Placed) Transform() Transform { return Transform{Scale: p.Scale, Move: p.At} }

// A Part is the description of a fastener that travels with its drawing, so
// that a later program can tell what it looks at.
type Part struct {
	Name       string // of the block that carries the description
	At         Point
	Attributes []Attribute
	Properties []Property
}

// An Attribute is a named value of a part. Where its text has a value position
// (Hidden is false) it is also a visible line of text.
type Attribute struct {
	Tag    string // upper case, no blanks, such as "MARK"
	Prompt string // the tag in words
	Text   Text   // the value and where it stands
	Hidden bool
}

// A Property is a named fact about a part.
type Property struct{ Key, Value string }

// A Direction says from where a view is taken.
type Direction uint8

// The directions. Front and Side are elevations with the axis of the fastener
// horizontal and the head to the left.
const (
	Front     Direction = iota // the elevation that shows the head across corners
	SideView                   // turned by 90 degrees about the axis: across flats
	HeadEnd                    // along the axis, looking at the head
	PointEnd                   // along the axis, looking at the point
	Isometric                  // ISO 5456-3
	directionCount
)

var directionNames = [directionCount]string{"front", "side", "head", "point", "isometric"}

// String returns the short name of the direction: front, side, head, point or
// isometric.
func (d Direction) String() string {
	if d < directionCount {
		return directionNames[d]
	}
	return "unknown direction"
}

// ParseDirection returns the direction with the given short name. The error
// lists the names.
func ParseDirection(s string) (Direction, error) {
	for d, name := range directionNames {
		if strings.EqualFold(strings.TrimSpace(s), name) {
			return Direction(d), nil
		}
	}
	return 0, fmt.Errorf("%q is not a view; the views are %s", s, strings.Join(directionNames[:], ", "))
}

// A View is one view of a part: a name, the direction it is taken from and its
// items. It is a value: the functions that move or arrange it return another.
type View struct {
	Name      string
	Direction Direction
	Items     []Item
}
