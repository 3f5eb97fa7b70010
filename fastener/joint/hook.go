package joint

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"boltplate/drawing"
	"boltplate/internal/lines"
)

func hookScene() scene {
	return scene{name: Hook, kind: "hook-bolt", nut: true, parts: [2]int{2, 3},
		reads:  []string{"hole", "slot_width", "overlap", "packing"},
		choose: (*chooser).hookScene,
		check: func(c *checker) {
			c.hook()
			c.holes(c.Parts)
			c.squareHoles()
			c.nutAndLength()
		},
		draw: (*board).hookScene}
}

const (
	// leastCover is how far a hook must reach over the edge of a part, in D:
	// half of what it can (common practice).
	leastCover = 0.5
	// edgeTurn is the greatest gap, in D, at which the edge of a part still
	// keeps the square under the hook from turning: the square turns by 13
	// degrees before its corner meets the edge (common practice).
	edgeTurn = 0.1
	// chosenPacking and leastPacking are thicknesses of soft packing on each
	// side of a brittle part (mm, common practice).
	chosenPacking = 2.0
	leastPacking  = 1.0
)

// edgeGap returns the least gap between the edge of a brittle part and steel:
// 2 mm or 0.1D, whichever is more (common practice).
func edgeGap(d float64) float64 { return math.Max(2, 0.1*d) }

// squarePlay returns how much wider a square hole is than the square in it: 0.5
// mm or 0.05D, whichever is more, in half millimetres (common practice).
func squarePlay(d float64) float64 { return halfUp(math.Max(0.5, 0.05*d)) }

// hookScene chooses packing, overlap, holes and length.
func (c *chooser) hookScene() error {
	if err := c.onlyKind("hook-bolt", "a hook"); err != nil {
		return err
	}
	p := &c.Parts[0]
	if p.brittle() {
		c.choose(&p.Packing, chosenPacking, partField(0, "packing"),
			"soft packing on both sides of a brittle part (common practice)")
	}
	m, err := c.sized()
	if err != nil {
		return err
	}
	d, reach := m.t.D, m.fit.Head.Length-m.fit.Neck.Side
	gap, why := 0.05*d, "as far as the hook reaches, the edge at the square, which it keeps from turning (common practice)"
	if p.brittle() {
		gap, why = math.Max(edgeGap(d), 0.15*d),
			"as far as the hook reaches, with a gap at the edge, which steel must not touch (common practice)"
	}
	c.choose(&p.Overlap, halfDown(reach-gap), partField(0, "overlap"), why)
	for i := 1; i < len(c.Parts); i++ {
		if q := &c.Parts[i]; q.Hole == 0 && m.squareIn(i) > slack {
			c.choose(&q.SlotWidth, m.fit.Neck.Side+squarePlay(d), partField(i, "slot_width"),
				"a square hole, because the square under the hook reaches into it; 0.5 mm or 0.05D of play (common practice)")
		}
	}
	c.clearanceHoles(len(c.Parts))
	return c.lengthForNut()
}

// halfDown rounds down to half millimetres.
func halfDown(v float64) float64 { return math.Floor(v*2+slack) / 2 }

// squareIn returns how far the square under the hook reaches into a part;
// nothing or less where it ends before it.
func (m *model) squareIn(i int) float64 {
	start := 0.0
	for k := range i {
		start += m.taken(k)
	}
	return m.fit.Neck.Length - start
}

// tip returns how far the hook reaches from the axis, and edge how far from it
// the edge of the part is.
func (m *model) tip() float64  { return m.fit.Head.Length - m.fit.Neck.Side/2 }
func (m *model) edge() float64 { return m.tip() - m.Parts[0].Overlap }

// squareHeld reports whether a square hole keeps the hook from turning.
func (m *model) squareHeld() bool {
	for i := 1; i < len(m.Parts); i++ {
		if m.Parts[i].SlotWidth > 0 && m.squareIn(i) > slack {
			return true
		}
	}
	return false
}

