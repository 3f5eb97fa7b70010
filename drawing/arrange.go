package drawing

import (
	"math"
	"slices"

	"boltplate/internal/plane"
)

// Arrange returns the view with its dimensions placed for the given style:
// outside the outline at fixed distances on paper, shorter ones nearer, arrows
// and labels outside where there is no room between the extension lines, and
// no label on another label, a line or the outline. Where a style has no
// labels the dimensions are left out.
func Arrange(v View, st Style) View {
	a := arranger{st: st, outline: solidOutline(v)}
	items := make([]Item, 0, len(v.Items))
	var straight, shelved []int
	for _, it := range v.Items {
		switch it.Shape.(type) {
		case Linear, Aligned, Angular:
			straight = append(straight, len(items))
		case Diameter, Radius, Leader:
			shelved = append(shelved, len(items))
		default:
			items = append(items, it)
			continue
		}
		if st.Labels == NoLabels {
			straight, shelved = straight[:0], shelved[:0]
			continue
		}
		items = append(items, it)
	}
	v.Items = items
	a.items = items // dimensions have no bounds
	// Shorter dimensions first: they go nearer to the outline.
	slices.SortStableFunc(straight, func(i, j int) int {
		return compare(span(items[i].Shape), span(items[j].Shape))
	})
	for _, i := range straight {
		a.expect(items[i].Shape)
	}
	for _, i := range straight {
		items[i].Shape = a.placeStraight(items[i].Shape)
	}
	shareExtensionLines(items, straight)
	for _, i := range shelved {
		items[i].Shape = a.placeShelved(items[i].Shape)
	}
	return v
}

func compare(a, b float64) int {
	// Lengths that differ by rounding only keep their order.
	switch {
	case a < b-1e-9:
		return -1
	case a > b+1e-9:
		return 1
	}
	return 0
}

func span(s Shape) float64 {
	switch d := s.(type) {
	case Linear:
		if d.Side.Vertical() {
			return math.Abs(d.To.Y - d.From.Y)
		}
		return math.Abs(d.To.X - d.From.X)
	case Aligned:
		return d.To.Sub(d.From).Len()
	}
	return 0
}

// solidOutline is the extent of a view without its centre lines, which run
// past it.
func solidOutline(v View) Rect {
	r := EmptyRect()
	for i := range v.Items {
		if v.Items[i].Role != RoleCentre {
			r = r.Union(bounds(v.Items[i].Shape))
		}
	}
	if r.Empty() {
		r = Rect{}
	}
	return r
}

// support returns how far the view reaches in the direction of the unit vector
// n, its centre lines and dimensions aside.
func support(items []Item, n Point) float64 {
	far := math.Inf(-1)
	at := func(p Point, r float64) { far = math.Max(far, dot(p, n)+r) }
	for i := range items {
		if items[i].Role == RoleCentre {
			continue
		}
		switch s := items[i].Shape.(type) {
		case Line:
			at(s.From, 0)
			at(s.To, 0)
		case Circle:
			at(s.Center, s.Radius)
		case Arc:
			at(s.Center.Add(Polar(s.Radius, s.Start)), 0)
			at(s.Center.Add(Polar(s.Radius, s.End)), 0)
			if plane.InArc(n.Angle(), s.Start, s.End) {
				at(s.Center, s.Radius)
			}
		default:
			if b := bounds(s); !b.Empty() {
				for _, p := range [4]Point{b.Min, b.Max, {b.Min.X, b.Max.Y}, {b.Max.X, b.Min.Y}} {
					at(p, 0)
				}
			}
		}
	}
	return far
}

// An arranger remembers what has been placed.
type arranger struct {
	st      Style
	items   []Item // all but the dimensions
	outline Rect
	labels  []Rect
	lines   []placedLine
	columns []column // in the order of placing; those before done are placed
	done    int
}

// A column is where the extension lines of a linear dimension will stand.
type column struct {
	side   Side
	lo, hi float64
	off    float64 // of the dimension line from the outline, once placed
}

// expect notes where the extension lines of a dimension will stand, so that
// the labels placed before it keep clear of them.
func (a *arranger) expect(s Shape) {
	if d, ok := s.(Linear); ok {
		lo, hi := d.ends()
		a.columns = append(a.columns, column{side: d.Side, lo: lo, hi: hi})
	}
}

