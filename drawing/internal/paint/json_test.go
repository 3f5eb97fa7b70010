package paint_test

import (
	"bytes"
	"encoding/json"
	"testing"

	"boltplate/drawing/svg"
	"boltplate/dxfout"

	d "boltplate/drawing"
	"github.com/stretchr/testify/require"
)

// TestJSONKeepsTheDrawing: a drawing that went through JSON makes the same
// files.
func TestJSONKeepsTheDrawing(t *testing.T) {
	for _, n := range drawings(t) {
		b, err := json.Marshal(n.d)
		require.NoError(t, err, n.name)
		var back d.Drawing
		require.NoError(t, json.Unmarshal(b, &back), n.name)
		files := func(dr *d.Drawing) string {
			var b bytes.Buffer
			require.NoError(t, dxfout.Encode(&b, dr))
			require.NoError(t, svg.Encode(&b, dr))
			return b.String()
		}
		require.Equal(t, files(n.d), files(&back), n.name)
	}
}
