package drawing

import (
	"math"
	"slices"

	"boltplate/internal/plane"
)

// Trim returns items, seen behind closed outlines such as Silhouette returns,
// in drawings of a style: without what of their lines and curves lies inside
// an outline or on it. Lines, arcs and curves that are cut stay lines, arcs and
// curves; a polyline becomes the pieces that are left, a hatch its lines. A
// filled area is left out where all its corners are inside, and a text where
// its middle is; dimensions and covers stay.
func Trim(items []Item, outlines []Polyline, st Style) []Item {
	r := newRegion(outlines)
	out := make([]Item, 0, len(items))
	for _, it := range items {
		r.trim(it, st, func(s Shape) { out = append(out, Item{it.Role, s}) })
	}
	return out
}

// Uncovered returns the drawing without covers and without what they hide, for
// formats that have nothing that hides: what is behind a cover is cut away, as
// Trim does it. Its views are then items where they stand. Where d covers
// nothing it is returned as it is.
func (d *Drawing) Uncovered() *Drawing {
	covers := false
	_ = d.Each(func(_ Place, it *Item) error {
		_, ok := it.Shape.(Cover)
		covers = covers || ok
		return nil
	})
	if !covers {
		return d
	}
	out := &Drawing{Style: d.Style, Parts: d.Parts}
	_ = d.Each(func(at Place, it *Item) error {
		s := it.Shape
		if at.View >= 0 {
			s = Apply(s, d.Views[at.View].Transform())
		}
		if c, ok := s.(Cover); ok {
			var outlines []Polyline
			for _, l := range c.Loops {
				outlines = append(outlines, Polyline{l, true})
			}
			out.Items = Trim(out.Items, outlines, d.Style)
		} else {
			out.Items = append(out.Items, Item{it.Role, s})
		}
		return nil
	})
	return out
}

// A region is what closed outlines enclose.
type region struct {
	chains [][]Point
	sides  []border
	box    Rect
}

// A border is a piece of the boundary: straight, or a chord of an arc.
type border struct {
	Line
	extent Rect
	arc    Arc
	round  bool
}

// onBoundary is how near to a boundary a point counts as on it.
const onBoundary = 1e-6

// leastBorder is how far a chord of the boundary may lie off an arc.
const leastBorder = 1e-3

func newRegion(outlines []Polyline) *region {
	r := &region{box: EmptyRect()}
	f := flattener{leastBorder}
	for _, p := range outlines {
		var chain []Point
		add := func(a, b Point, c border) {
			c.Line = Line{a, b}
			c.extent = c.Bounds().Grown(onBoundary)
			r.sides = append(r.sides, c)
			chain = append(chain, a)
		}
		for i, v := range p.Vertices {
			next := p.Vertices[(i+1)%len(p.Vertices)].Point
			a, bent := BulgeArc(v, next)
			if !bent {
				add(v.Point, next, border{})
				continue
			}
			ps := f.arc(nil, a)
			if v.Bulge < 0 {
				slices.Reverse(ps)
			}
			ps[0], ps[len(ps)-1] = v.Point, next
			for j := 1; j < len(ps); j++ {
				add(ps[j-1], ps[j], border{arc: a, round: true})
			}
		}
		if len(chain) > 0 {
			r.chains = append(r.chains, append(chain, chain[0]))
			r.box = r.box.Union(vertexBounds(p.Vertices, true))
		}
	}
	r.box = r.box.Grown(onBoundary)
	return r
}

// has reports whether a point is inside or on the boundary.
func (r *region) has(p Point) bool {
	if p.X < r.box.Min.X || p.X > r.box.Max.X || p.Y < r.box.Min.Y || p.Y > r.box.Max.Y {
		return false
	}
	for i := range r.sides {
		if s := &r.sides[i]; s.extent.Grown(leastBorder).Overlaps(Rect{p, p}.Grown(onBoundary)) && math.Abs(s.off(p)) <= onBoundary {
			if off, _ := fromSegment(s.From, s.To, p); off <= leastBorder {
				return true
			}
		}
	}
	for _, c := range r.chains {
		if within(c, p) {
			return true
		}
	}
	return false
}

