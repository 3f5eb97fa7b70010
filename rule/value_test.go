package rule

import (
	"math"
	"math/big"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func value(t testing.TB, text string, vs Values) float64 {
	t.Helper()
	x, err := MustParse(text).Eval(vs.Get)
	require.NoError(t, err, text)
	return x
}

// Worked by hand.
func TestValues(t *testing.T) {
	vs := Values{{"D", 20}, {"L", 90}, {"P", 2.5}, {"R", 16}, {"i", 2}, {"a", 30}}
	for text, want := range map[string]float64{
		"1.5D + 3": 33, "2D/3": 40.0 / 3, "2/3 D": 40.0 / 3, "D - L + P": -67.5, "D/4/5": 1, "2√(R² - i²)": 2 * math.Sqrt(252),
		"D cos 60°": 10, "D sin a": 10, "sin 210°": -0.5, "cos 90°": 0, "tan 45°": 1, "tan 135°": -1, "sin 360°": 0, "cos(-60°)": 0.5, "sin 750°": 0.5,
		"D^-1": 0.05, "D^0": 1, "-D²": -400, "(-D)²": 400, "2D³": 16000, "D^0.5": math.Sqrt(20),
		"min(D, L, P)": 2.5, "max(D, L, P)": 90, "near(2.5P, 5, 6.3, 7.5)": 6.3, "near(1.25, 1, 1.5)": 1.5, "near(-1.25, -1, -1.5)": -1,
		"2.5P ≈ 6.3": 6.3, "upto(L, 90, 1, 2)": 1, "upto(L, 89.9, 1, 2)": 2, "upto(L, 10, 1, 95, 2, 3)": 2,
		"up(2.5P, 0.1)": 6.3, "down(2.5P, 0.1)": 6.2, "round(2.5P, 0.1)": 6.3, "up(6.3, 0.1)": 6.3, "up(L/100, 0.05)": 0.9, "up(91, 5)": 95,
		"down(-2.5P, 0.1)": -6.3, "up(-2.5P, 0.1)": -6.2, "round(-2.5P, 0.1)": -6.3, "round(2.65, 0.1)": 2.7, "π/4 D²": math.Pi * 100,
	} {
		assert.InDelta(t, want, value(t, text, vs), 1e-12*math.Max(1, math.Abs(want)), text)
	}
	assert.Equal(t, 6.3, value(t, "up(2.5P, 0.1)", vs), "no dust")
	assert.Equal(t, 0.3, value(t, "up(0.3, 0.1)", vs), "no dust")
	assert.Equal(t, 1.1, value(t, "up(1.1, 0.1)", vs), "1.1/0.1 is a little more than 11")
	assert.Equal(t, 0.3, value(t, "down(0.3, 0.1)", vs), "0.3/0.1 is a little less than 3")
	assert.Zero(t, value(t, "√(D - 20)", vs))
	assert.Equal(t, 17.8, value(t, "D ≈ 17.8", vs), "out by just less than an eighth")
}

// Steps against whole numbers of thousandths.
func TestRoundingToSteps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.IntRange(0, 500000).Draw(t, "x")
		step := rapid.SampledFrom([]int{1, 5, 10, 20, 50, 100, 200, 250, 500, 1000, 5000}).Draw(t, "step")
		down := x / step * step
		up := down
		if down != x {
			up += step
		}
		half := down
		if 2*(x-down) >= step {
			half = down + step
		}
		vs := Values{{"x", float64(x) / 1000}, {"s", float64(step) / 1000}}
		for name, want := range map[string]int{"up": up, "down": down, "round": half} {
			got, err := MustParse(name + "(x, s)").Eval(vs.Get)
			if err != nil || math.Abs(got-float64(want)/1000) > 1e-12 {
				t.Fatalf("%s(%v): %v, %v, want %d/1000", name, vs, got, err, want)
			}
		}
	})
}

// Numbers against exact arithmetic on their shortest decimal text.
func TestFormatNumber(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.OneOf(rapid.Float64Range(-1e6, 1e6),
			rapid.Map(rapid.IntRange(-9999999, 9999999), func(n int) float64 { return float64(n) / 10000 })).Draw(t, "x")
		d := rapid.IntRange(1, 6).Draw(t, "decimals")
		exact, _ := new(big.Rat).SetString(strconv.FormatFloat(x, 'g', -1, 64))
		scaled := new(big.Rat).Mul(new(big.Rat).Abs(exact), new(big.Rat).SetInt(new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(d)), nil)))
		n := new(big.Int).Quo(new(big.Int).Add(new(big.Int).Mul(scaled.Num(), big.NewInt(2)), scaled.Denom()), new(big.Int).Mul(scaled.Denom(), big.NewInt(2)))
		want := new(big.Rat).SetFrac(n, new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(d)), nil)).FloatString(d)
		want = strings.TrimRight(strings.TrimRight(want, "0"), ".")
		if x < 0 && want != "0" {
			want = "-" + want
		}
		if got := (Format{Decimals: d}).Number(x); got != want {
			t.Fatalf("%v in %d decimals: %s, want %s", x, d, got, want)
		}
		if got := (Format{Decimals: d, Comma: true}).Number(x); got != strings.Replace(want, ".", ",", 1) {
			t.Fatalf("%v with a comma: %s", x, got)
		}
	})
	for want, got := range map[string]string{
		"1.01": Format{Decimals: 2}.Number(1.005), "10": Format{Decimals: 2}.Number(9.999), "-100": Format{Decimals: -1}.Number(-99.5),
		"3.125": Format{}.Number(3.125), "0": Format{}.Number(math.Copysign(0, -1)), "NaN": Format{}.Number(math.NaN()), "-0.001": Format{}.Number(-0.0005),
	} {
		assert.Equal(t, want, got)
	}
}

