package layout

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boltplate/drawing"
)

// The reference: figures thrown onto a page at random in reading order, the best
// of many throws improved by moving single figures as long as that helps. It
// knows neither rows nor columns, nor lines that figures share.
type thrower struct {
	m     Room
	sizes [][2]float64
	rand  *rand.Rand
}

// legal reports whether the figures keep off each other, the frame and the
// corner, and stand in reading order.
func (w *thrower) legal(boxes []drawing.Rect) bool {
	corner := drawing.Rect{Min: drawing.Pt(w.m.Width-w.m.TakenWidth, 0), Max: drawing.Pt(w.m.Width, w.m.TakenHeight)}
	for i, b := range boxes {
		near := b.Grown(testGap - 1e-9)
		if near.Min.X < 0 || near.Min.Y < 0 || near.Max.X > w.m.Width || near.Max.Y > w.m.Height || near.Overlaps(corner) {
			return false
		}
		for _, o := range boxes[:i] {
			if b.Min.X < o.Max.X+testGap-1e-9 && b.Max.Y > o.Min.Y-testGap+1e-9 {
				return false
			}
		}
	}
	return w.inLine(boxes)
}

// inLine reports whether figures side by side with none above or below them
// have their middles or their feet in line.
func (w *thrower) inLine(boxes []drawing.Rect) bool {
	alone := func(i int) bool {
		b := boxes[i]
		return !slices.ContainsFunc(boxes, func(o drawing.Rect) bool { // o stands below it or above it with more than its edge
			return o != b && min(b.Max.X, o.Max.X)-max(b.Min.X, o.Min.X) > b.Dx()/4
		})
	}
	for i, b := range boxes {
		for j, o := range boxes[:i] {
			overlap := min(b.Max.Y, o.Max.Y) - max(b.Min.Y, o.Min.Y)
			if overlap > min(b.Dy(), o.Dy())/2 && math.Abs(b.Mid().Y-o.Mid().Y) > 1 && math.Abs(b.Min.Y-o.Min.Y) > 1 && alone(i) && alone(j) {
				return false
			}
		}
	}
	return true
}

// aligned puts the middles or the feet of some figures in line.
func (w *thrower) aligned(boxes []drawing.Rect) {
	for i := 1; i < len(boxes); i++ {
		b, o := &boxes[i], boxes[i-1]
		switch w.rand.IntN(3) {
		case 0:
			*b = moved(*b, drawing.Pt(0, o.Mid().Y-b.Mid().Y))
		case 1:
			*b = moved(*b, drawing.Pt(0, o.Min.Y-b.Min.Y))
		}
	}
}

func moved(r drawing.Rect, d drawing.Point) drawing.Rect {
	return drawing.Rect{Min: r.Min.Add(d), Max: r.Max.Add(d)}
}

// thrown returns figures set by random cuts, each gap a random part of what is
// left.
func (w *thrower) thrown() []drawing.Rect {
	boxes := make([]drawing.Rect, len(w.sizes))
	var set func(from, to int, r drawing.Rect)
	set = func(from, to int, r drawing.Rect) {
		if to == from+1 {
			s := w.sizes[from]
			x, y := r.Min.X+w.rand.Float64()*max(0, r.Dx()-s[0]), r.Min.Y+w.rand.Float64()*max(0, r.Dy()-s[1])
			boxes[from] = drawing.Rect{Min: drawing.Pt(x, y), Max: drawing.Pt(x+s[0], y+s[1])}
			return
		}
		cut, at := from+1+w.rand.IntN(to-from-1), w.rand.Float64()
		first, second := r, r
		if w.rand.IntN(2) == 0 {
			x := r.Min.X + at*r.Dx()
			first.Max.X, second.Min.X = x, x
		} else {
			y := r.Min.Y + at*r.Dy()
			first.Min.Y, second.Max.Y = y, y
		}
		set(from, cut, first)
		set(cut, to, second)
	}
	set(0, len(w.sizes), drawing.Rect{Max: drawing.Pt(w.m.Width, w.m.Height)})
	return boxes
}

// improved moves single figures, and all below or right of a line, as long as
// the score rises.
func (w *thrower) improved(boxes []drawing.Rect) float64 {
	score := Measure(boxes, w.m).Score()
	for step := 40.0; step > 0.6; step /= 1.6 {
		for again, rounds := true, 0; again && rounds < 60; rounds++ {
			again = false
			// One figure, or all from one on.
			for i := range 2 * len(boxes) {
				for _, d := range [4]drawing.Point{{X: step}, {X: -step}, {Y: step}, {Y: -step}} {
					next := slices.Clone(boxes)
					for j := i % len(boxes); j < len(boxes) && (j == i || i >= len(boxes)); j++ {
						next[j] = moved(boxes[j], d)
					}
					if !w.legal(next) {
						continue
					}
					if s := Measure(next, w.m).Score(); s > score+1e-9 {
						copy(boxes, next)
						score, again = s, true
					}
				}
			}
		}
	}
	return score
}

func (w *thrower) share() float64 {
	a := 0.0
	for _, s := range w.sizes {
		a += s[0] * s[1]
	}
	return a / w.m.Area()
}

func (w *thrower) best(throws int) (float64, []drawing.Rect) {
	type trial struct {
		boxes []drawing.Rect
		score float64
	}
	var all []trial
	for range throws {
		b := w.thrown()
		if w.rand.IntN(2) == 0 {
			w.aligned(b)
		}
		if w.legal(b) {
			all = append(all, trial{b, Measure(b, w.m).Score()})
		}
	}
	slices.SortFunc(all, func(a, b trial) int { return int(math.Copysign(1, b.score-a.score)) })
	best, boxes := 0.0, []drawing.Rect(nil)
	for _, t := range all[:min(len(all), 12)] {
		if s := w.improved(t.boxes); s > best {
			best, boxes = s, t.boxes
		}
	}
	return best, boxes
}