// off returns how far a point is from a side, produced, with a sign that
// changes across it.
func (s *border) off(p Point) float64 {
	if s.round {
		return p.Sub(s.arc.Center).Len() - s.arc.Radius
	}
	d, q := s.To.Sub(s.From), p.Sub(s.From)
	return (d.X*q.Y - d.Y*q.X) / d.Len()
}

// A curve is a shape by its parameter from 0 to 1.
type curve struct {
	at     func(t float64) Point
	part   func(t0, t1 float64) Shape // t1 may be above 1 on a closed curve
	pieces int
	closed bool
}

func curveOf(s Shape) (c curve, ok bool) {
	round := func(sweep float64) int { return max(8, int(sweep/3)) }
	switch s := s.(type) {
	case Line:
		at := func(t float64) Point { return s.From.Mul(1 - t).Add(s.To.Mul(t)) }
		return curve{at, func(t0, t1 float64) Shape { return Line{at(t0), at(t1)} }, 1, false}, true
	case Circle:
		return arcCurve(Arc{s.Center, s.Radius, 0, 360}, round(360)), true
	case Arc:
		return arcCurve(s, round(plane.Sweep(s.Start, s.End))), true
	case Ellipse:
		sweep := plane.Sweep(s.Start, s.End)
		return curve{
			func(t float64) Point { return s.At(s.Start + t*sweep) },
			func(t0, t1 float64) Shape {
				e := s
				e.Start, e.End = s.Start+t0*sweep, s.Start+t1*sweep
				return e
			}, round(sweep), sweep == 360,
		}, true
	case Conic:
		return curve{
			func(t float64) Point {
				return Point(plane.Conic(s.From.vec(), s.Control.vec(), s.To.vec(), s.Weight, t))
			},
			func(t0, t1 float64) Shape { return s.part(t0, t1) }, 96, false,
		}, true
	}
	return curve{}, false
}

func arcCurve(a Arc, pieces int) curve {
	sweep := plane.Sweep(a.Start, a.End)
	return curve{
		func(t float64) Point { return a.Center.Add(Polar(a.Radius, a.Start+t*sweep)) },
		func(t0, t1 float64) Shape { return Arc{a.Center, a.Radius, a.Start + t0*sweep, a.Start + t1*sweep} },
		pieces, sweep == 360,
	}
}

// part returns the part of c between two parameters, by blossoming its
// homogeneous control points.
func (c Conic) part(t0, t1 float64) Conic {
	blossom := func(s, t float64) (p Point, w float64) {
		a, b, d := (1-s)*(1-t), s*(1-t)+t*(1-s), s*t
		w = a + b*c.Weight + d
		return c.From.Mul(a).Add(c.Control.Mul(b * c.Weight)).Add(c.To.Mul(d)).Mul(1 / w), w
	}
	from, w0 := blossom(t0, t0)
	control, w1 := blossom(t0, t1)
	to, w2 := blossom(t1, t1)
	return Conic{from, control, to, w1 / math.Sqrt(w0*w2)}
}

func (r *region) trim(it Item, st Style, keep func(Shape)) {
	if c, ok := curveOf(it.Shape); ok {
		r.curve(c, it.Shape, keep)
		return
	}
	switch s := it.Shape.(type) {
	case Polyline:
		r.polyline(s, keep)
	case Hatch:
		r.hatch(s, st, keep)
	case Text:
		box := s.Box(st)
		if !r.has(box[0].Mid(box[2])) {
			keep(s)
		}
	default:
		keep(s)
	}
}

