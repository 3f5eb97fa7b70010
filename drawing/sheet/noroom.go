package sheet

import (
	"fmt"
	"slices"
)

// noRoom says which figures do not fit, and what would do.
func (c *composer) noRoom(t *trial) error {
	first := t.packing.Figures()
	e := &FitError{Format: c.Format, Scale: t.scale, Pages: c.most, Auto: c.Scale == 0}
	for _, i := range slices.Compact(slices.Clone(t.index[first:])) {
		e.Figures = append(e.Figures, c.name(i))
	}
	if k := c.packer(t); !k.Fits(t.extents[first], 0) && !k.Fits(t.extents[first], c.most-1) {
		e.Alone = true
		e.Figures = e.Figures[:1]
		if f := &c.Figures[t.index[first]]; f.Scale > 0 {
			e.Scale, e.Auto = f.Scale, false
		}
	}
	for _, k := range Scales() {
		if c.Scale == 0 || k >= c.Scale {
			continue
		}
		if _, fits := c.with(func(p *Plate) { p.Scale = k }); fits {
			e.Advice = append(e.Advice, "scale "+ScaleName(k))
			break
		}
	}
	sizes := Sizes()
	for _, size := range sizes[slices.Index(sizes, c.Format.Size)+1:] {
		larger := Format{Size: size, Orientation: c.Format.Orientation}
		if _, fits := c.with(func(p *Plate) { p.Format = larger }); fits {
			e.Advice = append(e.Advice, "size "+larger.String())
			break
		}
	}
	if c.most < AsNeeded {
		if more, fits := c.with(func(p *Plate) { p.Pages = AsNeeded }); fits {
			e.Advice = append(e.Advice, fmt.Sprintf("%d pages", more.pages))
		}
	}
	if err := c.ctx.Err(); err != nil {
		return err
	}
	return e
}

// with returns the layout of the plate with something changed, and whether all
// has room then.
func (c *composer) with(change func(*Plate)) (*trial, bool) {
	p := *c.Plate
	p.Progress = nil
	change(&p)
	t, err := newComposer(c.ctx, &p).layout()
	return t, err == nil && t.fits()
}
