#!/usr/bin/python3
"""writers.py [--rows N] : a batch beside other programs that write the same.

Draws a schedule of N rows (2,000) of the demo's mix into memory (tmpfs), and then
has the same entities written, a file for each row: by ezdxf, by the npm package
dxf-writer, and by github.com/yofu/dxf, each from the lines, circles, arcs and
texts that ezdxf reads in our files (in model space and blocks; what a package
does not know it is spared). Prints seconds of the clock, without the reading of
our files, and how many times the batch that is. The packages are installed into a
temporary folder.
"""
import argparse
import importlib.util
import json
import pathlib
import shutil
import subprocess
import tempfile
import time

import ezdxf

ROOT = pathlib.Path(__file__).resolve().parent.parent
spec = importlib.util.spec_from_file_location("ratio", ROOT / "scripts" / "batch-ratio.py")
ratio = importlib.util.module_from_spec(spec)
spec.loader.exec_module(ratio)

NODE = """
const D = require('dxf-writer'), fs = require('fs');
const files = JSON.parse(fs.readFileSync(process.argv[2])), dir = process.argv[3];
const t = process.hrtime.bigint();
files.forEach((list, i) => {
  const d = new D();
  for (const [k, ...a] of list) {
    if (k === 'L') d.drawLine(...a); else if (k === 'C') d.drawCircle(...a);
    else if (k === 'A') d.drawArc(...a); else d.drawText(a[0], a[1], a[2], 0, a[3]);
  }
  fs.writeFileSync(dir + '/' + i + '.dxf', d.toDxfString());
});
console.log(Number(process.hrtime.bigint() - t) / 1e9);
"""

GO = """package main

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"time"

	"github.com/yofu/dxf"
)

func main() {
	data, _ := os.ReadFile(os.Args[1])
	var files [][][]any
	if err := json.Unmarshal(data, &files); err != nil {
		panic(err)
	}
	t := time.Now()
	for i, list := range files {
		d := dxf.NewDrawing()
		for _, e := range list {
			f := func(i int) float64 { v, _ := e[i].(float64); return v }
			switch e[0] {
			case "L":
				d.Line(f(1), f(2), 0, f(3), f(4), 0)
			case "C":
				d.Circle(f(1), f(2), 0, f(3))
			case "A":
				d.Arc(f(1), f(2), 0, f(3), f(4), f(5))
			default:
				d.Text(fmt.Sprint(e[4]), f(1), f(2), 0, f(3))
			}
		}
		if err := d.SaveAs(filepath.Join(os.Args[2], fmt.Sprintf("%d.dxf", i))); err != nil {
			panic(err)
		}
	}
	fmt.Println(time.Since(t).Seconds())
}
"""


def entities(name):
    doc = ezdxf.readfile(name)
    out = []
    for space in [doc.modelspace()] + [b for b in doc.blocks if not b.is_any_layout]:
        for e in space:
            k = e.dxftype()
            if k == "LINE":
                out.append(["L", e.dxf.start.x, e.dxf.start.y, e.dxf.end.x, e.dxf.end.y])
            elif k == "CIRCLE":
                out.append(["C", e.dxf.center.x, e.dxf.center.y, e.dxf.radius])
            elif k == "ARC":
                out.append(["A", e.dxf.center.x, e.dxf.center.y, e.dxf.radius, e.dxf.start_angle, e.dxf.end_angle])
            elif k == "TEXT":
                out.append(["T", e.dxf.insert.x, e.dxf.insert.y, e.dxf.height, e.dxf.text])
    return out


def by_ezdxf(files, folder):
    t = time.monotonic()
    for i, entities_of in enumerate(files):
        doc = ezdxf.new("R2000")
        m = doc.modelspace()
        for k, *a in entities_of:
            if k == "L":
                m.add_line(a[0:2], a[2:4])
            elif k == "C":
                m.add_circle(a[0:2], a[2])
            elif k == "A":
                m.add_arc(a[0:2], a[2], a[3], a[4])
            else:
                m.add_text(a[3], dxfattribs={"insert": a[0:2], "height": a[2]})
        doc.saveas(folder / f"{i}.dxf")
    return time.monotonic() - t


def main():
    args = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    args.add_argument("--rows", type=int, default=2000)
    a = args.parse_args()
    with tempfile.TemporaryDirectory(dir="/dev/shm") as d:
        d = pathlib.Path(d)
        binary = d / "boltplate"
        subprocess.run(["go", "build", "-o", str(binary), "./cmd/boltplate"], cwd=ROOT, check=True)
        ratio.schedule(d / "s.csv", a.rows)
        t = time.monotonic()
        subprocess.run([str(binary), "batch", str(d / "s.csv"), "-o", str(d / "out"), "-q"], check=True, stdout=subprocess.DEVNULL)
        took = time.monotonic() - t
        sample = sorted((d / "out").glob("*.dxf"))
        few = sample[:: max(1, len(sample) // 200)]  # as many as the slowest can be waited for
        files = [entities(f) for f in few]
        data = d / "files.json"
        data.write_text(json.dumps(files))
        per_row = took / len(sample)
        print("%-42s %8.2f s for %d files, %.2f ms a file" % ("batch: read, worked out, drawn, written", took, len(sample), 1000 * per_row))

        def report(what, seconds):
            print("%-42s %8.2f s for %d files, %.2f ms a file, %.1f times" % (what, seconds, len(files), 1000 * seconds / len(files), seconds / len(files) / per_row))

        (d / "e").mkdir()
        report("ezdxf " + ezdxf.__version__, by_ezdxf(files, d / "e"))
        if shutil.which("npm"):
            (d / "n").mkdir()
            (d / "n" / "w.js").write_text(NODE)
            subprocess.run(["npm", "install", "--silent", "dxf-writer@1.18.4"], cwd=d / "n", check=True)
            (d / "nout").mkdir()
            out = subprocess.run(["node", "w.js", str(data), str(d / "nout")], cwd=d / "n", check=True, capture_output=True, text=True).stdout
            report("npm dxf-writer 1.18.4", float(out))
        (d / "y").mkdir()
        (d / "y" / "main.go").write_text(GO)
        version = "github.com/yofu/dxf@v0.0.0-20250806094206-f3988c7f0176"
        for c in (["go", "mod", "init", "writers"], ["go", "get", version], ["go", "build", "-o", "w", "."]):
            subprocess.run(c, cwd=d / "y", check=True, capture_output=True)
        (d / "yout").mkdir()
        out = subprocess.run([str(d / "y" / "w"), str(data), str(d / "yout")], check=True, capture_output=True, text=True).stdout
        report("yofu/dxf", float(out))


if __name__ == "__main__":
    main()
