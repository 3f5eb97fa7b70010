package schedule

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"boltplate/drawing"
	"boltplate/fastener"
	"boltplate/fastener/assembly"
)

// maxPlaces bounds how many places a layout may have.
const maxPlaces = 100_000

// LayoutColumns returns the columns that a layout may have.
func LayoutColumns() []string {
	return []string{"mark", "view", "x", "y", "angle", "mirror", "cover", "circle", "start", "count", "columns", "dx", "rows", "dy", "note"}
}

// ReadLayout reads where fasteners stand: a CSV file with the separators,
// quotes and encoding of a schedule, one view, pitch circle or rectangular
// pattern a row:
//
//	mark      of a row of the schedule; required
//	view      front, side, head, point or isometric; required
//	x, y      of the bearing face on the axis, mm; of the middle of a pitch
//	          circle; of the lower left of a pattern; 0 where they are left out
//	angle     by which the view is turned, degrees counter-clockwise; on a pitch
//	          circle that is added to the angle at which it stands
//	mirror    yes or no: mirrored in the axis of the view
//	cover     yes or no: hides what stands behind it
//	circle    diameter of a pitch circle, mm; with count, and start, the angle of
//	          the first in degrees
//	columns, dx, rows, dy    a rectangular pattern and its steps, mm
//	note      free text, for whoever reads the file
//
// The first of each row is given a leader with the mark. The layout that it
// returns has places and pitch circles; lines has the line of each place. The
// error is an [Errors].
func ReadLayout(r io.Reader, file string) (l assembly.Layout, lines []int, err error) {
	lr := layoutReader{file: file, in: map[string]int{}, circles: map[assembly.PitchCircle]bool{}}
	data, err := io.ReadAll(io.LimitReader(r, 16<<20))
	if err != nil {
		return l, nil, Errors{lr.at(1, 1, err)}
	}
	in, delimiter, err := sniff(bytes.NewReader(data))
	if err != nil {
		if len(bytes.TrimSpace(data)) == 0 {
			err = errors.New("the file is empty; the first line names the columns, such as mark,view,x,y,angle")
		}
		return l, nil, Errors{lr.at(1, 1, err)}
	}
	lr.csv = csv.NewReader(in)
	lr.csv.Comma, lr.comma = delimiter, delimiter == ';'
	lr.csv.FieldsPerRecord, lr.csv.TrimLeadingSpace = -1, true
	lr.read()
	if len(lr.errs) > 0 {
		return l, nil, lr.errs.sorted()
	}
	if len(lr.layout.Places) == 0 {
		return l, nil, Errors{lr.at(1, 1, errors.New("there is no place below the names of the columns"))}
	}
	return lr.layout, lr.lines, nil
}

type layoutReader struct {
	file    string
	csv     *csv.Reader
	comma   bool           // numbers may have a decimal comma
	in      map[string]int // column to its place in a record
	record  []string
	layout  assembly.Layout
	lines   []int
	circles map[assembly.PitchCircle]bool
	errs    Errors
}

func (r *layoutReader) at(line, column int, err error) *Error {
	return &Error{File: r.file, Line: line, Column: column, Err: err}
}

func (r *layoutReader) read() {
	header, err := r.csv.Read()
	for i, cell := range header {
		name := strings.ToLower(strings.TrimSpace(cell))
		line, column := r.csv.FieldPos(i)
		_, twice := r.in[name]
		switch {
		case name == "":
		case !slices.Contains(LayoutColumns(), name):
			r.errs = append(r.errs, r.at(line, column, noLayoutColumn(cell)))
		case twice:
			r.errs = append(r.errs, r.at(line, column, fmt.Errorf("%s: the column is there twice; leave one out", name)))
		default:
			r.in[name] = i
		}
	}
	for _, name := range [...]string{"mark", "view"} {
		if _, ok := r.in[name]; !ok && err == nil && len(r.errs) == 0 {
			r.errs = append(r.errs, r.at(1, 1, fmt.Errorf("the column %s is missing; a layout needs mark and view", name)))
		}
	}
	if len(r.errs) > 0 {
		return
	}
	for err == nil {
		if r.record, err = r.csv.Read(); err == nil && !blank(r.record) {
			r.row()
		}
	}
	var pe *csv.ParseError
	if errors.As(err, &pe) {
		r.errs = append(r.errs, r.at(pe.Line, max(pe.Column, 1), pe.Err))
	}
}

func noLayoutColumn(cell string) error {
	name := shown(clip(strings.TrimSpace(cell)))
	if near := fastener.Nearest(strings.ToLower(name), LayoutColumns()); near != "" {
		return fmt.Errorf("%s: no such column; did you mean %s?", name, near)
	}
	return fmt.Errorf("%s: no such column; the columns are %s", name, strings.Join(LayoutColumns(), ", "))
}

