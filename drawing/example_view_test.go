package drawing_test

import (
	"fmt"
	"log"

	"boltplate/drawing"
)

// washer is the end view of a plain washer: two circles on a centre mark, and
// the two diameters.
func washer(hole, outer float64) drawing.View {
	mark := outer/2 + drawing.CentreOverrun
	view := drawing.View{Name: "end", Direction: drawing.HeadEnd}
	add := func(r drawing.Role, s drawing.Shape) {
		view.Items = append(view.Items, drawing.Item{Role: r, Shape: s})
	}
	add(drawing.RoleCentre, drawing.Line{From: drawing.Pt(-mark, 0), To: drawing.Pt(mark, 0)})
	add(drawing.RoleCentre, drawing.Line{From: drawing.Pt(0, -mark), To: drawing.Pt(0, mark)})
	for _, c := range []struct {
		letter          string
		diameter, angle float64
	}{{"d1", hole, 45}, {"d2", outer, -45}} {
		add(drawing.RoleOutline, drawing.Circle{Radius: c.diameter / 2})
		add(drawing.RoleDimension, drawing.Diameter{
			Label:  drawing.Label{Symbol: drawing.DiameterSymbol, Quantity: drawing.Quantity{Letter: c.letter, Value: c.diameter}},
			Radius: c.diameter / 2, Angle: c.angle,
		})
	}
	return view
}

// A view is built from items, arranged for a style and placed in a drawing.
// This one is of a plain washer of 21 by 37 mm, at 2:1.
func Example() {
	style := drawing.Style{Scale: 2}
	view := drawing.Arrange(washer(21, 37), style)
	for _, it := range view.Items {
		if d, ok := it.Shape.(drawing.Diameter); ok {
			x, ok := drawing.Expand(d, style)
			if !ok {
				log.Fatal("not placed")
			}
			text, _ := x.Text()
			fmt.Printf("%s touches its circle %.4g mm from the centre\n", text.Value, x.Arrows()[0][0].Len())
		}
	}
	sheet := drawing.Drawing{Views: []drawing.Placed{{View: view, At: drawing.Pt(100, 100), Scale: 2}}}
	outline := sheet.Views[0].View.Outline()
	fmt.Printf("%s: %g by %g mm with its centre lines\n", view.Name, outline.Dx(), outline.Dy())
	fmt.Println("the origin is drawn at", sheet.Views[0].Transform().Point(drawing.Pt(0, 0)))
	// Output:
	// Ø21 touches its circle 10.5 mm from the centre
	// Ø37 touches its circle 18.5 mm from the centre
	// end: 43 by 43 mm with its centre lines
	// the origin is drawn at {100 100}
}
