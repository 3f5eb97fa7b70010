package dxfout

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	d "boltplate/drawing"
	"github.com/stretchr/testify/require"
)

// variants are drawings that exercise every part of a file.
func variants() map[string]*d.Drawing {
	rules, letters, none := sample(), sample(), sample()
	for labels, dr := range map[d.Labels]*d.Drawing{d.Rules: rules, d.Letters: letters, d.NoLabels: none} {
		dr.Style = d.Style{Labels: labels, Scale: 0.5, Group: 0.7, TextHeight: 5, DecimalComma: true}
		for i := range dr.Views {
			st := dr.Style
			st.Scale *= viewScale(&dr.Views[i])
			dr.Views[i].View = d.Arrange(dr.Views[i].View, st)
		}
	}
	hatched := sample() // as one block at two scales
	for i := range 2 {
		hatched.Views[i].Block = "Plate"
		hatched.Views[i].View = onePlate(1)
	}
	return map[string]*d.Drawing{
		"hatched": hatched,
		"empty":   {}, "sample": sample(), "rules": rules, "letters": letters, "none": none,
		"grid": grid(100), "typical": typical(), "dimensions": dimensioned(300),
	}
}

// structure is what a test needs to know of a file.
type structure struct {
	records []record
	handles map[uint64]*record
}

func handleOf(tb tester, s string) uint64 {
	h, err := strconv.ParseUint(s, 16, 64)
	require.NoError(tb, err)
	return h
}

func readStructure(tb tester, file []byte) structure {
	s := structure{readRecords(tb, file), map[uint64]*record{}}
	for i := range s.records {
		r := &s.records[i]
		code := 5
		if r.kind == "DIMSTYLE" {
			code = 105
		}
		switch r.kind {
		case "SECTION", "ENDSEC", "ENDTAB", "CLASS", "EOF":
			continue
		}
		h := handleOf(tb, r.first(code))
		require.NotZero(tb, h, r.kind)
		require.NotContains(tb, s.handles, h, "%s %X", r.kind, h)
		s.handles[h] = r
	}
	return s
}

func header(records []record) map[string][]tag {
	vars, name := map[string][]tag{}, ""
	for _, r := range ofKind(records, "SECTION") {
		if r.first(2) != "HEADER" {
			continue
		}
		for _, t := range r.tags[1:] {
			if t.code == 9 {
				name = t.value
				vars[name] = nil
			} else {
				vars[name] = append(vars[name], t)
			}
		}
	}
	return vars
}

func TestStructure(t *testing.T) {
	for name, dr := range variants() {
		t.Run(name, func(t *testing.T) {
			file := encoded(t, dr)
			checkStructure(t, file)
			layers := map[string]bool{}
			for _, r := range ofKind(readRecords(t, file), "LAYER") {
				layers[r.first(2)] = true
			}
			for r := range d.RoleCount {
				require.Equal(t, !r.Extra() || dr.Uses(r), layers[roleLayers[r].name], r)
			}
		})
	}
}

func checkStructure(t tester, file []byte) {
	s := readStructure(t, file)
	checkSections(t, s.records)
	checkPointers(t, &s)
	checkOwners(t, &s)
	checkNames(t, s.records)
	checkNumbers(t, s.records)
	seed := handleOf(t, header(s.records)["$HANDSEED"][0].value)
	for h := range s.handles {
		require.Less(t, h, seed)
	}
}

func checkSections(t tester, records []record) {
	var sections, tables []string
	for _, r := range records {
		switch r.kind {
		case "SECTION":
			sections = append(sections, r.first(2))
		case "TABLE":
			tables = append(tables, r.first(2))
			n := 0
			for _, e := range records {
				if e.table == r.first(2) && e.kind == e.table {
					n++
				}
			}
			require.Equal(t, strconv.Itoa(n), r.first(70), "records in %s", r.first(2))
		}
	}
	require.Equal(t, []string{"HEADER", "CLASSES", "TABLES", "BLOCKS", "ENTITIES", "OBJECTS"}, sections)
	require.Equal(t, []string{"VPORT", "LTYPE", "LAYER", "STYLE", "VIEW", "UCS", "APPID", "DIMSTYLE", "BLOCK_RECORD"}, tables)
	require.Equal(t, "EOF", records[len(records)-1].kind)
	require.Equal(t, "AC1015", header(records)["$ACADVER"][0].value)
	require.Equal(t, []tag{{70, "4"}}, header(records)["$INSUNITS"])
	require.Equal(t, []tag{{70, "1"}}, header(records)["$MEASUREMENT"])
	objects := records[len(records)-1:]
	for i, r := range records {
		if r.kind == "SECTION" && r.first(2) == "OBJECTS" {
			objects = records[i+1:]
		}
	}
	require.Equal(t, "DICTIONARY", objects[0].kind, "the root dictionary comes first")
	require.Equal(t, "0", objects[0].first(330))
}

