package marking

import (
	"math"
	"slices"
	"strings"

	"boltplate/drawing"
	"boltplate/dxfin"
)

// textWidth returns about how wide a text is.
func textWidth(s string, height float64) float64 { return drawing.TextWidth(s, height) / 1.1 }

// symbolAt returns the text that a small closed figure stands before.
func (f *dimFinder) symbolAt(ps []point, free int) *label {
	box := bounds(ps)
	for i := range f.labels[:free] {
		l := &f.labels[i]
		n := point{X: -l.u.Y, Y: l.u.X}
		long, high := extent(ps, l.u), extent(ps, n)
		// A triangle is as high as the text, a square a little lower.
		if high < 0.55*l.height || high > 1.3*l.height || long > 2.4*l.height || len(ps) == 4 && math.Abs(long-high) > 0.1*high || len(ps) == 3 && (high < 0.8*l.height || long < 1.5*high) {
			continue
		}
		v := box.Mid().Sub(l.box[0].Mid(l.box[3]))
		if before := -dot(v, l.u); before > 0 && before < 2*l.height && math.Abs(wedge(l.u, v)) < 0.3*l.height {
			return l
		}
	}
	return nil
}

// extent returns how far points reach along u.
func extent(ps []point, u point) float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, p := range ps {
		lo, hi = min(lo, dot(p, u)), max(hi, dot(p, u))
	}
	return hi - lo
}

// leaderEntity takes in a LEADER or MULTILEADER.
func (f *dimFinder) leaderEntity(d *dxfin.PlaneLeader) {
	if !d.Shown {
		return
	}
	tip, end := d.Points[0], d.Points[len(d.Points)-1]
	s := subDim{kind: dimLeader, from: tip, to: tip, text: d.Text, label: d.TextAt, line: d.Entity.Line, drawn: true}
	if s.text == "" {
		s.label = end
		s.suits = func(l *label) (float64, bool) {
			off := math.Inf(1)
			for i := range l.box {
				e, _ := fromSegment(l.box[i], l.box[(i+1)%4], end)
				off = min(off, e)
			}
			return off, off < textReach*l.height
		}
	}
	s.guessKind()
	f.dims = append(f.dims, s)
}

// letter gives each dimension in pieces the text that suits it best.
func (f *dimFinder) letter(free int) {
	type match struct {
		dim, label int
		cost       float64
	}
	var all []match
	for i := range f.dims {
		if f.dims[i].suits == nil {
			continue
		}
		for j := range f.labels[:free] {
			if c, ok := f.dims[i].suits(&f.labels[j]); ok {
				all = append(all, match{i, j, c})
			}
		}
	}
	slices.SortStableFunc(all, func(a, b match) int { return byCover(b.cost, a.cost) })
	for _, m := range all {
		d, l := &f.dims[m.dim], &f.labels[m.label]
		if d.suits == nil || l.used {
			continue
		}
		d.suits, l.used = nil, true
		d.text, d.label, d.line = l.text, l.mid(), l.line
		if d.kind == dimLeader {
			d.guessKind()
		}
	}
}

// guessKind tells by the text of a leader what it gives.
func (s *subDim) guessKind() {
	switch t := plainText(s.text); {
	case strings.HasPrefix(t, "Ø"):
		s.kind = dimCircle
	case strings.HasPrefix(t, "R") && strings.ContainsAny(t, "0123456789"):
		s.kind = dimArc
	}
}

// A tip is an arrowhead on a line, seen along it.
type tip struct {
	at      float64
	forward bool // it points along the line
	arrow   int
}

// straightPieces finds straight dimensions that are drawn in pieces: two
// arrowheads on one line that point away from each other, or from outside at
// each other.
func (f *dimFinder) straightPieces() {
	for i := range f.arrows {
		if f.arrows[i].used {
			continue
		}
		o, u := f.arrows[i].tip, f.arrows[i].dir
		if u.X < -1e-6 || u.X < 1e-6 && u.Y < 0 {
			u = u.Mul(-1)
		}
		tips := f.tipsOn(o, u)
		f.pairs(o, u, tips, true)
		f.pairs(o, u, tips, false)
	}
}

// tipsOn returns the arrowheads on a line, in order.
func (f *dimFinder) tipsOn(o, u point) (tips []tip) {
	for j := range f.arrows {
		a := &f.arrows[j]
		v := a.tip.Sub(o)
		if a.used || math.Abs(wedge(u, v)) > 0.3*f.unit || math.Abs(wedge(u, a.dir)) > 0.05 {
			continue
		}
		tips = append(tips, tip{dot(u, v), dot(u, a.dir) > 0, j})
	}
	slices.SortFunc(tips, func(a, b tip) int { return byCover(b.at, a.at) })
	return tips
}

