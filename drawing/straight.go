package drawing

import (
	"math"

	"boltplate/internal/plane"
)

// A column is where the extension lines of a linear dimension will stand.
type column struct {
	side   Side
	lo, hi float64
	off    float64 // of the dimension line from the outline, once placed
}

// expect notes where the extension lines of a dimension will stand, so that
// the labels placed before it keep clear of them.
func (a *arranger) expect(s Shape) {
	switch d := s.(type) {
	case Linear:
		lo, hi := d.ends()
		a.columns = append(a.columns, column{side: d.Side, lo: lo, hi: hi})
	case Angular: // as far as its arc can be near
		d.Placed, d.At = true, max(d.From, d.To)+a.st.Part(a.st.FirstRow()+4*a.st.RowStep())
		x, _ := Expand(d, a.st)
		for _, l := range x.Lines() {
			a.lines = append(a.lines, placedLine{l, l.Bounds(), true})
		}
		a.expected = len(a.lines)
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
	first += max(0, support(a.items, n)-dot(d.From, n))
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
	a.lines, a.expected = a.lines[a.expected:], 0 // angles come after all that was to keep clear of them
	first, step := a.st.Part(a.st.FirstRow()), a.st.Part(a.st.RowStep())
	sweep := plane.Sweep(d.Start, d.End) * math.Pi / 180
	return a.best(maxRows, func(row int, _ float64) float64 { return costRow * float64(row) }, func(row int) Shape {
		e := d
		e.At = max(d.From, d.To) + first + step*float64(row)
		e.Outside = e.At*sweep < 2.5*a.st.Part(a.st.ArrowLength())
		return e
	})
}
