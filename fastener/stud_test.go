package fastener_test

import (
	"fmt"
	"strings"
	"testing"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/thread"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func ExampleStud() {
	stud := fastener.Stud{Thread: thread.MustParse("M20"), Length: 90, Material: thread.CastIron}
	qs, err := stud.Quantities()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(stud.Designation())
	for _, q := range qs[2:5] {
		fmt.Printf("%s %-30s %s %s\n", q.Letter, q.Name, drawing.FormatValue(q.Value, false), q.Unit)
	}
	// Output:
	// Stud for cast iron, M20 × 90
	// L length without the metal end   90 mm
	// n nut end thread                 46 mm
	// m metal end                      25 mm
}

// TestStudsOfDIN compares the metal ends and nut ends of DIN 938, 939, 835 and
// 940 with the second copy of the table.
func TestStudsOfDIN(t *testing.T) {
	materials := map[string]thread.Material{"DIN 938": thread.Steel, "DIN 939": thread.CastIron,
		"DIN 835": thread.Aluminium, "DIN 940": thread.SoftLightAlloy}
	for _, r := range table(t, "din835-938-939-940-studs.csv") {
		name, _, _ := strings.Cut(r["standard"], " (")
		d := num(t, r["d"])
		s := fastener.Stud{Thread: coarse(t, d), Length: 250, Material: materials[name], Basis: fastener.Standard}
		m := quantity(t, s, "metal end")
		assert.Equal(t, num(t, r["b1_metal_end"]), m.Value, "%s M%g", name, d)
		assert.Equal(t, rowStatus(t, r), m.Status, "%s M%g", name, d)
		assert.Contains(t, m.Source, name)
		assert.Equal(t, num(t, r["p"]), s.Thread.P)
		for column, length := range map[string]float64{"b2_l_le125": 125, "b2_125_200": 200, "b2_gt200": 250} {
			if s.Length = length; s.Validate() == nil {
				assert.Equal(t, num(t, r[column]), quantity(t, s, "nut end thread").Value, "%s M%g, l %g",
					name, d, length)
			}
		}
	}
}

// TestFineStuds: DIN 938 has fine pitches, each with the metal end of the coarse
// one; of the other standards none is held, and no message says that they have
// none.
func TestFineStuds(t *testing.T) {
	for _, r := range table(t, "din938-fine-pitches.csv") {
		th, err := thread.New(num(t, r["d"]), num(t, r["p"]))
		require.NoError(t, err)
		s := fastener.Stud{Thread: th, Length: 6 * th.D, Basis: fastener.Standard}
		m := quantity(t, s, "metal end")
		assert.Equal(t, quantity(t, fastener.Stud{Thread: coarse(t, th.D), Length: 6 * th.D,
			Basis: fastener.Standard}, "metal end").Value, m.Value)
		assert.Equal(t, rowStatus(t, r), m.Status, "%s", th)
		s.Material = thread.CastIron
		assert.ErrorContains(t, s.Validate(), "DIN 939 is held here for coarse threads only")
	}
	s := fastener.Stud{Thread: thread.MustParse("M20x2"), Length: 90, Basis: fastener.Standard}
	assert.EqualError(t, s.Validate(),
		"stud: size M20 × 2: as a pitch of DIN 938 it is not held here; held: M20 × 1.5; or use basis proportion")
	s.Thread = thread.MustParse("M56")
	assert.ErrorContains(t, s.Validate(), "stud: size M56: not held here of DIN 938; sizes held: M3, M4,")
}

