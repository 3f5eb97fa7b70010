package command

import (
	"bufio"
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"syscall"

	"boltplate/dxfout"
	"boltplate/fastener"
	"boltplate/fastener/schedule"
	"boltplate/settings"
)

type batchCommand struct {
	Schedule string `arg:"" placeholder:"SCHEDULE.csv" help:"CSV file with the columns mark, kind, size and, as needed, quantity, length, note and the options of draw; - for standard input."`
	Output   string `short:"o" required:"" placeholder:"DIR" help:"Folder for the drawings and for index.csv."`
	Force    bool   `short:"f" help:"Replace files that exist."`
	Jobs     int    `short:"j" placeholder:"N" help:"How many rows are drawn at once; by default one a processor."`
	Format   string `default:"dxf" placeholder:"LIST" help:"Forms of the drawings, of ${formats}, several with commas; dxf by default."`
	Sheet    string `placeholder:"SIZE" help:"Also compose the rows as plates on sheets of this size, A4 to A0, with the schedule on the last; or a plate file without figures, which gives size, title block and notes."`
	Index    string `default:"csv" placeholder:"LIST" help:"Forms of the index, of csv,json,html; csv always. html is a page with the pictures, and adds svg to the forms of the drawings."`
	Order    bool   `help:"Keep the order of the schedule on the sheets, in place of putting fasteners of one scale and kind together."`
	Unlisted bool   `help:"Take sizes and pitches that ISO 261 does not list."`
	Strict   bool   `help:"Refuse columns of a schedule that are none of ours, in place of carrying them along."`
	Key      bool   `negatable:"" default:"true" help:"Explain the letters of rules and letters under the views."`
	rulesArgument
	dxfArguments
}

const indexName = "index.csv"

// maxJobs bounds what waits in the window. More workers would be no faster.
const maxJobs = 256

func (c *batchCommand) Run(e *env) error {
	if c.Jobs < 0 {
		return fmt.Errorf("--jobs %d: must not be negative; give how many rows to draw at once", c.Jobs)
	}
	if c.Output == stdStream {
		return errors.New("-o -: a batch makes many files, which standard output cannot take; give the name of a folder")
	}
	encoder, err := c.encoder(e)
	if err != nil {
		return err
	}
	formats, err := parseFormats(c.Format)
	if err != nil {
		return err
	}
	indexes, err := parseIndexes(c.Index)
	if err != nil {
		return err
	}
	if slices.Contains(indexes, "html") && !slices.Contains(formats, formatSVG) {
		formats = append(formats, formatSVG)
	}
	plate, err := c.plate(e)
	if err != nil {
		return err
	}
	rules := settings.NewRulesLoader(e.readSettings)
	used := ""
	if c.Schedule == stdStream {
		used = "schedule"
	}
	own, err := c.load(rules, used)
	if err != nil {
		return err
	}
	in, name, size, err := e.openFile(c.Schedule)
	if err != nil {
		return err
	}
	defer in.Close()
	reader, err := schedule.Parser{AllowUnlisted: c.Unlisted, Strict: c.Strict, Own: own, Rules: rules.From(name), NoKey: !c.Key}.NewReader(in, name)
	if err != nil {
		return err
	}
	if err := makeFolder(c.Output); err != nil {
		return err
	}
	b := &batch{env: e, dir: c.Output, jobs: c.Jobs, formats: formats, encoder: encoder, files: &fileWriter{force: c.Force}, plate: plate, indexes: indexes, replacing: &fileWriter{force: true}}
	b.settings = fmt.Sprintf("%s %v %+v", version(), formats, encoder)
	if b.jobs == 0 {
		b.jobs = runtime.GOMAXPROCS(0)
	}
	b.jobs = min(b.jobs, maxJobs)
	b.progress = e.newProgress(size)
	return b.run(reader)
}

func cannotRead(path string, err error) error {
	var pe *os.PathError
	if errors.As(err, &pe) {
		err = pe.Err
	}
	return fmt.Errorf("%s: cannot be read: %w", path, err)
}

// A batch draws a schedule. Rows go through a window of bounded length: read in
// order, drawn by several workers in any order, and reported in order again.
type batch struct {
	*env
	dir      string
	jobs     int
	formats  []format
	files    *fileWriter
	encoder  dxfout.Encoder
	drawer   fastener.Drawer
	sizes    sizeTexts
	gate     sync.RWMutex // see withFile
	plate    *platesOf    // where the rows are to be composed on sheets as well
	indexes  []string     // forms of the index, csv among them
	progress *progress
	// replacing replaces files that are as an earlier batch left them.
	replacing *fileWriter
	settings  string               // what all drawings are made with
	old       map[string]indexLine // of an earlier batch in the folder, by mark; nil where there is none
}

