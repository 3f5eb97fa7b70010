package joint

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"boltplate/drawing"
	"boltplate/thread"
)

func tSlotScene() scene {
	return scene{name: TSlot, kind: "tee-bolt", nut: true, parts: [2]int{2, 4},
		reads:  append([]string{"hole"}, slotFields...),
		choose: (*chooser).tSlotScene,
		check: func(c *checker) {
			c.tSlot()
			c.holes(c.Parts)
			c.between()
			c.underNut()
			c.nutAndLength()
		},
		draw: (*board).tSlotScene}
}

// A tSlotRow is a row of ISO 299 (machine tool tables, T-slots and
// corresponding bolts): the bolt and the throat a of its slot, and the least
// and greatest width b and height c for the head and whole depth h, mm. Taken
// from one published table.
type tSlotRow struct{ d, a, bMin, bMax, cMin, cMax, hMin, hMax float64 }

const sourceISO299 = "ISO 299"

func tSlotTable() []tSlotRow {
	return []tSlotRow{
		{4, 5, 10, 11, 3.5, 4.5, 8, 10},
		{5, 6, 11, 12.5, 5, 6, 11, 13},
		{6, 8, 14.5, 16, 7, 8, 15, 18},
		{8, 10, 16, 18, 7, 8, 17, 21},
		{10, 12, 19, 21, 8, 9, 20, 25},
		{12, 14, 23, 25, 9, 11, 23, 28},
		{16, 18, 30, 32, 12, 14, 30, 36},
		{20, 22, 37, 40, 16, 18, 38, 45},
		{24, 28, 46, 50, 20, 22, 48, 56},
		{30, 36, 56, 60, 25, 28, 61, 71},
		{36, 42, 68, 72, 32, 35, 74, 85},
		{42, 48, 80, 85, 36, 40, 84, 95},
		{48, 54, 90, 95, 40, 44, 94, 106},
	}
}

// tSlot returns the row for which is says yes.
func tSlot(is func(tSlotRow) bool) (tSlotRow, bool) {
	rows := tSlotTable()
	i := slices.IndexFunc(rows, is)
	if i < 0 {
		return tSlotRow{}, false
	}
	return rows[i], true
}

const (
	// slotPlay is how much wider and higher than the head its room must be for
	// it to slide along the slot (mm, common practice).
	slotPlay = 0.5
	// lipBearing is how far each lip must reach over the head, in D (common
	// practice).
	lipBearing = 0.2
	// neckFills is how much of the throat a neck must fill at least, so that it
	// turns by no more than 26 degrees before its corners meet the sides (common
	// practice; every slot of ISO 299 does it for its bolt).
	neckFills = 0.75
	// slotFloor is how much metal must be left below a slot, in D (common
	// practice).
	slotFloor = 0.5
)

// boltForSlot chooses the bolt where only the slot was given: that of ISO 299
// for its throat.
func (j Joint) boltForSlot() (Joint, []Choice) {
	if j.Scene != TSlot || j.Bolt.Thread.D != 0 || len(j.Parts) == 0 {
		return j, nil
	}
	a := j.Parts[0].SlotWidth
	row, ok := tSlot(func(r tSlotRow) bool { return r.a == a })
	if !ok {
		return j, nil
	}
	t, err := thread.Coarse(row.d)
	if err != nil {
		return j, nil
	}
	j.Bolt.Thread = t
	return j, []Choice{{"bolt.size", t.String(), fmt.Sprintf("%s: the bolt for a throat of %s mm",
		sourceISO299, num(a))}}
}

// onlyKind refuses other fasteners than the one that a scene is made for, and a
// washer under its head.
func (c *chooser) onlyKind(kind, head string) error {
	if !strings.EqualFold(c.Bolt.Kind, kind) {
		return &FieldError{Field: "bolt.kind",
			Want: fmt.Sprintf("%s does not belong in the scene %s; use %s, or leave it out", c.Bolt.Kind,
				c.Scene, kind)}
	}
	if c.HeadWasher != "" && c.HeadWasher != "none" {
		return &FieldError{Field: "head_washer", Want: "no washer goes under " + head + "; leave it out"}
	}
	return nil
}

// tSlotScene chooses slot, holes and length.
func (c *chooser) tSlotScene() error {
	if err := c.onlyKind("tee-bolt", "a T-head"); err != nil {
		return err
	}
	if err := c.slot(); err != nil {
		return err
	}
	c.clearanceHoles(len(c.Parts))
	return c.lengthForNut()
}

