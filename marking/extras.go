package marking

import (
	"fmt"
	"math"
	"slices"

	"boltplate/internal/plane"
)

// overhangs finds runs that go on a line of the model past its end.
func (m *marking) overhangs(view int, runs []*run) {
	v := &m.views[view]
	ends := make([]int, len(v.model.elements)) // a line has two
	for _, r := range runs {
		if r.used || r.view != view {
			continue
		}
		for k := range v.model.elements {
			e := &v.model.elements[k]
			if e.idle || e.whole() || e.open || e.form == curve || len(v.hits[k]) == 0 {
				continue
			}
			if over, ok := m.overhang(e, r); ok && ends[k] < 2 {
				ends[k]++
				r.used = true
				if m.follows(view, e, over) {
					break
				}
				m.add(view, Finding{Kind: LineLong, Amount: over, Lines: r.lines,
					Text: fmt.Sprintf("The %s is too long by %s mm.", m.describe(view, e), mm(over))}, r.points, nil)
				break
			}
		}
	}
}

// overhang returns by how much a run goes past the end of e, which it touches.
func (m *marking) overhang(e *element, r *run) (float64, bool) {
	near, far := math.Inf(1), math.Inf(-1)
	for _, p := range [2]point{r.first(), r.last()} {
		s, off, _ := e.project(p)
		if off > 1.3*m.tol {
			return 0, false
		}
		over := max(-s, s-e.length)
		near, far = min(near, over), max(far, over)
	}
	if mid := r.points[len(r.points)/2]; !r.level {
		if _, off, _ := e.project(mid); off > 1.3*m.tol {
			return 0, false
		}
	}
	return far, near < e.overrun(m.tol)+chunkLength && near > -chunkLength && far > e.overrun(m.tol)
}

// mostExtras is how many lines too many are told of a view.
const mostExtras = 25

// extras reports what is drawn and is no line of the model. Lines whose look
// no line of the model has are left to the instructor.
func (m *marking) extras(view int, runs []*run) {
	strange := map[int]int{}
	beside, told := 0, 0
	box := m.views[view].model.box.Grown(2)
	for _, r := range runs {
		if r.used || r.view != view {
			continue
		}
		r.used = true
		if !slices.ContainsFunc(r.points, func(p point) bool { return inside(box, p) }) && !plane.SegmentHitsBox(plane.Vec(r.first()), plane.Vec(r.last()), plane.Box{Min: plane.Vec(box.Min), Max: plane.Vec(box.Max)}) {
			beside++ // a table, a note, an arrow
			continue
		}
		if m.sub.looks[r.look].used < leastVotes {
			strange[r.look]++
			continue
		}
		if told++; told > mostExtras {
			continue
		}
		what := "A line"
		if c, radius, off, ok := circleOf(r.points); ok && !r.level && off < 0.02*radius && r.length() > math.Pi*radius {
			_ = c
			what = fmt.Sprintf("A circle, Ø%s,", mm(2*radius))
		} else if !r.level {
			what = "A curve"
		}
		m.add(view, Finding{Kind: ExtraLine, Amount: r.length(), Lines: r.lines,
			Text: fmt.Sprintf("%s %s mm long is drawn %s where the part has no edge.", what, mm(r.length()), m.where(view, mean(r.points)))}, r.points, nil)
	}
	if told > mostExtras {
		m.doubt("%s in the %s that the part has not are not listed.", count(told-mostExtras, "more line", "more lines"), m.viewName(view))
	}
	if beside > 0 {
		m.doubt("%s beside the %s did not count.", count(beside, "line", "lines"), m.viewName(view))
	}
	looks := make([]int, 0, len(strange))
	for l := range strange {
		looks = append(looks, l)
	}
	slices.Sort(looks)
	for _, l := range looks {
		m.doubt("%s at the %s on %s, which no line of the views has, did not count: %s?", count(strange[l], "line", "lines"), m.viewName(view), m.sub.looks[l].key, "construction or dimensions")
	}
}
