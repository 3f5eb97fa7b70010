package sheet

import (
	"slices"

	"boltplate/drawing"
)

// A Block is a part of a figure that stands beside its views or below them: a
// Table, a Paragraph or Notes. Its size is one on paper at every scale, and it
// has several ways to stand, of which the sheet takes the one that suits the
// page.
type Block interface {
	// forms returns the ways to stand, the usual one first, none wider than most
	// where it can help it.
	forms(st drawing.Style, most float64) []blockForm
	// check reports what no sheet can show.
	check() error
}

// A blockForm is one way for a block to stand: its size on paper, and what draws
// it with its upper left corner at x, y. A view that stands out of projection is
// a block as well: it has no draw.
type blockForm struct {
	width, height float64
	penalty       float64 // for what is not its usual form, in parts of a score of 1
	draw          func(c *canvas, x, y float64)
	view          *looseView
}

// A looseView is a view that may stand anywhere beside or below the others: the
// pictorial one.
type looseView struct {
	drawing.Placed
	box drawing.Rect // mm on paper about the origin of the drawing
}

// pareto leaves out the forms that another one beats in width and height.
func pareto(forms []blockForm) []blockForm {
	var out []blockForm
	for i, f := range forms {
		beaten := slices.ContainsFunc(forms[:i], func(o blockForm) bool { return o.width <= f.width+slack && o.height <= f.height+slack })
		beaten = beaten || slices.ContainsFunc(forms[i+1:], func(o blockForm) bool {
			return o.width <= f.width+slack && o.height <= f.height+slack && (o.width < f.width-slack || o.height < f.height-slack)
		})
		if !beaten {
			out = append(out, f)
		}
	}
	return out
}

// drawBlock returns a block by itself as a drawing of a part that will be shown
// at the scale of st, its middle on the axis.
func drawBlock(b Block, st drawing.Style) (*drawing.Drawing, error) {
	if err := b.check(); err != nil {
		return nil, err
	}
	f := b.forms(st, 1e6)[0]
	c := canvas{st: st}
	f.draw(&c, 0, f.height/2)
	v := drawing.View{Items: c.items}
	return &drawing.Drawing{Style: st, Views: []drawing.Placed{{View: v, Scale: st.Part(1)}}}, nil
}

// A Paragraph is text, broken into lines of Width mm on paper; 0 lets the sheet
// choose. Each of Lines starts a new line. It is a Source and a Block.
type Paragraph struct {
	Lines []string
	Width float64
}

// The widths of text that a sheet may choose, in heights of text: the usual one
// of some 50 letters first.
func textWidths() []float64 { return []float64{30, 26, 22, 19, 16, 36, 44, 55, 75} }

// Draw returns the text as a figure: it has the same size on paper at every
// scale.
func (p Paragraph) Draw(st drawing.Style) (*drawing.Drawing, error) { return drawBlock(p, st) }

func (p Paragraph) forms(st drawing.Style, most float64) []blockForm {
	entries := make([]Entry, len(p.Lines))
	for i, l := range p.Lines {
		entries[i].Text = l
	}
	return Notes{Entries: entries, Width: p.Width}.forms(st, most)
}

func (p Paragraph) check() error { return Notes{Width: p.Width}.check() }

// Notes are texts one below the other under a title, each after its label: the
// findings F1 and F2, notes 1 and 2. Lines that go on stand under the text, not
// under the label. It is a Source and a Block.
type Notes struct {
	Title   string // "" is none
	Entries []Entry
	Width   float64 // mm on paper; 0 lets the sheet choose
}

// An Entry is one text of Notes.
type Entry struct{ Label, Text string }

// Draw returns the notes as a figure: they have the same size on paper at every
// scale.
func (n Notes) Draw(st drawing.Style) (*drawing.Drawing, error) { return drawBlock(n, st) }

func (n Notes) check() error { return checkWidth("Width", n.Width) }

func (n Notes) forms(st drawing.Style, most float64) []blockForm {
	h := st.Height()
	if n.Width > 0 {
		return []blockForm{n.form(h, n.Width)}
	}
	var all []blockForm
	for _, w := range textWidths() {
		all = append(all, n.form(h, min(w*h, most)))
	}
	return pareto(all)
}

// A noteLine is a line of notes with the label before it.
type noteLine struct{ label, text string }

// indent returns how far texts stand to the right of their labels.
func (n Notes) indent(h float64) float64 {
	w := 0.0
	for _, e := range n.Entries {
		w = max(w, drawing.TextWidth(e.Label, h))
	}
	if w > 0 {
		w += drawing.TextWidth("  ", h)
	}
	return w
}

func (n Notes) lines(h, width float64) []noteLine {
	var lines []noteLine
	for _, l := range Wrap(n.Title, h, width) {
		lines = append(lines, noteLine{l, ""})
	}
	indent := n.indent(h)
	for _, e := range n.Entries {
		label := e.Label
		for _, l := range Wrap(e.Text, h, width-indent) {
			lines = append(lines, noteLine{label, l})
			label = ""
		}
	}
	return lines
}

func (n Notes) form(h, width float64) blockForm {
	lines, indent := n.lines(h, width), n.indent(h)
	f := blockForm{height: block(len(lines), h)}
	for _, l := range lines {
		f.width = max(f.width, drawing.TextWidth(l.label, h))
		if l.text != "" {
			f.width = max(f.width, indent+drawing.TextWidth(l.text, h))
		}
	}
	f.draw = func(c *canvas, x, y float64) {
		for i, l := range lines {
			base := y - h*(1+lineSpacing*float64(i))
			c.text(x, base, h, drawing.AlignLeft, l.label)
			c.text(x+indent, base, h, drawing.AlignLeft, l.text)
		}
	}
	return f
}
