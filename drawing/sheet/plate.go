package sheet

import (
	"context"
	"fmt"
	"slices"

	"boltplate/drawing"
)

// A Source is what a figure shows: a fastener, a joint, a table, a text.
type Source interface {
	// Draw returns a drawing in millimetres of the part, anywhere in the plane,
	// arranged for the given style, whose Scale is that of the figure on the
	// sheet.
	Draw(st drawing.Style) (*drawing.Drawing, error)
}

// A SourceFunc is a function as a Source.
type SourceFunc func(drawing.Style) (*drawing.Drawing, error)

// Draw calls f.
func (f SourceFunc) Draw(st drawing.Style) (*drawing.Drawing, error) { return f(st) }

// A Figure is one figure of a plate.
type Figure struct {
	Name    string // for messages; "" is its number
	Caption string // under the figure, after its number; "" is none, and then it has no number
	Source  Source
	Scale   float64 // 0 is that of the plate; another stands in the caption
}

// A Plate is the description of one or more sheets. The zero value is an empty
// A3 sheet in first-angle projection.
type Plate struct {
	Format Format
	// Style says how figures are labelled, and may give another line group and
	// height of text than the sheet's own (Format.Style). Its Scale is not read.
	Style      drawing.Style
	ThirdAngle bool // the projection method of the sheet, for its symbol
	// Scale is that of the figures; 0 is the largest standard scale at which all
	// of them fit (ISO 5455), on as many pages as needed not above 1:1.
	Scale float64
	// Pages is how many pages there may be; 0 means 1.
	Pages int
	Title Title
	Notes []string // general notes, numbered, on the first page
	Parts []Part   // the parts list, on the first page
	// Figures stand in reading order. Those of Last stand on a page of their
	// own at the end where there are several pages.
	Figures []Figure
	// Progress, where it is not nil, is called after every figure that has been
	// drawn, with how many have been drawn and how many there are to draw at
	// the scale that is being tried.
	Progress func(done, total int)
}

// AsNeeded is the number of pages for as many as the figures take.
const AsNeeded = 10_000

// A Part is a row of the parts list (ISO 7573).
type Part struct {
	Item        string // its item reference on the drawing
	Quantity    string
	Designation string
	Remark      string
}

// Compose draws the plate, a drawing a page. The error is a *TitleError, a
// *FigureError, a *FitError, or that of ctx.
func (p Plate) Compose(ctx context.Context) ([]*drawing.Drawing, error) {
	c := composer{Plate: &p, ctx: ctx, most: max(p.Pages, 1)}
	c.st = p.Format.Style()
	if p.Style.Group != 0 {
		c.st.Group = p.Style.Group
	}
	if p.Style.TextHeight != 0 {
		c.st.TextHeight = p.Style.TextHeight
	}
	c.st.Labels, c.st.DecimalComma = p.Style.Labels, p.Style.DecimalComma
	if err := c.checkTitle(); err != nil {
		return nil, err
	}
	c.number()
	l, err := c.layout()
	if err != nil {
		return nil, err
	}
	return c.pages(l)
}

// A composer makes the sheets of a plate.
type composer struct {
	*Plate
	ctx     context.Context
	st      drawing.Style // of the sheet
	most    int           // pages
	numbers []int         // of the figures, 0 for none
}

func (c *composer) checkTitle() error {
	t := canvas{st: c.st}
	return t.titleBlock(c.Plate, 0, 0, 0, 1, "1:1")
}

func (c *composer) number() {
	n := 0
	for _, f := range c.Figures {
		if f.Caption == "" {
			c.numbers = append(c.numbers, 0)
			continue
		}
		n++
		c.numbers = append(c.numbers, n)
	}
}

func (c *composer) name(i int) string {
	switch f := &c.Figures[i]; {
	case f.Name != "":
		return f.Name
	case c.numbers[i] > 0:
		return fmt.Sprintf("Fig. %d", c.numbers[i])
	}
	return fmt.Sprintf("figure %d", i+1)
}

// A drawn figure is one at its scale, with its extent and its caption.
type drawn struct {
	drawing *drawing.Drawing
	scale   float64
	box     drawing.Rect // mm on paper, about the origin of the drawing
	caption []string
	extent  extent
}

// captionGap is the distance of a caption from its figure, and captionWidth how
// wide a caption may be that is wider than its figure, in heights of text.
const (
	captionGap   = 1.6
	captionWidth = 24.0
)

// draw draws a figure for a scale of the plate.
func (c *composer) draw(i int, scale float64) (drawn, error) {
	f := &c.Figures[i]
	d := drawn{scale: scale}
	if f.Scale != 0 {
		d.scale = f.Scale
	}
	st := c.st
	st.Scale = d.scale
	var err error
	if d.drawing, err = f.Source.Draw(st); err != nil {
		return d, &FigureError{i, c.name(i), err}
	}
	b := d.drawing.Bounds()
	if b.Empty() {
		b = drawing.Rect{}
	}
	d.box = drawing.Rect{Min: b.Min.Mul(d.scale), Max: b.Max.Mul(d.scale)}
	d.extent = extent{width: d.box.Dx(), figure: d.box.Dy()}
	if c.numbers[i] > 0 {
		h := c.st.Height()
		text := fmt.Sprintf("Fig."+noBreak+"%d"+noBreak+" %s", c.numbers[i], f.Caption)
		if f.Scale != 0 && f.Scale != scale {
			text += " (" + ScaleName(f.Scale) + ")"
		}
		d.caption = wrap(text, h, max(d.box.Dx(), captionWidth*h))
		d.extent.width = max(d.extent.width, widest(d.caption, h))
		d.extent.caption = captionGap*h + block(len(d.caption), h)
	}
	return d, nil
}

