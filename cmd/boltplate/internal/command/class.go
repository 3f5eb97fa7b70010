package command

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"

	"boltplate/fastener"
	"boltplate/fastener/schedule"
	"boltplate/settings"
)

// A student is a row of a class list.
type student struct {
	roll  string // names the files
	name  string // "" where the list has none
	place int    // in the list, from 0
	line  int
}

// classColumns are the columns of a class list.
func classColumns() []string { return []string{"roll", "name"} }

// mostStudents bounds a class list.
const mostStudents = 2000

// readClass reads a class list: a CSV file with a column roll, and a column
// name where one likes. The error is a schedule.Errors with all that is wrong.
func readClass(e *env, path string) ([]student, error) {
	file, text, err := e.readSettings(path)
	if err != nil {
		return nil, err
	}
	return parseClass(file, text)
}

func parseClass(file, text string) ([]student, error) {
	var errs schedule.Errors
	add := func(line, column int, format string, a ...any) {
		if len(errs) < settings.MaxFaults {
			errs = append(errs, &schedule.Error{File: file, Line: line, Column: column, Err: fmt.Errorf(format, a...)})
		}
	}
	text = strings.TrimPrefix(text, "\ufeff")
	cr := csv.NewReader(strings.NewReader(text))
	head, _, _ := strings.Cut(text, "\n")
	if strings.Count(head, ";") > strings.Count(head, ",") {
		cr.Comma = ';'
	}
	cr.FieldsPerRecord, cr.TrimLeadingSpace = -1, true
	header, err := cr.Read()
	if errors.Is(err, io.EOF) {
		add(1, 1, "the file is empty; the first line names the columns, such as roll,name")
		return nil, errs
	}
	columns := map[string]int{}
	for i, cell := range header {
		name := strings.ToLower(strings.TrimSpace(cell))
		if known := classColumns(); name != known[0] && name != known[1] {
			if near := fastener.Nearest(name, known); near != "" {
				line, column := cr.FieldPos(i)
				add(line, column, "%s: no such column; did you mean %s?", clean(cell), near)
			}
			continue // what else an instructor keeps is not ours to read
		}
		columns[name] = i + 1
	}
	if err == nil && columns["roll"] == 0 {
		add(1, 1, "the column roll is missing; the first line names the columns, such as roll,name")
	}
	if len(errs) > 0 {
		return nil, errs
	}
	var out []student
	seen := map[string]int{}
	for err == nil {
		var record []string
		if record, err = cr.Read(); err != nil {
			break
		}
		cell := func(name string) (string, int, int) {
			i := columns[name] - 1
			if i < 0 || i >= len(record) {
				line, _ := cr.FieldPos(0)
				return "", line, 1
			}
			line, column := cr.FieldPos(i)
			return strings.TrimSpace(record[i]), line, column
		}
		roll, line, column := cell("roll")
		name, _, _ := cell("name")
		s := student{roll: roll, name: name, place: len(out), line: line}
		switch why := badRoll(roll); {
		case why != "":
			add(line, column, "roll %s: %s", clean(roll), why)
		case seen[strings.ToLower(roll)] > 0:
			add(line, column, "roll %s: is that of line %d too; every student has one of their own", roll, seen[strings.ToLower(roll)])
		case settings.Printable(name) != nil:
			add(line, column, "name: %v", settings.Printable(name))
		case len(out) == mostStudents:
			add(line, 1, "more than %d students; divide the list", mostStudents)
			return nil, errs
		}
		seen[strings.ToLower(roll)] = line
		out = append(out, s)
	}
	var pe *csv.ParseError
	if errors.As(err, &pe) {
		add(pe.Line, pe.Column, "%v", pe.Err)
	}
	if len(errs) > 0 {
		return nil, errs
	}
	if len(out) == 0 {
		add(1, 1, "there is no student below the names of the columns")
		return nil, errs
	}
	return out, nil
}

// badRoll says why a roll number cannot name a file, or "".
func badRoll(roll string) string {
	switch {
	case roll == "":
		return "missing"
	case len(roll) > 40:
		return "longer than 40 characters"
	}
	for _, r := range roll {
		if !(r >= '0' && r <= '9' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r == '-' || r == '_') {
			return "names files: only letters from a to z, digits, - and _"
		}
	}
	switch strings.ToLower(roll) {
	case "questions", "answers", "key", "marks":
		return "is the name of a file of its own; give another"
	}
	return ""
}

// clean shows a text without its control characters.
func clean(s string) string {
	return strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f || r >= 0x80 && r < 0xa0 || r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069 {
			return '?'
		}
		return r
	}, s)
}

// A class is what all sheets of a class have in common.
type class struct {
	*env
	file  string
	text  string
	decks *settings.Decks
	args  settings.PlateOptions
	seed  string
}

// newClass reads the plate file of a class.
func newClass(e *env, plate, seed string, a settings.PlateOptions) (*class, error) {
	file, text, err := e.readSettings(plate)
	if err != nil {
		return nil, err
	}
	a.Loader = settings.NewRulesLoader(e.readSettings)
	return &class{env: e, file: file, text: text, decks: settings.NewDecks(), args: a, seed: seed}, nil
}

// plate returns the plate of a student.
func (c *class) plate(s student) (*settings.Plate, error) {
	a := c.args
	a.Deal = &settings.Deal{Seed: c.seed, Place: s.place, Decks: c.decks}
	r, err := settings.ReadPlate(c.file, c.text, a)
	if err != nil {
		return nil, err
	}
	r.Sheet.Student = true
	t := &r.Sheet.Title
	if t.Number == "" {
		t.Number = s.roll
	} else {
		t.Number += "-" + s.roll
	}
	return r, nil
}
