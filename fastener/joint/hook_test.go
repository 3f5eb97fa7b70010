package joint

import (
	"testing"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/thread"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// window is a pane of glass on a frame, held by an M10 hook bolt.
func window() Joint {
	return Joint{Scene: Hook, Bolt: fastener.Spec{Thread: thread.MustParse("M10")},
		Parts: []Part{{Name: "Window", Material: "glass", Thickness: 12, Brittle: true},
			{Name: "Frame", Thickness: 15}}}
}

// barHeld is a steel bar in place of the glass, and thinBar a thinner one on a
// larger bolt, so that the square under the hook reaches into the frame.
func barHeld() Joint {
	j := window()
	j.Parts[0] = Part{Name: "Bar", Thickness: 12}
	return j
}

func thinBar() Joint {
	return Joint{Scene: Hook, Bolt: fastener.Spec{Thread: thread.MustParse("M20")},
		Parts: []Part{{Name: "Bar", Thickness: 8}, {Name: "Frame", Thickness: 25}}}
}

// TestHookByHand works the joint by hand. The hook of an M10 is 2D = 20 wide
// with a square of D = 10, so that it reaches D = 10 over; the edge of glass
// stays 2 mm off the square (0.1D is less), overlap 8. Grip 2 + 12 + 2 + 15 =
// 31; washer 10/8 = 1.25, nut 10, pitch 1.5: 43.75, so ISO 888 gives 45. Its
// thread 2D + 6 = 26 begins at 19, and the nut seats at 32.25. The square is
// 0.8D = 8 long and ends before the frame at 16.
func TestHookByHand(t *testing.T) {
	j := complete(t, window())
	assert.Equal(t, 2.0, j.Parts[0].Packing)
	assert.Equal(t, 8.0, j.Parts[0].Overlap)
	assert.Zero(t, j.Parts[0].Hole)
	assert.Equal(t, 11.0, j.Parts[1].Hole, "ISO 273, medium")
	assert.Zero(t, j.Parts[1].SlotWidth)
	assert.InDelta(t, 31, j.grip(), 1e-9)
	assert.Equal(t, 45.0, j.Bolt.Length)
	assert.Empty(t, codes(t, j))
	m, err := newModel(j)
	require.NoError(t, err)
	assert.InDelta(t, 15, m.tip(), 1e-9, "2D - D/2")
	assert.InDelta(t, 7, m.edge(), 1e-9)
}

// TestSquareInFrame: the square under the hook of an M20 is 16 long, the bar 8
// thick: it reaches 8 into the frame, which gets a square hole of 20 + 1 (0.05D
// of play). That holds it, so that the edge of the bar need not.
func TestSquareInFrame(t *testing.T) {
	j := complete(t, thinBar())
	assert.Equal(t, 21.0, j.Parts[1].SlotWidth)
	assert.Zero(t, j.Parts[1].Hole)
	assert.Empty(t, codes(t, j))
	j.Parts[0].Overlap = 12 // 8 mm from the square
	assert.Empty(t, codes(t, j))
}

// TestSquareTooLong: a square 16 long in 14 of grip stops the nut, which meets
// the end of the thread as well. A square hole of 28 is 39.6 over its corners,
// and the washer has 2D + 3 = 43, less than 39.6 + 0.2D = 43.6; the square of
// 20 is loose in it as well.
func TestSquareTooLong(t *testing.T) {
	j := complete(t, thinBar())
	j.Parts = []Part{j.Parts[0], j.Parts[1]}
	j.Parts[0].Thickness, j.Parts[1].Thickness = 2, 12
	j.Bolt.Length, j.Bolt.ThreadLength = 40, 24
	assert.ElementsMatch(t, []Code{NeckLong, ThreadEnds}, codes(t, j))
	_, err := Draw(j, drawing.Style{})
	require.NoError(t, err)

	j = complete(t, thinBar())
	j.Parts[1].SlotWidth = 28
	assert.ElementsMatch(t, []Code{NeckLoose, WasherCover}, codes(t, j))
}

// TestHookCautions: the drawing of a brittle part carries the caution, and says
// who holds the hook; that of a steel bar does not.
func TestHookCautions(t *testing.T) {
	for _, c := range []struct {
		joint Joint
		hold  bool
		text  bool
	}{{window(), true, true}, {barHeld(), false, false}} {
		d, err := Draw(c.joint, drawing.Style{})
		require.NoError(t, err)
		hold, caution := false, false
		for _, it := range texts(d) {
			if s, ok := it.Shape.(drawing.Text); ok {
				hold = hold || len(s.Value) > 8 && s.Value[:8] == "Hold the"
				caution = caution || len(s.Value) > 8 && s.Value[:8] == "CAUTION:"
			}
		}
		assert.Equal(t, c.hold, hold)
		assert.Equal(t, c.text, caution)
	}
}

func TestHookErrors(t *testing.T) {
	j := window()
	j.Bolt.Kind = "tee-bolt"
	_, err := j.Check()
	assert.ErrorContains(t, err, "bolt.kind: tee-bolt does not belong in the scene hook; use hook-bolt")
	j = window()
	j.HeadWasher = "plain"
	_, err = j.Check()
	assert.ErrorContains(t, err, "head_washer: no washer goes under a hook")
}

// TestHookChooserIsSound: whatever the size, what is chosen has no finding and
// nothing touches on the drawing, as long as the parts are thicker than the
// square under the hook is long.
func TestHookChooserIsSound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SampledFrom([]float64{5, 6, 8, 10, 12, 14, 16, 20, 24, 30, 36}).Draw(t, "d")
		th, err := thread.Coarse(d)
		require.NoError(t, err)
		j := Joint{Scene: Hook,
			Bolt: fastener.Spec{Thread: th, Form: rapid.SampledFrom([]string{"", "quarter", "half"}).Draw(t, "form")},
			Parts: []Part{{Thickness: rapid.Float64Range(6, 40).Draw(t, "part"),
				Brittle: rapid.Bool().Draw(t, "brittle")}}}
		if d != 14 {
			j.Basis = fastener.Basis(rapid.IntRange(0, 1).Draw(t, "basis"))
		}
		for range rapid.IntRange(1, 2).Draw(t, "parts") {
			j.Parts = append(j.Parts, Part{Thickness: d * rapid.Float64Range(0.8, 3).Draw(t, "t")})
		}
		soundAndClear(t, j)
	})
}
