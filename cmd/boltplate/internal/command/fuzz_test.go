package command

import (
	"errors"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"boltplate/fastener/schedule"
)

// placed checks that every error has a place in the file and says something.
func placed(t *testing.T, err error) {
	t.Helper()
	var all schedule.Errors
	if !errors.As(err, &all) || len(all) == 0 {
		t.Fatalf("%T %v", err, err)
	}
	for _, e := range all {
		if e.Line < 1 || e.Column < 1 || e.Err.Error() == "" {
			t.Fatalf("%+v", e)
		}
	}
}

// FuzzClass: whatever a class list holds, it is read, with rolls that name files
// inside a folder, or every error has a place.
func FuzzClass(f *testing.F) {
	for _, s := range []string{"roll\n1\n", "roll,name\n1,\"A, B\"\n2,\n", "roll;name\r\n01;x\r\n", "", "\ufeffroll\n../x\n", "roll\n1\n1\n", "name\nx\n", "roll\n\"1\n", "Roll , x\n 7 ,\n", "roll\n\x00\n"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		students, err := parseClass("f", s)
		if err != nil {
			placed(t, err)
			return
		}
		seen := map[string]bool{}
		for i, st := range students {
			require.Equal(t, i, st.place)
			require.NotEmpty(t, st.roll)
			require.Equal(t, filepath.Base(st.roll), st.roll)
			require.False(t, seen[strings.ToLower(st.roll)])
			seen[strings.ToLower(st.roll)] = true
		}
	})
}
