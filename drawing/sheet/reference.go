package sheet

import (
	"cmp"
	"math"
	"slices"

	"boltplate/drawing"
	"boltplate/internal/plane"
)

// The measures of item references (ISO 6433): a number is twice as high as the
// dimensions, its leader ends with a dot inside the part. The dot is five narrow
// lines wide, and numbers keep twice the gap of text from the figure (common
// practice). The place of a finding is ringed.
const (
	referenceHeight = 2.0 // in heights of dimensions
	dotWidths       = 5.0
	referenceGap    = 2.0 // mm on paper
	leaderGap       = 1.0 // between a number and its leader, mm on paper
	ringRadius      = 3.0 // mm on paper
	findingHeight   = 1.4 // in heights of dimensions
)

// A pointer is what stands beside a figure and points into it: an item reference
// or the label of a finding.
type pointer struct {
	component int // of the content, or -1
	text      string
	height    float64         // of its text, mm
	at        []drawing.Point // at any of which the leader may end, mm on paper
	ring      bool            // the place is ringed
}

// wide returns how wide the text of a pointer may be: a number that is not given
// yet has two digits.
func (p *pointer) wide() float64 {
	if p.text == "" {
		return drawing.TextWidth("88", p.height)
	}
	return drawing.TextWidth(p.text, p.height)
}

// A mark is a pointer at its place: its text with its leader, mm on paper about
// the origin of a figure.
type mark struct {
	*pointer
	box  drawing.Rect // of the text
	line drawing.Line // from the text to the place
	bare bool         // there is no way for the leader
}

// pointing is the marks of a figure, in the order in which they stand in their
// line.
type pointing []mark

// pointers returns what points into the drawing of a figure at its scale.
func (c *Content) pointers(st drawing.Style, k float64, around *surroundings) []pointer {
	var all []pointer
	for i, one := range c.Components {
		p := pointer{component: i, text: one.Mark, height: referenceHeight * st.Height()}
		for _, at := range one.At {
			p.at = append(p.at, at.Mul(k))
		}
		if len(one.At) == 0 {
			for _, edges := range around.edges[:len(around.edges)-1] { // the last are of no view
				p.at = append(p.at, inside(edges)...)
			}
		}
		if len(p.at) > 0 {
			all = append(all, p)
		}
	}
	for _, f := range c.Findings {
		all = append(all, pointer{component: -1, text: f.Label, height: findingHeight * st.Height(), at: []drawing.Point{f.At.Mul(k)}, ring: true})
	}
	return all
}

// Costs of what a leader should not do; lengths cost a millimetre each.
const (
	costUpright = 25.0 // upright, or nearly level
	costCross   = 40.0 // it crosses a line of a dimension
	costEdge    = 15.0
	costLater   = 4.0 // a point with less room
	costOther   = 1e5 // it crosses another leader
	costLabel   = 1e6
)

// A rank is a straight line beside a figure on which marks stand: a side of the
// figure and how far off.
type rank struct {
	level bool    // above or below the figure: the marks stand side by side
	at    float64 // y of the middle of the marks, or x
	sign  float64 // to which side of the marks the figure lies
	extra float64 // cost
}

// ranks returns the lines on which marks may stand, above the figure by
// preference, at several distances on each side.
func ranks(box drawing.Rect, wide, high float64, from, to int) []rank {
	var out []rank
	for i := from; i < to; i++ {
		off := referenceGap + float64(i)*high
		extra := 10 * float64(i)
		out = append(out,
			rank{true, box.Max.Y + off + high/2, -1, extra},
			rank{false, box.Max.X + off + wide/2, -1, extra + 20},
			rank{false, box.Min.X - off - wide/2, 1, extra + 30},
			rank{true, box.Min.Y - off - high/2, 1, extra + 30})
	}
	return out
}

