package layout

import (
	"math"

	"boltplate/drawing"
)

// A box is a figure that is being spaced: how far it reaches from its place,
// the middle of its width on its axis, and the lines that it moves with.
type box struct {
	figure, stance int
	half, up, down float64 // down with the caption
	captions       float64 // from the axis down to the level of the captions
	x, y           int     // its lines: the place is at xs[x], ys[y] + off
	off            float64
	beside         bool // beside what is taken in the corner, else above it
}

// lines are the places across or down of what moves together, and what keeps
// them apart.
type lines struct {
	at     []float64
	lo, hi []float64
	orders []order
	ties   [][]tie // by line
}

// An order keeps line b at least apart beyond line a.
type order struct {
	a, b  int
	apart float64
}

// A tie is a gap between a line and another one, or the frame where other is
// -1: the gap is nothing where the line is at off from the other.
type tie struct {
	other int
	off   float64
}

// A spacer makes the gaps of an arrangement alike, as far as they can be.
type spacer struct {
	m     Room
	gap   float64
	loose bool // figures of a column need not have one middle line
	boxes []box
	x, y  lines
	rects []drawing.Rect
}

// newSpacer sets an arrangement as near to the upper left corner as it goes.
func newSpacer(a *arrangement, m Room, gap float64, loose bool) *spacer {
	s := &spacer{m: m, gap: gap, loose: loose}
	s.set(a.root(), gap, m.Height-gap)
	for _, z := range a.zones() {
		for i := range s.boxes {
			if b := &s.boxes[i]; b.figure >= z.from && b.figure < z.to {
				b.beside = z.beside
			}
		}
	}
	s.bound()
	return s
}

// set sets a plan with its upper left corner at x, y.
func (s *spacer) set(p *plan, x, y float64) {
	level := p.form == row || p.form == across
	start, mid, line := len(s.boxes), -1, -1
	switch p.form {
	case leaf:
		s.single(p, s.x.line(x+p.width/2), s.y.line(y-p.up), 0, p.down)
		return
	case column:
		if !s.loose {
			mid = s.x.line(x + p.width/2)
		}
	case row:
		line = s.y.line(y - p.up)
	}
	for _, k := range p.members() {
		from := len(s.boxes)
		switch {
		case k.form == leaf && p.form == row && p.level:
			s.single(k, s.x.line(x+k.width/2), line, 0, p.down)
		case k.form == leaf && p.form == row:
			s.single(k, s.x.line(x+k.width/2), line, k.down, k.down)
		case k.form == leaf && p.form == column && !s.loose:
			s.single(k, mid, s.y.line(y-k.up), 0, k.down)
		case p.form == column:
			s.set(k, x+(p.width-k.width)/2, y)
		default:
			s.set(k, x, y)
		}
		for i := start; i < from; i++ {
			for j := from; j < len(s.boxes); j++ {
				s.keep(&s.boxes[i], &s.boxes[j], level)
			}
		}
		if level {
			x += k.width + s.gap
		} else {
			y -= k.height + s.gap
		}
	}
}

func (l *lines) line(at float64) int {
	l.at = append(l.at, at)
	return len(l.at) - 1
}

// single adds the box of a figure that is off above the line y, its captions
// low below its axis.
func (s *spacer) single(p *plan, x, y int, off, low float64) {
	if p.captions == 0 {
		low = p.down
	}
	s.boxes = append(s.boxes, box{figure: p.figure, stance: int(p.stance), half: p.width / 2, up: p.up, down: low + p.captions,
		captions: low, x: x, y: y, off: off})
}

// keep keeps b right of a, or below it.
func (s *spacer) keep(a, b *box, level bool) {
	if level {
		s.x.orders = append(s.x.orders, order{a.x, b.x, a.half + s.gap + b.half})
	} else {
		s.y.orders = append(s.y.orders, order{b.y, a.y, b.off + b.up + s.gap + a.down - a.off})
	}
}

// bound keeps the lines within the frame and off what is taken.
func (s *spacer) bound() {
	s.x.open()
	s.y.open()
	for i := range s.boxes {
		b := &s.boxes[i]
		wide, low := s.m.Width, s.m.TakenHeight
		if b.beside {
			wide, low = s.m.Width-s.m.TakenWidth, 0
		}
		s.x.lo[b.x] = max(s.x.lo[b.x], s.gap+b.half)
		s.x.hi[b.x] = min(s.x.hi[b.x], wide-s.gap-b.half)
		s.y.lo[b.y] = max(s.y.lo[b.y], low+s.gap+b.down-b.off)
		s.y.hi[b.y] = min(s.y.hi[b.y], s.m.Height-s.gap-b.up-b.off)
	}
}

