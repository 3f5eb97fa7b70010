package yofudxf_test

import (
	"bytes"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/yofu/dxf"
	yofu "github.com/yofu/dxf/drawing"
	"github.com/yofu/dxf/entity"
	"pgregory.net/rapid"

	d "boltplate/drawing"
	"boltplate/dxfout"
	"boltplate/dxfout/yofudxf"
	"boltplate/fastener"
	"boltplate/internal/wild"
	"boltplate/thread"
)

// sample has every shape that is not a dimension, in a view at half size.
func sample() *d.Drawing {
	slot := []d.Vertex{{Point: d.Pt(0, 0)}, {Point: d.Pt(20, 0), Bulge: 1}, {Point: d.Pt(20, 8)}, {Point: d.Pt(0, 8), Bulge: 1}}
	return &d.Drawing{
		Views: []d.Placed{{At: d.Pt(100, 50), Scale: 0.5, View: d.View{Name: "front", Items: []d.Item{
			{Role: d.RoleOutline, Shape: d.Line{From: d.Pt(0, 0), To: d.Pt(10, 4)}},
			{Role: d.RoleThin, Shape: d.Arc{Center: d.Pt(2, 3), Radius: 5, Start: 95, End: 5}},
			{Role: d.RoleHidden, Shape: d.Circle{Center: d.Pt(2, 3), Radius: 6}},
			{Role: d.RoleOutline, Shape: d.Polyline{Vertices: slot, Closed: true}},
			{Role: d.RoleOutline, Shape: d.Ellipse{Major: d.Pt(12, 0), Ratio: 0.5}},
			{Role: d.RoleOutline, Shape: d.Conic{From: d.Pt(0, 0), Control: d.Pt(5, 6), To: d.Pt(10, 0), Weight: 1.4}},
			{Role: d.RoleHatching, Shape: d.Hatch{Loops: [][]d.Vertex{slot}, Angle: 45, Spacing: 1}},
			{Role: d.RoleText, Shape: d.Text{At: d.Pt(3, 4), Value: "A-A", Align: d.AlignCentre}},
			{Role: d.RoleDimension, Shape: d.Linear{Label: d.Label{Text: "20"}, To: d.Pt(20, 0), Placed: true, At: -10, TextAt: 10}},
		}}}},
		Items: []d.Item{{Role: d.RoleText, Shape: d.Text{At: d.Pt(1, 2), Value: "Ø16 ±0.1 × 5 kΩ", Height: 5}}},
		Parts: []d.Part{{Name: "P", Attributes: []d.Attribute{
			{Tag: "MARK", Text: d.Text{At: d.Pt(7, 8), Value: "B1"}}, {Tag: "KIND", Hidden: true, Text: d.Text{Value: "secret"}}}}},
	}
}

func written(t *testing.T, dr *yofu.Drawing) string {
	t.Helper()
	var b bytes.Buffer
	_, err := yofudxf.WriteTo(&b, dr)
	require.NoError(t, err)
	return b.String()
}

func TestAdd(t *testing.T) {
	to := dxf.NewDrawing()
	current, style := to.CurrentLayer, to.CurrentStyle
	require.NoError(t, yofudxf.Add(to, sample(), dxfout.LayerMap{d.RoleHidden: {Name: "OST-HIDE", Colour: 2, Width: 0.35}}))
	require.Same(t, current, to.CurrentLayer)
	require.Same(t, style, to.CurrentStyle)

	count := map[string]int{}
	for _, e := range to.Entities() {
		count[fmt.Sprintf("%T %s", e, e.Layer().Name())]++
	}
	lines := count["*entity.Line HATCHING"]
	delete(count, "*entity.Line HATCHING")
	require.Equal(t, map[string]int{
		"*entity.Line OUTLINE": 1, "*entity.Arc THIN": 1, "*entity.Circle OST-HIDE": 1, "*entity.LwPolyline OUTLINE": 3,
		"*yofudxf.Text TEXT": 1, "*entity.Text TEXT": 2,
		"*entity.Line DIMENSION": 3, "*entity.LwPolyline DIMENSION": 2, "*yofudxf.Text DIMENSION": 1,
	}, count)
	// The area of the slot in lines a millimetre of paper apart.
	require.InDelta(t, 160*0.25/1/6, lines, 12)

	// A line of the view is where its transform puts it.
	l := to.Entities()[0].(*entity.Line)
	require.Equal(t, []float64{100, 50, 0}, l.Start)
	require.Equal(t, []float64{105, 52, 0}, l.End)
	a := to.Entities()[1].(*entity.Arc)
	require.Equal(t, []float64{101, 51.5, 0, 2.5, 95, 5}, append(append(a.Center[:3:3], a.Radius), a.Angle...))

	hide, err := to.Layer("OST-HIDE", false)
	require.NoError(t, err)
	require.EqualValues(t, 2, hide.Color)
	require.Equal(t, "HIDDEN_0.25", hide.LineType.Name())
	require.InDelta(t, 3.75, hide.LineType.TotalLength(), 1e-12, "a dash of 12 and a gap of 3 widths of 0.25")

	file := written(t, to)
	require.Contains(t, file, "\n1\n%%c16 %%p0.1 \\U+00D7 5 k\\U+03A9\n")
	require.NotContains(t, file, "secret")
	// The centred text has its second point after its alignment.
	require.Regexp(t, regexp.MustCompile(`\n1\nA-A\n7\nBOLTPLATE\n72\n1\n11\n101\.50*\n21\n52\.0*\n31\n0\.0*\n100\nAcDbText\n`), file)
	require.Regexp(t, regexp.MustCompile(`\n8\nDIMENSION\n62\n7\n100\nAcDbText\n`), file, "labels have the colour of text")
	require.NotContains(t, file, "-0.0000000000000000")
}

