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
	placed  []int // straight dimensions in the order of placing
	toCome  []int
	rows    map[int]int // by item
	outline Rect
	labels  []placedLabel
	lines   []placedLine
}

func plainArrange(v View, st Style) View {
	p := plainArranger{st: st, items: slices.Clone(v.Items), outline: solidOutline(v.Items, st), rows: map[int]int{}}
	v.Items = p.items
	faced := map[Side]bool{}
	for _, it := range p.items {
		if t, ok := it.Shape.(Text); ok {
			p.labels = append(p.labels, placedLabel{t.Bounds(st), loose})
		}
		if d, ok := it.Shape.(Angular); ok {
			faced[plainFaces(d)] = true
		}
	}
	var groups [10][]int
	for i, it := range p.items {
		switch d := it.Shape.(type) {
		case Linear:
			g := 5 + slices.Index([]Side{Right, Left, Above, Below}, d.Side)
			if faced[d.Side] {
				g -= 5
			}
			groups[g] = append(groups[g], i)
		case Angular:
			groups[4] = append(groups[4], i)
		case Aligned:
			groups[9] = append(groups[9], i)
		}
	}
	var order []int
	for g := range groups {
		slices.SortStableFunc(groups[g], func(i, j int) int { return compare(plainSpan(p.items[i].Shape), plainSpan(p.items[j].Shape)) })
		p.toCome = append(p.toCome, groups[g]...)
	}
	for g, group := range groups {
		if g == 4 || g == 9 {
			for _, i := range group {
				p.place(i)
			}
		} else if len(group) > 0 {
			group = p.side(group)
		}
		order = append(order, group...)
	}
	bodies := make([]body, len(order))
	for n, i := range order {
		bodies[n].group = angles
		if d, ok := p.items[i].Shape.(Linear); ok {
			bodies[n].linear, bodies[n].group = d, otherSides
		}
	}
	shareExtensionLines(bodies)
	for n, i := range order {
		if bodies[n].isLinear() {
			p.items[i].Shape = bodies[n].linear
		}
	}
	p.shelves()
	return v
}

// shelves places what stands on shelves, again and again while one is in the
// way of another.
func (p *plainArranger) shelves() {
	var shelved []int
	labels, lines, wanted := map[int]placedLabel{}, map[int][]placedLine{}, map[int]Shape{}
	for i, it := range p.items {
		switch it.Shape.(type) {
		case Diameter, Radius, Leader:
			shelved = append(shelved, i)
			wanted[i] = it.Shape
		}
	}
	label0, line0 := slices.Clone(p.labels), slices.Clone(p.lines)
	for range 3 {
		clean := true
		for _, i := range shelved {
			p.labels, p.lines = slices.Clone(label0), slices.Clone(line0)
			for _, j := range shelved {
				if r, ok := labels[j]; ok && j != i {
					p.labels, p.lines = append(p.labels, r), append(p.lines, lines[j]...)
				}
			}
			n, m := len(p.labels), len(p.lines)
			p.items[i].Shape = wanted[i]
			clean = p.place(i) < costCollide && clean
			labels[i], lines[i] = p.labels[n], slices.Clone(p.lines[m:])
		}
		if clean {
			return
		}
	}
}

func plainFaces(d Angular) Side {
	mid := math.Mod(d.Start+turned(d.Start, d.End)/2+720+45, 360)
	return [4]Side{Right, Above, Left, Below}[int(mid/90)]
}

func plainSpan(s Shape) float64 {
	switch d := s.(type) {
	case Linear:
		return d.span()
	case Aligned:
		return d.To.Sub(d.From).Len()
	}
	return 0
}

// side places the dimensions of a side in the cheapest of three orders, or in
// the first if nothing is wrong with it, and returns the order.
func (p *plainArranger) side(group []int) []int {
	before := *p
	before.items = slices.Clone(p.items)
	try := func(order []int) (cost float64, clean bool) {
		copy(p.items, before.items)
		p.labels, p.lines, p.placed, p.toCome = slices.Clip(before.labels), slices.Clip(before.lines), slices.Clip(before.placed), before.toCome
		clean = true
		for _, i := range order {
			c := p.place(i)
			cost, clean = cost+c, clean && c < costCollide
		}
		used := map[int]bool{}
		first, end := math.MaxInt, 0
		for _, i := range group {
			used[p.rows[i]] = true
			first, end = min(first, p.rows[i]), max(end, p.rows[i])
		}
		gaps := float64(costFirst * first)
		for r := first; r < end; r++ {
			if !used[r] {
				gaps += costGap
			}
		}
		return cost + gaps, clean && gaps == 0
	}
	linear := func(i int) Linear { return before.items[i].Shape.(Linear) }
	along := func(sign float64) (out []int) {
		rest := slices.Clone(group)
		for len(rest) > 0 {
			next := -1
			for _, i := range rest {
				lo, hi := ends(linear(i))
				inner := slices.ContainsFunc(rest, func(j int) bool {
					l, h := ends(linear(j))
					return j != i && l > lo-1e-9 && h < hi+1e-9 && h-l < hi-lo-1e-9
				})
				if l, h := lo, hi; !inner {
					if next < 0 {
						next = i
					} else if nl, nh := ends(linear(next)); sign*(l+h) < sign*(nl+nh)-1e-9 {
						next = i
					}
				}
			}
			out = append(out, next)
			rest = slices.DeleteFunc(rest, func(i int) bool { return i == next })
		}
		return out
	}
	best := group
	lowest, clean := try(group)
	if clean || len(group) == 1 {
		return group
	}
	for _, sign := range [2]float64{-1, 1} {
		order := along(sign)
		if cost, _ := try(order); cost < lowest {
			lowest, best = cost, order
		}
	}
	try(best)
	return best
}