// ends returns the two ends of what d measures, the lower first.
func (d Linear) ends() (lo, hi float64) {
	lo, hi = d.From.X, d.To.X
	if d.Side.Vertical() {
		lo, hi = d.From.Y, d.To.Y
	}
	return min(lo, hi), max(lo, hi)
}

// inTheWay returns how many extension lines still to come would run through a
// label on the given side that reaches from lo to hi.
func (a *arranger) inTheWay(side Side, lo, hi float64) (n float64) {
	for _, c := range a.columns[a.done:] {
		if c.side != side {
			continue
		}
		for _, x := range [2]float64{c.lo, c.hi} {
			if x > lo && x < hi {
				n++
			}
		}
	}
	return n
}

// reach returns how far the dimensions of a side extend.
func (a *arranger) reach(side Side) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, c := range a.columns {
		if c.side == side {
			lo, hi = min(lo, c.lo), max(hi, c.hi)
		}
	}
	return lo, hi
}

type placedLine struct {
	Line
	extension bool
}

// Costs of what should not be. A label that touches something outweighs any
// number of crossing lines, and those any distance.
const (
	costLabel    = 1e6
	costCollide  = 1e4
	costCrossing = 200
	costCrossExt = 40
	costThrough  = 250 // a leader across an edge of the part
	costRow      = 10
	costFar      = 0.3 // a millimetre on paper between a label and its dimension
	costBeside   = 4
	maxRows      = 12
)

// best returns the cheapest of n candidates and takes its place. base is the
// cost of a candidate before collisions, or anything not below the limit once
// that is reached; shape makes the candidate.
func (a *arranger) best(n int, base func(i int, limit float64) float64, shape func(i int) Shape) Shape {
	var bestShape Shape
	var bestX Expansion
	lowest := math.Inf(1)
	for i := range n {
		cost := base(i, lowest)
		if cost >= lowest {
			continue
		}
		s := shape(i)
		x, _ := Expand(s, a.st)
		if cost += a.collisions(&x); cost < lowest {
			lowest, bestShape, bestX = cost, s, x
		}
	}
	a.take(&bestX)
	return bestShape
}

func (a *arranger) take(x *Expansion) {
	n := extensionLines(x)
	for i, l := range x.Lines() {
		a.lines = append(a.lines, placedLine{l, i < n})
	}
	if x.shown {
		a.labels = append(a.labels, labelRect(x))
	}
}

// extensionLines returns how many of the lines of x are extension lines; they
// come first.
func extensionLines(x *Expansion) int {
	if x.shelf {
		return 0
	}
	return max(0, x.nl-1)
}

func labelRect(x *Expansion) Rect {
	r := EmptyRect()
	for _, p := range x.box {
		r = r.Including(p)
	}
	return r
}

// collisions returns the cost of what x touches.
func (a *arranger) collisions(x *Expansion) float64 {
	cost := 0.0
	mm := a.st.Part(1)
	label := labelRect(x)
	clear := label.Grown(0.6 * mm)
	// A label along a slanting edge is outside by its offset, though its box
	// may reach into the corner of the extent.
	if square(x.text.Angle) && clear.Overlaps(a.outline.Grown(mm)) {
		cost += costLabel
	}
	for _, r := range a.labels {
		if clear.Overlaps(r) {
			cost += costLabel
		}
	}
	tight := box(label.Grown(0.3 * mm))
	for _, l := range a.lines {
		if plane.SegmentHitsBox(l.From.vec(), l.To.vec(), tight) {
			cost += costLabel
		}
	}
	ext := extensionLines(x)
	for i, l := range x.Lines() {
		for _, r := range a.labels {
			if plane.SegmentHitsBox(l.From.vec(), l.To.vec(), box(r.Grown(0.3*mm))) {
				cost += costLabel
			}
		}
		for _, o := range a.lines {
			cost += lineCost(l, i < ext, o, mm)
		}
	}
	return cost
}

// square reports whether a direction is along an axis.
func square(angle float64) bool { return math.Mod(angle, 90) == 0 }

func box(r Rect) plane.Box { return plane.Box{Min: r.Min.vec(), Max: r.Max.vec()} }

func lineCost(l Line, extension bool, o placedLine, mm float64) float64 {
	switch {
	case nearlyCollinear(l, o.Line, mm):
		if extension && o.extension {
			return 0 // one of them will be hidden
		}
		return costCollide
	case plane.Cross(l.From.vec(), l.To.vec(), o.From.vec(), o.To.vec()):
		if extension && o.extension {
			return costCrossExt / 4
		}
		if extension || o.extension {
			return costCrossExt
		}
		return costCrossing
	}
	return 0
}

