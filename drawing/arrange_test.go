package drawing

import (
	"math"
	"testing"

	"boltplate/internal/plane"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func arranged(notation string, st Style) View { return Arrange(ParseView(notation), st) }

// linears returns the linear dimensions of a view.
func linears(v View) []Linear {
	var out []Linear
	for _, it := range v.Items {
		if d, ok := it.Shape.(Linear); ok {
			out = append(out, d)
		}
	}
	return out
}

// off returns how far, in mm on paper, the dimension line is from the outline.
func off(d Linear, outline Rect, st Style) float64 {
	switch d.Side {
	case Below:
		return (outline.Min.Y - d.At) * st.PaperScale()
	case Above:
		return (d.At - outline.Max.Y) * st.PaperScale()
	case Left:
		return (outline.Min.X - d.At) * st.PaperScale()
	}
	return (d.At - outline.Max.X) * st.PaperScale()
}

func TestArrangeLeavesItsInputAlone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := RandomView(t)
		before := View{v.Name, v.Direction, append([]Item(nil), v.Items...)}
		labels := rapid.SampledFrom([]Labels{Numbers, Rules, Letters, NoLabels}).Draw(t, "labels")
		first := Arrange(v, Style{Labels: labels})
		assert.Equal(t, before, v)
		assert.Equal(t, first, Arrange(v, Style{Labels: labels}), "the same input gives the same view")
	})
}

func TestArrangeKeepsWhatIsNoDimension(t *testing.T) {
	for _, l := range []Labels{Numbers, NoLabels} {
		v, got := ParseView(Plate), arranged(Plate, Style{Labels: l})
		assert.Equal(t, "front", got.Name)
		assert.Equal(t, v.Items[:3], got.Items[:3])
		if l == NoLabels {
			assert.Len(t, got.Items, 3, "no dimensions at all")
			continue
		}
		assert.Len(t, got.Items, len(v.Items))
		for _, it := range got.Items[3:] {
			_, ok := Expand(it.Shape, Style{})
			assert.True(t, ok, "%T is not placed", it.Shape)
		}
	}
	assert.Empty(t, Arrange(View{}, Style{}).Items)
}

func TestFirstRowAndSteps(t *testing.T) {
	for _, st := range []Style{{}, {Scale: 0.5}, {Scale: 2}, {Scale: 0.1}, {TextHeight: 5}, {TextHeight: 7, Scale: 0.2}} {
		for _, side := range []struct{ notation, name string }{
			{"below 0 0 100 0; below 0 0 300 0; below 0 0 200 0", "below"},
			{"above 0 300 100 300; above 0 300 300 300; above 0 300 200 300", "above"},
			{"left 0 0 0 100; left 0 0 0 300; left 0 0 0 200", "left"},
			{"right 300 0 300 100; right 300 0 300 300; right 300 0 300 200", "right"},
		} {
			v := arranged("box 0 0 300 300;"+side.notation, st)
			outline := Rect{Pt(0, 0), Pt(300, 300)}
			// Written as short, long, middle: they stand in the rows 0, 2, 1.
			for i, row := range []float64{0, 2, 1} {
				assert.InDelta(t, st.FirstRow()+row*st.RowStep(), off(linears(v)[i], outline, st), 1e-9, "%s, dimension %d, %+v", side.name, i, st)
			}
		}
	}
	v := arranged("box 0 0 80 50; axis -30 25 110 25; axis 40 -30 40 80; below 0 0 80 0", Style{})
	assert.InDelta(t, -10, linears(v)[0].At, 1e-9, "centre lines are no outline")
	v = arranged("below 0 0 80 0", Style{})
	assert.InDelta(t, -10, linears(v)[0].At, 1e-9, "no outline: from the origin")
}

