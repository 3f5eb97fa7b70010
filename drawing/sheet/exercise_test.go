package sheet

import (
	"bytes"
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boltplate/drawing"
	"boltplate/dxfout"
	"boltplate/rule"
)

// assembly is a source as a joint is one: a drawing with a dimension and a
// leader, components, a finding and blocks. What the answer alone may say holds
// the word SECRET or the numbers 73.5 and 41.25.
type assembly struct{ findings int }

func (a assembly) Draw(st drawing.Style) (*drawing.Drawing, error) { return Compact(a, st) }

func (a assembly) Content(st drawing.Style) (*Content, error) {
	v := drawing.View{Name: "section", Items: []drawing.Item{
		{Shape: drawing.Line{From: drawing.Pt(-30, -20), To: drawing.Pt(30, -20)}},
		{Shape: drawing.Line{From: drawing.Pt(30, -20), To: drawing.Pt(30, 20)}},
		{Shape: drawing.Line{From: drawing.Pt(30, 20), To: drawing.Pt(-30, 20)}},
		{Shape: drawing.Line{From: drawing.Pt(-30, 20), To: drawing.Pt(-30, -20)}},
		{Role: drawing.RoleDimension, Shape: drawing.Linear{From: drawing.Pt(-30, -20), To: drawing.Pt(30, -20), Side: drawing.Below,
			Label: drawing.Label{Quantity: drawing.Quantity{Letter: "L", Name: "length", Value: 73.5, Rule: rule.MustParse("3D")}}}},
		{Role: drawing.RoleDimension, Shape: drawing.Leader{Tip: drawing.Pt(-10, 20), Angle: 120,
			Label: drawing.Label{Quantity: drawing.Quantity{Letter: "Dh", Value: 41.25}, Symbol: drawing.DiameterSymbol}}},
	}}
	c := &Content{
		Drawing: &drawing.Drawing{Style: st, Views: []drawing.Placed{{View: drawing.Arrange(v, st)}}},
		Components: []Component{
			{Designation: "Stud M20", At: []drawing.Point{{X: 20, Y: 12}}},
			{Designation: "Cover", Material: "steel", At: []drawing.Point{{X: 20, Y: 0}}},
			{Designation: "Case", Material: "cast iron", At: []drawing.Point{{X: 20, Y: -12}}},
		},
		Answers: []Block{Paragraph{Lines: []string{"SECRET remark."}}},
		Blocks:  []Block{Paragraph{Lines: []string{"Tighten evenly."}}, Table{Headings: []string{"Size", "Value"}, Rows: [][]string{{"reach", "SECRET"}}, Answer: []bool{false, true}}},
		Given:   []string{"Stud M20, cover of steel 32 mm thick, case of cast iron."},
		Ask:     "What is wrong here?",
	}
	if st.Labels == drawing.Letters && !st.NoKey {
		c.Drawing.Items = append(c.Drawing.Items, drawing.Item{Role: drawing.RoleText, Shape: drawing.Text{At: drawing.Pt(-30, -60), Height: st.Height(), Value: "SECRET: L is 3D"}})
	}
	for i := range a.findings {
		c.Findings = append(c.Findings, Finding{Label: fmt.Sprintf("F%d", i+1), At: drawing.Pt(0, float64(10*i)), Text: "SECRET: the nut never clamps."})
	}
	return c, nil
}

// said returns all texts of a sheet.
func said(s Sheet) string {
	var b strings.Builder
	add := func(items []drawing.Item, st drawing.Style) {
		for _, it := range items {
			if x, ok := drawing.Expand(it.Shape, st); ok {
				if t, shown := x.Text(); shown {
					b.WriteString(t.Value + "\n")
				}
			} else if t, ok := it.Shape.(drawing.Text); ok {
				b.WriteString(t.Value + "\n")
			}
		}
	}
	for _, v := range s.Drawing.Views {
		add(v.View.Items, s.Drawing.Style)
	}
	add(s.Drawing.Items, s.Drawing.Style)
	return b.String()
}

