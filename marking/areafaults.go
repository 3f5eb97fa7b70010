package marking

import (
	"fmt"
	"math"
	"slices"
)

// A field is a hatched area of a submission, in the coordinates of a view: a
// HATCH, or parallel lines.
type field struct {
	loops   [][]point
	angle   float64 // 0 to 180
	samples []point
	lines   []int // of the file
	strokes []*run
}

// areaFaults compares the hatching of a view.
func (m *marking) areaFaults(view int, runs []*run) {
	v := &m.views[view]
	fields := m.hatchEntities(view)
	fields = append(fields, m.hatchLines(view, runs)...)
	angles := make([]float64, len(v.model.areas)) // of the fields that fill them
	for i := range v.model.areas {
		angles[i] = -1
		a := &v.model.areas[i]
		filled, by := 0, map[int]int{}
		for _, p := range a.samples {
			for j := range fields {
				if fields[j].holds(p, m.tol) {
					filled++
					by[j]++
					break
				}
			}
		}
		if 2*filled < len(a.samples) {
			m.add(view, Finding{Kind: MissingHatch, Text: fmt.Sprintf("The part that is cut %s is not hatched.", m.where(view, a.box.Mid()))}, boxPoints(a), a.loops)
			continue
		}
		most := 0
		for j := range fields {
			if by[j] > most {
				most, angles[i] = by[j], fields[j].angle
			}
		}
	}
	m.sameHatch(view, angles)
	for i := range fields {
		m.extraHatch(view, &fields[i])
	}
}

func boxPoints(a *area) []point { return []point{a.box.Min, a.box.Max} }

// holds reports whether p is hatched.
func (f *field) holds(p point, tol float64) bool {
	if f.loops != nil {
		return within(f.loops, p)
	}
	// Between lines: some line of the family passes on either side.
	u := point{X: math.Cos(f.angle * math.Pi / 180), Y: math.Sin(f.angle * math.Pi / 180)}
	var left, right bool
	for _, r := range f.strokes {
		s, t := dot(u, r.first()), dot(u, r.last())
		at, d := dot(u, p), wedge(u, p.Sub(r.first()))
		if at < min(s, t)-2 || at > max(s, t)+2 || math.Abs(d) > 8 {
			continue
		}
		left, right = left || d >= 0, right || d <= 0
	}
	return left && right
}

// hatchEntities returns the HATCH entities at a view.
func (m *marking) hatchEntities(view int) (out []field) {
	v := &m.views[view]
	for i := range m.sub.scene.Hatches {
		h := &m.sub.scene.Hatches[i]
		if h.Solid || !h.Shown || !h.Plotted {
			continue
		}
		f := field{lines: []int{h.Entity.Line}}
		for _, l := range h.Loops {
			ps := loopPoints(l)
			for j := range ps {
				ps[j] = v.place.back(ps[j])
			}
			f.loops = append(f.loops, ps)
		}
		a := h.Angle * math.Pi / 180
		f.angle = math.Mod(norm(v.direction(point{X: math.Cos(a), Y: math.Sin(a)}).Angle()), 180)
		all := bounds(slices.Concat(f.loops...))
		if fromRect(v.model.box, all.Mid()) > reach {
			continue
		}
		f.samples = samples(f.loops, all)
		out = append(out, f)
	}
	return out
}

// hatchLines returns families of parallel lines among the runs, and takes them
// from there: those within what the model hatches, and of the others those at
// equal distances.
func (m *marking) hatchLines(view int, runs []*run) (out []field) {
	var in, others []*run
	for _, r := range runs {
		switch {
		case r.view != view || !r.level || r.used:
		case m.inArea(view, r.first().Mid(r.last())):
			in = append(in, r)
		default:
			others = append(others, r)
		}
	}
	for i, level := range [2][]*run{in, others} {
		taken := map[*run]bool{}
		for j, r := range level {
			if taken[r] {
				continue
			}
			f := newField(r, level[j:], taken)
			if !f.oblique() && (i == 1 || len(f.strokes) < 3) || i == 1 && !f.isHatching() {
				continue
			}
			for _, o := range f.strokes {
				taken[o], o.used = true, true
				f.lines = merged(f.lines, o.lines)
				f.samples = append(f.samples, o.first().Mid(o.last()))
			}
			out = append(out, f)
		}
	}
	return out
}