// pairs makes dimensions of neighbours on a line: of arrowheads that point
// away from each other, with a line between them, or outside, at each other.
func (f *dimFinder) pairs(o, u point, tips []tip, away bool) {
	for i := range tips {
		for j := i + 1; j < len(tips); j++ {
			a, b := &tips[i], &tips[j]
			if f.arrows[a.arrow].used || f.arrows[b.arrow].used {
				continue
			}
			if b.at-a.at < 0.3*f.unit || a.forward == b.forward || a.forward == away || f.between(tips, a.at, b.at) {
				continue
			}
			p, q := o.Add(u.Mul(a.at)), o.Add(u.Mul(b.at))
			if away && !f.drawnBetween(p, q) {
				continue
			}
			if !away && b.at-a.at > 15*f.unit {
				continue
			}
			f.straightDim(p, q, u)
			f.arrows[a.arrow].used, f.arrows[b.arrow].used = true, true
			break
		}
	}
}

// between reports whether an arrowhead that is still free lies between two
// places on a line.
func (f *dimFinder) between(tips []tip, lo, hi float64) bool {
	return slices.ContainsFunc(tips, func(t tip) bool {
		return !f.arrows[t.arrow].used && t.at > lo+0.3*f.unit && t.at < hi-0.3*f.unit
	})
}

// drawnBetween reports whether a line runs most of the way from p to q.
func (f *dimFinder) drawnBetween(p, q point) bool {
	var all []span
	u := unit(q.Sub(p))
	for i := range f.strokes {
		s := &f.strokes[i]
		if !s.level {
			continue
		}
		a, b := s.points[0].Sub(p), s.points[1].Sub(p)
		if math.Abs(wedge(u, a)) < 0.3*f.unit && math.Abs(wedge(u, b)) < 0.3*f.unit {
			x, y := dot(u, a), dot(u, b)
			all = append(all, span{min(x, y), max(x, y)})
		}
	}
	length := q.Sub(p).Len()
	return total(holes(union(all, 0), 0, length)) < 0.5*length
}

// straightDim takes in a dimension between two tips.
func (f *dimFinder) straightDim(p, q, u point) {
	mid := p.Mid(q)
	lo, hi := f.alongLine(p, q, u)
	end := q.Sub(p).Len()
	f.dims = append(f.dims, subDim{kind: dimStraight, from: p, to: q, u: u, drawn: true, label: mid, suits: func(l *label) (float64, bool) {
		if math.Abs(wedge(l.u, u)) > 0.1 {
			return 0, false
		}
		// The text stands above the line, in the middle or beside the arrows.
		v := l.mid().Sub(p)
		at, off := dot(u, v), math.Abs(wedge(u, v))
		side := max(lo-at, at-hi, 0)
		cost := math.Abs(off-0.8*l.height) + 0.3*side + 0.1*max(-at, at-end, 0) + 0.01*math.Abs(at-end/2)
		return cost, off < textReach*l.height && side < lengthOf(l.box[:2])/2+12*f.unit
	}})
	f.noteLine(p, q, u)
}

// alongLine returns how far the line of a dimension runs, along u from p: to
// the tips at least, and on below a text that stands beside them.
func (f *dimFinder) alongLine(p, q, u point) (lo, hi float64) {
	end := dot(u, q.Sub(p))
	all := []span{{0, end}}
	for i := range f.strokes {
		s := &f.strokes[i]
		if !s.level {
			continue
		}
		a, b := s.points[0].Sub(p), s.points[1].Sub(p)
		if math.Abs(wedge(u, a)) < 0.1*f.unit && math.Abs(wedge(u, b)) < 0.1*f.unit {
			all = append(all, span{min(dot(u, a), dot(u, b)), max(dot(u, a), dot(u, b))})
		}
	}
	for _, s := range union(all, 0.2*f.unit) {
		if s.from <= 0 && s.to >= end {
			return s.from, s.to
		}
	}
	return 0, end
}

