#!/usr/bin/python3
"""oracle.py DIR N : writes N random DXF files of several versions, ASCII and
binary, and beside each a JSON file of what ezdxf (Debian's python3-ezdxf, tried
with 0.18.1) draws of it: lines as chains of points with layer, line type,
weight and colour, and texts. The package's test compares its scene with them.
"""
import json
import random
import sys

import ezdxf
from ezdxf.addons.drawing import RenderContext
from ezdxf.math import Matrix44, Vec3
from ezdxf.path import from_hatch

VERSIONS = ["R12", "R2000", "R2004", "R2007", "R2010", "R2013", "R2018"]


class Recorder:
    """Walks through a layout and its blocks. Shapes are sampled where they are
    defined, and their points taken through the matrices of the INSERTs."""

    def __init__(self, doc):
        self.ctx = RenderContext(doc)
        self.ctx.set_current_layout(doc.modelspace())
        self.doc = doc
        self.chains, self.areas, self.texts = [], [], []

    def look(self, e, p):
        return {"layer": p.layer, "linetype": p.linetype_name.upper(), "weight": round(p.lineweight * 100), "colour": p.color[:7].lower(),
                "kind": e.dxftype()}

    def chain(self, e, p, m, points):
        points = [[v.x, v.y] for v in m.transform_vertices(points)]
        if len(points) > 1:
            self.chains.append(dict(self.look(e, p), points=points))

    def space(self, layout, m):
        for e in layout:
            p = self.ctx.resolve_all(e)
            if e.dxftype() == "INSERT":
                self.ctx.push_state(p)
                for i in e.multi_insert() if e.mcount > 1 else [e]:
                    self.space(self.doc.blocks.get(e.dxf.name), i.matrix44() * m)
                self.ctx.pop_state()
            else:
                self.entity(e, p, m)

    def entity(self, e, p, m):
        kind = e.dxftype()
        ocs = lambda v: e.ocs().to_wcs(Vec3(v))
        if kind == "LINE":
            self.chain(e, p, m, [e.dxf.start, e.dxf.end])
        elif kind in ("ARC", "CIRCLE", "ELLIPSE", "SPLINE"):
            self.chain(e, p, m, e.flattening(0.002))
        elif kind == "POLYLINE" and e.is_3d_polyline:
            self.chain(e, p, m, list(e.points()))
        elif kind in ("LWPOLYLINE", "POLYLINE"):
            for part in e.virtual_entities():
                points = [part.dxf.start, part.dxf.end] if part.dxftype() == "LINE" else part.flattening(0.002)
                self.chain(e, p, m, points)
        elif kind == "HATCH":
            for path in from_hatch(e):
                self.chain(e, p, m, path.flattening(0.002, segments=16))
        elif kind == "SOLID":
            self.areas.append(dict(self.look(e, p), points=[[v.x, v.y] for v in m.transform_vertices(e.wcs_vertices())]))
        elif kind in ("TEXT", "MTEXT"):
            at = m.transform(ocs(e.dxf.insert))
            text = e.plain_text()
            self.texts.append(dict(self.look(e, p), text=text, at=[at.x, at.y]))


def attributes(r, doc, layers):
    a = {"layer": r.choice(layers)}
    if r.random() < 0.4:
        a["color"] = r.choice([0, 1, 3, 7, 256])
    if r.random() < 0.4:
        a["linetype"] = r.choice(["BYLAYER", "BYBLOCK", "DASHED", "CENTER", "CONTINUOUS"])
    if doc.dxfversion > "AC1009" and r.random() < 0.4:
        a["lineweight"] = r.choice([-1, -2, 13, 35, 50])
    return a


