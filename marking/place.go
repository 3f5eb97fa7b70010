package marking

import (
	"math"
	"slices"

	"boltplate/drawing"
)

// A placement is where a view of the model stands in a submission.
type placement struct {
	drawing.Transform // from millimetres on paper of the view to the submission
	cover             float64
}

// back returns where a point of the submission lies in the view.
func (p *placement) back(q point) point {
	q = q.Sub(p.Move)
	q = drawing.Transform{Turn: -p.Turn}.Vector(q).Mul(1 / p.Scale)
	if p.Mirror {
		q.Y = -q.Y
	}
	return q
}

// orientations lists quarter turns and mirror images, the simplest first.
func orientations() [8]drawing.Transform {
	return [8]drawing.Transform{{}, {Turn: 90}, {Turn: 270}, {Turn: 180}, {Mirror: true}, {Mirror: true, Turn: 180}, {Mirror: true, Turn: 90}, {Mirror: true, Turn: 270}}
}

// A finder looks for the views of a figure in a submission.
type finder struct {
	sub      *submission
	found    []feature // of the submission
	index    *index
	tol      float64 // mm on paper
	views    []modelView
	features [][]feature // of each view
	samples  [][]sample
	taken    []drawing.Rect // where other figures stand
	stated   float64        // scale by what the dimensions say, 0 where they say none
}

// A sample is a point of a model view that must be drawn.
type sample struct {
	at, dir point
	weight  float64
}

// weight is how much a millimetre of a line says of a view: centre lines say
// little.
func (e *element) weight() float64 {
	if e.role == drawing.RoleCentre {
		return 0.3
	}
	return 1
}

func (v *modelView) samples() (out []sample) {
	for i := range v.elements {
		e := &v.elements[i]
		if e.idle {
			continue
		}
		n := 1 + int(e.length/2)
		w := e.weight() * e.length / float64(n)
		for j := range n {
			s := e.length * (float64(j) + 0.5) / float64(n)
			p := e.at(s)
			_, _, u := e.project(p)
			out = append(out, sample{p, u, w})
		}
	}
	return out
}

const (
	ratioStep  = 0.01 // of the logarithm of a scale, in the search for it
	ratioRange = 921  // steps up and down: 1e4
	maxScales  = 8
)

// scaleVotes are weights by scale, in steps of its logarithm.
type scaleVotes [2*ratioRange + 1]float64

// scale returns the scale of a step.
func (*scaleVotes) scale(i int) float64 { return math.Exp(float64(i-ratioRange) * ratioStep) }

// scaleVotes counts for each scale the lines of the model that become lines of
// the submission by it, each once.
func (f *finder) scaleVotes() *scaleVotes {
	var votes scaleVotes
	var seen [len(votes)]int
	stamp := 0
	for v := range f.views {
		for i := range f.features[v] {
			m := &f.features[v][i]
			stamp++
			for j := range f.found {
				q := &f.found[j]
				if q.round != m.round || math.Abs(q.fold-m.fold) > 2 {
					continue
				}
				k := int(math.Round(math.Log(q.size/m.size)/ratioStep)) + ratioRange
				for n := max(0, k-1); n <= min(k+1, len(votes)-1); n++ {
					if seen[n] != stamp {
						seen[n] = stamp
						votes[n] += m.weight()
					}
				}
			}
		}
	}
	return &votes
}

// scales returns how many units of the submission may be a millimetre on
// paper, the likeliest first.
func (f *finder) scales() (out []float64) {
	votes := f.scaleVotes()
	var order []int
	for i, v := range votes {
		if v > 0 && votes.scale(i)*f.extent() >= leastPart*f.sub.size {
			order = append(order, i)
		}
	}
	slices.SortStableFunc(order, func(a, b int) int {
		if votes[a] != votes[b] {
			return byCover(votes[a], votes[b])
		}
		return abs(a-ratioRange) - abs(b-ratioRange) // full size first
	})
	var taken []int
	for _, i := range order {
		if len(out) < maxScales && !slices.ContainsFunc(taken, func(t int) bool { return abs(t-i) <= 2 }) {
			taken = append(taken, i)
			out = append(out, votes.scale(i))
		}
	}
	return out
}

// leastPart is how small, beside the whole drawing, a figure can be.
const leastPart = 0.03

// extent returns the size of the largest view.
func (f *finder) extent() (size float64) {
	for v := range f.views {
		size = max(size, f.views[v].box.Dx(), f.views[v].box.Dy())
	}
	return size
}

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}

