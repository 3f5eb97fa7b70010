package rule

import (
	"math"
	"strconv"
	"strings"
)

// About returns the rule with what the trade rounds it to behind it, as
// "2.5P ≈ 6.3", whose value is 6.3. The error is a [*ValueError] for a number
// that is negative, not finite or of more than twelve decimals.
func (e *Expr) About(v float64) (*Expr, error) {
	inner := e.tree()
	if inner.op == opAbout {
		inner = inner.args[0]
	}
	n, ok := exactNumber(v)
	if !ok {
		return nil, &ValueError{Rule: e.input, Column: 1, Step: "≈", Value: v, Want: "a number of 0 or more with twelve decimals at most"}
	}
	return fromTree(&node{op: opAbout, args: []*node{inner, n}})
}

// exactNumber returns the node of a number whose text says all of it.
func exactNumber(v float64) (*node, bool) {
	text := Format{Decimals: mostDecimals}.Number(v)
	if !(v >= 0) || math.IsInf(v, 0) || significant(text) > maxDigits {
		return nil, false
	}
	return &node{op: opNumber, num: v, text: text}, true
}

// Choose returns the rule as it holds for these letters: of upto the branch
// that holds, and for near at the top what it came to, as "2.5P ≈ 6.3". A rule
// without them is returned as it is. That is the text for a drawing of one
// size. Errors are those of [Expr.Eval].
func (e *Expr) Choose(get func(letter string) (float64, bool)) (*Expr, error) {
	if _, err := e.Eval(get); err != nil {
		return nil, err
	}
	v := &evaluator{e, get}
	root, err := v.choose(e.tree())
	if err != nil {
		return nil, err
	}
	if root.op == opNear {
		if root, err = v.chooseNear(root); err != nil {
			return nil, err
		}
	}
	if root == e.root {
		return e, nil
	}
	return fromTree(root)
}

// choose replaces each upto by the branch that holds.
func (v *evaluator) choose(n *node) (*node, error) {
	if n.op == opUpTo {
		branch, err := v.branch(n)
		if err != nil {
			return nil, err
		}
		return v.choose(branch)
	}
	args := n.args
	for i, a := range n.args {
		c, err := v.choose(a)
		if err != nil {
			return nil, err
		}
		if c != a {
			args = append(append(append([]*node{}, args[:i]...), inTrig(n.op, c)), args[i+1:]...)
		}
	}
	if len(args) == 0 || &args[0] == &n.args[0] {
		return n, nil
	}
	return n.with(args), nil
}

// chooseNear turns near into what it came to, if that reads as a rounding.
func (v *evaluator) chooseNear(n *node) (*node, error) {
	x, err := v.node(n.args[0])
	if err != nil {
		return nil, err
	}
	best, err := v.node(n)
	if err != nil {
		return nil, err
	}
	number, ok := exactNumber(best)
	switch {
	case x == best:
		return n.args[0], nil
	case !ok || !about(x, best):
		return n, nil
	}
	return &node{op: opAbout, args: []*node{n.args[0], number}}, nil
}

// A Working shows how a size is worked out, as a chain of what is equal:
// letter, rule, rule with numbers, value.
type Working struct {
	Steps   []string // "A", "2D", "2 × 20", "40 mm"
	Rounded bool     // the last is the trade's rounding of the one before
}

// String joins the steps: "A = 2D = 2 × 20 = 40 mm".
func (w Working) String() string {
	last := len(w.Steps) - 1
	if w.Rounded && last > 0 {
		return strings.Join(w.Steps[:last], " = ") + " ≈ " + w.Steps[last]
	}
	return strings.Join(w.Steps, " = ")
}

// Working puts the values of the letters into the rule. letter is what the rule
// makes and may be ""; unit stands behind the value, "mm" or "°", and may be "".
//
// What is printed is true as printed: the numbers have as many decimals as it
// takes for the printed arithmetic to give the printed value. A step that
// would repeat the one beside it is left out. The rule is that of
// [Expr.Choose]. Errors are those of [Expr.Eval].
func (e *Expr) Working(letter, unit string, get func(letter string) (float64, bool), f Format) (Working, error) {
	e, err := e.Choose(get)
	if err != nil {
		return Working{}, err
	}
	value, err := e.Eval(get)
	if err != nil {
		return Working{}, err
	}
	body := e.tree()
	var w Working
	if body.op == opAbout {
		body, w.Rounded = body.args[0], true
	}
	v := &evaluator{e, get}
	exact, err := v.node(body)
	if err != nil {
		return Working{}, err
	}
	put := &printer{comma: f.Comma}
	steps := []string{letter, (&printer{comma: f.Comma}).print(body), put.print(v.put(body, f, f.Number(exact))), f.Number(exact)}
	if w.Rounded {
		steps = append(steps, f.Number(value))
	}
	w.Rounded = w.Rounded && f.Number(exact) != f.Number(value)
	w.Steps = withoutRepeats(steps)
	w.Steps[len(w.Steps)-1] = withUnit(w.Steps[len(w.Steps)-1], unit)
	return w, nil
}

func withoutRepeats(steps []string) []string {
	var out []string
	for _, s := range steps {
		switch {
		case s == "":
		case len(out) > 0 && strings.TrimSuffix(out[len(out)-1], "°") == strings.TrimSuffix(s, "°"):
			out[len(out)-1] = s
		default:
			out = append(out, s)
		}
	}
	return out
}

func withUnit(value, unit string) string {
	switch unit {
	case "":
		return value
	case "°":
		return strings.TrimSuffix(value, "°") + unit
	}
	return value + " " + unit
}

// put returns n with numbers for letters, of so many decimals that what is
// printed works out to want.
func (v *evaluator) put(n *node, f Format, want string) *node {
	for d := f.decimals(); ; d++ {
		with := v.putAt(n, d)
		x, err := (&evaluator{e: v.e}).node(with)
		if err == nil && f.Number(x) == want || d >= maxDigits {
			return with
		}
	}
}

func (v *evaluator) putAt(n *node, decimals int) *node {
	if n.op == opLetter {
		x, _ := v.get(n.text)
		return numberNode(x, decimals)
	}
	if len(n.args) == 0 {
		return n
	}
	args := make([]*node, len(n.args))
	for i, a := range n.args {
		args[i] = inTrig(n.op, v.putAt(a, decimals))
	}
	return n.with(args)
}

// numberNode returns the node of a number that is rounded so, and to as many
// digits as can be read back.
func numberNode(x float64, decimals int) *node {
	text := strconv.FormatFloat(math.Abs(x), 'f', -1, 64)
	whole, _, _ := strings.Cut(text, ".")
	text = roundDecimal(text, max(min(decimals, maxDigits-len(whole)), 0))
	r, _ := rational(text).Float64()
	n := &node{op: opNumber, num: r, text: text}
	if x < 0 && r != 0 {
		return &node{op: opNeg, args: []*node{n}}
	}
	return n
}
