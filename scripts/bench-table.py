#!/usr/bin/env python3
"""bench-table.py [--all] [FILE...] : a table of the benchmarks of package fastener.

Reads what `go test -bench . ./fastener` prints, from files or standard input,
and prints for each sort of view and for whole drawings the median over kinds
and forms and the worst, of time and of allocations, with the most that they
should be. Of a benchmark that ran several times (-count) the median counts.
--all prints every kind as well.

    go test -run - -bench . -benchtime 20ms -count 3 ./fastener | scripts/bench-table.py
"""
import argparse
import collections
import fileinput
import re
import statistics

LINE = re.compile(r"^Benchmark(\S+?)(?:-\d+)?\s+\d+\s+(.*)$")
# The sorts, in order, by the start of the benchmark's name and the view; and
# the most that median and worst should be on one quiet processor.
ENDS = ("front", "side", "head", "point")
SORTS = [
    ("elevation or end view", "View", ENDS),
    ("isometric view", "View", ("isometric",)),
    ("elevation or end view, hidden edges", "Hidden", ENDS),
    ("drawing of the default views", "Draw", None),
    ("placing the dimensions of a front view", "PlaceDimensions", None),
]
GOALS = {
    ("elevation or end view", "µs"): (20, 60),
    ("elevation or end view", "allocations"): (None, 40),
    ("isometric view", "µs"): (100, 300),
    ("isometric view", "allocations"): (None, 40),
    ("drawing of the default views", "µs"): (120, None),
    ("placing the dimensions of a front view", "µs a dimension"): (4, None),
}


def read(lines):
    """Returns the figures of each benchmark, by name and unit."""
    runs = collections.defaultdict(lambda: collections.defaultdict(list))
    for line in lines:
        found = LINE.match(line)
        if not found:
            continue
        fields = found.group(2).split()
        for value, unit in zip(fields[::2], fields[1::2]):
            runs[found.group(1)][unit].append(float(value))
    return {name: {u: statistics.median(v) for u, v in units.items()} for name, units in runs.items()}


def sort_of(name):
    parts = name.split("/")
    for title, start, views in SORTS:
        if parts[0] == start and (views is None or parts[-1] in views):
            return title, parts[1], parts[-1] if views else ""
    return None, None, None


def summary(rows, unit, scale, digits):
    figures = [(figure[unit] / scale, f"{name} {view}".strip()) for name, view, figure in rows if unit in figure]
    if not figures:
        return None
    worst = max(figures)
    return f"{statistics.median(f for f, _ in figures):.{digits}f}", f"{worst[0]:.{digits}f}", worst[1]


def main():
    parser = argparse.ArgumentParser(description=__doc__.split("\n\n")[0])
    parser.add_argument("--all", action="store_true", help="print every kind as well")
    parser.add_argument("files", nargs="*")
    options = parser.parse_args()
    sorted_rows = collections.defaultdict(list)
    for name, figures in read(fileinput.input(options.files)).items():
        title, kind, view = sort_of(name)
        if title:
            sorted_rows[title].append((kind, view, figures))
    if not sorted_rows:
        raise SystemExit("no benchmark of package fastener in the input")
    if options.all:
        table([("what", "kind and form", "view", "µs", "allocations")] + [
            (title, kind, view, f"{f['ns/op'] / 1000:.1f}", f"{f.get('allocs/op', 0):.0f}")
            for title, _, _ in SORTS for kind, view, f in sorted(sorted_rows[title], key=lambda r: (r[0], r[1]))])
        print()
    lines = [("what", "number", "unit", "median", "at most", "worst", "at most", "which is")]
    for title, _, _ in SORTS:
        rows = sorted_rows[title]
        for unit, name, scale, digits in (("ns/op", "µs", 1000, 1), ("allocs/op", "allocations", 1, 0), ("ns/dimension", "µs a dimension", 1000, 2)):
            found = summary(rows, unit, scale, digits)
            if found:
                median, worst, which = found
                goals = ["" if g is None else str(g) for g in GOALS.get((title, name), (None, None))]
                lines.append((title, str(len(rows)), name, median, goals[0], worst, goals[1], which))
    table(lines)


def table(lines):
    widths = [max(len(line[i]) for line in lines) for i in range(len(lines[0]))]
    for line in lines:
        cells = (c.rjust(w) if c[:1].isdigit() else c.ljust(w) for c, w in zip(line, widths))
        print("  ".join(cells).rstrip())


if __name__ == "__main__":
    main()
