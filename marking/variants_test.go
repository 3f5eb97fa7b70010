package marking_test

import (
	"bytes"
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"boltplate/drawing"
	"boltplate/dxfout"
	"boltplate/dxfout/yofudxf"
	"boltplate/fastener"
	"boltplate/marking"
	"boltplate/thread"

	"github.com/stretchr/testify/require"
	"github.com/yofu/dxf"
)

// plates are the model answers that variants are made of: bolts with hidden
// edges and diagonals, with nut and washer, nuts, a stud, a section.
func plates(t testing.TB) []sample {
	m20, m16 := thread.MustParse("M20"), thread.MustParse("M16")
	three := []drawing.Direction{drawing.Front, drawing.SideView, drawing.HeadEnd}
	draw := func(name string, f fastener.Fastener, change func(*fastener.DrawOptions), views ...drawing.Direction) sample {
		o := fastener.DrawOptions{Views: views}
		if change != nil {
			change(&o)
		}
		d, err := fastener.Draw(f, o)
		require.NoError(t, err)
		d.Parts = nil
		return sample{name, d}
	}
	hidden := func(o *fastener.DrawOptions) { o.Hidden = true }
	all := []sample{
		draw("hex bolt", fastener.HexBolt{Thread: m20, Length: 90}, nil, three...),
		draw("square bolt", fastener.SquareBolt{Thread: m20, Length: 90, SquareNeck: true}, hidden, drawing.Front, drawing.HeadEnd),
		draw("bolted", fastener.Bolted{Bolt: fastener.HexBolt{Thread: m16, Length: 80}, Nut: fastener.HexNut{Thread: m16}, Washer: fastener.Washer{Thread: m16}, Grip: 46},
			nil, drawing.Front, drawing.HeadEnd, drawing.PointEnd),
		draw("nut", fastener.HexNut{Thread: m20}, hidden, drawing.Front, drawing.SideView, drawing.PointEnd),
		draw("stud", fastener.Stud{Thread: m20, Length: 90, Neck: fastener.NeckSquare}, hidden, drawing.Front, drawing.PointEnd),
		draw("small bolt", fastener.HexBolt{Thread: thread.MustParse("M6"), Length: 30}, func(o *fastener.DrawOptions) { o.Style.Scale = 2; o.Exact = true }, three...),
	}
	for _, j := range joints(t)[:2] {
		j.d.Parts = nil
		all = append(all, j)
	}
	return all
}

// transformed returns d with everything in it moved and scaled by t, texts and
// arrows too.
func transformed(d *drawing.Drawing, t drawing.Transform) *drawing.Drawing {
	out := *d
	out.Style.Scale = d.Style.PaperScale() / t.K()
	out.Views = nil
	for _, v := range d.Views {
		k := v.Scale
		if k == 0 {
			k = 1
		}
		out.Views = append(out.Views, drawing.Placed{View: v.View, At: t.Point(v.At), Scale: k * t.K()})
	}
	out.Items = nil
	for _, it := range d.Items {
		out.Items = append(out.Items, drawing.Item{Role: it.Role, Shape: drawing.Apply(it.Shape, t)})
	}
	return &out
}

// reshaped returns d with every item of its views put through change.
func reshaped(d *drawing.Drawing, change func(drawing.Item) []drawing.Item) *drawing.Drawing {
	out := *d
	out.Views = nil
	for _, v := range d.Views {
		var items []drawing.Item
		for _, it := range v.View.Items {
			items = append(items, change(it)...)
		}
		v.View.Items = items
		out.Views = append(out.Views, v)
	}
	return &out
}

// pieces cuts lines and arcs into n pieces.
func pieces(n int) func(drawing.Item) []drawing.Item {
	return func(it drawing.Item) (out []drawing.Item) {
		for i := range n {
			f, g := float64(i)/float64(n), float64(i+1)/float64(n)
			switch s := it.Shape.(type) {
			case drawing.Line:
				d := s.To.Sub(s.From)
				out = append(out, drawing.Item{Role: it.Role, Shape: drawing.Line{From: s.From.Add(d.Mul(f)), To: s.From.Add(d.Mul(g))}})
			case drawing.Arc:
				sweep := math.Mod(s.End-s.Start+720, 360)
				out = append(out, drawing.Item{Role: it.Role, Shape: drawing.Arc{Center: s.Center, Radius: s.Radius, Start: s.Start + f*sweep, End: s.Start + g*sweep}})
			case drawing.Circle:
				out = append(out, drawing.Item{Role: it.Role, Shape: drawing.Arc{Center: s.Center, Radius: s.Radius, Start: 360*f + 11, End: 360*g + 11}})
			default:
				return []drawing.Item{it}
			}
		}
		return out
	}
}

