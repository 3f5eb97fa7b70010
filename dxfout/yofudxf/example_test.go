package yofudxf_test

import (
	"fmt"
	"log"

	"github.com/yofu/dxf"

	"boltplate/drawing"
	"boltplate/dxfout"
	"boltplate/dxfout/yofudxf"
)

// A washer in a drawing that a program makes with the library.
func ExampleAdd() {
	d := dxf.NewDrawing()
	washer := drawing.View{Items: []drawing.Item{
		{Role: drawing.RoleOutline, Shape: drawing.Circle{Radius: 18.5}},
		{Role: drawing.RoleOutline, Shape: drawing.Circle{Radius: 10.5}},
		{Role: drawing.RoleCentre, Shape: drawing.Line{From: drawing.Pt(-21.5, 0), To: drawing.Pt(21.5, 0)}},
	}}
	err := yofudxf.Add(d, &drawing.Drawing{Views: []drawing.Placed{{View: washer}}}, dxfout.LayerMap{})
	if err != nil {
		log.Fatal(err)
	}
	for _, e := range d.Entities() {
		fmt.Printf("%T %s\n", e, e.Layer().Name())
	}
	// Output:
	// *entity.Circle OUTLINE
	// *entity.Circle OUTLINE
	// *entity.Line CENTRE
}
