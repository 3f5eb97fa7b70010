// Package command is the boltplate command: it reads arguments, calls the
// library and writes files, results and errors.
package command

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"reflect"
	"runtime/debug"
	"strconv"
	"strings"
	"unicode"

	"github.com/alecthomas/kong"
	kongcompletion "github.com/jotaen/kong-completion"
	"github.com/posener/complete"
	"golang.org/x/term"

	"boltplate/fastener/schedule"
)

// The exit statuses.
const (
	exitOK      = 0 // all well
	exitPartial = 1 // some rows failed, and the rest was done
	exitUsage   = 2 // wrong usage, or nothing could be done
)

// errPartial says that some rows failed; each has been reported already.
var errPartial = errors.New("some rows failed")

// An env is what a command works with.
type env struct {
	ctx      context.Context
	stdin    io.Reader
	stdout   io.Writer
	stderr   io.Writer
	progress bool // show the progress of long work on stderr
	quiet    bool // say nothing of what went well
}

// Run runs the command with the arguments that follow its name and returns its
// exit status. Cancelling ctx stops it; files are then whole or not there.
// Progress is shown only where stderr is a terminal.
func Run(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) int {
	f, ok := stderr.(*os.File)
	e := &env{ctx: ctx, stdin: stdin, stdout: stdout, stderr: stderr,
		progress: ok && term.IsTerminal(int(f.Fd()))}
	return e.run(args)
}

type arguments struct {
	Version kong.VersionFlag `help:"Print the version and the commit."`
	Quiet   bool             `short:"q" help:"Say nothing of what went well: no progress, no sums."`

	Kinds  kindsCommand  `cmd:"" help:"List the kinds of fastener and their options."`
	Draw   drawCommand   `cmd:"" help:"Draw one fastener as a file: ${formats}."`
	Table  tableCommand  `cmd:"" help:"List the dimensions of a fastener with their rules and sources."`
	Rules  rulesCommand  `cmd:"" help:"List the rules of a kind as a file, ready to edit, for --rules."`
	Thread threadCommand `cmd:"" help:"List the figures of a metric thread."`
	Batch  batchCommand  `cmd:"" help:"Draw every row of a hardware schedule."`
	Joint  jointCommand  `cmd:"" help:"Draw a fastener in its joint, and check that the joint works."`
	Sheet  sheetCommand  `cmd:"" help:"Compose a framed sheet of figures."`
	Place  placeCommand  `cmd:"" help:"Place the fasteners of a schedule in one drawing, as blocks."`
	Blocks blocksCommand `cmd:"" help:"Make a library of a schedule: a block for each view of each fastener."`
	List   listCommand   `cmd:"" help:"Sum quantities over schedules, drawings, plates and joints."`

	Steps   stepsCommand   `cmd:"" help:"Show step by step how a fastener is drawn by hand, with every rule worked out."`
	Handout handoutCommand `cmd:"" help:"Set a plate to a class: a question and an answer for every student, each with other data."`
	Mark    markCommand    `cmd:"" help:"Mark a student's DXF file against the plate that was set."`

	Completion kongcompletion.Completion `cmd:"" help:"Show how to complete commands and options with the tab key in bash, zsh or fish."`
}

const description = `Draws threaded fasteners for engineering drawings as layered DXF files, or as
SVG and PDF pictures, and shows the rule and the source of every dimension.

A DESIGNATION is a thread and, for bolts and screws, a length in mm: M16x80,
M16x1.5x80, "M16 × 80", M16x80-LH; for nuts and washers M16.`

func (e *env) run(args []string) int {
	into, quiet := grammar(args)
	exited := false // by --help, after which parsing goes on
	status := exitOK
	parser, err := kong.New(into,
		kong.Name("boltplate"),
		kong.Description(description),
		kong.Vars{"version": version(), "formats": formatList()},
		kong.Writers(e.stdout, e.stderr),
		kong.Exit(func(code int) { exited, status = true, code }),
		kong.ConfigureHelp(kong.HelpOptions{Compact: true, NoExpandSubcommands: true, WrapUpperBound: 100}),
	)
	if err != nil {
		return e.fail(err)
	}
	kongcompletion.Register(parser, kongcompletion.WithPredictor("kind", complete.PredictSet(kindWords()...)))
	ctx, err := parser.Parse(args)
	if exited {
		return status
	}
	if err != nil {
		return e.fail(fmt.Errorf("%s; see %s --help", usage(err), helpFor(ctx, err)))
	}
	e.quiet, e.progress = *quiet, e.progress && !*quiet
	if err := ctx.Run(e); err != nil {
		return e.fail(err)
	}
	return exitOK
}

