package paint_test

import (
	"testing"

	d "boltplate/drawing"
	"boltplate/drawing/internal/paint"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// TestTurnedAndMirrored: what a placed view shows is what its view, moved as it
// is placed, shows by itself, dimensions included.
func TestTurnedAndMirrored(t *testing.T) {
	v := plate(2)
	for _, p := range []d.Placed{{Turn: 30}, {Mirror: true}, {Mirror: true, Turn: 135, Scale: 0.5, At: d.Pt(10, 20)}, {Turn: -90, Scale: 2}} {
		p.View = v
		st := d.Style{Scale: 0.5}
		got, err := paint.Paint(&d.Drawing{Style: st, Views: []d.Placed{p}}, false)
		require.NoError(t, err)
		want, err := paint.Paint(&d.Drawing{Style: st, Views: []d.Placed{{View: v.Apply(p.Transform())}}}, false)
		require.NoError(t, err)
		assert.Equal(t, want.Widths, got.Widths)
		for _, c := range [][2]d.Point{{want.Bounds.Min, got.Bounds.Min}, {want.Bounds.Max, got.Bounds.Max}} {
			assert.InDelta(t, 0, c[0].Sub(c[1]).Len(), 1e-9)
		}
		for r := range want.Sheets[0].Roles {
			a, b := want.Sheets[0].Roles[r], got.Sheets[0].Roles[r]
			require.Len(t, b.Strokes, len(a.Strokes))
			for i := range a.Strokes {
				require.Len(t, b.Strokes[i].Path, len(a.Strokes[i].Path))
				for k := range a.Strokes[i].Path {
					assert.InDelta(t, 0, a.Strokes[i].Path[k].End().Sub(b.Strokes[i].Path[k].End()).Len(), 1e-6)
				}
			}
			require.Len(t, b.Texts, len(a.Texts))
			for i := range a.Texts {
				assert.Equal(t, a.Texts[i].Value, b.Texts[i].Value)
				assert.InDelta(t, 0, a.Texts[i].At.Sub(b.Texts[i].At).Len(), 1e-6)
			}
		}
	}
}

// TestCovers: what comes before a cover is on a sheet below it, what comes after
// on one above.
func TestCovers(t *testing.T) {
	square := []d.Vertex{{Point: d.Pt(0, 0)}, {Point: d.Pt(4, 0)}, {Point: d.Pt(4, 4)}, {Point: d.Pt(0, 4)}}
	line := func(y float64) d.Item { return d.Item{Shape: d.Line{From: d.Pt(-5, y), To: d.Pt(9, y)}} }
	cover := d.Item{Shape: d.Cover{Loops: [][]d.Vertex{square}}}
	p, err := paint.Paint(&d.Drawing{
		Views: []d.Placed{{View: d.View{Items: []d.Item{line(1)}}}, {View: d.View{Items: []d.Item{cover, line(2)}}, At: d.Pt(1, 0)}},
		Items: []d.Item{line(3), {Shape: d.Cover{}}, line(4)},
	}, false)
	require.NoError(t, err)
	require.Len(t, p.Sheets, 2)
	assert.Len(t, p.Sheets[0].Roles[d.RoleOutline].Strokes, 1)
	require.Len(t, p.Sheets[0].Covers, 1)
	assert.Equal(t, d.Pt(1, 0), p.Sheets[0].Covers[0][0].P[0], "where its view stands")
	assert.Len(t, p.Sheets[1].Roles[d.RoleOutline].Strokes, 3)
	assert.Empty(t, p.Sheets[1].Covers)
}