// TestAddTwice: a second view uses the layers that are there, and layers of the
// program's own keep their look.
func TestAddTwice(t *testing.T) {
	to := dxf.NewDrawing()
	_, err := to.AddLayer("OUTLINE", 1, dxf.DefaultLineType, true)
	require.NoError(t, err)
	require.NoError(t, yofudxf.Add(to, sample(), dxfout.LayerMap{}))
	once := len(to.Layers)
	n := len(to.Entities())
	require.NoError(t, yofudxf.Add(to, sample(), dxfout.LayerMap{}))
	require.Len(t, to.Layers, once)
	require.Len(t, to.Entities(), 2*n)
	l, err := to.Layer("OUTLINE", false)
	require.NoError(t, err)
	require.EqualValues(t, 1, l.Color)
	for _, table := range []string{"HIDDEN_0.25", "BOLTPLATE"} {
		require.Equal(t, 1, strings.Count(written(t, to), "TableRecord\n2\n"+table+"\n"), table)
	}
}

// TestAddErrors: what cannot be written is refused before anything is added.
func TestAddErrors(t *testing.T) {
	require.ErrorContains(t, yofudxf.Add(nil, sample(), dxfout.LayerMap{}), "make one with dxf.NewDrawing")
	to := dxf.NewDrawing()
	refused := func(dr *d.Drawing, m dxfout.LayerMap, want string) {
		t.Helper()
		err := yofudxf.Add(to, dr, m)
		var ve *dxfout.ValueError
		require.ErrorAs(t, err, &ve)
		require.ErrorContains(t, err, want)
		require.Empty(t, to.Entities())
		require.Len(t, to.Layers, 1)
	}
	bad := sample()
	bad.Views[0].View.Items = append(bad.Views[0].View.Items, d.Item{Shape: d.Circle{Radius: math.NaN()}})
	refused(bad, dxfout.LayerMap{}, "Circle.Radius = NaN")
	refused(sample(), dxfout.LayerMap{d.RoleThin: {Colour: 300}}, "Layers[thin].Colour = 300")
	dense := &d.Drawing{Items: []d.Item{{Shape: d.Hatch{Spacing: 0.01, Loops: [][]d.Vertex{{{}, {Point: d.Pt(1000, 0)}, {Point: d.Pt(0, 1000)}}}}}}}
	refused(dense, dxfout.LayerMap{}, "Hatch.Spacing = 0.01: makes more than the 20000 lines")
}

// TestLongText: one string holds 2049 bytes; what is longer is refused.
func TestLongText(t *testing.T) {
	for _, s := range []string{strings.Repeat("測定", 60), strings.Repeat("a", 2049)} {
		to := dxf.NewDrawing()
		require.NoError(t, yofudxf.Add(to, &d.Drawing{Items: []d.Item{{Shape: d.Text{Value: s}}}}, dxfout.LayerMap{}))
		require.Contains(t, written(t, to), "\n1\n"+dxfout.EscapeText(s)+"\n")
		text := d.Text{Value: s + s + s}
		err := yofudxf.Add(to, &d.Drawing{Items: []d.Item{{Shape: text}}}, dxfout.LayerMap{})
		require.ErrorContains(t, err, `item 0, Text.Value = "`+s[:3])
		require.ErrorContains(t, err, "is longer than the 2049 bytes that a text may have in AC1015")
		err = yofudxf.Add(to, &d.Drawing{Parts: []d.Part{{Name: "P", Attributes: []d.Attribute{{Tag: "NOTE", Text: text}}}}}, dxfout.LayerMap{})
		require.ErrorContains(t, err, `Part 0.Attributes.Text.Value = "`+s[:3])
	}
}