// TestNothingGivenAway: in no question is what only the answer says, in no form
// of the sheet, whatever else it says; in the answer all of it is.
func TestNothingGivenAway(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := Plate{
			Format:         Format{Size: rapid.SampledFrom([]Size{A2, A1}).Draw(t, "size")},
			Scale:          rapid.SampledFrom([]float64{0, 1}).Draw(t, "scale"),
			QuestionLabels: rapid.SampledFrom([]drawing.Labels{drawing.Numbers, drawing.Letters, drawing.Rules}).Draw(t, "question"),
			Style:          drawing.Style{Labels: rapid.SampledFrom([]drawing.Labels{drawing.Numbers, drawing.Letters, drawing.Rules}).Draw(t, "labels")},
		}
		findings := 0
		for range rapid.IntRange(1, 3).Draw(t, "figures") {
			a := assembly{rapid.IntRange(0, 2).Draw(t, "findings")}
			f := Figure{Caption: "Bracket", Source: a}
			if rapid.Bool().Draw(t, "own labels") {
				l := drawing.Numbers
				f.Labels = &l
			}
			findings += a.findings
			p.Figures = append(p.Figures, f)
		}
		p.Exercise = Question
		sheets, err := p.Sheets(context.Background())
		require.NoError(t, err)
		text := said(sheets[0])
		file, err := dxfout.Encoder{}.Append(nil, sheets[0].Drawing)
		require.NoError(t, err)
		for _, secret := range []string{"SECRET", "73.5", "41.25", "F1", "\u00d8"} {
			if secret == "\u00d8" && p.QuestionLabels != drawing.Numbers {
				continue
			}
			require.NotContains(t, text, secret)
			if len(secret) > 3 { // shorter ones are handles as well
				require.False(t, bytes.Contains(file, []byte("\n"+secret)), "%s in the file", secret)
			}
		}
		for _, given := range []string{"Stud M20, cover of steel", "What is wrong here?", "Tighten evenly."} {
			require.Contains(t, strings.ReplaceAll(text, "\n", " "), given)
		}
		require.Equal(t, p.QuestionLabels != drawing.Numbers, strings.Contains(text, "Dh\n"), "it has no rule")

		p.Exercise = Answer
		sheets, err = p.Sheets(context.Background())
		require.NoError(t, err)
		text = said(sheets[0])
		for _, all := range []string{"73.5", "41.25", "SECRET remark."} {
			require.Contains(t, text, all)
		}
		require.Equal(t, findings, strings.Count(text, "SECRET: the nut"))
	})
}

// Blank values leave their lines, and the room that they had.
func TestBlankValues(t *testing.T) {
	c, err := assembly{}.Content(drawing.Style{})
	require.NoError(t, err)
	with, without := c.Drawing, blank(c.Drawing)
	assert.InDelta(t, with.Bounds().Dx(), without.Bounds().Dx(), with.Style.TextWidth(noBreak, 3.5))
	for i, it := range with.Views[0].View.Items {
		a, ok := drawing.Expand(it.Shape, with.Style)
		if !ok {
			continue
		}
		b, _ := drawing.Expand(without.Views[0].View.Items[i].Shape, with.Style)
		assert.Equal(t, len(a.Arrows()), len(b.Arrows()))
		text, _ := b.Text()
		assert.Empty(t, strings.TrimSpace(text.Value))
	}
}

// Compact sets a figure of blocks by itself, with its own list.
func TestCompact(t *testing.T) {
	for _, k := range []float64{1, 0.5, 2} {
		d, err := Compact(assembly{1}, drawing.Style{Scale: k})
		require.NoError(t, err)
		text := strings.ReplaceAll(said(Sheet{Drawing: d}), "\n", " ")
		for _, want := range []string{"Designation", "Stud M20", "cast iron", " 1 ", " 3 ", "F1", "SECRET: the nut never clamps.", "73.5"} {
			assert.Contains(t, text, want)
		}
		list := 0
		for _, v := range d.Views {
			if v.View.Name == "text" {
				list++
				assert.InDelta(t, 1/k, v.Scale, 1e-12, "texts have their size on paper")
			}
		}
		assert.Equal(t, 1, list)
	}
}