// oblique reports whether the lines of f are far from level and upright.
func (f *field) oblique() bool { return apart(f.angle, 0) > 15 && apart(f.angle, 90) > 15 }

// newField returns the family of r: the runs of its look and direction that
// are not taken.
func newField(r *run, all []*run, taken map[*run]bool) field {
	f := field{angle: math.Mod(norm(r.last().Sub(r.first()).Angle()), 180)}
	for _, o := range all {
		if !taken[o] && o.look == r.look && apart(o.last().Sub(o.first()).Angle(), f.angle) < 0.7 {
			f.strokes = append(f.strokes, o)
		}
	}
	return f
}

// isHatching reports whether the strokes of f are at equal distances: most
// distances between neighbours are whole multiples of the least.
func (f *field) isHatching() bool {
	u := point{X: math.Cos(f.angle * math.Pi / 180), Y: math.Sin(f.angle * math.Pi / 180)}
	var at []float64
	for _, r := range f.strokes {
		at = append(at, wedge(u, r.first().Mid(r.last())))
	}
	slices.Sort(at)
	at = slices.CompactFunc(at, func(a, b float64) bool { return math.Abs(b-a) < 0.2 })
	if len(at) < 4 {
		return false
	}
	step := math.Inf(1)
	for i := 1; i < len(at); i++ {
		step = min(step, at[i]-at[i-1])
	}
	if step < 0.6 || step > 8 { // nobody hatches closer than 0.7 mm on paper
		return false
	}
	fits := 0
	for i := 1; i < len(at); i++ {
		n := (at[i] - at[i-1]) / step
		if n < 3.5 && math.Abs(n-math.Round(n)) < 0.15 {
			fits++
		}
	}
	return 4*fits >= 3*(len(at)-1)
}

// inArea reports whether the model hatches a point.
func (m *marking) inArea(view int, p point) bool {
	for i := range m.views[view].model.areas {
		a := &m.views[view].model.areas[i]
		if inside(a.box, p) && within(a.loops, p) {
			return true
		}
	}
	return false
}

// extraHatch reports hatching where the model has none.
func (m *marking) extraHatch(view int, f *field) {
	if len(f.samples) == 0 {
		return
	}
	var out []point
	for _, p := range f.samples {
		if !m.inArea(view, p) {
			out = append(out, p)
		}
	}
	if 4*len(out) < len(f.samples) {
		return
	}
	m.add(view, Finding{Kind: ExtraHatch, Lines: f.lines, Text: fmt.Sprintf("What is hatched %s is not cut.", m.where(view, mean(out)))}, out, nil)
}

// sameHatch reports neighbours that the model hatches in different directions
// and the submission in one.
func (m *marking) sameHatch(view int, angles []float64) {
	areas := m.views[view].model.areas
	for i := range areas {
		for j := range i {
			if angles[i] < 0 || angles[j] < 0 || apart(areas[i].angle, areas[j].angle) < 5 || apart(angles[i], angles[j]) > 5 || !areas[i].touches(&areas[j]) {
				continue
			}
			m.add(view, Finding{Kind: SameHatch, Text: fmt.Sprintf("Two parts that touch %s are hatched in one direction.", m.where(view, areas[i].box.Mid()))}, boxPoints(&areas[i]), nil)
			return
		}
	}
}

// touches reports whether two areas have a piece of boundary in common.
func (a *area) touches(b *area) bool {
	if !meets(a.box.Grown(0.5), b.box) {
		return false
	}
	near := 0
	for _, c := range a.loops {
		for i := range c {
			p, q := c[i], c[(i+1)%len(c)]
			for k := range 5 {
				m := p.Add(q.Sub(p).Mul((float64(k) + 0.5) / 5))
				for _, d := range b.loops {
					for j := range d {
						if off, _ := fromSegment(d[j], d[(j+1)%len(d)], m); off < 0.3 {
							near++
						}
					}
				}
			}
		}
	}
	return near > 2
}
