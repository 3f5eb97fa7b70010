package marking_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"boltplate/drawing"
	"boltplate/dxfout"
	"boltplate/fastener"
	"boltplate/marking"
	"boltplate/thread"

	"github.com/stretchr/testify/require"
)

// The plates that faults are put into.
const (
	plateBolt   = iota // a hexagon bolt: front, side, head
	plateBolted        // with nut and washer: front, head, point
	plateSquare        // a square bolt with a square neck and hidden edges: front, head
	plateJoint         // two plates on a bolt, in section
	plateHook          // a hook bolt: front, side, head
)

func faultPlates(t testing.TB) []sample {
	m20, m16 := thread.MustParse("M20"), thread.MustParse("M16")
	draw := func(name string, f fastener.Fastener, hidden bool, views ...drawing.Direction) sample {
		d, err := fastener.Draw(f, fastener.DrawOptions{Views: views, Options: fastener.Options{Hidden: hidden}})
		require.NoError(t, err)
		d.Parts = nil
		return sample{name, d}
	}
	joint := joints(t)[0]
	joint.d.Parts = nil
	return []sample{
		draw("bolt", fastener.HexBolt{Thread: m20, Length: 90}, false, drawing.Front, drawing.SideView, drawing.HeadEnd),
		draw("bolted", fastener.Bolted{Bolt: fastener.HexBolt{Thread: m16, Length: 80}, Nut: fastener.HexNut{Thread: m16}, Washer: fastener.Washer{Thread: m16}, Grip: 46},
			false, drawing.Front, drawing.HeadEnd, drawing.PointEnd),
		draw("square", fastener.SquareBolt{Thread: m20, Length: 90, SquareNeck: true}, true, drawing.Front, drawing.HeadEnd),
		joint,
		draw("hook", fastener.HookBolt{Thread: m20, Length: 90}, false, drawing.Front, drawing.HeadEnd, drawing.Isometric),
	}
}

// clone returns a copy of d whose views and items can be changed.
func clone(d *drawing.Drawing) *drawing.Drawing {
	out := *d
	out.Views = slices.Clone(d.Views)
	for i := range out.Views {
		out.Views[i].View.Items = slices.Clone(out.Views[i].View.Items)
	}
	out.Items = slices.Clone(d.Items)
	return &out
}

// A place in a drawing: an item of a view.
type spot struct {
	d    *drawing.Drawing
	view int
	item int
}

func (s spot) get() drawing.Item   { return s.d.Views[s.view].View.Items[s.item] }
func (s spot) set(it drawing.Item) { s.d.Views[s.view].View.Items[s.item] = it }
func (s spot) shape(f drawing.Shape) {
	it := s.get()
	it.Shape = f
	s.set(it)
}
func (s spot) role(r drawing.Role) {
	it := s.get()
	it.Role = r
	s.set(it)
}
func (s spot) remove() {
	v := &s.d.Views[s.view].View
	v.Items = slices.Delete(v.Items, s.item, s.item+1)
}

func add(d *drawing.Drawing, view int, r drawing.Role, s drawing.Shape) {
	if view >= len(d.Views) {
		panic(noItem("no such view"))
	}
	v := &d.Views[view].View
	v.Items = append(v.Items, drawing.Item{Role: r, Shape: s})
}

// find returns the n-th item of a view for which is is true.
func find(t testing.TB, d *drawing.Drawing, view, n int, is func(drawing.Item) bool) spot {
	t.Helper()
	if view >= len(d.Views) {
		panic(noItem("no such view"))
	}
	for i, it := range d.Views[view].View.Items {
		if is(it) {
			if n == 0 {
				return spot{d, view, i}
			}
			n--
		}
	}
	panic(noItem(fmt.Sprintf("view %d has no such item", view)))
}

// noItem is the panic of find.
type noItem string

