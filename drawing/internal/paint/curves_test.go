package paint

import (
	"math"
	"testing"

	d "boltplate/drawing"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// painted returns the only stroke of a shape at full size.
func painted(t require.TestingT, s d.Shape) Path {
	p, err := Paint(&d.Drawing{Items: []d.Item{{Shape: s}}}, false)
	require.NoError(t, err)
	require.Len(t, p.Sheets[0].Roles[d.RoleOutline].Strokes, 1)
	return p.Sheets[0].Roles[d.RoleOutline].Strokes[0].Path
}

// along calls yield for many points of the path, its corners among them.
func along(p Path, yield func(d.Point)) {
	var start, at d.Point
	for i := range p {
		switch s := &p[i]; s.Op {
		case MoveTo:
			start = s.P[0]
		case CurveTo:
			for t := 0.0; t < 1; t += 0.02 {
				yield(cubicAt(at, s.P, t))
			}
		case Close:
			at = start
			yield(at)
			continue
		}
		at = p[i].End()
		yield(at)
	}
}

func TestArcsAreRound(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.SampledFrom([]float64{0.1, 1, 8, 40, 700}).Draw(t, "r")
		start, sweep := rapid.Float64Range(-400, 400).Draw(t, "start"), rapid.Float64Range(1, 360).Draw(t, "sweep")
		c := d.Pt(3, -4)
		p := painted(t, d.Arc{Center: c, Radius: r, Start: start, End: start + sweep})
		n := 0
		along(p, func(q d.Point) {
			n++
			assert.InDelta(t, r, q.Sub(c).Len(), tolerance*1.01)
			turned := math.Mod(q.Sub(c).Angle()-start+1080, 360)
			assert.True(t, turned <= sweep+1e-6 || turned >= 360-1e-6, "%g of %g", turned, sweep)
		})
		assert.Greater(t, n, 20)
		assert.InEpsilon(t, r*sweep*math.Pi/180, p.Length(), 3e-4, "the length of an arc")
	})
}

func TestCircle(t *testing.T) {
	p := painted(t, d.Circle{Radius: 10})
	assert.True(t, p.closed())
	assert.InDelta(t, 20*math.Pi, p.Length(), 3e-3)
}

func TestEllipse(t *testing.T) {
	e := d.Ellipse{Center: d.Pt(1, 2), Major: d.Pt(24, 7), Ratio: 0.6}
	p := painted(t, e)
	assert.True(t, p.closed())
	along(p, func(q d.Point) {
		v := q.Sub(e.Center)
		x, y := (v.X*24+v.Y*7)/25, (v.Y*24-v.X*7)/25
		assert.InDelta(t, 1, math.Hypot(x/25, y/15), 1e-4)
	})
	// Ramanujan's second formula, good to 1e-7 at this ratio.
	h := math.Pow((25.0-15)/(25+15), 2)
	assert.InDelta(t, math.Pi*40*(1+3*h/(10+math.Sqrt(4-3*h))), p.Length(), 2e-3)

	part := painted(t, d.Ellipse{Center: d.Pt(1, 2), Major: d.Pt(10, 0), Ratio: 0.5, Start: 0, End: 90})
	assert.Equal(t, d.Pt(11, 2), part[0].P[0])
	assert.InDelta(t, 0, part[len(part)-1].End().Sub(d.Pt(1, 7)).Len(), 1e-9)
	assert.False(t, part.closed())
}

