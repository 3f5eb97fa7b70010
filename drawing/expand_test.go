package drawing

import (
	"math"
	"testing"

	"boltplate/internal/plane"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

var opening = 2 * math.Tan(7.5*math.Pi/180) // base of an arrowhead of 15 degrees, for its length

// arrowhead checks an arrowhead's size and returns its tip and direction.
func arrowhead(t assert.TestingT, a Arrowhead, st Style) (tip, dir Point) {
	mid := a[1].Mid(a[2])
	l := st.Height() / st.PaperScale() // as long as text is high
	assert.InDelta(t, l, a[0].Sub(mid).Len(), 1e-9, "length of the arrow")
	assert.InDelta(t, l*opening, a[1].Sub(a[2]).Len(), 1e-9, "its opening")
	assert.InDelta(t, a[0].Sub(a[1]).Len(), a[0].Sub(a[2]).Len(), 1e-9, "its symmetry")
	return a[0], a[0].Sub(mid).Mul(1 / l)
}

func styles(t *rapid.T) Style {
	return Style{
		Scale:      rapid.SampledFrom([]float64{0, 1, 0.5, 0.2, 2, 5}).Draw(t, "scale"),
		Group:      rapid.SampledFrom([]float64{0, 0.35, 0.5, 0.7}).Draw(t, "group"),
		TextHeight: rapid.SampledFrom([]float64{0, 2.5, 3.5, 5, 7}).Draw(t, "height"),
	}
}

// A straightDimension is any of the two kinds, with what follows from its
// description.
type straightDimension struct {
	shape      Shape
	p, q, a, b Point // measured points and ends of the dimension line
	text       Point // on the dimension line
	outside    bool
	hideP      bool
	hideQ      bool
}

func randomStraight(t *rapid.T) straightDimension {
	c := rapid.Float64Range(-100, 100)
	p, q := Pt(c.Draw(t, "px"), c.Draw(t, "py")), Pt(c.Draw(t, "qx"), c.Draw(t, "qy"))
	l := Label{Text: rapid.SampledFrom([]string{"", "8", "27.71", "1.5D + 3"}).Draw(t, "text"), Reference: rapid.Bool().Draw(t, "reference")}
	d := straightDimension{p: p, q: q, outside: rapid.Bool().Draw(t, "outside")}
	at := rapid.Float64Range(50, 150).Draw(t, "at")
	if rapid.Bool().Draw(t, "negative") {
		at = -at
	}
	where := rapid.SampledFrom([]float64{0.5, 0.3, -0.8, 1.7}).Draw(t, "text at")
	if rapid.Bool().Draw(t, "aligned") {
		if p.Sub(q).Len() < 1 {
			t.Skip("no length")
		}
		u := q.Sub(p).Mul(1 / q.Sub(p).Len())
		n := Pt(-u.Y, u.X).Mul(at)
		d.a, d.b = p.Add(n), q.Add(n)
		d.shape = Aligned{Label: l, From: p, To: q, Placed: true, At: at, TextAt: where * q.Sub(p).Len(), Outside: d.outside}
	} else {
		side := rapid.SampledFrom([]Side{Below, Above, Left, Right}).Draw(t, "side")
		d.hideP, d.hideQ = rapid.Bool().Draw(t, "hide from"), rapid.Bool().Draw(t, "hide to")
		s := Linear{Label: l, From: p, To: q, Side: side, Placed: true, Outside: d.outside, HideFrom: d.hideP, HideTo: d.hideQ}
		if side == Left || side == Right {
			d.a, d.b = Pt(p.X+at, p.Y), Pt(p.X+at, q.Y)
			s.At, s.TextAt = p.X+at, p.Y+where*(q.Y-p.Y)
		} else {
			d.a, d.b = Pt(p.X, p.Y+at), Pt(q.X, p.Y+at)
			s.At, s.TextAt = p.Y+at, p.X+where*(q.X-p.X)
		}
		d.shape = s
		if d.a.Sub(d.b).Len() < 1 {
			t.Skip("no length")
		}
	}
	d.text = d.a.Add(d.b.Sub(d.a).Mul(where))
	return d
}

func TestExpandStraight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d, st := randomStraight(t), styles(t)
		x, ok := Expand(d.shape, st)
		assert.True(t, ok)
		assert.Empty(t, x.Arcs())
		mm := 1 / st.PaperScale()
		u := unit(d.b.Sub(d.a))

		// The tips of both arrows are exactly on the ends.
		out := 1.0
		if d.outside {
			out = -1
		}
		if assert.Len(t, x.Arrows(), 2) {
			tip, dir := arrowhead(t, x.Arrows()[0], st)
			assert.Equal(t, d.a, tip)
			samePoint(t, u.Mul(-out), dir)
			tip, dir = arrowhead(t, x.Arrows()[1], st)
			samePoint(t, d.b, tip)
			samePoint(t, u.Mul(out), dir)
		}

		// Extension lines leave a gap of 8 narrow lines and run 8 beyond;
		// the dimension line comes last.
		gap := 8 * st.Wide() / 2 * mm
		lines := x.Lines()
		for _, e := range []struct {
			from, to Point
			hide     bool
		}{{d.p, d.a, d.hideP}, {d.q, d.b, d.hideQ}} {
			length := e.to.Sub(e.from).Len()
			if e.hide || length <= gap {
				continue
			}
			w := unit(e.to.Sub(e.from)).Mul(gap)
			if assert.NotEmpty(t, lines) {
				samePoint(t, e.from.Add(w), lines[0].From, "off the point")
				samePoint(t, e.to.Add(w), lines[0].To, "past the line")
				lines = lines[1:]
			}
		}
		if !assert.Len(t, lines, 1, "the dimension line") {
			return
		}
		line := lines[0]
		samePoint(t, u, unit(line.To.Sub(line.From)), "along the dimension")
		on := func(p Point) float64 { return dot(p.Sub(d.a), u) }
		assert.InDelta(t, 0, p2l(d.a, line), 1e-9)
		assert.LessOrEqual(t, on(line.From), 1e-9)
		assert.GreaterOrEqual(t, on(line.To), on(d.b)-1e-9)
		if d.outside {
			assert.LessOrEqual(t, on(line.From), -st.Height()*mm, "the line goes on behind the arrow")
			assert.GreaterOrEqual(t, on(line.To), on(d.b)+st.Height()*mm)
		}

		// The text stands a gap above the line, readable from below or from
		// the right, and nothing of its own runs through it.
		text, ok := x.Text()
		assert.True(t, ok)
		box, ok := x.LabelBox()
		assert.True(t, ok)
		assert.Greater(t, text.Angle, -90.0)
		assert.LessOrEqual(t, text.Angle, 90+1e-8)
		assert.InDelta(t, 0, math.Abs(u.X*math.Sin(text.Angle*math.Pi/180)-u.Y*math.Cos(text.Angle*math.Pi/180)), 1e-9, "along its line")
		up := Polar(1, text.Angle+90)
		assert.InDelta(t, st.TextGap()*mm, dot(text.At.Sub(d.a), up), 1e-9, "a gap above")
		samePoint(t, d.text.Add(up.Mul(st.TextGap()*mm)), text.At)
		assert.InDelta(t, st.Height()*mm, box[3].Sub(box[0]).Len(), 1e-9)
		want := text.Box(st)
		sameSet(t, want[:], box[:])
		if x.text.Value != "" {
			lo, hi := min(on(box[0]), on(box[1])), max(on(box[0]), on(box[1]))
			for _, p := range box[:2] { // line under all of a label beside it
				if hi < 0 || lo > on(d.b) {
					assert.GreaterOrEqual(t, on(p), on(line.From)-1e-9)
					assert.LessOrEqual(t, on(p), on(line.To)+1e-9)
				}
			}
			assert.False(t, segmentsCross(line, box), "the line through its own text")
		}
	})
}

