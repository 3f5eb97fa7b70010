package command

import (
	"boltplate/settings"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
)

// maxDrawing is how long a drawing in JSON may be, bytes.
const maxDrawing = 1 << 26

// readSettings reads a file of settings.
func (e *env) readSettings(name string) (shown, text string, err error) {
	return e.readWhole(name, settings.Most, "a file of settings")
}

// readWhole reads a file of limit bytes at most, or standard input where name is
// "-", and returns the name for errors too. It stops when the program is told to.
func (e *env) readWhole(name string, limit int64, what string) (shown, text string, err error) {
	in := e.stdin
	if name == stdStream {
		name = "stdin"
	} else {
		in = &fileReader{name: name}
	}
	data, err := io.ReadAll(io.LimitReader(interruptible{e.ctx, in}, limit+1))
	switch {
	case err != nil:
		return name, "", cannotRead(name, err)
	case int64(len(data)) > limit:
		return name, "", cannotRead(name, fmt.Errorf("more than %d MiB are too many for %s", limit>>20, what))
	}
	return name, string(data), nil
}

// openFile opens a file to be read bit by bit, or standard input where path is
// "-". It returns the name for errors, and the size in bytes or 0.
func (e *env) openFile(path string) (io.ReadCloser, string, int64, error) {
	if path == stdStream {
		return io.NopCloser(interruptible{e.ctx, e.stdin}), "stdin", 0, nil
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, "", 0, cannotRead(path, err)
	}
	info, err := f.Stat()
	if err == nil && info.IsDir() {
		err = errors.New("it is a folder; give a file")
	}
	if err != nil {
		f.Close()
		return nil, "", 0, cannotRead(path, err)
	}
	return struct {
		io.Reader
		io.Closer
	}{interruptible{e.ctx, f}, f}, path, info.Size(), nil
}

// A fileReader opens its file with the first Read, since opening a pipe may wait
// as long as reading it, and closes it when a Read fails or ends.
type fileReader struct {
	name string
	f    *os.File
}

func (r *fileReader) Read(p []byte) (n int, err error) {
	if r.f == nil {
		if r.f, err = os.Open(r.name); err != nil {
			return 0, err
		}
	}
	if n, err = r.f.Read(p); err != nil {
		r.f.Close()
	}
	return n, err
}

// An interruptible reader returns the cause of the end of ctx from a Read that
// still waits, for a terminal or a pipe that nobody writes to. What it waited
// for is then lost.
type interruptible struct {
	ctx context.Context
	r   io.Reader
}

var errInterrupted = errors.New("interrupted")

func (i interruptible) Read(p []byte) (int, error) {
	if i.ctx.Err() != nil {
		return 0, errInterrupted
	}
	type result struct {
		n   int
		err error
	}
	done := make(chan result, 1)
	buf := make([]byte, min(len(p), 1<<16))
	go func() {
		n, err := i.r.Read(buf)
		done <- result{n, err}
	}()
	select {
	case r := <-done:
		return copy(p, buf[:r.n]), r.err
	case <-i.ctx.Done():
		return 0, errInterrupted
	}
}
