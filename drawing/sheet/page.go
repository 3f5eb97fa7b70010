package sheet

import (
	"math"
	"strconv"

	"boltplate/drawing"
)

// partsTable returns the parts list: above the title block it is read from
// below (ISO 7573).
func (c *composer) partsTable() Table {
	t := Table{Headings: []string{"Item", "Quantity", "Designation", "Remark"}, Widths: []float64{16, 26, 90, 48}, Right: []bool{false, true}, Upward: true}
	for _, p := range c.Parts {
		t.Rows = append(t.Rows, []string{p.Item, p.Quantity, p.Designation, p.Remark})
	}
	return t
}

// noteLines returns the general notes, broken into lines.
func (c *composer) noteLines() []string {
	if len(c.Notes) == 0 {
		return nil
	}
	h := c.st.Height()
	lines := []string{"General notes"}
	for i, n := range c.Notes {
		lines = append(lines, wrap(strconv.Itoa(i+1)+noBreak+" "+n, h, TitleWidth-2*h)...)
	}
	return lines
}

// listHeight is the height of text in the parts list, whose width is that of
// the title block on all sheets.
const listHeight = valueHeight

// corner returns how high the lower right corner of a page is taken: title
// block, above it the parts list, above that the notes.
func (c *composer) corner(page int) float64 {
	h := titleHeight
	if page > 0 {
		return h
	}
	if len(c.Parts) > 0 {
		t := c.partsTable()
		_, _, _, high := t.lay(listHeight)
		h += high
	}
	if lines := c.noteLines(); len(lines) > 0 {
		h += block(len(lines), c.st.Height()) + 2*c.st.Height()
	}
	return h
}

// pages draws the sheets of a layout.
func (c *composer) pages(l *layout) ([]*drawing.Drawing, error) {
	n := max(l.pages, 1)
	scale := ""
	if k := c.mainScale(l.scale); len(c.Figures) > 0 || c.Scale != 0 {
		scale = ScaleName(k)
	}
	all := make([]*drawing.Drawing, n)
	for i := range all {
		d, err := c.blank(i, n, scale)
		if err != nil {
			return nil, err
		}
		all[i] = d
	}
	origin := c.Format.Space().Min
	for i := range l.figures {
		f, p := &l.figures[i], l.places[i]
		mid := origin.Add(p.at)
		d := all[p.page]
		put(d, f, mid.Sub(l.offset(i)))
		h := c.st.Height()
		y := origin.Y + p.caption - captionGap*h
		for j, line := range f.caption {
			d.Items = append(d.Items, drawing.Item{Role: drawing.RoleText, Shape: drawing.Text{
				At: drawing.Pt(mid.X, y-h*(1+lineSpacing*float64(j))), Height: h, Align: drawing.AlignCentre, Value: line,
			}})
		}
	}
	return all, nil
}

// blank returns a page with all but its figures.
func (c *composer) blank(page, pages int, scale string) (*drawing.Drawing, error) {
	v := canvas{st: c.st}
	s := c.Format.Space()
	x, y := s.Max.X-TitleWidth, s.Min.Y
	taken := drawing.Rect{Min: drawing.Pt(x, y), Max: drawing.Pt(s.Max.X, y+c.corner(page))}
	v.frame(c.Format, taken)
	if err := v.titleBlock(c.Plate, x, y, page, pages, scale); err != nil {
		return nil, err
	}
	if page == 0 {
		if len(c.Parts) > 0 {
			t := c.partsTable()
			t.draw(&v, x, y+titleHeight, listHeight)
		}
		h := c.st.Height()
		top := s.Min.Y + c.corner(0) - h
		for i, line := range c.noteLines() {
			v.text(x+h, top-h*(1+lineSpacing*float64(i)), h, drawing.AlignLeft, line)
		}
	}
	st := c.st
	if st.Labels == drawing.NoLabels {
		st.Labels = drawing.Numbers // figures without labels have no dimensions; one may have its own
	}
	return &drawing.Drawing{Style: st, Items: v.items}, nil
}

// put stands a figure on a page.
func put(page *drawing.Drawing, f *drawn, at drawing.Point) {
	k := f.scale
	move := func(p drawing.Point) drawing.Point { return at.Add(p.Mul(k)) }
	for _, v := range f.drawing.Views {
		s := 1.0
		if v.Scale != 0 {
			s = v.Scale
		}
		v.At, v.Scale = move(v.At), tidy(k*s)
		page.Views = append(page.Views, v)
	}
	if len(f.drawing.Items) > 0 {
		page.Views = append(page.Views, drawing.Placed{View: drawing.View{Name: "notes", Items: f.drawing.Items}, At: at, Scale: k})
	}
	if len(f.marks) > 0 {
		page.Views = append(page.Views, drawing.Placed{View: drawing.View{Name: "item references", Items: f.marks}, At: at})
	}
	for _, p := range f.drawing.Parts {
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

// tidy takes away what rounding adds to a scale.
func tidy(k float64) float64 {
	if r := math.Round(k*1e6) / 1e6; math.Abs(r-k) < 1e-12 {
		return r
	}
	return k
}
