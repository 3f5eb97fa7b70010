package drawing

import (
	"fmt"
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// holds checks that r just holds the samples of a curve.
func holds(t assert.TestingT, r Rect, pts []Point, missed float64, what ...any) {
	msg := fmt.Sprintf("%v of %+v", r, what)
	s := EmptyRect()
	for _, p := range pts {
		s = Rect{Pt(math.Min(s.Min.X, p.X), math.Min(s.Min.Y, p.Y)), Pt(math.Max(s.Max.X, p.X), math.Max(s.Max.Y, p.Y))}
	}
	for _, d := range [4]float64{s.Min.X - r.Min.X, s.Min.Y - r.Min.Y, r.Max.X - s.Max.X, r.Max.Y - s.Max.Y} {
		assert.GreaterOrEqual(t, d, -1e-9, msg)
		assert.LessOrEqual(t, d, missed, msg)
	}
}

func TestBoundsHoldTheShape(t *testing.T) {
	for _, s := range shapes() {
		holds(t, bounds(s), samples(s, 2000), 1e-3, s)
		rapid.Check(t, func(t *rapid.T) {
			tr := randomTransform(t)
			tr.Scale, tr.Turn = 1, math.Round(tr.Turn)
			image := Apply(s, tr)
			holds(t, bounds(image), samples(image, 2000), 1e-3, s, tr)
		})
	}
}

func TestBoundsByHand(t *testing.T) {
	for s, want := range map[Shape]Rect{
		Line{Pt(5, 1), Pt(-2, 7)}:                              {Pt(-2, 1), Pt(5, 7)},
		Circle{Pt(1, 2), 3}:                                    {Pt(-2, -1), Pt(4, 5)},
		Arc{Pt(0, 0), 10, 90, 0}:                               {Pt(-10, -10), Pt(10, 10)},
		Arc{Pt(0, 0), 10, 0, 90}:                               {Pt(0, 0), Pt(10, 10)},
		Ellipse{Center: Pt(0, 0), Major: Pt(0, 9), Ratio: 0.5}: {Pt(-4.5, -9), Pt(4.5, 9)},
		Ellipse{Pt(0, 0), Pt(8, 0), 0.5, 0, 90}:                {Pt(0, 0), Pt(8, 4)},
		Conic{Pt(0, 0), Pt(5, 10), Pt(10, 0), 1}:               {Pt(0, 0), Pt(10, 5)}, // a parabola
	} {
		got := bounds(s)
		samePoint(t, want.Min, got.Min, "%v", s)
		samePoint(t, want.Max, got.Max, "%v", s)
	}
	// A half circle of diameter 10 bulges by 5, to the right of its direction
	// if it turns counter-clockwise.
	half := Polyline{Vertices: []Vertex{{Pt(0, 0), 1}, {Pt(10, 0), 0}}}
	got := bounds(half)
	samePoint(t, Pt(0, -5), got.Min)
	samePoint(t, Pt(10, 0), got.Max)
	half.Vertices[0].Bulge = -1
	samePoint(t, Pt(10, 5), bounds(half).Max)
	assert.True(t, bounds(Polyline{}).Empty())
	assert.True(t, bounds(Linear{}).Empty(), "a dimension")
	open := Polyline{Vertices: []Vertex{{Pt(0, 0), 0}, {Pt(10, 0), 1}}}
	assert.Equal(t, Rect{Pt(0, 0), Pt(10, 0)}, bounds(open), "the last bulge of an open one bends nothing")
}

func TestEllipsesOfAnyTurn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.Float64Range(-50, 50)
		angle := rapid.Float64Range(0, 360)
		e := Ellipse{Pt(c.Draw(t, "x"), c.Draw(t, "y")), Pt(c.Draw(t, "mx"), c.Draw(t, "my")), rapid.Float64Range(0.05, 1).Draw(t, "ratio"), angle.Draw(t, "start"), angle.Draw(t, "end")}
		holds(t, e.Bounds(), samples(e, 2000), 1e-3)
		k := rapid.Float64Range(0, 1).Draw(t, "k")
		p := e.At(e.Start + k*turned(e.Start, e.End))
		assert.True(t, p.X >= e.Bounds().Min.X-1e-9 && p.Y <= e.Bounds().Max.Y+1e-9)
	})
	assert.True(t, Ellipse{}.Whole())
	assert.True(t, Ellipse{Start: 30, End: 30}.Whole())
	assert.True(t, Ellipse{Start: 0, End: 360}.Whole())
	assert.False(t, Ellipse{Start: 0, End: 90}.Whole())
}

func TestBulgeArc(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.Float64Range(-50, 50)
		v := Vertex{Pt(c.Draw(t, "x"), c.Draw(t, "y")), rapid.Float64Range(-4, 4).Draw(t, "bulge")}
		to := Pt(c.Draw(t, "tx"), c.Draw(t, "ty"))
		if math.Abs(v.Bulge) < 0.01 || to.Sub(v.Point).Len() < 0.1 {
			t.Skip("as good as straight, or no length")
		}
		a, ok := BulgeArc(v, to)
		assert.True(t, ok)
		tol := 1e-9 * (1 + a.Radius)
		for _, p := range chain([]Vertex{v, {Point: to}}, false, 16) {
			assert.InDelta(t, a.Radius, p.Sub(a.Center).Len(), tol)
		}
		from, end := a.Center.Add(Polar(a.Radius, a.Start)), a.Center.Add(Polar(a.Radius, a.End))
		if v.Bulge < 0 { // an arc is drawn counter-clockwise
			from, end = end, from
		}
		assert.InDelta(t, 0, from.Sub(v.Point).Len(), tol)
		assert.InDelta(t, 0, end.Sub(to).Len(), tol)
		assert.InDelta(t, 4*math.Atan(math.Abs(v.Bulge))*180/math.Pi, turned(a.Start, a.End), 1e-6)
	})
	_, ok := BulgeArc(Vertex{Pt(1, 1), 0}, Pt(2, 2))
	assert.False(t, ok, "straight")
	_, ok = BulgeArc(Vertex{Pt(1, 1), 1}, Pt(1, 1))
	assert.False(t, ok, "no length")
}

