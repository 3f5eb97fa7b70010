package marking_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"boltplate/drawing"
	"boltplate/drawing/pdf"
	"boltplate/drawing/svg"
	"boltplate/dxfin"
	"boltplate/dxfout"
	"boltplate/fastener"
	"boltplate/marking"
	"boltplate/thread"

	"github.com/stretchr/testify/require"
)

// kindsOf lists what was found.
func kindsOf(r *marking.Result) (out []string) {
	for _, f := range r.Findings {
		out = append(out, f.Kind.String()+" "+f.View)
	}
	slices.Sort(out)
	return out
}

func draw(t testing.TB, f fastener.Fastener, o fastener.DrawOptions) *drawing.Drawing {
	t.Helper()
	d, err := fastener.Draw(f, o)
	require.NoError(t, err)
	d.Parts = nil
	return d
}

// TestOtherProjection: the other method is a fault of every view that it
// moves, unless it is allowed; a mixture always is.
func TestOtherProjection(t *testing.T) {
	bolt := fastener.HexBolt{Thread: thread.MustParse("M20"), Length: 90}
	views := []drawing.Direction{drawing.Front, drawing.SideView, drawing.HeadEnd}
	for _, asked := range []fastener.Projection{fastener.FirstAngle, fastener.ThirdAngle} {
		model := draw(t, bolt, fastener.DrawOptions{Views: views, Projection: asked})
		other := draw(t, bolt, fastener.DrawOptions{Views: views, Projection: 1 - asked})
		figure := marking.Figure{Drawing: model, ThirdAngle: asked == fastener.ThirdAngle}
		strict, err := marking.New(marking.Model{Figures: []marking.Figure{figure}}, marking.Options{})
		require.NoError(t, err)
		either, err := marking.New(marking.Model{Figures: []marking.Figure{figure}}, marking.Options{EitherProjection: true})
		require.NoError(t, err)
		r := mark(t, strict, encode(t, other, dxfout.R2000))
		require.Equal(t, []string{"wrong-side side view", "wrong-side view of the head"}, kindsOf(r))
		require.Contains(t, r.Findings[0].Text, asked.String()+"-angle")
		r = mark(t, either, encode(t, other, dxfout.R2000))
		full(t, r, "allowed")
		require.Contains(t, strings.Join(r.Notes, " "), (1-asked).String()+"-angle projection, which is allowed")
		full(t, mark(t, either, encode(t, model, dxfout.R2000)), "as asked")

		mixed := clone(model)
		mixed.Views[1].At = other.Views[1].At
		require.Equal(t, []string{"wrong-side side view"}, kindsOf(mark(t, either, encode(t, mixed, dxfout.R2000))))
	}
}

// beside puts drawings side by side.
func beside(ds ...*drawing.Drawing) *drawing.Drawing {
	out := &drawing.Drawing{}
	x := 0.0
	for _, d := range ds {
		b := d.Bounds()
		for _, v := range d.Views {
			v.At = v.At.Add(drawing.Pt(x-b.Min.X, -b.Max.Y))
			out.Views = append(out.Views, v)
		}
		x += b.Dx() + 30
	}
	return out
}

// TestPlateOfLikeFigures: two bolts that differ in length, two that do not,
// and a nut, in any order on the sheet, each find their own place.
func TestPlateOfLikeFigures(t *testing.T) {
	m16 := thread.MustParse("M16")
	a := draw(t, fastener.HexBolt{Thread: m16, Length: 60}, fastener.DrawOptions{})
	b := draw(t, fastener.HexBolt{Thread: m16, Length: 80}, fastener.DrawOptions{})
	n := draw(t, fastener.HexNut{Thread: m16}, fastener.DrawOptions{})
	m, err := marking.New(marking.Model{Figures: []marking.Figure{{Name: "Fig. 1", Drawing: a}, {Name: "Fig. 2", Drawing: b}, {Name: "Fig. 3", Drawing: b}, {Name: "Fig. 4", Drawing: n}}}, marking.Options{})
	require.NoError(t, err)
	for _, order := range [][]*drawing.Drawing{{a, b, b, n}, {n, b, a, b}, {b, b, n, a}} {
		for _, v := range []dxfout.Version{dxfout.R2000, dxfout.R12} {
			full(t, mark(t, m, encode(t, beside(order...), v)), fmt.Sprint("order ", v))
		}
	}
	r := mark(t, m, encode(t, beside(n, b, b), dxfout.R2000))
	require.Equal(t, []string{"missing-view front view", "missing-view view of the head"}, kindsOf(r))
	require.Equal(t, "Fig. 1", r.Findings[0].Figure)
	bad := clone(b)
	find(t, bad, 0, 0, line(visible, 32, true)).remove()
	r = mark(t, m, encode(t, beside(bad, a, n, b), dxfout.R2000))
	require.Equal(t, []string{"missing-line front view"}, kindsOf(r))
}

