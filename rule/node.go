package rule

// An op is what a node does with its arguments.
type op uint8

const (
	opNumber op = iota
	opLetter
	opPi
	opNeg
	opAdd
	opSub
	opMul
	opDiv
	opPow
	opSqrt
	opSin
	opCos
	opTan
	opMin
	opMax
	opUp
	opDown
	opRound
	opNear
	opUpTo
	opAbout // the trade's rounding; only at the top
)

// bareFuncs take one operand, which needs no parentheses if it is a number or
// a letter.
var bareFuncs = map[string]op{"sqrt": opSqrt, "√": opSqrt, "sin": opSin, "cos": opCos, "tan": opTan}

// A call is a function whose arguments stand in parentheses.
type call struct {
	op    op
	least int    // arguments
	most  int    // arguments
	want  string // for a message
}

var calls = map[string]call{
	"min":   {opMin, 2, maxNodes, "two values or more, as min(2D, 30)"},
	"max":   {opMax, 2, maxNodes, "two values or more, as max(0.1D, 2)"},
	"up":    {opUp, 2, 2, "a value and a step, as up(2.5P, 0.1)"},
	"down":  {opDown, 2, 2, "a value and a step, as down(2.5P, 0.1)"},
	"round": {opRound, 2, 2, "a value and a step, as round(2.5P, 0.1)"},
	"near":  {opNear, 3, maxNodes, "a value and two preferred values or more, as near(2.5P, 5, 6.3, 7.5)"},
	"upto":  {opUpTo, 4, maxNodes, "a value, then bounds with what holds up to them, then what holds beyond, as upto(L, 125, 2D + 6, 2D + 12)"},
}

var opNames = [...]string{
	opSqrt: "√", opSin: "sin", opCos: "cos", opTan: "tan",
	opMin: "min", opMax: "max", opUp: "up", opDown: "down", opRound: "round", opNear: "near", opUpTo: "upto",
	opAdd: "sum", opSub: "difference", opMul: "product", opDiv: "division", opPow: "power", opNeg: "negative", opAbout: "≈",
}

// A node is a step of a rule. Nodes are not changed once they are made, so
// that rules can share them.
type node struct {
	op   op
	args []*node
	num  float64 // of a number
	text string  // a letter, or a number with a decimal point
	deg  bool    // of a number: written with a degree sign
	col  int     // in the text that was read, counted from 1
}

func (n *node) isTrig() bool { return n.op == opSin || n.op == opCos || n.op == opTan }

func (n *node) isBareFunc() bool { return n.op == opSqrt || n.isTrig() }

func (n *node) isCall() bool { return n.op >= opMin && n.op <= opUpTo }

// atom reports whether n stands without parentheses after a function.
func (n *node) atom() bool { return n.op == opNumber || n.op == opLetter || n.op == opPi }

// whole reports whether n is a whole number without a degree sign.
func (n *node) whole() bool {
	if n.op != opNumber || n.deg {
		return false
	}
	for i := range len(n.text) {
		if n.text[i] == '.' {
			return false
		}
	}
	return true
}

// fraction reports whether n is one whole number over another, as 2/3, or π
// over one.
func (n *node) fraction() bool {
	return n.op == opDiv && (n.args[0].whole() || n.args[0].op == opPi) && n.args[1].whole()
}

// times reports whether n is the letter x, which many write for a sign of
// multiplication.
func (n *node) times() bool { return n.op == opLetter && (n.text == "x" || n.text == "X") }

// count returns the number of nodes.
func (n *node) count() int {
	sum := 1
	for _, a := range n.args {
		sum += a.count()
	}
	return sum
}

// with returns n with other arguments.
func (n *node) with(args []*node) *node {
	c := *n
	c.args = args
	return &c
}

// inTrig marks a plain number as an angle, since the functions of an angle
// take degrees and nothing else.
func inTrig(f op, arg *node) *node {
	if (f == opSin || f == opCos || f == opTan) && arg.op == opNumber && !arg.deg {
		c := *arg
		c.deg = true
		return &c
	}
	return arg
}

// walk calls f for n and everything below it, from left to right.
func (n *node) walk(f func(*node)) {
	f(n)
	for _, a := range n.args {
		a.walk(f)
	}
}
