package rule

import "unicode/utf8"

// Expr is a rule that has been read. It does not change and may be used by
// many goroutines at once. [Parse] makes one; the zero value has no text, and
// no value either: [Expr.Eval] returns a [*LetterError] with an empty letter.
type Expr struct {
	input   string
	text    string
	root    *node
	letters []string
}

func newExpr(input string, root *node) *Expr {
	e := &Expr{input: input, root: root, text: (&printer{}).print(root)}
	root.walk(func(n *node) {
		if n.op == opLetter && !contains(e.letters, n.text) {
			e.letters = append(e.letters, n.text)
		}
	})
	return e
}

// tree returns the steps of the rule. The zero value has the one that cannot be
// worked out.
func (e *Expr) tree() *node {
	if e.root == nil {
		return &node{op: opLetter, col: 1}
	}
	return e.root
}

// fromTree makes a rule of a tree by writing and reading it, so that columns
// are those of its text.
func fromTree(root *node) (*Expr, error) {
	text := (&printer{}).print(root)
	if utf8.RuneCountInString(text) > maxLength || root.count() > maxNodes {
		return nil, &SizeError{Limit: maxLength}
	}
	return Parse(text)
}

// String returns the rule as it is written on a drawing, as "1.5D + 3",
// "2√(R² - i²)" or "A cos 30°". [Parse] reads it back, and makes the same rule
// of it.
func (e *Expr) String() string { return e.text }

// MarshalText returns what [Expr.String] returns.
func (e *Expr) MarshalText() ([]byte, error) { return []byte(e.text), nil }

// UnmarshalText reads what [Parse] reads.
func (e *Expr) UnmarshalText(b []byte) error {
	x, err := Parse(string(b))
	if err == nil {
		*e = *x
	}
	return err
}

// Text returns what [Expr.String] returns, with decimal commas and semicolons
// between the arguments of functions where f has a decimal comma. [Parse] reads
// it too. All digits are kept.
func (e *Expr) Text(f Format) string {
	if !f.Comma {
		return e.text
	}
	return (&printer{comma: true}).print(e.tree())
}

// Equal reports whether two rules are the same, step by step. 2D and D × 2
// have the same value and are not the same rule.
func (e *Expr) Equal(f *Expr) bool { return e.text == f.text }

// Letters returns the letters of the rule in the order of their first use. The
// slice is the caller's own.
func (e *Expr) Letters() []string { return append([]string(nil), e.letters...) }

// Uses reports whether the rule has the letter.
func (e *Expr) Uses(letter string) bool { return contains(e.letters, letter) }

// Len returns the characters of [Expr.String], for who must decide whether a
// rule is short enough for a drawing.
func (e *Expr) Len() int { return utf8.RuneCountInString(e.text) }

// Terms returns how many terms the rule is the sum of: 1 for 2D, 2 for D + 1.
func (e *Expr) Terms() int {
	n, terms := e.tree(), 1
	if n.op == opAbout {
		n = n.args[0]
	}
	for ; n.op == opAdd || n.op == opSub; n = n.args[0] {
		terms++
	}
	return terms
}
