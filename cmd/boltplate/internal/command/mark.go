package command

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"boltplate/dxfin"
	"boltplate/dxfout"
	"boltplate/fastener"
	"boltplate/marking"
	"boltplate/settings"
)

type markCommand struct {
	Submission string `arg:"" optional:"" placeholder:"SUBMISSION.dxf" help:"What the student has drawn, in any DXF file; - for standard input."`
	All        string `placeholder:"DIR" help:"Mark a whole class: the files of DIR that are named by roll, 17.dxf; with --class, or the number of the place in the list."`

	Plate     string  `required:"" placeholder:"PLATE.toml" help:"Plate file that was set. Its table [marks] gives points."`
	Class     string  `placeholder:"CLASS.csv" help:"List of the class that the plate was handed out to."`
	Roll      string  `placeholder:"ROLL" help:"Roll number of the student; without --class the number of the place in the list, from 1."`
	Seed      string  `placeholder:"TEXT" help:"What the data were dealt by."`
	Tolerance float64 `placeholder:"MM" help:"How far a line may be off on paper, in place of 0.5 or what the plate says."`

	rulesArgument
	dxfArguments

	Output   string `short:"o" placeholder:"NAME" help:"File for the submission with the findings ringed, ending in .dxf, .svg or .pdf; with --all the folder for marks.csv and a page of each student."`
	Format   string `placeholder:"NAME" default:"text" help:"Form of the report: text (the default), csv or json."`
	Pages    string `placeholder:"NAME" default:"pdf" help:"Form of the pages with --all: ${formats}; pdf by default."`
	Jobs     int    `placeholder:"N" help:"Students at a time with --all; as many as there are processors by default."`
	Force    bool   `short:"f" help:"Replace files that exist."`
	Unlisted bool   `help:"Take sizes and pitches that ISO 261 does not list."`
}

func (c *markCommand) Run(e *env) error {
	if err := c.check(); err != nil {
		return err
	}
	encoder, err := c.encoder(e)
	if err != nil {
		return err
	}
	own, err := c.load(settings.NewRulesLoader(e.readSettings), "")
	if err != nil {
		return err
	}
	cl, err := newClass(e, c.Plate, c.Seed, settings.PlateOptions{Unlisted: c.Unlisted, Own: own})
	if err != nil {
		return err
	}
	var students []student
	if c.Class != "" {
		if students, err = readClass(e, c.Class); err != nil {
			return err
		}
	}
	if c.All != "" {
		return c.markAll(cl, students, encoder)
	}
	s, err := studentOf(students, c.Roll, c.Class)
	if err != nil {
		return err
	}
	marker, err := cl.marker(e.ctx, s, c.Tolerance)
	if err != nil {
		return err
	}
	name, res, err := c.markFile(e, marker, c.Submission)
	if err != nil {
		return err
	}
	if c.Output != "" {
		form, err := formatOf(c.Output, "")
		if err != nil {
			return err
		}
		data, err := form.append(encoder, nil, res.Drawing(), "Marked: "+filepath.Base(name))
		if err != nil {
			return err
		}
		if err := e.put(c.Output, c.Force, data); err != nil || c.Output == stdStream {
			return err
		}
	}
	return c.report(e, res)
}

func (c *markCommand) check() error {
	switch {
	case c.Submission == "" && c.All == "":
		return errors.New("a submission is missing: give a DXF file, or a folder with --all")
	case c.Submission != "" && c.All != "":
		return errors.New("--all: marks a folder; leave the file out, or --all")
	case c.All != "" && c.Output == "":
		return errors.New("--all: the folder for the marks is missing; give it with -o")
	case c.All != "" && c.Roll != "":
		return errors.New("--roll: with --all the names of the files are the rolls; leave one of them out")
	case c.Tolerance != 0 && !(c.Tolerance >= 0.05 && c.Tolerance <= 2):
		return fmt.Errorf("--tolerance %v: must be from 0.05 to 2 mm on paper", c.Tolerance)
	}
	return formatArgument{c.Format}.check()
}

