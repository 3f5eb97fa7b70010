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
				fmt.Printf("%-2s %s = %s: %s\n", q.Letter, q.Name, q.RuleText(), drawing.FormatValue(q.Value, false))
			}
		}
	}
}

func ExampleSquareNut() {
	printSizes(fastener.SquareNut{Thread: thread.MustParse("M10"), Thin: true}, "width across flats",
		"nut thickness")
	// Output:
	// Square thin nut M10
	// W  width across flats = 1.5D + 3: 18
	// H  nut thickness = 0.5D: 5
}

func ExampleLockNut() {
	printSizes(fastener.LockNut{Thread: thread.MustParse("M20"), Basis: fastener.Standard},
		"thickness of the thin nut", "thickness of the full nut", "thickness of the pair")
	// Output:
	// Lock-nut pair ISO 4032 and ISO 4035 - M20
	// H2 thickness of the thin nut = table: 10
	// H1 thickness of the full nut = table: 18
	// H  thickness of the pair = H1 + H2: 28
}

func ExampleSpringWasher() {
	printSizes(fastener.SpringWasher{Thread: thread.MustParse("M20")}, "outside diameter", "thickness")
	// Output:
	// Spring washer for M20
	// d2 outside diameter = 1.7D: 34
	// t  thickness = 0.2D: 4
}

func ExampleCapNut() {
	m20 := thread.MustParse("M20")
	printSizes(fastener.CapNut{Thread: m20}, "height of the nut", "radius of the dome")
	// The end of a bolt must lie within the blind thread.
	b := fastener.Bolted{Bolt: fastener.HexBolt{Thread: m20, Length: 120},
		Nut: fastener.CapNut{Thread: m20}, Grip: 75}
	fmt.Println(b.Validate())
	// Output:
	// Cap nut M20
	// H  height of the nut = 1.7D: 34
	// Rd radius of the dome = 0.7D: 14
	// hex-bolt: length 120: meets the end of the thread in the cap nut, which sits at 75 mm: from 95 to 101 mm; a preferred length is 100 mm (ISO 888)
}

func ExampleCastleNut() {
	printSizes(fastener.CastleNut{Thread: thread.MustParse("M20")}, "height of the nut", "crown diameter",
		"width of the slots", "split pin diameter")
	// Output:
	// Castle nut and split pin M20
	// H  height of the nut = 1.25D: 25
	// d4 crown diameter = 1.4D: 28
	// ws width of the slots = 0.3D: 6
	// dp split pin diameter = 0.25D: 5
}

func ExampleWingNut() {
	printSizes(fastener.WingNut{Thread: thread.MustParse("M10")}, "height of the body", "height of the wings",
		"span of the wings")
	// Output:
	// Wing nut M10
	// H  height of the body = D: 10
	// Hw height of the wings = 2D: 20
	// Sw span of the wings = 4D: 40
}
