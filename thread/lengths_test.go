package thread

import (
	"math"
	"slices"
	"testing"

	"boltplate/rule"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// ISO 888:1976; status of each row in the file.
func TestLengths(t *testing.T) {
	var first, second []float64
	for _, r := range readTable(t, "iso888-nominal-lengths.csv") {
		status, preferred, listed := LengthStatus(r.num(t, "l"))
		assert.True(t, listed)
		assert.Equal(t, statusOf(t, r["status"]), status, "length %s", r["l"])
		assert.Equal(t, r["preference"] == "preferred", preferred, "length %s", r["l"])
		if r["preference"] == "preferred" {
			first = append(first, r.num(t, "l"))
		} else {
			second = append(second, r.num(t, "l"))
		}
	}
	assert.Equal(t, first, Lengths())
	assert.Equal(t, second, SecondLengths())
	assert.True(t, slices.IsSorted(first))
	for _, l := range second {
		assert.NotContains(t, first, l)
	}
	_, _, listed := LengthStatus(47)
	assert.False(t, listed)
}

// Lengths of thread as ISO 4014 prints them for its bolts.
func TestThreadLength(t *testing.T) {
	for _, r := range readTable(t, "iso4014-hexagon-bolts.csv") {
		d := r.num(t, "d")
		for l, col := range map[float64]string{125: "b_l_le125", 200: "b_125_200", 201: "b_gt200"} {
			if r[col] == "" {
				continue
			}
			assert.Equal(t, r.num(t, col), ThreadLength(d, l), "M%v, l %v", d, l)
		}
	}
	// M20: 46, 52, 65 (ISO 4014:2011, from memory); the bounds belong to the
	// lower range.
	assert.Equal(t, 46.0, ThreadLength(20, 125))
	assert.Equal(t, 52.0, ThreadLength(20, 125.5))
	assert.Equal(t, 52.0, ThreadLength(20, 200))
	assert.Equal(t, 65.0, ThreadLength(20, 200.5))
}

// The rule, its text for one length and the function agree.
func TestThreadLengthFigure(t *testing.T) {
	for l, want := range map[float64]string{80: "2D + 6", 125: "2D + 6", 126: "2D + 12", 200: "2D + 12", 201: "2D + 25"} {
		f, err := ThreadLengthFigure(16, l)
		require.NoError(t, err)
		assert.Equal(t, want, f.Rule.String())
		assert.Equal(t, ThreadLength(16, l), f.Value)
		for _, e := range []*rule.Expr{f.Rule, ThreadLengthRule()} {
			got, err := e.Eval(rule.Values{{Letter: "D", Value: 16}, {Letter: "L", Value: l}}.Get)
			require.NoError(t, err)
			assert.Equal(t, f.Value, got)
		}
	}
	for _, x := range [][2]float64{{0, 80}, {16, 0}, {16, -1}, {16, math.NaN()}, {math.Inf(1), 80}} {
		_, err := ThreadLengthFigure(x[0], x[1])
		var ve *ValueError
		assert.ErrorAs(t, err, &ve, "%v", x)
	}
}

func TestNextPrevLength(t *testing.T) {
	for _, c := range []struct {
		l          float64
		next, prev float64 // 0: none
	}{
		{math.Inf(-1), 2, 0},
		{-1, 2, 0},
		{0, 2, 0},
		{2, 2, 2},
		{75, 80, 70}, // a second choice is not preferred
		{80, 80, 80},
		{80.001, 90, 80},
		{500, 500, 500},
		{501, 0, 500},
		{math.Inf(1), 0, 500},
		{math.NaN(), 0, 0},
	} {
		next, ok := NextLength(c.l)
		assert.Equal(t, c.next, next, "next of %v", c.l)
		assert.Equal(t, c.next != 0, ok, "next of %v", c.l)
		prev, ok := PrevLength(c.l)
		assert.Equal(t, c.prev, prev, "previous of %v", c.l)
		assert.Equal(t, c.prev != 0, ok, "previous of %v", c.l)
	}
}

func TestNextPrevLengthProperty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := rapid.Float64Range(2, 500).Draw(t, "l")
		next, ok1 := NextLength(l)
		prev, ok2 := PrevLength(l)
		switch {
		case !ok1 || !ok2:
			t.Fatalf("%v has no neighbours", l)
		case !(prev <= l && l <= next):
			t.Fatalf("%v is not between %v and %v", l, prev, next)
		case slices.Contains(preferredLengths[:], l) != (prev == next):
			t.Fatalf("%v between %v and %v", l, prev, next)
		}
		for _, p := range Lengths() {
			if prev < p && p < next {
				t.Fatalf("%v lies between %v and %v", p, prev, next)
			}
		}
	})
}

