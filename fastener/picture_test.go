package fastener_test

import (
	"fmt"
	"math"
	"slices"

	"boltplate/drawing"
	"boltplate/internal/plane"
)

// A picture is the lines of a view in a form that does not depend on how they
// were made: by what they lie on (a straight line, a circle, an ellipse), and
// on each of these by role, which stretches of it are drawn. Curves of other
// kinds stand beside it.
type picture struct {
	carriers []*carrier
	curves   []drawing.Item
	twice    []string // lines of one role that lie on each other
}

// A carrier is what lines lie on.
type carrier struct {
	shape rune          // '-' a straight line, 'o' a circle or ellipse
	o, d  drawing.Point // a point and the direction; the centre and half the major axis
	ratio float64
	used  [3][]stretch // by role: outline, thin, hidden
}

// A stretch of a carrier: mm along a straight line, degrees of a round one.
// what says which edge it is, where that is known.
type stretch struct {
	from, to float64
	what     string
}

// same is how near lines are that count as one, mm.
const same = 1e-6

// drawnRoles are the roles of edges and of conventions on them, in the order
// in which they win over each other where they coincide (ISO 128-2).
var drawnRoles = [3]drawing.Role{drawing.RoleOutline, drawing.RoleThin, drawing.RoleHidden}

// pictureOf returns the picture of a view.
func pictureOf(v drawing.View) *picture {
	p := &picture{}
	p.addView(v)
	return p
}

func (p *picture) addView(v drawing.View) {
	items := slices.Clone(v.Items)
	// The longest line tells best what others lie on.
	slices.SortStableFunc(items, func(a, b drawing.Item) int {
		la, _ := a.Shape.(drawing.Line)
		lb, _ := b.Shape.(drawing.Line)
		if la.To.Sub(la.From).Len() > lb.To.Sub(lb.From).Len() {
			return -1
		}
		return 1
	})
	for _, it := range items {
		p.add(it.Role, it.Shape, "")
	}
	for _, c := range p.carriers {
		for r := range c.used {
			c.used[r] = p.joined(c, r)
		}
	}
}

func (p *picture) add(role drawing.Role, s drawing.Shape, what string) {
	r := slices.Index(drawnRoles[:], role)
	if r < 0 {
		return
	}
	switch s := s.(type) {
	case drawing.Line:
		p.addLine(r, s, what)
	case drawing.Circle:
		p.addRound(r, carrier{o: s.Center, d: drawing.Pt(s.Radius, 0), ratio: 1}, 0, 360, what)
	case drawing.Arc:
		p.addRound(r, carrier{o: s.Center, d: drawing.Pt(s.Radius, 0), ratio: 1}, s.Start,
			plane.Sweep(s.Start, s.End), what)
	case drawing.Ellipse:
		sweep := 360.0
		if !s.Whole() {
			sweep = plane.Sweep(s.Start, s.End)
		}
		start := s.Start
		if s.Major.X < -1e-9 || math.Abs(s.Major.X) < 1e-9 && s.Major.Y < 0 {
			s.Major, start = s.Major.Mul(-1), start+180
		}
		p.addRound(r, carrier{o: s.Center, d: s.Major, ratio: s.Ratio}, start, sweep, what)
	case drawing.Conic, drawing.Polyline:
		p.curves = append(p.curves, drawing.Item{Role: role, Shape: s})
	}
}

func (p *picture) addLine(r int, l drawing.Line, what string) {
	d := l.To.Sub(l.From)
	if d.Len() < same {
		return
	}
	d = d.Mul(1 / d.Len())
	for _, c := range p.carriers {
		if c.shape == '-' && c.off(l.From) < same && c.off(l.To) < same {
			c.put(r, c.along(l.From), c.along(l.To), what)
			return
		}
	}
	c := &carrier{shape: '-', o: l.From, d: d}
	c.put(r, 0, c.along(l.To), what)
	p.carriers = append(p.carriers, c)
}

// off returns how far a point is from the straight line, along where on it.
func (c *carrier) off(q drawing.Point) float64 {
	v := q.Sub(c.o)
	return math.Abs(v.X*c.d.Y - v.Y*c.d.X)
}

func (c *carrier) along(q drawing.Point) float64 {
	v := q.Sub(c.o)
	return v.X*c.d.X + v.Y*c.d.Y
}

func (c *carrier) put(r int, a, b float64, what string) {
	c.used[r] = append(c.used[r], stretch{math.Min(a, b), math.Max(a, b), what})
}

func (p *picture) addRound(r int, like carrier, start, sweep float64, what string) {
	i := slices.IndexFunc(p.carriers, func(c *carrier) bool { return c.roundLike(&like) })
	if i < 0 {
		like.shape = 'o'
		p.carriers = append(p.carriers, &like)
		i = len(p.carriers) - 1
	}
	c := p.carriers[i]
	start = plane.Norm(start)
	end := start + sweep
	if end > 360 {
		c.put(r, 0, end-360, what)
		end = 360
	}
	c.put(r, start, end, what)
}

func (c *carrier) roundLike(o *carrier) bool {
	return c.shape == 'o' && c.o.Sub(o.o).Len() < same && c.d.Sub(o.d).Len() < same &&
		math.Abs(c.ratio-o.ratio) < 1e-7
}

