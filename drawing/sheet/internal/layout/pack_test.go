package layout

import (
	"context"
	"math/rand/v2"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boltplate/drawing"
)

// The rooms of the sheets, mm: drawing spaces of ISO 5457 with a title block of
// 180 × 55 and something above it.
func randomRoom(t *rapid.T) Room {
	m := rapid.SampledFrom([]Room{
		{180, 277, 180, 55}, {267, 190, 180, 55}, {390, 277, 180, 55}, {267, 400, 180, 55}, {564, 400, 180, 55}, {390, 574, 180, 55}, {811, 574, 180, 55}, {1159, 821, 180, 55},
	}).Draw(t, "room")
	m.TakenHeight += rapid.SampledFrom([]float64{0, 0, 20, 80}).Draw(t, "taken")
	return m
}

func randomFigures(t *rapid.T, most int) []Figure {
	var figures []Figure
	for range rapid.IntRange(1, most).Draw(t, "figures") {
		var f Figure
		for range rapid.SampledFrom([]int{1, 1, 1, 3}).Draw(t, "stances") {
			s := Stance{Width: rapid.Float64Range(10, 160).Draw(t, "width"), Up: rapid.Float64Range(-2, 60).Draw(t, "up")}
			s.Down = rapid.Float64Range(max(4, 1-s.Up), 90).Draw(t, "down")
			if rapid.IntRange(0, 3).Draw(t, "captioned") > 0 {
				s.Caption = 5.6 + 5.6*float64(rapid.IntRange(1, 3).Draw(t, "lines"))
			}
			f.Stances = append(f.Stances, s)
		}
		f.NewPage = rapid.IntRange(0, 12).Draw(t, "new page") == 0
		figures = append(figures, f)
	}
	return figures
}

const testGap = 9.0

// TestPack: whatever the extents of figures, their places keep clear of each
// other, of the frame and of the corner, stand in reading order, and use every
// page.
func TestPack(t *testing.T) {
	placed := 0
	rapid.Check(t, func(t *rapid.T) {
		first := randomRoom(t)
		later := first
		later.TakenHeight = 55
		rooms := func(page int) Room {
			if page > 0 {
				return later
			}
			return first
		}
		figures := randomFigures(t, 40)
		k := Packer{Gap: testGap, CaptionGap: 5.6, Rooms: rooms, Most: rapid.SampledFrom([]int{1, 2, 1000}).Draw(t, "pages")}
		places, pages, err := k.Pack(context.Background(), figures)
		require.NoError(t, err)
		require.LessOrEqual(t, pages, k.Most)
		placed += len(places)
		checkPlaces(t, figures, places, pages, rooms)
		if n := len(places); n < len(figures) && k.Most == 1000 {
			require.False(t, k.Fits(figures[n], 0) || k.Fits(figures[n], pages+1), "figure %d has room", n)
		}
	})
	require.Greater(t, placed, 100)
}

func checkPlaces(t require.TestingT, figures []Figure, places []Place, pages int, rooms func(int) Room) {
	boxes := make([][]drawing.Rect, pages)
	for i, p := range places {
		if i > 0 && p.Page == places[i-1].Page {
			require.False(t, figures[i].NewPage)
		}
		if i > 0 {
			require.GreaterOrEqual(t, p.Page, places[i-1].Page)
		}
		s := &figures[i].Stances[p.Stance]
		require.LessOrEqual(t, p.Caption, p.At.Y-s.Down+1e-6, "the caption is below its figure")
		boxes[p.Page] = append(boxes[p.Page], p.box(s))
	}
	for page, all := range boxes {
		m := rooms(page)
		if page > 0 {
			require.NotEmpty(t, all, "page %d is used", page)
		}
		corner := drawing.Rect{Min: drawing.Pt(m.Width-m.TakenWidth, 0), Max: drawing.Pt(m.Width, m.TakenHeight)}
		for i, b := range all {
			near := b.Grown(testGap - 1e-4)
			require.False(t, near.Overlaps(corner), "%v reaches into the corner %v", b, corner)
			require.True(t, near.Min.X >= 0 && near.Min.Y >= 0 && near.Max.X <= m.Width && near.Max.Y <= m.Height, "%v is outside", b)
			for _, o := range all[i+1:] {
				require.False(t, near.Overlaps(o), "%v and %v", b, o)
				require.True(t, o.Min.X >= b.Max.X || o.Max.Y <= b.Min.Y, "%v and %v are in reading order", b, o)
			}
		}
	}
}

func BenchmarkPack(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 2))
	for _, n := range []int{1, 4, 10, 40, 200, 1000} {
		var figures []Figure
		for range n {
			figures = append(figures, Figure{Stances: []Stance{{Width: 40 + 100*r.Float64(), Up: 10 + 20*r.Float64(), Down: 20 + 40*r.Float64(), Caption: 11.2}}})
		}
		b.Run("figures="+itoa(n), func(b *testing.B) {
			k := Packer{Gap: testGap, CaptionGap: 5.6, Rooms: func(int) Room { return Room{811, 574, 180, 55} }, Most: 1000}
			for b.Loop() {
				if places, _, err := k.Pack(context.Background(), figures); err != nil || len(places) < n {
					b.Fatal(len(places), err)
				}
			}
		})
	}
}

func itoa(n int) string {
	if n < 10 {
		return string(rune('0' + n))
	}
	return itoa(n/10) + itoa(n%10)
}
