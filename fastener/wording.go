package fastener

import (
	"slices"
	"strings"

	"boltplate/drawing"
	"boltplate/rule"
)

// A wording finds what the dimensions of a figure say where they say rules: each
// rule in D, L and P where that is short enough, and otherwise in letters that
// the key beside the figure explains.
type wording struct {
	qs     []drawing.Quantity
	system *rule.System // nil where the rules cannot be put in an order
	solved bool         // system is settled
}

func newWording(qs []drawing.Quantity) *wording { return &wording{qs: qs} }

// solve puts the rules in an order, where that is needed.
func (w *wording) solve() *rule.System {
	if w.solved {
		return w.system
	}
	w.solved = true
	qs := w.qs
	var given []string
	var rules []rule.Named
	for _, q := range qs {
		if q.Rule == nil {
			given = append(given, q.Letter)
		} else {
			rules = append(rules, rule.Named{Letter: q.Letter, Rule: q.Rule})
		}
	}
	for _, r := range rules { // of a nut or a washer not all letters are listed
		for _, l := range r.Rule.Letters() {
			if !slices.ContainsFunc(qs, func(q drawing.Quantity) bool { return q.Letter == l }) &&
				!slices.Contains(given, l) {
				given = append(given, l)
			}
		}
	}
	w.system, _ = rule.NewSystem(given, rules)
	return w.system
}

// quantity returns that of a letter.
func (w *wording) quantity(letter string) (drawing.Quantity, bool) {
	i := slices.IndexFunc(w.qs, func(q drawing.Quantity) bool { return q.Letter == letter })
	if i < 0 {
		return drawing.Quantity{}, false
	}
	return w.qs[i], true
}

// Lengths of a rule, in characters: that of a label in letters that everybody
// knows, and in others; and of a line of the key.
const (
	mostPlain    = 16
	mostLettered = 14
	mostInKey    = 44
)

// plain reports whether a rule has no letters but D, L and P.
func plain(e *rule.Expr) bool {
	for _, l := range e.Letters() {
		if l != "D" && l != "L" && l != "P" {
			return false
		}
	}
	return true
}

// resolved returns the rule of a letter with other rules put into it, or nil.
func (w *wording) resolved(letter string) *rule.Expr {
	system := w.solve()
	if system == nil {
		return nil
	}
	e, err := system.Inline(letter)
	if err != nil {
		return nil
	}
	if own, ok := system.Rule(letter); ok && decimals(e) > max(mostDecimals, decimals(own.Rule)) {
		return nil
	}
	return e
}

// mostDecimals are those of a factor that one wants to read, unless the rule
// itself has more.
const mostDecimals = 3

// decimals returns those of the number in a rule that has most.
func decimals(e *rule.Expr) (most int) {
	n, behind := 0, false
	for _, c := range e.String() {
		switch {
		case c == '.':
			n, behind = 0, true
		case behind && c >= '0' && c <= '9':
			n++
			most = max(most, n)
		default:
			behind = false
		}
	}
	return most
}

// rule returns what a dimension says: nil for its letter. In parentheses no rule
// begins with one.
func (w *wording) rule(letter string, own *rule.Expr, reference bool) *rule.Expr {
	if own == nil {
		return nil
	}
	if plain(own) && own.Len() <= mostPlain && !reference {
		return own
	}
	full := w.resolved(letter)
	fits := func(e *rule.Expr, most int) bool {
		return e != nil && e.Len() <= most && !(reference && strings.HasPrefix(e.String(), "("))
	}
	switch {
	case fits(full, mostPlain) && plain(full):
		return full
	case fits(full, mostLettered):
		return full
	case fits(own, mostLettered):
		return own
	}
	return nil
}

// relabel gives the dimensions of a view the rules that they say.
func (w *wording) relabel(items []drawing.Item) {
	for i := range items {
		items[i].Shape = drawing.Relabel(items[i].Shape, func(l drawing.Label) drawing.Label {
			own := l.Quantity.Rule
			if q, ok := w.quantity(l.Quantity.Letter); ok {
				own = q.Rule
			}
			l.Quantity.Rule = w.rule(l.Quantity.Letter, own, l.Reference)
			return l
		})
	}
}

// worded gives the dimensions of a view their rules, where it says rules.
func worded(v drawing.View, opt Options, quantities func() []drawing.Quantity) drawing.View {
	if opt.Style.Labels == drawing.Rules {
		newWording(quantities()).relabel(v.Items)
	}
	return v
}
