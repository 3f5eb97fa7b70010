package layout

import (
	"cmp"
	"math"
	"slices"
)

// An arrangement is how the figures of a page stand: as one plan, above what is
// taken in the lower right corner or beside it; as two, one above or beside the
// corner first (down: above it over the whole width, the rest beside it; across:
// beside it over the whole height, the rest above it); or as three, the rest of
// two divided once more.
type arrangement struct {
	form          form // down or across, or leaf for one plan
	beside        bool // one plan stands beside the corner
	a, b, c       *plan
	from, at, and int // where the plans begin
	to            int
	uneven        float64 // how much the gaps across and down would differ, mm
}

// A zone is an interval of figures that stand beside the corner or above it.
type zone struct {
	from, to int
	beside   bool
}

func (w *arrangement) zones() []zone {
	switch first := w.form == across; {
	case w.b == nil:
		return []zone{{w.from, w.to, w.beside}}
	case w.c == nil:
		return []zone{{w.from, w.at, first}, {w.at, w.to, !first}}
	default:
		return []zone{{w.from, w.at, first}, {w.at, w.and, !first}, {w.and, w.to, first}}
	}
}

// root returns the whole as one plan.
func (w *arrangement) root() *plan {
	other := across
	if w.form == across {
		other = down
	}
	switch {
	case w.b == nil:
		return w.a
	case w.c == nil:
		whole := pair(w.form, w.a, w.b)
		return &whole
	}
	rest := pair(other, w.b, w.c)
	whole := pair(w.form, w.a, &rest)
	return &whole
}

// A corner is a room from the corner's side: the space above it and beside it.
type corner struct {
	Room
	over, aside float64
}

func cornerOf(m Room) corner { return corner{m, m.Height - m.TakenHeight, m.Width - m.TakenWidth} }

// arrangements calls visit with the ways to stand figures on a page, until it
// returns false. w is for its use alone.
func (p *planner) arrangements(from, to int, m Room, visit func(w *arrangement) bool) {
	r := cornerOf(m)
	w := arrangement{form: leaf, from: from, to: to}
	for _, w.a = range p.plans(from, to) {
		w.beside = false
		if p.fits(w.a, r.Width, r.over) && !visit(&w) {
			return
		}
		w.beside = true
		if p.fits(w.a, r.aside, r.Height) && !visit(&w) {
			return
		}
	}
	for w.at = from + 1; w.at < to; w.at++ {
		for _, w.a = range p.plans(from, w.at) {
			if w.form = down; p.fits(w.a, r.Width, r.over) && !p.below(w, r, visit) {
				return
			}
			if w.form = across; p.fits(w.a, r.aside, r.Height) && !p.rightOf(w, r, visit) {
				return
			}
		}
	}
}

// below visits the arrangements that go on below w.a.
func (p *planner) below(w arrangement, r corner, visit func(*arrangement) bool) bool {
	height := r.Height - p.gap - w.a.height
	for _, w.b = range p.plans(w.at, w.to) {
		if p.fits(w.b, r.aside, height) && !visit(&w) {
			return false
		}
	}
	for w.and = w.at + 1; w.and < w.to; w.and++ {
		last := p.plans(w.and, w.to)
		for _, w.b = range p.plans(w.at, w.and) {
			if !p.fits(w.b, r.aside, height) {
				continue
			}
			for _, w.c = range last {
				if p.fits(w.c, r.Width-p.gap-w.b.width, height-r.TakenHeight) && !visit(&w) {
					return false
				}
			}
		}
	}
	return true
}

// rightOf visits the arrangements that go on right of w.a.
func (p *planner) rightOf(w arrangement, r corner, visit func(*arrangement) bool) bool {
	width := r.Width - p.gap - w.a.width
	for _, w.b = range p.plans(w.at, w.to) {
		if p.fits(w.b, width, r.over) && !visit(&w) {
			return false
		}
	}
	for w.and = w.at + 1; w.and < w.to; w.and++ {
		last := p.plans(w.and, w.to)
		for _, w.b = range p.plans(w.at, w.and) {
			if !p.fits(w.b, width, r.over) {
				continue
			}
			for _, w.c = range last {
				if p.fits(w.c, width-r.TakenWidth, r.Height-p.gap-w.b.height) && !visit(&w) {
					return false
				}
			}
		}
	}
	return true
}

// fit reports whether figures have room on a page.
func (p *planner) fit(from, to int, m Room) bool {
	fits := false
	p.arrangements(from, to, m, func(*arrangement) bool {
		fits = true
		return false
	})
	return fits
}

// tries is how many arrangements of a page are set out and compared.
const tries = 400

// promising returns the arrangements in which the gaps across and down promise
// to be most alike.
func (p *planner) promising(from, to int, m Room) []arrangement {
	var all []arrangement
	shorten := func() {
		slices.SortStableFunc(all, func(a, b arrangement) int { return cmp.Compare(a.uneven, b.uneven) })
		all = all[:min(len(all), tries)]
	}
	p.arrangements(from, to, m, func(w *arrangement) bool {
		w.uneven = p.uneven(w, m)
		if len(all) < tries || w.uneven < all[tries-1].uneven {
			if all = append(all, *w); len(all) >= 4*tries {
				shorten()
			}
		}
		return true
	})
	shorten()
	return all
}

// uneven returns how much the gaps across and down of an arrangement would
// differ from each other.
func (p *planner) uneven(w *arrangement, m Room) float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	gaps := func(x *plan, width, height float64) {
		nx, ny := float64(x.nx), float64(x.ny)
		across, along := (width-x.width+p.gap*(nx-1))/(nx+1), (height-x.height+p.gap*(ny-1))/(ny+1)
		lo, hi = min(lo, across, along), max(hi, across, along)
	}
	r := cornerOf(m)
	a, b, c := w.a, w.b, w.c
	switch {
	case b == nil && w.beside:
		gaps(a, r.aside, r.Height)
	case b == nil:
		gaps(a, r.Width, r.over)
	case w.form == down:
		h := r.Height - a.height
		gaps(a, r.Width, r.Height-b.height)
		if c == nil {
			gaps(b, r.aside, h)
		} else {
			gaps(b, r.Width-c.width, h)
			gaps(c, r.Width-b.width, h-r.TakenHeight)
		}
	default:
		width := r.Width - a.width
		gaps(a, r.Width-b.width, r.Height)
		if c == nil {
			gaps(b, width, r.over)
		} else {
			gaps(b, width, r.Height-c.height)
			gaps(c, width-r.TakenWidth, r.Height-b.height)
		}
	}
	return hi - lo
}
