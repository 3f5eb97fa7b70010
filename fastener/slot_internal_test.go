package fastener

import (
	"math"
	"testing"

	"boltplate/drawing"
	"boltplate/internal/solid"

	"github.com/stretchr/testify/assert"
)

// TestEdgesOfSlotsAndRecesses: every edge that a slot or recess leaves on the
// outside of a head lies on that outside and on a side, or the bottom, of the
// slot.
func TestEdgesOfSlotsAndRecesses(t *testing.T) {
	v := func(x float64) drawing.Quantity { return drawing.Quantity{Value: x} }
	s := slot{width: v(5), depth: v(6), x: -12}
	onSlot := func(p solid.Vec) bool {
		side := math.Abs(math.Abs(p.Y)-2.5) < 1e-9 && p.X < -6+1e-9
		return side || math.Abs(p.X+6) < 1e-9 && math.Abs(p.Y) < 2.5+1e-9
	}
	k := math.Sqrt2 / 2
	r := recess{span: v(20), width: v(5), depth: v(10), x: -12}
	onRecess := func(p solid.Vec) bool {
		a, b := math.Abs(p.Y+p.Z)*k, math.Abs(p.Z-p.Y)*k
		if a < b {
			a, b = b, a
		}
		return math.Abs(b-2.5) < 1e-9 && a < 10+1e-9 || math.Abs(a-10) < 1e-9 && b < 2.5+1e-9
	}
	for name, c := range map[string]struct {
		curves []solid.Curve
		count  int
		radius func(x float64) float64
		side   func(solid.Vec) bool
	}{
		"cylinder":       {s.onCylinder(15, -12, 0), 6, func(float64) float64 { return 15 }, onSlot},
		"short cylinder": {s.onCylinder(15, -12, -10), 4, func(float64) float64 { return 15 }, onSlot},
		"cone":           {s.onCone(-10, 20, 0, 10), 6, func(x float64) float64 { return 10 - x }, onSlot},
		"short cone":     {s.onCone(-10, 20, -8, 18), 4, func(x float64) float64 { return 10 - x }, onSlot},
		"ball": {s.onBall(20, 32, 0), 4,
			func(x float64) float64 { return math.Sqrt(32*32 - (20-x)*(20-x)) }, onSlot},
		"short ball": {s.onBall(20, 32, -8), 2,
			func(x float64) float64 { return math.Sqrt(32*32 - (20-x)*(20-x)) }, onSlot},
		"recess": {r.onBall(20, 32), 12,
			func(x float64) float64 { return math.Sqrt(32*32 - (20-x)*(20-x)) }, onRecess},
	} {
		assert.Len(t, c.curves, c.count, name)
		for _, e := range c.curves {
			for i := range 11 {
				p := e.At(float64(i) / 10)
				assert.InDelta(t, c.radius(p.X), math.Hypot(p.Y, p.Z), 1e-6, "%s: %v is off the head", name, p)
				assert.True(t, c.side(p), "%s: %v is off the slot", name, p)
			}
		}
	}
	assert.Empty(t, s.onCylinder(15, -5, 0), "beyond the slot")
}
