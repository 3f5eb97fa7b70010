package drawing

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func trimmed(s Shape, outlines ...Polyline) []Shape {
	var out []Shape
	for _, it := range Trim([]Item{{RoleOutline, s}}, outlines, Style{}) {
		out = append(out, it.Shape)
	}
	return out
}

func rectangle(x0, y0, x1, y1 float64) Polyline {
	return Polyline{[]Vertex{{Pt(x0, y0), 0}, {Pt(x1, y0), 0}, {Pt(x1, y1), 0}, {Pt(x0, y1), 0}}, true}
}

func roundOutline(c Point, r float64) Polyline {
	return Polyline{[]Vertex{{c.Add(Pt(r, 0)), 1}, {c.Add(Pt(-r, 0)), 1}}, true}
}

func TestTrimByHand(t *testing.T) {
	box := rectangle(0, 0, 10, 10)
	assert.Equal(t, []Shape{Line{Pt(-5, 5), Pt(0, 5)}, Line{Pt(10, 5), Pt(15, 5)}}, trimmed(Line{Pt(-5, 5), Pt(15, 5)}, box))
	assert.Empty(t, trimmed(Line{Pt(2, 5), Pt(8, 5)}, box), "inside")
	assert.Empty(t, trimmed(Line{Pt(0, 2), Pt(0, 8)}, box), "on the edge: what is in front draws it")
	along := trimmed(Line{Pt(-5, 0), Pt(15, 0)}, box)
	assert.Len(t, along, 2, "along the edge")
	samePoint(t, Pt(0, 0), along[0].(Line).To)
	samePoint(t, Pt(10, 0), along[1].(Line).From)
	assert.Equal(t, []Shape{Circle{Pt(5, 5), 20}}, trimmed(Circle{Pt(5, 5), 20}, box), "all round it")
	assert.Empty(t, trimmed(Circle{Pt(5, 5), 3}, box))
	// A circle of radius 5 about the corner: three quarters are left.
	got := trimmed(Circle{Pt(0, 0), 5}, box)
	assert.Len(t, got, 1)
	a := got[0].(Arc)
	assert.InDelta(t, 270, a.End-a.Start, 1e-6)
	assert.InDelta(t, 90, a.Start, 1e-6)
	// A line through a circle leaves the parts beyond it.
	got = trimmed(Line{Pt(-20, 3), Pt(20, 3)}, roundOutline(Pt(0, 0), 5))
	assert.Len(t, got, 2)
	assert.InDelta(t, -4, got[0].(Line).To.X, 1e-9)
	assert.InDelta(t, 4, got[1].(Line).From.X, 1e-9)

	assert.Equal(t, []Shape{rectangle(20, 0, 30, 10)}, trimmed(rectangle(20, 0, 30, 10), box), "beside it")
	got = trimmed(rectangle(5, 5, 15, 15), box)
	assert.Len(t, got, 1)
	assert.Len(t, got[0].(Polyline).Vertices, 5, "from (10, 5) round to (5, 10)")

	// Of ten lines across a square of ten, five are left at half its height.
	h := Hatch{Loops: [][]Vertex{rectangle(0, 0, 10, 10).Vertices}, Spacing: 1}
	assert.Len(t, trimmed(h, rectangle(-5, -5, 15, 4.5)), 5)
	assert.Equal(t, []Shape{h}, trimmed(h, rectangle(20, 0, 30, 10)))
	arrow := Hatch{Loops: [][]Vertex{{{Pt(2, 2), 0}, {Pt(4, 2), 0}, {Pt(3, 3), 0}}}, Solid: true}
	assert.Empty(t, trimmed(arrow, box))
	assert.Len(t, trimmed(arrow, rectangle(0, 0, 3, 10)), 1)
	assert.Empty(t, trimmed(Text{At: Pt(3, 3), Height: 1, Value: "in"}, box))
	assert.Len(t, trimmed(Text{At: Pt(30, 3), Height: 1, Value: "out"}, box), 1)
	assert.Len(t, trimmed(Linear{From: Pt(2, 2), To: Pt(8, 2)}, box), 1, "dimensions stay")
	assert.Len(t, trimmed(Line{Pt(0, 0), Pt(1, 1)}), 1, "no outlines")
}

