package lettering

import (
	"slices"
	"strings"
	"unicode"

	"golang.org/x/image/font/sfnt"
)

// Clean returns text as it is lettered: what is no character is a blank, the
// diameter sign is the letter that stands for it in a DXF file too, blanks
// that the font lacks are plain ones, and characters that only steer the
// setting of text are left out.
func (f *Font) Clean(text string) string {
	return strings.Map(func(r rune) rune {
		switch {
		case r >= ' ' && r <= '~':
			return r
		case unicode.IsControl(r) || unicode.In(r, unicode.Zl, unicode.Zp, unicode.Noncharacter_Code_Point):
			return ' '
		case r == '⌀':
			return 'Ø'
		case unicode.Is(unicode.Cf, r) || unicode.Is(unicode.Variation_Selector, r):
			return -1
		case unicode.Is(unicode.Zs, r) && f.glyph(nil, r) == 0:
			return ' '
		}
		return r
	}, text)
}

// unset are the scripts that cannot be set letter by letter from left to
// right.
var unset = []*unicode.RangeTable{
	unicode.Hebrew, unicode.Arabic, unicode.Syriac, unicode.Thaana, unicode.Nko, unicode.Samaritan, unicode.Mandaic, unicode.Adlam,
	unicode.Devanagari, unicode.Bengali, unicode.Gurmukhi, unicode.Gujarati, unicode.Oriya, unicode.Tamil, unicode.Telugu,
	unicode.Kannada, unicode.Malayalam, unicode.Sinhala, unicode.Khmer, unicode.Myanmar, unicode.Tibetan, unicode.Mongolian,
}

// Missing returns nil where the font can letter a text, and else what it
// cannot.
func (f *Font) Missing(text string) *MissingError {
	lacks := &MissingError{Font: f.name}
	script := &MissingError{Font: f.name, Script: true}
	for _, r := range f.Clean(text) {
		e := lacks
		if r >= few && unicode.In(r, unset...) {
			e = script
		} else if f.glyph(nil, r) != 0 {
			continue
		}
		if !slices.Contains(e.Characters, r) {
			e.Characters = append(e.Characters, r)
		}
	}
	switch {
	case len(script.Characters) > 0:
		return script
	case len(lacks.Characters) > 0:
		return lacks
	}
	return nil
}

func (f *Font) glyph(buf *sfnt.Buffer, r rune) sfnt.GlyphIndex {
	if r >= 0 && r < few {
		return f.glyphs[r]
	}
	g, err := f.font.GlyphIndex(buf, r)
	if err != nil {
		return 0
	}
	return g
}

// Units returns the width of a text in units of the font. A character that the
// font lacks is as wide as its em.
func (f *Font) Units(text string) int {
	w := 0
	for _, r := range f.Clean(text) {
		w += f.width(r)
	}
	return w
}

func (f *Font) width(r rune) int {
	if r >= 0 && r < few && f.glyphs[r] != 0 {
		return int(f.advances[r])
	}
	if g := f.glyph(nil, r); g != 0 {
		return int(f.advance(nil, g))
	}
	return f.em
}

// Width returns the width of a text in heights of its capitals. It makes the
// font one that a drawing.Style can have.
func (f *Font) Width(text string) float64 { return float64(f.Units(text)) / float64(f.capital) }

// An Op says what a segment of an outline does.
type Op uint8

// The operations, with the points that they have.
const (
	MoveTo Op = iota // starts a contour at the point
	LineTo           // straight to the point
	QuadTo           // a quadratic curve with a control point, to the second point
	CubeTo           // a cubic curve with two control points, to the third point
)

// Outline calls yield for every segment of the outlines of a text, in units of
// the font, y up, from the left end of the base line. Each contour begins with
// a MoveTo and is closed. A character that the font lacks has the font's sign
// for that, a box as a rule.
func (f *Font) Outline(text string, yield func(op Op, p [3][2]int)) {
	var buf sfnt.Buffer
	x := 0
	for _, r := range f.Clean(text) {
		f.outline(&buf, f.glyph(&buf, r), x, yield)
		x += f.width(r)
	}
}

func (f *Font) outline(buf *sfnt.Buffer, g sfnt.GlyphIndex, x int, yield func(op Op, p [3][2]int)) {
	segments, err := f.font.LoadGlyph(buf, g, f.ppem(), nil)
	if err != nil {
		return // a glyph that cannot be read is a gap
	}
	for _, s := range segments {
		var p [3][2]int
		for i, a := range s.Args {
			p[i] = [2]int{x + a.X.Round(), -a.Y.Round()}
		}
		yield(Op(s.Op), p)
	}
}
