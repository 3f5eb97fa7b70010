package dxfout

import (
	"fmt"
	"io"
	"strconv"
	"testing"

	d "boltplate/drawing"
)

// grid is a drawing of n entities: mostly lines, with arcs, circles and
// polylines, at coordinates with several decimals.
func grid(n int) *d.Drawing {
	items := make([]d.Item, 0, n)
	for i := range n {
		p := d.Pt(float64(i%40)*7.3205080757, float64(i/40)*5.7735026919)
		role := d.Role(i % int(d.RoleHatching))
		switch i % 10 {
		case 7:
			items = append(items, d.Item{Role: role, Shape: d.Arc{Center: p, Radius: 3.1547, Start: 95, End: 5}})
		case 8:
			items = append(items, d.Item{Role: role, Shape: d.Circle{Center: p, Radius: 2.25}})
		case 9:
			items = append(items, d.Item{Role: role, Shape: slot(p.X, p.Y, 5.125, 2)})
		default:
			items = append(items, d.Item{Role: role, Shape: d.Line{From: p, To: p.Add(d.Pt(4.3301270189, 2.5))}})
		}
	}
	return &d.Drawing{Views: []d.Placed{{View: d.View{Name: "front", Items: items}}}}
}

// dimensioned is a view of n linear dimensions.
func dimensioned(n int) *d.Drawing {
	items := make([]d.Item, n)
	for i := range items {
		l := number(16)
		l.Text = "16"
		y := float64(i) * 8
		items[i] = d.Item{Role: d.RoleDimension, Shape: d.Linear{Label: l, From: d.Pt(0, 0), To: d.Pt(16, 0), Placed: true, At: -y, TextAt: 8}}
	}
	return &d.Drawing{Views: []d.Placed{{View: d.View{Items: items}}}}
}

// typical is what most files hold: two views of a hexagon-headed bolt with
// eight dimensions between them, arranged.
func typical() *d.Drawing {
	return &d.Drawing{
		Views: []d.Placed{{View: d.Arrange(boltFront(), d.Style{})}, {View: d.Arrange(boltHead(), d.Style{}), At: d.Pt(-70, 0)}},
		Items: []d.Item{{Role: d.RoleText, Shape: d.Text{At: d.Pt(-90, -70), Value: "Bolt M20 × 90", Height: 5}}},
		Parts: []d.Part{part("1", -90)},
	}
}

// boltFront is a bolt of 20 mm: head 16 high and 40 across corners, length 90,
// thread 46. Its shape is right only as far as a benchmark needs it.
func boltFront() d.View {
	v := d.View{Name: "front"}
	add := func(r d.Role, ss ...d.Shape) {
		for _, s := range ss {
			v.Items = append(v.Items, d.Item{Role: r, Shape: s})
		}
	}
	line := func(x1, y1, x2, y2 float64) d.Shape { return d.Line{From: d.Pt(x1, y1), To: d.Pt(x2, y2)} }
	for _, s := range []float64{-1, 1} {
		add(d.RoleOutline, line(-16, 10*s, 0, 10*s), line(0, 10*s, 88, 10*s), line(88, 10*s, 90, 8*s), line(0, 0, 0, 20*s),
			line(-13.5, 20*s, 0, 20*s), line(-16, 17.3205080757*s, -13.5, 20*s), line(-16, 0, -16, 17.3205080757*s), line(44, 0, 44, 10*s))
		add(d.RoleThin, line(44, 8.4664746*s, 88.5335254, 8.4664746*s), line(41.3434, 10*s, 44, 8.4664746*s))
		add(d.RoleOutline, d.Arc{Center: d.Pt(-7.3875, 15*s), Radius: 8.6125, Start: 144.5, End: 215.5})
	}
	add(d.RoleOutline, line(88, -10, 88, 10), line(90, -8, 90, 8), d.Arc{Center: d.Pt(14, 0), Radius: 30, Start: 160.5288, End: 199.4712})
	add(d.RoleCentre, line(-19, 0, 93, 0))
	says := func(letter string, v float64) d.Label { return d.Label{Quantity: d.Quantity{Letter: letter, Value: v}} }
	thread := says("D", 20)
	thread.Number = "M20"
	add(d.RoleDimension,
		d.Linear{Label: says("T", 16), From: d.Pt(-16, -17.3205080757), To: d.Pt(0, -20)},
		d.Linear{Label: says("L", 90), From: d.Pt(0, -20), To: d.Pt(90, -8)},
		d.Linear{Label: says("b", 46), From: d.Pt(44, -10), To: d.Pt(90, -8)},
		d.Linear{Label: says("z", 2), From: d.Pt(88, -10), To: d.Pt(90, -8)},
		d.Linear{Label: thread, From: d.Pt(88, -10), To: d.Pt(88, 10), Side: d.Right},
		d.Leader{Label: d.Label{Quantity: d.Quantity{Letter: "a", Value: 30, Unit: d.Degree}}, Tip: d.Pt(-14.75, 18.66), Angle: 120})
	return v
}

