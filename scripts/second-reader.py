#!/usr/bin/python3
"""second-reader.py FILE... : compares two readers of DXF on the same files.

ezdxf and GDAL (ogrinfo, package gdal-bin) share no code. Both count the
lines, curves and hatches of each layer, blocks and the pictures of dimensions
taken apart, and list every text. The two counts and the two lists must be the
same.

The exit status is 1 if the readers disagree, 2 for wrong usage, 3 if ogrinfo
is missing.
"""
import collections
import json
import re
import shutil
import subprocess
import sys

import ezdxf

CURVES = {"LINE", "CIRCLE", "ARC", "ELLIPSE", "SPLINE", "LWPOLYLINE", "HATCH", "SOLID"}


def of_ezdxf(path):
    document = ezdxf.readfile(path)
    curves, texts = collections.Counter(), collections.Counter()

    def count(entity):
        kind = entity.dxftype()
        if kind in ("TEXT", "ATTRIB"):
            texts[normal(entity.plain_text())] += 1  # GDAL does not tell hidden attributes from others
        elif kind in CURVES:
            curves[entity.dxf.layer] += 1

    for entity in document.modelspace():
        kind = entity.dxftype()
        if kind == "INSERT":
            for part in document.blocks[entity.dxf.name]:
                if part.dxftype() != "ATTDEF":
                    count(part)
            for attribute in entity.attribs:
                count(attribute)
        elif kind == "DIMENSION":
            for part in document.blocks[entity.dxf.geometry]:
                count(part)
        else:
            count(entity)
    return curves, texts


def of_gdal(path):
    command = ["ogrinfo", "-ro", "-al", "--config", "DXF_INLINE_BLOCKS", "TRUE", "--config", "DXF_MERGE_BLOCK_GEOMETRIES", "FALSE", path]
    out = subprocess.run(command, capture_output=True, check=True).stdout.decode("utf-8", "replace")
    curves, texts = collections.Counter(), collections.Counter()
    for feature in re.split(r"^OGRFeature", out, flags=re.M)[1:]:
        fields = dict(re.findall(r"^  (\w+) \(String\) = (.*)$", feature, flags=re.M))
        marker = fields.get("SubClasses", "")
        if "Text" in fields and ("AcDbText" in marker or "AcDbAttribute" in marker):
            texts[normal(fields["Text"])] += 1
        else:
            curves[fields.get("Layer", "")] += 1
    return curves, texts


def normal(text):
    """Both readers' text in one form: neither decodes all codes."""
    text = re.sub(r"\\U\+([0-9A-Fa-f]{4})", lambda m: chr(int(m[1], 16)), text)
    return text.replace("\u2300", "\u00d8").strip()


def main(files):
    if not files or files[0].startswith("-"):
        print(__doc__.splitlines()[0], file=sys.stderr)
        return 2
    if shutil.which("ogrinfo") is None:
        print("second-reader.py: ogrinfo is missing (package gdal-bin)", file=sys.stderr)
        return 3
    failed = False
    for path in files:
        for what, first, second in zip(("curves on layer", "texts"), of_ezdxf(path), of_gdal(path)):
            for name in sorted(first.keys() | second.keys()):
                if first[name] != second[name]:
                    print(f"{path}: {what} {name!r}: ezdxf {first[name]}, GDAL {second[name]}", file=sys.stderr)
                    failed = True
            if not failed:
                print(json.dumps({"file": path, "compared": what, "count": sum(first.values())}))
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
