package rule

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// ValidLetter reports whether s can be a letter of a rule: a letter with
// letters, digits and primes behind it, as D, d3, Lt or R', that is not and
// does not hold the name of a function of angles. Ten characters are the most.
func ValidLetter(s string) bool {
	if s == "" || utf8.RuneCountInString(s) > 10 || !utf8.ValidString(s) {
		return false
	}
	for i, r := range s {
		switch {
		case unicode.IsLetter(r):
		case i > 0 && (digit(r) || r == '\''):
		default:
			return false
		}
	}
	return !reserved(s) && functionIn(s) == ""
}

// reserved reports whether word has a meaning of its own.
func reserved(word string) bool {
	_, isFunc := bareFuncs[word]
	_, isCall := calls[word]
	return isFunc || isCall || word == "pi" || word == "π" || word == "deg"
}

// functionIn returns the name of a function that takes one operand and stands
// inside word, or "".
func functionIn(word string) string {
	for _, name := range [...]string{"sqrt", "sin", "cos", "tan"} {
		if strings.Contains(word, name) {
			return name
		}
	}
	return ""
}

// meaning returns the token that a word of its own means, if it is reserved.
func meaning(t token) (token, bool) {
	_, isFunc := bareFuncs[t.text]
	_, isCall := calls[t.text]
	switch {
	case t.text == "sqrt":
		return token{tokenFunc, "√", t.col}, true
	case isFunc:
		return token{tokenFunc, t.text, t.col}, true
	case isCall:
		return token{tokenCall, t.text, t.col}, true
	case t.text == "pi", t.text == "π":
		return token{tokenPi, "π", t.col}, true
	case t.text == "deg":
		return token{tokenSign, "°", t.col}, true
	}
	return token{}, false
}

// A vocabulary tells words apart.
type vocabulary struct {
	input   string
	letters []string // the known letters; nil where any will do
	longest int      // characters of the longest known word
}

func newVocabulary(input string, letters []string) *vocabulary {
	v := &vocabulary{input: input, letters: letters, longest: 5}
	for _, l := range letters {
		v.longest = max(v.longest, utf8.RuneCountInString(l))
	}
	return v
}

func (v *vocabulary) known(s string) bool {
	if v.letters == nil {
		return ValidLetter(s)
	}
	return contains(v.letters, s) && ValidLetter(s)
}

// words replaces the words among tokens by what they mean.
func (v *vocabulary) words(tokens []token) ([]token, error) {
	out := make([]token, 0, len(tokens)+4)
	for _, t := range tokens {
		if t.kind != tokenWord {
			out = append(out, t)
			continue
		}
		split, err := v.split(t)
		if err != nil {
			return nil, err
		}
		out = append(out, split...)
	}
	return out, nil
}

// split tells what a word means: one letter or name if it can, otherwise
// several side by side, the longest first, as Dcos30 or CLt.
func (v *vocabulary) split(t token) ([]token, error) {
	if utf8.RuneCountInString(t.text) > maxWord {
		return nil, &SyntaxError{Input: v.input, Column: t.col, Found: t.text, Want: "letters of one or a few characters, with × or a blank between them"}
	}
	if m, ok := meaning(t); ok {
		return []token{m}, nil
	}
	if v.known(t.text) {
		return []token{{tokenLetter, t.text, t.col}}, nil
	}
	if parts := v.parts([]rune(t.text), t.col, false, &deadEnds{}); parts != nil {
		return parts, nil
	}
	if v.letters == nil {
		return nil, v.unclear(t)
	}
	return nil, &LetterError{Input: v.input, Column: t.col, Letter: t.text, Near: nearNames(t.text, v.letters), Known: v.letters}
}

// deadEnds remembers from where on a word could not be cut, so that cutting
// stays quick: by the characters left, first those behind a letter, then those
// behind a function.
type deadEnds [2*maxWord + 1]bool

// parts cuts a word into known letters and names, longest first; it returns
// nil where that cannot be done. Without known letters only a number behind the
// name of a function is cut off, as in cos30. A number can stand nowhere else,
// since digits belong to the letter before them.
func (v *vocabulary) parts(word []rune, col int, angle bool, dead *deadEnds) []token {
	if len(word) == 0 {
		return []token{}
	}
	been := &dead[len(word)]
	if angle {
		been = &dead[maxWord+len(word)]
	}
	if *been {
		return nil
	}
	*been = true // unless this returns something, and then nobody comes again
	if angle && digit(word[0]) {
		n := 1
		for n < len(word) && digit(word[n]) {
			n++
		}
		if rest := v.parts(word[n:], col+n, false, dead); rest != nil && n <= maxDigits {
			return append([]token{{tokenNumber, tidyNumber(string(word[:n])), col}}, rest...)
		}
		return nil
	}
	for n := min(len(word), v.longest); n > 0; n-- {
		t, named := meaning(token{tokenWord, string(word[:n]), col})
		switch {
		case named && t.kind == tokenSign:
			continue
		case !named && (v.letters == nil || !v.known(string(word[:n]))):
			continue
		case !named:
			t = token{tokenLetter, string(word[:n]), col}
		}
		if rest := v.parts(word[n:], col+n, t.kind == tokenFunc, dead); rest != nil {
			return append([]token{t}, rest...)
		}
	}
	return nil
}

// unclear says what is wrong with a word where any letter will do.
func (v *vocabulary) unclear(t token) error {
	if f := functionIn(t.text); f != "" {
		before, after, _ := strings.Cut(t.text, f)
		return &SyntaxError{Input: v.input, Column: t.col, Found: t.text, Want: strings.TrimSpace(before+" "+f+" "+after) + ", with blanks"}
	}
	return &SyntaxError{Input: v.input, Column: t.col, Found: t.text, Want: "letters of one or a few characters, with × or a blank between them"}
}
