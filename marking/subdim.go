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
	// notes marks the strokes that are parts of dimensions: sure, or perhaps,
	// where they may be edges that a dimension goes to.
	notes []certainty
}

// A certainty says whether a stroke is part of a dimension.
type certainty uint8

const (
	no certainty = iota
	perhaps
	sure
)

// Sizes on paper by which parts of dimensions are known, mm.
const (
	longestArrow  = 9.0
	shortestArrow = 1.2 // what is less is a corner of a figure
	tipSlack      = 0.7 // from a tip to the line that it is on
	shelfSlack    = 0.5 // from a knee to its shelf
	textReach     = 2.5 // from a text to its line, heights of text
)

// findDims returns the dimensions of a submission and its texts.
func findDims(b *submission, unit float64) *dimFinder {
	f := &dimFinder{submission: b, unit: unit, notes: make([]certainty, len(b.strokes))}
	for i := range b.scene.Texts {
		if t := &b.scene.Texts[i]; t.Shown && t.Plotted {
			f.labels = append(f.labels, newLabel(t, -1))
		}
	}
	free := len(f.labels)
	for i := range b.scene.Dimensions {
		f.entity(&b.scene.Dimensions[i])
	}
	loops := f.loops()
	f.symbols(loops, free)
	f.findArrows(loops)
	for i := range b.scene.Leaders {
		f.leaderEntity(&b.scene.Leaders[i])
	}
	f.straightPieces()
	f.anglePieces()
	f.leaderPieces()
	f.letter(free)
	f.bareLeaders(free)
	f.balloons(free)
	f.references(free)
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

// findArrows finds filled triangles, closed figures of three short lines, and
// pairs of short lines that spread from a point on a line.
func (f *dimFinder) findArrows(loops [][]int) {
	for _, ps := range f.solids {
		f.arrow(ps)
	}
	for _, loop := range loops {
		if len(loop) == 3 && !f.noted(loop) && f.arrow(f.corners(loop)) {
			f.note(loop)
		}
	}
	f.openArrows()
}

func (f *dimFinder) note(strokes []int) {
	for _, i := range strokes {
		f.notes[i] = sure
	}
}

func (f *dimFinder) noted(strokes []int) bool {
	return slices.ContainsFunc(strokes, func(i int) bool { return f.notes[i] == sure })
}

// ends lists the short straight strokes by their ends.
func (f *dimFinder) shortEnds() (at map[[2]int64][]int) {
	at = map[[2]int64][]int{}
	for i := range f.strokes {
		if s := &f.strokes[i]; s.level && lengthOf(s.points) < longestArrow*f.unit {
			for _, p := range s.points {
				at[f.key(p)] = append(at[f.key(p)], i)
			}
		}
	}
	return at
}

// key is the same for points that are one.
func (f *dimFinder) key(p point) [2]int64 {
	grid := 0.02 * f.unit
	return [2]int64{int64(math.Round(p.X / grid)), int64(math.Round(p.Y / grid))}
}

// most bounds how many short lines are looked at that meet in a point.
const most = 8

// loops returns closed figures of three or four short straight strokes, each
// as the strokes in turn.
func (f *dimFinder) loops() (out [][]int) {
	at := f.shortEnds()
	other := func(i int, k [2]int64) [2]int64 {
		if a := f.key(f.strokes[i].points[0]); a != k {
			return a
		}
		return f.key(f.strokes[i].points[1])
	}
	used := map[int]bool{}
	var walk func(path []int, start, now [2]int64) bool
	walk = func(path []int, start, now [2]int64) bool {
		if len(at[now]) > most {
			return false
		}
		for _, i := range at[now] {
			if used[i] || slices.Contains(path, i) {
				continue
			}
			p := append(path, i)
			next := other(i, now)
			if next == start && len(p) >= 3 {
				out = append(out, slices.Clone(p))
				for _, j := range p {
					used[j] = true
				}
				return true
			}
			if len(p) < 4 && next != start && walk(p, start, next) {
				return true
			}
		}
		return false
	}
	for i := range f.strokes {
		s := &f.strokes[i]
		if !s.level || used[i] || lengthOf(s.points) >= longestArrow*f.unit {
			continue
		}
		walk([]int{i}, f.key(s.points[0]), f.key(s.points[1]))
	}
	return out
}

// balloons marks item references: a text in a circle, and the lines that end at
// the circle.
func (f *dimFinder) balloons(free int) {
	for i := range f.strokes {
		s := &f.strokes[i]
		if !s.closed {
			continue
		}
		c, r, off, ok := circleOf(s.points)
		if !ok || off > 0.02*r || !slices.ContainsFunc(f.labels[:free], func(l label) bool {
			return !l.used && l.mid().Sub(c).Len() < 0.4*r && r > 0.6*l.height && r < 2.5*l.height
		}) {
			continue
		}
		f.notes[i] = sure
		for j := range f.strokes {
			o := &f.strokes[j]
			if o.level && (math.Abs(o.points[0].Sub(c).Len()-r) < 0.3*f.unit || math.Abs(o.points[1].Sub(c).Len()-r) < 0.3*f.unit) {
				f.notes[j] = max(f.notes[j], perhaps)
			}
		}
	}
}

// referenceGap is the most that the leader of an item reference keeps from the
// text, shortestReference how long it is at the least, and largestDot the most
// radius of the dot at its end, mm on paper; referenceSigns is the most signs
// that a reference has.
const (
	referenceGap      = 2.0
	shortestReference = 4.0
	largestDot        = 1.0
	referenceSigns    = 6
)

// references marks the leaders of item references and findings without a circle:
// straight lines from close to a short text of nothing else, away from it.
func (f *dimFinder) references(free int) {
	for i := range f.labels[:free] {
		l := &f.labels[i]
		if n := len(l.text); l.used || n == 0 || n > referenceSigns || strings.Contains(l.text, " ") {
			continue
		}
		near, m := referenceGap*f.unit+0.3*l.height, l.mid()
		for j := range f.strokes {
			o := &f.strokes[j]
			if !o.level {
				continue
			}
			p, q := o.points[0], o.points[1]
			if q.Sub(m).Len() < p.Sub(m).Len() {
				p, q = q, p
			}
			if away := q.Sub(p); dot(away, p.Sub(m)) > 0 && l.distance(p) < near {
				f.leaderOf(p, unit(away))
			}
		}
	}
}

// leaderOf marks the leader of an item reference from p in the direction u, in
// however many pieces, and the dot at its end.
func (f *dimFinder) leaderOf(p, u point) {
	var line []int
	end := p
	for grown := true; grown; {
		grown = false
		for i := range f.strokes {
			o := &f.strokes[i]
			if !o.level {
				continue
			}
			a, b := o.points[0], o.points[1]
			if dot(u, b.Sub(a)) < 0 {
				a, b = b, a
			}
			if a.Sub(end).Len() < shelfSlack*f.unit && math.Abs(wedge(u, unit(b.Sub(a)))) < 0.02 && dot(u, b.Sub(end)) > 0.2*f.unit {
				line, end, grown = append(line, i), b, true
				break
			}
		}
	}
	if end.Sub(p).Len() < shortestReference*f.unit {
		return
	}
	for i := range f.strokes {
		dot := !slices.ContainsFunc(f.strokes[i].points, func(q point) bool { return q.Sub(end).Len() > largestDot*f.unit })
		if dot || slices.Contains(line, i) {
			f.notes[i] = max(f.notes[i], perhaps)
		}
	}
}

// distance returns how far a place is from the box of a text.
func (l *label) distance(p point) float64 {
	a := l.box[0]
	n := point{X: -l.u.Y, Y: l.u.X}
	across, up := dot(l.u, p.Sub(a)), dot(n, p.Sub(a))
	wide, high := dot(l.u, l.box[2].Sub(a)), dot(n, l.box[2].Sub(a))
	return math.Hypot(max(-across, across-wide, 0), max(min(high, 0)-up, up-max(high, 0), 0))
}

// corners returns the corners of a closed figure.
func (f *dimFinder) corners(loop []int) (ps []point) {
	for n, i := range loop {
		next := &f.strokes[loop[(n+1)%len(loop)]]
		p := f.strokes[i].points[1]
		if k := f.key(p); k != f.key(next.points[0]) && k != f.key(next.points[1]) {
			p = f.strokes[i].points[0]
		}
		ps = append(ps, p)
	}
	return ps
}

// openArrows finds arrowheads of two lines: short, of one length, spreading by
// 10 to 40 degrees from a point, with a line between them.
func (f *dimFinder) openArrows() {
	at := f.shortEnds()
	for i := range f.strokes {
		s := &f.strokes[i]
		if !s.level || f.notes[i] == sure || lengthOf(s.points) < 2*f.unit {
			continue
		}
		for k := range 2 {
			tip, u := s.points[k], unit(s.points[1-k].Sub(s.points[k]))
			var sides []int
			for _, j := range at[f.key(tip)] {
				o := &f.strokes[j]
				v := o.points[1].Sub(o.points[0])
				if f.key(o.points[1]) == f.key(tip) {
					v = v.Mul(-1)
				}
				a := math.Abs(math.Atan2(wedge(u, v), dot(u, v))) * 180 / math.Pi
				if j != i && f.notes[j] != sure && a > 4 && a < 21 && v.Len() > shortestArrow*f.unit {
					sides = append(sides, j)
				}
			}
			if len(sides) != 2 {
				continue
			}
			a, b := lengthOf(f.strokes[sides[0]].points), lengthOf(f.strokes[sides[1]].points)
			if math.Abs(a-b) < 0.1*a {
				f.note(sides)
				f.arrows = append(f.arrows, arrow{tip: tip, dir: u.Mul(-1), length: a})
			}
		}
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
	if v.Len() < 1.3*short || v.Len() > longestArrow*f.unit || v.Len() < shortestArrow*f.unit {
		return false
	}
	f.arrows = append(f.arrows, arrow{tip: q[at], dir: unit(v), length: v.Len()})
	return true
}

// symbols puts the sign of a square or a taper, which is drawn as a closed
// figure before a text, into the text.
func (f *dimFinder) symbols(loops [][]int, free int) {
	for _, loop := range loops {
		l := f.symbolAt(f.corners(loop), free)
		if l == nil {
			continue
		}
		sign := "□"
		if len(loop) == 3 {
			sign = "▷"
		}
		l.text = sign + strings.TrimLeft(l.text, "□▢ ")
		f.note(loop)
	}
}
