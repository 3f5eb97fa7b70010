package drawing

import (
	"math"

	"boltplate/internal/plane"
)

// An Expansion is a dimension as the lines, arcs, arrowheads and text that it
// is drawn with, for exporters that have no dimension of their own and for the
// picture that goes with those that have. It is a plain value, so that
// expanding allocates next to nothing.
type Expansion struct {
	lines  [8]Line
	arcs   [2]Arc
	arrows [2]Arrowhead
	nl     int
	nc     int
	na     int
	square [4]Point
	isSq   bool
	taper  [3]Point
	isTap  bool
	text   Text
	box    [4]Point
	shown  bool
	shelf  bool // a leader: no extension lines
}

// An Arrowhead is a filled triangle: its tip and the two corners of its base.
type Arrowhead [3]Point

// Lines returns the extension lines, the dimension line and shelves.
func (x *Expansion) Lines() []Line { return x.lines[:x.nl] }

// Arcs returns the dimension arcs of an angular dimension.
func (x *Expansion) Arcs() []Arc { return x.arcs[:x.nc] }

// Arrows returns the arrowheads.
func (x *Expansion) Arrows() []Arrowhead { return x.arrows[:x.na] }

// Square returns the corners of the square symbol before the text, and
// whether there is one.
func (x *Expansion) Square() ([4]Point, bool) { return x.square, x.isSq }

// Taper returns the corners of the symbol for a taper before the text, the tip
// in the middle, and whether there is one.
func (x *Expansion) Taper() ([3]Point, bool) { return x.taper, x.isTap }

// Text returns the label, and whether there is one.
func (x *Expansion) Text() (Text, bool) { return x.text, x.shown }

// LabelBox returns the corners of the box that the label, with its symbol,
// fills, and whether there is a label.
func (x *Expansion) LabelBox() ([4]Point, bool) { return x.box, x.shown }

// Items returns the expansion as items of the role of dimensions.
func (x *Expansion) Items() []Item {
	var items []Item
	add := func(s Shape) { items = append(items, Item{RoleDimension, s}) }
	for _, l := range x.Lines() {
		add(l)
	}
	for _, a := range x.Arcs() {
		add(a)
	}
	for _, a := range x.Arrows() {
		add(Hatch{Loops: [][]Vertex{{{Point: a[0]}, {Point: a[1]}, {Point: a[2]}}}, Solid: true})
	}
	outline := func(ps []Point) {
		p := Polyline{Closed: true}
		for _, q := range ps {
			p.Vertices = append(p.Vertices, Vertex{Point: q})
		}
		add(p)
	}
	if x.isSq {
		outline(x.square[:])
	}
	if x.isTap {
		outline(x.taper[:])
	}
	if x.shown {
		add(x.text)
	}
	return items
}

// Expand turns a dimension that has been placed into what it is drawn with. It
// reports false for every other shape, for a dimension that is not placed and
// for one that the style leaves out.
func Expand(s Shape, st Style) (Expansion, bool) {
	var x Expansion
	ok := x.expand(s, st)
	return x, ok
}

func (x *Expansion) expand(s Shape, st Style) bool {
	if st.Labels == NoLabels {
		return false
	}
	switch d := s.(type) {
	case Linear:
		if !d.Placed {
			return false
		}
		a, b := Point{d.From.X, d.At}, Point{d.To.X, d.At}
		text := Point{d.TextAt, d.At}
		if d.Side.Vertical() {
			a, b = Point{d.At, d.From.Y}, Point{d.At, d.To.Y}
			text = Point{d.At, d.TextAt}
		}
		x.straight(st, d.Label, d.From, d.To, a, b, text, d.Outside, d.HideFrom, d.HideTo)
	case Aligned:
		if !d.Placed {
			return false
		}
		u := unit(d.To.Sub(d.From))
		n := Point{-u.Y, u.X}.Mul(d.At)
		x.straight(st, d.Label, d.From, d.To, d.From.Add(n), d.To.Add(n), d.From.Add(n).Add(u.Mul(d.TextAt)), d.Outside, false, false)
	case Diameter:
		if !d.Shelf.Placed {
			return false
		}
		dir := unit(d.Shelf.Knee.Sub(d.Center))
		x.leader(st, d.Label, d.Center.Add(dir.Mul(d.Radius)), d.Shelf)
	case Radius:
		if !d.Shelf.Placed {
			return false
		}
		x.leader(st, d.Label, d.Center.Add(Polar(d.Radius, d.Angle)), d.Shelf)
	case Leader:
		if !d.Shelf.Placed {
			return false
		}
		x.leader(st, d.Label, d.Tip, d.Shelf)
	case Angular:
		if !d.Placed {
			return false
		}
		x.angular(st, d)
	default:
		return false
	}
	return true
}

func unit(p Point) Point {
	if l := p.Len(); l > 0 {
		return p.Mul(1 / l)
	}
	return Point{1, 0}
}

func (x *Expansion) line(a, b Point) {
	if a != b {
		x.lines[x.nl] = Line{a, b}
		x.nl++
	}
}

// arrow adds an arrowhead with its tip at p, pointing along the unit vector u.
func (x *Expansion) arrow(st Style, p, u Point) {
	l := st.Part(st.ArrowLength())
	h := l * math.Tan(ArrowAngle/2*math.Pi/180)
	base := p.Sub(u.Mul(l))
	n := Point{-u.Y, u.X}.Mul(h)
	x.arrows[x.na] = Arrowhead{p, base.Add(n), base.Sub(n)}
	x.na++
}

