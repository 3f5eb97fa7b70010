package plane

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// regular is a regular polygon with the given radius of the circle through its
// corners.
func regular(n int, r, turn float64) Mask {
	var m Mask
	for i := range n {
		m.Poly = append(m.Poly, on(Vec{}, r, turn+360*float64(i)/float64(n)))
	}
	return m
}

func randomMask(t *rapid.T) Mask {
	r := rapid.Float64Range(1, 50).Draw(t, "mask radius")
	n := rapid.IntRange(2, 8).Draw(t, "corners, 2 a circle")
	if n == 2 {
		return Mask{Radius: r}
	}
	return regular(n, r, rapid.Float64Range(0, 360).Draw(t, "turn"))
}

// depth is how deep p lies in the mask, negative outside: the least distance
// from an edge's line.
func depth(m Mask, p Vec) float64 {
	if m.Poly == nil {
		return m.Radius - math.Hypot(p.X, p.Y)
	}
	d := math.Inf(1)
	for i, a := range m.Poly {
		b := m.Poly[(i+1)%len(m.Poly)]
		e := Vec{b.X - a.X, b.Y - a.Y}
		d = math.Min(d, (e.X*(p.Y-a.Y)-e.Y*(p.X-a.X))/math.Hypot(e.X, e.Y))
	}
	return d
}

func deepest(p Vec, masks []Mask) float64 {
	d := math.Inf(-1)
	for _, m := range masks {
		d = math.Max(d, depth(m, p))
	}
	return d
}

// agree checks that the points well outside every mask are in a visible part
// and that those well inside one are in none.
func agree(t *rapid.T, masks []Mask, at func(k float64) Vec, shown func(k float64) bool) {
	const n, clear = 500, 1e-4
	for i := range n + 1 {
		k := float64(i) / n
		switch d := deepest(at(k), masks); {
		case d < -clear:
			assert.True(t, shown(k), "%v is %g outside but hidden", at(k), -d)
		case d > clear:
			assert.False(t, shown(k), "%v is %g inside but visible", at(k), d)
		}
	}
}

func TestVisibleSegmentSampled(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.Float64Range(-60, 60)
		a, b := Vec{c.Draw(t, "ax"), c.Draw(t, "ay")}, Vec{c.Draw(t, "bx"), c.Draw(t, "by")}
		length := math.Hypot(b.X-a.X, b.Y-a.Y)
		if length < 0.1 {
			t.Skip("too short to draw")
		}
		masks := rapid.SliceOfN(rapid.Custom(randomMask), 0, 3).Draw(t, "masks")
		parts := VisibleSegment(a, b, masks)
		param := func(p Vec) float64 { return math.Hypot(p.X-a.X, p.Y-a.Y) / length }
		last := 0.0
		for _, p := range parts {
			assert.Less(t, param(p[0]), param(p[1]), "parts run from a to b")
			assert.GreaterOrEqual(t, param(p[0]), last-1e-9, "parts follow each other")
			last = param(p[1])
		}
		agree(t, masks, func(k float64) Vec { return Vec{a.X + k*(b.X-a.X), a.Y + k*(b.Y-a.Y)} }, func(k float64) bool {
			for _, p := range parts {
				if param(p[0])-1e-9 <= k && k <= param(p[1])+1e-9 {
					return true
				}
			}
			return false
		})
	})
}

func TestVisibleCircleSampled(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.Float64Range(0.5, 60).Draw(t, "r")
		masks := rapid.SliceOfN(rapid.Custom(randomMask), 0, 3).Draw(t, "masks")
		parts := VisibleCircle(r, masks)
		for _, p := range parts {
			assert.Less(t, p[0], p[1])
			assert.LessOrEqual(t, p[1]-p[0], 360.0)
		}
		agree(t, masks, func(k float64) Vec { return on(Vec{}, r, 360*k) }, func(k float64) bool {
			for _, p := range parts {
				for turn := -360.0; turn <= 360; turn += 360 {
					if p[0]-1e-7 <= 360*k+turn && 360*k+turn <= p[1]+1e-7 {
						return true
					}
				}
			}
			return false
		})
	})
}

