package rule

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// What people write, and the one text that it has on a drawing.
func TestSpellings(t *testing.T) {
	known := []string{"D", "L", "P", "A", "W", "C", "Lt", "b", "c", "d2", "d3", "i", "r", "k", "R", "R'", "x", "emin"}
	for want, spellings := range map[string][]string{
		"1.5D + 3":                    {"1.5D+3", "1,5 D + 3", "1.50*D + 3.0", "1½D + 3", "01.5 × D+3"},
		"2√(R² - i²)":                 {"2√(R²−i²)", "2 sqrt(R^2 - i^2)", "2*√( R² – i² )"},
		"A cos 30°":                   {"A cos 30", "A cos(30°)", "Acos30", "A×cos 30 deg", "Acos30°"},
		"2D cos 30°":                  {"2Dcos30", "2D*cos(30)"},
		"D - 1.2269P":                 {"D-1.2269P", "D − 1,2269 × P"},
		"2D/3":                        {"2D/3", "2*D ÷ 3", "(2D)/3"},
		"2/3 D":                       {"2/3D", "2/3 × D", "⅔D", "(2/3)D"},
		"4/3 D":                       {"1⅓D"},
		"0.5D":                        {"½D", ".5D", "0,5 D"},
		"D/2 × P":                     {"(D/2)P", "D/2*P"},
		"D/(2P)":                      {"D/(2P)", "D ÷ (2 × P)"},
		"π/4 ((d2 + d3)/2)²":          {"pi/4((d2+d3)/2)^2", "π/4 × ((d₂ + d₃)/2)²"},
		"d2 - C Lt":                   {"d2 - CLt", "d2 - C*Lt"},
		"D P":                         {"DP", "D*P", "D·P"},
		"D√2":                         {"D sqrt 2", "D√(2)"},
		"√2 × D":                      {"√(2)D", "√2*D"},
		"cos 30° D":                   {"cos 30° D", "cos(30)D"},
		"(cos 30°)²":                  {"(cos 30)^2"},
		"D^(-1)":                      {"D^-1", "D^(-1)"},
		"D^0.5":                       {"D^½", "D^.5"},
		"-D + 2":                      {"-D+2", "−(D) + 2"},
		"2 × (-3)":                    {"2*(-3)", "2(-3)"},
		"max(0.1D, 2)":                {"max(0,1D; 2)", "max( 0.1 D , 2 )", "max(0.1D,2)"},
		"near(2.5P, 5, 6.3, 7.5)":     {"near(2,5P; 5; 6,3; 7,5)"},
		"upto(L, 125, 2D + 6, 2D)":    {"upto(L, 125, 2D+6, 2D)"},
		"2.5P ≈ 6.3":                  {"2,5P ~ 6,3"},
		"R' + R":                      {"R’+R", "R′ + R"},
		"30°":                         {"30 deg", "30°"},
		"emin/2":                      {"emin/2"},
		"L - 2x":                      {"L-2x"},
		"2x × D":                      {"2*x*D", "2x×D"},
		"0.3D + (1.5 - D)/2":          {"0,3D+(1,5-D)/2"},
		"max(D, (1.5 + D)/2)":         {"max(D, (1,5 + D)/2)"},
		"√((d2/2 + r)² - (D/2 + r)²)": {"√((d2/2+r)²-(D/2+r)²)"},
	} {
		for _, s := range append(spellings, want) {
			e, err := Parser{Letters: known}.Parse(s)
			if assert.NoError(t, err, s) {
				assert.Equal(t, want, e.String(), s)
			}
		}
	}
}

