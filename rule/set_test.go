package rule

import (
	"errors"
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func named(letter, name, text string) Named {
	return Named{Letter: letter, Name: name, Rule: MustParse(text), Source: "a book", Status: Published}
}

func bolt() Scope {
	return Scope{Kind: "bolt", Families: []string{"hexagon heads", "bolts"}, Given: []string{"D", "L", "P"}, Rules: []Named{
		named("W", "width across flats", "A cos 30°"), named("A", "width across corners", "2D"), named("T", "head thickness", "0.8D"),
		named("b", "thread length", "upto(L, 125, 2D + 6, 2D + 12)"), named("s", "shank", "L - b"),
	}}
}

func nut() Scope {
	return Scope{Kind: "nut", Families: []string{"hexagon heads"}, Given: []string{"D", "P"}, Rules: []Named{
		named("W", "width across flats", "A cos 30°"), named("A", "width across corners", "2D"), named("H", "thickness", "D"),
	}}
}

func letters(rules []Named) (out []string) {
	for _, r := range rules {
		out = append(out, r.Letter)
	}
	return out
}

func TestSystem(t *testing.T) {
	b := bolt()
	s, err := NewSystem(b.Given, b.Rules)
	require.NoError(t, err)
	assert.Equal(t, []string{"A", "W", "T", "b", "s"}, letters(s.Rules()))
	assert.Equal(t, b.Given, s.Given())
	vs, err := s.Solve(Values{{"D", 20}, {"L", 90}, {"P", 2.5}})
	require.NoError(t, err)
	assert.Len(t, vs, 8)
	for l, want := range map[string]float64{"A": 40, "W": 20 * math.Sqrt(3), "T": 16, "b": 46, "s": 44, "D": 20} {
		got, ok := vs.Get(l)
		assert.True(t, ok, l)
		assert.InDelta(t, want, got, 1e-12, l)
	}
	_, ok := vs.Get("q")
	assert.False(t, ok)

	e, err := s.Inline("W")
	require.NoError(t, err)
	assert.Equal(t, "2D cos 30°", e.String())
	e, err = s.Inline("s", "b")
	require.NoError(t, err)
	assert.Equal(t, "L - b", e.String())
	_, err = s.Inline("w")
	assert.EqualError(t, err, "w: no such letter; did you mean W?")
	assert.Equal(t, []string{"b", "s"}, s.Needs("s"))
	assert.Equal(t, []string{"A", "W"}, s.Needs("W"))
	long, err := NewSystem([]string{"D"}, []Named{named("a", "", "D"), named("b", "", "a"), named("c", "", "b"), named("d", "", "c"), named("e", "", "D")})
	require.NoError(t, err)
	assert.Equal(t, []string{"a", "b", "c", "d"}, long.Needs("d"))

	_, err = s.Solve(Values{{"D", 20}})
	assert.EqualError(t, err, `rule "upto(L, 125, 2D + 6, 2D + 12)": column 6: L is not known here`)
}

func TestSystemErrors(t *testing.T) {
	for want, rules := range map[string][]Named{
		"A has two rules; leave one out":                                    {named("A", "", "2D"), named("A", "", "3D")},
		"D is given, so that no rule can make it":                           {named("D", "", "2L")},
		"cos: no such letter":                                               {named("cos", "", "2D")},
		`rule "2d": column 2: d is not known here; did you mean D?`:         {named("A", "", "2d")},
		"the rule of A uses A itself; use letters that are known before it": {named("T", "", "D"), named("A", "", "A + T")},
		"the rules go round in a circle: A → B → C → A; one of them must use letters that are known before it": {
			named("T", "", "A"), named("A", "", "D + B"), named("B", "", "C"), named("C", "", "2A")},
	} {
		_, err := NewSystem([]string{"D", "L"}, rules)
		assert.EqualError(t, err, want)
	}
	// The circle leaves out what only leads to it.
	_, err := NewSystem(nil, []Named{named("T", "", "A"), named("A", "", "B"), named("B", "", "A")})
	var ce *CycleError
	require.ErrorAs(t, err, &ce)
	assert.Equal(t, []string{"A", "B"}, ce.Letters)
}

// Rules in any order give the values that working out one letter after the
// other gives.
func TestSystemOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		known := []string{"D", "L"}
		values := Values{{"D", 20}, {"L", 90}}
		var rules []Named
		for _, l := range []string{"a", "b", "c", "d", "e", "f"} {
			x, y := rapid.SampledFrom(known).Draw(t, "x"), rapid.SampledFrom(known).Draw(t, "y")
			rules = append(rules, named(l, "", x+"/2 + "+y+" + 1"))
			vx, _ := values.Get(x)
			vy, _ := values.Get(y)
			values = append(values, Value{l, vx/2 + vy + 1})
			known = append(known, l)
		}
		s, err := NewSystem([]string{"D", "L"}, rapid.Permutation(rules).Draw(t, "order"))
		if err != nil {
			t.Fatal(err)
		}
		got, err := s.Solve(values[:2])
		if err != nil {
			t.Fatal(err)
		}
		for _, v := range values {
			if x, _ := got.Get(v.Letter); x != v.Value {
				t.Fatalf("%s: %v, want %v", v.Letter, x, v.Value)
			}
		}
		for _, l := range known[2:] {
			e, err := s.Inline(l)
			if err != nil {
				t.Fatal(err)
			}
			want, _ := values.Get(l)
			if x, err := e.Eval(values[:2].Get); err != nil || !close9(x, want) {
				t.Fatalf("%s: %q is %v, %v, want %v", l, e, x, err, want)
			}
		}
	})
}

