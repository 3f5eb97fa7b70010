package main

import (
	"bytes"
	"context"
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
	shown := regexp.MustCompile("`boltplate ((?:draw|joint|sheet) [^`]*) -o [^` ]+\\.dxf`[^\n]*\n\n!\\[[^\\]]+\\]\\((docs/[^)]+\\.svg)\\)").FindAllSubmatch(readme, -1)
	require.Equal(t, bytes.Count(readme, []byte("](docs/")), len(shown), "every picture has its command above it")
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