// A conic is a circle, a parabola or a hyperbola by its weight.
func TestConic(t *testing.T) {
	quarter := painted(t, d.Conic{From: d.Pt(30, 0), Control: d.Pt(30, 30), To: d.Pt(0, 30), Weight: math.Sqrt2 / 2})
	along(quarter, func(q d.Point) { assert.InDelta(t, 30, q.Len(), 2*tolerance) })
	assert.InDelta(t, 15*math.Pi, quarter.Length(), 1e-3)

	// y = x^2 / 20 from -20 to 20.
	parabola := painted(t, d.Conic{From: d.Pt(-20, 20), Control: d.Pt(0, -20), To: d.Pt(20, 20), Weight: 1})
	along(parabola, func(q d.Point) { assert.InDelta(t, q.X*q.X/20, q.Y, 1e-9) })

	// x y = 100 from (5, 20) to (20, 5): the tangents meet at (8, 8).
	hyperbola := painted(t, d.Conic{From: d.Pt(5, 20), Control: d.Pt(8, 8), To: d.Pt(20, 5), Weight: 1.25})
	along(hyperbola, func(q d.Point) { assert.InDelta(t, 100, q.X*q.Y, 0.05) })
	for _, w := range []float64{1e-6, 1e-3, 50, 1e5} {
		p := painted(t, d.Conic{From: d.Pt(0, 0), Control: d.Pt(5, 5), To: d.Pt(10, 0), Weight: w})
		// As high above its chord as the weight says, and inside its triangle.
		top := 0.0
		along(p, func(q d.Point) { top = max(top, q.Y) })
		assert.InDelta(t, 5*w/(1+w), top, 0.01)
		along(p, func(q d.Point) { assert.True(t, q.X >= -0.01 && q.X <= 10.01 && q.Y >= -0.01 && q.Y <= 5.01, "%v", q) })
	}
}

func TestBulges(t *testing.T) {
	// A half circle to the right of its chord, then one to the left.
	p := painted(t, d.Polyline{Vertices: []d.Vertex{{Point: d.Pt(0, 0), Bulge: 1}, {Point: d.Pt(10, 0), Bulge: -1}, {Point: d.Pt(20, 0)}}})
	assert.InDelta(t, 10*math.Pi, p.Length(), 5e-3)
	along(p, func(q d.Point) {
		if q.X < 10 {
			assert.LessOrEqual(t, q.Y, 1e-9)
			assert.InDelta(t, 5, q.Sub(d.Pt(5, 0)).Len(), tolerance)
		} else {
			assert.GreaterOrEqual(t, q.Y, -1e-9)
			assert.InDelta(t, 5, q.Sub(d.Pt(15, 0)).Len(), tolerance)
		}
	})
	assert.Equal(t, d.Pt(20, 0), p[len(p)-1].End(), "exactly on the vertex")
	assert.False(t, p.closed())

	slot := painted(t, d.Polyline{Closed: true, Vertices: []d.Vertex{{Point: d.Pt(0, 0)}, {Point: d.Pt(20, 0), Bulge: 1}, {Point: d.Pt(20, 10)}, {Point: d.Pt(0, 10), Bulge: 1}}})
	assert.InDelta(t, 40+10*math.Pi, slot.Length(), 5e-3)
	assert.True(t, slot.closed())
}

// What is nothing is left out: round ends would make dots of it.
func TestNothing(t *testing.T) {
	dr := &d.Drawing{Items: []d.Item{
		{Shape: d.Line{From: d.Pt(1, 1), To: d.Pt(1, 1)}}, {Shape: d.Circle{}}, {Shape: d.Arc{Radius: 1, Start: 3, End: 3.001}},
		{Shape: d.Polyline{}}, {Shape: d.Polyline{Closed: true}}, {Shape: d.Polyline{Vertices: make([]d.Vertex, 3), Closed: true}},
		{Shape: d.Conic{Weight: 1}}, {Shape: d.Ellipse{Ratio: 1}}, {Shape: d.Text{Value: " \t\u00a0\r\n"}}, {Shape: d.Text{}}, {Shape: d.Text{Value: "x", Height: 1e-5}},
		{Shape: d.Hatch{Spacing: 1}}, {Shape: d.Hatch{Spacing: 1, Loops: [][]d.Vertex{{}, make([]d.Vertex, 2)}}},
		{Shape: d.Hatch{Solid: true}}, {Shape: d.Hatch{Solid: true, Loops: [][]d.Vertex{{}, make([]d.Vertex, 1)}}},
	}}
	p, err := Paint(dr, false)
	require.NoError(t, err)
	for r := range p.Sheets[0].Roles {
		assert.True(t, p.Sheets[0].Roles[r].Empty(), "%v: %v", d.Role(r), p.Sheets[0].Roles[r])
	}
}
