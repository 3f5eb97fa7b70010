package settings

import (
	"errors"
	"slices"
	"strconv"
	"strings"

	"github.com/BurntSushi/toml"

	"boltplate/drawing"
	"boltplate/drawing/sheet"
	"boltplate/fastener"
	"boltplate/fastener/joint"
	"boltplate/fastener/schedule"
)

// A figureKind is a sort of figure: the key that tells it, and what reads it.
// The reader returns false where it has reported what is wrong. A new sort is
// one line in figureKinds and a method that returns any sheet.Source, which
// draws in millimetres of the part; components go into the figure where r.parts
// asks for them.
type figureKind struct {
	key  string
	read func(*Plate, *figureTable) (sheet.Figure, bool)
}

func figureKinds() []figureKind {
	return []figureKind{
		{"text", (*Plate).textFigure},
		{"sizes", (*Plate).tabulatedFigure},
		{"table", (*Plate).tableFigure},
		{"steps", nil}, // several figures, of a joint too
		{"joint", (*Plate).jointFigure},
		{"kind", (*Plate).fastenerFigure},
	}
}

// A figureTable is one [[figure]] of the file.
type figureTable struct {
	index int // from 0
	keys  map[string]any
	stand map[string]string // keys of the file that stand for others
	joint *joint.Joint      // in the place of that of the file
}

// commonKeys returns the keys that all sorts of figures have.
func commonKeys() []string {
	return []string{"caption", "scale", "labels", "row", "column", "page", "given", "ask"}
}

func (r *Plate) figures(value toml.Primitive) {
	var tables []map[string]any
	if err := r.md.PrimitiveDecode(value, &tables); err != nil {
		r.fail(value, "figure: not a list of tables; start each figure with a line [[figure]]")
		return
	}
	for i, keys := range tables {
		t := &figureTable{index: i, keys: keys}
		if !r.vary(t) {
			continue
		}
		kind, ok := r.sort(t)
		if !ok {
			continue
		}
		if kind.key == "steps" {
			r.stepFigures(t)
			continue
		}
		f, ok := kind.read(r, t)
		if r.common(t, &f) && ok {
			r.Sheet.Figures = append(r.Sheet.Figures, f)
		}
	}
}

// common reads the keys that all sorts of figures have, and reports whether they
// are right.
func (r *Plate) common(t *figureTable, f *sheet.Figure) bool {
	before := len(r.errs)
	r.figureText(t, "caption", &f.Caption)
	r.figureText(t, "ask", &f.Ask)
	f.Given = append(f.Given, r.figureLines(t, "given")...)
	if v, given := t.keys["scale"]; given {
		if k, ok := plateScale(v); !ok {
			r.failAt(t, "scale", `scale: %v: not a scale; write "auto", "1:2", "2:1" or 0.5`, inWords(v))
		} else if f.Scale = k; k == 0 {
			f.Scale = sheet.AutoScale
		}
	}
	if v, given := t.keys["labels"]; given && r.Labels == nil {
		s, _ := v.(string)
		l, err := drawing.ParseLabels(s)
		if err != nil {
			r.failAt(t, "labels", "labels: %v: no such choice; %s", inWords(v), DidYouMean(s, drawing.LabelsWords()))
		}
		f.Labels = &l
	}
	for key, to := range map[string]*int{"row": &f.Row, "column": &f.Column, "page": &f.Page} {
		v, given := t.keys[key]
		if !given {
			continue
		}
		n, ok := v.(int64)
		if !ok || n < 1 || n > sheet.AsNeeded {
			r.failAt(t, key, "%s: %v: must be a whole number from 1 to %d", key, inWords(v), sheet.AsNeeded)
		}
		*to = int(n)
	}
	return len(r.errs) == before
}

// figureText reads a text of a figure, where it is given.
func (r *Plate) figureText(t *figureTable, key string, to *string) {
	v, given := t.keys[key]
	if !given {
		return
	}
	s, ok := v.(string)
	if !ok {
		r.failAt(t, key, "%s: must be text in quotes", key)
		return
	}
	if err := Printable(s); err != nil {
		r.failAt(t, key, "%s: %v", key, err)
		return
	}
	*to = s
}

