// Package lines puts the lines of a view in order: what lies on each other
// becomes one line, by the rule which line wins (ISO 128-2: visible edges, then
// hidden ones, then centre lines).
package lines

import (
	"math"
	"slices"

	"boltplate/drawing"
	"boltplate/internal/plane"
)

// priority is the order in which lines that coincide win: visible edges, then
// hidden ones, then centre lines; narrow lines of conventions after edges.
func priority(r drawing.Role) int {
	switch r {
	case drawing.RoleOutline:
		return 0
	case drawing.RoleThin:
		return 1
	case drawing.RoleHidden:
		return 2
	case drawing.RoleCentre:
		return 3
	}
	return -1
}

const priorities = 4

// same is how near lines are that count as one (mm).
const same = 1e-6

// touching is how near a hidden curve is all along to a line that counts as a part
// of it: nobody sees it beside that.
const touching = 2.5e-3

// Merge joins lines and arcs that lie on each other, and takes away of each
// what one that wins over it covers. Of other curves it leaves out what is
// there twice; dimensions, hatches and texts stay as they are.
func Merge(items []drawing.Item) []drawing.Item {
	s := new(Set)
	s.Reset(len(items))
	for _, it := range items {
		s.Add(it.Role, it.Shape)
	}
	return s.Items()
}

// A Set collects the lines of a view. The zero Set is empty and works.
type Set struct {
	strokes  []stroke
	others   []drawing.Item // of the roles that win or lose, but no lines or rounds
	samples  []sampled
	rest     []drawing.Item
	carriers []carrier
	used     []stretch

	// Room for the lists above, which in most views need no more.
	room struct {
		strokes  [48]stroke
		carriers [40]carrier
		used     [40]stretch
		rest     [12]drawing.Item
	}
}

// Reset empties a set, or makes a new one ready, with room for n lines.
func (s *Set) Reset(n int) {
	s.strokes, s.carriers, s.used, s.rest = s.room.strokes[:0], s.room.carriers[:0], s.room.used[:0], s.room.rest[:0]
	if n > cap(s.strokes) {
		s.strokes = make([]stroke, 0, n)
	}
	s.others, s.samples = nil, nil
}

// A stroke is a line or a part of a circle or ellipse: what carries it, and
// from where to where.
type stroke struct {
	role     drawing.Role
	on       geometry
	from, to float64 // mm along a line, degrees of a round
}

// A geometry is the line, circle or ellipse that strokes lie on.
type geometry struct {
	round bool
	o, d  drawing.Point // a line: its point nearest to the origin, its direction; a round: centre, half the major axis
	ratio float64       // of the axes of a round
	key   float64       // near for those that are alike
}

// A carrier is the geometry of a stroke, with what is drawn of it.
type carrier struct {
	stroke int32
	first  int32 // of its stretches, -1 for none
}

// A stretch is what is drawn of a carrier; those of one carrier are a list in
// order.
type stretch struct {
	from, to float64
	role     drawing.Role
	next     int32
}

// Add adds a shape.
func (s *Set) Add(role drawing.Role, shape drawing.Shape) {
	if priority(role) < 0 {
		s.rest = append(s.rest, drawing.Item{Role: role, Shape: shape})
		return
	}
	switch g := shape.(type) {
	case drawing.Line:
		s.Line(role, g.From, g.To)
	case drawing.Arc:
		s.Round(role, g.Center, drawing.Pt(g.Radius, 0), 1, g.Start, plane.Sweep(g.Start, g.End))
	case drawing.Circle:
		s.Round(role, g.Center, drawing.Pt(g.Radius, 0), 1, 0, 360)
	case drawing.Ellipse:
		sweep := 360.0
		if g.Start != g.End {
			sweep = plane.Sweep(g.Start, g.End)
		}
		s.Round(role, g.Center, g.Major, g.Ratio, g.Start, sweep)
	default:
		s.others = append(s.others, drawing.Item{Role: role, Shape: shape})
	}
}

// A sampled is a curve that may lie on a line or a round: which one of the
// others it is, and points of it.
type sampled struct {
	other int32
	ps    []drawing.Point
}

