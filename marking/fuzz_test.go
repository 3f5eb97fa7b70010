package marking_test

import (
	"bytes"
	"io"
	"math/rand/v2"
	"strings"
	"testing"

	"boltplate/drawing"
	"boltplate/dxfin"
	"boltplate/dxfout"
	"boltplate/marking"

	"github.com/stretchr/testify/require"
)

// FuzzMark: whatever a file holds, marking ends with points between none and
// all, and a drawing of it can be written.
func FuzzMark(f *testing.F) {
	all := plates(f)
	d := all[3].d // a nut
	m := marker(f, d, marking.Options{})
	f.Add(encode(f, d, dxfout.R12))
	f.Add(encode(f, d, dxfout.R2000))
	f.Fuzz(func(t *testing.T, b []byte) {
		file, err := dxfin.Decoder{MaxBytes: 1 << 20, MaxEntities: 2000}.Decode(bytes.NewReader(b))
		if err != nil {
			return
		}
		r, err := m.Mark(file)
		if err != nil {
			return
		}
		if r.Points < 0 || r.Points > r.Of {
			t.Fatalf("%v of %v points", r.Points, r.Of)
		}
		if err := r.WriteText(io.Discard); err != nil {
			t.Fatal(err)
		}
		if _, err := (dxfout.Encoder{}).Append(nil, r.Drawing()); err != nil && !strings.Contains(err.Error(), "reaches further") {
			t.Fatal(err)
		}
	})
}

// TestScribble: a drawing with thousands of lines too many is marked, and only
// some of them are listed.
func TestScribble(t *testing.T) {
	d := plates(t)[0].d
	big := clone(d)
	r := rand.New(rand.NewPCG(1, 1))
	for range 10_000 {
		a := drawing.Pt(r.Float64()*300-50, r.Float64()*200-100)
		big.Items = append(big.Items, drawing.Item{Shape: drawing.Line{From: a, To: a.Add(drawing.Polar(10, 360*r.Float64()))}})
	}
	res := mark(t, marker(t, d, marking.Options{}), encode(t, big, dxfout.R2000))
	require.Less(t, res.Points, 70.0)
	counts := map[marking.Kind]int{}
	for _, f := range res.Findings {
		counts[f.Kind]++
	}
	require.Less(t, len(res.Findings), 200, "%v", counts)
	require.Contains(t, strings.Join(res.Unsure, " "), "more lines in the front view")
}