func TestSyntaxErrors(t *testing.T) {
	deep := strings.Repeat("(", 41) + "D" + strings.Repeat(")", 41)
	for s, want := range map[string]string{
		"":                        `rule "": column 1: found the end, want a number, a letter, √, a function or a parenthesis`,
		"(L - b":                  `column 7: found the end, want +, -, ×, / or the parenthesis that closes that of column 1`,
		"L - b)":                  `column 6: found ")", want +, -, ×, / or the end`,
		"2 3":                     `column 3: found "3", want a sign before the number: ×, /, + or -`,
		"D/2P":                    `column 4: found "P", want × or parentheses, to say what the division ends with: a/(b c) or a/b × c`,
		"cos 2D":                  `column 6: found "D", want × or parentheses, to say what cos is taken of`,
		"√2(D)":                   `column 3: found "(", want × or parentheses, to say what √ is taken of`,
		"√D²":                     `column 3: found "²", want parentheses that say what the power is of, as (cos a)² or cos(a²)`,
		"cos(a)²":                 `column 7: found "²", want parentheses that say what the power is of`,
		"sin² a":                  `column 4: found "²", want the operand first, as (sin a)²`,
		"2 x D":                   `column 5: found "D", want a sign behind x, which may be a letter here; for times write × or *`,
		"max(1,5)":                `column 6: found ",", want a point, or a blank behind a comma that separates`,
		"max(D, 2; 3)":            `column 6: found ",", want a semicolon, as between the other arguments`,
		"max(D)":                  `column 1: found "max", want two values or more, as max(0.1D, 2)`,
		"near(2.5P, 5)":           `want a value and two preferred values or more`,
		"up(2.5P)":                `want a value and a step, as up(2.5P, 0.1)`,
		"upto(L, 125, 2D, 3, 4)":  `want a value, then bounds with what holds up to them, then what holds beyond`,
		"min":                     `column 4: found the end, want a parenthesis behind min`,
		"1.2.3":                   `column 4: found ".", want one decimal point in a number`,
		"2.":                      `column 3: found the end, want a digit behind the decimal point`,
		"1234567890123456":        `column 1: found "1234567890123456", want no more than 15 digits`,
		"0.0000000000000001":      `want no more than 15 digits`,
		"D--2":                    `column 3: found "-", want a number or a letter; put a negative one in parentheses`,
		"D²³":                     `column 3: found "³", want parentheses between two exponents`,
		"D^":                      `column 3: found the end, want an exponent: a number, a letter or parentheses`,
		"2D = 40":                 `column 4: found "=", want a number, a letter or one of`,
		"2.5P ≈ 6.3 ≈ 6":          `column 12: found "≈", want +, -, ×, / or the end`,
		"2.5P ≈ P":                `column 8: found "P", want the number that the trade rounds it to`,
		"1 + (2P ≈ 6)":            `column 9: found "≈", want +, -, ×, / or the parenthesis that closes that of column 5`,
		"Dcos30":                  `column 1: found "Dcos30", want D cos 30, with blanks`,
		"abcdefghijklm":           `column 1: found "abcdefghijklm", want letters of one or a few characters, with × or a blank between them`,
		"D + \xff":                `column 5: found "\xff", want a number`,
		deep:                      `column 41: found "(", want no more than 40 parentheses in each other`,
		strings.Repeat("D+", 201): `column 401: found "more", want no more than 400 characters`,
	} {
		_, err := Parse(s)
		var se *SyntaxError
		if assert.ErrorAs(t, err, &se, s) {
			assert.Contains(t, err.Error(), want, s)
		}
	}
}

func TestLetterErrors(t *testing.T) {
	p := Parser{Letters: []string{"D", "L", "P", "d2", "d3", "dw", "Lt"}}
	for s, want := range map[string]string{
		"1.5d + 3": `rule "1.5d + 3": column 4: d is not known here; did you mean D, d2 or d3?`,
		"L - D2":   `column 5: D2 is not known here; did you mean d2, D or d3?`,
		"L - DW":   `column 5: DW is not known here; did you mean dw, D or d2?`,
		"q":        `column 1: q is not known here; known: D, L, P, d2, d3, dw, Lt`,
		"2 x D":    `column 3: x is not known here; for times write × or *; known: D, L`,
		"Lq":       `column 1: Lq is not known here; did you mean L or Lt?`,
	} {
		_, err := p.Parse(s)
		var le *LetterError
		if assert.ErrorAs(t, err, &le, s) {
			assert.Contains(t, err.Error(), want, s)
		}
	}
	_, err := MustParse("L - b - x").Eval(Values{{"L", 80}, {"b", 38}}.Get)
	assert.EqualError(t, err, `rule "L - b - x": column 9: x is not known here; for times write × or *`)
	_, err = MustParse("L - b").Eval(Values{{"L", 80}}.Get)
	assert.EqualError(t, err, `rule "L - b": column 5: b is not known here`)
}

