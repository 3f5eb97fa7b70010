package pdf

import (
	"fmt"
	"slices"
	"strings"

	"boltplate/drawing/internal/paint"
	"boltplate/drawing/lettering"
)

// An embedded font is the subset of a font that travels in a file.
type embedded struct {
	font   *lettering.Font
	family string // under which the library knows it
	data   []byte
	moved  map[rune]rune // characters beyond what the library writes, and what stands for them
}

// fonts returns the fonts of the pictures, each once, with the characters that
// the pictures letter in it.
func fonts(pictures []*paint.Picture) []embedded {
	var out []embedded
	var used []map[rune]bool
	for _, p := range pictures {
		i := slices.IndexFunc(out, func(e embedded) bool { return e.font == p.Font })
		if i < 0 {
			i = len(out)
			out, used = append(out, embedded{font: p.Font, family: family(p.Font.Name(), i)}), append(used, map[rune]bool{})
		}
		for s := range p.Sheets {
			for r := range p.Sheets[s].Roles {
				for _, t := range p.Sheets[s].Roles[r].Texts {
					for _, c := range t.Value {
						used[i][c] = true
					}
				}
			}
		}
	}
	for i := range out {
		out[i].cut(used[i])
	}
	return out
}

// family returns a name for a font: letters and digits, and a number where
// there are several.
func family(name string, i int) string {
	name = strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' {
			return r
		}
		return -1
	}, name)
	name = name[:min(len(name), 60)]
	if name == "" || i > 0 {
		name += fmt.Sprint("font", i)
	}
	return name
}

// The library writes characters up to U+FFFF. Others get numbers for private
// use, as far as they go: their glyphs show, but cannot be searched for.
const (
	lastPlain    = 0xffff
	firstPrivate = 0xe000
	lastPrivate  = 0xf8ff
)

// cut makes the subset.
func (e *embedded) cut(used map[rune]bool) {
	var codes []code
	var far []rune
	for r := range used {
		if r <= lastPlain {
			codes = append(codes, code{r, uint16(r)})
		} else {
			far = append(far, r)
		}
	}
	slices.Sort(far)
	e.moved = map[rune]rune{}
	private := rune(firstPrivate)
	for _, r := range far {
		for used[private] && private <= lastPrivate {
			private++
		}
		if private > lastPrivate {
			break
		}
		codes = append(codes, code{r, uint16(private)})
		e.moved[r] = private
		private++
	}
	slices.SortFunc(codes, func(a, b code) int { return int(a.code) - int(b.code) })
	e.data = subset(e.font, codes)
}

// encode returns a text with the characters that stand for others.
func (e *embedded) encode(text string) string {
	if len(e.moved) == 0 {
		return text
	}
	return strings.Map(func(r rune) rune {
		if m, ok := e.moved[r]; ok {
			return m
		}
		return r
	}, text)
}