func ends(d Linear) (lo, hi float64) { return d.ends() }

// A candidate is a place with its cost before collisions.
type candidate struct {
	shape Shape
	cost  float64
	row   int
	stand stand
}

func (p *plainArranger) place(i int) float64 {
	p.toCome = slices.DeleteFunc(slices.Clone(p.toCome), func(j int) bool { return j == i })
	lowest := candidate{cost: math.Inf(1)}
	for _, c := range p.candidates(p.items[i].Shape) {
		x, _ := Expand(c.shape, p.st)
		if c.cost += p.collisions(&x, c.stand); c.cost < lowest.cost {
			lowest = c
		}
	}
	p.items[i].Shape = lowest.shape
	p.rows[i] = lowest.row
	if _, ok := lowest.shape.(Linear); ok {
		p.placed = append(p.placed, i)
	}
	x, _ := Expand(lowest.shape, p.st)
	for n, l := range strokes(&x) {
		p.lines = append(p.lines, placedLine{strokeOf(l), n < extensionLines(&x), x.shelf && n == 0})
	}
	p.labels = append(p.labels, placedLabel{labelRect(&x), lowest.stand})
	return lowest.cost
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

// columns returns the linear dimensions of a side among those listed.
func (p *plainArranger) columns(s Side, of []int) (out []Linear, rows []int) {
	for _, i := range of {
		if d, ok := p.items[i].Shape.(Linear); ok && d.Side == s {
			out, rows = append(out, d), append(rows, p.rows[i])
		}
	}
	return out, rows
}

func (p *plainArranger) linear(d Linear) (out []candidate) {
	lo, hi := d.ends()
	farLo, farHi, first, used := lo, hi, 0, 0
	done, rows := p.columns(d.Side, p.placed)
	toCome, _ := p.columns(d.Side, p.toCome)
	for n, c := range done {
		l, h := c.ends()
		farLo, farHi, used = min(farLo, l), max(farHi, h), max(used, rows[n]+1)
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
	d.Placed, d.Outside, d.HideTo = true, t.arrowsOut, (hi-lo)*p.st.PaperScale() < 0.7
	for row := first; row < first+maxRows; row++ {
		gap := 0.0
		if used > 0 {
			gap = costGap * float64(max(0, row-used))
		}
		for place := range places {
			d.At, d.TextAt = edge+outward(d.Side)*p.off(row), t.at(place)
			room := width/2 + p.st.Part(0.6)
			cost := costRow*float64(row) + gap + t.cost(place) + costLabel*between(d.TextAt-room, d.TextAt+room)
			if place != inside {
				cost += costCrossExt*between(min(d.TextAt, hi), max(d.TextAt, lo)) + costFar*math.Abs(d.TextAt-(lo+hi)/2)*p.st.PaperScale()
			}
			out = append(out, candidate{d, cost, row, standAt(place)})
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
			out = append(out, candidate{d, costRow*float64(row) + t.cost(place) + p.across(d), row, standAt(place)})
		}
	}
	return out
}

func (p *plainArranger) angular(d Angular) (out []candidate) {
	sweep := turned(d.Start, d.End)
	for row := range maxRows {
		d.Placed, d.At = true, max(d.From, d.To, 0)+p.off(row)
		degrees := 180 / (math.Pi * d.At)
		length := sweep / degrees
		t := (&arranger{pen: newPen(p.st), mm: p.st.Part(1)}).track(0, length, 0, length, p.st.Part(d.Label.width(&p.st, p.st.Height())))
		d.Outside = t.arrowsOut
		for place := range 3 {
			d.TextAt = (t.at(place) - length/2) * degrees
			cost := costRow*float64(row) + t.cost(place) + p.across(d) + costLabel*p.through(d)
			if place != inside && t.labelIn {
				cost += costOffArc
			}
			out = append(out, candidate{d, cost, row, standAt(place)})
		}
	}
	return out
}

// through returns how many extension lines to come would run through the label
// of an angle: each is level or upright, from the outline outwards.
func (p *plainArranger) through(s Shape) (n float64) {
	x, _ := Expand(s, p.st)
	label := labelRect(&x).Grown(p.st.Part(0.6))
	const far = 1e6
	for _, i := range p.toCome {
		d, ok := p.items[i].Shape.(Linear)
		if !ok {
			continue
		}
		for _, q := range [2]Point{d.From, d.To} {
			l := map[Side]Line{
				Below: {Pt(q.X, p.outline.Min.Y), Pt(q.X, -far)}, Above: {Pt(q.X, p.outline.Max.Y), Pt(q.X, far)},
				Left: {Pt(p.outline.Min.X, q.Y), Pt(-far, q.Y)}, Right: {Pt(p.outline.Max.X, q.Y), Pt(far, q.Y)},
			}[d.Side]
			if hits(&l, label) {
				n++
			}
		}
	}
	return n
}

// across returns the cost of what a dimension crosses in the view.
func (p *plainArranger) across(s Shape) (cost float64) {
	x, _ := Expand(s, p.st)
	// The label as it is turned, in coordinates that are turned back.
	back := Transform{Turn: -x.text.Angle}
	label := EmptyRect()
	for _, q := range x.box {
		label = label.Including(back.Vector(q))
	}
	label = label.Grown(p.st.Part(0.6))
	for _, it := range p.items {
		if it.Role == RoleCentre {
			continue
		}
		eachChord(it.Shape, func(a, b Point) {
			e := Line{a, b}
			if l := e.Apply(back); hits(&l, label) {
				cost += costLabel
			}
			for _, l := range strokes(&x)[extensionLines(&x):] {
				if lineCross(&l, &e) {
					cost += costThrough
				}
			}
		})
	}
	return cost
}

func lineCross(l, o *Line) bool {
	return plane.Cross(l.From.vec(), l.To.vec(), o.From.vec(), o.To.vec())
}

func (p *plainArranger) shelved(s *spot, shape func(Shelf, float64) Shape) (out []candidate) {
	a := arranger{items: p.items, pen: newPen(p.st), mm: p.st.Part(1)}
	box := p.outline.Grown(max(p.st.Part(4), p.st.Part(p.st.Height())))
	for reach := range shelfReaches {
		for turn := range shelfAngles {
			d := a.direction(s, turn, box, p.st.Part(p.st.Height()+p.st.TextGap()))
			sh := Shelf{Placed: true, Left: d.u.X < 0, Knee: d.tip.Add(d.u.Mul(d.leave + 6*p.st.Part(1)*float64(reach)))}
			out = append(out, candidate{shape(sh, s.angle+shelfAngles[turn]), costReach*float64(reach) + d.cost, 0, onShelf})
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

func (p *plainArranger) collisions(x *Expansion, s stand) (cost float64) {
	mm := p.st.Part(1)
	label, lines := labelRect(x), strokes(x)
	clear, tight, apart := label.Grown(0.6*mm), label.Grown(0.6*mm), label.Grown(p.st.Part(p.st.Height()))
	if math.Mod(x.text.Angle, 90) == 0 && clear.Overlaps(p.outline.Grown(mm)) {
		cost += costLabel
	}
	near := 0.0
	for _, r := range p.labels {
		if clear.Overlaps(r.Rect) {
			cost += costLabel
		} else if s == onShelf && apart.Overlaps(r.Rect) {
			cost += costCrowd
		} else if s == loose && r.stand != framed && apart.Overlaps(r.Rect) {
			near = costNear
		}
		for _, l := range lines {
			if plane.SegmentHitsBox(l.From.vec(), l.To.vec(), box(r.Rect.Grown(0.6*mm))) {
				cost += costLabel
			}
		}
	}
	cost += near
	for _, it := range p.items {
		if l, ok := it.Shape.(Line); ok && it.Role == RoleCentre && hits(&l, clear) {
			cost += costLabel
		}
	}
	for _, o := range append(slices.Clip(p.lines), p.anglesToCome(x)...) {
		if hits(&o.Line, tight) {
			cost += costLabel
		}
		for n := range lines {
			if lines[n].Bounds().Grown(beside * mm).Overlaps(o.extent) { // the same where lines are just so far apart
				cost += lineCost(&lines[n], n < extensionLines(x), &o, mm)
				if o.leader && x.shelf && n == 0 && lineCross(&lines[n], &o.Line) {
					cost += costLeaders
				}
			}
		}
	}
	return cost
}

// anglesToCome returns the extension lines of angles that are not placed, for
// whatever is no angle itself.
func (p *plainArranger) anglesToCome(x *Expansion) (out []placedLine) {
	for _, i := range p.toCome {
		if d, ok := p.items[i].Shape.(Angular); ok && x.nc == 0 {
			row := 4 // a narrow one, of a chamfer, stands close
			if turned(d.Start, d.End) < 50 {
				row = 1
			}
			d.Placed, d.At = true, max(d.From, d.To, 0)+p.off(row)
			y, _ := Expand(d, p.st)
			for _, l := range y.Lines() {
				out = append(out, placedLine{stroke: strokeOf(l), extension: true})
			}
		}
	}
	return out
}

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
