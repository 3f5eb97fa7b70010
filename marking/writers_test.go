package marking_test

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"boltplate/drawing"
	"boltplate/dxfin"
	"boltplate/dxfout"
	"boltplate/marking"

	"github.com/stretchr/testify/require"
)

// missing skips a test for want of a program, or fails where the environment
// requires that nothing is left out.
func missing(t *testing.T, variable, what string) {
	t.Helper()
	if os.Getenv(variable) != "" {
		t.Fatal("NOT COMPARED and " + variable + " is set: " + what)
	}
	t.Skip("NOT COMPARED: " + what)
}

func python(t *testing.T) string {
	t.Helper()
	if testing.Short() {
		t.Skip("short: other programs write files in the full run")
	}
	for _, name := range []string{"/usr/bin/python3", "python3"} { // Debian's first: its packages are for that one
		if exec.Command(name, "-c", "import ezdxf").Run() == nil {
			return name
		}
	}
	missing(t, "BOLTPLATE_REQUIRE_AUDIT", "no python3 with ezdxf (Debian: python3-ezdxf)")
	return ""
}

// written writes the drawings of plates to files in dir.
func written(t *testing.T, all []sample, dir string) (files []string) {
	for i, s := range all {
		file := filepath.Join(dir, fmt.Sprintf("plate-%d.dxf", i))
		require.NoError(t, os.WriteFile(file, encode(t, s.d, dxfout.R2000), 0o644))
		files = append(files, file)
	}
	return files
}

func markFile(t *testing.T, m *marking.Marker, file string) *marking.Result {
	t.Helper()
	r, err := os.Open(file)
	require.NoError(t, err)
	defer r.Close()
	f, err := dxfin.Decode(r)
	require.NoError(t, err, file)
	res, err := m.Mark(f)
	require.NoError(t, err)
	return res
}

// TestEzdxfMarksFull: drawings that ezdxf has drawn again have all points.
func TestEzdxfMarksFull(t *testing.T) {
	interpreter := python(t)
	all := plates(t)
	dir := t.TempDir()
	files := written(t, all, dir)
	for _, c := range [][2]string{{"copy", "R12"}, {"copy", "R2000"}, {"copy", "R2018"}, {"binary", "R2010"}, {"splines", "R2007"}, {"one", "R2000"}, {"explode", "R2004"}, {"explode", "R12"}} {
		args := []string{"testdata/rewrite.py", c[0], c[1]}
		for _, f := range files {
			args = append(args, f, strings.TrimSuffix(f, ".dxf")+"-"+c[0]+c[1]+".dxf")
		}
		out, err := exec.Command(interpreter, args...).CombinedOutput()
		require.NoError(t, err, string(out))
		for i, f := range files {
			m := marker(t, all[i].d, marking.Options{})
			full(t, markFile(t, m, strings.TrimSuffix(f, ".dxf")+"-"+c[0]+c[1]+".dxf"), fmt.Sprint(all[i].name, ", ezdxf ", c))
		}
	}
}

// TestGDALMarksFull: drawings that GDAL has converted have all points. It loses
// the lines of a HATCH, so that hatched drawings are converted from the plain
// form, where they are lines.
func TestGDALMarksFull(t *testing.T) {
	if testing.Short() {
		t.Skip("short: other programs write files in the full run")
	}
	if _, err := exec.LookPath("ogr2ogr"); err != nil {
		missing(t, "BOLTPLATE_REQUIRE_AUDIT", "no ogr2ogr (Debian: gdal-bin)")
	}
	all := plates(t)
	dir := t.TempDir()
	for i, f := range written(t, all, dir) {
		if strings.HasPrefix(all[i].name, "joint") {
			require.NoError(t, os.WriteFile(f, encode(t, all[i].d, dxfout.R12), 0o644))
		}
		to := strings.TrimSuffix(f, ".dxf") + "-gdal.dxf"
		out, err := exec.Command("ogr2ogr", "-f", "DXF", to, f).CombinedOutput()
		require.NoError(t, err, string(out))
		m := marker(t, all[i].d, marking.Options{})
		full(t, markFile(t, m, to), all[i].name+", GDAL")
	}
}

// A primitive is what the writer in testdata/write.js knows.
type primitive struct {
	Kind, Layer      string
	P                []drawing.Point `json:",omitempty"`
	R, Start, End    float64
	Text             string
	Height, Rotation float64
}

// primitives returns a drawing as lines, arcs, circles and texts.
func primitives(t *testing.T, d *drawing.Drawing) (out []primitive) {
	f, err := dxfin.Decoder{}.Bytes(encode(t, d, dxfout.R12))
	require.NoError(t, err)
	s, err := f.Flatten()
	require.NoError(t, err)
	for i := range s.Curves {
		c := &s.Curves[i]
		switch g := c.Shape.(type) {
		case drawing.Line:
			out = append(out, primitive{Kind: "line", Layer: c.Layer, P: []drawing.Point{g.From, g.To}})
		case drawing.Arc:
			out = append(out, primitive{Kind: "arc", Layer: c.Layer, P: []drawing.Point{g.Center}, R: g.Radius, Start: g.Start, End: g.End})
		case drawing.Circle:
			out = append(out, primitive{Kind: "circle", Layer: c.Layer, P: []drawing.Point{g.Center}, R: g.Radius})
		default:
			t.Fatalf("%T in a plain file", g)
		}
	}
	for _, x := range s.Texts {
		out = append(out, primitive{Kind: "text", Layer: x.Layer, P: []drawing.Point{x.At}, Text: x.Value, Height: x.Height, Rotation: x.Angle})
		switch x.Align {
		case dxfin.Center:
			out[len(out)-1].Kind = "middle"
		case dxfin.Right:
			out[len(out)-1].Kind = "right"
		}
	}
	return out
}

// node returns the folder with the npm package dxf-writer, which the test
// installs; without it the test is skipped, or fails where
// BOLTPLATE_REQUIRE_NODE is set.
func node(t *testing.T) string {
	t.Helper()
	if testing.Short() {
		t.Skip("short: other programs write files in the full run")
	}
	const variable = "BOLTPLATE_REQUIRE_NODE"
	for _, program := range []string{"node", "npm"} {
		if _, err := exec.LookPath(program); err != nil {
			missing(t, variable, "no "+program+" (Debian: nodejs, npm)")
		}
	}
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "package.json"), []byte(`{"private": true}`), 0o644))
	cmd := exec.Command("npm", "install", "--no-audit", "--no-fund", "--ignore-scripts", "dxf-writer@1.18.4")
	cmd.Dir = dir
	if out, err := cmd.CombinedOutput(); err != nil {
		missing(t, variable, "npm does not install dxf-writer: "+string(out))
	}
	return dir
}

// TestNodeMarksFull: drawings that the npm package dxf-writer has written have
// all points.
func TestNodeMarksFull(t *testing.T) {
	dir := node(t)
	script, err := os.ReadFile("testdata/write.js")
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "write.js"), script, 0o644))
	for i, s := range plates(t) {
		data, err := json.Marshal(primitives(t, s.d))
		require.NoError(t, err)
		in, to := filepath.Join(dir, fmt.Sprintf("%d.json", i)), filepath.Join(dir, fmt.Sprintf("%d.dxf", i))
		require.NoError(t, os.WriteFile(in, data, 0o644))
		cmd := exec.Command("node", "write.js", in, to)
		cmd.Dir = dir
		out, err := cmd.CombinedOutput()
		require.NoError(t, err, string(out))
		full(t, markFile(t, marker(t, s.d, marking.Options{}), to), s.name+", dxf-writer")
	}
}
