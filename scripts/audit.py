#!/usr/bin/python3
"""audit.py [--counts] FILE... : reads DXF files strictly and reports what is wrong.

ezdxf (Debian's python3-ezdxf, tried with 0.18.1) reads each file without
repairing it and then runs its auditor; any error and any fix is a problem. As
programs that read DXF repair much without a word, the groups themselves are
looked at too:

  names      layers, line types, text styles, dimension styles, blocks and
             applications that are used and not defined
  handles    given twice, or not below $HANDSEED; owners that do not exist
  numbers    not finite, or with an exponent
  lines      of no length
  doubles    an entity drawn twice in the same layout or block
  text       aligned to a second point that is missing
  extents    geometry outside $EXTMIN and $EXTMAX by more than a margin
  kinds      in a file of AC1009, what that version does not have

A file of AC1009 may do without handles altogether.

--counts prints, a line a file, the entities of model space by type and the
number of blocks as JSON. The exit status is 1 if any file has a problem, 2 for
wrong usage.
"""
import collections
import json
import math
import sys

import ezdxf
from ezdxf import bbox
from ezdxf.math import BoundingBox


def codes(*ranges):
    return frozenset(code for low, high in ranges for code in range(low, high + 1))


REAL = codes((10, 59), (110, 149), (210, 239), (460, 469), (1010, 1059))
REFERENCES = codes((320, 369), (390, 399), (480, 481))
CURVES = {"CIRCLE", "ARC", "ELLIPSE", "SPLINE"}
TEXTS = {"TEXT", "MTEXT", "ATTRIB", "ATTDEF"}
# What the plain profile of AC1009 is made of.
PLAIN_KINDS = {"LINE", "ARC", "CIRCLE", "POLYLINE", "VERTEX", "SEQEND", "TEXT"}
PLAIN_NAME = set("ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_-$")
PLAIN_CODES = {100, 102, 330, 360, 370, 390, 420}  # that came later
NOT_ENTITIES = {"SECTION", "ENDSEC", "TABLE", "ENDTAB", "EOF", "CLASS"}
BUILT_IN = {"LTYPE": {"BYLAYER", "BYBLOCK", "CONTINUOUS"}}


class Record:
    """One entity, object or table record, or one section of header variables."""

    def __init__(self, section, kind):
        self.section, self.kind, self.groups = section, kind, []

    def first(self, code, default=None):
        return next((v for c, v in self.groups if c == code), default)

    def before_data(self):
        """The groups before extended data."""
        for code, value in self.groups:
            if code >= 1000:
                return
            yield code, value

    def handle(self):
        return self.first(105 if self.kind == "DIMSTYLE" else 5)

    def __str__(self):
        return f"{self.kind} {self.handle()}"


def read_records(path):
    with open(path, "rb") as f:
        lines = f.read().decode("cp1252", "replace").split("\n")
    if lines and lines[-1] == "":
        lines.pop()
    if len(lines) % 2:
        raise ValueError("the last group has no value")
    records, section = [Record(None, "START")], None
    for i in range(0, len(lines), 2):
        code, value = int(lines[i]), lines[i + 1].rstrip("\r")
        if code == 0:
            if value == "ENDSEC":
                section = None
            records.append(Record(section, value))
        else:
            if code == 2 and records[-1].kind == "SECTION" and not records[-1].groups:
                section = value
            records[-1].groups.append((code, value))
    return records


def header_variables(records):
    variables, name = {}, None
    for record in records:
        if record.kind == "SECTION" and record.first(2) == "HEADER":
            for code, value in record.groups:
                if code == 9:
                    name = value
                    variables[name] = []
                elif name:
                    variables[name].append((code, value))
    return variables


def point_of(variables, name):
    values = dict(variables.get(name, []))
    return float(values.get(10, "nan")), float(values.get(20, "nan"))


def check_numbers(records):
    for record in records:
        for code, value in record.groups:
            if code not in REAL:
                continue
            try:
                number = float(value)
            except ValueError:
                yield f"{record}: group {code} is {value!r}, no number"
                continue
            if not math.isfinite(number) or "e" in value.lower():
                yield f"{record}: group {code} is {value}"
            elif number == 0 and value.startswith("-"):
                yield f"{record}: group {code} is minus zero"


def is_plain(variables):
    return dict(variables.get("$ACADVER", [])).get(1) == "AC1009"


def check_plain(records, variables):
    if not is_plain(variables):
        return
    for record in records:
        if record.section == "ENTITIES" and record.kind not in PLAIN_KINDS | NOT_ENTITIES:
            yield f"{record} in a file of AC1009"
        for code, _ in record.groups:
            if code in PLAIN_CODES:
                yield f"{record}: group {code} in a file of AC1009"
        if record.section == "TABLES" and record.kind in ("LAYER", "LTYPE", "STYLE"):
            name = record.first(2)
            if not 0 < len(name) <= 31 or set(name) - PLAIN_NAME:
                yield f"{record.kind} {name!r}: no name in a file of AC1009"


