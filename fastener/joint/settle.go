package joint

import (
	"slices"
	"strconv"

	"boltplate/drawing"
	"boltplate/drawing/sheet"
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
	b, err := m.board(drawing.Style{})
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

// Content returns the joint as a figure of a sheet: the section through the axis
// and further views, dimensioned; what it is made of, for the parts list and the
// item references; what was found, at its place; and notes. A joint that does not
// work is drawn all the same. As a question it shows nothing of what was found,
// and asks for it.
func (s *Settled) Content(st drawing.Style) (*sheet.Content, error) {
	b, err := s.m.board(st)
	if err != nil {
		return nil, err
	}
	c := &sheet.Content{Drawing: b.compose(), Given: s.given(st), Ask: question}
	for _, l := range b.list {
		c.Components = append(c.Components, sheet.Component{Quantity: l.count, Designation: l.name,
			Material: l.material, At: b.place(l.tip)})
	}
	for i, f := range s.Findings {
		c.Findings = append(c.Findings, sheet.Finding{Label: "F" + strconv.Itoa(i+1), At: b.at(f.At.X, f.At.Y),
			Text: f.String()})
	}
	if len(c.Findings) == 0 {
		c.Answers = append(c.Answers, sheet.Paragraph{Lines: []string{"Checked: no findings."}})
	}
	if len(b.notes) > 0 {
		c.Blocks = append(c.Blocks, sheet.Paragraph{Lines: b.notes})
	}
	return c, nil
}

// question is what a joint asks.
const question = "Does this joint work? If not, say what is wrong, why, and what would put it right."

// given says in words what the joint was given.
func (s *Settled) given(st drawing.Style) []string {
	given := "Given: " + s.m.bolt.Designation()
	for i, p := range s.Joint.Parts {
		given += "; " + s.m.partName(i)
		if p.Material != "" {
			given += ", " + p.Material
		}
		given += ", " + drawing.FormatValue(p.Thickness, st.DecimalComma) + " mm thick"
	}
	return []string{given + "."}
}

// Draw draws the joint by itself: its Content with the parts list, the findings
// and the notes beside or below the views.
func (s *Settled) Draw(st drawing.Style) (*drawing.Drawing, error) { return sheet.Compact(s, st) }

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
func Draw(j Joint, st drawing.Style) (*drawing.Drawing, error) {
	s, err := j.Settle()
	if err != nil {
		return nil, err
	}
	return s.Draw(st)
}
