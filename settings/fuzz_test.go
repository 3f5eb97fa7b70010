package settings

import (
	"boltplate/drawing"
	"boltplate/fastener/joint"
	"boltplate/fastener/schedule"
	"errors"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

// placed checks that every error has a place in the file and says something.
func placed(t *testing.T, err error) {
	t.Helper()
	var all schedule.Errors
	if !errors.As(err, &all) || len(all) == 0 {
		t.Fatalf("%T %v", err, err)
	}
	for _, e := range all {
		if e.Line < 1 || e.Column < 1 || e.Err.Error() == "" {
			t.Fatalf("%+v", e)
		}
	}
}

// just opens one text, whatever is asked for.
func just(text string) Opener {
	return func(name string) (string, string, error) { return name, text, nil }
}

// FuzzJoint: whatever a joint file holds, it is settled, checked and drawn, or
// the error says what is wrong.
func FuzzJoint(f *testing.F) {
	files, err := filepath.Glob(filepath.Join("..", "examples", "joints", "*.toml"))
	require.NoError(f, err)
	require.NotEmpty(f, files)
	for _, name := range files {
		data, err := os.ReadFile(name)
		require.NoError(f, err)
		f.Add(string(data))
	}
	f.Add("scene = 3\n[bolt]\nsize = 'M16'\n[[part]]\nthickness = nan\n")
	f.Fuzz(func(t *testing.T, s string) {
		j, err := ReadJoint(just(s), "joint.toml")
		if err != nil {
			var all schedule.Errors
			if errors.As(err, &all) {
				placed(t, err)
			}
			return
		}
		full, _, err := j.Complete()
		if err != nil {
			require.NotEmpty(t, err.Error())
			return
		}
		if _, err := full.Check(); err != nil {
			require.NotEmpty(t, err.Error())
			return
		}
		d, err := joint.Draw(full, drawing.Style{})
		if err != nil {
			require.NotEmpty(t, err.Error())
			return
		}
		require.NoError(t, d.Validate())
	})
}
