package marking

import (
	"math"
	"slices"
)

// Some draw a dashed line dash by dash. A row is short straight strokes of one
// look on one line, with gaps between them.
type row struct {
	look    int
	strokes []int // in order
	spans   []span
}

// fewestDashes is how many dashes, with equal gaps, make a row of itself a
// dashed line; shorter rows with the same gaps follow.
const fewestDashes = 5

// findHandDashes gives strokes that are dashes a look with their dash.
func (b *submission) findHandDashes() {
	rows := b.rows()
	var gaps []float64
	for i := range rows {
		if g, ok := rows[i].gap(); ok && len(rows[i].spans) >= fewestDashes {
			gaps = append(gaps, g)
		}
	}
	if len(gaps) == 0 {
		return
	}
	b.handGap = slices.Max(gaps)
	for i := range rows {
		r := &rows[i]
		g, ok := r.gap()
		if !ok || !slices.ContainsFunc(gaps, func(o float64) bool { return math.Abs(g-o) < 0.2*o }) {
			continue
		}
		k := b.looks[r.look].key
		d := r.dash()
		k.lineType = [...]string{dashed: "DASHED BY HAND", chain: "CHAIN BY HAND", double: "DOUBLE CHAIN BY HAND"}[d]
		n, known := b.lookOf[k]
		if !known {
			n = len(b.looks)
			b.lookOf[k] = n
			b.looks = append(b.looks, look{key: k, dash: d, weight: b.looks[r.look].weight})
		}
		for _, s := range r.strokes {
			b.strokes[s].look = n
		}
	}
}

// rows returns the straight strokes on one line of one look, as far as they
// have gaps between them.
func (b *submission) rows() (out []row) {
	type key struct{ look, angle, off int }
	found := map[key]int{}
	tol := 1e-4 * b.size
	for i := range b.strokes {
		s := &b.strokes[i]
		if !s.level || lengthOf(s.points) > 0.1*b.size {
			continue
		}
		u := unit(s.points[1].Sub(s.points[0]))
		if u.X < -1e-9 || u.X < 1e-9 && u.Y < 0 {
			u = u.Mul(-1)
		}
		k := key{s.look, int(math.Round(u.Angle() * 20)), int(math.Round(wedge(u, s.points[0]) / tol / 4))}
		n, known := found[k]
		if !known {
			n = len(out)
			found[k] = n
			out = append(out, row{look: s.look})
		}
		p, q := dot(u, s.points[0]), dot(u, s.points[1])
		out[n].strokes = append(out[n].strokes, i)
		out[n].spans = append(out[n].spans, span{min(p, q), max(p, q)})
	}
	var parts []row
	for i := range out {
		out[i].sort()
		parts = append(parts, out[i].split()...)
	}
	return parts
}

// split cuts a row where a gap is much wider than most: another line begins.
func (r *row) split() (out []row) {
	var gaps []float64
	for i := 1; i < len(r.spans); i++ {
		gaps = append(gaps, r.spans[i].from-r.spans[i-1].to)
	}
	if len(gaps) == 0 {
		return nil
	}
	usual := median(gaps)
	first := 0
	for i := 1; i <= len(r.spans); i++ {
		if i == len(r.spans) || r.spans[i].from-r.spans[i-1].to > 1.5*usual {
			out = append(out, row{r.look, r.strokes[first:i], r.spans[first:i]})
			first = i
		}
	}
	return out
}

func (r *row) sort() {
	order := make([]int, len(r.spans))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return byCover(r.spans[b].from, r.spans[a].from) })
	spans, strokes := slices.Clone(r.spans), slices.Clone(r.strokes)
	for i, o := range order {
		r.spans[i], r.strokes[i] = spans[o], strokes[o]
	}
}

// gap returns the gap between the dashes of a row; ok is false where gaps
// differ or are as long as dashes.
func (r *row) gap() (g float64, ok bool) {
	if len(r.spans) < 2 {
		return 0, false
	}
	lo, hi, long := math.Inf(1), 0.0, 0.0
	for i := range r.spans {
		long = max(long, r.spans[i].len())
		if i > 0 {
			d := r.spans[i].from - r.spans[i-1].to
			lo, hi = min(lo, d), max(hi, d)
		}
	}
	return hi, lo > 0 && hi < 1.3*lo && hi < 0.7*long
}

// dash tells how a row is broken.
func (r *row) dash() dash {
	long := 0.0
	for _, s := range r.spans {
		long = max(long, s.len())
	}
	short := 0
	for _, s := range r.spans[:max(1, len(r.spans)-1)] { // the last may be cut short
		if s.len() < 0.4*long {
			short++
		}
	}
	switch longs := len(r.spans) - short; {
	case short == 0:
		return dashed
	case short <= longs+1:
		return chain
	}
	return double
}