// nearlyCollinear reports whether two parallel lines run less than 1.5 mm
// apart beside each other.
func nearlyCollinear(l, o Line, mm float64) bool {
	d, e := l.To.Sub(l.From), o.To.Sub(o.From)
	ld, le := d.Len(), e.Len()
	if math.Abs(d.X*e.Y-d.Y*e.X) > 0.02*ld*le {
		return false
	}
	u := d.Mul(1 / ld)
	p, q := o.From.Sub(l.From), o.To.Sub(l.From)
	off := math.Abs(p.X*u.Y - p.Y*u.X)
	s, t := dot(p, u), dot(q, u)
	if s > t {
		s, t = t, s
	}
	return off < 1.5*mm && s < ld-1e-9 && t > 1e-9
}

// fit says how a straight dimension of the given length can be drawn: with its
// arrows outside, and with its label inside.
func (a *arranger) fit(length, width float64) (arrowsOut, labelIn bool) {
	al := a.st.Part(a.st.ArrowLength())
	return length < 2.5*al, width+a.st.Part(1) <= length
}

func (a *arranger) placeStraight(s Shape) Shape {
	switch d := s.(type) {
	case Linear:
		return a.placeLinear(d)
	case Aligned:
		return a.placeAligned(d)
	case Angular:
		return a.placeAngular(d)
	}
	return s
}

// The places of a label along its dimension line.
const (
	inside    = iota
	before    // beyond the arrow at the start
	after     // beyond the arrow at the end
	farBefore // beyond all dimensions of the side
	farAfter
	places
)

// along returns the position of the label along a dimension line from lo to
// hi; far is how far the dimensions of the side reach.
func (a *arranger) along(place int, lo, hi, farLo, farHi, width float64) float64 {
	off := a.st.Part(1.5) + width/2
	switch place {
	case before:
		return lo - off
	case after:
		return hi + off
	case farBefore:
		return min(lo, farLo) - off
	case farAfter:
		return max(hi, farHi) + off
	}
	return (lo + hi) / 2
}

// straightPlaces goes through rows and, in each, through the places of the
// label. extra is the cost of a place beyond the usual; shape makes the
// candidate.
func (a *arranger) straightPlaces(length, width float64, extra func(row, place int) float64, shape func(row, place int, out bool) Shape) Shape {
	out, in := a.fit(length, width)
	base := func(i int, limit float64) float64 {
		row, place := i/places, i%places
		cost := costRow*float64(row) + costBeside*float64(place)/2
		if cost >= limit {
			return cost
		}
		cost += extra(row, place)
		switch {
		case place == inside && !in:
			cost += costLabel // it would lie on its own extension lines
		case place != inside && in:
			cost += costBeside
		}
		return cost
	}
	return a.best(maxRows*places, base, func(i int) Shape { return shape(i/places, i%places, out) })
}

func (a *arranger) placeLinear(d Linear) Shape {
	d.Label = d.Label.resolved(a.st)
	width := a.st.Part(d.Label.width(a.st.Height()))
	a.done++
	lo, hi := d.ends()
	farLo, farHi := a.reach(d.Side)
	margin := width/2 + a.st.Part(0.6)
	inner := a.within(d.Side, lo, hi)
	extra := func(row, place int) float64 {
		if a.st.Part(a.st.FirstRow()+a.st.RowStep()*float64(row)) < inner {
			return costLabel
		}
		at := a.along(place, lo, hi, farLo, farHi, width)
		cost := costLabel * a.inTheWay(d.Side, at-margin, at+margin)
		if place != inside { // the line goes on under the label, across what stands between
			cost += costCrossExt*a.inTheWay(d.Side, min(at, hi), max(at, lo)) + costFar*a.st.PaperScale()*math.Abs(at-(lo+hi)/2)
		}
		return cost
	}
	d.Placed, d.HideFrom, d.HideTo = true, false, false
	first, step := a.st.Part(a.st.FirstRow()), a.st.Part(a.st.RowStep())
	placed := a.straightPlaces(hi-lo, width, extra, func(row, place int, out bool) Shape {
		e := d
		e.At = a.edge(d.Side) + outward(d.Side)*(first+step*float64(row))
		e.Outside = out
		e.TextAt = a.along(place, lo, hi, farLo, farHi, width)
		return e
	}).(Linear)
	a.columns[a.done-1].off = math.Abs(placed.At - a.edge(d.Side))
	return placed
}

