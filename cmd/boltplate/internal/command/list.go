package command

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"boltplate/drawing"
	"boltplate/dxfin"
	"boltplate/fastener"
	"boltplate/fastener/joint"
	"boltplate/fastener/schedule"
	"boltplate/settings"
)

type listCommand struct {
	Files    []string `arg:"" placeholder:"FILE" help:"Schedules (.csv), drawings of ours (.dxf), plates and joints (.toml)."`
	Unlisted bool     `help:"Take sizes and pitches that ISO 261 does not list."`
	Strict   bool     `help:"Refuse columns of a schedule that are none of ours, in place of carrying them along."`
	rulesArgument
	formatArgument
}

// A listLine is what there is of one part.
type listLine struct {
	Quantity    int      `json:"quantity"`
	Designation string   `json:"designation"`
	Marks       []string `json:"marks"`
}

// A partList sums quantities by designation.
type partList struct{ lines map[string]*listLine }

func (p *partList) add(designation, mark string, n int) {
	l := p.lines[designation]
	if l == nil {
		l = &listLine{Designation: designation, Marks: []string{}}
		p.lines[designation] = l
	}
	l.Quantity += n
	if mark != "" && !slices.Contains(l.Marks, mark) {
		l.Marks = append(l.Marks, mark)
	}
}

// sorted returns the lines in the order of their designations, numbers by
// their value.
func (p *partList) sorted() []listLine {
	out := []listLine{}
	for _, l := range p.lines {
		slices.SortFunc(l.Marks, natural)
		out = append(out, *l)
	}
	slices.SortFunc(out, func(a, b listLine) int { return natural(a.Designation, b.Designation) })
	return out
}

// natural compares texts, runs of digits in them as numbers.
func natural(a, b string) int {
	digits := func(s string) int {
		n := 0
		for n < len(s) && s[n] >= '0' && s[n] <= '9' {
			n++
		}
		return n
	}
	for x, y := a, b; x != "" && y != ""; {
		m, n := digits(x), digits(y)
		if m > 0 && n > 0 {
			p, q := strings.TrimLeft(x[:m], "0"), strings.TrimLeft(y[:n], "0")
			if len(p) != len(q) {
				return len(p) - len(q)
			}
			if c := strings.Compare(p, q); c != 0 {
				return c
			}
			x, y = x[m:], y[n:]
			continue
		}
		if x[0] != y[0] {
			return int(x[0]) - int(y[0])
		}
		x, y = x[1:], y[1:]
	}
	if c := len(a) - len(b); c != 0 {
		return c
	}
	return strings.Compare(a, b)
}

// described adds what the properties of a part say. What stands several times
// in a file under one mark is counted once, by its quantity; seen has those
// marks.
func (p *partList) described(ps []drawing.Property, seen map[string]bool) error {
	values := map[string]string{}
	for _, x := range ps {
		values[x.Key] = x.Value
	}
	mark, designation := values["mark"], values["designation"]
	if designation == "" {
		return nil
	}
	n := 1
	if q := values["quantity"]; q != "" {
		var err error
		if n, err = strconv.Atoi(q); err != nil || n < 1 {
			return fmt.Errorf("%s: quantity %q is no whole number above 0", designation, q)
		}
	}
	if mark != "" {
		if seen[mark] {
			return nil
		}
		seen[mark] = true
	}
	split := false
	for _, key := range [...]string{"bolt_designation", "nut_designation", "washer_designation"} {
		if one := values[key]; one != "" {
			split = true
			p.add(one, mark, n)
		}
	}
	if !split {
		p.add(designation, mark, n)
	}
	return nil
}

func (c *listCommand) Run(e *env) error {
	if err := c.check(); err != nil {
		return err
	}
	list := &partList{lines: map[string]*listLine{}}
	partial := false
	for _, file := range c.Files {
		if e.ctx.Err() != nil {
			return e.ctx.Err()
		}
		var err error
		ending := strings.ToLower(filepath.Ext(file))
		if file == stdStream {
			ending = ".csv" // a schedule
		}
		switch ending {
		case ".csv":
			err = c.schedule(e, file, list)
		case ".dxf":
			err = c.dxf(e, file, list)
		case ".toml":
			err = c.settings(e, file, list)
		default:
			err = fmt.Errorf("%s: no file that can be listed; give schedules (.csv, or - for standard input), drawings (.dxf), plates or joints (.toml)", file)
		}
		if err != nil {
			if !errors.Is(err, errPartial) {
				e.report(err)
			}
			partial = true
		}
	}
	if err := c.write(e, list.sorted()); err != nil {
		return err
	}
	if partial {
		return errPartial
	}
	if len(list.lines) == 0 {
		fmt.Fprintln(e.stderr, "boltplate: there is no part in what was given")
	}
	return nil
}