// Curve adds a curve that is no line and no round of itself, with points along
// it, its ends among them. Where it lies on a line or a round that is there, it
// counts as a part of that.
func (s *Set) Curve(role drawing.Role, shape drawing.Shape, ps []drawing.Point) {
	s.samples = append(s.samples, sampled{int32(len(s.others)), ps})
	s.others = append(s.others, drawing.Item{Role: role, Shape: shape})
}

// settle makes strokes of the sampled curves that lie on one.
func (s *Set) settle() {
	n := len(s.strokes)
	for _, c := range s.samples {
		it := &s.others[c.other]
		near := same
		if it.Role == drawing.RoleHidden { // a short one along a line that it touches
			near = touching
		}
		for i := range s.strokes[:n] {
			g := s.strokes[i].on
			if from, to, ok := g.carries(c.ps, near); ok {
				s.strokes = append(s.strokes, stroke{it.Role, g, from, to})
				it.Shape = nil
				break
			}
		}
	}
	s.others = slices.DeleteFunc(s.others, func(it drawing.Item) bool { return it.Shape == nil })
}

// carries reports whether all points, those of a curve one after the other, are
// as near to g, and from where to where.
func (g *geometry) carries(ps []drawing.Point, near float64) (from, to float64, ok bool) {
	last := 0.0
	for i, p := range ps {
		q := p.Sub(g.o)
		var at, off float64
		if g.round {
			// In the coordinates in which it is a unit circle.
			l2 := g.d.X*g.d.X + g.d.Y*g.d.Y
			x, y := (q.X*g.d.X+q.Y*g.d.Y)/l2, (q.Y*g.d.X-q.X*g.d.Y)/(l2*g.ratio)
			at = plane.Degrees(x, y)
			off = (math.Hypot(x, y) - 1) * math.Sqrt(l2) * g.ratio
		} else {
			at, off = q.X*g.d.X+q.Y*g.d.Y, q.X*g.d.Y-q.Y*g.d.X
		}
		if math.Abs(off) > near {
			return 0, 0, false
		}
		if i == 0 {
			from, to = at, at
		} else if g.round {
			at = last + plane.Norm(at-last+180) - 180
		}
		from, to, last = math.Min(from, at), math.Max(to, at), at
	}
	if g.round && from < 0 {
		from, to = from+360, to+360
	}
	return from, to, true
}

// Line adds a straight line; one without length is none.
func (s *Set) Line(role drawing.Role, from, to drawing.Point) {
	d := to.Sub(from)
	l := math.Sqrt(d.X*d.X + d.Y*d.Y)
	if l == 0 {
		return
	}
	d = d.Mul(1 / l)
	if d.X < -1e-9 || d.X < 1e-9 && d.Y < 0 {
		d = d.Mul(-1)
	}
	if math.Abs(d.X) < 1e-12 {
		d = drawing.Pt(0, 1)
	} else if math.Abs(d.Y) < 1e-12 {
		d = drawing.Pt(1, 0)
	}
	a, b := from.X*d.X+from.Y*d.Y, to.X*d.X+to.Y*d.Y
	g := geometry{o: from.Sub(d.Mul(a)), d: d}
	g.key = g.o.X + 3*g.o.Y + 100*d.X + 300*d.Y
	s.strokes = append(s.strokes, stroke{role, g, math.Min(a, b), math.Max(a, b)})
}

// Round adds a circle, an ellipse or a part of one, sweep degrees from start
// on. Of a circle the major axis is (radius, 0).
func (s *Set) Round(role drawing.Role, centre, major drawing.Point, ratio, start, sweep float64) {
	g := geometry{round: true, o: centre, d: major, ratio: ratio, key: centre.X + 3*centre.Y + 5*major.X + 7*major.Y}
	from := plane.Norm(start)
	if from > 360-1e-9 {
		from = 0
	}
	s.strokes = append(s.strokes, stroke{role, g, from, from + sweep})
}

