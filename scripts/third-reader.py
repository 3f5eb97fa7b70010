#!/usr/bin/python3
"""third-reader.py FILE.dxf... : reads files with the npm package dxf-parser and
compares what it finds with what ezdxf finds: how many entities of each type
stand in model space and in each block, where lines, circles and arcs are, and
what texts say.

The package is installed into a temporary folder. The exit status is 1 if the
readers disagree, 2 for wrong usage, 3 if node or npm is missing or the package
cannot be had.
"""
import collections
import json
import pathlib
import shutil
import subprocess
import sys
import tempfile

import ezdxf

PACKAGE = "dxf-parser@1.1.2"
SCRIPT = """
const m = require('dxf-parser'); const DxfParser = m.DxfParser || m.default || m; const fs = require('fs');
const out = {};
const p = v => v ? [v.x, v.y] : null;
const one = e => ({ type: e.type, layer: e.layer, at: e.type === 'LINE' ? [p(e.vertices[0]), p(e.vertices[1])] : [p(e.center)], r: e.radius, text: e.type === 'TEXT' ? e.text : undefined });
for (const f of process.argv.slice(2)) {
  const d = new DxfParser().parseSync(fs.readFileSync(f, 'latin1'));
  out[f] = { '': d.entities.map(one) };
  for (const [name, b] of Object.entries(d.blocks || {})) out[f][name] = (b.entities || []).map(one);
}
fs.writeFileSync(process.argv[1] + '.json', JSON.stringify(out));
"""
# What the package knows of what our files have.
KNOWN = {"LINE", "CIRCLE", "ARC", "ELLIPSE", "SPLINE", "LWPOLYLINE", "POLYLINE", "SOLID", "TEXT", "MTEXT", "INSERT", "DIMENSION"}


def key(entity, at, r, text):
    flat = tuple(round(v, 6) for p in at if p is not None for v in (p if isinstance(p, list) else (p.x, p.y)))
    return (entity, flat, round(r, 6) if r else None, text)


def ours(space):
    found = collections.Counter()
    for e in space:
        kind, at, r, text = e.dxftype(), [], None, None
        if kind not in KNOWN:
            continue
        if kind == "LINE":
            at = [e.dxf.start.vec2, e.dxf.end.vec2]
        elif kind in ("CIRCLE", "ARC"):
            at, r = [e.dxf.center.vec2], e.dxf.radius
        elif kind == "TEXT":
            text = e.dxf.text.strip()  # the package strips
        found[key(kind, at, r, text)] += 1
    return found


def theirs(entities):
    found = collections.Counter()
    for e in entities:
        if e["type"] not in KNOWN:
            continue
        at = e["at"] if e["type"] in ("LINE", "CIRCLE", "ARC") else []
        found[key(e["type"], at, e.get("r") if e["type"] in ("CIRCLE", "ARC") else None, (e.get("text") or "").strip() if e["type"] == "TEXT" else None)] += 1
    return found


def main(files):
    if not files:
        sys.exit(__doc__.split("\n")[0])
    if not shutil.which("node") or not shutil.which("npm"):
        print("third-reader.py: no node and npm", file=sys.stderr)
        sys.exit(3)
    with tempfile.TemporaryDirectory() as tmp:
        tmp = pathlib.Path(tmp)
        (tmp / "package.json").write_text('{"private": true}')
        got = subprocess.run(["npm", "install", "--no-audit", "--no-fund", "--ignore-scripts", PACKAGE], cwd=tmp, capture_output=True, text=True)
        if got.returncode:
            print("third-reader.py: " + got.stderr, file=sys.stderr)
            sys.exit(3)
        script = tmp / "read.js"
        script.write_text(SCRIPT)
        absolute = [str(pathlib.Path(f).resolve()) for f in files]
        subprocess.run(["node", script, *absolute], cwd=tmp, check=True)
        read = json.loads((tmp / "read.js.json").read_text())
    bad = total = 0
    for f in absolute:
        doc = ezdxf.readfile(f)
        spaces = {"": doc.modelspace(), **{b.name: b for b in doc.blocks if not b.name.upper().startswith(("*MODEL", "*PAPER"))}}
        paper = ours(doc.layout(next(n for n in doc.layout_names() if n != "Model"))) if len(doc.layout_names()) > 1 else collections.Counter()
        for name, space in spaces.items():
            a, b = ours(space), theirs(read[f].get(name, []))
            if name == "":
                a = a + paper  # the package does not tell the two apart
            total += sum(a.values())
            if a != b:
                bad += 1
                print(f"{f}: {name or 'model space'}: ezdxf only {list((a - b).items())[:3]}, dxf-parser only {list((b - a).items())[:3]}")
    print(f"{len(files)} files, {total} entities compared, {bad} places differ")
    sys.exit(1 if bad else 0)


main(sys.argv[1:])
