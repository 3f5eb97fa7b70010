package rule

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var testLetters = []string{"D", "L", "P", "d2", "R", "i", "W", "a", "dw", "Lt", "x"}

// drawNode draws any tree that a rule can be.
func drawNode(t *rapid.T, depth int) *node {
	if depth == 0 || rapid.IntRange(0, 4).Draw(t, "leaf") == 0 {
		return drawLeaf(t)
	}
	arg := func() *node { return drawNode(t, depth-1) }
	args := func(n int) []*node {
		out := make([]*node, n)
		for i := range out {
			out[i] = arg()
		}
		return out
	}
	switch o := rapid.SampledFrom([]op{opNeg, opAdd, opAdd, opSub, opSub, opMul, opMul, opMul, opDiv, opDiv, opPow, opSqrt, opSin, opCos, opTan, opArctan,
		opMin, opMax, opUp, opDown, opRound, opNear, opUpTo}).Draw(t, "op"); o {
	case opNeg, opSqrt, opSin, opCos, opTan, opArctan:
		return &node{op: o, args: []*node{inTrig(o, arg())}}
	case opPow:
		exponent := rapid.SampledFrom([]string{"2", "3", "4", "0.5", "any"}).Draw(t, "exponent")
		if exponent == "any" {
			return &node{op: o, args: args(2)}
		}
		return &node{op: o, args: []*node{arg(), numeral(exponent)}}
	case opMin, opMax:
		return &node{op: o, args: args(rapid.IntRange(2, 3).Draw(t, "n"))}
	case opNear:
		return &node{op: o, args: args(rapid.IntRange(3, 4).Draw(t, "n"))}
	case opUpTo:
		return &node{op: o, args: args(4)}
	default:
		return &node{op: o, args: args(2)}
	}
}

func numeral(text string) *node {
	x, _ := rational(text).Float64()
	return &node{op: opNumber, text: text, num: x}
}

func drawLeaf(t *rapid.T) *node {
	switch rapid.IntRange(0, 6).Draw(t, "kind") {
	case 0:
		return &node{op: opPi}
	case 1, 2, 3:
		return &node{op: opLetter, text: rapid.SampledFrom(testLetters).Draw(t, "letter")}
	}
	n := numeral(rapid.SampledFrom([]string{"0", "1", "2", "3", "1.5", "0.8", "2.5", "0.125", "1.2269", "30", "100"}).Draw(t, "number"))
	n.deg = rapid.IntRange(0, 9).Draw(t, "degrees") == 0
	return n
}

func same(a, b *node) bool {
	if a.op != b.op || a.text != b.text || a.deg != b.deg || a.num != b.num || len(a.args) != len(b.args) {
		return false
	}
	for i := range a.args {
		if !same(a.args[i], b.args[i]) {
			return false
		}
	}
	return true
}

// What is printed is read back as the same tree, step by step.
func TestPrintParse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := drawNode(t, 4)
		if rapid.IntRange(0, 5).Draw(t, "about") == 0 {
			want = &node{op: opAbout, args: []*node{want, numeral("6.3")}}
		}
		text := (&printer{}).print(want)
		if len([]rune(text)) > maxLength {
			t.Skip("too long")
		}
		for name, p := range map[string]Parser{"any letter": {}, "known letters": {Letters: testLetters}} {
			got, err := p.Parse(text)
			if err != nil {
				t.Fatalf("%s: %q: %v", name, text, err)
			}
			if !same(got.root, want) || got.String() != text {
				t.Fatalf("%s: %q read and printed as %q", name, text, got)
			}
		}
		comma := (&printer{comma: true}).print(want)
		got, err := Parse(comma)
		if err != nil || !same(got.root, want) {
			t.Fatalf("%q: read as %v, %v", comma, got, err)
		}
	})
}

// A spelled is a rule in a spelling that a person may choose, with a function
// that works it out without this package.
type spelled struct {
	text  string
	value func(Values) float64 // NaN where there is none
}

