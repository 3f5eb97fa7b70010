package sheet

import (
	"strconv"

	"boltplate/drawing"
	"boltplate/drawing/sheet/internal/layout"
)

// generalNotes returns the general notes.
func (c *composer) generalNotes() Notes {
	n := Notes{Title: "General notes", Width: TitleWidth - 2*c.st.Height()}
	for i, text := range c.Notes {
		n.Entries = append(n.Entries, Entry{strconv.Itoa(i + 1), text})
	}
	return n
}

// notesHeight returns how high the general notes are above what is below them.
func (c *composer) notesHeight() float64 {
	if len(c.Notes) == 0 {
		return 0
	}
	return c.generalNotes().forms(c.st, 0)[0].height + 2*c.st.Height()
}

// titleHeight returns the height of the title block.
func (c *composer) titleHeight() float64 {
	if c.Student {
		return titleHeight + studentHeight
	}
	return titleHeight
}

// cornerBase returns how high the lower right corner of a page is taken without
// the parts list.
func (c *composer) cornerBase(page int) float64 {
	if page == 0 {
		return c.titleHeight() + c.notesHeight()
	}
	return c.titleHeight()
}

// corner returns how high the lower right corner of a page is taken: title
// block, above it the parts list, above that the notes.
func (c *composer) corner(t *trial, page int) float64 {
	h := c.cornerBase(page)
	if page < len(t.lists) {
		h += t.lists[page].height
	}
	return h
}

// sheets draws the pages of a trial.
func (c *composer) sheets(t *trial) ([]Sheet, error) {
	on := make([][]int, t.pages) // figures by page
	for i, p := range t.places {
		on[p.Page] = append(on[p.Page], i)
	}
	out := make([]Sheet, t.pages)
	for page := range out {
		if err := c.ctx.Err(); err != nil {
			return nil, err
		}
		s := &out[page]
		var figures []*drawn
		for _, i := range on[page] {
			figures = append(figures, t.figures[i])
		}
		if s.Scale = mostOf(figures); s.Scale == 0 {
			s.Scale = mostOf(t.figures)
		}
		if s.Scale == 0 {
			s.Scale = c.Scale
		}
		var err error
		if s.Drawing, err = c.blank(t, page, s.Scale); err != nil {
			return nil, err
		}
		s.Furniture = len(s.Drawing.Items)
		var boxes []drawing.Rect
		for _, i := range on[page] {
			s.Figures = append(s.Figures, c.put(s, t, i))
			boxes = append(boxes, moved(s.Figures[len(s.Figures)-1].Box, c.Format.Space().Min.Mul(-1)))
		}
		s.Balance = Balance(layout.Measure(boxes, c.room(t, page)))
	}
	return out, nil
}

func moved(r drawing.Rect, d drawing.Point) drawing.Rect {
	return drawing.Rect{Min: r.Min.Add(d), Max: r.Max.Add(d)}
}

// blank returns a page with all but its figures.
func (c *composer) blank(t *trial, page int, scale float64) (*drawing.Drawing, error) {
	v := canvas{st: c.st}
	s := c.Format.Space()
	x, y := s.Max.X-TitleWidth, s.Min.Y
	corner := c.corner(t, page)
	v.frame(c.Format, drawing.Rect{Min: drawing.Pt(x, y), Max: drawing.Pt(s.Max.X, y+corner)})
	name := ""
	if scale != 0 {
		name = ScaleName(scale)
	}
	if err := v.titleBlock(c.Plate, x, y, page, t.pages, name); err != nil {
		return nil, err
	}
	if page < len(t.lists) {
		l := &t.lists[page]
		l.draw(&v, x, y+c.titleHeight()+l.height, l.rows)
	}
	if page == 0 && len(c.Notes) > 0 {
		h := c.st.Height()
		c.generalNotes().forms(c.st, 0)[0].draw(&v, x+h, y+corner-h)
	}
	st := c.st
	if st.Labels == drawing.NoLabels {
		st.Labels = drawing.Numbers // figures without labels have no dimensions; one may have its own
	}
	return &drawing.Drawing{Style: st, Items: v.items}, nil
}

