package marking

import (
	"math"
	"slices"

	"boltplate/drawing"
	"boltplate/dxfin"
)

// Thresholds of finding views: parts of their lines that are drawn.
const (
	leastCover = 0.5  // below it a view counts as missing
	leastDrawn = 0.45 // the same where each drawn line counts once
	doubtful   = 0.7  // below it the instructor should look
	goodCover  = 0.85 // from it on no other scale or turn is tried
)

// locate returns where the views of a figure stand, nil for those that are not
// found.
func (f *finder) locate(fig *modelFigure, other bool) []*placement {
	found := f.common(fig, other)
	if found == nil {
		return make([]*placement, len(fig.views))
	}
	options := make([][]placement, len(fig.views))
	for v := range fig.views {
		options[v] = f.candidates(v, found.Transform, 6)
		if len(options[v]) == 0 || options[v][0].cover < goodCover {
			options[v] = append(options[v], f.elsewhere(v, found.Transform, options[v])...)
		}
	}
	best := f.assign(fig, options, found.Transform, other)
	// What seemed to be there may have been another view.
	more := false
	for v, p := range best {
		if (p == nil || p.cover < goodCover) && len(options[v]) > 0 && options[v][0].cover >= goodCover {
			options[v], more = append(options[v], f.elsewhere(v, found.Transform, nil)...), true
		}
	}
	if more {
		best = f.assign(fig, options, found.Transform, other)
	}
	f.straighten(fig, best)
	return best
}

// straighten gives views that look the same in several turns the simplest one:
// that of the main view, then one without a mirror.
func (f *finder) straighten(fig *modelFigure, ps []*placement) {
	main := ps[fig.main]
	for v, p := range ps {
		if p == nil || main == nil || p.Turn == main.Turn && p.Mirror == main.Mirror {
			continue
		}
		box := placedBox(&fig.views[v], p)
		all := orientations()
		for _, o := range append([]drawing.Transform{{Turn: main.Turn, Mirror: main.Mirror}}, all[:]...) {
			if o.Turn == p.Turn && o.Mirror == p.Mirror {
				break // nothing simpler does
			}
			o.Scale = p.Scale
			i := slices.IndexFunc(f.candidates(v, o, 4), func(c placement) bool {
				return c.cover >= p.cover-0.02 && placedBox(&fig.views[v], &c).Mid().Sub(box.Mid()).Len() < voteCell*p.Scale
			})
			if i >= 0 {
				ps[v] = &f.candidates(v, o, 4)[i]
				break
			}
		}
	}
}

// assign gives each view one of its places.
func (f *finder) assign(fig *modelFigure, options [][]placement, base drawing.Transform, other bool) []*placement {
	a := assignment{finder: f, fig: fig, options: options, base: base, other: other, now: make([]*placement, len(fig.views))}
	a.weigh()
	a.try(0, 0)
	return a.best
}

// A guess is a scale and a turn that a figure may have, with the votes for it.
type guess struct {
	t     drawing.Transform
	votes float64
}

// common returns scale and turn at which the most of a figure is drawn.
func (f *finder) common(fig *modelFigure, other bool) *placement {
	guesses := f.guesses()
	most := 0.0
	for _, g := range guesses {
		most = max(most, g.votes)
	}
	var best *placement
	bestScore := 0.0
	for _, s := range f.bestScales(guesses) {
		// Symmetric views look the same turned and mirrored: all turns of the
		// best scales are looked at.
		for order, o := range orientations() {
			o.Scale = s
			i := slices.IndexFunc(guesses, func(g guess) bool { return g.t == o })
			if guesses[i].votes < 0.5*most {
				continue
			}
			p, score := f.attempt(fig, o, other)
			if p == nil {
				continue
			}
			score += f.likely(p.Scale) - f.unlikely(&o) - 0.002*float64(order)
			if best == nil || score > bestScore+1e-9 {
				best, bestScore = p, score
			}
		}
	}
	return best
}

// guesses returns all turns at the scales that features speak for.
func (f *finder) guesses() (out []guess) {
	scales := f.scales()
	if f.stated > 0 {
		scales = append(scales, f.stated)
	}
	for _, s := range scales {
		for _, o := range orientations() {
			o.Scale = s
			g := guess{t: o}
			for v := range f.views {
				if _, votes := f.vote(v, o, false).best(1, s); len(votes) > 0 {
					g.votes += votes[0]
				}
			}
			out = append(out, g)
		}
	}
	slices.SortStableFunc(out, func(a, b guess) int { return byCover(a.votes, b.votes) })
	return out
}

