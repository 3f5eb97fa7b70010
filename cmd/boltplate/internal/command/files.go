package command

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync/atomic"
)

// A fileWriter writes files that are whole or not there. It does not call
// fsync: against a crash of the machine a drawing is protected by being made
// again, and syncing thousands of small files takes many times as long as
// drawing them. It may be used by many goroutines at once.
type fileWriter struct {
	force bool // replace files that exist
	count atomic.Int64
}

// What keeps a file from being replaced.
var (
	errExists = errors.New("it exists already; use --force to replace it")
	errNoFile = errors.New("it is there and is no file; give another name")
)

// check reports whether path may be written, and whether it is there.
func (w *fileWriter) check(path string) (exists bool, err error) {
	info, err := os.Stat(path)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return false, nil
	case err != nil:
		return false, cannotWrite(path, err)
	case !info.Mode().IsRegular():
		return true, cannotWrite(path, errNoFile)
	case !w.force:
		return true, cannotWrite(path, errExists)
	}
	return true, nil
}

// write writes data to path.
func (w *fileWriter) write(path string, data []byte) error {
	exists, err := w.check(path)
	if err != nil {
		return err
	}
	if !exists {
		done, err := writeUnnamed(path, data)
		if err != nil {
			return cannotWrite(path, err)
		}
		if done {
			return nil
		}
	}
	f, err := w.temp(path)
	if err != nil {
		return err
	}
	_, err = f.Write(data)
	return w.commit(f, path, err)
}

// put writes one file, or to standard output where path is "-".
func (e *env) put(path string, force bool, data []byte) error {
	if path == stdStream {
		_, err := e.stdout.Write(data)
		return err
	}
	return (&fileWriter{force: force}).write(path, data)
}

// temp creates the temporary file that commit turns into path.
func (w *fileWriter) temp(path string) (*os.File, error) {
	prefix := filepath.Join(filepath.Dir(path), tempPrefix+strconv.Itoa(os.Getpid())+"-")
	for range 10_000 {
		name := prefix + strconv.FormatInt(w.count.Add(1), 10) + ".tmp"
		f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
		if err == nil {
			return f, nil
		}
		if !errors.Is(err, fs.ErrExist) {
			return nil, cannotWrite(path, err)
		}
	}
	return nil, fmt.Errorf("%s: cannot be written: too many files named %s*.tmp; delete them", path, prefix)
}

// commit closes f and gives it the name path. Where err, what went wrong
// before, or anything else stands against that, it removes f.
func (w *fileWriter) commit(f *os.File, path string, err error) error {
	if e := f.Close(); err == nil {
		err = e
	}
	if err == nil {
		err = w.rename(f.Name(), path)
	}
	if err != nil {
		os.Remove(f.Name())
		return cannotWrite(path, err)
	}
	return nil
}

func (w *fileWriter) rename(temp, path string) error {
	if w.force {
		return os.Rename(temp, path)
	}
	// Unlike a rename, a link cannot replace a file that appeared since check.
	err := os.Link(temp, path)
	if err == nil {
		return os.Remove(temp)
	}
	if errors.Is(err, fs.ErrExist) {
		return errExists
	}
	// Not every file system has links.
	return os.Rename(temp, path)
}

// makeFolder makes the folder that files go into, where it is not there.
func makeFolder(path string) error {
	if err := os.MkdirAll(path, 0o777); err != nil {
		return fmt.Errorf("%w; give the name of a folder", cannotWrite(path, err))
	}
	sweep(path)
	return nil
}

// sweep removes the temporary files of runs that were killed.
func sweep(dir string) {
	left, _ := filepath.Glob(filepath.Join(dir, tempPrefix+"*.tmp"))
	for _, name := range left {
		pid, _, _ := strings.Cut(strings.TrimPrefix(filepath.Base(name), tempPrefix), "-")
		if n, err := strconv.Atoi(pid); err == nil && n > 0 && n != os.Getpid() && !running(n) {
			_ = os.Remove(name)
		}
	}
}

// tempPrefix begins the names of temporary files; the number of the process
// follows.
const tempPrefix = ".boltplate-"

// cannotWrite names the file in place of the temporary one, which means nothing
// to a reader.
func cannotWrite(path string, err error) error {
	var pe *fs.PathError
	var le *os.LinkError
	switch {
	case errors.As(err, &pe):
		err = pe.Err
	case errors.As(err, &le):
		err = le.Err
	}
	return fmt.Errorf("%s: cannot be written: %w", path, err)
}
