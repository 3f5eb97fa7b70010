//go:build !unix

package command

// running says yes where it cannot be told.
func running(int) bool { return true }
