package sheet

import (
	"bytes"
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boltplate/drawing"
	"boltplate/dxfout"
	"boltplate/fastener"
	"boltplate/thread"
)

var update = flag.Bool("update", false, "write the golden files anew")

// goldenPlate has everything that a sheet can have.
func goldenPlate() Plate {
	m20, m16 := thread.MustParse("M20"), thread.MustParse("M16")
	hex := fastener.HexBolt{Thread: m20, Length: 90}
	neck := fastener.SquareBolt{Thread: m16, Length: 70, SquareNeck: true}
	nut := fastener.HexNut{Thread: m16}
	of := func(quantity int, f fastener.Fastener, remark string) []Component {
		return []Component{{Quantity: quantity, Designation: f.Designation(), Remark: remark}}
	}
	return Plate{
		Scale: 0.5,
		Title: testTitle(),
		Notes: []string{"Sizes by proportion.", "Threads to the convention of ISO 6410-1."},
		Figures: []Figure{
			{Caption: hex.Designation(), Source: fastener.Figure{Fastener: hex, Options: fastener.DrawOptions{Views: []drawing.Direction{drawing.Front, drawing.SideView, drawing.HeadEnd}}}, Components: of(4, hex, "Hinge strap")},
			{Caption: neck.Designation(), Source: fastener.Figure{Fastener: neck}, Components: of(8, neck, "Mitre rail")},
			{Caption: nut.Designation(), Scale: 1, Source: fastener.Figure{Fastener: nut}, Components: of(12, nut, "")},
			{Caption: "Rules", Source: Table{Headings: []string{"", "Size", "Rule"}, Rows: [][]string{{"A", "width across corners", "2D"}, {"T", "thickness of the head", "0.8D"}}}},
			{Source: Paragraph{Lines: []string{"Draw figures 1 and 2 full size."}, Width: 60}},
		},
	}
}

// TestGolden compares a sheet with a file that was looked at.
func TestGolden(t *testing.T) {
	pages, err := goldenPlate().Compose(context.Background())
	require.NoError(t, err)
	require.Len(t, pages, 1)
	var got bytes.Buffer
	require.NoError(t, dxfout.Encode(&got, pages[0]))
	file := filepath.Join("testdata", "golden", "sheet.dxf")
	if *update {
		require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o755))
		require.NoError(t, os.WriteFile(file, got.Bytes(), 0o644))
		return
	}
	want, err := os.ReadFile(file)
	require.NoError(t, err, "write it with -update")
	if !bytes.Equal(want, got.Bytes()) {
		w, g := strings.Split(string(want), "\n"), strings.Split(got.String(), "\n")
		for i := range min(len(w), len(g)) {
			require.Equal(t, w[i], g[i], "%s, line %d", file, i+1)
		}
		t.Errorf("%s: %d lines, want %d", file, len(g), len(w))
	}
}

// TestDimensionsSayTrueSizes: a view at another scale is smaller, its
// dimensions, text and pens are not.
func TestDimensionsSayTrueSizes(t *testing.T) {
	bolt := fastener.HexBolt{Thread: thread.MustParse("M20"), Length: 90}
	for _, k := range []float64{1, 0.5, 0.2} {
		p := Plate{Scale: k, Format: Format{Size: A2}, Figures: []Figure{{Caption: "Bolt", Source: fastener.Figure{Fastener: bolt}}}}
		pages, err := p.Compose(context.Background())
		require.NoError(t, err)
		d := pages[0]
		assert.Equal(t, 1.0, d.Style.PaperScale())
		found := false
		for _, v := range d.Views {
			st := d.Style
			st.Scale = v.Scale
			for _, it := range v.View.Items {
				l, ok := it.Shape.(drawing.Linear)
				if !ok || l.Label.Quantity.Letter != "L" {
					continue
				}
				found = true
				x, _ := drawing.Expand(l, st)
				text, _ := x.Text()
				assert.Equal(t, "90", text.Value)
				assert.Equal(t, 3.5, text.Height)
				assert.InDelta(t, 90*k, v.Transform().Point(l.To).X-v.Transform().Point(l.From).X, 1e-9)
				arrow := x.Arrows()[0]
				assert.InDelta(t, 3.5, arrow[0].Sub(arrow[1].Mid(arrow[2])).Len()*k, 1e-9, "arrows have their length on paper")
			}
		}
		assert.True(t, found)
	}
}

// The sizes of ISO 5457: trimmed sheet, drawing space and fields of the grid,
// as in the summaries that were read (the space follows from the margins).
func TestFormats(t *testing.T) {
	for _, c := range []struct {
		size                    Size
		width, height           float64
		spaceWidth, spaceHeight float64
		long, short             int
	}{
		{A4, 210, 297, 180, 277, 6, 4},
		{A3, 420, 297, 390, 277, 8, 6},
		{A2, 594, 420, 564, 400, 12, 8},
		{A1, 841, 594, 811, 574, 16, 12},
		{A0, 1189, 841, 1159, 821, 24, 16},
	} {
		f := Format{Size: c.size}
		assert.Equal(t, drawing.Pt(c.width, c.height), f.Trimmed().Max, "%s", f)
		assert.Equal(t, c.spaceWidth, f.Space().Dx(), "%s", f)
		assert.Equal(t, c.spaceHeight, f.Space().Dy(), "%s", f)
		assert.Equal(t, c.long, fields(max(c.width, c.height)), "%s", f)
		assert.Equal(t, c.short, fields(min(c.width, c.height)), "%s", f)
		parsed, err := ParseSize(strings.ToLower(c.size.String()))
		require.NoError(t, err)
		assert.Equal(t, c.size, parsed)
	}
	assert.Equal(t, "A3", Format{Size: A3, Orientation: Landscape}.String())
	assert.Equal(t, "A3 portrait", Format{Size: A3, Orientation: Portrait}.String())
	assert.Equal(t, "A4 landscape", Format{Size: A4, Orientation: Landscape}.String())
	_, err := ParseSize("A5")
	assert.ErrorContains(t, err, "A4, A3, A2, A1 or A0")
}

