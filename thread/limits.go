package thread

import (
	"cmp"
	"encoding/json"
	"math"
	"slices"
	"strings"
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

// Limit is a limit of size, mm. In JSON it is a number, or null where the
// standard gives none.
type Limit struct {
	Value float64
	Given bool // whether the standard gives this limit
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

// pitchTol holds what ISO 965-1:1998 gives by pitch, µm.
type pitchTol struct {
	p       float64
	e, f, g int // size of the fundamental deviation es, negative for bolts; g is also EI of G; 0: none given
	td, td1 int // tolerance grade 6 of the major diameter of bolts, of the minor diameter of nuts
}

// pitchTols is ISO 965-1:1998, tables of fundamental deviations and of crest
// diameter tolerances. Td and TD1 of the pitches from 1.5 up agree with
// ISO 965-4:1998 and ISO 965-5:1998, Td of the others and g with published
// limits of 6g. From memory, unverified: all of e and f, g of 1.75, and TD1 of
// the pitches below 1.5.
var pitchTols = [...]pitchTol{
	{0.35, 0, 34, 19, 85, 100},
	{0.5, 50, 36, 20, 106, 140},
	{0.6, 53, 36, 21, 125, 160},
	{0.7, 56, 38, 22, 140, 180},
	{0.75, 56, 38, 22, 140, 190},
	{0.8, 60, 38, 24, 150, 200},
	{1, 60, 40, 26, 180, 236},
	{1.25, 63, 42, 28, 212, 265},
	{1.5, 67, 45, 32, 236, 300},
	{1.75, 71, 48, 34, 265, 335},
	{2, 71, 52, 38, 280, 375},
	{2.5, 80, 58, 42, 335, 450},
	{3, 85, 63, 48, 375, 500},
	{3.5, 90, 70, 53, 425, 560},
	{4, 95, 75, 60, 475, 600},
	{4.5, 100, 80, 63, 500, 670},
	{5, 106, 85, 71, 530, 710},
	{5.5, 112, 90, 75, 560, 750},
	{6, 118, 95, 80, 600, 800},
}

// diameterTol holds the pitch diameter tolerances of grade 6, µm, for
// diameters over one limit up to and including another.
type diameterTol struct {
	over, upto float64
	p          float64
	bolt, nut  int // Td2, TD2
}

// diameterTols is ISO 965-1:1998, tables of pitch diameter tolerances. Those
// of the coarse threads agree with published limits, and so do Td2 of the fine
// pitches up to 22.4 mm. From memory, unverified but for the standard's
// formulas: TD2 of the fine pitches, all fine pitches above 22.4 mm, Td2 of
// 0.75 up to 5.6 mm and of 1 above 11.2 mm.
var diameterTols = [...]diameterTol{
	{2.8, 5.6, 0.35, 67, 90},
	{2.8, 5.6, 0.5, 75, 100},
	{2.8, 5.6, 0.6, 85, 112},
	{2.8, 5.6, 0.7, 90, 118},
	{2.8, 5.6, 0.75, 90, 118},
	{2.8, 5.6, 0.8, 95, 125},
	{5.6, 11.2, 0.75, 100, 132},
	{5.6, 11.2, 1, 112, 150},
	{5.6, 11.2, 1.25, 118, 160},
	{5.6, 11.2, 1.5, 132, 180},
	{11.2, 22.4, 1, 118, 160},
	{11.2, 22.4, 1.25, 132, 180},
	{11.2, 22.4, 1.5, 140, 190},
	{11.2, 22.4, 1.75, 150, 200},
	{11.2, 22.4, 2, 160, 212},
	{11.2, 22.4, 2.5, 170, 224},
	{22.4, 45, 1, 125, 170},
	{22.4, 45, 1.5, 150, 200},
	{22.4, 45, 2, 170, 224},
	{22.4, 45, 3, 200, 265},
	{22.4, 45, 3.5, 212, 280},
	{22.4, 45, 4, 224, 300},
	{22.4, 45, 4.5, 236, 315},
	{45, 90, 1.5, 160, 212},
	{45, 90, 2, 180, 236},
	{45, 90, 3, 212, 280},
	{45, 90, 4, 236, 315},
	{45, 90, 5, 250, 335},
	{45, 90, 5.5, 265, 355},
	{45, 90, 6, 280, 375},
}

// limitClasses are the classes for which the tables above serve.
var limitClasses = [...]string{"6e", "6f", "6g", "6h", "6G", "6H"}

// LimitClasses returns the tolerance classes that [Thread.Limits] knows,
// external ones first. The slice is the caller's own.
func LimitClasses() []string { return slices.Clone(limitClasses[:]) }

// Limits returns the limits of size of t, mm, for a tolerance class of
// ISO 965-1:1998: 6e, 6f, 6g or 6h for a bolt, 6G or 6H for a nut, at a normal
// length of engagement. With class "" it is the class of t itself.
//
// Given are, for a bolt, the major and pitch diameter both ways and the
// greatest minor diameter, which is the basic minor diameter with the
// deviation of the class; ISO 965-1 controls the root below it by its shape and
// not by a limit of size. For a nut they are the least major diameter, and the
// pitch and minor diameter both ways. The basic diameters are rounded to 1 µm
// first, as the tables of ISO 965-2 do.
//
// Of the tables behind it, these are from memory, unverified but for the
// standard's own formulas: all deviations of e and f, and that of g for the
// pitch 1.75; the minor diameter tolerances of nuts of pitches below 1.5; the
// pitch diameter tolerances of nuts of fine pitch, of bolts of fine pitch from
// M24 up, of M4.5, and of M12 to M22 with the pitch 1.
//
// The error is a [*ValueError] for a thread that is not valid, a [*ClassError]
// for any other class, a pair, or none at all, and a [*TableError] for a pitch
// or diameter without a tolerance.
func (t Thread) Limits(class string) (Limits, error) {
	if err := t.Validate(); err != nil {
		return Limits{}, err
	}
	if class == "" {
		class = t.Class
	}
	if err := checkLimitClass(class); err != nil {
		return Limits{}, err
	}
	i, ok := slices.BinarySearchFunc(pitchTols[:], t.P, func(r pitchTol, p float64) int { return cmp.Compare(r.p, p) })
	if !ok {
		return Limits{}, &TableError{Standard: "ISO 965-1", Item: "tolerance", Thread: t}
	}
	crest := &pitchTols[i]
	i = slices.IndexFunc(diameterTols[:], func(r diameterTol) bool {
		return r.over < t.D && t.D <= r.upto && r.p == t.P
	})
	if i < 0 {
		return Limits{}, &TableError{Standard: "ISO 965-1", Item: "pitch diameter tolerance", Thread: t}
	}
	flank := &diameterTols[i]

	major, pitch, minor := micro(t.D), micro(t.PitchDiameter()), micro(t.MinorDiameter())
	if class == "6G" || class == "6H" {
		ei := 0
		if class == "6G" {
			ei = crest.g
		}
		return Limits{
			Class:    class,
			MajorMin: limit(major + ei),
			PitchMax: limit(pitch + ei + flank.nut),
			PitchMin: limit(pitch + ei),
			MinorMax: limit(minor + ei + crest.td1),
			MinorMin: limit(minor + ei),
		}, nil
	}
	es := 0
	switch class {
	case "6e":
		es = crest.e
	case "6f":
		es = crest.f
	case "6g":
		es = crest.g
	}
	if es == 0 && class != "6h" {
		return Limits{}, &TableError{Standard: "ISO 965-1", Item: "deviation " + class[1:], Thread: t}
	}
	return Limits{
		Class:    class,
		MajorMax: limit(major - es),
		MajorMin: limit(major - es - crest.td),
		PitchMax: limit(pitch - es),
		PitchMin: limit(pitch - es - flank.bolt),
		MinorMax: limit(minor - es),
	}, nil
}

func checkLimitClass(class string) error {
	if slices.Contains(limitClasses[:], class) {
		return nil
	}
	const have = "6e, 6f, 6g or 6h for a bolt, 6G or 6H for a nut"
	switch {
	case class == "":
		return &ClassError{Class: class, Want: "one, the thread states none: " + have}
	case strings.Contains(class, "/"):
		return &ClassError{Class: class, Want: "one at a time: " + have}
	}
	return &ClassError{Class: class, Want: have}
}

// micro returns x mm in whole µm. Sums in whole µm keep the printed limits
// free of binary dust.
func micro(x float64) int { return int(math.Round(x * 1000)) }

func limit(um int) Limit { return Limit{Value: float64(um) / 1000, Given: true} }
