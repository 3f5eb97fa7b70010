package thread

import (
	"math"
	"slices"
	"strconv"
)

// Thread is an ISO general purpose metric screw thread. It is a plain
// comparable value; the zero value is not a thread, see [Thread.Validate].
type Thread struct {
	D        float64 // nominal (major) diameter d, mm
	P        float64 // pitch, mm
	Class    string  // tolerance class as "6g", "6H", "6H/6g"; "" when not stated
	LeftHand bool
}

// Bounds of sanity for a thread outside the tables. They are no standard's:
// they keep out what cannot be drawn.
const (
	minD = 0.1
	maxD = 1000
	minP = 0.05
)

// Coarse returns the thread of nominal diameter d, mm, with the coarse pitch
// of ISO 261. The error is a [*ValueError] or a [*SizeError].
func Coarse(d float64) (Thread, error) {
	s, err := findSize(d)
	if err != nil {
		return Thread{}, err
	}
	return Thread{D: d, P: s.coarse}, nil
}

// Fine returns the thread of nominal diameter d, mm, with the fine pitch of
// ISO 262, the coarsest where ISO 262 has two. The error is a [*ValueError], a
// [*SizeError], or a [*PitchError] where ISO 262 has no fine pitch for d.
func Fine(d float64) (Thread, error) {
	s, err := findSize(d)
	if err != nil {
		return Thread{}, err
	}
	if len(s.fine) == 0 {
		return Thread{}, &PitchError{D: d, Standard: "ISO 262", Nearest: slices.Clone(s.other)}
	}
	return Thread{D: d, P: s.fine[0]}, nil
}

// New returns the thread of nominal diameter d and pitch p, mm, both of which
// ISO 261 must list. The error is a [*ValueError], a [*SizeError] or a
// [*PitchError]. For a thread of your own see [Unlisted].
func New(d, p float64) (Thread, error) {
	s, err := findSize(d)
	if err != nil {
		return Thread{}, err
	}
	if err := checkPitch(p); err != nil {
		return Thread{}, err
	}
	if _, ok := s.series(p); !ok {
		return Thread{}, &PitchError{D: d, P: p, Standard: "ISO 261", Nearest: around(s.pitches(), p)}
	}
	return Thread{D: d, P: p}, nil
}

// Unlisted returns the thread of nominal diameter d and pitch p, mm, whether
// or not ISO 261 lists it. The error is a [*ValueError], by the rules of
// [Thread.Validate].
func Unlisted(d, p float64) (Thread, error) {
	t := Thread{D: d, P: p}
	if err := t.Validate(); err != nil {
		return Thread{}, err
	}
	return t, nil
}

// Validate reports what keeps t from being a thread: a diameter outside 0.1 to
// 1000 mm, a pitch below 0.05 mm or above d/2, a value that is not a number (a
// [*ValueError] each), or a class that is not in canonical form (a
// [*ClassError]). The bounds are those of good sense, not of a standard. A
// thread need not be listed to be valid, see [Thread.Listed].
func (t Thread) Validate() error {
	if err := checkDiameter(t.D); err != nil {
		return err
	}
	if err := checkPitch(t.P); err != nil {
		return err
	}
	if t.P > t.D/2 {
		return &ValueError{Name: "pitch", Value: t.P, Want: "no more than half the diameter, " + number(t.D/2) + " mm"}
	}
	if t.Class != "" {
		return checkClass(t.Class)
	}
	return nil
}

func checkDiameter(d float64) error {
	if !(d >= minD && d <= maxD) { // also true of NaN
		return &ValueError{Name: "diameter", Value: d, Want: "from 0.1 mm to 1000 mm"}
	}
	return nil
}

func checkPitch(p float64) error {
	if !(p >= minP && p <= maxD/2) {
		return &ValueError{Name: "pitch", Value: p, Want: "from 0.05 mm to half the diameter"}
	}
	return nil
}

// Listed reports whether ISO 261 lists the diameter with the pitch, among the
// sizes this package holds.
func (t Thread) Listed() bool {
	_, ok := t.Series()
	return ok
}

// IsCoarse reports whether t has the coarse pitch of ISO 261.
func (t Thread) IsCoarse() bool {
	s, ok := t.Series()
	return ok && s == CoarseSeries
}

// Choice returns 1 or 2 for a size of the first or second choice of ISO 261,
// and 0 when ISO 261 does not list the thread.
func (t Thread) Choice() int {
	s := lookup(t.D)
	if s == nil || !t.Listed() {
		return 0
	}
	return s.choice
}

// Series returns the series in which t is listed, and whether it is.
func (t Thread) Series() (Series, bool) {
	s := lookup(t.D)
	if s == nil {
		return 0, false
	}
	return s.series(t.P)
}

// String returns the designation, as "M12", "M12 × 1.25-6g-LH": the pitch is
// left out when it is the coarse one, the class when not stated, the hand when
// right, and a pitch is rounded to three decimals. [Parse] reads it back.
//
// The order of the parts is that of ISO 965-1 and ISO 6410-1. Published
// examples differ in the blanks ("M20 × 2 - 6G/6h - LH", "M20 × 2-6H/5g6g").
// Blanks stand around the multiplication sign (U+00D7) here and not around the
// hyphens, so that the designation is told apart at a glance from a
// subtraction and stays short in a parts list.
func (t Thread) String() string {
	b := make([]byte, 0, 32)
	b = append(b, 'M')
	b = appendNumber(b, t.D)
	if !t.IsCoarse() {
		b = append(b, " × "...)
		b = appendNumber(b, math.Round(t.P*1000)/1000) // of a pitch in inches
	}
	if t.Class != "" {
		b = append(b, '-')
		b = append(b, t.Class...)
	}
	if t.LeftHand {
		b = append(b, "-LH"...)
	}
	return string(b)
}

// appendNumber appends x in the fewest decimals that tell it from any other
// number, without an exponent.
func appendNumber(b []byte, x float64) []byte {
	return strconv.AppendFloat(b, x, 'f', -1, 64)
}

func number(x float64) string {
	if x != 0 && !math.IsInf(x, 0) && (math.Abs(x) < 1e-6 || math.Abs(x) >= 1e9) {
		return strconv.FormatFloat(x, 'g', -1, 64) // keep messages short
	}
	return string(appendNumber(nil, x))
}
