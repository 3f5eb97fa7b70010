package drawing

import (
	"math"
	"slices"

	"boltplate/internal/plane"
)

// A side is what is known of the linear dimensions on one side of the view.
type side struct {
	columns []column // in the order of placing; those before done are placed
	done    int
	rows    int     // in use, those that were left empty included
	lo, hi  float64 // how far they extend
}

// A column is where the extension lines of a linear dimension will stand.
type column struct {
	lo, hi float64
	at     int // the number of its row, once placed
}

// expectAll notes where the extension lines of the dimensions will stand, so
// that the labels placed before them keep clear.
func (a *arranger) expectAll(bodies []body) {
	var count [len(a.sides)]int
	for i := range bodies {
		if b := &bodies[i]; b.isLinear() {
			count[sideIndex(b.linear.Side)]++
		} else if d, ok := a.items[b.item].Shape.(Angular); ok {
			a.expectAngle(&d)
		}
	}
	columns := make([]column, len(bodies))
	for s, n := range count {
		a.sides[s].columns, columns = columns[:0:n], columns[n:]
	}
	for i := range bodies {
		if bodies[i].isLinear() {
			a.expect(&bodies[i].linear)
		}
	}
}

func (a *arranger) expect(d *Linear) {
	s := a.side(d.Side)
	lo, hi := d.ends()
	if len(s.columns) == 0 {
		s.lo, s.hi = lo, hi
	}
	s.columns = append(s.columns, column{lo: lo, hi: hi})
	s.lo, s.hi = min(s.lo, lo), max(s.hi, hi)
}

// expectAngle notes the extension lines of an angle as far as its arc can be
// near.
func (a *arranger) expectAngle(d *Angular) {
	d.Placed, d.At = true, max(d.From, d.To, 0)+a.rowOff(rowsOfAngle(d))
	x := a.blank()
	x.angular(&a.pen, d, 0)
	for _, l := range x.Lines() {
		a.lines = append(a.lines, placedLine{stroke: strokeOf(l), extension: true})
	}
	a.expected = len(a.lines)
}

// rowsOfAngle returns in which row the arc of an angle is expected at the furthest: a
// narrow one, as that of a chamfer, stands close.
func rowsOfAngle(d *Angular) int {
	if plane.Sweep(d.Start, d.End) < 50 {
		return 1
	}
	return 4
}

// sideIndex returns the index of a side; what is no side counts as the last.
func sideIndex(s Side) int { return min(int(s), int(Right)) }

func (a *arranger) side(s Side) *side { return &a.sides[sideIndex(s)] }

// rowOff returns how far the n-th row of dimensions is from what it goes by.
func (a *arranger) rowOff(n int) float64 { return a.pen.first + a.pen.step*float64(n) }

// span returns the length that d measures.
func (d *Linear) span() float64 {
	lo, hi := d.ends()
	return hi - lo
}

// ends returns the two ends of what d measures, in its axes, the lower first.
func (d *Linear) ends() (lo, hi float64) {
	f, t := d.From, d.To
	if d.Turn != 0 {
		f, t = d.local(f), d.local(t)
	}
	lo, hi = f.X, t.X
	if d.Side.Vertical() {
		lo, hi = f.Y, t.Y
	}
	return min(lo, hi), max(lo, hi)
}

// inTheWay returns how many extension lines still to come would run through a
// label that reaches from lo to hi.
func (r *side) inTheWay(lo, hi float64) (n float64) {
	for i := range r.columns[r.done:] {
		c := &r.columns[r.done+i]
		if c.lo > lo && c.lo < hi {
			n++
		}
		if c.hi > lo && c.hi < hi {
			n++
		}
	}
	return n
}