// TestLines: an instructor's layers go before what the lines look like.
func TestLines(t *testing.T) {
	d := plates(t)[0].d
	var m dxfout.LayerMap
	for r := range drawing.RoleCount { // all look alike
		m[r] = dxfout.Layer{Name: strings.ToUpper(r.String()) + "_LINES", Colour: 7, LineType: dxfout.Continuous, Width: 0.25}
	}
	b, err := dxfout.Encoder{Layers: m}.Append(nil, d)
	require.NoError(t, err)
	told := mark(t, marker(t, d, marking.Options{}), b)
	full(t, told, "told by layer")
	require.Contains(t, strings.Join(told.Unsure, " "), "no dashed or dotted lines at the views: they were told by their layer")

	given := &marking.Lines{Layers: map[string]drawing.Role{}}
	for r := range drawing.RoleCount {
		given.Layers[r.String()+"_lines"] = r
	}
	full(t, mark(t, marker(t, d, marking.Options{Lines: given}), b), "given")
	given.Layers["thin_lines"], given.Layers["centre_lines"] = centre, thin
	r := mark(t, marker(t, d, marking.Options{Lines: given}), b)
	require.Equal(t, []string{"wrong-line front view", "wrong-line front view"}, kindsOf(r), "a habit is one finding for each role")
	require.Contains(t, r.Findings[0].Text, "it counts once")
}

// TestAllAlike: who draws everything with one line has each kind wrong once.
func TestAllAlike(t *testing.T) {
	d := plates(t)[0].d
	var m dxfout.LayerMap
	for r := range drawing.RoleCount {
		m[r] = dxfout.Layer{Name: "PENCIL", Colour: 7, LineType: dxfout.Continuous, Width: 0.35}
	}
	b, err := dxfout.Encoder{Layers: m}.Append(nil, d)
	require.NoError(t, err)
	r := mark(t, marker(t, d, marking.Options{}), b)
	require.Equal(t, []string{"wrong-line front view", "wrong-line front view"}, kindsOf(r))
}

// TestExchangedThroughout: wide lines are narrow and narrow ones wide, in the
// whole drawing.
func TestExchangedThroughout(t *testing.T) {
	d := plates(t)[0].d
	m := dxfout.LayerMap{visible: {Width: 0.25}, thin: {Width: 0.5}}
	b, err := dxfout.Encoder{Layers: m}.Append(nil, d)
	require.NoError(t, err)
	r := mark(t, marker(t, d, marking.Options{}), b)
	require.Equal(t, []string{"exchanged-lines front view"}, kindsOf(r))
	require.Contains(t, r.Findings[0].Text, "throughout")
}

// TestUnsure: what cannot be read or told is listed, and costs nothing.
func TestUnsure(t *testing.T) {
	d := plates(t)[0].d
	file := string(encode(t, d, dxfout.R2000))
	m := marker(t, d, marking.Options{})
	const start = "  2\r\nENTITIES\r\n"
	put := func(entity string) *marking.Result {
		return mark(t, m, []byte(strings.Replace(file, start, start+entity, 1)))
	}
	for entity, want := range map[string]string{
		"  0\r\nXLINE\r\n  8\r\n0\r\n 10\r\n0.0\r\n 20\r\n0.0\r\n 11\r\n1.0\r\n 21\r\n0.0\r\n":                                "1 entity XLINE (the first at line",
		"  0\r\nLINE\r\n  8\r\nSKETCH\r\n 62\r\n3\r\n 10\r\n20.0\r\n 20\r\n-4.0\r\n 11\r\n30.0\r\n 21\r\n5.0\r\n":             `"SKETCH"`,
		"  0\r\nLINE\r\n  8\r\nDefpoints\r\n 10\r\n20.0\r\n 20\r\n-4.0\r\n 11\r\n30.0\r\n 21\r\n5.0\r\n":                      "1 line on the layer",
		"  0\r\nLINE\r\n 67\r\n1\r\n  8\r\n0\r\n 10\r\n20.0\r\n 20\r\n-4.0\r\n 11\r\n30.0\r\n 21\r\n5.0\r\n":                  "1 entity of paper space",
		"  0\r\nSPLINE\r\n  8\r\nOUTLINE\r\n 71\r\n3\r\n 74\r\n2\r\n 11\r\n0.0\r\n 21\r\n0.0\r\n 11\r\n9.0\r\n 21\r\n9.0\r\n": "2 fit points alone",
		"  0\r\nINSERT\r\n  8\r\n0\r\n  2\r\nNOWHERE\r\n 10\r\n0.0\r\n 20\r\n0.0\r\n":                                         `the block "NOWHERE" is inserted and not defined`,
		"  0\r\nLINE\r\n  8\r\nOUTLINE\r\n 10\r\n-40.0\r\n 20\r\n-9.0\r\n 11\r\n-34.0\r\n 21\r\n9.0\r\n":                      "",
	} {
		r := put(entity)
		if want == "" {
			continue
		}
		full(t, r, want)
		require.Contains(t, strings.Join(r.Unsure, "\n"), want)
	}
}

