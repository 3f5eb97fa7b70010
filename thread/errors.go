package thread

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"
)

// SyntaxError reports text that is not the designation of a thread.
type SyntaxError struct {
	Input  string // the whole text
	Column int    // of the offending character in Input, counted in characters from 1
	Found  string // the offending character; "" at the end of Input
	Want   string // what would be right there
}

func (e *SyntaxError) Error() string {
	found := "the end"
	if e.Found != "" {
		found = fmt.Sprintf("%q", e.Found)
	}
	return fmt.Sprintf("thread %q: column %d: found %s, want %s", clip(e.Input), e.Column, found, e.Want)
}

// SizeError reports a nominal diameter that a standard does not list, or that
// lies outside what this package holds of it.
type SizeError struct {
	D        float64   // mm
	Standard string    // "ISO 261", "ISO 273"
	Nearest  []float64 // the listed diameters next below and above D, mm
	Column   int       // of the diameter in the text given to Parse, from 1; 0 for a number
}

func (e *SizeError) Error() string {
	var what string
	switch {
	case e.Standard != "ISO 261":
		what = fmt.Sprintf("M%s is not among the sizes held of %s", number(e.D), e.Standard)
	case slices.Contains(thirdChoices[:], e.D):
		what = fmt.Sprintf("M%s is a third choice of ISO 261, and only first and second choices are held", number(e.D))
	case e.D < isoSizes[0].d, e.D > isoSizes[len(isoSizes)-1].d:
		what = fmt.Sprintf("M%s is outside the sizes held of ISO 261, M3 to M64", number(e.D))
	case e.D > verifiedTo:
		what = fmt.Sprintf("M%s is not among the sizes held of ISO 261", number(e.D))
	default:
		what = fmt.Sprintf("M%s is not a size of ISO 261", number(e.D))
	}
	return what + "; nearest: " + list(e.Nearest, "M")
}

// PitchError reports a pitch that a standard does not list for the diameter.
type PitchError struct {
	D        float64   // mm
	P        float64   // mm; 0 when a fine pitch was asked for and there is none
	Standard string    // "ISO 261", "ISO 262"
	Nearest  []float64 // the listed pitches next below and above P, mm
	Column   int       // of the pitch in the text given to Parse, from 1; 0 for a number
}

func (e *PitchError) Error() string {
	if e.P == 0 {
		return fmt.Sprintf("%s has no fine pitch for M%s; ISO 261 has: %s", e.Standard, number(e.D), list(e.Nearest, ""))
	}
	return fmt.Sprintf("%s is not a pitch of M%s in %s; nearest: %s", number(e.P), number(e.D), e.Standard, list(e.Nearest, ""))
}

// ValueError reports a number that makes no sense: zero, negative, not a
// number, infinite or absurd.
type ValueError struct {
	Name   string  // "diameter", "pitch", "length", "fit", "item"
	Value  float64 // mm for a length
	Want   string  // what would be right
	Column int     // of the number in the text given to Parse, from 1; 0 for a number
}

func (e *ValueError) Error() string {
	if e.Name == "fit" || e.Name == "item" {
		return fmt.Sprintf("%s %s: want %s", e.Name, number(e.Value), e.Want)
	}
	return fmt.Sprintf("thread %s of %s mm: want %s", e.Name, number(e.Value), e.Want)
}

// ClassError reports a tolerance class that is not known in form, or for which
// this package has no limits.
type ClassError struct {
	Class string
	Want  string // what would be right
}

func (e *ClassError) Error() string {
	return fmt.Sprintf("tolerance class %q: want %s", clip(e.Class), e.Want)
}

// TableError reports a figure that is not held here for a thread. It says
// nothing about what the standard has.
type TableError struct {
	Standard string   // "ISO 2306", "ISO 965-1"
	Item     string   // what was asked for, "tapping drill"
	Thread   Thread   // for which thread
	Have     []Thread // threads next to it for which the figure is held; may be empty
	Held     string   // for which threads it is held, in words; may be ""
	Rule     string   // a rule that helps out, with its status; may be ""
}

func (e *TableError) Error() string {
	var b strings.Builder
	fmt.Fprintf(&b, "no %s of %s is held here for %v", e.Item, e.Standard, e.Thread)
	if e.Held != "" {
		b.WriteString("; held: " + e.Held)
	}
	if len(e.Have) > 0 {
		b.WriteString("; held: ")
		for i, t := range e.Have {
			if i > 0 {
				b.WriteString(", ")
			}
			b.WriteString(t.String())
		}
	}
	if e.Rule != "" {
		b.WriteString("; ")
		b.WriteString(e.Rule)
	}
	return b.String()
}

// list joins numbers as "M12, M14".
func list(xs []float64, prefix string) string {
	if len(xs) == 0 {
		return "none"
	}
	var b []byte
	for i, x := range xs {
		if i > 0 {
			b = append(b, ", "...)
		}
		b = append(b, prefix...)
		b = appendNumber(b, x)
	}
	return string(b)
}

// clip shortens text from outside for a message.
func clip(s string) string {
	const most = 40
	if utf8.RuneCountInString(s) <= most {
		return s
	}
	n := 0
	for i := range s {
		if n == most {
			return s[:i] + "…"
		}
		n++
	}
	return s
}
