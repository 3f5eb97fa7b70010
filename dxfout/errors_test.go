package dxfout

import (
	"bytes"
	"errors"
	"io"
	"math"
	"strings"
	"testing"

	d "boltplate/drawing"
	"github.com/stretchr/testify/require"
)

func TestErrors(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	shelf := d.Shelf{Placed: true, Knee: d.Pt(1, 1)}
	item := func(s d.Shape) d.Drawing { return d.Drawing{Items: []d.Item{{}, {Shape: s}}[1:]} }
	withStyle := func(s d.Style) d.Drawing { return d.Drawing{Style: s} }
	withPart := func(p d.Part) d.Drawing { return d.Drawing{Parts: []d.Part{p}} }
	attribute := func(a d.Attribute) d.Drawing { return withPart(d.Part{Name: "p", Attributes: []d.Attribute{a}}) }
	property := func(k, v string) d.Drawing {
		return withPart(d.Part{Name: "p", Properties: []d.Property{{Key: k, Value: v}}})
	}
	long := strings.Repeat("x", 251)
	label := d.Label{Text: "M20"}
	for _, c := range []struct {
		dr   d.Drawing
		want string
	}{
		{item(d.Line{To: d.Pt(nan, 0)}), "item 0, Line.To.X = NaN: is not a finite number below 1e12"},
		{item(d.Line{From: d.Pt(0, inf)}), "item 0, Line.From.Y = +Inf: is not"},
		{item(d.Line{From: d.Pt(0, -2e12)}), "Line.From.Y = -2e+12: is not"},
		{item(d.Circle{Radius: -1}), "Circle.Radius = -1: is negative"},
		{item(d.Arc{Radius: 1, End: nan}), "Arc.End = NaN"},
		{item(d.Arc{Radius: -1}), "Arc.Radius = -1: is negative"},
		{item(d.Ellipse{Major: d.Pt(1, 0), Ratio: 1.1}), "Ellipse.Ratio = 1.1: is not above 0 and at most 1"},
		{item(d.Ellipse{Major: d.Pt(1, 0)}), "Ellipse.Ratio = 0: is not above 0"},
		{item(d.Conic{}), "Conic.Weight = 0: is not above 0"},
		{item(d.Polyline{Vertices: []d.Vertex{{}, {Bulge: nan}}}), "Polyline.Vertices[1].Bulge = NaN"},
		{item(d.Hatch{Spacing: 1, Loops: [][]d.Vertex{{}, {{Point: d.Pt(inf, 0)}}}}), "Hatch.Loops[1][0].X = +Inf"},
		{item(d.Hatch{}), "Hatch.Spacing = 0: is too small"},
		{item(d.Text{Height: -1}), "Text.Height = -1: is negative"},
		{item(d.Text{Align: 3}), "Text.Align = 3: is no alignment"},
		{item(d.Linear{Label: label}), `Linear.Placed: the dimension "M20" has no place yet: see drawing.Arrange`},
		{item(d.Linear{Label: label, Side: 4, Placed: true}), "Linear.Side = 4: is no side"},
		{item(d.Aligned{Label: d.Label{Quantity: d.Quantity{Letter: "L"}}}), `the dimension "L" has no place`},
		{item(d.Diameter{Label: label}), `Diameter.Placed: the dimension "M20"`},
		{item(d.Diameter{Label: label, Radius: -1, Shelf: shelf}), "Diameter.Radius = -1"},
		{item(d.Radius{Label: label}), "Radius.Placed"},
		{item(d.Leader{Label: label}), "Leader.Placed"},
		{item(d.Leader{Label: d.Label{Text: long}, Shelf: shelf}), "Leader.Label.Text"},
		{item(d.Angular{Label: label}), "Angular.Placed"},
		{item(d.Angular{Label: label, Placed: true}), "Angular.At = 0: is not above 0"},
		{item(nil), "Item.Shape: is none of the shapes"},
		{item(&d.Line{}), "Line.Shape: is none of the shapes"},
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
		{withStyle(d.Style{Scale: 1e9}), "Style.Scale = 1e+09: is too large"},
		{item(d.Text{Height: 1e-9}), "Text.Height = 1e-09: is too small"},
		{withPart(d.Part{At: d.Pt(nan, 0)}), "Part 0.At.X = NaN"},
		{attribute(d.Attribute{Tag: "A B"}), `Part 0.Attributes.Tag = "A B": is no tag`},
		{attribute(d.Attribute{Tag: "A\n0"}), `is no tag`},
		{attribute(d.Attribute{}), `is no tag`},
		{attribute(d.Attribute{Tag: "A", Prompt: long}), "Attributes.Prompt"},
		{property("", "x"), `Part 0.Properties.Key = "": is empty`},
		{property("a=b", "x"), "holds = or #"},
		{property("k", strings.Repeat("x", 20000)), "Properties: take"},
		{d.Drawing{Views: []d.Placed{{At: d.Pt(9e11, 0), Scale: 10, View: d.View{Items: []d.Item{{Shape: d.Line{To: d.Pt(9e11, 0)}}}}}}}, "Drawing.Bounds"},
	} {
		dst := []byte("kept")
		got, err := Encoder{}.Append(dst, &c.dr)
		require.ErrorContains(t, err, c.want)
		var e *ValueError
		require.ErrorAs(t, err, &e)
		require.Equal(t, "kept", string(got))
		var w bytes.Buffer
		require.Error(t, Encode(&w, &c.dr))
		require.Zero(t, w.Len(), "nothing is written")
	}
	require.Error(t, Encode(io.Discard, nil), "no drawing at all")
	require.Error(t, Encoder{}.Check(nil))
	_, err := Encoder{Version: R12}.Append(nil, &d.Drawing{Items: []d.Item{{Shape: d.Text{Value: long}}}})
	require.ErrorContains(t, err, "Text.Value = \"xxx")
	_, err = Encoder{Font: long}.Append(nil, &d.Drawing{})
	require.ErrorContains(t, err, "Encoder.Font")
	// Without labels a dimension needs no place.
	dr := item(d.Linear{})
	dr.Style.Labels = d.NoLabels
	require.Empty(t, entitiesOf(t, &dr))
}

