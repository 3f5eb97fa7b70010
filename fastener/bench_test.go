package fastener_test

import (
	"testing"

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

// BenchmarkView builds one view of each kind, without placing its dimensions.
func BenchmarkView(b *testing.B) {
	for _, k := range fastener.Kinds() {
		f := oneM20(b, k)
		for _, dir := range k.Views {
			b.Run(k.Name+"/"+dir.String(), func(b *testing.B) {
				b.ReportAllocs()
				for b.Loop() {
					if _, err := f.View(dir, fastener.Options{}); err != nil {
						b.Fatal(err)
					}
				}
			})
		}
	}
}

// BenchmarkDraw composes the usual drawing of each kind, dimensions placed.
func BenchmarkDraw(b *testing.B) {
	for _, k := range fastener.Kinds() {
		f := oneM20(b, k)
		b.Run(k.Name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := fastener.Draw(f, fastener.DrawOptions{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
