package command

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/fastener/schedule"
)

type tableCommand struct {
	partArguments
	formatArgument
	Working bool `help:"Show how each size is worked out: A = 2D = 2 × 20 = 40 mm."`
	Limits  bool `help:"List the limits that the standard states, where they are held."`
}

type tableJSON struct {
	Kind        string         `json:"kind"`
	Designation string         `json:"designation"`
	Basis       string         `json:"basis"`
	Rules       string         `json:"rules,omitempty"` // the name of rules of one's own
	Class       string         `json:"class,omitempty"`
	Made        string         `json:"made,omitempty"`
	Finish      string         `json:"finish,omitempty"`
	Quantities  []quantityJSON `json:"quantities"`
	Editions    []string       `json:"editions,omitempty"` // which have newer ones
	Cautions    []string       `json:"cautions,omitempty"`
}

type quantityJSON struct {
	Letter  string   `json:"letter"`
	Name    string   `json:"name"`
	Rule    string   `json:"rule"`
	Value   float64  `json:"value"`
	Unit    string   `json:"unit"`
	Min     *float64 `json:"min,omitempty"` // limits of the standard, where they are held
	Max     *float64 `json:"max,omitempty"`
	Working string   `json:"working,omitempty"`
	Source  string   `json:"source"`
	Status  string   `json:"status"`
	Set     string   `json:"set,omitempty"` // the rules of one's own that the rule is of
}

// The decimals of values: in text as many as a reader wants, and in what a
// program reads enough to calculate with.
const (
	textDecimals = 3
	dataDecimals = 6
)

func (c *tableCommand) Run(e *env) error {
	if err := c.check(); err != nil {
		return err
	}
	row, err := c.row(e, nil)
	if err != nil {
		return err
	}
	f := row.Fastener
	quantities, err := f.Quantities()
	if err != nil {
		return err
	}
	t := tabled{quantities: quantities, working: c.Working, limits: c.Limits}
	switch c.Format {
	case "json":
		return writeJSON(e.stdout, t.json(row))
	case "csv":
		t.decimals = dataDecimals
		return writeCSV(e.stdout, t.header(), t.rows())
	}
	t.decimals = textDecimals
	if _, err := fmt.Fprintf(e.stdout, "%s, by %s\n\n", f.Designation(), row.Spec.Basis); err != nil {
		return err
	}
	if err := writeText(e.stdout, t.header(), t.rows()); err != nil {
		return err
	}
	return writeNotes(e.stdout, append(t.notes(), cautions(f)...))
}

// writeNotes writes lines under a table.
func writeNotes(w io.Writer, lines []string) error {
	for i, line := range lines {
		if i == 0 {
			line = "\n" + line
		}
		if _, err := fmt.Fprintln(w, line); err != nil {
			return err
		}
	}
	return nil
}

func cautions(f fastener.Fastener) []string {
	if c, ok := f.(fastener.Cautious); ok {
		return c.Cautions()
	}
	return nil
}

// tabled is the sizes of a part as they are listed.
type tabled struct {
	quantities      []drawing.Quantity
	working, limits bool
	decimals        int
}

func (t tabled) header() []string {
	h := []string{"letter", "name", "rule", "value", "unit"}
	if t.limits {
		h = append(h, "min", "max")
	}
	if t.working {
		h = append(h, "working")
	}
	return append(h, "source", "status")
}

func (t tabled) rows() [][]string {
	rows := make([][]string, len(t.quantities))
	for i, q := range t.quantities {
		row := []string{q.Letter, q.Name, q.RuleText(), decimal(q.Value, t.decimals), q.Unit.String()}
		if t.limits {
			row = append(row, limit(q.Min, t.decimals), limit(q.Max, t.decimals))
		}
		if t.working {
			row = append(row, q.Working(t.quantities, textDecimals))
		}
		rows[i] = append(row, q.Source, q.Status.String())
	}
	return rows
}

func limit(v float64, decimals int) string {
	if v == 0 {
		return ""
	}
	return decimal(v, decimals)
}

// notes says which rules of one's own the sizes follow, and which figures are of
// an edition that has a successor.
func (t tabled) notes() []string {
	var out, sources []string
	for _, q := range t.quantities {
		sources = append(sources, q.Source)
		if q.Set == "" {
			continue
		}
		if i := slices.IndexFunc(out, func(s string) bool { return strings.HasPrefix(s, "By "+q.Set+":") }); i >= 0 {
			out[i] += ", " + q.Letter
		} else {
			out = append(out, "By "+q.Set+": "+q.Letter)
		}
	}
	return append(out, editionNotes(sources)...)
}

// editionNotes says of which editions figures are that have newer ones.
func editionNotes(sources []string) []string {
	var out []string
	for _, e := range fastener.Superseded(sources...) {
		out = append(out, fmt.Sprintf("%s: the figures are of the edition of %s; there is one of %s (%s)", e.Standard, e.Edition, e.Newer, e.Seen))
	}
	return out
}

func (t tabled) json(row schedule.Row) tableJSON {
	s := row.Spec
	out := tableJSON{Kind: row.Fastener.Kind(), Designation: row.Fastener.Designation(), Basis: s.Basis.String(),
		Rules: s.Rules.Name(), Class: s.Class, Made: s.Made, Finish: s.Finish, Cautions: cautions(row.Fastener)}
	var sources []string
	for _, q := range t.quantities {
		sources = append(sources, q.Source)
		out.Quantities = append(out.Quantities, quantityJSON{q.Letter, q.Name, q.RuleText(), rounded(q.Value, dataDecimals), q.Unit.String(),
			limitJSON(q.Min), limitJSON(q.Max), q.Working(t.quantities, textDecimals), q.Source, q.Status.String(), q.Set})
	}
	out.Editions = editionNotes(sources)
	return out
}

func limitJSON(v float64) *float64 {
	if v == 0 {
		return nil
	}
	v = rounded(v, dataDecimals)
	return &v
}