// angles is the sum of the parts of a circle.
func angles(parts [][2]float64) (sum float64) {
	for _, p := range parts {
		sum += p[1] - p[0]
	}
	return sum
}

func lengths(parts [][2]Vec) (sum float64) {
	for _, p := range parts {
		sum += math.Hypot(p[1].X-p[0].X, p[1].Y-p[0].Y)
	}
	return sum
}

func TestVisibleTangent(t *testing.T) {
	square := regular(4, 10*math.Sqrt2, 45) // sides at 10
	hexagon := regular(6, 20/math.Sqrt(3), 30)
	whole := [][2]float64{{0, 360}}

	assert.Empty(t, VisibleCircle(10, []Mask{square}), "the circle in a square")
	assert.Empty(t, VisibleCircle(10, []Mask{hexagon}), "the chamfer circle in a hexagon")
	assert.Empty(t, VisibleCircle(10, []Mask{{Radius: 10}}), "the same circle")
	assert.Empty(t, VisibleCircle(9, []Mask{square}))
	assert.Equal(t, whole, VisibleCircle(15, []Mask{square}), "a circle around")
	assert.Equal(t, whole, VisibleCircle(10.1, []Mask{{Radius: 10}}))
	assert.Equal(t, whole, VisibleCircle(10, nil))
	assert.InDelta(t, 360, angles(VisibleCircle(10*math.Sqrt2, []Mask{square})), 1e-6, "through the corners of a square")

	// A circle of 12 about a square with sides at 10 shows where cos is above
	// 10/12: four times twice arccos 10/12.
	parts := VisibleCircle(12, []Mask{square})
	assert.Len(t, parts, 4)
	assert.InDelta(t, 8*math.Acos(10.0/12)*180/math.Pi, angles(parts), 1e-6)

	// Both figures hide. Beyond a side at 10 a circle of 10.5 shows for half an
	// angle of arccos 10/10.5 each way. Left and right the two figures share a
	// side; above and below, the hexagon's corner hides all but what lies
	// further off than 30 degrees less that angle.
	half := math.Acos(10/10.5) * 180 / math.Pi
	parts = VisibleCircle(10.5, []Mask{square, hexagon})
	assert.Len(t, parts, 6)
	assert.InDelta(t, 4*half+4*(half-(30-half)), angles(parts), 1e-6)
}

func TestVisibleSegmentTangent(t *testing.T) {
	square := regular(4, 10*math.Sqrt2, 45)
	for _, m := range []Mask{square, regular(6, 20/math.Sqrt(3), 30), regular(3, 5, 17)} {
		for i, a := range m.Poly {
			assert.Empty(t, VisibleSegment(a, m.Poly[(i+1)%len(m.Poly)], []Mask{m}), "an edge behind the same edge")
		}
	}
	// A tangent touches in one point only and is visible as a whole.
	whole := [][2]Vec{{{-10, 10}, {10, 10}}}
	assert.Equal(t, whole, VisibleSegment(Vec{-10, 10}, Vec{10, 10}, []Mask{{Radius: 10}}))
	assert.Equal(t, whole, VisibleSegment(Vec{-10, 10}, Vec{10, 10}, nil))
	assert.Empty(t, VisibleSegment(Vec{-3, 2}, Vec{3, 2}, []Mask{square}))

	// Along the x axis the circle hides from -10 to 10.
	parts := VisibleSegment(Vec{-30, 0}, Vec{30, 0}, []Mask{{Radius: 10}})
	assert.Len(t, parts, 2)
	near(t, Vec{-10, 0}, parts[0][1], 1e-9)
	near(t, Vec{10, 0}, parts[1][0], 1e-9)

	// Along the side of the square, prolonged: hidden where the side is.
	parts = VisibleSegment(Vec{-30, 10}, Vec{30, 10}, []Mask{square})
	assert.Len(t, parts, 2)
	assert.InDelta(t, 40, lengths(parts), 1e-6)

	// Several masks hide together: the larger circle decides.
	parts = VisibleSegment(Vec{-30, 0}, Vec{30, 0}, []Mask{{Radius: 4}, square, {Radius: 12}})
	assert.InDelta(t, 36, lengths(parts), 1e-6)
}
