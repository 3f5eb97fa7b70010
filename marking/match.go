package marking

import (
	"math"
	"slices"

	"boltplate/drawing"
)

// A chunk is a short piece of a stroke, which lies on one line of the model or
// on none.
type chunk struct {
	a, b   point // in the submission
	stroke int
	run    float64 // length of the straight piece that it is of, mm on paper
	view   int     // the view that it belongs to, -1 for none
	elem   int     // the line of that view, -1 for none
	p, q   point   // in the view, mm on paper
	mark   bool    // it is part of a dimension, of hatching or the like
}

// chunkLength is the length of chunks, mm on paper.
const chunkLength = 0.7

// reach is how far from the outline of a view a line may stand and still be
// meant for it, mm on paper.
const reach = 12.0

// A found view is a view of the model that stands in the submission.
type foundView struct {
	fig, view int
	model     *modelView
	place     *placement
	hits      [][]hit // of each element
}

// A hit is a stretch of a model line that is drawn. The second is true where
// the chunk suits a neighbour better, which is nearer than the tolerance: it
// fills gaps, and says nothing of how the line is drawn.
type hit struct {
	span
	chunk  int
	second bool
}

// chunks cuts the strokes near views into chunks. unit is how many units of
// the submission a millimetre on paper is.
func (b *submission) chunks(views []foundView, unit float64) []chunk {
	region := make([]drawing.Rect, len(views))
	for i := range views {
		region[i] = placedBox(views[i].model, views[i].place).Grown(reach * views[i].place.Scale)
	}
	var out []chunk
	for i := range b.strokes {
		ps := b.strokes[i].points
		for j := 1; j < len(ps); j++ {
			a, z := ps[j-1], ps[j]
			box := drawing.Rect{Min: a, Max: a}.Including(z)
			if !slices.ContainsFunc(region, func(r drawing.Rect) bool { return meets(r, box) }) {
				continue
			}
			length := z.Sub(a).Len()
			n := 1 + int(min(length/(chunkLength*unit), 20_000))
			for k := range n {
				p, q := a.Add(z.Sub(a).Mul(float64(k)/float64(n))), a.Add(z.Sub(a).Mul(float64(k+1)/float64(n)))
				out = append(out, chunk{a: p, b: q, stroke: i, run: length / unit, view: -1, elem: -1})
			}
		}
	}
	return out
}

func meets(r, s drawing.Rect) bool {
	return r.Min.X <= s.Max.X && s.Min.X <= r.Max.X && r.Min.Y <= s.Max.Y && s.Min.Y <= r.Max.Y
}

// endSlack is how far a line may run past its end, or stop short of it.
func endSlack(tol float64) float64 { return max(tol, 0.5) }

// overrun returns how far past its model a line may run, mm on paper: centre
// lines may run on as far as it pleases the eye.
func (e *element) overrun(tol float64) float64 {
	if e.role == drawing.RoleCentre || e.role == drawing.RoleCutting {
		return drawing.CentreOverrun + 5
	}
	return endSlack(tol)
}

// needed returns the stretch of e that must be drawn: of a centre line what
// does not run past the outline.
func (e *element) needed(tol float64) span {
	if e.form == straight && (e.role == drawing.RoleCentre || e.role == drawing.RoleCutting) {
		cut := min(drawing.CentreOverrun+tol, e.length/3)
		return span{cut, e.length - cut}
	}
	return span{0, e.length}
}

// matcher assigns chunks to the lines of views.
type matcher struct {
	*submission
	chunks []chunk
	views  []foundView
	tol    float64
	// fits says whether a line with a look can be one of a role; nil in the
	// first round.
	fits func(look int, r drawing.Role) bool
	all  []suitor // of one chunk
}

// A suitor is a line that a chunk may lie on.
type suitor struct {
	view, elem int
	span
	cost float64
}

// match gives every chunk the line that it lies on.
func (m *matcher) match() {
	for i := range m.views {
		v := &m.views[i]
		v.hits = make([][]hit, len(v.model.elements))
	}
	for i := range m.chunks {
		c := &m.chunks[i]
		c.view, c.elem = -1, -1
		if !c.mark {
			m.assign(i, c)
		}
	}
}

func (m *matcher) assign(i int, c *chunk) {
	best, nearest := math.Inf(1), math.Inf(1)
	m.all = m.all[:0]
	look := m.strokes[c.stroke].look
	for j := range m.views {
		v := &m.views[j]
		p, q := v.place.back(c.a), v.place.back(c.b)
		mid := p.Mid(q)
		far := fromRect(v.model.box, mid)
		if far > reach {
			continue
		}
		if far < nearest && best == math.Inf(1) { // near a view, though on none of its lines
			nearest, c.view, c.p, c.q = far, j, p, q
		}
		for k := range v.model.elements {
			e := &v.model.elements[k]
			if !inside(e.box.Grown(m.tol+e.overrun(m.tol)), mid) {
				continue
			}
			cost, s, ok := m.cost(c, e, p, q, look)
			if !ok {
				continue
			}
			m.all = append(m.all, suitor{j, k, s, cost})
			if cost < best {
				best = cost
				c.view, c.elem, c.p, c.q = j, k, p, q
			}
		}
	}
	for _, s := range m.all {
		if s.cost > best+0.5*m.tol {
			continue // it touches that line only
		}
		h := &m.views[s.view].hits[s.elem]
		*h = append(*h, hit{s.span, i, s.view != c.view || s.elem != c.elem})
	}
}

// cost returns how badly a chunk suits a line of the model, and the stretch of
// the line that it covers; ok is false where it does not lie on it.
func (m *matcher) cost(c *chunk, e *element, p, q point, look int) (cost float64, at span, ok bool) {
	s, off, dir := e.project(p.Mid(q))
	if off > m.tol {
		return 0, at, false
	}
	over := max(-s, s-e.length, 0)
	if e.open || e.whole() {
		over = 0
	}
	if over > e.overrun(m.tol) {
		return 0, at, false
	}
	sine := min(max(2*m.tol/max(c.run, 1e-9), 0.06), 0.5)
	if u := unit(q.Sub(p)); q.Sub(p).Len() > 0.2 && math.Abs(wedge(u, dir)) > sine {
		return 0, at, false
	}
	half := q.Sub(p).Len() / 2
	cost = off + 0.2*over
	if m.fits != nil && !m.fits(look, e.role) {
		cost += 0.4 * m.tol
	}
	if e.idle {
		cost += 0.2 * m.tol
	}
	return cost, span{s - half, s + half}, true
}

// covered returns the stretches of an element that are drawn, by hits that
// keep is true for.
func (v *foundView) covered(elem int, keep func(*hit) bool) []span {
	e := &v.model.elements[elem]
	var all []span
	for i := range v.hits[elem] {
		h := &v.hits[elem][i]
		if keep != nil && !keep(h) {
			continue
		}
		s := h.span
		if e.whole() || e.open {
			turn := 2 * math.Pi * e.r
			s = span{math.Mod(s.from+2*turn, turn), 0}
			s.to = s.from + h.len()
			if s.to > turn {
				all = append(all, span{0, s.to - turn})
				s.to = turn
			}
		}
		all = append(all, s)
	}
	return union(all, 0.05)
}
