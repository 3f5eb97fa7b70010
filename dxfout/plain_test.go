package dxfout

import (
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	d "boltplate/drawing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

var plainNames = regexp.MustCompile(`^[A-Z0-9_$-]{1,31}$`)

// checkPlain insists that a file is AC1009 in the five kinds of the plain
// profile, whole, with names that are defined and polylines that end.
func checkPlain(t tester, file []byte) {
	records := readRecords(t, file)
	require.Equal(t, "AC1009", header(records)["$ACADVER"][0].value)
	var sections []string
	defined := map[string]bool{"LTYPE BYLAYER": true}
	open := false
	for i, r := range records {
		for _, g := range r.tags {
			require.NotContains(t, []int{5, 100, 102, 105, 330, 360, 370, 390, 420, 999}, g.code, "%s: what came after AC1009", r.kind)
		}
		switch {
		case r.kind == "SECTION":
			sections = append(sections, r.first(2))
		case r.section == "TABLES" && r.kind == r.table:
			defined[r.kind+" "+r.first(2)] = true
			if r.kind != "VPORT" {
				require.Regexp(t, plainNames, r.first(2))
			}
			if r.kind == "LAYER" {
				require.True(t, defined["LTYPE "+r.first(6)], r.first(6))
			}
		case r.kind == "TABLE":
			n := 0
			for _, e := range records[i+1:] {
				if e.table == r.table && e.kind == r.table {
					n++
				}
			}
			require.Equal(t, strconv.Itoa(n), r.first(70), r.table)
		case r.section == "ENTITIES":
			require.True(t, defined["LAYER "+r.first(8)], "%s on %s", r.kind, r.first(8))
			require.Equal(t, open, r.kind == "VERTEX" || r.kind == "SEQEND", "%s in the wrong place", r.kind)
			switch r.kind {
			case "LINE", "ARC", "CIRCLE", "VERTEX":
			case "TEXT":
				require.True(t, defined["STYLE "+r.first(7)])
			case "POLYLINE":
				require.Equal(t, "1", r.first(66))
				open = true
			case "SEQEND":
				open = false
			default:
				t.Fatalf("%s is none of the kinds of a plain file", r.kind)
			}
		}
	}
	require.False(t, open)
	require.Equal(t, []string{"HEADER", "TABLES", "BLOCKS", "ENTITIES"}, sections)
	require.Equal(t, "EOF", records[len(records)-1].kind)
	checkNumbers(t, records)
}

func plainEntities(t tester, dr *d.Drawing) (found []record) {
	for _, r := range readRecords(t, encodedPlain(t, dr)) {
		if r.section == "ENTITIES" && r.kind != "SECTION" {
			found = append(found, r)
		}
	}
	return found
}

func at(t tester, r record, code int) d.Point { return d.Pt(r.number(t, code), r.number(t, code+10)) }

func TestPlain(t *testing.T) {
	for name, dr := range variants() {
		t.Run(name, func(t *testing.T) { checkPlain(t, encodedPlain(t, plainOf(dr))) })
	}
}

// chain returns the vertices of the only polyline of a plain drawing.
func chain(t tester, s d.Shape, k float64) (points []d.Point, closed bool) {
	dr := &d.Drawing{Views: []d.Placed{{View: d.View{Items: []d.Item{{Shape: s}}}, Scale: k}}}
	for _, r := range plainEntities(t, dr) {
		switch r.kind {
		case "POLYLINE":
			require.Nil(t, points)
			closed = r.first(70) == "129"
		case "VERTEX":
			points = append(points, at(t, r, 10))
		default:
			require.Equal(t, "SEQEND", r.kind)
		}
	}
	return points, closed
}

// fromSegment returns the distance of p from the segment a-b.
func fromSegment(a, b, p d.Point) float64 {
	u, v := b.Sub(a), p.Sub(a)
	t := 0.0
	if l := u.X*u.X + u.Y*u.Y; l > 0 {
		t = min(1, max(0, (u.X*v.X+u.Y*v.Y)/l))
	}
	return v.Sub(u.Mul(t)).Len()
}

// farthest returns the greatest distance between two chains, measured both
// ways at the points of the one and the segments of the other. curve is dense
// enough that its chords count as the curve.
func farthest(curve, chords []d.Point) float64 {
	off := 0.0
	toNearest := func(p d.Point, of []d.Point) {
		best := math.Inf(1)
		for i := 1; i < len(of); i++ {
			dist := fromSegment(of[i-1], of[i], p)
			best = min(best, dist)
		}
		off = max(off, best)
	}
	for _, p := range curve {
		toNearest(p, chords)
	}
	for i := 1; i < len(chords); i++ {
		for j := range 8 {
			f := float64(j) / 8
			toNearest(chords[i-1].Mul(1-f).Add(chords[i].Mul(f)), curve)
		}
	}
	return off
}

// TestPlainEllipse measures the chords against the equation of the ellipse.
func TestPlainEllipse(t *testing.T) {
	for _, c := range []struct {
		e d.Ellipse
		k float64
	}{
		{d.Ellipse{Center: d.Pt(3, -4), Major: d.Pt(12, 5), Ratio: 0.577}, 1},
		{d.Ellipse{Major: d.Pt(12, 0), Ratio: 0.577}, 0.1},
		{d.Ellipse{Major: d.Pt(12, 0), Ratio: 0.01}, 2},
		{d.Ellipse{Major: d.Pt(0, 40), Ratio: 1, Start: -30, End: 200}, 1},
		{d.Ellipse{Major: d.Pt(0, 40), Ratio: 0.3, Start: 350, End: 20}, 1},
		{d.Ellipse{Major: d.Pt(400, 0), Ratio: 0.5}, 5},
		{d.Ellipse{Major: d.Pt(0.004, 0), Ratio: 0.5}, 1},
	} {
		points, closed := chain(t, c.e, c.k)
		require.Equal(t, c.e.Whole(), closed)
		start, sweep := turn(c.e.Start, c.e.End)
		var curve []d.Point
		for i := range 2001 {
			u := (start + sweep*float64(i)/2000) * math.Pi / 180
			a, b := c.e.Major.Len()*math.Cos(u), c.e.Ratio*c.e.Major.Len()*math.Sin(u)
			dir := c.e.Major.Mul(1 / c.e.Major.Len())
			curve = append(curve, c.e.Center.Add(d.Pt(a*dir.X-b*dir.Y, a*dir.Y+b*dir.X)).Mul(c.k))
		}
		if closed {
			points = append(points, points[0])
		} else {
			require.InDelta(t, 0, points[0].Sub(curve[0]).Len(), 1e-7)
			require.InDelta(t, 0, points[len(points)-1].Sub(curve[2000]).Len(), 1e-7)
		}
		allowed := max(PlainTolerance, 1e-5*2*c.e.Major.Len()*c.k)
		off := farthest(curve, points)
		t.Logf("%d chords, %.5f off", len(points)-1, off)
		require.LessOrEqual(t, off, allowed*1.001)
		require.Less(t, len(points), 800)
	}
}

// TestPlainConic measures the chords against the formula of the rational curve.
func TestPlainConic(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		num := func(low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, "num") }
		point := func() d.Point { return d.Pt(num(-60, 60), num(-60, 60)) }
		c := d.Conic{From: point(), Control: point(), To: point(), Weight: num(0.05, 8)}
		if c.From.Sub(c.Control).Len()+c.From.Sub(c.To).Len() < 1e-3 {
			return
		}
		points, closed := chain(t, c, 1)
		require.False(t, closed)
		var curve []d.Point
		for i := range 801 {
			u := float64(i) / 800
			a, b, e := (1-u)*(1-u), 2*u*(1-u)*c.Weight, u*u
			curve = append(curve, c.From.Mul(a).Add(c.Control.Mul(b)).Add(c.To.Mul(e)).Mul(1/(a+b+e)))
		}
		require.LessOrEqual(t, farthest(curve, points), PlainTolerance*1.1)
		require.Less(t, len(points), 700)
	})
}