// applied puts faults into a copy of d, and reports whether they all concern
// items that are there.
func applied(t testing.TB, d *drawing.Drawing, faults ...fault) (out *drawing.Drawing, ok bool) {
	defer func() {
		if e := recover(); e != nil {
			if _, missing := e.(noItem); !missing {
				panic(e)
			}
			out, ok = nil, false
		}
	}()
	out = clone(d)
	for _, f := range faults {
		f.apply(t, out)
	}
	return out, true
}

// Predicates of items.

func line(r drawing.Role, length float64, vertical bool) func(drawing.Item) bool {
	return func(it drawing.Item) bool {
		l, ok := it.Shape.(drawing.Line)
		if !ok || it.Role != r {
			return false
		}
		v := l.To.Sub(l.From)
		along, across := math.Abs(v.X), math.Abs(v.Y)
		if vertical {
			along, across = across, along
		}
		return across < 1e-6 && math.Abs(along-length) < 0.1*length
	}
}

func sloped(r drawing.Role) func(drawing.Item) bool {
	return func(it drawing.Item) bool {
		l, ok := it.Shape.(drawing.Line)
		v := l.To.Sub(l.From)
		return ok && it.Role == r && math.Abs(v.X) > 0.5 && math.Abs(v.Y) > 0.5
	}
}

func circle(r drawing.Role) func(drawing.Item) bool {
	return func(it drawing.Item) bool {
		_, ok := it.Shape.(drawing.Circle)
		return ok && it.Role == r
	}
}

func arc(r drawing.Role) func(drawing.Item) bool {
	return func(it drawing.Item) bool {
		_, ok := it.Shape.(drawing.Arc)
		return ok && it.Role == r
	}
}

func text(s string) func(drawing.Item) bool {
	return func(it drawing.Item) bool { return label(it.Shape) != nil && label(it.Shape).Text == s }
}

func label(s drawing.Shape) *drawing.Label {
	switch s := s.(type) {
	case drawing.Linear:
		return &s.Label
	case drawing.Aligned:
		return &s.Label
	case drawing.Diameter:
		return &s.Label
	case drawing.Angular:
		return &s.Label
	case drawing.Radius:
		return &s.Label
	case drawing.Leader:
		return &s.Label
	}
	return nil
}

// relabelled returns a dimension with another label.
func relabelled(s drawing.Shape, change func(*drawing.Label)) drawing.Shape {
	l := *label(s)
	// Arrange works out the whole text of a label, which must follow.
	l = drawing.Label{Quantity: l.Quantity, Symbol: l.Symbol, Reference: l.Reference, Number: l.Number, Text: l.Text}
	change(&l)
	switch s := s.(type) {
	case drawing.Linear:
		s.Label = l
		return s
	case drawing.Aligned:
		s.Label = l
		return s
	case drawing.Diameter:
		s.Label = l
		return s
	case drawing.Radius:
		s.Label = l
		return s
	case drawing.Leader:
		s.Label = l
		return s
	case drawing.Angular:
		s.Label = l
		return s
	}
	return s
}

// A fault is put into a plate and must be named, and nothing else.
type fault struct {
	name   string
	plate  int
	apply  func(t testing.TB, d *drawing.Drawing)
	kind   marking.Kind
	view   string
	amount float64 // 0: any
}

const (
	front = "front view"
	side  = "side view"
	head  = "view of the head"
	tip   = "view of the point"
)

func pt(x, y float64) drawing.Point { return drawing.Pt(x, y) }

// The roles, in short.
const (
	visible = drawing.RoleOutline
	thin    = drawing.RoleThin
	hidden  = drawing.RoleHidden
	centre  = drawing.RoleCentre
)

// redrawn draws another part in place of that of a plate, in the same views.
func redrawn(f fastener.Fastener) func(testing.TB, *drawing.Drawing) {
	return func(t testing.TB, d *drawing.Drawing) {
		var views []drawing.Direction
		for _, v := range d.Views {
			views = append(views, v.View.Direction)
		}
		e, err := fastener.Draw(f, fastener.DrawOptions{Views: views})
		require.NoError(t, err)
		e.Parts = nil
		*d = *e
	}
}

