package command

import (
	"context"
	"fmt"
	"path/filepath"
	"runtime"
	"sync"
	"sync/atomic"

	"boltplate/drawing/sheet"
	"boltplate/dxfout"
	"boltplate/fastener"
	"boltplate/fastener/joint"
	"boltplate/settings"
)

type handoutCommand struct {
	Class string `arg:"" placeholder:"CLASS.csv" help:"List of the class: a CSV file with a column roll, and a column name where you like; - for standard input."`
	Plate string `arg:"" placeholder:"PLATE.toml" help:"Plate file whose figures leave something open: size = [\"M16\", \"M20\"], length = \"80..140\"."`
	Seed  string `placeholder:"TEXT" help:"What the data are dealt by; the same seed and place in the list give the same sheet."`

	rulesArgument
	dxfArguments

	Output   string `short:"o" required:"" placeholder:"DIR" help:"Folder for the sheets and the key."`
	Format   string `placeholder:"NAMES" default:"pdf,dxf" help:"Forms of the sheets: ${formats}, or several with commas; pdf,dxf by default. All questions and all answers are always one PDF file each."`
	Jobs     int    `placeholder:"N" help:"Students at a time; as many as there are processors by default."`
	Force    bool   `short:"f" help:"Replace files that exist."`
	Unlisted bool   `help:"Take sizes and pitches that ISO 261 does not list."`
}

// A handedOut is what one student gets.
type handedOut struct {
	student
	question, answer []sheet.Sheet
	title            sheet.Plate // for its format and title
	key              []keyRow
	err              error
}

// A keyRow is a size that a student has to find, or what is wrong with a joint.
type keyRow struct {
	Roll        string `json:"roll"`
	Figure      int    `json:"figure"`
	Designation string `json:"designation"`
	Letter      string `json:"letter,omitempty"`
	Name        string `json:"name"`
	Value       string `json:"value"`
	Unit        string `json:"unit,omitempty"`
	Rule        string `json:"rule,omitempty"`
	Answer      string `json:"answer,omitempty"` // of a joint: what puts it right
}

func (c *handoutCommand) Run(e *env) error {
	formats, err := parseFormats(c.Format)
	if err != nil {
		return err
	}
	if c.Class == stdStream && c.Plate == stdStream {
		return fmt.Errorf("-: standard input has one of the two; give the class or the plate as a file")
	}
	if c.Jobs < 0 {
		return fmt.Errorf("--jobs %d: must be 1 or more", c.Jobs)
	}
	encoder, err := c.encoder(e)
	if err != nil {
		return err
	}
	own, err := c.load(settings.NewRulesLoader(e.readSettings), "")
	if err != nil {
		return err
	}
	students, err := readClass(e, c.Class)
	if err != nil {
		return err
	}
	cl, err := newClass(e, c.Plate, c.Seed, settings.PlateOptions{Unlisted: c.Unlisted, Own: own})
	if err != nil {
		return err
	}
	all, err := c.compose(cl, students)
	if err != nil {
		return err
	}
	files, err := c.files(all, formats, encoder)
	if err != nil {
		return err
	}
	if err := makeFolder(c.Output); err != nil {
		return err
	}
	w := &fileWriter{force: c.Force}
	for _, f := range files {
		if _, err := w.check(f.name); err != nil {
			return err
		}
	}
	for _, f := range files {
		if err := w.write(f.name, f.data); err != nil {
			return err
		}
	}
	err = e.say("%d students, %d files; %s, %s, %s\n", len(all), len(files),
		filepath.Join(c.Output, "questions.pdf"), filepath.Join(c.Output, "answers.pdf"), filepath.Join(c.Output, "key.csv"))
	return err
}

// eachStudent calls f for every student, several at a time, and shows the
// progress.
func eachStudent(e *env, students []student, jobs int, f func(ctx context.Context, i int)) error {
	if jobs == 0 {
		jobs = runtime.GOMAXPROCS(0)
	}
	bar := e.newProgress(int64(len(students)))
	defer bar.finish()
	var next, done atomic.Int64
	var workers sync.WaitGroup
	var shown sync.Mutex
	for range min(jobs, len(students)) {
		workers.Go(func() {
			for e.ctx.Err() == nil {
				i := int(next.Add(1)) - 1
				if i >= len(students) {
					return
				}
				f(e.ctx, i)
				shown.Lock()
				bar.set(done.Add(1))
				shown.Unlock()
			}
		})
	}
	workers.Wait()
	if e.ctx.Err() != nil {
		return errInterrupted
	}
	return nil
}