// drawSpelled draws a rule as text and function together.
func drawSpelled(t *rapid.T, depth int) spelled {
	if depth == 0 {
		if rapid.Bool().Draw(t, "isLetter") {
			l := rapid.SampledFrom(testLetters).Draw(t, "letter")
			return spelled{l, func(vs Values) float64 { x, _ := vs.Get(l); return x }}
		}
		x := float64(rapid.IntRange(1, 4000).Draw(t, "number")) / 1000
		return spelled{fmt.Sprint(x), func(Values) float64 { return x }}
	}
	a, b := drawSpelled(t, depth-1), drawSpelled(t, rapid.IntRange(0, depth-1).Draw(t, "depth"))
	blank := rapid.SampledFrom([]string{"", " ", "  "}).Draw(t, "blank")
	in := func(s spelled) string { return "(" + blank + s.text + ")" }
	pick := func(xs ...string) string { return rapid.SampledFrom(xs).Draw(t, "spelling") }
	switch rapid.IntRange(0, 12).Draw(t, "what") {
	case 0, 1:
		return spelled{in(a) + blank + "+" + blank + in(b), func(v Values) float64 { return a.value(v) + b.value(v) }}
	case 2, 3:
		return spelled{in(a) + pick("-", " − ", "–") + in(b), func(v Values) float64 { return a.value(v) - b.value(v) }}
	case 4, 5:
		return spelled{in(a) + pick("", "×", " * ", "·") + in(b), func(v Values) float64 { return a.value(v) * b.value(v) }}
	case 6:
		return spelled{in(a) + pick("/", " ÷ ") + in(b), func(v Values) float64 { return a.value(v) / b.value(v) }}
	case 7:
		return spelled{in(a) + pick("²", "^2", " ^ 2"), func(v Values) float64 { return a.value(v) * a.value(v) }}
	case 8:
		return spelled{pick("√", "sqrt", "sqrt ") + in(a), func(v Values) float64 { return math.Sqrt(a.value(v)) }}
	case 9:
		return spelled{"cos " + in(a), func(v Values) float64 {
			if x := a.value(v); math.Abs(x) < 1e4 {
				return math.Cos(x / 180 * math.Pi)
			}
			return math.NaN() // plain arithmetic is not good enough
		}}
	case 11:
		return spelled{"arctan " + in(a), func(v Values) float64 { return math.Atan(a.value(v)) * 180 / math.Pi }}
	case 10:
		return spelled{pick("max", "max ") + "(" + a.text + ", " + b.text + ")", func(v Values) float64 { return math.Max(a.value(v), b.value(v)) }}
	}
	return spelled{"(-" + in(a) + ")", func(v Values) float64 { return -a.value(v) }}
}

func drawValues(t *rapid.T) Values {
	var vs Values
	for _, l := range testLetters {
		vs = append(vs, Value{l, float64(rapid.IntRange(1, 200000).Draw(t, l)) / 1000})
	}
	return vs
}

func close9(a, b float64) bool {
	return math.Abs(a-b) <= 1e-9*math.Max(1, math.Max(math.Abs(a), math.Abs(b)))
}

// The value is that of arithmetic written down beside the text.
func TestEvalAgainstArithmetic(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := drawSpelled(t, 3)
		if len([]rune(s.text)) > maxLength {
			t.Skip("too long")
		}
		vs := drawValues(t)
		e, err := Parser{Letters: testLetters}.Parse(s.text)
		if err != nil {
			t.Fatal(err)
		}
		want := s.value(vs)
		got, err := e.Eval(vs.Get)
		switch {
		case math.IsNaN(want), math.Abs(want) > 1e9: // no value, or the inverse of what nearly cancels
		case err != nil:
			t.Fatalf("%q of %v: %v, want %v", s.text, vs, err, want)
		case err == nil && !close9(got, want):
			t.Fatalf("%q of %v: %v, want %v", s.text, vs, got, want)
		}
	})
}

// Simplifying keeps the value, and never makes a rule longer.
func TestSimplifyKeepsValue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e, err := fromTree(drawNode(t, 4))
		if err != nil {
			t.Skip(err)
		}
		s := e.Simplify()
		if s.Len() > e.Len() {
			t.Fatalf("%q became %q", e, s)
		}
		if again := s.Simplify(); again.Len() > s.Len() {
			t.Fatalf("%q became %q became %q", e, s, again)
		}
		vs := drawValues(t)
		checkSameValue(t, e, s, vs)
	})
}

func checkSameValue(t *rapid.T, e, s *Expr, vs Values) {
	want, err := e.Eval(vs.Get)
	if err != nil || math.Abs(want) > 1e9 {
		return
	}
	got, err := s.Eval(vs.Get)
	if err != nil || !close9(got, want) && !unsteady(e, vs, got-want) {
		t.Fatalf("%q is %v of %v; %q is %v, %v", e, want, vs, s, got, err)
	}
}

