package fastener_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/thread"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func ExampleCountersunkBolt() {
	bolt := fastener.CountersunkBolt{Thread: thread.MustParse("M20"), Length: 90, Basis: fastener.Standard}
	qs, err := bolt.Quantities()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(bolt.Designation())
	for _, q := range qs[4:10] {
		fmt.Printf("%-2s %-16s %s %s\n", q.Letter, q.Name, drawing.FormatValue(q.Value, false), q.Unit)
	}
	// Output:
	// Countersunk-head bolt, snug, DIN 604 - M20 × 90
	// d2 head diameter    32.8 mm
	// a  angle of head    60 deg
	// k  head height      11.5 mm
	// c  land at the face 0.41 mm
	// h  snug projection  5.7 mm
	// g  snug width       5.4 mm
}

func TestCountersunkBoltsOfDIN604(t *testing.T) {
	n := 0
	for _, r := range table(t, "countersunk-heads.csv") {
		if !strings.HasPrefix(r["standard"], "DIN 604 ") {
			continue
		}
		n++
		d := num(t, r["d"])
		b := fastener.CountersunkBolt{Thread: coarse(t, d), Length: 8 * d, Basis: fastener.Standard}
		at := func(name, column string) {
			q := quantity(t, b, name)
			assert.Equal(t, num(t, r[column]), q.Value, "M%g %s", d, name)
			assert.Equal(t, drawing.Published, q.Status, "M%g %s", d, name)
		}
		at("head diameter", "dk_max")
		at("head height", "k_max")
		at("snug projection", "socket_slot_or_nib_depth")
		at("snug width", "slot_n_or_nib_g")
		angle := 90.0
		if strings.Contains(r["standard"], "60 deg") {
			angle = 60
		}
		assert.Equal(t, angle, quantity(t, b, "angle of head").Value, "M%g", d)
		// The table does not give the land, but leaves one of 0.18 to 0.73 mm.
		assert.InDelta(t, 0.45, quantity(t, b, "land at the face").Value, 0.28, "M%g", d)
		b.Angle = int(angle)
		require.NoError(t, b.Validate())
		b.Angle = 150 - b.Angle
		assert.ErrorContains(t, b.Validate(), "leave it out, or use basis proportion", "M%g", d)
	}
	assert.Equal(t, 7, n)
}

func TestCountersunkBoltByProportion(t *testing.T) {
	m20 := thread.MustParse("M20")
	at90 := fastener.CountersunkBolt{Thread: m20, Length: 90, Neck: fastener.NeckSnug}
	at60 := fastener.CountersunkBolt{Thread: m20, Length: 90, Neck: fastener.NeckSnug, Angle: 60}
	square := fastener.CountersunkBolt{Thread: m20, Length: 90, Neck: fastener.NeckSquare}
	for _, c := range []struct {
		f    fastener.Fastener
		name string
		want float64
		rule string
	}{
		{at90, "angle of head", 90, "90°"},
		{at90, "head diameter", 40, "2D"},
		{at90, "land at the face", 2, "0.1D"},
		{at90, "head height", 12, "c + (d2 - D)/2"},              // 2 + (40 - 20)/2
		{at90, "snug projection", 9, "0.45D"},                    // 10 - 1
		{at90, "snug width", 5, "0.25D"},                         // 0.25 x 20
		{at60, "head diameter", 30, "1.5D"},                      // 1.5 x 20
		{at60, "head height", 10.66, "c + (d2 - D)/(2 tan 30°)"}, // 2 + 5 / tan 30 = 2 + 8.660
		{at60, "snug projection", 4, "0.2D"},                     // 5 - 1
		{square, "side of square neck", 20, "D"},
		{square, "length of square neck", 16, "0.8D"},
		// 42 - 12 - 16 - 7.5
		{fastener.CountersunkBolt{Thread: m20, Length: 42, Neck: fastener.NeckSquare}, "thread length", 6.5,
			"L - k - N - a1"},
	} {
		q := quantity(t, c.f, c.name)
		assert.InDelta(t, c.want, q.Value, 0.001, "%s: %s", c.f.Designation(), c.name)
		assert.Equal(t, c.rule, q.RuleText(), c.name)
	}
	assert.Equal(t, "Countersunk-head bolt 90°, snug, M20 × 90", at90.Designation())
	assert.Equal(t, "Countersunk-head bolt 90° M20 × 90",
		fastener.CountersunkBolt{Thread: m20, Length: 90}.Designation())
}

