package drawing

import (
	"testing"
	"unicode"

	"boltplate/drawing/lettering"

	"github.com/go-fonts/liberation/liberationsansregular"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// TestWidthsAreThoseOfTheFont reads Liberation Sans at one pixel for a font
// unit, so that its figures are whole numbers.
func TestWidthsAreThoseOfTheFont(t *testing.T) {
	f, err := sfnt.Parse(liberationsansregular.TTF)
	require.NoError(t, err)
	assert.Equal(t, sfnt.Units(emUnits), f.UnitsPerEm())
	var buf sfnt.Buffer
	glyph := func(r rune) sfnt.GlyphIndex {
		g, err := f.GlyphIndex(&buf, r)
		require.NoError(t, err)
		return g
	}
	ppem := fixed.I(int(f.UnitsPerEm()))
	height, _, err := f.GlyphBounds(&buf, glyph('H'), ppem, font.HintingNone)
	require.NoError(t, err)
	capital := float64(-height.Min.Y) / 64
	assert.Equal(t, capital, float64(capUnits), "height of an H")

	checked := 0
	for _, run := range runs {
		for r := run.first; r < run.first+rune(len(run.widths)); r++ {
			g := glyph(r)
			if unicode.In(r, unicode.Cf, unicode.Zl, unicode.Zp) {
				continue // nothing to see
			}
			advance, err := f.GlyphAdvance(&buf, g, ppem, font.HintingNone)
			require.NoError(t, err)
			units := float64(advance) / 64
			if g == 0 {
				units = emUnits
			}
			assert.InDelta(t, 1.1*units/capital, TextWidth(string(r), 1), 1e-12, "%q, with a tenth added", r)
			checked++
		}
	}
	assert.Greater(t, checked, 700)
}

// TestFontOfTheStyle: the font of package lettering in a style, and none, come
// to the same widths; what the table leaves out is as wide as it can be.
func TestFontOfTheStyle(t *testing.T) {
	st := Style{Font: lettering.Default()}
	for r := rune(0); r <= unicode.MaxRune; r++ {
		want, got := st.TextWidth(string(r), 1), TextWidth(string(r), 1)
		if want != got && got != TextWidth("\u4e00", 1) {
			assert.Equal(t, want, got, "%q (%U)", r, r)
		}
	}
	for _, s := range []string{"", "M20 × 2 (Ø43.2)", "Шайба 16", "Πείρος Ø8", "a\tb\u00a0c\u202ed", "測定"} {
		assert.InDelta(t, st.TextWidth(s, 3.5), Style{}.TextWidth(s, 3.5), 1e-12, s)
	}
}

func TestTextWidth(t *testing.T) {
	assert.Zero(t, TextWidth("", 3.5))
	assert.InDelta(t, TextWidth("2", 5)+TextWidth("7", 5), TextWidth("27", 5), 1e-12)
	assert.InDelta(t, 2*TextWidth("M20", 3.5), TextWidth("M20", 7), 1e-12, "in the unit of the height")
}
