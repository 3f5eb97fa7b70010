#!/usr/bin/python3
"""renderers.py [--browser CHROMIUM] FILE.svg|FILE.pdf... : compares two renderers on
the same files.

SVG is drawn by librsvg (rsvg-convert) and by CairoSVG, or by a browser where one is
given, PDF by poppler (pdftoppm) and by MuPDF (mutool), at 200 dots an inch. Every dark dot of one picture must
have a dark dot within one of it in the other, but for a dot in two thousand:
renderers round the ends of lines and the edges of letters differently. SVG is
read by an XML parser first.

The exit status is 1 if pictures differ or a file cannot be read, 2 for wrong
usage, 3 if a renderer is missing.
"""
import io
import pathlib
import shutil
import subprocess
import sys
import tempfile
import xml.etree.ElementTree

import numpy as np
from PIL import Image

DPI = 200
ALLOWED = 1 / 2000


def dark(picture):
    image = Image.open(picture).convert("RGBA")
    white = Image.new("RGBA", image.size, "white")
    white.alpha_composite(image)
    return np.asarray(white.convert("L")) < 160


def grown(dots):
    """The dots and those next to them."""
    padded = np.pad(dots, 1)
    out = np.zeros_like(dots)
    for dy in range(3):
        for dx in range(3):
            out |= padded[dy:dy + dots.shape[0], dx:dx + dots.shape[1]]
    return out


def differ(a, b):
    """What part of the dark dots of each has none near it in the other."""
    h, w = min(a.shape[0], b.shape[0]), min(a.shape[1], b.shape[1])
    if abs(a.shape[0] - b.shape[0]) > 2 or abs(a.shape[1] - b.shape[1]) > 2:
        raise ValueError(f"pictures of {a.shape[1]} x {a.shape[0]} and {b.shape[1]} x {b.shape[0]} dots")
    a, b = a[:h, :w], b[:h, :w]
    alone = (a & ~grown(b)).sum() + (b & ~grown(a)).sum()
    return alone / max(1, a.sum() + b.sum())


def browsed(browser, path, root):
    """What a browser without a window shows of an SVG file, background white."""
    wide, high = (float(root.get(k).removesuffix("mm")) / 25.4 * 96 for k in ("width", "height"))
    with tempfile.TemporaryDirectory() as tmp:
        shot = pathlib.Path(tmp, "shot.png")
        subprocess.run([browser, "--headless", "--no-sandbox", "--disable-gpu", "--hide-scrollbars", f"--user-data-dir={tmp}/profile",
                        f"--force-device-scale-factor={DPI / 96}", f"--window-size={int(wide) + 2},{int(high) + 2}",
                        f"--screenshot={shot}", pathlib.Path(path).resolve().as_uri()], capture_output=True, check=True, timeout=120)
        with Image.open(shot) as picture:
            return picture.convert("RGBA")


def svg(path, browser):
    root = xml.etree.ElementTree.parse(path).getroot()
    if not root.tag.endswith("}svg"):
        raise ValueError("no SVG")
    first = subprocess.run(["rsvg-convert", "--dpi-x", str(DPI), "--dpi-y", str(DPI), path], capture_output=True, check=True).stdout
    if browser:
        with Image.open(io.BytesIO(first)) as size:
            shot = browsed(browser, path, root).crop((0, 0, *size.size))
        second = io.BytesIO()
        shot.save(second, "png")
    else:
        import cairosvg
        second = io.BytesIO(cairosvg.svg2png(url=str(path), dpi=DPI))
    yield dark(io.BytesIO(first)), dark(second)


def pdf(path, _):
    with tempfile.TemporaryDirectory() as tmp:
        tmp = pathlib.Path(tmp)
        subprocess.run(["pdftoppm", "-r", str(DPI), "-png", path, tmp / "a"], check=True)
        subprocess.run(["mutool", "draw", "-q", "-r", str(DPI), "-o", tmp / "b-%d.png", path], check=True)
        first = sorted(tmp.glob("a-*.png"))
        for i, a in enumerate(first):
            yield dark(a), dark(tmp / f"b-{i + 1}.png")


def main(files):
    browser = None
    if files[:1] == ["--browser"]:
        browser, files = files[1] if len(files) > 1 else "", files[2:]
    if not files:
        sys.exit(__doc__.split("\n")[0])
    for program in ("rsvg-convert", "pdftoppm", "mutool"):
        if not shutil.which(program):
            print(f"renderers.py: no {program}", file=sys.stderr)
            sys.exit(3)
    bad = 0
    for path in files:
        try:
            worst = max(differ(a, b) for a, b in (svg if path.endswith(".svg") else pdf)(path, browser))
        except (ValueError, OSError, subprocess.SubprocessError, xml.etree.ElementTree.ParseError) as e:
            print(f"{path}: {e}")
            bad += 1
            continue
        print(f"{path}: {worst:.6f} of the dots differ{'' if worst <= ALLOWED else ', too many'}")
        bad += worst > ALLOWED
    sys.exit(1 if bad else 0)


main(sys.argv[1:])
