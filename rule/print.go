package rule

import "strings"

// Levels of binding, from the loosest.
const (
	levelSum = iota + 1
	levelTerm
	levelFactor // with an exponent
	levelPrimary
)

func (n *node) level() int {
	switch n.op {
	case opAdd, opSub, opNeg, opAbout:
		return levelSum
	case opMul, opDiv:
		return levelTerm
	case opPow:
		return levelFactor
	}
	return levelPrimary
}

// printer writes a tree in the form that a drawing has.
type printer struct {
	b     strings.Builder
	comma bool // decimal commas, and semicolons between arguments
}

func (p *printer) print(n *node) string {
	p.node(n, 0)
	return p.b.String()
}

// node writes n, in parentheses if it binds less than level.
func (p *printer) node(n *node, level int) {
	if n.level() < level {
		p.parens(n)
		return
	}
	switch n.op {
	case opNumber:
		p.number(n)
	case opLetter:
		p.b.WriteString(n.text)
	case opPi:
		p.b.WriteString("π")
	case opNeg:
		p.b.WriteString("-")
		p.node(n.args[0], levelTerm)
	case opAdd, opSub:
		p.node(n.args[0], levelSum)
		if n.op == opAdd {
			p.b.WriteString(" + ")
		} else {
			p.b.WriteString(" - ")
		}
		p.node(n.args[1], levelTerm)
	case opMul:
		p.node(n.args[0], levelTerm)
		p.b.WriteString(joiner(n.args[0], n.args[1]))
		p.node(n.args[1], levelFactor)
	case opDiv:
		p.node(n.args[0], levelTerm)
		p.b.WriteString("/")
		p.node(n.args[1], levelFactor)
	case opPow:
		p.power(n)
	case opAbout:
		p.node(n.args[0], levelSum)
		p.b.WriteString(" ≈ ")
		p.node(n.args[1], levelPrimary)
	default:
		p.function(n)
	}
}

func (p *printer) parens(n *node) {
	p.b.WriteString("(")
	p.node(n, levelSum)
	p.b.WriteString(")")
}

func (p *printer) number(n *node) {
	if p.comma {
		p.b.WriteString(strings.Replace(n.text, ".", ",", 1))
	} else {
		p.b.WriteString(n.text)
	}
	if n.deg {
		p.b.WriteString("°")
	}
}

func (p *printer) power(n *node) {
	base, exponent := n.args[0], n.args[1]
	if base.isBareFunc() {
		p.parens(base)
	} else {
		p.node(base, levelPrimary)
	}
	switch {
	case exponent.whole() && exponent.text == "2":
		p.b.WriteString("²")
	case exponent.whole() && exponent.text == "3":
		p.b.WriteString("³")
	case exponent.atom():
		p.b.WriteString("^")
		p.node(exponent, 0)
	default:
		p.b.WriteString("^")
		p.parens(exponent)
	}
}

func (p *printer) function(n *node) {
	p.b.WriteString(opNames[n.op])
	switch {
	case n.isCall():
		p.arguments(n.args)
	case n.args[0].atom():
		if n.op != opSqrt {
			p.b.WriteString(" ")
		}
		p.node(n.args[0], 0)
	default:
		p.parens(n.args[0])
	}
}

func (p *printer) arguments(args []*node) {
	separator := ", "
	if p.comma {
		separator = "; "
	}
	p.b.WriteString("(")
	for i, a := range args {
		if i > 0 {
			p.b.WriteString(separator)
		}
		p.node(a, levelSum)
	}
	p.b.WriteString(")")
}

// joiner returns what stands between two factors: nothing or a blank where
// that can be read in one way only, otherwise ×.
func joiner(left, right *node) string {
	const times = " × "
	last := lastFactor(left)
	begin := beginning(right)
	switch {
	case begin.op == opNumber, last.times(), begin.op == opNeg && begin.args[0].op == opNumber:
		return times
	case left.op == opDiv:
		if left.fraction() {
			return " "
		}
		return times
	case bareOperand(last):
		if last.isTrig() && last.args[0].deg || begin.isBareFunc() {
			return " "
		}
		return times
	case begin.op == opSqrt:
		return ""
	case last.op == opNumber && !last.deg && !begin.isBareFunc() && !begin.isCall():
		return ""
	case last.level() < levelFactor && begin.level() < levelFactor: // both in parentheses
		return ""
	}
	return " "
}

// bareOperand reports whether n is a function whose operand stands without
// parentheses.
func bareOperand(n *node) bool { return n.isBareFunc() && n.args[0].atom() }

// lastFactor returns the factor that a term ends with.
func lastFactor(n *node) *node {
	if n.op == opMul || n.op == opDiv {
		return n.args[1]
	}
	return n
}

// beginning returns what a factor begins with: the base of a power.
func beginning(n *node) *node {
	if n.op == opPow && !n.args[0].isBareFunc() {
		return n.args[0]
	}
	return n
}
