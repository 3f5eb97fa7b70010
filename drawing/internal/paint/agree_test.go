package paint_test

import (
	"bytes"
	"math"
	"slices"
	"strings"
	"testing"

	"boltplate/drawing/pdf"
	"boltplate/drawing/svg"
	"boltplate/dxfout"

	d "boltplate/drawing"
	"github.com/go-fonts/liberation/liberationsansregular"
	"github.com/stretchr/testify/require"
	"golang.org/x/image/font"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

const within = 0.01 // mm

// widths are the widths of lines by layer in line group 0.5 (ISO 128-2), with
// lettering a tenth of 3.5 mm.
var widths = map[string]float64{
	"OUTLINE": 0.5, "CUTTING": 0.5, "FRAME": 0.5, "THIN": 0.25, "HIDDEN": 0.25, "CENTRE": 0.25, "ADJACENT": 0.25, "HATCHING": 0.25, "DIMENSION": 0.25, "TEXT": 0.35,
}

// TestPicturesAgreeWithDXF compares what SVG and PDF show with the entities of
// the DXF file of the same drawing, another writer's work: the ends of every
// straight line, the corners of every arrowhead, the ends and radius of every
// arc, and every text's place, height and words.
func TestPicturesAgreeWithDXF(t *testing.T) {
	for _, n := range drawings(t) {
		t.Run(n.name, func(t *testing.T) {
			var dxf, s, p bytes.Buffer
			require.NoError(t, dxfout.Encode(&dxf, n.d))
			require.NoError(t, svg.Encode(&s, n.d))
			require.NoError(t, pdf.Encode(&p, n.d))
			entities := readDXF(t, dxf.Bytes())
			pages := readPDF(t, p.Bytes())
			require.Len(t, pages, 1)
			t.Run("svg", func(t *testing.T) { agree(t, n.d, entities, readSVG(t, s.Bytes())) })
			t.Run("pdf", func(t *testing.T) { agree(t, n.d, entities, pages[0]) })
		})
	}
}

func agree(t *testing.T, dr *d.Drawing, entities []entity, got read) {
	k := dr.Style.PaperScale()
	b := dr.Bounds()
	require.InDelta(t, b.Dx()*k+20, got.width, within, "10 mm on either side")
	require.InDelta(t, b.Dy()*k+20, got.height, within)
	onPage := func(p d.Point) d.Point { return p.Sub(b.Min).Mul(k).Add(d.Pt(10, 10)) }
	group := 2 * dr.Style.Wide()

	var lines, solids, texts []key
	curves := 0
	for _, e := range entities {
		switch e.kind {
		case "LINE":
			lines = append(lines, keyOf(group*widths[e.layer], onPage(e.point(t, "0")), onPage(e.point(t, "1"))))
		case "LWPOLYLINE":
			if len(e.groups["42"]) > 0 {
				curves++
				continue
			}
			var ps []d.Point
			for i := range e.groups["10"] {
				ps = append(ps, onPage(d.Pt(numbers(t, e.groups["10"][i])[0], numbers(t, e.groups["20"][i])[0])))
			}
			if e.groups["70"][0] == "129" {
				ps = append(ps, ps[0])
			}
			lines = append(lines, keyOf(group*widths[e.layer], ps...))
		case "SOLID":
			solids = append(solids, keyOf(0, onPage(e.point(t, "0")), onPage(e.point(t, "1")), onPage(e.point(t, "2")), onPage(e.point(t, "0"))))
		case "LEADER":
			var ps []d.Point
			for i := range e.groups["10"] {
				ps = append(ps, onPage(d.Pt(numbers(t, e.groups["10"][i])[0], numbers(t, e.groups["20"][i])[0])))
			}
			for i := range ps[1:] {
				lines = append(lines, keyOf(group*widths[e.layer], ps[i], ps[i+1]))
			}
			solids = append(solids, arrowhead(ps[0], ps[1], arrowSize(t, entities, e.groups["3"][0])*k))
		case "TEXT":
			texts = append(texts, expectedText(t, e, onPage, k))
		case "ATTRIB":
			if e.groups["70"][0] == "0" {
				texts = append(texts, expectedText(t, e, onPage, k))
			}
		case "CIRCLE", "ARC":
			curves++
			agreeArc(t, e, onPage, k, group*widths[e.layer], got)
		case "ELLIPSE", "SPLINE":
			curves++
		}
	}

	// The strokes that are no hatch: those are many lines in one path.
	var gotLines, gotSolids, gotTexts []key
	gotCurves := 0
	hatched := hatchLines(t, dr, got)
	for i, s := range got.strokes {
		switch {
		case s.curved:
			gotCurves++
		case !hatched[i]:
			gotLines = append(gotLines, keyOf(s.width, s.points...))
		}
	}
	for _, f := range got.fills {
		if len(f) == 4 {
			gotSolids = append(gotSolids, keyOf(0, f...))
		}
	}
	for _, x := range got.texts {
		gotTexts = append(gotTexts, textKey(x.value, x.at, x.angle, x.em*1409/2048))
	}
	sameKeys(t, lines, gotLines, "lines")
	sameKeys(t, solids, gotSolids, "arrowheads")
	sameKeys(t, texts, gotTexts, "texts")
	require.Equal(t, curves, gotCurves, "curves")
}

// hatchLines finds the strokes that are lines of hatches: at 45 degrees and
// inside the plate's slot, which no other is.
func hatchLines(t *testing.T, dr *d.Drawing, got read) map[int]bool {
	found := map[int]bool{}
	k := dr.Style.PaperScale()
	for _, v := range dr.Views {
		for _, it := range v.View.Items {
			h, ok := it.Shape.(d.Hatch)
			if !ok || h.Solid {
				continue
			}
			for i, s := range got.strokes {
				p := s.points[0].Sub(d.Pt(10, 10)).Mul(1 / k).Add(dr.Bounds().Min).Sub(v.At)
				p = d.Transform{Turn: -v.Turn}.Vector(p).Mul(1 / v.Transform().K())
				if v.Mirror {
					p.Y = -p.Y
				}
				off := s.points[len(s.points)-1].Sub(s.points[0]).Angle() - v.Transform().Angle(h.Angle)
				if len(s.points) == 2 && p.X > 9.9 && p.X < 40.1 && p.Y > 9.9 && p.Y < 20.1 && math.Abs(math.Remainder(off, 180)) < 0.5 {
					found[i] = true
				}
			}
		}
	}
	return found
}

// arrowSize returns the length of the arrowheads of a dimension style, in units
// of the drawing.
func arrowSize(t *testing.T, entities []entity, style string) float64 {
	for _, e := range entities {
		if e.kind == "DIMSTYLE" && e.groups["2"][0] == style {
			return e.num(t, "40") * e.num(t, "41")
		}
	}
	require.Fail(t, "no such style", style)
	return 0
}

// arrowhead returns the filled arrowhead of 15 degrees (ISO 129-1) at the first
// of two points.
func arrowhead(tip, to d.Point, size float64) key {
	u := d.Polar(1, to.Sub(tip).Angle())
	back, half := tip.Add(u.Mul(size)), d.Pt(-u.Y, u.X).Mul(size*math.Tan(7.5*math.Pi/180))
	return keyOf(0, tip, back.Sub(half), back.Add(half), tip)
}

// agreeArc looks for the curve that an arc of the file is.
func agreeArc(t *testing.T, e entity, onPage func(d.Point) d.Point, k, width float64, got read) {
	c, r := onPage(e.point(t, "0")), e.num(t, "40")*k
	from, to := c.Add(d.Pt(r, 0)), c.Add(d.Pt(r, 0))
	if e.kind == "ARC" {
		from, to = c.Add(d.Polar(r, e.num(t, "50"))), c.Add(d.Polar(r, e.num(t, "51")))
	}
	for _, s := range got.strokes {
		last := len(s.points) - 1
		if !s.curved || math.Abs(s.width-width) > 1e-3 || s.points[0].Sub(from).Len() > within || s.points[last].Sub(to).Len() > within {
			continue
		}
		if e.kind == "CIRCLE" {
			last-- // the point that closes it
		}
		round := true
		for i := 0; i+3 <= last; i += 3 {
			mid := s.points[i].Add(s.points[i+3]).Add(s.points[i+1].Add(s.points[i+2]).Mul(3)).Mul(1.0 / 8)
			round = round && math.Abs(mid.Sub(c).Len()-r) < within && math.Abs(s.points[i].Sub(c).Len()-r) < within
		}
		if round {
			return
		}
	}
	require.Fail(t, "no such arc", "%s %v %v", e.kind, c, r)
}

// expectedText returns the key of a TEXT, whose place is turned into the left
// end by the widths of the font.
func expectedText(t *testing.T, e entity, onPage func(d.Point) d.Point, k float64) key {
	value := strings.NewReplacer("%%c", "Ø", "%%d", "°", "%%p", "±", `\U+03A9`, "Ω", "%%%", "%").Replace(latin1(e.groups["1"][0]))
	height, angle := e.num(t, "40")*k, e.num(t, "50")
	at, back := onPage(e.point(t, "0")), 0.0
	switch e.num(t, "72") {
	case 1:
		at, back = onPage(e.point(t, "1")), 0.5
	case 2:
		at, back = onPage(e.point(t, "1")), 1
	}
	return textKey(value, at.Sub(d.Polar(back*height*fontWidth(t, value), angle)), angle, height)
}

// latin1 returns s, whose bytes are characters.
func latin1(s string) string {
	var r []rune
	for i := range len(s) {
		r = append(r, rune(s[i]))
	}
	return string(r)
}

// fontWidth returns the width of s in Liberation Sans, in heights of a
// capital.
func fontWidth(t *testing.T, s string) float64 {
	f, err := sfnt.Parse(liberationsansregular.TTF)
	require.NoError(t, err)
	var b sfnt.Buffer
	sum := 0.0
	for _, r := range s {
		g, err := f.GlyphIndex(&b, r)
		require.NoError(t, err)
		a, err := f.GlyphAdvance(&b, g, fixed.I(2048), font.HintingNone)
		require.NoError(t, err)
		sum += float64(a) / 64
	}
	return sum / 1409
}

// A key is what is compared of a mark: its words, and its numbers within the
// tolerance.
type key struct {
	words   string
	numbers []float64
}

func keyOf(width float64, ps ...d.Point) key {
	// Lines are the same whichever end comes first.
	a, b := ps[0], ps[len(ps)-1]
	if b.X < a.X-within || b.X < a.X+within && b.Y < a.Y-within {
		ps = slices.Clone(ps)
		slices.Reverse(ps)
	}
	k := key{numbers: []float64{width}}
	for _, p := range ps {
		k.numbers = append(k.numbers, p.X, p.Y)
	}
	return k
}

func textKey(value string, at d.Point, angle, height float64) key {
	if angle > 180 {
		angle -= 360
	}
	return key{value, []float64{at.X, at.Y, angle, height}}
}

// sameKeys pairs what is expected with what is there, each once.
func sameKeys(t *testing.T, want, got []key, what string) {
	used := make([]bool, len(got))
	worst := 0.0
next:
	for _, w := range want {
		for i, g := range got {
			if !used[i] {
				if off, ok := apart(w, g); ok {
					used[i] = true
					worst = max(worst, off)
					continue next
				}
			}
		}
		t.Errorf("%s: missing %v", what, w)
	}
	for i, g := range got {
		if !used[i] {
			t.Errorf("%s: nothing like %v in the DXF file", what, g)
		}
	}
	t.Logf("%d %s, at most %.4f mm apart", len(want), what, worst)
}

// apart returns the largest difference of two keys' numbers, and whether they
// are the same within the tolerance.
func apart(a, b key) (worst float64, same bool) {
	if a.words != b.words || len(a.numbers) != len(b.numbers) {
		return 0, false
	}
	for i := range a.numbers {
		worst = max(worst, math.Abs(a.numbers[i]-b.numbers[i]))
	}
	return worst, worst <= within
}