// TestInjection: text from outside is one value whatever it holds.
func TestInjection(t *testing.T) {
	lines := func(s string) int {
		to := dxf.NewDrawing()
		require.NoError(t, yofudxf.Add(to, &d.Drawing{Items: []d.Item{{Role: d.RoleText, Shape: d.Text{Value: s}},
			{Shape: d.Leader{Label: d.Label{Text: s}, Shelf: d.Shelf{Placed: true, Knee: d.Pt(9, 9)}}}}}, dxfout.LayerMap{}))
		return strings.Count(written(t, to), "\n")
	}
	for _, evil := range []string{"x\r\n  0\r\nEOF", "x\n0\nLINE", "x\u0085\u2028y", "\x00\x1ax"} {
		require.Equal(t, lines("harmless"), lines(evil), "%q", evil)
	}
}

// TestTwoDrawings: drawings that are filled by turns do not take each other's
// shared records; written with the library alone, the first one does.
func TestTwoDrawings(t *testing.T) {
	fill := func(to *yofu.Drawing) {
		require.NoError(t, yofudxf.Add(to, sample(), dxfout.LayerMap{}))
	}
	alone := dxf.NewDrawing()
	fill(alone)
	want := layerZero(written(t, alone))
	first, second := dxf.NewDrawing(), dxf.NewDrawing()
	second.Line(0, 0, 0, 1, 1, 0)
	fill(second)
	fill(second)
	fill(first)
	written(t, second)
	require.Equal(t, want, layerZero(written(t, first)))
	require.Equal(t, want, layerZero(written(t, first)), "and once more")
	var b bytes.Buffer
	written(t, second)
	_, err := first.WriteTo(&b)
	require.NoError(t, err)
	require.NotEqual(t, want, layerZero(b.String()), "the library's own WriteTo: if it has been mended, so can ours")
}

// layerZero returns the record of layer 0 in a file.
func layerZero(file string) string {
	_, after, _ := strings.Cut(file, "\n0\nLAYER\n")
	record, plotStyle, _ := strings.Cut(after, "\n390\n")
	plotStyle, _, _ = strings.Cut(plotStyle, "\n")
	return record + " " + plotStyle
}

// TestPlainReadsBack has the library's reader read files that package dxfout
// writes in AC1009.
func TestPlainReadsBack(t *testing.T) {
	bolt, err := fastener.Draw(fastener.HexBolt{Thread: thread.MustParse("M16"), Length: 80}, fastener.DrawOptions{Views: []d.Direction{d.Front, d.HeadEnd, d.Isometric}})
	require.NoError(t, err)
	s := sample()
	s.Items = nil // its Ω is not in Windows-1252
	for name, dr := range map[string]*d.Drawing{"sample": s, "bolt": bolt} {
		t.Run(name, func(t *testing.T) {
			file, err := dxfout.Encoder{Version: dxfout.R12}.Append(nil, dr)
			require.NoError(t, err)
			path := filepath.Join(t.TempDir(), "plain.dxf")
			require.NoError(t, os.WriteFile(path, file, 0o644))
			_, err = dxf.Open(path)
			require.ErrorContains(t, err, "unknown entity type: POLYLINE", "if it can read them, this test can say more")

			// The reader knows VERTEX, though, and all else.
			require.NoError(t, os.WriteFile(path, []byte(polylineHeads.ReplaceAllString(string(file), "")), 0o644))
			got, err := dxf.Open(path)
			require.NoError(t, err)
			require.Equal(t, "AC1009", got.Header().Version)
			require.Len(t, got.Layers, 11)
			// The same drawing through Add, polylines as their vertices.
			other := dxf.NewDrawing()
			require.NoError(t, yofudxf.Add(other, dr, dxfout.LayerMap{}))
			want := values(other)
			require.NotEmpty(t, want)
			require.Equal(t, want, values(got))
		})
	}
}

// polylineHeads finds POLYLINE and SEQEND with their groups.
var polylineHeads = regexp.MustCompile(`  0\r\n(POLYLINE|SEQEND)\r\n(  [1-9]\r\n.*\r\n| [1-9][0-9]\r\n.*\r\n)*`)

