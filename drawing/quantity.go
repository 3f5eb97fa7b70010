package drawing

import "boltplate/rule"

// A Quantity is one dimension of a part with the working behind it: what it is
// called, which rule made it, and where the rule comes from.
type Quantity struct {
	Letter string     `json:"letter"`         // as on the drawing, such as "W"
	Name   string     `json:"name"`           // the trade's name in full, such as "width across flats"
	Rule   *rule.Expr `json:"rule,omitempty"` // such as 1.5D + 3; nil for a size that was stated or is read from a table
	Value  float64    `json:"value"`          // in Unit; that of Rule, to the last digit
	Unit   Unit       `json:"unit"`
	Source string     `json:"source"` // the standard, the book, or the nature of the rule
	Status Status     `json:"status"`
	Set    string     `json:"set,omitzero"` // the rules of one's own that Rule is of, by the name of the set; "" for others
	// Min and Max are the limits that a standard states; 0 where it states
	// none, or none is held.
	Min float64 `json:"min,omitzero"`
	Max float64 `json:"max,omitzero"`
}

// RuleText returns the rule as it is written, "table" for a size that is read
// from a table, and "given" for one that was stated.
func (q Quantity) RuleText() string {
	switch {
	case q.Rule != nil:
		return q.Rule.String()
	case q.Status == Given:
		return "given"
	}
	return "table"
}

// Working returns how the quantity is worked out, with so many decimals at most:
// "T = 0.8D = 0.8 × 20 = 16 mm". all are the quantities of the part, which have
// the letters of the rule. It is "" where no rule makes the quantity, or a letter
// is not among them.
func (q Quantity) Working(all []Quantity, decimals int) string {
	if q.Rule == nil {
		return ""
	}
	get := func(letter string) (float64, bool) {
		for i := range all {
			if all[i].Letter == letter {
				return all[i].Value, true
			}
		}
		return 0, false
	}
	unit := map[Unit]string{Millimetre: "mm", Degree: "°"}[q.Unit]
	w, err := q.Rule.Working(q.Letter, unit, get, rule.Format{Decimals: decimals})
	if err != nil {
		return ""
	}
	return w.String()
}

// A Unit is the unit of a quantity.
type Unit uint8

// The units.
const (
	Millimetre Unit = iota
	Degree
	One // a ratio or a count
)

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