// TestStudSizes works M20 by hand from testdata/tables/proportions.csv.
func TestStudSizes(t *testing.T) {
	m20 := thread.MustParse("M20")
	for _, c := range []struct {
		s    fastener.Stud
		name string
		want float64
		rule string
	}{
		{fastener.Stud{}, "metal end", 20, "D"},
		{fastener.Stud{Material: thread.CastIron}, "metal end", 25, "1.25D"},
		{fastener.Stud{Material: thread.Aluminium}, "metal end", 40, "2D"},
		{fastener.Stud{Material: thread.SoftLightAlloy}, "metal end", 50, "2.5D"},
		{fastener.Stud{}, "nut end thread", 46, "2D + 6"},
		{fastener.Stud{Length: 150}, "nut end thread", 52, "2D + 12"},
		{fastener.Stud{Length: 220}, "nut end thread", 65, "2D + 25"},
		{fastener.Stud{ThreadLength: 30}, "nut end thread", 30, "given"},
		{fastener.Stud{}, "run-out of the metal end", 6.3, "2.5P ≈ 6.3"}, // 6.25 in the rounding of ISO 3508
		{fastener.Stud{}, "run-out of the nut end", 3.2, "1.25P ≈ 3.2"},  // 3.125
		{fastener.Stud{Neck: fastener.NeckSquare}, "side of square", 20, "D"},
		{fastener.Stud{Neck: fastener.NeckSquare}, "length of square", 20, "D"},
		{fastener.Stud{Neck: fastener.NeckCollar}, "collar diameter", 30, "1.5D"},
		{fastener.Stud{Neck: fastener.NeckCollar}, "collar thickness", 8, "0.4D"},
	} {
		c.s.Thread = m20
		if c.s.Length == 0 {
			c.s.Length = 90
		}
		q := quantity(t, c.s, c.name)
		assert.InDelta(t, c.want, q.Value, 1e-9, "%+v: %s", c.s, c.name)
		assert.Equal(t, c.rule, q.RuleText(), "%+v: %s", c.s, c.name)
	}
}

// TestStudLines: M20 x 90 for cast iron from the face of its metal end: joint
// face at 25, nut end's thread from 25 + 90 - 46, end at 115; both points
// chamfered at 45 degrees to the root at 8.46638 (see TestThreadConvention).
func TestStudLines(t *testing.T) {
	const root, depth = 8.46638, 10 - 8.46638
	run := depth * 1.7320508 // at 30 degrees
	s := fastener.Stud{Thread: thread.MustParse("M20"), Length: 90, Material: thread.CastIron}
	for _, dir := range []drawing.Direction{drawing.Front, drawing.SideView} {
		v, err := s.View(dir, fastener.Options{})
		require.NoError(t, err)
		for _, y := range []float64{1, -1} {
			assert.True(t, hasNear(v, drawing.RoleOutline, 0, y*root, depth, y*10), "chamfer of the metal end")
			assert.True(t, hasNear(v, drawing.RoleOutline, 115, y*root, 115-depth, y*10), "chamfer of the nut end")
			assert.True(t, hasNear(v, drawing.RoleThin, 0, y*root, 25, y*root), "root in the metal end")
			assert.True(t, hasNear(v, drawing.RoleThin, 69, y*root, 115, y*root), "root in the nut end")
			assert.True(t, hasNear(v, drawing.RoleThin, 25, y*root, 25+run, y*10), "run-out of the metal end")
			assert.True(t, hasNear(v, drawing.RoleThin, 69, y*root, 69-run, y*10), "run-out of the nut end")
		}
		for _, x := range []float64{0 + depth, 25, 69, 115 - depth} {
			assert.True(t, hasNear(v, drawing.RoleOutline, x, -10, x, 10), "line across at %g", x)
		}
		assert.True(t, hasNear(v, drawing.RoleCentre, -3, 0, 118, 0))
		assert.False(t, hasNear(v, drawing.RoleOutline, 25+run, -10, 25+run, 10))
	}
	// A collar seats on the joint face; its run-out is on the metal end.
	s.Neck = fastener.NeckCollar
	v, err := s.View(drawing.Front, fastener.Options{})
	require.NoError(t, err)
	assert.True(t, hasNear(v, drawing.RoleOutline, 25, -15, 25, 15))
	assert.True(t, hasNear(v, drawing.RoleOutline, 33, -15, 33, 15))
	assert.True(t, hasNear(v, drawing.RoleOutline, 25-6.3, -10, 25-6.3, 10))
	// A square stands the run-out beyond the joint face.
	s.Neck = fastener.NeckSquare
	v, err = s.View(drawing.Front, fastener.Options{})
	require.NoError(t, err)
	for _, y := range []float64{10, -10} {
		assert.True(t, hasNear(v, drawing.RoleThin, 25+6.3, y, 45+6.3, -y), "crossed diagonals")
	}
}

