package drawing

// A pen is a style in the unit of the part, worked out once for many
// dimensions.
type pen struct {
	style       Style
	height      float64 // of text
	gap         float64 // of extension lines
	textGap     float64
	arrow       float64 // its length
	halfArrow   float64 // half the width of its base
	first, step float64 // of rows of dimensions
}

// halfOpening is half the base of an arrowhead for its length: the tangent of
// half of ArrowAngle.
const halfOpening = 0.13165249758739583

func newPen(st Style) pen {
	k := st.Part(1)
	arrow := st.ArrowLength() * k
	return pen{
		style: st, height: st.Height() * k, gap: st.ExtensionGap() * k, textGap: st.TextGap() * k,
		arrow: arrow, halfArrow: arrow * halfOpening,
		first: st.FirstRow() * k, step: st.RowStep() * k,
	}
}

// width returns the width of a label.
func (p *pen) width(l *Label) float64 { return l.width(&p.style, p.height) }
