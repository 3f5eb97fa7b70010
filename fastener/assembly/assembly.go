// Package assembly puts fasteners into one drawing: every view of every part is
// a block, inserted wherever it stands, turned and mirrored as it stands there.
// It also makes libraries of such blocks.
//
//	stud := assembly.Part{Mark: "ST-1", Fastener: fastener.Stud{...}}
//	places := assembly.Place{Mark: "ST-1", View: drawing.PointEnd}.Circle(140, 8, 22.5)
//	d, err := assembly.Layout{Parts: []assembly.Part{stud}, Places: places}.Draw()
package assembly

import (
	"fmt"
	"math"
	"strconv"

	"boltplate/drawing"
	"boltplate/fastener"
)

// A Part is a fastener that is placed under its mark.
type Part struct {
	Mark string
	// Quantity is how many there are; 0 means as many as stand in the view that
	// shows the most.
	Quantity int
	Fastener fastener.Fastener
	// Options say how its views are drawn, but for the style.
	Options fastener.Options
	// Views are those that a library has; nil means the usual ones of the kind.
	Views []drawing.Direction
	// Properties are added to the description that travels with each insert.
	Properties []drawing.Property
}

// A Place is where a view of a part stands: the origin of the view, which is
// on the axis at the bearing face (package fastener says where), in
// millimetres of the drawing.
type Place struct {
	Mark   string
	View   drawing.Direction
	At     drawing.Point
	Turn   float64 // degrees counter-clockwise
	Mirror bool    // in the axis of the view, before it is turned
	Cover  bool    // it hides what stands behind it
	Lead   bool    // a leader with the mark points at it
	// Radial leaves out the centre line across that to the middle of a pitch
	// circle, since the circle itself is there.
	Radial bool
}

// Circle returns n places on a pitch circle about p.At, evenly spaced
// counter-clockwise from the angle start (degrees), each turned as it stands
// on the circle and by p.Turn. The first alone has a leader.
func (p Place) Circle(diameter float64, n int, start float64) []Place {
	var out []Place
	for i := range n {
		q := p
		angle := start + 360*float64(i)/float64(n)
		q.At = p.At.Add(drawing.Polar(diameter/2, angle))
		q.Turn = math.Mod(p.Turn+angle, 360)
		q.Lead = p.Lead && i == 0
		q.Radial = p.Turn == 0
		out = append(out, q)
	}
	return out
}

// Grid returns places in columns to the right of p.At and rows above it. The
// first alone has a leader.
func (p Place) Grid(columns int, dx float64, rows int, dy float64) []Place {
	var out []Place
	for r := range rows {
		for c := range columns {
			q := p
			q.At = p.At.Add(drawing.Pt(float64(c)*dx, float64(r)*dy))
			q.Lead = p.Lead && r == 0 && c == 0
			out = append(out, q)
		}
	}
	return out
}

// A PitchCircle is drawn as a centre line.
type PitchCircle struct {
	Center   drawing.Point
	Diameter float64 // mm
}

// A Layout is a drawing of placed fasteners.
type Layout struct {
	Style   drawing.Style
	Under   *drawing.Drawing // what they stand in, such as a flange; nil for nothing
	Parts   []Part
	Places  []Place
	Circles []PitchCircle
	NoList  bool // leave out the list of parts below
}

// MarkError says that a place names a mark that no part has, or that two parts
// have.
type MarkError struct {
	Place int // index in Layout.Places, -1 for a part
	Mark  string
	Want  string // what is wrong, and what would be right
}

func (e *MarkError) Error() string { return fmt.Sprintf("mark %s: %s", e.Mark, e.Want) }

// Draw returns the drawing: what is under the fasteners, pitch circles, the
// fasteners as blocks, and the list of those that are placed. The error is a
// *MarkError, that of [fastener.Fastener].View, or of drawing.Drawing.Include.
func (l Layout) Draw() (*drawing.Drawing, error) {
	l.Style.Labels = drawing.Numbers
	d := &drawing.Drawing{Style: l.Style}
	if l.Under != nil {
		if err := d.Include(l.Under, drawing.Transform{}); err != nil {
			return nil, fmt.Errorf("what is under the fasteners: %w", err)
		}
	}
	b, err := newBlocks(l.Parts, l.Style)
	if err != nil {
		return nil, err
	}
	leads := drawing.View{Name: "marks"}
	shown := map[string]map[drawing.Direction]int{}
	for i, p := range l.Places {
		placed, err := b.place(p)
		if me, ok := err.(*MarkError); ok {
			me.Place = i
		}
		if err != nil {
			return nil, err
		}
		d.Views = append(d.Views, placed)
		if shown[p.Mark] == nil {
			shown[p.Mark] = map[drawing.Direction]int{}
		}
		shown[p.Mark][p.View]++
		if p.Lead {
			leads.Items = append(leads.Items, lead(p, placed, l.Style))
		}
	}
	// After the views, since those may cover what was drawn before them.
	circles := drawing.View{Name: "pitch circles"}
	for _, c := range l.Circles {
		circles.Items = append(circles.Items, drawing.Item{Role: drawing.RoleCentre, Shape: drawing.Circle{Center: c.Center, Radius: c.Diameter / 2}})
	}
	if len(circles.Items) > 0 {
		d.Views = append(d.Views, drawing.Placed{View: circles})
	}
	if len(leads.Items) > 0 {
		d.Views = append(d.Views, drawing.Placed{View: leads})
	}
	if err := b.count(d, shown); err != nil {
		return nil, err
	}
	if !l.NoList {
		l.list(d, shown)
	}
	return d, nil
}

