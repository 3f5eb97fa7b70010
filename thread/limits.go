package thread

import (
	"cmp"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"

	"boltplate/rule"
)

// Limits are the limits of size of a thread for one tolerance class.
type Limits struct {
	Class    string `json:"class"` // "6g", "6H", ...
	MajorMax Limit  `json:"major_max"`
	MajorMin Limit  `json:"major_min"`
	PitchMax Limit  `json:"pitch_max"`
	PitchMin Limit  `json:"pitch_min"`
	MinorMax Limit  `json:"minor_max"`
	MinorMin Limit  `json:"minor_min"`
}

// Limit is a limit of size, mm. In JSON it is a number, without its status, or
// null where the standard gives none.
type Limit struct {
	Value  float64
	Given  bool        // whether the standard gives this limit
	Status rule.Status // of the weakest figure it is made of
}

// MarshalJSON writes the value, or null when it is not given.
func (l Limit) MarshalJSON() ([]byte, error) {
	if !l.Given {
		return []byte("null"), nil
	}
	return json.Marshal(l.Value)
}

// UnmarshalJSON reads a number, or null for a limit that is not given.
func (l *Limit) UnmarshalJSON(b []byte) error {
	var v *float64
	if err := json.Unmarshal(b, &v); err != nil {
		return err
	}
	*l = Limit{}
	if v != nil {
		*l = Limit{Value: *v, Given: true}
	}
	return nil
}

// limitClasses are the classes of one grade and position.
var limitClasses = [...]string{
	"4e", "4f", "4g", "4h", "6e", "6f", "6g", "6h", "8e", "8f", "8g", "8h",
	"4G", "5G", "6G", "7G", "8G", "4H", "5H", "6H", "7H", "8H",
}

// LimitClasses returns the tolerance classes of one part that [Thread.Limits]
// knows, external ones first. It knows classes of two parts as well, such as
// 5g6g. The slice is the caller's own.
func LimitClasses() []string { return slices.Clone(limitClasses[:]) }

// Limits returns the limits of size of t, mm, for a tolerance class of
// ISO 965-1:1998, at a normal length of engagement. With class "" it is the
// class of t itself. Held are
//
//	bolt   positions e, f, g and h; grades 3 to 9 of the pitch diameter, and
//	       4, 6 and 8 of the major diameter: 6g, 4h, 8g, 4g6g, 5g6g, 7g6g
//	nut    positions G and H; grades 4 to 8: 6H, 5H, 7H, 4H5H, 6G
//
// For a pair such as 6H/6g see [Thread.PairLimits].
//
// Given are, for a bolt, the major and pitch diameter both ways and the
// greatest minor diameter, which is the basic minor diameter with the
// deviation of the class; ISO 965-1 controls the root below it by its shape and
// not by a limit of size. For a nut they are the least major diameter, and the
// pitch and minor diameter both ways. The basic diameters are rounded to 1 µm
// first, as the tables of ISO 965-2 do.
//
// Tolerances of grade 6 and deviations are those of the standard's tables;
// other grades follow from grade 6 by the standard's factors. Each limit has
// the status of what it is made of.
//
// The error is a [*ValueError] for a thread that is not valid, a [*ClassError]
// for a class that is none or not held, a pair, or none at all, and a
// [*TableError] for a pitch or diameter without a tolerance here.
func (t Thread) Limits(class string) (Limits, error) {
	if err := t.Validate(); err != nil {
		return Limits{}, err
	}
	if class == "" {
		class = t.Class
	}
	switch {
	case class == "":
		return Limits{}, &ClassError{Class: class, Want: "one, the thread states none: such as 6g for a bolt, 6H for a nut"}
	case strings.Contains(class, "/"):
		return Limits{}, &ClassError{Class: class, Want: "one at a time, or the limits of a pair: such as 6g for a bolt, 6H for a nut"}
	}
	if err := checkClass(class); err != nil {
		return Limits{}, err
	}
	z, err := zoneOf(class)
	if err != nil {
		return Limits{}, err
	}
	tol, err := t.tolerances(z)
	if err != nil {
		return Limits{}, err
	}
	if z.nut {
		return tol.nut(t, class), nil
	}
	return tol.bolt(t, class), nil
}

