package exercise_test

import (
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boltplate/exercise"
	"boltplate/fastener"
	"boltplate/fastener/joint"
	"boltplate/thread"
)

func ExampleDeal() {
	sizes := []string{"M16", "M20", "M24"}
	for place := range 4 {
		fmt.Print(sizes[exercise.Deal("spring term", "figure 1", len(sizes), place)], " ")
	}
	// Output: M16 M20 M24 M16
}

// TestDeal: every card is dealt, about equally often; neighbours differ; the
// rest of the list does not matter, since nothing of it goes in.
func TestDeal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		seed, deck := rapid.String().Draw(t, "seed"), rapid.String().Draw(t, "deck")
		cards := rapid.IntRange(1, 60).Draw(t, "cards")
		dealt := make([]int, cards)
		last := -1
		for place := range 3 * cards {
			c := exercise.Deal(seed, deck, cards, place)
			dealt[c]++
			require.True(t, cards == 1 || c != last)
			last = c
		}
		for _, n := range dealt {
			require.Equal(t, 3, n)
		}
	})
}

// TestNothingToDeal: nothing and nobody is no panic.
func TestNothingToDeal(t *testing.T) {
	assert.Equal(t, -1, exercise.Deal("s", "d", 0, 3))
	assert.Equal(t, -1, exercise.Deal("s", "d", 3, -1))
	assert.Empty(t, exercise.Shuffle("s", "d", -3))
}

// TestShuffleIsFair: over many seeds each card comes first about as often as
// any other.
func TestShuffleIsFair(t *testing.T) {
	first := make([]int, 6)
	for i := range 6000 {
		first[exercise.Shuffle(fmt.Sprint(i), "d", 6)[0]]++
	}
	for _, n := range first {
		assert.InDelta(t, 1000, n, 150) // five times the standard deviation
	}
}

// TestFaults: each variant has exactly one finding, a fault, and differs from
// the sound joint in one value.
func TestFaults(t *testing.T) {
	codes := map[joint.Code]bool{}
	for _, scene := range joint.Scenes() {
		for _, size := range []string{"M12", "M20"} {
			j := joint.Joint{Scene: scene, Bolt: fastener.Spec{Thread: thread.MustParse(size)}, Parts: []joint.Part{{Name: "strap", Thickness: 20}, {Name: "post", Thickness: 60}}}
			switch scene {
			case joint.Lifting:
				j.Parts = j.Parts[1:]
			case joint.TSlot:
				slices.Reverse(j.Parts)
			}
			all, err := exercise.Faults(j)
			require.NoError(t, err, "%s %s", scene, size)
			for _, f := range all {
				found, err := f.Joint.Check()
				require.NoError(t, err)
				require.Len(t, found, 1)
				require.Equal(t, f.Finding.Code, found[0].Code)
				codes[f.Finding.Code] = true
			}
			if scene == joint.ThroughBolt || scene == joint.Tapped || scene == joint.Stud {
				assert.GreaterOrEqual(t, len(all), 4, "%s %s", scene, size)
			}
			again, err := exercise.Faults(j)
			require.NoError(t, err)
			require.True(t, slices.EqualFunc(all, again, func(a, b exercise.Fault) bool { return fmt.Sprint(a) == fmt.Sprint(b) }))
		}
	}
	assert.GreaterOrEqual(t, len(codes), 8, "%v", codes)
}
