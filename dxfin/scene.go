package dxfin

import "boltplate/drawing"

// A Scene is model space as it shows in the drawing plane.
type Scene struct {
	Curves     []Curve
	Texts      []PlaneText
	Dimensions []PlaneDimension
	Leaders    []PlaneLeader
	Hatches    []PlaneHatch
	Solids     []PlaneSolid
	Points     int // POINT entities, which nobody draws with

	// Notes say what could not be shown, such as a block that is not defined.
	Notes []Note
}

// An Origin says where a piece of a scene comes from.
type Origin struct {
	Entity *Entity
	Blocks []string // names of the blocks that it is in, outermost first
}

// A Look is how a piece is drawn, with "by layer" and "by block" settled.
type Look struct {
	Layer    string
	LineType LineType
	Scale    float64 // of the pattern: that of the file and that of the entity
	Colour   Colour
	Weight   Weight // hundredths of a millimetre, or WeightDefault
	// Shown is false where the layer is off or frozen or the entity invisible;
	// Plotted is false where the layer is not printed.
	Shown, Plotted bool
}

// A Curve is a line of a scene. Shape is a drawing.Line, Arc, Circle or
// Ellipse, or nil where the curve is a Spline.
type Curve struct {
	Origin
	Look
	Shape  drawing.Shape
	Spline *PlaneSpline
	Width  float64 // of a polyline that has one, drawing units
	Piece  int     // of a polyline, from 0
}

// A PlaneText is one or more lines of text.
type PlaneText struct {
	Origin
	Look
	Value  string // lines end with \n
	At     drawing.Point
	Height float64
	Angle  float64 // degrees
	Width  float64 // of characters, 1 is that of the font
	Align  HAlign  // Left, Center or Right
	VAlign VAlign
	Length float64 // of the line, where it is stretched between two points; else 0
	Tag    string  // of an attribute
	Mirror bool    // it is drawn as in a mirror
}

// A PlaneDimension is a dimension, with the picture of its block apart.
type PlaneDimension struct {
	Origin
	Look
	Kind DimensionKind
	// The points of Dimension.
	At, Middle, First, Second, Center, Arc drawing.Point
	Direction                              float64 // along which a linear dimension measures, degrees
	Value                                  float64 // measured, with the factor of the style; degrees of an angle
	Override                               string  // text that is put in place of the value, "" where there is none
	// Text is what it says: that of its picture, or where it has none what a
	// program would write.
	Text    string
	Drawn   bool // Text comes from the picture
	Picture Scene
}

// A PlaneLeader is a leader: its arrow is at the first point.
type PlaneLeader struct {
	Origin
	Look
	Points []drawing.Point
	Arrow  bool
	Text   string // of a MULTILEADER
	TextAt drawing.Point
}

// A PlaneHatch is a hatched or filled area. A point is inside if it is inside
// an odd number of its loops.
type PlaneHatch struct {
	Origin
	Look
	Solid   bool
	Pattern string
	// Angle and Spacing are those of its first family of lines, degrees and
	// drawing units; Families is how many it has.
	Angle, Spacing float64
	Families       int
	Loops          [][]Curve // each a closed chain
}

// A PlaneSolid is a filled triangle or quadrangle.
type PlaneSolid struct {
	Origin
	Look
	Corners [4]drawing.Point // in turn; of a triangle the last two are the same
}
