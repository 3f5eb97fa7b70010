package thread

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Parser reads designations. The zero value has the rules of [Parse].
type Parser struct {
	AllowUnlisted bool // also take diameters and pitches that ISO 261 does not list
}

// Parse reads the designation of a thread that ISO 261 lists, such as "M12",
// "M12 × 1.25", "M12x1.25-6g-LH" or "m 12 * 1,25 - 6G/6h". Its parts are
//
//	M      upper or lower case
//	d      the nominal diameter, mm, with a decimal point or comma
//	× P    the pitch, mm, after ×, x, X or *; the coarse one when left out
//	-class the tolerance class: a grade 3 to 9 and a letter, e f g h for a
//	       bolt, G H for a nut; two such when the pitch diameter and the crest
//	       differ, as 5g6g; nut and bolt joined by a slash, as 6H/5g6g
//	-LH    a left-hand thread, upper or lower case; RH is taken too
//
// Blanks may stand between the parts, and any kind of hyphen or dash for the
// hyphen, which may be left out before LH. The case of the letter of a class
// matters. A class that says the same twice, 6g6g, is shortened to 6g.
// Threads of several starts and lengths of engagement are not read.
//
// The error is a [*SyntaxError], [*ValueError], [*SizeError] or [*PitchError],
// with the column at which it was found.
func Parse(s string) (Thread, error) { return Parser{}.Parse(s) }

// MustParse is [Parse] for literals in programs and tests: it panics on an
// error.
func MustParse(s string) Thread {
	t, err := Parse(s)
	if err != nil {
		panic("thread: MustParse: " + err.Error())
	}
	return t
}

// Parse reads a designation as the function [Parse] does. With AllowUnlisted
// any diameter and pitch that [Unlisted] takes will do, and the pitch may be
// left out only where there is a coarse one.
func (p Parser) Parse(s string) (Thread, error) {
	sc := scanner{s: s}
	sc.blanks()
	if !sc.oneOf("Mm") {
		return Thread{}, sc.fail("M, the letter of metric threads")
	}
	sc.blanks()
	dcol := sc.column()
	d, ok := sc.number()
	if !ok {
		return Thread{}, sc.fail("the diameter in digits")
	}
	sc.blanks()
	afterD := sc
	var pitch float64
	pcol := 0
	if sc.oneOf("×xX*") {
		sc.blanks()
		pcol = sc.column()
		if pitch, ok = sc.number(); !ok {
			return Thread{}, sc.fail("the pitch in digits (threads of several starts are not read)")
		}
		sc.blanks()
	}
	// A slip in spelling is reported before a number out of the tables.
	class, left, serr := sc.tail(pcol > 0)
	if serr != nil {
		return Thread{}, serr
	}
	var t Thread
	var err error
	switch {
	case pcol == 0 && p.AllowUnlisted && lookup(d) == nil && checkDiameter(d) == nil:
		return Thread{}, afterD.fail("× and the pitch, as M" + number(d) + " has no coarse one")
	case pcol == 0:
		t, err = Coarse(d)
	case p.AllowUnlisted:
		t, err = Unlisted(d, pitch)
	default:
		t, err = New(d, pitch)
	}
	if err != nil {
		return Thread{}, locate(err, dcol, pcol)
	}
	t.Class, t.LeftHand = class, left
	return t, nil
}

// locate puts the columns of the diameter and the pitch into err.
func locate(err error, dcol, pcol int) error {
	switch e := err.(type) {
	case *SizeError:
		e.Column = dcol
	case *PitchError:
		e.Column = pcol
	case *ValueError:
		e.Column = dcol
		if e.Name == "pitch" {
			e.Column = pcol
		}
	}
	return err
}

// hyphens are the signs people and word processors put for a hyphen.
const hyphens = "-\u2010\u2011\u2012\u2013\u2014\u2212"

// scanner reads a designation from left to right.
type scanner struct {
	s string
	i int // offset of the next byte
}

// column returns the column of the next character, counted from 1.
func (sc *scanner) column() int { return utf8.RuneCountInString(sc.s[:sc.i]) + 1 }

func (sc *scanner) fail(want string) *SyntaxError {
	_, n := utf8.DecodeRuneInString(sc.s[sc.i:])
	return &SyntaxError{Input: sc.s, Column: sc.column(), Found: sc.s[sc.i : sc.i+n], Want: want}
}

func (sc *scanner) blanks() {
	for sc.i < len(sc.s) {
		r, n := utf8.DecodeRuneInString(sc.s[sc.i:])
		if !unicode.IsSpace(r) {
			return
		}
		sc.i += n
	}
}

// oneOf takes the next character if it is in set.
func (sc *scanner) oneOf(set string) bool {
	r, n := utf8.DecodeRuneInString(sc.s[sc.i:])
	if n == 0 || r == utf8.RuneError || !strings.ContainsRune(set, r) {
		return false
	}
	sc.i += n
	return true
}

