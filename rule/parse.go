package rule

import "strconv"

// Parser reads rules. The zero value has the rules of [Parse].
type Parser struct {
	// Letters are the letters that are known. With them a letter that is not
	// among them is a [*LetterError], and letters may stand side by side without
	// a blank where they can be told apart: with D and P known, 2DP is 2 × D × P.
	// Where Letters is nil any letter will do.
	Letters []string
}

// Parse reads a rule in which any letter may be used. The grammar is in the
// comment of the package. The error is a [*SyntaxError].
func Parse(s string) (*Expr, error) { return Parser{}.Parse(s) }

// MustParse is [Parse] for literals in programs and tests: it panics on an
// error.
func MustParse(s string) *Expr {
	e, err := Parse(s)
	if err != nil {
		panic("rule: MustParse: " + err.Error())
	}
	return e
}

// Parse reads a rule. The error is a [*SyntaxError], or a [*LetterError] for a
// letter that is not known.
func (p Parser) Parse(s string) (*Expr, error) {
	tokens, err := scan(s)
	if err != nil {
		return nil, err
	}
	if tokens, err = newVocabulary(s, p.Letters).words(tokens); err != nil {
		return nil, err
	}
	r := &reader{input: s, tokens: tokens}
	root, err := r.top()
	if err != nil {
		return nil, err
	}
	return newExpr(s, root), nil
}

// reader makes a tree out of tokens, from left to right.
type reader struct {
	input  string
	tokens []token
	i      int
	depth  int
	nodes  int
	last   shape // of the factor before
}

// A shape is how a factor was written, which says what may follow it.
type shape uint8

const (
	plain      shape = iota // a number, a letter, or in parentheses
	cross                   // the letter x, which many write for a sign of multiplication
	function                // a function with its operand in parentheses
	openRoot                // √ of a number or a letter
	openAngle               // sin, cos or tan of a number or a letter
	openDegree              // the same of an angle with a degree sign, where it ends
)

func (r *reader) peek() token { return r.tokens[r.i] }

// take takes the next token if it is that sign.
func (r *reader) take(sign string) bool {
	if t := r.peek(); t.kind == tokenSign && t.text == sign {
		r.i++
		return true
	}
	return false
}

func (r *reader) fail(want string) error { return r.failAt(r.peek(), want) }

func (r *reader) failAt(t token, want string) error {
	return &SyntaxError{Input: r.input, Column: t.col, Found: t.text, Want: want}
}

func (r *reader) node(o op, col int, args ...*node) *node {
	r.nodes++
	return &node{op: o, args: args, col: col}
}

// top reads the whole text: a sum, and perhaps what the trade rounds it to.
func (r *reader) top() (*node, error) {
	n, err := r.sum()
	if err != nil {
		return nil, err
	}
	if about := r.peek(); r.take("≈") {
		t := r.peek()
		if t.kind != tokenNumber {
			return nil, r.fail("the number that the trade rounds it to")
		}
		n = r.node(opAbout, about.col, n, r.number())
	}
	if r.peek().kind != tokenEnd {
		return nil, r.fail("+, -, ×, / or the end")
	}
	if r.nodes > maxNodes {
		return nil, r.failAt(r.tokens[0], "no more than "+strconv.Itoa(maxNodes)+" steps")
	}
	return n, nil
}

// sum reads terms with + and - between them, and a minus before the first.
func (r *reader) sum() (*node, error) {
	if r.depth++; r.depth > maxDepth {
		return nil, r.fail("no more than " + strconv.Itoa(maxDepth) + " parentheses in each other")
	}
	defer func() { r.depth-- }()
	minus := r.peek()
	negative := r.take("-")
	n, err := r.term()
	if err != nil {
		return nil, err
	}
	if negative {
		n = r.node(opNeg, minus.col, n)
	}
	for {
		t := r.peek()
		o := opAdd
		switch {
		case r.take("+"):
		case r.take("-"):
			o = opSub
		default:
			return n, nil
		}
		right, err := r.term()
		if err != nil {
			return nil, err
		}
		n = r.node(o, t.col, n, right)
	}
}

// term reads factors with × and / between them, or with nothing.
func (r *reader) term() (*node, error) {
	n, err := r.power()
	if err != nil {
		return nil, err
	}
	last := n // the factor before
	for {
		t := r.peek()
		o := opMul
		switch {
		case r.take("×"):
		case r.take("/"):
			o = opDiv
		case r.begins():
			if err := r.sideBySide(n, last); err != nil {
				return nil, err
			}
		default:
			return n, nil
		}
		if last, err = r.power(); err != nil {
			return nil, err
		}
		n = r.node(o, t.col, n, last)
	}
}

// begins reports whether the next token begins a factor.
func (r *reader) begins() bool {
	t := r.peek()
	return t.kind != tokenEnd && (t.kind != tokenSign || t.text == "(")
}

