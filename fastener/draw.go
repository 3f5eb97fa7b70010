package fastener

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"boltplate/drawing"
	"boltplate/internal/plane"
)

// Projection is the method by which views are placed about the elevation
// (ISO 5456-2).
type Projection uint8

// The projection methods.
const (
	FirstAngle Projection = iota // the view from the left stands on the right
	ThirdAngle                   // the view from the left stands on the left
)

// String returns "first" or "third".
func (p Projection) String() string {
	if p == ThirdAngle {
		return "third"
	}
	return "first"
}

// ParseProjection returns the method with the given name: first or third.
func ParseProjection(s string) (Projection, error) {
	switch strings.ToLower(strings.TrimSpace(s)) {
	case "first":
		return FirstAngle, nil
	case "third":
		return ThirdAngle, nil
	}
	return 0, fmt.Errorf("%q is not a projection method; use first or third", s)
}

// DrawOptions says how Draw composes a drawing. The zero value is the usual
// choice: the default views of the kind, in first-angle projection.
type DrawOptions struct {
	Options
	Views      []drawing.Direction // nil means UsualViews
	Projection Projection
	// Construction leaves what the drawing is set out by, in RoleConstruction:
	// centres, radii, circles and projection lines.
	Construction bool
	// Details draws again beside the views, larger, what would be under a
	// millimetre on paper, in a ring with a letter (ISO 128-3).
	Details bool
	// Caption, where it is not empty, stands under the views.
	Caption []CaptionLine
	// Legend puts the designation, the scale and the symbol of the projection
	// method under the views, as a plate has them in its title block (ISO 7200).
	Legend bool
	// Properties are added to the description that travels with the drawing.
	Properties []drawing.Property
}

// A CaptionLine is a line of text under the views, which a CAD program can
// also read as an attribute of the part.
type CaptionLine struct {
	Tag, Prompt, Text string
}

// A Figure is a fastener and how it is drawn: what stands on a sheet
// (drawing/sheet.Source).
type Figure struct {
	Fastener Fastener
	Options  DrawOptions // but for the Style, which Draw is given; its NoKey counts
}

// Draw is the function Draw in the given style.
func (f Figure) Draw(st drawing.Style) (*drawing.Drawing, error) {
	st.NoKey = st.NoKey || f.Options.Style.NoKey
	f.Options.Style = st
	return Draw(f.Fastener, f.Options)
}

// viewGap is the distance between views with their dimensions, mm on paper.
const viewGap = 15.0

// Draw puts views of f in projection into a drawing at full size: the first
// elevation with its origin at 0, 0, end views beside it and the other
// elevation below or above, as the method says. Every quantity is dimensioned
// once, in the view that suits it best. The description of the part travels
// with the drawing. The error is that of View; a nil fastener is a [*KindError].
func Draw(f Fastener, opt DrawOptions) (*drawing.Drawing, error) {
	c, err := compose(f, opt)
	if err != nil {
		return nil, err
	}
	return c.described(opt), nil
}

// A composition is a drawing but for what comes with the row of a list: its caption
// and properties.
type composition struct {
	drawing.Drawing
	whole       drawing.Rect
	designation string
	name        string
	says        []drawing.Property // of the part itself
	sets        []drawing.Property // the rules of one's own that it follows
}