// slot chooses the sizes of the slot: those of ISO 299 for the throat that was
// given, or for the bolt, as far as the head goes in.
func (c *chooser) slot() error {
	m, err := c.sized()
	if err != nil {
		return err
	}
	p, d := &c.Parts[0], m.t.D
	row, ok := tSlot(func(r tSlotRow) bool { return r.a == p.SlotWidth || p.SlotWidth == 0 && r.d == d })
	why := fmt.Sprintf("%s, the slot for M%s", sourceISO299, num(row.d))
	if !ok {
		row = tSlotByRule(d)
		why = fmt.Sprintf("%s has no such slot; 1.15D for the throat, and metal of 1.1D above the head (common practice)", sourceISO299)
	}
	c.choose(&p.SlotWidth, row.a, partField(0, "slot_width"), why)
	if headCorner := m.headCorner(); m.inThroat().corner <= p.SlotWidth && headCorner <= row.bMin {
		c.choose(&p.SlotHead, halfUp(m.fit.Head.Length+slotPlay), partField(0, "slot_head"),
			fmt.Sprintf("narrow enough that the head, which is %s mm over its corners, cannot turn; the slot of %s is wider", num(headCorner), sourceISO299))
	}
	if ok && p.SlotHead == 0 && m.fit.Head.Length+slotPlay > row.bMax+slack || ok && p.SlotDepth == 0 &&
		m.fit.Head.Height+slotPlay > row.cMax+slack {
		return &FieldError{Field: "bolt.size",
			Want: fmt.Sprintf("the head of %s, %s × %s mm, does not slide in the slot of %s for %s mm, at most %s × %s mm; take another size, basis proportion, or give slot_head and slot_depth of the slot there is",
				m.Bolt.Kind+" "+m.t.String(), num(m.fit.Head.Length), num(m.fit.Head.Height), sourceISO299, num(row.a), num(row.bMax),
				num(row.cMax))}
	}
	c.room(&p.SlotHead, m.fit.Head.Length, row.bMin, row.bMax, "slot_head", "long", why)
	c.room(&p.SlotDepth, m.fit.Head.Height, row.cMin, row.cMax, "slot_depth", "thick", why)
	whole := p.SlotDepth + m.leastLips()
	if whole <= row.hMax {
		whole = math.Max(whole, row.hMin)
	} else {
		why = "deeper than that of " + sourceISO299 + ", for enough metal above the head"
	}
	c.choose(&p.SlotWhole, halfUp(whole), partField(0, "slot_whole"), why)
	switch {
	case p.SlotWhole <= p.SlotDepth:
		return &FieldError{Field: partField(0, "slot_whole"),
			Want: fmt.Sprintf("must be more than slot_depth, which is %s mm: it is the depth from the face to the bottom", num(p.SlotDepth))}
	case p.Thickness <= p.SlotWhole:
		return &FieldError{Field: partField(0, "thickness"),
			Want: fmt.Sprintf("must be more than the whole depth of the slot, which is %s mm", num(p.SlotWhole))}
	}
	return nil
}

// tSlotByRule returns a slot for a bolt that ISO 299 does not have.
func tSlotByRule(d float64) tSlotRow {
	r := tSlotRow{d: d, a: halfUp(1.15 * d)}
	r.bMax, r.cMax, r.hMax = math.Inf(1), math.Inf(1), math.Inf(1)
	return r
}

// room chooses the width or the height of the room for the head: the least of
// the standard in which it slides, or just enough for it where it is too large
// for the standard.
func (c *chooser) room(to *float64, head, least, greatest float64, field, size, why string) {
	v := math.Max(least, halfUp(head+slotPlay))
	if v > greatest {
		why = fmt.Sprintf("the head is %s mm %s, and slides with %s mm of play; that of %s is at most %s mm",
			num(head), size, num(slotPlay), sourceISO299, num(greatest))
	}
	c.choose(to, v, partField(0, field), why)
}

// halfUp rounds up to half millimetres.
func halfUp(v float64) float64 { return math.Ceil(v*2-slack) / 2 }

// leastLips returns how much metal must stand above the head of a T-head bolt.
// In every row of ISO 299 the depth less the greatest room for the head leaves
// D or more.
func (m *model) leastLips() float64 { return math.Max(m.t.D, m.fit.Neck.Length) }

