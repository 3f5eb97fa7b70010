package sheet

import (
	"context"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/thread"
)

// numbers that a program may hand over by mistake.
func wildNumber(t *rapid.T, label string) float64 {
	return rapid.SampledFrom([]float64{0, 1, 3.5, 50, -1, 1e-308, 1e308, 1e9, math.NaN(), math.Inf(1), math.Inf(-1)}).Draw(t, label)
}

func wildText(t *rapid.T, label string) string {
	return rapid.SampledFrom([]string{"", "Bolt", "\n", " ", "\x00", "\u202e", "日本", strings.Repeat("word ", 300), strings.Repeat("x", 20_000)}).Draw(t, label)
}

func wildDrawing(t *rapid.T) *drawing.Drawing {
	if rapid.IntRange(0, 9).Draw(t, "no drawing") == 0 {
		return nil
	}
	p := func() drawing.Point { return drawing.Pt(wildNumber(t, "x"), wildNumber(t, "y")) }
	shapes := []drawing.Shape{
		nil, drawing.Line{From: p(), To: p()}, drawing.Circle{Center: p(), Radius: wildNumber(t, "radius")},
		drawing.Text{At: p(), Height: wildNumber(t, "height"), Value: wildText(t, "value")},
		drawing.Polyline{}, drawing.Hatch{Loops: [][]drawing.Vertex{nil, {{Point: p()}}}},
		drawing.Linear{From: p(), To: p(), Placed: true, At: wildNumber(t, "at")}, drawing.Leader{Tip: p(), Shelf: drawing.Shelf{Placed: true, Knee: p()}},
	}
	var items []drawing.Item
	for range rapid.IntRange(0, 3).Draw(t, "items") {
		items = append(items, drawing.Item{Role: drawing.Role(rapid.IntRange(0, 12).Draw(t, "role")), Shape: rapid.SampledFrom(shapes).Draw(t, "shape")})
	}
	return &drawing.Drawing{Items: items, Views: []drawing.Placed{{
		View: drawing.View{Items: items, Direction: drawing.Direction(rapid.IntRange(0, 6).Draw(t, "direction"))}, At: p(), Scale: wildNumber(t, "view scale"),
	}}}
}

// wildContent is a ContentSource of anything.
type wildContent struct{ c *Content }

func (w wildContent) Draw(st drawing.Style) (*drawing.Drawing, error) { return Compact(w, st) }
func (w wildContent) Content(drawing.Style) (*Content, error)         { return w.c, nil }
func wildBlock(t *rapid.T) Block {
	switch rapid.IntRange(0, 4).Draw(t, "block") {
	case 0:
		return nil
	case 1:
		return Paragraph{Lines: []string{wildText(t, "line")}, Width: wildNumber(t, "width")}
	case 2:
		return Notes{Title: wildText(t, "title"), Entries: []Entry{{wildText(t, "label"), wildText(t, "text")}}, Width: wildNumber(t, "width")}
	}
	table := Table{Widths: []float64{wildNumber(t, "width")}, Answer: []bool{true}, Right: []bool{true}}
	for range rapid.IntRange(0, 2).Draw(t, "headings") {
		table.Headings = append(table.Headings, wildText(t, "heading"))
	}
	for range rapid.SampledFrom([]int{0, 1, 3, 900}).Draw(t, "rows") {
		table.Rows = append(table.Rows, rapid.SampledFrom([][]string{nil, {}, {"a"}, {"a", "", "c", "d"}}).Draw(t, "row"))
	}
	return table
}

