package fastener_test

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/thread"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// evalText works out the text of a rule by other means than package rule: by two
// stacks, one of values and one of what waits for its right operand.
func evalText(text string, value func(string) (float64, bool)) (float64, error) {
	exact, rounded, isRounded := strings.Cut(text, " ≈ ")
	s := stacks{letters: value}
	for _, token := range regexp.MustCompile(`[A-Za-z][A-Za-z0-9]*|[0-9.]+|\S`).FindAllString(strings.ReplaceAll(exact, "°", ""), -1) {
		s.take(token)
	}
	s.work(0)
	if s.err != nil || len(s.values) != 1 {
		return 0, fmt.Errorf("%s: %v, %v", text, s.values, s.err)
	}
	if !isRounded {
		return s.values[0], nil
	}
	r, err := strconv.ParseFloat(rounded, 64)
	if err == nil && math.Abs(s.values[0]-r) > r/8 {
		err = fmt.Errorf("%s is %g", text, s.values[0])
	}
	return r, err
}

type stacks struct {
	letters func(string) (float64, bool)
	values  []float64
	waiting []string
	operand bool // a value came last, so that another one is a factor
	err     error
}

// binding is how tightly what waits holds on to its operands. A parenthesis
// holds on until it is closed.
func binding(op string) int {
	switch op {
	case "(":
		return 0
	case "+", "-":
		return 1
	case "×", "/":
		return 2
	}
	return 3 // a function
}

func (s *stacks) take(token string) {
	switch token {
	case "+", "-", "×", "/":
		s.work(binding(token))
		s.waiting, s.operand = append(s.waiting, token), false
	case ")":
		s.work(1)
		s.waiting = s.waiting[:len(s.waiting)-1]
		s.work(3) // a function before the parenthesis
	case "²":
		s.values[len(s.values)-1] *= s.values[len(s.values)-1]
	case "(", "√", "sin", "cos", "tan", "arctan":
		s.factor()
		s.waiting, s.operand = append(s.waiting, token), false
	default:
		s.factor()
		v, err := strconv.ParseFloat(token, 64)
		if err != nil {
			var ok bool
			if v, ok = s.letters(token); !ok && s.err == nil {
				s.err = fmt.Errorf("no letter %s", token)
			}
		}
		s.values, s.operand = append(s.values, v), true
		s.work(3)
	}
}

// factor puts a sign between factors that stand side by side.
func (s *stacks) factor() {
	if s.operand {
		s.take("×")
	}
}

// work works out what waits and binds at least so tightly.
func (s *stacks) work(least int) {
	for n := len(s.waiting) - 1; n >= 0 && binding(s.waiting[n]) >= max(least, 1); n-- {
		op, last := s.waiting[n], len(s.values)-1
		s.waiting = s.waiting[:n]
		if last < 0 || last == 0 && binding(op) < 3 {
			s.err = fmt.Errorf("%s has no operand", op)
			return
		}
		b := s.values[last]
		if binding(op) < 3 {
			s.values = s.values[:last]
			last--
		}
		a := &s.values[last]
		switch op {
		case "+":
			*a += b
		case "-":
			*a -= b
		case "×":
			*a *= b
		case "/":
			*a /= b
		case "√":
			*a = math.Sqrt(b)
		case "sin":
			*a = math.Sin(b / 180 * math.Pi)
		case "cos":
			*a = math.Cos(b / 180 * math.Pi)
		case "tan":
			*a = math.Tan(b / 180 * math.Pi)
		case "arctan":
			*a = math.Atan(b) / math.Pi * 180
		}
	}
}

func TestTheOtherEvaluator(t *testing.T) {
	letters := map[string]float64{"D": 20, "R": 5, "i": 3, "C": 0.5, "Lt": 8, "a": 45, "d2": 30}
	for text, want := range map[string]float64{
		"2D": 40, "2/3 D": 40. / 3, "D cos 60°": 10, "D/cos 60°": 40, "2√(R² - i²)": 8, "d2 - C Lt": 26,
		"2 arctan(2C)": 90, "(D²/16 + i²)/(2i)": 34. / 6,
		"D + (d2 - D)/(2 tan 45°)": 25, "(d2 - D)/2 × tan a": 5, "√(R + (D - 9))": 4, "D - R - i": 12,
		"2.4D ≈ 50": 50, "D√25": 100,
	} {
		got, err := evalText(text, func(l string) (float64, bool) { v, ok := letters[l]; return v, ok })
		require.NoError(t, err, text)
		assert.InDelta(t, want, got, 1e-9, text)
	}
	for _, text := range []string{"2E", "D ≈ 30", "D +"} {
		_, err := evalText(text, func(l string) (float64, bool) { v, ok := letters[l]; return v, ok })
		assert.Error(t, err, text)
	}
}

// TestEveryRuleTextGivesItsValue: the text of every rule, worked out by package
// rule and by another evaluator, gives the value that is printed beside it, to
// its last digit: for every kind with every choice of its words, on both bases,
// in all sizes that are held.
func TestEveryRuleTextGivesItsValue(t *testing.T) {
	const decimals = 6 // as many as the command prints for programs
	checked, kinds := 0, map[string]bool{}
	for _, d := range thread.Sizes() {
		for _, p := range thread.Pitches(d) {
			if testing.Short() && p.P != coarse(t, d).P {
				continue
			}
			th, err := thread.New(d, p.P)
			require.NoError(t, err)
			for _, k := range []float64{1.6, 2.5, 4, 7, 12} {
				for _, basis := range []fastener.Basis{fastener.Proportion, fastener.Standard} {
					for _, f := range specimensWith(th, d*k, basis) {
						qs, err := f.Quantities()
						require.NoError(t, err)
						checked += checkTexts(t, f, qs, decimals)
						kinds[f.Kind()] = true
					}
				}
			}
		}
	}
	t.Log(checked, "rules")
	assert.Len(t, kinds, len(fastener.Kinds()))
}

func checkTexts(t *testing.T, f fastener.Fastener, qs []drawing.Quantity, decimals int) (n int) {
	t.Helper()
	value := func(letter string) (float64, bool) {
		for _, q := range qs {
			if q.Letter == letter {
				return q.Value, true
			}
		}
		return 0, false
	}
	printed := func(v float64) string { return strconv.FormatFloat(v, 'f', decimals, 64) }
	for _, q := range qs {
		if q.Rule == nil {
			continue
		}
		n++
		got, err := q.Rule.Eval(value)
		other, err2 := evalText(q.Rule.String(), value)
		if err != nil || err2 != nil || printed(got) != printed(q.Value) || math.Abs(other-q.Value) > 1e-9 {
			t.Errorf("%s: %s = %s: %s, by package rule %g (%v), by the other evaluator %g (%v)",
				f.Designation(), q.Letter, q.Rule, printed(q.Value), got, err, other, err2)
		}
	}
	return n
}
