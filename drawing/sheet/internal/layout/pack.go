package layout

import (
	"context"
	"fmt"
	"math"
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
	p, err := k.Divide(ctx, figures)
	if err != nil {
		return nil, 0, err
	}
	places, err = p.Places(ctx)
	return places, p.Pages(), err
}

// Divide is the first part of Pack: it finds out which figures go on which page.
func (k Packer) Divide(ctx context.Context, figures []Figure) (*Packing, error) {
	if err := readingOrder(figures); err != nil {
		return nil, err
	}
	b := newBreaker(ctx, k, figures)
	ends, err := b.breaks()
	if err != nil {
		return nil, err
	}
	return &Packing{k, b.planner, ends}, nil
}

// A Packing is figures divided into pages.
type Packing struct {
	packer  Packer
	planner *planner
	ends    []int // the figure that each page ends before
}

// Pages returns how many pages there are.
func (p *Packing) Pages() int { return len(p.ends) }

// Figures returns how many figures have a page.
func (p *Packing) Figures() int {
	if len(p.ends) == 0 {
		return 0
	}
	return p.ends[len(p.ends)-1]
}

// Places is the second part of Pack: it finds the places on the pages.
func (p *Packing) Places(ctx context.Context) ([]Place, error) {
	var places []Place
	from := 0
	for page, to := range p.ends {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		if to > from {
			places = append(places, p.packer.page(p.planner, from, to, page)...)
		}
		from = to
	}
	return places, nil
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