func TestWorking(t *testing.T) {
	vs := Values{{"D", 20}, {"L", 90}, {"P", 2.5}, {"A", 40}, {"R", 16}, {"i", 2}, {"b", 46}, {"d2", math.Sqrt(1008)}, {"m", -3}, {"a", 30}}
	for _, c := range []struct {
		rule, unit string
		format     Format
		want       string
	}{
		{"2D", "mm", Format{}, "Z = 2D = 2 × 20 = 40 mm"},
		{"D", "mm", Format{}, "Z = D = 20 mm"},
		{"12", "mm", Format{}, "Z = 12 mm"},
		{"30°", "°", Format{}, "Z = 30°"},
		{"90° - a", "°", Format{}, "Z = 90° - a = 90° - 30 = 60°"},
		{"1.5D + 3", "mm", Format{Comma: true}, "Z = 1,5D + 3 = 1,5 × 20 + 3 = 33 mm"},
		{"2√(R² - i²)", "mm", Format{}, "Z = 2√(R² - i²) = 2√(16² - 2²) = 31.749 mm"},
		{"A cos 30°", "mm", Format{Decimals: 1}, "Z = A cos 30° = 40 cos 30° = 34.6 mm"},
		{"D tan a", "mm", Format{Decimals: 2}, "Z = D tan a = 20 tan 30° = 11.55 mm"},
		{"(L - b)/2", "mm", Format{}, "Z = (L - b)/2 = (90 - 46)/2 = 22 mm"},
		{"2/3 D", "mm", Format{}, "Z = 2/3 D = 2/3 × 20 = 13.333 mm"},
		{"m² + 2m", "", Format{}, "Z = m² + 2m = (-3)² + 2 × (-3) = 3"},
		{"2.5P ≈ 6.3", "mm", Format{}, "Z = 2.5P = 2.5 × 2.5 = 6.25 ≈ 6.3 mm"},
		{"near(2.5P, 5, 6.3)", "mm", Format{}, "Z = 2.5P = 2.5 × 2.5 = 6.25 ≈ 6.3 mm"},
		{"near(2.5P, 5, 6.25)", "mm", Format{}, "Z = 2.5P = 2.5 × 2.5 = 6.25 mm"},
		{"up(2.5P, 0.1)", "mm", Format{Comma: true}, "Z = up(2,5P; 0,1) = up(2,5 × 2,5; 0,1) = 6,3 mm"},
		{"upto(L, 125, 2D + 6, 2D + 12)", "mm", Format{}, "Z = 2D + 6 = 2 × 20 + 6 = 46 mm"},
		// 1000 × 31.749 is 31749: it takes more decimals to be true.
		{"1000d2", "mm", Format{}, "Z = 1000d2 = 1000 × 31.749016 = 31749.016 mm"},
	} {
		w, err := MustParse(c.rule).Working("Z", c.unit, vs.Get, c.format)
		require.NoError(t, err, c.rule)
		assert.Equal(t, c.want, w.String(), c.rule)
	}
	w, err := MustParse("2D").Working("", "mm", vs.Get, Format{})
	require.NoError(t, err)
	assert.Equal(t, "2D = 2 × 20 = 40 mm", w.String())
	_, err = MustParse("2q").Working("Z", "mm", vs.Get, Format{})
	assert.EqualError(t, err, `rule "2q": column 2: q is not known here`)
}

func TestChoose(t *testing.T) {
	long := "upto(L, 125, 2D + 6, 200, 2D + 12, 2D + 25)"
	for _, c := range []struct {
		rule string
		vs   Values
		want string
	}{
		{long, Values{{"L", 125}, {"D", 20}}, "2D + 6"},
		{long, Values{{"L", 126}, {"D", 20}}, "2D + 12"},
		{long, Values{{"L", 300}, {"D", 20}}, "2D + 25"},
		{"L - " + long, Values{{"L", 80}, {"D", 16}}, "L - (2D + 6)"},
		{"near(2.5P, 5, 6.3, 7.5)", Values{{"P", 2.5}}, "2.5P ≈ 6.3"},
		{"near(2.5P, 5, 6.3, 7.5)", Values{{"P", 2}}, "2.5P"},
		{"near(2.5P, 5, 60)", Values{{"P", 8}}, "near(2.5P, 5, 60)"}, // 20 is not about 5
		{"upto(P, 2, 2P, near(2.5P, 5, 6.3))", Values{{"P", 2.5}}, "2.5P ≈ 6.3"},
		{"2D", Values{{"D", 1}}, "2D"},
	} {
		e, err := MustParse(c.rule).Choose(c.vs.Get)
		require.NoError(t, err)
		assert.Equal(t, c.want, e.String())
		// The text has the value.
		assert.Equal(t, value(t, c.rule, c.vs), value(t, e.String(), c.vs))
	}
}

