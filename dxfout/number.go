package dxfout

import (
	"math"
	"strconv"
)

// decimals is how many decimals a number has at most: 1e-8 mm, and as an angle
// 1e-7 mm at a radius of half a metre.
const decimals = 8

// maxNumber is the largest coordinate that is written. Readers store fewer
// digits than such a number would need.
const maxNumber = 1e12

// finite reports whether v can be written.
func finite(v float64) bool { return math.Abs(v) <= maxNumber }

const digitPairs = "00010203040506070809" +
	"10111213141516171819" +
	"20212223242526272829" +
	"30313233343536373839" +
	"40414243444546474849" +
	"50515253545556575859" +
	"60616263646566676869" +
	"70717273747576777879" +
	"80818283848586878889" +
	"90919293949596979899"

// appendNumber is the one function that turns a number into text: fixed
// decimals, no exponent, no trailing zeros but always a decimal, no -0. v is
// finite.
func appendNumber(b []byte, v float64) []byte {
	u := math.Abs(v)
	if !(u < 1e7) {
		return appendLarge(b, v)
	}
	n := uint64(u*1e8 + 0.5) // below 2^53: exact
	if n == 0 {
		return append(b, "0.0"...)
	}
	if v < 0 {
		b = append(b, '-')
	}
	whole, part := n/1e8, uint32(n%1e8)
	if whole < 10 {
		b = append(b, '0'+byte(whole))
	} else {
		b = strconv.AppendUint(b, whole, 10)
	}
	if part == 0 {
		return append(b, ".0"...)
	}
	return appendFraction(b, part)
}

// appendFraction appends the decimals of part / 1e8, which is not 0.
func appendFraction(b []byte, part uint32) []byte {
	b = append(b, '.')
	hi, lo := part/1e4, part%1e4
	b = appendPair(b, hi/100)
	if hi%100 != 0 || lo != 0 {
		b = appendPair(b, hi%100)
		if lo != 0 {
			b = appendPair(b, lo/100)
			if lo%100 != 0 {
				b = appendPair(b, lo%100)
			}
		}
	}
	if b[len(b)-1] == '0' {
		b = b[:len(b)-1]
	}
	return b
}

func appendPair(b []byte, n uint32) []byte {
	return append(b, digitPairs[2*n], digitPairs[2*n+1])
}

func appendLarge(b []byte, v float64) []byte {
	b = strconv.AppendFloat(b, v, 'f', decimals, 64)
	for b[len(b)-1] == '0' && b[len(b)-2] != '.' {
		b = b[:len(b)-1]
	}
	return b
}

// appendHandle appends a handle: hexadecimal, upper case.
func appendHandle(b []byte, h uint64) []byte {
	shift := 0
	for h>>shift > 15 {
		shift += 4
	}
	for ; shift >= 0; shift -= 4 {
		b = append(b, "0123456789ABCDEF"[h>>shift&15])
	}
	return b
}
