package sheet

import (
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/thread"
)

// nuts returns n figures of nuts.
func nuts(n int) []Figure {
	var all []Figure
	for range n {
		all = append(all, Figure{Caption: "Nut", Source: fastener.Figure{Fastener: fastener.HexNut{Thread: thread.MustParse("M12")}}})
	}
	return all
}

// Rows, columns and pages that are asked for are those of the sheet.
func TestPlacesAskedFor(t *testing.T) {
	p := Plate{Scale: 1, Pages: 2, Figures: nuts(6)}
	f := p.Figures
	f[0].Row = 1
	f[2].Row = 2
	f[3].Column = 1 // below the one before it
	f[4].Row, f[4].Column = 2, 2
	f[5].Page = 2
	sheets, err := p.Sheets(context.Background())
	require.NoError(t, err)
	require.Len(t, sheets, 2)
	require.Len(t, sheets[0].Figures, 5)
	assert.Equal(t, 5, sheets[1].Figures[0].Index)
	at := func(i int) drawing.Rect { return sheets[0].Figures[i].Box }
	below := func(a, b int) { assert.Less(t, at(b).Max.Y, at(a).Min.Y, "%d is below %d", b, a) }
	right := func(a, b int) { assert.Greater(t, at(b).Min.X, at(a).Max.X, "%d is right of %d", b, a) }
	right(0, 1)
	below(0, 2)
	below(1, 4)
	below(2, 3)
	right(2, 4)
	right(3, 4)

	for _, c := range []struct {
		pages  int
		change func([]Figure)
		want   string
	}{
		{1, func(f []Figure) { f[0].Row, f[1].Row = 2, 1 }, "Fig. 2: row: comes before the row of the figure before it"},
		{1, func(f []Figure) { f[0].Column, f[1].Column = 2, 1 }, "Fig. 2: column: comes before the column"},
		{2, func(f []Figure) { f[0].Page, f[1].Page = 2, 1 }, "Fig. 2: page: 1 comes before the 2"},
		{2, func(f []Figure) { f[1].Page = 3 }, "Fig. 2: page: 3 is more than the 2 that there may be"},
		{2, func(f []Figure) { f[0].Page = 2 }, "Fig. 1: page: 2; the figures before it leave page 1 empty"},
	} {
		p.Pages, p.Figures = c.pages, nuts(3)
		c.change(p.Figures)
		_, err := p.Sheets(context.Background())
		assert.ErrorContains(t, err, c.want)
		var fe *FigureError
		assert.ErrorAs(t, err, &fe)
	}
}

// A long bolt and a thin small nut share a sheet: one of them has a scale of its
// own, which stands under it, and the title block has that of the others.
func TestScalesOfTheirOwn(t *testing.T) {
	bolt := fastener.HexBolt{Thread: thread.MustParse("M30"), Length: 320}
	nut := fastener.HexNut{Thread: thread.MustParse("M8"), Thin: true}
	p := Plate{Figures: []Figure{
		{Caption: "Bolt", Source: fastener.Figure{Fastener: bolt}},
		{Caption: "Nut", Source: fastener.Figure{Fastener: nut}},
		{Caption: "Nut", Source: fastener.Figure{Fastener: nut}},
	}}
	sheets, err := p.Sheets(context.Background())
	require.NoError(t, err)
	require.Len(t, sheets, 1)
	scales := map[float64]bool{}
	for _, f := range sheets[0].Figures {
		scales[f.Scale] = true
		size := 15.0 // across the corners of the nut
		if f.Index == 0 {
			size = 320
		}
		assert.GreaterOrEqual(t, size*f.Scale, legible, "figure %d is legible", f.Index)
	}
	said := map[string]int{}
	for _, it := range sheets[0].Drawing.Items {
		if text, ok := it.Shape.(drawing.Text); ok {
			said[text.Value]++
		}
	}
	if len(scales) > 1 {
		for _, f := range sheets[0].Figures {
			if f.Scale != sheets[0].Scale {
				assert.Equal(t, 1, said["Fig. 1  Bolt ("+ScaleName(f.Scale)+")"]+said["Fig. 2  Nut ("+ScaleName(f.Scale)+")"])
			}
		}
	}

	// A given scale is kept, but for the figure that may have its own.
	p.Scale = 1. / 2
	p.Figures[1].Scale = AutoScale
	sheets, err = p.Sheets(context.Background())
	require.NoError(t, err)
	assert.Equal(t, []float64{0.5, 1, 0.5}, []float64{sheets[0].Figures[0].Scale, sheets[0].Figures[1].Scale, sheets[0].Figures[2].Scale})
	assert.Equal(t, 0.5, sheets[0].Scale)
}

// One list has the components of all figures: equal ones are one item with their
// number, whatever figure they stand in, and each figure points at its own.
func TestOneList(t *testing.T) {
	nut := func(quantity int, remark string) Component {
		return Component{Quantity: quantity, Designation: "Hexagon nut M12", Material: "steel", Remark: remark}
	}
	p := Plate{Scale: 1, Figures: nuts(3)}
	p.Figures[0].Components = []Component{nut(4, "Hinge")}
	p.Figures[1].Components = []Component{nut(2, "Rail"), {Designation: "Washer", At: []drawing.Point{{X: 1, Y: 1}}}}
	p.Figures[2].Components = []Component{{Mark: "1", Designation: "Key"}, nut(0, "Hinge")}
	c := newComposer(context.Background(), &p)
	l, err := c.layout()
	require.NoError(t, err)
	require.True(t, l.fits())
	table := l.register.table()
	assert.Equal(t, []string{"Item", "Quantity", "Designation", "Material", "Remark"}, table.Headings)
	assert.Equal(t, [][]string{
		{"2", "7", "Hexagon nut M12", "steel", "Hinge; Rail"}, // 1 is a mark
		{"3", "1", "Washer", "", ""},
		{"1", "1", "Key", "", ""},
	}, table.Rows)
	assert.Equal(t, [][]string{{"2"}, {"2", "3"}, {"1", "2"}}, l.refs)
	sum := 0.0
	for _, w := range table.Widths {
		sum += w
	}
	assert.InDelta(t, TitleWidth, sum, 1e-9)
}

// A list that is too long for the first page goes on above the title block of
// the next one.
func TestLongList(t *testing.T) {
	p := Plate{Format: Format{Size: A4}, Scale: 1, Pages: AsNeeded, Figures: nuts(3)}
	p.Figures[2].Source = Paragraph{Lines: []string{"Sixty parts."}} // nothing to point at
	for i := range 60 {
		one := &p.Figures[2]
		one.Components = append(one.Components, Component{Mark: string(rune('A'+i/26)) + string(rune('A'+i%26)), Designation: "Part", At: []drawing.Point{{}}})
	}
	sheets, err := p.Sheets(context.Background())
	require.NoError(t, err)
	items := map[string]int{}
	for _, s := range sheets {
		for _, it := range s.Drawing.Items {
			if text, ok := it.Shape.(drawing.Text); ok && text.Height == listHeight && len(text.Value) == 2 {
				items[text.Value]++
			}
		}
	}
	for _, f := range p.Figures {
		for _, c := range f.Components {
			assert.Equal(t, 1, items[c.Mark], c.Mark)
		}
	}
	assert.Greater(t, len(sheets), 1)
}
