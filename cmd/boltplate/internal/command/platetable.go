package command

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
func (r *plateReader) tabulatedFigure(t *figureTable) (sheet.Figure, bool) {
	list, ok := t.keys["sizes"].([]any)
	if !ok || len(list) == 0 || len(list) > 200 {
		r.failAt(t, "sizes", `sizes: must be a list of 1 to 200 designations, such as ["M8", "M10", "M12"]`)
		return sheet.Figure{}, false
	}
	if _, both := t.keys["size"]; both {
		r.failAt(t, "size", "size: the figure has sizes; leave one of them out")
		return sheet.Figure{}, false
	}
	var all []fastener.Fastener
	var middle fastener.DrawOptions
	for i, one := range list {
		keys := maps.Clone(t.keys)
		keys["size"] = one
		row, ok := r.row(&figureTable{index: t.index, keys: keys, stand: map[string]string{"size": "sizes"}}, "sizes")
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
		middle.Projection = r.projection
	}
	figure := fastener.Figure{Fastener: shown, Options: middle}
	table, err := sizeTable(figure, all, r.plate.Style.DecimalComma)
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
// A rule that all of them have stands in the head of its column.
func sizeTable(shown fastener.Figure, all []fastener.Fastener, comma bool) (notedTable, error) {
	letters, err := shownLetters(shown)
	if err != nil {
		return notedTable{}, err
	}
	t := sheet.Table{Headings: []string{"Size"}, Right: []bool{false}, Answer: []bool{false}}
	rules := make([][]string, len(letters))
	var tabled []drawing.Quantity
	for _, f := range all {
		qs, err := f.Quantities()
		if err != nil {
			return notedTable{}, err
		}
		cells := []string{f.Designation()}
		for i, letter := range letters {
			value := ""
			if j := slices.IndexFunc(qs, func(q drawing.Quantity) bool { return q.Letter == letter }); j >= 0 {
				value = drawing.FormatValue(qs[j].Value, comma)
				if qs[j].Unit == drawing.Degree {
					value += "°"
				}
				value += strings.TrimSpace(memoryMark(qs[j]))
				tabled = append(tabled, qs[j])
				rules[i] = append(rules[i], qs[j].RuleText())
			}
			cells = append(cells, value)
		}
		t.Rows = append(t.Rows, cells)
	}
	for i, letter := range letters {
		head := letter
		if one := slices.Compact(slices.Clone(rules[i])); len(one) == 1 && len(rules[i]) == len(all) && one[0] != "table" {
			head += "\n" + one[0]
		}
		t.Headings, t.Right, t.Answer = append(t.Headings, head), append(t.Right, true), append(t.Answer, true)
	}
	return notedTable{t, tableNotes(tabled)}, nil
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
