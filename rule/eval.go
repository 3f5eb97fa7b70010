package rule

import "math"

// Eval returns the value of the rule. get gives the letters their values and
// reports whether it knows them; it is called for each letter where it stands.
// Angles are in degrees, all else in the unit of the letters.
//
// The error is a [*LetterError] for a letter that get does not know, and a
// [*ValueError] for a division by zero, the root of a negative number, a power
// that has no real value, the tangent of a right angle, a step of rounding
// that is not positive, a ≈ that is out by more than an eighth, and a value
// that is not a finite number. Eval does not allocate.
func (e *Expr) Eval(get func(letter string) (float64, bool)) (float64, error) {
	v := evaluator{e, get}
	return v.node(e.tree())
}

type evaluator struct {
	e   *Expr
	get func(string) (float64, bool)
}

func (v *evaluator) node(n *node) (float64, error) {
	switch n.op {
	case opNumber:
		return n.num, nil
	case opPi:
		return math.Pi, nil
	case opLetter:
		return v.letter(n)
	case opUpTo:
		return v.upTo(n)
	}
	a, err := v.node(n.args[0])
	if err != nil {
		return 0, err
	}
	switch n.op {
	case opNeg:
		return -a, nil
	case opSqrt:
		if a < 0 {
			return 0, v.fail(n, a, "0 or more")
		}
		return math.Sqrt(a), nil
	case opSin:
		return sin(a), nil
	case opCos:
		return sin(a + 90), nil
	case opTan:
		if c := sin(a + 90); c == 0 {
			return 0, v.fail(n, a, "no right angle")
		}
		return tan(a), nil
	case opArctan:
		return arctan(a), nil
	case opMin, opMax, opNear:
		return v.several(n, a)
	}
	b, err := v.node(n.args[1])
	if err != nil {
		return 0, err
	}
	return v.binary(n, a, b)
}

func (v *evaluator) letter(n *node) (float64, error) {
	x, ok := v.get(n.text)
	if !ok {
		return 0, &LetterError{Input: v.e.input, Column: n.col, Letter: n.text}
	}
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return 0, &ValueError{Rule: v.e.input, Column: n.col, Step: "value of " + n.text, Value: x, Want: "a finite number"}
	}
	return x, nil
}

func (v *evaluator) binary(n *node, a, b float64) (float64, error) {
	x := 0.0
	switch n.op {
	case opAdd:
		x = a + b
	case opSub:
		x = a - b
	case opMul:
		x = a * b
	case opDiv:
		if b == 0 {
			return 0, v.fail(n, a, "a divisor that is not 0")
		}
		x = a / b
	case opPow:
		if x = power(a, b); math.IsNaN(x) || math.IsInf(x, 0) && a == 0 {
			return 0, v.fail(n, a, "a base above 0, or a whole exponent")
		}
	case opUp, opDown, opRound:
		if b <= 0 {
			return 0, v.fail(n, b, "a step above 0")
		}
		x = toStep(n.op, a, b)
	case opAbout:
		if !about(a, b) {
			return 0, v.fail(n, a, "a number that differs from it by an eighth at most")
		}
		x = b
	}
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return 0, v.fail(n, a, "a result that is a finite number")
	}
	return x, nil
}

// about reports whether x may be said to be rounded to v: they differ by an
// eighth of v at most.
func about(x, v float64) bool { return math.Abs(x-v) <= math.Abs(v)/8 }

// several works out min, max and near, whose first argument is a.
func (v *evaluator) several(n *node, a float64) (float64, error) {
	best := a
	for i, arg := range n.args[1:] {
		b, err := v.node(arg)
		if err != nil {
			return 0, err
		}
		switch {
		case n.op == opMin:
			best = math.Min(best, b)
		case n.op == opMax:
			best = math.Max(best, b)
		case i == 0 || nearer(a, b, best):
			best = b
		}
	}
	return best, nil
}

// nearer reports whether b lies nearer to x than best does. Halfway, the
// larger one is the nearer. What differs by less than a float64 can tell is
// halfway.
func nearer(x, b, best float64) bool {
	d, have := math.Abs(b-x), math.Abs(best-x)
	if math.Abs(d-have) <= 1e-12*math.Abs(x) {
		return b > best
	}
	return d < have
}

// upTo works out the branch that holds.
func (v *evaluator) upTo(n *node) (float64, error) {
	branch, err := v.branch(n)
	if err != nil {
		return 0, err
	}
	return v.node(branch)
}

func (v *evaluator) branch(n *node) (*node, error) {
	x, err := v.node(n.args[0])
	if err != nil {
		return nil, err
	}
	last := len(n.args) - 1
	for i := 1; i < last; i += 2 {
		bound, err := v.node(n.args[i])
		if err != nil {
			return nil, err
		}
		if x <= bound+1e-9*math.Abs(bound) { // what differs by less is the bound
			return n.args[i+1], nil
		}
	}
	return n.args[last], nil
}

func (v *evaluator) fail(n *node, x float64, want string) error {
	return &ValueError{Rule: v.e.input, Column: n.col, Step: opNames[n.op], Value: x, Want: want}
}

// power multiplies small whole powers out, which keeps them exact where they
// can be.
func power(a, b float64) float64 {
	switch b {
	case 2:
		return a * a
	case 3:
		return a * a * a
	}
	return math.Pow(a, b)
}

// sin returns the sine of an angle in degrees. Where it is 0, a half or 1 it
// is so exactly.
func sin(deg float64) float64 {
	a := math.Mod(deg, 360)
	if a < 0 {
		a += 360
	}
	switch a {
	case 0, 180, 360:
		return 0
	case 30, 150:
		return 0.5
	case 90:
		return 1
	case 210, 330:
		return -0.5
	case 270:
		return -1
	}
	return math.Sin(a * math.Pi / 180)
}

func tan(deg float64) float64 {
	switch math.Mod(deg, 180) {
	case 0:
		return 0
	case 45, -135:
		return 1
	case 135, -45:
		return -1
	}
	return math.Tan(math.Mod(deg, 180) * math.Pi / 180)
}

// arctan returns the angle, in degrees, of a slope. That of 1 is exact.
func arctan(slope float64) float64 {
	if math.Abs(slope) == 1 {
		return 45 * slope
	}
	return math.Atan(slope) * 180 / math.Pi
}

// toStep rounds x to a multiple of step. A multiple is what differs from one
// by less than a float64 can tell, so that up(6.3, 0.1) stays 6.3.
func toStep(o op, x, step float64) float64 {
	q := x / step
	slack := math.Min(1e-9*math.Max(1, math.Abs(q)), 0.25)
	switch o {
	case opUp:
		q = math.Ceil(q - slack)
	case opDown:
		q = math.Floor(q + slack)
	default:
		q = math.Copysign(math.Floor(math.Abs(q)+0.5+slack), q)
	}
	// A step of 0.1 divides by 10 better than it multiplies.
	if parts := math.Round(1 / step); step < 1 && math.Abs(1/step-parts) <= 1e-9*parts {
		return q / parts
	}
	return q * step
}