func TestValueErrors(t *testing.T) {
	vs := Values{{"D", 20}, {"R", 2}, {"i", 3}, {"Z", 0}, {"big", 1e300}}
	for s, want := range map[string]string{
		"2√(R² - i²)":        `rule "2√(R² - i²)": column 2: √ of -5: want 0 or more`,
		"D/(R - 2)":          `column 2: division of 20: want a divisor that is not 0`,
		"D tan 90°":          `column 3: tan of 90: want no right angle`,
		"(R - i)^0.5":        `column 8: power of -1: want a base above 0, or a whole exponent`,
		"Z^-1":               `column 2: power of 0: want a base above 0, or a whole exponent`,
		"big × big":          `column 5: product of`,
		"big^2":              `column 4: power of`,
		"up(D, Z)":           `column 1: up of 0: want a step above 0`,
		"D ≈ 17.7":           `column 3: ≈ of 20: want a number that differs from it by an eighth at most`,
		"2D ≈ 30":            `column 4: ≈ of 40: want a number that differs from it by an eighth at most`,
		"upto(1/Z, 2, D, R)": `column 7: division of 1: want a divisor that is not 0`,
	} {
		_, err := MustParse(s).Eval(vs.Get)
		var ve *ValueError
		if assert.ErrorAs(t, err, &ve, s) {
			assert.Contains(t, err.Error(), want, s)
		}
	}
	inf := 1e308
	_, err := MustParse("D").Eval(Values{{"D", inf * 10}}.Get)
	assert.EqualError(t, err, `rule "D": column 1: value of D of +Inf: want a finite number`)
}

// Side by side, the longest letter is taken first, and another cut is tried
// where that leads nowhere.
func TestLettersSideBySide(t *testing.T) {
	p := Parser{Letters: []string{"D", "c", "Dc", "cc", "d2"}}
	for s, want := range map[string]string{"Dcc": "Dc c", "Dccc": "Dc cc", "ccD": "cc D", "d2D": "d2 D", "2Dd2": "2D d2", "cosDc": "cos Dc", "cDcos60": "c D cos 60°"} {
		e, err := p.Parse(s)
		require.NoError(t, err, s)
		assert.Equal(t, want, e.String())
	}
	e, err := Parser{Letters: []string{"a", "ab", "bc"}}.Parse("abc") // ab leaves c
	require.NoError(t, err)
	assert.Equal(t, "a bc", e.String())
	_, err = Parser{Letters: []string{"a", "aa", "aaa"}}.Parse("aaaaaaaaaaaaaaaaaaaaaaab")
	assert.ErrorContains(t, err, "is not known here")
}

func TestValidLetter(t *testing.T) {
	for _, s := range []string{"D", "d3", "Lt", "R'", "dw", "emin", "α", "H1"} {
		assert.True(t, ValidLetter(s), s)
		e, err := Parse(s)
		require.NoError(t, err)
		assert.Equal(t, []string{s}, e.Letters())
	}
	for _, s := range []string{"", "3d", "d 3", "cos", "Acos", "π", "pi", "deg", "min", "upto", "d-3", "abcdefghijk", "\xff", "d_3"} {
		assert.False(t, ValidLetter(s), s)
	}
}

func TestWhatARuleTells(t *testing.T) {
	e := MustParse("L - c - N - 3P")
	assert.Equal(t, []string{"L", "c", "N", "P"}, e.Letters())
	assert.Equal(t, 4, e.Terms())
	assert.Equal(t, len("L - c - N - 3P"), e.Len())
	assert.True(t, e.Uses("N"))
	assert.False(t, e.Uses("D"))
	assert.Equal(t, 1, MustParse("2(D + 1)").Terms())
	assert.Equal(t, 2, MustParse("D + 1 ≈ 20").Terms())
	assert.True(t, MustParse("2D").Equal(MustParse("2 × D")))
	assert.False(t, MustParse("2D").Equal(MustParse("D × 2")))
	assert.Equal(t, "max(0,1D; 2)", MustParse("max(0.1D, 2)").Text(Format{Comma: true}))
	assert.Equal(t, "max(0.1D, 2)", MustParse("max(0.1D, 2)").Text(Format{}))
	clear(e.Letters())
	assert.Equal(t, "L", e.Letters()[0])
	assert.PanicsWithValue(t, `rule: MustParse: rule "2D +": column 5: found the end, want a number, a letter, √, a function or a parenthesis`,
		func() { MustParse("2D +") })
}
