package joint

import (
	"math"
	"strings"
	"testing"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/thread"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// lifted is a steel body with an M20 collar eye bolt of DIN 580.
func lifted() Joint {
	return Joint{Scene: Lifting, Basis: fastener.Standard, Bolt: fastener.Spec{Thread: thread.MustParse("M20")}, Pull: 30,
		Parts: []Part{{Name: "Lifting pad", Thickness: 70, Seat: 50}}}
}

// TestLiftingByHand works the joint by hand. DIN 580 M20: l = 30, collar 40.
// Pitch 2.5: the incomplete thread under the collar is 3P = 7.5 deep, and so is
// the relief, 1.1 x 20 = 22 wide. Full thread 30 + 10 = 40 deep, drilled 50.
// Engaged are 30 - 7.5 = 22.5; steel wants 20.
func TestLiftingByHand(t *testing.T) {
	j := complete(t, lifted())
	assert.Equal(t, "eye-bolt", j.Bolt.Kind)
	assert.Equal(t, "collar", j.Bolt.Form)
	assert.Equal(t, 30.0, j.Bolt.Length)
	p := j.Parts[0]
	assert.Equal(t, []float64{22, 7.5, 40, 50}, []float64{p.Relief, p.ReliefDepth, p.FullDepth, p.DrillDepth})
	assert.Empty(t, codes(t, j))
}

// TestLiftingEngagement: cast iron asks for 1.25 x 20 = 25, and the eye bolt
// has 22.5. With a relief of 12 in steel 18 of the 20 are left.
func TestLiftingEngagement(t *testing.T) {
	j := complete(t, lifted())
	j.Parts[0].Material = "cast iron"
	found, err := j.Check()
	require.NoError(t, err)
	require.Len(t, found, 1)
	assert.Equal(t, Engagement, found[0].Code)
	assert.Equal(t, Fault, found[0].Severity)
	assert.Contains(t, found[0].What, "cast iron asks for more thread than the eye bolt has, which is 22.5 mm")
	assert.InDelta(t, 25, found[0].Required, 1e-9)

	j = complete(t, lifted())
	j.Parts[0].ReliefDepth = 12
	found, err = j.Check()
	require.NoError(t, err)
	require.Len(t, found, 1)
	assert.InDelta(t, 18, found[0].Measured, 1e-9)
	assert.InDelta(t, 20, found[0].Required, 1e-9)
}

// TestLiftingPull: 45 degrees is the last that is allowed. DIN 580 M20: the
// ring is 72 across and reaches 71 above the seat, so that its centre is 35
// above it; a pull at 60 degrees leaves it 36 cos 60 = 18 higher and 36 sin 60
// = 31.177 beside the axis.
func TestLiftingPull(t *testing.T) {
	for _, pull := range []float64{0, 30, 45} {
		j := lifted()
		j.Pull = pull
		assert.Empty(t, codes(t, j))
		j.PullAcross = true
		assert.Equal(t, []Code{PullAcross}, codes(t, j))
	}
	j := lifted()
	j.Pull = 60
	found, err := j.Check()
	require.NoError(t, err)
	require.Len(t, found, 1)
	f := found[0]
	assert.Equal(t, PullFlat, f.Code)
	assert.Equal(t, "degrees", f.Unit)
	assert.Equal(t, []float64{60, 45}, []float64{f.Measured, f.Required})
	assert.InDelta(t, -35-18, f.At.X, 1e-9)
	assert.InDelta(t, -36*math.Sqrt(3)/2, f.At.Y, 1e-9, "the left, where the wrong pull is drawn")
	j.PullAcross = true
	assert.Equal(t, []Code{PullAcross, PullFlat}, codes(t, j))
}

// TestLiftingSaysNoLoad: the drawing has its cautions, whatever is found, and
// neither it nor a finding names a load.
func TestLiftingSaysNoLoad(t *testing.T) {
	for _, pull := range []float64{0, 70} {
		j := lifted()
		j.Pull = pull
		d, err := Draw(j, drawing.Style{})
		require.NoError(t, err)
		var all []string
		for _, it := range texts(d) {
			if s, ok := it.Shape.(drawing.Text); ok {
				all = append(all, s.Value)
			}
		}
		text := strings.Join(all, " ")
		for _, want := range []string{"No load rating is given", "maker", "local rules for lifting",
			"licensed practice", "never across the ring", "whole thread"} {
			assert.Contains(t, text, want)
		}
		for _, unit := range []string{" kg", " kN", " tonne", " WLL", " SWL"} {
			assert.NotContains(t, text, unit)
		}
	}
}

// TestLiftingRefuses: what is not for lifting.
func TestLiftingRefuses(t *testing.T) {
	for want, change := range map[string]func(*Joint){
		"bolt.form: flat is not for lifting": func(j *Joint) { j.Bolt.Form = "flat" },
		"bolt.kind: hex-bolt":                func(j *Joint) { j.Bolt.Kind = "hex-bolt" },
		"head_washer":                        func(j *Joint) { j.HeadWasher = "plain" },
		"a length of its own":                func(j *Joint) { j.Bolt.Length = 45 },
		"pull: 200 is not the angle":         func(j *Joint) { j.Pull = 200 },
		"pull: NaN":                          func(j *Joint) { j.Pull = math.NaN() },
	} {
		j := lifted()
		change(&j)
		_, err := j.Check()
		assert.ErrorContains(t, err, want)
	}
}

// TestLiftingChooserIsSound: in steel, what the chooser makes has no finding,
// and nothing on its drawing touches.
func TestLiftingChooserIsSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SampledFrom([]float64{6, 8, 10, 12, 16, 20, 24, 30, 36}).Draw(t, "d")
		th, err := thread.Coarse(d)
		require.NoError(t, err)
		p := Part{Thickness: d * rapid.Float64Range(4.5, 6).Draw(t, "thickness")}
		if rapid.Bool().Draw(t, "faced") {
			p.Seat = 4 * d
		}
		j := Joint{Scene: Lifting, Basis: fastener.Basis(rapid.IntRange(0, 1).Draw(t, "basis")),
			Bolt: fastener.Spec{Thread: th},
			Pull: float64(rapid.IntRange(0, 45).Draw(t, "pull")), Parts: []Part{p}}
		full, choices, err := j.Complete()
		require.NoError(t, err)
		require.NotEmpty(t, choices)
		found, err := full.Check()
		require.NoError(t, err)
		assert.Empty(t, found)
		again, none, err := full.Complete()
		require.NoError(t, err)
		assert.Equal(t, full, again)
		assert.Empty(t, none, "nothing is left to choose")
		untouched(t, full)
	})
}
