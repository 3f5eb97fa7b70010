package paint

import (
	"math"
	"testing"

	d "boltplate/drawing"
	"boltplate/drawing/lettering"
	"github.com/stretchr/testify/require"
)

func TestErrors(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	shelf := d.Shelf{Placed: true, Knee: d.Pt(1, 1)}
	item := func(s d.Shape) d.Drawing { return d.Drawing{Items: []d.Item{{Shape: s}}} }
	withStyle := func(s d.Style) d.Drawing { return d.Drawing{Style: s} }
	attribute := func(x d.Text) d.Drawing {
		return d.Drawing{Parts: []d.Part{{}, {Name: "p", Attributes: []d.Attribute{{Tag: "A", Text: x}}}}}
	}
	label := d.Label{Text: "M20"}
	for _, c := range []struct {
		dr   d.Drawing
		want string
	}{
		{item(d.Line{To: d.Pt(nan, 0)}), "item 0, Line.To.X = NaN: is not a finite number below 1e12"},
		{item(d.Line{From: d.Pt(0, inf)}), "item 0, Line.From.Y = +Inf: is not"},
		{item(d.Line{From: d.Pt(0, -2e12)}), "Line.From.Y = -2e+12: is not"},
		{item(d.Circle{Radius: -1}), "Circle.Radius = -1: is negative"},
		{item(d.Circle{Radius: inf}), "Circle.Radius = +Inf: is not"},
		{item(d.Arc{Radius: 1, End: nan}), "Arc.End = NaN"},
		{item(d.Arc{Radius: -1}), "Arc.Radius = -1: is negative"},
		{item(d.Ellipse{Major: d.Pt(1, 0), Ratio: 1.1}), "Ellipse.Ratio = 1.1: is not above 0 and at most 1"},
		{item(d.Ellipse{Major: d.Pt(1, 0)}), "Ellipse.Ratio = 0: is not above 0"},
		{item(d.Conic{}), "Conic.Weight = 0: is not above 0"},
		{item(d.Polyline{Vertices: []d.Vertex{{}, {Bulge: nan}}}), "Polyline.Vertices[1].Bulge = NaN"},
		{item(d.Polyline{Vertices: []d.Vertex{{Point: d.Pt(0, nan)}}}), "Polyline.Vertices[0].Y = NaN"},
		{item(d.Hatch{Spacing: 1, Loops: [][]d.Vertex{{}, {{Point: d.Pt(inf, 0)}}}}), "Hatch.Loops[1][0].X = +Inf"},
		{item(d.Hatch{}), "Hatch.Spacing = 0: is too small"},
		{item(d.Text{Height: -1}), "Text.Height = -1: is negative"},
		{item(d.Text{Height: 1e-9}), "Text.Height = 1e-09: is too small"},
		{item(d.Text{Angle: nan}), "Text.Angle = NaN"},
		{item(d.Text{Align: 3}), "Text.Align = 3: is no alignment"},
		{item(d.Linear{Label: label}), `Linear.Placed: the dimension "M20" has no place yet: see drawing.Arrange`},
		{item(d.Linear{Label: label, Side: 4, Placed: true}), "Linear.Side = 4: is no side"},
		{item(d.Aligned{Label: d.Label{Quantity: d.Quantity{Letter: "L"}}}), `the dimension "L" has no place`},
		{item(d.Aligned{Label: d.Label{Quantity: d.Quantity{Value: 7}}}), `the dimension "7" has no place`},
		{item(d.Aligned{Label: d.Label{Quantity: d.Quantity{Value: nan}}}), "Aligned.Label.Quantity.Value = NaN"},
		{item(d.Diameter{Label: label}), `Diameter.Placed: the dimension "M20"`},
		{item(d.Diameter{Label: label, Radius: -1, Shelf: shelf}), "Diameter.Radius = -1"},
		{item(d.Radius{Label: label}), "Radius.Placed"},
		{item(d.Leader{Label: label}), "Leader.Placed"},
		{item(d.Leader{Label: label, Shelf: d.Shelf{Placed: true, Knee: d.Pt(0, nan)}}), "Leader.Shelf.Knee.Y = NaN"},
		{item(d.Angular{Label: label}), "Angular.Placed"},
		{item(d.Angular{Label: label, Placed: true}), "Angular.At = 0: is not above 0"},
		{item(nil), "item 0, Item.Shape: is none of the shapes"},
		{item(&d.Line{}), "Line.Shape: is none of the shapes"},
		{item((*d.Line)(nil)), "Line.Shape: is none of the shapes"},
		{d.Drawing{Items: []d.Item{{Role: d.RoleCount, Shape: d.Line{}}}}, "Line.Role = 12: is no role"},
		{d.Drawing{Views: []d.Placed{{}, {View: d.View{Name: "side", Items: []d.Item{{Shape: d.Line{}}, {Shape: d.Circle{Radius: -2}}}}}}},
			`view 1 ("side"), item 1, Circle.Radius = -2: is negative`},
		{d.Drawing{Views: []d.Placed{{View: d.View{Name: "side"}, Scale: -1}}}, `view 0 ("side"), Placed.Scale = -1: is negative`},
		{d.Drawing{Views: []d.Placed{{Scale: 1e-9}}}, "Placed.Scale = 1e-09: is too small"},
		{d.Drawing{Views: []d.Placed{{Scale: 1e9}}}, "Placed.Scale = 1e+09: is too large"},
		{d.Drawing{Views: []d.Placed{{At: d.Pt(nan, 0)}}}, "Placed.At.X = NaN"},
		{withStyle(d.Style{Scale: -1}), "Style.Scale = -1: is negative"},
		{withStyle(d.Style{Group: nan}), "Style.Group = NaN"},
		{withStyle(d.Style{TextHeight: 1e-9}), "Style.TextHeight = 1e-09: is too small"},
		{attribute(d.Text{At: d.Pt(nan, 0)}), "Part 1.Attributes.Text.At.X = NaN"},
		{attribute(d.Text{Height: -1}), "Part 1.Attributes.Text.Height = -1: is negative"},
		{item(d.Line{To: d.Pt(2e6, 0)}), "Drawing.Bounds: the drawing reaches further than 1e6 mm on paper"},
		{d.Drawing{Views: []d.Placed{{At: d.Pt(9e11, 0), Scale: 10, View: d.View{Items: []d.Item{{Shape: d.Line{To: d.Pt(9e11, 0)}}}}}}}, "Drawing.Bounds"},
	} {
		_, err := Paint(&c.dr, false)
		require.ErrorContains(t, err, c.want)
		var e *d.ValueError
		require.ErrorAs(t, err, &e)
	}
	// Without labels a dimension needs no place.
	dr := item(d.Linear{})
	dr.Style.Labels = d.NoLabels
	p, err := Paint(&dr, false)
	require.NoError(t, err)
	require.True(t, p.Sheets[0].Roles[d.RoleDimension].Empty())
	require.True(t, p.Bounds.Empty())
}

