package fastener

import (
	"slices"
	"strings"

	"boltplate/rule"
)

// Rules are rules of one's own, those of a college or an office, in the place of
// the proportions that the kinds have. They hold for the sizes of basis
// Proportion, and on basis Standard for those that no standard has; what follows
// from others, the figures of the thread, and what a standard states stay as
// they are. They do not change and may be used by many goroutines at once.
//
// Where a set gives one of the two widths of a hexagon, that one governs. Where
// it gives both, or none, Governs says which is kept, and the other one is listed
// as what follows. Where it gives the arc R of a hexagon's chamfer, the angle of
// the chamfer follows from that.
type Rules struct {
	set      rule.Set
	groups   map[groupKey][]size
	variants map[variantKey]rule.Applied
}

type variantKey struct{ kind, word string }

type groupKey struct {
	variantKey
	g *group
}

// A variant is a form of a kind that has rules of its own.
type variant struct {
	word     string   // what tells it from others of the kind, "60" or "collar"; "" where nothing must
	families []string // that it belongs to, the nearest first
	groups   []*group // what is known before the thread
	thread   *group   // the length of the thread; may be nil
	given    []string // letters that a standard's table gives
	other    bool     // it sets the same part out by other sizes, and is not listed
}

// name returns what a set calls a variant.
func (v variant) name(kind string) string {
	if v.word == "" {
		return kind
	}
	return kind + " " + v.word
}

// scopes returns the rules of a variant: those known before the thread, and
// that of its length.
func (v variant) scopes(k KindInfo) []rule.Scope {
	first := rule.Scope{Kind: v.name(k.Name), Given: []string{"D"}, Rules: namedOf(v.groups...)}
	if v.word != "" {
		first.Families = append(first.Families, k.Name)
	}
	first.Families = append(first.Families, v.families...)
	if !slices.Contains(v.families, familyWashers) {
		first.Given = append(first.Given, "P")
	}
	// a bolt with a collar eye has a length of its own
	makes := func(r rule.Named) bool { return r.Letter == "L" }
	if k.Length && !slices.ContainsFunc(first.Rules, makes) {
		first.Given = append(first.Given, "L")
	}
	first.Given = append(first.Given, v.given...)
	if v.thread == nil {
		return []rule.Scope{first}
	}
	second := first
	second.Given = slices.Clone(first.Given)
	for _, r := range first.Rules {
		second.Given = append(second.Given, r.Letter)
	}
	second.Rules = namedOf(v.thread)
	return []rule.Scope{first, second}
}

func namedOf(groups ...*group) []rule.Named {
	var out []rule.Named
	for _, g := range groups {
		for _, s := range g.sizes {
			out = append(out, rule.Named{Letter: s.letter, Name: s.name, Rule: s.rule,
				Source: strings.TrimSuffix(s.source, governs), Status: s.status, Fixed: s.fixed})
		}
	}
	return out
}

// NewRules checks a set against all kinds and returns its rules. The error names
// each entry that is wrong: a *rule.EntryError each, joined.
func NewRules(set rule.Set) (*Rules, error) {
	set.Entries = slices.Clone(set.Entries)
	var all []rule.Scope
	for _, k := range kinds {
		for _, v := range k.variants {
			all = append(all, v.scopes(k)...)
		}
	}
	if err := set.Check(all...); err != nil {
		return nil, err
	}
	r := &Rules{set: set, groups: map[groupKey][]size{}, variants: map[variantKey]rule.Applied{}}
	for _, k := range kinds {
		for _, v := range k.variants {
			if err := r.apply(k, v); err != nil {
				return nil, err
			}
		}
	}
	return r, nil
}

// apply puts the rules of the set into the groups of a variant.
func (r *Rules) apply(k KindInfo, v variant) error {
	key := variantKey{k.Name, v.word}
	groups := v.groups
	if v.thread != nil {
		groups = append(slices.Clone(groups), v.thread)
	}
	whole := r.variants[key]
	for _, scope := range v.scopes(k) {
		a, err := r.set.Apply(scope)
		if err != nil {
			return err
		}
		whole.Named, whole.Changed = append(whole.Named, a.Named...), append(whole.Changed, a.Changed...)
		for _, g := range groups {
			at := groupKey{key, g}
			if r.groups[at] == nil {
				r.groups[at] = slices.Clone(g.sizes)
			}
			for i := range r.groups[at] {
				r.replace(&r.groups[at][i], a)
			}
		}
	}
	r.variants[key] = whole
	return nil
}

// replace gives a size the rule that the set has for it.
func (r *Rules) replace(s *size, a rule.Applied) {
	if !slices.Contains(a.Named, s.letter) {
		return
	}
	n, _ := a.System.Rule(s.letter)
	changed := slices.Contains(a.Changed, s.letter)
	if !changed && (n.Source == r.set.Source || n.Source == r.set.Name) {
		return // our source says more
	}
	s.source, s.status = n.Source, n.Status
	if s.governs {
		s.source += governs
	}
	if !changed {
		return
	}
	s.rule, s.set, s.forms = n.Rule, r.set.Name, nil
	if text := n.Rule.String(); strings.Contains(text, "upto(") || strings.Contains(text, "near(") {
		s.forms = []*rule.Expr{} // which one holds is found out for each size
	}
}

