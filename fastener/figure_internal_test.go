package fastener

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"boltplate/drawing"
	"boltplate/internal/solid"
	"boltplate/thread"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// strokes writes the lines of a view, joined where they touch, in an order that
// does not depend on how they were made.
func strokes(v drawing.View, roles ...drawing.Role) []string {
	b := &builder{}
	for _, it := range v.Items {
		if slices.Contains(roles, it.Role) {
			b.items = append(b.items, it)
		}
	}
	b.merge()
	n := func(x float64) float64 { return math.Round(x*1e4)/1e4 + 0 }
	p := func(q drawing.Point) string { return fmt.Sprintf("(%.4f, %.4f)", n(q.X), n(q.Y)) }
	both := func(a, b string) string {
		if a > b {
			a, b = b, a
		}
		return a + " " + b
	}
	var out []string
	for _, it := range b.items {
		switch s := it.Shape.(type) {
		case drawing.Line:
			out = append(out, fmt.Sprint(it.Role, " line ", both(p(s.From), p(s.To))))
		case drawing.Arc:
			out = append(out, fmt.Sprintf("%s arc %s %.4f %s", it.Role, p(s.Center), n(s.Radius),
				both(p(s.Center.Add(drawing.Polar(s.Radius, s.Start))), p(s.Center.Add(drawing.Polar(s.Radius, s.End))))))
		case drawing.Circle:
			out = append(out, fmt.Sprintf("%s circle %s %.4f", it.Role, p(s.Center), n(s.Radius)))
		case drawing.Conic:
			out = append(out, fmt.Sprintf("%s conic %s %s %.4f", it.Role, both(p(s.From), p(s.To)), p(s.Control), s.Weight))
		default:
			out = append(out, fmt.Sprintf("%s %T", it.Role, s))
		}
	}
	slices.Sort(out)
	return out
}

// TestFiguresAgreeWithViews: the views of bolts, nuts and washers that are set
// out by hand show what the solids show, line by line. The two are made
// independently: one by the rules of the drawing office, the other by what
// hides what in space.
func TestFiguresAgreeWithViews(t *testing.T) {
	for _, th := range []string{"M5", "M12", "M20", "M42"} {
		d := thread.MustParse(th)
		l := 5 * d.D
		plain := Washer{Thread: d}
		hex := HexBolt{Thread: d, Length: l}
		for _, f := range []Fastener{
			hex,
			HexBolt{Thread: d, Length: l, Governs: Flats},
			HexBolt{Thread: d, Length: l, ToHead: true},
			SquareBolt{Thread: d, Length: l},
			SquareBolt{Thread: d, Length: l, SquareNeck: true},
			HexNut{Thread: d}, HexNut{Thread: d, Thin: true}, SquareNut{Thread: d},
			Washer{Thread: d},
			Bolted{Bolt: hex, Nut: HexNut{Thread: d}, Washer: plain, Grip: 0.7 * l},
			Bolted{Bolt: hex, Nut: SquareNut{Thread: d}, Washer: plain, Grip: 0.7 * l},
			Bolted{Bolt: SquareBolt{Thread: d, Length: l, SquareNeck: true}, Nut: HexNut{Thread: d}, Grip: 0.7 * l},
		} {
			var g *figure
			var more []*figure
			st := drawing.Style{}
			switch p := f.(type) {
			case Bolted:
				b, c, err := p.resolve()
				require.NoError(t, err)
				g, more = b.figure(st, c), c.figures(st)
			case boltedPart:
				b, err := p.resolve()
				require.NoError(t, err)
				g = b.figure(st, nil)
			case nutPart:
				n, err := p.resolve()
				require.NoError(t, err)
				g = n.figure(st, 0, false)
			case Washer:
				s, err := p.resolve()
				require.NoError(t, err)
				g = s.figure(0, false)
			}
			dirs := []drawing.Direction{drawing.Front, drawing.HeadEnd, drawing.PointEnd}
			if e, ok := f.(eighthTurned); !ok || !e.eighthTurn() {
				dirs = append(dirs, drawing.SideView)
			}
			for _, dir := range dirs {
				opt := Options{Exact: true}
				byHand, err := f.View(dir, opt)
				require.NoError(t, err)
				bySolids, err := g.view(dir, opt, more...)
				require.NoError(t, err)
				roles := []drawing.Role{drawing.RoleOutline, drawing.RoleThin}
				assert.Equal(t, strokes(byHand, roles...), strokes(bySolids, roles...), "%s, %s", f.Designation(), dir)
			}
			if t.Failed() {
				return
			}
		}
	}
}

// TestConeCutIsOnTheCone: the curve in which a flat cuts the cone of a head is
// on both all along.
func TestConeCutIsOnTheCone(t *testing.T) {
	for _, angle := range []int{60, 90} {
		h := CountersunkBolt{Thread: thread.MustParse("M20"), Angle: angle}.headByRule()
		n, e := solid.V(0, 0, -1), solid.V(0, 1, 0)
		for _, u := range [][2]float64{{-10, 10}, {3, 17}, {-1, 8}} {
			c := h.cut(n, e, 6, u[0], u[1])
			assert.InDelta(t, u[0], c.At(0).Dot(e), 1e-9)
			assert.InDelta(t, u[1], c.At(1).Dot(e), 1e-9)
			for s := 0.0; s <= 1; s += 1.0 / 16 {
				p := c.At(s)
				assert.InDelta(t, 6, p.Dot(n), 1e-9)
				// 15 at the land of 2 mm at 60 degrees, 20 at 90.
				r := 20 - (p.X - 2)
				if angle == 60 {
					r = 15 - (p.X-2)/math.Sqrt(3)
				}
				assert.InDelta(t, r, math.Hypot(p.Y, p.Z), 1e-9, "%d degrees, %v at %g", angle, u, s)
			}
		}
	}
}
