package dxfout

import (
	"math"
	"strconv"
	"testing"

	d "boltplate/drawing"
	"github.com/stretchr/testify/require"
)

func labelled(text string, s d.Symbol, reference bool) d.Label {
	return d.Label{Text: text, Symbol: s, Reference: reference}
}

// TestDimensionText has labels that a program would write itself, which must
// not be fixed, and others, which must.
func TestDimensionText(t *testing.T) {
	linear := func(to float64, l d.Label) d.Shape {
		return d.Linear{Label: l, From: d.Pt(0, 0), To: d.Pt(to, 0), Placed: true, At: -10, TextAt: to / 2}
	}
	shelf := d.Shelf{Placed: true, Knee: d.Pt(20, 20)}
	diameter := func(l d.Label) d.Shape { return d.Diameter{Label: l, Radius: 8, Shelf: shelf} }
	radius := func(l d.Label) d.Shape { return d.Radius{Label: l, Radius: 8, Shelf: shelf} }
	angular := func(l d.Label) d.Shape { return d.Angular{Label: l, Start: 0, End: 30, Placed: true, At: 20} }
	const own = "" // no group 1
	for _, c := range []struct {
		s    d.Shape
		want string
	}{
		{linear(16, labelled("16", d.NoSymbol, false)), own},
		{linear(27.713, labelled("27.71", d.NoSymbol, false)), own},
		{linear(27.713, labelled("27.713", d.NoSymbol, false)), "27.713"},
		{linear(0.5, labelled("0.5", d.NoSymbol, false)), own},
		{linear(16, labelled("16.0", d.NoSymbol, false)), "16.0"},
		{linear(16, labelled("16", d.NoSymbol, true)), "(<>)"},
		{linear(16, labelled("16", d.DiameterSymbol, false)), "%%c<>"},
		{linear(16, labelled("16", d.DiameterSymbol, true)), "(%%c<>)"},
		{linear(16, labelled("16", d.SquareSymbol, false)), `\U+25A1<>`},
		{linear(16, labelled("16", d.SquareSymbol, true)), `\U+25A1(<>)`},
		{linear(16, labelled("1:30", d.TaperSymbol, false)), `\U+23321:30`},
		{linear(16, labelled("1.5D + 3", d.NoSymbol, false)), "1.5D + 3"},
		{linear(16, labelled("M20", d.NoSymbol, false)), "M20"},
		{linear(16, labelled("", d.NoSymbol, false)), " "},
		{linear(16, labelled("17", d.NoSymbol, false)), "17"},
		{linear(16, labelled("<>{x}", d.NoSymbol, false)), `< >\{x\}`},
		{diameter(labelled("16", d.DiameterSymbol, false)), own},
		{diameter(labelled("16", d.DiameterSymbol, true)), "(<>)"},
		{diameter(labelled("16", d.NoSymbol, false)), "16"},
		{diameter(labelled("M16", d.NoSymbol, false)), "M16"},
		{diameter(labelled("0.8D", d.DiameterSymbol, false)), "%%c0.8D"},
		{radius(labelled("8", d.RadiusSymbol, false)), own},
		{radius(labelled("2D", d.RadiusSymbol, false)), "R2D"},
		{radius(labelled("2D", d.NoSymbol, false)), "2D"},
		{angular(labelled("30°", d.NoSymbol, false)), own},
		{angular(labelled("30", d.NoSymbol, false)), "30"},
		{angular(labelled("α", d.NoSymbol, false)), `\U+03B1`},
	} {
		r := one(t, c.s)[0]
		require.Equal(t, "DIMENSION", r.kind)
		require.Equal(t, c.want, r.first(1), "%#v", c.s)
	}
	comma := &d.Drawing{Style: d.Style{DecimalComma: true}, Items: []d.Item{{Shape: linear(2.5, labelled("2,5", d.NoSymbol, false))}}}
	require.Equal(t, own, entitiesOf(t, comma)[0].first(1))
}

