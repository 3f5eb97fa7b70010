package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"boltplate/cmd/boltplate/internal/command"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// root is the folder of the module, where a reader of the README stands.
const root = "../.."

var update = flag.Bool("update", false, "write the pictures of the README anew")

// TestPicturesOfTheReadme runs the commands above the pictures of the README,
// for SVG in place of DXF, and compares what they draw with the pictures.
func TestPicturesOfTheReadme(t *testing.T) {
	t.Chdir(root)
	readme, err := os.ReadFile("README.md")
	require.NoError(t, err)
	shown := regexp.MustCompile("`boltplate ((?:draw|joint|sheet|steps) [^`]*) -o [^` ]+\\.dxf`[^\n]*\n\n!\\[[^\\]]+\\]\\((docs/[^)]+\\.svg)\\)").FindAllSubmatch(readme, -1)
	require.Equal(t, len(regexp.MustCompile(`\]\(docs/[a-z-]+\.svg\)`).FindAll(readme, -1)), len(shown)+1, "every picture has its command above it, but for that of the class")
	for _, m := range shown {
		file := filepath.Join(t.TempDir(), "picture.svg")
		args := append(strings.Fields(string(m[1])), "-o", file)
		var out, errs bytes.Buffer
		status := command.Run(context.Background(), args, strings.NewReader(""), &out, &errs)
		assert.Empty(t, errs.String(), "%s", m[1])
		assert.LessOrEqual(t, status, 1, "%s", m[1]) // 1: a joint that does not work is drawn all the same
		got, err := os.ReadFile(file)
		require.NoError(t, err)
		picture := string(m[2])
		if *update {
			require.NoError(t, os.WriteFile(picture, got, 0o644))
			continue
		}
		want, err := os.ReadFile(picture)
		require.NoError(t, err, "write it with -update")
		assert.True(t, bytes.Equal(want, got), "%s is not what %q draws; write it anew with -update", picture, m[1])
	}
}

// TestPicturesOfThePracticePlate keeps the pictures beside the example in step
// with what it draws.
func TestPicturesOfThePracticePlate(t *testing.T) {
	t.Chdir(root)
	dir := t.TempDir()
	out, err := exec.Command("go", "run", "./examples/practice-plate", dir).CombinedOutput()
	require.NoError(t, err, string(out))
	for _, name := range []string{"practice-plate-rules-1.svg", "practice-plate-rules-2.svg"} {
		got, err := os.ReadFile(filepath.Join(dir, name))
		require.NoError(t, err)
		picture := filepath.Join("examples", "practice-plate", name)
		if *update {
			require.NoError(t, os.WriteFile(picture, got, 0o644))
			continue
		}
		want, err := os.ReadFile(picture)
		require.NoError(t, err, "write it with -update")
		assert.True(t, bytes.Equal(want, got), "%s is not what the example draws; write it anew with -update", picture)
	}
}

// TestClass hands a plate out to a class of forty, and marks what comes back:
// who is right has all points, and of each fault that was put in one finding
// speaks.
func TestClass(t *testing.T) {
	if testing.Short() {
		t.Skip("short: the class is marked in the full run")
	}
	t.Chdir(root)
	dir := t.TempDir()
	out, err := exec.Command("sh", "examples/class/run.sh", dir).CombinedOutput()
	require.NoError(t, err, string(out))
	marks, faults := readCSV(t, filepath.Join(dir, "marked", "marks.csv")), readCSV(t, filepath.Join(dir, "back", "faults.csv"))
	require.Len(t, marks, 41)
	require.Len(t, faults, 41)
	for i, m := range marks[1:] {
		fault := faults[i+1][1]
		want := "0"
		if fault != "" {
			want = "1"
		}
		assert.Equal(t, []string{faults[i+1][0], want}, []string{m[0], m[8]}, fault)
		assert.Equal(t, fault == "", m[1] == m[2], "%s: %s of %s points", fault, m[1], m[2])
	}
	// The README shows one.
	file := filepath.Join(dir, "marked.svg")
	args := []string{"mark", filepath.Join(dir, "back", "10.dxf"), "--plate", "examples/class/plate.toml", "--class", "examples/class/class.csv",
		"--roll", "10", "--seed", "spring term", "-o", file}
	var report, errs bytes.Buffer
	require.Zero(t, command.Run(t.Context(), args, strings.NewReader(""), &report, &errs), errs.String())
	got, err := os.ReadFile(file)
	require.NoError(t, err)
	compare(t, filepath.Join("docs", "marked.svg"), got)
}

// compare compares what was drawn with a picture of the docs, or writes it.
func compare(t *testing.T, picture string, got []byte) {
	if *update {
		require.NoError(t, os.WriteFile(picture, got, 0o644))
		return
	}
	want, err := os.ReadFile(picture)
	require.NoError(t, err, "write it with -update")
	assert.True(t, bytes.Equal(want, got), "%s is not what is drawn; write it anew with -update", picture)
}

func readCSV(t *testing.T, name string) [][]string {
	data, err := os.ReadFile(name)
	require.NoError(t, err)
	rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	require.NoError(t, err)
	return rows
}
