package sheet

import (
	"slices"

	"boltplate/drawing"
)

// gap returns the least distance between figures, and between a figure and the
// frame or the title block, mm on paper: more than that of a caption from its
// own figure.
func (c *composer) gap() float64 { return max(9, (captionGap+0.9)*c.st.Height()) }

// draw draws a figure at a scale.
func (c *composer) draw(i int, scale float64) (*drawn, error) {
	key := drawnKey{i, scale}
	if d, ok := c.known[key]; ok {
		return d, nil
	}
	if err := c.ctx.Err(); err != nil {
		return nil, err
	}
	f := &c.Figures[i]
	st := c.st
	st.Scale, st.Labels = scale, c.labels(f)
	got, err := content(f.Source, st)
	if err != nil {
		return nil, &FigureError{i, c.name(i), err}
	}
	one := *got
	one.Components = slices.Concat(one.Components, f.Components)
	if err := one.check(); err != nil {
		return nil, &FigureError{i, c.name(i), err}
	}
	d := &drawn{content: c.exercise(f, &one), scale: scale, main: drawing.EmptyRect()}
	c.aim(d, st)
	c.stand(d)
	c.known[key] = d
	size := d.size()
	if d.extended = size > 0; c.sizes[i] == 0 || size < c.sizes[i] {
		c.sizes[i] = size
	}
	return d, nil
}

// aim sets the marks of a figure that was drawn in the given style.
func (c *composer) aim(d *drawn, st drawing.Style) {
	if d.content.Drawing == nil {
		return
	}
	fixed := d.loosen(st)
	if b := fixed.Bounds(); !b.Empty() {
		d.main = drawing.Rect{Min: b.Min.Mul(d.scale), Max: b.Max.Mul(d.scale)}
	}
	if len(d.content.Components)+len(d.content.Findings) > 0 && !d.main.Empty() {
		around := survey(fixed, st, d.scale)
		d.marks = point(d.content.pointers(c.st, d.scale, around), d.main, around)
		d.main = d.main.Union(d.marks.bounds())
	}
}

// loosen takes the views that stand out of projection beside others from the
// drawing of a figure, and returns the rest.
func (d *drawn) loosen(st drawing.Style) *drawing.Drawing {
	fixed := *d.content.Drawing
	fixed.Views = nil
	var loose []drawing.Placed
	for _, v := range d.content.Drawing.Views {
		if v.View.Direction == drawing.Isometric {
			loose = append(loose, v)
		} else {
			fixed.Views = append(fixed.Views, v)
		}
	}
	if len(fixed.Views) == 0 {
		fixed.Views, loose = loose, nil
	}
	for _, v := range loose {
		b := drawing.Drawing{Style: st, Views: []drawing.Placed{v}}.Bounds()
		if b.Empty() {
			continue
		}
		box := drawing.Rect{Min: b.Min.Mul(d.scale), Max: b.Max.Mul(d.scale)}
		d.loose = append(d.loose, blockForm{width: box.Dx(), height: box.Dy(), view: &looseView{v, box}})
	}
	d.views = fixed.Views
	return &fixed
}

// stand works out the ways a figure can stand.
func (c *composer) stand(d *drawn) {
	space := c.Format.Space()
	most := drawing.Pt(space.Dx()-2*c.gap(), space.Dy()-2*c.gap())
	s := setter{main: d.main, under: d.content.under, gap: blockGap * c.st.Height(), between: betweenGap * c.st.Height()}
	for _, v := range d.loose {
		s.forms = append(s.forms, []blockForm{v})
	}
	for _, b := range d.content.Blocks {
		s.forms = append(s.forms, b.forms(c.st, most.X))
	}
	if d.main.Empty() && len(s.forms) == 0 {
		d.main = drawing.Rect{}
		s.main = d.main
	}
	d.stances = s.stances(most)
}

// scaled reports whether a figure has a scale: tables and texts have none.
func (d *drawn) scaled() bool { return d.part == 0 && d.extended }

// size returns the larger side of the largest view of a figure, mm of the part:
// the least that is known, since some of what is drawn, such as broken edges, is
// longer on the part at small scales.
func (c *composer) size(i int) float64 { return c.sizes[i] }

// size returns the larger side of the largest view of a figure as it is drawn,
// without its centre lines, whose ends are millimetres on paper; mm of the part.
func (d *drawn) size() float64 {
	if d.content.Drawing == nil {
		return 0
	}
	size := 0.0
	views := append(slices.Clone(d.content.Drawing.Views), drawing.Placed{View: drawing.View{Items: d.content.Drawing.Items}})
	for _, p := range views {
		o := p.View
		o.Items = slices.DeleteFunc(slices.Clone(o.Items), func(it drawing.Item) bool { return it.Role == drawing.RoleCentre })
		if b := o.Outline(); !b.Empty() {
			size = max(size, b.Dx()*orOne(p.Scale), b.Dy()*orOne(p.Scale))
		}
	}
	return size
}
