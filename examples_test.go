package boltplate_test

import (
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

// TestReadmeShowsTheExample keeps the program in the README in step.
func TestReadmeShowsTheExample(t *testing.T) {
	readme, err := os.ReadFile("README.md")
	require.NoError(t, err)
	program, err := os.ReadFile("examples/embed/main.go")
	require.NoError(t, err)
	_, code, _ := strings.Cut(string(program), "package main") // without its comment
	assert.Contains(t, string(readme), "```go\npackage main"+code+"```")
}
