package rule

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"
)

// A Set holds rules of one's own, such as those of a college or an office,
// which take the place of the ones a kind of part has. Where it comes from does
// not matter: a program can make it, and a command can read it from a file.
type Set struct {
	Name    string // as a drawing names the set it follows, "Ostlemere drawing office"
	Source  string // of entries that name none
	Entries []Entry
}

// An Entry is one rule of a set.
type Entry struct {
	Of     string // the kind or the family it holds for, such as "hex-bolt" or "hexagon heads"
	Letter string // the letter or the full name of what it makes, "T" or "head thickness"
	Rule   string // as [Parse] reads it, in the letters of the kind
	Source string // the source; "" for that of the set
	Status Status // [Given] stands for common practice
	At     Place  // of the entry in its file
	RuleAt Place  // of the first character of Rule in its file
}

// A Place is where something stands in a file, counted from 1. The zero value
// is nowhere, for what a program made.
type Place struct {
	Line, Column int
}

// A Scope is what a part gives to rules of one's own: the names of its kind,
// the letters it knows and the rules it has. Variants of a kind, such as a bolt
// with and without a square neck, may have scopes of their own.
type Scope struct {
	Kind     string
	Families []string // groups of kinds it belongs to, nearest first
	Given    []string // letters known before any rule
	Rules    []Named
}

// EntryError reports what is wrong with an entry of a set. It unwraps to the
// cause: a [*NameError], [*SyntaxError], [*LetterError], [*CycleError] or
// [*DuplicateError].
type EntryError struct {
	Set   string // name of the set
	Index int    // of the entry in the set, from 0
	Entry Entry
	Field string // "of", "letter" or "rule"
	Err   error
}

func (e *EntryError) Error() string {
	switch e.Field {
	case "of":
		return e.Err.Error()
	case "letter":
		return fmt.Sprintf("%s: %v", clip(e.Entry.Of), e.Err)
	}
	return fmt.Sprintf("%s: %s: %v", clip(e.Entry.Of), clip(e.Entry.Letter), e.Err)
}

// Unwrap returns the cause.
func (e *EntryError) Unwrap() error { return e.Err }

// Place returns where in the file the error is: at the character of the rule
// that is wrong, where the error names one, otherwise at the entry.
func (e *EntryError) Place() Place {
	if c := columnOf(e.Err); e.Field == "rule" && c > 0 && e.Entry.RuleAt.Line > 0 {
		return Place{e.Entry.RuleAt.Line, e.Entry.RuleAt.Column + c - 1}
	}
	return e.Entry.At
}

// Applied is what a set makes of the rules of a kind.
type Applied struct {
	System  *System
	Changed []string // the letters that have another rule now, in the order of working out
}

// Apply puts the rules of the set in the place of those of a kind. An entry
// for the kind goes before one for a family, and one for a nearer family before
// one for a farther. Entries for other kinds and families are passed over, and
// so are those for a letter that is not here, since another part of the kind or
// family may have it; [Set.Check] finds letters that none has. A nil set changes
// nothing.
//
// The error is an [*EntryError] for each entry that does not fit, joined, or
// that of [NewSystem].
func (s *Set) Apply(scope Scope) (Applied, error) {
	rules := slices.Clone(scope.Rules)
	by := make([]int, len(rules)) // the entry that made each rule, and 1; 0 for none
	var errs []error
	if s != nil {
		errs = s.overlay(scope, rules, by)
	}
	if err := errors.Join(errs...); err != nil {
		return Applied{}, err
	}
	system, err := NewSystem(scope.Given, rules)
	if err != nil {
		return Applied{}, s.blame(err, rules, by)
	}
	a := Applied{System: system}
	for _, r := range system.rules {
		i := slices.IndexFunc(scope.Rules, func(o Named) bool { return o.Letter == r.Letter })
		if !r.Rule.Equal(scope.Rules[i].Rule) {
			a.Changed = append(a.Changed, r.Letter)
		}
	}
	return a, nil
}

// overlay replaces rules by the entries of the set that hold for the scope.
func (s *Set) overlay(scope Scope, rules []Named, by []int) (errs []error) {
	for i, e := range s.Entries {
		near := scope.nearness(e.Of)
		if near < 0 {
			continue
		}
		at := find(rules, e.Letter)
		if at < 0 {
			continue
		}
		if before := by[at] - 1; before >= 0 {
			switch was := scope.nearness(s.Entries[before].Of); {
			case was == near:
				errs = append(errs, s.fail(i, "letter", &DuplicateError{Letter: e.Letter}))
				continue
			case was < near:
				continue
			}
		}
		parsed, err := Parser{Letters: scope.letters()}.Parse(e.Rule)
		if err != nil {
			errs = append(errs, s.fail(i, "rule", err))
			continue
		}
		by[at] = i + 1
		rules[at].Rule, rules[at].Source, rules[at].Status = parsed, s.source(e), e.status()
	}
	return errs
}

