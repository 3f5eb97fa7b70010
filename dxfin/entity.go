package dxfin

// A Vec3 is a point of space or a vector.
type Vec3 struct{ X, Y, Z float64 }

// An Entity is one entity of a file.
type Entity struct {
	Kind   string // "LINE", "LWPOLYLINE" and so on, in capitals
	Handle string // "" where there is none
	Line   int    // of the file, where it begins; in a binary file the byte offset

	Layer         string
	LineType      string  // "BYLAYER", "BYBLOCK" or a name
	LineTypeScale float64 // of this entity, beside $LTSCALE
	Colour        Colour
	Weight        Weight
	Invisible     bool
	// Normal is the extrusion direction. Coordinates of circles, arcs,
	// polylines, texts, solids, hatches and insertions are in the system that
	// it defines; lines, ellipses, splines and the points that a dimension
	// measures are in space.
	Normal Vec3

	Data  Data
	XData []XData
}

// Data is what an entity is; the set is closed.
type Data interface{ isData() }

// XData is the extended data of one application.
type XData struct {
	App    string
	Values []XValue
}

// An XValue is one group of extended data. Numbers are text as they stand in
// the file; of a point, each coordinate is a value of its own.
type XValue struct {
	Code  int // 1000 and up
	Value string
}

// A Line is a straight line between two points.
type Line struct{ From, To Vec3 }

// A Point is a single point.
type Point struct{ At Vec3 }

// A Circle is a whole circle.
type Circle struct {
	Center Vec3
	Radius float64
}

// An Arc runs counter-clockwise about Normal from Start to End, degrees.
type Arc struct {
	Center     Vec3
	Radius     float64
	Start, End float64
}

// An Ellipse is the curve Center + Major cos t + Minor sin t, where Minor is
// Ratio times Major turned by 90 degrees about Normal, for t from Start to End
// in radians.
type Ellipse struct {
	Center, Major Vec3
	Ratio         float64
	Start, End    float64
}

// A Vertex is a corner of a Polyline. Bulge is the tangent of a quarter of the
// angle that the segment from here turns through.
type Vertex struct {
	At    Vec3
	Bulge float64
}

// A Polyline is an LWPOLYLINE, or a POLYLINE without the vertices that only
// guide a curve.
type Polyline struct {
	Vertices []Vertex
	Closed   bool
	Width    float64 // of its first segment, drawing units; 0 is a line
	Space    bool    // the vertices are points of space
}

// A Spline is a B-spline, rational where it has weights.
type Spline struct {
	Degree  int
	Closed  bool
	Knots   []float64
	Weights []float64 // nil: all are 1
	Control []Vec3
	Fit     []Vec3 // points that it goes through; nil where there are none
}

// A Text is a TEXT, an ATTRIB or an ATTDEF.
type Text struct {
	Value    string // what it says: %%c and the like are characters
	At, End  Vec3   // first and second alignment point
	HasEnd   bool
	Height   float64
	Rotation float64
	Width    float64 // of characters, 1 is that of the font
	Style    string
	Align    HAlign
	VAlign   VAlign
	Tag      string // of an ATTRIB or ATTDEF
	Hidden   bool   // an attribute that is not shown
}

// HAlign is the horizontal alignment of a TEXT.
type HAlign uint8

// The horizontal alignments, with the numbers of the format.
const (
	Left HAlign = iota
	Center
	Right
	Aligned // stretched from At to End
	Middle  // At is the middle of the text in both directions
	Fit     // between At and End
)

// VAlign is the vertical alignment of a TEXT.
type VAlign uint8

// The vertical alignments, with the numbers of the format.
const (
	Baseline VAlign = iota
	Bottom
	MiddleHeight
	Top
)

// An MText is a paragraph.
type MText struct {
	Value      string // what it says, without codes for looks; \n ends a line
	Raw        string // with them
	At         Vec3
	Height     float64
	Rotation   float64 // degrees
	Direction  Vec3    // of the lines in space, where HasDir; it goes before Rotation
	HasDir     bool
	Attachment int     // 1 to 9: which point stands at At, row by row from the upper left
	Width      float64 // of the box; 0 does not wrap
}

// A Solid is a filled triangle or quadrangle, its corners in turn.
type Solid struct{ Corners [4]Vec3 }

// An Insert is a block reference: Columns times Rows copies of the block.
type Insert struct {
	Block         string
	At            Vec3
	Scale         Vec3
	Rotation      float64
	Columns, Rows int
	ColumnSpacing float64
	RowSpacing    float64
	Attributes    []Entity // ATTRIB
}

// A DimensionKind says what a dimension measures; the values are those of the
// format.
type DimensionKind uint8

// The kinds of dimensions.
const (
	DimLinear DimensionKind = iota // along Rotation
	DimAligned
	DimAngular // between two lines
	DimDiameter
	DimRadius
	DimAngular3 // about a vertex
	DimOrdinate
)

// A Dimension is a DIMENSION. Which points it has depends on its kind:
//
//	linear, aligned   First and Second are where the extension lines start, At is on the dimension line
//	diameter          Center and At are opposite points of the circle
//	radius            At is the centre, Center a point of the arc
//	angular           lines First-Second and Center-At, Arc is on the dimension arc
//	angular3          First and Second on the legs, Center the vertex, At on the dimension arc
//	ordinate          First is the point, Second the end of the leader
type Dimension struct {
	Kind     DimensionKind
	Block    string // with its picture; "" where there is none
	Style    string
	Text     string // as in the file: "" or "<>" is the measured value
	Measured float64
	HasValue bool // Measured stands in the file
	Rotation float64

	At, Middle, First, Second, Center, Arc Vec3
	overrides                              []override
}

// An override is a variable of the dimension style that a dimension has of its
// own.
type override struct {
	code  int
	value float64
	text  string
}

// A Leader is a LEADER or one of the leaders of a MULTILEADER: an arrow, where
// it has one, at the first point.
type Leader struct {
	Points [][]Vec3 // a chain of points for each
	Arrow  bool
	Text   string // of a MULTILEADER, without codes for looks
	TextAt Vec3
	Height float64
}

// A Hatch is a filled or a hatched area.
type Hatch struct {
	Pattern   string
	Solid     bool
	Angle     float64
	Scale     float64
	Elevation float64
	Lines     []PatternLine
	Loops     []Loop
}

// A PatternLine is one family of lines of a hatch, as it is drawn.
type PatternLine struct {
	Angle        float64
	Base, Offset Vec3
	Dashes       []float64
}

// A Loop is a closed boundary of a hatch: a polyline, or edges, in the
// system of its hatch.
type Loop struct {
	Vertices []Vertex // where not empty
	Edges    []Data   // Line, Arc, Ellipse or Spline
}

func (*Line) isData()      {}
func (*Point) isData()     {}
func (*Circle) isData()    {}
func (*Arc) isData()       {}
func (*Ellipse) isData()   {}
func (*Polyline) isData()  {}
func (*Spline) isData()    {}
func (*Text) isData()      {}
func (*MText) isData()     {}
func (*Solid) isData()     {}
func (*Insert) isData()    {}
func (*Dimension) isData() {}
func (*Leader) isData()    {}
func (*Hatch) isData()     {}