// A job is one row on its way. Whoever settles its err closes done.
type job struct {
	row    schedule.Row
	offset int64 // of the end of the row in the schedule, bytes
	err    error
	input  string // hashes, see indexLine
	output string
	kept   bool // its files were there already
	done   chan struct{}
}

// window is how many rows a worker may be ahead of the row that is reported.
const window = 16

func (b *batch) run(reader *schedule.Reader) error {
	// The index first: where it cannot be written, nothing is.
	path := filepath.Join(b.dir, indexName)
	old, err := b.earlier(path)
	if err != nil {
		return err
	}
	b.old = old
	if _, err := b.indexWriter().check(path); err != nil {
		return err
	}
	index, err := b.files.temp(path)
	if err != nil {
		return err
	}
	ctx, cancel := context.WithCancel(b.ctx)
	defer cancel()
	order := make(chan *job, window*b.jobs)
	work := make(chan *job, b.jobs)
	go feed(ctx, reader, order, work)
	var workers sync.WaitGroup
	for range b.jobs {
		workers.Go(func() { b.work(ctx, work) })
	}
	done, err := b.collect(ctx, order, index, &workers)
	cancel()
	workers.Wait()
	b.progress.finish()
	return b.conclude(index, done, err)
}

// indexWriter replaces the index of an earlier batch.
func (b *batch) indexWriter() *fileWriter {
	if b.old == nil {
		return b.files
	}
	return &fileWriter{force: true}
}

// A tally is how many rows were drawn, are as they were, and failed.
type tally struct{ drawn, kept, failed int }

func (t tally) String() string {
	if t.kept > 0 {
		return fmt.Sprintf("%d drawn, %d unchanged, %d failed", t.drawn, t.kept, t.failed)
	}
	return fmt.Sprintf("%d drawn, %d failed", t.drawn, t.failed)
}

// feed reads rows until the end or until ctx is done.
func feed(ctx context.Context, reader *schedule.Reader, order, work chan<- *job) {
	defer close(order)
	defer close(work)
	for row, err := range reader.Rows() {
		j := &job{row: row, err: err, offset: reader.Offset(), done: make(chan struct{})}
		select {
		case order <- j:
		case <-ctx.Done():
			return
		}
		if err != nil {
			close(j.done)
			continue
		}
		select {
		case work <- j:
		case <-ctx.Done():
			return
		}
	}
}

// work draws rows, with one buffer for all of them.
func (b *batch) work(ctx context.Context, work <-chan *job) {
	var buf []byte
	for {
		select {
		case <-ctx.Done():
			return
		case j, ok := <-work:
			if !ok {
				return
			}
			buf, j.err = b.draw(j, buf[:0])
			close(j.done)
		}
	}
}

// draw draws a row in every format. All files are made before one is written,
// so that a row that cannot be drawn in one of them leaves none.
func (b *batch) draw(j *job, buf []byte) ([]byte, error) {
	row, files := j.row, b.files
	names := fileNames(row, b.formats)
	j.input = b.input(row)
	if j.output, j.kept = b.unchanged(row, j.input, names); j.kept {
		return buf, nil
	}
	if b.mayReplace(row) {
		files = b.replacing
	}
	for _, name := range names {
		// Before the work of drawing it, and once more when it is written.
		if _, err := files.check(filepath.Join(b.dir, name)); err != nil {
			return buf, schedule.Errors{row.Locate(err)}
		}
	}
	buf, ends, err := encode(b.encoder, &b.drawer, row, b.formats, buf)
	if err != nil {
		return buf, err
	}
	start := 0
	for i, name := range names {
		if err := b.withFile(func() error { return files.write(filepath.Join(b.dir, name), buf[start:ends[i]]) }); err != nil {
			return buf, schedule.Errors{row.Locate(err)}
		}
		start = ends[i]
	}
	j.output = hashOf(buf)
	return buf, nil
}

// withFile does what opens a file, and where too many are open does it again when no other
// worker has one.
func (b *batch) withFile(do func() error) error {
	b.gate.RLock()
	err := do()
	b.gate.RUnlock()
	if errors.Is(err, syscall.EMFILE) || errors.Is(err, syscall.ENFILE) {
		b.gate.Lock()
		defer b.gate.Unlock()
		err = do()
	}
	return err
}

