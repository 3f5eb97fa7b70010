package command

import (
	"errors"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/BurntSushi/toml"

	"boltplate/drawing"
	"boltplate/drawing/sheet"
	"boltplate/fastener"
	"boltplate/fastener/schedule"
)

// A plateReader reads a plate file.
type plateReader struct {
	tomlFile
	parser     schedule.Parser
	plate      sheet.Plate
	projection fastener.Projection
	labels     *drawing.Labels // of all figures, whatever they ask for
	parts      bool            // there is to be a parts list
	blocks     []figureBlock   // where the figures stand
}

// The keys of a plate file, of its title block and of a figure that is no
// column of a schedule.
func plateKeys() []string {
	return []string{"size", "orientation", "projection", "labels", "scale", "pages", "comma", "notes", "parts", "title", "figure"}
}

func titleFields(t *sheet.Title) map[string]*string {
	return map[string]*string{
		"owner": &t.Owner, "number": &t.Number, "revision": &t.Revision, "date": &t.Date, "language": &t.Language,
		"title": &t.Title, "supplement": &t.Supplement, "department": &t.Department, "reference": &t.Reference,
		"approved": &t.Approved, "creator": &t.Creator, "type": &t.Type, "status": &t.Status,
	}
}

// A figureKind is a sort of figure: the key that tells it, and what reads it.
// The reader returns false where it has reported what is wrong. A new sort is
// one line in figureKinds and a method that returns any sheet.Source, which
// draws in millimetres of the part; item references go into the figure and
// rows into the parts list where r.parts asks for them.
type figureKind struct {
	key  string
	read func(*plateReader, *figureTable) (sheet.Figure, bool)
}

func figureKinds() []figureKind {
	return []figureKind{
		{"text", (*plateReader).textFigure},
		{"table", (*plateReader).tableFigure},
		{"joint", (*plateReader).jointFigure},
		{"kind", (*plateReader).fastenerFigure},
	}
}

// A figureTable is one [[figure]] of the file.
type figureTable struct {
	index int // from 0
	keys  map[string]any
}

// readPlate reads a plate file. It reports everything that is wrong, a line
// each, as schedule.Errors. labels, where it is not nil, goes before what the
// file says.
func readPlate(file, text string, unlisted bool, labels *drawing.Labels) (*plateReader, error) {
	r := &plateReader{
		tomlFile: tomlFile{file: file, text: text},
		parser:   schedule.Parser{AllowUnlisted: unlisted, DecimalComma: true},
		labels:   labels,
		blocks:   figureBlocks(text),
	}
	top := r.top()
	for key, value := range top {
		r.key(key, value)
	}
	if labels != nil {
		r.plate.Style.Labels = *labels
	}
	r.figures(top["figure"])
	return r, r.failed()
}

// str decodes a string and reports whether it is one.
func (r *plateReader) str(key string, value toml.Primitive, to *string) bool {
	if r.md.PrimitiveDecode(value, to) != nil {
		r.fail(value, "%s: must be text in quotes", key)
		return false
	}
	return true
}

// word decodes one of a few words.
func word[T any](r *plateReader, key string, value toml.Primitive, to *T, parse func(string) (T, error), known ...string) {
	var s string
	if !r.str(key, value, &s) {
		return
	}
	v, err := parse(s)
	if err != nil {
		r.fail(value, "%s: %q: no such choice; %s", key, s, didYouMean(s, known))
		return
	}
	*to = v
}

func parseLabels(s string) (drawing.Labels, error) {
	for _, l := range [...]drawing.Labels{drawing.Numbers, drawing.Rules, drawing.Letters, drawing.NoLabels} {
		if strings.EqualFold(l.String(), strings.TrimSpace(s)) {
			return l, nil
		}
	}
	return 0, fmt.Errorf("%q does not say what dimensions say; use numbers, rules, letters or none", s)
}

