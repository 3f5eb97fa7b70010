package joint

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"boltplate/drawing"
	"boltplate/fastener"
)

func countersunkScene() scene {
	return scene{name: Countersunk, kind: countersunkBolt, kinds: []string{countersunkBolt, "countersunk-screw"},
		nut: true, parts: [2]int{2, 4},
		reads: slices.Concat([]string{"hole"}, sinkFields, tappedFields), validate: Joint.validateCountersunk,
		choose: (*chooser).countersunk, check: (*checker).countersunk, draw: (*board).countersunk}
}

// A countersunk head lies in a conical sink of the first part. x = 0 is at the
// flush face of the head, so that the face of the part is at x = 0 only where
// the head ends flush with it.

// screwedIn reports whether the last part of a countersunk joint is tapped: a
// joint without a nut, or one of which no nut is named and which is that of a
// screw or whose last part has a tapped hole.
func (j Joint) screwedIn() bool {
	if j.Nut != "" || len(j.Parts) == 0 {
		return is(j.Nut, noNut)
	}
	last := j.Parts[len(j.Parts)-1]
	return screw(j.Bolt.Kind) || last.Through || last.FullDepth > 0 || last.DrillDepth > 0
}

// screw reports whether a kind is turned at its head.
func screw(kind string) bool { return strings.HasSuffix(strings.ToLower(kind), "-screw") }

const noNut = "none"

func is(s, word string) bool { return strings.EqualFold(s, word) }

const countersunkBolt = "countersunk-bolt"

func (j Joint) validateCountersunk() error {
	if k := strings.ToLower(j.Bolt.Kind); k != "" && !strings.HasPrefix(k, "countersunk-") {
		return &FieldError{Field: "bolt.kind",
			Want: j.Bolt.Kind + " has no countersunk head; use " + countersunkBolt}
	}
	if screw(j.Bolt.Kind) && !j.screwedIn() {
		return &FieldError{Field: "nut",
			Want: "a " + j.Bolt.Kind + " is screwed into a tapped part; leave it out, or use " + countersunkBolt}
	}
	if j.HeadWasher != "" && !is(j.HeadWasher, "none") {
		return &FieldError{Field: "head_washer", Want: "a countersunk head lies in the part itself; leave it out"}
	}
	if j.screwedIn() && j.Washer != "" && !is(j.Washer, "none") {
		return &FieldError{Field: "washer",
			Want: "goes under a nut, and the last part is tapped; leave it out, or name a nut"}
	}
	if a := j.Parts[0].SinkAngle; a != 0 && (a < 30 || a > 150) {
		return &FieldError{Field: partField(0, "sink_angle"),
			Want: num(a) + " is no angle of a countersink; give degrees from 30 to 150, such as 90"}
	}
	return nil
}

// half returns the tangent of half an angle given in degrees.
func half(angle float64) float64 { return math.Tan(angle / 2 * math.Pi / 180) }

// land returns how much of a countersunk head is cylindrical.
func (m *model) land() float64 {
	return m.fit.Head.Height - (m.fit.Head.Diameter-m.t.D)/2/half(m.fit.Head.Angle)
}

// reach returns how far the head and the square neck under it reach below the
// flush face.
func (m *model) reach() float64 { return m.fit.Head.Height + m.fit.Neck.Length }

// headAt returns the x below which the head is thinner than the radius.
func (m *model) headAt(r float64) float64 {
	return m.land() + (m.fit.Head.Diameter/2-r)/half(m.fit.Head.Angle)
}

// headRadius returns the radius of head or shank at x.
func (m *model) headRadius(x float64) float64 {
	r := m.fit.Head.Diameter/2 - (x-m.land())*half(m.fit.Head.Angle)
	return math.Min(math.Max(r, m.t.D/2), m.fit.Head.Diameter/2)
}

// sinkDepth returns how deep the countersink of the first part is, from its
// face to the hole.
func (m *model) sinkDepth() float64 {
	p := m.Parts[0]
	return math.Max(p.SinkDiameter-p.Hole, 0) / 2 / half(p.SinkAngle)
}

