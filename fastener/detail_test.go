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

// TestDetails: where a size is under a millimetre on paper, its place is drawn
// larger; every figure is still said once, and nothing touches.
func TestDetails(t *testing.T) {
	found := 0
	for _, m := range models(t) {
		for _, scale := range []float64{1, 0.2} {
			opt := fastener.DrawOptions{Options: fastener.Options{Style: drawing.Style{Scale: scale}}}
			whole, err := fastener.Draw(m.f, opt)
			require.NoError(t, err)
			opt.Details = true
			d, err := fastener.Draw(m.f, opt)
			require.NoError(t, err)
			assert.Empty(t, clash.Find(d), "%s, %g", m.name, scale)
			assert.Equal(t, figures(whole), figures(d), "%s, %g", m.name, scale)
			require.NoError(t, d.Validate())
			found += len(d.Views) - len(whole.Views)
		}
	}
	assert.Greater(t, found, 10)
	w := fastener.SpringWasher{Thread: thread.MustParse("M6")} // a gap of 0.42
	d, err := fastener.Draw(w, fastener.DrawOptions{Details: true})
	require.NoError(t, err)
	last := d.Views[len(d.Views)-1].View
	assert.Equal(t, "detail A", last.Name)
	said := figures(&drawing.Drawing{Views: []drawing.Placed{{View: last}}})
	assert.Equal(t, map[string]int{"0.42": 1}, said)
}