// A layout is the figures of a plate at one scale with their places.
type layout struct {
	scale   float64
	figures []drawn
	places  []place
	pages   int
}

func (l *layout) extents() []extent {
	es := make([]extent, len(l.figures))
	for i := range l.figures {
		es[i] = l.figures[i].extent
	}
	return es
}

// drawAll draws all figures at a scale.
func (c *composer) drawAll(scale float64) (*layout, error) {
	l := &layout{scale: scale}
	for i := range c.Figures {
		if err := c.ctx.Err(); err != nil {
			return nil, err
		}
		d, err := c.draw(i, scale)
		if err != nil {
			return nil, err
		}
		l.figures = append(l.figures, d)
		if c.Progress != nil {
			c.Progress(i+1, len(c.Figures))
		}
	}
	return l, nil
}

func (c *composer) rooms(f Format) func(int) room {
	return func(page int) room {
		s := f.Space()
		return room{s.Dx(), s.Dy(), min(TitleWidth, s.Dx()), c.corner(page)}
	}
}

// layout chooses the scale and places the figures.
func (c *composer) layout() (*layout, error) {
	scales := []float64{c.Scale}
	if c.Scale == 0 {
		scales = Scales()
		if c.most >= AsNeeded {
			scales = slices.DeleteFunc(scales, func(k float64) bool { return k > 1 })
		}
	}
	var last *layout
	for i, k := range scales {
		if len(c.Figures) > 0 && i+1 < len(scales) && c.tooLarge(last, k) {
			continue
		}
		if c.tooSmall(last, k) {
			break
		}
		l, err := c.drawAll(k)
		if err != nil {
			return nil, err
		}
		l.places, l.pages = pack(l.extents(), c.rooms(c.Format), c.most)
		if len(l.places) == len(l.figures) {
			return l, nil
		}
		last = l
	}
	return nil, c.noRoom(last)
}

// readable is how large the views of the largest figure are at least at a scale
// that is chosen automatically, mm on paper: below that the dimensions take more
// room than what they belong to.
const readable = 25.0

// tooSmall reports whether a scale makes figures too small, by what is known
// from another one.
func (c *composer) tooSmall(known *layout, scale float64) bool {
	if known == nil || c.Scale != 0 {
		return false
	}
	largest := 0.0
	for i := range known.figures {
		for _, p := range known.figures[i].drawing.Views {
			if o := p.View.Outline(); p.Scale == 0 && !o.Empty() {
				largest = max(largest, o.Dx(), o.Dy())
			}
		}
	}
	return largest > 0 && largest*scale < readable
}

// tooLarge reports whether a figure cannot fit at a scale by what is known of
// it from another one: its views grow with the scale, what stands about them
// does not.
func (c *composer) tooLarge(known *layout, scale float64) bool {
	if known == nil {
		known = &layout{}
	}
	s := c.Format.Space()
	for i := range known.figures {
		d := &known.figures[i]
		if c.Figures[i].Scale != 0 {
			continue
		}
		for _, p := range d.drawing.Views {
			k := scale
			if p.Scale != 0 {
				continue // a table keeps its size
			}
			if o := p.View.Outline(); !o.Empty() && (o.Dx()*k > s.Dx() || o.Dy()*k > s.Dy()) {
				return true
			}
		}
	}
	return false
}

// noRoom says which figures do not fit, and what would do.
func (c *composer) noRoom(l *layout) error {
	e := &FitError{Format: c.Format, Scale: l.scale, Pages: c.most, Auto: c.Scale == 0}
	first := len(l.places)
	for i := first; i < len(l.figures); i++ {
		e.Figures = append(e.Figures, c.name(i))
	}
	if alone, _ := pack(l.extents()[first:first+1], c.rooms(c.Format), 1); len(alone) == 0 {
		e.Alone = true
		e.Figures = e.Figures[:1]
	}
	if c.Scale != 0 {
		for _, k := range Scales() {
			if k >= c.Scale {
				continue
			}
			progress := c.Progress
			c.Progress = nil
			small, err := c.drawAll(k)
			c.Progress = progress
			if err != nil {
				break
			}
			if ps, _ := pack(small.extents(), c.rooms(c.Format), c.most); len(ps) == len(small.figures) {
				e.Advice = append(e.Advice, "scale "+ScaleName(k))
				break
			}
		}
	}
	sizes := Sizes()
	for _, size := range sizes[slices.Index(sizes, c.Format.Size)+1:] {
		larger := Format{Size: size, Orientation: c.Format.Orientation}
		if ps, _ := pack(l.extents(), c.rooms(larger), c.most); len(ps) == len(l.figures) {
			e.Advice = append(e.Advice, "size "+larger.String())
			break
		}
	}
	if !e.Alone {
		if ps, n := pack(l.extents(), c.rooms(c.Format), AsNeeded); len(ps) == len(l.figures) {
			e.Advice = append(e.Advice, fmt.Sprintf("%d pages", n))
		}
	}
	return e
}
