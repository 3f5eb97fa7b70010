package fastener_test

import (
	"fmt"
	"testing"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/thread"

	"github.com/stretchr/testify/assert"
)

func ExampleTapBolt() {
	bolt := fastener.TapBolt{Thread: thread.MustParse("M16"), Length: 50, Square: true}
	qs, err := bolt.Quantities()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(bolt.Designation())
	for _, q := range qs {
		if q.Letter == "W" || q.Letter == "T" || q.Letter == "b" {
			fmt.Println(q.Name, "=", q.RuleText(), "=", drawing.FormatValue(q.Value, false))
		}
	}
	// Output:
	// Square-head tap bolt M16 × 50
	// thread length = L - a1 = 44
	// width across flats = 1.5D + 3 = 27
	// head thickness = 0.8D = 12.8
}

// TestTapBolts works the rules of testdata/tables/proportions.csv by hand, and
// compares the heads with those of the standards that have them.
func TestTapBolts(t *testing.T) {
	m20 := thread.MustParse("M20")
	hex := fastener.TapBolt{Thread: m20, Length: 60}
	assert.InDelta(t, 40, quantity(t, hex, "width across corners").Value, 1e-9) // 2 x 20
	assert.InDelta(t, 16, quantity(t, hex, "head thickness").Value, 1e-9)       // 0.8 x 20
	// 3 pitches of 2.5 left, ISO 3508
	assert.InDelta(t, 60-7.5, quantity(t, hex, "thread length").Value, 1e-9)
	assert.Equal(t, "Hexagon-head tap bolt M20 × 60", hex.Designation())                //
	assert.InDelta(t, 2*20+6, thread.ThreadLength(20, 60), 1e-9, "not the length of b") // ISO 888
	// ISO 4017 has the same heads
	for _, r := range table(t, "iso4014-hexagon-bolts.csv") {
		d := num(t, r["d"])
		b := fastener.TapBolt{Thread: coarse(t, d), Length: 4 * d, Basis: fastener.Standard}
		assert.Equal(t, num(t, r["s_nom_max"]), quantity(t, b, "width across flats").Value, "M%g s", d)
		assert.Equal(t, num(t, r["k_nom"]), quantity(t, b, "head thickness").Value, "M%g k", d)
	}
	for _, r := range table(t, "square-head-bolts.csv") { // IS 2585, from memory, unverified
		d := num(t, r["d"])
		b := fastener.TapBolt{Thread: coarse(t, d), Length: 4 * d, Square: true, Basis: fastener.Standard}
		if d > 24 {
			assert.ErrorContains(t, b.Validate(), "sizes held: M6, M8, M10, M12, M16, M20, M24 (or")
			continue
		}
		w := quantity(t, b, "width across flats")
		assert.Equal(t, num(t, r["s_basic"]), w.Value, "M%g s", d)
		assert.Equal(t, drawing.FromMemory, w.Status)
	}
	iso := fastener.TapBolt{Thread: m20, Length: 60, Basis: fastener.Standard}
	assert.Equal(t, "Hexagon-head tap bolt ISO 4017 - M20 × 60", iso.Designation())
	joint := fastener.Bolted{Bolt: hex, Nut: fastener.HexNut{Thread: m20}, Grip: 20}
	assert.ErrorContains(t, joint.Validate(), "tapped hole and carries no nut")
	square := fastener.TapBolt{Thread: m20, Length: 60, Square: true, Governs: fastener.Corners}
	assert.ErrorContains(t, square.Validate(), "a square is set out from its side")
}
