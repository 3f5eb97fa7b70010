package dxfout

import (
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	d "boltplate/drawing"
	"github.com/stretchr/testify/require"
)

// flange is eight views of a stud on a pitch circle, each turned outwards, a
// mirrored one in the middle, and a cover with a line before it and one after.
func flange() *d.Drawing {
	stud := d.View{Name: "stud", Items: []d.Item{
		{Role: d.RoleOutline, Shape: d.Polyline{Closed: true, Vertices: []d.Vertex{{Point: d.Pt(-8, 0)}, {Point: d.Pt(8, 0)}, {Point: d.Pt(8, 30)}, {Point: d.Pt(-8, 20)}}}},
		{Role: d.RoleHatching, Shape: d.Hatch{Loops: [][]d.Vertex{{{Point: d.Pt(-8, 0)}, {Point: d.Pt(8, 0)}, {Point: d.Pt(8, 10)}}}, Angle: 30, Spacing: 2}},
		{Role: d.RoleThin, Shape: d.Arc{Radius: 6, Start: 0, End: 100}},
		{Role: d.RoleDimension, Shape: d.Linear{Label: labelled("16", d.NoSymbol, false), From: d.Pt(-8, 0), To: d.Pt(8, 0), Placed: true, At: -10, TextAt: 0}},
	}}
	dr := &d.Drawing{}
	for i := range 8 {
		dr.Views = append(dr.Views, d.Placed{View: stud, At: d.Polar(100, 45*float64(i)), Turn: 45*float64(i) - 90, Block: "STUD"})
	}
	dr.Views = append(dr.Views, d.Placed{View: stud, Mirror: true, Turn: 30, Block: "STUD"})
	box := []d.Vertex{{Point: d.Pt(-150, -20)}, {Point: d.Pt(-130, -20), Bulge: 1}, {Point: d.Pt(-130, 20)}, {Point: d.Pt(-150, 20)}}
	dr.Items = []d.Item{
		{Shape: d.Line{From: d.Pt(-160, 0), To: d.Pt(-100, 0)}},
		{Shape: d.Cover{Loops: [][]d.Vertex{box}}},
		{Shape: d.Line{From: d.Pt(-160, 5), To: d.Pt(-100, 5)}},
	}
	return dr
}

// TestOneBlockManyInserts: a view used nine times, turned and mirrored, is one
// block and nine INSERTs.
func TestOneBlockManyInserts(t *testing.T) {
	records := readRecords(t, encoded(t, flange()))
	var inserts []record
	blocks := 0
	for _, r := range records {
		switch {
		case r.kind == "BLOCK" && r.first(2) == "STUD":
			blocks++
		case r.kind == "INSERT":
			inserts = append(inserts, r)
		}
	}
	require.Equal(t, 1, blocks)
	require.Len(t, inserts, 9)
	requireTags(t, inserts[0], 2, "STUD", 10, "100.0", 50, "270.0", 41, "")
	requireTags(t, inserts[1], 10, "70.71067812", 50, "315.0")
	requireTags(t, inserts[2], 50, "", 20, "100.0")
	requireTags(t, inserts[8], 41, "1.0", 42, "-1.0", 43, "1.0", 50, "30.0")
	// Each has its dimension, which measures 16 along its direction.
	dims := ofKind(records, "DIMENSION")
	require.Len(t, dims, 9)
	for i, r := range dims[:8] {
		require.InDelta(t, 16, r.number(t, 42), 1e-6)
		turn := 0.0
		if s := r.first(50); s != "" {
			turn, _ = strconv.ParseFloat(s, 64)
		}
		require.InDelta(t, 0, math.Remainder(45*float64(i)-90-turn, 180), 1e-6)
		require.Empty(t, r.first(1), "the program measures the same")
	}
	requireTags(t, dims[8], 70, "160")

	dr := flange()
	dr.Views[3].View = d.View{Items: []d.Item{{Shape: d.Line{To: d.Pt(1, 1)}}}}
	_, err := Encoder{}.Append(nil, dr)
	require.ErrorContains(t, err, `Placed.Block = STUD: names a block that holds another view`)
}