func TestSetApply(t *testing.T) {
	set := &Set{Name: "Ostlemere drawing office", Source: "office sheet 7", Entries: []Entry{
		{Of: "bolt", Letter: "T", Rule: "0,75D", Source: "office sheet 8", Status: Published},
		{Of: "hexagon heads", Letter: "T", Rule: "0.7D"},
		{Of: "bolts", Letter: "A", Rule: "1.9D"},
		{Of: "hexagon heads", Letter: "Width across flats", Rule: "1.5D + 3"},
		{Of: "nut", Letter: "H", Rule: "0.9D"},
		{Of: "hexagon heads", Letter: "H", Rule: "D"},
	}}
	require.NoError(t, set.Check(bolt(), nut()))
	a, err := set.Apply(bolt())
	require.NoError(t, err)
	assert.Equal(t, []string{"W", "A", "T"}, a.Changed)
	for l, want := range map[string]string{"T": "0.75D", "A": "1.9D", "W": "1.5D + 3", "s": "L - b"} {
		r, ok := a.System.Rule(l)
		require.True(t, ok)
		assert.Equal(t, want, r.Rule.String(), l)
	}
	r, _ := a.System.Rule("T")
	assert.Equal(t, "office sheet 8", r.Source)
	assert.Equal(t, Published, r.Status)
	r, _ = a.System.Rule("W")
	assert.Equal(t, "office sheet 7", r.Source)
	assert.Equal(t, CommonPractice, r.Status)
	r, _ = a.System.Rule("s")
	assert.Equal(t, "a book", r.Source)

	a, err = set.Apply(nut())
	require.NoError(t, err)
	assert.Equal(t, []string{"W", "H"}, a.Changed)

	// A letter that only another variant of the kind has is passed over here.
	square := bolt()
	square.Rules = append(square.Rules, named("N", "length of neck", "0.8D"))
	necks := &Set{Name: "necks", Entries: []Entry{{Of: "bolt", Letter: "N", Rule: "0.7D"}}}
	require.NoError(t, necks.Check(bolt(), square))
	a, err = necks.Apply(bolt())
	require.NoError(t, err)
	assert.Empty(t, a.Changed)
	a, err = necks.Apply(square)
	require.NoError(t, err)
	assert.Equal(t, []string{"N"}, a.Changed)
	assert.Error(t, necks.Check(bolt()), "none has it")

	var none *Set
	require.NoError(t, none.Check(bolt()))
	a, err = none.Apply(bolt())
	require.NoError(t, err)
	assert.Empty(t, a.Changed)
}

// What is written for editing changes nothing when it is given back.
func TestEntriesChangeNothing(t *testing.T) {
	for _, scope := range []Scope{bolt(), nut()} {
		set := &Set{Name: "as it is", Entries: scope.Entries()}
		require.NoError(t, set.Check(scope))
		a, err := set.Apply(scope)
		require.NoError(t, err)
		assert.Empty(t, a.Changed)
		plain, err := (*Set)(nil).Apply(scope)
		require.NoError(t, err)
		assert.Equal(t, len(plain.System.Rules()), len(a.System.Rules()))
		for i, r := range a.System.Rules() {
			want := plain.System.Rules()[i]
			assert.Equal(t, [3]string{want.Letter, want.Rule.String(), want.Source}, [3]string{r.Letter, r.Rule.String(), r.Source})
			assert.Equal(t, want.Status, r.Status)
		}
	}
}

