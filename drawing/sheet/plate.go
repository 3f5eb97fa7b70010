package sheet

import (
	"context"
	"fmt"
	"math"
	"strconv"

	"boltplate/drawing"
	"boltplate/drawing/sheet/internal/layout"
)

// A Plate is the description of one or more sheets. The zero value is an empty
// A3 sheet in first-angle projection.
type Plate struct {
	Format Format
	// Style says how figures are labelled, and may give another line group and
	// height of text than the sheet's own (Format.Style). Its Scale is not read.
	Style      drawing.Style
	ThirdAngle bool // the projection method of the sheet, for its symbol
	// Scale is that of the figures; 0 is the largest standard scale at which all
	// of them fit (ISO 5455), on as many pages as needed not above 1:1. Where one
	// scale will not do for all, a few large or small figures get one of their own.
	Scale float64
	// Pages is how many pages there may be; 0 means 1.
	Pages   int
	Title   Title
	Notes   []string // general notes, numbered, on the first page
	Figures []Figure // in reading order
	// Grouped lets the sheet choose the order: figures of one scale and kind stand
	// together, those of one kind in the order of Figures, so that they take fewer
	// pages. A figure with NewPage or Page keeps its place.
	Grouped bool
	// Exercise makes a question or a model answer of the plate.
	Exercise Exercise
	// QuestionLabels says what dimensions say in a question: Letters or Rules;
	// with Numbers, its zero value, their values are blank.
	QuestionLabels drawing.Labels
	// Student adds fields for name, class, date and marks to the title block.
	Student bool
	// Progress, where it is not nil, is called after every figure that has been
	// drawn, with how many have been drawn and how many there are to draw at
	// the scale that is being tried.
	Progress func(done, total int)
}

// AsNeeded is the number of pages for as many as the figures take, and the most
// that a plate can have.
const AsNeeded = 1000

// mostFigures is how many figures a plate can have.
const mostFigures = 10_000

// A Sheet is a page of a plate.
type Sheet struct {
	Drawing *drawing.Drawing
	// Furniture is how many of Drawing.Items, the first ones, are the frame, the
	// title block and what stands above it: what a CAD program has in paper space.
	Furniture int
	Scale     float64 // of the title block: that of most of its figures, 0 without one
	Figures   []Standing
	Balance   Balance
}

// A Standing says where a figure stands on its sheet.
type Standing struct {
	Index  int // of the figure in Plate.Figures
	Number int // under it, 0 for none
	Scale  float64
	At     drawing.Point // the origin of its drawing, mm from the lower left corner of the sheet
	Box    drawing.Rect  // its extent with all that belongs to it, and its caption
}

// A Balance says how well the figures fill a sheet.
type Balance struct {
	// Share is how much of the drawing space the figures take with their captions;
	// the title block and what stands above it do not count as space.
	Share float64
	// Evenness says how alike the gaps are that a figure has on its left and
	// right, and above and below it: the smaller one as a part of the larger one,
	// the mean of all figures.
	Evenness float64
	// Empty is the largest empty rectangle as a part of the drawing space.
	Empty float64
}

// Score returns one number for a balance, 1 at the best.
func (b Balance) Score() float64 { return layout.Balance(b).Score() }

// Compose draws the plate, a drawing a page. The error is a *PlateError, a
// *TitleError, a *FigureError, a *FitError or that of ctx.
func (p Plate) Compose(ctx context.Context) ([]*drawing.Drawing, error) {
	sheets, err := p.Sheets(ctx)
	if err != nil {
		return nil, err
	}
	out := make([]*drawing.Drawing, len(sheets))
	for i := range sheets {
		out[i] = sheets[i].Drawing
	}
	return out, nil
}

// Sheets is Compose with what is known of each page besides: where its figures
// stand, at which scale, and how well they fill it.
func (p Plate) Sheets(ctx context.Context) ([]Sheet, error) {
	c := newComposer(ctx, &p)
	if err := c.check(); err != nil {
		return nil, err
	}
	t, err := c.layout()
	if err != nil {
		return nil, err
	}
	if !t.fits() {
		return nil, c.noRoom(t)
	}
	if err := c.place(t); err != nil {
		return nil, err
	}
	return c.sheets(t)
}

