package fastener_test

import (
	"fmt"
	"math"
	"testing"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/internal/clash"
	"boltplate/thread"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func ExampleCapScrew() {
	screw := fastener.CapScrew{Thread: thread.MustParse("M12"), Length: 60, Basis: fastener.Standard}
	qs, err := screw.Quantities()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(screw.Designation())
	for _, q := range qs[3:8] {
		fmt.Printf("%-2s %s: %s\n", q.Letter, q.Name, drawing.FormatValue(q.Value, false))
	}
	// Output:
	// Socket-head cap screw ISO 4762 - M12 × 60
	// b  thread length: 36
	// d2 head diameter: 18
	// T  head height: 12
	// s  width across flats of the socket: 10
	// t  socket depth: 6
}

func TestCapScrewsOfISO4762(t *testing.T) {
	for _, r := range table(t, "iso4762-socket-head-cap-screws.csv") {
		d := num(t, r["d"])
		c := fastener.CapScrew{Thread: coarse(t, d), Length: 10 * d, Basis: fastener.Standard}
		assert.Equal(t, num(t, r["dk_plain_max"]), quantity(t, c, "head diameter").Value, "M%g dk", d)
		assert.Equal(t, num(t, r["k_max"]), quantity(t, c, "head height").Value, "M%g k", d)
		assert.Equal(t, num(t, r["s_nom"]), quantity(t, c, "width across flats of the socket").Value, "M%g s", d)
		assert.Equal(t, num(t, r["t_min"]), quantity(t, c, "socket depth").Value, "M%g t", d)
		assert.Equal(t, num(t, r["b_ref_2d_plus_12"]), quantity(t, c, "thread length").Value, "M%g b", d)
		c.Basis = fastener.Proportion // keys come in the sizes of the table
		assert.Equal(t, num(t, r["s_nom"]), quantity(t, c, "width across flats of the socket").Value, "M%g s", d)
	}
	c := fastener.CapScrew{Thread: thread.MustParse("M18"), Length: 60, Basis: fastener.Standard}
	assert.ErrorContains(t, c.Validate(), "not held here of ISO 4762:2004; sizes held: M3")
	c.Thread = thread.MustParse("M20x1.5")
	assert.ErrorContains(t, c.Validate(), "coarse threads only")
}

func TestCapScrewsByProportion(t *testing.T) { // testdata/tables/proportions.csv
	c := fastener.CapScrew{Thread: thread.MustParse("M18"), Length: 90}
	for name, want := range map[string]float64{
		"head diameter":                    27,   // 1.5 x 18
		"head height":                      18,   // D
		"width across flats of the socket": 13.5, // 0.75 x 18: the table has no M18
		"socket depth":                     9,    // 0.5 x 18
		"thread length":                    48,   // 2 x 18 + 12
		"angle of the cone at the bottom of the socket": 120,
	} {
		assert.InDelta(t, want, quantity(t, c, name).Value, 1e-9, name)
	}
	assert.Equal(t, drawing.CommonPractice, quantity(t, c, "width across flats of the socket").Status)
	// 48 + 6.3 of run-out does not go into 50: threaded to the head, 3P of 2.5 left.
	c.Length = 50
	assert.InDelta(t, 42.5, quantity(t, c, "thread length").Value, 1e-9)
	c.Basis, c.Thread = fastener.Standard, thread.MustParse("M20")
	assert.InDelta(t, 42.5, quantity(t, c, "thread length").Value, 1e-9, "on basis standard as well")
	joint := fastener.Bolted{Bolt: c, Nut: fastener.HexNut{Thread: c.Thread}, Grip: 20}
	assert.ErrorContains(t, joint.Validate(), "carries no nut")
}

// TestShortCapScrews: up to the length of ISO 4762 the thread ends 3P under the
// head, and beyond it is 2D + 12 long; from memory, unverified, but M6 × 30 to M16
// × 60, which a review of drawings named.
func TestShortCapScrews(t *testing.T) {
	for _, r := range table(t, "iso4762-threaded-to-head.csv") {
		th, l := coarse(t, num(t, r["d"])), num(t, r["l_to_head"])
		short := fastener.CapScrew{Thread: th, Length: l, Basis: fastener.Standard}
		q := quantity(t, short, "thread length")
		assert.InDelta(t, l-th.HeadDistance(), q.Value, 1e-9, "%s", th)
		assert.Contains(t, q.Source, "from memory")
		next, _ := thread.NextLength(l + 1)
		longer := fastener.CapScrew{Thread: th, Length: next, Basis: fastener.Standard}
		assert.InDelta(t, 2*th.D+12, quantity(t, longer, "thread length").Value, 1e-9, "%s × %g", th, next)
		// By proportion 2D + 12 holds as soon as it fits.
		short.Basis = fastener.Proportion
		if short.Validate() == nil && 2*th.D+12+th.RunOut() < l {
			assert.InDelta(t, 2*th.D+12, quantity(t, short, "thread length").Value, 1e-9, "%s", th)
		}
	}
}

// TestCapScrewInSection: the front view shows the socket in wide lines, the cut
// metal hatched at 45 degrees about it, and the rest as from outside; no other
// view changes. M20: s = 17, across corners 17 / cos 30 = 19.630, t = 10, and
// the cone 8.5 / tan 60 = 4.907 deep.
func TestCapScrewInSection(t *testing.T) {
	c := fastener.CapScrew{Thread: thread.MustParse("M20"), Length: 90}
	plain, cut := fastener.Options{}, fastener.Options{Section: true}
	v, err := c.View(drawing.Front, cut)
	require.NoError(t, err)
	e := 17 / math.Cos(math.Pi/6) / 2
	for _, y := range []float64{e, e / 2, -e / 2, -e} {
		assert.True(t, has(v, drawing.RoleOutline, -20, y, -10, y), "corner of the socket at %g", y)
	}
	assert.True(t, has(v, drawing.RoleOutline, -10, -e, -10, e), "bottom")
	tip := -10 + 8.5/math.Tan(math.Pi/3)
	assert.True(t, has(v, drawing.RoleOutline, -10, 8.5, tip, 0))
	assert.True(t, has(v, drawing.RoleOutline, -20, -15, -20, 15), "end face and rim of the socket")
	assert.True(t, has(v, drawing.RoleOutline, -20, 15, 0, 15))
	hatches, breaks := 0, 0
	for _, it := range v.Items {
		switch s := it.Shape.(type) {
		case drawing.Hatch:
			hatches++
			assert.Equal(t, drawing.RoleHatching, it.Role)
			assert.Equal(t, 45.0, s.Angle)
			for _, p := range s.Loops[0] {
				assert.True(t, p.X >= -20 && p.X <= tip/2 && math.Abs(p.Y) <= 15, "%v", p)
			}
		case drawing.Polyline:
			breaks++
			assert.Equal(t, drawing.RoleThin, it.Role)
		}
	}
	assert.Equal(t, []int{1, 1}, []int{hatches, breaks})
	for _, msg := range append(clash.Doubles(v), clash.Gaps(v)...) {
		t.Error(msg)
	}
	for _, dir := range append(all[1:], drawing.Isometric) {
		a, err := c.View(dir, plain)
		require.NoError(t, err)
		b, err := c.View(dir, cut)
		require.NoError(t, err)
		assert.Equal(t, a, b, dir.String())
	}
}
