package joint

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"testing"

	"boltplate/drawing"
	"boltplate/dxfout"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write the golden files anew")

// goldenJoints are a joint of each scene, by the name of its golden file.
func goldenJoints() map[string]Joint {
	return map[string]Joint{
		"through-bolt":       through(),
		"tapped":             cover(),
		"t-slot":             slotted(),
		"hook":               window(),
		"hook-square":        thinBar(),
		"countersunk":        slidePlate(),
		"countersunk-tapped": slideTapped(),
		"taper":              coupling(),
		"stud":               studded(),
		"lifting":            lifted(),
	}
}

// TestGolden compares the drawings of the joints with files that were looked
// at.
func TestGolden(t *testing.T) {
	for name, j := range goldenJoints() {
		d, err := Draw(j, drawing.Style{})
		require.NoError(t, err, name)
		var got bytes.Buffer
		require.NoError(t, dxfout.Encode(&got, d), name)
		file := filepath.Join("testdata", "golden", name+".dxf")
		if *update {
			require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o755))
			require.NoError(t, os.WriteFile(file, got.Bytes(), 0o644))
			continue
		}
		want, err := os.ReadFile(file)
		require.NoError(t, err, "write it with -update")
		assert.True(t, bytes.Equal(want, got.Bytes()), "%s differs", file)
	}
}
