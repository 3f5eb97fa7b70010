// This program adds a bolt to a drawing of github.com/yofu/dxf, beside what the
// program draws with that library itself, and writes it to standard output:
//
//	go run ./examples/yofudxf > plate.dxf
package main

import (
	"log"
	"os"

	"github.com/yofu/dxf"
	"github.com/yofu/dxf/insunit"

	"boltplate/drawing"
	"boltplate/dxfout"
	"boltplate/dxfout/yofudxf"
	"boltplate/fastener"
	"boltplate/thread"
)

func main() {
	d := dxf.NewDrawing()
	if _, err := d.AddLayer("PLATE", dxf.DefaultColor, dxf.DefaultLineType, true); err != nil {
		log.Fatal(err)
	}
	if _, err := d.LwPolyline(true, []float64{0, -40}, []float64{25, -40}, []float64{25, 40}, []float64{0, 40}); err != nil {
		log.Fatal(err)
	}
	// The bolt through the plate, its bearing face on the plate's.
	v, err := fastener.HexBolt{Thread: thread.MustParse("M16"), Length: 80}.View(drawing.Front, fastener.Options{})
	if err != nil {
		log.Fatal(err)
	}
	v = drawing.Arrange(v, drawing.Style{})
	bolt := &drawing.Drawing{Views: []drawing.Placed{{View: v}}}
	if err := yofudxf.Add(d, bolt, dxfout.LayerMap{}); err != nil {
		log.Fatal(err)
	}
	h, b := d.Header(), bolt.Bounds().Union(drawing.Rect{Min: drawing.Pt(0, -40), Max: drawing.Pt(25, 40)})
	h.InsUnit = insunit.Millimeters
	h.ExtMin, h.ExtMax = []float64{b.Min.X, b.Min.Y, 0}, []float64{b.Max.X, b.Max.Y, 0}
	if _, err := yofudxf.WriteTo(os.Stdout, d); err != nil {
		log.Fatal(err)
	}
}
