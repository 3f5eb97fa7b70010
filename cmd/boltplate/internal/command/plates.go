package command

import (
	"fmt"
	"path/filepath"
	"strconv"
	"strings"

	"boltplate/drawing/sheet"
	"boltplate/fastener"
	"boltplate/fastener/schedule"
	"boltplate/settings"
)

// platesName is the name of the files with the sheets of a batch, without
// page and ending.
const platesName = "plates"

// A platesOf collects the rows of a batch that are composed on sheets. The nil
// one collects nothing.
type platesOf struct {
	plate  sheet.Plate
	method fastener.Projection
	rows   []schedule.Row
}

// plate returns what --sheet asks for, or nil.
func (c *batchCommand) plate(e *env) (*platesOf, error) {
	if c.Sheet == "" {
		return nil, nil
	}
	p := &platesOf{plate: sheet.Plate{Grouped: !c.Order}}
	if strings.HasSuffix(strings.ToLower(c.Sheet), ".toml") {
		r, err := settings.ReadPlateFile(e.readSettings, c.Sheet, settings.PlateOptions{Unlisted: c.Unlisted, Loader: settings.NewRulesLoader(e.readSettings)})
		if err != nil {
			return nil, err
		}
		if len(r.Sheet.Figures) > 0 {
			at := r.FigurePlace(0)
			return nil, schedule.Errors{{File: c.Sheet, Line: at.Line, Column: at.Column,
				Err: fmt.Errorf("figure: the rows of the schedule are the figures; leave those of the file out")}}
		}
		p.plate, p.method = r.Sheet, r.Projection
		p.plate.Grouped = !c.Order
	} else {
		size, err := sheet.ParseSize(c.Sheet)
		if err != nil {
			return nil, fmt.Errorf("--sheet %s: no such size of sheet; use A4, A3, A2, A1 or A0, or a plate file that ends in .toml", c.Sheet)
		}
		p.plate.Format.Size = size
	}
	if p.plate.Title.Title == "" {
		p.plate.Title.Title = "Hardware schedule"
	}
	if p.plate.Pages == 0 {
		p.plate.Pages = sheet.AsNeeded
	}
	return p, nil
}

// add takes a row that has been drawn.
func (p *platesOf) add(row schedule.Row) {
	if p != nil {
		p.rows = append(p.rows, row)
	}
}

// write composes the rows and writes the sheets in the formats of the batch.
func (p *platesOf) write(b *batch) error {
	if p == nil || len(p.rows) == 0 {
		return nil
	}
	for _, row := range p.rows {
		f := settings.RowFigure(row, p.method)
		f.Kind = row.Spec.Kind
		p.plate.Figures = append(p.plate.Figures, f)
	}
	table := sheet.Table{Headings: []string{"Mark", "Quantity", "Designation", "Note"}, Right: []bool{false, true}}
	for _, row := range p.rows {
		table.Rows = append(table.Rows, []string{row.Mark, strconv.Itoa(row.Quantity), row.Fastener.Designation(), row.Note})
	}
	p.plate.Figures = append(p.plate.Figures, sheet.Figure{Source: table, Caption: "Schedule", NewPage: true})
	pages, err := compose(b.env, &p.plate)
	if err != nil {
		return err
	}
	var names []string
	for _, f := range b.formats {
		files, err := encodePages(f, b.encoder, pages, &p.plate, frameInModel)
		if err != nil {
			return err
		}
		name := filepath.Join(b.dir, platesName+"."+string(f))
		if err := p.clash(pageNames(name, len(files))); err != nil {
			return err
		}
		if err := writePages(b.files, name, files); err != nil {
			return err
		}
		if all := pageNames(name, len(files)); len(all) > 1 {
			name = all[0] + " to " + filepath.Base(all[len(all)-1])
		}
		names = append(names, name)
	}
	err = b.say("%d sheets; %s\n", len(pages), strings.Join(names, ", "))
	return err
}

// clash reports a row whose file would be that of a sheet.
func (p *platesOf) clash(names []string) error {
	for _, name := range names {
		base := strings.TrimSuffix(filepath.Base(name), filepath.Ext(name))
		for _, row := range p.rows {
			if strings.EqualFold(row.File, base) {
				return schedule.Errors{row.Locate(fmt.Errorf("mark %s: its file would be that of a sheet, %s; give the row another mark", row.Mark, name))}
			}
		}
	}
	return nil
}
