package dxfout

import (
	"bytes"
	"strconv"
	"strings"

	d "boltplate/drawing"
	"github.com/stretchr/testify/require"
)

// A tester is a testing.T, a testing.B or a rapid.T.
type tester interface {
	require.TestingT
	Helper()
	Fatalf(format string, args ...any)
}

// A tag is one group of a file.
type tag struct {
	code  int
	value string
}

// A record is what begins with group 0, up to the next.
type record struct {
	section, table string
	kind           string
	tags           []tag
}

func (r *record) first(code int) string {
	for _, t := range r.tags {
		if t.code == code {
			return t.value
		}
	}
	return ""
}

func (r *record) all(code int) (values []string) {
	for _, t := range r.tags {
		if t.code == code {
			values = append(values, t.value)
		}
	}
	return values
}

func (r *record) number(tb tester, code int) float64 {
	v, err := strconv.ParseFloat(r.first(code), 64)
	require.NoError(tb, err, "%s group %d", r.kind, code)
	return v
}

func encoded(tb tester, dr *d.Drawing) []byte {
	tb.Helper()
	b, err := Encoder{}.Append(nil, dr)
	require.NoError(tb, err)
	return b
}

func encodedPlain(tb tester, dr *d.Drawing) []byte {
	tb.Helper()
	b, err := Encoder{Version: R12}.Append(nil, dr)
	require.NoError(tb, err)
	return b
}

// readTags reads the groups of a file and insists on its grammar: lines that
// end with CR LF, codes three wide, no control character in a value.
func readTags(tb tester, file []byte) []tag {
	tb.Helper()
	require.True(tb, bytes.HasSuffix(file, []byte("\r\n")), "the last line ends")
	lines := strings.Split(strings.TrimSuffix(string(file), "\r\n"), "\r\n")
	require.Zero(tb, len(lines)%2, "every code has a value")
	tags := make([]tag, 0, len(lines)/2)
	for i := 0; i < len(lines); i += 2 {
		require.GreaterOrEqual(tb, len(lines[i]), 3, "line %d: code is three wide", i+1)
		code, err := strconv.Atoi(strings.TrimLeft(lines[i], " "))
		require.NoError(tb, err, "line %d", i+1)
		if strings.ContainsFunc(lines[i+1], func(r rune) bool { return r < ' ' }) || len(lines[i+1]) > 255 {
			tb.Fatalf("line %d: %q", i+2, lines[i+1])
		}
		tags = append(tags, tag{code, lines[i+1]})
	}
	return tags
}

func readRecords(tb tester, file []byte) []record {
	tb.Helper()
	var records []record
	section, table := "", ""
	for _, t := range readTags(tb, file) {
		if t.code == 0 {
			if t.value == "ENDSEC" {
				section = ""
			}
			records = append(records, record{section: section, table: table, kind: t.value})
			if t.value == "ENDTAB" {
				table = ""
			}
			continue
		}
		r := &records[len(records)-1]
		if t.code == 2 && len(r.tags) == 0 {
			switch r.kind {
			case "SECTION":
				section = t.value
			case "TABLE":
				table = t.value
				r.table = table
			}
		}
		r.tags = append(r.tags, t)
	}
	return records
}

func ofKind(records []record, kind string) (found []record) {
	for _, r := range records {
		if r.kind == kind {
			found = append(found, r)
		}
	}
	return found
}

func isReal(code int) bool {
	return code >= 10 && code < 60 || code >= 110 && code < 150 || code >= 210 && code < 240 || code >= 1010 && code < 1060
}

func isHandle(code int) bool {
	return code == 5 || code == 105 || code >= 320 && code < 370 || code >= 390 && code < 400
}

func isInteger(code int) bool {
	return code >= 60 && code < 100 || code >= 170 && code < 180 || code >= 270 && code < 300 || code >= 370 && code < 390 || code >= 1060
}
