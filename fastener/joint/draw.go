package joint

import (
	"errors"
	"math"
	"strconv"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/internal/lines"
)

// board sets out the section of a joint.
func (m *model) board(st drawing.Style) (*board, error) {
	b := &board{st: st, model: m}
	err := m.scene().draw(b)
	if n := m.severalNote(); n != "" {
		b.notes = append(b.notes, n)
	}
	var field *FieldError
	if err != nil && !errors.As(err, &field) {
		err = wrapped("bolt", err)
	}
	return b, err
}

// A board collects the section of a joint. Coordinates are those of the bolt:
// x along the axis from its head, y across it; compose turns them so that the
// axis is upright and the head on top.
type board struct {
	*model
	st    drawing.Style
	items []drawing.Item
	dims  []drawing.Item // dimensions, in the coordinates of the picture
	// fitted are the fasteners that the section shows, for the description that
	// travels with the drawing.
	fitted []fastener.Fastener
	// fast is what of items belongs to fasteners.
	fast []drawing.Shape
	list []listed
	hand float64 // of the next hatching: 45 or 135 degrees
	// upward turns the picture so that x points up: for a stud, whose metal
	// end is at the bottom.
	upward bool
	// beside are further views, left of the section and in projection with it,
	// with a caption each.
	beside  []*board
	caption string
	// under is a further view below the section and in projection with it: what
	// is seen along the axis. It may be nil.
	under *board
	// even says that the section is the same on both sides of the axis, so that
	// item references may point at the nearer one.
	even bool
	// fenced keeps the labels of leaders on the left of the axis, so that the
	// right stays free for item references.
	fenced bool
	// notes are cautions and remarks, written under the findings.
	notes []string
}

// A listed item is a line of the parts list, with the place that its number
// points at.
type listed struct {
	name, material string
	tip            drawing.Point
	count          int
}

func (b *board) add(r drawing.Role, s drawing.Shape) {
	b.items = append(b.items, drawing.Item{Role: r, Shape: s})
}

func (b *board) line(r drawing.Role, x1, y1, x2, y2 float64) {
	if x1 != x2 || y1 != y2 {
		b.add(r, drawing.Line{From: drawing.Pt(x1, y1), To: drawing.Pt(x2, y2)})
	}
}

// both draws a line and its mirror image in the axis.
func (b *board) both(r drawing.Role, x1, y1, x2, y2 float64) {
	b.line(r, x1, y1, x2, y2)
	b.line(r, x1, -y1, x2, -y2)
}

// turn returns how the board becomes the picture.
func (b *board) turn() drawing.Transform {
	if b.upward {
		return drawing.Transform{Turn: 90}
	}
	return drawing.Transform{Turn: -90}
}

// at returns where a point of the board is in the picture.
func (b *board) at(x, y float64) drawing.Point { return b.turn().Point(drawing.Pt(x, y)) }

// along dimensions a length on the axis, at the left of the picture: from x0 to
// x1, the extension lines starting at y0 and y1.
func (b *board) along(letter, name string, x0, y0, x1, y1 float64) {
	if math.Abs(x1-x0) < 0.005 {
		return // nothing, in two decimals
	}
	b.dims = append(b.dims, drawing.Item{Role: drawing.RoleDimension, Shape: drawing.Linear{
		Label: drawing.Label{Quantity: drawing.Quantity{Letter: letter, Name: name, Value: math.Abs(x1 - x0)}},
		Side:  drawing.Left, From: b.at(x0, y0), To: b.at(x1, y1)}})
}

// widthAt dimensions the width 2y of what is even about the axis, at x, above or
// below the picture.
func (b *board) widthAt(letter, name string, side drawing.Side, x, y float64) {
	b.dims = append(b.dims, drawing.Item{Role: drawing.RoleDimension, Shape: drawing.Linear{
		Label: drawing.Label{Quantity: drawing.Quantity{Letter: letter, Name: name, Value: 2 * y}},
		Side:  side, From: b.at(x, y), To: b.at(x, -y)}})
}

