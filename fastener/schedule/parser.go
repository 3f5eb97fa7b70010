package schedule

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/thread"
)

// A Parser turns the cells of one row into a fastener. The zero value has the
// usual rules.
type Parser struct {
	AllowUnlisted bool // also take diameters and pitches that ISO 261 does not list
	DecimalComma  bool // take 12,5 as well as 12.5
	NoKey         bool // leave the key to letters out, whatever a row says
	// Strict refuses columns of other names than [Columns]. Else they are carried
	// along as properties of the part, such as a price or a supplier; a name that
	// is nearly one of ours is refused all the same.
	Strict bool
	// Own are the rules of rows that name none; nil for ours.
	Own *fastener.Rules
	// Rules returns the rules that a cell of the column rules names, such as
	// those of a file. Where it is nil that column is refused.
	Rules func(name string) (*fastener.Rules, error)
}

// Parse reads a row that comes from no file, such as a command line: a map from
// the names of columns to their cells. What is left out counts as blank, and
// the mark may be left out as well; then the row has no caption. The error is
// an [Errors].
func (p Parser) Parse(cells map[string]string) (Row, error) {
	var c cellSet
	var errs Errors
	for _, name := range sortedKeys(cells) {
		col := columnNamed(name)
		if col == noColumn {
			errs = append(errs, &Error{Field: name, Err: unknownColumn(name)})
			continue
		}
		c.text[col] = cells[name]
	}
	row, more := p.row(&c, false)
	return row, append(errs, more...).sorted()
}

func sortedKeys(m map[string]string) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

func unknownColumn(name string) error {
	name = shown(clip(name))
	if near := nearestColumn(name); near != noColumn {
		return fmt.Errorf("%s: no such column; did you mean %s?", name, near)
	}
	return fmt.Errorf("%s: no such column; the columns are %s", name, strings.Join(Columns(), ", "))
}

// nearestColumn returns the column that a wrong name probably means, or
// noColumn.
func nearestColumn(name string) column {
	return columnNamed(fastener.Nearest(strings.ToLower(clip(name)), Columns()))
}

// cellSet are the texts of a row and where they stand.
type cellSet struct {
	file string
	at   position
	text [columnCount]string
	in   [columnCount]position
}

// A rowParser reads one row and collects what is wrong with it.
type rowParser struct {
	Parser
	row  Row
	text [columnCount]string
	errs Errors
	bad  [columnCount]bool
}

func (p Parser) row(c *cellSet, markNeeded bool) (Row, Errors) {
	rp := rowParser{Parser: p, text: c.text, row: Row{Line: c.at.line, file: c.file, at: c.at, in: c.in}}
	rp.clean()
	rp.identity(markNeeded)
	kind, known := rp.kind()
	rp.size()
	rp.spec()
	rp.drawing(kind, known)
	if known {
		rp.belongs(kind)
	}
	rp.make(known)
	return rp.row, rp.errs
}

func (rp *rowParser) fail(col column, format string, args ...any) {
	rp.blame(col, fmt.Errorf("%s %s: %s", col, clip(rp.text[col]), fmt.Sprintf(format, args...)))
}

func (rp *rowParser) missing(col column, want string) {
	rp.blame(col, fmt.Errorf("%s: missing; %s", col, want))
}

func (rp *rowParser) blame(col column, err error) {
	rp.errs = append(rp.errs, rp.row.locate(col, err))
	rp.bad[col] = true
}

// clean trims the cells and refuses text that no drawing can show, and text so
// long that it is a slip.
func (rp *rowParser) clean() {
	for i := range rp.text {
		col := column(i)
		s := strings.TrimSpace(rp.text[i])
		if col != colMark && col != colNote && (s == "-" || s == "–") {
			s = ""
		}
		rp.text[i] = s
		if n := len(s); n > maxText {
			// Bytes first, since it takes as long as the cell to count characters.
			if n = utf8.RuneCountInString(s); n > maxText {
				rp.text[i] = shown(clip(s))
				rp.fail(col, "%d characters are too many; use at most %d", n, maxText)
				continue
			}
		}
		if plain(s) {
			continue
		}
		if !utf8.ValidString(s) {
			rp.text[i] = shown(s)
			rp.fail(col, "not UTF-8; save the file with the encoding UTF-8")
			continue
		}
		s = strings.Join(strings.Fields(s), " ")
		rp.text[i] = s
		if strings.ContainsFunc(s, unicode.IsControl) {
			rp.text[i] = shown(s)
			rp.fail(col, "holds a control character, shown here as ?; leave it out")
		}
	}
}