// lineFaults are faults of the lines of views.
func lineFaults() []fault {
	remove := func(view, n int, is func(drawing.Item) bool) func(testing.TB, *drawing.Drawing) {
		return func(t testing.TB, d *drawing.Drawing) { find(t, d, view, n, is).remove() }
	}
	change := func(view, n int, is func(drawing.Item) bool, to func(drawing.Line) drawing.Line) func(testing.TB, *drawing.Drawing) {
		return func(t testing.TB, d *drawing.Drawing) {
			s := find(t, d, view, n, is)
			s.shape(to(s.get().Shape.(drawing.Line)))
		}
	}
	put := func(view int, r drawing.Role, s drawing.Shape) func(testing.TB, *drawing.Drawing) {
		return func(_ testing.TB, d *drawing.Drawing) { add(d, view, r, s) }
	}
	move := func(dx, dy float64) func(drawing.Line) drawing.Line {
		return func(l drawing.Line) drawing.Line {
			return drawing.Line{From: l.From.Add(pt(dx, dy)), To: l.To.Add(pt(dx, dy))}
		}
	}
	// A line is drawn from left to right or from below.
	ordered := func(l drawing.Line) drawing.Line {
		if l.From.X > l.To.X+1e-9 || l.From.Y > l.To.Y+1e-9 {
			l.From, l.To = l.To, l.From
		}
		return l
	}
	return []fault{
		{"no top of the head", plateBolt, remove(0, 0, line(visible, 14.453, false)), marking.MissingLine, front, 0},
		{"no bearing face", plateBolt, remove(0, 0, line(visible, 40, true)), marking.MissingLine, front, 0},
		{"no thread root", plateBolt, remove(0, 0, line(thin, 46, false)), marking.MissingLine, front, 0},
		{"no run-out", plateBolt, remove(1, 1, sloped(thin)), marking.MissingLine, side, 0},
		{"no hidden edge", plateSquare, remove(1, 0, func(it drawing.Item) bool { return it.Role == hidden }), marking.MissingLine, head, 0},
		{"no diagonal", plateSquare, remove(0, 0, sloped(thin)), marking.MissingLine, front, 0},
		{"no axis", plateBolt, remove(0, 0, line(centre, 112, false)), marking.MissingCentreLine, front, 0},
		{"no upright axis", plateBolt, remove(2, 0, func(it drawing.Item) bool {
			l, ok := it.Shape.(drawing.Line)
			return ok && it.Role == centre && l.From.X == l.To.X
		}), marking.MissingCentreLine, head, 0},
		{"no chamfer circle", plateBolt, remove(2, 0, circle(visible)), marking.MissingLine, head, 0},
		{"no side of the hexagon", plateBolt, remove(2, 2, func(it drawing.Item) bool { _, ok := it.Shape.(drawing.Line); return ok && it.Role == visible }), marking.MissingLine, head, 0},
		{"no chamfer arc", plateBolt, remove(0, 1, arc(visible)), marking.MissingLine, front, 0},
		{"no thread circle", plateBolted, remove(2, 0, arc(thin)), marking.MissingLine, tip, 0},
		{"a line across the shank", plateBolt, put(0, visible, drawing.Line{From: pt(23, -10), To: pt(23, 10)}), marking.ExtraLine, front, 20},
		{"a circle too many", plateBolt, put(2, visible, drawing.Circle{Center: pt(0, 0), Radius: 11}), marking.ExtraLine, head, 0},
		{"a hidden line too many", plateSquare, put(0, hidden, drawing.Line{From: pt(30, 4), To: pt(38, 4)}), marking.ExtraLine, front, 8},
		{"a construction line", plateBolt, put(1, thin, drawing.Line{From: pt(-3, -14), To: pt(-12, 13)}), marking.ExtraLine, side, 0},
		{"the limit of the thread", plateBolt, change(0, 0, line(visible, 20, true), move(-4, 0)), marking.LineOff, front, 4},
		{"an end face", plateBolt, change(1, 0, line(visible, 34.641, true), move(-2, 0)), marking.LineOff, side, 2},
		{"a washer's edge", plateBolted, change(0, 0, line(visible, 35, true), move(-1.2, 0)), marking.LineOff, front, 1.2},
		{"a circle too small", plateBolted, func(t testing.TB, d *drawing.Drawing) {
			s := find(t, d, 1, 0, circle(visible))
			c := s.get().Shape.(drawing.Circle)
			s.shape(drawing.Circle{Center: c.Center, Radius: c.Radius - 2})
		}, marking.LineOff, head, 2},
		{"a circle beside its centre", plateBolt, func(t testing.TB, d *drawing.Drawing) {
			s := find(t, d, 2, 0, circle(visible))
			c := s.get().Shape.(drawing.Circle)
			s.shape(drawing.Circle{Center: c.Center.Add(pt(1.5, -1)), Radius: c.Radius})
		}, marking.LineOff, head, math.Hypot(1.5, 1)},
		{"a line askew", plateBolt, change(0, 0, line(visible, 95, false), func(l drawing.Line) drawing.Line {
			l = ordered(l)
			return drawing.Line{From: l.From, To: l.To.Add(pt(0, 3))}
		}), marking.LineOff, front, 3},
		{"a root too short", plateBolt, change(0, 1, line(thin, 46, false), func(l drawing.Line) drawing.Line {
			l = ordered(l)
			return drawing.Line{From: l.From.Add(pt(7, 0)), To: l.To}
		}), marking.LineShort, front, 7},
		{"a root too long", plateBolt, change(0, 1, line(thin, 46, false), func(l drawing.Line) drawing.Line {
			l = ordered(l)
			return drawing.Line{From: l.From.Sub(pt(7, 0)), To: l.To}
		}), marking.LineLong, front, 7},
		{"a bearing face too long", plateBolt, change(0, 0, line(visible, 40, true), func(l drawing.Line) drawing.Line {
			l = ordered(l)
			return drawing.Line{From: l.From, To: l.To.Add(pt(0, 3))}
		}), marking.LineLong, front, 3},
		{"a bolt too short", plateBolt, redrawn(fastener.HexBolt{Thread: thread.MustParse("M20"), Length: 80}), marking.WrongSize, front, 10},
		{"a thread too short", plateBolt, redrawn(fastener.HexBolt{Thread: thread.MustParse("M20"), Length: 90, ThreadLength: 40}), marking.WrongSize, front, 6},
		{"a grip too long", plateBolted, redrawn(fastener.Bolted{Bolt: fastener.HexBolt{Thread: thread.MustParse("M16"), Length: 80},
			Nut: fastener.HexNut{Thread: thread.MustParse("M16")}, Washer: fastener.Washer{Thread: thread.MustParse("M16")}, Grip: 50}), marking.WrongSize, front, 4},
		{"a gap in the shank", plateBolt, func(t testing.TB, d *drawing.Drawing) {
			s := find(t, d, 0, 1, line(visible, 95, false))
			l := ordered(s.get().Shape.(drawing.Line))
			s.shape(drawing.Line{From: l.From, To: l.From.Add(pt(30, 0))})
			add(d, 0, visible, drawing.Line{From: l.From.Add(pt(36, 0)), To: l.To})
		}, marking.LineGap, front, 6},
		{"an arc the wrong way round", plateBolt, func(t testing.TB, d *drawing.Drawing) {
			s := find(t, d, 0, 0, arc(visible))
			a := s.get().Shape.(drawing.Arc)
			p, q := a.Center.Add(drawing.Polar(a.Radius, a.Start)), a.Center.Add(drawing.Polar(a.Radius, a.End))
			c := p.Add(q).Sub(a.Center)
			s.shape(drawing.Arc{Center: c, Radius: a.Radius, Start: q.Sub(c).Angle() + 360, End: p.Sub(c).Angle() + 360})
			b := s.get().Shape.(drawing.Arc)
			if sweep := math.Mod(b.End-b.Start+720, 360); sweep > 180 {
				s.shape(drawing.Arc{Center: c, Radius: a.Radius, Start: b.End, End: b.Start})
			}
		}, marking.ReversedArc, front, 0},
		{"a thread circle closed", plateBolted, func(t testing.TB, d *drawing.Drawing) {
			s := find(t, d, 2, 0, arc(thin))
			a := s.get().Shape.(drawing.Arc)
			s.shape(drawing.Circle{Center: a.Center, Radius: a.Radius})
		}, marking.ClosedThread, tip, 0},
	}
}

