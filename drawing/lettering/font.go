package lettering

import (
	"encoding/binary"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"sync"

	"github.com/go-fonts/liberation/liberationsansregular"
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// MaxSize is the size of the largest font file that is read, bytes.
const MaxSize = 64 << 20

// A Font is a font in memory. It does not change and may be used by many
// goroutines at once.
type Font struct {
	font    *sfnt.Font
	name    string
	file    string
	em      int
	capital int
	closed  bool // its maker does not let it travel in files

	// The first characters, ready: their glyphs and widths.
	glyphs   [few]sfnt.GlyphIndex
	advances [few]uint16
}

// few is how many characters are ready: Latin, Greek and Cyrillic.
const few = 0x530

// Default returns the font of drawings that name none: Liberation Sans Regular,
// version 2.1.4, under the SIL Open Font License.
func Default() *Font { return liberation() }

var liberation = sync.OnceValue(func() *Font {
	f, err := Parse(liberationsansregular.TTF)
	if err != nil {
		panic("lettering: the font that is part of the program: " + err.Error())
	}
	f.file = "LiberationSans-Regular.ttf"
	return f
})

// ReadFile reads a TrueType or OpenType font from a file. The error is that of
// the file system, or a *FontError.
func ReadFile(name string) (*Font, error) {
	file, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	data, err := io.ReadAll(io.LimitReader(file, MaxSize+1))
	if err != nil {
		return nil, err
	}
	f, err := Parse(data)
	if e, ok := err.(*FontError); ok {
		e.File = name
	}
	if f != nil {
		f.file = filepath.Base(name)
	}
	return f, err
}

// Parse reads a TrueType or OpenType font, of which one file can hold one. The
// font keeps data, which must not change. The error is a *FontError.
func Parse(data []byte) (*Font, error) {
	if len(data) > MaxSize {
		return nil, &FontError{Reason: fmt.Sprintf("is larger than %d MiB", MaxSize>>20)}
	}
	if len(data) >= 4 && string(data[:4]) == "ttcf" {
		return nil, &FontError{Reason: "is a collection of fonts; take the one that is wanted out of it"}
	}
	parsed, err := sfnt.Parse(data)
	if err != nil {
		return nil, &FontError{Reason: "is no TrueType or OpenType font", Err: err}
	}
	f := &Font{font: parsed, em: int(parsed.UnitsPerEm()), closed: restricted(data)}
	if f.em < 16 || f.em > 16384 {
		return nil, &FontError{Reason: fmt.Sprintf("has %d units in its em; there are 16 to 16384", f.em)}
	}
	var buf sfnt.Buffer
	if err := f.measure(&buf); err != nil {
		return nil, err
	}
	for r := range rune(few) {
		g, err := parsed.GlyphIndex(&buf, r)
		if err != nil {
			return nil, &FontError{Reason: "has no table of its characters that can be read", Err: err}
		}
		f.glyphs[r], f.advances[r] = g, f.advance(&buf, g)
	}
	if f.name, err = parsed.Name(&buf, sfnt.NameIDFull); err != nil || f.name == "" {
		f.name = "without a name"
	}
	return f, nil
}

// measure works out how high a capital is, and that the font has what every
// drawing needs.
func (f *Font) measure(buf *sfnt.Buffer) error {
	for _, r := range "H0123456789." {
		if g, err := f.font.GlyphIndex(buf, r); err != nil || g == 0 {
			return &FontError{Reason: fmt.Sprintf("has no %q, which every drawing needs", r), Err: err}
		}
	}
	g, _ := f.font.GlyphIndex(buf, 'H')
	box, _, err := f.font.GlyphBounds(buf, g, f.ppem(), font.HintingNone)
	if err != nil {
		return &FontError{Reason: "has no letter H that can be read", Err: err}
	}
	f.capital = -box.Min.Y.Round()
	if f.capital < f.em/10 || f.capital > 2*f.em {
		return &FontError{Reason: fmt.Sprintf("has an H that is %d high where its em is %d", f.capital, f.em)}
	}
	return nil
}

// restricted reports whether the maker of a font does not let a subset of it
// travel in files: bit 1 of fsType in the table OS/2, with no bit that allows
// more, or bit 8 or 9 (OpenType 1.9). sfnt.Parse has found the tables to be
// inside the file.
func restricted(data []byte) bool {
	for i := range int(binary.BigEndian.Uint16(data[4:])) {
		entry := data[12+16*i:]
		if string(entry[:4]) != "OS/2" {
			continue
		}
		offset := int(binary.BigEndian.Uint32(entry[8:]))
		if offset+10 > len(data) {
			return false
		}
		fsType := binary.BigEndian.Uint16(data[offset+8:])
		return fsType&0xf == 2 || fsType&0x300 != 0
	}
	return false
}

// Name returns the name of the font, such as "Liberation Sans".
func (f *Font) Name() string { return f.name }

// File returns the name of the file that the font is from, without its folder;
// "" where it was not read from one. A DXF file names it.
func (f *Font) File() string { return f.file }

// Em returns how many units of the font its em is, and Capital how many of
// them a capital letter is high.
func (f *Font) Em() int { return f.em }

// Capital returns the height of a capital letter in units of the font.
func (f *Font) Capital() int { return f.capital }

// Embeds reports whether the maker of the font lets the glyphs that are used
// travel in files.
func (f *Font) Embeds() bool { return !f.closed }

// ppem makes a pixel of the font's unit, so that its figures are whole.
func (f *Font) ppem() fixed.Int26_6 { return fixed.I(f.em) }

func (f *Font) advance(buf *sfnt.Buffer, g sfnt.GlyphIndex) uint16 {
	a, err := f.font.GlyphAdvance(buf, g, f.ppem(), font.HintingNone)
	if err != nil {
		return 0
	}
	return uint16(a.Round())
}