// shown returns text from outside so that a terminal may have it.
func shown(s string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsControl(r) || r == utf8.RuneError {
			return '?'
		}
		return r
	}, strings.ToValidUTF8(s, "?"))
}

// plain reports whether s is printable ASCII.
func plain(s string) bool {
	for i := range len(s) {
		if s[i] < ' ' || s[i] > '~' {
			return false
		}
	}
	return true
}

func (rp *rowParser) identity(markNeeded bool) {
	r := &rp.row
	r.Mark, r.Note = rp.text[colMark], rp.text[colNote]
	r.File = FileName(r.Mark)
	if r.Mark == "" && markNeeded && !rp.bad[colMark] {
		rp.missing(colMark, "give every row a mark of its own, such as B1")
	}
	r.Quantity = 1
	if s := rp.text[colQuantity]; s != "" && !rp.bad[colQuantity] {
		n, err := strconv.Atoi(s)
		if err != nil || n < 1 || n > maxQuantity || s[0] == '+' {
			rp.fail(colQuantity, "not a quantity; give a whole number from 1 to %d", maxQuantity)
			return
		}
		r.Quantity = n
	}
}

// maxText bounds cells, in characters: DXF files take no more in one text.
const maxText = 240

// maxQuantity bounds quantities: beyond it a number is a slip of the pen.
const maxQuantity = 1_000_000

func (rp *rowParser) kind() (fastener.KindInfo, bool) {
	name := rp.text[colKind]
	rp.row.Spec.Kind = name
	if rp.bad[colKind] {
		return fastener.KindInfo{}, false
	}
	k, err := fastener.KindNamed(name)
	if name == "" {
		var ke *fastener.KindError
		errors.As(err, &ke)
		rp.missing(colKind, "the kinds are "+strings.Join(ke.Known, ", "))
		return k, false
	}
	if err != nil {
		rp.blame(colKind, err)
		return k, false
	}
	rp.row.Spec.Kind = k.Name
	return k, true
}

// size reads the cells size and length.
func (rp *rowParser) size() {
	spec := &rp.row.Spec
	length, lengthGiven := rp.number(colLength)
	spec.Length = length
	s := rp.text[colSize]
	rp.row.Size = s
	switch {
	case rp.bad[colSize]:
		return
	case s == "":
		rp.missing(colSize, "give a thread such as M20 or M12x1.25")
		return
	}
	t, l, err := ParseDesignation(s, thread.Parser{AllowUnlisted: rp.AllowUnlisted})
	if err != nil {
		rp.blame(colSize, err)
		return
	}
	spec.Thread = t
	switch {
	case l == 0:
	case rp.text[colLength] == "":
		spec.Length = l
		rp.row.in[colLength] = rp.row.in[colSize]
	case lengthGiven && l != length:
		rp.fail(colLength, "the size says %s; give the length once", drawing.FormatValue(l, false))
	}
}

// number reads a length in mm. It reports false for a blank or bad cell.
func (rp *rowParser) number(col column) (float64, bool) {
	s := rp.text[col]
	if s == "" || rp.bad[col] {
		return 0, false
	}
	text := s
	if rp.DecimalComma {
		text = strings.Replace(s, ",", ".", 1)
	}
	digits, rest := leadingNumber(text)
	if digits != "" && rest == "" && !strings.Contains(digits, ",") {
		v, err := strconv.ParseFloat(digits, 64)
		if err == nil && v > 0 {
			return v, true
		}
		rp.fail(col, "must be more than 0; give millimetres")
		return 0, false
	}
	switch number, unit := leadingNumber(s); {
	case s[0] == '-':
		rp.fail(col, "must not be negative; give millimetres")
	case strings.TrimSpace(unit) == "mm":
		rp.fail(col, "the unit is understood; write %s", number)
	case strings.Contains(number, ",") && unit == "":
		rp.fail(col, "write a decimal point, %s, where commas separate cells", strings.Replace(number, ",", ".", 1))
	default:
		rp.fail(col, "not a number; give millimetres, such as 80 or 12.5")
	}
	return 0, false
}

