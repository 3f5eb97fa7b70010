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

func ExampleEyeBolt() {
	bolt := fastener.EyeBolt{Thread: thread.MustParse("M20"), Collar: true, Basis: fastener.Standard}
	qs, err := bolt.Quantities()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(bolt.Designation())
	for _, q := range qs[4:10] {
		fmt.Printf("%-2s %-34s %s\n", q.Letter, q.Name, drawing.FormatValue(q.Value, false))
	}
	fmt.Println(bolt.Cautions()[1])
	// Output:
	// Collar eye bolt DIN 580 - M20
	// d2 collar diameter                    40
	// e  collar thickness                   14
	// d4 inside diameter of the ring        40
	// k  section of the ring                16
	// d5 outside diameter of the ring       72
	// h  height from the seat of the collar 71
	// Seat the collar flat on the face, with the whole thread engaged.
}

func TestEyeBoltsOfDIN444(t *testing.T) {
	n := 0
	for _, r := range table(t, "din444-580-eye-bolts.csv") {
		if !strings.HasPrefix(r["standard"], "DIN 444 ") {
			continue
		}
		n++
		d := num(t, r["d"])
		e := fastener.EyeBolt{Thread: coarse(t, d), Length: 6 * d, Basis: fastener.Standard}
		for name, column := range map[string]string{
			"outside diameter of the eye": "eye_dia", "hole of the eye": "hole_d2_min",
			"thickness of the eye": "s_form_B_C", "fillet between eye and shank": "r",
		} {
			q := quantity(t, e, name)
			assert.Equal(t, num(t, r[column]), q.Value, "M%g %s", d, column)
			assert.Equal(t, drawing.Published, q.Status)
			assert.Contains(t, q.Source, "DIN 444")
		}
		// b of DIN 444, in the lengths it is for.
		for column, length := range map[string]float64{"b_le125": 125, "b_125_200": 200, "b_gt200": 300} {
			if r[column] != "" {
				e.Length = length
				assert.Equal(t, num(t, r[column]), quantity(t, e, "thread length").Value, "M%g %s", d, column)
			}
		}
	}
	assert.Equal(t, 13, n)
}

func TestCollarEyeBoltsOfDIN580(t *testing.T) {
	// The thickness of the collar is in no table: from memory, unverified.
	thick := map[float64]float64{8: 6, 10: 8, 12: 10, 16: 12, 20: 14, 24: 18, 30: 22, 36: 26, 42: 30, 48: 35}
	n := 0
	for _, r := range table(t, "din444-580-eye-bolts.csv") {
		if !strings.HasPrefix(r["standard"], "DIN 580 ") {
			continue
		}
		n++
		d := num(t, r["d"])
		e := fastener.EyeBolt{Thread: coarse(t, d), Collar: true, Basis: fastener.Standard}
		for name, column := range map[string]string{
			"collar diameter": "collar_d2", "outside diameter of the ring": "ring_outer_d3",
			"inside diameter of the ring":        "ring_inner_d4",
			"height from the seat of the collar": "height_h", "section of the ring": "ring_section_k",
			"length": "thread_l",
		} {
			q := quantity(t, e, name)
			assert.Equal(t, num(t, r[column]), q.Value, "M%g %s", d, column)
			assert.Equal(t, rowStatus(t, r), q.Status, "M%g %s", d, column)
		}
		q := quantity(t, e, "collar thickness")
		assert.Equal(t, drawing.FromMemory, q.Status)
		if want, ok := thick[d]; ok {
			assert.Equal(t, want, q.Value, "M%g e", d)
		}
		// What the drawing takes for granted: the section fills the ring, the
		// hole is clear of the collar, and the ring is wider than the collar
		// where it meets its outer face.
		outside, inside, k := num(t, r["ring_outer_d3"]), num(t, r["ring_inner_d4"]), num(t, r["ring_section_k"])
		assert.Equal(t, outside, inside+2*k, "M%g", d)
		centre := num(t, r["height_h"]) - outside/2
		assert.Greater(t, centre-inside/2, q.Value, "M%g", d)
		assert.Greater(t, math.Sqrt(outside*outside/4-(centre-q.Value)*(centre-q.Value)),
			num(t, r["collar_d2"])/2, "M%g", d)
	}
	assert.Equal(t, 18, n)
}

