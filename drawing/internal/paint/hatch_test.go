package paint

import (
	"math"
	"testing"

	d "boltplate/drawing"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// hatchLines returns the lines of a hatch as pairs of ends on paper.
func hatchLines(t require.TestingT, dr *d.Drawing) (lines [][2]d.Point) {
	p, err := Paint(dr, false)
	require.NoError(t, err)
	for _, s := range p.Sheets[0].Roles[d.RoleHatching].Strokes {
		for i := 0; i < len(s.Path); i += 2 {
			require.Equal(t, MoveTo, s.Path[i].Op)
			require.Equal(t, LineTo, s.Path[i+1].Op)
			lines = append(lines, [2]d.Point{s.Path[i].P[0], s.Path[i+1].P[0]})
		}
	}
	return lines
}

func corners(xy ...float64) (vs []d.Vertex) {
	for i := 0; i < len(xy); i += 2 {
		vs = append(vs, d.Vertex{Point: d.Pt(xy[i], xy[i+1])})
	}
	return vs
}

func hatched(h d.Hatch) *d.Drawing {
	return &d.Drawing{Items: []d.Item{{Role: d.RoleHatching, Shape: h}}}
}

func TestHatchByHand(t *testing.T) {
	// Level lines 2 apart, from 0, in a square of 10 with a hole of 4.
	h := d.Hatch{Loops: [][]d.Vertex{corners(1, 1, 11, 1, 11, 11, 1, 11), corners(4, 5, 8, 5, 8, 9, 4, 9)}, Spacing: 2}
	assert.Equal(t, [][2]d.Point{
		{d.Pt(1, 2), d.Pt(11, 2)}, {d.Pt(1, 4), d.Pt(11, 4)},
		{d.Pt(1, 6), d.Pt(4, 6)}, {d.Pt(8, 6), d.Pt(11, 6)}, {d.Pt(1, 8), d.Pt(4, 8)}, {d.Pt(8, 8), d.Pt(11, 8)},
		{d.Pt(1, 10), d.Pt(11, 10)},
	}, hatchLines(t, hatched(h)))

	// At 1:2 the lines keep their distance on paper.
	dr := hatched(h)
	dr.Style.Scale = 0.5
	lines := hatchLines(t, dr)
	assert.Equal(t, [2]d.Point{d.Pt(0.5, 2), d.Pt(5.5, 2)}, lines[0], "2 mm on paper")
	assert.Len(t, lines, 3, "the second is cut by the hole")

	// In a view without a block lines count from the origin of the drawing, in
	// one with a block from that of the block, as a DXF file has them.
	placed := &d.Drawing{Views: []d.Placed{{At: d.Pt(0, 0.5), View: d.View{Items: hatched(h).Items}}}}
	assert.Equal(t, d.Pt(1, 2), hatchLines(t, placed)[0][0])
	placed.Views[0].Block = "PLATE"
	assert.Equal(t, d.Pt(1, 2.5), hatchLines(t, placed)[0][0])
}

// Lines end on the circle, and each stands for a strip of the area.
func TestHatchOfARing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		angle := rapid.Float64Range(-200, 200).Draw(t, "angle")
		spacing := rapid.Float64Range(0.1, 3).Draw(t, "spacing")
		ring := func(r float64) []d.Vertex {
			return []d.Vertex{{Point: d.Pt(5+r, 7), Bulge: 1}, {Point: d.Pt(5-r, 7), Bulge: 1}}
		}
		lines := hatchLines(t, hatched(d.Hatch{Loops: [][]d.Vertex{ring(20), ring(8)}, Angle: angle, Spacing: spacing}))
		u := d.Polar(1, angle)
		sum := 0.0
		for _, l := range lines {
			v := l[1].Sub(l[0])
			sum += v.Len()
			assert.InDelta(t, 0, v.X*u.Y-v.Y*u.X, 1e-9, "parallel")
			across := (l[0].Y*u.X - l[0].X*u.Y) / spacing
			assert.InDelta(t, math.Round(across), across, 1e-6, "a whole number of steps from the origin")
			for _, p := range l {
				r := p.Sub(d.Pt(5, 7)).Len()
				assert.True(t, math.Abs(r-20) < 0.01 || math.Abs(r-8) < 0.01, "%g is on neither circle", r)
			}
			r := l[0].Mid(l[1]).Sub(d.Pt(5, 7)).Len()
			assert.True(t, r > 8-0.01 && r < 20, "inside")
		}
		area := math.Pi * (400 - 64)
		assert.InEpsilon(t, area, sum*spacing, 0.02+0.02*spacing)
	})
}

// Lines through corners are neither lost nor run on.
func TestHatchThroughCorners(t *testing.T) {
	diamond := d.Hatch{Loops: [][]d.Vertex{corners(0, -4, 4, 0, 0, 4, -4, 0)}, Spacing: 2}
	assert.Equal(t, [][2]d.Point{
		{d.Pt(-2, -2), d.Pt(2, -2)}, {d.Pt(-4, 0), d.Pt(4, 0)}, {d.Pt(-2, 2), d.Pt(2, 2)},
	}, hatchLines(t, hatched(diamond)))
}

func TestHatchOfTooManyLines(t *testing.T) {
	dr := hatched(d.Hatch{Loops: [][]d.Vertex{corners(0, 0, 9000, 0, 9000, 9000)}, Spacing: 0.001})
	_, err := Paint(dr, false)
	require.EqualError(t, err, "item 0, Hatch.Spacing = 0.001: makes more than the 20000 lines that a hatch may have; space them further apart")
}
