package thread

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestParse(t *testing.T) {
	for _, c := range []struct {
		in, out string
		want    Thread
	}{
		{"M12", "M12", Thread{12, 1.75, "", false}},
		{"m12", "M12", Thread{12, 1.75, "", false}},
		{" M 12 ", "M12", Thread{12, 1.75, "", false}},
		{"M012", "M12", Thread{12, 1.75, "", false}},
		{"M12.0", "M12", Thread{12, 1.75, "", false}},
		{"M3,5", "M3.5", Thread{3.5, 0.6, "", false}},
		{"M12x1.75", "M12", Thread{12, 1.75, "", false}},
		{"M12x1.25", "M12 × 1.25", Thread{12, 1.25, "", false}},
		{"M12X1,25", "M12 × 1.25", Thread{12, 1.25, "", false}},
		{"M12*1.25", "M12 × 1.25", Thread{12, 1.25, "", false}},
		{"M12×1.25", "M12 × 1.25", Thread{12, 1.25, "", false}},
		{"M12\u00a0×\u202f1.25", "M12 × 1.25", Thread{12, 1.25, "", false}},
		{"M12-6g", "M12-6g", Thread{12, 1.75, "6g", false}},
		{"M12 – 6H", "M12-6H", Thread{12, 1.75, "6H", false}},
		{"M12\u22126H", "M12-6H", Thread{12, 1.75, "6H", false}},
		{"M12-5g6g", "M12-5g6g", Thread{12, 1.75, "5g6g", false}},
		{"M12-6g6g", "M12-6g", Thread{12, 1.75, "6g", false}},
		{"M12-4H5H", "M12-4H5H", Thread{12, 1.75, "4H5H", false}},
		{"M12-LH", "M12-LH", Thread{12, 1.75, "", true}},
		{"M12 lh", "M12-LH", Thread{12, 1.75, "", true}},
		{"M12-RH", "M12", Thread{12, 1.75, "", false}},
		{"M12x1.25-6g-LH", "M12 × 1.25-6g-LH", Thread{12, 1.25, "6g", true}},
		// The examples of ISO 6410-1:1993 and ISO 965-1:1998.
		{"M20 × 2 - 6G/6h - LH", "M20 × 2-6G/6h-LH", Thread{20, 2, "6G/6h", true}},
		{"M20 × 2-6H/5g6g", "M20 × 2-6H/5g6g", Thread{20, 2, "6H/5g6g", false}},
		{"m 12 × 1,25 - 6G / 6h", "M12 × 1.25-6G/6h", Thread{12, 1.25, "6G/6h", false}},
	} {
		got, err := Parse(c.in)
		if assert.NoError(t, err, c.in) {
			assert.Equal(t, c.want, got, c.in)
			assert.Equal(t, c.out, got.String(), c.in)
			assert.NoError(t, got.Validate(), c.in)
		}
	}
}

func TestParseSyntaxErrors(t *testing.T) {
	for in, want := range map[string]string{
		"":              "column 1: found the end, want M, the letter of metric threads",
		"  ":            "column 3: found the end, want M, the letter of metric threads",
		"12":            `column 1: found "1", want M, the letter of metric threads`,
		"M":             "column 2: found the end, want the diameter in digits",
		"M-12":          `column 2: found "-", want the diameter in digits`,
		"MF12":          `column 2: found "F", want the diameter in digits`,
		"M12y1":         `column 4: found "y", want ×, a hyphen or the end`,
		"M12ß":          `column 4: found "ß", want ×, a hyphen or the end`,
		"M12e3":         `column 4: found "e", want ×, a hyphen or the end`,
		"M12.":          "column 5: found the end, want the diameter in digits",
		"M12x":          "column 5: found the end, want the pitch in digits (threads of several starts are not read)",
		"M20 × Ph3P1.5": `column 7: found "P", want the pitch in digits (threads of several starts are not read)`,
		"M12x1.25x50":   `column 9: found "x", want a hyphen or the end`,
		"M12 × 1.25 6g": `column 12: found "6", want a hyphen or the end`,
		"M12-":          "column 5: found the end, want a tolerance class such as 6g, or LH",
		"M12-S":         `column 5: found "S", want a tolerance class such as 6g, or LH`,
		"M12-2g":        `column 5: found "2", want a tolerance grade, 3 to 9`,
		"M12-6":         "column 6: found the end, want a letter: e, f, g or h for a bolt, G or H for a nut",
		"M12-6E":        `column 6: found "E", want a letter: e, f, g or h for a bolt, G or H for a nut`,
		"M12-5g6H":      `column 8: found "H", want a letter of a bolt: e, f, g or h`,
		"M12-5H6g":      `column 8: found "g", want a letter of a nut: G or H`,
		"M12-6g/6H":     `column 7: found "/", want no slash: the class of the nut comes before that of the bolt, as 6H/6g`,
		"M12-6H/6G":     `column 9: found "G", want a letter of a bolt: e, f, g or h`,
		"M12-6H/":       "column 8: found the end, want a tolerance grade, 3 to 9",
		"M12-6g-6h":     `column 8: found "6", want LH, the only thing after the class`,
		"M12-6g-":       "column 8: found the end, want LH, the only thing after the class",
		"M12-L":         "column 6: found the end, want H, of LH or RH (lengths of engagement are not read)",
		"M12-LH-6g":     `column 7: found "-", want the end, the hand comes last`,
		"M12\xff":       `column 4: found "\xff", want ×, a hyphen or the end`,
		"M12-6g5g4g":    `column 9: found "4", want a hyphen or the end`,
		"M13-7k":        `column 6: found "k", want a letter: e, f, g or h for a bolt, G or H for a nut`,
		"M12\x00":       `column 4: found "\x00", want ×, a hyphen or the end`,
		"M١٢":           `column 2: found "١", want the diameter in digits`,
	} {
		got, err := Parse(in)
		var se *SyntaxError
		if assert.ErrorAs(t, err, &se, in) {
			assert.Equal(t, in, se.Input)
			assert.Contains(t, se.Error(), want, in)
			assert.True(t, strings.HasSuffix(se.Error(), want), "%s", se)
		}
		assert.Zero(t, got, in)
	}
}

