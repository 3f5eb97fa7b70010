package command

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strconv"
	"strings"

	"boltplate/drawing"
	"boltplate/drawing/pdf"
	"boltplate/drawing/sheet"
	"boltplate/drawing/svg"
	"boltplate/dxfout"
	"boltplate/fastener/schedule"
)

type sheetCommand struct {
	Plate    string `arg:"" placeholder:"PLATE.toml" help:"File that describes the sheet and its figures; - for standard input."`
	Labels   string `placeholder:"NAME" help:"What dimensions say, whatever the file says: numbers, rules, letters or none."`
	Key      bool   `negatable:"" default:"true" help:"Explain the letters of rules and letters under each figure."`
	Exercise string `placeholder:"NAME" help:"question: values are blank or what the file's question says, tables empty, findings gone; answer: all stands."`

	rulesArgument
	dxfArguments

	Output   string `short:"o" required:"" placeholder:"FILE" help:"File to write, ending in .dxf, .svg or .pdf; - for standard output. Several pages are one PDF file, or FILE-1, FILE-2 and so on."`
	Format   string `placeholder:"NAME" help:"Form of what standard output gets: dxf (the default), svg or pdf."`
	Force    bool   `short:"f" help:"Replace files that exist."`
	Unlisted bool   `help:"Take sizes and pitches that ISO 261 does not list."`
}

func (c *sheetCommand) Run(e *env) error {
	form, err := formatOf(c.Output, c.Format)
	if err != nil {
		return err
	}
	encoder, err := c.encoder(e)
	if err != nil {
		return err
	}
	var labels *drawing.Labels
	if c.Labels != "" {
		l, err := parseLabels(c.Labels)
		if err != nil {
			return fmt.Errorf("--labels %s: no such choice; %s", c.Labels, didYouMean(c.Labels, labelWords()))
		}
		labels = &l
	}
	var exercise sheet.Exercise
	if c.Exercise != "" {
		if exercise, err = sheet.ParseExercise(c.Exercise); err != nil {
			return fmt.Errorf("--exercise %s: no such choice; %s", c.Exercise, didYouMean(c.Exercise, []string{"question", "answer"}))
		}
		if labels != nil {
			return errors.New("--labels, --exercise: an exercise says what dimensions say; leave one of them out, and write question = \"letters\" or \"rules\" in the plate file")
		}
	}
	rules := newRulesLoader(e)
	used := ""
	if c.Plate == stdStream {
		used = "plate file"
	}
	own, err := c.load(rules, used)
	if err != nil {
		return err
	}
	r, err := readPlateFile(e, c.Plate, plateArguments{unlisted: c.Unlisted, labels: labels, own: own, loader: rules})
	if err != nil {
		return err
	}
	r.plate.Style.NoKey = r.plate.Style.NoKey || !c.Key
	if r.plate.Exercise = exercise; exercise == sheet.Question {
		r.ask()
	}
	pages, err := compose(e, &r.plate)
	if err != nil {
		return r.locate(err)
	}
	files, err := encodePages(form, encoder, pages, &r.plate)
	if err != nil {
		return err
	}
	if c.Output == stdStream {
		if len(files) > 1 {
			return fmt.Errorf("-o -: %d pages make %d files of this form, which standard output cannot take; use --format pdf, or give the name of a file", len(files), len(files))
		}
		_, err := e.stdout.Write(files[0])
		return err
	}
	return writePages(&fileWriter{force: c.Force}, c.Output, files)
}

// locate gives an error of composing its place in the file.
func (r *plateReader) locate(err error) error {
	var fe *sheet.FigureError
	var te *sheet.TitleError
	switch {
	case errors.As(err, &fe):
		at := r.figurePlace(fe.Index)
		return schedule.Errors{{File: r.file, Line: at.line, Column: at.column, Err: err}}
	case errors.As(err, &te):
		at, ok := r.places["title"]
		if !ok {
			at = position{1, 1}
		}
		return schedule.Errors{{File: r.file, Line: at.line, Column: at.column, Err: err}}
	}
	return fmt.Errorf("%s: %w", r.file, err)
}

// compose draws a plate with its progress on a terminal.
func compose(e *env, p *sheet.Plate) ([]*drawing.Drawing, error) {
	if e.progress {
		bar := newProgress(e.stderr, int64(len(p.Figures)))
		defer bar.finish()
		p.Progress = func(done, _ int) { bar.set(int64(done)) }
	}
	pages, err := p.Compose(e.ctx)
	if errors.Is(err, context.Canceled) {
		return nil, errors.New("stopped; no sheet is written")
	}
	return pages, err
}

// encodePages returns the files of the pages: one for all of them in PDF, one
// each otherwise. A page is the trimmed sheet.
func encodePages(f format, e dxfout.Encoder, pages []*drawing.Drawing, p *sheet.Plate) ([][]byte, error) {
	size := p.Format.Trimmed()
	title := p.Title.Title
	if title == "" {
		title = "Sheet " + p.Format.String()
	}
	if f == formatPDF {
		data, err := pdf.Encoder{Width: size.Dx(), Height: size.Dy(), Title: title}.AppendPages(nil, pages...)
		return [][]byte{data}, err
	}
	files := make([][]byte, len(pages))
	for i, d := range pages {
		var err error
		if f == formatSVG {
			files[i], err = svg.Encoder{Width: size.Dx(), Height: size.Dy(), Title: title}.Append(nil, d)
		} else {
			files[i], err = e.Append(nil, d)
		}
		if err != nil {
			return nil, fmt.Errorf("sheet %d: %w", i+1, err)
		}
	}
	return files, nil
}

// pageNames returns the names of the files of n pages: the name itself for
// one, else name-1, name-2 and so on before its ending.
func pageNames(name string, n int) []string {
	if n == 1 {
		return []string{name}
	}
	ext := filepath.Ext(name)
	names := make([]string, n)
	for i := range names {
		names[i] = strings.TrimSuffix(name, ext) + "-" + strconv.Itoa(i+1) + ext
	}
	return names
}

// writePages writes the files, or none where one of them may not be written.
func writePages(w *fileWriter, name string, files [][]byte) error {
	names := pageNames(name, len(files))
	for _, n := range names {
		if _, err := w.check(n); err != nil {
			return err
		}
	}
	for i, n := range names {
		if err := w.write(n, files[i]); err != nil {
			return err
		}
	}
	return nil
}