// values lists the entities of a drawing in words.
func values(of *yofu.Drawing) (list []string) {
	add := func(e entity.Entity, kind string, numbers ...float64) {
		s := kind + " " + e.Layer().Name()
		for _, v := range numbers {
			s += fmt.Sprintf(" %.6f", v+0)
		}
		list = append(list, s)
	}
	for _, e := range of.Entities() {
		switch e := e.(type) {
		case *entity.Line:
			add(e, "line", e.Start[0], e.Start[1], e.End[0], e.End[1])
		case *entity.Circle:
			add(e, "circle", e.Center[0], e.Center[1], e.Radius)
		case *entity.Arc:
			add(e, "arc", e.Center[0], e.Center[1], e.Radius, e.Angle[0], e.Angle[1])
		case *entity.Vertex:
			add(e, "vertex", e.Coord[0], e.Coord[1], e.Buldge)
		case *entity.LwPolyline:
			for i, v := range e.Vertices {
				add(e, "vertex", v[0], v[1], e.Bulges[i])
			}
		case *yofudxf.Text:
			list = append(list, text(e.Text))
		case *entity.Text:
			list = append(list, text(e))
		default:
			list = append(list, fmt.Sprintf("%T", e))
		}
	}
	return list
}

func text(t *entity.Text) string {
	second := t.Coord2
	if t.HorizontalFlag == 0 {
		second = []float64{0, 0}
	}
	value := strings.ReplaceAll(t.Value, `\U+00D7`, "x")
	return fmt.Sprintf("text %s %q %.6f %.6f %.6f %.6f %.6f %d", t.Layer().Name(), value, t.Coord1[:2], second[:2], t.Height, t.Rotation, 0.0, t.HorizontalFlag)
}

// TestOtherReaders: ezdxf reads what the library writes of ours and repairs no
// more than it repairs in an empty drawing of the library.
func TestOtherReaders(t *testing.T) {
	python := ""
	for _, name := range []string{"/usr/bin/python3", "python3"} {
		if python == "" && exec.Command(name, "-c", "import ezdxf").Run() == nil {
			python = name
		}
	}
	if python == "" {
		if os.Getenv("BOLTPLATE_REQUIRE_AUDIT") != "" {
			t.Fatal("NOT AUDITED and BOLTPLATE_REQUIRE_AUDIT is set: no python3 with ezdxf")
		}
		t.Skip("NOT AUDITED: no python3 with ezdxf")
	}
	to := dxf.NewDrawing()
	require.NoError(t, yofudxf.Add(to, sample(), dxfout.LayerMap{}))
	b := sample().Bounds()
	to.Header().ExtMin, to.Header().ExtMax = []float64{b.Min.X, b.Min.Y, 0}, []float64{b.Max.X, b.Max.Y, 0}
	path := filepath.Join(t.TempDir(), "added.dxf")
	require.NoError(t, os.WriteFile(path, []byte(written(t, to)), 0o644))
	out, _ := exec.Command(python, "../../scripts/audit.py", path).CombinedOutput()
	for line := range strings.Lines(string(out)) {
		known := strings.Contains(line, "invalid owner handle in DICTIONARY") || strings.Contains(line, "orphaned layout BLOCK_RECORD")
		require.True(t, known, line)
	}
}

// TestAnyValue: whatever a drawing and a map of layers hold, it is added, or
// there is an error and nothing is.
func TestAnyValue(t *testing.T) {
	kinds := []any{
		d.Line{}, d.Arc{}, d.Circle{}, d.Ellipse{}, d.Conic{}, d.Polyline{}, d.Text{}, d.Hatch{}, d.Cover{},
		d.Linear{}, d.Aligned{}, d.Diameter{}, d.Radius{}, d.Angular{}, d.Leader{},
	}
	added := 0
	rapid.Check(t, func(t *rapid.T) {
		m := wild.Maker{T: t, Kinds: kinds, Make: map[reflect.Type]func(*wild.Maker, reflect.Value) bool{
			reflect.TypeFor[dxfout.Layer](): (*wild.Maker).Zero,
		}}
		var in struct {
			Drawing *d.Drawing
			Layers  dxfout.LayerMap
		}
		m.Fill(&in)
		if in.Drawing != nil {
			in.Drawing.Items = d.Arrange(d.View{Items: in.Drawing.Items}, in.Drawing.Style).Items
			for i := range in.Drawing.Views {
				in.Drawing.Views[i].View = d.Arrange(in.Drawing.Views[i].View, in.Drawing.Style)
			}
		}
		to := dxf.NewDrawing()
		if err := yofudxf.Add(to, in.Drawing, in.Layers); err != nil {
			require.Empty(t, to.Entities())
			require.Len(t, to.Layers, 1)
			return
		}
		added++
		var b bytes.Buffer
		_, err := yofudxf.WriteTo(&b, to)
		require.NoError(t, err)
		for _, line := range strings.Split(b.String(), "\n") {
			require.NotContains(t, []string{"NaN", "+Inf", "-Inf"}, line)
		}
	})
	if !testing.Short() { // of a few random drawings all may be refused
		require.NotZero(t, added)
	}
}
