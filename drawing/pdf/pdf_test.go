package pdf_test

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"testing"

	"boltplate/drawing"
	"boltplate/drawing/pdf"
	"boltplate/fastener"
	"boltplate/thread"

	"github.com/stretchr/testify/require"
)

const point = 25.4 / 72 // mm

func draw(t require.TestingT, f fastener.Fastener, o fastener.DrawOptions) *drawing.Drawing {
	d, err := fastener.Draw(f, o)
	require.NoError(t, err)
	return d
}

func bolt(t require.TestingT) *drawing.Drawing {
	return draw(t, fastener.SquareBolt{Thread: thread.MustParse("M20"), Length: 90, SquareNeck: true},
		fastener.DrawOptions{Views: []drawing.Direction{drawing.Front, drawing.SideView, drawing.HeadEnd}})
}

func nut(t require.TestingT) *drawing.Drawing {
	return draw(t, fastener.HexNut{Thread: thread.MustParse("M16")}, fastener.DrawOptions{})
}

var mediaBox = regexp.MustCompile(`<</Type /Page\n(?:.*\n)*?/MediaBox \[0 0 ([0-9.]+) ([0-9.]+)\]`)

// pages returns the sizes of the pages in millimetres.
func pages(t require.TestingT, e pdf.Encoder, ds ...*drawing.Drawing) (sizes [][2]float64) {
	b, err := e.AppendPages(nil, ds...)
	require.NoError(t, err)
	for _, m := range mediaBox.FindAllSubmatch(b, -1) {
		w, err := strconv.ParseFloat(string(m[1]), 64)
		require.NoError(t, err)
		h, err := strconv.ParseFloat(string(m[2]), 64)
		require.NoError(t, err)
		sizes = append(sizes, [2]float64{w * point, h * point})
	}
	return sizes
}

func TestSize(t *testing.T) {
	line := drawing.Item{Shape: drawing.Line{From: drawing.Pt(-20, 5), To: drawing.Pt(80, 45.5)}}
	d := &drawing.Drawing{Items: []drawing.Item{line}}
	half := *d
	half.Style.Scale = 0.5
	got := pages(t, pdf.Encoder{}, d, &half, &drawing.Drawing{})
	want := [][2]float64{{120, 60.5}, {70, 40.25}, {20, 20}}
	require.Len(t, got, len(want))
	for i := range want {
		require.InDeltaSlice(t, want[i][:], got[i][:], 0.005, "page %d", i+1)
	}
	for _, p := range pages(t, pdf.Encoder{Width: 297, Height: 210}, d, &half) {
		require.InDeltaSlice(t, []float64{297, 210}, p[:], 0.005)
	}
}