// headDepth returns how far the flush face of the head comes to lie below the
// face of the part, or above it where that is negative. The head goes in until
// it touches: with the same angle on the cone, with a greater one at its rim,
// with a smaller one at the edge of the hole. A head larger than the sink rests
// on the sink's rim, and one that goes through a thin part on the hole of the
// next one.
func (m *model) headDepth() float64 {
	p := m.Parts[0]
	head, sink, hole := m.fit.Head.Diameter/2, math.Max(p.SinkDiameter, p.Hole)/2, math.Max(p.Hole, m.t.D)/2
	if p.SinkDiameter == 0 || hole >= head {
		return 0 // still to be chosen, or the head goes through
	}
	// The depth at which the sink is as narrow as the radius.
	depth := func(r float64) float64 { return math.Max(sink-r, 0) / half(p.SinkAngle) }
	s := math.Inf(1)
	for _, r := range [3]float64{head, math.Min(sink, head), hole} {
		y := depth(r)
		if y <= p.Thickness {
			s = math.Min(s, y-m.headAt(r))
		}
	}
	if next := m.nextHole() / 2; next < head && next >= m.t.D/2 {
		s = math.Min(s, p.Thickness-m.headAt(next))
		if m.fit.Snug.Width > 0 || m.fit.Neck.Length > 0 { // a snug or a square neck stands on it
			s = math.Min(s, p.Thickness-m.reach())
		}
	}
	if math.IsInf(s, 1) {
		return 0 // nothing holds it
	}
	return s
}

// nextHole returns the diameter of the hole in the part below the first one.
func (m *model) nextHole() float64 {
	if len(m.Parts) == 2 && m.scene().tapped {
		return m.t.D
	}
	return m.Parts[1].Hole
}

// flushSink returns the diameter of the countersink in which the head ends
// flush with the face.
func (m *model) flushSink() float64 {
	return m.fit.Head.Diameter + 2*m.land()*half(m.fit.Head.Angle)
}

func (c *chooser) countersunk() error {
	info := c.scene()
	if c.Nut == "" {
		c.Nut = noNut
		c.note("nut", noNut, "the last part is tapped")
	}
	if is(c.Bolt.Kind, countersunkBolt) && c.Bolt.Neck == "" {
		if info.nut {
			c.Bolt.Neck = "snug"
			c.note("bolt.neck", "snug", "keeps the bolt from turning with the nut")
		} else if c.Basis != fastener.Standard {
			c.Bolt.Neck = "plain"
			c.note("bolt.neck", "plain", "it has to turn to be screwed in")
		}
	}
	clear := len(c.Parts)
	if info.tapped {
		clear--
	}
	c.clearanceHoles(clear)
	m, err := c.sized()
	if err != nil {
		return err
	}
	p := &c.Parts[0]
	if p.SinkAngle == 0 {
		p.SinkAngle = m.fit.Head.Angle
		c.note(partField(0, "sink_angle"), num(p.SinkAngle)+"°", "the angle of the head")
	}
	// Rounded up, so that the head never stands proud.
	c.choose(&p.SinkDiameter, math.Ceil(m.flushSink()*10-slack)/10, partField(0, "sink_diameter"),
		"the head ends flush: d2 + 2c tan(a/2), for the land c of the head")
	if info.nut {
		return c.lengthForNut()
	}
	return c.lengthForThread()
}

// How far a countersunk head may be off the face: it should not be felt above
// it, and may lie a little below it (common practice).
const proudest = 0.1 // mm

func (m *model) deepest() float64 { return 0.05 * m.t.D }

func (c *checker) countersunk() {
	info := c.scene()
	clear := c.Parts
	if info.tapped {
		clear = clear[:len(clear)-1]
	}
	c.holes(clear)
	c.sink()
	c.turning()
	c.cone()
	if info.tapped {
		c.tapped()
		return
	}
	last := len(c.Parts) - 1
	c.bears("the nut", c.washer, c.nut.Bears, c.Parts[last], last, c.seat()-c.washer.Thickness)
	c.between()
	c.nutAndLength()
}