// outward returns the sign of the direction away from the outline.
func outward(s Side) float64 {
	if s == Above || s == Right {
		return 1
	}
	return -1
}

// edge returns where the outline ends on a side.
func (a *arranger) edge(s Side) float64 {
	switch s {
	case Below:
		return a.outline.Min.Y
	case Above:
		return a.outline.Max.Y
	case Left:
		return a.outline.Min.X
	}
	return a.outline.Max.X
}

// within returns how far off the outline the dimensions stand that lie inside
// a dimension from lo to hi: it belongs further out than they.
func (a *arranger) within(side Side, lo, hi float64) (off float64) {
	for _, c := range a.columns[:a.done-1] {
		if c.side == side && c.lo > lo-1e-9 && c.hi < hi+1e-9 {
			off = max(off, c.off)
		}
	}
	return off
}

func (a *arranger) placeAligned(d Aligned) Shape {
	d.Label = d.Label.resolved(a.st)
	width := a.st.Part(d.Label.width(a.st.Height()))
	length := d.To.Sub(d.From).Len()
	d.Placed = true
	first, step := a.st.Part(a.st.FirstRow()), a.st.Part(a.st.RowStep())
	u := unit(d.To.Sub(d.From))
	n := Point{-u.Y, u.X}
	if d.Side != Above {
		n = n.Mul(-1)
	}
	// What stands out beyond the measured edge pushes the line further off.
	first += math.Max(0, support(a.items, n)-dot(d.From, n))
	return a.straightPlaces(length, width, func(_, _ int) float64 { return 0 }, func(row, place int, out bool) Shape {
		e := d
		e.At = first + step*float64(row)
		if d.Side != Above {
			e.At = -e.At
		}
		e.Outside = out
		e.TextAt = a.along(place, 0, length, 0, length, width)
		return e
	})
}

func (a *arranger) placeAngular(d Angular) Shape {
	d.Label = d.Label.resolved(a.st)
	d.Placed = true
	first, step := a.st.Part(a.st.FirstRow()), a.st.Part(a.st.RowStep())
	sweep := plane.Sweep(d.Start, d.End) * math.Pi / 180
	return a.best(maxRows, func(row int, _ float64) float64 { return costRow * float64(row) }, func(row int) Shape {
		e := d
		e.At = math.Max(d.From, d.To) + first + step*float64(row)
		e.Outside = e.At*sweep < 2.5*a.st.Part(a.st.ArrowLength())
		return e
	})
}

// shareExtensionLines hides the extension lines that lie on those of a
// dimension further out, or of a neighbour in the same row, so that no line is
// drawn twice.
func shareExtensionLines(items []Item, straight []int) {
	for n, i := range straight {
		for _, j := range straight[n+1:] {
			a, ok1 := items[i].Shape.(Linear)
			b, ok2 := items[j].Shape.(Linear)
			if !ok1 || !ok2 || a.Side != b.Side {
				continue
			}
			inner, outer := &a, &b
			if further(a, b) {
				inner, outer = outer, inner
			}
			inner.HideFrom = shared(outer, &inner.From) || inner.HideFrom
			inner.HideTo = shared(outer, &inner.To) || inner.HideTo
			items[i].Shape, items[j].Shape = a, b
		}
	}
}

func further(o, i Linear) bool {
	if o.Side == Above || o.Side == Right {
		return o.At > i.At
	}
	return o.At < i.At
}

// shared reports whether an extension line of outer runs along the one that
// starts at p, and lets both start at the point further out: the outline
// reaches there.
func shared(outer *Linear, p *Point) bool {
	for _, q := range [2]*Point{&outer.From, &outer.To} {
		along, across := q.Y-p.Y, q.X-p.X
		if outer.Side.Vertical() {
			along, across = across, along
		}
		if math.Abs(across) > 1e-9 {
			continue
		}
		if (outer.Side == Below || outer.Side == Left) == (along > 0) {
			*q = *p
		} else {
			*p = *q
		}
		return true
	}
	return false
}

