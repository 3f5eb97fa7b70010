package dxfout

import (
	"math"
	"strconv"
	"testing"

	d "boltplate/drawing"
	"github.com/stretchr/testify/require"
)

// one returns the entities of a drawing that holds only the shape, on the
// outline.
func one(t *testing.T, s d.Shape) []record {
	t.Helper()
	return entitiesOf(t, &d.Drawing{Items: []d.Item{{Shape: s}}})
}

func entitiesOf(t *testing.T, dr *d.Drawing) (found []record) {
	t.Helper()
	for _, r := range readRecords(t, encoded(t, dr)) {
		if r.section == "ENTITIES" && r.kind != "SECTION" {
			found = append(found, r)
		}
	}
	return found
}

// require that a record holds the groups, given as code and value.
func requireTags(t *testing.T, r record, want ...any) {
	t.Helper()
	for i := 0; i < len(want); i += 2 {
		require.Equal(t, want[i+1], r.first(want[i].(int)), "%s group %d", r.kind, want[i])
	}
}

func TestCurves(t *testing.T) {
	r := one(t, d.Line{From: d.Pt(1, 2), To: d.Pt(-3, 4.5)})[0]
	require.Equal(t, "LINE", r.kind)
	requireTags(t, r, 8, "OUTLINE", 10, "1.0", 20, "2.0", 30, "0.0", 11, "-3.0", 21, "4.5", 31, "0.0")

	r = one(t, d.Circle{Center: d.Pt(1, 2), Radius: 8.5})[0]
	require.Equal(t, "CIRCLE", r.kind)
	requireTags(t, r, 10, "1.0", 20, "2.0", 40, "8.5")

	r = one(t, d.Arc{Radius: 8.5, Start: -30, End: 90})[0]
	require.Equal(t, "ARC", r.kind)
	requireTags(t, r, 40, "8.5", 50, "330.0", 51, "90.0")
	require.Equal(t, []string{"AcDbEntity", "AcDbCircle", "AcDbArc"}, r.all(100))
	require.Equal(t, "CIRCLE", one(t, d.Arc{Radius: 1, Start: 10, End: 370})[0].kind)

	r = one(t, d.Ellipse{Center: d.Pt(1, 2), Major: d.Pt(0, 10), Ratio: 0.5})[0]
	require.Equal(t, "ELLIPSE", r.kind)
	requireTags(t, r, 10, "1.0", 11, "0.0", 21, "10.0", 40, "0.5", 41, "0.0")
	require.Equal(t, 2*math.Pi, r.number(t, 42), "parameters are radians; a whole turn is exact")
	r = one(t, d.Ellipse{Major: d.Pt(1, 0), Ratio: 1, Start: 90, End: 0})[0]
	require.InDelta(t, math.Pi/2, r.number(t, 41), 1e-8)
	require.InDelta(t, 2*math.Pi, r.number(t, 42), 1e-8)

	r = one(t, d.Conic{From: d.Pt(0, 0), Control: d.Pt(1, 2), To: d.Pt(2, 0), Weight: 1.5})[0]
	require.Equal(t, "SPLINE", r.kind)
	requireTags(t, r, 71, "2", 72, "6", 73, "3", 70, "12")
	require.Equal(t, []string{"0.0", "0.0", "0.0", "1.0", "1.0", "1.0"}, r.all(40))
	require.Equal(t, []string{"1.0", "1.5", "1.0"}, r.all(41))
	require.Equal(t, []string{"0.0", "1.0", "2.0"}, r.all(10))

	r = one(t, slot(0, 0, 20, 10))[0]
	require.Equal(t, "LWPOLYLINE", r.kind)
	require.Equal(t, tag{90, "4"}, r.tags[5], "the count comes first")
	require.Equal(t, []string{"1.0", "1.0"}, r.all(42))
	require.Equal(t, "1", strconv.Itoa(codeOf(r.first(70))&1), "closed")
	require.Equal(t, "128", one(t, d.Polyline{Vertices: slot(0, 0, 1, 1).Vertices})[0].first(70))
}

