package fastener_test

import (
	"fmt"
	"math"
	"testing"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/internal/plane"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// depth is the exact chamfer curve on a flat: the cone z = -tan30 (r - W/2)
// meets a flat at distance W/2 from the axis in the hyperbola
// z(u) = -tan30 (sqrt((W/2)^2 + u^2) - W/2), u along the flat; here as depth
// below the end face.
func depth(w, u float64) float64 {
	return math.Tan(math.Pi/6) * (math.Hypot(w/2, u) - w/2)
}

// faces are the flats that an elevation shows: centre height and foreshortening
// for W = 1, from the geometry of the prism.
type face struct{ mid, cos float64 }

func faces(n int, dir drawing.Direction) []face {
	switch {
	case n == 6 && dir == drawing.Front: // 0 and 60 degrees from the picture plane
		a := 1 / math.Cos(math.Pi/6)
		return []face{{0, 1}, {3 * a / 8, 0.5}, {-3 * a / 8, 0.5}}
	case n == 6: // 30 degrees
		return []face{{0.25, math.Cos(math.Pi / 6)}, {-0.25, math.Cos(math.Pi / 6)}}
	case dir == drawing.Front: // 45 degrees
		return []face{{math.Sqrt2 / 4, math.Sqrt2 / 2}, {-math.Sqrt2 / 4, math.Sqrt2 / 2}}
	}
	return []face{{0, 1}}
}

// curvePoints returns points of the curved items at the end face of the head.
func curvePoints(v drawing.View) []drawing.Point {
	var out []drawing.Point
	const n = 100
	for _, it := range v.Items {
		switch s := it.Shape.(type) {
		case drawing.Arc:
			sweep := plane.Sweep(s.Start, s.End)
			for i := 0; i <= n; i++ {
				out = append(out, s.Center.Add(drawing.Polar(s.Radius, s.Start+sweep*float64(i)/n)))
			}
		case drawing.Conic:
			for i := 0; i <= n; i++ {
				out = append(out, drawing.Point(plane.Conic(plane.Vec(s.From), plane.Vec(s.Control), plane.Vec(s.To),
					s.Weight, float64(i)/n)))
			}
		}
	}
	return out
}

// TestChamferCurves compares the drawn curves with the exact hyperbola: the
// true curves to rounding, arcs to the error of an arc through three points,
// measured along the axis: at u = 0.2 W the middle face of a hexagon is off by
// 0.0222 - 0.0212 W, the side face by 0.0222 - 0.0204 W, and a square seen flat,
// at u = 0.35 W, by 0.0067 W.
func TestChamferCurves(t *testing.T) {
	for _, d := range []float64{5, 20, 42} {
		th := coarse(t, d)
		for _, c := range []struct {
			n    int
			f    fastener.Fastener
			errs map[drawing.Direction]float64
		}{
			{6, fastener.HexBolt{Thread: th, Length: 6 * d},
				map[drawing.Direction]float64{drawing.Front: 0.0019, drawing.SideView: 0.0012}},
			{4, fastener.SquareBolt{Thread: th, Length: 6 * d},
				map[drawing.Direction]float64{drawing.Front: 0.0020, drawing.SideView: 0.0069}},
		} {
			w := quantity(t, c.f, "width across flats").Value
			top := -quantity(t, c.f, "head thickness").Value
			for dir, limit := range c.errs {
				for _, exact := range []bool{false, true} {
					v, err := c.f.View(dir, fastener.Options{Exact: exact})
					require.NoError(t, err)
					points := curvePoints(v)
					require.NotEmpty(t, points)
					if exact {
						limit = 1e-9
					}
					worst := 0.0
					for _, p := range points {
						worst = math.Max(worst, offCurve(w, top, p, faces(c.n, dir)))
					}
					assert.LessOrEqual(t, worst, limit*w, "%s %s exact %t", c.f.Designation(), dir, exact)
					assert.Len(t, points, 101*curveCount(c.n, dir, exact), "%s %s", c.f.Designation(), dir)
				}
			}
		}
	}
}

// curveCount is how many curves the elevation shows: one a face, but three
// arcs a face of a square on its corner.
func curveCount(n int, dir drawing.Direction, exact bool) int {
	k := len(faces(n, dir))
	if n == 4 && dir == drawing.Front && !exact {
		k *= 3
	}
	return k
}

// offCurve returns how far p is, along the axis, from the curve of the face it
// belongs to.
func offCurve(w, top float64, p drawing.Point, fs []face) float64 {
	best := math.Inf(1)
	for _, f := range fs {
		u := (p.Y - f.mid*w) / f.cos
		half := w / 2 * math.Tan(math.Pi/float64(map[bool]int{true: 6, false: 4}[len(fs) > 2 ||
			f.cos > 0.8 && f.cos < 1]))
		if math.Abs(u) > half*(1+1e-9) {
			continue
		}
		best = math.Min(best, math.Abs(p.X-(top+depth(w, u))))
	}
	return best
}

// TestChamferMeets checks what an examiner looks for: the curves of
// neighbouring faces meet at the corners at one level and touch the end face,
// and at the outer corners the outline falls by 30 degrees to the end of the
// chamfer circle.
func TestChamferMeets(t *testing.T) {
	for _, f := range []fastener.Fastener{
		fastener.HexBolt{Thread: coarse(t, 20), Length: 90},
		fastener.SquareBolt{Thread: coarse(t, 20), Length: 90},
	} {
		w, a, top := quantity(t, f, "width across flats").Value, quantity(t, f, "width across corners").Value,
			-quantity(t, f, "head thickness").Value
		v, err := f.View(drawing.Front, fastener.Options{})
		require.NoError(t, err)
		touch := 0
		for _, p := range curvePoints(v) {
			assert.GreaterOrEqual(t, p.X, top-1e-9, "%s: nothing beyond the end face", f.Designation())
			if math.Abs(p.X-top) < 1e-9 {
				touch++
			}
		}
		assert.GreaterOrEqual(t, touch, 1)
		slopes := 0
		for _, it := range v.Items {
			l, ok := it.Shape.(drawing.Line)
			if ok && l.From.X < l.To.X { // to the end face
				l.From, l.To = l.To, l.From
			}
			if !ok || it.Role != drawing.RoleOutline || math.Abs(l.To.X-top) > 1e-9 || l.From.X == l.To.X {
				continue
			}
			if math.Abs(math.Abs(l.From.Y)-a/2) < 1e-9 && math.Abs(math.Abs(l.To.Y)-w/2) < 1e-9 {
				fall := math.Atan2(l.From.X-l.To.X, math.Abs(l.From.Y)-math.Abs(l.To.Y)) * 180 / math.Pi
				assert.InDelta(t, 30, fall, 1e-9, fmt.Sprint(l))
				slopes++
			}
		}
		assert.Equal(t, 2, slopes, f.Designation())
	}
}
