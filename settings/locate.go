package settings

import (
	"boltplate/drawing/sheet"
	"boltplate/fastener/schedule"
	"errors"
	"fmt"
)

// Locate gives an error of composing its place in the file.
func (r *Plate) Locate(err error) error {
	var fe *sheet.FigureError
	var te *sheet.TitleError
	switch {
	case errors.As(err, &fe):
		at := r.FigurePlace(fe.Index)
		return schedule.Errors{{File: r.Name, Line: at.Line, Column: at.Column, Err: err}}
	case errors.As(err, &te):
		at, ok := r.places["title"]
		if !ok {
			at = Position{1, 1}
		}
		return schedule.Errors{{File: r.Name, Line: at.Line, Column: at.Column, Err: err}}
	}
	return fmt.Errorf("%s: %w", r.Name, err)
}