// cell returns the text of a column, "" where there is none.
func (r *layoutReader) cell(name string) string {
	i, ok := r.in[name]
	if !ok || i >= len(r.record) {
		return ""
	}
	s := strings.TrimSpace(r.record[i])
	if s == "-" && name != "mark" {
		return ""
	}
	return s
}

func (r *layoutReader) fail(name, format string, args ...any) {
	line, column := r.csv.FieldPos(0)
	if i, ok := r.in[name]; ok && i < len(r.record) {
		line, column = r.csv.FieldPos(i)
	}
	e := r.at(line, column, fmt.Errorf("%s %s: %s", name, shown(clip(r.cell(name))), fmt.Sprintf(format, args...)))
	if r.cell(name) == "" {
		e.Err = fmt.Errorf("%s: %s", name, fmt.Sprintf(format, args...))
	}
	e.Field = name
	r.errs = append(r.errs, e)
}

func (r *layoutReader) number(name string) float64 {
	s := r.cell(name)
	if s == "" {
		return 0
	}
	if r.comma {
		s = strings.Replace(s, ",", ".", 1)
	}
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || math.IsNaN(v) || math.Abs(v) > 1e6 {
		r.fail(name, "not a number; give one up to 1000000, such as 80 or -12.5")
		return 0
	}
	return v
}

// count reads a number of places.
func (r *layoutReader) count(name string) int {
	s := r.cell(name)
	if s == "" {
		return 1
	}
	n, err := strconv.Atoi(s)
	if err != nil || n < 1 || n > maxPlaces {
		r.fail(name, "not a count; give a whole number from 1 to %d", maxPlaces)
		return 1
	}
	return n
}

func (r *layoutReader) yes(name string) bool {
	s := r.cell(name)
	if s == "" {
		return false
	}
	v, err := parseBool(s)
	if err != nil {
		r.fail(name, "no such choice; use yes or no")
	}
	return v
}

func (r *layoutReader) row() {
	before := len(r.errs)
	p := assembly.Place{Mark: r.cell("mark"), Lead: true}
	if p.Mark == "" {
		r.fail("mark", "missing; give the mark of a row of the schedule")
	}
	if s := r.cell("view"); s == "" {
		r.fail("view", "missing; give front, side, head, point or isometric")
	} else if v, err := drawing.ParseDirection(s); err != nil {
		r.fail("view", "no such view; the views are front, side, head, point, isometric")
	} else {
		p.View = v
	}
	p.At = drawing.Pt(r.number("x"), r.number("y"))
	p.Turn, p.Mirror, p.Cover = r.number("angle"), r.yes("mirror"), r.yes("cover")
	circle, start, n := r.number("circle"), r.number("start"), r.count("count")
	columns, rows := r.count("columns"), r.count("rows")
	dx, dy := r.number("dx"), r.number("dy")
	round, grid := r.cell("circle") != "", r.cell("columns") != "" || r.cell("rows") != ""
	switch {
	case round && grid:
		r.fail("circle", "a row is a pitch circle or a pattern of columns and rows; leave one of them out")
	case round && circle <= 0:
		r.fail("circle", "must be more than 0; give the diameter of the pitch circle in millimetres")
	case round && r.cell("count") == "":
		r.fail("count", "missing; say how many stand on the pitch circle")
	case !round && r.cell("count") != "":
		r.fail("count", "belongs to a pitch circle; give its diameter under circle, or use columns and rows")
	case !round && r.cell("start") != "":
		r.fail("start", "belongs to a pitch circle; give its diameter under circle, or use angle")
	case columns > 1 && dx == 0:
		r.fail("dx", "missing; give the step from column to column in millimetres")
	case rows > 1 && dy == 0:
		r.fail("dy", "missing; give the step from row to row in millimetres")
	case columns*rows+len(r.lines) > maxPlaces || n+len(r.lines) > maxPlaces:
		r.fail("mark", "more than %d places; divide the layout", maxPlaces)
	}
	if len(r.errs) > before {
		return
	}
	places := []assembly.Place{p}
	switch {
	case round:
		places = p.Circle(circle, n, start)
		if c := (assembly.PitchCircle{Center: p.At, Diameter: circle}); !r.circles[c] {
			r.circles[c] = true
			r.layout.Circles = append(r.layout.Circles, c)
		}
	case grid:
		places = p.Grid(columns, dx, rows, dy)
	}
	line, _ := r.csv.FieldPos(0)
	for range places {
		r.lines = append(r.lines, line)
	}
	r.layout.Places = append(r.layout.Places, places...)
}

// Part returns the fastener of the row for an assembly or a library.
func (r Row) Part() assembly.Part {
	return assembly.Part{Mark: r.Mark, Quantity: r.Quantity, Fastener: r.Fastener, Options: r.Options.Options,
		Views: r.Options.Views, Properties: r.Options.Properties}
}