// compose makes all of a drawing that its caption and properties do not change.
func compose(f Fastener, opt DrawOptions) (*composition, error) {
	if f == nil {
		_, err := kindNamed("")
		return nil, err
	}
	dirs, err := viewList(f, opt.Views)
	if err != nil {
		return nil, err
	}
	main := mainView(dirs)
	vo := opt.Options
	vo.Section = vo.Section || !vo.Hidden && !vo.Outside
	vo.turned = dirs[main] == drawing.SideView
	views := make([]drawing.View, len(dirs))
	for i, dir := range dirs {
		if views[i], err = f.View(dir, vo); err != nil {
			return nil, err
		}
	}
	if opt.Style.Labels != drawing.NoLabels {
		dimensionOnce(views)
	}
	d := &drawing.Drawing{Style: opt.Style}
	boxes := make([]drawing.Rect, len(views))
	for i := range views {
		views[i] = drawing.Arrange(views[i], opt.Style)
	}
	callTurned(views, dirs, f, opt.Style)
	var details []detail
	plain := slices.Clone(views)
	if opt.Details {
		details = findDetails(views, opt.Style)
		for i := range details {
			v := &views[details[i].view]
			*v = details[i].ring(*v, opt.Style)
		}
	}
	for i := range views {
		boxes[i] = views[i].Bounds(opt.Style)
	}
	d.Views = make([]drawing.Placed, len(views))
	whole := drawing.EmptyRect()
	for i, at := range placeViews(dirs, main, boxes, opt) {
		d.Views[i] = drawing.Placed{View: views[i], At: at}
		whole = whole.Union(drawing.Rect{Min: boxes[i].Min.Add(at), Max: boxes[i].Max.Add(at)})
	}
	whole = addDetails(d, details, plain, whole)
	if !opt.Style.NoKey && (opt.Style.Labels == drawing.Rules || opt.Style.Labels == drawing.Letters) {
		qs, err := f.Quantities()
		if err != nil {
			return nil, err
		}
		whole = addKey(d, keyOf(plain, qs, opt.Style), whole)
	}
	c := &composition{designation: f.Designation(), name: "PART-" + strings.ToUpper(f.Kind()), says: slices.Clip(Describe(f))}
	for _, s := range setsOf(f) {
		whole = addNotes(d, []string{"Rules: " + s}, whole)
		c.sets = append(c.sets, drawing.Property{Key: "rules", Value: s})
	}
	if o, ok := f.(Cautious); ok {
		whole = addNotes(d, o.Cautions(), whole)
	}
	if opt.Legend {
		whole = addLegend(d, f, opt.Projection == ThirdAngle, whole)
	}
	if opt.Construction {
		addConstruction(f, d)
	}
	c.Drawing, c.whole = *d, whole
	return c, nil
}

// addLegend writes the legend of a drawing below box and returns the box of both.
func addLegend(d *drawing.Drawing, f Fastener, third bool, box drawing.Rect) drawing.Rect {
	st := d.Style
	h := st.Part(st.Height())
	x, y := box.Min.X, box.Min.Y-st.Part(12)
	text := func(y float64, s string) {
		d.Items = append(d.Items, drawing.Item{Role: drawing.RoleText,
			Shape: drawing.Text{At: drawing.Pt(x, y), Height: st.Height(), Value: s}})
	}
	text(y, f.Designation())
	y -= 2.6 * h
	scale := "Scale " + drawing.ScaleName(st.PaperScale())
	text(y, scale)
	width := drawing.TextWidth(scale, h)
	symbol := 0.7 * h
	mid := drawing.Pt(x+width+2*h+2.6*symbol, y+h/2)
	d.Items = append(d.Items, drawing.ProjectionSymbol(mid, symbol, third)...)
	return box.Union(drawing.Rect{Min: drawing.Pt(x, y-h/2), Max: drawing.Pt(mid.X+3.2*symbol, y)}).
		Union(drawing.Text{At: drawing.Pt(x, y+2.6*h), Height: st.Height(), Value: f.Designation()}.Bounds(st))
}

// setsOf returns the names of the rules of one's own that a size of the part, or
// of one of several, follows.
func setsOf(f Fastener) (names []string) {
	if a, ok := f.(Bolted); ok {
		for _, p := range []Fastener{a.Bolt, a.Nut, a.Washer} {
			for _, s := range setsOf(p) {
				if !slices.Contains(names, s) {
					names = append(names, s)
				}
			}
		}
		return names
	}
	if o, ok := f.(interface{ extra() Extra }); !ok || o.extra().Rules == nil {
		return nil
	}
	qs, _ := f.Quantities() // it has been drawn
	for _, q := range qs {
		if q.Set != "" && !slices.Contains(names, q.Set) {
			names = append(names, q.Set)
		}
	}
	return names
}

