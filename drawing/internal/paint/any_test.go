package paint_test

import (
	"errors"
	"math"
	"testing"

	"boltplate/drawing/pdf"
	"boltplate/drawing/svg"

	d "boltplate/drawing"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A maker draws random drawings, with numbers of every size, and now and then
// one that cannot be drawn.
type maker struct {
	*rapid.T
	hostile bool
	bad     bool // made a number that cannot be drawn
}

func (m *maker) num() float64 {
	switch rapid.IntRange(0, 40).Draw(m.T, "size") {
	case 0:
		if m.hostile {
			m.bad = true
			return rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e13, 1e9}).Draw(m.T, "bad")
		}
	case 1, 2, 3:
		return rapid.SampledFrom([]float64{0, math.Copysign(0, -1), 1e-9, -1e-7, 1e-300, 360, 90, -720}).Draw(m.T, "odd")
	}
	return rapid.Float64Range(-300, 300).Draw(m.T, "num")
}

func (m *maker) size() float64  { return math.Abs(m.num()) }
func (m *maker) point() d.Point { return d.Pt(m.num(), m.num()) }
func (m *maker) yes() bool      { return rapid.Bool().Draw(m.T, "yes") }
func (m *maker) ratio() float64 { return rapid.Float64Range(0.001, 1).Draw(m.T, "ratio") }

func (m *maker) string() string {
	return rapid.StringOfN(rapid.RuneFrom([]rune("aZ09 <&>\"'()\\]Ø°€Ω𝛼⌀\r\n\x00\u2028\ufffe\U0010ffff")), 0, 12, -1).Draw(m.T, "string") +
		rapid.SampledFrom([]string{"", "\xff", "\xe2\x82", "\xf0"}).Draw(m.T, "broken")
}

func (m *maker) vertices() []d.Vertex {
	vs := make([]d.Vertex, rapid.IntRange(0, 5).Draw(m.T, "vertices"))
	for i := range vs {
		vs[i].Point = m.point()
		if m.yes() {
			vs[i].Bulge = rapid.SampledFrom([]float64{-3, -1, -0.4142, -0.01, 1e-12, 0.01, 0.4142, 1, 3}).Draw(m.T, "bulge")
		}
	}
	return vs
}

func (m *maker) text() d.Text {
	return d.Text{At: m.point(), Angle: m.num(), Align: d.Align(rapid.IntRange(0, 2).Draw(m.T, "align")), Hang: rapid.Bool().Draw(m.T, "hang"), Value: m.string()}
}

func (m *maker) label() d.Label {
	return d.Label{Text: m.string(), Symbol: d.Symbol(rapid.IntRange(0, 3).Draw(m.T, "symbol")), Reference: m.yes()}
}

func (m *maker) shape() d.Shape {
	shelf := func() d.Shelf { return d.Shelf{Placed: true, Knee: m.point(), Left: m.yes()} }
	switch rapid.IntRange(0, 14).Draw(m.T, "kind") {
	case 13:
		return d.Cover{Loops: [][]d.Vertex{m.vertices(), m.vertices()}}
	case 0:
		return d.Arc{Center: m.point(), Radius: m.size(), Start: m.num(), End: m.num()}
	case 1:
		return d.Circle{Center: m.point(), Radius: m.size()}
	case 2:
		return d.Ellipse{Center: m.point(), Major: m.point(), Ratio: m.ratio(), Start: m.num(), End: m.num()}
	case 3:
		return d.Conic{From: m.point(), Control: m.point(), To: m.point(), Weight: math.Pow(10, 6*m.ratio()-3)}
	case 4:
		return d.Polyline{Vertices: m.vertices(), Closed: m.yes()}
	case 5:
		return m.text()
	case 6:
		return d.Hatch{Loops: [][]d.Vertex{m.vertices(), m.vertices()}, Angle: m.num(), Spacing: 0.5 + 3*m.ratio(), Solid: m.yes()}
	case 7:
		return d.Linear{Label: m.label(), From: m.point(), To: m.point(), Side: d.Side(rapid.IntRange(0, 3).Draw(m.T, "side")),
			Placed: true, At: m.num(), TextAt: m.num(), Outside: m.yes(), HideFrom: m.yes(), HideTo: m.yes()}
	case 8:
		return d.Aligned{Label: m.label(), From: m.point(), To: m.point(), Placed: true, At: m.num(), TextAt: m.num(), Outside: m.yes()}
	case 9:
		return d.Diameter{Label: m.label(), Center: m.point(), Radius: m.size(), Shelf: shelf()}
	case 10:
		return d.Radius{Label: m.label(), Center: m.point(), Radius: m.size(), Angle: m.num(), Shelf: shelf()}
	case 11:
		return d.Angular{Label: m.label(), Vertex: m.point(), Start: m.num(), End: m.num(), From: m.size(), To: m.size(),
			Placed: true, At: 1 + m.size(), Outside: m.yes()}
	case 12:
		return d.Leader{Label: m.label(), Tip: m.point(), Shelf: shelf()}
	}
	return d.Line{From: m.point(), To: m.point()}
}

