package fastener

import (
	"fmt"
	"slices"

	"boltplate/drawing"
	"boltplate/rule"
	"boltplate/thread"
)

// A settled size is a size with its value.
type settled struct {
	*size
	rule     *rule.Expr // as it holds here
	value    float64
	min, max float64 // limits of a standard; 0 for none
	source   string
	status   drawing.Status
	set      string // the rules of one's own that it follows
	state    state
}

// A state says how far a size is.
type state uint8

const (
	known   state = iota
	pending       // to be worked out by its rule
	busy          // being worked out
	open          // nothing is known of it yet
)

// A sizer works out the sizes of a part, in any order that their rules allow.
type sizer struct {
	kind  string
	word  string // which of several variants of the kind, in rules of one's own
	d     float64
	rules *Rules
	list  []settled // in the order of a table
	err   error
}

// mostSizes is room for those of any part.
const mostSizes = 24

// newSizer returns the sizer of a part with its nominal diameter.
func newSizer(kind, word string, r *Rules, t thread.Thread) sizer {
	z := sizer{kind: kind, word: word, d: t.D, rules: r, list: make([]settled, 0, mostSizes)}
	z.given(sizeDiameter, t.D)
	return z
}

// given adds a size that the description says.
func (z *sizer) given(s *size, v float64) *settled { return z.tabled(s, v, s.status) }

// tabled adds a size that was read from a row of the given status.
func (z *sizer) tabled(s *size, v float64, status drawing.Status) *settled {
	z.list = append(z.list, settled{size: s, value: v, source: s.source, status: status})
	return &z.list[len(z.list)-1]
}

// pitch adds the pitch of a thread.
func (z *sizer) pitch(t thread.Thread) {
	p := z.tabled(sizePitch, t.P, drawing.Published)
	if !t.Listed() {
		p.source, p.status = "as described; not listed in ISO 261", drawing.Given
	}
}

// figure adds a figure of the thread.
func (z *sizer) figure(s *size, t thread.Thread, i thread.Item) *settled {
	f, _ := t.Figure(i) // the thread has been checked
	z.list = append(z.list, settled{size: s, rule: f.Rule, source: f.Source, status: f.Status, state: pending})
	return &z.list[len(z.list)-1]
}

// hold keeps a place in the table for a size that is settled later.
func (z *sizer) hold(s *size) int {
	z.list = append(z.list, settled{size: s, state: open})
	return len(z.list) - 1
}

// put fills a place that was kept.
func (z *sizer) put(i int, s *size) { z.list[i] = s.unsettled() }

func (s *size) unsettled() settled {
	return settled{size: s, rule: s.rule, source: s.source, status: s.status, set: s.set, state: pending}
}

// use adds the sizes of a group, by the rules of one's own where there are any.
func (z *sizer) use(g *group) {
	sizes := z.rules.sizes(z.kind, z.word, g)
	for i := range sizes {
		z.list = append(z.list, sizes[i].unsettled())
	}
}

// solve works out what is pending. The error is a *FieldError.
func (z *sizer) solve() error {
	for i := range z.list {
		if z.list[i].state == pending {
			z.work(i)
		}
	}
	return z.err
}

// value returns the value of a letter, for rules.
func (z *sizer) value(letter string) (float64, bool) {
	for i := range z.list {
		if s := &z.list[i]; s.letter == letter {
			if s.state == known {
				return s.value, true
			}
			return z.work(i)
		}
	}
	return 0, false
}