func TestRect(t *testing.T) {
	e, r := EmptyRect(), Rect{Pt(0, 0), Pt(4, 3)}
	assert.True(t, e.Empty())
	assert.Equal(t, [2]float64{0, 0}, [2]float64{e.Dx(), e.Dy()})
	assert.False(t, Rect{}.Empty(), "a single point")
	assert.Equal(t, r, e.Union(r))
	assert.Equal(t, Rect{Pt(-1, 0), Pt(4, 9)}, r.Including(Pt(-1, 9)))
	assert.Equal(t, Rect{Pt(-2, -2), Pt(6, 5)}, r.Grown(2))
	assert.Equal(t, [2]float64{4, 3}, [2]float64{r.Dx(), r.Dy()})
	assert.True(t, r.Overlaps(Rect{Pt(3, 2), Pt(9, 9)}))
	assert.False(t, r.Overlaps(Rect{Pt(4, 0), Pt(9, 9)}), "side by side")
	assert.False(t, r.Overlaps(e))
}

func TestPoint(t *testing.T) {
	assert.Equal(t, 5.0, Pt(3, 4).Len())
	assert.Equal(t, Pt(2, 3), Pt(0, 2).Mid(Pt(4, 4)))
	assert.Equal(t, Pt(0, 7), Polar(7, 90))
	assert.Equal(t, 180.0, Pt(-1, 0).Angle())
	assert.Equal(t, -90.0, Pt(0, -2).Angle())
}

func TestTextBox(t *testing.T) {
	st := Style{Scale: 0.5} // paper sizes are twice as large on the part
	w := 2 * TextWidth("M20", 5)
	for _, c := range []struct {
		text Text
		want Rect
	}{
		{Text{At: Pt(10, 20), Height: 5}, Rect{Pt(10, 20), Pt(10+w, 30)}},
		{Text{At: Pt(10, 20), Height: 5, Align: AlignCentre}, Rect{Pt(10-w/2, 20), Pt(10+w/2, 30)}},
		{Text{At: Pt(10, 20), Height: 5, Align: AlignRight}, Rect{Pt(10-w, 20), Pt(10, 30)}},
		{Text{At: Pt(10, 20), Height: 5, Angle: 90}, Rect{Pt(0, 20), Pt(10, 20+w)}},
		{Text{At: Pt(10, 20), Height: 5, Angle: 180, Align: AlignRight}, Rect{Pt(10, 10), Pt(10+w, 20)}},
	} {
		c.text.Value = "M20"
		got := c.text.Bounds(st)
		samePoint(t, c.want.Min, got.Min, "%v", c.text)
		samePoint(t, c.want.Max, got.Max, "%v", c.text)
	}
	assert.InDelta(t, 7, Text{Value: "M20"}.Bounds(st).Dy(), 1e-12, "3.5 mm on paper at 1:2")
}

func TestDrawingBounds(t *testing.T) {
	v := ParseView("box 0 0 40 20")
	d := Drawing{Views: []Placed{{View: v, At: Pt(100, 50)}, {View: v, At: Pt(-10, 0), Scale: 0.5}, {View: View{Name: "empty"}}}}
	assert.Equal(t, Rect{Pt(-10, 0), Pt(140, 70)}, d.Bounds())
	assert.True(t, Drawing{}.Bounds().Empty())

	d.Items = []Item{{RoleFrame, Line{Pt(-20, -20), Pt(0, -20)}}, {RoleText, Text{At: Pt(0, 80), Value: "A", Height: 5}}}
	d.Parts = []Part{{Attributes: []Attribute{
		{Tag: "MARK", Text: Text{At: Pt(0, -40), Value: "B", Height: 5}},
		{Tag: "SIZE", Text: Text{At: Pt(0, -900), Value: "C"}, Hidden: true},
	}}}
	assert.Equal(t, Rect{Pt(-20, -40), Pt(140, 85)}, d.Bounds())
}

// TestDrawingBoundsOfDimensions: the dimension line stands 10 mm of paper below
// the view, and its extension lines run on for 2 mm, whatever the scale at
// which the view is placed.
func TestDrawingBoundsOfDimensions(t *testing.T) {
	for _, k := range []float64{1, 0.5, 2} {
		v := Arrange(ParseView("box 0 0 40 20; below 0 0 40 0"), Style{Scale: k})
		d := Drawing{Views: []Placed{{View: v, At: Pt(0, 100), Scale: k}}}
		got := d.Bounds()
		samePoint(t, Pt(0, 88), got.Min, "%g", k)
		samePoint(t, Pt(40*k, 100+20*k), got.Max, "%g", k)
		d.Style.Labels = NoLabels
		samePoint(t, Pt(0, 100), d.Bounds().Min, "without dimensions")
	}
	v := ParseView("box 0 0 40 20; below 0 0 40 0")
	assert.Equal(t, Rect{Pt(0, 0), Pt(40, 20)}, v.Bounds(Style{}), "not placed")
	v.Items = append(v.Items, Item{RoleText, Text{At: Pt(0, 30), Value: "A", Height: 5}})
	assert.Equal(t, Rect{Pt(0, 0), Pt(40, 35)}, v.Bounds(Style{}))
	assert.Equal(t, Rect{Pt(0, 0), Pt(40, 20)}, v.Outline())
}
