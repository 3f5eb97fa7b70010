package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestFormatsAsDocumented: every session of docs/formats.md prints what the page
// says, and the layout in it is that of the example.
func TestFormatsAsDocumented(t *testing.T) {
	data, err := os.ReadFile("../../docs/formats.md")
	require.NoError(t, err)
	page := string(data)
	layout, err := os.ReadFile("../../examples/flange/layout.csv")
	require.NoError(t, err)
	assert.Contains(t, page, "```csv\n"+string(layout)+"```")
	dir := t.TempDir()
	bin := filepath.Join(dir, "boltplate")
	require.NoError(t, exec.Command("go", "build", "-o", bin, ".").Run())
	joint, err := os.ReadFile("../../testdata/joints/long-stud.toml")
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(filepath.Join(dir, "long-stud.toml"), joint, 0o644))
	sessions := regexp.MustCompile("(?ms)^```session\n\\$ (.*?)\n(.*?)^```").FindAllStringSubmatch(page, -1)
	require.Greater(t, len(sessions), 5)
	for _, s := range sessions {
		line, want := s[1], s[2]
		if name, ok := strings.CutPrefix(line, "cat "); ok {
			require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(want), 0o644))
			continue
		}
		c := exec.Command("sh", "-c", line)
		c.Dir = dir
		c.Env = append(os.Environ(), "PATH="+dir+string(os.PathListSeparator)+os.Getenv("PATH"))
		got, _ := c.Output() // a joint that does not work has a status of its own
		rest, whole := strings.CutSuffix(want, "...\n")
		if whole {
			assert.True(t, strings.HasPrefix(string(got), rest), "%s prints:\n%s", line, first(string(got), strings.Count(rest, "\n")+2))
			continue
		}
		assert.Equal(t, want, string(got), line)
	}
}

// first returns the first lines of a text.
func first(s string, n int) string {
	lines := strings.SplitAfter(s, "\n")
	return strings.Join(lines[:min(n, len(lines))], "")
}

// TestJointPlate: the example hides one fault in the joint of every student, and
// neighbours have another drawing.
func TestJointPlate(t *testing.T) {
	dir := t.TempDir()
	c := exec.Command("go", "run", ".", "handout", "../../examples/class/class.csv", "../../examples/class/joint-plate.toml",
		"--seed", "spring", "-o", dir, "--format", "dxf", "-q")
	out, err := c.CombinedOutput()
	require.NoError(t, err, "%s", out)
	key, err := os.ReadFile(filepath.Join(dir, "key.csv"))
	require.NoError(t, err)
	lines := strings.Split(strings.TrimSpace(string(key)), "\n")[1:]
	assert.Len(t, lines, 40)
	last := ""
	for _, l := range lines {
		_, l, _ = strings.Cut(l, ",") // the roll number
		assert.NotEqual(t, last, l)
		last = l
	}
}