// shelfAngles are the directions tried for a leader, as turns from the one
// that is wanted, in the order of preference.
var shelfAngles = [...]float64{0, 10, -10, 20, -20, 30, -30, 45, -45, 60, -60, 75, -75, 90, -90, 120, -120, 150, -150, 180}

const shelfReaches = 6

func (a *arranger) placeShelved(s Shape) Shape {
	switch d := s.(type) {
	case Leader:
		d.Label = d.Label.resolved(a.st)
		return a.shelfPlaces(d.Angle, true, anyAngle, func(angle float64) (Point, Point) { return d.Tip, Polar(1, angle) },
			func(sh Shelf, angle float64) Shape { d.Shelf, d.Angle = sh, angle; return d })
	case Diameter:
		d.Label = d.Label.resolved(a.st)
		touches := func(angle float64) bool { return d.Start == d.End || plane.InArc(angle, d.Start, d.End) }
		return a.shelfPlaces(d.Angle, false, touches, func(angle float64) (Point, Point) {
			u := Polar(1, angle)
			return d.Center.Add(u.Mul(d.Radius)), u
		}, func(sh Shelf, angle float64) Shape { d.Shelf, d.Angle = sh, angle; return d })
	case Radius:
		d.Label = d.Label.resolved(a.st)
		return a.shelfPlaces(d.Angle, false, anyAngle, func(angle float64) (Point, Point) {
			// The arrow stays on the arc; only the reach of the leader varies.
			u := Polar(1, d.Angle)
			return d.Center.Add(u.Mul(d.Radius)), u
		}, func(sh Shelf, _ float64) Shape { d.Shelf = sh; return d })
	}
	return s
}

// edgesCrossed returns how many straight edges of the view a leader crosses.
func (a *arranger) edgesCrossed(from, to Point) (n int) {
	for i := range a.items {
		if l, ok := a.items[i].Shape.(Line); ok && a.items[i].Role != RoleCentre && plane.Cross(from.vec(), to.vec(), l.From.vec(), l.To.vec()) {
			n++
		}
	}
	return n
}

func anyAngle(float64) bool { return true }

// shelfPlaces goes through directions and reaches. outside says that the leader
// starts at the outline and should not run through the part; touches reports
// whether the arrow would meet its line in a direction.
func (a *arranger) shelfPlaces(want float64, outside bool, touches func(angle float64) bool, tip func(angle float64) (Point, Point), shape func(Shelf, float64) Shape) Shape {
	mm := a.st.Part(1)
	out := a.outline.Grown(4 * mm)
	height := a.st.Part(a.st.Height() + a.st.TextGap())
	place := func(i int) (reach float64, turn int, angle float64) {
		turn = i % len(shelfAngles)
		return float64(i / len(shelfAngles)), turn, want + shelfAngles[turn]
	}
	base := func(i int, limit float64) float64 {
		reach, turn, angle := place(i)
		cost := 100*reach + 4*float64(turn)
		if cost >= limit {
			return cost
		}
		if s, _ := plane.Sincos(angle); math.Abs(s) < 0.25 {
			cost += 40 // shelf and leader would be one line
		}
		if !touches(angle) {
			cost += costLabel
		}
		if p, u := tip(angle); outside {
			cost += costThrough * float64(a.edgesCrossed(p, p.Add(u.Mul(leave(p, u, out, height)))))
		}
		return cost
	}
	return a.best(shelfReaches*len(shelfAngles), base, func(i int) Shape {
		reach, _, angle := place(i)
		p, u := tip(angle)
		sh := Shelf{Placed: true, Left: u.X < 0}
		sh.Knee = p.Add(u.Mul(leave(p, u, out, height) + 6*mm*reach))
		return shape(sh, angle)
	})
}

// leave returns how far one has to go from p along u to be outside r, far
// enough below it that a label of the given height stands clear.
func leave(p, u Point, r Rect, height float64) float64 {
	far := math.Inf(1)
	if u.X > 1e-9 {
		far = math.Min(far, (r.Max.X-p.X)/u.X)
	} else if u.X < -1e-9 {
		far = math.Min(far, (r.Min.X-p.X)/u.X)
	}
	if u.Y > 1e-9 {
		far = math.Min(far, (r.Max.Y-p.Y)/u.Y)
	} else if u.Y < -1e-9 {
		far = math.Min(far, (r.Min.Y-height-p.Y)/u.Y)
	}
	return math.Max(far, 0)
}
