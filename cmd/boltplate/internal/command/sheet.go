package command

import (
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"boltplate/drawing"
	"boltplate/drawing/sheet"
	"boltplate/dxfout"
	"boltplate/settings"
)

type sheetCommand struct {
	Plate    string `arg:"" placeholder:"PLATE.toml" help:"File that describes the sheet and its figures; - for standard input."`
	Labels   string `placeholder:"NAME" help:"What dimensions say, whatever the file says: numbers, rules, letters, none or blank."`
	Key      bool   `negatable:"" default:"true" help:"Explain the letters of rules and letters under each figure."`
	Frame    string `placeholder:"SPACE" default:"model" help:"Where a DXF file has the frame and the title block: model (the default), with the figures, or paper, in the layout alone."`
	Exercise string `placeholder:"NAME" help:"question: values are blank or what the file's question says, tables empty, findings gone; answer: all stands."`

	rulesArgument
	dxfArguments

	Output   string `short:"o" required:"" placeholder:"FILE" help:"File to write, ending in .dxf, .svg or .pdf; - for standard output. Several pages are one PDF file, or FILE-1, FILE-2 and so on."`
	Format   string `placeholder:"NAME" help:"Form of what standard output gets: ${formats}; dxf by default."`
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
	frame, err := parseFrameSpace(c.Frame)
	if err != nil {
		return err
	}
	var labels *drawing.Labels
	if c.Labels != "" {
		l, err := drawing.ParseLabels(c.Labels)
		if err != nil {
			return fmt.Errorf("--labels %s: no such choice; %s", c.Labels, settings.DidYouMean(c.Labels, drawing.LabelsWords()))
		}
		labels = &l
	}
	var exercise sheet.Exercise
	if c.Exercise != "" {
		if exercise, err = sheet.ParseExercise(c.Exercise); err != nil {
			return fmt.Errorf("--exercise %s: no such choice; %s", c.Exercise, settings.DidYouMean(c.Exercise, []string{"question", "answer"}))
		}
		if labels != nil {
			return errors.New("--labels, --exercise: an exercise says what dimensions say; leave one of them out, and write question = \"letters\" or \"rules\" in the plate file")
		}
	}
	rules := settings.NewRulesLoader(e.readSettings)
	own, err := c.load(rules, stdinUse(c.Plate, "plate file"))
	if err != nil {
		return err
	}
	r, err := settings.ReadPlateFile(e.readSettings, c.Plate, settings.PlateOptions{Unlisted: c.Unlisted, Labels: labels, Own: own, Loader: rules})
	if err != nil {
		return err
	}
	r.Sheet.Style.NoKey = r.Sheet.Style.NoKey || !c.Key
	r.Sheet.Exercise = exercise
	pages, err := compose(e, &r.Sheet)
	if err != nil {
		return r.Locate(err)
	}
	files, err := encodePages(form, encoder, pages, &r.Sheet, frame)
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

// compose draws a plate with its progress on a terminal.
func compose(e *env, p *sheet.Plate) ([]sheet.Sheet, error) {
	bar := e.newProgress(int64(len(p.Figures)))
	defer bar.finish()
	p.Progress = func(done, _ int) { bar.set(int64(done)) }
	pages, err := p.Sheets(e.ctx)
	if errors.Is(err, context.Canceled) {
		return nil, errors.New("stopped; no sheet is written")
	}
	return pages, err
}

// encodePages returns the files of the pages: one for all of them in PDF, one
// each otherwise. A page is the trimmed sheet. In layered DXF it is the layout
// of paper space as well, so that it is plotted in one step.
func encodePages(f format, e dxfout.Encoder, pages []sheet.Sheet, p *sheet.Plate, frame frameSpace) ([][]byte, error) {
	size := p.Format.Trimmed()
	title := p.Title.Title
	if title == "" {
		title = "Sheet " + p.Format.String()
	}
	info, ok := f.info()
	if !ok {
		return nil, errors.New("no such format: " + string(f))
	}
	if info.pages != nil {
		ds := make([]*drawing.Drawing, len(pages))
		for i := range pages {
			ds[i] = pages[i].Drawing
		}
		data, err := info.pages(ds, size, title)
		return [][]byte{data}, err
	}
	files := make([][]byte, len(pages))
	for i := range pages {
		var err error
		if info.page != nil {
			files[i], err = info.page(e, &pages[i], size, title, frame)
		} else {
			files[i], err = info.one(e, nil, pages[i].Drawing, title)
		}
		if err != nil {
			return nil, fmt.Errorf("sheet %d: %w", i+1, err)
		}
	}
	return files, nil
}

// A frameSpace says where in a DXF file the frame and the title block stand.
type frameSpace uint8

const (
	frameInModel frameSpace = iota // with the figures; the layout shows all of it
	frameOnPaper                   // in the layout, and only the figures in model space
)

func parseFrameSpace(s string) (frameSpace, error) {
	words := []string{"model", "paper"}
	if i := slices.Index(words, s); i >= 0 {
		return frameSpace(i), nil
	}
	return 0, fmt.Errorf("--frame %s: no such space; %s", s, settings.DidYouMean(s, words))
}

// onPaper returns what of a sheet is in model space, and the layout on which it
// is plotted.
func onPaper(s *sheet.Sheet, size drawing.Rect, frame frameSpace) (*drawing.Drawing, *dxfout.Layout) {
	l := &dxfout.Layout{Width: size.Dx(), Height: size.Dy(), Viewports: []dxfout.Viewport{{Window: size, Centre: size.Mid(), Scale: 1}}}
	if frame == frameInModel {
		return s.Drawing, l
	}
	d := *s.Drawing
	l.Items, d.Items = d.Items[:s.Furniture], d.Items[s.Furniture:]
	return &d, l
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
