package fastener_test

import (
	"fmt"
	"math"
	"testing"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/thread"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func ExampleCupBolt() {
	bolt := fastener.CupBolt{Thread: thread.MustParse("M16"), Length: 80, Neck: fastener.NeckSquare}
	qs, err := bolt.Quantities()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(bolt.Designation())
	for _, q := range qs {
		if q.Letter == "R" || q.Letter == "T" || q.Letter == "S" {
			fmt.Printf("%s %s %.1f\n", q.Letter, q.RuleText(), q.Value)
		}
	}
	// Output:
	// Cup-head bolt, square neck, M16 × 80
	// T R - i 11.2
	// R 0.8D 12.8
	// S D 16.0
}

func TestCupHeadsOfDIN603(t *testing.T) {
	for _, r := range table(t, "din603-cup-square-neck-bolts.csv") {
		d := num(t, r["d"])
		b := fastener.CupBolt{Thread: coarse(t, d), Length: 8 * d, Basis: fastener.Standard}
		for name, column := range map[string]string{
			"head diameter": "dk_max", "head height": "k_max", "radius of the cup": "r1_head_approx",
			"side of square neck": "v_max", "length of square neck": "f_max",
		} {
			q := quantity(t, b, name)
			assert.Equal(t, num(t, r[column]), q.Value, "M%g %s", d, name)
			assert.Contains(t, q.Source, "DIN 603")
			assert.Equal(t, rowStatus(t, r), q.Status, "M%g %s", d, name)
		}
		assert.Equal(t, num(t, r["b_le125"]), quantity(t,
			fastener.CupBolt{Thread: coarse(t, d), Length: 100, Basis: fastener.Standard}, "thread length").Value,
			"M%g b", d)
	}
}

// TestCupByProportion works the rules for M20 by hand: R = 0.8 x 20, its centre
// 0.1 x 20 below the face, so 14 high and 2 sqrt(16^2 - 2^2) = 31.749 wide; snug
// 4 out, 10 long, 4 wide.
func TestCupByProportion(t *testing.T) {
	b := fastener.CupBolt{Thread: thread.MustParse("M20"), Length: 90}
	for name, want := range map[string]float64{
		"radius of the cup": 16, "inset of the centre below the bearing face": 2, "head height": 14,
		"head diameter":   31.749,
		"snug projection": 4, "snug length": 10, "snug width": 4,
	} {
		assert.InDelta(t, want, quantity(t, b, name).Value, 0.001, name)
	}
	v, err := b.View(drawing.Front, fastener.Options{})
	require.NoError(t, err)
	found := false
	for _, it := range v.Items {
		if a, ok := it.Shape.(drawing.Arc); ok && math.Abs(a.Radius-16) < 1e-9 {
			found = true
			assert.InDelta(t, 2, a.Center.X, 1e-9, "the centre below the bearing face")
			// The arc meets the bearing face where the head ends.
			for _, deg := range []float64{a.Start, a.End} {
				p := a.Center.Add(drawing.Polar(a.Radius, deg))
				assert.InDelta(t, 0, p.X, 1e-6)
				assert.InDelta(t, 31.749/2, math.Abs(p.Y), 0.001)
			}
		}
	}
	assert.True(t, found, "the cup is one arc")
}

func TestCupBoltRefuses(t *testing.T) {
	m20 := thread.MustParse("M20")
	for want, b := range map[string]fastener.CupBolt{
		"neck snug: the bolt of DIN 603 has a square neck": {Thread: m20, Length: 90, Basis: fastener.Standard,
			Neck: fastener.NeckSnug},
		"neck pin: not a neck of this kind": {Thread: m20, Length: 90, Neck: fastener.NeckPin},
		"not held here of DIN 603": {Thread: thread.MustParse("M24"), Length: 90,
			Basis: fastener.Standard},
	} {
		assert.ErrorContains(t, b.Validate(), want)
	}
}