// leader points at a place and names a size.
func (b *board) leader(text string, q drawing.Quantity, symbol drawing.Symbol, x, y, angle float64) {
	b.dims = append(b.dims, drawing.Item{Role: drawing.RoleDimension, Shape: drawing.Leader{
		Label: drawing.Label{Quantity: q, Symbol: symbol, Number: text}, Tip: b.at(x, y), Angle: angle}})
}

// compose sets out the views: the section, others beside it and below it, and
// the title at the foot.
func (b *board) compose() *drawing.Drawing {
	v := b.view("section")
	d := &drawing.Drawing{Style: b.st, Views: []drawing.Placed{{View: v}}, Parts: b.descriptions()}
	whole := b.placeUnder(d, b.placeBeside(d, v.Bounds(b.st)))
	if b.Title != "" {
		at := drawing.Pt(whole.Mid().X, whole.Min.Y-b.st.Part(8+titleHeight))
		d.Items = append(d.Items, drawing.Item{Role: drawing.RoleText,
			Shape: drawing.Text{At: at, Height: titleHeight, Align: drawing.AlignCentre, Value: b.Title}})
	}
	return d
}

// titleHeight is the height of the title of a joint, mm on paper (ISO 3098).
const titleHeight = 5.0

// view turns the board into a view with its dimensions placed.
func (b *board) view(name string) drawing.View {
	v := drawing.View{Name: name, Direction: drawing.Front}
	for _, it := range lines.Merge(b.items) {
		v.Items = append(v.Items, drawing.Item{Role: it.Role, Shape: drawing.Apply(it.Shape, b.turn())})
	}
	v.Items = append(v.Items, b.dims...)
	if !b.fenced {
		return drawing.Arrange(v, b.st)
	}
	return b.arrangeFenced(v)
}

// placeUnder sets the view along the axis below what fills box, and returns the
// box of both.
func (b *board) placeUnder(d *drawing.Drawing, box drawing.Rect) drawing.Rect {
	if b.under == nil {
		return box
	}
	v := b.under.view("under")
	r := v.Bounds(b.st)
	at := drawing.Pt(0, box.Min.Y-b.st.Part(10)-r.Max.Y)
	d.Views = append(d.Views, drawing.Placed{View: v, At: at})
	box = box.Union(drawing.Rect{Min: r.Min.Add(at), Max: r.Max.Add(at)})
	return b.under.captionAt(d, 0, box)
}

func (b *board) captionWidth() float64 {
	return drawing.TextWidth(b.caption, b.st.Part(b.st.Height()))
}

// captionAt writes the caption of a view whose axis is at x below what fills
// box, and returns the box of both.
func (b *board) captionAt(d *drawing.Drawing, x float64, box drawing.Rect) drawing.Rect {
	if b.caption == "" {
		return box
	}
	t := drawing.Text{At: drawing.Pt(x, box.Min.Y-b.st.Part(6+b.st.Height())), Align: drawing.AlignCentre,
		Value: b.caption}
	d.Items = append(d.Items, drawing.Item{Role: drawing.RoleText, Shape: t})
	return box.Union(t.Bounds(b.st))
}

// placeBeside sets the further views left of what fills box, and the captions
// of all views on one line below them. It returns the box of the whole.
func (b *board) placeBeside(d *drawing.Drawing, box drawing.Rect) drawing.Rect {
	places := []float64{0}
	left := -b.captionWidth() / 2 // of the captions so far
	for i, o := range b.beside {
		v := o.view("view " + strconv.Itoa(i+2))
		r := v.Bounds(b.st)
		at := drawing.Pt(math.Min(box.Min.X-b.st.Part(14)-r.Max.X, left-b.st.Part(6)-o.captionWidth()/2), 0)
		left = at.X - o.captionWidth()/2
		d.Views = append(d.Views, drawing.Placed{View: v, At: at})
		box = box.Union(drawing.Rect{Min: r.Min.Add(at), Max: r.Max.Add(at)})
		places = append(places, at.X)
	}
	whole := b.captionAt(d, 0, box)
	for i, o := range b.beside {
		whole = whole.Union(o.captionAt(d, places[i+1], box))
	}
	return whole
}