// unsteady reports whether the value of a rule leaps or runs so fast that a
// difference is no wonder: where letters are changed a little, it changes by
// more than that.
func unsteady(e *Expr, vs Values, difference float64) bool {
	at := func(factor float64) float64 {
		x, err := e.Eval(func(l string) (float64, bool) { x, ok := vs.Get(l); return x * factor, ok })
		if err != nil {
			return math.Inf(1)
		}
		return x
	}
	v := at(1)
	return math.Abs(at(1+1e-9)-v) > math.Abs(difference)/1000 || math.Abs(at(1-1e-9)-v) > math.Abs(difference)/1000
}

// Rules put into rules keep the value.
func TestInlineKeepsValue(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		vs := drawValues(t)
		e, err := fromTree(drawNode(t, 3))
		if err != nil {
			t.Skip(err)
		}
		rules := map[string]*Expr{}
		for i, l := range []string{"d2", "R", "i", "W"} { // in letters before them only
			n := drawNode(t, 2)
			var later bool
			n.walk(func(n *node) {
				later = later || n.op == opLetter && contains([]string{"d2", "R", "i", "W"}[i:], n.text)
			})
			if r, err := fromTree(n); err == nil && !later {
				rules[l] = r
			}
		}
		var get func(string) (float64, bool)
		get = func(l string) (float64, bool) {
			if r := rules[l]; r != nil {
				x, err := r.Eval(get)
				return x, err == nil
			}
			return vs.Get(l)
		}
		in, err := e.Inline(func(l string) *Expr { return rules[l] })
		if err != nil {
			t.Skip(err)
		}
		for _, l := range in.Letters() {
			if r := rules[l]; r != nil && r.root.op != opNear {
				t.Fatalf("%q still has %s", in, l)
			}
		}
		want, err := e.Eval(get)
		if err != nil || math.Abs(want) > 1e9 || negative(e, rules, get) {
			t.Skip("no value, or letters that are no sizes")
		}
		got, err := in.Eval(get)
		if err != nil || !close9(got, want) && !unsteady(in, vs, got-want) {
			t.Fatalf("%q with %v is %v; %q is %v, %v", e, rules, want, in, got, err)
		}
	})
}

// negative reports whether a letter has a value of 0 or below, which is no
// size.
func negative(e *Expr, rules map[string]*Expr, get func(string) (float64, bool)) bool {
	for _, l := range e.Letters() {
		if x, _ := get(l); x <= 0 {
			return true
		}
		if r := rules[l]; r != nil && negative(r, rules, get) {
			return true
		}
	}
	return false
}

// What a working prints is true as it is printed: read back, its arithmetic
// gives the printed value to the last digit.
func TestWorkingIsTrueAsPrinted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e, err := fromTree(drawNode(t, 3))
		if err != nil {
			t.Skip(err)
		}
		vs := drawValues(t)
		if rapid.Bool().Draw(t, "irrational") {
			for i := range vs {
				vs[i].Value *= math.Sqrt2
			}
		}
		value, err := e.Eval(vs.Get)
		if err != nil || math.Abs(value) > 1e6 {
			t.Skip("no value")
		}
		f := Format{Decimals: rapid.IntRange(1, 4).Draw(t, "decimals"), Comma: rapid.Bool().Draw(t, "comma")}
		w, err := e.Working("Z", "mm", vs.Get, f)
		if err != nil {
			t.Fatalf("%q: %v", e, err)
		}
		last := strings.TrimSuffix(w.Steps[len(w.Steps)-1], " mm")
		if last != f.Number(value) {
			t.Fatalf("%s: want %s", w, f.Number(value))
		}
		for _, step := range w.Steps[1 : len(w.Steps)-1] {
			r, err := Parse(step)
			if err != nil {
				t.Fatalf("%s: %v", w, err)
			}
			x, err := r.Eval(vs.Get)
			if got := f.Number(x); err != nil || !w.Rounded && got != last {
				if unsteady(e, vs, x-value) {
					continue
				}
				t.Fatalf("%s: %q gives %s, %v", w, step, got, err)
			}
		}
	})
}

