package dxfout

import (
	"errors"
	"math"
	"strings"
	"testing"

	d "boltplate/drawing"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// A maker draws random drawings. Its numbers are of every size that a file can
// hold, and now and then of those that it cannot.
type maker struct {
	*rapid.T
	hostile bool // makes numbers that cannot be written
	bad     bool // made one
}

func (m *maker) num() float64 {
	switch rapid.IntRange(0, 40).Draw(m.T, "size") {
	case 0:
		if !m.hostile {
			return 0
		}
		m.bad = true
		return rapid.SampledFrom([]float64{math.NaN(), math.Inf(1), math.Inf(-1), 1e13}).Draw(m.T, "bad")
	case 1, 2, 3:
		return rapid.SampledFrom([]float64{0, math.Copysign(0, -1), 1e-9, -1e-7, 1e-300, 360, 90, -720, 1e6}).Draw(m.T, "odd")
	}
	return rapid.Float64Range(-500, 500).Draw(m.T, "num")
}

func (m *maker) positive() float64 { return math.Abs(m.num()) }
func (m *maker) point() d.Point    { return d.Pt(m.num(), m.num()) }
func (m *maker) yes() bool         { return rapid.Bool().Draw(m.T, "yes") }

func (m *maker) string() string {
	return rapid.StringOfN(rapid.RuneFrom([]rune("aZ09 ^%\\{}<>[]+UØ°€Ω𝛼\r\n\x00")), 0, 12, -1).Draw(m.T, "string")
}

func (m *maker) vertices() []d.Vertex {
	vs := make([]d.Vertex, rapid.IntRange(0, 5).Draw(m.T, "vertices"))
	for i := range vs {
		vs[i].Point = m.point()
		if m.yes() {
			vs[i].Bulge = rapid.SampledFrom([]float64{-3, -1, -0.4142, -0.01, 0.01, 0.4142, 1, 3}).Draw(m.T, "bulge")
		}
	}
	return vs
}

func (m *maker) text() d.Text {
	return d.Text{At: m.point(), Angle: m.num(), Align: d.Align(rapid.IntRange(0, 2).Draw(m.T, "align")), Hang: rapid.Bool().Draw(m.T, "hang"), Value: m.string()}
}

func (m *maker) label() d.Label {
	return d.Label{Quantity: d.Quantity{Value: m.num()}, Text: m.string(), Symbol: d.Symbol(rapid.IntRange(0, int(d.TaperLeftSymbol)).Draw(m.T, "symbol")), Reference: m.yes()}
}

func (m *maker) shape() d.Shape {
	shelf := func() d.Shelf { return d.Shelf{Placed: true, Knee: m.point(), Left: m.yes()} }
	ratio := func() float64 { return rapid.Float64Range(0.001, 1).Draw(m.T, "ratio") }
	switch rapid.IntRange(0, 14).Draw(m.T, "kind") {
	case 14:
		return d.Cover{Loops: [][]d.Vertex{m.vertices(), m.vertices()}}
	case 0:
		return d.Arc{Center: m.point(), Radius: m.positive(), Start: m.num(), End: m.num()}
	case 1:
		return d.Circle{Center: m.point(), Radius: m.positive()}
	case 2:
		return d.Ellipse{Center: m.point(), Major: m.point(), Ratio: ratio(), Start: m.num(), End: m.num()}
	case 3:
		return d.Conic{From: m.point(), Control: m.point(), To: m.point(), Weight: 2 * ratio()}
	case 4:
		return d.Polyline{Vertices: m.vertices(), Closed: m.yes()}
	case 5:
		return m.text()
	case 6:
		return d.Hatch{Loops: [][]d.Vertex{m.vertices(), m.vertices()}, Angle: m.num(), Spacing: 3 * ratio(), Solid: m.yes()}
	case 7:
		return d.Linear{Label: m.label(), From: m.point(), To: m.point(), Side: d.Side(rapid.IntRange(0, 3).Draw(m.T, "side")), Turn: rapid.SampledFrom([]float64{0, 0, 30, -45}).Draw(m.T, "turned"),
			Placed: true, At: m.num(), TextAt: m.num(), Outside: m.yes(), HideFrom: m.yes(), HideTo: m.yes()}
	case 8:
		return d.Aligned{Label: m.label(), From: m.point(), To: m.point(), Placed: true, At: m.num(), TextAt: m.num(), Outside: m.yes()}
	case 9:
		return d.Diameter{Label: m.label(), Center: m.point(), Radius: m.positive(), Shelf: shelf()}
	case 10:
		return d.Radius{Label: m.label(), Center: m.point(), Radius: m.positive(), Angle: m.num(), Shelf: shelf()}
	case 11:
		return d.Angular{Label: m.label(), Vertex: m.point(), Start: m.num(), End: m.num(), From: m.positive(), To: m.positive(),
			Placed: true, At: 1 + m.positive(), Outside: m.yes()}
	case 12:
		return d.Leader{Label: m.label(), Tip: m.point(), Shelf: shelf()}
	}
	return d.Line{From: m.point(), To: m.point()}
}

func (m *maker) items() []d.Item {
	items := make([]d.Item, rapid.IntRange(0, 8).Draw(m.T, "items"))
	for i := range items {
		items[i] = d.Item{Role: d.Role(rapid.IntRange(0, int(d.RoleCount)-1).Draw(m.T, "role")), Shape: m.shape()}
	}
	return items
}

func (m *maker) drawing() *d.Drawing {
	sample := func(vs ...float64) float64 { return rapid.SampledFrom(vs).Draw(m.T, "of") }
	dr := &d.Drawing{
		Style: d.Style{Scale: sample(0, 0.1, 0.5, 2), Group: sample(0, 0.7), DecimalComma: m.yes(), Labels: d.Labels(sample(0, 0, 1, 3))},
		Items: m.items(),
	}
	views := []d.View{{Name: m.string(), Items: m.items()}, {Items: m.items()}}
	names := []string{"", m.string(), m.string() + "2"}
	for range rapid.IntRange(0, 4).Draw(m.T, "views") {
		n := rapid.IntRange(0, 2).Draw(m.T, "name")
		dr.Views = append(dr.Views, d.Placed{View: views[n%2], At: m.point(), Mirror: m.yes(), Scale: sample(0, 1, 0.5, 0.2), Turn: sample(0, 0, 90, 30, -400), Block: names[n]})
	}
	for range rapid.IntRange(0, 3).Draw(m.T, "parts") {
		p := d.Part{Name: m.string(), At: m.point()}
		for range rapid.IntRange(0, 2).Draw(m.T, "attributes") {
			p.Attributes = append(p.Attributes, d.Attribute{Tag: "TAG", Prompt: m.string(), Text: m.text(), Hidden: m.yes()})
		}
		p.Properties = append(p.Properties, d.Property{Key: "key", Value: m.string()})
		dr.Parts = append(dr.Parts, p)
	}
	return dr
}

// TestAnyDrawing: whatever is drawn, a file is whole, or nothing is written and
// the error says where a number is that cannot be.
func TestAnyDrawing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := maker{T: t, hostile: rapid.IntRange(0, 4).Draw(t, "hostile") == 0}
		dr := m.drawing()
		var e Encoder
		if m.yes() {
			e.Layout = &Layout{Width: 420, Height: 297, Items: []d.Item{{Role: d.RoleFrame, Shape: d.Line{To: d.Pt(400, 0)}}, {Role: d.RoleText, Shape: m.text()}}}
		}
		file, err := e.Append(nil, dr)
		if err != nil {
			var e *ValueError
			require.True(t, errors.As(err, &e), "%v", err)
			require.Empty(t, file)
			require.True(t, m.bad || e.Reason == "names a block that holds another view" || strings.HasPrefix(e.Reason, "makes more than"), "%v", err)
			return
		}
		checkStructure(t, file)
	})
}

// TestAnyPlainDrawing: the same for plain files, which can hold less.
func TestAnyPlainDrawing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := maker{T: t, hostile: rapid.IntRange(0, 4).Draw(t, "hostile") == 0}
		dr := m.drawing()
		file, err := Encoder{Version: R12}.Append(nil, dr)
		if err != nil {
			var e *ValueError
			require.True(t, errors.As(err, &e), "%v", err)
			require.Empty(t, file)
			require.True(t, m.bad || strings.Contains(e.Reason, "AC1009 file") || strings.HasPrefix(e.Reason, "makes more than"), "%v", err)
			return
		}
		checkPlain(t, file)
	})
}
