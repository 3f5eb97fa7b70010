package sheet

import (
	"fmt"
	"strings"

	"boltplate/drawing"
)

// An Exercise says what a plate is for.
type Exercise uint8

// The exercises. A question gives nothing away: values are blank or letters,
// tables are empty where the student fills in, findings are gone, and what is
// given is written out in words. In an answer all stands.
const (
	NoExercise Exercise = iota
	Question
	Answer
)

// String returns "none", "question" or "answer".
func (e Exercise) String() string {
	switch e {
	case Question:
		return "question"
	case Answer:
		return "answer"
	}
	return "none"
}

// ParseExercise returns the exercise with the given name: question or answer.
func ParseExercise(s string) (Exercise, error) {
	switch strings.ToLower(strings.TrimSpace(s)) {
	case "question":
		return Question, nil
	case "answer":
		return Answer, nil
	}
	return NoExercise, fmt.Errorf("%q is no exercise; use question or answer", s)
}

// labels returns what the dimensions of a figure say.
func (c *composer) labels(f *Figure) drawing.Labels {
	own := c.st.Labels
	if f.Labels != nil {
		own = *f.Labels
	}
	if c.Exercise == NoExercise || own == drawing.NoLabels {
		return own
	}
	if c.Exercise == Question {
		return c.QuestionLabels
	}
	return drawing.Numbers
}

// exercise makes a question of a content.
func (c *composer) exercise(f *Figure, from *Content) *Content {
	out := *from
	out.Blocks = nil
	if c.Exercise != Question {
		out.Blocks = append(append(out.Blocks, from.findings()...), from.Answers...)
		out.Blocks = append(out.Blocks, from.Blocks...)
		return &out
	}
	out.Findings = nil
	for _, b := range from.Blocks {
		if t, ok := b.(Table); ok {
			b = t.asked(c.st.Height())
		}
		out.Blocks = append(out.Blocks, b)
	}
	var given []string
	given = append(append(given, from.Given...), f.Given...)
	ask := strings.TrimSpace(from.Ask + " " + f.Ask)
	if f.Ask != "" {
		ask = f.Ask // what the plate asks goes before what the figure would
	}
	if ask != "" {
		given = append(given, ask)
	}
	if len(given) > 0 {
		out.Blocks = append(out.Blocks, Paragraph{Lines: given})
		out.under = 1
	}
	if out.Drawing != nil && c.QuestionLabels == drawing.Numbers {
		out.Drawing = blank(out.Drawing)
	}
	return &out
}

// findings returns the findings as a block.
func (c *Content) findings() []Block {
	if len(c.Findings) == 0 {
		return nil
	}
	var n Notes
	for _, f := range c.Findings {
		n.Entries = append(n.Entries, Entry{f.Label, f.Text})
	}
	return []Block{n}
}

// blank returns a drawing whose dimensions have no values: their lines stay, and
// the room for what is to be written.
func blank(d *drawing.Drawing) *drawing.Drawing {
	out := *d
	out.Views = make([]drawing.Placed, len(d.Views))
	for i, v := range d.Views {
		v.View.Items = blankItems(v.View.Items, d.Style)
		v.Block = "" // the block of that name has values
		out.Views[i] = v
	}
	out.Items = blankItems(d.Items, d.Style)
	return &out
}

func blankItems(items []drawing.Item, st drawing.Style) []drawing.Item {
	out := make([]drawing.Item, len(items))
	for i, it := range items {
		out[i] = drawing.Item{Role: it.Role, Shape: drawing.Relabel(it.Shape, func(l drawing.Label) drawing.Label { return blankLabel(l, st) })}
	}
	return out
}

// blankLabel returns a label that shows nothing, as wide as it was or up to a
// space less: no wider, so that it keeps clear of what the label kept clear of.
func blankLabel(l drawing.Label, st drawing.Style) drawing.Label {
	text := l.Text
	switch l.Symbol {
	case drawing.DiameterSymbol:
		text = "Ø" + text
	case drawing.RadiusSymbol:
		text = "R" + text
	case drawing.SquareSymbol, drawing.TaperSymbol, drawing.TaperLeftSymbol:
		text = "00" + text
	}
	n := max(1, int(st.TextWidth(text, 1)/st.TextWidth(noBreak, 1)))
	return drawing.Label{Quantity: l.Quantity, Number: l.Number, StandsFor: l.StandsFor, Text: strings.Repeat(noBreak, n)}
}
