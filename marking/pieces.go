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
func (f *dimFinder) symbolAt(box drawing.Rect, free int) *label {
	size := max(box.Dx(), box.Dy())
	for i := range f.labels[:free] {
		l := &f.labels[i]
		if size > 2.2*l.height || size < 0.3*l.height {
			continue
		}
		v := box.Mid().Sub(l.box[0].Mid(l.box[3]))
		if before := -dot(v, l.u); before > 0 && before < 2.6*l.height && math.Abs(wedge(l.u, v)) < 0.8*l.height {
			return l
		}
	}
	return nil
}

// leaderEntity takes in a LEADER or MULTILEADER.
func (f *dimFinder) leaderEntity(d *dxfin.PlaneLeader, free int) {
	if !d.Shown {
		return
	}
	tip, end := d.Points[0], d.Points[len(d.Points)-1]
	s := subDim{kind: dimLeader, from: tip, to: tip, text: d.Text, label: d.TextAt, line: d.Entity.Line, drawn: true}
	if s.text == "" {
		l := f.nearest(free, func(l *label) float64 {
			off := math.Inf(1)
			for i := range l.box {
				e, _ := fromSegment(l.box[i], l.box[(i+1)%4], end)
				off = min(off, e)
			}
			return off - textReach*l.height
		})
		if l == nil {
			return
		}
		s.text, s.label = l.text, l.mid()
	}
	s.guessKind()
	f.dims = append(f.dims, s)
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

// nearest returns the text that is not yet used for which cost is the least
// and below 0, and marks it as used.
func (f *dimFinder) nearest(free int, cost func(*label) float64) *label {
	var best *label
	least := 0.0
	for i := range f.labels[:free] {
		if l := &f.labels[i]; !l.used {
			if c := cost(l); c < least {
				best, least = l, c
			}
		}
	}
	if best != nil {
		best.used = true
	}
	return best
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
func (f *dimFinder) straightPieces(free int) {
	for i := range f.arrows {
		if f.arrows[i].used {
			continue
		}
		o, u := f.arrows[i].tip, f.arrows[i].dir
		if u.X < -1e-6 || u.X < 1e-6 && u.Y < 0 {
			u = u.Mul(-1)
		}
		tips := f.tipsOn(o, u)
		f.pairs(o, u, tips, free, true)
		f.pairs(o, u, tips, free, false)
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
func (f *dimFinder) pairs(o, u point, tips []tip, free int, away bool) {
	for i := range tips {
		for j := i + 1; j < len(tips); j++ {
			a, b := &tips[i], &tips[j]
			if f.arrows[a.arrow].used || f.arrows[b.arrow].used {
				continue
			}
			if b.at-a.at < 0.3*f.unit || a.forward == b.forward || a.forward == away {
				continue
			}
			p, q := o.Add(u.Mul(a.at)), o.Add(u.Mul(b.at))
			if away && !f.drawnBetween(p, q) {
				continue
			}
			if !away && b.at-a.at > 15*f.unit {
				continue
			}
			f.straightDim(p, q, u, free)
			f.arrows[a.arrow].used, f.arrows[b.arrow].used = true, true
			break
		}
	}
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
func (f *dimFinder) straightDim(p, q, u point, free int) {
	half := q.Sub(p).Len() / 2
	mid := p.Mid(q)
	l := f.nearest(free, func(l *label) float64 {
		if math.Abs(wedge(l.u, u)) > 0.1 {
			return 0
		}
		v := l.mid().Sub(mid)
		side, off := math.Abs(dot(u, v))-half, math.Abs(wedge(u, v))
		if off > textReach*l.height || side > lengthOf(l.box[:2])/2+12*f.unit {
			return 0
		}
		return off + max(side, 0) - 1e6*f.unit
	})
	s := subDim{kind: dimStraight, from: p, to: q, u: u, drawn: true, label: mid}
	if l != nil {
		s.text, s.label, s.line = l.text, l.mid(), l.line
	}
	f.dims = append(f.dims, s)
	f.noteLine(p, q, u)
}

// noteLine marks the lines of a straight dimension between two tips: what runs
// along it, and what runs across it at the tips.
func (f *dimFinder) noteLine(p, q, u point) {
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
			if min(d1, d2) < tipSlack*f.unit && math.Abs(wedge(u, a.Sub(p))) < 0.3*f.unit {
				f.notes[i] = true
			} else if d, _ := fromSegment(p, q, a.Mid(b)); d < 0.3*f.unit { // a piece of the line
				f.notes[i] = true
			}
			continue
		}
		if math.Abs(dot(u, v)) < 0.05 && (f.ends(a, b, p) || f.ends(a, b, q)) {
			f.notes[i] = true
		}
	}
}

// ends reports whether the line ab passes through a tip and ends a little past
// it, as an extension line does, or goes on to another dimension.
func (f *dimFinder) ends(a, b, tip point) bool {
	d, _ := fromSegment(a, b, tip)
	return d < tipSlack*f.unit
}

// anglePieces finds dimensions of angles: two arrowheads on one arc.
func (f *dimFinder) anglePieces(free int) {
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
				(a.tip.Sub(s.points[0]).Len() < f.unit || a.tip.Sub(s.points[len(s.points)-1]).Len() < f.unit) {
				on = append(on, j)
			}
		}
		if len(on) != 2 {
			continue
		}
		p, q := &f.arrows[on[0]], &f.arrows[on[1]]
		p.used, q.used, f.notes[i] = true, true, true
		mid := c.Add(unit(p.tip.Mid(q.tip).Sub(c)).Mul(r))
		l := f.nearest(free, func(l *label) float64 { return l.mid().Sub(mid).Len() - 12*f.unit })
		d := subDim{kind: dimAngle, from: p.tip, to: q.tip, center: c, drawn: true, label: mid}
		if l != nil {
			d.text, d.label, d.line = l.text, l.mid(), l.line
		}
		f.dims = append(f.dims, d)
		f.noteLegs(c, p.tip, q.tip)
	}
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
				f.notes[i] = true
			}
		}
	}
}

