package drawing_test

import (
	"testing"

	"boltplate/drawing"
	"boltplate/internal/clash"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// TestArrangedViewsHaveNoClash: no label touches another, and no line runs
// through one, whatever is dimensioned.
func TestArrangedViewsHaveNoClash(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := drawing.RandomView(t)
		k := rapid.SampledFrom([]float64{1, 0.5, 2}).Draw(t, "scale")
		st := drawing.Style{Labels: rapid.SampledFrom([]drawing.Labels{drawing.Numbers, drawing.Rules, drawing.Letters}).Draw(t, "labels")}
		in := st
		in.Scale = k
		d := &drawing.Drawing{Style: st, Views: []drawing.Placed{{View: drawing.Arrange(v, in), Scale: k}}}
		assert.Empty(t, clash.Find(d))
	})
}

func TestPlateHasNoClash(t *testing.T) {
	for _, notation := range []string{
		drawing.Plate,
		drawing.Plate + "; angle 80 50 10 70 2; radius 60 35 8 -45",
		"line 0 0 40 0; line 0 0 0 30; line 40 0 0 30; aligned 0 30 40 0; below 0 0 40 0; left 0 0 0 30",
	} {
		d := &drawing.Drawing{Views: []drawing.Placed{{View: drawing.Arrange(drawing.ParseView(notation), drawing.Style{})}}}
		assert.Empty(t, clash.Find(d), notation)
	}
}
