package fastener_test

import (
	"math"
	"slices"
	"testing"

	"boltplate/fastener"
	"boltplate/thread"

	"github.com/stretchr/testify/require"
)

// assemblies returns the families in one size, length and basis: every part
// alone, and every nth of them as they go on each other, from the one whose
// turn it is.
func assemblies(t *testing.T, th thread.Thread, length float64, basis fastener.Basis, turn,
	nth int) []*assembly {
	of := func(f fastener.Fastener, letter string) float64 {
		qs, err := f.Quantities()
		require.NoError(t, err)
		for _, q := range qs {
			if q.Letter == letter {
				return q.Value
			}
		}
		t.Fatalf("%s: no quantity %s", f.Designation(), letter)
		return 0
	}
	var out []*assembly
	valid := func(f fastener.Fastener) bool { return f.Validate() == nil }
	nut := func(f fastener.Fastener, x float64, alone bool) block {
		b := block{what: "nut", n: 6, half: of(f, "W") / 2, x0: x, x1: x + of(f, "H"), cut1: true, bored: alone}
		switch n := f.(type) {
		case fastener.SquareNut:
			b.n = 4
		case fastener.HexNut:
			b.cut0 = n.Thin // both ways round
		}
		return b
	}
	governs := []fastener.Governs{fastener.Corners, fastener.Flats}
	var nuts, bolts []fastener.Fastener
	for _, g := range governs {
		nuts = append(nuts,
			fastener.HexNut{Thread: th, Basis: basis, Governs: g},
			fastener.HexNut{Thread: th, Basis: basis, Governs: g, Thin: true})
		bolts = append(bolts,
			fastener.HexBolt{Thread: th, Length: length, Basis: basis, Governs: g},
			fastener.HexBolt{Thread: th, Length: length, Basis: basis, Governs: g, ToHead: true})
	}
	nuts = append(nuts,
		fastener.SquareNut{Thread: th, Basis: basis},
		fastener.SquareNut{Thread: th, Basis: basis, Thin: true})
	bolts = append(bolts,
		fastener.SquareBolt{Thread: th, Length: length, Basis: basis},
		fastener.SquareBolt{Thread: th, Length: length, Basis: basis, SquareNeck: true},
		fastener.HexBolt{Thread: th, Length: length, Basis: basis, ThreadLength: length / 3})
	washer := fastener.Washer{Thread: th, Basis: basis}
	for _, n := range nuts {
		if valid(n) {
			b := nut(n, 0, true)
			out = append(out, &assembly{name: "nut", f: n, t: th, prisms: []block{b}})
		}
	}
	if valid(washer) {
		out = append(out, &assembly{name: "washer", f: washer, t: th,
			discs: []disc{{of(washer, "d2") / 2, of(washer, "d1") / 2, 0, of(washer, "t")}}})
	}
	for _, f := range bolts {
		if !valid(f) {
			continue
		}
		head := block{what: "head", n: 6, half: of(f, "W") / 2, x0: -of(f, "T"), cut0: true}
		a := assembly{name: "bolt", f: f, t: th, bolt: true, end: length, limit: length - of(f, "b")}
		if s, ok := f.(fastener.SquareBolt); ok {
			head.n = 4
			if s.SquareNeck {
				a.start = of(f, "N")
				a.prisms = append(a.prisms, block{what: "neck", n: 4, half: of(f, "S") / 2, x1: a.start,
					neck: true})
			}
		}
		a.prisms = append(a.prisms, head)
		out = append(out, &a)
		for _, n := range nuts {
			for _, w := range []fastener.Fastener{nil, washer} {
				if !valid(n) || w != nil && !valid(w) {
					continue
				}
				thick := 0.0
				if w != nil {
					thick = of(w, "t")
				}
				// The grip from the least, where the thread begins under the
				// nut, to the most, where a pitch of it stands out.
				least, most := math.Max(math.Max(a.limit-thick, a.start), th.P), length-of(n, "H")-thick-th.P
				for _, k := range []float64{0, 0.37, 1} {
					if turn++; turn%nth != 0 {
						continue
					}
					g := least + k*(most-least)
					b := fastener.Bolted{Bolt: f, Nut: n, Washer: w, Grip: g}
					if !valid(b) { // by rounding
						g += 1e-4 * (1 - 2*k)
						b.Grip = g
					}
					if !valid(b) {
						continue
					}
					c := a
					c.f, c.name = b, a.name+" with nut"
					c.prisms = append(slices.Clone(a.prisms), nut(n, g+thick, false))
					if w != nil {
						c.name += " and washer"
						c.discs = []disc{{of(w, "d2") / 2, of(w, "d1") / 2, g, g + thick}}
					}
					c.seat, c.cover = g+thick, [2]float64{g, g + thick + of(n, "H")}
					out = append(out, &c)
				}
			}
		}
	}
	return out
}
