package rule

import (
	"math"
	"math/big"
	"strconv"
	"strings"
)

// Format says how numbers are written. The zero value writes three decimals at
// most, with a decimal point.
type Format struct {
	Decimals int  // at most so many, without closing zeros; 0 stands for 3, a negative number for none
	Comma    bool // a decimal comma
}

// mostDecimals is where a float64 of the size of fasteners ends.
const mostDecimals = 12

func (f Format) decimals() int {
	switch {
	case f.Decimals == 0:
		return 3
	case f.Decimals < 0:
		return 0
	}
	return min(f.Decimals, mostDecimals)
}

// Number writes x. It rounds as one does on paper, halves away from zero: what
// prints as 1.005 becomes 1.01 with two decimals, although the binary number
// nearest to it lies below. Negative zero is 0.
func (f Format) Number(x float64) string {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return strconv.FormatFloat(x, 'g', -1, 64)
	}
	s := roundDecimal(strconv.FormatFloat(x, 'f', -1, 64), f.decimals())
	if f.Comma {
		s = strings.Replace(s, ".", ",", 1)
	}
	return s
}

// roundDecimal rounds a decimal number in text, halves away from zero, and
// leaves closing zeros out.
func roundDecimal(s string, decimals int) string {
	whole, part, _ := strings.Cut(s, ".")
	if len(part) > decimals {
		up := part[decimals] >= '5'
		part = part[:decimals]
		if up {
			whole, part = increment(whole, part)
		}
	}
	part = strings.TrimRight(part, "0")
	switch {
	case part != "":
		return whole + "." + part
	case whole == "-0":
		return "0"
	}
	return whole
}

// increment adds one unit in the last place of the number whole.part, away
// from zero.
func increment(whole, part string) (string, string) {
	digits := []byte(whole + part)
	i := len(digits) - 1
	for ; i >= 0 && digits[i] == '9'; i-- {
		digits[i] = '0'
	}
	split := len(whole)
	if i < 0 || digits[i] == '-' {
		digits = append(digits[:i+1], append([]byte{'1'}, digits[i+1:]...)...)
		split++
	} else {
		digits[i]++
	}
	return string(digits[:split]), string(digits[split:])
}

// rational reads a number with a decimal point, as it stands in a rule.
func rational(text string) *big.Rat {
	r, ok := new(big.Rat).SetString(text)
	if !ok {
		return new(big.Rat)
	}
	return r
}

// decimalText writes r exactly in at most that many decimals, if it can be.
func decimalText(r *big.Rat, decimals int) (string, bool) {
	places, exact := r.FloatPrec()
	if !exact || places > decimals {
		return "", false
	}
	return r.FloatString(places), true
}
