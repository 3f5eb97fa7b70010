package marking

import (
	"fmt"
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
	size    float64   // of the drawing: the larger side
	handGap float64   // between dashes that are drawn one by one, 0 where there are none
}

// newSubmission takes in what is shown and printed of a scene.
func newSubmission(f *dxfin.File, s *dxfin.Scene) *submission {
	b := &submission{file: f, scene: s, lookOf: map[lookKey]int{}}
	b.measure()
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
	b.findHandDashes()
	if n := len(b.strokes); n > maxStrokes {
		b.unsure = append(b.unsure, fmt.Sprintf("The drawing has %d lines; only the first %d were compared", n, maxStrokes))
		b.strokes = b.strokes[:maxStrokes]
	}
	b.addSolids()
	b.noteHidden(hidden)
	return b
}

// measure works out the size of the drawing.
func (b *submission) measure() {
	box := drawing.EmptyRect()
	for i := range b.scene.Curves {
		c := &b.scene.Curves[i]
		switch {
		case !c.Shown || !c.Plotted:
		case c.Spline != nil:
			box = box.Union(c.Spline.Bounds())
		default:
			for _, p := range c.Chords(math.Inf(1)) {
				box = box.Including(p)
			}
		}
	}
	b.size = max(box.Dx(), box.Dy())
}

// addSolids takes in filled areas.
func (b *submission) addSolids() {
	for i := range b.scene.Solids {
		if o := &b.scene.Solids[i]; o.Shown && o.Plotted {
			b.solids = append(b.solids, o.Corners[:])
		}
	}
	for i := range b.scene.Hatches {
		if h := &b.scene.Hatches[i]; h.Solid && h.Shown && h.Plotted {
			for _, l := range h.Loops {
				b.solids = append(b.solids, loopPoints(l))
			}
		}
	}
}

// maxStrokes bounds the lines of a submission that are compared: a plate has a
// few hundred.
const maxStrokes = 50_000

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

// Chords are taken for a curve where there are this many, in one polyline and
// as lines of their own.
const (
	fewestChords = 3
	fewestLines  = 5
)

// join makes one stroke of the short chords of a curve that follow each other
// in a polyline, or as single lines in the file.
func (b *submission) join() {
	var out []stroke
	for i := 0; i < len(b.strokes); {
		n := 1
		one := true // they are of one entity
		for i+n < len(b.strokes) && follows(&b.strokes[i+n-1], &b.strokes[i+n]) {
			one = one && b.strokes[i+n].entity == b.strokes[i].entity
			n++
		}
		if n < fewestChords || !one && n < fewestLines {
			out = append(out, b.strokes[i])
			i++
			continue
		}
		s := b.strokes[i]
		s.points, s.level = []point{s.points[0]}, false
		for _, c := range b.strokes[i : i+n] {
			s.points = append(s.points, c.points[1])
		}
		s.closed = s.points[0].Sub(s.points[n]).Len() < 1e-6*b.size
		out = append(out, s)
		i += n
	}
	b.strokes = out
}

// follows reports whether s goes on a curve of chords after p: both are
// straight, s starts where p ends, turns a little, and is about as long.
func follows(p, s *stroke) bool {
	if p.look != s.look || !p.level || !s.level {
		return false
	}
	u, v := p.points[1].Sub(p.points[0]), s.points[1].Sub(s.points[0])
	if p.points[1].Sub(s.points[0]).Len() > 1e-6*(u.Len()+v.Len()) {
		return false
	}
	turn := math.Abs(math.Atan2(wedge(u, v), dot(u, v))) * 180 / math.Pi
	ratio := u.Len() / v.Len()
	return turn <= smooth && turn >= 0.01 && ratio <= 5 && ratio >= 0.2
}
