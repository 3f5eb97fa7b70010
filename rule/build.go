package rule

import (
	"math/big"
	"slices"
	"strconv"
)

// node writes the sum as a tree: first what is added, constants last. It
// reports false where a number is too long to be written exactly.
func (s sum) node() (*node, bool) {
	ordered := slices.Clone(s)
	slices.SortStableFunc(ordered, func(a, b product) int { return a.rank() - b.rank() })
	var out *node
	for _, p := range ordered {
		n, ok := p.node()
		switch {
		case !ok:
			return nil, false
		case out == nil && p.number.Sign() < 0:
			out = &node{op: opNeg, args: []*node{n}}
		case out == nil:
			out = n
		case p.number.Sign() < 0:
			out = &node{op: opSub, args: []*node{out, n}}
		default:
			out = &node{op: opAdd, args: []*node{out, n}}
		}
	}
	if out == nil {
		return count(0), true
	}
	return out, true
}

// rank orders the products of a sum: with letters, then constants; of each
// first those that are added.
func (p product) rank() int {
	rank := 0
	if len(p.factors) == 0 {
		rank = 1
	}
	if p.number.Sign() < 0 {
		rank += 2
	}
	return rank
}

// node writes the size of the product as a tree, without its sign.
func (p product) node() (*node, bool) {
	number := new(big.Rat).Abs(p.number)
	above, below, ok := coefficient(number)
	if !ok {
		return nil, false
	}
	factors := slices.Clone(p.factors)
	slices.SortStableFunc(factors, func(a, b factor) int { return a.rank() - b.rank() })
	for _, f := range factors {
		if f.exponent > 0 {
			above = multiply(above, raised(f.base, f.exponent))
		} else {
			below = multiply(below, raised(f.base, -f.exponent))
		}
	}
	if above == nil {
		above = count(1)
	}
	if below != nil {
		return &node{op: opDiv, args: []*node{above, below}}, true
	}
	return above, true
}

// rank orders the factors of a product, so that what needs no sign before it
// comes last: π, letters, what is in parentheses, functions, roots.
func (f factor) rank() int {
	switch f.base.op {
	case opPi:
		return 0
	case opLetter:
		return 1
	case opSin, opCos, opTan:
		return 3
	case opSqrt:
		return 4
	}
	return 2
}

// coefficient writes a number as one above a line and one below it; each is
// nil for 1. A decimal number of two places is liked best, then a fraction of
// small numbers, as D/8, then a longer decimal number.
func coefficient(r *big.Rat) (above, below *node, ok bool) {
	const small = 16
	places := 9
	if r.Num().Cmp(big.NewInt(99)) <= 0 && r.Denom().Cmp(big.NewInt(small)) <= 0 {
		places = 2
	}
	if text, fits := decimalText(r, places); fits {
		return decimal(text), nil, significant(text) <= maxDigits
	}
	above, below = decimal(r.Num().String()), decimal(r.Denom().String())
	return above, below, len(r.Num().String()) <= maxDigits && len(r.Denom().String()) <= maxDigits
}

// decimal returns the node of a number without a sign, or nil for 1.
func decimal(text string) *node {
	if text = tidyNumber(text); text == "1" {
		return nil
	}
	x, _ := strconv.ParseFloat(text, 64)
	return &node{op: opNumber, num: x, text: text}
}

func count(n int) *node {
	return &node{op: opNumber, num: float64(n), text: strconv.Itoa(n)}
}

func raised(n *node, exponent int) *node {
	if exponent == 1 {
		return n
	}
	return &node{op: opPow, args: []*node{n, count(exponent)}}
}

func multiply(a, b *node) *node {
	if a == nil {
		return b
	}
	return &node{op: opMul, args: []*node{a, b}}
}