func TestPlace(t *testing.T) {
	p := &Picture{Bounds: d.Rect{Min: d.Pt(-20, 5), Max: d.Pt(80, 45)}}
	for _, c := range []struct {
		s    Sheet
		want Page
	}{
		{Sheet{}, Page{120, 60, d.Pt(30, 5)}},
		{Sheet{Origin: d.Pt(7, 7)}, Page{120, 60, d.Pt(30, 5)}},
		{Sheet{Width: 420, Height: 297}, Page{420, 297, d.Pt(0, 0)}},
		{Sheet{Width: 420, Height: 297, Origin: d.Pt(200, 100)}, Page{420, 297, d.Pt(200, 100)}},
		{Sheet{Width: 210, Origin: d.Pt(50, 7)}, Page{210, 60, d.Pt(50, 5)}},
	} {
		got, err := p.Place(c.s, 5080)
		require.NoError(t, err)
		require.Equal(t, c.want, got)
	}
	empty := &Picture{Bounds: d.EmptyRect()}
	got, err := empty.Place(Sheet{}, 5080)
	require.NoError(t, err)
	require.Equal(t, Page{20, 20, d.Pt(10, 10)}, got)

	for want, s := range map[string]Sheet{
		"Encoder.Width = -1: is no side of a page; give 1 to 5080 mm, or 0 for a page that fits": {Width: -1},
		"Encoder.Width = NaN: ": {Width: math.NaN()}, "Encoder.Height = 0.5: ": {Height: 0.5}, "Encoder.Height = 6000: ": {Height: 6000},
		"Encoder.Origin.Y = +Inf: does not lie on paper": {Width: 1, Height: 1, Origin: d.Pt(0, math.Inf(1))},
	} {
		_, err := p.Place(s, 5080)
		require.ErrorContains(t, err, want)
	}
	wide := &Picture{Bounds: d.Rect{Max: d.Pt(6000, 1)}}
	_, err = wide.Place(Sheet{}, 5080)
	require.EqualError(t, err, "Drawing.Bounds: the page would be 6020 mm long, and its format ends at 5080 mm; give Style.Scale")
}