// TestCountersunkOutline: the flush face is at x = 0, the cone ends where it is
// as wide as the shank, and the corners of a square neck come out of it where
// it is as wide as the square across corners.
func TestCountersunkOutline(t *testing.T) {
	m20 := thread.MustParse("M20")
	plain, err := fastener.CountersunkBolt{Thread: m20, Length: 90}.View(drawing.Front, fastener.Options{})
	require.NoError(t, err)
	box := extent(plain)
	assert.InDelta(t, 0, box.Min.X, 1e-9)
	assert.InDelta(t, 90, box.Max.X, 1e-9)
	for _, s := range []float64{1, -1} {
		assert.True(t, has(plain, drawing.RoleOutline, 0, 20*s, 2, 20*s), "the land")
		assert.True(t, has(plain, drawing.RoleOutline, 2, 20*s, 12, 10*s), "the cone")
	}
	square, err := fastener.CountersunkBolt{Thread: m20, Length: 90,
		Neck: fastener.NeckSquare}.View(drawing.Front, fastener.Options{})
	require.NoError(t, err)
	from := 22 - 10*math.Sqrt2 // the cone is at radius 22 - x
	assert.True(t, has(square, drawing.RoleOutline, from, 10, 90-m20.Depth(), 10),
		"the corner to the front, and the shank beside it")
	assert.True(t, has(square, drawing.RoleThin, from, 10, 28, -10), "the diagonal")
	// A snug hides the cone's outline above it: its top is at 10 + 9.
	snug, err := fastener.CountersunkBolt{Thread: m20, Length: 90, Neck: fastener.NeckSnug}.View(drawing.Front,
		fastener.Options{})
	require.NoError(t, err)
	assert.True(t, has(snug, drawing.RoleOutline, 2, 20, 3, 19), "the cone down to the snug")
	assert.True(t, has(snug, drawing.RoleOutline, 12, -10, 12, 19), "the end of the snug")
}

// TestLandTooThinForPaper: the edge of a land that would run into the face is
// left out, and its size is still given.
func TestLandTooThinForPaper(t *testing.T) {
	// 0.18 mm
	m24 := fastener.CountersunkBolt{Thread: thread.MustParse("M24"), Length: 100, Basis: fastener.Standard}
	v, err := m24.View(drawing.SideView, fastener.Options{})
	require.NoError(t, err)
	upright := 0
	for _, it := range v.Items {
		if l, ok := it.Shape.(drawing.Line); ok && l.From.X == l.To.X && l.From.X < 1 {
			upright++
		}
	}
	assert.Equal(t, 1, upright, "the face only")
}

func TestCountersunkBoltErrors(t *testing.T) {
	m20 := thread.MustParse("M20")
	for _, c := range []struct {
		f     fastener.Fastener
		field string
		says  string
	}{
		{fastener.CountersunkBolt{Thread: m20}, "length", "missing; give the length from the flush face"},
		{fastener.CountersunkBolt{Thread: m20, Length: 90, Angle: 82}, "angle", "use 90 or 60"},
		{fastener.CountersunkBolt{Thread: m20, Length: 90, Neck: fastener.NeckPin}, "neck",
			"it has plain, snug, square"},
		{fastener.CountersunkBolt{Thread: m20, Length: 90, Angle: 90, Basis: fastener.Standard}, "angle",
			"DIN 604 has 60 for M20"},
		{fastener.CountersunkBolt{Thread: m20, Length: 90, Neck: fastener.NeckSquare, Basis: fastener.Standard},
			"neck", "DIN 604 has a snug"},
		{fastener.CountersunkBolt{Thread: thread.MustParse("M30"), Length: 150, Basis: fastener.Standard}, "size",
			"sizes held: M6, M8, M10, M12, M16, M20, M24"},
		{fastener.CountersunkBolt{Thread: thread.MustParse("M12x1.25"), Length: 90, Basis: fastener.Standard},
			"size", "DIN 604 is held here for coarse threads only"},
		// ISO 888: 2 x 20 + 6 = 46 of thread, 6.25 of run-out and the head of 11.5 make 63.75.
		{fastener.CountersunkBolt{Thread: m20, Length: 60, Basis: fastener.Standard}, "length",
			"leave no plain shank; use at least 65 mm"},
		// A head of 12 mm and a square of 16 mm leave no room on 32 mm.
		{fastener.CountersunkBolt{Thread: m20, Length: 32, Neck: fastener.NeckSquare}, "length", "more than 33 mm"},
		{fastener.Bolted{Bolt: fastener.CountersunkBolt{Thread: m20, Length: 90, ThreadLength: 62,
			Neck: fastener.NeckSquare}, Nut: fastener.HexNut{Thread: m20}, Washer: fastener.Washer{Thread: m20},
			Grip: 27.9}, "grip", "less than the head and its square neck are long; at least 28 mm"},
	} {
		err := c.f.Validate()
		var fe *fastener.FieldError
		require.ErrorAs(t, err, &fe, "%+v", c.f)
		assert.Equal(t, c.field, fe.Field, err.Error())
		assert.Contains(t, err.Error(), c.says)
	}
	_, err := fastener.New(fastener.Spec{Kind: "countersunk-bolt", Thread: m20, Length: 90, Angle: "45"})
	assert.ErrorContains(t, err, "no such angle; use 90 or 60")
}

// TestWasherBehindAHead: a washer that a wide head hides is measured from the
// point, not from the head.
func TestWasherBehindAHead(t *testing.T) {
	m16 := thread.MustParse("M16")
	f := fastener.Bolted{ // ISO 7089: 30 across, behind a head of 32.8
		Bolt:   fastener.CountersunkBolt{Thread: m16, Length: 90, Basis: fastener.Standard},
		Nut:    fastener.HexNut{Thread: m16, Basis: fastener.Standard},
		Washer: fastener.Washer{Thread: m16, Basis: fastener.Standard}, Grip: 60,
	}
	for dir, want := range map[drawing.Direction]bool{drawing.HeadEnd: false, drawing.PointEnd: true} {
		v, err := f.View(dir, fastener.Options{})
		require.NoError(t, err)
		given := false
		for _, it := range v.Items {
			l, ok := labelOf(it.Shape)
			given = given || ok && l.Quantity.Letter == "d2w"
		}
		assert.Equal(t, want, given, dir.String())
	}
}