// point sets the marks of a figure in a line above it, below it or at a side, in
// the order of the places that they point at, so that no leader crosses another
// and none a label, and as few other lines as can be.
func point(all []pointer, box drawing.Rect, around *surroundings) pointing {
	if len(all) == 0 {
		return nil
	}
	wide, high := 0.0, 0.0
	for i := range all {
		wide, high = max(wide, all[i].wide()), max(high, all[i].height)
		if all[i].ring { // which may reach out of the figure
			at := all[i].at[0]
			box = box.Union(drawing.Rect{Min: at, Max: at}.Grown(ringRadius))
		}
	}
	var best pointing
	lowest := math.Inf(1)
	for _, far := range [...][2]int{{0, 2}, {2, 8}} { // further off only where leaders cross
		if lowest < costOther {
			break
		}
		for _, r := range ranks(box, wide, high, far[0], far[1]) {
			if r.extra+r.nearest(all) >= lowest {
				continue
			}
			if marks, cost := r.set(all, box, around, lowest); cost < lowest {
				best, lowest = marks, cost
			}
		}
	}
	for i := range best {
		best[i].bare = best[i].bare || best[i].cost(around, math.Inf(1)) >= costLabel
	}
	return best
}

// nearest returns how long the leaders must be at the least.
func (r rank) nearest(all []pointer) float64 {
	sum := 0.0
	for i := range all {
		best := math.Inf(1)
		for _, p := range all[i].at {
			across := p.X
			if r.level {
				across = p.Y
			}
			best = min(best, math.Abs(across-r.at)-max(all[i].wide(), all[i].height)-leaderGap)
		}
		sum += max(best-ringRadius, 0)
	}
	return sum
}

// A seat is a place for a mark in a rank with the point that its leader ends at.
type seat struct {
	at    float64 // along the rank, the middle of the mark
	point drawing.Point
	cost  float64
}

// seatStep is the least distance of the seats that are tried, mm, and mostSeats
// how many there are at the most.
const (
	seatStep  = 2.5
	mostSeats = 60
)

// set sets the marks on a rank, and returns what that costs. Of all ways to
// take seats in order the cheapest is found from the first mark to the last.
func (r rank) set(all []pointer, box drawing.Rect, around *surroundings, limit float64) (pointing, float64) {
	order := make([]*pointer, len(all))
	for i := range all {
		order[i] = &all[i]
	}
	slices.SortStableFunc(order, func(a, b *pointer) int { return cmp.Compare(r.along(a.middle()), r.along(b.middle())) })
	from, to := box.Min.X, box.Max.X
	if !r.level {
		from, to = -box.Max.Y, -box.Min.Y // from the top down
	}
	// Seats are a step apart, so that each mark may lose one.
	room := 0.0
	for _, p := range order {
		room += r.size(p) + r.apart()
	}
	if n := float64(len(order)); room+n*max(seatStep, (to-from)/mostSeats) > to-from {
		room *= mostSeats / max(mostSeats-n, 1) // the steps grow with the line
		short := room + n*seatStep - (to - from)
		from, to = from-short/2, to+short/2
	}
	seats := make([][]seat, len(order))
	for i, p := range order {
		seats[i] = r.seats(p, from, to, around)
	}
	chosen, cost := r.cheapest(order, seats, limit-r.extra)
	if chosen == nil {
		return nil, math.Inf(1)
	}
	marks := make(pointing, len(order))
	for i, s := range chosen {
		marks[i] = r.mark(order[i], s.at, s.point)
	}
	return marks, cost + r.extra + marks.crossings()*costOther
}

// along returns where a point lies along the rank: from left to right, or from
// the top down.
func (r rank) along(p drawing.Point) float64 {
	if r.level {
		return p.X
	}
	return -p.Y
}

// middle returns the middle of the points that a pointer may point at.
func (p *pointer) middle() drawing.Point {
	sum := drawing.Point{}
	for _, q := range p.at {
		sum = sum.Add(q)
	}
	return sum.Mul(1 / float64(len(p.at)))
}

// size returns how long a mark is along the rank, and apart how far two keep
// apart.
func (r rank) size(p *pointer) float64 {
	if r.level {
		return p.wide()
	}
	return p.height
}

func (r rank) apart() float64 { return 2 * referenceGap }