func TestScaleNames(t *testing.T) {
	for k, name := range map[float64]string{1: "1:1", 0.5: "1:2", 0.2: "1:5", 2: "2:1", 50: "50:1", 0.01: "1:100"} {
		assert.Equal(t, name, ScaleName(k))
		got, ok := ParseScale(name)
		assert.True(t, ok)
		assert.InDelta(t, k, got, 1e-12)
	}
	for _, bad := range []string{"", "0", "1:0", "-1", "one", "1:2:3", "NaN", "inf", "1:99999"} {
		_, ok := ParseScale(bad)
		assert.False(t, ok, bad)
	}
}

// The scale is the largest standard one at which the figures fit.
func TestLargestScale(t *testing.T) {
	p := Plate{Figures: []Figure{{Caption: "Nut", Source: fastener.Figure{Fastener: fastener.HexNut{Thread: thread.MustParse("M20")}}}}}
	l, err := newComposer(context.Background(), &p).layout()
	require.NoError(t, err)
	require.True(t, l.fits())
	larger := 0.0
	for _, k := range Scales() {
		if k > l.scale {
			larger = k
		}
	}
	p.Scale = larger
	_, err = p.Compose(context.Background())
	var fe *FitError
	require.ErrorAs(t, err, &fe)
	assert.True(t, fe.Alone)
	assert.Contains(t, fe.Advice, "scale "+ScaleName(l.scale))
}

// A long table goes on on further pages, all of it, and begins a page where it
// is told to.
func TestLongTable(t *testing.T) {
	nut := Figure{Caption: "Nut", Source: fastener.Figure{Fastener: fastener.HexNut{Thread: thread.MustParse("M20")}}}
	p := Plate{Pages: AsNeeded, Scale: 1}
	for range 12 {
		p.Figures = append(p.Figures, nut)
	}
	table := Table{Headings: []string{"Mark", "Designation"}}
	for i := range 320 {
		table.Rows = append(table.Rows, []string{fmt.Sprintf("N%d", i), "Hexagon nut M20"})
	}
	p.Figures = append(p.Figures, Figure{Caption: "Schedule", Source: table, NewPage: true})
	sheets, err := p.Sheets(context.Background())
	require.NoError(t, err)
	var texts []string
	for i, s := range sheets {
		for _, f := range s.Figures {
			assert.Equal(t, f.Index == 12, s.Figures[0].Index == 12, "sheet %d: the schedule begins a page", i+1)
		}
		for _, v := range s.Drawing.Views {
			for _, it := range v.View.Items {
				if text, ok := it.Shape.(drawing.Text); ok && strings.HasPrefix(text.Value, "N") {
					texts = append(texts, text.Value)
				}
			}
		}
	}
	require.Len(t, texts, 320)
	for i := range texts {
		assert.Equal(t, fmt.Sprintf("N%d", i), texts[i], "in order")
	}
}

func TestErrors(t *testing.T) {
	p := Plate{Title: Title{Title: strings.Repeat("sluice gate ", 9)}}
	_, err := p.Compose(context.Background())
	var te *TitleError
	require.ErrorAs(t, err, &te)
	assert.Equal(t, "Title", te.Field)

	p = Plate{Figures: []Figure{{Caption: "Nothing", Source: fastener.Figure{Fastener: fastener.HexNut{}}}}}
	_, err = p.Compose(context.Background())
	var fe *FigureError
	require.ErrorAs(t, err, &fe)
	assert.Equal(t, "Fig. 1", fe.Name)

	p = Plate{Format: Format{Size: A4}}
	for range 60 {
		p.Notes = append(p.Notes, "Threads to the convention of ISO 6410-1.")
	}
	_, err = p.Compose(context.Background())
	assert.ErrorContains(t, err, "use a larger sheet or fewer of them")
	var pe *PlateError
	require.ErrorAs(t, err, &pe)
	assert.Equal(t, "Notes", pe.Field)

	// Where the notes leave no room on the first page the next one has it.
	p = goldenPlate()
	p.Format, p.Pages = Format{Size: A4}, AsNeeded
	for range 17 {
		p.Notes = append(p.Notes, "Threads to the convention of ISO 6410-1.")
	}
	pages, err := p.Compose(context.Background())
	require.NoError(t, err)
	assert.Empty(t, pages[0].Views)
	assert.NotEmpty(t, pages[1].Views)

	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err = goldenPlate().Compose(ctx)
	assert.ErrorIs(t, err, context.Canceled)
}

// An empty sheet is a frame and a title block.
func TestEmptySheet(t *testing.T) {
	pages, err := Plate{}.Compose(context.Background())
	require.NoError(t, err)
	require.Len(t, pages, 1)
	assert.Empty(t, pages[0].Views)
	assert.NotEmpty(t, pages[0].Items)
}
