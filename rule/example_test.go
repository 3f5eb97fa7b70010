package rule_test

import (
	"errors"
	"fmt"

	"boltplate/rule"
)

func Example() {
	e, err := rule.Parse("1,5*D + 3")
	if err != nil {
		fmt.Println(err)
		return
	}
	sizes := rule.Values{{Letter: "D", Value: 20}}
	w, err := e.Eval(sizes.Get)
	fmt.Println(e, "is", w, err)

	working, _ := e.Working("W", "mm", sizes.Get, rule.Format{})
	fmt.Println(working)
	// Output:
	// 1.5D + 3 is 33 <nil>
	// W = 1.5D + 3 = 1.5 × 20 + 3 = 33 mm
}

func ExampleParser() {
	p := rule.Parser{Letters: []string{"D", "A", "d2"}}
	e, _ := p.Parse("Acos30")
	fmt.Println(e)

	_, err := p.Parse("2a")
	fmt.Println(err)
	var le *rule.LetterError
	fmt.Println(errors.As(err, &le), le.Column, le.Near)

	_, err = p.Parse("A/2d2")
	fmt.Println(err)
	// Output:
	// A cos 30°
	// rule "2a": column 2: a is not known here; did you mean A?
	// true 2 [A]
	// rule "A/2d2": column 4: found "d2", want × or parentheses, to say what the division ends with: a/(b c) or a/b × c
}

func ExampleExpr_Choose() {
	// The run-out is 2.5P, and the trade has its preferred sizes.
	e := rule.MustParse("near(2.5P, 5, 6.3, 7.5)")
	for _, p := range []float64{2, 2.5} {
		sizes := rule.Values{{Letter: "P", Value: p}}
		label, _ := e.Choose(sizes.Get)
		w, _ := e.Working("x", "mm", sizes.Get, rule.Format{})
		fmt.Println(label, "|", w)
	}
	// Output:
	// 2.5P | x = 2.5P = 2.5 × 2 = 5 mm
	// 2.5P ≈ 6.3 | x = 2.5P = 2.5 × 2.5 = 6.25 ≈ 6.3 mm
}

func ExampleExpr_Inline() {
	rules := map[string]*rule.Expr{"c": rule.MustParse("0.1D"), "b": rule.MustParse("2D + 6")}
	for _, text := range []string{"c + 0.5D", "(L - b)/2"} {
		e, err := rule.MustParse(text).Inline(func(letter string) *rule.Expr { return rules[letter] })
		fmt.Println(e, e.Terms(), e.Letters(), err)
	}
	// Output:
	// 0.6D 1 [D] <nil>
	// 0.5L - D - 3 3 [L D] <nil>
}

func ExampleSystem() {
	s, err := rule.NewSystem([]string{"D", "L"}, []rule.Named{
		{Letter: "s", Name: "shank", Rule: rule.MustParse("L - b")},
		{Letter: "b", Name: "thread length", Rule: rule.MustParse("2D + 6"), Source: "ISO 888"},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	values, err := s.Solve(rule.Values{{Letter: "D", Value: 20}, {Letter: "L", Value: 90}})
	fmt.Println(values, err)
	in, _ := s.Inline("s")
	fmt.Println(in)
	// Output:
	// [{D 20} {L 90} {b 46} {s 44}] <nil>
	// L - 2D - 6
}

func ExampleSet() {
	bolt := rule.Scope{Kind: "hex-bolt", Families: []string{"hexagon heads"}, Given: []string{"D"}, Rules: []rule.Named{
		{Letter: "A", Name: "width across corners", Rule: rule.MustParse("2D")},
		{Letter: "T", Name: "head thickness", Rule: rule.MustParse("0.8D")},
	}}
	set := rule.Set{Name: "Ostlemere drawing office", Entries: []rule.Entry{
		{Of: "hexagon heads", Letter: "head thickness", Rule: "2/3 D"},
	}}
	a, err := set.Apply(bolt)
	if err != nil {
		fmt.Println(err)
		return
	}
	t, _ := a.System.Rule("T")
	fmt.Println(a.Changed, t.Rule, t.Source, t.Status)

	set.Entries[0].Rule = "2/3 d"
	fmt.Println(set.Check(bolt))
	// Output:
	// [T] 2/3 D Ostlemere drawing office common practice
	// hexagon heads: head thickness: rule "2/3 d": column 5: d is not known here; did you mean D?
}
