package fastener_test

import (
	"fmt"
	"testing"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/thread"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func ExampleHookBolt() {
	bolt := fastener.HookBolt{Thread: thread.MustParse("M20"), Length: 90}
	qs, err := bolt.Quantities()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(bolt.Designation())
	for _, q := range qs[4:9] {
		fmt.Printf("%-2s %-30s %-4s = %s %s\n", q.Letter, q.Name, q.RuleText(),
			drawing.FormatValue(q.Value, false), q.Unit)
	}
	// Output:
	// Hook bolt M20 × 90
	// L1 overall width of hook          2D   = 40 mm
	// T  depth of hook                  D    = 20 mm
	// R  radius of back of hook         D    = 20 mm
	// S  side of square, and hook across D    = 20 mm
	// N  length of square neck          0.8D = 16 mm
}

func TestHookBoltByProportion(t *testing.T) {
	m12 := thread.MustParse("M12")
	quarter := fastener.HookBolt{Thread: m12, Length: 60}
	half := fastener.HookBolt{Thread: m12, Length: 60, HalfRound: true}
	for _, c := range []struct {
		f      fastener.Fastener
		name   string
		want   float64
		rule   string
		status drawing.Status
	}{
		{quarter, "overall width of hook", 24, "2D", drawing.Published}, // 2 x 12, Low 1887, as the next three
		{quarter, "depth of hook", 12, "D", drawing.Published},
		{quarter, "radius of back of hook", 12, "D", drawing.Published},
		{quarter, "side of square, and hook across", 12, "D", drawing.Published},
		{quarter, "length of square neck", 9.6, "0.8D", drawing.CommonPractice},
		{half, "radius of back of hook", 12, "D", drawing.Published},
		{half, "overall width of hook", 24, "2R", drawing.Derived}, // half a circle
		{half, "depth of hook", 12, "R", drawing.Derived},
	} {
		q := quantity(t, c.f, c.name)
		assert.InDelta(t, c.want, q.Value, 1e-9, c.name)
		assert.Equal(t, c.rule, q.RuleText(), c.name)
		assert.Equal(t, c.status, q.Status, c.name)
	}
	assert.Equal(t, "Hook bolt M12 × 60", quarter.Designation())
	assert.Equal(t, "Hook bolt, half-round back, M12 × 60", half.Designation())
}

// TestHookOutline: the bearing face is at x = 0 above the square, the back is
// flush with it, and where the back goes over into flat faces there is no edge.
func TestHookOutline(t *testing.T) {
	m20 := thread.MustParse("M20")
	for _, half := range []bool{false, true} {
		front, err := fastener.HookBolt{Thread: m20, Length: 90, HalfRound: half}.View(drawing.Front,
			fastener.Options{})
		require.NoError(t, err)
		box := extent(front)
		// D = 20: 2D from -D/2 to 1.5D
		for _, c := range [][2]float64{{-20, box.Min.X}, {90, box.Max.X}, {-10, box.Min.Y}, {30, box.Max.Y}} {
			assert.InDelta(t, c[0], c[1], 1e-9)
		}
		assert.True(t, has(front, drawing.RoleOutline, 0, 10, 0, 30), "the bearing face")
		assert.Equal(t, !half, has(front, drawing.RoleOutline, -20, 10, -20, 30), "the flat of the head")
		assert.True(t, has(front, drawing.RoleThin, 0, 10, 16, -10), "the square is flat")
		var arcs []drawing.Arc
		for _, it := range front.Items {
			if a, ok := it.Shape.(drawing.Arc); ok {
				arcs = append(arcs, a)
			}
		}
		require.Len(t, arcs, 1)
		assert.InDelta(t, 20, arcs[0].Radius, 1e-9)
		assert.InDelta(t, 10, arcs[0].Center.Y, 1e-9)
		assert.InDelta(t, map[bool]float64{false: 180, true: 90}[half], arcs[0].Start, 1e-9)
		assert.InDelta(t, 270, arcs[0].End, 1e-9)
		// From the head, one rectangle of 20 by 40.
		head, err := fastener.HookBolt{Thread: m20, Length: 90, HalfRound: half}.View(drawing.HeadEnd,
			fastener.Options{})
		require.NoError(t, err)
		n := 0
		for _, it := range head.Items {
			if it.Role == drawing.RoleOutline {
				n++
			}
		}
		assert.Equal(t, 4, n)
		for _, s := range []float64{1, -1} {
			assert.True(t, has(head, drawing.RoleOutline, 10*s, -10, 10*s, 30))
		}
		assert.True(t, has(head, drawing.RoleCentre, 0, -13, 0, 33), "3 mm past the outline at either end")
	}
}

func TestHookBoltErrors(t *testing.T) {
	m20 := thread.MustParse("M20")
	for _, c := range []struct {
		f     fastener.Fastener
		field string
		says  string
	}{
		{fastener.HookBolt{Thread: m20, Length: 90, Basis: fastener.Standard}, "basis",
			"standard: no table of a standard is held here for this kind; use proportion"},
		// 16 of the square and two pitches of 2.5
		{fastener.HookBolt{Thread: m20, Length: 20}, "length", "more than 21 mm"},
		{fastener.Bolted{Bolt: fastener.HookBolt{Thread: m20, Length: 60, ThreadLength: 44},
			Nut: fastener.HexNut{Thread: m20}, Grip: 15.9}, "grip", "at least 16 mm"},
	} {
		err := c.f.Validate()
		var fe *fastener.FieldError
		require.ErrorAs(t, err, &fe, "%+v", c.f)
		assert.Equal(t, c.field, fe.Field, err.Error())
		assert.Contains(t, err.Error(), c.says)
	}
	_, err := fastener.New(fastener.Spec{Kind: "hook-bolt", Thread: m20, Length: 90, Form: "round"})
	assert.ErrorContains(t, err, "use quarter or half")
}
