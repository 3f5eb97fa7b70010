//go:build !linux

package command

// writeUnnamed reports that files have a name from the start.
func writeUnnamed(string, []byte) (done bool, err error) { return false, nil }
