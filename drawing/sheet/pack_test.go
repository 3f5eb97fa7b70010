package sheet

import (
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"

	"boltplate/drawing"
)

// TestPack: whatever the extents of figures, their places keep clear of each
// other, of the frame and of the corner, and are in reading order.
func TestPack(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	placed := 0
	for range 20000 {
		width := 180 + 800*r.Float64()
		m := room{width, 180 + 500*r.Float64(), TitleWidth, titleHeight + 80*r.Float64()}
		rooms := func(page int) room {
			if page > 0 {
				m.takenHeight = titleHeight
			}
			return m
		}
		var figures []extent
		for range 1 + r.IntN(9) {
			e := extent{width: 15 + 140*r.Float64(), up: 60 * r.Float64(), down: 90 * r.Float64(), newPage: r.IntN(12) == 0}
			if r.IntN(4) > 0 {
				e.caption = 10 + 12*r.Float64()
			}
			figures = append(figures, e)
		}
		first := m
		places, pages := pack(figures, rooms, 1+r.IntN(4))
		placed += len(places)
		boxes := make([][]drawing.Rect, pages)
		for i, p := range places {
			e := figures[i]
			if i > 0 && p.page == places[i-1].page {
				require.False(t, e.newPage)
				last := places[i-1]
				require.True(t, p.at.Y < last.at.Y || p.at.Y == last.at.Y && p.at.X > last.at.X, "in reading order")
			}
			boxes[p.page] = append(boxes[p.page], drawing.Rect{
				Min: drawing.Pt(p.at.X-e.width/2, p.caption-e.caption),
				Max: drawing.Pt(p.at.X+e.width/2, p.at.Y+e.up),
			})
			require.LessOrEqual(t, p.caption, p.at.Y-e.down+1e-9, "the caption is below its figure")
		}
		for page, all := range boxes {
			high := first.takenHeight
			if page > 0 {
				high = titleHeight
			}
			corner := drawing.Rect{Min: drawing.Pt(m.width-m.takenWidth, 0), Max: drawing.Pt(m.width, high)}
			for i, b := range all {
				near := b.Grown(gap - 1e-6)
				require.False(t, near.Overlaps(corner), "%v reaches into the corner %v", b, corner)
				require.True(t, near.Min.X >= 0 && near.Min.Y >= 0 && near.Max.X <= m.width && near.Max.Y <= m.height, "%v is outside", b)
				for _, o := range all[i+1:] {
					require.False(t, near.Overlaps(o), "%v and %v", b, o)
				}
			}
		}
	}
	require.Greater(t, placed, 20000)
}
