package joint

import (
	"slices"

	"boltplate/drawing"
)

// A Settled joint is complete, checked, and ready to be drawn.
type Settled struct {
	Joint    Joint     // with every value chosen
	Choices  []Choice  // what was chosen and why
	Findings []Finding // what is wrong, in the order from the head to the end
	// Notes are cautions, where the joint can hurt somebody, and remarks on how
	// it is made.
	Notes []string
	// Components are what the joint is made of, in the order of their numbers.
	Components []Component

	m *model
}

// A Component is a line of the list of a joint.
type Component struct {
	Name     string // a designation, or the name of a part
	Material string // as given; may be empty
	Count    int
}

// Settle completes the joint and checks it. The error is a *FieldError where no
// rule can make a joint of the description.
func (j Joint) Settle() (*Settled, error) {
	m, choices, err := j.model()
	if err != nil {
		return nil, err
	}
	b, err := m.board(Options{})
	if err != nil {
		return nil, err
	}
	s := &Settled{Joint: m.given, Choices: choices, Findings: m.check(), Notes: b.notes, m: m}
	m.given.remedy(s.Findings)
	for _, l := range b.list {
		s.Components = append(s.Components, Component{l.name, l.material, l.count})
	}
	return s, nil
}

// model completes the joint and settles its sizes.
func (j Joint) model() (*model, []Choice, error) {
	full, choices, err := j.Complete()
	if err != nil {
		return nil, nil, err
	}
	m, err := newModel(full)
	return m, choices, err
}

// Draw draws the joint: the section through the axis, dimensioned, with item
// numbers, a parts list, and what was found marked where it is. A joint that
// does not work is drawn all the same.
func (s *Settled) Draw(opt Options) (*drawing.Drawing, error) {
	b, err := s.m.board(opt)
	if err != nil {
		return nil, err
	}
	d, err := b.compose(s.Findings)
	if err == nil {
		d.Parts = b.descriptions()
	}
	return d, err
}

// Works reports whether no fault was found; there may be warnings.
func (s *Settled) Works() bool {
	return !slices.ContainsFunc(s.Findings, func(f Finding) bool { return f.Severity == Fault })
}

// Check settles the joint and returns its findings.
func (j Joint) Check() ([]Finding, error) {
	s, err := j.Settle()
	if err != nil {
		return nil, err
	}
	return s.Findings, nil
}

// Draw settles the joint and draws it.
func Draw(j Joint, opt Options) (*drawing.Drawing, error) {
	s, err := j.Settle()
	if err != nil {
		return nil, err
	}
	return s.Draw(opt)
}