func TestEyeBoltProportions(t *testing.T) {
	m20 := thread.MustParse("M20")
	flat := fastener.EyeBolt{Thread: m20, Length: 90}
	square := fastener.EyeBolt{Thread: m20, Length: 90, Neck: fastener.NeckSquare}
	collar := fastener.EyeBolt{Thread: m20, Collar: true}
	for _, c := range []struct {
		f    fastener.Fastener
		name string
		want float64
		rule string
	}{
		{flat, "outside diameter of the eye", 40, "2D"},
		{flat, "hole of the eye", 20, "D"},
		{flat, "thickness of the eye", 24, "1.2D"},
		{flat, "fillet between eye and shank", 10, "0.5D"},
		// (D + 0.5D)² - (0.5D + 0.5D)² = 1.25 D²
		{flat, "centre of the eye to the end of the fillet", 22.361, "√((d2/2 + r)² - (D/2 + r)²)"},
		{flat, "thread length", 46, "2D + 6"},
		{square, "side of square neck", 20, "D"},
		{square, "length of square neck", 16, "0.8D"},
		{square, "thread length", 44.139, "L - c - N - a1"}, // 90 - 22.361 - 16 - 7.5
		{fastener.EyeBolt{Thread: m20, Length: 60}, "thread length", 30.139, "L - c - a1"},
		{collar, "length", 30, "1.5D"},
		{collar, "thread length", 22.5, "L - a1"},
		{collar, "collar diameter", 40, "2D"},
		{collar, "collar thickness", 14, "0.7D"},
		{collar, "inside diameter of the ring", 40, "2D"},
		{collar, "section of the ring", 16, "0.8D"},
		{collar, "outside diameter of the ring", 72, "d4 + 2k"},
		{collar, "height from the seat of the collar", 72, "3.6D"},
	} {
		q := quantity(t, c.f, c.name)
		assert.InDelta(t, c.want, q.Value, 0.001, c.name)
		assert.Equal(t, c.rule, q.RuleText(), c.name)
	}
}

// TestEyeBoltRulesAreNearTheStandard: the rules of the collar form are the
// ratios of DIN 580 at M20, and hold within 3 % there and 10 % from M16 up.
func TestEyeBoltRulesAreNearTheStandard(t *testing.T) {
	for d, slack := range map[float64]float64{20: 0.03, 16: 0.1, 24: 0.1, 30: 0.1, 36: 0.1, 42: 0.1, 48: 0.1} {
		rule := fastener.EyeBolt{Thread: coarse(t, d), Collar: true}
		standard := rule
		standard.Basis = fastener.Standard
		for _, name := range []string{"collar diameter", "outside diameter of the ring",
			"height from the seat of the collar", "section of the ring"} {
			assert.InEpsilon(t, quantity(t, standard, name).Value, quantity(t, rule, name).Value, slack,
				"M%g %s", d, name)
		}
	}
}

func TestEyeBoltWords(t *testing.T) {
	m20 := thread.MustParse("M20")
	for want, f := range map[string]fastener.EyeBolt{
		"Eye bolt M20 × 90":               {Thread: m20, Length: 90},
		"Eye bolt, square neck, M20 × 90": {Thread: m20, Length: 90, Neck: fastener.NeckSquare},
		"Eye bolt DIN 444 - B M20 × 90":   {Thread: m20, Length: 90, Basis: fastener.Standard},
		"Collar eye bolt M20":             {Thread: m20, Collar: true},
		"Collar eye bolt DIN 580 - M20":   {Thread: m20, Collar: true, Basis: fastener.Standard},
	} {
		assert.Equal(t, want, f.Designation())
		assert.NoError(t, f.Validate())
		for _, line := range f.Cautions() {
			assert.Less(t, len(line), 72)
		}
		assert.Contains(t, strings.Join(f.Cautions(), " "), "No load rating is given")
	}
	for _, c := range []struct {
		f           fastener.Fastener
		field, says string
	}{
		{fastener.EyeBolt{Thread: m20}, "length", "missing; give the length from the centre of the eye"},
		{fastener.EyeBolt{Thread: m20, Length: 20}, "length", "leaves no room for a thread"},
		{fastener.EyeBolt{Thread: m20, Length: 90, Neck: fastener.NeckSnug}, "neck", "it has plain, square"},
		{fastener.EyeBolt{Thread: m20, Length: 90, Neck: fastener.NeckSquare, Basis: fastener.Standard}, "neck",
			"round under the eye"},
		{fastener.EyeBolt{Thread: thread.MustParse("M42"), Length: 200, Basis: fastener.Standard}, "size",
			"not held here of DIN 444"},
		{fastener.EyeBolt{Thread: m20, Collar: true, Length: 50}, "length", "here 30 mm; leave it out"},
		{fastener.EyeBolt{Thread: m20, Collar: true, ThreadLength: 20}, "thread", "up to the collar"},
		{fastener.EyeBolt{Thread: m20, Collar: true, Neck: fastener.NeckSquare}, "neck", "form flat"},
		{fastener.EyeBolt{Thread: thread.MustParse("M5"), Collar: true, Basis: fastener.Standard}, "size",
			"not held here of DIN 580"},
		{fastener.EyeBolt{Thread: thread.MustParse("M20x1.5"), Collar: true, Basis: fastener.Standard}, "size",
			"coarse threads only"},
		{fastener.Bolted{Bolt: fastener.EyeBolt{Thread: m20, Length: 90}, Nut: fastener.HexNut{Thread: m20},
			Grip: 40}, "nut", "a bolt with a head"},
	} {
		var fe *fastener.FieldError
		require.ErrorAs(t, c.f.Validate(), &fe)
		assert.Equal(t, c.field, fe.Field)
		assert.Contains(t, fe.Error(), c.says)
	}
	// The length of its own may be said.
	assert.NoError(t, fastener.EyeBolt{Thread: m20, Collar: true, Length: 30}.Validate())
}

