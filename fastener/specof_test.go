package fastener

import (
	"slices"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"

	"boltplate/thread"
)

// TestSpecOf: New undoes SpecOf, for every kind with every choice of its
// options, alone and two together, on both bases; and what Describe says can
// be read again.
func TestSpecOf(t *testing.T) {
	made, standards := 0, 0
	for _, k := range Kinds() {
		for _, th := range []string{"M8", "M16", "M16x1.5-LH"} {
			for _, basis := range []Basis{Proportion, Standard} {
				base := Spec{Kind: k.Name, Thread: thread.MustParse(th), Basis: basis, Extra: Extra{Class: "8.8"}}
				if k.Length {
					base.Length = 80
				}
				specs := []Spec{base}
				for _, o := range k.Options {
					for _, s := range slices.Clone(specs) {
						for _, w := range o.Choices {
							switch to := s.word(o.Name); {
							case to != nil:
								*to = w
							case o.Name == "nut":
								s.Nut, s.Grip = w, 40
							case o.Name == "washer" && s.Nut != "":
								s.Washer = w
							}
							specs = append(specs, s)
						}
						switch o.Name {
						case "thread":
							s.ThreadLength = 30
						case "governs":
							s.Governs = Flats
						default:
							continue
						}
						specs = append(specs, s)
					}
				}
				for _, s := range specs {
					f, err := New(s)
					if err != nil {
						continue
					}
					made++
					back, ok := SpecOf(f)
					require.True(t, ok, "%+v: %+v", s, back)
					again, err := New(back)
					require.NoError(t, err)
					require.Equal(t, f, again)
					if len(specs) < 2000 || made%7 == 0 {
						standards += described(t, f)
					}
				}
			}
		}
	}
	require.Greater(t, made, 3000)
	require.Greater(t, standards, 100)
	_, ok := SpecOf(nil)
	require.False(t, ok)
	m16 := thread.MustParse("M16")
	s, ok := SpecOf(Bolted{Bolt: HexBolt{Thread: m16, Length: 80}, Nut: HexNut{Thread: thread.MustParse("M20")},
		Grip: 40})
	require.False(t, ok)
	require.Equal(t, "hex", s.Nut)
}

func described(t *testing.T, f Fastener) int {
	said := map[string]string{}
	for _, p := range Describe(f) {
		require.NotContains(t, said, p.Key)
		require.NotEmpty(t, p.Value)
		said[p.Key] = p.Value
	}
	require.Equal(t, f.Designation(), said["designation"])
	for _, key := range []string{"diameter", "pitch", "length", "thread_length", "grip"} {
		if s, ok := said[key]; ok {
			v, err := strconv.ParseFloat(s, 64)
			require.NoError(t, err)
			require.Positive(t, v)
		}
	}
	if said["standard"] == "" {
		return 0
	}
	require.Regexp(t, `^(ISO|DIN|IS) [0-9-]+$`, said["standard"])
	return 1
}
