package dxfin_test

import (
	"fmt"
	"strings"

	"boltplate/dxfin"
)

func Example() {
	file := strings.NewReader(`0
SECTION
2
ENTITIES
0
CIRCLE
8
EDGES
10
5.0
20
2.0
40
10.5
0
ENDSEC
0
EOF
`)
	f, err := dxfin.Decode(file)
	if err != nil {
		fmt.Println(err)
		return
	}
	scene, err := f.Flatten()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range scene.Curves {
		fmt.Printf("%s, line %d: %+v\n", c.Layer, c.Entity.Line, c.Shape)
	}
	fmt.Println(f.Notes)
	// Output:
	// EDGES, line 6: {Center:{X:5 Y:2} Radius:10.5}
	// [line 6: the layer "EDGES" is used and not defined]
}

func ExampleSyntaxError() {
	_, err := dxfin.Decode(strings.NewReader("0\nSECTION\n2\nENTITIES\n0\nLINE\n10\nten\n"))
	fmt.Println(err)
	// Output:
	// line 8: "ten": expected a number for group code 10
}
