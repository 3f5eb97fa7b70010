package settings

import (
	"fmt"
	"strconv"
	"strings"
	"testing"

	"github.com/BurntSushi/toml"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// TestPlaces writes random files in which each value is a number of its own,
// and finds at each place the number that the decoder reads there.
func TestPlaces(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		w := tomlWriter{t: t}
		w.pairs(rapid.IntRange(0, 3).Draw(t, "top"), "\n")
		for range rapid.IntRange(0, 5).Draw(t, "tables") {
			w.table()
		}
		text := w.b.String()
		var top map[string]any
		_, err := toml.Decode(text, &top)
		require.NoError(t, err, text)
		places := placesOf(text)
		n := 0
		each(top, "", func(path, number string) {
			n++
			at, ok := places[path]
			require.True(t, ok, "%s in\n%s", path, text)
			line := strings.Split(text, "\n")[at.Line-1]
			require.True(t, strings.HasPrefix(line[at.Column-1:], number), "%s is %s, at %v of\n%s", path, number, at, text)
		})
		require.Equal(t, w.values, n)
	})
}

// each calls f for each number below v.
func each(v any, path string, f func(path, number string)) {
	switch v := v.(type) {
	case int64:
		f(path, strconv.FormatInt(v, 10))
	case map[string]any:
		for k, e := range v {
			each(e, join(path, k), f)
		}
	case []any:
		for i, e := range v {
			each(e, element(path, i), f)
		}
	case []map[string]any:
		for i, e := range v {
			each(e, element(path, i), f)
		}
	}
}

type tomlWriter struct {
	t      *rapid.T
	b      strings.Builder
	keys   int
	values int
}

func (w *tomlWriter) one(of ...string) string { return rapid.SampledFrom(of).Draw(w.t, "one") }

// gap writes what may stand between lines.
func (w *tomlWriter) gap() {
	w.b.WriteString(w.one("", "\n", "  \n\t", "# [[figure]] \"\n", "\r\n"))
}

func (w *tomlWriter) table() {
	w.gap()
	switch w.one("figure", "part", "table") {
	case "figure":
		w.b.WriteString(w.one("[[figure]]\n", "[[ figure ]] # 'x'\n", "[['figure']]\n"))
		w.pairs(rapid.IntRange(0, 4).Draw(w.t, "pairs"), "\n")
		for range rapid.IntRange(0, 2).Draw(w.t, "parts") {
			w.gap()
			w.b.WriteString(w.one("[[figure.part]]\n", "  [[ figure . \"part\" ]]\n"))
			w.pairs(rapid.IntRange(0, 2).Draw(w.t, "pairs"), "\n")
		}
	default:
		w.keys++
		fmt.Fprintf(&w.b, "[t%d]\n", w.keys)
		w.pairs(rapid.IntRange(0, 3).Draw(w.t, "pairs"), "\n")
	}
}

func (w *tomlWriter) pairs(n int, between string) {
	for i := range n {
		if between == "\n" {
			w.gap()
		} else if i > 0 {
			w.b.WriteString(between)
		}
		w.keys++
		fmt.Fprintf(&w.b, w.one("k%d=", "k%d = ", "\"k%d\"\t= ", "k%d.x.y = "), w.keys)
		w.value(2)
		if between == "\n" {
			w.b.WriteString(w.one("\n", " # = [\n", "\r\n"))
		}
	}
}

func (w *tomlWriter) value(depth int) {
	forms := []string{"number", "number", "text"}
	if depth > 0 {
		forms = append(forms, "list", "inline")
	}
	switch w.one(forms...) {
	case "number":
		w.values++
		fmt.Fprintf(&w.b, "%d", 1000+w.values)
	case "text":
		w.b.WriteString(w.one(`""`, `''`, `"[[figure]]"`, `"a\"b = 1"`, "'''\n[[figure]]\nk = 3\n'''", "\"\"\"\n[t]\\\"\"\"\\\"\n\"\"\"", `'\'`, `"\\"`))
	case "list":
		w.b.WriteString(w.one("[", "[ ", "[\n\t", "[ # ]\n"))
		n := rapid.IntRange(0, 3).Draw(w.t, "elements")
		for i := range n {
			w.value(depth - 1)
			if i < n-1 {
				w.b.WriteString(w.one(",", " , ", ",\n", ", # 'x\n"))
			}
		}
		w.b.WriteString(w.one("]", "\n]"))
	case "inline":
		w.b.WriteString("{ ")
		n := rapid.IntRange(0, 2).Draw(w.t, "pairs")
		for i := range n {
			if i > 0 {
				w.b.WriteString(", ")
			}
			w.keys++
			fmt.Fprintf(&w.b, "k%d = ", w.keys)
			w.value(depth - 1)
		}
		w.b.WriteString(" }")
	}
}