// sideBySide reports what keeps the next factor from being multiplied with the
// term n without a sign. last is the factor before it.
func (r *reader) sideBySide(n, last *node) error {
	t := r.peek()
	switch {
	case t.kind == tokenNumber:
		return r.fail("a sign before the number: ×, /, + or -")
	case r.last == cross:
		return r.fail("a sign behind " + last.text + ", which may be a letter here; for times write × or *")
	case n.op == opDiv && n.args[1] == last && !n.fraction():
		return r.fail("× or parentheses, to say what the division ends with: a/(b c) or a/b × c")
	case (r.last == openRoot || r.last == openAngle) && t.kind != tokenFunc:
		return r.fail("× or parentheses, to say what " + opNames[last.op] + " is taken of")
	}
	return nil
}

// power reads a factor with its exponent.
func (r *reader) power() (*node, error) {
	n, err := r.primary()
	if err != nil {
		return nil, err
	}
	open := n.isBareFunc() && r.last != plain
	t := r.peek()
	var exponent *node
	switch {
	case r.take("²"):
		exponent = &node{op: opNumber, num: 2, text: "2", col: t.col}
	case r.take("³"):
		exponent = &node{op: opNumber, num: 3, text: "3", col: t.col}
	case r.take("^"):
		if exponent, err = r.exponent(); err != nil {
			return nil, err
		}
	default:
		return n, nil
	}
	if open {
		return nil, r.failAt(t, "parentheses that say what the power is of, as (cos a)² or cos(a²)")
	}
	n = r.node(opPow, t.col, n, exponent)
	r.last = plain
	if again := r.peek(); r.take("²") || r.take("³") || r.take("^") {
		return nil, r.failAt(again, "parentheses between two exponents")
	}
	return n, nil
}

func (r *reader) exponent() (*node, error) {
	minus := r.peek()
	negative := r.take("-")
	switch t := r.peek(); {
	case t.kind == tokenNumber, t.kind == tokenLetter, t.kind == tokenPi, t.kind == tokenSign && t.text == "(":
	default:
		return nil, r.fail("an exponent: a number, a letter or parentheses")
	}
	n, err := r.primary()
	if err == nil && negative {
		n = r.node(opNeg, minus.col, n)
	}
	return n, err
}

// primary reads a number, a letter, something in parentheses or a function.
func (r *reader) primary() (*node, error) {
	t := r.peek()
	r.last = plain
	switch {
	case t.kind == tokenNumber:
		return r.number(), nil
	case t.kind == tokenLetter:
		r.i++
		n := r.node(opLetter, t.col)
		if n.text = t.text; n.times() {
			r.last = cross
		}
		return n, nil
	case t.kind == tokenPi:
		r.i++
		return r.node(opPi, t.col), nil
	case t.kind == tokenFunc:
		return r.function()
	case t.kind == tokenCall:
		return r.call()
	case r.take("("):
		return r.inside(t)
	case t.kind == tokenSign && t.text == "-":
		return nil, r.fail("a number or a letter; put a negative one in parentheses")
	}
	return nil, r.fail("a number, a letter, √, a function or a parenthesis")
}

func (r *reader) number() *node {
	t := r.peek()
	r.i++
	n := r.node(opNumber, t.col)
	n.text = t.text
	n.num, _ = strconv.ParseFloat(t.text, 64)
	n.deg = r.take("°")
	return n
}

// inside reads a sum and the parenthesis that closes it.
func (r *reader) inside(open token) (*node, error) {
	n, err := r.sum()
	if err != nil {
		return nil, err
	}
	if !r.take(")") {
		return nil, r.fail("+, -, ×, / or the parenthesis that closes that of column " + strconv.Itoa(open.col))
	}
	r.last = plain
	return n, nil
}

// function reads √, sin, cos or tan with its operand.
func (r *reader) function() (*node, error) {
	t := r.peek()
	r.i++
	n := r.node(bareFuncs[t.text], t.col)
	next := r.peek()
	var arg *node
	var err error
	switch {
	case r.take("("):
		arg, err = r.inside(next)
	case next.kind == tokenNumber, next.kind == tokenLetter, next.kind == tokenPi:
		arg, err = r.primary()
	case next.text == "²" || next.text == "³" || next.text == "^":
		err = r.fail("the operand first, as (" + t.text + " a)²")
	default:
		err = r.fail("a number, a letter or parentheses behind " + t.text)
	}
	if err != nil {
		return nil, err
	}
	n.args = []*node{inTrig(n.op, arg)}
	switch {
	case next.text == "(":
		r.last = function
	case n.op == opSqrt:
		r.last = openRoot
	case arg.deg:
		r.last = openDegree
	default:
		r.last = openAngle
	}
	return n, nil
}

// call reads a function with its arguments in parentheses.
func (r *reader) call() (*node, error) {
	t := r.peek()
	c := calls[t.text]
	r.i++
	n := r.node(c.op, t.col)
	open := r.peek()
	if !r.take("(") {
		return nil, r.fail("a parenthesis behind " + t.text + ", with " + c.want)
	}
	for {
		arg, err := r.sum()
		if err != nil {
			return nil, err
		}
		n.args = append(n.args, arg)
		if r.take(",") {
			continue
		}
		if r.last = plain; !r.take(")") {
			return nil, r.fail("+, -, ×, /, a comma or the parenthesis that closes that of column " + strconv.Itoa(open.col))
		}
		break
	}
	if len(n.args) < c.least || len(n.args) > c.most || c.op == opUpTo && len(n.args)%2 != 0 {
		return nil, r.failAt(t, c.want)
	}
	return n, nil
}
