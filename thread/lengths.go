package thread

import (
	"fmt"
	"slices"

	"boltplate/rule"
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

var ruleThreadLength = rule.MustParse("upto(L, 125, 2D + 6, 200, 2D + 12, 2D + 25)")

// ThreadLengthRule returns the rule of [ThreadLength] for all lengths, in the
// letters D and L.
func ThreadLengthRule() *rule.Expr { return ruleThreadLength }

// ThreadLengthFigure returns [ThreadLength] with its source and the rule as it
// holds for l, such as 2D + 6. The error is a [*ValueError] for a diameter that
// makes no sense or a length that is not above 0.
func ThreadLengthFigure(d, l float64) (Figure, error) {
	if err := checkDiameter(d); err != nil {
		return Figure{}, err
	}
	chosen, err := ruleThreadLength.Choose(rule.Values{{Letter: "D", Value: d}, {Letter: "L", Value: l}}.Get)
	if err != nil || !(l > 0) {
		return Figure{}, &ValueError{Name: "length", Value: l, Want: "a length above 0 mm"}
	}
	return Figure{Key: "thread_length", Letter: "b", Name: "thread length", Value: ThreadLength(d, l), Unit: "mm",
		Rule: chosen, Source: SourceLengths, Status: published}, nil
}

// preferredLengths and secondLengths are the nominal lengths of ISO 888:1976;
// lengthStatus says of each how far it can be trusted.
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

// LengthStatus reports whether ISO 888:1976 lists a nominal length, mm, whether
// it is a preferred one, and how far that can be trusted: the preferred ones of
// 20 to 150 and 75 of the second rest on one published table, the others are
// from memory, unverified. That a length is not listed is not certain either,
// since the newest edition was not at hand.
func LengthStatus(l float64) (status rule.Status, preferred, listed bool) {
	preferred = slices.Contains(preferredLengths[:], l)
	if !preferred && !slices.Contains(secondLengths[:], l) {
		return 0, false, false
	}
	if preferred && 20 <= l && l <= 150 || l == 75 {
		return published, preferred, true
	}
	return fromMemory, preferred, true
}

// Lengths returns the preferred nominal lengths of bolts, mm, rising, after
// ISO 888:1976. [LengthStatus] tells their status. The slice is the caller's
// own.
func Lengths() []float64 { return slices.Clone(preferredLengths[:]) }

// SecondLengths returns the nominal lengths of the second choice, mm, rising,
// bracketed in older lists after ISO 888:1976. [LengthStatus] tells their
// status. The slice is the caller's own.
func SecondLengths() []float64 { return slices.Clone(secondLengths[:]) }

// NextLength returns the smallest preferred length, mm, that is not below l.
// A preferred length is thus its own next. It reports false for a length above
// the longest, 500, or not a number.
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
// below the shortest, 2, or not a number.
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

// engagements are the metal ends of the studs that are made for each material.
// That of steel agrees in two published tables, the others rest on one.
var engagements = [...]struct {
	rule     *rule.Expr
	standard string
	factor   float64
}{
	Steel:          {rule.MustParse("D"), "DIN 938", 1},
	CastIron:       {rule.MustParse("1.25D"), "DIN 939", 1.25},
	Aluminium:      {rule.MustParse("2D"), "DIN 835", 2},
	SoftLightAlloy: {rule.MustParse("2.5D"), "DIN 940", 2.5},
}

// Engagement returns the least length of engagement, mm, of a thread of
// nominal diameter d, mm, in material m: the length of the metal end of the
// studs of DIN 938 (steel, d), DIN 939 (cast iron, 1.25 d), DIN 835 (aluminium
// alloy, 2 d) and DIN 940 (soft light alloy, 2.5 d). An unknown material is
// taken as the weakest. All but steel rest on one published table.
func Engagement(m Material, d float64) float64 {
	if m < Steel || m > SoftLightAlloy {
		m = SoftLightAlloy
	}
	return engagements[m].factor * d
}

// EngagementFigure returns [Engagement] with its rule, source and status. The
// error is a [*ValueError] for a diameter that makes no sense.
func EngagementFigure(m Material, d float64) (Figure, error) {
	if err := checkDiameter(d); err != nil {
		return Figure{}, err
	}
	if m < Steel || m > SoftLightAlloy {
		m = SoftLightAlloy
	}
	e := engagements[m]
	return Figure{Key: "engagement", Letter: "m", Name: "length of engagement in " + m.String() + ", at least", Value: Engagement(m, d), Unit: "mm",
		Rule: e.rule, Source: e.standard, Status: published}, nil
}