func TestStudErrors(t *testing.T) {
	m20 := thread.MustParse("M20")
	for _, c := range []struct {
		s     fastener.Fastener
		field string
		says  string
	}{
		{fastener.Stud{Thread: m20}, "length", "without the metal end"},
		// 46 + 6.3 + 3.2 = 55.5; the next preferred length of ISO 888 is 60.
		{fastener.Stud{Thread: m20, Length: 55}, "length", "come to 55.5 mm; at least 60 mm"},
		// 46 + 3.2 + 8 = 57.2, and 46 + 6.3 + 3.2 + 20 = 75.5.
		{fastener.Stud{Thread: m20, Length: 57, Neck: fastener.NeckCollar}, "length",
			"the collar come to 57.2 mm; at least 60 mm"},
		{fastener.Stud{Thread: m20, Length: 60, Neck: fastener.NeckSquare}, "length",
			"the square come to 75.5 mm; at least 80 mm"},
		{fastener.Stud{Thread: m20, Length: 80, Neck: fastener.NeckSquare, ThreadLength: 60}, "thread",
			"which is 50.5 mm"},
		{fastener.Stud{Thread: m20, Length: 9, ThreadLength: 5}, "length", "more than 9.5 mm"},
		{fastener.Stud{Thread: m20, Length: 90, ThreadLength: -5}, "thread", "negative"},
		{fastener.Stud{Thread: m20, Length: 90, Neck: fastener.NeckSnug}, "neck", "plain, square, collar"},
		{fastener.Stud{Thread: m20, Length: 90, Material: 7}, "material", "use thread.Steel"},
		{fastener.Stud{Thread: m20, Length: 90, Neck: fastener.NeckCollar, Basis: fastener.Standard}, "neck",
			"the stud of DIN 938 is plain"},
		{fastener.Stud{Thread: thread.MustParse("M20x1.5"), Length: 90, Material: thread.CastIron,
			Basis: fastener.Standard}, "size", "DIN 939 is held here for coarse threads only"},
		{fastener.Stud{Thread: thread.MustParse("M30"), Length: 150, Material: thread.SoftLightAlloy,
			Basis: fastener.Standard}, "size", "not held here of DIN 940"},
		{fastener.Bolted{Bolt: fastener.Stud{Thread: m20, Length: 80, ThreadLength: 50, Neck: fastener.NeckSquare},
			Nut: fastener.HexNut{Thread: m20}, Grip: 20},
			"grip", "a grip of at least 30 mm"},
	} {
		err := c.s.Validate()
		var fe *fastener.FieldError
		require.ErrorAs(t, err, &fe, "%+v", c.s)
		assert.Equal(t, c.field, fe.Field, err.Error())
		assert.Contains(t, err.Error(), c.says)
	}
}

func TestStudDesignations(t *testing.T) {
	m20 := thread.MustParse("M20")
	for want, f := range map[string]fastener.Fastener{
		"Stud M20 × 90": fastener.Stud{Thread: m20, Length: 90},
		"Stud for aluminium alloy, M20 × 90": fastener.Stud{Thread: m20, Length: 90,
			Material: thread.Aluminium},
		"Stud, square, M20 × 90": fastener.Stud{Thread: m20, Length: 90,
			Neck: fastener.NeckSquare},
		"Stud, collar, for cast iron, M20 × 90": fastener.Stud{Thread: m20, Length: 90,
			Neck: fastener.NeckCollar, Material: thread.CastIron},
		"Stud DIN 939 - M20 × 90": fastener.Stud{Thread: m20, Length: 90,
			Material: thread.CastIron, Basis: fastener.Standard},
		"Stud M20 × 100 with hexagon nut, grip 55": fastener.Bolted{Bolt: fastener.Stud{Thread: m20, Length: 100},
			Nut: fastener.HexNut{Thread: m20}, Grip: 55},
		"Stud M20 × 1.5 × 90": fastener.Stud{Thread: thread.MustParse("M20x1.5"), Length: 90,
			Neck: fastener.NeckPlain},
	} {
		assert.Equal(t, want, f.Designation())
	}
}