func wildSource(t *rapid.T) Source {
	switch rapid.IntRange(0, 4).Draw(t, "source") {
	case 0:
		return nil
	case 1:
		if b, ok := wildBlock(t).(Source); ok {
			return b
		}
		return nil
	case 2:
		return fastener.Figure{Fastener: fastener.HexNut{Thread: thread.MustParse("M8")}}
	case 3:
		d := wildDrawing(t)
		return SourceFunc(func(drawing.Style) (*drawing.Drawing, error) { return d, nil })
	}
	if rapid.IntRange(0, 9).Draw(t, "no content") == 0 {
		return wildContent{}
	}
	c := &Content{Drawing: wildDrawing(t), Given: []string{wildText(t, "given")}, Ask: wildText(t, "ask")}
	for range rapid.IntRange(0, 2).Draw(t, "parts") {
		c.Components = append(c.Components, Component{Mark: wildText(t, "mark"), Quantity: rapid.IntRange(-1, 3).Draw(t, "quantity"), Designation: wildText(t, "designation"),
			Material: wildText(t, "material"), At: []drawing.Point{{X: wildNumber(t, "x"), Y: wildNumber(t, "y")}}})
		c.Findings = append(c.Findings, Finding{Label: "F1", At: drawing.Pt(wildNumber(t, "x"), wildNumber(t, "y")), Text: wildText(t, "finding")})
		c.Blocks = append(c.Blocks, wildBlock(t))
		c.Answers = append(c.Answers, wildBlock(t))
	}
	return wildContent{c}
}

// TestWildPlates: whatever the fields of a plate hold, composing ends, with
// sheets or with an error, and what is composed has finite bounds.
func TestWildPlates(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := Plate{
			Format: Format{Size(rapid.IntRange(0, 6).Draw(t, "size")), Orientation(rapid.IntRange(0, 4).Draw(t, "orientation"))},
			Pages:  rapid.SampledFrom([]int{0, 1, 2, -1, AsNeeded, AsNeeded + 1}).Draw(t, "pages"),
			Notes:  []string{wildText(t, "note")}, Title: Title{Title: wildText(t, "title"), Owner: wildText(t, "owner")},
			Exercise: Exercise(rapid.IntRange(0, 3).Draw(t, "exercise")), QuestionLabels: drawing.Labels(rapid.IntRange(0, 5).Draw(t, "question")),
			Grouped: rapid.Bool().Draw(t, "grouped"), Student: rapid.Bool().Draw(t, "student"),
		}
		if rapid.IntRange(0, 3).Draw(t, "wild style") == 0 {
			p.Scale = wildNumber(t, "scale")
			p.Style = drawing.Style{Scale: wildNumber(t, "style scale"), Group: wildNumber(t, "group"), TextHeight: wildNumber(t, "text"), Labels: drawing.Labels(rapid.IntRange(0, 5).Draw(t, "labels"))}
		}
		for range rapid.IntRange(0, 4).Draw(t, "figures") {
			f := Figure{Caption: wildText(t, "caption"), Source: wildSource(t), Kind: wildText(t, "kind")}
			if rapid.IntRange(0, 4).Draw(t, "wild figure") == 0 {
				f.Scale = wildNumber(t, "scale")
				f.Page, f.Row, f.Column = rapid.IntRange(-1, 3).Draw(t, "page"), rapid.IntRange(-1, 3).Draw(t, "row"), rapid.IntRange(-1, 3).Draw(t, "column")
			}
			p.Figures = append(p.Figures, f)
		}
		sheets, err := p.Sheets(context.Background())
		for _, s := range sheets {
			b := s.Drawing.Bounds()
			require.False(t, math.IsNaN(b.Dx()) || math.IsInf(b.Dx(), 0) || math.IsNaN(b.Dy()) || math.IsInf(b.Dy(), 0))
		}
		require.Equal(t, err == nil, len(sheets) > 0)
	})
}

// A context that is cancelled after it was asked a number of times.
type countdown struct {
	context.Context
	left int
}

func (c *countdown) Err() error {
	if c.left--; c.left < 0 {
		return context.Canceled
	}
	return nil
}

// TestCancelled: wherever composing is when its context ends, it ends with that.
func TestCancelled(t *testing.T) {
	p := goldenPlate()
	p.Scale, p.Pages = 0, 2
	full := p
	for range 3 {
		full.Figures = append(full.Figures, full.Figures...)
	}
	for _, plate := range []Plate{p, full} {
		asked := 0
		for n := 0; ; n++ {
			ctx := &countdown{context.Background(), n}
			_, err := plate.Sheets(ctx)
			if ctx.left >= 0 {
				break
			}
			asked++
			require.ErrorIs(t, err, context.Canceled, "after %d", n)
			if n > 40 {
				n += n / 3
			}
		}
		assert.Greater(t, asked, 10)
	}
}