def check_handles(records, variables):
    if is_plain(variables) and not any(r.handle() for r in records if r.section in ("TABLES", "ENTITIES")):
        return
    seen = {}
    for record in records:
        handle = record.handle()
        if record.kind in NOT_ENTITIES - {"TABLE"} or record.kind == "START" or handle is None:
            if handle is None and record.kind not in NOT_ENTITIES | {"START"}:
                yield f"{record.kind} without a handle"
            continue
        number = int(handle, 16)
        if number in seen or number == 0:
            yield f"{record}: handle used by {seen.get(number, 'nothing, it is 0')} too"
        seen[number] = record
    seed = int(dict(variables.get("$HANDSEED", [])).get(5, "0"), 16)
    if seen and seed <= max(seen):
        yield f"$HANDSEED {seed:X} is not above the highest handle {max(seen):X}"
    for record in records:
        if record.kind in NOT_ENTITIES - {"TABLE"}:
            continue
        for code, value in record.before_data():
            if code in REFERENCES and int(value, 16) and int(value, 16) not in seen:
                yield f"{record}: group {code} points at {value}, which is not there"


def defined_names(records):
    names = collections.defaultdict(set)
    for record in records:
        if record.section == "TABLES" and record.kind not in NOT_ENTITIES:
            names[record.kind].add((record.first(2) or "").upper())
        elif record.kind == "BLOCK":
            names["BLOCK"].add((record.first(2) or "").upper())
    for table, built_in in BUILT_IN.items():
        names[table] |= built_in
    return names


def used_names(record):
    """Yields table and name for each name that an entity or layer uses."""
    if record.kind == "LAYER":
        yield "LTYPE", record.first(6)
    if record.section not in ("BLOCKS", "ENTITIES"):
        return
    yield "LAYER", record.first(8)
    yield "LTYPE", record.first(6)
    if record.kind in ("TEXT", "MTEXT", "ATTRIB", "ATTDEF"):
        yield "STYLE", record.first(7)
    if record.kind in ("DIMENSION", "LEADER"):
        yield "DIMSTYLE", record.first(3)
    if record.kind in ("INSERT", "DIMENSION"):
        yield "BLOCK", record.first(2)
    for code, value in record.groups:
        if code == 1001:
            yield "APPID", value


def check_names(records):
    names = defined_names(records)
    for record in records:
        for table, name in used_names(record):
            if name is not None and name.upper() not in names[table]:
                yield f"{record}: {table} {name!r} is not defined"
        if record.section in ("BLOCKS", "ENTITIES") and record.kind not in NOT_ENTITIES and record.first(8) is None:
            yield f"{record} has no layer"


def whole(records):
    """The records, with the corners of a POLYLINE among its groups."""
    polyline = None
    for record in records:
        if record.kind == "VERTEX" and polyline is not None:
            polyline.groups += record.groups
        elif record.kind == "SEQEND" and polyline is not None:
            yield polyline
            polyline = None
        elif record.kind == "POLYLINE":
            polyline = Record(record.section, record.kind)
            polyline.groups = list(record.groups)
        else:
            yield record


def check_shapes(records):
    drawn = {}
    for record in whole(records):
        if record.section not in ("BLOCKS", "ENTITIES") or record.kind in NOT_ENTITIES | {"BLOCK", "ENDBLK", "SEQEND"}:
            continue
        if record.kind == "LINE":
            ends = [tuple(float(record.first(c, 0)) for c in codes) for codes in ((10, 20, 30), (11, 21, 31))]
            if math.dist(*ends) < 1e-7:
                yield f"{record} has no length"
        if record.kind in ("CIRCLE", "ARC") and float(record.first(40, 0)) < 1e-7:
            yield f"{record} has no radius"
        if record.kind in ("TEXT", "ATTRIB", "ATTDEF"):
            aligned = int(record.first(72, 0)) or int(record.first(73 if record.kind == "TEXT" else 74, 0))
            if aligned and record.first(11) is None:
                yield f"{record} is aligned to a point that is missing"
        key = (record.first(330), record.kind, geometry(record))
        if key in drawn and record.kind not in ("ATTRIB", "ATTDEF"):
            yield f"{record} is drawn twice, first as {drawn[key]}"
        drawn[key] = record


