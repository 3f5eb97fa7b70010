package fastener

import (
	"slices"

	"boltplate/drawing"
	"boltplate/rule"
	"boltplate/thread"
)

// Books and the trade, as they are printed beside a figure.
const (
	low            = "Low, Machine Drawing and Design (1887)"
	narayana       = "Narayana, Kannaiah and Reddy, Machine Drawing"
	commonPractice = "common practice"
	asDescribed    = "as described"
)

// A size is one line of the rules of a part, or one column of a table: what it
// is, how it is made and who says so.
type size struct {
	letter, name string
	unit         drawing.Unit
	rule         *rule.Expr // nil for what is stated or read from a table
	source       string
	status       drawing.Status
	fixed        bool         // it follows from others, so that no set can replace it
	orZero       bool         // it may be 0
	governs      bool         // another one follows from it, as its source says
	forms        []*rule.Expr // what a rule with branches comes to; nil for others
	set          string       // the set of one's own whose rule it is, where that is another one than ours
}

// A group is sizes that come together: those of a head, of a neck.
type group struct{ sizes []size }

func groupOf(sizes ...size) *group { return &group{sizes} }

// published is a rule that a book or a standard has.
func published(letter, name, text, source string) size {
	return size{letter: letter, name: name, rule: rule.MustParse(text), source: source,
		status: drawing.Published}
}

// practice is a rule of thumb of the trade.
func practice(letter, name, text string) size {
	return practiceBy(letter, name, text, commonPractice)
}

// practiceBy is a rule of thumb that rounds the figures of a source.
func practiceBy(letter, name, text, source string) size {
	return size{letter: letter, name: name, rule: rule.MustParse(text), source: source,
		status: drawing.CommonPractice}
}

// fromMemory is a rule that nobody has looked up.
func fromMemory(letter, name, text string) size {
	s := practice(letter, name, text)
	s.status = drawing.FromMemory
	return s
}

// follows is a size that other ones leave no choice of.
func follows(letter, name, text, from string) size {
	return size{letter: letter, name: name, rule: rule.MustParse(text), source: "follows from " + from,
		status: drawing.Derived, fixed: true}
}

// column is a column of a standard's table. What is read from it has the status
// of its row.
func column(letter, name, source string) *size {
	return &size{letter: letter, name: name, source: source, status: drawing.Published}
}

// stated is what the description of a part says.
func stated(letter, name string) *size {
	return &size{letter: letter, name: name, source: asDescribed, status: drawing.Given}
}

// angle says that a size is in degrees.
func (s size) angle() size { s.unit = drawing.Degree; return s }

// mayBeZero says that a size may be none.
func (s size) mayBeZero() size { s.orZero = true; return s }

// governing says that another size follows from this one.
func (s size) governing() size {
	s.source, s.governs = s.source+governs, true
	return s
}

const governs = "; governs"

// fix keeps sets from replacing a rule.
func (s size) fix() size { s.fixed = true; return s }

// branching works out once what a rule with branches comes to for each of the
// values, so that no drawing has to read it again.
func (s size) branching(values ...rule.Values) size {
	for _, v := range values {
		e, err := s.rule.Choose(v.Get)
		if err == nil && !slices.ContainsFunc(s.forms, e.Equal) {
			s.forms = append(s.forms, e)
		}
	}
	return s
}

// named returns a size with another letter and name.
func (s size) named(letter, name string) size { s.letter, s.name = letter, name; return s }

// Sizes that many kinds have.
var (
	sizeDiameter = stated("D", "nominal diameter")
	sizePitch    = column("P", "pitch", thread.SourceSizes)
	sizeLength   = stated("L", "length")
	sizeGrip     = stated("G", "grip")
	sizeThread   = stated("b", "thread length")

	sizeRoot   = &size{letter: "d3", name: "root diameter"}
	sizePoint  = &size{letter: "z", name: "point chamfer"}
	sizeRunOut = &size{letter: "x", name: "thread run-out"}
	sizeToHead = &size{letter: "a1", name: "last full thread to the head, at most"}
	sizeBore   = &size{letter: "D1", name: "minor diameter of the thread"}
)
