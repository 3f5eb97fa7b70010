package fastener_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/internal/clash"
	"boltplate/thread"
)

// TestEnds: the ends of threads of an M20 by hand: a dog point of 0.75D and 0.5D
// stands after 45 degrees from the crest, a cone runs down at 45 degrees to
// 0.25D, a rounded end has 1.4D; nothing touches, every size is said, and the
// length is the same.
func TestEnds(t *testing.T) {
	m20 := thread.MustParse("M20")
	for end, want := range map[string][]string{"round": {"28"}, "dog": {"15", "10"}, "cone": {"5", "90°"}, "cup": {"14", "120°"}} {
		for kind, length := range map[string]float64{"hex-bolt": 80, "hex-screw": 60, "tap-bolt": 60, "cap-screw": 80, "cheese-screw": 60, "square-bolt": 80, "stud": 80} {
			f, err := fastener.New(fastener.Spec{Kind: kind, Thread: m20, Length: length, Extra: fastener.Extra{End: end}})
			require.NoError(t, err, "%s %s", kind, end)
			assert.Contains(t, f.Designation(), map[string]string{"round": "rounded end", "dog": "dog point", "cone": "cone point", "cup": "cup point"}[end])
			for _, o := range []fastener.Options{{}, {Hidden: true}, {Exact: true}, {Simplified: true}, {Break: true}} {
				d, err := fastener.Draw(f, fastener.DrawOptions{Options: o, Views: []drawing.Direction{drawing.Front, drawing.PointEnd, drawing.Isometric}})
				require.NoError(t, err)
				assert.Empty(t, clash.Find(d), "%s %s %+v", kind, end, o)
				said := figures(d)
				for _, w := range want {
					if o.Simplified { // the end is not drawn
						continue
					}
					assert.Contains(t, said, w, "%s %s", kind, end)
				}
			}
			plain, err := fastener.New(fastener.Spec{Kind: kind, Thread: m20, Length: length})
			require.NoError(t, err)
			a, err := f.View(drawing.Front, fastener.Options{})
			require.NoError(t, err)
			b, err := plain.View(drawing.Front, fastener.Options{})
			require.NoError(t, err)
			assert.InDelta(t, b.Outline().Max.X, a.Outline().Max.X, 1e-9, "%s %s", kind, end)
			spec, ok := fastener.SpecOf(f)
			require.True(t, ok)
			back, err := fastener.New(spec)
			require.NoError(t, err)
			assert.Equal(t, f, back)
		}
	}
	v, err := fastener.HexBolt{Thread: m20, Length: 80, Extra: fastener.Extra{End: "dog"}}.View(drawing.Front, fastener.Options{})
	require.NoError(t, err)
	assert.True(t, has(v, drawing.RoleOutline, 80, -7.5, 80, 7.5), "its end, 15 across")
	assert.True(t, has(v, drawing.RoleOutline, 70, 7.5, 80, 7.5), "its side, 10 long")
	assert.True(t, has(v, drawing.RoleOutline, 67.5, 10, 70, 7.5), "45 degrees from the crest")
	v, err = fastener.HexBolt{Thread: m20, Length: 80, Extra: fastener.Extra{End: "cone"}}.View(drawing.Front, fastener.Options{})
	require.NoError(t, err)
	assert.True(t, has(v, drawing.RoleOutline, 72.5, 10, 80, 2.5), "from 20 to 5 across in 7.5")
	for _, s := range []fastener.Spec{{Kind: "hex-nut", Thread: m20, Extra: fastener.Extra{End: "dog"}},
		{Kind: "hex-bolt", Thread: m20, Length: 80, Extra: fastener.Extra{End: "point"}},
		{Kind: "hex-bolt", Thread: m20, Length: 60, ThreadLength: 10, Extra: fastener.Extra{End: "dog"}}} {
		_, err := fastener.New(s)
		assert.ErrorContains(t, err, "end")
	}
}
