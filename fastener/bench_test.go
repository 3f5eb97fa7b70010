package fastener_test

import (
	"strings"
	"testing"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/thread"
)

// oneM20 returns a fastener of the kind in M20, 90 mm long where it has a length.
func oneM20(tb testing.TB, k fastener.KindInfo) fastener.Fastener {
	s := fastener.Spec{Kind: k.Name, Thread: thread.MustParse("M20")}
	if k.Length {
		s.Length = 90
	}
	f, err := fastener.New(s)
	if err != nil {
		tb.Fatal(err)
	}
	return f
}

// A model is a fastener to measure, with the name that its benchmark has.
type model struct {
	name string
	f    fastener.Fastener
}

// models returns every kind in each of its forms, in M20 and 90 mm long where
// it has a length; and a bolt with each nut and washer on it. With
// scripts/bench-table.py the benchmarks below make a table.
func models(tb testing.TB) []model {
	tb.Helper()
	var out []model
	add := func(name string, s fastener.Spec) bool {
		s.Thread = thread.MustParse("M20")
		f, err := fastener.New(s)
		if err == nil {
			out = append(out, model{name, f})
		}
		return err == nil
	}
	for _, k := range fastener.Kinds() {
		s := fastener.Spec{Kind: k.Name}
		if k.Length {
			s.Length = 90
		}
		plain := add(k.Name, s)
		for _, o := range k.Options {
			switch o.Name {
			case "form", "neck", "angle":
				for i, word := range o.Choices {
					t := withWord(s, o.Name, word)
					if i == 0 && plain && len(o.Choices) > 1 { // the usual one, which is there
						continue
					}
					if !add(k.Name+","+word, t) {
						t.Length = 0 // a form that has its own
						add(k.Name+","+word, t)
					}
				}
			}
		}
	}
	for _, on := range []string{"hex", "thin", "square", "castle", "cap", "wing", "lock", "hex,plain",
		"hex,spring", "castle,plain"} {
		nut, washer, _ := strings.Cut(on, ",")
		s := fastener.Spec{Kind: "hex-bolt", Length: 110, Nut: nut, Washer: washer, Grip: 70}
		if nut == "cap" {
			s.Grip = 85
		}
		if !add("hex-bolt+"+on, s) {
			tb.Errorf("no bolt with %s", on)
		}
	}
	return out
}

// BenchmarkView makes one view, without placing its dimensions.
func BenchmarkView(b *testing.B) {
	for _, m := range models(b) {
		k, err := fastener.KindNamed(m.f.Kind())
		if err != nil {
			b.Fatal(err)
		}
		for _, dir := range k.Views {
			b.Run(m.name+"/"+dir.String(), func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					if _, err := m.f.View(dir, fastener.Options{}); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}

// BenchmarkHidden is BenchmarkView with hidden edges; a pictorial view has
// none.
func BenchmarkHidden(b *testing.B) {
	for _, m := range models(b) {
		for _, dir := range all {
			b.Run(m.name+"/"+dir.String(), func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					if _, err := m.f.View(dir, fastener.Options{Hidden: true}); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}

// BenchmarkDraw composes the usual drawing, dimensions placed.
func BenchmarkDraw(b *testing.B) {
	for _, m := range models(b) {
		b.Run(m.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := fastener.Draw(m.f, fastener.DrawOptions{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkPlaceDimensions places those of the front view; ns/dimension is the
// time for one.
func BenchmarkPlaceDimensions(b *testing.B) {
	for _, m := range models(b) {
		v, err := m.f.View(drawing.Front, fastener.Options{})
		if err != nil {
			b.Fatal(err)
		}
		n := 0
		for _, it := range v.Items {
			if it.Role == drawing.RoleDimension {
				n++
			}
		}
		b.Run(m.name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				drawing.Arrange(v, drawing.Style{})
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*n), "ns/dimension")
		})
	}
}