func checkPointers(t tester, s *structure) {
	for _, r := range s.records {
		for _, g := range r.tags {
			if g.code >= 1000 {
				break
			}
			if g.code >= 320 && g.code < 370 || g.code >= 390 && g.code < 400 {
				if h := handleOf(t, g.value); h != 0 {
					require.Contains(t, s.handles, h, "%s group %d", r.kind, g.code)
				}
			}
		}
	}
}

// owner returns the last group 330 before the first class marker: those before
// it are reactors.
func owner(r *record) string {
	found := ""
	for _, g := range r.tags {
		if g.code == 330 {
			found = g.value
		}
		if g.code == 100 {
			break
		}
	}
	return found
}

func checkOwners(t tester, s *structure) {
	block := ""
	var insert string
	for i := range s.records {
		r := &s.records[i]
		what := fmt.Sprintf("%s %s", r.kind, r.first(5))
		if r.section != "TABLES" && r.section != "BLOCKS" && r.section != "ENTITIES" || r.kind == "SECTION" || r.kind == "ENDTAB" {
			continue
		}
		o := s.handles[handleOf(t, owner(r))]
		switch {
		case r.kind == "TABLE":
			require.Equal(t, "0", owner(r), what)
		case r.section == "TABLES":
			require.Equal(t, "TABLE", o.kind, what)
			require.Equal(t, r.kind, o.first(2), what)
		case r.kind == "ATTRIB" || r.kind == "SEQEND":
			require.Equal(t, insert, owner(r), what)
		default:
			require.Equal(t, "BLOCK_RECORD", o.kind, what)
			if r.kind == "BLOCK" {
				block = r.first(2)
				require.Equal(t, block, r.first(3))
			} else if r.section == "ENTITIES" {
				block = "*Model_Space"
				if r.first(67) == "1" {
					block = "*Paper_Space"
				}
			}
			require.Equal(t, block, o.first(2), what)
		}
		if r.kind == "INSERT" {
			insert = r.first(5)
		}
	}
}

func checkNames(t tester, records []record) {
	defined := map[string]map[string]bool{}
	for _, r := range records {
		if r.section == "TABLES" && r.kind == r.table {
			if defined[r.table] == nil {
				defined[r.table] = map[string]bool{}
			}
			name := strings.ToUpper(r.first(2))
			require.False(t, defined[r.table][name], "%s %s twice", r.table, name)
			defined[r.table][name] = true
		}
	}
	need := func(table, name string) {
		require.True(t, defined[table][strings.ToUpper(name)], "%s %q", table, name)
	}
	blocks := 0
	for _, r := range records {
		if r.kind == "LAYER" {
			need("LTYPE", r.first(6))
		}
		if r.section != "BLOCKS" && r.section != "ENTITIES" || r.kind == "SECTION" {
			continue
		}
		need("LAYER", r.first(8))
		switch r.kind {
		case "BLOCK":
			blocks++
			need("BLOCK_RECORD", r.first(2))
		case "INSERT":
			need("BLOCK_RECORD", r.first(2))
		case "DIMENSION":
			need("BLOCK_RECORD", r.first(2))
			need("DIMSTYLE", r.first(3))
		case "TEXT", "ATTRIB", "ATTDEF":
			need("STYLE", r.first(7))
		}
		for _, app := range r.all(1001) {
			need("APPID", app)
		}
	}
	require.Len(t, defined["BLOCK_RECORD"], blocks)
}

