package command

import (
	"embed"
	"errors"
	"fmt"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"boltplate/fastener"
	"boltplate/fastener/schedule"
	"boltplate/rule"
)

type rulesCommand struct {
	Names []string `arg:"" optional:"" predictor:"kind" placeholder:"KIND" help:"Kinds whose rules are listed, all of them where none is named; or the name of a set that comes with the program: ours, textbook."`
}

// The sets that come with the program: the rules of all kinds as they are, and
// those of the customary textbooks.
//
//go:embed rulesets/*.toml
var rulesets embed.FS

// rulesetNames returns the names of the sets that come with the program.
func rulesetNames() []string { return []string{"ours", "textbook"} }

// ruleset returns a set that comes with the program.
func ruleset(name string) (string, bool) {
	if !slices.Contains(rulesetNames(), name) {
		return "", false
	}
	data, err := rulesets.ReadFile(path.Join("rulesets", name+".toml"))
	return string(data), err == nil
}

// Run prints rules as a file that --rules takes.
func (c *rulesCommand) Run(e *env) error {
	var kinds []fastener.KindInfo
	for _, name := range c.Names {
		if text, ok := ruleset(name); ok {
			if len(c.Names) > 1 {
				return fmt.Errorf("rules: %s is a set; name it alone", name)
			}
			_, err := e.stdout.Write([]byte(text))
			return err
		}
		k, err := fastener.KindNamed(name)
		if err != nil {
			return fmt.Errorf("rules: %w", err)
		}
		kinds = append(kinds, k)
	}
	if len(kinds) == 0 {
		kinds = fastener.Kinds()
	}
	_, err := e.stdout.Write([]byte(rulesFile("own rules", kinds)))
	return err
}

// rulesFile writes the rules of kinds as a file of rules.
func rulesFile(name string, kinds []fastener.KindInfo) string {
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

// rulesArgument is what every command has that draws or lists sizes.
type rulesArgument struct {
	Rules string `placeholder:"FILE.toml" help:"Rules of your own in the place of ours, as boltplate rules prints them; - for standard input; textbook for those of the customary textbooks."`
}

// load returns the rules that the argument names, or nil. What reads standard
// input otherwise is used, "" for nothing.
func (a rulesArgument) load(l *rulesLoader, used string) (*fastener.Rules, error) {
	switch {
	case a.Rules == "":
		return nil, nil
	case a.Rules == stdStream && used != "":
		return nil, fmt.Errorf("--rules -: standard input has the %s; give the rules as a file", used)
	case a.Rules == stdStream:
		name, text, err := l.env.readSettings(stdStream)
		if err != nil {
			return nil, err
		}
		return readRules(name, text)
	}
	return l.load(a.Rules, "")
}

// A rulesLoader reads files of rules, each once.
type rulesLoader struct {
	env   *env
	known map[string]loadedRules
}

type loadedRules struct {
	rules *fastener.Rules
	err   error
}

func newRulesLoader(e *env) *rulesLoader { return &rulesLoader{e, map[string]loadedRules{}} }

// from returns what loads the rules that are named in a file: their names count
// from its folder.
func (l *rulesLoader) from(file string) func(string) (*fastener.Rules, error) {
	return func(name string) (*fastener.Rules, error) {
		rules, err := l.load(name, filepath.Dir(file))
		var all schedule.Errors
		if errors.As(err, &all) && len(all) > 1 {
			err = fmt.Errorf("%w, and %d more errors", all[0], len(all)-1)
		}
		return rules, err
	}
}

// load returns the rules of a set that comes with the program, or of a file.
func (l *rulesLoader) load(name, folder string) (*fastener.Rules, error) {
	text, built := ruleset(strings.ToLower(name))
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
		if _, text, err = l.env.readSettings(at); err != nil {
			got.err = l.missing(name, err)
		}
	}
	if got.err == nil {
		got.rules, got.err = readRules(at, text)
	}
	l.known[at] = got
	return got.rules, got.err
}

// missing adds to the error of a file that is not there the sets that come with
// the program, where one of them may have been meant.
func (l *rulesLoader) missing(name string, err error) error {
	if filepath.Ext(name) != "" || strings.ContainsAny(name, `/\`) {
		return err
	}
	return fmt.Errorf("%w; %s, or give the name of a file", err, didYouMean(name, rulesetNames()))
}

// stdinUse names what reads standard input, or nothing.
func stdinUse(file, what string) string {
	if file == stdStream {
		return what
	}
	return ""
}