// What is wrong is said with the field or the figure.
func TestWrongValues(t *testing.T) {
	nut := fastener.Figure{Fastener: fastener.HexNut{Thread: thread.MustParse("M8")}}
	for _, c := range []struct {
		plate Plate
		want  string
	}{
		{Plate{Scale: math.NaN()}, "Scale = NaN: must be from 0.001 to 1000, or 0 for an automatic one"},
		{Plate{Scale: 1e-308}, "Scale = 1e-308: must be"},
		{Plate{Style: drawing.Style{TextHeight: math.NaN()}}, "Style.TextHeight = NaN: must be"},
		{Plate{Style: drawing.Style{Group: math.Inf(1)}}, "Style.Group = +Inf: must be"},
		{Plate{Pages: 1001}, "Pages = 1001: must be from 1 to 1000"},
		{Plate{Pages: -1}, "Pages = -1: must be from 1 to 1000"},
		{Plate{Figures: []Figure{{Caption: "Nothing"}}}, "Fig. 1: has no source; say what it shows"},
		{Plate{Figures: []Figure{{Source: Table{}}}}, "figure 1: the table has neither headings nor cells; give it rows"},
		{Plate{Figures: []Figure{{Source: Table{Rows: [][]string{{}}}}}}, "figure 1: the table has neither headings nor cells; give it rows"},
		{Plate{Figures: []Figure{{Name: "N1", Source: nut, Scale: math.Inf(1)}}}, "N1: Scale = +Inf: must be"},
		{Plate{Figures: []Figure{{Source: nut}, {Source: nut, Row: -1}}}, "figure 2: Row = -1: must be from 1 to 1000, or 0 for where it comes"},
		{Plate{Figures: []Figure{{Source: SourceFunc(func(drawing.Style) (*drawing.Drawing, error) { return nil, nil })}}}, "figure 1: its source returned no drawing and no error"},
		{Plate{Figures: []Figure{{Source: SourceFunc(func(drawing.Style) (*drawing.Drawing, error) {
			return &drawing.Drawing{Items: []drawing.Item{{Shape: drawing.Line{To: drawing.Pt(math.NaN(), 0)}}}}, nil
		})}}}, "figure 1: extent of the drawing: NaN is no place on a drawing; give finite millimetres"},
		{Plate{Figures: []Figure{{Source: nut, Components: []Component{{Designation: "Nut", At: []drawing.Point{{X: math.Inf(1)}}}}}}}, "figure 1: component Nut: +Inf is no place"},
	} {
		_, err := c.plate.Compose(context.Background())
		assert.ErrorContains(t, err, c.want)
	}
	_, err := Plate{Figures: []Figure{{Source: SourceFunc(func(drawing.Style) (*drawing.Drawing, error) { return nil, errors.ErrUnsupported })}}}.Compose(context.Background())
	assert.ErrorIs(t, err, errors.ErrUnsupported)
}

// TestPagesEnd: as many pages as there may be are used, and what does not fit on
// them is advised what is allowed.
func TestPagesEnd(t *testing.T) {
	page := SourceFunc(func(st drawing.Style) (*drawing.Drawing, error) {
		w := st.Part(150)
		return &drawing.Drawing{Style: st, Items: []drawing.Item{{Shape: drawing.Line{From: drawing.Pt(0, -w/2), To: drawing.Pt(w, w/2)}}}}, nil
	})
	p := Plate{Format: Format{Size: A4}, Scale: 1, Pages: AsNeeded}
	for range AsNeeded {
		p.Figures = append(p.Figures, Figure{Source: page})
	}
	sheets, err := p.Sheets(context.Background())
	require.NoError(t, err)
	assert.Len(t, sheets, AsNeeded)

	p.Figures = append(p.Figures, Figure{Source: page})
	_, err = p.Sheets(context.Background())
	var fe *FitError
	require.ErrorAs(t, err, &fe)
	assert.Equal(t, []string{fmt.Sprintf("figure %d", AsNeeded+1)}, fe.Figures)
	for _, a := range fe.Advice {
		assert.NotContains(t, a, "pages")
	}
}
