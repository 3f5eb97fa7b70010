package pdf

import (
	"bytes"
	"encoding/binary"
	"math"
	"testing"

	"boltplate/drawing"
	"boltplate/drawing/lettering"

	"github.com/go-fonts/liberation/liberationmonoregular"
	"github.com/go-fonts/liberation/liberationsansregular"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func codesOf(text string) (codes []code) {
	for _, r := range text {
		codes = append(codes, code{r, uint16(r)})
	}
	return codes
}

type segment struct {
	op lettering.Op
	p  [3][2]int
}

func outline(f *lettering.Font, text string) (out []segment) {
	f.Outline(text, func(op lettering.Op, p [3][2]int) { out = append(out, segment{op, p}) })
	return out
}

// TestSubset: a font reader finds in a subset the outlines and widths of the
// font, and nothing else.
func TestSubset(t *testing.T) {
	const text = ".0123456789HMRabcxyz°±Å×ØßŁЖж□" // in the order of their numbers
	f := lettering.Default()
	got, err := lettering.Parse(subset(f, codesOf(text)))
	require.NoError(t, err)
	require.Equal(t, f.Em(), got.Em())
	require.Equal(t, f.Capital(), got.Capital())
	require.Equal(t, f.Name(), got.Name())
	for _, r := range text {
		s := string(r)
		require.Equal(t, f.Units(s), got.Units(s), s)
		require.Equal(t, points(outline(f, s)), points(outline(got, s)), s)
	}
	require.NotNil(t, got.Missing("Q"), "what is not used is left out")
}

// points returns the points of outlines, each contour from its first point on
// and without the return to it.
func points(segments []segment) (out [][][2]int) {
	for _, s := range segments {
		n := [...]int{1, 1, 2, 3}[s.op]
		if s.op == lettering.MoveTo {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], s.p[:n]...)
	}
	for i, c := range out {
		if last := len(c) - 1; last > 0 && c[last] == c[0] {
			out[i] = c[:last]
		}
	}
	return out
}

// TestCubicsBecomeQuadratic: quadratic curves follow a cubic one to a unit.
func TestCubicsBecomeQuadratic(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := func() [2]int {
			return [2]int{rapid.IntRange(-500, 2500).Draw(t, "x"), rapid.IntRange(-500, 2500).Draw(t, "y")}
		}
		var s subsetter
		a, c := p(), [3][2]int{p(), p(), p()}
		s.to(a, true)
		s.cubic(a, c)
		require.Equal(t, 1, len(s.outline)%2)
		require.LessOrEqual(t, len(s.outline), 33)
		n := (len(s.outline) - 1) / 2
		for i := range n {
			q := s.outline[2*i : 2*i+3]
			for k := range 9 {
				v := float64(k) / 8
				u := 1 - v
				x := u*u*float64(q[0].x) + 2*u*v*float64(q[1].x) + v*v*float64(q[2].x)
				y := u*u*float64(q[0].y) + 2*u*v*float64(q[1].y) + v*v*float64(q[2].y)
				at := (float64(i) + v) / float64(n)
				w := 1 - at
				bx := w*w*w*float64(a[0]) + 3*w*w*at*float64(c[0][0]) + 3*w*at*at*float64(c[1][0]) + at*at*at*float64(c[2][0])
				by := w*w*w*float64(a[1]) + 3*w*w*at*float64(c[0][1]) + 3*w*at*at*float64(c[1][1]) + at*at*at*float64(c[2][1])
				require.Less(t, math.Hypot(x-bx, y-by), 2.0, "rounded to units twice, and half a unit off")
			}
		}
	})
}

func lettered(f *lettering.Font, texts ...string) *drawing.Drawing {
	d := &drawing.Drawing{}
	if f != nil {
		d.Style.Font = f
	}
	for i, s := range texts {
		d.Items = append(d.Items, drawing.Item{Role: drawing.RoleText, Shape: drawing.Text{At: drawing.Pt(0, 8*float64(i)), Value: s}})
	}
	return d
}

// TestDamagedFonts: a font file with bytes that are wrong makes an error, or a
// file, and nothing else.
func TestDamagedFonts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		data := bytes.Clone(liberationmonoregular.TTF)
		for range rapid.IntRange(1, 20).Draw(t, "changes") {
			at := rapid.OneOf(rapid.IntRange(0, 2000), rapid.IntRange(0, len(data)-3)).Draw(t, "at")
			binary.BigEndian.PutUint16(data[at:], rapid.Uint16().Draw(t, "value"))
		}
		f, err := lettering.Parse(data)
		if err != nil {
			return
		}
		_, err = Encoder{Boxes: true}.Append(nil, lettered(f, "M20 × 90 Ø43.2", "Жш測"))
		if err != nil {
			var e *drawing.ValueError
			require.ErrorAs(t, err, &e)
		}
	})
}

// TestFarCharacters: characters beyond U+FFFF get numbers for private use that
// no other character has.
func TestFarCharacters(t *testing.T) {
	e := embedded{font: lettering.Default()}
	e.cut(map[rune]bool{'A': true, 0xe000: true, 0x1d6fc: true, 0x1f600: true})
	require.Equal(t, "A\ue000\ue001\ue002", e.encode("A\ue000\U0001d6fc\U0001f600"))
	got, err := lettering.Parse(subset(lettering.Default(), codesOf(".0123456789HM\ue001")))
	require.NoError(t, err)
	require.Nil(t, got.Missing("M\ue001"))
}

// TestFontsOfAFile: a file has the font of each drawing, once.
func TestFontsOfAFile(t *testing.T) {
	mono, err := lettering.Parse(liberationmonoregular.TTF)
	require.NoError(t, err)
	file, err := Encoder{}.AppendPages(nil, lettered(nil, "M20"), lettered(mono, "M20"), lettered(nil, "M24"))
	require.NoError(t, err)
	require.Equal(t, 1, bytes.Count(file, []byte("/BaseFont /utf8liberationsans\n/Encoding")))
	require.Equal(t, 1, bytes.Count(file, []byte("/BaseFont /utf8liberationmonofont1\n/Encoding")))

	closed := bytes.Clone(liberationsansregular.TTF)
	for i := 12; ; i += 16 {
		if string(closed[i:i+4]) == "OS/2" {
			closed[binary.BigEndian.Uint32(closed[i+8:])+9] = 2
			break
		}
	}
	f, err := lettering.Parse(closed)
	require.NoError(t, err)
	_, err = Encoder{}.Append(nil, lettered(f, "M20"))
	require.EqualError(t, err, "Style.Font = Liberation Sans: may not travel in a PDF file, says its maker; write SVG, which holds outlines, or give another font")
}