func (g *geometry) like(o *geometry) bool {
	if g.round != o.round || math.Abs(g.key-o.key) > 1e-3 || g.o.Sub(o.o).Len() > same {
		return false
	}
	if g.round {
		return math.Abs(g.ratio-o.ratio) < 1e-7 && g.d.Sub(o.d).Len() < same
	}
	return g.d.Sub(o.d).Len() < 1e-7
}

// Items returns what is drawn: lines, then rounds, then the other shapes.
func (s *Set) Items() []drawing.Item {
	s.settle()
	for p := range priorities {
		for i := range s.strokes {
			if priority(s.strokes[i].role) == p {
				s.place(int32(i))
			}
		}
	}
	s.join()
	out := make([]drawing.Item, 0, len(s.used)+len(s.others)+len(s.rest))
	var box boxer
	for _, round := range [2]bool{false, true} {
		for i := range s.carriers {
			c := &s.carriers[i]
			g := s.on(c)
			if g.round != round {
				continue
			}
			for k := c.first; k >= 0; k = s.used[k].next {
				out = append(out, drawing.Item{Role: s.used[k].role})
				box.add(&out[len(out)-1], g, &s.used[k])
			}
		}
	}
	box.flush()
	out = s.appendOthers(out)
	return append(out, s.rest...)
}

func (s *Set) on(c *carrier) *geometry { return &s.strokes[c.stroke].on }

func (s *Set) appendOthers(out []drawing.Item) []drawing.Item {
	first := len(out)
	for p := range priorities {
	next:
		for i := range s.others {
			it := &s.others[i]
			if priority(it.Role) != p {
				continue
			}
			for _, k := range out[first:] {
				if alike(k.Shape, it.Shape) {
					continue next
				}
			}
			out = append(out, *it)
		}
	}
	return out
}

// place puts a stroke on the carrier of its kind, where it is not covered.
func (s *Set) place(n int32) {
	k := &s.strokes[n]
	i := 0
	for i < len(s.carriers) && !s.on(&s.carriers[i]).like(&k.on) {
		i++
	}
	if i == len(s.carriers) {
		s.carriers = append(s.carriers, carrier{n, -1})
	}
	c := &s.carriers[i]
	slack := k.on.slack()
	if k.on.round && k.to > 360 { // kept within one turn
		s.put(c, stretch{from: k.from, to: 360, role: k.role}, slack)
		s.put(c, stretch{from: 0, to: k.to - 360, role: k.role}, slack)
		return
	}
	s.put(c, stretch{from: k.from, to: k.to, role: k.role}, slack)
}

// slack is how near the ends of stretches are that touch.
func (g *geometry) slack() float64 {
	if g.round {
		return same / math.Max(g.d.Len(), 1e-3) * 180 / math.Pi
	}
	return same
}

// put adds a stretch to a carrier where nothing is yet.
func (s *Set) put(c *carrier, a stretch, slack float64) {
	last := int32(-1)
	insert := func(from, to float64) {
		n := int32(len(s.used))
		next := c.first
		if last >= 0 {
			next = s.used[last].next
		}
		s.used = append(s.used, stretch{from, to, a.role, next})
		if last >= 0 {
			s.used[last].next = n
		} else {
			c.first = n
		}
		last = n
	}
	at := a.from
	for k := c.first; k >= 0; k = s.used[k].next {
		u := s.used[k]
		if u.from >= a.to-slack {
			break
		}
		if u.to > at+slack {
			if u.from > at+slack {
				insert(at, u.from)
			}
			at = u.to
		}
		last = k
	}
	if at < a.to-slack {
		insert(at, a.to)
	}
}

// join makes one stretch of those of one role that touch.
func (s *Set) join() {
	for i := range s.carriers {
		c := &s.carriers[i]
		g := s.on(c)
		slack := g.slack()
		for k := c.first; k >= 0; {
			u := &s.used[k]
			if u.next >= 0 && s.used[u.next].role == u.role && s.used[u.next].from-u.to < slack {
				u.to = math.Max(u.to, s.used[u.next].to)
				u.next = s.used[u.next].next
				continue
			}
			k = u.next
		}
		if g.round {
			s.joinAround(c)
		}
	}
}

