package fastener_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/internal/clash"
	"boltplate/thread"
)

// TestBreak: a long bolt is drawn shorter with the same figures; nothing touches;
// what is left of it on either side is what the whole one has there.
func TestBreak(t *testing.T) {
	for _, m := range models(t) {
		whole, err := fastener.Draw(m.f, fastener.DrawOptions{})
		require.NoError(t, err)
		d, err := fastener.Draw(m.f, fastener.DrawOptions{Options: fastener.Options{Break: true}})
		require.NoError(t, err)
		assert.Empty(t, clash.Find(d), m.name)
		assert.Equal(t, figures(whole), figures(d), m.name)
	}
	long := fastener.HexBolt{Thread: thread.MustParse("M20"), Length: 200}
	v, err := long.View(drawing.Front, fastener.Options{Break: true})
	require.NoError(t, err)
	w, err := long.View(drawing.Front, fastener.Options{})
	require.NoError(t, err)
	cut := w.Outline().Max.X - v.Outline().Max.X
	assert.Greater(t, cut, 100.0)
	lines := map[drawing.Line]bool{}
	for _, it := range w.Items {
		if l, ok := it.Shape.(drawing.Line); ok {
			lines[l] = true
		}
	}
	shifted := 0
	for _, it := range v.Items {
		l, ok := it.Shape.(drawing.Line)
		if !ok || lines[l] {
			continue
		}
		back := drawing.Line{From: l.From.Add(drawing.Pt(cut, 0)), To: l.To.Add(drawing.Pt(cut, 0))}
		near := false
		for o := range lines {
			near = near || math.Hypot(o.From.X-back.From.X, o.From.Y-back.From.Y)+math.Hypot(o.To.X-back.To.X, o.To.Y-back.To.Y) < 1e-6
		}
		if near {
			shifted++
		}
	}
	assert.Greater(t, shifted, 5)
}

// figures returns what the dimensions of a drawing say.
func figures(d *drawing.Drawing) map[string]int {
	out := map[string]int{}
	for _, v := range d.Views {
		for _, it := range v.View.Items {
			drawing.Relabel(it.Shape, func(l drawing.Label) drawing.Label {
				out[l.Text]++
				return l
			})
		}
	}
	return out
}

// TestSimplified: no chamfer, run-out or thread end in a simplified figure, and
// the same extent.
func TestSimplified(t *testing.T) {
	for _, m := range models(t) {
		full, err := fastener.Draw(m.f, fastener.DrawOptions{Options: fastener.Options{Outside: true}})
		require.NoError(t, err)
		d, err := fastener.Draw(m.f, fastener.DrawOptions{Options: fastener.Options{Simplified: true}})
		require.NoError(t, err)
		assert.Empty(t, clash.Find(d), m.name)
		for i := range d.Views {
			if d.Views[i].View.Direction == drawing.Isometric {
				continue
			}
			a, b := full.Views[i].View.Outline(), d.Views[i].View.Outline()
			assert.InDelta(t, a.Max.X-a.Min.X, b.Max.X-b.Min.X, 1e-6, m.name)
			assert.InDelta(t, a.Max.Y-a.Min.Y, b.Max.Y-b.Min.Y, 1e-6, m.name)
		}
		for text := range figures(d) {
			assert.NotContains(t, text, "× 45°", m.name)
		}
	}
}
