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

// Text returns the label, and whether there is one. Where labels are blank it
// has no value.
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
		if d.Placed {
			p := newPen(st)
			x.linear(&p, &d, p.width(&d.Label))
		}
		return d.Placed
	case Aligned:
		if d.Placed {
			p := newPen(st)
			x.aligned(&p, &d, p.width(&d.Label))
		}
		return d.Placed
	case Angular:
		if d.Placed {
			p := newPen(st)
			x.angular(&p, &d, p.width(&d.Label))
		}
		return d.Placed
	case Diameter:
		if d.Shelf.Placed {
			p, dir := newPen(st), unit(d.Shelf.Knee.Sub(d.Center))
			x.leader(&p, &d.Label, p.width(&d.Label), d.Center.Add(dir.Mul(d.Radius)), d.Shelf)
		}
		return d.Shelf.Placed
	case Radius:
		if d.Shelf.Placed {
			p := newPen(st)
			x.leader(&p, &d.Label, p.width(&d.Label), d.Center.Add(Polar(d.Radius, d.Angle)), d.Shelf)
		}
		return d.Shelf.Placed
	case Leader:
		if d.Shelf.Placed {
			p := newPen(st)
			x.leader(&p, &d.Label, p.width(&d.Label), d.Tip, d.Shelf)
		}
		return d.Shelf.Placed
	}
	return false
}

