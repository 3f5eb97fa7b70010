package sheet

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/internal/clash"
	"boltplate/thread"
)

// randomFigure returns a fastener of any kind, a table or a text.
func randomFigure(t *rapid.T) Figure {
	f := Figure{Caption: rapid.StringMatching(`[A-Z][a-z]{0,12}( [a-z0-9]{1,14}){0,9}`).Draw(t, "caption")}
	if rapid.IntRange(0, 9).Draw(t, "no caption") == 0 {
		f.Caption = ""
	}
	f.Scale = rapid.SampledFrom([]float64{0, 0, 0, 0.5, 2, AutoScale}).Draw(t, "scale")
	if rapid.Bool().Draw(t, "referenced") {
		f.Components = []Component{{
			Mark:        rapid.SampledFrom([]string{"", "", "12", "HS-01"}).Draw(t, "item"),
			Designation: rapid.StringMatching(`([a-z]{1,9} ){1,9}`).Draw(t, "part"),
			Material:    rapid.SampledFrom([]string{"", "Steel"}).Draw(t, "material"),
		}}
	}
	switch rapid.IntRange(0, 7).Draw(t, "sort") {
	case 0:
		table := Table{Headings: []string{"Letter", "Size", "Value"}, Right: []bool{false, false, true}}
		for i := range rapid.IntRange(0, 6).Draw(t, "rows") {
			table.Rows = append(table.Rows, []string{fmt.Sprint(i), rapid.StringMatching(`([a-z]{1,9} ){1,14}`).Draw(t, "cell"), "12.5"})
		}
		f.Source = table
	case 1:
		f.Source = Paragraph{Lines: []string{rapid.StringMatching(`([a-z]{1,9} ){1,30}`).Draw(t, "text")}, Width: rapid.Float64Range(30, 120).Draw(t, "width")}
	default:
		kinds := fastener.Kinds()
		kind := kinds[rapid.IntRange(0, len(kinds)-1).Draw(t, "kind")]
		d := rapid.SampledFrom([]float64{8, 12, 20}).Draw(t, "d")
		spec := fastener.Spec{Kind: kind.Name, Thread: thread.MustParse(fmt.Sprintf("M%g", d))}
		if kind.Length {
			spec.Length = d * rapid.SampledFrom([]float64{4, 5, 6}).Draw(t, "length")
		}
		part, err := fastener.New(spec)
		if err != nil {
			t.Skip(err)
		}
		views := rapid.SliceOfNDistinct(rapid.SampledFrom(kind.Views), 1, 4, rapid.ID).Draw(t, "views")
		f.Kind = kind.Name
		f.Source = fastener.Figure{Fastener: part, Options: fastener.DrawOptions{Views: views, Options: fastener.Options{Hidden: rapid.Bool().Draw(t, "hidden")}}}
	}
	return f
}

func randomPlate(t *rapid.T) Plate {
	p := Plate{
		Format: Format{rapid.SampledFrom(Sizes()).Draw(t, "size"), rapid.SampledFrom([]Orientation{Usual, Landscape, Portrait}).Draw(t, "orientation")},
		Style:  drawing.Style{Labels: rapid.SampledFrom([]drawing.Labels{drawing.Numbers, drawing.Rules, drawing.Letters, drawing.NoLabels}).Draw(t, "labels")},
		Scale:  rapid.SampledFrom([]float64{0, 0, 1, 0.5}).Draw(t, "plate scale"),
		Pages:  rapid.SampledFrom([]int{0, 2, AsNeeded, AsNeeded}).Draw(t, "pages"),
		Title:  testTitle(),
	}
	p.ThirdAngle = rapid.Bool().Draw(t, "third")
	for range rapid.IntRange(0, 3).Draw(t, "notes") {
		p.Notes = append(p.Notes, rapid.StringMatching(`([a-z]{1,9} ){1,30}`).Draw(t, "note"))
	}
	n := rapid.IntRange(0, 6).Draw(t, "figures")
	if rapid.IntRange(0, 29).Draw(t, "many") == 0 {
		n = rapid.IntRange(7, 40).Draw(t, "many figures")
	}
	for range n {
		f := randomFigure(t)
		f.NewPage = p.Pages > 1 && rapid.IntRange(0, 15).Draw(t, "new page") == 0
		p.Figures = append(p.Figures, f)
	}
	p.Grouped = rapid.IntRange(0, 2).Draw(t, "grouped") == 0
	p.Exercise = rapid.SampledFrom([]Exercise{NoExercise, NoExercise, Question, Answer}).Draw(t, "exercise")
	p.Student = rapid.Bool().Draw(t, "student")
	return p
}

