package dxfout

import (
	"boltplate/drawing"
)

// hatch appends a hatched or filled area. Readers take the groups of a HATCH
// in one order only.
func (w *writer) hatch(layer string, h *drawing.Hatch) {
	loops := 0
	for _, l := range h.Loops {
		if w.encloses(l) {
			loops++
		}
	}
	if loops == 0 {
		return
	}
	if w.plain {
		w.plainHatch(layer, h)
		return
	}
	if t := h.Loops[0]; h.Solid && len(h.Loops) == 1 && len(t) == 3 && !bulged(t) {
		w.solid(layer, w.move(t[0].Point), w.move(t[1].Point), w.move(t[2].Point), w.move(t[2].Point))
		return
	}
	w.entity("  0\r\nHATCH\r\n  5\r\n", layer, "AcDbHatch")
	w.lit(" 10\r\n0.0\r\n 20\r\n0.0\r\n 30\r\n0.0\r\n210\r\n0.0\r\n220\r\n0.0\r\n230\r\n1.0\r\n")
	if h.Solid {
		w.lit("  2\r\nSOLID\r\n 70\r\n1\r\n 71\r\n0\r\n")
	} else {
		w.lit("  2\r\n_USER\r\n 70\r\n0\r\n 71\r\n0\r\n")
	}
	w.int(" 91", loops)
	w.loops(h.Loops)
	if h.Solid {
		w.lit(" 75\r\n0\r\n 76\r\n1\r\n 98\r\n0\r\n") // style: odd parity
		return
	}
	w.pattern(h.Angle, h.Spacing*w.mm)
	w.lit(" 98\r\n0\r\n")
}

// loops appends the boundary of an area as polyline paths.
func (w *writer) loops(loops [][]drawing.Vertex) {
	flags := " 92\r\n3\r\n" // external, polyline
	for _, l := range loops {
		if !w.encloses(l) {
			continue
		}
		w.lit(flags)
		flags = " 92\r\n2\r\n"
		all := bulged(l)
		if all {
			w.lit(" 72\r\n1\r\n 73\r\n1\r\n")
		} else {
			w.lit(" 72\r\n0\r\n 73\r\n1\r\n")
		}
		w.int(" 93", len(l))
		w.vertices(l, all)
		w.lit(" 97\r\n0\r\n")
	}
}

// pattern appends the one line of a user pattern. Its offset is the step from
// one line to the next in the plane of the drawing, already turned.
func (w *writer) pattern(angle, spacing float64) {
	angle, _ = turn(angle, angle)
	w.lit(" 75\r\n0\r\n 76\r\n0\r\n")
	w.num(" 52", angle)
	w.num(" 41", spacing)
	w.lit(" 77\r\n0\r\n 78\r\n1\r\n")
	w.num(" 53", angle)
	w.lit(" 43\r\n0.0\r\n 44\r\n0.0\r\n")
	step := drawing.Polar(spacing, angle+90)
	w.num(" 45", step.X)
	w.num(" 46", step.Y)
	w.lit(" 79\r\n0\r\n")
}

func bulged(vs []drawing.Vertex) bool {
	for i := range vs {
		if vs[i].Bulge != 0 {
			return true
		}
	}
	return false
}

// encloses reports whether a loop can have an area.
func (w *writer) encloses(vs []drawing.Vertex) bool {
	return (len(vs) > 2 || len(vs) == 2 && bulged(vs)) && !w.onePoint(vs)
}
