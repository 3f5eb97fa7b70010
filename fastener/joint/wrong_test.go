package joint

import (
	"errors"
	"testing"

	"boltplate/drawing"
	"boltplate/dxfout"
	"boltplate/fastener"
	"boltplate/internal/clash"
	"boltplate/thread"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// TestWrongIsDrawn: a T-slot or a hook with any sizes is drawn, right or wrong,
// or refused with the field that is wrong; nothing touches.
func TestWrongIsDrawn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SampledFrom([]float64{5, 8, 12, 16, 24, 36}).Draw(t, "d")
		th, err := thread.Coarse(d)
		require.NoError(t, err)
		size := func(name string, k float64) float64 {
			if rapid.Bool().Draw(t, name+" given") {
				return d * k * rapid.Float64Range(0.5, 1.6).Draw(t, name)
			}
			return 0
		}
		j := Joint{Scene: rapid.SampledFrom([]Scene{TSlot, Hook}).Draw(t, "scene"), Room: size("room", 1.2),
			Bolt: fastener.Spec{Thread: th, Length: size("length", 5), ThreadLength: size("thread", 2)}}
		first := Part{Thickness: d * 3, Edge: size("edge", 2)}
		if j.Scene == TSlot {
			first.SlotWidth, first.SlotHead, first.SlotDepth, first.SlotWhole = size("a", 1.2), size("b", 1.9),
				size("c", 0.8), size("h", 1.8)
		} else {
			first = Part{Thickness: d * rapid.Float64Range(0.2, 2).Draw(t, "t"), Overlap: size("overlap", 1),
				Packing: size("packing", 0.1), Brittle: rapid.Bool().Draw(t, "brittle"), Hole: size("hole", 1)}
		}
		second := Part{Thickness: d * rapid.Float64Range(0.3, 2).Draw(t, "t2"), Hole: size("hole 2", 1.1),
			Edge: size("edge 2", 1.5)}
		if j.Scene == Hook {
			second.SlotWidth = size("square", 1.1)
		}
		j.Parts = []Part{first, second}
		dr, err := Draw(j, drawing.Style{Scale: rapid.SampledFrom([]float64{1, 2}).Draw(t, "scale")})
		var field *FieldError
		if errors.As(err, &field) {
			return
		}
		require.NoError(t, err)
		require.Empty(t, clash.Find(dr))
		_, err = dxfout.Encoder{}.Append(nil, dr)
		require.NoError(t, err)
	})
}

// TestRingsOnce: two findings in one place have one ring.
func TestRingsOnce(t *testing.T) {
	j := complete(t, window())
	j.Parts[0].Overlap, j.Parts[0].Packing = 4, 0.5
	require.ElementsMatch(t, []Code{HookCover, PackingThin}, codes(t, j))
	d, err := Draw(j, drawing.Style{})
	require.NoError(t, err)
	seen := map[drawing.Circle]bool{}
	for _, it := range d.Items {
		if c, ok := it.Shape.(drawing.Circle); ok {
			require.False(t, seen[c], "%v twice", c)
			seen[c] = true
		}
	}
}