// TestNothing: an empty drawing, and one of something else, get nothing and
// say so.
func TestNothing(t *testing.T) {
	d := plates(t)[0].d
	m := marker(t, d, marking.Options{})
	for name, other := range map[string]*drawing.Drawing{
		"empty": {},
		"else":  {Items: []drawing.Item{{Shape: drawing.Line{To: drawing.Pt(40, 3)}}, {Shape: drawing.Circle{Radius: 70}}}},
	} {
		r := mark(t, m, encode(t, other, dxfout.R2000))
		require.Equal(t, []string{"missing-view front view", "missing-view side view", "missing-view view of the head"}, kindsOf(r), name)
		require.Contains(t, strings.Join(r.Unsure, " "), "None of the views was found", name)
		require.Zero(t, r.Points, name)
		_ = r.Drawing()
	}
}

// TestBadOptions: what makes no sense is refused.
func TestBadOptions(t *testing.T) {
	d := plates(t)[0].d
	good := marking.Model{Figures: []marking.Figure{{Drawing: d}}}
	bad := marking.DefaultScheme()
	bad.Rules[marking.LineOff].Each = -1
	for want, err := range map[string]error{
		"no figure":         second(marking.New(marking.Model{}, marking.Options{})),
		"has no views":      second(marking.New(marking.Model{Figures: []marking.Figure{{}}}, marking.Options{})),
		"has no lines":      second(marking.New(marking.Model{Figures: []marking.Figure{{Drawing: &drawing.Drawing{Views: make([]drawing.Placed, 1)}}}}, marking.Options{})),
		"a tolerance of 9":  second(marking.New(good, marking.Options{Tolerance: 9})),
		"a tolerance of -1": second(marking.New(good, marking.Options{Tolerance: -1})),
		"line-off: -1 each": second(marking.New(good, marking.Options{Scheme: bad})),
	} {
		require.ErrorContains(t, err, want)
	}
	for _, k := range marking.Kinds() {
		p, err := marking.ParseKind(k.String())
		require.NoError(t, err)
		require.Equal(t, k, p)
		require.NotEmpty(t, k.Title())
	}
	for p := range marking.DefaultScheme().Parts {
		got, err := marking.ParsePart(marking.PartName(p).String())
		require.NoError(t, err)
		require.Equal(t, marking.PartName(p), got)
	}
	_, err := marking.ParsePart("line")
	require.ErrorContains(t, err, "the parts are views, lines")
	_, err = marking.ParseKind("missing")
	require.ErrorContains(t, err, "the kinds are missing-view")
}

func second[T any](_ T, err error) error { return err }

// faulty returns a result with several findings.
func faulty(t testing.TB) *marking.Result {
	t.Helper()
	p := faultPlates(t)[plateBolt]
	var fs []fault
	for _, f := range allFaults() {
		if slices.Contains([]string{"no thread root", "an arc the wrong way round", "an axis dashed", "a wrong length", "the head on the left", "a line across the shank"}, f.name) {
			fs = append(fs, f)
		}
	}
	require.Len(t, fs, 6)
	d, ok := applied(t, p.d, fs...)
	require.True(t, ok)
	return mark(t, marker(t, p.d, marking.Options{}), encode(t, d, dxfout.R2000))
}

