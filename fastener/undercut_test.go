package fastener_test

import (
	"math"
	"testing"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/internal/clash"
	"boltplate/thread"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestUndercut: the undercut of an M20 by hand, from DIN 76-1 as remembered: 16.4 across
// its bottom, 8.7 wide in form A and 6.3 in form B, with a radius of 1.2; its slope of
// 30 degrees takes (20 - 16.4)/2 / tan 30 = 3.118 of that.
func TestUndercut(t *testing.T) {
	m20 := thread.MustParse("M20")
	for word, width := range map[string]float64{"regular": 8.7, "short": 6.3} {
		for _, kind := range []string{"hex-screw", "tap-bolt", "cap-screw"} {
			f, err := fastener.New(fastener.Spec{Kind: kind, Thread: m20, Length: 50, Extra: fastener.Extra{Undercut: word}})
			require.NoError(t, err)
			assert.Contains(t, f.Designation(), map[string]string{"regular": "undercut DIN 76-A", "short": "undercut DIN 76-B"}[word])
			assert.InDelta(t, 50-width, quantity(t, f, "thread length").Value, 1e-9)
			floor := width - 1.8*math.Sqrt(3)
			assert.InDelta(t, floor, quantity(t, f, "width of the undercut's floor").Value, 1e-6)
			v, err := f.View(drawing.Front, fastener.Options{})
			require.NoError(t, err)
			assert.True(t, has(v, drawing.RoleOutline, 1.2, 8.2, floor, 8.2), "%s %s: its bottom", kind, word)
			assert.True(t, has(v, drawing.RoleOutline, floor, 8.2, width, 10), "%s %s: its slope", kind, word)
			assert.True(t, has(v, drawing.RoleOutline, width, -10, width, 10), "%s %s: the thread begins", kind, word)
			end, err := f.View(drawing.HeadEnd, fastener.Options{Hidden: true})
			require.NoError(t, err)
			for _, it := range end.Items {
				if c, ok := it.Shape.(drawing.Circle); ok { // 16.4 would lie on the root, 16.93
					assert.Greater(t, math.Abs(c.Radius-8.2), 0.7, "%s %s: %v", kind, word, it.Role)
				}
			}
			for _, o := range []fastener.Options{{}, {Hidden: true}, {Exact: true}, {Simplified: true}, {Break: true}} {
				d, err := fastener.Draw(f, fastener.DrawOptions{Options: o, Views: []drawing.Direction{drawing.Front, drawing.HeadEnd, drawing.Isometric}})
				require.NoError(t, err)
				assert.Empty(t, clash.Find(d), "%s %s %+v", kind, word, o)
				said := figures(d)
				for _, w := range []string{"16.4", "1.2", drawing.FormatValue(width, false), drawing.FormatValue(floor, false)} {
					if o.Simplified {
						assert.NotContains(t, said, w, "%s %s", kind, word)
					} else {
						assert.Contains(t, said, w, "%s %s", kind, word)
					}
				}
			}
			spec, ok := fastener.SpecOf(f)
			require.True(t, ok)
			back, err := fastener.New(spec)
			require.NoError(t, err)
			assert.Equal(t, f, back)
		}
	}
	for _, s := range []fastener.Spec{
		{Kind: "hex-screw", Thread: m20, Length: 60, Extra: fastener.Extra{Undercut: "deep"}},
		{Kind: "cap-screw", Thread: m20, Length: 120, Extra: fastener.Extra{Undercut: "short"}}, // on the shank
		{Kind: "cap-screw", Thread: m20, Length: 50, ThreadLength: 30, Extra: fastener.Extra{Undercut: "short"}},
		{Kind: "hex-bolt", Thread: m20, Length: 120, Extra: fastener.Extra{Undercut: "short"}},
		{Kind: "hex-nut", Thread: m20, Extra: fastener.Extra{Undercut: "short"}}} {
		_, err := fastener.New(s)
		assert.ErrorContains(t, err, "undercut", "%+v", s)
	}
}
