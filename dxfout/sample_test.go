package dxfout

import (
	"strings"

	d "boltplate/drawing"
	"boltplate/rule"
)

// slot is a closed polyline with two rounded ends.
func slot(x, y, l, h float64) d.Polyline {
	return d.Polyline{Closed: true, Vertices: []d.Vertex{
		{Point: d.Pt(x, y)}, {Point: d.Pt(x+l, y), Bulge: 1}, {Point: d.Pt(x+l, y+h)}, {Point: d.Pt(x, y+h), Bulge: 1},
	}}
}

func number(v float64) d.Label {
	return d.Label{Quantity: d.Quantity{Letter: "L", Name: "length", Rule: rule.MustParse("1.5D + 3"), Value: v, Status: d.Published}}
}

// labels are the labels of the plate, ready to draw.
func labels() map[string]d.Label {
	named := map[string]d.Label{}
	for name, v := range map[string]float64{"80": 80, "20": 20, "50": 50, "16": 16, "60": 60, "5": 5, "45°": 45, "M20": 10} {
		l := number(v)
		l.Text = name
		named[name] = l
	}
	return named
}

// onePlate is a view with every kind of shape, its dimensions placed by hand;
// mm is a millimetre on paper.
func onePlate(mm float64) d.View {
	out := func(s d.Shape) d.Item { return d.Item{Role: d.RoleOutline, Shape: s} }
	rect := d.Polyline{Closed: true, Vertices: []d.Vertex{{Point: d.Pt(0, 0)}, {Point: d.Pt(80, 0)}, {Point: d.Pt(80, 50)}, {Point: d.Pt(0, 50)}}}
	curves := []d.Item{
		out(rect),
		out(slot(15, 10, 20, 10)),
		out(d.Circle{Center: d.Pt(60, 35), Radius: 8}),
		{Role: d.RoleThin, Shape: d.Arc{Center: d.Pt(60, 35), Radius: 9.5, Start: 95, End: 5}},
		{Role: d.RoleCentre, Shape: d.Line{From: d.Pt(45, 35), To: d.Pt(75, 35)}},
		{Role: d.RoleCentre, Shape: d.Line{From: d.Pt(60, 20), To: d.Pt(60, 49)}},
		{Role: d.RoleHidden, Shape: d.Line{From: d.Pt(0, 25), To: d.Pt(50, 25)}},
		{Role: d.RoleCutting, Shape: d.Line{From: d.Pt(45, -3), To: d.Pt(45, 53)}},
		{Role: d.RoleAdjacent, Shape: d.Line{From: d.Pt(0, 5), To: d.Pt(80, 5)}},
		out(d.Ellipse{Center: d.Pt(25, 38), Major: d.Pt(12, 0), Ratio: 0.57735}),
		out(d.Ellipse{Center: d.Pt(25, 38), Major: d.Pt(9, 0), Ratio: 0.5, Start: -30, End: 90}),
		out(d.Conic{From: d.Pt(55, 8), Control: d.Pt(65, 18), To: d.Pt(75, 8), Weight: 1.4}),
		{Role: d.RoleHatching, Shape: d.Hatch{Loops: [][]d.Vertex{slot(15, 10, 20, 10).Vertices, slot(22, 13, 6, 4).Vertices}, Angle: 45, Spacing: 2}},
		{Role: d.RoleHatching, Shape: d.Hatch{Loops: [][]d.Vertex{
			{{Point: d.Pt(62, 9)}, {Point: d.Pt(68, 9)}, {Point: d.Pt(68, 12)}, {Point: d.Pt(62, 12)}}}, Solid: true}},
		{Role: d.RoleText, Shape: d.Text{At: d.Pt(45, 54), Align: d.AlignCentre, Value: "A-A"}},
	}
	return d.View{Name: "front", Items: append(curves, plateDimensions(mm)...)}
}