// TestTurnedIsMoved: what is turned without a block is written where it stands:
// the same as the view that was moved there.
func TestTurnedIsMoved(t *testing.T) {
	for _, p := range []d.Placed{{Turn: 30}, {Mirror: true, Turn: -75, At: d.Pt(5, 6), Scale: 0.5}} {
		p.View = onePlate(2)
		moved := d.Placed{View: p.View.Apply(p.Transform())}
		strip := func(dr *d.Drawing) (out []string) {
			for _, r := range entitiesOf(t, dr) {
				s := r.kind
				for _, g := range r.tags {
					switch {
					case g.code == 5 || g.code == 330:
					case g.code == 3 || r.kind == "DIMENSION" && (g.code == 1 || g.code == 42):
						// The style of the one has the factor of the view.
					default:
						s += "\n" + strconv.Itoa(g.code) + " " + g.value
					}
				}
				out = append(out, s)
			}
			return out
		}
		require.Equal(t, strip(&d.Drawing{Views: []d.Placed{moved}}), strip(&d.Drawing{Views: []d.Placed{p}}))
		_ = encodedPlain(t, &d.Drawing{Views: []d.Placed{p}})
	}
}

// TestCover: a WIPEOUT in a file that can hold one, in its place; in a plain
// one what is behind it is gone.
func TestCover(t *testing.T) {
	records := readRecords(t, encoded(t, flange()))
	wipeouts := ofKind(records, "WIPEOUT")
	require.Len(t, wipeouts, 1)
	requireTags(t, wipeouts[0], 10, "-150.0", 20, "-20.0", 22, "40.0", 71, "2")
	require.InDelta(t, 40, wipeouts[0].number(t, 11), 0.01, "the half circle is a polygon")
	require.Equal(t, "-0.5", wipeouts[0].all(14)[0])
	require.Equal(t, "0.5", wipeouts[0].all(24)[0])
	require.Equal(t, wipeouts[0].all(14)[0], wipeouts[0].all(14)[len(wipeouts[0].all(14))-1], "it ends where it starts")
	require.Len(t, ofKind(records, "WIPEOUTVARIABLES"), 1)
	require.Empty(t, ofKind(readRecords(t, encoded(t, sample())), "WIPEOUTVARIABLES"), "only where something is covered")
	var order []string
	for _, r := range records {
		if r.section == "ENTITIES" && (r.kind == "LINE" || r.kind == "WIPEOUT") {
			order = append(order, r.kind)
		}
	}
	require.Equal(t, []string{"LINE", "WIPEOUT", "LINE"}, order)

	dr := &d.Drawing{Items: flange().Items}
	var lines [][2]float64
	for _, r := range readRecords(t, encodedPlain(t, dr)) {
		if r.kind == "LINE" {
			lines = append(lines, [2]float64{r.number(t, 10), r.number(t, 11)})
		}
	}
	// The cover reaches from -150 to -110 at the height of the first line.
	require.InDeltaSlice(t, []float64{-160, -150, -110, -100, -160, -100}, flatten(lines), 0.01)
}

func flatten(pairs [][2]float64) (all []float64) {
	for _, p := range pairs {
		all = append(all, p[:]...)
	}
	return all
}

