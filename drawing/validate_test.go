package drawing

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func TestValidateSaysWhere(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	item := func(s Shape) *Drawing { return &Drawing{Items: []Item{{RoleThin, Line{}}, {RoleOutline, s}}} }
	inView := func(s Shape) *Drawing {
		return &Drawing{Views: []Placed{{}, {View: View{Name: "front", Items: []Item{{RoleOutline, s}}}}}}
	}
	tri := []Vertex{{Pt(0, 0), 0}, {Pt(1, 0), 0}, {Pt(0, 1), 0}}
	for want, d := range map[string]*Drawing{
		"Drawing: is nil; there is no drawing":                                         nil,
		"item 1, Line.To.Y = NaN: is not a finite number below 1e12":                   item(Line{To: Pt(0, nan)}),
		`view 1 ("front"), item 0, Arc.Radius = -1: is negative`:                       inView(Arc{Radius: -1}),
		"item 1, Circle.Center.X = 1e+13":                                              item(Circle{Center: Pt(1e13, 0)}),
		"Ellipse.Ratio = 2: is not above 0 and at most 1":                              item(Ellipse{Major: Pt(1, 0), Ratio: 2}),
		"Conic.Weight = 0: is not above 0":                                             item(Conic{}),
		"Polyline.Vertices[1].Bulge = +Inf":                                            item(Polyline{Vertices: []Vertex{{}, {Pt(1, 0), inf}}}),
		"Text.Height = -1: is negative":                                                item(Text{Height: -1}),
		"Text.Align = 7: is no alignment":                                              item(Text{Align: 7}),
		"Hatch.Loops[1][2].X = NaN":                                                    item(Hatch{Spacing: 1, Loops: [][]Vertex{tri, {{}, {}, {Pt(nan, 0), 0}}}}),
		"Hatch.Spacing = 0: is too small for lines that can be told apart":             item(Hatch{Loops: [][]Vertex{tri}}),
		"Hatch.Spacing = 0.001: makes more than the 20000 lines that a hatch may have": item(Hatch{Loops: [][]Vertex{{{Pt(0, 0), 0}, {Pt(100, 0), 0}, {Pt(0, 100), 0}}}, Spacing: 0.001}),
		"Cover.Loops[0][0].X = NaN":                                                    item(Cover{Loops: [][]Vertex{{{Pt(nan, 0), 0}}}}),
		"Linear.Side = 9: is no side":                                                  item(Linear{Side: 9, Placed: true}),
		"Linear.Turn = NaN":                                                            item(Linear{Turn: nan, Placed: true}),
		`Linear.Placed: the dimension "W" has no place yet: see drawing.Arrange`:       item(Linear{Label: Label{Quantity: Quantity{Letter: "W"}}}),
		`Angular.Placed: the dimension "0" has no place yet`:                           item(Angular{}),
		"Angular.At = 0: is not above 0":                                               item(Angular{Placed: true}),
		"Diameter.Start = NaN":                                                         item(Diameter{Start: nan, Shelf: Shelf{Placed: true}}),
		"Leader.Shelf.Knee.X = -Inf":                                                   item(Leader{Shelf: Shelf{Placed: true, Knee: Pt(-inf, 0)}}),
		"Leader.Label.Symbol = 99: is no symbol":                                       item(Leader{Label: Label{Symbol: 99}, Shelf: Shelf{Placed: true}}),
		"item 1, Item.Shape: is none of the shapes of package drawing":                 item(nil),
		"Line.Shape: is none of the shapes":                                            item(&Line{}),
		"item 0, Line.Role = 99: is no role":                                           {Items: []Item{{99, Line{}}}},
		`view 0 ("side"), Placed.Scale = -1: is negative`:                              {Views: []Placed{{View: View{Name: "side"}, Scale: -1}}},
		"Placed.Turn = NaN":                                                            {Views: []Placed{{Turn: nan}}},
		"Placed.At.X = NaN":                                                            {Views: []Placed{{At: Pt(nan, 0)}}},
		"Placed.Scale = 100000: times Style.Scale is no scale":                         {Style: Style{Scale: 100}, Views: []Placed{{Scale: 1e5}}},
		"Style.Scale = 1e-09: is too small":                                            {Style: Style{Scale: 1e-9}},
		"Style.Group = 1e+09: is too large":                                            {Style: Style{Group: 1e9}},
		"Style.Labels = 9: is no way to label":                                         {Style: Style{Labels: 9}},
		"Part 1.Attributes.Text.Angle = NaN":                                           {Parts: []Part{{}, {Attributes: []Attribute{{Text: Text{Angle: nan}}}}}},
		"Part 0.At.Y = +Inf":                                                           {Parts: []Part{{At: Pt(0, inf)}}},
	} {
		err := d.Validate()
		assert.ErrorContains(t, err, want)
		var e *ValueError
		assert.ErrorAs(t, err, &e)
	}
	assert.NoError(t, (&Drawing{}).Validate())
	assert.NoError(t, (&Drawing{Style: Style{Labels: NoLabels}, Items: []Item{{0, Linear{}}}}).Validate(), "what is not drawn needs no place")
}