// kindFaults are faults of the kinds of line.
func kindFaults() []fault {
	as := func(view, n int, is func(drawing.Item) bool, r drawing.Role) func(testing.TB, *drawing.Drawing) {
		return func(t testing.TB, d *drawing.Drawing) { find(t, d, view, n, is).role(r) }
	}
	return []fault{
		{"an edge dashed", plateBolt, as(0, 0, line(visible, 40, true), hidden), marking.WrongLine, front, 0},
		{"an edge narrow", plateBolt, as(0, 0, line(visible, 95, false), thin), marking.WrongLine, front, 0},
		{"a hidden edge visible", plateSquare, as(1, 0, func(it drawing.Item) bool { return it.Role == hidden }, visible), marking.WrongLine, head, 0},
		{"an axis continuous", plateBolt, as(0, 0, line(centre, 112, false), thin), marking.WrongLine, front, 0},
		{"an axis dashed", plateBolt, as(1, 0, func(it drawing.Item) bool { return it.Role == centre }, hidden), marking.WrongLine, side, 0},
		{"a root wide", plateBolt, as(0, 0, line(thin, 46, false), visible), marking.WrongLine, front, 0},
		{"a thread circle wide", plateBolted, as(2, 0, arc(thin), visible), marking.WrongLine, tip, 0},
		{"a chamfer circle dashed", plateBolt, as(2, 0, circle(visible), hidden), marking.WrongLine, head, 0},
		{"crest and root exchanged", plateBolted, func(t testing.TB, d *drawing.Drawing) {
			i := slices.IndexFunc(d.Views[2].View.Items, func(it drawing.Item) bool {
				c, ok := it.Shape.(drawing.Circle)
				return ok && math.Abs(c.Radius-8) < 1e-6
			})
			require.GreaterOrEqual(t, i, 0)
			spot{d, 2, i}.role(thin)
			find(t, d, 2, 0, arc(thin)).role(visible)
		}, marking.Exchanged, tip, 0},
	}
}

