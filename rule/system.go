package rule

import "slices"

// Named is a rule with what it makes.
type Named struct {
	Letter string // as on the drawing, such as "T"
	Name   string // the trade's name in full, such as "head thickness"
	Rule   *Expr
	Source string // the standard, the book, or the nature of the rule
	Status Status
	Fixed  bool // it follows from others, so that no set can replace it
}

// A Value is the value of a letter.
type Value struct {
	Letter string
	Value  float64
}

// Values are the values of letters, in an order of their own.
type Values []Value

// Get returns the value of a letter, and whether there is one. It is what
// [Expr.Eval] asks for.
func (vs Values) Get(letter string) (float64, bool) {
	for i := range vs {
		if vs[i].Letter == letter {
			return vs[i].Value, true
		}
	}
	return 0, false
}

// A System is a set of rules that use letters of each other, in an order in
// which each can be worked out. It does not change and may be used by many
// goroutines at once.
type System struct {
	given []string
	rules []Named // in the order of working out
}

// NewSystem orders rules so that each comes after those whose letters it uses,
// and otherwise stays where it was. given are the letters whose values are
// known before any rule, such as D, L and P.
//
// The error is a [*DuplicateError] for a letter with two rules or a rule and a
// given value, a [*NameError] for a letter that is none, a [*LetterError] for
// one that is neither given nor made by a rule, and a [*CycleError] for rules
// that go round in a circle.
func NewSystem(given []string, rules []Named) (*System, error) {
	s := &System{given: slices.Clone(given)}
	known := slices.Clone(given)
	for _, r := range rules {
		switch {
		case !ValidLetter(r.Letter):
			return nil, &NameError{What: "letter", Name: r.Letter}
		case slices.Contains(given, r.Letter):
			return nil, &DuplicateError{Letter: r.Letter, Given: true}
		case slices.Contains(known, r.Letter):
			return nil, &DuplicateError{Letter: r.Letter}
		}
		known = append(known, r.Letter)
	}
	for _, r := range rules {
		if err := r.Rule.check(known); err != nil {
			return nil, err
		}
	}
	if err := s.order(rules); err != nil {
		return nil, err
	}
	return s, nil
}

// check returns a *LetterError for the first letter that is not known.
func (e *Expr) check(known []string) error {
	var err error
	e.tree().walk(func(n *node) {
		if err == nil && n.op == opLetter && !slices.Contains(known, n.text) {
			err = &LetterError{Input: e.input, Column: n.col, Letter: n.text, Near: Near(n.text, known), Known: slices.Clone(known)}
		}
	})
	return err
}

// order puts rules into s, always the first of those left whose letters are
// known.
func (s *System) order(rules []Named) error {
	left := slices.Clone(rules)
	waits := func(r Named) (string, bool) {
		for _, l := range r.Rule.letters {
			if slices.ContainsFunc(left, func(o Named) bool { return o.Letter == l }) {
				return l, true
			}
		}
		return "", false
	}
	for len(left) > 0 {
		i := slices.IndexFunc(left, func(r Named) bool { _, w := waits(r); return !w })
		if i < 0 {
			return circle(left, waits)
		}
		s.rules = append(s.rules, left[i])
		left = slices.Delete(left, i, i+1)
	}
	return nil
}

// circle finds a circle among rules that all wait for others of them.
func circle(left []Named, waits func(Named) (string, bool)) error {
	var path []string
	for r := left[0]; ; {
		if i := slices.Index(path, r.Letter); i >= 0 {
			return &CycleError{Letters: path[i:]}
		}
		path = append(path, r.Letter)
		next, _ := waits(r)
		r = left[slices.IndexFunc(left, func(o Named) bool { return o.Letter == next })]
	}
}

// Given returns the letters that are known before any rule. The slice is the
// caller's own.
func (s *System) Given() []string { return slices.Clone(s.given) }

// Rules returns the rules in the order of working out. The slice is the
// caller's own.
func (s *System) Rules() []Named { return slices.Clone(s.rules) }

// Rule returns the rule that makes a letter, and whether there is one.
func (s *System) Rule(letter string) (Named, bool) {
	for i := range s.rules {
		if s.rules[i].Letter == letter {
			return s.rules[i], true
		}
	}
	return Named{}, false
}

// Solve works out all rules. It returns the given values and behind them those
// of the rules, in the order of working out. given must have a value for every
// given letter that a rule uses. Errors are those of [Expr.Eval].
func (s *System) Solve(given Values) (Values, error) {
	values := make(Values, len(given), len(given)+len(s.rules))
	copy(values, given)
	for i := range s.rules {
		x, err := s.rules[i].Rule.Eval(values.Get)
		if err != nil {
			return nil, err
		}
		values = append(values, Value{s.rules[i].Letter, x})
	}
	return values, nil
}

// Inline returns the rule of a letter in the letters that stay, and in given
// ones: rules are put in the place of all others, as [Expr.Inline] does it. The
// error is a [*NameError] for a letter without a rule, or a [*SizeError].
func (s *System) Inline(letter string, stay ...string) (*Expr, error) {
	r, ok := s.Rule(letter)
	if !ok {
		return nil, &NameError{What: "letter", Name: letter, Near: Near(letter, s.letters()), Known: s.letters()}
	}
	e, err := r.Rule.Inline(func(l string) *Expr {
		if slices.Contains(stay, l) {
			return nil
		}
		if r, ok := s.Rule(l); ok {
			return r.Rule
		}
		return nil
	})
	if size, ok := err.(*SizeError); ok {
		size.Letter = letter
	}
	return e, err
}

func (s *System) letters() []string {
	var out []string
	for _, r := range s.rules {
		out = append(out, r.Letter)
	}
	return out
}

// Needs returns the letters whose rules it takes to work a letter out, and the
// letter itself, in the order of working out. Given letters are left out. That
// is the key to a figure that shows the rule of letter.
func (s *System) Needs(letter string) []string {
	need := map[string]bool{letter: true}
	for _, r := range slices.Backward(s.rules) {
		if need[r.Letter] {
			for _, l := range r.Rule.letters {
				need[l] = true
			}
		}
	}
	var out []string
	for _, r := range s.rules {
		if need[r.Letter] {
			out = append(out, r.Letter)
		}
	}
	return out
}
