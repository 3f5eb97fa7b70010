package paint

import (
	"strings"
	"unicode"

	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// Em is how many units of the font its em is, and Capital how many a capital
// letter is high.
const (
	Em      = 2048
	Capital = 1480
)

// A Font measures and outlines text in Go Regular, the open font that drawings
// are arranged with. It is for one goroutine.
type Font struct {
	font *sfnt.Font
	buf  sfnt.Buffer
}

// FontData returns the font as a TrueType file. It must not be changed.
func FontData() []byte { return goregular.TTF }

// NewFont returns the font.
func NewFont() *Font {
	f, err := sfnt.Parse(goregular.TTF)
	if err != nil {
		panic("paint: the font that is part of the program: " + err.Error())
	}
	return &Font{font: f}
}

// ppem makes a pixel of the font's unit, so that its figures are whole.
var ppem = fixed.I(Em)

func (f *Font) glyph(r rune) sfnt.GlyphIndex {
	g, err := f.font.GlyphIndex(&f.buf, r)
	if err != nil {
		return 0
	}
	return g
}

// clean returns s as it can be written: control characters are blanks, the
// diameter sign is the letter that stands for it in a DXF file too, and what
// the font lacks is U+FFFD.
func (f *Font) clean(s string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r >= ' ' && r <= '~':
			return r
		case unicode.IsControl(r) || r == '\u2028' || r == '\u2029':
			return ' '
		case r == '⌀':
			return 'Ø'
		case f.glyph(r) == 0:
			return unicode.ReplacementChar
		}
		return r
	}, s)
}

// advance returns the width of a glyph in units of the font.
func (f *Font) advance(g sfnt.GlyphIndex) int {
	a, err := f.font.GlyphAdvance(&f.buf, g, ppem, font.HintingNone)
	if err != nil {
		return 0
	}
	return a.Round()
}

// width returns the width of s in units of the font.
func (f *Font) width(s string) int {
	w := 0
	for _, r := range s {
		w += f.advance(f.glyph(r))
	}
	return w
}

// Outline calls yield for every segment of the outlines of s, in units of the
// font, y up, from the left end of the base line. Each contour begins with a
// move and is closed.
func (f *Font) Outline(s string, yield func(op sfnt.SegmentOp, p [3][2]int)) {
	x := 0
	for _, r := range s {
		g := f.glyph(r)
		segs, err := f.font.LoadGlyph(&f.buf, g, ppem, nil)
		if err != nil {
			segs = nil
		}
		for _, seg := range segs {
			var p [3][2]int
			for i, a := range seg.Args {
				p[i] = [2]int{x + a.X.Round(), -a.Y.Round()}
			}
			yield(seg.Op, p)
		}
		x += f.advance(g)
	}
}
