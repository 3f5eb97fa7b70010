package joint

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"boltplate/drawing"
	"boltplate/fastener"
)

// A stage is what of a joint is drawn in one go: parts first, then their holes,
// the fastener, the hatching last (common practice).
type stage uint8

const (
	stageAxes stage = iota
	stageParts
	stageHoles
	stageFastener
	stageHatching
	stageFinish
	stageCount
)

func (s stage) String() string {
	return [...]string{"Axes", "Parts", "Holes", "Fastener", "Hatching", "Dimensions"}[s]
}

// Steps returns how the section is drawn by hand, in the order of the drawing
// board, as fastener.Steps does for a fastener by itself. The last step shows the
// figure that Content has, with nothing of what was found.
func (s *Settled) Steps(st drawing.Style) ([]fastener.Step, error) {
	b, err := s.m.board(st)
	if err != nil {
		return nil, err
	}
	d := b.compose()
	boards := append([]*board{b}, b.beside...)
	if b.under != nil {
		boards = append(boards, b.under)
	}
	of := make([][]stage, len(d.Views))
	count := [stageCount]int{}
	for i := range d.Views {
		of[i] = boards[i].stages(d.Views[i].View)
		for _, g := range of[i] {
			count[g]++
		}
	}
	var out []fastener.Step
	for g := range stageCount {
		if count[g] == 0 {
			continue
		}
		out = append(out, fastener.Step{Title: g.String(), Text: b.sentence(g), Drawing: upTo(d, of, g), New: count[g]})
	}
	return out, nil
}

// upTo returns a drawing as it is after a stage: what was there already in narrow
// lines.
func upTo(d *drawing.Drawing, of [][]stage, g stage) *drawing.Drawing {
	if g == stageFinish {
		return d
	}
	out := &drawing.Drawing{Style: d.Style, Views: slices.Clone(d.Views)}
	for i := range out.Views {
		v := &out.Views[i].View
		var items []drawing.Item
		for k, it := range v.Items {
			if of[i][k] > g {
				continue
			}
			if of[i][k] < g && it.Role.Wide() {
				it.Role = drawing.RoleThin
			}
			items = append(items, it)
		}
		v.Items = items
	}
	out.Views = slices.DeleteFunc(out.Views, func(v drawing.Placed) bool { return len(v.View.Items) == 0 })
	return out
}

// stages returns the stage of each item of a view of the board.
func (b *board) stages(v drawing.View) []stage {
	fast := make([]drawing.Shape, len(b.fast))
	for i, s := range b.fast {
		fast[i] = drawing.Apply(s, b.turn())
	}
	back := drawing.Transform{Turn: -b.turn().Turn}
	out := make([]stage, len(v.Items))
	for i, it := range v.Items {
		out[i] = b.stageOf(it, back, fast)
	}
	return out
}

func (b *board) stageOf(it drawing.Item, back drawing.Transform, fast []drawing.Shape) stage {
	switch it.Role {
	case drawing.RoleDimension, drawing.RoleText:
		return stageFinish
	case drawing.RoleHatching:
		return stageHatching
	case drawing.RoleCentre:
		return stageAxes
	}
	if slices.ContainsFunc(fast, func(s drawing.Shape) bool { return covers(s, it.Shape) }) {
		return stageFastener
	}
	l, ok := drawing.Apply(it.Shape, back).(drawing.Line)
	if _, curve := it.Shape.(drawing.Polyline); curve || !ok {
		return stageParts // a break
	}
	// What lies within the widest hole, and is no face that runs on beyond it.
	widest := 0.0
	for _, p := range b.Parts {
		widest = math.Max(widest, math.Max(b.clear(p), math.Max(p.Counterbore, p.SinkDiameter)/2))
	}
	widest = math.Max(widest, b.t.D/2+0.01)
	if math.Abs(l.From.Y) <= widest+1e-6 && math.Abs(l.To.Y) <= widest+1e-6 {
		return stageHoles
	}
	return stageParts
}

// covers reports whether a shape of a fastener lies on one of the figure, which
// may have been joined from several.
func covers(part, whole drawing.Shape) bool {
	p, ok := part.(drawing.Line)
	w, line := whole.(drawing.Line)
	if !ok || !line {
		return same(part, whole)
	}
	// All of it: what is longer belongs to a part, whose face the fastener meets.
	on := func(q drawing.Point) bool {
		d := w.To.Sub(w.From)
		n := math.Hypot(d.X, d.Y)
		v := q.Sub(w.From)
		t := (v.X*d.X + v.Y*d.Y) / n
		return n > 0 && math.Abs(v.X*d.Y-v.Y*d.X)/n < 1e-6 && t > -1e-6 && t < n+1e-6
	}
	length := func(l drawing.Line) float64 { return math.Hypot(l.To.X-l.From.X, l.To.Y-l.From.Y) }
	return on(p.From) && on(p.To) && length(p) > 0.98*length(w)
}