// mark returns the mark of a pointer at a place along the rank.
func (r rank) mark(p *pointer, at float64, to drawing.Point) mark {
	m := mark{pointer: p}
	mid := drawing.Pt(at, r.at)
	w, h := p.wide()/2, p.height/2
	from := drawing.Pt(at, r.at+r.sign*(h+leaderGap))
	if !r.level {
		mid = drawing.Pt(r.at, -at)
		from = drawing.Pt(r.at+r.sign*(w+leaderGap), -at)
	}
	m.box = drawing.Rect{Min: mid.Sub(drawing.Pt(w, h)), Max: mid.Add(drawing.Pt(w, h))}
	if d := to.Sub(from); p.ring && d.Len() > ringRadius {
		to = to.Sub(d.Mul(ringRadius / d.Len()))
	}
	m.line = drawing.Line{From: from, To: to}
	return m
}

// seats returns the places that a mark may take along the rank, each with the
// point that suits it.
func (r rank) seats(p *pointer, from, to float64, around *surroundings) []seat {
	half := r.size(p) / 2
	var out []seat
	step := max(seatStep, (to-from)/mostSeats)
	for at := from + half; at <= max(to-half, from+half); at += step {
		best := seat{at: at, cost: math.Inf(1)}
		for i, q := range p.at {
			m := r.mark(p, at, q)
			later := costLater * float64(i)
			if cost := m.cost(around, best.cost-later) + later; cost < best.cost {
				best.cost, best.point = cost, q
			}
		}
		out = append(out, best)
	}
	return out
}

// cheapest returns a seat for each pointer, in order and apart from each other,
// at the least cost in all, or nil where all cost more than limit.
func (r rank) cheapest(order []*pointer, seats [][]seat, limit float64) ([]seat, float64) {
	costs := make([][]float64, len(order))
	before := make([][]int, len(order))
	for i := range order {
		costs[i], before[i] = make([]float64, len(seats[i])), make([]int, len(seats[i]))
		for j, s := range seats[i] {
			costs[i][j], before[i][j] = s.cost, -1
			if i == 0 {
				continue
			}
			gap := (r.size(order[i-1])+r.size(order[i]))/2 + r.apart()
			best := math.Inf(1)
			for k, o := range seats[i-1] {
				if o.at > s.at-gap+slack {
					break
				}
				cost := costs[i-1][k]
				if cost < best && r.crossed(order[i-1], o, order[i], s) {
					cost += costOther
				}
				if cost < best {
					best, before[i][j] = cost, k
				}
			}
			costs[i][j] += best
		}
	}
	last := len(order) - 1
	end := 0
	for j := range costs[last] {
		if costs[last][j] < costs[last][end] {
			end = j
		}
	}
	total := costs[last][end]
	if math.IsInf(total, 1) || total >= limit {
		return nil, total
	}
	chosen := make([]seat, len(order))
	for i := last; i >= 0; i-- {
		chosen[i] = seats[i][end]
		end = before[i][end]
	}
	return chosen, total
}

func (r rank) crossed(a *pointer, s seat, b *pointer, t seat) bool {
	m, o := r.mark(a, s.at, s.point), r.mark(b, t.at, t.point)
	return m.crosses(&o)
}

// crosses reports whether the leaders of two marks cross, or one runs through
// the text of the other.
func (m *mark) crosses(o *mark) bool {
	a, b, c, d := plane.Vec(m.line.From), plane.Vec(m.line.To), plane.Vec(o.line.From), plane.Vec(o.line.To)
	return plane.Cross(a, b, c, d) || hits(m.line, o.box) || hits(o.line, m.box)
}

// crossings returns how many pairs of marks cross each other.
func (all pointing) crossings() float64 {
	n := 0.0
	for i := range all {
		for j := range all[:i] {
			if all[i].crosses(&all[j]) {
				n++
			}
		}
	}
	return n
}

// hits reports whether a line runs through a box or close by.
func hits(l drawing.Line, r drawing.Rect) bool {
	r = r.Grown(0.8)
	return plane.SegmentHitsBox(plane.Vec(l.From), plane.Vec(l.To), plane.Box{Min: plane.Vec(r.Min), Max: plane.Vec(r.Max)})
}

