package fastener_test

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"testing"

	"boltplate/drawing"
	"boltplate/dxfout"
	"boltplate/fastener"
	"boltplate/thread"

	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write the golden files anew")

type golden struct {
	name string
	f    fastener.Fastener
	opt  fastener.DrawOptions
}

// goldenDrawings are one drawing of each kind and of each variant that draws
// differently.
func goldenDrawings() []golden {
	m20, m16, m12, m5 := thread.MustParse("M20"), thread.MustParse("M16"), thread.MustParse("M12x1.25"), thread.MustParse("M5")
	views := func(change func(*fastener.DrawOptions)) fastener.DrawOptions {
		o := fastener.DrawOptions{Views: all}
		if change != nil {
			change(&o)
		}
		return o
	}
	hidden := views(func(o *fastener.DrawOptions) { o.Hidden = true })
	pictorial := views(func(o *fastener.DrawOptions) { o.Views = append(slices.Clone(all), drawing.Isometric) })
	return []golden{
		{"hex-bolt", fastener.HexBolt{Thread: m20, Length: 90}, hidden},
		{"hex-bolt-standard", fastener.HexBolt{Thread: m16, Length: 80, Basis: fastener.Standard}, views(func(o *fastener.DrawOptions) { o.Projection = fastener.ThirdAngle })},
		{"hex-bolt-exact", fastener.HexBolt{Thread: m5, Length: 25, Governs: fastener.Flats}, views(func(o *fastener.DrawOptions) { o.Exact = true; o.Style.Scale = 2 })},
		{"hex-screw", fastener.HexBolt{Thread: m12, Length: 40, ToHead: true}, views(func(o *fastener.DrawOptions) { o.Style.Labels = drawing.Rules })},
		{"square-bolt", fastener.SquareBolt{Thread: m20, Length: 90}, views(nil)},
		{"square-bolt-neck", fastener.SquareBolt{Thread: m20, Length: 90, SquareNeck: true}, hidden},
		{"hex-nut", fastener.HexNut{Thread: m20}, hidden},
		{"thin-nut", fastener.HexNut{Thread: m16, Thin: true, Basis: fastener.Standard}, views(nil)},
		{"square-nut", fastener.SquareNut{Thread: m20}, hidden},
		{"square-nut-thin", fastener.SquareNut{Thread: thread.MustParse("M10"), Thin: true, Basis: fastener.Standard}, pictorial},
		{"castle-nut", fastener.CastleNut{Thread: m20}, pictorial},
		{"castle-nut-bare", fastener.CastleNut{Thread: m20, Bare: true, Basis: fastener.Standard}, views(func(o *fastener.DrawOptions) { o.Views, o.Hidden = pictorial.Views, true })},
		{"bolted-castle", fastener.Bolted{Bolt: fastener.HexBolt{Thread: m20, Length: 110}, Nut: fastener.CastleNut{Thread: m20}, Grip: 75}, pictorial},
		{"wing-nut", fastener.WingNut{Thread: thread.MustParse("M10")}, pictorial},
		{"bolted-wing", fastener.Bolted{Bolt: fastener.SquareBolt{Thread: m20, Length: 110}, Nut: fastener.WingNut{Thread: m20}, Washer: fastener.Washer{Thread: m20}, Grip: 70}, pictorial},
		{"cap-nut", fastener.CapNut{Thread: m20}, views(func(o *fastener.DrawOptions) { o.Views, o.Hidden = pictorial.Views, true })},
		{"bolted-cap", fastener.Bolted{Bolt: fastener.CupBolt{Thread: m20, Length: 100}, Nut: fastener.CapNut{Thread: m20}, Washer: fastener.Washer{Thread: m20}, Grip: 75}, pictorial},
		{"lock-nut", fastener.LockNut{Thread: m20}, pictorial},
		{"spring-washer", fastener.SpringWasher{Thread: m20}, pictorial},
		{"bolted-lock", fastener.Bolted{Bolt: fastener.HexBolt{Thread: m20, Length: 120}, Nut: fastener.LockNut{Thread: m20}, Washer: fastener.SpringWasher{Thread: m20}, Grip: 75}, pictorial},
		{"washer", fastener.Washer{Thread: m20, Basis: fastener.Standard}, fastener.DrawOptions{Options: fastener.Options{Hidden: true}}},
		{"bolted", fastener.Bolted{Bolt: fastener.HexBolt{Thread: m20, Length: 120}, Nut: fastener.HexNut{Thread: m20}, Washer: fastener.Washer{Thread: m20}, Grip: 80},
			views(func(o *fastener.DrawOptions) { o.Style.Scale = 0.5; o.Style.Labels = drawing.Letters })},
		{"bolted-square", fastener.Bolted{Bolt: fastener.SquareBolt{Thread: m20, Length: 110, SquareNeck: true}, Nut: fastener.SquareNut{Thread: m20}, Grip: 75},
			fastener.DrawOptions{Caption: []fastener.CaptionLine{{Tag: "MARK", Prompt: "Mark", Text: "HS-01"}, {Tag: "QUANTITY", Prompt: "Quantity", Text: "8 off"}}}},
	}
}

