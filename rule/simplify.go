package rule

import (
	"math/big"
	"unicode/utf8"
)

// Simplify returns the rule worked out as far as letters allow: constants are
// folded, like terms taken together, and what cancels is left out, so that
// 0.8D + 0.2D becomes D. Of what it finds it takes the shortest text. Constants
// stay exact: what is no short decimal number becomes a fraction, and a root
// that does not come out stays a root.
//
// Letters are sizes, taken to be above 0: √(D²) is D, and D/D is 1.
func (e *Expr) Simplify() *Expr {
	s, err := fromTree(simplify(e.tree()))
	if err != nil {
		return e
	}
	return s
}

// Inline puts rules in the place of letters, and rules into those, and
// simplifies what comes out. resolve returns the rule of a letter, or nil for a
// letter that stays. A rule whose value the trade rounds, with ≈ or near, is
// not put into another: its letter stays.
//
// [Expr.Len] and [Expr.Terms] of the result tell whether it is short enough
// for a drawing, and [Expr.Letters] which letters are left. The error is a
// [*CycleError] for rules that go round in a circle, and a [*SizeError] for a
// result of more than 400 characters.
func (e *Expr) Inline(resolve func(letter string) *Expr) (*Expr, error) {
	in := inliner{resolve: resolve, room: 4 * maxNodes}
	root, err := in.node(e.tree())
	if err != nil {
		return nil, err
	}
	return fromTree(simplify(root))
}

type inliner struct {
	resolve func(string) *Expr
	path    []string // letters whose rules are being put in
	room    int      // nodes that may still be made
}

func (in *inliner) node(n *node) (*node, error) {
	if in.room--; in.room < 0 {
		return nil, &SizeError{Limit: maxLength}
	}
	if n.op == opLetter {
		return in.letter(n)
	}
	if len(n.args) == 0 {
		return n, nil
	}
	args := make([]*node, len(n.args))
	for i, a := range n.args {
		b, err := in.node(a)
		if err != nil {
			return nil, err
		}
		args[i] = inTrig(n.op, b)
	}
	return n.with(args), nil
}

func (in *inliner) letter(n *node) (*node, error) {
	e := in.resolve(n.text)
	if e == nil || e.tree().op == opAbout || e.tree().op == opNear {
		return n, nil
	}
	for i, l := range in.path {
		if l == n.text {
			return nil, &CycleError{Letters: append([]string(nil), in.path[i:]...)}
		}
	}
	in.path = append(in.path, n.text)
	defer func() { in.path = in.path[:len(in.path)-1] }()
	return in.node(e.tree())
}

// simplify simplifies the arguments of n, then n, and takes the shortest of n,
// of that and of its sum of products.
func simplify(n *node) *node {
	if len(n.args) == 0 {
		return n
	}
	args := make([]*node, len(n.args))
	for i, a := range n.args {
		args[i] = inTrig(n.op, simplify(a))
	}
	best := n
	kept := fold(n.with(args))
	if length(kept) <= length(best) {
		best = kept
	}
	if kept.op == opAbout {
		return best
	}
	if sum, ok := sumOf(kept); ok {
		if worked, ok := sum.node(); ok && length(worked) <= length(best) {
			best = worked
		}
	}
	return best
}

func length(n *node) int { return utf8.RuneCountInString((&printer{}).print(n)) }

// fold works out functions of numbers whose value is exact.
func fold(n *node) *node {
	for _, a := range n.args {
		if a.op != opNumber {
			return n
		}
	}
	if !n.isCall() && !n.isTrig() && n.op != opArctan {
		return n
	}
	v := evaluator{e: &Expr{}}
	x, err := v.node(n)
	if err != nil || x < 0 {
		return n
	}
	if number, ok := exactNumber(x); ok && len(number.text) <= 8 {
		return number
	}
	return n
}

// Bounds of a sum of products, beyond which nothing is worked out.
const (
	maxTerms    = 24
	maxExponent = 12
)

// A factor is a letter, or whatever is taken as a whole, with its exponent.
type factor struct {
	key      string // its text
	base     *node
	exponent int
}

// A product is a number times factors, which are kept in the order of their
// first appearance.
type product struct {
	number  *big.Rat
	factors []factor
}

// A sum of products. Like ones are one.
type sum []product

// sumOf works n out as a sum of products; it reports false where that would
// grow too long.
func sumOf(n *node) (sum, bool) {
	switch n.op {
	case opNumber:
		if n.deg {
			break
		}
		return sum{{number: rational(n.text)}}.tidy(), true
	case opNeg:
		a, ok := sumOf(n.args[0])
		return a.times(sum{{number: big.NewRat(-1, 1)}}), ok
	case opAdd, opSub, opMul, opDiv:
		return arithmetic(n)
	case opPow:
		if s, ok := powerOf(n); ok {
			return s, true
		}
	case opSqrt:
		if s, ok := rootOf(n); ok {
			return s, true
		}
	}
	return whole(n), true
}

// whole takes n as it is.
func whole(n *node) sum {
	return sum{{number: big.NewRat(1, 1), factors: []factor{{(&printer{}).print(n), n, 1}}}}
}

