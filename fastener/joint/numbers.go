package joint

import (
	"math"

	"boltplate/drawing"
	"boltplate/internal/plane"
)

// numbers sets the item numbers beside the view, where neither they nor
// their lines run into its dimensions, as far as there is such a place.
func (b *board) numbers(found []Finding, v drawing.View) []drawing.Item {
	right, middle := v.Outline().Max.X, v.Outline().Mid().Y
	o := b.obstacles(v)
	var best []drawing.Item
	fewest := math.MaxInt
	for _, out := range [3]float64{0, 1, 2} {
		for _, up := range [13]float64{0, -1, 1, -2, 2, -3, 3, -4, 4, -6, 6, -8, 8} {
			b.raised = up * b.st.Part(8)
			items := b.balloons(found, right+out*b.st.Part(20), middle)
			if n := o.hits(items); n < fewest {
				best, fewest = items, n
			}
			if fewest == 0 {
				return best
			}
		}
	}
	return best
}

// obstacles are the dimensions of a view: boxes about their labels, and lines.
type obstacles struct {
	labels []plane.Box
	lines  []drawing.Line
}

func (b *board) obstacles(v drawing.View) obstacles {
	var o obstacles
	for _, it := range v.Items {
		x, ok := drawing.Expand(it.Shape, b.st)
		if !ok {
			continue
		}
		if corners, ok := x.LabelBox(); ok {
			r := drawing.EmptyRect()
			for _, p := range corners {
				r = r.Including(p)
			}
			r = r.Grown(b.st.Part(0.3))
			o.labels = append(o.labels, plane.Box{Min: plane.Vec(r.Min), Max: plane.Vec(r.Max)})
		}
		o.lines = append(o.lines, x.Lines()...)
		for _, a := range x.Arcs() {
			const pieces = 24
			sweep := plane.Sweep(a.Start, a.End)
			at := func(i int) drawing.Point {
				return a.Center.Add(drawing.Polar(a.Radius, a.Start+sweep*float64(i)/pieces))
			}
			for i := range pieces {
				o.lines = append(o.lines, drawing.Line{From: at(i), To: at(i + 1)})
			}
		}
	}
	return o
}

// hits returns how many labels the lines and the circles of numbers touch, and
// how many lines the circles do. The ring of a finding goes where it must.
func (o obstacles) hits(items []drawing.Item) (n int) {
	for i, it := range items {
		switch s := it.Shape.(type) {
		case drawing.Line:
			for _, box := range o.labels {
				if plane.SegmentHitsBox(plane.Vec(s.From), plane.Vec(s.To), box) {
					n++
				}
			}
		case drawing.Circle:
			if i+1 == len(items) || items[i+1].Role != drawing.RoleText {
				continue // a ring
			}
			for _, box := range o.labels {
				near := drawing.Pt(math.Max(box.Min.X, math.Min(s.Center.X, box.Max.X)), math.Max(box.Min.Y, math.Min(s.Center.Y, box.Max.Y)))
				if near.Sub(s.Center).Len() < s.Radius {
					n++
				}
			}
			for _, l := range o.lines {
				if distance(s.Center, l) < s.Radius {
					n++
				}
			}
		}
	}
	return n
}

// distance returns how far a point is from a line.
func distance(p drawing.Point, l drawing.Line) float64 {
	d, q := l.To.Sub(l.From), p.Sub(l.From)
	k := 0.0
	if n := d.X*d.X + d.Y*d.Y; n > 0 {
		k = math.Max(0, math.Min(1, (q.X*d.X+q.Y*d.Y)/n))
	}
	return q.Sub(d.Mul(k)).Len()
}
