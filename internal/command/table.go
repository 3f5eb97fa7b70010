package command

import (
	"fmt"

	"boltplate/drawing"
	"boltplate/fastener"
)

type tableCommand struct {
	partArguments
	formatArgument
}

type tableJSON struct {
	Kind        string         `json:"kind"`
	Designation string         `json:"designation"`
	Basis       string         `json:"basis"`
	Quantities  []quantityJSON `json:"quantities"`
	Cautions    []string       `json:"cautions,omitempty"`
}

type quantityJSON struct {
	Letter string  `json:"letter"`
	Name   string  `json:"name"`
	Rule   string  `json:"rule"`
	Value  float64 `json:"value"`
	Unit   string  `json:"unit"`
	Source string  `json:"source"`
	Status string  `json:"status"`
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
	row, err := c.row(nil)
	if err != nil {
		return err
	}
	f := row.Fastener
	quantities, err := f.Quantities()
	if err != nil {
		return err
	}
	header := []string{"letter", "name", "rule", "value", "unit", "source", "status"}
	switch c.Format {
	case "json":
		t := tableJSON{Kind: f.Kind(), Designation: f.Designation(), Basis: row.Spec.Basis.String(), Cautions: cautions(f)}
		for _, q := range quantities {
			t.Quantities = append(t.Quantities, quantityJSON{q.Letter, q.Name, q.RuleText(),
				rounded(q.Value, dataDecimals), q.Unit.String(), q.Source, q.Status.String()})
		}
		return writeJSON(e.stdout, t)
	case "csv":
		return writeCSV(e.stdout, header, quantityRows(quantities, dataDecimals))
	}
	if _, err := fmt.Fprintf(e.stdout, "%s, by %s\n\n", f.Designation(), row.Spec.Basis); err != nil {
		return err
	}
	if err := writeText(e.stdout, header, quantityRows(quantities, textDecimals)); err != nil {
		return err
	}
	for i, line := range cautions(f) {
		if i == 0 {
			line = "\n" + line
		}
		if _, err := fmt.Fprintln(e.stdout, line); err != nil {
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

func quantityRows(quantities []drawing.Quantity, decimals int) [][]string {
	rows := make([][]string, len(quantities))
	for i, q := range quantities {
		rows[i] = []string{q.Letter, q.Name, q.RuleText(), decimal(q.Value, decimals), q.Unit.String(), q.Source, q.Status.String()}
	}
	return rows
}