// TestShortAndLongTurns has arcs whose ends are nearly one: equal angles in a
// file are a whole circle.
func TestShortAndLongTurns(t *testing.T) {
	for _, c := range []struct {
		s    d.Shape
		want string
	}{
		{d.Arc{Radius: 10, Start: 20, End: 20 + 1e-10}, ""}, {d.Arc{Radius: 1e-3, Start: 20, End: 20 + 1e-5}, ""},
		{d.Arc{Radius: 10, Start: 20, End: 20 + 1e-4}, "ARC"}, {d.Arc{Radius: 10, Start: 20, End: 20 - 1e-4}, "ARC"},
		{d.Arc{Radius: 10, Start: 20, End: 20 - 1e-10}, "CIRCLE"}, {d.Arc{Radius: 10, Start: -1e-10, End: 360}, "CIRCLE"},
		{d.Ellipse{Major: d.Pt(9, 0), Ratio: 0.5, Start: 20, End: 20 + 1e-7}, ""},
		{d.Ellipse{Major: d.Pt(9, 0), Ratio: 0.5, Start: 20, End: 20 - 1e-4}, "ELLIPSE"},
	} {
		kind := ""
		for _, r := range one(t, c.s) {
			kind = r.kind
			if kind == "ARC" {
				require.NotEqual(t, r.first(50), r.first(51))
			}
			if kind == "ELLIPSE" {
				require.Less(t, r.number(t, 42)-r.number(t, 41), 2*math.Pi)
			}
		}
		require.Equal(t, c.want, kind, "%#v", c.s)
	}
}

// TestConicIsSpline evaluates the spline as readers do, by the recursion of
// Cox and de Boor over its knots, weights and control points.
func TestConicIsSpline(t *testing.T) {
	c := d.Conic{From: d.Pt(3, -1), Control: d.Pt(7, 12), To: d.Pt(20, 4), Weight: 1.7}
	r := one(t, c)[0]
	numbers := func(code int) (vs []float64) {
		for _, s := range r.all(code) {
			v, err := strconv.ParseFloat(s, 64)
			require.NoError(t, err)
			vs = append(vs, v)
		}
		return vs
	}
	knots, weights, xs, ys := numbers(40), numbers(41), numbers(10), numbers(20)
	var basis func(i, degree int, u float64) float64
	basis = func(i, degree int, u float64) float64 {
		if degree == 0 {
			if knots[i] <= u && u < knots[i+1] {
				return 1
			}
			return 0
		}
		sum := 0.0
		if w := knots[i+degree] - knots[i]; w > 0 {
			sum += (u - knots[i]) / w * basis(i, degree-1, u)
		}
		if w := knots[i+degree+1] - knots[i+1]; w > 0 {
			sum += (knots[i+degree+1] - u) / w * basis(i+1, degree-1, u)
		}
		return sum
	}
	for _, u := range []float64{0, 0.1, 0.25, 0.5, 0.75, 0.999} {
		var x, y, den float64
		for i := range xs {
			b := basis(i, codeOf(r.first(71)), u) * weights[i]
			x, y, den = x+b*xs[i], y+b*ys[i], den+b
		}
		// The formula of drawing.Conic.
		a, m, b := (1-u)*(1-u), 2*u*(1-u)*c.Weight, u*u
		want := c.From.Mul(a).Add(c.Control.Mul(m)).Add(c.To.Mul(b)).Mul(1 / (a + m + b))
		require.InDelta(t, want.X, x/den, 1e-7)
		require.InDelta(t, want.Y, y/den, 1e-7)
	}
}

// TestNothingIsLeftOut has shapes that would be nothing, or less than the
// decimals of the file can tell.
func TestNothingIsLeftOut(t *testing.T) {
	for _, s := range []d.Shape{
		d.Line{From: d.Pt(1, 1), To: d.Pt(1, 1)}, d.Line{From: d.Pt(1, 1), To: d.Pt(1+1e-10, 1)}, d.Circle{}, d.Arc{Start: 1, End: 2},
		d.Ellipse{Ratio: 1}, d.Polyline{}, d.Polyline{Vertices: make([]d.Vertex, 1)}, d.Polyline{Vertices: make([]d.Vertex, 3)}, d.Conic{Weight: 1}, d.Text{}, d.Text{Value: " \n"},
		d.Hatch{Solid: true}, d.Hatch{Spacing: 1, Loops: [][]d.Vertex{make([]d.Vertex, 2)}},
		d.Hatch{Spacing: 1, Loops: [][]d.Vertex{make([]d.Vertex, 4)}}, d.Hatch{Solid: true, Loops: [][]d.Vertex{make([]d.Vertex, 3)}},
	} {
		require.Empty(t, one(t, s), "%#v", s)
	}
}

