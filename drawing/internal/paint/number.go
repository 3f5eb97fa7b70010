package paint

import "strconv"

// AppendNumber is the one function that turns a number of a picture into
// text: at most the given number of decimals, no exponent, no trailing zeros,
// no -0. v is finite.
func AppendNumber(b []byte, v float64, decimals int) []byte {
	start := len(b)
	b = strconv.AppendFloat(b, v, 'f', decimals, 64)
	for b[len(b)-1] == '0' && decimals > 0 {
		b = b[:len(b)-1]
	}
	if b[len(b)-1] == '.' {
		b = b[:len(b)-1]
	}
	if string(b[start:]) == "-0" {
		b = append(b[:start], '0')
	}
	return b
}
