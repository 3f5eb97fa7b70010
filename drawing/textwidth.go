package drawing

// Advance widths of Go Regular (golang.org/x/image/font/gofont/goregular,
// version of x/image v0.48.0) in units of 1/2048 em, for U+0020 to U+007E and
// U+00A0 to U+00FF. A test compares them with the font.
var (
	widthsASCII = [95]uint16{
		569, 569, 727, 1139, 1139, 1821, 1366, 391, 682, 682, 1196, 1196, 648, 1196, 648, 569,
		1139, 1139, 1139, 1139, 1139, 1139, 1139, 1139, 1139, 1139, 627, 627, 1196, 1196, 1196, 1139,
		2079, 1366, 1366, 1479, 1479, 1366, 1251, 1593, 1479, 817, 1015, 1366, 1139, 1706, 1479, 1593,
		1366, 1593, 1479, 1366, 1251, 1479, 1366, 1933, 1366, 1366, 1251, 569, 569, 569, 960, 1139,
		682, 1139, 1139, 1024, 1139, 1139, 569, 1139, 1139, 505, 519, 1024, 548, 1706, 1139, 1139,
		1139, 1139, 682, 1024, 579, 1139, 1024, 1479, 1024, 1024, 1024, 684, 532, 684, 1196,
	}
	widthsLatin1 = [96]uint16{
		569, 682, 1139, 1139, 1139, 1139, 532, 1139, 682, 1509, 758, 1139, 1196, 682, 1509, 1139,
		819, 1196, 933, 933, 682, 1139, 1100, 547, 682, 933, 748, 1139, 1708, 1708, 1708, 1251,
		1366, 1366, 1366, 1366, 1366, 1366, 2048, 1479, 1366, 1366, 1366, 1366, 817, 817, 817, 817,
		1489, 1479, 1593, 1593, 1593, 1593, 1593, 1196, 1593, 1479, 1479, 1479, 1479, 1366, 1366, 1251,
		1139, 1139, 1139, 1139, 1139, 1139, 1821, 1024, 1139, 1139, 1139, 1139, 505, 505, 505, 505,
		1139, 1139, 1139, 1139, 1139, 1139, 1139, 1196, 1251, 1139, 1139, 1139, 1139, 1024, 1139, 1024,
	}
)

const (
	emUnits       = 2048
	capUnits      = 1480 // height of a capital in Go Regular
	descentUnits  = 432
	widthMargin   = 1.1 // CAD programs put another font in place of the one named
	unknownGlyph  = 2079
	squareSide    = 0.7 // of the height of text: that of a lower-case letter (ISO 3098)
	symbolGap     = 0.25
	descentFactor = float64(descentUnits) / capUnits
)

// TextWidth returns the width of a line of text whose capitals are height
// high, in the unit of height. The widths are those of Go Regular with a tenth
// added, because programs substitute fonts; characters that the table lacks
// count as wide ones.
func TextWidth(s string, height float64) float64 {
	var units int
	for _, r := range s {
		switch {
		case r >= 0x20 && r <= 0x7e:
			units += int(widthsASCII[r-0x20])
		case r >= 0xa0 && r <= 0xff:
			units += int(widthsLatin1[r-0xa0])
		default:
			units += unknownGlyph
		}
	}
	return float64(units) / capUnits * height * widthMargin
}

// taperLength is the length of the symbol for a taper in heights of text: a
// triangle as high as the text, with 30 degrees at its tip (ISO 3040, from
// memory, unverified).
const taperLength = 1.8660254037844386 // 0.5 / tan 15 degrees

// drawn returns the width of a symbol that is drawn as a polyline, in heights
// of text; 0 for others.
func (s Symbol) drawn() float64 {
	switch s {
	case SquareSymbol:
		return squareSide
	case TaperSymbol, TaperLeftSymbol:
		return taperLength
	}
	return 0
}

// width returns the width of the label at the given height, symbol included.
func (l Label) width(height float64) float64 {
	w := TextWidth(l.Text, height)
	switch l.Symbol {
	case DiameterSymbol:
		w += TextWidth("Ø", height)
	case RadiusSymbol:
		w += TextWidth("R", height)
	}
	if d := l.Symbol.drawn(); d > 0 {
		w += (d + symbolGap) * height
	}
	if l.Reference {
		w += TextWidth("()", height)
	}
	return w
}
