package flat

import (
	"math"
	"slices"

	"boltplate/drawing"
)

// A Hatcher turns hatched areas into lines, one after the other. It works in
// coordinates that are turned so that the lines are level.
type Hatcher struct {
	angle    float64
	edges    []edge
	xs       []float64
	low, top float64 // of the area
}

// An edge is a piece of the boundary that rises or falls all the way: a
// straight one, or a part of the left or the right half of a circle.
type edge struct {
	y0, y1 float64
	x0, x1 float64
	side   float64 // of a circle, -1 left, +1 right; 0 for a straight edge
	cx, cy float64
	r      float64
}

// leastBulge is the bulge below which an edge of a hatch counts as straight:
// it is off by half of that, times its length.
const leastBulge = 1e-6

// Load takes in an area: its loops as t places them, and the angle of the lines
// in degrees.
func (h *Hatcher) Load(loops [][]drawing.Vertex, angle float64, t drawing.Transform) {
	h.edges, h.low, h.top, h.angle = h.edges[:0], math.Inf(1), math.Inf(-1), angle
	turned := drawing.Transform{Turn: -angle}
	for _, l := range loops {
		for i := range l {
			v := drawing.Vertex{Point: turned.Vector(t.Point(l[i].Point)), Bulge: l[i].Bulge}
			h.chord(v, turned.Vector(t.Point(l[(i+1)%len(l)].Point)))
		}
	}
	for i := range h.edges {
		h.low = min(h.low, h.edges[i].y0, h.edges[i].y1)
		h.top = max(h.top, h.edges[i].y0, h.edges[i].y1)
	}
}

func (h *Hatcher) chord(v drawing.Vertex, to drawing.Point) {
	a, bent := drawing.Arc{}, false
	if math.Abs(v.Bulge) >= leastBulge {
		a, bent = drawing.BulgeArc(v, to)
	}
	if !bent {
		h.edges = append(h.edges, edge{y0: v.Y, y1: to.Y, x0: v.X, x1: to.X})
		return
	}
	// Cut where the circle is highest and lowest. The ends keep the height of
	// the vertices, so that whatever is rounded a level line meets the loop an
	// even number of times.
	first, last := v.Point, to
	if v.Bulge < 0 {
		first, last = to, v.Point
	}
	start := math.Mod(a.Start+360, 360)
	sweep := math.Mod(a.End-a.Start+720, 360)
	e := edge{y0: first.Y, cx: a.Center.X, cy: a.Center.Y, r: a.Radius}
	from := start
	add := func(end, y float64) {
		e.y1 = y
		if e.side = 1; math.Cos((from+end)/2*math.Pi/180) < 0 {
			e.side = -1
		}
		h.edges = append(h.edges, e)
		from, e.y0 = end, y
	}
	for q := 90.0; q < start+sweep; q += 180 {
		if q > start {
			add(q, a.Center.Y+a.Radius*(2-math.Mod(q, 360)/90)) // +1 at 90, -1 at 270
		}
	}
	add(start+sweep, last.Y)
}

// at returns where the edge is at the height y, which is in its range.
func (e *edge) at(y float64) float64 {
	if e.side == 0 {
		return e.x0 + (e.x1-e.x0)*(y-e.y0)/(e.y1-e.y0)
	}
	d := y - e.cy
	return e.cx + e.side*math.Sqrt(max(0, (e.r-d)*(e.r+d)))
}

// Count returns about how many lines spacing apart cross the area, which may be
// more than can be drawn.
func (h *Hatcher) Count(spacing float64) float64 {
	if len(h.edges) == 0 {
		return 0
	}
	return (h.top - h.low) / spacing
}

// Lines calls f with the ends of each piece of a line that is inside an odd
// number of loops. The lines are spacing apart, and one goes through the
// origin.
func (h *Hatcher) Lines(spacing float64, f func(a, b drawing.Point)) {
	back := drawing.Transform{Turn: h.angle}
	for i := math.Ceil(h.low / spacing); i*spacing < h.top; i++ {
		y := i * spacing
		h.xs = h.xs[:0]
		for j := range h.edges {
			// The lower end belongs to an edge and the upper one does not, so
			// that a corner counts once.
			if e := &h.edges[j]; min(e.y0, e.y1) <= y && y < max(e.y0, e.y1) {
				h.xs = append(h.xs, e.at(y))
			}
		}
		slices.Sort(h.xs)
		for j := 0; j+1 < len(h.xs); j += 2 {
			f(back.Vector(drawing.Point{X: h.xs[j], Y: y}), back.Vector(drawing.Point{X: h.xs[j+1], Y: y}))
		}
	}
}
