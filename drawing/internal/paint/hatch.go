package paint

import (
	"math"
	"slices"

	"boltplate/drawing"
)

// hatch draws parallel lines inside the loops, all in millimetres of paper.
// One of the lines, produced, goes through base. It reports whether they are
// few enough to draw.
func (p *pen) hatch(loops []Path, base drawing.Point, angle, spacing float64) bool {
	u := drawing.Polar(1, angle)
	n := drawing.Pt(-u.Y, u.X)
	// In coordinates along and across the lines.
	var edges [][2]drawing.Point
	low, high := math.Inf(1), math.Inf(-1)
	for _, l := range loops {
		chords(l, func(a, b drawing.Point) {
			a, b = turned(a.Sub(base), u, n), turned(b.Sub(base), u, n)
			low, high = min(low, a.Y, b.Y), max(high, a.Y, b.Y)
			edges = append(edges, [2]drawing.Point{a, b})
		})
	}
	if !((high-low)/spacing <= maxLines) && len(edges) > 0 {
		return false
	}
	var cuts []float64
	for k := math.Ceil(low / spacing); k*spacing <= high; k++ {
		y := k * spacing
		cuts = cuts[:0]
		for _, e := range edges {
			// Half open, so that a corner counts once.
			if a, b := e[0], e[1]; (a.Y <= y) != (b.Y <= y) {
				cuts = append(cuts, a.X+(y-a.Y)/(b.Y-a.Y)*(b.X-a.X))
			}
		}
		slices.Sort(cuts)
		for i := 0; i+1 < len(cuts); i += 2 {
			if cuts[i+1]-cuts[i] < least {
				continue
			}
			p.move(base.Add(u.Mul(cuts[i])).Add(n.Mul(y)))
			p.line(base.Add(u.Mul(cuts[i+1])).Add(n.Mul(y)))
		}
	}
	return true
}

func turned(p, u, n drawing.Point) drawing.Point {
	return drawing.Pt(p.X*u.X+p.Y*u.Y, p.X*n.X+p.Y*n.Y)
}

// chords calls yield for straight pieces that follow the path within the
// tolerance.
func chords(p Path, yield func(a, b drawing.Point)) {
	var start, at drawing.Point
	for i := range p {
		s := &p[i]
		switch s.Op {
		case MoveTo:
			start = s.P[0]
		case LineTo:
			yield(at, s.P[0])
		case CurveTo:
			curveChords(at, s.P, yield)
		case Close:
			yield(at, start)
			at = start
			continue
		}
		at = s.End()
	}
}

func curveChords(a drawing.Point, p [3]drawing.Point, yield func(a, b drawing.Point)) {
	// The sagitta of a piece is at most an eighth of the second derivative.
	d := max(a.Sub(p[0].Mul(2)).Add(p[1]).Len(), p[0].Sub(p[1].Mul(2)).Add(p[2]).Len())
	n := int(min(1000, math.Ceil(math.Sqrt(6*d/(8*tolerance)))))
	from := a
	for i := 1; i < n; i++ {
		to := cubicAt(a, p, float64(i)/float64(n))
		yield(from, to)
		from = to
	}
	yield(from, p[2])
}