// TestReport: the report says how the points come about and what to learn; its
// figures add up.
func TestReport(t *testing.T) {
	r := faulty(t)
	var b strings.Builder
	require.NoError(t, r.WriteText(&b))
	for _, want := range []string{
		"81 of 100 points", "−6: 1 × 6 for view on the wrong side (1)", "−4: 1 × 4 for line missing (3)",
		"It should be a narrow long-dashed dotted line (ISO 128-2, 04.1).", "says ‘80’ where ‘90’ is right.", "of the file)",
	} {
		require.Contains(t, b.String(), want)
	}
	for line := range strings.Lines(b.String()) {
		require.LessOrEqual(t, len([]rune(line)), 97, line)
	}
	lost := 0.0
	for i, f := range r.Findings {
		require.Equal(t, i+1, f.Number)
		lost += f.Points
	}
	require.InDelta(t, r.Of-r.Points, lost, 1e-9)
}

// TestJSON: what a program reads agrees with the result.
func TestJSON(t *testing.T) {
	r := faulty(t)
	b, err := json.Marshal(r)
	require.NoError(t, err)
	var got struct {
		Points, Of float64
		Parts      []struct {
			Name       string
			Points, Of float64
			Lost       []struct {
				Kind     string
				Count    int
				Findings []int
			}
		}
		Findings []struct {
			Number     int
			Kind, View string
			Points     float64
			Lines      []int
			At         [2]float64
		}
	}
	require.NoError(t, json.Unmarshal(b, &got))
	require.Equal(t, r.Points, got.Points)
	require.Len(t, got.Findings, len(r.Findings))
	sum, n := 0.0, 0
	for _, p := range got.Parts {
		sum += p.Points
		for _, l := range p.Lost {
			n += l.Count
			require.Len(t, l.Findings, l.Count)
		}
	}
	require.Equal(t, r.Points, sum)
	require.Equal(t, len(r.Findings), n)
	for i, f := range got.Findings {
		require.Equal(t, r.Findings[i].Kind.String(), f.Kind)
		require.Less(t, r.Findings[i].At.Sub(drawing.Pt(f.At[0], f.At[1])).Len(), 1e-5)
	}
}

// TestPicture: the findings are drawn over the submission, ringed and numbered,
// and every exporter takes the drawing.
func TestPicture(t *testing.T) {
	r := faulty(t)
	d := r.Drawing()
	rings, numbers := 0, map[string]bool{}
	for _, it := range d.Items {
		if it.Role != drawing.RoleFinding {
			continue
		}
		switch s := it.Shape.(type) {
		case drawing.Circle:
			rings++
		case drawing.Text:
			numbers[s.Value] = true
		}
	}
	require.Equal(t, len(r.Findings), rings)
	for _, f := range r.Findings {
		require.True(t, numbers[fmt.Sprint(f.Number)])
	}
	file := encode(t, d, dxfout.R2000)
	require.Contains(t, string(file), "FINDINGS")
	_ = encode(t, d, dxfout.R12)
	var b bytes.Buffer
	require.NoError(t, svg.Encode(&b, d))
	require.Contains(t, b.String(), `class="finding" stroke-width="0.25" stroke="#c00000"`)
	require.NoError(t, pdf.Encoder{}.Encode(&b, d))
	full(t, mark(t, marker(t, faultPlates(t)[plateBolt].d, marking.Options{}), encode(t, faultPlates(t)[plateBolt].d, dxfout.R2000)), "the model")
	if testing.Short() {
		return
	}
	audit(t, file)
}

// audit has ezdxf read a file strictly.
func audit(t *testing.T, file []byte) {
	interpreter := python(t)
	name := filepath.Join(t.TempDir(), "marked.dxf")
	require.NoError(t, os.WriteFile(name, file, 0o644))
	out, err := exec.Command(interpreter, "../scripts/audit.py", name).CombinedOutput()
	require.NoError(t, err, string(out))
}

// TestTogether: one Marker serves many goroutines, and the same file makes the
// same result.
func TestTogether(t *testing.T) {
	p := faultPlates(t)[plateBolted]
	m := marker(t, p.d, marking.Options{})
	var files [][]byte
	for _, f := range allFaults() {
		if f.plate == plateBolted {
			d, _ := applied(t, p.d, f)
			files = append(files, encode(t, d, dxfout.R2000))
		}
	}
	report := func(file []byte) string {
		f, err := dxfin.Decode(bytes.NewReader(file))
		require.NoError(t, err)
		r, err := m.Mark(f)
		require.NoError(t, err)
		b, err := json.Marshal(r)
		require.NoError(t, err)
		return string(b)
	}
	want := make([]string, len(files))
	for i := range files {
		want[i] = report(files[i])
	}
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() {
			for i := range files {
				if report(files[i]) != want[i] {
					t.Error("a result differs")
				}
			}
		})
	}
	wg.Wait()
}