// hook checks the part that the hook reaches over.
func (c *checker) hook() {
	p, d, name := c.Parts[0], c.t.D, c.partName(0)
	under := drawing.Pt(0, (c.edge()+c.tip())/2)
	if need := leastCover * d; p.Overlap < need-slack {
		c.add(Finding{Code: HookCover, What: fmt.Sprintf("the hook reaches too little over %s", name),
			Measured: p.Overlap, Required: need, Unit: "mm",
			Remedy: fmt.Sprintf("set the bolt nearer to the edge, or use a larger one; this one reaches over by up to %s mm", num(c.fit.Head.Length-c.fit.Neck.Side)),
			Rule:   "the hook reaches over the part by D/2 or more", Source: practice, At: under})
	}
	c.atEdge(p, name)
	if p.brittle() && p.Packing < leastPacking-slack {
		c.add(Finding{Code: PackingThin, What: fmt.Sprintf("too little soft packing on %s", name),
			Measured: p.Packing, Required: leastPacking, Unit: "mm",
			Remedy: fmt.Sprintf("soft packing, %s mm on each side", num(chosenPacking)),
			Rule:   "1 to 2 mm of soft packing on both sides of a brittle part", Source: practice, At: under})
	}
	for i, q := range c.Parts {
		if q.brittle() && (q.Hole > 0 || i > 0) {
			c.add(Finding{Code: BrittleHole, What: fmt.Sprintf("%s is brittle and has a hole", c.partName(i)),
				Measured: q.Hole, Required: 0, Unit: "mm",
				Remedy: "no hole; let the hook reach over its edge", Rule: "a brittle part is not drilled",
				Source: practice, At: drawing.Pt(c.middle(i), c.edge()+d/4)})
		}
	}
	if grip := c.grip(); c.fit.Neck.Length > grip+slack {
		c.add(Finding{Code: NeckLong,
			What:     "the square under the hook is longer than what is clamped, so that the nut meets it",
			Measured: c.fit.Neck.Length, Required: grip, Unit: "mm",
			Remedy: "thicker parts, packing, or a smaller bolt", Rule: "the square ends before the last face",
			Source: practice, At: drawing.Pt(c.fit.Neck.Length, -c.fit.Neck.Side/2)})
	}
}

// atEdge checks the gap between the square and the edge of the part.
func (c *checker) atEdge(p Part, name string) {
	s := c.fit.Neck.Side
	gap := c.edge() - s/2
	at := drawing.Pt(p.Packing+p.Thickness/2, c.edge())
	switch {
	case p.brittle() && gap < edgeGap(c.t.D)-slack:
		c.add(Finding{Code: EdgeGap, What: fmt.Sprintf("the edge of %s is too near to the square under the hook",
			name), Measured: gap, Required: edgeGap(c.t.D), Unit: "mm",
			Remedy: fmt.Sprintf("an overlap of at most %s mm", num(c.fit.Head.Length-s-edgeGap(c.t.D))),
			Rule:   "steel stays 2 mm or 0.1D clear of the edge of a brittle part", Source: practice, At: at})
	case gap < -slack:
		c.add(Finding{Code: EdgeGap, What: fmt.Sprintf("%s meets the square under the hook", name),
			Measured: p.Overlap, Required: c.fit.Head.Length - s, Unit: "mm",
			Remedy: fmt.Sprintf("an overlap of at most %s mm", num(c.fit.Head.Length-s)),
			Rule:   "the part ends at the square", Source: "geometry of the parts", At: at})
	case !p.brittle() && !c.squareHeld() && gap > edgeTurn*c.t.D+slack:
		c.add(Finding{Code: Turns, Severity: Warning, What: "the hook turns when the nut is turned", Measured: gap,
			Required: edgeTurn * c.t.D, Unit: "mm",
			Remedy: fmt.Sprintf("an overlap of at least %s mm, so that the edge of %s holds the square",
				num(c.fit.Head.Length-s-edgeTurn*c.t.D), name),
			Rule: "a gap of 0.1D at most: the square turns by 13 degrees", Source: practice, At: at})
	}
}

