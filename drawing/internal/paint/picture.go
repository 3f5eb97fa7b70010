package paint

import (
	"boltplate/drawing"
	"boltplate/drawing/lettering"
	"math"
)

// A Picture is a drawing on paper. Coordinates are millimetres, x to the right
// and y up, from where the drawing has its origin.
type Picture struct {
	Bounds drawing.Rect // of the drawing; empty where there is nothing
	Font   *lettering.Font
	Widths [drawing.RoleCount]float64 // of lines
	Sheets []Layers                   // each above the one before it
}

// Layers are what is drawn together, and then what covers it.
type Layers struct {
	Roles  [drawing.RoleCount]Layer
	Covers []Path // that hide what is on these layers and below
}

// A Layer is what has one role.
type Layer struct {
	Strokes []Stroke
	Fills   []Path
	Texts   []Text
}

// Empty reports whether nothing is on the layer.
func (l *Layer) Empty() bool { return len(l.Strokes)+len(l.Fills)+len(l.Texts) == 0 }

// A Stroke is a line. Continuous lines have round ends, so that lines that
// meet make a corner; the ends of dashes are square, so that they have the
// lengths of the standard.
type Stroke struct {
	Path   Path
	Dashes []float64 // lengths of dash, gap, dash and so on; nil is continuous
}

// A Text is one line of text in the font of the picture, cleaned.
type Text struct {
	Value string
	At    drawing.Point // left end of the base line
	Size  float64       // of the em
	Width float64       // from At to the right end
	Angle float64       // of the base line, degrees
	Slant float64       // of the letters, degrees
}

// Axes returns the directions of the base line and of the height of letters.
func (t *Text) Axes() (along, up drawing.Point) {
	along = drawing.Polar(1, t.Angle)
	up = drawing.Pt(-along.Y, along.X)
	if t.Slant != 0 {
		up = up.Add(along.Mul(math.Tan(t.Slant * math.Pi / 180)))
	}
	return along, up
}

// A Path is a chain of segments, or several. A point is inside a path if it is
// inside an odd number of its chains.
type Path []Segment

// An Op says what a segment does.
type Op uint8

// The operations.
const (
	MoveTo  Op = iota // starts a chain at the point
	LineTo            // straight to the point
	CurveTo           // cubic curve with two control points to the third
	Close             // straight to the start of the chain
)

// A Segment is one step of a path.
type Segment struct {
	Op Op
	P  [3]drawing.Point // CurveTo has three points, Close none, the others one
}

// End returns where the segment ends; a Close ends nowhere in particular.
func (s *Segment) End() drawing.Point {
	if s.Op == CurveTo {
		return s.P[2]
	}
	return s.P[0]
}

// A Sheet says what page a picture is put on. The zero Sheet fits it.
type Sheet struct {
	Width, Height float64       // of the page; 0 fits the drawing
	Origin        drawing.Point // of the drawing, from the lower left corner, where the page has a given size
}

// Margin is the distance of a drawing from the edge of a page that fits it,
// mm.
const Margin = 10.0

// A Page is a page and where the drawing's origin lies on it, from the lower
// left corner. All are millimetres.
type Page struct {
	Width, Height float64
	Origin        drawing.Point
}

// Place returns the page for a picture. limit is the largest side that its
// format can have.
func (p *Picture) Place(s Sheet, limit float64) (Page, error) {
	pg := Page(s)
	b := p.Bounds
	if b.Empty() {
		b = drawing.Rect{}
	}
	if s.Width == 0 {
		pg.Width, pg.Origin.X = b.Dx()+2*Margin, Margin-b.Min.X
	}
	if s.Height == 0 {
		pg.Height, pg.Origin.Y = b.Dy()+2*Margin, Margin-b.Min.Y
	}
	return pg, s.check(pg, limit)
}
