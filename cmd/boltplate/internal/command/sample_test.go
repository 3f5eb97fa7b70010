package command

import (
	"context"
	"encoding/csv"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// sampleSchedule returns a schedule of n rows of all sorts.
func sampleSchedule(n int) string {
	var b strings.Builder
	b.WriteString("mark,quantity,kind,size,length,nut,washer,grip,labels,note\n")
	for i := range n {
		d := [...]int{8, 10, 12, 16, 20, 24}[i/7%6]
		length := 5*d + 10*(i%5)
		mark := fmt.Sprintf("P-%05d", i)
		switch i % 7 {
		case 0:
			fmt.Fprintf(&b, "%s,%d,hex-bolt,M%d,%d,hex,plain,%d,,row %d\n", mark, i+1, d, length, length-16*d/10-3, i)
		case 1:
			fmt.Fprintf(&b, "%s,1,hex-screw,M%d,%d,,,,rules,\n", mark, d, length)
		case 2:
			fmt.Fprintf(&b, "%s,1,square-bolt,M%d,%d,,,,,\n", mark, d, length)
		default:
			kind := [...]string{"hex-nut", "thin-nut", "square-nut", "washer"}[i%7-3]
			fmt.Fprintf(&b, "%s,4,%s,M%d,,,,,letters,\n", mark, kind, d)
		}
	}
	return b.String()
}

// demoSchedule returns a schedule of n rows with the demo schedule's own mix:
// its rows over and over, each with a mark of its own.
func demoSchedule(tb testing.TB, n int) string {
	tb.Helper()
	f, err := os.Open(filepath.Join("..", "..", "..", "..", "testdata", "schedules", "sluice-gate.csv"))
	require.NoError(tb, err)
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	require.NoError(tb, err)
	require.Equal(tb, "mark", rows[0][0])
	var b strings.Builder
	w := csv.NewWriter(&b)
	require.NoError(tb, w.Write(rows[0]))
	demo := rows[1:]
	for i := range n {
		row := slices.Clone(demo[i%len(demo)])
		row[0] = fmt.Sprintf("%s-%05d", row[0], i/len(demo))
		require.NoError(tb, w.Write(row))
	}
	w.Flush()
	return b.String()
}

// However many rows are drawn at once, the files are the same.
func TestJobs(t *testing.T) {
	text := sampleSchedule(150) + "bad,1,hexbolt,M16,80\nlast,1,washer,M16\n"
	one := t.TempDir()
	dirs := map[string]string{one: "1", t.TempDir(): "8"}
	if !testing.Short() {
		dirs[t.TempDir()], dirs[t.TempDir()] = "0", "10000" // 0: one a processor
	}
	for dir, jobs := range dirs {
		status := Run(context.Background(), []string{"batch", "-", "-o", dir, "--jobs", jobs}, strings.NewReader(text), io.Discard, io.Discard)
		require.Equal(t, exitPartial, status)
	}
	all := listDir(t, one)
	require.Len(t, all, 152)
	for dir := range dirs {
		require.Equal(t, all, listDir(t, dir))
		for _, name := range all {
			a, err := os.ReadFile(filepath.Join(one, name))
			require.NoError(t, err)
			b, err := os.ReadFile(filepath.Join(dir, name))
			require.NoError(t, err)
			require.Equal(t, string(a), string(b), name)
		}
	}
}

// peak runs a batch of n rows and returns the most memory that lived on the
// heap, as seen from the writer of standard output at its end.
func peak(t *testing.T, n int) uint64 {
	t.Helper()
	var live uint64
	probe := writerFunc(func(p []byte) (int, error) {
		runtime.GC()
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		live = m.HeapAlloc
		return len(p), nil
	})
	in := strings.NewReader(sampleSchedule(n))
	require.Zero(t, Run(context.Background(), []string{"batch", "-", "-o", t.TempDir(), "--jobs", "2"}, in, probe, io.Discard))
	return live
}

type writerFunc func([]byte) (int, error)

func (f writerFunc) Write(p []byte) (int, error) { return f(p) }

// What stays of a row is its file name, in fewer than 400 bytes with its part
// of the schedule's own text, which this test holds in memory.
func TestMemory(t *testing.T) {
	if testing.Short() {
		t.Skip("draws thousands of rows")
	}
	few, many := peak(t, 200), peak(t, 2200)
	assert.Less(t, int64(many)-int64(few), int64(2000*400))
}
