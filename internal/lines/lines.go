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

// same is how near lines are that count as one (mm).
const same = 1e-6

// Merge joins lines and arcs that lie on each other, and takes away of each
// what one that wins over it covers. Of other curves it leaves out what is
// there twice; dimensions, hatches and texts stay as they are.
func Merge(items []drawing.Item) []drawing.Item {
	var kept []drawing.Item
	var lines []*carrier
	var rounds []*carrier
	for p := range 4 {
		for i := range items {
			it := &items[i]
			if priority(it.Role) != p {
				continue
			}
			switch s := it.Shape.(type) {
			case drawing.Line:
				lines = place(lines, lineCarrier(s), it.Role)
			case drawing.Arc:
				rounds = place(rounds, roundCarrier(s.Center, drawing.Pt(s.Radius, 0), 1, s.Start, plane.Sweep(s.Start, s.End)), it.Role)
			case drawing.Circle:
				rounds = place(rounds, roundCarrier(s.Center, drawing.Pt(s.Radius, 0), 1, 0, 360), it.Role)
			case drawing.Ellipse:
				sweep := 360.0
				if s.Start != s.End {
					sweep = plane.Sweep(s.Start, s.End)
				}
				rounds = place(rounds, roundCarrier(s.Center, s.Major, s.Ratio, s.Start, sweep), it.Role)
			default:
				if !slices.ContainsFunc(kept, func(k drawing.Item) bool { return alike(k.Shape, s) }) {
					kept = append(kept, *it)
				}
			}
		}
	}
	var out []drawing.Item
	for _, c := range lines {
		for _, u := range c.used {
			a, z := c.o.Add(c.d.Mul(u.from)), c.o.Add(c.d.Mul(u.to))
			out = append(out, drawing.Item{Role: u.role, Shape: drawing.Line{From: drawing.Pt(tidy(a.X), tidy(a.Y)), To: drawing.Pt(tidy(z.X), tidy(z.Y))}})
		}
	}
	for _, c := range rounds {
		for _, u := range c.turned() {
			out = append(out, drawing.Item{Role: u.role, Shape: c.round(u)})
		}
	}
	out = append(out, kept...)
	for _, it := range items {
		if priority(it.Role) < 0 {
			out = append(out, it)
		}
	}
	return out
}

// A carrier is the line, circle or ellipse that shapes lie on, with the
// stretches of it that are drawn: millimetres along a line, degrees of a round.
type carrier struct {
	isRound bool
	o, d    drawing.Point // a line: its point nearest to the origin, its direction; a round: centre, half the major axis
	ratio   float64
	from    float64
	to      float64 // of the shape that made it
	used    []stretch
}

type stretch struct {
	from, to float64
	role     drawing.Role
}

func lineCarrier(l drawing.Line) *carrier {
	d := l.To.Sub(l.From)
	d = d.Mul(1 / d.Len())
	if d.X < -1e-9 || d.X < 1e-9 && d.Y < 0 {
		d = d.Mul(-1)
	}
	if math.Abs(d.X) < 1e-12 {
		d = drawing.Pt(0, 1)
	} else if math.Abs(d.Y) < 1e-12 {
		d = drawing.Pt(1, 0)
	}
	along := func(p drawing.Point) float64 { return p.X*d.X + p.Y*d.Y }
	o := l.From.Sub(d.Mul(along(l.From)))
	s, e := along(l.From), along(l.To)
	return &carrier{o: o, d: d, from: math.Min(s, e), to: math.Max(s, e)}
}

func roundCarrier(c, major drawing.Point, ratio, start, sweep float64) *carrier {
	s := plane.Norm(start)
	return &carrier{isRound: true, o: c, d: major, ratio: ratio, from: s, to: s + sweep}
}

func (c *carrier) like(o *carrier) bool {
	if c.o.Sub(o.o).Len() > same || math.Abs(c.ratio-o.ratio) > 1e-7 {
		return false
	}
	if c.isRound {
		return c.d.Sub(o.d).Len() < same
	}
	return c.d.Sub(o.d).Len() < 1e-7
}

// place puts the shape that made c on the carrier of its kind, where it is not
// covered; shapes of one role that touch become one.
func place(all []*carrier, c *carrier, role drawing.Role) []*carrier {
	i := slices.IndexFunc(all, c.like)
	if i < 0 {
		all, i = append(all, c), len(all)
	}
	on := all[i]
	slack := same
	if c.isRound {
		slack = same / math.Max(c.d.Len(), 1e-3) * 180 / math.Pi
	}
	add := []stretch{{c.from, c.to, role}}
	if c.isRound && c.to > 360 { // kept within one turn
		add = []stretch{{c.from, 360, role}, {0, c.to - 360, role}}
	}
	for _, a := range add {
		on.put(a, slack)
	}
	return all
}

func (c *carrier) put(a stretch, slack float64) {
	free := []stretch{a}
	for _, u := range c.used {
		var rest []stretch
		for _, f := range free {
			if u.to <= f.from+slack || u.from >= f.to-slack {
				rest = append(rest, f)
				continue
			}
			if u.from > f.from+slack {
				rest = append(rest, stretch{f.from, u.from, f.role})
			}
			if u.to < f.to-slack {
				rest = append(rest, stretch{u.to, f.to, f.role})
			}
		}
		free = rest
	}
	c.used = append(c.used, free...)
	slices.SortFunc(c.used, func(x, y stretch) int {
		if x.from < y.from {
			return -1
		}
		return 1
	})
	joined := c.used[:0]
	for _, u := range c.used {
		if n := len(joined); n > 0 && joined[n-1].role == u.role && u.from-joined[n-1].to < slack {
			joined[n-1].to = math.Max(joined[n-1].to, u.to)
			continue
		}
		joined = append(joined, u)
	}
	c.used = joined
}

// turned returns the stretches of a round; the first and the last are one where
// they meet at 0.
func (c *carrier) turned() []stretch {
	n := len(c.used)
	if n > 1 && c.used[0].from < 1e-6 && c.used[n-1].to > 360-1e-6 && c.used[0].role == c.used[n-1].role {
		first := c.used[0]
		out := slices.Clone(c.used[1:])
		out[n-2].to = 360 + first.to
		return out
	}
	return c.used
}

// round returns the shape of a stretch of a circle or ellipse.
func (c *carrier) round(u stretch) drawing.Shape {
	whole := u.to-u.from >= 360-1e-7
	if c.ratio >= 1 {
		if whole {
			return drawing.Circle{Center: c.o, Radius: c.d.Len()}
		}
		return drawing.Arc{Center: c.o, Radius: c.d.Len(), Start: u.from, End: plane.Norm(u.to)}
	}
	e := drawing.Ellipse{Center: c.o, Major: c.d, Ratio: c.ratio}
	if !whole {
		e.Start, e.End = u.from, plane.Norm(u.to)
	}
	return e
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