func (r *region) hatch(h Hatch, st Style, keep func(Shape)) {
	if !r.box.Overlaps(bounds(h)) {
		keep(h)
		return
	}
	if !h.Solid {
		h.EachLine(st, func(l Line) {
			c, _ := curveOf(l)
			r.curve(c, l, keep)
		})
		return
	}
	for _, l := range h.Loops {
		for _, v := range l {
			if !r.has(v.Point) {
				keep(h)
				return
			}
		}
	}
}

// curve keeps what of a curve is outside; whole is the shape itself.
func (r *region) curve(c curve, whole Shape, keep func(Shape)) {
	if !r.box.Overlaps(bounds(whole).Grown(onBoundary)) {
		keep(whole)
		return
	}
	parts := r.outside(c)
	for _, p := range parts {
		if p[0] == 0 && p[1] == 1 {
			keep(whole)
		} else {
			keep(c.part(p[0], p[1]))
		}
	}
}

// outside returns the parts of a curve that lie outside, as ranges of its
// parameter.
func (r *region) outside(c curve) (parts [][2]float64) {
	cuts := append(r.cuts(c), 1)
	last := 0.0
	for _, t := range cuts {
		mid := c.at((last + t) / 2)
		if t-last < 1 && mid.Sub(c.at(last)).Len() < onBoundary && mid.Sub(c.at(t)).Len() < onBoundary { // of no length
			continue
		}
		if !r.has(mid) {
			if n := len(parts); n > 0 && parts[n-1][1] == last {
				parts[n-1][1] = t
			} else {
				parts = append(parts, [2]float64{last, t})
			}
		}
		last = t
	}
	// A closed curve goes on across its start.
	if n := len(parts); c.closed && n > 1 && parts[0][0] == 0 && parts[n-1][1] == 1 {
		parts[n-1][1] = 1 + parts[0][1]
		parts = parts[1:]
	}
	return parts
}

// cuts returns where in (0, 1) a curve meets the boundary, in order.
func (r *region) cuts(c curve) (cuts []float64) {
	p, t0 := c.at(0), 0.0
	for i := range c.pieces {
		t1 := float64(i+1) / float64(c.pieces)
		q := c.at(t1)
		chord := Line{p, q}
		leaves := 2 * leastBorder // how far the curve may leave its chord
		if c.pieces > 1 {
			off, _ := fromSegment(p, q, c.at((t0+t1)/2))
			leaves += 2*off + 0.02*q.Sub(p).Len()
		}
		extent := chord.Bounds().Grown(leaves)
		for j := range r.sides {
			s := &r.sides[j]
			if !extent.Overlaps(s.extent) {
				continue
			}
			if c.pieces > 1 {
				cuts = s.meets(c, t0, t1, cuts)
			} else if a, b, ok := chord.clipped(s.extent.Grown(leaves)); ok {
				// A line is long: where it is near the side, it meets it once.
				pad := 0.1 * (b - a)
				cuts = s.meets(c, t0+(t1-t0)*max(0, a-pad), t0+(t1-t0)*min(1, b+pad), cuts)
			}
		}
		p, t0 = q, t1
	}
	slices.Sort(cuts)
	return slices.DeleteFunc(cuts, func(t float64) bool { return t <= 0 || t >= 1 })
}

// clipped returns between which parts of its length a line is inside a box.
func (l Line) clipped(r Rect) (from, to float64, ok bool) {
	from, to = 0, 1
	d := l.To.Sub(l.From)
	for _, c := range [2][4]float64{{l.From.X, d.X, r.Min.X, r.Max.X}, {l.From.Y, d.Y, r.Min.Y, r.Max.Y}} {
		if c[1] == 0 {
			if c[0] < c[2] || c[0] > c[3] {
				return 0, 0, false
			}
			continue
		}
		a, b := (c[2]-c[0])/c[1], (c[3]-c[0])/c[1]
		from, to = max(from, min(a, b)), min(to, max(a, b))
	}
	return from, to, from <= to
}

