package drawing

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func silhouette(notation string) []Polyline { return ParseView(notation).Silhouette(0) }

// area returns the area that a closed outline encloses, positive where it goes
// counter-clockwise: the chords' by the shoelace formula, and the segments of
// circles.
func area(p Polyline) (sum float64) {
	for i, v := range p.Vertices {
		next := p.Vertices[(i+1)%len(p.Vertices)].Point
		sum += (v.X*next.Y - next.X*v.Y) / 2
		if v.Bulge != 0 {
			turn := 4 * math.Atan(v.Bulge)
			r := next.Sub(v.Point).Len() / 2 / math.Sin(math.Abs(turn)/2)
			sum += r * r * (turn - math.Sin(turn)) / 2
		}
	}
	return sum
}

func TestSilhouetteByHand(t *testing.T) {
	got := silhouette("box 0 0 80 50; line 20 0 20 50; circle 50 25 10; axis -5 25 85 25")
	assert.Len(t, got, 1)
	assert.Len(t, got[0].Vertices, 4, "a rectangle, whatever is in it")
	assert.InDelta(t, 80*50, area(got[0]), 1e-6)
	assert.True(t, got[0].Closed)

	got = silhouette("circle 3 4 10")
	assert.Len(t, got, 1)
	assert.InDelta(t, math.Pi*100, area(got[0]), 1e-6, "a circle stays round")
	assert.LessOrEqual(t, len(got[0].Vertices), 3)

	// A circle of radius 10 with its middle on the corner of a square of 30.
	got = silhouette("box 0 0 30 30; circle 0 0 10")
	assert.Len(t, got, 1)
	assert.InDelta(t, 900+math.Pi*100*3/4, area(got[0]), 0.01)

	assert.Len(t, silhouette("box 0 0 10 10; box 20 0 30 10"), 2, "two pieces")
	assert.Len(t, silhouette("box 0 0 10 10; line 10 5 30 5; box 30 0 40 10"), 1, "joined by a line")
	assert.Empty(t, silhouette("line 0 0 10 10; line 10 10 30 5"), "lines enclose nothing")
	assert.Empty(t, View{}.Silhouette(0))
	assert.Equal(t, View{Name: "v"}, View{Name: "v"}.Covering())

	// A head and a shank drawn as three sides each, their lines meeting.
	got = silhouette("line 0 -15 0 15; line 0 15 12 15; line 12 15 12 -15; line 12 -15 0 -15; line 12 8 60 8; line 60 8 60 -8; line 60 -8 12 -8; line 40 8 40 -8")
	assert.Len(t, got, 1)
	assert.Len(t, got[0].Vertices, 8)
	assert.InDelta(t, 12*30+48*16, area(got[0]), 1e-6)
}

// TestSilhouetteFloods: the outside is what can be reached from outside without
// crossing an edge, found by flooding a raster.
func TestSilhouetteFloods(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := rapid.Float64Range(5, 45)
		var v View
		for range rapid.IntRange(1, 6).Draw(t, "shapes") {
			p := Pt(c.Draw(t, "x"), c.Draw(t, "y"))
			var s Shape = Circle{p, rapid.Float64Range(1, 15).Draw(t, "r")}
			switch rapid.IntRange(0, 4).Draw(t, "kind") {
			case 0:
				q := Pt(c.Draw(t, "x"), c.Draw(t, "y"))
				s = Polyline{[]Vertex{{p, 0}, {Pt(q.X, p.Y), 0.5}, {q, 0}, {Pt(p.X, q.Y), 0}}, true}
			case 1:
				s = Line{p, Pt(c.Draw(t, "x"), c.Draw(t, "y"))}
			case 2:
				s = Ellipse{p, Pt(rapid.Float64Range(1, 15).Draw(t, "mx"), c.Draw(t, "my")/3), rapid.Float64Range(0.2, 1).Draw(t, "ratio"), 0, 0}
			case 3:
				s = Arc{p, rapid.Float64Range(1, 15).Draw(t, "r"), rapid.Float64Range(0, 360).Draw(t, "start"), rapid.Float64Range(0, 360).Draw(t, "end")}
			}
			v.Items = append(v.Items, Item{RoleOutline, s})
		}
		const n, low, size = 75, -20.0, 1.2
		at := func(i, j int) Point { return Pt(low+size*float64(i), low+size*float64(j)) }
		var blocked, outside [n][n]bool
		for _, it := range v.Items {
			for _, ps := range Flatten(it.Shape, 0.01) {
				for k := 1; k < len(ps); k++ {
					steps := int(ps[k].Sub(ps[k-1]).Len()/0.1) + 1
					for m := range steps + 1 {
						p := ps[k-1].Add(ps[k].Sub(ps[k-1]).Mul(float64(m) / float64(steps)))
						blocked[int(math.Round((p.X-low)/size))][int(math.Round((p.Y-low)/size))] = true
					}
				}
			}
		}
		outside[0][0] = true
		stack := [][2]int{{0, 0}}
		for len(stack) > 0 {
			q := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			for _, d := range [4][2]int{{1, 0}, {-1, 0}, {0, 1}, {0, -1}} {
				r := [2]int{q[0] + d[0], q[1] + d[1]}
				if r[0] >= 0 && r[1] >= 0 && r[0] < n && r[1] < n && !blocked[r[0]][r[1]] && !outside[r[0]][r[1]] {
					outside[r[0]][r[1]] = true
					stack = append(stack, r)
				}
			}
		}
		outlines := v.Silhouette(0)
		var chains, shapes [][]Point
		for _, p := range outlines {
			chains = append(chains, Flatten(p, 0.01)...)
		}
		for _, it := range v.Items {
			if ps := Flatten(it.Shape, 0.01)[0]; ps[0] == ps[len(ps)-1] {
				shapes = append(shapes, ps)
			}
		}
		inside := func(chains [][]Point, p Point) (in bool) {
			for _, c := range chains {
				in = in || within(c, p)
			}
			return in
		}
		for i := range n {
			for j := range n {
				in := inside(chains, at(i, j))
				if outside[i][j] && in {
					t.Fatalf("%v can be reached from outside and is inside the outline", at(i, j))
				}
				// Cells that the raster closes off although the edges leave a gap
				// narrower than it are not held against the outline: only those
				// far from every edge count.
				if !outside[i][j] && !in && clearOf(func(i, j int) bool { return i < 0 || j < 0 || i >= n || j >= n || blocked[i][j] }, i, j) && inside(shapes, at(i, j)) {
					t.Fatalf("%v is shut in and outside the outline", at(i, j))
				}
			}
		}
		for _, p := range outlines {
			assert.Positive(t, area(p), "counter-clockwise")
		}
	})
}

func clearOf(blocked func(i, j int) bool, i, j int) bool {
	for dx := -1; dx <= 1; dx++ {
		for dy := -1; dy <= 1; dy++ {
			if blocked(i+dx, j+dy) {
				return false
			}
		}
	}
	return true
}

func TestCovering(t *testing.T) {
	v := ParseView("box 0 0 80 50; line 20 0 20 50")
	c := v.Covering()
	assert.Equal(t, v.Items, c.Items[1:])
	assert.InDelta(t, 4000, area(Polyline{c.Items[0].Shape.(Cover).Loops[0], true}), 1e-6)
	assert.Len(t, v.Items, 2, "the view is as it was")
}
