package fastener_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/internal/clash"
	"boltplate/thread"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func ExampleCheeseScrew() {
	screw := fastener.CheeseScrew{Thread: thread.MustParse("M6"), Length: 20, Basis: fastener.Standard}
	qs, err := screw.Quantities()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(screw.Designation())
	for _, q := range qs[4:8] {
		fmt.Println(q.Name, drawing.FormatValue(q.Value, false))
	}
	// Output:
	// Slotted cheese-head screw ISO 1207 - M6 × 20
	// head diameter 10
	// head height 3.9
	// slot width 1.6
	// slot depth 1.6
}

func ExamplePanScrew() {
	screw := fastener.PanScrew{Thread: thread.MustParse("M5"), Length: 16, Cross: true, Basis: fastener.Standard}
	fmt.Println(screw.Designation())
	screw.Thread = thread.MustParse("M12")
	fmt.Println(screw.Validate())
	// Output:
	// Cross-recessed pan-head screw ISO 7045 - M5 × 16
	// pan-screw: size M12: not held here of ISO 7045:2011; sizes held: M3, M3.5, M4, M5, M6, M8, M10 (or use basis proportion)
}

func ExampleCountersunkScrew() {
	screw := fastener.CountersunkScrew{Thread: thread.MustParse("M10"), Length: 40, Socket: true,
		Basis: fastener.Standard}
	v, err := screw.View(drawing.Front, fastener.Options{Section: true})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, it := range v.Items {
		if h, ok := it.Shape.(drawing.Hatch); ok {
			fmt.Println(screw.Designation(), "cut at", h.Angle, "degrees")
		}
	}
	// Output:
	// Socket countersunk-head screw ISO 10642 - M10 × 40 cut at 45 degrees
}

// TestHeadsOfISO1207And1580And7045 compares the heads, their slots and recesses
// with the second copy of the tables. The radius of the crown is in no table that
// was found.
func TestHeadsOfISO1207And1580And7045(t *testing.T) {
	columns := map[string]string{"dk_max": "head diameter", "k_max": "head height", "slot_n": "slot width",
		"slot_t":   "slot depth",
		"recess_m": "span of the cross recess", "recess_q": "depth of the cross recess",
		"crown_rf": "radius of the crown"}
	for _, r := range table(t, "iso1207-7045-slotted-heads.csv") {
		th := coarse(t, num(t, r["d"]))
		var f fastener.Fastener = fastener.CheeseScrew{Thread: th, Length: 4 * th.D, Basis: fastener.Standard}
		if !strings.HasPrefix(r["standard"], "ISO 1207") {
			f = fastener.PanScrew{Thread: th, Length: 4 * th.D, Cross: strings.HasPrefix(r["standard"], "ISO 7045"),
				Basis: fastener.Standard}
		}
		for column, name := range columns {
			if r[column] == "" {
				continue
			}
			q := quantity(t, f, name)
			assert.Equal(t, num(t, r[column]), q.Value, "%s %s", f.Designation(), name)
			want := rowStatus(t, r)
			if column == "crown_rf" {
				want = drawing.FromMemory
			}
			assert.Equal(t, want, q.Status, "%s %s", f.Designation(), name)
		}
		if strings.HasPrefix(r["standard"], "ISO 1580") {
			assert.InDelta(t, 0.8*num(t, r["dk_max"]), quantity(t, f, "radius of the crown").Value, 1e-9)
		}
	}
}

func TestCountersunkHeadsOfISO2009And10642(t *testing.T) {
	n := 0
	for _, r := range table(t, "countersunk-heads.csv") {
		socket := strings.HasPrefix(r["standard"], "ISO 10642")
		if !socket && !strings.HasPrefix(r["standard"], "ISO 2009") {
			continue
		}
		n++
		d := num(t, r["d"])
		c := fastener.CountersunkScrew{Thread: coarse(t, d), Length: 6 * d, Socket: socket,
			Basis: fastener.Standard}
		dk, k := quantity(t, c, "head diameter"), quantity(t, c, "head height").Value
		assert.Equal(t, num(t, r["dk_max"]), dk.Value, "M%g dk", d)
		assert.Equal(t, num(t, r["k_max"]), k, "M%g k", d)
		assert.Equal(t, rowStatus(t, r), dk.Status, "%s M%g", r["standard"], d)
		if socket {
			assert.Equal(t, num(t, r["key_s"]), quantity(t, c, "width across flats of the socket").Value, "M%g s", d)
			assert.Equal(t, num(t, r["socket_slot_or_nib_depth"]), quantity(t, c, "socket depth").Value, "M%g t", d)
			// The theoretical head is sharp: a cone of 90 degrees all the way.
			assert.InDelta(t, (dk.Value-d)/2, k, 1e-9, "M%g", d)
			continue
		}
		assert.Equal(t, num(t, r["slot_n_or_nib_g"]), quantity(t, c, "slot width").Value, "M%g n", d)
		assert.Equal(t, num(t, r["socket_slot_or_nib_depth"]), quantity(t, c, "slot depth").Value, "M%g t", d)
		assert.InDelta(t, k-(dk.Value-d)/2, quantity(t, c, "land at the flush face").Value, 1e-9, "M%g", d)
	}
	assert.Equal(t, 17, n)
}

