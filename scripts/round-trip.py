#!/usr/bin/python3
"""round-trip.py FILE.dxf... : reads files with ezdxf, saves them as they were
read, and reads them again: entities of each type in model space, paper space and
every block, layers and line types of each, texts, extents, attributes and
extended data (XDATA) are the same, handles are unique, and the header's extents
are those of the geometry.

The exit status is 1 if something is lost, 2 for wrong usage.
"""
import collections
import sys
import tempfile

import ezdxf
import ezdxf.bbox

APP = "BOLTPLATE"


def xdata(e):
    return tuple((t.code, t.value if not hasattr(t.value, "x") else tuple(t.value)) for t in e.get_xdata(APP)) if e.has_xdata(APP) else ()


def value(e, key):
    return e.dxf.get(key, "") if e.dxf.is_supported(key) else ""


def content(doc):
    found = collections.Counter()
    spaces = [("model", doc.modelspace())] + [("block " + b.name, b) for b in doc.blocks if not b.is_any_layout]
    spaces += [("paper " + n, doc.layout(n)) for n in doc.layout_names() if n != "Model"]
    for where, space in spaces:
        for e in space:
            text = e.plain_text() if e.dxftype() == "MTEXT" else value(e, "text")
            found[(where, e.dxftype(), e.dxf.layer, value(e, "linetype"), text, xdata(e))] += 1
            for a in getattr(e, "attribs", []):
                found[(where, "ATTRIB", a.dxf.layer, a.dxf.tag, a.dxf.text, ())] += 1
    return found


def handles(doc):
    seen = collections.Counter(e.dxf.handle for e in doc.entitydb.values() if e.dxf.handle)
    return [h for h, n in seen.items() if n > 1]


def extents(doc):
    return [tuple(round(v, 4) for v in doc.header.get(k, (0, 0, 0))[:2]) for k in ("$EXTMIN", "$EXTMAX")]


def main():
    if len(sys.argv) < 2:
        print(__doc__)
        return 2
    bad = 0
    for name in sys.argv[1:]:
        doc = ezdxf.readfile(name)
        before = content(doc)
        with tempfile.NamedTemporaryFile(suffix=".dxf") as f:
            doc.saveas(f.name)
            again = ezdxf.readfile(f.name)
        wrong = []
        lost, new = before - content(again), content(again) - before
        if lost or new:
            wrong.append("lost %s, new %s" % (list(lost)[:3], list(new)[:3]))
        if handles(doc):
            wrong.append("handles twice: %s" % handles(doc)[:3])
        if before and extents(doc)[0] == extents(doc)[1]:
            wrong.append("no extents")
        for w in wrong:
            print("%s: %s" % (name, w))
        bad += bool(wrong)
    print("%d files, %d that lose something" % (len(sys.argv) - 1, bad))
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