// A stander is what stands in the throat under a T-head: its width across the
// slot, and the diameter of the circle about its corners.
type stander struct {
	name           string
	across, corner float64
	length         float64
}

// inThroat returns the neck, the nibs or the shank.
func (m *model) inThroat() stander {
	d := m.t.D
	if s := m.fit.Neck.Side; s > 0 {
		return stander{"the square neck", s, s * math.Sqrt2, m.fit.Neck.Length}
	}
	if g := m.fit.Snug.Projection; g > 0 {
		span := d + 2*g
		return stander{"the pair of nibs", span, math.Hypot(span, m.fit.Snug.Width), m.fit.Snug.Length}
	}
	return stander{"the shank", d, d, 0}
}

// headCorner returns the diameter of the circle about the corners of a T-head.
func (m *model) headCorner() float64 { return math.Hypot(m.fit.Head.Length, m.fit.Head.Width) }

// tSlot checks the head in its slot.
func (c *checker) tSlot() {
	p := c.Parts[0]
	name := c.partName(0)
	c.enters(fmt.Sprintf("the head is too long for the slot in %s", name), SlotHead, c.fit.Head.Length, p.SlotHead,
		"slot", "wide for the head", drawing.Pt(-p.SlotDepth/2, p.SlotHead/2))
	c.enters(fmt.Sprintf("the head is too thick for the slot in %s", name), SlotDepth, c.fit.Head.Height, p.SlotDepth,
		"slot", "high for the head", drawing.Pt(-p.SlotDepth, 0))
	c.throat(p)
	lips := p.SlotWhole - p.SlotDepth
	if need := c.t.D; lips < need-slack {
		c.add(Finding{Code: Lips, What: fmt.Sprintf("too little metal above the head in %s", name), Measured: lips,
			Required: need, Unit: "mm",
			Remedy: fmt.Sprintf("a slot at least %s mm deep", num(p.SlotDepth+need)),
			Rule:   "D of metal above the head, as every slot of the standard has",
			Source: "follows from " + sourceISO299 + ": h min - c max", At: drawing.Pt(lips/2, p.SlotWidth/2+c.t.D/4)})
	}
	if floor, need := p.Thickness-p.SlotWhole, slotFloor*c.t.D; floor < need-slack {
		c.add(Finding{Code: Wall, What: fmt.Sprintf("too little metal below the slot in %s", name), Measured: floor,
			Required: need, Unit: "mm",
			Remedy: fmt.Sprintf("a part at least %s mm thick", num(math.Ceil(p.SlotWhole+need-slack))),
			Rule:   "0.5D of metal below the slot", Source: practice,
			At: drawing.Pt(-p.SlotDepth-floor/2, 0)})
	}
	if need := p.SlotHead/2 + c.t.D; p.Edge > 0 && p.Edge < need-slack {
		c.add(Finding{Code: Edge, What: fmt.Sprintf("the slot is too near to the edge of %s", name),
			Measured: p.Edge, Required: need, Unit: "mm",
			Remedy: fmt.Sprintf("at least %s mm from the axis to the edge", num(need)),
			Rule:   "D of metal beside the room for the head", Source: practice,
			At: drawing.Pt(-p.SlotDepth/2, -p.Edge)})
	}
}

// enters checks that the head goes into its room.
func (c *checker) enters(what string, code Code, head, room float64, part, size string, at drawing.Point) {
	if room >= head+slotPlay-slack {
		return
	}
	f := Finding{Code: code, What: what, Measured: room, Required: head + slotPlay, Unit: "mm", At: at,
		Source: practice,
		Remedy: fmt.Sprintf("a %s at least %s mm %s", part, num(head+slotPlay), size),
		Rule:   "0.5 mm of play for a head that slides along the slot"}
	if room >= head-slack {
		f.Severity, f.What = Warning, strings.Replace(what, "is too", "is all but too", 1)
	}
	c.add(f)
}

