package drawing

// A Style says how a drawing looks on paper. The zero value is line group 0.5
// with text of 3.5 mm at full size, labelled with numbers. All sizes are
// millimetres on paper.
type Style struct {
	// Scale is the scale of the drawing: millimetres on paper for a millimetre
	// of the part, 0.5 for 1:2. 0 means 1.
	Scale float64 `json:"scale,omitzero"`
	// Group is the line group of ISO 128-2: the width of wide lines, of
	// which narrow lines have half. 0 means 0.5.
	Group float64 `json:"group,omitzero"`
	// TextHeight is the height of capitals in dimensions and notes
	// (ISO 3098). 0 means 3.5.
	TextHeight float64 `json:"text_height,omitzero"`
	Labels     Labels  `json:"labels,omitzero"`
	// NoKey leaves out the key that explains the letters of a figure whose
	// dimensions say letters or rules.
	NoKey bool `json:"no_key,omitzero"`
	// DecimalComma writes 27,7 in place of 27.7.
	DecimalComma bool `json:"decimal_comma,omitzero"`
	// Font is what text is lettered in. nil is Liberation Sans, an open font
	// whose zero has no stroke.
	Font Font `json:"-"`
}

// Labels says what dimensions say.
type Labels uint8

// The ways to label.
const (
	Numbers  Labels = iota // 16
	Rules                  // 0.8D
	Letters                // T
	NoLabels               // no dimensions at all
	Blank                  // dimension lines with room for figures by hand
	labelsCount
)

// PaperScale returns Scale, or 1 where it is 0.
func (s Style) PaperScale() float64 { return orDefault(s.Scale, 1) }

// Wide returns the width of wide lines.
func (s Style) Wide() float64 { return orDefault(s.Group, 0.5) }

// Narrow returns the width of narrow lines: half of Wide (ISO 128-2).
func (s Style) Narrow() float64 { return s.Wide() / 2 }

// Height returns the height of capitals.
func (s Style) Height() float64 { return orDefault(s.TextHeight, 3.5) }

// Part returns the length on the part that is mm millimetres on paper.
func (s Style) Part(mm float64) float64 { return mm / s.PaperScale() }

// ExtensionGap returns how far extension lines keep off the outline and run
// past the dimension line: 8 line widths (ISO 129-1).
func (s Style) ExtensionGap() float64 { return 8 * s.Narrow() }

// ArrowLength returns the length of an arrowhead, that of the text's height;
// the arrow opens by ArrowAngle.
func (s Style) ArrowLength() float64 { return s.Height() }

// ArrowAngle is the angle at the tip of a filled arrowhead, degrees
// (common practice; about 15).
const ArrowAngle = 15.0

// TextGap returns how far text stands above the line it belongs to: about
// 1 mm at a height of 3.5 (common practice).
func (s Style) TextGap() float64 { return s.Height() * 2 / 7 }

// FirstRow returns the distance of the first dimension line from the outline,
// and RowStep that from one dimension line to the next: about 10 mm and not
// under twice the height of text (common practice; ISO 129-1 asks for equal
// steps).
func (s Style) FirstRow() float64 { return max(10, 2*s.Height()+s.ExtensionGap()) }

// RowStep returns the distance between parallel dimension lines.
func (s Style) RowStep() float64 { return max(8, 2.25*s.Height()) }

// BlankWidth returns how much room a blank label has: enough for a rule such
// as 1.5D + 3 by hand. It is the same for every dimension, so that it gives
// nothing away.
func (s Style) BlankWidth() float64 { return 5 * s.Height() }

// ThreadGap returns the least distance on paper between the crest and the root
// line of a thread: twice the wide line, never under 0.7 mm (ISO 6410-1).
func (s Style) ThreadGap() float64 { return max(2*s.Wide(), 0.7) }

// CentreOverrun is how far a centre line runs past the outline: 3 mm
// (common practice).
const CentreOverrun = 3.0

func orDefault(v, def float64) float64 {
	if v == 0 {
		return def
	}
	return v
}