// TestPlainHatch: the lines of a hatch, times their distance, are its area as
// geometry gives it; they lie at the angle, the distance apart, and one on
// paper is the same at every scale.
func TestPlainHatch(t *testing.T) {
	square := []d.Vertex{{Point: d.Pt(0, 0)}, {Point: d.Pt(40, 0)}, {Point: d.Pt(40, 40)}, {Point: d.Pt(0, 40)}}
	circle := []d.Vertex{{Point: d.Pt(10, 20), Bulge: -1}, {Point: d.Pt(30, 20), Bulge: -1}}
	crescent := []d.Vertex{{Point: d.Pt(0, 0), Bulge: 1}, {Point: d.Pt(20, 0), Bulge: -0.3}}
	// A segment of bulge b on a chord of c: radius r = c(1+b^2)/4b, angle 4 atan b.
	segment := func(c, b float64) float64 {
		r, a := c*(1+b*b)/(4*b), 4*math.Atan(b)
		return r * r / 2 * (a - math.Sin(a))
	}
	for name, c := range map[string]struct {
		loops [][]d.Vertex
		area  float64
	}{
		"square":    {[][]d.Vertex{square}, 1600},
		"circle":    {[][]d.Vertex{circle}, math.Pi * 100},
		"hole":      {[][]d.Vertex{square, circle}, 1600 - math.Pi*100},
		"slot":      {[][]d.Vertex{slot(5, 5, 20, 8).Vertices}, 20*8 + math.Pi*16},
		"island":    {[][]d.Vertex{square, circle, slot(15, 18, 10, 4).Vertices}, 1600 - math.Pi*100 + 40 + math.Pi*4},
		"crescent":  {[][]d.Vertex{crescent}, segment(20, 1) - segment(20, 0.3)},
		"large arc": {[][]d.Vertex{{{Point: d.Pt(0, 0), Bulge: 3}, {Point: d.Pt(7, 2)}}}, segment(math.Hypot(7, 2), 3)},
		"touching":  {[][]d.Vertex{square, {{Point: d.Pt(0, 0)}, {Point: d.Pt(40, 40)}, {Point: d.Pt(0, 40)}}}, 800},
	} {
		for _, angle := range []float64{0, 45, -45, 90, 135, 12.5, 400} {
			for _, k := range []float64{1, 0.5} {
				const spacing = 0.05
				dr := &d.Drawing{Views: []d.Placed{{View: d.View{Items: []d.Item{
					{Role: d.RoleHatching, Shape: d.Hatch{Loops: c.loops, Angle: angle, Spacing: spacing}}}}, Scale: k}}}
				length, heights := 0.0, map[int64]bool{}
				normal := d.Polar(1, angle+90)
				for _, r := range plainEntities(t, dr) {
					require.Equal(t, "LINE", r.kind)
					a, b := at(t, r, 10), at(t, r, 11)
					length += b.Sub(a).Len()
					h := (a.X*normal.X + a.Y*normal.Y) / spacing
					require.InDelta(t, math.Round(h), h, 1e-5, "%s at %g", name, angle)
					require.InDelta(t, h, (b.X*normal.X+b.Y*normal.Y)/spacing, 1e-5)
					heights[int64(math.Round(h))] = true
				}
				require.InEpsilon(t, c.area*k*k, length*spacing, 0.006, "%s at %g", name, angle)
				require.Greater(t, len(heights), 40)
			}
		}
	}
}