// bestScales returns the few scales with the most votes, and the one that the
// dimensions state.
func (f *finder) bestScales(guesses []guess) (scales []float64) {
	if f.stated > 0 {
		scales = append(scales, f.stated)
	}
	for _, g := range guesses {
		if len(scales) < 3 && !slices.Contains(scales, g.t.Scale) {
			scales = append(scales, g.t.Scale)
		}
	}
	return scales
}

// likely returns what speaks for a scale: that it is a usual one, and that
// dimensions say what they measure.
func (f *finder) likely(scale float64) (gain float64) {
	if nice(scale) == scale {
		gain = 0.05
	}
	if f.stated > 0 && math.Abs(scale/f.stated-1) < 0.01 {
		gain += 0.08
	}
	return gain
}

// statedScale returns how many units of the submission a millimetre on paper
// is, by what most dimensions say and measure, 0 where they do not agree.
func (b *submission) statedScale(partScale float64) float64 {
	var all []float64
	for i := range b.scene.Dimensions {
		d := &b.scene.Dimensions[i]
		if d.Kind != dxfin.DimLinear && d.Kind != dxfin.DimAligned {
			continue
		}
		a := d.Direction * math.Pi / 180
		length := math.Abs(dot(d.Second.Sub(d.First), point{X: math.Cos(a), Y: math.Sin(a)}))
		if _, v, _, _, ok := cut(plainText(d.Text)); ok && v > 0 && length > 0 {
			all = append(all, length/(v*partScale))
		}
	}
	if len(all) < 2 {
		return 0
	}
	s := median(all)
	n := 0
	for _, v := range all {
		if math.Abs(v/s-1) < 0.02 {
			n++
		}
	}
	if 2*n <= len(all) {
		return 0
	}
	return nice(s)
}

// unlikely returns what speaks against a turn or a mirror image of the whole
// drawing: views that are symmetric look right in several. Nobody draws in a
// mirror, and texts are read from below or from the right.
func (f *finder) unlikely(t *drawing.Transform) (cost float64) {
	if t.Mirror {
		cost = 0.05
	}
	n, turned := 0, 0
	for i := range f.sub.scene.Texts {
		n++
		turned += misread(f.sub.scene.Texts[i].Angle, t.Turn)
	}
	for i := range f.sub.scene.Dimensions {
		for _, x := range f.sub.scene.Dimensions[i].Picture.Texts {
			n++
			turned += misread(x.Angle, t.Turn)
		}
	}
	if n > 0 {
		cost += 0.05 * float64(turned) / float64(n)
	}
	return cost
}

// misread returns 1 for a text that is neither level nor upright in a drawing
// with the given turn.
func misread(angle, turn float64) int {
	if a := norm(angle - turn + 1); a < 2 || a > 90 && a < 92 {
		return 0
	}
	return 1
}

// attempt looks for all views at one scale and turn. It returns them with the scale
// that they agree on, and how much of the figure is there, less a little where
// the views stand on wrong sides.
func (f *finder) attempt(fig *modelFigure, t drawing.Transform, other bool) (*placement, float64) {
	ts := make([]drawing.Transform, len(fig.views))
	any := false
	for range 2 { // the second time with the scale that was fitted
		for v := range fig.views {
			ts[v] = t
			if c := f.candidates(v, t, 2); len(c) > 0 {
				ts[v], any = c[0].Transform, true
			}
		}
		if !any {
			return nil, 0
		}
		s := f.fitScale(ts)
		if math.Abs(s/t.Scale-1) < 1e-9 {
			break
		}
		t.Scale = s
	}
	sum, have := 0.0, 0.0
	ps := make([]*placement, len(fig.views))
	for v := range fig.views {
		c := f.candidates(v, t, 2)
		w := fig.views[v].length
		if fig.views[v].direction == drawing.Isometric && len(fig.views) > 1 {
			w *= 0.1 // the others say how the part stands
		}
		sum += w
		if len(c) > 0 {
			ps[v] = &c[0]
			have += c[0].cover * w
		}
	}
	return &placement{Transform: t}, have/sum - 0.01*float64(fig.misplaced(ps, other))
}

// elsewhere returns where a view may stand at another scale or turn than the
// rest.
func (f *finder) elsewhere(view int, base drawing.Transform, have []placement) []placement {
	least := 0.0
	if len(have) > 0 {
		least = have[0].cover
	}
	alone := finder{sub: f.sub, taken: f.taken, found: f.found, index: f.index, tol: f.tol, views: f.views[view : view+1], features: f.features[view : view+1], samples: f.samples[view : view+1]}
	scales := []float64{base.Scale}
	for _, s := range alone.scales() {
		if math.Abs(s/base.Scale-1) > 0.02 {
			scales = append(scales, nice(s))
		}
	}
	var out []placement
	for _, s := range scales {
		for _, o := range orientations() {
			if s == base.Scale && o.Turn == base.Turn && o.Mirror == base.Mirror {
				continue
			}
			o.Scale = s
			for _, c := range alone.candidates(0, o, 2) {
				// Another scale must show more to be believed.
				need := max(least+0.1, 0.6)
				if s != base.Scale {
					need = max(least+0.2, 0.75)
				}
				if c.cover >= need {
					out = append(out, c)
				}
			}
		}
	}
	slices.SortStableFunc(out, func(a, b placement) int { return byCover(a.cover, b.cover) })
	return out[:min(len(out), 4)]
}

