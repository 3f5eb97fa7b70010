package dxfin_test

import (
	"bytes"
	"errors"
	"fmt"
	"math"
	"strings"
	"testing"

	"boltplate/drawing"
	"boltplate/dxfin"
	"boltplate/dxfout"
	"boltplate/fastener"
	"boltplate/thread"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// tags turns "0 LINE | 8 0" into groups, a code and a value.
func tags(s string) string {
	var b strings.Builder
	for _, g := range strings.FieldsFunc(s, func(r rune) bool { return r == '|' || r == '\n' }) {
		g = strings.TrimLeft(g, " \t")
		if g == "" {
			continue
		}
		code, value, _ := strings.Cut(strings.TrimRight(g, " \t"), " ")
		fmt.Fprintf(&b, "%s\n%s\n", code, value)
	}
	return b.String()
}

// entities makes a file of entities alone, as R12 allows.
func entities(s string) string {
	return tags("0 SECTION | 2 ENTITIES\n" + s + "\n0 ENDSEC | 0 EOF")
}

func decode(t testing.TB, s string) *dxfin.File {
	t.Helper()
	f, err := dxfin.Decode(strings.NewReader(s))
	require.NoError(t, err)
	return f
}

func flatten(t testing.TB, f *dxfin.File) *dxfin.Scene {
	t.Helper()
	s, err := f.Flatten()
	require.NoError(t, err)
	return s
}

const oneLine = "0 LINE | 8 EDGES | 10 1 | 20 2 | 11 3 | 21 4"

// TestErrors: what is out of step is refused, with the line and what would be
// right.
func TestErrors(t *testing.T) {
	for _, c := range []struct {
		name, file, want string
		line             int
	}{
		{"nothing", "", "a DXF file, which begins with 0 SECTION", 0},
		{"text", "Dear sir,\nplease find enclosed\n", "a group code, a whole number from 0 to 1071", 1},
		{"DWG", "AC1027\x00\x00", "save the drawing as DXF", 1},
		{"code too large", tags("0 SECTION | 2 ENTITIES") + "99999\nx\n", "a group code", 5},
		{"no value", tags("0 SECTION | 2 ENTITIES") + "0", "the value of group code 0", 6},
		{"cut", entities(oneLine)[:50], "0 ENDSEC at the end of the section ENTITIES", 0},
		{"no section", tags("0 LINE | 8 0"), "0 SECTION or 0 EOF", 2},
		{"no name of a section", tags("0 SECTION | 0 ENDSEC"), "2 and the name of the section", 4},
		{"a word for a number", entities("0 LINE | 10 one | 20 2"), "a number for group code 10", 8},
		{"a number that is none", entities("0 LINE | 10 NaN"), "a finite number of a drawing for group code 10", 8},
		{"infinite", entities("0 CIRCLE | 10 0 | 20 0 | 40 1e999"), "a number for group code 40", 12},
		{"out of all bounds", entities("0 LINE | 10 1e200"), "a finite number of a drawing", 8},
		{"a fraction for a count", entities("0 LWPOLYLINE | 70 1.5"), "a whole number for group code 70", 8},
		{"a block without end", tags("0 SECTION | 2 BLOCKS | 0 BLOCK | 2 A | 0 LINE | 0 ENDSEC | 0 EOF"), `0 ENDBLK at the end of the block "A"`, 12},
		{"not a block", tags("0 SECTION | 2 BLOCKS | 0 LINE | 0 ENDSEC"), "0 BLOCK or 0 ENDSEC", 6},
		{"not a table", tags("0 SECTION | 2 TABLES | 0 LAYER | 0 ENDSEC"), "0 TABLE or 0 ENDSEC", 6},
		{"a table without end", tags("0 SECTION | 2 TABLES | 0 TABLE | 2 LAYER | 0 LAYER | 2 A | 0 ENDSEC"), "0 ENDTAB at the end of the table LAYER", 14},
		{"a header without names", tags("0 SECTION | 2 HEADER | 70 1 | 0 ENDSEC"), "9 and the name of a header variable", 6},
	} {
		_, err := dxfin.Decode(strings.NewReader(c.file))
		var e *dxfin.SyntaxError
		if assert.ErrorAs(t, err, &e, c.name) {
			assert.Contains(t, e.Error(), c.want, c.name)
			if c.line > 0 {
				assert.Equal(t, c.line, e.Line, "%s: %v", c.name, e)
			}
		}
	}
}

// binaryFile is a circle in a binary file: codes of two bytes, numbers of eight,
// texts that end with a zero byte.
func binaryFile() string {
	const mark = " Binary DXF\r\n\x1a\x00"
	return strings.Repeat("x", 22-len(mark)) + mark + "\x00\x00SECTION\x00\x02\x00ENTITIES\x00\x00\x00CIRCLE\x00\x08\x00A\x00" +
		"\x0a\x00\x00\x00\x00\x00\x00\x00\xf0\x3f\x14\x00\x00\x00\x00\x00\x00\x00\x00\x40\x28\x00\x00\x00\x00\x00\x00\x00\x08\x40" +
		"\x00\x00ENDSEC\x00\x00\x00EOF\x00"
}

// TestBinaryErrors: a binary file that is cut anywhere is refused or read to
// where it ends, never more.
func TestBinaryErrors(t *testing.T) {
	file := binaryFile()
	f := decode(t, file)
	require.True(t, f.Binary)
	s := flatten(t, f)
	require.Equal(t, drawing.Circle{Center: drawing.Pt(1, 2), Radius: 3}, s.Curves[0].Shape)
	for n := range len(file) - len("\x00\x00EOF\x00") {
		_, err := dxfin.Decode(strings.NewReader(file[:n]))
		var e *dxfin.SyntaxError
		require.ErrorAs(t, err, &e, "cut to %d bytes", n)
		if n > 24 {
			require.Zero(t, e.Line)
			require.Contains(t, e.Error(), "byte ")
		}
	}
}

// TestTolerance: what other programs write in their own way is read all the
// same.
func TestTolerance(t *testing.T) {
	file := entities(oneLine)
	lower := strings.NewReplacer("SECTION", "section", "LINE", "line", "ENTITIES", "entities", "EOF", "eof").Replace(file)
	padded := ""
	for i, l := range strings.Split(strings.TrimSuffix(file, "\n"), "\n") {
		if i%2 == 0 {
			l = "  " + l + " "
		}
		padded += l + "\n"
	}
	for name, v := range map[string]struct{ file, note string }{
		"as it is":         {file, ""},
		"CRLF":             {strings.ReplaceAll(file, "\n", "\r\n"), ""},
		"CR":               {strings.ReplaceAll(file, "\n", "\r"), ""},
		"no last line end": {strings.TrimSuffix(file, "\n"), ""},
		"a mark":           {"\ufeff" + file, ""},
		"small letters":    {lower, ""},
		"blanks":           {padded, ""},
		"a comment":        {strings.Replace(file, "0\nLINE", "999\nby hand\n0\nLINE", 1), ""},
		"no EOF":           {strings.TrimSuffix(file, "0\nEOF\n"), "does not end with 0 EOF"},
		"no ENDSEC":        {strings.Replace(file, "0\nENDSEC\n", "", 1), "does not end with 0 ENDSEC"},
		"a zero byte":      {file + "\x1a\x00\n\n", ""},
		"a comma":          {strings.Replace(file, "10\n1\n", "10\n1,0\n", 1), "decimal comma"},
		"an exponent":      {strings.Replace(file, "10\n1\n", "10\n0.1E+01\n", 1), ""},
		"other sections":   {tags("0 SECTION | 2 CLASSES | 0 CLASS | 1 X | 0 ENDSEC | 0 SECTION | 2 ACDSDATA | 70 2 | 0 ENDSEC") + file, ""},
		"an unknown one":   {strings.Replace(file, "0\nLINE", "0\nWIDGET\n8\nA\n0\nWIDGET\n0\nLINE", 1), ""},
	} {
		f := decode(t, v.file)
		s := flatten(t, f)
		require.Len(t, s.Curves, 1, name)
		require.Equal(t, drawing.Line{From: drawing.Pt(1, 2), To: drawing.Pt(3, 4)}, s.Curves[0].Shape, name)
		require.Equal(t, "EDGES", s.Curves[0].Layer, name)
		notes := fmt.Sprint(f.Notes)
		require.Contains(t, notes, `the layer "EDGES" is used and not defined`, name)
		if v.note != "" {
			require.Contains(t, notes, v.note, name)
		} else {
			require.Len(t, f.Notes, 1, "%s: %v", name, f.Notes)
		}
	}
	f := decode(t, entities("0 WIDGET | 8 A | 0 LINE | 10 0 | 20 0 | 11 1 | 21 1 | 0 WIDGET | 0 GADGET"))
	require.Equal(t, []dxfin.Count{{Kind: "WIDGET", N: 2, Line: 6}, {Kind: "GADGET", N: 1, Line: 22}}, f.Skipped)
}

// TestLimits: a file, and what a small file would grow to, are bounded.
func TestLimits(t *testing.T) {
	limited := func(err error, what string) {
		t.Helper()
		var e *dxfin.LimitError
		require.ErrorAs(t, err, &e)
		require.Contains(t, e.Error(), what)
	}
	many := entities(strings.Repeat(oneLine+"\n", 50))
	_, err := dxfin.Decoder{MaxBytes: 1000}.Decode(strings.NewReader(many))
	limited(err, "1000 bytes")
	_, err = dxfin.Decoder{MaxEntities: 49}.Decode(strings.NewReader(many))
	limited(err, "49 entities")
	_, err = dxfin.Decoder{MaxEntities: 50}.Decode(strings.NewReader(many))
	require.NoError(t, err)

	// Twenty blocks, each of ten of the one before: a line would be drawn 10^20 times.
	blocks := "0 SECTION | 2 BLOCKS | 0 BLOCK | 2 B0 |" + oneLine + "| 0 ENDBLK"
	for i := 1; i <= 20; i++ {
		blocks += fmt.Sprintf("\n0 BLOCK | 2 B%d", i)
		for range 10 {
			blocks += fmt.Sprintf("\n0 INSERT | 2 B%d", i-1)
		}
		blocks += "\n0 ENDBLK"
	}
	bomb := tags(blocks+"\n0 ENDSEC") + entities("0 INSERT | 2 B20")
	_, err = decode(t, bomb).Flatten()
	limited(err, "pieces of the drawing")
	_, err = dxfin.Flattener{MaxDepth: 5}.Flatten(decode(t, bomb))
	limited(err, "5 INSERTs within each other")

	rows := tags("0 SECTION | 2 BLOCKS | 0 BLOCK | 2 E | 0 ENDBLK | 0 ENDSEC") + entities("0 INSERT | 2 E | 70 32000 | 71 32000")
	_, err = decode(t, rows).Flatten()
	limited(err, "pieces of the drawing")

	loop := tags("0 SECTION | 2 BLOCKS | 0 BLOCK | 2 A | 0 INSERT | 2 B | 0 ENDBLK | 0 BLOCK | 2 B | 0 INSERT | 2 a | 0 ENDBLK | 0 ENDSEC") + entities("0 INSERT | 2 A")
	s := flatten(t, decode(t, loop))
	require.Equal(t, `[line 20: the block "a" holds itself]`, fmt.Sprint(s.Notes))
}

// TestLeftOut: entities that cannot be drawn are counted, with the reason.
func TestLeftOut(t *testing.T) {
	for entity, why := range map[string]string{
		"0 CIRCLE | 40 0":                                       "CIRCLE has the radius 0",
		"0 ARC | 40 -3":                                         "ARC has the radius -3",
		"0 ELLIPSE | 11 0 | 21 0 | 40 0.5":                      "ELLIPSE has an axis of no length",
		"0 LWPOLYLINE | 90 5 | 10 1 | 20 1":                     "LWPOLYLINE has fewer than two corners",
		"0 POLYLINE | 66 1 | 0 VERTEX | 10 1 | 20 1 | 0 SEQEND": "POLYLINE has fewer than two corners",
		"0 POLYLINE | 70 64 | 0 VERTEX | 10 1 | 0 SEQEND":       "POLYLINE is a mesh",
		"0 SPLINE | 71 3 | 11 0 | 21 0 | 11 1 | 21 1":           "SPLINE is given by 2 fit points alone",
		"0 SPLINE | 71 3 | 40 0 | 40 1 | 10 0 | 20 0 | 10 1 | 20 1 | 10 2 | 20 2 | 10 3 | 20 3": "SPLINE has 2 knots where 4 control points of degree 3 need 8",
		"0 SPLINE | 71 90 | 10 0 | 20 0":      "SPLINE has the degree 90",
		"0 INSERT | 2 A | 41 0":               "INSERT has the scale 0",
		"0 HATCH | 2 ANSI31 | 70 0":           "HATCH has no boundary",
		"0 HATCH | 91 1 | 92 1 | 93 1 | 72 9": "HATCH has an edge of the kind 9, which is none",
		"0 LEADER | 10 1 | 20 1":              "LEADER has fewer than two points",
	} {
		f := decode(t, entities(entity+" | "+oneLine))
		require.Len(t, f.Entities, 1, entity)
		require.Contains(t, fmt.Sprint(f.Notes), why)
		require.Len(t, f.Skipped, 1, entity)
		require.Equal(t, 1, f.Skipped[0].N)
	}
}

// TestByLayerAndByBlock: looks are settled through two blocks.
func TestByLayerAndByBlock(t *testing.T) {
	file := tags(`0 SECTION | 2 HEADER | 9 $ACADVER | 1 AC1015 | 9 $INSUNITS | 70 1 | 9 $LTSCALE | 40 2.0 | 0 ENDSEC
		0 SECTION | 2 TABLES
		0 TABLE | 2 LTYPE | 0 LTYPE | 2 DASHED | 49 4 | 49 -2 | 0 ENDTAB
		0 TABLE | 2 LAYER | 0 LAYER | 2 Red | 62 1 | 6 DASHED | 370 70 | 0 LAYER | 2 Off | 62 -3 | 6 CONTINUOUS | 0 LAYER | 2 Frozen | 70 1 | 0 LAYER | 2 Screen | 290 0 | 0 ENDTAB
		0 ENDSEC
		0 SECTION | 2 BLOCKS
		0 BLOCK | 2 IN | 0 LINE | 8 0 | 11 1 | 0 LINE | 8 0 | 62 0 | 6 BYBLOCK | 370 -2 | 11 1 | 0 LINE | 8 red | 48 0.5 | 11 1 | 0 ENDBLK
		0 BLOCK | 2 OUT | 0 INSERT | 2 IN | 8 0 | 62 0 | 6 ByBlock | 370 -2 | 0 ENDBLK
		0 ENDSEC`) + entities("0 INSERT | 2 OUT | 8 Red | 62 5 | 6 CONTINUOUS | 370 13 | 0 LINE | 8 Off | 11 1 | 0 LINE | 8 Frozen | 11 1 | 0 LINE | 8 Screen | 11 1 | 0 LINE | 60 1 | 11 1 | 0 LINE | 62 0 | 11 1")
	f := decode(t, file)
	mm, ok := f.Millimetres()
	require.True(t, ok)
	require.Equal(t, 25.4, mm)
	s := flatten(t, f)
	require.Len(t, s.Curves, 8)
	look := func(i int) string {
		c := &s.Curves[i]
		return fmt.Sprint(c.Layer, " ", strings.ToUpper(c.LineType.Name), " ", c.Scale, " ", c.Colour.Index, " ", c.Weight, " ", c.Blocks)
	}
	require.Equal(t, "Red DASHED 2 1 70 [OUT IN]", look(0), "by layer, and the layer is that of the outer INSERT")
	require.Equal(t, "Red CONTINUOUS 2 5 13 [OUT IN]", look(1), "by block through both")
	require.Equal(t, "Red DASHED 1 1 70 [OUT IN]", look(2), "its own layer and scale")
	for i, want := range map[int][2]bool{0: {true, true}, 3: {false, true}, 4: {false, true}, 5: {true, false}, 6: {false, true}, 7: {true, true}} {
		require.Equal(t, want, [2]bool{s.Curves[i].Shown, s.Curves[i].Plotted}, i)
	}
	require.Equal(t, 7, s.Curves[7].Colour.Index, "by block, in no block")
}

func bolt(t testing.TB) *drawing.Drawing {
	d, err := fastener.Draw(fastener.HexBolt{Thread: thread.MustParse("M20"), Length: 90}, fastener.DrawOptions{
		Views:      []drawing.Direction{drawing.Front, drawing.SideView, drawing.HeadEnd, drawing.PointEnd},
		Caption:    []fastener.CaptionLine{{Tag: "MARK", Prompt: "Mark", Text: "OL-07 ±0.5 – Ø20"}},
		Properties: []drawing.Property{{Key: "row", Value: "7"}},
	})
	require.NoError(t, err)
	return d
}

// TestOurFiles: the attributes and extended data of our own files come back,
// and both forms hold the same lines.
func TestOurFiles(t *testing.T) {
	d := bolt(t)
	layered, err := dxfout.Encoder{}.Append(nil, d)
	require.NoError(t, err)
	f := decode(t, string(layered))
	require.Empty(t, f.Notes)
	require.Empty(t, f.Skipped)
	require.Equal(t, "AC1015", f.Version)
	var part *dxfin.Insert
	var data []dxfin.XData
	for i := range f.Entities {
		if p, ok := f.Entities[i].Data.(*dxfin.Insert); ok {
			part, data = p, f.Entities[i].XData
		}
	}
	require.NotNil(t, part)
	require.Len(t, part.Attributes, 1)
	a := part.Attributes[0].Data.(*dxfin.Text)
	require.Equal(t, "MARK", a.Tag)
	require.Equal(t, "OL-07 ±0.5 – Ø20", a.Value)
	var values []string
	for _, x := range data {
		if x.App == "BOLTPLATE" {
			for _, v := range x.Values {
				values = append(values, v.Value)
			}
		}
	}
	all := strings.Join(values, "|")
	require.Contains(t, all, "kind")
	require.Contains(t, all, "hex-bolt")
	require.Contains(t, all, "row")

	plain, err := dxfout.Encoder{Version: dxfout.R12}.Append(nil, d)
	require.NoError(t, err)
	s, p := flatten(t, f), flatten(t, decode(t, string(plain)))
	length := func(s *dxfin.Scene, layer string) (sum float64) {
		for i := range s.Curves {
			if c := &s.Curves[i]; c.Layer == layer {
				ps := c.Chords(1e-4)
				for j := 1; j < len(ps); j++ {
					sum += ps[j].Sub(ps[j-1]).Len()
				}
			}
		}
		return sum
	}
	for _, layer := range []string{"OUTLINE", "THIN", "CENTRE"} {
		require.InDelta(t, length(s, layer), length(p, layer), 1e-3, layer)
		require.Greater(t, length(s, layer), 20.0, layer)
	}
}

// TestDimensionText: what a program would write on a dimension is what our
// picture of it says.
func TestDimensionText(t *testing.T) {
	for _, comma := range []bool{false, true} {
		for _, scale := range []float64{1, 0.5} {
			d, err := fastener.Draw(fastener.Stud{Thread: thread.MustParse("M16"), Length: 80}, fastener.DrawOptions{Options: fastener.Options{Style: drawing.Style{DecimalComma: comma}},
				Views: []drawing.Direction{drawing.Front, drawing.PointEnd}})
			require.NoError(t, err)
			for i := range d.Views {
				d.Views[i].Scale, d.Views[i].At = scale, d.Views[i].At.Mul(scale)
			}
			b, err := dxfout.Encoder{}.Append(nil, d)
			require.NoError(t, err)
			f := decode(t, string(b))
			drawn := flatten(t, f)
			for i := range f.Entities {
				if m, ok := f.Entities[i].Data.(*dxfin.Dimension); ok {
					m.Block = ""
				}
			}
			said := flatten(t, f)
			require.NotEmpty(t, drawn.Dimensions)
			require.Len(t, said.Dimensions, len(drawn.Dimensions))
			for i := range said.Dimensions {
				require.True(t, drawn.Dimensions[i].Drawn)
				require.False(t, said.Dimensions[i].Drawn)
				require.Equal(t, drawn.Dimensions[i].Text, said.Dimensions[i].Text)
			}
		}
	}
}

// TestReaderFails: the error of the reader comes through.
func TestReaderFails(t *testing.T) {
	want := errors.New("the disk is gone")
	_, err := dxfin.Decode(failing{want})
	require.ErrorIs(t, err, want)
}

type failing struct{ error }

func (f failing) Read([]byte) (int, error) { return 0, f.error }

// FuzzDecode: whatever a file holds, it is read or refused, and what it shows
// is finite.
func FuzzDecode(f *testing.F) {
	d := &drawing.Drawing{Items: []drawing.Item{
		{Shape: drawing.Arc{Radius: 3, Start: 10, End: 200}},
		{Shape: drawing.Ellipse{Major: drawing.Pt(4, 1), Ratio: 0.4}},
		{Shape: drawing.Conic{From: drawing.Pt(0, 0), Control: drawing.Pt(1, 2), To: drawing.Pt(3, 0), Weight: 2}},
		{Shape: drawing.Text{Value: "Ø20 ± 0.1"}},
		{Shape: drawing.Hatch{Angle: 45, Spacing: 2, Loops: [][]drawing.Vertex{{{Point: drawing.Pt(0, 0)}, {Point: drawing.Pt(9, 0), Bulge: 0.5}, {Point: drawing.Pt(9, 9)}}}}},
	}}
	for _, v := range []dxfout.Version{dxfout.R2000, dxfout.R12} {
		b, err := dxfout.Encoder{Version: v}.Append(nil, d)
		require.NoError(f, err)
		f.Add(b)
	}
	f.Add([]byte(entities(oneLine)))
	f.Add([]byte(binaryFile()))
	f.Add([]byte(entities(`0 INSERT | 2 A | 41 -2 | 42 3 | 50 30 | 70 2 | 44 5 | 0 POLYLINE | 66 1 | 70 1 | 0 VERTEX | 10 1 | 20 1 | 42 0.5 | 0 VERTEX | 10 4 | 20 1 | 0 SEQEND
		0 SPLINE | 71 2 | 40 0 | 40 0 | 40 0 | 40 1 | 40 1 | 40 1 | 10 0 | 20 0 | 10 1 | 20 2 | 10 3 | 20 0 | 41 1 | 41 2 | 41 1
		0 DIMENSION | 70 0 | 13 1 | 23 1 | 14 9 | 24 1 | 10 9 | 20 5 | 1 <> | 0 MTEXT | 10 1 | 20 1 | 40 2 | 1 {\\H2;a\\Pb}
		0 MULTILEADER | 300 CONTEXT_DATA{ | 302 LEADER{ | 10 1 | 20 1 | 304 LEADER_LINE{ | 10 2 | 20 2 | 305 } | 303 } | 304 text | 301 }`)))
	f.Fuzz(func(t *testing.T, b []byte) {
		file, err := dxfin.Decoder{MaxBytes: 1 << 20, MaxEntities: 10_000}.Decode(bytes.NewReader(b))
		var syntax *dxfin.SyntaxError
		var limit *dxfin.LimitError
		if err != nil {
			if !errors.As(err, &syntax) && !errors.As(err, &limit) {
				t.Fatalf("an error of another type: %v", err)
			}
			return
		}
		s, err := dxfin.Flattener{MaxPieces: 20_000}.Flatten(file)
		if err != nil {
			if !errors.As(err, &limit) {
				t.Fatalf("an error of another type: %v", err)
			}
			return
		}
		for i := range s.Curves {
			for _, p := range s.Curves[i].Chords(0.1) {
				if math.IsNaN(p.X) || math.IsNaN(p.Y) {
					t.Fatalf("not a number in %v", s.Curves[i].Shape)
				}
			}
		}
	})
}