func TestText(t *testing.T) {
	r := one(t, d.Text{At: d.Pt(3, 4), Value: "note"})[0]
	requireTags(t, r, 10, "3.0", 20, "4.0", 40, "3.5", 1, "note", 7, "BOLTPLATE", 72, "", 11, "")
	require.Equal(t, []string{"AcDbEntity", "AcDbText", "AcDbText"}, r.all(100))

	r = one(t, d.Text{At: d.Pt(3, 4), Value: "note", Height: 5, Align: d.AlignRight, Angle: 90})[0]
	requireTags(t, r, 40, "5.0", 50, "90.0", 72, "2", 11, "3.0", 21, "4.0", 10, "3.0")
	require.InDelta(t, 4-d.TextWidth("note", 5), r.number(t, 20), 1e-7, "where the text begins")

	r = one(t, d.Text{At: d.Pt(3, 4), Value: "note", Align: d.AlignCentre, Hang: true})[0]
	requireTags(t, r, 72, "1", 11, "3.0", 21, "0.5")

	half := &d.Drawing{Style: d.Style{Scale: 0.5}, Items: []d.Item{{Role: d.RoleText, Shape: d.Text{Value: "x"}}}}
	requireTags(t, entitiesOf(t, half)[0], 40, "7.0", 8, "TEXT") // 3.5 mm on paper at 1:2
}

// TestHatch has the offsets of user patterns as they are worked out by hand:
// spacing 2 at 45 degrees steps by (-1.4142, 1.4142), at 135 by (-1.4142, -1.4142).
func TestHatch(t *testing.T) {
	square := []d.Vertex{{Point: d.Pt(0, 0)}, {Point: d.Pt(10, 0)}, {Point: d.Pt(10, 10)}, {Point: d.Pt(0, 10)}}
	r := one(t, d.Hatch{Loops: [][]d.Vertex{square, slot(3, 3, 2, 2).Vertices}, Angle: 45, Spacing: 2})[0]
	require.Equal(t, "HATCH", r.kind)
	requireTags(t, r, 2, "_USER", 70, "0", 71, "0", 91, "2", 52, "45.0", 41, "2.0", 53, "45.0", 45, "-1.41421356", 46, "1.41421356")
	require.Equal(t, []string{"3", "2"}, r.all(92))
	require.Equal(t, []string{"0", "1"}, r.all(72))
	require.Equal(t, []string{"4", "4"}, r.all(93))
	require.Equal(t, []string{"0.0", "1.0", "0.0", "1.0"}, r.all(42))
	order := []int{}
	for _, g := range r.tags {
		switch g.code {
		case 2, 70, 71, 91, 92, 75, 76, 52, 41, 77, 78, 53, 79, 98:
			order = append(order, g.code)
		}
	}
	require.Equal(t, []int{2, 70, 71, 91, 92, 92, 75, 76, 52, 41, 77, 78, 53, 79, 98}, order, "readers take the groups in this order only")

	r = one(t, d.Hatch{Loops: [][]d.Vertex{square}, Angle: -45, Spacing: 2})[0]
	requireTags(t, r, 52, "315.0", 45, "1.41421356", 46, "1.41421356") // the same lines as 135
	half := &d.Drawing{Style: d.Style{Scale: 0.5}, Items: []d.Item{{Shape: d.Hatch{Loops: [][]d.Vertex{square}, Spacing: 2}}}}
	requireTags(t, entitiesOf(t, half)[0], 41, "4.0", 46, "4.0")

	requireTags(t, one(t, d.Hatch{Loops: [][]d.Vertex{square}, Solid: true})[0], 2, "SOLID", 70, "1", 76, "1", 53, "")
	r = one(t, d.Hatch{Loops: [][]d.Vertex{square[:3]}, Solid: true})[0]
	require.Equal(t, "SOLID", r.kind)
	requireTags(t, r, 12, "10.0", 22, "10.0", 13, "10.0", 23, "10.0")
}

func TestPlaced(t *testing.T) {
	v := d.View{Items: []d.Item{
		{Role: d.RoleHidden, Shape: d.Line{From: d.Pt(1, 2), To: d.Pt(3, 4)}},
		{Role: d.RoleText, Shape: d.Text{At: d.Pt(2, 0), Value: "x"}},
	}}
	es := entitiesOf(t, &d.Drawing{Views: []d.Placed{{View: v, At: d.Pt(100, 50), Scale: 0.5}}})
	requireTags(t, es[0], 8, "HIDDEN", 10, "100.5", 20, "51.0", 11, "101.5", 21, "52.0")
	requireTags(t, es[1], 10, "101.0", 40, "3.5") // letters keep their size on paper
}