// TestGolden compares the drawings of each kind with files that were looked
// at.
func TestGolden(t *testing.T) {
	for _, g := range goldenDrawings() {
		d, err := fastener.Draw(g.f, g.opt)
		require.NoError(t, err, g.name)
		var got bytes.Buffer
		require.NoError(t, dxfout.Encode(&got, d), g.name)
		file := filepath.Join("testdata", "golden", g.name+".dxf")
		if *update {
			require.NoError(t, os.MkdirAll(filepath.Dir(file), 0o755))
			require.NoError(t, os.WriteFile(file, got.Bytes(), 0o644))
			continue
		}
		want, err := os.ReadFile(file)
		require.NoError(t, err, "write it with -update")
		if !bytes.Equal(want, got.Bytes()) {
			t.Errorf("%s differs%s", file, firstDifference(want, got.Bytes()))
		}
	}
}

func firstDifference(want, got []byte) string {
	w, g := bytes.Split(want, []byte("\n")), bytes.Split(got, []byte("\n"))
	for i := range min(len(w), len(g)) {
		if !bytes.Equal(w[i], g[i]) {
			return fmt.Sprintf(" at line %d: want %q, got %q", i+1, w[i], g[i])
		}
	}
	return fmt.Sprintf(": %d lines, want %d", len(g), len(w))
}

// TestAudit draws every kind and variant over sizes and lengths and has each
// file read by ezdxf, which must find nothing to repair.
func TestAudit(t *testing.T) {
	if testing.Short() {
		t.Skip("short: the files are audited in the full run")
	}
	interpreter := python(t)
	dir := t.TempDir()
	var files []string
	for _, d := range []float64{5, 12, 20, 42} {
		for _, k := range []float64{3, 8} {
			for _, basis := range []fastener.Basis{fastener.Proportion, fastener.Standard} {
				for i, f := range specimens(t, d, d*k, basis) {
					opt := fastener.DrawOptions{Views: all}
					opt.Hidden, opt.Exact = i%2 == 0, i%3 == 0
					opt.Style = drawing.Style{Labels: drawing.Labels(i % 4), Scale: []float64{1, 0.5, 2}[i%3]}
					dr, err := fastener.Draw(f, opt)
					require.NoError(t, err)
					var b bytes.Buffer
					require.NoError(t, dxfout.Encode(&b, dr))
					file := filepath.Join(dir, fmt.Sprintf("%g-%g-%d-%d.dxf", d, k, basis, i))
					require.NoError(t, os.WriteFile(file, b.Bytes(), 0o644))
					files = append(files, file)
				}
			}
		}
	}
	out, err := exec.Command(interpreter, append([]string{"../scripts/audit.py"}, files...)...).CombinedOutput()
	require.NoError(t, err, string(out))
	t.Log(len(files), "files audited")
}

// python returns a Python that has ezdxf. Without one the test is skipped, or
// fails where the environment asks for the audit.
func python(t *testing.T) string {
	t.Helper()
	for _, p := range []string{"/usr/bin/python3", "python3"} {
		if exec.Command(p, "-c", "import ezdxf").Run() == nil {
			return p
		}
	}
	if os.Getenv("BOLTPLATE_REQUIRE_AUDIT") != "" {
		t.Fatal("no python3 with ezdxf; Debian has it as python3-ezdxf")
	}
	t.Skip("AUDIT SKIPPED: no python3 with ezdxf; Debian has it as python3-ezdxf")
	return ""
}