// TestNearTheBest: for a few figures the score of the packing is that of the
// best of many arrangements, within a twentieth. What comes nearer than that to
// the whole of it breaks a rule that the reference does not know: that figures
// side by side stand in line even where others are below them.
func TestNearTheBest(t *testing.T) {
	const cases, throws = 300, 3000
	var worst, sum float64 = 1, 0
	n, near := 0, 0
	for seed := range uint64(cases) {
		r := rand.New(rand.NewPCG(seed, 7))
		m := []Room{{390, 277, 180, 55}, {564, 400, 180, 55}, {390, 277, 180, 110}, {267, 400, 180, 55}}[r.IntN(4)]
		w := thrower{m: m, rand: r}
		var figures []Figure
		for range 1 + r.IntN(4) {
			s := Stance{Width: 30 + 120*r.Float64()}
			s.Up = 15 + 50*r.Float64()
			s.Down = s.Up
			figures = append(figures, Figure{Stances: []Stance{s}})
			w.sizes = append(w.sizes, [2]float64{s.Width, s.Up + s.Down})
		}
		if w.share() < 0.12 {
			continue // no sheet is that bare at the scale that suits it
		}
		reference, boxes := w.best(throws)
		k := Packer{Gap: testGap, CaptionGap: 5.6, Rooms: func(int) Room { return m }, Most: 1}
		places, _, err := k.Pack(context.Background(), figures)
		require.NoError(t, err)
		if len(places) < len(figures) {
			assert.Zero(t, reference, "case %d: %d figures have no room, and a throw found it", seed, len(figures))
			continue
		}
		if reference == 0 {
			continue
		}
		var ours []drawing.Rect
		for i, p := range places {
			ours = append(ours, p.box(&figures[i].Stances[0]))
		}
		share := Measure(ours, m).Score() / reference
		n, sum, worst = n+1, sum+share, min(worst, share)
		if share >= 0.95 {
			near++
		}
		if share < 0.85 {
			t.Errorf("case %d, room %v: %.3f of the best: %+v, best %+v\n%s\n%s", seed, m, share, Measure(ours, m), Measure(boxes, m), sketch(ours, m), sketch(boxes, m))
		}
	}
	t.Logf("%d cases: %.3f of the best on average, %.3f at the worst, %d within a twentieth", n, sum/float64(n), worst, near)
	assert.GreaterOrEqual(t, sum/float64(n), 1.0, "on average as good as the best throw")
	assert.GreaterOrEqual(t, float64(near), 0.95*float64(n))
}

// TestLargestEmpty compares with all rectangles between edges.
func TestLargestEmpty(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	m := Room{390, 277, 180, 55}
	for range 200 {
		all := []drawing.Rect{{Min: drawing.Pt(m.Width-m.TakenWidth, 0), Max: drawing.Pt(m.Width, m.TakenHeight)}}
		for range r.IntN(5) {
			x, y := 300*r.Float64(), 200*r.Float64()
			all = append(all, drawing.Rect{Min: drawing.Pt(x, y), Max: drawing.Pt(x+80*r.Float64(), y+70*r.Float64())})
		}
		xs, ys := []float64{0, m.Width}, []float64{0, m.Height}
		for _, b := range all {
			xs, ys = append(xs, b.Min.X, b.Max.X), append(ys, b.Min.Y, b.Max.Y)
		}
		want := 0.0
		for _, x0 := range xs {
			for _, x1 := range xs {
				for _, y0 := range ys {
					for _, y1 := range ys {
						e := drawing.Rect{Min: drawing.Pt(x0, y0), Max: drawing.Pt(x1, y1)}
						if x0 < x1 && y0 < y1 && e.Dx()*e.Dy() > want && !slices.ContainsFunc(all, func(b drawing.Rect) bool { return b.Grown(-1e-9).Overlaps(e) }) {
							want = e.Dx() * e.Dy()
						}
					}
				}
			}
		}
		require.InDelta(t, want, largestEmpty(all[1:], m), 1e-6)
	}
}

// A balance by hand: two figures of 100 × 50 in a room of 300 × 100 without a
// corner, 20, 60 and 20 mm apart from left to right, 10 mm from the lower edge.
func TestMeasure(t *testing.T) {
	m := Room{Width: 300, Height: 100}
	b := Measure([]drawing.Rect{
		{Min: drawing.Pt(20, 10), Max: drawing.Pt(120, 60)},
		{Min: drawing.Pt(180, 10), Max: drawing.Pt(280, 60)},
	}, m)
	assert.InDelta(t, 2*100*50/30000.0, b.Share, 1e-12)
	assert.InDelta(t, ((20+unseen)/60.0+(10+unseen)/40.0)/2, b.Evenness, 1e-12)
	assert.InDelta(t, 300*40/30000.0, b.Empty, 1e-12)
}

// sketch shows boxes as text.
func sketch(boxes []drawing.Rect, m Room) string {
	out := ""
	for y := m.Height - 6; y > 0; y -= 12 {
		for x := 3.0; x < m.Width; x += 6 {
			c := "."
			if x > m.Width-m.TakenWidth && y < m.TakenHeight {
				c = "#"
			}
			for i, b := range boxes {
				if x > b.Min.X && x < b.Max.X && y > b.Min.Y && y < b.Max.Y {
					c = fmt.Sprint(i + 1)
				}
			}
			out += c
		}
		out += "\n"
	}
	return out
}
