package dxfin

import (
	"fmt"
	"strconv"
)

// A SyntaxError says that a file is not DXF, where, and what would be right.
type SyntaxError struct {
	Line   int // from 1; 0 in a binary file
	Offset int // bytes from the start of the file
	Got    string
	Want   string
}

// Error returns the place, what stands there and what was expected.
func (e *SyntaxError) Error() string {
	at := fmt.Sprintf("line %d", e.Line)
	if e.Line == 0 {
		at = fmt.Sprintf("byte %d", e.Offset)
	}
	if e.Got == "" {
		return at + ": expected " + e.Want
	}
	return fmt.Sprintf("%s: %s: expected %s", at, e.Got, e.Want)
}

// A LimitError says that a file is larger than it may be.
type LimitError struct {
	What  string // "bytes", "entities", "pieces of the drawing", "INSERTs within each other"
	Limit int
}

// Error returns which limit it is.
func (e *LimitError) Error() string {
	return fmt.Sprintf("more than the %d %s that are read", e.Limit, e.What)
}

// quoted returns a value for a message, cut where it is long.
func quoted(b []byte) string {
	if len(b) > 40 {
		b = append(b[:40:40], "..."...)
	}
	return strconv.QuoteToASCII(string(b))
}