// noteLine marks the lines of a straight dimension between two tips: what runs
// along it, and what runs across it at the tips.
func (f *dimFinder) noteLine(p, q, u point) {
	looks := map[int]bool{} // of the line itself
	for i := range f.strokes {
		s := &f.strokes[i]
		if !s.level {
			continue
		}
		a, b := s.points[0], s.points[1]
		v := unit(b.Sub(a))
		if math.Abs(wedge(u, v)) < 0.02 {
			d1, _ := fromSegment(a, b, p)
			d2, _ := fromSegment(a, b, q)
			if min(d1, d2) < tipSlack*f.unit && math.Abs(wedge(u, a.Sub(p))) < 0.1*f.unit {
				f.notes[i], looks[s.look] = sure, true
			} else if d, _ := fromSegment(p, q, a.Mid(b)); d < 0.1*f.unit { // a piece of the line
				f.notes[i], looks[s.look] = sure, true
			}
			continue
		}
		if math.Abs(dot(u, v)) < 0.05 && (f.ends(a, b, p) || f.ends(a, b, q)) {
			f.notes[i] = max(f.notes[i], perhaps)
		}
	}
	// An extension line looks like the line of its dimension, and ends a little
	// past it.
	for i := range f.strokes {
		s := &f.strokes[i]
		if f.notes[i] != perhaps || !looks[s.look] {
			continue
		}
		for _, t := range [2]point{p, q} {
			for k := range 2 {
				past := s.points[k].Sub(t)
				if math.Abs(dot(u, past)) < tipSlack*f.unit && past.Len() > 0.6*f.unit && past.Len() < 4.5*f.unit && dot(past, s.points[1-k].Sub(t)) < 0 {
					f.notes[i] = sure
				}
			}
		}
	}
}

// ends reports whether the line ab passes through a tip and ends a little past
// it, as an extension line does, or goes on to another dimension.
func (f *dimFinder) ends(a, b, tip point) bool {
	d, _ := fromSegment(a, b, tip)
	return d < tipSlack*f.unit
}

// A halfAngle is an arc with an arrowhead at one of its ends.
type halfAngle struct {
	stroke, arrow int
	c             point
	r             float64
}

// anglePieces finds dimensions of angles: two arrowheads on one arc, or where
// these stand outside, on two arcs of one circle.
func (f *dimFinder) anglePieces() {
	var halves []halfAngle
	for i := range f.strokes {
		s := &f.strokes[i]
		if s.level || len(s.points) < 4 {
			continue
		}
		c, r, off, ok := circleOf(s.points)
		if !ok || off > 0.2*f.unit {
			continue
		}
		var on []int
		for j := range f.arrows {
			a := &f.arrows[j]
			v := a.tip.Sub(c)
			if !a.used && math.Abs(v.Len()-r) < 0.3*f.unit && math.Abs(dot(unit(v), a.dir)) < 0.2+a.length/r &&
				s.passes(a.tip, f.unit) { // at an end, or where the arc goes on under the label
				on = append(on, j)
			}
		}
		if len(on) == 1 {
			halves = append(halves, halfAngle{i, on[0], c, r})
		}
		if len(on) != 2 {
			continue
		}
		p, q := &f.arrows[on[0]], &f.arrows[on[1]]
		p.used, q.used, f.notes[i] = true, true, sure
		mid := c.Add(unit(p.tip.Mid(q.tip).Sub(c)).Mul(r))
		f.dims = append(f.dims, subDim{kind: dimAngle, from: p.tip, to: q.tip, center: c, drawn: true, label: mid, suits: func(l *label) (float64, bool) {
			off := l.mid().Sub(mid).Len()
			return off, off < 12*f.unit
		}})
		f.noteLegs(c, p.tip, q.tip)
	}
	for i, a := range halves {
		for _, b := range halves[:i] {
			f.outsideAngle(a, b)
		}
	}
}

// passes reports whether a stroke comes as near to a point as d.
func (s *stroke) passes(p point, d float64) bool {
	for i := range len(s.points) - 1 {
		if off, _ := fromSegment(s.points[i], s.points[i+1], p); off < d {
			return true
		}
	}
	return false
}

// outsideAngle takes two arcs as a dimension whose arrowheads point at each
// other from outside. Its label stands between them or along either arc.
func (f *dimFinder) outsideAngle(a, b halfAngle) {
	p, q := &f.arrows[a.arrow], &f.arrows[b.arrow]
	if p.used || q.used || a.c.Sub(b.c).Len() > 0.5*f.unit || math.Abs(a.r-b.r) > 0.5*f.unit {
		return
	}
	p.used, q.used, f.notes[a.stroke], f.notes[b.stroke] = true, true, sure, sure
	c, r := a.c, a.r
	mid := c.Add(unit(p.tip.Mid(q.tip).Sub(c)).Mul(r))
	f.dims = append(f.dims, subDim{kind: dimAngle, from: p.tip, to: q.tip, center: c, drawn: true, label: mid, suits: func(l *label) (float64, bool) {
		off := math.Abs(l.mid().Sub(c).Len() - r)
		near := min(l.mid().Sub(p.tip).Len(), l.mid().Sub(q.tip).Len(), l.mid().Sub(mid).Len())
		return off, off < 2*l.height && near < 14*f.unit
	}})
	f.noteLegs(c, p.tip, q.tip)
}