// TestEyeBoltHole: the hole is a circle about the origin in the front view and
// two dashed lines in the plan, where hidden edges were not asked for.
func TestEyeBoltHole(t *testing.T) {
	e := fastener.EyeBolt{Thread: thread.MustParse("M20"), Length: 90}
	front, err := e.View(drawing.Front, fastener.Options{})
	require.NoError(t, err)
	circle := false
	for _, it := range front.Items {
		assert.NotEqual(t, drawing.RoleHidden, it.Role)
		c, ok := it.Shape.(drawing.Circle)
		circle = circle || ok && it.Role == drawing.RoleOutline && c.Center == drawing.Pt(0, 0) && c.Radius == 10
	}
	assert.True(t, circle)
	assert.InDelta(t, -20, extent(front).Min.X, 1e-9) // D from the centre
	assert.InDelta(t, 90, extent(front).Max.X, 1e-9)

	plan, err := e.View(drawing.SideView, fastener.Options{})
	require.NoError(t, err)
	hidden := 0
	for _, it := range plan.Items {
		if it.Role == drawing.RoleHidden {
			hidden++
		}
	}
	assert.Equal(t, 2, hidden)
	assert.True(t, has(plan, drawing.RoleHidden, 10, -12, 10, 12))
	assert.True(t, has(plan, drawing.RoleHidden, -10, -12, -10, 12))
	// The root ends at 1.118 D, as thick as the eye.
	assert.True(t, hasNear(plan, drawing.RoleOutline, 22.3607, -12, 22.3607, 12))
}

// TestEyeBoltSquare: above and below, the square is one face with the root, so
// that no edge is seen between them.
func TestEyeBoltSquare(t *testing.T) {
	e := fastener.EyeBolt{Thread: thread.MustParse("M20"), Length: 90, Neck: fastener.NeckSquare}
	plan, err := e.View(drawing.SideView, fastener.Options{})
	require.NoError(t, err)
	for _, s := range []float64{1, -1} {
		assert.True(t, hasNear(plan, drawing.RoleOutline, 22.3607, s*10, 22.3607, s*12))
		assert.True(t, hasNear(plan, drawing.RoleThin, 22.3607, s*10, 38.3607, -s*10), "crossed diagonals")
	}
	front, err := e.View(drawing.Front, fastener.Options{})
	require.NoError(t, err)
	assert.True(t, hasNear(front, drawing.RoleOutline, 22.3607, -10, 22.3607, 10))
}

// TestEyeBoltRing works the points where ring and collar meet by hand: M20 by
// proportion, the ring 72 outside about a centre 36 above the seat, the collar
// 40 wide and 14 thick.
func TestEyeBoltRing(t *testing.T) {
	e := fastener.EyeBolt{Thread: thread.MustParse("M20"), Collar: true}
	front, err := e.View(drawing.Front, fastener.Options{})
	require.NoError(t, err)
	assert.InDelta(t, -72, extent(front).Min.X, 1e-9)
	assert.InDelta(t, 30, extent(front).Max.X, 1e-9)
	// Outline of ring and side of collar: 36 - sqrt(36² - 20²) above the seat.
	side := -36 + math.Sqrt(36*36-20*20)
	assert.True(t, hasNear(front, drawing.RoleOutline, side, 20, 0, 20))
	assert.True(t, hasNear(front, drawing.RoleOutline, side, -20, 0, -20))
	// On the edge of the outer face, 22 from the centre of the ring: rho =
	// (22² + 28² + 20² - 8²) / 56 = 28.642857, y² = rho² - 22².
	y := math.Sqrt(28.642857*28.642857 - 22*22)
	assert.True(t, hasNear(front, drawing.RoleOutline, -14, -y, -14, y))
}