func (r *plateReader) key(key string, value toml.Primitive) {
	p := &r.plate
	switch key {
	case "size":
		var s string
		if r.str(key, value, &s) {
			var err error
			if p.Format.Size, err = sheet.ParseSize(s); err != nil {
				r.fail(value, "size: %v", err)
			}
		}
	case "orientation":
		word(r, key, value, &p.Format.Orientation, sheet.ParseOrientation, "landscape", "portrait")
	case "projection":
		word(r, key, value, &r.projection, fastener.ParseProjection, "first", "third")
		p.ThirdAngle = r.projection == fastener.ThirdAngle
	case "labels":
		word(r, key, value, &p.Style.Labels, parseLabels, "numbers", "rules", "letters", "none")
	case "comma":
		if r.md.PrimitiveDecode(value, &p.Style.DecimalComma) != nil {
			r.fail(value, "comma: must be true or false")
		}
	case "scale":
		r.scale(value)
	case "pages":
		r.pages(value)
	case "parts":
		if r.md.PrimitiveDecode(value, &r.parts) != nil {
			r.fail(value, "parts: must be true or false")
		}
	case "notes":
		if r.md.PrimitiveDecode(value, &p.Notes) != nil {
			r.fail(value, `notes: must be a list of texts, such as ["All sizes in mm.", "Threads by ISO 6410-1."]`)
			return
		}
		for _, n := range p.Notes {
			if err := printable(n); err != nil {
				r.fail(value, "notes: %v", err)
			}
		}
	case "title":
		r.title(value)
	case "figure": // when everything else is known
	default:
		r.fail(value, "%s: no such key; %s", key, didYouMean(key, plateKeys()))
	}
}

// printable refuses text that no drawing can show.
func printable(s string) error {
	const most = 1000
	if len(s) > most {
		return fmt.Errorf("%d characters are too many; use at most %d", len(s), most)
	}
	for _, c := range s {
		if c < ' ' || c == 0x7f {
			return errors.New("holds a control character; leave it out")
		}
	}
	return nil
}

func (r *plateReader) scale(value toml.Primitive) {
	var v any
	_ = r.md.PrimitiveDecode(value, &v)
	if k, ok := plateScale(v); ok {
		r.plate.Scale = k
		return
	}
	r.fail(value, `scale: %v: not a scale; write "auto", "1:2", "2:1" or 0.5`, v)
}

func plateScale(v any) (float64, bool) {
	switch v := v.(type) {
	case string:
		if strings.EqualFold(v, "auto") {
			return 0, true
		}
		return sheet.ParseScale(v)
	case int64, float64:
		return sheet.ParseScale(fmt.Sprint(v))
	}
	return 0, false
}

// maxPages bounds the pages that may be asked for.
const maxPages = 1000

func (r *plateReader) pages(value toml.Primitive) {
	var v any
	_ = r.md.PrimitiveDecode(value, &v)
	switch n := v.(type) {
	case int64:
		if n >= 1 && n <= maxPages {
			r.plate.Pages = int(n)
			return
		}
	case string:
		if strings.EqualFold(n, "as needed") {
			r.plate.Pages = sheet.AsNeeded
			return
		}
	}
	r.fail(value, `pages: %v: write "as needed" or a whole number from 1 to %d`, v, maxPages)
}

func (r *plateReader) title(value toml.Primitive) {
	var keys map[string]toml.Primitive
	if r.md.PrimitiveDecode(value, &keys) != nil || keys == nil {
		r.fail(value, "title: not a table; start it with a line [title]")
		return
	}
	fields := titleFields(&r.plate.Title)
	for key, v := range keys {
		to, known := fields[key]
		if !known {
			names := make([]string, 0, len(fields))
			for n := range fields {
				names = append(names, n)
			}
			slices.Sort(names)
			r.fail(v, "title.%s: no such field; %s", key, didYouMean(key, names))
			continue
		}
		var day time.Time
		if key == "date" && r.md.PrimitiveDecode(v, &day) == nil {
			*to = day.Format(time.DateOnly)
			continue
		}
		if key == "date" && r.md.PrimitiveDecode(v, to) != nil {
			r.fail(v, "title.date: must be a date, such as 2026-03-02, or text in quotes")
			continue
		}
		if !r.str("title."+key, v, to) {
			continue
		}
		if err := printable(*to); err != nil {
			r.fail(v, "title.%s: %v", key, err)
			*to = ""
		}
	}
}

func (r *plateReader) figures(value toml.Primitive) {
	var tables []map[string]any
	if err := r.md.PrimitiveDecode(value, &tables); err != nil {
		r.fail(value, "figure: not a list of tables; start each figure with a line [[figure]]")
		return
	}
	for i, keys := range tables {
		t := &figureTable{i, keys}
		kind, ok := r.sort(t)
		if !ok {
			continue
		}
		f, ok := kind.read(r, t)
		if !ok {
			continue
		}
		if s, given := keys["caption"]; given {
			if f.Caption, ok = s.(string); !ok {
				r.failAt(t, "caption", "caption: must be text in quotes")
				continue
			}
			if err := printable(f.Caption); err != nil {
				r.failAt(t, "caption", "caption: %v", err)
				continue
			}
		}
		r.plate.Figures = append(r.plate.Figures, f)
	}
}

