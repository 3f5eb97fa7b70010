package command

import (
	"errors"
	"fmt"

	"encoding/json"

	"boltplate/drawing"
	"boltplate/fastener/assembly"
	"boltplate/fastener/schedule"
	"boltplate/settings"
)

type placeCommand struct {
	Layout   string `arg:"" placeholder:"LAYOUT.csv" help:"CSV file with the columns mark, view, x, y and, as needed, angle, mirror, cover, and circle, start, count for a pitch circle or columns, dx, rows, dy for a rectangular pattern; - for standard input."`
	Schedule string `required:"" placeholder:"SCHEDULE.csv" help:"Schedule whose marks the layout names."`
	Under    string `placeholder:"DRAWING.json" help:"Drawing in JSON that the fasteners stand in, such as a flange; its scale must be that of --scale."`
	List     bool   `negatable:"" default:"true" help:"Draw the list of parts below."`
	figureFile
}

type blocksCommand struct {
	Schedule string `arg:"" placeholder:"SCHEDULE.csv" help:"Schedule of the fasteners; - for standard input."`
	figureFile
}

// figureFile is a drawing at a scale that goes into one file.
type figureFile struct {
	Scale    string `placeholder:"RATIO" help:"Scale at which the drawing will be plotted, 1:2, 2:1 or 0.5; geometry stays full size."`
	Unlisted bool   `help:"Take sizes and pitches that ISO 261 does not list."`
	Strict   bool   `help:"Refuse columns of a schedule that are none of ours, in place of carrying them along."`
	Output   string `short:"o" required:"" placeholder:"FILE" help:"File to write, ending in .dxf, .svg or .pdf; - for standard output."`
	Format   string `placeholder:"NAME" help:"Form of what standard output gets: ${formats}; dxf by default."`
	Force    bool   `short:"f" help:"Replace a file that exists."`
	rulesArgument
	dxfArguments
}

func (c *figureFile) style() (drawing.Style, error) {
	if c.Scale == "" {
		return drawing.Style{}, nil
	}
	k, ok := schedule.ParseScale(c.Scale)
	if !ok {
		return drawing.Style{}, fmt.Errorf("--scale %s: not a scale; write 1:2, 2:1 or 0.5", c.Scale)
	}
	return drawing.Style{Scale: k}, nil
}

// parts reads a schedule. Rows with errors are reported; where some are good
// the error is errPartial beside them.
func (c *figureFile) parts(e *env, path string) ([]assembly.Part, error) {
	own, err := c.load(settings.NewRulesLoader(e.readSettings), "")
	if err != nil {
		return nil, err
	}
	in, name, _, err := e.openFile(path)
	if err != nil {
		return nil, err
	}
	defer in.Close()
	r, err := schedule.Parser{AllowUnlisted: c.Unlisted, Strict: c.Strict, Own: own, Rules: settings.NewRulesLoader(e.readSettings).From(name)}.NewReader(in, name)
	if err != nil {
		return nil, err
	}
	var out []assembly.Part
	failed := false
	for row, err := range r.Rows() {
		if e.ctx.Err() != nil {
			return nil, e.ctx.Err()
		}
		if err != nil {
			e.report(err)
			failed = true
			continue
		}
		out = append(out, row.Part())
	}
	switch {
	case len(out) == 0 && !failed:
		return nil, fmt.Errorf("%s: the schedule has no rows below its header; nothing was drawn", name)
	case failed:
		return out, errPartial
	}
	return out, nil
}

// write writes the drawing.
func (c *figureFile) write(e *env, d *drawing.Drawing, title string) error {
	form, err := formatOf(c.Output, c.Format)
	if err != nil {
		return err
	}
	encoder, err := c.encoder(e)
	if err != nil {
		return err
	}
	data, err := form.append(encoder, nil, d, title)
	if err != nil {
		return err
	}
	return e.put(c.Output, c.Force, data)
}

func (c *placeCommand) Run(e *env) error {
	if _, err := formatOf(c.Output, c.Format); err != nil {
		return err
	}
	if c.Layout == stdStream && c.Schedule == stdStream {
		return errors.New("standard input is given twice; the layout or the schedule must be a file")
	}
	st, err := c.style()
	if err != nil {
		return err
	}
	in, name, _, err := e.openFile(c.Layout)
	if err != nil {
		return err
	}
	defer in.Close()
	l, lines, err := schedule.ReadLayout(in, name)
	if err != nil {
		return err
	}
	l.Style, l.NoList = st, !c.List
	if l.Under, err = c.under(e); err != nil {
		return err
	}
	// A layout is drawn whole or not at all: a row that is missing in it would
	// be missed at the bench.
	if l.Parts, err = c.parts(e, c.Schedule); err != nil && !errors.Is(err, errPartial) {
		return err
	} else if err != nil {
		return errors.New("nothing was drawn; put the schedule right first")
	}
	d, err := l.Draw()
	var me *assembly.MarkError
	if errors.As(err, &me) && me.Place >= 0 {
		return schedule.Errors{{File: name, Line: lines[me.Place], Column: 1, Field: "mark", Err: err}}
	}
	if err != nil {
		return err
	}
	return c.figureFile.write(e, d, "Fasteners of "+name)
}

// under reads the drawing that the fasteners stand in.
func (c *placeCommand) under(e *env) (*drawing.Drawing, error) {
	if c.Under == "" {
		return nil, nil
	}
	name, text, err := e.readWhole(c.Under, maxDrawing, "a drawing")
	if err != nil {
		return nil, err
	}
	d := &drawing.Drawing{}
	if err := json.Unmarshal([]byte(text), d); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if err := d.Validate(); err != nil {
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	return d, nil
}

func (c *blocksCommand) Run(e *env) error {
	st, err := c.style()
	if err != nil {
		return err
	}
	if encoder, err := c.encoder(e); err != nil {
		return err
	} else if encoder.Version != 0 {
		return errors.New("--dxf plain: plain files have no blocks; leave it out")
	}
	parts, partial := c.parts(e, c.Schedule)
	if partial != nil && (!errors.Is(partial, errPartial) || len(parts) == 0) {
		return partial
	}
	d, err := assembly.Library(parts, st)
	if err != nil {
		return err
	}
	if err := c.figureFile.write(e, d, "Library of fasteners"); err != nil {
		return err
	}
	return partial
}
