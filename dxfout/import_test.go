package dxfout

import (
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	d "boltplate/drawing"
	"github.com/stretchr/testify/require"
)

// importer puts the contents of drawings into a host, one after the other, as a
// user does who inserts them, and prints how each dimension, text, leader and
// line looks before and after: by the values of the styles that it names, not by
// their names.
const importer = `
import sys, ezdxf
from ezdxf.addons import Importer

def look(doc, e):
    kind = e.dxftype()
    layer = doc.layers.get(e.dxf.layer)
    line = doc.linetypes.get(layer.dxf.linetype)
    pattern = [round(t.value, 6) for t in line.pattern_tags.tags if t.code == 49]
    out = [kind, [round(p * e.dxf.ltscale, 6) for p in pattern], layer.dxf.color, layer.dxf.lineweight]
    if kind in ("DIMENSION", "LEADER"):
        s = doc.dimstyles.get(e.dxf.dimstyle)
        out += [round(s.get_dxf_attrib(a), 6) for a in ("dimscale", "dimasz", "dimexo", "dimexe", "dimtxt", "dimlfac", "dimgap", "dimdsep", "dimtad", "dimclrt")]
        out.append(doc.styles.get(s.dxf.dimtxsty).dxf.font)
    if kind == "DIMENSION":
        out.append(sorted(p.dxftype() for p in doc.blocks.get(e.dxf.geometry)))
    if kind in ("TEXT", "MTEXT"):
        out += [doc.styles.get(e.dxf.style).dxf.font]
    if kind == "INSERT":
        out.append([look(doc, p) for p in doc.blocks.get(e.dxf.name)])
    return out

host = ezdxf.readfile(sys.argv[1])
for name in sys.argv[2:]:
    source = ezdxf.readfile(name)
    want = [look(source, e) for e in source.modelspace()]
    before = [look(host, e) for e in host.modelspace()]
    imp = Importer(source, host)
    imp.import_modelspace()
    imp.finalize()
    for e in host.modelspace():
        if e.dxftype() == "DIMENSION" and e.virtual_block_content:
            e.post_bind_hook()  # this version leaves the pictures of dimensions unbound
    after = [look(host, e) for e in host.modelspace()]
    for what, a, b in (("host", before, after[:len(before)]), (name, want, after[len(before):])):
        if a != b:
            for x, y in zip(a, b):
                if x != y:
                    sys.exit(f"{what}: {x} became {y}")
            sys.exit(f"{what}: {len(a)} entities became {len(b)}")
host.saveas(sys.argv[1] + ".out.dxf")
again = ezdxf.readfile(sys.argv[1] + ".out.dxf")
fixes = again.audit()
if fixes.errors or fixes.fixes:
    sys.exit(f"the result: {fixes.errors} {fixes.fixes}")
`

// TestImport: drawings of other scales, heights, fonts and line groups, and a
// drawing with styles of its own, go into one another in any order, and nothing
// of theirs looks different for it.
func TestImport(t *testing.T) {
	interpreter := python(t)
	dir := t.TempDir()
	write := func(name string, e Encoder, st d.Style) string {
		mm := 1 / st.PaperScale()
		dr := &d.Drawing{Style: st, Views: []d.Placed{{View: onePlate(mm)}, {View: onePlate(2 * mm), At: d.Pt(300, 0), Scale: 0.5}}, Parts: []d.Part{part("1", -60)}}
		b, err := e.Append(nil, dr)
		require.NoError(t, err)
		file := filepath.Join(dir, name)
		require.NoError(t, os.WriteFile(file, b, 0o644))
		return file
	}
	// Layers are the office's: files that name the same ones have them in
	// common, so files of other line groups name others here.
	named := func(prefix string) (m LayerMap) {
		for r := range m {
			m[r].Name = prefix + m.Layer(d.Role(r), d.Style{}).Name
		}
		return m
	}
	files := []string{
		write("half.dxf", Encoder{}, d.Style{Scale: 0.5}), write("double.dxf", Encoder{}, d.Style{Scale: 2}), write("full.dxf", Encoder{}, d.Style{}),
		write("high.dxf", Encoder{Layers: named("H")}, d.Style{TextHeight: 5}), write("comma.dxf", Encoder{}, d.Style{DecimalComma: true}),
		write("wide.dxf", Encoder{Font: "office.ttf", Layers: named("W")}, d.Style{Group: 0.7}),
	}
	host := filepath.Join(dir, "host.dxf")
	make := `
import sys, ezdxf
doc = ezdxf.new("R2000", setup=True)
s = doc.dimstyles.get("Standard"); s.dxf.dimtxt = 99; s.dxf.dimasz = 77; s.dxf.dimlfac = 25.4
doc.styles.get("Standard").dxf.font = "strange.ttf"
for name in ("HIDDEN", "CENTER"):
    if name in doc.linetypes: doc.linetypes.remove(name)
    doc.linetypes.add(name, [25.4, 20, -5.4])
doc.blocks.new("Bolt M20x90").add_line((0, 0), (1, 1))
doc.modelspace().add_linear_dim(base=(0, 9), p1=(0, 0), p2=(9, 0)).render()
doc.styles.add("HOUSE", font="house.ttf")
doc.layers.add("THEIRS", linetype="HIDDEN")
doc.modelspace().add_text("theirs", dxfattribs={"style": "HOUSE"})
doc.modelspace().add_line((0, 0), (9, 9), dxfattribs={"layer": "THEIRS"})
doc.saveas(sys.argv[1])
`
	out, err := exec.Command(interpreter, "-c", make, host).CombinedOutput()
	require.NoError(t, err, string(out))
	run := func(args ...string) {
		out, err := exec.Command(interpreter, append([]string{"-c", importer}, args...)...).CombinedOutput()
		require.NoError(t, err, "%v: %s", args, out)
	}
	run(host, files[0])
	run(files[0], host)
	run(files[0], files[1])
	run(files[2], files[3])
	run(files[3], files[2])
	run(files[2], files[4], files[5])
	run(files[5], files[4], files[2])

	// A library: blocks with attributes, for drawings of two scales, into the
	// host and into each other.
	library := func(name string, st d.Style) string {
		at := d.Attribute{Tag: "MARK", Prompt: "Mark", Hidden: true, Text: d.Text{Value: "HS-01"}}
		dr := &d.Drawing{Style: st}
		for i, block := range []string{"HS-01_FRONT_", "HS-02_FRONT_"} {
			dr.Views = append(dr.Views, d.Placed{View: onePlate(1 / st.PaperScale()), At: d.Pt(float64(i)*200, 0), Turn: 90 * float64(i), Block: block + name,
				Attributes: []d.Attribute{at}, Properties: []d.Property{{Key: "mark", Value: "HS-01"}}})
		}
		b, err := Encoder{}.Append(nil, dr)
		require.NoError(t, err)
		file := filepath.Join(dir, "library"+name+".dxf")
		require.NoError(t, os.WriteFile(file, b, 0o644))
		return file
	}
	one, two := library("1-1", d.Style{}), library("1-2", d.Style{Scale: 0.5})
	run(host, one, two)
	run(one, two)
	run(two, host)
}