// viewFaults are faults of the places of views.
func viewFaults() []fault {
	place := func(view int, change func(*drawing.Placed)) func(testing.TB, *drawing.Drawing) {
		return func(_ testing.TB, d *drawing.Drawing) { change(&d.Views[view]) }
	}
	return []fault{
		{"the head on the left", plateBolt, place(2, func(p *drawing.Placed) { p.At.X = -90 }), marking.WrongSide, head, 0},
		{"the side view above", plateBolt, place(1, func(p *drawing.Placed) { p.At.Y = 75 }), marking.WrongSide, side, 0},
		{"the head too high", plateBolt, place(2, func(p *drawing.Placed) { p.At.Y += 5 }), marking.OutOfLine, head, 5},
		{"the side view too far left", plateBolt, place(1, func(p *drawing.Placed) { p.At.X -= 3 }), marking.OutOfLine, side, 3},
		{"the head turned", plateBolt, place(2, func(p *drawing.Placed) { p.View = p.View.Turn(90) }), marking.TurnedView, head, 90},
		{"the side view turned", plateBolt, place(1, func(p *drawing.Placed) { p.View = p.View.Turn(180).Move(74, 0) }), marking.TurnedView, side, 180},
		{"the isometric view mirrored", plateHook, place(2, func(p *drawing.Placed) { p.View = p.View.Mirror() }), marking.MirroredView, "isometric view", 0},
		{"the head at seven tenths", plateBolt, place(2, func(p *drawing.Placed) { p.Scale = 0.7 }), marking.ScaledView, head, 0.7},
		{"no head", plateBolt, func(_ testing.TB, d *drawing.Drawing) { d.Views = d.Views[:2] }, marking.MissingView, head, 0},
		{"no side view", plateBolt, func(_ testing.TB, d *drawing.Drawing) { d.Views = slices.Delete(d.Views, 1, 2) }, marking.MissingView, side, 0},
	}
}