// studentOf finds a student in the list, or by the place where there is none.
func studentOf(students []student, roll, list string) (student, error) {
	if students == nil {
		if roll == "" {
			return student{roll: "1"}, nil
		}
		n, err := strconv.Atoi(roll)
		if err != nil || n < 1 || n > mostStudents {
			return student{}, fmt.Errorf("--roll %s: without --class it is the number of the place in the list, from 1", clean(roll))
		}
		return student{roll: roll, place: n - 1}, nil
	}
	if roll == "" {
		return student{}, errors.New("--roll: missing; whose drawing is it?")
	}
	known := make([]string, len(students))
	for i, s := range students {
		if strings.EqualFold(s.roll, roll) {
			return s, nil
		}
		known[i] = s.roll
	}
	if near := fastener.Nearest(strings.ToLower(roll), known); near != "" {
		return student{}, fmt.Errorf("--roll %s: is not in %s; did you mean %s?", clean(roll), list, near)
	}
	return student{}, fmt.Errorf("--roll %s: is not in %s", clean(roll), list)
}

// marker returns what compares the drawings of a student.
func (c *class) marker(ctx context.Context, s student, tolerance float64) (*marking.Marker, error) {
	r, err := c.plate(s)
	if err != nil {
		return nil, err
	}
	model, err := r.Model(ctx)
	if err != nil {
		return nil, err
	}
	opt := r.Marks
	if tolerance != 0 {
		opt.Tolerance = tolerance
	}
	k, err := marking.New(model, opt)
	if err != nil {
		return nil, fmt.Errorf("%s: %w", c.file, err)
	}
	return k, nil
}

// markFile marks a file.
func (c *markCommand) markFile(e *env, k *marking.Marker, path string) (string, *marking.Result, error) {
	name, in := path, e.stdin
	if path == stdStream {
		name = "stdin"
	} else {
		in = &fileReader{name: path}
	}
	f, err := dxfin.Decode(interruptible{e.ctx, in})
	if err == nil {
		var res *marking.Result
		if res, err = k.Mark(f); err == nil {
			return name, res, nil
		}
	}
	var pe *os.PathError
	if errors.As(err, &pe) || errors.Is(err, errInterrupted) {
		return name, nil, cannotRead(name, err)
	}
	return name, nil, fmt.Errorf("%s: %w", name, err)
}

func (c *markCommand) report(e *env, res *marking.Result) error {
	switch c.Format {
	case "json":
		return writeJSON(e.stdout, res)
	case "csv":
		rows := make([][]string, len(res.Findings))
		for i, f := range res.Findings {
			rows[i] = []string{strconv.Itoa(f.Number), f.Kind.String(), f.Figure, f.View, f.Text, f.Advice, decimal(f.Amount, dataDecimals), decimal(f.Points, dataDecimals)}
		}
		return writeCSV(e.stdout, []string{"number", "kind", "figure", "view", "text", "advice", "amount", "points"}, rows)
	}
	var text bytes.Buffer
	if err := res.WriteText(&text); err != nil {
		return err
	}
	for line := range strings.Lines(text.String()) { // with texts of the student's file
		if _, err := fmt.Fprintln(e.stdout, visible(strings.TrimSuffix(line, "\n"))); err != nil {
			return err
		}
	}
	return nil
}

// A markedOne is what became of one submission of a class.
type markedOne struct {
	student
	file  string
	res   *marking.Result
	pages []byte
	err   error
}