func TestRowsAreEqualSteps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := RandomView(t)
		st := Style{Scale: rapid.SampledFrom([]float64{1, 0.5, 2}).Draw(t, "scale")}
		outline := v.Outline()
		ls := linears(Arrange(v, st))
		for i, d := range ls {
			row := (off(d, outline, st) - st.FirstRow()) / st.RowStep()
			assert.InDelta(t, math.Round(row), row, 1e-9)
			assert.GreaterOrEqual(t, row, -1e-9)
			// What lies within another dimension of its side is nearer, where
			// both have room for their arrows and labels.
			for _, o := range ls[i+1:] {
				in, out := d, o
				if in.span() > out.span() {
					in, out = out, in
				}
				ilo, ihi := in.ends()
				olo, ohi := out.ends()
				if in.Side == out.Side && olo <= ilo && ihi <= ohi && (ihi-ilo)*st.PaperScale() >= 20 {
					assert.Less(t, off(in, outline, st), off(out, outline, st), "%g-%g within %g-%g", ilo, ihi, olo, ohi)
				}
			}
		}
	})
}

func TestArrowsOutsideForWantOfRoom(t *testing.T) {
	// 2.5 arrows of 3.5 are 8.75 mm on paper.
	for _, c := range []struct {
		length, scale float64
		want          bool
	}{{8.7, 1, true}, {8.8, 1, false}, {17.4, 0.5, true}, {17.6, 0.5, false}, {4.3, 2, true}, {4.4, 2, false}} {
		st := Style{Scale: c.scale}
		l := Label{Quantity: Quantity{Value: c.length}}
		v := Arrange(View{Items: []Item{
			{RoleDimension, Linear{Label: l, To: Pt(c.length, 0)}},
			{RoleDimension, Linear{Label: l, To: Pt(0, c.length), Side: Left}},
			{RoleDimension, Aligned{Label: l, To: Polar(c.length, 30)}},
		}}, st)
		assert.Equal(t, c.want, v.Items[0].Shape.(Linear).Outside, "%+v", c)
		assert.Equal(t, c.want, v.Items[1].Shape.(Linear).Outside, "%+v", c)
		assert.Equal(t, c.want, v.Items[2].Shape.(Aligned).Outside, "%+v", c)
	}
}

func TestNarrowLabelsStandBeside(t *testing.T) {
	d := linears(arranged("box 0 0 80 50; below 0 0 4 0 =12.75", Style{}))[0]
	x, _ := Expand(d, Style{})
	box, _ := x.LabelBox()
	assert.True(t, box[1].X < 0 || box[0].X > 4, "no room between the extension lines")
	d = linears(arranged("box 0 0 80 50; below 0 0 80 0", Style{}))[0]
	assert.Equal(t, 40.0, d.TextAt, "in the middle where there is room")
}

// extensions returns the extension lines that are drawn.
func extensions(v View, st Style) []Line {
	var out []Line
	for _, d := range linears(v) {
		x, _ := Expand(d, st)
		out = append(out, x.Lines()[:len(x.Lines())-1]...)
	}
	return out
}

func TestSharedExtensionLinesAreDrawnOnce(t *testing.T) {
	// Both start at the corner: of four extension lines three are drawn, and
	// the long one is the outer dimension's.
	v := arranged("box 0 0 80 50; below 0 0 20 0; below 0 0 80 0", Style{})
	got := extensions(v, Style{})
	assert.Len(t, got, 3)
	assert.Contains(t, got, Line{Pt(0, -2), Pt(0, -20)}, "from the outline past the second row")
	assert.True(t, linears(v)[0].HideFrom)
	assert.False(t, linears(v)[0].HideTo)

	v = arranged("box 0 0 80 50; right 80 0 80 50; right 80 50 80 20; right 80 0 80 35", Style{})
	assert.Len(t, extensions(v, Style{}), 4, "at 0, 20, 35 and 50")
}

func TestExtensionLinesNeverLieOnEachOther(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := RandomView(t)
		st := Style{}
		ls := linears(Arrange(v, st))
		outline := v.Outline()
		for i, d := range ls {
			for _, o := range ls[i+1:] {
				if d.Side == o.Side && (d.span()-o.span())*(off(d, outline, st)-off(o, outline, st)) <= 0 {
					continue // the shorter is not nearer: side by side, or moved out for want of room
				}
				a, _ := Expand(d, st)
				b, _ := Expand(o, st)
				for _, l := range a.Lines() {
					for _, m := range b.Lines() {
						assert.False(t, overlie(l, m), "%v and %v", l, m)
					}
				}
			}
		}
	})
}