// joinAround joins the first and the last stretch of a round where they meet at
// 0.
func (s *Set) joinAround(c *carrier) {
	if c.first < 0 || s.used[c.first].next < 0 {
		return
	}
	last := c.first
	for s.used[last].next >= 0 {
		last = s.used[last].next
	}
	a, z := &s.used[c.first], &s.used[last]
	if a.from < 1e-6 && z.to > 360-1e-6 && a.role == z.role {
		z.to = 360 + a.to
		c.first = a.next
	}
}

// Seen reports whether a visible edge or a line of a convention that was added
// with the role outline runs through p.
func (s *Set) Seen(p drawing.Point) bool {
	for i := range s.strokes {
		k := &s.strokes[i]
		if k.role == drawing.RoleOutline && k.through(p) {
			return true
		}
	}
	return false
}

func (k *stroke) through(p drawing.Point) bool {
	g := &k.on
	q := p.Sub(g.o)
	if !g.round {
		along := q.X*g.d.X + q.Y*g.d.Y
		return math.Abs(q.X*g.d.Y-q.Y*g.d.X) < same && along > k.from-same && along < k.to+same
	}
	return g.ratio == 1 && math.Abs(q.Len()-g.d.X) < same &&
		(k.to-k.from >= 360-1e-9 || plane.Norm(plane.Degrees(q.X, q.Y)-k.from+1e-7) <= k.to-k.from+2e-7)
}

// Reach returns the extent of what was added with the role outline.
func (s *Set) Reach() drawing.Rect {
	r := drawing.EmptyRect()
	for i := range s.strokes {
		k := &s.strokes[i]
		if k.role != drawing.RoleOutline {
			continue
		}
		if !k.on.round {
			a, z := k.line()
			r = r.Including(a).Including(z)
			continue
		}
		it := drawing.Item{}
		k.on.roundShape(&it, k.from, k.to)
		r = r.Union(drawing.View{Items: []drawing.Item{it}}.Outline())
	}
	for i := range s.others {
		if s.others[i].Role == drawing.RoleOutline {
			r = r.Union(drawing.View{Items: s.others[i : i+1]}.Outline())
		}
	}
	return r
}

func (k *stroke) line() (a, z drawing.Point) {
	return k.on.o.Add(k.on.d.Mul(k.from)), k.on.o.Add(k.on.d.Mul(k.to))
}

// roundShape sets the shape of an item to a stretch of a circle or ellipse.
func (g *geometry) roundShape(it *drawing.Item, from, to float64) {
	whole := to-from >= 360-1e-7
	switch {
	case g.ratio >= 1 && whole:
		it.Shape = drawing.Circle{Center: g.o, Radius: g.d.X}
	case g.ratio >= 1:
		it.Shape = drawing.Arc{Center: g.o, Radius: g.d.X, Start: from, End: plane.Norm(to)}
	case whole:
		it.Shape = drawing.Ellipse{Center: g.o, Major: g.d, Ratio: g.ratio}
	default:
		it.Shape = drawing.Ellipse{Center: g.o, Major: g.d, Ratio: g.ratio, Start: from, End: plane.Norm(to)}
	}
}

// alike reports whether two curves of the other kinds are the same, in either
// direction.
func alike(a, b drawing.Shape) bool {
	ends := func(s drawing.Shape) (p, m, q drawing.Point, ok bool) {
		switch s := s.(type) {
		case drawing.Conic:
			return s.From, s.Control, s.To, true
		case drawing.Polyline:
			n := len(s.Vertices)
			return s.Vertices[0].Point, s.Vertices[n/2].Point, s.Vertices[n-1].Point, true
		}
		return p, m, q, false
	}
	p, m, q, ok := ends(a)
	r, n, t, ok2 := ends(b)
	close := func(x, y drawing.Point) bool { return x.Sub(y).Len() < 1e-5 }
	return ok && ok2 && close(m, n) && (close(p, r) && close(q, t) || close(p, t) && close(q, r))
}

// tidy takes rounding off what should be a multiple of a millionth.
func tidy(v float64) float64 {
	if r := math.Round(v*1e6) / 1e6; math.Abs(v-r) < 1e-11 {
		return r
	}
	return v
}
