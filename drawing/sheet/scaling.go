package sheet

import (
	"math"
	"slices"
)

// adapt gives figures that have no room, or are too small to read, a scale of
// their own.
func (c *composer) adapt(t *trial, may func(f *Figure) bool) error {
	changed := false
	for i, d := range t.figures {
		f := &c.Figures[i]
		if f.Scale > 0 || !d.scaled() || !may(f) {
			continue
		}
		k, err := c.suited(t, i)
		if err != nil {
			return err
		}
		if k != t.scales[i] {
			t.scales[i], changed = k, true
			if t.figures[i], err = c.draw(i, k); err != nil {
				return err
			}
		}
	}
	if changed {
		c.enter(t)
	}
	return nil
}

// suited returns the nearest standard scale to that of the plate at which a
// figure has room and can be read.
func (c *composer) suited(t *trial, i int) (float64, error) {
	k := t.scale
	size := c.size(i)
	if size*k < legible {
		scales := Scales()
		slices.Reverse(scales)
		for _, s := range scales {
			if s > k && size*s >= legible {
				d, err := c.draw(i, s)
				if err != nil {
					return 0, err
				}
				if c.alone(t, i, d) {
					return s, nil
				}
				break
			}
		}
		return k, nil
	}
	d := t.figures[i]
	for _, s := range Scales() {
		if c.alone(t, i, d) || size*s < legible {
			break
		}
		if s >= k {
			continue
		}
		var err error
		if d, err = c.draw(i, s); err != nil {
			return 0, err
		}
		if c.alone(t, i, d) {
			return s, nil
		}
	}
	return k, nil
}

// alone reports whether a figure has room on a page by itself.
func (c *composer) alone(t *trial, i int, d *drawn) bool {
	f := d.extent(c.legend(t, i, d, true), c.st.Height())
	k := c.packer(t)
	return k.Fits(f, 0) || c.most > 1 && k.Fits(f, c.most-1)
}

// several reports whether the figures have more than one scale.
func (t *trial) several() bool {
	first := 0.0
	for _, d := range t.figures {
		if d.scaled() {
			if first == 0 {
				first = d.scale
			}
			if d.scale != first {
				return true
			}
		}
	}
	return false
}

// mostOf returns the scale that most of the figures have, of equals the first.
func mostOf(figures []*drawn) float64 {
	count := map[float64]int{}
	best := 0.0
	for _, d := range figures {
		if !d.scaled() {
			continue
		}
		if count[d.scale]++; best == 0 || count[d.scale] > count[best] {
			best = d.scale
		}
	}
	return best
}

// At a scale that is chosen automatically the views of the largest figure are at
// least readable across, and those of the smallest legible, mm on paper: below
// that dimensions take more room than what they belong to.
const (
	readable = 25.0
	legible  = 12.0
)

// layout chooses the scale and places the figures. It returns the last trial
// where none fits.
func (c *composer) layout() (*trial, error) {
	auto := func(f *Figure) bool { return f.Scale == AutoScale }
	if c.Scale != 0 {
		return c.try(c.Scale, auto)
	}
	scales := Scales()
	if c.most >= AsNeeded {
		scales = slices.DeleteFunc(scales, func(k float64) bool { return k > 1 })
	}
	last, err := c.oneScale(scales, auto)
	if err != nil || last.fits() {
		return last, err
	}
	mixed, err := c.mixedScales(scales, last)
	if err != nil || mixed != nil {
		return mixed, err
	}
	return last, nil
}

// oneScale tries one scale for all figures but those of AutoScale, the largest
// first. On as many pages as needed a few may differ, so that one large figure
// does not make all others small.
func (c *composer) oneScale(scales []float64, auto func(*Figure) bool) (last *trial, err error) {
	for i, k := range scales {
		some := c.most >= AsNeeded
		if len(c.Figures) > 0 && i+1 < len(scales) && !some && c.tooLarge(last, k) {
			continue
		}
		if c.tooSmall(last, k) {
			break
		}
		may := auto
		if some {
			may = func(f *Figure) bool { return true }
		}
		t, err := c.try(k, may)
		if err != nil {
			return nil, err
		}
		if t.fits() && (!some || t.odd(c, k) <= len(c.Figures)/4) {
			return t, nil
		}
		last = t
	}
	return last, nil
}

// odd returns how many figures that should have the scale of the plate do not.
func (t *trial) odd(c *composer, k float64) int {
	n := 0
	for i, d := range t.figures {
		if d.scaled() && d.scale != k && c.Figures[t.index[i]].Scale == 0 {
			n++
		}
	}
	return n
}

// mixedScales lets figures have a scale of their own, as few as will do, or
// returns nil.
func (c *composer) mixedScales(scales []float64, known *trial) (best *trial, err error) {
	if known == nil {
		return nil, nil
	}
	for _, k := range scales {
		t, err := c.try(k, func(*Figure) bool { return true })
		if err != nil {
			return nil, err
		}
		if t.fits() && c.legible(t) && (best == nil || t.odd(c, k) < best.odd(c, best.scale)) {
			best = t
		}
	}
	return best, nil
}

// legible reports whether no figure is too small to read that has no scale of its
// own given.
func (c *composer) legible(t *trial) bool {
	for n, d := range t.figures {
		if i := t.index[n]; c.Figures[i].Scale <= 0 && d.scaled() && c.sizes[i]*d.scale < legible {
			return false
		}
	}
	return true
}

// tooSmall reports whether a scale makes figures too small, by what is known
// from another one.
func (c *composer) tooSmall(known *trial, scale float64) bool {
	if known == nil {
		return false
	}
	largest, smallest := 0.0, math.Inf(1)
	for n, d := range known.figures {
		if i := known.index[n]; c.Figures[i].Scale == 0 && d.scaled() {
			size := c.size(i)
			largest, smallest = max(largest, size), min(smallest, size)
		}
	}
	return largest > 0 && (largest*scale < readable || smallest*scale < legible)
}

// tooLarge reports whether a figure cannot fit at a scale by what is known of
// it from another one: its views grow with the scale, what stands about them
// does not.
func (c *composer) tooLarge(known *trial, scale float64) bool {
	if known == nil {
		return false
	}
	s := c.Format.Space()
	for n, d := range known.figures {
		if i := known.index[n]; c.Figures[i].Scale == 0 && d.scaled() && c.size(i)*scale > max(s.Dx(), s.Dy()) {
			return true
		}
	}
	return false
}
