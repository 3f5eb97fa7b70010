#!/usr/bin/python3
"""second-reader.py FILE... : compares two readers of DXF on the same files.

ezdxf and GDAL (ogrinfo, package gdal-bin) share no code. Both take inserts and
the pictures of dimensions apart, count what there is by layer and type, and
list every text. Counts and lists must be the same. For each file that is, a
line of JSON tells how much was compared. GDAL does not tell the types of a file
of AC1009 apart: of its straight lines the ends are compared, other curves are
counted by layer.

The exit status is 1 if the readers disagree or one of them cannot read a file,
2 for wrong usage, 3 if ogrinfo is missing.
"""
import collections
import itertools
import json
import re
import shutil
import subprocess
import sys

import ezdxf

# The last class marker of what GDAL lists, by the type that ezdxf gives it.
MARKERS = {
    "LINE": "AcDbLine", "CIRCLE": "AcDbCircle", "ARC": "AcDbArc", "ELLIPSE": "AcDbEllipse",
    "SPLINE": "AcDbSpline", "LWPOLYLINE": "AcDbPolyline", "HATCH": "AcDbHatch", "SOLID": "AcDbTrace",
}


GDAL_ARC_STEP = 4  # degrees


class Contents:
    """What a reader finds in a file."""

    def __init__(self):
        self.entities, self.texts = collections.Counter(), collections.Counter()


def of_ezdxf(path):
    document = ezdxf.readfile(path)
    plain = document.dxfversion == "AC1009"
    found = Contents()

    def count(entity):
        kind = entity.dxftype()
        if plain and kind != "TEXT":
            points = []
            if kind == "LINE":
                points = [entity.dxf.start, entity.dxf.end]
            elif kind == "POLYLINE" and not entity.is_closed and not any(v.dxf.bulge for v in entity.vertices):
                points = [v.dxf.location for v in entity.vertices]
            elif kind == "ARC" and (entity.dxf.end_angle - entity.dxf.start_angle) % 360 < GDAL_ARC_STEP:
                points = [entity.start_point, entity.end_point]  # GDAL draws so short an arc as its chord
            found.entities[entity.dxf.layer, plain_kind(points)] += 1
            return
        if kind in ("TEXT", "ATTRIB", "MTEXT"):
            found.texts[normal(entity.plain_text())] += 1  # GDAL does not tell hidden attributes from others
        elif kind == "LEADER":
            found.entities[entity.dxf.layer, "AcDbLeader"] += 1
        elif kind not in ("ATTDEF", "WIPEOUT", "VIEWPORT"):  # GDAL passes over these
            found.entities[entity.dxf.layer, MARKERS.get(kind, kind)] += 1

    for entity in itertools.chain.from_iterable(document.layouts):
        kind = entity.dxftype()
        if kind == "INSERT":
            parts = list(document.blocks[entity.dxf.name]) + list(entity.attribs)
        elif kind == "DIMENSION":
            parts = document.blocks[entity.dxf.geometry]
        else:
            parts = [entity]
        for part in parts:
            count(part)
    return found


def of_gdal(path):
    command = ["ogrinfo", "-ro", "-al", "--config", "DXF_INLINE_BLOCKS", "TRUE", "--config", "DXF_MERGE_BLOCK_GEOMETRIES", "FALSE", path]
    out = subprocess.run(command, capture_output=True, check=True).stdout.decode("utf-8", "replace")
    found = Contents()
    for feature in re.split(r"^OGRFeature", out, flags=re.M)[1:]:
        fields = dict(re.findall(r"^  (\w+) \(String\) = (.*)$", feature, flags=re.M))
        marker = fields.get("SubClasses", "").split(":")[-1]
        if marker in ("AcDbText", "AcDbAttribute", "AcDbMText"):
            found.texts[normal(fields.get("Text", ""))] += 1
        elif "SubClasses" not in fields:
            if "Text" in fields:
                found.texts[normal(fields["Text"])] += 1
                continue
            points = re.search(r"LINESTRING (?:Z )?\((.*)\)", feature)
            points = [list(map(float, p.split())) for p in points[1].split(",")] if points else []
            found.entities[fields.get("Layer", ""), plain_kind(points)] += 1
        elif marker != "AcDbLeader" or "LINESTRING" in feature:  # of a leader, its arrow is another feature
            found.entities[fields.get("Layer", ""), marker] += 1
    return found


def plain_kind(points):
    """What is compared of a curve in a file of AC1009."""
    if len(points) != 2:
        return "curve"
    return "line " + " ".join(sorted(f"{p[0] + 0.0:.6f},{p[1] + 0.0:.6f}" for p in points))


def normal(text):
    """Both readers' text in one form: neither decodes all codes."""
    text = re.sub(r"\\U\+([0-9A-Fa-f]{4})", lambda m: chr(int(m[1], 16)), text)
    return text.replace("\u2300", "\u00d8").strip()


def differences(first, second):
    """Yields what ezdxf and GDAL do not agree on."""
    for what, a, b in (("entities", first.entities, second.entities), ("text", first.texts, second.texts)):
        for key in sorted(a.keys() | b.keys()):
            if a[key] != b[key]:
                name = " ".join(key) if isinstance(key, tuple) else repr(key)
                yield f"{what} {name}: ezdxf {a[key]}, GDAL {b[key]}"


def main(files):
    if not files or files[0].startswith("-"):
        print(__doc__.splitlines()[0], file=sys.stderr)
        return 2
    if shutil.which("ogrinfo") is None:
        print("second-reader.py: ogrinfo is missing (package gdal-bin)", file=sys.stderr)
        return 3
    failed = False
    for path in files:
        try:
            first = of_ezdxf(path)
            found = list(differences(first, of_gdal(path)))
        except (OSError, ValueError, ezdxf.DXFError, subprocess.CalledProcessError) as error:
            found = [f"cannot be read: {error!r}"]
        for difference in found:
            print(f"{path}: {difference}", file=sys.stderr)
        if found:
            failed = True
        else:
            print(json.dumps({"file": path, "entities": sum(first.entities.values()), "texts": sum(first.texts.values())}))
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