func checkNumbers(t tester, records []record) {
	for _, r := range records {
		for _, g := range r.tags {
			switch {
			case isReal(g.code) && !(r.kind == "SECTION" && g.code == 50 && g.value == "0"):
				v, err := strconv.ParseFloat(g.value, 64)
				require.NoError(t, err, "%s group %d", r.kind, g.code)
				require.False(t, math.IsInf(v, 0) || math.IsNaN(v))
				require.Regexp(t, `^-?[0-9]+\.[0-9]{1,15}$`, g.value, "%s group %d", r.kind, g.code)
				require.False(t, v == 0 && g.value[0] == '-')
			case isInteger(g.code):
				_, err := strconv.Atoi(g.value)
				require.NoError(t, err, "%s group %d", r.kind, g.code)
			}
		}
	}
}

// TestHeaderEqualsDimensionStyle because readers take the header's variables
// as overrides of the style.
func TestHeaderEqualsDimensionStyle(t *testing.T) {
	dr := sample()
	dr.Style.DecimalComma, dr.Style.Scale = true, 0.2
	records := readRecords(t, encoded(t, dr))
	vars := header(records)
	style := ofKind(records, "DIMSTYLE")[1]
	require.Equal(t, "BOLTPLATE_1-5_COMMA", style.first(2))
	require.Equal(t, "BOLTPLATE_1-5_COMMA", vars["$DIMSTYLE"][0].value)
	for _, v := range dimReals {
		require.Equal(t, vars[v.name][0].value, style.first(codeOf(v.code)), v.name)
	}
	for _, v := range dimInts {
		require.Equal(t, vars[v[0]][0].value, style.first(codeOf(v[1])), v[0])
	}
	require.Equal(t, "44", vars["$DIMDSEP"][0].value)
	require.Equal(t, "44", style.first(278))
	require.Equal(t, "5.0", vars["$DIMSCALE"][0].value, "a millimetre on paper is five of the part at 1:5")
	require.Equal(t, "1.0", vars["$LTSCALE"][0].value, "each line has its own scale")
}

func codeOf(s string) int {
	n, _ := strconv.Atoi(strings.TrimLeft(s, " "))
	return n
}

// TestLayers has the lines of ISO 128-2 for line groups 0.5 and 0.7: wide and
// narrow widths, and dashes of 12 and 24, gaps of 3, dots of a half, in widths
// of the line.
func TestLayers(t *testing.T) {
	for _, c := range []struct {
		group        float64
		wide, narrow string
		hidden       []string
		centre       []string
		cutting      []string
	}{
		{0, "50", "25", []string{"3.0", "-0.75"}, []string{"6.0", "-0.75", "0.125", "-0.75"}, []string{"12.0", "-1.5", "0.25", "-1.5"}},
		{0.7, "70", "35", []string{"4.2", "-1.05"}, []string{"8.4", "-1.05", "0.175", "-1.05"}, []string{"16.8", "-2.1", "0.35", "-2.1"}},
	} {
		records := readRecords(t, encoded(t, &d.Drawing{Style: d.Style{Group: c.group}}))
		layers, types := map[string]record{}, map[string]record{}
		for _, r := range records {
			switch r.kind {
			case "LAYER":
				layers[r.first(2)] = r
			case "LTYPE":
				types[r.first(2)] = r
			}
		}
		pattern := func(layer string) []string { l := layers[layer]; r := types[l.first(6)]; return r.all(49) }
		look := func(layer string) [2]string { l := layers[layer]; return [2]string{l.first(62), l.first(370)} }
		for _, l := range []string{"OUTLINE", "CUTTING", "FRAME"} {
			require.Equal(t, [2]string{"7", c.wide}, look(l), l)
		}
		for _, l := range []string{"THIN", "HIDDEN", "CENTRE", "ADJACENT", "HATCHING", "DIMENSION"} {
			require.Equal(t, [2]string{"8", c.narrow}, look(l), l)
		}
		require.Equal(t, [2]string{"7", "35"}, look("TEXT"), "a tenth of the height of 3.5")
		require.Empty(t, pattern("OUTLINE"))
		require.Equal(t, c.hidden, pattern("HIDDEN"))
		require.Equal(t, c.centre, pattern("CENTRE"))
		require.Equal(t, c.cutting, pattern("CUTTING"))
		require.Equal(t, append(c.centre, c.centre[2:]...), pattern("ADJACENT"))
	}
}
