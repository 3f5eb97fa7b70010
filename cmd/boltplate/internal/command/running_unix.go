//go:build unix

package command

import (
	"errors"
	"syscall"
)

// running reports whether there is a process of that number.
func running(pid int) bool {
	err := syscall.Kill(pid, 0)
	return err == nil || !errors.Is(err, syscall.ESRCH)
}
