package drawing

// A Shape is one piece of geometry. The set is closed, so that an exporter is
// one type switch:
//
//	Line, Arc, Circle, Ellipse, Conic, Polyline    curves
//	Text                                           a line of text
//	Hatch                                          a hatched or filled area
//	Cover                                          an area that hides what is behind it
//	Linear, Aligned, Diameter, Radius, Angular, Leader    dimensions
//
// Shapes are plain values. Coordinates and radii are millimetres of the part;
// heights of text, spacing of hatch lines and all sizes of dimensions are
// millimetres on paper, which do not change with the scale of a view. Angles
// are degrees, counter-clockwise.
type Shape interface{ isShape() }

// A Line is a straight line between two points.
type Line struct {
	From Point `json:"from"`
	To   Point `json:"to"`
}

// An Arc is a part of a circle, drawn counter-clockwise from the angle Start
// to the angle End (degrees).
type Arc struct {
	Center Point   `json:"centre"`
	Radius float64 `json:"radius"`
	Start  float64 `json:"start"`
	End    float64 `json:"end"`
}

// A Circle is a whole circle.
type Circle struct {
	Center Point   `json:"centre"`
	Radius float64 `json:"radius"`
}

// An Ellipse is a whole ellipse or, where End differs from Start, the part of
// it from the parameter Start counter-clockwise to the parameter End
// (degrees: the point is Center + Major cos t + Minor sin t, where Minor is
// Major turned by +90 degrees and multiplied by Ratio).
type Ellipse struct {
	Center Point   `json:"centre"`
	Major  Point   `json:"major"` // half the major axis, from the centre
	Ratio  float64 `json:"ratio"` // minor to major axis, above 0 and at most 1
	Start  float64 `json:"start,omitzero"`
	End    float64 `json:"end,omitzero"`
}

// A Conic is a part of a conic section as a rational quadratic curve:
//
//	((1-t)^2 From + 2 t (1-t) Weight Control + t^2 To) / ((1-t)^2 + 2 t (1-t) Weight + t^2)
//
// A Weight above 1 makes a hyperbola, 1 a parabola, below 1 an ellipse. The
// true edge of a chamfered hexagon is a Conic.
type Conic struct {
	From    Point   `json:"from"`
	Control Point   `json:"control"`
	To      Point   `json:"to"`
	Weight  float64 `json:"weight"`
}

// A Vertex is a corner of a Polyline. Bulge bends the segment that starts
// here: it is the tangent of a quarter of the angle that the segment turns
// through, positive counter-clockwise; 0 is straight, 1 a half circle.
type Vertex struct {
	Point
	Bulge float64
}

// A Polyline is a chain of straight and circular segments.
type Polyline struct {
	Vertices []Vertex `json:"vertices"`
	Closed   bool     `json:"closed,omitzero"`
}

// Align says which point of a text stands at its position.
type Align uint8

// The horizontal alignments of a text.
const (
	AlignLeft Align = iota
	AlignCentre
	AlignRight
)

// A Text is one line of text. At is on the base line, at the left, in the
// middle or at the right as Align says, or with Hang at the top of the capitals.
type Text struct {
	At     Point   `json:"at"`
	Height float64 `json:"height,omitzero"` // of a capital letter, mm on paper; 0 means the style's
	Angle  float64 `json:"angle,omitzero"`  // of the base line, degrees
	Slant  float64 `json:"slant,omitzero"`  // by which the letters lean towards the end of the line, degrees: -60 to 60
	Align  Align   `json:"align,omitzero"`
	Hang   bool    `json:"hang,omitzero"` // the text hangs below At
	Value  string  `json:"value"`
}

// A Hatch is an area filled with parallel lines, or solidly. Each loop is
// closed; a point is inside if it is inside an odd number of loops.
type Hatch struct {
	Loops   [][]Vertex `json:"loops"`
	Angle   float64    `json:"angle,omitzero"`   // of the lines, degrees
	Spacing float64    `json:"spacing,omitzero"` // between the lines, mm on paper
	Solid   bool       `json:"solid,omitzero"`
}

// A Cover is an area in which nothing is seen of what was drawn before it: of
// the items before it in its view, and of the views before that. Each loop is
// closed and covers by itself. Its role has no meaning.
type Cover struct {
	Loops [][]Vertex `json:"loops"`
}

func (Line) isShape()     {}
func (Arc) isShape()      {}
func (Circle) isShape()   {}
func (Ellipse) isShape()  {}
func (Conic) isShape()    {}
func (Polyline) isShape() {}
func (Text) isShape()     {}
func (Hatch) isShape()    {}
func (Cover) isShape()    {}

func (Linear) isShape()   {}
func (Aligned) isShape()  {}
func (Diameter) isShape() {}
func (Radius) isShape()   {}
func (Angular) isShape()  {}
func (Leader) isShape()   {}

// A Role says what a shape is for. Exporters turn it into a layer, a line
// type and a line width; nothing else in a drawing knows about those.
type Role uint8

// The roles, with the line of ISO 128-2 that draws them.
const (
	RoleOutline      Role = iota // 01.2 visible edges, thread crests, limit of the usable thread
	RoleThin                     // 01.1 thread roots, run-out, flat-face diagonals
	RoleHidden                   // 02.1 hidden edges and hidden threads
	RoleCentre                   // 04.1 axes and centre lines
	RoleCutting                  // 04.2 cutting planes
	RoleAdjacent                 // 05.1 neighbouring parts
	RoleHatching                 // 01.1 sections
	RoleDimension                // 01.1 dimension, extension and leader lines, and their text
	RoleText                     // notes and titles
	RoleFrame                    // 01.2 frame and title block
	RoleFinding                  // 01.1 what is marked as wrong in a drawing, in red
	RoleConstruction             // 01.1 what a drawing is set out by: centres, radii, projection lines
	RoleCount                    // how many roles there are; not a role
)

// Extra reports whether a drawing need not have the role: files have the layer
// of findings and that of construction lines only where there are any.
func (r Role) Extra() bool { return r == RoleFinding || r == RoleConstruction }

// Wide reports whether the role is drawn with the wide line of the line group.
func (r Role) Wide() bool { return r == RoleOutline || r == RoleCutting || r == RoleFrame }

// An Item is a shape with its role.
type Item struct {
	Role  Role
	Shape Shape
}