// PairLimits returns the limits of size of a nut and a bolt, for a class such
// as 6H/6g. With class "" it is the class of t itself. Errors are those of
// [Thread.Limits].
func (t Thread) PairLimits(class string) (nut, bolt Limits, err error) {
	if class == "" {
		class = t.Class
	}
	first, second, isPair := strings.Cut(class, "/")
	if !isPair {
		return Limits{}, Limits{}, &ClassError{Class: class, Want: "a pair, nut before bolt, such as 6H/6g"}
	}
	if err := checkClass(class); err != nil {
		return Limits{}, Limits{}, err
	}
	alone := Thread{D: t.D, P: t.P}
	if nut, err = alone.Limits(first); err != nil {
		return Limits{}, Limits{}, err
	}
	if bolt, err = alone.Limits(second); err != nil {
		return Limits{}, Limits{}, err
	}
	return nut, bolt, nil
}

// Play returns the least and the greatest play on the pitch diameter between a
// nut and a bolt within their limits, mm.
func Play(nut, bolt Limits) (least, greatest Limit) {
	between := func(a, b Limit) Limit {
		if !a.Given || !b.Given {
			return Limit{}
		}
		return Limit{Value: Round3(a.Value - b.Value), Given: true, Status: rule.Weakest(rule.Derived, a.Status, b.Status)}
	}
	return between(nut.PitchMin, bolt.PitchMax), between(nut.PitchMax, bolt.PitchMin)
}

// A zone is a tolerance class taken apart.
type zone struct {
	class         string
	nut           bool
	pitch, crest  int  // grades
	pitchPosition byte // letters
	crestPosition byte
}

// zoneOf takes apart a class of a bolt or a nut in canonical form.
func zoneOf(class string) (zone, error) {
	pitch, crest := class[:2], class[len(class)-2:]
	z := zone{class: class, nut: strings.Contains(nutLetters, pitch[1:]),
		pitch: int(pitch[0] - '0'), crest: int(crest[0] - '0'), pitchPosition: pitch[1], crestPosition: crest[1]}
	crestOf, pitchOf := z.quantities()
	if _, ok := gradeStatus[pitchOf][z.pitch]; !ok {
		return zone{}, &ClassError{Class: class, Want: "a grade of the pitch diameter of a nut that is held: 4 to 8, such as 6H"}
	}
	if _, ok := gradeStatus[crestOf][z.crest]; !ok {
		near := map[int]string{3: "4", 5: "6", 7: "6", 9: "8"}[z.crest]
		want := "a grade of the major diameter of a bolt that is held: 4, 6 or 8, such as " + pitch + near + crest[1:]
		if z.nut {
			want = "a grade of the minor diameter of a nut that is held: 4 to 8, such as 6H"
		}
		return zone{}, &ClassError{Class: class, Want: want}
	}
	return z, nil
}

func (z zone) quantities() (crest, pitch quantity) {
	if z.nut {
		return minorOfNut, pitchOfNut
	}
	return majorOfBolt, pitchOfBolt
}

// toleranceSet is what the limits of one class are made of.
type toleranceSet struct {
	crest, pitch   um // tolerances
	crestDeviation um // size of the deviation, always towards play
	pitchDeviation um
}

