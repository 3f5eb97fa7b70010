package settings

import (
	"boltplate/fastener"
	"boltplate/fastener/schedule"
	"boltplate/rule"
	"embed"
	"errors"
	"fmt"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// The sets that come with the program: the rules of all kinds as they are, and
// those of the customary textbooks.
//
//go:embed rulesets/*.toml
var rulesets embed.FS

// RulesetNames returns the names of the sets that come with the program.
func RulesetNames() []string { return []string{"ours", "textbook"} }

// Ruleset returns a set that comes with the program.
func Ruleset(name string) (string, bool) {
	if !slices.Contains(RulesetNames(), name) {
		return "", false
	}
	data, err := rulesets.ReadFile(path.Join("rulesets", name+".toml"))
	return string(data), err == nil
}

// RulesFile writes the rules of kinds as a file of rules.
func RulesFile(name string, kinds []fastener.KindInfo) string {
	var b strings.Builder
	b.WriteString(`# Rules in the letters of the figures: D is the nominal diameter, P the pitch,
# L the length. A size that has no line here follows from others, or is a figure
# of the thread. What is left out stays as it is.
#
# What a line says after the # is its name and its source. A rule that is changed
# has the source of the file, or its own:
#
#     T = { rule = "0.75D", source = "course notes" }
#
# A line may also stand under a family, [bolts] or ["hexagon heads"], and then
# holds for all kinds of it. A drawing says the name of the set where it follows a
# rule that is not ours.
`)
	fmt.Fprintf(&b, "name = %s\n", strconv.Quote(name))
	for _, k := range kinds {
		for _, t := range k.Table() {
			fmt.Fprintf(&b, "\n[%s] # %s\n", tomlKey(t.Of), strings.Join(t.Families, ", "))
			writeRules(&b, t.Rules)
		}
	}
	return b.String()
}

// writeRules writes the lines of a table, one below the other.
func writeRules(b *strings.Builder, rules []rule.Named) {
	lines := make([]string, len(rules))
	wide := 0
	for i, r := range rules {
		lines[i] = fmt.Sprintf("%s = %s", tomlKey(r.Letter), strconv.Quote(r.Rule.String()))
		wide = max(wide, len([]rune(lines[i])))
	}
	for i, r := range rules {
		source := r.Source
		if s := r.Status.String(); !strings.Contains(source, s) {
			source += ", " + s
		}
		fmt.Fprintf(b, "%s%s  # %s; %s\n", lines[i], strings.Repeat(" ", wide-len([]rune(lines[i]))), r.Name, source)
	}
}

// A RulesLoader reads files of rules, each once.
type RulesLoader struct {
	Open  Opener
	known map[string]loadedRules
}

type loadedRules struct {
	rules *fastener.Rules
	err   error
}

// NewRulesLoader returns a loader that opens files with e. It is not safe for
// concurrent use.
func NewRulesLoader(e Opener) *RulesLoader { return &RulesLoader{e, map[string]loadedRules{}} }

// From returns what loads the rules that are named in a file: their names count
// from its folder.
func (l *RulesLoader) From(file string) func(string) (*fastener.Rules, error) {
	return func(name string) (*fastener.Rules, error) {
		rules, err := l.Load(name, filepath.Dir(file))
		var all schedule.Errors
		if errors.As(err, &all) && len(all) > 1 {
			err = fmt.Errorf("%w, and %d more errors", all[0], len(all)-1)
		}
		return rules, err
	}
}

// missing adds to the error of a file that is not there the sets that come with
// the program, where one of them may have been meant.
func (l *RulesLoader) missing(name string, err error) error {
	if filepath.Ext(name) != "" || strings.ContainsAny(name, `/\`) {
		return err
	}
	return fmt.Errorf("%w; %s, or give the name of a file", err, DidYouMean(name, RulesetNames()))
}

// Load returns the rules of a set that comes with the program, or of a file.
func (l *RulesLoader) Load(name, folder string) (*fastener.Rules, error) {
	text, built := Ruleset(strings.ToLower(name))
	at := name
	if !built && !filepath.IsAbs(name) {
		at = filepath.Join(folder, name)
	}
	if known, ok := l.known[at]; ok {
		return known.rules, known.err
	}
	var got loadedRules
	if !built {
		var err error
		if _, text, err = l.Open(at); err != nil {
			got.err = l.missing(name, err)
		}
	}
	if got.err == nil {
		got.rules, got.err = ReadRules(at, text)
	}
	l.known[at] = got
	return got.rules, got.err
}