// straight draws a dimension with a straight dimension line from a to b, the
// ends of the extension lines from p and q.
func (x *Expansion) straight(st Style, l Label, p, q, a, b, text Point, outside, hideP, hideQ bool) {
	gap := st.Part(st.ExtensionGap())
	extend := func(from, to Point, hide bool) {
		if d := to.Sub(from); !hide && d.Len() > gap {
			u := unit(d)
			x.line(from.Add(u.Mul(gap)), to.Add(u.Mul(gap)))
		}
	}
	extend(p, a, hideP)
	extend(q, b, hideQ)

	u := unit(b.Sub(a))
	tail := 0.0
	if outside {
		tail = 2 * st.Part(st.ArrowLength())
	}
	lo, hi := -tail, b.Sub(a).Len()+tail
	// The line goes on under a label that stands beside the arrows.
	w := st.Part(l.width(st.Height())) / 2
	at := dot(text.Sub(a), u)
	if at < 0 {
		lo = min(lo, at-w)
	} else if at > b.Sub(a).Len() {
		hi = max(hi, at+w)
	}
	x.line(a.Add(u.Mul(lo)), a.Add(u.Mul(hi)))
	if outside {
		x.arrow(st, a, u)
		x.arrow(st, b, u.Mul(-1))
	} else {
		x.arrow(st, a, u.Mul(-1))
		x.arrow(st, b, u)
	}
	x.label(st, l, text, readable(u.Angle()))
}

func dot(p, q Point) float64 { return p.X*q.X + p.Y*q.Y }

// readable turns the direction of a line into that of the text above it, read
// from below or from the right: in (-90, 90].
func readable(angle float64) float64 {
	a := math.Mod(angle, 180)
	switch {
	case a > 90+1e-9:
		a -= 180
	case a <= -90+1e-9:
		a += 180
	}
	if a == 0 {
		a = 0 // never -0
	}
	return a
}

// label writes l above the line through p, in its middle.
func (x *Expansion) label(st Style, l Label, p Point, angle float64) {
	h, gap := st.Part(st.Height()), st.Part(st.TextGap())
	s, c := plane.Sincos(angle)
	u, n := Point{c, s}, Point{-s, c}
	base := p.Add(n.Mul(gap))
	w := st.Part(l.width(st.Height()))
	left := base.Sub(u.Mul(w / 2))
	x.box = [4]Point{left, left.Add(u.Mul(w)), left.Add(u.Mul(w)).Add(n.Mul(h)), left.Add(n.Mul(h))}
	at := base
	if d := l.Symbol.drawn(); d > 0 {
		at = base.Add(u.Mul((d + symbolGap) * h / 2))
		right := left.Add(u.Mul(d * h))
		switch l.Symbol {
		case SquareSymbol:
			up := n.Mul(d * h)
			x.square, x.isSq = [4]Point{left, right, right.Add(up), left.Add(up)}, true
		case TaperSymbol:
			x.taper, x.isTap = [3]Point{left, right.Add(n.Mul(h / 2)), left.Add(n.Mul(h))}, true
		case TaperLeftSymbol:
			x.taper, x.isTap = [3]Point{right, left.Add(n.Mul(h / 2)), right.Add(n.Mul(h))}, true
		}
	}
	x.text = Text{At: at, Height: st.Height(), Angle: angle, Align: AlignCentre, Value: l.full()}
	x.shown = true
}

// leader draws an oblique line with an arrow at tip and a shelf with l on it.
func (x *Expansion) leader(st Style, l Label, tip Point, sh Shelf) {
	x.shelf = true
	w := st.Part(l.width(st.Height()))
	end := sh.Knee.Add(Point{w, 0})
	if sh.Left {
		end = sh.Knee.Sub(Point{w, 0})
	}
	x.arrow(st, tip, unit(tip.Sub(sh.Knee)))
	x.line(tip, sh.Knee)
	x.line(sh.Knee, end)
	x.label(st, l, sh.Knee.Mid(end), 0)
}

// angular draws the arc of an angle; its label stands above the tangent.
func (x *Expansion) angular(st Style, d Angular) {
	gap := st.Part(st.ExtensionGap())
	leg := func(angle, from float64) {
		if d.At-from > gap {
			x.line(d.Vertex.Add(Polar(from+gap, angle)), d.Vertex.Add(Polar(d.At+gap, angle)))
		}
	}
	leg(d.Start, d.From)
	leg(d.End, d.To)
	sweep := plane.Sweep(d.Start, d.End)
	// An arrow is a chord: it turns by half of what it spans.
	span := st.Part(st.ArrowLength()) / d.At * 180 / math.Pi
	arrow := func(angle, turn float64) {
		dir := Polar(1, angle+turn*(90-span/2))
		x.arrow(st, d.Vertex.Add(Polar(d.At, angle)), dir)
	}
	if d.Outside {
		x.arcs[0] = Arc{d.Vertex, d.At, d.Start - 2*span, d.Start}
		x.arcs[1] = Arc{d.Vertex, d.At, d.End, d.End + 2*span}
		x.nc = 2
		arrow(d.Start, 1)
		arrow(d.End, -1)
	} else {
		x.arcs[0] = Arc{d.Vertex, d.At, d.Start, d.End}
		x.nc = 1
		arrow(d.Start, -1)
		arrow(d.End, 1)
	}
	mid := d.Start + sweep/2
	angle := readable(mid - 90)
	p := d.Vertex.Add(Polar(d.At, mid))
	s, c := plane.Sincos(angle)
	if out := Polar(1, mid); dot(out, Point{-s, c}) < 0 { // the text stands towards the vertex: keep it outside the arc
		p = d.Vertex.Add(Polar(d.At+st.Part(st.Height()+2*st.TextGap()), mid))
	}
	x.label(st, d.Label, p, angle)
}
