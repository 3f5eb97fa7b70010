package marking

import (
	"math"
	"slices"
	"strings"

	"boltplate/dxfin"
)

// A subDim is a dimension of a submission, in its drawing units.
type subDim struct {
	kind     dimKind
	text     string
	from, to point   // of a straight one the ends of what it measures; of others the point that it touches, twice
	u        point   // along which a straight one measures
	center   point   // of a circle or arc, where the file says
	r        float64 // the same
	label    point
	line     int
	override string // the text that a DIMENSION has in place of its value
	value    float64
	drawn    bool // it is in pieces: lines, arrowheads and text
	// suits says how badly a text suits it, where it is in pieces; the text is
	// sought among those that belong to no other.
	suits func(*label) (cost float64, ok bool)
}

// A label is a text of a submission.
type label struct {
	text   string
	box    [4]point // from the left end of the base line, counter-clockwise
	u      point    // direction of the lines
	height float64
	line   int
	used   bool
	own    int // index of the dimension that it is of, -1 for none
}

func (l *label) mid() point { return l.box[0].Mid(l.box[2]) }

// An arrow is an arrowhead.
type arrow struct {
	tip, dir point // dir points from the base to the tip
	length   float64
	used     bool
}

// A dimFinder finds the dimensions of a submission.
type dimFinder struct {
	*submission
	unit   float64 // units of the submission for a millimetre on paper
	arrows []arrow
	labels []label
	dims   []subDim
	// notes marks the strokes that are parts of dimensions.
	notes []bool
}

// Sizes on paper by which parts of dimensions are known, mm.
const (
	longestArrow = 9.0
	tipSlack     = 0.7 // from a tip to the line that it is on
	shelfSlack   = 0.5 // from a knee to its shelf
	textReach    = 2.5 // from a text to its line, heights of text
)

// findDims returns the dimensions of a submission and its texts.
func findDims(b *submission, unit float64) *dimFinder {
	f := &dimFinder{submission: b, unit: unit, notes: make([]bool, len(b.strokes))}
	for i := range b.scene.Texts {
		if t := &b.scene.Texts[i]; t.Shown && t.Plotted {
			f.labels = append(f.labels, newLabel(t, -1))
		}
	}
	free := len(f.labels)
	for i := range b.scene.Dimensions {
		f.entity(&b.scene.Dimensions[i])
	}
	f.symbols(free)
	f.findArrows()
	for i := range b.scene.Leaders {
		f.leaderEntity(&b.scene.Leaders[i])
	}
	f.straightPieces()
	f.anglePieces()
	f.leaderPieces()
	f.letter(free)
	return f
}

// newLabel returns the box of a text. Programs letter in other fonts, so that
// the box is only about right.
func newLabel(t *dxfin.PlaneText, own int) label {
	lines := strings.Split(t.Value, "\n")
	w := t.Length
	if w == 0 {
		for _, s := range lines {
			w = max(w, textWidth(s, t.Height)*max(t.Width, 0.1))
		}
	}
	const pitch = 5.0 / 3 // of lines of an MTEXT
	h := t.Height * (1 + pitch*float64(len(lines)-1))
	s, c := math.Sincos(t.Angle * math.Pi / 180)
	u, n := point{X: c, Y: s}, point{X: -s, Y: c}
	if t.Mirror {
		n = n.Mul(-1)
	}
	left := t.At
	switch t.Align {
	case dxfin.Center:
		left = left.Sub(u.Mul(w / 2))
	case dxfin.Right:
		left = left.Sub(u.Mul(w))
	}
	switch t.VAlign {
	case dxfin.MiddleHeight:
		left = left.Sub(n.Mul(h / 2))
	case dxfin.Top:
		left = left.Sub(n.Mul(h))
	}
	right := left.Add(u.Mul(w))
	return label{text: t.Value, box: [4]point{left, right, right.Add(n.Mul(h)), left.Add(n.Mul(h))}, u: u, height: t.Height, line: t.Entity.Line, own: own}
}

