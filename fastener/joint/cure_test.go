package joint

import (
	"errors"
	"slices"
	"testing"

	"boltplate/fastener"
	"boltplate/thread"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// anyJoint draws a joint with values given, right or wrong, and left out.
func anyJoint(t *rapid.T) Joint {
	d := rapid.SampledFrom([]float64{5, 6, 8, 10, 12, 16, 20, 24, 30, 36}).Draw(t, "d")
	th, err := thread.Coarse(d)
	require.NoError(t, err)
	size := someSize(t, d)
	word := func(name string, words ...string) string { return rapid.SampledFrom(words).Draw(t, name) }
	seldom := func(name string) bool { return rapid.IntRange(0, 5).Draw(t, name) == 0 }
	j := Joint{Scene: rapid.SampledFrom(Scenes()).Draw(t, "scene"),
		Basis: fastener.Basis(rapid.IntRange(0, 1).Draw(t, "basis")),
		Bolt:  fastener.Spec{Thread: th, Length: size("length", 5), ThreadLength: size("thread", 2)}}
	if seldom("room") {
		j.Room = size("room", 1.5)
	}
	if seldom("spaced") {
		j.Spacing = size("spacing", 3)
	}
	s := j.scene()
	if len(s.kinds) > 0 {
		j.Bolt.Kind = word("kind", append([]string{""}, s.kinds...)...)
	}
	if j.Scene == Lifting {
		j.Bolt.Length, j.Bolt.ThreadLength = 0, 0
		j.Pull, j.PullAcross = rapid.SampledFrom([]float64{0, 0, 30, 60, 90}).Draw(t, "pull"), seldom("across")
	}
	if s.nut {
		j.Nut = word("nut", "", "", "thin", "cap", "square", "castle")
		j.Washer = word("washer", "", "none", "plain", "spring")
	}
	for range rapid.IntRange(s.parts[0], s.parts[1]).Draw(t, "parts") {
		p := Part{Thickness: d * rapid.Float64Range(0.3, 4).Draw(t, "t"),
			Material: word("material", "", "steel", "cast iron", "aluminum", "soft alloy")}
		for _, name := range s.reads {
			*p.Number(name) = size(name, 1.6)
			if slices.Contains(optionalFields(), name) && !seldom("with "+name) {
				*p.Number(name) = 0
			}
			if name == "slope" && p.Slope != 0 {
				p.Slope = rapid.Float64Range(0.1, 20).Draw(t, "degrees")
			}
			if name == "sink_angle" && p.SinkAngle != 0 {
				p.SinkAngle = rapid.SampledFrom([]float64{45, 60, 82, 90, 120}).Draw(t, "angle")
			}
		}
		if seldom("edge") {
			p.Edge = size("edge", 1.5)
		}
		p.Brittle = seldom("brittle") && seldom("very brittle")
		j.Parts = append(j.Parts, p)
	}
	// What the scene has no use for is not given.
	for range 40 {
		var field *FieldError
		if err := j.unread(j.scene()); !errors.As(err, &field) {
			break
		}
		j, err = j.With(Change{Field: field.Field})
		require.NoError(t, err)
	}
	return j
}

// TestEveryRemedyCures: each finding of a random joint has a remedy that makes
// it go away and leaves no worse joint, and with all of them nothing is found.
func TestEveryRemedyCures(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := anyJoint(t)
		s, err := j.Settle()
		var field *FieldError
		if errors.As(err, &field) {
			t.Skip()
		}
		require.NoError(t, err)
		for _, f := range s.Findings {
			require.NotEmpty(t, f.Fix, "%v\n%+v", f, s.Joint)
			next, err := s.Joint.With(f.Fix...)
			require.NoError(t, err)
			left, err := next.Check()
			require.NoError(t, err, "%v", f)
			assert.Less(t, count(left, f.Code), count(s.Findings, f.Code), "%v: %v", f, f.Fix)
			assert.Less(t, worth(left), worth(s.Findings), "%v: %v", f, f.Fix)
		}
		fixed, _, err := j.Fixed()
		require.NoError(t, err)
		left, err := fixed.Check()
		require.NoError(t, err)
		require.Empty(t, left, "%+v\n%+v", j, fixed)
	})
}