// compose draws the sheets of all students. What is wrong with the plate is
// reported once, whatever the student.
func (c *handoutCommand) compose(cl *class, students []student) ([]handedOut, error) {
	all := make([]handedOut, len(students))
	// The first one alone: what is wrong with the plate is then known.
	all[0] = cl.handOut(cl.ctx, students[0])
	if all[0].err != nil {
		return nil, all[0].err
	}
	err := eachStudent(cl.env, students[1:], c.Jobs, func(ctx context.Context, i int) {
		all[i+1] = cl.handOut(ctx, students[i+1])
	})
	for i := range all {
		if all[i].err != nil && err == nil {
			err = fmt.Errorf("roll %s: %w", students[i].roll, all[i].err)
		}
	}
	return all, err
}

// handOut draws the question and the answer of a student.
func (c *class) handOut(ctx context.Context, s student) (h handedOut) {
	h.student = s
	for _, exercise := range [...]sheet.Exercise{sheet.Answer, sheet.Question} {
		r, err := c.plate(s)
		if err == nil && exercise == sheet.Answer {
			h.key, err = keyRows(r, s)
		}
		if err == nil {
			r.Sheet.Exercise = exercise
			var pages []sheet.Sheet
			if pages, err = r.Sheet.Sheets(ctx); exercise == sheet.Question {
				h.question = pages
			} else {
				h.answer = pages
			}
			if err != nil {
				err = r.Locate(err)
			}
		}
		if err != nil {
			h.err = err
			return h
		}
		h.title = r.Sheet
	}
	return h
}

// A madeFile is a file that is still to be written.
type madeFile struct {
	name string
	data []byte
}

// files returns the files of all students, those of the class, and the key.
func (c *handoutCommand) files(all []handedOut, formats []format, encoder dxfout.Encoder) ([]madeFile, error) {
	var out []madeFile
	var questions, answers []sheet.Sheet
	var rows []keyRow
	for i := range all {
		h := &all[i]
		for _, part := range []struct {
			name  string
			pages []sheet.Sheet
		}{{"question", h.question}, {"answer", h.answer}} {
			for _, f := range formats {
				files, err := encodePages(f, encoder, part.pages, &h.title, frameInModel)
				if err != nil {
					return nil, fmt.Errorf("roll %s: %w", h.roll, err)
				}
				name := filepath.Join(c.Output, h.roll+"-"+part.name+"."+string(f))
				for i, n := range pageNames(name, len(files)) {
					out = append(out, madeFile{n, files[i]})
				}
			}
		}
		questions, answers = append(questions, h.question...), append(answers, h.answer...)
		rows = append(rows, h.key...)
	}
	for _, part := range []struct {
		name  string
		pages []sheet.Sheet
	}{{"questions", questions}, {"answers", answers}} {
		files, err := encodePages(formatPDF, encoder, part.pages, &all[0].title, frameInModel)
		if err != nil {
			return nil, err
		}
		out = append(out, madeFile{filepath.Join(c.Output, part.name+".pdf"), files[0]})
	}
	key, err := keyFiles(c.Output, rows)
	return append(out, key...), err
}

// keyFiles returns the key as CSV and JSON.
func keyFiles(dir string, rows []keyRow) ([]madeFile, error) {
	var csv, js writerTo
	cells := make([][]string, len(rows))
	for i, k := range rows {
		cells[i] = []string{k.Roll, fmt.Sprint(k.Figure), k.Designation, k.Letter, k.Name, k.Value, k.Unit, k.Rule, k.Answer}
	}
	if err := writeCSV(&csv, []string{"roll", "figure", "designation", "letter", "name", "value", "unit", "rule", "answer"}, cells); err != nil {
		return nil, err
	}
	if err := writeJSON(&js, rows); err != nil {
		return nil, err
	}
	return []madeFile{{filepath.Join(dir, "key.csv"), csv}, {filepath.Join(dir, "key.json"), js}}, nil
}

type writerTo []byte

func (w *writerTo) Write(p []byte) (int, error) {
	*w = append(*w, p...)
	return len(p), nil
}

// keyRows returns what a student has to find.
func keyRows(r *settings.Plate, s student) (out []keyRow, err error) {
	for i, f := range r.Sheet.Figures {
		switch src := f.Source.(type) {
		case fastener.Figure:
			qs, err := src.Fastener.Quantities()
			if err != nil {
				return nil, err
			}
			for _, q := range qs {
				out = append(out, keyRow{Roll: s.roll, Figure: i + 1, Designation: src.Fastener.Designation(), Letter: q.Letter, Name: q.Name,
					Value: decimal(q.Value, dataDecimals), Unit: q.Unit.String(), Rule: q.RuleText()})
			}
		case *joint.Settled:
			row := keyRow{Roll: s.roll, Figure: i + 1, Designation: src.Components[0].Name, Name: "findings", Value: "none"}
			if len(src.Findings) == 0 {
				out = append(out, row)
			}
			for _, f := range src.Findings {
				row.Name, row.Value, row.Rule, row.Answer = string(f.Code), f.What, f.Rule, f.Remedy
				out = append(out, row)
			}
		}
	}
	return out, nil
}
