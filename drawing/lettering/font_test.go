package lettering_test

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode"

	"boltplate/drawing"
	"boltplate/drawing/lettering"

	"github.com/go-fonts/liberation/liberationmonoregular"
	"github.com/go-fonts/liberation/liberationsansregular"
	"github.com/go-fonts/liberation/liberationserifitalic"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/font/gofont/gomono"
	"golang.org/x/image/font/gofont/goregular"
)

func parse(t require.TestingT, data []byte) *lettering.Font {
	f, err := lettering.Parse(data)
	require.NoError(t, err)
	return f
}

func TestDefault(t *testing.T) {
	f := lettering.Default()
	assert.Same(t, f, lettering.Default())
	assert.Equal(t, "Liberation Sans", f.Name())
	assert.Equal(t, "LiberationSans-Regular.ttf", f.File())
	assert.True(t, f.Embeds())
	assert.Equal(t, 2048, f.Em())
	assert.Equal(t, 1409, f.Capital(), "an H is 1409 units high, says the font's table OS/2")
	var _ drawing.Font = f
}

// contours returns how many contours the outlines of a text have.
func contours(f *lettering.Font, text string) (n int) {
	f.Outline(text, func(op lettering.Op, _ [3][2]int) {
		if op == lettering.MoveTo {
			n++
		}
	})
	return n
}

// TestZeroIsOpen: a zero is a ring, two contours, and no stroke or dot in it.
func TestZeroIsOpen(t *testing.T) {
	assert.Equal(t, 2, contours(lettering.Default(), "0"))
	assert.Greater(t, contours(parse(t, gomono.TTF), "0"), 2, "a zero with a stroke would be seen here")
}

func TestWidth(t *testing.T) {
	mono := parse(t, liberationmonoregular.TTF)
	for _, f := range []*lettering.Font{lettering.Default(), mono, parse(t, liberationserifitalic.TTF), parse(t, goregular.TTF)} {
		assert.Zero(t, f.Width(""))
		assert.InDelta(t, f.Width("M20"), f.Width("M")+f.Width("2")+f.Width("0"), 1e-12)
		assert.Equal(t, f.Width("a b"), f.Width("a\tb"))
		assert.Equal(t, f.Width("Ø8"), f.Width("⌀8"))
		assert.Equal(t, f.Width("ab"), f.Width("a\u00ad\u200b\u202eb"), "what steers the setting of text has no width")
		assert.Equal(t, float64(f.Em())/float64(f.Capital()), f.Width("測"))
	}
	assert.Equal(t, mono.Width("iiii"), mono.Width("MMMM"))
}

// TestOutlineIsAsWideAsTheText: each letter stands where the widths before it
// end.
func TestOutlineIsAsWideAsTheText(t *testing.T) {
	f := lettering.Default()
	var one, two [][2]int
	f.Outline("8", func(_ lettering.Op, p [3][2]int) { one = append(one, p[0]) })
	f.Outline("Ж8", func(_ lettering.Op, p [3][2]int) { two = append(two, p[0]) })
	two = two[len(two)-len(one):]
	for i := range one {
		assert.Equal(t, one[i][0]+f.Units("Ж"), two[i][0])
		assert.Equal(t, one[i][1], two[i][1])
	}
}

func TestMissing(t *testing.T) {
	f := lettering.Default()
	for _, s := range []string{"", "M20 × 90 Ø43.2 ±0.5 30° ½ µm²", "Шлюз", "Πείρος", "Łódź Ångström", "a\tb\r\nc", "\u00a0\u2009\u202f", "⌀", "\u202eabc\u202c\ufe0f"} {
		assert.Nil(t, f.Missing(s), s)
	}
	for s, want := range map[string]string{
		"plate 測定測":  "the font Liberation Sans lacks '測' (U+6E2C), '定' (U+5B9A); give one that has them",
		"😀":          "the font Liberation Sans lacks '😀' (U+1F600); give one that has them",
		"שער":        "holds 'ש' (U+05E9), 'ע' (U+05E2), 'ר' (U+05E8), of a script that runs from right to left or joins its letters, which cannot be lettered",
		"बोल्ट":      "holds 'ब' (U+092C), 'ो' (U+094B), 'ल' (U+0932), '्' (U+094D), 'ट' (U+091F), of a script",
		"abc يطب 測":  "holds 'ي' (U+064A), 'ط' (U+0637), 'ب' (U+0628), of a script",
		"一二三四五六七八九十": "lacks '一' (U+4E00), '二' (U+4E8C), '三' (U+4E09), '四' (U+56DB), '五' (U+4E94), '六' (U+516D), and 4 more; give",
	} {
		require.NotNil(t, f.Missing(s), s)
		assert.Contains(t, f.Missing(s).Error(), want)
	}
}

