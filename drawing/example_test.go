package drawing_test

import (
	"fmt"

	"boltplate/drawing"
)

// size is a label that says a value.
func size(letter string, v float64) drawing.Label {
	return drawing.Label{Quantity: drawing.Quantity{Letter: letter, Value: v}}
}

func ExampleArrange() {
	outline := drawing.Line{From: drawing.Pt(0, 0), To: drawing.Pt(80, 0)}
	whole := drawing.Linear{Label: size("L", 80), From: drawing.Pt(0, 0), To: drawing.Pt(80, 0), Side: drawing.Below}
	part := drawing.Linear{Label: size("b", 46), From: drawing.Pt(34, 0), To: drawing.Pt(80, 0), Side: drawing.Below}
	v := drawing.View{Name: "front", Items: []drawing.Item{
		{Role: drawing.RoleOutline, Shape: outline},
		{Role: drawing.RoleDimension, Shape: whole},
		{Role: drawing.RoleDimension, Shape: part},
	}}
	// At 1:2 the first row is 20 mm of the part from the outline, and the
	// next one 16 mm further.
	for _, labels := range []drawing.Labels{drawing.Numbers, drawing.Letters} {
		for _, it := range drawing.Arrange(v, drawing.Style{Scale: 0.5, Labels: labels}).Items {
			if d, ok := it.Shape.(drawing.Linear); ok {
				fmt.Printf("%s at y = %g\n", d.Label.Text, d.At)
			}
		}
	}
	// Output:
	// 80 at y = -36
	// 46 at y = -20
	// L at y = -36
	// b at y = -20
}

func ExampleExpand() {
	d := drawing.Linear{
		Label: drawing.Label{Text: "60"}, From: drawing.Pt(0, 0), To: drawing.Pt(60, 0), Side: drawing.Below,
		Placed: true, At: -10, TextAt: 30,
	}
	x, _ := drawing.Expand(d, drawing.Style{})
	for _, l := range x.Lines() {
		fmt.Println("line", l.From, l.To)
	}
	for _, a := range x.Arrows() {
		fmt.Println("arrow to", a[0])
	}
	text, _ := x.Text()
	fmt.Println("text", text.Value, text.At)
	// Output:
	// line {0 -2} {0 -12}
	// line {60 -2} {60 -12}
	// line {0 -10} {60 -10}
	// arrow to {0 -10}
	// arrow to {60 -10}
	// text 60 {30 -9}
}

func ExampleView_Turn() {
	v := drawing.View{Items: []drawing.Item{{Shape: drawing.Line{To: drawing.Pt(30, 10)}}}}
	fmt.Println(v.Turn(90).Outline())
	// Output: {{-10 0} {0 30}}
}

func ExampleFormatValue() {
	fmt.Println(drawing.FormatValue(27.7128, false), drawing.FormatValue(27.7128, true), drawing.FormatValue(90, false))
	// Output: 27.71 27,71 90
}
