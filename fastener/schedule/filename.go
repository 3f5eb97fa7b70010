package schedule

import (
	"strings"
	"unicode"
	"unicode/utf8"
)

// maxName bounds a file name in bytes, so that an ending and a temporary name
// made from it stay within the 255 that file systems allow.
const maxName = 96

// FileName returns the mark as a file name without an ending that is safe on
// all systems: letters, digits, '-', '_' and '.' stay, every other character
// becomes '_'. It neither starts with a dot or a hyphen nor ends with a dot, is
// at most 96 bytes long, and is no name that Windows keeps for devices. It is
// "" for the mark "" alone.
func FileName(mark string) string {
	name := strings.Map(func(r rune) rune {
		switch {
		case r == utf8.RuneError:
			return '_'
		case r == '-', r == '_', r == '.', unicode.IsLetter(r), unicode.IsDigit(r):
			return r
		}
		return '_'
	}, mark)
	if name == "" {
		return ""
	}
	if name[0] == '.' || name[0] == '-' {
		name = "_" + name[1:]
	}
	if reserved(name) {
		name = "_" + name
	}
	if len(name) > maxName {
		cut := maxName
		for !utf8.RuneStart(name[cut]) {
			cut--
		}
		name = name[:cut]
	}
	if i := len(name) - 1; name[i] == '.' {
		name = name[:i] + "_"
	}
	return name
}

// reserved reports whether Windows takes the name for a device, which it does
// whatever follows the first dot. It also takes the superscripts 1 to 3 for
// digits, which a file name here never has.
func reserved(name string) bool {
	base, _, _ := strings.Cut(strings.ToUpper(name), ".")
	switch base {
	case "CON", "PRN", "AUX", "NUL":
		return true
	}
	if n := len("COM"); len(base) > n && (base[:n] == "COM" || base[:n] == "LPT") {
		switch base[n:] {
		case "0", "1", "2", "3", "4", "5", "6", "7", "8", "9":
			return true
		}
	}
	return false
}

// foldName returns what is equal for names that are one file where case does
// not count.
func foldName(name string) string { return strings.ToLower(strings.ToUpper(name)) }
