package sheet

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"

	"boltplate/drawing"
	"boltplate/drawing/sheet/internal/layout"
)

// A composer makes the sheets of a plate.
type composer struct {
	*Plate
	ctx     context.Context
	st      drawing.Style // of the sheet
	most    int           // pages
	numbers []int         // of the figures, 0 for none
	known   map[drawnKey]*drawn
	sizes   []float64 // of the figures, see size
}

type drawnKey struct {
	figure int
	scale  float64
}

func newComposer(ctx context.Context, p *Plate) *composer {
	c := &composer{Plate: p, ctx: ctx, most: max(p.Pages, 1), st: p.Format.Style(), known: map[drawnKey]*drawn{}}
	if p.Style.Group != 0 {
		c.st.Group = p.Style.Group
	}
	if p.Style.TextHeight != 0 {
		c.st.TextHeight = p.Style.TextHeight
	}
	c.st.Labels, c.st.DecimalComma = p.Style.Labels, p.Style.DecimalComma
	c.numbers, c.sizes = make([]int, len(p.Figures)), make([]float64, len(p.Figures))
	all := make([]int, len(p.Figures))
	for i := range all {
		all[i] = i
	}
	c.number(all)
	return c
}

// number numbers the figures that have a caption in the given order.
func (c *composer) number(order []int) {
	n := 0
	for _, i := range order {
		if c.numbers[i] = 0; c.Figures[i].Caption != "" {
			n++
			c.numbers[i] = n
		}
	}
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
	c.number(order)
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

// A trial is the figures of a plate at their scales, with their places.
type trial struct {
	scale    float64   // that of the plate
	scales   []float64 // of the figures
	figures  []*drawn
	index    []int // of each in Plate.Figures: a figure that goes on has several
	register register
	refs     [][]string  // item references of the components of the figures of the plate
	lists    []laidTable // parts lists by page
	mixed    bool        // there is more than one scale
	extents  []layout.Figure
	places   []layout.Place
	pages    int
}

func (t *trial) fits() bool { return t != nil && len(t.places) == len(t.extents) }

// try draws the figures at a scale of the plate and places them. adapt says
// which may have another scale where they have no room at this one or are too
// small to read.
func (c *composer) try(scale float64, adapt func(f *Figure) bool) (*trial, error) {
	t := &trial{scale: scale}
	for i := range c.Figures {
		k := scale
		if own := c.Figures[i].Scale; own > 0 {
			k = own
		}
		d, err := c.draw(i, k)
		if err != nil {
			return nil, err
		}
		t.figures, t.scales, t.index = append(t.figures, d), append(t.scales, k), append(t.index, i)
		if c.Progress != nil {
			c.Progress(i+1, len(c.Figures))
		}
	}
	c.enter(t)
	if err := c.adapt(t, adapt); err != nil {
		return nil, err
	}
	if err := c.order(t); err != nil {
		return nil, err
	}
	c.goOn(t)
	return t, c.pack(t)
}

// enter numbers the components of all figures in the order of their marks, and
// makes the parts list.
func (c *composer) enter(t *trial) {
	t.register, t.refs = register{}, make([][]string, len(c.Figures))
	for _, d := range t.figures {
		t.register.reserve(d.content.Components)
	}
	for n, d := range t.figures {
		t.refs[t.index[n]] = t.register.name(d)
	}
	space := c.Format.Space().Dy()
	t.lists = t.register.lists(func(page int) float64 {
		return space*listShare - c.cornerBase(page) + c.titleHeight()
	}, c.most)
}

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
	f := d.extent(c.legend(i, d, true), c.st.Height())
	k := c.packer(t)
	return k.Fits(f, 0) || c.most > 1 && k.Fits(f, c.most-1)
}

func (c *composer) packer(t *trial) layout.Packer {
	return layout.Packer{Gap: c.gap(), CaptionGap: captionGap * c.st.Height(), Most: c.most, Rooms: func(page int) layout.Room { return c.room(t, page) }}
}

// room returns the room on a page: what is taken are the title block and what
// stands above it.
func (c *composer) room(t *trial, page int) layout.Room {
	s := c.Format.Space()
	return layout.Room{Width: s.Dx(), Height: s.Dy(), TakenWidth: TitleWidth, TakenHeight: c.corner(t, page)}
}

// legend returns the caption of a figure with its number and, where it is to be
// said, its scale.
func (c *composer) legend(i int, d *drawn, scaled bool) string {
	if c.numbers[i] == 0 {
		return ""
	}
	text := fmt.Sprintf("Fig."+noBreak+"%d"+noBreak+" %s", c.numbers[i], c.Figures[i].Caption)
	if d.part > 0 {
		text += ", continued"
	}
	if scaled && d.scaled() {
		text += " (" + ScaleName(d.scale) + ")"
	}
	return text
}

// pack places the figures.
func (c *composer) pack(t *trial) error {
	c.extents(t)
	var err error
	t.places, t.pages, err = c.packer(t).Pack(c.ctx, t.extents)
	t.pages = max(t.pages, len(t.lists), 1)
	var pe *layout.PageError
	if errors.As(err, &pe) {
		i := t.index[pe.Figure]
		return &FigureError{i, c.name(i), pe}
	}
	return err
}

// extents works out what the figures need.
func (c *composer) extents(t *trial) {
	t.mixed = t.several()
	t.extents = nil
	for n, d := range t.figures {
		i := t.index[n]
		f := &c.Figures[i]
		e := d.extent(c.legend(i, d, t.mixed), c.st.Height())
		if d.part == 0 {
			e.NewPage, e.Page, e.Row, e.Column = f.NewPage, f.Page, f.Row, f.Column
		}
		t.extents = append(t.extents, e)
	}
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
	for n, s := range t.scales {
		if s != k && c.Figures[t.index[n]].Scale == 0 {
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

// noRoom says which figures do not fit, and what would do.
func (c *composer) noRoom(t *trial) error {
	first := len(t.places)
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