// addNotes writes lines under box and returns the box with them.
func addNotes(d *drawing.Drawing, lines []string, box drawing.Rect) drawing.Rect {
	st := d.Style
	y := box.Min.Y - st.Part(12)
	for _, line := range lines {
		t := drawing.Text{At: drawing.Pt(box.Min.X, y), Height: st.Height(), Value: line}
		d.Items = append(d.Items, drawing.Item{Role: drawing.RoleText, Shape: t})
		for _, p := range t.Box(st) {
			box = box.Union(drawing.Rect{Min: p, Max: p})
		}
		y -= st.Part(1.6 * st.Height())
	}
	return box
}

// A square has the same face to the front after every quarter turn: its two
// elevations are an eighth of a turn apart, and cannot both stand in
// projection.
type eighthTurned interface{ eighthTurn() bool }

// callTurned says of the side view of a square, which is an eighth of a turn from
// the front view, where it is seen from: by an arrow with a letter at an end view
// and the letter over the view (ISO 128-3), or where no end view is drawn, in
// words under it.
func callTurned(views []drawing.View, dirs []drawing.Direction, f Fastener, st drawing.Style) {
	e, ok := f.(eighthTurned)
	side := slices.Index(dirs, drawing.SideView)
	if !ok || !e.eighthTurn() || side < 0 || !slices.Contains(dirs, drawing.Front) {
		return
	}
	end := slices.Index(dirs, drawing.HeadEnd)
	if end < 0 {
		end = slices.Index(dirs, drawing.PointEnd)
	}
	say := func(v *drawing.View, at drawing.Point, height float64, text string) {
		v.Items = append(v.Items, drawing.Item{Role: drawing.RoleText, Shape: drawing.Text{At: at, Height: height,
			Align: drawing.AlignCentre, Value: text}})
	}
	v, high := &views[side], st.Height()
	if end < 0 {
		say(v, drawing.Pt(v.Outline().Mid().X, v.Bounds(st).Min.Y-st.Part(2*high)), high, "turned 45°")
		return
	}
	letter := high * math.Sqrt2 // ISO 128-3
	say(v, drawing.Pt(v.Outline().Mid().X, v.Bounds(st).Max.Y+st.Part(high/2)), letter, "A")
	o := &views[end]
	a := callOf(*o, st)
	o.Items = append(o.Items, drawing.Item{Role: drawing.RoleDimension, Shape: drawing.Line{From: a.base, To: a.tail}},
		drawing.Item{Role: drawing.RoleDimension, Shape: drawing.Hatch{Solid: true, Loops: [][]drawing.Vertex{a.head}}})
	say(o, a.letter, letter, "A")
}

// A call is an arrow that says where a view is seen from, and where its letter
// stands.
type call struct {
	base, tail, letter drawing.Point
	head               []drawing.Vertex
	box                drawing.Rect // of arrow and letter
}

// callOf returns the arrow beside a face of the square of an end view: at the
// first one, and the nearest place, where nothing is in its way.
func callOf(v drawing.View, st drawing.Style) (best call) {
	fewest := math.MaxInt
	for _, off := range [...]float64{2, 8, 16, 26} {
		for _, angle := range [...]float64{135, 45, 225, 315} {
			u := drawing.Polar(1, angle)
			c := arrowAt(u.Mul(farthest(v, u)+st.Part(off)), u, st)
			if n := inTheWay(v, c.box, st); n < fewest {
				best, fewest = c, n
			}
			if fewest == 0 {
				return best
			}
		}
	}
	return best
}

