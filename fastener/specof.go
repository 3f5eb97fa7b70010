package fastener

import (
	"reflect"
	"strconv"
	"strings"

	"boltplate/drawing"
	"boltplate/thread"
)

// SpecOf returns the description of f in the words of a schedule: New makes an
// equal fastener of it. It reports false for a fastener that no Spec describes,
// such as one of another package, or a bolt whose nut is of another thread.
func SpecOf(f Fastener) (Spec, bool) {
	if a, ok := f.(Bolted); ok {
		return specOfBolted(a)
	}
	if f == nil {
		return Spec{}, false
	}
	k, err := kindNamed(f.Kind())
	if err != nil {
		return Spec{}, false
	}
	s := Spec{Kind: k.Name}
	fill(&s, f)
	// What words make of a fastener only its kind knows: it is asked for each
	// choice of them until it makes this one.
	ok := k.find(f, &s, 0)
	return s, ok
}

// fill reads the fields that are named alike in a fastener and in a Spec.
func fill(s *Spec, f Fastener) {
	v := reflect.ValueOf(f)
	if v.Kind() != reflect.Struct {
		return
	}
	read := func(name string, to any) {
		if field := v.FieldByName(name); field.IsValid() && field.Type() == reflect.TypeOf(to).Elem() {
			reflect.ValueOf(to).Elem().Set(field)
		}
	}
	read("Thread", &s.Thread)
	read("Length", &s.Length)
	read("ThreadLength", &s.ThreadLength)
	read("Basis", &s.Basis)
	read("Governs", &s.Governs)
	read("Extra", &s.Extra)
}

// find tries the words of the options from i on.
func (k *KindInfo) find(f Fastener, s *Spec, i int) bool {
	for ; i < len(k.Options); i++ {
		if to := s.word(k.Options[i].Name); to != nil {
			if k.find(f, s, i+1) { // not given
				return true
			}
			for _, w := range k.Options[i].Choices {
				if *to = w; k.find(f, s, i+1) {
					return true
				}
			}
			*to = ""
			return false
		}
	}
	return k.make(*s) == f
}

// word returns the field that holds the word of an option of a single part.
func (s *Spec) word(option string) *string {
	switch option {
	case "form":
		return &s.Form
	case "neck":
		return &s.Neck
	case "angle":
		return &s.Angle
	case "material":
		return &s.Material
	case "taper":
		return &s.Taper
	case "widths":
		return &s.Widths
	}
	return nil
}

func specOfBolted(a Bolted) (Spec, bool) {
	s, ok := SpecOf(a.Bolt)
	if !ok || a.AsGiven {
		return s, false
	}
	k, _ := kindNamed(s.Kind)
	s.Grip, s.Nut = a.Grip, short(a.Nut)
	washers := []string{""}
	for _, o := range k.Options {
		if o.Name == "washer" {
			washers = append(washers, o.Choices...)
		}
	}
	for _, s.Washer = range washers {
		if made, err := withNut(a.Bolt, s); err == nil && made == Fastener(a) {
			return s, true
		}
	}
	s.Washer = short(a.Washer)
	return s, false
}

// short returns the word for a nut or a washer on a bolt.
func short(f Fastener) string {
	switch w := f.(type) {
	case nil:
		return ""
	case Washer:
		return w.Form.String()
	}
	return strings.TrimSuffix(strings.TrimSuffix(f.Kind(), "-nut"), "-washer")
}

// Describe returns the description of a part as a program reads it, without
// what only its drawing or its schedule knows. docs/formats.md has the keys.
func Describe(f Fastener) []drawing.Property {
	s, _ := SpecOf(f)
	var out []drawing.Property
	add := func(key, value string) {
		if value != "" {
			out = append(out, drawing.Property{Key: key, Value: value})
		}
	}
	number := func(key string, v float64) {
		if v != 0 {
			add(key, strconv.FormatFloat(v, 'f', -1, 64))
		}
	}
	add("kind", f.Kind())
	add("designation", f.Designation())
	if s.Thread != (thread.Thread{}) {
		add("thread", s.Thread.String())
		number("diameter", s.Thread.D)
		number("pitch", s.Thread.P)
	}
	number("length", s.Length)
	number("thread_length", threadLength(f, s))
	add("form", s.Form)
	add("neck", s.Neck)
	add("angle", s.Angle)
	add("material", s.Material)
	add("taper", s.Taper)
	add("widths", s.Widths)
	add("nut", s.Nut)
	add("washer", s.Washer)
	number("grip", s.Grip)
	add("basis", s.Basis.String())
	if s.Governs != ByBasis {
		add("governs", s.Governs.String())
	}
	add("standard", standardOf(f, s))
	add("class", s.Class)
	add("made", s.Made)
	add("finish", s.Finish)
	add("end", s.End)
	add("undercut", s.Undercut)
	if a, ok := f.(Bolted); ok {
		for _, p := range []struct {
			key string
			f   Fastener
		}{{"bolt_designation", a.Bolt}, {"nut_designation", a.Nut}, {"washer_designation", a.Washer}} {
			if p.f != nil {
				add(p.key, p.f.Designation())
			}
		}
	}
	return out
}

// threadLength returns the length of the thread, by whatever rule it is.
func threadLength(f Fastener, s Spec) float64 {
	if s.ThreadLength != 0 {
		return s.ThreadLength
	}
	if a, ok := f.(Bolted); ok {
		f = a.Bolt
	}
	qs, err := f.Quantities()
	if err != nil {
		return 0
	}
	for _, q := range qs {
		if q.Name == sizeThread.name {
			return q.Value
		}
	}
	return 0
}

// standardOf returns the standard that the part is named by, which designations
// on that basis have before a hyphen (standardPrefix).
func standardOf(f Fastener, s Spec) string {
	if s.Basis != Standard {
		return ""
	}
	if a, ok := f.(Bolted); ok {
		f = a.Bolt
	}
	before, _, ok := strings.Cut(f.Designation(), " - ")
	words := strings.Fields(before)
	if n := len(words); ok && n > 2 && (words[n-2] == "ISO" || words[n-2] == "DIN" || words[n-2] == "IS") {
		return words[n-2] + " " + words[n-1]
	}
	return ""
}
