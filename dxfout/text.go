package dxfout

import (
	"fmt"
	"unicode/utf8"
)

// A field says where a text goes, because what must be escaped differs.
type field uint8

const (
	textField      field = iota // TEXT, ATTRIB, ATTDEF: %%c and the like
	dimensionField              // DIMENSION: that, and paragraph codes
	paragraphField              // MTEXT: the same but for <>
	dataField                   // extended data: neither
	plainField                  // text of plain files: %%c and the like, no \U+XXXX
	asciiField                  // as textField, with \U+XXXX for all that is not ASCII
)

// maxString is the length in bytes up to which every reader takes a string.
const maxString = 250

// appendText appends s escaped for a field, so that it is one line whatever s
// holds and reads as s: characters of Windows-1252 as their bytes, all others
// as \U+XXXX, control characters as blanks.
func appendText(b []byte, s string, f field) []byte {
	for i := 0; i < len(s); i++ {
		if c := s[i]; c < ' ' || c > '~' || special[c] {
			b = append(b, s[:i]...)
			for i < len(s) {
				b, i = appendCharacter(b, s, i, f)
			}
			return b
		}
	}
	return append(b, s...)
}

// EscapeText returns s as the value of a TEXT in ASCII: %%c, %%d and %%p for
// the signs of diameter, degree and plus-minus, \U+XXXX for other characters,
// blanks for control characters. It is one line whatever s holds.
func EscapeText(s string) string { return string(appendText(nil, s, asciiField)) }

// special marks the printable characters that may need escaping.
var special = [128]bool{'^': true, '%': true, '\\': true, '+': true, '{': true, '}': true, '<': true, '[': true}

// appendCharacter appends the character of s at i and returns the index of the
// next.
func appendCharacter(b []byte, s string, i int, f field) ([]byte, int) {
	c := s[i]
	if c >= utf8.RuneSelf {
		r, n := utf8.DecodeRuneInString(s[i:])
		return appendRune(b, r, f), i + n
	}
	next := byte(0)
	if i+1 < len(s) {
		next = s[i+1]
	}
	switch {
	case c < ' ' || c == 0x7f:
		return append(b, ' '), i + 1
	case c == '^':
		return append(b, "^ "...), i + 1 // a lone ^ would take the next character with it
	case c == '%' && f == paragraphField:
		if next >= utf8.RuneSelf || next == '%' {
			return append(b, "{%}"...), i + 1 // %%c would be a sign
		}
	case c == '%' && f != dataField && (next >= utf8.RuneSelf || next == '%' || i > 0 && s[i-1] == '%'):
		return append(b, "%%%"...), i + 1
	case c == '+' && isCodeStart(s[:i]) && f == plainField:
		return append(b, " +"...), i + 1 // newer programs read codes in old files too
	case c == '+' && isCodeStart(s[:i]):
		return append(b, `\U+002B`...), i + 1 // \U+ typed by hand is no code
	}
	b = append(b, c)
	if f != dimensionField && f != paragraphField {
		return b, i + 1
	}
	switch {
	case c == '\\':
		b = append(b, '\\')
	case c == '{' || c == '}':
		b[len(b)-1] = '\\'
		b = append(b, c)
	case f == dimensionField && (c == '<' && next == '>' || c == '[' && next == ']'):
		b = append(b, ' ') // <> and [] stand for measured values
	}
	return b, i + 1
}

// isCodeStart reports whether s ends with \U or \M, which with a plus sign
// would start the code of a character.
func isCodeStart(s string) bool {
	if len(s) < 2 || s[len(s)-2] != '\\' {
		return false
	}
	c := s[len(s)-1] | 0x20
	return c == 'u' || c == 'm'
}

func appendRune(b []byte, r rune, f field) []byte {
	if f != dataField {
		switch r {
		case 'Ø', '⌀':
			return append(b, "%%c"...)
		case '°':
			return append(b, "%%d"...)
		case '±':
			return append(b, "%%p"...)
		}
	}
	if f == plainField {
		if s := lookAlike(r); s != "" {
			return append(b, s...)
		}
	}
	if c := windows1252(r); c != 0 && f != asciiField {
		return append(b, c)
	}
	switch {
	case f == plainField && r >= ' ' && r < 0x7f:
		return append(b, byte(r))
	case r < 0xa0 || r == 0x2028 || r == 0x2029:
		return append(b, ' ')
	case f == plainField:
		return append(b, '?') // the checker refuses it before that
	case r > 0xffff: // as a pair of surrogates
		r -= 0x10000
		return appendCode(appendCode(b, 0xd800+r>>10), 0xdc00+r&0x3ff)
	}
	return appendCode(b, r)
}