// p2l is the distance of p from the line.
func p2l(p Point, l Line) float64 {
	u := unit(l.To.Sub(l.From))
	q := p.Sub(l.From)
	return math.Abs(q.X*u.Y - q.Y*u.X)
}

// segmentsCross reports whether l runs through the inside of a rectangle.
func segmentsCross(l Line, r [4]Point) bool {
	u, v := r[1].Sub(r[0]), r[3].Sub(r[0])
	in := func(p Point) plane.Vec {
		p = p.Sub(r[0])
		return plane.Vec{X: dot(p, u) / u.Len(), Y: dot(p, v) / v.Len()}
	}
	const e = 1e-6
	return plane.SegmentHitsBox(in(l.From), in(l.To), plane.Box{Min: plane.Vec{X: e, Y: e}, Max: plane.Vec{X: u.Len() - e, Y: v.Len() - e}})
}

func TestExpandByHand(t *testing.T) {
	// 60 mm along the bottom edge, the dimension line 10 below: extension
	// lines from 2 below the edge to 2 below the line.
	d := Linear{Label: Label{Text: "60"}, From: Pt(0, 0), To: Pt(60, 0), Side: Below, Placed: true, At: -10, TextAt: 30}
	x, _ := Expand(d, Style{})
	assert.Equal(t, []Line{{Pt(0, -2), Pt(0, -12)}, {Pt(60, -2), Pt(60, -12)}, {Pt(0, -10), Pt(60, -10)}}, x.Lines())
	text, _ := x.Text()
	assert.Equal(t, Text{At: Pt(30, -9), Height: 3.5, Align: AlignCentre, Value: "60"}, text)

	d.HideFrom, d.HideTo = true, true
	x, _ = Expand(d, Style{})
	assert.Equal(t, []Line{{Pt(0, -10), Pt(60, -10)}}, x.Lines(), "both extension lines are another's")

	d.At = -1.5
	d.HideFrom, d.HideTo = false, false
	x, _ = Expand(d, Style{})
	assert.Len(t, x.Lines(), 1, "no room for extension lines")

	left := Linear{Label: Label{Text: "60"}, From: Pt(0, 0), To: Pt(0, 60), Side: Left, Placed: true, At: -10, TextAt: 30}
	x, _ = Expand(left, Style{})
	text, _ = x.Text()
	assert.Equal(t, Text{At: Pt(-11, 30), Height: 3.5, Angle: 90, Align: AlignCentre, Value: "60"}, text, "read from the right")
}