// dimensionFaults are faults of dimensions, hatching and texts.
func dimensionFaults() []fault {
	dim := func(view int, s string, change func(drawing.Shape) drawing.Shape) func(testing.TB, *drawing.Drawing) {
		return func(t testing.TB, d *drawing.Drawing) {
			p := find(t, d, view, 0, text(s))
			p.shape(change(p.get().Shape))
		}
	}
	says := func(s string) func(drawing.Shape) drawing.Shape {
		return func(sh drawing.Shape) drawing.Shape {
			return relabelled(sh, func(l *drawing.Label) { l.Text = s })
		}
	}
	hatch := func(it drawing.Item) bool { h, ok := it.Shape.(drawing.Hatch); return ok && !h.Solid }
	return []fault{
		{"no length", plateBolt, func(t testing.TB, d *drawing.Drawing) { find(t, d, 0, 0, text("90")).remove() }, marking.MissingDimension, front, 0},
		{"no thread", plateBolt, func(t testing.TB, d *drawing.Drawing) { find(t, d, 0, 0, text("M20")).remove() }, marking.MissingDimension, front, 0},
		{"no angle", plateBolt, func(t testing.TB, d *drawing.Drawing) { find(t, d, 0, 0, text("30°")).remove() }, marking.MissingDimension, front, 0},
		{"a wrong length", plateBolt, dim(0, "90", says("80")), marking.WrongText, front, 0},
		{"a thread without its letter", plateBolt, dim(0, "M20", says("20")), marking.WrongText, front, 0},
		{"a diameter without its sign", plateBolted, dim(1, "35", func(s drawing.Shape) drawing.Shape {
			return relabelled(s, func(l *drawing.Label) { l.Symbol = drawing.NoSymbol })
		}), marking.WrongText, head, 0},
		{"the length twice", plateBolt, func(t testing.TB, d *drawing.Drawing) {
			s := find(t, d, 0, 0, text("90")).get()
			l := s.Shape.(drawing.Linear)
			l.At -= 8
			add(d, 0, s.Role, l)
		}, marking.DimensionTwice, front, 0},
		{"the width across corners in two views", plateBolt, func(t testing.TB, d *drawing.Drawing) {
			s := find(t, d, 0, 0, text("40")).get()
			l := s.Shape.(drawing.Linear)
			l.From.X, l.To.X = 0, 0
			l.At, l.Side = 35, drawing.Right
			add(d, 2, s.Role, l)
		}, marking.DimensionTwice, front, 0},
		{"a dimension beside its edge", plateBolt, dim(0, "16", func(s drawing.Shape) drawing.Shape {
			l := s.(drawing.Linear)
			if l.From.X > l.To.X {
				l.From, l.To = l.To, l.From
			}
			l.To.X += 4
			return relabelled(l, func(*drawing.Label) {})
		}), marking.DimensionOff, front, 4},
		{"no hatching", plateJoint, func(t testing.TB, d *drawing.Drawing) { find(t, d, 0, 0, hatch).remove() }, marking.MissingHatch, front, 0},
		{"a hatched nut", plateJoint, func(t testing.TB, d *drawing.Drawing) {
			box := []drawing.Vertex{{Point: pt(-6, -62)}, {Point: pt(6, -62)}, {Point: pt(6, -52)}, {Point: pt(-6, -52)}} // within the nut
			add(d, 0, drawing.RoleHatching, drawing.Hatch{Angle: 45, Spacing: 2, Loops: [][]drawing.Vertex{box}})
		}, marking.ExtraHatch, front, 0},
		{"two plates hatched alike", plateJoint, func(t testing.TB, d *drawing.Drawing) {
			for i, it := range d.Views[0].View.Items {
				if h, ok := it.Shape.(drawing.Hatch); ok && !h.Solid {
					h.Angle = 45
					d.Views[0].View.Items[i].Shape = h
				}
			}
		}, marking.SameHatch, front, 0},
		{"a note on an edge", plateBolt, func(_ testing.TB, d *drawing.Drawing) {
			add(d, 0, drawing.RoleText, drawing.Text{At: pt(5, 8), Value: "shank"})
		}, marking.TextTouches, front, 0},
		{"two notes on each other", plateBolt, func(_ testing.TB, d *drawing.Drawing) {
			add(d, 0, drawing.RoleText, drawing.Text{At: pt(5, 28), Value: "first note"})
			add(d, 0, drawing.RoleText, drawing.Text{At: pt(9, 29), Value: "second note"})
		}, marking.TextTouches, front, 0},
	}
}