func boltHead() d.View {
	hexagon := d.Polyline{Closed: true}
	for i := range 6 {
		hexagon.Vertices = append(hexagon.Vertices, d.Vertex{Point: d.Polar(20, 90+60*float64(i))})
	}
	says := func(v float64, s d.Symbol) d.Label { return d.Label{Quantity: d.Quantity{Value: v}, Symbol: s} }
	return d.View{Name: "head", Items: []d.Item{
		{Role: d.RoleOutline, Shape: hexagon},
		{Role: d.RoleOutline, Shape: d.Circle{Radius: 17.3205080757}},
		{Role: d.RoleHidden, Shape: d.Circle{Radius: 10}},
		{Role: d.RoleHidden, Shape: d.Arc{Radius: 8.4664746, Start: 95, End: 5}},
		{Role: d.RoleCentre, Shape: d.Line{From: d.Pt(-23, 0), To: d.Pt(23, 0)}},
		{Role: d.RoleCentre, Shape: d.Line{From: d.Pt(0, -23), To: d.Pt(0, 23)}},
		{Role: d.RoleDimension, Shape: d.Linear{Label: says(34.64, d.NoSymbol), From: d.Pt(-17.3205080757, -10), To: d.Pt(17.3205080757, -10)}},
		{Role: d.RoleDimension, Shape: d.Diameter{Label: says(34.64, d.DiameterSymbol), Radius: 17.3205080757, Angle: 60}},
	}}
}

type benchmark struct {
	name string
	d    *d.Drawing
}

func benchmarks() []benchmark {
	return []benchmark{
		{"empty", &d.Drawing{}},
		{"bolt", typical()},
		{"entities1000", grid(1000)},
		{"dimensions100", dimensioned(100)},
	}
}

func BenchmarkEncode(b *testing.B) {
	for _, c := range benchmarks() {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			b.SetBytes(int64(len(encoded(b, c.d))))
			for b.Loop() {
				if err := Encode(io.Discard, c.d); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkPlain(b *testing.B) {
	for _, c := range append(benchmarks(), benchmark{"hatch", hatched()}, benchmark{"curves", curved()}) {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			b.SetBytes(int64(len(encodedPlain(b, c.d))))
			for b.Loop() {
				if err := (Encoder{Version: R12}).Encode(io.Discard, c.d); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// hatched is an area of about 250 lines with a hole.
func hatched() *d.Drawing {
	return &d.Drawing{Items: []d.Item{{Role: d.RoleHatching, Shape: d.Hatch{Angle: 45, Spacing: 1,
		Loops: [][]d.Vertex{slot(0, 0, 200, 100).Vertices, slot(50, 30, 60, 40).Vertices}}}}}
}

// curved is a hundred ellipses and conics.
func curved() *d.Drawing {
	dr := &d.Drawing{}
	for i := range 50 {
		p := d.Pt(float64(i)*30, 0)
		dr.Items = append(dr.Items, d.Item{Shape: d.Ellipse{Center: p, Major: d.Pt(12, 3), Ratio: 0.577}},
			d.Item{Shape: d.Conic{From: p, Control: p.Add(d.Pt(10, 8)), To: p.Add(d.Pt(20, 0)), Weight: 1.3}})
	}
	return dr
}

func BenchmarkAppend(b *testing.B) {
	for _, c := range benchmarks() {
		b.Run(c.name, func(b *testing.B) {
			b.ReportAllocs()
			buf := encoded(b, c.d)
			b.SetBytes(int64(len(buf)))
			for b.Loop() {
				var err error
				if buf, err = (Encoder{}).Append(buf[:0], c.d); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// A bareGroup is one group of a file in the form that a program holds it.
type bareGroup struct {
	code   int
	kind   byte // n a number, i an integer, h a handle, s a string
	number float64
	whole  int64
	text   string
}

func bareGroups(tb tester, file []byte) []bareGroup {
	var groups []bareGroup
	for _, t := range readTags(tb, file) {
		g := bareGroup{code: t.code, kind: 's', text: t.value}
		switch {
		case isReal(t.code):
			g.kind = 'n'
			g.number, _ = strconv.ParseFloat(t.value, 64)
		case isHandle(t.code):
			h, _ := strconv.ParseUint(t.value, 16, 64)
			g.kind, g.whole = 'h', int64(h)
		case isInteger(t.code):
			g.kind = 'i'
			g.whole, _ = strconv.ParseInt(t.value, 10, 64)
		}
		groups = append(groups, g)
	}
	return groups
}

// BenchmarkBareAppend is the yardstick: the same groups appended by a loop
// that checks nothing and plans nothing. It writes as many bytes as the encoder.
func BenchmarkBareAppend(b *testing.B) {
	for _, c := range benchmarks() {
		b.Run(c.name, func(b *testing.B) {
			file := encoded(b, c.d)
			groups := bareGroups(b, file)
			buf := make([]byte, 0, 2*len(file))
			b.ReportAllocs()
			b.SetBytes(int64(len(file)))
			for b.Loop() {
				buf = buf[:0]
				for i := range groups {
					buf = bareAppend(buf, &groups[i])
				}
			}
			if n := len(buf) - len(file); n > len(file)/50 || n < -len(file)/50 {
				b.Fatal(fmt.Sprint("the bare writer writes ", len(buf), " bytes, the encoder ", len(file)))
			}
		})
	}
}

func bareAppend(b []byte, g *bareGroup) []byte {
	if g.code < 100 {
		b = append(b, ' ')
	}
	if g.code < 10 {
		b = append(b, ' ')
	}
	b = strconv.AppendInt(b, int64(g.code), 10)
	b = append(b, "\r\n"...)
	switch g.kind {
	case 'n':
		n := len(b)
		b = strconv.AppendFloat(b, g.number, 'f', -1, 64)
		if len(b) == n+1 || g.number == float64(int64(g.number)) {
			b = append(b, ".0"...)
		}
	case 'i':
		b = strconv.AppendInt(b, g.whole, 10)
	case 'h':
		b = strconv.AppendInt(b, g.whole, 16)
	default:
		b = append(b, g.text...)
	}
	return append(b, "\r\n"...)
}