func appendCode(b []byte, r rune) []byte {
	const hex = "0123456789ABCDEF"
	return append(b, '\\', 'U', '+', hex[r>>12&15], hex[r>>8&15], hex[r>>4&15], hex[r&15])
}

// lookAlike returns the ASCII characters that a plain file has in place of one
// that weak readers are likely to show wrongly, or "". The signs of rules are
// written as one types them.
func lookAlike(r rune) string {
	switch r {
	case '×':
		return "x"
	case '\u2010', '\u2011', '\u2012', '–', '—', '\u2212':
		return "-"
	case '‘', '’', '\u2032':
		return "'"
	case '“', '”', '\u2033':
		return `"`
	case '\u00a0', '\u2002', '\u2003', '\u2007', '\u2009', '\u200a', '\u202f':
		return " "
	case '√':
		return "sqrt"
	case '≈':
		return "~"
	case 'π':
		return "pi"
	}
	return ""
}

// notPlain returns the first character of s that a plain file cannot hold, or
// -1.
func notPlain(s string) rune {
	for _, r := range s {
		if r < 0xa0 && r != utf8.RuneError || r == '⌀' || r == 0x2028 || r == 0x2029 || windows1252(r) != 0 || lookAlike(r) != "" {
			continue
		}
		return r
	}
	return -1
}

// plainText refuses a text that a plain file cannot hold.
func (c *checker) plainText(at report, field, s string) {
	if !c.plain {
		return
	}
	if r := notPlain(s); r >= 0 {
		c.fail(at, field, fmt.Sprintf("%.40q", s), fmt.Sprintf("holds %q (%U), which an AC1009 file cannot hold; leave it out, use a character of Windows-1252, or write AC1015", r, r))
	}
}

// windows1252 returns the byte of a character beyond ASCII in Windows-1252, or
// 0 where it has none.
func windows1252(r rune) byte {
	if r >= 0xa0 && r <= 0xff {
		return byte(r)
	}
	if r < 0x152 || r > 0x2122 {
		return 0
	}
	for i, c := range high1252 {
		if c == r {
			return byte(0x80 + i)
		}
	}
	return 0
}

// high1252 are the characters 0x80 to 0x9F of Windows-1252; -1 is none.
var high1252 = [32]rune{
	0x20ac, -1, 0x201a, 0x0192, 0x201e, 0x2026, 0x2020, 0x2021, 0x02c6, 0x2030, 0x0160, 0x2039, 0x0152, -1, 0x017d, -1,
	-1, 0x2018, 0x2019, 0x201c, 0x201d, 0x2022, 0x2013, 0x2014, 0x02dc, 0x2122, 0x0161, 0x203a, 0x0153, -1, 0x017e, 0x0178,
}

// fits reports whether s escaped is at most max bytes long.
func fits(s string, f field, max int) bool {
	if len(s) <= max/7 { // nothing grows to more than seven bytes
		return true
	}
	var scratch [16]byte
	n := 0
	for i := 0; i < len(s) && n <= max; {
		var b []byte
		b, i = appendCharacter(scratch[:0], s, i, f)
		n += len(b)
	}
	return n <= max
}

// cut returns s, or as much of it as is at most max bytes long once it is
// escaped and has an ellipsis at its end.
func cut(s string, f field, max int) string {
	if fits(s, f, max) {
		return s
	}
	var scratch [16]byte
	for i, n := 0, len("..."); i < len(s); {
		b, next := appendCharacter(scratch[:0], s, i, f)
		if n += len(b); n > max {
			return s[:i] + "..."
		}
		i = next
	}
	return s
}

// blank reports whether s shows nothing.
func blank(s string) bool {
	for _, r := range s {
		if r > ' ' && r != 0x7f && r != 0xa0 {
			return false
		}
	}
	return true
}
