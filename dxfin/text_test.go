package dxfin_test

import (
	"strings"
	"testing"

	"boltplate/dxfin"

	"github.com/stretchr/testify/require"
)

// texts reads the values of TEXT entities in a file with the given header.
func texts(t *testing.T, header string, values ...string) (out []string, f *dxfin.File) {
	t.Helper()
	var b strings.Builder
	for _, v := range values {
		b.WriteString("0\nTEXT\n8\n0\n40\n3.5\n1\n" + v + "\n")
	}
	f = decode(t, tags("0 SECTION | 2 HEADER |"+header+"| 0 ENDSEC | 0 SECTION | 2 ENTITIES")+b.String()+"0\nENDSEC\n0\nEOF\n")
	for _, x := range flatten(t, f).Texts {
		out = append(out, x.Value)
	}
	return out, f
}

// TestSigns: the codes of the format in a TEXT. The list is that of the
// format's public description.
func TestSigns(t *testing.T) {
	for code, want := range map[string]string{
		"%%c20": "Ø20", "%%C20": "Ø20", "30%%d": "30°", "%%p0.1": "±0.1", "50%%%": "50%", "%%ulength%%u": "length", "%%oover%%O": "over",
		"%%065B": "AB", "%%216": "Ø", "100%": "100%", "%%x": "%%x", "%%": "%%", "a%%": "a%%",
		`\U+00D820`: "Ø20", `\u+00d8`: "Ø", `\U+D83D\U+DE00`: "😀", `\U+D83D`: "\ufffd", `\U+00`: `\U+00`, `a\b`: `a\b`,
		"x^ 2": "x^2", "a^Ib": "a b", "a^Jb": "a\nb", "a^": "a^", "^1": "^1",
	} {
		got, _ := texts(t, "9 $ACADVER | 1 AC1015", code)
		require.Equal(t, []string{want}, got, code)
	}
}

// TestEncodings: code pages by the published tables of the pages: Ø is 0xD8 in
// Windows-1252 and 1250 has Ř there, 1251 Ш, 437 U+256A.
func TestEncodings(t *testing.T) {
	for header, want := range map[string]string{
		"9 $ACADVER | 1 AC1015 | 9 $DWGCODEPAGE | 3 ANSI_1252": "Ø",
		"9 $ACADVER | 1 AC1009":                                "Ø",
		"9 $ACADVER | 1 AC1015 | 9 $DWGCODEPAGE | 3 ansi_1250": "Ř",
		"9 $ACADVER | 1 AC1015 | 9 $DWGCODEPAGE | 3 ANSI_1251": "Ш",
		"9 $ACADVER | 1 AC1009 | 9 $DWGCODEPAGE | 3 dos437":    "╪",
	} {
		got, f := texts(t, header, "\xd8")
		require.Equal(t, []string{want}, got, header)
		require.Empty(t, f.Notes, header)
	}
	got, f := texts(t, "9 $ACADVER | 1 AC1021", "Ø × Ж")
	require.Equal(t, []string{"Ø × Ж"}, got)
	require.True(t, f.UTF8)
	require.Empty(t, f.Notes)
	got, f = texts(t, "9 $ACADVER | 1 AC1015 | 9 $DWGCODEPAGE | 3 ANSI_1252", "Ø × Ж")
	require.Equal(t, []string{"Ø × Ж"}, got, "UTF-8 in a file that declares a code page")
	require.Contains(t, f.Notes[0].Text, `texts are UTF-8, which the version "AC1015" does not have`)
	got, f = texts(t, "9 $ACADVER | 1 AC1021", "\xd8")
	require.Equal(t, []string{"Ø"}, got, "a code page in a file whose version has UTF-8")
	require.Contains(t, f.Notes[0].Text, "has texts in UTF-8, and these are not")
	_, f = texts(t, "9 $ACADVER | 1 AC1015 | 9 $DWGCODEPAGE | 3 ANSI_932", "\x83\x7b")
	require.Contains(t, f.Notes[0].Text, "the code page ANSI_932 is not known")
}

// TestPlainText: codes for looks in an MTEXT.
func TestPlainText(t *testing.T) {
	for code, want := range map[string]string{
		`plain`: "plain", `{\fArial|b0|i0;bold} not`: "bold not", `one\Ptwo`: "one\ntwo", `\H2.5;2\H0.7x;3`: "23", `a\~b`: "a b",
		`\A1;20{\H0.7x;\S+0.1^-0.2;}`: "20+0.1 -0.2", `\S1/2;`: "1/2", `\S1#2;`: "1/2", `\S7;`: "7", `\Lunder\l`: "under", `\\ \{ \}`: `\ { }`,
		`%%c20`: "Ø20", `\C1;red\c255;`: "red", `\pi2,l3;item`: "item", `\T1.1;wide\W0.8;`: "wide", `\Qnone`: "none", `\zunknown`: `\zunknown`, `\S1`: "1", `end\`: `end\`, `\P\P`: "",
	} {
		require.Equal(t, want, dxfin.PlainText(code), code)
	}
}

// TestTextPlaces: where a TEXT stands, by its alignment.
func TestTextPlaces(t *testing.T) {
	f := decode(t, entities(`0 TEXT | 10 1 | 20 2 | 40 3 | 1 left
		0 TEXT | 10 1 | 20 2 | 11 5 | 21 6 | 40 3 | 72 1 | 1 centre
		0 TEXT | 10 1 | 20 2 | 11 5 | 21 6 | 40 3 | 72 2 | 73 3 | 1 right top
		0 TEXT | 10 1 | 20 2 | 11 5 | 21 6 | 40 3 | 72 4 | 1 middle
		0 TEXT | 10 1 | 20 2 | 11 5 | 21 2 | 40 3 | 72 5 | 1 fit
		0 TEXT | 10 1 | 20 2 | 40 3 | 50 30 | 41 0.8 | 1 turned
		0 TEXT | 10 1 | 20 2 | 40 3 | 210 0 | 220 0 | 230 -1 | 1 from behind
		0 TEXT | 10 1 | 20 2 | 40 3 | 1  `))
	s := flatten(t, f)
	require.Len(t, s.Texts, 7, "a blank text is nothing")
	at := func(i int) []any {
		x := s.Texts[i]
		return []any{x.At.X, x.At.Y, x.Align, x.VAlign, x.Angle, x.Mirror}
	}
	require.Equal(t, []any{1.0, 2.0, dxfin.Left, dxfin.Baseline, 0.0, false}, at(0))
	require.Equal(t, []any{5.0, 6.0, dxfin.Center, dxfin.Baseline, 0.0, false}, at(1))
	require.Equal(t, []any{5.0, 6.0, dxfin.Right, dxfin.Top, 0.0, false}, at(2))
	require.Equal(t, []any{5.0, 6.0, dxfin.Center, dxfin.MiddleHeight, 0.0, false}, at(3))
	require.Equal(t, []any{3.0, 2.0, dxfin.Center, dxfin.Baseline, 0.0, false}, at(4))
	require.Equal(t, 4.0, s.Texts[4].Length)
	require.InDelta(t, 30, s.Texts[5].Angle, 1e-9)
	require.Equal(t, []any{-1.0, 2.0, dxfin.Left, dxfin.Baseline, 180.0, true}, at(6))
}
