package layout

import (
	"cmp"
	"context"
	"slices"
)

// A Group is what Order keeps together: figures of one class, such as one scale,
// and of one kind within it.
type Group struct{ Class, Kind int }

// Order returns an order in which the figures take fewer pages: those of one
// class follow each other, and in it those of one kind, each kind in the order
// in which it is given. Where the next figure of a kind has no room on a page
// the page is filled with the next ones of other kinds, and at the end of other
// classes. It looks at room alone and passes over what figures ask for, but that
// the first figure stays the first where it begins a page. The error is that of
// ctx.
func (k Packer) Order(ctx context.Context, figures []Figure, groups []Group) ([]int, error) {
	var best []int
	fewest := 0
	for _, way := range waysToOrder(len(figures)) {
		order, pages, err := k.inOrder(ctx, figures, queuesOf(figures, groups, way))
		if err != nil {
			return nil, err
		}
		if best == nil || pages < fewest {
			best, fewest = order, pages
		}
	}
	return best, nil
}

// A wayToOrder is a rule for the order of classes and kinds.
type wayToOrder struct {
	largeClasses bool // classes of large figures first, else as they appear
	largeKinds   bool // of a class the kinds of large figures first, else as they appear
}

// manyFigures is from how many on one way is enough.
const manyFigures = 300

func waysToOrder(n int) []wayToOrder {
	if n > manyFigures {
		return []wayToOrder{{true, true}}
	}
	return []wayToOrder{{}, {false, true}, {true, false}, {true, true}}
}

// A queue is the figures of a group that have no place yet.
type queue struct {
	Group
	figures       []int
	area, ofClass float64 // of its figures, and of those of its class, on average
}

// queuesOf returns the groups in the order in which they are taken.
func queuesOf(figures []Figure, groups []Group, way wayToOrder) []queue {
	at := map[Group]int{}
	type sum struct{ area, n float64 }
	classes := map[int]sum{}
	var queues []queue
	for i, g := range groups {
		j, ok := at[g]
		if !ok {
			j = len(queues)
			at[g] = j
			queues = append(queues, queue{Group: g})
		}
		q := &queues[j]
		q.figures = append(q.figures, i)
		a := figures[i].least()
		q.area += (a - q.area) / float64(len(q.figures))
		c := classes[g.Class]
		classes[g.Class] = sum{c.area + a, c.n + 1}
	}
	for j := range queues {
		c := classes[queues[j].Class]
		queues[j].ofClass = c.area / c.n
	}
	slices.SortStableFunc(queues, func(a, b queue) int {
		byClass, byKind := cmp.Compare(a.Class, b.Class), 0
		if way.largeClasses {
			byClass = cmp.Or(cmp.Compare(b.ofClass, a.ofClass), byClass)
		}
		if way.largeKinds {
			byKind = cmp.Compare(b.area, a.area)
		}
		return cmp.Or(byClass, byKind)
	})
	if figures[0].NewPage || figures[0].Page > 0 {
		take(queues, 0)
		queues = append([]queue{{Group: groups[0], figures: []int{0}}}, queues...)
	}
	return queues
}

// inOrder fills pages from the queues and returns the order, and how many pages
// it takes.
func (k Packer) inOrder(ctx context.Context, figures []Figure, queues []queue) (order []int, pages int, err error) {
	for ; len(order) < len(figures); pages++ {
		if err := ctx.Err(); err != nil {
			return nil, 0, err
		}
		next := k.fill(figures, queues, k.Rooms(pages))
		if begins := figures[0].NewPage || figures[0].Page > 0; len(next) == 0 || begins && len(order) == 0 && next[0] != 0 {
			next = []int{first(queues)} // a figure without room stays where it is
		}
		for _, i := range next {
			take(queues, i)
		}
		order = append(order, next...)
	}
	return order, pages, nil
}

func first(queues []queue) int {
	for _, q := range queues {
		if len(q.figures) > 0 {
			return q.figures[0]
		}
	}
	return -1
}

func take(queues []queue, figure int) {
	for j := range queues {
		if q := &queues[j]; len(q.figures) > 0 && q.figures[0] == figure {
			q.figures = q.figures[1:]
		}
	}
}

// lookAhead is how many kinds are tried for what is left of a page.
const lookAhead = 40

// fill returns the figures that fill a page, from the heads of the queues.
func (k Packer) fill(figures []Figure, queues []queue, m Room) []int {
	p := newPlanner(nil, k.Gap, m)
	heads := make([]int, len(queues)) // how many of each are taken
	var page []int
	class := 0 // of the page, once it has a figure
	for _, same := range [2]bool{true, false} {
		for tried, j := 0, 0; j < len(queues) && tried < lookAhead; {
			q := &queues[j]
			if heads[j] >= len(q.figures) || len(page) > 0 && same != (q.Class == class) {
				j++
				continue
			}
			i := q.figures[heads[j]]
			p.push(figures[i])
			if p.fit(0, len(page)+1, m) {
				if len(page) == 0 {
					class = q.Class
				}
				page = append(page, i)
				heads[j]++
				continue
			}
			p.pop()
			tried++
			j++
		}
	}
	return page
}

// push adds a figure after the others.
func (p *planner) push(f Figure) {
	p.figures, p.known = append(p.figures, f), append(p.known, nil)
}

// pop takes the last figure away.
func (p *planner) pop() {
	n := len(p.figures) - 1
	p.figures, p.known = p.figures[:n], p.known[:n]
	for from := range p.known {
		if plans := p.known[from]; len(plans) > n-from {
			p.known[from] = plans[:n-from+1]
		}
	}
}
