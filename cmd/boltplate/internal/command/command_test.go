package command

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boltplate/dxfout"
	"boltplate/fastener"
	"boltplate/fastener/schedule"
)

// runCommand runs the command in this process.
func runCommand(args ...string) (status int, stdout, stderr string) {
	var out, errs bytes.Buffer
	status = Run(context.Background(), args, strings.NewReader(""), &out, &errs)
	return status, out.String(), errs.String()
}

func TestTableJSON(t *testing.T) {
	status, stdout, stderr := runCommand("table", "square-bolt", "M20x90", "--neck", "square", "--format", "json")
	require.Zero(t, status, stderr)
	var got struct {
		Kind, Designation, Basis string
		Editions                 []string
		Quantities               []map[string]any
	}
	d := json.NewDecoder(strings.NewReader(stdout))
	d.DisallowUnknownFields()
	require.NoError(t, d.Decode(&got))
	assert.Equal(t, "square-bolt", got.Kind)
	assert.Equal(t, "proportion", got.Basis)
	assert.Contains(t, got.Designation, "M20")
	require.NotEmpty(t, got.Quantities)
	for _, q := range got.Quantities {
		want := 8
		if r := q["rule"]; r == "given" || r == "table" { // there is no working
			want = 7
		}
		assert.Len(t, q, want)
		for _, key := range []string{"letter", "name", "rule", "unit", "source", "status"} {
			assert.NotEmpty(t, q[key], "%v: %s", q["name"], key)
		}
		assert.IsType(t, 0.0, q["value"])
	}
	assert.Equal(t, "D", got.Quantities[0]["letter"])
	assert.Equal(t, 20.0, got.Quantities[0]["value"])
}

func TestKindsJSON(t *testing.T) {
	_, stdout, _ := runCommand("kinds", "--format", "json")
	var got []struct{ Name string }
	require.NoError(t, json.Unmarshal([]byte(stdout), &got))
	kinds := fastener.Kinds()
	require.Len(t, got, len(kinds))
	for i, k := range kinds {
		assert.Equal(t, k.Name, got[i].Name)
	}
}

// A writer that is full.
type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("no space left") }

func TestOutputFails(t *testing.T) {
	for _, args := range [][]string{
		{"kinds"}, {"kinds", "--format", "csv"}, {"kinds", "--format", "json"},
		{"table", "washer", "M16"}, {"table", "washer", "M16", "--format", "csv"}, {"table", "washer", "M16", "--format", "json"},
		{"thread", "M16"}, {"thread", "M16", "--format", "csv"}, {"thread", "M16", "--format", "json"},
		{"draw", "washer", "M16", "-o", "-"},
	} {
		var errs bytes.Buffer
		status := Run(context.Background(), args, nil, full{}, &errs)
		assert.Equal(t, exitUsage, status, args)
		assert.Contains(t, errs.String(), "boltplate: no space left", args)
	}
}

// Runs of the command share nothing.
func TestConcurrentRuns(t *testing.T) {
	_, want, _ := runCommand("draw", "hex-bolt", "M16x80", "--nut", "hex", "--grip", "55", "-o", "-")
	require.NotEmpty(t, want)
	var wg sync.WaitGroup
	for range 8 {
		wg.Go(func() {
			_, got, _ := runCommand("draw", "hex-bolt", "M16x80", "--nut", "hex", "--grip", "55", "-o", "-")
			assert.Equal(t, want, got)
		})
	}
	wg.Wait()
}

func listDir(t *testing.T, dir string) []string {
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	var out []string
	for _, e := range entries {
		out = append(out, e.Name())
	}
	return out
}

// A reader that hands out a row a read and, after some, cancels and blocks as a
// terminal does.
type stopping struct {
	rows   int
	cancel func()
}

func (s *stopping) Read(p []byte) (int, error) {
	if s.rows == 0 {
		s.cancel()
		select {}
	}
	s.rows--
	row := strings.Repeat("x", s.rows) + "m,washer,M16\n"
	if s.rows == 20 {
		row = "mark,kind,size\n"
	}
	return copy(p, row), nil
}

