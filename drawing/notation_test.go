package drawing

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"boltplate/rule"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// ParseView reads a view in the notation of these tests: items separated by
// semicolons, each a word and its numbers, such as
//
//	box 0 0 80 50; circle 60 35 8; below 0 0 80 0; leader 10 50 120 =M20
//
// below, above, left and right are linear dimensions of the two points that
// follow, aligned one to the left of its points; a leader has its tip and its
// direction, dia a circle and a direction, radius an arc's and a direction,
// angle its vertex, two directions and the radius where its legs end. Values
// are worked out, or written after an equals sign.
func ParseView(notation string) View {
	v := View{Name: "front"}
	for s := range strings.SplitSeq(notation, ";") {
		if strings.TrimSpace(s) != "" {
			v.Items = append(v.Items, parseItem(s))
		}
	}
	return v
}

func parseItem(s string) Item {
	s, said, _ := strings.Cut(s, "=")
	fields := strings.Fields(s)
	var n []float64
	for _, f := range fields[1:] {
		x, err := strconv.ParseFloat(f, 64)
		if err != nil {
			panic(fmt.Sprintf("%q: %v", s, err))
		}
		n = append(n, x)
	}
	label := func(v float64) Label {
		return Label{Quantity: Quantity{Letter: "A", Name: "size", Rule: rule.MustParse("2D"), Value: v, Status: CommonPractice}, Number: said}
	}
	linear := func(side Side) Item {
		d := Linear{Side: side, From: Pt(n[0], n[1]), To: Pt(n[2], n[3])}
		d.Label = label(d.span())
		return Item{RoleDimension, d}
	}
	switch fields[0] {
	case "box":
		return Item{RoleOutline, Polyline{Closed: true, Vertices: []Vertex{
			{Point: Pt(n[0], n[1])}, {Point: Pt(n[2], n[1])}, {Point: Pt(n[2], n[3])}, {Point: Pt(n[0], n[3])}}}}
	case "line":
		return Item{RoleOutline, Line{Pt(n[0], n[1]), Pt(n[2], n[3])}}
	case "axis":
		return Item{RoleCentre, Line{Pt(n[0], n[1]), Pt(n[2], n[3])}}
	case "circle":
		return Item{RoleOutline, Circle{Pt(n[0], n[1]), n[2]}}
	case "arc":
		return Item{RoleOutline, Arc{Pt(n[0], n[1]), n[2], n[3], n[4]}}
	case "below":
		return linear(Below)
	case "above":
		return linear(Above)
	case "left":
		return linear(Left)
	case "right":
		return linear(Right)
	case "aligned":
		d := Aligned{From: Pt(n[0], n[1]), To: Pt(n[2], n[3]), Side: Above}
		d.Label = label(d.To.Sub(d.From).Len())
		return Item{RoleDimension, d}
	case "dia":
		l := label(2 * n[2])
		l.Symbol = DiameterSymbol
		return Item{RoleDimension, Diameter{Label: l, Center: Pt(n[0], n[1]), Radius: n[2], Angle: n[3]}}
	case "radius":
		l := label(n[2])
		l.Symbol = RadiusSymbol
		return Item{RoleDimension, Radius{Label: l, Center: Pt(n[0], n[1]), Radius: n[2], Angle: n[3]}}
	case "leader":
		return Item{RoleDimension, Leader{Label: label(0), Tip: Pt(n[0], n[1]), Angle: n[2]}}
	case "angle":
		l := label(math.Mod(n[3]-n[2]+360, 360))
		l.Quantity.Unit = Degree
		return Item{RoleDimension, Angular{Label: l, Vertex: Pt(n[0], n[1]), Start: n[2], End: n[3], From: n[4], To: n[4]}}
	}
	panic("no such item: " + fields[0])
}

// Plate is a view with six linear dimensions and two on shelves.
const Plate = `box 0 0 80 50; circle 60 35 8; axis -3 25 83 25;
	below 0 0 80 0; below 0 0 20 0; above 0 50 60 50; left 0 0 0 50; right 80 0 80 50; right 80 35 80 50;
	dia 60 35 8 60; leader 10 50 120 =M20`