// sink checks how the head lies in its countersink. What follows from a wrong
// angle or a thin part is said with it, not once more.
func (c *checker) sink() {
	p, a := c.Parts[0], c.fit.Head.Angle
	rim := drawing.Pt(c.face(), p.SinkDiameter/2)
	sunk := c.sunkMost()
	need := c.reach() + math.Max(0, math.Min(sunk, c.deepest()))
	switch {
	case math.Abs(p.SinkAngle-a) > 0.5:
		touch := "at its rim"
		if p.SinkAngle > a {
			touch = "at the edge of the hole"
		}
		c.add(Finding{Code: SinkAngle, What: fmt.Sprintf("the head touches its countersink only %s%s", touch,
			c.offFace("and")), Measured: p.SinkAngle, Required: a, Unit: "degrees", At: rim,
			Remedy: fmt.Sprintf("countersink %s°, %s mm on the face", num(a), num(c.flushSink())),
			Rule:   "the countersink has the angle of the head", Source: practice})
	case p.Thickness < need-slack:
		c.add(Finding{Code: PlateThin, What: fmt.Sprintf("%s is thinner than the head%s", c.partName(0),
			c.offFace("which")), Measured: p.Thickness, Required: need, Unit: "mm",
			Remedy: fmt.Sprintf("a part at least %s mm thick, a smaller bolt, or another head",
				num(math.Ceil(need*10-slack)/10)), Rule: "the head, and a square neck under it, end inside the part",
			Source: practice, At: drawing.Pt(c.face()+p.Thickness, c.t.D/2)})
	case sunk < -proudest-slack:
		c.add(Finding{Code: HeadProud, What: "the head stands proud of the face", Measured: -sunk, Required: 0,
			Unit: "mm", At: rim,
			Remedy: fmt.Sprintf("a countersink of %s mm on the face", num(c.flushSink())),
			Rule:   "the head ends flush with the face: d2 + 2c tan(a/2) across the countersink", Source: practice})
	case sunk > c.deepest()+slack:
		c.add(Finding{Code: HeadSunk, Severity: Warning, What: "the head lies deep below the face", Measured: sunk,
			Required: c.deepest(), Unit: "mm", At: rim,
			Remedy: fmt.Sprintf("a countersink of %s mm on the face", num(c.flushSink())),
			Rule:   "at most 0.05D below the face", Source: practice})
	}
}

// cone checks that the head bears on enough metal, edges included.
func (c *checker) cone() {
	p, head := c.Parts[0], c.fit.Head.Diameter
	if need := 2 * c.ring(); head-p.Hole < need-slack {
		c.add(Finding{Code: Bearing, What: fmt.Sprintf("the head bears on too narrow a ring round the hole in %s",
			c.partName(0)), Measured: (head - p.Hole) / 2, Required: c.ring(), Unit: "mm",
			Remedy: fmt.Sprintf("a hole of at most %s mm", num(head-need)), Rule: "a ring of 0.1D", Source: practice,
			At: drawing.Pt(c.face()+c.sinkDepth(), p.Hole/2)})
	}
	p.Hole = 0
	c.bears("the head", c.head, math.Max(head, p.SinkDiameter), p, 0, c.face())
}

// sunkMost returns how far below the face the head would lie in a part that is
// thick enough.
func (m *model) sunkMost() float64 {
	thick := *m
	thick.Parts = append([]Part(nil), m.Parts...)
	thick.Parts[0].Thickness = math.Inf(1)
	return thick.headDepth()
}

// offFace says how far the head is off the face, where it is, after a word that
// joins it to what is said before.
func (m *model) offFace(join string) string {
	switch {
	case m.sunk < -proudest:
		return fmt.Sprintf(", %s stands proud by %s mm", join, num(-m.sunk))
	case m.sunk > m.deepest():
		return fmt.Sprintf(", %s lies %s mm below the face", join, num(m.sunk))
	}
	return ""
}

// turning checks that the bolt keeps still while its nut is turned, or can
// itself be turned.
func (c *checker) turning() {
	held := c.fit.Snug.Width > 0 || c.fit.Neck.Length > 0
	f := Finding{Code: Turns, Source: practice, At: drawing.Pt(c.fit.Head.Height, c.t.D/2)}
	switch {
	case c.scene().tapped && held:
		f.What, f.Remedy = "what stands under the head keeps the bolt from being screwed in",
			"a countersunk-screw, or neck plain"
		f.Rule = "a bolt that is screwed into a part turns in the others"
	case c.scene().nut && !held && is(c.Bolt.Kind, countersunkBolt):
		f.Severity = Warning
		f.What, f.Remedy = "nothing keeps the bolt from turning with its nut", "neck snug or square"
		f.Rule = "a snug, a square neck or a slot holds a head that no spanner fits"
	default:
		return
	}
	c.add(f)
}

