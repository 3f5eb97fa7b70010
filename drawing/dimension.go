package drawing

// A Dimension is a shape that says a size: Linear, Aligned, Diameter, Radius,
// Angular and Leader. The set is closed. What is placed has been through
// Arrange, or its maker has said where it stands.
type Dimension interface {
	Shape
	// Describe returns what the dimension says, how well its view suits it, and
	// whether it has its place.
	Describe() (l Label, rank Rank, placed bool)
	// WithLabel returns the dimension with another label, where it stands.
	WithLabel(Label) Dimension
}

// Describe returns the label, the rank and whether d is placed.
func (d Linear) Describe() (Label, Rank, bool) { return d.Label, d.Rank, d.Placed }

// WithLabel returns d with another label.
func (d Linear) WithLabel(l Label) Dimension { d.Label = l; return d }

// Describe returns the label, the rank and whether d is placed.
func (d Aligned) Describe() (Label, Rank, bool) { return d.Label, d.Rank, d.Placed }

// WithLabel returns d with another label.
func (d Aligned) WithLabel(l Label) Dimension { d.Label = l; return d }

// Describe returns the label, the rank and whether d is placed.
func (d Diameter) Describe() (Label, Rank, bool) { return d.Label, d.Rank, d.Shelf.Placed }

// WithLabel returns d with another label.
func (d Diameter) WithLabel(l Label) Dimension { d.Label = l; return d }

// Describe returns the label, the rank and whether d is placed.
func (d Radius) Describe() (Label, Rank, bool) { return d.Label, d.Rank, d.Shelf.Placed }

// WithLabel returns d with another label.
func (d Radius) WithLabel(l Label) Dimension { d.Label = l; return d }

// Describe returns the label, the rank and whether d is placed.
func (d Angular) Describe() (Label, Rank, bool) { return d.Label, d.Rank, d.Placed }

// WithLabel returns d with another label.
func (d Angular) WithLabel(l Label) Dimension { d.Label = l; return d }

// Describe returns the label, the rank and whether d is placed.
func (d Leader) Describe() (Label, Rank, bool) { return d.Label, d.Rank, d.Shelf.Placed }

// WithLabel returns d with another label.
func (d Leader) WithLabel(l Label) Dimension { d.Label = l; return d }

// A Label is what a dimension says. It holds the quantity, so that the same
// view can be labelled with numbers, with rules or with letters.
type Label struct {
	Quantity  Quantity
	Symbol    Symbol // before the value
	Reference bool   // in parentheses: it follows from other dimensions (ISO 129-1)
	Number    string // says the value where labels are numbers, as "M20" does; "" is the value itself
	StandsFor string // letter of the quantity whose dimension makes this one unnecessary, where both could be shown
	Text      string // what is drawn, without Symbol; Arrange sets it from the rest

	line string // Text with symbol and parentheses, so that drawing it again allocates nothing
}

// A Symbol stands before the value of a dimension (ISO 129-1; tapers: ISO
// 3040).
type Symbol uint8

// The symbols. Those that few fonts have are drawn as polylines.
const (
	NoSymbol        Symbol = iota
	DiameterSymbol         // a crossed circle
	RadiusSymbol           // R
	SquareSymbol           // a square
	TaperSymbol            // a triangle that narrows to the right, as the part does
	TaperLeftSymbol        // the same to the left
)

// turned returns the symbol for the image of the part.
func (s Symbol) turned(t Transform) Symbol {
	if t.Vector(Point{1, 0}).X < -1e-9 {
		switch s {
		case TaperSymbol:
			return TaperLeftSymbol
		case TaperLeftSymbol:
			return TaperSymbol
		}
	}
	return s
}

// A Side is where, seen from the outline, a linear dimension belongs.
type Side uint8

// The sides. Above and Below measure horizontally, Left and Right vertically.
const (
	Below Side = iota
	Above
	Left
	Right
)

// Vertical reports whether dimensions on this side measure vertically.
func (s Side) Vertical() bool { return s == Left || s == Right }

// A Rank says how well a view suits a dimension: where several views of one
// figure could carry the same quantity, the lowest rank carries it, so that
// every size is given once.
type Rank uint8

// A Linear dimension gives the horizontal or vertical distance of two points.
type Linear struct {
	Label    Label
	From, To Point // the extension lines start here
	Side     Side
	Rank     Rank

	// Where it stands; Arrange sets this.
	Placed           bool
	At               float64 // of the dimension line: y for Above and Below, x for Left and Right
	TextAt           float64 // of the middle of the label: x for Above and Below, y for Left and Right
	Outside          bool    // the arrows point inwards from outside, for want of room
	HideFrom, HideTo bool    // the extension line is drawn by another dimension
}

// An Aligned dimension gives the distance of two points along the line that
// joins them.
type Aligned struct {
	Label    Label
	From, To Point
	Side     Side // Above: to the left of From-To, else to the right
	Rank     Rank

	// Where it stands; Arrange sets this.
	Placed  bool
	At      float64 // distance of the dimension line from From-To, positive to the left
	TextAt  float64 // of the middle of the label, along From-To from From
	Outside bool
}

// A Diameter dimension gives the diameter of a circle by an arrow that touches
// it from outside and a shelf that carries the label.
type Diameter struct {
	Label  Label
	Center Point
	Radius float64
	Angle  float64 // where on the circle the arrow is wanted, degrees; Arrange may turn it
	// Where only an arc of the circle is drawn, its ends in degrees, so that
	// the arrow touches it; equal for a whole circle.
	Start, End float64
	Rank       Rank
	Shelf      Shelf
}

// A Radius dimension gives the radius of an arc by an arrow that touches it
// from outside and a shelf that carries the label.
type Radius struct {
	Label  Label
	Center Point
	Radius float64
	Angle  float64 // where on the arc the arrow is wanted, degrees
	// The ends of the arc in degrees, within which Arrange may turn the arrow;
	// where they are equal it stays at Angle.
	Start, End float64
	Rank       Rank
	Shelf      Shelf
}

// A Leader points at an edge and carries its label on a shelf.
type Leader struct {
	Label Label
	Tip   Point
	Angle float64 // direction from Tip in which the label is wanted, degrees; Arrange may turn it
	Rank  Rank
	Shelf Shelf
}

// A Shelf is the short horizontal line under the label of a leader, a diameter
// or a radius. Arrange sets it.
type Shelf struct {
	Placed bool
	Knee   Point // where the oblique line ends and the shelf starts, a gap before the label
	Left   bool  // the shelf runs from Knee to the left
}

// An Angular dimension gives the angle from the direction Start
// counter-clockwise to the direction End (degrees) about Vertex.
type Angular struct {
	Label      Label
	Vertex     Point
	Start, End float64
	From, To   float64 // radii at which the two legs end and the extension lines start
	Rank       Rank

	// Where it stands; Arrange sets this.
	Placed  bool
	At      float64 // radius of the dimension arc
	TextAt  float64 // of the middle of the label, degrees counter-clockwise from the middle of the angle
	Outside bool
}
