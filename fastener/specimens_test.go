package fastener_test

import (
	"testing"

	"boltplate/fastener"
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
			case "end", "undercut":
				for _, w := range o.Choices {
					specs = append(specs, withWord(s, o.Name, w))
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
	case "end":
		s.End = word
	case "undercut":
		s.Undercut = word
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
