package thread

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"boltplate/rule"

	"github.com/stretchr/testify/require"
)

// row is a row of a table under testdata, by the name of its column.
type row map[string]string

// readTable reads the second copy of a table. Its origin and status
// are in the file.
func readTable(t *testing.T, name string) []row {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "testdata", "tables", name))
	require.NoError(t, err)
	defer f.Close()
	recs, err := csv.NewReader(f).ReadAll()
	require.NoError(t, err)
	require.Greater(t, len(recs), 1, "%s is empty", name)
	var rows []row
	for _, rec := range recs[1:] {
		r := row{}
		for i, h := range recs[0] {
			r[h] = rec[i]
		}
		rows = append(rows, r)
	}
	return rows
}

func (r row) num(t *testing.T, col string) float64 {
	t.Helper()
	require.Contains(t, r, col)
	x, err := strconv.ParseFloat(r[col], 64)
	require.NoError(t, err, "%s of %v", col, r)
	return x
}

func (r row) nums(t *testing.T, col string) []float64 {
	t.Helper()
	require.Contains(t, r, col)
	var xs []float64
	for s := range strings.SplitSeq(r[col], ";") {
		if s == "" {
			continue
		}
		x, err := strconv.ParseFloat(s, 64)
		require.NoError(t, err, "%s of %v", col, r)
		xs = append(xs, x)
	}
	return xs
}

// statusOf turns the status of a row of a table into that of a figure.
func statusOf(t *testing.T, word string) rule.Status {
	t.Helper()
	s, ok := map[string]rule.Status{"two-tables": rule.Published, "one-table": rule.Published, "partly": rule.PublishedInPart,
		"formula": rule.Derived, "memory": rule.FromMemory}[word]
	require.True(t, ok, "status %q", word)
	return s
}

// bestStatus returns the status of each row of several tables that hold the
// same figures, by the columns that name a row: the best that any of them has.
func bestStatus(t *testing.T, key []string, names ...string) map[string]rule.Status {
	t.Helper()
	best := map[string]rule.Status{}
	for _, name := range names {
		for _, r := range readTable(t, name) {
			k := ""
			for _, col := range key {
				k += " " + r[col]
			}
			s := statusOf(t, r["status"])
			if was, ok := best[k]; !ok || rule.Weakest(s, was) == was {
				best[k] = s
			}
		}
	}
	return best
}

// eachThread calls f for every thread that ISO 261 lists here.
func eachThread(f func(Thread)) {
	for _, d := range Sizes() {
		for _, p := range Pitches(d) {
			f(Thread{D: d, P: p.P})
		}
	}
}