// TestDimensionPoints has what each group of each kind means.
func TestDimensionPoints(t *testing.T) {
	l := labelled("40", d.NoSymbol, false)
	r := one(t, d.Linear{Label: l, From: d.Pt(0, 5), To: d.Pt(40, 0), Placed: true, At: -12, TextAt: 20, HideFrom: true})[0]
	requireTags(t, r, 8, "DIMENSION", 2, "*D1", 3, "BOLTPLATE_1-1", 70, "160", 42, "40.0", 13, "0.0", 23, "5.0", 14, "40.0", 24, "0.0", 10, "40.0", 20, "-12.0", 50, "")
	require.Equal(t, []string{"75", "1"}, r.all(1070), "the first extension line is left out")
	// The text stands 1 mm above the line and is 3.5 mm high.
	requireTags(t, r, 11, "20.0", 21, "-9.25")
	require.Equal(t, []string{"AcDbEntity", "AcDbDimension", "AcDbAlignedDimension", "AcDbRotatedDimension"}, r.all(100))

	r = one(t, d.Linear{Label: l, From: d.Pt(0, 0), To: d.Pt(3, 40), Side: d.Left, Placed: true, At: -12, TextAt: 20, HideTo: true})[0]
	requireTags(t, r, 50, "90.0", 42, "40.0", 10, "-12.0", 20, "40.0", 11, "-14.75", 21, "20.0")
	require.Equal(t, []string{"76", "1"}, r.all(1070))

	r = one(t, d.Aligned{Label: l, From: d.Pt(0, 0), To: d.Pt(24, 32), Placed: true, At: 10, TextAt: 20})[0]
	requireTags(t, r, 70, "161", 42, "40.0", 13, "0.0", 14, "24.0", 24, "32.0", 10, "16.0", 20, "38.0") // 10 to the left of (3, 4)/5

	r = one(t, d.Diameter{Label: l, Center: d.Pt(10, 10), Radius: 5, Shelf: d.Shelf{Placed: true, Knee: d.Pt(10, 25)}})[0]
	requireTags(t, r, 70, "163", 42, "10.0", 15, "10.0", 25, "15.0", 10, "10.0", 20, "5.0", 40, "10.0")
	require.Equal(t, []string{"73", "1", "74", "1", "172", "0"}, r.all(1070))

	r = one(t, d.Radius{Label: l, Center: d.Pt(10, 10), Radius: 5, Angle: 90, Shelf: d.Shelf{Placed: true, Knee: d.Pt(10, 25)}})[0]
	requireTags(t, r, 70, "164", 42, "5.0", 15, "10.0", 25, "15.0", 10, "10.0", 20, "10.0", 40, "10.0")

	r = one(t, d.Angular{Label: l, Vertex: d.Pt(1, 1), Start: 0, End: 90, From: 5, To: 6, Placed: true, At: 20})[0]
	requireTags(t, r, 70, "165", 13, "6.0", 23, "1.0", 14, "1.0", 24, "7.0", 15, "1.0", 25, "1.0")
	require.InDelta(t, math.Pi/2, r.number(t, 42), 1e-8, "in radians")
	require.InDelta(t, 1+20/math.Sqrt2, r.number(t, 10), 1e-7)
}

// TestDimensionScale has a view at 1:2: the dimension measures half on the
// drawing, 20, and shows the true size, which DIMLFAC 2 makes of it.
func TestDimensionScale(t *testing.T) {
	s := d.Linear{Label: labelled("40", d.NoSymbol, false), From: d.Pt(0, 0), To: d.Pt(40, 0), Placed: true, At: -24, TextAt: 20}
	v := d.View{Items: []d.Item{{Role: d.RoleDimension, Shape: s}}}
	records := readRecords(t, encoded(t, &d.Drawing{Views: []d.Placed{{View: v}, {View: v, At: d.Pt(100, 0), Scale: 0.5}, {View: v, At: d.Pt(200, 0), Scale: 0.5}}}))
	styles := ofKind(records, "DIMSTYLE")
	require.Len(t, styles, 3)
	requireTags(t, styles[0], 2, "Standard")
	requireTags(t, styles[1], 2, "BOLTPLATE_1-1", 144, "1.0", 40, "1.0", 140, "3.5")
	requireTags(t, styles[2], 2, "BOLTPLATE_1-1_VIEW_1-2", 144, "2.0", 40, "1.0", 140, "3.5")
	dims := ofKind(records, "DIMENSION")
	require.Len(t, dims, 3)
	requireTags(t, dims[0], 3, "BOLTPLATE_1-1", 42, "40.0", 14, "40.0", 1, "")
	requireTags(t, dims[1], 3, "BOLTPLATE_1-1_VIEW_1-2", 42, "20.0", 13, "100.0", 14, "120.0", 20, "-12.0", 1, "")
	requireTags(t, dims[2], 3, "BOLTPLATE_1-1_VIEW_1-2", 2, "*D3")
	for _, r := range records {
		if r.section == "BLOCKS" && r.kind == "TEXT" {
			require.Equal(t, "3.5", r.first(40), "letters do not shrink")
		}
	}
}

