package schedule

import (
	"strings"
	"testing"
	"unicode/utf8"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"boltplate/thread"
)

func TestFileName(t *testing.T) {
	cases := []struct{ mark, want string }{
		{"", ""},
		{"B1", "B1"},
		{"B 1/2", "B_1_2"},
		{`..\..\etc`, "_._.._etc"},
		{"../x", "_._x"},
		{".", "_"},
		{"..", "__"},
		{"-rf", "_rf"},
		{"a.", "a_"},
		{"a:b*c?d\"e<f>g|h", "a_b_c_d_e_f_g_h"},
		{"Größe-7", "Größe-7"},
		{"\u202egpj", "_gpj"},
		{"a\x00b\n", "a_b_"},
		{"\xff", "_"},
		// Names that Windows keeps, with any ending.
		{"con", "_con"},
		{"NUL.7", "_NUL.7"},
		{"Com1", "_Com1"},
		{"LPT9.x", "_LPT9.x"},
		{"COM¹", "COM_"},
		{"CONSOLE", "CONSOLE"},
		{"COM10", "COM10"},
		{strings.Repeat("a", 97), strings.Repeat("a", 96)},
		{strings.Repeat("ö", 60), strings.Repeat("ö", 48)},
		{strings.Repeat("a", 95) + ".b", strings.Repeat("a", 95) + "_"},
		{"a" + strings.Repeat("ア", 40), "a" + strings.Repeat("ア", 31)},
	}
	for _, c := range cases {
		assert.Equal(t, c.want, FileName(c.mark), "%q", c.mark)
	}
}

func TestFileNameProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mark := rapid.OneOf(rapid.String(), rapid.StringMatching(`(?i)[./\\ -]{0,3}(con|nul|aux|prn|com|lpt)?[0-9¹²³]?[. ]{0,2}[a-zé€]{0,120}`)).Draw(t, "mark")
		name := FileName(mark)
		if (name == "") != (mark == "") {
			t.Fatalf("%q", name)
		}
		if name == "" {
			return
		}
		if !utf8.ValidString(name) || len(name) > maxName || reserved(name) || strings.HasSuffix(name, ".") ||
			strings.HasPrefix(name, ".") || strings.HasPrefix(name, "-") || strings.ContainsAny(name, "/\\:*?\"<>| \x00") {
			t.Fatalf("%q is not safe", name)
		}
		if again := FileName(name); again != name {
			t.Fatalf("%q becomes %q", name, again)
		}
	})
}

func TestParseDesignation(t *testing.T) {
	m16 := thread.MustParse("M16")
	cases := []struct {
		text   string
		thread thread.Thread
		length float64
	}{
		{"M16", m16, 0},
		{"M16x80", m16, 80},
		{"m16 × 80", m16, 80},
		{"M 16*80", m16, 80},
		{"M16X80,5", m16, 80.5},
		{"M16x1.5", thread.MustParse("M16x1.5"), 0},
		{"M16x1.5x80", thread.MustParse("M16x1.5"), 80},
		{"M16 × 1,5 × 80", thread.MustParse("M16x1.5"), 80},
		{"M16x80-LH", thread.MustParse("M16-LH"), 80},
		{"M16x1.5x80-6g-LH", thread.MustParse("M16x1.5-6g-LH"), 80},
		{"M16-6g x 80", thread.MustParse("M16-6g"), 80},
		// A short screw, and coarse pitches of thick bolts.
		{"M3x2", thread.MustParse("M3"), 2},
		{"M4x6", thread.MustParse("M4"), 6},
		{"M64x6", thread.MustParse("M64x6"), 0},
		{"M64x10", thread.MustParse("M64"), 10},
	}
	for _, c := range cases {
		th, l, err := ParseDesignation(c.text, thread.Parser{})
		if assert.NoError(t, err, c.text) {
			assert.Equal(t, c.thread, th, c.text)
			assert.Equal(t, c.length, l, c.text)
		}
	}
}

// The column of an error is that of the text as it was given.
func TestParseDesignationErrors(t *testing.T) {
	for text, column := range map[string]int{
		"16x80":        1,
		"M16x80q":      7,
		"M16x1.5x80 q": 12,
		"M16xqx80":     5,
		"M16x1.5x0":    9,
		"M16x1.5x":     9,
	} {
		_, _, err := ParseDesignation(text, thread.Parser{})
		var e *thread.SyntaxError
		if assert.ErrorAs(t, err, &e, text) {
			assert.Equal(t, column, e.Column, "%s: %v", text, err)
			assert.Equal(t, text, e.Input)
		}
	}
}

// What a designation writes, it reads.
func TestParseDesignationProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SampledFrom(thread.Sizes()).Draw(t, "d")
		p := rapid.SampledFrom(thread.Pitches(d)).Draw(t, "p")
		l := float64(rapid.IntRange(33, 6000).Draw(t, "l"))
		th, err := thread.New(d, p.P)
		require.NoError(t, err)
		th.LeftHand = rapid.Bool().Draw(t, "left")
		text := th.String()
		sign := rapid.SampledFrom([]string{"x", "X", "*", " × "}).Draw(t, "sign")
		head, hand, _ := strings.Cut(text, "-")
		text = head + sign + trim(l)
		if hand != "" {
			text += "-" + hand
		}
		got, length, err := ParseDesignation(text, thread.Parser{})
		if err != nil || got != th || length != l {
			t.Fatalf("%s: %v, %v, %v", text, got, length, err)
		}
	})
}
