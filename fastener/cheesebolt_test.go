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

func ExampleCheeseBolt() {
	bolt := fastener.CheeseBolt{Thread: thread.MustParse("M20"), Length: 90, Neck: fastener.NeckPinAlong}
	qs, err := bolt.Quantities()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(bolt.Designation())
	for _, q := range qs[4:10] {
		fmt.Printf("%-2s %s = %s = %s\n", q.Letter, q.Name, q.RuleText(), drawing.FormatValue(q.Value, false))
	}
	// Output:
	// Cheese-head bolt, pin along the axis, M20 × 90
	// d2 head diameter = 1.5D = 30
	// T  head height = 0.8D = 16
	// p  pin diameter = 0.2D = 4
	// p1 pin projection below the head = 0.2D = 4
	// p2 pin length in the head = 0.4D = 8
	// e  distance of the pin's axis from the bolt's = (D + p)/2 = 12
}

// TestCheeseHeadProportions works the rows of testdata/tables/proportions.csv
// by hand for M20.
func TestCheeseHeadProportions(t *testing.T) {
	rules := map[string]string{} // the last row of a letter
	status := map[string]string{}
	for _, r := range table(t, "proportions.csv") {
		if r["type"] == "cylindrical (cheese) head" {
			rules[r["letter"]], status[r["letter"]] = r["rule"], r["status"]
		}
	}
	m20 := thread.MustParse("M20")
	across := fastener.CheeseBolt{Thread: m20, Length: 90}
	along := fastener.CheeseBolt{Thread: m20, Length: 90, Neck: fastener.NeckPinAlong}
	snug := fastener.CheeseBolt{Thread: m20, Length: 90, Neck: fastener.NeckSnug}
	for _, c := range []struct {
		f    fastener.Fastener
		name string
		want float64
	}{
		{across, "head diameter", 30},                  // 1.5 x 20
		{across, "head height", 16},                    // 0.8 x 20
		{across, "pin diameter", 4},                    // 0.2 x 20
		{across, "pin projection beyond the shank", 4}, // 0.2 x 20
		{across, "pin length in the shank", 8},         // 0.4 x 20, from memory
		{along, "pin diameter", 4},
		{along, "pin projection below the head", 4},
		{along, "pin length in the head", 8},
		{along, "distance of the pin's axis from the bolt's", 12}, // (20 + 4) / 2
		{snug, "snug projection", 4},                              // 0.2 x 20
		{snug, "snug length", 10},                                 // 0.5 x 20
	} {
		q := quantity(t, c.f, c.name)
		assert.InDelta(t, c.want, q.Value, 1e-9, c.name)
		if r, ok := rules[q.Letter]; ok {
			assert.Equal(t, r, q.RuleText(), c.name)
			assert.Equal(t, status[q.Letter] == "memory", q.Status == drawing.FromMemory, c.name)
			assert.Equal(t, status[q.Letter] == "published", q.Status == drawing.Published, c.name)
		}
	}
}

func TestCheeseBoltRefuses(t *testing.T) {
	m20 := thread.MustParse("M20")
	for _, c := range []struct {
		s     fastener.Spec
		field string
		says  string
	}{
		{fastener.Spec{Length: 90, Basis: fastener.Standard}, "basis",
			"no table of a standard is held here for this kind; use proportion"},
		{fastener.Spec{Length: 90, Neck: "square"}, "neck", "use pin, pin-along, snug or plain"},
		{fastener.Spec{Length: 90, Neck: "pins"}, "neck", "did you mean pin?"},
		// 90 - 0.5 x 20
		{fastener.Spec{Length: 90, Neck: "snug", ThreadLength: 85}, "thread", "which has 80 mm"},
		// 90 - 0.2 x 20
		{fastener.Spec{Length: 90, Neck: "pin", ThreadLength: 88}, "thread", "which has 86 mm"},
		// 0.5 x 20
		{fastener.Spec{Length: 60, ThreadLength: 50, Neck: "snug", Nut: "hex", Grip: 9}, "grip", "at least 10 mm"},
		// 0.2 x 20
		{fastener.Spec{Length: 60, ThreadLength: 56, Neck: "pin-along", Nut: "hex", Grip: 3}, "grip",
			"at least 4 mm"},
		// 10 + 2 x 2.5
		{fastener.Spec{Length: 14, Neck: "snug"}, "length", "more than 15 mm"},
		// 10 + 7.5 + 2 x 2.5 = 22.5, and the next of ISO 888
		{fastener.Spec{Length: 20, Neck: "snug"}, "length", "at least 25 mm"},
		// 90 - 80
		{fastener.Spec{Length: 90, Neck: "pin", ThreadLength: 80, Nut: "hex", Grip: 3}, "grip",
			"a grip of at least 10"},
	} {
		c.s.Kind, c.s.Thread = "cheese-bolt", m20
		_, err := fastener.New(c.s)
		var fe *fastener.FieldError
		require.ErrorAs(t, err, &fe, "%+v", c.s)
		assert.Equal(t, c.field, fe.Field, err.Error())
		assert.Contains(t, err.Error(), c.says)
	}
	f := fastener.CheeseBolt{Thread: m20, Length: 90, Neck: fastener.NeckCollar}
	assert.ErrorContains(t, f.Validate(), "it has pin, pin-along, snug, plain")
}

