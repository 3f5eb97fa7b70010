package joint

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/internal/lines"
)

// Options says how a joint is drawn.
type Options struct {
	Style drawing.Style
}

// Draw draws the joint: the section through the axis, dimensioned, with item
// numbers, a parts list, and what Check finds marked where it is. A joint that
// does not work is drawn all the same. The error is a *FieldError where there
// is no such joint.
func Draw(j Joint, opt Options) (*drawing.Drawing, error) {
	b, err := newBoard(j, opt)
	if err != nil {
		return nil, err
	}
	d, err := b.compose(b.check())
	if err == nil {
		d.Parts = b.descriptions()
	}
	return d, err
}

// descriptions returns what a program reads of the fasteners of the joint.
func (b *board) descriptions() []drawing.Part {
	all := b.fitted
	if len(all) == 0 {
		all = []fastener.Fastener{b.bolt}
	}
	var out []drawing.Part
	for _, f := range all {
		designation := drawing.Attribute{Tag: "DESIGNATION", Prompt: "Designation", Hidden: true, Text: drawing.Text{Height: b.st.Height(), Value: f.Designation()}}
		out = append(out, drawing.Part{Name: "PART-" + strings.ToUpper(f.Kind()), Attributes: []drawing.Attribute{designation},
			Properties: append(fastener.Describe(f), drawing.Property{Key: "quantity", Value: "1"}, drawing.Property{Key: "scene", Value: string(b.Scene)})})
	}
	return out
}

// Notes returns what is written under the drawing of a joint beside its
// findings: cautions, where the joint can hurt somebody, and remarks on how it
// is made. The error is that of Draw.
func Notes(j Joint) ([]string, error) {
	b, err := newBoard(j, Options{})
	if err != nil {
		return nil, err
	}
	return b.notes, nil
}