func TestParseSizeErrors(t *testing.T) {
	_, err := Parse(" M13x1.5")
	var se *SizeError
	require.ErrorAs(t, err, &se)
	assert.Equal(t, 3, se.Column)
	assert.EqualError(t, err, "M13 is not a size of ISO 261; nearest: M12, M14")

	_, err = Parse("M12 × 1.3-6g")
	var pe *PitchError
	require.ErrorAs(t, err, &pe)
	assert.Equal(t, 7, pe.Column)
	assert.EqualError(t, err, "1.3 is not a pitch of M12 in ISO 261; nearest: 1.25, 1.5")

	for in, column := range map[string]int{
		"M0":                           2,
		"M12x0":                        5,
		"M12x0.0":                      5,
		"M1001":                        2,
		"M" + strings.Repeat("9", 400): 2,
		"M12x0." + strings.Repeat("0", 400) + "1": 5,
	} {
		for _, p := range []Parser{{}, {AllowUnlisted: true}} {
			_, err = p.Parse(in)
			var ve *ValueError
			require.ErrorAs(t, err, &ve, in)
			assert.Equal(t, column, ve.Column, in)
			assert.Less(t, len(err.Error()), 120)
		}
	}
}

func TestParseUnlisted(t *testing.T) {
	p := Parser{AllowUnlisted: true}
	th, err := p.Parse("M13x1.5-6g")
	require.NoError(t, err)
	assert.Equal(t, Thread{13, 1.5, "6g", false}, th)
	assert.Equal(t, "M13 × 1.5-6g", th.String())

	th, err = p.Parse("M12")
	require.NoError(t, err)
	assert.Equal(t, Thread{D: 12, P: 1.75}, th)

	_, err = p.Parse("M13 - 6g")
	var se *SyntaxError
	require.ErrorAs(t, err, &se)
	assert.EqualError(t, err, `thread "M13 - 6g": column 5: found "-", want × and the pitch, as M13 has no coarse one`)

	_, err = p.Parse("M12x7")
	var ve *ValueError
	require.ErrorAs(t, err, &ve)
	assert.Equal(t, 5, ve.Column)
}

func TestLongInputIsClipped(t *testing.T) {
	_, err := Parse(strings.Repeat("ß", 1000))
	assert.Less(t, len([]rune(err.Error())), 130)
	err = Thread{D: 12, P: 1, Class: strings.Repeat("6", 1000)}.Validate()
	assert.Less(t, len([]rune(err.Error())), 130)
}

func TestMustParse(t *testing.T) {
	assert.Equal(t, Thread{D: 12, P: 1.75}, MustParse("M12"))
	assert.PanicsWithValue(t, "thread: MustParse: M13 is not a size of ISO 261; nearest: M12, M14", func() { MustParse("M13") })
}

func TestValidateClass(t *testing.T) {
	for class, want := range map[string]string{
		"6g ":     "nothing after 6g",
		" 6g":     "a tolerance grade, 3 to 9",
		"6g6g":    "6g",
		"6H / 6g": "6H/6g",
		"g6":      "a tolerance grade, 3 to 9",
		"6gx":     "nothing after 6g",
		"LH":      "a tolerance grade, 3 to 9",
		"6g-LH":   "nothing after 6g",
	} {
		err := Thread{D: 12, P: 1.75, Class: class}.Validate()
		var ce *ClassError
		if assert.ErrorAs(t, err, &ce, class) {
			assert.Equal(t, class, ce.Class)
			assert.Equal(t, want, ce.Want, class)
		}
	}
	for _, class := range []string{"", "6g", "6H", "6H/6g", "5g6g", "6H/5g6g", "9e", "3h"} {
		assert.NoError(t, Thread{D: 12, P: 1.75, Class: class}.Validate(), class)
	}
}

