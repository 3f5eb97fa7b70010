package marking

import (
	"math"
	"slices"
	"strings"

	"boltplate/drawing"
)

// Lines says what the lines of submissions mean, where an instructor has asked
// for layers, line types or colours: a layer goes before a line type, and that
// before a colour. What it does not name is told by what the file shows. Names
// may be in capitals or not.
type Lines struct {
	Layers    map[string]drawing.Role
	LineTypes map[string]drawing.Role
	Colours   map[int]drawing.Role // by index of the format, 1 to 255
}

// role returns what a look means.
func (l *Lines) role(k lookKey) (drawing.Role, bool) {
	for name, r := range l.Layers {
		if strings.EqualFold(name, k.layer) {
			return r, true
		}
	}
	for name, r := range l.LineTypes {
		if strings.EqualFold(name, k.lineType) {
			return r, true
		}
	}
	r, ok := l.Colours[k.colour]
	return r, ok
}

// A trait is what tells wide lines from narrow ones, or broken lines from
// continuous ones, in a submission.
type trait uint8

const (
	noTrait trait = iota
	byWeight
	byColour
	byLayer
	byLineType
)

func (t trait) String() string {
	return [...]string{"nothing", "their width", "their colour", "their layer", "their line type"}[t]
}

func (t trait) value(l *look) any {
	switch t {
	case byWeight:
		return weightOf(l)
	case byColour:
		return l.key.colour
	case byLayer:
		return l.key.layer
	}
	return l.dash
}

// usualWeight is that of lines whose width the file leaves to the program, in
// hundredths of a millimetre.
const usualWeight = 25

func weightOf(l *look) int {
	if l.weight < 0 {
		return usualWeight
	}
	return l.weight
}

// A judge says whether lines are of the right kind.
type judge struct {
	looks []look
	given *Lines
	// dashes is what tells broken lines, widths what tells wide ones.
	dashes, widths trait
	// limit parts narrow from wide weights.
	limit float64
	// exchanged says that what should be wide is narrow throughout.
	exchanged bool
	// mixed says that the model has both wide and narrow continuous lines.
	mixed bool
}

// A verdict on the kind of a line.
type verdict uint8

const (
	right verdict = iota
	wrong
	open // it cannot be told
)

func newJudge(looks []look, given *Lines) *judge {
	j := &judge{looks: looks, given: given}
	j.chooseDashes()
	j.chooseWidths()
	return j
}

func broken(r drawing.Role) bool { return demands(r)[0].dash != continuous }

// chooseDashes finds what tells broken lines from continuous ones.
func (j *judge) chooseDashes() {
	any := false
	for i := range j.looks {
		l := &j.looks[i]
		if l.used > 0 && l.dash != continuous {
			j.dashes = byLineType
			return
		}
		for r, v := range l.votes {
			any = any || v > 0 && broken(drawing.Role(r))
		}
	}
	if !any {
		j.dashes = byLineType
		return
	}
	for _, t := range [...]trait{byLayer, byColour} {
		if j.separates(t, broken) {
			j.dashes = t
			return
		}
	}
}

// separates reports whether most lines for which one is true have values of t
// that most other lines do not have.
func (j *judge) separates(t trait, one func(drawing.Role) bool) bool {
	yes, no := map[any]float64{}, map[any]float64{}
	var values []any
	sum := 0.0
	for i := range j.looks {
		l := &j.looks[i]
		for r, v := range l.votes {
			if v == 0 {
				continue
			}
			k := t.value(l)
			if one(drawing.Role(r)) {
				if yes[k] == 0 {
					values = append(values, k)
				}
				yes[k] += v
				sum += v
			} else {
				no[k] += v
			}
		}
	}
	apart := 0.0
	for _, k := range values {
		if yes[k] > no[k] {
			apart += yes[k]
		}
	}
	return sum > 0 && apart >= 0.5*sum
}

func narrow(r drawing.Role) bool { return !demands(r)[0].wide }

