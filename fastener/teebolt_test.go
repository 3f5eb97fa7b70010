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

func ExampleTeeBolt() {
	bolt := fastener.TeeBolt{Thread: thread.MustParse("M20"), Length: 100, Basis: fastener.Standard}
	qs, err := bolt.Quantities()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(bolt.Designation())
	for _, q := range qs[4:9] {
		fmt.Printf("%-2s %s = %s = %s, %s\n", q.Letter, q.Name, q.RuleText(),
			drawing.FormatValue(q.Value, false), q.Source)
	}
	// Output:
	// T-head bolt, square neck, DIN 186 - M20 × 100
	// L1 length of head = table = 36, DIN 186, m
	// B  width of head = table = 20, DIN 186, n
	// T  thickness of head = table = 13, DIN 186, k
	// S  side of square neck = B = 20, follows from the head, with which it is in one plane
	// N  length of square neck = 0.8D = 16, common practice
}

func TestTeeHeadsOfDIN186And188And261(t *testing.T) { // from memory, unverified, or partly
	necks := map[string]fastener.Neck{
		"DIN 186 T-head, square neck": fastener.NeckSquare,
		"DIN 188 T-head, double nib":  fastener.NeckNibs,
		"DIN 261 T-head":              fastener.NeckPlain,
	}
	rows := map[string]int{}
	for _, r := range table(t, "t-head-bolts.csv") {
		neck, ok := necks[r["standard"]]
		if !ok {
			continue
		}
		rows[r["standard"]]++
		d := num(t, r["d"])
		b := fastener.TeeBolt{Thread: coarse(t, d), Length: 8 * d, Neck: neck, Basis: fastener.Standard}
		for name, column := range map[string]string{"length of head": "head_length_or_square",
			"width of head": "head_width", "thickness of head": "head_thickness"} {
			q := quantity(t, b, name)
			assert.Equal(t, num(t, r[column]), q.Value, "%s M%g %s", r["standard"], d, name)
			assert.Equal(t, rowStatus(t, r), q.Status, "%s M%g %s", r["standard"], d, name)
			assert.Contains(t, q.Source, r["standard"][:7])
		}
	}
	assert.Equal(t, map[string]int{"DIN 186 T-head, square neck": 9, "DIN 188 T-head, double nib": 7,
		"DIN 261 T-head": 9}, rows)
}

// TestTeeHeadProportions works the rows of testdata/tables/proportions.csv by
// hand for M20.
func TestTeeHeadProportions(t *testing.T) {
	rules, status := map[string]string{}, map[string]string{}
	for _, r := range table(t, "proportions.csv") {
		if r["type"] == "T-head" {
			rules[r["feature"]], status[r["feature"]] = r["rule"], r["status"]
		}
	}
	m20 := thread.MustParse("M20")
	square := fastener.TeeBolt{Thread: m20, Length: 90}
	nibs := fastener.TeeBolt{Thread: m20, Length: 90, Neck: fastener.NeckNibs}
	for _, c := range []struct {
		f       fastener.Fastener
		name    string
		feature string // in the table
		want    float64
	}{
		{square, "length of head", "length of head", 36},               // 1.8 x 20
		{square, "width of head", "width of head", 20},                 // D
		{square, "thickness of head", "thickness of head", 16},         // 0.8 x 20
		{square, "length of square neck", "length of square neck", 16}, // 0.8 x 20
		{nibs, "nib projection", "", 4},                                // 0.2 x 20
		{nibs, "nib length", "", 10},                                   // 0.5 x 20
		{nibs, "nib width", "", 4},                                     // 0.2 x 20
	} {
		q := quantity(t, c.f, c.name)
		assert.InDelta(t, c.want, q.Value, 1e-9, c.name)
		if c.feature == "" { // in no table
			assert.Equal(t, drawing.FromMemory, q.Status, c.name)
			continue
		}
		assert.Equal(t, rules[c.feature], q.RuleText(), c.name)
		assert.Equal(t, status[c.feature] == "published", q.Status == drawing.Published, c.name)
		assert.Equal(t, status[c.feature] == "common practice", q.Status == drawing.CommonPractice, c.name)
	}
	side := quantity(t, square, "side of square neck")
	assert.Equal(t, "D", rules[side.Name]) // the width of the head, which it follows
	assert.InDelta(t, 20, side.Value, 1e-9)
}

