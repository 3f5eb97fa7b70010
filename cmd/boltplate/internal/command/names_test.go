package command

import (
	"bytes"
	"context"
	"encoding/csv"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boltplate/dxfin"
	"boltplate/settings"
)

// evil are names and texts that have hurt programs.
func evil() []string {
	return []string{"../up", "..\\up", "/etc/passwd", "C:\\x", "a/b", ".", "..", "...", "CON", "nul.dxf", "COM1", "LPT1", "aux",
		strings.Repeat("long", 75), "tab\there", "line\nbreak", "cr\rlf", "bell\a", "esc\x1b[31m", "\x00nul", "\u202egnp.exe", "\u200fשלום", "مرحبا",
		"日本語", "🔩", "e\u0301", "%%c20", "%%d", "\\P", "\\U+0041", "{\\H3;x}", "^J", "<b>&amp;</b>", "]]>", "(paren\\)", "(", "')", "=1+1", "@x", "-o",
		"*?|\"<>:", " lead", "trail ", "trail.", "0\nSECTION\n2\nHEADER", "  0", "ENDSEC", "EOF", "a;b", "a,b", "\ufeffbom", "\xff\xfe"}
}

// TestHostileNames: whatever a mark or a note says, the row is refused with its
// place, or its files are whole, lie in the folder that was asked for, and say it
// again.
func TestHostileNames(t *testing.T) {
	for _, word := range evil() {
		top := t.TempDir()
		dir := filepath.Join(top, "deep", "out")
		var in bytes.Buffer
		w := csv.NewWriter(&in)
		require.NoError(t, w.WriteAll([][]string{{"mark", "kind", "size", "note"}, {word, "hex-nut", "M16", "n"}, {"B", "hex-nut", "M16", word}, {"C", "hex-nut", "M12", ""}}))
		var stdout, stderr bytes.Buffer
		code := Run(context.Background(), []string{"batch", "-", "-o", dir, "--format", "dxf,svg,pdf", "--index", "csv,json,html"}, &in, &stdout, &stderr)
		require.Contains(t, []int{exitOK, exitPartial, exitUsage}, code, "%q", word)
		for _, c := range stdout.String() + stderr.String() {
			require.False(t, c < ' ' && c != '\n' || c == 0x7f || c == '\u202e', "%q: %q in what is printed", word, c)
		}
		require.NoError(t, filepath.WalkDir(top, func(path string, e fs.DirEntry, err error) error {
			require.NoError(t, err)
			if e.IsDir() {
				return nil
			}
			require.Equal(t, dir, filepath.Dir(path), "%q", word)
			require.NotEqual(t, '.', rune(filepath.Base(path)[0]), "%q left behind", path)
			return nil
		}))
		if code == exitUsage {
			continue // not even a list: said
		}
		assert.FileExists(t, filepath.Join(dir, "C.dxf"), "%q: the other rows are done", word)
		files, err := filepath.Glob(filepath.Join(dir, "*.dxf"))
		require.NoError(t, err)
		for _, f := range files {
			texts := textsOf(t, f)
			// What can be printed stands there as it was; lines may be wrapped.
			if printed := strings.Join(strings.Fields(word), ""); filepath.Base(f) == "B.dxf" && settings.Printable(word) == nil && utf8.ValidString(word) {
				require.Contains(t, texts, printed, "%q", word)
			}
		}
	}
}

// textsOf returns all texts of a DXF file without their blanks.
func textsOf(t *testing.T, name string) string {
	in, err := os.Open(name)
	require.NoError(t, err)
	defer in.Close()
	f, err := dxfin.Decode(in)
	require.NoError(t, err, name)
	scene, err := f.Flatten()
	require.NoError(t, err, name)
	var all strings.Builder
	for _, s := range scene.Texts {
		all.WriteString(strings.Join(strings.Fields(s.Value), ""))
	}
	return all.String()
}
