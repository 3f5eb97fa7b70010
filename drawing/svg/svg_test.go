package svg_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"boltplate/drawing"
	"boltplate/drawing/svg"
	"boltplate/fastener"
	"boltplate/thread"

	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write the golden files anew")

func draw(t require.TestingT, f fastener.Fastener, views ...drawing.Direction) *drawing.Drawing {
	d, err := fastener.Draw(f, fastener.DrawOptions{Views: views, Options: fastener.Options{Hidden: true}})
	require.NoError(t, err)
	return d
}

func bolt(t require.TestingT) *drawing.Drawing {
	return draw(t, fastener.SquareBolt{Thread: thread.MustParse("M20"), Length: 90, SquareNeck: true}, drawing.Front, drawing.SideView, drawing.HeadEnd)
}

func washer(t require.TestingT) *drawing.Drawing {
	return draw(t, fastener.Washer{Thread: thread.MustParse("M20"), Basis: fastener.Standard})
}

// TestGolden compares two kinds with files that were looked at.
func TestGolden(t *testing.T) {
	for name, d := range map[string]*drawing.Drawing{"square-bolt": bolt(t), "washer": washer(t)} {
		got, err := svg.Encoder{Title: name}.Append(nil, d)
		require.NoError(t, err)
		file := filepath.Join("testdata", name+".svg")
		if *update {
			require.NoError(t, os.WriteFile(file, got, 0o644))
			continue
		}
		want, err := os.ReadFile(file)
		require.NoError(t, err, "write it with -update")
		w, g := strings.Split(string(want), "\n"), strings.Split(string(got), "\n")
		for i := range min(len(w), len(g)) {
			require.Equal(t, w[i], g[i], "%s:%d", file, i+1)
		}
		require.Len(t, g, len(w))
	}
}

// head is the outermost element of a file.
type head struct {
	XMLName xml.Name `xml:"http://www.w3.org/2000/svg svg"`
	Width   string   `xml:"width,attr"`
	Height  string   `xml:"height,attr"`
	ViewBox string   `xml:"viewBox,attr"`
	Title   string   `xml:"title"`
	Rect    []struct {
		Fill string `xml:"fill,attr"`
	} `xml:"rect"`
	G []struct {
		Class string `xml:"class,attr"`
		Width string `xml:"stroke-width,attr"`
	} `xml:"g"`
}

func read(t require.TestingT, e svg.Encoder, d *drawing.Drawing) (h head) {
	b, err := e.Append(nil, d)
	require.NoError(t, err)
	require.NoError(t, xml.Unmarshal(b, &h), "%s", b)
	return h
}

func line(x1, y1, x2, y2 float64) drawing.Item {
	return drawing.Item{Shape: drawing.Line{From: drawing.Pt(x1, y1), To: drawing.Pt(x2, y2)}}
}

func TestSize(t *testing.T) {
	d := &drawing.Drawing{Items: []drawing.Item{line(-20, 5, 80, 45.5)}}
	h := read(t, svg.Encoder{}, d)
	require.Equal(t, []string{"120mm", "60.5mm", "0 0 120 60.5"}, []string{h.Width, h.Height, h.ViewBox})
	d.Style.Scale = 0.5
	h = read(t, svg.Encoder{}, d)
	require.Equal(t, []string{"70mm", "40.25mm", "0 0 70 40.25"}, []string{h.Width, h.Height, h.ViewBox})
	h = read(t, svg.Encoder{Width: 297, Height: 210}, d)
	require.Equal(t, []string{"297mm", "210mm", "0 0 297 210"}, []string{h.Width, h.Height, h.ViewBox})

	at := func(e svg.Encoder) string {
		b, err := e.Append(nil, d)
		require.NoError(t, err)
		_, rest, _ := strings.Cut(string(b), `<path d="`)
		data, _, _ := strings.Cut(rest, `"`)
		return data
	}
	require.Equal(t, "M10 30.25L60 10", at(svg.Encoder{}), "half size, 10 mm in, y down")
	require.Equal(t, "M-10 207.5L40 187.25", at(svg.Encoder{Width: 297, Height: 210}), "the origin in the lower left corner")
	require.Equal(t, "M90 157.5L140 137.25", at(svg.Encoder{Width: 297, Height: 210, Origin: drawing.Pt(100, 50)}))
}

