package rule

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Bounds of a rule. They are far beyond what a drawing can show.
const (
	maxLength = 400 // characters
	maxNodes  = 400
	maxDepth  = 40 // parentheses in each other
	maxDigits = 15 // of a number, as many as a float64 holds
	maxWord   = 24 // characters of a word
)

type tokenKind uint8

const (
	tokenEnd    tokenKind = iota
	tokenSign             // + - × / ^ ² ³ ( ) , ≈ °
	tokenNumber           // text with a decimal point
	tokenWord             // letters and digits, not yet told apart
	tokenLetter
	tokenFunc // √ sin cos tan
	tokenCall // min max ...
	tokenPi
)

type token struct {
	kind tokenKind
	text string
	col  int
}

// signs are the spellings of the signs.
var signs = map[rune]string{
	'+': "+", '-': "-", '−': "-", '–': "-", '—': "-", '‐': "-", '‑': "-", '‒': "-",
	'*': "×", '×': "×", '·': "×", '⋅': "×",
	'/': "/", '÷': "/", '∕': "/", '⁄': "/",
	'^': "^", '²': "²", '³': "³", '(': "(", ')': ")", ',': ",", ';': ",", '≈': "≈", '~': "≈", '°': "°",
}

// vulgar are the fractions that have a character of their own.
var vulgar = map[rune][2]int{
	'½': {1, 2}, '¼': {1, 4}, '¾': {3, 4}, '⅓': {1, 3}, '⅔': {2, 3}, '⅕': {1, 5}, '⅖': {2, 5}, '⅗': {3, 5}, '⅘': {4, 5},
	'⅙': {1, 6}, '⅚': {5, 6}, '⅐': {1, 7}, '⅛': {1, 8}, '⅜': {3, 8}, '⅝': {5, 8}, '⅞': {7, 8}, '⅑': {1, 9}, '⅒': {1, 10},
}

// scanner cuts text into tokens.
type scanner struct {
	s      string
	i      int // offset of the next byte
	col    int // column of the next character
	semi   bool
	tokens []token
	inCall []bool // for each open parenthesis, whether a function's arguments stand in it
}

func scan(s string) ([]token, error) {
	if n := utf8.RuneCountInString(s); n > maxLength {
		return nil, &SyntaxError{Input: s, Column: maxLength + 1, Found: "more", Want: "no more than " + strconv.Itoa(maxLength) + " characters"}
	}
	sc := &scanner{s: s, col: 1, semi: strings.Contains(s, ";")}
	for {
		r := sc.peek()
		var err error
		switch _, sign := signs[r]; {
		case r == 0 && sc.i == len(s):
			sc.emit(tokenEnd, "", sc.col)
			return sc.tokens, nil
		case unicode.IsSpace(r):
			sc.next()
		case digit(r), r == '.':
			err = sc.number()
		case vulgar[r] != [2]int{}:
			sc.vulgar("0", sc.col)
		case r == '√':
			sc.emit(tokenFunc, "√", sc.col)
			sc.next()
		case sign:
			err = sc.sign(r)
		case unicode.IsLetter(r):
			sc.word()
		default:
			err = sc.fail("a number, a letter or one of + - × / ^ ² ³ √ ( ) , ≈ °")
		}
		if err != nil {
			return nil, err
		}
	}
}

// peek returns the next character; at the end 0.
func (sc *scanner) peek() rune {
	r, n := utf8.DecodeRuneInString(sc.s[sc.i:])
	if n == 0 {
		return 0
	}
	return r
}

// next takes the next character.
func (sc *scanner) next() rune {
	r, n := utf8.DecodeRuneInString(sc.s[sc.i:])
	sc.i += n
	sc.col++
	return r
}

func (sc *scanner) emit(kind tokenKind, text string, col int) {
	sc.tokens = append(sc.tokens, token{kind, text, col})
}

func (sc *scanner) fail(want string) error {
	_, n := utf8.DecodeRuneInString(sc.s[sc.i:])
	return &SyntaxError{Input: sc.s, Column: sc.col, Found: sc.s[sc.i : sc.i+n], Want: want}
}

func digit(r rune) bool { return '0' <= r && r <= '9' }

