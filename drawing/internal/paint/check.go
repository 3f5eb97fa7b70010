package paint

import (
	"fmt"
	"math"
	"strconv"

	"boltplate/drawing"
	"boltplate/drawing/lettering"
)

// maxPaper is the largest length on paper, mm.
const maxPaper = 1e6

func number(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

// fontOf returns the font that drawings of a style are lettered in.
func fontOf(st drawing.Style) (*lettering.Font, error) {
	switch f := st.Font.(type) {
	case nil:
		return lettering.Default(), nil
	case *lettering.Font:
		if f != nil {
			return f, nil
		}
	}
	return nil, &drawing.ValueError{Index: -1, Item: -1, Object: "Style", Field: "Font", Value: fmt.Sprintf("%T", st.Font),
		Reason: "has no outlines; give a font of package lettering"}
}

// extent sets the bounds of the picture.
func (p *painter) extent() error {
	b, k := p.d.Bounds(), p.d.Style.PaperScale()
	if b.Empty() {
		p.pic.Bounds = b
		return nil
	}
	b = drawing.Rect{Min: b.Min.Mul(k), Max: b.Max.Mul(k)}
	for _, v := range [...]float64{b.Min.X, b.Min.Y, b.Max.X, b.Max.Y} {
		if !(math.Abs(v) <= maxPaper) {
			return &drawing.ValueError{Index: -1, Item: -1, Object: "Drawing", Field: "Bounds", Reason: "the drawing reaches further than 1e6 mm on paper; give Style.Scale"}
		}
	}
	p.pic.Bounds = b
	return nil
}

// check checks a page that was made for the sheet. limit is the largest side
// that the format can have.
func (s Sheet) check(pg Page, limit float64) error {
	fault := func(object, field, value, reason string) error {
		return &drawing.ValueError{Index: -1, Item: -1, Object: object, Field: field, Value: value, Reason: reason}
	}
	for _, f := range [...]struct {
		name string
		v    float64
	}{{"Width", s.Width}, {"Height", s.Height}} {
		if !(f.v >= 0 && f.v <= limit) || f.v != 0 && f.v < 1 {
			return fault("Encoder", f.name, number(f.v), fmt.Sprintf("is no side of a page; give 1 to %g mm, or 0 for a page that fits", limit))
		}
	}
	for _, f := range [...]struct {
		name string
		v    float64
	}{{"Origin.X", s.Origin.X}, {"Origin.Y", s.Origin.Y}} {
		if !(math.Abs(f.v) <= maxPaper) {
			return fault("Encoder", f.name, number(f.v), "does not lie on paper; give millimetres from the lower left corner")
		}
	}
	if side := max(pg.Width, pg.Height); side > limit {
		return fault("Drawing", "Bounds", "", fmt.Sprintf("the page would be %.0f mm long, and its format ends at %g mm; give Style.Scale", side, limit))
	}
	return nil
}
