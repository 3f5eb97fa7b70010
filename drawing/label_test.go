package drawing

import (
	"math"
	"strings"
	"testing"

	"boltplate/rule"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func TestFormatValue(t *testing.T) {
	for _, c := range []struct {
		v            float64
		point, comma string
	}{
		{27.7128, "27.71", "27,71"}, // 16 sqrt 3
		{12.8, "12.8", "12,8"},
		{90, "90", "90"},
		{100, "100", "100"},
		{0, "0", "0"},
		{math.Copysign(0, -1), "0", "0"},
		{-0.001, "0", "0"},
		{0.005, "0.01", "0,01"},
		{-2.5, "-2.5", "-2,5"},
		{1234567.891, "1234567.89", "1234567,89"},
		{0.1 + 0.2, "0.3", "0,3"},
		{19.999, "20", "20"},
		{1e6, "1000000", "1000000"},
	} {
		assert.Equal(t, c.point, FormatValue(c.v, false))
		assert.Equal(t, c.comma, FormatValue(c.v, true))
	}
}

func TestFormatValueIsShort(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(-1e5, 1e5).Draw(t, "v")
		s := FormatValue(v, false)
		assert.Equal(t, s, strings.ReplaceAll(FormatValue(v, true), ",", "."))
		assert.Regexp(t, `^(0|-?([1-9]\d*|0\.\d?[1-9]|[1-9]\d*\.\d?[1-9]))$`, s)
	})
}

func TestLabelsSay(t *testing.T) {
	ruled := Quantity{Letter: "T", Rule: rule.MustParse("0.8D"), Value: 12.8, Status: CommonPractice}
	given := Quantity{Letter: "L", Value: 80, Status: Given}
	tabled := Quantity{Letter: "s", Value: 24, Status: Published}
	bare := Quantity{Letter: "x", Value: 7.5, Status: Derived}
	angle := Quantity{Letter: "a", Rule: rule.MustParse("30°"), Value: 30, Unit: Degree, Status: Published}
	count := Quantity{Letter: "n", Value: 6, Unit: One, Status: Derived}
	for _, c := range []struct {
		l                              Label
		numbers, comma, rules, letters string
	}{
		{Label{Quantity: ruled}, "12.8", "12,8", "0.8D", "T"},
		{Label{Quantity: given}, "80", "80", "L", "L"},
		{Label{Quantity: tabled}, "24", "24", "s", "s"},
		{Label{Quantity: bare}, "7.5", "7,5", "x", "x"},
		{Label{Quantity: angle}, "30°", "30°", "30°", "a"},
		{Label{Quantity: count}, "6", "6", "n", "n"},
		{Label{Quantity: ruled, Number: "M20"}, "M20", "M20", "0.8D", "T"},
		{Label{Quantity: ruled, Reference: true}, "(12.8)", "(12,8)", "(0.8D)", "(T)"},
		{Label{Quantity: ruled, Symbol: DiameterSymbol}, "Ø12.8", "Ø12,8", "Ø0.8D", "ØT"},
		{Label{Quantity: ruled, Symbol: RadiusSymbol}, "R12.8", "R12,8", "R0.8D", "RT"},
		{Label{Quantity: Quantity{Letter: "R", Rule: rule.MustParse("D"), Value: 20, Status: Published}, Symbol: RadiusSymbol}, "R20", "R20", "RD", "R"},         // not RR
		{Label{Quantity: Quantity{Letter: "Rd", Rule: rule.MustParse("0.7D"), Value: 14, Status: Published}, Symbol: RadiusSymbol}, "R14", "R14", "R0.7D", "Rd"}, // nor RRd
		{Label{Quantity: Quantity{Letter: "k", Rule: rule.MustParse("max(0.1D, 2.5)"), Value: 2.5}}, "2.5", "2,5", "max(0.1D, 2.5)", "k"},
		{Label{Quantity: ruled, Symbol: DiameterSymbol, Reference: true}, "(Ø12.8)", "(Ø12,8)", "(Ø0.8D)", "(ØT)"},
		{Label{Quantity: ruled, Symbol: SquareSymbol}, "12.8", "12,8", "0.8D", "T"},                // the square is drawn
		{Label{Quantity: ruled, Number: "1:30", Symbol: TaperSymbol}, "1:30", "1:30", "0.8D", "T"}, // so is the triangle
		{Label{Quantity: ruled, Number: "M20", Text: "of an earlier arrangement"}, "M20", "M20", "0.8D", "T"},
	} {
		said := func(st Style) string {
			v := Arrange(View{Items: []Item{{RoleDimension, Leader{Label: c.l}}}}, st)
			x, ok := Expand(v.Items[0].Shape, st)
			assert.True(t, ok)
			text, ok := x.Text()
			assert.True(t, ok)
			assert.Equal(t, text.Value, v.Items[0].Shape.(Leader).Label.full())
			return text.Value
		}
		assert.Equal(t, c.numbers, said(Style{}), "%+v", c.l)
		assert.Equal(t, c.comma, said(Style{DecimalComma: true}), "%+v", c.l)
		assert.Equal(t, c.rules, said(Style{Labels: Rules}), "%+v", c.l)
		assert.Equal(t, c.letters, said(Style{Labels: Letters}), "%+v", c.l)
	}
	assert.Empty(t, Label{Quantity: ruled}.say(Style{Labels: NoLabels}))
}

