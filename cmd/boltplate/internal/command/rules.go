package command

import (
	"fmt"

	"boltplate/fastener"
	"boltplate/settings"
)

type rulesCommand struct {
	Names []string `arg:"" optional:"" predictor:"kind" placeholder:"KIND" help:"Kinds whose rules are listed, all of them where none is named; or the name of a set that comes with the program: ours, textbook."`
}

// Run prints rules as a file that --rules takes.
func (c *rulesCommand) Run(e *env) error {
	var kinds []fastener.KindInfo
	for _, name := range c.Names {
		if text, ok := settings.Ruleset(name); ok {
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
	_, err := e.stdout.Write([]byte(settings.RulesFile("own rules", kinds)))
	return err
}

// rulesArgument is what every command has that draws or lists sizes.
type rulesArgument struct {
	Rules string `placeholder:"FILE.toml" help:"Rules of your own in the place of ours, as boltplate rules prints them; - for standard input; textbook for those of the customary textbooks."`
}

// load returns the rules that the argument names, or nil. What reads standard
// input otherwise is used, "" for nothing.
func (a rulesArgument) load(l *settings.RulesLoader, used string) (*fastener.Rules, error) {
	switch {
	case a.Rules == "":
		return nil, nil
	case a.Rules == stdStream && used != "":
		return nil, fmt.Errorf("--rules -: standard input has the %s; give the rules as a file", used)
	case a.Rules == stdStream:
		name, text, err := l.Open(stdStream)
		if err != nil {
			return nil, err
		}
		return settings.ReadRules(name, text)
	}
	return l.Load(a.Rules, "")
}

// stdinUse names what reads standard input, or nothing.
func stdinUse(file, what string) string {
	if file == stdStream {
		return what
	}
	return ""
}