func TestBatchStops(t *testing.T) {
	dir := t.TempDir()
	ctx, cancel := context.WithCancel(context.Background())
	var out, errs bytes.Buffer
	done := make(chan int)
	go func() {
		done <- Run(ctx, []string{"batch", "-", "-o", dir, "--jobs", "3"}, &stopping{21, cancel}, &out, &errs)
	}()
	select {
	case status := <-done:
		assert.Equal(t, exitPartial, status)
	case <-time.After(20 * time.Second):
		t.Fatal("does not stop")
	}
	assert.Empty(t, out.String())
	all := listDir(t, dir)
	all = slices.DeleteFunc(all, func(name string) bool { return name == indexName })
	assert.Equal(t, fmt.Sprintf("boltplate: stopped; %d drawn, 0 failed, the rest not done; index %s\n", len(all), filepath.Join(dir, indexName)), errs.String())
	index, err := os.ReadFile(filepath.Join(dir, indexName))
	require.NoError(t, err)
	assert.Equal(t, len(all)+1, bytes.Count(index, []byte("\n")))
	for _, name := range all {
		assert.Equal(t, ".dxf", filepath.Ext(name), name)
		data, err := os.ReadFile(filepath.Join(dir, name))
		require.NoError(t, err)
		assert.True(t, bytes.HasSuffix(data, []byte("EOF\n")) || bytes.HasSuffix(data, []byte("EOF\r\n")), name)
	}
}

// A schedule that breaks off in the middle keeps what was drawn before.
func TestBatchReadFails(t *testing.T) {
	dir := t.TempDir()
	in := io.MultiReader(strings.NewReader("mark,kind,size\nA,washer,M16\n"), broken{})
	var out, errs bytes.Buffer
	status := Run(context.Background(), []string{"batch", "-", "-o", dir}, in, &out, &errs)
	assert.Equal(t, exitPartial, status)
	assert.Equal(t, "stdin:3:1: the disk is gone\n", errs.String())
	assert.Equal(t, []string{"A.dxf", "index.csv"}, listDir(t, dir))
}

type broken struct{}

func (broken) Read([]byte) (int, error) { return 0, errors.New("the disk is gone") }

func TestUnwritableFolder(t *testing.T) {
	if os.Getuid() == 0 {
		t.Skip("everything is writable to root")
	}
	dir := t.TempDir()
	require.NoError(t, os.Chmod(dir, 0o555))
	in := strings.NewReader("mark,kind,size\nA,washer,M16\nB,washer,M16\n")
	var errs bytes.Buffer
	status := Run(context.Background(), []string{"batch", "-", "-o", dir}, in, io.Discard, &errs)
	assert.Equal(t, exitUsage, status)
	assert.Equal(t, 1, strings.Count(errs.String(), "\n"), errs.String())
	assert.Empty(t, listDir(t, dir))
}

func TestFileWriter(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "a.dxf")
	w := &fileWriter{}
	require.NoError(t, w.write(path, []byte("one")))
	require.ErrorIs(t, w.write(path, []byte("two")), errExists)
	forced := &fileWriter{force: true}
	require.NoError(t, forced.write(path, []byte("three")))
	data, _ := os.ReadFile(path)
	assert.Equal(t, "three", string(data))

	// A file that appears between the check and the end of writing stands.
	late := filepath.Join(dir, "late.dxf")
	f, err := w.temp(late)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(late, []byte("theirs"), 0o666))
	require.ErrorIs(t, w.commit(f, late, nil), errExists)
	if done, err := writeUnnamed(late, []byte("ours")); done || err != nil {
		t.Errorf("writeUnnamed: %v, %v", done, err)
	}
	data, _ = os.ReadFile(late)
	assert.Equal(t, "theirs", string(data))

	// What went wrong before leaves nothing.
	f, err = w.temp(filepath.Join(dir, "never.dxf"))
	require.NoError(t, err)
	require.ErrorContains(t, w.commit(f, filepath.Join(dir, "never.dxf"), io.ErrUnexpectedEOF), "never.dxf: cannot be written: ")
	assert.Equal(t, []string{"a.dxf", "late.dxf"}, listDir(t, dir))
}

