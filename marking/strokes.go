package marking

import (
	"math"

	"boltplate/drawing"
	"boltplate/dxfin"
)

// A stroke is a line of a submission as a chain of points, in its drawing
// units.
type stroke struct {
	points []point
	look   int  // index of its look
	line   int  // of the file
	level  bool // it is straight: two points
	closed bool
	entity *dxfin.Entity
}

// A submission is a scene in the form that marking needs.
type submission struct {
	file    *dxfin.File
	scene   *dxfin.Scene
	strokes []stroke
	looks   []look
	unsure  []string
	lookOf  map[lookKey]int
	solids  [][]point // small filled areas, arrowheads among them
	solidAt []int     // lines of the file
	size    float64   // of the drawing: the larger side
}

// newSubmission takes in what is shown and printed of a scene.
func newSubmission(f *dxfin.File, s *dxfin.Scene) *submission {
	b := &submission{file: f, scene: s, lookOf: map[lookKey]int{}}
	box := drawing.EmptyRect()
	for i := range s.Curves {
		if c := &s.Curves[i]; c.Shown && c.Plotted {
			if c.Spline != nil {
				box = box.Union(c.Spline.Bounds())
			} else {
				for _, p := range c.Chords(math.Inf(1)) {
					box = box.Including(p)
				}
			}
		}
	}
	b.size = max(box.Dx(), box.Dy())
	hidden := map[string]int{}
	for i := range s.Curves {
		c := &s.Curves[i]
		if !c.Shown || !c.Plotted {
			hidden[c.Layer]++
			continue
		}
		b.add(c)
	}
	b.join()
	for i := range s.Solids {
		o := &s.Solids[i]
		if o.Shown && o.Plotted {
			ps := o.Corners[:]
			if ps[2] == ps[3] {
				ps = ps[:3]
			}
			b.solids, b.solidAt = append(b.solids, ps), append(b.solidAt, o.Entity.Line)
		}
	}
	for i := range s.Hatches {
		h := &s.Hatches[i]
		if h.Solid && h.Shown && h.Plotted {
			for _, l := range h.Loops {
				b.solids, b.solidAt = append(b.solids, loopPoints(l)), append(b.solidAt, h.Entity.Line)
			}
		}
	}
	b.noteHidden(hidden)
	return b
}

// fineness is the greatest distance of a chord from a curve, as a part of the
// drawing's size.
const fineness = 2e-5

func (b *submission) add(c *dxfin.Curve) {
	st := stroke{points: c.Chords(b.size * fineness), look: b.look(&c.Look, c.Width), line: c.Entity.Line, entity: c.Entity}
	_, st.level = c.Shape.(drawing.Line)
	if len(st.points) < 2 || lengthOf(st.points) < 1e-9*b.size {
		return
	}
	st.closed = !st.level && st.points[0].Sub(st.points[len(st.points)-1]).Len() < 1e-9*b.size
	b.strokes = append(b.strokes, st)
}

// loopPoints returns the points of a closed chain of curves.
func loopPoints(loop []dxfin.Curve) (ps []point) {
	for i := range loop {
		c := loop[i].Chords(0.02)
		if n := len(ps); n > 0 && len(c) > 1 && ps[n-1].Sub(c[len(c)-1]).Len() < ps[n-1].Sub(c[0]).Len() {
			for j, k := 0, len(c)-1; j < k; j, k = j+1, k-1 {
				c[j], c[k] = c[k], c[j]
			}
		}
		ps = append(ps, c...)
	}
	return ps
}

// smooth is the greatest turn in degrees between the chords of a curve that is
// drawn as a polyline: a hexagon turns by 60 at its corners, an octagon by 45.
const smooth = 31

// join makes one stroke of the short chords of a curve that follow each other
// in a polyline, or as single lines in the file.
func (b *submission) join() {
	var out []stroke
	for _, s := range b.strokes {
		if n := len(out); n > 0 && s.level && follows(&out[n-1], &s) {
			p := &out[n-1]
			p.points = append(p.points, s.points[1])
			p.level = false
			p.closed = p.points[0].Sub(s.points[1]).Len() < 1e-6*b.size
			continue
		}
		s.points = append([]point(nil), s.points...)
		out = append(out, s)
	}
	b.strokes = out
}

// follows reports whether the straight line s goes on a curve of chords that p
// is or begins: it starts where p ends, turns a little, and is about as long
// as the chord before it.
func follows(p, s *stroke) bool {
	if p.look != s.look || p.closed {
		return false
	}
	n := len(p.points)
	a, b, c := p.points[n-2], p.points[n-1], s.points[0]
	u, v := b.Sub(a), s.points[1].Sub(c)
	if b.Sub(c).Len() > 1e-6*(u.Len()+v.Len()) {
		return false
	}
	turn := math.Abs(math.Atan2(wedge(u, v), dot(u, v))) * 180 / math.Pi
	ratio := u.Len() / v.Len()
	if turn > smooth || turn < 0.01 || ratio > 5 || ratio < 0.2 {
		return false
	}
	return true
}
