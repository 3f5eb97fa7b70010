package thread

import (
	"fmt"
	"slices"
)

// ThreadLength returns the nominal length of thread b, mm, on a bolt of
// nominal diameter d and nominal length l, mm, after ISO 888:
//
//	l ≤ 125         b = 2d + 6
//	125 < l ≤ 200   b = 2d + 12
//	l > 200         b = 2d + 25
//
// It may exceed l: a bolt that short is threaded up to the head.
func ThreadLength(d, l float64) float64 {
	switch {
	case l <= 125:
		return 2*d + 6
	case l <= 200:
		return 2*d + 12
	}
	return 2*d + 25
}

// preferredLengths and secondLengths are the nominal lengths of ISO 888:1976.
// The preferred ones from 20 to 70, 80, 90, 100, 110, 120 and 130 to 150, and
// 75 of the second, were found in one published table; the others are from
// memory, unverified.
var (
	preferredLengths = [...]float64{
		2, 3, 4, 5, 6, 8, 10, 12, 16, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70,
		80, 90, 100, 110, 120, 130, 140, 150, 160, 180, 200, 220, 240, 260, 280,
		300, 320, 340, 360, 380, 400, 420, 440, 460, 480, 500,
	}
	secondLengths = [...]float64{
		14, 18, 22, 28, 32, 38, 75, 85, 95, 105, 115, 125, 170, 190,
	}
)

// Lengths returns the preferred nominal lengths of bolts, mm, rising, after
// ISO 888:1976. Those of 20 to 150 rest on one published table, those below 20
// and above 150 are from memory, unverified. The slice is the caller's own.
func Lengths() []float64 { return slices.Clone(preferredLengths[:]) }

// SecondLengths returns the nominal lengths of the second choice, mm, rising,
// bracketed in older lists after ISO 888:1976. All but 75 are from memory,
// unverified. The slice is the caller's own.
func SecondLengths() []float64 { return slices.Clone(secondLengths[:]) }

// NextLength returns the smallest preferred length, mm, that is not below l.
// A preferred length is thus its own next. It reports false for a length above
// the longest, 500, or not a number. Status as for [Lengths].
func NextLength(l float64) (float64, bool) {
	for _, p := range preferredLengths {
		if p >= l {
			return p, true
		}
	}
	return 0, false
}

// PrevLength returns the largest preferred length, mm, that is not above l. A
// preferred length is thus its own previous one. It reports false for a length
// below the shortest, 2, or not a number. Status as for [Lengths].
func PrevLength(l float64) (float64, bool) {
	for _, p := range slices.Backward(preferredLengths[:]) {
		if p <= l {
			return p, true
		}
	}
	return 0, false
}

// Material is what a stud or bolt is screwed into, as the standards of studs
// tell materials apart.
type Material int

const (
	Steel          Material = iota // steel, DIN 938
	CastIron                       // cast iron, DIN 939
	Aluminium                      // aluminium alloy, DIN 835
	SoftLightAlloy                 // soft light alloy, DIN 940
)

// String returns the name of the material, as "cast iron".
func (m Material) String() string {
	switch m {
	case Steel:
		return "steel"
	case CastIron:
		return "cast iron"
	case Aluminium:
		return "aluminium alloy"
	case SoftLightAlloy:
		return "soft light alloy"
	}
	return fmt.Sprintf("Material(%d)", int(m))
}

// Engagement returns the least length of engagement, mm, of a thread of
// nominal diameter d, mm, in material m: the length of the metal end of the
// studs of DIN 938 (steel, d), DIN 939 (cast iron, 1.25 d), DIN 835 (aluminium
// alloy, 2 d) and DIN 940 (soft light alloy, 2.5 d). An unknown material is
// taken as the weakest. All but steel rest on one published table.
func Engagement(m Material, d float64) float64 {
	switch m {
	case Steel:
		return d
	case CastIron:
		return 1.25 * d
	case Aluminium:
		return 2 * d
	}
	return 2.5 * d
}