// A ballot collects votes for where a view stands.
type ballot map[[2]int32]float64

// voteCell is the size of a cell, mm on paper.
const voteCell = 1.0

func (b ballot) add(p point, scale, w float64) {
	x, y := p.X/scale/voteCell, p.Y/scale/voteCell
	if math.Abs(x) > 1e9 || math.Abs(y) > 1e9 {
		return
	}
	i, j := int32(math.Floor(x-0.5)), int32(math.Floor(y-0.5))
	for di := range int32(2) {
		for dj := range int32(2) {
			b[[2]int32{i + di, j + dj}] += w
		}
	}
}

// best returns the places with the most votes, no two near each other.
func (b ballot) best(n int, scale float64) (at []point, votes []float64) {
	keys := make([][2]int32, 0, len(b))
	most := 0.0
	for _, v := range b {
		most = max(most, v)
	}
	for k, v := range b {
		if v > 0.3*most {
			keys = append(keys, k)
		}
	}
	slices.SortFunc(keys, func(p, q [2]int32) int {
		switch {
		case b[p] != b[q] && b[p] > b[q]:
			return -1
		case b[p] != b[q]:
			return 1
		case p[0] != q[0]:
			return int(p[0] - q[0])
		}
		return int(p[1] - q[1])
	})
	for _, k := range keys {
		p := point{X: (float64(k[0]) + 0.5) * voteCell * scale, Y: (float64(k[1]) + 0.5) * voteCell * scale}
		if !slices.ContainsFunc(at, func(q point) bool { return q.Sub(p).Len() < 3*voteCell*scale }) {
			at, votes = append(at, p), append(votes, b[k])
			if len(at) == n {
				break
			}
		}
	}
	return at, votes
}

// along reports whether two lines have one direction, in either sense, after
// the turn of t; flip says that they run against each other.
func along(m, q *feature, t *drawing.Transform) (ok, flip bool) {
	u, v := unit(t.Vector(m.b.Sub(m.a))), unit(q.b.Sub(q.a))
	return math.Abs(wedge(u, v)) < 0.035, dot(u, v) < 0
}

// vote lets the features of a view vote for its place. Where loose is true so
// do ends of lines whose lengths differ.
func (f *finder) vote(view int, t drawing.Transform, loose bool) ballot {
	b := ballot{}
	for i := range f.features[view] {
		m := &f.features[view][i]
		w := m.weight()
		for j := range f.found {
			q := &f.found[j]
			ratio := q.size / (m.size * t.Scale)
			if q.round != m.round || ratio < 0.3 || ratio > 3 || math.Abs(q.fold-m.fold) > 2 {
				continue
			}
			same := math.Abs(q.size-m.size*t.Scale) < 0.025*m.size*t.Scale+0.5*t.Scale
			if m.round {
				if same {
					b.add(q.a.Sub(t.Vector(m.a)), t.Scale, 2*w)
				}
				continue
			}
			ok, flip := along(m, q, &t)
			if !ok {
				continue
			}
			if same {
				b.add(q.mid().Sub(t.Vector(m.mid())), t.Scale, w)
			} else if loose {
				a, z := q.a, q.b
				if flip {
					a, z = z, a
				}
				b.add(a.Sub(t.Vector(m.a)), t.Scale, 0.3*w)
				b.add(z.Sub(t.Vector(m.b)), t.Scale, 0.3*w)
			}
		}
	}
	return b
}

// pairs returns points of a view, turned as t has it and not scaled, and those
// of the submission that seem to be the same, near where t puts them.
func (f *finder) pairs(view int, t drawing.Transform) (from, to []point) {
	turn := drawing.Transform{Mirror: t.Mirror, Turn: t.Turn}
	for i := range f.features[view] {
		m := &f.features[view][i]
		q := f.partner(m, t)
		if q == nil {
			continue
		}
		from, to = append(from, turn.Vector(m.mid())), append(to, q.mid())
		if m.round || m.size < 5 {
			continue
		}
		a, b := q.a, q.b
		if _, flip := along(m, q, &t); flip {
			a, b = b, a
		}
		from, to = append(from, turn.Vector(m.a), turn.Vector(m.b)), append(to, a, b)
	}
	return from, to
}

