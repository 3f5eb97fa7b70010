package drawing

import (
	"fmt"
	"slices"
	"strings"
)

// The words of what is counted, in the order of its constants. They are what
// is written and read in files of every kind.
var (
	directionWords = words{"a view", "views", []string{"front", "side", "head", "point", "isometric"}}
	labelsWords    = words{"a way to label", "ways to label", []string{"numbers", "rules", "letters", "none", "blank"}}
	roleWords      = words{"a role", "roles", []string{"outline", "thin", "hidden", "centre", "cutting", "adjacent", "hatching", "dimension", "text", "frame", "finding", "construction"}}
	unitWords      = words{"a unit", "units", []string{"mm", "deg", "1"}}
	symbolWords    = words{"a symbol", "symbols", []string{"none", "diameter", "radius", "square", "taper", "taper-left"}}
	sideWords      = words{"a side", "sides", []string{"below", "above", "left", "right"}}
	alignWords     = words{"an alignment", "alignments", []string{"left", "centre", "right"}}
)

// words are the names of the values of a type, which is called one or many.
type words struct {
	one, many string
	names     []string
}

// name returns the word for v, or that it is none.
func (w *words) name(v uint8) string {
	if int(v) < len(w.names) {
		return w.names[v]
	}
	return "unknown " + strings.TrimPrefix(strings.TrimPrefix(w.one, "a "), "an ")
}

// parse returns the value of a word, capitals and blanks around it aside.
func (w *words) parse(s string) (uint8, error) {
	for v, name := range w.names {
		if strings.EqualFold(strings.TrimSpace(s), name) {
			return uint8(v), nil
		}
	}
	return 0, fmt.Errorf("%q is not %s; the %s are %s", s, w.one, w.many, strings.Join(w.names, ", "))
}

// marshal returns the word for v.
func (w *words) marshal(v uint8) ([]byte, error) {
	if int(v) < len(w.names) {
		return []byte(w.names[v]), nil
	}
	return nil, fmt.Errorf("%d is not %s; the %s are %s", v, w.one, w.many, strings.Join(w.names, ", "))
}

// unmarshal sets v to the value of a word.
func unmarshal[T ~uint8](w *words, b []byte, v *T) error {
	n, err := w.parse(string(b))
	if err == nil {
		*v = T(n)
	}
	return err
}

// String returns the short name of the direction: front, side, head, point or
// isometric.
func (d Direction) String() string { return directionWords.name(uint8(d)) }

// ParseDirection reads what String returns, in capitals or not. The error lists the
// words.
func ParseDirection(s string) (Direction, error) {
	n, err := directionWords.parse(s)
	return Direction(n), err
}

// MarshalText returns what String returns; an error for what is no Direction.
func (d Direction) MarshalText() ([]byte, error) { return directionWords.marshal(uint8(d)) }

// UnmarshalText reads what String returns, in capitals or not.
func (d *Direction) UnmarshalText(b []byte) error { return unmarshal(&directionWords, b, d) }

// String returns numbers, rules, letters, none or blank.
func (l Labels) String() string { return labelsWords.name(uint8(l)) }

// LabelsWords returns the words of all Labels, in their order.
func LabelsWords() []string { return slices.Clone(labelsWords.names) }

// ParseLabels reads what String returns, in capitals or not. The error lists the
// words.
func ParseLabels(s string) (Labels, error) {
	n, err := labelsWords.parse(s)
	return Labels(n), err
}

// MarshalText returns what String returns; an error for what is no Labels.
func (l Labels) MarshalText() ([]byte, error) { return labelsWords.marshal(uint8(l)) }

// UnmarshalText reads what String returns, in capitals or not.
func (l *Labels) UnmarshalText(b []byte) error { return unmarshal(&labelsWords, b, l) }

// String returns the name of the role in lower case, such as "outline".
func (r Role) String() string { return roleWords.name(uint8(r)) }

// ParseRole reads what String returns, in capitals or not. The error lists the
// words.
func ParseRole(s string) (Role, error) {
	n, err := roleWords.parse(s)
	return Role(n), err
}

// MarshalText returns what String returns; an error for what is no Role.
func (r Role) MarshalText() ([]byte, error) { return roleWords.marshal(uint8(r)) }

// UnmarshalText reads what String returns, in capitals or not.
func (r *Role) UnmarshalText(b []byte) error { return unmarshal(&roleWords, b, r) }

// String returns "mm", "deg" or "1".
func (u Unit) String() string { return unitWords.name(uint8(u)) }

// MarshalText returns what String returns; an error for what is no Unit.
func (u Unit) MarshalText() ([]byte, error) { return unitWords.marshal(uint8(u)) }

// UnmarshalText reads what String returns, in capitals or not.
func (u *Unit) UnmarshalText(b []byte) error { return unmarshal(&unitWords, b, u) }

// String returns none, diameter, radius, square, taper or taper-left.
func (s Symbol) String() string { return symbolWords.name(uint8(s)) }

// MarshalText returns what String returns; an error for what is no Symbol.
func (s Symbol) MarshalText() ([]byte, error) { return symbolWords.marshal(uint8(s)) }

// UnmarshalText reads what String returns, in capitals or not.
func (s *Symbol) UnmarshalText(b []byte) error { return unmarshal(&symbolWords, b, s) }

// String returns below, above, left or right.
func (s Side) String() string { return sideWords.name(uint8(s)) }

// MarshalText returns what String returns; an error for what is no Side.
func (s Side) MarshalText() ([]byte, error) { return sideWords.marshal(uint8(s)) }

// UnmarshalText reads what String returns, in capitals or not.
func (s *Side) UnmarshalText(b []byte) error { return unmarshal(&sideWords, b, s) }

// String returns left, centre or right.
func (a Align) String() string { return alignWords.name(uint8(a)) }

// MarshalText returns what String returns; an error for what is no Align.
func (a Align) MarshalText() ([]byte, error) { return alignWords.marshal(uint8(a)) }

// UnmarshalText reads what String returns, in capitals or not.
func (a *Align) UnmarshalText(b []byte) error { return unmarshal(&alignWords, b, a) }
