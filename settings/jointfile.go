package settings

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"boltplate/fastener"
	"boltplate/fastener/joint"
	"boltplate/fastener/schedule"
)

// AtField returns an error of a joint with the place of the field that is
// wrong in its file.
func AtField(f *File, err error) error {
	var field *joint.FieldError
	if !errors.As(err, &field) {
		return fmt.Errorf("%s: %w", f.Name, err)
	}
	path := field.Field
	if part, key, ok := strings.Cut(strings.TrimPrefix(path, "part "), ": "); ok {
		if i, err := strconv.Atoi(part); err == nil {
			path = join(element("part", i-1), key)
		}
	}
	at := f.where(path)
	return schedule.Errors{{File: f.Name, Line: at.Line, Column: at.Column, Err: err}}
}

// boltWords are the keys of the table bolt of a joint file that are words, with
// the field of each.
func boltWords() []boltWord {
	return []boltWord{
		{"kind", func(s *fastener.Spec) *string { return &s.Kind }},
		{"form", func(s *fastener.Spec) *string { return &s.Form }},
		{"neck", func(s *fastener.Spec) *string { return &s.Neck }},
		{"angle", func(s *fastener.Spec) *string { return &s.Angle }},
		{"taper", func(s *fastener.Spec) *string { return &s.Taper }},
		{"material", func(s *fastener.Spec) *string { return &s.Material }},
		{"widths", func(s *fastener.Spec) *string { return &s.Widths }},
		{"class", func(s *fastener.Spec) *string { return &s.Class }},
		{"made", func(s *fastener.Spec) *string { return &s.Made }},
		{"finish", func(s *fastener.Spec) *string { return &s.Finish }},
		{"end", func(s *fastener.Spec) *string { return &s.End }},
		{"undercut", func(s *fastener.Spec) *string { return &s.Undercut }},
	}
}

type boltWord struct {
	key string
	of  func(*fastener.Spec) *string
}

// WriteJoint returns a joint as a joint file.
func WriteJoint(j joint.Joint, rules string) []byte {
	var b strings.Builder
	text := func(key, v string) {
		if v != "" {
			fmt.Fprintf(&b, "%s = %s\n", key, quoted(v))
		}
	}
	number := func(key string, v float64) {
		if v != 0 || math.Signbit(v) { // joint.None
			fmt.Fprintf(&b, "%s = %s\n", key, strconv.FormatFloat(v+0, 'f', -1, 64))
		}
	}
	truth := func(key string, v bool) {
		if v {
			fmt.Fprintf(&b, "%s = true\n", key)
		}
	}
	text("scene", string(j.Scene))
	text("title", j.Title)
	text("basis", j.Basis.String())
	text("rules", rules)
	text("nut", j.Nut)
	text("washer", j.Washer)
	text("head_washer", j.HeadWasher)
	if j.Count != 0 {
		fmt.Fprintf(&b, "count = %d\n", j.Count)
	}
	number("spacing", j.Spacing)
	number("pin_hole", j.PinHole)
	number("room", j.Room)
	number("pull", j.Pull)
	truth("pull_across", j.PullAcross)
	b.WriteString("\n[bolt]\n")
	text("size", j.Bolt.Thread.String())
	number("length", j.Bolt.Length)
	number("thread", j.Bolt.ThreadLength)
	for _, w := range boltWords() {
		text(w.key, *w.of(&j.Bolt))
	}
	for _, p := range j.Parts {
		b.WriteString("\n[[part]]\n")
		text("name", p.Name)
		text("material", p.Material)
		for _, key := range joint.PartNumbers() {
			number(key, *p.Number(key))
		}
		truth("through", p.Through)
		truth("brittle", p.Brittle)
	}
	return []byte(b.String())
}

// quoted returns a text as a basic string of TOML.
func quoted(s string) string {
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r < ' ' || r == 0x7f:
			fmt.Fprintf(&b, "\\u%04X", r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}