// partner returns the feature of the submission that m seems to be.
func (f *finder) partner(m *feature, t drawing.Transform) *feature {
	var best *feature
	least := (1.5*voteCell + 2*f.tol) * t.Scale
	for j := range f.found {
		q := &f.found[j]
		if q.round != m.round || math.Abs(q.size-m.size*t.Scale) > 0.03*m.size*t.Scale+0.5*t.Scale {
			continue
		}
		d := q.mid().Sub(t.Point(m.mid())).Len()
		if d >= least+0.01*m.size*t.Scale {
			continue
		}
		if ok, _ := along(m, q, &t); !m.round && !ok {
			continue
		}
		best, least = q, d
	}
	return best
}

// refine moves t so that most of the features that agree lie on each other.
func (f *finder) refine(view int, t drawing.Transform) drawing.Transform {
	for range 2 {
		from, to := f.pairs(view, t)
		if len(from) == 0 {
			return t
		}
		t.Move = middleMove(from, to, t.Scale)
	}
	return t
}

// middleMove returns the median of to - scale * from, by coordinate.
func middleMove(from, to []point, scale float64) point {
	xs, ys := make([]float64, len(from)), make([]float64, len(from))
	for i := range from {
		xs[i], ys[i] = to[i].X-scale*from[i].X, to[i].Y-scale*from[i].Y
	}
	return point{X: median(xs), Y: median(ys)}
}

func median(v []float64) float64 {
	slices.Sort(v)
	n := len(v)
	return (v[(n-1)/2] + v[n/2]) / 2
}

// fitScale returns the scale that the features of all views agree on, given
// one that is near; the places of the views are free.
func (f *finder) fitScale(ts []drawing.Transform) float64 {
	var ratios []float64
	for v, t := range ts {
		from, to := f.pairs(v, t)
		// Distances between far points tell the scale best.
		for i := range from {
			for j := i + 1; j < len(from); j += 1 + len(from)/12 {
				if d := from[j].Sub(from[i]).Len(); d > 20 {
					ratios = append(ratios, to[j].Sub(to[i]).Len()/d)
				}
			}
		}
		for i := range f.features[v] {
			m := &f.features[v][i]
			if q := f.partner(m, t); q != nil && m.size > 4 {
				ratios = append(ratios, q.size/m.size)
			}
		}
	}
	if len(ratios) == 0 {
		return ts[0].Scale
	}
	return nice(median(ratios))
}

// nice returns the scale of a usual ratio and unit that is within three
// thousandths of s, or s.
func nice(s float64) float64 {
	best := s
	off := 0.003
	for _, unit := range [...]float64{1, 1 / 25.4, 0.1, 0.001} {
		for _, ratio := range [...]float64{1, 2, 5, 10, 20, 50, 2.5, 4, 0.5, 0.2, 0.1, 0.05, 0.02, 0.4, 0.25} {
			if d := math.Abs(s/(unit*ratio) - 1); d < off {
				best, off = unit*ratio, d
			}
		}
	}
	return best
}

// coverage returns which part of a view's lines is drawn where t puts them,
// whatever their kind.
func (f *finder) coverage(view int, t drawing.Transform) float64 {
	sum, have := 0.0, 0.0
	d := 1.5 * f.tol * t.Scale
	for _, s := range f.samples[view] {
		sum += s.weight
		if f.index.near(t.Point(s.at), unit(t.Vector(s.dir)), d, 0.3) {
			have += s.weight
		}
	}
	if sum == 0 {
		return 0
	}
	return have / sum
}

// candidates returns where a view may stand at a scale and turn, the best
// first.
func (f *finder) candidates(view int, t drawing.Transform, n int) []placement {
	at, _ := f.vote(view, t, true).best(n, t.Scale)
	var out []placement
	for _, p := range at {
		c := t
		c.Move = p
		c = f.refine(view, c)
		if slices.ContainsFunc(out, func(o placement) bool { return o.Move.Sub(c.Move).Len() < voteCell*c.Scale }) {
			continue
		}
		o := placement{Transform: c}
		box := placedBox(&f.views[view], &o)
		if slices.ContainsFunc(f.taken, func(t drawing.Rect) bool { return overlap(t, box) }) {
			continue
		}
		o.cover = f.coverage(view, c)
		out = append(out, o)
	}
	slices.SortStableFunc(out, func(a, b placement) int { return byCover(a.cover, b.cover) })
	return out
}

func byCover(a, b float64) int {
	switch {
	case a > b:
		return -1
	case a < b:
		return 1
	}
	return 0
}