// cost returns what a mark costs by itself, or something not below the limit
// once that is reached.
func (m *mark) cost(s *surroundings, limit float64) float64 {
	d := m.line.To.Sub(m.line.From)
	cost := d.Len()
	if turn := math.Abs(d.X) / max(d.Len(), slack); turn < 0.17 || turn > 0.96 {
		cost += costUpright
	}
	if cost >= limit {
		return cost
	}
	for _, r := range s.labels {
		if hits(m.line, r) || m.box.Grown(1).Overlaps(r) {
			cost += costLabel
		}
	}
	if cost >= limit {
		return cost
	}
	cost += costCross * m.crossed(s.lines)
	for _, edges := range s.edges {
		if cost < limit {
			cost += costEdge * m.crossed(edges)
		}
	}
	return cost
}

// crossed returns how many lines the leader of a mark crosses.
func (m *mark) crossed(lines []drawing.Line) float64 {
	a, b := plane.Vec(m.line.From), plane.Vec(m.line.To)
	x0, x1 := min(a.X, b.X), max(a.X, b.X)
	y0, y1 := min(a.Y, b.Y), max(a.Y, b.Y)
	n := 0.0
	for i := range lines {
		l := &lines[i]
		if max(l.From.X, l.To.X) < x0 || min(l.From.X, l.To.X) > x1 || max(l.From.Y, l.To.Y) < y0 || min(l.From.Y, l.To.Y) > y1 {
			continue
		}
		if plane.Cross(a, b, plane.Vec(l.From), plane.Vec(l.To)) {
			n++
		}
	}
	return n
}

// bounds returns the extent of the marks.
func (all pointing) bounds() drawing.Rect {
	r := drawing.EmptyRect()
	for i := range all {
		r = r.Union(all[i].box)
		if !all[i].bare {
			r = r.Including(all[i].line.From).Including(all[i].line.To)
		}
	}
	return r
}

// markItems returns what is drawn of the marks of a figure, with the item
// references of its components. Findings of one place share a ring.
func (d *drawn) markItems(st drawing.Style, refs []string) []drawing.Item {
	var items []drawing.Item
	for i := range d.marks {
		m := &d.marks[i]
		text := m.text
		if m.component >= 0 {
			text = refs[m.component]
		}
		first := !slices.ContainsFunc(d.marks[:i], func(o mark) bool { return o.ring && m.ring && o.at[0] == m.at[0] })
		items = append(items, m.items(st, text, first)...)
	}
	return items
}

// items returns what is drawn of a mark, with its text.
func (m *mark) items(st drawing.Style, text string, ringed bool) []drawing.Item {
	at := drawing.Pt(m.box.Mid().X, m.box.Min.Y)
	items := []drawing.Item{{Role: drawing.RoleText, Shape: drawing.Text{At: at, Height: m.height, Align: drawing.AlignCentre, Value: text}}}
	if m.bare {
		return items
	}
	// The text may be narrower than its room: the line goes on to it.
	line := m.line
	if mid, d := m.box.Mid(), line.From.Sub(line.To); math.Abs(line.From.Y-mid.Y) < slack && d.X != 0 {
		gap := math.Abs(line.From.X-mid.X) - drawing.TextWidth(text, m.height)/2 - leaderGap
		line.From = line.From.Add(d.Mul(max(0, min(gap, m.height/2*math.Abs(d.X/max(math.Abs(d.Y), slack)))) / math.Abs(d.X)))
	}
	items = append(items, drawing.Item{Role: drawing.RoleDimension, Shape: line})
	if m.ring {
		if ringed {
			items = append(items, drawing.Item{Role: drawing.RoleDimension, Shape: drawing.Circle{Center: m.at[0], Radius: ringRadius}})
		}
		return items
	}
	r := dotWidths * st.Narrow() / 2
	left, right := line.To.Add(drawing.Pt(-r, 0)), line.To.Add(drawing.Pt(r, 0))
	return append(items, drawing.Item{Role: drawing.RoleDimension, Shape: drawing.Hatch{Solid: true, Loops: [][]drawing.Vertex{{{Point: left, Bulge: 1}, {Point: right, Bulge: 1}}}}})
}