// chords turns arcs and circles into polylines of chords, or into single
// lines.
func chords(single bool) func(drawing.Item) []drawing.Item {
	return func(it drawing.Item) []drawing.Item {
		var c drawing.Point
		var r, start, sweep float64
		switch s := it.Shape.(type) {
		case drawing.Arc:
			c, r, start, sweep = s.Center, s.Radius, s.Start, math.Mod(s.End-s.Start+720, 360)
		case drawing.Circle:
			c, r, start, sweep = s.Center, s.Radius, 0, 360
		default:
			return []drawing.Item{it}
		}
		n := 6 + int(sweep/6)
		var p drawing.Polyline
		for i := range n + 1 {
			p.Vertices = append(p.Vertices, drawing.Vertex{Point: c.Add(drawing.Polar(r, start+sweep*float64(i)/float64(n)))})
		}
		if !single {
			return []drawing.Item{{Role: it.Role, Shape: p}}
		}
		var out []drawing.Item
		for i := range n {
			out = append(out, drawing.Item{Role: it.Role, Shape: drawing.Line{From: p.Vertices[i].Point, To: p.Vertices[i+1].Point}})
		}
		return out
	}
}

// off moves every line, arc and circle by up to r millimetres, each end on its
// own.
func off(seed uint64, r float64) func(drawing.Item) []drawing.Item {
	rnd := rand.New(rand.NewPCG(seed, 0))
	move := func(p drawing.Point) drawing.Point {
		return p.Add(drawing.Polar(r*rnd.Float64(), 360*rnd.Float64()))
	}
	return func(it drawing.Item) []drawing.Item {
		switch s := it.Shape.(type) {
		case drawing.Line:
			it.Shape = drawing.Line{From: move(s.From), To: move(s.To)}
		case drawing.Arc:
			s.Center = move(s.Center)
			it.Shape = s
		case drawing.Circle:
			s.Center = move(s.Center)
			it.Shape = s
		}
		return []drawing.Item{it}
	}
}

// byHand draws hidden edges and centre lines dash by dash, in narrow continuous
// lines.
func byHand(paper float64) func(drawing.Item) []drawing.Item {
	return func(it drawing.Item) (out []drawing.Item) {
		pattern := map[drawing.Role][]float64{hidden: {3, 0.75}, centre: {6, 0.75, 0.3, 0.75}}[it.Role]
		l, ok := it.Shape.(drawing.Line)
		if pattern == nil || !ok {
			return []drawing.Item{it}
		}
		d := l.To.Sub(l.From)
		length := d.Len()
		for i, at := 0, 0.0; at < length; i++ {
			to := min(at+pattern[i%len(pattern)]/paper, length)
			if i%2 == 0 {
				out = append(out, drawing.Item{Role: thin, Shape: drawing.Line{From: l.From.Add(d.Mul(at / length)), To: l.From.Add(d.Mul(to / length))}})
			}
			at = to
		}
		return out
	}
}

// TestDashesByHand: a line that is drawn as its dashes is a dashed line.
func TestDashesByHand(t *testing.T) {
	for _, s := range plates(t)[:3] {
		d := reshaped(s.d, byHand(s.d.Style.PaperScale()))
		for _, v := range []dxfout.Version{dxfout.R2000, dxfout.R12} {
			full(t, mark(t, marker(t, s.d, marking.Options{}), encode(t, d, v)), fmt.Sprint(s.name, ", ", v))
		}
	}
}

// joinedLines draws chains of lines of one role as polylines.
func joinedLines(d *drawing.Drawing) *drawing.Drawing {
	out := *d
	out.Views = nil
	for _, v := range d.Views {
		var items []drawing.Item
		var p *drawing.Polyline
		var role drawing.Role
		flush := func() {
			if p != nil {
				items = append(items, drawing.Item{Role: role, Shape: *p})
				p = nil
			}
		}
		for _, it := range v.View.Items {
			l, ok := it.Shape.(drawing.Line)
			if !ok {
				flush()
				items = append(items, it)
				continue
			}
			if p != nil && role == it.Role && p.Vertices[len(p.Vertices)-1].Point.Sub(l.From).Len() < 1e-9 {
				p.Vertices = append(p.Vertices, drawing.Vertex{Point: l.To})
				continue
			}
			flush()
			role, p = it.Role, &drawing.Polyline{Vertices: []drawing.Vertex{{Point: l.From}, {Point: l.To}}}
		}
		flush()
		v.View.Items = items
		out.Views = append(out.Views, v)
	}
	return &out
}