// check reports what is wrong with the plate before a figure is drawn.
func (c *composer) check() error {
	size := func(field string, v, least, most float64, usual string) error {
		if v == 0 || v >= least && v <= most {
			return nil
		}
		return &PlateError{field, strconv.FormatFloat(v, 'g', -1, 64), fmt.Sprintf("must be from %g to %g, or 0 for %s", least, most, usual)}
	}
	p := c.Plate
	checks := []error{
		size("Scale", p.Scale, leastScale, mostScale, "an automatic one"),
		size("Style.TextHeight", p.Style.TextHeight, 1, 20, "that of the sheet"),
		size("Style.Group", p.Style.Group, 0.1, 3, "that of the sheet"),
	}
	switch {
	case p.Format.Size >= sizeCount:
		checks = append(checks, &PlateError{"Format.Size", strconv.Itoa(int(p.Format.Size)), "is no size of sheet; use A4 to A0"})
	case p.Pages < 0 || p.Pages > AsNeeded:
		checks = append(checks, &PlateError{"Pages", strconv.Itoa(p.Pages), fmt.Sprintf("must be from 1 to %d", AsNeeded)})
	case len(p.Figures) > mostFigures:
		checks = append(checks, &PlateError{"Figures", strconv.Itoa(len(p.Figures)), fmt.Sprintf("are too many; a plate has at most %d", mostFigures)})
	}
	for _, n := range p.Notes {
		checks = append(checks, checkText("Notes", n))
	}
	for _, err := range checks {
		if err != nil {
			return err
		}
	}
	for i := range p.Figures {
		if err := c.checkFigure(i); err != nil {
			return &FigureError{i, c.name(i), err}
		}
	}
	return c.checkTitle()
}

// mostText is how long a text may be, in bytes.
const mostText = 10_000

func checkText(field, s string) error {
	if len(s) > mostText {
		return &PlateError{field, fmt.Sprintf("%.20q...", s), fmt.Sprintf("has %d bytes; a text may have %d", len(s), mostText)}
	}
	return nil
}

func (c *composer) checkFigure(i int) error {
	f := &c.Figures[i]
	if f.Source == nil {
		return errNoSource
	}
	if k := f.Scale; k != 0 && k != AutoScale && !(k >= leastScale && k <= mostScale) {
		return &PlateError{"Scale", strconv.FormatFloat(k, 'g', -1, 64), fmt.Sprintf("must be from %g to %g, 0 for that of the plate, or AutoScale", leastScale, mostScale)}
	}
	for _, place := range []struct {
		field string
		v     int
	}{{"Page", f.Page}, {"Row", f.Row}, {"Column", f.Column}} {
		if place.v < 0 || place.v > AsNeeded {
			return &PlateError{place.field, strconv.Itoa(place.v), fmt.Sprintf("must be from 1 to %d, or 0 for where it comes", AsNeeded)}
		}
	}
	for _, s := range append([]string{f.Caption, f.Ask}, f.Given...) {
		if err := checkText("text", s); err != nil {
			return err
		}
	}
	return nil
}

func (c *composer) checkTitle() error {
	t := canvas{st: c.st}
	if err := t.titleBlock(c.Plate, 0, 0, 0, 1, "1:1"); err != nil {
		return err
	}
	if taken, has := c.titleHeight()+c.notesHeight(), c.Format.Space().Dy(); taken > has-c.gap() {
		return &PlateError{"Notes", strconv.Itoa(len(c.Notes)), fmt.Sprintf("notes and title block are %s mm high, and %s has room for %s; use a larger sheet or fewer of them",
			drawing.FormatValue(taken, false), c.Format, drawing.FormatValue(has-c.gap(), false))}
	}
	return nil
}

// readable scales: see Scales.
const (
	leastScale = 1e-3
	mostScale  = 1e3
)

// name returns what messages call a figure.
func (c *composer) name(i int) string {
	switch f := &c.Figures[i]; {
	case f.Name != "":
		return f.Name
	case c.numbers[i] > 0:
		return fmt.Sprintf("Fig. %d", c.numbers[i])
	}
	return fmt.Sprintf("figure %d", i+1)
}

// tidy takes away what rounding adds to a scale.
func tidy(k float64) float64 {
	if r := math.Round(k*1e6) / 1e6; math.Abs(r-k) < 1e-12 {
		return r
	}
	return k
}