// lead returns a leader with the mark: at the point of an elevation, and away
// from the middle of a pitch circle.
func lead(p Place, placed drawing.Placed, st drawing.Style) drawing.Item {
	const steep = 30       // degrees: less would lie along a centre line
	var solid drawing.View // without centre lines, which run on
	for _, it := range placed.View.Items {
		if it.Role == drawing.RoleOutline {
			solid.Items = append(solid.Items, it)
		}
	}
	box := solid.Outline()
	angle := p.Turn
	end := p.View == drawing.HeadEnd || p.View == drawing.PointEnd
	if math.Abs(math.Sin(angle*math.Pi/180)) < 0.5 || !end {
		angle += math.Copysign(steep, math.Cos(angle*math.Pi/180))
	}
	tip := drawing.Pt(box.Max.X, 0)
	if end {
		tip = drawing.Polar(box.Max.Y, angle-p.Turn)
		if p.Mirror {
			tip.Y = -tip.Y
		}
	}
	tip = placed.Transform().Point(tip)
	knee := tip.Add(drawing.Polar(st.Part(10), angle))
	return drawing.Item{Role: drawing.RoleDimension, Shape: drawing.Leader{Label: drawing.Label{Text: p.Mark, Number: p.Mark}, Tip: tip, Angle: angle,
		Shelf: drawing.Shelf{Placed: true, Knee: knee, Left: knee.X < tip.X}}}
}

// quantity is how many there are of a part.
func (p Part) quantity(shown map[drawing.Direction]int) int {
	n := p.Quantity
	if n == 0 {
		for _, k := range shown {
			n = max(n, k)
		}
	}
	return n
}

// list draws the list of parts below the drawing.
func (l Layout) list(d *drawing.Drawing, shown map[string]map[drawing.Direction]int) {
	rows := [][3]string{{"Mark", "No.", "Designation"}}
	for _, p := range l.Parts {
		if n := shown[p.Mark]; n != nil {
			rows = append(rows, [3]string{p.Mark, strconv.Itoa(p.quantity(n)), p.Fastener.Designation()})
		}
	}
	if len(rows) == 1 {
		return
	}
	st := l.Style
	h := st.Part(st.Height())
	var edge [4]float64
	for c := range 3 {
		for _, r := range rows {
			edge[c+1] = max(edge[c+1], st.TextWidth(r[c], h)+2*h)
		}
		edge[c+1] += edge[c]
	}
	box := d.Bounds()
	at := drawing.Pt(box.Min.X, box.Min.Y-st.Part(15))
	step := 2 * h
	var v drawing.View
	v.Name = "list"
	line := func(role drawing.Role, x1, y1, x2, y2 float64) {
		v.Items = append(v.Items, drawing.Item{Role: role, Shape: drawing.Line{From: drawing.Pt(x1, y1), To: drawing.Pt(x2, y2)}})
	}
	low := -step * float64(len(rows))
	for i, r := range rows {
		role := drawing.RoleThin
		if i < 2 {
			role = drawing.RoleFrame
		}
		y := -step * float64(i)
		line(role, 0, y, edge[3], y)
		for c, text := range r {
			v.Items = append(v.Items, drawing.Item{Role: drawing.RoleText, Shape: drawing.Text{At: drawing.Pt(edge[c]+h, y-1.5*h), Height: st.Height(), Value: text}})
		}
	}
	line(drawing.RoleFrame, 0, low, edge[3], low)
	for i, x := range edge {
		role := drawing.RoleThin
		if i == 0 || i == 3 {
			role = drawing.RoleFrame
		}
		line(role, x, 0, x, low)
	}
	d.Views = append(d.Views, drawing.Placed{View: v, At: at})
}