def geometry(record):
    """What an entity looks like: its groups without handle, owner and layer; a
    line has no direction."""
    groups = [(c, v) for c, v in record.before_data() if c not in (5, 8, 102, 330, 62, 6, 370)]
    if record.kind == "LINE":
        ends = [tuple(float(record.first(c, 0)) for c in codes) for codes in ((10, 20), (11, 21))]
        return tuple(sorted(ends))
    if record.kind in ("DIMENSION",):
        groups = [(c, v) for c, v in groups if c != 2]
    return tuple(groups)


def points_on(curve):
    """The ends of a curve and the points where it reaches furthest, of a spline
    points along it."""
    kind = curve.dxftype()
    if kind == "SPLINE":
        spline = curve.construction_tool()
        return spline.points([i / 64 * spline.max_t for i in range(65)])
    turn, start, end = 360, 0, 360
    turns = [0, 90, 180, 270]
    if kind == "ARC":
        start, end = curve.dxf.start_angle, curve.dxf.end_angle
    elif kind == "ELLIPSE":
        turn, start, end = math.tau, curve.dxf.start_param, curve.dxf.end_param
        major, minor = curve.dxf.major_axis, curve.minor_axis
        turns = []
        for a, b in ((major.x, minor.x), (major.y, minor.y)):  # a cos t + b sin t
            turns += [math.atan2(b, a), math.atan2(b, a) + math.pi]
    sweep = (end - start) % turn or turn
    places = [start, start + sweep]
    places += [start + (t - start) % turn for t in turns if (t - start) % turn < sweep]
    return curve.vertices(places)


def extent(document, entity):
    """The extent of an entity. Of a text only the place counts: without its
    font, ezdxf guesses the width. Of a curve it is that of points on it: for
    its box ezdxf puts Bezier curves in its place, which may reach further."""
    box = BoundingBox()
    kind = entity.dxftype()
    if kind == "LINE":
        box.extend([entity.dxf.start, entity.dxf.end])
    elif kind in TEXTS:
        box.extend([entity.dxf.insert])
    elif kind == "INSERT":
        for attribute in entity.attribs:
            if not attribute.is_invisible:
                box.extend([attribute.dxf.insert])
        for part in entity.virtual_entities():
            if part.dxftype() != "ATTDEF":
                box.extend(extent(document, part))
    elif kind == "DIMENSION":
        for part in document.blocks[entity.dxf.geometry]:
            box.extend(extent(document, part))
    elif kind in CURVES:
        box.extend(points_on(entity))
    elif kind in ("LWPOLYLINE", "POLYLINE"):
        for part in entity.virtual_entities():
            box.extend(extent(document, part))
    elif entity.dxftype() == "LEADER":
        box.extend(entity.vertices)  # its arrowhead is the reader's own
    else:
        box.extend(bbox.extents([entity]))
    return box


def check_extents(document, variables):
    low, high = point_of(variables, "$EXTMIN"), point_of(variables, "$EXTMAX")
    if not all(map(math.isfinite, low + high)):
        yield "$EXTMIN or $EXTMAX is missing"
        return
    size = 1 + math.dist(low, high)
    for entity in document.modelspace():
        box = extent(document, entity)
        if not box.has_data:
            continue
        outside = max(low[0] - box.extmin.x, low[1] - box.extmin.y, box.extmax.x - high[0], box.extmax.y - high[1])
        # The edge of a hatch may have arcs, for which see extent.
        if outside > size * (1e-3 if entity.dxftype() in ("HATCH", "INSERT") else 1e-6):
            yield f"{entity} reaches {outside:.3g} beyond the extents"


def audit(path, counts, problems):
    """Adds what is wrong with a file to problems; raises if it cannot be read."""
    records = read_records(path)
    variables = header_variables(records)
    for check in (check_numbers, check_names, check_shapes):
        problems += check(records)
    problems += check_handles(records, variables)
    problems += check_plain(records, variables)
    document = ezdxf.readfile(path)
    if counts:
        found = collections.Counter(e.dxftype() for e in document.modelspace())
        blocks = sum(not b.is_any_layout for b in document.blocks)
        print(json.dumps({"file": path, "blocks": blocks, "entities": dict(sorted(found.items()))}))
    problems += check_extents(document, variables)
    auditor = document.audit()
    problems += [f"auditor: {e.message}" for e in auditor.errors]
    problems += [f"auditor repaired: {e.message}" for e in auditor.fixes]


def main(arguments):
    counts = "--counts" in arguments
    files = [a for a in arguments if a != "--counts"]
    if not files or any(a.startswith("-") for a in files):
        print(__doc__.splitlines()[0], file=sys.stderr)
        return 2
    failed = False
    for path in files:
        problems = []
        try:
            audit(path, counts, problems)
        except (OSError, ValueError, ezdxf.DXFError) as error:
            problems.append(f"cannot be read: {error!r}")
        for problem in problems:
            print(f"{path}: {problem}", file=sys.stderr)
        failed = failed or bool(problems)
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