// noteLegs marks the extension lines of an angle.
func (f *dimFinder) noteLegs(c, p, q point) {
	for i := range f.strokes {
		s := &f.strokes[i]
		if !s.level {
			continue
		}
		a, b := s.points[0], s.points[1]
		for _, t := range [2]point{p, q} {
			if math.Abs(wedge(unit(t.Sub(c)), unit(b.Sub(a)))) < 0.02 && f.ends(a, b, t) {
				f.notes[i] = max(f.notes[i], perhaps)
			}
		}
	}
}

// leaderPieces finds leaders that are drawn in pieces: from the tip of an
// arrowhead, or its foot, an oblique line to a knee, from there a shelf with a
// text.
func (f *dimFinder) leaderPieces() {
	for i := range f.arrows {
		a := &f.arrows[i]
		if a.used {
			continue
		}
		line, knee := f.lineFrom(a.tip, a.dir.Mul(-1), -1)
		if line < 0 {
			line, knee = f.lineFrom(a.tip.Sub(a.dir.Mul(a.length)), a.dir.Mul(-1), -1)
		}
		if line < 0 {
			continue
		}
		f.notes[line] = sure
		end := knee
		if shelf, far := f.lineFrom(knee, point{}, line); shelf >= 0 {
			f.notes[shelf] = sure
			end = far
		}
		f.dims = append(f.dims, subDim{kind: dimLeader, from: a.tip, to: a.tip, drawn: true, label: end, suits: func(l *label) (float64, bool) {
			off, _ := fromSegment(knee, end, l.mid())
			return math.Abs(off - 0.8*l.height), off < textReach*l.height+0.3*lengthOf(l.box[:2])
		}})
		a.used = true
	}
}

// bareLeaders finds leaders without an arrowhead, which programs leave out where
// the line is short: a text that is of nothing else, a shelf as long as it
// below, and an oblique line from one end of that.
func (f *dimFinder) bareLeaders(free int) {
	for j := range f.labels[:free] {
		l := &f.labels[j]
		if l.used {
			continue
		}
		for i := range f.strokes {
			if !f.isShelf(&f.strokes[i], l) || f.notes[i] == sure {
				continue
			}
			line, tip := f.obliqueFrom(i)
			if line < 0 {
				continue
			}
			f.notes[i], f.notes[line], l.used = sure, sure, true
			d := subDim{kind: dimLeader, from: tip, to: tip, text: l.text, label: l.mid(), line: l.line, drawn: true}
			d.guessKind()
			f.dims = append(f.dims, d)
			break
		}
	}
}

// isShelf reports whether a text stands on a stroke that is about as long.
func (f *dimFinder) isShelf(s *stroke, l *label) bool {
	if !s.level {
		return false
	}
	a, b, m := s.points[0], s.points[1], l.mid()
	length, width := b.Sub(a).Len(), lengthOf(l.box[:2])
	above := wedge(l.u, m.Sub(a))
	at := dot(l.u, m.Sub(a.Mid(b)))
	return math.Abs(wedge(l.u, unit(b.Sub(a)))) < 0.02 && math.Abs(at) < 0.25*width+f.unit &&
		above > 0.5*l.height && above < 1.3*l.height && length > 0.7*width && length < 1.5*width+4*f.unit
}

// obliqueFrom returns the stroke that leads from an end of a shelf to a place
// that is not beside the shelf, and its other end; -1 where there is none.
func (f *dimFinder) obliqueFrom(shelf int) (stroke int, tip point) {
	s := &f.strokes[shelf]
	u := unit(s.points[1].Sub(s.points[0]))
	for _, end := range s.points {
		i, far := f.lineFrom(end, point{}, shelf)
		if i < 0 {
			continue
		}
		// Upright on it, it is the corner of a part.
		if w := math.Abs(wedge(u, unit(far.Sub(end)))); w > 0.25 && w < 0.999 {
			return i, far
		}
	}
	return -1, point{}
}

// lineFrom returns the straight stroke that starts at p, nearest to the
// direction u where that is not zero, and its other end; -1 where there is none.
func (f *dimFinder) lineFrom(p, u point, not int) (stroke int, end point) {
	stroke, end = -1, p
	best := 0.99
	for i := range f.strokes {
		s := &f.strokes[i]
		if !s.level || i == not || f.notes[i] == sure {
			continue
		}
		for k := range 2 {
			a, b := s.points[k], s.points[1-k]
			if a.Sub(p).Len() > shelfSlack*f.unit || b.Sub(a).Len() < 1.5*f.unit || b.Sub(a).Len() > 80*f.unit {
				continue
			}
			fit := 1 - 0.001*a.Sub(p).Len()/f.unit
			if u != (point{}) {
				fit = dot(unit(b.Sub(a)), u)
			}
			if fit > best {
				best, stroke, end = fit, i, b
			}
		}
	}
	return stroke, end
}
