package fastener_test

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/thread"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func ExampleTaperBolt() {
	bolt := fastener.TaperBolt{Thread: thread.MustParse("M20"), Length: 120}
	qs, err := bolt.Quantities()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(bolt.Designation())
	for _, q := range qs[6:9] {
		fmt.Printf("%s %s: %s = %s %s\n", q.Letter, q.Name, q.RuleText(),
			drawing.FormatValue(q.Value, false), q.Unit)
	}
	// A longer taper would end thinner than the thread.
	bolt.Length = 180
	fmt.Println(bolt.Validate())
	// Output:
	// Taper bolt 1:30 M20 × 120
	// d2 large end diameter: 1.2D = 24 mm
	// ds small end diameter: d2 - C Lt = 21.74 mm
	// Lt length of the taper: L - b - x = 67.7 mm
	// taper-bolt: length 180: too long: at its small end the taper of 1:30 would be 19.94 mm thick, thinner than the thread of 20 mm; at most 178.3 mm, or a thread length of at least 53.7 mm
}

// TestTapersOfISO1119 compares tapers and cone angles with the second copy of
// the table. Steeper tapers do not hold, flatter ones do not come out.
func TestTapersOfISO1119(t *testing.T) {
	k, err := fastener.KindNamed("taper-bolt")
	require.NoError(t, err)
	i := slices.IndexFunc(k.Options, func(o fastener.Option) bool { return o.Name == "taper" })
	require.GreaterOrEqual(t, i, 0)
	assert.Equal(t, "1:30", k.Options[i].Choices[0], "the usual one first")
	found := 0
	for _, r := range table(t, "iso1119-tapers.csv") {
		n, err := strconv.Atoi(strings.TrimPrefix(r["taper"], "1:"))
		require.NoError(t, err)
		b := fastener.TaperBolt{Thread: thread.MustParse("M20"), Length: 90, Taper: n}
		if !slices.Contains(k.Options[i].Choices, r["taper"]) {
			var fe *fastener.FieldError
			require.ErrorAs(t, b.Validate(), &fe, r["taper"])
			assert.Equal(t, "taper", fe.Field)
			continue
		}
		found++
		assert.InDelta(t, num(t, r["cone_angle_deg"]), quantity(t, b, "cone angle").Value, 1e-6, r["taper"])
		c := quantity(t, b, "taper on the diameter")
		assert.Equal(t, strings.Replace(r["taper"], ":", "/", 1), c.RuleText())
		assert.InDelta(t, 2*math.Tan(num(t, r["cone_angle_deg"])/2*math.Pi/180), c.Value, 1e-7,
			"the angle is that of the taper")
		assert.Equal(t, drawing.One, c.Unit)
	}
	assert.Len(t, k.Options[i].Choices, found)
}

// TestTaperBoltLines works M20 x 120 by hand: large end 1.2 x 20 = 24; thread
// 46 (ISO 888), run-out 6.3 (ISO 3508), so that the taper is 120 - 52.3 = 67.7
// long and 24 - 67.7/30 = 21.74333 thick at its small end.
func TestTaperBoltLines(t *testing.T) {
	b := fastener.TaperBolt{Thread: thread.MustParse("M20"), Length: 120}
	const small = 21.74333 / 2
	for _, dir := range []drawing.Direction{drawing.Front, drawing.SideView} {
		v, err := b.View(dir, fastener.Options{})
		require.NoError(t, err)
		assert.True(t, hasNear(v, drawing.RoleOutline, 0, -12, 0, 12), "face of the large end")
		for _, y := range []float64{1, -1} {
			assert.True(t, hasNear(v, drawing.RoleOutline, 0, y*12, 67.7, y*small), "taper")
			assert.True(t, hasNear(v, drawing.RoleThin, 74, y*8.46638, 120, y*8.46638), "root")
		}
		assert.True(t, hasNear(v, drawing.RoleOutline, 67.7, -small, 67.7, small), "step down to the thread")
		assert.True(t, hasNear(v, drawing.RoleOutline, 74, -10, 74, 10), "limit of the thread")
		assert.True(t, hasNear(v, drawing.RoleCentre, -3, 0, 123, 0))
		said := false
		for _, it := range v.Items {
			if l, ok := it.Shape.(drawing.Leader); ok && l.Label.Symbol != drawing.NoSymbol {
				said = said || l.Label.Symbol == drawing.TaperSymbol && l.Label.Number == "1:30"
				assert.InDelta(t, 12-l.Tip.X/60, l.Tip.Y, 1e-9, "the leader touches the edge of the cone")
			}
		}
		assert.True(t, said, "the taper by its symbol and value (ISO 3040)")
	}

	// From the point: thread, small end, large end. The small end is left out
	// where it would stand nearer to another circle than 0.7 mm on paper.
	circles := func(b fastener.TaperBolt, scale float64) (out []float64) {
		v, err := b.View(drawing.PointEnd, fastener.Options{Style: drawing.Style{Scale: scale}})
		require.NoError(t, err)
		for _, it := range v.Items {
			if c, ok := it.Shape.(drawing.Circle); ok && it.Role == drawing.RoleOutline {
				out = append(out, math.Round(c.Radius*100)/100)
			}
		}
		slices.Sort(out)
		return out
	}
	b.Length = 110 // small end 24 - 57.7/30 = 22.08: 1.04 from the thread, 0.96 from the large end
	assert.Equal(t, []float64{10, 12}, circles(b, 1), "the wide line is 0.5: a gap of 1 mm")
	assert.Equal(t, []float64{10, 11.04, 12}, circles(b, 2))
}

