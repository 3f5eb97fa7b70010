package command

import (
	"bytes"
	"context"
	"encoding/json"
	"strings"
	"testing"
	"unicode"

	"boltplate/marking"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// Whatever stands in a file or an argument, a message is one line of letters: it cannot
// colour the terminal, forge another message or turn the direction of writing.
func TestMessagesAreLines(t *testing.T) {
	if testing.Short() {
		t.Skip("five hundred runs of the command")
	}
	dir := t.TempDir()
	rapid.Check(t, func(t *rapid.T) {
		word := rapid.OneOf(rapid.SampledFrom([]string{"k\x1b[31mred\nboltplate: all well", "a\u202e1", "\u2028x", "ok"}), rapid.String()).Draw(t, "word")
		word = strings.ReplaceAll(word, "\x00", "")
		for _, c := range []struct {
			args []string
			in   string
		}{
			{[]string{"draw", word, "M16x80", "-o", "-"}, ""},
			{[]string{"draw", "hex-bolt", word, "-o", "-"}, ""},
			{[]string{"batch", "-", "-o", dir}, "mark,kind,size\n\"" + strings.ReplaceAll(word, `"`, "'") + "\",hexbolt,M16\n"},
			{[]string{"sheet", "-", "-o", "-"}, "size = \"A3\"\n" + tomlKey(word) + " = 1\n"},
			{[]string{"joint", "-", "-o", "-"}, "scene = " + tomlKey(word) + "\n"},
		} {
			var out, errs bytes.Buffer
			if Run(context.Background(), c.args, strings.NewReader(c.in), &out, &errs) == exitOK {
				continue
			}
			for line := range strings.Lines(errs.String()) {
				assert.False(t, strings.ContainsFunc(strings.TrimSuffix(line, "\n"), func(r rune) bool {
					return unicode.IsControl(r) || r == 0x202e || r == 0x2028
				}), "%q", line)
				assert.NotRegexp(t, "^boltplate: all well", line)
			}
		}
	})
}

// What a student wrote into the file cannot do so either.
func TestMarksAreLines(t *testing.T) {
	var out bytes.Buffer
	res := &marking.Result{Findings: []marking.Finding{{Number: 1, Text: "The text \x1b[31mred\u202e is not asked for.", Advice: "ok"}}}
	require.NoError(t, (&markCommand{}).report(&env{stdout: &out}, res))
	assert.Contains(t, out.String(), `The text \x1b[31mred\u202e is not`)
	assert.NotContains(t, out.String(), "\x1b")
}

// tomlKey quotes a word as TOML does; a JSON text is one of TOML.
func tomlKey(s string) string {
	data, _ := json.Marshal(s)
	return string(data)
}