// TestPlainHatchAny: whatever the loops, every line starts and ends on a loop
// and its middle is inside an odd number of them, counted by winding angles of
// finely cut loops.
func TestPlainHatchAny(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		num := func(low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, "num") }
		var loops [][]d.Vertex
		for range rapid.IntRange(1, 3).Draw(t, "loops") {
			l := make([]d.Vertex, rapid.IntRange(3, 6).Draw(t, "n"))
			for i := range l {
				// On a coarse grid, so that lines meet corners.
				l[i] = d.Vertex{Point: d.Pt(math.Round(num(-20, 20)), math.Round(num(-20, 20))), Bulge: rapid.SampledFrom([]float64{0, 0, 0.4, -0.4, 1, -1, 2}).Draw(t, "bulge")}
			}
			loops = append(loops, l)
		}
		cut := make([][]d.Point, len(loops))
		for i, l := range loops {
			for j, v := range l {
				cut[i] = append(cut[i], v.Point)
				if a, ok := d.BulgeArc(v, l[(j+1)%len(l)].Point); ok {
					start, sweep := turn(a.Start, a.End)
					var arc []d.Point
					for q := 1; q < 130; q++ {
						arc = append(arc, a.Center.Add(d.Polar(a.Radius, start+sweep*float64(q)/130)))
					}
					if v.Bulge < 0 {
						slices.Reverse(arc)
					}
					cut[i] = append(cut[i], arc...)
				}
			}
			cut[i] = append(cut[i], cut[i][0])
		}
		edgeDistance := func(p d.Point) float64 {
			best := math.Inf(1)
			for _, c := range cut {
				for i := 1; i < len(c); i++ {
					dist := fromSegment(c[i-1], c[i], p)
					best = min(best, dist)
				}
			}
			return best
		}
		inside := func(p d.Point) bool {
			n := 0
			for _, c := range cut {
				turned := 0.0
				for i := 1; i < len(c); i++ {
					a := c[i].Sub(p).Angle() - c[i-1].Sub(p).Angle()
					turned += math.Remainder(a, 360)
				}
				n += int(math.Abs(math.Round(turned / 360)))
			}
			return n%2 == 1
		}
		angle := rapid.SampledFrom([]float64{0, 45, 90, 30}).Draw(t, "angle")
		dr := &d.Drawing{Items: []d.Item{{Shape: d.Hatch{Loops: loops, Angle: angle, Spacing: 2}}}}
		for _, r := range plainEntities(t, dr) {
			a, b := at(t, r, 10), at(t, r, 11)
			require.Less(t, edgeDistance(a), 0.01)
			require.Less(t, edgeDistance(b), 0.01)
			for _, f := range []float64{0.1, 0.5, 0.9} {
				p := a.Mul(1 - f).Add(b.Mul(f))
				if edgeDistance(p) > 0.01 {
					require.True(t, inside(p), "%v of %v-%v", p, a, b)
				}
			}
		}
	})
}

