package schedule

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"boltplate/thread"
)

// coarsest is the coarsest pitch of ISO 261, mm.
const coarsest = 8.0

// ParseDesignation reads a thread with or without a length in mm: "M16",
// "M16x80", "M16 × 1.5 × 80", "M12x1,25x60-LH". The length is 0 where there is
// none. Of a single number after the diameter, one above half the diameter or
// above 8, the coarsest pitch of ISO 261, is a length and any other a pitch.
// The thread is read by p; the errors are those of [thread.Parser.Parse], their
// columns those of s.
func ParseDesignation(s string, p thread.Parser) (t thread.Thread, length float64, err error) {
	sign, signs := lastSign(s)
	if signs == 0 {
		t, err = p.Parse(s)
		return t, 0, err
	}
	_, w := utf8.DecodeRuneInString(s[sign:])
	rest := strings.TrimLeftFunc(s[sign+w:], unicode.IsSpace)
	number, tail := leadingNumber(rest)
	if !isLength(s[:sign], signs, number) {
		t, err = p.Parse(s)
		return t, 0, err
	}
	value, _ := strconv.ParseFloat(strings.Replace(number, ",", ".", 1), 64)
	if value == 0 {
		_, n := utf8.DecodeRuneInString(rest)
		return t, 0, &thread.SyntaxError{Input: s, Column: 1 + utf8.RuneCountInString(s[:len(s)-len(rest)]),
			Found: rest[:n], Want: "the length in digits, more than 0"}
	}
	head := strings.TrimRightFunc(s[:sign], unicode.IsSpace)
	if t, err = p.Parse(head + tail); err != nil {
		return t, 0, uncut(err, s, utf8.RuneCountInString(head), utf8.RuneCountInString(s)-utf8.RuneCountInString(head+tail))
	}
	return t, value, nil
}

// lastSign returns where the last multiplication sign is and how many there
// are.
func lastSign(s string) (at, count int) {
	for i, r := range s {
		if strings.ContainsRune("×xX*", r) {
			at, count = i, count+1
		}
	}
	return at, count
}

// leadingNumber splits the digits and their decimal part off s.
func leadingNumber(s string) (number, rest string) {
	digits := func(i int) int {
		for i < len(s) && '0' <= s[i] && s[i] <= '9' {
			i++
		}
		return i
	}
	i := digits(0)
	if i > 0 && i < len(s) && (s[i] == '.' || s[i] == ',') {
		if j := digits(i + 1); j > i+1 {
			i = j
		}
	}
	return s[:i], s[i:]
}

// isLength reports whether the number after the last of the multiplication
// signs can only be a length.
func isLength(before string, signs int, number string) bool {
	if signs > 1 || strings.ContainsAny(before, "-\u2010\u2011\u2012\u2013\u2014\u2212") {
		return true
	}
	d, _ := leadingNumber(strings.TrimLeft(before, "Mm \t\u00a0"))
	diameter, err := strconv.ParseFloat(strings.Replace(d, ",", ".", 1), 64)
	if err != nil || number == "" {
		return false
	}
	value, _ := strconv.ParseFloat(strings.Replace(number, ",", ".", 1), 64)
	return value > diameter/2 || value > coarsest
}

// uncut makes an error in text from which n characters after the first keep
// were cut one in s.
func uncut(err error, s string, keep, n int) error {
	e, ok := err.(*thread.SyntaxError)
	if !ok {
		return err
	}
	e.Input = s
	if e.Column > keep {
		e.Column += n
	}
	return e
}
