package dxfout

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	d "boltplate/drawing"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// office is the map of an office that has one layer for all that is thin and
// colours for widths.
func office() LayerMap {
	thin := Layer{Name: "OST-THIN", Colour: 3, Width: 0.18}
	return LayerMap{
		d.RoleOutline:   {Name: "OST-EDGE", Colour: 1, Width: 0.5},
		d.RoleThin:      thin,
		d.RoleHatching:  thin,
		d.RoleHidden:    {Name: "OST-HIDE", Colour: 2, LineType: "hidden", Width: 0.35},
		d.RoleCentre:    {LineType: Phantom},
		d.RoleDimension: {Name: "OST-DIM", Colour: 4},
		d.RoleText:      {Name: "OST-TEXT", Colour: 6},
	}
}

func TestLayerMap(t *testing.T) {
	for _, version := range []Version{R2000, R12} {
		file, err := Encoder{Version: version, Layers: office()}.Append(nil, plainOf(sample()))
		require.NoError(t, err)
		records := readRecords(t, file)
		layers := map[string][3]string{}
		for _, r := range ofKind(records, "LAYER") {
			layers[r.first(2)] = [3]string{r.first(62), strings.ToUpper(r.first(6)), r.first(370)}
		}
		want := map[string][3]string{
			"0": {"7", "CONTINUOUS", "-3"}, "OST-EDGE": {"1", "CONTINUOUS", "50"}, "OST-THIN": {"3", "CONTINUOUS", "18"}, "OST-HIDE": {"2", "HIDDEN", "35"},
			"CENTRE": {"8", "PHANTOM", "25"}, "CUTTING": {"7", "CUTTING", "50"}, "ADJACENT": {"8", "PHANTOM", "25"}, "OST-DIM": {"4", "CONTINUOUS", "25"},
			"OST-TEXT": {"6", "CONTINUOUS", "35"}, "FRAME": {"7", "CONTINUOUS", "50"},
		}
		if version == R12 {
			checkPlain(t, file)
			for name, w := range want {
				w[2] = ""
				want[name] = w
			}
		} else {
			s := readStructure(t, file)
			checkPointers(t, &s)
			checkOwners(t, &s)
			checkSections(t, s.records)
			for name, w := range want {
				if d := map[string]string{"HIDDEN": "_0.25", "PHANTOM": "_0.25", "CUTTING": "_0.5"}[w[1]]; d != "" {
					w[1] += d // the width of the line and the scale
					want[name] = w
				}
			}
			require.Equal(t, "6", header(records)["$DIMCLRT"][0].value)
			require.Equal(t, "6", ofKind(records, "DIMSTYLE")[0].first(178))
		}
		require.Equal(t, want, layers)
		used := map[string]bool{}
		for _, r := range records {
			if r.section == "ENTITIES" || r.section == "BLOCKS" {
				used[r.first(8)] = true
				if r.kind == "TEXT" && r.first(8) == "OST-DIM" {
					require.Equal(t, "6", r.first(62), "the text of dimensions has the colour of text")
				}
			}
		}
		for _, ours := range []string{"OUTLINE", "THIN", "HIDDEN", "HATCHING", "DIMENSION", "TEXT"} {
			require.False(t, used[ours], ours)
		}
		for _, theirs := range []string{"OST-EDGE", "OST-THIN", "OST-HIDE", "OST-DIM", "OST-TEXT", "CENTRE"} {
			require.True(t, used[theirs], theirs)
		}
	}
}

func TestLayerErrors(t *testing.T) {
	for _, c := range []struct {
		m     LayerMap
		plain bool
		want  string
	}{
		{LayerMap{d.RoleOutline: {Name: "0"}}, false, `Encoder.Layers[outline].Name = "0": is a layer with a meaning of its own`},
		{LayerMap{d.RoleThin: {Name: "a\nb"}}, false, `Encoder.Layers[thin].Name = "a\nb": holds what the name of a layer must not`},
		{LayerMap{d.RoleThin: {Name: "a/b"}}, false, "holds what the name"},
		{LayerMap{d.RoleThin: {Name: " a"}}, false, "holds what the name"},
		{LayerMap{d.RoleThin: {Name: "Ω"}}, false, "holds what the name"},
		{LayerMap{d.RoleThin: {Name: strings.Repeat("x", 201)}}, false, "is longer than 200"},
		{LayerMap{d.RoleThin: {Name: "MY LAYER"}}, true, "in an AC1009 file: at most 31 of the characters"},
		{LayerMap{d.RoleThin: {Name: strings.Repeat("X", 32)}}, true, "at most 31 of the characters"},
		{LayerMap{d.RoleThin: {Colour: 256}}, false, "Encoder.Layers[thin].Colour = 256: is no colour index; they go from 1 to 255"},
		{LayerMap{d.RoleThin: {Colour: -1}}, false, "Colour = -1"},
		{LayerMap{d.RoleThin: {LineType: "DOTTED"}}, false, `Encoder.Layers[thin].LineType = "DOTTED": is no line type; there are Continuous, HIDDEN, CENTER, CUTTING, PHANTOM`},
		{LayerMap{d.RoleThin: {Width: 0.36}}, false, "Encoder.Layers[thin].Width = 0.36: is no width of the format; the nearest is 0.35"},
		{LayerMap{d.RoleThin: {Width: 0.001}}, false, "the nearest is 0.05"},
		{LayerMap{d.RoleThin: {Width: -1}}, false, "is no width"},
		{LayerMap{d.RoleThin: {Width: math.NaN()}}, false, "is no width"},
		{LayerMap{d.RoleThin: {Name: "OUTLINE"}}, false,
			`Encoder.Layers[thin] = "OUTLINE": is the layer of outline too, which has the colour 7 and not 8; give both the same, or two layers`},
		{LayerMap{d.RoleHidden: {Name: "x"}, d.RoleCentre: {Name: "X"}}, false, "has the line type HIDDEN and not CENTER"},
		{LayerMap{d.RoleFrame: {Name: "OUTLINE", Width: 0.7}}, false, "has the width 0.5 and not 0.7"},
	} {
		e := Encoder{Layers: c.m}
		if c.plain {
			e.Version = R12
		}
		file, err := e.Append(nil, &d.Drawing{})
		require.ErrorContains(t, err, c.want)
		require.Empty(t, file)
	}
	// Small letters are capitals in a plain file; widths are not in it.
	file, err := Encoder{Version: R12, Layers: LayerMap{d.RoleFrame: {Name: "outline", Width: 0.7}}}.Append(nil, &d.Drawing{})
	require.NoError(t, err)
	checkPlain(t, file)
	file, err = Encoder{Layers: LayerMap{d.RoleFrame: {Name: "Rahmen für Öl"}}}.Append(nil, &d.Drawing{})
	require.NoError(t, err)
	require.Contains(t, string(file), "\r\nRahmen f\xfcr \xd6l\r\n")
	for _, w := range LineWidths() {
		_, err := Encoder{Layers: LayerMap{d.RoleThin: {Width: w}}}.Append(nil, &d.Drawing{})
		require.NoError(t, err)
	}
}

