package dxfin

import (
	"strconv"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// An encoding turns the bytes of a file into text.
type encoding struct {
	utf8 bool
	page []rune // upper half of a code page, where not UTF-8
}

// decode returns the text of bytes, with \U+XXXX as the characters that they
// stand for.
func (e *encoding) decode(b []byte) string {
	plain := true
	for _, c := range b {
		plain = plain && c < utf8.RuneSelf && c != '\\'
	}
	if plain {
		return string(b)
	}
	var s strings.Builder
	s.Grow(len(b))
	for i := 0; i < len(b); {
		switch c := b[i]; {
		case c == '\\':
			r, n := unicodeEscape(b[i:])
			if n == 0 {
				s.WriteByte(c)
				i++
				continue
			}
			s.WriteRune(r)
			i += n
		case c < utf8.RuneSelf:
			s.WriteByte(c)
			i++
		case e.utf8:
			r, n := utf8.DecodeRune(b[i:])
			s.WriteRune(r)
			i += n
		default:
			s.WriteRune(e.page[c-0x80])
			i++
		}
	}
	return s.String()
}

// unicodeEscape returns the character of \U+XXXX at the start of b, a pair of
// surrogates taken together, and its length, 0 where there is none.
func unicodeEscape(b []byte) (rune, int) {
	const n = len(`\U+XXXX`)
	hex := func(b []byte) (rune, bool) {
		if len(b) < n || b[0] != '\\' || b[1]|0x20 != 'u' || b[2] != '+' {
			return 0, false
		}
		v, err := strconv.ParseUint(string(b[3:n]), 16, 16)
		return rune(v), err == nil
	}
	r, ok := hex(b)
	if !ok {
		return 0, 0
	}
	if utf16.IsSurrogate(r) {
		low, ok := hex(b[n:])
		if pair := utf16.DecodeRune(r, low); ok && pair != utf8.RuneError {
			return pair, 2 * n
		}
		return utf8.RuneError, n
	}
	return r, n
}

// name returns the text of a name.
func (e *encoding) name(b []byte) string { return strings.TrimSpace(e.decode(b)) }

// line returns the text of a TEXT, an ATTRIB or the like: %%c, %%d, %%p and
// %%nnn are characters, underlining is left out, ^I and ^J are blanks.
func (e *encoding) line(b []byte) string { return signs(carets(e.decode(b))) }

// carets replaces the codes of control characters.
func carets(s string) string {
	if !strings.Contains(s, "^") {
		return s
	}
	var out strings.Builder
	for i := 0; i < len(s); i++ {
		if s[i] != '^' || i+1 == len(s) {
			out.WriteByte(s[i])
			continue
		}
		i++
		switch c := s[i]; {
		case c == ' ':
			out.WriteByte('^')
		case c == 'J':
			out.WriteByte('\n')
		case c == 'M': // goes with ^J
		case c >= '@' && c <= '_':
			out.WriteByte(' ')
		default:
			out.WriteByte('^')
			out.WriteByte(c)
		}
	}
	return out.String()
}

// signs replaces the codes that begin with %%.
func signs(s string) string {
	if !strings.Contains(s, "%%") {
		return s
	}
	var out strings.Builder
	for {
		before, after, found := strings.Cut(s, "%%")
		out.WriteString(before)
		if !found {
			return out.String()
		}
		text, n := sign(after)
		out.WriteString(text)
		s = after[n:]
	}
}

// sign returns what the code after %% stands for, and its length.
func sign(s string) (string, int) {
	if s == "" {
		return "%%", 0
	}
	switch s[0] | 0x20 {
	case 'c':
		return "Ø", 1
	case 'd':
		return "°", 1
	case 'p':
		return "±", 1
	case 'u', 'o', 'k':
		return "", 1
	}
	if s[0] == '%' {
		return "%", 1
	}
	if len(s) >= 3 {
		if n, err := strconv.ParseUint(s[:3], 10, 8); err == nil && n >= ' ' {
			if n < utf8.RuneSelf {
				return string(rune(n)), 3
			}
			return string([]rune(windows1252)[n-utf8.RuneSelf]), 3
		}
	}
	return "%%", 0
}

// paragraphs returns the text of an MTEXT, whose codes for looks are left out;
// lines end with \n.
func (e *encoding) paragraphs(b []byte) string { return PlainText(e.decode(b)) }

// PlainText returns what the formatted text of an MTEXT or a dimension says:
// its lines, which \n ends, without codes for font, size, colour and the like.
// A stack of two texts is the one, a slash or a blank, and the other.
func PlainText(s string) string {
	if !strings.ContainsAny(s, `\{}^%`) {
		return s
	}
	var out strings.Builder
	for i := 0; i < len(s); {
		switch c := s[i]; c {
		case '\\':
			text, n := formatCode(s[i+1:])
			out.WriteString(text)
			i += 1 + n
		case '{', '}':
			i++
		default:
			out.WriteByte(c)
			i++
		}
	}
	return strings.TrimRight(signs(carets(out.String())), "\n")
}

// formatCode returns what the code after a backslash shows, and its length.
func formatCode(s string) (string, int) {
	if s == "" {
		return `\`, 0
	}
	switch s[0] {
	case '\\', '{', '}':
		return s[:1], 1
	case '~':
		return " ", 1
	case 'P', 'N', 'X':
		return "\n", 1
	case 'L', 'l', 'O', 'o', 'K', 'k':
		return "", 1
	case 'A', 'C', 'c', 'F', 'f', 'H', 'Q', 'T', 'W', 'p':
		if end := strings.IndexByte(s, ';'); end >= 0 {
			return "", end + 1
		}
		return "", 1
	case 'S':
		end := strings.IndexByte(s, ';')
		if end < 0 {
			return "", 1
		}
		return stack(s[1:end]), end + 1
	}
	return `\`, 0
}

// stack returns a fraction or a pair of limits of size as one line.
func stack(s string) string {
	i := strings.IndexAny(s, "^/#")
	if i < 0 {
		return s
	}
	between := "/"
	if s[i] == '^' {
		between = " "
	}
	return strings.TrimSpace(s[:i]) + between + strings.TrimSpace(s[i+1:])
}