// TestLongTexts: sixty letters in Greek, Cyrillic and Japanese, seven bytes
// each, are all there.
func TestLongTexts(t *testing.T) {
	for _, s := range []string{
		strings.Repeat("Πείρος ", 9), strings.Repeat("Шлюз, нижние ворота. ", 3), strings.Repeat("測定工具", 15), strings.Repeat(`a{b}\c<>%%c`, 40), strings.Repeat("x", 251),
	} {
		dr := &d.Drawing{
			Items: []d.Item{{Role: d.RoleText, Shape: d.Text{At: d.Pt(3, 4), Angle: 30, Align: d.AlignRight, Value: s}}},
			Parts: []d.Part{{Name: "P", Attributes: []d.Attribute{{Tag: "NOTE", Text: d.Text{Value: s}}}, Properties: []d.Property{{Key: "note", Value: s}}}},
		}
		records := readRecords(t, encoded(t, dr))
		texts := ofKind(records, "MTEXT")
		require.Len(t, texts, 2, "the text, and the attribute that one string cannot hold")
		requireTags(t, texts[0], 10, "3.0", 20, "4.0", 41, "0.0", 71, "9", 50, "30.0", 7, "BOLTPLATE")
		for _, r := range texts {
			for _, piece := range append(r.all(3), r.all(1)...) {
				require.LessOrEqual(t, len(piece), maxString)
			}
			require.Equal(t, s, unparagraph(strings.Join(r.all(3), "")+r.first(1)))
		}
		attribute := ofKind(records, "ATTRIB")[0]
		requireTags(t, attribute, 2, "NOTE", 70, "1")
		require.True(t, strings.HasSuffix(attribute.first(1), "..."))
		require.LessOrEqual(t, len(attribute.first(1)), maxString)
		found := properties(t, ofKind(records, "INSERT")[0])
		require.Equal(t, s, found["note"])
		require.Equal(t, s, found["NOTE"], "the whole value of the attribute")
	}
}