// spec reads the other cells that describe the fastener. What words a cell may
// hold is the fastener's to say.
func (rp *rowParser) spec() {
	spec := &rp.row.Spec
	spec.ThreadLength, _ = rp.number(colThread)
	spec.Grip, _ = rp.number(colGrip)
	spec.Form = given(rp.text[colForm])
	spec.Neck = given(rp.text[colNeck])
	spec.Angle = given(strings.TrimSuffix(rp.text[colAngle], "°"))
	spec.Material = given(strings.ReplaceAll(rp.text[colMaterial], " ", "-"))
	spec.Taper = given(strings.ReplaceAll(rp.text[colTaper], " ", ""))
	spec.Nut = given(rp.text[colNut])
	spec.Washer = given(rp.text[colWasher])
	choose(rp, colBasis, &spec.Basis, []string{"proportion", "standard"}, fastener.ParseBasis)
	choose(rp, colGoverns, &spec.Governs, []string{"corners", "flats"}, fastener.ParseGoverns)
	spec.Widths = given(rp.text[colWidths])
	spec.Undercut = given(rp.text[colUndercut])
	spec.Class, spec.Made, spec.Finish, spec.End = rp.text[colClass], rp.text[colMade], rp.text[colFinish], rp.text[colEnd]
	rp.rules()
}

// rules reads the cell that names rules of one's own.
func (rp *rowParser) rules() {
	rp.row.Spec.Rules = rp.Own
	name := rp.text[colRules]
	if name == "" || rp.bad[colRules] {
		return
	}
	if rp.Rules == nil {
		rp.fail(colRules, "rules cannot be named here; leave it out")
		return
	}
	own, err := rp.Rules(name)
	if err != nil {
		rp.blame(colRules, fmt.Errorf("rules: %w", err))
		return
	}
	rp.row.Spec.Rules = own
}

// given turns the word none into a blank.
func given(s string) string {
	if strings.EqualFold(s, "none") {
		return ""
	}
	return s
}

// choose reads a cell that holds one of a few words.
func choose[T any](rp *rowParser, col column, to *T, words []string, parse func(string) (T, error)) {
	s := rp.text[col]
	if s == "" || rp.bad[col] {
		return
	}
	v, err := parse(s)
	if err != nil {
		if near := fastener.Nearest(strings.ToLower(s), words); near != "" {
			rp.fail(col, "no such choice; did you mean %s?", near)
			return
		}
		rp.fail(col, "no such choice; use %s", strings.Join(words, " or "))
		return
	}
	*to = v
}

// drawing reads the cells that say how the fastener is drawn.
func (rp *rowParser) drawing(kind fastener.KindInfo, known bool) {
	o := &rp.row.Options
	choose(rp, colLabels, &o.Style.Labels, drawing.LabelsWords(), drawing.ParseLabels)
	choose(rp, colProjection, &o.Projection, []string{"first", "third"}, fastener.ParseProjection)
	choose(rp, colHidden, &o.Hidden, []string{"yes", "no"}, parseBool)
	choose(rp, colSection, &o.Section, []string{"yes", "no"}, parseBool)
	o.Outside = rp.text[colSection] != "" && !o.Section
	if o.Section && known && !kind.Section {
		rp.blame(colSection, &fastener.FieldError{Kind: kind.Name, Field: "section", Value: rp.text[colSection],
			Want: "a " + kind.Title + " has nothing inside to show in section; leave it out"})
	}
	choose(rp, colExact, &o.Exact, []string{"yes", "no"}, parseBool)
	choose(rp, colConstruction, &o.Construction, []string{"yes", "no"}, parseBool)
	choose(rp, colDetail, &o.Simplified, []string{"full", "simplified"}, parseDetail)
	choose(rp, colBreak, &o.Break, []string{"yes", "no"}, parseBool)
	key := true
	choose(rp, colKey, &key, []string{"yes", "no"}, parseBool)
	o.Style.NoKey = !key || rp.NoKey
	if s := rp.text[colScale]; s != "" && !rp.bad[colScale] {
		scale, ok := ParseScale(s)
		if !ok {
			rp.fail(colScale, "not a scale; write 1:2, 2:1 or 0.5")
		}
		o.Style.Scale = scale
	}
	if rp.text[colViews] != "" && !rp.bad[colViews] {
		rp.views(kind, known)
	}
}

