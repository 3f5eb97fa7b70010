package sheet

import (
	"cmp"
	"math"
	"slices"

	"boltplate/drawing"
)

// Compact draws a figure of several blocks by itself, without a sheet: its
// drawing with item references and findings, the parts list and the other blocks
// beside it or below it, whichever makes the better rectangle. The drawing is
// in millimetres of the part. Sources of content have it for their Draw.
func Compact(s ContentSource, st drawing.Style) (*drawing.Drawing, error) {
	c, err := content(s, st)
	if err != nil {
		return nil, err
	}
	paper := st
	paper.Scale = 1
	one := composer{Plate: &Plate{}, st: paper}
	c = one.exercise(&Figure{}, c)
	k := st.PaperScale()
	d := &drawn{content: c, scale: k, main: drawing.EmptyRect()}
	one.aim(d, st)
	r := register{}
	refs := r.name(d)
	set := setter{main: d.main, gap: blockGap * paper.Height(), between: betweenGap * paper.Height()}
	for _, v := range d.loose {
		set.forms = append(set.forms, []blockForm{v})
	}
	if len(r.items) > 0 {
		t := r.table()
		t.Upward, t.Widths = false, nil
		set.forms = append(set.forms, t.forms(paper, 1e6)[:1]) // no page makes it narrow
	}
	for _, b := range c.Blocks {
		set.forms = append(set.forms, b.forms(paper, 1e6))
	}
	stances := set.stances(drawing.Pt(math.Inf(1), math.Inf(1)))
	best := slices.MinFunc(stances, func(a, b stance) int { return cmp.Compare(a.side(), b.side()) })
	out := &drawing.Drawing{Style: st}
	if c.Drawing != nil {
		out.Views, out.Items, out.Parts = slices.Clone(d.views), slices.Clone(c.Drawing.Items), c.Drawing.Parts
	}
	add := func(name string, items []drawing.Item) {
		if len(items) > 0 {
			out.Views = append(out.Views, drawing.Placed{View: drawing.View{Name: name, Items: items}, Scale: st.Part(1)})
		}
	}
	add("item references", d.markItems(paper, refs))
	v := canvas{st: paper}
	for _, b := range best.blocks {
		if l := b.view; l != nil {
			one := l.Placed
			one.At = one.At.Add(drawing.Pt(b.x-l.box.Min.X, b.y-l.box.Max.Y).Mul(1 / k))
			out.Views = append(out.Views, one)
			continue
		}
		b.draw(&v, b.x, b.y)
	}
	add("text", v.items)
	return out, nil
}

// crowding is what a penalty counts where there is no page to be filled.
const crowding = 8.0

// side returns the longer side of the sheet of the main series (ISO 216) that a
// stance fills, more for one that is not pleasant.
func (st *stance) side() float64 {
	return max(st.box.Dx(), st.box.Dy()*math.Sqrt2) * (1 + crowding*st.penalty)
}

// Letters returns the letters that the dimensions of a drawing stand for, each
// once, in the order of the drawing.
func Letters(d *drawing.Drawing) []string {
	var out []string
	for _, v := range d.Views {
		for _, it := range v.View.Items {
			drawing.Relabel(it.Shape, func(l drawing.Label) drawing.Label {
				if s := l.Quantity.Letter; s != "" && !slices.Contains(out, s) {
					out = append(out, s)
				}
				return l
			})
		}
	}
	return out
}