func plateDimensions(mm float64) []d.Item {
	l := labels()
	square, diameter, radius, reference := l["50"], l["16"], l["5"], l["60"]
	square.Symbol, diameter.Symbol, radius.Symbol, reference.Reference = d.SquareSymbol, d.DiameterSymbol, d.RadiusSymbol, true
	shelf := func(x, y float64) d.Shelf { return d.Shelf{Placed: true, Knee: d.Pt(x, y)} }
	var items []d.Item
	for _, s := range []d.Shape{
		d.Linear{Label: l["80"], From: d.Pt(0, 0), To: d.Pt(80, 0), Placed: true, At: -18 * mm, TextAt: 40},
		d.Linear{Label: l["20"], From: d.Pt(0, 0), To: d.Pt(20, 0), Placed: true, At: -10 * mm, TextAt: 10, HideFrom: true},
		d.Linear{Label: square, From: d.Pt(80, 0), To: d.Pt(80, 50), Side: d.Right, Placed: true, At: 80 + 10*mm, TextAt: 25},
		d.Linear{Label: diameter, From: d.Pt(0, 27), To: d.Pt(0, 43), Side: d.Left, Placed: true, At: -10 * mm, TextAt: 35},
		d.Linear{Label: l["5"], From: d.Pt(0, 0), To: d.Pt(0, 5), Side: d.Left, Placed: true, Outside: true, At: -18 * mm, TextAt: 5 + 10*mm},
		d.Linear{Label: reference, From: d.Pt(0, 50), To: d.Pt(60, 50), Side: d.Above, Placed: true, At: 50 + 20*mm, TextAt: 30},
		d.Aligned{Label: l["50"], From: d.Pt(0, 50), To: d.Pt(-30, 90), Placed: true, At: 10 * mm, TextAt: 25},
		d.Diameter{Label: diameter, Center: d.Pt(60, 35), Radius: 8, Angle: 60, Shelf: shelf(72, 50+8*mm)},
		d.Radius{Label: radius, Center: d.Pt(35, 15), Radius: 5, Angle: -60, Shelf: shelf(40, -9*mm)},
		d.Angular{Label: l["45°"], Vertex: d.Pt(80, 50), Start: 0, End: 45, From: 2, To: 2, Placed: true, At: 15 * mm},
		d.Leader{Label: l["M20"], Tip: d.Pt(10, 50), Angle: 60, Shelf: shelf(10+5*mm, 50+9*mm)},
	} {
		items = append(items, d.Item{Role: d.RoleDimension, Shape: s})
	}
	return items
}

// sample is a drawing with every shape and every dimension, a block placed
// twice and two parts.
func sample() *d.Drawing {
	nut := d.View{Name: "nut", Items: []d.Item{
		{Role: d.RoleOutline, Shape: d.Circle{Radius: 9}},
		{Role: d.RoleCentre, Shape: d.Line{From: d.Pt(-12, 0), To: d.Pt(12, 0)}},
		{Role: d.RoleText, Shape: d.Text{At: d.Pt(0, -15), Align: d.AlignCentre, Value: "nut"}},
	}}
	return &d.Drawing{
		Views: []d.Placed{
			{View: onePlate(1)},
			{View: onePlate(2), At: d.Pt(190, 20), Scale: 0.5},
			{View: nut, At: d.Pt(150, -60), Block: "Nut M20"},
			{View: nut, At: d.Pt(190, -60), Block: "Nut M20"},
			{View: nut, At: d.Pt(230, -60), Scale: 1.5, Block: "Nut M20"},
		},
		Items: []d.Item{
			{Role: d.RoleFrame, Shape: d.Polyline{Closed: true, Vertices: []d.Vertex{
				{Point: d.Pt(-80, -100)}, {Point: d.Pt(300, -100)}, {Point: d.Pt(300, 160)}, {Point: d.Pt(-80, 160)}}}},
			{Role: d.RoleText, Shape: d.Text{At: d.Pt(295, -95), Height: 5, Align: d.AlignRight, Value: "Plate 1: 100% µm² 50 × 30 Ω"}},
			{Role: d.RoleText, Shape: d.Text{At: d.Pt(-70, -90), Angle: 90, Value: "turned ±0.5 Ø"}},
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

// plainOf is the drawing without the one character that a plain file cannot
// hold.
func plainOf(dr *d.Drawing) *d.Drawing {
	plain := *dr
	plain.Items = nil
	for _, it := range dr.Items {
		if t, ok := it.Shape.(d.Text); ok {
			t.Value = strings.ReplaceAll(t.Value, "Ω", "ohm")
			it.Shape = t
		}
		plain.Items = append(plain.Items, it)
	}
	return &plain
}
