package joint

import (
	"fmt"
	"math"
	"strconv"

	"boltplate/drawing"
)

// A rim is a face of a part as the section shows it, from its hole outwards.
type rim struct {
	x     float64 // of the plane that bears, or of the plain face
	out   float64 // -1 where the face looks against x, 1 where along it
	hole  float64 // radius
	bore  float64 // radius of a counterbore; 0 for none
	deep  float64 // its depth
	seat  float64 // radius of a spot face; 0 for none
	spot  float64 // how deep that is
	slope float64 // tangent of the slope
	foot  float64 // radius up to which nothing of a slope stands above the plane that bears
	low   float64 // how far a slope falls below the plane at most
	wall  float64 // from the axis to a wall; 0 for none
	round float64 // radius of the fillet at its foot
	high  float64 // of the wall
}

// rims returns the faces of part i, from x0 to x1.
func (b *board) rims(i int, p Part, x0, x1 float64) (near, far rim) {
	near, far = rim{x: x0, out: -1, hole: b.clear(p)}, rim{x: x1, out: 1, hole: b.clear(p)}
	last := len(b.Parts) - 1
	switch {
	case b.Scene == Stud && i == 0:
		b.bear(&far, i)
	case b.Scene == ThroughBolt && i == last:
		b.bear(&far, i)
	case (b.Scene == ThroughBolt || b.Scene == Tapped) && i == 0:
		b.bear(&near, i)
	}
	return near, far
}

// bear gives a face what the part says of it.
func (b *board) bear(r *rim, i int) {
	p := b.Parts[i]
	if p.Counterbore > 0 {
		r.bore, r.deep = math.Max(p.Counterbore/2, r.hole), p.CounterboreDepth
	}
	r.slope = math.Tan(p.Slope * math.Pi / 180)
	r.low = 0.6 * p.Thickness
	r.foot = math.Max(math.Max(b.fit.Head.Bears, b.nut.Bears), math.Max(b.washer.Outside, b.head.Outside)) / 2
	if p.Seat > 0 {
		r.seat, r.spot = math.Max(p.Seat/2, r.hole), b.spot()
	}
	if p.StandsAt > 0 {
		r.wall, r.round = math.Max(p.StandsAt, r.hole), p.Fillet
		r.high = r.round + b.wallThick(i)
	}
}

// wallThick returns how thick a wall is drawn.
func (b *board) wallThick(i int) float64 {
	return math.Max(math.Min(b.Parts[i].Thickness, 1.5*b.t.D), b.st.Part(8))
}

// above returns how far the face stands above the plane that bears, at a
// distance from the axis of that sign.
func (r rim) above(y float64) float64 {
	if r.seat > 0 {
		return r.spot + (y+r.seat)*r.slope
	}
	return math.Max((y-r.foot)*r.slope, -r.low)
}

// rimAlong is along, with the break of a wall by hand.
func (b *board) rimAlong(r rim, sign, w float64) []drawing.Vertex {
	out := r.along(sign, w)
	if n := len(out); sign > 0 && r.wall > 0 && r.wall < w {
		out = append(out[:n-2], b.waved(out[n-2].Point, out[n-1].Point)...)
	}
	return out
}

// along returns the corners of the face on one side of the axis, from the hole
// to the distance w. The bulge of a vertex is that of the side from it on.
func (r rim) along(sign, w float64) []drawing.Vertex {
	var out []drawing.Vertex
	add := func(up, y float64) {
		out = append(out, drawing.Vertex{Point: drawing.Pt(r.x+r.out*up, sign*y)})
	}
	y := math.Min(r.hole, w)
	switch {
	case r.bore > 0:
		add(-r.deep, y)
		y = math.Min(r.bore, w)
		add(-r.deep, y)
		add(0, y)
	case r.seat > 0:
		add(0, y)
		if r.seat < w {
			y = r.seat
			add(0, y)
			add(r.above(sign*y), y)
		} else {
			add(0, w)
			return out
		}
	default:
		add(r.above(sign*y), y)
	}
	if sign > 0 && r.wall > 0 && r.wall < w {
		foot := math.Max(r.wall-r.round, y)
		h := r.above(foot)
		add(h, foot)
		if r.round > 0 {
			out[len(out)-1].Bulge = -quarter * r.out
			add(h+r.round, math.Max(r.wall, foot))
		}
		add(h+r.high, math.Max(r.wall, foot))
		add(h+r.high, w)
		return out
	}
	if r.slope > 0 && r.seat == 0 { // where it stops falling
		if stop := r.low/r.slope - r.foot; sign < 0 && stop > y && stop < w {
			add(-r.low, stop)
		}
	}
	add(r.above(sign*w), w)
	return out
}

// quarter is the bulge of a quarter of a circle.
const quarter = 0.41421356237309503

// faceSizes gives the sizes of what head and nut bear on.
func (b *board) faceSizes() {
	for i, p := range b.Parts {
		if !b.bornOn(i) {
			continue
		}
		x, out := b.face(), -1.0
		if i > 0 || b.Scene == Stud {
			x, out = b.face()+b.grip(), 1
		}
		n := strconv.Itoa(i + 1)
		if p.Counterbore > 0 {
			b.leader(fmt.Sprintf("Ø%s, %s deep", b.number(p.Counterbore), b.number(p.CounterboreDepth)),
				drawing.Quantity{Letter: "Dc" + n, Name: "counterbore", Value: p.Counterbore}, drawing.NoSymbol,
				x+0.3*p.CounterboreDepth, -p.Counterbore/2, 170)
		}
		if p.Seat > 0 {
			b.leader("", drawing.Quantity{Letter: "Ds" + n, Name: "spot face", Value: p.Seat}, drawing.DiameterSymbol,
				x, -p.Seat/2, 180+30*out)
		}
		if p.Fillet > 0 {
			y := p.StandsAt - p.Fillet*(1-math.Sqrt2/2)
			b.leader("", drawing.Quantity{Letter: "Rf" + n, Name: "fillet", Value: p.Fillet}, drawing.RadiusSymbol,
				x+out*p.Fillet*(1-math.Sqrt2/2), y, 90+60*out)
		}
	}
}

// holeText says the size of a hole that is slotted, or that there are several.
func (b *board) holeText(p Part) string {
	var s string
	switch {
	case p.Slotted > 0:
		s = b.number(p.Hole) + " × " + b.number(p.Slotted)
	case b.Count > 1:
		s = "Ø" + b.number(p.Hole)
	}
	if b.Count > 1 {
		s = strconv.Itoa(b.Count) + " × " + s
	}
	return s
}

func (b *board) number(v float64) string { return drawing.FormatValue(v, b.st.DecimalComma) }