// put stands a figure on a page, with its caption.
func (c *composer) put(s *Sheet, t *trial, i int) Standing {
	d, p := t.figures[i], t.places[i]
	stance := &d.stances[p.Stance]
	mid := c.Format.Space().Min.Add(p.At)
	at := mid.Sub(drawing.Pt(stance.box.Mid().X, 0))
	page := s.Drawing
	if d.content.Drawing != nil && d.part == 0 {
		putViews(page, d, d.scale, at)
	}
	if d.part == 0 && len(d.marks) > 0 {
		v := drawing.View{Name: "item references", Items: d.markItems(c.st, t.refs[t.index[i]])}
		page.Views = append(page.Views, drawing.Placed{View: v, At: at})
	}
	for _, b := range stance.blocks {
		if l := b.view; l != nil {
			v := l.Placed
			v.At = v.At.Mul(d.scale).Add(drawing.Pt(b.x-l.box.Min.X, b.y-l.box.Max.Y)).Add(at)
			v.Scale = tidy(d.scale * orOne(v.Scale))
			page.Views = append(page.Views, v)
			continue
		}
		v := canvas{st: c.st}
		b.draw(&v, b.x, b.y)
		page.Views = append(page.Views, drawing.Placed{View: drawing.View{Name: "text", Items: v.items}, At: at})
	}
	out := Standing{Index: t.index[i], Number: t.numbers[t.index[i]], Scale: d.scale, At: at, Box: moved(stance.box, at)}
	return c.caption(s, t, i, mid.X, c.Format.Space().Min.Y+p.Caption, out)
}

// caption writes the caption of a figure below the level y. Its scale stands in
// it where it is not that of the title block.
func (c *composer) caption(s *Sheet, t *trial, i int, mid, y float64, out Standing) Standing {
	d := t.figures[i]
	h := c.st.Height()
	room := t.extents[i].Stances[t.places[i].Stance].Width
	lines := balanced(c.legend(t, t.index[i], d, d.scale != s.Scale), h, room)
	y -= captionGap * h
	for j, line := range lines {
		text := drawing.Text{At: drawing.Pt(mid, y-h*(1+lineSpacing*float64(j))), Height: h, Align: drawing.AlignCentre, Value: line}
		s.Drawing.Items = append(s.Drawing.Items, drawing.Item{Role: drawing.RoleText, Shape: text})
	}
	if len(lines) > 0 {
		w := widest(lines, h)
		out.Box = out.Box.Union(drawing.Rect{Min: drawing.Pt(mid-w/2, y-block(len(lines), h)), Max: drawing.Pt(mid+w/2, y)})
	}
	return out
}

// putViews stands the drawing of a figure on a page, without its loose views.
func putViews(page *drawing.Drawing, f *drawn, k float64, at drawing.Point) {
	move := func(p drawing.Point) drawing.Point { return at.Add(p.Mul(k)) }
	d := f.content.Drawing
	for _, v := range f.views {
		v.At, v.Scale = move(v.At), tidy(k*orOne(v.Scale))
		page.Views = append(page.Views, v)
	}
	if len(d.Items) > 0 {
		page.Views = append(page.Views, drawing.Placed{View: drawing.View{Name: "notes", Items: d.Items}, At: at, Scale: k})
	}
	for _, p := range d.Parts {
		p.At = move(p.At)
		as := make([]drawing.Attribute, len(p.Attributes))
		for i, a := range p.Attributes {
			a.Text.At = move(a.Text.At)
			as[i] = a
		}
		p.Attributes = as
		page.Parts = append(page.Parts, p)
	}
}

// orOne returns the scale of a view, 0 of which means 1.
func orOne(k float64) float64 {
	if k == 0 {
		return 1
	}
	return k
}