// grammar returns what arguments are read into, with the place of --quiet: all commands,
// or where the first argument names one, that alone. To lay out the flags of all of
// them takes longer than to draw.
func grammar(args []string) (into any, quiet *bool) {
	all := &arguments{}
	if len(args) == 0 || os.Getenv("COMP_LINE") != "" {
		return all, &all.Quiet
	}
	t := reflect.TypeFor[arguments]()
	var fields []reflect.StructField
	named := false
	for i := range t.NumField() {
		f := t.Field(i)
		_, command := f.Tag.Lookup("cmd")
		one := command && strings.ToLower(f.Name) == args[0]
		if named = named || one; one || !command {
			fields = append(fields, f)
		}
	}
	if !named || args[0] == "completion" {
		return all, &all.Quiet
	}
	v := reflect.New(reflect.StructOf(fields))
	return v.Interface(), v.Elem().FieldByName("Quiet").Addr().Interface().(*bool)
}

// version returns the version of the program and, where it was built in a
// repository, the commit.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "boltplate, of an unknown version"
	}
	s := "boltplate " + info.Main.Version
	for _, one := range info.Settings {
		switch {
		case one.Key == "vcs.revision":
			s += ", commit " + one.Value
		case one.Key == "vcs.modified" && one.Value == "true":
			s += " and changes"
		}
	}
	return s
}

// say writes what has been done, where it is wanted.
func (e *env) say(format string, args ...any) error {
	if e.quiet {
		return nil
	}
	_, err := fmt.Fprintf(e.stdout, format, args...)
	return err
}

// usage says what is wrong with a command line, without the words of the
// parser's own workings.
func usage(err error) string {
	flag, _, missing := strings.Cut(err.Error(), `: expected string value but got "EOL"`)
	if missing {
		return flag + ": needs a value"
	}
	return err.Error()
}

// helpFor returns the command whose help answers a wrong command line.
func helpFor(ctx *kong.Context, err error) string {
	var pe *kong.ParseError
	if errors.As(err, &pe) {
		ctx = pe.Context
	}
	if ctx != nil && ctx.Selected() != nil {
		return ctx.Selected().FullPath()
	}
	return "boltplate"
}

// fail reports err and returns the exit status.
func (e *env) fail(err error) int {
	if errors.Is(err, errPartial) {
		return exitPartial
	}
	e.report(err)
	return exitUsage
}

// report writes err, each error of a schedule on its own line.
func (e *env) report(err error) {
	var all schedule.Errors
	if !errors.As(err, &all) {
		fmt.Fprintf(e.stderr, "boltplate: %s\n", visible(err.Error()))
		return
	}
	for _, one := range all {
		if one.Line == 0 {
			fmt.Fprint(e.stderr, "boltplate: ")
		}
		fmt.Fprintln(e.stderr, visible(one.Error()))
	}
}

// visible returns text for one line of a terminal: what would move its cursor, change its
// colours or the direction of writing is spelt out.
func visible(s string) string {
	hidden := func(r rune) bool {
		const joiner, nonJoiner = 0x200d, 0x200c // which words of some languages need
		return unicode.IsControl(r) || r != joiner && r != nonJoiner && unicode.In(r, unicode.Cf, unicode.Zl, unicode.Zp)
	}
	if !strings.ContainsFunc(s, hidden) {
		return s
	}
	var out strings.Builder
	for _, r := range s {
		if hidden(r) {
			out.WriteString(strings.Trim(strconv.QuoteToASCII(string(r)), `"`))
		} else {
			out.WriteRune(r)
		}
	}
	return out.String()
}
