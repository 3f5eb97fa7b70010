// Package settings reads the files of settings that the command reads, TOML files
// of four sorts: joints, plates, rules of one's own, and layers. Errors are
// [schedule.Errors]: everything that is wrong in a file, each with its line and
// column and what would be right.
//
// The shapes of the files are documented in docs/joints.md, docs/sheets.md and
// docs/class.md. A file may name others, rules or joints; an [Opener] opens them.
package settings

import (
	"fmt"
	"io"
	"os"
)

// An Opener returns the name of a file for errors, and its text.
type Opener func(name string) (shown, text string, err error)

// Most is how long a file of settings may be, bytes. A plate of a thousand
// figures, each with a dozen keys, has a tenth of it.
const Most = 1 << 22

// Files opens files of the file system, up to Most bytes.
func Files(name string) (shown, text string, err error) {
	f, err := os.Open(name)
	if err != nil {
		return name, "", err
	}
	defer f.Close()
	text, err = Text(name, f)
	return name, text, err
}

// Text returns what r has, up to Most bytes; name is for errors.
func Text(name string, r io.Reader) (string, error) {
	data, err := io.ReadAll(io.LimitReader(r, Most+1))
	if err == nil && len(data) > Most {
		err = fmt.Errorf("more than %d MiB are too many for a file of settings", Most>>20)
	}
	if err != nil {
		return "", fmt.Errorf("%s: cannot be read: %w", name, err)
	}
	return string(data), nil
}