// TestPlainKinds: what becomes of what a plain file does not know.
func TestPlainKinds(t *testing.T) {
	kinds := func(dr *d.Drawing) map[string]int {
		n := map[string]int{}
		for _, r := range plainEntities(t, dr) {
			n[r.kind+" "+r.first(8)]++
		}
		return n
	}
	// A dimension of two extension lines and a line, two arrowheads of three
	// corners, and a text.
	require.Equal(t, map[string]int{"LINE DIMENSION": 3, "POLYLINE DIMENSION": 2, "VERTEX DIMENSION": 6, "SEQEND DIMENSION": 2, "TEXT DIMENSION": 1},
		kinds(&d.Drawing{Items: []d.Item{{Role: d.RoleDimension, Shape: d.Linear{Label: d.Label{Text: "16"}, To: d.Pt(16, 0), Placed: true, At: -10, TextAt: 8}}}}))
	// A filled square is its edge.
	square := d.Hatch{Solid: true, Loops: [][]d.Vertex{{{}, {Point: d.Pt(1, 0)}, {Point: d.Pt(1, 1)}, {Point: d.Pt(0, 1)}}}}
	require.Equal(t, map[string]int{"POLYLINE HATCHING": 1, "VERTEX HATCHING": 4, "SEQEND HATCHING": 1},
		kinds(&d.Drawing{Items: []d.Item{{Role: d.RoleHatching, Shape: square}}}))
	// Attributes that can be seen are text, the rest of a part is not there.
	parts := &d.Drawing{Parts: []d.Part{part("1", 0)}}
	require.Equal(t, map[string]int{"TEXT TEXT": 2}, kinds(parts))
	for _, hidden := range []string{"proportion", "square bolt", "kind", "Bolt M20x90"} {
		require.NotContains(t, string(encodedPlain(t, parts)), hidden)
	}
	// A block is drawn wherever it is placed, at its scale.
	v := d.View{Items: []d.Item{{Shape: d.Circle{Center: d.Pt(1, 2), Radius: 3}}}}
	found := plainEntities(t, &d.Drawing{Views: []d.Placed{{View: v, Block: "B"}, {View: v, Block: "B", At: d.Pt(10, 20), Scale: 2}}})
	require.Len(t, found, 2)
	requireTags(t, found[0], 10, "1.0", 20, "2.0", 40, "3.0")
	requireTags(t, found[1], 10, "12.0", 20, "24.0", 40, "6.0")
}

func TestPlainText(t *testing.T) {
	say := func(s string) string {
		return plainEntities(t, &d.Drawing{Items: []d.Item{{Shape: d.Text{Value: s}}}})[0].first(1)
	}
	require.Equal(t, "M20 x 90, %%c16 %%p0.1, 45%%d, \xb5m\xb2", say("M20 × 90, Ø16 ±0.1, 45°, µm²"))
	require.Equal(t, `5-6, "it's" 7"`, say("5–6, “it’s” 7″"))
	// The signs of rules as one types them, and as rules are read.
	require.Equal(t, "2sqrt(R\xb2 - i\xb2), 2.5P ~ 6.3, pi/4 D\xb2", say("2√(R² - i²), 2.5P ≈ 6.3, π/4 D²"))
	require.Equal(t, `\U +00D8`, say(`\U+00D8`), "no code where the file has none")
	require.Equal(t, "%%%%%% %%%%%%c", say("%% %%c"))
}

