package command

import (
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"boltplate/fastener/schedule"
	"boltplate/settings"
)

// TestHostileSettings: a file of settings that would take a decoder's memory or
// time for itself is refused with its place.
func TestHostileSettings(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"dots":     {"a" + strings.Repeat(".a", 50_000) + " = 1\n", "s:1:66: a key of more than 32 parts"},
		"header":   {"\n[a" + strings.Repeat(" . a", 50_000) + "]\n", "s:2:132: a key of more than 32 parts"},
		"brackets": {"a = " + strings.Repeat("[", 100_000), "s:1:37: brackets inside brackets"},
		"inline":   {"a = " + strings.Repeat("{b=", 100_000), "s:1:101: brackets inside brackets"},
		"strings":  {"a = '" + strings.Repeat("[.", 100) + "'\nb = \"\\\"" + strings.Repeat("[", 100) + "\"\nc = '''\n" + strings.Repeat("{'\n", 100) + "''' # " + strings.Repeat("[", 100) + "\nd = [1.5" + strings.Repeat(",1.5", 100) + "]", "s:1:6: a: no such key"},
	} {
		_, err := settings.ReadPlate("s", c.text, settings.PlateOptions{})
		require.Error(t, err, name)
		first, _, _ := strings.Cut(err.Error(), ";")
		assert.Contains(t, first, c.want, name)
	}
}

// TestManyFaults: of very many faults the first are told and the rest counted,
// the same each time.
func TestManyFaults(t *testing.T) {
	text := strings.Repeat("[[figure]]\nkind = 3\nnone = 1\n", 2000)
	_, err := settings.ReadPlate("s", text, settings.PlateOptions{})
	var all schedule.Errors
	require.ErrorAs(t, err, &all)
	require.Equal(t, settings.MaxFaults+1, len(all))
	assert.ErrorContains(t, all[settings.MaxFaults], "faults more, which are not told")
	_, again := settings.ReadPlate("s", text, settings.PlateOptions{})
	assert.Equal(t, err.Error(), again.Error())
}

// TestReadSettings: what is too long is refused, not cut, and a reader that
// waits stops when it is told to.
func TestReadSettings(t *testing.T) {
	e := &env{ctx: t.Context(), stdin: strings.NewReader(strings.Repeat("#", settings.Most+1))}
	_, _, err := e.readSettings(stdStream)
	assert.EqualError(t, err, "stdin: cannot be read: more than 4 MiB are too many for a file of settings")
	e.stdin = strings.NewReader(strings.Repeat("#", settings.Most))
	_, text, err := e.readSettings(stdStream)
	require.NoError(t, err)
	assert.Len(t, text, settings.Most)

	ctx, cancel := context.WithCancel(t.Context())
	r, w := io.Pipe()
	defer w.Close()
	e = &env{ctx: ctx, stdin: r}
	cancel()
	_, _, err = e.readSettings(stdStream)
	assert.ErrorIs(t, err, errInterrupted)

	e = &env{ctx: t.Context()}
	_, _, err = e.readSettings(filepath.Join(t.TempDir(), "none.toml"))
	assert.True(t, errors.Is(err, os.ErrNotExist), err)
}
