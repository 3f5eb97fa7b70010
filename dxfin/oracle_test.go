package dxfin_test

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"boltplate/drawing"
	"boltplate/dxfin"

	"github.com/stretchr/testify/require"
)

// python returns an interpreter that has ezdxf. Without one the test is
// skipped, or fails where BOLTPLATE_REQUIRE_AUDIT is set.
func python(t *testing.T) string {
	t.Helper()
	for _, name := range []string{"/usr/bin/python3", "python3"} { // Debian's first: its packages are for that one
		if exec.Command(name, "-c", "import ezdxf").Run() == nil {
			return name
		}
	}
	missing(t, "no python3 with ezdxf (Debian: python3-ezdxf)")
	return ""
}

func missing(t *testing.T, what string) {
	t.Helper()
	if os.Getenv("BOLTPLATE_REQUIRE_AUDIT") != "" {
		t.Fatal("NOT COMPARED and BOLTPLATE_REQUIRE_AUDIT is set: " + what)
	}
	t.Skip("NOT COMPARED: " + what)
}

// An answer is what ezdxf draws of a file.
type answer struct {
	Chains, Areas []chain
	Texts         []struct {
		Text, Kind string
		At         [2]float64
	}
}

type chain struct {
	Layer, LineType, Colour, Kind string
	Weight                        int
	Points                        [][2]float64
}

// key says how a chain looks.
func (c *chain) key() string {
	lineType := c.LineType
	if lineType == "STANDARD" { // what ezdxf has for "by block" outside blocks
		lineType = "CONTINUOUS"
	}
	return fmt.Sprint(c.Layer, " ", lineType, " ", c.Weight, " ", c.Colour)
}

func lookKey(l *dxfin.Look) string {
	weight := int(l.Weight)
	if l.Weight == dxfin.WeightDefault {
		weight = 25
	}
	colours := map[int]string{1: "#ff0000", 2: "#ffff00", 3: "#00ff00", 4: "#00ffff", 7: "#ffffff"}
	return fmt.Sprint(l.Layer, " ", strings.ToUpper(l.LineType.Name), " ", weight, " ", colours[l.Colour.Index])
}

func pts(ps [][2]float64) (out []drawing.Point) {
	for _, p := range ps {
		out = append(out, drawing.Pt(p[0], p[1]))
	}
	return out
}

// A net is chains by look, to ask whether a point is on one.
type net map[string][][]drawing.Point

func (n net) distance(key string, p drawing.Point) float64 {
	best := math.Inf(1)
	for _, c := range n[key] {
		for i := 1; i < len(c) && best > tolerance; i++ {
			best = min(best, fromSegment(c[i-1], c[i], p))
		}
	}
	return best
}

func fromSegment(a, b, p drawing.Point) float64 {
	d, v := b.Sub(a), p.Sub(a)
	t := 0.0
	if l := d.X*d.X + d.Y*d.Y; l > 0 {
		t = min(max((d.X*v.X+d.Y*v.Y)/l, 0), 1)
	}
	return v.Sub(d.Mul(t)).Len()
}

// every calls f with some points of a chain: corners and what is between.
func every(c []drawing.Point, f func(drawing.Point)) {
	step := max(1, len(c)/12)
	for i := 0; i+1 < len(c); i += step {
		f(c[i])
		f(c[i].Mid(c[i+1]))
	}
	f(c[len(c)-1])
}

// TestScene compares scenes of random files with what ezdxf makes of them:
// every point of the one lies on the other, with the same layer, line type,
// weight and colour.
func TestScene(t *testing.T) {
	if testing.Short() {
		t.Skip("short: files are compared in the full run")
	}
	interpreter := python(t)
	dir := t.TempDir()
	out, err := exec.Command(interpreter, "testdata/oracle.py", dir, "28").CombinedOutput()
	require.NoError(t, err, string(out))
	files, err := filepath.Glob(filepath.Join(dir, "*.dxf"))
	require.NoError(t, err)
	require.Len(t, files, 28)
	for _, file := range files {
		t.Run(filepath.Base(file), func(t *testing.T) { compare(t, file) })
	}
}

func write(t *testing.T, file string, b []byte) {
	t.Helper()
	require.NoError(t, os.WriteFile(file, b, 0o644))
}

func scene(t *testing.T, file string) (*dxfin.File, *dxfin.Scene) {
	t.Helper()
	r, err := os.Open(file)
	require.NoError(t, err)
	defer r.Close()
	f, err := dxfin.Decode(r)
	require.NoError(t, err)
	s, err := f.Flatten()
	require.NoError(t, err)
	return f, s
}

// tolerance of the comparison: both have chords in place of curves, and ezdxf
// cubic curves in place of arcs in the edges of hatches, off by 3e-4 of a radius.
const tolerance = 0.06

func compare(t *testing.T, file string) {
	data, err := os.ReadFile(strings.TrimSuffix(file, ".dxf") + ".json")
	require.NoError(t, err)
	var want answer
	require.NoError(t, json.Unmarshal(data, &want))
	f, got := scene(t, file)
	require.Empty(t, f.Skipped)
	require.Empty(t, f.Notes)
	require.Empty(t, got.Notes)

	theirs, ours := net{}, net{}
	for i := range want.Chains {
		c := &want.Chains[i]
		theirs[c.key()] = append(theirs[c.key()], pts(c.Points))
	}
	curves := got.Curves
	for i := range got.Hatches {
		for _, loop := range got.Hatches[i].Loops {
			for _, c := range loop {
				c.Look = got.Hatches[i].Look
				curves = append(curves, c)
			}
		}
	}
	for i := range curves {
		c := &curves[i]
		ours[lookKey(&c.Look)] = append(ours[lookKey(&c.Look)], c.Chords(2e-3))
	}
	for i := range want.Chains {
		c := &want.Chains[i]
		every(pts(c.Points), func(p drawing.Point) {
			require.Less(t, ours.distance(c.key(), p), tolerance, "a point of a %s that ezdxf draws as %s: %v", c.Kind, c.key(), p)
		})
	}
	for key, chains := range ours {
		for _, c := range chains {
			every(c, func(p drawing.Point) {
				require.Less(t, theirs.distance(key, p), tolerance, "a point that is read as %s: %v", key, p)
			})
		}
	}
	compareAreas(t, &want, got)
	compareTexts(t, &want, got)
}

func compareAreas(t *testing.T, want *answer, got *dxfin.Scene) {
	require.Len(t, got.Solids, len(want.Areas))
	for i := range want.Areas {
		a, s := &want.Areas[i], &got.Solids[i]
		require.Equal(t, a.key(), lookKey(&s.Look))
		for _, p := range pts(a.Points) {
			best := math.Inf(1)
			for _, q := range s.Corners {
				best = min(best, p.Sub(q).Len())
			}
			require.Less(t, best, tolerance)
		}
	}
}

// compareTexts compares what the texts say, and of a TEXT, which stands at the
// left on its base line, where.
func compareTexts(t *testing.T, want *answer, got *dxfin.Scene) {
	require.Len(t, got.Texts, len(want.Texts))
	for i := range want.Texts {
		w, g := &want.Texts[i], &got.Texts[i]
		require.Equal(t, w.Text, g.Value)
		if w.Kind != "" {
			require.Less(t, g.At.Sub(drawing.Pt(w.At[0], w.At[1])).Len(), tolerance, w.Text)
		}
	}
}
