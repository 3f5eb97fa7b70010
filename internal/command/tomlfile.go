package command

import (
	"errors"
	"fmt"
	"os"
	"slices"
	"strings"

	"github.com/BurntSushi/toml"

	"boltplate/fastener"
	"boltplate/fastener/schedule"
)

// A tomlFile is a TOML file that is read key by key, so that everything wrong
// with it is reported with its line and column.
type tomlFile struct {
	name string
	text string
	md   toml.MetaData
	errs schedule.Errors
}

// A tomlTable is a table of a tomlFile. Its keys are taken one by one; what is
// left at the end nobody knows.
type tomlTable struct {
	file  *tomlFile
	name  string // for messages: "bolt", "part 2", or "" for the top
	keys  map[string]toml.Primitive
	known []string
	lines map[string]toml.Primitive // of the keys taken, for errors that come later
}

// openTOML reads a file; its top table is nil where it is no TOML.
func openTOML(name string) (*tomlFile, *tomlTable, error) {
	data, err := os.ReadFile(name)
	if err != nil {
		return nil, nil, cannotRead(name, err)
	}
	f := &tomlFile{name: name, text: string(data)}
	var top map[string]toml.Primitive
	if f.md, err = toml.Decode(f.text, &top); err != nil {
		f.syntax(err)
		return f, nil, nil
	}
	return f, f.table("", top), nil
}

func (f *tomlFile) table(name string, keys map[string]toml.Primitive) *tomlTable {
	return &tomlTable{file: f, name: name, keys: keys, lines: map[string]toml.Primitive{}}
}

// syntax reports what the decoder refuses.
func (f *tomlFile) syntax(err error) {
	var pe toml.ParseError
	if errors.As(err, &pe) {
		before := f.text[:min(pe.Position.Start, len(f.text))]
		f.add(pe.Position.Line, len(before)-strings.LastIndexByte(before, '\n'), errors.New(pe.Message))
		return
	}
	f.add(1, 1, err)
}

func (f *tomlFile) add(line, column int, err error) {
	f.errs = append(f.errs, &schedule.Error{File: f.name, Line: line, Column: column, Err: err})
}

// err returns everything that is wrong, in the order of the file, or nil.
func (f *tomlFile) err() error {
	if len(f.errs) == 0 {
		return nil
	}
	slices.SortStableFunc(f.errs, func(a, b *schedule.Error) int {
		if a.Line != b.Line {
			return a.Line - b.Line
		}
		return a.Column - b.Column
	})
	return f.errs
}

// A misfit is what a value is decoded into that is wrong: the decoder tells its
// position with the error only.
type misfit struct{ err error }

// UnmarshalTOML returns the error.
func (m *misfit) UnmarshalTOML(any) error { return m.err }

// fail reports what is wrong with a value.
func (f *tomlFile) fail(at toml.Primitive, format string, a ...any) {
	err := fmt.Errorf(format, a...)
	var pe toml.ParseError
	if errors.As(f.md.PrimitiveDecode(at, &misfit{err}), &pe) && pe.Position.Line > 0 {
		f.syntax(pe)
		return
	}
	f.add(1, 1, err) // a table that only a dotted key makes has no place
}

func (t *tomlTable) label(key string) string {
	if t.name == "" {
		return key
	}
	return t.name + ": " + key
}

// take hands out the value of a key.
func (t *tomlTable) take(key string) (toml.Primitive, bool) {
	t.known = append(t.known, key)
	v, ok := t.keys[key]
	if ok {
		delete(t.keys, key)
		t.lines[key] = v
	}
	return v, ok
}

func (t *tomlTable) text(key string, to *string) {
	if v, ok := t.take(key); ok && t.file.md.PrimitiveDecode(v, to) != nil {
		t.file.fail(v, "%s: not a text; write it in quotes", t.label(key))
	}
}

func (t *tomlTable) number(key string, to *float64) {
	v, ok := t.take(key)
	if !ok {
		return
	}
	var whole int64
	if t.file.md.PrimitiveDecode(v, &whole) == nil {
		*to = float64(whole)
		return
	}
	if t.file.md.PrimitiveDecode(v, to) != nil {
		t.file.fail(v, "%s: not a number; give it without quotes and unit, such as 20 or 12.5", t.label(key))
	}
}

func (t *tomlTable) truth(key string, to *bool) {
	if v, ok := t.take(key); ok && t.file.md.PrimitiveDecode(v, to) != nil {
		t.file.fail(v, "%s: neither true nor false", t.label(key))
	}
}

// tables hands out the tables of a [[key]]; titled names each in messages.
func (t *tomlTable) tables(key, titled string, each func(*tomlTable)) {
	v, ok := t.take(key)
	if !ok {
		return
	}
	var list []map[string]toml.Primitive
	if t.file.md.PrimitiveDecode(v, &list) != nil {
		t.file.fail(v, "%s: start each with a line [[%s]]", key, key)
		return
	}
	for i, keys := range list {
		s := t.file.table(fmt.Sprintf("%s %d", titled, i+1), keys)
		each(s)
		s.done()
	}
}

// one hands out the table of a [key].
func (t *tomlTable) one(key string, each func(*tomlTable)) {
	v, ok := t.take(key)
	if !ok {
		return
	}
	var keys map[string]toml.Primitive
	if t.file.md.PrimitiveDecode(v, &keys) != nil {
		t.file.fail(v, "%s: start it with a line [%s]", key, key)
		return
	}
	s := t.file.table(key, keys)
	each(s)
	s.done()
}

// done reports the keys that nobody asked for.
func (t *tomlTable) done() {
	for key, v := range t.keys {
		if near := fastener.Nearest(strings.ToLower(key), t.known); near != "" {
			t.file.fail(v, "%s: no such key; did you mean %s?", t.label(key), near)
			continue
		}
		t.file.fail(v, "%s: no such key; the keys are %s", t.label(key), strings.Join(t.known, ", "))
	}
}

// wrong reports what is wrong with the value of a key that was taken.
func (t *tomlTable) wrong(key string, err error) {
	if v, ok := t.lines[key]; ok {
		t.file.fail(v, "%s: %w", t.label(key), err)
		return
	}
	t.file.add(1, 1, fmt.Errorf("%s: %w", t.label(key), err))
}