func TestTaperBoltErrors(t *testing.T) {
	m20 := thread.MustParse("M20")
	for _, c := range []struct {
		b     fastener.TaperBolt
		field string
		says  string
	}{
		{fastener.TaperBolt{Thread: m20}, "length", "from the large end"},
		{fastener.TaperBolt{Thread: m20, Length: -4}, "length", "negative"},
		{fastener.TaperBolt{Length: 90}, "size", ""},
		{fastener.TaperBolt{Thread: m20, Length: 90, Taper: 31}, "taper", "1:31: not a taper of this kind"},
		{fastener.TaperBolt{Thread: m20, Length: 90, Taper: -30}, "taper", "it has 1:10"},
		{fastener.TaperBolt{Thread: m20, Length: 90, ThreadLength: -1}, "thread", "negative"},
		// 46 + 6.3 + 20 = 72.3; the next preferred length of ISO 888 is 80.
		{fastener.TaperBolt{Thread: m20, Length: 70}, "length", "come to 72.3 mm; at least 80 mm"},
		// 70 - 6.3 - 20
		{fastener.TaperBolt{Thread: m20, Length: 70, ThreadLength: 50}, "thread", "at most 43.7 mm"},
		{fastener.TaperBolt{Thread: m20, Length: 25, ThreadLength: 50}, "length",
			"come to 76.3 mm; at least 80 mm"},
		// The taper can be (24 - 20) x 30 = 120 long, with 52 + 6.3: 178.3.
		{fastener.TaperBolt{Thread: m20, Length: 200}, "length",
			"at most 178.3 mm, or a thread length of at least 73.7 mm"},
		// 120 + 6.3 + 60
		{fastener.TaperBolt{Thread: m20, Length: 200, ThreadLength: 60}, "length", "at most 186.3 mm"},
		// (24 - 20) x 10 = 40, with 46 + 6.3: 92.3.
		{fastener.TaperBolt{Thread: m20, Length: 100, Taper: 10}, "length",
			"19.23 mm thick, thinner than the thread of 20 mm; at most 92.3 mm"},
		// M12: (14.4 - 12) x 30 = 72, with 30 + 4.3: 106.3.
		{fastener.TaperBolt{Thread: thread.MustParse("M12"), Length: 120}, "length", "at most 106.3 mm"},
	} {
		err := c.b.Validate()
		var fe *fastener.FieldError
		require.ErrorAs(t, err, &fe, "%+v", c.b)
		assert.Equal(t, c.field, fe.Field, err.Error())
		assert.Contains(t, err.Error(), c.says)
	}
	for _, b := range []fastener.TaperBolt{ // what the errors offer works
		{Thread: m20, Length: 178.3}, {Thread: m20, Length: 200, ThreadLength: 73.7},
		{Thread: m20, Length: 92.3, Taper: 10},
		{Thread: m20, Length: 70, ThreadLength: 43.7}, {Thread: m20, Length: 80}, {Thread: m20, Length: 72.3},
	} {
		assert.NoError(t, b.Validate(), "%+v", b)
	}
	assert.InDelta(t, 20, quantity(t, fastener.TaperBolt{Thread: m20, Length: 178.3},
		"small end diameter").Value, 1e-9)
	assert.Equal(t, "Taper bolt 1:20 M20 × 90 with hexagon nut, grip 60",
		fastener.Bolted{Bolt: fastener.TaperBolt{Thread: m20, Length: 90, Taper: 20},
			Nut: fastener.HexNut{Thread: m20}, Grip: 60}.Designation())
}