// same reports whether two shapes that are no lines are one.
func same(a, b drawing.Shape) bool {
	p, ok := a.(drawing.Arc)
	q, arc := b.(drawing.Arc)
	if ok && arc {
		return math.Hypot(p.Center.X-q.Center.X, p.Center.Y-q.Center.Y) < 1e-6 && math.Abs(p.Radius-q.Radius) < 1e-6
	}
	r := (drawing.View{Items: []drawing.Item{{Shape: a}}}).Bounds(drawing.Style{})
	s := (drawing.View{Items: []drawing.Item{{Shape: b}}}).Bounds(drawing.Style{})
	near := func(p, q drawing.Point) bool { return math.Hypot(p.X-q.X, p.Y-q.Y) < 1e-6 }
	return fmt.Sprintf("%T", a) == fmt.Sprintf("%T", b) && near(r.Min, s.Min) && near(r.Max, s.Max)
}

// sentence says what to do in a stage, with the sizes worked out.
func (b *board) sentence(g stage) string {
	switch g {
	case stageAxes:
		return "Draw the axis of the " + b.noun() + ", and those of the other views in line with it."
	case stageParts:
		var parts []string
		for i, p := range b.Parts {
			parts = append(parts, b.partName(i)+" "+num(p.Thickness)+" mm")
		}
		return "Set off the parts on the axis, one on the other: " + strings.Join(parts, ", ") +
			". Break them off by hand where they go on."
	case stageHoles:
		return b.holeSentence()
	case stageFastener:
		return b.fastenerSentence()
	case stageHatching:
		return "Hatch what is cut: narrow lines at 45°, neighbours the other way or closer, each part alike everywhere. Bolts, nuts and washers are not cut (ISO 128-3)."
	}
	return "Line in the visible edges wide, then give every size once: thicknesses, holes and depths, thread and length."
}

// holeSentence says how the holes are drawn.
func (b *board) holeSentence() string {
	var out []string
	last := len(b.Parts) - 1
	for i, p := range b.Parts {
		name := b.partName(i)
		switch {
		case b.scene().tapped && i == last:
			s := fmt.Sprintf("the core hole in %s by its crest, Ø%s", name, num(b.t.MinorDiameter()))
			if p.Through {
				s += ", right through, and its root narrow, Ø" + num(b.t.D)
			} else {
				s += fmt.Sprintf(", %s mm deep with a point of 120°, and its root narrow, Ø%s, to %s mm", num(p.DrillDepth), num(b.t.D), num(p.FullDepth))
			}
			out = append(out, s)
		case b.Scene == Taper:
			out = append(out, fmt.Sprintf("the taper hole in %s, Ø%s at its outer face", name, num(p.Hole)))
		case p.SlotWhole > 0:
			out = append(out, fmt.Sprintf("the T-slot in %s: throat %s, %s wide and %s high at the bottom, %s deep in all", name,
				num(p.SlotWidth), num(p.SlotHead), num(p.SlotDepth), num(p.SlotWhole)))
		case p.Counterbore > 0:
			out = append(out, fmt.Sprintf("in %s the counterbore Ø%s, %s deep, and the hole Ø%s", name, num(p.Counterbore),
				num(p.CounterboreDepth), num(p.Hole)))
		case p.SinkDiameter > 0:
			out = append(out, fmt.Sprintf("in %s the countersink of %s°, Ø%s, and the hole Ø%s", name, num(p.SinkAngle),
				num(p.SinkDiameter), num(p.Hole)))
		case p.Hole > 0:
			out = append(out, fmt.Sprintf("the clearance hole Ø%s in %s", num(p.Hole), name))
		}
	}
	if len(out) == 0 {
		return "Draw the holes."
	}
	return "Draw " + strings.Join(out, "; ") + "."
}

// fastenerSentence says where the fastener stands.
func (b *board) fastenerSentence() string {
	s := "Draw the " + strings.ToLower(b.ordered()[:1]) + b.ordered()[1:]
	switch {
	case b.Scene == Stud:
		s += ", its metal end home to the joint face"
	case b.Scene == Lifting:
		s += ", its collar flat on the face"
	case b.sunk > 0 && b.Scene == Countersunk:
		s += ", its head in the countersink"
	case b.Scene != Taper && b.Scene != Hook && b.Scene != TSlot:
		s += ", its head on the face"
	}
	if b.nutOn != nil {
		where := b.seat() - b.face()
		s += fmt.Sprintf("; the nut sits at %s mm", num(where))
		if t := b.washer.Thickness; t > 0 {
			s += fmt.Sprintf(" = %s + %s, on a washer", num(where-t), num(t))
		}
	}
	return s + ". What it covers is not drawn; its thread goes before that of the hole (ISO 6410-1)."
}
