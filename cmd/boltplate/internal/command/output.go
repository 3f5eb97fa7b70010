package command

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"text/tabwriter"

	"boltplate/fastener"
)

type formatArgument struct {
	Format string `placeholder:"NAME" default:"text" help:"Form of the output: text (the default), csv or json."`
}

func (a formatArgument) check() error {
	formats := []string{"text", "csv", "json"}
	for _, f := range formats {
		if a.Format == f {
			return nil
		}
	}
	if near := fastener.Nearest(a.Format, formats); near != "" {
		return fmt.Errorf("--format %s: no such form; did you mean %s?", a.Format, near)
	}
	return fmt.Errorf("--format %s: no such form; use text, csv or json", a.Format)
}

// writeText writes a table whose columns line up. Headings may be nil.
func writeText(w io.Writer, headings []string, rows [][]string) error {
	var buf bytes.Buffer
	tw := tabwriter.NewWriter(&buf, 0, 0, 2, ' ', 0)
	if headings != nil {
		fmt.Fprintln(tw, strings.Join(headings, "\t"))
	}
	for _, row := range rows {
		cells := make([]string, len(row))
		for i, cell := range row {
			cells[i] = visible(cell)
		}
		fmt.Fprintln(tw, strings.Join(cells, "\t"))
	}
	tw.Flush()
	for line := range bytes.Lines(buf.Bytes()) {
		// Blank cells at the end of a row leave blanks behind.
		line = append(bytes.TrimRight(line, " \n"), '\n')
		if _, err := w.Write(line); err != nil {
			return err
		}
	}
	return nil
}

func writeCSV(w io.Writer, header []string, rows [][]string) error {
	cw := csv.NewWriter(w)
	cw.Write(header)
	cw.WriteAll(rows)
	return cw.Error()
}

func writeJSON(w io.Writer, v any) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	return e.Encode(v)
}

// rounded returns v with at most the given number of decimals.
func rounded(v float64, decimals int) float64 {
	k := math.Pow10(decimals)
	return math.Round(v*k)/k + 0 // never -0
}

func decimal(v float64, decimals int) string {
	return strconv.FormatFloat(rounded(v, decimals), 'f', -1, 64)
}