// Name returns the name of the set, or "" for none.
func (r *Rules) Name() string {
	if r == nil {
		return ""
	}
	return r.set.Name
}

// sizes returns a group as it is in a variant of a kind. The nil Rules are none.
func (r *Rules) sizes(kind, word string, g *group) []size {
	if r != nil {
		if own, ok := r.groups[groupKey{variantKey{kind, word}, g}]; ok {
			return own
		}
	}
	return g.sizes
}

// gives reports whether the set has a rule for a letter of a variant of a kind,
// and changes whether that is another one than ours.
func (r *Rules) gives(kind, word, letter string) bool {
	return r != nil && slices.Contains(r.variants[variantKey{kind, word}].Named, letter)
}

func (r *Rules) changes(kind, word, letter string) bool {
	return r != nil && slices.Contains(r.variants[variantKey{kind, word}].Changed, letter)
}

// A RuleTable is the rules of a kind, or of a variant of one, as a set names
// them.
type RuleTable struct {
	Of       string       // the kind, or the kind and a word for the variant, as "stud cast-iron"
	Families []string     // that it belongs to, the nearest first
	Given    []string     // letters that its rules may use besides their own
	Rules    []rule.Named // those that a set can change
}

// Table returns the rules of a kind that a set can change, those in which its
// variants differ each in a table of its own.
func (k KindInfo) Table() []RuleTable {
	given := []string{"D", "P"}
	if k.Length {
		given = append(given, "L")
	}
	tables := []RuleTable{{Of: k.Name, Given: given}}
	for _, v := range k.variants {
		for _, f := range v.families {
			if !slices.Contains(tables[0].Families, f) {
				tables[0].Families = append(tables[0].Families, f)
			}
		}
	}
	for _, v := range k.variants {
		if !v.other {
			tables = v.list(k, tables)
		}
	}
	return slices.DeleteFunc(tables, func(t RuleTable) bool { return t.Rules == nil })
}

// list adds the rules of a variant to the tables of its kind: to the first one
// where all variants have them, in the order of the variant, and else to one of
// its own.
func (v variant) list(k KindInfo, tables []RuleTable) []RuleTable {
	own := slices.IndexFunc(tables, func(t RuleTable) bool { return t.Of == v.name(k.Name) })
	at := 0 // where the rules of the variant have come to in the first table
	for _, r := range v.rules() {
		if i := tables[0].index(r.Letter); i >= 0 {
			at = i + 1
			continue
		}
		switch {
		case r.Fixed:
		case k.alike(r):
			tables[0].Rules = slices.Insert(tables[0].Rules, at, r)
			at++
		default:
			if own < 0 {
				own, tables = len(tables), append(tables, RuleTable{Of: v.name(k.Name), Families: v.families,
					Given: tables[0].Given})
			}
			if tables[own].index(r.Letter) < 0 {
				tables[own].Rules = append(tables[own].Rules, r)
			}
		}
	}
	return tables
}

// index returns where the rule of a letter is, or -1.
func (t RuleTable) index(letter string) int {
	return slices.IndexFunc(t.Rules, func(r rule.Named) bool { return r.Letter == letter })
}

// rules returns all rules of a variant.
func (v variant) rules() []rule.Named {
	groups := v.groups
	if v.thread != nil {
		groups = append(slices.Clone(groups), v.thread)
	}
	return namedOf(groups...)
}

// alike reports whether all variants of the kind that have the letter have the
// same rule for it.
func (k KindInfo) alike(r rule.Named) bool {
	for _, v := range k.variants {
		if v.other {
			continue
		}
		for _, o := range v.rules() {
			if o.Letter == r.Letter && !o.Fixed && (!o.Rule.Equal(r.Rule) || o.Source != r.Source ||
				o.Status != r.Status) {
				return false
			}
		}
	}
	return true
}

// Families of kinds, for rules of one's own that hold for all of them.
const (
	familyHexHeads    = "hexagon heads"
	familySquareHeads = "square heads"
	familySunkHeads   = "countersunk heads"
	familyHexNuts     = "hexagon nuts"
	familySquareNuts  = "square nuts"
	familyHexagons    = "hexagons"
	familySquares     = "squares"
	familyBolts       = "bolts"
	familyScrews      = "screws"
	familyStuds       = "studs"
	familyNuts        = "nuts"
	familyWashers     = "washers"
)

func hexHeadFamilies() []string    { return []string{familyHexHeads, familyHexagons, familyBolts} }
func squareHeadFamilies() []string { return []string{familySquareHeads, familySquares, familyBolts} }
func hexNutFamilies() []string     { return []string{familyHexNuts, familyHexagons, familyNuts} }
func squareNutFamilies() []string  { return []string{familySquareNuts, familySquares, familyNuts} }