// Check looks through the whole set, against all kinds that there are, with a
// scope for each variant of a kind that has other letters: that each entry names
// a kind or a family and a letter that one of its scopes has, and that the rules
// of every scope can be worked out. It returns every error once, an
// [*EntryError] each, joined in the order of the entries.
func (s *Set) Check(scopes ...Scope) error {
	if s == nil {
		return nil
	}
	var found []*EntryError
	var rest []error
	for i, e := range s.Entries {
		if err := s.checkName(i, e, scopes); err != nil {
			found = append(found, err)
		}
	}
	for _, scope := range scopes {
		_, err := s.Apply(scope)
		for _, one := range unjoin(err) {
			if entry, ok := one.(*EntryError); ok {
				found = append(found, entry)
			} else {
				rest = append(rest, fmt.Errorf("%s: %w", scope.Kind, one))
			}
		}
	}
	slices.SortStableFunc(found, func(a, b *EntryError) int { return a.Index - b.Index })
	seen := map[string]bool{}
	var errs []error
	for _, e := range found {
		// Kinds of a family know other letters, which the message lists.
		key := fmt.Sprintf("%d %s %d %T", e.Index, e.Field, columnOf(e.Err), e.Err)
		if !seen[key] {
			seen[key] = true
			errs = append(errs, e)
		}
	}
	return errors.Join(append(errs, rest...)...)
}

// checkName reports an entry whose kind, family or letter is not known at all.
func (s *Set) checkName(i int, e Entry, scopes []Scope) *EntryError {
	var names []string
	var of []Scope
	for _, scope := range scopes {
		if scope.nearness(e.Of) >= 0 {
			of = append(of, scope)
		}
		for _, n := range append([]string{scope.Kind}, scope.Families...) {
			if !slices.Contains(names, n) {
				names = append(names, n)
			}
		}
	}
	if len(of) == 0 {
		return s.fail(i, "of", &NameError{What: "kind or family", Name: e.Of, Near: nearNames(e.Of, names), Known: names})
	}
	var all Scope
	for _, scope := range of {
		if find(scope.Rules, e.Letter) >= 0 {
			return nil
		}
		all.Given = append(all.Given, scope.Given...)
		all.Rules = append(all.Rules, scope.Rules...)
	}
	return s.fail(i, "letter", all.unknown(e.Letter))
}

// nearness returns 0 for the kind itself, 1 for its nearest family, and so on,
// and a negative number for what it does not belong to.
func (s Scope) nearness(of string) int {
	if of == s.Kind {
		return 0
	}
	if i := slices.Index(s.Families, of); i >= 0 {
		return i + 1
	}
	return -1
}

// find returns the index of the rule of a letter or of a full name, or -1.
func find(rules []Named, letter string) int {
	i := slices.IndexFunc(rules, func(r Named) bool { return r.Letter == letter })
	if i < 0 {
		i = slices.IndexFunc(rules, func(r Named) bool { return r.Name != "" && strings.EqualFold(r.Name, letter) })
	}
	return i
}

func (s Scope) letters() []string {
	out := slices.Clone(s.Given)
	for _, r := range s.Rules {
		out = append(out, r.Letter)
	}
	return out
}

// unknown says what is wrong with a letter that has no rule here.
func (s Scope) unknown(letter string) error {
	if slices.Contains(s.Given, letter) {
		return &DuplicateError{Letter: letter, Given: true}
	}
	var letters, names []string
	for _, r := range s.Rules {
		if !slices.Contains(letters, r.Letter) {
			letters = append(letters, r.Letter)
			names = append(names, r.Name)
		}
	}
	near := nearNames(letter, letters)
	if utf8.RuneCountInString(letter) > 3 {
		near = nearNames(letter, names)
	}
	return &NameError{What: "letter or name", Name: letter, Near: near, Known: letters}
}

func (s *Set) fail(i int, field string, err error) *EntryError {
	return &EntryError{Set: s.Name, Index: i, Entry: s.Entries[i], Field: field, Err: err}
}

// blame finds the entry that made rules impossible to work out together.
func (s *Set) blame(err error, rules []Named, by []int) error {
	circle, ok := err.(*CycleError)
	if !ok || s == nil {
		return err
	}
	for i, r := range rules {
		if by[i] > 0 && slices.Contains(circle.Letters, r.Letter) {
			return s.fail(by[i]-1, "rule", err)
		}
	}
	return err
}

func (s *Set) source(e Entry) string {
	switch {
	case e.Source != "":
		return e.Source
	case s.Source != "":
		return s.Source
	}
	return s.Name
}

func (e Entry) status() Status {
	if e.Status == Given {
		return CommonPractice
	}
	return e.Status
}

// unjoin returns the errors that were joined, or the one that was not.
func unjoin(err error) []error {
	if err == nil {
		return nil
	}
	if j, ok := err.(interface{ Unwrap() []error }); ok {
		return j.Unwrap()
	}
	return []error{err}
}

// Entries returns the rules of the kind as entries of a set, in their order:
// what one writes to a file in order to change it. Applied to the kind they
// change nothing.
func (s Scope) Entries() []Entry {
	out := make([]Entry, len(s.Rules))
	for i, r := range s.Rules {
		out[i] = Entry{Of: s.Kind, Letter: r.Letter, Rule: r.Rule.String(), Source: r.Source, Status: r.Status}
	}
	return out
}
