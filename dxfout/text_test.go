package dxfout

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"
	"unicode/utf16"
	"unicode/utf8"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func TestAppendText(t *testing.T) {
	for _, c := range []struct{ in, text, dimension, data string }{
		{"", "", "", ""},
		{"M20 x 90", "M20 x 90", "M20 x 90", "M20 x 90"},
		{"Ø16 ±0.1 45°", "%%c16 %%p0.1 45%%d", "%%c16 %%p0.1 45%%d", "\xd816 \xb10.1 45\xb0"},
		{"⌀16", "%%c16", "%%c16", `\U+230016`},
		{"µm² ×", "\xb5m\xb2 \xd7", "\xb5m\xb2 \xd7", "\xb5m\xb2 \xd7"},
		{"€ – ™", "\x80 \x96 \x99", "\x80 \x96 \x99", "\x80 \x96 \x99"},
		{"Ω", `\U+03A9`, `\U+03A9`, `\U+03A9`},
		{"□20", `\U+25A120`, `\U+25A120`, `\U+25A120`},
		{"𝛼", `\U+D835\U+DEFC`, `\U+D835\U+DEFC`, `\U+D835\U+DEFC`},
		{"a^b^", "a^ b^ ", "a^ b^ ", "a^ b^ "},
		{"100%", "100%", "100%", "100%"},
		{"%%c", "%%%%%%c", "%%%%%%c", "%%c"},
		{"5%Ø", "5%%%%%c", "5%%%%%c", "5%\xd8"},
		{"a\nb\r\nc\td\x00e\x7f", "a b  c d e ", "a b  c d e ", "a b  c d e "},
		{"a\u0085b\u2028c", "a b c", "a b c", "a b c"},
		{`C:\new`, `C:\new`, `C:\\new`, `C:\new`},
		{`\U+00D8`, `\U\U+002B00D8`, `\\U\U+002B00D8`, `\U\U+002B00D8`},
		{`\m+1`, `\m\U+002B1`, `\\m\U+002B1`, `\m\U+002B1`},
		{"{x}", "{x}", `\{x\}`, "{x}"},
		{"<> []", "<> []", "< > [ ]", "<> []"},
		{"1.5D + 3", "1.5D + 3", "1.5D + 3", "1.5D + 3"},
		{"bad \xff\xfe", `bad \U+FFFD\U+FFFD`, `bad \U+FFFD\U+FFFD`, `bad \U+FFFD\U+FFFD`},
	} {
		require.Equal(t, c.text, string(appendText(nil, c.in, textField)), "%q as text", c.in)
		require.Equal(t, c.dimension, string(appendText(nil, c.in, dimensionField)), "%q in a dimension", c.in)
		require.Equal(t, c.data, string(appendText(nil, c.in, dataField)), "%q as data", c.in)
	}
}

// unescape reads a TEXT string as the format describes it: caret codes first,
// then %%, then \U+XXXX, from the left.
func unescape(s string, percent bool) string {
	var units []uint16
	for i := 0; i < len(s); {
		switch {
		case s[i] == '^' && i+1 < len(s):
			r := rune(s[i+1])
			if r == ' ' {
				r = '^'
			} else {
				r -= 64
			}
			units = append(units, uint16(r))
			i += 2
		case percent && strings.HasPrefix(s[i:], "%%") && i+2 < len(s):
			var r rune
			switch s[i+2] {
			case 'c':
				r = 'Ø'
			case 'd':
				r = '°'
			case 'p':
				r = '±'
			case '%':
				r = '%'
			}
			units = append(units, uint16(r))
			i += 3
		case strings.HasPrefix(s[i:], `\U+`):
			var r uint16
			for _, c := range s[i+3 : i+7] {
				r = r<<4 + uint16(strings.IndexRune("0123456789ABCDEF", c))
			}
			units = append(units, r)
			i += 7
		case s[i] >= 0x80 && s[i] < 0xa0:
			units = append(units, uint16(high1252[s[i]-0x80]))
			i++
		default:
			units = append(units, uint16(s[i]))
			i++
		}
	}
	return string(utf16.Decode(units))
}

// blanked is what a text should read as: itself, with blanks for what a line
// cannot hold.
func blanked(s string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' || r >= 0x7f && r < 0xa0 || r == 0x2028 || r == 0x2029 {
			return ' '
		}
		return r
	}, strings.ToValidUTF8(s, "\xff")) // so that each bad byte stays one character
}

