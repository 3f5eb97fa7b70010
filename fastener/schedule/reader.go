package schedule

import (
	"boltplate/drawing"
	"boltplate/fastener"
	"bufio"
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"iter"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

// maxRecord bounds what one row may hold, in bytes, so that a quotation mark
// that is never closed does not read a large file into memory.
const maxRecord = 1 << 20

// A Reader reads a schedule row by row. What it holds does not grow with the
// number of rows, but for the file names of the marks, which it must know to
// find two that are alike. A Reader is for one goroutine at a time; its rows
// are for any.
type Reader struct {
	parser  Parser
	file    string
	csv     *csv.Reader
	limit   *limiter
	columns []column // of the cells of a record
	carried []string // the names of those that are none of ours, "" for ours
	names   map[string]int
	line    int  // of the last record
	wrong   bool // the header
	long    bool // the last record was longer than one may be
	done    bool
}

// NewReader returns a reader of the schedule in r, whose header it reads. The
// name of the file is for errors. The error is an [Errors]. Where it is the
// header that is wrong, so that no row can be trusted, the error also has what
// else is wrong in the rows, up to a hundred errors.
func NewReader(r io.Reader, file string) (*Reader, error) { return Parser{}.NewReader(r, file) }

// NewReader is the function NewReader, for rows that p reads. Numbers have a
// decimal comma in files that are separated by semicolons.
func (p Parser) NewReader(r io.Reader, file string) (*Reader, error) {
	limit := &limiter{r: r, left: maxRecord}
	sr := &Reader{parser: p, file: file, limit: limit, names: make(map[string]int)}
	in, delimiter, err := sniff(limit)
	if err != nil {
		return nil, Errors{sr.errorAt(position{1, 1}, err)}
	}
	sr.parser.DecimalComma = sr.parser.DecimalComma || delimiter == ';'
	sr.csv = csv.NewReader(in)
	sr.csv.Comma = delimiter
	sr.csv.FieldsPerRecord = -1
	sr.csv.TrimLeadingSpace = true
	sr.csv.ReuseRecord = true
	if errs := sr.header(); len(errs) > 0 {
		sr.wrong = true
		return nil, append(errs, sr.rest()...).sorted()
	}
	return sr, nil
}

// maxRest bounds how many errors of the rows are added to those of a header.
const maxRest = 100

// rest returns what is wrong in the rows below a wrong header, but for what
// follows from the header.
func (r *Reader) rest() Errors {
	var errs Errors
	for _, err := range r.Rows() {
		var all Errors
		errors.As(err, &all)
		for _, e := range all {
			if col := columnNamed(e.Field); col != noColumn && !slices.Contains(r.columns, col) {
				continue
			}
			if errs = append(errs, e); len(errs) == maxRest {
				return errs
			}
		}
	}
	return errs
}

func (r *Reader) errorAt(at position, err error) *Error {
	return &Error{File: r.file, Line: at.line, Column: at.column, Err: err}
}

// sniff skips a byte order mark and finds the delimiter: in a first line sep=;
// as spreadsheets write it, or else in the first line that is not blank.
func sniff(r io.Reader) (io.Reader, rune, error) {
	br := bufio.NewReader(r)
	switch mark, _ := br.Peek(3); {
	case bytes.HasPrefix(mark, []byte("\xef\xbb\xbf")):
		br.Discard(3)
	case bytes.HasPrefix(mark, []byte("\xff\xfe")), bytes.HasPrefix(mark, []byte("\xfe\xff")):
		return nil, 0, errors.New("the file is UTF-16; save it as CSV with the encoding UTF-8")
	}
	var head []byte
	var said byte
	for {
		line, err := br.ReadSlice('\n')
		head = append(head, line...)
		if len(bytes.TrimSpace(head)) > 0 && (err != nil || bytes.HasSuffix(line, []byte("\n"))) && err != bufio.ErrBufferFull {
			text := bytes.TrimSpace(head)
			if said != 0 || len(text) != len("sep=;") || !bytes.EqualFold(text[:4], []byte("sep=")) {
				break
			}
			said = text[4]
			head = bytes.Repeat([]byte("\n"), bytes.Count(head, []byte("\n"))) // blank, so that lines keep their numbers
		}
		if err == io.EOF {
			return nil, 0, errors.New("the file is empty; the first line names the columns, such as mark,kind,size,length")
		}
		if err != nil && err != bufio.ErrBufferFull {
			return nil, 0, err
		}
	}
	if bytes.IndexByte(head, 0) >= 0 {
		return nil, 0, errors.New("the file is not text, or UTF-16; save it as CSV with the encoding UTF-8")
	}
	if i := bytes.IndexByte(head, '\r'); i >= 0 && i+1 < len(head) && head[i+1] != '\n' {
		return nil, 0, errors.New("its lines end in a carriage return alone; save it as CSV with line feeds")
	}
	switch said {
	case ',', ';':
		return io.MultiReader(bytes.NewReader(head), br), rune(said), nil
	case 0, '\t':
	default:
		return nil, 0, fmt.Errorf("sep=%c: cells are separated by commas or semicolons; save the file so", said)
	}
	delimiter := ','
	commas, semicolons := bytes.Count(head, []byte(",")), bytes.Count(head, []byte(";"))
	switch {
	case semicolons > commas:
		delimiter = ';'
	case commas == 0 && bytes.Contains(bytes.TrimSpace(head), []byte("\t")):
		return nil, 0, errors.New("the cells are separated by tabs; save the file with commas or semicolons")
	}
	return io.MultiReader(bytes.NewReader(head), br), delimiter, nil
}

// header reads which columns there are. A name that is wrong counts as the one
// it is near to, so that the rows can still be looked at.
func (r *Reader) header() Errors {
	record, err := r.csv.Read()
	if err != nil {
		e, _ := r.readError(record, err)
		r.done = true
		return Errors{e}
	}
	var errs Errors
	var seen [columnCount]position
	var guesses []int
	for i, cell := range record {
		at := r.fieldPos(i)
		name := strings.ToLower(strings.TrimSpace(cell))
		col, other := columnNamed(name), ""
		fail := func(err error) {
			e := r.errorAt(at, err)
			e.Field = shown(clip(name))
			errs = append(errs, e)
		}
		switch {
		case !utf8.ValidString(cell):
			fail(errors.New("a name that is not UTF-8; save the file with the encoding UTF-8"))
		case col == noColumn && name != "" && !r.parser.Strict && nearestColumn(name) == noColumn && carries(name):
			if slices.Contains(r.carried, name) {
				fail(fmt.Errorf("%s: the column is there twice; leave one out", name))
			}
			other = name
		case col == noColumn && name != "":
			fail(unknownColumn(strings.TrimSpace(cell)))
			guesses = append(guesses, i)
		case col != noColumn && seen[col] != position{}:
			fail(fmt.Errorf("%s: the column is there twice, also at %d:%d; leave one out", name, seen[col].line, seen[col].column))
			col = noColumn
		case col != noColumn:
			seen[col] = at
		}
		r.columns, r.carried = append(r.columns, col), append(r.carried, other)
	}
	for _, i := range guesses {
		if col := nearestColumn(strings.TrimSpace(record[i])); col != noColumn && seen[col] == (position{}) {
			seen[col] = r.fieldPos(i)
			r.columns[i] = col
		}
	}
	for _, col := range [...]column{colMark, colKind, colSize} {
		if seen[col] == (position{}) {
			errs = append(errs, &Error{File: r.file, Line: r.fieldPos(0).line, Column: 1, Field: col.String(),
				Err: fmt.Errorf("the column %s is missing; a schedule needs mark, kind and size", col)})
		}
	}
	return errs
}

func (r *Reader) fieldPos(i int) position {
	line, column := r.csv.FieldPos(i)
	return position{line, column}
}

// Rows returns the rows to come, each with what is wrong with it. A row with an
// error has no fastener; the rows after it are still good.
func (r *Reader) Rows() iter.Seq2[Row, error] {
	return func(yield func(Row, error) bool) {
		for {
			row, err := r.Next()
			if err == io.EOF || !yield(row, err) {
				return
			}
		}
	}
}

// Next returns the next row, or io.EOF after the last. Any other error is an
// [Errors]; the row then holds what could be read, and Next may be called
// again. Where reading itself fails, that error comes once and io.EOF after it.
func (r *Reader) Next() (Row, error) {
	for !r.done {
		r.limit.left, r.limit.hit = maxRecord, false
		record, err := r.csv.Read()
		if err == io.EOF {
			break
		}
		if err != nil {
			e, line := r.readError(record, err)
			again := r.long
			if r.long = err == errTooLong; r.long && again {
				continue // the same cell goes on: one fault, said once
			}
			return Row{Line: line, file: r.file, at: position{line, 1}}, Errors{e}
		}
		r.line = r.fieldPos(0).line
		if blank(record) {
			continue
		}
		r.long = false
		return r.row(record)
	}
	r.done = true
	return Row{}, io.EOF
}

func blank(record []string) bool {
	for _, cell := range record {
		if strings.TrimSpace(cell) != "" {
			return false
		}
	}
	return true
}

func (r *Reader) row(record []string) (Row, error) {
	c := cellSet{file: r.file, at: r.fieldPos(0)}
	// A row starts at its line even where its first cell is indented.
	c.at.column = 1
	var errs Errors
	for i, cell := range record {
		col := noColumn
		if i < len(r.columns) {
			col = r.columns[i]
		}
		if col != noColumn {
			c.text[col], c.in[col] = cell, r.fieldPos(i)
		} else if i < len(r.carried) && r.carried[i] != "" {
			continue
		} else if s := strings.TrimSpace(cell); s != "" && (i >= len(r.columns) || !r.wrong) {
			errs = append(errs, r.errorAt(r.fieldPos(i),
				fmt.Errorf("%q stands under no column; the header names %d (quote cells that hold the separator)", shown(clip(s)), r.named())))
		}
	}
	row, more := r.parser.row(&c, true)
	more = append(more, r.carry(&row, record)...)
	errs = append(errs, more...)
	if e := r.claim(row); e != nil {
		errs = append(errs, e)
	}
	if len(errs) > 0 {
		row.Fastener = nil
	}
	return row, errs.sorted()
}

// carries reports whether a name can be that of a property: it travels in DXF
// files, where = and # divide.
func carries(name string) bool {
	return len(name) <= 64 && !strings.ContainsFunc(name, func(r rune) bool { return r == '=' || r == '#' || r == '^' || unicode.IsControl(r) })
}

// carry adds the cells of columns that are none of ours to the properties of the
// part.
func (r *Reader) carry(row *Row, record []string) Errors {
	if row.Fastener == nil {
		return nil
	}
	var errs Errors
	for i, name := range r.carried {
		if name == "" || i >= len(record) || strings.TrimSpace(record[i]) == "" {
			continue
		}
		has := func(p drawing.Property) bool { return p.Key == name }
		switch value := strings.TrimSpace(record[i]); {
		case slices.ContainsFunc(row.Options.Properties, has) || slices.ContainsFunc(fastener.Describe(row.Fastener), has):
			errs = append(errs, r.errorAt(r.fieldPos(i), fmt.Errorf("the part says its %s itself; give the column another name", name)))
		case !utf8.ValidString(value):
			errs = append(errs, r.errorAt(r.fieldPos(i), fmt.Errorf("%s: is not UTF-8; save the file with the encoding UTF-8", name)))
		default:
			row.Options.Properties = append(row.Options.Properties, drawing.Property{Key: name, Value: strings.Join(strings.Fields(value), " ")})
		}
	}
	return errs
}

// named returns how many columns have a name.
func (r *Reader) named() int {
	n := 0
	for _, c := range r.columns {
		if c != noColumn {
			n++
		}
	}
	for _, name := range r.carried {
		if name != "" {
			n++
		}
	}
	return n
}

// claim takes the file name of the row, or says who has it.
func (r *Reader) claim(row Row) *Error {
	if row.File == "" {
		return nil
	}
	key := foldName(row.File)
	if line, taken := r.names[key]; taken {
		return row.locate(colMark, fmt.Errorf("mark %s: its file %s would be that of line %d; give every row a mark of its own",
			clip(row.Mark), clip(row.File), line))
	}
	r.names[strings.Clone(key)] = row.Line
	return nil
}

// readError turns an error of the CSV reader into one with a place, and returns
// the line where the record started. What could be read of it is given.
func (r *Reader) readError(record []string, err error) (*Error, int) {
	r.line++
	if len(record) > 0 {
		r.line = r.fieldPos(0).line
	}
	r.limit.skip = r.limit.hit // go on at the next line
	if err == errTooLong {
		return r.errorAt(position{r.line, 1}, err), r.line
	}
	var pe *csv.ParseError
	if !errors.As(err, &pe) {
		r.done = true
		if err == io.EOF {
			err = errors.New("the file is empty; the first line names the columns")
		}
		return r.errorAt(position{r.line, 1}, err), r.line
	}
	r.line = pe.Line
	switch pe.Err {
	case csv.ErrBareQuote:
		err = errors.New(`a quotation mark inside a cell; quote the whole cell and double the mark inside: "1/2"" plate"`)
	case csv.ErrQuote:
		if pe.Line > pe.StartLine {
			// The end of the file, where a missing mark is missed at last, helps
			// nobody.
			return r.errorAt(position{pe.StartLine, 1},
				fmt.Errorf(`a quoted cell of this row is not closed by line %d, or something follows its closing mark; double a mark inside: "1/2"" plate"`, pe.Line)), pe.StartLine
		}
		err = errors.New(`a quoted cell is not closed, or something follows its closing mark; double a mark inside: "1/2"" plate"`)
	default:
		err = pe.Err
	}
	return r.errorAt(position{pe.Line, max(pe.Column, 1)}, err), pe.StartLine
}

// Offset returns how many bytes of the schedule have been read so far, for
// showing progress.
func (r *Reader) Offset() int64 { return r.csv.InputOffset() }

// errTooLong is what a record beyond maxRecord gives.
var errTooLong = fmt.Errorf("a row of more than %d bytes; is a quotation mark not closed?", maxRecord)

// A limiter lets left bytes through.
type limiter struct {
	r    io.Reader
	left int
	hit  bool // there was more
	skip bool // pass over the rest of the line
}

func (l *limiter) Read(p []byte) (int, error) {
	if l.left <= 0 {
		l.hit = true
		return 0, errTooLong
	}
	for {
		n, err := l.r.Read(p[:min(len(p), l.left)])
		if l.skip {
			end := bytes.IndexByte(p[:n], '\n')
			if end < 0 && err == nil {
				continue
			}
			l.skip = false
			n = copy(p, p[end+1:n])
			if end < 0 {
				n = 0
			}
		}
		l.left -= n
		return n, err
	}
}