// digits takes digits and returns how many.
func (sc *scanner) digits() int {
	start := sc.i
	for sc.i < len(sc.s) && '0' <= sc.s[sc.i] && sc.s[sc.i] <= '9' {
		sc.i++
	}
	return sc.i - start
}

// number takes digits with an optional decimal part.
func (sc *scanner) number() (float64, bool) {
	start := sc.i
	if sc.digits() == 0 {
		return 0, false
	}
	text := sc.s[start:sc.i]
	if point := sc.i; sc.oneOf(".,") {
		if sc.digits() == 0 {
			return 0, false
		}
		text = sc.s[start:sc.i]
		if sc.s[point] == ',' {
			text = sc.s[start:point] + "." + sc.s[point+1:sc.i]
		}
	}
	// Out of range gives +Inf, which is refused as a value.
	x, _ := strconv.ParseFloat(text, 64)
	return x, true
}

// tail takes the class and the hand, up to the end of the text. pitched tells
// whether a pitch was read.
func (sc *scanner) tail(pitched bool) (class string, left bool, err *SyntaxError) {
	want := "×, a hyphen or the end"
	if pitched {
		want = "a hyphen or the end"
	}
	for {
		hyphen := sc.oneOf(hyphens)
		sc.blanks()
		before := sc.i
		switch {
		case sc.oneOf("Ll"), sc.oneOf("Rr"):
			left = sc.s[before] == 'L' || sc.s[before] == 'l'
			if !sc.oneOf("Hh") {
				return "", false, sc.fail("H, of LH or RH (lengths of engagement are not read)")
			}
			sc.blanks()
			if sc.i < len(sc.s) {
				return "", false, sc.fail("the end, the hand comes last")
			}
			return class, left, nil
		case !hyphen && sc.i == len(sc.s):
			return class, left, nil
		case !hyphen:
			return "", false, sc.fail(want)
		case class != "":
			return "", false, sc.fail("LH, the only thing after the class")
		case sc.i == len(sc.s) || sc.s[sc.i] < '0' || sc.s[sc.i] > '9':
			return "", false, sc.fail("a tolerance class such as 6g, or LH")
		}
		if class, err = sc.class(); err != nil {
			return "", false, err
		}
		sc.blanks()
		want = "a hyphen or the end"
	}
}

// Letters of the tolerance positions of ISO 965-1:1998.
const (
	boltLetters = "efgh"
	nutLetters  = "GH"
)

// class takes a tolerance class and returns its canonical form.
func (sc *scanner) class() (string, *SyntaxError) {
	first, nut, err := sc.side(boltLetters + nutLetters)
	if err != nil {
		return "", err
	}
	mark := *sc
	mark.blanks()
	slash := mark
	if !mark.oneOf("/") {
		return first, nil
	}
	if !nut {
		return "", slash.fail("no slash: the class of the nut comes before that of the bolt, as 6H/6g")
	}
	mark.blanks()
	second, _, err := mark.side(boltLetters)
	if err != nil {
		return "", err
	}
	*sc = mark
	return first + "/" + second, nil
}

// side takes the class of a bolt or a nut, of one or two parts, the first with
// one of letters.
func (sc *scanner) side(letters string) (class string, nut bool, err *SyntaxError) {
	start := sc.i
	if err := sc.part(letters); err != nil {
		return "", false, err
	}
	first := sc.s[start:sc.i]
	nut = strings.Contains(nutLetters, first[1:])
	if sc.i == len(sc.s) || sc.s[sc.i] < '0' || sc.s[sc.i] > '9' {
		return first, nut, nil
	}
	letters = boltLetters
	if nut {
		letters = nutLetters
	}
	if err := sc.part(letters); err != nil {
		return "", false, err
	}
	if sc.s[start+2:sc.i] == first {
		return first, nut, nil
	}
	return sc.s[start:sc.i], nut, nil
}

// part takes a grade and one of letters.
func (sc *scanner) part(letters string) *SyntaxError {
	if !sc.oneOf("3456789") {
		return sc.fail("a tolerance grade, 3 to 9")
	}
	if !sc.oneOf(letters) {
		switch letters {
		case boltLetters:
			return sc.fail("a letter of a bolt: e, f, g or h")
		case nutLetters:
			return sc.fail("a letter of a nut: G or H")
		}
		return sc.fail("a letter: e, f, g or h for a bolt, G or H for a nut")
	}
	return nil
}

// checkClass reports whether class is in canonical form.
func checkClass(class string) error {
	sc := scanner{s: class}
	got, err := sc.class()
	switch {
	case err != nil:
		return &ClassError{Class: class, Want: err.Want}
	case sc.i < len(class):
		return &ClassError{Class: class, Want: "nothing after " + got}
	case got != class:
		return &ClassError{Class: class, Want: got}
	}
	return nil
}