// sunkPlate draws the first part in section from x0 to x1: its countersink, the
// notch or the square hole for what stands under the head, and its hole.
func (b *board) sunkPlate(p Part, x0, x1, w float64) {
	upper, lower := b.sinkWall(x0, x1, 1), b.sinkWall(x0, x1, -1)
	low := w
	if p.Edge > 0 && p.Edge < w {
		low = p.Edge
	}
	b.section(x0, x1, w, low, upper, lower)
	head := b.fit.Head.Diameter / 2
	inner := math.Min(head, upper[0].Y)
	if b.sunk > b.st.Part(b.st.ThreadGap()) {
		inner = 0 // the rim is seen over the head
	}
	b.line(drawing.RoleOutline, x0, inner, x0, w)
	b.line(drawing.RoleOutline, x0, -inner, x0, -low)
	b.line(drawing.RoleOutline, x1, b.headRadius(x1), x1, w)
	b.line(drawing.RoleOutline, x1, -b.headRadius(x1), x1, -low)
	// The edge where the sink meets the hole, beside the head.
	if end := x0 + b.sinkDepth(); end < x1 && b.fit.Neck.Length == 0 {
		r := b.headRadius(end)
		if b.fit.Snug.Width == 0 {
			b.line(drawing.RoleOutline, end, r, end, p.Hole/2)
		}
		b.line(drawing.RoleOutline, end, -r, end, -p.Hole/2)
	}
}

// sinkWall returns the wall of the first part as it is cut above the axis (side
// 1) or below it (-1), with the y of its own side.
func (b *board) sinkWall(x0, x1, side float64) []drawing.Point {
	p := b.Parts[0]
	sink, hole, tan := math.Max(p.SinkDiameter, p.Hole)/2, p.Hole/2, half(p.SinkAngle)
	wall := []drawing.Point{drawing.Pt(x0, sink)}
	cone := func(r float64) drawing.Point { return drawing.Pt(x0+(sink-r)/tan, r) }
	k := b.fit.Head.Height
	// The step to which the cone goes, and where that step ends.
	step, end := hole, x1
	switch {
	case b.fit.Snug.Width > 0 && side > 0:
		step, end = b.t.D/2+b.fit.Snug.Projection, k
	case b.fit.Neck.Length > 0:
		step, end = b.fit.Neck.Side/2, k+b.fit.Neck.Length
	}
	q := cone(step)
	if q.X < x0 { // there is no sink at all there
		q = drawing.Pt(x0, step)
	}
	if q.X >= x1 { // the cone goes through the part
		wall = append(wall, drawing.Pt(x1, sink-(x1-x0)*tan))
	} else {
		wall = append(wall, q)
		if end < x1 && step != hole {
			wall = append(wall, drawing.Pt(end, step), drawing.Pt(end, hole))
			end = x1
		}
		wall = append(wall, drawing.Pt(x1, wall[len(wall)-1].Y))
	}
	for i := range wall {
		wall[i].Y *= side
	}
	return wall
}

// section hatches a part from x0 to x1 between its walls and where it is broken
// off, above the axis at w and below it at the edge low or broken off as well,
// and draws the walls.
func (b *board) section(x0, x1, w, low float64, upper, lower []drawing.Point) {
	loop := func(wall []drawing.Point) []drawing.Vertex {
		var out []drawing.Vertex
		for i, q := range wall {
			out = append(out, drawing.Vertex{Point: q})
			if i > 0 {
				b.line(drawing.RoleOutline, wall[i-1].X, wall[i-1].Y, q.X, q.Y)
			}
		}
		return out
	}
	top, bottom := append(loop(upper), b.broken(x1, x0, w)...), loop(lower)
	b.breakLine(x0, x1, w)
	if low < w {
		bottom = append(bottom, drawing.Vertex{Point: drawing.Pt(x1, -low)},
			drawing.Vertex{Point: drawing.Pt(x0, -low)})
		b.line(drawing.RoleOutline, x0, -low, x1, -low)
	} else {
		bottom = append(bottom, b.broken(x1, x0, -w)...)
		b.breakLine(x0, x1, -w)
	}
	b.hatch(x1-x0, top, bottom)
}

