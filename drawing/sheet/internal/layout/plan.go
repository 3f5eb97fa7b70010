package layout

import (
	"cmp"
	"slices"
)

// The forms of a plan.
type form uint8

const (
	leaf   form = iota // a figure
	row                // side by side, the figures among them in line
	column             // one below the other, the figures among them on one middle line
	across             // side by side
	down               // one below the other
)

// A plan says how the figures of an interval are divided by cuts, and what
// they need at the least. It is a tree of two branches: a row is what stands on
// the left and one more on its right, a column what stands above and one more
// below.
type plan struct {
	form          form
	level         bool // a row whose axes, not feet, are in line
	crooked       bool // there is a row in it whose feet are in line
	depth         uint8
	nx, ny        uint8 // how many figures stand side by side and one below the other, at the most
	leaves        uint8 // figures that a row puts in line
	stance        uint8 // of a leaf
	figure        int   // of a leaf
	width, height float64
	penalty       float64
	// Of a row, for the figures in it: how far they reach above and below the
	// line, and the height of the captions; and the height of what else is in it.
	// A leaf is a row of one.
	up, down, captions, tall float64

	a, b *plan
}

// planner makes plans of figures and remembers them.
type planner struct {
	figures []Figure
	gap     float64
	most    Room        // of all pages: what is larger is of no use
	known   [][][]*plan // by the first figure and how many there are
}

func newPlanner(figures []Figure, gap float64, most Room) *planner {
	return &planner{figures: figures, gap: gap, most: most, known: make([][][]*plan, len(figures))}
}

// few is how many figures are few enough to keep plans that need more room
// than others, for the sake of balance.
const few = 6

// limit returns how many plans are kept of an interval of n figures.
func limit(n int) int {
	switch {
	case n <= 2:
		return 24
	case n <= few:
		return 40
	case n <= 2*few:
		return 8
	}
	return 4
}

// plans returns the plans of an interval of figures that fit on a page, those
// with the least room first.
func (p *planner) plans(from, to int) []*plan {
	if n := to - from; n < len(p.known[from]) && p.known[from][n] != nil {
		return p.known[from][n]
	}
	c := collection{front: to-from > few}
	if to == from+1 {
		for i := range p.figures[from].Stances {
			p.add(&c, p.leaf(from, i))
		}
	}
	for cut := from + 1; cut < to; cut++ {
		right := p.plans(cut, to)
		for _, a := range p.plans(from, cut) {
			for _, b := range right {
				p.join(&c, a, b)
			}
		}
	}
	out := best(c.plans, limit(to-from))
	for len(p.known[from]) <= to-from {
		p.known[from] = append(p.known[from], nil)
	}
	p.known[from][to-from] = out
	return out
}

// A collection gathers plans of an interval: all, or those only that no other
// one beats in width and height.
type collection struct {
	plans []plan
	front bool
}

func (c *collection) add(x *plan) {
	if !c.front {
		c.plans = append(c.plans, *x)
		return
	}
	kept := c.plans[:0]
	for i := range c.plans {
		o := &c.plans[i]
		if o.width <= x.width+eps && o.height <= x.height+eps {
			return // none was dropped, since x would have been beaten with it
		}
		if !(x.width <= o.width+eps && x.height <= o.height+eps) {
			kept = append(kept, *o)
		}
	}
	c.plans = append(kept, *x)
}

func (p *planner) leaf(figure, stance int) plan {
	s := &p.figures[figure].Stances[stance]
	return plan{form: leaf, figure: figure, stance: uint8(stance), width: s.Width, height: s.Up + s.Down + s.Caption,
		up: s.Up, down: s.Down, captions: s.Caption, penalty: s.Penalty, nx: 1, ny: 1, leaves: 1}
}

// add adds a plan that fits on a page.
func (p *planner) add(c *collection, one plan) {
	if p.fits(&one, p.most.Width, p.most.Height) {
		c.add(&one)
	}
}

// fits reports whether the plan fits into an area with a gap all round.
func (p *planner) fits(x *plan, width, height float64) bool {
	return x.width+2*p.gap <= width+eps && x.height+2*p.gap <= height+eps
}