// TestPlainErrors: what a plain file cannot hold is refused by name.
func TestPlainErrors(t *testing.T) {
	item := func(s d.Shape) *d.Drawing { return &d.Drawing{Items: []d.Item{{Shape: s}}} }
	area := [][]d.Vertex{{{}, {Point: d.Pt(1000, 0)}, {Point: d.Pt(1000, 1000)}}}
	for _, c := range []struct {
		dr   *d.Drawing
		want string
	}{
		{item(d.Text{Value: "5 kΩ"}), `item 0, Text.Value = "5 kΩ": holds 'Ω' (U+03A9), which an AC1009 file cannot hold`},
		{item(d.Text{Value: "bad \xff"}), `cannot hold`},
		{item(d.Leader{Label: d.Label{Text: "螺栓"}, Shelf: d.Shelf{Placed: true}}), `Leader.Label.Text = "螺栓": holds '螺'`},
		{&d.Drawing{Parts: []d.Part{{Attributes: []d.Attribute{{Tag: "T", Text: d.Text{Value: "Ω"}}}}}}, `Part 0.Attributes.Text.Value = "Ω": holds`},
		{item(d.Hatch{Loops: area, Spacing: 0.01}), "Hatch.Spacing = 0.01: makes more than the 20000 lines"},
		{item(d.Hatch{Loops: [][]d.Vertex{{{Bulge: 1e11}, {Point: d.Pt(1, 0), Bulge: 1e11}}}, Spacing: 1}), "Hatch.Spacing = 1: makes more than"},
	} {
		file, err := Encoder{Version: R12}.Append(nil, c.dr)
		require.ErrorContains(t, err, c.want)
		require.Empty(t, file)
	}
	// What is not written need not be held.
	_, err := Encoder{Version: R12}.Append(nil, &d.Drawing{Parts: []d.Part{{Name: "Ω", Attributes: []d.Attribute{{Tag: "T", Prompt: "Ω", Hidden: true, Text: d.Text{Value: "Ω"}}},
		Properties: []d.Property{{Key: "k", Value: "Ω"}}}}})
	require.NoError(t, err)
	_, err = Encoder{Version: R12, Font: "Ω.ttf"}.Append(nil, &d.Drawing{})
	require.ErrorContains(t, err, `Encoder.Font = "Ω.ttf": holds`)
	_, err = Encoder{Version: 2}.Append(nil, &d.Drawing{})
	require.ErrorContains(t, err, "Encoder.Version = 2: is no version; there are R2000 and R12")
}

// TestPlainInjection puts text that looks like groups wherever a plain file
// has text from outside, and counts the records.
func TestPlainInjection(t *testing.T) {
	kinds := func(evil string) map[string]int {
		dr := &d.Drawing{
			Items: []d.Item{{Shape: d.Text{Value: evil}}, {Shape: d.Leader{Label: d.Label{Text: evil}, Shelf: d.Shelf{Placed: true, Knee: d.Pt(9, 9)}}}},
			Views: []d.Placed{{View: d.View{Name: evil}, Block: evil}},
			Parts: []d.Part{{Name: evil, Attributes: []d.Attribute{{Tag: "T", Prompt: evil, Text: d.Text{Value: evil}}}}},
		}
		b, err := Encoder{Font: evil, Version: R12}.Append(nil, dr)
		require.NoError(t, err)
		checkPlain(t, b)
		found := map[string]int{}
		for _, r := range readRecords(t, b) {
			found[r.kind]++
		}
		return found
	}
	want := kinds("harmless")
	for _, evil := range []string{
		"x\r\n  0\r\nEOF", "x\n0\nLINE\n8\n0", "x\r0\rENDSEC", "^J  0^JEOF", "\x00\x01\x1a1", "x\u0085  0\u2028EOF", `\U+000A0`, "%%010", "\v\f  0",
	} {
		require.Equal(t, want, kinds(evil), "%q", evil)
	}
}

func TestVersionString(t *testing.T) {
	require.Equal(t, []string{"AC1015", "AC1009", "unknown version"}, []string{R2000.String(), R12.String(), Version(9).String()})
	require.True(t, strings.HasPrefix(string(encodedPlain(t, &d.Drawing{})), "  0\r\nSECTION\r\n"))
}