// unparagraph decodes the text of an MTEXT.
func unparagraph(s string) string {
	s = strings.NewReplacer(`\\`, "\x00", `\{`, "{", `\}`, "}", "{", "", "}", "").Replace(s)
	var b strings.Builder
	for s != "" {
		if rest, ok := strings.CutPrefix(s, `\U+`); ok {
			n, _ := strconv.ParseUint(rest[:4], 16, 32)
			b.WriteRune(rune(n))
			s = rest[4:]
			continue
		}
		b.WriteByte(s[0])
		s = s[1:]
	}
	return strings.ReplaceAll(b.String(), "\x00", `\`)
}

// TestLayout: a sheet of A4 with a frame, and the drawing in a window at 1:2.
func TestLayout(t *testing.T) {
	e := Encoder{Layout: &Layout{
		Name: "Plate 1", Width: 297, Height: 210,
		Items:     []d.Item{{Role: d.RoleFrame, Shape: d.Line{From: d.Pt(20, 10), To: d.Pt(287, 10)}}, {Role: d.RoleText, Shape: d.Text{At: d.Pt(30, 15), Value: "Ostlemere"}}},
		Viewports: []Viewport{{Window: d.Rect{Min: d.Pt(30, 40), Max: d.Pt(250, 190)}, Centre: d.Pt(40, 25), Scale: 0.5}},
	}}
	dr := sample()
	dr.Style.Scale = 0.5
	file, err := e.Append(nil, dr)
	require.NoError(t, err)
	s := readStructure(t, file)
	checkPointers(t, &s)
	checkOwners(t, &s)
	ports := ofKind(s.records, "VIEWPORT")
	require.Len(t, ports, 2)
	requireTags(t, ports[0], 67, "1", 69, "1", 10, "148.5", 20, "105.0", 40, "297.0", 41, "210.0", 45, "210.0")
	requireTags(t, ports[1], 67, "1", 69, "2", 10, "140.0", 20, "115.0", 40, "220.0", 41, "150.0", 12, "40.0", 22, "25.0", 45, "300.0", 330, "1B")
	for _, r := range s.records {
		if r.kind == "LINE" && r.section == "ENTITIES" && r.first(67) == "1" {
			requireTags(t, r, 8, "FRAME", 10, "20.0", 330, "1B")
		}
		if r.kind == "TEXT" && r.first(67) == "1" {
			requireTags(t, r, 40, "3.5", 1, "Ostlemere")
		}
	}
	layout := ofKind(s.records, "LAYOUT")[0]
	requireTags(t, layout, 4, "ISO_A4_(297.00_x_210.00_MM)", 44, "297.0", 45, "210.0", 142, "1.0", 143, "1.0")
	require.Contains(t, layout.all(1), "Plate 1")
	require.Equal(t, "0", header(s.records)["$PSLTSCALE"][0].value, "the dashes of the drawing shrink with it")

	// By itself the window is the sheet, with the drawing in its middle.
	file, err = Encoder{Layout: &Layout{Width: 420, Height: 297}}.Append(nil, dr)
	require.NoError(t, err)
	ports = ofKind(readRecords(t, file), "VIEWPORT")
	b := dr.Bounds().Mid()
	require.InDelta(t, b.X, ports[1].number(t, 12), 1e-6)
	requireTags(t, ports[1], 40, "420.0", 45, "594.0")

	for want, l := range map[string]*Layout{
		"Encoder.Layout.Width = 0: is no side of a sheet":               {Height: 1},
		"Encoder.Layout.Height = NaN":                                   {Width: 1, Height: math.NaN()},
		"Encoder.Layout.Viewports[0].Window: has no area":               {Width: 9, Height: 9, Viewports: []Viewport{{}}},
		"Encoder.Layout.Viewports[0].Scale = -1: is no scale":           {Width: 9, Height: 9, Viewports: []Viewport{{Window: d.Rect{Max: d.Pt(1, 1)}, Scale: -1}}},
		"Encoder.Layout.Viewports[0].Centre.X = +Inf":                   {Width: 9, Height: 9, Viewports: []Viewport{{Window: d.Rect{Max: d.Pt(1, 1)}, Centre: d.Pt(math.Inf(1), 0)}}},
		"Encoder.Layout.Items[0]: is a Linear, which belongs in":        {Width: 9, Height: 9, Items: []d.Item{{Shape: d.Linear{Placed: true}}}},
		"Encoder.Layout: item 0, Circle.Radius = -1":                    {Width: 9, Height: 9, Items: []d.Item{{Shape: d.Circle{Radius: -1}}}},
		`Encoder.Layout.Name = "model": is the name of model space`:     {Width: 9, Height: 9, Name: "model"},
		`Encoder.Layout.Name = "a\nb": holds what the name of a layout`: {Width: 9, Height: 9, Name: "a\nb"},
	} {
		_, err := Encoder{Layout: l}.Append(nil, dr)
		require.ErrorContains(t, err, want)
	}
}

// TestPlacedFilesAreSound: the audit and the second reader have nothing to say
// of turned views, covers, long texts and layouts.
func TestPlacedFilesAreSound(t *testing.T) {
	interpreter := python(t)
	dir := t.TempDir()
	long := &d.Drawing{Items: []d.Item{{Role: d.RoleText, Shape: d.Text{Value: strings.Repeat("Шлюз ", 20)}}}}
	var files []string
	for name, f := range map[string]struct {
		e  Encoder
		dr *d.Drawing
	}{
		"flange": {Encoder{}, flange()}, "plain": {Encoder{Version: R12}, flange()}, "long": {Encoder{}, long},
		"layout": {Encoder{Layout: &Layout{Width: 420, Height: 297, Items: []d.Item{{Role: d.RoleFrame, Shape: d.Line{To: d.Pt(9, 9)}}}}}, sample()},
	} {
		b, err := f.e.Append(nil, f.dr)
		require.NoError(t, err)
		files = append(files, filepath.Join(dir, name+".dxf"))
		require.NoError(t, os.WriteFile(files[len(files)-1], b, 0o644))
	}
	out, err := exec.Command(interpreter, append([]string{"../scripts/audit.py"}, files...)...).CombinedOutput()
	require.NoError(t, err, string(out))
	needGDAL(t)
	out, err = exec.Command(interpreter, append([]string{"../scripts/second-reader.py"}, files...)...).CombinedOutput()
	require.NoError(t, err, string(out))
}
