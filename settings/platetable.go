package settings

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"boltplate/drawing"
	"boltplate/drawing/sheet"
	"boltplate/fastener"
)

// A tabulated figure is one lettered figure for several sizes, with a table of
// what the letters measure.
type tabulated struct {
	figure fastener.Figure
	table  notedTable
}

// Draw returns the figure with its table below it, in one drawing.
func (t tabulated) Draw(st drawing.Style) (*drawing.Drawing, error) { return sheet.Compact(t, st) }

// Content returns the figure and the table as blocks of a sheet.
func (t tabulated) Content(st drawing.Style) (*sheet.Content, error) {
	st.Labels, st.NoKey = drawing.Letters, true // the table is the key
	d, err := t.figure.Draw(st)
	if err != nil {
		return nil, err
	}
	return &sheet.Content{Drawing: d, Blocks: t.table.blocks()}, nil
}

// tabulatedFigure reads kind with sizes, a list of designations.
func (r *Plate) tabulatedFigure(t *figureTable) (sheet.Figure, bool) {
	list, ok := t.keys["sizes"].([]any)
	if !ok || len(list) == 0 || len(list) > 200 {
		r.failAt(t, "sizes", `sizes: must be a list of 1 to 200 designations, such as ["M8", "M10", "M12"]`)
		return sheet.Figure{}, false
	}
	if _, both := t.keys["size"]; both {
		r.failAt(t, "size", "size: the figure has sizes; leave one of them out")
		return sheet.Figure{}, false
	}
	limits, ok := t.keys["limits"].(bool)
	if _, given := t.keys["limits"]; given && !ok {
		r.failAt(t, "limits", "limits: must be true or false")
		return sheet.Figure{}, false
	}
	var all []fastener.Fastener
	var middle fastener.DrawOptions
	for i, one := range list {
		keys := maps.Clone(t.keys)
		keys["size"] = one
		row, ok := r.row(&figureTable{index: t.index, keys: keys, stand: map[string]string{"size": "sizes"}}, "sizes", "limits")
		if !ok {
			return sheet.Figure{}, false
		}
		if i == len(list)/2 {
			middle = row.Options
		}
		all = append(all, row.Fastener)
	}
	shown := all[len(all)/2]
	middle.Caption = nil
	if _, method := t.keys["projection"]; !method {
		middle.Projection = r.Projection
	}
	figure := fastener.Figure{Fastener: shown, Options: middle}
	table, err := sizeTable(figure, all, limits, r.Sheet.Style.DecimalComma)
	if err != nil {
		r.failAt(t, "sizes", "sizes: %v", err)
		return sheet.Figure{}, false
	}
	name, sizes := common(all)
	for i := range table.table.Rows {
		table.table.Rows[i][0] = sizes[i]
	}
	return sheet.Figure{Source: tabulated{figure, table}, Caption: name}, true
}

// common divides the designations of fasteners into what all of them have, such
// as "Hexagon nut ISO 4032", and the rest of each, "M16".
func common(all []fastener.Fastener) (name string, rest []string) {
	first := all[0].Designation()
	n := strings.LastIndex(first, " M") + 1
	if n == 0 { // a washer is named by the number alone
		n = strings.LastIndex(first, " ") + 1
	}
	for _, f := range all {
		if d := f.Designation(); n > len(d) || d[:n] != first[:n] {
			n = 0
		}
	}
	for _, f := range all {
		rest = append(rest, f.Designation()[n:])
	}
	return strings.TrimRight(first[:n], " –-"), rest
}

// sizeTable returns a table of the letters of a figure, a row for each fastener.
// A rule that all of them have stands in the head of its column, and beside it,
// with limits, what the standard allows at least and at most.
func sizeTable(shown fastener.Figure, all []fastener.Fastener, limits, comma bool) (notedTable, error) {
	letters, err := shownLetters(shown)
	if err != nil {
		return notedTable{}, err
	}
	t := sheet.Table{Headings: []string{"Size"}, Right: []bool{false}, Answer: []bool{false}, Rows: make([][]string, len(all))}
	sizes := make([][]drawing.Quantity, len(all))
	for i, f := range all {
		if sizes[i], err = f.Quantities(); err != nil {
			return notedTable{}, err
		}
		t.Rows[i] = []string{f.Designation()}
	}
	var tabled []drawing.Quantity
	same := func(a, b func(drawing.Quantity) float64, qs []drawing.Quantity) bool {
		return !slices.ContainsFunc(qs, func(q drawing.Quantity) bool { return b(q) != 0 && a(q) != b(q) })
	}
	for _, letter := range letters {
		column := make([]drawing.Quantity, len(all))
		for i, qs := range sizes {
			if j := slices.IndexFunc(qs, func(q drawing.Quantity) bool { return q.Letter == letter }); j >= 0 {
				column[i] = qs[j]
				tabled = append(tabled, qs[j])
			}
		}
		if !slices.ContainsFunc(column, func(q drawing.Quantity) bool { return q.Status != drawing.Given }) {
			continue // the designation says it
		}
		addColumn(&t, heading(letter, column), func(i int) string {
			q := column[i]
			if q.Letter == "" {
				return ""
			}
			value := drawing.FormatValue(q.Value, comma)
			if q.Unit == drawing.Degree {
				value += "°"
			}
			return value + strings.TrimSpace(memoryMark(q))
		})
		for _, l := range []struct {
			word string
			of   func(drawing.Quantity) float64
		}{
			{"min", func(q drawing.Quantity) float64 { return q.Min }},
			{"max", func(q drawing.Quantity) float64 { return q.Max }},
		} {
			if !limits || !slices.ContainsFunc(column, func(q drawing.Quantity) bool { return l.of(q) != 0 }) || same(func(q drawing.Quantity) float64 { return q.Value }, l.of, column) {
				continue
			}
			addColumn(&t, letter+"\n"+l.word, func(i int) string {
				if v := l.of(column[i]); v != 0 {
					return drawing.FormatValue(v, comma)
				}
				return ""
			})
		}
	}
	return notedTable{t, tableNotes(tabled)}, nil
}

// addColumn adds a column of numbers to a table.
func addColumn(t *sheet.Table, head string, cell func(row int) string) {
	t.Headings, t.Right, t.Answer = append(t.Headings, head), append(t.Right, true), append(t.Answer, true)
	for i := range t.Rows {
		t.Rows[i] = append(t.Rows[i], cell(i))
	}
}

// heading returns a letter, and below it the rule where all sizes have the same.
func heading(letter string, column []drawing.Quantity) string {
	rule := column[0].RuleText()
	for _, q := range column {
		if q.Letter == "" || q.RuleText() != rule {
			return letter
		}
	}
	if rule == "table" {
		return letter
	}
	return letter + "\n" + rule
}

// shownLetters returns the letters that the dimensions of a figure say, in the
// order of the quantities of its fastener.
func shownLetters(f fastener.Figure) ([]string, error) {
	d, err := f.Draw(drawing.Style{Labels: drawing.Letters})
	if err != nil {
		return nil, err
	}
	seen := sheet.Letters(d)
	qs, err := f.Fastener.Quantities()
	if err != nil {
		return nil, err
	}
	var letters []string
	for _, q := range qs {
		if slices.Contains(seen, q.Letter) && !slices.Contains(letters, q.Letter) {
			letters = append(letters, q.Letter)
		}
	}
	if len(letters) == 0 {
		return nil, fmt.Errorf("a figure of %s has no letters", f.Fastener.Designation())
	}
	return letters, nil
}