// leaderPieces finds leaders that are drawn in pieces: from the tip of an
// arrowhead an oblique line to a knee, from there a shelf with a text.
func (f *dimFinder) leaderPieces(free int) {
	for i := range f.arrows {
		a := &f.arrows[i]
		if a.used {
			continue
		}
		line, knee := f.lineFrom(a.tip, a.dir.Mul(-1), -1)
		if line < 0 {
			continue
		}
		f.notes[line] = true
		end := knee
		if shelf, far := f.lineFrom(knee, point{}, line); shelf >= 0 {
			f.notes[shelf] = true
			end = far
		}
		l := f.nearest(free, func(l *label) float64 {
			off, _ := fromSegment(knee, end, l.mid())
			return off - (textReach+1)*l.height - 0.3*lengthOf(l.box[:2])
		})
		s := subDim{kind: dimLeader, from: a.tip, to: a.tip, drawn: true, label: end}
		if l != nil {
			s.text, s.label, s.line = l.text, l.mid(), l.line
		}
		s.guessKind()
		f.dims = append(f.dims, s)
		a.used = true
	}
}

// lineFrom returns a straight stroke that starts at p, in the direction u where
// that is not zero, and its other end; -1 where there is none.
func (f *dimFinder) lineFrom(p, u point, not int) (stroke int, end point) {
	for i := range f.strokes {
		s := &f.strokes[i]
		if !s.level || i == not || f.notes[i] {
			continue
		}
		for k := range 2 {
			a, b := s.points[k], s.points[1-k]
			if a.Sub(p).Len() > shelfSlack*f.unit || b.Sub(a).Len() < 1.5*f.unit || b.Sub(a).Len() > 80*f.unit {
				continue
			}
			if u != (point{}) && dot(unit(b.Sub(a)), u) < 0.99 {
				continue
			}
			return i, b
		}
	}
	return -1, p
}