// TestSlottedScrewsByProportion works the rules by hand.
func TestSlottedScrewsByProportion(t *testing.T) {
	m20 := thread.MustParse("M20")
	cheese := fastener.CheeseScrew{Thread: m20, Length: 60}
	pan, cross := fastener.PanScrew{Thread: m20, Length: 60},
		fastener.PanScrew{Thread: m20, Length: 60, Cross: true}
	sunk, socket := fastener.CountersunkScrew{Thread: m20, Length: 60},
		fastener.CountersunkScrew{Thread: m20, Length: 60, Socket: true}
	for _, c := range []struct {
		f    fastener.Fastener
		name string
		want float64
		rule string
	}{
		{cheese, "head diameter", 30, "1.5D"},
		{cheese, "head height", 12, "0.6D"},
		{cheese, "slot width", 5, "0.25D"},
		{cheese, "slot depth", 5, "0.25D"},
		{pan, "head diameter", 40, "2D"},
		{pan, "head height", 12, "0.6D"},
		{pan, "radius of the crown", 32, "0.8d2"},
		// The crown is as high as the head at the rim of the slot, 2.5 off the
		// axis: sqrt(32^2 - 2.5^2) - sqrt(32^2 - 20^2) = 31.9022 - 24.9800.
		{pan, "land under the crown", 12 - 6.9222, "T + √(R² - d2²/4) - √(R² - n²/4)"},
		{cross, "head height", 15, "0.75D"},
		{cross, "land under the crown", 15 - (32 - 24.9800), "T + √(R² - d2²/4) - R"},
		{cross, "span of the cross recess", 20, "D"},
		{cross, "width of the arms of the cross recess", 5, "0.25m"},
		{cross, "depth of the cross recess", 10, "0.5D"},
		{sunk, "head diameter", 40, "2D"},
		{sunk, "land at the flush face", 2, "0.1D"},
		{sunk, "head height", 12, "c + (d2 - D)/2"}, // 10 + 2
		{sunk, "included angle of the head", 90, "90°"},
		{socket, "width across flats of the socket", 12, "0.6D"},
		{socket, "socket depth", 6, "0.3D"},
	} {
		q := quantity(t, c.f, c.name)
		assert.InDelta(t, c.want, q.Value, 1e-4, "%s: %s", c.f.Designation(), c.name)
		assert.Equal(t, c.rule, q.RuleText(), c.name)
	}
}

