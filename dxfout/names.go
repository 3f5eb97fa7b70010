package dxfout

import (
	"strconv"
	"strings"
	"unicode/utf8"
)

// maxName leaves room for the number that makes a name unique.
const maxName = 200

// cleanName returns s as a name that the symbol tables of every reader take:
// ASCII without the characters that names must not hold. Letters of
// Windows-1252 stay as their bytes; whatever else is there becomes "_".
func cleanName(s string) string {
	b := make([]byte, 0, len(s))
	for _, r := range strings.TrimSpace(s) {
		switch {
		case len(b) == maxName:
			return string(b)
		case r < ' ' || r == 0x7f || r == utf8.RuneError || strings.ContainsRune("<>/\\\":;?*|,=`^%", r):
			b = append(b, '_')
		case r < utf8.RuneSelf:
			b = append(b, byte(r))
		case r >= 0xc0 && r <= 0xff && r != '×' && r != '÷':
			b = append(b, byte(r))
		case r == '×':
			b = append(b, 'x')
		default:
			b = append(b, '_')
		}
	}
	if len(b) == 0 {
		return "UNNAMED"
	}
	return string(b)
}

// A nameSet makes names unique. Readers do not tell upper from lower case.
type nameSet map[string]bool

func (n nameSet) unique(name string) string {
	key := foldName(name)
	for i, base := 2, name; n[key]; i++ {
		name = base + "_" + strconv.Itoa(i)
		key = foldName(name)
	}
	n[key] = true
	return name
}

// foldName turns the letters of a cleaned name into capitals, those of
// Windows-1252 included.
func foldName(s string) string {
	b := []byte(s)
	for i, c := range b {
		if c >= 'a' && c <= 'z' || c >= 0xe0 && c != 0xf7 && c != 0xff {
			b[i] = c - 0x20
		}
	}
	return string(b)
}