// TestAnyLayers: whatever an office asks for, its layers are in the file, each
// once, or the error says which role is to blame.
func TestAnyLayers(t *testing.T) {
	dr := plainOf(sample())
	rapid.Check(t, func(t *rapid.T) {
		var m LayerMap
		hostile := rapid.IntRange(0, 3).Draw(t, "hostile") == 0
		for r := range m {
			if !hostile {
				m[r] = Layer{
					Name:     rapid.SampledFrom([]string{"", "A", "b-", "Ü"}).Draw(t, "name"),
					Colour:   rapid.SampledFrom([]int{0, 1, 7, 8, 255}).Draw(t, "colour"),
					LineType: rapid.SampledFrom([]string{"", "continuous", "Hidden", "PHANTOM"}).Draw(t, "type"),
					Width:    rapid.SampledFrom([]float64{0, 0.25, 0.5}).Draw(t, "width"),
				}
				if m[r].Name != "" && rapid.Bool().Draw(t, "shared") { // all that share it look alike
					m[r] = Layer{Name: "shared", Colour: 3, LineType: Continuous, Width: 0.35}
				} else if m[r].Name != "" {
					m[r].Name += strconv.Itoa(r)
				}
				continue
			}
			m[r] = Layer{
				Name:     rapid.SampledFrom([]string{"", "", "A", "a", "B-1", "OUTLINE", "text", "x y", "Ü", "ß", "0", "a|b", "%%c", "X\n0"}).Draw(t, "name"),
				Colour:   rapid.SampledFrom([]int{0, 0, 0, 1, 7, 8, 255, 256}).Draw(t, "colour"),
				LineType: rapid.SampledFrom([]string{"", "", "continuous", "Hidden", "PHANTOM", "dots"}).Draw(t, "type"),
				Width:    rapid.SampledFrom([]float64{0, 0, 0.25, 0.5, 0.55}).Draw(t, "width"),
			}
			if rapid.IntRange(0, 3).Draw(t, "keep") > 0 {
				m[r] = Layer{Name: m[r].Name}
			}
		}
		for _, version := range []Version{R2000, R12} {
			file, err := Encoder{Version: version, Layers: m}.Append(nil, dr)
			if version == R2000 && !hostile {
				require.NoError(t, err)
			}
			if err != nil {
				var e *ValueError
				require.ErrorAs(t, err, &e)
				require.Regexp(t, `^Layers\[[a-z]+\]`, e.Field)
				continue
			}
			if version == R12 {
				checkPlain(t, file)
			} else {
				s := readStructure(t, file)
				checkSections(t, s.records)
				checkPointers(t, &s)
				checkOwners(t, &s)
			}
			names := map[string]bool{}
			for _, r := range ofKind(readRecords(t, file), "LAYER") {
				require.False(t, names[foldName(r.first(2))], r.first(2))
				names[foldName(r.first(2))] = true
			}
			for r := range m {
				l := m.Layer(d.Role(r), dr.Style)
				if d.Role(r).Extra() && !dr.Uses(d.Role(r)) {
					continue
				}
				require.True(t, names[foldName(cleanName(l.Name))], l.Name)
			}
		}
	})
}

// TestFindings: a file has the layer of findings only where it has findings,
// in red.
func TestFindings(t *testing.T) {
	plain := sample()
	require.NotContains(t, string(encoded(t, plain)), "FINDINGS")
	marked := *plain
	marked.Items = append(slices.Clip(marked.Items), d.Item{Role: d.RoleFinding, Shape: d.Circle{Radius: 4}})
	for _, file := range [][]byte{encoded(t, &marked), encodedPlain(t, plainOf(&marked))} {
		text := string(file)
		i := strings.Index(text, "  2\r\nFINDINGS\r\n 70\r\n0\r\n 62\r\n1\r\n")
		require.Positive(t, i, "the layer, in colour 1")
		require.Contains(t, text[i:], "\r\nCIRCLE\r\n", "and the circle after it")
		require.Contains(t, text[i+10:], "FINDINGS")
	}
}