// drawClass draws a class in canonical form.
func drawClass(t *rapid.T) string {
	part := func(letters string) string {
		return rapid.StringMatching("[3-9]["+letters+"]").Draw(t, "part")
	}
	side := func(letters string) string {
		first := part(letters)
		if rapid.Bool().Draw(t, "two parts") {
			if second := part(letters); second != first {
				return first + second
			}
		}
		return first
	}
	switch rapid.IntRange(0, 3).Draw(t, "kind") {
	case 0:
		return ""
	case 1:
		return side(boltLetters)
	case 2:
		return side(nutLetters)
	}
	return side(nutLetters) + "/" + side(boltLetters)
}

func TestParseString(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SampledFrom(Sizes()).Draw(t, "d")
		p := rapid.SampledFrom(Pitches(d)).Draw(t, "p")
		want := Thread{D: d, P: p.P, Class: drawClass(t), LeftHand: rapid.Bool().Draw(t, "left")}
		got, err := Parse(want.String())
		if err != nil || got != want {
			t.Fatalf("%+v printed as %q read as %+v, %v", want, want, got, err)
		}
	})
}

func TestParseStringUnlisted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		want := unlisted(t)
		want.P = math.Max(math.Floor(want.P*1000), minP*1000) / 1000 // as it is printed
		want.Class, want.LeftHand = drawClass(t), rapid.Bool().Draw(t, "left")
		got, err := Parser{AllowUnlisted: true}.Parse(want.String())
		if err != nil || got != want {
			t.Fatalf("%+v printed as %q read as %+v, %v", want, want, got, err)
		}
	})
}

// However a designation is spelt, it means the same.
func TestParseSpelling(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SampledFrom(Sizes()).Draw(t, "d")
		p := rapid.SampledFrom(Pitches(d)).Draw(t, "p")
		want := Thread{D: d, P: p.P, Class: drawClass(t), LeftHand: rapid.Bool().Draw(t, "left")}
		blank := func() string { return rapid.SampledFrom([]string{"", " ", "\t", "\u00a0", "  "}).Draw(t, "blank") }
		num := func(x float64) string {
			return strings.Replace(number(x), ".", rapid.SampledFrom([]string{".", ","}).Draw(t, "point"), 1)
		}
		hyphen := func() string {
			return blank() + rapid.SampledFrom([]string{"-", "–", "—", "−"}).Draw(t, "hyphen") + blank()
		}
		s := blank() + rapid.SampledFrom([]string{"M", "m"}).Draw(t, "letter") + blank() + num(d)
		if !want.IsCoarse() || rapid.Bool().Draw(t, "pitch") {
			s += blank() + rapid.SampledFrom([]string{"x", "X", "×", "*"}).Draw(t, "sign") + blank() + num(want.P)
		}
		if want.Class != "" {
			s += hyphen() + want.Class
		}
		if want.LeftHand {
			s += hyphen() + rapid.SampledFrom([]string{"LH", "lh", "Lh"}).Draw(t, "hand")
		}
		got, err := Parse(s + blank())
		if err != nil || got != want {
			t.Fatalf("%q read as %+v, %v; want %+v", s, got, err, want)
		}
	})
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{
		"M12", "M12x1.25-6g-LH", "m 12 × 1,25 - 6G/6h", "M20 × 2-6H/5g6g", "M13x1.5", "M3,5*0.35",
		"M12 lh", "M0.1x0.05", "M1000x500", "M", "", "M12.", "M12x", "M12-6g6g", "M12\u22126H", "M\xff", "M9e9", "M12-LHx",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for _, p := range []Parser{{}, {AllowUnlisted: true}} {
			th, err := p.Parse(s)
			if err != nil {
				checkParseError(t, s, th, err)
				continue
			}
			if err := th.Validate(); err != nil {
				t.Fatalf("%q: %+v is not valid: %v", s, th, err)
			}
			if !p.AllowUnlisted && !th.Listed() {
				t.Fatalf("%q: %+v is not listed", s, th)
			}
			again, err := p.Parse(th.String())
			if err != nil || again != th {
				t.Fatalf("%q: %+v printed as %q read as %+v, %v", s, th, th, again, err)
			}
		}
	})
}

// checkParseError checks that err is one of the documented kinds and names a
// place in s.
func checkParseError(t *testing.T, s string, th Thread, err error) {
	t.Helper()
	if th != (Thread{}) {
		t.Fatalf("%q: %+v with an error", s, th)
	}
	if err.Error() == "" {
		t.Fatalf("%q: empty message", s)
	}
	column := 0
	var se *SyntaxError
	var ze *SizeError
	var pe *PitchError
	var ve *ValueError
	switch {
	case errors.As(err, &se):
		column = se.Column
	case errors.As(err, &ze):
		column = ze.Column
	case errors.As(err, &pe):
		column = pe.Column
	case errors.As(err, &ve):
		column = ve.Column
	}
	if column < 1 || column > len([]rune(s))+1 {
		t.Fatalf("%q: column %d of %T %v", s, column, err, err)
	}
}

func BenchmarkParse(b *testing.B) {
	for _, s := range []string{"M12", "M12 × 1.25-6g-LH"} {
		b.Run(s, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Parse(s); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkString(b *testing.B) {
	th := MustParse("M12x1.25-6g-LH")
	b.ReportAllocs()
	for b.Loop() {
		_ = th.String()
	}
}
