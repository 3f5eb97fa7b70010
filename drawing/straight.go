package drawing

import (
	"math"

	"boltplate/internal/plane"
)

// A side is what is known of the linear dimensions on one side of the view.
type side struct {
	columns []column // in the order of placing; those before done are placed
	done    int
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
		if b := &bodies[i]; b.isLin {
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
		if bodies[i].isLin {
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
	d.Placed, d.At = true, max(d.From, d.To)+a.rowOff(4)
	x := a.blank()
	x.angular(&a.pen, d, 0)
	for _, l := range x.Lines() {
		a.lines = append(a.lines, placedLine{strokeOf(l), true})
	}
	a.expected = len(a.lines)
}

// sideIndex returns the index of a side; what is no side counts as the last.
func sideIndex(s Side) int { return min(int(s), int(Right)) }

func (a *arranger) side(s Side) *side { return &a.sides[sideIndex(s)] }

// rowOff returns how far the n-th row of dimensions is from what it goes by.
func (a *arranger) rowOff(n int) float64 { return a.pen.first + a.pen.step*float64(n) }

// ends returns the two ends of what d measures, the lower first.
func (d *Linear) ends() (lo, hi float64) {
	lo, hi = d.From.X, d.To.X
	if d.Side.Vertical() {
		lo, hi = d.From.Y, d.To.Y
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
	return track{lo, hi, farLo, farHi, width, 1.5 * a.mm, length < 2.5*a.pen.arrow, width+a.mm <= length}
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

func (a *arranger) placeLinear(d *Linear) {
	d.Label = d.Label.resolved(a.pen.style)
	d.Placed, d.HideFrom, d.HideTo = true, false, false
	side := a.side(d.Side)
	side.done++
	lo, hi := d.ends()
	width := a.pen.width(&d.Label)
	t := a.track(lo, hi, side.lo, side.hi, width)
	d.Outside = t.arrowsOut
	edge, first := a.edge(d.Side), side.within(lo, hi)

	// What a place costs is the same in every row.
	var at, cost [places]float64
	margin := width/2 + 0.6*a.mm
	for p := range places {
		at[p] = t.at(p)
		cost[p] = t.cost(p) + costLabel*side.inTheWay(at[p]-margin, at[p]+margin)
		if p != inside { // the line goes on under the label, across what stands between
			cost[p] += costCrossExt*side.inTheWay(min(at[p], hi), max(at[p], lo)) +
				costFar*a.pen.style.PaperScale()*math.Abs(at[p]-(lo+hi)/2)
		}
	}
	a.begin()
	bestAt, bestText := d.At, d.TextAt
	for row := first; row < first+maxRows && costRow*float64(row) < a.lowest; row++ {
		d.At = edge + outward(d.Side)*a.rowOff(row)
		for p := range places {
			c := costRow*float64(row) + cost[p]
			if c >= a.lowest {
				continue
			}
			d.TextAt = at[p]
			a.blank().linear(&a.pen, d, width)
			if a.better(c) {
				side.columns[side.done-1].at, bestAt, bestText = row, d.At, d.TextAt
			}
		}
	}
	d.At, d.TextAt = bestAt, bestText
	a.take()
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
	best := *d
	for row := 0; row < maxRows && costRow*float64(row) < a.lowest; row++ {
		d.At = sign * (out + a.rowOff(row))
		for p := range places {
			c := costRow*float64(row) + t.cost(p)
			if c >= a.lowest {
				continue
			}
			d.TextAt = t.at(p)
			a.blank().aligned(&a.pen, d, width)
			if a.better(c) {
				best.At, best.TextAt = d.At, d.TextAt
			}
		}
	}
	d.At, d.TextAt = best.At, best.TextAt
	a.take()
}

func (a *arranger) placeAngular(d *Angular) {
	d.Label = d.Label.resolved(a.pen.style)
	d.Placed = true
	width := a.pen.width(&d.Label)
	a.lines, a.expected = a.lines[a.expected:], 0 // angles come after all that was to keep clear of them
	sweep := plane.Sweep(d.Start, d.End) * math.Pi / 180
	a.begin()
	best := *d
	for row := 0; row < maxRows && costRow*float64(row) < a.lowest; row++ {
		d.At = max(d.From, d.To) + a.rowOff(row)
		d.Outside = d.At*sweep < 2.5*a.pen.arrow
		a.blank().angular(&a.pen, d, width)
		if a.better(costRow * float64(row)) {
			best.At, best.Outside = d.At, d.Outside
		}
	}
	d.At, d.Outside = best.At, best.Outside
	a.take()
}