// TestTrimLeavesTheOutside: a point of a shape is left if it is outside, found
// by looking at many.
func TestTrimLeavesTheOutside(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.Float64Range(-30, 30)
		pt := func(name string) Point { return Pt(c.Draw(t, name+" x"), c.Draw(t, name+" y")) }
		var outlines []Polyline
		for range rapid.IntRange(1, 2).Draw(t, "outlines") {
			switch rapid.IntRange(0, 2).Draw(t, "outline") {
			case 0:
				outlines = append(outlines, roundOutline(pt("center"), rapid.Float64Range(2, 20).Draw(t, "r")))
			case 1:
				p, w, h := pt("corner"), rapid.Float64Range(2, 30).Draw(t, "w"), rapid.Float64Range(2, 30).Draw(t, "h")
				outlines = append(outlines, rectangle(p.X, p.Y, p.X+w, p.Y+h))
			default:
				p, w := pt("corner"), rapid.Float64Range(4, 30).Draw(t, "w")
				outlines = append(outlines, Polyline{[]Vertex{{p, 0.6}, {p.Add(Pt(w, 0)), -0.3}, {p.Add(Pt(w, w)), 0}, {p.Add(Pt(0, w)), 0}}, true})
			}
		}
		var s Shape
		switch rapid.IntRange(0, 5).Draw(t, "shape") {
		case 0:
			s = Line{pt("from"), pt("to")}
		case 1:
			s = Circle{pt("center"), rapid.Float64Range(1, 30).Draw(t, "r")}
		case 2:
			s = Arc{pt("center"), rapid.Float64Range(1, 30).Draw(t, "r"), c.Draw(t, "start") * 12, c.Draw(t, "end") * 12}
		case 3:
			s = Ellipse{pt("center"), pt("major"), rapid.Float64Range(0.1, 1).Draw(t, "ratio"), c.Draw(t, "start") * 12, c.Draw(t, "end") * 12}
		case 4:
			s = Conic{pt("from"), pt("control"), pt("to"), rapid.Float64Range(0.2, 4).Draw(t, "weight")}
		default:
			s = Polyline{[]Vertex{{pt("a"), 0}, {pt("b"), rapid.SampledFrom([]float64{0, 0.05, -0.3, 1, -2}).Draw(t, "bulge")}, {pt("c"), -0.4}}, rapid.Bool().Draw(t, "closed")}
		}
		var chains, left [][]Point
		for _, o := range outlines {
			chains = append(chains, Flatten(o, 1e-5)...)
		}
		kept := trimmed(s, outlines...)
		for _, k := range kept {
			left = append(left, Flatten(k, 1e-5)...)
		}
		for _, p := range samples(s, 60) {
			if far(p, chains) < 2e-3 {
				continue // too near the edge to tell
			}
			in := false
			for _, c := range chains {
				in = in || within(c, p)
			}
			if off := far(p, left); in {
				assert.Greater(t, off, 1e-4, "%v is inside and left", p)
			} else {
				assert.Less(t, off, 1e-3, "%v is outside and gone", p)
			}
		}
		// And nothing is left that was not there.
		all := Flatten(s, 1e-5)
		for _, k := range kept {
			for _, p := range samples(k, 7) {
				assert.Less(t, far(p, all), 1e-3)
			}
		}
	})
}

// far returns how far a point is from chains of points.
func far(p Point, chains [][]Point) float64 {
	near := math.Inf(1)
	for _, c := range chains {
		for i := 1; i < len(c); i++ {
			off, _ := fromSegment(c[i-1], c[i], p)
			near = math.Min(near, off)
		}
	}
	return near
}

// TestFlattenKeepsItsTolerance: no chord is further from the curve than asked,
// and the ends are those of the curve.
func TestFlattenKeepsItsTolerance(t *testing.T) {
	for _, s := range shapes() {
		for _, tolerance := range []float64{0.5, 0.01, 1e-4} {
			chains := Flatten(s, tolerance)
			for _, p := range samples(s, 300) {
				assert.LessOrEqual(t, far(p, chains), tolerance*1.001, "%T at %g", s, tolerance)
			}
		}
	}
	assert.Nil(t, Flatten(Text{Value: "M20"}, 1))
	assert.Nil(t, Flatten(Linear{}, 1))
	assert.Len(t, Flatten(Circle{Radius: 1e9}, 1e-30)[0], len(Flatten(Circle{Radius: 1}, 1e-30)[0]), "bounded")
	assert.Equal(t, Flatten(Circle{Radius: 7}, 0.01), Flatten(Circle{Radius: 7}, math.NaN()))
	hatch := Flatten(Hatch{Loops: [][]Vertex{{{Pt(0, 0), 0}, {Pt(4, 0), 0}, {Pt(4, 4), 0}}, {{Pt(1, 1), 1}, {Pt(2, 1), 1}}}}, 0.01)
	assert.Len(t, hatch, 2)
	for _, c := range hatch {
		assert.Equal(t, c[0], c[len(c)-1], "closed")
	}
}
