package fastener_test

import (
	"math"
	"testing"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/thread"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestProportions works the rules of testdata/tables/proportions.csv by hand.
func TestProportions(t *testing.T) {
	m20, m12 := thread.MustParse("M20"), thread.MustParse("M12")
	hex := fastener.HexBolt{Thread: m20, Length: 90}
	hexFlats := fastener.HexBolt{Thread: m20, Length: 90, Governs: fastener.Flats}
	square := fastener.SquareBolt{Thread: m12, Length: 60, SquareNeck: true}
	for _, c := range []struct {
		f    fastener.Fastener
		name string
		want float64
		rule string
	}{
		{hex, "width across corners", 40, "2D"},                 // 2 x 20
		{hex, "width across flats", 34.641, "A cos 30°"},        // 40 x 0.866025
		{hexFlats, "width across flats", 33, "1.5D + 3"},        // 1.5 x 20 + 3
		{hexFlats, "width across corners", 38.105, "W/cos 30°"}, // 33 / 0.866025
		{hex, "head thickness", 16, "0.8D"},                     // 0.8 x 20
		{hex, "thread length", 46, "2D + 6"},                    // ISO 888, to 125
		{fastener.HexBolt{Thread: m20, Length: 150}, "thread length", 52, "2D + 12"},
		{fastener.HexBolt{Thread: m20, Length: 220}, "thread length", 65, "2D + 25"},
		{hex, "chamfer circle diameter", 34.641, "W"},
		{hex, "chamfer angle", 30, "30°"},
		{hex, "chamfer arc radius, middle face of the three-face view", 33.093, "0.9553W"}, // 0.9553 x 34.641
		{hex, "root diameter", 16.933, "D - 1.22687P"},                                     // ISO 724, M20: d3
		// 2.5 x 2.5 = 6.25, in the rounding of ISO 3508
		{hex, "thread run-out", 6.3, "2.5P ≈ 6.3"},
		{square, "width across flats", 21, "1.5D + 3"},
		{square, "width across corners", 29.698, "W/cos 45°"}, // 21 x 1.41421
		{square, "head thickness", 9.6, "0.8D"},
		{square, "side of square neck", 12, "D"},
		{square, "length of square neck", 9.6, "0.8D"},
		{fastener.HexNut{Thread: m20}, "nut thickness", 20, "D"},
		{fastener.HexNut{Thread: m12, Thin: true}, "nut thickness", 8, "2/3 D"},
		{fastener.SquareNut{Thread: m12}, "nut thickness", 12, "D"},
		{fastener.SquareNut{Thread: m12}, "width across flats", 21, "1.5D + 3"},
		{fastener.SquareNut{Thread: m12, Thin: true}, "nut thickness", 6, "0.5D"},
		{fastener.Washer{Thread: m20}, "outside diameter", 43, "2D + 3"},
		{fastener.Washer{Thread: m20}, "hole diameter", 21, "D + 1"},
		{fastener.Washer{Thread: m20}, "thickness", 2.5, "D/8"},
		{fastener.LockNut{Thread: m12}, "thickness of the full nut", 12, "D"},
		{fastener.LockNut{Thread: m12}, "thickness of the thin nut", 8, "2/3 D"},
		{fastener.LockNut{Thread: m12}, "thickness of the pair", 20, "H1 + H2"},
		{fastener.CastleNut{Thread: m20}, "height of the nut", 25, "1.25D"}, // 1.25 x 20
		{fastener.CastleNut{Thread: m20}, "height of the hexagon", 16, "0.8D"},
		{fastener.CastleNut{Thread: m20}, "crown diameter", 28, "1.4D"},
		{fastener.CastleNut{Thread: m20}, "split pin diameter", 5, "0.25D"},
		// 0.25 x 12 = 3; ISO 1234 has 2.5 and 3.2
		{fastener.CastleNut{Thread: m12}, "split pin diameter", 3.2, "0.25D ≈ 3.2"},
		{fastener.CastleNut{Thread: m20}, "width of the slots", 6, "0.3D"},
		{fastener.CastleNut{Thread: m20}, "depth of the slots", 9, "H - H1"}, // 25 - 16
		{fastener.CastleNut{Thread: m20}, "number of slots", 6, "6"},
		{fastener.CastleNut{Thread: thread.MustParse("M42")}, "number of slots", 8, "8"},
		{fastener.WingNut{Thread: m20}, "height of the body", 20, "D"},
		{fastener.WingNut{Thread: m20}, "body diameter at the bearing face", 32, "1.6D"}, // 1.6 x 20
		{fastener.WingNut{Thread: m20}, "body diameter at the other end", 26, "1.3D"},
		{fastener.WingNut{Thread: m20}, "height of the wings", 40, "2D"},
		{fastener.WingNut{Thread: m20}, "span of the wings", 80, "4D"},
		{fastener.WingNut{Thread: m20}, "thickness of the wings", 7, "0.35D"},
		{fastener.WingNut{Thread: m20}, "radius of the ends of the wings", 10, "0.5D"},
		{fastener.CapNut{Thread: m20}, "height of the nut", 34, "1.7D"}, // 1.7 x 20
		{fastener.CapNut{Thread: m20}, "height of the hexagon", 16, "0.8D"},
		{fastener.CapNut{Thread: m20}, "radius of the dome", 14, "0.7D"},
		{fastener.CapNut{Thread: m20}, "depth of the thread", 26, "1.3D"},
		{fastener.CapNut{Thread: m20}, "width across corners", 40, "2D"},
		{fastener.SpringWasher{Thread: m20}, "outside diameter", 34, "1.7D"}, // 1.7 x 20
		{fastener.SpringWasher{Thread: m20}, "hole diameter", 21, "1.05D"},
		{fastener.SpringWasher{Thread: m20}, "thickness", 4, "0.2D"},
		{fastener.SpringWasher{Thread: m20}, "gap of the cut", 1.4, "0.07D"},
	} {
		q := quantity(t, c.f, c.name)
		assert.InDelta(t, c.want, q.Value, 0.001, "%s: %s", c.f.Designation(), c.name)
		assert.Equal(t, c.rule, q.RuleText(), c.name)
		assert.NotEmpty(t, q.Source, c.name)
	}
}

func TestQuantitiesSayWhatGoverns(t *testing.T) {
	hex := fastener.HexBolt{Thread: thread.MustParse("M20"), Length: 90}
	assert.Contains(t, quantity(t, hex, "width across corners").Source, "governs")
	assert.Equal(t, drawing.Derived, quantity(t, hex, "width across flats").Status)
	hex.Basis = fastener.Standard // standards give the width across flats
	assert.Contains(t, quantity(t, hex, "width across flats").Source, "ISO 4014:2011, s nominal; governs")
	assert.Equal(t, drawing.Derived, quantity(t, hex, "width across corners").Status)
}

// TestEveryQuantityIsComplete: letters are unique in a part, and nothing is
// without a name, a source and a finite value.
func TestEveryQuantityIsComplete(t *testing.T) {
	for _, d := range []float64{5, 12, 20, 42} {
		for _, basis := range []fastener.Basis{fastener.Proportion, fastener.Standard} {
			for _, f := range specimens(t, d, 5*d, basis) {
				qs, err := f.Quantities()
				require.NoError(t, err)
				seen := map[string]bool{}
				for _, q := range qs {
					assert.False(t, seen[q.Letter], "%s: %s twice", f.Designation(), q.Letter)
					seen[q.Letter] = true
					assert.NotEmpty(t, q.Name)
					assert.NotEmpty(t, q.Source, "%s: %s", f.Designation(), q.Name)
					assert.False(t, math.IsNaN(q.Value) || q.Value <= 0, "%s: %s = %g", f.Designation(), q.Name, q.Value)
				}
			}
		}
	}
}

func TestDesignations(t *testing.T) {
	m20 := thread.MustParse("M20")
	fine := thread.MustParse("M12x1.25-LH")
	for want, f := range map[string]fastener.Fastener{
		"Hexagon-head bolt M20 × 90": fastener.HexBolt{Thread: m20, Length: 90},
		"Hexagon-head bolt ISO 4014 - M20 × 90": fastener.HexBolt{Thread: m20, Length: 90,
			Basis: fastener.Standard},
		"Hexagon-head screw M12 × 1.25-LH × 40":   fastener.HexBolt{Thread: fine, Length: 40, ToHead: true},
		"Square-head bolt, square neck, M20 × 90": fastener.SquareBolt{Thread: m20, Length: 90, SquareNeck: true},
		"Hexagon thin nut ISO 4035 - M20": fastener.HexNut{Thread: m20, Thin: true,
			Basis: fastener.Standard},
		"Square nut M20":             fastener.SquareNut{Thread: m20},
		"Plain washer ISO 7089 - 20": fastener.Washer{Thread: m20, Basis: fastener.Standard},
		"Plain washer for M20":       fastener.Washer{Thread: m20},
		"Hexagon-head bolt M20 × 90 with hexagon nut and plain washer, grip 55": fastener.Bolted{
			Bolt: fastener.HexBolt{Thread: m20, Length: 90}, Nut: fastener.HexNut{Thread: m20},
			Washer: fastener.Washer{Thread: m20}, Grip: 55},
	} {
		assert.Equal(t, want, f.Designation())
	}
}