func (c *listCommand) write(e *env, lines []listLine) error {
	if c.Format == "json" {
		return writeJSON(e.stdout, lines)
	}
	header := []string{"quantity", "designation", "marks"}
	var rows [][]string
	for _, l := range lines {
		rows = append(rows, []string{strconv.Itoa(l.Quantity), l.Designation, strings.Join(l.Marks, " ")})
	}
	if c.Format == "csv" {
		return writeCSV(e.stdout, header, rows)
	}
	return writeText(e.stdout, header, rows)
}

func (c *listCommand) schedule(e *env, file string, list *partList) error {
	rules := settings.NewRulesLoader(e.readSettings)
	own, err := c.load(rules, "")
	if err != nil {
		return err
	}
	in, name, _, err := e.openFile(file)
	if err != nil {
		return err
	}
	defer in.Close()
	r, err := schedule.Parser{AllowUnlisted: c.Unlisted, Strict: c.Strict, Own: own, Rules: rules.From(name)}.NewReader(in, name)
	if err != nil {
		return err
	}
	failed := error(nil)
	for row, err := range r.Rows() {
		if e.ctx.Err() != nil {
			return e.ctx.Err()
		}
		if err != nil {
			e.report(err)
			failed = errPartial
			continue
		}
		ps := append(fastener.Describe(row.Fastener), row.Options.Properties...)
		if err := list.described(ps, map[string]bool{}); err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
	}
	return failed
}

// dxf lists the descriptions that inserts of a drawing of ours carry.
func (c *listCommand) dxf(e *env, file string, list *partList) error {
	in, name, _, err := e.openFile(file)
	if err != nil {
		return err
	}
	defer in.Close()
	d, err := dxfin.Decoder{}.Decode(io.Reader(in))
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	found := false
	seen := map[string]bool{}
	for i := range d.Entities {
		ps, ok := propertiesOf(&d.Entities[i])
		if !ok {
			continue
		}
		found = true
		if err := list.described(ps, seen); err != nil {
			return fmt.Errorf("%s:%d: %w", name, d.Entities[i].Line, err)
		}
	}
	if !found {
		return fmt.Errorf("%s: no part is described in it; only layered DXF files of ours can be listed", name)
	}
	return nil
}

// propertiesOf returns what the extended data of an insert says, with the
// pieces of long values joined (docs/formats.md).
func propertiesOf(en *dxfin.Entity) ([]drawing.Property, bool) {
	for _, x := range en.XData {
		if x.App != "BOLTPLATE" || len(x.Values) == 0 || x.Values[0].Value != "version=1" {
			continue
		}
		var out []drawing.Property
		for _, v := range x.Values[1:] {
			key, value, ok := strings.Cut(v.Value, "=")
			if v.Code != 1000 || !ok {
				continue
			}
			base, piece, split := strings.Cut(key, "#")
			if n := len(out) - 1; split && piece != "1" && n >= 0 && out[n].Key == base {
				out[n].Value += value
				continue
			}
			out = append(out, drawing.Property{Key: base, Value: value})
		}
		return out, true
	}
	return nil, false
}

// settings lists a joint or a plate by what its drawing describes.
func (c *listCommand) settings(e *env, file string, list *partList) error {
	name, text, err := e.readSettings(file)
	if err != nil {
		return err
	}
	var drawings []*drawing.Drawing
	if isJoint(text) {
		j, err := settings.ReadJoint(e.readSettings, file)
		if err != nil {
			return err
		}
		d, err := joint.Draw(j, drawing.Style{})
		if err != nil {
			return fmt.Errorf("%s: %w", name, err)
		}
		drawings = append(drawings, d)
	} else {
		rules := settings.NewRulesLoader(e.readSettings)
		own, err := c.load(rules, "")
		if err != nil {
			return err
		}
		r, err := settings.ReadPlateFile(e.readSettings, file, settings.PlateOptions{Unlisted: c.Unlisted, Own: own, Loader: rules})
		if err != nil {
			return err
		}
		pages, err := compose(e, &r.Sheet)
		if err != nil {
			return r.Locate(err)
		}
		for _, p := range pages {
			drawings = append(drawings, p.Drawing)
		}
	}
	seen := map[string]bool{}
	for _, d := range drawings {
		for _, p := range d.Parts {
			if err := list.described(p.Properties, seen); err != nil {
				return fmt.Errorf("%s: %w", name, err)
			}
		}
	}
	return nil
}

// isJoint reports whether a file of settings describes a joint, which names its
// scene before the first table.
func isJoint(text string) bool {
	for line := range strings.Lines(text) {
		line = strings.TrimSpace(line)
		if strings.HasPrefix(line, "[") {
			return false
		}
		if key, _, ok := strings.Cut(line, "="); ok && strings.TrimSpace(key) == "scene" {
			return true
		}
	}
	return false
}
