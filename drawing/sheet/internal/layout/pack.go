package layout

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
)

// A Packer places figures on pages.
type Packer struct {
	// Gap is the least distance between figures, and between a figure and the
	// frame or what is taken, mm.
	Gap float64
	// CaptionGap is the distance of a caption from its figure, mm.
	CaptionGap float64
	// Rooms returns the room on a page, from 0.
	Rooms func(page int) Room
	// Most is how many pages there may be.
	Most int
}

// A PageError says that a figure cannot stand where it asks to.
type PageError struct {
	Figure int
	Key    string // page, row or column
	Reason string
}

// Error returns what is asked for and what stands against it.
func (e *PageError) Error() string { return e.Key + ": " + e.Reason }

// Pack places figures in reading order, on as few pages as they need. It
// returns the places of those that have one, and how many pages they take;
// where there are fewer places than figures the next figure has no room. The
// error is that of ctx or a *PageError.
func (k Packer) Pack(ctx context.Context, figures []Figure) (places []Place, pages int, err error) {
	if err := readingOrder(figures); err != nil {
		return nil, 0, err
	}
	b := newBreaker(ctx, k, figures)
	ends, err := b.breaks()
	if err != nil {
		return nil, 0, err
	}
	from := 0
	for page, to := range ends {
		if err := ctx.Err(); err != nil {
			return nil, 0, err
		}
		if to > from {
			places = append(places, k.page(b.planner, from, to, page)...)
		}
		from = to
	}
	return places, len(ends), nil
}

// Fits reports whether a figure has room on a page by itself.
func (k Packer) Fits(f Figure, page int) bool {
	f.NewPage, f.Page, f.Row, f.Column = false, 0, 0, 0
	m := k.Rooms(page)
	return newPlanner([]Figure{f}, k.Gap, m).fit(0, 1, m)
}

// readingOrder reports pages, rows and columns that would change the reading order.
func readingOrder(figures []Figure) error {
	for i := 1; i < len(figures); i++ {
		f := &figures[i]
		for j := i - 1; f.Page > 0 && j >= 0; j-- {
			if figures[j].Page > f.Page {
				return &PageError{i, "page", fmt.Sprintf("%d comes before the %d of a figure before it; figures stand in the order in which they are given", f.Page, figures[j].Page)}
			}
		}
	}
	return nil
}

// A breaker finds out where pages end.
type breaker struct {
	Packer
	ctx     context.Context
	planner *planner
	fitting map[fitting]bool
	longest map[Room]int // how far the figures go that were found to fit
	fixed   bool         // a figure asks for a page
	wrong   error        // rows and columns out of order
}

type fitting struct {
	from, to int
	room     Room
}

func newBreaker(ctx context.Context, k Packer, figures []Figure) *breaker {
	b := &breaker{Packer: k, ctx: ctx, fitting: map[fitting]bool{}, longest: map[Room]int{}}
	var largest Room
	// The pages differ at the beginning, where lists and notes stand.
	for page := range min(k.Most, len(figures)+1, 50) {
		m := k.Rooms(page)
		if page == 0 || m.Area() > largest.Area() {
			largest = m
		}
	}
	b.planner = newPlanner(figures, k.Gap, largest)
	for i := range figures {
		b.fixed = b.fixed || figures[i].Page > 0
	}
	return b
}

// A step is a way to reach an end: the page before it ends at from.
type step struct {
	from int
	cost float64
}

// breaks returns where each page ends, as few pages as will do, filled as
// evenly as that allows. It goes as far as figures have room.
func (b *breaker) breaks() ([]int, error) {
	n := len(b.planner.figures)
	reached := make([]bool, n+1)
	reached[0] = true
	var pages []map[int]step
	layer := map[int]step{0: {}}
	far, farPages := 0, 0
	for page := 0; page < b.Most && far < n && len(layer) > 0; page++ {
		next := map[int]step{}
		for from := range n {
			s, ok := layer[from]
			if !ok {
				continue
			}
			if err := b.ctx.Err(); err != nil {
				return nil, err
			}
			b.extend(from, page, s.cost, next)
		}
		for to := range next {
			if !b.fixed && reached[to] && to > 0 {
				delete(next, to)
				continue
			}
			reached[to] = true
			if to > far {
				far, farPages = to, page+1
			}
		}
		pages = append(pages, next)
		layer = next
	}
	if far < n && b.wrong != nil {
		return nil, b.wrong
	}
	if far < n && b.fixed {
		if err := b.stuck(far, farPages); err != nil {
			return nil, err
		}
	}
	ends := make([]int, farPages)
	for page, to := farPages-1, far; page >= 0; page-- {
		ends[page] = to
		to = pages[page][to].from
	}
	return ends, nil
}

// extend adds the ends that a page can have which begins with a figure.
func (b *breaker) extend(from, page int, cost float64, next map[int]step) {
	m := b.Rooms(page)
	full := 0.0
	to := from
	if from > 0 && b.planner.figures[from].follows() {
		return // it belongs to the row of the one before it
	}
	for to < len(b.planner.figures) {
		f := &b.planner.figures[to]
		if f.NewPage && to > from || f.Page > 0 && f.Page != page+1 || !b.fit(from, to+1, m) {
			break
		}
		full += f.least() / m.Area()
		to++
		if c := cost + full*full; better(next, to, c) {
			next[to] = step{from, c}
		}
	}
	// A page without figures, where the next one has more room.
	if to == from && b.Rooms(page+1).Area() > m.Area()+eps && better(next, to, cost) {
		next[to] = step{from, cost}
	}
}

// follows reports whether a figure asks for a place that only one after others
// on its page can have.
func (f *Figure) follows() bool { return f.Row > 1 || f.Column > 1 || f.Row == 0 && f.Column > 0 }

// better reports whether a step costs less than the one that is known, or as
// much and leaves more figures on the pages before.
func better(steps map[int]step, to int, cost float64) bool {
	s, ok := steps[to]
	return !ok || cost < s.cost+1e-12
}

func (b *breaker) fit(from, to int, m Room) bool {
	key := fitting{from, to, m}
	fits, known := b.fitting[key]
	switch {
	case known:
	case !b.fixed && to <= b.longest[m] && to > from+1 && !b.planner.arranged(from, to):
		return true // more than these fit
	default:
		if b.planner.arranged(from, to) {
			slots, err := b.planner.slots(from, to)
			if fits = err == nil && len(b.planner.asked(from, slots, m)) > 0; b.wrong == nil {
				b.wrong = err
			}
		} else {
			if fits = b.planner.fit(from, to, m); fits {
				b.longest[m] = to
			}
		}
		b.fitting[key] = fits
	}
	return fits
}

// least returns the area of the smallest stance.
func (f *Figure) least() float64 {
	a := math.Inf(1)
	for _, s := range f.Stances {
		a = min(a, s.Width*(s.Up+s.Down+s.Caption))
	}
	return a
}

// stuck says why a figure cannot stand on the page that it asks for.
func (b *breaker) stuck(i, pages int) error {
	f := &b.planner.figures[i]
	switch {
	case f.Page == 0:
		return nil
	case f.Page > b.Most:
		return &PageError{i, "page", fmt.Sprintf("%d is more than the %d that there may be", f.Page, b.Most)}
	case f.Page > pages+1:
		return &PageError{i, "page", fmt.Sprintf("%d; the figures before it leave page %d empty", f.Page, pages+1)}
	}
	return &PageError{i, "page", fmt.Sprintf("%d has no room for it beside the figures before it", f.Page)}
}

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