func (b *board) countersunk() error {
	var f fastener.Fastener = b.bolt
	if b.scene().nut {
		bolted, err := b.bolted()
		if err != nil {
			return err
		}
		f = bolted
	}
	b.fenced = true
	p := b.Parts[0]
	w := math.Max(b.width(), math.Max(p.SinkDiameter, b.fit.Head.Diameter)/2+math.Max(0.5*b.t.D, b.st.Part(8)))
	x := b.face()
	var said []float64
	for i, p := range b.Parts {
		end := x + p.Thickness
		b.along("t"+strconv.Itoa(i+1), "thickness", x, -w, end, -w)
		if i == len(b.Parts)-1 && b.scene().tapped {
			b.tappedPart(p, x, w, b.length(), b.t.D/2-fastener.DrawnRoot(b.t, b.st))
			b.tappedDimensions(p, x, w)
			break
		}
		at := x + 0.6*p.Thickness
		if i == 0 {
			b.sunkPlate(p, x, end, w)
			at = (math.Max(x+b.sinkDepth(), b.reach()) + end) / 2
		} else {
			b.plate(i, p, x, end, w, b.t.D/2)
		}
		if at < end && !slices.Contains(said, p.Hole) { // equal holes are said once
			y := p.Hole / 2
			if i > 0 {
				y = b.clear(p)
			}
			b.leader("", drawing.Quantity{Letter: "Dh" + strconv.Itoa(i+1), Name: "hole", Value: p.Hole},
				drawing.DiameterSymbol, at, -y, 190)
			said = append(said, p.Hole)
		}
		x = end
	}
	if err := b.fastener(f, 0); err != nil {
		return err
	}
	b.sinkDimensions()
	b.held()
	b.along("L", "length", 0, -b.fit.Head.Diameter/2, b.length(), -b.t.RootDiameter()/2)
	if b.scene().nut {
		b.along("b", "thread length", b.limit(), -b.t.D/2, b.length(), -b.t.RootDiameter()/2)
	}
	b.listFastener(b.fit.Head.Height / 2)
	b.listParts(w)
	return nil
}

// held gives the sizes of the first part that what stands under the head fits
// into: a square hole, or a notch, whose width no section along it shows.
func (b *board) held() {
	k, n := b.fit.Head.Height, b.fit.Neck.Length
	switch {
	case n > 0:
		b.leader("", drawing.Quantity{Letter: "Sh", Name: "square hole", Value: b.fit.Neck.Side}, drawing.SquareSymbol,
			k+0.6*n, -b.fit.Neck.Side/2, 190)
	case b.fit.Snug.Width > 0:
		b.notes = append(b.notes,
			fmt.Sprintf("Notch for the snug in %s: %s mm wide, to %s mm from the axis, %s mm below the face.",
				b.partName(0), num(b.fit.Snug.Width), num(b.t.D/2+b.fit.Snug.Projection), num(k+math.Max(b.sunk, 0))))
	}
}

// sinkDimensions gives the diameter of the countersink and its angle.
func (b *board) sinkDimensions() {
	p := b.Parts[0]
	if p.SinkDiameter <= p.Hole {
		return
	}
	x, r := b.face(), p.SinkDiameter/2
	b.dims = append(b.dims,
		drawing.Item{Role: drawing.RoleDimension, Shape: drawing.Linear{Side: drawing.Above, From: b.at(x, -r),
			To: b.at(x, r),
			Label: drawing.Label{Symbol: drawing.DiameterSymbol,
				Quantity: drawing.Quantity{Letter: "Ds", Name: "countersink diameter", Value: p.SinkDiameter}}}},
		drawing.Item{Role: drawing.RoleDimension, Shape: drawing.Angular{Vertex: b.at(x+r/half(p.SinkAngle), 0),
			Start: 90 - p.SinkAngle/2, End: 90 + p.SinkAngle/2,
			From: r / math.Sin(p.SinkAngle/2*math.Pi/180), To: r / math.Sin(p.SinkAngle/2*math.Pi/180),
			Label: drawing.Label{Quantity: drawing.Quantity{Letter: "as", Name: "angle of the countersink",
				Value: p.SinkAngle, Unit: drawing.Degree}}}})
}
