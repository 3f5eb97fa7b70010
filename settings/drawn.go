package settings

import (
	"boltplate/drawing/sheet"
	"boltplate/fastener"
	"boltplate/fastener/joint"
	"boltplate/marking"
	"context"
	"fmt"
	"slices"
	"strconv"
)

// DrawnFigures returns the indices of figures that a student draws.
func (r *Plate) DrawnFigures() (out []int) {
	for i, f := range r.Sheet.Figures {
		switch f.Source.(type) {
		case fastener.Figure, *joint.Settled, tabulated:
			out = append(out, i)
		}
	}
	return slices.Clip(out)
}

// Model returns the figures of a plate that a student draws, each at the scale
// that it has on the sheet.
func (r *Plate) Model(ctx context.Context) (m marking.Model, err error) {
	drawn := r.DrawnFigures()
	if len(drawn) == 0 {
		return m, fmt.Errorf("%s: no figure of the plate has views to draw", r.Name)
	}
	scales := make([]float64, len(r.Sheet.Figures))
	known := true
	for _, i := range drawn {
		if scales[i] = r.Sheet.Figures[i].Scale; scales[i] == 0 {
			scales[i] = r.Sheet.Scale
		}
		known = known && scales[i] > 0
	}
	if !known {
		p := r.Sheet
		p.Exercise = sheet.Answer
		sheets, err := p.Sheets(ctx)
		if err != nil {
			return m, r.Locate(err)
		}
		for _, s := range sheets {
			for _, f := range s.Figures {
				scales[f.Index] = f.Scale
			}
		}
	}
	for _, i := range drawn {
		f := &r.Sheet.Figures[i]
		st := r.Sheet.Style
		if f.Labels != nil {
			st.Labels = *f.Labels
		}
		st.Scale = scales[i]
		src, third := f.Source, r.Sheet.ThirdAngle
		if t, ok := src.(tabulated); ok {
			src = t.figure
		}
		if ff, ok := src.(fastener.Figure); ok {
			third = ff.Options.Projection == fastener.ThirdAngle
		}
		d, err := src.Draw(st)
		if err != nil {
			return m, r.Locate(&sheet.FigureError{Index: i, Err: err})
		}
		one := marking.Figure{Drawing: d, ThirdAngle: third}
		if len(drawn) > 1 {
			one.Name = "Fig. " + strconv.Itoa(i+1)
		}
		m.Figures = append(m.Figures, one)
	}
	return m, nil
}