// TestPinOfACheeseBolt looks for the lines of the pin of an M20: 4 thick, 4
// long outside the shank of radius 10.
func TestPinOfACheeseBolt(t *testing.T) {
	across := fastener.CheeseBolt{Thread: thread.MustParse("M20"), Length: 90}
	v, err := across.View(drawing.Front, fastener.Options{})
	require.NoError(t, err)
	assert.True(t, has(v, drawing.RoleOutline, 4, 10, 4, 14), "its side")
	assert.True(t, has(v, drawing.RoleOutline, 0, 14, 4, 14), "its end")
	assert.True(t, has(v, drawing.RoleCentre, 2, -1, 2, 17), "its centre line, 3 mm past it, let in 8 mm")
	along := fastener.CheeseBolt{Thread: thread.MustParse("M20"), Length: 90, Neck: fastener.NeckPinAlong}
	v, err = along.View(drawing.Front, fastener.Options{})
	require.NoError(t, err)
	assert.True(t, has(v, drawing.RoleOutline, 0, 14, 4, 14), "its side")
	assert.True(t, has(v, drawing.RoleOutline, 4, 10, 4, 14), "its end")
	assert.True(t, has(v, drawing.RoleCentre, -11, 12, 7, 12), "its centre line, 3 mm past it, let in 8 mm")
	for f, want := range map[fastener.Fastener]drawing.Circle{
		across: {Center: drawing.Pt(2, 0), Radius: 2},
		along:  {Center: drawing.Pt(0, 12), Radius: 2},
	} {
		dir := drawing.SideView
		if f == along {
			dir = drawing.PointEnd
		}
		v, err := f.View(dir, fastener.Options{})
		require.NoError(t, err)
		found := false
		for _, it := range v.Items {
			c, ok := it.Shape.(drawing.Circle)
			found = found || ok && it.Role == drawing.RoleOutline && c == want
		}
		assert.True(t, found, "%s, %s: its circle", f.Designation(), dir)
	}
}

// TestPinBehindANutHasNoDimensions: from the point a nut hides the pin, which
// reaches 14 from the axis at most. Only the thread keeps its dimension.
func TestPinBehindANutHasNoDimensions(t *testing.T) {
	for _, neck := range []string{"pin", "pin-along", "snug"} {
		bare := fastener.Spec{Kind: "cheese-bolt", Thread: thread.MustParse("M20"), Length: 90, Neck: neck}
		bolted := bare
		bolted.Nut, bolted.Grip = "hex", 60
		for want, s := range map[bool]fastener.Spec{true: bare, false: bolted} {
			f, err := fastener.New(s)
			require.NoError(t, err)
			v, err := f.View(drawing.PointEnd, fastener.Options{})
			require.NoError(t, err)
			n := 0
			for _, it := range v.Items {
				if it.Role == drawing.RoleDimension {
					n++
				}
			}
			assert.Equal(t, want, n > 1, "%s: %d dimensions", f.Designation(), n)
		}
	}
}
