package thread

import (
	"math"
	"testing"

	"boltplate/rule"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// ISO 724:1993, Table 1; status of each row in the file.
func TestBasicDiameters(t *testing.T) {
	for _, r := range readTable(t, "iso724-basic-diameters.csv") {
		th, err := New(r.num(t, "d"), r.num(t, "p"))
		require.NoError(t, err)
		assert.Equal(t, r.num(t, "d2"), Round3(th.PitchDiameter()), "d2 of %v", th)
		assert.Equal(t, r.num(t, "d1"), Round3(th.MinorDiameter()), "d1 of %v", th)
		assert.Equal(t, r.num(t, "d3"), Round3(th.RootDiameter()), "d3 of %v", th)
		assert.Equal(t, r["series"] == "coarse", th.IsCoarse(), "%v", th)
	}
}

// JIS B 0205:1997, diameters of the coarse threads; ISO 724 has the same.
func TestDiametersOfCoarseThreads(t *testing.T) {
	rows := readTable(t, "iso724-jis-b-0205.csv")
	assert.Len(t, rows, len(Sizes()))
	for _, r := range rows {
		th, err := Coarse(r.num(t, "d"))
		require.NoError(t, err)
		assert.Equal(t, r.num(t, "p"), th.P)
		assert.Equal(t, r.num(t, "d2"), Round3(th.PitchDiameter()), "d2 of %v", th)
		assert.Equal(t, r.num(t, "d1"), Round3(th.MinorDiameter()), "d1 of %v", th)
	}
}

// The status of every diameter is what the tables of testdata say of its row.
func TestDiameterStatus(t *testing.T) {
	both := bestStatus(t, []string{"d", "p"}, "iso724-basic-diameters.csv", "iso724-jis-b-0205.csv")
	roots := bestStatus(t, []string{"d", "p"}, "iso724-basic-diameters.csv")
	eachThread(func(th Thread) {
		key := " " + number(th.D) + " " + number(th.P)
		for i, table := range map[Item]map[string]rule.Status{ItemPitchDiameter: both, ItemMinorDiameter: both, ItemRootDiameter: roots} {
			want, ok := table[key]
			if !ok {
				want = rule.Derived
			}
			f, err := th.Figure(i)
			require.NoError(t, err)
			assert.Equal(t, want, f.Status, "%s of %v", f.Name, th)
		}
	})
}

// The multiples of P are those ISO 68-1:1998 and handbooks print.
func TestProfileMultiples(t *testing.T) {
	th := Thread{D: 10, P: 1}
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"H", th.H(), 0.866025},
		{"h3", th.Depth(), 0.61343},
		{"H1", th.InternalDepth(), 0.541266},
		{"d - d2", th.D - th.PitchDiameter(), 0.649519},
		{"d - d1", th.D - th.MinorDiameter(), 1.082532},
		{"d - d3", th.D - th.RootDiameter(), 1.226869},
	} {
		assert.InDelta(t, c.want, c.got, 1e-5, c.name)
	}
}

// ISO 898-1:2013, tables of nominal stress areas (from memory).
func TestStressArea(t *testing.T) {
	for _, r := range readTable(t, "iso898-1-stress-areas.csv") {
		th, err := New(r.num(t, "d"), r.num(t, "p"))
		require.NoError(t, err)
		assert.Equal(t, r.num(t, "as"), RoundArea(th.StressArea()), "%v", th)
	}
}

func TestRound(t *testing.T) {
	assert.Equal(t, 18.376, Round3(18.37620))
	assert.Equal(t, -0.002, Round3(-0.0015))
	assert.Equal(t, 1030.0, RoundArea(1028.4))
	assert.Equal(t, 84.3, RoundArea(84.2665))
	assert.Equal(t, 0.0, RoundArea(0))
	assert.True(t, math.IsInf(RoundArea(math.Inf(1)), 1))
	assert.True(t, math.IsNaN(RoundArea(math.NaN())))
}

// What holds of every profile of ISO 68-1.
func TestProfileOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		th := unlisted(t)
		d1, d2, d3 := th.MinorDiameter(), th.PitchDiameter(), th.RootDiameter()
		if !(0 < d3 && d3 < d1 && d1 < d2 && d2 < th.D) {
			t.Fatalf("%v: d3 %v, d1 %v, d2 %v", th, d3, d1, d2)
		}
		if e := math.Abs(th.D - d3 - 2*th.Depth()); e > 1e-9 {
			t.Fatalf("%v: depth h3 is out by %g", th, e)
		}
		if e := math.Abs(th.D - d1 - 2*th.InternalDepth()); e > 1e-9 {
			t.Fatalf("%v: depth H1 is out by %g", th, e)
		}
		as := th.StressArea()
		if !(math.Pi/4*d3*d3 < as && as < math.Pi/4*d2*d2) {
			t.Fatalf("%v: stress area %v", th, as)
		}
	})
}

// unlisted draws any valid thread without a class.
func unlisted(t *rapid.T) Thread {
	d := rapid.Float64Range(minD, maxD).Draw(t, "d")
	p := rapid.Float64Range(minP, d/2).Draw(t, "p")
	th, err := Unlisted(d, p)
	if err != nil {
		t.Fatal(err)
	}
	return th
}
