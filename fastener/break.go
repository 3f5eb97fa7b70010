package fastener

import (
	"math"

	"boltplate/drawing"
)

// A long bolt may be drawn shorter, between two break lines; its dimensions
// keep the true figures (ISO 128-3).

// Sizes of a break: what is left of the stretch at either end of it, in parts of
// D, what is worth a break, and the gap, mm on paper (common practice).
const (
	breakLeft  = 0.6
	breakWorth = 1.0
	breakGap   = 2.5
)

// breakAt returns the stretch of the shank that a break takes out; false where
// none is worth it. The thread is broken only where the plain shank is short.
func (b *bolt) breakAt(on *clamped, st drawing.Style) (from, to float64, ok bool) {
	s := b.shank
	if b.kind == "taper-bolt" {
		return 0, 0, false // what is broken out would be tapered
	}
	d, end := s.t.D, s.end-(s.t.D/2-DrawnRoot(s.t, st))
	if on != nil {
		end = on.covered().from
	}
	run := (d/2 - DrawnRoot(s.t, st)) / math.Tan(runOutAngle*math.Pi/180)
	best := 0.0
	for _, c := range [2]span{{s.start, math.Min(s.limit-run, end)}, {math.Max(s.limit, s.start), end}} {
		x0, x1 := c.from+breakLeft*d, c.to-breakLeft*d
		if x1-x0 > best {
			from, to, best = x0, x1, x1-x0
		}
	}
	return from, to, best > breakWorth*d+st.Part(breakGap)
}

// A breaker takes a stretch out of an elevation.
type breaker struct{ from, to, cut float64 }

// at returns where a point comes to, and whether it stays.
func (k breaker) at(p drawing.Point) (drawing.Point, bool) {
	switch {
	case p.X <= k.from+1e-9:
		return p, true
	case p.X >= k.to-1e-9:
		p.X -= k.cut
		return p, true
	}
	return p, false
}

// both moves two points to where they come to, and reports whether both stay.
func (k breaker) both(from, to *drawing.Point) bool {
	p, okP := k.at(*from)
	q, okQ := k.at(*to)
	*from, *to = p, q
	return okP && okQ
}

// broken returns an elevation with a break from x = from to x = to; as it is
// where something stands in the stretch that cannot be cut.
func broken(v drawing.View, from, to, r float64, st drawing.Style) drawing.View {
	gap := st.Part(breakGap)
	k := breaker{from, to, to - from - gap}
	out := v
	out.Items = nil
	for _, it := range v.Items {
		pieces, ok := k.item(it)
		if !ok {
			return v
		}
		out.Items = append(out.Items, pieces...)
	}
	for _, x := range [2]float64{from, from + gap} {
		out.Items = append(out.Items, drawing.Item{Role: drawing.RoleThin, Shape: breakLine(x, r)})
	}
	return out
}

// breakLine returns a line by hand across the shank.
func breakLine(x, r float64) drawing.Polyline {
	const bend = 0.25
	return drawing.Polyline{Vertices: []drawing.Vertex{{Point: drawing.Pt(x, -r), Bulge: bend}, {Point: drawing.Pt(x, 0), Bulge: -bend},
		{Point: drawing.Pt(x, r)}}}
}

// item returns what is left of an item.
func (k breaker) item(it drawing.Item) ([]drawing.Item, bool) {
	one := func(s drawing.Shape, ok bool) ([]drawing.Item, bool) {
		return []drawing.Item{{Role: it.Role, Shape: s}}, ok
	}
	switch s := it.Shape.(type) {
	case drawing.Line:
		if s.From.X > s.To.X {
			s.From, s.To = s.To, s.From
		}
		p, okP := k.at(s.From)
		q, okQ := k.at(s.To)
		switch {
		case okP && okQ && (s.From.X > k.from || s.To.X <= k.from+1e-9), okP && okQ && it.Role == drawing.RoleCentre:
			return one(drawing.Line{From: p, To: q}, true)
		case math.Abs(s.From.Y-s.To.Y) > 1e-9 || !okP || !okQ:
			return nil, false
		}
		y := s.From.Y
		return []drawing.Item{{Role: it.Role, Shape: drawing.Line{From: p, To: drawing.Pt(k.from, y)}},
			{Role: it.Role, Shape: drawing.Line{From: drawing.Pt(k.to-k.cut, y), To: q}}}, true
	case drawing.Linear:
		ok := k.both(&s.From, &s.To)
		return one(s, ok)
	case drawing.Aligned:
		ok := k.both(&s.From, &s.To)
		return one(s, ok)
	case drawing.Leader:
		p, ok := k.at(s.Tip)
		s.Tip = p
		return one(s, ok)
	case drawing.Angular:
		p, ok := k.at(s.Vertex)
		s.Vertex = p
		return one(s, ok)
	case drawing.Radius:
		p, ok := k.at(s.Center)
		s.Center = p
		return one(s, ok)
	case drawing.Diameter:
		p, ok := k.at(s.Center)
		s.Center = p
		return one(s, ok)
	}
	box := (drawing.View{Items: []drawing.Item{it}}).Bounds(drawing.Style{})
	switch {
	case box.Max.X <= k.from+1e-9:
		return one(it.Shape, true)
	case box.Min.X >= k.to-1e-9:
		return one(drawing.Apply(it.Shape, drawing.Transform{Move: drawing.Pt(-k.cut, 0)}), true)
	}
	return nil, false
}
