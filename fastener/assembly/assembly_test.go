package assembly

import (
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boltplate/drawing"
	"boltplate/dxfout"
	"boltplate/fastener"
	"boltplate/thread"
)

func bolt(mark string) Part {
	return Part{Mark: mark, Fastener: fastener.HexBolt{Thread: thread.MustParse("M16"), Length: 80}}
}

// AC1009 takes names of A-Z, 0-9, _, - and $, at most 31 characters (Autodesk's
// DXF reference of that release).
func TestBlockName(t *testing.T) {
	legal := regexp.MustCompile(`^[A-Z0-9_$-]{1,31}$`)
	require.Equal(t, "HS-01_FRONT_1-2", BlockName("HS-01", drawing.Front, drawing.Style{Scale: 0.5}))
	require.Equal(t, "HS-01_HEAD_1-1", BlockName("hs-01", drawing.HeadEnd, drawing.Style{}))
	require.Equal(t, "HS-01_ISOMETRIC_2_5-1", BlockName("HS-01", drawing.Isometric, drawing.Style{Scale: 2.5}))
	rapid.Check(t, func(t *rapid.T) {
		mark := rapid.OneOf(rapid.StringN(1, 60, 200), rapid.StringMatching(`[A-Za-z0-9 ./_-]{1,40}`)).Draw(t, "mark")
		st := drawing.Style{Scale: rapid.SampledFrom([]float64{0, 1, 0.5, 0.01, 0.001, 1000, 2.5, 1. / 3}).Draw(t, "scale")}
		view := drawing.Direction(rapid.IntRange(0, 4).Draw(t, "view"))
		name := BlockName(mark, view, st)
		if !legal.MatchString(name) {
			t.Fatalf("%q: %q", mark, name)
		}
		if other := mark + "x"; BlockName(other, view, st) == name {
			t.Fatalf("%q and %q: %q", mark, other, name)
		}
	})
}

// A view that stands eight times on a pitch circle is one block and eight
// inserts, each at the angle at which it stands.
func TestCircle(t *testing.T) {
	l := Layout{Parts: []Part{bolt("B1")}, Circles: []PitchCircle{{Diameter: 200}},
		Places: Place{Mark: "B1", View: drawing.HeadEnd, Lead: true, Cover: true}.Circle(200, 8, 22.5)}
	d, err := l.Draw()
	require.NoError(t, err)
	b, err := dxfout.Encoder{}.Append(nil, d)
	require.NoError(t, err)
	text := strings.ReplaceAll(string(b), "\r\n", "\n")
	require.Equal(t, 8, strings.Count(text, "\nAcDbBlockReference\n"))
	require.Equal(t, 1, strings.Count(text, "\nAcDbBlockBegin\n  2\nB1_HEAD_1-1-R-C\n"))
	for i := range 8 {
		require.Equal(t, 22.5+45*float64(i), d.Views[i].Turn)
		require.InDelta(t, 100, d.Views[i].At.Len(), 1e-9)
		require.InDelta(t, d.Views[i].Turn, mod(d.Views[i].At.Angle()), 1e-9)
	}
	require.Equal(t, 8, strings.Count(text, "\nquantity=8\n"))
	again, err := l.Draw()
	require.NoError(t, err)
	require.Equal(t, d, again)
}

func mod(a float64) float64 {
	if a < 0 {
		a += 360
	}
	return a
}

func TestGrid(t *testing.T) {
	var at []drawing.Point
	for _, p := range (Place{At: drawing.Pt(1, 2), Turn: 90, Lead: true}).Grid(3, 10, 2, -5) {
		at = append(at, p.At)
		require.Equal(t, 90.0, p.Turn)
		require.Equal(t, len(at) == 1, p.Lead)
	}
	require.Equal(t, []drawing.Point{{X: 1, Y: 2}, {X: 11, Y: 2}, {X: 21, Y: 2}, {X: 1, Y: -3}, {X: 11, Y: -3}, {X: 21, Y: -3}}, at)
}

func TestMarks(t *testing.T) {
	draw := func(l Layout) string {
		_, err := l.Draw()
		var me *MarkError
		require.ErrorAs(t, err, &me)
		return err.Error()
	}
	require.Equal(t, "mark B1: is that of two parts; give every part a mark of its own", draw(Layout{Parts: []Part{bolt("B1"), bolt("B1")}}))
	require.Equal(t, "mark b1: its block B1_FRONT_1-1 would be that of mark B1; choose another mark", draw(Layout{Parts: []Part{bolt("B1"), bolt("b1")}}))
	require.Equal(t, "mark BOLTX: no part has it; did you mean BOLT1?", draw(Layout{Parts: []Part{bolt("BOLT1")}, Places: []Place{{Mark: "BOLTX"}}}))
	require.Contains(t, draw(Layout{Parts: []Part{bolt("")}}), "missing")
	_, err := Layout{Parts: []Part{bolt("B1")}, Places: []Place{{Mark: "B1", View: 77}}}.Draw()
	require.Error(t, err)
}

// A library has a block for each view of every kind, whose base point is the
// origin of the view.
func TestLibrary(t *testing.T) {
	d, err := Library([]Part{bolt("B1"), {Mark: "B2", Fastener: bolt("").Fastener, Views: []drawing.Direction{drawing.SideView, drawing.Isometric}}}, drawing.Style{Scale: 0.5})
	require.NoError(t, err)
	var names []string
	for _, v := range d.Views {
		names = append(names, v.Block)
		for _, it := range v.View.Items {
			_, dim := it.Shape.(drawing.Dimension)
			require.False(t, dim)
		}
		require.Equal(t, "MARK", v.Attributes[0].Tag)
	}
	require.Equal(t, []string{"B1_FRONT_1-2", "B1_HEAD_1-2", "B2_SIDE_1-2", "B2_ISOMETRIC_1-2"}, names)
	for i, v := range d.Views {
		for _, w := range d.Views[:i] {
			require.False(t, v.Bounds(d.Style).Overlaps(w.Bounds(d.Style)), "%s and %s", v.Block, w.Block)
		}
	}
	require.NoError(t, dxfout.Encoder{}.Check(d))
}