func (m *maker) items() []d.Item {
	items := make([]d.Item, rapid.IntRange(0, 6).Draw(m.T, "items"))
	for i := range items {
		items[i] = d.Item{Role: d.Role(rapid.IntRange(0, int(d.RoleCount)-1).Draw(m.T, "role")), Shape: m.shape()}
	}
	return items
}

func (m *maker) drawing() *d.Drawing {
	sample := func(vs ...float64) float64 { return rapid.SampledFrom(vs).Draw(m.T, "of") }
	dr := &d.Drawing{
		Style: d.Style{Scale: sample(0, 0.1, 0.5, 2), Group: sample(0, 0.7), Labels: d.Labels(sample(0, 0, 1, 3))},
		Items: m.items(),
	}
	for range rapid.IntRange(0, 2).Draw(m.T, "views") {
		dr.Views = append(dr.Views, d.Placed{View: d.View{Name: m.string(), Items: m.items()}, At: m.point(), Mirror: m.yes(), Scale: sample(0, 1, 0.5, 0.2), Turn: sample(0, 0, 90, 30), Block: m.string()})
	}
	dr.Parts = []d.Part{{Attributes: []d.Attribute{{Tag: "TAG", Text: m.text(), Hidden: m.yes()}}}}
	return dr
}

// TestAnyDrawing: whatever is drawn, both files can be read back and show the
// same, or nothing is written and the error says where a number is that cannot
// be drawn.
func TestAnyDrawing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := maker{T: t, hostile: rapid.IntRange(0, 4).Draw(t, "hostile") == 0}
		dr, title := m.drawing(), m.string()
		s, err := svg.Encoder{Title: title, Boxes: true}.Append(nil, dr)
		p, err2 := pdf.Encoder{Title: title, Boxes: true}.Append(nil, dr)
		if err != nil || err2 != nil {
			var e *d.ValueError
			require.True(t, errors.As(errors.Join(err, err2), &e), "%v, %v", err, err2)
			require.True(t, m.bad, "%v, %v", err, err2)
			return
		}
		a, bs := readSVG(t, s), readPDF(t, p)
		require.Len(t, bs, 1)
		b := bs[0]
		require.InDelta(t, a.width, b.width, within)
		require.InDelta(t, a.height, b.height, within)
		require.Len(t, b.strokes, len(a.strokes))
		for i := range a.strokes {
			samePoints(t, a.strokes[i].points, b.strokes[i].points)
			require.InDelta(t, a.strokes[i].width, b.strokes[i].width, 0.001)
			require.InDeltaSlice(t, a.strokes[i].dashes, b.strokes[i].dashes, 0.001)
		}
		require.Len(t, b.fills, len(a.fills))
		for i := range a.fills {
			samePoints(t, a.fills[i], b.fills[i])
		}
		require.Len(t, b.covers, len(a.covers))
		for i := range a.covers {
			samePoints(t, a.covers[i], b.covers[i])
		}
		require.Len(t, b.texts, len(a.texts))
		for i, x := range a.texts {
			require.Equal(t, x.value, b.texts[i].value)
			samePoints(t, []d.Point{x.at}, []d.Point{b.texts[i].at})
			require.InDelta(t, 0, math.Remainder(x.angle-b.texts[i].angle, 360), 1e-3)
		}
	})
}

func samePoints(t require.TestingT, a, b []d.Point) {
	require.Len(t, b, len(a))
	for i := range a {
		require.Less(t, a[i].Sub(b[i]).Len(), within)
	}
}
