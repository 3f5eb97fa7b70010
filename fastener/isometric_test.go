package fastener_test

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/internal/plane"
	"boltplate/thread"
)

// TestDimensionPictorial: the main sizes of an M20 bolt stand in its isometric
// view as figures, their letters lean by 30 degrees into the plane of two axes,
// and no text of any kind touches another.
func TestDimensionPictorial(t *testing.T) {
	opt := fastener.Options{DimensionPictorial: true}
	v, err := fastener.HexBolt{Thread: thread.MustParse("M20"), Length: 80}.View(drawing.Isometric, opt)
	require.NoError(t, err)
	said := map[string]float64{}
	for _, it := range v.Items {
		if s, ok := it.Shape.(drawing.Text); ok {
			said[s.Value] = s.Slant
		}
	}
	for _, want := range []string{"80", "46", "16", "40", "M20"} {
		require.Contains(t, said, want)
		assert.InDelta(t, 30, math.Abs(said[want]), 1e-6, want)
	}
	for _, m := range models(t) {
		for _, scale := range []float64{1, 0.5, 2} {
			opt.Style.Scale = scale
			d, err := fastener.Draw(m.f, fastener.DrawOptions{Options: opt, Views: []drawing.Direction{drawing.Isometric}})
			require.NoError(t, err)
			require.NoError(t, d.Validate())
			for _, v := range d.Views {
				assert.Empty(t, struckSlanted(v.View, d.Style), "%s, %g", m.name, scale)
			}
		}
	}
}

// struckSlanted returns slanted texts of a view that a line runs through, each in
// the frame of its own letters.
func struckSlanted(v drawing.View, st drawing.Style) (out []string) {
	for _, it := range v.Items {
		s, ok := it.Shape.(drawing.Text)
		if !ok || s.Slant == 0 {
			continue
		}
		box := s.Box(st)
		u, w := box[1].Sub(box[0]), box[3].Sub(box[0])
		det := u.X*w.Y - u.Y*w.X
		in := func(p drawing.Point) plane.Vec { // 0 to 1 both ways
			q := p.Sub(box[0])
			return plane.Vec{X: (q.X*w.Y - q.Y*w.X) / det, Y: (u.X*q.Y - u.Y*q.X) / det}
		}
		for _, o := range v.Items {
			if _, text := o.Shape.(drawing.Text); text || o.Role == drawing.RoleCentre {
				continue
			}
			for _, chain := range drawing.Flatten(o.Shape, 0.05) {
				for i := range len(chain) - 1 {
					if plane.SegmentHitsBox(in(chain[i]), in(chain[i+1]), plane.Box{Min: plane.Vec{X: 0.02, Y: 0.02}, Max: plane.Vec{X: 0.98, Y: 0.98}}) {
						out = append(out, s.Value+" by "+o.Role.String())
					}
				}
			}
		}
	}
	return out
}