// throat checks what stands in the throat, and that the bolt cannot turn.
func (c *checker) throat(p Part) {
	n, a, name := c.inThroat(), p.SlotWidth, c.partName(0)
	lips := p.SlotWhole - p.SlotDepth
	at := drawing.Pt(math.Min(n.length, lips)/2, a/2)
	headCorner := c.headCorner()
	neckHolds, headHolds := n.corner > a+slack, headCorner > p.SlotHead+slack
	switch {
	case n.across > a+slack:
		c.add(Finding{Code: SlotThroat, What: fmt.Sprintf("%s is wider than the throat of the slot in %s", n.name,
			name), Measured: a, Required: n.across, Unit: "mm",
			Remedy: c.throatRemedy(n), Rule: "what stands in the throat is no wider than it",
			Source: practice, At: at})
	case !neckHolds && !headHolds:
		c.add(Finding{Code: Turns, What: "the bolt turns in the slot when the nut is turned", Measured: p.SlotHead,
			Required: headCorner, Unit: "mm",
			Remedy: fmt.Sprintf("a square neck in a throat of at most %s mm, or less than %s mm of width for the head",
				num(c.t.D/neckFills), num(headCorner)),
			Rule:   "the corners of neck or head are further apart than the sides of the slot",
			Source: "geometry of the parts", At: drawing.Pt(-p.SlotDepth/2, p.SlotHead/2)})
	case n.length > 0 && (!neckHolds || n.across < neckFills*a-slack):
		c.add(Finding{Code: NeckLoose, Severity: Warning,
			What: fmt.Sprintf("%s is loose in the throat of the slot in %s", n.name, name), Measured: a,
			Required: n.across / neckFills, Unit: "mm",
			Remedy: fmt.Sprintf("a throat of at most %s mm, or a larger bolt", num(n.across/neckFills)),
			Rule:   "the neck fills 0.75 of the throat, so that it turns by 26 degrees at most",
			Source: practice, At: at})
	}
	if n.length > lips+slack {
		c.add(Finding{Code: NeckLong, What: fmt.Sprintf("%s stands out of the throat of the slot in %s", n.name,
			name), Measured: n.length, Required: lips, Unit: "mm",
			Remedy: fmt.Sprintf("a throat at least %s mm deep", num(n.length)),
			Rule:   "the neck ends inside the throat", Source: practice, At: drawing.Pt(lips, n.across/2)})
	}
	if bears, need := (c.fit.Head.Length-a)/2, lipBearing*c.t.D; bears < need-slack {
		c.add(Finding{Code: Bearing, What: fmt.Sprintf("the head bears on too little of %s", name), Measured: bears,
			Required: need, Unit: "mm",
			Remedy: fmt.Sprintf("a throat of at most %s mm", num(c.fit.Head.Length-2*need)),
			Rule:   "each side of the slot reaches over the head by 0.2D", Source: practice,
			At: drawing.Pt(0, -a/2-math.Max(bears, 0)/2)})
	}
}

func (c *checker) throatRemedy(n stander) string {
	if n.across > c.t.D+slack {
		return fmt.Sprintf("a square neck, or a throat of at least %s mm", num(n.across))
	}
	row, ok := tSlot(func(r tSlotRow) bool { return r.d == c.t.D })
	if !ok {
		return fmt.Sprintf("a throat of at least %s mm", num(n.across))
	}
	return fmt.Sprintf("a throat of %s mm, that of ISO 299 for this bolt", num(row.a))
}

// A bar is a stretch of the axis with the half width of what is there.
type bar struct{ x0, x1, r float64 }

// slotBars returns the room of the slot, and bolt what the bolt fills of it, as
// seen across the slot or along it.
func (b *board) slotBars() []bar {
	p := b.Parts[0]
	return []bar{{0, p.SlotWhole - p.SlotDepth, p.SlotWidth / 2}, {-p.SlotDepth, 0, p.SlotHead / 2}}
}

func (b *board) teeBars(dir drawing.Direction) []bar {
	n := b.inThroat()
	head, neck := b.fit.Head.Length, n.across
	if dir == drawing.SideView {
		head, neck = b.fit.Head.Width, math.Min(b.t.D, neck)
	}
	return []bar{{-b.fit.Head.Height, 0, head / 2}, {0, n.length, neck / 2}, {0, b.length(), b.t.D / 2}}
}

