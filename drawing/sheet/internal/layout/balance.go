package layout

import (
	"math"
	"slices"

	"boltplate/drawing"
)

// A Balance says how well figures fill a page.
type Balance struct {
	// Share is how much of the free space the figures with their captions take.
	Share float64
	// Evenness says how alike the gaps are that a figure has on its left and
	// right, and above and below it, to the next figure, the frame or what is
	// taken: the smaller gap as a part of the larger one, the mean of all figures.
	// It is 1 where all gaps along a row and down a column are alike; what the eye
	// does not see does not count.
	Evenness float64
	// Empty is the largest empty rectangle as a part of the free space.
	Empty float64
}

// Score returns one number for a balance, 1 at the best.
func (b Balance) Score() float64 { return b.Evenness * (1 - b.Empty) }

// Measure returns the balance of a page with these figures, each with its
// caption.
func Measure(figures []drawing.Rect, m Room) Balance {
	var b Balance
	for _, r := range figures {
		b.Share += r.Dx() * r.Dy()
	}
	b.Share /= m.Area()
	n := neighbours{m: m, boxes: figures}
	sum := 0.0
	for i := range figures {
		for _, s := range [2][2]side{{left, right}, {below, above}} {
			one, _ := n.gap(i, s[0])
			other, _ := n.gap(i, s[1])
			sum += min(1, (min(one, other)+unseen)/max(one, other, eps))
		}
	}
	if len(figures) > 0 {
		b.Evenness = sum / float64(2*len(figures))
	}
	b.Empty = largestEmpty(figures, m) / m.Area()
	return b
}

// unseen is how much two gaps may differ before the eye sees it, mm.
const unseen = 5.0

// A side of a box.
type side int

const (
	left side = iota
	right
	below
	above
	sides
)

func (s side) level() bool { return s == left || s == right }

// neighbours finds what stands next to the boxes of a page.
type neighbours struct {
	m     Room
	boxes []drawing.Rect
}

// touch is by how much two boxes must overlap to be in each other's way, mm.
const touch = 0.5

// gap returns the distance of a box from what is next to it on one side, and
// which box that is, or -1 for the frame or what is taken in the corner.
func (n *neighbours) gap(i int, s side) (gap float64, next int) {
	b := n.boxes[i]
	gap, next = n.wall(b, s), -1
	for j, o := range n.boxes {
		if j == i {
			continue
		}
		d := math.Inf(1)
		switch s {
		case left:
			d = away(b.Min.X-o.Max.X, b.Min.Y, b.Max.Y, o.Min.Y, o.Max.Y)
		case right:
			d = away(o.Min.X-b.Max.X, b.Min.Y, b.Max.Y, o.Min.Y, o.Max.Y)
		case below:
			d = away(b.Min.Y-o.Max.Y, b.Min.X, b.Max.X, o.Min.X, o.Max.X)
		case above:
			d = away(o.Min.Y-b.Max.Y, b.Min.X, b.Max.X, o.Min.X, o.Max.X)
		}
		if d < gap {
			gap, next = d, j
		}
	}
	return gap, next
}

// away returns the distance d where it is one and the intervals overlap, else
// infinity.
func away(d, a0, a1, b0, b1 float64) float64 {
	if d < -touch || min(a1, b1)-max(a0, b0) < touch {
		return math.Inf(1)
	}
	return max(d, 0)
}

// wall returns the distance of a box from the frame or what is taken.
func (n *neighbours) wall(b drawing.Rect, s side) float64 {
	m := &n.m
	switch s {
	case left:
		return b.Min.X
	case right:
		return min(m.Width-b.Max.X, away(m.Width-m.TakenWidth-b.Max.X, b.Min.Y, b.Max.Y, 0, m.TakenHeight))
	case below:
		return min(b.Min.Y, away(b.Min.Y-m.TakenHeight, b.Min.X, b.Max.X, m.Width-m.TakenWidth, m.Width))
	}
	return m.Height - b.Max.Y
}

// largestEmpty returns the area of the largest rectangle without a box in it.
// The edges of the boxes make a grid; each of its rows, with what is free above
// it, is a row of bars in which the largest rectangle is found.
func largestEmpty(boxes []drawing.Rect, m Room) float64 {
	all := append(slices.Clone(boxes), drawing.Rect{Min: drawing.Pt(m.Width-m.TakenWidth, 0), Max: drawing.Pt(m.Width, m.TakenHeight)})
	xs, ys := []float64{0, m.Width}, []float64{0, m.Height}
	for _, b := range all {
		xs, ys = append(xs, b.Min.X, b.Max.X), append(ys, b.Min.Y, b.Max.Y)
	}
	xs, ys = ordered(xs), ordered(ys)
	nx := len(xs) - 1
	taken := make([]bool, nx*(len(ys)-1))
	for _, b := range all {
		x0, x1 := index(xs, b.Min.X), index(xs, b.Max.X)
		for y := index(ys, b.Min.Y); y < index(ys, b.Max.Y); y++ {
			for x := x0; x < x1; x++ {
				taken[y*nx+x] = true
			}
		}
	}
	bars, largest := make([]float64, nx+1), 0.0
	var stack []int
	for y := range len(ys) - 1 {
		for x := range nx {
			if bars[x] += ys[y+1] - ys[y]; taken[y*nx+x] {
				bars[x] = 0
			}
		}
		stack = stack[:0]
		for x := range nx + 1 { // the last bar is nothing
			for len(stack) > 0 && bars[stack[len(stack)-1]] >= bars[x] {
				high := bars[stack[len(stack)-1]]
				stack = stack[:len(stack)-1]
				from := 0
				if len(stack) > 0 {
					from = stack[len(stack)-1] + 1
				}
				largest = max(largest, high*(xs[x]-xs[from]))
			}
			stack = append(stack, x)
		}
	}
	return largest
}

// index returns where a value stands in the ordered ones.
func index(values []float64, v float64) int {
	i, _ := slices.BinarySearch(values, v-eps)
	return min(i, len(values)-1)
}

func ordered(values []float64) []float64 {
	slices.Sort(values)
	return slices.CompactFunc(values, func(a, b float64) bool { return math.Abs(b-a) < eps })
}
