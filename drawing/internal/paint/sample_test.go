package paint_test

import (
	d "boltplate/drawing"
	"boltplate/fastener"
	"boltplate/thread"

	"github.com/stretchr/testify/require"
)

// slot is a closed polyline with two rounded ends.
func slot(x, y, l, h float64) []d.Vertex {
	return []d.Vertex{{Point: d.Pt(x, y)}, {Point: d.Pt(x+l, y), Bulge: 1}, {Point: d.Pt(x+l, y+h)}, {Point: d.Pt(x, y+h), Bulge: 1}}
}

func chain(xy ...float64) []d.Vertex {
	var vs []d.Vertex
	for i := 0; i < len(xy); i += 2 {
		vs = append(vs, d.Vertex{Point: d.Pt(xy[i], xy[i+1])})
	}
	return vs
}

func says(s string) d.Label { return d.Label{Text: s} }

// plate is a view with every kind of shape, its dimensions placed by hand for
// a paper of which mm units are a millimetre.
func plate(mm float64) d.View {
	item := func(r d.Role, s d.Shape) d.Item { return d.Item{Role: r, Shape: s} }
	out := func(s d.Shape) d.Item { return item(d.RoleOutline, s) }
	shelf := func(x, y float64) d.Shelf { return d.Shelf{Placed: true, Knee: d.Pt(x, y)} }
	dim := func(s d.Shape) d.Item { return item(d.RoleDimension, s) }
	square, diameter := says("50"), says("16")
	square.Symbol, diameter.Symbol = d.SquareSymbol, d.DiameterSymbol
	return d.View{Name: "front", Items: []d.Item{
		out(d.Polyline{Closed: true, Vertices: chain(0, 0, 80, 0, 80, 50, 0, 50)}),
		out(d.Polyline{Closed: true, Vertices: slot(15, 10, 20, 10)}),
		item(d.RoleHidden, d.Polyline{Vertices: []d.Vertex{{Point: d.Pt(5, 12)}, {Point: d.Pt(10, 12), Bulge: -0.4142135623730951}, {Point: d.Pt(12, 10)}, {Point: d.Pt(12, 5)}}}),
		out(d.Circle{Center: d.Pt(60, 35), Radius: 8}),
		item(d.RoleHidden, d.Circle{Center: d.Pt(60, 35), Radius: 5}),
		item(d.RoleThin, d.Arc{Center: d.Pt(60, 35), Radius: 9.5, Start: 95, End: 5}),
		item(d.RoleCentre, d.Line{From: d.Pt(45, 35), To: d.Pt(75, 35)}),
		item(d.RoleCentre, d.Line{From: d.Pt(60, 20), To: d.Pt(60, 49)}),
		item(d.RoleHidden, d.Line{From: d.Pt(0, 25), To: d.Pt(50, 25)}),
		item(d.RoleCutting, d.Line{From: d.Pt(45, -3), To: d.Pt(45, 53)}),
		item(d.RoleAdjacent, d.Line{From: d.Pt(0, 5), To: d.Pt(80, 5)}),
		out(d.Ellipse{Center: d.Pt(25, 38), Major: d.Pt(9, 6), Ratio: 0.57735}),
		out(d.Ellipse{Center: d.Pt(25, 38), Major: d.Pt(7, 0), Ratio: 0.5, Start: -30, End: 90}),
		out(d.Conic{From: d.Pt(55, 8), Control: d.Pt(65, 18), To: d.Pt(75, 8), Weight: 1.4}),
		item(d.RoleHatching, d.Hatch{Loops: [][]d.Vertex{slot(15, 10, 20, 10), slot(22, 13, 6, 4)}, Angle: 45, Spacing: 2}),
		item(d.RoleHatching, d.Hatch{Loops: [][]d.Vertex{chain(62, 9, 68, 9, 68, 12, 62, 12), chain(64, 10, 66, 10, 66, 11, 64, 11)}, Solid: true}),
		item(d.RoleText, d.Text{At: d.Pt(45, 54), Align: d.AlignCentre, Value: "A-A"}),
		dim(d.Linear{Label: says("80"), From: d.Pt(0, 0), To: d.Pt(80, 0), Placed: true, At: -18 * mm, TextAt: 40}),
		dim(d.Linear{Label: says("20"), From: d.Pt(0, 0), To: d.Pt(20, 0), Placed: true, At: -10 * mm, TextAt: 10, HideFrom: true}),
		dim(d.Linear{Label: square, From: d.Pt(80, 0), To: d.Pt(80, 50), Side: d.Right, Placed: true, At: 80 + 10*mm, TextAt: 25}),
		dim(d.Linear{Label: diameter, From: d.Pt(0, 27), To: d.Pt(0, 43), Side: d.Left, Placed: true, At: -10 * mm, TextAt: 35}),
		dim(d.Linear{Label: says("5"), From: d.Pt(0, 0), To: d.Pt(0, 5), Side: d.Left, Placed: true, Outside: true, At: -18 * mm, TextAt: 5 + 10*mm}),
		dim(d.Aligned{Label: says("50"), From: d.Pt(0, 50), To: d.Pt(-30, 90), Placed: true, At: 10 * mm, TextAt: 25}),
		dim(d.Diameter{Label: diameter, Center: d.Pt(60, 35), Radius: 8, Angle: 60, Shelf: shelf(72, 50+8*mm)}),
		dim(d.Radius{Label: says("5"), Center: d.Pt(35, 15), Radius: 5, Angle: -60, Shelf: shelf(40, -9*mm)}),
		dim(d.Angular{Label: says("45°"), Vertex: d.Pt(80, 50), Start: 0, End: 45, From: 2, To: 2, Placed: true, At: 15 * mm}),
		dim(d.Leader{Label: says("M20"), Tip: d.Pt(10, 50), Angle: 60, Shelf: shelf(10+5*mm, 50+9*mm)}),
	}}
}