// join adds the plans that have a and then b. A row joins no row on its right,
// nor a column a column below it, so that no plan is made twice.
func (p *planner) join(c *collection, a, b *plan) {
	if b.form != row && a.width+b.width+3*p.gap <= p.most.Width+eps {
		switch leaves := a.leaves + b.leaves; {
		case a.form == row && a.leaves > 1:
			p.add(c, p.row(a, b, a.level))
		case leaves < 2:
			p.add(c, p.row(a, b, true))
		default:
			p.add(c, p.row(a, b, true))
			p.add(c, p.row(a, b, false))
		}
	}
	if b.form != column && a.height+b.height+3*p.gap <= p.most.Height+eps {
		p.add(c, p.column(a, b))
	}
}

// pair returns what all plans of two have.
func pair(f form, a, b *plan) plan {
	x := plan{form: f, crooked: a.crooked || b.crooked, depth: max(a.depth, b.depth+1), penalty: a.penalty + b.penalty, a: a, b: b}
	if level := f == row || f == across; level != (a.form == row || a.form == across) || a.form == leaf {
		x.depth = max(a.depth, b.depth) + 1
	}
	if f == row || f == across {
		x.nx, x.ny = a.nx+b.nx, max(a.ny, b.ny)
	} else {
		x.nx, x.ny = max(a.nx, b.nx), a.ny+b.ny
	}
	return x
}

// row returns a with b on its right.
func (p *planner) row(a, b *plan, level bool) plan {
	r := pair(row, a, b)
	r.level, r.width = level, a.width+p.gap+b.width
	for _, k := range [2]*plan{a, b} {
		switch {
		case k.leaves == 0:
			r.tall = max(r.tall, k.height)
			continue
		case level:
			r.up, r.down = max(r.up, k.up), max(r.down, k.down)
		case k.form == row && k.leaves > 1: // its feet are in line, at 0 below
			r.up = max(r.up, k.up)
		default:
			r.up = max(r.up, k.up+k.down)
		}
		r.tall, r.captions = max(r.tall, k.tall), max(r.captions, k.captions)
		r.leaves += k.leaves
	}
	r.crooked = r.crooked || !level && r.leaves > 1
	r.height = max(r.tall, r.up+r.down+r.captions)
	return r
}

// column returns a with b below it.
func (p *planner) column(a, b *plan) plan {
	c := pair(column, a, b)
	c.width, c.height = max(a.width, b.width), a.height+p.gap+b.height
	return c
}

// members returns what stands side by side in a row, or one below the other in
// a column.
func (p *plan) members() []*plan {
	var out []*plan
	for x := p; ; x = x.a {
		if x.form != p.form || x.form == leaf || x != p && (p.form == across || p.form == down) {
			out = append(out, x)
			break
		}
		out = append(out, x.b)
	}
	slices.Reverse(out)
	return out
}

// best returns at most n plans: those that no other one beats in width and
// height, then those that only they beat, and so on.
func best(all []plan, n int) []*plan {
	order := make([]*plan, len(all))
	for i := range all {
		order[i] = &all[i]
	}
	slices.SortStableFunc(order, func(a, b *plan) int {
		return cmp.Or(cmp.Compare(a.width, b.width), cmp.Compare(a.height, b.height), cmp.Compare(a.penalty, b.penalty), cmp.Compare(a.depth, b.depth))
	})
	out := []*plan{}
	for len(order) > 0 && len(out) < n {
		var front, rest []*plan
		for _, p := range order {
			if len(front) == 0 || p.height < front[len(front)-1].height-eps {
				front = append(front, p)
			} else {
				rest = append(rest, p)
			}
		}
		if room := n - len(out); len(front) > room {
			front = thinned(front, room)
		}
		out = append(out, front...)
		order = rest
	}
	for i, p := range out { // let go of the others
		c := *p
		out[i] = &c
	}
	return out
}

// thinned returns n of the plans, evenly chosen, the first and the last among
// them.
func thinned(all []*plan, n int) []*plan {
	if n == 1 {
		return all[len(all)/2 : len(all)/2+1]
	}
	out := make([]*plan, n)
	for i := range out {
		out[i] = all[i*(len(all)-1)/(n-1)]
	}
	return out
}
