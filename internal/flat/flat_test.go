package flat

import (
	"math"
	"testing"

	"boltplate/drawing"

	"github.com/stretchr/testify/require"
)

// TestFromSegment has distances that are plain to see.
func TestFromSegment(t *testing.T) {
	a, b := drawing.Pt(0, 0), drawing.Pt(10, 0)
	for _, c := range []struct {
		p    drawing.Point
		off  float64
		over bool
	}{
		{drawing.Pt(5, 3), 3, true}, {drawing.Pt(5, -3), 3, true}, {drawing.Pt(13, 4), 5, false}, {drawing.Pt(-3, -4), 5, false}, {drawing.Pt(10, 2), 2, true},
	} {
		off, over := FromSegment(a, b, c.p)
		require.InDelta(t, c.off, off, 1e-12)
		require.Equal(t, c.over, over)
	}
	off, over := FromSegment(a, a, drawing.Pt(3, 4))
	require.InDelta(t, 5, off, 1e-12)
	require.False(t, over)
}

// TestEllipseLength: the chords of a circle are about as long as it, and of an
// ellipse as its perimeter by Ramanujan's formula.
func TestEllipseLength(t *testing.T) {
	for _, ratio := range []float64{1, 0.5774, 0.1} {
		e := drawing.Ellipse{Center: drawing.Pt(3, 4), Major: drawing.Pt(0, 20), Ratio: ratio}
		points := Ellipse(nil, e, 0, 360, true)
		length := 0.0
		for i, p := range points {
			length += points[(i+1)%len(points)].Sub(p).Len()
		}
		a, b := 20.0, 20*ratio
		h := (a - b) * (a - b) / ((a + b) * (a + b))
		want := math.Pi * (a + b) * (1 + 3*h/(10+math.Sqrt(4-3*h)))
		require.InEpsilon(t, want, length, 1e-3)
		require.Less(t, length, want*1.0001)
	}
}

// TestHatcherCount: an area ten high has about ten lines one apart.
func TestHatcherCount(t *testing.T) {
	var h Hatcher
	require.Zero(t, h.Count(1))
	square := []drawing.Vertex{{}, {Point: drawing.Pt(5, 0)}, {Point: drawing.Pt(5, 10)}, {Point: drawing.Pt(0, 10)}}
	h.Load([][]drawing.Vertex{square}, 0, drawing.Transform{})
	require.InDelta(t, 10, h.Count(1), 1e-9)
	var lines [][2]drawing.Point
	h.Lines(1, func(a, b drawing.Point) { lines = append(lines, [2]drawing.Point{a, b}) })
	require.Len(t, lines, 10, "the one on the upper edge belongs to what is above")
	require.Equal(t, [2]drawing.Point{drawing.Pt(0, 3), drawing.Pt(5, 3)}, lines[3])
}
