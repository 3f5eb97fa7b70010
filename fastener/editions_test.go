package fastener_test

import (
	"regexp"
	"slices"
	"testing"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/thread"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestEditions: every edition that a source of a size names is listed, once, and
// is the one that the figures are of; those with a newer one are found.
func TestEditions(t *testing.T) {
	held := map[string]thread.Edition{}
	for _, e := range append(fastener.Editions(), thread.Editions()...) {
		assert.NotContains(t, held, e.Standard)
		held[e.Standard] = e
		assert.NotEmpty(t, e.Seen, e.Standard)
		assert.True(t, e.Newer == "" || e.Newer > e.Edition, e.Standard)
	}
	named := regexp.MustCompile(`((?:ISO|IS|DIN) [0-9]+(?:-[0-9]+)?):([0-9]{4})`)
	seen := map[string]bool{}
	for _, name := range []string{"M5", "M10", "M20", "M20x1.5"} {
		th := thread.MustParse(name)
		for _, basis := range []fastener.Basis{fastener.Proportion, fastener.Standard} {
			for _, f := range specimensWith(th, 6*th.D, basis) {
				qs, err := f.Quantities()
				require.NoError(t, err)
				var newer []string
				for _, e := range fastener.Superseded(sourcesOf(qs)...) {
					newer = append(newer, e.Standard)
				}
				for _, q := range qs {
					for _, m := range named.FindAllStringSubmatch(q.Source, -1) {
						assert.Equal(t, m[2], held[m[1]].Edition, "%s %s: %s", f.Designation(), q.Letter, q.Source)
						assert.Equal(t, held[m[1]].Newer != "", slices.Contains(newer, m[1]), "%s: %s", f.Designation(), m[1])
						seen[m[1]] = true
					}
				}
			}
		}
	}
	for _, e := range fastener.Editions() {
		assert.True(t, seen[e.Standard], "no size has a source of %s", e.Standard)
	}
}

func sourcesOf(qs []drawing.Quantity) (out []string) {
	for _, q := range qs {
		out = append(out, q.Source)
	}
	return out
}
