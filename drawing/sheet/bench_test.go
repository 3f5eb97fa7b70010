package sheet

import (
	"context"
	"fmt"
	"testing"

	"boltplate/fastener"
	"boltplate/thread"
)

// BenchmarkCompose composes plates of bolts on A1, at a given scale and on as
// many pages as they take.
func BenchmarkCompose(b *testing.B) {
	for _, n := range []int{1, 10, 100, 1000} {
		p := Plate{Format: Format{Size: A1}, Pages: AsNeeded, Scale: 1}
		for i := range n {
			bolt := fastener.HexBolt{Thread: thread.MustParse([]string{"M12", "M16", "M20"}[i%3]), Length: 50 + float64(i%5)*10}
			p.Figures = append(p.Figures, Figure{Caption: bolt.Designation(), Source: fastener.Figure{Fastener: bolt}})
		}
		b.Run(fmt.Sprintf("figures=%d", n), func(b *testing.B) {
			for b.Loop() {
				if _, err := p.Compose(context.Background()); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