// TestDimensionBlock has the picture of a linear dimension worked out by hand:
// extension lines from 8 widths off the outline to 8 widths past the line,
// arrows 3.5 long.
func TestDimensionBlock(t *testing.T) {
	s := d.Linear{Label: labelled("40", d.NoSymbol, false), From: d.Pt(0, 0), To: d.Pt(40, 0), Placed: true, At: -12, TextAt: 20}
	var lines, solids, texts []record
	for _, r := range readRecords(t, encoded(t, &d.Drawing{Items: []d.Item{{Shape: s}}})) {
		if r.section == "BLOCKS" {
			switch r.kind {
			case "LINE":
				lines = append(lines, r)
			case "SOLID":
				solids = append(solids, r)
			case "TEXT":
				texts = append(texts, r)
			}
		}
	}
	require.Len(t, lines, 3)
	requireTags(t, lines[0], 8, "DIMENSION", 10, "0.0", 20, "-2.0", 11, "0.0", 21, "-14.0")
	requireTags(t, lines[1], 10, "40.0", 20, "-2.0", 11, "40.0", 21, "-14.0")
	requireTags(t, lines[2], 10, "0.0", 20, "-12.0", 11, "40.0", 21, "-12.0")
	require.Len(t, solids, 2)
	requireTags(t, solids[0], 10, "0.0", 20, "-12.0", 11, "3.5")
	require.InDelta(t, 0.4608, math.Abs(solids[0].number(t, 21)+12), 1e-4, "half as wide as the tangent of 7.5 degrees makes it")
	require.Len(t, texts, 1)
	requireTags(t, texts[0], 1, "40", 72, "1", 11, "20.0", 21, "-11.0", 62, "7")
}

// TestLeader: a LEADER from the arrow over the knee to the end of the shelf,
// and the label as a text above it.
func TestLeader(t *testing.T) {
	es := one(t, d.Leader{Label: labelled("M20", d.NoSymbol, false), Tip: d.Pt(0, 0), Shelf: d.Shelf{Placed: true, Knee: d.Pt(10, 10)}})
	require.Len(t, es, 2)
	for i, kind := range []string{"LEADER", "TEXT"} {
		require.Equal(t, kind, es[i].kind)
		require.Equal(t, "DIMENSION", es[i].first(8))
	}
	requireTags(t, es[0], 3, "BOLTPLATE_1-1", 71, "1", 72, "0", 73, "3", 76, "3")
	require.Equal(t, []string{"0.0", "10.0"}, es[0].all(10)[:2])
	require.Equal(t, []string{"0.0", "10.0", "10.0"}, es[0].all(20))
	width := d.TextWidth("M20", 3.5)
	end, err := strconv.ParseFloat(es[0].all(10)[2], 64)
	require.NoError(t, err)
	require.InDelta(t, 11+width, end, 1e-6, "a gap of 1 mm, then the label")
	require.InDelta(t, 11+width/2, es[1].number(t, 11), 1e-6)
}

// TestTaperSymbol has the triangle of a taper on a leader: 3.5 high, with a tip
// of 30 degrees, 1 mm above the shelf and 1 mm from its knee.
func TestTaperSymbol(t *testing.T) {
	leader := d.Leader{Label: labelled("1:30", d.TaperSymbol, false), Tip: d.Pt(10, 10), Shelf: d.Shelf{Placed: true, Knee: d.Pt(20, 20)}}
	found := ofKind(one(t, leader), "LWPOLYLINE")
	require.Len(t, found, 1)
	requireTags(t, found[0], 8, "DIMENSION", 90, "3", 70, "129") // closed, its line type carried on round the corners
	length := 1.75 / math.Tan(15*math.Pi/180)
	for i, want := range [][2]float64{{21, 21}, {21 + length, 22.75}, {21, 24.5}} {
		for j, group := range [2]int{10, 20} {
			v, err := strconv.ParseFloat(found[0].all(group)[i], 64)
			require.NoError(t, err)
			require.InDelta(t, want[j], v, 1e-6)
		}
	}
}
