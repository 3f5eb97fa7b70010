package fastener_test

import (
	"fmt"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/thread"
)

// printSizes prints the designation of a nut or washer and some of its sizes.
func printSizes(f fastener.Fastener, names ...string) {
	qs, err := f.Quantities()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(f.Designation())
	for _, name := range names {
		for _, q := range qs {
			if q.Name == name {
				fmt.Printf("%-2s %s = %s: %s\n", q.Letter, q.Name, q.Rule, drawing.FormatValue(q.Value, false))
			}
		}
	}
}

func ExampleSquareNut() {
	printSizes(fastener.SquareNut{Thread: thread.MustParse("M10"), Thin: true}, "width across flats", "nut thickness")
	// Output:
	// Square thin nut M10
	// W  width across flats = 1.5D + 3: 18
	// H  nut thickness = 0.5D: 5
}