// squareHoles checks what the square under the hook goes into, and what the nut
// bears on.
func (c *checker) squareHoles() {
	s := c.fit.Neck.Side
	for i := 1; i < len(c.Parts); i++ {
		p, name := c.Parts[i], c.partName(i)
		f := Finding{Code: SquareHole, Unit: "mm", Source: practice, At: drawing.Pt(c.middle(i)-c.taken(i)/2, s/2),
			Remedy: fmt.Sprintf("a square hole of %s mm", num(s+squarePlay(c.t.D)))}
		switch in := c.squareIn(i); {
		case p.SlotWidth > 0 && p.SlotWidth < s-slack:
			f.What, f.Measured, f.Required, f.Rule = fmt.Sprintf("the square hole in %s is too small for the bolt",
				name), p.SlotWidth, s, "as wide as the square, or wider"
		case p.SlotWidth == 0 && in > slack && p.Hole < s*math.Sqrt2-slack:
			f.What, f.Measured, f.Required,
				f.Rule = fmt.Sprintf("the square under the hook reaches into %s, whose round hole does not take it",
				name), p.Hole, s*math.Sqrt2, "as wide as the square is over its corners"
		case p.SlotWidth > 0 && in > slack && s < neckFills*p.SlotWidth-slack:
			f.Code, f.Severity, f.What, f.Measured, f.Required = NeckLoose, Warning,
				fmt.Sprintf("the square under the hook is loose in %s", name), p.SlotWidth, s/neckFills
			f.Rule = "the square fills 0.75 of its hole, so that it turns by 26 degrees at most"
		default:
			continue
		}
		c.add(f)
	}
	last := len(c.Parts) - 1
	p := c.Parts[last]
	p.Hole = math.Max(p.Hole, p.SlotWidth*math.Sqrt2) // a square must be covered with its corners
	c.bears("the nut", c.washer, c.nut.Bears, p, last, c.seat()-c.washer.Thickness)
}

func (b *board) hookScene() error {
	w := b.hookWidth()
	b.hooked(w)
	x := b.taken(0)
	for i, q := range b.Parts[1:] {
		hole, symbol := b.holeOf(i + 1)
		q.Hole = hole.Value
		b.plate(i+1, q, x, x+q.Thickness, w, b.t.D/2)
		b.along("t"+strconv.Itoa(i+2), "thickness", x, -w, x+q.Thickness, -w)
		if i > 0 { // that of the first one is in the plan
			b.leader("", hole, symbol, x+0.6*q.Thickness, -hole.Value/2, 190)
		}
		x += q.Thickness
	}
	bolted, err := b.bolted()
	if err != nil {
		return err
	}
	if err := b.fastener(bolted, 0); err != nil {
		return err
	}
	b.along("L", "length", 0, -b.fit.Neck.Side/2, b.length(), -b.t.RootDiameter()/2)
	b.along("b", "thread length", b.limit(), -b.t.D/2, b.length(), -b.t.RootDiameter()/2)
	b.hookList(w)
	b.hookNotes()
	return b.plan(w)
}

// holeOf returns the hole of a part behind the hook, round or square.
func (b *board) holeOf(i int) (drawing.Quantity, drawing.Symbol) {
	q := drawing.Quantity{Letter: "Dh" + strconv.Itoa(i+1), Name: "hole", Value: b.Parts[i].Hole}
	if s := b.Parts[i].SlotWidth; s > 0 {
		q.Letter, q.Name, q.Value = "Sh"+strconv.Itoa(i+1), "side of square hole", s
		return q, drawing.SquareSymbol
	}
	return q, drawing.DiameterSymbol
}

// hookWidth returns how far from the axis the parts are drawn.
func (b *board) hookWidth() float64 {
	return math.Max(b.width(), math.Max(b.tip(), b.padEnd())+math.Max(0.6*b.t.D, b.st.Part(8)))
}

// padEnd returns how far from the axis the packing reaches, and padSide how far
// to each side.
func (b *board) padEnd() float64  { return b.tip() + math.Max(0.25*b.t.D, b.st.Part(2)) }
func (b *board) padSide() float64 { return b.fit.Neck.Side/2 + math.Max(0.25*b.t.D, b.st.Part(2)) }

