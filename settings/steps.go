package settings

import (
	"boltplate/drawing"
	"boltplate/drawing/sheet"
	"boltplate/fastener"
	"boltplate/fastener/joint"
	"boltplate/fastener/schedule"
)

// RowSteps returns the steps of a row as the figures of a plate.
func RowSteps(row schedule.Row) ([]sheet.Figure, error) {
	o := row.Options
	o.Caption = nil
	return StepsAsFigures(o.Style, func(st drawing.Style) ([]fastener.Step, error) {
		o := o
		o.Style = st
		return fastener.Steps(row.Fastener, o)
	})
}

// StepsAsFigures returns steps as the figures of a plate.
func StepsAsFigures(st drawing.Style, of func(drawing.Style) ([]fastener.Step, error)) ([]sheet.Figure, error) {
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
func (r *Plate) stepFigures(t *figureTable) {
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
		all, err = StepsAsFigures(drawing.Style{}, f.Source.(*joint.Settled).Steps)
	} else {
		row, ok := r.row(t, "steps")
		if !ok {
			return
		}
		if _, method := t.keys["projection"]; !method {
			row.Options.Projection = r.Projection
		}
		all, err = RowSteps(row)
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
		r.Sheet.Figures = append(r.Sheet.Figures, f)
	}
}
