package drawing

import (
	"math"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func randomTransform(t *rapid.T) Transform {
	c := rapid.Float64Range(-100, 100)
	return Transform{
		Mirror: rapid.Bool().Draw(t, "mirror"),
		Scale:  rapid.Float64Range(0.1, 10).Draw(t, "scale"),
		Turn:   rapid.Float64Range(-720, 720).Draw(t, "turn"),
		Move:   Pt(c.Draw(t, "dx"), c.Draw(t, "dy")),
	}
}

func TestTransformByHand(t *testing.T) {
	// Mirror (3,4) to (3,-4), double to (6,-8), turn by 90 to (8,6), move.
	tr := Transform{Mirror: true, Scale: 2, Turn: 90, Move: Pt(100, 200)}
	assert.Equal(t, Pt(108, 206), tr.Point(Pt(3, 4)))
	assert.Equal(t, Pt(8, 6), tr.Vector(Pt(3, 4)))
	assert.Equal(t, 2.0, tr.K())
	assert.Equal(t, 60.0, tr.Angle(30), "-30 + 90")
	assert.Equal(t, Pt(3, 4), Transform{}.Point(Pt(3, 4)), "the zero value")
	assert.Equal(t, 1.0, Transform{}.K())
}

func TestTransformKeepsShape(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tr := randomTransform(t)
		p, q := Pt(3, -4), Pt(10, 7)
		assert.InDelta(t, tr.K()*p.Sub(q).Len(), tr.Point(p).Sub(tr.Point(q)).Len(), 1e-9)
		a := rapid.Float64Range(-360, 360).Draw(t, "a")
		samePoint(t, tr.Vector(Polar(1, a)), Polar(tr.K(), tr.Angle(a)), "a direction")
	})
}

func TestApplyAgreesWithPoints(t *testing.T) {
	for _, s := range shapes() {
		rapid.Check(t, func(t *rapid.T) {
			tr := randomTransform(t)
			const n = 24
			var want []Point
			for _, p := range samples(s, n) {
				want = append(want, tr.Point(p))
			}
			if c, ok := s.(Circle); ok { // its samples start elsewhere
				image := c.Apply(tr)
				for _, p := range want {
					assert.InDelta(t, image.Radius, p.Sub(image.Center).Len(), 1e-9)
				}
				return
			}
			if a, ok := s.(Arc); ok && a.End-a.Start == 360 {
				tr.Turn = 15 * math.Round(tr.Turn/15)
				want = want[:0]
				for _, p := range samples(s, n) {
					want = append(want, tr.Point(p))
				}
			}
			sameSet(t, want, samples(Apply(s, tr), n), s, tr)
		})
	}
}

func TestApplyKeepsWhatIsOnPaper(t *testing.T) {
	tr := Transform{Mirror: true, Scale: 3, Turn: 20, Move: Pt(1, 1)}
	x := Text{At: Pt(0, 2), Height: 5, Angle: 10, Align: AlignCentre, Value: "A"}.Apply(tr)
	assert.Equal(t, Text{At: tr.Point(Pt(0, 2)), Height: 5, Angle: 10, Align: AlignCentre, Hang: true, Value: "A"}, x, "-10 + 20 degrees")
	h := Hatch{Angle: 45, Spacing: 2, Solid: true}.Apply(tr)
	assert.Equal(t, Hatch{Loops: [][]Vertex{}, Angle: -25, Spacing: 2, Solid: true}, h)
}

func everything() View {
	v := Arrange(ParseView(Plate+"; aligned 0 50 30 90; radius 60 35 8 -45; angle 80 50 10 70 2"), Style{})
	for _, s := range shapes() {
		v.Items = append(v.Items, Item{RoleThin, s})
	}
	v.Items = append(v.Items, Item{RoleText, Text{At: Pt(1, 2), Angle: 30, Value: "note"}})
	return v
}

func TestMirrorTwiceIsNothing(t *testing.T) {
	v := everything()
	assert.Equal(t, v, v.Mirror().Mirror())
}

func TestMoveThereAndBack(t *testing.T) {
	v := everything()
	same(t, v, v.Move(32, -16).Move(-32, 16))
	same(t, v, v.Scale(4).Scale(0.25))
}

func TestTurnFourTimes(t *testing.T) {
	v := everything()
	same(t, v, v.Turn(90).Turn(90).Turn(90).Turn(90))
	same(t, v.Turn(270), v.Turn(-90))
	// A shelf stays level, so which way it runs after a quarter turn is a
	// choice; everything else turns with the view.
	v.Items = slices.DeleteFunc(v.Items, func(it Item) bool {
		switch it.Shape.(type) {
		case Diameter, Radius, Leader:
			return true
		}
		return false
	})
	same(t, v.Turn(180), v.Turn(90).Turn(90))
	same(t, v.Turn(270), v.Turn(180).Turn(90))
}