// An assignment gives each view a place of its own.
type assignment struct {
	*finder
	fig     *modelFigure
	options [][]placement
	worth   [][]float64
	base    drawing.Transform
	other   bool
	now     []*placement
	best    []*placement
	score   float64
}

// weigh values each option: what is drawn of the view, less what is drawn
// there and does not belong to it, and a little for another turn or scale than
// that of the others.
func (a *assignment) weigh() {
	a.worth = make([][]float64, len(a.options))
	for v := range a.options {
		for i := range a.options[v] {
			p := &a.options[v][i]
			w := p.cover - 0.6*a.foreign(v, p)
			if p.Turn != a.base.Turn || p.Mirror != a.base.Mirror {
				w -= 0.03
			}
			if math.Abs(p.Scale/a.base.Scale-1) > 0.02 {
				w -= 0.05
			}
			a.worth[v] = append(a.worth[v], w*a.fig.views[v].length)
		}
	}
}

// foreign returns the length of what is drawn within the outline of a view and
// is not on its lines, as a part of the length of its lines.
func (f *finder) foreign(view int, p *placement) float64 {
	v := &f.views[view]
	box := v.box.Grown(-1)
	sum := 0.0
	for i := range f.sub.strokes {
		ps := f.sub.strokes[i].points
		for j := 1; j < len(ps); j++ {
			a, b := p.back(ps[j-1]), p.back(ps[j])
			n := 1 + int(min(b.Sub(a).Len()/3, 200))
			for k := range n {
				m := a.Add(b.Sub(a).Mul((float64(k) + 0.5) / float64(n)))
				if inside(box, m) && !v.near(m, 1.5*f.tol) {
					sum += b.Sub(a).Len() / float64(n)
				}
			}
		}
	}
	return min(sum/v.length, 1)
}

// near reports whether a line of the view runs by p.
func (v *modelView) near(p point, d float64) bool {
	for i := range v.elements {
		e := &v.elements[i]
		if !inside(e.box.Grown(d), p) {
			continue
		}
		if s, off, _ := e.project(p); off <= d && s >= -d && s <= e.length+d {
			return true
		}
	}
	return false
}

// try places the views from v on, and keeps the best assignment.
func (a *assignment) try(v int, score float64) {
	if v == len(a.options) {
		score -= 0.15 * float64(a.fig.misplaced(a.now, a.other)) * a.fig.views[a.fig.main].length
		if a.best == nil || score > a.score+1e-9 {
			a.best, a.score = slices.Clone(a.now), score
		}
		return
	}
	for i := range a.options[v] {
		p := &a.options[v][i]
		if p.cover < leastCover || a.overlaps(v, p) {
			continue
		}
		a.now[v] = p
		a.try(v+1, score+a.worth[v][i])
	}
	a.now[v] = nil
	a.try(v+1, score)
}

// overlaps reports whether p lies on a view that has been placed.
func (a *assignment) overlaps(v int, p *placement) bool {
	b := placedBox(&a.fig.views[v], p)
	for w := range v {
		if a.now[w] == nil {
			continue
		}
		c := placedBox(&a.fig.views[w], a.now[w])
		if overlap(b, c) {
			return true
		}
	}
	return false
}

// overlap reports whether two boxes have more than a fifth of the smaller one
// in common.
func overlap(b, c drawing.Rect) bool {
	x := min(b.Max.X, c.Max.X) - max(b.Min.X, c.Min.X)
	y := min(b.Max.Y, c.Max.Y) - max(b.Min.Y, c.Min.Y)
	return x > 0 && y > 0 && x*y > 0.2*min(b.Dx()*b.Dy(), c.Dx()*c.Dy())
}

// placedBox returns the outline of a view in the submission.
func placedBox(v *modelView, p *placement) drawing.Rect {
	r := drawing.EmptyRect()
	for _, c := range [4]point{v.box.Min, v.box.Max, {X: v.box.Min.X, Y: v.box.Max.Y}, {X: v.box.Max.X, Y: v.box.Min.Y}} {
		r = r.Including(p.Point(c))
	}
	return r
}
