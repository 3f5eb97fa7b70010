package schedule

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// An Error says what is wrong in a schedule, where, and what would be right.
type Error struct {
	File   string // as given to [NewReader]
	Line   int    // from 1; 0 for a row that comes from no file
	Column int    // of the cell in its line, in bytes from 1 as encoding/csv counts them
	Field  string // the name of the column, or "" where none is to blame
	Err    error  // such as *fastener.FieldError, *fastener.KindError, *thread.SizeError
}

// Error returns "file:line:column: what, and what would be right".
func (e *Error) Error() string {
	if e.Line == 0 {
		return e.Err.Error()
	}
	return fmt.Sprintf("%s:%d:%d: %v", e.File, e.Line, e.Column, e.Err)
}

// Unwrap returns e.Err.
func (e *Error) Unwrap() error { return e.Err }

// Errors is everything that is wrong with one row, or with the header, in the
// order in which it stands in the file.
type Errors []*Error

// Error returns the errors, one a line.
func (e Errors) Error() string {
	lines := make([]string, len(e))
	for i, x := range e {
		lines[i] = x.Error()
	}
	return strings.Join(lines, "\n")
}

// Unwrap returns the errors for errors.Is and errors.As.
func (e Errors) Unwrap() []error {
	out := make([]error, len(e))
	for i, x := range e {
		out[i] = x
	}
	return out
}

// sorted puts the errors in the order of the file. It returns nil, the
// interface, for none.
func (e Errors) sorted() error {
	if len(e) == 0 {
		return nil
	}
	slices.SortStableFunc(e, func(a, b *Error) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column))
	})
	return e
}
