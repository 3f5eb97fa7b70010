package fastener_test

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boltplate/fastener"
	"boltplate/thread"
)

// The points of the parts lie in them: the bolt within the grip, the washer in
// its thickness, the nut beyond it.
func TestComponents(t *testing.T) {
	m20 := thread.MustParse("M20")
	a := fastener.Bolted{Bolt: fastener.HexBolt{Thread: m20, Length: 120}, Nut: fastener.HexNut{Thread: m20},
		Washer: fastener.Washer{Thread: m20}, Grip: 80}
	parts, err := a.Components()
	require.NoError(t, err)
	require.Len(t, parts, 3)
	assert.Less(t, parts[0].At.X, 80.0)
	assert.Less(t, parts[0].At.Y, 10.0)
	assert.Equal(t, 80+2.5/2, parts[1].At.X) // a washer by proportion is D/8 thick
	assert.Equal(t, 80+2.5+20./2, parts[2].At.X)
	assert.Less(t, parts[2].At.Y, 17.0) // half of 1.5D + 3 and more
	a.Washer = nil
	parts, err = a.Components()
	require.NoError(t, err)
	assert.Len(t, parts, 2)
	assert.Equal(t, a.Nut, parts[1].Part)
	a.Grip = 500
	_, err = a.Components()
	assert.Error(t, err)
}
