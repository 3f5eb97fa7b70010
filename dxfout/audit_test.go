package dxfout

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// python returns an interpreter that has ezdxf. Without one the test is
// skipped, or fails where BOLTPLATE_REQUIRE_AUDIT is set.
func python(t *testing.T) string {
	t.Helper()
	if testing.Short() {
		t.Skip("short: the files are audited in the full run")
	}
	for _, name := range []string{"/usr/bin/python3", "python3"} { // Debian's first: its packages are for that one
		if exec.Command(name, "-c", "import ezdxf").Run() == nil {
			return name
		}
	}
	missing(t, "no python3 with ezdxf (Debian: python3-ezdxf)")
	return ""
}

func missing(t *testing.T, what string) {
	t.Helper()
	if os.Getenv("BOLTPLATE_REQUIRE_AUDIT") != "" {
		t.Fatal("NOT AUDITED and BOLTPLATE_REQUIRE_AUDIT is set: " + what)
	}
	t.Skip("NOT AUDITED: " + what)
}

// writeVariants writes the drawings of variants to files.
func writeVariants(t *testing.T) (files []string) {
	dir := t.TempDir()
	for name, dr := range variants() {
		file := filepath.Join(dir, name+".dxf")
		require.NoError(t, os.WriteFile(file, encoded(t, dr), 0o644))
		files = append(files, file)
	}
	return files
}

// TestAudit has other programs read the files: ezdxf, strictly and with its
// auditor, and GDAL, which must find the same as ezdxf.
func TestAudit(t *testing.T) {
	interpreter := python(t)
	files := writeVariants(t)
	out, err := exec.Command(interpreter, append([]string{"../scripts/audit.py"}, files...)...).CombinedOutput()
	require.NoError(t, err, string(out))
	if _, err := exec.LookPath("ogrinfo"); err != nil {
		missing(t, "no ogrinfo (Debian: gdal-bin)")
	}
	out, err = exec.Command(interpreter, append([]string{"../scripts/second-reader.py"}, files...)...).CombinedOutput()
	require.NoError(t, err, string(out))
}

// TestAuditCounts: ezdxf finds in model space what was put there.
func TestAuditCounts(t *testing.T) {
	interpreter := python(t)
	file := filepath.Join(t.TempDir(), "grid.dxf")
	require.NoError(t, os.WriteFile(file, encoded(t, grid(100)), 0o644))
	out, err := exec.Command(interpreter, "../scripts/audit.py", "--counts", file).Output()
	require.NoError(t, err)
	var got struct{ Entities map[string]int }
	require.NoError(t, json.Unmarshal(out, &got))
	require.Equal(t, map[string]int{"LINE": 70, "ARC": 10, "CIRCLE": 10, "LWPOLYLINE": 10}, got.Entities)
}

// TestAuditFinds: the audit is worth something only if it finds faults.
func TestAuditFinds(t *testing.T) {
	interpreter := python(t)
	good := string(encoded(t, sample()))
	dir := t.TempDir()
	args := []string{"../scripts/audit.py"}
	for name, f := range faults() {
		bad := f.damage(good)
		require.False(t, good == bad, "%s: nothing was damaged", name)
		file := filepath.Join(dir, name+".dxf")
		require.NoError(t, os.WriteFile(file, []byte(bad), 0o644))
		args = append(args, file)
	}
	out, err := exec.Command(interpreter, args...).CombinedOutput()
	require.Error(t, err, "faults went unnoticed")
	for name, f := range faults() {
		found := false
		for _, line := range strings.Split(string(out), "\n") {
			found = found || strings.HasPrefix(line, filepath.Join(dir, name)) && strings.Contains(line, f.want)
		}
		require.True(t, found, "%s went unnoticed:\n%s", name, out)
	}
}