// sort finds out which sort of figure a table describes.
func (r *plateReader) sort(t *figureTable) (figureKind, bool) {
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
func (r *plateReader) textFigure(t *figureTable) (sheet.Figure, bool) {
	var p sheet.Paragraph
	switch v := t.keys["text"].(type) {
	case string:
		p.Lines = strings.Split(strings.Trim(v, "\n"), "\n")
	case []any:
		for _, one := range v {
			p.Lines = append(p.Lines, fmt.Sprint(one))
		}
	default:
		r.failAt(t, "text", "text: must be text in quotes or a list of lines")
		return sheet.Figure{}, false
	}
	for _, line := range p.Lines {
		if err := printable(line); err != nil {
			r.failAt(t, "text", "text: %v", err)
			return sheet.Figure{}, false
		}
	}
	switch v := t.keys["width"].(type) {
	case nil:
	case int64:
		p.Width = float64(v)
	case float64:
		p.Width = v
	default:
		p.Width = -1
	}
	if p.Width != 0 && (p.Width < 20 || p.Width > 1000) {
		r.failAt(t, "width", "width: must be a number of millimetres from 20 to 1000")
		return sheet.Figure{}, false
	}
	return sheet.Figure{Source: p}, r.known(t, "text", "width", "caption")
}

// known reports keys other than the given ones.
func (r *plateReader) known(t *figureTable, names ...string) bool {
	ok := true
	for key := range t.keys {
		if !slices.Contains(names, key) {
			r.failAt(t, key, "%s: no such key of this figure; %s", key, didYouMean(key, names))
			ok = false
		}
	}
	return ok
}

// row reads the columns of a schedule.
func (r *plateReader) row(t *figureTable, own ...string) (schedule.Row, bool) {
	cells := map[string]string{}
	ok := r.known(t, append(schedule.Columns(), own...)...)
	for key, value := range t.keys {
		if !slices.Contains(schedule.Columns(), key) {
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

func (r *plateReader) fastenerFigure(t *figureTable) (sheet.Figure, bool) {
	row, ok := r.row(t, "caption", "table")
	if !ok {
		return sheet.Figure{}, false
	}
	_, own := t.keys["labels"]
	_, method := t.keys["projection"]
	if !method {
		row.Options.Projection = r.projection
	}
	f := rowFigure(row, r.projection, own && r.labels == nil)
	if r.parts {
		f.References = r.references(row)
	}
	return f, true
}

// references puts what a row shows in the parts list and returns its item
// references. A bolt with its nut and washer is one item where it has a mark,
// and otherwise an item for each part.
func (r *plateReader) references(row schedule.Row) []sheet.Reference {
	if row.Mark != "" {
		r.part(row.Mark, row.Fastener, row)
		return []sheet.Reference{{Item: row.Mark, Anywhere: true}}
	}
	views := row.Options.Views
	if len(views) == 0 {
		views = fastener.DefaultViews(row.Fastener.Kind())
	}
	elevation := slices.Contains(views, drawing.Front) || slices.Contains(views, drawing.SideView)
	if a, ok := row.Fastener.(fastener.Bolted); ok && elevation {
		if parts, err := a.Components(); err == nil {
			var all []sheet.Reference
			for _, p := range parts {
				all = append(all, sheet.Reference{Item: r.part("", p.Part, row), At: p.At})
			}
			return all
		}
	}
	return []sheet.Reference{{Item: r.part("", row.Fastener, row), Anywhere: true}}
}

// part puts a fastener in the parts list and returns its item reference: the
// mark, or where there is none its number in the list. Equal parts share one
// (ISO 6433).
func (r *plateReader) part(mark string, f fastener.Fastener, row schedule.Row) string {
	designation := f.Designation()
	for i := range r.plate.Parts {
		p := &r.plate.Parts[i]
		if p.Designation == designation && p.Remark == row.Note && mark == "" {
			n, _ := strconv.Atoi(p.Quantity)
			p.Quantity = strconv.Itoa(n + row.Quantity)
			return p.Item
		}
	}
	item := mark
	if item == "" {
		item = strconv.Itoa(len(r.plate.Parts) + 1)
	}
	r.plate.Parts = append(r.plate.Parts, sheet.Part{Item: item, Quantity: strconv.Itoa(row.Quantity), Designation: designation, Remark: row.Note})
	return item
}

// A rowSource draws the views of a row for a sheet.
type rowSource struct {
	fastener.Figure
	labels drawing.Labels
	own    bool // labels are its own
}

func (s rowSource) Draw(st drawing.Style) (*drawing.Drawing, error) {
	if s.own {
		st.Labels = s.labels
	}
	return s.Figure.Draw(st)
}

// rowFigure returns a row as a figure on a sheet of the given projection
// method.
func rowFigure(row schedule.Row, method fastener.Projection, ownLabels bool) sheet.Figure {
	o := row.Options
	o.Caption = nil
	caption := row.Fastener.Designation()
	if row.Mark != "" {
		caption = row.Mark + "\u00a0 " + caption
	}
	if o.Projection != method {
		caption += ", " + o.Projection.String() + "-angle projection"
	}
	return sheet.Figure{
		Name:    row.Mark,
		Caption: caption,
		Scale:   o.Style.Scale,
		Source:  rowSource{fastener.Figure{Fastener: row.Fastener, Options: o}, o.Style.Labels, ownLabels},
	}
}

// tableFigure reads table = true: the sizes of a fastener with their rules.
func (r *plateReader) tableFigure(t *figureTable) (sheet.Figure, bool) {
	if v, ok := t.keys["table"].(bool); !ok || !v {
		r.failAt(t, "table", "table: must be true or false; true lists the sizes of the fastener in place of its views")
		return sheet.Figure{}, false
	}
	row, ok := r.row(t, "caption", "table")
	if !ok {
		return sheet.Figure{}, false
	}
	table, err := quantityTable(row.Fastener, r.plate.Style.DecimalComma)
	if err != nil {
		r.failAt(t, "kind", "%v", err)
		return sheet.Figure{}, false
	}
	return sheet.Figure{Source: table, Caption: "Sizes of " + row.Fastener.Designation()}, true
}

// quantityTable returns the sizes of a fastener as a table.
func quantityTable(f fastener.Fastener, comma bool) (sheet.Table, error) {
	t := sheet.Table{Headings: []string{"", "Size", "Rule", "Value"}, Right: []bool{false, false, false, true}}
	qs, err := f.Quantities()
	for _, q := range qs {
		value := drawing.FormatValue(q.Value, comma)
		if q.Unit == drawing.Degree {
			value += "°"
		}
		t.Rows = append(t.Rows, []string{q.Letter, q.Name, q.RuleText(), value})
	}
	return t, err
}

// A figureBlock is where a [[figure]] stands in the file: the line of its
// header, and where the values of its keys are.
type figureBlock struct {
	line   int
	values map[string]position
}

type position struct{ line, column int }

// figureBlocks finds the figures of a file. The decoder knows the place of the
// last of several tables of one name only.
func figureBlocks(text string) []figureBlock {
	header := regexp.MustCompile(`^\s*\[\[\s*figure\s*\]\]`)
	other := regexp.MustCompile(`^\s*\[`)
	assign := regexp.MustCompile(`^\s*"?([A-Za-z0-9_-]+)"?\s*=\s*`)
	var blocks []figureBlock
	inside := false
	n := 0
	for line := range strings.Lines(text) {
		n++
		switch {
		case header.MatchString(line):
			blocks = append(blocks, figureBlock{n, map[string]position{}})
			inside = true
		case other.MatchString(line):
			inside = false
		case inside:
			if m := assign.FindStringSubmatch(line); m != nil {
				b := &blocks[len(blocks)-1]
				if _, again := b.values[m[1]]; !again {
					b.values[m[1]] = position{n, len(m[0]) + 1}
				}
			}
		}
	}
	return blocks
}

// failAt reports what is wrong with a key of a figure, or with all of it.
func (r *plateReader) failAt(t *figureTable, key, format string, a ...any) {
	at := position{1, 1}
	if t.index < len(r.blocks) {
		b := r.blocks[t.index]
		at = position{b.line, 1}
		if p, ok := b.values[key]; ok {
			at = p
		}
	}
	r.add(at.line, at.column, fmt.Errorf(format, a...))
}

// readPlateFile reads the file of that name.
func readPlateFile(e *env, path string, unlisted bool, labels *drawing.Labels) (*plateReader, error) {
	if path == stdStream {
		data, err := readAll(e.stdin)
		if err != nil {
			return nil, fmt.Errorf("stdin: cannot be read: %w", err)
		}
		return readPlate("stdin", data, unlisted, labels)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, cannotRead(path, err)
	}
	return readPlate(path, string(data), unlisted, labels)
}
