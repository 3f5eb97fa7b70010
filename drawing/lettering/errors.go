package lettering

import (
	"fmt"
	"strings"
)

// A FontError says why a file is no font to letter drawings in.
type FontError struct {
	File   string // "" where it is not known
	Reason string // such as "is no TrueType or OpenType font"
	Err    error  // what the reader of the format said, where it did
}

// Error returns the file and the reason.
func (e *FontError) Error() string {
	s := e.Reason
	if e.File != "" {
		s = e.File + ": " + s
	} else {
		s = "the font " + s
	}
	if e.Err != nil {
		s += ": " + e.Err.Error()
	}
	return s
}

// Unwrap returns what the reader of the format said.
func (e *FontError) Unwrap() error { return e.Err }

// A MissingError says which characters of a text a font cannot letter.
type MissingError struct {
	Font       string // its name
	Characters []rune // each once, in the order of the text
	Script     bool   // they are of a script that cannot be set letter by letter
}

// mostNamed is how many characters an error names.
const mostNamed = 6

// Error names the characters and what would help.
func (e *MissingError) Error() string {
	var names []string
	for i, r := range e.Characters {
		if i == mostNamed {
			names = append(names, fmt.Sprintf("and %d more", len(e.Characters)-i))
			break
		}
		names = append(names, fmt.Sprintf("%q (%U)", r, r))
	}
	if e.Script {
		return fmt.Sprintf("holds %s, of a script that runs from right to left or joins its letters, which cannot be lettered", strings.Join(names, ", "))
	}
	return fmt.Sprintf("the font %s lacks %s; give one that has them", e.Font, strings.Join(names, ", "))
}
