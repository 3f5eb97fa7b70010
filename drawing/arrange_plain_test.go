package drawing

import (
	"math"
	"slices"
	"testing"

	"boltplate/internal/plane"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// plainArranger places dimensions by the costs of the arranger, but plainly:
// every candidate of every row is expanded and looked at in full, and nothing
// is worked out in advance.
type plainArranger struct {
	st      Style
	items   []Item
	order   []int // straight dimensions as they are placed
	placed  int   // of them
	rows    []int
	outline Rect
	labels  []Rect
	lines   []placedLine
}

func plainArrange(v View, st Style) View {
	p := plainArranger{st: st, items: slices.Clone(v.Items), outline: solidOutline(v.Items, st)}
	v.Items = p.items
	for i, it := range p.items {
		switch it.Shape.(type) {
		case Linear, Aligned, Angular:
			p.order = append(p.order, i)
		}
	}
	slices.SortStableFunc(p.order, func(i, j int) int { return compare(span(p.items[i].Shape), span(p.items[j].Shape)) })
	for _, i := range p.order {
		p.place(i)
		p.placed++
	}
	bodies := make([]body, len(p.order))
	for n, i := range p.order {
		bodies[n].linear, bodies[n].isLin = p.items[i].Shape.(Linear)
	}
	shareExtensionLines(bodies)
	for n, i := range p.order {
		if bodies[n].isLin {
			p.items[i].Shape = bodies[n].linear
		}
	}
	for i, it := range p.items {
		switch it.Shape.(type) {
		case Diameter, Radius, Leader:
			p.place(i)
		}
	}
	return v
}

// A candidate is a place with its cost before collisions.
type candidate struct {
	shape Shape
	cost  float64
	row   int
}

func (p *plainArranger) place(i int) {
	lowest := candidate{cost: math.Inf(1)}
	for _, c := range p.candidates(p.items[i].Shape) {
		x, _ := Expand(c.shape, p.st)
		if c.cost += p.collisions(&x); c.cost < lowest.cost {
			lowest = c
		}
	}
	p.items[i].Shape = lowest.shape
	p.rows = append(p.rows, lowest.row)
	x, _ := Expand(lowest.shape, p.st)
	for n, l := range strokes(&x) {
		p.lines = append(p.lines, placedLine{strokeOf(l), n < extensionLines(&x)})
	}
	p.labels = append(p.labels, labelRect(&x))
}

func (p *plainArranger) candidates(s Shape) []candidate {
	switch d := s.(type) {
	case Linear:
		d.Label = d.Label.resolved(p.st)
		return p.linear(d)
	case Aligned:
		d.Label = d.Label.resolved(p.st)
		return p.aligned(d)
	case Angular:
		d.Label = d.Label.resolved(p.st)
		return p.angular(d)
	case Leader:
		d.Label = d.Label.resolved(p.st)
		return p.shelved(&spot{at: d.Tip, angle: d.Angle, crossing: true}, func(s Shelf, a float64) Shape { d.Shelf, d.Angle = s, a; return d })
	case Diameter:
		d.Label = d.Label.resolved(p.st)
		return p.shelved(&spot{at: d.Center, radius: d.Radius, angle: d.Angle, start: d.Start, end: d.End}, func(s Shelf, a float64) Shape { d.Shelf, d.Angle = s, a; return d })
	case Radius:
		d.Label = d.Label.resolved(p.st)
		return p.shelved(&spot{at: d.Center, radius: d.Radius, angle: d.Angle, start: d.Start, end: d.End, fixed: true}, func(s Shelf, a float64) Shape { d.Shelf, d.Angle = s, a; return d })
	}
	return nil
}

func (p *plainArranger) off(row int) float64 {
	return p.st.Part(p.st.FirstRow()) + p.st.Part(p.st.RowStep())*float64(row)
}

// columns returns the linear dimensions of a side among those placed, or among
// those to come after the one that is being placed.
func (p *plainArranger) columns(s Side, toCome bool) (out []Linear, rows []int) {
	for n, i := range p.order {
		if d, ok := p.items[i].Shape.(Linear); ok && d.Side == s && (toCome && n > p.placed || !toCome && n < p.placed) {
			out = append(out, d)
			if !toCome {
				rows = append(rows, p.rows[n])
			}
		}
	}
	return out, rows
}

func (p *plainArranger) linear(d Linear) (out []candidate) {
	lo, hi := d.ends()
	farLo, farHi, first := lo, hi, 0
	done, rows := p.columns(d.Side, false)
	toCome, _ := p.columns(d.Side, true)
	for n, c := range done {
		l, h := c.ends()
		farLo, farHi = min(farLo, l), max(farHi, h)
		if l > lo-1e-9 && h < hi+1e-9 {
			first = max(first, rows[n])
		}
	}
	for _, c := range toCome {
		l, h := c.ends()
		farLo, farHi = min(farLo, l), max(farHi, h)
	}
	between := func(from, to float64) (n float64) {
		for _, c := range toCome {
			l, h := c.ends()
			for _, x := range [2]float64{l, h} {
				if x > from && x < to {
					n++
				}
			}
		}
		return n
	}
	width := p.st.Part(d.Label.width(&p.st, p.st.Height()))
	t := (&arranger{pen: newPen(p.st), mm: p.st.Part(1)}).track(lo, hi, farLo, farHi, width)
	edge := map[Side]float64{Below: p.outline.Min.Y, Above: p.outline.Max.Y, Left: p.outline.Min.X, Right: p.outline.Max.X}[d.Side]
	d.Placed, d.Outside = true, t.arrowsOut
	for row := first; row < first+maxRows; row++ {
		for place := range places {
			d.At, d.TextAt = edge+outward(d.Side)*p.off(row), t.at(place)
			room := width/2 + p.st.Part(0.6)
			cost := costRow*float64(row) + t.cost(place) + costLabel*between(d.TextAt-room, d.TextAt+room)
			if place != inside {
				cost += costCrossExt*between(min(d.TextAt, hi), max(d.TextAt, lo)) + costFar*math.Abs(d.TextAt-(lo+hi)/2)*p.st.PaperScale()
			}
			out = append(out, candidate{d, cost, row})
		}
	}
	return out
}

func (p *plainArranger) aligned(d Aligned) (out []candidate) {
	length := d.To.Sub(d.From).Len()
	t := (&arranger{pen: newPen(p.st), mm: p.st.Part(1)}).track(0, length, 0, length, p.st.Part(d.Label.width(&p.st, p.st.Height())))
	d.Placed, d.Outside = true, t.arrowsOut
	n := d.To.Sub(d.From).Mul(1 / length)
	n = Point{-n.Y, n.X}
	sign := 1.0
	if d.Side != Above {
		n, sign = n.Mul(-1), -1
	}
	out0 := max(0, support(p.items, n)-dot(d.From, n))
	for row := range maxRows {
		for place := range places {
			d.At, d.TextAt = sign*(out0+p.off(row)), t.at(place)
			out = append(out, candidate{d, costRow*float64(row) + t.cost(place), row})
		}
	}
	return out
}

func (p *plainArranger) angular(d Angular) (out []candidate) {
	for row := range maxRows {
		d.Placed, d.At = true, max(d.From, d.To)+p.off(row)
		d.Outside = d.At*turned(d.Start, d.End)*math.Pi/180 < 2.5*p.st.Part(p.st.ArrowLength())
		out = append(out, candidate{d, costRow * float64(row), row})
	}
	return out
}

func (p *plainArranger) shelved(s *spot, shape func(Shelf, float64) Shape) (out []candidate) {
	a := arranger{items: p.items}
	box := p.outline.Grown(p.st.Part(4))
	for reach := range shelfReaches {
		for turn := range shelfAngles {
			d := a.direction(s, turn, box, p.st.Part(p.st.Height()+p.st.TextGap()))
			sh := Shelf{Placed: true, Left: d.u.X < 0, Knee: d.tip.Add(d.u.Mul(d.leave + 6*p.st.Part(1)*float64(reach)))}
			out = append(out, candidate{shape(sh, s.angle+shelfAngles[turn]), costReach*float64(reach) + d.cost, 0})
		}
	}
	return out
}

// strokes returns the lines of x, arcs as chords.
func strokes(x *Expansion) []Line {
	var a arranger
	a.strokesOf(x)
	var out []Line
	for _, s := range a.strokes {
		out = append(out, s.Line)
	}
	return out
}

func (p *plainArranger) collisions(x *Expansion) (cost float64) {
	mm := p.st.Part(1)
	label, lines := labelRect(x), strokes(x)
	if math.Mod(x.text.Angle, 90) == 0 && label.Grown(0.6*mm).Overlaps(p.outline.Grown(mm)) {
		cost += costLabel
	}
	for _, r := range p.labels {
		if label.Grown(0.6 * mm).Overlaps(r) {
			cost += costLabel
		}
		for _, l := range lines {
			if plane.SegmentHitsBox(l.From.vec(), l.To.vec(), box(r.Grown(0.3*mm))) {
				cost += costLabel
			}
		}
	}
	others := p.lines
	for _, i := range p.order[p.placed:] { // angles to come
		if d, ok := p.items[i].Shape.(Angular); ok && !isAngle(x) {
			d.Placed, d.At = true, max(d.From, d.To)+p.off(4)
			y, _ := Expand(d, p.st)
			for _, l := range y.Lines() {
				others = append(slices.Clip(others), placedLine{strokeOf(l), true})
			}
		}
	}
	for i := range others {
		o := &others[i]
		if plane.SegmentHitsBox(o.From.vec(), o.To.vec(), box(label.Grown(0.3*mm))) {
			cost += costLabel
		}
		for n := range lines {
			if lines[n].Bounds().Grown(beside * mm).Overlaps(o.extent) { // the same where lines are just so far apart
				cost += lineCost(&lines[n], n < extensionLines(x), o, mm)
			}
		}
	}
	return cost
}

func isAngle(x *Expansion) bool { return x.nc > 0 }

// TestArrangeIsThePlainWay: whatever the arranger leaves out to be quick, it
// places every dimension where trying all places does.
func TestArrangeIsThePlainWay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := RandomView(t)
		if rapid.Bool().Draw(t, "angle") {
			v.Items = append(v.Items, ParseView("angle 5 5 150 210 9; aligned 0 0 12 8; radius 4 4 4 225; circle 6 6 3; dia 6 6 3 30").Items...)
		}
		st := Style{
			Scale:  rapid.SampledFrom([]float64{0, 0.5, 2}).Draw(t, "scale"),
			Labels: rapid.SampledFrom([]Labels{Numbers, Rules, Letters}).Draw(t, "labels"),
		}
		want, got := plainArrange(v, st), Arrange(v, st)
		for i := range want.Items {
			assert.Equal(t, want.Items[i].Shape, got.Items[i].Shape)
		}
	})
}