// within returns the outermost row of the dimensions that lie inside the one
// that is being placed, from lo to hi: it belongs no nearer than they.
func (r *side) within(lo, hi float64) (row int) {
	for i := range r.columns[:r.done-1] {
		if c := &r.columns[i]; c.lo > lo-1e-9 && c.hi < hi+1e-9 {
			row = max(row, c.at)
		}
	}
	return row
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

// standAt returns how a label stands in one of these places.
func standAt(place int) stand {
	if place == inside {
		return framed
	}
	return loose
}

// A track is a dimension line on which a label is to be placed: from lo to hi,
// and how far the dimensions of its side reach.
type track struct {
	lo, hi       float64
	farLo, farHi float64
	width        float64 // of the label
	pad          float64 // between the label and what it stands beside
	arrowsOut    bool    // there is no room for the arrows inside
	labelIn      bool    // there is room for the label inside
}

func (a *arranger) track(lo, hi, farLo, farHi, width float64) track {
	length := hi - lo
	return track{lo, hi, farLo, farHi, width, 1.5 * a.mm, length < 2.5*a.pen.arrow, width+2*room*a.mm <= length}
}

// at returns where the middle of the label is.
func (t *track) at(place int) float64 {
	off := t.pad + t.width/2
	switch place {
	case before:
		return t.lo - off
	case after:
		return t.hi + off
	case farBefore:
		return min(t.lo, t.farLo) - off
	case farAfter:
		return max(t.hi, t.farHi) + off
	}
	return (t.lo + t.hi) / 2
}

// cost returns what a place of the label costs by itself.
func (t *track) cost(place int) float64 {
	cost := costBeside * float64(place) / 2
	switch {
	case place == inside && !t.labelIn:
		cost += costLabel // it would lie on its own extension lines
	case place != inside && t.labelIn:
		cost += costBeside
	}
	return cost
}

// placeSide places the linear dimensions of a side, which come shorter ones
// first. Where that leaves an empty row, or something touches, they are tried
// from one end of the side to the other and back: a label often has room
// beside the one that was placed before.
func (a *arranger) placeSide(bodies []body) {
	s := a.side(bodies[0].linear.Side)
	labels, lines := len(a.labels), len(a.lines)
	place := func(order []body) (cost float64, clean bool) {
		a.labels, a.lines = a.labels[:labels], a.lines[:lines]
		s.done, s.rows = 0, 0
		for i := range order {
			s.columns[i].lo, s.columns[i].hi = order[i].linear.ends()
		}
		clean = true
		for i := range order {
			a.placeLinear(&order[i].linear)
			cost += a.lowest
			clean = clean && a.lowest < costCollide
		}
		gaps := s.gaps()
		return cost + gaps, clean && gaps == 0
	}
	lowest, clean := place(bodies)
	if clean || len(bodies) == 1 {
		return
	}
	best := slices.Clone(bodies)
	for _, sign := range [2]float64{-1, 1} {
		order := alongSide(bodies, sign)
		if cost, _ := place(slices.Clone(order)); cost < lowest {
			lowest, best = cost, order
		}
	}
	place(best)
	copy(bodies, best)
}

// gaps returns what the empty rows of a side cost: those between rows in use,
// and a little for those before the first.
func (r *side) gaps() (cost float64) {
	var used [maxGapRows]bool
	first, end := maxGapRows, 0
	for i := range r.columns[:r.done] {
		row := min(r.columns[i].at, maxGapRows-1)
		used[row] = true
		first, end = min(first, row), max(end, row+1)
	}
	for row := range end {
		switch {
		case used[row]:
		case row < first:
			cost += costFirst
		default:
			cost += costGap
		}
	}
	return cost
}

// alongSide returns the dimensions of a side from its lower end to its upper
// one, or with a sign of -1 the other way, but each after those that lie
// inside it.
func alongSide(bodies []body, sign float64) []body {
	rest := slices.Clone(bodies)
	out := make([]body, 0, len(rest))
	for len(rest) > 0 {
		next := -1
		for i := range rest {
			if !hasInner(rest, i) && (next < 0 || sign*middle(&rest[i].linear) < sign*middle(&rest[next].linear)-1e-9) {
				next = i
			}
		}
		next = max(next, 0)
		out = append(out, rest[next])
		rest = slices.Delete(rest, next, next+1)
	}
	return out
}

func middle(d *Linear) float64 {
	lo, hi := d.ends()
	return lo + hi
}

// hasInner reports whether another dimension lies inside the i-th one.
func hasInner(bodies []body, i int) bool {
	lo, hi := bodies[i].linear.ends()
	for j := range bodies {
		l, h := bodies[j].linear.ends()
		if j != i && l > lo-1e-9 && h < hi+1e-9 && h-l < hi-lo-1e-9 {
			return true
		}
	}
	return false
}

func (a *arranger) placeLinear(d *Linear) {
	d.Label = d.Label.resolved(a.pen.style)
	d.Placed, d.HideFrom = true, false
	d.HideTo = d.span() < leastApart*a.mm // two lines so near would be one blot
	side := a.side(d.Side)
	side.done++
	lo, hi := d.ends()
	width := a.pen.width(&d.Label)
	t := a.track(lo, hi, side.lo, side.hi, width)
	d.Outside = t.arrowsOut
	edge, first := a.edge(d.Side), side.within(lo, hi)

	// What a place costs is the same in every row.
	var at, cost [places]float64
	margin := width/2 + room*a.mm
	for p := range places {
		at[p] = t.at(p)
		cost[p] = t.cost(p) + costLabel*side.inTheWay(at[p]-margin, at[p]+margin)
		if p != inside { // the line goes on under the label, across what stands between
			cost[p] += costCrossExt*side.inTheWay(min(at[p], hi), max(at[p], lo)) +
				costFar*a.pen.style.PaperScale()*math.Abs(at[p]-(lo+hi)/2)
		}
	}
	a.begin()
	bestAt, bestText, bestPlace := d.At, d.TextAt, inside
	for row := first; row < first+maxRows && side.cost(row) < a.lowest; row++ {
		d.At = edge + outward(d.Side)*a.rowOff(row)
		for p := range places {
			c := side.cost(row) + cost[p]
			if c >= a.lowest {
				continue
			}
			d.TextAt = at[p]
			if c += a.labelCost(a.pen.linearLabel(d, width), standAt(p), true); c >= a.lowest { // the label alone rules out most places
				continue
			}
			a.blank().linear(&a.pen, d, width)
			if a.better(c) {
				side.columns[side.done-1].at, bestAt, bestText, bestPlace = row, d.At, d.TextAt, p
			}
		}
	}
	d.At, d.TextAt = bestAt, bestText
	side.rows = max(side.rows, side.columns[side.done-1].at+1)
	a.take(standAt(bestPlace))
}

// cost returns what standing in a row costs: more for rows that would leave
// one empty.
func (r *side) cost(row int) float64 {
	cost := costRow * float64(row)
	if row > r.rows && r.rows > 0 {
		cost += costGap * float64(row-r.rows)
	}
	return cost
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

// placeTurned places a linear dimension whose axes are turned, as an aligned
// one is placed.
func (a *arranger) placeTurned(d *Linear) {
	d.Label = d.Label.resolved(a.pen.style)
	d.Placed, d.HideFrom, d.HideTo = true, false, d.span() < leastApart*a.mm
	width := a.pen.width(&d.Label)
	lo, hi := d.ends()
	t := a.track(lo, hi, lo, hi, width)
	d.Outside = t.arrowsOut
	n := Point{0, outward(d.Side)}
	if d.Side.Vertical() {
		n = Point{n.Y, 0}
	}
	out := support(a.items, d.world(n))
	a.begin()
	best, place := *d, inside
	for row := 0; row < maxRows && costRow*float64(row) < a.lowest; row++ {
		d.At = outward(d.Side) * (out + a.rowOff(row))
		for p := range places {
			d.TextAt = t.at(p)
			x := a.blank()
			x.linear(&a.pen, d, width)
			if a.slanting(x, costRow*float64(row)+t.cost(p), p) {
				best.At, best.TextAt, place = d.At, d.TextAt, p
			}
		}
	}
	d.At, d.TextAt = best.At, best.TextAt
	a.take(standAt(place))
}

// slanting reports whether a candidate that may reach into the view, with its
// label in a place, is the cheapest so far.
func (a *arranger) slanting(x *Expansion, cost float64, place int) bool {
	if cost >= a.lowest {
		return false
	}
	if cost += a.labelCost(labelRect(x), standAt(place), square(x.text.Angle)); cost >= a.lowest {
		return false
	}
	cost += a.across(x, a.lowest-cost)
	return cost < a.lowest && a.better(cost)
}

func (a *arranger) placeAligned(d *Aligned) {
	d.Label = d.Label.resolved(a.pen.style)
	d.Placed = true
	width := a.pen.width(&d.Label)
	length := d.To.Sub(d.From).Len()
	t := a.track(0, length, 0, length, width)
	d.Outside = t.arrowsOut
	u := unit(d.To.Sub(d.From))
	n, sign := Point{-u.Y, u.X}, 1.0
	if d.Side != Above {
		n, sign = n.Mul(-1), -1
	}
	// What stands out beyond the measured edge pushes the line further off.
	out := max(0, support(a.items, n)-dot(d.From, n))
	a.begin()
	best, place := *d, inside
	for row := 0; row < maxRows && costRow*float64(row) < a.lowest; row++ {
		d.At = sign * (out + a.rowOff(row))
		for p := range places {
			d.TextAt = t.at(p)
			x := a.blank()
			x.aligned(&a.pen, d, width)
			if a.slanting(x, costRow*float64(row)+t.cost(p), p) {
				best.At, best.TextAt, place = d.At, d.TextAt, p
			}
		}
	}
	d.At, d.TextAt = best.At, best.TextAt
	a.take(standAt(place))
}

// faces returns the side to which the arc of d lies.
func (d *Angular) faces() Side {
	u := Polar(1, d.Start+plane.Sweep(d.Start, d.End)/2)
	switch {
	case u.X >= math.Abs(u.Y):
		return Right
	case u.X <= -math.Abs(u.Y):
		return Left
	case u.Y > 0:
		return Above
	}
	return Below
}

func (a *arranger) placeAngular(d *Angular) {
	d.Label = d.Label.resolved(a.pen.style)
	d.Placed = true
	width := a.pen.width(&d.Label)
	a.lines, a.expected = a.lines[a.expected:], 0 // angles come after all that was to keep clear of them
	sweep := plane.Sweep(d.Start, d.End)
	a.begin()
	best, place := *d, inside
	for row := 0; row < maxRows && costRow*float64(row) < a.lowest; row++ {
		d.At = max(d.From, d.To, 0) + a.rowOff(row)
		degrees := 180 / (math.Pi * d.At) // that are a unit of length on the arc
		length := sweep / degrees
		t := a.track(0, length, 0, length, width)
		d.Outside = t.arrowsOut
		for p := range farBefore {
			c := costRow*float64(row) + t.cost(p)
			if p != inside && t.labelIn {
				c += costOffArc
			}
			if c >= a.lowest {
				continue
			}
			d.TextAt = (t.at(p) - length/2) * degrees
			x := a.blank()
			x.angular(&a.pen, d, width)
			label := labelRect(x)
			if c += a.labelCost(label, standAt(p), square(x.text.Angle)) + costLabel*a.toCome(label); c >= a.lowest {
				continue
			}
			if c += a.across(x, a.lowest-c); c < a.lowest && a.better(c) {
				best.At, best.Outside, best.TextAt, place = d.At, d.Outside, d.TextAt, p
			}
		}
	}
	d.At, d.Outside, d.TextAt = best.At, best.Outside, best.TextAt
	a.take(standAt(place))
}

// toCome returns how many extension lines of linear dimensions that have no
// place yet would run through a label.
func (a *arranger) toCome(label Rect) (n float64) {
	label = label.Grown(room * a.mm)
	for side := Below; side <= Right; side++ {
		lo, hi, beyond := label.Min.X, label.Max.X, false
		switch side {
		case Below:
			beyond = label.Min.Y < a.outline.Min.Y
		case Above:
			beyond = label.Max.Y > a.outline.Max.Y
		case Left:
			lo, hi, beyond = label.Min.Y, label.Max.Y, label.Min.X < a.outline.Min.X
		case Right:
			lo, hi, beyond = label.Min.Y, label.Max.Y, label.Max.X > a.outline.Max.X
		}
		if beyond {
			n += a.side(side).inTheWay(lo, hi)
		}
	}
	return n
}

// across returns the cost of what a dimension that may reach into the view
// crosses there, or anything not below the limit once that is reached.
func (a *arranger) across(x *Expansion, limit float64) (cost float64) {
	a.strokesOf(x)
	label := labelRect(x).Grown(room * a.mm)
	for i, edges := 0, a.edgesOfView(); i < len(edges) && cost < limit; i++ {
		e := &edges[i]
		if label.Overlaps(e.extent) && hitsLabel(&e.Line, x, room*a.mm) {
			cost += costLabel
		}
		for j := extensionLines(x); j < len(a.strokes); j++ {
			if s := &a.strokes[j]; crosses(&s.Line, &e.Line) {
				cost += costThrough
			}
		}
	}
	return cost
}
