package sheet

import (
	"context"
	"fmt"
	"math"
	"slices"

	"boltplate/drawing"
)

// A Source is what a figure shows: a fastener, a joint, a table, a text.
type Source interface {
	// Draw returns a drawing in millimetres of the part, arranged for the given
	// style, whose Scale is that of the figure on the sheet. Where there is room
	// the figures of a row stand with their x axes at one height.
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
	NewPage bool    // it begins a page
	// References are the item references of its parts.
	References []Reference
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
	Pages   int
	Title   Title
	Notes   []string // general notes, numbered, on the first page
	Parts   []Part   // the parts list, on the first page
	Figures []Figure // in reading order
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
// *FigureError, a *FitError, that of ctx, or says that the notes are too long.
func (p Plate) Compose(ctx context.Context) ([]*drawing.Drawing, error) {
	c := newComposer(ctx, &p)
	if err := c.checkTitle(); err != nil {
		return nil, err
	}
	if taken, has := c.corner(0), p.Format.Space().Dy(); taken > has-gap {
		return nil, fmt.Errorf("notes, parts list and title block are %s mm high, and %s has room for %s; use a larger sheet or fewer of them",
			drawing.FormatValue(taken, false), p.Format, drawing.FormatValue(has-gap, false))
	}
	l, fits, err := c.layout()
	if err != nil {
		return nil, err
	}
	if !fits {
		return nil, c.noRoom(l)
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
	main    float64       // scale of the title block, at the scale that is being tried
}

func newComposer(ctx context.Context, p *Plate) *composer {
	c := &composer{Plate: p, ctx: ctx, most: max(p.Pages, 1), st: p.Format.Style()}
	if p.Style.Group != 0 {
		c.st.Group = p.Style.Group
	}
	if p.Style.TextHeight != 0 {
		c.st.TextHeight = p.Style.TextHeight
	}
	c.st.Labels, c.st.DecimalComma = p.Style.Labels, p.Style.DecimalComma
	c.number()
	return c
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

// mainScale returns the scale of the title block: that of most figures. Others
// stand at their figures (ISO 5455).
func (c *composer) mainScale(scale float64) float64 {
	count := map[float64]int{}
	best := 0.0
	for i := range c.Figures {
		f := &c.Figures[i]
		if paperSized(f.Source) {
			continue
		}
		k := f.Scale
		if k == 0 {
			k = scale
		}
		if count[k]++; best == 0 || count[k] > count[best] {
			best = k
		}
	}
	if best == 0 {
		return scale
	}
	return best
}

// paperSized reports whether a source has no scale.
func paperSized(s Source) bool {
	switch s.(type) {
	case Table, Paragraph:
		return true
	}
	return false
}

// A drawn figure is one at its scale, with its extent and its caption.
type drawn struct {
	drawing *drawing.Drawing
	scale   float64
	box     drawing.Rect   // mm on paper, about the origin of the drawing
	marks   []drawing.Item // item references, mm on paper about the origin of the drawing
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
	c.mark(&d, f.References)
	d.extent = extent{width: d.box.Dx(), up: d.box.Max.Y, down: -d.box.Min.Y, newPage: f.NewPage}
	if c.numbers[i] > 0 {
		h := c.st.Height()
		text := fmt.Sprintf("Fig."+noBreak+"%d"+noBreak+" %s", c.numbers[i], f.Caption)
		if !paperSized(f.Source) && d.scale != c.main {
			text += " (" + ScaleName(d.scale) + ")"
		}
		d.caption = balanced(text, h, max(d.box.Dx(), captionWidth*h))
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
	centred bool // figures stand with their middles, not their axes, at one height
}

// extents returns what the figures need with their axes at one height, or with
// their middles, which takes less room.
func (l *layout) extents(centred bool) []extent {
	es := make([]extent, len(l.figures))
	for i := range l.figures {
		es[i] = l.figures[i].extent
		if centred {
			half := (es[i].up + es[i].down) / 2
			es[i].up, es[i].down = half, half
		}
	}
	return es
}

// pack places the figures and reports whether all have room. Axes are at one
// height unless more figures have room otherwise, or all on fewer pages.
func (l *layout) pack(rooms func(int) room, most int) bool {
	l.centred = false
	l.places, l.pages = pack(l.extents(false), rooms, most)
	places, pages := pack(l.extents(true), rooms, most)
	if len(places) > len(l.places) || len(places) == len(l.places) && pages < l.pages {
		l.centred, l.places, l.pages = true, places, pages
	}
	return len(l.places) == len(l.figures)
}

// offset returns where the point of a figure is that goes to its place.
func (l *layout) offset(i int) drawing.Point {
	m := l.figures[i].box.Mid()
	if !l.centred {
		m.Y = 0
	}
	return m
}

// drawAll draws all figures at a scale.
func (c *composer) drawAll(scale float64) (*layout, error) {
	l := &layout{scale: scale}
	c.main = c.mainScale(scale)
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

// rooms returns the room on a page.
func (c *composer) rooms(page int) room {
	s := c.Format.Space()
	return room{s.Dx(), s.Dy(), TitleWidth, c.corner(page)}
}

// layout chooses the scale and places the figures, and reports whether they all
// have a place.
func (c *composer) layout() (l *layout, fits bool, err error) {
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
		if l, err = c.drawAll(k); err != nil {
			return nil, false, err
		}
		if l.pack(c.rooms, c.most) {
			return l, true, nil
		}
		last = l
	}
	return last, false, nil
}

// At a scale that is chosen automatically the views of the largest figure are at
// least readable across, and those of the smallest legible, mm on paper: below
// that dimensions take more room than what they belong to.
const (
	readable = 25.0
	legible  = 12.0
)

// tooSmall reports whether a scale makes figures too small, by what is known
// from another one.
func (c *composer) tooSmall(known *layout, scale float64) bool {
	if known == nil || c.Scale != 0 {
		return false
	}
	largest, smallest := 0.0, math.Inf(1)
	for i := range known.figures {
		if c.Figures[i].Scale != 0 || paperSized(c.Figures[i].Source) {
			continue
		}
		size := 0.0
		for _, p := range known.figures[i].drawing.Views {
			o := solid(p.View)
			size = max(size, o.Dx(), o.Dy())
		}
		largest, smallest = max(largest, size), min(smallest, size)
	}
	return largest > 0 && (largest*scale < readable || smallest*scale < legible)
}

// tooLarge reports whether a figure cannot fit at a scale by what is known of
// it from another one: its views grow with the scale, what stands about them
// does not.
func (c *composer) tooLarge(known *layout, scale float64) bool {
	if known == nil {
		return false
	}
	s := c.Format.Space()
	for i := range known.figures {
		if c.Figures[i].Scale != 0 || paperSized(c.Figures[i].Source) {
			continue
		}
		for _, p := range known.figures[i].drawing.Views {
			if o := solid(p.View); o.Dx()*scale > s.Dx() || o.Dy()*scale > s.Dy() {
				return true
			}
		}
	}
	return false
}

// solid returns the extent of a view without its centre lines, whose ends are
// millimetres on paper.
func solid(v drawing.View) drawing.Rect {
	v.Items = slices.DeleteFunc(slices.Clone(v.Items), func(it drawing.Item) bool { return it.Role == drawing.RoleCentre })
	return v.Outline()
}

// noRoom says which figures do not fit, and what would do.
func (c *composer) noRoom(l *layout) error {
	e := &FitError{Format: c.Format, Scale: l.scale, Pages: c.most, Auto: c.Scale == 0}
	first := len(l.places)
	for i := first; i < len(l.figures); i++ {
		e.Figures = append(e.Figures, c.name(i))
	}
	if alone, _ := pack(l.extents(true)[first:first+1], c.rooms, 1); len(alone) == 0 {
		e.Alone = true
		e.Figures = e.Figures[:1]
		if f := &c.Figures[first]; f.Scale != 0 {
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
	return e
}

// with returns the layout of the plate with something changed, and whether all
// has room then.
func (c *composer) with(change func(*Plate)) (*layout, bool) {
	p := *c.Plate
	p.Progress = nil
	change(&p)
	l, fits, err := newComposer(c.ctx, &p).layout()
	return l, fits && err == nil
}