// hooked draws the part under the hook in section, with its packing.
func (b *board) hooked(w float64) {
	p := b.Parts[0]
	edge := math.Max(b.edge(), b.fit.Neck.Side/2) // the bolt hides the rest
	x0, x1 := p.Packing, p.Packing+p.Thickness
	loop := append([]drawing.Vertex{{Point: drawing.Pt(x0, edge)}, {Point: drawing.Pt(x1, edge)}},
		b.broken(x1, x0, w)...)
	b.hatch(p.Thickness, loop)
	b.breakLine(x0, x1, w)
	b.line(drawing.RoleOutline, x0, edge, x1, edge)
	b.line(drawing.RoleOutline, x0, edge, x0, w)
	b.line(drawing.RoleOutline, x1, edge, x1, w)
	if p.Packing == 0 {
		return
	}
	for _, x := range [2]float64{0, x1} {
		b.pad(x, x+p.Packing, edge, b.padEnd())
	}
}

// pad draws a piece of packing in section: filled, as thin sections are (ISO
// 128-3), or closely hatched.
func (b *board) pad(x0, x1, y0, y1 float64) {
	loop := []drawing.Vertex{{Point: drawing.Pt(x0, y0)}, {Point: drawing.Pt(x1, y0)},
		{Point: drawing.Pt(x1, y1)}, {Point: drawing.Pt(x0, y1)}}
	const thin = 1.5 // mm on paper
	h := drawing.Hatch{Loops: [][]drawing.Vertex{loop}, Angle: b.hand, Spacing: 1}
	h.Solid = (x1-x0)*b.st.PaperScale() < thin
	b.add(drawing.RoleHatching, h)
	for i, v := range loop {
		u := loop[(i+1)%len(loop)]
		b.line(drawing.RoleOutline, v.X, v.Y, u.X, u.Y)
	}
}

// hookList lists the bolt with nut and washer, the parts and the packing.
func (b *board) hookList(w float64) {
	p := b.Parts[0]
	b.listFastener(-b.fit.Head.Height / 2)
	b.list[0].tip.Y = 0.8 * b.tip()
	first := len(b.list)
	b.listParts(w)
	// Its thickness stands here: what lies beside the hook leaves no place for
	// a dimension.
	b.list[first].name += fmt.Sprintf(", %s thick", num(p.Thickness))
	if p.Packing > 0 {
		b.list = append(b.list, listed{fmt.Sprintf("Soft packing, %s thick", num(p.Packing)), "",
			drawing.Pt(p.Packing/2, b.padEnd()-b.st.Part(1)), 2})
	}
}

// hookNotes writes cautions.
func (b *board) hookNotes() {
	p := b.Parts[0]
	if !p.brittle() {
		return
	}
	if !b.squareHeld() {
		b.notes = append(b.notes,
			"Hold the hook by its sides while the nut is turned: the square stands clear of the edge, and nothing else keeps it from turning.")
	}
	b.notes = append(b.notes,
		"Tighten only until the packing is pressed, and secure the nut so that it does not work loose.",
		"CAUTION: where the plate could fall on people, overhead or from a height, the maker of the plate, the local code and licensed practice say how it is held; they may ask for more cover than a hook gives. No load rating is given here.")
}

