package dxfout

import (
	"bytes"
	"flag"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"testing"

	d "boltplate/drawing"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write the golden files")

// TestGolden compares drawings with files that were looked at; how they came
// about is in testdata/README.md.
func TestGolden(t *testing.T) {
	for name, c := range map[string]struct {
		e  Encoder
		dr *d.Drawing
	}{
		"empty": {dr: &d.Drawing{}}, "shapes": {dr: sample()}, "office": {Encoder{Layers: office()}, sample()},
		"plain": {Encoder{Version: R12}, plainOf(sample())}, "plain-office": {Encoder{Version: R12, Layers: office()}, plainOf(sample())},
	} {
		got, err := c.e.Append(nil, c.dr)
		require.NoError(t, err)
		file := filepath.Join("testdata", name+".dxf")
		if *update {
			if c.e.Version == R12 { // a file that does not read is not accepted
				checkPlain(t, got)
			} else {
				s := readStructure(t, got)
				checkPointers(t, &s)
			}
			require.NoError(t, os.MkdirAll("testdata", 0o755))
			require.NoError(t, os.WriteFile(file, got, 0o644))
			continue
		}
		want, err := os.ReadFile(file)
		require.NoError(t, err, "write it with -update")
		w, g := readTags(t, want), readTags(t, got)
		for i := range min(len(w), len(g)) {
			require.Equal(t, w[i], g[i], "%s line %d", file, 2*i+1)
		}
		require.True(t, bytes.Equal(want, got), file)
	}
}

// TestSameBytes encodes one drawing from many goroutines, streamed and not.
func TestSameBytes(t *testing.T) {
	drawings := variants()
	want, plain := map[string][]byte{}, map[string][]byte{}
	for name, dr := range variants() {
		want[name] = encoded(t, dr)
		drawings[name+" plain"] = plainOf(dr)
		plain[name+" plain"] = encodedPlain(t, plainOf(dr))
	}
	for name, file := range plain {
		want[name] = file
	}
	encoder := func(name string) Encoder {
		if plain[name] != nil {
			return Encoder{Version: R12}
		}
		return Encoder{}
	}
	var wg sync.WaitGroup
	for range 4 * runtime.NumCPU() {
		wg.Go(func() {
			var buf []byte
			for name, dr := range drawings {
				var streamed bytes.Buffer
				if err := encoder(name).Encode(&streamed, dr); err != nil || !bytes.Equal(streamed.Bytes(), want[name]) {
					t.Errorf("%s: streamed bytes differ (%v)", name, err)
				}
				var err error
				if buf, err = encoder(name).Append(buf[:0], dr); err != nil || !bytes.Equal(buf, want[name]) {
					t.Errorf("%s: appended bytes differ (%v)", name, err)
				}
			}
		})
	}
	wg.Wait()
}

func TestFont(t *testing.T) {
	require.Equal(t, DefaultFont, ofKind(readRecords(t, encoded(t, &d.Drawing{})), "STYLE")[0].first(3))
	b, err := Encoder{Font: "txt\r\n  0"}.Append(nil, &d.Drawing{})
	require.NoError(t, err)
	require.Equal(t, "txt    0", ofKind(readRecords(t, b), "STYLE")[0].first(3))
}

// TestInjection puts text that looks like groups wherever text from outside
// can get, and counts the records of the file.
func TestInjection(t *testing.T) {
	kinds := func(evil string) map[string]int {
		l := d.Label{Text: evil}
		shelf := d.Shelf{Placed: true, Knee: d.Pt(9, 9)}
		v := d.View{Name: evil, Items: []d.Item{
			{Shape: d.Line{To: d.Pt(1, 0)}},
			{Shape: d.Text{Value: evil}},
			{Shape: d.Linear{Label: l, To: d.Pt(40, 0), Placed: true, At: -9}},
			{Shape: d.Leader{Label: l, Shelf: shelf}},
		}}
		dr := &d.Drawing{
			Views: []d.Placed{{View: v, Block: evil}, {View: v, Block: evil + "2"}},
			Parts: []d.Part{{Name: evil, Attributes: []d.Attribute{{Tag: "T", Prompt: evil, Text: d.Text{Value: evil}}},
				Properties: []d.Property{{Key: strings.NewReplacer("=", "", "#", "").Replace(evil), Value: evil + strings.Repeat(evil, 30)}}}},
		}
		b, err := Encoder{Font: evil}.Append(nil, dr)
		require.NoError(t, err)
		found := map[string]int{}
		s := readStructure(t, b)
		checkPointers(t, &s)
		for _, r := range s.records {
			found[r.kind]++
		}
		return found
	}
	want := kinds("harmless")
	for _, evil := range []string{
		"x\r\n  0\r\nEOF", "x\n0\nLINE\n8\n0", "x\r0\rENDSEC", "^J  0^JEOF", "\x00\x01\x1a1", "x\u0085  0\u2028EOF", `\U+000A0`,
		"x\n1001\nACAD\n1002\n}", "\xff\xfe\r\n0", "%%010", "\v\f  0",
	} {
		require.Equal(t, want, kinds(evil), "%q", evil)
	}
}

// TestAllocations: what encoding allocates does not grow with the entities.
func TestAllocations(t *testing.T) {
	var buf []byte
	for name, dr := range map[string]*d.Drawing{"entities": grid(2000), "dimensions": dimensioned(500), "empty": {}} {
		buf = encoded(t, dr)
		n := testing.AllocsPerRun(10, func() { buf, _ = Encoder{}.Append(buf[:0], dr) })
		require.LessOrEqual(t, n, 20.0, name)
		buf = encodedPlain(t, dr)
		n = testing.AllocsPerRun(10, func() { buf, _ = Encoder{Version: R12}.Append(buf[:0], dr) })
		require.LessOrEqual(t, n, 20.0, "%s, plain", name)
	}
}

// arranged is n views of a turned pin with its dimensions arranged, which
// fills in what labels say.
func arranged(n int) *d.Drawing {
	says := func(v float64, s d.Symbol, reference bool) d.Label {
		return d.Label{Quantity: d.Quantity{Letter: "L", Value: v}, Symbol: s, Reference: reference}
	}
	v := d.Arrange(d.View{Items: []d.Item{
		{Role: d.RoleOutline, Shape: d.Line{From: d.Pt(0, -8), To: d.Pt(60, -8)}},
		{Role: d.RoleOutline, Shape: d.Line{From: d.Pt(0, 8), To: d.Pt(60, 8)}},
		{Role: d.RoleOutline, Shape: d.Circle{Center: d.Pt(30, 0), Radius: 3}},
		{Role: d.RoleOutline, Shape: d.Arc{Center: d.Pt(60, 0), Radius: 8, Start: -90, End: 90}},
		{Role: d.RoleDimension, Shape: d.Linear{Label: says(60, d.NoSymbol, false), From: d.Pt(0, -8), To: d.Pt(60, -8)}},
		{Role: d.RoleDimension, Shape: d.Linear{Label: says(16, d.DiameterSymbol, false), From: d.Pt(0, -8), To: d.Pt(0, 8), Side: d.Left}},
		{Role: d.RoleDimension, Shape: d.Linear{Label: says(68, d.NoSymbol, true), From: d.Pt(0, 8), To: d.Pt(68, 0), Side: d.Above}},
		{Role: d.RoleDimension, Shape: d.Diameter{Label: says(6, d.DiameterSymbol, false), Center: d.Pt(30, 0), Radius: 3, Angle: 60}},
		{Role: d.RoleDimension, Shape: d.Radius{Label: says(8, d.RadiusSymbol, false), Center: d.Pt(60, 0), Radius: 8, Angle: 30}},
	}}, d.Style{})
	dr := &d.Drawing{}
	for i := range n {
		dr.Views = append(dr.Views, d.Placed{View: v, At: d.Pt(0, 80*float64(i))})
	}
	return dr
}

// TestAllocationsDoNotGrow with ten times as many lines, arcs, circles and
// dimensions.
func TestAllocationsDoNotGrow(t *testing.T) {
	count := func(n int) float64 {
		dr := arranged(n)
		return testing.AllocsPerRun(10, func() {
			if err := Encode(io.Discard, dr); err != nil {
				t.Fatal(err)
			}
		})
	}
	require.Equal(t, count(10), count(100))
	require.LessOrEqual(t, count(100), 20.0)
}

// TestSmallFile: a batch writes thousands of small files.
func TestSmallFile(t *testing.T) {
	require.Less(t, len(encoded(t, &d.Drawing{})), 13<<10)
	require.Less(t, len(encoded(t, typical())), 32<<10)
}
