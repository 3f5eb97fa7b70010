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
	"boltplate/fastener/joint"
	"boltplate/fastener/schedule"
)

type stepsCommand struct {
	partArguments

	Views      string `placeholder:"LIST" help:"Views, of front,side,head,point,isometric; by default an elevation and an end view."`
	Projection string `placeholder:"NAME" help:"Projection method: first (the default) or third."`
	Labels     string `placeholder:"NAME" help:"What the dimensions of the last step say: numbers (the default), rules, letters or none."`
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
	if p.Figures, err = stepFigures(row); err != nil {
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

// stepFigures returns the steps of a row as the figures of a plate.
func stepFigures(row schedule.Row) ([]sheet.Figure, error) {
	o := row.Options
	o.Caption = nil
	return figuresOf(o.Style, func(st drawing.Style) ([]fastener.Step, error) {
		o := o
		o.Style = st
		return fastener.Steps(row.Fastener, o)
	})
}

// figuresOf returns steps as the figures of a plate.
func figuresOf(st drawing.Style, of func(drawing.Style) ([]fastener.Step, error)) ([]sheet.Figure, error) {
	steps, err := of(st)
	if err != nil {
		return nil, err
	}
	out := make([]sheet.Figure, len(steps))
	for i, s := range steps {
		out[i] = sheet.Figure{Caption: s.Title, Source: stepSource{of, i}}
	}
	return out, nil
}

// A stepSource is a step of drawing a fastener or a joint, with what to do beside
// it.
type stepSource struct {
	steps func(drawing.Style) ([]fastener.Step, error)
	index int
}

// Draw returns the step in one drawing.
func (s stepSource) Draw(st drawing.Style) (*drawing.Drawing, error) { return sheet.Compact(s, st) }

// Content returns the figure of the step and what to do.
func (s stepSource) Content(st drawing.Style) (*sheet.Content, error) {
	steps, err := s.steps(st)
	if err != nil {
		return nil, err
	}
	one := steps[s.index]
	return &sheet.Content{Drawing: one.Drawing, Blocks: []sheet.Block{sheet.Paragraph{Lines: []string{one.Text}}}}, nil
}

// stepFigures reads steps = true: how a fastener is drawn, a figure for each
// step.
func (r *plateReader) stepFigures(t *figureTable) {
	if v, ok := t.keys["steps"].(bool); !ok || !v {
		r.failAt(t, "steps", "steps: must be true or false; true shows step by step how the fastener is drawn")
		return
	}
	var all []sheet.Figure
	var err error
	if _, joined := t.keys["joint"]; joined {
		f, ok := r.jointFigure(t)
		if !ok {
			return
		}
		all, err = figuresOf(drawing.Style{}, f.Source.(*joint.Settled).Steps)
	} else {
		row, ok := r.row(t, "steps")
		if !ok {
			return
		}
		if _, method := t.keys["projection"]; !method {
			row.Options.Projection = r.projection
		}
		all, err = stepFigures(row)
	}
	if err != nil {
		r.failAt(t, "steps", "%v", err)
		return
	}
	for _, f := range all {
		title := f.Caption
		if !r.common(t, &f) {
			return
		}
		f.Caption = title
		r.plate.Figures = append(r.plate.Figures, f)
	}
}