// checkText is plain code, without assertions that reflect: to the fuzzer their
// branches would look like discoveries.
func checkText(s string) error {
	for f := textField; f <= asciiField; f++ {
		got := appendText([]byte("prefix"), s, f)
		if string(got[:6]) != "prefix" {
			return fmt.Errorf("field %d: what was there is %q", f, got[:6])
		}
		got = got[6:]
		if i := bytes.IndexFunc(got, func(r rune) bool { return r < ' ' }); i >= 0 {
			return fmt.Errorf("field %d: control character in %q", f, got)
		}
		if !fits(s, f, len(got)) || len(got) > 0 && fits(s, f, len(got)-1) && len(s) > (len(got)-1)/7 {
			return fmt.Errorf("field %d: %q is not found to be %d bytes long", f, got, len(got))
		}
		if plain(s) && string(got) != s {
			return fmt.Errorf("field %d: plain %q became %q", f, s, got)
		}
	}
	if !utf8.ValidString(s) {
		return nil
	}
	// The sign for a diameter and the letter Ø share one code.
	want := strings.ReplaceAll(blanked(s), "⌀", "Ø")
	if got := unescape(string(appendText(nil, s, textField)), true); got != want {
		return fmt.Errorf("as text %q reads %q", want, got)
	}
	if got := unescape(EscapeText(s), true); got != want {
		return fmt.Errorf("as ASCII %q reads %q", want, got)
	}
	for _, c := range []byte(EscapeText(s)) {
		if c < ' ' || c > '~' {
			return fmt.Errorf("%q is not ASCII", EscapeText(s))
		}
	}
	if got, want := unescape(string(appendText(nil, s, plainField)), true), asPlain(s); got != want {
		return fmt.Errorf("as plain text %q reads %q", want, got)
	}
	if got := unescape(string(appendText(nil, s, dataField)), false); got != blanked(s) {
		return fmt.Errorf("as data %q reads %q", blanked(s), got)
	}
	return nil
}

// asPlain is what a text should read as in a plain file: characters that such
// a file lacks are question marks, which no file has as they are refused.
func asPlain(s string) string {
	s = strings.NewReplacer("×", "x", "–", "-", "—", "-", "\u2010", "-", "\u2011", "-", "\u2012", "-", "\u2212", "-", "‘", "'", "’", "'", "\u2032", "'",
		"“", `"`, "”", `"`, "\u2033", `"`, "\u00a0", " ", "\u2002", " ", "\u2003", " ", "\u2007", " ", "\u2009", " ", "\u200a", " ", "\u202f", " ",
		"⌀", "Ø", "√", "sqrt", "≈", "~", "π", "pi", `\U+`, `\U +`, `\u+`, `\u +`, `\M+`, `\M +`, `\m+`, `\m +`).Replace(blanked(s))
	return strings.Map(func(r rune) rune {
		if r >= 0x100 && !slices.Contains(high1252[:], r) {
			return '?'
		}
		return r
	}, s)
}

// plain reports whether s is printable ASCII with nothing that means more than
// itself in any field.
func plain(s string) bool {
	return !strings.ContainsFunc(s, func(r rune) bool { return r < ' ' || r > '~' || strings.ContainsRune(`%^\{}<>[]`, r) })
}

func FuzzText(f *testing.F) {
	for _, s := range []string{"", "M20 x 90", "a\r\n  0\r\nEOF\r\n", "%%c^J", "50 × 30 – 5′", `\U+000A`, "\xff", "%%%", "Ø%", "𝛼\\M+1", "2√(R²)", "≈ π/4"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		if len(s) > 64 {
			return // what happens depends on neighbours only, and the fuzzer shortens for long what it likes
		}
		if err := checkText(s); err != nil {
			t.Fatal(err)
		}
	})
}

func TestTextRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringOf(rapid.RuneFrom([]rune("ab1 %^\\U+M<>[]{}Ø°±µ€Ω𝛼×–″\n\t-"))).Draw(t, "s")
		require.NoError(t, checkText(s))
	})
}

func TestCleanName(t *testing.T) {
	for in, want := range map[string]string{
		"Bolt M20x90": "Bolt M20x90", "M20 × 90": "M20 x 90", "": "UNNAMED", "  ": "UNNAMED", "*Model_Space": "_Model_Space",
		`a<b>c/d\e"f:g;h?i|j,k=l` + "`m": "a_b_c_d_e_f_g_h_i_j_k_l_m", "a\r\n  0\r\nEOF": "a__  0__EOF",
		"Sechskantschraube für Ø20": "Sechskantschraube f\xfcr \xd820", "螺栓": "__", "a^Jb%%c": "a_Jb__c",
	} {
		require.Equal(t, want, cleanName(in), "%q", in)
	}
	require.Len(t, cleanName(strings.Repeat("x", 1000)), maxName)
}

func TestNamesAreUnique(t *testing.T) {
	n := nameSet{}
	require.Equal(t, "Nut", n.unique("Nut"))
	require.Equal(t, "NUT_2", n.unique("NUT"), "upper and lower case are one")
	require.Equal(t, "Nut_2_2", n.unique("Nut_2"))
	require.Equal(t, "nut_3", n.unique("nut"))
	require.Equal(t, "M\xfctter", n.unique("M\xfctter"))
	require.Equal(t, "M\xdcTTER_2", n.unique("M\xdcTTER"))
}