// wild makes numbers of every kind.
func wild(t *rapid.T) float64 {
	return rapid.OneOf(rapid.Float64(), rapid.Float64Range(-100, 100), rapid.SampledFrom([]float64{0, math.NaN(), math.Inf(1), math.Inf(-1), 1e308, 1e-308, -1})).Draw(t, "number")
}

func wildShape(t *rapid.T) Shape {
	p := func() Point { return Pt(wild(t), wild(t)) }
	vs := func() []Vertex {
		out := make([]Vertex, rapid.IntRange(0, 4).Draw(t, "vertices"))
		for i := range out {
			out[i] = Vertex{p(), wild(t)}
		}
		return out
	}
	yes := func() bool { return rapid.Bool().Draw(t, "yes") }
	b := func() uint8 { return rapid.Uint8().Draw(t, "byte") }
	label := func() Label {
		return Label{Quantity: Quantity{Letter: rapid.String().Draw(t, "letter"), Value: wild(t), Unit: Unit(b()), Status: Status(b())}, Symbol: Symbol(b()), Reference: yes(), Number: rapid.String().Draw(t, "number")}
	}
	shelf := func() Shelf { return Shelf{yes(), p(), yes()} }
	switch rapid.IntRange(0, 15).Draw(t, "shape") {
	case 0:
		return Line{p(), p()}
	case 1:
		return Arc{p(), wild(t), wild(t), wild(t)}
	case 2:
		return Circle{p(), wild(t)}
	case 3:
		return Ellipse{p(), p(), wild(t), wild(t), wild(t)}
	case 4:
		return Conic{p(), p(), p(), wild(t)}
	case 5:
		return Polyline{vs(), yes()}
	case 6:
		return Text{p(), wild(t), wild(t), wild(t), Align(b()), rapid.Bool().Draw(t, "hang"), rapid.String().Draw(t, "text")}
	case 7:
		return Hatch{[][]Vertex{vs(), vs()}, wild(t), wild(t), yes()}
	case 8:
		return Cover{[][]Vertex{vs()}}
	case 9:
		return Linear{Label: label(), From: p(), To: p(), Side: Side(b()), Turn: wild(t), Placed: yes(), At: wild(t), TextAt: wild(t), Outside: yes()}
	case 10:
		return Aligned{Label: label(), From: p(), To: p(), Side: Side(b()), Placed: yes(), At: wild(t), TextAt: wild(t)}
	case 11:
		return Diameter{Label: label(), Center: p(), Radius: wild(t), Angle: wild(t), Start: wild(t), End: wild(t), Shelf: shelf()}
	case 12:
		return Radius{Label: label(), Center: p(), Radius: wild(t), Angle: wild(t), Start: wild(t), End: wild(t), Shelf: shelf()}
	case 13:
		return Angular{Label: label(), Vertex: p(), Start: wild(t), End: wild(t), From: wild(t), To: wild(t), Placed: yes(), At: wild(t), TextAt: wild(t)}
	case 14:
		return Leader{Label: label(), Tip: p(), Angle: wild(t), Shelf: shelf()}
	}
	return nil
}

// TestNothingPanics: whatever a view holds and a style says, nothing panics or
// runs on for ever; Validate is what says that it is wrong.
func TestNothingPanics(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		st := Style{Scale: wild(t), Group: wild(t), TextHeight: wild(t), Labels: Labels(rapid.Uint8Range(0, 6).Draw(t, "labels")), DecimalComma: rapid.Bool().Draw(t, "comma")}
		tr := Transform{rapid.Bool().Draw(t, "mirror"), wild(t), wild(t), Pt(wild(t), wild(t))}
		v := View{Name: "wild"}
		for range rapid.IntRange(0, 5).Draw(t, "items") {
			v.Items = append(v.Items, Item{Role(rapid.Uint8Range(0, 12).Draw(t, "role")), wildShape(t)})
		}
		w := Arrange(v, st)
		w.Apply(tr)
		w.Bounds(st)
		w.Outline()
		for _, it := range w.Items {
			Expand(it.Shape, st)
			Flatten(it.Shape, wild(t))
			ShapeName(it.Shape)
		}
		var outlines []Polyline
		if err := (&Drawing{Items: v.Items, Style: Style{Labels: NoLabels}}).Validate(); err == nil {
			outlines = v.Silhouette(0.01)
			Trim(v.Items, outlines, Style{})
		}
		d := &Drawing{Style: st, Views: []Placed{{View: w, At: Pt(wild(t), wild(t)), Scale: wild(t), Turn: wild(t)}}}
		d.Bounds()
		if err := d.Validate(); err != nil {
			var e *ValueError
			assert.ErrorAs(t, err, &e)
			_ = e.Error()
		}
		_ = (&Drawing{}).Include(d, tr)
	})
}

