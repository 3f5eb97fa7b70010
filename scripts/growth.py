#!/usr/bin/env python3
"""growth.py [--rows N,N,...] [--figures N,N,...] [--dir DIR] : how time and
memory grow with the work.

Draws schedules of the demo's mix of rows, plates of 1 to 1,000 figures, one
drawing and one class, each three times, and prints for each the median of the
seconds of the clock and the most memory that the process took. The folder should
be in memory (tmpfs); it needs 80 kB a row.
"""
import argparse
import importlib.util
import pathlib
import shutil
import statistics
import subprocess
import tempfile

ROOT = pathlib.Path(__file__).resolve().parent.parent
spec = importlib.util.spec_from_file_location("ratio", ROOT / "scripts" / "batch-ratio.py")
ratio = importlib.util.module_from_spec(spec)
spec.loader.exec_module(ratio)

RUN = """
import resource, subprocess, sys, time
t = time.monotonic()
code = subprocess.run(sys.argv[1:], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL).returncode
print(time.monotonic() - t, resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024, code)
"""


def measure(command, clear=None, times=3):
    """Runs a command several times: seconds, MB."""
    seconds, most = [], 0.0
    for _ in range(times):
        if clear:
            shutil.rmtree(clear, ignore_errors=True)
        out = subprocess.run(["python3", "-c", RUN, *map(str, command)], capture_output=True, text=True, check=True, cwd=ROOT).stdout.split()
        if out[2] != "0":
            raise SystemExit(f"{command}: exit status {out[2]}")
        seconds.append(float(out[0]))
        most = max(most, float(out[1]))
    return statistics.median(seconds), most


def main():
    args = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    args.add_argument("--rows", default="100,1000,10000")
    args.add_argument("--figures", default="1,10,100,1000")
    args.add_argument("--dir", default="/dev/shm")
    a = args.parse_args()
    with tempfile.TemporaryDirectory(dir=a.dir) as tmp:
        tmp = pathlib.Path(tmp)
        program = tmp / "boltplate"
        subprocess.run(["go", "build", "-o", program, "./cmd/boltplate"], cwd=ROOT, check=True)
        print("| work | size | s | s per unit | MB |\n|---|---|---|---|---|")

        def row(what, n, command, clear=None):
            s, mb = measure(command, clear)
            print(f"| {what} | {n} | {s:.3f} | {s / n:.6f} | {mb:.0f} |", flush=True)

        row("draw, from start to file", 1, [program, "draw", "hex-bolt", "M20x90", "-o", tmp / "one.dxf", "--force"])
        row("joint", 1, [program, "joint", "examples/joints/stud.toml", "-o", tmp / "joint.dxf", "--force"])
        row("steps", 1, [program, "steps", "hex-bolt", "M20x90", "--sheet", "A2", "-o", tmp / "steps.dxf", "--force"])
        for n in map(int, a.rows.split(",")):
            schedule = tmp / "rows.csv"
            ratio.schedule(schedule, n)
            row("batch, rows", n, [program, "batch", schedule, "-o", tmp / "out"], clear=tmp / "out")
            shutil.rmtree(tmp / "out", ignore_errors=True)
        for n in map(int, a.figures.split(",")):
            plate = tmp / "plate.toml"
            figure = '[[figure]]\nkind = "hex-bolt"\nsize = "M%d"\nlength = %d\n'
            plate.write_text('size = "A3"\nscale = "1:2"\npages = "as needed"\n' + "".join(figure % ((12, 16, 20)[i % 3], 60 + i % 5 * 10) for i in range(n)))
            row("sheet, figures", n, [program, "sheet", plate, "-o", tmp / "plate.pdf", "--force"])
        shared = [f"--plate={ROOT}/examples/class/plate.toml", f"--class={ROOT}/examples/class/class.csv", "--seed=x"]
        handout = [program, "handout", ROOT / "examples/class/class.csv", ROOT / "examples/class/plate.toml", "--seed=x", "-o", tmp / "handout", "--force"]
        row("handout, students", 40, handout)
        back = tmp / "back"
        back.mkdir()
        for f in (tmp / "handout").glob("*-answer.dxf"):
            shutil.copy(f, back / f.name.replace("-answer", ""))
        row("mark, submissions", 40, [program, "mark", "--all", back, *shared, "-o", tmp / "marked", "--force"])


if __name__ == "__main__":
    main()
