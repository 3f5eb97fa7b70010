package fastener_test

import (
	"fmt"
	"math"
	"slices"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/internal/plane"
)

// compare returns what is wrong with a view, by family, view, role and edge.
func (a *assembly) compare(v drawing.View, dir drawing.Direction, opt fastener.Options,
	turned bool) map[string]string {
	wrong := map[string]string{}
	note := func(what, text string) {
		key := fmt.Sprintf("%s: %s: %s", a.name, dir, what)
		if wrong[key] == "" {
			wrong[key] = text
		}
	}
	var want *picture
	var curves []faceCurve
	got := v
	if dir == drawing.Front || dir == drawing.SideView {
		want, curves = a.elevation(dir, opt.Style)
		var drawn []drawing.Shape
		got.Items = nil
		for _, it := range v.Items {
			switch it.Shape.(type) {
			case drawing.Arc, drawing.Conic, drawing.Polyline:
				if it.Role == drawing.RoleOutline {
					drawn = append(drawn, it.Shape)
					continue
				}
			}
			got.Items = append(got.Items, it)
		}
		for _, msg := range compareCurves(curves, drawn, opt.Exact) {
			note("chamfer curve", msg)
		}
	} else {
		want = a.endView(dir, opt.Style, turned)
	}
	if !opt.Hidden {
		for _, c := range want.carriers {
			c.used[2] = nil
		}
	}
	is := pictureOf(got)
	for _, d := range differences(want, is, 0) {
		what := d.role.String() + " "
		if d.missing {
			what += "missing, " + d.what
		} else {
			what += "too much"
		}
		note(what, d.String())
	}
	for _, s := range is.twice {
		note("twice", s)
	}
	for _, it := range is.curves {
		note("curve", fmt.Sprintf("%s %T", it.Role, it.Shape))
	}
	return wrong
}

// compareCurves compares the curved shapes of an elevation with the edges of
// the chamfers: each is there once, from corner to corner. A true curve is the
// hyperbola; one in arcs passes through its vertex and both corners, and is
// nowhere farther from it than a single arc through these is.
func compareCurves(want []faceCurve, drawn []drawing.Shape, exact bool) []string {
	var out []string
	type part struct{ lo, hi float64 }
	parts := make([][]part, len(want))
	for _, s := range drawn {
		for _, g := range graphsOf(s) {
			best, where := math.Inf(1), -1
			for i, c := range want {
				h := c.h()
				if g.lo < c.mid-h-1e-6 || g.hi > c.mid+h+1e-6 {
					continue
				}
				worst, limit := 0.0, 1e-6
				if !exact {
					limit += 1.001 * c.arcError()
				}
				for k := range 33 {
					y := g.lo + (g.hi-g.lo)*float64(k)/32
					worst = math.Max(worst, math.Abs(g.at(y)-c.at(y)))
				}
				for _, y := range [3]float64{c.mid - h, c.mid, c.mid + h} { // exact points
					if y > g.lo-1e-7 && y < g.hi+1e-7 && math.Abs(g.at(y)-c.at(y)) > 1e-6 {
						worst = math.Inf(1)
					}
				}
				if worst/limit < best {
					best, where = worst/limit, i
				}
			}
			if where < 0 || best > 1 {
				out = append(out, fmt.Sprintf("%T %+v is no edge of a chamfer", s, s))
				continue
			}
			parts[where] = append(parts[where], part{g.lo, g.hi})
		}
	}
	for i, c := range want {
		slices.SortFunc(parts[i], func(a, b part) int { return int(math.Copysign(1, a.lo-b.lo)) })
		at := c.mid - c.h()
		for _, p := range parts[i] {
			if math.Abs(p.lo-at) > 1e-6 {
				break
			}
			at = p.hi
		}
		if math.Abs(at-c.mid-c.h()) > 1e-6 {
			out = append(out, fmt.Sprintf("the edge at x = %.4f from %.4f to %.4f is there as %.4f", c.x,
				c.mid-c.h(), c.mid+c.h(), parts[i]))
		}
	}
	return out
}

// arcError returns how far the arc through vertex and corners is off the
// curve, along the axis.
func (c faceCurve) arcError() float64 {
	h, s := c.h(), c.b.drop()
	r := (h*h + s*s) / (2 * s)
	worst := 0.0
	for k := range 201 {
		y := h * float64(k) / 200
		worst = math.Max(worst, math.Abs(r-math.Sqrt(r*r-y*y)-c.b.depth(y/c.k)))
	}
	return worst
}

// A graph is a curve as x over y, from lo to hi.
type graph struct {
	lo, hi float64
	at     func(y float64) float64
}

// graphsOf returns a shape as graphs over y.
func graphsOf(s drawing.Shape) []graph {
	switch s := s.(type) {
	case drawing.Arc:
		p, q := s.Center.Add(drawing.Polar(s.Radius, s.Start)), s.Center.Add(drawing.Polar(s.Radius, s.End))
		side := 1.0
		if m := s.Center.Add(drawing.Polar(s.Radius, s.Start+plane.Sweep(s.Start, s.End)/2)); m.X < s.Center.X {
			side = -1
		}
		return []graph{{math.Min(p.Y, q.Y), math.Max(p.Y, q.Y), func(y float64) float64 {
			return s.Center.X + side*math.Sqrt(math.Max(0, s.Radius*s.Radius-(y-s.Center.Y)*(y-s.Center.Y)))
		}}}
	case drawing.Conic:
		return []graph{{math.Min(s.From.Y, s.To.Y), math.Max(s.From.Y, s.To.Y), func(y float64) float64 {
			// (1-t)^2 (From - y) + 2 t (1-t) W (Control - y) + t^2 (To - y) = 0
			a, b, c := s.From.Y-y, s.Weight*(s.Control.Y-y), s.To.Y-y
			lo, hi := 0.0, 1.0
			rising := s.To.Y > s.From.Y
			for range 60 {
				t := (lo + hi) / 2
				if v := (1-t)*(1-t)*a + 2*t*(1-t)*b + t*t*c; (v < 0) == rising {
					lo = t
				} else {
					hi = t
				}
			}
			return plane.Conic(plane.Vec(s.From), plane.Vec(s.Control), plane.Vec(s.To), s.Weight, (lo+hi)/2).X
		}}}
	case drawing.Polyline:
		var out []graph
		for i, v := range s.Vertices {
			if i+1 == len(s.Vertices) {
				break
			}
			if a, ok := drawing.BulgeArc(v, s.Vertices[i+1].Point); ok {
				out = append(out, graphsOf(a)...)
			}
		}
		return out
	}
	return nil
}