// plan draws what is seen from the side of the hook, below the section: the
// hook over the edge of the part, and the hole behind it.
func (b *board) plan(w float64) error {
	u := &board{st: b.st, model: b.model}
	if err := u.fastenerFrom(b.bolt, drawing.HeadEnd, 0); err != nil {
		return err
	}
	side := math.Max(b.padSide(), b.fit.Neck.Side/2+math.Max(0.6*b.t.D, b.st.Part(8)))
	s, edge := b.fit.Neck.Side/2, math.Max(b.edge(), b.fit.Neck.Side/2)
	low := w
	if q := b.Parts[1]; q.Edge > 0 && q.Edge < w {
		low = q.Edge
		u.line(drawing.RoleOutline, -side, -low, side, -low)
	} else {
		u.breakLine(-side, side, -low)
	}
	u.breakLine(-side, side, w)
	for _, x := range [2]float64{-side, side} {
		u.breakAcross(x, -low, w)
	}
	// The edge, hidden under the hook.
	u.line(drawing.RoleOutline, -side, edge, -s, edge)
	u.line(drawing.RoleOutline, s, edge, side, edge)
	u.line(drawing.RoleHidden, -s, edge, s, edge)
	if b.Parts[0].Packing > 0 {
		x, y := b.padSide(), b.padEnd()
		u.line(drawing.RoleOutline, -x, edge, -x, y)
		u.line(drawing.RoleOutline, x, edge, x, y)
		u.line(drawing.RoleOutline, -x, y, x, y)
	}
	u.holeBehind(edge)
	u.items = lines.Merge(u.items)
	hole, symbol := b.holeOf(1)
	// On the piece of its edge that the hook leaves free.
	tip := drawing.Polar(hole.Value/2, -75)
	if symbol == drawing.SquareSymbol {
		tip.Y = -hole.Value / 2
	}
	u.leader("", hole, symbol, tip.X, tip.Y, 205)
	u.dims = append(u.dims,
		drawing.Item{Role: drawing.RoleDimension, Shape: drawing.Linear{
			Label: drawing.Label{Quantity: drawing.Quantity{Letter: "f", Name: "axis to edge", Value: b.edge()}},
			Side:  drawing.Below, From: u.at(s, 0), To: u.at(side, edge)}},
		drawing.Item{Role: drawing.RoleDimension, Shape: drawing.Linear{
			Label: drawing.Label{Quantity: drawing.Quantity{Letter: "o", Name: "overlap", Value: b.Parts[0].Overlap}},
			Side:  drawing.Below, From: u.at(side, edge), To: u.at(s, b.tip())}})
	b.under = u
	return nil
}

// breakAcross draws a break at x from y0 to y1.
func (b *board) breakAcross(x, y0, y1 float64) {
	vs := b.broken(y0, y1, x)
	for i, v := range vs {
		vs[i] = drawing.Vertex{Point: drawing.Pt(v.Y, v.X), Bulge: -v.Bulge}
	}
	b.add(drawing.RoleThin, drawing.Polyline{Vertices: vs})
}

// holeBehind draws the hole of the part behind the hook, in the plan: visible
// where neither hook nor plate cover it.
func (b *board) holeBehind(edge float64) {
	s, q := b.fit.Neck.Side/2, b.Parts[1]
	role := func(p drawing.Point) drawing.Role {
		if p.Y > edge || math.Abs(p.X) < s && p.Y > -s {
			return drawing.RoleHidden
		}
		return drawing.RoleOutline
	}
	if r := q.SlotWidth / 2; r > 0 {
		corners := []float64{-r, -s, s, math.Min(edge, r), r}
		slices.Sort(corners)
		for i, a := range corners[:4] {
			z := corners[i+1]
			for _, l := range [4]drawing.Line{{From: drawing.Pt(a, r), To: drawing.Pt(z, r)},
				{From: drawing.Pt(a, -r), To: drawing.Pt(z, -r)},
				{From: drawing.Pt(r, a), To: drawing.Pt(r, z)}, {From: drawing.Pt(-r, a), To: drawing.Pt(-r, z)}} {
				// Beside the edge a hidden line would be all but on its own.
				if l.From.Y == r && l.To.Y == r && math.Abs(r-edge) < b.st.Part(b.st.ThreadGap()) {
					continue
				}
				b.line(role(l.From.Mid(l.To)), l.From.X, l.From.Y, l.To.X, l.To.Y)
			}
		}
		return
	}
	r := q.Hole / 2
	angles := []float64{0, 360}
	cut := func(v float64, of func(float64) float64) {
		if math.Abs(v) < r {
			a := of(v/r) * 180 / math.Pi
			angles = append(angles, math.Mod(a+360, 360))
		}
	}
	for _, x := range [2]float64{s, -s} {
		cut(x, math.Acos)
		cut(x, func(k float64) float64 { return -math.Acos(k) })
	}
	for _, y := range [2]float64{-s, edge} {
		cut(y, math.Asin)
		cut(y, func(k float64) float64 { return math.Pi - math.Asin(k) })
	}
	slices.Sort(angles)
	for i, a := range angles[:len(angles)-1] {
		z := angles[i+1]
		if z-a > 1e-6 {
			b.add(role(drawing.Polar(r, (a+z)/2)), drawing.Arc{Radius: r, Start: a, End: z})
		}
	}
}