// slack is how much parameter same is on the carrier.
func (c *carrier) slack() float64 {
	if c.shape == '-' {
		return same
	}
	return same / c.d.Len() * 180 / math.Pi
}

// joined returns the stretches of a role in order, those that touch as one,
// and notes what is there twice.
func (p *picture) joined(c *carrier, r int) []stretch {
	s := slices.Clone(c.used[r])
	slices.SortFunc(s, func(a, b stretch) int { return int(math.Copysign(1, a.from-b.from)) })
	var out []stretch
	for _, x := range s {
		n := len(out)
		if n == 0 || x.from > out[n-1].to+c.slack() {
			out = append(out, x)
			continue
		}
		if over := math.Min(out[n-1].to, x.to) - x.from; over > 2*c.slack() {
			p.twice = append(p.twice, fmt.Sprintf("%s twice: %s", drawnRoles[r],
				c.text(stretch{from: x.from, to: x.from + over})))
		}
		out[n-1].to = math.Max(out[n-1].to, x.to)
	}
	return out
}

// settle joins what touches, and takes away of each role what one that wins
// over it covers.
func (p *picture) settle() {
	for _, c := range p.carriers {
		for r := range c.used {
			c.used[r] = p.joined(c, r)
			for w := range r {
				c.used[r] = without(c.used[r], c.used[w], c.slack())
			}
		}
	}
	p.twice = nil
}

// without returns what of a is not in b, in pieces longer than slack.
func without(a, b []stretch, slack float64) []stretch {
	for _, cut := range b {
		var rest []stretch
		for _, s := range a {
			left, right := stretch{s.from, math.Min(s.to, cut.from),
				s.what}, stretch{math.Max(s.from, cut.to), s.to, s.what}
			for _, k := range [2]stretch{left, right} {
				if k.to-k.from > slack {
					rest = append(rest, k)
				}
			}
		}
		a = rest
	}
	return a
}

// A difference is a line that one picture has and the other has not.
type difference struct {
	role    drawing.Role
	missing bool   // the picture that was wanted has it
	what    string // which edge it is, where that is known
	text    string
}

func (d difference) String() string {
	s := "has too much"
	if d.missing {
		s = "lacks"
	}
	if d.what != "" {
		return fmt.Sprintf("%s, %s: %s", s, d.what, d.text)
	}
	return s + " " + d.text
}

// differences compares two pictures but for their curves: to within a few
// times same, or slack mm where that is more.
func differences(want, got *picture, slack float64) []difference {
	var out []difference
	list := func(from, of *picture, missing bool) {
		for _, c := range from.carriers {
			o := of.like(c)
			for r := range c.used {
				var other []stretch
				if o != nil {
					for _, s := range o.used[r] {
						other = append(other, o.on(c, s)...)
					}
				}
				limit := 3 * c.slack() * math.Max(1, slack/same)
				for _, s := range without(c.used[r], other, limit) {
					out = append(out, difference{drawnRoles[r], missing, s.what,
						drawnRoles[r].String() + " " + c.text(s)})
				}
			}
		}
	}
	list(want, got, true)
	list(got, want, false)
	return out
}

// like returns the carrier of p that is the same as c; nil for none.
func (p *picture) like(c *carrier) *carrier {
	for _, o := range p.carriers {
		if c.shape == 'o' && o.roundLike(c) {
			return o
		}
		if c.shape == '-' && o.shape == '-' && c.reachOff(o) {
			return o
		}
	}
	return nil
}

// reachOff reports whether the whole stretch that c uses is on o.
func (c *carrier) reachOff(o *carrier) bool {
	for _, used := range c.used {
		for _, s := range used {
			if o.off(c.at(s.from)) > 2*same || o.off(c.at(s.to)) > 2*same {
				return false
			}
		}
	}
	return true
}

// on returns a stretch of c in the measure of the same carrier o.
func (c *carrier) on(o *carrier, s stretch) []stretch {
	if c.shape == 'o' {
		return []stretch{s}
	}
	a, b := o.along(c.at(s.from)), o.along(c.at(s.to))
	return []stretch{{math.Min(a, b), math.Max(a, b), s.what}}
}

func (c *carrier) at(t float64) drawing.Point {
	if c.shape == '-' {
		return c.o.Add(c.d.Mul(t))
	}
	sin, cos := plane.Sincos(t)
	minor := drawing.Pt(-c.d.Y, c.d.X).Mul(c.ratio)
	return c.o.Add(c.d.Mul(cos)).Add(minor.Mul(sin))
}

func (c *carrier) text(s stretch) string {
	a, b := c.at(s.from), c.at(s.to)
	if c.shape == '-' {
		return fmt.Sprintf("line %.4f to %.4f", a, b)
	}
	name := "circle"
	if c.ratio < 1 {
		name = fmt.Sprintf("ellipse (ratio %.4f)", c.ratio)
	}
	return fmt.Sprintf("%s about %.4f, radius %.4f, from %.3f to %.3f degrees", name, c.o,
		c.d.Len(), s.from, s.to)
}
