package drawing

import "slices"

// A Drawing is what an exporter writes: placed views, loose items, and the
// descriptions of the parts that are drawn.
type Drawing struct {
	// Style.Scale is the scale at which the drawing will be plotted: paper
	// millimetres for a drawing unit.
	Style Style    `json:"style,omitzero"`
	Views []Placed `json:"views,omitempty"`
	Items []Item   `json:"items,omitempty"` // captions, frames: what belongs to no view
	Parts []Part   `json:"parts,omitempty"`
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

// A Placed view stands in a drawing with its origin at At: mirrored, then
// scaled, then turned about it.
type Placed struct {
	View   View    `json:"view"`
	At     Point   `json:"at,omitzero"`
	Mirror bool    `json:"mirror,omitzero"` // in the x axis of the view
	Scale  float64 `json:"scale,omitzero"`  // drawing units for a millimetre of the view; 0 means 1
	Turn   float64 `json:"turn,omitzero"`   // degrees counter-clockwise
	// Block, where it is not empty, names a block that holds the view once,
	// however often and in whatever position the same view is placed under that
	// name.
	Block string `json:"block,omitzero"`
	// Attributes and Properties describe what the view shows; they travel with
	// the insert of the block, and files without blocks leave them out. Texts of
	// attributes stand in the coordinates of the view.
	Attributes []Attribute `json:"attributes,omitempty"`
	Properties []Property  `json:"properties,omitempty"`
}

// Transform returns how a point of the view becomes a point of the drawing.
func (p Placed) Transform() Transform {
	return Transform{Mirror: p.Mirror, Scale: p.Scale, Turn: p.Turn, Move: p.At}
}

// Bounds returns the extent of the view in the drawing, with its dimensions, in
// a drawing of the given style.
func (p Placed) Bounds(st Style) Rect {
	if p.Mirror || p.Turn != 0 {
		return p.View.Apply(p.Transform()).Bounds(st)
	}
	// Paper sizes in the view are in drawing units divided by its scale.
	st.Scale = st.PaperScale() * orDefault(p.Scale, 1)
	b := p.View.Bounds(st)
	if b.Empty() {
		return b
	}
	t := p.Transform()
	return EmptyRect().Including(t.Point(b.Min)).Including(t.Point(b.Max))
}

// A Part is the description of a fastener that travels with its drawing, so
// that a later program can tell what it looks at.
type Part struct {
	Name       string      `json:"name"` // of the block that carries the description
	At         Point       `json:"at"`
	Attributes []Attribute `json:"attributes,omitempty"`
	Properties []Property  `json:"properties,omitempty"`
}

// An Attribute is a named value of a part. Where its text has a value position
// (Hidden is false) it is also a visible line of text.
type Attribute struct {
	Tag    string `json:"tag"`             // upper case, no blanks, such as "MARK"
	Prompt string `json:"prompt,omitzero"` // the tag in words
	Text   Text   `json:"text"`            // the value and where it stands
	Hidden bool   `json:"hidden,omitzero"`
}

// A Property is a named fact about a part.
type Property struct {
	Key   string `json:"key"`
	Value string `json:"value"`
}

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

// A View is one view of a part: a name, the direction it is taken from and its
// items. It is a value: the functions that move or arrange it return another.
type View struct {
	Name      string    `json:"name,omitzero"`
	Direction Direction `json:"direction"`
	Items     []Item    `json:"items"`
}