// TestCleanKeepsWhatCanBeSeen: whatever the text, what is lettered is one line,
// and cleaning it again changes nothing.
func TestCleanKeepsWhatCanBeSeen(t *testing.T) {
	f := lettering.Default()
	for r := rune(0); r < 0x30000; r++ {
		s := f.Clean(string(r))
		assert.Equal(t, s, f.Clean(s))
		assert.Equal(t, -1, strings.IndexFunc(s, unicode.IsControl), "%U", r)
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			assert.Equal(t, string(r), s)
		}
	}
}

// patch returns a font file with some bytes changed.
func patch(data []byte, at int, b ...byte) []byte {
	data = bytes.Clone(data)
	copy(data[at:], b)
	return data
}

// entry returns where a table stands in a font file.
func entry(t *testing.T, data []byte, tag string) int {
	for i := 12; i < 12+16*int(binary.BigEndian.Uint16(data[4:])); i += 16 {
		if string(data[i:i+4]) == tag {
			return int(binary.BigEndian.Uint32(data[i+8:]))
		}
	}
	require.Fail(t, "no table "+tag)
	return 0
}

func TestFontsThatAreNone(t *testing.T) {
	ttf := liberationsansregular.TTF
	for want, data := range map[string][]byte{
		"the font is no TrueType or OpenType font: sfnt: ": nil,
		"is no TrueType or OpenType font":                  []byte("just some text that is no font"),
		"is a collection of fonts; take the one":           []byte("ttcf\x00\x01\x00\x00"),
		"is no TrueType or OpenType font: ":                ttf[:5000],
		"is larger than 64 MiB":                            make([]byte, lettering.MaxSize+1),
		"has 3 units in its em; there are 16 to 16384":     patch(ttf, entry(t, ttf, "head")+18, 0, 3),
		"has an H that is 1409 high where its em is 16384": patch(ttf, entry(t, ttf, "head")+18, 0x40, 0),
	} {
		_, err := lettering.Parse(data)
		var e *lettering.FontError
		require.ErrorAs(t, err, &e, want)
		assert.ErrorContains(t, err, want)
	}
}

func TestFontThatMayNotTravel(t *testing.T) {
	os2 := entry(t, liberationsansregular.TTF, "OS/2") + 8
	for fsType, embeds := range map[byte]bool{0: true, 2: false, 4: true, 8: true, 6: true} {
		assert.Equal(t, embeds, parse(t, patch(liberationsansregular.TTF, os2, 0, fsType)).Embeds(), "fsType %d", fsType)
	}
	assert.False(t, parse(t, patch(liberationsansregular.TTF, os2, 1, 0)).Embeds(), "no subsets")
}

func TestReadFile(t *testing.T) {
	name := filepath.Join(t.TempDir(), "office.ttf")
	require.NoError(t, os.WriteFile(name, liberationmonoregular.TTF, 0o644))
	f, err := lettering.ReadFile(name)
	require.NoError(t, err)
	assert.Equal(t, "office.ttf", f.File())
	assert.Equal(t, "Liberation Mono", f.Name())

	_, err = lettering.ReadFile(filepath.Join(t.TempDir(), "none.ttf"))
	assert.ErrorIs(t, err, os.ErrNotExist)
	require.NoError(t, os.WriteFile(name, []byte("no font"), 0o644))
	_, err = lettering.ReadFile(name)
	assert.ErrorContains(t, err, name+": is no TrueType or OpenType font")
}

// FuzzParse: whatever the file, there is an error or a font that letters, and
// no panic. The seeds are small fonts, and a large one with bytes changed.
func FuzzParse(f *testing.F) {
	f.Add([]byte{}, uint32(0), uint16(0))
	for i := range uint32(20) {
		f.Add([]byte(nil), 12+i*4, uint16(0xffff))
	}
	f.Fuzz(func(t *testing.T, data []byte, at uint32, v uint16) {
		if len(data) == 0 { // a sound font with two bytes changed
			data = bytes.Clone(liberationsansregular.TTF)
			binary.BigEndian.PutUint16(data[int(at)%(len(data)-1):], v)
		}
		font, err := lettering.Parse(data)
		if err != nil {
			var e *lettering.FontError
			require.ErrorAs(t, err, &e)
			return
		}
		font.Missing("H0 Ж測")
		assert.GreaterOrEqual(t, font.Width("H0 Ж測"), 0.0)
		n := 0
		font.Outline("HÄ0Ж測", func(lettering.Op, [3][2]int) { n++ })
		assert.Less(t, n, 1_000_000)
	})
}

func ExampleFont_Missing() {
	f := lettering.Default()
	fmt.Println(f.Missing("Болт M20"))
	fmt.Println(f.Missing("螺栓 M20"))
	// Output:
	// <nil>
	// the font Liberation Sans lacks '螺' (U+87BA), '栓' (U+6813); give one that has them
}
