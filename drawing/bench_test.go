package drawing

import "testing"

func BenchmarkArrange(b *testing.B) {
	v := ParseView(Plate) // six linear dimensions, a diameter and a leader
	b.ReportAllocs()
	for b.Loop() {
		Arrange(v, Style{})
	}
}

func BenchmarkExpand(b *testing.B) {
	v := Arrange(ParseView(Plate), Style{})
	b.ReportAllocs()
	for b.Loop() {
		for i := range v.Items {
			Expand(v.Items[i].Shape, Style{})
		}
	}
}
