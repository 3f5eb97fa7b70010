#!/usr/bin/python3
"""rewrite.py MODE VERSION (IN OUT)... : draws each drawing again with ezdxf
(Debian's python3-ezdxf, tried with 0.18.1), as another program would write it.

  copy      each entity anew, dimensions as ezdxf draws them
  splines   arcs and circles as splines: rational ones, and interpolated ones
  one       everything on layer 0, with line type, colour and width of its own
  explode   dimensions and insertions as their parts
  binary    as copy, in a binary file
"""
import math
import sys

import ezdxf
from ezdxf.render import hatching
from ezdxf.math import ConstructionArc, global_bspline_interpolation, rational_bspline_from_arc

ROLES = ["OUTLINE", "THIN", "HIDDEN", "CENTRE", "CUTTING", "ADJACENT", "HATCHING", "DIMENSION", "TEXT", "FRAME", "0"]
TYPES = {"HIDDEN": "VERDECKT", "CENTRE": "MITTE", "CUTTING": "MITTE2", "ADJACENT": "DOPPELT"}  # by layer


class Writer:
    def __init__(self, source, version, mode):
        self.source, self.mode = source, mode
        self.doc = ezdxf.new(version, setup=False)
        self.new = version != "R12"
        self.space = self.doc.modelspace()
        self.doc.header["$INSUNITS"] = 4
        self.doc.header["$LTSCALE"] = source.header.get("$LTSCALE", 1)
        self.n = 0
        for name in TYPES:
            t = source.linetypes.get(source.layers.get(name).dxf.linetype)
            pattern = [tag.value for tag in t.pattern_tags.tags if tag.code == 49]
            self.doc.linetypes.add(TYPES[name], [sum(map(abs, pattern))] + pattern)
        for name in source.layers:
            if name.dxf.name in ("0", "Defpoints"):
                continue
            layer = self.doc.layers.add("L_" + name.dxf.name.lower(), color=name.dxf.color, linetype=TYPES.get(name.dxf.name, "CONTINUOUS"))
            if self.new:
                layer.dxf.lineweight = name.dxf.lineweight
        self.style = self.doc.dimstyles.get("Standard") if "Standard" in self.doc.dimstyles else self.doc.dimstyles.add("Standard")
        height = source.header.get("$TEXTSIZE", 3.5)
        for key, value in {"dimtxt": height, "dimasz": height, "dimexo": height / 2, "dimexe": height / 2, "dimgap": height * 2 / 7, "dimtad": 1, "dimscale": 1,
                           "dimclrt": 7, "dimclrd": 8, "dimclre": 8, "dimdec": 2, "dimzin": 8, "dimdsep": 46, "dimtih": 0, "dimtoh": 0, "dimlfac": 1}.items():
            if self.style.is_supported_dxf_attrib(key):
                self.style.dxf.set(key, value)

    def look(self, e):
        name = e.dxf.layer
        if self.mode != "one":
            return {"layer": "0" if name == "0" else "L_" + name.lower()}
        layer = self.source.layers.get(name)
        a = {"layer": "0", "color": e.dxf.get("color", 256) if e.dxf.get("color", 256) != 256 else layer.dxf.color, "linetype": TYPES.get(name, "CONTINUOUS")}
        if self.new:
            a["lineweight"] = layer.dxf.lineweight
        return a

    def arc(self, e, start, end):
        a = self.look(e)
        c, r = e.dxf.center, e.dxf.radius
        self.n += 1
        if self.mode == "splines" and self.n % 2:
            self.space.add_spline(dxfattribs=a).apply_construction_tool(rational_bspline_from_arc(c, r, start, end))
        elif self.mode == "splines":
            n = 8 + int(r)
            points = [ConstructionArc(c, r, start, end).center + ezdxf.math.Vec2.from_deg_angle(start + ((end - start) % 360 or 360) * i / n, r) for i in range(n + 1)]
            self.space.add_spline(dxfattribs=a).apply_construction_tool(global_bspline_interpolation(points, degree=3))
        elif e.dxftype() == "CIRCLE":
            self.space.add_circle(c, r, dxfattribs=a)
        else:
            self.space.add_arc(c, r, start, end, dxfattribs=a)

    def text(self, e):
        a = dict(self.look(e), height=e.dxf.height, rotation=e.dxf.get("rotation", 0), insert=e.dxf.insert)
        t = self.space.add_text(e.dxf.text, dxfattribs=a)
        if e.dxf.get("halign", 0) or e.dxf.get("valign", 0):
            t.dxf.halign, t.dxf.valign, t.dxf.align_point = e.dxf.halign, e.dxf.valign, e.dxf.align_point

    def dimension(self, e):
        look = self.look(e)
        kind = e.dimtype
        text = e.dxf.get("text", "") or "<>"
        made = None
        scale = 1 / e.get_dim_style().dxf.get("dimlfac", 1)
        if text != "<>":  # ezdxf replaces it only where it stands alone
            v = e.dxf.defpoint3 - e.dxf.defpoint2 if kind < 2 else e.dxf.defpoint4 - e.dxf.defpoint
            value = abs(v.dot(ezdxf.math.Vec3.from_deg_angle(e.dxf.get("angle", 0)))) if kind == 0 else v.magnitude
            text = text.replace("<>", f"{round(value / scale, 2):g}")
        over = {"dimlfac": 1 / scale}
        for o in ("dimse1", "dimse2"):
            if e.override().get(o, 0):
                over[o] = 1
        shift = self.source.header.get("$TEXTSIZE", 3.5) * 0.8
        if kind in (0, 1):
            angle = e.dxf.get("angle", 0) if kind == 0 else (e.dxf.defpoint3 - e.dxf.defpoint2).angle_deg
            made = self.space.add_linear_dim(base=e.dxf.defpoint, p1=e.dxf.defpoint2, p2=e.dxf.defpoint3, angle=angle, text=text, location=e.dxf.text_midpoint,
                                             dimstyle="Standard", override=over, dxfattribs=look)
        if made:
            made.render()
            return
        # What ezdxf would draw in another place: the entity with its picture.
        block = self.doc.blocks.new_anonymous_block(type_char="D")
        outer, self.space = self.space, block
        for part in e.virtual_entities():
            self.entity(part)
        self.space = outer
        new = self.space.new_entity("DIMENSION", dict(look, geometry=block.name, dimtype=e.dxf.dimtype, text=e.dxf.get("text", ""), defpoint=e.dxf.defpoint,
                                                      text_midpoint=e.dxf.text_midpoint))
        for p in ("defpoint2", "defpoint3", "defpoint4"):
            if e.dxf.hasattr(p):
                new.dxf.set(p, e.dxf.get(p))

    def leader(self, e):
        """Draws a leader as lines and a filled arrowhead."""
        a, points = self.look(e), [ezdxf.math.Vec3(v) for v in e.vertices]
        for p, q in zip(points, points[1:]):
            self.space.add_line(p, q, dxfattribs=a)
        d = (points[1] - points[0]).normalize(self.source.header.get("$TEXTSIZE", 3.5))
        foot, side = points[0] + d, d.orthogonal() / 6
        self.space.add_solid([points[0], foot + side, foot - side], dxfattribs=a)

    def entity(self, e):
        kind = e.dxftype()
        a = self.look(e)
        if kind == "LINE":
            self.space.add_line(e.dxf.start, e.dxf.end, dxfattribs=a)
        elif kind == "ARC":
            self.arc(e, e.dxf.start_angle, e.dxf.end_angle)
        elif kind == "CIRCLE":
            self.arc(e, 0, 360)
        elif kind == "ELLIPSE":
            self.space.add_ellipse(e.dxf.center, e.dxf.major_axis, e.dxf.ratio, e.dxf.start_param, e.dxf.end_param, dxfattribs=a)
        elif kind == "LWPOLYLINE":
            points = list(e.get_points("xyseb"))
            (self.space.add_lwpolyline if self.new else self.space.add_polyline2d)(points, format="xyseb", close=e.closed, dxfattribs=a)
        elif kind == "SPLINE" and not self.new:
            self.space.add_polyline2d([(v.x, v.y) for v in e.flattening(0.002)], dxfattribs=a)
        elif kind == "SPLINE":
            self.space.add_spline(dxfattribs=a).apply_construction_tool(e.construction_tool())
        elif kind == "SOLID":
            self.space.add_solid([e.dxf.vtx0, e.dxf.vtx1, e.dxf.vtx2, e.dxf.vtx3], dxfattribs=a)
        elif kind == "TEXT":
            self.text(e)
        elif kind == "HATCH" and not self.new:
            if not e.dxf.solid_fill:
                for start, end in hatching.hatch_entity(e):
                    self.space.add_line(start, end, dxfattribs=a)
        elif kind == "HATCH":
            h = self.space.add_hatch(dxfattribs=a)
            if e.dxf.solid_fill:
                h.set_solid_fill()
            else:
                h.set_pattern_fill("ANSI31", scale=1, definition=[[line.angle, line.base_point, line.offset, list(line.dash_length_items)] for line in e.pattern.lines])
            for p in e.paths:
                h.paths.add_polyline_path(p.vertices, is_closed=True)
        elif kind == "DIMENSION" and self.mode == "explode":
            for part in e.virtual_entities():
                self.entity(part)
        elif kind == "DIMENSION":
            self.dimension(e)
        elif kind == "INSERT" and e.dxf.name.upper().startswith("PART-"):
            pass
        elif kind == "INSERT":
            for part in e.virtual_entities():
                self.entity(part)
        elif kind == "LEADER" and self.new and self.mode != "explode":
            self.space.add_leader(e.vertices, dimstyle="Standard", dxfattribs=a)
        elif kind == "LEADER":
            self.leader(e)
        elif kind not in ("POINT",):
            sys.exit(f"{kind}: not drawn again")


def main(mode, version, *files):
    for source, target in zip(files[::2], files[1::2]):
        doc = ezdxf.readfile(source)
        w = Writer(doc, version, mode)
        for e in doc.modelspace():
            w.entity(e)
        w.doc.saveas(target, fmt="bin" if mode == "binary" else "asc")


main(*sys.argv[1:])