func TestGroups(t *testing.T) {
	h := read(t, svg.Encoder{}, bolt(t))
	got := map[string]string{}
	for _, g := range h.G {
		got[g.Class] = g.Width
	}
	require.Equal(t, map[string]string{"outline": "0.5", "thin": "0.25", "centre": "0.25", "hidden": "0.25", "dimension": "0.25", "text": "0.35"}, got)
	require.Len(t, h.Rect, 1)
	require.Equal(t, "#fff", h.Rect[0].Fill)
	require.Empty(t, read(t, svg.Encoder{Transparent: true}, bolt(t)).Rect)
}

// Text from outside stays text.
func TestEscapes(t *testing.T) {
	const words = `</title><script>"a" & 'b'` + "\x00\t\ufffe"
	d := &drawing.Drawing{Items: []drawing.Item{{Role: drawing.RoleText, Shape: drawing.Text{Value: words}}}}
	h := read(t, svg.Encoder{Title: words}, d)
	require.Equal(t, `</title><script>"a" & 'b'   `, h.Title)
	b, err := svg.Encoder{}.Append(nil, d)
	require.NoError(t, err)
	require.Contains(t, string(b), `aria-label="&lt;/title&gt;&lt;script&gt;&#34;a&#34; &amp; 'b'  `)
	require.NotContains(t, string(b), "<script")
	require.Empty(t, read(t, svg.Encoder{}, d).Title)
}

// One encoder serves many goroutines, and the same drawing makes the same
// bytes.
func TestConcurrent(t *testing.T) {
	d, e := bolt(t), svg.Encoder{Title: "bolt"}
	want, err := e.Append(nil, d)
	require.NoError(t, err)
	var wg sync.WaitGroup
	for range 16 {
		wg.Go(func() {
			var b bytes.Buffer
			if err := e.Encode(&b, d); err != nil || !bytes.Equal(b.Bytes(), want) {
				t.Errorf("differs: %v", err)
			}
		})
	}
	wg.Wait()
}

type writerFunc func([]byte) (int, error)

func (f writerFunc) Write(p []byte) (int, error) { return f(p) }

func TestFaults(t *testing.T) {
	full := errors.New("full")
	require.ErrorIs(t, svg.Encode(writerFunc(func([]byte) (int, error) { return 0, full }), bolt(t)), full)
	require.ErrorIs(t, svg.Encode(writerFunc(func([]byte) (int, error) { return 5, nil }), bolt(t)), io.ErrShortWrite)

	bad := &drawing.Drawing{Items: []drawing.Item{{Shape: drawing.Circle{Radius: -1}}}}
	var b bytes.Buffer
	err := svg.Encode(&b, bad)
	require.EqualError(t, err, "item 0, Circle.Radius = -1: is negative")
	var ve *drawing.ValueError
	require.ErrorAs(t, err, &ve)
	require.Zero(t, b.Len(), "nothing is written")
	kept, err := svg.Encoder{Width: -1}.Append([]byte("kept"), bolt(t))
	require.ErrorContains(t, err, "Encoder.Width = -1")
	require.Equal(t, "kept", string(kept))
	after, err := svg.Encoder{}.Append([]byte("kept"), bolt(t))
	require.NoError(t, err)
	require.Equal(t, "kept<?xml", string(after[:9]))
}

func TestEmpty(t *testing.T) {
	h := read(t, svg.Encoder{}, &drawing.Drawing{})
	require.Equal(t, "0 0 20 20", h.ViewBox)
	require.Empty(t, h.G)
}

func BenchmarkAppend(b *testing.B) {
	d := bolt(b)
	var buf []byte
	b.ReportAllocs()
	for b.Loop() {
		var err error
		if buf, err = (svg.Encoder{}).Append(buf[:0], d); err != nil {
			b.Fatal(err)
		}
	}
	b.SetBytes(int64(len(buf)))
}

// A drawing on an A4 sheet of its own, its origin 120 mm from the left and
// 100 mm from below.
func ExampleEncoder() {
	nut := fastener.HexNut{Thread: thread.MustParse("M16")}
	d, err := fastener.Draw(nut, fastener.DrawOptions{})
	if err != nil {
		panic(err)
	}
	e := svg.Encoder{Width: 297, Height: 210, Origin: drawing.Pt(120, 100), Title: nut.Designation()}
	file, err := e.Append(nil, d)
	if err != nil {
		panic(err)
	}
	lines := strings.Split(string(file), "\n")
	fmt.Println(strings.Join(strings.Fields(lines[1])[2:4], " "))
	fmt.Println(lines[2])
	// Output:
	// width="297mm" height="210mm"
	// <title>Hexagon nut M16</title>
}
