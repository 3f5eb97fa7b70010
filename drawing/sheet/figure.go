package sheet

import (
	"cmp"
	"slices"

	"boltplate/drawing"
	"boltplate/drawing/sheet/internal/layout"
)

// A Figure is one figure of a plate.
type Figure struct {
	Name    string // for messages; "" is its number
	Caption string // under the figure, after its number; "" is none, and then it has no number
	Source  Source
	// Scale is 0 for that of the plate, AutoScale for the one of the plate unless
	// the figure has no room at it or is too small to read, or a scale of its own.
	// A scale that is not that of the title block stands in the caption.
	Scale  float64
	Labels *drawing.Labels // what its dimensions say; nil is what those of the plate say
	// Components go into the parts list, with item references at the figure, as
	// well as those that the Source itself names.
	Components []Component
	// Given is what a question says of it in words, and Ask what it asks for.
	Given []string
	Ask   string

	Kind    string // figures of one kind stand together where Plate.Grouped says so
	NewPage bool   // it begins a page
	Page    int    // the page that it stands on, from 1; 0 is where it comes
	// Row and Column are its place on its page, from 1: its row among those from
	// the top, and its place in the row from the left, where several of one
	// column stand one below the other. 0 is the row of the figure before, and the
	// next column. Where no figure of a page has either the sheet finds the best.
	Row, Column int
}

// AutoScale is the Scale of a figure that may have another one than the plate.
const AutoScale = -1

// captionGap is the distance of a caption from its figure, and captionWidth how
// wide a caption may be that is wider than its figure, in heights of text;
// blockGap is that of a block from the drawing, betweenGap that from the next
// block.
const (
	captionGap   = 1.6
	captionWidth = 24.0
	blockGap     = 2.5
	betweenGap   = 1.3
)

// A placedBlock is a block with its upper left corner, mm on paper about the
// origin of the figure's drawing.
type placedBlock struct {
	blockForm
	x, y float64
}

// A stance is one way for a figure to stand: the extent of its drawing with its
// blocks, mm on paper about the origin of the drawing, and where the blocks are.
type stance struct {
	box     drawing.Rect
	blocks  []placedBlock
	penalty float64
}

// A setter sets the blocks of a figure about its drawing.
type setter struct {
	main    drawing.Rect // of the drawing with its marks
	forms   [][]blockForm
	under   int     // how many of the blocks, the last ones, stand below the drawing
	gap     float64 // between the drawing and blocks
	between float64 // between blocks
}

// A stack is blocks one below the other, their left edges in line.
type stack struct {
	width, height float64
	forms         []blockForm
}

// stacks returns the ways to set some blocks one below the other: for each width
// that one of them can have the others as wide as that allows.
func (s *setter) stacks(from, to int) []stack {
	if from == to {
		return []stack{{}}
	}
	var widths []float64
	for _, forms := range s.forms[from:to] {
		for _, f := range forms {
			widths = append(widths, f.width)
		}
	}
	slices.Sort(widths)
	widths = slices.CompactFunc(widths, func(a, b float64) bool { return b-a < 1 && a-b < 1 })
	var out []stack
	for _, w := range widths {
		one := stack{height: -s.between}
		for _, forms := range s.forms[from:to] {
			f := widestWithin(forms, w+1)
			one.forms = append(one.forms, f)
			one.width = max(one.width, f.width)
			one.height += f.height + s.between
		}
		switch n := len(out); {
		case n == 0 || one.height < out[n-1].height-slack && one.width > out[n-1].width+slack:
			out = append(out, one)
		case one.height < out[n-1].height-slack: // lower at the same width
			out[n-1] = one
		}
	}
	return out
}

// widestWithin returns the widest form that is at most that wide, or the
// narrowest.
func widestWithin(forms []blockForm, width float64) blockForm {
	best := slices.MinFunc(forms, func(a, b blockForm) int { return cmp.Compare(a.width, b.width) })
	for _, f := range forms {
		if f.width <= width && f.height < best.height {
			best = f
		}
	}
	return best
}

// stances returns the ways to set the blocks: all below the drawing, all beside
// it, or the first beside and the rest below, none larger than most.
func (s *setter) stances(most drawing.Point) []stance {
	n := len(s.forms)
	if n == 0 {
		return []stance{{box: s.main}}
	}
	var all []stance
	if s.main.Empty() {
		for _, one := range s.stacks(0, n) {
			all = append(all, s.alone(one))
		}
		return s.chosen(all, most)
	}
	for beside := range n - s.under + 1 {
		for _, right := range s.stacks(0, beside) {
			for _, under := range s.stacks(beside, n) {
				all = append(all, s.set(right, under))
			}
		}
	}
	return s.chosen(all, most)
}

