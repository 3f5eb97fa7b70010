package drawing

import "boltplate/rule"

// A Quantity is one dimension of a part with the working behind it: what it is
// called, which rule made it, and where the rule comes from.
type Quantity struct {
	Letter string  // as on the drawing, such as "W"
	Name   string  // the trade's name in full, such as "width across flats"
	Rule   string  // such as "1.5D + 3", or "table" for a tabulated size
	Value  float64 // in Unit
	Unit   Unit
	Source string // the standard, the book, or the nature of the rule
	Status Status
}

// A Unit is the unit of a quantity.
type Unit uint8

// The units.
const (
	Millimetre Unit = iota
	Degree
	One // a ratio or a count
)

// String returns "mm", "deg" or "1".
func (u Unit) String() string {
	switch u {
	case Degree:
		return "deg"
	case One:
		return "1"
	}
	return "mm"
}

// A Status says how far the value of a quantity can be trusted.
type Status = rule.Status

// The statuses.
const (
	Given           = rule.Given           // stated by whoever described the part
	Published       = rule.Published       // from a standard or a book that Source names
	CommonPractice  = rule.CommonPractice  // a rule of thumb of the trade
	FromMemory      = rule.FromMemory      // written from memory and not verified
	Derived         = rule.Derived         // follows by calculation from other quantities
	PublishedInPart = rule.PublishedInPart // partly from a published table, partly from memory
)