// arrowAt returns an arrow with its tip at a point, from the direction u.
func arrowAt(tip, u drawing.Point, st drawing.Style) call {
	high := st.Part(st.Height() * math.Sqrt2)
	c := call{base: tip.Add(u.Mul(st.Part(callHead))), tail: tip.Add(u.Mul(st.Part(callLength)))}
	n := drawing.Pt(-u.Y, u.X).Mul(st.Part(callHead / 6))
	c.head = []drawing.Vertex{{Point: tip}, {Point: c.base.Add(n)}, {Point: c.base.Sub(n)}}
	c.letter = c.tail.Add(drawing.Pt(u.X*high*0.6, u.Y*high*0.6-high/2+math.Copysign(high/4, u.Y)))
	c.box = drawing.EmptyRect().Including(tip).Including(c.tail).Including(c.letter.Add(drawing.Pt(-high/2, 0))).
		Including(c.letter.Add(drawing.Pt(high/2, high))).Grown(st.Part(1))
	return c
}

// inTheWay returns how many dimensions of a view are in a box.
func inTheWay(v drawing.View, box drawing.Rect, st drawing.Style) (n int) {
	at := plane.Box{Min: plane.Vec(box.Min), Max: plane.Vec(box.Max)}
	for _, it := range v.Items {
		x, ok := drawing.Expand(it.Shape, st)
		if !ok {
			continue
		}
		if corners, ok := x.LabelBox(); ok {
			r := drawing.EmptyRect()
			for _, p := range corners {
				r = r.Including(p)
			}
			if r.Overlaps(box) {
				n++
			}
		}
		for _, l := range x.Lines() {
			if plane.SegmentHitsBox(plane.Vec(l.From), plane.Vec(l.To), at) {
				n++
			}
		}
	}
	return n
}

// Sizes of the arrow that calls a view, mm on paper.
const (
	callLength = 10.0
	callHead   = 4.0
)

// farthest returns how far what is drawn of a view reaches in a direction.
func farthest(v drawing.View, u drawing.Point) (far float64) {
	for _, it := range v.Items {
		if it.Role != drawing.RoleOutline {
			continue
		}
		switch s := it.Shape.(type) {
		case drawing.Line:
			far = max(far, s.From.X*u.X+s.From.Y*u.Y, s.To.X*u.X+s.To.Y*u.Y)
		case drawing.Circle:
			far = max(far, s.Center.X*u.X+s.Center.Y*u.Y+s.Radius)
		}
	}
	return far
}

func viewList(f Fastener, asked []drawing.Direction) ([]drawing.Direction, error) {
	dirs := asked
	if len(dirs) == 0 {
		dirs = UsualViews(f)
	}
	for i, d := range dirs {
		if slices.Contains(dirs[:i], d) {
			return nil, &FieldError{f.Kind(), "views", d.String(), "given twice; name each view once"}
		}
	}
	return dirs, nil
}

// mainView returns which view stands at the origin: the first elevation, or
// the first view where there is none. The front view goes before the side
// view.
func mainView(dirs []drawing.Direction) int {
	for _, want := range [2]drawing.Direction{drawing.Front, drawing.SideView} {
		if i := slices.Index(dirs, want); i >= 0 {
			return i
		}
	}
	return 0
}

// placeViews returns where the origins of the views go.
func placeViews(dirs []drawing.Direction, main int, boxes []drawing.Rect, opt DrawOptions) []drawing.Point {
	gap := opt.Style.Part(viewGap)
	at := make([]drawing.Point, len(dirs))
	row := boxes[main] // the elevation and its end views
	left, right, below := drawing.HeadEnd, drawing.PointEnd, false
	if opt.Projection == FirstAngle {
		left, right, below = drawing.PointEnd, drawing.HeadEnd, true
	}
	extend := func(i int, p drawing.Point) {
		at[i] = p
		row = row.Union(drawing.Rect{Min: boxes[i].Min.Add(p), Max: boxes[i].Max.Add(p)})
	}
	for i, dir := range dirs {
		if i == main {
			continue
		}
		switch dir {
		case left:
			extend(i, drawing.Pt(row.Min.X-gap-boxes[i].Max.X, 0))
		case right:
			extend(i, drawing.Pt(row.Max.X+gap-boxes[i].Min.X, 0))
		}
	}
	for i, dir := range dirs {
		if i == main || dir == left || dir == right || dir == drawing.Isometric {
			continue
		}
		y := row.Min.Y - gap - boxes[i].Max.Y
		if !below {
			y = row.Max.Y + gap - boxes[i].Min.Y
		}
		extend(i, drawing.Pt(0, y))
	}
	// The pictorial view stands beside the others, out of projection.
	for i, dir := range dirs {
		if i != main && dir == drawing.Isometric {
			extend(i, drawing.Pt(row.Max.X+gap-boxes[i].Min.X, row.Mid().Y-boxes[i].Mid().Y))
		}
	}
	return at
}

