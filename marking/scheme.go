package marking

import (
	"fmt"
	"math"
	"strings"
)

// A PartName is a part of the mark.
type PartName uint8

// The parts of the mark.
const (
	PartViews      PartName = iota // the views, and where they stand
	PartLines                      // the lines, and where they run
	PartKinds                      // wide, narrow, dashed, dotted
	PartDimensions                 // sizes
	PartNeatness                   // hatching and lettering
	partCount
)

var partNames = [partCount]string{"views", "lines", "kinds of line", "dimensions", "neatness"}

// String returns the name of the part, such as "kinds of line".
func (p PartName) String() string {
	if p < partCount {
		return partNames[p]
	}
	return "unknown part"
}

// ParsePart returns the part of a name. The error lists the names.
func ParsePart(s string) (PartName, error) {
	for p, name := range partNames {
		if name == s {
			return PartName(p), nil
		}
	}
	return 0, fmt.Errorf("%q is no part of the mark; the parts are %s", s, strings.Join(partNames[:], ", "))
}

// A Rule says what findings of a kind cost.
type Rule struct {
	Each float64 // points for each
	Most float64 // points for all of the kind together; 0 is no limit
}

// A Scheme says how points come about. Each part has its points, and every
// finding costs some of those of its part, until none are left.
type Scheme struct {
	Parts [partCount]float64
	Rules [kindCount]Rule
}

// DefaultScheme returns a scheme of 100 points: 20 for views, 40 for lines, 15
// for kinds of line, 20 for dimensions, 5 for neatness. What each fault costs
// is our own weighing; an instructor gives another.
func DefaultScheme() Scheme {
	s := Scheme{Parts: [partCount]float64{PartViews: 20, PartLines: 40, PartKinds: 15, PartDimensions: 20, PartNeatness: 5}}
	for i, k := range kinds() {
		s.Rules[i].Each = k.each
	}
	return s
}

// Of returns the points of a drawing without fault.
func (s *Scheme) Of() (sum float64) {
	for _, p := range s.Parts {
		sum += p
	}
	return sum
}

func (s *Scheme) check() error {
	bad := func(v float64) bool { return math.IsNaN(v) || math.IsInf(v, 0) || v < 0 }
	for p, v := range s.Parts {
		if bad(v) {
			return fmt.Errorf("marking: %v points for %v; give a number of points that is not negative", v, PartName(p))
		}
	}
	for k, r := range s.Rules {
		if bad(r.Each) || bad(r.Most) {
			return fmt.Errorf("marking: points for %v: %v each, %v at most; give numbers that are not negative", Kind(k), r.Each, r.Most)
		}
	}
	return nil
}

// A Part is a part of the mark with what was got of it.
type Part struct {
	Name   string
	Points float64
	Of     float64
	Lost   []Loss
}

// A Loss is what the findings of one kind cost.
type Loss struct {
	Kind     Kind
	N        int     // findings
	Each     float64 // points for each
	Points   float64 // in all, after the limits
	Asked    float64 // in all, before them
	Findings []int   // numbers
}

// A loss is what a finding costs in one part.
type loss struct {
	part   PartName
	points float64
}

// score works out the points, and writes into each finding what it costs.
func (s *Scheme) score(fs []Finding) (parts []Part, sum float64) {
	parts = make([]Part, partCount)
	for p := range parts {
		parts[p] = Part{Name: PartName(p).String(), Points: s.Parts[p], Of: s.Parts[p]}
	}
	var spent [kindCount]float64
	for i := range fs {
		f := &fs[i]
		losses := f.losses
		if losses == nil {
			losses = []loss{{kinds()[f.Kind].part, s.Rules[f.Kind].Each}}
		}
		for _, l := range losses {
			cost := l.points
			if most := s.Rules[f.Kind].Most; most > 0 {
				cost = min(cost, most-spent[f.Kind])
			}
			p := &parts[l.part]
			cost = max(0, min(cost, p.Points))
			spent[f.Kind] += cost
			p.Points -= cost
			f.Points += cost
			p.lose(f, l.points, cost)
		}
	}
	for p := range parts {
		parts[p].Points = tidy(parts[p].Points)
		sum += parts[p].Points
	}
	for i := range fs {
		fs[i].Points = tidy(fs[i].Points)
	}
	return parts, tidy(sum)
}

func (p *Part) lose(f *Finding, asked, cost float64) {
	for i := range p.Lost {
		if l := &p.Lost[i]; l.Kind == f.Kind && l.Each == asked {
			l.N++
			l.Points, l.Asked = tidy(l.Points+cost), tidy(l.Asked+asked)
			l.Findings = append(l.Findings, f.Number)
			return
		}
	}
	p.Lost = append(p.Lost, Loss{f.Kind, 1, asked, tidy(cost), asked, []int{f.Number}})
}

// tidy takes away what rounding adds.
func tidy(v float64) float64 { return math.Round(v*1e6) / 1e6 }