func TestSetErrors(t *testing.T) {
	at, ruleAt := Place{7, 1}, Place{9, 9}
	for _, c := range []struct {
		entries []Entry
		want    []string
		place   Place
	}{
		{[]Entry{{Of: "blot", Letter: "T", Rule: "D"}}, []string{"blot: no such kind or family; did you mean bolt?"}, at},
		{[]Entry{{Of: "bolt", Letter: "t", Rule: "D"}}, []string{"bolt: t: no such letter or name; did you mean T?"}, at},
		{[]Entry{{Of: "bolt", Letter: "head thicknes", Rule: "D"}}, []string{"bolt: head thicknes: no such letter or name; did you mean head thickness?"}, at},
		{[]Entry{{Of: "bolt", Letter: "L", Rule: "D"}}, []string{"bolt: L is given, so that no rule can make it"}, at},
		{[]Entry{{Of: "hexagon heads", Letter: "Z", Rule: "D"}}, []string{"hexagon heads: Z: no such letter or name; use one of: W, A, T, b, s, H"}, at},
		{[]Entry{{Of: "bolt", Letter: "T", Rule: "0.8D +"}}, []string{`bolt: T: rule "0.8D +": column 7: found the end, want a number, a letter, √, a function or a parenthesis`}, Place{9, 15}},
		{[]Entry{{Of: "bolt", Letter: "T", Rule: "0.8d"}}, []string{`bolt: T: rule "0.8d": column 4: d is not known here; did you mean D?`}, Place{9, 12}},
		{[]Entry{{Of: "bolt", Letter: "A", Rule: "2s"}, {Of: "bolt", Letter: "b", Rule: "A"}},
			[]string{"bolt: A: the rules go round in a circle: A → s → b → A; one of them must use letters that are known before it"}, at},
		{[]Entry{{Of: "bolt", Letter: "T", Rule: "D"}, {Of: "bolt", Letter: "head thickness", Rule: "D"}},
			[]string{"bolt: head thickness has two rules; leave one out"}, at},
		// L is known to the bolt and not to the nut.
		{[]Entry{{Of: "hexagon heads", Letter: "A", Rule: "L"}}, []string{`hexagon heads: A: rule "L": column 1: L is not known here; known: D, P, W, A, H`}, Place{9, 9}},
		// All of them, in order, each once.
		{[]Entry{{Of: "hexagon heads", Letter: "A", Rule: "2Q"}, {Of: "x", Letter: "A", Rule: "D"}}, []string{
			`hexagon heads: A: rule "2Q": column 2: Q is not known here; known: D, L, P, W, A, T, b, s`,
			"x: no such kind or family; use one of: bolt, hexagon heads, bolts, nut"}, Place{9, 10}},
	} {
		set := &Set{Name: "Ostlemere", Entries: slices.Clone(c.entries)}
		for i := range set.Entries {
			set.Entries[i].At, set.Entries[i].RuleAt = at, ruleAt
		}
		err := set.Check(bolt(), nut())
		var got []string
		for _, e := range unjoin(err) {
			got = append(got, e.Error())
		}
		assert.Equal(t, c.want, got)
		var ee *EntryError
		require.ErrorAs(t, err, &ee)
		assert.Equal(t, c.place, ee.Place(), "%v", err)
		assert.Equal(t, "Ostlemere", ee.Set)
	}
	// The cause is there to branch on.
	err := (&Set{Entries: []Entry{{Of: "bolt", Letter: "T", Rule: "2q"}}}).Check(bolt())
	var le *LetterError
	assert.True(t, errors.As(err, &le))
	assert.Equal(t, "q", le.Letter)
}

func TestStatus(t *testing.T) {
	for s := range Status(len(statusNames)) {
		text, err := s.MarshalText()
		require.NoError(t, err)
		var back Status
		require.NoError(t, back.UnmarshalText(text))
		assert.Equal(t, s, back)
	}
	s, err := ParseStatus(" From  memory")
	require.NoError(t, err)
	assert.Equal(t, FromMemory, s)
	_, err = ParseStatus("publishd")
	assert.EqualError(t, err, "publishd: no such status; did you mean published?")
	assert.Equal(t, "unknown status", Status(99).String())
	_, err = Status(99).MarshalText()
	assert.Error(t, err)
	assert.Equal(t, FromMemory, Weakest(Published, FromMemory, Derived))
	assert.Equal(t, PublishedInPart, Weakest(CommonPractice, PublishedInPart))
	assert.Equal(t, Published, Weakest(Published))
}
