package settings

import (
	"cmp"
	"errors"
	"fmt"
	"iter"
	"maps"
	"slices"
	"strings"

	"github.com/BurntSushi/toml"

	"boltplate/fastener/schedule"
)

// A File is a file of settings that is being read, with everything that is
// wrong in it.
type File struct {
	Name   string
	text   string
	md     toml.MetaData
	errs   schedule.Errors
	places tomlPlaces // filled by where
	more   int        // faults beyond MaxFaults, which are counted only
	Rules  string     // that a joint file names
}

// MaxFaults is how many faults of a file are told: each takes a walk through
// the file to its place, and nobody mends more at a time.
const MaxFaults = 100

// InOrder ranges over a table in the order of its keys, so that the same faults
// are told each time.
func InOrder[V any](t map[string]V) iter.Seq2[string, V] {
	return func(yield func(string, V) bool) {
		for _, key := range slices.Sorted(maps.Keys(t)) {
			if v, ok := t[key]; ok && !yield(key, v) {
				return
			}
		}
	}
}

// top decodes the file and returns its keys.
func (r *File) top() map[string]toml.Primitive {
	var top map[string]toml.Primitive
	if at, err := tooDeep(r.text); err != nil {
		r.add(1+strings.Count(r.text[:at], "\n"), at-strings.LastIndexByte(r.text[:at], '\n'), err)
		return nil
	}
	var err error
	if r.md, err = toml.Decode(r.text, &top); err != nil {
		r.syntax(err)
	}
	return top
}

// failed returns what is wrong, in the order of the file, or nil.
func (r *File) failed() error {
	if len(r.errs) == 0 {
		return nil
	}
	slices.SortFunc(r.errs, func(a, b *schedule.Error) int {
		return cmp.Or(cmp.Compare(a.Line, b.Line), cmp.Compare(a.Column, b.Column), strings.Compare(a.Err.Error(), b.Err.Error()))
	})
	if r.more > 0 {
		last := r.errs[len(r.errs)-1]
		more := fmt.Errorf("and %d faults more, which are not told", r.more)
		r.errs = append(r.errs, &schedule.Error{File: r.Name, Line: last.Line, Column: last.Column, Err: more})
		r.more = 0
	}
	return r.errs
}

// syntax reports what is no TOML.
func (r *File) syntax(err error) {
	var pe toml.ParseError
	if errors.As(err, &pe) {
		// Position.Col is wrong at the start of a line, and Start may lie
		// outside the text.
		before := r.text[:min(max(0, pe.Position.Start), len(r.text))]
		r.add(max(1, pe.Position.Line), len(before)-strings.LastIndexByte(before, '\n'), errors.New(pe.Message))
		return
	}
	r.add(1, 1, err)
}

// where returns the place of a value by its way from the top, or of what holds
// it, or the first place of the file.
func (r *File) where(path string) Position {
	if r.places == nil {
		r.places = placesOf(r.text)
	}
	for path != "" {
		if at, ok := r.places[path]; ok {
			return at
		}
		path = path[:max(0, strings.LastIndexByte(path, '.'))]
	}
	return Position{1, 1}
}

func (r *File) add(line, column int, err error) {
	if len(r.errs) >= MaxFaults {
		r.more++
		return
	}
	r.errs = append(r.errs, &schedule.Error{File: r.Name, Line: line, Column: column, Err: err})
}

// inWords returns a value as a message names it.
func inWords(v any) string {
	switch v.(type) {
	case map[string]any, []map[string]any:
		return "a table"
	case []any:
		return "a list"
	}
	return fmt.Sprint(v)
}

// A fault is what a value is decoded into that is wrong: the decoder tells its
// Position with the error only.
type fault struct{ err error }

// UnmarshalTOML returns the fault.
func (f *fault) UnmarshalTOML(any) error { return f.err }

func (r *File) fail(at toml.Primitive, format string, a ...any) {
	if len(r.errs) >= MaxFaults {
		r.more++
		return // the way to its place is long
	}
	err := fmt.Errorf(format, a...)
	var pe toml.ParseError
	if errors.As(r.md.PrimitiveDecode(at, &fault{err}), &pe) && pe.Position.Line > 0 {
		r.syntax(pe)
		return
	}
	r.add(1, 1, err) // a table that only a dotted key makes has no place
}
