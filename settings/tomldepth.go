package settings

import (
	"fmt"
	"strings"
)

// Bounds of nesting in a file of settings. Ours are four deep; a decoder of
// TOML takes memory by the square of the depth.
const (
	maxBrackets = 32
	maxDots     = 32
)

// tooDeep returns where brackets or dotted keys go deeper than any file of ours
// could, and the error. It looks at brackets, dots and strings only: what else
// is wrong the decoder finds.
func tooDeep(text string) (at int, err error) {
	depth, dots := 0, 0
	for i := 0; i < len(text); i++ {
		switch c := text[i]; c {
		case '"', '\'':
			i = endOfString(text, i)
		case '#':
			if n := strings.IndexByte(text[i:], '\n'); n >= 0 {
				i += n - 1
			} else {
				return 0, nil
			}
		case '[', '{':
			dots = 0
			if depth++; depth > maxBrackets {
				return i, fmt.Errorf("brackets inside brackets, more than %d; no file of settings needs that", maxBrackets)
			}
		case ']', '}':
			depth, dots = max(0, depth-1), 0
		case '=', ',', '\n':
			dots = 0
		case '.':
			if dots++; dots > maxDots {
				return i, fmt.Errorf("a key of more than %d parts; no file of settings needs that", maxDots)
			}
		}
	}
	return 0, nil
}

// endOfString returns the place of the last quote of the string that begins at
// i, or the end of the line or the text where it is not closed.
func endOfString(text string, i int) int {
	quote, long := text[i:i+1], strings.Repeat(text[i:i+1], 3)
	if strings.HasPrefix(text[i:], long) {
		quote = long
	}
	for j := i + len(quote); j < len(text); j++ {
		switch {
		case strings.HasPrefix(text[j:], quote):
			return j + len(quote) - 1
		case text[j] == '\\' && quote[0] == '"':
			j++
		case text[j] == '\n' && quote != long:
			return j - 1
		}
	}
	return len(text)
}