// A failing writer takes so many bytes and then none.
type failing struct {
	left, calls int
	short       bool
}

var errFull = errors.New("full")

func (f *failing) Write(p []byte) (int, error) {
	f.calls++
	if len(p) <= f.left {
		f.left -= len(p)
		return len(p), nil
	}
	if f.short {
		return f.left, nil
	}
	return f.left, errFull
}

func TestWriteErrorStays(t *testing.T) {
	f := &failing{left: 30000}
	require.ErrorIs(t, Encode(f, grid(1000)), errFull)
	require.LessOrEqual(t, f.calls, 4, "nothing is written after the first error")
	require.ErrorContains(t, Encode(&failing{short: true}, grid(10)), "short write")
}

// A sizes remembers the largest write.
type sizes struct{ largest, total int }

func (s *sizes) Write(p []byte) (int, error) {
	s.largest, s.total = max(s.largest, len(p)), s.total+len(p)
	return len(p), nil
}

// TestBufferIsBounded with shapes of very many vertices too.
func TestBufferIsBounded(t *testing.T) {
	big := d.Polyline{Vertices: make([]d.Vertex, 100000)}
	for i := range big.Vertices {
		big.Vertices[i] = d.Vertex{Point: d.Pt(float64(i)/7, float64(i)/3), Bulge: 0.123456789}
	}
	dr := sample()
	dr.Items = append(dr.Items, d.Item{Shape: big}, d.Item{Shape: d.Hatch{Loops: [][]d.Vertex{big.Vertices}, Spacing: 2}})
	var s sizes
	require.NoError(t, Encode(&s, dr))
	require.Greater(t, s.total, 10<<20)
	require.LessOrEqual(t, s.largest, bufferSize)
}
