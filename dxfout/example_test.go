package dxfout_test

import (
	"bytes"
	"errors"
	"fmt"
	"log"
	"math"
	"strings"

	"boltplate/drawing"
	"boltplate/dxfout"
)

// A washer of 20 mm hole: two circles on the layer of visible edges, and a
// centre line.
func ExampleEncode() {
	washer := drawing.View{Name: "front", Items: []drawing.Item{
		{Role: drawing.RoleOutline, Shape: drawing.Circle{Radius: 18.5}},
		{Role: drawing.RoleOutline, Shape: drawing.Circle{Radius: 10.5}},
		{Role: drawing.RoleCentre, Shape: drawing.Line{From: drawing.Pt(-21.5, 0), To: drawing.Pt(21.5, 0)}},
	}}
	var file bytes.Buffer
	if err := dxfout.Encode(&file, &drawing.Drawing{Views: []drawing.Placed{{View: washer}}}); err != nil {
		log.Fatal(err)
	}
	_, entities, _ := strings.Cut(file.String(), "ENTITIES")
	for _, kind := range []string{"CIRCLE", "LINE"} {
		fmt.Println(kind, strings.Count(entities, "\r\n"+kind+"\r\n"))
	}
	// Output:
	// CIRCLE 2
	// LINE 1
}

// One buffer serves for a whole batch of files.
func ExampleEncoder_Append() {
	e := dxfout.Encoder{Font: "txt"}
	var buf []byte
	for _, d := range []float64{10, 12, 16} {
		circle := drawing.Item{Role: drawing.RoleOutline, Shape: drawing.Circle{Radius: d / 2}}
		var err error
		if buf, err = e.Append(buf[:0], &drawing.Drawing{Items: []drawing.Item{circle}}); err != nil {
			log.Fatal(err)
		}
		fmt.Println(d, strings.HasSuffix(string(buf), "EOF\r\n"))
	}
	// Output:
	// 10 true
	// 12 true
	// 16 true
}

// An office that keeps all thin lines on one layer, in a file for a program
// that reads little DXF.
func ExampleEncoder_layers() {
	fine := dxfout.Layer{Name: "FINE", Colour: 3}
	e := dxfout.Encoder{Version: dxfout.R12, Layers: dxfout.LayerMap{
		drawing.RoleThin:     fine,
		drawing.RoleHatching: fine,
		drawing.RoleCentre:   {Name: "AXIS", Colour: 4},
	}}
	axis := drawing.Item{Role: drawing.RoleCentre, Shape: drawing.Line{To: drawing.Pt(40, 0)}}
	file, err := e.Append(nil, &drawing.Drawing{Items: []drawing.Item{axis}})
	if err != nil {
		log.Fatal(err)
	}
	_, entities, _ := strings.Cut(string(file), "ENTITIES\r\n")
	fmt.Println(strings.Join(strings.Fields(entities)[:4], " "))
	e.Layers[drawing.RoleThin].Colour = 300
	fmt.Println(e.Check(&drawing.Drawing{}))
	// Output:
	// 0 LINE 8 AXIS
	// Encoder.Layers[thin].Colour = 300: is no colour index; they go from 1 to 255
}

// What a file cannot hold is refused before anything is written.
func ExampleValueError() {
	bad := drawing.View{Name: "front", Items: []drawing.Item{{Shape: drawing.Circle{Radius: math.NaN()}}}}
	var file bytes.Buffer
	err := dxfout.Encode(&file, &drawing.Drawing{Views: []drawing.Placed{{View: bad}}})
	var e *dxfout.ValueError
	if errors.As(err, &e) {
		fmt.Println(e.View, e.Item, e.Field)
	}
	fmt.Println(err)
	fmt.Println(file.Len())
	// Output:
	// front 0 Radius
	// view 0 ("front"), item 0, Circle.Radius = NaN: is not a finite number below 1e12
	// 0
}