func (l *lines) open() {
	l.lo, l.hi = make([]float64, len(l.at)), make([]float64, len(l.at))
	for i := range l.at {
		l.lo[i], l.hi[i] = math.Inf(-1), math.Inf(1)
	}
	l.ties = make([][]tie, len(l.at))
}

// even makes the gaps alike, those down and those across in turn: what stands next
// to what across depends on where it stands along, and the other way round.
func (s *spacer) even(rounds int) {
	for range rounds {
		s.survey()
		for i := range s.boxes {
			s.tie(i, above)
			s.tie(i, below)
		}
		s.y.relax()
		s.survey()
		for i := range s.boxes {
			s.tie(i, left)
			s.tie(i, right)
		}
		s.x.relax()
	}
	s.survey()
}

// survey works out where the boxes are and unties all lines.
func (s *spacer) survey() {
	s.rects = s.rects[:0]
	for i := range s.boxes {
		b := &s.boxes[i]
		x, y := s.x.at[b.x], s.y.at[b.y]+b.off
		s.rects = append(s.rects, drawing.Rect{Min: drawing.Pt(x-b.half, y-b.down), Max: drawing.Pt(x+b.half, y+b.up)})
	}
	for _, l := range [2]*lines{&s.x, &s.y} {
		for i := range l.ties {
			l.ties[i] = l.ties[i][:0]
		}
	}
}

// tie ties a box to what is next to it on one side.
func (s *spacer) tie(i int, at side) {
	n := neighbours{s.m, s.rects}
	gap, next := n.gap(i, at)
	b, l, line := &s.boxes[i], &s.y, s.boxes[i].y
	if at.level() {
		l, line = &s.x, b.x
	}
	if at == left || at == below {
		gap = -gap
	}
	if next < 0 { // to the frame: nothing is between them where the line is gap further on
		l.ties[line] = append(l.ties[line], tie{-1, l.at[line] + gap})
		return
	}
	other := s.boxes[next].y
	if at.level() {
		other = s.boxes[next].x
	}
	if other == line {
		return
	}
	l.ties[line] = append(l.ties[line], tie{other, l.at[line] + gap - l.at[other]})
}

// relax moves the lines until each is where the squares of its gaps are least.
func (l *lines) relax() {
	const sweeps, still = 120, 0.01
	for range sweeps {
		moved := 0.0
		for i := range l.at {
			sum, n := 0.0, 0.0
			for _, t := range l.ties[i] {
				at := t.off
				if t.other >= 0 {
					at += l.at[t.other]
				}
				sum, n = sum+at, n+1
			}
			if n == 0 {
				continue
			}
			at := l.within(i, sum/n)
			moved = max(moved, math.Abs(at-l.at[i]))
			l.at[i] = at
		}
		if moved < still {
			return
		}
	}
}

// within returns the nearest place to the given one that a line may have.
func (l *lines) within(i int, at float64) float64 {
	lo, hi := l.lo[i], l.hi[i]
	for _, o := range l.orders {
		switch i {
		case o.a:
			hi = min(hi, l.at[o.b]-o.apart)
		case o.b:
			lo = max(lo, l.at[o.a]+o.apart)
		}
	}
	return max(lo, min(hi, at))
}

// score returns that of the boxes where they are.
func (s *spacer) score() float64 {
	s.survey()
	return Measure(s.rects, s.m).Score()
}

// polish moves single lines as long as the score rises: what is most even may
// leave more empty than need be.
func (s *spacer) polish() {
	score := s.score()
	for step := 16.0; step >= 1; step /= 2 {
		for again := true; again; {
			again = false
			for _, l := range [2]*lines{&s.x, &s.y} {
				for i := range l.at {
					for _, d := range [2]float64{step, -step} {
						was := l.at[i]
						l.at[i] = l.within(i, was+d)
						if better := s.score(); better > score+worthwhile {
							score, again = better, true
						} else {
							l.at[i] = was
						}
					}
				}
			}
		}
	}
	s.survey()
}

// worthwhile is how much the score must rise for a line to leave the place
// where the gaps are alike.
const worthwhile = 2e-3

// places returns the places of the boxes on a page.
func (s *spacer) places(page int) []Place {
	out := make([]Place, len(s.boxes))
	for i := range s.boxes {
		b := &s.boxes[i]
		at := drawing.Pt(s.x.at[b.x], s.y.at[b.y]+b.off)
		out[i] = Place{Page: page, Stance: b.stance, At: at, Caption: at.Y - b.captions}
	}
	return out
}
