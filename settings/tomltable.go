package settings

import (
	"fmt"
	"math"
	"strings"

	"github.com/BurntSushi/toml"

	"boltplate/fastener"
)

// A tomlTable is a table of a File. Its keys are taken one by one; what is
// left at the end nobody knows.
type tomlTable struct {
	file  *File
	path  string // its way from the top
	name  string // for messages: "bolt", "part 2", or "" for the top
	keys  map[string]toml.Primitive
	known []string
}

// openTOML reads a file; its top table is nil where it is no TOML.
func openTOML(e Opener, name string) (*File, *tomlTable, error) {
	name, text, err := e(name)
	if err != nil {
		return nil, nil, err
	}
	f := &File{Name: name, text: text}
	top := f.top()
	if top == nil {
		return f, nil, nil
	}
	return f, f.table("", "", top), nil
}

func (f *File) table(path, name string, keys map[string]toml.Primitive) *tomlTable {
	return &tomlTable{file: f, path: path, name: name, keys: keys}
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
	}
	return v, ok
}

func (t *tomlTable) text(key string, to *string) {
	if v, ok := t.take(key); ok && t.file.md.PrimitiveDecode(v, to) != nil {
		t.fail(key, "%s: not a text; write it in quotes", t.label(key))
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
	if t.file.md.PrimitiveDecode(v, to) != nil || math.IsInf(*to, 0) || math.IsNaN(*to) {
		*to = 0
		t.fail(key, "%s: not a number; give it without quotes and unit, such as 20 or 12.5", t.label(key))
	}
}

func (t *tomlTable) whole(key string, to *int) {
	v, ok := t.take(key)
	var whole int64
	switch {
	case !ok:
	case t.file.md.PrimitiveDecode(v, &whole) != nil || whole != int64(int32(whole)):
		t.fail(key, "%s: not a whole number", t.label(key))
	default:
		*to = int(whole)
	}
}

func (t *tomlTable) truth(key string, to *bool) {
	if v, ok := t.take(key); ok && t.file.md.PrimitiveDecode(v, to) != nil {
		t.fail(key, "%s: neither true nor false", t.label(key))
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
		t.fail(key, "%s: start each with a line [[%s]]", key, key)
		return
	}
	for i, keys := range list {
		s := t.file.table(join(t.path, element(key, i)), fmt.Sprintf("%s %d", titled, i+1), keys)
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
		t.fail(key, "%s: start it with a line [%s]", key, key)
		return
	}
	s := t.file.table(join(t.path, key), key, keys)
	each(s)
	s.done()
}

// done reports the keys that nobody asked for.
func (t *tomlTable) done() {
	for key := range InOrder(t.keys) {
		if near := fastener.Nearest(strings.ToLower(key), t.known); near != "" {
			t.fail(key, "%s: no such key; did you mean %s?", t.label(key), near)
			continue
		}
		t.fail(key, "%s: no such key; the keys are %s", t.label(key), strings.Join(t.known, ", "))
	}
}

// wrong reports what is wrong with the value of a key that was taken.
func (t *tomlTable) wrong(key string, err error) {
	t.fail(key, "%s: %w", t.label(key), err)
}

// fail reports what is wrong with a key, where it stands.
func (t *tomlTable) fail(key, format string, a ...any) {
	at := t.file.where(join(t.path, key))
	t.file.add(at.Line, at.Column, fmt.Errorf(format, a...))
}
