package command

import (
	"bytes"
	"context"
	"encoding/csv"
	"errors"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"boltplate": func() {
		ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
		defer stop()
		os.Exit(Run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
	}})
}

func TestScript(t *testing.T) {
	schedules, err := filepath.Abs(filepath.Join("..", "..", "..", "..", "testdata", "schedules"))
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir: filepath.Join("testdata", "script"),
		Setup: func(e *testscript.Env) error {
			e.Setenv("SCHEDULES", schedules)
			e.Setenv("LAYERS", filepath.Join(schedules, "..", "layers"))
			return nil
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"run":   run,
			"files": files,
			"same":  same,
			"bytes": writeBytes,
			"whole": whole,

			"differ": differ,
			"index":  index,
		},
	})
}

// run STATUS ARGS... runs boltplate with the arguments and checks its exit
// status.
func run(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) == 0 {
		ts.Fatalf("usage: run STATUS [argument...]")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	got := 0
	if err := ts.Exec("boltplate", args[1:]...); err != nil {
		var exit *exec.ExitError
		if !errors.As(err, &exit) {
			ts.Fatalf("%v", err)
		}
		got = exit.ExitCode()
	}
	if got != want {
		ts.Fatalf("status %d, want %d", got, want)
	}
}

// files DIR NAME... checks that the folder holds the named files, hidden ones
// included, and nothing else.
func files(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) == 0 {
		ts.Fatalf("usage: files DIR [name...]")
	}
	got, want := names(ts, args[0]), slices.Sorted(slices.Values(args[1:]))
	if !slices.Equal(got, want) {
		ts.Fatalf("%s holds %q, want %q", args[0], got, want)
	}
}

// same DIR1 DIR2 checks that two folders hold the same files.
func same(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: same DIR1 DIR2")
	}
	a, b := names(ts, args[0]), names(ts, args[1])
	if !slices.Equal(a, b) {
		ts.Fatalf("%q and %q", a, b)
	}
	for _, name := range a {
		one, other := ts.ReadFile(filepath.Join(args[0], name)), ts.ReadFile(filepath.Join(args[1], name))
		if name == indexName { // a row may stand in another line, its size may be written otherwise
			one, other = without(ts, one, 0, 3), without(ts, other, 0, 3)
		}
		if one != other {
			ts.Fatalf("%s differs", name)
		}
	}
}

// index FILE WANT checks an index against one without the hashes.
func index(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: index FILE WANT")
	}
	if got, want := without(ts, ts.ReadFile(args[0]), 10, 11), ts.ReadFile(args[1]); got != want {
		ts.Fatalf("%s is\n%swant\n%s", args[0], got, want)
	}
}

// without returns a CSV text without some of its columns.
func without(ts *testscript.TestScript, text string, drop ...int) string {
	all, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	ts.Check(err)
	var b strings.Builder
	w := csv.NewWriter(&b)
	for _, r := range all {
		var kept []string
		for i, cell := range r {
			if !slices.Contains(drop, i) {
				kept = append(kept, cell)
			}
		}
		ts.Check(w.Write(kept))
	}
	w.Flush()
	return b.String()
}

// differ FILE1 FILE2 REGEXP checks that two files differ in the lines that fit
// the expression, in all of them and in no others.
func differ(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 3 {
		ts.Fatalf("usage: differ FILE1 FILE2 REGEXP")
	}
	a, b := strings.Split(ts.ReadFile(args[0]), "\n"), strings.Split(ts.ReadFile(args[1]), "\n")
	re, err := regexp.Compile(args[2])
	ts.Check(err)
	if len(a) != len(b) {
		ts.Fatalf("%d lines and %d", len(a), len(b))
	}
	for i := range a {
		if (a[i] != b[i]) != re.MatchString(a[i]) {
			ts.Fatalf("%q and %q", a[i], b[i])
		}
	}
}

func names(ts *testscript.TestScript, dir string) []string {
	entries, err := os.ReadDir(ts.MkAbs(dir))
	ts.Check(err)
	var out []string
	for _, e := range entries {
		out = append(out, e.Name())
	}
	return out
}

// bytes FILE GO-STRING writes a file from a string with escapes, for what an
// archive of text cannot hold.
func writeBytes(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: bytes FILE STRING")
	}
	s, err := strconv.Unquote(`"` + args[1] + `"`)
	ts.Check(err)
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(s), 0o666))
}

// whole FILE... checks that drawings are whole: they have the start and the
// end of their form of file, which is that of the name's ending.
func whole(ts *testscript.TestScript, neg bool, args []string) {
	marks := map[string][2]string{
		".dxf": {"  0\nSECTION\n", "  0\nEOF\n"},
		".svg": {"<?xml ", "</svg>\n"},
		".pdf": {"%PDF-1.", "%%EOF\n"},
	}
	for _, name := range args {
		data := bytes.ReplaceAll([]byte(ts.ReadFile(name)), []byte("\r\n"), []byte("\n"))
		m, known := marks[filepath.Ext(name)]
		if !known || !bytes.HasPrefix(data, []byte(m[0])) || !bytes.HasSuffix(data, []byte(m[1])) {
			ts.Fatalf("%s is not a whole file of its form", name)
		}
	}
}
