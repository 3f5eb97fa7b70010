package command

import (
	"errors"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"boltplate/fastener/schedule"
)

// FuzzPlate: whatever a plate file holds, it is read, or every error has a
// place in it.
func FuzzPlate(f *testing.F) {
	demo, err := os.ReadFile(filepath.Join("..", "..", "testdata", "plates", "hinge-strap.toml"))
	require.NoError(f, err)
	for _, s := range []string{
		string(demo), "", "figure = 3", "figure = [{kind = \"hex-nut\", size = \"M20\"}]", "[[figure]]\ntext = [1, 2]\nwidth = nan",
		"[figure]\nkind = 1", "[[figure.a]]\n", "[title]\ndate = 1979-05-27T07:32:00Z", "scale = inf", "pages = 1e9", "notes = [[]]",
		"[[figure]]\nkind = 'hex-bolt'\nsize = 'M20x90'\nviews = ['front', 3]\n\"quantity\" = 1e300", "[[ figure ]]\ntable = true",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		r, err := readPlate("f", s, false, nil)
		if err == nil {
			for _, fig := range r.plate.Figures {
				if fig.Source == nil {
					t.Fatal("a figure without a source")
				}
			}
			return
		}
		var all schedule.Errors
		if !errors.As(err, &all) || len(all) == 0 {
			t.Fatalf("%T %v", err, err)
		}
		for _, e := range all {
			if e.Line < 1 || e.Column < 1 || e.Err.Error() == "" {
				t.Fatalf("%+v", e)
			}
		}
	})
}