// same checks that two views draw the same.
func same(t *testing.T, want, got View) {
	t.Helper()
	if !assert.Len(t, got.Items, len(want.Items)) {
		return
	}
	for i, w := range want.Items {
		g := got.Items[i]
		assert.IsType(t, w.Shape, g.Shape)
		x, ok := Expand(w.Shape, Style{})
		if !ok {
			if c, ok := w.Shape.(Circle); ok {
				samePoint(t, c.Center, g.Shape.(Circle).Center)
				continue
			}
			sameSet(t, samples(w.Shape, 8), samples(g.Shape, 8), w.Shape)
			continue
		}
		y, ok := Expand(g.Shape, Style{})
		assert.True(t, ok)
		sameSet(t, ink(x), ink(y), w.Shape, g.Shape)
		a, _ := x.LabelBox()
		b, _ := y.LabelBox()
		sameSet(t, a[:], b[:], w.Shape, g.Shape)
	}
}

func TestSidesTurn(t *testing.T) {
	for _, c := range []struct {
		t    Transform
		want [4]Side // of Below, Above, Left, Right
	}{
		{Transform{}, [4]Side{Below, Above, Left, Right}},
		{Transform{Turn: 90}, [4]Side{Right, Left, Below, Above}},
		{Transform{Turn: 180}, [4]Side{Above, Below, Right, Left}},
		{Transform{Turn: 270}, [4]Side{Left, Right, Above, Below}},
		{Transform{Turn: -90}, [4]Side{Left, Right, Above, Below}},
		{Transform{Turn: 450}, [4]Side{Right, Left, Below, Above}},
		{Transform{Turn: -360}, [4]Side{Below, Above, Left, Right}},
		{Transform{Mirror: true}, [4]Side{Above, Below, Left, Right}},
		{Transform{Mirror: true, Turn: 180}, [4]Side{Below, Above, Right, Left}},
		{Transform{Mirror: true, Turn: 90}, [4]Side{Left, Right, Below, Above}},
	} {
		for s, want := range c.want {
			assert.Equal(t, want, Linear{Side: Side(s)}.Apply(c.t).Side, "side %d, %+v", s, c.t)
		}
	}
}

// TestTextKeepsItsPlace: the image of a text fills what the image of its box
// is, whatever turns and mirrors it, and can be read.
func TestTextKeepsItsPlace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := Text{
			At: Pt(rapid.Float64Range(-9, 9).Draw(t, "x"), 4), Height: rapid.Float64Range(0, 9).Draw(t, "height"), Value: "A-A",
			Angle: rapid.SampledFrom([]float64{0, 30, 90, -60, 180}).Draw(t, "angle"),
			Align: Align(rapid.IntRange(0, 2).Draw(t, "align")), Hang: rapid.Bool().Draw(t, "hang"),
		}
		tr := randomTransform(t)
		tr.Scale = 0 // letters keep their height
		var want, got []Point
		for _, p := range x.Box(Style{}) {
			want = append(want, tr.Point(p))
		}
		y := x.Apply(tr)
		for _, p := range y.Box(Style{}) {
			got = append(got, p)
		}
		sameSet(t, want, got, x, tr)
		if tr.Mirror || tr.Turn != 0 {
			assert.LessOrEqual(t, y.Angle, 90+1e-6)
			assert.Greater(t, y.Angle, -90-1e-6)
		}
	})
}

// TestExpandAndApplyCommute: a dimension that is moved and then drawn is what
// it was when it was drawn and then moved; where the scale changes, so does
// the paper scale of the style.
func TestExpandAndApplyCommute(t *testing.T) {
	items := Arrange(ParseView(Plate+"; aligned 0 50 30 90; radius 60 35 8 -45; angle 80 50 10 70 2; below 0 0 3 0"), Style{}).Items
	for _, it := range items {
		x, ok := Expand(it.Shape, Style{})
		if !ok {
			continue
		}
		rapid.Check(t, func(t *rapid.T) {
			tr := randomTransform(t)
			tr.Mirror = tr.Mirror && rapid.Bool().Draw(t, "keep")
			label := false // whether the label keeps its place
			switch it.Shape.(type) {
			case Linear:
				tr.Turn = rapid.SampledFrom([]float64{0, 90, 180, 270, -90}).Draw(t, "quarters")
			case Diameter, Radius, Leader:
				tr.Turn = rapid.SampledFrom([]float64{0, 180}).Draw(t, "halves") // a shelf stays level
			}
			if !tr.Mirror && rapid.Bool().Draw(t, "upright") {
				tr.Turn, label = 0, true
			}
			y, ok := Expand(Apply(it.Shape, tr), Style{Scale: 1 / tr.K()})
			assert.True(t, ok)
			var want []Point
			for _, p := range ink(x) {
				want = append(want, tr.Point(p))
			}
			sameSet(t, want, ink(y), it.Shape, tr)
			if label {
				a, _ := x.LabelBox()
				b, _ := y.LabelBox()
				for i := range a {
					samePoint(t, tr.Point(a[i]), b[i])
				}
			}
		})
	}
}
