package solid

import (
	"math"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestLineTouchesArc: a line that touches the hole of a plate halfway is in the
// material on both sides of the point.
func TestLineTouchesArc(t *testing.T) {
	plate := Extrude(V(0, 0, 0), xAxis, yAxis, -1, 1,
		[]Vertex{{20, 0, 1}, {-20, 0, 1}}, []Vertex{{10, 0, 1}, {-10, 0, 1}})
	got := along(plate, V(10, 0, 0), yAxis)
	require.NotEmpty(t, got)
	h := math.Sqrt(20*20 - 10*10)
	assert.InDelta(t, -h, got[0].from, 1e-6)
	assert.InDelta(t, h, got[len(got)-1].to, 1e-6)
}

// TestLineLeavesRing: a line ends in the ring where it does, however near that
// is to the sphere about the ring.
func TestLineLeavesRing(t *testing.T) {
	ring := Torus(V(-18, 0, 0), zAxis, 14, 4)
	for _, y := range []float64{2, 5, 10, 15} {
		p := V(-18+math.Sqrt(18*18-y*y), y, 0)
		got := along(ring, p, yAxis)
		require.NotEmpty(t, got, "y %g", y)
		assert.InDelta(t, 0, got[len(got)-1].to, 1e-6, "y %g", y)
	}
}
