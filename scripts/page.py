#!/usr/bin/env python3
"""page.py DIR CHROMIUM : opens DIR/index.html of a batch in a real browser and
checks that it loads without an error, shows every picture, and filters.

The browser runs headless and without network. The check itself is a script put
into a copy of the page, which writes what it found into the title.
"""
import pathlib
import re
import subprocess
import sys
import tempfile

CHECK = """
<script>
window.onerror = m => { document.title = 'ERROR ' + m; };
window.onload = async () => {
  try {
    const pictures = [...document.images];
    for (const p of pictures) { p.loading = 'eager'; await p.decode(); }
    const rows = document.querySelectorAll('li').length;
    const input = document.querySelector('input');
    const shown = () => [...document.querySelectorAll('li')].filter(l => l.offsetHeight > 0).length;
    const before = shown();
    input.value = 'no such row at all';
    document.querySelector('form').dispatchEvent(new Event('input'));
    const none = shown();
    input.value = '';
    document.querySelector('form').dispatchEvent(new Event('input'));
    document.title = `CHECKED ${rows} ${pictures.filter(p => p.naturalWidth > 0).length} ${before} ${none} ${shown()}`;
  } catch (e) { document.title = 'ERROR ' + e; }
};
</script>
</body>"""


def main():
    folder, browser = pathlib.Path(sys.argv[1]).resolve(), sys.argv[2]
    page = (folder / "index.html").read_text(encoding="utf-8")
    rows = page.count("<li")
    failed = page.count('<li class="failed"')
    copy = folder / "index-checked.html"
    copy.write_text(page.replace("</body>", CHECK), encoding="utf-8")
    try:
        with tempfile.TemporaryDirectory() as profile:
            out = subprocess.run(
                [browser, "--headless", "--no-sandbox", "--disable-gpu", "--virtual-time-budget=60000",
                 f"--user-data-dir={profile}", "--dump-dom", copy.as_uri()],
                capture_output=True, text=True, timeout=180)
    finally:
        copy.unlink()
    found = re.search(r"<title>(.*?)</title>", out.stdout)
    title = found.group(1) if found else "no page"
    want = f"CHECKED {rows} {rows - failed} {rows} 0 {rows}"
    if title != want:
        sys.exit(f"{folder}/index.html: {title}; want {want}")
    print(f"index.html: {rows} rows, {rows - failed} pictures, filter works")


main()