// alone returns blocks without a drawing, their middle on the axis.
func (s *setter) alone(one stack) stance {
	st := stance{box: drawing.Rect{Min: drawing.Pt(0, -one.height/2), Max: drawing.Pt(one.width, one.height/2)}}
	st.add(one, 0, one.height/2, s.between)
	return st
}

// set returns the drawing with blocks on its right, level with its upper edge (a
// view level with its middle), and below it, under its middle or, where it is wider, from its left edge.
func (s *setter) set(right, under stack) stance {
	st := stance{box: s.main}
	if len(right.forms) > 0 {
		x, y := s.main.Max.X+s.gap, s.main.Max.Y
		if right.forms[0].view != nil && right.height < s.main.Dy() {
			y = s.main.Mid().Y + right.height/2
		}
		st.add(right, x, y, s.between)
		if right.height < lost*s.main.Dy() && right.forms[0].view == nil {
			st.penalty = lostPenalty
		}
		st.box = st.box.Union(drawing.Rect{Min: drawing.Pt(x, y-right.height), Max: drawing.Pt(x+right.width, y)})
	}
	if len(under.forms) > 0 {
		x, y := st.box.Mid().X-under.width/2, st.box.Min.Y-s.gap
		st.add(under, x, y, s.between)
		st.box = st.box.Union(drawing.Rect{Min: drawing.Pt(x, y-under.height), Max: drawing.Pt(x+under.width, y)})
	}
	return st
}

func (st *stance) add(one stack, x, y, gap float64) {
	for _, f := range one.forms {
		st.blocks = append(st.blocks, placedBlock{f, x, y})
		y -= f.height + gap
	}
}

// mostStances is how many ways to stand a figure may have.
const mostStances = 8

// chosen returns the stances of which no other is both narrower and lower, those
// that leave least empty first.
func (s *setter) chosen(all []stance, most drawing.Point) []stance {
	var out []stance
	for i, a := range all {
		w, h := a.box.Dx(), a.box.Dy()
		beaten := slices.ContainsFunc(all[:i], func(o stance) bool { return o.box.Dx() <= w+slack && o.box.Dy() <= h+slack })
		beaten = beaten || slices.ContainsFunc(all[i+1:], func(o stance) bool {
			return o.box.Dx() <= w+slack && o.box.Dy() <= h+slack && (o.box.Dx() < w-slack || o.box.Dy() < h-slack)
		})
		if !beaten && w <= most.X && h <= most.Y {
			out = append(out, a)
		}
	}
	if len(out) == 0 { // it will be found to have no room
		out = all[:1]
	}
	for i := range out {
		out[i].penalty += s.waste(&out[i])
	}
	slices.SortStableFunc(out, func(a, b stance) int { return cmp.Compare(a.penalty, b.penalty) })
	return out[:min(len(out), mostStances)]
}

// Text beside a drawing is lost there, and worse than below it, where it is lower
// than this part of the drawing.
const (
	lost        = 0.4
	lostPenalty = 0.08
)

// wasteful is the penalty for a stance whose drawing and blocks leave all of its
// extent empty.
const wasteful = 0.15

// waste returns the penalty for what a stance leaves empty within its extent, and
// for unusual forms of blocks.
func (s *setter) waste(st *stance) float64 {
	filled, unusual := 0.0, 0.0
	if !s.main.Empty() {
		filled = s.main.Dx() * s.main.Dy()
	}
	for _, b := range st.blocks {
		filled += b.width * b.height
		unusual += b.penalty
	}
	return unusual + wasteful*max(0, 1-filled/max(st.box.Dx()*st.box.Dy(), slack))
}

// A drawn figure is one at its scale, with the ways that it can stand.
type drawn struct {
	content *Content
	scale   float64
	main    drawing.Rect     // of the drawing with its marks, mm on paper about its origin
	views   []drawing.Placed // of the drawing, but for the loose ones
	loose   []blockForm
	marks   pointing
	stances []stance
	part    int // of a figure that goes on: which part, from 0

	extended bool // the drawing shows more than text
}

// extent returns what the figure needs, for the layout. caption is broken to the
// width of each stance.
func (d *drawn) extent(caption string, h float64) layout.Figure {
	var f layout.Figure
	for i := range d.stances {
		s := &d.stances[i]
		one := layout.Stance{Width: s.box.Dx(), Up: s.box.Max.Y, Down: -s.box.Min.Y, Penalty: s.penalty}
		if lines := d.captionLines(caption, h, i); len(lines) > 0 {
			one.Width = max(one.Width, widest(lines, h))
			one.Caption = captionGap*h + block(len(lines), h)
		}
		f.Stances = append(f.Stances, one)
	}
	return f
}

func (d *drawn) captionLines(caption string, h float64, stance int) []string {
	if caption == "" {
		return nil
	}
	return balanced(caption, h, max(d.stances[stance].box.Dx(), captionWidth*h))
}
