package boltplate_test

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestExamplesRun runs every example: each writes a drawing to standard output.
func TestExamplesRun(t *testing.T) {
	dirs, err := filepath.Glob("examples/*/main.go")
	require.NoError(t, err)
	require.NotEmpty(t, dirs)
	for _, file := range dirs {
		out, err := exec.Command("go", "run", "./"+filepath.ToSlash(filepath.Dir(file))).Output()
		require.NoError(t, err, file)
		assert.True(t, strings.HasSuffix(strings.ReplaceAll(string(out), "\r\n", "\n"), "\nEOF\n"), "%s: a whole drawing", file)
	}
}

// TestPracticePlate runs the example that fills a folder: two sheets in three
// forms, once for the student and once for the instructor.
func TestPracticePlate(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "plates")
	out, err := exec.Command("go", "run", "./examples/practice-plate", dir).CombinedOutput()
	require.NoError(t, err, string(out))
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	var names []string
	for _, e := range entries {
		names = append(names, e.Name())
	}
	assert.Equal(t, []string{
		"practice-plate-numbers-1.dxf", "practice-plate-numbers-1.svg", "practice-plate-numbers-2.dxf", "practice-plate-numbers-2.svg", "practice-plate-numbers.pdf",
		"practice-plate-rules-1.dxf", "practice-plate-rules-1.svg", "practice-plate-rules-2.dxf", "practice-plate-rules-2.svg", "practice-plate-rules.pdf",
	}, names)
}

// TestFlange: the program and the command make the same file of the same
// flange, to the last byte; so does the row of bolts of the hinge strap whenever
// it is drawn.
func TestFlange(t *testing.T) {
	place := func(dir string, more ...string) []byte {
		dir = filepath.Join("examples", dir)
		args := append([]string{"run", "./cmd/boltplate", "place", filepath.Join(dir, "layout.csv"), "--schedule", filepath.Join(dir, "schedule.csv"), "-o", "-"}, more...)
		out, err := exec.Command("go", args...).Output()
		require.NoError(t, err)
		return out
	}
	want, err := exec.Command("go", "run", "./examples/flange").Output()
	require.NoError(t, err)
	got := place("flange", "--under", "examples/flange/cover.json")
	assert.True(t, bytes.Equal(want, got), "the program and the command draw different files")
	assert.Equal(t, 10, bytes.Count(got, []byte("\r\nAcDbBlockReference\r\n")))
	strap := place("hinge-strap", "--under", "examples/hinge-strap/strap.json", "--scale", "1:5")
	assert.Equal(t, 8, bytes.Count(strap, []byte("\r\nAcDbBlockReference\r\n")))
}

// TestReadmeShowsTheExample keeps the program in the README in step.
func TestReadmeShowsTheExample(t *testing.T) {
	readme, err := os.ReadFile("README.md")
	require.NoError(t, err)
	program, err := os.ReadFile("examples/embed/main.go")
	require.NoError(t, err)
	_, code, _ := strings.Cut(string(program), "package main") // without its comment
	assert.Contains(t, string(readme), "```go\npackage main"+code+"```")
}
