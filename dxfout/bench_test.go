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

// typical is a drawing of about sixty entities as most files are: two views
// with their dimensions.
func typical() *d.Drawing {
	g := grid(48)
	return &d.Drawing{Views: []d.Placed{{View: g.Views[0].View}, {View: d.View{Items: plateDimensions(1)}, At: d.Pt(400, 0)}}}
}

type benchmark struct {
	name string
	d    *d.Drawing
}

func benchmarks() []benchmark {
	return []benchmark{
		{"empty", &d.Drawing{}},
		{"typical60", typical()},
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

func bareGroups(tb testing.TB, file []byte) []bareGroup {
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
