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

// specimensWith makes every kind with every choice of every option, by what
// KindInfo says, so that a new kind is tested without a word here.
func specimensWith(th thread.Thread, length float64, basis fastener.Basis) []fastener.Fastener {
	var out []fastener.Fastener
	for _, s := range specsWith(th, length, basis) {
		if f, err := fastener.New(s); err == nil {
			out = append(out, f)
		}
	}
	return out
}

// specsWith returns the descriptions of the specimens, among them some that
// cannot be.
func specsWith(th thread.Thread, length float64, basis fastener.Basis) []fastener.Spec {
	var specs []fastener.Spec
	for _, k := range fastener.Kinds() {
		var base []fastener.Spec
		s := fastener.Spec{Kind: k.Name}
		if k.Length {
			s.Length = length
		}
		base = append(base, s)
		if k.Length { // a form that has its own
			own := s
			own.Length = 0
			base = append(base, own)
		}
		for _, o := range k.Options {
			switch o.Name {
			case "thread":
				t := s
				t.ThreadLength = length * 0.35
				specs = append(specs, t)
			case "governs":
				for _, g := range []fastener.Governs{fastener.Flats, fastener.Corners} {
					t := s
					t.Governs = g
					specs = append(specs, t)
				}
			case "form", "neck", "angle", "material", "taper", "widths":
				var more []fastener.Spec
				for _, b := range base {
					for _, w := range o.Choices {
						more = append(more, withWord(b, o.Name, w))
					}
				}
				base = append(base, more...)
			}
		}
		specs = append(specs, base...)
		specs = append(specs, withNuts(k, s, length)...)
	}
	for i := range specs {
		specs[i].Thread, specs[i].Basis = th, basis
	}
	return specs
}

func withWord(s fastener.Spec, option, word string) fastener.Spec {
	switch option {
	case "form":
		s.Form = word
	case "neck":
		s.Neck = word
	case "angle":
		s.Angle = word
	case "material":
		s.Material = word
	case "taper":
		s.Taper = word
	case "widths":
		s.Widths = word
	}
	return s
}

// withNuts puts every nut that the kind takes on it. The grips take turns; on a
// hexagonal bolt every nut has every washer, elsewhere they take turns too.
func withNuts(k fastener.KindInfo, s fastener.Spec, length float64) []fastener.Spec {
	var nuts []string
	washers := []string{""}
	for _, o := range k.Options {
		switch o.Name {
		case "nut":
			nuts = o.Choices
		case "washer":
			washers = append(washers, o.Choices...)
		}
	}
	grips := []float64{0.7, 0.55, 0.4}
	var out []fastener.Spec
	for i, nut := range nuts {
		for j, washer := range washers {
			for n, part := range grips {
				if (i+j+n)%len(grips) != 0 && nut != "cap" || k.Name != "hex-bolt" && i%len(washers) != j {
					continue // few grips suit a cap nut
				}
				t := s
				t.Nut, t.Washer, t.Grip = nut, washer, length*part
				out = append(out, t)
			}
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
		one(drawing.Front, drawing.SideView, drawing.HeadEnd, drawing.PointEnd, drawing.Isometric), one(drawing.SideView, drawing.HeadEnd), one(drawing.Isometric),
	}
	scales := []float64{1, 0.5, 2}
	sizes := []float64{3, 5, 8, 12, 16, 20, 30, 42, 48, 64}
	if testing.Short() {
		sizes = []float64{12}
	}
	for _, d := range sizes {
		t.Run(fmt.Sprintf("M%g", d), func(t *testing.T) {
			t.Parallel()
			drawn := 0
			for _, k := range []float64{1.6, 2.5, 4, 7, 12} {
				for _, basis := range []fastener.Basis{fastener.Proportion, fastener.Standard} {
					for fi, f := range specimens(t, d, d*k, basis) {
						for i, views := range viewSets {
							// View sets, labels and scales take turns, so that
							// every view of every kind meets every combination
							// at some size.
							if (fi+i+int(d))%3 != 0 {
								continue
							}
							n := drawn/2 + i
							opt := fastener.DrawOptions{Views: views, Projection: fastener.Projection(i % 2)}
							opt.Style = drawing.Style{Labels: drawing.Labels(n % 3), Scale: scales[n/3%3]}
							opt.Hidden, opt.Section = drawn%2 == 0, drawn%3 == 0
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