// overlie reports whether two lines along the axes have more than a point in
// common.
func overlie(l, m Line) bool {
	lr, mr := l.Bounds(), m.Bounds()
	w := math.Min(lr.Max.X, mr.Max.X) - math.Max(lr.Min.X, mr.Min.X)
	h := math.Min(lr.Max.Y, mr.Max.Y) - math.Max(lr.Min.Y, mr.Min.Y)
	return w > 1e-9 && h >= 0 && lr.Dy() == 0 && mr.Dy() == 0 || h > 1e-9 && w >= 0 && lr.Dx() == 0 && mr.Dx() == 0
}

// sameOnPaper checks that a view arranged at a scale stands on paper as the
// view that is larger by that scale does at full size.
func sameOnPaper(t assert.TestingT, v View, k float64, which func(Shape) bool) {
	want, got := Arrange(v, Style{}), Arrange(v.Scale(1/k), Style{Scale: k}).Scale(k)
	if !assert.Len(t, got.Items, len(want.Items)) {
		return
	}
	for i, it := range want.Items {
		x, ok := Expand(it.Shape, Style{})
		if !ok || !which(it.Shape) {
			continue
		}
		y, _ := Expand(got.Items[i].Shape, Style{})
		sameSet(t, ink(x), ink(y), it.Shape, got.Items[i].Shape)
		a, _ := x.LabelBox()
		b, _ := y.LabelBox()
		sameSet(t, a[:], b[:])
	}
}

func TestArrangeAtScale(t *testing.T) {
	for _, k := range []float64{0.1, 0.2, 0.5, 2, 5, 10} { // ISO 5455
		sameOnPaper(t, ParseView(Plate), k, func(Shape) bool { return true })
	}
	rapid.Check(t, func(t *rapid.T) {
		// Powers of two change no digit.
		k := rapid.SampledFrom([]float64{0.25, 0.5, 2, 4}).Draw(t, "scale")
		sameOnPaper(t, RandomView(t), k, func(s Shape) bool { _, ok := s.(Linear); return ok })
	})
}

func TestShelvesStandOutside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := RandomView(t)
		for _, it := range Arrange(v, Style{}).Items {
			if d, ok := it.Shape.(Leader); ok {
				x, _ := Expand(d, Style{})
				box, _ := x.LabelBox()
				label := Rect{box[0], box[2]}
				assert.False(t, label.Overlaps(v.Outline()), "the label %v on the view", label)
				assert.Equal(t, d.Tip, x.Arrows()[0][0])
			}
		}
	})
}

func TestDiameterOfAnArcTouchesTheArc(t *testing.T) {
	// A thread's root is drawn as three quarters of a circle, from 95 to 5
	// degrees; the arrow is wanted in the gap.
	v := ParseView("circle 0 0 10; dia 0 0 9 50")
	d := v.Items[1].Shape.(Diameter)
	d.Start, d.End = 95, 5
	v.Items[1].Shape = d
	d = Arrange(v, Style{}).Items[1].Shape.(Diameter)
	at := d.Shelf.Knee.Angle()
	assert.False(t, at > 5 && at < 95, "the arrow at %g degrees points at nothing", at)
	x, _ := Expand(d, Style{})
	assert.InDelta(t, 9, x.Arrows()[0][0].Len(), 1e-9)
}

func TestRadiusKeepsItsArrow(t *testing.T) {
	d := arranged("box 0 0 80 50; radius 70 40 10 45", Style{}).Items[1].Shape.(Radius)
	x, _ := Expand(d, Style{})
	samePoint(t, Pt(70, 40).Add(Polar(10, 45)), x.Arrows()[0][0])
}