// figureLines reads a text of several lines: a text, or a list of texts.
func (r *Plate) figureLines(t *figureTable, key string) []string {
	var lines []string
	switch v := t.keys[key].(type) {
	case nil:
		return nil
	case string:
		lines = strings.Split(strings.Trim(v, "\n"), "\n")
	case []any:
		for _, one := range v {
			s, ok := one.(string)
			if !ok {
				r.failAt(t, key, "%s: %v is no text; write it in quotes", key, inWords(one))
				return nil
			}
			lines = append(lines, s)
		}
	default:
		r.failAt(t, key, "%s: must be text in quotes or a list of lines", key)
		return nil
	}
	for _, line := range lines {
		if err := Printable(line); err != nil {
			r.failAt(t, key, "%s: %v", key, err)
			return nil
		}
	}
	return lines
}

// sort finds out which sort of figure a table describes.
func (r *Plate) sort(t *figureTable) (figureKind, bool) {
	var keys []string
	for _, k := range figureKinds() {
		keys = append(keys, k.key)
		v, given := t.keys[k.key]
		if !given || v == false { // table = false is no table
			continue
		}
		return k, true
	}
	r.failAt(t, "", "figure %d: does not say what it shows; give one of %s", t.index+1, strings.Join(keys, ", "))
	return figureKind{}, false
}

// textFigure reads a text: text, a line or a list of lines, and width, mm.
func (r *Plate) textFigure(t *figureTable) (sheet.Figure, bool) {
	before := len(r.errs)
	p := sheet.Paragraph{Lines: r.figureLines(t, "text")}
	if v, given := t.keys["width"]; given {
		var ok bool
		if p.Width, ok = asNumber(v); !ok || !(p.Width >= 20 && p.Width <= 1000) {
			r.failAt(t, "width", "width: must be a number of millimetres from 20 to 1000")
		}
	}
	r.known(t, "text", "width")
	return sheet.Figure{Source: p}, len(r.errs) == before
}

// known reports keys other than the given ones and those that all figures have.
func (r *Plate) known(t *figureTable, names ...string) bool {
	ok := true
	for _, n := range commonKeys() {
		if !slices.Contains(names, n) {
			names = append(names, n)
		}
	}
	for key := range InOrder(t.keys) {
		if !slices.Contains(names, key) {
			r.failAt(t, key, "%s: no such key of this figure; %s", key, DidYouMean(key, names))
			ok = false
		}
	}
	return ok
}

// row reads the columns of a schedule.
func (r *Plate) row(t *figureTable, own ...string) (schedule.Row, bool) {
	cells := map[string]string{}
	ok := r.known(t, append(schedule.Columns(), own...)...)
	for key, value := range InOrder(t.keys) {
		if !slices.Contains(schedule.Columns(), key) || slices.Contains(commonKeys(), key) {
			continue
		}
		s, fits := cellText(value)
		if !fits {
			r.failAt(t, key, "%s: must be a text, a number, true or false, or a list of words", key)
			ok = false
			continue
		}
		cells[key] = s
	}
	row, err := r.parser.Parse(cells)
	var all schedule.Errors
	if errors.As(err, &all) {
		for _, e := range all {
			field := e.Field
			if _, there := t.keys[field]; !there && field == "length" {
				field = "size"
			}
			r.failAt(t, field, "%v", e.Err)
		}
		return row, false
	}
	return row, ok
}

// cellText returns a value of the file as the cell of a schedule.
func cellText(v any) (string, bool) {
	switch v := v.(type) {
	case string:
		return v, true
	case bool:
		if v {
			return "yes", true
		}
		return "no", true
	case int64:
		return strconv.FormatInt(v, 10), true
	case float64:
		return strconv.FormatFloat(v, 'f', -1, 64), true
	case []any:
		words := make([]string, len(v))
		for i, one := range v {
			s, ok := one.(string)
			if !ok {
				return "", false
			}
			words[i] = s
		}
		return strings.Join(words, " "), true
	}
	return "", false
}

func (r *Plate) fastenerFigure(t *figureTable) (sheet.Figure, bool) {
	row, ok := r.row(t, "table")
	if !ok {
		return sheet.Figure{}, false
	}
	if _, method := t.keys["projection"]; !method {
		row.Options.Projection = r.Projection
	}
	f := RowFigure(row, r.Projection)
	f.Labels = nil // the key is read for all figures
	if r.parts {
		f.Components = components(row)
	}
	if _, own := t.keys["caption"]; own {
		f.Given = []string{"Given: " + row.Fastener.Designation() + "."}
	}
	return f, true
}

