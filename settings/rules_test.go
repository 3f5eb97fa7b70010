package settings

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boltplate/fastener"
	"boltplate/thread"
)

var updateRules = flag.Bool("update-rules", false, "write the set of our own rules anew")

// TestOurRules: the set of ours is what the kinds have, so that it changes
// nothing.
func TestOurRules(t *testing.T) {
	want := RulesFile("ours", fastener.Kinds())
	if *updateRules {
		require.NoError(t, os.WriteFile(filepath.Join("rulesets", "ours.toml"), []byte(want), 0o666))
	}
	got, ok := Ruleset("ours")
	require.True(t, ok)
	assert.Equal(t, want, got, "go test -run TestOurRules -update-rules writes it anew")
	_, err := ReadRules("ours.toml", got)
	require.NoError(t, err)
}

// TestTextbookRules: the customary set has a line for every size that ours has,
// but for what follows from the arc of the chamfer and the width across flats,
// and differs in the rules that its head says and in no other.
func TestTextbookRules(t *testing.T) {
	textbook, _ := Ruleset("textbook")
	r := lines(textbook)
	ours, _ := Ruleset("ours")
	for key, text := range lines(ours) {
		table, letter, _ := strings.Cut(key, "]|")
		switch {
		case letter == "b" && text == `"upto(L, 125, 2D + 6, 200, 2D + 12, 2D + 25)"`:
			// [bolts], or for screws as ours
		case r[key] != "":
			assert.Equal(t, text, r[key], key)
		default:
			assert.Contains(t, []string{"A", "W", "a"}, letter, "%s: %s", table, letter)
		}
	}
	assert.Equal(t, []string{`"1.5D + 3"`, `"1.5D"`, `"2D + 6"`}, []string{r["[hexagons]|W"], r["[hexagons]|R"], r["[bolts]|b"]})

	own, err := ReadRules("textbook.toml", textbook)
	require.NoError(t, err)
	// 1.5 × 20 + 3; 1.5 × 20; 2 × 20 + 6, also above 125.
	bolt := fastener.HexBolt{Thread: thread.MustParse("M20"), Length: 160, Extra: fastener.Extra{Rules: own}}
	qs, err := bolt.Quantities()
	require.NoError(t, err)
	values := map[string]float64{}
	for _, q := range qs {
		values[q.Letter] = q.Value
	}
	assert.Equal(t, []float64{33, 30, 46}, []float64{values["W"], values["R"], values["b"]})
}

// lines returns the rules of a file by its tables and letters.
func lines(file string) map[string]string {
	out := map[string]string{}
	table := ""
	for line := range strings.Lines(file) {
		line, _, _ = strings.Cut(strings.TrimSpace(line), " #")
		if strings.HasPrefix(line, "[") {
			table = line
		} else if letter, text, ok := strings.Cut(line, " = "); ok && table != "" {
			out[table+"|"+letter] = strings.TrimSpace(text)
		}
	}
	return out
}

func FuzzRules(f *testing.F) {
	ours, _ := Ruleset("ours")
	for _, s := range []string{ours, "name = 5", "[hex-bolt]\nT = \"0.8D\"", "[hex-bolt]\nT = { rule = '0.8D', status = 'x' }", "[bolts]\nb = \"\"\"2D\n+ 6\"\"\"", "[\"hexagon heads\"]\nA = 1.5", "a.b.c = 1", "[hex-bolt]\n\"head thickness\" = \"T\""} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		own, err := ReadRules("f.toml", s)
		if err != nil {
			require.NotEmpty(t, err.Error())
			return
		}
		for _, k := range fastener.Kinds() {
			spec := fastener.Spec{Kind: k.Name, Thread: thread.MustParse("M20"), Extra: fastener.Extra{Rules: own}}
			if k.Length {
				spec.Length = 90
			}
			if p, err := fastener.New(spec); err == nil {
				_, err := fastener.Draw(p, fastener.DrawOptions{})
				require.NoError(t, err)
			}
		}
	})
}