// DIN 938, 939, 835 and 940; status of each row in the file.
func TestEngagement(t *testing.T) {
	rows := readTable(t, "engagement.csv")
	materials := map[string]Material{"DIN 938": Steel, "DIN 939": CastIron, "DIN 835": Aluminium, "DIN 940": SoftLightAlloy}
	require.Len(t, rows, len(materials))
	for _, r := range rows {
		m, ok := materials[r["standard"]]
		require.True(t, ok, r["standard"])
		assert.Equal(t, 16*r.num(t, "min_engagement_in_d"), Engagement(m, 16), "%v", m)
		f, err := EngagementFigure(m, 16)
		require.NoError(t, err)
		assert.Equal(t, r["standard"], f.Source)
		assert.Equal(t, statusOf(t, r["status"]), f.Status)
		assert.Equal(t, Engagement(m, 16), f.Value)
		x, err := f.Rule.Eval(Thread{D: 16, P: 2}.Letters().Get)
		require.NoError(t, err)
		assert.Equal(t, f.Value, x)
	}
	assert.Equal(t, 40.0, Engagement(Material(99), 16), "an unknown material is the weakest")
	f, err := EngagementFigure(-1, 16)
	require.NoError(t, err)
	assert.Equal(t, "DIN 940", f.Source)
	_, err = EngagementFigure(Steel, -1)
	var ve *ValueError
	assert.ErrorAs(t, err, &ve)
}

// ISO 3508:1976; status of each row in the file.
func TestRunOut(t *testing.T) {
	rows := readTable(t, "iso3508-run-out.csv")
	require.Len(t, runOuts, len(rows))
	for i, r := range rows {
		th := Thread{D: 64, P: r.num(t, "p")}
		assert.Equal(t, th.P, runOuts[i].p)
		assert.Equal(t, statusOf(t, r["status"]), runOuts[i].status, "%v", th.P)
		assert.Equal(t, r.num(t, "x_max_normal_2.5p"), th.RunOut(), "%v", th.P)
		assert.Equal(t, r.num(t, "x_max_short_1.25p"), th.RunOutShort(), "%v", th.P)
		assert.Equal(t, r.num(t, "a_max_normal_3p"), th.HeadDistance(), "%v", th.P)
		assert.Equal(t, r.num(t, "a_max_short_2p"), th.HeadDistanceShort(), "%v", th.P)

		// The table rounds the rule.
		assert.InEpsilon(t, 2.5*th.P, th.RunOut(), 0.03, "%v", th.P)
		assert.InEpsilon(t, 1.25*th.P, th.RunOutShort(), 0.13, "%v", th.P)
		assert.InEpsilon(t, 3*th.P, th.HeadDistance(), 0.07, "%v", th.P)
		assert.InEpsilon(t, 2*th.P, th.HeadDistanceShort(), 0.001, "%v", th.P)
	}
	for i := 1; i < len(runOuts); i++ {
		a, b := runOuts[i-1], runOuts[i]
		assert.True(t, a.p < b.p && a.x < b.x && a.xs <= b.xs && a.a < b.a && a.as < b.as, "%v to %v", a.p, b.p)
	}
	th := Thread{D: 12, P: 1.2} // not in the table: by the rule
	assert.InDelta(t, 3, th.RunOut(), 1e-9)
	assert.InDelta(t, 1.5, th.RunOutShort(), 1e-9)
	assert.InDelta(t, 3.6, th.HeadDistance(), 1e-9)
	assert.InDelta(t, 2.4, th.HeadDistanceShort(), 1e-9)
}