func TestProgress(t *testing.T) {
	var buf bytes.Buffer
	p := newProgress(&buf, 1000)
	p.set(500)
	p.clear()
	p.set(1000)
	p.finish()
	assert.Contains(t, buf.String(), "drawing")
	p = newProgress(&buf, 0)
	p.set(10)
	p.finish()
	// On a pipe it says how far it is, and not too often.
	buf.Reset()
	p = newLines(&buf, 1000, 0)
	p.set(250)
	p.clear()
	p.finish()
	assert.Equal(t, "drawing: 25 % after 0s\n", buf.String())
	buf.Reset()
	p = newLines(&buf, 1000, time.Hour)
	p.set(250)
	assert.Empty(t, buf.String())
	var none *progress
	none.set(1)
	none.clear()
	none.finish()
}

// Nothing that is no terminal is shown progress.
func TestNoProgress(t *testing.T) {
	errs, err := os.Create(filepath.Join(t.TempDir(), "errs"))
	require.NoError(t, err)
	defer errs.Close()
	in := strings.NewReader("mark,kind,size\nA,washer,M16\n")
	require.Zero(t, Run(context.Background(), []string{"batch", "-", "-o", t.TempDir()}, in, io.Discard, errs))
	info, err := errs.Stat()
	require.NoError(t, err)
	assert.Zero(t, info.Size())
}

// BenchmarkBatch reads, draws and encodes 1,000 rows in memory, in the mix of
// the demo schedule: with what comes again kept, as a batch does, and every row by
// itself. scripts/batch-ratio.py measures the command.
func BenchmarkBatch(b *testing.B) {
	b.Run("kept", func(b *testing.B) { benchmarkBatch(b, &fastener.Drawer{}) })
	b.Run("anew", func(b *testing.B) { benchmarkBatch(b, nil) })
}

func benchmarkBatch(b *testing.B, w *fastener.Drawer) {
	text := demoSchedule(b, 1000)
	b.ReportAllocs()
	var buf []byte
	total := 0
	for b.Loop() {
		r, err := schedule.NewReader(strings.NewReader(text), "sample.csv")
		if err != nil {
			b.Fatal(err)
		}
		total = 0
		for row, err := range r.Rows() {
			if err != nil {
				b.Fatal(err)
			}
			if buf, _, err = encode(dxfout.Encoder{}, w, row, []format{formatDXF}, buf[:0]); err != nil {
				b.Fatal(err)
			}
			total += len(buf)
		}
	}
	b.SetBytes(int64(total))
}

// TestStoppedBatchGoesOn: what a second batch did not come to is known to the
// third.
func TestStoppedBatchGoesOn(t *testing.T) {
	dir := t.TempDir()
	var text strings.Builder
	text.WriteString("mark,kind,size\n")
	for i := range 60 {
		fmt.Fprintf(&text, "W%d,washer,M16\n", i)
	}
	run := func(ctx context.Context, in io.Reader) (int, string) {
		var out, errs bytes.Buffer
		status := Run(ctx, []string{"batch", "-", "-o", dir, "--jobs", "2"}, in, &out, &errs)
		return status, out.String() + errs.String()
	}
	other := strings.ReplaceAll(text.String(), "M16", "M20")
	status, said := run(context.Background(), strings.NewReader(text.String()))
	require.Equal(t, exitOK, status, said)
	ctx, cancel := context.WithCancel(context.Background())
	status, said = run(ctx, io.MultiReader(strings.NewReader(other[:len(other)/3]), cancelling{cancel}))
	require.Equal(t, exitPartial, status, said)
	status, said = run(context.Background(), strings.NewReader(other))
	require.Equal(t, exitOK, status, said)
	status, said = run(context.Background(), strings.NewReader(other))
	require.Equal(t, exitOK, status, said)
	assert.Contains(t, said, "0 drawn, 60 unchanged, 0 failed")
}

// cancelling stops the command that reads from it.
type cancelling struct{ cancel func() }

func (c cancelling) Read([]byte) (int, error) {
	c.cancel()
	select {}
}