func TestReadable(t *testing.T) {
	for in, want := range map[float64]float64{
		0: 0, 45: 45, 90: 90, 91: -89, 135: -45, 180: 0, -180: 0, 225: 45, 270: 90, -90: 90, -89: -89, -45: -45, -135: 45, 360: 0, 450: 90,
	} {
		got := readable(in)
		assert.Equal(t, want, got, "%g", in)
		assert.False(t, math.Signbit(got) && got == 0, "%g: -0", in)
	}
}

func TestExpandRefuses(t *testing.T) {
	for _, it := range everything().Items {
		_, ok := Expand(it.Shape, Style{Labels: NoLabels})
		assert.False(t, ok, "%T without labels", it.Shape)
		_, ok = Expand(it.Shape, Style{})
		assert.Equal(t, it.Role == RoleDimension, ok, "%T", it.Shape)
	}
	for _, it := range ParseView(Plate + "; aligned 0 50 30 90; radius 60 35 8 -45; angle 80 50 10 70 2").Items {
		_, ok := Expand(it.Shape, Style{})
		assert.False(t, ok, "%T is not placed", it.Shape)
	}
}

func TestExpandOnShelves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		st := styles(t)
		mm := 1 / st.PaperScale()
		c := rapid.Float64Range(-100, 100)
		center := Pt(c.Draw(t, "x"), c.Draw(t, "y"))
		r, angle := rapid.Float64Range(1, 50).Draw(t, "r"), rapid.Float64Range(-360, 360).Draw(t, "angle")
		on := center.Add(Polar(r, angle))
		sh := Shelf{Placed: true, Left: rapid.Bool().Draw(t, "left"), Knee: center.Add(Polar(r+rapid.Float64Range(5, 80).Draw(t, "reach"), angle))}
		l := Label{Text: "M20"}
		for _, s := range []Shape{
			Diameter{Label: l, Center: center, Radius: r, Shelf: sh},
			Radius{Label: l, Center: center, Radius: r, Angle: angle, Shelf: sh},
			Leader{Label: l, Tip: on, Shelf: sh},
		} {
			x, ok := Expand(s, st)
			assert.True(t, ok)
			if !assert.Len(t, x.Arrows(), 1) || !assert.Len(t, x.Lines(), 2) {
				return
			}
			tip, dir := arrowhead(t, x.Arrows()[0], st)
			assert.InDelta(t, r, tip.Sub(center).Len(), 1e-9, "%T: on the circle", s)
			samePoint(t, on, tip, "%T", s)
			samePoint(t, unit(center.Sub(tip)), dir, "%T: towards the centre", s)
			oblique, shelf := x.Lines()[0], x.Lines()[1]
			assert.Equal(t, tip, oblique.From)
			assert.Equal(t, sh.Knee, oblique.To)
			assert.Equal(t, sh.Knee, shelf.From)
			assert.Equal(t, sh.Knee.Y, shelf.To.Y, "level")
			assert.Equal(t, sh.Left, shelf.To.X < shelf.From.X)
			box, _ := x.LabelBox()
			text, _ := x.Text()
			assert.Zero(t, text.Angle)
			lo, hi := math.Min(shelf.From.X, shelf.To.X), math.Max(shelf.From.X, shelf.To.X)
			if sh.Left { // a gap between the knee and the label
				hi -= st.TextGap() * mm
			} else {
				lo += st.TextGap() * mm
			}
			samePoint(t, Pt(lo, sh.Knee.Y+st.TextGap()*mm), box[0], "the label stands on its shelf")
			samePoint(t, Pt(hi, sh.Knee.Y+(st.TextGap()+st.Height())*mm), box[2])
		}
	})
}