func TestAbout(t *testing.T) {
	e, err := MustParse("2.5P").About(6.3)
	require.NoError(t, err)
	assert.Equal(t, "2.5P ≈ 6.3", e.String())
	e, err = e.About(6.2)
	require.NoError(t, err)
	assert.Equal(t, "2.5P ≈ 6.2", e.String(), "not two of them")
	for _, v := range []float64{-1, math.NaN(), math.Inf(1), 1e20} {
		_, err = MustParse("2.5P").About(v)
		var ve *ValueError
		assert.ErrorAs(t, err, &ve)
	}
}

func TestSimplify(t *testing.T) {
	for text, want := range map[string]string{
		"0.8D + 0.2D": "D", "D/8 + D/8": "0.25D", "D/16 + D/16": "D/8", "2 × 3D": "6D", "D - D": "0", "D + 0": "D", "1 × D": "D",
		"2(1.5D + 3)": "3D + 6", "(2D - D)/2": "D/2", "2D/3 + D/3": "D", "D/3 + D/6": "0.5D", "0.5D × 2D": "D²", "D² P/D": "D P", "D/(2P) × 4P": "2D",
		"√(0.64D² - 0.01D²)": "D√0.63", "√(2.25D²)": "1.5D", "√(D³)": "D√D", "(√D)²": "D", "√((2D - D)²)": "D", "√(4/9 D²)": "2D/3",
		"2D cos 60°": "D", "3 - D - 2": "1 - D", "3 - D + 2P": "2P + 3 - D", "-(D - L)": "L - D", "-D - L": "-D - L", "D sin 30° + D/2": "D",
		"(1.5D + 3)/cos 30°": "(1.5D + 3)/cos 30°", "(1.5D + 3)²": "(1.5D + 3)²", "D/(L + 1 + 2)": "D/(L + 3)",
		"max(2, 3) D": "3D", "up(2.34, 0.1) + D": "D + 2.4", "1.2269P - D": "1.2269P - D", "0.1D + 0.2D": "0.3D", "π D/2 + π D/2": "π D",
		"D/7": "D/7", "D × 0.0001": "0.0001D", "D^0.5": "D^0.5", "D^-2": "D^(-2)", "2.5P + 0P ≈ 6.3": "2.5P ≈ 6.3",
	} {
		assert.Equal(t, want, MustParse(text).Simplify().String(), text)
	}
}

func TestInline(t *testing.T) {
	rules := map[string]*Expr{}
	for l, text := range map[string]string{"A": "2D", "W": "1.5D + 3", "R": "0.8D", "i": "0.1D", "d2": "2D", "r": "0.5D", "b": "2D + 6", "p": "0.2D",
		"c": "0.1D", "x": "2.5P ≈ 6.3", "h": "near(D, 5, 6)", "one": "two + 1", "two": "three + 1", "three": "one", "self": "self",
		"q1": "q0 q0 q0 q0", "q2": "q1 q1 q1 q1", "q3": "q2 q2 q2 q2", "q4": "q3 q3 q3 q3", "q5": "q4 q4 q4 q4", "q6": "q5 q5 q5 q5"} {
		rules[l] = MustParse(text)
	}
	resolve := func(l string) *Expr { return rules[l] }
	for text, want := range map[string]string{
		"A cos 30°": "2D cos 30°", "(D + p)/2": "0.6D", "c + 0.5D": "0.6D", "2√(R² - i²)": "2D√0.63", "√((d2/2 + r)² - (D/2 + r)²)": "D√1.25",
		"L - b": "L - 2D - 6", "L - b - x": "L - 2D - x - 6", "L - h": "L - h", "W/cos 30°": "(1.5D + 3)/cos 30°", "tan A": "tan(2D)",
	} {
		e, err := MustParse(text).Inline(resolve)
		require.NoError(t, err)
		assert.Equal(t, want, e.String(), text)
	}
	_, err := MustParse("2 one").Inline(resolve)
	assert.EqualError(t, err, "the rules go round in a circle: one → two → three → one; one of them must use letters that are known before it")
	_, err = MustParse("self").Inline(resolve)
	assert.EqualError(t, err, "the rule of self uses self itself; use letters that are known before it")
	_, err = MustParse("q6").Inline(resolve)
	var se *SizeError
	require.ErrorAs(t, err, &se)
	assert.Equal(t, "the rule is longer than 400 characters with other rules put into it; keep some letters", err.Error())
}