// newBoard sets out the section of a joint.
func newBoard(j Joint, opt Options) (*board, error) {
	full, _, err := j.Complete()
	if err != nil {
		return nil, err
	}
	m, err := newModel(full)
	if err != nil {
		return nil, err
	}
	b := &board{st: opt.Style, model: m}
	switch m.Scene {
	case ThroughBolt:
		err = b.throughBolt()
	case Tapped:
		err = b.tappedScene()
	case TSlot:
		err = b.tSlotScene()
	case Hook:
		err = b.hookScene()
	case Countersunk:
		err = b.countersunk()
	case Taper:
		err = b.taper()
	case Stud:
		err = b.studScene()
	case Lifting:
		err = b.liftingScene()
	default:
		err = &FieldError{"scene", string(m.Scene) + " is not drawn"}
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
	list  []listed
	hand  float64 // of the next hatching: 45 or 135 degrees
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
	// numbers may point at the nearer one.
	even bool
	// wordsTo is how far to the right words reach that stand beside the outline.
	wordsTo float64
	// raised is how far the numbers beside the section are moved up.
	raised float64
	// fenced keeps the labels of leaders on the left of the axis, away from the
	// numbers on the right.
	fenced bool
	// fitted are the fasteners that the section shows, for the description that
	// travels with the drawing.
	fitted []fastener.Fastener
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

// fastener adds the front view of a fastener without its dimensions, moved
// along the axis.
func (b *board) fastener(f fastener.Fastener, dx float64) error {
	v, err := f.View(drawing.Front, fastener.Options{Style: b.st})
	if err != nil {
		return err
	}
	b.fitted = append(b.fitted, f)
	for _, it := range v.Items {
		if it.Role == drawing.RoleDimension || it.Role == drawing.RoleText {
			continue
		}
		b.items = append(b.items, drawing.Item{Role: it.Role, Shape: drawing.Apply(it.Shape, drawing.Transform{Move: drawing.Pt(dx, 0)})})
	}
	return nil
}

// width returns how far from the axis the parts are drawn before they are
// broken off.
func (b *board) width() float64 {
	w := math.Max(b.washer.d2, math.Max(b.head.d2, math.Max(b.size["A"], b.nutW)))/2 + math.Max(0.8*b.t.D, b.st.Part(8))
	for _, p := range b.Parts {
		w = math.Max(w, p.Hole/2+b.t.D)
	}
	return w
}

// plate draws a part with a clearance hole in section from x0 to x1, broken off
// at the given width, or on the lower side at its edge. What it shows of its
// faces behind the bolt reaches in to the radius inner.
func (b *board) plate(p Part, x0, x1, w, inner float64) {
	r := p.Hole / 2
	low := w
	if p.Edge > 0 && p.Edge < w {
		low = p.Edge
	}
	upper := []drawing.Vertex{{Point: drawing.Pt(x0, r)}, {Point: drawing.Pt(x1, r)}}
	upper = append(upper, b.broken(x1, x0, w)...)
	lower := []drawing.Vertex{{Point: drawing.Pt(x0, -r)}, {Point: drawing.Pt(x1, -r)}}
	if low < w {
		lower = append(lower, drawing.Vertex{Point: drawing.Pt(x1, -low)}, drawing.Vertex{Point: drawing.Pt(x0, -low)})
		b.line(drawing.RoleOutline, x0, -low, x1, -low)
	} else {
		lower = append(lower, b.broken(x1, x0, -w)...)
		b.breakLine(x0, x1, -w)
	}
	b.breakLine(x0, x1, w)
	b.hatch(x1-x0, upper, lower)
	for _, x := range [2]float64{x0, x1} {
		b.line(drawing.RoleOutline, x, inner, x, w)
		b.line(drawing.RoleOutline, x, -inner, x, -low)
	}
	b.both(drawing.RoleOutline, x0, r, x1, r)
}

// hatch fills areas of one part; the next part gets the other direction.
func (b *board) hatch(thickness float64, loops ...[]drawing.Vertex) {
	if b.hand == 0 {
		b.hand = 45
	}
	b.add(drawing.RoleHatching, drawing.Hatch{Loops: loops, Angle: b.hand, Spacing: b.spacing(thickness)})
	b.hand = 180 - b.hand
}

// spacing returns that of the hatching, mm on paper, by the size of the area.
func (b *board) spacing(thickness float64) float64 {
	if thickness*b.st.PaperScale() > 30 {
		return 3
	}
	return 2
}

// broken returns the corners of a break from x0 to x1 at the height y, waving
// about it as by hand.
func (b *board) broken(x0, x1, y float64) []drawing.Vertex {
	n := max(2, 2*int(math.Round(math.Abs(x1-x0)/b.st.Part(12))))
	out := make([]drawing.Vertex, 0, n+1)
	bulge := 0.22
	if x1 < x0 {
		bulge = -bulge
	}
	for i := range n {
		s := bulge
		// The wave is the same from either end.
		if (i%2 == 1) != (x1 < x0) {
			s = -s
		}
		if x1 < x0 {
			s = -s
		}
		out = append(out, drawing.Vertex{Point: drawing.Pt(x0+(x1-x0)*float64(i)/float64(n), y), Bulge: s})
	}
	return append(out, drawing.Vertex{Point: drawing.Pt(x1, y)})
}

func (b *board) breakLine(x0, x1, y float64) {
	b.add(drawing.RoleThin, drawing.Polyline{Vertices: b.broken(x0, x1, y)})
}

// tappedPart draws a part with a tapped hole from x0 on; the bolt fills the
// hole to x = end, with a point chamfer of the given depth.
func (b *board) tappedPart(p Part, x0, w, end, chamfer float64) {
	x1 := x0 + p.Thickness
	r, crest := b.t.D/2, b.crest()
	full, drill := x0+p.FullDepth, x0+p.DrillDepth
	if p.Through {
		full, drill = x1, x1
	}
	point := b.point()
	// The wall of the hole as the hatching meets it: the bolt where it is, then
	// the crest of the thread.
	wall := b.mouthOf(p, x0)
	mouth, face := wall[0].Y, w
	if p.Seat > 0 {
		face = p.Seat / 2
	}
	inside := math.Min(end, full)
	if end < drill {
		wall = append(wall, drawing.Pt(inside-chamfer, r), drawing.Pt(inside-chamfer+(r-crest), crest))
	} else {
		wall = append(wall, drawing.Pt(math.Min(end, drill), r))
	}
	low := w
	if p.Edge > 0 && p.Edge < w {
		low = p.Edge
	}
	var upper, lower []drawing.Vertex
	if p.Through {
		wall = append(wall, drawing.Pt(x1, crest))
	} else {
		wall = append(wall, drawing.Pt(drill, crest), drawing.Pt(drill+point, 0))
	}
	for _, q := range wall {
		upper = append(upper, drawing.Vertex{Point: q})
		lower = append(lower, drawing.Vertex{Point: drawing.Pt(q.X, -q.Y)})
	}
	if !p.Through {
		upper = append(upper, drawing.Vertex{Point: drawing.Pt(x1, 0)})
		lower = append(lower, drawing.Vertex{Point: drawing.Pt(x1, 0)})
	}
	upper = append(upper, b.broken(x1, x0, w)...)
	b.breakLine(x0, x1, w)
	if low < w {
		lower = append(lower, drawing.Vertex{Point: drawing.Pt(x1, -low)}, drawing.Vertex{Point: drawing.Pt(x0, -low)})
		b.line(drawing.RoleOutline, x0, -low, x1, -low)
	} else {
		lower = append(lower, b.broken(x1, x0, -w)...)
		b.breakLine(x0, x1, -w)
	}
	if p.Through {
		b.hatch(p.Thickness, upper, lower)
	} else {
		slices.Reverse(lower)
		b.hatch(p.Thickness, joined(upper, lower))
	}
	b.line(drawing.RoleOutline, x0, mouth, x0, math.Min(face, w))
	b.line(drawing.RoleOutline, x0, -mouth, x0, -math.Min(face, low))
	inner := 0.0
	if p.Through && end < x1 {
		inner = crest
		b.line(drawing.RoleOutline, x1, -crest, x1, crest)
	}
	if p.Through && end >= x1 {
		inner = r
	}
	b.line(drawing.RoleOutline, x1, inner, x1, w)
	b.line(drawing.RoleOutline, x1, -inner, x1, -low)
	// What is left of the hole beyond the bolt.
	if end < drill {
		b.both(drawing.RoleOutline, math.Max(inside-chamfer+(r-crest), x0), crest, drill, crest)
		if full > inside-chamfer {
			b.both(drawing.RoleThin, inside-chamfer, r, full, r)
		}
	}
	if !p.Through {
		if full > end {
			b.line(drawing.RoleOutline, full, -r, full, r)
		} else {
			b.both(drawing.RoleOutline, full, crest, full, r)
		}
		b.line(drawing.RoleOutline, drill, -crest, drill, crest)
		b.both(drawing.RoleOutline, drill, crest, drill+point, 0)
	}
}

// mouthOf returns the corners of the mouth of a tapped hole, and draws its
// relief.
func (b *board) mouthOf(p Part, x0 float64) []drawing.Point {
	r, R := b.t.D/2, p.Relief/2
	if R <= r || p.ReliefDepth == 0 {
		return []drawing.Point{drawing.Pt(x0, r)}
	}
	x1 := x0 + p.ReliefDepth
	out := []drawing.Point{drawing.Pt(x0, R), drawing.Pt(math.Max(x1-(R-r), x0), R), drawing.Pt(x1, r)}
	b.both(drawing.RoleOutline, out[0].X, R, out[1].X, R)
	b.both(drawing.RoleOutline, out[1].X, R, x1, r)
	return out
}

// joined makes one loop of the upper half and the reversed lower half, which
// meet on the axis.
func joined(upper, lower []drawing.Vertex) []drawing.Vertex {
	// Reversing moves each bulge to the other end of its side and turns its
	// sign.
	out := append([]drawing.Vertex(nil), upper...)
	n := len(lower)
	for i := range lower {
		v := drawing.Vertex{Point: lower[i].Point}
		if i+1 < n {
			v.Bulge = -lower[i+1].Bulge
		}
		out = append(out, v)
	}
	return out
}

// crest returns the radius at which the crest of an internal thread is drawn:
// its own, or further in where the two lines would stand too near on paper.
func (b *board) crest() float64 {
	r := b.t.D / 2
	return math.Max(r-math.Max(b.t.InternalDepth(), b.st.Part(b.st.ThreadGap())), r/3)
}

// item enters a line of the parts list, its number pointing at tip.
func (b *board) item(name, material string, tip drawing.Point) {
	b.list = append(b.list, listed{name, material, tip, 1})
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

func (b *board) throughBolt() error {
	bolted, err := b.bolted()
	if err != nil {
		return err
	}
	w := b.width()
	x := b.face()
	left := -w // the left of the picture
	for i, p := range b.Parts {
		b.plate(p, x, x+p.Thickness, w, b.t.D/2)
		b.along("t"+strconv.Itoa(i+1), "thickness", x, left, x+p.Thickness, left)
		b.leader("", drawing.Quantity{Letter: "Dh" + strconv.Itoa(i+1), Name: "hole", Value: p.Hole}, drawing.DiameterSymbol, x+0.6*p.Thickness, -p.Hole/2, 190)
		x += p.Thickness
	}
	if err := b.fastener(bolted, 0); err != nil {
		return err
	}
	b.headWasher()
	b.along("L", "length", 0, -b.headBears()/2, b.length(), -b.t.RootDiameter()/2)
	b.along("b", "thread length", b.limit(), -b.t.D/2, b.length(), -b.t.RootDiameter()/2)
	b.listFastener(-b.size["T"] / 2)
	b.listParts(w)
	return nil
}

// bolted returns the bolt with what is on it.
func (b *board) bolted() (fastener.Fastener, error) {
	f := fastener.Bolted{Bolt: b.bolt, Grip: b.face() + b.grip(), AsGiven: true}
	var err error
	part := fastener.Spec{Kind: strings.TrimSuffix(b.Nut, "-nut") + "-nut", Thread: b.t, Basis: b.Basis}
	if f.Nut, err = fastener.New(part); err != nil {
		return nil, &FieldError{"nut", err.Error()}
	}
	if b.washer.t > 0 {
		part.Kind = "washer"
		if b.Washer != "plain" {
			part.Kind = b.Washer + "-washer"
		}
		if f.Washer, err = fastener.New(part); err != nil {
			return nil, &FieldError{"washer", err.Error()}
		}
	}
	return f, nil
}

// headWasher draws the washer under the head; like other fasteners it is not
// cut.
func (b *board) headWasher() {
	if t, r := b.head.t, b.head.d2/2; t > 0 {
		b.both(drawing.RoleOutline, 0, r, t, r)
		b.both(drawing.RoleOutline, 0, b.t.D/2, 0, r)
		b.both(drawing.RoleOutline, t, b.t.D/2, t, r)
	}
}

// listFastener lists the bolt, pointed at on its head at x, and nut and
// washers.
func (b *board) listFastener(x float64) {
	y := b.headBears() / 4
	b.item(b.bolt.Designation(), "", drawing.Pt(x, y))
	if b.head.t > 0 {
		b.item("Plain washer for M"+num(b.t.D), "", drawing.Pt(b.head.t/2, b.head.d2*0.45))
	}
	if b.info().nut {
		if b.washer.t > 0 {
			b.item("Plain washer for M"+num(b.t.D), "", drawing.Pt(b.seat()-b.washer.t/2, b.washer.d2*0.45))
		}
		n, err := fastener.New(fastener.Spec{Kind: strings.TrimSuffix(b.Nut, "-nut") + "-nut", Thread: b.t, Basis: b.Basis})
		if err == nil {
			b.item(n.Designation(), "", drawing.Pt(b.seat()+b.nut/2, b.nutB*0.35))
		}
	}
}

// listParts lists the parts, each pointed at near its broken end.
func (b *board) listParts(w float64) {
	for i, p := range b.Parts {
		name := p.Name
		if name == "" {
			name = "Part " + strconv.Itoa(i+1)
		}
		b.item(name, p.Material, drawing.Pt(b.middle(i), w-b.st.Part(4)))
	}
}

func (b *board) tappedScene() error {
	w := b.width()
	x := b.face()
	for i, p := range b.Parts[:len(b.Parts)-1] {
		b.plate(p, x, x+p.Thickness, w, b.t.D/2)
		b.along("t"+strconv.Itoa(i+1), "thickness", x, -w, x+p.Thickness, -w)
		b.leader("", drawing.Quantity{Letter: "Dh" + strconv.Itoa(i+1), Name: "hole", Value: p.Hole}, drawing.DiameterSymbol, x+0.6*p.Thickness, -p.Hole/2, 190)
		x += p.Thickness
	}
	last := b.Parts[len(b.Parts)-1]
	chamfer := b.t.D/2 - b.rootDrawn()
	b.tappedPart(last, x, w, b.length(), chamfer)
	if err := b.fastener(b.bolt, 0); err != nil {
		return err
	}
	b.headWasher()
	b.along("L", "length", 0, -b.headBears()/2, b.length(), -b.t.RootDiameter()/2)
	b.tappedDimensions(last, x, w)
	b.along("t"+strconv.Itoa(len(b.Parts)), "thickness", x, -w, x+last.Thickness, -w)
	if !last.Through {
		b.line(drawing.RoleCentre, 0, 0, x+last.DrillDepth+b.point()+b.st.Part(drawing.CentreOverrun), 0)
	}
	b.listFastener(-b.size["T"] / 2)
	b.listParts(w)
	return nil
}

// tappedDimensions gives the depths of a tapped part from x on, and its thread.
func (b *board) tappedDimensions(p Part, x, w float64) {
	if !p.Through {
		b.along("e", "full thread", x, -w, x+p.FullDepth, -b.t.D/2)
		b.along("f", "drilled depth", x, -w, x+p.DrillDepth, -b.crest())
	}
	b.leader(b.t.String(), drawing.Quantity{Letter: "D", Name: "thread", Value: b.t.D}, drawing.NoSymbol, math.Min(b.length(), x+p.Thickness)-0.3*b.t.D, -b.t.D/2, 200)
}

// rootDrawn returns the radius at which the root of the bolt's thread is
// drawn, by the same rule as in the fastener's own views.
func (b *board) rootDrawn() float64 {
	r := b.t.D / 2
	return math.Max(r-math.Max(b.t.Depth(), b.st.Part(b.st.ThreadGap())), r/3)
}

// compose makes the drawing: the section, the numbers beside it, and below it
// the title, the parts list and the findings.
func (b *board) compose(found []Finding) (*drawing.Drawing, error) {
	v := b.view("section")
	d := &drawing.Drawing{Style: b.st, Views: []drawing.Placed{{View: v}}}
	d.Items = append(d.Items, b.numbers(found, v)...)
	whole := v.Bounds(b.st).Union(drawing.View{Items: d.Items}.Bounds(b.st))
	whole = b.placeBeside(d, whole)
	whole = b.placeUnder(d, whole)
	d.Items = append(d.Items, b.tables(found, whole)...)
	return d, nil
}

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
	t := drawing.Text{At: drawing.Pt(x, box.Min.Y-b.st.Part(6+b.st.Height())), Align: drawing.AlignCentre, Value: b.caption}
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

// A pointer is a number beside the section with a line to what it names.
type pointer struct {
	text string
	tip  drawing.Point
	mark bool // a finding: the place is ringed
}

// balloons sets item numbers in a column right of the section, in the order of
// their places, so that their leaders do not cross.
func (b *board) balloons(found []Finding, right, middle float64) []drawing.Item {
	var ps []pointer
	for i, l := range b.list {
		ps = append(ps, pointer{strconv.Itoa(i + 1), b.turn().Point(l.tip), false})
	}
	for i, f := range found {
		ps = append(ps, pointer{"F" + strconv.Itoa(i+1), b.turn().Point(f.At), true})
	}
	for i := range ps {
		if b.even {
			ps[i].tip.X = math.Abs(ps[i].tip.X)
		}
	}
	mm := b.st.Part(1)
	h := 2 * b.st.Height() // ISO 6433: at least twice the height of dimensions
	r := b.st.Part(h) * 0.85
	step := 2*r + 3*mm
	x := right + 14*mm + r
	ys := heights(ps, x, step, middle)
	for i := range ys {
		ys[i] += b.raised
	}
	for i, y := range ys { // no steeper than 60 degrees, clear of the numbers beside it
		x = math.Max(x, ps[i].tip.X+math.Abs(y-ps[i].tip.Y)/math.Sqrt(3))
	}
	uncross(ps, func(i int) drawing.Point { return drawing.Pt(x, ys[i]) })
	var out []drawing.Item
	add := func(role drawing.Role, s drawing.Shape) { out = append(out, drawing.Item{Role: role, Shape: s}) }
	for i, p := range ps {
		c := drawing.Pt(x, ys[i])
		add(drawing.RoleDimension, drawing.Circle{Center: c, Radius: r})
		height := h
		if p.mark {
			height = b.st.Height()
		}
		add(drawing.RoleText, drawing.Text{At: drawing.Pt(c.X, c.Y-b.st.Part(height)/2), Height: height, Align: drawing.AlignCentre, Value: p.text})
		u := c.Sub(p.tip)
		u = u.Mul(1 / u.Len())
		from := p.tip
		if p.mark {
			ring := 3 * mm
			if !slices.ContainsFunc(ps[:i], func(q pointer) bool { return q.mark && q.tip == p.tip }) { // two may ring one place
				add(drawing.RoleDimension, drawing.Circle{Center: p.tip, Radius: ring})
			}
			from = p.tip.Add(u.Mul(ring))
		} else {
			dot := 0.6 * mm
			add(drawing.RoleDimension, drawing.Hatch{Solid: true, Loops: [][]drawing.Vertex{{
				{Point: p.tip.Add(drawing.Pt(-dot, 0)), Bulge: 1}, {Point: p.tip.Add(drawing.Pt(dot, 0)), Bulge: 1}}}})
		}
		add(drawing.RoleDimension, drawing.Line{From: from, To: c.Sub(u.Mul(r))})
	}
	return out
}

// heights sorts the pointers and returns how high their numbers stand in a
// column at x: each a little further from the middle than its place, so that
// the line to it slants, and all at least a step apart.
func heights(ps []pointer, x, step, middle float64) []float64 {
	const slant = 0.2
	want := func(p pointer) float64 {
		return p.tip.Y + math.Copysign(slant*(x-p.tip.X), p.tip.Y-middle)
	}
	slices.SortStableFunc(ps, func(p, q pointer) int {
		switch {
		case want(p) > want(q)+1e-9:
			return -1
		case want(p) < want(q)-1e-9:
			return 1
		}
		return 0
	})
	// With a step taken off for each number above, the heights only have to
	// fall: neighbours that do not share their mean.
	type group struct{ sum, n float64 }
	var groups []group
	for i, p := range ps {
		groups = append(groups, group{want(p) + step*float64(i), 1})
		for k := len(groups) - 1; k > 0 && groups[k].sum*groups[k-1].n > groups[k-1].sum*groups[k].n; k-- {
			groups[k-1] = group{groups[k-1].sum + groups[k].sum, groups[k-1].n + groups[k].n}
			groups = groups[:k]
		}
	}
	out := make([]float64, 0, len(ps))
	for _, g := range groups {
		for range int(g.n) {
			out = append(out, g.sum/g.n-step*float64(len(out)))
		}
	}
	return out
}

// uncross swaps pointers until no two of their lines cross; place returns where
// the number in a place stands. Each swap makes the lines shorter, so that it
// ends.
func uncross(ps []pointer, place func(i int) drawing.Point) {
	side := func(p, q, r drawing.Point) float64 {
		u, v := q.Sub(p), r.Sub(p)
		return u.X*v.Y - u.Y*v.X
	}
	cross := func(a, b, c, d drawing.Point) bool {
		return side(a, b, c)*side(a, b, d) < -1e-9 && side(c, d, a)*side(c, d, b) < -1e-9
	}
	for swapped := true; swapped; {
		swapped = false
		for i := range ps {
			for k := range ps[:i] {
				if cross(ps[k].tip, place(k), ps[i].tip, place(i)) {
					ps[i], ps[k] = ps[k], ps[i]
					swapped = true
				}
			}
		}
	}
}

// tables writes the title, the parts list and the findings under box.
func (b *board) tables(found []Finding, box drawing.Rect) []drawing.Item {
	mm := b.st.Part(1)
	h := b.st.Height()
	var out []drawing.Item
	text := func(x, y, height float64, s string) {
		out = append(out, drawing.Item{Role: drawing.RoleText, Shape: drawing.Text{At: drawing.Pt(x, y), Height: height, Value: s}})
	}
	rule := func(x1, y1, x2, y2 float64, role drawing.Role) {
		out = append(out, drawing.Item{Role: role, Shape: drawing.Line{From: drawing.Pt(x1, y1), To: drawing.Pt(x2, y2)}})
	}
	x, y := box.Min.X, box.Min.Y-14*mm
	if b.Title != "" {
		text(x, y, 5, b.Title)
		y -= 12 * mm
	}
	// Parts list (ISO 7573): item, quantity, designation, material.
	columns := []string{"Item", "Qty", "Designation", "Material"}
	wide := make([]float64, len(columns))
	rows := [][]string{columns}
	for i, l := range b.list {
		material := l.material
		if material == "" {
			material = "-"
		}
		rows = append(rows, []string{strconv.Itoa(i + 1), strconv.Itoa(l.count), l.name, material})
	}
	for _, r := range rows {
		for k, s := range r {
			wide[k] = math.Max(wide[k], drawing.TextWidth(s, h)+4)
		}
	}
	rowHeight := (h + 4) * mm
	total := 0.0
	for _, w := range wide {
		total += w * mm
	}
	top := y + rowHeight - 2*mm
	for i, r := range rows {
		cx := x
		for k, s := range r {
			text(cx+2*mm, y, h, s)
			cx += wide[k] * mm
		}
		role := drawing.RoleDimension
		if i == 0 {
			role = drawing.RoleFrame
		}
		rule(x, y-2*mm, x+total, y-2*mm, role)
		y -= rowHeight
	}
	bottom := y + rowHeight - 2*mm
	rule(x, top, x+total, top, drawing.RoleFrame)
	cx := x
	for k := range columns {
		rule(cx, top, cx, bottom, drawing.RoleDimension)
		cx += wide[k] * mm
	}
	rule(cx, top, cx, bottom, drawing.RoleDimension)
	y -= 4 * mm
	if len(found) == 0 {
		text(x, y, h, "Checked: no findings.")
		y -= 1.6 * h * mm
	}
	for i, f := range found {
		for k, line := range wrap(fmt.Sprintf("F%d  %s", i+1, f), 90) {
			if k > 0 {
				line = "      " + line
			}
			text(x, y, h, line)
			y -= 1.6 * h * mm
		}
	}
	y -= 2 * mm
	for _, n := range b.notes {
		for _, line := range wrap(n, 90) {
			text(x, y, h, line)
			y -= 1.6 * h * mm
		}
	}
	return out
}

// wrap breaks text at blanks into lines of at most width characters.
func wrap(text string, width int) []string {
	var out []string
	line := ""
	for _, w := range strings.Split(text, " ") {
		if line != "" && len(line)+1+len(w) > width {
			out = append(out, line)
			line = ""
		}
		if line != "" {
			line += " "
		}
		line += w
	}
	return append(out, line)
}