func TestTeeBoltRefuses(t *testing.T) {
	for _, c := range []struct {
		s     fastener.Spec
		size  string
		field string
		says  string
	}{
		{fastener.Spec{Length: 90, Neck: "snug"}, "M20", "neck", "use square, nibs or plain"},
		{fastener.Spec{Length: 90, Basis: fastener.Standard}, "M42", "size",
			"not held here of DIN 186; sizes held: M6, M8"},
		{fastener.Spec{Length: 90, Neck: "nibs", Basis: fastener.Standard}, "M6", "size",
			"not held here of DIN 188; sizes held: M8, M10, M12, M16, M20, M24, M30 ("},
		{fastener.Spec{Length: 90, Neck: "plain", Basis: fastener.Standard}, "M20x1.5", "size",
			"DIN 261 is held here for coarse threads only"},
		// 90 - 0.8 x 20
		{fastener.Spec{Length: 90, ThreadLength: 80}, "M20", "thread", "which has 74 mm"},
		// 90 - 0.5 x 20
		{fastener.Spec{Length: 90, ThreadLength: 85, Neck: "nibs"}, "M20", "thread", "which has 80 mm"},
		// 0.8 x 20
		{fastener.Spec{Length: 60, ThreadLength: 44, Nut: "hex", Grip: 15}, "M20", "grip", "at least 16 mm"},
		// 0.5 x 20
		{fastener.Spec{Length: 60, ThreadLength: 50, Neck: "nibs", Nut: "hex", Grip: 9}, "M20", "grip",
			"at least 10 mm"},
		// 46 + 6.3 of thread and run-out, and the neck of 16, come to 68.3.
		{fastener.Spec{Length: 60, Basis: fastener.Standard}, "M20", "length",
			"leave no plain shank; use at least 70 mm, or give the thread length"},
	} {
		c.s.Kind, c.s.Thread = "tee-bolt", thread.MustParse(c.size)
		_, err := fastener.New(c.s)
		var fe *fastener.FieldError
		require.ErrorAs(t, err, &fe, "%+v", c.s)
		assert.Equal(t, c.field, fe.Field, err.Error())
		assert.Contains(t, err.Error(), c.says)
	}
}

// TestTeeHeadAndNeckAreFlush: head and square neck are of one width. In the
// plan their sides are one line; in the front view no edge parts the two.
func TestTeeHeadAndNeckAreFlush(t *testing.T) {
	b := fastener.TeeBolt{Thread: thread.MustParse("M20"), Length: 90, ThreadLength: 40}
	front, err := b.View(drawing.Front, fastener.Options{})
	require.NoError(t, err)
	assert.True(t, has(front, drawing.RoleOutline, 0, 10, 0, 18),
		"the bearing face above the neck, to half of 1.8 x 20")
	assert.True(t, has(front, drawing.RoleOutline, 0, -18, 0, -10), "and below it")
	assert.True(t, has(front, drawing.RoleThin, 0, -10, 16, 10), "a diagonal of the neck")
	plan, err := b.View(drawing.SideView, fastener.Options{})
	require.NoError(t, err)
	for _, y := range []float64{10, -10} {
		// To the point chamfer, whose depth is that of the thread: 0.6134 x 2.5.
		found := false
		for _, it := range plan.Items {
			l, ok := it.Shape.(drawing.Line)
			found = found || ok && it.Role == drawing.RoleOutline && l.From.Y == y && l.To.Y == y &&
				l.From.X == -16 && l.To.X > 88
		}
		assert.True(t, found, "the side at %g is one line from the head to the point", y)
	}
	assert.True(t, has(plan, drawing.RoleOutline, 0, -10, 0, 10), "the bearing face stands above the neck")
}
