package marking

import (
	"math"
	"slices"
)

// leastRun is the shortest stretch that counts as a line of its own, mm on
// paper.
const leastRun = 1.0

// runs collects what is drawn near views and lies on none of their lines.
func (m *marking) runs() []*run {
	var out []*run
	last := -1 // index of the chunk before, if it is in the last run
	for i := range m.chunks {
		c := &m.chunks[i]
		if c.elem >= 0 || c.view < 0 || c.mark || m.dims.notes[c.stroke] != no {
			continue
		}
		s := &m.sub.strokes[c.stroke]
		if n := len(out); n > 0 && last == i-1 && m.chunks[last].stroke == c.stroke && out[n-1].view == c.view {
			r := out[n-1]
			if r.level {
				r.points[len(r.points)-1] = c.q
			} else {
				r.points = append(r.points, c.q)
			}
			last = i
			continue
		}
		out = append(out, &run{view: c.view, look: s.look, points: []point{c.p, c.q}, lines: []int{s.line}, level: s.level, stroke: c.stroke})
		last = i
	}
	out = m.joinRuns(out)
	return slices.DeleteFunc(out, func(r *run) bool { return r.length() < max(leastRun, 2*m.tol) })
}

// joinRuns makes one run of those that go on from each other.
func (m *marking) joinRuns(all []*run) []*run {
	for i := 0; i < len(all); i++ {
		for j := i + 1; j < len(all); {
			if all[i].view == all[j].view && all[i].look == all[j].look && m.joinRun(all[i], all[j]) {
				all = append(all[:j], all[j+1:]...)
				j = i + 1
				continue
			}
			j++
		}
	}
	return all
}

// joinRun adds o to r if it goes on from one of r's ends.
func (m *marking) joinRun(r, o *run) bool {
	const touch = 0.15
	for range 2 {
		for range 2 {
			if r.last().Sub(o.first()).Len() < touch {
				u := r.last().Sub(r.points[len(r.points)-2])
				v := o.points[1].Sub(o.first())
				turn := math.Abs(math.Atan2(wedge(u, v), dot(u, v))) * 180 / math.Pi
				if turn < 1 && r.level && o.level {
					r.points[len(r.points)-1] = o.last()
					r.alone(o)
					r.lines = merged(r.lines, o.lines)
					return true
				}
				if turn < smooth && (!r.level || !o.level || shortChords(u.Len(), v.Len(), turn)) {
					r.points = append(r.points, o.points[1:]...)
					r.level = false
					r.alone(o)
					r.lines = merged(r.lines, o.lines)
					return true
				}
			}
			slices.Reverse(o.points)
		}
		slices.Reverse(r.points)
	}
	return false
}

// alone notes whether r is still of one stroke when o goes into it.
func (r *run) alone(o *run) {
	if o.stroke != r.stroke {
		r.stroke = -1
	}
}

// shortChords reports whether two straight lines look like chords of a curve.
func shortChords(a, b, turn float64) bool {
	return a < 6 && b < 6 && a/b < 3 && b/a < 3 && turn > 1 && turn < 20
}

func merged(a, b []int) []int {
	for _, l := range b {
		if !slices.Contains(a, l) {
			a = append(a, l)
		}
	}
	slices.Sort(a)
	return a
}
