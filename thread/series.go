package thread

import (
	"cmp"
	"fmt"
	"slices"
)

// Series tells a coarse pitch from the fine ones.
type Series int

const (
	CoarseSeries    Series = iota // coarse pitch, ISO 261 and ISO 262
	FineSeries                    // fine pitch of the selection of ISO 262
	OtherFineSeries               // fine pitch that only ISO 261 lists
)

// String returns "coarse", "fine" or "other fine".
func (s Series) String() string {
	switch s {
	case CoarseSeries:
		return "coarse"
	case FineSeries:
		return "fine"
	case OtherFineSeries:
		return "other fine"
	}
	return fmt.Sprintf("Series(%d)", int(s))
}

// Pitch is a pitch listed for a size.
type Pitch struct {
	P      float64 // mm
	Series Series
}

// size is a row of ISO 261.
type size struct {
	d      float64
	choice int // 1 or 2
	coarse float64
	fine   []float64 // ISO 262
	other  []float64 // ISO 261 only
}

// isoSizes holds ISO 261:1998, M3 to M64, first and second choices, with the
// selection of ISO 262:1998; pitches falling.
//
// M14 × 1.25 is for spark plugs, and the pitch 3 of M30 and M33 is to be
// avoided, says a note of ISO 261 (from memory).
//
// Every row was found in a published table, most of them in two: those of M4.5
// and M7 × 0.75 and M3.5 × 0.35 in lists of thread series.
var isoSizes = [...]size{
	{3, 1, 0.5, nil, []float64{0.35}},
	{3.5, 2, 0.6, nil, []float64{0.35}},
	{4, 1, 0.7, nil, []float64{0.5}},
	{4.5, 2, 0.75, nil, []float64{0.5}},
	{5, 1, 0.8, nil, []float64{0.5}},
	{6, 1, 1, nil, []float64{0.75}},
	{7, 2, 1, nil, []float64{0.75}},
	{8, 1, 1.25, []float64{1}, []float64{0.75}},
	{10, 1, 1.5, []float64{1.25, 1}, []float64{0.75}},
	{12, 1, 1.75, []float64{1.5, 1.25}, []float64{1}},
	{14, 2, 2, []float64{1.5}, []float64{1.25, 1}},
	{16, 1, 2, []float64{1.5}, []float64{1}},
	{18, 2, 2.5, []float64{2, 1.5}, []float64{1}},
	{20, 1, 2.5, []float64{2, 1.5}, []float64{1}},
	{22, 2, 2.5, []float64{2, 1.5}, []float64{1}},
	{24, 1, 3, []float64{2}, []float64{1.5, 1}},
	{27, 2, 3, []float64{2}, []float64{1.5, 1}},
	{30, 1, 3.5, []float64{2}, []float64{3, 1.5, 1}},
	{33, 2, 3.5, []float64{2}, []float64{3, 1.5}},
	{36, 1, 4, []float64{3}, []float64{2, 1.5}},
	{39, 2, 4, []float64{3}, []float64{2, 1.5}},
	{42, 1, 4.5, []float64{3}, []float64{4, 2, 1.5}},
	{45, 2, 4.5, []float64{3}, []float64{4, 2, 1.5}},
	{48, 1, 5, []float64{3}, []float64{4, 2, 1.5}},
	{52, 2, 5, []float64{4}, []float64{3, 2, 1.5}},
	{56, 1, 5.5, []float64{4}, []float64{3, 2, 1.5}},
	{60, 2, 5.5, []float64{4}, []float64{3, 2, 1.5}},
	{64, 1, 6, []float64{4}, []float64{3, 2, 1.5}},
}

// thirdChoices are the sizes of the third choice of ISO 261:1998 between M3
// and M64: up to M17 as in a published list, from memory, unverified, above.
// They serve for error messages only.
var thirdChoices = [...]float64{5.5, 9, 11, 15, 17, 25, 26, 28, 32, 35, 38, 40, 50, 55, 58, 62}

// verifiedTo is the diameter, mm, up to which the list of all sizes of ISO 261,
// third choices and all, was compared with a published one. Up to there a
// message may say that a size is none.
const verifiedTo = 24

func (s *size) series(p float64) (Series, bool) {
	switch {
	case p == s.coarse:
		return CoarseSeries, true
	case slices.Contains(s.fine, p):
		return FineSeries, true
	case slices.Contains(s.other, p):
		return OtherFineSeries, true
	}
	return 0, false
}

// pitches returns all pitches of s, falling.
func (s *size) pitches() []float64 {
	ps := slices.Concat([]float64{s.coarse}, s.fine, s.other)
	slices.SortFunc(ps, func(a, b float64) int { return cmp.Compare(b, a) })
	return ps
}

// lookup returns the row of d, or nil.
func lookup(d float64) *size {
	i, ok := slices.BinarySearchFunc(isoSizes[:], d, func(s size, d float64) int { return cmp.Compare(s.d, d) })
	if !ok {
		return nil
	}
	return &isoSizes[i]
}

// findSize is lookup with the errors of the exported functions.
func findSize(d float64) (*size, error) {
	if s := lookup(d); s != nil {
		return s, nil
	}
	if err := checkDiameter(d); err != nil {
		return nil, err
	}
	return nil, &SizeError{D: d, Standard: "ISO 261", Nearest: around(Sizes(), d)}
}

// Sizes returns the nominal diameters this package holds, mm, rising: the
// first and second choices of ISO 261:1998 from M3 to M64. The slice is the
// caller's own.
func Sizes() []float64 {
	ds := make([]float64, len(isoSizes))
	for i := range isoSizes {
		ds[i] = isoSizes[i].d
	}
	return ds
}

// Pitches returns the pitches ISO 261:1998 lists for the nominal diameter d,
// mm: the coarse one, then those of ISO 262:1998, then the others, each
// group falling. It returns nil for a diameter this package does not hold. The
// slice is the caller's own.
func Pitches(d float64) []Pitch {
	s := lookup(d)
	if s == nil {
		return nil
	}
	ps := make([]Pitch, 0, 1+len(s.fine)+len(s.other))
	ps = append(ps, Pitch{s.coarse, CoarseSeries})
	for _, p := range s.fine {
		ps = append(ps, Pitch{p, FineSeries})
	}
	for _, p := range s.other {
		ps = append(ps, Pitch{p, OtherFineSeries})
	}
	return ps
}

// around returns the largest of xs below x and the smallest above it, rising.
// The order of xs does not matter.
func around(xs []float64, x float64) []float64 {
	var below, above []float64
	for _, v := range xs {
		switch {
		case v < x && (below == nil || v > below[0]):
			below = []float64{v}
		case v > x && (above == nil || v < above[0]):
			above = []float64{v}
		}
	}
	return append(below, above...)
}
