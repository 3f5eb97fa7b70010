package layout

import (
	"cmp"
	"math"
	"slices"
)

// page places the figures of a page: of the arrangements that promise to be
// balanced the one with the best score.
func (k Packer) page(p *planner, from, to, page int) []Place {
	m := k.Rooms(page)
	var ways []arrangement
	if slots, err := p.slots(from, to); err == nil && p.arranged(from, to) {
		ways = p.asked(from, slots, m)
	} else {
		ways = p.promising(from, to, m)
	}
	var trials []trial
	try := func(w *arrangement, loose bool) {
		t := trial{spacer: newSpacer(w, m, k.Gap, loose), way: w, faults: w.faults()}
		if loose {
			t.faults += faultLoose
		}
		t.even(1)
		trials = append(trials, t.judged(k, p.figures))
	}
	for i := range ways {
		try(&ways[i], false)
	}
	sortTrials(trials)
	// The best of them are made better, and tried without middle lines as well.
	trials = trials[:min(len(trials), evened)]
	n := len(trials)
	for i, t := range trials[:n] {
		if whole := t.way.root(); whole.ny > 1 && i < polished {
			try(t.way, true)
		}
	}
	for i := range trials {
		trials[i].even(2)
		trials[i] = trials[i].judged(k, p.figures)
	}
	sortTrials(trials[:n])
	trials = slices.Concat(trials[:min(n, polished)], trials[n:])
	for i := range trials {
		trials[i].polish()
		trials[i] = trials[i].judged(k, p.figures)
	}
	best := chosen(trials)
	places := best.places(page)
	if !best.near {
		for i := range best.boxes { // each caption below its own figure
			s := &p.figures[from+i].Stances[places[i].Stance]
			places[i].Caption = places[i].At.Y - s.Down
		}
	}
	return places
}

// A trial is an arrangement that has been set out, and what it is worth.
type trial struct {
	*spacer
	way           *arrangement
	faults        float64 // of the arrangement
	points, worth float64 // its score, with and without all faults
	near          bool    // every caption is near to its figure
}

// forTidiness is how much of the best score an arrangement may lose that has
// fewer faults.
const forTidiness = 0.03

// chosen returns the trial that is worth most of those whose score is nearly the
// best.
func chosen(all []trial) trial {
	most := 0.0
	for _, t := range all {
		if t.near {
			most = max(most, t.points)
		}
	}
	best := trial{worth: math.Inf(-1)}
	for _, t := range all {
		if t.points >= most*(1-forTidiness) && t.worth > best.worth+1e-9 {
			best = t
		}
	}
	return best
}

// evened is how many of the best trials are made as even as they can be, and
// polished how many are polished.
const (
	evened   = 40
	polished = 6
)

func sortTrials(all []trial) {
	slices.SortStableFunc(all, func(a, b trial) int { return cmp.Compare(b.worth, a.worth) })
}

// judged returns the trial with its worth: its score without its faults. Captions
// that are nearer to another figure spoil it.
func (t trial) judged(k Packer, figures []Figure) trial {
	t.points, t.near = t.score(), k.captionsNear(t.spacer, figures)
	t.worth = t.points - t.faults - min(faultBack*t.back(), mostBack)
	if !t.near {
		t.worth--
	}
	return t
}

// What an arrangement loses of its score for cuts within cuts, which are harder
// to read in order, for rows whose axes are not in line, and for figures side by
// side that are not in line at all.
const (
	faultDepth  = 0.01
	faultFeet   = 0.01
	faultUneven = 0.05
	faultLoose  = 0.015
	faultBack   = 0.04 // for each such pair,
	mostBack    = 0.1  // up to this
)

func (w *arrangement) faults() float64 {
	whole := w.root()
	cost := whole.penalty + faultDepth*float64(whole.depth)
	if whole.crooked {
		cost += faultFeet
	}
	for _, x := range [2]*plan{whole, whole.b} {
		if x != nil && x.form == across && x.a.leaves > 0 && x.b.leaves > 0 {
			cost += faultUneven
		}
	}
	return cost
}

// back returns how many pairs of figures there are of which the later one stands
// wholly above the earlier one.
func (s *spacer) back() float64 {
	n := 0.0
	for i, a := range s.rects {
		for _, b := range s.rects[i+1:] {
			if b.Min.Y >= a.Max.Y {
				n++
			}
		}
	}
	return n
}

// farCaption is how far a caption may be from its figure for the sake of a
// common level, in distances that it has by itself.
const farCaption = 4.0

// captionsNear reports whether every caption is nearer to its own figure than to
// any other, and not far from it.
func (k Packer) captionsNear(s *spacer, figures []Figure) bool {
	for i := range s.boxes {
		b := &s.boxes[i]
		st := &figures[b.figure].Stances[b.stance]
		own := b.captions - st.Down
		if st.Caption == 0 || own < eps {
			continue
		}
		if own > farCaption*k.CaptionGap {
			return false
		}
		caption := s.rects[i]
		caption.Max.Y = caption.Min.Y + st.Caption - k.CaptionGap
		for j := range s.boxes {
			other := s.rects[j]
			other.Min.Y = other.Max.Y - s.boxes[j].up - figures[s.boxes[j].figure].Stances[s.boxes[j].stance].Down
			if j != i && distance(caption, other) < own+k.CaptionGap {
				return false
			}
		}
	}
	return true
}