func testTitle() Title {
	return Title{Owner: "Ostlemere Lock Trust, Drawing Office", Title: "Fasteners of the sluice gate", Supplement: "Refit of the lower sluice",
		Number: "OL-SG-0101-00042", Revision: "A", Date: "2026-03-02", Creator: "A. Fairweather", Approved: "J. Penhallow",
		Type: "Practice plate, model answer", Status: "For teaching", Department: "Works", Reference: "The gate foreman", Language: "en"}
}

// TestNothingTouches: on no sheet does a text touch another or a line, and no
// figure, caption, frame or title block overlaps another.
func TestNothingTouches(t *testing.T) {
	fitted := 0
	rapid.Check(t, func(t *rapid.T) {
		p := randomPlate(t)
		sheets, err := p.Sheets(context.Background())
		var fe *FitError
		if err != nil {
			require.ErrorAs(t, err, &fe)
			return
		}
		fitted++
		own := ownClashes(t, &p)
		for i := range sheets {
			d := sheets[i].Drawing
			for _, message := range clash.Find(d) {
				if what, _, _ := strings.Cut(message, " at "); !own[what] {
					t.Errorf("sheet %d: %s", i+1, message)
				}
			}
			assert.Equal(t, p.Format.Trimmed(), d.Bounds(), "sheet %d: all of it within the trimmed sheet", i+1)
		}
		checkSheets(t, &p, sheets)
	})
	t.Logf("%d plates fitted", fitted)
	assert.NotZero(t, fitted)
}

// ownClashes returns what touches within a figure by itself: that is for the
// tests of drawing.Arrange to find, which places the dimensions of a view.
func ownClashes(t *rapid.T, p *Plate) map[string]bool {
	own := map[string]bool{}
	l, err := newComposer(context.Background(), p).layout()
	require.NoError(t, err)
	for _, f := range l.figures {
		if f.content.Drawing == nil {
			continue
		}
		for _, message := range clash.Find(f.content.Drawing) {
			what, _, _ := strings.Cut(message, " at ")
			own[what] = true
		}
	}
	return own
}

// checkSheets compares the places of figures with each other, the frame and what
// stands in the lower right corner, and finds every figure once, in order.
func checkSheets(t *rapid.T, p *Plate, sheets []Sheet) {
	c := newComposer(context.Background(), p)
	l, err := c.layout()
	require.NoError(t, err)
	space := c.Format.Space()
	var order []Standing
	for page, s := range sheets {
		taken := drawing.Rect{Min: drawing.Pt(space.Max.X-TitleWidth, space.Min.Y), Max: drawing.Pt(space.Max.X, space.Min.Y+c.corner(l, page))}
		require.True(t, page == 0 || len(s.Figures) > 0 || page < len(l.lists), "sheet %d is used", page+1)
		for i, f := range s.Figures {
			assert.False(t, p.Figures[f.Index].NewPage && i > 0 && s.Figures[i-1].Index != f.Index, "figure %d begins a page", f.Index)
			if n := len(order); n == 0 || order[n-1].Index != f.Index { // else it goes on
				order = append(order, f)
			}
			near := f.Box.Grown(1) // a millimetre clear
			assert.True(t, near.Min.X > space.Min.X && near.Min.Y > space.Min.Y && near.Max.X < space.Max.X && near.Max.Y < space.Max.Y,
				"sheet %d: %v is outside the frame %v", page+1, f.Box, space)
			assert.False(t, near.Overlaps(taken), "sheet %d: %v reaches over the title block", page+1, f.Box)
			for _, o := range s.Figures[i+1:] {
				assert.False(t, near.Overlaps(o.Box), "sheet %d: %v and %v overlap", page+1, f.Box, o.Box)
				assert.True(t, o.Box.Min.X > f.Box.Max.X || o.Box.Max.Y < f.Box.Min.Y, "sheet %d: %v and %v are in reading order", page+1, f.Box, o.Box)
			}
		}
	}
	checkOrder(t, p, order)
}

// checkOrder: no figure is lost, and they stand in the order in which they are
// given, or those of one scale and kind do between two that begin a page.
func checkOrder(t *rapid.T, p *Plate, order []Standing) {
	require.Len(t, order, len(p.Figures), "no figure is lost")
	number := 0
	for i, a := range order {
		if p.Figures[a.Index].Caption != "" {
			number++
			assert.Equal(t, number, a.Number)
		}
		for _, b := range order[:i] {
			f, o := &p.Figures[a.Index], &p.Figures[b.Index]
			if same := a.Scale == b.Scale && f.Kind == o.Kind; !p.Grouped || same || f.NewPage {
				assert.Less(t, b.Index, a.Index)
			}
		}
	}
}