// number takes a number with a decimal point or comma, and a fraction behind
// it.
func (sc *scanner) number() error {
	col, start := sc.col, sc.i
	whole := sc.digits()
	text := whole
	if r := sc.peek(); r == '.' || r == ',' && digit(sc.after()) {
		if r == ',' && sc.arguments() && !sc.semi {
			return sc.fail("a point, or a blank behind a comma that separates; among the arguments of a function it could be either")
		}
		sc.next()
		part := sc.digits()
		if part == "" {
			return sc.fail("a digit behind the decimal point")
		}
		text = whole + "." + part
		if r := sc.peek(); r == '.' || r == ',' && digit(sc.after()) {
			return sc.fail("one decimal point in a number")
		}
	}
	if f := vulgar[sc.peek()]; f != [2]int{} && !strings.Contains(text, ".") {
		if len(text) > 4 {
			return &SyntaxError{Input: sc.s, Column: col, Found: sc.s[start:sc.i], Want: "a whole number below 10000 before a fraction"}
		}
		sc.vulgar(text, col)
		return nil
	}
	if text = tidyNumber(text); significant(text) > maxDigits {
		return &SyntaxError{Input: sc.s, Column: col, Found: sc.s[start:sc.i], Want: "no more than " + strconv.Itoa(maxDigits) + " digits"}
	}
	sc.emit(tokenNumber, text, col)
	return nil
}

// after returns the character after the next one, which has one byte.
func (sc *scanner) after() rune {
	r, _ := utf8.DecodeRuneInString(sc.s[sc.i+1:])
	return r
}

func (sc *scanner) digits() string {
	start := sc.i
	for digit(sc.peek()) {
		sc.next()
	}
	return sc.s[start:sc.i]
}

// arguments reports whether the innermost open parenthesis is that of a
// function with several arguments.
func (sc *scanner) arguments() bool {
	return len(sc.inCall) > 0 && sc.inCall[len(sc.inCall)-1]
}

// vulgar takes a fraction that is one character, after a whole number. It
// becomes a decimal number, or a division in parentheses.
func (sc *scanner) vulgar(whole string, col int) {
	f := vulgar[sc.next()]
	n, _ := strconv.Atoi(whole)
	p, q := n*f[1]+f[0], f[1]
	switch q {
	case 2, 4, 5, 8, 10:
		sc.emit(tokenNumber, strconv.FormatFloat(float64(p)/float64(q), 'f', -1, 64), col)
		return
	}
	sc.emit(tokenSign, "(", col)
	sc.emit(tokenNumber, strconv.Itoa(p), col)
	sc.emit(tokenSign, "/", col)
	sc.emit(tokenNumber, strconv.Itoa(q), col)
	sc.emit(tokenSign, ")", col)
}

func (sc *scanner) sign(r rune) error {
	switch r {
	case '(':
		last := token{}
		if len(sc.tokens) > 0 {
			last = sc.tokens[len(sc.tokens)-1]
		}
		sc.inCall = append(sc.inCall, last.kind == tokenWord && endsInCall(last.text))
	case ')':
		sc.inCall = sc.inCall[:max(len(sc.inCall)-1, 0)]
	case ',':
		if sc.semi {
			return sc.fail("a semicolon, as between the other arguments")
		}
	}
	sc.emit(tokenSign, signs[r], sc.col)
	sc.next()
	return nil
}

func endsInCall(word string) bool {
	for name := range calls {
		if strings.HasSuffix(word, name) {
			return true
		}
	}
	return false
}

// word takes a letter with what belongs to it: letters, digits and primes.
func (sc *scanner) word() {
	col := sc.col
	var b strings.Builder
	for {
		r := sc.peek()
		switch {
		case '₀' <= r && r <= '₉':
			b.WriteRune(r - '₀' + '0')
		case r == '\'' || r == '’' || r == '′':
			b.WriteByte('\'')
		case unicode.IsLetter(r), digit(r):
			b.WriteRune(r)
		default:
			sc.emit(tokenWord, b.String(), col)
			return
		}
		sc.next()
	}
}

// tidyNumber leaves out zeros that say nothing.
func tidyNumber(text string) string {
	whole, part, _ := strings.Cut(text, ".")
	whole = strings.TrimLeft(whole, "0")
	part = strings.TrimRight(part, "0")
	if whole == "" {
		whole = "0"
	}
	if part == "" {
		return whole
	}
	return whole + "." + part
}

// significant counts the digits of a tidy number, those that only say where
// the point is as well.
func significant(text string) int {
	whole, part, _ := strings.Cut(text, ".")
	return len(strings.TrimLeft(whole, "0")) + len(part)
}