// sample is a drawing with every shape, at full size and at half.
func sample() *d.Drawing {
	return &d.Drawing{
		Views: []d.Placed{{View: plate(1)}, {View: plate(2), At: d.Pt(190, 20), Scale: 0.5}},
		Items: []d.Item{
			{Role: d.RoleFrame, Shape: d.Polyline{Closed: true, Vertices: chain(-60, -60, 270, -60, 270, 130, -60, 130)}},
			{Role: d.RoleText, Shape: d.Text{At: d.Pt(265, -55), Height: 5, Align: d.AlignRight, Value: "Plate 1: 100% µm² 50 × 30 Ω <&>"}},
			{Role: d.RoleText, Shape: d.Text{At: d.Pt(-50, -50), Angle: 90, Value: "turned ±0.5 Ø"}},
			{Role: d.RoleText, Shape: d.Text{At: d.Pt(0, -50), Value: " \t "}},
			{Role: d.RoleOutline, Shape: d.Line{From: d.Pt(1, 1), To: d.Pt(1, 1)}},
		},
		Parts: []d.Part{{Name: "Bolt", At: d.Pt(0, -45), Attributes: []d.Attribute{
			{Tag: "MARK", Text: d.Text{At: d.Pt(0, -45), Value: "HS-01", Height: 5}},
			{Tag: "BASIS", Text: d.Text{Value: "proportion"}, Hidden: true},
		}}},
	}
}

type named struct {
	name string
	d    *d.Drawing
}

// drawings are the sample and what fasteners make, at several scales.
func drawings(t require.TestingT) []named {
	all := []named{{"sample", sample()}}
	half := sample()
	half.Style.Scale, half.Style.Group = 0.5, 0.7
	all = append(all, named{"sample at 1:2", half})
	placed := &d.Drawing{Style: d.Style{Scale: 0.5}, Views: []d.Placed{
		{View: plate(2), Turn: 30}, {View: plate(2), At: d.Pt(400, 0), Mirror: true}, {View: plate(4), At: d.Pt(0, -400), Scale: 0.5, Mirror: true, Turn: 200},
		{View: plate(2), At: d.Pt(400, -400), Turn: -90},
	}}
	all = append(all, named{"turned and mirrored", placed})
	m20, m5 := thread.MustParse("M20"), thread.MustParse("M5")
	add := func(name string, f fastener.Fastener, o fastener.DrawOptions) {
		dr, err := fastener.Draw(f, o)
		require.NoError(t, err, name)
		all = append(all, named{name, dr})
	}
	views := []d.Direction{d.Front, d.SideView, d.HeadEnd, d.PointEnd}
	opt := fastener.DrawOptions{Views: views}
	opt.Hidden = true
	add("hex bolt", fastener.HexBolt{Thread: m20, Length: 90}, opt)
	opt.Exact, opt.Style.Scale = true, 2
	add("exact hex bolt at 2:1", fastener.HexBolt{Thread: m5, Length: 25, Governs: fastener.Flats}, opt)
	opt.Style = d.Style{Scale: 0.2, TextHeight: 2.5, Labels: d.Rules}
	add("square bolt at 1:5", fastener.SquareBolt{Thread: m20, Length: 90, SquareNeck: true}, opt)
	add("isometric nut", fastener.HexNut{Thread: m20}, fastener.DrawOptions{Views: []d.Direction{d.Isometric}})
	add("washer", fastener.Washer{Thread: m20}, fastener.DrawOptions{
		Caption: []fastener.CaptionLine{{Tag: "MARK", Prompt: "Mark", Text: "W1"}, {Tag: "QUANTITY", Prompt: "Quantity", Text: "8 off"}}})
	return all
}
