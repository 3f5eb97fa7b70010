package drawing

import "unicode"

// A Font tells how wide text is in it. Package lettering has fonts from files;
// the pictures of packages svg and pdf take those only.
type Font interface {
	// Width returns the width of a line of text in heights of its capitals.
	Width(text string) float64
}

// Of Liberation Sans Regular, in units of its em.
const (
	emUnits  = 2048
	capUnits = 1409 // height of a capital
)

const (
	widthMargin = 1.1 // CAD programs put another font in place of the one named
	squareSide  = 0.7 // of the height of text: that of a lower-case letter (ISO 3098)
	symbolGap   = 0.25
)

// TextWidth returns the width of a line of text in the style's font, whose
// capitals are height high, in the unit of height. A tenth is added, because
// programs substitute fonts.
func (s Style) TextWidth(text string, height float64) float64 {
	if s.Font != nil {
		return s.Font.Width(text) * height * widthMargin
	}
	return TextWidth(text, height)
}

// TextWidth returns the width of a line of text in the font of styles that
// name none, Liberation Sans, as Style.TextWidth does.
func TextWidth(text string, height float64) float64 {
	var units int
	for _, r := range text {
		units += advance(r)
	}
	return float64(units) / capUnits * height * widthMargin
}

// advance returns the width of a character. One that the table lacks counts as
// a wide one; one that only steers the setting of text as nothing.
func advance(r rune) int {
	switch {
	case r >= ' ' && r <= '~':
		return int(runs[0].widths[r-' '])
	case unicode.IsControl(r) || unicode.In(r, unicode.Zl, unicode.Zp, unicode.Noncharacter_Code_Point):
		return advance(' ')
	case r == '⌀':
		return advance('Ø')
	case unicode.In(r, unicode.Cf, unicode.Variation_Selector):
		return 0
	}
	for i := range runs {
		n := int(r - runs[i].first)
		if n >= 0 && n < len(runs[i].widths) && runs[i].widths[n] != lacking {
			return int(runs[i].widths[n])
		}
	}
	return emUnits
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

// width returns the width of the label whose text is height high, symbol
// included.
func (l *Label) width(st *Style, height float64) float64 {
	if st.Labels == Blank {
		return st.BlankWidth() / st.Height() * height
	}
	w := st.TextWidth(l.Text, height)
	switch l.Symbol {
	case DiameterSymbol:
		w += st.TextWidth("Ø", height)
	case RadiusSymbol:
		w += st.TextWidth("R", height)
	}
	if d := l.Symbol.drawn(); d > 0 {
		w += (d + symbolGap) * height
	}
	if l.Reference {
		w += st.TextWidth("()", height)
	}
	return w
}