// encode appends the drawing of the row to buf in each of the formats, and
// returns where each ends.
func encode(e dxfout.Encoder, w *fastener.Drawer, row schedule.Row, formats []format, buf []byte) ([]byte, []int, error) {
	d, err := row.DrawWith(w)
	if err != nil {
		return buf, nil, schedule.Errors{row.Locate(err)}
	}
	ends := make([]int, len(formats))
	for i, f := range formats {
		if buf, err = f.append(e, buf, d, row.Fastener.Designation()); err != nil {
			return buf, nil, schedule.Errors{row.Locate(err)}
		}
		ends[i] = len(buf)
	}
	return buf, ends, nil
}

// fileNames returns the names of the files of a row, none of which has a
// blank.
func fileNames(row schedule.Row, formats []format) []string {
	names := make([]string, len(formats))
	for i, f := range formats {
		names[i] = row.File + "." + string(f)
	}
	return names
}

// collect reports the rows in order and writes them to the index. Where ctx ends
// it does so with the rows that the workers have still finished.
func (b *batch) collect(ctx context.Context, order <-chan *job, index io.Writer, workers *sync.WaitGroup) (done tally, err error) {
	buffered := bufio.NewWriter(index)
	w := csv.NewWriter(buffered)
	w.Write(indexColumns())
	reached := map[string]bool{}
	for j := range order {
		select {
		case <-ctx.Done():
			workers.Wait()
			select {
			case <-j.done:
			default:
				continue // nobody will do it
			}
		case <-j.done:
		}
		if errors.Is(j.err, errInterrupted) {
			continue // the end of reading is no row
		}
		switch {
		case j.err != nil:
			done.failed++
			b.progress.clear()
			b.report(j.err)
		case j.kept:
			done.kept++
		default:
			done.drawn++
			b.plate.add(j.row)
		}
		if b.old != nil {
			reached[j.row.Mark] = true
		}
		line := b.indexLine(j)
		if err := w.Write(line.cells()); err != nil {
			return done, err
		}
		b.progress.set(j.offset)
	}
	if ctx.Err() != nil {
		for _, line := range b.unreached(reached) {
			w.Write(line.cells())
		}
	}
	w.Flush()
	if err := w.Error(); err != nil {
		return done, err
	}
	if err := buffered.Flush(); err != nil {
		return done, err
	}
	return done, ctx.Err()
}

// indexLine returns the line of the index for a row.
func (b *batch) indexLine(j *job) indexLine {
	row := j.row
	l := indexLine{Line: row.Line, Mark: row.Mark, Kind: row.Spec.Kind, Size: row.Size, Length: row.Spec.Length, Quantity: row.Quantity,
		Designation: row.Size, Status: "ok"}
	if row.Fastener != nil {
		l.Designation = row.Fastener.Designation()
	}
	if j.err != nil {
		l.Status, l.Error = "failed", strings.ReplaceAll(j.err.Error(), "\n", " | ")
		l.Output = b.old[row.Mark].Output // by which its files are known again
		return l
	}
	l.Files, l.Input, l.Output = fileNames(row, b.formats), j.input, j.output
	return l
}

// conclude puts the index in its place and sums up.
func (b *batch) conclude(index *os.File, done tally, err error) error {
	path := filepath.Join(b.dir, indexName)
	stopped := errors.Is(err, context.Canceled)
	if err == nil || stopped {
		_, err = b.indexWriter().check(path)
	}
	if e := b.indexWriter().commit(index, path, err); err == nil {
		err = e
	}
	if err != nil {
		b.report(err)
		b.say("%v; no index\n", done)
		return errPartial
	}
	if stopped {
		fmt.Fprintf(b.stderr, "boltplate: stopped; %v, the rest not done; index %s\n", done, path)
		if err := b.otherIndexes(path); err != nil {
			b.report(err)
		}
		return errPartial
	}
	if err := b.otherIndexes(path); err != nil {
		b.report(err)
		done.failed++
	}
	if err := b.say("%v; index %s\n", done, path); err != nil {
		return err
	}
	if err := b.plate.write(b); err != nil {
		b.report(err)
		return errPartial
	}
	if done.failed > 0 {
		return errPartial
	}
	if done.drawn+done.kept == 0 {
		fmt.Fprintln(b.stderr, "boltplate: the schedule has no rows below its header")
	}
	return nil
}
