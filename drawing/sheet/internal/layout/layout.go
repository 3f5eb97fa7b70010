// Package layout finds places for figures on the pages of a sheet. It knows
// figures by their extents alone, in millimetres of paper from the lower left
// corner of the drawing space.
//
// On a page figures are divided by straight cuts into rows and columns, rows of
// columns, columns of rows and so on, so that of any two the later one in
// reading order stands right of the earlier one or below it. In a row the axes
// of the figures are in line, or the feet, and so are the captions. Of the ways
// to cut that have room the one with the best Balance is taken, after every gap
// has been made as even as it can be.
package layout

import "boltplate/drawing"

// A Stance is one way for a figure to stand: its extent with all that belongs
// to it, mm on paper.
type Stance struct {
	Width    float64 // of the figure or its caption, whichever is wider
	Up, Down float64 // how far the figure reaches above and below its axis
	Caption  float64 // height of the caption with its distance from the figure; 0 without one
	Penalty  float64 // how much worse it looks than the best of its figure, in parts of a score of 1
}

// A Figure is what a place is wanted for.
type Figure struct {
	Stances []Stance // at least one, the usual one first
	NewPage bool     // it begins a page
	Page    int      // the page that it must stand on, from 1; 0 is any
	// Row and Column, where one of them is not 0, give its place among the
	// figures of its page, from 1.
	Row, Column int
}

// A Room is the drawing space of a page: its width and height, and what is
// taken in its lower right corner.
type Room struct{ Width, Height, TakenWidth, TakenHeight float64 }

// Area returns the area of the space that is free.
func (m Room) Area() float64 { return m.Width*m.Height - m.TakenWidth*m.TakenHeight }

// A Place is where a figure stands.
type Place struct {
	Page    int           // from 0
	Stance  int           // which of those of the figure
	At      drawing.Point // the middle of its width on its axis
	Caption float64       // the upper edge of its caption with its distance: the level to which the figures of its row reach down
}

// box returns the extent of a figure with its caption at a place.
func (p Place) box(s *Stance) drawing.Rect {
	return drawing.Rect{
		Min: drawing.Pt(p.At.X-s.Width/2, p.Caption-s.Caption),
		Max: drawing.Pt(p.At.X+s.Width/2, p.At.Y+s.Up),
	}
}

// eps is what rounding may add to a length, mm.
const eps = 1e-6