// reset empties x.
func (x *Expansion) reset() {
	x.nl, x.nc, x.na = 0, 0, 0
	x.isSq, x.isTap, x.shown, x.shelf = false, false, false, false
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

// arrow adds an arrowhead with its tip at tip, pointing along the unit vector u.
func (x *Expansion) arrow(p *pen, tip, u Point) {
	base := tip.Sub(u.Mul(p.arrow))
	n := Point{-u.Y, u.X}.Mul(p.halfArrow)
	x.arrows[x.na] = Arrowhead{tip, base.Add(n), base.Sub(n)}
	x.na++
}

// The following draw a dimension whose label has the given width.

func (x *Expansion) linear(p *pen, d *Linear, width float64) {
	if d.Turn != 0 {
		x.turnedLinear(p, d, width)
		return
	}
	a, b, text := Point{d.From.X, d.At}, Point{d.To.X, d.At}, Point{d.TextAt, d.At}
	if d.Side.Vertical() {
		a, b, text = Point{d.At, d.From.Y}, Point{d.At, d.To.Y}, Point{d.At, d.TextAt}
	}
	x.measured(p, d, a, b, text, width)
}

// turnedLinear draws a linear dimension whose axes are turned.
func (x *Expansion) turnedLinear(p *pen, d *Linear, width float64) {
	a, b := d.Measured()
	x.measured(p, d, a, b, d.world(d.onLine(d.TextAt)), width)
}

// measured draws a linear dimension with its dimension line from a to b.
func (x *Expansion) measured(p *pen, d *Linear, a, b, text Point, width float64) {
	if !d.HideFrom {
		x.extension(p, d.From, a)
	}
	if !d.HideTo {
		x.extension(p, d.To, b)
	}
	x.straight(p, a, b, text, d.Outside, &d.Label, width)
}

func (x *Expansion) aligned(p *pen, d *Aligned, width float64) {
	u := unit(d.To.Sub(d.From))
	n := Point{-u.Y, u.X}.Mul(d.At)
	a, b := d.From.Add(n), d.To.Add(n)
	x.extension(p, d.From, a)
	x.extension(p, d.To, b)
	x.straight(p, a, b, a.Add(u.Mul(d.TextAt)), d.Outside, &d.Label, width)
}

// extension draws the extension line from the outline at from to the dimension
// line at to.
func (x *Expansion) extension(p *pen, from, to Point) {
	if d := to.Sub(from); d.Len() > p.gap {
		n := unit(d).Mul(p.gap)
		x.line(from.Add(n), to.Add(n))
	}
}

// straight draws a straight dimension line from a to b with its arrows, and
// the label at text.
func (x *Expansion) straight(p *pen, a, b, text Point, outside bool, l *Label, width float64) {
	length := b.Sub(a).Len()
	u := unit(b.Sub(a))
	tail := 0.0
	if outside {
		tail = 2 * p.arrow
	}
	lo, hi := -tail, length+tail
	// The line goes on under a label that stands beside the arrows.
	at := dot(text.Sub(a), u)
	if at < 0 {
		lo = min(lo, at-width/2)
	} else if at > length {
		hi = max(hi, at+width/2)
	}
	x.line(a.Add(u.Mul(lo)), a.Add(u.Mul(hi)))
	if outside {
		x.arrow(p, a, u)
		x.arrow(p, b, u.Mul(-1))
	} else {
		x.arrow(p, a, u.Mul(-1))
		x.arrow(p, b, u)
	}
	x.label(p, l, width, text, readable(u.Angle()))
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

// label writes l above the line through at, in its middle.
func (x *Expansion) label(p *pen, l *Label, width float64, at Point, angle float64) {
	h := p.height
	s, c := plane.Sincos(angle)
	u, n := Point{c, s}, Point{-s, c}
	base := at.Add(n.Mul(p.textGap))
	left := base.Sub(u.Mul(width / 2))
	right, up := left.Add(u.Mul(width)), n.Mul(h)
	x.box = [4]Point{left, right, right.Add(up), left.Add(up)}
	x.text = Text{At: base, Height: p.style.Height(), Angle: angle, Align: AlignCentre}
	x.shown = true
	if p.style.Labels == Blank { // neither figures nor symbols
		return
	}
	if d := l.Symbol.drawn(); d > 0 {
		x.text.At = base.Add(u.Mul((d + symbolGap) * h / 2))
		x.symbol(l.Symbol, left, u.Mul(d*h), n.Mul(h))
	}
	x.text.Value = l.full()
}

// symbol draws a symbol before a label: along is its width and up the height
// of the text.
func (x *Expansion) symbol(s Symbol, left, along, up Point) {
	right := left.Add(along)
	switch s {
	case SquareSymbol:
		up = up.Mul(squareSide)
		x.square, x.isSq = [4]Point{left, right, right.Add(up), left.Add(up)}, true
	case TaperSymbol:
		x.taper, x.isTap = [3]Point{left, right.Add(up.Mul(0.5)), left.Add(up)}, true
	case TaperLeftSymbol:
		x.taper, x.isTap = [3]Point{right, left.Add(up.Mul(0.5)), right.Add(up)}, true
	}
}

// leader draws an oblique line with an arrow at tip and a shelf with l on it.
// The label keeps a gap from the knee, so that the oblique line is clear of its
// first character or symbol.
func (x *Expansion) leader(p *pen, l *Label, width float64, tip Point, sh Shelf) {
	x.shelf = true
	run := Point{1, 0}
	if sh.Left {
		run.X = -1
	}
	end := sh.Knee.Add(run.Mul(p.shelfGap + width))
	x.arrow(p, tip, unit(tip.Sub(sh.Knee)))
	x.line(tip, sh.Knee)
	x.line(sh.Knee, end)
	x.label(p, l, width, end.Sub(run.Mul(width/2)), 0)
}

// angular draws the arc of an angle; its label stands above the tangent.
func (x *Expansion) angular(p *pen, d *Angular, width float64) {
	leg := func(angle, from float64) {
		if d.At-from > p.gap {
			u := Polar(1, angle)
			x.line(d.Vertex.Add(u.Mul(from+p.gap)), d.Vertex.Add(u.Mul(d.At+p.gap)))
		}
	}
	leg(d.Start, d.From)
	leg(d.End, d.To)
	sweep := plane.Sweep(d.Start, d.End)
	// An arrow is a chord: it turns by half of what it spans.
	degrees := 180 / (math.Pi * d.At) // that are a unit of length on the arc
	span := p.arrow * degrees
	arrow := func(angle, turn float64) {
		dir := Polar(1, angle+turn*(90-span/2))
		x.arrow(p, d.Vertex.Add(Polar(d.At, angle)), dir)
	}
	// The arc goes on under a label that stands beside the arrows.
	before, after := 0.0, 0.0 // how far beyond the two arrows
	if d.Outside {
		before, after = 2*span, 2*span
	}
	reach := math.Abs(d.TextAt) - sweep/2 + width/2*degrees
	if d.TextAt < -sweep/2 {
		before = max(before, reach)
	} else if d.TextAt > sweep/2 {
		after = max(after, reach)
	}
	if d.Outside {
		x.arc(Arc{d.Vertex, d.At, d.Start - before, d.Start})
		x.arc(Arc{d.Vertex, d.At, d.End, d.End + after})
		arrow(d.Start, 1)
		arrow(d.End, -1)
	} else {
		x.arc(Arc{d.Vertex, d.At, d.Start - before, d.End + after})
		arrow(d.Start, -1)
		arrow(d.End, 1)
	}
	mid := d.Start + sweep/2 + d.TextAt
	angle := readable(mid - 90)
	at := d.Vertex.Add(Polar(d.At, mid))
	s, c := plane.Sincos(angle)
	if out := Polar(1, mid); dot(out, Point{-s, c}) < 0 { // the text stands towards the vertex: keep it outside the arc
		at = d.Vertex.Add(Polar(d.At+p.height+2*p.textGap, mid))
	}
	x.label(p, &d.Label, width, at, angle)
}

func (x *Expansion) arc(a Arc) {
	x.arcs[x.nc] = a
	x.nc++
}
