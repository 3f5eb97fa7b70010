package command

import (
	"errors"
	"fmt"

	"boltplate/drawing"
	"boltplate/drawing/sheet"
	"boltplate/dxfout"
	"boltplate/fastener/joint"
	"boltplate/fastener/schedule"
	"boltplate/settings"
)

type jointCommand struct {
	File string `arg:"" help:"Joint file (TOML): scene, bolt and parts; what is left out is chosen."`

	Fix   string `placeholder:"FILE" help:"Write the joint, complete and with the remedies of its findings applied, to a joint file; - for standard output."`
	Check bool   `help:"Only check the joint, and list what is found and what was chosen."`
	formatArgument
	rulesArgument
	dxfArguments

	Steps  bool   `help:"Show step by step how the joint is drawn: parts first, then holes, fastener, hatching last."`
	Sheet  string `placeholder:"SIZE" default:"A3" help:"Size of the sheets on which the steps stand: A4, A3 (the default), A2, A1 or A0."`
	Scale  string `placeholder:"RATIO" help:"Scale at which the drawing will be plotted, 1:2, 2:1 or 0.5; geometry stays full size."`
	Output string `short:"o" placeholder:"FILE" help:"File to write, ending in .dxf, .svg or .pdf; - for DXF on standard output."`
	Force  bool   `short:"f" help:"Replace a file that exists."`
}

// errFindings says that a joint does not work; the findings have been reported.
var errFindings = errPartial

func (c *jointCommand) Run(e *env) error {
	if err := c.check(); err != nil {
		return err
	}
	if c.Output == "" && !c.Check && c.Fix == "" {
		return errors.New("joint: give a file to write with -o, or --check, or --fix")
	}
	var form format
	encoder, err := c.encoder(e)
	if err == nil && c.Output != "" {
		form, err = formatOf(c.Output, "")
	}
	if err != nil {
		return err
	}
	j, file, err := settings.ReadJointFile(e.readSettings, c.File)
	if err != nil {
		return err
	}
	if own, err := c.load(settings.NewRulesLoader(e.readSettings), stdinUse(c.File, "joint file")); err != nil {
		return err
	} else if own != nil {
		j.Rules, file.Rules = own, c.Rules
	}
	settled, err := j.Settle()
	if err != nil {
		return settings.AtField(file, err)
	}
	if c.Fix != "" {
		if err := c.writeFixed(e, j, file.Rules); err != nil {
			return err
		}
	}
	if c.Output != "" {
		if err := c.draw(e, settled, form, encoder); err != nil {
			return err
		}
	}
	if c.Output != stdStream && c.Fix != stdStream {
		if err := c.report(e, settled); err != nil {
			return err
		}
	}
	if !settled.Works() {
		return errFindings
	}
	return nil
}

// writeFixed writes the joint with the remedies of its findings applied.
func (c *jointCommand) writeFixed(e *env, j joint.Joint, rules string) error {
	fixed, _, err := j.Fixed()
	if err != nil {
		return fmt.Errorf("%s: %w", c.File, err)
	}
	data := settings.WriteJoint(fixed, rules)
	return e.put(c.Fix, c.Force, data)
}

func (c *jointCommand) draw(e *env, s *joint.Settled, form format, encoder dxfout.Encoder) error {
	var st drawing.Style
	var err error
	if c.Scale != "" {
		scale, ok := schedule.ParseScale(c.Scale)
		if !ok {
			return fmt.Errorf("--scale %s: not a scale; write 1:2, 2:1 or 0.5", c.Scale)
		}
		st.Scale = scale
	}
	if c.Steps {
		if c.Output == stdStream {
			return errors.New("-o -: the steps make several pages; give the name of a file")
		}
		p := sheet.Plate{Pages: sheet.AsNeeded, Scale: st.Scale,
			Title: sheet.Title{Title: s.Joint.Title, Type: "How it is drawn"}}
		if p.Figures, err = settings.StepsAsFigures(st, s.Steps); err != nil {
			return fmt.Errorf("%s: %w", c.File, err)
		}
		return writeSteps(e, &p, c.Sheet, form, encoder, &fileWriter{force: c.Force}, c.Output)
	}
	d, err := s.Draw(st)
	if err != nil {
		return fmt.Errorf("%s: %w", c.File, err)
	}
	data, err := form.append(encoder, nil, d, s.Joint.Title)
	if err != nil {
		return err
	}
	return e.put(c.Output, c.Force, data)
}

type jointJSON struct {
	Scene    string        `json:"scene"`
	Title    string        `json:"title"`
	Works    bool          `json:"works"`
	Choices  []choiceJSON  `json:"choices"`
	Findings []findingJSON `json:"findings"`
	Notes    []string      `json:"notes"`
}

type choiceJSON struct {
	Field string `json:"field"`
	Value string `json:"value"`
	Why   string `json:"why"`
}

type findingJSON struct {
	Code     string  `json:"code"`
	Severity string  `json:"severity"`
	What     string  `json:"what"`
	Measured float64 `json:"measured"`
	Required float64 `json:"required"`
	Unit     string  `json:"unit"`
	Remedy   string  `json:"remedy"`
	Rule     string  `json:"rule"`
	Source   string  `json:"source"`
	// Fix is the remedy as changes to the joint file.
	Fix []changeJSON `json:"fix"`
}

type changeJSON struct {
	Field string `json:"field"`
	Value string `json:"value"`
}

func (c *jointCommand) report(e *env, s *joint.Settled) error {
	j, choices, found, notes := s.Joint, s.Choices, s.Findings, s.Notes
	switch c.Format {
	case "json":
		out := jointJSON{Scene: string(j.Scene), Title: j.Title, Works: s.Works(), Choices: []choiceJSON{}, Findings: []findingJSON{}, Notes: append([]string{}, notes...)}
		for _, h := range choices {
			out.Choices = append(out.Choices, choiceJSON(h))
		}
		for _, f := range found {
			fix := []changeJSON{}
			for _, h := range f.Fix {
				fix = append(fix, changeJSON(h))
			}
			out.Findings = append(out.Findings, findingJSON{string(f.Code), f.Severity.String(), f.What,
				rounded(f.Measured, dataDecimals), rounded(f.Required, dataDecimals), f.Unit, f.Remedy, f.Rule, f.Source, fix})
		}
		return writeJSON(e.stdout, out)
	case "csv":
		rows := make([][]string, len(found))
		for i, f := range found {
			rows[i] = []string{string(f.Code), f.Severity.String(), f.What, decimal(f.Measured, dataDecimals), decimal(f.Required, dataDecimals), f.Unit, f.Remedy, f.Rule, f.Source}
		}
		return writeCSV(e.stdout, []string{"code", "severity", "what", "measured", "required", "unit", "remedy", "rule", "source"}, rows)
	}
	for _, h := range choices {
		if _, err := fmt.Fprintf(e.stdout, "chosen: %s = %s: %s\n", h.Field, h.Value, h.Why); err != nil {
			return err
		}
	}
	for i, f := range found {
		if _, err := fmt.Fprintf(e.stdout, "F%d: %s\n", i+1, f); err != nil {
			return err
		}
	}
	if len(found) == 0 {
		if _, err := fmt.Fprintln(e.stdout, "checked: no findings"); err != nil {
			return err
		}
	}
	for _, n := range notes {
		if _, err := fmt.Fprintln(e.stdout, n); err != nil {
			return err
		}
	}
	return nil
}
