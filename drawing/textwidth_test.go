package drawing

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// TestWidthsAreThoseOfTheFont reads Go Regular at one pixel for a font unit,
// so that its figures are whole numbers.
func TestWidthsAreThoseOfTheFont(t *testing.T) {
	f, err := sfnt.Parse(goregular.TTF)
	require.NoError(t, err)
	assert.Equal(t, sfnt.Units(emUnits), f.UnitsPerEm())
	var buf sfnt.Buffer
	glyph := func(r rune) sfnt.GlyphIndex {
		g, err := f.GlyphIndex(&buf, r)
		require.NoError(t, err)
		require.NotZero(t, g, "the font has no %q", r)
		return g
	}
	ppem := fixed.I(int(f.UnitsPerEm()))
	height, _, err := f.GlyphBounds(&buf, glyph('H'), ppem, font.HintingNone)
	require.NoError(t, err)
	capital := float64(-height.Min.Y) / 64
	assert.Equal(t, capital, float64(capUnits), "height of an H")

	checked := 0
	for r := rune(0x20); r <= 0xff; r++ {
		if r > 0x7e && r < 0xa0 {
			continue // control characters
		}
		advance, err := f.GlyphAdvance(&buf, glyph(r), ppem, font.HintingNone)
		require.NoError(t, err)
		units := float64(advance) / 64
		assert.InDelta(t, 1.1*units/capital, TextWidth(string(r), 1), 1e-12, "%q, with a tenth added", r)
		checked++
	}
	assert.Equal(t, 95+96, checked)

	m, err := f.Metrics(&buf, ppem, font.HintingNone)
	require.NoError(t, err)
	assert.Equal(t, float64(m.Descent)/64, float64(descentUnits))
	assert.InDelta(t, float64(descentUnits)/capital, descentFactor, 1e-12)
}

func TestTextWidth(t *testing.T) {
	assert.Zero(t, TextWidth("", 3.5))
	assert.InDelta(t, TextWidth("2", 5)+TextWidth("7", 5), TextWidth("27", 5), 1e-12)
	assert.InDelta(t, 2*TextWidth("M20", 3.5), TextWidth("M20", 7), 1e-12, "in the unit of the height")
	for r := range rune(0x250) {
		assert.LessOrEqual(t, TextWidth(string(r), 1), TextWidth("\u4e00", 1), "an unknown character counts as a wide one")
	}
}
