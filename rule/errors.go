package rule

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// SyntaxError reports text that is not a rule.
type SyntaxError struct {
	Input  string // the whole text
	Column int    // of the offending character in Input, counted in characters from 1
	Found  string // what stands there; "" at the end of Input
	Want   string // what would be right there
}

func (e *SyntaxError) Error() string {
	found := "the end"
	if e.Found != "" {
		found = fmt.Sprintf("%q", clip(e.Found))
	}
	return fmt.Sprintf("rule %q: column %d: found %s, want %s", clip(e.Input), e.Column, found, e.Want)
}

// LetterError reports a letter that is not known where it is used.
type LetterError struct {
	Input  string   // the rule's whole text
	Column int      // of the letter in Input, counted in characters from 1
	Letter string   // the letter
	Near   []string // known letters that may have been meant; may be empty
	Known  []string // the known letters; nil where the one who evaluates did not say
}

func (e *LetterError) Error() string {
	if e.Letter == "" {
		return "there is no rule; rule.Parse makes one"
	}
	msg := fmt.Sprintf("rule %q: column %d: %s is not known here", clip(e.Input), e.Column, clip(e.Letter))
	switch {
	case len(e.Near) > 0:
		msg += "; did you mean " + orList(e.Near) + "?"
	case e.Letter == "x" || e.Letter == "X":
		msg += "; for times write × or *"
	}
	if len(e.Near) == 0 && len(e.Known) > 0 {
		msg += "; known: " + strings.Join(first(e.Known, 16), ", ")
	}
	return msg
}

// ValueError reports a step that cannot be worked out: a division by zero, the
// root of a negative number, or a result that is not a finite number.
type ValueError struct {
	Rule   string  // the rule's whole text
	Column int     // of the step in Rule, counted in characters from 1
	Step   string  // "√", "division", "D"
	Value  float64 // what the step was given
	Want   string  // what would be right
}

func (e *ValueError) Error() string {
	return fmt.Sprintf("rule %q: column %d: %s of %s: want %s", clip(e.Rule), e.Column, e.Step, Format{Decimals: 6}.Number(e.Value), e.Want)
}

// SizeError reports a rule that became too long by putting rules into it.
type SizeError struct {
	Letter string // whose rule it is; may be ""
	Limit  int    // characters
}

func (e *SizeError) Error() string {
	of := "the rule"
	if e.Letter != "" {
		of = "the rule of " + clip(e.Letter)
	}
	return fmt.Sprintf("%s is longer than %d characters with other rules put into it; keep some letters", of, e.Limit)
}

// CycleError reports letters whose rules go round in a circle, so that none of
// them is known before it is used.
type CycleError struct {
	Letters []string // each uses the next, and the last the first
}

func (e *CycleError) Error() string {
	if len(e.Letters) == 1 {
		return fmt.Sprintf("the rule of %s uses %[1]s itself; use letters that are known before it", e.Letters[0])
	}
	return fmt.Sprintf("the rules go round in a circle: %s → %s; one of them must use letters that are known before it",
		strings.Join(e.Letters, " → "), e.Letters[0])
}

// DuplicateError reports a letter that has two rules, or a rule and a given
// value.
type DuplicateError struct {
	Letter string
	Given  bool // it has a given value
}

func (e *DuplicateError) Error() string {
	if e.Given {
		return fmt.Sprintf("%s is given, so that no rule can make it", clip(e.Letter))
	}
	return fmt.Sprintf("%s has two rules; leave one out", clip(e.Letter))
}

// FixedError reports a letter that a set cannot give a rule, since it follows
// from others.
type FixedError struct {
	Letter string
	Rule   string // what it follows by
}

func (e *FixedError) Error() string {
	return fmt.Sprintf("%s follows from others, by %s; change those", clip(e.Letter), e.Rule)
}

// NameError reports a name that is none of the known ones.
type NameError struct {
	What  string   // "kind or family", "letter or name", "status"
	Name  string   // as given
	Near  []string // known names that may have been meant; may be empty
	Known []string
}

func (e *NameError) Error() string {
	msg := fmt.Sprintf("%s: no such %s", clip(e.Name), e.What)
	if len(e.Near) > 0 {
		return msg + "; did you mean " + orList(e.Near) + "?"
	}
	if len(e.Known) > 0 {
		msg += "; use one of: " + strings.Join(first(e.Known, 16), ", ")
	}
	return msg
}

// columnOf returns the column that err names in the text of a rule, or 0.
func columnOf(err error) int {
	switch e := err.(type) {
	case *SyntaxError:
		return e.Column
	case *LetterError:
		return e.Column
	case *ValueError:
		return e.Column
	}
	return 0
}

// Near returns up to three of the known words that name is likely to stand for:
// the same in upper or lower case first, then those a few slips away, the
// nearest first, then those that go on from it.
func Near(name string, known []string) []string {
	const most = 3
	var near []string
	add := func(fits func(string) bool) {
		for _, k := range known {
			if len(near) < most && fits(k) && !contains(near, k) {
				near = append(near, k)
			}
		}
	}
	add(func(k string) bool { return strings.EqualFold(k, name) })
	for slips := range slipsIn(name) {
		add(func(k string) bool { return distance(name, k) == slips+1 })
	}
	add(func(k string) bool { return name != "" && len(k) > len(name) && strings.EqualFold(k[:len(name)], name) })
	return near
}

// slipsIn returns how many slips a word may hold and still be known again.
func slipsIn(name string) int {
	n := utf8.RuneCountInString(name)
	if n < 4 {
		return n / 2
	}
	return max(2, n/3)
}

// distance counts the characters to insert, leave out or replace.
func distance(a, b string) int {
	x, y := []rune(a), []rune(b)
	row := make([]int, len(y)+1)
	for j := range row {
		row[j] = j
	}
	for i := range x {
		diagonal := row[0]
		row[0] = i + 1
		for j := range y {
			cost := diagonal
			if unicode.ToLower(x[i]) != unicode.ToLower(y[j]) {
				cost++
			}
			diagonal = row[j+1]
			row[j+1] = min(cost, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(y)]
}

func contains(list []string, s string) bool {
	for _, x := range list {
		if x == s {
			return true
		}
	}
	return false
}

func first(list []string, n int) []string {
	if len(list) > n {
		return append(append([]string{}, list[:n]...), "…")
	}
	return list
}

func orList(list []string) string {
	if len(list) == 1 {
		return list[0]
	}
	return strings.Join(list[:len(list)-1], ", ") + " or " + list[len(list)-1]
}

// clip shortens text from outside for a message.
func clip(s string) string {
	const most = 60
	n := 0
	for i := range s {
		if n == most {
			return s[:i] + "…"
		}
		n++
	}
	return s
}