func TestAppendNumber(t *testing.T) {
	for want, v := range map[string]float64{
		"0": 0, "1": 1, "-1.5": -1.5, "10": 10, "100": 99.9999, "0.001": 0.0006, "-0.12": -0.12, "1000000": 1e6,
	} {
		require.Equal(t, "x"+want, string(AppendNumber([]byte("x"), v, 3)))
	}
	require.Equal(t, "0", string(AppendNumber(nil, math.Copysign(0, -1), 3)))
	require.Equal(t, "0", string(AppendNumber(nil, -0.0001, 3)))
	require.Equal(t, "1200", string(AppendNumber(nil, 1200, 0)))
}

func TestBoxes(t *testing.T) {
	for in, want := range map[string]string{
		"M20 × 90": "M20 × 90", "⌀16": "Ø16", "a\tb\x00c\u0085d\u2028e": "a b c d e", "𝛼": "\ufffd", "Ω±°²": "Ω±°²", "中B": "\ufffdB", "א": "\ufffd",
	} {
		p, err := Paint(&d.Drawing{Items: []d.Item{{Role: d.RoleText, Shape: d.Text{Value: in}}}}, true)
		require.NoError(t, err)
		require.Equal(t, want, p.Sheets[0].Roles[d.RoleText].Texts[0].Value)
	}
}

func TestMissingLetters(t *testing.T) {
	for want, dr := range map[string]*d.Drawing{
		`item 0, Text.Value = "plate 測": the font Liberation Sans lacks '測' (U+6E2C); give one that has them`:                                                        {Items: []d.Item{{Role: d.RoleText, Shape: d.Text{Value: "plate 測"}}}},
		`item 0, Leader.Label = "שלום": holds 'ש' (U+05E9), 'ל' (U+05DC), 'ו' (U+05D5), 'ם' (U+05DD), of a script that runs from right to left or joins its letters`: {Items: []d.Item{{Shape: d.Leader{Label: d.Label{Text: "שלום"}, Shelf: d.Shelf{Placed: true}}}}},
		`Part 1.Attributes.Text.Value = "😀": the font Liberation Sans lacks '😀' (U+1F600)`:                                                                           {Parts: []d.Part{{}, {Attributes: []d.Attribute{{Text: d.Text{Value: "😀"}}}}}},
	} {
		_, err := Paint(dr, false)
		require.ErrorContains(t, err, want)
		var missing *lettering.MissingError
		require.ErrorAs(t, err, &missing)
		_, err = Paint(dr, true)
		require.NoError(t, err)
	}
}

// A plainFont has widths and no outlines.
type plainFont struct{}

func (plainFont) Width(s string) float64 { return float64(len(s)) }

func TestFontOfTheStyle(t *testing.T) {
	_, err := Paint(&d.Drawing{Style: d.Style{Font: plainFont{}}}, false)
	require.EqualError(t, err, "Style.Font = paint.plainFont: has no outlines; give a font of package lettering")
	_, err = Paint(&d.Drawing{Style: d.Style{Font: (*lettering.Font)(nil)}}, false)
	require.Error(t, err)
}
