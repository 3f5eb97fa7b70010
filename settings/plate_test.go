package settings

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"boltplate/drawing/sheet"
	"boltplate/fastener/schedule"
)

// FuzzPlate: whatever a plate file holds, it is read and composed, or every error
// has a place in it or says what is wrong with the sheet.
func FuzzPlate(f *testing.F) {
	demo, err := os.ReadFile(filepath.Join("..", "testdata", "plates", "hinge-strap.toml"))
	require.NoError(f, err)
	for _, s := range []string{
		string(demo), "", "figure = 3", "figure = [{kind = \"hex-nut\", size = \"M20\"}]", "[[figure]]\ntext = [1, 2]\nwidth = nan",
		"[figure]\nkind = 1", "[[figure.a]]\n", "[title]\ndate = 1979-05-27T07:32:00Z", "scale = inf", "pages = 1e9", "notes = [[]]",
		"[[figure]]\nkind = 'hex-bolt'\nsize = 'M20x90'\nviews = ['front', 3]\n\"quantity\" = 1e300", "[[ figure ]]\ntable = true",
		"size = 'A4'\nquestion = 'letters'\nstudent = true\ntext_height = 5\n[[figure]]\nkind = 'hex-nut'\nsizes = ['M8', 'M10']\nrow = 2\nscale = 'auto'\nask = 'Which?'",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		r, err := ReadPlate("f", s, PlateOptions{})
		if err == nil {
			for _, fig := range r.Sheet.Figures {
				if fig.Source == nil {
					t.Fatal("a figure without a source")
				}
			}
			composes(t, &r.Sheet)
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

// composes composes a small plate; the error is one of a sheet.
func composes(t *testing.T, p *sheet.Plate) {
	if len(p.Figures) > 6 {
		return
	}
	p.Pages = min(p.Pages, 3)
	for p.Exercise = sheet.NoExercise; p.Exercise <= sheet.Answer; p.Exercise++ {
		sheets, err := p.Sheets(context.Background())
		var fit *sheet.FitError
		var figure *sheet.FigureError
		var title *sheet.TitleError
		var plate *sheet.PlateError
		switch {
		case err == nil && len(sheets) == 0:
			t.Fatal("no sheet and no error")
		case err != nil && !errors.As(err, &fit) && !errors.As(err, &figure) && !errors.As(err, &title) && !errors.As(err, &plate):
			t.Fatalf("%T %v", err, err)
		}
	}
}