func TestBlocks(t *testing.T) {
	v := d.View{Items: []d.Item{{Shape: d.Circle{Radius: 9}}, {Role: d.RoleText, Shape: d.Text{Value: "nut"}}}}
	other := d.View{Items: []d.Item{{Shape: d.Circle{Radius: 10}}}}
	dr := &d.Drawing{Views: []d.Placed{
		{View: v, At: d.Pt(10, 0), Scale: 2, Block: "NUT"}, {View: v, At: d.Pt(20, 0), Scale: 2, Block: "NUT"},
		{View: v, At: d.Pt(30, 0), Scale: 1, Block: "NUT"}, {View: other, Block: "nut"},
	}}
	records := readRecords(t, encoded(t, dr))
	var names, radii []string
	for _, r := range records {
		switch {
		case r.kind == "BLOCK":
			names = append(names, r.first(2))
		case r.section == "BLOCKS" && r.kind == "CIRCLE":
			radii = append(radii, r.first(40))
		}
	}
	require.Equal(t, []string{"*Model_Space", "*Paper_Space", "NUT", "nut_2"}, names)
	require.Equal(t, []string{"18.0", "10.0"}, radii, "once each, at the scale of the first placing")
	inserts := ofKind(records, "INSERT")
	require.Len(t, inserts, 4)
	requireTags(t, inserts[1], 2, "NUT", 10, "20.0", 41, "")
	requireTags(t, inserts[2], 2, "NUT", 10, "30.0", 41, "0.5", 42, "0.5", 43, "0.5")
	require.Len(t, ofKind(records, "TEXT"), 3, "text belongs to the paper: it stands at every placing")

	dr.Views[1].View = other
	var e *ValueError
	_, err := Encoder{}.Append(nil, dr)
	require.ErrorAs(t, err, &e)
	require.Equal(t, "Block", e.Field)
	require.Equal(t, 1, e.Index)
	// The same geometry in another slice is the same view.
	dr.Views[1].View = d.View{Items: []d.Item{{Role: d.RoleText, Shape: d.Text{Value: "other text"}}, {Shape: d.Circle{Radius: 9}}}}
	encoded(t, dr)
}

// TestHatchedBlocks: the lines of a hatch are 2 mm apart on paper at every
// scale, which one block at several scales could not be.
func TestHatchedBlocks(t *testing.T) {
	v := d.View{Items: []d.Item{{Role: d.RoleHatching, Shape: d.Hatch{Loops: [][]d.Vertex{slot(0, 0, 20, 10).Vertices}, Angle: 45, Spacing: 2}}}}
	dr := &d.Drawing{Views: []d.Placed{{View: v, Block: "PLATE"}, {View: v, Scale: 0.5, Block: "PLATE"}, {View: v, At: d.Pt(50, 0), Block: "PLATE"}}}
	records := readRecords(t, encoded(t, dr))
	var spacings, inserted []string
	for _, r := range ofKind(records, "HATCH") {
		spacings = append(spacings, r.first(41))
	}
	for _, r := range ofKind(records, "INSERT") {
		inserted = append(inserted, r.first(2))
		require.Empty(t, r.first(41), "no scale")
	}
	require.Equal(t, []string{"2.0", "2.0"}, spacings)
	require.Equal(t, []string{"PLATE", "PLATE_2", "PLATE"}, inserted)
}

func TestExtents(t *testing.T) {
	dr := &d.Drawing{Items: []d.Item{{Shape: d.Circle{Center: d.Pt(10, 20), Radius: 5}}}}
	vars := header(readRecords(t, encoded(t, dr)))
	require.Equal(t, []tag{{10, "5.0"}, {20, "15.0"}, {30, "0.0"}}, vars["$EXTMIN"])
	require.Equal(t, []tag{{10, "15.0"}, {20, "25.0"}, {30, "0.0"}}, vars["$EXTMAX"])
	require.Equal(t, []tag{{10, "5.0"}, {20, "15.0"}}, vars["$LIMMIN"])
	vp := ofKind(readRecords(t, encoded(t, dr)), "VPORT")[0]
	requireTags(t, vp, 12, "10.0", 22, "20.0", 40, "10.5")
}