// meets appends where a piece of a curve meets a side: where it changes sides
// of it, and beside its ends.
func (s *border) meets(c curve, t0, t1 float64, cuts []float64) []float64 {
	d := s.To.Sub(s.From)
	length := d.Len()
	if length == 0 {
		return cuts
	}
	const steps = 4
	ta, fa := t0, s.off(c.at(t0))
	for i := range steps {
		tb := t0 + (t1-t0)*float64(i+1)/steps
		fb := s.off(c.at(tb))
		if fa == 0 || (fa < 0) != (fb < 0) {
			t := root(func(t float64) float64 { return s.off(c.at(t)) }, ta, tb, fa, fb)
			if along := dot(c.at(t).Sub(s.From), d) / length; along >= -onBoundary && along <= length+onBoundary {
				cuts = append(cuts, t)
			}
		}
		ta, fa = tb, fb
	}
	// Where the curve runs along the side, it changes at the side's ends.
	for _, p := range [2]Point{s.From, s.To} {
		a, b := c.at(t0), c.at(t1)
		if e := b.Sub(a); dot(e, e) > 0 {
			if t := t0 + (t1-t0)*dot(p.Sub(a), e)/dot(e, e); t > t0 && t < t1 && c.at(t).Sub(p).Len() < 1e-3 {
				cuts = append(cuts, t)
			}
		}
	}
	return cuts
}

// root returns where f is 0 between a and b, where it has different signs.
func root(f func(float64) float64, a, b, fa, fb float64) float64 {
	for range 60 {
		if fa == 0 || b-a < 1e-15 {
			return a
		}
		// Halve, and take the chord where it lies well inside.
		m := a - fa*(b-a)/(fb-fa)
		if !(m > a+(b-a)/16 && m < b-(b-a)/16) {
			m = (a + b) / 2
		}
		fm := f(m)
		if (fm < 0) == (fa < 0) && fm != 0 {
			a, fa = m, fm
		} else {
			b, fb = m, fm
		}
		if fb == 0 {
			return b
		}
	}
	return (a + b) / 2
}

// polyline keeps what of a polyline is outside, as polylines that are not
// closed, or whole.
func (r *region) polyline(p Polyline, keep func(Shape)) {
	if !r.box.Overlaps(bounds(p).Grown(onBoundary)) {
		keep(p)
		return
	}
	var chains [][]Vertex
	var ends []Point // of the chains
	whole := true
	n := len(p.Vertices)
	for i, v := range p.Vertices {
		if i+1 == n && !p.Closed {
			break
		}
		next := p.Vertices[(i+1)%n].Point
		a, bent := BulgeArc(v, next)
		c, _ := curveOf(Line{v.Point, next})
		sweep := 0.0
		if bent {
			c, sweep = arcCurve(a, max(8, int(plane.Sweep(a.Start, a.End)/3))), plane.Sweep(a.Start, a.End)
			if v.Bulge < 0 { // along the polyline
				forward := c.at
				c.at = func(t float64) Point { return forward(1 - t) }
			}
		}
		parts := r.outside(c)
		whole = whole && len(parts) == 1 && parts[0] == [2]float64{0, 1}
		for _, part := range parts {
			from, to := c.at(part[0]), c.at(part[1])
			vertex := Vertex{Point: from}
			if bent {
				vertex.Bulge = bulgeOf(sweep*(part[1]-part[0]), v.Bulge > 0)
			}
			if k := len(chains); k > 0 && part[0] == 0 && ends[k-1].Sub(from).Len() < onBoundary {
				chains[k-1], ends[k-1] = append(chains[k-1], vertex), to
			} else {
				chains, ends = append(chains, []Vertex{vertex}), append(ends, to)
			}
		}
	}
	if whole {
		keep(p)
		return
	}
	for k, vs := range chains {
		keep(Polyline{Vertices: append(vs, Vertex{Point: ends[k]})})
	}
}
