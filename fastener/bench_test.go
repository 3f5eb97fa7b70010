package fastener_test

import (
	"testing"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/thread"
)

// BenchmarkView builds one view of each kind, without placing its dimensions.
func BenchmarkView(b *testing.B) {
	th := thread.MustParse("M20")
	for _, k := range fastener.Kinds() {
		s := fastener.Spec{Kind: k.Name, Thread: th}
		if k.Length {
			s.Length = 90
		}
		f, err := fastener.New(s)
		if err != nil {
			b.Fatal(err)
		}
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
	th := thread.MustParse("M20")
	for _, k := range fastener.Kinds() {
		s := fastener.Spec{Kind: k.Name, Thread: th}
		if k.Length {
			s.Length = 90
		}
		f, err := fastener.New(s)
		if err != nil {
			b.Fatal(err)
		}
		b.Run(k.Name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := fastener.Draw(f, fastener.DrawOptions{Options: fastener.Options{Style: drawing.Style{}}}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