// entity takes in a DIMENSION.
func (f *dimFinder) entity(d *dxfin.PlaneDimension) {
	if !d.Shown {
		return
	}
	s := subDim{text: d.Text, line: d.Entity.Line, override: d.Override, value: d.Value, label: d.Middle}
	switch d.Kind {
	case dxfin.DimLinear, dxfin.DimAligned:
		a := d.Direction * math.Pi / 180
		s.kind, s.from, s.to, s.u = dimStraight, d.First, d.Second, point{X: math.Cos(a), Y: math.Sin(a)}
	case dxfin.DimDiameter:
		s.kind, s.center, s.r = dimCircle, d.At.Mid(d.Center), d.At.Sub(d.Center).Len()/2
		s.from, s.to = d.At, d.Center
	case dxfin.DimRadius:
		s.kind, s.center, s.r = dimArc, d.At, d.At.Sub(d.Center).Len()
		s.from, s.to = d.Center, d.Center
	case dxfin.DimAngular, dxfin.DimAngular3:
		s.kind, s.from, s.to = dimAngle, d.First, d.Second
		if d.Kind == dxfin.DimAngular3 {
			s.center = d.Center
		} else {
			s.center = crossing(d.First, d.Second, d.Center, d.At)
		}
	default:
		s.kind, s.from, s.to = dimLeader, d.First, d.First
	}
	for _, sign := range [...]string{"□", "▷"} { // drawn as polylines, and said in the text that the file has for programs
		if o := plainText(d.Override); strings.HasPrefix(o, sign) && !strings.HasPrefix(plainText(s.text), sign) {
			s.text = sign + s.text
		}
	}
	f.dims = append(f.dims, s)
	for i := range d.Picture.Texts {
		if t := &d.Picture.Texts[i]; t.Shown {
			f.labels = append(f.labels, newLabel(t, len(f.dims)-1))
		}
	}
}

// crossing returns where two lines meet, or a point of the first where they do
// not.
func crossing(a, b, c, d point) point {
	u, v := b.Sub(a), d.Sub(c)
	det := wedge(u, v)
	if math.Abs(det) < 1e-12 {
		return a
	}
	return a.Add(u.Mul(wedge(c.Sub(a), v) / det))
}

// findArrows finds filled triangles and small closed polylines of three sides.
func (f *dimFinder) findArrows() {
	for _, ps := range f.solids {
		f.arrow(ps)
	}
	for i := 0; i < len(f.strokes); i++ {
		s := &f.strokes[i]
		n := 1
		for i+n < len(f.strokes) && f.strokes[i+n].entity == s.entity && f.strokes[i+n].level && s.level {
			n++
		}
		if n == 3 && !f.notes[i] {
			ps := []point{s.points[0], s.points[1], f.strokes[i+1].points[1]}
			if f.strokes[i+2].points[1].Sub(ps[0]).Len() < 1e-3*f.unit && f.arrow(ps) {
				f.notes[i], f.notes[i+1], f.notes[i+2] = true, true, true
			}
		}
		i += n - 1
	}
}

// arrow takes in a triangle if it is slender and small.
func (f *dimFinder) arrow(ps []point) bool {
	var q []point // without points that are there twice
	for _, p := range ps {
		if !slices.ContainsFunc(q, func(o point) bool { return o.Sub(p).Len() < 1e-3*f.unit }) {
			q = append(q, p)
		}
	}
	if len(q) != 3 {
		return false
	}
	short, at := math.Inf(1), 0
	for i := range q {
		if l := q[(i+1)%3].Sub(q[(i+2)%3]).Len(); l < short {
			short, at = l, i
		}
	}
	base := q[(at+1)%3].Mid(q[(at+2)%3])
	v := q[at].Sub(base)
	if v.Len() < 1.3*short || v.Len() > longestArrow*f.unit || v.Len() < 0.5*f.unit {
		return false
	}
	f.arrows = append(f.arrows, arrow{tip: q[at], dir: unit(v), length: v.Len()})
	return true
}

// symbols puts the sign of a square or a taper, which is drawn as a closed
// polyline before a text, into the text.
func (f *dimFinder) symbols(free int) {
	for i := 0; i < len(f.strokes); i++ {
		s := &f.strokes[i]
		n := 1
		for i+n < len(f.strokes) && f.strokes[i+n].entity == s.entity && f.strokes[i+n].level && s.level {
			n++
		}
		first := i
		i += n - 1
		if n != 3 && n != 4 || f.notes[first] || f.strokes[first+n-1].points[1].Sub(s.points[0]).Len() > 1e-3*f.unit {
			continue
		}
		var ps []point
		for k := range n {
			ps = append(ps, f.strokes[first+k].points[0])
		}
		if l := f.symbolAt(ps, free); l != nil {
			sign := "□"
			if n == 3 {
				sign = "▷"
			}
			l.text = sign + strings.TrimLeft(l.text, "□▢ ")
			for k := range n {
				f.notes[first+k] = true
			}
		}
	}
}
