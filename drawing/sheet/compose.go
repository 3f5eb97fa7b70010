package sheet

import (
	"context"
	"errors"
	"fmt"

	"boltplate/drawing"
	"boltplate/drawing/sheet/internal/layout"
)

// A composer makes the sheets of a plate.
type composer struct {
	*Plate
	ctx     context.Context
	st      drawing.Style // of the sheet
	most    int           // pages
	numbers []int         // of the figures in the order in which they are given, 0 for none
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
	all := make([]int, len(p.Figures))
	for i := range all {
		all[i] = i
	}
	c.numbers, c.sizes = c.numbered(all), make([]float64, len(p.Figures))
	return c
}

// A trial is the figures of a plate at their scales, with their places.
type trial struct {
	scale    float64   // that of the plate
	scales   []float64 // of the figures
	figures  []*drawn
	index    []int // of each in Plate.Figures: a figure that goes on has several
	numbers  []int // of the figures of the plate in the order in which they stand
	register register
	refs     [][]string  // item references of the components of the figures of the plate
	lists    []laidTable // parts lists by page
	mixed    bool        // there is more than one scale
	extents  []layout.Figure
	packing  *layout.Packing
	places   []layout.Place // once the trial is chosen
	pages    int
}

func (t *trial) fits() bool { return t != nil && t.packing.Figures() == len(t.extents) }

// try draws the figures at a scale of the plate and places them. adapt says
// which may have another scale where they have no room at this one or are too
// small to read.
func (c *composer) try(scale float64, adapt func(f *Figure) bool) (*trial, error) {
	t := &trial{scale: scale, numbers: c.numbers}
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
func (c *composer) legend(t *trial, i int, d *drawn, scaled bool) string {
	if t.numbers[i] == 0 {
		return ""
	}
	text := fmt.Sprintf("Fig."+noBreak+"%d"+noBreak+" %s", t.numbers[i], c.Figures[i].Caption)
	if d.part > 0 {
		text += ", continued"
	}
	if scaled && d.scaled() {
		text += " (" + ScaleName(d.scale) + ")"
	}
	return text
}

// pack divides the figures into pages.
func (c *composer) pack(t *trial) error {
	c.extents(t)
	packing, err := c.packer(t).Divide(c.ctx, t.extents)
	var pe *layout.PageError
	if errors.As(err, &pe) {
		i := t.index[pe.Figure]
		return &FigureError{i, c.name(i), pe}
	}
	if err != nil {
		return err
	}
	t.packing, t.pages = packing, max(packing.Pages(), len(t.lists), 1)
	return nil
}

// place finds the places of the figures of a trial.
func (c *composer) place(t *trial) error {
	var err error
	t.places, err = t.packing.Places(c.ctx)
	return err
}

// extents works out what the figures need.
func (c *composer) extents(t *trial) {
	t.mixed = t.several()
	t.extents = nil
	for n, d := range t.figures {
		i := t.index[n]
		f := &c.Figures[i]
		e := d.extent(c.legend(t, i, d, t.mixed), c.st.Height())
		if d.part == 0 {
			e.NewPage, e.Page, e.Row, e.Column = f.NewPage, f.Page, f.Row, f.Column
		}
		t.extents = append(t.extents, e)
	}
}
