package thread

import (
	"slices"

	"boltplate/rule"
)

// productPitch is a fine pitch that the product standards fix for a size.
type productPitch struct {
	d, p      float64
	preferred bool // of the first table of those standards
}

// productPitches are the fine pitches of ISO 8765:2011 (bolts), ISO 8676:2011
// (screws) and ISO 8673 to ISO 8675:2012 (nuts), M8 to M64, from memory,
// unverified. No table of them was found. ISO 8673:2023 adds others (published
// summary), which are not here.
var productPitches = [...]productPitch{
	{8, 1, true},
	{10, 1, true}, {10, 1.25, false},
	{12, 1.5, true}, {12, 1.25, false},
	{14, 1.5, false},
	{16, 1.5, true},
	{18, 1.5, false},
	{20, 1.5, true}, {20, 2, false},
	{22, 1.5, false},
	{24, 2, true},
	{27, 2, false},
	{30, 2, true},
	{33, 2, false},
	{36, 3, true},
	{39, 3, false},
	{42, 3, true},
	{45, 3, false},
	{48, 3, true},
	{52, 4, false},
	{56, 4, true},
	{60, 4, false},
	{64, 4, true},
}

// ProductPitchStatus is the status of what [ProductPitches] and
// [Thread.ProductPitch] say.
const ProductPitchStatus = rule.FromMemory

// ProductPitches returns the fine pitches, mm, that the product standards of
// bolts and nuts with fine thread (ISO 8765, ISO 8676, ISO 8673 to ISO 8675) fix
// for the nominal diameter d, mm, the preferred one first. A bolt with another
// fine pitch has no designation by them. It returns nil where none is held, and
// says nothing of coarse pitches, which have standards of their own. From
// memory, unverified. The slice is the caller's own.
func ProductPitches(d float64) []float64 {
	var ps []float64
	for _, r := range productPitches {
		switch {
		case r.d != d:
		case r.preferred:
			ps = slices.Insert(ps, 0, r.p)
		default:
			ps = append(ps, r.p)
		}
	}
	return ps
}

// ProductPitch reports whether the pitch of t is one of [ProductPitches], and
// whether those standards prefer it. From memory, unverified.
func (t Thread) ProductPitch() (preferred, ok bool) {
	for _, r := range productPitches {
		if r.d == t.D && r.p == t.P {
			return r.preferred, true
		}
	}
	return false, false
}