func TestAlignedKeepsOff(t *testing.T) {
	for _, side := range []Side{Above, Below} {
		v := ParseView("line 0 0 40 30")
		v.Items = append(v.Items, Item{RoleDimension, Aligned{Label: Label{Quantity: Quantity{Value: 50}}, To: Pt(40, 30), Side: side}})
		d := Arrange(v, Style{}).Items[1].Shape.(Aligned)
		assert.InDelta(t, 10, math.Abs(d.At), 1e-9)
		assert.Equal(t, side == Above, d.At > 0, "above is to the left")
		assert.Equal(t, 25.0, d.TextAt)
	}
	// A corner that stands out by 5 beyond the measured edge pushes it off.
	d := arranged("line 0 0 40 0; line 10 0 20 5; aligned 0 0 40 0", Style{}).Items[2].Shape.(Aligned)
	assert.InDelta(t, 15, d.At, 1e-9)
	d = arranged("line 0 0 40 0; circle 20 0 6; aligned 0 0 40 0", Style{}).Items[2].Shape.(Aligned)
	assert.InDelta(t, 16, d.At, 1e-9, "a circle")
	d = arranged("line 0 0 40 0; arc 20 0 7 0 180; aligned 0 0 40 0", Style{}).Items[2].Shape.(Aligned)
	assert.InDelta(t, 17, d.At, 1e-9, "the top of an arc")
	d = arranged("line 0 0 40 0; arc 20 0 7 180 0; aligned 0 0 40 0", Style{}).Items[2].Shape.(Aligned)
	assert.InDelta(t, 10, d.At, 1e-9, "an arc on the other side")
}

func TestAngularStandsOff(t *testing.T) {
	d := arranged("line 0 0 20 0; angle 0 0 0 60 20", Style{}).Items[1].Shape.(Angular)
	assert.True(t, d.Placed)
	assert.InDelta(t, 30, d.At, 1e-9, "10 mm beyond the longer leg")
	assert.False(t, d.Outside, "30 mm at 60 degrees are 31 mm of arc")
	assert.Equal(t, "60°", d.Label.Text)
	d = arranged("line 0 0 20 0; angle 0 0 0 10 20", Style{}).Items[1].Shape.(Angular)
	assert.True(t, d.Outside, "30 mm at 10 degrees are 5.2 mm of arc, less than 8.75")
}

// TestAngularGoesRoundTheOthers: the arc over the end of a cone stands clear of
// the dimension line of its diameter, and no label is on an extension line of
// the angle.
func TestAngularGoesRoundTheOthers(t *testing.T) {
	v := arranged("line 0 -15 0 15; line 0 15 17 5; line 0 -15 17 -5; angle 26 0 150 210 30; left 0 -15 0 15; below 0 -15 9 -5", Style{})
	arc, ok := Expand(v.Items[3].Shape, Style{})
	assert.True(t, ok)
	dia, _ := Expand(v.Items[4].Shape, Style{})
	for _, l := range dia.Lines() {
		for _, p := range []Point{l.From, l.To} {
			assert.Less(t, p.Sub(arc.Arcs()[0].Center).Len(), arc.Arcs()[0].Radius)
		}
	}
	below, _ := Expand(v.Items[5].Shape, Style{})
	box, _ := below.LabelBox()
	for _, l := range arc.Lines() {
		r := Rect{box[0], box[0]}.Including(box[2])
		assert.False(t, plane.SegmentHitsBox(l.From.vec(), l.To.vec(), plane.Box{Min: r.Min.vec(), Max: r.Max.vec()}))
	}
}

// TestTextsOfAViewAreOutline: a dimension keeps clear of the view's own texts.
func TestTextsOfAViewAreOutline(t *testing.T) {
	v := View{Items: []Item{
		{RoleOutline, Line{Pt(0, 0), Pt(60, 0)}},
		{RoleText, Text{At: Pt(0, -12), Height: 5, Value: "a note under the edge"}},
		{RoleDimension, Linear{From: Pt(0, 0), To: Pt(60, 0), Label: Label{Quantity: Quantity{Value: 60}}}},
	}}
	d := Arrange(v, Style{}).Items[2].Shape.(Linear)
	assert.InDelta(t, -12-10, d.At, 1e-9, "the first row is 10 mm from the lowest thing in the view")
}