// inserted returns a file whose drawing is a block within a block, turned and
// scaled.
func inserted(t testing.TB, file []byte, turn, scale float64) []byte {
	text := string(file)
	const section, end = "  0\r\nSECTION\r\n  2\r\nENTITIES\r\n", "  0\r\nENDSEC\r\n"
	i := strings.Index(text, section)
	require.Positive(t, i)
	entities := text[i+len(section):]
	j := strings.Index(entities, end)
	rest := entities[j:]
	entities = entities[:j]
	k := strings.Index(text, "  2\r\nBLOCKS\r\n") + len("  2\r\nBLOCKS\r\n")
	block := func(name, contents string) string {
		return "  0\r\nBLOCK\r\n  8\r\n0\r\n  2\r\n" + name + "\r\n 70\r\n0\r\n 10\r\n5.0\r\n 20\r\n7.0\r\n 30\r\n0.0\r\n" + contents + "  0\r\nENDBLK\r\n  8\r\n0\r\n"
	}
	insert := func(name string, turn, scale float64) string {
		return fmt.Sprintf("  0\r\nINSERT\r\n  8\r\n0\r\n  2\r\n%s\r\n 10\r\n30.0\r\n 20\r\n-40.0\r\n 41\r\n%[2]v\r\n 42\r\n%[2]v\r\n 43\r\n%[2]v\r\n 50\r\n%[3]v\r\n", name, scale, turn)
	}
	blocks := block("INNER", entities) + block("OUTER", insert("INNER", turn-30, 2))
	return []byte(text[:k] + blocks + text[k:i] + section + insert("OUTER", 30, scale/2) + rest)
}

// office are other layers, colours and widths.
func office() dxfout.LayerMap {
	var m dxfout.LayerMap
	for r := range drawing.RoleCount {
		m[r] = dxfout.Layer{Name: fmt.Sprintf("PEN_%d", (int(r)*7+3)%13), Colour: 1 + int(r), Width: []float64{0.35, 0.7}[map[bool]int{true: 1}[r.Wide()]]}
	}
	return m
}

// TestVariantsMarkFull: the same drawing has all points, however it is moved,
// cut, joined and written.
func TestVariantsMarkFull(t *testing.T) {
	all := plates(t)
	if testing.Short() {
		all = all[2:3]
	}
	for _, s := range all {
		k := 1 / s.d.Style.PaperScale()
		variants := map[string]*drawing.Drawing{
			"shifted":       transformed(s.d, drawing.Transform{Move: drawing.Pt(1234.5, -77.25)}),
			"half":          transformed(s.d, drawing.Transform{Scale: 0.5}),
			"odd scale":     transformed(s.d, drawing.Transform{Scale: 1.37}),
			"inches":        transformed(s.d, drawing.Transform{Scale: 1 / 25.4}),
			"cut in two":    reshaped(s.d, pieces(2)),
			"cut in seven":  reshaped(s.d, pieces(7)),
			"polylines":     reshaped(s.d, chords(false)),
			"chords":        reshaped(s.d, chords(true)),
			"joined":        joinedLines(s.d),
			"0.2 off":       reshaped(s.d, off(1, 0.2*k)),
			"0.2 off again": reshaped(s.d, off(2, 0.2*k)),
		}
		m := marker(t, s.d, marking.Options{})
		for _, v := range []dxfout.Version{dxfout.R2000, dxfout.R12} {
			for _, turn := range []float64{90, 180, 270} {
				for _, scale := range []float64{1, 5, 0.37} {
					full(t, mark(t, m, inserted(t, encode(t, s.d, v), turn, scale)), fmt.Sprintf("%s, %v, turned by %v, scaled by %v", s.name, v, turn, scale))
				}
			}
		}
		for name, d := range variants {
			what := s.name + ", " + name
			full(t, mark(t, m, encode(t, d, dxfout.R2000)), what)
			full(t, mark(t, m, encode(t, d, dxfout.R12)), what+", plain")
			for _, v := range []dxfout.Version{dxfout.R2000, dxfout.R12} {
				b, err := dxfout.Encoder{Layers: office(), Version: v}.Append(nil, d)
				require.NoError(t, err)
				full(t, mark(t, m, b), fmt.Sprint(what, ", other layers, ", v))
			}
			y := dxf.NewDrawing()
			require.NoError(t, yofudxf.Add(y, d, dxfout.LayerMap{}))
			var b bytes.Buffer
			_, err := yofudxf.WriteTo(&b, y)
			require.NoError(t, err)
			full(t, mark(t, m, b.Bytes()), what+", yofu")
		}
	}
}