// One encoder serves many goroutines, and the same drawings make the same
// bytes.
func TestConcurrent(t *testing.T) {
	e, ds := pdf.Encoder{Title: "bolt and nut"}, []*drawing.Drawing{bolt(t), nut(t)}
	want, err := e.AppendPages(nil, ds...)
	require.NoError(t, err)
	var wg sync.WaitGroup
	for range 16 {
		wg.Go(func() {
			var b bytes.Buffer
			if err := e.EncodePages(&b, ds...); err != nil || !bytes.Equal(b.Bytes(), want) {
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
	require.ErrorIs(t, pdf.Encode(writerFunc(func([]byte) (int, error) { return 0, full }), bolt(t)), full)
	require.ErrorIs(t, pdf.Encode(writerFunc(func([]byte) (int, error) { return 5, nil }), bolt(t)), io.ErrShortWrite)

	bad := &drawing.Drawing{Items: []drawing.Item{{Shape: drawing.Circle{Radius: math.NaN()}}}}
	var b bytes.Buffer
	require.EqualError(t, pdf.Encode(&b, bad), "item 0, Circle.Radius = NaN: is not a finite number below 1e12")
	err := pdf.EncodePages(&b, nut(t), bad)
	require.EqualError(t, err, "drawing 2: item 0, Circle.Radius = NaN: is not a finite number below 1e12")
	var ve *drawing.ValueError
	require.ErrorAs(t, err, &ve)
	require.EqualError(t, pdf.EncodePages(&b), "pdf: no drawings; a file needs one page at least")
	require.Zero(t, b.Len(), "nothing is written")

	long := &drawing.Drawing{Items: []drawing.Item{{Shape: drawing.Line{To: drawing.Pt(6000, 0)}}}}
	require.EqualError(t, pdf.Encode(&b, long), "Drawing.Bounds: the page would be 6020 mm long, and its format ends at 5080 mm; give Style.Scale")
	kept, err := pdf.Encoder{Height: -1}.Append([]byte("kept"), bolt(t))
	require.ErrorContains(t, err, "Encoder.Height = -1")
	require.Equal(t, "kept", string(kept))
	after, err := pdf.Encoder{}.Append([]byte("kept"), bolt(t))
	require.NoError(t, err)
	require.Equal(t, "kept%PDF-1.3", string(after[:12]))
}

// poppler runs a program of Debian's poppler-utils on a file. Without it the
// test is skipped, or fails where the environment asks for the audit.
func poppler(t *testing.T, file []byte, program string, args ...string) string {
	t.Helper()
	if _, err := exec.LookPath(program); err != nil {
		if os.Getenv("BOLTPLATE_REQUIRE_AUDIT") != "" {
			t.Fatalf("no %s; Debian has it in poppler-utils", program)
		}
		t.Skipf("AUDIT SKIPPED: no %s; Debian has it in poppler-utils", program)
	}
	name := filepath.Join(t.TempDir(), "in.pdf")
	require.NoError(t, os.WriteFile(name, file, 0o644))
	cmd := exec.Command(program, append(args, name, "-")...)
	if program == "pdfinfo" || program == "pdffonts" {
		cmd = exec.Command(program, append(args, name)...)
	}
	var errs bytes.Buffer
	cmd.Stderr = &errs
	out, err := cmd.Output()
	require.NoError(t, err, errs.String())
	require.Empty(t, errs.String(), "the reader has nothing to say")
	return string(out)
}

// TestReader has another program say how large the pages are, what is written
// on them and where.
func TestReader(t *testing.T) {
	at := []drawing.Item{}
	text := func(x, y, h, angle float64, s string) {
		at = append(at, drawing.Item{Role: drawing.RoleText, Shape: drawing.Text{At: drawing.Pt(x, y), Height: h, Angle: angle, Value: s}})
	}
	text(0, 0, 3.5, 0, "Ø27.71")
	text(50, 20, 7, 0, "M20×90")
	text(5, 40, 3.5, 90, "upright")
	text(100, 60, 5, 0, "30°±0.5Ω")
	at = append(at, drawing.Item{Shape: drawing.Line{To: drawing.Pt(150, 80)}})
	d := &drawing.Drawing{Items: at}
	file, err := pdf.Encoder{Title: "Bolt “M20”"}.AppendPages(nil, d, bolt(t))
	require.NoError(t, err)

	info := poppler(t, file, "pdfinfo", "-enc", "UTF-8")
	require.Regexp(t, `Title: +Bolt “M20”\n`, info)
	require.Regexp(t, `Pages: +2\n`, info)
	require.Regexp(t, `CreationDate: +Sat Jan  1 00:00:00 2000`, info)
	require.Regexp(t, `utf8liberationsans +CID TrueType +Identity-H +yes`, poppler(t, file, "pdffonts"), "the font is in the file")

	var doc struct {
		Pages []struct {
			Width  float64 `xml:"width,attr"`
			Height float64 `xml:"height,attr"`
			Words  []struct {
				XMin float64 `xml:"xMin,attr"`
				XMax float64 `xml:"xMax,attr"`
				YMin float64 `xml:"yMin,attr"`
				YMax float64 `xml:"yMax,attr"`
				Text string  `xml:",chardata"`
			} `xml:"word"`
		} `xml:"body>doc>page"`
	}
	require.NoError(t, xml.Unmarshal([]byte(poppler(t, file, "pdftotext", "-bbox")), &doc))
	require.Len(t, doc.Pages, 2)
	p := doc.Pages[0]
	b := d.Bounds()
	require.InDelta(t, b.Dx()+20, p.Width*point, 0.01)
	require.InDelta(t, b.Dy()+20, p.Height*point, 0.01)
	// A word begins at its text's place; upright it begins at its foot.
	for _, c := range []struct {
		text string
		x, y float64
	}{{"Ø27.71", 0, 0}, {"M20×90", 50, 20}, {"upright", 5, 40}, {"30°±0.5Ω", 100, 60}} {
		found := false
		for _, w := range p.Words {
			if w.Text != c.text {
				continue
			}
			found = true
			x, y := w.XMin*point-10+b.Min.X, (p.Height-w.YMax)*point-10+b.Min.Y
			if c.text == "upright" {
				require.InDelta(t, c.y, y, 0.01)
			} else {
				require.InDelta(t, c.x, x, 0.01)
			}
		}
		require.True(t, found, c.text)
	}
	words := ""
	for _, w := range doc.Pages[1].Words {
		words += " " + w.Text
	}
	for _, w := range []string{"M20", "90", "46", "16", "33", "A", "45°"} {
		require.Contains(t, words+" ", " "+w+" ")
	}
}

// TestRedrawn has another program draw the page and looks for the ends of
// lines in what it drew.
func TestRedrawn(t *testing.T) {
	d := &drawing.Drawing{Items: []drawing.Item{
		{Shape: drawing.Line{From: drawing.Pt(0, 0), To: drawing.Pt(123.456, 45.678)}},
		{Role: drawing.RoleHidden, Shape: drawing.Line{From: drawing.Pt(10, 50), To: drawing.Pt(90, 50)}},
	}}
	file, err := pdf.Encoder{}.Append(nil, d)
	require.NoError(t, err)
	out := poppler(t, file, "pdftocairo", "-svg")
	height := (45.678 + 4.322 + 20) / point
	var found []string
	for _, e := range regexp.MustCompile(`<path [^>]*>`).FindAllString(out, -1) {
		var x1, y1, x2, y2 float64
		if _, err := fmt.Sscanf(field(e, "d", "="), "M %g %g L %g %g", &x1, &y1, &x2, &y2); err != nil {
			continue
		}
		// The page is turned over by the path's matrix or in its coordinates. The
		// matrix also fits the page to whole points, which does not count.
		if regexp.MustCompile(`matrix\([0-9.]+[, ]+0[, ]+0[, ]+-`).MatchString(e) {
			y1, y2 = height-y1, height-y2
		}
		var width float64
		_, err := fmt.Sscanf(field(e, "stroke-width", ":="), "%g", &width)
		require.NoError(t, err, e)
		dashed := strings.ContainsAny(field(e, "stroke-dasharray", ":="), "0123456789")
		line := fmt.Sprintf("%.2f,%.2f %.2f,%.2f %.2f %v", x1*point-10, (height-y1)*point-10, x2*point-10, (height-y2)*point-10, width*point, dashed)
		found = append(found, strings.ReplaceAll(line, "-0.00", "0.00"))
	}
	require.ElementsMatch(t, []string{"0.00,0.00 123.46,45.68 0.50 false", "10.00,50.00 90.00,50.00 0.25 true"}, found)
}

// field returns what stands in an element as name=, or in its style as name:.
func field(element, name, signs string) string {
	m := regexp.MustCompile(`[ ";]` + name + `[` + signs + `]"?([^;>]*)`).FindStringSubmatch(element)
	if m == nil {
		return ""
	}
	return m[1]
}

func BenchmarkAppend(b *testing.B) {
	d := bolt(b)
	var buf []byte
	b.ReportAllocs()
	for b.Loop() {
		var err error
		if buf, err = (pdf.Encoder{}).Append(buf[:0], d); err != nil {
			b.Fatal(err)
		}
	}
	b.SetBytes(int64(len(buf)))
}

func BenchmarkPages(b *testing.B) {
	ds := make([]*drawing.Drawing, 20)
	for i := range ds {
		ds[i] = bolt(b)
	}
	for b.Loop() {
		if err := pdf.EncodePages(io.Discard, ds...); err != nil {
			b.Fatal(err)
		}
	}
}

func ExampleEncodePages() {
	var ds []*drawing.Drawing
	for _, size := range []string{"M12", "M16"} {
		d, err := fastener.Draw(fastener.HexNut{Thread: thread.MustParse(size)}, fastener.DrawOptions{})
		if err != nil {
			panic(err)
		}
		ds = append(ds, d)
	}
	var b bytes.Buffer
	if err := pdf.EncodePages(&b, ds...); err != nil {
		panic(err)
	}
	fmt.Println(strings.Split(b.String(), "\n")[0])
	// Output: %PDF-1.3
}
