package drawing

// A pen is a style in the unit of the part, worked out once for many
// dimensions.
type pen struct {
	style       Style
	height      float64 // of text
	gap         float64 // of extension lines
	textGap     float64
	shelfGap    float64 // between the knee of a leader and its label
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
		style: st, height: st.Height() * k, gap: st.ExtensionGap() * k, textGap: st.TextGap() * k, shelfGap: st.TextGap() * k,
		arrow: arrow, halfArrow: arrow * halfOpening,
		first: st.FirstRow() * k, step: st.RowStep() * k,
	}
}

// width returns the width of a label.
func (p *pen) width(l *Label) float64 { return l.width(&p.style, p.height) }

// shelfLabel returns where the label of a leader stands.
func (p *pen) shelfLabel(sh Shelf, width float64) Rect {
	left := sh.Knee.X + p.shelfGap
	if sh.Left {
		left = sh.Knee.X - p.shelfGap - width
	}
	base := sh.Knee.Y + p.textGap
	return Rect{Point{left, base}, Point{left + width, base + p.height}}
}

// linearLabel returns where the label of a linear dimension stands: above its
// line, or to the left of an upright one.
func (p *pen) linearLabel(d *Linear, width float64) Rect {
	lo, hi := d.TextAt-width/2, d.TextAt+width/2
	if d.Side.Vertical() {
		return Rect{Point{d.At - p.textGap - p.height, lo}, Point{d.At - p.textGap, hi}}
	}
	return Rect{Point{lo, d.At + p.textGap}, Point{hi, d.At + p.textGap + p.height}}
}
