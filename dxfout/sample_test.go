package dxfout

import (
	d "boltplate/drawing"
)

// rectangle is a closed polyline with two rounded ends.
func slot(x, y, l, h float64) d.Polyline {
	return d.Polyline{Closed: true, Vertices: []d.Vertex{
		{Point: d.Pt(x, y)}, {Point: d.Pt(x+l, y), Bulge: 1}, {Point: d.Pt(x+l, y+h)}, {Point: d.Pt(x, y+h), Bulge: 1},
	}}
}

func number(v float64) d.Label {
	return d.Label{Quantity: d.Quantity{Letter: "L", Name: "length", Rule: "1.5D + 3", Value: v, Status: d.Published}}
}

// onePlate is a view with every kind of shape.
func onePlate() d.View {
	out := func(s d.Shape) d.Item { return d.Item{Role: d.RoleOutline, Shape: s} }
	dim := func(s d.Shape) d.Item { return d.Item{Role: d.RoleDimension, Shape: s} }
	rect := d.Polyline{Closed: true, Vertices: []d.Vertex{{Point: d.Pt(0, 0)}, {Point: d.Pt(80, 0)}, {Point: d.Pt(80, 50)}, {Point: d.Pt(0, 50)}}}
	withSymbol := func(v float64, s d.Symbol) d.Label { l := number(v); l.Symbol = s; return l }
	reference := number(60)
	reference.Reference = true
	angle := number(45)
	angle.Quantity.Unit = d.Degree
	thread := number(10)
	thread.Number = "M20"
	return d.View{Name: "front", Items: []d.Item{
		out(rect),
		out(slot(15, 10, 20, 10)),
		out(d.Circle{Center: d.Pt(60, 35), Radius: 8}),
		{Role: d.RoleThin, Shape: d.Arc{Center: d.Pt(60, 35), Radius: 9.5, Start: 95, End: 5}},
		{Role: d.RoleCentre, Shape: d.Line{From: d.Pt(45, 35), To: d.Pt(75, 35)}},
		{Role: d.RoleCentre, Shape: d.Line{From: d.Pt(60, 20), To: d.Pt(60, 49)}},
		{Role: d.RoleHidden, Shape: d.Line{From: d.Pt(0, 25), To: d.Pt(50, 25)}},
		{Role: d.RoleCutting, Shape: d.Line{From: d.Pt(40, -3), To: d.Pt(40, 53)}},
		{Role: d.RoleAdjacent, Shape: d.Line{From: d.Pt(0, 5), To: d.Pt(80, 5)}},
		out(d.Ellipse{Center: d.Pt(25, 38), Major: d.Pt(12, 0), Ratio: 0.57735}),
		out(d.Ellipse{Center: d.Pt(25, 38), Major: d.Pt(9, 0), Ratio: 0.5, Start: -30, End: 90}),
		out(d.Conic{From: d.Pt(55, 8), Control: d.Pt(65, 18), To: d.Pt(75, 8), Weight: 1.4}),
		{Role: d.RoleHatching, Shape: d.Hatch{Loops: [][]d.Vertex{slot(15, 10, 20, 10).Vertices}, Angle: 45, Spacing: 2}},
		{Role: d.RoleHatching, Shape: d.Hatch{Loops: [][]d.Vertex{
			{{Point: d.Pt(62, 9)}, {Point: d.Pt(68, 9)}, {Point: d.Pt(68, 12)}, {Point: d.Pt(62, 12)}}}, Solid: true}},
		{Role: d.RoleText, Shape: d.Text{At: d.Pt(40, -9), Align: d.AlignCentre, Value: "A-A ±0.5 µ"}},
		dim(d.Linear{Label: number(80), From: d.Pt(0, 0), To: d.Pt(80, 0), Side: d.Below}),
		dim(d.Linear{Label: number(20), From: d.Pt(0, 0), To: d.Pt(20, 0), Side: d.Below}),
		dim(d.Linear{Label: withSymbol(50, d.SquareSymbol), From: d.Pt(80, 0), To: d.Pt(80, 50), Side: d.Right}),
		dim(d.Linear{Label: withSymbol(16, d.DiameterSymbol), From: d.Pt(0, 27), To: d.Pt(0, 43), Side: d.Left}),
		dim(d.Linear{Label: reference, From: d.Pt(0, 50), To: d.Pt(60, 50), Side: d.Above}),
		dim(d.Aligned{Label: number(50), From: d.Pt(0, 50), To: d.Pt(30, 90), Side: d.Above}),
		dim(d.Diameter{Label: withSymbol(16, d.DiameterSymbol), Center: d.Pt(60, 35), Radius: 8, Angle: 60}),
		dim(d.Radius{Label: withSymbol(5, d.RadiusSymbol), Center: d.Pt(35, 15), Radius: 5, Angle: -60}),
		dim(d.Angular{Label: angle, Vertex: d.Pt(80, 50), Start: 0, End: 45, From: 2, To: 2}),
		dim(d.Leader{Label: thread, Tip: d.Pt(10, 50), Angle: 120}),
	}}
}

// sample is a drawing with every shape and every dimension, a block placed
// twice and two parts.
func sample() *d.Drawing {
	st := d.Style{}
	nut := d.View{Name: "nut", Items: []d.Item{
		{Role: d.RoleOutline, Shape: d.Circle{Radius: 9}},
		{Role: d.RoleCentre, Shape: d.Line{From: d.Pt(-12, 0), To: d.Pt(12, 0)}},
		{Role: d.RoleText, Shape: d.Text{At: d.Pt(0, -15), Align: d.AlignCentre, Value: "nut"}},
	}}
	return &d.Drawing{
		Style: st,
		Views: []d.Placed{
			{View: d.Arrange(onePlate(), st)},
			{View: d.Arrange(onePlate(), d.Style{Scale: 0.5}), At: d.Pt(190, 20), Scale: 0.5},
			{View: nut, At: d.Pt(150, -60), Block: "Nut M20"},
			{View: nut, At: d.Pt(190, -60), Block: "Nut M20"},
			{View: nut, At: d.Pt(230, -60), Scale: 1.5, Block: "Nut M20"},
		},
		Items: []d.Item{
			{Role: d.RoleFrame, Shape: d.Polyline{Closed: true, Vertices: []d.Vertex{
				{Point: d.Pt(-80, -100)}, {Point: d.Pt(300, -100)}, {Point: d.Pt(300, 160)}, {Point: d.Pt(-80, 160)}}}},
			{Role: d.RoleText, Shape: d.Text{At: d.Pt(295, -95), Height: 5, Align: d.AlignRight, Value: "Plate 1: 100% µm² 50 × 30 Ω"}},
			{Role: d.RoleText, Shape: d.Text{At: d.Pt(-70, -90), Angle: 90, Value: "turned"}},
		},
		Parts: []d.Part{part("1", -60), part("2", 0)},
	}
}

func part(mark string, x float64) d.Part {
	return d.Part{
		Name: "Bolt M20x90", At: d.Pt(x, -80),
		Attributes: []d.Attribute{
			{Tag: "MARK", Prompt: "Mark", Text: d.Text{At: d.Pt(x, -80), Value: mark, Height: 5}},
			{Tag: "DESIGNATION", Prompt: "Designation", Text: d.Text{At: d.Pt(x+10, -80), Value: "M20 × 90"}},
			{Tag: "BASIS", Prompt: "Basis", Text: d.Text{Value: "proportion"}, Hidden: true},
		},
		Properties: []d.Property{{Key: "kind", Value: "square bolt"}, {Key: "D", Value: "20"}},
	}
}