func TestExpandAngular(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		st := styles(t)
		mm := 1 / st.PaperScale()
		mid, turn := float64(rapid.IntRange(1, 359).Draw(t, "middle")), float64(rapid.IntRange(20, 170).Draw(t, "turn"))
		start := mid - turn/2
		d := Angular{
			Label: Label{Text: "30°"}, Vertex: Pt(3, 4), Start: start, End: start + turn, Placed: true,
			From: 5 * mm, To: rapid.Float64Range(0, 20).Draw(t, "to") * mm, Outside: rapid.Bool().Draw(t, "outside"),
			At: rapid.Float64Range(30, 120).Draw(t, "at") * mm,
		}
		x, ok := Expand(d, st)
		assert.True(t, ok)
		gap := 8 * st.Narrow() * mm
		if assert.Len(t, x.Lines(), 2) {
			for i, leg := range []struct{ from, angle float64 }{{d.From, d.Start}, {d.To, d.End}} {
				samePoint(t, d.Vertex.Add(Polar(leg.from+gap, leg.angle)), x.Lines()[i].From)
				samePoint(t, d.Vertex.Add(Polar(d.At+gap, leg.angle)), x.Lines()[i].To)
			}
		}
		for _, a := range x.Arcs() {
			assert.Equal(t, d.Vertex, a.Center)
			assert.Equal(t, d.At, a.Radius)
		}
		if d.Outside {
			if assert.Len(t, x.Arcs(), 2) {
				assert.InDelta(t, 0, math.Remainder(x.Arcs()[0].End-d.Start, 360), 1e-9)
				assert.InDelta(t, 0, math.Remainder(x.Arcs()[1].Start-d.End, 360), 1e-9)
			}
		} else if assert.Len(t, x.Arcs(), 1) {
			assert.InDelta(t, turn, turned(x.Arcs()[0].Start, x.Arcs()[0].End), 1e-9)
		}
		if assert.Len(t, x.Arrows(), 2) {
			for i, angle := range []float64{d.Start, d.End} {
				tip, dir := arrowhead(t, x.Arrows()[i], st)
				samePoint(t, d.Vertex.Add(Polar(d.At, angle)), tip)
				// The arrow follows the arc: the middle of its base is nearly on it.
				base := tip.Sub(dir.Mul(st.Height() * mm)).Sub(d.Vertex)
				assert.InDelta(t, d.At, base.Len(), 0.15*mm)
				within := math.Remainder(base.Angle()-(d.Start+turn/2), 360)
				assert.Equal(t, d.Outside, math.Abs(within) > turn/2, "base on the side of the arc")
			}
		}
		text, _ := x.Text()
		assert.Greater(t, text.Angle, -90.0)
		assert.LessOrEqual(t, text.Angle, 90+1e-8)
		box, _ := x.LabelBox()
		for _, p := range box {
			assert.GreaterOrEqual(t, p.Sub(d.Vertex).Len(), d.At, "the label stands outside the arc")
		}
		tangent := Polar(1, mid)
		assert.InDelta(t, d.At+st.TextGap()*mm, min(dot(box[0].Sub(d.Vertex), tangent), dot(box[2].Sub(d.Vertex), tangent)), 1e-9, "by a gap")
	})
}

func TestExpansionItems(t *testing.T) {
	st := Style{}
	for _, it := range everything().Items {
		x, ok := Expand(it.Shape, st)
		if !ok {
			continue
		}
		items := x.Items()
		want := len(x.Lines()) + len(x.Arcs()) + len(x.Arrows()) + 1
		assert.Len(t, items, want)
		b := x.Bounds()
		for _, i := range items {
			assert.Equal(t, RoleDimension, i.Role)
			inner := bounds(i.Shape)
			if text, ok := i.Shape.(Text); ok {
				inner = text.Bounds(st)
			}
			assert.True(t, b.Grown(1e-9).Union(inner) == b.Grown(1e-9), "%T leaves the bounds", i.Shape)
		}
	}
	square := Linear{Label: Label{Text: "8", Symbol: SquareSymbol}, From: Pt(0, 0), To: Pt(60, 0), Placed: true, At: -10, TextAt: 30}
	x, _ := Expand(square, st)
	assert.Len(t, x.Items(), 7, "three lines, two arrows, the square and the text")
}