func arithmetic(n *node) (sum, bool) {
	a, okA := sumOf(n.args[0])
	b, okB := sumOf(n.args[1])
	if !okA || !okB {
		return nil, false
	}
	var s sum
	switch n.op {
	case opAdd:
		s = append(append(s, a...), b...).tidy()
	case opSub:
		s = append(append(s, a...), b.times(sum{{number: big.NewRat(-1, 1)}})...).tidy()
	case opMul:
		if len(a)*len(b) > maxTerms {
			return nil, false
		}
		s = a.times(b)
	case opDiv:
		inverse, ok := b.inverse(n.args[1])
		if !ok {
			return nil, false
		}
		s = a.times(inverse)
	}
	return s, s.inBounds()
}

// inverse returns 1/s. A sum of several terms, which is n, is taken as it is.
func (s sum) inverse(n *node) (sum, bool) {
	if len(s) == 0 {
		return nil, false // by zero
	}
	if len(s) > 1 {
		s = whole(n)
	}
	p := product{number: new(big.Rat).Inv(s[0].number)}
	for _, f := range s[0].factors {
		f.exponent = -f.exponent
		p.factors = append(p.factors, f)
	}
	return sum{p}, true
}

// powerOf works out a small whole power.
func powerOf(n *node) (sum, bool) {
	base, e := n.args[0], n.args[1]
	if base.op == opSqrt && e.text == "2" && e.whole() {
		return sumOf(base.args[0])
	}
	if !e.whole() || len(e.text) > 1 || e.text == "0" {
		return nil, false
	}
	a, ok := sumOf(base)
	if !ok || len(a) > 3 {
		return nil, false
	}
	s := a
	for range int(e.text[0]-'0') - 1 {
		if len(s)*len(a) > maxTerms {
			return nil, false
		}
		s = s.times(a)
	}
	return s, s.inBounds()
}

// rootOf takes what is a square out of a root of one product.
func rootOf(n *node) (sum, bool) {
	a, ok := sumOf(n.args[0])
	if !ok || len(a) != 1 || a[0].number.Sign() < 0 {
		return nil, false
	}
	out, in := product{number: big.NewRat(1, 1)}, product{number: a[0].number}
	if r, ok := squareRoot(a[0].number); ok {
		out.number, in.number = r, big.NewRat(1, 1)
	}
	for _, f := range a[0].factors {
		half := f
		if f.base.op == opLetter || f.base.op == opPi {
			half.exponent = f.exponent / 2
			f.exponent %= 2
		} else {
			half.exponent = 0
		}
		if half.exponent != 0 {
			out.factors = append(out.factors, half)
		}
		if f.exponent != 0 {
			in.factors = append(in.factors, f)
		}
	}
	s := sum{out}.tidy()
	if len(in.factors) == 0 && in.number.Cmp(big.NewRat(1, 1)) == 0 {
		return s, true
	}
	inside, ok := sum{in}.node()
	if !ok {
		return nil, false
	}
	return s.times(whole(&node{op: opSqrt, args: []*node{inside}})), true
}

// squareRoot returns the root of r if it is a fraction of whole numbers.
func squareRoot(r *big.Rat) (*big.Rat, bool) {
	p, q := new(big.Int).Sqrt(r.Num()), new(big.Int).Sqrt(r.Denom())
	s := new(big.Rat).SetFrac(p, q)
	return s, new(big.Rat).Mul(s, s).Cmp(r) == 0
}

func (s sum) times(t sum) sum {
	var out sum
	for _, a := range s {
		for _, b := range t {
			p := product{number: new(big.Rat).Mul(a.number, b.number), factors: append([]factor(nil), a.factors...)}
			for _, f := range b.factors {
				p.multiply(f)
			}
			out = append(out, p)
		}
	}
	return out.tidy()
}

func (p *product) multiply(f factor) {
	for i := range p.factors {
		if p.factors[i].key != f.key {
			continue
		}
		if p.factors[i].exponent += f.exponent; p.factors[i].exponent == 0 {
			p.factors = append(p.factors[:i], p.factors[i+1:]...)
		}
		return
	}
	p.factors = append(p.factors, f)
}

// tidy takes like products together and leaves out those that are 0.
func (s sum) tidy() sum {
	var out sum
next:
	for _, p := range s {
		for i := range out {
			if alike(out[i], p) {
				out[i].number = new(big.Rat).Add(out[i].number, p.number)
				continue next
			}
		}
		out = append(out, p)
	}
	kept := out[:0]
	for _, p := range out {
		if p.number.Sign() != 0 {
			kept = append(kept, p)
		}
	}
	return kept
}

// alike reports whether two products have the same factors.
func alike(a, b product) bool {
	if len(a.factors) != len(b.factors) {
		return false
	}
	for _, f := range a.factors {
		found := false
		for _, g := range b.factors {
			found = found || f.key == g.key && f.exponent == g.exponent
		}
		if !found {
			return false
		}
	}
	return true
}

func (s sum) inBounds() bool {
	if len(s) > maxTerms {
		return false
	}
	for _, p := range s {
		if p.number.Num().BitLen() > 200 || p.number.Denom().BitLen() > 200 {
			return false
		}
		for _, f := range p.factors {
			if f.exponent > maxExponent || f.exponent < -maxExponent {
				return false
			}
		}
	}
	return true
}
