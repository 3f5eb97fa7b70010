// Flange writes a cover with eight studs in two views to standard output: what
// boltplate place makes of the files beside this one.
package main

import (
	_ "embed"
	"encoding/json"
	"log"
	"os"

	"boltplate/drawing"
	"boltplate/dxfout"
	"boltplate/fastener"
	"boltplate/fastener/assembly"
	"boltplate/thread"
)

//go:embed cover.json
var cover []byte

func main() {
	var under drawing.Drawing
	if err := json.Unmarshal(cover, &under); err != nil {
		log.Fatal(err)
	}
	m16 := thread.MustParse("M16")
	stud := fastener.Stud{Thread: m16, Length: 80, Material: thread.CastIron, Neck: fastener.NeckPlain, Basis: fastener.Standard}
	part := assembly.Part{Mark: "GB-14", Quantity: 8, Fastener: fastener.Bolted{
		Bolt: stud, Nut: fastener.HexNut{Thread: m16, Basis: fastener.Standard}, Washer: fastener.Washer{Thread: m16, Basis: fastener.Standard}, Grip: 48},
		Properties: []drawing.Property{{Key: "mark", Value: "GB-14"}, {Key: "quantity", Value: "8"},
			{Key: "note", Value: "Gearbox cover to cast-iron case"}}}
	l := assembly.Layout{Style: drawing.Style{Scale: 1}, Under: &under, Parts: []assembly.Part{part},
		Circles: []assembly.PitchCircle{{Diameter: 195}}}
	outside := assembly.Place{Mark: "GB-14", View: drawing.PointEnd, Cover: true, Lead: true}
	section := assembly.Place{Mark: "GB-14", View: drawing.Front, At: drawing.Pt(-300, -97.5), Cover: true, Lead: true}
	l.Places = append(outside.Circle(195, 8, 0), section.Grid(1, 0, 2, 195)...)
	d, err := l.Draw()
	if err != nil {
		log.Fatal(err)
	}
	if err := dxfout.Encode(os.Stdout, d); err != nil {
		log.Fatal(err)
	}
}