func (c *markCommand) markAll(cl *class, students []student, encoder dxfout.Encoder) error {
	form, err := parseFormat(c.Pages)
	if err != nil {
		return fmt.Errorf("--pages %s: no such form; %s", c.Pages, settings.DidYouMean(c.Pages, formatNames()))
	}
	files, err := submissions(c.All)
	if err != nil {
		return err
	}
	if students == nil {
		if students, err = placesIn(files); err != nil {
			return err
		}
	}
	if err := makeFolder(c.Output); err != nil {
		return err
	}
	w := &fileWriter{force: c.Force}
	index := filepath.Join(c.Output, "marks.csv")
	if _, err := w.check(index); err != nil {
		return err
	}
	// What is wrong with the plate is said once.
	if _, err := cl.marker(cl.ctx, students[0], c.Tolerance); err != nil {
		return err
	}
	all := make([]markedOne, len(students))
	err = eachStudent(cl.env, students, c.Jobs, func(ctx context.Context, i int) {
		m := &all[i]
		m.student = students[i]
		if m.file = files[strings.ToLower(m.roll)]; m.file == "" {
			return
		}
		k, err := cl.marker(ctx, m.student, c.Tolerance)
		if err != nil {
			m.err = err
			return
		}
		if _, m.res, m.err = c.markFile(cl.env, k, m.file); m.err != nil {
			return
		}
		m.pages, m.err = form.append(encoder, nil, m.res.Drawing(), "Marked: roll "+m.roll)
	})
	if err != nil {
		return err
	}
	return c.writeAll(cl.env, w, index, form, all, files)
}

// submissions returns the DXF files of a folder by their names without ending,
// in small letters.
func submissions(dir string) (map[string]string, error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, cannotRead(dir, err)
	}
	files := map[string]string{}
	for _, f := range entries {
		ext := filepath.Ext(f.Name())
		if f.IsDir() || !strings.EqualFold(ext, ".dxf") {
			continue
		}
		roll := strings.ToLower(strings.TrimSuffix(f.Name(), ext))
		path := filepath.Join(dir, f.Name())
		if other, twice := files[roll]; twice {
			return nil, fmt.Errorf("%s: and %s are of one student; leave one of them", path, other)
		}
		files[roll] = path
	}
	if len(files) == 0 {
		return nil, fmt.Errorf("%s: has no DXF files", dir)
	}
	return files, nil
}

// placesIn returns the students whose files are named by their place.
func placesIn(files map[string]string) ([]student, error) {
	var out []student
	for roll := range settings.InOrder(files) {
		s, err := studentOf(nil, roll, "")
		if err != nil {
			return nil, fmt.Errorf("%s: is not named by a place in the list; give the list with --class", files[roll])
		}
		out = append(out, s)
	}
	return out, nil
}

// writeAll writes the page of each student, then the marks.
func (c *markCommand) writeAll(e *env, w *fileWriter, index string, form format, all []markedOne, files map[string]string) error {
	header := []string{"roll", "points", "of", "views", "lines", "kinds of line", "dimensions", "neatness", "findings", "unsure", "file", "page", "error"}
	var rows [][]string
	marked, missing, failed := 0, 0, 0
	known := map[string]bool{}
	for i := range all {
		m := &all[i]
		known[strings.ToLower(m.roll)] = true
		row := make([]string, len(header))
		row[0] = m.roll
		page := filepath.Join(c.Output, m.roll+"."+string(form))
		if m.err == nil && m.res != nil {
			m.err = w.write(page, m.pages)
		}
		switch {
		case m.file == "":
			missing++
			row[12] = "not handed in"
		case m.err != nil:
			failed++
			row[10], row[12] = filepath.Base(m.file), m.err.Error()
			e.report(m.err)
		default:
			marked++
			row[1], row[2] = decimal(m.res.Points, dataDecimals), decimal(m.res.Of, dataDecimals)
			for k, p := range m.res.Parts {
				if 3+k < 8 {
					row[3+k] = decimal(p.Points, dataDecimals)
				}
			}
			row[8], row[9] = strconv.Itoa(len(m.res.Findings)), strconv.Itoa(len(m.res.Unsure))
			row[10], row[11] = filepath.Base(m.file), filepath.Base(page)
		}
		rows = append(rows, row)
	}
	strangers := 0
	for roll, file := range settings.InOrder(files) {
		if !known[roll] {
			strangers++
			e.report(fmt.Errorf("%s: no student of the list has this roll", file))
		}
	}
	var out writerTo
	if err := writeCSV(&out, header, rows); err != nil {
		return err
	}
	if err := w.write(index, out); err != nil {
		return err
	}
	if err := e.say("%d marked, %d not handed in, %d failed; %s\n", marked, missing, failed, index); err != nil {
		return err
	}
	if failed+strangers > 0 {
		return errPartial
	}
	return nil
}