def fill(r, doc, space, layers, blocks, n):
    """Puts n random entities into a block or layout."""
    new = doc.dxfversion > "AC1009"
    point = lambda: (r.uniform(-50, 50), r.uniform(-50, 50))
    kinds = ["line", "arc", "circle", "polyline", "solid", "text", "polyline3d"]
    if new:
        kinds += ["ellipse", "lwpolyline", "spline", "rational", "hatch", "edges", "mtext"]
    if blocks:
        kinds += ["insert"] * 4
    for _ in range(n):
        a = attributes(r, doc, layers)
        flip = dict(a, extrusion=(0, 0, -1)) if r.random() < 0.3 else a
        kind = r.choice(kinds)
        if kind == "line":
            space.add_line(point(), point(), dxfattribs=flip)
        elif kind == "arc":
            space.add_arc(point(), r.uniform(1, 20), r.uniform(0, 360), r.uniform(0, 360), dxfattribs=flip)
        elif kind == "circle":
            space.add_circle(point(), r.uniform(1, 20), dxfattribs=flip)
        elif kind == "polyline":
            space.add_polyline2d([(*point(), 0, 0, r.choice([0, 0, 0.5, -1.5])) for _ in range(r.randint(2, 6))],
                                 format="xyseb", close=r.random() < 0.5, dxfattribs=flip)
        elif kind == "polyline3d":
            space.add_polyline3d([(*point(), r.uniform(0, 9)) for _ in range(4)], dxfattribs=a)
        elif kind == "lwpolyline":
            space.add_lwpolyline([(*point(), 0, 0, r.choice([0, 0, 0.5, -1.5])) for _ in range(r.randint(2, 6))],
                                 format="xyseb", close=r.random() < 0.5, dxfattribs=flip)
        elif kind == "solid":
            space.add_solid([point() for _ in range(r.choice([3, 4]))], dxfattribs=flip)
        elif kind == "ellipse":
            space.add_ellipse(point(), (r.uniform(2, 20), r.uniform(2, 20)), r.uniform(0.1, 1), r.uniform(0, 6), r.uniform(0, 6), dxfattribs=flip)
        elif kind == "spline":
            space.add_open_spline([(*point(), 0) for _ in range(r.randint(4, 9))], degree=r.choice([2, 3]), dxfattribs=a)
        elif kind == "rational":
            points = [(*point(), 0) for _ in range(r.randint(4, 9))]
            space.add_rational_spline(points, [r.uniform(0.3, 3) for _ in points], dxfattribs=a)
        elif kind == "text":
            space.add_text(f"text {r.randint(0, 999)}", dxfattribs=dict(flip, insert=point(), height=r.uniform(1, 5), rotation=r.uniform(0, 360)))
        elif kind == "mtext":
            t = space.add_mtext(f"{{\\H2.5;par {r.randint(0, 999)}}}", dxfattribs=a)
            t.dxf.insert, t.dxf.char_height, t.dxf.attachment_point = point(), r.uniform(1, 5), r.randint(1, 9)
        elif kind == "hatch":
            h = space.add_hatch(dxfattribs=flip)
            h.set_pattern_fill("ANSI31", scale=5)
            h.paths.add_polyline_path([(*point(), r.choice([0, 0.4])) for _ in range(4)], is_closed=True)
        elif kind == "edges":
            h = space.add_hatch(dxfattribs=flip)
            h.set_pattern_fill("ANSI31", scale=5)
            (x, y), q = point(), r.uniform(2, 9)
            e = h.paths.add_edge_path()
            e.add_line((x, y), (x + q, y))
            e.add_arc((x + q / 2, y), q / 2, 0, 90)
            if r.random() < 0.5:
                e.add_arc((x + q / 2, y), q / 2, 180, 90, ccw=False)
            else:
                e.add_arc((x + q / 2, y), q / 2, 90, 180)
            e = h.paths.add_edge_path()
            e.add_ellipse((x + q / 2, y + q / 8), (q / 8, 0), 0.5, 0, 360)
        elif kind == "insert":
            k = r.uniform(0.2, 2)
            s = r.choice([(k, k), (-k, k), (k, -k), (k, 2 * k), (-0.5 * k, k)])
            i = dict(flip, xscale=s[0], yscale=s[1], zscale=abs(s[0]), rotation=r.choice([0, 90, r.uniform(0, 360)]))
            if r.random() < 0.3:
                i.update(column_count=r.randint(1, 3), row_count=r.randint(1, 2), column_spacing=30, row_spacing=20)
            space.add_blockref(r.choice(blocks), point(), dxfattribs=i)


def document(r, version):
    doc = ezdxf.new(version, setup=True)
    doc.header["$INSUNITS"] = 4
    layers = ["0"]
    for i, t in enumerate(["CONTINUOUS", "DASHED", "CENTER"]):
        layer = doc.layers.add(f"LAYER{i}", color=i + 2, linetype=t)
        if version != "R12":
            layer.dxf.lineweight = r.choice([-3, 18, 25, 70])
        layers.append(layer.dxf.name)
    blocks = []
    for depth in range(3):
        b = doc.blocks.new(f"BLOCK{depth}", base_point=(r.uniform(-5, 5), r.uniform(-5, 5)))
        fill(r, doc, b, layers, blocks, 6)
        blocks.append(b.name)
    fill(r, doc, doc.modelspace(), layers, blocks, 14)
    return doc


def record(doc):
    r = Recorder(doc)
    r.space(doc.modelspace(), Matrix44())
    return {"chains": r.chains, "areas": r.areas, "texts": r.texts}


def main(folder, n):
    for i in range(n):
        r = random.Random(i)
        version = VERSIONS[i % len(VERSIONS)]
        name = f"{folder}/{i:03d}-{version}"
        doc = document(r, version)
        doc.saveas(name + ".dxf", fmt="bin" if i // len(VERSIONS) % 2 else "asc")
        with open(name + ".json", "w") as f:
            json.dump(record(ezdxf.readfile(name + ".dxf")), f)


main(sys.argv[1], int(sys.argv[2]))
