package dxfout

import (
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	d "boltplate/drawing"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
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
		plain := filepath.Join(dir, name+"-plain.dxf")
		require.NoError(t, os.WriteFile(plain, encodedPlain(t, plainOf(dr)), 0o644))
		files = append(files, file, plain)
	}
	for name, e := range map[string]Encoder{"office.dxf": {Layers: office()}, "plain-office.dxf": {Layers: office(), Version: R12}} {
		b, err := e.Append(nil, plainOf(sample()))
		require.NoError(t, err)
		files = append(files, filepath.Join(dir, name))
		require.NoError(t, os.WriteFile(files[len(files)-1], b, 0o644))
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
	needGDAL(t)
	out, err = exec.Command(interpreter, append([]string{"../scripts/second-reader.py"}, files...)...).CombinedOutput()
	require.NoError(t, err, string(out))
}

func needGDAL(t *testing.T) {
	t.Helper()
	if _, err := exec.LookPath("ogrinfo"); err != nil {
		missing(t, "no ogrinfo (Debian: gdal-bin)")
	}
}

// TestSecondReaderFinds an entity that only one of the readers knows, and a file
// without an end; and it passes a good file among bad ones.
func TestSecondReaderFinds(t *testing.T) {
	interpreter := python(t)
	needGDAL(t)
	dir := t.TempDir()
	good, plain := string(encoded(t, sample())), string(encodedPlain(t, plainOf(sample())))
	files := [][2]string{
		{"plain", plain}, {"plain-endless", endless(plain)}, {"endless", endless(good)}, {"cut", good[:strings.Index(good, "\r\nOBJECTS\r\n")-200]}, {"good", good},
	}
	args := []string{"../scripts/second-reader.py"}
	for _, f := range files {
		args = append(args, filepath.Join(dir, f[0]+".dxf"))
		require.NoError(t, os.WriteFile(args[len(args)-1], []byte(f[1]), 0o644))
	}
	out, err := exec.Command(interpreter, args...).CombinedOutput()
	var exit *exec.ExitError
	require.ErrorAs(t, err, &exit)
	require.Equal(t, 1, exit.ExitCode())
	require.Contains(t, string(out), "endless.dxf: entities OUTLINE XLINE: ezdxf 1, GDAL 0\n")
	require.Contains(t, string(out), "plain-endless.dxf: entities OUTLINE curve: ezdxf ")
	require.NotContains(t, string(out), "plain.dxf: ")
	require.Contains(t, string(out), "cut.dxf: cannot be read: ")
	require.Contains(t, string(out), `good.dxf", "entities": `)
	require.NotContains(t, string(out), "good.dxf: ")
}

// endless returns a file with a line more, one without ends, which GDAL does not
// read.
func endless(file string) string {
	head, rest, _ := strings.Cut(file, "\r\nENTITIES\r\n")
	const plain = "  0\r\nXLINE\r\n  8\r\nOUTLINE\r\n 10\r\n0.0\r\n 20\r\n0.0\r\n 30\r\n0.0\r\n 11\r\n1.0\r\n 21\r\n0.0\r\n 31\r\n0.0\r\n"
	line := plain
	if strings.Contains(file, "AC1015") {
		line = strings.Replace(plain, "  8\r\nOUTLINE\r\n", "  5\r\nFFFF\r\n330\r\n1F\r\n100\r\nAcDbEntity\r\n  8\r\nOUTLINE\r\n100\r\nAcDbXline\r\n", 1)
	}
	return head + "\r\nENTITIES\r\n" + line + rest
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
	good, plain := string(encoded(t, sample())), string(encodedPlain(t, plainOf(sample())))
	dir := t.TempDir()
	args := []string{"../scripts/audit.py"}
	all := faults()
	maps.Copy(all, plainFaults())
	for name, f := range all {
		good := good
		if strings.HasPrefix(name, "plain ") {
			good = plain
		}
		bad := f.damage(good)
		require.False(t, good == bad, "%s: nothing was damaged", name)
		file := filepath.Join(dir, name+".dxf")
		require.NoError(t, os.WriteFile(file, []byte(bad), 0o644))
		args = append(args, file)
	}
	out, err := exec.Command(interpreter, args...).CombinedOutput()
	require.Error(t, err, "faults went unnoticed")
	for name, f := range all {
		found := false
		for _, line := range strings.Split(string(out), "\n") {
			found = found || strings.HasPrefix(line, filepath.Join(dir, name)) && strings.Contains(line, f.want)
		}
		require.True(t, found, "%s went unnoticed:\n%s", name, out)
	}
}

// TestAuditAny: random drawings read without a fault. They may say the same
// thing twice.
func TestAuditAny(t *testing.T) {
	interpreter := python(t)
	drawings := rapid.Custom(func(t *rapid.T) *d.Drawing { m := maker{T: t}; return m.drawing() })
	dir := t.TempDir()
	args := []string{"../scripts/audit.py", "--counts"}
	for i := range 60 {
		for _, e := range []Encoder{{}, {Version: R12}} {
			file, err := e.Append(nil, drawings.Example(i))
			if err != nil {
				continue // a block name that stands for two views; text or hatches that a plain file cannot hold
			}
			args = append(args, filepath.Join(dir, fmt.Sprint(i, e.Version, ".dxf")))
			require.NoError(t, os.WriteFile(args[len(args)-1], file, 0o644))
		}
	}
	require.Greater(t, len(args), 40)
	var out, problems strings.Builder
	cmd := exec.Command(interpreter, args...)
	cmd.Stdout, cmd.Stderr = &out, &problems
	_ = cmd.Run()
	require.Equal(t, len(args)-2, strings.Count(out.String(), "\n"), "all files are read")
	for line := range strings.Lines(problems.String()) {
		require.Contains(t, line, "is drawn twice")
	}
}
