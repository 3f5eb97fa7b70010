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
	Quantity  Quantity `json:"quantity,omitzero"`
	Symbol    Symbol   `json:"symbol,omitzero"`     // before the value
	Reference bool     `json:"reference,omitzero"`  // in parentheses: it follows from other dimensions (ISO 129-1)
	Number    string   `json:"number,omitzero"`     // says the value where labels are numbers, as "M20" does; "" is the value itself
	StandsFor string   `json:"stands_for,omitzero"` // letter of the quantity whose dimension makes this one unnecessary, where both could be shown
	Text      string   `json:"text,omitzero"`       // what is drawn, without Symbol; Arrange sets it from the rest

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

// local returns p in the axes of d, and world the way back.
func (d *Linear) local(p Point) Point { return Transform{Turn: -d.Turn}.Vector(p) }
func (d *Linear) world(p Point) Point { return Transform{Turn: d.Turn}.Vector(p) }

// onLine returns the point of the dimension line, in the axes of d, at along
// it.
func (d *Linear) onLine(along float64) Point {
	if d.Side.Vertical() {
		return Point{d.At, along}
	}
	return Point{along, d.At}
}

// Measured returns the two points that d measures from each other: where its
// extension lines meet its dimension line.
func (d Linear) Measured() (from, to Point) {
	f, t := d.local(d.From), d.local(d.To)
	if d.Side.Vertical() {
		return d.world(d.onLine(f.Y)), d.world(d.onLine(t.Y))
	}
	return d.world(d.onLine(f.X)), d.world(d.onLine(t.X))
}

// A Rank says how well a view suits a dimension: where several views of one
// figure could carry the same quantity, the lowest rank carries it, so that
// every size is given once.
type Rank uint8

// A Linear dimension gives the horizontal or vertical distance of two points.
// In a view that has been turned it measures along axes that are turned too.
type Linear struct {
	Label Label   `json:"label"`
	From  Point   `json:"from"` // the extension lines start here and at To
	To    Point   `json:"to"`
	Side  Side    `json:"side"`
	Turn  float64 `json:"turn,omitzero"` // of its axes about the origin, degrees; Side, At and TextAt go by them
	Rank  Rank    `json:"rank,omitzero"`

	// Where it stands; Arrange sets this.
	Placed   bool    `json:"placed,omitzero"`
	At       float64 `json:"at,omitzero"`        // of the dimension line: y for Above and Below, x for Left and Right
	TextAt   float64 `json:"text_at,omitzero"`   // of the middle of the label: x for Above and Below, y for Left and Right
	Outside  bool    `json:"outside,omitzero"`   // the arrows point inwards from outside, for want of room
	HideFrom bool    `json:"hide_from,omitzero"` // the extension line is drawn by another dimension
	HideTo   bool    `json:"hide_to,omitzero"`   // so is that at To
}

// An Aligned dimension gives the distance of two points along the line that
// joins them.
type Aligned struct {
	Label Label `json:"label"`
	From  Point `json:"from"`
	To    Point `json:"to"`
	Side  Side  `json:"side"` // Above: to the left of From-To, else to the right
	Rank  Rank  `json:"rank,omitzero"`

	// Where it stands; Arrange sets this.
	Placed  bool    `json:"placed,omitzero"`
	At      float64 `json:"at,omitzero"`      // distance of the dimension line from From-To, positive to the left
	TextAt  float64 `json:"text_at,omitzero"` // of the middle of the label, along From-To from From
	Outside bool    `json:"outside,omitzero"`
}

// A Diameter dimension gives the diameter of a circle by an arrow that touches
// it from outside and a shelf that carries the label.
type Diameter struct {
	Label  Label   `json:"label"`
	Center Point   `json:"centre"`
	Radius float64 `json:"radius"`
	Angle  float64 `json:"angle"` // where on the circle the arrow is wanted, degrees; Arrange may turn it
	// Where only an arc of the circle is drawn, its ends in degrees, so that
	// the arrow touches it; equal for a whole circle.
	Start float64 `json:"start,omitzero"`
	End   float64 `json:"end,omitzero"`
	Rank  Rank    `json:"rank,omitzero"`
	Shelf Shelf   `json:"shelf,omitzero"`
}

// A Radius dimension gives the radius of an arc by an arrow that touches it
// from outside and a shelf that carries the label.
type Radius struct {
	Label  Label   `json:"label"`
	Center Point   `json:"centre"`
	Radius float64 `json:"radius"`
	Angle  float64 `json:"angle"` // where on the arc the arrow is wanted, degrees
	// The ends of the arc in degrees, within which Arrange may turn the arrow;
	// where they are equal it stays at Angle.
	Start float64 `json:"start,omitzero"`
	End   float64 `json:"end,omitzero"`
	Rank  Rank    `json:"rank,omitzero"`
	Shelf Shelf   `json:"shelf,omitzero"`
}

// A Leader points at an edge and carries its label on a shelf.
type Leader struct {
	Label Label   `json:"label"`
	Tip   Point   `json:"tip"`
	Angle float64 `json:"angle"` // direction from Tip in which the label is wanted, degrees; Arrange may turn it
	Rank  Rank    `json:"rank,omitzero"`
	Shelf Shelf   `json:"shelf,omitzero"`
}

// A Shelf is the short horizontal line under the label of a leader, a diameter
// or a radius. Arrange sets it.
type Shelf struct {
	Placed bool  `json:"placed,omitzero"`
	Knee   Point `json:"knee"`          // where the oblique line ends and the shelf starts, a gap before the label
	Left   bool  `json:"left,omitzero"` // the shelf runs from Knee to the left
}

// An Angular dimension gives the angle from the direction Start
// counter-clockwise to the direction End (degrees) about Vertex. A leg that comes to
// the vertex from the other side ends at a radius below zero.
type Angular struct {
	Label  Label   `json:"label"`
	Vertex Point   `json:"vertex"`
	Start  float64 `json:"start"`
	End    float64 `json:"end"`
	From   float64 `json:"from"` // radius at which the leg at Start ends and its extension line starts
	To     float64 `json:"to"`   // the same of the leg at End
	Rank   Rank    `json:"rank,omitzero"`

	// Where it stands; Arrange sets this.
	Placed  bool    `json:"placed,omitzero"`
	At      float64 `json:"at,omitzero"`      // radius of the dimension arc
	TextAt  float64 `json:"text_at,omitzero"` // of the middle of the label, degrees counter-clockwise from the middle of the angle
	Outside bool    `json:"outside,omitzero"`
}