// chooseWidths finds what tells wide lines from narrow ones.
func (j *judge) chooseWidths() {
	type weighted struct{ v, w float64 }
	var wide, thin []weighted
	for i := range j.looks {
		l := &j.looks[i]
		for r, v := range l.votes {
			switch {
			case v == 0 || broken(drawing.Role(r)) && j.dashes == byLineType:
			case narrow(drawing.Role(r)):
				thin = append(thin, weighted{float64(weightOf(l)), v})
			default:
				wide = append(wide, weighted{float64(weightOf(l)), v})
			}
		}
	}
	if len(wide) == 0 || len(thin) == 0 {
		j.widths = noTrait
		return
	}
	j.mixed = true
	middle := func(all []weighted) float64 {
		slices.SortFunc(all, func(a, b weighted) int { return byCover(b.v, a.v) })
		sum, at := 0.0, 0.0
		for _, x := range all {
			sum += x.w
		}
		for _, x := range all {
			if at += x.w; at >= sum/2 {
				return x.v
			}
		}
		return 0
	}
	w, n := middle(wide), middle(thin)
	if w > 1.15*n || n > 1.15*w {
		j.widths, j.limit, j.exchanged = byWeight, math.Sqrt(w*n), n > w
		return
	}
	for _, t := range [...]trait{byColour, byLayer} {
		if j.separates(t, narrow) {
			j.widths = t
			return
		}
	}
}

// without returns the votes for values of a trait, but for a length of a role.
func (j *judge) without(t trait, value any, r drawing.Role, own float64, one func(drawing.Role) bool) (yes, no float64) {
	for i := range j.looks {
		l := &j.looks[i]
		if t.value(l) != value {
			continue
		}
		for q, v := range l.votes {
			if v == 0 {
				continue
			}
			if one(drawing.Role(q)) {
				yes += v
			} else {
				no += v
			}
		}
	}
	if one(r) {
		yes -= own
	} else {
		no -= own
	}
	return yes, no
}

// leastVotes is the length of other lines, mm on paper, from which they say
// what a look means.
const leastVotes = 2.0

// line judges a line of a role that is drawn with a look over a length, and
// says as what it is drawn.
func (j *judge) line(lookIndex int, r drawing.Role, own float64) (verdict, drawing.Role) {
	l := &j.looks[lookIndex]
	if j.given != nil {
		if as, ok := j.given.role(l.key); ok {
			if as == r {
				return right, r
			}
			return wrong, as
		}
	}
	want := demands(r)[0]
	is := demand{dash: l.dash, wide: want.wide}
	sure := true
	if j.dashes == byLineType {
		if l.dash == otherDash {
			return open, r
		}
	} else {
		is.dash, sure = j.dashBy(l, r, own)
	}
	if !sure {
		return open, r
	}
	if j.widths != noTrait && (is.dash == continuous || j.widths == byWeight) {
		is.wide, sure = j.wide(l, r, own)
	} else if j.mixed && is.dash == continuous {
		is.wide = true // all are drawn alike
	}
	if !sure {
		return open, r
	}
	if is == want {
		return right, r
	}
	return wrong, roleFor(is)
}

// dashBy tells by layer or colour as what a line is drawn.
func (j *judge) dashBy(l *look, r drawing.Role, own float64) (dash, bool) {
	if j.dashes == noTrait {
		return continuous, true
	}
	best, most := continuous, 0.0
	sum := 0.0
	for d := continuous; d <= double; d++ {
		yes, _ := j.without(j.dashes, j.dashes.value(l), r, own, func(q drawing.Role) bool { return demands(q)[0].dash == d })
		sum += max(yes, 0)
		if yes > most {
			best, most = d, yes
		}
	}
	return best, sum > leastVotes
}

// wide tells whether a line is drawn wide.
func (j *judge) wide(l *look, r drawing.Role, own float64) (is, sure bool) {
	if j.widths == byWeight {
		return float64(weightOf(l)) >= j.limit, true
	}
	thin, wide := j.without(j.widths, j.widths.value(l), r, own, narrow)
	return wide > thin, wide+thin > leastVotes
}

// roleFor returns the role that is drawn like this.
func roleFor(d demand) drawing.Role {
	switch d.dash {
	case dashed:
		return drawing.RoleHidden
	case double:
		return drawing.RoleAdjacent
	case chain:
		if d.wide {
			return drawing.RoleCutting
		}
		return drawing.RoleCentre
	}
	if d.wide {
		return drawing.RoleOutline
	}
	return drawing.RoleThin
}
