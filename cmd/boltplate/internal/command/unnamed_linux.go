package command

import (
	"errors"
	"os"
	"path/filepath"
	"strconv"

	"golang.org/x/sys/unix"
)

// writeUnnamed writes a file that has no name until it is whole. That leaves
// nothing behind even when the process is killed, and changes the folder, for
// which all workers wait, once a file in place of three times. It reports false
// where that cannot be done and nothing was written: not every file system can,
// and a file of that name is not replaced.
func writeUnnamed(path string, data []byte) (done bool, err error) {
	fd, err := unix.Open(filepath.Dir(path), unix.O_WRONLY|unix.O_TMPFILE|unix.O_CLOEXEC, 0o666)
	if err != nil {
		return false, nil
	}
	f := os.NewFile(uintptr(fd), path)
	_, err = f.Write(data)
	if err == nil {
		// The folder of the process's own open files gives the file a name
		// without the privilege that linking by number needs.
		err = unix.Linkat(unix.AT_FDCWD, "/proc/self/fd/"+strconv.Itoa(fd), unix.AT_FDCWD, path, unix.AT_SYMLINK_FOLLOW)
		if err != nil {
			f.Close()
			return false, nil
		}
	}
	return err == nil, errors.Join(err, f.Close())
}
