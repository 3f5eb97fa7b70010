package dxfout

import (
	"boltplate/drawing"
)

// coverTolerance is how far the edge of a WIPEOUT, which is straight, may lie
// off an arc.
const coverTolerance = PlainTolerance

// cover appends a WIPEOUT for each loop of a cover.
func (w *writer) cover(c *drawing.Cover) {
	for _, l := range c.Loops {
		if !w.encloses(l) {
			continue
		}
		p := drawing.Polyline{Vertices: l, Closed: true}.Apply(drawing.Transform{Scale: w.k, Move: w.at})
		for _, chain := range drawing.Flatten(p, coverTolerance) {
			w.wipeout(chain)
		}
	}
}

// wipeout appends a WIPEOUT with a boundary that ends where it starts. Its
// corners are given in the box that it fills, from the middle, y down.
func (w *writer) wipeout(chain []drawing.Point) {
	box := drawing.EmptyRect()
	for _, p := range chain {
		box = box.Including(p)
	}
	if box.Dx() < shortest || box.Dy() < shortest {
		return
	}
	w.entity("  0\r\nWIPEOUT\r\n  5\r\n", "0", "AcDbWipeout")
	w.lit(" 90\r\n0\r\n")
	w.point('0', box.Min)
	w.point('1', drawing.Point{X: box.Dx()})
	w.point('2', drawing.Point{Y: box.Dy()})
	w.lit(" 13\r\n1.0\r\n 23\r\n1.0\r\n340\r\n0\r\n 70\r\n7\r\n280\r\n1\r\n281\r\n50\r\n282\r\n50\r\n283\r\n0\r\n360\r\n0\r\n 71\r\n2\r\n")
	w.int(" 91", len(chain))
	for _, p := range chain {
		w.flush()
		w.num(" 14", (p.X-box.Min.X)/box.Dx()-0.5)
		w.num(" 24", 0.5-(p.Y-box.Min.Y)/box.Dy())
	}
}
