//go:build unix

package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// built builds the command and returns its file.
func built(t *testing.T) string {
	name := filepath.Join(t.TempDir(), "boltplate")
	out, err := exec.Command("go", "build", "-o", name, ".").CombinedOutput()
	require.NoError(t, err, string(out))
	return name
}

// longSchedule writes a schedule of many rows.
func longSchedule(t *testing.T, rows int) string {
	var b strings.Builder
	b.WriteString("mark,kind,size,length\n")
	for i := range rows {
		fmt.Fprintf(&b, "B%d,hex-bolt,M%d,%d\n", i, []int{12, 16, 20, 24}[i%4], 80+10*(i%5))
	}
	name := filepath.Join(t.TempDir(), "long.csv")
	require.NoError(t, os.WriteFile(name, []byte(b.String()), 0o644))
	return name
}

// TestKilled kills a batch at any moment: no file is torn, and the next run
// draws all of it and leaves nothing else behind.
func TestKilled(t *testing.T) {
	program, schedule := built(t), longSchedule(t, 400)
	dir := filepath.Join(t.TempDir(), "out")
	times := 20
	if testing.Short() {
		times = 3
	}
	for range times {
		ctx, cancel := context.WithTimeout(t.Context(), time.Duration(rand.IntN(120))*time.Millisecond)
		_ = exec.CommandContext(ctx, program, "batch", schedule, "-o", dir, "--force").Run() // kill -9
		cancel()
		files, err := filepath.Glob(filepath.Join(dir, "*.dxf"))
		require.NoError(t, err)
		for _, f := range files {
			data, err := os.ReadFile(f)
			require.NoError(t, err)
			require.True(t, bytes.HasSuffix(data, []byte("  0\r\nEOF\r\n")), f)
		}
	}
	out, err := exec.Command(program, "batch", schedule, "-o", dir, "--force").CombinedOutput()
	require.NoError(t, err, string(out))
	entries, err := os.ReadDir(dir)
	require.NoError(t, err)
	drawn := 0
	for _, e := range entries {
		switch {
		case strings.HasSuffix(e.Name(), ".dxf"):
			drawn++
		default:
			assert.False(t, strings.HasSuffix(e.Name(), ".tmp"), e.Name())
		}
	}
	assert.Equal(t, 400, drawn)
}

// TestInterrupted interrupts a batch: the index tells the truth of what was
// drawn.
func TestInterrupted(t *testing.T) {
	program, schedule := built(t), longSchedule(t, 3000)
	dir := filepath.Join(t.TempDir(), "out")
	cmd := exec.Command(program, "batch", schedule, "-o", dir)
	require.NoError(t, cmd.Start())
	require.Eventually(t, func() bool {
		files, _ := filepath.Glob(filepath.Join(dir, "*.dxf"))
		return len(files) > 20
	}, 20*time.Second, time.Millisecond)
	require.NoError(t, cmd.Process.Signal(os.Interrupt))
	_ = cmd.Wait()
	data, err := os.ReadFile(filepath.Join(dir, "index.csv"))
	require.NoError(t, err)
	rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	require.NoError(t, err)
	named := map[string]bool{}
	for _, r := range rows[1:] {
		for _, cell := range r {
			if strings.HasSuffix(cell, ".dxf") {
				named[cell] = true
			}
		}
	}
	files, err := filepath.Glob(filepath.Join(dir, "*.dxf"))
	require.NoError(t, err)
	require.Len(t, named, len(files))
	for _, f := range files {
		require.True(t, named[filepath.Base(f)], f)
	}
	require.Less(t, len(files), 3000)
}

// TestTwoBatches draws two schedules into one folder at once: one of them
// does, and the other says why not, or both do.
func TestTwoBatches(t *testing.T) {
	program, schedule := built(t), longSchedule(t, 200)
	dir := filepath.Join(t.TempDir(), "out")
	run := func(c chan<- error) { c <- exec.Command(program, "batch", schedule, "-o", dir, "--force").Run() }
	done := make(chan error, 2)
	go run(done)
	go run(done)
	a, b := <-done, <-done
	require.True(t, a == nil || b == nil, "%v, %v", a, b)
	files, err := filepath.Glob(filepath.Join(dir, "*.dxf"))
	require.NoError(t, err)
	require.Len(t, files, 200)
}

