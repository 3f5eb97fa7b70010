package dxfout

import (
	"fmt"
	"strings"
	"testing"

	d "boltplate/drawing"
	"github.com/stretchr/testify/require"
)

func TestParts(t *testing.T) {
	other := part("3", 60)
	other.Attributes = other.Attributes[:1]
	bare := d.Part{Name: "Bare"}
	dr := &d.Drawing{Parts: []d.Part{part("1", -60), part("2", 0), other, bare}}
	records := readRecords(t, encoded(t, dr))
	var names []string
	for _, r := range ofKind(records, "BLOCK")[2:] {
		names = append(names, r.first(2))
	}
	require.Equal(t, []string{"Bolt M20x90_1-1", "Bolt M20x90_1-1_2", "Bare_1-1"}, names, "parts with the same attributes share a block")
	require.Len(t, ofKind(records, "ATTDEF"), 4)
	inserts := ofKind(records, "INSERT")
	require.Len(t, inserts, 4)
	requireTags(t, inserts[0], 2, "Bolt M20x90_1-1", 66, "1", 10, "-60.0", 20, "-80.0", 1001, "BOLTPLATE")
	require.Equal(t, []string{"version=1", "kind=square bolt", "D=20"}, inserts[0].all(1000))
	requireTags(t, inserts[3], 66, "")
	require.Equal(t, []string{"version=1"}, inserts[3].all(1000))
	require.Len(t, ofKind(records, "SEQEND"), 3, "an insert without attributes has no end")
	attributes := ofKind(records, "ATTRIB")
	require.Len(t, attributes, 7)
	requireTags(t, attributes[0], 2, "MARK", 1, "1", 70, "0", 40, "5.0", 10, "-60.0")
	requireTags(t, attributes[2], 2, "BASIS", 1, "proportion", 70, "1", 10, "-60.0", 20, "-80.0")
}

// properties reads the extended data back: pieces joined in their order.
func properties(t *testing.T, r record) map[string]string {
	found := map[string]string{}
	for i, s := range r.all(1000) {
		require.LessOrEqual(t, len(s), maxString)
		if i == 0 {
			require.Equal(t, dataVersion, s)
			continue
		}
		key, value, ok := strings.Cut(s, "=")
		require.True(t, ok)
		if name, piece, split := strings.Cut(key, "#"); split {
			n := 0
			_, err := fmt.Sscan(piece, &n)
			require.NoError(t, err)
			require.Equal(t, n > 1, found[name] != "", "pieces in order")
			key = name
		}
		found[key] += unescape(value, false)
	}
	return found
}

func TestProperties(t *testing.T) {
	want := map[string]string{
		"short": "x", "empty": "", "sign": "a=b#c^d%%e", "long": strings.Repeat("abcdefg ", 100), "Greek": strings.Repeat("ΩØ€^+", 120),
		strings.Repeat("k", maxKey): strings.Repeat("v", 1000), "edge": strings.Repeat("x", maxString-5), "over": strings.Repeat("x", maxString-4),
	}
	p := d.Part{Name: "Bolt"}
	for k, v := range want {
		p.Properties = append(p.Properties, d.Property{Key: k, Value: v})
	}
	insert := ofKind(readRecords(t, encoded(t, &d.Drawing{Parts: []d.Part{p}})), "INSERT")[0]
	require.Equal(t, want, properties(t, insert))
	require.Contains(t, insert.all(1000), "edge="+strings.Repeat("x", maxString-5), "250 bytes fit in one string")
	require.Contains(t, insert.all(1000), "over#2="+strings.Repeat("x", 3))
}

// TestPropertiesFit fills the space that one entity has, in the worst case,
// and more.
func TestPropertiesFit(t *testing.T) {
	fill := func(n int) *d.Drawing {
		p := d.Part{Name: "Bolt"}
		for i := range n {
			p.Properties = append(p.Properties, d.Property{Key: fmt.Sprint("k", i), Value: strings.Repeat("Ω", 100)})
		}
		return &d.Drawing{Parts: []d.Part{p}}
	}
	size := 0
	for _, s := range ofKind(readRecords(t, encoded(t, fill(20))), "INSERT")[0].all(1000) {
		size += len(s)
	}
	require.LessOrEqual(t, size, 16383)
	var e *ValueError
	_, err := Encoder{}.Append(nil, fill(30))
	require.ErrorAs(t, err, &e)
	require.Equal(t, "Properties", e.Field)
}