func TestEvalDoesNotAllocate(t *testing.T) {
	vs := Values{{"D", 20}, {"R", 16}, {"i", 2}, {"L", 90}}
	for _, text := range []string{"1.5D + 3", "2√(R² - i²)", "upto(L, 125, 2D + 6, 200, 2D + 12, 2D + 25)", "near(2.5D, 45, 50, 63)", "2D cos 30°"} {
		e := MustParse(text)
		assert.Zero(t, testing.AllocsPerRun(100, func() {
			if _, err := e.Eval(vs.Get); err != nil {
				t.Error(err)
			}
		}), text)
	}
}

// Whatever is read can be printed, read back, worked out and simplified, and
// what cannot be read says where.
func FuzzParse(f *testing.F) {
	for _, s := range []string{
		"1.5D + 3", "2√(R² - i²)", "D - 1.2269P", "A cos 30°", "2D/3", "2/3 D", "1½D", "⅔D", "(L - b)/2", "max(0,1D; 2)", "near(2.5P, 5, 6.3, 7.5)",
		"upto(L, 125, 2D + 6, 2D + 12)", "2.5P ≈ 6.3", "Dcos30", "d₃ − 0,5P", "π/4 ((d2 + d3)/2)²", "D^-1", "√√D", "1e9D", "2 3", "D/2P", "((((", "-(-D)", "\xff", "x' + R’",
	} {
		f.Add(s)
	}
	get := func(string) (float64, bool) { return 7.25, true }
	f.Fuzz(func(t *testing.T, s string) {
		for _, p := range []Parser{{}, {Letters: []string{"D", "P", "d3", "Lt", "L", "t"}}} {
			e, err := p.Parse(s)
			if err != nil {
				c := columnOf(err)
				if c < 1 || c > len([]rune(s))+1 || err.Error() == "" {
					t.Fatalf("%q: column %d of %v", s, c, err)
				}
				continue
			}
			if len([]rune(e.String())) > maxLength {
				continue // signs that are written longer than they were given
			}
			again, err := p.Parse(e.String())
			if err != nil || !again.Equal(e) || !same(again.root, e.root) {
				t.Fatalf("%q printed as %q read as %v, %v", s, e, again, err)
			}
			if x, err := e.Eval(get); err == nil && (math.IsNaN(x) || math.IsInf(x, 0)) {
				t.Fatalf("%q: %v", s, x)
			}
			e.Simplify()
			_, _ = e.Working("Z", "mm", get, Format{})
			_, _ = e.Choose(get)
		}
	})
}

func BenchmarkParse(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		if _, err := Parse("2√(R² - i²)"); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkEval(b *testing.B) {
	vs := Values{{"D", 20}, {"R", 16}, {"i", 2}}
	e := MustParse("2√(R² - i²)")
	b.ReportAllocs()
	for b.Loop() {
		if _, err := e.Eval(vs.Get); err != nil {
			b.Fatal(err)
		}
	}
}

func TestManyGoroutines(t *testing.T) {
	e := MustParse("near(2√(R² - i²), 1, 2, 30)")
	want, err := e.Eval(Values{{"R", 16}, {"i", 2}}.Get)
	require.NoError(t, err)
	done := make(chan bool)
	for range 8 {
		go func() {
			for range 200 {
				got, err := e.Eval(Values{{"R", 16}, {"i", 2}}.Get)
				assert.NoError(t, err)
				assert.Equal(t, want, got)
				e.Simplify()
				_, err = e.Choose(Values{{"R", 16}, {"i", 2}}.Get)
				assert.NoError(t, err)
			}
			done <- true
		}()
	}
	for range 8 {
		<-done
	}
}

// TestNoRule: the zero value is no rule, and says so.
func TestNoRule(t *testing.T) {
	var e Expr
	none := func(string) (float64, bool) { return 0, false }
	assert.Empty(t, e.String())
	assert.Empty(t, e.Text(Format{Comma: true}))
	assert.Equal(t, 1, e.Terms())
	assert.Same(t, &e, e.Simplify())
	_, err := e.Eval(none)
	assert.EqualError(t, err, "there is no rule; rule.Parse makes one")
	_, err = e.Working("A", "mm", none, Format{})
	assert.Error(t, err)
	_, err = e.About(3)
	assert.Error(t, err)
	_, err = e.Inline(func(string) *Expr { return nil })
	assert.Error(t, err)
}