func (b *board) tSlotScene() error {
	b.upward, b.even = true, true // the table below, the nut on top
	w := b.slotWidth()
	across := b.teeBars(drawing.Front)
	b.caption = "Section across the slot"
	b.slotAcross(w, across)
	p := b.Parts[0]
	top := p.SlotWhole - p.SlotDepth
	if err := b.clampedParts(w, drawing.Front); err != nil {
		return err
	}
	side := &board{st: b.st, model: b.model, upward: true, caption: "Section along the slot"}
	x := top
	for i, q := range b.Parts[1:] {
		b.along("t"+strconv.Itoa(i+2), "thickness", x, w, x+q.Thickness, w)
		side.holeSize(i+1, x+0.6*q.Thickness, 1, 160)
		x += q.Thickness
	}
	b.listFastener(-b.fit.Head.Height / 2)
	b.list[0].tip.Y = 0.4 * b.fit.Head.Length
	first := len(b.list)
	b.listParts(w)
	for i, q := range b.Parts { // the numbers are on the side of the edge
		if tip := &b.list[first+i].tip; q.Edge > 0 {
			tip.Y = math.Min(tip.Y, q.Edge-b.st.Part(2))
		}
	}

	side.slotAlong(w)
	side.along("L", "length", 0, side.fit.Head.Width/2, side.length(), side.t.RootDiameter()/2)
	side.along("b1", "thread length", side.limit(), side.t.D/2, side.length(), side.t.RootDiameter()/2)
	b.beside = append(b.beside, side)
	b.under = b.slotAlone(w)
	return side.clampedParts(w, drawing.SideView)
}

// slotAlone draws the slotted part by itself, with the sizes of its slot.
func (b *board) slotAlone(w float64) *board {
	p := b.Parts[0]
	top, bottom := p.SlotWhole-p.SlotDepth, p.SlotWhole-p.SlotDepth-p.Thickness
	s := &board{st: b.st, model: b.model, upward: true, caption: "The slot"}
	s.slotAcross(w, nil)
	over := b.st.Part(drawing.CentreOverrun)
	s.line(drawing.RoleCentre, bottom-over, 0, top+over, 0)
	s.along("t1", "thickness", bottom, w, top, w)
	s.along("h", "depth of slot", -p.SlotDepth, p.SlotHead/2, top, w)
	s.along("c", "height for the head", -p.SlotDepth, p.SlotHead/2, 0, p.SlotHead/2)
	s.widthAt("b", "width for the head", drawing.Below, -p.SlotDepth, p.SlotHead/2)
	s.widthAt("a", "throat", drawing.Above, top, p.SlotWidth/2)
	return s
}

// slotWidth returns how far from the axis the parts are drawn.
func (b *board) slotWidth() float64 {
	return math.Max(b.width(), math.Max(b.Parts[0].SlotHead, b.fit.Head.Length)/2+math.Max(0.8*b.t.D, b.st.Part(8)))
}

// clampedParts draws the parts on the slotted one, and the bolt with its nut.
func (b *board) clampedParts(w float64, dir drawing.Direction) error {
	x := b.Parts[0].SlotWhole - b.Parts[0].SlotDepth
	for i, p := range b.Parts[1:] {
		b.plate(i+1, p, x, x+p.Thickness, w, b.t.D/2)
		x += p.Thickness
	}
	bolted, err := b.bolted()
	if err != nil {
		return err
	}
	return b.fastenerFrom(bolted, dir, 0)
}

// slotAcross draws the slotted part cut across its slot.
func (b *board) slotAcross(w float64, bolt []bar) {
	p := b.Parts[0]
	bottom, floor, top := -p.SlotDepth-(p.Thickness-p.SlotWhole), -p.SlotDepth, p.SlotWhole-p.SlotDepth
	low := w
	if p.Edge > 0 && p.Edge < w {
		low = p.Edge
	}
	wall := profile(top, bottom, append(b.slotBars(), bolt...))
	var upper, lower []drawing.Vertex
	for _, q := range wall {
		upper = append(upper, drawing.Vertex{Point: q})
		lower = append(lower, drawing.Vertex{Point: drawing.Pt(q.X, -q.Y)})
	}
	upper = append(append(upper, drawing.Vertex{Point: drawing.Pt(bottom, 0)}), b.broken(bottom, top, w)...)
	lower = append(lower, drawing.Vertex{Point: drawing.Pt(bottom, 0)})
	b.breakLine(bottom, top, w)
	if low < w {
		lower = append(lower, drawing.Vertex{Point: drawing.Pt(bottom, -low)},
			drawing.Vertex{Point: drawing.Pt(top, -low)})
		b.line(drawing.RoleOutline, bottom, -low, top, -low)
	} else {
		lower = append(lower, b.broken(bottom, top, -w)...)
		b.breakLine(bottom, top, -w)
	}
	slices.Reverse(lower)
	b.hatch(p.Thickness, joined(upper, lower))
	b.line(drawing.RoleOutline, bottom, -low, bottom, w)
	for _, s := range [2]float64{1, -1} {
		end := w
		if s < 0 {
			end = low
		}
		b.seen(bolt, 0, s*p.SlotWidth/2, top, s*p.SlotWidth/2)
		b.seen(bolt, 0, s*p.SlotWidth/2, 0, s*p.SlotHead/2)
		b.seen(bolt, floor, s*p.SlotHead/2, 0, s*p.SlotHead/2)
		b.seen(bolt, top, s*p.SlotWidth/2, top, s*end)
	}
	b.seen(bolt, floor, -p.SlotHead/2, floor, p.SlotHead/2)
}

