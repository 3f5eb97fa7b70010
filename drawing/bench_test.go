package drawing

import (
	"fmt"
	"strings"
	"testing"
)

func benchmarkArrange(b *testing.B, v View) {
	n := 0
	for _, it := range v.Items {
		if it.Role == RoleDimension {
			n++
		}
	}
	b.ReportAllocs()
	for b.Loop() {
		Arrange(v, Style{})
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*n), "ns/dimension")
}

func BenchmarkArrange(b *testing.B) {
	benchmarkArrange(b, ParseView(Plate)) // six linear dimensions, a diameter and a leader
}

// BenchmarkArrangeShaft arranges the dimensions of stepped shafts: of each step
// the length from the left end, the length of its own and the width, and of
// each second one a thread on a leader.
func BenchmarkArrangeShaft(b *testing.B) {
	for _, steps := range []int{2, 6, 20} {
		v := shaft(steps)
		b.Run(fmt.Sprint(3*steps+steps/2), func(b *testing.B) { benchmarkArrange(b, v) })
	}
}

func shaft(steps int) View {
	var s strings.Builder
	for i := range steps {
		x, r := 30*float64(i), 10+float64(i%5)*4
		fmt.Fprintf(&s, "box %g %g %g %g; below 0 %g %g %g; above %g %g %g %g;", x, -r, x+30, r, -r, x+30, -r, x, r, x+30, r)
		switch {
		case i < 2:
			fmt.Fprintf(&s, "left %g %g %g %g;", x, -r, x, r)
		case i > steps-3:
			fmt.Fprintf(&s, "right %g %g %g %g;", x+30, -r, x+30, r)
		default:
			fmt.Fprintf(&s, "leader %g %g 70 =Ø%g;", x+10, r, 2*r)
		}
		if i%2 == 0 {
			fmt.Fprintf(&s, "leader %g %g 60 =M%g;", x+15, r, 2*r)
		}
	}
	return ParseView(s.String())
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