// dimensionOnce leaves each quantity its dimension in one view: the one of the
// lowest rank, and of equals the first. A reference dimension goes where the
// one it stands in for is shown.
func dimensionOnce(views []drawing.View) {
	type claim struct {
		letter     string
		view, item int
		rank       drawing.Rank
		standsFor  string
	}
	var claims []claim
	for v := range views {
		for i := range views[v].Items {
			l, rank, ok := dimensionLabel(views[v].Items[i].Shape)
			if !ok {
				continue
			}
			c := claim{l.Quantity.Letter, v, i, rank, l.StandsFor}
			j := slices.IndexFunc(claims, func(o claim) bool { return o.letter == c.letter })
			if j < 0 {
				claims = append(claims, c)
			} else if c.rank < claims[j].rank {
				claims[j] = c
			}
		}
	}
	kept := func(v, i int) bool {
		j := slices.IndexFunc(claims, func(c claim) bool { return c.view == v && c.item == i })
		if j < 0 {
			return false
		}
		s := claims[j].standsFor
		return s == "" || !slices.ContainsFunc(claims, func(c claim) bool { return c.letter == s })
	}
	for v := range views {
		items := views[v].Items
		keep := items[:0:0]
		for i, it := range items {
			if _, _, ok := dimensionLabel(it.Shape); !ok || kept(v, i) {
				keep = append(keep, it)
			}
		}
		views[v].Items = keep
	}
}

func dimensionLabel(s drawing.Shape) (drawing.Label, drawing.Rank, bool) {
	switch d := s.(type) {
	case drawing.Linear:
		return d.Label, d.Rank, true
	case drawing.Aligned:
		return d.Label, d.Rank, true
	case drawing.Diameter:
		return d.Label, d.Rank, true
	case drawing.Radius:
		return d.Label, d.Rank, true
	case drawing.Angular:
		return d.Label, d.Rank, true
	case drawing.Leader:
		return d.Label, d.Rank, true
	}
	return drawing.Label{}, 0, false
}

// described returns the drawing with the description that travels with it, and the
// caption below it. It shares its views with others of the same composition.
func (c *composition) described(opt DrawOptions) *drawing.Drawing {
	d := c.Drawing
	d.Views, d.Items = slices.Clone(d.Views), slices.Clip(d.Items)
	p := drawing.Part{Name: c.name}
	st := opt.Style
	y := c.whole.Min.Y - st.Part(12)
	if opt.Caption == nil {
		p.Attributes = []drawing.Attribute{
			{Tag: "DESIGNATION", Prompt: "Designation", Hidden: true,
				Text: drawing.Text{At: drawing.Pt(0, 0), Height: st.Height(), Value: c.designation}},
		}
	}
	for _, line := range opt.Caption {
		p.Attributes = append(p.Attributes, drawing.Attribute{Tag: line.Tag, Prompt: line.Prompt,
			Text: drawing.Text{At: drawing.Pt(c.whole.Min.X, y), Height: st.Height(), Value: line.Text}})
		y -= st.Part(1.5 * st.Height())
	}
	p.Properties = append(append(c.says, opt.Properties...), c.sets...)
	d.Parts = []drawing.Part{p}
	return &d
}