func TestInclude(t *testing.T) {
	o := &Drawing{
		Style: Style{Scale: 0.5}, Views: []Placed{{View: ParseView("line 0 0 10 0"), At: Pt(5, 5), Turn: 30}},
		Items: []Item{{RoleText, Text{At: Pt(1, 2), Value: "caption"}}},
		Parts: []Part{{Name: "PART", At: Pt(1, 1), Attributes: []Attribute{{Tag: "MARK", Text: Text{At: Pt(2, 2)}}}}},
	}
	tr := Transform{Mirror: true, Scale: 0.5, Turn: 90, Move: Pt(100, 0)}
	d := &Drawing{}
	assert.NoError(t, d.Include(o, tr))
	assert.Len(t, d.Views, 2)
	// A point goes where both transforms take it.
	for _, p := range []Point{{0, 0}, {10, 0}, {3, -7}} {
		samePoint(t, tr.Point(o.Views[0].Transform().Point(p)), d.Views[0].Transform().Point(p))
	}
	assert.Equal(t, o.Items, d.Views[1].View.Items)
	samePoint(t, tr.Point(Pt(2, 2)), d.Parts[0].Attributes[0].Text.At)
	samePoint(t, Pt(2, 2), o.Parts[0].Attributes[0].Text.At, "the other drawing is as it was")

	assert.ErrorContains(t, d.Include(o, Transform{}), "Style.Scale = 0.5: is not the scale 1 that the drawing would have in this one")
	o.Style.TextHeight = 5
	assert.ErrorContains(t, d.Include(o, tr), "Style.TextHeight = 5")
	assert.ErrorContains(t, d.Include(nil, tr), "is nil")
	assert.Len(t, d.Views, 2, "nothing is added")
}

func TestThenDoesBoth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := randomTransform(t), randomTransform(t)
		p := Pt(3, -4)
		samePoint(t, b.Point(a.Point(p)), a.Then(b).Point(p))
	})
}

// TestTurnedDimensionsStayTrue: whatever a view is turned by, its linear
// dimensions stand on the size that they say, along the direction in which they
// measured it.
func TestTurnedDimensionsStayTrue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := Arrange(RandomView(t), Style{})
		tr := Transform{Mirror: rapid.Bool().Draw(t, "mirror"), Turn: rapid.Float64Range(-720, 720).Draw(t, "turn"), Move: Pt(7, -3)}
		if rapid.Bool().Draw(t, "eighths") {
			tr.Turn = 45 * math.Round(tr.Turn/45)
		}
		w := v.Apply(tr)
		for i, it := range v.Items {
			d, ok := it.Shape.(Linear)
			if !ok {
				continue
			}
			e := w.Items[i].Shape.(Linear)
			assert.LessOrEqual(t, math.Abs(e.Turn), 45+1e-9)
			from, to := d.Measured()
			gotFrom, gotTo := e.Measured()
			samePoint(t, tr.Point(from), gotFrom)
			samePoint(t, tr.Point(to), gotTo)
			assert.InDelta(t, d.Label.Quantity.Value, gotTo.Sub(gotFrom).Len(), 1e-9)
			x, _ := Expand(d, Style{})
			y, _ := Expand(e, Style{})
			for k, l := range x.Lines() {
				samePoint(t, tr.Point(l.From), y.Lines()[k].From)
				samePoint(t, tr.Point(l.To), y.Lines()[k].To)
			}
			text, _ := y.Text()
			assert.True(t, text.Angle > -90-1e-9 && text.Angle <= 90+1e-9, "%g", text.Angle)
		}
		// Arranged after it was turned, it stays true too.
		for _, it := range Arrange(RandomView(t).Apply(tr), Style{}).Items {
			if d, ok := it.Shape.(Linear); ok {
				from, to := d.Measured()
				assert.InDelta(t, d.Label.Quantity.Value, to.Sub(from).Len(), 1e-9)
			}
		}
	})
}