// RandomView is a rectangle with up to five linear dimensions on any sides and
// two leaders. No two dimensions of a side measure the same.
func RandomView(t *rapid.T) View {
	w, h := float64(rapid.IntRange(10, 120).Draw(t, "width")), float64(rapid.IntRange(10, 120).Draw(t, "height"))
	var b strings.Builder
	fmt.Fprintf(&b, "box 0 0 %g %g", w, h)
	seen := map[string]bool{}
	for range rapid.IntRange(0, 5).Draw(t, "dimensions") {
		side := rapid.SampledFrom([]string{"below", "above", "left", "right"}).Draw(t, "side")
		far := w
		if side == "left" || side == "right" {
			far = h
		}
		lo := rapid.IntRange(0, int(far)-2).Draw(t, "lo")
		hi := rapid.IntRange(lo+2, int(far)).Draw(t, "hi")
		var s string
		switch side {
		case "below":
			s = fmt.Sprintf("; below %d 0 %d 0", lo, hi)
		case "above":
			s = fmt.Sprintf("; above %d %g %d %[2]g", lo, h, hi)
		case "left":
			s = fmt.Sprintf("; left 0 %d 0 %d", lo, hi)
		case "right":
			s = fmt.Sprintf("; right %[1]g %[2]d %[1]g %[3]d", w, lo, hi)
		}
		if !seen[s] {
			seen[s] = true
			b.WriteString(s)
		}
	}
	for i := range 2 {
		k := float64(rapid.IntRange(1, 9).Draw(t, "tip")) / 10
		turn := rapid.IntRange(-60, 60).Draw(t, "turn")
		switch rapid.IntRange(0, 3).Draw(t, "edge") {
		case 0:
			fmt.Fprintf(&b, "; leader %g 0 %d =M%d", w*k, 270+turn, 12+i)
		case 1:
			fmt.Fprintf(&b, "; leader %g %g %d =M%d", w*k, h, 90+turn, 12+i)
		case 2:
			fmt.Fprintf(&b, "; leader 0 %g %d =M%d", h*k, 180+turn, 12+i)
		default:
			fmt.Fprintf(&b, "; leader %g %g %d =M%d", w, h*k, turn, 12+i)
		}
	}
	s := b.String()
	t.Log(s)
	return ParseView(s)
}

// samples returns points of a curve, evenly spaced in its parameter, each
// worked out from the definition of the shape.
func samples(s Shape, n int) []Point {
	var out []Point
	at := func(f func(k float64) Point) {
		for i := range n + 1 {
			out = append(out, f(float64(i)/float64(n)))
		}
	}
	rad := math.Pi / 180
	switch s := s.(type) {
	case Line:
		at(func(k float64) Point { return s.From.Mul(1 - k).Add(s.To.Mul(k)) })
	case Circle:
		return samples(Arc{s.Center, s.Radius, 0, 360}, n)
	case Arc:
		turn := turned(s.Start, s.End)
		at(func(k float64) Point {
			sin, cos := math.Sincos((s.Start + k*turn) * rad)
			return s.Center.Add(Pt(s.Radius*cos, s.Radius*sin))
		})
	case Ellipse:
		turn := turned(s.Start, s.End)
		at(func(k float64) Point {
			sin, cos := math.Sincos((s.Start + k*turn) * rad)
			return s.Center.Add(s.Major.Mul(cos)).Add(Pt(-s.Major.Y, s.Major.X).Mul(s.Ratio * sin))
		})
	case Conic:
		at(func(k float64) Point {
			u := 1 - k
			p := s.From.Mul(u * u).Add(s.Control.Mul(2 * u * k * s.Weight)).Add(s.To.Mul(k * k))
			return p.Mul(1 / (u*u + 2*u*k*s.Weight + k*k))
		})
	case Polyline:
		return chain(s.Vertices, s.Closed, n)
	case Hatch:
		for _, l := range s.Loops {
			out = append(out, chain(l, true, n)...)
		}
	}
	return out
}

