package fastener_test

import (
	"fmt"
	"testing"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/internal/clash"
	"boltplate/thread"

	"github.com/stretchr/testify/require"
)

// specimens returns every kind and variant in the given size and length, as
// far as its basis has it.
func specimens(t testing.TB, d, length float64, basis fastener.Basis) []fastener.Fastener {
	th, err := thread.Coarse(d)
	require.NoError(t, err)
	return specimensWith(th, length, basis)
}

func specimensWith(th thread.Thread, length float64, basis fastener.Basis) []fastener.Fastener {
	specs := []fastener.Spec{
		{Kind: "hex-bolt", Length: length},
		{Kind: "hex-bolt", Length: length, Governs: fastener.Flats},
		{Kind: "hex-bolt", Length: length, Governs: fastener.Corners},
		{Kind: "hex-bolt", Length: length, ThreadLength: length * 0.35},
		{Kind: "hex-screw", Length: length},
		{Kind: "square-bolt", Length: length},
		{Kind: "square-bolt", Length: length, Neck: "square"},
		{Kind: "hex-nut"},
		{Kind: "hex-nut", Governs: fastener.Flats},
		{Kind: "thin-nut"},
		{Kind: "square-nut"},
		{Kind: "washer"},
	}
	for _, kind := range []string{"hex-bolt", "hex-screw", "square-bolt"} {
		for _, nut := range []string{"hex", "thin", "square"} {
			for _, washer := range []string{"", "plain"} {
				for _, part := range []float64{0.4, 0.55, 0.7} {
					specs = append(specs, fastener.Spec{Kind: kind, Length: length, Nut: nut, Washer: washer, Grip: length * part})
				}
			}
		}
	}
	var out []fastener.Fastener
	for _, s := range specs {
		s.Thread, s.Basis = th, basis
		if f, err := fastener.New(s); err == nil {
			out = append(out, f)
		}
	}
	return out
}

// TestNothingTouchesALabel draws every kind over a grid of sizes, lengths,
// views, labels and scales and looks for labels that touch anything.
func TestNothingTouchesALabel(t *testing.T) {
	one := func(d ...drawing.Direction) []drawing.Direction { return d }
	viewSets := [][]drawing.Direction{
		nil, one(drawing.Front), one(drawing.SideView), one(drawing.HeadEnd), one(drawing.PointEnd),
		one(drawing.Front, drawing.SideView, drawing.HeadEnd, drawing.PointEnd), one(drawing.SideView, drawing.HeadEnd),
	}
	scales := []float64{1, 0.5, 2}
	for _, d := range []float64{3, 5, 8, 12, 16, 20, 30, 42, 48, 64} {
		t.Run(fmt.Sprintf("M%g", d), func(t *testing.T) {
			t.Parallel()
			drawn := 0
			for _, k := range []float64{1.6, 2.5, 4, 7, 12} {
				for _, basis := range []fastener.Basis{fastener.Proportion, fastener.Standard} {
					for _, f := range specimens(t, d, d*k, basis) {
						for i, views := range viewSets {
							// Labels and scales take turns, so that every view
							// of every kind meets every combination.
							n := drawn/2 + i
							opt := fastener.DrawOptions{Views: views, Projection: fastener.Projection(i % 2)}
							opt.Style = drawing.Style{Labels: drawing.Labels(n % 3), Scale: scales[n/3%3]}
							opt.Hidden = drawn%2 == 0
							opt.Caption = []fastener.CaptionLine{{Tag: "MARK", Text: "SG-01  " + f.Designation()}, {Tag: "QUANTITY", Text: "4 off"}}
							dr, err := fastener.Draw(f, opt)
							require.NoError(t, err, f.Designation())
							drawn++
							for _, msg := range clash.Find(dr) {
								t.Errorf("%s, L/D %g, views %v, labels %s, scale %g: %s", f.Designation(), k, views, opt.Style.Labels, opt.Style.Scale, msg)
							}
						}
					}
				}
			}
			t.Log(drawn, "drawings")
		})
	}
}
