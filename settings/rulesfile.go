package settings

import (
	"cmp"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"github.com/BurntSushi/toml"

	"boltplate/fastener"
	"boltplate/fastener/schedule"
	"boltplate/rule"
)

// A rulesReader reads a file of rules of one's own: name and source, and a table
// for each kind, variant of a kind or family, in which a letter or the full name
// of a size has its rule, or a table with rule, source and status.
type rulesReader struct {
	File
	set rule.Set
}

// Bounds of a file of rules, in bytes and in rules: the complete one of ours has
// a quarter of them.
const (
	maxRules   = 1 << 16
	maxEntries = 1000
)

// ReadRules reads a file of rules. It reports everything that is wrong, a line
// each, as schedule.Errors.
func ReadRules(file, text string) (*fastener.Rules, error) {
	if len(text) > maxRules {
		return nil, fmt.Errorf("%s: more than %d bytes are too many for a file of rules", file, maxRules)
	}
	r := rulesReader{File: File{Name: file, text: text}}
	r.set.Name = strings.TrimSuffix(filepath.Base(file), filepath.Ext(file))
	for key, value := range InOrder(r.top()) {
		r.key(key, value)
	}
	if n := len(r.set.Entries); n > maxEntries {
		r.add(1, 1, fmt.Errorf("%d rules are too many; a file has at most %d", n, maxEntries))
		return nil, r.failed()
	}
	slices.SortFunc(r.set.Entries, func(a, b rule.Entry) int {
		return cmp.Or(cmp.Compare(a.At.Line, b.At.Line), cmp.Compare(a.At.Column, b.At.Column))
	})
	rules, err := fastener.NewRules(r.set)
	r.entryErrors(err)
	return rules, r.failed()
}

func (r *rulesReader) key(key string, value toml.Primitive) {
	switch key {
	case "name":
		r.text(key, value, &r.set.Name)
		if r.set.Name == "" {
			r.fail(value, "name: empty; a drawing says which rules it follows")
		}
	case "source":
		r.text(key, value, &r.set.Source)
	default:
		r.table(key, value)
	}
}

// text decodes a text that a drawing can show.
func (r *rulesReader) text(key string, value toml.Primitive, to *string) {
	if r.md.PrimitiveDecode(value, to) != nil {
		r.fail(value, "%s: must be text in quotes", key)
		return
	}
	if err := Printable(*to); err != nil {
		r.fail(value, "%s: %v", key, err)
	}
}

// table reads the rules of a kind or a family.
func (r *rulesReader) table(of string, value toml.Primitive) {
	var keys map[string]toml.Primitive
	if r.md.PrimitiveDecode(value, &keys) != nil || keys == nil {
		want := "a kind or a family begins with a line [" + tomlKey(of) + "]; before all of them stand name and source"
		if near := fastener.Nearest(strings.ToLower(of), []string{"name", "source"}); near != "" {
			want = "did you mean " + near + "?"
		}
		r.fail(value, "%s: not a table; %s", of, want)
		return
	}
	for letter, v := range InOrder(keys) {
		if e, ok := r.entry(of+": "+letter, v); ok {
			e.Of, e.Letter = of, letter
			r.set.Entries = append(r.set.Entries, e)
		}
	}
}

// entry reads a rule: a text, a number, or a table.
func (r *rulesReader) entry(label string, value toml.Primitive) (rule.Entry, bool) {
	e := rule.Entry{At: r.place(value)}
	var keys map[string]toml.Primitive
	if r.md.PrimitiveDecode(value, &keys) != nil || keys == nil {
		return e, r.rule(label, value, &e)
	}
	ok := false
	for key, v := range InOrder(keys) {
		switch key {
		case "rule":
			ok = r.rule(label, v, &e)
		case "source":
			r.text(label+": source", v, &e.Source)
		case "status":
			var s string
			r.text(label+": status", v, &s)
			status, err := rule.ParseStatus(s)
			if err != nil {
				r.fail(v, "%s: %v", label, err)
			}
			e.Status = status
		default:
			r.fail(v, "%s: %s: no such key; %s", label, key, DidYouMean(key, []string{"rule", "source", "status"}))
		}
	}
	if _, there := keys["rule"]; !there {
		r.fail(value, `%s: rule: missing; write it in quotes, such as rule = "0.8D"`, label)
	}
	return e, ok
}

// rule reads the text of a rule, or a number.
func (r *rulesReader) rule(label string, value toml.Primitive, e *rule.Entry) bool {
	e.RuleAt = r.place(value)
	if r.md.PrimitiveDecode(value, &e.Rule) == nil {
		e.RuleAt = r.inQuotes(e.RuleAt)
		return true
	}
	var v any
	_ = r.md.PrimitiveDecode(value, &v)
	n, ok := asNumber(v)
	if !ok {
		r.fail(value, `%s: must be a rule in quotes, such as "0.8D", or a number`, label)
		return false
	}
	e.Rule = strconv.FormatFloat(n, 'f', -1, 64)
	return true
}

// place returns where a value stands.
func (r *rulesReader) place(value toml.Primitive) rule.Place {
	var pe toml.ParseError
	if !errors.As(r.md.PrimitiveDecode(value, &fault{errors.New("")}), &pe) || pe.Position.Line == 0 {
		return rule.Place{Line: 1, Column: 1}
	}
	before := r.File.text[:min(max(0, pe.Position.Start), len(r.File.text))]
	return rule.Place{Line: pe.Position.Line, Column: len(before) - strings.LastIndexByte(before, '\n')}
}

// inQuotes returns where a text begins behind its quotation marks. The decoder's
// place of a text is behind the first of them, and within { } that of its key.
func (r *rulesReader) inQuotes(at rule.Place) rule.Place {
	n := 0
	for line := range strings.Lines(r.File.text) {
		if n++; n < at.Line {
			continue
		}
		before, rest := line[:min(at.Column-1, len(line))], line[min(at.Column-1, len(line)):]
		if !strings.HasSuffix(before, `"`) && !strings.HasSuffix(before, "'") {
			_, rest, _ = strings.Cut(rest, "=")
			rest = strings.TrimLeft(rest, " \t")
		}
		at.Column = len(line) - len(strings.TrimLeft(rest, `"'`)) + 1
		break
	}
	return at
}

// entryErrors reports what is wrong with entries, each at its place.
func (r *rulesReader) entryErrors(err error) {
	if err == nil {
		return
	}
	all := []error{err}
	if j, ok := err.(interface{ Unwrap() []error }); ok {
		all = j.Unwrap()
	}
	for _, one := range all {
		at := rule.Place{Line: 1, Column: 1}
		var ee *rule.EntryError
		if errors.As(one, &ee) {
			at = ee.Place()
			if n := at.Column - ee.Entry.RuleAt.Column; at.Line == ee.Entry.RuleAt.Line && n > 0 { // in characters
				at.Column = ee.Entry.RuleAt.Column + len(string([]rune(ee.Entry.Rule)[:min(n, len([]rune(ee.Entry.Rule)))]))
			}
		}
		r.errs = append(r.errs, &schedule.Error{File: r.Name, Line: at.Line, Column: at.Column, Err: one})
	}
}

// tomlKey writes a key as TOML has it.
func tomlKey(s string) string {
	for _, c := range s {
		if c != '-' && c != '_' && (c < '0' || c > '9') && (c < 'a' || c > 'z') && (c < 'A' || c > 'Z') {
			return strconv.Quote(s)
		}
	}
	return s
}