// TestFewFiles: with sixteen open files the same is drawn, however many rows at once are
// asked for; where files may not grow, none is left torn.
func TestFewFiles(t *testing.T) {
	program, dir := built(t), t.TempDir()
	demo, err := filepath.Abs("../../testdata/schedules/sluice-gate.csv")
	require.NoError(t, err)
	run := func(limit, folder string, more ...string) (string, int) {
		args := append([]string{"-c", limit + `; exec "$@"`, "sh", program, "batch", demo, "-o", folder}, more...)
		cmd := exec.Command("sh", args...)
		cmd.Dir = dir
		out, err := cmd.CombinedOutput()
		var exit *exec.ExitError
		if errors.As(err, &exit) {
			return string(out), exit.ExitCode()
		}
		require.NoError(t, err)
		return string(out), 0
	}
	out, status := run("ulimit -n 16", "few", "--index", "html", "--jobs", "10000")
	require.Zero(t, status, out)
	out, status = run("true", "many")
	require.Zero(t, status, out)
	few, err := filepath.Glob(filepath.Join(dir, "few", "*.dxf"))
	require.NoError(t, err)
	require.Len(t, few, 69)
	for _, name := range few {
		a, err := os.ReadFile(name)
		require.NoError(t, err)
		b, err := os.ReadFile(filepath.Join(dir, "many", filepath.Base(name)))
		require.NoError(t, err)
		require.Equal(t, string(b), string(a), name)
	}
	// No file may grow beyond 10 blocks, which is less than any drawing.
	out, status = run("ulimit -f 10", "small")
	require.NotZero(t, status)
	assert.Contains(t, out, "file too large")
	left, err := filepath.Glob(filepath.Join(dir, "small", "*"))
	require.NoError(t, err)
	for _, name := range left {
		assert.Equal(t, "index.csv", filepath.Base(name), "nothing torn is left")
	}
}

// TestNowhereToWrite: where nothing can be written the command says so, with
// status 2, and leaves what is there alone.
func TestNowhereToWrite(t *testing.T) {
	program, dir := built(t), t.TempDir()
	require.NoError(t, os.Mkdir(filepath.Join(dir, "folder.dxf"), 0o777))
	require.NoError(t, exec.Command("mkfifo", filepath.Join(dir, "pipe.dxf")).Run())
	require.NoError(t, os.WriteFile(filepath.Join(dir, "file"), []byte("kept"), 0o644))
	for target, want := range map[string]string{
		"folder.dxf":    "folder.dxf: cannot be written: it is there and is no file",
		"pipe.dxf":      "pipe.dxf: cannot be written: it is there and is no file",
		"file/x.dxf":    "file/x.dxf: cannot be written: not a directory",
		"nowhere/x.dxf": "nowhere/x.dxf: cannot be written: no such file or directory",
	} {
		cmd := exec.Command(program, "draw", "hex-nut", "M20", "-o", target, "--force")
		cmd.Dir = dir
		out, err := cmd.CombinedOutput()
		var exit *exec.ExitError
		require.ErrorAs(t, err, &exit, target)
		assert.Equal(t, 2, exit.ExitCode(), target)
		assert.Contains(t, string(out), want)
	}
	kept, err := os.ReadFile(filepath.Join(dir, "file"))
	require.NoError(t, err)
	assert.Equal(t, "kept", string(kept))

	// A full disk in the place of standard output.
	full, err := os.OpenFile("/dev/full", os.O_WRONLY, 0)
	if err != nil {
		t.Skip("no /dev/full: ", err)
	}
	defer full.Close()
	var errs bytes.Buffer
	cmd := exec.Command(program, "draw", "hex-nut", "M20", "-o", "-")
	cmd.Stdout, cmd.Stderr = full, &errs
	var exit *exec.ExitError
	require.ErrorAs(t, cmd.Run(), &exit)
	assert.Equal(t, 2, exit.ExitCode())
	assert.Contains(t, errs.String(), "no space left on device")
}