// tolerances looks up the tolerances and deviations of a class.
func (t Thread) tolerances(z zone) (toleranceSet, error) {
	missing := func(item, held string) error {
		return &TableError{Standard: "ISO 965-1", Item: item, Thread: Thread{D: t.D, P: t.P}, Held: held}
	}
	i, ok := slices.BinarySearchFunc(pitchTols[:], t.P, func(r pitchTol, p float64) int { return cmp.Compare(r.p, p) })
	if !ok {
		return toleranceSet{}, missing("tolerance", "")
	}
	crest := &pitchTols[i]
	i = slices.IndexFunc(diameterTols[:], func(r diameterTol) bool {
		return r.over < t.D && t.D <= r.upto && r.p == t.P
	})
	if i < 0 {
		return toleranceSet{}, missing("pitch diameter tolerance", "")
	}
	crestBase, pitchBase := crest.td, diameterTols[i].bolt
	if z.nut {
		crestBase, pitchBase = crest.td1, diameterTols[i].nut
	}
	crestOf, pitchOf := z.quantities()
	for _, x := range [...]struct {
		q     quantity
		grade int
	}{{crestOf, z.crest}, {pitchOf, z.pitch}} {
		if least := leastPitch(x.q, x.grade); t.P < least {
			return toleranceSet{}, missing(fmt.Sprintf("tolerance of grade %d", x.grade), "pitches from "+number(least)+" up")
		}
	}
	var set toleranceSet
	set.crest, _ = crestBase.ofGrade(crestOf, z.crest)
	set.pitch, _ = pitchBase.ofGrade(pitchOf, z.pitch)
	for _, x := range [...]struct {
		position byte
		to       *um
	}{{z.crestPosition, &set.crestDeviation}, {z.pitchPosition, &set.pitchDeviation}} {
		var ok bool
		if *x.to, ok = crest.deviation(x.position); !ok {
			return toleranceSet{}, missing("deviation "+string(x.position), "pitches from 0.5 up")
		}
	}
	return set, nil
}

// deviation returns the size of the fundamental deviation of a position.
func (r *pitchTol) deviation(position byte) (um, bool) {
	d := pub(0) // h and H lie on the basic size
	switch position {
	case 'e':
		d = r.e
	case 'f':
		d = r.f
	case 'g', 'G':
		d = r.g
	default:
		return d, true
	}
	return d, d.v != 0
}

func (s toleranceSet) bolt(t Thread, class string) Limits {
	major, pitch, minor := micro(t.D), micro(t.PitchDiameter()), micro(t.MinorDiameter())
	return Limits{
		Class:    class,
		MajorMax: limit(major-s.crestDeviation.v, s.crestDeviation),
		MajorMin: limit(major-s.crestDeviation.v-s.crest.v, s.crestDeviation, s.crest),
		PitchMax: limit(pitch-s.pitchDeviation.v, s.pitchDeviation),
		PitchMin: limit(pitch-s.pitchDeviation.v-s.pitch.v, s.pitchDeviation, s.pitch),
		MinorMax: limit(minor-s.pitchDeviation.v, s.pitchDeviation),
	}
}

func (s toleranceSet) nut(t Thread, class string) Limits {
	major, pitch, minor := micro(t.D), micro(t.PitchDiameter()), micro(t.MinorDiameter())
	return Limits{
		Class:    class,
		MajorMin: limit(major+s.pitchDeviation.v, s.pitchDeviation),
		PitchMax: limit(pitch+s.pitchDeviation.v+s.pitch.v, s.pitchDeviation, s.pitch),
		PitchMin: limit(pitch+s.pitchDeviation.v, s.pitchDeviation),
		MinorMax: limit(minor+s.crestDeviation.v+s.crest.v, s.crestDeviation, s.crest),
		MinorMin: limit(minor+s.crestDeviation.v, s.crestDeviation),
	}
}

// micro returns x mm in whole µm. Sums in whole µm keep the printed limits
// free of binary dust.
func micro(x float64) int { return int(math.Round(x * 1000)) }

// limit returns a limit of so many µm that is made of those figures.
func limit(v int, of ...um) Limit {
	status := published
	for _, x := range of {
		status = rule.Weakest(status, x.status)
	}
	return Limit{Value: float64(v) / 1000, Given: true, Status: status}
}