func allFaults() []fault {
	return slices.Concat(lineFaults(), kindFaults(), viewFaults(), dimensionFaults())
}

// TestFaults puts each fault into its plate: it is named, in its view, with
// its amount, and nothing else is.
func TestFaults(t *testing.T) {
	plates := faultPlates(t)
	faults := allFaults()
	require.GreaterOrEqual(t, len(faults), 40)
	for _, f := range faults {
		t.Run(f.name, func(t *testing.T) {
			d := clone(plates[f.plate].d)
			f.apply(t, d)
			m := marker(t, plates[f.plate].d, marking.Options{})
			for _, v := range []dxfout.Version{dxfout.R2000, dxfout.R12} {
				r := mark(t, m, encode(t, d, v))
				named := fmt.Sprint(v)
				for _, g := range r.Findings {
					named += fmt.Sprintf("\n%v in the %s: %s", g.Kind, g.View, g.Text)
				}
				require.Len(t, r.Findings, 1, named)
				g := r.Findings[0]
				require.Equal(t, f.kind, g.Kind, named)
				require.Equal(t, f.view, g.View, named)
				if f.amount != 0 {
					require.InDelta(t, f.amount, g.Amount, 0.25, named)
				}
			}
		})
	}
}

// TestPairsOfFaults puts every two faults into a plate together that do not
// concern the same line: both are named, and nothing else is.
func TestPairsOfFaults(t *testing.T) {
	plates := faultPlates(t)
	faults := allFaults()
	markers := make([]*marking.Marker, len(plates))
	for i := range plates {
		markers[i] = marker(t, plates[i].d, marking.Options{})
	}
	n, looked := 0, 0
	for i, f := range faults {
		for _, g := range faults[i+1:] {
			if looked++; f.plate != g.plate || !compatible(f, g) || testing.Short() && looked%13 != 0 {
				continue
			}
			d, ok := applied(t, plates[f.plate].d, f, g)
			if !ok {
				continue
			}
			n++
			r := mark(t, markers[f.plate], encode(t, d, dxfout.Version(n%2)))
			want := []string{f.kind.String() + " " + f.view, g.kind.String() + " " + g.view}
			var got []string
			for _, x := range r.Findings {
				got = append(got, x.Kind.String()+" "+x.View)
			}
			slices.Sort(want)
			slices.Sort(got)
			if !slices.Equal(want, got) {
				t.Errorf("%s, and %s:", f.name, g.name)
				for _, x := range r.Findings {
					t.Errorf("    %v in the %s: %s", x.Kind, x.View, x.Text)
				}
			}
		}
	}
	t.Log(n, "pairs")
}

// compatible reports whether two faults can be in one drawing and stay two: none
// is in a view that the other takes away, and they are no fault of another
// name together.
func compatible(f, g fault) bool {
	for _, p := range [2][2]fault{{f, g}, {g, f}} {
		if p[0].kind == marking.MissingView && p[1].view == p[0].view || p[0].kind == marking.WrongSize {
			return false
		}
		switch p[0].name + "; " + p[1].name {
		case "no chamfer circle; a circle too many", // a circle of the wrong size
			"an edge narrow; a root wide",           // exchanged
			"no hatching; two plates hatched alike": // one is left
			return false
		}
	}
	return true
}
