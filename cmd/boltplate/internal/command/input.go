package command

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
)

// maxSettings bounds a file of settings, bytes: a plate of a thousand figures,
// each with a dozen keys, has a tenth of it.
const maxSettings = 1 << 22

// readSettings reads a file of settings, or standard input where name is "-",
// and returns the name for errors too. It stops when the program is told to.
func (e *env) readSettings(name string) (shown, text string, err error) {
	in := e.stdin
	if name == stdStream {
		name = "stdin"
	} else {
		in = &fileReader{name: name}
	}
	data, err := io.ReadAll(io.LimitReader(interruptible{e.ctx, in}, maxSettings+1))
	switch {
	case err != nil:
		return name, "", cannotRead(name, err)
	case len(data) > maxSettings:
		return name, "", cannotRead(name, fmt.Errorf("more than %d MiB are too many for a file of settings", maxSettings>>20))
	}
	return name, string(data), nil
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
