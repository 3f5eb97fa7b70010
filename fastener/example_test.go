package fastener_test

import (
	"fmt"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/rule"
	"boltplate/thread"
)

func ExampleHexBolt() {
	bolt := fastener.HexBolt{Thread: thread.MustParse("M20"), Length: 90, Basis: fastener.Standard}
	qs, err := bolt.Quantities()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(bolt.Designation())
	for _, q := range qs[2:8] {
		fmt.Printf("%-2s %-24s %s %s\n", q.Letter, q.Name, drawing.FormatValue(q.Value, false), q.Unit)
	}
	// Output:
	// Hexagon-head bolt ISO 4014 - M20 × 90
	// L  length                   90 mm
	// b  thread length            46 mm
	// A  width across corners     34.64 mm
	// W  width across flats       30 mm
	// Dc chamfer circle diameter  30 mm
	// a  chamfer angle            30 deg
}

func ExampleHexNut() {
	nut := fastener.HexNut{Thread: thread.MustParse("M16"), Thin: true, Basis: fastener.Standard}
	v, err := nut.View(drawing.Front, fastener.Options{})
	if err != nil {
		fmt.Println(err)
		return
	}
	box := v.Outline()
	fmt.Printf("%s: %.0f mm thick\n", nut.Designation(), box.Max.X-box.Min.X-2*drawing.CentreOverrun)
	// Output:
	// Hexagon thin nut ISO 4035 - M16: 8 mm thick
}

func ExampleSquareBolt() {
	bolt := fastener.SquareBolt{Thread: thread.MustParse("M20"), Length: 90, SquareNeck: true}
	qs, err := bolt.Quantities()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, q := range qs {
		if q.Letter == "S" || q.Letter == "N" {
			fmt.Println(q.Name, "=", q.RuleText(), "=", q.Value, "from", q.Source)
		}
	}
	// Output:
	// side of square neck = D = 20 from Low, Machine Drawing and Design (1887)
	// length of square neck = 0.8D = 16 from common practice
}

func ExampleBolted() {
	m20 := thread.MustParse("M20")
	joint := fastener.Bolted{
		Bolt:   fastener.HexBolt{Thread: m20, Length: 90},
		Nut:    fastener.HexNut{Thread: m20},
		Washer: fastener.Washer{Thread: m20},
		Grip:   75,
	}
	fmt.Println(joint.Validate())
	// Output:
	// hex-bolt: length 90: too short: grip, washer, nut and one pitch beyond it come to 100 mm; the next preferred length is 100 mm (ISO 888)
}

func ExampleDraw() {
	bolt := fastener.HexBolt{Thread: thread.MustParse("M16"), Length: 80}
	d, err := fastener.Draw(bolt, fastener.DrawOptions{
		Options:    fastener.Options{Style: drawing.Style{Labels: drawing.Rules}},
		Views:      []drawing.Direction{drawing.Front, drawing.HeadEnd},
		Projection: fastener.ThirdAngle,
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range d.Views {
		side := "at the origin"
		if p.At.X < 0 {
			side = "to the left"
		}
		fmt.Println(p.View.Direction, side)
	}
	// Output:
	// front at the origin
	// head to the left
}

func ExampleNew() {
	_, err := fastener.New(fastener.Spec{Kind: "hexbolt", Thread: thread.MustParse("M16"), Length: 80})
	fmt.Println(err)
	// Output:
	// hexbolt: no such kind; did you mean hex-bolt?
}

func ExampleNewRules() {
	own, err := fastener.NewRules(rule.Set{Name: "Ostlemere technical school", Entries: []rule.Entry{
		{Of: "hex-bolt", Letter: "head thickness", Rule: "0.75D"},
		{Of: "hexagons", Letter: "W", Rule: "1.5D + 3"}, // governs now
	}})
	if err != nil {
		fmt.Println(err)
		return
	}
	bolt := fastener.HexBolt{Thread: thread.MustParse("M20"), Length: 90, Extra: fastener.Extra{Rules: own}}
	qs, err := bolt.Quantities()
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, q := range qs {
		if q.Letter == "A" || q.Set != "" {
			fmt.Printf("%s = %s = %s %s\n", q.Letter, q.RuleText(), drawing.FormatValue(q.Value, false), q.Unit)
		}
	}

	_, err = fastener.NewRules(rule.Set{Name: "a slip",
		Entries: []rule.Entry{{Of: "hex-bolt", Letter: "head thicknes", Rule: "0.75D"}}})
	fmt.Println(err)
	// Output:
	// A = W/cos 30° = 38.11 mm
	// W = 1.5D + 3 = 33 mm
	// T = 0.75D = 15 mm
	// hex-bolt: head thicknes: no such letter or name; did you mean head thickness?
}
