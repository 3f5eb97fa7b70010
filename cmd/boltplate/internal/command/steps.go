package command

import (
	"errors"
	"fmt"
	"path/filepath"
	"strconv"
	"strings"

	"boltplate/drawing"
	"boltplate/drawing/sheet"
	"boltplate/dxfout"
	"boltplate/fastener"
	"boltplate/fastener/schedule"
	"boltplate/settings"
)

type stepsCommand struct {
	partArguments

	Views      string `placeholder:"LIST" help:"Views, of front,side,head,point,isometric; by default an elevation and an end view."`
	Projection string `placeholder:"NAME" help:"Projection method: first (the default) or third."`
	Labels     string `placeholder:"NAME" help:"What the dimensions of the last step say: numbers (the default), rules, letters, none, or blank for dimension lines without figures."`
	Hidden     bool   `help:"Draw hidden edges."`
	Section    bool   `help:"Show what is inside in section, where the kind has it."`
	Outside    bool   `help:"Show it from outside, where a section is usual."`
	Scale      string `placeholder:"RATIO" help:"Scale of the figures, 1:2, 2:1 or 0.5; by default the largest one at which all steps have room."`
	Sheet      string `placeholder:"SIZE" default:"A3" help:"Size of the sheets on which the steps stand in a row: A4, A3 (the default), A2, A1 or A0."`
	Single     bool   `help:"A file for each step, FILE-1, FILE-2 and so on, without a sheet."`

	dxfArguments

	Output string `short:"o" required:"" placeholder:"FILE" help:"File to write, ending in .dxf, .svg or .pdf; several pages are one PDF file, or FILE-1, FILE-2 and so on."`
	Force  bool   `short:"f" help:"Replace files that exist."`
}

func (c *stepsCommand) Run(e *env) error {
	form, err := formatOf(c.Output, "")
	if err != nil {
		return err
	}
	if c.Output == stdStream {
		return errors.New("-o -: the steps make several pages; give the name of a file")
	}
	encoder, err := c.encoder(e)
	if err != nil {
		return err
	}
	row, err := c.row(e, map[string]string{
		"views": c.Views, "projection": c.Projection, "labels": c.Labels, "hidden": yes(c.Hidden), "section": sectionWord(c.Section, c.Outside), "scale": c.Scale,
	})
	if err != nil {
		return err
	}
	if c.Single {
		return c.single(row, form, func(d *drawing.Drawing, title string) ([]byte, error) { return form.append(encoder, nil, d, title) })
	}
	p := sheet.Plate{Pages: sheet.AsNeeded, ThirdAngle: row.Options.Projection == fastener.ThirdAngle, Title: stepsTitle(row.Fastener)}
	if c.Scale != "" {
		p.Scale = row.Options.Style.Scale
	}
	p.Style.Labels = row.Options.Style.Labels
	if p.Figures, err = settings.RowSteps(row); err != nil {
		return err
	}
	return writeSteps(e, &p, c.Sheet, form, encoder, &fileWriter{force: c.Force}, c.Output)
}

// writeSteps writes steps on sheets of the size.
func writeSteps(e *env, p *sheet.Plate, size string, form format, encoder dxfout.Encoder, w *fileWriter, output string) error {
	var err error
	if p.Format.Size, err = sheet.ParseSize(size); err != nil {
		return fmt.Errorf("--sheet %s: %w", size, err)
	}
	pages, err := compose(e, p)
	if err != nil {
		return err
	}
	files, err := encodePages(form, encoder, pages, p, frameInModel)
	if err != nil {
		return err
	}
	return writePages(w, output, files)
}

// stepsTitle returns the title of the sheets: what the fastener is, and below it
// what is on it.
func stepsTitle(f fastener.Fastener) sheet.Title {
	title, rest, more := strings.Cut(f.Designation(), " with ")
	t := sheet.Title{Title: title, Type: "How it is drawn"}
	if more {
		t.Supplement = "with " + rest
	}
	return t
}

// single writes a file for each step.
func (c *stepsCommand) single(row schedule.Row, form format, encode func(*drawing.Drawing, string) ([]byte, error)) error {
	steps, err := fastener.Steps(row.Fastener, row.Options)
	if err != nil {
		return err
	}
	ext := filepath.Ext(c.Output)
	w := &fileWriter{force: c.Force}
	names, files := make([]string, len(steps)), make([][]byte, len(steps))
	for i, s := range steps {
		names[i] = strings.TrimSuffix(c.Output, ext) + "-" + strconv.Itoa(i+1) + ext
		if _, err := w.check(names[i]); err != nil {
			return err
		}
		if files[i], err = encode(s.Drawing, fmt.Sprintf("Step %d: %s", i+1, s.Text)); err != nil {
			return err
		}
	}
	for i := range steps {
		if err := w.write(names[i], files[i]); err != nil {
			return err
		}
	}
	return nil
}
