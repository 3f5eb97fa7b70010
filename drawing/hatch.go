package drawing

import (
	"math"
	"slices"
)

// MaxHatchLines is how many lines a hatch may have: a sheet of A0 hatched from
// corner to corner at half a millimetre has three thousand.
const MaxHatchLines = 20000

// Lines returns the lines of a hatch in drawings of a style, each from edge to
// edge; none for a solid one. A line, produced, goes through the origin.
func (h Hatch) Lines(st Style) []Line {
	var out []Line
	h.EachLine(st, func(l Line) { out = append(out, l) })
	return out
}

// EachLine calls f with the lines of a hatch, as Lines returns them.
func (h Hatch) EachLine(st Style, f func(Line)) {
	if h.Solid || !(h.Count(st) <= MaxHatchLines) {
		return
	}
	newHatcher(h).lines(st.Part(h.Spacing), f)
}

// Count returns about how many lines a hatch has in drawings of a style, which
// may be more than can be drawn; 0 for a solid one.
func (h Hatch) Count(st Style) float64 {
	if h.Solid {
		return 0
	}
	return newHatcher(h).count(st.Part(h.Spacing))
}

// A hatcher turns a hatched area into lines, in coordinates that are turned so
// that the lines are level.
type hatcher struct {
	angle    float64
	edges    []rise
	low, top float64 // of the area
}

// A rise is a piece of the boundary that rises or falls all the way: a
// straight one, or a part of the left or the right half of a circle.
type rise struct {
	y0, y1 float64
	x0, x1 float64
	side   float64 // of a circle, -1 left, +1 right; 0 for a straight edge
	cx, cy float64
	r      float64
}

// leastBulge is the bulge below which an edge of a hatch counts as straight:
// it is off by half of that, times its length.
const leastBulge = 1e-6

func newHatcher(s Hatch) *hatcher {
	h := &hatcher{angle: s.Angle, low: math.Inf(1), top: math.Inf(-1)}
	turned := Transform{Turn: -s.Angle}
	for _, l := range s.Loops {
		for i := range l {
			h.chord(l[i].Apply(turned), turned.Vector(l[(i+1)%len(l)].Point))
		}
	}
	for i := range h.edges {
		h.low = min(h.low, h.edges[i].y0, h.edges[i].y1)
		h.top = max(h.top, h.edges[i].y0, h.edges[i].y1)
	}
	return h
}

func (h *hatcher) chord(v Vertex, to Point) {
	a, bent := Arc{}, false
	if math.Abs(v.Bulge) >= leastBulge {
		a, bent = BulgeArc(v, to)
	}
	if !bent {
		h.edges = append(h.edges, rise{y0: v.Y, y1: to.Y, x0: v.X, x1: to.X})
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
	e := rise{y0: first.Y, cx: a.Center.X, cy: a.Center.Y, r: a.Radius}
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
func (e *rise) at(y float64) float64 {
	if e.side == 0 {
		return e.x0 + (e.x1-e.x0)*(y-e.y0)/(e.y1-e.y0)
	}
	d := y - e.cy
	return e.cx + e.side*math.Sqrt(max(0, (e.r-d)*(e.r+d)))
}

func (h *hatcher) count(spacing float64) float64 {
	if len(h.edges) == 0 {
		return 0
	}
	return (h.top - h.low) / spacing
}

// lines calls f with each piece of a line that is inside an odd number of
// loops.
func (h *hatcher) lines(spacing float64, f func(Line)) {
	back := Transform{Turn: h.angle}
	var xs []float64
	for i := math.Ceil(h.low / spacing); i*spacing < h.top; i++ {
		y := i * spacing
		xs = xs[:0]
		for j := range h.edges {
			// The lower end belongs to an edge and the upper one does not, so
			// that a corner counts once.
			if e := &h.edges[j]; min(e.y0, e.y1) <= y && y < max(e.y0, e.y1) {
				xs = append(xs, e.at(y))
			}
		}
		slices.Sort(xs)
		for j := 0; j+1 < len(xs); j += 2 {
			f(Line{back.Vector(Point{xs[j], y}), back.Vector(Point{xs[j+1], y})})
		}
	}
}