// components returns what a row shows for the parts list. A bolt with its nut
// and washer is one where it has a mark, and otherwise one for each part.
func components(row schedule.Row) []sheet.Component {
	whole := []sheet.Component{{Mark: row.Mark, Quantity: row.Quantity, Designation: row.Fastener.Designation(), Remark: row.Note}}
	views := row.Options.Views
	if len(views) == 0 {
		views = fastener.UsualViews(row.Fastener)
	}
	elevation := slices.Contains(views, drawing.Front) || slices.Contains(views, drawing.SideView)
	a, bolted := row.Fastener.(fastener.Bolted)
	if row.Mark != "" || !bolted || !elevation {
		return whole
	}
	parts, err := a.Components()
	if err != nil {
		return whole
	}
	var all []sheet.Component
	for _, p := range parts {
		all = append(all, sheet.Component{Quantity: row.Quantity, Designation: p.Part.Designation(), Remark: row.Note, At: []drawing.Point{p.At}})
	}
	return all
}

// RowFigure returns a row as a figure on a sheet of the given projection
// method.
func RowFigure(row schedule.Row, method fastener.Projection) sheet.Figure {
	o := row.Options
	o.Caption = nil
	caption := row.Fastener.Designation()
	if row.Mark != "" {
		caption = row.Mark + "\u00a0 " + caption
	}
	if o.Projection != method {
		caption += ", " + o.Projection.String() + "-angle projection"
	}
	labels := o.Style.Labels
	return sheet.Figure{
		Name:    row.Mark,
		Caption: caption,
		Scale:   o.Style.Scale,
		Labels:  &labels,
		Source:  fastener.Figure{Fastener: row.Fastener, Options: o},
	}
}

// tableFigure reads table = true: the sizes of a fastener with their rules.
func (r *Plate) tableFigure(t *figureTable) (sheet.Figure, bool) {
	if v, ok := t.keys["table"].(bool); !ok || !v {
		r.failAt(t, "table", "table: must be true or false; true lists the sizes of the fastener in place of its views")
		return sheet.Figure{}, false
	}
	row, ok := r.row(t, "table")
	if !ok {
		return sheet.Figure{}, false
	}
	table, err := quantityTable(row.Fastener, r.Sheet.Style.DecimalComma)
	if err != nil {
		r.failAt(t, "kind", "%v", err)
		return sheet.Figure{}, false
	}
	return sheet.Figure{Source: table.source(), Caption: "Sizes of " + row.Fastener.Designation()}, true
}

// quantityTable returns the sizes of a fastener as a table.
func quantityTable(f fastener.Fastener, comma bool) (notedTable, error) {
	t := sheet.Table{Headings: []string{"", "Size", "Rule", "Value"}, Right: []bool{false, false, false, true}, Answer: []bool{false, false, false, true}}
	qs, err := f.Quantities()
	for _, q := range qs {
		value := drawing.FormatValue(q.Value, comma)
		if q.Unit == drawing.Degree {
			value += "°"
		}
		t.Rows = append(t.Rows, []string{q.Letter, q.Name + memoryMark(q), q.RuleText(), value})
	}
	return notedTable{t, tableNotes(qs)}, err
}

// memoryMark marks a size in a table that is from memory, which the note below
// says.
func memoryMark(q drawing.Quantity) string {
	if q.Status == drawing.FromMemory {
		return " *"
	}
	return ""
}

// tableNotes returns what stands below a table of sizes.
func tableNotes(qs []drawing.Quantity) []string {
	var sets, out []string
	for _, q := range qs {
		if q.Set != "" && !slices.Contains(sets, q.Set) {
			sets = append(sets, q.Set)
		}
	}
	if len(sets) > 0 {
		out = append(out, "Rules: "+strings.Join(sets, ", "))
	}
	if slices.ContainsFunc(qs, func(q drawing.Quantity) bool { return q.Status == drawing.FromMemory }) {
		out = append(out, "* from memory, unverified")
	}
	return out
}

// A notedTable is a table with notes below it.
type notedTable struct {
	table sheet.Table
	notes []string
}

// source returns the table for a sheet.
func (t notedTable) source() sheet.Source {
	if len(t.notes) == 0 {
		return t.table
	}
	return t
}

// Draw returns the table with its notes, in one drawing.
func (t notedTable) Draw(st drawing.Style) (*drawing.Drawing, error) { return sheet.Compact(t, st) }

// Content returns the table and its notes as blocks of a sheet.
func (t notedTable) Content(drawing.Style) (*sheet.Content, error) {
	return &sheet.Content{Blocks: t.blocks()}, nil
}

func (t notedTable) blocks() []sheet.Block {
	out := []sheet.Block{t.table}
	if len(t.notes) > 0 {
		out = append(out, sheet.Paragraph{Lines: t.notes})
	}
	return out
}