// work works out a size.
func (z *sizer) work(i int) (float64, bool) {
	s := &z.list[i]
	if s.state != pending {
		if s.state == busy {
			z.fail(&FieldError{z.kind, "rules", s.letter,
				"its rule needs itself; use letters that are known before it"})
		}
		return 0, false
	}
	s.state = busy
	v, err := s.rule.Eval(z.value)
	switch {
	case err != nil:
		z.fail(&FieldError{z.kind, "rules", s.letter, err.Error()})
		return 0, false
	case v < 0, v == 0 && !s.orZero, v > maxLength:
		z.fail(&FieldError{z.kind, "rules", s.letter,
			fmt.Sprintf("%s comes to %s at a diameter of %s mm; it must be more than 0 and at most %s",
				s.rule, mm(v), mm(z.d), mm(maxLength))})
		return 0, false
	}
	s.value, s.rule, s.state = v, z.shown(s, v), known
	return v, true
}

// fail keeps the first error.
func (z *sizer) fail(err error) {
	if z.err == nil {
		z.err = err
	}
}

// shown returns the rule as it holds here: of a rule with branches the one that
// made the value.
func (z *sizer) shown(s *settled, v float64) *rule.Expr {
	if s.forms == nil {
		return s.rule
	}
	for _, e := range s.forms {
		if x, err := e.Eval(z.value); err == nil && x == v {
			return e
		}
	}
	if e, err := s.rule.Choose(z.value); err == nil {
		return e
	}
	return s.rule
}

// at returns the place of a letter in the list. A letter that is not there is a
// slip in this package.
func (z *sizer) at(letter string) *settled {
	for i := range z.list {
		if z.list[i].letter == letter {
			return &z.list[i]
		}
	}
	panic("fastener: " + z.kind + " has no size " + letter)
}

// size returns a size that has been worked out.
func (z *sizer) size(letter string) drawing.Quantity { return z.at(letter).quantity() }

// find returns a size that has been worked out, or the zero one where there is
// none of that letter.
func (z *sizer) find(letter string) drawing.Quantity {
	for i := range z.list {
		if z.list[i].letter == letter {
			return z.list[i].quantity()
		}
	}
	return drawing.Quantity{}
}

// needs refuses sizes that cannot be drawn: that of letter must be more than
// that of the other one.
func (z *sizer) needs(letter, over string) error {
	if s, o := z.at(letter), z.at(over); s.value <= o.value {
		return z.refuse(s, fmt.Sprintf("must be more than the %s, %s = %s", o.name, o.letter, mm(o.value)))
	}
	return nil
}

// atLeast refuses a size that is less than another one.
func (z *sizer) atLeast(letter, least string) error {
	if s, o := z.at(letter), z.at(least); s.value < o.value-1e-9 {
		return z.refuse(s, fmt.Sprintf("must be at least the %s, %s = %s", o.name, o.letter, mm(o.value)))
	}
	return nil
}

// refuse returns the error of a size that cannot be drawn.
func (z *sizer) refuse(s *settled, want string) error {
	by := ""
	if s.rule != nil {
		by = " by " + s.rule.String()
	}
	return &FieldError{z.kind, "rules", s.letter, fmt.Sprintf("the %s is %s%s; it %s", s.name,
		mm(s.value), by, want)}
}

func (s *settled) quantity() drawing.Quantity {
	return drawing.Quantity{Letter: s.letter, Name: s.name, Rule: s.rule, Value: s.value, Unit: s.unit,
		Source: s.source, Status: s.status, Set: s.set, Min: s.min, Max: s.max}
}

// needed returns the sizes of these letters and behind them those that their
// rules need, but for those that any part has.
func (z *sizer) needed(letters ...string) []drawing.Quantity {
	var qs []drawing.Quantity
	for n := 0; n < len(letters); n++ {
		q := z.size(letters[n])
		qs = append(qs, q)
		if q.Rule == nil {
			continue
		}
		for _, l := range q.Rule.Letters() {
			if l != "D" && l != "P" && !slices.Contains(letters, l) {
				letters = append(letters, l)
			}
		}
	}
	return qs
}

// quantitiesOf returns a list as a table has it.
func quantitiesOf(list []settled) []drawing.Quantity {
	qs := make([]drawing.Quantity, 0, len(list)+8)
	for i := range list {
		qs = append(qs, list[i].quantity())
	}
	return qs
}
