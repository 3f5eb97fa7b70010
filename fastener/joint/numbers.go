package joint

import (
	"math"
	"slices"

	"boltplate/drawing"
	"boltplate/internal/plane"
)

// arrangeFenced places the dimensions of a view, the labels of leaders left of
// the axis. Where one of them still touches something, other directions of the
// leaders are tried.
func (b *board) arrangeFenced(v drawing.View) drawing.View {
	fence := b.fence(v.Outline())
	var best drawing.View
	fewest := math.MaxInt
	// All of them turn alike, and then every second one the other way.
	turns := [7]float64{0, 15, -15, 30, -30, 45, -45}
	for i := range 2*len(turns) - 1 {
		turn, next := turns[i%len(turns)], 1.0
		if i >= len(turns) {
			turn, next = turns[i-len(turns)+1], -1
		}
		w := v
		w.Items = slices.Concat(fence, v.Items)
		for i, it := range w.Items {
			if l, ok := it.Shape.(drawing.Leader); ok {
				l.Angle += turn
				w.Items[i].Shape = l
				turn *= next
			}
		}
		w = drawing.Arrange(w, b.st)
		w.Items = w.Items[len(fence):] // it keeps the order
		if n := b.tangles(w); n < fewest {
			best, fewest = w, n
		}
		if fewest == 0 {
			break
		}
	}
	return best
}

// fence returns edges on the axis that are not drawn: a leader that crosses
// them counts as one that runs through the part, so that it rather goes the
// other way.
func (b *board) fence(r drawing.Rect) []drawing.Item {
	const edges = 40 // dearer than any crossing of dimension lines
	out := make([]drawing.Item, edges)
	for i := range out {
		out[i] = drawing.Item{Role: drawing.RoleThin, Shape: drawing.Line{From: drawing.Pt(0, r.Min.Y),
			To: drawing.Pt(0, r.Max.Y)}}
	}
	return out
}

// tangles returns how many labels of a view touch another one, or a line or an
// arrow of another dimension, and how many leaders cross.
func (b *board) tangles(v drawing.View) (n int) {
	var each []obstacles
	var leaders [][]drawing.Line
	for _, it := range v.Items {
		o := b.obstacles(drawing.View{Items: []drawing.Item{it}})
		if x, ok := drawing.Expand(it.Shape, b.st); ok {
			for _, a := range x.Arrows() {
				o.lines = append(o.lines, drawing.Line{From: a[0], To: a[1]}, drawing.Line{From: a[1], To: a[2]},
					drawing.Line{From: a[2], To: a[0]})
			}
			each = append(each, o)
			if _, ok := it.Shape.(drawing.Leader); ok {
				for _, other := range leaders {
					n += crossings(x.Lines(), other)
				}
				leaders = append(leaders, x.Lines())
			}
		}
	}
	for i, o := range each {
		for _, box := range o.labels {
			for k, other := range each {
				if i == k {
					continue
				}
				for _, l := range other.lines {
					if plane.SegmentHitsBox(plane.Vec(l.From), plane.Vec(l.To), box) {
						n++
					}
				}
				for _, q := range other.labels {
					if box.Min.X < q.Max.X && q.Min.X < box.Max.X && box.Min.Y < q.Max.Y && q.Min.Y < box.Max.Y {
						n++
					}
				}
			}
		}
	}
	return n
}

// crossings returns how many lines of a cross lines of b.
func crossings(a, b []drawing.Line) (n int) {
	side := func(l drawing.Line, p drawing.Point) float64 {
		u, w := l.To.Sub(l.From), p.Sub(l.From)
		return u.X*w.Y - u.Y*w.X
	}
	for _, l := range a {
		for _, m := range b {
			if side(l, m.From)*side(l, m.To) < 0 && side(m, l.From)*side(m, l.To) < 0 {
				n++
			}
		}
	}
	return n
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
			r = r.Grown(b.st.Part(0.1))
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
