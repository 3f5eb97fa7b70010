package sheet

import (
	"boltplate/drawing/sheet/internal/layout"
)

// numbered numbers the figures that have a caption in the given order.
func (c *composer) numbered(order []int) []int {
	numbers, n := make([]int, len(c.Figures)), 0
	for _, i := range order {
		if c.Figures[i].Caption != "" {
			n++
			numbers[i] = n
		}
	}
	return numbers
}

// order puts the figures of a grouped plate into an order in which they take
// fewer pages, from one that begins a page to the next.
func (c *composer) order(t *trial) error {
	if !c.Grouped {
		return nil
	}
	c.extents(t)
	var order []int
	for from := 0; from < len(t.figures); {
		to := from + 1
		for to < len(t.figures) && !c.Figures[to].NewPage && c.Figures[to].Page == 0 {
			to++
		}
		part, err := c.packer(t).Order(c.ctx, t.extents[from:to], c.groups(t, from, to))
		if err != nil {
			return err
		}
		for _, i := range part {
			order = append(order, from+i)
		}
		from = to
	}
	figures, scales := t.figures, t.scales
	t.figures, t.scales, t.index = nil, nil, order
	for _, i := range order {
		t.figures, t.scales = append(t.figures, figures[i]), append(t.scales, scales[i])
	}
	t.numbers = c.numbered(order)
	c.enter(t)
	return nil
}

// groups returns the group of each figure: those of one scale, and among them
// those of one kind.
func (c *composer) groups(t *trial, from, to int) []layout.Group {
	scales, kinds := map[float64]int{}, map[string]int{}
	out := make([]layout.Group, 0, to-from)
	for i := from; i < to; i++ {
		k, kind := t.figures[i].scale, c.Figures[i].Kind
		if _, ok := scales[k]; !ok {
			scales[k] = len(scales)
		}
		if _, ok := kinds[kind]; !ok {
			kinds[kind] = len(kinds)
		}
		out = append(out, layout.Group{Class: scales[k], Kind: kinds[kind]})
	}
	return out
}
