#!/usr/bin/env python3
"""batch-ratio.py [--rows N] [--pairs N] [--jobs N] [--dir DIR] : how long a
batch takes, beside a mere copy of its files.

Makes a schedule of N rows (10,000) with the demo schedule's own mix of rows,
draws it with `boltplate batch`, and copies the result with `cp -r`; in pairs,
one after the other, 5 times. Prints the medians, in seconds of the clock, and
the ratio. The folder must be in memory (tmpfs; /dev/shm), so that no disk is
measured; it needs room for two copies of the files, about 80 kB a row.
"""
import argparse
import csv
import os
import pathlib
import shutil
import statistics
import subprocess
import sys
import tempfile
import time

ROOT = pathlib.Path(__file__).resolve().parent.parent
DEMO = ROOT / "testdata" / "schedules" / "sluice-gate.csv"


def schedule(path, rows):
    """Writes the demo's rows over and over, each with a mark of its own."""
    with open(DEMO, newline="") as f:
        header, *demo = csv.reader(f)
    mark = header.index("mark")
    with open(path, "w", newline="") as f:
        out = csv.writer(f)
        out.writerow(header)
        for i in range(rows):
            row = list(demo[i % len(demo)])
            row[mark] = f"{row[mark]}-{i // len(demo):05d}"
            out.writerow(row)


def timed(*command):
    start = time.perf_counter()
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
    return time.perf_counter() - start


def size(folder):
    files = [p for p in folder.rglob("*") if p.is_file()]
    return len(files), sum(p.stat().st_size for p in files)


def main():
    parser = argparse.ArgumentParser(description=__doc__.split("\n\n")[0])
    parser.add_argument("--rows", type=int, default=10_000)
    parser.add_argument("--pairs", type=int, default=5)
    parser.add_argument("--jobs", type=int, default=0, help="of boltplate batch; one a processor by default")
    parser.add_argument("--dir", default="/dev/shm")
    options = parser.parse_args()
    kind = subprocess.run(["stat", "-f", "-c", "%T", options.dir], capture_output=True, text=True, check=True).stdout.strip()
    if kind != "tmpfs":
        sys.exit(f"{options.dir} is on {kind}: give a folder on tmpfs, so that no disk is measured")
    with tempfile.TemporaryDirectory(prefix="batch-ratio-", dir=options.dir) as work:
        work = pathlib.Path(work)
        program, rows, drawn, copy = work / "boltplate", work / "rows.csv", work / "drawn", work / "copy"
        subprocess.run(["go", "build", "-o", program, "./cmd/boltplate"], cwd=ROOT, check=True)
        schedule(rows, options.rows)
        batch = [program, "batch", rows, "-o", drawn] + (["--jobs", str(options.jobs)] if options.jobs else [])
        batches, copies = [], []
        for _ in range(options.pairs):
            batches.append(timed(*batch))
            copies.append(timed("cp", "-r", drawn, copy))
            files, total = size(drawn)
            shutil.rmtree(drawn)
            shutil.rmtree(copy)
            print(f"batch {batches[-1]:.3f} s, cp -r {copies[-1]:.3f} s", file=sys.stderr)
    b, c = statistics.median(batches), statistics.median(copies)
    print(f"{files} files, {total / 1e6:.1f} MB, {os.cpu_count()} processors")
    print(f"median of {options.pairs}: batch {b:.3f} s, cp -r {c:.3f} s, ratio {b / c:.1f}")


if __name__ == "__main__":
    main()
