package settings

import (
	"errors"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"boltplate/drawing"
	"boltplate/dxfout"
	"boltplate/fastener/schedule"
)

// TestOfficeLayers reads the file that the README shows.
func TestOfficeLayers(t *testing.T) {
	data, err := os.ReadFile(filepath.Join("..", "testdata", "layers", "ostlemere.toml"))
	require.NoError(t, err)
	got, err := ReadLayers("ostlemere.toml", string(data), dxfout.R2000)
	require.NoError(t, err)
	fine := dxfout.Layer{Name: "OST-FINE", Colour: 3, Width: 0.18}
	require.Equal(t, dxfout.LayerMap{
		drawing.RoleOutline:   {Name: "OST-EDGE", Colour: 1, Width: 0.5},
		drawing.RoleThin:      fine,
		drawing.RoleHatching:  fine,
		drawing.RoleHidden:    {Name: "OST-HIDE", Colour: 2, LineType: "hidden", Width: 0.25},
		drawing.RoleCentre:    {Name: "OST-AXIS", Colour: 4, LineType: "center", Width: 0.18},
		drawing.RoleDimension: {Name: "OST-SIZE", Colour: 5, Width: 0.18},
		drawing.RoleText:      {Name: "OST-NOTE", Colour: 6, Width: 0.35},
	}, got)
}

// FuzzLayers: whatever a file of layers holds, it is read, or every error has
// a place in it.
func FuzzLayers(f *testing.F) {
	for _, s := range []string{
		"", "[outline]\nlayer = \"A\"", "[thin]\r\ncolour = 3\r\nwidth = 0.18\r\nline = 'hidden'", "outline = 3", "[[thin]]\n", "a.b = 1",
		"thin.layer = \"THIN\"\nhatching.colour = 1e3", "[thin]\nwidth = nan", "[thin]\nwidth = \"\n", "\xef\xbb\xbf[outline]", "[\"\"]\n\"\" = 1",
	} {
		f.Add(s, false)
		f.Add(s, true)
	}
	f.Fuzz(func(t *testing.T, s string, plain bool) {
		version := dxfout.R2000
		if plain {
			version = dxfout.R12
		}
		layers, err := ReadLayers("f", s, version)
		if err == nil {
			if err := (dxfout.Encoder{Version: version, Layers: layers}).Check(&drawing.Drawing{}); err != nil {
				t.Fatal(err)
			}
			return
		}
		var all schedule.Errors
		if !errors.As(err, &all) || len(all) == 0 {
			t.Fatalf("%T %v", err, err)
		}
		for _, e := range all {
			if e.Line < 1 || e.Column < 1 || e.Err.Error() == "" {
				t.Fatalf("%q has no place", e)
			}
		}
	})
}