func turned(start, end float64) float64 {
	d := math.Mod(end-start, 360)
	if d <= 0 {
		d += 360
	}
	return d
}

func chain(vs []Vertex, closed bool, n int) []Point {
	var out []Point
	for i, v := range vs {
		if i+1 == len(vs) && !closed {
			break
		}
		chord := vs[(i+1)%len(vs)].Sub(v.Point)
		for j := range n + 1 {
			k := float64(j) / float64(n)
			if v.Bulge == 0 {
				out = append(out, v.Add(chord.Mul(k)))
				continue
			}
			// The segment turns through 4 arctan of the bulge, and leaves its
			// chord by half of that. A chord of part of it turns by half of
			// that part and is as long as its sine asks.
			turn := 4 * math.Atan(v.Bulge)
			sin, cos := math.Sincos((k - 1) * turn / 2)
			m := math.Sin(k*turn/2) / math.Sin(turn/2)
			out = append(out, v.Add(Pt(chord.X*cos-chord.Y*sin, chord.X*sin+chord.Y*cos).Mul(m)))
		}
	}
	return out
}

// shapes are one of each curve, with the cases that matter.
func shapes() []Shape {
	bulged := []Vertex{{Pt(0, 0), 0.4}, {Pt(30, 5), 0}, {Pt(25, 20), -1.5}, {Pt(3, 14), 1}}
	return []Shape{
		Line{Pt(1, 2), Pt(-5, 8)},
		Circle{Pt(3, -7), 4},
		Arc{Pt(3, 4), 5, 30, 200}, Arc{Pt(0, 0), 5, 300, 10}, Arc{Pt(-2, 1), 2, 0, 360}, Arc{Pt(3, 4), 5, -20, 20},
		Ellipse{Pt(2, 1), Pt(6, 3), 0.4, 0, 0}, Ellipse{Pt(2, 1), Pt(0, 7), 0.57735, 0, 360}, Ellipse{Pt(-2, 5), Pt(-6, 3), 0.5, 20, 250}, Ellipse{Pt(0, 0), Pt(5, 0), 0.3, 330, 30},
		Conic{Pt(0, 0), Pt(5, 10), Pt(10, 0), 1.4}, Conic{Pt(0, 0), Pt(3, 10), Pt(10, 2), 0.6},
		Polyline{bulged, true}, Polyline{bulged, false}, Polyline{[]Vertex{{Pt(0, 0), 0}, {Pt(4, 9), 0}}, false},
		Hatch{Loops: [][]Vertex{bulged, {{Pt(5, 5), 1}, {Pt(8, 5), 1}}}, Angle: 45, Spacing: 2},
	}
}

// sameSet checks that two sets of points agree whatever their order.
func sameSet(t assert.TestingT, want, got []Point, msg ...any) {
	what := fmt.Sprintf("%+v", msg)
	if !assert.Len(t, got, len(want), what) {
		return
	}
	for _, ab := range [2][2][]Point{{want, got}, {got, want}} {
		for _, p := range ab[0] {
			near := math.Inf(1)
			for _, q := range ab[1] {
				near = math.Min(near, p.Sub(q).Len())
			}
			if !assert.Less(t, near, 1e-9, "%.4f has no counterpart: %s", p, what) {
				return
			}
		}
	}
}

func samePoint(t assert.TestingT, want, got Point, msg ...any) {
	assert.InDelta(t, want.X, got.X, 1e-9, msg...)
	assert.InDelta(t, want.Y, got.Y, 1e-9, msg...)
}

// ink returns the points of an expansion but for its label.
func ink(x Expansion) []Point {
	var out []Point
	for _, l := range x.Lines() {
		out = append(out, l.From, l.To)
	}
	for _, a := range x.Arcs() {
		out = append(out, samples(a, 12)...)
	}
	for _, a := range x.Arrows() {
		out = append(out, a[:]...)
	}
	return out
}
