package dxfin_test

import (
	"bytes"
	"os/exec"
	"path/filepath"
	"testing"

	"boltplate/drawing"
	"boltplate/dxfin"
	"boltplate/dxfout"
	"boltplate/dxfout/yofudxf"

	"github.com/stretchr/testify/require"
	"github.com/yofu/dxf"
)

// measure returns the length of the lines of a scene by layer.
func measure(s *dxfin.Scene) map[string]float64 {
	sum := map[string]float64{}
	for i := range s.Curves {
		c := &s.Curves[i]
		ps := c.Chords(1e-4)
		for j := 1; j < len(ps); j++ {
			sum[c.Layer] += ps[j].Sub(ps[j-1]).Len()
		}
	}
	return sum
}

func sameLines(t *testing.T, want, got *dxfin.Scene, off float64) {
	t.Helper()
	a, b := measure(want), measure(got)
	for _, layer := range []string{"OUTLINE", "THIN", "CENTRE"} {
		require.InDelta(t, a[layer], b[layer], off, layer)
		require.Greater(t, a[layer], 20.0)
	}
}

func ours(t *testing.T) (*drawing.Drawing, []byte, *dxfin.Scene) {
	d := bolt(t)
	b, err := dxfout.Encoder{}.Append(nil, d)
	require.NoError(t, err)
	return d, b, flatten(t, decode(t, string(b)))
}

// TestYofu: files of github.com/yofu/dxf hold what was put there.
func TestYofu(t *testing.T) {
	d, _, want := ours(t)
	y := dxf.NewDrawing()
	require.NoError(t, yofudxf.Add(y, d, dxfout.LayerMap{}))
	var b bytes.Buffer
	_, err := yofudxf.WriteTo(&b, y)
	require.NoError(t, err)
	f := decode(t, b.String())
	require.Empty(t, f.Skipped)
	sameLines(t, want, flatten(t, f), 1e-3)
}

// TestGDAL: files that GDAL has converted hold what was there, arcs as chords
// of four degrees.
func TestGDAL(t *testing.T) {
	if testing.Short() {
		t.Skip("short: files are compared in the full run")
	}
	if _, err := exec.LookPath("ogr2ogr"); err != nil {
		missing(t, "no ogr2ogr (Debian: gdal-bin)")
	}
	_, b, want := ours(t)
	dir := t.TempDir()
	from, to := filepath.Join(dir, "a.dxf"), filepath.Join(dir, "b.dxf")
	write(t, from, b)
	out, err := exec.Command("ogr2ogr", "-f", "DXF", to, from).CombinedOutput()
	require.NoError(t, err, string(out))
	_, got := scene(t, to)
	sameLines(t, want, got, 0.5)
}

// TestEzdxfAnnotations: leaders and dimensions that ezdxf writes, ASCII and
// binary.
func TestEzdxfAnnotations(t *testing.T) {
	if testing.Short() {
		t.Skip("short: files are compared in the full run")
	}
	interpreter := python(t)
	dir := t.TempDir()
	out, err := exec.Command(interpreter, "testdata/annotations.py", dir).CombinedOutput()
	require.NoError(t, err, string(out))
	for _, name := range []string{"ascii.dxf", "binary.dxf"} {
		f, s := scene(t, filepath.Join(dir, name))
		require.Equal(t, name == "binary.dxf", f.Binary)
		require.Empty(t, f.Skipped)
		require.Len(t, s.Leaders, 2)
		require.Equal(t, []drawing.Point{drawing.Pt(1, 2), drawing.Pt(5, 8), drawing.Pt(9, 8)}, s.Leaders[0].Points)
		require.Equal(t, "two holes", s.Leaders[1].Text)
		require.Less(t, s.Leaders[1].Points[0].Sub(drawing.Pt(40, 10)).Len(), 1e-6, "the arrow is at the first point")
		var texts []string
		for _, d := range s.Dimensions {
			texts = append(texts, d.Text)
		}
		require.Equal(t, []string{"50", "50 h6", "7.5", "Ø20", "R10"}, texts, name)
		for i, want := range []float64{50, 50, 7.5, 20, 10} {
			require.InDelta(t, want, s.Dimensions[i].Value, 1e-9)
		}
	}
}
