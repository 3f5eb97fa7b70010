package fastener

import (
	"fmt"
	"slices"
	"strings"

	"boltplate/drawing"
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
		if dirs[i] == drawing.SideView && slices.Contains(dirs, drawing.Front) {
			views[i] = noteTurn(views[i], f, opt.Style)
		}
		boxes[i] = views[i].Bounds(opt.Style)
	}
	d.Views = make([]drawing.Placed, len(views))
	whole := drawing.EmptyRect()
	for i, at := range placeViews(dirs, main, boxes, opt) {
		d.Views[i] = drawing.Placed{View: views[i], At: at}
		whole = whole.Union(drawing.Rect{Min: boxes[i].Min.Add(at), Max: boxes[i].Max.Add(at)})
	}
	if !opt.Style.NoKey && (opt.Style.Labels == drawing.Rules || opt.Style.Labels == drawing.Letters) {
		qs, err := f.Quantities()
		if err != nil {
			return nil, err
		}
		whole = addKey(d, keyOf(views, qs, opt.Style), whole)
	}
	sets := setsOf(f)
	for _, s := range sets {
		whole = addNotes(d, []string{"Rules: " + s}, whole)
		opt.Properties = append(slices.Clone(opt.Properties), drawing.Property{Key: "rules", Value: s})
	}
	if c, ok := f.(Cautious); ok {
		whole = addNotes(d, c.Cautions(), whole)
	}
	if opt.Legend {
		whole = addLegend(d, f, opt.Projection == ThirdAngle, whole)
	}
	d.Parts = []drawing.Part{describe(f, opt, whole)}
	if opt.Construction {
		addConstruction(f, d)
	}
	return d, nil
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

// noteTurn writes under the side view of a square that it is turned.
func noteTurn(v drawing.View, f Fastener, st drawing.Style) drawing.View {
	if e, ok := f.(eighthTurned); !ok || !e.eighthTurn() {
		return v
	}
	b := v.Bounds(st)
	v.Items = append(v.Items, drawing.Item{Role: drawing.RoleText, Shape: drawing.Text{
		At: drawing.Pt(v.Outline().Mid().X, b.Min.Y-st.Part(2*st.Height())), Height: st.Height(),
		Align: drawing.AlignCentre, Value: "turned 45°",
	}})
	return v
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

// describe makes the description that travels with the drawing. Its caption
// stands below box.
func describe(f Fastener, opt DrawOptions, box drawing.Rect) drawing.Part {
	p := drawing.Part{Name: "PART-" + strings.ToUpper(f.Kind())}
	st := opt.Style
	y := box.Min.Y - st.Part(12)
	if opt.Caption == nil {
		p.Attributes = []drawing.Attribute{
			{Tag: "DESIGNATION", Prompt: "Designation", Hidden: true,
				Text: drawing.Text{At: drawing.Pt(0, 0), Height: st.Height(), Value: f.Designation()}},
		}
	}
	for _, line := range opt.Caption {
		p.Attributes = append(p.Attributes, drawing.Attribute{Tag: line.Tag, Prompt: line.Prompt,
			Text: drawing.Text{At: drawing.Pt(box.Min.X, y), Height: st.Height(), Value: line.Text}})
		y -= st.Part(1.5 * st.Height())
	}
	p.Properties = append(Describe(f), opt.Properties...)
	return p
}