// slotAlong draws the slotted part cut along the middle of its slot: only what
// is below the slot is cut, and behind it one sees the side of the slot.
func (b *board) slotAlong(w float64) {
	p := b.Parts[0]
	bolt := b.teeBars(drawing.SideView)
	bottom, floor, top := -p.SlotDepth-(p.Thickness-p.SlotWhole), -p.SlotDepth, p.SlotWhole-p.SlotDepth
	loop := append([]drawing.Vertex{}, b.broken(bottom, floor, w)...)
	// Round the head, should it reach into the bottom.
	if head := bolt[0]; head.x0 < floor {
		loop = append(loop, drawing.Vertex{Point: drawing.Pt(floor, head.r)},
			drawing.Vertex{Point: drawing.Pt(head.x0, head.r)},
			drawing.Vertex{Point: drawing.Pt(head.x0, -head.r)}, drawing.Vertex{Point: drawing.Pt(floor, -head.r)})
	}
	loop = append(loop, b.broken(floor, bottom, -w)...)
	b.hatch(p.Thickness, loop)
	for _, s := range [2]float64{w, -w} {
		b.breakLine(bottom, top, s)
	}
	b.line(drawing.RoleOutline, bottom, -w, bottom, w)
	b.seen(bolt, floor, -w, floor, w)
	b.seen(bolt, 0, -w, 0, w)
	b.seen(bolt, top, -w, top, w)
}

// profile returns the corners of the half outline of what bars take up between
// two places on the axis, from x1 down to x0; where they overlap the widest
// counts, and where there is none it is the axis.
func profile(x1, x0 float64, bars []bar) []drawing.Point {
	cuts := []float64{x0, x1}
	for _, s := range bars {
		for _, x := range [2]float64{s.x0, s.x1} {
			if x > x0 && x < x1 {
				cuts = append(cuts, x)
			}
		}
	}
	slices.Sort(cuts)
	cuts = slices.Compact(cuts)
	slices.Reverse(cuts)
	var out []drawing.Point
	for i, hi := range cuts[:len(cuts)-1] {
		lo := cuts[i+1]
		r := 0.0
		for _, s := range bars {
			if mid := (lo + hi) / 2; s.x0 < mid && mid < s.x1 {
				r = math.Max(r, s.r)
			}
		}
		if n := len(out); n > 0 && out[n-1].Y == r {
			out[n-1].X = lo
			continue
		}
		out = append(out, drawing.Pt(hi, r), drawing.Pt(lo, r))
	}
	return out
}

// seen draws an edge, along the axis or across it, as far as no bar stands
// before it.
func (b *board) seen(before []bar, x1, y1, x2, y2 float64) {
	type span struct{ from, to float64 }
	lengthwise := y1 == y2
	from, to := math.Min(y1, y2), math.Max(y1, y2)
	if lengthwise {
		from, to = math.Min(x1, x2), math.Max(x1, x2)
	}
	left := []span{{from, to}}
	for _, s := range before {
		cut := span{-s.r, s.r}
		hides := s.x0 < x1 && x1 < s.x1
		if lengthwise {
			cut = span{s.x0, s.x1}
			hides = math.Abs(y1) < s.r
		}
		if !hides {
			continue
		}
		var rest []span
		for _, l := range left {
			for _, r := range [2]span{{l.from, math.Min(l.to, cut.from)}, {math.Max(l.from, cut.to), l.to}} {
				if r.from < r.to {
					rest = append(rest, r)
				}
			}
		}
		left = rest
	}
	for _, l := range left {
		if lengthwise {
			b.line(drawing.RoleOutline, l.from, y1, l.to, y1)
		} else {
			b.line(drawing.RoleOutline, x1, l.from, x1, l.to)
		}
	}
}