func (rp *rowParser) views(kind fastener.KindInfo, known bool) {
	views := &rp.row.Options.Views
	words := strings.FieldsFunc(strings.ToLower(rp.text[colViews]), func(r rune) bool {
		return unicode.IsSpace(r) || strings.ContainsRune(",;+/|", r)
	})
	for _, w := range words {
		d, err := drawing.ParseDirection(w)
		switch {
		case err != nil:
			rp.blame(colViews, noView(w, kind, known, err))
		case known && !slices.Contains(kind.Views, d):
			rp.blame(colViews, &fastener.FieldError{Kind: kind.Name, Field: "views", Value: w,
				Want: "not a view of this kind; it has " + viewNames(kind.Views)})
		case slices.Contains(*views, d):
			rp.blame(colViews, fmt.Errorf("views %s: given twice; name each view once", w))
		default:
			*views = append(*views, d)
		}
	}
	if len(words) == 0 {
		rp.fail(colViews, "names no view; use words such as front and head")
	}
}

func noView(word string, kind fastener.KindInfo, known bool, err error) error {
	if !known {
		return fmt.Errorf("views: %w", err)
	}
	names := strings.Split(viewNames(kind.Views), ", ")
	if near := fastener.Nearest(word, names); near != "" {
		return fmt.Errorf("views %s: no such view; did you mean %s? A %s has %s", clip(word), near, kind.Name, viewNames(kind.Views))
	}
	return fmt.Errorf("views %s: no such view; a %s has %s", clip(word), kind.Name, viewNames(kind.Views))
}

func viewNames(dirs []drawing.Direction) string {
	names := make([]string, len(dirs))
	for i, d := range dirs {
		names[i] = d.String()
	}
	return strings.Join(names, ", ")
}

// parseDetail reads how much is drawn: full, or simplified as in assembly
// drawings.
func parseDetail(s string) (simplified bool, err error) {
	switch strings.ToLower(s) {
	case "full":
		return false, nil
	case "simplified":
		return true, nil
	}
	return false, errors.New("neither full nor simplified")
}

func parseBool(s string) (bool, error) {
	switch strings.ToLower(s) {
	case "yes", "y", "true", "1", "x":
		return true, nil
	case "no", "n", "false", "0":
		return false, nil
	}
	return false, errors.New("neither yes nor no")
}

// ParseScale is drawing.ParseScale.
func ParseScale(s string) (float64, bool) { return drawing.ParseScale(s) }

// belongs blames cells that the kind does not read, in the fastener's words,
// all of them and not just the first.
func (rp *rowParser) belongs(kind fastener.KindInfo) {
	for _, col := range [...]column{colLength, colThread, colForm, colNeck, colAngle, colMaterial, colTaper, colWidths, colNut, colWasher, colGrip, colGoverns} {
		if rp.bad[col] || given(rp.text[col]) == "" {
			continue
		}
		name := col.String()
		reads := slices.ContainsFunc(kind.Options, func(o fastener.Option) bool { return o.Name == name })
		if !reads && (col != colLength || !kind.Length) {
			rp.blame(col, &fastener.FieldError{Kind: kind.Name, Field: name, Value: clip(rp.text[col]),
				Want: "does not belong to a " + kind.Title + "; leave it out"})
		}
	}
}

// make makes the fastener, unless a cell that it depends on is bad.
func (rp *rowParser) make(known bool) {
	for col := colKind; col <= colUndercut; col++ {
		known = known && !rp.bad[col]
	}
	if !known {
		return
	}
	f, err := fastener.New(rp.row.Spec)
	if err != nil {
		rp.errs = append(rp.errs, rp.row.Locate(err))
		return
	}
	if len(rp.errs) > 0 {
		return
	}
	rp.row.Fastener = f
	rp.row.describe()
}

// clip shortens text from outside for a message.
func clip(s string) string {
	const most = 60
	n := 0
	for i := range s {
		if n == most {
			return s[:i] + "…"
		}
		n++
	}
	return s
}