func TestSquareSymbol(t *testing.T) {
	for _, side := range []string{"below 0 0 60 0", "left 0 0 0 60", "aligned 0 0 40 30", "aligned 0 0 -40 30"} {
		v := ParseView("box 0 0 60 60;" + side)
		var x Expansion
		for _, it := range v.Items[1:] {
			switch d := it.Shape.(type) {
			case Linear:
				d.Label.Symbol = SquareSymbol
				it.Shape = d
			case Aligned:
				d.Label.Symbol = SquareSymbol
				it.Shape = d
			}
			x, _ = Expand(Arrange(View{Items: []Item{v.Items[0], it}}, Style{}).Items[1].Shape, Style{})
		}
		q, ok := x.Square()
		assert.True(t, ok)
		text, _ := x.Text()
		box, _ := x.LabelBox()
		body := text.Box(Style{})
		samePoint(t, box[0], q[0], "the square is the first thing of the label")
		samePoint(t, box[1], body[1], "its text the last")
		for i := range q {
			assert.InDelta(t, 0.7*3.5, q[(i+1)%4].Sub(q[i]).Len(), 1e-9, "the height of a lower-case letter (ISO 3098)")
		}
		gap := body[0].Sub(q[1])
		assert.Greater(t, dot(gap, Polar(1, text.Angle)), 0.5, "clear of the text")
		samePoint(t, Polar(gap.Len(), text.Angle), gap, "on the same base line")
	}
	x, _ := Expand(Arrange(ParseView("below 0 0 60 0"), Style{}).Items[0].Shape, Style{})
	_, ok := x.Square()
	assert.False(t, ok)
}

// TestTaperSymbol: a triangle with a tip of 30 degrees, as high as the text
// and before it, that narrows the way it is told.
func TestTaperSymbol(t *testing.T) {
	const h = 3.5
	for _, c := range []struct {
		symbol Symbol
		angle  float64
	}{{TaperSymbol, 60}, {TaperLeftSymbol, 60}, {TaperSymbol, 120}, {TaperLeftSymbol, -120}} {
		v := ParseView("box 0 0 60 60")
		l := Leader{Label: Label{Quantity: Quantity{Letter: "C", Value: 1.0 / 30, Unit: One}, Number: "1:30", Symbol: c.symbol}, Tip: Pt(30, 60), Angle: c.angle}
		v.Items = append(v.Items, Item{RoleDimension, l})
		placed := Arrange(v, Style{}).Items[1].Shape
		x, ok := Expand(placed, Style{})
		assert.True(t, ok)
		p, ok := x.Taper()
		assert.True(t, ok)
		box, _ := x.LabelBox()
		text, _ := x.Text()
		body := text.Box(Style{})
		assert.Equal(t, "1:30", text.Value)
		left, right := min(p[0].X, p[1].X), max(p[0].X, p[1].X)
		assert.InDelta(t, box[0].X, left, 1e-9, "the triangle is the first thing of the label")
		samePoint(t, box[1], body[1], "its text the last")
		assert.Greater(t, body[0].X, right+0.5, "clear of the text")
		assert.InDelta(t, h, p[2].Y-p[0].Y, 1e-9)
		assert.InDelta(t, (p[0].Y+p[2].Y)/2, p[1].Y, 1e-9)
		assert.Equal(t, c.symbol == TaperSymbol, p[1].X > p[0].X, "which way it narrows")
		tip := math.Abs(p[2].Sub(p[1]).Angle() - p[0].Sub(p[1]).Angle())
		assert.InDelta(t, 30, math.Min(tip, 360-tip), 1e-9)
		assert.Len(t, x.Items(), 5, "two lines, an arrow, the triangle and the text")
		for _, q := range p {
			assert.True(t, x.Bounds().Grown(1e-9).Union(Rect{q, q}) == x.Bounds().Grown(1e-9), "inside the bounds")
		}

		// Half a turn, or a mirror image in the y axis, narrows the other way.
		other := map[Symbol]Symbol{TaperSymbol: TaperLeftSymbol, TaperLeftSymbol: TaperSymbol}[c.symbol]
		assert.Equal(t, other, Apply(placed, Transform{Turn: 180}).(Leader).Label.Symbol)
		assert.Equal(t, other, Apply(placed, Transform{Turn: 180, Mirror: true}).(Leader).Label.Symbol)
		assert.Equal(t, c.symbol, Apply(placed, Transform{Mirror: true, Move: Pt(5, 5)}).(Leader).Label.Symbol)
	}
}