// TestThreadOfMachineScrews: up to 40 mm (30 at M3, 45 for a slotted
// countersunk head) to the head, 2P left; beyond that 38 mm (25 at M3) by the
// standards and by ISO 888 by proportion. From memory, unverified.
func TestThreadOfMachineScrews(t *testing.T) {
	m3, m6, m10 := thread.MustParse("M3"), thread.MustParse("M6"), thread.MustParse("M10")
	const std = fastener.Standard
	for _, c := range []struct {
		f    fastener.Fastener
		want float64
		rule string
	}{
		{fastener.CheeseScrew{Thread: m6, Length: 40}, 38, "L - a1"},
		{fastener.CheeseScrew{Thread: m6, Length: 40, Basis: std}, 38, "L - a1"},
		{fastener.CheeseScrew{Thread: m6, Length: 50}, 18, "2D + 6"},
		{fastener.CheeseScrew{Thread: m6, Length: 50, Basis: std}, 38, "table"},
		{fastener.CheeseScrew{Thread: m3, Length: 30, Basis: std}, 29, "L - a1"},
		{fastener.CheeseScrew{Thread: m3, Length: 35, Basis: std}, 25, "table"},
		{fastener.CheeseScrew{Thread: m10, Length: 40, ThreadLength: 20}, 20, "given"},
		{fastener.PanScrew{Thread: m10, Length: 60, Basis: std}, 38, "table"},
		{fastener.PanScrew{Thread: m10, Length: 40, Cross: true, Basis: std}, 37, "L - a1"},
		// From the flush face: k = 5 of ISO 2009, and 2 x 1.5.
		{fastener.CountersunkScrew{Thread: m10, Length: 45, Basis: std}, 37, "L - T - a1"},
		{fastener.CountersunkScrew{Thread: m10, Length: 50, Basis: std}, 38, "table"},
		{fastener.CountersunkScrew{Thread: m10, Length: 60, Socket: true, Basis: std}, 32, "2D + 12"},
		// k = 6.2 of ISO 10642 and 3P in the rounding of ISO 3508.
		{fastener.CountersunkScrew{Thread: m10, Length: 40, Socket: true, Basis: std},
			40 - 6.2 - 4.5, "L - T - a1"},
	} {
		q := quantity(t, c.f, "thread length")
		assert.InDelta(t, c.want, q.Value, 1e-9, c.f.Designation())
		assert.Equal(t, c.rule, q.RuleText(), c.f.Designation())
	}
	short := fastener.CountersunkScrew{Thread: m10, Length: 8, Basis: std}
	assert.ErrorContains(t, short.Validate(), "more than 8 mm")
	short.Length = 10
	assert.ErrorContains(t, short.Validate(), "too short to carry a thread; at least 12 mm") // 5 + 4 x 1.5 = 11
}

// TestSlotIsANotch: the front view shows the slot as a notch and the plan hides
// its bottom; from the head it is level and as wide. M20: 5 x 5 in a head of 30 x
// 12.
func TestSlotIsANotch(t *testing.T) {
	s := fastener.CheeseScrew{Thread: thread.MustParse("M20"), Length: 60}
	front, err := s.View(drawing.Front, fastener.Options{})
	require.NoError(t, err)
	for _, y := range []float64{2.5, -2.5} {
		assert.True(t, has(front, drawing.RoleOutline, -12, y, -7, y), "side of the notch")
		assert.True(t, hasNear(front, drawing.RoleOutline, -12, y, -12, 6*y), "end face beside it")
	}
	assert.True(t, has(front, drawing.RoleOutline, -7, -2.5, -7, 2.5), "bottom of the notch")
	plan, err := s.View(drawing.SideView, fastener.Options{Hidden: true})
	require.NoError(t, err)
	z := math.Sqrt(15*15 - 2.5*2.5) // where the slot leaves the head
	assert.True(t, hasNear(plan, drawing.RoleHidden, -7, -z, -7, z), "bottom, hidden")
	head, err := s.View(drawing.HeadEnd, fastener.Options{})
	require.NoError(t, err)
	for _, y := range []float64{2.5, -2.5} {
		assert.True(t, hasNear(head, drawing.RoleOutline, -z, y, z, y), "level in the end view")
	}
}

// TestSocketsInSection: no gap and nothing twice in the section of any size,
// and the hatching stays within the part.
func TestSocketsInSection(t *testing.T) {
	for _, d := range []float64{3, 5, 10, 16, 20} {
		for _, k := range []float64{2, 3, 6} {
			for _, basis := range []fastener.Basis{fastener.Proportion, fastener.Standard} {
				for _, scale := range []float64{0.5, 1, 5} {
					for _, f := range []fastener.Fastener{
						fastener.CapScrew{Thread: coarse(t, d), Length: k * d, Basis: basis},
						fastener.CountersunkScrew{Thread: coarse(t, d), Length: k * d, Socket: true, Basis: basis},
					} {
						v, err := f.View(drawing.Front, fastener.Options{Section: true, Style: drawing.Style{Scale: scale}})
						require.NoError(t, err)
						for _, msg := range append(clash.Doubles(v), clash.Gaps(v)...) {
							t.Errorf("%s, scale %g: %s", f.Designation(), scale, msg)
						}
						box := extent(v)
						for _, it := range v.Items {
							if h, ok := it.Shape.(drawing.Hatch); ok {
								for _, p := range h.Loops[0] {
									assert.True(t, p.X >= box.Min.X-1e-9 && p.X < box.Max.X && math.Abs(p.Y) <= box.Max.Y+1e-9, "%s: %v",
										f.Designation(), p)
								}
							}
						}
					}
				}
			}
		}
	}
}
